//! Board plans on paper: each board to scale with what is cut from it, and its cuts in their order, to be ticked at the saw.

use casewright_core::boards::{Cutting, GluedUp, Left, Marked, Offcut, Piece, Run, glued_up, offcuts, runs, steps};
use casewright_core::design::pile::Stuff;
use casewright_core::length::{Length, trimmed_to};
use casewright_core::model::Material;
use casewright_core::sentence::{capital, inside};
use casewright_core::{Design, Model};
use serde::Serialize;

use crate::drawing::Paper;
use crate::figures::{Figures, Wording};
use crate::typeset::{self, Set, SheetError};

const TEMPLATE: &str = include_str!("../../../assets/sheets/board_plans.typ");

/// Room for a board on the sheet, mm: along and across.
const ROOM: (f64, f64) = (180.0, 110.0);
/// A board is drawn at least so high, mm, so that what lies on it can be read; wider than to scale where it must, so many times at most.
const HIGH: f64 = 26.0;
const WIDENED: f64 = 3.0;

/// What the template reads.
#[derive(Serialize)]
struct Data<'a> {
    name: &'a str,
    date: &'a str,
    /// In what sizes are.
    unit: &'static str,
    boards: Vec<Board>,
    glued: Vec<String>,
    left: Vec<String>,
    besides: Vec<String>,
    offcuts: Vec<String>,
    told: Vec<String>,
}

#[derive(Serialize)]
struct Board {
    name: String,
    words: String,
    /// How it is drawn where that is not to scale.
    drawn: String,
    /// Along and across, mm.
    size: [f64; 2],
    /// Millimetres of paper to a millimetre of the board, along and across.
    scale: [f64; 2],
    /// From and to along the board, mm.
    ends: Vec<[f64; 2]>,
    pieces: Vec<PieceData>,
    flaws: Vec<FlawData>,
    trims: String,
    settings: Vec<SettingData>,
}

#[derive(Serialize)]
struct PieceData {
    /// Along, across, long, wide, mm.
    at: [f64; 4],
    mark: String,
    size: String,
}

#[derive(Serialize)]
struct FlawData {
    at: [f64; 4],
    what: String,
}

/// Cuts at one setting.
#[derive(Serialize)]
struct SettingData {
    words: String,
    frees: String,
    /// What is sawn and how often, but of a single cut that frees something.
    of: String,
    cautions: Vec<String>,
}

/// The board plans of a cutting as PDF, A4 upright.
///
/// The same design and cutting give the same bytes.
///
/// # Errors
/// When no board is cut, or the typesetter fails.
pub fn board_plans_pdf(design: &Design, model: &Model, cutting: &Cutting, paper: &Paper) -> Result<Vec<u8>, SheetError> {
    set(design, model, cutting, paper)?.pdf()
}

/// The same as it was set.
pub(crate) fn set(design: &Design, model: &Model, cutting: &Cutting, paper: &Paper) -> Result<Set, SheetError> {
    if cutting.boards.is_empty() {
        return Err(SheetError::Empty);
    }
    let pile = &design.shop.pile;
    let cut: Vec<(&Stuff, &Marked)> = cutting.boards.iter().filter_map(|board| Some((pile.get(board.entry)?, board))).collect();
    let longest = cut.iter().map(|(stuff, _)| stuff.length.to_mm()).fold(1.0, f64::max);
    let wording = Wording::of(design, model, paper.figures);
    let worded = |words: Vec<String>| words.iter().map(|words| wording.tape(words)).collect();
    let data = Data {
        name: &design.name,
        date: paper.date.as_deref().unwrap_or_default(),
        unit: paper.figures.unit(),
        boards: cut.iter().map(|(stuff, board)| one(design, model, stuff, board, longest, &wording)).collect(),
        glued: worded(glued(design, model, cutting)),
        left: worded(cutting.left.iter().map(told).collect()),
        besides: worded(cutting.besides.iter().map(told).collect()),
        offcuts: worth_keeping(design, model, cutting, paper.figures),
        told: worded(cutting.told.clone()),
    };
    typeset::set(TEMPLATE, &data)
}

/// `68 × LT1: …`.
fn told(left: &Left) -> String {
    format!("{} × {}: {}", left.count, left.mark, left.words)
}

fn one(design: &Design, model: &Model, stuff: &Stuff, board: &Marked, longest: f64, wording: &Wording) -> Board {
    let figures = wording.figures();
    let size = [stuff.length, stuff.width].map(Length::to_mm);
    let along = (ROOM.0 / longest).min(ROOM.1 / size[1]);
    let widened = (HIGH / (size[1] * along)).clamp(1.0, WIDENED);
    let words = [stuff.length, stuff.width, stuff.thickness].map(|length| mm(figures, length.to_mm())).join(" × ");
    let id = stuff.of.clone();
    let material = if model.timbers.sheet(&id).is_some() { Material::Sheet(id) } else { Material::Solid(id) };
    let ends = stuff.ends.to_mm();
    let (trims, settings) = steps(design, model, board).map_or_else(Default::default, |(trims, steps)| {
        let [ends, edges] = [trims.ends, trims.edges].map(|off| off.map(|off| mm(figures, off)).join(" and "));
        let settings = runs(&steps).iter().map(|run| setting(run, wording)).collect();
        let before = trims.before.map_or_else(String::new, |before| format!("{}. ", capital(&wording.tape(&before))));
        (format!("{before}Trimmed first: {ends} off the ends, {edges} off the edges"), settings)
    });
    Board {
        name: board.called(stuff),
        words: format!("{words}, {}", inside(model.timbers.name(&material))),
        drawn: if widened > 1.0 { format!("drawn {} times as wide as to scale", trimmed_to(widened, 1)) } else { String::new() },
        size,
        scale: [along, along * widened],
        ends: if ends > 0.0 { vec![[0.0, ends], [size[0] - ends, size[0]]] } else { Vec::new() },
        pieces: board.pieces.iter().map(|of| piece(of, figures)).collect(),
        flaws: stuff
            .flaws
            .iter()
            .map(|flaw| FlawData { at: [flaw.x, flaw.y, flaw.length, flaw.width].map(Length::to_mm), what: flaw.what.clone() })
            .collect(),
        trims,
        settings,
    }
}

fn piece(piece: &Piece, figures: Figures) -> PieceData {
    let mark = piece.words.clone();
    PieceData {
        at: [piece.x, piece.y, piece.length, piece.width],
        mark,
        size: [piece.length, piece.width].map(|side| mm(figures, side)).join(" × "),
    }
}

fn setting(run: &Run, wording: &Wording) -> SettingData {
    // A single cut that frees something is seen on the plan.
    let of = if run.times > 1 || run.frees.is_empty() { run.of_words() } else { String::new() };
    let frees = run.frees.join(", ");
    let of = if of.is_empty() || frees.is_empty() { of } else { format!("; {of}") };
    let cautions = run.cautions.iter().map(|words| wording.thumb(words)).collect();
    SettingData { words: capital(&wording.tape(&run.setting)), frees, of: wording.tape(&of), cautions }
}

fn glued(design: &Design, model: &Model, cutting: &Cutting) -> Vec<String> {
    let told = |glued: &GluedUp| {
        let part = model.part(glued.part);
        format!("{} {}: {}", part.mark, inside(&part.title), glued.words(design))
    };
    glued_up(design, model, cutting).iter().map(told).collect()
}

/// `A1: 3 of 955.8 × 54, 2440 × 101.8`, a line a board.
fn worth_keeping(design: &Design, model: &Model, cutting: &Cutting, figures: Figures) -> Vec<String> {
    let useful: Vec<Offcut> = offcuts(design, model, cutting).into_iter().filter(|offcut| offcut.useful).collect();
    let line = |of_board: &[Offcut]| {
        let mut sizes: Vec<(String, u32)> = Vec::new();
        for offcut in of_board {
            let size = offcut.size.map(|side| mm(figures, side)).join(" × ");
            match sizes.iter_mut().find(|(known, _)| *known == size) {
                Some((_, count)) => *count += 1,
                None => sizes.push((size, 1)),
            }
        }
        let sizes: Vec<String> =
            sizes.into_iter().map(|(size, count)| if count > 1 { format!("{count} of {size}") } else { size }).collect();
        let name = of_board.first().and_then(|first| design.shop.pile.get(first.entry)).map_or("", |stuff| stuff.name.as_str());
        format!("{name}: {}", sizes.join(", "))
    };
    useful.chunk_by(|one, next| (one.entry, one.number) == (next.entry, next.number)).map(line).collect()
}

/// As a saw is set.
fn mm(figures: Figures, mm: f64) -> String {
    figures.rough(mm, 1)
}
