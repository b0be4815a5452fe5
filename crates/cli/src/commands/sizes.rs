//! `sizes`: every decision by its name.

use std::process::ExitCode;

use casewright_core::design::decisions::{self, Decision, Value};
use casewright_core::joint::as_cut;
use casewright_core::length::trimmed;
use casewright_core::{Design, Model, derive};
use casewright_sheets::json;

use crate::arguments::Input;
use crate::failure::Failure;
use crate::load;
use crate::output::{self, Align};

/// Prints the decisions.
pub fn run(input: &Input, as_json: bool) -> Result<ExitCode, Failure> {
    let design = load::design(input)?;
    // Sizes that leave no room for a part are listed all the same.
    let model = derive(&design).ok();
    if as_json {
        output::print_json(&json::sizes(&design, model.as_ref()))?;
    } else {
        output::print(&table(&design, model.as_ref()))?;
    }
    Ok(ExitCode::SUCCESS)
}

fn table(design: &Design, model: Option<&Model>) -> String {
    let head = [("Name", Align::Left), ("Value", Align::Right), ("Unit", Align::Left), ("Range", Align::Left), ("Meaning", Align::Left)];
    let rows: Vec<_> = decisions::list(design)
        .into_iter()
        .map(|decision| {
            let range = range(&decision);
            let cut = model.map(|model| as_cut(model, &decision)).unwrap_or_default();
            let Decision { spec, value } = decision;
            let meaning = cut.iter().fold(spec.meaning.to_owned(), |meaning, cut| format!("{meaning} Now {}.", cut.describe()));
            [spec.path, value.text(), spec.unit.suffix().to_owned(), range, meaning]
        })
        .collect();
    output::table(head, &rows)
}

/// The longest list of words that is printed in full.
const MOST_WORDS: usize = 4;

fn range(decision: &Decision) -> String {
    if let Some(range) = &decision.spec.range {
        let rule = if let Value::Ruled { rule, .. } = decision.value { format!(", by rule {rule}") } else { String::new() };
        return format!("{} to {}{rule}", trimmed(*range.start()), trimmed(*range.end()));
    }
    match &decision.value {
        Value::Choice { options, .. } if options.len() <= MOST_WORDS => {
            let words: Vec<_> = options.iter().map(|(word, _)| word.as_str()).collect();
            words.join(", ")
        }
        Value::Choice { options, .. } => format!("one of {}, see --json", options.len()),
        Value::Text(_) => "any words".to_owned(),
        Value::Length(_) | Value::Ruled { .. } | Value::Number(_) | Value::Count(_) => String::new(),
    }
}
