//! The task in whole steps of a millionth of a millimetre, with what is wrong set aside; and the way back to millimetres.
//!
//! Every piece carries one kerf on its far side, and so does the board: n pieces in a row have n − 1 kerfs between them, so
//! Σ(length + kerf) ≤ board − 2 trim + kerf. From here on nobody needs to think of the kerf.

use super::fault::{self, Lines};
use super::layout::{Fault, Layout, Reason, Unplaced, Used};
use super::task::{Cuts, Direction, Stock, Task};

/// Steps in a millimetre.
const STEPS: f64 = 1e6;

/// Parts of a unit of cost.
const PARTS: f64 = 1e3;

/// A rectangle by its nearest and farthest corner, in steps from the trimmed corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Area {
    pub from: [i64; 2],
    pub to: [i64; 2],
}

/// A kind of board: room along its length and across it, with one kerf more than there is.
#[derive(Clone, Debug)]
pub(super) struct Board {
    /// Which line of the stock it is.
    pub line: usize,
    pub room: [i64; 2],
    /// In parts of a unit.
    pub cost: u64,
    /// Never more than there are pieces.
    pub count: u32,
    pub defects: Vec<Area>,
}

/// A kind of piece: its length and width, each with one kerf more than it has.
#[derive(Clone, Debug)]
pub(super) struct Kind {
    /// Which line of the pieces it is.
    pub line: usize,
    pub size: [i64; 2],
    pub count: u32,
    pub turn: bool,
    pub value: f64,
}

/// What can be worked with.
#[derive(Debug)]
pub(super) struct Ground<'a> {
    pub task: &'a Task,
    pub boards: Vec<Board>,
    /// Pieces that fit some board by themselves, wanted at least once.
    pub kinds: Vec<Kind>,
    /// Kerf in steps.
    pub kerf: i64,
    faults: Vec<Fault>,
    unplaced: Vec<Unplaced>,
}

impl<'a> Ground<'a> {
    pub fn new(task: &'a Task) -> Self {
        let Lines { stock, pieces, faults } = fault::sound(task);
        let kerf = steps(task.kerf);
        let mut ground = Self { task, boards: Vec::new(), kinds: Vec::new(), kerf, faults, unplaced: Vec::new() };
        let wanted: u32 = pieces.iter().map(|&line| task.pieces[line].count).sum();
        ground.boards = stock.iter().map(|&line| board(task, line, wanted)).filter(|board| board.count > 0).collect();
        for (line, piece) in task.pieces.iter().enumerate().filter(|(_, piece)| piece.count > 0) {
            if pieces.binary_search(&line).is_err() {
                ground.leave(line, piece.count, Reason::Faulty);
                continue;
            }
            let kind = kind(task, line);
            if ground.boards.iter().any(|board| board.takes(&kind, kerf)) {
                ground.kinds.push(kind);
            } else {
                ground.leave(line, piece.count, Reason::TooLarge);
                ground.faults.push(fault::too_large(task, line));
            }
        }
        ground
    }

    fn leave(&mut self, line: usize, count: u32, reason: Reason) {
        self.unplaced.push(Unplaced { piece: self.task.pieces[line].id.clone(), line, count, reason });
    }

    /// A place on a board in millimetres from its untrimmed corner.
    pub fn place(&self, at: [i64; 2]) -> [f64; 2] {
        let trims = trims(self.task);
        [0, 1].map(|way| (at[way] + trims[way]) as f64 / STEPS)
    }

    /// In how many stages a board is cut at most, without the last trimming.
    pub fn stages(&self) -> u32 {
        self.task.stages.map_or(u32::MAX, u32::from)
    }

    /// Cost in the caller's unit.
    pub fn cost(parts: u64) -> f64 {
        parts as f64 / PARTS
    }

    /// Puts an answer together: boards, how many of each kind found no place, and what any layout costs at the least.
    pub fn layout(mut self, mut used: Vec<Used>, left: &[u32], bound: u64) -> Layout {
        used.sort_by_key(|used| used.line);
        for (number, &count) in left.iter().enumerate().filter(|(_, count)| **count > 0) {
            self.leave(self.kinds[number].line, count, Reason::NoRoom);
        }
        let cost: u64 = used.iter().map(|used| parts(&self.task.stock[used.line])).sum();
        let complete = left.iter().all(|&left| left == 0);
        // What a layout of everything costs at least says nothing of one that leaves some of it.
        let bound = if complete { bound } else { 0 };
        self.unplaced.sort_by_key(|unplaced| unplaced.line);
        Layout {
            count: used.len(),
            used,
            unplaced: self.unplaced,
            cost: Self::cost(cost),
            bound: Self::cost(bound),
            proven: complete && cost <= bound,
            faults: self.faults,
        }
    }
}

impl Board {
    /// Whether the piece lies on it with nothing else there.
    pub fn takes(&self, kind: &Kind, kerf: i64) -> bool {
        let [length, width] = kind.size;
        let lies = |size: [i64; 2]| self.place(Area { from: [0, 0], to: self.room }, size, kerf).next().is_some();
        lies([length, width]) || kind.turn && lies([width, length])
    }

    /// Whether no defect lies in an area of the board.
    pub fn is_clear(&self, area: Area) -> bool {
        !self.defects.iter().any(|defect| (0..2).all(|way| defect.from[way] < area.to[way] && defect.to[way] > area.from[way]))
    }

    /// Places in an area of the board where a piece of this size touches no defect: close to the near edges, or to a defect.
    ///
    /// If the piece lies anywhere in the area, it lies at one of these too, but for a strip thinner than the kerf.
    pub fn place(&self, area: Area, size: [i64; 2], kerf: i64) -> impl Iterator<Item = [i64; 2]> {
        let near = |defect: &Area| (0..2).all(|way| defect.from[way] < area.to[way] && defect.to[way] > area.from[way]);
        let defects: Vec<Area> = self.defects.iter().filter(|defect| near(defect)).copied().collect();
        // A strip to be cut off is at least as wide as the saw.
        let starts = [0, 1].map(|way| {
            let beyond = defects.iter().map(|defect| defect.to[way].max(area.from[way] + kerf));
            let mut starts: Vec<i64> = std::iter::once(area.from[way]).chain(beyond).collect();
            starts.retain(|start| start + size[way] <= area.to[way]);
            starts.sort_unstable();
            starts.dedup();
            starts
        });
        let [along, across] = starts;
        along.into_iter().flat_map(move |x| across.clone().into_iter().map(move |y| [x, y])).filter(move |at| {
            let touches = |defect: &Area| (0..2).all(|way| defect.from[way] < at[way] + size[way] - kerf && defect.to[way] > at[way]);
            !defects.iter().any(touches)
        })
    }
}

fn board(task: &Task, line: usize, wanted: u32) -> Board {
    let stock = &task.stock[line];
    let (kerf, trims) = (steps(task.kerf), trims(task));
    let full = [Some(stock.length), stock.width].map(|full| full.map_or(0, steps));
    let room = match task.cuts {
        // As if all were one step wide.
        Cuts::Lengths => [full[0] - 2 * trims[0] + kerf, 1 + kerf],
        Cuts::Guillotine => [0, 1].map(|way| full[way] - 2 * trims[way] + kerf),
    };
    let defects = stock.defects.iter().map(|zone| {
        let from = [steps(zone.x) - trims[0], steps(zone.y) - trims[1]];
        let to = [from[0] + steps(zone.length), zone.width.map_or(room[1], |width| from[1] + steps(width))];
        match task.cuts {
            Cuts::Lengths => Area { from: [from[0], 0], to: [to[0], 1] },
            Cuts::Guillotine => Area { from, to },
        }
    });
    // What lies in the trim is gone with it.
    let inside = |area: &Area| (0..2).all(|way| area.to[way] > 0 && area.from[way] < room[way]);
    let defects = defects.filter(inside).collect();
    Board { line, room, cost: parts(stock), count: stock.count.map_or(wanted, |count| count.min(wanted)), defects }
}

fn kind(task: &Task, line: usize) -> Kind {
    let piece = &task.pieces[line];
    let kerf = steps(task.kerf);
    let (size, turn, value) = match (task.cuts, piece.width) {
        (Cuts::Guillotine, Some(width)) => {
            let size = [piece.length, width].map(|full| steps(full) + kerf);
            (size, piece.turn && size[0] != size[1], piece.length * width)
        }
        _ => ([steps(piece.length) + kerf, 1 + kerf], false, piece.length),
    };
    Kind { line, size, count: piece.count, turn, value: piece.value.unwrap_or(value) }
}

/// What comes off along the length and off the width, at each side.
fn trims(task: &Task) -> [i64; 2] {
    let trim = steps(task.trim);
    match task.cuts {
        Cuts::Lengths => [trim, 0],
        Cuts::Guillotine => [trim, trim],
    }
}

fn parts(stock: &Stock) -> u64 {
    (stock.cost * PARTS).round() as u64
}

fn steps(length: f64) -> i64 {
    (length * STEPS).round() as i64
}

/// The way along which a direction of cutting counts: a cut across is at a place along the length.
pub(super) fn way(cut: Direction) -> usize {
    match cut {
        Direction::Across => 0,
        Direction::Along => 1,
    }
}
