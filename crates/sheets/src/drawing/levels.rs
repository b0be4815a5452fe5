//! Heights of floors and shelves from the ground: a triangle on each, with its figure; those without room there in a chain beside the view.

use casewright_core::Model;
use casewright_core::model::Room;
use glam::DVec2;

use super::book::{Book, Said};
use super::drawn::{Drawn, Stretch};
use super::lettering::{LETTERING, width_of};
use super::page::{Anchor, Dimension, Pen, Text};
use super::rows::Beside;

/// Half the width of a level's triangle, mm.
const TRIANGLE: f64 = 1.1;
/// Nearer heights are one, mm: less than a figure shows.
const SAME: f64 = 5e-3;

/// Draws them in the front view, each height once.
pub(super) fn draw(drawn: &mut Drawn<'_>, model: &Model, book: &mut Book) {
    let mut without = Vec::new();
    for room in &model.rooms {
        let wide = 2.0 * TRIANGLE + 1.0 + width_of(&format!("({})", drawn.drafting.figure(room.space.min.y)), LETTERING, false);
        if has_room(drawn, room, wide) { in_its_place(drawn, room, wide, book) } else { without.push(room) }
    }
    beside(drawn, &without, book);
}

fn has_room(drawn: &Drawn<'_>, room: &Room, wide: f64) -> bool {
    let (low, high) = (room.space.min, room.space.max);
    let size = DVec2::new(high.x - low.x, high.y - low.y) / drawn.scale;
    size.x >= wide + 2.0 && size.y >= LETTERING + 1.6
}

fn in_its_place(drawn: &mut Drawn<'_>, room: &Room, wide: f64, book: &mut Book) {
    // A floor or shelf that is as high as another has its height said once.
    let Some(said) = book.say(1, 0.0, room.space.min.y) else { return };
    let figure = drawn.drafting.figure(room.space.min.y);
    let text = if said == Said::Auxiliary { format!("({figure})") } else { figure };
    let middle = f64::midpoint(room.space.min.x, room.space.max.x);
    let foot = drawn.at(DVec2::new(middle, room.space.min.y)) + DVec2::X * (TRIANGLE - wide / 2.0);
    let (a, b) = (foot + DVec2::new(-TRIANGLE, -TRIANGLE * 1.7), foot + DVec2::new(TRIANGLE, -TRIANGLE * 1.7));
    for (a, b) in [(foot, a), (a, b), (b, foot)] {
        drawn.ink.line(Pen::Thin, a, b);
    }
    let at = foot + DVec2::new(TRIANGLE + 1.0, -LETTERING / 2.0 - 0.8);
    let text = drawn.ink.text(Text { clears: true, ..Text::new(at, Anchor::Start, LETTERING, text) });
    let auxiliary = said == Said::Auxiliary;
    drawn.ink.dimensions.push(Dimension { axis: 1, from: 0.0, to: room.space.min.y, auxiliary, text });
}

/// Heights from the ground to the right of the view, each with the bays in which something lies so high.
fn beside(drawn: &mut Drawn<'_>, rooms: &[&Room], book: &mut Book) {
    let edge = drawn.bounds.1.x;
    let mut chain: Vec<(Stretch, Said)> = Vec::new();
    for room in rooms {
        let height = room.space.min.y;
        // What follows from other figures is not worth a chain.
        if !book.knows(1, 0.0, height) {
            chain.extend(book.say(1, 0.0, height).map(|said| (Stretch::new(0.0, height, edge), said)));
        }
    }
    let first = drawn.ink.dimensions.len();
    drawn.run(Beside::Right, (0.0, edge), &chain);
    let told: Vec<(DVec2, String)> = drawn
        .ink
        .dimensions
        .iter()
        .skip(first)
        .filter_map(|it| {
            let (low, high) = drawn.ink.texts.get(it.text)?.room();
            Some((DVec2::new(high.x + 1.2, f64::midpoint(low.y, high.y)), bays(rooms, it.to)?))
        })
        .collect();
    for (at, words) in told {
        drawn.ink.text(Text::new(at, Anchor::Start, LETTERING, words));
    }
}

/// "bay 2", "bays 2, 3": where something lies so high.
fn bays(rooms: &[&Room], height: f64) -> Option<String> {
    let mut bays: Vec<usize> = rooms.iter().filter(|room| (room.space.min.y - height).abs() < SAME).map(|room| room.bay + 1).collect();
    bays.sort_unstable();
    bays.dedup();
    let list = bays.iter().map(usize::to_string).collect::<Vec<_>>().join(", ");
    match bays.len() {
        0 => None,
        1 => Some(format!("bay {list}")),
        _ => Some(format!("bays {list}")),
    }
}
