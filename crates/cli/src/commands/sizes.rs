//! `sizes`: every decision by its name.

use std::process::ExitCode;

use casewright_core::Design;
use casewright_core::design::decisions::{self, Decision, Value};
use casewright_core::length::trimmed;
use casewright_sheets::json;

use crate::arguments::Input;
use crate::failure::Failure;
use crate::load;
use crate::output::{self, Align};

/// Prints the decisions.
pub fn run(input: &Input, as_json: bool) -> Result<ExitCode, Failure> {
    let design = load::design(input)?;
    if as_json {
        output::print_json(&json::sizes(&design))?;
    } else {
        output::print(&table(&design))?;
    }
    Ok(ExitCode::SUCCESS)
}

fn table(design: &Design) -> String {
    let head = [("Name", Align::Left), ("Value", Align::Right), ("Unit", Align::Left), ("Range", Align::Left), ("Meaning", Align::Left)];
    let rows: Vec<_> = decisions::list(design)
        .into_iter()
        .map(|decision| {
            let range = range(&decision);
            let Decision { spec, value } = decision;
            [spec.path, value.text(), spec.unit.suffix().to_owned(), range, spec.meaning.to_owned()]
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
