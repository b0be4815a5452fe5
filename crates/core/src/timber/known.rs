//! Published figures that keep how they were obtained.

use std::borrow::Cow;
use std::fmt;

use serde::{Deserialize, Serialize};

/// How a figure was obtained, the weakest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum How {
    /// Recalled, and not read again.
    Memory,
    /// The maker's own: measured, typed or chosen.
    Maker,
    /// Worked out from figures that were read.
    Derived,
    /// Read in the source, or in a faithful copy of it.
    Read,
}

impl How {
    /// In a word or two.
    pub fn words(self) -> &'static str {
        match self {
            How::Memory => "from memory",
            How::Maker => "the maker's own",
            How::Derived => "derived",
            How::Read => "read",
        }
    }
}

impl fmt::Display for How {
    fn fmt(&self, to: &mut fmt::Formatter<'_>) -> fmt::Result {
        to.write_str(self.words())
    }
}

/// A figure of a table, with how it was obtained and from where. Its unit is told where it is kept.
#[derive(Clone, Debug, PartialEq)]
pub struct Known {
    /// The figure.
    pub value: f64,
    /// How it was obtained.
    pub how: How,
    /// The publication, or the person.
    pub source: Cow<'static, str>,
}

impl Known {
    /// A figure with how it was obtained and from where.
    pub fn new(value: f64, how: How, source: impl Into<Cow<'static, str>>) -> Known {
        Known { value, how, source: source.into() }
    }

    /// Another figure that follows from this one: derived at best.
    #[must_use]
    pub fn derived(&self, value: f64) -> Known {
        Known { value, how: self.how.min(How::Derived), source: self.source.clone() }
    }
}
