//! `papers`: the cut list and the shop drawing as files.

use std::fs;
use std::path::Path;
use std::process::ExitCode;

use casewright_core::{CutList, DryFit};
use casewright_sheets::{Paper, cut_list_csv, drawing_pdf};

use crate::arguments::Input;
use crate::commands::check::summary;
use crate::failure::Failure;
use crate::load::{self, Case};
use crate::output;

/// Name of the cut list.
const CUT_LIST: &str = "cut_list.csv";
/// Name of the drawing.
const DRAWINGS: &str = "drawings.pdf";

/// Writes both papers into a folder.
pub fn run(input: &Input, out: &Path, date: Option<String>) -> Result<ExitCode, Failure> {
    let Case { design, model, solids } = load::case(input)?;
    let findings = DryFit::of(&design, &model, &solids).findings;
    let paper = Paper { date };
    let drawing = drawing_pdf(&design, &model, &solids, &findings, &paper).map_err(|error| Failure::told(error.to_string()))?;
    let list = cut_list_csv(&CutList::of(&model));
    let fail = |path: &Path, error: &std::io::Error| Failure::told(format!("{}: it can't be written: {error}", path.display()));
    fs::create_dir_all(out).map_err(|error| fail(out, &error))?;
    let mut told = Vec::new();
    for (name, bytes) in [(CUT_LIST, list.as_bytes()), (DRAWINGS, drawing.as_slice())] {
        let path = out.join(name);
        fs::write(&path, bytes).map_err(|error| fail(&path, &error))?;
        told.push(path.display().to_string());
    }
    told.push(format!("{}: {}\n", model.name, summary(&findings)));
    output::print(&told.join("\n"))?;
    Ok(ExitCode::SUCCESS)
}
