//! Changes to a design that add or take away, as against setting a value.

use super::{Bay, BaySize, BoxKind, Design, Dimension, Fitting, Opening, Override, Shelves};
use crate::contents::common_boxes;
use crate::length::Length;

/// A change to the lists of a design. Numbers count from 0; one that is out of reach changes nothing.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// Adds a bay to the right of all, as wide a share as the rest leaves.
    AddBay,
    /// Takes a bay away; the last one stays.
    RemoveBay(usize),
    /// Makes a bay take a share of the width (true) or so much clear width (false).
    ShareBay {
        /// Which bay.
        bay: usize,
        /// Whether it takes a share.
        share: bool,
        /// Its clear width now, mm.
        clear: f64,
    },
    /// Adds a shelf to a bay, above the highest one.
    AddShelf(usize),
    /// Takes a shelf out of a bay.
    RemoveShelf {
        /// Which bay.
        bay: usize,
        /// Which of its shelves.
        shelf: usize,
    },
    /// Adds a kind of box: one of [`common_boxes`] by its id, or one to be measured.
    AddBox(Option<&'static str>),
    /// Takes a kind of box off the list.
    RemoveBox(usize),
    /// Goes back to the rules for one size of one part.
    RemoveOverride(usize),
}

/// Teeth between a new shelf and the one below it.
const NEW_SHELF_STEP: u32 = 8;

/// The design after `edit`.
pub fn apply(design: &mut Design, edit: &Edit) {
    match *edit {
        Edit::AddBay => add_bay(design),
        Edit::RemoveBay(bay) => {
            if let Opening::Split(split) = &mut design.interior
                && split.bays.len() > 1
                && bay < split.bays.len()
            {
                split.bays.remove(bay);
            }
        }
        Edit::ShareBay { bay, share, clear } => {
            if let Opening::Split(split) = &mut design.interior
                && let Some(bay) = split.bays.get_mut(bay)
            {
                bay.size = if share { BaySize::Share(1.0) } else { BaySize::Clear(Length::mm(clear)) };
            }
        }
        Edit::AddShelf(bay) => {
            if let Some(shelves) = shelves_of(design, bay) {
                let next = shelves.iter().max().map_or(NEW_SHELF_STEP, |top| top.saturating_add(NEW_SHELF_STEP));
                shelves.push(next);
            }
        }
        Edit::RemoveShelf { bay, shelf } => {
            if let Some(shelves) = shelves_of(design, bay)
                && shelf < shelves.len()
            {
                shelves.remove(shelf);
            }
        }
        Edit::AddBox(id) => {
            let number = design.contents.len() + 1;
            design.contents.push(new_box(id, number));
        }
        Edit::RemoveBox(index) => remove(&mut design.contents, index),
        Edit::RemoveOverride(index) => remove(&mut design.overrides, index),
    }
}

fn new_box(id: Option<&str>, number: usize) -> BoxKind {
    let common = id.and_then(|id| common_boxes().iter().find(|common| common.id == id));
    let (name, width, depth, height, mass) = common.map_or_else(
        || (format!("Box {number}"), 330.0, 250.0, 250.0, 8.0),
        |common| (common.name.clone(), common.width_mm, common.depth_mm, common.height_mm, common.mass_kg),
    );
    BoxKind { name, width: Length::mm(width), depth: Length::mm(depth), height: Length::mm(height), mass, count: 1 }
}

fn remove<T>(list: &mut Vec<T>, index: usize) {
    if index < list.len() {
        list.remove(index);
    }
}

fn add_bay(design: &mut Design) {
    if let Opening::Split(split) = &mut design.interior {
        split
            .bays
            .push(Bay { size: BaySize::Share(1.0), opening: Opening::Leaf(Fitting::Sawtooth(Shelves { shelves: vec![NEW_SHELF_STEP] })) });
    }
}

/// The shelves of a bay, counted from the left through all openings.
fn shelves_of(design: &mut Design, bay: usize) -> Option<&mut Vec<u32>> {
    fn leaves<'a>(opening: &'a mut Opening, found: &mut Vec<&'a mut Fitting>) {
        match opening {
            Opening::Leaf(fitting) => found.push(fitting),
            Opening::Split(split) => split.bays.iter_mut().for_each(|bay| leaves(&mut bay.opening, found)),
        }
    }
    let mut found = Vec::new();
    leaves(&mut design.interior, &mut found);
    match found.into_iter().nth(bay)? {
        Fitting::Sawtooth(fitting) => Some(&mut fitting.shelves),
        Fitting::Empty => None,
    }
}

/// Sets, or with `None` takes back, a size of one part against the rules.
pub fn override_part(design: &mut Design, part: &str, of: Dimension, value: Option<Length>) {
    design.overrides.retain(|own| !(own.part == part && own.of == of));
    if let Some(value) = value {
        design.overrides.push(Override { part: part.to_owned(), of, value });
    }
}
