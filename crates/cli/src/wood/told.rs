//! How an answer is told: first itself, then formula, inputs, source and status.

use casewright_core::worked::{Basis, Worked};
use serde::Serialize;

use crate::failure::Failure;
use crate::output;

/// An answer.
pub struct Told {
    /// Which sum it is of: a word of the command line.
    pub sum: &'static str,
    /// The answer in a sentence.
    pub answer: String,
    /// Its figures, each by a name that other programs can rely on.
    pub figures: Vec<(&'static str, Worked)>,
    /// What else is worth knowing.
    pub notes: Vec<String>,
}

impl Told {
    /// Prints it for people, or as JSON.
    pub fn print(&self, json: bool) -> Result<(), Failure> {
        if json { output::print_json(&self.document()) } else { output::print(&self.text()) }
    }

    fn text(&self) -> String {
        let mut lines = vec![self.answer.clone()];
        for (_, figure) in &self.figures {
            lines.push(String::new());
            lines.extend(figure.explain().iter().map(|line| format!("  {line}")));
        }
        if !self.notes.is_empty() {
            lines.push(String::new());
        }
        lines.extend(self.notes.iter().cloned());
        lines.join("\n") + "\n"
    }

    fn document(&self) -> Document<'_> {
        let figures = self.figures.iter().map(|(key, worked)| Answer { key, figure: entry(worked) }).collect();
        Document { schema: SCHEMA, sum: self.sum, answer: &self.answer, figures, notes: &self.notes }
    }
}

/// Version of the document; schema `assets/schema/wood.json`. A field that is added keeps it; one that goes or changes its meaning raises it.
const SCHEMA: u32 = 1;

#[derive(Serialize)]
struct Document<'a> {
    schema: u32,
    sum: &'static str,
    answer: &'a str,
    figures: Vec<Answer<'a>>,
    notes: &'a [String],
}

#[derive(Serialize)]
struct Answer<'a> {
    key: &'static str,
    #[serde(flatten)]
    figure: Entry<'a>,
}

#[derive(Serialize)]
struct Entry<'a> {
    name: &'a str,
    value: f64,
    unit: &'static str,
    how: &'static str,
    formula: Option<&'static str>,
    source: Option<&'a str>,
    inputs: Vec<Entry<'a>>,
}

fn entry(worked: &Worked) -> Entry<'_> {
    let bare =
        Entry { name: &worked.name, value: worked.value, unit: worked.unit, how: "given", formula: None, source: None, inputs: Vec::new() };
    match &worked.basis {
        Basis::Given | Basis::Size(_) => bare,
        Basis::Table { how, source } => Entry { how: how.words(), source: Some(source), ..bare },
        Basis::Formula { formula, source, inputs, .. } => Entry {
            how: worked.how().words(),
            formula: Some(formula),
            source: Some(source),
            inputs: inputs.iter().map(entry).collect(),
            ..bare
        },
    }
}
