//! A way out for one body among others that stand: straight, up to three legs, lifted into free room and tipped there, or tipped out first.

mod levelled;

use std::cell::{Cell, RefCell};
use std::collections::HashSet;

use casewright_solid::{Bounds, Pose};
use glam::DVec3;

use super::Leg;
use super::world::{Standing, World, union};
use crate::joint::JointKind;
use crate::model::{Feature, Joint};
use crate::place::Dir;

/// The last leg leaves for good in one of these, in the order in which a maker would like it; never through the floor of the room.
const EXITS: [Dir; 5] = [Dir::PlusZ, Dir::PlusY, Dir::PlusX, Dir::MinusX, Dir::MinusZ];
/// So many legs at most, a turn aside.
const MOST_LEGS: usize = 3;
/// Places along a leg that are tried as its end.
const MOST_STOPS: usize = 16;
/// Legs that are tried before a search gives up, and after a turn.
const PATIENCE: u32 = 700;
const PATIENCE_TURNED: u32 = 160;
const PATIENCE_PUSHED: u32 = 600;
/// How far a part is tipped, degrees: the least that does is taken.
const ANGLES: [f64; 9] = [10.0, 18.0, 26.0, 32.0, 40.0, 50.0, 60.0, 75.0, 90.0];
/// How far a part is lifted before it is tipped, as shares of its height.
const LIFTS: [f64; 2] = [2.0, 5.0];
/// Which ways a part is pushed before it is tipped.
const PUSHES: [Dir; 4] = [Dir::MinusZ, Dir::PlusZ, Dir::MinusX, Dir::PlusX];

/// How hard a way out is sought.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) enum Effort {
    /// In straight legs.
    Straight,
    /// Straight from its place into free room, tipped there as far as what is in the way asks for, and out.
    Levelled,
    /// Tipped first.
    Tipped,
    /// Pushed to one side as far as it goes, then tipped; and longer after each turn.
    Pushed,
}

impl Effort {
    /// From the least on.
    pub const ALL: [Effort; 4] = [Effort::Straight, Effort::Levelled, Effort::Tipped, Effort::Pushed];
}

/// A search for a way out.
pub(super) struct Route<'w, 'm> {
    world: &'w World<'m>,
    moving: &'w [usize],
    standing: &'w [usize],
    /// The same, to be asked.
    ready: Standing,
    /// The exits in the order in which they are tried: those in which a joint of the body opens come first.
    exits: Vec<Dir>,
    left: Cell<u32>,
    /// The part that was in the way last: it is asked first, for it often is again.
    last: Cell<Option<usize>>,
    /// Places already left in vain, each with the legs that were left there, in hundredths of a millimetre: two legs lead to one place either
    /// way round.
    visited: RefCell<HashSet<(usize, [i64; 3])>>,
    /// Every part that was found in the way.
    blockers: RefCell<HashSet<usize>>,
}

impl<'w, 'm> Route<'w, 'm> {
    pub fn new(world: &'w World<'m>, moving: &'w [usize], standing: &'w [usize]) -> Route<'w, 'm> {
        let of_body = |joint: &&Joint| moving.first().is_some_and(|part| joint.a.0 == *part);
        let opens: Vec<Dir> = world
            .model
            .joints
            .iter()
            .filter(of_body)
            .filter(|joint| !matches!(joint.kind, JointKind::Notch(_)))
            .map(|joint| joint.contact.into.opposite())
            .collect();
        let mut exits = EXITS.to_vec();
        exits.sort_by_key(|dir| !opens.contains(dir));
        Route {
            world,
            moving,
            standing,
            ready: world.standing(standing),
            exits,
            left: Cell::new(0),
            last: Cell::new(None),
            visited: RefCell::default(),
            blockers: RefCell::default(),
        }
    }

    /// The shortest way out that is found: fewest legs, and no turn where none is needed.
    pub fn find(&self) -> Option<Vec<Leg>> {
        Effort::ALL.into_iter().find_map(|effort| self.by(effort))
    }

    /// A way out that takes no more than some effort.
    pub fn by(&self, effort: Effort) -> Option<Vec<Leg>> {
        match effort {
            Effort::Straight => self.straight(&Pose::IDENTITY, MOST_LEGS, PATIENCE),
            Effort::Levelled => self.levelled(),
            Effort::Tipped => self.tipped(),
            Effort::Pushed => {
                let mut pushes = PUSHES.into_iter().filter_map(|dir| self.pushed(dir));
                self.levelled_further().or_else(|| pushes.find_map(|push| self.tipped_after(push, PATIENCE_PUSHED)))
            }
        }
    }

    /// A way out in straight legs that leaves in one direction first: what is glued closes face to face.
    pub fn leaving(&self, dir: Dir) -> Option<Vec<Leg>> {
        let leg = |far: f64| Leg::Straight { way: dir.vector() * far };
        self.left.set(PATIENCE);
        if self.free(&Pose::IDENTITY, &leg(self.world.far)) {
            return Some(vec![leg(self.world.far)]);
        }
        let mut stops = self.stops(&Pose::IDENTITY, dir);
        stops.push(CLEAR_OF_GLUE);
        stops.retain(|stop| *stop >= CLEAR_OF_GLUE);
        stops.sort_by(f64::total_cmp);
        for first in stops.into_iter().map(leg) {
            if !self.free(&Pose::IDENTITY, &first) {
                return None;
            }
            if let Some(mut legs) = self.straight(&first.after(&Pose::IDENTITY), MOST_LEGS - 1, PATIENCE) {
                legs.insert(0, first);
                return Some(legs);
            }
        }
        None
    }

    /// A way out in straight legs, no more than so many.
    pub fn straight(&self, frame: &Pose, most: usize, patience: u32) -> Option<Vec<Leg>> {
        self.left.set(patience);
        self.visited.borrow_mut().clear();
        (1..=most).find_map(|legs| self.legs(frame, legs, None))
    }

    /// Whether a way found for a body of the same shape serves this one.
    pub fn serves(&self, legs: &[Leg]) -> bool {
        self.serves_from(&Pose::IDENTITY, legs)
    }

    fn serves_from(&self, frame: &Pose, legs: &[Leg]) -> bool {
        let mut frame = *frame;
        legs.iter().all(|leg| {
            let free = self.free(&frame, leg);
            frame = leg.after(&frame);
            free
        })
    }

    fn free(&self, frame: &Pose, leg: &Leg) -> bool {
        self.met(frame, leg).is_none()
    }

    /// A part that is in the way on a leg.
    fn met(&self, frame: &Pose, leg: &Leg) -> Option<usize> {
        self.left.set(self.left.get().saturating_sub(1));
        let last = self.last.get();
        if last.is_some_and(|last| self.world.meets_one(self.moving, frame, leg, last)) {
            return last;
        }
        let met = self.world.meets(self.moving, frame, leg, &self.ready).map(|(_, other)| other);
        self.last.set(met.or(last));
        self.blockers.borrow_mut().extend(met);
        met
    }

    /// Every part that was in the way of something that was tried. While they all stand, trying again finds no more.
    pub fn blockers(&self) -> HashSet<usize> {
        self.blockers.borrow().clone()
    }

    fn bounds(&self, frame: &Pose) -> Bounds {
        union(self.moving.iter().map(|&part| self.world.bounds(part, frame)))
    }

    fn legs(&self, frame: &Pose, count: usize, last: Option<Dir>) -> Option<Vec<Leg>> {
        let place = frame.origin.to_array().map(|at| (at * 100.0).round() as i64);
        if !self.visited.borrow_mut().insert((count, place)) {
            return None;
        }
        let turns = |dir: &Dir| last.is_none_or(|last| last.axis() != dir.axis());
        if count <= 1 {
            let leg = |dir: Dir| Leg::Straight { way: dir.vector() * self.world.far };
            return self.exits.iter().copied().filter(turns).map(leg).find(|leg| self.free(frame, leg)).map(|leg| vec![leg]);
        }
        for dir in Dir::ALL.into_iter().filter(turns) {
            for stop in self.stops(frame, dir) {
                let leg = Leg::Straight { way: dir.vector() * stop };
                // What does not come this far comes no farther.
                if self.left.get() == 0 || !self.free(frame, &leg) {
                    break;
                }
                if let Some(mut rest) = self.legs(&leg.after(frame), count - 1, Some(dir)) {
                    rest.insert(0, leg);
                    return Some(rest);
                }
            }
        }
        None
    }

    /// Where it may be worth stopping on a leg: just clear of something, or up against it.
    fn stops(&self, frame: &Pose, dir: Dir) -> Vec<f64> {
        let (axis, sign) = (dir.axis(), dir.sign());
        let own = self.bounds(frame);
        let (rear, front) = if sign > 0.0 { (own.0[axis], own.1[axis]) } else { (own.1[axis], own.0[axis]) };
        let mut stops: Vec<f64> = self
            .standing
            .iter()
            .flat_map(|&other| {
                let (low, high) = self.world.boxes[other];
                let (near, far) = if sign > 0.0 { (low[axis], high[axis]) } else { (high[axis], low[axis]) };
                [(far - rear) * sign, (near - front) * sign]
            })
            .filter(|stop| *stop > LEAST_LEG)
            .collect();
        stops.sort_unstable_by(f64::total_cmp);
        stops.dedup_by(|a, b| (*a - *b).abs() < LEAST_LEG);
        stops.truncate(MOST_STOPS);
        stops
    }

    /// Lifted a little where that is needed, tipped about one of its edges, then out in straight legs.
    fn tipped(&self) -> Option<Vec<Leg>> {
        let own = self.bounds(&Pose::IDENTITY);
        let up = own.1.y - own.0.y;
        let lifts = LIFTS.map(|share| Leg::Straight { way: DVec3::Y * (share * up) });
        let at_once = self.tipped_from(&Pose::IDENTITY, PATIENCE_TURNED);
        at_once.or_else(|| {
            let mut free = lifts.into_iter().take_while(|lift| self.free(&Pose::IDENTITY, lift));
            free.find_map(|lift| self.tipped_after(lift, PATIENCE_TURNED))
        })
    }

    fn tipped_after(&self, first: Leg, patience: u32) -> Option<Vec<Leg>> {
        let mut legs = self.tipped_from(&first.after(&Pose::IDENTITY), patience)?;
        legs.insert(0, first);
        Some(legs)
    }

    /// As far to one side as it goes from its place.
    fn pushed(&self, dir: Dir) -> Option<Leg> {
        let legs = self.stops(&Pose::IDENTITY, dir).into_iter().map(|stop| Leg::Straight { way: dir.vector() * stop });
        legs.take_while(|leg| self.free(&Pose::IDENTITY, leg)).last()
    }

    fn tipped_from(&self, frame: &Pose, patience: u32) -> Option<Vec<Leg>> {
        let own = self.bounds(frame);
        for axis in tipping_axes(own.1 - own.0) {
            for (pivot, sense) in self.pivots(frame, axis) {
                for degrees in ANGLES {
                    let turn = Leg::Turn { pivot, axis, angle: sense * degrees.to_radians() };
                    if !self.free(frame, &turn) {
                        break;
                    }
                    if let Some(mut legs) = self.straight(&turn.after(frame), MOST_LEGS, patience) {
                        legs.insert(0, turn);
                        return Some(legs);
                    }
                }
            }
        }
        None
    }

    /// Where a body is tipped about an axis, and which way: about the upper edge of one end, so that its lower edge swings inward and nothing
    /// reaches farther than its diagonal; where it is notched, about the walls of the notches, which would else swing into what they go round.
    fn pivots(&self, frame: &Pose, axis: Dir) -> Vec<(DVec3, f64)> {
        let (low, high) = self.bounds(frame);
        let side = if axis.axis() == 0 { 2 } else { 0 };
        let up = 3 - axis.axis() - side;
        let mut places: Vec<f64> = self.moving.iter().flat_map(|&part| self.notch_walls(part, frame, side)).collect();
        if places.is_empty() {
            places = vec![low[side], high[side]];
        }
        places.sort_by(f64::total_cmp);
        places.dedup_by(|a, b| (*a - *b).abs() < LEAST_LEG);
        let mut pivots = Vec::with_capacity(places.len() * 2);
        for place in places {
            let mut pivot = low;
            (pivot[side], pivot[up]) = (place, high[up]);
            // The way that lifts the farther end.
            let far_is_high = high[side] - place > place - low[side];
            let cyclic = (axis.axis() + 1) % 3 == side;
            pivots.push((pivot, if far_is_high == cyclic { 1.0 } else { -1.0 }));
        }
        pivots
    }

    /// Where the inner walls of a part's notches are along an axis of the case.
    fn notch_walls(&self, part: usize, frame: &Pose, side: usize) -> Vec<f64> {
        let Some(part) = self.world.model.parts.get(part) else { return Vec::new() };
        let size = part.lwt();
        let wall = |feature: &Feature| match *feature {
            Feature::Notch { second_end, back_edge, length, width } => {
                let at = |far: bool, cut: f64, extent: f64| if far { extent - cut } else { cut };
                let corner = DVec3::new(at(second_end, length, size.x), at(back_edge, width, size.y), 0.0);
                Some(frame.point(part.pose.point(corner))[side])
            }
            _ => None,
        };
        part.cuts.iter().filter_map(|cut| wall(&cut.feature)).collect()
    }
}

/// So far from its place nothing wipes the glue off that is spread there, mm (common practice, no source).
const CLEAR_OF_GLUE: f64 = 10.0;

/// Legs shorter than this lead nowhere, mm.
const LEAST_LEG: f64 = 0.05;

/// What is no longer than this many times its width may be turned about its longest axis too: a stick is not, a board that is about square is.
const SQUARE: f64 = 2.0;

/// The axes about which something of that extent is tipped: level ones first, and its longest last, if at all.
fn tipping_axes(extent: DVec3) -> Vec<Dir> {
    let longest = extent.max_position();
    let second = (0..3).filter(|&axis| axis != longest).map(|axis| extent[axis]).fold(0.0, f64::max);
    let mut axes: Vec<usize> = (0..3).filter(|&axis| axis != longest || extent[axis] <= SQUARE * second).collect();
    axes.sort_by_key(|&axis| (axis == 1, axis == longest));
    axes.into_iter().map(|axis| Dir::along(axis, 1.0)).collect()
}
