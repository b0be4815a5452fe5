//! What is asked of the solver: stock and pieces of each species and thickness.

use casewright_cutting::boards::{Cut, Cuts, Direction, Piece, Stock, Task, Zone};

use super::Left;
use crate::cutlist::{CutList, Row};
use crate::design::pile::Stuff;
use crate::design::{Design, FirstCut, SHORT};
use crate::length::trimmed_to;
use crate::model::{Material, Model, PartId, PartKind};

/// One task with what its lines stand for.
pub(super) struct Question {
    /// Of what: "Ash, white 32 mm".
    pub name: String,
    pub task: Task,
    /// What its lines of stock stand for.
    pub stock: Vec<OnHand>,
    /// What its lines of pieces stand for.
    pub lines: Vec<Line>,
}

/// A line of stock.
pub(super) struct OnHand {
    /// Which entry of the pile.
    pub entry: usize,
    /// How far the solver's corner lies from the board's own, along it, mm.
    pub shift: f64,
}

impl OnHand {
    /// A cut of the solver on the board itself.
    pub fn moved(&self, cut: Cut) -> Cut {
        match cut.cut {
            Direction::Across => Cut { at: cut.at + self.shift, ..cut },
            Direction::Along => Cut { from: cut.from + self.shift, to: cut.to + self.shift, ..cut },
        }
    }
}

/// A line of pieces: all parts of a mark, each in so many strips and layers.
pub(super) struct Line {
    pub mark: String,
    /// On the board along the grain, mm.
    pub length: f64,
    pub width: f64,
    parts: Vec<PartId>,
    strips: usize,
    layers: usize,
}

impl Line {
    /// The part that the nth piece becomes, and what it is called.
    pub fn piece(&self, nth: usize) -> Option<(PartId, String)> {
        let each = self.strips * self.layers;
        let part = *self.parts.get(nth / each)?;
        let within = nth % each;
        let (layer, strip) = (within / self.strips + 1, within % self.strips + 1);
        let of = |what: &str, nth: usize, all: usize| if all > 1 { format!(", {what} {nth} of {all}") } else { String::new() };
        Some((part, format!("{}{}{}", self.mark, of("layer", layer, self.layers), of("strip", strip, self.strips))))
    }
}

/// What planing takes off a rough board to 1,500 mm, and off a longer one, both faces together, mm (common practice, no source).
const PLANED: f64 = 6.0;
const PLANED_LONG: f64 = 7.0;
/// A sheet as thick as is wanted may differ by as much, mm: what is sold under one thickness.
const SAME_SHEET: f64 = 1.0;
/// A width that leaves less than this for a strip is no board, mm.
const NARROWEST: f64 = 10.0;

/// The questions, what has no stock at all, and what is wrong with the pile.
pub(super) fn questions(design: &Design, model: &Model, list: &CutList) -> (Vec<Question>, Vec<Left>, Vec<String>) {
    let (mut questions, mut left): (Vec<Question>, Vec<Left>) = (Vec::new(), Vec::new());
    let (usable, told) = usable(design, model);
    for row in list.rows.iter().filter(|row| !comes_from_offcuts(row.kind)) {
        let Some(entries) = stock_for(&usable, row) else {
            if !matches!(row.material, Material::Bought(_)) {
                left.push(nothing_for(row));
            }
            continue;
        };
        let thickness = entries.first().map_or(0.0, |entry| entry.stuff.thickness.to_mm());
        let name = format!("{} {} mm", row.made_of, trimmed_to(thickness, 2));
        let at = questions.iter().position(|question| question.name == name).unwrap_or_else(|| {
            questions.push(asked(design, &entries, name, &row.material));
            questions.len() - 1
        });
        let widest = entries.iter().map(|entry| entry.width).fold(0.0, f64::max);
        ask(&mut questions[at], design, row, widest);
    }
    (questions, left, told)
}

/// Small loose parts are milled in lengths from what is left over, or bought.
fn comes_from_offcuts(kind: PartKind) -> bool {
    matches!(kind, PartKind::LooseTenon | PartKind::Dowel | PartKind::Shim)
}

/// A board or sheet that can be used.
struct Usable<'d> {
    entry: usize,
    stuff: &'d Stuff,
    /// What ends and edges leave, mm.
    length: f64,
    width: f64,
    /// Cut off each end, mm.
    ends: f64,
}

/// The entries of the pile that can be used, and why the others can't.
fn usable<'d>(design: &'d Design, model: &Model) -> (Vec<Usable<'d>>, Vec<String>) {
    let (mut usable, mut told) = (Vec::new(), Vec::new());
    let edge = design.timber.rough.edge.to_mm();
    for (entry, stuff) in design.shop.pile.iter().enumerate() {
        let named = format!("On hand {} ({})", entry + 1, stuff.name);
        let is_known = model.timbers.species(&stuff.of).is_some() || model.timbers.sheet(&stuff.of).is_some();
        let ends = stuff.ends.to_mm().max(design.timber.sticks.trim.to_mm());
        let [length, width] = [stuff.length.to_mm() - 2.0 * ends, stuff.width.to_mm() - 2.0 * edge];
        if !is_known {
            told.push(format!("{named}: no species or sheet is called \"{}\"; `wood` and the tables name them, white_ash", stuff.of));
        } else if length <= 0.0 || width < NARROWEST {
            told.push(format!(
                "{named}: {} × {} mm leaves nothing once {} mm are cut off both ends and {} mm off both edges",
                trimmed_to(stuff.length.to_mm(), 1),
                trimmed_to(stuff.width.to_mm(), 1),
                trimmed_to(ends, 1),
                trimmed_to(edge, 1)
            ));
        } else if stuff.price < 0.0 || !stuff.price.is_finite() {
            told.push(format!("{named}: a price of {} is none; write 0 where it is paid for", stuff.price));
        } else {
            usable.push(Usable { entry, stuff, length, width, ends });
        }
    }
    (usable, told)
}

/// Of what is on hand, the thinnest from which a row comes out; for sheets that of the same thickness. None where there is none.
fn stock_for<'u, 'd>(usable: &'u [Usable<'d>], row: &Row) -> Option<Vec<&'u Usable<'d>>> {
    let (id, least, most) = match (&row.material, row.rough) {
        (Material::Solid(id), Some(rough)) => {
            let planed = if rough.length > SHORT { PLANED_LONG } else { PLANED };
            (id, row.finished[2] / f64::from(rough.layers) + planed, f64::INFINITY)
        }
        (Material::Sheet(id), _) => (id, row.finished[2] - SAME_SHEET, row.finished[2] + SAME_SHEET),
        (Material::Solid(_) | Material::Bought(_), _) => return None,
    };
    let fits = |entry: &&Usable<'_>| {
        let thickness = entry.stuff.thickness.to_mm();
        entry.stuff.of == *id && (least - 0.05..=most).contains(&thickness)
    };
    let thinnest = usable.iter().filter(fits).map(|entry| entry.stuff.thickness.to_mm()).reduce(f64::min)?;
    // Boards that measure nearly alike are one thickness.
    let same = |entry: &&Usable<'_>| entry.stuff.thickness.to_mm() <= thinnest + SAME_SHEET;
    Some(usable.iter().filter(fits).filter(same).collect())
}

fn nothing_for(row: &Row) -> Left {
    let board = row.rough.map(|rough| rough.words()).filter(|words| !words.is_empty());
    let wanted = board.unwrap_or_else(|| format!("{} mm", trimmed_to(row.finished[2], 2)));
    Left {
        mark: row.mark.clone(),
        count: u32::try_from(row.parts.len()).unwrap_or(u32::MAX),
        words: format!("none of {} is on hand that is thick enough: {wanted} would do", row.made_of),
    }
}

/// A question with its stock.
fn asked(design: &Design, entries: &[&Usable<'_>], name: String, material: &Material) -> Question {
    let edge = design.timber.rough.edge.to_mm();
    let priced = entries.iter().any(|entry| entry.stuff.price > 0.0);
    let stock = entries.iter().map(|entry| {
        let Usable { stuff, length, .. } = entry;
        let shift = entry.ends - edge;
        let measure = stuff.length.to_mm() * stuff.width.to_mm() / 1e6
            * if matches!(material, Material::Solid(_)) { stuff.thickness.to_mm() / 1e3 } else { 1.0 };
        let zone = |flaw: &crate::design::pile::Flaw| Zone {
            x: (flaw.x.to_mm() - shift).max(0.0),
            y: flaw.y.to_mm(),
            length: flaw.length.to_mm() + (flaw.x.to_mm() - shift).min(0.0),
            width: Some(flaw.width.to_mm()),
        };
        Stock {
            id: stuff.name.clone(),
            length: length + 2.0 * edge,
            width: Some(stuff.width.to_mm()),
            count: Some(stuff.count),
            cost: if priced { stuff.price } else { measure },
            defects: stuff.flaws.iter().map(zone).filter(|zone| zone.length > 0.0).collect(),
        }
    });
    let first = match design.timber.rough.first {
        FirstCut::Either => None,
        FirstCut::Crosscut => Some(Direction::Across),
        FirstCut::Rip => Some(Direction::Along),
    };
    let task = Task {
        kerf: design.timber.sticks.kerf.to_mm(),
        trim: edge,
        stock: stock.collect(),
        pieces: Vec::new(),
        cuts: Cuts::Guillotine,
        stages: Some(3),
        first: first.filter(|_| matches!(material, Material::Solid(_))),
        trimming: true,
    };
    let stock = entries.iter().map(|entry| OnHand { entry: entry.entry, shift: entry.ends - edge }).collect();
    Question { name, task, stock, lines: Vec::new() }
}

/// Whether it looks alike whichever way it lies: sheets of fibres or chips without a veneer.
fn has_no_grain(material: &Material) -> bool {
    match material {
        Material::Sheet(id) => ["mdf", "particleboard", "hardboard"].iter().any(|plain| id.starts_with(plain)),
        Material::Solid(_) | Material::Bought(_) => false,
    }
}

/// Adds the pieces of a row; one that is wider than any board in as few strips as go.
fn ask(question: &mut Question, design: &Design, row: &Row, widest: f64) {
    let more = match row.rough {
        Some(_) => design.timber.rough.width.to_mm(),
        None => 0.0,
    };
    let [length, _] = row.rough_size();
    let width = row.finished[1];
    let strips = if row.rough.is_some() && widest > more { (width / (widest - more) - 1e-9).ceil().max(1.0) } else { 1.0 };
    let layers = row.rough.map_or(1, |rough| rough.layers as usize);
    let line =
        Line { mark: row.mark.clone(), length, width: width / strips + more, parts: row.parts.clone(), strips: strips as usize, layers };
    question.task.pieces.push(Piece {
        id: row.mark.clone(),
        length: line.length,
        width: Some(line.width),
        count: u32::try_from(line.parts.len() * line.strips * line.layers).unwrap_or(u32::MAX),
        turn: has_no_grain(&row.material),
        value: None,
    });
    question.lines.push(line);
}
