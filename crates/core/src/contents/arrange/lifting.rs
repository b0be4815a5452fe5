//! What is heavy stands where it is easily lifted.

use super::Row;
use crate::contents::{Stack, fill};
use crate::design::{Design, HandRoom};

/// Rounding of sums of lengths and masses.
const HAIR: f64 = 1e-6;

/// Lets rows change places, two at a time, as long as that brings weight nearer to where it is easily lifted.
pub(super) fn ease(design: &Design, rows: &mut [Row]) {
    // Each swap makes the whole easier by a hair at least, so this ends; the count is a bound, not a wish.
    for _ in 0..rows.len() * rows.len() {
        let best = pairs(rows.len())
            .filter_map(|(a, b)| Some(((a, b), gain(design, &rows[a], &rows[b])?)))
            .filter(|(_, gain)| *gain > HAIR)
            .max_by(|a, b| a.1.total_cmp(&b.1));
        let Some(((a, b), _)) = best else { return };
        let (on_a, on_b) = (std::mem::take(&mut rows[a].stacks), std::mem::take(&mut rows[b].stacks));
        rows[a].stacks = stood(design, &rows[a], &on_b);
        rows[b].stacks = stood(design, &rows[b], &on_a);
    }
}

fn pairs(count: usize) -> impl Iterator<Item = (usize, usize)> {
    (0..count).flat_map(move |a| (a + 1..count).map(move |b| (a, b)))
}

/// How much easier it gets when two rows change places; none where one does not take what is on the other.
fn gain(design: &Design, a: &Row, b: &Row) -> Option<f64> {
    let hand = &design.hand_room;
    let takes = |row: &Row, stacks: &[Stack]| {
        let space = row.space.size();
        let on_shelf = stacks.iter().filter(|stack| stack.on.is_none());
        let width: f64 = on_shelf.map(|stack| stack.pile.size.x + stack.pile.beside).sum::<f64>() + hand.beside.to_mm();
        let kg: f64 = stacks.iter().map(|stack| stack.kg).sum();
        // What stands on others stands so far over the shelf, wherever that lies.
        let from = stacks.first().map_or(0.0, |stack| stack.block.min.y);
        let over = |stack: &Stack| stack.block.min.y - from;
        let reach = stacks.iter().all(|stack| row.space.min.y + over(stack) <= no_higher(design, stack) + HAIR);
        let takes = |stack: &Stack| stack.pile.needs() + glam::DVec3::Y * over(stack);
        let high = stacks.iter().map(takes).all(|needs| needs.y <= space.y + HAIR && needs.z <= space.z + HAIR);
        (stacks.is_empty() || width <= space.x + HAIR) && kg <= row.carries.unwrap_or(f64::INFINITY) + HAIR && reach && high
    };
    if !takes(a, &b.stacks) || !takes(b, &a.stacks) {
        return None;
    }
    let at = |row: &Row, stacks: &[Stack]| strain(hand, row.space.min.y) * stacks.iter().map(|stack| stack.kg).sum::<f64>();
    Some(at(a, &a.stacks) + at(b, &b.stacks) - at(a, &b.stacks) - at(b, &a.stacks))
}

/// How far all that stands in some rows is from where it is easily lifted: kg times mm.
pub(super) fn strain_of(design: &Design, rows: &[Row]) -> f64 {
    rows.iter().map(|row| strain(&design.hand_room, row.space.min.y) * row.kg()).sum()
}

/// How high a stack may stand, mm.
fn no_higher(design: &Design, stack: &Stack) -> f64 {
    design.contents.get(stack.kind).map_or(f64::INFINITY, |kind| stack.pile.no_higher_than(kind, &design.hand_room))
}

/// How far a level is from where things are easily lifted, mm.
fn strain(hand: &HandRoom, level: f64) -> f64 {
    (hand.knee.to_mm() - level).max(level - hand.elbow.to_mm()).max(0.0)
}

fn stood(design: &Design, row: &Row, stacks: &[Stack]) -> Vec<Stack> {
    fill::set_out(row.space, design, stacks.iter().map(Stack::piled).collect())
}
