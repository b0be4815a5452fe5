//! Which part is cut from which board.

use casewright_core::boards::{Buying, Cutting, Direction, Left, Marked};
use casewright_core::{Design, Model};
use serde::Serialize;

use super::{SCHEMA, tidy};

/// The layouts; schema `assets/schema/boards.json`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BoardsDocument<'a> {
    /// Version of the document.
    pub schema: u32,
    /// What the piece is called.
    pub name: &'a str,
    /// Boards and sheets to cut.
    pub boards: Vec<MarkedEntry<'a>>,
    /// What finds no place.
    pub left: Vec<LeftEntry<'a>>,
    /// What is not laid out: milled in lengths from what is left over, or bought.
    pub besides: Vec<LeftEntry<'a>>,
    /// How good the layouts are.
    pub groups: Vec<GroupEntry<'a>>,
    /// What is wrong with the pile.
    pub told: &'a [String],
}

/// A board with what is cut from it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MarkedEntry<'a> {
    /// What the maker calls it.
    pub board: &'a str,
    /// Which of those alike.
    pub number: usize,
    /// Length, width and thickness, mm.
    pub size: [f64; 3],
    /// What is cut from it.
    pub pieces: Vec<PieceEntry<'a>>,
    /// The cuts in their order.
    pub cuts: Vec<CutEntry>,
}

/// A piece on a board.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PieceEntry<'a> {
    /// The part that it becomes.
    pub part: &'a str,
    /// The parts that are crosscut from it besides once it is milled; left out where there are none.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub with: Vec<&'a str>,
    /// Which of the pieces of that part.
    pub piece: u32,
    /// Its mark, with strip and layer.
    pub words: &'a str,
    /// Along the board, mm.
    pub x: f64,
    /// Across the board, mm.
    pub y: f64,
    /// Along the board, mm.
    pub length: f64,
    /// Across the board, mm.
    pub width: f64,
    /// Whether its length lies across the board.
    pub turned: bool,
    /// Whether the maker put it there.
    pub by_hand: bool,
}

/// A cut from edge to edge of what was left.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CutEntry {
    /// "rip" or "crosscut".
    pub cut: &'static str,
    /// Where the kerf begins, mm.
    pub at: f64,
    /// Where the saw goes in, mm.
    pub from: f64,
    /// Where it comes out, mm.
    pub to: f64,
    /// From the fence or stop to the blade, mm.
    pub set: f64,
    /// Length and width of what is sawn, mm.
    pub of: [f64; 2],
    /// The pieces that are by themselves after it.
    pub frees: Vec<String>,
    /// What to look out for.
    pub cautions: Vec<String>,
}

/// Parts without a place.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LeftEntry<'a> {
    /// Their mark.
    pub mark: &'a str,
    /// How many.
    pub count: u32,
    /// Why.
    pub words: &'a str,
}

/// How good a layout is.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct GroupEntry<'a> {
    /// Of what.
    pub name: &'a str,
    /// How many boards.
    pub boards: usize,
    /// What they cost, or come to.
    pub cost: f64,
    /// What that is counted in: "money", "m³", "m²".
    pub of: &'static str,
    /// How many of them have no price where others have one: they are counted as the others are, by measure.
    pub without_price: usize,
    /// Whether all that is to come out of them has a place.
    pub complete: bool,
    /// No layout costs less.
    pub bound: f64,
    /// Whether it is the least.
    pub proven: bool,
    /// As a share of the cost.
    pub gap: f64,
}

/// The layouts of a piece as a document.
pub fn boards<'a>(design: &'a Design, model: &'a Model, cutting: &'a Cutting) -> BoardsDocument<'a> {
    BoardsDocument {
        schema: SCHEMA,
        name: &model.name,
        boards: cutting.boards.iter().filter_map(|board| marked(design, model, board)).collect(),
        left: cutting.left.iter().map(left).collect(),
        besides: cutting.besides.iter().map(left).collect(),
        groups: cutting
            .groups
            .iter()
            .map(|group| GroupEntry {
                name: &group.name,
                boards: group.boards,
                cost: tidy(group.cost),
                of: group.measure.word(),
                without_price: group.without_price,
                complete: group.complete,
                bound: tidy(group.bound),
                proven: group.proven,
                gap: tidy(group.gap),
            })
            .collect(),
        told: &cutting.told,
    }
}

fn left(left: &Left) -> LeftEntry<'_> {
    LeftEntry { mark: &left.mark, count: left.count, words: &left.words }
}

/// What to buy, with the layouts on it; schema `assets/schema/buy.json`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BuyDocument<'a> {
    /// Version of the document.
    pub schema: u32,
    /// What is bought, a line an offer.
    pub buy: Vec<BuyEntry<'a>>,
    /// What it costs.
    pub total: f64,
    /// What that is in.
    pub currency: &'a str,
    /// What if a board is bad.
    pub bad: Vec<BadEntry<'a>>,
    /// What is cut from what is on hand and bought, as `boards` tells it.
    pub layouts: BoardsDocument<'a>,
}

/// An offer of which something is bought.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BuyEntry<'a> {
    /// What the dealer calls it.
    pub name: &'a str,
    /// How many are cut up.
    pub cut: u32,
    /// How many are to spare.
    pub spare: u32,
    /// How many come besides because they are sold together.
    pub over: u32,
    /// What one costs.
    pub each: f64,
    /// What all of them cost.
    pub cost: f64,
}

/// What if a board is bad.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BadEntry<'a> {
    /// The board.
    pub board: &'a str,
    /// What loses its place.
    pub lost: Vec<LostEntry<'a>>,
    /// What of it finds no other.
    pub left: Vec<LeftEntry<'a>>,
}

/// Parts that lose their place.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LostEntry<'a> {
    /// Their mark.
    pub mark: &'a str,
    /// How many pieces.
    pub count: usize,
}

/// What to buy as a document; `design` has the pile of the buying, and `cutting` is that of the buying with what else is told.
pub fn buying<'a>(design: &'a Design, model: &'a Model, bought: &'a Buying, cutting: &'a Cutting) -> BuyDocument<'a> {
    let lines = bought.lines.iter().map(|line| BuyEntry {
        name: &line.name,
        cut: line.cut,
        spare: line.spare,
        over: line.over,
        each: tidy(line.each),
        cost: tidy(line.cost()),
    });
    let bad = bought.bad.iter().map(|bad| BadEntry {
        board: &bad.board,
        lost: bad.marks.iter().map(|(mark, count)| LostEntry { mark, count: *count }).collect(),
        left: bad.left.iter().map(left).collect(),
    });
    BuyDocument {
        schema: SCHEMA,
        buy: lines.collect(),
        total: tidy(bought.total),
        currency: &design.money.currency,
        bad: bad.collect(),
        layouts: boards(design, model, cutting),
    }
}

fn marked<'a>(design: &'a Design, model: &'a Model, board: &'a Marked) -> Option<MarkedEntry<'a>> {
    let stuff = design.shop.pile.get(board.entry)?;
    let pieces = board.pieces.iter().map(|piece| PieceEntry {
        part: &model.part(piece.part).name,
        with: piece.with.iter().map(|part| model.part(*part).name.as_str()).collect(),
        piece: piece.piece,
        words: &piece.words,
        x: tidy(piece.x),
        y: tidy(piece.y),
        length: tidy(piece.length),
        width: tidy(piece.width),
        turned: piece.turned,
        by_hand: piece.by_hand,
    });
    let (_, steps) = casewright_core::boards::steps(design, model, board)?;
    let cuts = steps.into_iter().map(|step| CutEntry {
        cut: match step.cut.cut {
            Direction::Along => "rip",
            Direction::Across => "crosscut",
        },
        at: tidy(step.cut.at),
        from: tidy(step.cut.from),
        to: tidy(step.cut.to),
        set: tidy(step.set),
        of: step.of.map(tidy),
        frees: step.frees,
        cautions: step.cautions,
    });
    Some(MarkedEntry {
        board: &stuff.name,
        number: board.number,
        size: [stuff.length, stuff.width, stuff.thickness].map(|length| tidy(length.to_mm())),
        pieces: pieces.collect(),
        cuts: cuts.collect(),
    })
}
