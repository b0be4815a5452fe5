//! The order of assembly: which part goes on when, by which straight move, and what is glued together.
//!
//! Found by taking apart. For a direction, a part that would run into another on its way out must wait for it; written down for every pair
//! that is a directional blocking graph (Wilson and Latombe 1994, "Geometric reasoning about mechanical assembly"). Parts that wait for
//! each other in a ring can only go together: the rings of the graph are the sub-assemblies, and what is left is the order. What goes
//! in after glue-up is taken out part by part, by up to three straight legs, by a turn in free room near its place, or by one that tips it out first. What is recorded as glued together
//! stays together: it is one body, and what was left out of it finds its way in past all of it, or is locked out.
//!
//! ```text
//! Model, Solids ─world─▶ free or blocked, exact ─split─▶ tree of sub-assemblies ┐
//!                                               ─route─▶ a way out, part by part ┴─order─▶ Steps ─verify─▶ accepted
//! ```
//!
//! - [`plan`] finds the sequence. What can't be put together is [`Locked`], with what blocks it and ways that were tried and do.
//! - [`verify`] walks any sequence forward and checks each move against exactly what stands; [`plan`] keeps no step that fails it.
//! - [`findings`] tells what will fail, what is at risk and what is worth knowing.
//! - [`Sequence::positions`] is the player: where every part is at any moment.

mod findings;
mod glue_time;
mod glue_up;
mod left_out;
mod locked;
mod mounts;
mod order;
mod prepare;
mod reach;
mod route;
mod split;
mod steps;
mod unload;
mod verify;
mod why;
mod words;
mod world;

use std::ops::Range;

use glam::DVec3;

pub use findings::findings;
pub(crate) use findings::not_out_of_reach;
pub use glue_up::{AIM_DIAGONALS, Clamp, Diagonal, clamps_for, diagonal_difference};
pub use order::plan;
pub use prepare::Preparation;
pub use reach::Reach;
pub use verify::{Flaw, verify};
pub(crate) use words::list;

use crate::design::{Design, Gluing};
use crate::length::trimmed_to;
use crate::model::{BuildStage, JointId, Model, PartId, PartKind};
use crate::place::Dir;
use crate::shapes::Solids;
use crate::worked::Worked;

/// A part may go this deep into another on its way, mm: less than a bench can tell, more than sums lose.
pub const SLACK: f64 = 0.01;

/// An order of assembly.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Sequence {
    /// What is done, from the first step to the last.
    pub steps: Vec<Step>,
    /// The sub-assemblies, in the order in which they are finished; the last is the whole.
    pub groups: Vec<Group>,
    /// What is glued at one go, in order.
    pub glue_ups: Vec<GlueUp>,
    /// What is glued together already; the steps begin from there.
    pub done: Vec<Done>,
    /// What can't be put together.
    pub locked: Vec<Locked>,
    /// Loose parts that come out only after something fastened has.
    pub captive: Vec<Captive>,
    /// Cuts that might be made after glue-up, and whether a tool gets at them then.
    pub reach: Vec<Reach>,
    /// What is done to parts before they are put together, in order.
    pub prepare: Vec<Preparation>,
}

/// One step: parts, or sub-assemblies made before, are brought to what stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// What moves; several moves of one step can be made one after another in this order.
    pub moves: Vec<Move>,
    /// The sub-assembly it belongs to, by its place in [`Sequence::groups`].
    pub group: usize,
    /// The glue-up it belongs to, by its place in [`Sequence::glue_ups`].
    pub glue_up: Option<usize>,
    /// What to do, as a maker reads it.
    pub words: String,
}

/// Parts that move as one until they are in place.
#[derive(Clone, Debug, PartialEq)]
pub struct Move {
    /// The parts that move.
    pub parts: Vec<PartId>,
    /// A part of what they are brought to; what stands there is all that was put together with it before.
    pub onto: PartId,
    /// The way, from well outside of what stands to the place; never empty.
    pub legs: Vec<Leg>,
    /// How far before the end of the first leg the parts stand when all is shown apart, mm.
    pub apart: f64,
}

/// A piece of a way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Leg {
    /// Straight, mm.
    Straight {
        /// From its beginning to its end.
        way: DVec3,
    },
    /// A turn about an axis.
    Turn {
        /// A point on the axis, in the case, mm.
        pivot: DVec3,
        /// The direction of the axis.
        axis: Dir,
        /// Radians, right-handed about `axis`.
        angle: f64,
    },
}

/// A sub-assembly.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// What a maker calls it: "left frame".
    pub title: String,
    /// Its parts.
    pub parts: Vec<PartId>,
    /// Its steps, by their places in [`Sequence::steps`]; those of the sub-assemblies in it come before.
    pub steps: Range<usize>,
    /// The direction of the case along which it closes; none where its parts go their own ways.
    pub closes: Option<Dir>,
}

/// Parts that are glued together already, as they are recorded.
#[derive(Clone, Debug, PartialEq)]
pub struct Done {
    /// What a maker calls it: "left frame".
    pub title: String,
    /// The parts that stand together, what stands in them dry too.
    pub parts: Vec<PartId>,
    /// The wet joints between them: those that are made.
    pub joints: Vec<JointId>,
}

impl Done {
    /// "left frame: 7 parts, 6 joints", what lies in its joints not counted.
    pub fn words(&self, model: &Model) -> String {
        let in_holes = |part: &PartId| matches!(model.part(*part).kind, PartKind::LooseTenon | PartKind::Dowel);
        let parts = self.parts.iter().filter(|part| !in_holes(part)).count();
        let counted = |count: usize, one: &str| format!("{count} {one}{}", if count == 1 { "" } else { "s" });
        format!("{}: {}, {}", self.title, counted(parts, "part"), counted(self.joints.len(), "joint"))
    }
}

/// Joints that are wet at the same time.
#[derive(Clone, Debug, PartialEq)]
pub struct GlueUp {
    /// The sub-assembly that is glued, by its place in [`Sequence::groups`].
    pub group: usize,
    /// Its stage, from 1, and how many stages the sub-assembly takes.
    pub stage: (usize, usize),
    /// The glued joints that close.
    pub joints: Vec<JointId>,
    /// How many of them close at each of its steps, in order.
    pub closing: Vec<usize>,
    /// How long it takes, seconds.
    pub seconds: f64,
    /// How long it may take: the open time less the share kept in hand, seconds.
    pub allowed: f64,
    /// The clamps it needs.
    pub clamps: Vec<Clamp>,
    /// Diagonals to measure once it is clamped: those of the rectangles that it closes.
    pub diagonals: Vec<Diagonal>,
    /// Whether the water in the glue swells its loose tenons and dowels, so that each must be pushed home at once.
    pub swells: bool,
    /// Whether the water in the glue swells the panels that stand in it dry.
    pub wets_panels: bool,
}

impl GlueUp {
    /// Whether it is done within the open time.
    pub fn in_time(&self) -> bool {
        self.seconds <= self.allowed + 1e-9
    }

    /// Its time, its clamps, what swells and its diagonals, a line each.
    pub fn told(&self, gluing: &Gluing) -> Vec<String> {
        let mut told = self.spent(gluing);
        told.extend(self.diagonals.iter().map(Diagonal::words));
        told
    }

    /// Its time, its clamps and what swells, a line each.
    pub fn spent(&self, gluing: &Gluing) -> Vec<String> {
        let whole = |value: f64| trimmed_to(value, 0);
        let counted = |count: usize, one: &str| format!("{count} {one}{}", if count == 1 { "" } else { "s" });
        let stage = match self.stage {
            (_, 1) => "glue".to_owned(),
            (stage, of) => format!("stage {stage} of {of}: glue"),
        };
        let time = format!(
            "{stage} {} at {} s: {} s of the {} s that the glue leaves{}",
            counted(self.joints.len(), "joint"),
            whole(gluing.seconds),
            whole(self.seconds),
            whole(self.allowed),
            self.time(gluing).iter().map(Worked::aside).find(|aside| !aside.is_empty()).unwrap_or_default()
        );
        let clamps = self.clamps.iter().map(|clamp| {
            let open = if clamp.count == 1 { "opens" } else { "open" };
            format!("{} that {open} to {} mm", counted(clamp.count, "clamp"), whole(clamp.length))
        });
        std::iter::once(time).chain(clamps).chain(self.swelling().map(str::to_owned)).collect()
    }

    /// What the water in the glue does, and what is done against it; none where the glue has none or nothing minds.
    pub fn swelling(&self) -> Option<&'static str> {
        match (self.swells, self.wets_panels) {
            (true, true) => Some(
                "the water in the glue swells loose tenons and dowels: push each home at once; keep glue out of the grooves, for panels swell too",
            ),
            (true, false) => Some("the water in the glue swells loose tenons and dowels: push each home at once"),
            (false, true) => Some("the water in the glue swells panels: keep it out of the grooves"),
            (false, false) => None,
        }
    }
}

/// A loose part that can't be taken out by hand while something fastened is in its place: a slat under a top.
#[derive(Clone, Debug, PartialEq)]
pub struct Captive {
    /// The part.
    pub part: PartId,
    /// What was in its way.
    pub held_by: Vec<PartId>,
}

/// A part that can't be put in where the plan wants it.
#[derive(Clone, Debug, PartialEq)]
pub struct Locked {
    /// The parts that can't go in; more than one where they hold each other.
    pub parts: Vec<PartId>,
    /// What is in the way.
    pub blocked_by: Vec<PartId>,
    /// Whether what is in the way is glued together already, so that it can't be put together otherwise.
    pub closed: bool,
    /// Where they meet first, in the case, mm.
    pub place: Option<DVec3>,
    /// What was tried and does.
    pub ways: Vec<WayOut>,
}

/// A way to get a locked part in, each tried on the solids.
#[derive(Clone, Debug, PartialEq)]
pub enum WayOut {
    /// Put in before the last of these close round it, in the glue-up.
    Before(Vec<PartId>),
    /// Made in two pieces that meet square across this axis of the part: 0 L, 1 W.
    TwoPieces(usize),
    /// Notched at these places, each a corner or edge of the part: L from and to, W from and to, mm.
    Notch(Vec<[f64; 4]>),
    /// The grooves or mortises that hold it cut open to one side of the case in what is glued together already, and closed again behind it.
    Opened {
        /// The side; it comes in from there.
        toward: Dir,
        /// What is cut.
        parts: Vec<PartId>,
        /// The most wood that goes between a cut and the face, mm.
        wall: f64,
        /// Whether all of them are grooves for panels.
        grooves: bool,
    },
    /// Made so small that it goes into the opening, and held between beads: its length and its width, mm.
    Beaded([f64; 2]),
    /// It is recorded as left out, and stands in.
    InAlready,
}

impl Sequence {
    /// The order of a design's model, and what is done before.
    pub fn of(design: &Design, model: &Model, solids: &Solids) -> Sequence {
        let mut sequence = plan(model, solids, &design.shop.glue, &design.shop.tools.0);
        sequence.prepare = prepare::finishing(design, model, &sequence);
        sequence.prepare.extend(prepare::late_cuts(model, &sequence));
        sequence
    }

    /// What a stretch of its steps is about: of the glue-up the sub-assembly that it makes, afterwards what comes on: "floors and standards".
    pub fn title_of(&self, model: &Model, steps: &[&Step]) -> String {
        let firsts: Vec<PartId> = steps
            .iter()
            .flat_map(|step| &step.moves)
            .filter_map(|moved| moved.parts.first())
            .copied()
            .filter(|part| !model.part(*part).kind.is_mounted())
            .collect();
        if firsts.is_empty() || firsts.iter().any(|part| model.part(*part).stage == BuildStage::GlueUp) {
            let group = steps.first().and_then(|step| self.groups.get(step.group));
            return group.map_or_else(String::new, |group| group.title.clone());
        }
        words::what(model, &firsts)
    }

    /// The same without what is told besides: how what is locked might go in all the same, what tools reach, and how far the exploded view sets parts apart.
    pub(crate) fn whether_it_goes_together(design: &Design, model: &Model, solids: &Solids) -> Sequence {
        order::in_short(model, solids, &design.shop.glue)
    }

    /// What is done before a step.
    pub fn before(&self, step: usize) -> impl Iterator<Item = &Preparation> {
        self.prepare.iter().filter(move |preparation| preparation.before == step)
    }
}
