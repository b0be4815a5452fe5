//! How far everything goes down together: what a part sags by itself, and what all that bears it goes down by where it bears.

use glam::DVec3;

use super::down::{Passes, lever};
use super::slab::greatest;
use super::{Curve, UnderLoad};
use crate::model::{Model, PartId, PartKind};
use crate::worked::{Worked, figure};

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

/// How far a part is down where it is lowest.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Deepest {
    /// Where that is, unloaded.
    pub at: DVec3,
    /// mm.
    pub down: f64,
}

/// What a part bears on, as it sinks.
enum Borne<'a> {
    /// Nothing that sinks.
    Floor,
    /// One thing, all along it.
    Along(PartId),
    /// One thing, at one place.
    At(PartId, DVec3),
    /// Several, along an axis.
    Between(usize, Vec<&'a Passes>),
}

impl Sinking<'_> {
    /// How far a point of a part, where it stands unloaded, is then below that, mm.
    pub fn down(&self, part: PartId, at: DVec3) -> f64 {
        self.followed(part, at, DEEPEST)
    }

    /// Where a part that bends is lowest, with all that bears it.
    pub fn deepest(&self, part: PartId) -> Option<Deepest> {
        let curves = self.curves.get(part.0)?;
        let first = curves.first()?;
        let block = self.model.part(part).block();
        let (axis, other) = (first.axis, 2 - first.axis);
        let on_line = |across: f64| {
            let mut at = block.centre();
            at[other] = across;
            let borne = self.borne_along(part, axis, at);
            let mut down = |along: f64| {
                at[axis] = along;
                self.own(curves, at) + borne.as_ref().map_or_else(|| self.carried(part, at, DEEPEST), |borne| straight(borne, along))
            };
            let lowest = greatest(first.from, first.to, SAMPLES, &mut down);
            let down = down(lowest);
            at[axis] = lowest;
            Deepest { at, down }
        };
        let (near, far) = (block.min[other], block.max[other]);
        if (far - near) * NARROW < first.to - first.from {
            let lines = [near, near.midpoint(far), far].map(on_line);
            return lines.into_iter().max_by(|a, b| a.down.total_cmp(&b.down));
        }
        Some(on_line(greatest(near, far, SAMPLES, |across| on_line(across).down)))
    }

    /// Why a point of a part is so far down: what it sags by itself, and its share of what each thing that bears it is down.
    pub fn why(&self, part: PartId, at: DVec3) -> Worked {
        self.told(part, at, DEEPEST)
    }

    /// Whether a part goes down by itself or with others.
    pub fn sinks(&self, part: PartId) -> bool {
        let block = self.model.part(part).block();
        [block.min, block.centre(), block.max].into_iter().any(|at| self.down(part, at).abs() > 1e-6)
    }

    fn followed(&self, part: PartId, at: DVec3, deepest: u32) -> f64 {
        let own = self.curves.get(part.0).map_or(0.0, |curves| self.own(curves, at));
        own + self.carried(part, at, deepest)
    }

    /// What a part sags by itself.
    fn own(&self, curves: &[&Curve], at: DVec3) -> f64 {
        curves
            .first()
            .map(|curve| match self.when {
                When::AtOnce => curve.at_once_at(at),
                When::After => curve.after_at(at),
            })
            .unwrap_or_default()
    }

    /// What it goes down with what bears it.
    fn carried(&self, part: PartId, at: DVec3, deepest: u32) -> f64 {
        self.shares(part, at, deepest).into_iter().map(|(share, to, place, deeper)| share * self.followed(to, place, deeper)).sum()
    }

    /// What bears a part at a place of it: each with its share, and where it is borne there.
    fn shares(&self, part: PartId, at: DVec3, deepest: u32) -> Vec<(f64, PartId, DVec3, u32)> {
        let Some(deeper) = deepest.checked_sub(1) else { return Vec::new() };
        match self.borne(part) {
            Borne::Floor => Vec::new(),
            Borne::Along(to) => vec![(1.0, to, at, deeper)],
            Borne::At(to, place) => vec![(1.0, to, place, deeper)],
            Borne::Between(axis, many) => {
                let held: Vec<(f64, PartId)> = many.iter().map(|passes| (passes.at[axis], passes.to)).collect();
                let share = |(index, share): (usize, f64)| {
                    let (place, to) = held.get(index)?;
                    let mut point = at;
                    point[axis] = *place;
                    Some((share, *to, point, deeper))
                };
                lever(&held, at[axis]).into_iter().filter_map(share).collect()
            }
        }
    }

    fn borne(&self, part: PartId) -> Borne<'_> {
        match self.passes.get(part.0).map_or(&[][..], Vec::as_slice) {
            [] => Borne::Floor,
            // What stands in a groove or lies along a rail follows it all along.
            [only] if matches!(self.model.part(part).kind, PartKind::Panel | PartKind::Bearer | PartKind::Top) => Borne::Along(only.to),
            [only] => Borne::At(only.to, only.at),
            many => {
                let reach = |axis: usize| {
                    let places = many.iter().map(|passes| passes.at[axis]);
                    places.clone().fold(f64::NEG_INFINITY, f64::max) - places.fold(f64::INFINITY, f64::min)
                };
                let axis = if reach(0) >= reach(2) { 0 } else { 2 };
                let mut held: Vec<&Passes> = many.iter().collect();
                held.sort_by(|a, b| a.at[axis].total_cmp(&b.at[axis]));
                Borne::Between(axis, held)
            }
        }
    }

    /// How far what bears a part is down along a line of it, where that is the same for the whole line: each place on the axis, and how far.
    /// Nothing where it is another at each place.
    fn borne_along(&self, part: PartId, axis: usize, at: DVec3) -> Option<Vec<(f64, f64)>> {
        let down = |to: PartId, place: DVec3| self.followed(to, place, DEEPEST - 1);
        match self.borne(part) {
            Borne::Floor => Some(vec![(0.0, 0.0)]),
            Borne::At(to, place) => Some(vec![(0.0, down(to, place))]),
            Borne::Between(by, many) if by == axis => {
                let each = many.iter().map(|passes| {
                    let mut place = at;
                    place[axis] = passes.at[axis];
                    (passes.at[axis], down(passes.to, place))
                });
                Some(each.collect())
            }
            Borne::Along(_) | Borne::Between(..) => None,
        }
    }

    fn told(&self, part: PartId, at: DVec3, deepest: u32) -> Worked {
        let curves = self.curves.get(part.0).map_or(&[][..], Vec::as_slice);
        let mut inputs = vec![Worked::given("its own sag there", self.own(curves, at), "mm")];
        for (share, to, place, deeper) in self.shares(part, at, deepest) {
            let below = self.told(to, place, deeper);
            if below.value.abs() > 1e-6 && share.abs() > 1e-9 {
                inputs.extend([Worked::given("share of it", share, ""), below]);
            }
        }
        let title = &self.model.part(part).title;
        let axis = curves.first().map_or(0, |curve| curve.axis);
        let along = at[axis] - self.model.part(part).body().min[axis];
        let name = format!("how far {title} is down at {} mm", figure(along));
        Worked::by(name, self.down(part, at), "mm", IN_ALL, inputs)
    }
}

const IN_ALL: (&str, &str) = (
    "its own sag there + share of it × how far what bears it is down there, for each thing that bears it",
    "between two that bear it in a straight line: ours",
);

/// Samples along a line before the lowest place is sought between them.
const SAMPLES: usize = 12;
/// What is so many times as long as wide is straight across, or next to it.
const NARROW: f64 = 2.0;

/// What lies between places that are down so far each is down at a place: in straight lines.
fn straight(borne: &[(f64, f64)], at: f64) -> f64 {
    match borne {
        [] => 0.0,
        [(_, only)] => *only,
        many => {
            let second = many.iter().skip(1).position(|(place, _)| *place >= at).map_or(many.len() - 1, |index| index + 1);
            match (many.get(second - 1), many.get(second)) {
                (Some((from, first)), Some((to, last))) => first + (last - first) * (at - from) / (to - from),
                (Some((_, only)), None) | (None, Some((_, only))) => *only,
                (None, None) => 0.0,
            }
        }
    }
}
