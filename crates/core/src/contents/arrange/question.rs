//! The case and what it must hold, as the solver of rows in columns is asked.
//!
//! A bay whose shelves may move is a column of as many units as it has teeth: a row takes the teeth from its own shelf to the next. A shelf
//! that stays is a column of one row.

use casewright_cutting::columns::{Column, Needs, Placement, Stack as Way, Thing};
use glam::DVec3;

use super::{Row, ShelvesMay, spare};
use crate::contents::fill::{self, Piled};
use crate::contents::{HowHigh, Pile, Stance};
use crate::design::{BoxKind, Design};
use crate::loads::{Carries, carries};
use crate::model::{Bay, LevelKind, Model, ShelfLevels};
use crate::place::Block;

/// Widths are asked in tenths of a millimetre.
const PER_MM: f64 = 10.0;
/// Rounding of sums of lengths, mm.
const HAIR: f64 = 1e-6;

pub(in crate::contents) struct Question<'a> {
    design: &'a Design,
    model: &'a Model,
    /// How high things may be stacked.
    high: u32,
    pub things: Vec<Thing>,
    columns: Vec<Asked>,
    carries: Vec<Carries>,
}

/// What lies on a level of a bay, by its tooth, 0 for the floor.
pub(super) type Level = (u32, Vec<Piled>);

/// A column of the question, and what it stands for.
struct Asked {
    column: Column,
    /// The pile behind each way to stand.
    piles: Vec<Pile>,
    place: Place,
}

/// What a column stands for.
#[derive(Clone, Copy)]
enum Place {
    /// A room between shelves that stay, by its place in [`Model::rooms`].
    Room(usize),
    /// A bay, by its number.
    Bay(usize),
}

impl<'a> Question<'a> {
    pub fn of(design: &'a Design, model: &'a Model, (shelves, high): (ShelvesMay, u32)) -> Question<'a> {
        let things = design.contents.iter().enumerate().map(|(id, kind)| Thing { id: id as u32, count: kind.wanted(), worth: 1 }).collect();
        let mut question = Question { design, model, high, things, columns: Vec::new(), carries: carries(design, model) };
        for (index, bay) in model.bays.iter().enumerate() {
            let rooms = (0..model.rooms.len()).filter(|room| model.rooms[*room].bay == index);
            match (shelves, bay.teeth) {
                (ShelvesMay::Stay, _) | (_, None) => rooms.for_each(|room| question.ask_room(room)),
                (ShelvesMay::Move | ShelvesMay::Come, Some(teeth)) => {
                    let there = rooms.clone().filter(|room| model.rooms[*room].shelf.is_some()).count() as u32;
                    let most_rows = (shelves == ShelvesMay::Move).then_some(there + u32::from(bay.has_floor));
                    let bears = rooms.filter_map(|room| question.kg_of(room)).fold(f64::INFINITY, f64::min);
                    question.ask_bay(index, bay, teeth, most_rows, bears);
                }
            }
        }
        question
    }

    /// What a shelf or floor carries, kg; none where that could not be judged.
    fn kg_of(&self, room: usize) -> Option<f64> {
        self.carries.iter().find(|one| one.room == room).map(|one| one.kg).filter(|kg| kg.is_finite())
    }

    pub fn columns(&self) -> Vec<Column> {
        self.columns.iter().map(|asked| asked.column.clone()).collect()
    }

    fn ask_room(&mut self, index: usize) {
        let space = self.model.rooms[index].space;
        let high = space.min.y <= self.design.hand_room.heavy_up_to.to_mm();
        let one_row = Needs::same(1);
        let ways = self.ways(space.size(), |pile| (pile.needs().y <= space.size().y + HAIR).then_some(one_row));
        // A row too high for heavy things takes none of them.
        let ways = ways.into_iter().filter(|(way, _)| high || !way.low);
        self.push(Place::Room(index), space, ways.collect(), (1, Some(1), 0), self.kg_of(index).unwrap_or(f64::INFINITY));
    }

    fn ask_bay(&mut self, index: usize, bay: &Bay, teeth: ShelfLevels, most_rows: Option<u32>, bears: f64) {
        // One unit more than there are teeth, so that the highest row too needs at least one.
        let height = teeth.count + 1;
        let ways = self.ways(bay.space.size(), |pile| needs(bay, &teeth, pile.needs().y, height));
        let up_to = self.design.hand_room.heavy_up_to.to_mm();
        let low = (1..=teeth.count).rev().find(|tooth| teeth.top(*tooth) <= up_to).unwrap_or(0);
        self.push(Place::Bay(index), bay.space, ways, (height, most_rows, low), bears);
    }

    /// Every way in which a thing may stand in a space, as `needs` has it for its height.
    fn ways(&self, space: DVec3, needs: impl Fn(&Pile) -> Option<Needs>) -> Vec<(Way, Pile)> {
        let hand = &self.design.hand_room;
        let of_kind = |(id, kind): (usize, &BoxKind)| {
            let piles = Stance::of(kind.lies).iter().filter_map(|stance| Pile::largest(kind, hand, *stance, space, HowHigh::AsTheRoom));
            let wanted = kind.wanted();
            let each = piles
                .flat_map(|largest| (1..=largest.high.min(wanted.div_ceil(largest.deep)).min(self.high)).map(move |high| (largest, high)));
            each.map(|(largest, high)| Pile::of(kind, hand, largest.stance, high, largest.deep))
                .filter_map(|pile| {
                    let way = Way {
                        thing: id as u32,
                        holds: pile.count(),
                        width: ((pile.size.x + pile.beside) * PER_MM - HAIR).ceil().max(1.0) as u32,
                        needs: needs(&pile)?,
                        mass: kind.mass,
                        low: kind.mass > hand.heavy,
                    };
                    Some((way, pile))
                })
                .collect::<Vec<_>>()
        };
        self.design.contents.iter().enumerate().flat_map(of_kind).collect()
    }

    fn push(&mut self, place: Place, space: Block, ways: Vec<(Way, Pile)>, (height, most_rows, low): (u32, Option<u32>, u32), bears: f64) {
        let (stacks, piles) = ways.into_iter().unzip();
        let width = ((space.size().x - self.design.hand_room.beside.to_mm()) * PER_MM + HAIR).floor().max(0.0) as u32;
        let column = Column { width, height, most_mass: bears.max(0.0), most_rows, low, cost: 0, count: Some(1), stacks };
        self.columns.push(Asked { column, piles, place });
    }

    /// What the answer means: every shelf and floor, those without anything too.
    pub fn rows(&self, placement: &Placement) -> Vec<Row> {
        let mut rows = Vec::new();
        for (asked, filled) in self.columns.iter().zip(&placement.columns) {
            let stands = |row: &casewright_cutting::columns::Row| -> Vec<Piled> {
                row.stacks.iter().map(|stood| (stood.thing as usize, stood.count, asked.piles[stood.stack])).collect()
            };
            match asked.place {
                Place::Room(index) => {
                    let room = &self.model.rooms[index];
                    let stood = filled.rows.first().map(stands).unwrap_or_default();
                    let tooth = room.shelf.and(self.model.bays[room.bay].teeth).map(|teeth| level_at(&teeth, room.space.min.y));
                    let row = self.row(room.bay, tooth, room.space, self.kg_of(index), stood);
                    rows.push(Row { shelf: room.shelf, ..row });
                }
                Place::Bay(index) => {
                    let bears = Some(asked.column.most_mass).filter(|kg| kg.is_finite());
                    let stood: Vec<Level> = filled.rows.iter().map(|row| (row.base, stands(row))).collect();
                    rows.extend(self.bay_rows(index, stood, asked.column.most_rows, bears));
                }
            }
        }
        rows
    }

    /// The rows of a bay whose shelves moved, those that are left over too.
    fn bay_rows(&self, index: usize, stood: Vec<Level>, most_rows: Option<u32>, bears: Option<f64>) -> Vec<Row> {
        let bay = &self.model.bays[index];
        let Some(teeth) = bay.teeth else { return Vec::new() };
        let mut levels: Vec<Level> = stood.into_iter().map(|(base, stood)| (lowest(bay, base), stood)).collect();
        if bay.has_floor && levels.first().is_none_or(|(level, _)| *level > 0) {
            levels.insert(0, (0, Vec::new()));
        }
        let left_over = most_rows.unwrap_or(0).saturating_sub(levels.len() as u32);
        spare::lay(self.design, bay, &teeth, &mut levels, left_over);
        let base = |level: u32| if level == 0 { bay.space.min.y } else { teeth.top(level) };
        let tops: Vec<f64> = levels.iter().skip(1).map(|(level, _)| base(*level) - teeth.thickness).chain([bay.space.max.y]).collect();
        levels
            .into_iter()
            .zip(tops)
            .map(|((level, stood), top)| {
                let mut space = bay.space;
                (space.min.y, space.max.y) = (base(level), top);
                self.row(index, (level > 0).then_some(level), space, bears, stood)
            })
            .collect()
    }

    fn row(&self, bay: usize, tooth: Option<u32>, space: Block, carries: Option<f64>, stood: Vec<Piled>) -> Row {
        let stacks = fill::set_out(space, self.design, stood);
        let counted = self.model.bays.get(bay).and_then(|bay| bay.teeth).map_or(LevelKind::Tooth, |levels| levels.kind);
        Row { bay, tooth, counted, shelf: None, space, carries, stacks }
    }

    /// The teeth of each bay's shelves: those of the design in their order, the lowest row's tooth for its lowest shelf.
    pub fn teeth(&self, rows: &[Row]) -> Vec<Vec<u32>> {
        let of_bay = |bay: usize| {
            let mut there: Vec<(usize, f64)> =
                self.model.rooms.iter().filter(|room| room.bay == bay).filter_map(|room| Some((room.shelf?, room.space.min.y))).collect();
            there.sort_by(|a, b| a.1.total_cmp(&b.1));
            let levels: Vec<u32> = rows.iter().filter(|row| row.bay == bay).filter_map(|row| row.tooth).collect();
            let mut teeth: Vec<(usize, u32)> = there.iter().map(|(shelf, _)| *shelf).zip(levels.iter().copied()).collect();
            teeth.sort_unstable();
            teeth.into_iter().map(|(_, tooth)| tooth).chain(levels.iter().skip(there.len()).copied()).collect()
        };
        (0..self.model.bays.len()).map(of_bay).collect()
    }
}

/// The tooth whose shelf has its upper face at `y`.
fn level_at(teeth: &ShelfLevels, y: f64) -> u32 {
    ((y - teeth.lowest) / teeth.pitch).round().max(0.0) as u32 + 1
}

/// The level at which a row of the answer lies: 0 is the floor where there is one.
fn lowest(bay: &Bay, base: u32) -> u32 {
    if bay.has_floor { base } else { base.max(1) }
}

/// How many teeth a row takes that must be so high, by where it is in its bay; nothing where it fits nowhere.
fn needs(bay: &Bay, teeth: &ShelfLevels, clear: f64, height: u32) -> Option<Needs> {
    // Above the top of the bay there is no shelf that takes room.
    let highest = ((bay.space.max.y - clear - teeth.lowest) / teeth.pitch + 1e-9).floor() + 1.0;
    let highest = if highest >= 1.0 { (highest as u32).min(teeth.count) } else { 0 };
    let beyond = height + 1;
    let top = if highest == 0 { beyond } else { height - highest };
    let steps = teeth.steps(clear);
    let (alone, bottom) = if bay.has_floor {
        let fits = bay.space.min.y + clear <= bay.space.max.y + HAIR;
        (if fits { 1 } else { beyond }, teeth.over(bay.space.min.y, clear))
    } else {
        (if highest == 0 { beyond } else { 1 }, 1 + steps)
    };
    (alone <= height || top <= height).then_some(Needs { alone, bottom, between: steps, top })
}
