//! Figures that can be asked why.

use casewright_core::worked::{Basis, Worked};
use serde::Serialize;

/// A figure and what it rests on.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct WorkedEntry {
    /// What it is.
    pub name: String,
    /// The figure, in its unit.
    pub value: f64,
    /// Its unit; empty for a plain number.
    pub unit: &'static str,
    /// How the weakest figure or formula it rests on was obtained; "given" for what the maker decided, measured or typed.
    pub how: &'static str,
    /// The formula; none where it was not worked out.
    pub formula: Option<&'static str>,
    /// Where the formula or the figure stands; none where the maker gave it.
    pub source: Option<String>,
    /// What went into the formula.
    pub inputs: Vec<WorkedEntry>,
}

/// A figure as a document has it.
pub fn worked(worked: &Worked) -> WorkedEntry {
    let bare = WorkedEntry {
        name: worked.name.to_string(),
        value: worked.value,
        unit: worked.unit,
        how: "given",
        formula: None,
        source: None,
        inputs: Vec::new(),
    };
    match &worked.basis {
        Basis::Given | Basis::Size(_) => bare,
        Basis::Table { how, source } => WorkedEntry { how: how.words(), source: Some(source.to_string()), ..bare },
        Basis::Formula { formula, source, inputs, .. } => WorkedEntry {
            how: worked.how().words(),
            formula: Some(formula),
            source: Some((*source).to_owned()),
            inputs: inputs.iter().map(self::worked).collect(),
            ..bare
        },
    }
}
