//! Every table of a case, for a spreadsheet and for other programs.

use casewright_core::boards::{Effort, cut};
use casewright_core::job::Job;
use casewright_core::loads;
use casewright_core::setup::setups;
use casewright_core::takeoff::TakeOff;
use serde::Serialize;

use super::made::{ROUNDS, sequence};
use super::{Packed, PacketError};
use crate::exchange::File;
use crate::{boards_csv, cost_csv, json, take_off_csv};

/// All of them, in a folder of their own.
pub(super) fn all(of: &Packed<'_>) -> Result<Vec<File>, PacketError> {
    let Packed { design, model, solids, findings, stop, .. } = *of;
    let sequence = sequence(of);
    let (taken, job) = (TakeOff::of(design, model), Job::of(design, model));
    let lifts = loads::lifts(design, model, solids, &sequence);
    let (under, standing) = loads::of_case(design, model, solids);
    let made: [&dyn Fn() -> Result<File, PacketError>; 10] = [
        &|| Ok(file("takeoff.csv", take_off_csv(&taken))),
        &|| Ok(file("cost.csv", cost_csv(design, &job))),
        &|| as_json("parts.json", &json::parts(design, model, solids)),
        &|| as_json("check.json", &json::check(model, findings)),
        &|| as_json("order.json", &json::order(design, model, &sequence, &lifts)),
        &|| as_json("cards.json", &json::setups(model, &setups(design, model))),
        &|| as_json("takeoff.json", &json::takeoff(&model.name, &taken)),
        &|| as_json("cost.json", &json::cost(design, &job)),
        &|| as_json("loads.json", &json::loads(design, model, &under, standing.as_ref(), &lifts)),
        &|| as_json("sizes.json", &json::sizes(design, Some(model))),
    ];
    let mut files = Vec::new();
    for make in made {
        stop.go_on()?;
        files.push(make()?);
    }
    if !design.shop.pile.is_empty() {
        stop.go_on()?;
        let cutting = cut(design, model, Effort::rounds(ROUNDS));
        files.push(file("boards.csv", boards_csv(design, model, &cutting)));
        files.push(as_json("boards.json", &json::boards(design, model, &cutting))?);
    }
    Ok(files)
}

fn file(name: &str, text: String) -> File {
    File { name: format!("tables/{name}"), bytes: text.into_bytes() }
}

fn as_json(table: &'static str, document: &impl Serialize) -> Result<File, PacketError> {
    let text = serde_json::to_string_pretty(document).map_err(|error| PacketError::Table { table, error })?;
    Ok(file(table, text + "\n"))
}
