//! What is on hand, sorted: boards of one species that come out alike in thickness, sheets of one product.

use casewright_cutting::boards::{Stock, Zone};

use super::Measure;
use super::around::Area;
use super::thickness::{designed, is_as_designed, not_as_designed};
use crate::cutlist::Row;
use crate::design::pile::{ALIKE as HOW_MANY, ENDS, Good, LEAVES, ON_HAND, PRICE, Stuff, THICK, Whence};
use crate::design::{Design, Rough};
use crate::length::trimmed_to;
use crate::model::{Material, Model};

/// Boards or sheets that serve the same parts.
pub(super) struct Rack<'d> {
    /// "Ash, white 34 mm".
    pub name: String,
    /// Its species or product.
    pub id: &'d str,
    /// Whether these are sheets.
    pub sheets: bool,
    /// kg in a m³, where it is known.
    pub density: Option<f64>,
    pub entries: Vec<Usable<'d>>,
}

/// A board or sheet that can be used, or several that are alike.
pub(super) struct Usable<'d> {
    /// Which entry of the pile, counted from 0.
    pub entry: usize,
    pub stuff: &'d Stuff,
    /// Whether it is a sheet.
    pub is_sheet: bool,
    /// What its ends and edges leave.
    pub area: Area,
    /// What comes flat and clean out of it to 1,500 mm and longer, mm; of what is resawn how thick its leaves are, whatever is cut from them; of a sheet what it
    /// measures.
    clean: [f64; 2],
    /// Of a sheet, for which of the thicknesses that are designed it does.
    fits: Vec<bool>,
}

/// What measures nearly alike is one thickness, mm.
const ALIKE: f64 = 1.0;
/// What a bench can't tell, mm: a board that comes out thinner by this is thick enough.
pub(super) const AS_GOOD: f64 = 0.05;
/// Ends and edges must leave so much, mm.
const NARROWEST: f64 = 10.0;

impl Usable<'_> {
    /// The volume of one of its leaves, m³; the area of a sheet, m².
    fn amount(&self) -> f64 {
        let Stuff { length, width, thickness, leaves, .. } = self.stuff;
        let thick = if self.is_sheet { 1.0 } else { thickness.to_mm() / 1e3 };
        length.to_mm() * width.to_mm() / 1e6 * thick / f64::from((*leaves).max(1))
    }

    /// Whether nobody says what it costs, nor that it is paid for.
    fn has_no_price(&self) -> bool {
        self.stuff.price <= 0.0 && !self.stuff.paid
    }

    /// How thick one of its leaves is once it is flattened again, by its own length, mm.
    pub fn leaf(&self) -> f64 {
        self.clean[usize::from(self.stuff.length.to_mm() > crate::design::SHORT)]
    }

    /// How many there are, resawn as is decided.
    pub fn count(&self) -> u32 {
        self.stuff.count.saturating_mul(self.stuff.leaves)
    }

    /// Whether it is not as good as any other for every part.
    pub fn is_picked(&self) -> bool {
        self.stuff.good == Good::Neither || self.stuff.flaws.iter().any(|flaw| flaw.hides)
    }

    /// Its flaws, and of an area that goes beyond its good wood, the ends and edges too; not those that may be hidden, where these count as sound.
    pub fn flaws(&self, hides: bool) -> Vec<Area> {
        let [length, width] = [self.stuff.length, self.stuff.width].map(crate::Length::to_mm);
        let Area { from, to } = self.area;
        let rims = [
            Area { from: [0.0, 0.0], to: [from[0], width] },
            Area { from: [to[0], 0.0], to: [length, width] },
            Area { from: [0.0, 0.0], to: [length, from[1]] },
            Area { from: [0.0, to[1]], to: [length, width] },
        ];
        self.stuff.flaws.iter().filter(|flaw| !(hides && flaw.hides)).map(area_of).chain(rims).collect()
    }

    /// A line of stock: an area of it, so many times.
    pub fn stock(&self, area: &Area, count: u32, cost: f64, trim: f64, hides: bool) -> Stock {
        let corner = area.from.map(|at| at - trim);
        let [length, width] = area.size().map(|size| size + 2.0 * trim);
        let zone = |flaw: Area| {
            let [length, width] = flaw.size();
            Zone { x: flaw.from[0] - corner[0], y: flaw.from[1] - corner[1], length, width: Some(width) }
        };
        let defects = self.flaws(hides).iter().filter_map(|flaw| flaw.common(area)).map(zone).collect();
        Stock { id: self.stuff.name.clone(), length, width: Some(width), count: Some(count), cost, defects }
    }
}

/// Where a flaw lies.
pub(super) fn area_of(flaw: &crate::design::pile::Flaw) -> Area {
    Area::new([flaw.x.to_mm(), flaw.y.to_mm()], [flaw.length.to_mm(), flaw.width.to_mm()])
}

impl<'d> Rack<'d> {
    /// What one of an entry costs, in the rack's measure.
    /// What has no price beside others that have one counts as much by its measure as these do in the mean.
    pub fn cost(&self, usable: &Usable<'_>) -> f64 {
        let leaves = f64::from(usable.stuff.leaves.max(1));
        match self.measure() {
            Measure::Volume | Measure::Area => usable.amount(),
            Measure::Money if usable.has_no_price() => usable.amount() * self.mean_price(),
            Measure::Money => usable.stuff.price / leaves,
        }
    }

    /// Whether one of an entry has no price where others have.
    pub fn is_without_price(&self, usable: &Usable<'_>) -> bool {
        self.measure() == Measure::Money && usable.has_no_price()
    }

    /// What those that have a price cost a m³, or m².
    fn mean_price(&self) -> f64 {
        let priced = || self.entries.iter().filter(|entry| entry.stuff.price > 0.0);
        let each = |entry: &Usable<'_>| entry.stuff.price / (entry.amount() * f64::from(entry.stuff.leaves.max(1)));
        priced().map(each).sum::<f64>() / priced().count().max(1) as f64
    }

    /// What that is counted in.
    pub fn measure(&self) -> Measure {
        match (self.entries.iter().any(|entry| entry.stuff.price > 0.0), self.sheets) {
            (true, _) => Measure::Money,
            (false, false) => Measure::Volume,
            (false, true) => Measure::Area,
        }
    }

    /// The widest part of a length that comes out of it in one piece, rough, mm; of what is longer than all of its boards, as if they were long enough.
    pub fn widest(&self, length: f64) -> f64 {
        let widest = |least: f64| {
            let long = self.entries.iter().map(|entry| entry.area.size()).filter(|size| size[0] >= least);
            long.map(|size| size[1]).reduce(f64::max)
        };
        widest(length).or_else(|| widest(0.0)).unwrap_or(0.0)
    }

    /// What a square millimetre of it costs where that is least, in the rack's measure.
    pub fn least_price(&self) -> f64 {
        self.entries.iter().map(|usable| self.price(usable)).fold(f64::INFINITY, f64::min)
    }

    /// What a square millimetre of one of its entries costs.
    pub fn price(&self, usable: &Usable<'_>) -> f64 {
        self.cost(usable) / usable.area.size().iter().product::<f64>().max(1.0)
    }

    /// Whether its boards are resawn before anything is cut from them.
    pub fn is_resawn(&self) -> bool {
        self.entries.iter().any(|usable| usable.stuff.leaves > 1)
    }

    /// The entry of that place in the pile.
    pub fn entry(&self, entry: usize) -> Option<&Usable<'d>> {
        self.entries.iter().find(|usable| usable.entry == entry)
    }

    /// Whether parts of a row come out of it.
    pub fn serves(&self, design: &Design, row: &Row) -> bool {
        let least = self.entries.iter().map(|entry| entry.clean[usize::from(row.rough_size()[0] > crate::design::SHORT)]).reduce(f64::min);
        let Some(least) = least else { return false };
        match (&row.material, row.rough) {
            (Material::Solid(id), Some(rough)) => {
                !self.sheets && id == self.id && least >= row.finished[2] / f64::from(rough.layers) - AS_GOOD
            }
            (Material::Sheet(id), _) => self.sheets && id == self.id && is_as_designed(design, least, row.sawn[2]),
            (Material::Solid(_) | Material::Bought(_), _) => false,
        }
    }
}

/// The racks of a pile, those of one species from the thinnest to the thickest; and what is wrong with the pile, entry by entry.
pub(super) fn racks<'d>(design: &'d Design, model: &Model) -> (Vec<Rack<'d>>, Vec<String>) {
    let (mut good, mut told): (Vec<Usable<'d>>, Vec<String>) = (Vec::new(), alike_in_name(&design.shop.pile));
    let sheets = designed(design, model);
    for (entry, stuff) in design.shop.pile.iter().enumerate() {
        match usable(design, model, entry, stuff) {
            Ok(mut usable) => {
                usable.fits = sheets.iter().map(|sheet| sheet.is_fitted_by(stuff, design)).collect();
                told.extend(not_as_designed(design, (entry, stuff), &sheets));
                let off = stuff.flaws.iter().position(|flaw| flaw.is_off(stuff));
                told.extend(off.map(|at| format!("{}: flaw {} lies beside it", called(entry, stuff), at + 1)));
                good.push(usable);
            }
            Err(words) => told.push(format!("{}: {words}", called(entry, stuff))),
        }
    }
    good.sort_by(|a, b| like(a.stuff).cmp(&like(b.stuff)).then(a.clean[0].total_cmp(&b.clean[0])));
    let mut racks: Vec<Rack<'d>> = Vec::new();
    for usable in good {
        let joins = |rack: &Rack<'_>| {
            let first = rack.entries.first();
            // Leaves are flat and clean already: what they are thinner by is missing from what is made of them.
            let alike = if usable.stuff.leaves > 1 { AS_GOOD } else { ALIKE };
            let joins = |first: &Usable<'_>| usable.clean[0] <= first.clean[0] + alike && usable.fits == first.fits;
            first.is_some_and(|first| like(first.stuff) == like(usable.stuff) && joins(first))
        };
        match racks.last_mut().filter(|rack| joins(rack)) {
            Some(rack) => rack.entries.push(usable),
            None => racks.push(rack(model, usable)),
        }
    }
    for rack in &mut racks {
        rack.entries.sort_by_key(|usable| usable.entry);
    }
    let thinnest = |rack: &Rack<'_>| rack.entries.iter().map(|usable| usable.clean[0]).fold(f64::INFINITY, f64::min);
    racks.sort_by(|a, b| a.id.cmp(b.id).then(thinnest(a).total_cmp(&thinnest(b))));
    (racks, told)
}

/// What boards of one rack have in common besides their thickness.
fn like(stuff: &Stuff) -> (&str, u32, bool) {
    (&stuff.of, stuff.leaves, stuff.planed)
}

/// Names that several entries have: what is placed by hand goes by name.
fn alike_in_name(pile: &[Stuff]) -> Vec<String> {
    let mut told: Vec<String> = Vec::new();
    for (entry, stuff) in pile.iter().enumerate().filter(|(_, stuff)| !stuff.name.trim().is_empty()) {
        let before = pile.iter().take(entry).filter(|other| other.name == stuff.name).count();
        if before == 1 {
            told.push(format!(
                "{}: several entries are called so; what is placed on it by hand goes onto the first that can be used",
                called(entry, stuff)
            ));
        }
    }
    told
}

/// An entry by where it is and its name; by its place where it has none: `On hand, "C1"`.
pub(super) fn called(entry: usize, stuff: &Stuff) -> String {
    let there = match stuff.whence {
        Whence::OnHand => "On hand",
        Whence::Dealer => "Of the dealer's list",
    };
    if stuff.name.trim().is_empty() { format!("{there}, entry {}", entry + 1) } else { format!("{there}, \"{}\"", stuff.name) }
}

fn rack<'d>(model: &Model, first: Usable<'d>) -> Rack<'d> {
    let id = first.stuff.of.as_str();
    let sheets = model.timbers.species(id).is_none();
    let material = if sheets { Material::Sheet(id.to_owned()) } else { Material::Solid(id.to_owned()) };
    let thickness = trimmed_to(first.stuff.thickness.to_mm(), 2);
    let planed = if first.stuff.planed { " planed" } else { "" };
    let resawn = if first.stuff.leaves > 1 { format!(" in {} leaves", first.stuff.leaves) } else { String::new() };
    let name = format!("{} {thickness} mm{planed}{resawn}", model.timbers.name(&material));
    let density = model.timbers.density(&material).map(|known| known.value);
    Rack { name, id, sheets, density, entries: vec![first] }
}

/// What is cut off each end and each edge of a board or sheet before anything else, mm.
pub fn trims(design: &Design, stuff: &Stuff) -> (f64, f64) {
    let (trim, edge) = if stuff.trimmed { (0.0, 0.0) } else { (design.timber.sticks.trim.to_mm(), design.timber.rough.edge.to_mm()) };
    (stuff.ends.to_mm().max(trim), edge)
}

/// What can be used of an entry; else what is wrong with it, and what would do.
fn usable<'d>(design: &Design, model: &Model, entry: usize, stuff: &'d Stuff) -> Result<Usable<'d>, String> {
    let is_species = model.timbers.species(&stuff.of).is_some();
    if !is_species && model.timbers.sheet(&stuff.of).is_none() {
        return Err(format!(
            "no species or sheet is called \"{}\"; the names are those of the tables and of your own, white_ash",
            stuff.of
        ));
    }
    let rules = &design.timber.rough;
    let (ends, edge) = trims(design, stuff);
    let size = [stuff.length, stuff.width].map(crate::Length::to_mm);
    let area = Area { from: [ends, edge], to: [size[0] - ends, size[1] - edge] };
    if !size.iter().all(|size| ON_HAND.contains(size)) || !THICK.contains(&stuff.thickness.to_mm()) || !ENDS.contains(&stuff.ends.to_mm()) {
        return Err(format!("{} × {} × {} mm with end checks of {} mm is no size", stuff.length, stuff.width, stuff.thickness, stuff.ends));
    }
    if area.size().into_iter().any(|left| left < NARROWEST) {
        return Err(format!(
            "{} × {} mm leaves nothing once {} mm are cut off both ends and {} mm off both edges",
            trimmed_to(size[0], 1),
            trimmed_to(size[1], 1),
            trimmed_to(ends, 1),
            trimmed_to(edge, 1)
        ));
    }
    if !PRICE.contains(&stuff.price) {
        return Err(format!("a price of {} is none; write 0 where it is paid for", stuff.price));
    }
    if !HOW_MANY.contains(&f64::from(stuff.count)) || !LEAVES.contains(&f64::from(stuff.leaves)) {
        return Err(format!("{} of it, each in {} leaves, is no number; write 1 or more", stuff.count, stuff.leaves));
    }
    if let Some(at) = stuff.flaws.iter().position(|flaw| !area_of(flaw).size().into_iter().all(|size| size > 0.0 && size.is_finite())) {
        return Err(format!("flaw {} is no rectangle; write its length and width in mm, more than 0", at + 1));
    }
    let clean = match (is_species, stuff.leaves) {
        (false, _) => [stuff.thickness.to_mm(); 2],
        (true, 0 | 1) => [600.0, 6000.0].map(|length| clean(rules, stuff, length)),
        // It is planed and resawn as long as it is, before anything is cut from it.
        (true, _) => [clean(rules, stuff, size[0]); 2],
    };
    if clean[0] <= 0.0 {
        return Err(format!("{} mm leaves nothing once it is planed and resawn", stuff.thickness));
    }
    Ok(Usable { entry, stuff, is_sheet: !is_species, area, clean, fits: Vec::new() })
}

/// What comes flat and clean out of a board in a piece so long, mm: it is planed on both faces, sawn into its leaves, and these are flattened again.
pub(super) fn clean(rules: &Rough, stuff: &Stuff, length: f64) -> f64 {
    let whole = if stuff.planed { stuff.thickness.to_mm() } else { rules.clean(stuff.thickness.to_mm(), length) };
    match stuff.leaves {
        0 | 1 => whole,
        leaves => (whole - f64::from(leaves - 1) * rules.resaw_kerf.to_mm()) / f64::from(leaves) - rules.resaw_flat.to_mm(),
    }
}
