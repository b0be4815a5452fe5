//! Where every part is shown: taken apart, step by step in the order of assembly read backwards, and as its season has it.

use bevy::prelude::*;
use bevy::window::RequestRedraw;
use casewright_core::Model;
use casewright_core::seasons::{Swollen, growth, swollen};
use casewright_solid::Pose;

use super::parts::{Shown, Standing, Store, transform_of};
use super::timber_look::TimberLook;
use crate::ask::{Season, TakeApart};
use crate::derived::Derived;
use crate::session::Session;

/// How fast what is shown follows what is asked for, per second.
const SPEED: f32 = 11.0;
/// Closer than this is there.
const THERE: f32 = 0.0005;
/// How long a step takes when it goes by itself, seconds.
const A_STEP: f32 = 0.7;
/// The most that counts of the time since the last frame, seconds: after a rest the first would otherwise take the whole way.
const A_FRAME: f32 = 0.12;

/// How far the parts stand from their places.
#[derive(Resource, Default)]
pub struct Apart {
    /// As far as it has come, 0 to 1.
    shown: f32,
    /// What was last put into the world: the generation of the model, whether its order was known, how far, and the season.
    placed: Option<(u64, bool, f32, Season)>,
}

/// Goes on by itself while it is asked to.
pub fn play(time: Res<Time>, derived: Res<Derived>, mut wanted: ResMut<TakeApart>, mut redraw: MessageWriter<RequestRedraw>) {
    let Some(way) = wanted.playing else { return };
    redraw.write(RequestRedraw);
    let Some(order) = derived.last_order() else { return };
    let by = time.delta_secs().min(A_FRAME) / (A_STEP * order.steps.len().max(1) as f32);
    let left = way.end() - wanted.amount;
    wanted.amount += left.clamp(-by, by);
    if left.abs() <= by {
        wanted.playing = None;
    }
}

/// Moves the parts toward what is asked for.
pub fn spread(
    time: Res<Time>,
    (wanted, season): (Res<TakeApart>, Res<Season>),
    (derived, session): (Res<Derived>, Res<Session>),
    mut apart: ResMut<Apart>,
    mut standing: ResMut<Standing>,
    mut shown: Query<(&Shown, &mut Transform)>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    let target = wanted.amount.clamp(0.0, 1.0);
    if (apart.shown - target).abs() > THERE {
        let passed = time.delta_secs().min(A_FRAME);
        apart.shown += (target - apart.shown) * (1.0 - (-SPEED * passed).exp());
        redraw.write(RequestRedraw);
    } else {
        apart.shown = target;
    }
    let state = (derived.generation, derived.order().is_some(), apart.shown, *season);
    if apart.placed == Some(state) {
        return;
    }
    apart.placed = Some(state);
    let Some((low, high)) = Standing::carcase(&derived.model) else { return };
    let moves = moves(&derived, apart.shown);
    let moved = |part: usize| moves.get(part).copied().unwrap_or(Pose::IDENTITY);
    let swollen = in_season(&derived.model, &season, session.design().timber.moisture.built);

    let (mut least, mut most, mut farthest) = (Vec3::MAX, Vec3::MIN, 0.0_f32);
    for part in &derived.model.parts {
        let move_by = moved(part.id.0);
        let (low, high) = move_by.then_of(&part.pose).bounds_of(part.lwt());
        least = least.min(low.as_vec3());
        most = most.max(high.as_vec3());
        let centre = part.block().centre();
        farthest = farthest.max(move_by.point(centre).distance(centre) as f32);
    }
    // Nothing sinks into the floor: the whole is lifted instead.
    let lift = Vec3::Y * (-least.y).max(0.0);
    for (part, mut transform) in &mut shown {
        let home = swollen.get(part.part.0).map_or(part.home, |now| transform_of(&now.pose).with_scale(now.scale.as_vec3()));
        let mut place = transform_of(&moved(part.part.0)) * home;
        place.translation += lift;
        transform.set_if_neq(place);
    }
    let now =
        Standing { low, high, all: (least + lift, most + lift), together: (1.0 - apart.shown * 3.0).clamp(0.0, 1.0), spread: farthest };
    standing.set_if_neq(now);
}

/// Every part at the moisture of the season, drawn as much larger as asked; empty as built.
fn in_season(model: &Model, season: &Season, built: f64) -> Vec<Swollen> {
    let Some(now) = season.moisture.filter(|now| (now - built).abs() > f64::EPSILON) else { return Vec::new() };
    let growth: Vec<_> = growth(model, built, now).into_iter().map(|growth| growth * season.times).collect();
    swollen(model, &growth)
}

/// How every part is moved from its place when the case is taken `amount` apart; empty while no order is known.
fn moves(derived: &Derived, amount: f32) -> Vec<Pose> {
    let order = derived.last_order().filter(|_| amount > 0.0);
    order.map(|order| order.positions(derived.model.parts.len(), f64::from(1.0 - amount) * order.end())).unwrap_or_default()
}

/// Tells the timber what room is inside the case, where it is darker.
pub fn darken_inside(standing: Res<Standing>, store: Res<Store>, mut looks: ResMut<Assets<TimberLook>>) {
    if !standing.is_changed() && !store.is_changed() {
        return;
    }
    for handle in store.looks() {
        let room = (standing.low, standing.high - Vec3::Y * 20.0);
        let mut changed = false;
        if let Some(look) = looks.get(handle) {
            changed = look.clone().stand_in(room, standing.together);
        }
        if changed && let Some(mut look) = looks.get_mut(handle) {
            look.stand_in(room, standing.together);
        }
    }
}
