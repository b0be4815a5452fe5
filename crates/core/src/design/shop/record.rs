//! One part: how far it is made, what was measured on it and done to it.

use serde::{Deserialize, Serialize};

use super::cuts::move_cuts;
use super::{bare, in_range};
use crate::design::decisions::DecisionError;
use crate::design::{Design, Dimension};
use crate::length::Length;
use crate::model::PrismBox;

/// How far a part is made.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum State {
    /// Nothing of it is there.
    #[default]
    Planned,
    /// Sawn with room to spare, or brought to some of its sizes.
    Roughed,
    /// At its sizes and with its joints cut.
    Cut,
    /// Glued to others.
    Glued,
}

impl State {
    /// All four, in their order.
    pub const ALL: [State; 4] = [State::Planned, State::Roughed, State::Cut, State::Glued];

    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            State::Planned => "planned",
            State::Roughed => "roughed",
            State::Cut => "cut",
            State::Glued => "glued",
        }
    }

    /// Whether sizes and cuts are made and stay.
    pub fn is_cut(self) -> bool {
        self >= State::Cut
    }
}

/// What was measured on one part and done to it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PartRecord {
    /// The part's name, such as `rail.front.bottom`.
    pub part: String,
    /// How far it is made.
    #[serde(default)]
    pub state: State,
    /// Measured along the grain, mm.
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    pub length: Option<Length>,
    /// Measured across the grain, mm.
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    pub width: Option<Length>,
    /// Measured through it, mm.
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    pub thickness: Option<Length>,
    /// How thick a shim is glued to the shoulder of its first end, mm.
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    pub first_shim: Option<Length>,
    /// How thick a shim is glued to the shoulder of its second end, mm.
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    pub second_shim: Option<Length>,
    /// Length, width and thickness it was cut to, mm, as far as nobody measured: what was planned when it became [`State::Cut`].
    #[serde(default, with = "bare", skip_serializing_if = "Option::is_none")]
    pub finished: Option<[Length; 3]>,
    /// What was cut into it then.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cuts: Vec<PrismBox>,
    /// Words of the maker's own.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

impl PartRecord {
    /// What was measured of a size.
    pub fn measured(&self, of: Dimension) -> Option<Length> {
        match of {
            Dimension::Length => self.length,
            Dimension::Width => self.width,
            Dimension::Thickness => self.thickness,
        }
    }

    /// The place of a measure.
    pub(crate) fn measured_mut(&mut self, of: Dimension) -> &mut Option<Length> {
        match of {
            Dimension::Length => &mut self.length,
            Dimension::Width => &mut self.width,
            Dimension::Thickness => &mut self.thickness,
        }
    }

    /// The shim that is glued to the shoulder of an end.
    pub fn shim(&self, end: End) -> Option<Length> {
        match end {
            End::First => self.first_shim,
            End::Second => self.second_shim,
        }
    }

    /// The size that holds for this part against the rules: as measured, or as it was cut to.
    pub fn holds(&self, of: Dimension) -> Option<Length> {
        let cut_to = self.finished.filter(|_| self.state.is_cut()).map(|finished| finished[of.index()]);
        self.measured(of).or(cut_to)
    }

    /// Whether nothing is left to record.
    fn is_idle(&self) -> bool {
        let shims = self.first_shim.is_some() || self.second_shim.is_some();
        self.state == State::Planned && !shims && self.note.is_empty() && Dimension::ALL.iter().all(|of| self.measured(*of).is_none())
    }
}

/// Changes the record of a part, makes one where there is none, and drops it when nothing is left in it.
pub(super) fn change(design: &mut Design, part: &str, change: impl FnOnce(&mut PartRecord)) {
    let parts = &mut design.shop.parts;
    let at = parts.iter().position(|record| record.part == part).unwrap_or_else(|| {
        parts.push(PartRecord { part: part.to_owned(), ..PartRecord::default() });
        parts.len() - 1
    });
    change(&mut parts[at]);
    if parts[at].is_idle() {
        parts.remove(at);
    }
}

/// Records a size measured on one part, or with `None` takes it back. What is measured is there: a planned part becomes roughed.
///
/// # Errors
/// When the measure is out of range. The design is then unchanged. A part that is not there is no error: the checks tell.
pub fn measure(design: &mut Design, part: &str, of: Dimension, measured: Option<Length>) -> Result<(), DecisionError> {
    let measured = measured.map(|measured| in_range(&format!("made.{part}.{}", of.word()), measured)).transpose()?;
    change(design, part, |record| {
        let before = record.holds(of);
        *record.measured_mut(of) = measured;
        if let (Some(before), Some(now)) = (before, record.holds(of)) {
            move_cuts(&mut record.cuts, of.index(), before.to_mm(), now.to_mm());
        }
        if measured.is_some() {
            record.state = record.state.max(State::Roughed);
        }
    });
    Ok(())
}

/// An end of a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// The end from which it is measured.
    First,
    /// The other.
    Second,
}

impl End {
    /// Both.
    pub const ALL: [End; 2] = [End::First, End::Second];

    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            End::First => "first",
            End::Second => "second",
        }
    }
}

/// Records a shim that makes a part up at an end, or with `None` takes it back.
///
/// # Errors
/// As [`measure`].
pub fn put_shim(design: &mut Design, part: &str, end: End, thickness: Option<Length>) -> Result<(), DecisionError> {
    let path = format!("made.{part}.{}_shim", end.word());
    let thickness = thickness.map(|thickness| in_range(&path, thickness)).transpose()?;
    change(design, part, |record| match end {
        End::First => record.first_shim = thickness,
        End::Second => record.second_shim = thickness,
    });
    Ok(())
}

/// Records words of the maker's own on a part; empty ones take them back.
pub fn note(design: &mut Design, part: &str, words: &str) {
    change(design, part, |record| words.trim().clone_into(&mut record.note));
}
