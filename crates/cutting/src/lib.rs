//! Pieces out of boards, and things in rows. Knows nothing of furniture: a piece is a length and a number to know it by.
//!
//! [`lengths`] lays pieces of given lengths out of sticks of given lengths, and says how far the result can be trusted:
//! every layout carries a lower bound that no layout can beat, and [`Layout::proven`] tells whether the two meet.
//!
//! ```text
//! Stock, Piece, Saw ──lay_out──▶ Layout { sticks, unplaced, bound }
//! ```
//!
//! [`boards`] lays pieces out of boards and sheets of any kinds, with their cuts: lengths to a proven optimum, sheets and boards with
//! defects by guillotine cuts, each with a bound.
//!
//! ```text
//! boards::Task ──lay──▶ boards::Layout { used, unplaced, cost, bound, proven }
//! ```
//!
//! [`columns`] stands things in rows and lays rows into columns: as much as goes into the columns that there are, or everything in
//! the cheapest. Its bounds are as true.
//!
//! ```text
//! Thing, Column ──place──▶ Placement { columns, left, worth, bound }
//!               └─cover──▶ Cover { columns, left, cost, bound }
//! ```
//!
//! All lengths of [`lengths`] and [`boards`] are millimetres. No files and no clock; chance only from a seed that is given: the same
//! question gets the same answer.

pub mod boards;
pub mod columns;
pub mod lengths;

pub use lengths::{Layout, LengthError, Piece, Placed, Reason, Saw, Stick, Stock, Unplaced, lay_out};
