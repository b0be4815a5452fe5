//! Parts that are glued up from strips: from which boards, how wide each strip is planed, and which way its rings lie.

use super::Cutting;
use crate::design::{Design, Rings};
use crate::length::trimmed_to;
use crate::model::{Model, PartId};

/// A part that is glued up from strips.
#[derive(Clone, Debug, PartialEq)]
pub struct GluedUp {
    /// The part.
    pub part: PartId,
    /// Its strips in their order across the part: which piece, the entry of the pile and the number of its board, and how wide it is once planed, mm.
    pub strips: Vec<Strip>,
    /// How the strips are turned.
    pub rings: Rings,
}

/// A strip of a part.
#[derive(Clone, Debug, PartialEq)]
pub struct Strip {
    /// Which piece of the part, counted from 1.
    pub piece: u32,
    /// The entry of the pile, counted from 0.
    pub entry: usize,
    /// Which of those alike, counted from 1.
    pub number: usize,
    /// How wide it is in the part, mm.
    pub width: f64,
    /// Whether it is turned over against the first: its rings then look the other way.
    pub turned_over: bool,
}

impl GluedUp {
    /// `166 from C2, 166 from C4, 166 from C5; every second strip turned over`.
    pub fn words(&self, design: &Design) -> String {
        let strip = |strip: &Strip| {
            let board = design.shop.pile.get(strip.entry).map_or("", |stuff| stuff.name.as_str());
            format!("{} from {board}", trimmed_to(strip.width, 1))
        };
        let strips: Vec<String> = self.strips.iter().map(strip).collect();
        format!("{}; {}", strips.join(", "), self.rings.words())
    }
}

/// The parts of a cutting that are glued up side by side.
pub fn glued_up(design: &Design, model: &Model, cutting: &Cutting) -> Vec<GluedUp> {
    let mut all: Vec<GluedUp> = Vec::new();
    let more = design.timber.rough.width.to_mm();
    let rings = design.timber.rough.rings;
    for board in &cutting.boards {
        for piece in board.pieces.iter().filter(|piece| piece.words.contains("strip")) {
            let turned_over = rings == Rings::Alternate && piece.piece % 2 == 0;
            let width = piece.width - piece.more[1] - more;
            let strip = Strip { piece: piece.piece, entry: board.entry, number: board.number, width, turned_over };
            match all.iter_mut().find(|glued| glued.part == piece.part) {
                Some(glued) => glued.strips.push(strip),
                None => all.push(GluedUp { part: piece.part, strips: vec![strip], rings }),
            }
        }
    }
    for glued in &mut all {
        glued.strips.sort_by_key(|strip| strip.piece);
    }
    all.sort_by_key(|glued| model.part(glued.part).id);
    all
}
