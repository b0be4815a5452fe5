//! A place for every thing: which shelf it stands on, and at which tooth that shelf lies.
//!
//! ```text
//! Design, Model ─question─▶ columns of the case, ways in which things stand ─cutting::columns─▶ rows ─easy to lift─▶ Arrangement
//! ```
//!
//! - Every thing that has a place has its hand room, and no shelf bears more than it is made for.
//! - Heavy things stand no higher than they can be lifted; what is heaviest stands between knee and elbow where that can be.
//! - As many things are placed as can be; where that is not proven, the arrangement tells how many no arrangement could pass.

mod lifting;
pub(super) mod question;
mod spare;

use casewright_cutting::columns::Reason;

pub use casewright_cutting::columns::{ColumnError, Effort, Progress};

use crate::contents::Stack;
use crate::derive;
use crate::design::Design;
use crate::design::edit::{Edit, apply};
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

/// Gives everything a place, once the shelves are laid where that wants them: the case then, and where all stands in it.
///
/// Shelves that bear more may have to be thicker, which moves what stands on them; so what is told is worked out anew on the case as laid.
/// Nothing where the design gives no case.
///
/// # Errors
/// As [`arrange`].
pub fn laid(design: &Design, shelves: ShelvesMay, effort: Effort<'_>) -> Result<Option<(Design, Arrangement)>, ColumnError> {
    let mut best: Option<(Design, Arrangement)> = None;
    let mut last = design.clone();
    for _ in 0..TRIES {
        let Ok(model) = derive(&last) else { break };
        let wanted = arrange(&last, &model, shelves, effort)?;
        apply(&mut last, &Edit::LayShelves(wanted.teeth));
        let Ok(model) = derive(&last) else { break };
        let there = arrange(&last, &model, ShelvesMay::Stay, effort)?;
        let kept = there.placed >= wanted.placed;
        if best.as_ref().is_none_or(|(_, best)| there.placed > best.placed) {
            best = Some((last.clone(), Arrangement { most: wanted.most.max(there.most), ..there }));
        }
        if kept {
            break;
        }
    }
    Ok(best)
}

/// How often shelves are laid anew where they came out thicker than they were thought.
const TRIES: usize = 3;

/// Gives everything a place.
///
/// # Errors
/// When there is more than can be asked at once: too many things, or sizes beyond all reason.
pub fn arrange(design: &Design, model: &Model, shelves: ShelvesMay, effort: Effort<'_>) -> Result<Arrangement, ColumnError> {
    let mut best: Option<Arrangement> = None;
    for high in LOW_STACKS {
        let low = arranged(design, model, shelves, (Some(high), effort))?;
        if low.left.is_empty() {
            return Ok(low);
        }
        if best.as_ref().is_none_or(|best| low.placed > best.placed) {
            best = Some(low);
        }
    }
    let any = arranged(design, model, shelves, (None, effort))?;
    // Only where things may be stacked as high as they go is it known how many could be placed at all.
    Ok(match best {
        Some(low) if low.placed >= any.placed => Arrangement { most: any.most, ..low },
        _ => any,
    })
}

/// Things are stacked no higher than these as long as that gives everything a place: what stands under others is hard to get at.
const LOW_STACKS: [u32; 2] = [1, 2];

/// The same where things are stacked at most so high.
fn arranged(
    design: &Design,
    model: &Model,
    shelves: ShelvesMay,
    (high, effort): (Option<u32>, Effort<'_>),
) -> Result<Arrangement, ColumnError> {
    let question = question::Question::of(design, model, (shelves, high.unwrap_or(u32::MAX)));
    let placement = casewright_cutting::columns::place(&question.things, &question.columns(), effort)?;
    let mut rows = question.rows(&placement);
    lifting::ease(design, &mut rows);
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
