//! What a case takes of timber, sheets, hardware, finish and glue.

use casewright_core::design::Veneered;
use casewright_core::takeoff::{TakeOff, Veneers};
use serde::Serialize;

use super::{SCHEMA, WorkedEntry, tidy, worked};

/// The take-off; schema `assets/schema/takeoff.json`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TakeOffDocument<'a> {
    /// Version of the document.
    pub schema: u32,
    /// What the piece is called.
    pub name: &'a str,
    /// Solid timber, a line for each species and thickness of board.
    pub timber: Vec<BoardsEntry<'a>>,
    /// Sheets, a line a product and thickness.
    pub sheets: Vec<SheetsEntry<'a>>,
    /// Veneer that is glued onto sheets here.
    pub veneer: Vec<VeneerEntry<'a>>,
    /// What is bought ready.
    pub bought: Vec<ReadyEntry<'a>>,
    /// What is to be finished, m²; none where it stays bare.
    pub finish: Option<WorkedEntry>,
    /// What finish that takes, litres.
    pub litres: Option<WorkedEntry>,
    /// Glue, g.
    pub glue: WorkedEntry,
}

/// Boards of one species and thickness.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BoardsEntry<'a> {
    /// What the species is called.
    pub made_of: &'a str,
    /// The thickness they are sold in; empty for what is thicker than any that is sold.
    pub board: &'a str,
    /// As sawn, mm.
    pub thickness: f64,
    /// Pieces that come out of them.
    pub pieces: usize,
    /// The longest, rough, mm.
    pub longest: f64,
    /// The widest, rough, mm.
    pub widest: f64,
    /// At rough sizes, m³.
    pub volume: WorkedEntry,
    /// With what is bought besides, m³.
    pub to_buy: WorkedEntry,
    /// The same in board feet.
    pub board_feet: f64,
}

/// Sheets of one product and thickness.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SheetsEntry<'a> {
    /// What the product is called.
    pub made_of: &'a str,
    /// What they are to measure, mm: without the veneer that is glued on here.
    pub thickness: f64,
    /// Pieces that come out of them.
    pub pieces: usize,
    /// m².
    pub area: WorkedEntry,
    /// With what is bought besides, m².
    pub to_buy: WorkedEntry,
}

/// Veneer that is glued onto sheets here.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct VeneerEntry<'a> {
    /// What the species is called.
    pub made_of: &'a str,
    /// "bought" or "sawn".
    pub comes: &'static str,
    /// How thick it is, mm.
    pub thickness: f64,
    /// The faces that are seen, m².
    pub faces: WorkedEntry,
    /// The balancing sheets, m².
    pub balancing: WorkedEntry,
    /// With what is bought besides: veneer m², timber that it is sawn from m³.
    pub to_buy: WorkedEntry,
}

/// Things that are bought ready.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ReadyEntry<'a> {
    /// What they are.
    pub title: &'a str,
    /// How many.
    pub count: usize,
}

/// The take-off of a piece as a document.
pub fn takeoff<'a>(name: &'a str, taken: &'a TakeOff) -> TakeOffDocument<'a> {
    let TakeOff { timber, sheets, veneer, bought, finish, litres, glue } = taken;
    TakeOffDocument {
        schema: SCHEMA,
        name,
        timber: timber
            .iter()
            .map(|line| BoardsEntry {
                made_of: &line.made_of,
                board: &line.board,
                thickness: tidy(line.thickness),
                pieces: line.pieces,
                longest: tidy(line.longest),
                widest: tidy(line.widest),
                volume: worked(&line.volume),
                to_buy: worked(&line.to_buy),
                board_feet: tidy(line.board_feet()),
            })
            .collect(),
        sheets: sheets
            .iter()
            .map(|line| SheetsEntry {
                made_of: &line.made_of,
                thickness: tidy(line.thickness),
                pieces: line.pieces,
                area: worked(&line.area),
                to_buy: worked(&line.to_buy),
            })
            .collect(),
        veneer: veneer.iter().map(veneers).collect(),
        bought: bought.iter().map(|line| ReadyEntry { title: &line.title, count: line.count }).collect(),
        finish: finish.as_ref().map(worked),
        litres: litres.as_ref().map(worked),
        glue: worked(glue),
    }
}

fn veneers(line: &Veneers) -> VeneerEntry<'_> {
    VeneerEntry {
        made_of: &line.made_of,
        comes: match line.comes {
            Veneered::Bought => "bought",
            Veneered::Sawn => "sawn",
            Veneered::No => "no",
        },
        thickness: tidy(line.thickness),
        faces: worked(&line.faces),
        balancing: worked(&line.balancing),
        to_buy: worked(&line.to_buy),
    }
}
