//! The case at another moisture: how much each part has grown, and where that has moved it.
//!
//! Each part grows by its own fractions, and moves as what holds it does. Where parts that hold each other would part, as the stiles of a
//! frame whose rails swell between posts that don't, the least is asked of them all: the squares of what they part by add up to as little as can be.
//! What holds fast is settled first: glue, then screws, then what a part rests on or runs in, and last what is made to slide. So a frame stays
//! together, a panel stays in the middle of its grooves, and a top moves from the line at which it is fixed and takes its buttons along.

mod check;
mod cleats;
mod gaps;
mod held_top;
mod links;
mod rooms;
mod settle;

use casewright_solid::Pose;
use glam::{DMat3, DVec3};

pub use check::{check, findings};
pub(crate) use gaps::{APercent, OPENS, findings as overhang_findings};
pub use gaps::{Overhang, Through, overhangs};
pub use held_top::{HeldTop, Tongue};
pub use rooms::tightest;

use crate::design::Dimension;
use crate::model::{Model, Part};
use crate::timber::Rates;

/// A part at another moisture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Swollen {
    /// Its size now as a factor of what it was built to, along its length, width and thickness.
    pub scale: DVec3,
    /// Where its own origin stands now; it turns nowhere.
    pub pose: Pose,
}

/// By what fraction of its length, width and thickness each part grows between two moistures, % of dry mass; see [`Rates`].
pub fn growth(model: &Model, from: f64, to: f64) -> Vec<DVec3> {
    let of_part = |part: &Part| {
        let rates = Rates::of(&part.material, part.sawn, &model.timbers);
        DVec3::from_array(Dimension::ALL.map(|of| rates.along(of))) * (to - from)
    };
    model.parts.iter().map(of_part).collect()
}

/// Where every part is when each has grown by a fraction of its length, width and thickness; less than zero where it shrank.
///
/// `growth` has an entry for each part; one that is missing has not grown. Linear in the growth: twice as much moves every point twice as far,
/// so that it may be drawn larger than true.
pub fn swollen(model: &Model, growth: &[DVec3]) -> Vec<Swollen> {
    let fields: Vec<Field> = model
        .parts
        .iter()
        .map(|part| {
            let (basis, own) = (part.pose.basis, growth.get(part.id.0).copied().unwrap_or_default());
            let strain = (basis * DMat3::from_diagonal(own) * basis.transpose()) * DVec3::ONE;
            let mut about = part.block().centre();
            for line in model.held_lines.iter().filter(|line| line.part == part.id) {
                about[line.axis] = line.at;
            }
            Field { about, strain }
        })
        .collect();
    let moved = settle::settle(&fields, &links::links(model));
    let place = |(part, (field, moved)): (&Part, (&Field, DVec3))| Swollen {
        scale: DVec3::ONE + growth.get(part.id.0).copied().unwrap_or_default(),
        pose: Pose { origin: part.pose.origin + moved + field.at(part.pose.origin), ..part.pose },
    };
    model.parts.iter().zip(fields.iter().zip(moved)).map(place).collect()
}

/// How a part's points move of its own growth, about a place in it that does not.
#[derive(Clone, Copy, Debug)]
struct Field {
    about: DVec3,
    /// The growth along the axes of the case; parts stand square to it.
    strain: DVec3,
}

impl Field {
    /// How far a point has moved, mm.
    fn at(&self, point: DVec3) -> DVec3 {
        self.strain * (point - self.about)
    }
}
