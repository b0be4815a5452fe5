//! Shelves laid a little higher or lower, where that brings what is heavy nearer to where it is easily lifted.

use super::case::Case;
use super::moves::levels_of;
use super::{ANY_PILES, Arrangement, EASY_PILES, Effort, Piles, ShelvesMay, arranged, lifting};
use crate::derive;
use crate::design::Design;
use crate::design::edit::{Edit, apply};

/// Steps that are spent on shelves laid one way.
const STEPS_A_LOOK: u64 = 20_000;

/// How often everything is looked through: each time the best of all ways is taken.
const ROUNDS: usize = 4;

/// The case with its shelves laid anew so that no fewer things have a place, stacked no higher and no deeper, and what is heavy stands nearer to
/// between knee and elbow; as it is where none is better. Shelves are moved up or down together, all of a bay from one of them on.
pub fn eased(design: Design, there: Arrangement) -> (Design, Arrangement) {
    let (mut best, mut model) = match derive(&design) {
        Ok(model) => ((design, there), model),
        Err(_) => return (design, there),
    };
    let piles = as_stacked(&best.1);
    for _ in 0..ROUNDS {
        let (design, there) = &best;
        let strain = lifting::strain_of(design, &there.rows);
        let case = Case::of(design, &model, ShelvesMay::Move);
        let looked = |levels: &Vec<Vec<u32>>| {
            let there = arranged(&case.with_shelves(levels), ShelvesMay::Stay, (piles, Effort::steps(STEPS_A_LOOK))).ok()?;
            (there.placed >= best.1.placed).then(|| lifting::strain_of(design, &there.rows))
        };
        let lie = levels_of(design);
        let ways = shifted(&case, &lie).filter_map(|levels| Some((looked(&levels)?, levels)));
        let Some((_, levels)) = ways.min_by(|a, b| a.0.total_cmp(&b.0)).filter(|(found, _)| *found < strain * 0.99) else { break };
        let mut laid = design.clone();
        apply(&mut laid, &Edit::LayShelves(levels));
        let Ok(anew) = derive(&laid) else { break };
        let case = Case::of(&laid, &anew, ShelvesMay::Stay);
        let Ok(there) = arranged(&case, ShelvesMay::Stay, (piles, Effort::steps(super::STEPS / 8))) else { break };
        if there.placed < best.1.placed || lifting::strain_of(&laid, &there.rows) >= strain {
            break;
        }
        let most = best.1.most;
        best = (laid, Arrangement { most, ..there });
        model = anew;
    }
    best
}

/// The least piles that take what is stacked so.
fn as_stacked(there: &Arrangement) -> Piles {
    let stacks = || there.rows.iter().flat_map(|row| &row.stacks);
    let within = |piles: &Piles| stacks().all(|stack| stack.on.is_none() && stack.pile.high <= piles.high && stack.pile.deep <= piles.deep);
    EASY_PILES.into_iter().find(within).unwrap_or(ANY_PILES)
}

/// Every way to lay the shelves of one bay from one of them on so many levels higher, or up to one of them lower.
fn shifted<'a>(case: &'a Case<'_>, levels: &'a [Vec<u32>]) -> impl Iterator<Item = Vec<Vec<u32>>> + 'a {
    let bays = levels.iter().enumerate().filter_map(|(bay, of)| Some((bay, of, case.bays.get(bay)?.as_ref()?)));
    bays.flat_map(move |(bay, of, there)| {
        let least = there.levels.steps(0.0).max(1);
        let moved = move |is_moved: &dyn Fn(u32) -> bool, by: i64| -> Option<Vec<Vec<u32>>> {
            let mut all = levels.to_vec();
            for level in all.get_mut(bay)?.iter_mut().filter(|level| is_moved(**level)) {
                *level = u32::try_from(i64::from(*level) + by).ok().filter(|level| (1..=there.levels.count).contains(level))?;
            }
            Some(all)
        };
        of.iter().flat_map(move |from| {
            let under = of.iter().filter(|level| *level < from).max().copied();
            let over = of.iter().filter(|level| *level > from).min().copied();
            let up = (1..=there.levels.count).filter_map(move |by| moved(&|level| level >= *from, i64::from(by)));
            // Down no farther than to the next shelf.
            let down = from.saturating_sub(under.map_or(1, |under| under + least));
            let down = (1..=down).filter_map(move |by| moved(&|level| level == *from, -i64::from(by)));
            let alone = over.map_or(0, |over| (over - least).saturating_sub(*from));
            let alone = (1..=alone).filter_map(move |by| moved(&|level| level == *from, i64::from(by)));
            up.chain(down).chain(alone)
        })
    })
}
