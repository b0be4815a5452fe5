//! A place for every thing: which shelf it stands on, and at which tooth that shelf lies.
//!
//! ```text
//! Design, Model ─question─▶ columns of the case, ways in which things stand ─cutting::columns─▶ rows ─easy to lift─▶ Arrangement
//! ```
//!
//! - Every thing that has a place has its hand room, and no shelf bears more than it is made for.
//! - Heavy things stand no higher than they can be lifted; what is heaviest stands between knee and elbow where that can be.
//! - Things stand on their own kind, or on another that may bear anything ([`Bears::Any`](crate::design::Bears::Any)).
//! - As many things are placed as can be; where that is not proven, the arrangement tells how many no arrangement could pass.

mod blend;
pub(super) mod case;
mod easier;
mod fewest;
mod keep;
mod lifting;
mod moves;
pub(super) mod question;
mod spare;
mod why;

use casewright_cutting::columns::{Placement, Reason};

pub use casewright_cutting::columns::{ColumnError, Effort, Progress};
pub use easier::eased;
pub use keep::{Displaced, arrange_after, displaced};
pub(in crate::contents) use moves::levels_of;
pub use moves::{Move, moves};

use blend::Blend;
use case::Case;
pub(super) use question::Piles;

use crate::contents::Stack;
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
        let (room, things) = self.volumes();
        if room > 0.0 { things / room } else { 0.0 }
    }

    /// How much room on the shelves is free, litres.
    pub fn free_litres(&self) -> f64 {
        const PER_LITRE: f64 = 1e6;
        let (room, things) = self.volumes();
        (room - things).max(0.0) / PER_LITRE
    }

    /// The room on the shelves, and what things fill of it, mm³.
    fn volumes(&self) -> (f64, f64) {
        let volume = |block: Block| block.size().max(glam::DVec3::ZERO).element_product();
        let room = self.rows.iter().map(|row| volume(row.space)).sum();
        (room, self.rows.iter().flat_map(|row| &row.stacks).map(|stack| volume(stack.block)).sum())
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
        let on_shelf = self.stacks.iter().filter(|stack| stack.on.is_none());
        let used: f64 = on_shelf.map(|stack| stack.pile.size.x + stack.pile.beside).sum();
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
    // Where all has a place as they lie, there is no reason to lay any elsewhere.
    if shelves == ShelvesMay::Stay || stay.left.is_empty() {
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
    let found = best.filter(|(_, best)| best.placed >= stay.placed);
    let (design, there) = match found {
        Some(found) if shelves == ShelvesMay::Move => fewest::fewest(design, found, effort),
        Some(found) => found,
        None => (design.clone(), stay),
    };
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

/// The same where things are stacked so at most: each on its own kind, and where that leaves some without a place, on other kinds that may bear them.
pub(in crate::contents) fn arranged(
    case: &Case<'_>,
    shelves: ShelvesMay,
    (piles, effort): (Piles, Effort<'_>),
) -> Result<Arrangement, ColumnError> {
    let plain = asked(case, shelves, (piles, effort), &[])?;
    let possible = if plain.left.is_empty() { Vec::new() } else { blend::possible(&case.design.contents, piles.high) };
    if possible.is_empty() { Ok(plain) } else { blended(case, shelves, (piles, effort), plain, &possible) }
}

/// So many ways to stand things on others are tried.
const BLENDS_TRIED: u32 = 24;

/// Stands things on other kinds, one sort of stack after the other, as long as that places more.
fn blended(
    case: &Case<'_>,
    shelves: ShelvesMay,
    (piles, effort): (Piles, Effort<'_>),
    plain: Arrangement,
    possible: &[Blend],
) -> Result<Arrangement, ColumnError> {
    let part = Effort { steps: effort.steps / 8, ..effort };
    let nowhere: u64 = plain.left.iter().filter(|left| left.nowhere).map(|left| u64::from(left.count)).sum();
    let contents = &case.design.contents;
    let (mut best, mut chosen, mut tries) = (plain, Vec::<Blend>::new(), BLENDS_TRIED);
    loop {
        let still =
            |kind: usize| contents[kind].wanted() - chosen.iter().map(|blend| blend.takes(kind)).sum::<u32>().min(contents[kind].wanted());
        let waits = |kind: usize| best.left.iter().any(|left| left.kind == kind && !left.nowhere);
        let of_waiting = possible.iter().filter(|blend| waits(blend.lower.0) || waits(blend.upper.0));
        let counted = of_waiting.flat_map(|blend| {
            let most = (still(blend.lower.0) / blend.lower.1).min(still(blend.upper.0) / blend.upper.1);
            let mut counts = vec![most, most.div_ceil(2), 1];
            counts.retain(|count| (1..=most).contains(count));
            counts.dedup();
            counts.into_iter().map(|count| Blend { count, ..*blend })
        });
        let mut more: Option<(Blend, Arrangement)> = None;
        for blend in counted.take(tries as usize) {
            tries -= 1;
            let there = asked(case, shelves, (piles, part), &[&chosen[..], &[blend]].concat())?;
            if there.placed > more.as_ref().map_or(best.placed, |(_, more)| more.placed) {
                let all = there.left.is_empty();
                more = Some((blend, there));
                if all {
                    break;
                }
            }
        }
        let Some((blend, there)) = more else { break };
        chosen.push(blend);
        best = there;
        if best.left.is_empty() {
            break;
        }
    }
    // How many could stand on others is not known.
    Ok(Arrangement { most: best.wanted - nowhere, ..best })
}

/// The answer where stacks of two kinds are made as they are told.
fn asked(case: &Case<'_>, shelves: ShelvesMay, (piles, effort): (Piles, Effort<'_>), blends: &[Blend]) -> Result<Arrangement, ColumnError> {
    let question = question::Question::of(case, shelves, piles, blends);
    let placement = casewright_cutting::columns::place(&question.things, &question.columns(), effort)?;
    let mut rows = question.rows(&placement);
    lifting::ease(case.design, &mut rows);
    let wanted = case.design.contents.iter().map(|kind| u64::from(kind.wanted())).sum();
    Ok(Arrangement {
        left: left(case.design, &placement, blends),
        wanted,
        placed: placement.worth,
        most: placement.bound,
        teeth: question.teeth(&rows),
        rows,
    })
}

/// What of each kind found no place, alone or in a stack of two.
fn left(design: &Design, placement: &Placement, blends: &[Blend]) -> Vec<Left> {
    let kinds = design.contents.len();
    let of_kind = |kind: usize| {
        let alone = placement.left.iter().find(|left| left.thing as usize == kind);
        let in_stacks = placement.left.iter().filter_map(|left| Some((left, blends.get((left.thing as usize).checked_sub(kinds)?)?)));
        let count = in_stacks.map(|(left, blend)| left.count * Blend { count: 1, ..*blend }.takes(kind)).sum::<u32>();
        let nowhere = alone.is_some_and(|left| left.reason == Reason::StandsNowhere);
        Left { kind, count: count + alone.map_or(0, |left| left.count), nowhere }
    };
    (0..kinds).map(of_kind).filter(|left| left.count > 0).collect()
}
