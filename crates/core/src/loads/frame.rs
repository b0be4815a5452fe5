//! The top, and the rails that bear the top, the floor, the dividers and each other.

use std::collections::BTreeSet;

use glam::DVec3;

use super::bears::{Bearing, Bears, Counts};
use super::bending::Bending;
use super::down::{self, Down, Onto};
use super::lying::{Lying, Pressed, Unjudged};
use super::tied::{self, Borne};
use super::{Judging, SAME_LEVEL, UnderLoad};
use crate::contents::Stack;
use crate::design::Design;
use crate::model::{Model, Part, PartId, PartKind};
use crate::strength::GRAVITY;

pub(super) fn load(under: &mut UnderLoad, judging: &mut Judging<'_>) {
    let model = judging.model;
    let mut found: Vec<Result<Bending, Unjudged>> = Vec::new();
    for top in model.parts.iter().filter(|part| part.kind == PartKind::Top) {
        found.push(top_under_load(judging, top));
        press_of_top(judging, top);
    }
    let pressing = std::mem::take(&mut judging.pressing);
    let weighed: BTreeSet<PartId> = std::mem::take(&mut judging.weighed);
    let Down { onto, feet, passes } = down::down(model, pressing, &weighed);
    (under.feet, under.passes) = (feet, passes);
    let mut rails = Vec::new();
    for (part, bears) in &onto {
        let bends = matches!(model.part(*part).kind, PartKind::Rail | PartKind::CrossRail);
        if bends && bears.iter().any(|onto| onto.heaviest > 0.0) {
            match borne(under, judging, *part, bears) {
                Ok(rail) => rails.push(rail),
                Err(why) => found.push(Err(why)),
            }
        }
    }
    tied::tie(model, &mut rails);
    for rail in rails {
        let pressed = rail.pressed(Bearing::newtons);
        found.push(judging.bending(&rail.lying, &pressed, Bears::Others(rail.each), None));
    }
    for bending in found {
        match bending {
            Ok(bending) => under.bending.push(bending),
            Err(why) => under.unjudged.push(why),
        }
    }
}

/// What may be put on a top.
const PUT_ON: &str = "what may be put on the top";

/// What may be put on a top, N.
fn put_on(design: &Design, top: &Part) -> f64 {
    let size = top.block().size();
    design.limits.on_top * size.x * size.z * 1e-6 * GRAVITY
}

fn top_under_load(judging: &mut Judging<'_>, top: &Part) -> Result<Bending, Unjudged> {
    let lying = Lying::of(judging.model, &mut judging.stuffs, top.id)?;
    let force = put_on(judging.design, top);
    let pressed = [Pressed { from: lying.from, to: lying.to, force }];
    judging.bending(&lying, &pressed, Bears::Others(vec![Bearing::one(PUT_ON, &lying, &pressed[0])]), None)
}

/// The rails along the front and the back under a top.
pub(super) fn rails_under<'m>(model: &'m Model, top: &Part) -> impl Iterator<Item = &'m Part> {
    let under = top.block().min.y;
    model.parts.iter().filter(move |rail| {
        let body = rail.body();
        rail.kind == PartKind::Rail && body.size().x > body.size().z && (body.max.y - under).abs() < SAME_LEVEL
    })
}

/// What a top presses on the rails under its front and its back: each bears its share of it, as if the sides bore none.
fn press_of_top(judging: &mut Judging<'_>, top: &Part) {
    let rails: Vec<&Part> = rails_under(judging.model, top).collect();
    if rails.is_empty() {
        return;
    }
    let share = 1.0 / rails.len() as f64;
    let (on, own) = (put_on(judging.design, top) * share, down::weight(judging.model, top) * share);
    for rail in rails {
        let block = rail.block();
        let [from, to] = [block.min, block.max].map(|end| DVec3 { y: block.max.y, ..end });
        let onto = |what, always, heaviest| Onto { on: rail.id, from, to, what, always, heaviest, room: None };
        judging.pressing.extend([onto(PUT_ON, 0.0, on), onto("the top itself", own, 0.0)]);
    }
    judging.weighed.insert(top.id);
}

/// A rail under all that comes down to it.
fn borne(under: &UnderLoad, judging: &mut Judging<'_>, part: PartId, bears: &[Onto]) -> Result<Borne, Unjudged> {
    let model = judging.model;
    let lying = Lying::of(model, &mut judging.stuffs, part)?;
    let counts = counts(under, judging.design, &lying, bears);
    let count = |onto: &Onto| counts.iter().find(|(room, _)| Some(*room) == onto.room).map(|(_, counts)| *counts);
    let mut each: Vec<Bearing> = Vec::new();
    for onto in bears {
        let counts = count(onto).filter(|counts| counts.share() < 1.0);
        let [from, to] = [onto.from, onto.to].map(|place| (place[lying.axis] - lying.from).clamp(0.0, lying.to - lying.from));
        let room = onto.room.filter(|_| counts.is_some()).and_then(|room| model.rooms.get(room));
        let what = room.map_or_else(|| onto.what.to_owned(), |room| format!("{}: {}", onto.what, room.name));
        let same = |known: &&mut Bearing| {
            known.what == what && known.counts == counts && (known.from - from).abs() < 0.01 && (known.to - to).abs() < 0.01
        };
        match each.iter_mut().find(same) {
            Some(known) => {
                known.always += onto.always;
                known.heaviest += onto.heaviest;
            }
            None => each.push(Bearing { what, from, to, always: onto.always, heaviest: onto.heaviest, counts, is_tie: false }),
        }
    }
    Ok(Borne { lying, each })
}

/// Shelves are each judged at their heaviest; what bears several bears no more than all boxes that there are, and they are taken to stand
/// where they bend it most. How much of each shelf counts for a part; nothing where there are enough for all of it.
fn counts(under: &UnderLoad, design: &Design, lying: &Lying, bears: &[Onto]) -> Vec<(usize, Counts)> {
    let there: f64 = design.contents.iter().map(|kind| kind.mass * f64::from(kind.wanted())).sum();
    let heaviest = |room: usize| under.stacks.get(room).map_or(0.0, |stacks| stacks.iter().map(|stack: &Stack| stack.kg).sum::<f64>());
    let rooms: BTreeSet<usize> = bears.iter().filter_map(|onto| onto.room).collect();
    if rooms.iter().map(|room| heaviest(*room)).sum::<f64>() <= there {
        return Vec::new();
    }
    let bends = |room: usize| -> f64 {
        let of_room = bears.iter().filter(|onto| onto.room == Some(room));
        let kg = heaviest(room).max(f64::MIN_POSITIVE);
        of_room.map(|onto| onto.heaviest * lying.bends(onto.from[lying.axis], onto.to[lying.axis])).sum::<f64>() / kg
    };
    let mut order: Vec<(usize, f64)> = rooms.into_iter().map(|room| (room, bends(room))).collect();
    order.sort_by(|a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
    let mut before = 0.0;
    let count = |(room, _): (usize, f64)| {
        let counts = Counts { there, before: f64::min(before, there), heaviest: heaviest(room) };
        before += counts.heaviest;
        (room, counts)
    };
    order.into_iter().map(count).collect()
}
