//! The top, and the rails that bear the top, the floor and the dividers.

use super::bending::{Bears, Bending};
use super::lying::{Lying, Pressed, Unjudged};
use super::{Judging, SAME_LEVEL, UnderLoad};
use crate::design::Design;
use crate::model::{Model, Part, PartId, PartKind, Role};
use crate::strength::GRAVITY;

pub(super) fn load(under: &mut UnderLoad, judging: &mut Judging<'_>) {
    let model = judging.model;
    let mut found: Vec<Result<Bending, Unjudged>> = Vec::new();
    for top in model.parts.iter().filter(|part| part.kind == PartKind::Top) {
        found.push(top_under_load(judging, top));
        found.extend(rails_under(judging, top));
    }
    found.extend(rails_below(under, judging));
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
    judging.bending(&lying, &pressed, Bears::Others { each: vec![(PUT_ON, force)], share: 1.0 }, None)
}

/// The rails along the front and the back under a top: each bears half of it, as if the sides bore none.
fn rails_under(judging: &mut Judging<'_>, top: &Part) -> Vec<Result<Bending, Unjudged>> {
    let model = judging.model;
    let own = model.timbers.density(&top.material).map_or(0.0, |density| density.value * top.lwt().element_product() * 1e-9 * GRAVITY);
    let on = put_on(judging.design, top);
    let rails = model.parts.iter().filter(|rail| {
        let body = rail.body();
        rail.kind == PartKind::Rail && body.size().x > body.size().z && (body.max.y - top.block().min.y).abs() < SAME_LEVEL
    });
    rails
        .map(|rail| {
            let lying = Lying::of(model, &mut judging.stuffs, rail.id)?;
            let bears = Bears::Others { each: vec![(PUT_ON, on), ("the top itself", own)], share: 0.5 };
            let pressed = [Pressed { from: lying.from, to: lying.to, force: bears.total() }];
            judging.bending(&lying, &pressed, bears, None)
        })
        .collect()
}

/// What presses on a rail, and what it comes from.
type OnRail = (PartId, Pressed, &'static str);

/// The rails that bear floors and the feet of dividers.
fn rails_below(under: &UnderLoad, judging: &mut Judging<'_>) -> Vec<Result<Bending, Unjudged>> {
    let model = judging.model;
    let mut all: Vec<OnRail> = floors(under, judging);
    all.extend(dividers(under, model));
    all.sort_by_key(|(rail, _, _)| *rail);
    let share = share_of_all(under, judging.design);
    all.chunk_by(|a, b| a.0 == b.0)
        .map(|of_rail| {
            let lying = Lying::of(model, &mut judging.stuffs, of_rail[0].0)?;
            let pressed: Vec<Pressed> =
                of_rail.iter().map(|(_, pressed, _)| Pressed { force: pressed.force * share, ..*pressed }).collect();
            let bears = Bears::Others { each: of_rail.iter().map(|(_, pressed, from)| (*from, pressed.force)).collect(), share };
            judging.bending(&lying, &pressed, bears, None)
        })
        .collect()
}

/// Shelves are each judged at their heaviest; all together hold no more than there is to keep.
fn share_of_all(under: &UnderLoad, design: &Design) -> f64 {
    let heaviest: f64 = under.stacks.iter().flatten().map(|stack| stack.kg).sum();
    let there: f64 = design.contents.iter().map(|kind| kind.mass * f64::from(kind.wanted())).sum();
    if heaviest > there { there / heaviest } else { 1.0 }
}

/// The floors, by the bearers that are glued to the rails, or by the cross rails on which they lie.
fn floors(under: &UnderLoad, judging: &mut Judging<'_>) -> Vec<OnRail> {
    let model = judging.model;
    let mut found = Vec::new();
    for bending in under.bending.iter().filter(|bending| model.part(bending.part).kind == PartKind::Floor) {
        let Ok(lying) = Lying::of(model, &mut judging.stuffs, bending.part) else { continue };
        let floor = model.part(bending.part).block();
        for (index, (_, by)) in lying.held.iter().enumerate() {
            let glued = model.joints.iter().find(|joint| joint.role == Role::BearerToRail && joint.a == *by).map(|joint| joint.b);
            let rail = glued.or((model.part(*by).kind == PartKind::CrossRail).then_some(*by));
            let Some(rail) = rail else { continue };
            let along = 2 - lying.axis;
            let pressed = Pressed { from: floor.min[along], to: floor.max[along], force: bending.reaction(index) };
            found.push((rail, pressed, "the floor"));
        }
    }
    found
}

/// The stile or muntin that bears what rests on a part: on itself, on a standard before it, on a pin in it; none of what is no such part.
fn upright_of(model: &Model, on: PartId) -> Option<PartId> {
    let held = |role: Role| model.joints.iter().find(|joint| joint.role == role && joint.a == on).map(|joint| joint.b);
    match model.part(on).kind {
        PartKind::Stile | PartKind::Muntin => Some(on),
        PartKind::Standard => held(Role::StandardToPost),
        PartKind::Pin => held(Role::PinToUpright),
        _ => None,
    }
}

/// The shelves that hang on a stile or a muntin, by its foot on the rail.
fn dividers(under: &UnderLoad, model: &Model) -> Vec<OnRail> {
    let mut found: Vec<OnRail> = Vec::new();
    for rest in &under.rests {
        let Some(upright) = upright_of(model, rest.on) else { continue };
        let foot = model.joints.iter().find(|joint| {
            let into_rail = matches!(joint.role, Role::StileToRail | Role::MuntinToRail);
            into_rail && joint.a == upright && model.part(joint.b).block().max.y < model.part(upright).block().centre().y
        });
        let Some(foot) = foot else { continue };
        let at = model.part(upright).block().centre().x;
        let known = found.iter_mut().find(|(rail, pressed, _)| *rail == foot.b && (pressed.from - at).abs() < 1e-6);
        match known {
            Some((_, pressed, _)) => pressed.force += rest.force,
            None => found.push((foot.b, Pressed { from: at, to: at, force: rest.force }, "the shelves that hang on a divider")),
        }
    }
    found
}
