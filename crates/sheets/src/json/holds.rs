//! What a case holds, and where.

use casewright_core::contents::arrange::{Arrangement, Displaced, Move, Row};
use casewright_core::contents::holds::{InBay, InRoom};
use casewright_core::contents::tilt::Tilt;
use casewright_core::contents::{Change, Fit, Stack};
use casewright_core::design::BoxKind;
use casewright_core::loads::Whole;
use casewright_core::{Design, Model};
use serde::Serialize;

use super::{tidy, tidy3};

/// The version of [`fits`]'s and [`holds`]' documents: levels are no longer called teeth, whatever they are counted by.
pub const HOLDS_SCHEMA: u32 = 2;

/// Which shelves take a thing; schema `assets/schema/fits.json`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FitsDocument {
    /// Version of the document.
    pub schema: u32,
    /// What the piece is called.
    pub name: String,
    /// The thing.
    pub thing: ThingEntry,
    /// Every shelf and floor as it lies now.
    pub rooms: Vec<RoomEntry>,
    /// Every bay, wherever its shelves lie.
    pub bays: Vec<BayEntry>,
}

/// A kind of thing.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ThingEntry {
    /// What it is called.
    pub name: String,
    /// Width, depth and height, mm.
    pub size: [f64; 3],
    /// Weight of one, kg.
    pub mass: f64,
}

/// One shelf or floor.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct RoomEntry {
    /// What it is called.
    pub name: String,
    /// Whether it takes the thing.
    pub takes: bool,
    /// How many of it, when nothing else stands there.
    pub many: u32,
    /// What the shelf carries, kg, where one of the kind is more; else nothing.
    pub carries: Option<f64>,
    /// Whether it is too high up for a thing so heavy.
    pub too_high: bool,
    /// Whether it would fit as built, and only the seasons take the room.
    pub when_built: bool,
    /// How it stands, and what is lacking.
    pub fit: FitEntry,
}

/// One bay.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct BayEntry {
    /// Which, from 1.
    pub bay: usize,
    /// Whether it takes the thing.
    pub takes: bool,
    /// What its levels are counted by: tooth, hole or level; none where its shelves don't move.
    pub counted_by: Option<&'static str>,
    /// Levels from its shelf to the next one above, at the least.
    pub levels: Option<u32>,
    /// The lowest level of the first shelf, for a thing that stands on the floor.
    pub over_floor: Option<u32>,
    /// How it stands, and what is lacking.
    pub fit: FitEntry,
}

/// How a thing stands, and what is lacking.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FitEntry {
    /// How it lies; nothing where it stands as it is listed.
    pub lying: &'static str,
    /// What of width, depth and height is lacking, mm; nothing lacking is 0.
    pub lacks: [f64; 3],
}

impl FitEntry {
    fn of(fit: &Fit) -> FitEntry {
        let lacks = [fit.lack.width, fit.lack.depth, fit.lack.height];
        FitEntry { lying: fit.stance.words(), lacks: lacks.map(|by| if fit.fits() { 0.0 } else { tidy(by.max(0.0)) }) }
    }
}

/// Which shelves take a thing.
pub fn fits(model: &Model, kind: &BoxKind, rooms: &[InRoom], bays: &[InBay]) -> FitsDocument {
    let size = [kind.width, kind.depth, kind.height].map(|length| tidy(length.to_mm()));
    let room = |one: &InRoom| RoomEntry {
        name: model.rooms[one.room].name.clone(),
        takes: one.takes(),
        many: one.many,
        carries: one.too_heavy.map(tidy),
        too_high: one.too_high,
        when_built: one.when_built,
        fit: FitEntry::of(&one.fit),
    };
    let bay = |one: &InBay| BayEntry {
        bay: one.bay + 1,
        takes: one.fit.fits(),
        counted_by: one.counted.map(|kind| kind.words().0),
        levels: one.teeth,
        over_floor: one.over_floor,
        fit: FitEntry::of(&one.fit),
    };
    FitsDocument {
        schema: HOLDS_SCHEMA,
        name: model.name.clone(),
        thing: ThingEntry { name: kind.name.clone(), size, mass: tidy(kind.mass) },
        rooms: rooms.iter().map(room).collect(),
        bays: bays.iter().map(bay).collect(),
    }
}

/// What is told besides where everything stands.
#[derive(Clone, Copy, Debug)]
pub struct Besides<'b> {
    /// The shelves that have to be moved for it.
    pub moves: &'b [Move],
    /// How each loose shelf comes out.
    pub tilts: &'b [Tilt],
    /// What would give the rest a place.
    pub changes: &'b [Change],
    /// What stands elsewhere than in the design as its file has it.
    pub displaced: &'b [Displaced],
    /// What the case carries in all.
    pub whole: Option<Whole>,
}

/// Where everything stands; schema `assets/schema/holds.json`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HoldsDocument {
    /// Version of the document.
    pub schema: u32,
    /// What the piece is called.
    pub name: String,
    /// How many things there are.
    pub wanted: u64,
    /// How many have a place.
    pub placed: u64,
    /// No arrangement of these shelves places more.
    pub most: u64,
    /// The share of the room on the shelves that things fill, 0 to 1.
    pub filled: f64,
    /// How much room on the shelves is free, litres.
    pub free_litres: f64,
    /// What all shelves and floors carry together, kg; none where one can't be judged.
    pub carries_in_all: Option<f64>,
    /// Every shelf and floor.
    pub shelves: Vec<HoldsEntry>,
    /// The shelves that have to be moved for it.
    pub moves: Vec<MoveEntry>,
    /// How each shelf that lies loose comes out while all others stay.
    pub tilts: Vec<TiltEntry>,
    /// What stands elsewhere than in the design as its file has it, where other decisions are tried.
    pub displaced: Vec<DisplacedEntry>,
    /// What has no place.
    pub left: Vec<LeftEntry>,
    /// Changes of the case that would give everything a place, where they were asked for.
    pub changes: Vec<ChangeEntry>,
}

/// A shelf that has to be moved.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MoveEntry {
    /// Which bay, from 1.
    pub bay: usize,
    /// Which of its shelves, from 1.
    pub shelf: usize,
    /// What levels are counted by.
    pub counted_by: &'static str,
    /// Where it lay; none where it is new.
    pub from: Option<u32>,
    /// Where it is to lie; none where it is put away.
    pub to: Option<u32>,
}

/// How a loose shelf comes out while all others stay.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct TiltEntry {
    /// Which bay, from 1.
    pub bay: usize,
    /// Which of its shelves, from 1.
    pub shelf: usize,
    /// Length of its longest board, mm.
    pub length: f64,
    /// Clear width of the opening, mm.
    pub opening: f64,
    /// How far it is tilted, degrees; 0 where it comes out level.
    pub angle: f64,
    /// The height it takes at that, mm.
    pub takes: f64,
    /// The height there is, mm.
    pub height: f64,
    /// What it grows to while it is laid level, mm; none where it comes out level, or nothing stands beyond its ends.
    pub diagonal: Option<f64>,
    /// The room for that, mm.
    pub room: Option<f64>,
    /// Whether it comes out.
    pub comes_out: bool,
}

impl TiltEntry {
    fn of(tilt: &Tilt) -> TiltEntry {
        TiltEntry {
            bay: tilt.bay + 1,
            shelf: tilt.shelf + 1,
            length: tidy(tilt.length),
            opening: tidy(tilt.opening),
            angle: tidy(tilt.angle),
            takes: tidy(tilt.takes),
            height: tidy(tilt.height),
            diagonal: tilt.level.map(|(diagonal, _)| tidy(diagonal)),
            room: tilt.level.map(|(_, room)| tidy(room)),
            comes_out: tilt.comes_out() && tilt.goes_level(),
        }
    }
}

/// A change of the case after which everything has a place.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ChangeEntry {
    /// What is done.
    pub words: String,
    /// What that gives: all have a place, or the case carries so much.
    pub gives: String,
    /// How much more solid timber it takes, m³.
    pub timber: f64,
    /// How much more sheet, m².
    pub sheet: f64,
    /// By how much the case is changed, mm; none for what is not told in millimetres.
    pub by: Option<u32>,
    /// The least by which it must be, mm: less never gives everything a place.
    pub proven: Option<u32>,
}

/// Things that stand elsewhere than before.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct DisplacedEntry {
    /// What they are.
    pub name: String,
    /// How many.
    pub count: u32,
    /// Where they stood; none where they are new.
    pub from: Option<String>,
    /// Where they stand; none where they have no place.
    pub to: Option<String>,
}

/// A shelf or floor with what stands on it.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct HoldsEntry {
    /// Which bay, from 1.
    pub bay: usize,
    /// What the levels of its bay are counted by: tooth, hole or level; none for the floor.
    pub counted_by: Option<&'static str>,
    /// The level of the shelf, from 1; none for the floor.
    pub level: Option<u32>,
    /// What stands on it, kg.
    pub kg: f64,
    /// What it carries, evenly spread, kg; none where that could not be judged.
    pub carries: Option<f64>,
    /// What is left of its width, mm.
    pub free: f64,
    /// From the left.
    pub stacks: Vec<StackEntry>,
}

/// Things of a kind on and behind each other.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct StackEntry {
    /// What they are.
    pub name: String,
    /// How many.
    pub count: u32,
    /// On each other.
    pub high: u32,
    /// Behind each other.
    pub deep: u32,
    /// How they lie; nothing where they stand as listed.
    pub lying: &'static str,
    /// The left lower back corner of what they fill, mm.
    pub min: [f64; 3],
    /// The corner opposite.
    pub max: [f64; 3],
    /// Whether they stand on the stack before them and not on the shelf.
    pub on_the_last: bool,
}

/// Things without a place.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct LeftEntry {
    /// What they are.
    pub name: String,
    /// How many.
    pub count: u32,
    /// Whether they stand nowhere, even in an empty case.
    pub nowhere: bool,
}

/// Where everything stands.
pub fn holds(design: &Design, arrangement: &Arrangement, besides: &Besides<'_>) -> HoldsDocument {
    let Besides { moves, tilts, changes, displaced, whole } = *besides;
    let name = |kind: usize| design.contents.get(kind).map_or_else(String::new, |kind| kind.name.clone());
    let stack = |stack: &Stack| StackEntry {
        name: name(stack.kind),
        count: stack.count,
        high: stack.pile.high,
        deep: stack.pile.deep,
        lying: stack.pile.stance.words(),
        min: tidy3(stack.block.min),
        max: tidy3(stack.block.max),
        on_the_last: stack.on.is_some(),
    };
    let shelf = |row: &Row| HoldsEntry {
        bay: row.bay + 1,
        counted_by: row.tooth.map(|_| row.counted.words().0),
        level: row.tooth,
        kg: tidy(row.kg()),
        carries: row.carries.map(tidy),
        free: tidy(row.free()),
        stacks: row.stacks.iter().map(stack).collect(),
    };
    HoldsDocument {
        schema: HOLDS_SCHEMA,
        name: design.name.clone(),
        wanted: arrangement.wanted,
        placed: arrangement.placed,
        most: arrangement.most,
        filled: tidy(arrangement.filled()),
        free_litres: tidy(arrangement.free_litres()),
        carries_in_all: whole.map(|all| tidy(all.kg)),
        shelves: arrangement.rows.iter().map(shelf).collect(),
        moves: moves
            .iter()
            .map(|one| MoveEntry { bay: one.bay + 1, shelf: one.shelf + 1, counted_by: one.counted.words().0, from: one.from, to: one.to })
            .collect(),
        tilts: tilts.iter().map(TiltEntry::of).collect(),
        displaced: displaced
            .iter()
            .map(|one| DisplacedEntry { name: name(one.kind), count: one.count, from: one.from.clone(), to: one.to.clone() })
            .collect(),
        left: arrangement.left.iter().map(|left| LeftEntry { name: name(left.kind), count: left.count, nowhere: left.nowhere }).collect(),
        changes: changes
            .iter()
            .map(|change| ChangeEntry {
                words: change.words.clone(),
                gives: change.gives.clone(),
                timber: tidy(change.timber),
                sheet: tidy(change.sheet),
                by: change.least.map(|least| least.by),
                proven: change.least.map(|least| least.proven),
            })
            .collect(),
    }
}
