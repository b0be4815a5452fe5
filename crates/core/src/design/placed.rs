//! Pieces that the maker put on a board by hand: they stay there, and the rest is laid around them.
//!
//! ```text
//! shop: (
//!     placed: [(part: "rail.front.top", board: "C1", x: 400, y: 60), (part: "top", piece: 2, board: "D1", x: 40, y: 5)],
//! )
//! ```
//!
//! [`decisions::set`](super::decisions::set) takes `placed.PART` for the first or only piece of a part and `placed.PART#2` for the second: the board's name,
//! and where the piece begins along and across it, `C1, 400, 60`; behind these `turned` where it lies across, and `number 2` for the second of boards that
//! are alike. `none` takes it back.

use serde::{Deserialize, Serialize};

use super::Design;
use super::decisions::DecisionError;
use super::pile::{is_one, one};
use super::shop::is_default;
use crate::length::{Length, parse};

/// A piece that stays where the maker put it. Whether it can lie there is [`boards::cut`](crate::boards::cut())'s to say.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Placed {
    /// The part, by its name.
    pub part: String,
    /// Which of its strips and layers, counted from 1.
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub piece: u32,
    /// The board or sheet, by what the maker calls it.
    pub board: String,
    /// Which of those alike, counted from 1.
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub number: u32,
    /// Where it begins along the board, from its untrimmed corner, mm.
    pub x: Length,
    /// Where it begins across the board, mm.
    pub y: Length,
    /// Whether its length lies across the board.
    #[serde(default, skip_serializing_if = "is_default")]
    pub turned: bool,
}

/// How far along or across a board a piece may be put, mm.
pub const AT: std::ops::RangeInclusive<f64> = 0.0..=9000.0;

/// Puts a piece on a board, in place of where it was put before.
pub fn put(design: &mut Design, placed: Placed) {
    let all = &mut design.shop.placed;
    match all.iter_mut().find(|other| other.part == placed.part && other.piece == placed.piece) {
        Some(other) => *other = placed,
        None => all.push(placed),
    }
}

/// Gives a piece back to be laid with the rest.
pub fn take_back(design: &mut Design, part: &str, piece: u32) {
    design.shop.placed.retain(|other| other.part != part || other.piece != piece);
}

/// What takes a piece back.
const NONE: &str = "none";
const WOULD_DO: &str =
    "write the board and where the piece begins along and across it in mm, C1, 400, 60; behind these turned or number 2; or none";

/// Puts a piece or takes it back, when `path` names one; nothing when it does not.
pub(super) fn set(design: &mut Design, path: &str, text: &str) -> Option<Result<(), DecisionError>> {
    let named = path.strip_prefix("placed.")?;
    let refused = || DecisionError::Unreadable { path: path.to_owned(), found: text.to_owned(), expected: WOULD_DO.to_owned() };
    let (part, piece) = match named.rsplit_once('#') {
        None => (named, Some(1)),
        Some((part, piece)) => (part, piece.parse().ok().filter(|piece| *piece > 0)),
    };
    let Some(piece) = piece else { return Some(Err(refused())) };
    if text.trim() == NONE {
        take_back(design, part, piece);
        return Some(Ok(()));
    }
    Some(read(part, piece, text).ok_or_else(refused).map(|placed| put(design, placed)))
}

fn read(part: &str, piece: u32, text: &str) -> Option<Placed> {
    let cells: Vec<&str> = text.split(',').map(str::trim).collect();
    let [board, x, y, rest @ ..] = cells.as_slice() else { return None };
    let at = |text: &str| parse(text).ok().filter(|at| AT.contains(&at.to_mm()));
    let mut placed = Placed { part: part.to_owned(), piece, board: (*board).to_owned(), number: 1, x: at(x)?, y: at(y)?, turned: false };
    for cell in rest {
        match cell.strip_prefix("number") {
            Some(number) => placed.number = number.trim().parse().ok().filter(|number| *number > 0)?,
            None if *cell == "turned" => placed.turned = true,
            None => return None,
        }
    }
    (!placed.board.is_empty()).then_some(placed)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::decisions::{list, set};
    use crate::design::text;

    fn demo() -> Design {
        text::read(include_str!("../../../../examples/records_cabinet.ron")).expect("the demo")
    }

    #[test]
    fn a_piece_is_put_by_name_written_and_taken_back() {
        let mut design = demo();
        set(&mut design, "placed.rail.front.top", "C 1, 400, 60").expect("a place");
        set(&mut design, "placed.rail.front.top", "C 1, 410, 6 cm").expect("another place");
        set(&mut design, "placed.top#2", "D4, 40, 5, number 2").expect("a place of a strip");
        let [rail, strip] = design.shop.placed.as_slice() else { panic!("{:?}", design.shop.placed) };
        assert_eq!((rail.board.as_str(), rail.x, rail.y, rail.piece), ("C 1", Length::mm(410.0), Length::mm(60.0), 1));
        assert_eq!((strip.part.as_str(), strip.piece, strip.number), ("top", 2, 2));
        let told = list(&design).into_iter().find(|decision| decision.spec.path == "shop.placed.1.x").expect("a decision");
        assert!(told.spec.label.contains("rail.front.top") && told.spec.label.contains("C 1"), "{}", told.spec.label);
        assert_eq!(text::read(&text::write(&design).expect("a text")).expect("the same"), design);
        set(&mut design, "placed.rail.front.top", "none").expect("the way back");
        set(&mut design, "placed.top#2", "none").expect("the way back");
        assert_eq!(design, demo());
    }

    #[test]
    fn what_is_no_place_is_told() {
        for text in ["C1", "C1, here, 60", "C1, 400, 60, askew", ", 400, 60", "C1, -3, 60"] {
            let error = set(&mut demo(), "placed.rail.front.top", text).expect_err("no place").to_string();
            assert!(error.contains("C1, 400, 60"), "{error}");
        }
        assert!(set(&mut demo(), "placed.top#0", "C1, 4, 6").is_err());
    }
}
