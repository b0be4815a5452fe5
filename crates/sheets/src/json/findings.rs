//! What the checks found.

use casewright_core::inspect::{Figure, Remedy};
use casewright_core::{Finding, Model, Seriousness};
use serde::Serialize;

use super::worked::{WorkedEntry, worked};
use super::{as_told, tidy3};

/// The version of the findings' document; 2 since a finding has a list of remedies.
pub const CHECK_SCHEMA: u32 = 2;

/// What the checks found in a case; schema `assets/schema/check.json`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CheckDocument {
    /// Version of the document.
    pub schema: u32,
    /// What the piece is called.
    pub name: String,
    /// How many findings will fail.
    pub will_fail: usize,
    /// How many are at risk.
    pub at_risk: usize,
    /// How many are worth knowing.
    pub notes: usize,
    /// The findings, the most serious first.
    pub findings: Vec<FindingEntry>,
}

/// One finding.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FindingEntry {
    /// The rule that found it.
    pub rule: &'static str,
    /// "will fail", "at risk" or "note".
    pub seriousness: &'static str,
    /// Names of the parts it is about, the one to look at first.
    pub parts: Vec<String>,
    /// The joint it is about: its id in the parts document.
    pub joint: Option<usize>,
    /// Where to look: x, y and z in the case, mm.
    pub place: Option<[f64; 3]>,
    /// The figures behind it.
    pub figures: Vec<FigureEntry>,
    /// How the figures are worked out, and what they are held against.
    pub reckoned: &'static str,
    /// What is wrong, in one sentence.
    pub message: String,
    /// Where the rule comes from.
    pub source: &'static str,
    /// The published figures behind it that are from memory, with what they are of.
    pub from_memory: Vec<String>,
    /// Changes that each mend it, the one to think of first first; empty where none is known.
    pub remedies: Vec<RemedyEntry>,
}

/// A figure behind a finding.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FigureEntry {
    /// What it is.
    pub name: &'static str,
    /// How much.
    pub value: f64,
    /// Unit; empty for a count.
    pub unit: &'static str,
    /// How it comes about, with what it rests on; none where it is measured on the solids, counted, or decided.
    pub why: Option<WorkedEntry>,
}

/// A change that mends a finding.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RemedyEntry {
    /// What to do.
    pub words: String,
    /// Decisions to set; empty when it can only be told.
    pub changes: Vec<ChangeEntry>,
}

/// A decision to set, as `--with NAME=VALUE` takes it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ChangeEntry {
    /// The decision.
    pub name: String,
    /// Its new value, as typed.
    pub value: String,
}

/// The findings of a case as a document.
pub fn check(model: &Model, findings: &[Finding]) -> CheckDocument {
    let count = |seriousness| findings.iter().filter(|finding| finding.seriousness == seriousness).count();
    CheckDocument {
        schema: CHECK_SCHEMA,
        name: model.name.clone(),
        will_fail: count(Seriousness::WillFail),
        at_risk: count(Seriousness::AtRisk),
        notes: count(Seriousness::Note),
        findings: findings.iter().map(|finding| entry(model, finding)).collect(),
    }
}

fn entry(model: &Model, finding: &Finding) -> FindingEntry {
    // What a finding explains is between the checks.
    let Finding { rule, seriousness, parts, joint, place, figures, message, source, remedies, explains: _ } = finding;
    FindingEntry {
        rule: rule.id(),
        seriousness: seriousness.word(),
        parts: parts.iter().map(|part| model.part(*part).name.clone()).collect(),
        joint: joint.map(|joint| joint.0),
        place: place.map(tidy3),
        figures: figures.iter().map(figure_entry).collect(),
        reckoned: rule.reckoned(),
        message: message.clone(),
        source,
        from_memory: finding.recalled(model),
        remedies: remedies.iter().map(remedy_entry).collect(),
    }
}

fn figure_entry(figure: &Figure) -> FigureEntry {
    let Figure { name, value, unit, why } = figure;
    FigureEntry { name, value: as_told(*value), unit, why: why.as_deref().map(worked) }
}

fn remedy_entry(remedy: &Remedy) -> RemedyEntry {
    let Remedy { words, changes } = remedy;
    RemedyEntry {
        words: words.clone(),
        changes: changes.iter().map(|(name, value)| ChangeEntry { name: name.clone(), value: value.clone() }).collect(),
    }
}
