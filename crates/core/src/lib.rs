//! The parametric case: what the maker decides, and every part, joint and finding that follows.
//!
//! Everything is one pipeline of plain values, and each step is a pure function:
//!
//! ```text
//! Design ──derive──▶ Model ──shape──▶ Solids ──inspect──▶ Findings
//!                      └──list──▶ CutList
//! ```
//!
//! - [`Design`] holds decisions and nothing derived; it is the only thing saved.
//! - [`derive()`] turns it into a [`Model`]: every [`Part`](model::Part) at its finished size, with its cuts,
//!   where it stands, and the joints that hold it.
//! - [`ShapeCache::shape`] makes real solids of the parts.
//! - [`inspect()`] judges the model and gives [`Finding`]s.
//! - [`Sequence::of`] finds the order in which it all goes together, and proves it; [`DryFit::of`] does both.
//! - [`UnderLoad::of`](loads::UnderLoad::of) tells how far everything sags under what it may have to hold, and how hard it is stressed.
//! - [`CutList::of`] groups equal parts.
//! - [`OrderOfWork::of`] tells every job from rough stock to the case in its place.
//! - [`Movement::of_model`](timber::Movement::of_model) tells how every part moves from one moisture to another.
//!
//! # Axes
//!
//! ```text
//!        y up
//!        │     the case stands on y = 0 with its left back corner at the origin;
//!        │     its front is at z = depth
//!        └──── x to the right
//!       ╱
//!      z toward the viewer
//! ```
//!
//! Lengths are millimetres. This crate does no I/O and knows no clock, no window and no file.

pub mod amounts;
pub mod boards;
pub mod cautions;
pub mod compare;
pub mod contents;
pub mod cutlist;
pub mod derive;
pub mod design;
pub mod dry_fit;
pub mod explode;
pub mod finishing;
pub mod inspect;
pub mod job;
pub mod joint;
pub mod length;
pub mod loads;
pub mod mirrored;
pub mod model;
pub mod neighbours;
pub mod origin;
pub mod place;
pub mod rod;
pub mod rough;
pub mod seasons;
pub mod sentence;
pub mod sequence;
pub mod setup;
pub mod shapes;
pub mod stability;
pub mod strength;
pub mod table;
pub mod takeoff;
pub mod template;
pub mod timber;
pub mod work;
pub mod worked;

pub use cutlist::CutList;
pub use derive::derive;
pub use design::Design;
pub use dry_fit::DryFit;
pub use inspect::{Finding, Seriousness, inspect};
pub use length::Length;
pub use model::Model;
pub use sequence::Sequence;
pub use shapes::{ShapeCache, Solids};
pub use work::OrderOfWork;
