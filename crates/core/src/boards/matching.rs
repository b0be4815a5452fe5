//! What is to match: the strips of a part that is seen, and the parts of which the maker says so.

use casewright_cutting::boards::{Effort, Layout, lay};

use super::bench::{Bench, Held, OnTask, Pieces};
use super::rack::{Rack, Usable};
use super::{Asked, Marked};
use crate::design::Design;
use crate::design::pile::Good;

/// The sets of open pieces of some lines that are to come from one board, or from boards of one colour; each of two or more.
pub(super) fn sets(design: &Design, rack: &Rack<'_>, asked: &[Asked<'_>], wanted: &[usize]) -> Vec<Pieces> {
    let mut sets: Vec<Pieces> = Vec::new();
    for names in &design.shop.matched {
        let of_line = |line: &usize| {
            let asked = &asked.get(*line)?.line;
            let is_named = |nth: &usize| asked.names(*nth).iter().any(|name| names.contains(name));
            Some((*line, asked.open.iter().copied().filter(is_named).collect::<Vec<_>>()))
        };
        sets.push(wanted.iter().filter_map(of_line).filter(|(_, nths)| !nths.is_empty()).collect());
    }
    // Where colours are not told there is nothing to choose by.
    if rack.entries.iter().any(|usable| !usable.stuff.colour.is_empty()) {
        for line in wanted {
            let Some(asked) = asked.get(*line).filter(|asked| asked.line.shows && asked.line.strips > 1) else { continue };
            let mut parts: Vec<(usize, Vec<usize>)> = Vec::new();
            for nth in
                asked.line.open.iter().copied().filter(|nth| !sets.iter().flatten().any(|(of, nths)| of == line && nths.contains(nth)))
            {
                let part = nth / asked.line.each();
                match parts.iter_mut().find(|(known, _)| *known == part) {
                    Some((_, nths)) => nths.push(nth),
                    None => parts.push((part, vec![nth])),
                }
            }
            sets.extend(parts.into_iter().map(|(_, nths)| vec![(*line, nths)]));
        }
    }
    sets.retain(|set| set.iter().map(|(_, nths)| nths.len()).sum::<usize>() > 1);
    sets
}

/// Rounds of search where only some boards are tried one after the other.
const QUICK: u64 = 1;
/// How many times boards are sought for a set, all sets and ways together; after that the first way that is found is taken.
const TRIES: usize = 12;

/// A way to lay a set.
struct Way {
    layout: Layout,
    on_task: Vec<OnTask>,
    boards: Vec<Marked>,
}

/// What the search for places of all sets has come to.
#[derive(Default)]
struct Search {
    tries: usize,
    best: Option<Found>,
}

/// Places for the sets: what stays on the boards then, what is open of each line, and the sets for which there is no place.
struct Found {
    held: Vec<Held>,
    open: Vec<Vec<usize>>,
    without: Vec<usize>,
}

impl Bench<'_, '_> {
    /// Lays each set of pieces that are to match on one board, else on boards of one colour, so that as many sets as can be have such places: where one takes what another
    /// has need of, it is laid on the next that does. What is worth knowing of those that have none.
    pub(super) fn lay_matched(&mut self, asked: &mut [Asked<'_>], sets: &[Pieces]) -> Vec<String> {
        let mut search = Search::default();
        self.seek(asked, sets, &mut Vec::new(), 0, &mut search);
        let Some(Found { held, open, without }) = search.best else { return Vec::new() };
        self.held = held;
        asked.iter_mut().zip(open).for_each(|(asked, open)| asked.line.open = open);
        let told = |set: &Pieces| {
            let mut marks: Vec<&str> = set.iter().filter_map(|(line, _)| Some(asked.get(*line)?.line.row.mark.as_str())).collect();
            marks.dedup();
            let (marks, name) = (marks.join(", "), &self.rack.name);
            format!("{marks} can't come from one board, nor from boards of one colour: there is no {name} that is large enough")
        };
        without.iter().filter_map(|set| sets.get(*set)).map(told).collect()
    }

    /// Lays the sets from one on; keeps what is best of all that is tried.
    fn seek(&mut self, asked: &mut [Asked<'_>], sets: &[Pieces], without: &mut Vec<usize>, next: usize, search: &mut Search) {
        let is_worse = |without: &[usize]| search.best.as_ref().is_some_and(|best| best.without.len() <= without.len());
        if is_worse(without) {
            return;
        }
        let Some(set) = sets.get(next) else {
            let open = asked.iter().map(|asked| asked.line.open.clone()).collect();
            search.best = Some(Found { held: self.held.clone(), open, without: without.clone() });
            return;
        };
        search.tries += 1;
        let before = (self.held.clone(), asked.iter().map(|asked| asked.line.open.clone()).collect::<Vec<_>>());
        for one_board in [true, false] {
            for way in self.ways(asked, set, one_board) {
                self.keep(&way.layout, &way.on_task, way.boards, asked, set);
                self.seek(asked, sets, without, next + 1, search);
                self.held.clone_from(&before.0);
                asked.iter_mut().zip(&before.1).for_each(|(asked, open)| asked.line.open.clone_from(open));
                let is_done = search.best.as_ref().is_some_and(|best| best.without.is_empty());
                if is_done || search.tries >= TRIES {
                    return;
                }
            }
        }
        without.push(next);
        self.seek(asked, sets, without, next + 1, search);
        without.pop();
    }

    /// The ways to lay a set on one board, or on boards of one colour; the cheapest first.
    fn ways(&self, asked: &[Asked<'_>], set: &Pieces, one_board: bool) -> Vec<Way> {
        let good = || self.rack.entries.iter().filter(|usable| usable.stuff.good != Good::Neither);
        let mut ways: Vec<Way> = if one_board {
            // Of several that are alike it is a whole one.
            let on = |usable: &Usable<'_>| self.laid(asked, set, &|other| u32::from(other.entry == usable.entry), usable.count() == 1);
            good().filter_map(on).collect()
        } else {
            let mut colours: Vec<&str> = good().map(|usable| usable.stuff.colour.as_str()).filter(|colour| !colour.is_empty()).collect();
            colours.sort_unstable();
            colours.dedup();
            let is_of = |usable: &Usable<'_>, colour: &str| usable.stuff.good != Good::Neither && usable.stuff.colour == colour;
            colours
                .into_iter()
                .filter_map(|colour| self.laid(asked, set, &|usable| if is_of(usable, colour) { u32::MAX } else { 0 }, true))
                .collect()
        };
        ways.sort_by(|a, b| a.layout.cost.total_cmp(&b.layout.cost));
        ways
    }

    /// A set laid on so many boards of each entry, where all of it has a place.
    fn laid(&self, asked: &[Asked<'_>], set: &Pieces, most: &dyn Fn(&Usable<'_>) -> u32, held: bool) -> Option<Way> {
        let bed = self.bed(most, held, false);
        let layout = lay(&self.task(bed.stock, asked, set), Effort::rounds(QUICK));
        layout.unplaced.is_empty().then_some(Way { layout, on_task: bed.on_task, boards: bed.boards })
    }
}
