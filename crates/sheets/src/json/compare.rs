//! Timbers, or make-ups of panels, side by side.

use casewright_core::amounts::Cost;
use casewright_core::compare::{Candidate, MadeUp, Where};
use serde::Serialize;

use super::{SCHEMA, WorkedEntry, worked};

/// What could be taken instead; schema `assets/schema/compare.json`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CompareDocument<'a> {
    /// Version of the document.
    pub schema: u32,
    /// What the piece is called.
    pub name: &'a str,
    /// What is of another material: "all", "carcase", "top", "shelving" or "panels".
    pub of: &'static str,
    /// What prices are in.
    pub currency: &'a str,
    /// What could serve.
    pub rows: Vec<CompareEntry<'a>>,
}

/// One that could serve.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CompareEntry<'a> {
    /// The species or the sheet, by its name in files; none for solid panels, or where the tables have no such sheet.
    pub id: Option<&'a str>,
    /// What it is called.
    pub label: &'a str,
    /// How the panels are made up; none for species.
    pub make: Option<&'static str>,
    /// Whether the design has it.
    pub chosen: bool,
    /// Thickness of panels, mm.
    pub thickness: Option<WorkedEntry>,
    /// The most that a part moves across its width from the driest to the wettest.
    pub movement: Option<WorkedEntry>,
    /// The sag of the part that sags most against its span, after the years of the design; none for panels.
    pub sag: Option<WorkedEntry>,
    /// What the least engaged panel has left in its groove when driest and pushed over, mm.
    pub held: Option<WorkedEntry>,
    /// What the tightest panel has left to grow when wettest, mm.
    pub room: Option<WorkedEntry>,
    /// Mass of the case, empty; or of all its panels.
    pub mass: Option<WorkedEntry>,
    /// Hours of work.
    pub hours: WorkedEntry,
    /// What it costs; none while a price is missing.
    pub cost: Option<WorkedEntry>,
    /// The decisions that would hold the missing prices.
    pub missing: &'a [String],
    /// What of the case would fail so, each in a sentence; empty where it serves.
    pub fails: &'a [String],
}

/// The case in other species.
pub fn compare_timbers<'a>(name: &'a str, currency: &'a str, of: Where, rows: &'a [Candidate]) -> CompareDocument<'a> {
    let entry = |row: &'a Candidate| CompareEntry {
        id: Some(&row.id),
        label: &row.name,
        make: None,
        chosen: row.chosen,
        thickness: None,
        movement: row.movement.as_ref().map(worked),
        sag: row.sag.as_ref().map(worked),
        held: None,
        room: None,
        mass: row.mass.as_ref().map(worked),
        fails: &row.fails,
        ..priced(&row.cost)
    };
    CompareDocument { schema: SCHEMA, name, of: of.word(), currency, rows: rows.iter().map(entry).collect() }
}

/// The panels of the case, made up in other ways.
pub fn compare_panels<'a>(name: &'a str, currency: &'a str, rows: &'a [MadeUp]) -> CompareDocument<'a> {
    let entry = |row: &'a MadeUp| CompareEntry {
        id: row.sheet.as_deref(),
        label: &row.name,
        make: Some(row.make.words()),
        chosen: row.chosen,
        thickness: row.thickness.as_ref().map(worked),
        movement: row.movement.as_ref().map(worked),
        sag: None,
        held: row.held.as_ref().map(worked),
        room: row.room.as_ref().map(worked),
        mass: row.mass.as_ref().map(worked),
        fails: &row.fails,
        ..priced(&row.cost)
    };
    CompareDocument { schema: SCHEMA, name, of: "panels", currency, rows: rows.iter().map(entry).collect() }
}

/// An entry of which only money and time are known.
fn priced(cost: &Cost) -> CompareEntry<'_> {
    CompareEntry {
        id: None,
        label: "",
        make: None,
        chosen: false,
        thickness: None,
        movement: None,
        sag: None,
        held: None,
        room: None,
        mass: None,
        hours: worked(&cost.hours),
        cost: cost.total.as_ref().map(worked),
        missing: &cost.missing,
        fails: &[],
    }
}
