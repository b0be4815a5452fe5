//! `papers`: cut list, drawings and shelf plan as files.

use std::fs;
use std::path::Path;
use std::process::ExitCode;

use casewright_core::DryFit;
use casewright_core::design::pile;
use casewright_sheets::{Paper, papers};

use crate::arguments::Input;
use crate::commands::check::summary;
use crate::failure::Failure;
use crate::load::{self, Case};
use crate::output;

/// Writes the papers into a folder.
pub fn run(input: &Input, out: &Path, date: Option<String>, pile: Option<&Path>) -> Result<ExitCode, Failure> {
    let Case { mut design, model, solids } = load::case(input)?;
    let mut told = Vec::new();
    if let Some(path) = pile {
        design.shop.pile = load::rows(path, pile::read, &mut told)?;
    }
    let findings = DryFit::of(&design, &model, &solids).findings;
    let paper = Paper { date };
    let all = papers(&design, &model, &solids, &findings, &paper).map_err(|error| Failure::told(error.to_string()))?;
    let fail = |path: &Path, error: &std::io::Error| Failure::told(format!("{}: it can't be written: {error}", path.display()));
    fs::create_dir_all(out).map_err(|error| fail(out, &error))?;
    for (name, bytes) in all {
        let path = out.join(name);
        fs::write(&path, bytes).map_err(|error| fail(&path, &error))?;
        told.push(path.display().to_string());
    }
    told.push(format!("{}: {}\n", model.name, summary(&findings)));
    output::print(&told.join("\n"))?;
    Ok(ExitCode::SUCCESS)
}
