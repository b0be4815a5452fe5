//! Pieces of given lengths out of sticks of given lengths.
//!
//! A stick is cut like this: both ends come off, then the pieces follow one another with a saw cut between them.
//!
//! ```text
//! |trim| piece |k| piece |k| piece |      left over      |trim|
//! 0                                                       length of the stick
//! ```
//!
//! So n pieces take their lengths, n − 1 kerfs and two trims. The cut that frees the last piece falls into what is left
//! over, and where nothing is left over there is no such cut.
//!
//! [`lay_out`] looks for the fewest sticks. It fills by best fit, longest piece first, works out a bound that no layout
//! can beat, and where the two differ and the task is small it searches for the missing stick or proves that there is none.

mod bound;
mod fill;
mod search;
mod task;

use task::Task;

/// The longest stick, piece, kerf or trim that is accepted, in millimetres: one kilometre.
///
/// Within it, sums of [`MOST_PIECES`] lengths in steps of a millionth of a millimetre stay exact in 64 bits.
pub const LONGEST: f64 = 1e6;

/// The most pieces, all counts added up, that one task may have.
pub const MOST_PIECES: u64 = 100_000;

/// A length of stick that can be had, and how many of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stock {
    /// Full length in millimetres as it lies in the rack, both ends included; above 0, at most [`LONGEST`].
    pub length: f64,
    /// How many there are; `None` for as many as it takes.
    pub count: Option<u32>,
}

/// A length that is wanted, and how often.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Piece {
    /// The caller's name for it; given back unchanged, and need not be unique.
    pub id: u32,
    /// Length to be sawn in millimetres, allowances included; above 0, at most [`LONGEST`].
    pub length: f64,
    /// How many are wanted; 0 asks for nothing.
    pub count: u32,
}

/// What sawing costs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Saw {
    /// Width of a saw cut in millimetres; 0 to [`LONGEST`].
    pub kerf: f64,
    /// What comes off each end of every stick (checks, paint, a ragged cut) in millimetres; 0 to [`LONGEST`].
    pub trim: f64,
}

/// One piece in its place on a stick.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placed {
    /// The caller's name from [`Piece::id`].
    pub id: u32,
    /// Where it begins, in millimetres from the untrimmed end of the stick.
    pub start: f64,
    /// Its length in millimetres.
    pub length: f64,
}

/// One stick with the pieces that come out of it, longest first.
#[derive(Clone, Debug, PartialEq)]
pub struct Stick {
    /// Which of the given stock lines it is, counted from 0.
    pub stock: usize,
    /// Its full length in millimetres.
    pub length: f64,
    /// The pieces from the first end to the last; never empty.
    pub pieces: Vec<Placed>,
    /// What lies between the last piece and the far trim, in millimetres, before the cut that frees it.
    pub left_over: f64,
}

impl Stick {
    /// What the pieces, the kerfs between them and both trimmed ends take, in millimetres.
    pub fn used(&self) -> f64 {
        self.length - self.left_over
    }
}

/// Why a piece was not placed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reason {
    /// No stick is long enough, whatever else is cut from it.
    TooLong,
    /// Sticks long enough exist, but there are not enough of them.
    StockUsedUp,
}

/// A piece that found no place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Unplaced {
    /// The caller's name from [`Piece::id`].
    pub id: u32,
    /// Its length in millimetres.
    pub length: f64,
    /// Why.
    pub reason: Reason,
}

/// The answer of [`lay_out`].
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    /// The sticks to cut, fullest first.
    pub sticks: Vec<Stick>,
    /// The pieces that found no place, one entry for each.
    pub unplaced: Vec<Unplaced>,
    /// No layout of the pieces placed here needs fewer sticks than this; always at most `sticks.len()`.
    pub bound: usize,
}

impl Layout {
    /// Whether no better layout exists: the count of sticks meets the bound, and no piece was left out for want of stock.
    ///
    /// Pieces that are too long for every stick do not count against it: no layout could place them.
    pub fn proven(&self) -> bool {
        self.sticks.len() == self.bound && self.unplaced.iter().all(|piece| piece.reason == Reason::TooLong)
    }
}

/// A number that cannot be worked with. Says which, and what was given.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
pub enum LengthError {
    /// A stock length is not above 0 and at most [`LONGEST`], or not a number.
    #[error("stock line {index} is {length} mm long; it must be above 0 and at most {LONGEST} mm")]
    Stock {
        /// Which stock line, counted from 0.
        index: usize,
        /// What was given.
        length: f64,
    },
    /// A piece's length is not above 0 and at most [`LONGEST`], or not a number.
    #[error("piece {id} is {length} mm long; it must be above 0 and at most {LONGEST} mm")]
    Piece {
        /// The piece's id.
        id: u32,
        /// What was given.
        length: f64,
    },
    /// Kerf or trim is below 0, above [`LONGEST`] or not a number.
    #[error("a kerf of {kerf} mm with a trim of {trim} mm cannot be; both must be 0 to {LONGEST} mm")]
    Saw {
        /// The kerf that was given.
        kerf: f64,
        /// The trim that was given.
        trim: f64,
    },
    /// All counts together pass [`MOST_PIECES`].
    #[error("{count} pieces are asked for; one layout takes at most {MOST_PIECES}")]
    TooMany {
        /// How many pieces were asked for.
        count: u64,
    },
}

/// Lays the pieces out of the fewest sticks that it can find, and of the shortest stock that will do for each.
///
/// Lengths are taken to the nearest millionth of a millimetre and compared exactly from there, so that pieces which fill
/// a stick to the last figure do fit. The work is bounded: filling is quick, and the search has a fixed
/// limit of steps, and where it ends early the layout is good but [`Layout::proven`] says no.
///
/// Fewest sticks comes before least length: two short sticks are not preferred to one long one.
///
/// # Errors
///
/// A [`LengthError`] when a number is not a length that can be sawn. A piece longer than every stick is no error: it is
/// listed in [`Layout::unplaced`].
///
/// # Example
///
/// ```
/// use casewright_cutting::{Piece, Saw, Stock, lay_out};
///
/// let board = Stock { length: 2440.0, count: None };
/// let rail = Piece { id: 1, length: 600.0, count: 4 };
/// let layout = lay_out(&[board], &[rail], &Saw { kerf: 3.2, trim: 15.0 })?;
/// assert_eq!(layout.sticks.len(), 1);
/// assert!(layout.proven());
/// # Ok::<(), casewright_cutting::LengthError>(())
/// ```
pub fn lay_out(stock: &[Stock], pieces: &[Piece], saw: &Saw) -> Result<Layout, LengthError> {
    let task = Task::new(stock, pieces, saw)?;
    let mut filled = fill::best_fit(&task);
    if !filled.left_out.is_empty()
        && let search::Outcome::Found(bins) = search::pack(&task.items, &task.longest_bins(usize::MAX))
    {
        filled = fill::Filled { bins, left_out: Vec::new() };
    }
    let mut bound = bound::fewest(&task, &filled.sizes_placed(&task));
    // Each round either saves a stick, proves that none can be saved, or gives up.
    while filled.left_out.is_empty() && filled.bins.len() > bound {
        let fewer = task.longest_bins(filled.bins.len() - 1);
        match search::pack(&task.items, &fewer) {
            search::Outcome::Found(bins) => filled.bins = bins,
            search::Outcome::Impossible => bound = filled.bins.len(),
            search::Outcome::GaveUp => break,
        }
    }
    Ok(task.answer(filled, bound))
}
