//! Pieces out of boards and sheets: what to cut from which board, and in which order.
//!
//! ```text
//! Task { stock, pieces, kerf, trim, cuts … } ──lay──▶ Layout { used, unplaced, cost, bound, proven }
//! ```
//!
//! A board lies with its length along x and its width along y, its corner at the origin. The trim comes off every end, and
//! off every edge where widths count, before anything else. Then every cut goes from edge to edge of what is being cut, and the kerf lies between the
//! pieces only: n pieces in a row take their lengths and n − 1 kerfs.
//!
//! ```text
//! y
//! ┌──────────────────────────────────────┐ width
//! │ trim                                 │
//! │  ┌───────────┐k┌───────┐k┌─────────┐ │   k: a cut across, one kerf wide
//! │  │           │ │       │ ├─────────┤ │
//! │  │           │ │       │ │─ kerf ──│ │   a cut along, in the second stage
//! │  └───────────┘ └───────┘ └─────────┘ │
//! └──────────────────────────────────────┘ length   x
//! 0
//! ```
//!
//! Every layout carries a bound: nothing that places all that can be placed costs less. [`Layout::proven`] tells whether
//! the two meet, and [`Layout::gap`] by how much they differ at most.
//!
//! Lengths are taken to the nearest millionth of a millimetre and compared exactly from there, so that pieces which fill a board
//! to the last figure do fit. No files, no clock: whoever wants an answer in some seconds says stop through
//! [`Effort::watch`].

mod dice;
mod effort;
mod fault;
mod ground;
mod knapsack;
mod layout;
mod order;
mod rods;
mod sheets;
mod task;

pub use effort::{Effort, Progress};
pub use layout::{Cut, Fault, Layout, Placed, Reason, Unplaced, Used};
pub use order::in_order;
pub use task::{Cuts, DEAREST, Direction, LONGEST, MOST_LINES, MOST_PIECES, Piece, SHORTEST, Stock, Task, Zone};

use effort::Watching;
use ground::Ground;

/// Lays out the pieces on the boards of the least cost that it can find.
///
/// What can't be worked with is told in [`Layout::faults`], and everything else is laid out. Where the boards do not suffice for
/// all, the most worthy pieces are placed that it can find.
///
/// # Example
///
/// ```
/// use casewright_cutting::boards::{Effort, Task, lay};
///
/// let task: Task = serde_json::from_str(
///     r#"{ "kerf": 3.2, "trim": 15, "cuts": "lengths",
///          "stock": [{ "id": "board", "length": 2440 }],
///          "pieces": [{ "id": "rail", "length": 600, "count": 4 }] }"#,
/// )?;
/// let layout = lay(&task, Effort::default());
/// assert_eq!(layout.count, 1);
/// assert!(layout.proven);
/// # Ok::<(), serde_json::Error>(())
/// ```
pub fn lay(task: &Task, effort: Effort) -> Layout {
    let ground = Ground::new(task);
    let watching = Watching::new(effort);
    let plain = ground.boards.iter().all(|board| board.defects.is_empty());
    match task.cuts {
        Cuts::Lengths if plain => rods::lay(ground, &watching),
        Cuts::Lengths | Cuts::Guillotine => sheets::lay(ground, &watching),
    }
}
