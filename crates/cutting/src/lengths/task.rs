//! The task in whole steps of a millionth of a millimetre, and the way back to millimetres.

use super::fill::Filled;
use super::{LONGEST, Layout, LengthError, MOST_PIECES, Piece, Placed, Reason, Saw, Stick, Stock, Unplaced};

/// Steps in a millimetre.
const STEPS: f64 = 1e6;

/// A piece to place. Its size is its length plus one kerf.
#[derive(Clone, Copy, Debug)]
pub(super) struct Item {
    pub size: i64,
    pub piece: usize,
}

/// A length of stock. Its room is what is left between the trims plus one kerf, because of n pieces in a stick only
/// n − 1 have a kerf after them: Σ(length + kerf) ≤ stock − 2 trim + kerf.
#[derive(Clone, Copy, Debug)]
pub(super) struct Kind {
    pub room: i64,
    /// Never more than there are items, so that it can be counted with.
    pub count: usize,
    pub stock: usize,
}

/// The task as plain bin packing.
#[derive(Debug)]
pub(super) struct Task<'a> {
    /// Longest first; those that no stick takes are not among them.
    pub items: Vec<Item>,
    /// Roomiest first.
    pub kinds: Vec<Kind>,
    too_long: Vec<usize>,
    stock: &'a [Stock],
    pieces: &'a [Piece],
    saw: &'a Saw,
}

impl<'a> Task<'a> {
    /// Checks every number once; from here on they are trusted.
    pub fn new(stock: &'a [Stock], pieces: &'a [Piece], saw: &'a Saw) -> Result<Self, LengthError> {
        check(stock, pieces, saw)?;
        let mut kinds: Vec<Kind> = stock
            .iter()
            .enumerate()
            .map(|(index, line)| Kind {
                room: steps(line.length) - 2 * steps(saw.trim) + steps(saw.kerf),
                count: line.count.map_or(usize::MAX, |count| count as usize),
                stock: index,
            })
            .collect();
        kinds.sort_by_key(|kind| -kind.room);
        let roomiest = kinds.iter().filter(|kind| kind.count > 0).map(|kind| kind.room).max().unwrap_or(0);

        let (mut items, mut too_long) = (Vec::new(), Vec::new());
        for (index, piece) in pieces.iter().enumerate() {
            let size = steps(piece.length) + steps(saw.kerf);
            for _ in 0..piece.count {
                if size <= roomiest {
                    items.push(Item { size, piece: index });
                } else {
                    too_long.push(index);
                }
            }
        }
        items.sort_by_key(|item| -item.size);
        for kind in &mut kinds {
            kind.count = kind.count.min(items.len());
        }
        Ok(Self { items, kinds, too_long, stock, pieces, saw })
    }

    /// The room of the `most` longest sticks that can be had, longest first.
    ///
    /// Whatever fits into m sticks fits into the m longest ones, so these are the only ones worth trying.
    pub fn longest_bins(&self, most: usize) -> Vec<i64> {
        self.kinds.iter().flat_map(|kind| std::iter::repeat_n(kind.room, kind.count)).take(most.min(self.items.len())).collect()
    }

    /// Gives every filled bin the shortest stock that takes it and puts the answer into millimetres.
    pub fn answer(&self, filled: Filled, bound: usize) -> Layout {
        let mut bins = filled.bins;
        let load = |bin: &[usize]| bin.iter().map(|&item| self.items[item].size).sum::<i64>();
        bins.sort_by_key(|bin| -load(bin));
        // Fullest first: what serves the fullest serves all that follow, so this never runs out where the fill did not.
        let mut kinds = self.kinds.clone();
        let sticks = bins
            .iter()
            .filter_map(|bin| {
                let kind = kinds.iter_mut().rev().find(|kind| kind.count > 0 && kind.room >= load(bin))?;
                kind.count -= 1;
                Some(self.stick(bin, kind.stock))
            })
            .collect();
        let unplaced = |piece: usize, reason| Unplaced { id: self.pieces[piece].id, length: self.pieces[piece].length, reason };
        let too_long = self.too_long.iter().map(|&piece| unplaced(piece, Reason::TooLong));
        let left_out = filled.left_out.iter().map(|&item| unplaced(self.items[item].piece, Reason::StockUsedUp));
        Layout { sticks, unplaced: too_long.chain(left_out).collect(), bound }
    }

    fn stick(&self, bin: &[usize], stock: usize) -> Stick {
        let length = self.stock[stock].length;
        let mut start = self.saw.trim;
        let mut pieces = Vec::with_capacity(bin.len());
        for &item in bin {
            let piece = &self.pieces[self.items[item].piece];
            pieces.push(Placed { id: piece.id, start, length: piece.length });
            start += piece.length + self.saw.kerf;
        }
        // Not below 0: the task was settled in whole steps, and this sum may be off by the last figure of a float.
        let left_over = (length - self.saw.trim - (start - self.saw.kerf)).max(0.0);
        Stick { stock, length, pieces, left_over }
    }
}

fn check(stock: &[Stock], pieces: &[Piece], saw: &Saw) -> Result<(), LengthError> {
    let sawable = |length: f64| length > 0.0 && length <= LONGEST;
    let payable = |length: f64| (0.0..=LONGEST).contains(&length);
    if !payable(saw.kerf) || !payable(saw.trim) {
        return Err(LengthError::Saw { kerf: saw.kerf, trim: saw.trim });
    }
    if let Some(index) = stock.iter().position(|line| !sawable(line.length)) {
        return Err(LengthError::Stock { index, length: stock[index].length });
    }
    if let Some(piece) = pieces.iter().find(|piece| !sawable(piece.length)) {
        return Err(LengthError::Piece { id: piece.id, length: piece.length });
    }
    let count = pieces.iter().map(|piece| u64::from(piece.count)).sum();
    if count > MOST_PIECES {
        return Err(LengthError::TooMany { count });
    }
    Ok(())
}

fn steps(length: f64) -> i64 {
    (length * STEPS).round() as i64
}
