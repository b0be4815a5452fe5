//! The case as things are put into it: as small as the seasons make it, and what its floors and shelves bear.

use casewright_cutting::columns::Needs;

use super::ShelvesMay;
use crate::contents::room::in_use;
use crate::derive::{bay_plans, derive};
use crate::design::edit::{Edit, apply};
use crate::design::{Design, System, ThickBy};
use crate::loads::{Carries, carries};
use crate::model::{Model, Room, ShelfLevels};
use crate::place::Block;

/// Rounding of sums of lengths, mm.
const HAIR: f64 = 1e-6;

/// A case, worked out once for every question about it.
pub(in crate::contents) struct Case<'a> {
    pub design: &'a Design,
    pub model: &'a Model,
    /// The rooms of the model, each as small as it gets; things stand where its floor is as built.
    pub rooms: Vec<Room>,
    /// What each of them bears, kg; none where that could not be judged.
    pub bears: Vec<Option<f64>>,
    /// For each bay of the model what is asked of it when its shelves may lie anywhere; none where they may not.
    pub bays: Vec<Option<Bay>>,
}

/// A bay whose shelves may lie on any level.
#[derive(Clone, Debug)]
pub(in crate::contents) struct Bay {
    pub has_floor: bool,
    /// The free space without any shelf, as narrow and shallow as it gets, mm.
    pub space: Block,
    pub levels: ShelfLevels,
    /// What its floor bears, kg; infinite where that could not be judged.
    pub floor: f64,
    /// What each of its shelves bears, kg.
    pub shelf: f64,
    /// How many shelves lie in it.
    pub shelves: u32,
    /// What the seasons take of the height under a shelf, mm.
    under_shelf: f64,
    /// What they take of the height under the top, mm.
    under_top: f64,
    /// The free space where they take least of it, and no more than that under a shelf or the top.
    widest: Block,
}

impl<'a> Case<'a> {
    pub fn of(design: &'a Design, model: &'a Model, shelves: ShelvesMay) -> Case<'a> {
        let known = Known::of(design, model);
        let bays = match shelves {
            ShelvesMay::Stay => vec![None; model.bays.len()],
            ShelvesMay::Move | ShelvesMay::Come => {
                let with_shelves = if shelves == ShelvesMay::Come { weighed(design, model) } else { None };
                (0..model.bays.len()).map(|bay| Bay::of(model, &known, with_shelves.as_ref(), bay)).collect()
            }
        };
        let Known { rooms, bears } = known;
        Case { design, model, rooms, bears, bays }
    }

    /// Whether the seasons take more of some rooms of a bay than of others, so that it may hold more than is asked of it.
    pub fn uneven(&self) -> bool {
        self.bays.iter().flatten().any(|bay| bay.widest != bay.space || (bay.under_shelf - bay.under_top).abs() > HAIR)
    }

    /// The same with the shelves of the bays that are asked about on these levels, where they stay: each bears what the weakest of its bay bears.
    pub fn with_shelves(&self, levels: &[Vec<u32>]) -> Case<'a> {
        let (mut rooms, mut bears) = (self.rooms.clone(), self.bears.clone());
        for (room, bears) in rooms.iter_mut().zip(&mut bears) {
            let (Some(Some(bay)), Some(levels)) = (self.bays.get(room.bay), levels.get(room.bay)) else { continue };
            let level = match room.shelf {
                Some(shelf) => levels.get(shelf).copied(),
                None => Some(0),
            };
            let Some(level) = level else { continue };
            let next = levels.iter().copied().filter(|next| *next > level).min();
            room.space = bay.room(level, next);
            *bears = Some(bay.bears(level)).filter(|kg| kg.is_finite());
        }
        Case { design: self.design, model: self.model, rooms, bears, bays: vec![None; self.bays.len()] }
    }

    /// The same with every room as large as the largest of its bay and with shelves that bear anything, if they may, to ask how much could
    /// be placed at the most.
    pub fn generous(mut self, shelves_bear: bool) -> Case<'a> {
        for bay in self.bays.iter_mut().flatten() {
            if shelves_bear {
                bay.shelf = f64::INFINITY;
            }
            bay.space = bay.widest;
            (bay.under_shelf, bay.under_top) = (0.0, 0.0);
        }
        self
    }
}

/// Whether shelves become thicker where they bear more, so that what they bear today is not the most that they could.
pub(super) fn thicken(design: &Design) -> bool {
    let sawtooth = design.interior.system().is_none_or(|system| system == System::Sawtooth);
    sawtooth && design.sawtooth.slats.thick_by == ThickBy::Load
}

/// What is known of the rooms of a model, in their order.
struct Known {
    rooms: Vec<Room>,
    bears: Vec<Option<f64>>,
}

impl Known {
    fn of(design: &Design, model: &Model) -> Known {
        let tight = in_use(design, model);
        let rooms = model.rooms.iter().zip(&tight).map(|(built, tight)| on_its_floor(built, tight.space)).collect();
        let carried: Vec<Carries> = carries(design, model);
        let bears = |room: usize| carried.iter().find(|one| one.room == room).map(|one| one.kg).filter(|kg| kg.is_finite());
        Known { rooms, bears: (0..model.rooms.len()).map(bears).collect() }
    }

    /// What the weakest of some rooms bears.
    fn least(&self, rooms: impl Iterator<Item = usize>) -> Option<f64> {
        rooms.filter_map(|room| self.bears.get(room).copied().flatten()).reduce(f64::min)
    }

    /// What the seasons take of a room, mm, at its lower and its upper sides.
    fn lost(&self, model: &Model, room: usize) -> (glam::DVec3, glam::DVec3) {
        match (model.rooms.get(room), self.rooms.get(room)) {
            (Some(built), Some(tight)) => (tight.space.min - built.space.min, built.space.max - tight.space.max),
            _ => (glam::DVec3::ZERO, glam::DVec3::ZERO),
        }
    }
}

/// A room as high as it gets when it is least so, from its floor as built.
fn on_its_floor(built: &Room, tight: Block) -> Room {
    let mut space = tight;
    space.min.y = built.space.min.y;
    space.max.y = built.space.min.y + tight.size().y;
    Room { space, ..built.clone() }
}

/// The case with a shelf in every bay that has none, so that it is known what one bears there.
fn weighed(design: &Design, model: &Model) -> Option<(Model, Known)> {
    let none_in = |bay: usize| !model.rooms.iter().any(|room| room.bay == bay && room.shelf.is_some());
    if !(0..model.bays.len()).any(|bay| model.bays[bay].teeth.is_some() && none_in(bay)) {
        return None;
    }
    let plans = bay_plans(design).ok()?;
    let laid = |(bay, plan): (usize, &crate::derive::BayPlan)| {
        let there = plan.fitting.shelves().map_or_else(Vec::new, |shelves| shelves.shelves.clone());
        let middle = model.bays.get(bay).and_then(|bay| bay.teeth).map_or(1, |levels| (levels.count / 2).max(1));
        if none_in(bay) { vec![middle] } else { there }
    };
    let mut design = design.clone();
    apply(&mut design, &Edit::LayShelves(plans.iter().enumerate().map(laid).collect()));
    let model = derive(&design).ok()?;
    let known = Known::of(&design, &model);
    Some((model, known))
}

impl Bay {
    fn of(model: &Model, known: &Known, weighed: Option<&(Model, Known)>, bay: usize) -> Option<Bay> {
        let built = model.bays.get(bay)?;
        let levels = built.teeth?;
        let here = |room: &usize| model.rooms[*room].bay == bay;
        let rooms: Vec<usize> = (0..model.rooms.len()).filter(here).collect();
        let on_shelves = |model: &Model, of: &Known| {
            let rooms = (0..model.rooms.len()).filter(|room| model.rooms[*room].bay == bay && model.rooms[*room].shelf.is_some());
            of.least(rooms)
        };
        let shelf = on_shelves(model, known).or_else(|| weighed.and_then(|(model, of)| on_shelves(model, of)));
        let floor = known.least(rooms.iter().copied().filter(|room| model.rooms[*room].shelf.is_none()));
        let mut space = built.space;
        let highest = rooms.iter().copied().max_by(|a, b| model.rooms[*a].space.min.y.total_cmp(&model.rooms[*b].space.min.y));
        let (mut low, mut high) = (glam::DVec3::ZERO, glam::DVec3::ZERO);
        let (mut least_low, mut least_high) = (glam::DVec3::INFINITY, glam::DVec3::INFINITY);
        let (mut under_shelf, mut under_top) = (0.0_f64, 0.0_f64);
        // The rooms of the same bay with a shelf in it say what a shelf takes when there is none yet.
        let others = weighed.map(|(model, of)| (model, of, (0..model.rooms.len()).filter(|room| model.rooms[*room].bay == bay)));
        for room in &rooms {
            let (at_low, at_high) = known.lost(model, *room);
            (low, high) = (low.max(at_low), high.max(at_high));
            (least_low, least_high) = (least_low.min(at_low), least_high.min(at_high));
            let lost = at_low.y + at_high.y;
            if highest == Some(*room) { under_top = under_top.max(lost) } else { under_shelf = under_shelf.max(lost) }
        }
        if rooms.len() < 2
            && let Some((model, of, rooms)) = others
        {
            under_shelf = rooms.map(|room| of.lost(model, room)).map(|(low, high)| low.y + high.y).fold(under_shelf, f64::max);
        }
        let mut widest = space;
        if !rooms.is_empty() {
            (widest.min.x, widest.min.z) = (widest.min.x + least_low.x, widest.min.z + least_low.z);
            (widest.max.x, widest.max.z) = (widest.max.x - least_high.x, widest.max.z - least_high.z);
        }
        (space.min.x, space.min.z) = (space.min.x + low.x, space.min.z + low.z);
        (space.max.x, space.max.z) = (space.max.x - high.x, space.max.z - high.z);
        Some(Bay {
            has_floor: built.has_floor,
            space,
            levels,
            floor: floor.unwrap_or(f64::INFINITY),
            shelf: shelf.unwrap_or(f64::INFINITY),
            shelves: rooms.iter().filter(|room| model.rooms[**room].shelf.is_some()).count() as u32,
            under_shelf,
            under_top,
            widest,
        })
    }

    /// What a level bears, kg, the floor being 0.
    pub fn bears(&self, level: u32) -> f64 {
        if level == 0 { self.floor } else { self.shelf }
    }

    /// The height at which things stand on a level, mm.
    pub fn base(&self, level: u32) -> f64 {
        if level == 0 { self.space.min.y } else { self.levels.top(level) }
    }

    /// The lowest level for a shelf so that so much is free over another.
    pub fn over(&self, level: u32, clear: f64) -> u32 {
        let clear = clear + self.under_shelf;
        if level == 0 && self.has_floor { self.levels.over(self.space.min.y, clear) } else { level + self.levels.steps(clear) }
    }

    /// Whether so much is free over the highest shelf when that lies on a level.
    pub fn under_top(&self, level: u32, clear: f64) -> bool {
        level <= self.levels.count && self.base(level) + clear + self.under_top <= self.space.max.y + HAIR
    }

    /// The free space over a level, mm, up to the next one or to the top.
    pub fn room(&self, level: u32, next: Option<u32>) -> Block {
        let mut space = self.space;
        space.min.y = self.base(level);
        space.max.y = match next {
            Some(next) => self.base(next) - self.levels.thickness - self.under_shelf,
            None => space.max.y - self.under_top,
        };
        space
    }

    /// As how many units it is asked: one more than it has levels, so that the highest row too needs at least one.
    pub fn units(&self) -> u32 {
        self.levels.count + 1
    }

    /// The level on which the lowest row of an answer lies, and any other: 0 is the floor where there is one.
    pub fn level_of(&self, base: u32) -> u32 {
        if self.has_floor { base } else { base.max(1) }
    }

    /// Up to which unit the base of a row may lie that stands no higher than `up_to`, mm: anywhere where that is none within, and nowhere
    /// where it is an error.
    pub fn up_to(&self, up_to: f64) -> Result<Option<u32>, Nowhere> {
        let highest = (1..=self.levels.count).rev().find(|level| self.levels.top(*level) <= up_to + HAIR);
        match highest {
            Some(level) if level == self.levels.count => Ok(None),
            Some(level) => Ok(Some(level)),
            None if self.has_floor && self.space.min.y <= up_to + HAIR => Ok(Some(0)),
            None => Err(Nowhere),
        }
    }

    /// How many units a row takes that must be so high, mm, by where it is; nothing where it fits nowhere.
    pub fn needs(&self, clear: f64) -> Option<Needs> {
        let units = self.units();
        let beyond = units + 1;
        let highest = (1..=self.levels.count).rev().find(|level| self.under_top(*level, clear)).unwrap_or(0);
        let top = if highest == 0 { beyond } else { units - highest };
        let between = self.over(1, clear).saturating_sub(1).max(1);
        let (alone, bottom) = if self.has_floor {
            (if self.under_top(0, clear) { 1 } else { beyond }, self.over(0, clear))
        } else {
            (if highest == 0 { beyond } else { 1 }, self.over(1, clear))
        };
        (alone <= units || top <= units).then_some(Needs { alone, bottom, between, top })
    }

    /// How many units lie under the lowest shelf when nothing stands on the floor; none without a floor to be left empty.
    pub fn empty(&self) -> Option<u32> {
        self.has_floor.then(|| self.levels.over(self.space.min.y, 0.0))
    }
}

/// That something may stand nowhere in a bay.
#[derive(Clone, Copy, Debug)]
pub(in crate::contents) struct Nowhere;
