//! The take-off: what a case takes of timber, sheets, hardware, finish and glue, before anything is laid out on boards.

use crate::amounts::{roughed, to_buy};
use crate::cutlist::{CutList, Row, facing};
use crate::design::{Design, Facing, Finish, Priced, Thickness, Veneered, Wall, find_glue};
use crate::length::trimmed_to;
use crate::model::{Material, Model, Part, PartKind};
use crate::rough::{BOARD_FOOT, Roughed, strips};
use crate::sentence::capital;
use crate::timber::How;
use crate::worked::Worked;

/// What a case takes.
#[derive(Clone, Debug, PartialEq)]
pub struct TakeOff {
    /// Solid timber, a line for each species and thickness of board, the thickest of a species first.
    pub timber: Vec<Boards>,
    /// Sheets, a line a product and thickness.
    pub sheets: Vec<Sheets>,
    /// Veneer that is glued onto sheets here, a line for each way it comes.
    pub veneer: Vec<Veneers>,
    /// What is bought ready: clips, plates, pins, screws, fixings in the wall.
    pub bought: Vec<Ready>,
    /// Faces and edges to be finished, m²; nothing as long as it is decided that the piece stays bare.
    pub finish: Option<Worked>,
    /// What finish they take, litres.
    pub litres: Option<Worked>,
    /// Glue, g.
    pub glue: Worked,
}

/// Boards of one species and thickness.
#[derive(Clone, Debug, PartialEq)]
pub struct Boards {
    /// The species.
    pub material: Material,
    /// What it is called.
    pub made_of: String,
    /// The thickness they are sold in: `32 mm`, `5/4`; empty for what is thicker than any that is sold.
    pub board: String,
    /// As sawn, mm.
    pub thickness: f64,
    /// How many pieces come out of them, layers counted.
    pub pieces: usize,
    /// The longest of these at its rough size, mm.
    pub longest: f64,
    /// The widest, mm.
    pub widest: f64,
    /// At rough sizes, m³.
    pub volume: Worked,
    /// With what is bought besides, m³.
    pub to_buy: Worked,
}

impl Boards {
    /// What is bought, in board feet of 144 cubic inches.
    pub fn board_feet(&self) -> f64 {
        self.to_buy.value / BOARD_FOOT
    }
}

/// Sheets of one product and thickness.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheets {
    /// The product.
    pub material: Material,
    /// What it is called.
    pub made_of: String,
    /// What they are to measure, mm: without the veneer that is glued on here.
    pub thickness: f64,
    /// How much thicker that veneer makes them, mm; 0 where they get none.
    pub veneer: f64,
    /// How many pieces come out of them.
    pub pieces: usize,
    /// Length times width of all of these, m².
    pub area: Worked,
    /// With what is bought besides, m².
    pub to_buy: Worked,
}

/// Veneer that is glued onto sheets in the shop.
#[derive(Clone, Debug, PartialEq)]
pub struct Veneers {
    /// The species.
    pub material: Material,
    /// What it is called.
    pub made_of: String,
    /// Whether it is bought or sawn here.
    pub comes: Veneered,
    /// How thick it is, mm.
    pub thickness: f64,
    /// The faces that are seen, m².
    pub faces: Worked,
    /// The balancing sheets on the other faces, m².
    pub balancing: Worked,
    /// With what is bought besides: bought veneer m², of what is sawn here the timber, m³.
    pub to_buy: Worked,
}

/// Equal things that are bought ready.
#[derive(Clone, Debug, PartialEq)]
pub struct Ready {
    /// What they are.
    pub title: String,
    /// How many.
    pub count: usize,
}

impl Sheets {
    /// What they are to measure: `12.75 mm`, `9.75 mm: with the veneer it is 12.75`.
    pub fn measure_words(&self) -> String {
        let thick = trimmed_to(self.thickness, 2);
        if self.veneer < ALIKE {
            format!("{thick} mm")
        } else {
            format!("{thick} mm: with the veneer it is {}", trimmed_to(self.thickness + self.veneer, 2))
        }
    }
}

impl Veneers {
    /// What it takes: `1.393 m²`, `0.0259 m³ of boards to saw it from`.
    pub fn takes_words(&self) -> String {
        match self.comes {
            Veneered::Sawn => format!("{} m³ of boards to saw it from", trimmed_to(self.to_buy.value, 4)),
            Veneered::Bought | Veneered::No => format!("{} m²", trimmed_to(self.to_buy.value, 2)),
        }
    }
}

impl TakeOff {
    /// Of a model of a design.
    pub fn of(design: &Design, model: &Model) -> TakeOff {
        let list = CutList::of(design, model);
        TakeOff {
            timber: timber(design, &list),
            sheets: sheets(design, &list),
            veneer: veneers(design, model),
            bought: hardware(design, model),
            litres: litres(design, model),
            finish: is_finished(design).then(|| surfaces(model)),
            glue: glue(design, model),
        }
    }

    /// "Drying oil: 5.6 l"; none where nothing is coated.
    pub fn finish_words(&self, design: &Design) -> Option<String> {
        let litres = self.litres.as_ref()?;
        Some(format!("{}: {} l", capital(design.timber.finish.stuff()), trimmed_to(litres.value, 1)))
    }

    /// "Yellow PVA: 115 g in joints"; none where nothing is glued.
    pub fn glue_words(&self, design: &Design) -> Option<String> {
        let name = find_glue(&design.shop.glue.family).map_or("Glue", |glue| glue.name.as_str());
        (self.glue.value > 0.5).then(|| format!("{}: {} g in joints", capital(name), trimmed_to(self.glue.value, 0)))
    }
}

fn timber(design: &Design, list: &CutList) -> Vec<Boards> {
    let mut groups: Vec<(String, Vec<(&Row, Roughed)>)> = Vec::new();
    for row in &list.rows {
        let Some(rough) = row.rough else { continue };
        let board = rough.board.map(Thickness::words).unwrap_or_default();
        match groups.iter_mut().find(|(known, rows)| *known == board && rows.iter().all(|(of, _)| of.material == row.material)) {
            Some((_, rows)) => rows.push((row, rough)),
            None => groups.push((board, vec![(row, rough)])),
        }
    }
    let mut timber: Vec<Boards> = groups.into_iter().filter_map(|(board, rows)| boards(design, board, &rows)).collect();
    timber.sort_by(|a, b| a.made_of.cmp(&b.made_of).then(b.thickness.total_cmp(&a.thickness)));
    timber
}

/// What comes out of boards of one species and thickness.
fn boards(design: &Design, board: String, rows: &[(&Row, Roughed)]) -> Option<Boards> {
    let (first, rough) = rows.first()?;
    let thickness = |row: &Row, rough: &Roughed| rough.board.map_or(row.finished[2], |board| board.sawn);
    let count = |row: &Row, rough: &Roughed| row.blanks() * rough.layers as usize;
    let worked = |(row, rough): &(&Row, Roughed)| {
        let (count, thickness) = (count(row, rough), thickness(row, rough));
        let sizes = [rough.length, rough.width, thickness].map(|mm| trimmed_to(mm, 0)).join(" × ");
        let volume = rough.length * rough.width * thickness / 1e9 * count as f64;
        let parts = if row.blanks() < row.parts.len() { format!(", {}", row.together) } else { String::new() };
        Worked::given(format!("{count} × {}, {sizes} rough{parts}", row.mark), volume, "m³")
    };
    let volumes: Vec<Worked> = rows.iter().map(worked).collect();
    let sum = volumes.iter().map(|worked| worked.value).sum();
    let most = |of: fn(&Roughed) -> f64| rows.iter().map(|(_, rough)| of(rough)).fold(0.0, f64::max);
    let how = rows.iter().map(|(row, _)| roughed(row)).min().unwrap_or(How::Read);
    let formula = ("rough length × rough width × thickness as sawn, of the thicknesses that are sold, added up", "arithmetic");
    Some(Boards {
        material: first.material.clone(),
        made_of: first.made_of.clone(),
        board,
        thickness: thickness(first, rough),
        pieces: rows.iter().map(|(row, rough)| count(row, rough)).sum(),
        longest: most(|rough| rough.length),
        widest: most(|rough| rough.width),
        volume: Worked::by("timber at rough sizes", sum, "m³", formula, volumes).obtained(how),
        to_buy: to_buy(Priced::Timber, (sum, how), &design.money),
    })
}

/// Sheets that differ by less are of one thickness, mm.
const ALIKE: f64 = 0.05;

fn sheets(design: &Design, list: &CutList) -> Vec<Sheets> {
    let mut all: Vec<(&Row, usize, Vec<Worked>)> = Vec::new();
    for row in list.rows.iter().filter(|row| matches!(row.material, Material::Sheet(_))) {
        let [length, width, _] = row.sawn;
        let named = format!("{} × {}, {} × {}", row.parts.len(), row.mark, trimmed_to(length, 0), trimmed_to(width, 0));
        let worked = Worked::given(named, length * width / 1e6 * row.parts.len() as f64, "m²");
        let alike = |of: &Row| of.material == row.material && (of.sawn[2] - row.sawn[2]).abs() < ALIKE;
        match all.iter_mut().find(|(of, ..)| alike(of)) {
            Some((_, pieces, rows)) => {
                *pieces += row.parts.len();
                rows.push(worked);
            }
            None => all.push((row, row.parts.len(), vec![worked])),
        }
    }
    let line = |(row, pieces, rows): (&Row, usize, Vec<Worked>)| {
        let sum = rows.iter().map(|worked| worked.value).sum();
        Sheets {
            material: row.material.clone(),
            made_of: row.made_of.clone(),
            thickness: row.sawn[2],
            veneer: row.finished[2] - row.sawn[2],
            pieces,
            area: Worked::by("sheet", sum, "m²", ("length × width, added up", "arithmetic"), rows),
            to_buy: to_buy(Priced::Sheet, (sum, How::Read), &design.money),
        }
    };
    all.into_iter().map(line).collect()
}

/// The area of all sheets that are veneered here so, m²: one face of each.
pub fn veneered(design: &Design, model: &Model, comes: Veneered) -> f64 {
    let of = |part: &&Part| comes != Veneered::No && facing(design, part).veneer == comes;
    let face = |part: &Part| facing(design, part).faces(part.lwt().to_array()).iter().product::<f64>() / 1e6;
    model.parts.iter().filter(of).map(face).sum()
}

/// How thick veneer is on one face that comes so, mm.
fn thick(design: &Design, comes: Veneered) -> f64 {
    Facing { veneer: comes, ..Facing::default() }.veneer(&design.money.make_up)
}

/// The timber from which so many m² of veneer are sawn, with what is bought besides, m³.
pub fn sawn_from(design: &Design, area: f64) -> Worked {
    let thick = thick(design, Veneered::Sawn) + design.money.make_up.sawing.to_mm();
    to_buy(Priced::Timber, (area * thick / 1000.0, How::Read), &design.money)
}

fn veneers(design: &Design, model: &Model) -> Vec<Veneers> {
    let money = &design.money;
    let material = Material::Solid(design.timber.frame.clone());
    let line = |comes: Veneered| {
        let area = veneered(design, model, comes);
        let thickness = thick(design, comes);
        let side = |name| Worked::given(name, area, "m²");
        let to_buy = match comes {
            Veneered::Sawn => sawn_from(design, 2.0 * area),
            Veneered::Bought | Veneered::No => to_buy(Priced::Veneer, (2.0 * area, How::Read), money),
        };
        let (faces, balancing) = (side("faces"), side("balancing sheets"));
        (area > 0.0).then(|| Veneers {
            material: material.clone(),
            made_of: model.timbers.name(&material).to_owned(),
            comes,
            thickness,
            faces,
            balancing,
            to_buy,
        })
    };
    [Veneered::Bought, Veneered::Sawn].into_iter().filter_map(line).collect()
}

/// What is bought ready: clips, plates and pins, the screws by their sizes, and what holds the case to the wall.
pub fn hardware(design: &Design, model: &Model) -> Vec<Ready> {
    let mut all: Vec<Ready> = Vec::new();
    let mut add = |title: &str, count: usize| match all.iter_mut().find(|ready| ready.title == title) {
        Some(ready) => ready.count += count,
        None => all.push(Ready { title: title.to_owned(), count }),
    };
    for part in &model.parts {
        if let Material::Bought(what) = &part.material {
            add(what, 1);
        }
    }
    for (count, what) in model.joints.iter().filter_map(|joint| joint.kind.screws()) {
        add(&what, count);
    }
    if let Wall::Anchored(anchors) = &design.carcase.wall {
        add("fixing in the wall", anchors.fixings as usize);
    }
    all
}

/// Whether it is seen or touched once the piece is together: not what stands in joints.
fn is_seen(part: &Part) -> bool {
    !matches!(part.kind, PartKind::LooseTenon | PartKind::Dowel | PartKind::Shim) && !matches!(part.material, Material::Bought(_))
}

fn is_finished(design: &Design) -> bool {
    match design.timber.finish {
        Finish::Bare => false,
        Finish::Open | Finish::DryingOil | Finish::Film => true,
    }
}

/// All faces and edges that are smoothed, and finished where anything is, m².
pub fn surfaces(model: &Model) -> Worked {
    let (mut solid, mut sheet) = (0.0, 0.0);
    for part in model.parts.iter().filter(|part| is_seen(part)) {
        let [l, w, t] = (part.lwt() / 1000.0).to_array();
        match part.material {
            Material::Solid(_) => solid += 2.0 * (l * w + l * t + w * t),
            Material::Sheet(_) => sheet += 2.0 * l * w,
            Material::Bought(_) => {}
        }
    }
    let inputs = vec![Worked::given("solid parts, all six sides", solid, "m²"), Worked::given("sheets, both faces", sheet, "m²")];
    Worked::by("to be finished", solid + sheet, "m²", ("added up; what joints hide is not taken off", "arithmetic"), inputs)
}

/// What finish they take, litres; nothing where it is decided that the piece stays bare.
pub fn litres(design: &Design, model: &Model) -> Option<Worked> {
    let (coating, area) = (design.timber.coating, surfaces(model));
    let value = area.value * f64::from(coating.coats) / coating.covers;
    let inputs = vec![area, Worked::given("coats", f64::from(coating.coats), ""), Worked::given("a litre covers", coating.covers, "m²")];
    let formula = ("area × coats ÷ what a litre covers: ask the tin", "from memory");
    is_finished(design).then(|| Worked::by("finish", value, "l", formula, inputs).obtained(How::Memory))
}

/// The edges of the strips of which solid parts are glued up, and the faces of their layers, m².
fn glued_up(design: &Design, model: &Model) -> (f64, f64) {
    let rules = &design.timber.rough;
    let of = |part: &Part| {
        let size = part.lwt().to_array();
        let [length, width, thickness] = size;
        let strips = strips(&design.shop.machines, width, rules.width.to_mm(), f64::INFINITY);
        let layers = Roughed::of(rules, size).layers;
        let [edges, faces] = [(strips.max(1) - 1) as f64 * length * thickness, f64::from(layers.max(1) - 1) * length * width];
        (edges / 1e6, faces / 1e6)
    };
    let solid = model.parts.iter().filter(|part| matches!(part.material, Material::Solid(_)) && is_seen(part));
    solid.map(of).fold((0.0, 0.0), |all, one| (all.0 + one.0, all.1 + one.1))
}

/// The edges of sheets on which lippings are glued, m².
fn lipped(design: &Design, model: &Model) -> f64 {
    let of = |part: &Part| {
        let facing = facing(design, part);
        let ([along, across], size) = (facing.lippings(), part.lwt().to_array());
        let ([length, width, _], thickness) = (size, facing.sawn(size, &design.money.make_up)[2]);
        (along as f64 * length + across as f64 * width) * thickness / 1e6
    };
    model.parts.iter().map(of).sum()
}

/// What the faces of glued joints take, the loose parts in them, and what is glued up wide or thick.
fn glue(design: &Design, model: &Model) -> Worked {
    let (mut faces, mut loose) = (0.0, 0.0);
    for joint in model.joints.iter().filter(|joint| joint.glued) {
        faces += joint.contact.extent.x * joint.contact.extent.y / 1e6;
        for part in &joint.loose {
            let [l, w, t] = (model.part(*part).lwt() / 1000.0).to_array();
            loose += 2.0 * l * (w + t);
        }
    }
    let (edges, layers) = glued_up(design, model);
    let pressed = 2.0 * (veneered(design, model, Veneered::Bought) + veneered(design, model, Veneered::Sawn));
    let lipped = lipped(design, model);
    let spread = design.shop.glue.spread;
    let inputs = vec![
        Worked::given("faces that meet in glued joints", faces, "m²"),
        Worked::given("loose tenons and dowels, all round", loose, "m²"),
        Worked::given("edges of strips glued up side by side", edges, "m²"),
        Worked::given("faces of layers glued up on each other", layers, "m²"),
        Worked::given("veneer, on both faces", pressed, "m²"),
        Worked::given("lippings", lipped, "m²"),
        Worked::given("spread", spread, "g/m²"),
    ];
    Worked::by("glue", (faces + loose + edges + layers + pressed + lipped) * spread, "g", ("area × spread", "arithmetic"), inputs)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::Sold;

    fn demo() -> Design {
        crate::design::text::read(include_str!("../../../examples/records_cabinet.ron")).expect("the demo")
    }

    fn of(design: &Design) -> TakeOff {
        TakeOff::of(design, &crate::derive(design).expect("the demo"))
    }

    /// Every piece that is sawn for the solid parts of the cut list is in one line, and the volumes add up by hand; 20 % more is bought.
    #[test]
    fn every_solid_part_is_counted_once() {
        let design = demo();
        let (model, taken) = (crate::derive(&design).expect("the demo"), of(&design));
        let solid = model.parts.iter().filter(|part| matches!(part.material, Material::Solid(_)));
        let rows = CutList::of(&design, &model).rows;
        let sawn = || rows.iter().filter(|row| row.rough.is_some());
        assert_eq!(taken.timber.iter().map(|line| line.pieces).sum::<usize>(), sawn().map(Row::blanks).sum::<usize>());
        assert_eq!(sawn().flat_map(|row| &row.shares).sum::<usize>(), solid.clone().count());
        // Posts of 48 × 48 come out of 60 alone: 1,456 high, 25 and 6 more.
        let posts = taken.timber.iter().find(|line| line.board == "60 mm").expect("boards for the posts");
        let by_hand: f64 =
            solid.filter(|part| part.lwt().z > 44.05).map(|part| (part.lwt().x + 25.0) * (part.lwt().y + 6.0) * 60.0 / 1e9).sum();
        assert!((posts.volume.value - by_hand).abs() < 1e-9, "{} {by_hand}", posts.volume.value);
        assert!((posts.to_buy.value - 1.2 * by_hand).abs() < 1e-9);
        assert!((posts.board_feet() - posts.to_buy.value / 0.002_359_737).abs() < 1e-3);
    }

    /// By hand: the top, 1,400 × 498 × 24, is glued up from three strips, which are two joints of 1,400 × 24; a planer as wide as the top flattens it in one, and it takes
    /// so much less at 180 g/m².
    #[test]
    fn edges_glued_side_by_side_take_glue() {
        let mut design = demo();
        let with = of(&design).glue.value;
        for machine in &mut design.shop.machines.0 {
            machine.greatest_width = crate::Length::mm(900.0);
        }
        let without = of(&design).glue.value;
        let by_hand = 2.0 * 1.4 * 0.024 * 180.0;
        assert!((with - without - by_hand).abs() < 0.01, "{with} {without} {by_hand}");
    }

    /// By hand: panels veneered here take twice their area, a face and its balancing sheet each, and 30 % besides; so much at 180 g/m² of glue; sawn here, 1.5 and 3 lost with each leaf.
    #[test]
    fn veneer_takes_a_balancing_sheet() {
        let mut design = demo();
        let plain = of(&design);
        assert_eq!(plain.veneer, []);
        design.timber.facing.panel.veneer = Veneered::Bought;
        let model = crate::derive(&design).expect("the demo");
        let area: f64 = model.parts.iter().filter(|part| part.kind == PartKind::Panel).map(|part| part.lwt().x * part.lwt().y / 1e6).sum();
        let taken = of(&design);
        let [veneer] = taken.veneer.as_slice() else { panic!("{:?}", taken.veneer) };
        assert!((veneer.faces.value - area).abs() < 1e-9 && (veneer.balancing.value - area).abs() < 1e-9 && area > 0.5);
        assert!((veneer.to_buy.value - 1.3 * 2.0 * area).abs() < 1e-9 && (veneer.thickness - 0.6).abs() < 1e-9);
        assert!((taken.glue.value - plain.glue.value - 2.0 * area * 180.0).abs() < 1e-6);
        design.timber.facing.panel.veneer = Veneered::Sawn;
        let sawn = of(&design).veneer[0].to_buy.value;
        assert!((sawn - 1.2 * 2.0 * area * 0.0045).abs() < 1e-9, "{sawn}");
    }

    #[test]
    fn quarters_take_other_boards_and_what_stays_bare_takes_no_finish() {
        let mut design = demo();
        design.timber.rough.sold = Sold::Quarters;
        design.timber.finish = Finish::Bare;
        let taken = of(&design);
        assert!(taken.timber.iter().all(|line| line.board.contains("/4")), "{:?}", taken.timber);
        assert!(taken.finish.is_none() && taken.litres.is_none());
        assert!(taken.glue.value > 20.0 && taken.glue.value < 500.0, "{}", taken.glue.value);
        design.timber.finish = Finish::Film;
        let litres = of(&design).litres.expect("it is finished").value;
        design.timber.coating.coats *= 2;
        assert!((of(&design).litres.expect("it is finished").value - 2.0 * litres).abs() < 1e-9);
    }
}
