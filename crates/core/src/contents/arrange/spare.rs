//! Shelves that are left over: under what else would stand on other things, or empty over all else.

use super::question::Level;
use crate::contents::Pile;
use crate::contents::fill::Piled;
use crate::design::Design;
use crate::model::{Bay, ShelfLevels};

/// Lays so many more shelves in a bay where there is room for them: first so that things that would be stacked stand on two shelves, then
/// empty, over what leaves room for them, the highest first. Levels are teeth, 0 for the floor.
pub(super) fn lay(design: &Design, bay: &Bay, teeth: &ShelfLevels, levels: &mut Vec<Level>, mut spare: u32) {
    while spare > 0 && (0..levels.len()).any(|at| parted(design, bay, teeth, levels, at)) {
        spare -= 1;
    }
    for _ in 0..spare {
        if levels.is_empty() {
            levels.push((1, Vec::new()));
        } else if !(0..levels.len()).rev().any(|at| covered(bay, teeth, levels, at)) {
            return;
        }
    }
}

/// Lays an empty shelf over what stands on a level, as low as that lets it; whether there was room.
fn covered(bay: &Bay, teeth: &ShelfLevels, levels: &mut Vec<Level>, at: usize) -> bool {
    let (level, stood) = &levels[at];
    let next = over(bay, teeth, *level, height(stood));
    let fits = match levels.get(at + 1) {
        Some((above, _)) => next + teeth.steps(0.0) <= *above,
        None => next <= teeth.count,
    };
    if fits {
        levels.insert(at + 1, (next, Vec::new()));
    }
    fits
}

/// Puts a shelf between what stands on a level and what is stacked on that, where both fit; whether it did.
fn parted(design: &Design, bay: &Bay, teeth: &ShelfLevels, levels: &mut Vec<Level>, at: usize) -> bool {
    let (level, stood) = &levels[at];
    let (lower, upper) = halves(design, stood);
    if upper.is_empty() {
        return false;
    }
    let between = over(bay, teeth, *level, height(&lower));
    let fits = match levels.get(at + 1) {
        Some((next, _)) => over(bay, teeth, between, height(&upper)) <= *next,
        None => between <= teeth.count && teeth.top(between) + height(&upper) <= bay.space.max.y + 1e-6,
    };
    let reach = design.hand_room.heavy_up_to.to_mm();
    let heavy = |(kind, ..): &Piled| design.contents.get(*kind).is_some_and(|kind| kind.mass > design.hand_room.heavy);
    if !fits || (teeth.top(between) > reach && upper.iter().any(heavy)) {
        return false;
    }
    levels[at].1 = lower;
    levels.insert(at + 1, (between, upper));
    true
}

/// The lower and the upper half of what is stacked; what is not stays below.
fn halves(design: &Design, stood: &[Piled]) -> (Vec<Piled>, Vec<Piled>) {
    let (mut lower, mut upper) = (Vec::new(), Vec::new());
    for &(kind, count, pile) in stood {
        let Some(of) = design.contents.get(kind) else { continue };
        let deep = pile.deep.max(1);
        let high = count.div_ceil(deep);
        let below = high.div_ceil(2);
        let pile_of = |high: u32| Pile::of(of, &design.hand_room, pile.stance, high, deep);
        lower.push((kind, count.min(below * deep), pile_of(below)));
        if count > below * deep {
            upper.push((kind, count - below * deep, pile_of(high - below)));
        }
    }
    (lower, upper)
}

/// The height that what stands on a level asks for, mm.
fn height(stood: &[Piled]) -> f64 {
    stood.iter().map(|(_, _, pile)| pile.needs().y).fold(0.0, f64::max)
}

/// The lowest level for a shelf so that so much is free over another.
fn over(bay: &Bay, teeth: &ShelfLevels, level: u32, clear: f64) -> u32 {
    if level == 0 && bay.has_floor { teeth.over(bay.space.min.y, clear) } else { level + teeth.steps(clear) }
}
