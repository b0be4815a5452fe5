//! Parts in the world: one entity a part, its mesh from its shape, its place from its pose.
//!
//! Entities live as long as a part of their name does. When the model becomes another, what is different is replaced in the
//! same frame, and what is no longer there goes in the same frame, so that nothing flickers and nothing stale is seen.

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use bevy::asset::RenderAssetUsages;
use bevy::camera::primitives::Aabb;
use bevy::math::Mat3;
use bevy::mesh::{MeshTag, PrimitiveTopology};
use bevy::prelude::*;
use casewright_core::Model;
use casewright_core::model::{Material as Stuff, Part, PartId, PartKind};
use casewright_sheets::Wood;
use casewright_solid::{Pose, Shape};

use super::edges::{Pencil, edges_of, line_mesh};
use super::paper;
use super::timber_look::TimberLook;
use crate::derived::Derived;

/// An entity that shows a part.
#[derive(Component, Clone, Debug)]
pub struct Shown {
    /// Which part.
    pub part: PartId,
    /// Where it stands when the case is together.
    pub home: Transform,
    /// The entity of its edges.
    pub edges: Entity,
    /// How its material looks, and looks when seen through.
    pub looks: [Handle<TimberLook>; 2],
    /// Tells its board from others.
    pub seed: u32,
    /// The shape in the mesh, to see whether it became another.
    shape: Arc<Shape>,
}

/// The edges of a part.
#[derive(Component)]
pub struct EdgesOf;

/// Which generation of [`Derived`] is in the world.
#[derive(Resource, Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct SceneReady {
    /// That of the last model of which every part was put into the world.
    pub generation_drawn: u64,
    /// Whether that is on screen: every shader is ready and some frames were drawn since the last change.
    pub settled: bool,
}

/// How the case stands: what light, floor, rod and dimensions go by.
#[derive(Resource, Clone, Copy, Debug, PartialEq)]
pub struct Standing {
    /// Least corner of the carcase: over its posts, from the floor, mm.
    pub low: Vec3,
    /// Greatest corner of the carcase: over its posts, to the upper face of its top, mm.
    pub high: Vec3,
    /// Least and greatest corner over everything as it is shown, parts taken apart included, mm.
    pub all: (Vec3, Vec3),
    /// 1 when together, less as it is taken apart, 0 from a third of the way.
    pub together: f32,
    /// How far parts are from their places, mm.
    pub spread: f32,
}

impl Default for Standing {
    fn default() -> Self {
        let high = Vec3::new(1000.0, 1000.0, 400.0);
        Standing { low: Vec3::ZERO, high, all: (Vec3::ZERO, high), together: 1.0, spread: 0.0 }
    }
}

impl Standing {
    /// The carcase of a model: over the posts, or over everything where there are none.
    pub fn carcase(model: &Model) -> Option<(Vec3, Vec3)> {
        let over = |(low, high): (Vec3, Vec3), part: &Part| {
            let block = part.block();
            (low.min(block.min.as_vec3()), high.max(block.max.as_vec3()))
        };
        let none = (Vec3::MAX, Vec3::MIN);
        let all = model.parts.iter().fold(none, over);
        let posts = model.parts.iter().filter(|part| part.kind == PartKind::Post).fold(none, over);
        if model.parts.is_empty() {
            return None;
        }
        let (low, high) = if posts.0.x <= posts.1.x { posts } else { all };
        Some((low.min(Vec3::new(low.x, all.0.y, low.z)), Vec3::new(high.x, all.1.y, high.z)))
    }
}

/// Meshes and materials in use.
#[derive(Resource, Default)]
pub struct Store {
    entities: HashMap<String, Entity>,
    meshes: HashMap<usize, Meshes>,
    looks: HashMap<(Stuff, bool, bool), [Handle<TimberLook>; 2]>,
    pencil: Option<Handle<Pencil>>,
}

/// Equal parts share one shape, so its address tells it from others as long as it lives.
fn address(shape: &Arc<Shape>) -> usize {
    Arc::as_ptr(shape).addr()
}

// The key is an address only to be compared; the shape behind it is kept alive by its entry.
struct Meshes {
    shape: Arc<Shape>,
    solid: Handle<Mesh>,
    lines: Handle<Mesh>,
    bounds: Aabb,
}

impl Store {
    /// The entity of the part of that name.
    pub fn entity(&self, name: &str) -> Option<Entity> {
        self.entities.get(name).copied()
    }

    /// Every material of timber.
    pub fn looks(&self) -> impl Iterator<Item = &Handle<TimberLook>> {
        self.looks.values().flatten()
    }

    /// The meshes of a shape: its faces, its edges, and what room they take.
    pub fn meshes_of(&mut self, shape: &Arc<Shape>, meshes: &mut Assets<Mesh>) -> (Handle<Mesh>, Handle<Mesh>, Aabb) {
        let made = self.meshes.entry(address(shape)).or_insert_with(|| {
            let (low, high) = shape.bounds();
            Meshes {
                shape: Arc::clone(shape),
                solid: meshes.add(solid_mesh(shape)),
                lines: meshes.add(line_mesh(&edges_of(shape))),
                bounds: Aabb::from_min_max(low.as_vec3(), high.as_vec3()),
            }
        });
        (made.solid.clone(), made.lines.clone(), made.bounds)
    }

    fn looks_of(&mut self, part: &Part, looks: &mut Assets<TimberLook>) -> [Handle<TimberLook>; 2] {
        let key = (part.material.clone(), matches!(part.kind, PartKind::LooseTenon | PartKind::Dowel), part.kind == PartKind::Top);
        self.looks
            .entry(key)
            .or_insert_with(|| {
                let look = TimberLook::of(&Wood::of(&part.material, part.kind));
                [looks.add(look.clone()), looks.add(look.ghost())]
            })
            .clone()
    }

    /// Forgets the meshes of shapes that no part has any more.
    fn tidy(&mut self, used: &HashSet<usize>) {
        self.meshes.retain(|key, made| used.contains(key) && address(&made.shape) == *key);
    }
}

/// The triangles of a shape, each corner with its own normal.
pub fn solid_mesh(shape: &Shape) -> Mesh {
    let corners = || shape.triangles.iter().flatten();
    let positions: Vec<[f32; 3]> = corners().map(|corner| shape.positions[*corner as usize].as_vec3().to_array()).collect();
    let normals: Vec<[f32; 3]> = shape.normals.iter().flatten().map(|normal| normal.as_vec3().to_array()).collect();
    Mesh::new(PrimitiveTopology::TriangleList, RenderAssetUsages::default())
        .with_inserted_attribute(Mesh::ATTRIBUTE_POSITION, positions)
        .with_inserted_attribute(Mesh::ATTRIBUTE_NORMAL, normals)
}

/// Where a part stands, for the world.
pub fn transform_of(pose: &Pose) -> Transform {
    let axes = Mat3::from_cols(pose.basis.x_axis.as_vec3(), pose.basis.y_axis.as_vec3(), pose.basis.z_axis.as_vec3());
    Transform::from_translation(pose.origin.as_vec3()).with_rotation(Quat::from_mat3(&axes))
}

/// A number from a name, the same every time: boards keep their figure while the case is dragged.
fn seed_of(name: &str) -> u32 {
    let hash = name.bytes().fold(0x811c_9dc5_u32, |hash, byte| (hash ^ u32::from(byte)).wrapping_mul(0x0100_0193));
    hash & 0x00ff_ffff
}

/// What the world is made of.
#[derive(bevy::ecs::system::SystemParam)]
pub struct Stock<'w> {
    meshes: ResMut<'w, Assets<Mesh>>,
    looks: ResMut<'w, Assets<TimberLook>>,
    pencils: ResMut<'w, Assets<Pencil>>,
}

/// The parts that are in the world, and their edges.
#[derive(bevy::ecs::system::SystemParam)]
pub struct InWorld<'w, 's> {
    commands: Commands<'w, 's>,
    shown: Query<'w, 's, (&'static mut Shown, &'static mut Mesh3d, &'static mut Aabb, &'static mut Transform), Without<EdgesOf>>,
    edges: Query<'w, 's, (&'static mut Mesh3d, &'static mut Aabb), With<EdgesOf>>,
}

/// A part as it is to be shown.
struct Wanted {
    part: PartId,
    home: Transform,
    shape: Arc<Shape>,
    solid: Handle<Mesh>,
    lines: Handle<Mesh>,
    bounds: Aabb,
    looks: [Handle<TimberLook>; 2],
}

impl InWorld<'_, '_> {
    /// Makes an entity show a part; only what is different is written.
    fn alter(&mut self, entity: Entity, wanted: Wanted) {
        let Ok((mut old, mut mesh, mut bounds, mut transform)) = self.shown.get_mut(entity) else { return };
        if !Arc::ptr_eq(&old.shape, &wanted.shape) {
            (mesh.0, *bounds, old.shape) = (wanted.solid, wanted.bounds, wanted.shape);
            if let Ok((mut mesh, mut bounds)) = self.edges.get_mut(old.edges) {
                (mesh.0, *bounds) = (wanted.lines, wanted.bounds);
            }
        }
        // Parts that stand apart stay so: the move is put on again after this.
        transform.translation += wanted.home.translation - old.home.translation;
        transform.rotation = wanted.home.rotation;
        (old.part, old.home) = (wanted.part, wanted.home);
        if old.looks != wanted.looks {
            self.commands.entity(entity).insert(MeshMaterial3d(wanted.looks[0].clone()));
            old.looks = wanted.looks;
        }
    }

    /// A new entity for a part.
    fn spawn(&mut self, name: &str, wanted: Wanted, pencil: Handle<Pencil>) -> Entity {
        let Wanted { part, home, shape, solid, lines, bounds, looks } = wanted;
        let seed = seed_of(name);
        let line = (EdgesOf, Mesh3d(lines), MeshMaterial3d(pencil), MeshTag(seed), bounds, Transform::default());
        let edges = self.commands.spawn(line).id();
        let look = MeshMaterial3d(looks[0].clone());
        let shown = Shown { part, home, edges, looks, seed, shape };
        self.commands.spawn((Mesh3d(solid), look, MeshTag(seed), bounds, home, shown)).add_child(edges).id()
    }
}

/// Puts the model at hand into the world.
pub fn keep_up(
    derived: Res<Derived>,
    mut store: ResMut<Store>,
    mut ready: ResMut<SceneReady>,
    mut stock: Stock,
    mut world: InWorld,
    windows: Query<&Window>,
) {
    if ready.generation_drawn == derived.generation {
        return;
    }
    let scale = paper::scale(&windows);
    let pencil = store.pencil.get_or_insert_with(|| stock.pencils.add(Pencil::new(paper::EDGE * scale, 0.86, 0.4))).clone();
    let mut stale = std::mem::take(&mut store.entities);
    let mut used = HashSet::new();
    for part in &derived.model.parts {
        let Some(shape) = derived.solids.shape(part.id) else { continue };
        used.insert(address(shape));
        let (solid, lines, bounds) = store.meshes_of(shape, &mut stock.meshes);
        let looks = store.looks_of(part, &mut stock.looks);
        let home = transform_of(&part.pose);
        let wanted = Wanted { part: part.id, home, shape: Arc::clone(shape), solid, lines, bounds, looks };
        let entity = match stale.remove(&part.name).filter(|entity| world.shown.contains(*entity)) {
            Some(entity) => {
                world.alter(entity, wanted);
                entity
            }
            None => world.spawn(&part.name, wanted, pencil.clone()),
        };
        if let Some(double) = store.entities.insert(part.name.clone(), entity) {
            world.commands.entity(double).despawn();
        }
    }
    for entity in stale.into_values() {
        world.commands.entity(entity).despawn();
    }
    store.tidy(&used);
    ready.generation_drawn = derived.generation;
}

#[cfg(test)]
mod tests {
    use super::*;
    use bevy::math::{DMat3, DVec3};
    use casewright_solid::{Facets, Solid};

    #[test]
    fn a_part_stands_in_the_world_where_its_pose_says() {
        let pose = Pose { basis: DMat3::from_cols(DVec3::Y, -DVec3::X, DVec3::Z), origin: DVec3::new(10.0, 20.0, 30.0) };
        let local = DVec3::new(300.0, 40.0, 20.0);
        let placed = transform_of(&pose).transform_point(local.as_vec3());
        assert!(placed.distance(pose.point(local).as_vec3()) < 1e-3);
    }

    #[test]
    fn a_mesh_has_the_triangles_of_its_shape_and_its_outward_normals() {
        let board = Solid { size: DVec3::new(600.0, 90.0, 20.0), prisms: Vec::new() };
        let shape = board.shape(Facets::ChordError(0.05)).expect("a board");
        let mesh = solid_mesh(&shape);
        assert_eq!(mesh.count_vertices(), shape.triangles.len() * 3);
        assert_eq!(shape.triangles.len(), 12);
    }

    #[test]
    fn boards_keep_their_figure_and_differ_from_each_other() {
        assert_eq!(seed_of("post.front.left"), seed_of("post.front.left"));
        assert_ne!(seed_of("post.front.left"), seed_of("post.front.right"));
    }

    /// Every part of the model once, with the shape and the place of now, and nothing else.
    fn assert_shows(app: &mut App) {
        let mut query = app.world_mut().query::<(&Shown, &Transform, &Mesh3d)>();
        let world = app.world();
        let derived = world.resource::<Derived>();
        let meshes = world.resource::<Assets<Mesh>>();
        let mut seen: Vec<PartId> = Vec::new();
        for (shown, transform, mesh) in query.iter(world) {
            seen.push(shown.part);
            let part = derived.model.part(shown.part);
            assert!(transform.translation.distance(part.pose.origin.as_vec3()) < 1e-3, "{} stands elsewhere", part.name);
            let shape = derived.solids.shape(shown.part).expect("only parts with a shape are shown");
            let corners = meshes.get(&mesh.0).expect("its mesh is there").count_vertices();
            assert_eq!(corners, shape.triangles.len() * 3, "{} has another shape", part.name);
        }
        seen.sort();
        let all: Vec<PartId> = derived.model.parts.iter().map(|part| part.id).collect();
        assert_eq!(seen, all);
        let edges = app.world_mut().query::<&EdgesOf>().iter(app.world()).count();
        assert_eq!(edges, all.len());
        assert!(app.world().resource::<Assets<Mesh>>().len() <= 2 * all.len(), "meshes of old shapes are kept");
    }

    #[test]
    fn dragging_leaves_no_stale_part_and_no_part_out() {
        let mut design = crate::demo();
        let mut app = App::new();
        app.insert_resource(Derived::of(&design))
            .init_resource::<Store>()
            .init_resource::<SceneReady>()
            .init_resource::<Assets<Mesh>>()
            .init_resource::<Assets<TimberLook>>()
            .init_resource::<Assets<Pencil>>()
            .add_systems(Update, keep_up);
        app.update();
        assert_shows(&mut app);
        let drags = [("carcase.width", "1100"), ("carcase.height", "2100"), ("carcase.post.width", "60"), ("sawtooth.pitch", "48")];
        for (path, value) in drags {
            casewright_core::design::decisions::set(&mut design, path, value).expect("a decision of the demo");
            app.world_mut().resource_mut::<Derived>().update(&design);
            app.update();
            assert_shows(&mut app);
        }
        casewright_core::design::edit::apply(&mut design, &casewright_core::design::edit::Edit::RemoveBay(1));
        app.world_mut().resource_mut::<Derived>().update(&design);
        app.update();
        assert_shows(&mut app);
    }
}
