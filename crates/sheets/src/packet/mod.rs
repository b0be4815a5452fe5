//! All that a case gives on paper and in files, piece by piece, and all papers in one.

mod bound;
mod made;
mod tables;

use casewright_core::{Design, Finding, Model, Sequence, Solids};
use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::drawing::{Drafting, Paper, Sheet};
use crate::exchange::{ExchangeError, Format};
use crate::labels::LabelSheet;
use crate::stop::{BrokenOff, Stop};
use crate::typeset::SheetError;

pub use bound::packet_pdf;

/// Ends the name of a paper on one long page.
const LONG: &str = "_long";

/// A paper, or the files of one kind.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Piece {
    /// Every job with a box to tick, and the care sheet.
    OrderOfWork,
    /// The cut list and the buying list.
    CutList,
    /// Stick-on labels, one a piece.
    Labels,
    /// The drawings, with what was found.
    Drawings,
    /// Each different part with all its cuts.
    PartSheets,
    /// The setting-out rod in full size.
    Rod,
    /// The templates in full size.
    Templates,
    /// How the machines are set.
    SetUpCards,
    /// Where everything stands, and what each shelf carries.
    ShelfPlan,
    /// What is cut from which board on hand.
    BoardPlans,
    /// Outlines and templates by layers.
    Dxf,
    /// Outlines as pictures in true size.
    Svg,
    /// The whole case to look at.
    Gltf,
    /// A mesh a part.
    Stl,
    /// A mesh a part, with its unit.
    ThreeMf,
    /// The whole case as solids.
    Step,
    /// Every table for a spreadsheet and for other programs.
    Tables,
}

impl Piece {
    /// All of them: papers first, in the order in which they are bound.
    pub const ALL: [Piece; 17] = [
        Piece::OrderOfWork,
        Piece::CutList,
        Piece::Labels,
        Piece::Drawings,
        Piece::PartSheets,
        Piece::Rod,
        Piece::Templates,
        Piece::SetUpCards,
        Piece::ShelfPlan,
        Piece::BoardPlans,
        Piece::Dxf,
        Piece::Svg,
        Piece::Gltf,
        Piece::Stl,
        Piece::ThreeMf,
        Piece::Step,
        Piece::Tables,
    ];

    /// The papers among them.
    pub fn papers() -> impl Iterator<Item = Piece> {
        Piece::ALL.into_iter().filter(|piece| piece.is_paper())
    }

    /// Its name, as it stands within a sentence.
    pub fn word(self) -> &'static str {
        match self {
            Piece::OrderOfWork => "order of work",
            Piece::CutList => "cut list, buying list",
            Piece::Labels => "labels",
            Piece::Drawings => "drawings",
            Piece::PartSheets => "part sheets",
            Piece::Rod => "setting-out rod",
            Piece::Templates => "templates",
            Piece::SetUpCards => "set-up cards",
            Piece::ShelfPlan => "shelf plan, load labels",
            Piece::BoardPlans => "board plans",
            Piece::Dxf => "DXF",
            Piece::Svg => "SVG",
            Piece::Gltf => "glTF",
            Piece::Stl => "STL",
            Piece::ThreeMf => "3MF",
            Piece::Step => "STEP",
            Piece::Tables => "tables",
        }
    }

    /// What is in it.
    pub fn about(self) -> &'static str {
        match self {
            Piece::OrderOfWork => "every job from rough stock to the case in its place, with a box to tick; the care sheet",
            Piece::CutList => "finished and rough sizes; what to buy; the cut list as a table too",
            Piece::Labels => "stick-on labels, one a piece",
            Piece::Drawings => "views, sections, joints, the case taken apart; then what was found, the cut list and the cautions",
            Piece::PartSheets => "each different part with every cut measured from face side, face edge and first end",
            Piece::Rod => "height, width and depth in full size, over sheets to lay together and on one long page each",
            Piece::Templates => "teeth, slopes and notches in full size, over sheets and on one long page each",
            Piece::SetUpCards => "how the machines are set, a card a setting",
            Piece::ShelfPlan => "where everything stands, and a label for each shelf with what it carries",
            Piece::BoardPlans => "what is cut from which board, in which order; where boards are on hand",
            Piece::Dxf => "outlines of the parts by layers, and the templates, for a CNC or a laser shop",
            Piece::Svg => "the same outlines as pictures in true size",
            Piece::Gltf => "the whole case to look at",
            Piece::Stl => "a mesh a part",
            Piece::ThreeMf => "a mesh a part, with its name and unit",
            Piece::Step => "the whole case as true solids, with the names of the parts",
            Piece::Tables => "every table as CSV or JSON: parts, findings, order, set-ups, loads, costs, what to buy",
        }
    }

    /// Whether it is a paper; else files for other programs.
    pub fn is_paper(self) -> bool {
        self != Piece::Tables && self.format().is_none()
    }

    /// As what it is exported, where it is.
    pub fn format(self) -> Option<Format> {
        match self {
            Piece::Dxf => Some(Format::Dxf),
            Piece::Svg => Some(Format::Svg),
            Piece::Gltf => Some(Format::Gltf),
            Piece::Stl => Some(Format::Stl),
            Piece::ThreeMf => Some(Format::ThreeMf),
            Piece::Step => Some(Format::Step),
            Piece::OrderOfWork
            | Piece::CutList
            | Piece::Labels
            | Piece::Drawings
            | Piece::PartSheets
            | Piece::Rod
            | Piece::Templates
            | Piece::SetUpCards
            | Piece::ShelfPlan
            | Piece::BoardPlans
            | Piece::Tables => None,
        }
    }
}

/// On what papers are made, and what they say besides what follows from the design.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct How {
    /// How drawings, part sheets, rod and templates are drawn. Rod and templates lie over A4 where the sheet is larger.
    pub drafting: Drafting,
    /// The sheet of stick-on labels.
    pub labels: LabelSheet,
    /// How many labels of the first sheet are used up.
    pub used: u32,
}

impl How {
    fn paper(&self) -> Paper {
        let date = Some(self.drafting.block.date.clone()).filter(|date| !date.is_empty());
        Paper { date, labels: self.labels, used: self.used, figures: self.drafting.figures() }
    }

    /// On sheets that any printer takes.
    fn for_a_printer(&self) -> Drafting {
        let sheet = match self.drafting.sheet {
            Sheet::A4 | Sheet::A3 | Sheet::A2 => Sheet::A4,
            Sheet::Letter => Sheet::Letter,
        };
        Drafting { sheet, ..self.drafting.clone() }
    }
}

/// A case of which papers and files are made, and how.
#[derive(Clone, Copy, Debug)]
pub struct Packed<'a> {
    /// What was decided.
    pub design: &'a Design,
    /// What follows.
    pub model: &'a Model,
    /// Its solids.
    pub solids: &'a Solids,
    /// What the checks found.
    pub findings: &'a [Finding],
    /// Its order of assembly, where it is known; else what needs it works it out, and what is only looked at goes without.
    pub order: Option<&'a Sequence>,
    /// How they are made.
    pub how: &'a How,
    /// What breaks off the making of files, between their pages and parts.
    pub stop: Stop<'a>,
}

/// Why a piece can't be made.
#[derive(Debug, Error)]
pub enum PacketError {
    /// It was to stop before it was whole.
    #[error(transparent)]
    BrokenOff(BrokenOff),
    /// A paper.
    #[error(transparent)]
    Sheet(SheetError),
    /// A file for another program.
    #[error(transparent)]
    Exchange(ExchangeError),
    /// A table.
    #[error("{table}: {error}")]
    Table {
        /// Which one.
        table: &'static str,
        /// What the writer said.
        error: serde_json::Error,
    },
}

impl From<BrokenOff> for PacketError {
    fn from(stopped: BrokenOff) -> PacketError {
        PacketError::BrokenOff(stopped)
    }
}

impl From<SheetError> for PacketError {
    fn from(error: SheetError) -> PacketError {
        match error {
            SheetError::BrokenOff(stopped) => PacketError::BrokenOff(stopped),
            SheetError::Empty | SheetError::Typeset(_) => PacketError::Sheet(error),
        }
    }
}

impl From<ExchangeError> for PacketError {
    fn from(error: ExchangeError) -> PacketError {
        match error {
            ExchangeError::BrokenOff(stopped) => PacketError::BrokenOff(stopped),
            ExchangeError::CantWrite { .. } => PacketError::Exchange(error),
        }
    }
}
