//! For the finished piece: where everything stands, seen from the front, and a label for each shelf with what it carries.

use casewright_core::contents::arrange::{Arrangement, Row};
use casewright_core::contents::row_words;
use casewright_core::inspect::recalled_of_carrying;
use casewright_core::length::{trimmed, trimmed_to};
use casewright_core::loads::{self, on_a_label};
use casewright_core::model::{Part, PartKind};
use casewright_core::place::Block;
use casewright_core::stability::CAUTIONS;
use casewright_core::{Design, Model};
use serde::Serialize;

use crate::drawing::Paper;
use crate::figures::Wording;
use crate::typeset::{self, Set, SheetError};

const TEMPLATE: &str = include_str!("../../../assets/sheets/shelf_plan.typ");

/// Room for the front view on the sheet, mm: width and height.
const VIEW: (f64, f64) = (180.0, 94.0);

/// What the template reads.
#[derive(Serialize)]
struct Data<'a> {
    name: &'a str,
    date: &'a str,
    /// Millimetres of paper to a millimetre of the case.
    scale: f64,
    /// Of the case, mm.
    width: f64,
    height: f64,
    /// Posts, rails and dividers as they are seen, mm from the left and from the floor: left, low, right, high.
    frame: Vec<[f64; 4]>,
    shelves: Vec<[f64; 4]>,
    things: Vec<Thing>,
    marks: Vec<MarkData>,
    rows: Vec<[String; 5]>,
    /// Every shelf and floor: what it is called, what it lies on, what stands on it, what it carries, and how.
    stand: Vec<[String; 5]>,
    labels: Vec<LabelData>,
    left: Vec<String>,
    rules: Vec<String>,
    /// What all shelves carry together; empty where that is not known.
    all: String,
    /// What figures of sizes are.
    unit: &'static str,
    cautions: Vec<String>,
}

#[derive(Serialize)]
struct Thing {
    at: [f64; 4],
    kind: usize,
    count: u32,
}

/// By what a shelf is found on the drawing: at the left of its room, under what stands there.
#[derive(Serialize)]
struct MarkData {
    at: [f64; 2],
    mark: String,
}

#[derive(Serialize)]
struct LabelData {
    place: String,
    /// Where it is drawn.
    lies: String,
    kg: String,
    keeps: String,
}

/// The shelf plan and the labels of a case as PDF, A4 upright.
///
/// The same design gives the same bytes.
///
/// # Errors
/// When there are no shelves, or the typesetter fails.
pub fn shelf_plan_pdf(design: &Design, model: &Model, arrangement: &Arrangement, paper: &Paper) -> Result<Vec<u8>, SheetError> {
    set(design, model, arrangement, paper)?.pdf()
}

/// The same as it was set.
pub(crate) fn set(design: &Design, model: &Model, arrangement: &Arrangement, paper: &Paper) -> Result<Set, SheetError> {
    let bounds = model.bounds.filter(|_| !arrangement.rows.is_empty()).ok_or(SheetError::Empty)?;
    let (width, height) = (bounds.max.x - bounds.min.x, bounds.max.y - bounds.min.y);
    let flat =
        |block: &Block| [block.min.x - bounds.min.x, block.min.y - bounds.min.y, block.max.x - bounds.min.x, block.max.y - bounds.min.y];
    let wording = Wording::of(design, model, paper.figures);
    let thumb = |words: &str| wording.thumb(words);
    let all = loads::whole(design, model, &loads::carries(design, model));
    let stacks = || arrangement.rows.iter().flat_map(|row| &row.stacks);
    let data = Data {
        name: &design.name,
        date: paper.date.as_deref().unwrap_or_default(),
        scale: (VIEW.0 / width).min(VIEW.1 / height),
        width,
        height,
        frame: from_behind(model, is_frame).map(|part| flat(&part.block())).collect(),
        shelves: from_behind(model, is_shelf).map(|part| flat(&part.block())).collect(),
        things: stacks().map(|stack| Thing { at: flat(&stack.block), kind: stack.kind + 1, count: stack.count }).collect(),
        rows: design
            .contents
            .iter()
            .enumerate()
            .map(|(index, kind)| {
                let placed: u32 = stacks().filter(|stack| stack.kind == index).map(|stack| stack.count).sum();
                let sizes = [kind.width, kind.depth, kind.height].map(|length| paper.figures.tape(length.to_mm())).join(" × ");
                [(index + 1).to_string(), kind.name.clone(), sizes, trimmed_to(kind.mass, 1), format!("{placed} of {}", kind.wanted())]
            })
            .collect(),
        marks: arrangement
            .rows
            .iter()
            .map(|row| MarkData {
                at: [row.space.min.x - bounds.min.x, row.space.min.y - bounds.min.y],
                mark: format!("{} · {}", mark(row), lies_on(row)),
            })
            .collect(),
        stand: arrangement
            .rows
            .iter()
            .map(|row| {
                let kg = if row.stacks.is_empty() { String::new() } else { trimmed_to(row.kg(), 1) };
                [mark(row), lies_on(row), row_words(&row.stacks, &design.contents), kg, carries(row, all)]
            })
            .collect(),
        labels: arrangement.rows.iter().map(|row| label(design, row, all)).collect(),
        left: left(design, arrangement),
        rules: rules(design, model, arrangement, all).iter().map(|words| thumb(words)).collect(),
        all: all.map(|all| format!("all shelves together {} kg", on_a_label(all.kg))).unwrap_or_default(),
        unit: paper.figures.unit_mark(),
        cautions: CAUTIONS.iter().map(|words| thumb(words)).collect(),
    };
    typeset::set(TEMPLATE, &data)
}

/// Parts of some kinds, those behind first, so that what is drawn later hides them.
fn from_behind(model: &Model, wanted: fn(PartKind) -> bool) -> impl Iterator<Item = &Part> {
    let mut parts: Vec<&Part> = model.parts.iter().filter(|part| wanted(part.kind)).collect();
    parts.sort_by(|a, b| a.block().max.z.total_cmp(&b.block().max.z));
    parts.into_iter()
}

fn is_frame(kind: PartKind) -> bool {
    matches!(kind, PartKind::Post | PartKind::Rail | PartKind::Stile | PartKind::Top)
}

fn is_shelf(kind: PartKind) -> bool {
    matches!(kind, PartKind::Slat | PartKind::Shelf | PartKind::Floor)
}

/// "2.1" for the lowest shelf of the second bay as the design lists them, "2.0" for its floor.
fn mark(row: &Row) -> String {
    format!("{}.{}", row.bay + 1, row.shelf.map_or(0, |shelf| shelf + 1))
}

/// "tooth 12", or "floor".
fn lies_on(row: &Row) -> String {
    row.tooth.map_or_else(|| "floor".to_owned(), |level| format!("{} {level}", row.counted.words().0))
}

/// "60 kg": what it carries by itself, and no more than all together.
fn carries(row: &Row, all: Option<loads::Whole>) -> String {
    row.carries.map_or_else(|| "not judged".to_owned(), |kg| format!("{} kg", on_a_label(loads::Whole::on_one(all, kg))))
}

/// By the shelf itself, which keeps its label when it is laid elsewhere.
fn label(design: &Design, row: &Row, all: Option<loads::Whole>) -> LabelData {
    let bay = row.bay + 1;
    LabelData {
        place: match row.shelf {
            Some(shelf) => format!("{}  Shelf {} of bay {bay}", mark(row), shelf + 1),
            None => format!("{}  Floor of bay {bay}", mark(row)),
        },
        lies: if row.shelf.is_some() { format!("drawn on {}", lies_on(row)) } else { String::new() },
        kg: carries(row, all),
        keeps: row_words(&row.stacks, &design.contents),
    }
}

fn left(design: &Design, arrangement: &Arrangement) -> Vec<String> {
    let name = |kind: usize| design.contents.get(kind).map_or("", |kind| &kind.name);
    arrangement.left.iter().map(|left| format!("{} × {}", left.count, name(left.kind))).collect()
}

fn rules(design: &Design, model: &Model, arrangement: &Arrangement, all: Option<loads::Whole>) -> Vec<String> {
    let hand = &design.hand_room;
    let carry = model.parts.iter().filter(|part| is_shelf(part.kind) || part.kind == PartKind::Cleat);
    let recalled = recalled_of_carrying(model, carry);
    let memory = (!recalled.is_empty()).then(|| format!("What a shelf carries rests on figures from memory: {}.", recalled.join(", ")));
    let stand: f64 = arrangement.rows.iter().map(Row::kg).sum();
    let in_all = all.map(|all| {
        let over =
            if all.is_less_than(stand) { format!(" As drawn {} kg stand there: too much.", trimmed(stand.ceil())) } else { String::new() };
        format!("At most {} kg on all shelves and floors together, however much each of them carries.{over}", on_a_label(all.kg))
    });
    let mut rules = vec![
        "Spread the load evenly. What is heaviest stands low, between knee and elbow, where it can be lifted.".to_owned(),
        format!("Nothing over {} kg higher than {} mm.", trimmed(hand.heavy), hand.heavy_up_to),
        "A shelf that was moved carries as much wherever it lies.".to_owned(),
    ];
    rules.extend(memory);
    in_all.into_iter().chain(rules).collect()
}
