//! `papers`: all papers as files.

use std::process::ExitCode;

use casewright_core::DryFit;
use casewright_core::design::pile;
use casewright_sheets::papers;

use crate::arguments::{Input, PapersWords};
use crate::commands::check::summary;
use crate::failure::Failure;
use crate::load::{self, Case};
use crate::output::{self, Folder};

/// Writes the papers into a folder.
pub fn run(input: &Input, words: &PapersWords) -> Result<ExitCode, Failure> {
    let Case { mut design, model, solids } = load::case(input)?;
    let mut told = Vec::new();
    if let Some(path) = &words.pile {
        design.shop.pile = load::rows(path, pile::read, &mut told)?;
    }
    let findings = DryFit::of(&design, &model, &solids).findings;
    let all = papers(&design, &model, &solids, &findings, &words.paper()).map_err(|error| Failure::told(error.to_string()))?;
    let folder = Folder::made(&words.out)?;
    for (name, bytes) in all {
        told.push(folder.write(name, &bytes)?);
    }
    told.push(format!("{}: {}\n", model.name, summary(&findings)));
    output::print(&told.join("\n"))?;
    Ok(ExitCode::SUCCESS)
}
