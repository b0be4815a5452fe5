//! From the cut list to marked boards: which part is cut from which board or sheet on hand, and in which order.
//!
//! ```text
//! Design (pile, rough sizes, what is placed by hand), CutList
//!     ──racks, lines──▶ for each species and thickness a bench with what stays where it is ──lay──▶ Cutting
//! ```
//!
//! Solid parts keep their grain along the board; they come out of the thinnest boards on hand that plane to their thickness, and what finds no place there
//! out of the next thicker ones, unless another way costs less or leaves less without a place (`ways`). What is wider than any of these, or than the machine takes
//! that flattens it, is glued up from strips. Sheets are cut to finished size.

mod around;
mod as_they_stand;
mod bench;
mod beside;
mod buy;
mod by_hand;
mod effort;
mod glued;
mod in_sequence;
mod lines;
mod matching;
mod offcuts;
mod rack;
mod slivers;
mod spent;
mod steps;
mod thickness;
mod tidy;
mod veneer;
mod ways;

pub use buy::{Bad, Buying, ToBuy, buy};
pub use casewright_cutting::boards::{Cut, Direction};
pub use effort::{Effort, Progress};
pub use glued::{GluedUp, Strip, glued_up};
pub use offcuts::{Offcut, offcuts, remaining};
pub use rack::trims;
pub use spent::{Spent, SpentOn};
pub use steps::{Run, Step, Trims, runs, steps};

use std::collections::BTreeMap;

use crate::cutlist::{CutList, Row};
use crate::design::Design;
use crate::design::pile::Stuff;
use crate::length::trimmed_to;
use crate::model::{Material, Model, PartId, PartKind};
use bench::Bench;
use lines::Line;
use rack::{Rack, racks};
use ways::Way;

/// What is cut from what is on hand.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Cutting {
    /// Boards and sheets to cut, in the order of the pile.
    pub boards: Vec<Marked>,
    /// What finds no place.
    pub left: Vec<Left>,
    /// How good the layouts are, one for each species and thickness.
    pub groups: Vec<Group>,
    /// What is wrong with the pile, and with what was placed by hand; all else is laid out.
    pub told: Vec<String>,
    /// What is not laid out: milled in lengths from what is left over, or bought; veneer that is glued on here.
    pub besides: Vec<Left>,
    /// From how many strips parts are glued up, by their marks.
    pub strips: BTreeMap<String, usize>,
}

/// A board or sheet with what is cut from it.
#[derive(Clone, Debug, PartialEq)]
pub struct Marked {
    /// Which entry of the pile it is, counted from 0.
    pub entry: usize,
    /// Which of those alike, counted from 1; of what is resawn, which of all leaves.
    pub number: usize,
    /// What is cut from it, in the order in which the cuts free it.
    pub pieces: Vec<Piece>,
    /// The cuts in their order, edges and ends trimmed before; places from the untrimmed corner, mm.
    pub cuts: Vec<Cut>,
}

impl Marked {
    /// What it is called where several are alike or it is resawn: `D4 (2 of 3)`, `B1 (leaf 1 of 2)`.
    pub fn called(&self, stuff: &Stuff) -> String {
        let (count, leaves) = (stuff.count as usize, (stuff.leaves as usize).max(1));
        let (board, leaf) = ((self.number.max(1) - 1) / leaves + 1, (self.number.max(1) - 1) % leaves + 1);
        let board = (count > 1).then(|| format!("{board} of {count}"));
        let leaf = (leaves > 1).then(|| format!("leaf {leaf} of {leaves}"));
        let which: Vec<String> = board.into_iter().chain(leaf).collect();
        if which.is_empty() { stuff.name.clone() } else { format!("{} ({})", stuff.name, which.join(", ")) }
    }
}

/// A piece on a board.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// The part that it becomes, or of which it becomes a strip or layer.
    pub part: PartId,
    /// The parts that are crosscut from it besides once it is milled, being too short for the machines one by one.
    pub with: Vec<PartId>,
    /// Which of the pieces of that part, counted from 1.
    pub piece: u32,
    /// The mark of what it becomes; of a lipping its own: `F1L`.
    pub mark: String,
    /// Its mark, and which strip or layer: `T1`, `T1, strip 2 of 3`; or how many come out of it: `BT1 × 8`; or which it is of those of which the figure goes on: `BP1, 2 of 4`.
    pub words: String,
    /// Where it begins along the board, mm.
    pub x: f64,
    /// Where it begins across the board, mm.
    pub y: f64,
    /// How long it is on the board, mm: along the grain, but where it lies turned.
    pub length: f64,
    /// How wide it is on the board, mm.
    pub width: f64,
    /// By how much it is longer and wider on the board than what is asked for, mm: what is too little to saw off is left on it.
    pub more: [f64; 2],
    /// Whether its length lies across the board.
    pub turned: bool,
    /// Whether the maker put it there.
    pub by_hand: bool,
}

impl Piece {
    /// All the parts that it becomes.
    pub fn parts(&self) -> impl Iterator<Item = PartId> + '_ {
        std::iter::once(self.part).chain(self.with.iter().copied())
    }
}

/// Parts that find no place.
#[derive(Clone, Debug, PartialEq)]
pub struct Left {
    /// Their mark.
    pub mark: String,
    /// How many pieces; of what is milled several in one length, how many parts.
    pub count: u32,
    /// Why, and what would do.
    pub words: String,
}

/// How good a layout is.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// Of what: "white ash 32 mm".
    pub name: String,
    /// How many boards or sheets it takes.
    pub boards: usize,
    /// What they cost, or where nothing has a price, their volume or area.
    pub cost: f64,
    /// What that is counted in.
    pub measure: Measure,
    /// How many of them have no price where others have one: they count as the others do, by their measure.
    pub without_price: usize,
    /// Whether all that is to come out of them has a place.
    pub complete: bool,
    /// No layout costs less that leaves where it is what was placed by hand; 0 where not all has a place.
    pub bound: f64,
    /// Whether that is proven to be the least.
    pub proven: bool,
    /// By how much it may be above the least, as a share of it.
    pub gap: f64,
}

/// What the cost of boards is counted in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// Money: they have prices.
    Money,
    /// m³ of boards without a price.
    Volume,
    /// m² of sheets without a price.
    Area,
}

impl Measure {
    /// Its word in files.
    pub fn word(self) -> &'static str {
        match self {
            Measure::Money => "money",
            Measure::Volume => "m³",
            Measure::Area => "m²",
        }
    }
}

impl Group {
    /// `€ 132`, or where nothing has a price `0.086 m³`.
    pub fn cost_words(&self, currency: &str) -> String {
        match self.measure {
            Measure::Money if self.without_price > 0 => format!(
                "{currency} {}, {} of them without a price, counted as the others are by measure",
                trimmed_to(self.cost, 2),
                self.without_price
            ),
            Measure::Money => format!("{currency} {}", trimmed_to(self.cost, 2)),
            Measure::Volume => format!("{} m³", trimmed_to(self.cost, 4)),
            Measure::Area => format!("{} m²", trimmed_to(self.cost, 3)),
        }
    }

    /// How near it is to the least, in words.
    pub fn proof_words(&self) -> String {
        if !self.complete {
            "not everything finds a place".to_owned()
        } else if self.proven {
            "no other way takes less".to_owned()
        } else {
            format!("at most {} % above the least", trimmed_to(self.gap * 100.0, 1))
        }
    }
}

/// Lays all parts of a case out on what is on hand, one species and thickness after the other.
pub fn cut(design: &Design, model: &Model, effort: Effort<'_>) -> Cutting {
    cut_some(design, model, effort, None)
}

/// Some pieces, by part and number, and from how many strips each mark is glued up.
type Only<'o> = (&'o [(PartId, u32)], &'o BTreeMap<String, usize>);

/// As [`cut()`], of some pieces alone where some are given.
fn cut_some(design: &Design, model: &Model, effort: Effort<'_>, only: Option<Only<'_>>) -> Cutting {
    let list = CutList::of(design, model);
    let (racks, mut told) = racks(design, model);
    if design.shop.pile.is_empty() {
        told.push("Nothing is on hand: put boards and sheets into the pile, or read them from a table".to_owned());
        return Cutting { told, ..Cutting::default() };
    }
    told.extend(thickness::too_thin_resawn(design, &list, racks.iter().flat_map(|rack| &rack.entries)));
    for (set, names) in design.shop.matched.iter().enumerate() {
        let unknown = names.iter().filter(|name| model.find(name).is_none());
        told.extend(unknown.map(|name| format!("matched.{}: the case has no part called \"{name}\"", set + 1)));
    }
    let job = Job { design, model, list: &list, racks: &racks };
    let mut cutting = match only {
        Some((pieces, strips)) => job.lay(&Way { strips: strips.clone(), ..Way::plain(&job) }, effort, Some(pieces)),
        None => job.lay(&ways::best(&job, effort), effort, None),
    };
    as_they_stand::as_they_stand(design, model, &racks, &mut cutting);
    if only.is_none() {
        told.extend(veneer::is_in_no_layout(design, model, &list));
        cutting.besides.splice(0..0, veneer::besides(design, model, &list));
    }
    cutting.told.splice(0..0, told);
    cutting
}

/// What is cut out of what, whichever way.
struct Job<'j> {
    design: &'j Design,
    model: &'j Model,
    list: &'j CutList,
    racks: &'j [Rack<'j>],
}

impl Job<'_> {
    /// Lays the parts out one way; of some pieces alone where some are given.
    fn lay(&self, way: &Way, effort: Effort<'_>, only: Option<&[(PartId, u32)]>) -> Cutting {
        let Job { design, model, list, racks } = *self;
        let mut cutting = Cutting { strips: way.strips.clone(), ..Cutting::default() };
        let wanted = list.rows.iter().filter(|row| only.is_none_or(|pieces| pieces.iter().any(|piece| lines::is_of(row, *piece))));
        let mut asked: Vec<Asked<'_>> = Vec::new();
        for row in wanted {
            if comes_from_offcuts(row.kind) && !matches!(row.material, Material::Bought(_)) {
                cutting.besides.push(besides(row));
                continue;
            }
            match self.ask(way, row) {
                Ok(one) => asked.extend(one),
                Err(left) => {
                    let lost = only.map(|pieces| pieces.iter().filter(|piece| lines::is_of(row, **piece)).count());
                    let count = lost.map_or(left.count, |lost| u32::try_from(lost).unwrap_or(u32::MAX));
                    cutting.left.push(Left { count, ..left });
                }
            }
        }
        if let Some(pieces) = only {
            for asked in &mut asked {
                let line = &asked.line;
                let is_wanted = |nth: &usize| line.piece(*nth).is_some_and(|(part, piece, _)| pieces.contains(&(part, piece)));
                asked.line.open = line.open.iter().copied().filter(is_wanted).collect();
            }
        }
        let mut benches: Vec<Bench<'_, '_>> = racks.iter().enumerate().map(|(at, rack)| Bench::new(design, rack, at)).collect();
        by_hand::by_hand(design, model, &mut benches, &mut asked, &mut cutting.told);
        for (turn, at) in way.order.iter().enumerate() {
            let Some(bench) = benches.get_mut(*at) else { continue };
            let is_next = |line: &usize| asked.get(*line).is_some_and(|asked| asked.next() == Some(*at) && !asked.line.open.is_empty());
            let wanted: Vec<usize> = (0..asked.len()).filter(is_next).collect();
            if wanted.is_empty() && bench.is_bare() {
                continue;
            }
            let name = &bench.rack.name;
            effort.on(turn, way.order.len(), name, |effort| bench.lay(&mut asked, &wanted, effort, &mut cutting));
        }
        cutting.left.extend(asked.iter().filter_map(Asked::left));
        cutting.boards.sort_by_key(|board| (board.entry, board.number));
        cutting
    }

    /// What is asked for the parts of a row; nothing for what is bought or comes from offcuts.
    ///
    /// # Errors
    /// When nothing on hand does for it.
    fn ask<'l>(&self, way: &Way, row: &'l Row) -> Result<Option<Asked<'l>>, Left> {
        if matches!(row.material, Material::Bought(_)) {
            return Ok(None);
        }
        let serves = |rack: &usize| self.racks.get(*rack).is_some_and(|rack| rack.serves(self.design, row));
        let racks: Vec<usize> = way.order.iter().copied().filter(serves).collect();
        if racks.is_empty() {
            return Err(nothing_for(self.design, row));
        }
        let thinnest = (0..self.racks.len()).find(serves).unwrap_or_default();
        let line = Line::new(self.design, self.model, row, way.strips.get(&row.mark).copied().unwrap_or(1));
        Ok(Some(Asked { line, racks, thinnest, why: String::new() }))
    }
}

/// A line of pieces with the racks that it can come out of, in the order in which they are tried.
struct Asked<'l> {
    line: Line<'l>,
    racks: Vec<usize>,
    /// The thinnest of all that do for it, whether it is asked or not.
    thinnest: usize,
    /// Why the last of these left it.
    why: String,
}

impl Asked<'_> {
    /// The rack whose turn it is.
    fn next(&self) -> Option<usize> {
        self.racks.first().copied()
    }

    fn left(&self) -> Option<Left> {
        let parts = self.line.open.iter().map(|nth| self.line.parts(*nth).len()).sum::<usize>();
        let count = u32::try_from(parts).unwrap_or(u32::MAX);
        (count > 0).then(|| Left { mark: self.line.row.mark.clone(), count, words: self.why.clone() })
    }
}

fn besides(row: &Row) -> Left {
    let thickness = trimmed_to(row.finished[2], 2);
    let words = format!("milled {thickness} thick in lengths, from what is left over, or bought");
    Left { mark: row.mark.clone(), count: u32::try_from(row.parts.len()).unwrap_or(u32::MAX), words }
}

/// Small loose parts are milled in lengths from what is left over, or bought.
fn comes_from_offcuts(kind: PartKind) -> bool {
    matches!(kind, PartKind::LooseTenon | PartKind::Dowel | PartKind::Shim)
}

fn nothing_for(design: &Design, row: &Row) -> Left {
    let there = design.shop.pile.iter().filter(|stuff| stuff.of == row.material.id());
    let measured: Vec<String> = there.map(|stuff| format!("{} {}", stuff.name, trimmed_to(stuff.thickness.to_mm(), 2))).collect();
    let board = row.rough.map(|rough| rough.words()).filter(|words| !words.is_empty());
    let wanted = board.unwrap_or_else(|| format!("{} mm", trimmed_to(row.sawn[2], 2)));
    Left {
        mark: row.mark.clone(),
        count: u32::try_from(row.parts.len()).unwrap_or(u32::MAX),
        words: match row.material {
            Material::Sheet(_) if !measured.is_empty() => {
                format!("there is no {} that measures {wanted}: {}", row.made_of, measured.join(", "))
            }
            Material::Sheet(_) => format!("there is no {} that measures {wanted}", row.made_of),
            Material::Solid(_) | Material::Bought(_) => format!("there is no {} that is thick enough: {wanted} would do", row.made_of),
        },
    }
}

#[cfg(test)]
mod tests;
