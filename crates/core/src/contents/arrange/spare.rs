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
    let kg: f64 = upper.iter().map(|of| mass(of.kind) * f64::from(of.count)).sum();
    let too_high = |of: &Piled| {
        let kind = design.contents.get(of.kind);
        kind.is_some_and(|kind| bay.base(between) > of.pile.no_higher_than(kind, &design.hand_room))
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
    for (at, &Piled { kind, count, pile, on }) in stood.iter().enumerate() {
        let Some(of) = design.contents.get(kind) else { continue };
        // What stands on another kind goes up as it is, and leaves that as it is.
        if on.is_some() {
            upper.push(Piled::on_shelf(kind, count, pile));
            continue;
        }
        if stood.get(at + 1).is_some_and(|next| next.on.is_some()) {
            lower.push(Piled::on_shelf(kind, count, pile));
            continue;
        }
        let deep = pile.deep.max(1);
        let high = count.div_ceil(deep);
        let below = high.div_ceil(2);
        let pile_of = |high: u32| Pile::of(of, &design.hand_room, pile.stance, high, deep);
        lower.push(Piled::on_shelf(kind, count.min(below * deep), pile_of(below)));
        if count > below * deep {
            upper.push(Piled::on_shelf(kind, count - below * deep, pile_of(high - below)));
        }
    }
    (lower, upper)
}

/// The height that what stands on a level asks for, mm.
fn height(stood: &[Piled]) -> f64 {
    let mut top = 0.0;
    let over = stood.iter().map(|of| {
        let under = of.on.map_or(0.0, |sunk| top - sunk);
        top = under + of.pile.size.y;
        under + of.pile.needs().y
    });
    over.fold(0.0, f64::max)
}
