//! From the cut list to marked boards: which part is cut from which board or sheet on hand, and in which order.
//!
//! ```text
//! Design (pile, rough sizes), CutList ──questions──▶ one task for each species and thickness ──lay──▶ Cutting
//! ```
//!
//! Solid parts keep their grain along the board; they come out of the thinnest boards on hand that plane to their thickness. What is wider than
//! any of these is glued up from strips. Sheets are cut to finished size.

mod effort;
mod question;

pub use casewright_cutting::boards::{Cut, Direction};
use casewright_cutting::boards::{Layout, Reason, lay};
pub use effort::{Effort, Progress};

use crate::cutlist::CutList;
use crate::design::Design;
use crate::model::{Model, PartId};
use question::{Line, Question};

/// What is cut from what is on hand.
#[derive(Clone, Debug, PartialEq)]
pub struct Cutting {
    /// Boards and sheets to cut, in the order of the pile.
    pub boards: Vec<Marked>,
    /// What finds no place.
    pub left: Vec<Left>,
    /// How good the layouts are, one for each species and thickness.
    pub groups: Vec<Group>,
    /// What is wrong with the pile, entry by entry; all else is laid out.
    pub told: Vec<String>,
}

/// A board or sheet with what is cut from it.
#[derive(Clone, Debug, PartialEq)]
pub struct Marked {
    /// Which entry of the pile it is, counted from 0.
    pub entry: usize,
    /// Which of those alike, counted from 1.
    pub number: usize,
    /// What is cut from it, in the order in which the cuts free it.
    pub pieces: Vec<Piece>,
    /// The cuts in their order, edges and ends trimmed before; places from the untrimmed corner, mm.
    pub cuts: Vec<Cut>,
}

/// A piece on a board.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// The part that it becomes, or of which it becomes a strip or layer.
    pub part: PartId,
    /// Its mark, and which strip or layer: `T1`, `T1, strip 2 of 3`.
    pub words: String,
    /// Where it begins along the board, mm.
    pub x: f64,
    /// Where it begins across the board, mm.
    pub y: f64,
    /// How long it is on the board, mm: along the grain, but where it lies turned.
    pub length: f64,
    /// How wide it is on the board, mm.
    pub width: f64,
}

/// Parts that find no place.
#[derive(Clone, Debug, PartialEq)]
pub struct Left {
    /// Their mark.
    pub mark: String,
    /// How many pieces.
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
    /// What they cost, or where nothing has a price, their volume in m³ or area in m².
    pub cost: f64,
    /// No layout costs less.
    pub bound: f64,
    /// Whether that is proven to be the least.
    pub proven: bool,
    /// By how much it may be above the least, as a share of it.
    pub gap: f64,
}

/// Lays all parts of a case out on what is on hand, one species and thickness after the other.
pub fn cut(design: &Design, model: &Model, effort: Effort<'_>) -> Cutting {
    let list = CutList::of(design, model);
    let (questions, left, told) = question::questions(design, model, &list);
    let mut cutting = Cutting { boards: Vec::new(), left, groups: Vec::new(), told };
    for (group, question) in questions.iter().enumerate() {
        let layout = effort.on(group, questions.len(), &question.name, |effort| lay(&question.task, effort));
        cutting.groups.push(Group {
            name: question.name.clone(),
            boards: layout.count,
            cost: layout.cost,
            bound: layout.bound,
            proven: layout.proven,
            gap: layout.gap(),
        });
        take(&mut cutting, question, layout);
    }
    cutting.boards.sort_by_key(|board| (board.entry, board.number));
    cutting
}

fn take(cutting: &mut Cutting, question: &Question, layout: Layout) {
    // Pieces of a line become its parts one after the other.
    let mut next = vec![0_usize; question.lines.len()];
    for used in layout.used {
        let Some(stock) = question.stock.get(used.line) else { continue };
        let number = cutting.boards.iter().filter(|board| board.entry == stock.entry).count() + 1;
        let pieces = used.placed.iter().filter_map(|placed| {
            let line = question.lines.get(placed.line)?;
            let nth = next.get_mut(placed.line)?;
            let piece = line.piece(*nth)?;
            *nth += 1;
            let (length, width) = if placed.turned { (line.width, line.length) } else { (line.length, line.width) };
            Some(Piece { part: piece.0, words: piece.1, x: placed.x + stock.shift, y: placed.y, length, width })
        });
        let pieces = pieces.collect();
        let cuts = used.cuts.iter().map(|cut| stock.moved(*cut)).collect();
        cutting.boards.push(Marked { entry: stock.entry, number, pieces, cuts });
    }
    for unplaced in &layout.unplaced {
        let Some(line) = question.lines.get(unplaced.line) else { continue };
        cutting.left.push(Left { mark: line.mark.clone(), count: unplaced.count, words: why(line, unplaced.reason, &question.name) });
    }
    cutting.told.extend(layout.faults.iter().map(|fault| format!("{}: {fault}", question.name)));
}

fn why(line: &Line, reason: Reason, name: &str) -> String {
    let size = [line.length, line.width].map(|mm| crate::length::trimmed_to(mm, 0)).join(" × ");
    match reason {
        Reason::Faulty => format!("{size} of {name} can't be laid out"),
        Reason::TooLarge => format!("{size} is larger than any of {name} on hand with its ends and edges trimmed"),
        Reason::NoRoom => format!("no room is left for {size} on the {name} on hand: buy more"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::pile::{self, Stuff};
    use crate::model::{Material, PartKind};
    use crate::table::Bare;

    fn demo() -> Design {
        crate::design::text::read(include_str!("../../../../examples/records_cabinet.ron")).expect("the demo")
    }

    fn pile() -> Vec<Stuff> {
        let listed = pile::read(include_str!("../../../../examples/pile.csv"), Bare::Mm);
        assert_eq!(listed.bad, []);
        listed.rows
    }

    /// Every part of timber or sheet is on some board once, or told; pieces lie within the trimmed board, clear of flaws and of each other by the
    /// kerf, and keep their grain.
    #[test]
    fn the_demo_comes_out_of_its_pile() {
        let mut design = demo();
        design.shop.pile = pile();
        let model = crate::derive(&design).expect("the demo");
        let cutting = cut(&design, &model, Effort::rounds(2));
        assert_eq!(cutting.told, Vec::<String>::new());
        assert_eq!(cutting.left, []);
        let loose = |kind| matches!(kind, PartKind::LooseTenon | PartKind::Dowel);
        let wanted = model.parts.iter().filter(|part| !matches!(part.material, Material::Bought(_)) && !loose(part.kind));
        for part in wanted {
            let pieces = cutting.boards.iter().flat_map(|board| &board.pieces).filter(|piece| piece.part == part.id);
            assert!(pieces.count() >= 1, "{} is on no board", part.title);
        }
        let kerf = design.timber.sticks.kerf.to_mm();
        for board in &cutting.boards {
            let stuff = &design.shop.pile[board.entry];
            let (ends, edge) = (design.timber.sticks.trim.to_mm().max(stuff.ends.to_mm()), design.timber.rough.edge.to_mm());
            for (at, piece) in board.pieces.iter().enumerate() {
                assert!(piece.x >= ends - 1e-6 && piece.x + piece.length <= stuff.length.to_mm() - ends + 1e-6, "{piece:?} on {stuff:?}");
                assert!(piece.y >= edge - 1e-6 && piece.y + piece.width <= stuff.width.to_mm() - edge + 1e-6, "{piece:?} on {stuff:?}");
                let apart = |other: [f64; 4], by: f64| {
                    let [x, y, length, width] = other;
                    x + length + by <= piece.x + 1e-6
                        || piece.x + piece.length + by <= x + 1e-6
                        || y + width + by <= piece.y + 1e-6
                        || piece.y + piece.width + by <= y + 1e-6
                };
                for other in &board.pieces[at + 1..] {
                    assert!(apart([other.x, other.y, other.length, other.width], kerf), "{piece:?} {other:?}");
                }
                for flaw in &stuff.flaws {
                    assert!(apart([flaw.x, flaw.y, flaw.length, flaw.width].map(crate::Length::to_mm), 0.0), "{piece:?} {flaw:?}");
                }
            }
        }
    }

    /// The top is wider than any board: it is glued up from strips that together are as wide, each with 6 more.
    #[test]
    fn a_wide_top_is_glued_up_from_strips() {
        let mut design = demo();
        design.shop.pile = pile();
        let model = crate::derive(&design).expect("the demo");
        let top = model.find("top").expect("a top");
        let cutting = cut(&design, &model, Effort::rounds(1));
        let strips: Vec<&Piece> = cutting.boards.iter().flat_map(|board| &board.pieces).filter(|piece| piece.part == top.id).collect();
        assert!(strips.len() >= 2, "{strips:?}");
        let net: f64 = strips.iter().map(|strip| strip.width - 6.0).sum();
        assert!((net - top.lwt().y).abs() < 1e-6, "{net}");
        assert!(strips[0].words.contains("strip 1 of"), "{}", strips[0].words);
    }

    #[test]
    fn what_is_wrong_with_the_pile_is_told_and_all_else_is_laid_out() {
        let mut design = demo();
        design.shop.pile = pile();
        let mut odd = design.shop.pile[0].clone();
        (odd.name, odd.of) = ("Odd".to_owned(), "moon_wood".to_owned());
        design.shop.pile.push(odd);
        let mut short = design.shop.pile[0].clone();
        (short.name, short.length) = ("Short".to_owned(), crate::Length::mm(30.0));
        design.shop.pile.push(short);
        let model = crate::derive(&design).expect("the demo");
        let cutting = cut(&design, &model, Effort::rounds(1));
        assert!(cutting.told.iter().any(|words| words.contains("Odd") && words.contains("moon_wood")), "{:?}", cutting.told);
        assert!(cutting.told.iter().any(|words| words.contains("Short") && words.contains("ends")), "{:?}", cutting.told);
        assert_eq!(cutting.left, []);
        design.shop.pile.clear();
        let nothing = cut(&design, &model, Effort::rounds(1));
        assert!(nothing.boards.is_empty() && nothing.left.len() > 20);
        assert!(
            nothing.left.iter().any(|left| left.words.contains("White ash") || left.words.contains("Ash, white")),
            "{:?}",
            nothing.left
        );
    }
}
