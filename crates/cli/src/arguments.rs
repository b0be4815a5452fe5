//! What can be asked on the command line.

use std::path::PathBuf;

use casewright_core::table::Bare;
use casewright_sheets::drawing::TitleBlock;
use casewright_sheets::{Drafting, How, LabelSheet};
use clap::{Args, Parser, Subcommand, ValueEnum};

use crate::commands::draw::{DrawWords, Figures, OnSheet};
use crate::commands::rod::RodWords;
use crate::load::OwnTimber;
use crate::wood;

/// Check, list and explain a case without a window.
///
/// Exit codes: 0, nothing will fail; 1, something will fail (only `check`, `milled` and `order`) or has no place (`holds`, `lay`); 2, the design can't be read or
/// built, or a paper can't be written.
#[derive(Debug, Parser)]
#[command(name = "casewright-cli", version, max_term_width = 100)]
pub struct Arguments {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Tell what will fail, what is at risk and what is worth knowing
    Check {
        /// The design.
        #[command(flatten)]
        input: Input,
        /// Print JSON; its schema is assets/schema/check.json
        #[arg(long)]
        json: bool,
        /// Tell how each figure comes about: its formula, what went into it, and its source
        #[arg(long)]
        why: bool,
    },
    /// List every part at its finished size
    Parts {
        /// The design.
        #[command(flatten)]
        input: Input,
        /// How to print.
        #[command(flatten)]
        format: PartsFormat,
    },
    /// Tell where each size of a part comes from, what is cut into it and what it is joined to
    Explain {
        /// The design.
        #[command(flatten)]
        input: Input,
        /// Name, mark or title of the part, such as rail.front.bottom or R1
        part: String,
    },
    /// Tell what was measured and made in the shop and what `check` finds with it; with more words, write that down in the file first
    ///
    /// Examples: milled case.ron carcase.post.width=44.6 · milled case.ron R1 length=1252 state=cut · milled case.ron R1 length=none
    Milled {
        /// The design.
        #[command(flatten)]
        input: Input,
        /// Stock with what it measures, such as timber.panel.measured=6.4; or a part by name, mark or title, and then
        /// length=, width=, thickness=, state=planned|roughed|cut|glued, note=
        #[arg(value_name = "PART or NAME=VALUE")]
        words: Vec<String>,
    },
    /// Tell where everything stands that it must hold, or which shelves take a box
    ///
    /// Examples: holds case.ron · holds case.ron --box 420x310x260 · holds case.ron --shelves move --list boxes.csv
    Holds {
        /// The design.
        #[command(flatten)]
        input: Input,
        /// What is asked.
        #[command(flatten)]
        words: HoldsWords,
    },
    /// Tell how far each shelf sags, what stresses parts, what tips the case and what two must lift
    Loads {
        /// The design.
        #[command(flatten)]
        input: Input,
        /// Print JSON; its schema is assets/schema/loads.json
        #[arg(long)]
        json: bool,
        /// Tell where figures come from: of a part by its name, mark or title; of the whole case by tipping, mass or lift
        #[arg(long, value_name = "PART", conflicts_with = "json")]
        why: Option<String>,
    },
    /// Tell the order of assembly step by step, with its glue-ups, clamps and diagonals
    Order {
        /// The design.
        #[command(flatten)]
        input: Input,
        /// Print JSON; its schema is assets/schema/order.json
        #[arg(long)]
        json: bool,
    },
    /// Set timbers side by side for this very case, or the ways in which its panels can be made up: movement, mass, money, hours
    Compare {
        /// The design.
        #[command(flatten)]
        input: Input,
        /// What is to be of another material
        #[arg(long, value_enum, default_value_t)]
        of: Compared,
        /// Print JSON; its schema is assets/schema/compare.json
        #[arg(long)]
        json: bool,
    },
    /// Propose cases that hold all there is to keep, built as this one: fewest bays, least floor, least timber
    ///
    /// Examples: propose case.ron · propose case.ron --with site.width=1400 · propose case.ron --take 2 --out other.ron
    Propose {
        /// The design.
        #[command(flatten)]
        input: Input,
        /// Take the one of that number, and write it
        #[arg(long, value_name = "N", requires = "out")]
        take: Option<usize>,
        /// The file to write it into; a file that is there is replaced
        #[arg(long, value_name = "FILE", requires = "take")]
        out: Option<PathBuf>,
        /// Print JSON; its schema is assets/schema/propose.json
        #[arg(long, conflicts_with = "take")]
        json: bool,
    },
    /// List every decision by its name, with value, unit, range and meaning
    Sizes {
        /// The design.
        #[command(flatten)]
        input: Input,
        /// Print JSON; its schema is assets/schema/sizes.json
        #[arg(long)]
        json: bool,
    },
    /// Lay the parts out on the boards and sheets on hand, with the cuts in their order
    ///
    /// Examples: boards case.ron --pile pile.csv · boards case.ron --rounds 20 --json · boards case.ron --dealer dealer.csv
    Boards {
        /// The design.
        #[command(flatten)]
        input: Input,
        /// What is asked.
        #[command(flatten)]
        words: BoardsWords,
    },
    /// Tell what the whole job takes: hours by operation at your rates, material, and money
    Cost {
        /// The design.
        #[command(flatten)]
        input: Input,
        /// Print JSON; its schema is assets/schema/cost.json
        #[arg(long)]
        json: bool,
        /// Print a table for a spreadsheet
        #[arg(long, conflicts_with = "json")]
        csv: bool,
        /// Tell what each figure rests on
        #[arg(long, conflicts_with = "json")]
        why: bool,
        /// What boards and sheets come from: their own prices in place of those by measure.
        #[command(flatten)]
        stock: StockWords,
    },
    /// Tell what the case takes: boards by species and thickness, sheets, hardware, finish and glue, and what the machines can't take
    Takeoff {
        /// The design.
        #[command(flatten)]
        input: Input,
        /// Print JSON; its schema is assets/schema/takeoff.json
        #[arg(long)]
        json: bool,
        /// Print a table for a spreadsheet
        #[arg(long, conflicts_with = "json")]
        csv: bool,
        /// Tell what each figure rests on
        #[arg(long)]
        why: bool,
    },
    /// Tell how the machines are set, a card a setting: cutter, fence, depth and stops, with all that is cut at it
    #[command(alias = "setups")]
    Cards {
        /// The design.
        #[command(flatten)]
        input: Input,
        /// Print JSON; its schema is assets/schema/setups.json
        #[arg(long)]
        json: bool,
    },
    /// Lay any pieces out of any boards or sheets, without a design: which boards, what lies where, the cuts in order
    ///
    /// Examples: lay task.json · lay task.json --seconds 10 · lay task.json --rounds 200 --seed 3 --json
    Lay {
        /// Stock, pieces and saw as JSON; its schema is assets/schema/task.json
        #[arg(value_name = "INSTANCE")]
        file: PathBuf,
        /// How long, and how to print.
        #[command(flatten)]
        words: LayWords,
    },
    /// Small sums of timber: moisture, movement, sag, tipping, pins, screws, what hangs on a wall
    Wood {
        /// What is to be worked out.
        #[command(subcommand)]
        sum: wood::Sum,
    },
    /// Write files for other programs into a folder: meshes, solids, outlines
    Export {
        /// The design.
        #[command(flatten)]
        input: Input,
        /// What is to be written.
        #[command(flatten)]
        words: ExportWords,
    },
    /// Write the shop drawings and the part sheets into a folder, as PDF and each sheet as SVG
    Draw {
        /// The design.
        #[command(flatten)]
        input: Input,
        /// How they are drawn.
        #[command(flatten)]
        words: DrawWords,
    },
    /// Write the setting-out rod and the templates in full size into a folder: over sheets with register marks, and on one long page each; templates as DXF besides
    Rod {
        /// The design.
        #[command(flatten)]
        input: Input,
        /// How they are drawn.
        #[command(flatten)]
        words: RodWords,
    },
    /// Write the papers into a folder: order of work, cut list, buying list, labels, drawings, part sheets, setting-out rod and templates in full size, set-up
    /// cards, shelf plan, board plans
    Papers {
        /// The design.
        #[command(flatten)]
        input: Input,
        /// Where, and how.
        #[command(flatten)]
        words: PapersWords,
    },
    /// Write all there is into a folder: the papers, each alone and all in one PDF, files for other programs, and every table
    ///
    /// Examples: packet case.ron --out packet · packet case.ron --out packet --pile pile.csv --labels letterby30
    Packet {
        /// The design.
        #[command(flatten)]
        input: Input,
        /// Where, and how.
        #[command(flatten)]
        words: PapersWords,
    },
}

/// The design, and decisions to try instead of those in the file.
#[derive(Clone, Debug, Args)]
pub struct Input {
    /// The design, a .ron file
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
    /// Try another decision without touching the file, as often as wanted; names are those of `sizes`, and part.NAME.length, .width or .thickness for a size of one
    /// part against the rules, such as part.rail.front.bottom.length=1252
    #[arg(long = "with", value_name = "NAME=VALUE", value_parser = name_and_value, allow_hyphen_values = true)]
    pub with: Vec<(String, String)>,
    /// Timber of your own.
    #[command(flatten)]
    pub own: OwnTimber,
}

/// Reads the name of a decision and its value.
pub fn name_and_value(text: &str) -> Result<(String, String), String> {
    match text.split_once('=') {
        Some((name, value)) if !name.trim().is_empty() => Ok((name.trim().to_owned(), value.trim().to_owned())),
        _ => Err("write the name of a decision, =, and its value, such as carcase.width=1200".to_owned()),
    }
}

/// What is asked of `papers` and `packet`.
#[derive(Debug, Args)]
pub struct PapersWords {
    /// The folder; it is made where it is not there
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
    /// Date of issue, as it should read in the title block; blank without it
    #[arg(long)]
    pub date: Option<String>,
    /// The pile as a table in place of that in the design, for the board plans
    #[arg(long, value_name = "CSV")]
    pub pile: Option<PathBuf>,
    /// The paper of drawings and part sheets; rod and templates lie over letter, or else over a4
    #[arg(long, value_enum, default_value_t)]
    pub sheet: OnSheet,
    /// How figures are written on these.
    #[command(flatten)]
    pub figures: Figures,
    /// The sheet of stick-on labels: A4 with 24 of 70 × 37 mm or 21 of 63.5 × 38.1 mm, or letter with 30 of 2 5/8 × 1 in
    #[arg(long, value_enum, default_value_t)]
    pub labels: Labels,
    /// So many labels of the first sheet are used up
    #[arg(long, value_name = "N", default_value_t = 0)]
    pub used: u32,
}

impl PapersWords {
    /// How they are made.
    pub fn how(&self) -> How {
        let labels = match self.labels {
            Labels::A4By24 => LabelSheet::A4By24,
            Labels::A4By21 => LabelSheet::A4By21,
            Labels::LetterBy30 => LabelSheet::LetterBy30,
        };
        let block = TitleBlock { date: self.date.clone().unwrap_or_default(), ..TitleBlock::default() };
        How { drafting: Drafting { block, ..self.figures.on(self.sheet.sheet()) }, labels, used: self.used }
    }
}

/// A sheet of labels.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum Labels {
    /// A4, 24 labels of 70 × 37 mm
    #[default]
    #[value(name = "a4by24")]
    A4By24,
    /// A4, 21 labels of 63.5 × 38.1 mm
    #[value(name = "a4by21")]
    A4By21,
    /// Letter, 30 labels of 2 5/8 × 1 in
    #[value(name = "letterby30")]
    LetterBy30,
}

/// What is asked of `export`.
#[derive(Debug, Args)]
pub struct ExportWords {
    /// As what: stl and 3mf a mesh a part, gltf the whole case to look at, step the whole case as solids, dxf and svg an outline a part with its
    /// cuts by depth
    #[arg(long = "as", value_name = "FORM")]
    pub form: Form,
    /// The folder; it is made where it is not there
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
    /// When the file is made, as ISO 8601 has it, 2026-05-01T10:00:00, for the head of a STEP file; blank without it
    #[arg(long)]
    pub date: Option<String>,
}

/// As what files are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum Form {
    /// Outlines by layers.
    Dxf,
    /// Outlines as a picture in true size.
    Svg,
    /// The whole case to look at, binary glTF.
    Gltf,
    /// A mesh a part.
    Stl,
    /// A mesh a part with its unit.
    #[value(name = "3mf")]
    ThreeMf,
    /// The whole case as solids.
    Step,
}

/// What is asked of `holds`.
#[derive(Debug, Args)]
pub struct HoldsWords {
    /// Which shelves take a box of this size, width x depth x height as it stands: 420x310x260, "42 cm x 31 cm x 26 cm"
    #[arg(long = "box", value_name = "WxDxH", allow_hyphen_values = true)]
    pub size: Option<String>,
    /// Which shelves take this kind of thing of the design's list
    #[arg(long, value_name = "NAME", conflicts_with = "size")]
    pub kind: Option<String>,
    /// The box weighs so much, kg
    #[arg(long, value_name = "KG", requires = "size")]
    pub mass: Option<f64>,
    /// The box may be turned and laid on any side
    #[arg(long)]
    pub any_way: bool,
    /// Take what it must hold from a table instead, a CSV file with the columns name, width, depth, height, weight, how many …
    #[arg(long, value_name = "CSV")]
    pub list: Option<PathBuf>,
    /// Write the design with that list, and with its shelves as they are laid then, into a file; the design's own may be named
    #[arg(long, value_name = "FILE", conflicts_with_all = ["size", "kind"])]
    pub out: Option<PathBuf>,
    /// The unit of bare numbers in that table
    #[arg(long, value_enum, default_value_t)]
    pub bare: BareUnit,
    /// What may be done with the shelves
    #[arg(long, value_enum, default_value_t)]
    pub shelves: MayShelves,
    /// Tell the least changes of the case that would give everything a place
    #[arg(long, conflicts_with_all = ["size", "kind"])]
    pub changes: bool,
    /// Print JSON; its schemas are assets/schema/holds.json and, for one box, assets/schema/fits.json
    #[arg(long)]
    pub json: bool,
}

/// How long `lay` goes on, and how it prints.
#[derive(Debug, Args)]
pub struct LayWords {
    /// Go on for so many seconds at most, less where the answer is proven before
    #[arg(long, value_name = "S", default_value_t = 5.0, conflicts_with = "rounds", value_parser = seconds)]
    pub seconds: f64,
    /// Go on for so many rounds at most instead: the answer is then the same for a seed, at any number of threads
    #[arg(long, value_name = "R")]
    pub rounds: Option<u64>,
    /// Threads to work on; all that there are where it is left out
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub threads: Option<u16>,
    /// Where chance begins
    #[arg(long, value_name = "K", default_value_t = 1)]
    pub seed: u64,
    /// Print JSON; its schema is assets/schema/layout.json
    #[arg(long)]
    pub json: bool,
}

fn seconds(text: &str) -> Result<f64, String> {
    let seconds = text.parse().ok().filter(|seconds: &f64| (0.0..=1e6).contains(seconds));
    seconds.ok_or_else(|| "write a number of seconds from 0 to 1000000".to_owned())
}

/// The unit of bare numbers.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum BareUnit {
    /// Millimetres
    #[default]
    Mm,
    /// Centimetres
    Cm,
    /// Inches
    In,
}

impl From<BareUnit> for Bare {
    fn from(unit: BareUnit) -> Bare {
        match unit {
            BareUnit::Mm => Bare::Mm,
            BareUnit::Cm => Bare::Cm,
            BareUnit::In => Bare::Inches,
        }
    }
}

/// What may be done with the shelves.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum MayShelves {
    /// They stay where they lie
    #[default]
    Stay,
    /// They may be moved to any tooth, hole or level of their bay
    Move,
    /// They may be moved, and there may be more of them
    Come,
}

/// What is to be of another material.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum Compared {
    /// All solid timber
    #[default]
    All,
    /// The carcase
    Carcase,
    /// The top
    Top,
    /// Standards, cleats and slats
    Shelving,
    /// The panels
    Panels,
}

/// How parts are printed; a table for people without any of these.
#[derive(Debug, Args)]
#[group(multiple = false)]
pub struct PartsFormat {
    /// Print JSON; its schema is assets/schema/parts.json
    #[arg(long)]
    json: bool,
    /// Print the cut list as CSV
    #[arg(long)]
    csv: bool,
    /// Print the solids in place as Wavefront OBJ
    #[arg(long)]
    obj: bool,
}

/// How parts are printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Wanted {
    /// A table for people.
    Table,
    /// JSON.
    Json,
    /// CSV.
    Csv,
    /// Wavefront OBJ.
    Obj,
}

impl PartsFormat {
    /// The one that was asked for; clap lets no two through.
    pub fn wanted(&self) -> Wanted {
        match self {
            PartsFormat { json: true, .. } => Wanted::Json,
            PartsFormat { csv: true, .. } => Wanted::Csv,
            PartsFormat { obj: true, .. } => Wanted::Obj,
            PartsFormat { json: false, csv: false, obj: false } => Wanted::Table,
        }
    }
}

/// Stands for the dealer's list in the design, where no table is named.
pub const OF_THE_DESIGN: &str = "-";

/// How long to look for a layout, and on what.
#[derive(Debug, Args)]
pub struct BoardsWords {
    /// What is cut up, and how long the best is looked for.
    #[command(flatten)]
    pub stock: StockWords,
    /// Write what is on hand once all is cut, offcuts with it; a file that is there is replaced
    #[arg(long, value_name = "CSV")]
    pub out_pile: Option<PathBuf>,
    /// Print JSON; its schema is assets/schema/boards.json, with a dealer's list assets/schema/buy.json
    #[arg(long)]
    pub json: bool,
    /// Print the places of all pieces as a table for a spreadsheet
    #[arg(long, conflicts_with = "json")]
    pub csv: bool,
}

/// What boards and sheets there are, and how long the best layout is looked for.
#[derive(Debug, Args)]
pub struct StockWords {
    /// The pile as a table in place of that in the design: board, species, length, width, thickness, how many, price, end checks, colour, flaws, leaves
    #[arg(long, value_name = "CSV")]
    pub pile: Option<PathBuf>,
    /// Tell what to buy from a dealer's list besides what is on hand, that in the design or a table: name, species, length, width, thickness, price, per, pack, available
    #[arg(long, value_name = "CSV", num_args = 0..=1, default_missing_value = OF_THE_DESIGN)]
    pub dealer: Option<PathBuf>,
    /// Seconds to look for the best, all species and thicknesses together
    #[arg(long, default_value_t = 2.0)]
    pub seconds: f64,
    /// Rounds to look instead: the same answer for a seed at any number of threads
    #[arg(long)]
    pub rounds: Option<u64>,
    /// Threads to work on
    #[arg(long, default_value_t = 2)]
    pub threads: usize,
    /// Where chance begins
    #[arg(long, default_value_t = 1)]
    pub seed: u64,
}
