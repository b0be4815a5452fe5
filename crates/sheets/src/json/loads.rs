//! The case under its load.

use casewright_core::loads::{Bending, Lift, Push, Rest, Standing, Stress, UnderLoad};
use casewright_core::model::PartId;
use casewright_core::shapes::Mass;
use casewright_core::stability::{Anchor, CAUTIONS};
use casewright_core::strength::Verdict;
use casewright_core::worked::Worked;
use casewright_core::{Design, Model};
use serde::Serialize;

use super::{SCHEMA, WorkedEntry, tidy, tidy3, worked};

/// A case under its load; schema `assets/schema/loads.json`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LoadsDocument {
    /// Version of the document.
    pub schema: u32,
    /// What the piece is called.
    pub name: String,
    /// For how many years the load stays.
    pub years: f64,
    /// What a span may be divided by: made for at once, made for after years, seen, fails.
    pub limits: LimitsEntry,
    /// What boxes stand on, room by room.
    pub shelves: Vec<ShelfEntry>,
    /// Every part that bends.
    pub parts: Vec<BendingEntry>,
    /// Every place where a shelf is held.
    pub rests: Vec<RestEntry>,
    /// What could not be judged.
    pub unjudged: Vec<UnjudgedEntry>,
    /// How the case stands; none where it is no case.
    pub standing: Option<StandingEntry>,
    /// What is too heavy for one.
    pub lifts: Vec<LiftEntry>,
    /// What is printed with all this.
    pub cautions: &'static [&'static str],
}

/// The limits of the design.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct LimitsEntry {
    /// At once.
    pub working_at_once: f64,
    /// After creep.
    pub working_after_creep: f64,
    /// From here on it is told.
    pub seen: f64,
    /// From here on it fails.
    pub fails: f64,
    /// The push that a case must stand, N.
    pub push: f64,
    /// How many times as high as deep a case may be.
    pub slender: f64,
    /// What one person lifts, kg.
    pub lift: f64,
    /// How high a case with drawers may be unanchored, mm.
    pub with_drawers: f64,
    /// What an open drawer must bear at its front unanchored, kg.
    pub on_drawer: f64,
}

/// One shelf, or the floor of a bay.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ShelfEntry {
    /// What it is called.
    pub name: String,
    /// The heaviest that it is asked to hold, kg.
    pub kg: f64,
    /// The part of it that sags most for its span; see `parts`.
    pub part: String,
    /// Which way that spans; see `parts`.
    pub way: &'static str,
    /// Its span, mm.
    pub span: f64,
    /// At once, mm.
    pub at_once: f64,
    /// After years, mm.
    pub after_years: f64,
    /// How far its lowest part is then down where it is lowest, with all that bears it, mm.
    pub in_all: f64,
    /// That part.
    pub lowest: String,
    /// "good", "over what it is made for", "seen" or "fails".
    pub verdict: &'static str,
}

/// A part that bends.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BendingEntry {
    /// Its name.
    pub part: String,
    /// The room whose boxes it bears; none for what bears more than one.
    pub room: Option<String>,
    /// Which way it spans: "from side to side", "from front to back" or "in its middle". A shelf on pins has an entry for each.
    pub way: &'static str,
    /// Its span, mm.
    pub span: f64,
    /// "good", "over what it is made for", "seen" or "fails".
    pub verdict: &'static str,
    /// What it bears, N, and why.
    pub load: WorkedEntry,
    /// Its sag after years, mm, and why; the sag at once is among its inputs.
    pub sag: WorkedEntry,
    /// What EN 1995-1-1 makes of the same sag in the end, mm, and why, for comparison; none where it has no factor for the stuff.
    pub by_eurocode: Option<WorkedEntry>,
    /// In bending.
    pub bending: StressEntry,
    /// In shear along the grain.
    pub shear: StressEntry,
    /// How far it is down after years where it is lowest, with all that bears it, mm, and why.
    pub in_all: WorkedEntry,
}

/// One end of a part on what holds it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RestEntry {
    /// The part that lies there.
    pub part: String,
    /// What it lies on.
    pub on: String,
    /// N.
    pub force: f64,
    /// Across the grain.
    pub bearing: StressEntry,
    /// Along the grain, of the end of a slat or of the tooth under a cleat; of the pin or screw where it lies on one.
    pub shear: StressEntry,
    /// How hard the pin under it is bent; none where it lies on none.
    pub pin_bends: Option<StressEntry>,
    /// How hard that pin prises at the mouth of its hole; none where it lies on none.
    pub pin_prises: Option<StressEntry>,
}

/// A stress and what may be asked for years, N/mm².
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct StressEntry {
    /// What there is.
    pub found: f64,
    /// What may be asked; none where no strength is known.
    pub allowed: Option<f64>,
}

/// A part that could not be judged.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct UnjudgedEntry {
    /// Its name.
    pub part: String,
    /// "sag and stress", or which stress of it.
    pub asked: &'static str,
    /// Why.
    pub why: String,
}

/// A case with its boxes on the shelves as they lie.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FilledEntry {
    /// How many boxes find a place.
    pub placed: u64,
    /// How many there are.
    pub wanted: u64,
    /// Where its mass acts.
    pub centre: [f64; 3],
    /// What it weighs, kg, and why.
    pub weighs: WorkedEntry,
}

/// How the case stands.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StandingEntry {
    /// Empty.
    pub empty: MassEntry,
    /// With as many of its boxes as go in when the heaviest are put as high as they go.
    pub loaded: MassEntry,
    /// With the boxes that find a place on its shelves as they lie; none where that is no heavier than `loaded`.
    pub filled: Option<FilledEntry>,
    /// Names of parts of no known density, which are left out.
    pub not_weighed: Vec<String>,
    /// Pushes at the top edge that begin to tip it.
    pub pushes: Vec<PushEntry>,
    /// Height over depth.
    pub slender: WorkedEntry,
    /// Why it is to be anchored, whether it is or not; empty where it stands well by itself.
    pub reasons: Vec<String>,
    /// What its fixings in the wall must hold; none where it stands by itself.
    pub anchored: Option<FixingEntry>,
}

/// A mass and where it acts.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MassEntry {
    /// kg.
    pub kg: f64,
    /// x, y and z in the case, mm.
    pub centre: [f64; 3],
    /// Why it weighs that.
    pub why: WorkedEntry,
}

/// A push at the top edge.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct PushEntry {
    /// Which way it goes.
    pub way: &'static str,
    /// How the case stands then.
    pub state: String,
    /// Whether it leans forward, as on carpet.
    pub on_carpet: bool,
    /// N, and why.
    pub push: WorkedEntry,
    /// Whether it does with the least, forward or over any edge.
    pub governs: bool,
}

/// What holds a case to the wall.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FixingEntry {
    /// How many.
    pub fixings: u32,
    /// Above the floor, mm.
    pub height: f64,
    /// Pull out of the wall on each, N, and why.
    pub each: WorkedEntry,
}

/// What is too heavy for one.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LiftEntry {
    /// The step of the order of assembly, counted from 0; none for the finished case.
    pub step: Option<usize>,
    /// What is lifted.
    pub what: String,
    /// kg.
    pub kg: f64,
    /// Why it weighs that.
    pub why: WorkedEntry,
}

/// A case under its load as a document.
pub fn loads(design: &Design, model: &Model, under: &UnderLoad, standing: Option<&Standing>, lifts: &[Lift]) -> LoadsDocument {
    let limits = &design.limits;
    LoadsDocument {
        schema: SCHEMA,
        name: model.name.clone(),
        years: limits.years,
        limits: LimitsEntry {
            working_at_once: limits.sag.working_at_once,
            working_after_creep: limits.sag.working_after_creep,
            seen: limits.sag.seen,
            fails: limits.sag.fails,
            push: limits.push,
            slender: limits.slender,
            lift: limits.lift,
            with_drawers: tidy(limits.with_drawers.to_mm()),
            on_drawer: limits.on_drawer,
        },
        shelves: under
            .shelves(model)
            .into_iter()
            .map(|shelf| ShelfEntry {
                name: shelf.name.to_owned(),
                kg: tidy(shelf.kg),
                part: model.part(shelf.worst.part).name.clone(),
                way: shelf.worst.way(),
                span: tidy(shelf.worst.span()),
                at_once: tidy(shelf.worst.at_once()),
                after_years: tidy(shelf.worst.after()),
                in_all: tidy(shelf.in_all.down),
                lowest: name(model, shelf.lowest),
                verdict: verdict(shelf.worst.verdict()),
            })
            .collect(),
        parts: under.bending.iter().map(|it| bending(design, model, under, it)).collect(),
        rests: under.rests.iter().map(|it| rest(model, it)).collect(),
        unjudged: under
            .unjudged
            .iter()
            .map(|it| UnjudgedEntry { part: name(model, it.part), asked: it.asked.words(), why: it.why.to_string() })
            .collect(),
        standing: standing.map(|standing| stands(model, standing)),
        lifts: lifts.iter().map(lift_entry).collect(),
        cautions: CAUTIONS,
    }
}

fn name(model: &Model, part: PartId) -> String {
    model.part(part).name.clone()
}

fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Good => "good",
        Verdict::OverWorking => "over what it is made for",
        Verdict::Seen => "seen",
        Verdict::Fails => "fails",
    }
}

fn stress(stress: Stress) -> StressEntry {
    StressEntry { found: tidy(stress.found), allowed: stress.allowed.map(tidy) }
}

fn bending(design: &Design, model: &Model, under: &UnderLoad, bending: &Bending) -> BendingEntry {
    let in_all = under.why_in_all(model, bending.part).unwrap_or_else(|| Worked::given("in all", 0.0, "mm"));
    BendingEntry {
        part: name(model, bending.part),
        room: bending.room.and_then(|room| model.rooms.get(room)).map(|room| room.name.clone()),
        way: bending.way(),
        span: tidy(bending.span()),
        verdict: verdict(bending.verdict()),
        load: worked(&under.why_bears(design, bending)),
        sag: worked(&bending.why_after()),
        by_eurocode: bending.why_by_eurocode().as_ref().map(worked),
        bending: stress(bending.bending()),
        shear: stress(bending.shear()),
        in_all: worked(&in_all),
    }
}

fn lift_entry(lift: &Lift) -> LiftEntry {
    LiftEntry { step: lift.step, what: lift.what.clone(), kg: tidy(lift.mass.kg), why: worked(&lift.kg) }
}

fn rest(model: &Model, rest: &Rest) -> RestEntry {
    RestEntry {
        part: name(model, rest.part),
        on: name(model, rest.on),
        force: tidy(rest.force),
        bearing: stress(rest.bearing),
        shear: stress(rest.shear),
        pin_bends: rest.pin.map(|pin| stress(pin.bends)),
        pin_prises: rest.pin.map(|pin| stress(pin.prises)),
    }
}

fn stands(model: &Model, standing: &Standing) -> StandingEntry {
    let mass = |mass: &Mass, why: &Worked| MassEntry { kg: tidy(mass.kg), centre: tidy3(mass.centre), why: worked(why) };
    let [empty, loaded] = &standing.weighs;
    let (governing, _) = standing.governing();
    let push = |push: &Push| PushEntry {
        way: push.over.way(),
        state: push.state.words(),
        on_carpet: push.on_carpet,
        push: worked(&push.newtons),
        governs: governing.contains(&push),
    };
    StandingEntry {
        empty: mass(&standing.empty, empty),
        loaded: mass(&standing.loaded, loaded),
        filled: standing.filled.as_ref().map(|filled| FilledEntry {
            placed: filled.placed,
            wanted: filled.wanted,
            centre: tidy3(filled.mass.centre),
            weighs: worked(&filled.weighs),
        }),
        not_weighed: standing.not_weighed.iter().map(|part| name(model, *part)).collect(),
        pushes: standing.pushes.iter().map(push).collect(),
        slender: worked(&standing.slender),
        reasons: standing.reasons.iter().map(Anchor::words).collect(),
        anchored: standing.fixing.as_ref().map(|fixing| FixingEntry {
            fixings: fixing.count,
            height: tidy(fixing.height),
            each: worked(&fixing.each),
        }),
    }
}
