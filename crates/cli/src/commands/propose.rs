//! `propose`: cases that hold what there is to keep, side by side.

use std::path::Path;
use std::process::ExitCode;

use casewright_core::contents::propose::{Proposal, propose, too_large};
use casewright_core::design::{Design, text};
use casewright_core::length::{trimmed, trimmed_to};
use casewright_sheets::json;

use crate::arguments::Input;
use crate::failure::Failure;
use crate::load;
use crate::output::{self, Align};

/// Prints the proposals; one that is taken is written into a file. Ends with 1 when there is none.
pub fn run(input: &Input, take: Option<usize>, out: Option<&Path>, as_json: bool) -> Result<ExitCode, Failure> {
    let design = load::design(input)?;
    let found = propose(&design, &|_| true);
    if let (Some(take), Some(out)) = (take, out) {
        let proposal = found
            .get(take.wrapping_sub(1))
            .ok_or_else(|| Failure::told(format!("there is no proposal {take}; there are {}, counted from 1", found.len())))?;
        let written = text::write(&proposal.design).map_err(|error| Failure::told(error.to_string()))?;
        load::write(out, &written).map_err(|error| Failure::told(format!("{}: it can't be written: {error}", out.display())))?;
        output::print(&format!("{}\n", out.display()))?;
        return Ok(ExitCode::SUCCESS);
    }
    if as_json {
        output::print_json(&json::proposals(&design, &found))?;
    } else {
        output::print(&told(&design, &found))?;
    }
    Ok(if found.is_empty() { ExitCode::from(1) } else { ExitCode::SUCCESS })
}

fn told(design: &Design, found: &[Proposal]) -> String {
    let name = &design.name;
    if found.is_empty() {
        let why = too_large(design).into_iter().fold(String::new(), |text, why| text + "  " + &why + "\n");
        return format!("{name}: no case within reason holds all that there is to keep\n{why}");
    }
    let rows: Vec<[String; 8]> = found
        .iter()
        .enumerate()
        .map(|(index, proposal)| {
            let aims: Vec<String> = proposal.aims.iter().map(|least| least.words()).collect();
            let bays: Vec<String> = proposal.bays.iter().map(|bay| trimmed(*bay)).collect();
            [
                (index + 1).to_string(),
                [proposal.width, proposal.height, proposal.depth].map(trimmed).join(" × "),
                bays.join(", "),
                trimmed_to(proposal.amounts.timber.value, 3),
                trimmed_to(proposal.amounts.sheet.value, 2),
                proposal.cost.total.as_ref().map_or_else(
                    || "no price".to_owned(),
                    |total| format!("{} {}", trimmed_to(total.value, 0), proposal.design.money.currency),
                ),
                trimmed_to(proposal.stands.filled() * 100.0, 0),
                if aims.is_empty() { "lower, or less of something else".to_owned() } else { aims.join(", ") },
            ]
        })
        .collect();
    let head = [
        ("", Align::Right),
        ("Width × height × depth", Align::Left),
        ("Bays, clear", Align::Left),
        ("Timber m³", Align::Right),
        ("Sheet m²", Align::Right),
        ("Cost", Align::Right),
        ("Full %", Align::Right),
        ("Least in", Align::Left),
    ];
    let note = "\nEach holds everything, two high at most and nothing behind anything else, built as the case at hand. \"proven\": no case so built \
                is less; \"none takes under\": what is proven of every other.\n";
    let fails: String = found
        .iter()
        .enumerate()
        .flat_map(|(index, proposal)| proposal.fails.iter().map(move |words| format!("{} would not pass: {words}\n", index + 1)))
        .collect();
    let anchor: String = found
        .iter()
        .enumerate()
        .filter_map(|(index, proposal)| Some(format!("{} must be anchored: {}\n", index + 1, proposal.to_anchor.as_ref()?)))
        .collect();
    format!("{name}: cases that hold all there is to keep\n\n{}{note}{fails}{anchor}", output::table(head, &rows))
}
