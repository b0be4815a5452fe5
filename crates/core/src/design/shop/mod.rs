//! What was measured and done in the shop, against what was planned.
//!
//! A [`Batch`] is stock as it measures: a decision such as the width of the posts, and what it came out at. It holds wherever that
//! decision is used, but for parts already cut. A [`PartRecord`] is one part: how far it is made, and its own measures, which hold
//! for that part alone. A part that is cut or glued keeps the sizes and cuts it was given, whatever is decided or measured later;
//! [`set_state`] writes them down. [`derive()`](crate::derive()) makes what is not yet cut fit what is there, and the checks
//! name what is cut and no longer fits.
//!
//! ```text
//! shop: (
//!     batches: [(of: "carcase.post.width", measured: 44.6)],
//!     parts: [(part: "rail.front.bottom", state: Cut, length: 1252)],
//! )
//! ```
//!
//! Besides the functions here, [`decisions::set`](super::decisions::set) takes `measured.DECISION` for a batch, and `made.PART.state`, `.length`, `.width`,
//! `.thickness`, `.first_shim`, `.second_shim`, `.sawn_first_end`, `.sawn_second_end`, `.note` and `.cuts` for a part.

mod batch;
mod cuts;
mod record;
mod written;

use serde::{Deserialize, Serialize};

pub(crate) use self::batch::is_stock;
pub use self::batch::{Batch, Stock, measure_batch, stock};
pub(crate) use self::cuts::{cut_at, cuts_of_one};
pub use self::cuts::{saw_off, set_state, write_down};
pub use self::record::{End, PartRecord, State, measure, note, put_shim};
pub(super) use self::written::{comes_late, set};
use super::dealer::Offer;
use super::decisions::DecisionError;
use super::pile::Stuff;
use super::placed::Placed;
use super::{Gluing, Machines, Tools};
use crate::length::{Length, trimmed};

/// What was measured and done in the shop.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Shop {
    /// Stock as it measures, a line a decision.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub batches: Vec<Batch>,
    /// Parts that something was done to or measured on.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub parts: Vec<PartRecord>,
    /// How the maker glues.
    #[serde(default, skip_serializing_if = "is_default")]
    pub glue: Gluing,
    /// The tools at hand.
    #[serde(default, skip_serializing_if = "is_default")]
    pub tools: Tools,
    /// The timber and sheets on hand.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub pile: Vec<Stuff>,
    /// What a dealer offers.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub dealer: Vec<Offer>,
    /// Pieces that the maker put on a board by hand.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub placed: Vec<Placed>,
    /// Parts that are to come from one board, or from boards of one colour, set by set, by their names.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub matched: Vec<Vec<String>>,
    /// The machines that bring rough boards to their sizes.
    #[serde(default, skip_serializing_if = "is_default")]
    pub machines: Machines,
}

impl Shop {
    /// Whether there is nothing to write: nothing measured or done, the glue and the tools those that every shop begins with.
    pub fn is_empty(&self) -> bool {
        is_default(self)
    }

    /// What is recorded of the part of that name.
    pub fn record(&self, part: &str) -> Option<&PartRecord> {
        self.parts.iter().find(|record| record.part == part)
    }

    /// How far the part of that name is made.
    pub fn state(&self, part: &str) -> State {
        self.record(part).map_or(State::Planned, |record| record.state)
    }
}

/// Whether a value need not be written.
pub(super) fn is_default<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}

/// A value that is written where there is one, without a word for "some".
pub(super) mod bare {
    #![allow(clippy::ref_option, reason = "serde hands over a reference to the field")]

    use serde::{Deserialize, Deserializer, Serialize, Serializer};

    pub(in crate::design) fn serialize<T: Serialize, S: Serializer>(value: &Option<T>, to: S) -> Result<S::Ok, S::Error> {
        match value {
            Some(value) => value.serialize(to),
            None => to.serialize_unit(),
        }
    }

    pub(in crate::design) fn deserialize<'de, T: Deserialize<'de>, D: Deserializer<'de>>(from: D) -> Result<Option<T>, D::Error> {
        T::deserialize(from).map(Some)
    }
}

/// The least and the greatest that can be measured, mm.
pub const MEASURABLE: std::ops::RangeInclusive<f64> = 0.1..=6000.0;

fn in_range(path: &str, measured: Length) -> Result<Length, DecisionError> {
    if MEASURABLE.contains(&measured.to_mm()) {
        return Ok(measured);
    }
    let found = measured.to_mm();
    Err(DecisionError::OutOfRange {
        path: path.to_owned(),
        found: if found.is_finite() { trimmed(found) } else { found.to_string() },
        least: trimmed(*MEASURABLE.start()),
        greatest: trimmed(*MEASURABLE.end()),
        unit: "mm",
    })
}

fn unreadable(path: &str, found: &str, expected: &str) -> DecisionError {
    DecisionError::Unreadable { path: path.to_owned(), found: found.to_owned(), expected: expected.to_owned() }
}
