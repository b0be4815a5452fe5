//! Shelves and floors under their boxes, and the cleats that carry slats.

use glam::DVec3;

use super::bears::{Bearing, Bears, OnIt};
use super::bending::Bending;
use super::down::{self, Onto};
use super::lying::{Lying, ONE_SUPPORT, Pressed, Stuffs, Unjudged, held_at, sharing};
use super::{Judging, UnderLoad, boards, rests};
use crate::contents::{HowHigh, Stack, heaviest};
use crate::design::BoxKind;
use crate::model::{Joint, JointId, Model, Part, PartId, PartKind, Role};
use crate::strength::{GRAVITY, Patch};

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
        let borne = Borne::of(model, &mut judging.stuffs, board, &boards, &stacks);
        match on_board(judging, board, &boards, &stacks, index) {
            Ok((lying, bending)) => {
                for (support, (_, by)) in lying.held.iter().enumerate() {
                    on_cleats.extend(on_cleat(model, board, *by, bending.reaction(support)));
                }
                if let Some((told, bears)) = on_pins(judging, board, (&boards, &stacks), (&lying, &bending), index) {
                    under.rests.extend(rests::on(model, &mut judging.stuffs, &bending, &bears));
                    under.bending.extend(told);
                } else {
                    under.rests.extend(rests::of(model, &mut judging.stuffs, &lying, &bending));
                    under.bending.push(bending);
                }
            }
            Err(why) => {
                // What holds it bears it, whatever is known of its stuff.
                let each = borne.iter().flat_map(|borne| borne.each.iter().map(|(by, _, always, heaviest)| (*by, always + heaviest)));
                on_cleats.extend(each.filter_map(|(by, force)| on_cleat(model, board, by, force)));
                under.unjudged.push(why);
            }
        }
        if let Some(borne) = borne {
            judging.weighed.insert(board.id);
            judging.pressing.extend(borne.presses(board, index));
        }
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

/// What a board presses on a cleat with, where that is what holds it.
fn on_cleat(model: &Model, board: &Part, by: PartId, force: f64) -> Option<(PartId, Pressed)> {
    let (own, on) = (board.block(), model.part(by).block());
    let from = own.min.z.max(on.min.z);
    (model.part(by).kind == PartKind::Cleat).then(|| (by, Pressed { from, to: own.max.z.min(on.max.z).max(from), force }))
}

/// What a support of a board bears of a force at a place across it: pins by the law of the lever between back and front, others alike.
fn shared(model: &Model, board: PartId, (axis, at, by): (usize, f64, PartId), place: f64) -> Vec<(PartId, f64)> {
    let sharing = sharing(model, board, axis, at);
    let across = |part: PartId| model.part(part).block().centre()[2 - axis];
    if sharing.len() > 1 && sharing.iter().all(|part| model.part(*part).kind == PartKind::Pin) {
        let mut pins: Vec<(f64, PartId)> = sharing.iter().map(|pin| (across(*pin), *pin)).collect();
        pins.sort_by(|a, b| a.0.total_cmp(&b.0));
        if pins.windows(2).all(|pair| pair[1].0 - pair[0].0 > ONE_SUPPORT) {
            return down::lever(&pins, place).into_iter().map(|(index, share)| (pins[index].1, share)).collect();
        }
    }
    let share = 1.0 / sharing.len().max(1) as f64;
    if sharing.is_empty() { vec![(by, 1.0)] } else { sharing.into_iter().map(|by| (by, share)).collect() }
}

/// What each support of a board bears of it and of the boxes on it.
struct Borne {
    axis: usize,
    /// What bears, where along the axis, of its own weight and of boxes, N.
    each: Vec<(PartId, f64, f64, f64)>,
    /// What bears it along another edge, and of boxes what goes there, N on each.
    beside: Vec<(PartId, f64)>,
}

impl Borne {
    /// By the law of the lever; nothing where no two things hold it.
    fn of(model: &Model, stuffs: &mut Stuffs, board: &Part, boards: &[&Part], stacks: &[Stack]) -> Option<Borne> {
        let (axis, held, beside) = if let Ok(lying) = Lying::of(model, stuffs, board.id) {
            (lying.axis, lying.held, lying.beside)
        } else {
            let (axis, held) = held_at(model, board.id)?;
            (axis, held, Vec::new())
        };
        let widest = held.windows(2).map(|pair| pair[1].0 - pair[0].0).fold(0.0, f64::max);
        let floor = board.kind == PartKind::Floor && !beside.is_empty();
        let spans = if floor { share_that_spans(board.block().size()[2 - axis] / widest) } else { 1.0 };
        let mut each: Vec<(PartId, f64, f64, f64)> = Vec::new();
        // Puts a force at a place along and across the board on what bears it.
        let mut bear = |[at, place]: [f64; 2], always: f64, heaviest: f64| {
            for (index, share) in down::lever(&held, at) {
                let (at, by) = held[index];
                let several = if board.kind == PartKind::Shelf { shared(model, board.id, (axis, at, by), place) } else { vec![(by, 1.0)] };
                for (by, part) in several {
                    let share = share * part;
                    match each.iter_mut().find(|known| known.0 == by) {
                        Some(known) => (known.2, known.3) = (known.2 + share * always, known.3 + share * heaviest),
                        None => each.push((by, at, share * always, share * heaviest)),
                    }
                }
            }
        };
        let middle = board.block().centre();
        bear([middle[axis], middle[2 - axis]], down::weight(model, board), 0.0);
        let mut besides = 0.0;
        for (on, pressed) in presses(board, boards, stacks, axis) {
            besides += pressed.force * (1.0 - spans);
            let place = stacks.get(on.stack).map_or(middle, |stack| stack.block.centre())[2 - axis];
            bear([pressed.from.midpoint(pressed.to), place], 0.0, spans * pressed.force);
        }
        let besides = besides / beside.len().max(1) as f64;
        Some(Borne { axis, each, beside: beside.into_iter().map(|by| (by, besides)).collect() })
    }

    fn presses(self, board: &Part, room: usize) -> Vec<Onto> {
        let block = board.block();
        let what = if board.kind == PartKind::Floor { "the floor" } else { "the shelves that hang on it" };
        let onto = |on, [from, to]: [DVec3; 2], always, heaviest| Onto { on, from, to, what, always, heaviest, room: Some(room) };
        let across = |at: f64| {
            [block.min, block.max].map(|mut end| {
                (end.y, end[self.axis]) = (block.min.y, at);
                end
            })
        };
        let along = [block.min, block.max].map(|end| DVec3 { y: block.min.y, ..end });
        let ends = self.each.iter().map(|(by, at, always, heaviest)| onto(*by, across(*at), *always, *heaviest));
        let edges = self.beside.iter().map(|(by, heaviest)| onto(*by, along, 0.0, *heaviest));
        ends.chain(edges).collect()
    }
}

type Judged = Result<(Lying, Bending), Unjudged>;

fn on_board(judging: &mut Judging<'_>, board: &Part, boards: &[&Part], stacks: &[Stack], room: usize) -> Judged {
    let mut lying = Lying::of(judging.model, &mut judging.stuffs, board.id)?;
    let loads = presses(board, boards, stacks, lying.axis);
    let (mut spans, mut over) = (1.0, None);
    if board.kind == PartKind::Floor {
        if !lying.beside.is_empty() {
            let ratio = lying.width / lying.widest();
            (spans, over) = (share_that_spans(ratio), Some(ratio));
        }
        lying = strip(lying, stacks);
    }
    let pressed: Vec<Pressed> = loads.iter().map(|(_, pressed)| Pressed { force: pressed.force * spans, ..*pressed }).collect();
    let bears = Bears::Boxes { stacks: loads.iter().map(|(on, _)| *on).collect(), spans, over };
    let bending = judging.bending(&lying, &pressed, bears, Some(room))?;
    Ok((lying, bending))
}

/// What is told of a shelf on pins each way, and what each joint with a pin bears, N.
type OnPins = (Vec<Bending>, Vec<(JointId, f64)>);

/// A shelf on pins lies on points and not on lines: it hangs through from side to side, along either side from its back pin to its front pin, and most of all
/// in its middle; and each pin bears what comes to it. Nothing for what lies on no pins, or rocks on them.
fn on_pins(
    judging: &mut Judging<'_>,
    board: &Part,
    (boards, stacks): (&[&Part], &[Stack]),
    (lying, bending): (&Lying, &Bending),
    room: usize,
) -> Option<OnPins> {
    const ACROSS: usize = 2;
    let model = judging.model;
    let pins: Vec<&Joint> = model.joints.iter().filter(|joint| joint.a == board.id && joint.role == Role::ShelfToPin).collect();
    let mut held: Vec<(f64, PartId)> = pins.iter().map(|joint| (joint.contact.centre[ACROSS], joint.b)).collect();
    held.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
    held.dedup_by(|later, earlier| later.0 - earlier.0 < ONE_SUPPORT);
    if held.len() < 2 {
        return None;
    }
    let across = Lying::along(model, &mut judging.stuffs, board, ACROSS, held).ok()?;
    let loads = presses(board, boards, stacks, ACROSS);
    let pressed: Vec<Pressed> = loads.iter().map(|(_, pressed)| *pressed).collect();
    let bears = Bears::Boxes { stacks: loads.iter().map(|(on, _)| *on).collect(), spans: 1.0, over: None };
    let other = judging.bending(&across, &pressed, bears, Some(room)).ok()?;
    let corner = [lying.from, across.from];
    let points = pins.iter().map(|joint| [joint.contact.centre.x - corner[0], joint.contact.centre.z - corner[1]]).collect();
    let block = board.block();
    let patch = |(on, _): &(OnIt, Pressed)| {
        let stack = stacks.get(on.stack)?.block;
        let [from, to] = [stack.min.max(block.min), stack.max.min(block.max)].map(|end| [end.x - corner[0], end.z - corner[1]]);
        Some(Patch { from, to, force: on.newtons })
    };
    let patches = loads.iter().filter_map(patch).collect();
    let limits = &judging.design.limits;
    let (told, bears) = judging.known.on_points(limits, [lying, &across], [bending.clone(), other], points, patches)?;
    Some((told, pins.iter().map(|joint| joint.id).zip(bears).collect()))
}

/// A cleat under its slats.
fn carried(judging: &mut Judging<'_>, cleat: PartId, pressed: &[Pressed], room: usize) -> Judged {
    let lying = Lying::of(judging.model, &mut judging.stuffs, cleat)?;
    let each = pressed.iter().map(|pressed| Bearing::one("a slat with what it bears", &lying, pressed)).collect();
    let bending = judging.bending(&lying, pressed, Bears::Others(each), Some(room))?;
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
fn presses(board: &Part, boards: &[&Part], stacks: &[Stack], axis: usize) -> Vec<(OnIt, Pressed)> {
    let across = 2 - axis;
    let covered = |part: &Part, stack: &Stack| {
        let block = part.block();
        (block.max[across].min(stack.block.max[across]) - block.min[across].max(stack.block.min[across])).max(0.0)
    };
    let press = |(index, stack): (usize, &Stack)| {
        let all: f64 = boards.iter().map(|part| covered(part, stack)).sum();
        let share = if all > 0.0 { covered(board, stack) / all } else { 0.0 };
        let force = share * stack.kg * GRAVITY;
        let pressed = Pressed { from: stack.block.min[axis], to: stack.block.max[axis], force };
        (share > 0.0).then_some((OnIt { stack: index, newtons: force, covers: covered(board, stack), of: all }, pressed))
    };
    stacks.iter().enumerate().filter_map(press).collect()
}
