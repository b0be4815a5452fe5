//! Every decision of a design by its name: value, unit, range and meaning; to ask, to set and to check.
//!
//! [`visit`] is the one place that names them. The command line, the window, the checks on what was read and the
//! origins of sizes all go through it, so a decision that is added here is everywhere at once.

mod set;
mod shelves;
mod unit;
mod visit;
mod words;

use std::ops::RangeInclusive;

pub use set::{set, set_all};
pub use unit::{Takes, Unit};
pub use visit::visit;

use super::{Design, Ruled, own};
use crate::length::{Length, trimmed};
use crate::worked::figure;

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

/// Every decision that is out of range, but for what lies in the rack: a bad row there keeps no case from being built, and the layouts
/// tell it (see [`boards::cut`](crate::boards::cut())).
pub fn check(design: &Design) -> Vec<DecisionError> {
    let mut decisions = list(design);
    let may_be_bad = |path: &str| path.starts_with("shop.pile.") || path.starts_with("shop.dealer.");
    decisions.retain(|decision| !may_be_bad(&decision.spec.path));
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
        found: if number.is_finite() { figure(number) } else { number.to_string() },
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
