//! What is on hand once a cutting is made: boards that were not touched, and what is left of the others where it is worth keeping.

use super::around::{Area, left_by};
use super::rack::{Rack, Usable, area_of, racks};
use super::{Cutting, Marked};
use crate::design::Design;
use crate::design::pile::{Flaw, Stuff};
use crate::length::Length;
use crate::model::Model;

/// What is left of a board beside its pieces.
#[derive(Clone, Debug, PartialEq)]
pub struct Offcut {
    /// Which entry of the pile the board is, counted from 0.
    pub entry: usize,
    /// Which of those alike, counted from 1.
    pub number: usize,
    /// Where it begins along and across the board, mm.
    pub from: [f64; 2],
    /// How long and wide it is, mm.
    pub size: [f64; 2],
    /// Whether it is long and wide enough to keep.
    pub useful: bool,
}

/// What is left of every board that is cut, as its cuts leave it.
pub fn offcuts(design: &Design, model: &Model, cutting: &Cutting) -> Vec<Offcut> {
    let (racks, _) = racks(design, model);
    cutting.boards.iter().flat_map(|board| of_board(design, &racks, board)).collect()
}

fn of_board(design: &Design, racks: &[Rack<'_>], board: &Marked) -> Vec<Offcut> {
    let Some(usable) = racks.iter().find_map(|rack| rack.entry(board.entry)) else { return Vec::new() };
    let rules = &design.timber.rough;
    let keep = [rules.keep_length.to_mm(), rules.keep_width.to_mm()];
    let pieces: Vec<Area> = board.pieces.iter().map(|piece| Area::new([piece.x, piece.y], [piece.length, piece.width])).collect();
    let whole = pieces.iter().fold(usable.area, |all, piece| all.with(piece));
    let left = left_by(whole, &board.cuts, design.timber.kerfs(usable.is_sheet));
    let free = left.into_iter().filter(|area| !pieces.iter().any(|piece| piece.common(area).is_some()));
    let offcut = |area: Area| Offcut {
        entry: board.entry,
        number: board.number,
        from: area.from,
        size: area.size(),
        useful: area.size().iter().zip(keep).all(|(size, least)| *size >= least),
    };
    free.map(offcut).collect()
}

/// The pile as it is once a cutting is made: what is not touched stays as it is, and what is worth keeping of the rest comes behind it, under names of its own
/// and paid for.
pub fn remaining(design: &Design, model: &Model, cutting: &Cutting) -> Vec<Stuff> {
    remaining_but(design, model, cutting, None)
}

/// The same, but for what is left of one board, by its entry and number.
pub(super) fn remaining_but(design: &Design, model: &Model, cutting: &Cutting, bad: Option<(usize, usize)>) -> Vec<Stuff> {
    let (racks, _) = racks(design, model);
    let (mut pile, mut kept): (Vec<Stuff>, Vec<Stuff>) = (Vec::new(), Vec::new());
    for (entry, stuff) in design.shop.pile.iter().enumerate() {
        let cut: Vec<&Marked> = cutting.boards.iter().filter(|board| board.entry == entry).collect();
        let leaves = (stuff.leaves as usize).max(1);
        let mut sawn: Vec<usize> = cut.iter().map(|board| (board.number.max(1) - 1) / leaves).collect();
        sawn.sort_unstable();
        sawn.dedup();
        let whole = (stuff.count as usize).saturating_sub(sawn.len());
        if whole > 0 {
            pile.push(Stuff { count: u32::try_from(whole).unwrap_or(u32::MAX), ..stuff.clone() });
        }
        let spare = (sawn.len() * leaves).saturating_sub(cut.len());
        if spare > 0 {
            let name = format!("{} leaf", stuff.name);
            let usable = racks.iter().find_map(|rack| rack.entry(entry));
            let leaf = usable.map(|usable| Stuff {
                name,
                count: u32::try_from(spare).unwrap_or(u32::MAX),
                price: 0.0,
                paid: true,
                ..leaf(usable)
            });
            kept.extend(leaf);
        }
        for board in cut.into_iter().filter(|board| bad != Some((board.entry, board.number))) {
            let Some(usable) = racks.iter().find_map(|rack| rack.entry(entry)) else { continue };
            let useful = of_board(design, &racks, board).into_iter().filter(|offcut| offcut.useful);
            kept.extend(useful.enumerate().map(|(at, offcut)| keep(usable, board, at + 1, &offcut)));
        }
    }
    for mut stuff in kept {
        while pile.iter().any(|other| other.name == stuff.name) {
            stuff.name.push('\'');
        }
        pile.push(stuff);
    }
    pile
}

/// One of the leaves of what is resawn: planed, sawn and flattened again; what is not resawn as it is.
fn leaf(usable: &Usable<'_>) -> Stuff {
    let stuff = usable.stuff;
    if stuff.leaves <= 1 {
        return Stuff { count: 1, ..stuff.clone() };
    }
    let thickness = Length::mm((usable.leaf() * 100.0).round() / 100.0);
    Stuff { thickness, planed: true, leaves: 1, count: 1, ..stuff.clone() }
}

/// An offcut as it lies in the rack, with the flaws that are on it.
fn keep(usable: &Usable<'_>, board: &Marked, nth: usize, offcut: &Offcut) -> Stuff {
    let stuff = usable.stuff;
    let area = Area::new(offcut.from, offcut.size);
    let flaw = |flaw: &Flaw| {
        let on_it = area_of(flaw).common(&area)?;
        // To the tenth, never smaller than it is.
        let [length, width] = on_it.size().map(|mm| Length::mm((mm * 10.0 - 1e-6).ceil() / 10.0));
        let [x, y] = [0, 1].map(|way| Length::mm(((on_it.from[way] - area.from[way]) * 10.0 + 1e-6).floor() / 10.0));
        Some(Flaw { x, y, length, width, ..flaw.clone() })
    };
    let which = if stuff.count > 1 || stuff.leaves > 1 { format!(".{}", board.number) } else { String::new() };
    let [length, width] = offcut.size.map(|mm| Length::mm((mm * 10.0 + 1e-6).floor() / 10.0));
    Stuff {
        name: format!("{}{which}-{nth}", stuff.name),
        length,
        width,
        price: 0.0,
        paid: true,
        ends: Length::mm(0.0),
        trimmed: true,
        flaws: stuff.flaws.iter().filter_map(flaw).collect(),
        ..leaf(usable)
    }
}
