//! How wood moves with its moisture: across the grain by species and by how it was sawn, nothing along it; sheets by their own expansion.

use serde::{Deserialize, Serialize};

use super::known::{How, Known};
use super::moisture::Air;
use super::sheets::is_boards;
use super::tables::spelled_out;
use super::{SheetProduct, Species, Timbers};
use crate::design::Dimension;
use crate::length::trimmed_to;
use crate::model::{Material, Model, Part};
use crate::worked::{Worked, figure};

/// Least and greatest moisture for which the movement coefficients hold, % (Wood Handbook FPL-GTR-190, table 13-5).
pub const GOOD_FROM_TO: (f64, f64) = (6.0, 14.0);

/// How a board was sawn out of the log, as its growth rings stand to its wide face.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub enum Sawn {
    /// Nobody looked: taken as the most that it may move.
    #[default]
    Unknown,
    /// Rings along the wide face: it moves most across its width.
    Flat,
    /// Rings at a slant to the wide face.
    Rift {
        /// Angle between the rings and the wide face on the end grain, degrees, from 0 (flat) to 90 (quartered).
        rings: f64,
    },
    /// Rings square to the wide face: it moves least across its width.
    Quartered,
}

impl Sawn {
    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Sawn::Unknown => "sawn unknown, taken as flat-sawn",
            Sawn::Flat => "flat-sawn",
            Sawn::Rift { .. } => "rift-sawn",
            Sawn::Quartered => "quartered",
        }
    }

    /// The share of the movement along the rings in that across the width, and in that through the thickness; the rest is that across
    /// the rings. Between flat and quartered by the square of the cosine, as strain turns with the direction (derived).
    fn shares(self) -> [f64; 2] {
        match self {
            Sawn::Unknown => [1.0, 1.0],
            Sawn::Flat => [1.0, 0.0],
            Sawn::Rift { rings } => {
                let along = rings.to_radians().cos().powi(2);
                [along, 1.0 - along]
            }
            Sawn::Quartered => [0.0, 1.0],
        }
    }
}

impl Species {
    /// What another publication or rule makes of the movement across the width as sawn, as a fraction of the size for each percent, and which;
    /// nothing where only one is known.
    pub fn otherwise(&self, sawn: Sawn) -> Option<(f64, String)> {
        let [along, _] = sawn.shares();
        let rate = along * self.other_tangential? + (1.0 - along) * self.other_radial?;
        Some((rate, spelled_out(&self.other_source)))
    }
}

/// From this share on another coefficient is told beside the one that is taken (ours).
const DOUBTED: f64 = 0.1;

impl Species {
    /// The same where that is a tenth or more away from what is taken: the other rate, and in words what it makes of a width, mm, from one moisture to
    /// others, %: "Others have 0.0026 a percent, which makes it 2.8 mm (source)".
    pub fn doubted(&self, sawn: Sawn, width: f64, from: f64, to: &[f64]) -> Option<String> {
        let taken = Rates::of_solid(Some(self), sawn).along(Dimension::Width);
        let (other, source) = self.otherwise(sawn).filter(|(other, _)| (other / taken - 1.0).abs() >= DOUBTED)?;
        let changes: Vec<String> = to.iter().map(|to| trimmed_to(movement(width, other, from, *to).abs(), 1)).collect();
        Some(format!("Others have {} a percent, which makes it {} mm ({source}).", figure(other), changes.join(" and ")))
    }
}

/// The larger of the two movement coefficients used when nothing is known of a species: that of American beech along the rings, the
/// greatest of the common cabinet woods (Wood Handbook FPL-GTR-190, table 13-5).
pub const CAUTIOUS_COEFFICIENT: f64 = 0.00431;
/// The growth of a sheet of which nothing is known, % when the air goes from 35 to 85 % relative humidity: the most told of MDF (a
/// trade article, read).
pub const CAUTIOUS_EXPANSION: f64 = 0.5;
/// Least and greatest relative humidity, %, between which the expansion of sheets is told, and the temperature, °C, taken for it.
const EXPANDS: (f64, f64, f64) = (35.0, 85.0, 21.0);

/// How much the sizes of a part change for each percent by which the moisture of wood changes, as fractions of the size.
#[derive(Clone, Debug, PartialEq)]
pub struct Rates([Worked; 3]);

const A_PERCENT: &str = "a percent";

impl Rates {
    /// Of a material as sawn. What the tables don't know is taken as moving much.
    pub fn of(material: &Material, sawn: Sawn, timbers: &Timbers) -> Rates {
        match material {
            Material::Solid(id) => Rates::of_solid(timbers.species(id), sawn),
            Material::Sheet(id) => match timbers.wood(material) {
                Some(boards) => Rates::of_solid(Some(boards), sawn),
                None => Rates::of_sheet(timbers.sheet(id)),
            },
            Material::Bought(_) => {
                let none = || still("bought parts do not move with the moisture of wood", "arithmetic");
                Rates([none(), none(), none()])
            }
        }
    }

    /// Of solid timber.
    pub fn of_solid(species: Option<&Species>, sawn: Sawn) -> Rates {
        let [width, thickness] = sawn.shares().map(|along| across(species, along));
        Rates([
            still("solid timber moves next to nothing along the grain, 0.1 to 0.2 % from green to dry", "from memory"),
            width,
            thickness,
        ])
    }

    /// Of sheet goods: length and width alike. Nothing is published of how thickness follows humidity. A panel of solid boards of which no
    /// expansion is told moves as solid timber of its species, or of one that is not known.
    pub fn of_sheet(product: Option<&SheetProduct>) -> Rates {
        if product.is_some_and(|product| is_boards(&product.id) && product.expansion.is_none()) {
            return Rates::of_solid(product.and_then(|product| product.boards.as_deref()), Sawn::Unknown);
        }
        let cautious =
            || Known::new(CAUTIOUS_EXPANSION, How::Read, "nothing is known of this sheet: the most a trade article tells of MDF");
        let known = product.and_then(|product| product.expansion.clone()).unwrap_or_else(cautious);
        let (low, high, temperature) = EXPANDS;
        let [dry, wet] = [low, high].map(|humidity| Air { temperature, humidity }.moisture_nearest());
        let rate = known.value / 100.0 / (wet - dry);
        let formula = ("expansion ÷ change of the moisture of wood in the same air, spread evenly", "arithmetic");
        let inputs = vec![
            Worked::known("growth from 35 to 85 % relative humidity", &known, "%"),
            Worked::given("moisture of wood at 21 °C and 35 %", dry, "%"),
            Worked::given("moisture of wood at 21 °C and 85 %", wet, "%"),
        ];
        let plane = Worked::by("movement of the sheet", rate, A_PERCENT, formula, inputs).obtained(How::Derived);
        let thickness = still("nothing is published of how the thickness of a sheet follows humidity", "taken as none");
        Rates([plane.clone(), plane, thickness])
    }

    /// Along one of the three sizes: the change for each percent, as a fraction of the size.
    pub fn along(&self, of: Dimension) -> f64 {
        self.0[of.index()].value
    }

    /// The same with where it comes from.
    pub fn worked(&self, of: Dimension) -> &Worked {
        &self.0[of.index()]
    }
}

/// What it rests on how much a stuff moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Basis {
    /// Solid wood across its grain: the coefficients and equation 13-2 of the Wood Handbook.
    Wood,
    /// A sheet whose expansion is that of CEN/TR 12872, recalled and not read.
    RecalledSheet,
    /// Any other sheet: what its row of the table or its maker tells, or what is taken where nothing does.
    Sheet,
}

impl Basis {
    /// That of a material.
    pub fn of(material: &Material, timbers: &Timbers) -> Basis {
        let Material::Sheet(id) = material else { return Basis::Wood };
        let sheet = timbers.sheet(id);
        match sheet.and_then(|sheet| sheet.expansion.as_ref().map(|known| (sheet, known))) {
            Some((sheet, known)) if known.how == How::Memory && sheet.codes.contains("CEN-12872") => Basis::RecalledSheet,
            None if sheet.is_some_and(|sheet| is_boards(&sheet.id)) => Basis::Wood,
            Some(_) | None => Basis::Sheet,
        }
    }
}

fn still(why: &'static str, source: &'static str) -> Worked {
    Worked::by("movement", 0.0, A_PERCENT, (why, source), Vec::new()).obtained(How::Memory)
}

/// The movement across the grain of which `along` is the share along the rings.
fn across(species: Option<&Species>, along: f64) -> Worked {
    let cautious = || {
        Known::new(
            CAUTIOUS_COEFFICIENT,
            How::Read,
            "nothing is known of this timber: American beech, which moves much; Wood Handbook FPL-GTR-190, table 13-5",
        )
    };
    let tangential = species.and_then(|species| species.tangential.clone());
    let radial = species.and_then(|species| species.radial.clone()).or_else(|| tangential.clone());
    let (tangential, radial) = (tangential.unwrap_or_else(cautious), radial.unwrap_or_else(cautious));
    let (tangential, radial) = match species {
        Some(species) => (beside(tangential, species.other_tangential, species), beside(radial, species.other_radial, species)),
        None => (tangential, radial),
    };
    let rings =
        [Worked::known("movement along the rings", &tangential, A_PERCENT), Worked::known("movement across the rings", &radial, A_PERCENT)];
    let [of_rings, of_rays] = rings;
    if along >= 1.0 {
        return of_rings;
    }
    if along <= 0.0 {
        return of_rays;
    }
    let value = along * tangential.value + (1.0 - along) * radial.value;
    let formula = ("along the rings × cos² + across the rings × sin² of the angle of the rings to the face", "strain turned by an angle");
    let share = Worked::given("cos² of the angle", along, "");
    Worked::by("movement at a slant to the rings", value, A_PERCENT, formula, vec![of_rings, of_rays, share]).obtained(How::Derived)
}

/// A coefficient whose source names what another publication has in its place, where that is a tenth or more away.
fn beside(taken: Known, other: Option<f64>, species: &Species) -> Known {
    match other.filter(|other| (other / taken.value - 1.0).abs() >= DOUBTED) {
        Some(other) => {
            let source = format!("{}; others have {} ({})", taken.source, figure(other), spelled_out(&species.other_source));
            Known { source: source.into(), ..taken }
        }
        None => taken,
    }
}

/// How much a width across the grain changes, mm; positive when it grows.
///
/// `width` is the size at `from` percent moisture, `coefficient` the change per percent. Wood Handbook FPL-GTR-190,
/// equation 13-2, good from 6 to 14 % moisture.
pub fn movement(width: f64, coefficient: f64, from: f64, to: f64) -> f64 {
    width * coefficient * (to - from)
}

const FORMULA: &str = "size × movement a percent × (later − earlier moisture)";
const SOURCE: &str = "Wood Handbook FPL-GTR-190, equation 13-2, good from 6 to 14 %";

/// [`movement`] with its formula, inputs and source.
pub fn worked_movement(size: Worked, rate: &Worked, from: f64, to: f64) -> Worked {
    let change = movement(size.value, rate.value, from, to);
    let name = format!("change of {}", size.name);
    let moistures = [("moisture before", from), ("moisture after", to)].map(|(name, percent)| Worked::given(name, percent, "%"));
    let inputs = [size, rate.clone()].into_iter().chain(moistures).collect();
    Worked::by(name, change, "mm", (FORMULA, SOURCE), inputs)
}

/// By how much the three sizes of a part change from one moisture to another.
#[derive(Clone, Debug, PartialEq)]
pub struct Movement {
    /// Length, width and thickness, mm; positive when it grows.
    pub change: [Worked; 3],
}

impl Movement {
    /// Of a part that has its sizes at `from` percent moisture.
    pub fn of(part: &Part, timbers: &Timbers, from: f64, to: f64) -> Movement {
        let rates = Rates::of(&part.material, part.sawn, timbers);
        let change = |of: Dimension| worked_movement(Worked::size(&part.size[of.index()]), rates.worked(of), from, to);
        Movement { change: Dimension::ALL.map(change) }
    }

    /// Of every part of a model, in the order of its parts. The model has its sizes at `from` percent.
    pub fn of_model(model: &Model, from: f64, to: f64) -> Vec<Movement> {
        model.parts.iter().map(|part| Movement::of(part, &model.timbers, from, to)).collect()
    }

    /// Length, width and thickness, mm.
    pub fn mm(&self) -> [f64; 3] {
        [0, 1, 2].map(|axis| self.change[axis].value)
    }
}
