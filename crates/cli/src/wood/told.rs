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

/// The key of a figure that is told beside the answer, which does not rest on it.
pub const FOR_COMPARISON: &str = "after_by_eurocode";

impl Told {
    /// Prints it for people, or as JSON.
    pub fn print(&self, json: bool) -> Result<(), Failure> {
        if json { output::print_json(&self.document()) } else { output::print(&self.text()) }
    }

    fn text(&self) -> String {
        let mut lines = vec![self.answer.clone()];
        lines.extend(self.recalled());
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

    /// A line of what the answer rests on that is from memory; nothing where it is no worse than read.
    fn recalled(&self) -> Option<String> {
        let mut names: Vec<String> = Vec::new();
        let answered = self.figures.iter().filter(|(key, _)| *key != FOR_COMPARISON);
        for name in answered.flat_map(|(_, figure)| figure.recalled()) {
            if !names.iter().any(|known| known == name) {
                names.push(name.to_owned());
            }
        }
        (!names.is_empty()).then(|| format!("This rests on figures from memory: {}", names.join(", ")))
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
