//! Changes to a design that add or take away, as against setting a value.

use super::dealer::Offer;
use super::pile::{Flaw, Stuff};
use super::{Bay, BaySize, BoxKind, Design, Dimension, Fitting, Opening, Override, Shelves, System};
use crate::contents::{Weight, common_boxes};
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
    /// Adds a kind of box: one of [`common_boxes`] by its id and as heavy as is said, or one to be measured.
    AddBox(Option<(&'static str, Weight)>),
    /// Adds kinds of boxes that were read from a table.
    AddBoxes(Vec<BoxKind>),
    /// Lays the shelves of every bay on these teeth, in the order of the design; where there are more teeth than shelves,
    /// more come, and where there are fewer, the last ones are put away.
    LayShelves(Vec<Vec<u32>>),
    /// Takes a kind of box off the list.
    RemoveBox(usize),
    /// Adds boards and sheets to what is on hand.
    AddStuff(Vec<Stuff>),
    /// Takes an entry out of what is on hand.
    RemoveStuff(usize),
    /// Has this on hand in place of what there was: what was bought has come.
    HaveStuff(Vec<Stuff>),
    /// Adds offers to the dealer's list.
    AddOffers(Vec<Offer>),
    /// Takes an offer off the dealer's list.
    RemoveOffer(usize),
    /// Marks a flaw on an entry of what is on hand.
    AddFlaw {
        /// Which entry.
        entry: usize,
        /// Where no part may lie.
        flaw: Flaw,
    },
    /// Takes a flaw off an entry of what is on hand.
    RemoveFlaw {
        /// Which entry.
        entry: usize,
        /// Which of its flaws.
        flaw: usize,
    },
    /// Goes back to the rules for one size of one part.
    RemoveOverride(usize),
}

/// Teeth between a new shelf and the one below it.
const NEW_SHELF_STEP: u32 = 8;
/// The highest tooth that a design may name.
pub(crate) const HIGHEST_TOOTH: u32 = 400;

/// The design after `edit`.
pub fn apply(design: &mut Design, edit: &Edit) {
    match edit {
        Edit::AddBay => add_bay(design),
        Edit::RemoveBay(bay) => remove_bay(design, *bay),
        Edit::ShareBay { bay, share, clear } => {
            if let Opening::Split(split) = &mut design.interior
                && let Some(bay) = split.bays.get_mut(*bay)
            {
                bay.size = if *share { BaySize::Share(1.0) } else { BaySize::Clear(Length::mm(*clear)) };
            }
        }
        Edit::AddShelf(bay) => {
            if let Some(shelves) = shelves_of(design, *bay) {
                let next = shelves.iter().max().map_or(NEW_SHELF_STEP, |top| top.saturating_add(NEW_SHELF_STEP));
                // A tooth in range, though it may be above the last one: the checks then offer a free one.
                shelves.push(next.min(HIGHEST_TOOTH));
            }
        }
        Edit::RemoveShelf { bay, shelf } => {
            if let Some(shelves) = shelves_of(design, *bay)
                && *shelf < shelves.len()
            {
                shelves.remove(*shelf);
                keep_names(design, |part| renumber(part, &SHELF_PARTS, 2, *shelf, Some((1, *bay))));
            }
        }
        Edit::AddBox(id) => {
            let number = design.contents.len() + 1;
            design.contents.push(new_box(*id, number));
        }
        Edit::AddBoxes(kinds) => design.contents.extend(kinds.iter().cloned()),
        Edit::LayShelves(teeth) => {
            for (bay, teeth) in teeth.iter().enumerate() {
                lay_shelves(design, bay, teeth);
            }
        }
        Edit::RemoveBox(index) => remove(&mut design.contents, *index),
        Edit::AddStuff(stuff) => design.shop.pile.extend(stuff.iter().cloned()),
        Edit::RemoveStuff(entry) => remove(&mut design.shop.pile, *entry),
        Edit::HaveStuff(stuff) => design.shop.pile.clone_from(stuff),
        Edit::AddOffers(offers) => design.shop.dealer.extend(offers.iter().cloned()),
        Edit::RemoveOffer(offer) => remove(&mut design.shop.dealer, *offer),
        Edit::AddFlaw { entry, flaw } => {
            if let Some(stuff) = design.shop.pile.get_mut(*entry) {
                stuff.flaws.push(flaw.clone());
            }
        }
        Edit::RemoveFlaw { entry, flaw } => {
            if let Some(stuff) = design.shop.pile.get_mut(*entry) {
                remove(&mut stuff.flaws, *flaw);
            }
        }
        Edit::RemoveOverride(index) => remove(&mut design.overrides, *index),
    }
}

fn new_box(of: Option<(&str, Weight)>, number: usize) -> BoxKind {
    let common = of.and_then(|(id, weight)| Some((common_boxes().iter().find(|common| common.id == id)?, weight)));
    let (name, width, depth, height, mass) = common.map_or_else(
        || (format!("Box {number}"), 330.0, 250.0, 250.0, 8.0),
        |(common, weight)| (common.name.clone(), common.width_mm, common.depth_mm, common.height_mm, common.mass(weight)),
    );
    BoxKind::new(name, [width, depth, height], mass, 1)
}

fn remove<T>(list: &mut Vec<T>, index: usize) {
    if index < list.len() {
        list.remove(index);
    }
}

fn add_bay(design: &mut Design) {
    if let Opening::Split(split) = &mut design.interior {
        share_one(&mut split.bays);
        // Its shelves are held as those of the bay beside it.
        let system = split.bays.iter().rev().find_map(|bay| bay.opening.system()).unwrap_or(System::Sawtooth);
        let fitting = Fitting::of(Some(system), Shelves { shelves: vec![NEW_SHELF_STEP] });
        split.bays.push(Bay { size: BaySize::Share(1.0), opening: Opening::Leaf(fitting) });
    }
}

fn remove_bay(design: &mut Design, bay: usize) {
    let Opening::Split(split) = &mut design.interior else { return };
    if split.bays.len() < 2 || bay >= split.bays.len() {
        return;
    }
    split.bays.remove(bay);
    share_one(&mut split.bays);
    // The divider to its right goes with it; with the last bay, the one to its left.
    let divider = bay.min(split.bays.len() - 1);
    keep_names(design, |part| {
        renumber(part, &BAY_PARTS, 1, bay, None)
            && renumber(part, &DIVIDER_PARTS, 1, divider, None)
            && renumber(part, &["panel.back."], 2, bay, None)
    });
}

/// Lays the shelves of a bay on these teeth; those for which there is none are put away, and more come where there are more teeth.
pub(crate) fn lay_shelves(design: &mut Design, bay: usize, teeth: &[u32]) {
    let Some(shelves) = shelves_of(design, bay) else { return };
    let gone = teeth.len()..shelves.len();
    *shelves = teeth.to_vec();
    for shelf in gone.rev() {
        keep_names(design, |part| renumber(part, &SHELF_PARTS, 2, shelf, Some((1, bay))));
    }
}

/// Keeps what is said of single parts with those parts: `keep` gives a part its new name, or says that it is gone.
fn keep_names(design: &mut Design, keep: impl Fn(&mut String) -> bool) {
    design.overrides.retain_mut(|own| keep(&mut own.part));
    design.shop.parts.retain_mut(|record| keep(&mut record.part));
}

/// Makes the last bay take a share where none does: something must give when the case or a bay changes.
fn share_one(bays: &mut [Bay]) {
    if bays.iter().all(|bay| matches!(bay.size, BaySize::Clear(_)))
        && let Some(last) = bays.last_mut()
    {
        last.size = BaySize::Share(1.0);
    }
}

/// Parts whose names count bays, dividers, or the shelves of a bay.
const BAY_PARTS: [&str; 8] = ["floor.", "bearer.", "standard.", "spacer.", "cleat.", "slat.", "shelf.", "pin."];
const DIVIDER_PARTS: [&str; 3] = ["stile.", "muntin.", "cross_rail."];
const SHELF_PARTS: [&str; 4] = ["cleat.", "slat.", "shelf.", "pin."];

/// After the thing numbered `removed` (from 0) is gone: false for a part of its own, and one less in the names of
/// those that followed. `within` limits this to names that hold another number at another place.
fn renumber(part: &mut String, kinds: &[&str], at: usize, removed: usize, within: Option<(usize, usize)>) -> bool {
    if !kinds.iter().any(|kind| part.starts_with(kind)) {
        return true;
    }
    let mut words: Vec<String> = part.split('.').map(str::to_owned).collect();
    let number = |at: usize| words.get(at).and_then(|word| word.parse::<usize>().ok());
    if within.is_some_and(|(at, wanted)| number(at) != Some(wanted + 1)) {
        return true;
    }
    let Some(found) = number(at) else { return true };
    if found > removed + 1 {
        words[at] = (found - 1).to_string();
        *part = words.join(".");
    }
    found != removed + 1
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
    found.into_iter().nth(bay)?.shelves_mut().map(|shelves| &mut shelves.shelves)
}

/// Sets, or with `None` takes back, a size of one part against the rules.
pub fn override_part(design: &mut Design, part: &str, of: Dimension, value: Option<Length>) {
    design.overrides.retain(|own| !(own.part == part && own.of == of));
    if let Some(value) = value {
        design.overrides.push(Override { part: part.to_owned(), of, value });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn demo() -> Design {
        crate::design::text::read(include_str!("../../../../examples/records_cabinet.ron")).expect("the demo")
    }

    fn own(design: &Design) -> Vec<&str> {
        design.overrides.iter().map(|own| own.part.as_str()).collect()
    }

    #[test]
    fn sizes_of_ones_own_stay_with_their_parts_when_a_bay_goes() {
        let mut design = demo();
        for part in ["rail.front.top", "stile.1", "stile.2", "slat.1.1.1", "slat.3.2.3", "panel.back.2", "panel.back.3"] {
            override_part(&mut design, part, Dimension::Length, Some(Length::mm(500.0)));
        }
        apply(&mut design, &Edit::RemoveBay(1));
        assert_eq!(own(&design), ["rail.front.top", "stile.1", "slat.1.1.1", "slat.2.2.3", "panel.back.2"]);
    }

    #[test]
    fn a_dealers_list_stays_with_the_design() {
        let mut design = demo();
        let bare = crate::table::Bare::Mm;
        let offers = super::super::dealer::read(include_str!("../../../../examples/dealer.csv"), bare).rows;
        apply(&mut design, &Edit::AddOffers(offers.clone()));
        let again =
            crate::design::text::read(&crate::design::text::write(&design).expect("written")).expect("what was written can be read");
        assert_eq!(again.shop.dealer, offers);
        // A price below nothing is told where it is bought by, and keeps no case from being built.
        design.shop.dealer[0].price = -1.0;
        assert!(crate::derive(&design).is_ok());
        apply(&mut design, &Edit::RemoveOffer(0));
        assert_eq!(design.shop.dealer, offers[1..]);
        let pile = vec![offers[1].stuff(3)];
        apply(&mut design, &Edit::HaveStuff(pile.clone()));
        assert_eq!(design.shop.pile, pile);
    }

    #[test]
    fn flaws_are_marked_on_a_board_and_taken_off_it() {
        let mut design = demo();
        let pile = super::super::pile::read(include_str!("../../../../examples/pile.csv"), crate::table::Bare::Mm).rows;
        apply(&mut design, &Edit::AddStuff(pile.clone()));
        assert_eq!(design.shop.pile, pile);
        let flaw = Flaw {
            x: Length::mm(200.0),
            y: Length::mm(30.0),
            length: Length::mm(60.0),
            width: Length::mm(50.0),
            what: "knot".to_owned(),
            hides: false,
        };
        apply(&mut design, &Edit::AddFlaw { entry: 1, flaw: flaw.clone() });
        assert_eq!(design.shop.pile[1].flaws.last(), Some(&flaw));
        let last = design.shop.pile[1].flaws.len() - 1;
        apply(&mut design, &Edit::RemoveFlaw { entry: 1, flaw: last });
        apply(&mut design, &Edit::RemoveFlaw { entry: 99, flaw: 0 });
        assert_eq!(design.shop.pile, pile);
        apply(&mut design, &Edit::RemoveStuff(0));
        assert_eq!(design.shop.pile, pile[1..]);
    }

    #[test]
    fn sizes_of_ones_own_stay_with_their_parts_when_a_shelf_goes() {
        let mut design = demo();
        for part in ["cleat.1.1.left", "cleat.1.2.left", "cleat.1.3.left", "cleat.2.3.left"] {
            override_part(&mut design, part, Dimension::Width, Some(Length::mm(30.0)));
        }
        apply(&mut design, &Edit::RemoveShelf { bay: 0, shelf: 1 });
        assert_eq!(own(&design), ["cleat.1.1.left", "cleat.1.2.left", "cleat.2.3.left"]);
    }

    #[test]
    fn shelves_are_laid_on_teeth_and_what_is_said_of_one_put_away_goes_with_it() {
        let mut design = demo();
        for part in ["cleat.1.1.left", "cleat.1.3.left", "cleat.3.4.left"] {
            override_part(&mut design, part, Dimension::Width, Some(Length::mm(30.0)));
        }
        apply(&mut design, &Edit::LayShelves(vec![vec![5, 15], vec![8, 18, 28], vec![4, 9, 15, 21, 31]]));
        assert_eq!(shelves_of(&mut design, 0), Some(&mut vec![5, 15]));
        assert_eq!(shelves_of(&mut design, 2), Some(&mut vec![4, 9, 15, 21, 31]));
        assert_eq!(own(&design), ["cleat.1.1.left", "cleat.3.4.left"]);
    }

    #[test]
    fn bays_come_and_go_and_the_case_still_derives() {
        let mut design = demo();
        for _ in 0..3 {
            let last = design_bays(&design) - 1;
            apply(&mut design, &Edit::RemoveBay(last));
            assert!(crate::derive(&design).is_ok());
        }
        assert_eq!(design_bays(&design), 1);
        apply(&mut design, &Edit::AddBay);
        assert!(crate::derive(&design).is_ok());
    }

    fn design_bays(design: &Design) -> usize {
        match &design.interior {
            Opening::Split(split) => split.bays.len(),
            Opening::Leaf(_) => 1,
        }
    }
}
