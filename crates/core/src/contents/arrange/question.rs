//! The case and what it must hold, as the solver of rows in columns is asked.
//!
//! A bay whose shelves may move is a column of as many units as it has teeth: a row takes the teeth from its own shelf to the next. A shelf
//! that stays is a column of one row.

use casewright_cutting::columns::{Column, Needs, Placement, Stack as Way, Thing};
use glam::DVec3;

use super::case::{Bay, Case, Nowhere};
use super::{Row, ShelvesMay, spare};
use crate::contents::fill::{self, Piled};
use crate::contents::{HowHigh, Pile, Stance};
use crate::design::BoxKind;
use crate::model::{LevelKind, ShelfLevels};
use crate::place::Block;

/// Widths are asked in tenths of a millimetre.
const PER_MM: f64 = 10.0;
/// Rounding of sums of lengths, mm.
const HAIR: f64 = 1e-6;

/// How many things of a kind stand on each other and behind each other at most.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::contents) struct Piles {
    pub high: u32,
    pub deep: u32,
}

pub(in crate::contents) struct Question<'a> {
    case: &'a Case<'a>,
    piles: Piles,
    pub things: Vec<Thing>,
    columns: Vec<Asked>,
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
    /// A room between shelves that stay, by its place in [`crate::model::Model::rooms`].
    Room(usize),
    /// A bay, by its number.
    Bay(usize),
}

impl<'a> Question<'a> {
    pub fn of(case: &'a Case<'a>, shelves: ShelvesMay, piles: Piles) -> Question<'a> {
        let things = things(&case.design.contents);
        let mut question = Question { case, piles, things, columns: Vec::new() };
        for (index, bay) in case.bays.iter().enumerate() {
            match bay {
                Some(bay) => {
                    let most_rows = (shelves == ShelvesMay::Move).then_some(bay.shelves + u32::from(bay.has_floor));
                    let (column, stood) = question.bay(bay, most_rows);
                    question.columns.push(Asked { column, piles: stood, place: Place::Bay(index) });
                }
                None => (0..case.rooms.len()).filter(|room| case.rooms[*room].bay == index).for_each(|room| question.ask_room(room)),
            }
        }
        question
    }

    pub fn columns(&self) -> Vec<Column> {
        self.columns.iter().map(|asked| asked.column.clone()).collect()
    }

    fn ask_room(&mut self, index: usize) {
        let space = self.case.rooms[index].space;
        let hand = &self.case.design.hand_room;
        let one_row = Needs::same(1);
        let (stacks, piles) = self.ways(space.size(), |pile, kind| {
            let fits = pile.needs().y <= space.size().y + HAIR && space.min.y <= pile.no_higher_than(kind, hand) + HAIR;
            fits.then_some((one_row, None))
        });
        let most_mass = self.case.bears[index].unwrap_or(f64::INFINITY).max(0.0);
        let column = Column {
            width: self.width(space),
            height: 1,
            most_mass,
            bottom_mass: most_mass,
            empty: None,
            most_rows: Some(1),
            cost: 0,
            count: Some(1),
            stacks,
        };
        self.columns.push(Asked { column, piles, place: Place::Room(index) });
    }

    /// A bay as a column, and the pile behind each way to stand in it.
    pub fn bay(&self, bay: &Bay, most_rows: Option<u32>) -> (Column, Vec<Pile>) {
        let hand = &self.case.design.hand_room;
        let (stacks, piles) = self.ways(bay.space.size(), |pile, kind| {
            let low = match bay.up_to(pile.no_higher_than(kind, hand)) {
                Ok(low) => low,
                Err(Nowhere) => return None,
            };
            Some((bay.needs(pile.needs().y)?, low))
        });
        let (shelf, floor) = (bay.shelf.max(0.0), if bay.has_floor { bay.floor.max(0.0) } else { bay.shelf.max(0.0) });
        let column = Column {
            width: self.width(bay.space),
            height: bay.units(),
            most_mass: shelf,
            bottom_mass: floor,
            empty: bay.empty(),
            most_rows,
            cost: 0,
            count: Some(1),
            stacks,
        };
        (column, piles)
    }

    fn width(&self, space: Block) -> u32 {
        ((space.size().x - self.case.design.hand_room.beside.to_mm()) * PER_MM + HAIR).floor().max(0.0) as u32
    }

    /// Every way in which a thing may stand in a space, as `needs` has it: how high its row must be, and how high that may lie.
    fn ways(&self, space: DVec3, needs: impl Fn(&Pile, &BoxKind) -> Option<(Needs, Option<u32>)>) -> (Vec<Way>, Vec<Pile>) {
        let hand = &self.case.design.hand_room;
        let of_kind = |(id, kind): (usize, &BoxKind)| {
            let piles = Stance::of(kind.lies).iter().filter_map(|stance| Pile::largest(kind, hand, *stance, space, HowHigh::AsTheRoom));
            let wanted = kind.wanted();
            let each = piles.flat_map(|largest| {
                let deep = largest.deep.min(self.piles.deep).max(1);
                let high = largest.high.min(wanted.div_ceil(deep)).min(self.piles.high);
                (1..=high).map(move |high| (largest.stance, high, deep))
            });
            each.map(|(stance, high, deep)| Pile::of(kind, hand, stance, high, deep))
                .filter_map(|pile| {
                    let (needs, low) = needs(&pile, kind)?;
                    let way = Way {
                        thing: id as u32,
                        holds: pile.count(),
                        width: ((pile.size.x + pile.beside) * PER_MM - HAIR).ceil().max(1.0) as u32,
                        needs,
                        mass: kind.mass,
                        low,
                    };
                    Some((way, pile))
                })
                .collect::<Vec<_>>()
        };
        self.case.design.contents.iter().enumerate().flat_map(of_kind).unzip()
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
                    let (room, built) = (&self.case.rooms[index], &self.case.model.rooms[index]);
                    let stood = filled.rows.first().map(stands).unwrap_or_default();
                    let tooth = room.shelf.and(self.case.model.bays[room.bay].teeth).map(|teeth| level_at(&teeth, built.space.min.y));
                    let row = self.row(room.bay, tooth, room.space, self.case.bears[index], stood);
                    rows.push(Row { shelf: room.shelf, ..row });
                }
                Place::Bay(index) => {
                    let Some(bay) = &self.case.bays[index] else { continue };
                    let stood: Vec<Level> = filled.rows.iter().map(|row| (bay.level_of(row.base), stands(row))).collect();
                    rows.extend(self.bay_rows(index, bay, stood, asked.column.most_rows));
                }
            }
        }
        rows
    }

    /// The rows of a bay whose shelves moved, those that are left over too.
    fn bay_rows(&self, index: usize, bay: &Bay, mut levels: Vec<Level>, most_rows: Option<u32>) -> Vec<Row> {
        if bay.has_floor && levels.first().is_none_or(|(level, _)| *level > 0) {
            levels.insert(0, (0, Vec::new()));
        }
        let left_over = most_rows.unwrap_or(0).saturating_sub(levels.len() as u32);
        spare::lay(self.case.design, bay, &mut levels, left_over);
        let above: Vec<Option<u32>> = levels.iter().skip(1).map(|(level, _)| Some(*level)).chain([None]).collect();
        levels
            .into_iter()
            .zip(above)
            .map(|((level, stood), next)| {
                let bears = Some(bay.bears(level)).filter(|kg| kg.is_finite());
                self.row(index, (level > 0).then_some(level), bay.room(level, next), bears, stood)
            })
            .collect()
    }

    fn row(&self, bay: usize, tooth: Option<u32>, space: Block, carries: Option<f64>, stood: Vec<Piled>) -> Row {
        let stacks = fill::set_out(space, self.case.design, stood);
        let counted = self.case.model.bays.get(bay).and_then(|bay| bay.teeth).map_or(LevelKind::Tooth, |levels| levels.kind);
        Row { bay, tooth, counted, shelf: None, space, carries, stacks }
    }

    /// The teeth of each bay's shelves: those of the design in their order, the lowest row's tooth for its lowest shelf.
    pub fn teeth(&self, rows: &[Row]) -> Vec<Vec<u32>> {
        let of_bay = |bay: usize| {
            let rooms = self.case.model.rooms.iter().filter(|room| room.bay == bay);
            let mut there: Vec<(usize, f64)> = rooms.filter_map(|room| Some((room.shelf?, room.space.min.y))).collect();
            there.sort_by(|a, b| a.1.total_cmp(&b.1));
            let levels: Vec<u32> = rows.iter().filter(|row| row.bay == bay).filter_map(|row| row.tooth).collect();
            let mut teeth: Vec<(usize, u32)> = there.iter().map(|(shelf, _)| *shelf).zip(levels.iter().copied()).collect();
            teeth.sort_unstable();
            teeth.into_iter().map(|(_, tooth)| tooth).chain(levels.iter().skip(there.len()).copied()).collect()
        };
        (0..self.case.model.bays.len()).map(of_bay).collect()
    }
}

/// What there is to keep, as the solver is asked for it.
pub(in crate::contents) fn things(contents: &[BoxKind]) -> Vec<Thing> {
    contents.iter().enumerate().map(|(id, kind)| Thing { id: id as u32, count: kind.wanted(), worth: 1 }).collect()
}

/// The tooth whose shelf has its upper face at `y`.
fn level_at(teeth: &ShelfLevels, y: f64) -> u32 {
    ((y - teeth.lowest) / teeth.pitch).round().max(0.0) as u32 + 1
}
