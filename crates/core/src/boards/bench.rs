//! The boards of one rack with what stays on them where it is, and the rest laid around that.

use casewright_cutting::boards::{Cuts, Direction, Effort, Layout, Piece as Wanted, Reason, Stock, Task, Used, lay};

use super::around::{Area, Around, around};
use super::lines::Line;
use super::rack::{Rack, Usable};
use super::{Asked, Cut, Cutting, Group, Marked, Piece, matching};
use crate::cutlist::Row;
use crate::design::pile::Good;
use crate::design::{Design, FirstCut, Kerfs};
use crate::length::trimmed_to;

/// The boards of a rack.
pub(super) struct Bench<'b, 'd> {
    pub rack: &'b Rack<'d>,
    /// Its place among all of them, the thinnest boards first.
    at: usize,
    pub(super) design: &'d Design,
    /// Boards on which something stays where it is.
    pub(super) held: Vec<Held>,
}

/// A board on which something stays where it is.
#[derive(Clone)]
pub(super) struct Held {
    pub entry: usize,
    pub number: usize,
    pub pieces: Vec<(Area, Piece)>,
}

/// A line of stock of the task: what it stands for.
#[derive(Clone)]
pub(super) struct OnTask {
    entry: usize,
    /// Which of those alike, where that is settled.
    number: Option<usize>,
    /// Where the task's corner lies on the board, mm.
    corner: [f64; 2],
    /// After how many cuts it is there.
    stage: u32,
}

/// What pieces are laid on.
pub(super) struct Bed {
    pub(super) stock: Vec<Stock>,
    pub(super) on_task: Vec<OnTask>,
    /// The boards on which something stays, with what stays.
    pub(super) boards: Vec<Marked>,
    /// What these cost.
    paid: f64,
}

/// Pieces of some lines: which line, and which of its pieces.
pub(super) type Pieces = Vec<(usize, Vec<usize>)>;

/// What is open of some lines.
fn open(asked: &[Asked<'_>], lines: &[usize]) -> Pieces {
    lines.iter().filter_map(|line| Some((*line, asked.get(*line)?.line.open.clone()))).filter(|(_, open)| !open.is_empty()).collect()
}

impl<'b, 'd> Bench<'b, 'd> {
    pub fn new(design: &'d Design, rack: &'b Rack<'d>, at: usize) -> Bench<'b, 'd> {
        Bench { rack, at, design, held: Vec::new() }
    }

    /// Whether nothing stays on any of its boards.
    pub fn is_bare(&self) -> bool {
        self.held.is_empty()
    }

    /// What the saws take that cut its boards up.
    pub(super) fn kerfs(&self) -> Kerfs {
        self.design.timber.kerfs(self.rack.sheets)
    }

    /// The kerf of the solver's task, mm: that of the saw that takes least.
    pub(super) fn least_kerf(&self) -> f64 {
        let Kerfs { crosscut, rip } = self.kerfs();
        crosscut.min(rip)
    }

    /// What the saws take besides, along the board and across it, mm. Boards and pieces are larger by it in the solver's task, which has one kerf: so n pieces in a row
    /// take n − 1 cuts of their own saw.
    pub(super) fn more(&self) -> [f64; 2] {
        self.kerfs().by_way().map(|kerf| kerf - self.least_kerf())
    }

    /// A line of stock of the solver's task: an area of a board, so many times.
    pub(super) fn stock(&self, usable: &Usable<'_>, area: &Area, count: u32, cost: f64, hides: bool) -> Stock {
        let [long, wide] = self.more();
        let mut stock = usable.stock(area, count, cost, self.edge(), hides);
        stock.length += long;
        stock.width = stock.width.map(|width| width + wide);
        stock
    }

    /// The cuts of the solver on the board itself, on which the task's corner lies there, after so many stages.
    pub(super) fn cuts<'u>(&self, used: &'u Used, corner: [f64; 2], stage: u32) -> impl Iterator<Item = Cut> + 'u {
        let more = self.more();
        used.cuts.iter().map(move |cut| {
            let way = super::around::way(cut);
            // A wider saw goes in farther from what lies behind it, and what it cuts through ends before its own.
            let (at, along) = (corner[way] - more[way], corner[1 - way]);
            Cut { stage: cut.stage + stage, at: cut.at + at, from: cut.from + along, to: cut.to + along - more[1 - way], ..*cut }
        })
    }

    /// Which way boards are cut first, where the maker has decided that.
    pub(super) fn first_cut(&self) -> Option<Direction> {
        match self.design.timber.rough.first {
            FirstCut::Crosscut if !self.rack.sheets => Some(Direction::Across),
            FirstCut::Rip if !self.rack.sheets => Some(Direction::Along),
            FirstCut::Either | FirstCut::Crosscut | FirstCut::Rip => None,
        }
    }

    pub(super) fn edge(&self) -> f64 {
        self.design.timber.rough.edge.to_mm()
    }

    /// What is cut up of a board: what its ends and edges leave, and what pieces take of these.
    pub(super) fn whole(usable: &Usable<'_>, pieces: &[Area]) -> Area {
        pieces.iter().fold(usable.area, |all, piece| all.with(piece))
    }

    /// The cuts about what stays on a board.
    fn around(&self, held: &Held) -> Option<Around> {
        let areas: Vec<Area> = held.pieces.iter().map(|(area, _)| *area).collect();
        around(Bench::whole(self.rack.entry(held.entry)?, &areas), &areas, self.kerfs())
    }

    /// What pieces can be laid on: so many boards of each entry that nothing stays on, and where `held` what is left of the others. What may be
    /// hidden counts as sound where `hides`.
    pub(super) fn bed(&self, most: &dyn Fn(&Usable<'_>) -> u32, held: bool, hides: bool) -> Bed {
        let mut bed = Bed { stock: Vec::new(), on_task: Vec::new(), boards: Vec::new(), paid: 0.0 };
        for one in &self.held {
            let Some(usable) = self.rack.entry(one.entry) else { continue };
            bed.paid += self.rack.cost(usable);
            // They were taken on only where they can be sawn apart.
            let around = self.around(one).unwrap_or_default();
            let stage = around.cuts.iter().map(|cut| cut.stage).max().unwrap_or(0);
            let large = |area: &&Area| area.size().into_iter().all(|size| size > SLIVER);
            for area in around.free.iter().filter(large).filter(|_| held && most(usable) > 0) {
                bed.stock.push(self.stock(usable, area, 1, 0.0, hides));
                let corner = area.from.map(|at| at - self.edge());
                bed.on_task.push(OnTask { entry: one.entry, number: Some(one.number), corner, stage });
            }
            let pieces = one.pieces.iter().map(|(_, piece)| piece.clone()).collect();
            bed.boards.push(Marked { entry: one.entry, number: one.number, pieces, cuts: around.cuts });
        }
        for usable in &self.rack.entries {
            let taken = self.held.iter().filter(|held| held.entry == usable.entry).count();
            let count = usable.count().saturating_sub(u32::try_from(taken).unwrap_or(u32::MAX)).min(most(usable));
            if count > 0 {
                bed.stock.push(self.stock(usable, &usable.area, count, self.rack.cost(usable), hides));
                let corner = usable.area.from.map(|at| at - self.edge());
                bed.on_task.push(OnTask { entry: usable.entry, number: None, corner, stage: 0 });
            }
        }
        bed
    }

    /// Lays the open pieces of some lines: first what is to match, then where the boards differ what is seen, then what the boards are for before what thinner ones
    /// left. What finds no place goes on to the next rack.
    pub fn lay(&mut self, asked: &mut [Asked<'_>], wanted: &[usize], effort: Effort<'_>, cutting: &mut Cutting) {
        let (rack, any) = (self.rack, |_: &Usable<'_>| u32::MAX);
        let sets = matching::sets(self.design, rack, asked, wanted);
        let differ = rack.entries.iter().any(Usable::is_picked);
        let of = |is: &dyn Fn(&Asked<'_>) -> bool| -> Vec<usize> {
            wanted.iter().copied().filter(|line| asked.get(*line).is_some_and(is)).collect()
        };
        let (seen, thin) = (of(&|asked| differ && asked.line.shows), of(&|asked| self.is_too_thick_for(asked.line.row)));
        let mixed = !thin.is_empty() && thin.len() < wanted.len();
        let left_by_thinner = open(asked, &thin);
        let are_left = thin.iter().any(|line| asked.get(*line).is_some_and(|asked| !asked.why.is_empty()));
        // What no layout can beat that is free to ignore all of this.
        let free = (!sets.is_empty() || differ || mixed).then(|| {
            let bed = self.bed(&any, true, true);
            lay(&self.task(bed.stock, asked, &open(asked, wanted)), few(effort)).bound + bed.paid
        });
        cutting.told.extend(self.lay_matched(asked, &sets));
        let sound = |usable: &Usable<'_>| if usable.stuff.good == Good::Neither { 0 } else { u32::MAX };
        self.lay_first(asked, &seen, (&sound, false), &format!("{} with a good face", rack.name), effort);
        let rest = wanted.iter().copied().filter(|line| !seen.contains(line));
        let (first, last): (Vec<usize>, Vec<usize>) = rest.partition(|line| mixed && !thin.contains(line));
        self.lay_first(asked, &first, (&any, differ), &rack.name, effort);
        let Bed { stock, on_task, mut boards, paid } = self.bed(&any, true, differ);
        let pieces = open(asked, &last);
        let layout = lay(&self.task(stock, asked, &pieces), effort);
        self.take(&layout, &on_task, asked, &pieces, &mut boards);
        tell_why(&layout, asked, &pieces, &rack.name);
        let boards: Vec<Marked> = boards.into_iter().map(|board| self.tidied(board)).collect();
        cutting.told.extend(boards.iter().filter_map(|board| self.cut_otherwise(board)));
        cutting.told.extend(self.comes_from_thick(asked, &left_by_thinner, are_left));
        let complete = open(asked, wanted).is_empty();
        let proven = free.is_none().then_some(layout.proven);
        cutting.groups.push(self.judged(&boards, complete, free.unwrap_or(layout.bound + paid), proven));
        cutting.boards.extend(boards);
        for line in wanted {
            if let Some(asked) = asked.get_mut(*line) {
                asked.racks.remove(0);
            }
        }
    }

    /// Whether its boards are thicker than those that a part is to come out of: what is planed off is waste, and parts that want such boards come first.
    fn is_too_thick_for(&self, row: &Row) -> bool {
        let board = row.rough.and_then(|rough| rough.board).map(|board| board.sawn);
        let thinnest = self
            .rack
            .entries
            .iter()
            .map(|usable| usable.stuff.thickness.to_mm() / f64::from(usable.stuff.leaves.max(1)))
            .fold(f64::INFINITY, f64::min);
        board.is_some_and(|board| board + NEARLY < thinnest)
    }

    /// Lays the open pieces of some lines on so many boards of each entry before the rest is laid, and holds them there. What may be hidden counts as sound
    /// where that is said.
    fn lay_first(
        &mut self,
        asked: &mut [Asked<'_>],
        lines: &[usize],
        (most, hides): (&dyn Fn(&Usable<'_>) -> u32, bool),
        name: &str,
        effort: Effort<'_>,
    ) {
        let pieces = open(asked, lines);
        if pieces.is_empty() {
            return;
        }
        let bed = self.bed(most, true, hides);
        let layout = lay(&self.task(bed.stock, asked, &pieces), few(effort));
        tell_why(&layout, asked, &pieces, name);
        self.keep(&layout, &bed.on_task, bed.boards, asked, &pieces);
    }

    /// How good the layout of a rack is: against a bound, and where the search itself says so, whether it is proven.
    fn judged(&self, boards: &[Marked], complete: bool, bound: f64, proven: Option<bool>) -> Group {
        let of = || boards.iter().filter_map(|board| self.rack.entry(board.entry));
        let cost: f64 = of().map(|usable| self.rack.cost(usable)).sum();
        let without_price = of().filter(|usable| self.rack.is_without_price(usable)).count();
        let bound = if complete { bound } else { 0.0 };
        let proven = complete && proven.unwrap_or(cost <= bound + AS_GOOD);
        let gap = if proven || cost <= 0.0 { 0.0 } else { (cost - bound).max(0.0) / cost };
        let (name, measure) = (self.rack.name.clone(), self.rack.measure());
        Group { name, boards: boards.len(), cost, measure, without_price, complete, bound, proven, gap }
    }

    /// What is worth knowing where something comes out of these that thinner boards would do for.
    fn comes_from_thick(&self, asked: &[Asked<'_>], before: &Pieces, are_left: bool) -> Option<String> {
        let placed = before.iter().filter_map(|(line, nths)| {
            let line = &asked.get(*line)?.line;
            (line.open.len() < nths.len()).then_some(line.row.mark.as_str())
        });
        let marks: Vec<&str> = placed.collect();
        let has_thinner = before.iter().any(|(line, _)| asked.get(*line).is_some_and(|asked| asked.thinnest < self.at));
        let why = match (are_left, has_thinner) {
            (true, _) => "no thinner boards are left that do",
            (false, true) => "they cost less so than of thinner boards",
            (false, false) => "there are no thinner boards that do",
        };
        let name = &self.rack.name;
        (!marks.is_empty()).then(|| format!("{}: {why}; of {name} they waste what is planed off", marks.join(", ")))
    }

    /// Holds what a layout placed where it is.
    pub(super) fn keep(&mut self, layout: &Layout, on_task: &[OnTask], mut boards: Vec<Marked>, asked: &mut [Asked<'_>], pieces: &Pieces) {
        self.take(layout, on_task, asked, pieces, &mut boards);
        let area = |piece: Piece| (Area::new([piece.x, piece.y], [piece.length, piece.width]), piece);
        let held = |board: Marked| Held { entry: board.entry, number: board.number, pieces: board.pieces.into_iter().map(area).collect() };
        self.held = boards.into_iter().map(held).collect();
    }

    /// Puts the pieces of a layout on their boards; they are open no more.
    fn take(&self, layout: &Layout, on_task: &[OnTask], asked: &mut [Asked<'_>], pieces: &Pieces, boards: &mut Vec<Marked>) {
        let mut next = vec![0_usize; pieces.len()];
        for used in &layout.used {
            let Some(on) = on_task.get(used.line) else { continue };
            let number = on.number.unwrap_or_else(|| free_number(boards, on.entry));
            let at = boards.iter().position(|board| board.entry == on.entry && board.number == number).unwrap_or_else(|| {
                boards.push(Marked { entry: on.entry, number, pieces: Vec::new(), cuts: Vec::new() });
                boards.len() - 1
            });
            let Some(board) = boards.get_mut(at) else { continue };
            for placed in &used.placed {
                let Some((line, nths)) = pieces.get(placed.line) else { continue };
                let (Some(asked), Some(next)) = (asked.get_mut(*line), next.get_mut(placed.line)) else { continue };
                let Some(nth) = nths.get(*next) else { continue };
                *next += 1;
                asked.line.open.retain(|open| open != nth);
                let corner = [placed.x + on.corner[0], placed.y + on.corner[1]];
                board.pieces.extend(piece(&asked.line, *nth, corner, placed.turned, false));
            }
            board.cuts.extend(self.cuts(used, on.corner, on.stage));
        }
    }

    pub(super) fn task(&self, stock: Vec<Stock>, asked: &[Asked<'_>], pieces: &Pieces) -> Task {
        // A board that is crosscut or ripped first is cut the other way after it, and no third time: nothing is trimmed by one cut more.
        let trimming = self.rack.sheets || self.first_cut().is_none();
        let (first, stages) = match (self.rack.sheets, self.first_cut()) {
            (true, _) => (None, self.design.timber.rough.sheets.stages()),
            (false, None) => (None, Some(3)),
            (false, first) => (first, Some(2)),
        };
        let more = self.more();
        let piece = |line: &Line<'_>, nths: &[usize]| Wanted {
            id: line.row.mark.clone(),
            length: line.length + more[0],
            width: Some(line.width + more[1]),
            count: u32::try_from(nths.len()).unwrap_or(u32::MAX),
            turn: line.turn,
            value: None,
        };
        Task {
            kerf: self.least_kerf(),
            trim: self.edge(),
            stock,
            pieces: pieces.iter().filter_map(|(line, nths)| Some(piece(&asked.get(*line)?.line, nths))).collect(),
            cuts: Cuts::Guillotine,
            stages,
            first,
            trimming,
        }
    }
}

/// Boards that are thicker than those wanted by no more are those, mm: 34 for 32, as they are sawn.
const NEARLY: f64 = 4.0;

/// Rounds of search for what comes before the last layout: the time is that one's.
const FEW: u64 = 4;

fn few(effort: Effort<'_>) -> Effort<'_> {
    Effort { rounds: Some(effort.rounds.unwrap_or(FEW).min(FEW)), ..effort }
}

/// Costs that differ by less are one.
const AS_GOOD: f64 = 1e-6;

/// Notes why pieces found no place.
fn tell_why(layout: &Layout, asked: &mut [Asked<'_>], pieces: &Pieces, name: &str) {
    for unplaced in &layout.unplaced {
        let Some(asked) = pieces.get(unplaced.line).and_then(|(line, _)| asked.get_mut(*line)) else { continue };
        // The boards that are right for it come first; of thicker ones it need not be told.
        if asked.why.is_empty() {
            asked.why = why(&asked.line, unplaced.reason, name);
        }
    }
}

/// What is narrower is not worth asking about, mm.
const SLIVER: f64 = 5.0;

/// The least number of those alike that none of the boards has.
fn free_number(boards: &[Marked], entry: usize) -> usize {
    let taken: Vec<usize> = boards.iter().filter(|board| board.entry == entry).map(|board| board.number).collect();
    (1..=taken.len() + 1).find(|number| !taken.contains(number)).unwrap_or(1)
}

pub(super) fn piece(line: &Line<'_>, nth: usize, [x, y]: [f64; 2], turned: bool, by_hand: bool) -> Option<Piece> {
    let (part, piece, words) = line.piece(nth)?;
    let [length, width] = line.size(turned);
    let with = line.parts(nth).iter().skip(1).copied().collect();
    Some(Piece { part, with, piece, mark: line.row.mark.clone(), words, x, y, length, width, more: [0.0; 2], turned, by_hand })
}

fn why(line: &Line<'_>, reason: Reason, name: &str) -> String {
    let size = [line.length, line.width].map(|mm| trimmed_to(mm, 0)).join(" × ");
    match reason {
        Reason::Faulty => format!("{size} of {name} can't be laid out"),
        Reason::TooLarge => format!("{size} is larger than any {name} there is, with its ends and edges trimmed"),
        Reason::NoRoom => format!("no room is left for {size} on the {name} there is: more of it is wanted"),
    }
}
