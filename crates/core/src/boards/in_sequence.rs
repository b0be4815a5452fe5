//! Parts of which the figure is to go on from each to the next lie beside each other on one sheet, where that takes no more of them; else from sheet to sheet in the order in which they stand; and
//! where neither can be, it is told.

use casewright_cutting::boards::{Cuts, Direction, Effort, Layout, Piece as Wanted, Task, lay};

use super::around::{Area, way};
use super::as_they_stand::may_move;
use super::bench::Bench;
use super::beside::beside_each_other;
use super::rack::{Rack, Usable};
use super::{Cut, Cutting, Marked, Piece};
use crate::cutlist::facing;
use crate::design::{Design, Kerfs, Veneered};
use crate::model::{Model, PartId};

/// Rounds of search for sheets on which parts lie beside each other.
const ROUNDS: u64 = 4;
/// So many rows are tried one after the other where not all of them can lie so.
const MOST: usize = 6;
/// Sizes that differ by less are one, mm.
const NEAR: f64 = 1e-3;
/// Costs that differ by less are one.
const AS_GOOD: f64 = 1e-6;

/// Parts in a row, in the order in which they stand.
type Standing<'r> = &'r [PartId];

/// Lays the rows beside each other where that takes no more sheets and costs no more, exchanges equal sheets where rows then follow from sheet to sheet, and tells which rows still do not. What was
/// placed by hand or is to come from one board with others stays, and all on the sheets of its kind.
pub(super) fn in_sequence(design: &Design, model: &Model, racks: &[Rack<'_>], rows: &[Vec<PartId>], cutting: &mut Cutting) {
    // Veneer that is glued on here goes on by its leaves, however the sheets lie.
    let of_sheet = |part: &PartId| match facing(design, model.part(*part)).veneer {
        Veneered::No => true,
        Veneered::Bought | Veneered::Sawn => false,
    };
    let is_cut = |boards: &[Marked], part: &PartId| boards.iter().flat_map(|board| &board.pieces).any(|piece| is_it(piece, *part));
    let rows: Vec<Standing<'_>> = rows.iter().map(Vec::as_slice).filter(|row| row.iter().all(of_sheet)).collect();
    let is_held = |piece: &Piece| {
        piece.by_hand || design.shop.matched.iter().flatten().any(|name| piece.parts().any(|part| model.part(part).name == *name))
    };
    for (at, rack) in racks.iter().enumerate().filter(|(_, rack)| rack.sheets) {
        let (mut own, others): (Vec<Marked>, Vec<Marked>) =
            cutting.boards.iter().cloned().partition(|board| rack.entry(board.entry).is_some());
        let rows: Vec<Standing<'_>> = rows.iter().copied().filter(|row| row.iter().all(|part| is_cut(&own, part))).collect();
        if rows.is_empty() || own.iter().flat_map(|board| &board.pieces).any(is_held) {
            continue;
        }
        let bench = Bench::new(design, rack, at);
        if let Some(boards) = beside(&bench, model, &rows, &own) {
            own = boards;
            recount(rack, &own, cutting);
        }
        exchange(&rows, &mut own);
        cutting.boards = others.into_iter().chain(own).collect();
        cutting.boards.sort_by_key(|board| (board.entry, board.number));
    }
    let apart = rows.iter().filter(|row| row.iter().all(|part| is_cut(&cutting.boards, part)) && !follow(&cutting.boards, row));
    let told = apart.map(|row| {
        let marks: Vec<&str> = row.iter().map(|part| model.part(*part).mark.as_str()).collect();
        format!(
            "{} stand side by side and do not follow each other on these sheets: the figure does not go on from each to the next; where that is worth more sheet, lay them by hand",
            marks.join(", ")
        )
    });
    let told: Vec<String> = told.collect();
    cutting.told.extend(told);
}

fn is_it(piece: &Piece, part: PartId) -> bool {
    piece.piece == 1 && piece.part == part
}

/// Whether a row lies in its order, or against it, from sheet to sheet, along each and across.
fn follow(boards: &[Marked], row: Standing<'_>) -> bool {
    let mut places: Vec<(usize, f64, f64, usize)> = Vec::new();
    for (at, board) in boards.iter().enumerate() {
        let place = |piece: &Piece| row.iter().position(|part| is_it(piece, *part)).map(|nth| (at, piece.x, piece.y, nth));
        places.extend(board.pieces.iter().filter_map(place));
    }
    places.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)).then(a.2.total_cmp(&b.2)));
    places.is_sorted_by_key(|place| place.3) || places.iter().rev().is_sorted_by_key(|place| place.3)
}

/// Whether a row lies on one sheet, each a saw cut beside the next.
fn is_beside(boards: &[Marked], row: Standing<'_>, kerfs: Kerfs) -> bool {
    let on = |board: &Marked| {
        let runs = (0..2).flat_map(|along| beside_each_other(board, |piece| may_move(piece, row), along, kerfs));
        runs.filter(|run| run.len() == row.len()).count() > 0
    };
    boards.iter().any(on) && follow(boards, row)
}

/// Makes the group of a rack tell what its sheets are now.
fn recount(rack: &Rack<'_>, boards: &[Marked], cutting: &mut Cutting) {
    let Some(group) = cutting.groups.iter_mut().find(|group| group.name == rack.name) else { return };
    let of = || boards.iter().filter_map(|board| rack.entry(board.entry));
    (group.boards, group.cost) = (boards.len(), cost(rack, boards));
    group.without_price = of().filter(|usable| rack.is_without_price(usable)).count();
    if group.complete && !group.proven && group.cost > 0.0 {
        group.gap = (group.cost - group.bound).max(0.0) / group.cost;
    }
}

fn cost(rack: &Rack<'_>, boards: &[Marked]) -> f64 {
    boards.iter().filter_map(|board| rack.entry(board.entry)).map(|usable| rack.cost(usable)).sum()
}

/// Exchanges sheets that are equal among each other, where more rows follow from sheet to sheet then.
fn exchange(rows: &[Standing<'_>], boards: &mut Vec<Marked>) {
    boards.sort_by_key(|board| (board.entry, board.number));
    let count = |boards: &[Marked]| rows.iter().filter(|row| follow(boards, row)).count();
    let first = |board: &Marked| {
        let place = |(nth, row): (usize, &Standing<'_>)| {
            let at = row.iter().position(|part| board.pieces.iter().any(|piece| is_it(piece, *part)));
            at.map(|at| (nth, at))
        };
        rows.iter().enumerate().find_map(place).unwrap_or((usize::MAX, 0))
    };
    let mut entries: Vec<usize> = boards.iter().map(|board| board.entry).collect();
    entries.dedup();
    for entry in entries {
        let numbers: Vec<usize> = boards.iter().filter(|board| board.entry == entry).map(|board| board.number).collect();
        for backward in [false, true] {
            let (mut equal, mut other): (Vec<Marked>, Vec<Marked>) = boards.iter().cloned().partition(|board| board.entry == entry);
            equal.sort_by_key(first);
            if backward {
                equal.reverse();
            }
            equal.iter_mut().zip(&numbers).for_each(|(board, number)| board.number = *number);
            other.extend(equal);
            other.sort_by_key(|board| (board.entry, board.number));
            if count(&other) > count(boards) {
                *boards = other;
            }
        }
    }
}

/// The sheets with as many rows beside each other as can be; none where no more can be than are.
fn beside(bench: &Bench<'_, '_>, model: &Model, rows: &[Standing<'_>], own: &[Marked]) -> Option<Vec<Marked>> {
    // Where sheets differ by what may be hidden on them, they are chosen for that.
    if bench.rack.entries.iter().any(Usable::is_picked) {
        return None;
    }
    let (mut kept, apart): (Vec<Standing<'_>>, Vec<Standing<'_>>) =
        rows.iter().copied().partition(|row| is_beside(own, row, bench.kerfs()));
    let together =
        |kept: &[Standing<'_>], more: &[Standing<'_>], than: &[Marked]| Joined::of(bench, model, &[kept, more].concat(), than)?.laid(than);
    if apart.is_empty() {
        return None;
    }
    if let Some(boards) = together(&kept, &apart, own) {
        return Some(boards);
    }
    let mut best: Option<Vec<Marked>> = None;
    for row in apart.into_iter().take(MOST) {
        if let Some(boards) = together(&kept, &[row], best.as_deref().unwrap_or(own)) {
            kept.push(row);
            best = Some(boards);
        }
    }
    best
}

/// A row as one piece: what it is cut into, and whether these follow each other along (0) or across (1) it.
struct Run {
    whole: Piece,
    of: Vec<Piece>,
    along: usize,
}

/// What is laid: rows as one piece each, and all else by itself.
struct Joined<'j, 'b, 'd> {
    bench: &'j Bench<'b, 'd>,
    runs: Vec<Run>,
    single: Vec<Piece>,
    /// Whether what is of one mark may lie across.
    turn: Vec<bool>,
}

impl<'j, 'b, 'd> Joined<'j, 'b, 'd> {
    /// Of the pieces of some sheets; none where parts of a row are not equally long beside each other.
    fn of(bench: &'j Bench<'b, 'd>, model: &Model, rows: &[Standing<'_>], boards: &[Marked]) -> Option<Joined<'j, 'b, 'd>> {
        let pieces = || boards.iter().flat_map(|board| &board.pieces);
        let run = |row: &Standing<'_>| {
            let of: Vec<Piece> = row.iter().filter_map(|part| pieces().find(|piece| is_it(piece, *part))).cloned().collect();
            let first = of.first()?;
            // Grain runs up where its length does, and the next stands across it.
            let along = usize::from(model.part(first.part).pose.basis.x_axis.y.abs() > 0.5);
            let size = |piece: &Piece| [piece.length, piece.width];
            let alike = of.iter().all(|piece| !piece.turned && (size(piece)[1 - along] - size(first)[1 - along]).abs() < NEAR);
            let kerf = bench.kerfs().by_way()[along];
            let mut whole = size(first);
            whole[along] = of.iter().map(|piece| size(piece)[along] + kerf).sum::<f64>() - kerf;
            let whole = Piece { length: whole[0], width: whole[1], ..first.clone() };
            (alike && of.len() == row.len()).then_some(Run { whole, of, along })
        };
        let runs: Vec<Run> = rows.iter().map(run).collect::<Option<_>>()?;
        let in_run = |piece: &&Piece| runs.iter().any(|run| run.of.iter().any(|of| (of.part, of.piece) == (piece.part, piece.piece)));
        let single: Vec<Piece> = pieces().filter(|piece| !in_run(piece)).cloned().collect();
        let turn = single.iter().map(|piece| !model.timbers.has_grain(&model.part(piece.part).material)).collect();
        Some(Joined { bench, runs, single, turn })
    }

    /// The sheets on which all of it lies, no more of them and no dearer than some others.
    fn laid(&self, than: &[Marked]) -> Option<Vec<Marked>> {
        let stages = self.bench.design.timber.rough.sheets.stages();
        let firsts: &[Option<Direction>] =
            if stages.is_some() { &[None, Some(Direction::Across), Some(Direction::Along)] } else { &[None] };
        firsts.iter().find_map(|first| {
            let layout = lay(&self.task(*first, stages), Effort::rounds(ROUNDS));
            let boards = self.boards(&layout, stages)?;
            let rack = self.bench.rack;
            let is_no_more = boards.len() <= than.len() && cost(rack, &boards) <= cost(rack, than) + AS_GOOD;
            is_no_more.then_some(boards)
        })
    }

    fn task(&self, first: Option<Direction>, stages: Option<u8>) -> Task {
        let (bench, more) = (self.bench, self.bench.more());
        let wanted = |piece: &Piece, turn: bool| {
            let (length, width) = if piece.turned { (piece.width, piece.length) } else { (piece.length, piece.width) };
            Wanted { id: piece.mark.clone(), length: length + more[0], width: Some(width + more[1]), count: 1, turn, value: None }
        };
        let runs = self.runs.iter().map(|run| wanted(&run.whole, false));
        let single = self.single.iter().zip(&self.turn).map(|(piece, turn)| wanted(piece, *turn));
        let stock = |usable: &Usable<'_>| bench.stock(usable, &usable.area, usable.count(), bench.rack.cost(usable), false);
        Task {
            kerf: bench.least_kerf(),
            trim: bench.edge(),
            stock: bench.rack.entries.iter().map(stock).collect(),
            pieces: runs.chain(single).collect(),
            cuts: Cuts::Guillotine,
            stages,
            first,
            trimming: true,
        }
    }

    /// The sheets of a layout, with the rows cut apart; none where not all has a place, or where that takes more stages than there may be.
    fn boards(&self, layout: &Layout, stages: Option<u8>) -> Option<Vec<Marked>> {
        if !layout.unplaced.is_empty() {
            return None;
        }
        let mut boards: Vec<Marked> = Vec::new();
        for used in &layout.used {
            let usable = self.bench.rack.entries.get(used.line)?;
            let corner = usable.area.from.map(|at| at - self.bench.edge());
            let placed = used.placed.iter().map(|placed| {
                let piece =
                    self.runs.get(placed.line).map_or_else(|| self.single.get(placed.line - self.runs.len()), |run| Some(&run.whole))?;
                let (length, width) = if piece.turned == placed.turned { (piece.length, piece.width) } else { (piece.width, piece.length) };
                Some(Piece { x: placed.x + corner[0], y: placed.y + corner[1], length, width, turned: placed.turned, ..piece.clone() })
            });
            let number = boards.iter().filter(|board| board.entry == usable.entry).count() + 1;
            let pieces: Vec<Piece> = placed.collect::<Option<_>>()?;
            let whole = Marked { entry: usable.entry, number, pieces, cuts: self.bench.cuts(used, corner, 0).collect() };
            let tidy = self.bench.tidied(whole.clone());
            boards.push(self.cut_apart(tidy, stages).or_else(|| self.cut_apart(whole, stages))?);
        }
        Some(boards)
    }

    /// A sheet with its rows cut apart.
    fn cut_apart(&self, mut board: Marked, stages: Option<u8>) -> Option<Marked> {
        if let [only] = board.pieces.as_slice()
            && let Some(run) = self.runs.iter().find(|run| is_it(only, run.whole.part))
        {
            let area = Area::new([only.x, only.y], [only.length, only.width]);
            let whole = Bench::whole(self.bench.rack.entry(board.entry)?, &[area]);
            board.cuts = frees_alone(&area, whole, self.bench.kerfs(), run.along);
        }
        let mut apart = Marked { pieces: Vec::new(), ..board.clone() };
        for piece in &board.pieces {
            let Some(run) = self.runs.iter().find(|run| is_it(piece, run.whole.part)) else {
                apart.pieces.push(piece.clone());
                continue;
            };
            let area = Area::new([piece.x, piece.y], [piece.length, piece.width]);
            let stage = stage_after(&area, &board.cuts, self.bench.kerfs(), run.along);
            if stages.is_some_and(|most| stage > u32::from(most)) {
                return None;
            }
            let mut from = area.from;
            for (nth, one) in run.of.iter().enumerate() {
                let size = [one.length, one.width];
                apart.pieces.push(Piece { x: from[0], y: from[1], ..one.clone() });
                from[run.along] += size[run.along];
                if nth + 1 < run.of.len() {
                    let cut = if run.along == 0 { Direction::Across } else { Direction::Along };
                    apart.cuts.push(Cut { stage, cut, at: from[run.along], from: area.from[1 - run.along], to: area.to[1 - run.along] });
                }
                from[run.along] += self.bench.kerfs().by_way()[run.along];
            }
        }
        Some(apart)
    }
}

/// The cuts that free what lies alone on a sheet: those across the way in which its pieces follow each other first, so that it is cut apart with the others.
fn frees_alone(area: &Area, whole: Area, kerfs: Kerfs, along: usize) -> Vec<Cut> {
    let (mut left, mut cuts) = (whole, Vec::new());
    for at in [1 - along, along] {
        let cut = if at == 0 { Direction::Across } else { Direction::Along };
        let stage = cuts.last().map_or(1, |last: &Cut| if way(last) == at { last.stage } else { last.stage + 1 });
        let through = |at_mm: f64, left: &Area| Cut { stage, cut, at: at_mm, from: left.from[1 - at], to: left.to[1 - at] };
        if area.from[at] > left.from[at] + NEAR {
            cuts.push(through(area.from[at] - kerfs.by_way()[at], &left));
            left.from[at] = area.from[at];
        }
        if area.to[at] < left.to[at] - NEAR {
            cuts.push(through(area.to[at], &left));
            left.to[at] = area.to[at];
        }
    }
    cuts
}

/// The stage of cuts across a way that go through what some cuts freed: that of the last of these where it goes the same way, else the next.
fn stage_after(area: &Area, cuts: &[Cut], kerfs: Kerfs, along: usize) -> u32 {
    let frees = |cut: &&Cut| {
        let at = way(cut);
        let over = cut.from <= area.from[1 - at] + NEAR && cut.to >= area.to[1 - at] - NEAR;
        let ends = (cut.at - area.to[at]).abs() < NEAR || (cut.at + kerfs.by_way()[at] - area.from[at]).abs() < NEAR;
        over && ends
    };
    let last = cuts.iter().filter(frees).max_by_key(|cut| cut.stage);
    last.map_or(1, |cut| if way(cut) == along { cut.stage } else { cut.stage + 1 })
}
