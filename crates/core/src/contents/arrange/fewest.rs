//! As few shelves moved as give as much a place: whoever keeps things in a case lifts everything off each of them.

use super::case::Case;
use super::moves::levels_of;
use super::{ANY_PILES, Arrangement, Effort, ShelvesMay, arrange, arranged};
use crate::derive;
use crate::design::Design;
use crate::design::edit::{Edit, apply};

/// The levels of the shelves of each bay, in the order of the design.
type Levels = Vec<Vec<u32>>;

/// Steps that are spent on seeing whether shelves laid so would do, before the case is worked out with them.
const STEPS_A_LOOK: u64 = 20_000;

/// So many ways to lay two shelves elsewhere are looked at.
const PAIRS: usize = 4_000;

/// The case as `found`, or one that places no less with fewer shelves moved from where they lie in `design`.
///
/// Every way to move one shelf is looked at, then the ways to move two of one bay, the nearest first; what more must be moved is left where it is as
/// far as it can be: all of a bay, and then one after the other.
pub(super) fn fewest(design: &Design, found: (Design, Arrangement), effort: Effort<'_>) -> (Design, Arrangement) {
    let Ok(model) = derive(design) else { return found };
    let few = Few {
        was: levels_of(design),
        case: Case::of(design, &model, ShelvesMay::Move),
        placed: found.1.placed,
        effort: Effort { steps: effort.steps / 8, ..effort },
    };
    let found = few.put_back(found);
    let moved = few.moved(&found.0);
    // To look at everything is worth its time where it ends with a place for all.
    if moved < 2 || !found.1.left.is_empty() {
        return found;
    }
    let of_two = (moved > 2).then(|| few.two_moved().take(PAIRS)).into_iter().flatten();
    few.one_moved().chain(of_two).find_map(|levels| few.would_do(&levels).then(|| few.laid(levels)).flatten()).unwrap_or(found)
}

/// What is asked of every way to lay the shelves.
struct Few<'a> {
    /// The shelves as they lie.
    was: Levels,
    case: Case<'a>,
    /// So many things must have a place.
    placed: u64,
    effort: Effort<'a>,
}

impl Few<'_> {
    /// How many shelves of a design with the same bays lie elsewhere.
    fn moved(&self, design: &Design) -> usize {
        let pairs = |(was, is): (&Vec<u32>, &Vec<u32>)| was.iter().zip(is).filter(|(was, is)| was != is).count();
        self.was.iter().zip(&levels_of(design)).map(pairs).sum()
    }

    /// The case with its shelves laid so, where that places enough.
    fn laid(&self, levels: Levels) -> Option<(Design, Arrangement)> {
        if !self.goes(&levels) {
            return None;
        }
        let mut laid = self.case.design.clone();
        apply(&mut laid, &Edit::LayShelves(levels));
        let model = derive(&laid).ok()?;
        let there = arrange(&laid, &model, ShelvesMay::Stay, self.effort).ok()?;
        (there.placed >= self.placed).then_some((laid, there))
    }

    /// Whether no two shelves of a bay lie on one level, or nearer than a shelf is thick.
    fn goes(&self, levels: &Levels) -> bool {
        levels.iter().zip(&self.case.bays).all(|(of, bay)| {
            let least = bay.as_ref().map_or(1, |bay| bay.levels.steps(0.0).max(1));
            let mut sorted = of.clone();
            sorted.sort_unstable();
            sorted.windows(2).all(|pair| pair[1] - pair[0] >= least)
        })
    }

    /// Whether enough would have a place with the shelves laid so, if each bore what it bears now.
    fn would_do(&self, levels: &Levels) -> bool {
        let steps = self.effort.steps.min(STEPS_A_LOOK);
        let case = self.case.with_shelves(levels);
        let there = arranged(&case, ShelvesMay::Stay, (ANY_PILES, Effort { steps, ..self.effort }));
        there.is_ok_and(|there| there.placed >= self.placed)
    }

    /// Shelves laid back where that leaves enough a place.
    fn put_back(&self, mut found: (Design, Arrangement)) -> (Design, Arrangement) {
        let shelves = self.was.iter().enumerate().flat_map(|(bay, of)| (0..of.len()).map(move |shelf| (bay, Some(shelf))));
        for (bay, shelf) in (0..self.was.len()).map(|bay| (bay, None)).chain(shelves) {
            let mut back = levels_of(&found.0);
            let (Some(old), Some(now)) = (self.was.get(bay), back.get_mut(bay)) else { continue };
            if now.len() != old.len() || now == old {
                continue;
            }
            match shelf {
                None => now.clone_from(old),
                Some(shelf) if now[shelf] != old[shelf] => now[shelf] = old[shelf],
                Some(_) => continue,
            }
            if let Some(fewer) = self.laid(back) {
                found = fewer;
            }
        }
        found
    }

    /// Every level that a shelf may have between its neighbours, but its own, the nearest first.
    fn elsewhere(&self, levels: &Levels, bay: usize, shelf: usize) -> Vec<u32> {
        let (Some(of), Some(Some(there))) = (levels.get(bay), self.case.bays.get(bay)) else { return Vec::new() };
        let now = of[shelf];
        let least = there.levels.steps(0.0).max(1);
        let below = of.iter().filter(|level| **level < now).max().map_or(1, |level| level + least);
        let above = of.iter().filter(|level| **level > now).min().map_or(there.levels.count, |level| level.saturating_sub(least));
        let mut all: Vec<u32> = (below..=above).filter(|level| *level != now).collect();
        all.sort_by_key(|level| (level.abs_diff(now), *level));
        all
    }

    /// The shelves with one of a bay elsewhere, from those given on.
    fn with_one(&self, levels: Levels, bay: usize, shelf: usize) -> impl Iterator<Item = Levels> {
        self.elsewhere(&levels, bay, shelf).into_iter().map(move |level| {
            let mut levels = levels.clone();
            levels[bay][shelf] = level;
            levels
        })
    }

    fn shelves(&self) -> impl Iterator<Item = (usize, usize)> {
        self.was.iter().enumerate().flat_map(|(bay, of)| (0..of.len()).map(move |shelf| (bay, shelf)))
    }

    /// Every way to lay one shelf elsewhere.
    fn one_moved(&self) -> impl Iterator<Item = Levels> {
        self.shelves().flat_map(|(bay, shelf)| self.with_one(self.was.clone(), bay, shelf))
    }

    /// Every way to lay two shelves of one bay elsewhere.
    fn two_moved(&self) -> impl Iterator<Item = Levels> {
        let pairs = self.shelves().flat_map(|(bay, first)| (first + 1..self.was[bay].len()).map(move |second| (bay, first, second)));
        pairs.flat_map(move |(bay, first, second)| {
            self.with_one(self.was.clone(), bay, first).flat_map(move |levels| self.with_one(levels, bay, second))
        })
    }
}
