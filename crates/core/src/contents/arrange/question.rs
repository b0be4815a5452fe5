//! The case and what it must hold, as the solver of rows in columns is asked.
//!
//! A bay whose shelves may move is a column of as many units as it has teeth: a row takes the teeth from its own shelf to the next. A shelf
//! that stays is a column of one row.

use casewright_cutting::columns::{Column, Needs, Placement, Stack as Way, Thing};
use glam::DVec3;

use super::blend::{Blend, Stood};
use super::case::{Bay, Case, Nowhere};
use super::{Row, ShelvesMay, spare};
use crate::contents::fill::{self, Piled};
use crate::contents::{HowHigh, Pile, Stance};
use crate::design::{BoxKind, Design};
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
    /// Stacks of two kinds, each of which is asked for as one thing; their numbers follow those of the kinds.
    blends: &'a [Blend],
    pub things: Vec<Thing>,
    columns: Vec<Asked>,
    /// What is taken of each room; nothing where there is no more than so many.
    taken: &'a [Taken],
}

/// What lies on a level of a bay, by its tooth, 0 for the floor.
pub(super) type Level = (u32, Vec<Piled>);

/// A column of the question, and what it stands for.
struct Asked {
    column: Column,
    /// What stands in each way to stand.
    stands: Vec<Stands>,
    place: Place,
}

/// What stands in one way to stand.
#[derive(Clone, Copy)]
pub(in crate::contents) enum Stands {
    /// Things of one kind.
    One(Pile),
    /// A stack of two.
    Two(Stood),
}

/// What of a row is taken already.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Taken {
    /// Of its width, with what must stay free beside each, mm.
    pub wide: f64,
    /// Of what it bears, kg.
    pub kg: f64,
}

impl Taken {
    pub fn of(stood: &[Piled], design: &Design) -> Taken {
        let on_shelf = stood.iter().filter(|piled| piled.on.is_none());
        let mass = |piled: &Piled| design.contents.get(piled.kind).map_or(0.0, |kind| kind.mass * f64::from(piled.count));
        Taken { wide: on_shelf.map(|piled| piled.pile.size.x + piled.pile.beside).sum(), kg: stood.iter().map(mass).sum() }
    }
}

/// A way to stand as it is asked for in some space, before that says how high its row must be.
struct Asks {
    thing: usize,
    holds: u32,
    wide: f64,
    needs: DVec3,
    no_higher: f64,
    kg: f64,
    stands: Stands,
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
    pub fn of(case: &'a Case<'a>, shelves: ShelvesMay, piles: Piles, blends: &'a [Blend]) -> Question<'a> {
        let mut things = things(&case.design.contents);
        for (kind, thing) in things.iter_mut().enumerate() {
            thing.count -= blends.iter().map(|blend| blend.takes(kind)).sum::<u32>().min(thing.count);
        }
        let kinds = things.len();
        let of_blend = |(index, blend): (usize, &Blend)| Thing { id: (kinds + index) as u32, count: blend.count, worth: blend.things() };
        things.extend(blends.iter().enumerate().map(of_blend));
        let question = Question { case, piles, blends, things, columns: Vec::new(), taken: &[] };
        question.asked(shelves)
    }

    /// The same with the shelves as they lie, beside what stands there: so much of each room is taken, by so many of each kind.
    pub(super) fn beside(case: &'a Case<'a>, piles: Piles, taken: &'a [Taken], stand: &[u32]) -> Question<'a> {
        let mut things = things(&case.design.contents);
        for (thing, stand) in things.iter_mut().zip(stand) {
            thing.count -= (*stand).min(thing.count);
        }
        Question { case, piles, blends: &[], things, columns: Vec::new(), taken }.asked(ShelvesMay::Stay)
    }

    fn asked(mut self, shelves: ShelvesMay) -> Question<'a> {
        let (case, question) = (self.case, &mut self);
        for (index, bay) in case.bays.iter().enumerate() {
            match bay {
                Some(bay) => {
                    let most_rows = (shelves == ShelvesMay::Move).then_some(bay.shelves + u32::from(bay.has_floor));
                    let (column, stands) = question.bay(bay, most_rows);
                    question.columns.push(Asked { column, stands, place: Place::Bay(index) });
                }
                None => (0..case.rooms.len()).filter(|room| case.rooms[*room].bay == index).for_each(|room| question.ask_room(room)),
            }
        }
        self
    }

    pub fn columns(&self) -> Vec<Column> {
        self.columns.iter().map(|asked| asked.column.clone()).collect()
    }

    fn ask_room(&mut self, index: usize) {
        let space = self.case.rooms[index].space;
        let one_row = Needs::same(1);
        let (stacks, stands) = self.ways(space.size(), |high, no_higher| {
            let fits = high <= space.size().y + HAIR && space.min.y <= no_higher + HAIR;
            fits.then_some((one_row, None))
        });
        let taken = self.taken.get(index).copied().unwrap_or_default();
        let most_mass = (self.case.bears[index].unwrap_or(f64::INFINITY) - taken.kg).max(0.0);
        let column = Column {
            width: self.width(space).saturating_sub((taken.wide * PER_MM - HAIR).ceil().max(0.0) as u32),
            height: 1,
            most_mass,
            bottom_mass: most_mass,
            empty: None,
            most_rows: Some(1),
            cost: 0,
            count: Some(1),
            stacks,
        };
        self.columns.push(Asked { column, stands, place: Place::Room(index) });
    }

    /// A bay as a column, and what stands in each way to stand in it.
    pub fn bay(&self, bay: &Bay, most_rows: Option<u32>) -> (Column, Vec<Stands>) {
        let (stacks, stands) = self.ways(bay.space.size(), |high, no_higher| {
            let low = match bay.up_to(no_higher) {
                Ok(low) => low,
                Err(Nowhere) => return None,
            };
            Some((bay.needs(high)?, low))
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
        (column, stands)
    }

    fn blend(&self, thing: u32) -> Option<&Blend> {
        self.blends.get((thing as usize).checked_sub(self.case.design.contents.len())?)
    }

    fn width(&self, space: Block) -> u32 {
        ((space.size().x - self.case.design.hand_room.beside.to_mm()) * PER_MM + HAIR).floor().max(0.0) as u32
    }

    /// Every way in which a thing may stand in a space. Of how high it is with what must stay free over it, and how high over the floor it may stand, `needs`
    /// tells how high its row must be and how high that may lie.
    fn ways(&self, space: DVec3, needs: impl Fn(f64, f64) -> Option<(Needs, Option<u32>)>) -> (Vec<Way>, Vec<Stands>) {
        let of_kinds = self.case.design.contents.iter().enumerate().flat_map(|(id, kind)| self.ways_of_kind(id, kind, space));
        let of_blends = self.blends.iter().enumerate().flat_map(|(index, blend)| self.ways_of_blend(index, blend, space));
        of_kinds
            .chain(of_blends)
            .filter_map(|asks| {
                let (needs, low) = needs(asks.needs.y, asks.no_higher)?;
                let width = (asks.wide * PER_MM - HAIR).ceil().max(1.0) as u32;
                Some((Way { thing: asks.thing as u32, holds: asks.holds, width, needs, mass: asks.kg, low }, asks.stands))
            })
            .unzip()
    }

    fn ways_of_kind(&self, id: usize, kind: &BoxKind, space: DVec3) -> Vec<Asks> {
        let hand = &self.case.design.hand_room;
        let largest = Stance::of(kind.lies).iter().filter_map(|stance| Pile::largest(kind, hand, *stance, space, HowHigh::AsTheRoom));
        let wanted = kind.wanted();
        let piles = largest.flat_map(|largest| {
            let deep = largest.deep.min(self.piles.deep).max(1);
            let high = largest.high.min(wanted.div_ceil(deep)).min(self.piles.high);
            (1..=high).map(move |high| Pile::of(kind, hand, largest.stance, high, deep))
        });
        let asks = |pile: Pile| Asks {
            thing: id,
            holds: pile.count(),
            wide: pile.size.x + pile.beside,
            needs: pile.needs(),
            no_higher: pile.no_higher_than(kind, hand),
            kg: kind.mass,
            stands: Stands::One(pile),
        };
        piles.map(asks).collect()
    }

    fn ways_of_blend(&self, index: usize, blend: &Blend, space: DVec3) -> Vec<Asks> {
        let Design { contents, hand_room: hand, .. } = self.case.design;
        let fits = |needs: DVec3| needs.cmple(space + HAIR).all();
        let asks = |stood: Stood| Asks {
            thing: contents.len() + index,
            holds: 1,
            wide: stood.wide(),
            needs: stood.needs(),
            no_higher: blend.no_higher_than(&stood, contents, hand),
            kg: blend.kg(contents),
            stands: Stands::Two(stood),
        };
        blend.ways(contents, hand).into_iter().map(asks).filter(|asks| fits(asks.needs)).collect()
    }

    /// What the answer means: every shelf and floor, those without anything too.
    pub fn rows(&self, placement: &Placement) -> Vec<Row> {
        let mut rows = Vec::new();
        for (asked, filled) in self.columns.iter().zip(&placement.columns) {
            let stands = |row: &casewright_cutting::columns::Row| -> Vec<Piled> {
                row.stacks
                    .iter()
                    .flat_map(|stood| match asked.stands[stood.stack] {
                        Stands::One(pile) => vec![Piled::on_shelf(stood.thing as usize, stood.count, pile)],
                        Stands::Two(two) => self.blend(stood.thing).map_or_else(Vec::new, |blend| blend.piled(&two).to_vec()),
                    })
                    .collect()
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
