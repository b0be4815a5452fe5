//! Every decision of a design by its name: value, unit, range and meaning; to ask, to set and to check.
//!
//! [`visit`] is the one place that names them. The command line, the window, the checks on what was read and the
//! origins of sizes all go through it, so a decision that is added here is everywhere at once.

mod shelves;
mod visit;
mod words;

use std::ops::RangeInclusive;

pub use visit::visit;

use super::{Design, Dimension, Ruled, edit, money, own, shop};
use crate::length::{Length, parse, trimmed};

/// The stage of the maker's week to which a decision belongs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// What it must hold.
    Brief,
    /// Sizes and construction.
    Case,
    /// How parts are joined.
    Joints,
    /// Species, sheets and moisture.
    Timber,
    /// Stock.
    Boards,
    /// Glue and tools.
    Bench,
}

/// What a decision is measured in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// Millimetres.
    Millimetres,
    /// Kilograms.
    Kilograms,
    /// Percent: of dry mass, or of the humidity that air can hold.
    Percent,
    /// Degrees Celsius.
    Celsius,
    /// Degrees of an angle.
    Degrees,
    /// Kilograms in a cubic metre.
    Density,
    /// Newtons on a square millimetre.
    Stress,
    /// Seconds.
    Seconds,
    /// Minutes.
    Minutes,
    /// Years.
    Years,
    /// Newtons.
    Newtons,
    /// A plain number, not whole.
    Number,
    /// The maker's currency.
    Price,
    /// Hours.
    Hours,
    /// A plain count.
    Count,
    /// A share of what is left.
    Share,
    /// One of some words, or free text.
    Word,
}

impl Unit {
    /// The unit as printed after a figure; empty for counts and words.
    pub fn suffix(self) -> &'static str {
        match self {
            Unit::Millimetres => "mm",
            Unit::Kilograms => "kg",
            Unit::Percent => "%",
            Unit::Celsius => "°C",
            Unit::Degrees => "°",
            Unit::Density => "kg/m³",
            Unit::Stress => "N/mm²",
            Unit::Seconds => "s",
            Unit::Minutes => "min",
            Unit::Years => "years",
            Unit::Newtons => "N",
            Unit::Share => "share",
            Unit::Hours => "h",
            Unit::Price | Unit::Count | Unit::Number | Unit::Word => "",
        }
    }

    /// The unit as it stands behind a figure, with the space before it where it has one.
    pub fn behind(self) -> String {
        match self.suffix() {
            "" => String::new(),
            degrees @ "°" => degrees.to_owned(),
            suffix => format!(" {suffix}"),
        }
    }

    /// What is written for a value.
    pub fn takes(self) -> Takes {
        match self {
            Unit::Millimetres => Takes::Length,
            Unit::Count => Takes::Whole,
            Unit::Kilograms
            | Unit::Percent
            | Unit::Celsius
            | Unit::Degrees
            | Unit::Density
            | Unit::Stress
            | Unit::Seconds
            | Unit::Minutes
            | Unit::Years
            | Unit::Newtons
            | Unit::Number
            | Unit::Share
            | Unit::Price
            | Unit::Hours
            | Unit::Word => Takes::Number,
        }
    }
}

/// How a value of a unit is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Takes {
    /// A length in any of the ways in which lengths are written.
    Length,
    /// A whole number.
    Whole,
    /// Any number.
    Number,
}

/// What is known of a decision besides its value.
#[derive(Clone, Debug, PartialEq)]
pub struct Spec {
    /// Its name: the path of its field in the file, list entries counted from 1.
    pub path: String,
    /// A few words for a panel.
    pub label: String,
    /// What it means, with its unit and from where to where it is measured.
    pub meaning: &'static str,
    /// Unit of the value.
    pub unit: Unit,
    /// Least and greatest value; empty for words.
    pub range: Option<RangeInclusive<f64>>,
    /// Where the window shows it.
    pub stage: Stage,
    /// The heading it stands under.
    pub group: String,
}

/// The value of a decision.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A length.
    Length(Length),
    /// A length that follows a rule until the maker sets one against it.
    Ruled {
        /// The maker's own, where there is one.
        own: Option<Length>,
        /// What the rule gives, where there is room for it.
        rule: Length,
    },
    /// A number that is no length.
    Number(f64),
    /// A count.
    Count(u32),
    /// One of the words in `options`, each with what a panel shows for it.
    Choice {
        /// The word in force.
        word: String,
        /// Word and label of each possible choice.
        options: Vec<(String, String)>,
    },
    /// Free text.
    Text(String),
}

impl Value {
    /// The value as a number, where it is one.
    pub fn number(&self) -> Option<f64> {
        match self {
            Value::Length(length) => Some(length.to_mm()),
            Value::Ruled { own, rule } => Some(own.unwrap_or(*rule).to_mm()),
            Value::Number(number) => Some(*number),
            Value::Count(count) => Some(f64::from(*count)),
            Value::Choice { .. } | Value::Text(_) => None,
        }
    }

    /// The value as it is typed: the shortest text that reads back as the same.
    pub fn text(&self) -> String {
        match self {
            Value::Length(length) | Value::Ruled { own: Some(length), .. } => length.to_mm().to_string(),
            Value::Ruled { own: None, .. } => BY_RULE.to_owned(),
            Value::Number(number) => number.to_string(),
            Value::Count(count) => count.to_string(),
            Value::Choice { word, .. } => word.clone(),
            Value::Text(text) => text.clone(),
        }
    }
}

/// What is typed to go back to the rule.
pub const BY_RULE: &str = "by rule";

/// A decision: what is known of it, and its value.
#[derive(Clone, Debug, PartialEq)]
pub struct Decision {
    /// What is known of it.
    pub spec: Spec,
    /// Its value.
    pub value: Value,
}

/// The place in a design where a decision's value lives.
pub enum Slot<'a> {
    /// A length.
    Length(&'a mut Length),
    /// A length that follows a rule, and what the rule gives.
    Ruled(&'a mut Ruled, Length),
    /// A number.
    Number(&'a mut f64),
    /// A count.
    Count(&'a mut u32),
    /// One of some words.
    Choice(&'a mut dyn Choice),
    /// Free text.
    Text(&'a mut String),
}

/// A value that is one of a closed set of words.
pub trait Choice {
    /// The word in force.
    fn word(&self) -> String;
    /// Word and label of each.
    fn options(&self) -> Vec<(String, String)>;
    /// Takes the value of `word`; false when there is no such word.
    fn choose(&mut self, word: &str) -> bool;
}

/// Why a decision could not be set, or is not fit to build from.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum DecisionError {
    /// There is no decision of that name.
    #[error("there is no decision \"{path}\"{hint}")]
    Unknown {
        /// The name asked for.
        path: String,
        /// A near name, as ": did you mean …?", or nothing.
        hint: String,
    },
    /// The value is outside its range or no number.
    #[error("{path}: {found} is out of range; it must be {least} to {greatest} {unit}")]
    OutOfRange {
        /// The decision.
        path: String,
        /// The value found.
        found: String,
        /// Least value.
        least: String,
        /// Greatest value.
        greatest: String,
        /// Unit.
        unit: &'static str,
    },
    /// The text is not a value of the right kind.
    #[error("{path}: \"{found}\" will not do; {expected}")]
    Unreadable {
        /// The decision.
        path: String,
        /// The text found.
        found: String,
        /// What would do.
        expected: String,
    },
}

impl DecisionError {
    /// The decision it is about.
    pub fn path(&self) -> &str {
        match self {
            DecisionError::Unknown { path, .. } | DecisionError::OutOfRange { path, .. } | DecisionError::Unreadable { path, .. } => path,
        }
    }
}

/// Every decision of the design, in the order in which a maker takes them.
pub fn list(design: &Design) -> Vec<Decision> {
    let mut all = Vec::with_capacity(128);
    visit(&mut design.clone(), &mut |spec, slot| {
        let value = value_of(&slot);
        all.push(Decision { spec, value });
    });
    all
}

/// The value of the decision `path`, where there is one.
pub fn value(design: &Design, path: &str) -> Option<Value> {
    list(design).into_iter().find(|decision| decision.spec.path == path).map(|decision| decision.value)
}

fn value_of(slot: &Slot<'_>) -> Value {
    match slot {
        Slot::Length(length) => Value::Length(**length),
        Slot::Ruled(size, rule) => Value::Ruled { own: size.own().map(Length::mm), rule: *rule },
        Slot::Number(number) => Value::Number(**number),
        Slot::Count(count) => Value::Count(**count),
        Slot::Choice(choice) => Value::Choice { word: choice.word(), options: choice.options() },
        Slot::Text(text) => Value::Text((**text).clone()),
    }
}

/// Every decision that is out of range.
pub fn check(design: &Design) -> Vec<DecisionError> {
    let decisions = list(design);
    let mut errors: Vec<_> = decisions.iter().filter_map(out_of_range).collect();
    errors.extend(decisions.iter().filter_map(unknown_word));
    errors.extend(own::check_ids(&design.timber));
    errors
}

fn out_of_range(decision: &Decision) -> Option<DecisionError> {
    if let Value::Ruled { own: None, .. } = decision.value {
        return None;
    }
    let (range, number) = (decision.spec.range.as_ref()?, decision.value.number()?);
    (!range.contains(&number)).then(|| DecisionError::OutOfRange {
        path: decision.spec.path.clone(),
        found: if number.is_finite() { trimmed(number) } else { number.to_string() },
        least: trimmed(*range.start()),
        greatest: trimmed(*range.end()),
        unit: decision.spec.unit.suffix(),
    })
}

fn unknown_word(decision: &Decision) -> Option<DecisionError> {
    let Value::Choice { word, options } = &decision.value else { return None };
    (!options.iter().any(|(option, _)| option == word)).then(|| DecisionError::Unreadable {
        path: decision.spec.path.clone(),
        found: word.clone(),
        expected: expected_words(options),
    })
}

fn expected_words(options: &[(String, String)]) -> String {
    let words: Vec<_> = options.iter().map(|(word, _)| word.as_str()).collect();
    format!("write one of: {}", words.join(", "))
}

/// Sets the decision `path` from a text, as typed on the command line or in a field.
///
/// `part.NAME.length` (or `.width`, `.thickness`) sets a size of one part against the rules; `measured.DECISION` and
/// `made.NAME.length` record what was measured (see [`shop`]).
///
/// # Errors
/// When there is no such decision or the text can't be read. The design is then unchanged. Whether the value is in range
/// is [`check`]'s to say, so that a design can pass through values that are not yet right.
pub fn set(design: &mut Design, path: &str, text: &str) -> Result<(), DecisionError> {
    if let Some((part, of)) = part_size(path) {
        let value = read_length(path, text)?;
        edit::override_part(design, part, of, Some(value));
        return Ok(());
    }
    if let Some(done) = shop::set(design, path, text).or_else(|| money::set(design, path, text)) {
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

#[cfg(test)]
mod tests {
    use super::*;

    fn demo() -> Design {
        crate::design::text::read(include_str!("../../../../../examples/records_cabinet.ron")).expect("the demo")
    }

    #[test]
    fn every_decision_can_be_set_to_what_it_is() {
        let design = demo();
        for decision in list(&design) {
            let mut changed = design.clone();
            set(&mut changed, &decision.spec.path, &decision.value.text()).unwrap_or_else(|error| panic!("{error}"));
            assert_eq!(changed, design, "{}", decision.spec.path);
        }
    }

    #[test]
    fn no_two_decisions_share_a_name() {
        let mut paths: Vec<_> = list(&demo()).into_iter().map(|decision| decision.spec.path).collect();
        paths.sort();
        let all = paths.len();
        paths.dedup();
        assert_eq!(paths.len(), all);
    }

    #[test]
    fn a_name_that_is_not_there_gets_a_near_one() {
        let error = set(&mut demo(), "case.width", "900").expect_err("no such decision").to_string();
        assert!(error.contains("carcase.width"), "{error}");
    }

    #[test]
    fn inches_are_taken_where_a_length_is_wanted() {
        let mut design = demo();
        set(&mut design, "carcase.rails.thickness", "3/4 in").expect("a length");
        assert!((design.carcase.rails.thickness.to_mm() - 19.05).abs() < 1e-9);
    }

    #[test]
    fn a_size_by_rule_takes_a_length_and_goes_back_to_the_rule() {
        let mut design = demo();
        let path = "joinery.rail_to_post.tenon.thickness";
        assert!(set(&mut design, path, "7").is_err(), "loose tenons have no such size");
        set(&mut design, "joinery.rail_to_post.by", "mortise_and_tenon").expect("a joint");
        let value = |design: &Design| list(design).into_iter().find(|decision| decision.spec.path == path).expect("a size").value;
        assert_eq!(value(&design), Value::Ruled { own: None, rule: Length::mm(8.0) });
        set(&mut design, path, "1/4 in").expect("a length");
        assert_eq!(value(&design).text(), "6.35");
        set(&mut design, path, "by rule").expect("the way back");
        assert_eq!(value(&design).text(), "by rule");
        assert!(set(&mut design, path, "thick").expect_err("no length").to_string().contains("by rule"));
        set(&mut design, path, "900").expect("a length");
        assert!(check(&design).iter().any(|error| error.path() == path));
    }

    #[test]
    fn a_size_of_one_part_is_set_by_its_name() {
        let mut design = demo();
        set(&mut design, "part.rail.front.bottom.length", "1250").expect("a part's size");
        assert_eq!(design.overrides.len(), 1);
        assert_eq!(design.overrides[0].part, "rail.front.bottom");
        set(&mut design, "part.rail.front.bottom.length", "1252").expect("the same again");
        assert_eq!(design.overrides.len(), 1);
    }
}
