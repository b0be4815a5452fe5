//! The parts as solids that get in each other's way: every question of free or blocked is asked here.

use std::cell::RefCell;
use std::collections::{HashMap, HashSet};
use std::ops::ControlFlow;

use casewright_solid::{Bounds, BoxTree, Cells, Pose, broad_phase, overlap, strikes, strikes_turning, sweep, turn};
use glam::{DMat3, DVec3};

use super::{Leg, SLACK};
use crate::model::{GluedUp, Model, PartId};
use crate::place::Dir;
use crate::shapes::Solids;

/// One part in the way of another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Hit {
    /// The part that stands.
    pub standing: usize,
    /// Where, mm.
    pub place: DVec3,
}

/// Parts that stand, so that those near a way are found without asking all.
pub(super) struct Standing {
    tree: Option<BoxTree>,
}

/// The parts of a model where they belong.
#[derive(Clone)]
pub(super) struct World<'m> {
    pub model: &'m Model,
    /// What is glued together already.
    pub glued: GluedUp,
    cells: Vec<Option<&'m Cells>>,
    poses: Vec<Pose>,
    /// The box around each part in its place.
    pub boxes: Vec<Bounds>,
    /// Pairs that stand in each other in their places: another check tells those, and here they block nothing.
    clashing: HashSet<(usize, usize)>,
    /// What is known of parts that leave their places for good in one of the six directions.
    leaving: RefCell<HashMap<(usize, usize, Dir), bool>>,
    /// Farther than any part of the case from any other, mm.
    pub far: f64,
}

impl<'m> World<'m> {
    pub fn new(model: &'m Model, solids: &'m Solids) -> World<'m> {
        let cells: Vec<_> = model.parts.iter().map(|part| solids.cells(part.id)).collect();
        let boxes: Vec<Bounds> = model
            .parts
            .iter()
            .zip(&cells)
            .map(|(part, cells)| {
                let (min, max) = cells.map_or((DVec3::ZERO, part.lwt()), Cells::bounds);
                part.pose.bounds_of_box(min, max)
            })
            .collect();
        let clashing = broad_phase(&boxes)
            .into_iter()
            .filter(|&(a, b)| {
                let (Some(first), Some(second)) = (cells[a], cells[b]) else { return true };
                overlap(first, &model.parts[a].pose, second, &model.parts[b].pose).is_some_and(|found| found.depth > SLACK)
            })
            .collect();
        let all = union(boxes.iter().copied());
        let far = (all.1 - all.0).length() + 100.0;
        let poses = model.parts.iter().map(|part| part.pose).collect();
        World { model, glued: model.glued_up(), cells, poses, boxes, clashing, leaving: RefCell::default(), far }
    }

    /// The same with one more body, such as a tool; and its number.
    pub fn with<'t>(&self, cells: &'t Cells, pose: Pose) -> (World<'t>, usize)
    where
        'm: 't,
    {
        let mut world: World<'t> = World { leaving: RefCell::default(), ..self.clone() };
        let (min, max) = cells.bounds();
        world.boxes.push(pose.bounds_of_box(min, max));
        world.cells.push(Some(cells));
        world.poses.push(pose);
        let number = world.poses.len() - 1;
        (world, number)
    }

    /// The same with some parts in another shape.
    pub fn recut<'t>(&self, parts: &'t [(usize, Cells)]) -> World<'t>
    where
        'm: 't,
    {
        let mut world: World<'t> = World { leaving: RefCell::default(), ..self.clone() };
        for (part, cells) in parts {
            world.cells[*part] = Some(cells);
        }
        world
    }

    /// How deep a body stands in another where both are now, mm, and where; nothing when not deeper than the slack.
    pub fn overlap(&self, body: usize, other: usize) -> Option<(f64, DVec3)> {
        let (Some(first), Some(second)) = (self.cells[body], self.cells[other]) else { return None };
        let found = overlap(first, &self.poses[body], second, &self.poses[other])?;
        (found.depth > SLACK).then_some((found.depth, found.centre))
    }

    /// What of `moving` meets one of `standing` on a leg, and that, the first found; `frame` is how far they have left their places.
    pub fn meets(&self, moving: &[usize], frame: &Pose, leg: &Leg, standing: &Standing) -> Option<(usize, usize)> {
        moving.iter().find_map(|&part| {
            let swept = self.swept(part, frame, leg);
            let mut met = None;
            let _found = standing.tree.as_ref()?.near(&|around| share(swept, around), &mut |other| {
                if !self.pair_meets(part, frame, leg, swept, other) {
                    return ControlFlow::Continue(());
                }
                met = Some((part, other));
                ControlFlow::Break(())
            });
            met
        })
    }

    /// How far `moving` comes from `frame` in a direction before it meets one of `standing`, mm, and that; nothing where it leaves for good.
    pub fn comes(&self, moving: &[usize], frame: &Pose, dir: Dir, standing: &Standing) -> Option<(f64, usize)> {
        let way = dir.vector() * self.far;
        let leg = Leg::Straight { way };
        let mut nearest: Option<(f64, usize)> = None;
        for &part in moving {
            let swept = self.swept(part, frame, &leg);
            let Some(cells) = self.cells[part] else { continue };
            let pose = frame.then_of(&self.poses[part]);
            let _all = standing.tree.as_ref()?.near(&|around| share(swept, around), &mut |other| {
                if share(swept, self.boxes[other])
                    && self.counts(part, other)
                    && let Some(against) = self.cells[other]
                    && let Some(hit) = sweep(cells, &pose, way, against, &self.poses[other], SLACK)
                    && nearest.is_none_or(|(least, _)| hit.after < least)
                {
                    nearest = Some((hit.after, other));
                }
                ControlFlow::Continue(())
            });
        }
        nearest
    }

    /// Whether one of `moving` meets another part on a leg.
    pub fn meets_one(&self, moving: &[usize], frame: &Pose, leg: &Leg, other: usize) -> bool {
        moving.iter().any(|&part| self.pair_meets(part, frame, leg, self.swept(part, frame, leg), other))
    }

    /// Parts that stand, made ready for [`World::meets`].
    pub fn standing(&self, parts: &[usize]) -> Standing {
        Standing { tree: BoxTree::over(parts.to_vec(), |part| self.boxes[part]) }
    }

    fn pair_meets(&self, part: usize, frame: &Pose, leg: &Leg, swept: Bounds, other: usize) -> bool {
        if !share(swept, self.boxes[other]) || !self.counts(part, other) {
            return false;
        }
        let (Some(cells), Some(against)) = (self.cells[part], self.cells[other]) else { return false };
        let pose = frame.then_of(&self.poses[part]);
        let standing = &self.poses[other];
        match *leg {
            Leg::Straight { way } => strikes(cells, &pose, way, against, standing, SLACK),
            Leg::Turn { pivot, axis, angle } => strikes_turning(cells, &pose, pivot, axis.vector(), angle, against, standing, SLACK),
        }
    }

    /// Where a part first meets another on a leg, if it does.
    pub fn hit(&self, part: usize, frame: &Pose, leg: &Leg, other: usize) -> Option<Hit> {
        let (cells, against) = (self.cells[part]?, self.cells[other]?);
        let pose = frame.then_of(&self.poses[part]);
        let standing = &self.poses[other];
        let found = match *leg {
            Leg::Straight { way } => sweep(cells, &pose, way, against, standing, SLACK),
            Leg::Turn { pivot, axis, angle } => turn(cells, &pose, pivot, axis.vector(), angle, against, standing, SLACK),
        };
        found.filter(|_| self.counts(part, other)).map(|hit| Hit { standing: other, place: hit.at })
    }

    /// Every one of `standing` that one of `moving` meets on a leg.
    pub fn all_met(&self, moving: &[usize], frame: &Pose, leg: &Leg, standing: &[usize]) -> Vec<Hit> {
        standing.iter().filter_map(|&other| moving.iter().find_map(|&part| self.hit(part, frame, leg, other))).collect()
    }

    /// Whether a part that leaves its place for good in a direction meets another, by their boxes alone: no means no.
    pub fn may_meet(&self, part: usize, dir: Dir, other: usize) -> bool {
        share(stretched(self.boxes[part], dir.vector() * self.far), self.boxes[other]) && self.counts(part, other)
    }

    /// Whether a part that leaves its place for good in a direction meets another, by the solids. Remembered.
    pub fn leaving(&self, part: usize, dir: Dir, other: usize) -> bool {
        if !self.may_meet(part, dir, other) {
            return false;
        }
        if let Some(known) = self.leaving.borrow().get(&(part, other, dir)) {
            return *known;
        }
        let leg = Leg::Straight { way: dir.vector() * self.far };
        let met = self.pair_meets(part, &Pose::IDENTITY, &leg, self.swept(part, &Pose::IDENTITY, &leg), other);
        self.leaving.borrow_mut().insert((part, other, dir), met);
        met
    }

    /// Whether a part that leaves its place for good in a direction meets another, or anything that this one is glued to already.
    pub fn leaving_body(&self, part: usize, dir: Dir, other: usize) -> bool {
        self.body_of(other).any(|other| other != part && self.leaving(part, dir, other))
    }

    /// All that a part is glued together with already, itself too.
    pub fn body_of(&self, part: usize) -> impl Iterator<Item = usize> {
        self.glued.with(PartId(part)).iter().map(|part| part.0)
    }

    /// Whether anything can be found of a pair at all.
    fn counts(&self, part: usize, other: usize) -> bool {
        !self.clashing.contains(&(part.min(other), part.max(other)))
    }

    /// The box around a part that has left its place as far as `frame`.
    pub fn bounds(&self, part: usize, frame: &Pose) -> Bounds {
        if *frame == Pose::IDENTITY {
            return self.boxes[part];
        }
        let part_in_frame = frame.then_of(&self.poses[part]);
        let (min, max) = self.cells[part].map_or((DVec3::ZERO, DVec3::ZERO), Cells::bounds);
        part_in_frame.bounds_of_box(min, max)
    }

    fn swept(&self, part: usize, frame: &Pose, leg: &Leg) -> Bounds {
        match *leg {
            Leg::Straight { way } => stretched(self.bounds(part, frame), way),
            Leg::Turn { pivot, axis, angle } => {
                let pose = frame.then_of(&self.poses[part]);
                let (min, max) = self.cells[part].map_or((DVec3::ZERO, DVec3::ZERO), Cells::bounds);
                let corners = corners(min, max).map(|corner| pose.point(corner));
                turned(&corners, pivot, axis, angle)
            }
        }
    }
}

impl Leg {
    /// Where a body is after this leg, that was at `frame` before it.
    pub(crate) fn after(&self, frame: &Pose) -> Pose {
        match *self {
            Leg::Straight { way } => Pose { origin: frame.origin + way, ..*frame },
            Leg::Turn { pivot, axis, angle } => {
                let basis = DMat3::from_axis_angle(axis.vector(), angle);
                Pose { basis, origin: pivot - basis * pivot }.then_of(frame)
            }
        }
    }

    /// The same leg the other way.
    #[must_use]
    pub fn reversed(&self) -> Leg {
        match *self {
            Leg::Straight { way } => Leg::Straight { way: -way },
            Leg::Turn { pivot, axis, angle } => Leg::Turn { pivot, axis, angle: -angle },
        }
    }

    /// The part of it that is done at `share`, 0 to 1.
    #[must_use]
    pub(crate) fn portion(&self, share: f64) -> Leg {
        match *self {
            Leg::Straight { way } => Leg::Straight { way: way * share },
            Leg::Turn { pivot, axis, angle } => Leg::Turn { pivot, axis, angle: angle * share },
        }
    }
}

/// Whether two boxes share more than the slack.
pub(super) fn share(a: Bounds, b: Bounds) -> bool {
    // One axis after the other: most pairs part along the first.
    (0..3).all(|axis| a.1[axis].min(b.1[axis]) - a.0[axis].max(b.0[axis]) > SLACK)
}

/// The box around a box that moves.
fn stretched(of: Bounds, way: DVec3) -> Bounds {
    (of.0.min(of.0 + way), of.1.max(of.1 + way))
}

/// The box around boxes; empty for none.
pub(super) fn union(boxes: impl Iterator<Item = Bounds>) -> Bounds {
    boxes.reduce(|a, b| (a.0.min(b.0), a.1.max(b.1))).unwrap_or_default()
}

/// The eight corners of a box.
fn corners(min: DVec3, max: DVec3) -> [DVec3; 8] {
    std::array::from_fn(|index| {
        let pick = |bit: usize, axis: usize| if index & bit == 0 { min[axis] } else { max[axis] };
        DVec3::new(pick(1, 0), pick(2, 1), pick(4, 2))
    })
}

/// The box around points that turn about an axis: their arcs, with the farthest reach of each.
fn turned(points: &[DVec3], pivot: DVec3, axis: Dir, angle: f64) -> Bounds {
    let (k, sign) = (axis.axis(), axis.sign());
    let (u, v) = ((k + 1) % 3, (k + 2) % 3);
    let angle = angle * sign;
    let mut bounds: Option<Bounds> = None;
    let mut take = |point: DVec3| {
        bounds = Some(bounds.map_or((point, point), |(low, high)| (low.min(point), high.max(point))));
    };
    for &point in points {
        let arm = point - pivot;
        let (radius, start) = (arm[u].hypot(arm[v]), arm[v].atan2(arm[u]));
        let at = |turn: f64| {
            let mut place = point;
            place[u] = pivot[u] + radius * turn.cos();
            place[v] = pivot[v] + radius * turn.sin();
            place
        };
        take(point);
        take(at(start + angle));
        let (from, to) = (start.min(start + angle), start.max(start + angle));
        // The reach is greatest where the arm lies along an axis of the case.
        let quarter = std::f64::consts::FRAC_PI_2;
        let mut turn = (from / quarter).ceil() * quarter;
        while turn < to {
            take(at(turn));
            turn += quarter;
        }
    }
    bounds.unwrap_or_default()
}

/// Places of parts as the solver counts them.
pub(super) fn indices(parts: &[PartId]) -> Vec<usize> {
    parts.iter().map(|part| part.0).collect()
}

/// Parts of places as the model counts them.
pub(super) fn ids(indices: &[usize]) -> Vec<PartId> {
    indices.iter().map(|&index| PartId(index)).collect()
}
