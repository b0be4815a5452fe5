//! Shelves in the hand: where each is taken hold of, and the teeth on which it may be laid.

use bevy::prelude::Vec3;
use casewright_core::contents::tilt::tilts;
use casewright_core::derive::bay_plans;
use casewright_core::length::trimmed_to;
use casewright_core::{Design, Model};

use crate::keeping::Kept;

/// A shelf of the case; both count from 0, in the order of the design.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Shelf {
    /// Which bay.
    pub bay: usize,
    /// Which of its shelves.
    pub shelf: usize,
}

/// The middle of the front edge of every shelf, mm.
pub fn fronts(model: &Model) -> Vec<(Shelf, Vec3)> {
    let of_room = |room: &casewright_core::model::Room| {
        let (low, high) = (room.space.min, room.space.max);
        Some((Shelf { bay: room.bay, shelf: room.shelf? }, Vec3::new(f64::midpoint(low.x, high.x) as f32, low.y as f32, high.z as f32)))
    };
    model.rooms.iter().filter_map(of_room).collect()
}

/// The same of one shelf.
pub fn front(shelf: Shelf, model: &Model) -> Option<Vec3> {
    fronts(model).into_iter().find(|(one, _)| *one == shelf).map(|(_, at)| at)
}

/// Where a shelf may be laid.
#[derive(Clone, Debug, PartialEq)]
pub struct Free {
    /// The decision that lays it.
    pub path: String,
    /// Its tooth now.
    pub tooth: u32,
    /// Every tooth that the other shelves of its bay leave free, each with the height of the shelf that lies there, mm.
    pub teeth: Vec<(u32, f64)>,
}

/// Where a shelf may be laid.
pub fn teeth_for(shelf: Shelf, design: &Design, model: &Model) -> Option<Free> {
    let levels = model.bays.get(shelf.bay)?.teeth?;
    let plan = bay_plans(design).ok()?.into_iter().nth(shelf.bay)?;
    let shelves = plan.fitting.shelves()?;
    let tooth = *shelves.shelves.get(shelf.shelf)?;
    // A shelf and what holds it must go between two shelves.
    let least = levels.steps(0.0);
    let others: Vec<u32> = shelves.shelves.iter().enumerate().filter(|(index, _)| *index != shelf.shelf).map(|(_, tooth)| *tooth).collect();
    let free = (1..=levels.count).filter(|one| *one == tooth || others.iter().all(|other| other.abs_diff(*one) >= least));
    let path = format!("{}.shelves.{}", plan.path, shelf.shelf + 1);
    Some(Free { path, tooth, teeth: free.map(|one| (one, levels.top(one))).collect() })
}

/// What is told of a shelf in the hand: its tooth, hole or level, the height over and under it, what stands on it, and whether it comes out there; a line for
/// each.
pub fn told(shelf: Shelf, model: &Model, kept: Option<&Kept>) -> Option<String> {
    let of_bay = || model.rooms.iter().filter(|room| room.bay == shelf.bay);
    let room = of_bay().find(|room| room.shelf == Some(shelf.shelf))?;
    let below = of_bay().filter(|other| other.space.max.y <= room.space.min.y).max_by(|a, b| a.space.min.y.total_cmp(&b.space.min.y));
    let levels = model.bays.get(shelf.bay)?.teeth?;
    let level = ((room.space.min.y - levels.lowest) / levels.pitch).round() as i64 + 1;
    let height = |room: &casewright_core::model::Room| trimmed_to(room.space.size().y, 0);
    let under = below.map_or_else(String::new, |below| format!(", {} under it", height(below)));
    let row = kept.and_then(|kept| kept.stay.rows.iter().find(|row| row.bay == shelf.bay && row.tooth.map(i64::from) == Some(level)));
    let bears = row.map_or_else(String::new, |row| {
        let of = row.carries.map_or_else(String::new, |kg| format!(" of {}", trimmed_to(kg, 0)));
        format!("\n{}{of} kg", trimmed_to(row.kg(), 0))
    });
    let tilt = tilts(model).into_iter().find(|tilt| (tilt.bay, tilt.shelf) == (shelf.bay, shelf.shelf));
    let comes_out = tilt.map_or_else(String::new, |tilt| format!("\n{}", tilt.words()));
    Some(format!("{} {level}: {} over it{under}{bears}{comes_out}", levels.kind.words().0, height(room)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_shelf_may_lie_on_any_tooth_but_those_of_its_neighbours() {
        let design = crate::demo();
        let model = casewright_core::derive(&design).expect("the demo");
        assert_eq!(fronts(&model).len(), 10);
        let Free { path, tooth, teeth } = teeth_for(Shelf { bay: 0, shelf: 1 }, &design, &model).expect("a shelf");
        assert_eq!((path.as_str(), tooth), ("interior.bays.1.opening.shelves.2", 22));
        let free: Vec<u32> = teeth.iter().map(|(tooth, _)| *tooth).collect();
        assert!(free.contains(&22) && free.contains(&1) && !free.contains(&12) && !free.contains(&13) && !free.contains(&32), "{free:?}");
        let at = teeth.iter().find(|(tooth, _)| *tooth == 22).expect("its own").1;
        assert!((at - f64::from(front(Shelf { bay: 0, shelf: 1 }, &model).expect("a shelf").y)).abs() < 1e-3);
        let told = told(Shelf { bay: 0, shelf: 1 }, &model, None).expect("told");
        assert!(told.starts_with("tooth 22: ") && told.contains(" under it") && told.contains("\ntilts out at "), "{told}");
    }
}
