//! Decisions set from text, one or many.

use super::{BY_RULE, DecisionError, Slot, Spec, Value, expected_words, list, shelves, value, visit};
use crate::design::{Design, Dimension, Ruled, edit, matched, money, placed, shop};
use crate::length::{Length, parse};

/// Sets the decision `path` from a text, as typed on the command line or in a field.
///
/// `part.NAME.length` (or `.width`, `.thickness`) sets a size of one part against the rules; `measured.DECISION` and
/// `made.NAME.length` record what was measured (see [`shop`]).
///
/// # Errors
/// When there is no such decision or the text can't be read. The design is then unchanged. Whether the value is in range
/// is [`check`](super::check)'s to say, so that a design can pass through values that are not yet right.
pub fn set(design: &mut Design, path: &str, text: &str) -> Result<(), DecisionError> {
    if let Some((part, of)) = part_size(path) {
        // The way back to the rules takes the override away.
        let value = if text.trim() == BY_RULE { None } else { Some(read_length(path, text)?) };
        edit::override_part(design, part, of, value);
        return Ok(());
    }
    if let Some(done) = shop::set(design, path, text)
        .or_else(|| money::set(design, path, text))
        .or_else(|| placed::set(design, path, text))
        .or_else(|| matched::set(design, path, text))
    {
        return done;
    }
    if let Some(done) = shelves::set(design, path, text) {
        return done;
    }
    let mut changed = design.clone();
    let mut outcome = None;
    visit(&mut changed, &mut |spec, slot| {
        if spec.path == path {
            outcome = Some(write(&spec, slot, text));
        }
    });
    outcome.unwrap_or_else(|| Err(unknown(design, path)))?;
    shelves::keep_heights(design, &mut changed, path);
    shelves::make_room_for_half_rounds(design, &mut changed);
    *design = changed;
    Ok(())
}

/// Sets several decisions, whatever order they are given in: first the choices, the widest before those it brings, for a choice may bring or
/// take away what is named after it; then the values, and last what was measured and made. Of two values for one decision the later holds.
///
/// Gives back those that could not be set, each with the reason.
pub fn set_all<'c>(design: &mut Design, changes: &'c [(String, String)]) -> Vec<(&'c (String, String), DecisionError)> {
    // All shelves of a bay at once, told later, take the place of single ones.
    let replaced = |at: usize, path: &str| {
        let later = changes[at + 1..].iter().filter_map(|(later, _)| later.strip_suffix(".shelves").map(|_| later));
        later.into_iter().any(|list| path.strip_prefix(list.as_str()).is_some_and(|rest| rest.starts_with('.')))
    };
    let held = changes.iter().enumerate().filter(|(at, (path, _))| !replaced(*at, path));
    let mut left: Vec<&(String, String)> = held.map(|(_, change)| change).collect();
    left.sort_by_key(|(path, _)| (shop::comes_late(path), path.matches('.').count()));
    let mut refused = Vec::new();
    let mut set_one = |design: &mut Design, change: &'c (String, String)| {
        refused.extend(set(design, &change.0, &change.1).err().map(|error| (change, error)));
    };
    // A choice that was made may bring others.
    while let Some(at) = left.iter().position(|(path, _)| matches!(value(design, path), Some(Value::Choice { .. }))) {
        let path = &left[at].0;
        let (same, others): (Vec<_>, Vec<_>) = left.iter().copied().partition(|(other, _)| other == path);
        for change in same {
            set_one(design, change);
        }
        left = others;
    }
    for change in left {
        set_one(design, change);
    }
    if !refused.is_empty() {
        // As it was before the later choices took the place of the earlier ones.
        let mut before = design.clone();
        for (at, (path, value)) in changes.iter().enumerate() {
            if changes[at + 1..].iter().any(|(later, _)| later == path) {
                // One that can't be set is refused already.
                let _ = set(&mut before, path, value);
            }
        }
        refused.retain(|((path, value), error)| !matches!(error, DecisionError::Unknown { .. }) || set(&mut before, path, value).is_err());
    }
    refused
}

fn part_size(path: &str) -> Option<(&str, Dimension)> {
    let (part, word) = path.strip_prefix("part.")?.rsplit_once('.')?;
    let of = Dimension::ALL.into_iter().find(|of| of.word() == word)?;
    Some((part, of))
}

fn write(spec: &Spec, slot: Slot<'_>, text: &str) -> Result<(), DecisionError> {
    match slot {
        Slot::Length(length) => *length = read_length(&spec.path, text)?,
        Slot::Ruled(size, _) => *size = read_ruled(spec, text)?,
        Slot::Number(number) => *number = read_number(spec, text)?,
        Slot::Count(count) => *count = read_count(spec, text)?,
        Slot::Text(old) => text.clone_into(old),
        Slot::Choice(choice) => {
            if !choice.choose(text) {
                return Err(unreadable(spec, text, expected_words(&choice.options())));
            }
            return Ok(());
        }
    }
    Ok(())
}

fn read_length(path: &str, text: &str) -> Result<Length, DecisionError> {
    parse(text).map_err(|error| DecisionError::Unreadable {
        path: path.to_owned(),
        found: text.to_owned(),
        expected: error.expected().to_owned(),
    })
}

fn read_ruled(spec: &Spec, text: &str) -> Result<Ruled, DecisionError> {
    if text.trim() == BY_RULE {
        return Ok(Ruled::ByRule);
    }
    let length = parse(text).map_err(|error| unreadable(spec, text, format!("write \"{BY_RULE}\", or your own: {}", error.expected())))?;
    Ok(Ruled::Own(length))
}

fn read_number(spec: &Spec, text: &str) -> Result<f64, DecisionError> {
    let number = text.trim().replace(',', ".").parse::<f64>();
    number.ok().filter(|number| number.is_finite()).ok_or_else(|| unreadable(spec, text, "write a number".to_owned()))
}

fn read_count(spec: &Spec, text: &str) -> Result<u32, DecisionError> {
    text.trim().parse().map_err(|_| unreadable(spec, text, "write a whole number".to_owned()))
}

fn unreadable(spec: &Spec, found: &str, expected: String) -> DecisionError {
    DecisionError::Unreadable { path: spec.path.clone(), found: found.to_owned(), expected }
}

fn unknown(design: &Design, path: &str) -> DecisionError {
    if let Some((choice, word)) = brought_by(design, path) {
        return DecisionError::Unknown { path: path.to_owned(), hint: format!(" as it stands; it comes with {choice}={word}") };
    }
    let last = path.rsplit('.').next().unwrap_or(path);
    let near = list(design).into_iter().map(|decision| decision.spec.path).find(|other| other.ends_with(last) || other.starts_with(path));
    let hint = near.map_or_else(String::new, |near| format!(": did you mean \"{near}\"?"));
    DecisionError::Unknown { path: path.to_owned(), hint }
}

/// The choice beside a decision, or beside what it stands in, that would bring it: its name and the word to choose.
fn brought_by(design: &Design, path: &str) -> Option<(String, String)> {
    list(design).into_iter().find_map(|decision| {
        let Value::Choice { options, .. } = decision.value else { return None };
        let choice = decision.spec.path;
        let (beside, _) = choice.rsplit_once('.')?;
        path.strip_prefix(beside).filter(|rest| rest.starts_with('.'))?;
        options.into_iter().map(|(word, _)| word).find_map(|word| {
            let mut changed = design.clone();
            set(&mut changed, &choice, &word).ok()?;
            value(&changed, path).map(|_| (choice.clone(), word))
        })
    })
}
