//! Of the ways to cut the same pieces from a board, the one with the least to look out for, of these the one with the fewest settings of fence and stop, then with the
//! fewest cuts, and of these the one that leaves most in one piece.

use casewright_cutting::boards::{Cuts, Direction, Effort, Layout, Piece as Wanted, Stock, Task, lay};

use super::around::{Area, left_by, way};
use super::bench::Bench;
use super::beside::{Sound, beside_each_other, in_other_order};
use super::rack::Usable;
use super::slivers::without_slivers;
use super::steps::{runs, steps_on};
use super::{Cut, Marked, Piece};

/// Boards with more pieces stay as they were found.
const MOST: usize = 60;

/// How tidily a board is cut.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Tidiness {
    /// Whether the first cuts go the other way than the maker decided.
    against: bool,
    /// What there is to look out for; runs of cuts, each of which the saw is set for; and the cuts.
    counts: [usize; 3],
    /// How large the largest rest is, mm².
    rest: f64,
}

impl Tidiness {
    fn is_better_than(self, other: Tidiness) -> bool {
        let key = |one: Tidiness| (one.against, one.counts);
        key(self) < key(other) || key(self) == key(other) && self.rest > other.rest + 1.0
    }
}

/// Whether a board is looked at the other way round, along it and across it: what is laid from the near corner then lies at another.
type Turned = [bool; 2];

const WAYS_ROUND: [Turned; 4] = [[false, false], [true, false], [false, true], [true, true]];

impl Bench<'_, '_> {
    /// The same pieces on the same board, in the tidiest way that is found quickly; the first cut as the maker decides. A board on which something was laid
    /// by hand stays as it is; one that has flaws which may be hidden is cut as it was found.
    pub(super) fn tidied(&self, board: Marked) -> Marked {
        let Some(usable) = self.rack.entry(board.entry) else { return board };
        if board.pieces.iter().any(|piece| piece.by_hand) {
            return board;
        }
        if board.pieces.len() > MOST || usable.stuff.flaws.iter().any(|flaw| flaw.hides) {
            return self.in_few_cuts(usable, board).1;
        }
        let first = self.first_cut().map_or(vec![Direction::Across, Direction::Along], |first| vec![first]);
        // Without a flaw all ways round are one.
        let ways_round = if usable.stuff.flaws.is_empty() { &WAYS_ROUND[..1] } else { &WAYS_ROUND };
        let (mut best, mut pieces) = (self.in_few_cuts(usable, board.clone()), board);
        for (first, turned) in first.into_iter().flat_map(|first| ways_round.iter().map(move |turned| (first, *turned))) {
            for (stages, trimming) in self.ways_of_cutting() {
                // The other ways round are looked at quickly: what lies well one way does so the other.
                let rounds = u64::from(turned == WAYS_ROUND[0]);
                let layout = lay(&self.alone(usable, &pieces.pieces, (first, stages, trimming), turned), Effort::rounds(rounds));
                let Some(other) = self.rearranged(usable, &pieces, &layout, turned) else { continue };
                let tidier = self.in_few_cuts(usable, other.clone());
                if tidier.0.is_better_than(best.0) {
                    (best, pieces) = (tidier, other);
                }
            }
        }
        best.1
    }

    /// A board without the cuts that are not worth making, and with what is as long or wide beside each other, but where it would be cut less tidily so; and how tidily it is cut.
    fn in_few_cuts(&self, usable: &Usable<'_>, board: Marked) -> (Tidiness, Marked) {
        let with = self.tidiness(usable, &board);
        // Sheets are cut to size.
        if self.rack.sheets {
            return self.alike_together(usable, (with, board));
        }
        let areas: Vec<Area> = board.pieces.iter().map(|piece| Area::new([piece.x, piece.y], [piece.length, piece.width])).collect();
        let without = without_slivers(Bench::whole(usable, &areas), &usable.flaws(false), self.kerfs(), board.clone());
        let tidiness = self.tidiness(usable, &without);
        self.alike_together(usable, if with.is_better_than(tidiness) { (with, board) } else { (tidiness, without) })
    }

    /// Of pieces that lie beside each other the longest or widest first, so that those that are alike are cut at one setting, where that is tidier.
    fn alike_together(&self, usable: &Usable<'_>, mut best: (Tidiness, Marked)) -> (Tidiness, Marked) {
        let sound = Sound { whole: usable.area, flaws: &usable.flaws(false), kerfs: self.kerfs() };
        for along in 0..2 {
            for run in beside_each_other(&best.1, |_| true, along, sound.kerfs) {
                let size = |at: &usize| best.1.pieces.get(*at).map_or(0.0, |piece| [piece.length, piece.width][along]);
                let mut sorted = run.clone();
                sorted.sort_by(|a, b| size(b).total_cmp(&size(a)));
                let Some(other) = in_other_order(&best.1, &run, &sorted, along, &sound) else { continue };
                let tidiness = self.tidiness(usable, &other);
                if tidiness.is_better_than(best.0) {
                    best = (tidiness, other);
                }
            }
        }
        best
    }

    /// In how many stages the rack's boards may be cut, and whether single pieces are trimmed after that. With no cut left over for trimming, pieces of one length
    /// come off at one cut.
    fn ways_of_cutting(&self) -> Vec<(Option<u8>, bool)> {
        let most = if self.rack.sheets { self.design.timber.rough.sheets.stages() } else { Some(3) };
        match (self.first_cut(), most) {
            (Some(_), _) => vec![(Some(2), false)],
            (None, Some(2)) => vec![(Some(2), false), (Some(2), true)],
            (None, most) => vec![(Some(2), false), (Some(2), true), (most, false), (most, true)],
        }
    }

    fn tidiness(&self, usable: &Usable<'_>, board: &Marked) -> Tidiness {
        let areas: Vec<Area> = board.pieces.iter().map(|piece| Area::new([piece.x, piece.y], [piece.length, piece.width])).collect();
        let left = left_by(usable.area, &board.cuts, self.kerfs());
        let free = left.iter().filter(|left| !areas.iter().any(|piece| piece.common(left).is_some()));
        let steps = steps_on(self.design, self.rack, usable, board).1;
        let cautions = steps.iter().map(|step| step.cautions.len()).sum();
        let against = self.first_cut().is_some_and(|first| !goes_first(first, &board.cuts));
        Tidiness { against, counts: [cautions, runs(&steps).len(), board.cuts.len()], rest: free.map(Area::measure).fold(0.0, f64::max) }
    }

    /// What is worth knowing of a board that can't be cut first as the maker decided.
    pub(super) fn cut_otherwise(&self, board: &Marked) -> Option<String> {
        let first = self.first_cut().filter(|first| !goes_first(*first, &board.cuts))?;
        let word = match first {
            Direction::Across => "crosscut",
            Direction::Along => "ripped",
        };
        let called = board.called(self.rack.entry(board.entry)?.stuff);
        Some(format!("{called}: what is laid on it does not come out of it where it is {word} first; cut it as is told, or lay it by hand"))
    }

    /// The board by itself, turned that way, each piece lying as it lies.
    fn alone(
        &self,
        usable: &Usable<'_>,
        pieces: &[Piece],
        (first, stages, trimming): (Direction, Option<u8>, bool),
        turned: Turned,
    ) -> Task {
        let more = self.more();
        let piece = |(at, piece): (usize, &Piece)| Wanted {
            id: at.to_string(),
            length: piece.length + more[0],
            width: Some(piece.width + more[1]),
            count: 1,
            turn: false,
            value: None,
        };
        Task {
            kerf: self.least_kerf(),
            trim: self.edge(),
            stock: vec![turned_round(self.stock(usable, &usable.area, 1, 1.0, false), turned)],
            pieces: pieces.iter().enumerate().map(piece).collect(),
            cuts: Cuts::Guillotine,
            stages,
            first: Some(first),
            trimming,
        }
    }

    /// The board as a layout of it, turned that way, has it; none where something finds no place.
    fn rearranged(&self, usable: &Usable<'_>, board: &Marked, layout: &Layout, turned: Turned) -> Option<Marked> {
        let [used] = layout.used.as_slice() else { return None };
        let corner = usable.area.from.map(|at| at - self.edge());
        // Back to the way in which the board lies: what was measured from the far end of its good wood.
        let far = [0, 1].map(|way| usable.area.from[way] + usable.area.to[way]);
        let back = |way: usize, from: f64, size: f64| if turned[way] { far[way] - from - size } else { from };
        let placed = used.placed.iter().map(|placed| {
            let piece = board.pieces.get(placed.line)?;
            let (x, y) = (back(0, placed.x + corner[0], piece.length), back(1, placed.y + corner[1], piece.width));
            Some(Piece { x, y, ..piece.clone() })
        });
        let pieces: Vec<Piece> = placed.collect::<Option<_>>()?;
        let kerfs = self.kerfs().by_way();
        let cut = |cut: Cut| {
            let way = way(&cut);
            let (from, length) = (cut.from, cut.to - cut.from);
            let from = back(1 - way, from, length);
            Cut { at: back(way, cut.at, kerfs[way]), from, to: from + length, ..cut }
        };
        let cuts = self.cuts(used, corner, 0).map(cut).collect();
        (layout.unplaced.is_empty() && pieces.len() == board.pieces.len()).then_some(Marked { pieces, cuts, ..*board })
    }
}

/// A line of stock looked at the other way round.
fn turned_round(mut stock: Stock, turned: Turned) -> Stock {
    let width = stock.width.unwrap_or_default();
    for zone in &mut stock.defects {
        if turned[0] {
            zone.x = (stock.length - zone.x - zone.length).max(0.0);
        }
        if turned[1] {
            zone.y = (width - zone.y - zone.width.unwrap_or(width - zone.y)).max(0.0);
        }
    }
    stock
}

/// Whether all cuts of that direction come before the others.
fn goes_first(first: Direction, cuts: &[Cut]) -> bool {
    let of = |is_first: bool| cuts.iter().filter(move |cut| (cut.cut == first) == is_first).map(|cut| cut.stage);
    match (of(true).max(), of(false).min()) {
        (Some(last), Some(next)) => last < next,
        (None, _) | (_, None) => true,
    }
}
