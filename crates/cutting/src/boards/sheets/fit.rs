//! Where a piece goes best.

use super::super::dice::Dice;
use super::super::ground::{Ground, Kind, way};
use super::sheet::{NONE, Place, Sheet};

/// The rules of cutting, as far as places depend on them.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rules {
    /// Stages at most, without the last trimming.
    pub stages: u32,
    pub trimming: bool,
    /// The way of the first stage.
    pub first: Option<usize>,
    pub kerf: i64,
}

impl Rules {
    pub fn new(ground: &Ground) -> Self {
        let first = ground.task.first.map(way);
        Self { stages: ground.stages(), trimming: ground.task.trimming, first, kerf: ground.kerf }
    }

    /// Whether there are only so many stages.
    pub fn limited(&self) -> bool {
        self.stages < u32::MAX
    }
}

/// A place, and what it loses: less is better.
#[derive(Clone, Copy, Debug)]
pub(super) struct Fit {
    pub place: Place,
    pub loss: f64,
}

/// The best place for a piece in a free node. Each loss counts for up to a share `chance` more than it is, so that not always the
/// same cuts are made.
pub(super) fn best(ground: &Ground, rules: &Rules, sheet: &Sheet, node: u32, kind: &Kind, chance: f64, dice: &mut Dice) -> Option<Fit> {
    let mut best: Option<Fit> = None;
    let [length, width] = kind.size;
    for (turned, size) in [(false, [length, width]), (true, [width, length])] {
        if turned && !kind.turn {
            break;
        }
        let room = sheet.node(node).size;
        if size[0] > room[0] || size[1] > room[1] {
            continue;
        }
        let board = &ground.boards[sheet.board];
        let mut offer = |skip: [i64; 2]| {
            for way in [0, 1] {
                let place = Place { node, turned, size, skip, way };
                let loss = loss(room, &place) * if chance > 0.0 { 1.0 + chance * dice.share() } else { 1.0 };
                if best.is_none_or(|best| loss < best.loss) && allowed(rules, sheet, room, &place) {
                    best = Some(Fit { place, loss });
                }
            }
        };
        if board.defects.is_empty() {
            offer([0, 0]);
            continue;
        }
        let area = sheet.area_of(node);
        if board.is_clear(area) {
            offer([0, 0]);
        } else {
            for at in board.place(area, size, rules.kerf) {
                offer([at[0] - area.from[0], at[1] - area.from[1]]);
            }
        }
    }
    best
}

/// By how much the sum of the squares of free areas gets less: large rests are worth more than many small ones.
fn loss(room: [i64; 2], place: &Place) -> f64 {
    let (way, other) = (place.way, 1 - place.way);
    let square = |one: i64, two: i64| (one as f64 * two as f64).powi(2);
    let behind = |way: usize| room[way] - place.skip[way] - place.size[way];
    let strips = square(place.skip[way], room[other]) + square(behind(way), room[other]);
    let ends = square(place.skip[other], place.size[way]) + square(behind(other), place.size[way]);
    square(room[0], room[1]) - strips - ends
}

/// Whether the cuts come in stages that there are.
fn allowed(rules: &Rules, sheet: &Sheet, room: [i64; 2], place: &Place) -> bool {
    if !rules.limited() {
        return true;
    }
    let rests = |way: usize| {
        let behind = room[way] - place.skip[way] - place.size[way];
        u32::from(place.skip[way] > 0) + u32::from(behind > 0)
    };
    let parent = sheet.node(place.node).parent;
    let (above, way_above) = if parent == NONE { (0, None) } else { (sheet.stage(parent, rules.first), sheet.way_of(parent)) };
    if above > rules.stages {
        // What a trimming cut left is waste.
        return false;
    }
    let mut stage = above;
    let mut cuts_before = way_above;
    for way in [place.way, 1 - place.way] {
        let rests = rests(way);
        if rests == 0 {
            continue;
        }
        stage = match cuts_before {
            None => Sheet::stage_at_root(Some(way), rules.first),
            Some(before) if before == way => stage,
            Some(_) => stage + 1,
        };
        cuts_before = Some(way);
        let trims = rules.trimming && stage == rules.stages + 1 && rests == 1;
        if stage > rules.stages && !trims {
            return false;
        }
    }
    true
}
