//! A place for every thing: which shelf it stands on, and at which tooth that shelf lies.
//!
//! ```text
//! Design, Model ─question─▶ columns of the case, ways in which things stand ─cutting::columns─▶ rows ─easy to lift─▶ Arrangement
//! ```
//!
//! - Every thing that has a place has its hand room, and no shelf bears more than it is made for.
//! - Heavy things stand no higher than they can be lifted; what is heaviest stands between knee and elbow where that can be.
//! - As many things are placed as can be; where that is not proven, the arrangement tells how many no arrangement could pass.

pub(super) mod case;
mod lifting;
mod moves;
pub(super) mod question;
mod spare;

use casewright_cutting::columns::Reason;

pub use casewright_cutting::columns::{ColumnError, Effort, Progress};
pub use moves::{Move, moves};

use case::Case;
pub(super) use question::Piles;

use crate::contents::{Fit, Pile, Stack};
use crate::derive;
use crate::design::edit::{Edit, apply};
use crate::design::{Design, ThickBy};
use crate::model::{LevelKind, Model};
use crate::place::Block;

/// Steps that are spent where an answer is wanted soon: well under a second, and mostly far less.
pub const STEPS: u64 = 3_000_000;

/// What may be done with the shelves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ShelvesMay {
    /// They stay on their teeth.
    Stay,
    /// They may lie on any tooth of their bay; none is added.
    Move,
    /// They may lie on any tooth, and there may be as many as it takes.
    Come,
}

/// Where everything stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Arrangement {
    /// Every shelf and floor from the lowest of the first bay on, with what stands on it.
    pub rows: Vec<Row>,
    /// What found no place.
    pub left: Vec<Left>,
    /// How many things there are to place.
    pub wanted: u64,
    /// How many found a place.
    pub placed: u64,
    /// No arrangement of these shelves places more.
    pub most: u64,
    /// For each bay the teeth on which its shelves lie, in the order of the design and then those that came; fewer where there is no room for
    /// all, and the last ones must be put away.
    pub teeth: Vec<Vec<u32>>,
}

impl Arrangement {
    /// Whether no other arrangement places more.
    pub fn proven(&self) -> bool {
        self.placed == self.most
    }

    /// The share of the room on the shelves that things fill, 0 to 1.
    pub fn filled(&self) -> f64 {
        let volume = |block: Block| block.size().max(glam::DVec3::ZERO).element_product();
        let room: f64 = self.rows.iter().map(|row| volume(row.space)).sum();
        let things: f64 = self.rows.iter().flat_map(|row| &row.stacks).map(|stack| volume(stack.block)).sum();
        if room > 0.0 { things / room } else { 0.0 }
    }
}

impl Arrangement {
    /// Why things found no place: what keeps one more of them off the shelf or floor, as it stands now, that comes nearest to taking it.
    pub fn why(&self, design: &Design, left: &Left) -> String {
        let nowhere = || "stands nowhere, even in the empty case".to_owned();
        let Some(kind) = design.contents.get(left.kind).filter(|_| !left.nowhere) else { return nowhere() };
        let hand = &design.hand_room;
        let near = |row: &Row| {
            // Beside others it takes one gap, alone one on either side.
            let width = if row.stacks.is_empty() { row.space.size().x } else { row.free() + hand.beside.to_mm() };
            Fit::of(glam::DVec3 { x: width, ..row.space.size() }, kind, hand)
        };
        let nearest = self.rows.iter().map(|row| (row, near(row))).min_by(|a, b| {
            let bears = |row: &Row| row.carries.is_none_or(|carries| row.kg() + kind.mass <= carries + 1e-9);
            a.1.lack.total().max(0.0).total_cmp(&b.1.lack.total().max(0.0)).then_with(|| bears(b.0).cmp(&bears(a.0)))
        });
        let Some((row, fit)) = nearest else { return nowhere() };
        if !fit.fits() {
            return format!("no room beside the others; nearest is {}, which lacks {}", row.name(), fit.words());
        }
        if row.space.min.y > Pile::one(kind, hand, fit.stance).no_higher_than(kind, hand) {
            return format!("too heavy for {}, which is so high", row.name());
        }
        match row.carries {
            Some(carries) if row.kg() + kind.mass > carries => {
                let more = crate::length::trimmed_to((carries - row.kg()).max(0.0), 1);
                format!("{} has room for it, but bears no more than {more} kg more", row.name())
            }
            _ => "no room was found beside the others".to_owned(),
        }
    }
}

/// A shelf or floor with what stands on it.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Which bay, from 0.
    pub bay: usize,
    /// The level, such as a tooth, on which the shelf lies, from 1; none for the floor.
    pub tooth: Option<u32>,
    /// What its levels are counted by.
    pub counted: LevelKind,
    /// Which of the bay's shelves it is, from 0 in the order of the design; none for the floor, and for shelves that moved or came.
    pub shelf: Option<usize>,
    /// The free space over it, mm.
    pub space: Block,
    /// What it carries, evenly spread, kg; none where that could not be judged.
    pub carries: Option<f64>,
    /// What stands on it, from the left.
    pub stacks: Vec<Stack>,
}

impl Row {
    /// What stands on it, kg.
    pub fn kg(&self) -> f64 {
        self.stacks.iter().map(|stack| stack.kg).sum()
    }

    /// "the floor of bay 1", "the shelf on tooth 12 of bay 1".
    pub fn name(&self) -> String {
        let bay = self.bay + 1;
        self.tooth.map_or_else(
            || format!("the floor of bay {bay}"),
            |level| format!("the shelf on {} {level} of bay {bay}", self.counted.words().0),
        )
    }

    /// What is left of its width, mm, hand room counted.
    pub fn free(&self) -> f64 {
        let used: f64 = self.stacks.iter().map(|stack| stack.pile.size.x + stack.pile.beside).sum();
        let end = self.stacks.first().map_or(0.0, |stack| stack.pile.beside);
        (self.space.size().x - used - end).max(0.0)
    }
}

/// Things that found no place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Left {
    /// Which kind, by its place in the design's list.
    pub kind: usize,
    /// How many of it.
    pub count: u32,
    /// Whether they stand nowhere, even with nothing else in the case.
    pub nowhere: bool,
}

/// Gives everything a place, once the shelves are laid where that wants them: the case then, and where all stands in it. Never fewer than
/// with the shelves as they lie.
///
/// Shelves that bear more may have to be thicker, which moves what stands on them; so what is told is worked out anew on the case as laid.
/// Nothing where the design gives no case.
///
/// # Errors
/// As [`arrange`].
pub fn laid(design: &Design, shelves: ShelvesMay, effort: Effort<'_>) -> Result<Option<(Design, Arrangement)>, ColumnError> {
    let Ok(model) = derive(design) else { return Ok(None) };
    let stay = arrange(design, &model, ShelvesMay::Stay, effort)?;
    if shelves == ShelvesMay::Stay {
        return Ok(Some((design.clone(), stay)));
    }
    let mut best: Option<(Design, Arrangement)> = None;
    let (mut last, mut model) = (design.clone(), model);
    let mut most = u64::MAX;
    for _ in 0..TRIES {
        let wanted = arrange(&last, &model, shelves, effort)?;
        most = most.min(wanted.most);
        apply(&mut last, &Edit::LayShelves(wanted.teeth));
        let Ok(laid) = derive(&last) else { break };
        model = laid;
        let there = arrange(&last, &model, ShelvesMay::Stay, effort)?;
        let kept = there.placed >= wanted.placed;
        if best.as_ref().is_none_or(|(_, best)| there.placed > best.placed) {
            best = Some((last.clone(), there));
        }
        if kept {
            break;
        }
    }
    let (design, there) = best.filter(|(_, best)| best.placed >= stay.placed).unwrap_or_else(|| (design.clone(), stay));
    // That it holds no more as laid does not say that it could not be laid better.
    let most = most.max(there.placed);
    Ok(Some((design, Arrangement { most, ..there })))
}

/// How often shelves are laid anew where they came out thicker than they were thought.
const TRIES: usize = 3;

/// Gives everything a place.
///
/// # Errors
/// When there is more than can be asked at once: too many things, or sizes beyond all reason.
pub fn arrange(design: &Design, model: &Model, shelves: ShelvesMay, effort: Effort<'_>) -> Result<Arrangement, ColumnError> {
    let case = Case::of(design, model, shelves);
    // A part of the effort tells mostly whether all can have an easy place; the whole of it is spent where they can have any.
    let part = Effort { steps: effort.steps / 8, ..effort };
    let mut best: Option<Arrangement> = None;
    for piles in EASY_PILES {
        let easy = arranged(&case, shelves, (piles, part))?;
        if easy.left.is_empty() {
            return Ok(easy);
        }
        if best.as_ref().is_none_or(|best| easy.placed > best.placed) {
            best = Some(easy);
        }
    }
    let any = arranged(&case, shelves, (ANY_PILES, effort))?;
    if any.left.is_empty() {
        for piles in EASY_PILES {
            let easy = arranged(&case, shelves, (piles, effort))?;
            if easy.left.is_empty() {
                return Ok(easy);
            }
        }
        return Ok(any);
    }
    let most = match shelves {
        ShelvesMay::Move | ShelvesMay::Come if case::thicken(design) => most_as_thick(design, shelves, effort)?,
        ShelvesMay::Move | ShelvesMay::Come if case.uneven() => arranged(&case.generous(false), shelves, (ANY_PILES, effort))?.most,
        ShelvesMay::Stay | ShelvesMay::Move | ShelvesMay::Come => any.most,
    };
    // Only where things may be stacked as high as they go is it known how many could be placed at all.
    let most = most.max(any.placed);
    Ok(match best {
        Some(easy) if easy.placed >= any.placed => Arrangement { most, ..easy },
        _ => Arrangement { most, ..any },
    })
}

/// How many could have a place at the most if every shelf came out as thick as it must, and took no more room for it.
fn most_as_thick(design: &Design, shelves: ShelvesMay, effort: Effort<'_>) -> Result<u64, ColumnError> {
    let mut thin = design.clone();
    thin.sawtooth.slats.thick_by = ThickBy::AsDecided;
    let wanted = design.contents.iter().map(|kind| u64::from(kind.wanted())).sum();
    let Ok(model) = derive(&thin) else { return Ok(wanted) };
    let case = Case::of(&thin, &model, shelves).generous(true);
    Ok(arranged(&case, shelves, (ANY_PILES, effort))?.most)
}

/// How things are stacked as long as that gives everything a place: what stands under others or behind them is hard to get at.
const EASY_PILES: [Piles; 3] = [Piles { high: 1, deep: 1 }, Piles { high: 2, deep: 1 }, Piles { high: 2, deep: u32::MAX }];

/// As high and as deep as the room is.
const ANY_PILES: Piles = Piles { high: u32::MAX, deep: u32::MAX };

/// The same where things are stacked so at most.
pub(in crate::contents) fn arranged(
    case: &Case<'_>,
    shelves: ShelvesMay,
    (piles, effort): (Piles, Effort<'_>),
) -> Result<Arrangement, ColumnError> {
    let question = question::Question::of(case, shelves, piles);
    let placement = casewright_cutting::columns::place(&question.things, &question.columns(), effort)?;
    let mut rows = question.rows(&placement);
    lifting::ease(case.design, &mut rows);
    let wanted = question.things.iter().map(|thing| u64::from(thing.count)).sum();
    Ok(Arrangement {
        left: placement
            .left
            .iter()
            .map(|left| Left { kind: left.thing as usize, count: left.count, nowhere: left.reason == Reason::StandsNowhere })
            .collect(),
        wanted,
        placed: placement.worth,
        most: placement.bound,
        teeth: question.teeth(&rows),
        rows,
    })
}
