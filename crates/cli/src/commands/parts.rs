//! `parts`: every part at its finished size.

use std::process::ExitCode;

use casewright_core::CutList;
use casewright_core::length::trimmed;
use casewright_sheets::{cut_list_csv, json, obj};

use crate::arguments::{Input, Wanted};
use crate::failure::Failure;
use crate::load::{self, Case};
use crate::output::{self, Align};

/// Prints the parts.
pub fn run(input: &Input, wanted: Wanted) -> Result<ExitCode, Failure> {
    let Case { design, model, solids } = load::case(input)?;
    match wanted {
        Wanted::Table => output::print(&table(&CutList::of(&design, &model)))?,
        Wanted::Json => output::print_json(&json::parts(&design, &model, &solids))?,
        Wanted::Csv => output::print(&cut_list_csv(&CutList::of(&design, &model)))?,
        Wanted::Obj => output::print(&obj(&model, &solids))?,
    }
    Ok(ExitCode::SUCCESS)
}

fn table(list: &CutList) -> String {
    let head = [
        ("Mark", Align::Left),
        ("Part", Align::Left),
        ("Count", Align::Right),
        ("Length", Align::Right),
        ("Width", Align::Right),
        ("Thick", Align::Right),
        ("Made of", Align::Left),
        ("Goes in", Align::Left),
    ];
    let rows: Vec<_> = list
        .rows
        .iter()
        .map(|row| {
            let more = row.parts.len() - 1;
            [
                row.mark.clone(),
                if more == 0 { row.title.clone() } else { format!("{}, and {more} like it", row.title) },
                row.parts.len().to_string(),
                trimmed(row.finished[0]),
                trimmed(row.finished[1]),
                trimmed(row.finished[2]),
                row.made_of.clone(),
                row.stage.words().to_owned(),
            ]
        })
        .collect();
    format!("Finished sizes, mm; {} parts, {} marks\n\n{}", list.count(), list.rows.len(), output::table(head, &rows))
}
