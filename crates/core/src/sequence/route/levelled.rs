//! The way of a floor or a shelf: straight from its place into free room, tipped there until it is short enough for the opening, and out through that. The
//! other way round it comes in tipped, is levelled in the free room, and is brought straight home.
//!
//! How far it is tipped is not guessed: whatever it meets on its way out stands on the one side of it or on the other, and what is left between them is how
//! long it may be. That is asked again until nothing more is met.

use casewright_solid::Pose;
use glam::DVec3;

use super::{LEAST_LEG, Leg, MOST_LEGS, PATIENCE_TURNED, Route, union};
use crate::place::Dir;

/// Which way it goes from its place into free room, in the order in which a maker would like it.
const HOMES: [Dir; 4] = [Dir::PlusY, Dir::MinusY, Dir::PlusZ, Dir::MinusZ];
/// Where in the free room it is tipped, as shares of how far it comes: in the middle first.
const LEVELS: [f64; 5] = [0.5, 0.3, 0.7, 0.12, 0.92];
/// Free room of less than this is none, mm.
const LEAST_ROOM: f64 = 5.0;
/// Room that is left on both sides of what passes an opening tipped, mm (common practice, no source).
const BESIDE: f64 = 0.5;
/// What can't be tipped so far in its free room is not tried any further there, degrees.
const LEAST_TIP: f64 = 3.0;
/// Parts in the way that are asked for one opening.
const MOST_WALLS: usize = 12;
/// How far it is tipped, degrees, where it goes on in more than one leg.
const TIPS: [f64; 6] = [15.0, 22.0, 30.0, 40.0, 60.0, 90.0];

/// A way to tip: what is made shorter, and what it turns toward, as axes of the case.
#[derive(Clone, Copy)]
struct Tip {
    across: usize,
    rise: usize,
    /// 1 or -1.
    sense: f64,
}

impl Tip {
    /// Every way that makes something of this extent shorter, the greatest gain first.
    fn all(extent: DVec3) -> Vec<Tip> {
        let pairs = (0..3).flat_map(|across| (0..3).map(move |rise| (across, rise)));
        let mut pairs: Vec<_> = pairs.filter(|&(across, rise)| across != rise && extent[across] > extent[rise] + LEAST_LEG).collect();
        pairs.sort_by(|a, b| (extent[a.1] / extent[a.0]).total_cmp(&(extent[b.1] / extent[b.0])));
        pairs.into_iter().flat_map(|(across, rise)| [1.0, -1.0].map(|sense| Tip { across, rise, sense })).collect()
    }

    fn turn(self, pivot: DVec3, degrees: f64) -> Leg {
        Leg::Turn { pivot, axis: Dir::along(3 - self.across - self.rise, 1.0), angle: self.sense * degrees.to_radians() }
    }
}

impl Route<'_, '_> {
    /// A way out by free room near its place.
    pub(super) fn levelled(&self) -> Option<Vec<Leg>> {
        self.by_free_room(&LEVELS, |frame| self.tipped_out(frame))
    }

    /// The same, in more than one leg once it is tipped: what takes long.
    pub(super) fn levelled_further(&self) -> Option<Vec<Leg>> {
        self.by_free_room(&LEVELS[..1], |frame| {
            let (low, high) = self.bounds(frame);
            Tip::all(high - low).into_iter().find_map(|tip| {
                let turns = TIPS.into_iter().map(|degrees| tip.turn((low + high) / 2.0, degrees));
                turns.take_while(|turn| self.free(frame, turn)).find_map(|turn| {
                    let mut legs = self.straight(&turn.after(frame), MOST_LEGS, PATIENCE_TURNED)?;
                    legs.insert(0, turn);
                    Some(legs)
                })
            })
        })
    }

    /// Straight into free room, and on from there.
    fn by_free_room(&self, levels: &[f64], on: impl Fn(&Pose) -> Option<Vec<Leg>>) -> Option<Vec<Leg>> {
        HOMES.into_iter().find_map(|home| {
            let (room, met) = self.world.comes(self.moving, &Pose::IDENTITY, home, &self.ready)?;
            self.blockers.borrow_mut().insert(met);
            if room < LEAST_ROOM {
                return None;
            }
            levels.iter().find_map(|share| {
                let lift = Leg::Straight { way: home.vector() * (room * share) };
                let mut legs = on(&lift.after(&Pose::IDENTITY))?;
                legs.insert(0, lift);
                Some(legs)
            })
        })
    }

    fn tipped_out(&self, frame: &Pose) -> Option<Vec<Leg>> {
        let (low, high) = self.bounds(frame);
        let begins = |tip: &Tip| self.free(frame, &tip.turn((low + high) / 2.0, LEAST_TIP));
        Tip::all(high - low).into_iter().filter(begins).find_map(|tip| {
            let mut exits = self.exits.iter().copied().filter(|exit| exit.axis() != tip.across);
            exits.find_map(|exit| self.tipped_through(frame, tip, exit))
        })
    }

    /// Tipped, moved aside where the opening is not in the middle, and straight out.
    fn tipped_through(&self, frame: &Pose, tip: Tip, exit: Dir) -> Option<Vec<Leg>> {
        let out = Leg::Straight { way: exit.vector() * self.world.far };
        let (low, high) = self.bounds(frame);
        let middle = (low + high) / 2.0;
        let mut opening = (f64::NEG_INFINITY, f64::INFINITY);
        let mut legs: Vec<Leg> = Vec::new();
        for _ in 0..MOST_WALLS {
            let tipped = legs.iter().fold(*frame, |frame, leg| leg.after(&frame));
            let Some(wall) = self.met(&tipped, &out) else {
                return [aside_first(&legs), legs].into_iter().rev().find_map(|mut legs| {
                    legs.push(out);
                    self.serves_from(frame, &legs).then_some(legs)
                });
            };
            let walls = self.world.boxes[wall];
            let (from, to) = (walls.0[tip.across], walls.1[tip.across]);
            let before = opening;
            if f64::midpoint(from, to) < middle[tip.across] {
                opening.0 = opening.0.max(to);
            } else {
                opening.1 = opening.1.min(from);
            }
            if opening == before {
                return None;
            }
            legs = self.shortened(frame, tip, opening)?;
        }
        None
    }

    /// Tipped no farther than it takes to stand within an opening, and moved into that; none where nothing makes it short enough.
    fn shortened(&self, frame: &Pose, tip: Tip, (from, to): (f64, f64)) -> Option<Vec<Leg>> {
        let (low, high) = self.bounds(frame);
        let middle = (low + high) / 2.0;
        let room = to - from - 2.0 * BESIDE;
        (0..=90).find_map(|degrees| {
            let turn = (degrees > 0).then(|| tip.turn(middle, f64::from(degrees)));
            let tipped = turn.map_or(*frame, |turn| turn.after(frame));
            let (low, high) = union(self.moving.iter().map(|&part| self.world.bounds(part, &tipped)));
            let (low, high) = (low[tip.across], high[tip.across]);
            if high - low > room {
                return None;
            }
            let aside = (from + BESIDE - low).max(0.0) + (to - BESIDE - high).min(0.0);
            let aside = (aside.abs() > LEAST_LEG).then(|| Leg::Straight { way: DVec3::AXES[tip.across] * aside });
            Some(turn.into_iter().chain(aside).collect())
        })
    }
}

/// The same place reached by moving aside before it is tipped.
fn aside_first(legs: &[Leg]) -> Vec<Leg> {
    match *legs {
        [Leg::Turn { pivot, axis, angle }, aside @ Leg::Straight { way }] => vec![aside, Leg::Turn { pivot: pivot + way, axis, angle }],
        _ => legs.to_vec(),
    }
}
