//! Every decision by its name.

use casewright_core::design::decisions::{self, Decision, Stage, Unit, Value};
use casewright_core::joint::{AsCut, as_cut};
use casewright_core::{Design, Model};
use serde::Serialize;

use super::{SCHEMA, tidy};

/// The decisions of a design; schema `assets/schema/sizes.json`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SizesDocument {
    /// Version of the document.
    pub schema: u32,
    /// What the piece is called.
    pub name: String,
    /// The decisions, in the order in which a maker takes them.
    pub sizes: Vec<SizeEntry>,
}

/// One decision.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SizeEntry {
    /// Its name, as `--with NAME=VALUE` takes it.
    pub name: String,
    /// A few words for it.
    pub label: String,
    /// The heading it stands under.
    pub group: String,
    /// Its value.
    pub value: ValueEntry,
    /// "mm", "kg", "%", "°C", "°", "kg/m³", "N/mm²", "h", "share", "price", "count" or "word".
    pub unit: &'static str,
    /// Least value, for numbers.
    pub least: Option<f64>,
    /// Greatest value, for numbers.
    pub greatest: Option<f64>,
    /// What its rule gives, for a size that follows one until it is set; none for the others.
    pub rule: Option<f64>,
    /// What joints are cut to where that is not what is asked; empty where all are cut as asked.
    pub cut: Vec<CutEntry>,
    /// What it means.
    pub meaning: &'static str,
    /// The stage of the work it belongs to.
    pub stage: &'static str,
    /// The words that will do, where only some do.
    pub choices: Option<Vec<ChoiceEntry>>,
}

/// The value of a decision.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
pub enum ValueEntry {
    /// A number in the unit of the decision.
    Number(f64),
    /// A word or free text.
    Text(String),
}

/// A word that will do.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ChoiceEntry {
    /// The word.
    pub word: String,
    /// What it means.
    pub label: String,
}

/// What is cut of a decision where that is not what it asks.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CutEntry {
    /// What is cut.
    pub value: f64,
    /// In how many joints.
    pub joints: usize,
    /// Of how many that rest on it.
    pub of: usize,
    /// Why it is not as asked.
    pub why: &'static str,
}

/// The decisions of a design as a document; with its model, where there is one, also what is cut other than asked.
pub fn sizes(design: &Design, model: Option<&Model>) -> SizesDocument {
    let sizes = decisions::list(design).into_iter().map(|decision| entry(decision, model)).collect();
    SizesDocument { schema: SCHEMA, name: design.name.clone(), sizes }
}

fn entry(decision: Decision, model: Option<&Model>) -> SizeEntry {
    let cut = model.map(|model| as_cut(model, &decision)).unwrap_or_default();
    let cut = cut.into_iter().map(|AsCut { mm, joints, of, why }| CutEntry { value: tidy(mm), joints, of, why }).collect();
    let Decision { spec, value } = decision;
    let (number, rule) = match value {
        Value::Ruled { own, rule } => (own.map(casewright_core::Length::to_mm), Some(tidy(rule.to_mm()))),
        Value::Length(_) | Value::Number(_) | Value::Count(_) | Value::Choice { .. } | Value::Text(_) => (value.number(), None),
    };
    let number = number.map(|number| ValueEntry::Number(tidy(number)));
    let (least, greatest) = spec.range.map_or((None, None), |range| (Some(*range.start()), Some(*range.end())));
    SizeEntry {
        name: spec.path,
        label: spec.label,
        group: spec.group,
        unit: unit(spec.unit),
        least,
        greatest,
        rule,
        cut,
        meaning: spec.meaning,
        stage: stage(spec.stage),
        value: number.unwrap_or_else(|| ValueEntry::Text(value.text())),
        choices: match value {
            Value::Choice { options, .. } => Some(options.into_iter().map(|(word, label)| ChoiceEntry { word, label }).collect()),
            Value::Length(_) | Value::Ruled { .. } | Value::Number(_) | Value::Count(_) | Value::Text(_) => None,
        },
    }
}

fn unit(unit: Unit) -> &'static str {
    match unit {
        Unit::Count => "count",
        Unit::Number => "number",
        Unit::Word => "word",
        Unit::Price => "price",
        measured => measured.suffix(),
    }
}

fn stage(stage: Stage) -> &'static str {
    match stage {
        Stage::Brief => "brief",
        Stage::Case => "case",
        Stage::Joints => "joints",
        Stage::Timber => "timber",
        Stage::Boards => "boards",
        Stage::Bench => "bench",
    }
}
