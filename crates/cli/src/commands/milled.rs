//! `milled`: what was measured and made in the shop, and what the dry fit finds with it: the same as `check` finds.

use std::process::ExitCode;

use casewright_core::design::shop::{self, Stock};
use casewright_core::design::{Dimension, decisions, text};
use casewright_core::inspect::Seriousness;
use casewright_core::length::trimmed;
use casewright_core::model::Part;
use casewright_core::origin::Origin;
use casewright_core::{DryFit, Finding, Model};

use crate::arguments::Input;
use crate::commands::check;
use crate::failure::Failure;
use crate::find;
use crate::load::{self, Case};
use crate::output::{self, Align};

/// Tells what is recorded and what is found with it; with words it records first, in the file. Ends with 1 when something will fail.
pub fn run(input: &Input, words: &[String]) -> Result<ExitCode, Failure> {
    if !words.is_empty() {
        record(input, words)?;
    }
    let Case { design, model, solids } = load::case(input)?;
    let findings = DryFit::of(&design, &model, &solids).findings;
    output::print(&told(&shop::stock(&design), &model, &findings))?;
    let fails = findings.iter().any(|finding| finding.seriousness == Seriousness::WillFail);
    Ok(if fails { ExitCode::from(1) } else { ExitCode::SUCCESS })
}

/// Writes what the words say into the file: a part and what is recorded of it, or stock and its measures.
fn record(input: &Input, words: &[String]) -> Result<(), Failure> {
    let file = input.file.display();
    if !input.with.is_empty() {
        return Err(Failure::told("--with only tries decisions; leave it out where something is to be written down"));
    }
    let (parts, values): (Vec<_>, Vec<_>) = words.iter().partition(|word| !word.contains('='));
    let changes: Vec<(&str, &str)> = values.iter().filter_map(|word| word.split_once('=')).collect();
    let (mut design, source) = load::read(input)?;
    let paths = match parts.as_slice() {
        [] => changes.iter().map(|(of, value)| (format!("measured.{of}"), *value)).collect::<Vec<_>>(),
        [_] if changes.is_empty() => return Err(Failure::told("say what to write down, such as state=cut or length=798.2")),
        [wanted] => {
            let Case { model, .. } = load::case(input)?;
            let found = find::parts(input, &model, wanted)?;
            // The state comes last, so that a part is written down as cut to what was measured.
            let (states, sizes): (Vec<_>, Vec<_>) = changes.iter().partition(|(what, _)| *what == "state");
            let ordered = || sizes.iter().chain(&states);
            found.iter().flat_map(|part| ordered().map(move |(what, value)| (format!("made.{}.{what}", part.name), *value))).collect()
        }
        [first, second, ..] => {
            return Err(Failure::told(format!(
                "name one part at a time: \"{first}\" and \"{second}\" are two; a mark names all that are alike"
            )));
        }
    };
    for (path, value) in &paths {
        decisions::set(&mut design, path, value).map_err(|error| Failure::told(format!("{file}: {error}")))?;
    }
    let text = text::write_shop(&source, &design).map_err(|error| Failure::told(format!("{file}: {error}")))?;
    load::write(&input.file, &text).map_err(|error| Failure::told(format!("{file}: it can't be written: {error}")))
}

fn told(stock: &[Stock], model: &Model, findings: &[Finding]) -> String {
    let mut text = String::new();
    let batches: Vec<_> = stock
        .iter()
        .filter_map(|stock| {
            Some([stock.path.clone(), trimmed(stock.planned.to_mm()), trimmed(stock.measured?.to_mm()), stock.label.clone()])
        })
        .collect();
    if !batches.is_empty() {
        let head = [("Stock", Align::Left), ("Planned", Align::Right), ("Measured", Align::Right), ("", Align::Left)];
        text += &output::table(head, &batches);
        text.push('\n');
    }
    let parts: Vec<_> = model.parts.iter().filter_map(recorded).collect();
    if !parts.is_empty() {
        let head = [("Part", Align::Left), ("Mark", Align::Left), ("State", Align::Left), ("Sizes", Align::Left), ("Held", Align::Left)];
        text += &output::table(head, &parts);
        text.push('\n');
    }
    if text.is_empty() {
        text += "Nothing is measured or made yet: all is as planned\n\n";
    }
    text + &check::told(model, findings)
}

/// A part of which something is recorded: its sizes, and which of them hold against the plan.
fn recorded(part: &Part) -> Option<[String; 5]> {
    let held: Vec<_> = Dimension::ALL
        .into_iter()
        .filter_map(|of| {
            let size = &part.size[of.index()];
            let Origin::Measured { planned, .. } = &size.origin else { return None };
            size.is_measured().then(|| format!("{} {} (planned {})", of.word(), trimmed(size.mm), trimmed(planned.mm)))
        })
        .collect();
    let idle = held.is_empty() && part.state == shop::State::Planned;
    (!idle).then(|| [part.name.clone(), part.mark.clone(), part.state.word().to_owned(), part.size_text(), held.join(", ")])
}
