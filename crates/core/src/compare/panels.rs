//! The ways in which the panels of a case can be made up.

use std::rc::Rc;

use super::{fails, moves_most};
use crate::amounts::{Bought, Cost, to_buy, total, work};
use crate::derive::DesignError;
use crate::design::{Design, Priced, Work, decisions};
use crate::inspect::engagement::least_held_and_room;
use crate::model::{Material, Model, Part, PartKind};
use crate::shapes::ShapeCache;
use crate::timber::{How, Known, MadeAs, SheetProduct};
use crate::worked::Worked;

/// A way to make up a panel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Make {
    /// Solid boards, resawn and glued edge to edge.
    Boards,
    /// Veneer sawn in the shop, on both faces of a sheet.
    SawnVeneer,
    /// Bought veneer, on both faces of a sheet.
    BoughtVeneer,
    /// MDF that comes veneered.
    VeneeredMdf,
    /// Plywood that comes veneered.
    VeneeredPlywood,
}

impl Make {
    /// All of them.
    pub const ALL: [Make; 5] = [Make::Boards, Make::SawnVeneer, Make::BoughtVeneer, Make::VeneeredMdf, Make::VeneeredPlywood];

    /// In the maker's words.
    pub fn words(self) -> &'static str {
        match self {
            Make::Boards => "resawn boards",
            Make::SawnVeneer => "veneer sawn here",
            Make::BoughtVeneer => "bought veneer",
            Make::VeneeredMdf => "veneered MDF",
            Make::VeneeredPlywood => "veneered plywood",
        }
    }
}

/// The panels of a case, made up in one way.
#[derive(Clone, Debug, PartialEq)]
pub struct MadeUp {
    /// How.
    pub make: Make,
    /// The sheet that it is, or that carries the veneer, glued edge to edge where it is of solid boards; nothing where the tables have none of that
    /// thickness.
    pub sheet: Option<String>,
    /// What it is, in words.
    pub name: String,
    /// Whether the design has it now.
    pub chosen: bool,
    /// Thickness, mm.
    pub thickness: Option<Worked>,
    /// The panel that moves most across its width from the driest to the wettest, mm.
    pub movement: Option<Worked>,
    /// What the least engaged panel has left in its groove at the driest when it is pushed to one side, mm.
    pub held: Option<Worked>,
    /// What the tightest panel has left to grow at the wettest, mm in all; negative where it bursts its frame.
    pub room: Option<Worked>,
    /// What all panels together weigh, kg.
    pub mass: Option<Worked>,
    /// What all panels together cost and take.
    pub cost: Cost,
    /// What of the case would fail so, each in a sentence; nothing where it serves, or where a derived case can't have it.
    pub fails: Vec<String>,
    /// The decisions that put it into the design; nothing where a derived case can't have it.
    pub changes: Vec<(String, String)>,
}

/// The panels of the case in every way in which they can be made up. Nothing where the case has no panels.
///
/// # Errors
/// As [`derive()`](crate::derive()).
pub fn panels(design: &Design) -> Result<Vec<MadeUp>, Vec<DesignError>> {
    let model = crate::derive(design)?;
    let panels: Vec<&Part> = model.parts.iter().filter(|part| part.kind == PartKind::Panel).collect();
    if panels.is_empty() {
        return Ok(Vec::new());
    }
    Ok(Make::ALL.into_iter().map(|make| Asked { design, model: &model, panels: &panels }.made(make)).collect())
}

/// What would fail of the case after some changes; nothing where they are none.
fn changes_fail(design: &Design, changes: &[(String, String)]) -> Vec<String> {
    if changes.is_empty() {
        return Vec::new();
    }
    let mut other = design.clone();
    if changes.iter().any(|(path, value)| decisions::set(&mut other, path, value).is_err()) {
        return Vec::new();
    }
    crate::derive(&other).map_or_else(|_| Vec::new(), |model| fails(&other, &model, &ShapeCache::default().shape(&model), &Rc::default()))
}

struct Asked<'a> {
    design: &'a Design,
    model: &'a Model,
    panels: &'a [&'a Part],
}

/// How far a sheet may be from the thickness that is wanted, mm.
const NEAR: f64 = 2.0;

impl Asked<'_> {
    fn made(&self, make: Make) -> MadeUp {
        let veneer = self.veneer(make);
        let sheet = self.sheet(make, veneer);
        let material = sheet.map(|sheet| Material::Sheet(sheet.id.clone()));
        let thickness = match (make, sheet) {
            (Make::Boards, _) => Some(Worked::given("thickness that panels are to have", self.nominal(), "mm")),
            (_, sheet) => sheet.and_then(|sheet| self.worked_thickness(sheet)).map(|core| thickened(core, veneer)),
        };
        let of_that = material.as_ref().map(|material| self.of(material));
        let moves =
            |model: &Model| moves_most(model, model.parts.iter().filter(|part| part.kind == PartKind::Panel), &self.design.timber.moisture);
        let extremes = of_that.as_ref().and_then(|model| least_held_and_room(self.design, model));
        let (held, room) = extremes.map(|[held, room]| (held, room)).unzip();
        let changes = sheet.filter(|_| veneer == 0.0).map(taken).unwrap_or_default();
        MadeUp {
            make,
            sheet: sheet.map(|sheet| sheet.id.clone()),
            name: self.name(make, sheet),
            chosen: sheet.is_some_and(|sheet| veneer == 0.0 && sheet.id == self.design.timber.panel.product),
            movement: of_that.as_ref().and_then(moves),
            held,
            room,
            mass: thickness.as_ref().and_then(|thickness| self.mass(make, sheet, thickness.value, veneer)),
            cost: self.cost(make, sheet, veneer),
            fails: changes_fail(self.design, &changes),
            changes,
            thickness,
        }
    }

    /// The thickness of a sheet: as measured where the design has it, as its table has it, or as it is sold.
    fn worked_thickness(&self, sheet: &SheetProduct) -> Option<Worked> {
        let panel = &self.design.timber.panel;
        if sheet.id == panel.product {
            return Some(Worked::given("thickness of the sheet, as measured", panel.measured.to_mm(), "mm"));
        }
        let sold = || sheet.nominal.map(|nominal| Worked::given("thickness as it is sold", nominal, "mm"));
        sheet.thickness.as_ref().map(|known| Worked::known("thickness of the sheet", known, "mm")).or_else(sold)
    }

    /// The species of solid boards and of veneers: that of the boards that the panels are of now, or of the carcase.
    fn species(&self) -> &str {
        let now = self.model.timbers.sheet(&self.design.timber.panel.product).and_then(|sheet| sheet.boards.as_deref());
        now.map_or(&self.design.timber.frame, |species| &species.id)
    }

    /// The thickness that panels are to have, mm.
    fn nominal(&self) -> f64 {
        self.design.timber.panel.nominal.to_mm()
    }

    /// Thickness of the veneer that is glued on here, mm.
    fn veneer(&self, make: Make) -> f64 {
        match make {
            Make::SawnVeneer => self.design.money.make_up.sawn_veneer.to_mm(),
            Make::BoughtVeneer => self.design.money.make_up.bought_veneer.to_mm(),
            Make::Boards | Make::VeneeredMdf | Make::VeneeredPlywood => 0.0,
        }
    }

    /// The sheet of the right kind whose thickness comes nearest with the veneer on it; the design's own where it is of that kind.
    fn sheet(&self, make: Make, veneer: f64) -> Option<&SheetProduct> {
        let kind = |sheet: &&SheetProduct| match make {
            Make::Boards => sheet.boards.as_ref().is_some_and(|species| species.id == self.species()),
            Make::SawnVeneer | Make::BoughtVeneer => sheet.made_as == Some(MadeAs::Mdf),
            Make::VeneeredMdf => sheet.made_as == Some(MadeAs::VeneeredMdf),
            Make::VeneeredPlywood => sheet.made_as == Some(MadeAs::VeneeredPlywood),
        };
        // Boards are planed to any thickness.
        let planed = |sheet: &SheetProduct| sheet.boards.as_ref().map(|_| self.nominal());
        let off = |sheet: &&SheetProduct| {
            let thick = thickness(sheet).or_else(|| planed(sheet));
            thick.map_or(f64::INFINITY, |core| (core + 2.0 * veneer - self.nominal()).abs())
        };
        let own = |sheet: &&SheetProduct| sheet.id == self.design.timber.panel.product;
        let near = || self.model.timbers.all_sheets().filter(kind).filter(|sheet| off(sheet) <= NEAR);
        near().find(own).or_else(|| near().min_by(|a, b| off(a).total_cmp(&off(b))))
    }

    fn name(&self, make: Make, sheet: Option<&SheetProduct>) -> String {
        let species = || self.model.timbers.name(&Material::Solid(self.species().to_owned())).to_owned();
        match (make, sheet) {
            (Make::Boards, _) => species(),
            (Make::SawnVeneer | Make::BoughtVeneer, Some(sheet)) => format!("{} on {}", species(), sheet.name),
            (_, Some(sheet)) => sheet.name.clone(),
            (_, None) => "the tables have none of that thickness".to_owned(),
        }
    }

    /// The case with its panels of another material, and else as it is.
    fn of(&self, material: &Material) -> Model {
        let mut model = self.model.clone();
        for part in model.parts.iter_mut().filter(|part| part.kind == PartKind::Panel) {
            part.material = material.clone();
            part.sawn = self.design.timber.sawn.frame;
        }
        model
    }

    /// All panels, m².
    fn area(&self) -> f64 {
        self.panels.iter().map(|panel| panel.lwt().x * panel.lwt().y / 1e6).sum()
    }

    /// What all panels weigh: the core, and the veneer that is glued on here.
    fn mass(&self, make: Make, sheet: Option<&SheetProduct>, thickness: f64, veneer: f64) -> Option<Worked> {
        let timber = || self.model.timbers.density(&Material::Solid(self.species().to_owned()));
        let core = match make {
            Make::Boards => timber()?,
            Make::SawnVeneer | Make::BoughtVeneer | Make::VeneeredMdf | Make::VeneeredPlywood => sheet?.density.as_ref()?,
        };
        let mut layers = vec![layer("core", self.area(), thickness - 2.0 * veneer, core)];
        if veneer > 0.0 {
            layers.push(layer("veneer on both faces", self.area(), 2.0 * veneer, timber()?));
        }
        Some(total("mass of all panels", "kg", layers))
    }

    /// What all panels cost and take.
    fn cost(&self, make: Make, sheet: Option<&SheetProduct>, veneer: f64) -> Cost {
        let (money, area) = (&self.design.money, self.area());
        let hours = |name, of: f64, each: fn(&Work) -> f64| work(name, of, "m²", &money.work, each);
        let leaves = |thickness: f64| area * (thickness + money.make_up.sawing.to_mm()) / 1000.0;
        let sheets = sheet.map(|sheet| (Priced::Sheet, sheet.id.as_str(), area));
        let timber = |volume| Some((Priced::Timber, self.species(), volume));
        let (materials, labour) = match make {
            Make::Boards => (
                vec![timber(leaves(self.nominal()))],
                vec![
                    hours("boards resawn", area, |work| work.resaw),
                    hours("edges joined", area, |work| work.edges),
                    hours("planed and sanded", area, |work| work.plane),
                ],
            ),
            Make::SawnVeneer => (
                vec![sheets, timber(2.0 * leaves(veneer))],
                vec![
                    hours("veneer sawn", 2.0 * area, |work| work.resaw),
                    hours("edges joined", 2.0 * area, |work| work.edges),
                    hours("sheet sawn to size", area, |work| work.cut),
                    hours("veneer pressed", area, |work| work.press),
                    hours("sanded", area, |work| work.sand),
                ],
            ),
            Make::BoughtVeneer => (
                vec![sheets, Some((Priced::Veneer, self.species(), 2.0 * area))],
                vec![
                    hours("edges joined", 2.0 * area, |work| work.edges),
                    hours("sheet sawn to size", area, |work| work.cut),
                    hours("veneer pressed", area, |work| work.press),
                    hours("sanded", area, |work| work.sand),
                ],
            ),
            Make::VeneeredMdf | Make::VeneeredPlywood => (vec![sheets], vec![hours("sheet sawn to size", area, |work| work.cut)]),
        };
        let bought = |(of, id, amount): (Priced, &str, f64)| Bought {
            of,
            id: id.to_owned(),
            name: self.bought(of, id).to_owned(),
            amount: to_buy(of, (amount, How::Read), money),
        };
        Cost::sum(money, materials.into_iter().flatten().map(bought).collect(), labour)
    }

    fn bought<'n>(&'n self, of: Priced, id: &'n str) -> &'n str {
        let timbers = &self.model.timbers;
        let name = match of {
            Priced::Timber | Priced::Veneer => timbers.species(id).map(|species| &species.name),
            Priced::Sheet => timbers.sheet(id).map(|sheet| &sheet.name),
            Priced::Hardware | Priced::Finish | Priced::Glue => None,
        };
        name.map_or(id, |name| name)
    }
}

fn thickness(sheet: &SheetProduct) -> Option<f64> {
    sheet.thickness.as_ref().map(|known| known.value).or(sheet.nominal)
}

/// With veneer of `veneer` mm glued onto both faces.
fn thickened(core: Worked, veneer: f64) -> Worked {
    if veneer == 0.0 {
        return core;
    }
    let thick = core.value + 2.0 * veneer;
    let inputs = vec![core, Worked::given("veneer on each face", veneer, "mm")];
    Worked::by("thickness", thick, "mm", ("sheet + 2 × veneer", "arithmetic"), inputs)
}

fn layer(name: &'static str, area: f64, thickness: f64, density: &Known) -> Worked {
    let inputs =
        vec![Worked::given("area", area, "m²"), Worked::given("thickness", thickness, "mm"), Worked::known("density", density, "kg/m³")];
    Worked::by(name, area * thickness / 1000.0 * density.value, "kg", ("area × thickness × density", "arithmetic"), inputs)
}

/// The decisions that make the panels of a sheet.
fn taken(sheet: &SheetProduct) -> Vec<(String, String)> {
    let mut changes = vec![("timber.panel.product".to_owned(), sheet.id.clone())];
    if let Some(thickness) = thickness(sheet) {
        let nominal = sheet.nominal.unwrap_or(thickness);
        changes.push(("timber.panel.nominal".to_owned(), nominal.to_string()));
        changes.push(("timber.panel.measured".to_owned(), thickness.to_string()));
    }
    changes
}
