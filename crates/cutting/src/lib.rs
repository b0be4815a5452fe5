//! Pieces out of boards, and things in rows. Knows nothing of furniture: a piece is a size and a name to know it by.
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
//! All lengths of [`boards`] are millimetres. No files and no clock; chance only from a seed that is given: the same
//! question gets the same answer.

pub mod boards;
pub mod columns;
