//! `cards`: how the machines are set, in the order of the work.

use std::fmt::Write as _;
use std::process::ExitCode;

use casewright_core::setup::{Setup, setups};
use casewright_sheets::json;

use crate::arguments::Input;
use crate::failure::Failure;
use crate::load::{self, Case};
use crate::output;

/// Prints the set-ups.
pub fn run(input: &Input, as_json: bool) -> Result<ExitCode, Failure> {
    let Case { design, model, .. } = load::case(input)?;
    let setups = setups(&design, &model);
    if as_json {
        output::print_json(&json::setups(&model, &setups))?;
    } else {
        let cards: Vec<String> = setups.iter().enumerate().map(|(at, setup)| card(at + 1, setup)).collect();
        let told = if cards.is_empty() { "Nothing is left to be cut.\n".to_owned() } else { cards.join("\n") };
        output::print(&format!("{}\n\n{told}", model.name))?;
    }
    Ok(ExitCode::SUCCESS)
}

fn card(number: usize, setup: &Setup) -> String {
    let mut text = format!("{number}. {}\n", setup.title());
    // Writing to a string can't fail.
    for (name, words) in setup.settings() {
        let _ = writeln!(text, "   {name}: {words}");
    }
    for on in &setup.cuts {
        let _ = writeln!(text, "   {}: {}", on.words(), on.places(setup));
    }
    let _ = writeln!(text, "   Test piece: {}", setup.test);
    for words in setup.warnings.iter().chain(&setup.cautions) {
        let _ = writeln!(text, "   ▲ {words}");
    }
    text
}
