//! Heights of floors and shelves from the ground: a triangle on each, with its figure.

use casewright_core::Model;
use glam::DVec2;

use super::book::{Book, Said};
use super::drawn::Drawn;
use super::lettering::{LETTERING, width_of};
use super::page::{Anchor, Dimension, Pen, Text};

/// Half the width of a level's triangle, mm.
const TRIANGLE: f64 = 1.1;

/// Draws them in the front view. Those without room come back in words.
pub(super) fn draw(drawn: &mut Drawn<'_>, model: &Model, book: &mut Book) -> Vec<String> {
    let mut left_over = Vec::new();
    for room in &model.rooms {
        let (low, high) = (room.space.min, room.space.max);
        let (from, to) = (drawn.at(DVec2::new(low.x, low.y)), drawn.at(DVec2::new(high.x, high.y)));
        let figure = drawn.drafting.figure(low.y);
        let wide = 2.0 * TRIANGLE + 1.0 + width_of(&format!("({figure})"), LETTERING, false);
        if to.x - from.x < wide + 2.0 || from.y - to.y < LETTERING + 1.6 {
            if !book.knows(1, 0.0, low.y) {
                left_over.push(format!("{} {figure}", room.name));
            }
            continue;
        }
        // A floor or shelf that is as high as another has its height said once.
        let Some(said) = book.say(1, 0.0, low.y) else { continue };
        let text = if said == Said::Auxiliary { format!("({figure})") } else { figure };
        let foot = DVec2::new(f64::midpoint(from.x, to.x) - wide / 2.0 + TRIANGLE, from.y);
        let (a, b) = (foot + DVec2::new(-TRIANGLE, -TRIANGLE * 1.7), foot + DVec2::new(TRIANGLE, -TRIANGLE * 1.7));
        for (a, b) in [(foot, a), (a, b), (b, foot)] {
            drawn.ink.line(Pen::Thin, a, b);
        }
        let at = foot + DVec2::new(TRIANGLE + 1.0, -LETTERING / 2.0 - 0.8);
        let text = drawn.ink.text(Text { clears: true, ..Text::new(at, Anchor::Start, LETTERING, text) });
        let auxiliary = said == Said::Auxiliary;
        drawn.ink.dimensions.push(Dimension { axis: 1, from: 0.0, to: low.y, auxiliary, text });
    }
    left_over
}
