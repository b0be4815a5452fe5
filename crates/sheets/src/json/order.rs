//! The order of assembly.

use casewright_core::cautions::cautions;
use casewright_core::loads::Lift;
use casewright_core::model::PartId;
use casewright_core::sequence::{GlueUp, Leg, Move, Sequence};
use casewright_core::{Design, Model};
use serde::Serialize;

use super::{SCHEMA, tidy, tidy3};

/// The order of assembly of a case; schema `assets/schema/order.json`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OrderDocument {
    /// Version of the document.
    pub schema: u32,
    /// What the piece is called.
    pub name: String,
    /// The sub-assemblies, in the order in which they are finished.
    pub groups: Vec<GroupEntry>,
    /// What is done, from the first step to the last.
    pub steps: Vec<StepEntry>,
    /// What is glued at one go.
    pub glue_ups: Vec<GlueUpEntry>,
    /// What is glued together already; the steps begin from there.
    pub done: Vec<DoneEntry>,
    /// What can't be put in.
    pub locked: Vec<LockedEntry>,
    /// What is done to parts before they are put together.
    pub prepare: Vec<PreparationEntry>,
    /// What can hurt, for this very case.
    pub cautions: Vec<CautionEntry>,
}

/// What can hurt.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct CautionEntry {
    /// What it is about.
    pub about: &'static str,
    /// What to do.
    pub words: String,
    /// Where it comes from.
    pub source: &'static str,
    /// How that was obtained.
    pub how: &'static str,
}

/// Something to be done before a step.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PreparationEntry {
    /// The step before which it is done, counted from 0.
    pub before: usize,
    /// Names of the parts that it is done to.
    pub parts: Vec<String>,
    /// What to do.
    pub words: String,
}

/// A sub-assembly.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct GroupEntry {
    /// What a maker calls it.
    pub title: String,
    /// Names of its parts.
    pub parts: Vec<String>,
}

/// Parts that are glued together already.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DoneEntry {
    /// What a maker calls them.
    pub title: String,
    /// Names of the parts.
    pub parts: Vec<String>,
    /// Ids of the joints that are made, as in the parts document.
    pub joints: Vec<usize>,
}

/// One step.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StepEntry {
    /// What to do.
    pub words: String,
    /// Its sub-assembly, counted from 0.
    pub group: usize,
    /// Its glue-up, counted from 0; none where nothing is glued.
    pub glue_up: Option<usize>,
    /// What moves, one after another.
    pub moves: Vec<MoveEntry>,
    /// What the heaviest of it weighs that is too heavy for one, kg; none where one lifts all.
    pub two_lift: Option<f64>,
}

/// Parts that move as one.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MoveEntry {
    /// Names of the parts.
    pub parts: Vec<String>,
    /// The way into the place.
    pub legs: Vec<LegEntry>,
}

/// A piece of a way.
#[derive(Clone, Debug, PartialEq, Serialize)]
#[serde(untagged)]
pub enum LegEntry {
    /// Straight.
    Straight {
        /// To the right, up and to the front, mm.
        way: [f64; 3],
    },
    /// A turn.
    Turn {
        /// A point on its axis, mm.
        pivot: [f64; 3],
        /// The direction of its axis.
        axis: [f64; 3],
        /// How far, degrees, right-handed.
        degrees: f64,
    },
}

/// What is glued at one go.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct GlueUpEntry {
    /// Its sub-assembly, counted from 0.
    pub group: usize,
    /// Ids of the joints, as in the parts document.
    pub joints: Vec<usize>,
    /// How long it takes, s.
    pub seconds: f64,
    /// How long it may take, s.
    pub allowed: f64,
    /// The clamps.
    pub clamps: Vec<ClampEntry>,
    /// The diagonals to measure.
    pub diagonals: Vec<DiagonalEntry>,
    /// What the water in the glue does, and what is done against it; none where nothing minds.
    pub swelling: Option<&'static str>,
}

/// Clamps of one length.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ClampEntry {
    /// How many.
    pub count: usize,
    /// How far they open, mm.
    pub length: f64,
}

/// Two diagonals that must be equal.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DiagonalEntry {
    /// The sides of the rectangle, mm.
    pub sides: [f64; 2],
    /// How long each diagonal must be, mm.
    pub length: f64,
    /// By how much they may differ, to aim at and at most, mm.
    pub within: [f64; 2],
    /// By how much they differ when one side has slipped by 1 mm along the second, mm.
    pub slipped: f64,
}

/// Parts that can't be put in.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LockedEntry {
    /// Names of the parts.
    pub parts: Vec<String>,
    /// Names of what is in the way.
    pub blocked_by: Vec<String>,
}

/// The order of assembly as a document.
pub fn order(design: &Design, model: &Model, sequence: &Sequence, lifts: &[Lift]) -> OrderDocument {
    let names = |parts: &[PartId]| parts.iter().map(|part| model.part(*part).name.clone()).collect::<Vec<_>>();
    let moved = |it: &Move| MoveEntry { parts: names(&it.parts), legs: it.legs.iter().map(leg).collect() };
    OrderDocument {
        schema: SCHEMA,
        name: model.name.clone(),
        groups: sequence.groups.iter().map(|group| GroupEntry { title: group.title.clone(), parts: names(&group.parts) }).collect(),
        steps: sequence
            .steps
            .iter()
            .enumerate()
            .map(|(index, step)| StepEntry {
                words: step.words.clone(),
                group: step.group,
                glue_up: step.glue_up,
                moves: step.moves.iter().map(moved).collect(),
                two_lift: lifts.iter().filter(|lift| lift.step == Some(index)).map(|lift| tidy(lift.mass.kg)).reduce(f64::max),
            })
            .collect(),
        glue_ups: sequence.glue_ups.iter().map(glue_up).collect(),
        cautions: cautions(design, model)
            .into_iter()
            .map(|caution| CautionEntry {
                about: caution.about.word(),
                words: caution.words,
                source: caution.source,
                how: caution.how.words(),
            })
            .collect(),
        done: sequence
            .done
            .iter()
            .map(|done| DoneEntry {
                title: done.title.clone(),
                parts: names(&done.parts),
                joints: done.joints.iter().map(|joint| joint.0).collect(),
            })
            .collect(),
        locked: sequence
            .locked
            .iter()
            .map(|locked| LockedEntry { parts: names(&locked.parts), blocked_by: names(&locked.blocked_by) })
            .collect(),
        prepare: sequence
            .prepare
            .iter()
            .map(|it| PreparationEntry { before: it.before, parts: names(&it.parts), words: it.words.clone() })
            .collect(),
    }
}

fn leg(leg: &Leg) -> LegEntry {
    match *leg {
        Leg::Straight { way } => LegEntry::Straight { way: tidy3(way) },
        Leg::Turn { pivot, axis, angle } => {
            LegEntry::Turn { pivot: tidy3(pivot), axis: tidy3(axis.vector()), degrees: tidy(angle.to_degrees()) }
        }
    }
}

fn glue_up(glue_up: &GlueUp) -> GlueUpEntry {
    GlueUpEntry {
        group: glue_up.group,
        joints: glue_up.joints.iter().map(|joint| joint.0).collect(),
        seconds: tidy(glue_up.seconds),
        allowed: tidy(glue_up.allowed),
        clamps: glue_up.clamps.iter().map(|clamp| ClampEntry { count: clamp.count, length: tidy(clamp.length) }).collect(),
        diagonals: glue_up
            .diagonals
            .iter()
            .map(|it| DiagonalEntry {
                sides: it.sides.map(tidy),
                length: tidy(it.length),
                within: it.within.map(tidy),
                slipped: tidy(it.slipped()),
            })
            .collect(),
        swelling: glue_up.swelling(),
    }
}
