//! The pieces that are asked for: the parts of a row of the cut list, in as many strips and layers as they are glued up from.

use std::ops::Range;

use crate::cutlist::Row;
use crate::design::Design;
use crate::design::shop::State;
use crate::model::{Model, Part, PartId, PartKind};

/// What is glued onto a sheet is counted from here on, so that no number is that of a piece of the sheet itself.
const GLUED_ON: usize = 100;

/// Whether a piece, by its part and its number, is one of a row: of a sheet and its lippings each has a row of its own.
pub(super) fn is_of(row: &Row, (part, piece): (PartId, u32)) -> bool {
    let nth = (piece as usize).saturating_sub(GLUED_ON);
    let is_it = if row.lippings == 0 { nth == 0 } else { (row.lippings_before + 1..=row.lippings_before + row.lippings).contains(&nth) };
    is_it && row.parts.contains(&part)
}

/// All parts of a mark, each in so many strips and layers, or several in one length where the machines can't take them one by one.
pub(super) struct Line<'l> {
    pub row: &'l Row,
    /// On the board along the grain, mm.
    pub length: f64,
    /// On the board across the grain, mm.
    pub width: f64,
    /// Whether it may lie across: nothing shows which way it lay.
    pub turn: bool,
    /// How many strips make up a part side by side.
    pub strips: usize,
    /// How many lie on each other.
    pub layers: usize,
    /// Whether it is seen once the case stands.
    pub shows: bool,
    /// The names of its parts.
    names: Vec<String>,
    /// Which of its parts come out of each length.
    lengths: Vec<Range<usize>>,
    /// Which of its pieces have no place yet, counted through all its parts.
    pub open: Vec<usize>,
}

impl<'l> Line<'l> {
    /// The pieces of a row, glued up from so many strips.
    pub fn new(design: &Design, model: &Model, row: &'l Row, strips: usize) -> Line<'l> {
        let more = if row.rough.is_some() { design.timber.rough.width.to_mm() } else { 0.0 };
        let layers = row.rough.map_or(1, |rough| rough.layers as usize);
        let lengths: Vec<Range<usize>> = row
            .shares
            .iter()
            .scan(0, |from, share| {
                let first = *from;
                *from += share;
                Some(first..*from)
            })
            .collect();
        // What is sawn out already needs no board.
        let is_planned = |parts: &Range<usize>| {
            row.parts.get(parts.clone()).is_some_and(|parts| parts.iter().any(|part| model.part(*part).state == State::Planned))
        };
        let each = strips * layers;
        let planned: Vec<usize> =
            lengths.iter().enumerate().filter(|(_, parts)| is_planned(parts)).flat_map(|(at, _)| at * each..(at + 1) * each).collect();
        Line {
            row,
            length: row.rough_size()[0],
            width: row.sawn[1] / strips as f64 + more,
            turn: !model.timbers.has_grain(&row.material),
            strips,
            layers,
            shows: row.parts.iter().any(|part| shows(model.part(*part))),
            names: row.parts.iter().map(|part| model.part(*part).name.clone()).collect(),
            open: planned,
            lengths,
        }
    }

    /// The names of the parts that the nth piece becomes.
    pub fn names(&self, nth: usize) -> &[String] {
        self.lengths.get(nth / self.each()).and_then(|parts| self.names.get(parts.clone())).unwrap_or_default()
    }

    /// The parts that the nth piece becomes.
    pub fn parts(&self, nth: usize) -> &[PartId] {
        self.lengths.get(nth / self.each()).and_then(|parts| self.row.parts.get(parts.clone())).unwrap_or_default()
    }

    /// How many pieces make up a part.
    pub fn each(&self) -> usize {
        (self.strips * self.layers).max(1)
    }

    /// How long and wide it is on a board, mm.
    pub fn size(&self, turned: bool) -> [f64; 2] {
        if turned { [self.width, self.length] } else { [self.length, self.width] }
    }

    /// The first part that the nth piece becomes, which of its pieces that is, counted from 1, and what it is called: `T1, strip 2 of 3`, `BT1 × 8`.
    pub fn piece(&self, nth: usize) -> Option<(PartId, u32, String)> {
        let parts = self.parts(nth);
        let within = nth % self.each();
        let (layer, strip) = (within / self.strips + 1, within % self.strips + 1);
        let of = |what: &str, nth: usize, all: usize| if all > 1 { format!(", {what} {nth} of {all}") } else { String::new() };
        let several = if parts.len() > 1 { format!(" × {}", parts.len()) } else { String::new() };
        let words = format!("{}{several}{}{}", self.row.mark, of("layer", layer, self.layers), of("strip", strip, self.strips));
        let piece = self.before(nth / self.each()) * self.each() + within + 1;
        Some((*parts.first()?, u32::try_from(piece).unwrap_or(u32::MAX), words))
    }

    /// After how many of its part's pieces those of a length come: what is glued onto a sheet comes after the sheet itself.
    fn before(&self, length: usize) -> usize {
        let Some(parts) = self.lengths.get(length).filter(|_| self.row.lippings > 0) else { return 0 };
        let first = self.row.parts.get(parts.start);
        let others = self.row.parts.iter().take(parts.start).filter(|other| Some(*other) == first).count();
        GLUED_ON + self.row.lippings_before + others
    }

    /// Which piece of the line is so many of a part.
    pub fn nth(&self, part: PartId, piece: u32) -> Option<usize> {
        if self.row.lippings > 0 {
            let is_it = |nth: &usize| self.piece(*nth).is_some_and(|(of, number, _)| (of, number) == (part, piece));
            return (0..self.lengths.len() * self.each()).find(is_it);
        }
        let within = (piece as usize).checked_sub(1).filter(|within| *within < self.each())?;
        let at = self.row.parts.iter().position(|other| *other == part)?;
        let length = self.lengths.iter().position(|parts| parts.contains(&at))?;
        Some(length * self.each() + within)
    }
}

/// Whether a part is seen once the case stands: not what lies inside or looks to the wall.
fn shows(part: &Part) -> bool {
    match part.kind {
        PartKind::Post | PartKind::Stile | PartKind::Top | PartKind::Slat | PartKind::Shelf | PartKind::Own => true,
        PartKind::Rail | PartKind::Panel => !part.name.contains(".back"),
        PartKind::Muntin
        | PartKind::CrossRail
        | PartKind::Floor
        | PartKind::Bearer
        | PartKind::Standard
        | PartKind::Cleat
        | PartKind::Pin
        | PartKind::Spacer
        | PartKind::Button
        | PartKind::LooseTenon
        | PartKind::Dowel
        | PartKind::Clip
        | PartKind::Plate
        | PartKind::Strip
        | PartKind::Shim => false,
    }
}
