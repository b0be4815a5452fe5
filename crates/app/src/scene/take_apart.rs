//! Taking the joinery apart: step by step, the other way round than it goes together.

use bevy::math::DQuat;
use bevy::prelude::*;
use bevy::window::RequestRedraw;
use casewright_core::Sequence;
use casewright_solid::Pose;

use super::parts::{Shown, Standing, Store};
use super::timber_look::TimberLook;
use crate::ask::TakeApart;
use crate::derived::Derived;
use crate::session::Session;

/// How fast what is shown follows what is asked for, per second.
const SPEED: f32 = 11.0;
/// Closer than this is there.
const THERE: f32 = 0.002;

/// How far the parts stand from their places.
#[derive(Resource, Default)]
pub struct Apart {
    /// As far as it has come, 0 to 1.
    shown: f32,
    /// The order of assembly of the model of that generation.
    sequence: Sequence,
    generation: u64,
    /// What was last put into the world.
    placed: Option<(u64, f32)>,
}

/// Moves the parts toward what is asked for.
pub fn spread(
    time: Res<Time>,
    wanted: Res<TakeApart>,
    derived: Res<Derived>,
    session: Res<Session>,
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
        apart.sequence = Sequence::of(session.design(), &derived.model, &derived.solids);
        apart.generation = derived.generation;
    }
    let Some((low, high)) = Standing::carcase(&derived.model) else { return };
    let frames = if apart.shown > 0.0 {
        apart.sequence.positions(derived.model.parts.len(), apart.sequence.end() * (1.0 - f64::from(apart.shown)))
    } else {
        Vec::new()
    };
    let frame = |part: usize| frames.get(part).copied().unwrap_or(Pose::IDENTITY);

    let (mut least, mut most, mut farthest) = (Vec3::MAX, Vec3::MIN, 0.0_f32);
    for part in &derived.model.parts {
        let (block, frame) = (part.block(), frame(part.id.0));
        let (from, to) = frame.bounds_of_box(block.min, block.max);
        least = least.min(from.as_vec3());
        most = most.max(to.as_vec3());
        farthest = farthest.max((frame.point(block.centre()) - block.centre()).length() as f32);
    }
    // Nothing sinks into the floor: the whole is lifted instead.
    let lift = Vec3::Y * (-least.y).max(0.0);
    for (part, mut transform) in &mut shown {
        let frame = frame(part.part.0);
        let place = Transform {
            translation: frame.point(part.home.translation.as_dvec3()).as_vec3() + lift,
            rotation: DQuat::from_mat3(&frame.basis).as_quat() * part.home.rotation,
            scale: part.home.scale,
        };
        if *transform != place {
            *transform = place;
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
