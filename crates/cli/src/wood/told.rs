//! How an answer is told: first itself, then formula, inputs, source and status.

use casewright_core::worked::Worked;
use casewright_sheets::json::{WorkedEntry, worked};
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
        let mut told: Vec<&Worked> = Vec::new();
        for (_, figure) in &self.figures {
            lines.push(String::new());
            lines.extend(figure.explain_after(&told).iter().map(|line| format!("  {line}")));
            told.push(figure);
        }
        if !self.notes.is_empty() {
            lines.push(String::new());
        }
        lines.extend(self.notes.iter().cloned());
        lines.join("\n") + "\n"
    }

    fn document(&self) -> Document<'_> {
        let figures = self.figures.iter().map(|(key, figure)| Answer { key, figure: worked(figure) }).collect();
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
    figures: Vec<Answer>,
    notes: &'a [String],
}

#[derive(Serialize)]
struct Answer {
    key: &'static str,
    #[serde(flatten)]
    figure: WorkedEntry,
}
