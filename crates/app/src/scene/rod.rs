//! The setting-out rod beside the case: marked in hundreds, with longer marks and figures at the five hundreds.

use bevy::camera::primitives::MeshAabb;
use bevy::mesh::MeshTag;
use bevy::prelude::*;
use casewright_sheets::Wood;

use super::edges::{Line, Pencil, line_mesh};
use super::paper;
use super::parts::Standing;
use super::timber_look::TimberLook;

/// Width and thickness of the stick, mm.
const SECTION: Vec2 = Vec2::new(30.0, 12.0);
/// From mark to mark, mm.
const MARK: f32 = 100.0;
/// Every so many marks one is longer and has a figure.
const FIGURED: u32 = 5;

/// Its length for a case: over the top of it by a mark or so, a whole number of marks.
pub fn length(standing: &Standing) -> f32 {
    ((standing.high.y / MARK).floor() + 1.0).clamp(3.0, 60.0) * MARK
}

/// Where its foot stands: left of the case, at its front.
pub fn foot(standing: &Standing) -> Vec3 {
    let off = (standing.high - standing.low).max_element() * 0.19 + 190.0;
    Vec3::new(standing.low.x - off, 0.0, standing.high.z - 30.0)
}

/// Foot and head of the rod.
pub fn ends(standing: &Standing) -> [Vec3; 2] {
    let foot = foot(standing);
    [foot, foot + Vec3::Y * length(standing)]
}

/// Its figures: how high, mm, and where.
pub fn figures(standing: &Standing) -> Vec<(u32, Vec3)> {
    let foot = foot(standing) - Vec3::X * SECTION.x / 2.0;
    let marks = (length(standing) / MARK).round() as u32;
    (0..=marks).filter(|mark| mark % FIGURED == 0).map(|mark| (mark * 100, foot + Vec3::Y * mark as f32 * MARK)).collect()
}

/// The stick.
#[derive(Component)]
pub struct Rod;

/// Its marks.
#[derive(Component)]
pub struct Marks;

/// Stands the rod beside the case, without a length yet.
pub fn stand(
    mut commands: Commands,
    windows: Query<&Window>,
    mut meshes: ResMut<Assets<Mesh>>,
    mut looks: ResMut<Assets<TimberLook>>,
    mut pencils: ResMut<Assets<Pencil>>,
) {
    let stick = meshes.add(stick_mesh(MARK));
    commands.spawn((
        Rod,
        Mesh3d(stick),
        MeshMaterial3d(looks.add(TimberLook::of(&Wood::rod()))),
        MeshTag(77),
        Transform::default(),
        Visibility::Hidden,
    ));
    commands.spawn((
        Marks,
        Mesh3d(meshes.add(line_mesh(&marks(MARK)))),
        MeshMaterial3d(pencils.add(Pencil::new(paper::EDGE * paper::scale(&windows), 0.85, 0.0))),
        Transform::default(),
        Visibility::Hidden,
    ));
}

/// The stick with its length along its own x, as a board lies.
fn stick_mesh(length: f32) -> Mesh {
    let mesh = Mesh::from(Cuboid::new(length, SECTION.x, SECTION.y));
    mesh.translated_by(Vec3::new(length / 2.0, 0.0, 0.0)).with_removed_attribute(Mesh::ATTRIBUTE_UV_0)
}

/// Its edges and marks, in the measures of the stick.
fn marks(length: f32) -> Vec<Line> {
    let half = SECTION / 2.0;
    let mut lines = Vec::new();
    for (y, z) in [(-half.x, -half.y), (-half.x, half.y), (half.x, -half.y), (half.x, half.y)] {
        lines.push(Line { a: Vec3::new(0.0, y, z), b: Vec3::new(length, y, z), dark: 0.8 });
    }
    for x in [0.0, length] {
        let corners = [(-half.x, -half.y), (half.x, -half.y), (half.x, half.y), (-half.x, half.y)];
        for (n, from) in corners.iter().enumerate() {
            let to = corners[(n + 1) % 4];
            lines.push(Line { a: Vec3::new(x, from.0, from.1), b: Vec3::new(x, to.0, to.1), dark: 0.8 });
        }
    }
    let count = (length / MARK).round() as u32;
    for mark in 1..count {
        let x = mark as f32 * MARK;
        // The stick stands with its own y to the left; short marks start there, where the figures are.
        let to = if mark % FIGURED == 0 { -half.x } else { half.x * 0.1 };
        for z in [half.y, -half.y] {
            lines.push(Line { a: Vec3::new(x, half.x, z), b: Vec3::new(x, to, z), dark: 1.0 });
        }
    }
    lines
}

/// The stick and its marks, told apart by whether it is the stick.
type Both<'w, 's> = Query<'w, 's, (Entity, &'static mut Transform, &'static mut Visibility, Has<Rod>), Or<(With<Rod>, With<Marks>)>>;

/// Keeps it beside the case and longer than the case is high.
pub fn follow(standing: Res<Standing>, mut meshes: ResMut<Assets<Mesh>>, mut commands: Commands, mut last: Local<f32>, mut rods: Both) {
    if !standing.is_changed() {
        return;
    }
    let length = length(&standing);
    let place = Transform::from_translation(foot(&standing)).with_rotation(Quat::from_rotation_z(std::f32::consts::FRAC_PI_2));
    let visibility = if standing.together > 0.0 { Visibility::Visible } else { Visibility::Hidden };
    for (entity, mut transform, mut seen, is_stick) in &mut rods {
        transform.set_if_neq(place);
        seen.set_if_neq(visibility);
        if (*last - length).abs() > 0.5 {
            let mesh = if is_stick { stick_mesh(length) } else { line_mesh(&marks(length)) };
            if let Some(bounds) = mesh.compute_aabb() {
                commands.entity(entity).insert(bounds);
            }
            commands.entity(entity).insert(Mesh3d(meshes.add(mesh)));
        }
    }
    *last = length;
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rod_is_longer_than_the_case_by_less_than_two_marks() {
        for height in [300.0, 799.0, 800.0, 1480.0, 2400.0] {
            let standing = Standing { high: Vec3::new(900.0, height, 400.0), ..Standing::default() };
            let over = length(&standing) - height;
            assert!(over > 0.0 && over <= 100.0, "{height}: {over}");
        }
    }

    #[test]
    fn figures_stand_at_the_five_hundreds() {
        let standing = Standing { high: Vec3::new(900.0, 1480.0, 400.0), ..Standing::default() };
        let figures: Vec<u32> = figures(&standing).into_iter().map(|(figure, _)| figure).collect();
        assert_eq!(figures, [0, 500, 1000, 1500]);
    }
}
