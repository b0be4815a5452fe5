//! The case under its load: how far each part sags, how hard it is pressed, whether the case stands, and what is too heavy for one.
//!
//! ```text
//! Model, contents ─heaviest─▶ stacks on every shelf ─press─▶ slats ─▶ cleats ─▶ teeth of the standards ─▶ dividers ─▶ rails ─▶ posts
//!                                                              │ each a Beam of `strength`, by its joints
//! Model, Solids ──────mass──▶ the case empty and loaded ───────┴─▶ UnderLoad ──inspect──▶ findings
//! ```
//!
//! - Every shelf is judged under the heaviest of the boxes that it takes, stacked as high as its room: shelves move, boxes change places.
//!   What it does not bear then, but bears with boxes one high, is at risk and no failure: it wants a label that says how much.
//! - What holds a part is read off its joints, and its section off its sizes, so that measured and own sizes count as they are.
//! - An end that is housed, tenoned or screwed is taken to lie simply: it is stiffer, so this errs on the safe side (common practice, no
//!   source). Where a standard hangs on a divider, the divider's foot is taken to bear all of it.
//!
//! The limits are the program's own and the maker's to change ([`Limits`]). Figures of timber are means of small
//! clear pieces, no design values: where a failure could hurt someone, local code and licensed practice decide.

mod bears;
mod bending;
mod carries;
mod down;
mod frame;
mod lifting;
mod lying;
mod rests;
mod shelves;
mod sinking;
mod slab;
mod standing;
mod tied;
mod unjudged;
mod whole;

use std::collections::BTreeSet;

pub use bears::{Bearing, Bears, Counts, OnIt};
use bending::Known;
pub use bending::{Bending, Curve, Spans, Stress};
pub use carries::{Carries, Gives, carries, on_a_label};
use down::{Onto, Passes};
pub use lifting::{Lift, lift_findings, lifts};
pub use lying::{Asked, Pressed, Unjudged, Why};
use lying::{Lying, Stuffs};
pub use rests::{PinBent, Rest, RestWay, Sheared};
pub use sinking::{Deepest, Sinking, When};
pub use standing::{Filled, Fixing, Push, Standing};
pub use unjudged::unjudged_findings;
pub use whole::{Whole, whole};

use crate::contents::{HowHigh, Stack};
use crate::design::{Design, Limits};
use crate::model::{Material, Model, Part, PartId, PartKind};
use crate::shapes::Solids;
use crate::strength::Verdict;
use crate::worked::Worked;

/// A case under its load: plain figures, each of which can be asked why.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct UnderLoad {
    /// What stands in each room of the model at its heaviest, in the order of the rooms.
    pub stacks: Vec<Vec<Stack>>,
    /// Every part that bends: what the boxes stand on, what carries that, and the top.
    pub bending: Vec<Bending>,
    /// Every place where a shelf is held.
    pub rests: Vec<Rest>,
    /// What could not be judged, and why.
    pub unjudged: Vec<Unjudged>,
    /// What each part that stands on the floor of the room bears there, N, with every shelf at its heaviest and all own weights.
    pub feet: Vec<(PartId, f64)>,
    /// What bears each part, by its place in the model.
    passes: Vec<Vec<Passes>>,
}

/// What is told of one shelf, or of the floor of a bay.
#[derive(Clone, Debug, PartialEq)]
pub struct Shelf<'u> {
    /// The room whose boxes it holds, by its place in [`Model::rooms`].
    pub room: usize,
    /// What it is called: "shelf 1 of bay 2".
    pub name: &'u str,
    /// The heaviest that it is asked to hold, kg.
    pub kg: f64,
    /// The part of it that sags most for its span.
    pub worst: &'u Bending,
    /// The part of it that is lowest with all that bears it, after the years of the design.
    pub lowest: PartId,
    /// Where that is and how far it is down there.
    pub in_all: Deepest,
}

impl UnderLoad {
    /// A model under the load of what its design has to keep: on every shelf the heaviest that it takes, stacked as high as its room.
    pub fn of(design: &Design, model: &Model) -> UnderLoad {
        UnderLoad::stacked(design, model, HowHigh::AsTheRoom)
    }

    /// The same where boxes may be stacked or not.
    pub fn stacked(design: &Design, model: &Model, high: HowHigh) -> UnderLoad {
        let mut under = UnderLoad::default();
        let mut judging = Judging::new(design, model);
        shelves::load(&mut under, &mut judging, high);
        frame::load(&mut under, &mut judging);
        unjudged::stresses(&mut under, model, &mut judging.stuffs);
        under
    }

    /// The shelves and floors of a model, and what holds them, with stacks that the caller chose: for each room of the model its own.
    pub fn with(design: &Design, model: &Model, stacks: Vec<Vec<Stack>>) -> UnderLoad {
        let mut under = UnderLoad::default();
        shelves::load_with(&mut under, &mut Judging::new(design, model), stacks);
        under
    }

    /// The shelves and floors of the case, in the order of its rooms, each with the part that sags most for its span.
    pub fn shelves<'u>(&'u self, model: &'u Model) -> Vec<Shelf<'u>> {
        let sinking = self.sinking(model, When::After);
        let of_room = |index: usize| self.bending.iter().filter(move |bending| bending.room == Some(index) && bending.is_board(model));
        let shelf = |(index, stacks): (usize, &Vec<Stack>)| {
            let worst = of_room(index).max_by(|a, b| a.share().total_cmp(&b.share()))?;
            let kg = stacks.iter().map(|stack| stack.kg).sum();
            let mut boards: Vec<PartId> = of_room(index).map(|bending| bending.part).collect();
            boards.dedup();
            let down = boards.into_iter().filter_map(|board| Some((board, sinking.deepest(board)?)));
            let (lowest, in_all) = down.max_by(|a, b| a.1.down.total_cmp(&b.1.down))?;
            Some(Shelf { room: index, name: &model.rooms.get(index)?.name, kg, worst, lowest, in_all })
        };
        self.stacks.iter().enumerate().filter_map(shelf).collect()
    }

    /// What is told of one part; of a shelf on pins how it hangs from side to side. See [`all_of_part`](UnderLoad::all_of_part).
    pub fn of_part(&self, part: PartId) -> Option<&Bending> {
        self.bending.iter().find(|bending| bending.part == part)
    }

    /// Everything that is told of one part: a shelf on pins hangs from side to side, from its back pins to its front pins, and in its middle.
    pub fn all_of_part(&self, part: PartId) -> impl Iterator<Item = &Bending> {
        self.bending.iter().filter(move |bending| bending.part == part)
    }

    /// How a part hangs: how far each of its places is below where it would be unloaded. Nothing for a part that does not bend.
    pub fn curve(&self, part: PartId) -> Option<&Curve> {
        self.of_part(part).map(|bending| &bending.curve)
    }

    /// What a part bears besides its own weight, and where it comes from.
    pub fn why_bears(&self, design: &Design, bending: &Bending) -> Worked {
        let stacks = bending.room.and_then(|room| self.stacks.get(room)).map_or(&[][..], Vec::as_slice);
        bending.bears.why(stacks, &design.contents)
    }

    /// Why a part is so far down where it is lowest, after the years of the design, with all that bears it; nothing for one that does not bend.
    pub fn why_in_all(&self, model: &Model, part: PartId) -> Option<Worked> {
        let sinking = self.sinking(model, When::After);
        sinking.deepest(part).map(|lowest| sinking.why(part, lowest.at))
    }

    /// The worst verdict on any part.
    pub fn verdict(&self) -> Verdict {
        self.bending.iter().map(Bending::verdict).max().unwrap_or(Verdict::Good)
    }
}

/// How any part that lies level bends under what presses on it, by the joints that hold it: a shelf housed in solid sides, a rail.
///
/// # Errors
/// When fewer than two things hold it, its stiffness is not known, or it is no beam.
pub fn bear(limits: &Limits, model: &Model, part: PartId, pressed: &[Pressed]) -> Result<Bending, Unjudged> {
    let lying = Lying::of(model, &mut Stuffs::default(), part)?;
    let each = pressed.iter().map(|pressed| Bearing::one("load", &lying, pressed)).collect();
    Known::default().bending(model, limits, &lying, (pressed, Bears::Others(each)), None)
}

/// Slats that sag further than they are made for, and what would not.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct SlatsWanted {
    /// How thick they are wanted by what they bear now, mm; whole.
    pub thickness: f64,
    /// The worst of them.
    pub slat: String,
    /// How far that sags, mm: at once or after years, whichever is further beyond what it is made for.
    pub sags: f64,
    /// What it is made for, mm.
    pub made_for: f64,
}

/// How thick the slats of a model are wanted that are `thickness` mm now, so that every shelf at its heaviest sags no further than it is made
/// for; nothing where they do.
pub(crate) fn slats_wanted(design: &Design, model: &Model, thickness: f64) -> Option<SlatsWanted> {
    let sag = &design.limits.sag;
    let mut under = UnderLoad::default();
    shelves::load(&mut under, &mut Judging::new(design, model), HowHigh::AsTheRoom);
    let slats = under.bending.iter().filter(|bending| model.part(bending.part).kind == PartKind::Slat);
    let both = slats.flat_map(|slat| {
        let each = |sags: f64, share: f64| (slat.part, sags.abs(), slat.span() / share);
        [each(slat.at_once(), sag.working_at_once), each(slat.after(), sag.working_after_creep)]
    });
    let (part, sags, made_for) = both.max_by(|a, b| (a.1 / a.2).total_cmp(&(b.1 / b.2)))?;
    // How many times the sag that it is made for; a depth counts by its third power.
    let factor = (sags / made_for).cbrt();
    let wanted = || SlatsWanted { thickness: (thickness * factor).ceil(), slat: model.part(part).title.clone(), sags, made_for };
    (factor > 1.0 + 1e-9).then(wanted)
}

/// What a model weighs empty, its loose parts with it, as its parts are cut, kg; nothing where the density of a timber or a sheet is not known. What is
/// bought in counts for nothing.
pub fn mass_empty(model: &Model, solids: &Solids) -> Option<Worked> {
    let weight = standing::weigh(model, solids, model.parts.iter().filter(|part| !matches!(part.material, Material::Bought(_))));
    let kg = weight.masses.iter().map(|mass| mass.kg).sum();
    let all = ("all that it is made of, its loose parts with it", "arithmetic");
    weight.left_out.is_empty().then(|| Worked::by("mass, empty", kg, "kg", all, weight.timber))
}

/// Everything that is asked of a case under load.
pub fn of_case(design: &Design, model: &Model, solids: &Solids) -> (UnderLoad, Option<Standing>) {
    (UnderLoad::of(design, model), Standing::of(design, model, solids).map(|standing| standing.filled(design, model)))
}

/// What is asked while a case is judged, and what was found once for all that are alike.
struct Judging<'m> {
    design: &'m Design,
    model: &'m Model,
    stuffs: Stuffs,
    known: Known,
    /// What shelves and tops press on what holds them.
    pressing: Vec<Onto>,
    /// The parts whose own weights are in that.
    weighed: BTreeSet<PartId>,
}

impl<'m> Judging<'m> {
    fn new(design: &'m Design, model: &'m Model) -> Judging<'m> {
        Judging { design, model, stuffs: Stuffs::default(), known: Known::default(), pressing: Vec::new(), weighed: BTreeSet::new() }
    }

    fn bending(&mut self, lying: &Lying, pressed: &[Pressed], bears: Bears, room: Option<usize>) -> Result<Bending, Unjudged> {
        self.known.bending(self.model, &self.design.limits, lying, (pressed, bears), room)
    }
}

/// Parts of a room that boxes stand on: their upper faces are its floor.
fn boards<'m>(model: &'m Model, room: &crate::model::Room) -> impl Iterator<Item = &'m Part> {
    let space = room.space;
    model.parts.iter().filter(move |part| {
        let block = part.block();
        let beside = (space.min - block.max).max(block.min - space.max);
        (block.max.y - space.min.y).abs() < SAME_LEVEL && beside.x < 0.0 && beside.z < 0.0 && bending::is_board(part)
    })
}

/// Levels closer than this are one, mm.
const SAME_LEVEL: f64 = 0.01;
