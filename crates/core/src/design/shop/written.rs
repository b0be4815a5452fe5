//! What was measured and done, by its written names.

use super::cuts::{saw_off, set_state, write_down};
use super::record::{measure, note, put_shim};
use super::{End, State, measure_batch, unreadable};
use crate::design::decisions::DecisionError;
use crate::design::{Design, Dimension};
use crate::length::{Length, parse};

/// The paths beside the decisions that [`decisions::set`] takes; none when `path` is no such.
pub(in crate::design) fn set(design: &mut Design, path: &str, text: &str) -> Option<Result<(), DecisionError>> {
    if let Some(of) = path.strip_prefix("measured.") {
        return Some(read(path, text).and_then(|measured| measure_batch(design, of, measured)));
    }
    if let Some((part, of)) = measure_at(design, path) {
        return Some(read(path, text).and_then(|measured| measure(design, &part, of, measured)));
    }
    let (part, what) = path.strip_prefix("made.")?.rsplit_once('.')?;
    if let Some(of) = Dimension::ALL.into_iter().find(|of| of.word() == what) {
        return Some(read(path, text).and_then(|measured| measure(design, part, of, measured)));
    }
    match what {
        "note" => {
            note(design, part, text);
            Some(Ok(()))
        }
        "first_shim" => Some(read(path, text).and_then(|shim| put_shim(design, part, End::First, shim))),
        "second_shim" => Some(read(path, text).and_then(|shim| put_shim(design, part, End::Second, shim))),
        "sawn_first_end" => Some(read(path, text).and_then(|by| sawn(design, part, path, End::First, by))),
        "sawn_second_end" => Some(read(path, text).and_then(|by| sawn(design, part, path, End::Second, by))),
        "state" => Some(match State::ALL.into_iter().find(|state| state.word() == text.trim()) {
            Some(state) => set_state(design, part, state),
            None => Err(unreadable(path, text, "write planned, roughed, cut or glued")),
        }),
        "cuts" => Some(if text.trim() == AS_PLANNED { write_down(design, part) } else { Err(unreadable(path, text, "write planned")) }),
        _ => None,
    }
}

fn sawn(design: &mut Design, part: &str, path: &str, end: End, by: Option<Length>) -> Result<(), DecisionError> {
    let by = by.ok_or_else(|| unreadable(path, NONE, "write how much was sawn off"))?;
    saw_off(design, part, end, by)
}

/// How late a name must be set where several are: what was measured after what was decided, then what was made, then how far, which writes
/// down what all the rest gives, and last what was done to it after: what was sawn off it, and cut anew.
pub(in crate::design) fn comes_late(path: &str) -> u8 {
    match (path.starts_with("measured."), path.starts_with("made."), path.rsplit('.').next()) {
        (_, true, Some("cuts")) => 5,
        (_, true, Some("sawn_first_end" | "sawn_second_end")) => 4,
        (_, true, Some("state")) => 3,
        (_, true, _) => 2,
        (true, ..) => 1,
        (false, false, _) => 0,
    }
}

/// The part and the size that `shop.parts.N.length` stands for, where it was measured.
fn measure_at(design: &Design, path: &str) -> Option<(String, Dimension)> {
    let (number, word) = path.strip_prefix("shop.parts.")?.split_once('.')?;
    let record = design.shop.parts.get(number.parse::<usize>().ok()?.checked_sub(1)?)?;
    let of = Dimension::ALL.into_iter().find(|of| of.word() == word && record.measured(*of).is_some())?;
    Some((record.part.clone(), of))
}

/// The cuts of a part are those planned now.
const AS_PLANNED: &str = "planned";
/// What takes a measure back.
const NONE: &str = "none";

fn read(path: &str, text: &str) -> Result<Option<Length>, DecisionError> {
    if text.trim() == NONE {
        return Ok(None);
    }
    parse(text).map(Some).map_err(|error| unreadable(path, text, &format!("{}, or \"{NONE}\" to take it back", error.expected())))
}
