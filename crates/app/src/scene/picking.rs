//! Which part is under the pointer, and how it and what is selected are lit up.

use bevy::mesh::MeshTag;
use bevy::picking::mesh_picking::ray_cast::{MeshRayCast, MeshRayCastSettings, RayCastVisibility};
use bevy::prelude::*;
use casewright_core::model::PartId;

use super::boxes::Placed;
use super::camera::Eye;
use super::gesture::Hand;
use super::orbit::{Lens, Orbit};
use super::parts::{EdgesOf, Shown};
use super::timber_look::TimberLook;
use crate::ask::{Pointed, Selection, ViewArea};
use crate::derived::Derived;

/// Bits of a mesh's tag over the number of its board; as in the shaders.
mod bit {
    pub const HOVERED: u32 = 1 << 24;
    pub const SELECTED: u32 = 2 << 24;
    pub const TOLD: u32 = 4 << 24;
    pub const GHOST: u32 = 8 << 24;
}

/// What the pointer is at and what it clicked.
#[derive(Resource, Clone, Debug, Default, PartialEq)]
pub struct Pick {
    /// The part under the pointer.
    pub hovered: Option<PartId>,
    /// What the last click hit, until the selection has followed it.
    pub clicked: Option<Option<PartId>>,
    /// Whether the others are seen through, because what is selected may be hidden by them.
    pub through: bool,
}

fn hit(orbit: &Orbit, lens: &Lens, at: Vec2, ray_cast: &mut MeshRayCast, shown: &Query<&Shown>) -> Option<(PartId, Vec3)> {
    let only_parts = |entity| shown.contains(entity);
    let settings = MeshRayCastSettings::default().with_filter(&only_parts).with_visibility(RayCastVisibility::Any);
    let (entity, found) = ray_cast.cast_ray(lens.ray(orbit, at), &settings).first()?;
    Some((shown.get(*entity).ok()?.part, found.point))
}

/// The kind of the thing that is seen at a place of the window before any part, by its place in the list.
pub fn thing_at(
    orbit: &Orbit,
    lens: &Lens,
    at: Vec2,
    placed: &Placed,
    (ray_cast, shown): (&mut MeshRayCast, &Query<&Shown>),
) -> Option<usize> {
    let ray = lens.ray(orbit, at);
    let (kind, far) = placed.first_on(ray)?;
    let before = hit(orbit, lens, at, ray_cast, shown).is_none_or(|(_, place)| far < place.distance(ray.origin));
    before.then_some(kind)
}

/// The part at a place of the window.
pub fn part_at(orbit: &Orbit, lens: &Lens, at: Vec2, ray_cast: &mut MeshRayCast, shown: &Query<&Shown>) -> Option<PartId> {
    hit(orbit, lens, at, ray_cast, shown).map(|(part, _)| part)
}

/// The place of the case under a place of the window; beside the case, the floor, or a place as far away as the target.
pub fn place_at(orbit: &Orbit, lens: &Lens, at: Vec2, ray_cast: &mut MeshRayCast, shown: &Query<&Shown>) -> Vec3 {
    if let Some((_, place)) = hit(orbit, lens, at, ray_cast, shown) {
        return place;
    }
    let ray = lens.ray(orbit, at);
    let level = orbit.distance / ray.direction.dot(-orbit.back()).max(0.1);
    let floor = if ray.direction.y < -0.02 { -ray.origin.y / ray.direction.y } else { f32::MAX };
    ray.origin + *ray.direction * level.min(floor)
}

/// How far before the eye the place is that is seen there, mm.
pub fn depth_at(orbit: &Orbit, lens: &Lens, at: Vec2, ray_cast: &mut MeshRayCast, shown: &Query<&Shown>) -> f32 {
    Lens::depth(orbit, place_at(orbit, lens, at, ray_cast, shown))
}

/// Follows the pointer.
pub fn hover(
    hand: Res<Hand>,
    eye: Res<Eye>,
    derived: Res<Derived>,
    (area, placed): (Res<ViewArea>, Res<Placed>),
    mut pick: ResMut<Pick>,
    mut ray_cast: MeshRayCast,
    shown: Query<&Shown>,
) {
    if !hand.is_changed() && !derived.is_changed() && !eye.is_changed() {
        return;
    }
    let at = hand.pointing().filter(|at| area.is_free(*at));
    let free = at.filter(|at| thing_at(&eye.orbit, &eye.lens, *at, &placed, (&mut ray_cast, &shown)).is_none());
    let hovered = free.and_then(|at| part_at(&eye.orbit, &eye.lens, at, &mut ray_cast, &shown));
    if pick.hovered != hovered {
        pick.hovered = hovered;
    }
}

/// Decides whether what is selected is shown through the others: when it was chosen anywhere but in the view.
pub fn see_through(selection: Res<Selection>, mut pick: ResMut<Pick>, mut last: Local<Option<PartId>>) {
    if !selection.is_changed() {
        return;
    }
    let by_click = pick.clicked.take() == Some(selection.part);
    let through = match selection.part {
        None => false,
        Some(_) if *last == selection.part && !by_click => pick.through,
        Some(_) => !by_click,
    };
    *last = selection.part;
    if pick.through != through {
        pick.through = through;
    }
}

/// Lights up what is selected, told of and pointed at.
pub fn light_up(
    pick: Res<Pick>,
    selection: Res<Selection>,
    pointed: Res<Pointed>,
    derived: Res<Derived>,
    mut parts: Query<(&Shown, &mut MeshTag, &mut MeshMaterial3d<TimberLook>), Without<EdgesOf>>,
    mut edges: Query<&mut MeshTag, With<EdgesOf>>,
) {
    let told = selection.finding.and_then(|index| derived.findings.get(index)).map(|finding| finding.parts.as_slice()).unwrap_or_default();
    for (shown, mut tag, mut material) in &mut parts {
        let selected = selection.part == Some(shown.part);
        let told = told.contains(&shown.part);
        let ghost = pick.through && !selected && !told;
        let mut bits = 0;
        for (is, bit) in [
            (pick.hovered.or(pointed.0) == Some(shown.part), bit::HOVERED),
            (selected, bit::SELECTED),
            (told, bit::TOLD),
            (ghost, bit::GHOST),
        ] {
            bits |= if is { bit } else { 0 };
        }
        let wanted = MeshTag(shown.seed | bits);
        if *tag != wanted {
            *tag = wanted.clone();
        }
        if let Ok(mut edges) = edges.get_mut(shown.edges) {
            edges.set_if_neq(wanted);
        }
        let look = &shown.looks[usize::from(ghost)];
        if material.0 != *look {
            material.0 = look.clone();
        }
    }
}
