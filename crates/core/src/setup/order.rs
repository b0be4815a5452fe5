//! The order of set-ups in which settings move least.
//!
//! Kinds of work follow each other as on the bench, and in each its cutters, for a cutter takes longest to change. Among the settings of one cutter the way through all
//! of them with the fewest moves of depth and fence is found by going through the sets of those already made (R. Bellman 1962; M. Held and R. M. Karp 1962), and from
//! cutter to cutter by where each may end.

use super::Setup;

/// More settings of one cutter than this keep the order of depths and fences: the sets grow with the power of their number.
const MOST: usize = 10;

/// A way through all settings of one cutter, and how many settings are moved on it.
#[derive(Clone)]
struct Way {
    moves: u32,
    through: Vec<usize>,
}

/// Puts set-ups in the order of the work, and there so that settings move least.
pub(super) fn least_moves(mut setups: Vec<Setup>) -> Vec<Setup> {
    setups.sort_by(|a, b| a.setting.order(&b.setting));
    let mut best: Vec<Way> = Vec::new();
    for group in by_cutter(&setups) {
        let ways = ways(&setups, &group);
        best = ends(&ways)
            .into_iter()
            .filter_map(|end| {
                let ending = ways.iter().filter(|way| way.through.last() == Some(&end));
                ending.flat_map(|way| after(&setups, &best, way)).reduce(fewer)
            })
            .collect();
    }
    let Some(order) = best.into_iter().reduce(fewer) else { return setups };
    let mut left: Vec<Option<Setup>> = setups.into_iter().map(Some).collect();
    order.through.into_iter().filter_map(|at| left.get_mut(at).and_then(Option::take)).collect()
}

/// The first where both move as much, so that the order is the same each time.
fn fewer(a: Way, b: Way) -> Way {
    if b.moves < a.moves { b } else { a }
}

/// Places of set-ups that share a cutter, which lie together when they are in order.
fn by_cutter(setups: &[Setup]) -> Vec<Vec<usize>> {
    let mut groups: Vec<Vec<usize>> = Vec::new();
    for (at, setup) in setups.iter().enumerate() {
        let shares = |group: &Vec<usize>| {
            group.last().and_then(|last| setups.get(*last)).is_some_and(|last| last.setting.shares_cutter(&setup.setting))
        };
        match groups.last_mut().filter(|group| shares(group)) {
            Some(group) => group.push(at),
            None => groups.push(vec![at]),
        }
    }
    groups
}

fn moves(setups: &[Setup], from: usize, to: usize) -> u32 {
    setups.get(from).zip(setups.get(to)).map_or(0, |(from, to)| to.setting.changes_from(&from.setting))
}

/// The last places of ways, each once.
fn ends(ways: &[Way]) -> Vec<usize> {
    let mut ends: Vec<usize> = ways.iter().filter_map(|way| way.through.last().copied()).collect();
    ends.sort_unstable();
    ends.dedup();
    ends
}

/// A way after each of those before it.
fn after(setups: &[Setup], before: &[Way], way: &Way) -> Vec<Way> {
    if before.is_empty() {
        return vec![way.clone()];
    }
    let joined = |first: &Way| {
        let between = first.through.last().zip(way.through.first()).map_or(0, |(from, to)| moves(setups, *from, *to));
        Way { moves: first.moves + between + way.moves, through: first.through.iter().chain(&way.through).copied().collect() }
    };
    before.iter().map(joined).collect()
}

/// The ways through a group with the fewest moves, one for each first and last of it.
fn ways(setups: &[Setup], group: &[usize]) -> Vec<Way> {
    if group.len() > MOST {
        let through = group.to_vec();
        return vec![Way { moves: through.windows(2).map(|pair| moves(setups, pair[0], pair[1])).sum(), through }];
    }
    group.iter().flat_map(|first| ways_from(setups, group, *first)).collect()
}

/// The ways through a group from its place `first` with the fewest moves, one for each last.
fn ways_from(setups: &[Setup], group: &[usize], first: usize) -> Vec<Way> {
    let bit = |place: usize| group.iter().position(|own| *own == place).map_or(0, |at| 1_usize << at);
    let all = (1_usize << group.len()) - 1;
    // For each set of those made, the best way to each last.
    let mut best: Vec<Vec<Way>> = vec![Vec::new(); all + 1];
    if let Some(start) = best.get_mut(bit(first)) {
        start.push(Way { moves: 0, through: vec![first] });
    }
    for made in 1..all {
        for way in best.get(made).cloned().unwrap_or_default() {
            for next in group.iter().copied().filter(|next| made & bit(*next) == 0) {
                let last = way.through.last().copied().unwrap_or(first);
                let longer =
                    Way { moves: way.moves + moves(setups, last, next), through: way.through.iter().copied().chain([next]).collect() };
                let Some(reached) = best.get_mut(made | bit(next)) else { continue };
                match reached.iter_mut().find(|known| known.through.last() == Some(&next)) {
                    Some(known) if longer.moves < known.moves => *known = longer,
                    Some(_) => {}
                    None => reached.push(longer),
                }
            }
        }
    }
    best.pop().unwrap_or_default()
}
