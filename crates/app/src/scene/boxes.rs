//! The things in the case: translucent, each kind in its colour, and the rooms that take the kind that was chosen.

use bevy::math::DVec3;
use bevy::math::bounding::{Aabb3d, RayCast3d};
use bevy::prelude::*;
use casewright_core::Model;
use casewright_core::contents::Stack;
use casewright_core::contents::holds::InRoom;
use casewright_core::design::BoxKind;
use casewright_core::place::Block;

use super::edges::{Line, Pencil, line_mesh};
use super::paper;
use crate::ask::TakeApart;
use crate::derived::Derived;
use crate::keeping::{Boxes, Keeping, Kept};
use crate::session::Session;
use crate::theme;

/// How much of what is behind them is hidden, 0 to 1.
const OPACITY: f32 = 0.62;
/// How high the wash on a room's floor is drawn, mm.
const WASH: f64 = 3.0;
/// Boxes are drawn so much smaller than they are, mm, that their sides never lie in those of parts.
const OFF: f32 = 0.4;

/// What of the things was last put into the world.
#[derive(Resource, Default)]
pub struct Placed {
    /// The generation of the model, whether the places are of it, how they are shown, whether the case is together.
    state: Option<(u64, bool, Boxes, bool)>,
    /// Words that stand in the view: where, what they say and whether it is good.
    pub labels: Vec<Label>,
    /// The things in the view, each with its kind by its place in the list.
    pub things: Vec<(Block, usize)>,
}

impl Placed {
    /// The kind of the nearest thing on a ray, and how far along it that is, mm.
    pub fn first_on(&self, ray: Ray3d) -> Option<(usize, f32)> {
        let cast = RayCast3d::from_ray(ray, f32::MAX);
        let met = |(block, kind): &(Block, usize)| {
            let thing = Aabb3d { min: block.min.as_vec3().into(), max: block.max.as_vec3().into() };
            Some((*kind, cast.aabb_intersection_at(&thing)?))
        };
        self.things.iter().filter_map(met).min_by(|a, b| a.1.total_cmp(&b.1))
    }
}

/// Words at a place in the case.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// Where its middle is, mm.
    pub at: Vec3,
    /// How wide and how high the face is on which they stand, mm.
    pub on: Vec2,
    /// What they say.
    pub text: String,
    /// What they say where there is no room for that.
    pub short: String,
    /// What they are about.
    pub about: About,
}

/// What words in the case are about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum About {
    /// A thing in its place.
    Thing,
    /// A room that takes what was chosen.
    Takes,
    /// A room that does not.
    Lacks,
}

/// What things are drawn with.
#[derive(bevy::ecs::system::SystemParam)]
pub struct Made<'w> {
    meshes: ResMut<'w, Assets<Mesh>>,
    looks: ResMut<'w, Assets<StandardMaterial>>,
    pencils: ResMut<'w, Assets<Pencil>>,
}

/// Drawn for things and rooms.
#[derive(Component)]
pub struct Drawn;

/// Puts the things into the case, or takes them out.
pub fn place(
    (derived, keeping, session): (Res<Derived>, Res<Keeping>, Res<Session>),
    (boxes, apart): (Res<Boxes>, Res<TakeApart>),
    mut placed: ResMut<Placed>,
    drawn: Query<Entity, With<Drawn>>,
    windows: Query<&Window>,
    mut commands: Commands,
    made: Made,
) {
    let together = apart.amount <= 0.0;
    let known = keeping.last(derived.generation, session.design().contents.len());
    let state = (derived.generation, known.is_some_and(|(_, fresh)| fresh), *boxes, together);
    if placed.state == Some(state) {
        return;
    }
    placed.state = Some(state);
    placed.labels.clear();
    placed.things.clear();
    for entity in &drawn {
        commands.entity(entity).despawn();
    }
    let Some((kept, fresh)) = known.filter(|_| together) else { return };
    let mut brush = Brush { commands, made, scale: paper::scale(&windows) };
    if boxes.shown {
        brush.things((&derived.model, kept, &session.design().contents), boxes.chosen, &mut placed);
    }
    if let Some(rooms) = boxes.chosen.filter(|_| fresh).and_then(|chosen| kept.kinds.get(chosen)) {
        brush.rooms((&derived.model, kept), rooms, &mut placed);
    }
}

/// Puts blocks into the world.
struct Brush<'w, 's> {
    commands: Commands<'w, 's>,
    made: Made<'w>,
    /// Of the window: how many pixels to a point.
    scale: f32,
}

impl Brush<'_, '_> {
    fn block(&mut self, block: Block, colour: egui::Color32, opacity: f32, lines: &[Line]) {
        let size = block.size().as_vec3() - 2.0 * OFF;
        let [r, g, b, _] = colour.to_srgba_unmultiplied();
        let look = StandardMaterial {
            base_color: Color::srgb_u8(r, g, b).with_alpha(opacity),
            alpha_mode: AlphaMode::Blend,
            // Inside the case it is dark; colours are to be told apart.
            unlit: true,
            ..default()
        };
        let Made { meshes, looks, pencils } = &mut self.made;
        self.commands.spawn((
            Drawn,
            Mesh3d(meshes.add(shaded(size.max(Vec3::splat(0.1))))),
            MeshMaterial3d(looks.add(look)),
            Transform::from_translation(block.centre().as_vec3()),
            bevy::light::NotShadowCaster,
        ));
        if !lines.is_empty() {
            let pencil = pencils.add(Pencil::new(paper::FINE * self.scale, 0.7, 0.0));
            self.commands.spawn((Drawn, Mesh3d(meshes.add(line_mesh(lines))), MeshMaterial3d(pencil), Transform::default()));
        }
    }

    /// The things in their places, all but those of the chosen kind dim.
    fn things(&mut self, (model, kept, contents): (&Model, &Kept, &[BoxKind]), chosen: Option<usize>, placed: &mut Placed) {
        // Until new places are known, what stands on a shelf goes along with it.
        let along = kept.stay.rows.iter().flat_map(|row| {
            let room = model.rooms.iter().find(|room| (room.bay, room.shelf) == (row.bay, row.shelf));
            let up = room.map_or(0.0, |room| room.space.min.y - row.space.min.y);
            row.stacks.iter().map(move |stack| Stack { block: stack.block.moved(DVec3::Y * up), ..stack.clone() })
        });
        for stack in along {
            let dim = chosen.is_some_and(|chosen| chosen != stack.kind);
            let opacity = if dim { OPACITY * 0.35 } else { OPACITY };
            placed.things.push((stack.block, stack.kind));
            for block in pieces(&stack) {
                self.block(block, theme::kind(stack.kind), opacity, &outline(block));
            }
            if let Some(kind) = contents.get(stack.kind).filter(|_| !dim) {
                let front = stack.block.centre().with_z(stack.block.max.z).as_vec3();
                let text = if stack.count > 1 { format!("{} × {}", stack.count, kind.name) } else { kind.name.clone() };
                let size = stack.block.size();
                let on = Vec2::new(size.x as f32, size.y as f32);
                placed.labels.push(Label { at: front, on, text, short: (stack.kind + 1).to_string(), about: About::Thing });
            }
        }
    }

    /// The rooms that take the chosen kind lit, and those that do not marked.
    fn rooms(&mut self, (model, kept): (&Model, &Kept), rooms: &[InRoom], placed: &mut Placed) {
        for one in rooms {
            let holds = kept.stay.rows.iter().any(|row| {
                let here = model.rooms.get(one.room).is_some_and(|room| (room.bay, room.shelf) == (row.bay, row.shelf));
                here && !row.stacks.is_empty()
            });
            let Some((block, label)) = lit(model, one, holds) else { continue };
            if one.takes() {
                self.block(block, theme::CHALK, 0.8, &outline(block));
            } else {
                self.block(block, theme::FAIL, 0.16, &[]);
            }
            placed.labels.push(label);
        }
    }
}

/// A block whose sides are as light as they would be in the light of a room: the top most, the front less, the others least.
fn shaded(size: Vec3) -> Mesh {
    let mesh = Mesh::from(Cuboid::from_size(size));
    let light = |normal: &[f32; 3]| {
        let by = if normal[1].abs() > 0.5 {
            1.12
        } else if normal[2].abs() > 0.5 {
            1.0
        } else {
            0.86
        };
        [by, by, by, 1.0]
    };
    let colours: Vec<[f32; 4]> = match mesh.attribute(Mesh::ATTRIBUTE_NORMAL) {
        Some(bevy::mesh::VertexAttributeValues::Float32x3(normals)) => normals.iter().map(light).collect(),
        _ => return mesh,
    };
    mesh.with_inserted_attribute(Mesh::ATTRIBUTE_COLOR, colours)
}

/// Each thing of a stack by itself.
fn pieces(stack: &Stack) -> Vec<Block> {
    let (high, deep) = (stack.pile.high.max(1), stack.pile.deep.max(1));
    let size = stack.block.size();
    let one = DVec3::new(size.x, size.y / f64::from(high), size.z / f64::from(deep));
    (0..stack.count.min(high * deep))
        .map(|index| {
            // From the bottom up, each level from the front to the back.
            let (level, behind) = (f64::from(index / deep), f64::from(index % deep));
            let min = DVec3::new(stack.block.min.x, stack.block.min.y + level * one.y, stack.block.max.z - (behind + 1.0) * one.z);
            Block { min, max: min + one }
        })
        .collect()
}

/// The twelve edges of a block.
fn outline(block: Block) -> Vec<Line> {
    let (low, high) = (block.min.as_vec3() + OFF, block.max.as_vec3() - OFF);
    let corner = |bits: usize| {
        Vec3::new(
            if bits & 1 == 0 { low.x } else { high.x },
            if bits & 2 == 0 { low.y } else { high.y },
            if bits & 4 == 0 { low.z } else { high.z },
        )
    };
    let ends = (0..8).flat_map(|from| [1, 2, 4].into_iter().filter(move |bit| from & bit == 0).map(move |bit| (from, from | bit)));
    ends.map(|(from, to)| Line { a: corner(from), b: corner(to), dark: 0.8 }).collect()
}

/// The wash on the floor of a room, and what it says of the kind that was chosen.
fn lit(model: &Model, one: &InRoom, holds: bool) -> Option<(Block, Label)> {
    let space = model.rooms.get(one.room)?.space;
    let wash = Block { min: space.min, max: space.max.with_y(space.min.y + WASH) };
    let when = if holds { " when empty" } else { "" };
    let (text, about) = if one.takes() { (format!("room for {}{when}", one.many), About::Takes) } else { (one.words(), About::Lacks) };
    let at = space.centre().with_y(space.min.y).with_z(space.max.z).as_vec3() + Vec3::Y * 22.0;
    Some((wash, Label { at, on: Vec2::new(space.size().x as f32, 60.0), short: text.clone(), text, about }))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_pieces_of_a_stack_fill_it_from_the_front_and_the_bottom() {
        let design = crate::demo();
        let model = casewright_core::derive(&design).expect("the demo");
        let kept = crate::keeping::Kept::of(&design, &model, None).expect("worked out");
        let stacks: Vec<&Stack> = kept.stay.rows.iter().flat_map(|row| &row.stacks).collect();
        assert!(!stacks.is_empty());
        for stack in stacks {
            let pieces = pieces(stack);
            assert_eq!(pieces.len(), stack.count as usize);
            assert!(
                pieces.iter().all(|piece| piece.min.cmpge(stack.block.min - 1e-6).all() && piece.max.cmple(stack.block.max + 1e-6).all())
            );
            assert!((pieces[0].max.z - stack.block.max.z).abs() < 1e-6 && (pieces[0].min.y - stack.block.min.y).abs() < 1e-6);
        }
        assert_eq!(outline(Block::new((0.0, 10.0), (0.0, 10.0), (0.0, 10.0))).len(), 12);
    }
}
