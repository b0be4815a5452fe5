//! How far everything goes down together: what a part sags by itself, and what all that bears it goes down by where it bears.

use glam::DVec3;

use super::down::{Passes, lever};
use super::{Bending, Curve, UnderLoad};
use crate::model::{Model, PartId, PartKind};

/// More things than this do not stand on each other: what is beyond it is not followed.
const DEEPEST: u32 = 32;

/// When a sag is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum When {
    /// As soon as the load is there.
    AtOnce,
    /// After the years of the design.
    After,
}

/// A case that sinks under its load: a shelf with its slats, its cleats and the rails under their standards, a top with its rails.
///
/// Each part keeps the shape that it has when what bears it stands still, and is moved down with what bears it: between two supports in a
/// straight line. Where more than two bear it they would share anew what they bear; that is left out.
#[derive(Debug)]
pub struct Sinking<'u> {
    model: &'u Model,
    passes: &'u [Vec<Passes>],
    curves: Vec<Vec<&'u Curve>>,
    when: When,
}

impl UnderLoad {
    /// The case as it sinks, at once or after the years of the design.
    pub fn sinking<'u>(&'u self, model: &'u Model, when: When) -> Sinking<'u> {
        let mut curves = vec![Vec::new(); model.parts.len()];
        for bending in &self.bending {
            if let Some(of_part) = curves.get_mut(bending.part.0) {
                of_part.push(&bending.curve);
            }
        }
        Sinking { model, passes: &self.passes, curves, when }
    }
}

impl Sinking<'_> {
    /// How far a point of a part, where it stands unloaded, is then below that, mm.
    pub fn down(&self, part: PartId, at: DVec3) -> f64 {
        self.followed(part, at, DEEPEST)
    }

    /// The same where a part sags most for its span.
    pub fn down_at_worst(&self, bending: &Bending) -> f64 {
        let curve = &bending.curve;
        let mut at = self.model.part(bending.part).block().centre();
        at[curve.axis] = curve.from + bending.worst_at();
        self.down(bending.part, at)
    }

    /// Whether a part goes down by itself or with others.
    pub fn sinks(&self, part: PartId) -> bool {
        let block = self.model.part(part).block();
        [block.min, block.centre(), block.max].into_iter().any(|at| self.down(part, at).abs() > 1e-6)
    }

    fn followed(&self, part: PartId, at: DVec3, deepest: u32) -> f64 {
        let curves = self.curves.get(part.0).into_iter().flatten();
        let own: f64 = curves
            .map(|curve| match self.when {
                When::AtOnce => curve.at_once(at[curve.axis]),
                When::After => curve.after(at[curve.axis]),
            })
            .sum();
        let Some(deeper) = deepest.checked_sub(1) else { return own };
        own + match self.passes.get(part.0).map_or(&[][..], Vec::as_slice) {
            [] => 0.0,
            [only] => {
                // What stands in a groove or lies along a rail follows it all along.
                let along = matches!(self.model.part(part).kind, PartKind::Panel | PartKind::Bearer | PartKind::Top);
                self.followed(only.to, if along { at } else { only.at }, deeper)
            }
            many => self.between(many, at, deeper),
        }
    }

    /// The straight line between the two that bear it next to a place.
    fn between(&self, many: &[Passes], at: DVec3, deeper: u32) -> f64 {
        let reach = |axis: usize| {
            let places = many.iter().map(|passes| passes.at[axis]);
            places.clone().fold(f64::NEG_INFINITY, f64::max) - places.fold(f64::INFINITY, f64::min)
        };
        let axis = if reach(0) >= reach(2) { 0 } else { 2 };
        let mut held: Vec<(f64, PartId)> = many.iter().map(|passes| (passes.at[axis], passes.to)).collect();
        held.sort_by(|a, b| a.0.total_cmp(&b.0));
        let share = |(index, share): (usize, f64)| {
            let (place, to) = held.get(index)?;
            let mut point = at;
            point[axis] = *place;
            Some(share * self.followed(*to, point, deeper))
        };
        lever(&held, at[axis]).into_iter().filter_map(share).sum()
    }
}
