//! `packet`: everything there is of a case, papers, tables and files for other programs, into one folder.

use std::io::{self, Write as _};
use std::process::ExitCode;

use casewright_core::DryFit;
use casewright_core::boards::{Effort, cut};
use casewright_core::design::pile;
use casewright_core::job::Job;
use casewright_core::loads;
use casewright_core::setup::setups;
use casewright_core::takeoff::TakeOff;
use casewright_sheets::exchange::{Format, export};
use casewright_sheets::{boards_csv, cost_csv, json, packet_pdf, papers_told, take_off_csv};
use serde::Serialize;

use crate::arguments::{Input, PapersWords};
use crate::commands::check::{count, summary};
use crate::failure::Failure;
use crate::load::{self, Case};
use crate::output::{self, Folder};

/// Rounds of search for the table of what is cut from which board: the same each time.
const ROUNDS: u64 = 60;

/// Writes all of it, and says on the error output what is being made.
pub fn run(input: &Input, words: &PapersWords) -> Result<ExitCode, Failure> {
    let Case { mut design, model, solids } = load::case(input)?;
    let mut told = Vec::new();
    if let Some(path) = &words.pile {
        design.shop.pile = load::rows(path, pile::read, &mut told)?;
    }
    let case = Case { design, model, solids };
    progress("dry fit and order of assembly");
    let dry_fit = DryFit::of(&case.design, &case.model, &case.solids);
    let folder = Folder::made(&words.out)?;
    let made = papers(&case, &dry_fit, words, &folder)? + tables(&case, &dry_fit, &folder)? + files(&case, &folder)?;
    told.push(format!("{} in {}", count(made, "file"), words.out.display()));
    told.push(format!("{}: {}\n", case.model.name, summary(&dry_fit.findings)));
    output::print(&told.join("\n"))?;
    Ok(ExitCode::SUCCESS)
}

/// A line of progress; when nobody listens there, nothing is left to be done.
fn progress(what: &str) {
    let _ = writeln!(io::stderr().lock(), "making {what}");
}

/// Each paper alone, and all in one.
fn papers(case: &Case, dry_fit: &DryFit, words: &PapersWords, folder: &Folder) -> Result<usize, Failure> {
    let failed = |error: casewright_sheets::SheetError| Failure::told(error.to_string());
    let Case { design, model, solids } = case;
    let all = papers_told(design, model, solids, &dry_fit.findings, &words.paper(), &mut |name| progress(name)).map_err(failed)?;
    progress("packet.pdf");
    folder.write("packet.pdf", &packet_pdf(&design.name, &all).map_err(failed)?)?;
    for (name, bytes) in &all {
        folder.write(name, bytes)?;
    }
    Ok(all.len() + 1)
}

/// Every table for a spreadsheet and for other programs.
fn tables(case: &Case, dry_fit: &DryFit, folder: &Folder) -> Result<usize, Failure> {
    progress("tables");
    let Case { design, model, solids } = case;
    let tables = folder.within("tables")?;
    let (taken, job) = (TakeOff::of(design, model), Job::of(design, model));
    let lifts = loads::lifts(design, model, solids, &dry_fit.order);
    let (under, standing) = loads::of_case(design, model, solids);
    let mut all = vec![
        ("takeoff.csv", take_off_csv(&taken)),
        ("cost.csv", cost_csv(design, &job)),
        ("parts.json", as_json(&json::parts(design, model, solids))?),
        ("check.json", as_json(&json::check(model, &dry_fit.findings))?),
        ("order.json", as_json(&json::order(design, model, &dry_fit.order, &lifts))?),
        ("cards.json", as_json(&json::setups(model, &setups(design, model)))?),
        ("takeoff.json", as_json(&json::takeoff(&model.name, &taken))?),
        ("cost.json", as_json(&json::cost(design, &job))?),
        ("loads.json", as_json(&json::loads(design, model, &under, standing.as_ref(), &lifts))?),
        ("sizes.json", as_json(&json::sizes(design, Some(model)))?),
    ];
    if !design.shop.pile.is_empty() {
        let cutting = cut(design, model, Effort::rounds(ROUNDS));
        all.push(("boards.csv", boards_csv(design, model, &cutting)));
        all.push(("boards.json", as_json(&json::boards(design, model, &cutting))?));
    }
    for (name, text) in &all {
        tables.write(name, text.as_bytes())?;
    }
    Ok(all.len())
}

fn as_json(document: &impl Serialize) -> Result<String, Failure> {
    serde_json::to_string_pretty(document).map(|text| text + "\n").map_err(|error| Failure::Output(error.into()))
}

/// The files for other programs, a folder for each form.
fn files(case: &Case, folder: &Folder) -> Result<usize, Failure> {
    let mut made = 0;
    for format in Format::ALL {
        let name = match format {
            Format::Dxf => "dxf",
            Format::Svg => "svg",
            Format::Gltf => "gltf",
            Format::Stl => "stl",
            Format::ThreeMf => "3mf",
            Format::Step => "step",
        };
        progress(&format!("files as {name}"));
        let files = export(&case.design, &case.model, &case.solids, format, None).map_err(|error| Failure::told(error.to_string()))?;
        let into = folder.within(name)?;
        for file in &files {
            into.write(&file.name, &file.bytes)?;
        }
        made += files.len();
    }
    Ok(made)
}
