//! Shelves that are left over: under what else would stand on other things, or empty over all else.

use super::case::Bay;
use super::question::Level;
use crate::contents::Pile;
use crate::contents::fill::Piled;
use crate::design::Design;

/// Lays so many more shelves in a bay where there is room for them: first so that things that would be stacked stand on two shelves, then
/// empty, over what leaves room for them, the highest first. Levels are teeth, 0 for the floor.
pub(super) fn lay(design: &Design, bay: &Bay, levels: &mut Vec<Level>, mut spare: u32) {
    while spare > 0 && (0..levels.len()).any(|at| parted(design, bay, levels, at)) {
        spare -= 1;
    }
    for _ in 0..spare {
        if levels.is_empty() {
            levels.push((1, Vec::new()));
        } else if !(0..levels.len()).rev().any(|at| covered(bay, levels, at)) {
            return;
        }
    }
}

/// Lays an empty shelf over what stands on a level, as low as that lets it; whether there was room.
fn covered(bay: &Bay, levels: &mut Vec<Level>, at: usize) -> bool {
    let (level, stood) = &levels[at];
    let next = bay.over(*level, height(stood));
    let fits = match levels.get(at + 1) {
        Some((above, _)) => bay.over(next, 0.0) <= *above,
        None => next <= bay.levels.count,
    };
    if fits {
        levels.insert(at + 1, (next, Vec::new()));
    }
    fits
}

/// Puts a shelf between what stands on a level and what is stacked on that, where both fit and it bears that; whether it did.
fn parted(design: &Design, bay: &Bay, levels: &mut Vec<Level>, at: usize) -> bool {
    let (level, stood) = &levels[at];
    let (lower, upper) = halves(design, stood);
    if upper.is_empty() {
        return false;
    }
    let between = bay.over(*level, height(&lower));
    let fits = match levels.get(at + 1) {
        Some((next, _)) => bay.over(between, height(&upper)) <= *next,
        None => bay.under_top(between, height(&upper)),
    };
    let mass = |kind: usize| design.contents.get(kind).map_or(0.0, |kind| kind.mass);
    let kg: f64 = upper.iter().map(|(kind, count, _)| mass(*kind) * f64::from(*count)).sum();
    let too_high = |(kind, _, pile): &Piled| {
        let of = design.contents.get(*kind);
        of.is_some_and(|kind| bay.base(between) > pile.no_higher_than(kind, &design.hand_room))
    };
    if !fits || kg > bay.bears(between) || upper.iter().any(too_high) {
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
