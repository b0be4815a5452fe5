//! Taking the joinery apart: every part moves the way in which its joints slide.

use bevy::prelude::*;
use bevy::window::RequestRedraw;
use casewright_core::explode;

use super::parts::{Shown, Standing, Store};
use super::timber_look::TimberLook;
use crate::ask::TakeApart;
use crate::derived::Derived;

/// How far a joint opens when all is apart, as a share of the greatest extent of the case.
const STEP: f32 = 0.16;
/// How fast what is shown follows what is asked for, per second.
const SPEED: f32 = 11.0;
/// Closer than this is there.
const THERE: f32 = 0.002;

/// How far the parts stand from their places.
#[derive(Resource, Default)]
pub struct Apart {
    /// As far as it has come, 0 to 1.
    shown: f32,
    /// The moves of one step, for the model of that generation.
    moves: Vec<Vec3>,
    generation: u64,
    /// What was last put into the world.
    placed: Option<(u64, f32)>,
}

/// Moves the parts toward what is asked for.
pub fn spread(
    time: Res<Time>,
    wanted: Res<TakeApart>,
    derived: Res<Derived>,
    mut apart: ResMut<Apart>,
    mut standing: ResMut<Standing>,
    mut shown: Query<(&Shown, &mut Transform)>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    let target = wanted.amount.clamp(0.0, 1.0);
    if (apart.shown - target).abs() > THERE {
        // After a rest the first frame would otherwise take the whole way at once.
        let passed = time.delta_secs().min(0.12);
        apart.shown += (target - apart.shown) * (1.0 - (-SPEED * passed).exp());
        redraw.write(RequestRedraw);
    } else {
        apart.shown = target;
    }
    if apart.placed == Some((derived.generation, apart.shown)) {
        return;
    }
    apart.placed = Some((derived.generation, apart.shown));
    if apart.shown > 0.0 && apart.generation != derived.generation {
        apart.moves = explode::moves(&derived.model).iter().map(|way| way.as_vec3()).collect();
        apart.generation = derived.generation;
    }
    let Some((low, high)) = Standing::carcase(&derived.model) else { return };
    let step = (high - low).max_element() * STEP * apart.shown;
    let way = |part: usize| if step > 0.0 { apart.moves.get(part).copied().unwrap_or(Vec3::ZERO) * step } else { Vec3::ZERO };

    let blocks = derived.model.parts.iter().map(|part| (part.block(), way(part.id.0)));
    let (mut least, mut most, mut farthest) = (Vec3::MAX, Vec3::MIN, 0.0_f32);
    for (block, moved) in blocks {
        least = least.min(block.min.as_vec3() + moved);
        most = most.max(block.max.as_vec3() + moved);
        farthest = farthest.max(moved.length());
    }
    // Nothing sinks into the floor: the whole is lifted instead.
    let lift = Vec3::Y * (-least.y).max(0.0);
    for (part, mut transform) in &mut shown {
        let place = part.home.translation + way(part.part.0) + lift;
        if transform.translation != place {
            transform.translation = place;
        }
    }
    let now =
        Standing { low, high, all: (least + lift, most + lift), together: (1.0 - apart.shown * 3.0).clamp(0.0, 1.0), spread: farthest };
    standing.set_if_neq(now);
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
