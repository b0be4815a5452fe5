//! Which boards are asked first, and from how many strips wide parts are glued up: the plain way, and others where they cost less.
//!
//! ```text
//! Way::plain ──a quick layout──▶ others that may cost less ──a quick layout each──▶ the best of them, and on from there
//! ```
//!
//! Each species and thickness is laid out by itself. What that can't see, thinner boards that cost more than thicker ones do, room that is left over on boards which are cut
//! into anyway, resawing where boards lie there that need none, and a wide board that decides the strips of all, is tried here.

use std::collections::BTreeMap;
use std::ops::ControlFlow;

use super::effort::Effort;
use super::rack::Rack;
use super::{Cutting, Job, Measure};
use crate::cutlist::Row;
use crate::rough::strips;

/// A way to lay a case out.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Way {
    /// The racks that are cut from, in the order in which a part asks them.
    pub order: Vec<usize>,
    /// From how many strips parts are glued up, by their marks; what is not there is of one piece.
    pub strips: BTreeMap<String, usize>,
}

/// Rounds of search on each way that is tried.
const QUICK: u64 = 1;
/// Times that the best of the others is gone on from.
const PASSES: usize = 2;
/// What is no wider is not glued up from narrower boards, mm (common practice, no source).
const WIDE: f64 = 150.0;
/// Strips are no narrower than this, mm (common practice, no source).
const NARROWEST: f64 = 40.0;
/// A board that costs so many times what others of its thickness do for their size is dear.
const DEAR: f64 = 1.05;
/// Costs that differ by less are one.
const AS_GOOD: f64 = 1e-6;

impl Way {
    /// Every rack, the thinnest boards first, and as few strips as the widest of the first that do.
    pub fn plain(job: &Job<'_>) -> Way {
        let widest = |row: &Row| {
            let first = job.racks.iter().find(|rack| rack.serves(job.design, row))?;
            Some(first.widest(row.rough_size()[0]))
        };
        let glued = |row: &Row| {
            row.rough?;
            let count = strips(&job.design.shop.machines, row.finished[1], job.design.timber.rough.width.to_mm(), widest(row)?);
            (count > 1).then(|| (row.mark.clone(), count))
        };
        Way { order: (0..job.racks.len()).collect(), strips: job.list.rows.iter().filter_map(glued).collect() }
    }
}

/// What a layout is worth.
struct Worth {
    /// Parts without a place.
    left: u32,
    /// By what it is counted in: money, volume, area.
    cost: [f64; 3],
    /// Leaves of boards that are resawn.
    resawn: usize,
}

impl Worth {
    fn of(job: &Job<'_>, cutting: &Cutting) -> Worth {
        let mut cost = [0.0; 3];
        for group in &cutting.groups {
            let of = match group.measure {
                Measure::Money => 0,
                Measure::Volume => 1,
                Measure::Area => 2,
            };
            cost[of] += group.cost;
        }
        let is_resawn = |entry: usize| job.racks.iter().any(|rack| rack.is_resawn() && rack.entry(entry).is_some());
        Worth {
            left: cutting.left.iter().map(|left| left.count).sum(),
            cost,
            resawn: cutting.boards.iter().filter(|board| is_resawn(board.entry)).count(),
        }
    }

    fn is_better_than(&self, other: &Worth) -> bool {
        let more = |a: &f64, b: &f64| *a > b + AS_GOOD * b.abs().max(1.0);
        if self.left != other.left {
            return self.left < other.left;
        }
        let costs_more = self.cost.iter().zip(&other.cost).any(|(own, other)| more(own, other));
        let costs_less = self.cost.iter().zip(&other.cost).any(|(own, other)| more(other, own));
        !costs_more && (costs_less || self.resawn < other.resawn)
    }
}

/// The best way that is found.
pub(super) fn best(job: &Job<'_>, effort: Effort<'_>) -> Way {
    let quick = |way: &Way| {
        let rounds = Some(effort.rounds.unwrap_or(QUICK).min(QUICK));
        let effort = Effort { rounds, watch: &|_| ControlFlow::Continue(()), ..effort };
        // Sheets come out of sheets, whichever way.
        let solid = |at: &usize| job.racks.get(*at).is_some_and(|rack| !rack.sheets);
        let way = Way { order: way.order.iter().copied().filter(solid).collect(), strips: way.strips.clone() };
        let cutting = job.lay(&way, effort, None);
        (Worth::of(job, &cutting), cutting)
    };
    let mut way = Way::plain(job);
    if job.racks.len() < 2 && way.strips.is_empty() {
        return way;
    }
    let (mut worth, mut cutting) = quick(&way);
    let mut tried = vec![way.clone()];
    for _ in 0..PASSES {
        let mut better: Option<(Way, Worth, Cutting)> = None;
        for other in others(job, &way, &cutting) {
            if tried.contains(&other) {
                continue;
            }
            let (own, laid) = quick(&other);
            tried.push(other.clone());
            if own.is_better_than(better.as_ref().map_or(&worth, |(_, worth, _)| worth)) {
                better = Some((other, own, laid));
            }
        }
        let Some(found) = better else { break };
        (way, worth, cutting) = found;
    }
    way
}

/// Ways that may be better than one, by what came of it.
fn others(job: &Job<'_>, way: &Way, cutting: &Cutting) -> Vec<Way> {
    let mut others = vec![Way { order: by_price(job, &way.order), strips: way.strips.clone() }];
    others.extend(way.order.iter().filter(|at| may_be_spared(job, way, cutting, **at)).map(|at| {
        let order = way.order.iter().copied().filter(|other| other != at).collect();
        Way { order, strips: way.strips.clone() }
    }));
    for row in job.list.rows.iter().filter(|row| row.rough.is_some()) {
        let count = way.strips.get(&row.mark).copied().unwrap_or(1);
        let is_left = cutting.left.iter().any(|left| left.mark == row.mark);
        let is_wide = is_left && (count > 1 || row.finished[1] >= WIDE) || count > 1 && lies_dear(job, row, cutting);
        for more in (count + 1..=count + 1 + usize::from(is_left)).filter(|more| is_wide && row.finished[1] / *more as f64 >= NARROWEST) {
            let mut strips = way.strips.clone();
            strips.insert(row.mark.clone(), more);
            others.push(Way { order: way.order.clone(), strips });
        }
    }
    others
}

/// Whether parts of a row lie on boards that cost more for their size than others of the same thickness.
fn lies_dear(job: &Job<'_>, row: &Row, cutting: &Cutting) -> bool {
    let boards = cutting.boards.iter().filter(|board| board.pieces.iter().any(|piece| row.parts.contains(&piece.part)));
    let of_rack = |entry: usize| job.racks.iter().find_map(|rack| Some((rack, rack.entry(entry)?)));
    boards.filter_map(|board| of_rack(board.entry)).any(|(rack, usable)| rack.price(usable) > DEAR * rack.least_price())
}

/// The racks of each species by what a square of them costs, those that are resawn after others that cost as much.
fn by_price(job: &Job<'_>, order: &[usize]) -> Vec<usize> {
    let rack = |at: &usize| job.racks.get(*at);
    let mut order = order.to_vec();
    let alike = |a: &Rack<'_>, b: &Rack<'_>| a.id == b.id && a.measure() == b.measure() && !a.sheets;
    order.sort_by(|a, b| match rack(a).zip(rack(b)) {
        Some((one, other)) if alike(one, other) => {
            one.least_price().total_cmp(&other.least_price()).then(one.is_resawn().cmp(&other.is_resawn())).then(a.cmp(b))
        }
        Some(_) | None => a.cmp(b),
    });
    order
}

/// Whether what comes out of a rack might cost less out of others: these do for all of it, and what room they have to spare and what they cost leave that open.
fn may_be_spared(job: &Job<'_>, way: &Way, cutting: &Cutting, at: usize) -> bool {
    let Some(rack) = job.racks.get(at).filter(|rack| !rack.sheets) else { return false };
    let by_hand = |entry: usize| {
        rack.entry(entry).is_some_and(|usable| job.design.shop.placed.iter().any(|placed| placed.board == usable.stuff.name))
    };
    let own = || cutting.boards.iter().filter(|board| rack.entry(board.entry).is_some());
    let pieces = || own().flat_map(|board| &board.pieces);
    if own().next().is_none() || rack.entries.iter().any(|usable| by_hand(usable.entry)) {
        return false;
    }
    let rows = job.list.rows.iter().filter(|row| pieces().any(|piece| row.parts.contains(&piece.part)));
    let others =
        || way.order.iter().filter(|other| **other != at).filter_map(|other| job.racks.get(*other)).filter(|other| other.id == rack.id);
    let mut serves = rows.map(|row| others().any(|other| other.serves(job.design, row)));
    if !serves.all(|is_served| is_served) {
        return false;
    }
    let area = |size: [f64; 2]| size[0] * size[1];
    let needed: f64 = pieces().map(|piece| piece.length * piece.width).sum();
    let spare: f64 = others()
        .flat_map(|other| cutting.boards.iter().filter_map(|board| Some((other.entry(board.entry)?, board))))
        .map(|(usable, board)| area(usable.area.size()) - board.pieces.iter().map(|piece| piece.length * piece.width).sum::<f64>())
        .sum();
    let price = others().filter(|other| other.measure() == rack.measure()).map(Rack::least_price).fold(f64::INFINITY, f64::min);
    let saved: f64 = own().filter_map(|board| rack.entry(board.entry)).map(|usable| rack.cost(usable)).sum();
    let more = (needed - spare).max(0.0);
    let costs = if more > 0.0 { more * price } else { 0.0 };
    if rack.is_resawn() { costs <= saved } else { costs < saved }
}
