//! Shelves and floors under their boxes, and the cleats that carry slats.

use super::bending::{Bears, Bending};
use super::lying::{Lying, Pressed, Unjudged};
use super::{Judging, UnderLoad, boards, rests};
use crate::contents::{HowHigh, Stack, heaviest};
use crate::design::BoxKind;
use crate::model::{Part, PartId, PartKind};
use crate::strength::GRAVITY;

pub(super) fn load(under: &mut UnderLoad, judging: &mut Judging<'_>, high: HowHigh) {
    let (design, model) = (judging.design, judging.model);
    let counts: Vec<u32> = design.contents.iter().map(BoxKind::wanted).collect();
    let stacks = model.rooms.iter().map(|room| heaviest(room, design, &counts, high)).collect();
    load_with(under, judging, stacks);
}

/// The same with stacks that the caller chose, for each room of the model its own.
pub(super) fn load_with(under: &mut UnderLoad, judging: &mut Judging<'_>, stacks: Vec<Vec<Stack>>) {
    under.stacks = stacks;
    for index in 0..judging.model.rooms.len().min(under.stacks.len()) {
        room(under, judging, index);
    }
}

/// Every board of a room, and the cleats under it.
fn room(under: &mut UnderLoad, judging: &mut Judging<'_>, index: usize) {
    let model = judging.model;
    let boards: Vec<&Part> = boards(model, &model.rooms[index]).collect();
    let stacks = under.stacks[index].clone();
    // What slats press on each cleat: where, and how hard.
    let mut on_cleats: Vec<(PartId, Pressed)> = Vec::new();
    for board in &boards {
        let (lying, bending) = match on_board(judging, board, &boards, &stacks, index) {
            Ok(judged) => judged,
            Err(why) => {
                under.unjudged.push(why);
                continue;
            }
        };
        for (support, (_, by)) in lying.held.iter().enumerate().filter(|(_, (_, by))| model.part(*by).kind == PartKind::Cleat) {
            let (own, on) = (board.block(), model.part(*by).block());
            let from = own.min.z.max(on.min.z);
            on_cleats.push((*by, Pressed { from, to: own.max.z.min(on.max.z).max(from), force: bending.reaction(support) }));
        }
        under.rests.extend(rests::of(model, &mut judging.stuffs, &lying, &bending));
        under.bending.push(bending);
    }
    on_cleats.sort_by_key(|(cleat, _)| *cleat);
    for of_cleat in on_cleats.chunk_by(|a, b| a.0 == b.0) {
        let pressed: Vec<Pressed> = of_cleat.iter().map(|(_, pressed)| *pressed).collect();
        match carried(judging, of_cleat[0].0, &pressed, index) {
            Ok((lying, bending)) => {
                under.rests.extend(rests::of(model, &mut judging.stuffs, &lying, &bending));
                under.bending.push(bending);
            }
            Err(why) => under.unjudged.push(why),
        }
    }
}

type Judged = Result<(Lying, Bending), Unjudged>;

fn on_board(judging: &mut Judging<'_>, board: &Part, boards: &[&Part], stacks: &[Stack], room: usize) -> Judged {
    let mut lying = Lying::of(judging.model, &mut judging.stuffs, board.id)?;
    let loads = presses(board, boards, stacks, lying.axis);
    let mut spans = 1.0;
    if board.kind == PartKind::Floor {
        spans = lying.beside.map_or(1.0, |across| share_that_spans(across / lying.widest()));
        lying = strip(lying, stacks);
    }
    let pressed: Vec<Pressed> = loads.iter().map(|(_, pressed)| Pressed { force: pressed.force * spans, ..*pressed }).collect();
    let bears = Bears::Boxes { stacks: loads.iter().map(|(stack, pressed)| (*stack, pressed.force)).collect(), spans };
    let bending = judging.bending(&lying, &pressed, bears, Some(room))?;
    Ok((lying, bending))
}

/// A cleat under its slats.
fn carried(judging: &mut Judging<'_>, cleat: PartId, pressed: &[Pressed], room: usize) -> Judged {
    let lying = Lying::of(judging.model, &mut judging.stuffs, cleat)?;
    let force = pressed.iter().map(|pressed| pressed.force).sum();
    let bears = Bears::Others { each: vec![("the slats that lie on it, with what they bear", force)], share: 1.0 };
    let bending = judging.bending(&lying, pressed, bears, Some(room))?;
    Ok((lying, bending))
}

/// What of its load a floor bears from bearer to bearer, that is held along one more edge and free along the other, by its width over its
/// span: the rest goes straight to that edge.
///
/// The greatest deflection of such a plate over that of a beam: Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, three edges
/// simply supported and the fourth free, 0.0071, 0.0097, 0.0129 and 0.0151·q·a⁴/D for a width of 1/2, 2/3, 1 and 2 spans (from memory).
fn share_that_spans(width_over_span: f64) -> f64 {
    const TABLE: [(f64, f64); 5] = [(0.0, 0.0), (0.5, 0.497), (2.0 / 3.0, 0.677), (1.0, 0.9), (2.0, 1.0)];
    let between = |pair: &[(f64, f64)]| {
        let ((from, low), (to, high)) = (pair[0], pair[1]);
        (from..=to).contains(&width_over_span).then(|| low + (high - low) * (width_over_span - from) / (to - from))
    };
    TABLE.windows(2).find_map(between).unwrap_or(1.0)
}

/// A floor bears by the strip on which boxes stand and a quarter of its span to each side, as slabs do that span one way: IS 456, 24.3.2.1
/// counts up to 0.62 of the span besides what the load covers (from memory).
fn strip(lying: Lying, stacks: &[Stack]) -> Lying {
    let across = 2 - lying.axis;
    let from = stacks.iter().map(|stack| stack.block.min[across]).reduce(f64::min);
    let to = stacks.iter().map(|stack| stack.block.max[across]).reduce(f64::max);
    match (from, to) {
        (Some(from), Some(to)) => {
            let bears = to - from + lying.widest() / 2.0;
            lying.narrowed(bears)
        }
        _ => lying,
    }
}

/// What each stack presses on a board with, N, along an axis: its weight, shared by the boards under it as they are covered.
fn presses(board: &Part, boards: &[&Part], stacks: &[Stack], axis: usize) -> Vec<(usize, Pressed)> {
    let across = 2 - axis;
    let covered = |part: &Part, stack: &Stack| {
        let block = part.block();
        (block.max[across].min(stack.block.max[across]) - block.min[across].max(stack.block.min[across])).max(0.0)
    };
    let press = |(index, stack): (usize, &Stack)| {
        let all: f64 = boards.iter().map(|part| covered(part, stack)).sum();
        let share = if all > 0.0 { covered(board, stack) / all } else { 0.0 };
        let pressed = Pressed { from: stack.block.min[axis], to: stack.block.max[axis], force: share * stack.kg * GRAVITY };
        (share > 0.0).then_some((index, pressed))
    };
    stacks.iter().enumerate().filter_map(press).collect()
}
