//! Parts drawn as they sag under their load, with what bears them: cut into short lengths, each moved down as far as the part is down there.

use bevy::asset::RenderAssetUsages;
use bevy::camera::primitives::Aabb;
use bevy::math::DVec3;
use bevy::mesh::PrimitiveTopology;
use bevy::prelude::*;
use casewright_core::loads::{Curve, Sinking};
use casewright_core::model::Part;
use casewright_solid::Shape;

use super::edges::{Line, edges_of, line_mesh};
use super::parts::{EdgesOf, Shown, Store};
use crate::ask::Sag;
use crate::derived::Derived;

/// So many lengths a part is cut into.
const LENGTHS: usize = 24;

/// What is drawn sagging.
#[derive(Resource, Default)]
pub struct Sagging {
    /// What was last put into the world: the generation of the model, whether its loads were known, and how it is drawn.
    placed: Option<(u64, bool, Sag)>,
    /// The parts that are drawn so.
    bent: Vec<Entity>,
}

/// Draws the parts as they sag, or straight again.
pub fn bend(
    (derived, sag): (Res<Derived>, Res<Sag>),
    (mut sagging, mut store): (ResMut<Sagging>, ResMut<Store>),
    mut meshes: ResMut<Assets<Mesh>>,
    mut parts: Query<(&Shown, &mut Mesh3d, &mut Aabb), Without<EdgesOf>>,
    mut edges: Query<(&mut Mesh3d, &mut Aabb), With<EdgesOf>>,
) {
    let state = (derived.generation, derived.under_load().is_some(), *sag);
    if sagging.placed == Some(state) {
        return;
    }
    sagging.placed = Some(state);
    let mut put = |entity: Entity, solid: Handle<Mesh>, lines: Handle<Mesh>, bounds: Aabb| {
        let Ok((shown, mut mesh, mut own)) = parts.get_mut(entity) else { return };
        (mesh.0, *own) = (solid, bounds);
        if let Ok((mut mesh, mut own)) = edges.get_mut(shown.edges) {
            (mesh.0, *own) = (lines, bounds);
        }
    };
    let before = std::mem::take(&mut sagging.bent);
    let names: Vec<_> = derived.model.parts.iter().filter_map(|part| Some((part, store.entity(&part.name)?))).collect();
    for (part, entity) in names.iter().filter(|(_, entity)| before.contains(entity)) {
        let Some(shape) = derived.solids.shape(part.id) else { continue };
        let (solid, lines, bounds) = store.meshes_of(shape, &mut meshes);
        put(*entity, solid, lines, bounds);
    }
    let (Some(when), Some(under)) = (sag.shown, derived.under_load()) else { return };
    let sinking = under.sinking(&derived.model, when);
    for (part, entity) in names.into_iter().filter(|(part, _)| sinking.sinks(part.id)) {
        let Some(shape) = derived.solids.shape(part.id) else { continue };
        let hang = Hang { part, sunk: Sunk::of(&sinking, part, under.curve(part.id)), times: sag.times };
        let (low, high) = shape.bounds();
        let bounds = Aabb::from_min_max(low.as_vec3(), high.as_vec3());
        // What hangs down leaves the bounds of the straight part.
        let reach = (hang.sunk.farthest() * sag.times) as f32;
        let bounds = Aabb { half_extents: bounds.half_extents + bevy::math::Vec3A::splat(reach), ..bounds };
        put(entity, meshes.add(hang.solid(shape)), meshes.add(hang.lines(shape)), bounds);
        sagging.bent.push(entity);
    }
}

/// How far down a part is, along one level axis and across it.
struct Sunk {
    /// The axis of the case along which it is told, 0 or 2.
    axis: usize,
    /// Least and greatest corner of the part.
    block: [DVec3; 2],
    /// At even steps from its first end to its second, at each of them at even steps from its first side to the other, mm.
    down: Vec<Vec<f64>>,
}

impl Sunk {
    /// Of a part, along the axis on which it bends, or else its longer one; across it in a straight line, but of what hangs through both ways in steps too.
    fn of(sinking: &Sinking<'_>, part: &Part, curve: Option<&Curve>) -> Sunk {
        let block = part.block();
        let size = block.size();
        let axis = curve.map_or(if size.x >= size.z { 0 } else { 2 }, |curve| curve.axis);
        let widths = if curve.is_some_and(Curve::is_on_points) { LENGTHS } else { 1 };
        let at = |step: usize, side: usize| {
            let mut at = block.centre();
            at[axis] = block.min[axis] + size[axis] * step as f64 / LENGTHS as f64;
            at[2 - axis] = block.min[2 - axis] + size[2 - axis] * side as f64 / widths as f64;
            sinking.down(part.id, at)
        };
        let down = (0..=LENGTHS).map(|step| (0..=widths).map(|side| at(step, side)).collect()).collect();
        Sunk { axis, block: [block.min, block.max], down }
    }

    /// So many steps it is told in across its axis.
    fn widths(&self) -> usize {
        self.down.first().map_or(1, |across| across.len().saturating_sub(1)).max(1)
    }

    /// At a place of the case, mm.
    fn at(&self, place: DVec3) -> f64 {
        let [min, max] = self.block;
        let share = |axis: usize| ((place[axis] - min[axis]) / (max[axis] - min[axis]).max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
        let along = share(self.axis) * LENGTHS as f64;
        let across = share(2 - self.axis) * self.widths() as f64;
        let first = (along.floor() as usize).min(LENGTHS - 1);
        let level = |step: usize| self.down.get(step).map_or(0.0, |down| between(down, across));
        level(first) + (level(first + 1) - level(first)) * (along - first as f64)
    }

    /// The farthest, mm.
    fn farthest(&self) -> f64 {
        self.down.iter().flatten().fold(0.0, |most, down| most.max(down.abs()))
    }
}

/// What lies between figures at even steps, in straight lines; `at` counts steps.
fn between(figures: &[f64], at: f64) -> f64 {
    let first = (at.max(0.0).floor() as usize).min(figures.len().saturating_sub(2));
    match (figures.get(first), figures.get(first + 1)) {
        (Some(near), Some(far)) => near + (far - near) * (at - first as f64),
        (Some(only), None) => *only,
        (None, _) => 0.0,
    }
}

/// How a part hangs.
struct Hang<'a> {
    part: &'a Part,
    sunk: Sunk,
    times: f64,
}

impl Hang<'_> {
    /// A point of the part, in its own measures, where it is drawn.
    fn point(&self, local: DVec3) -> Vec3 {
        let sag = self.sunk.at(self.part.pose.point(local));
        let down = self.part.pose.basis.transpose() * DVec3::NEG_Y;
        (local + down * sag * self.times).as_vec3()
    }

    /// The axes of the part along which it hangs through, and where it is cut on each, mm.
    fn cuts(&self, shape: &Shape) -> Vec<(usize, Vec<f64>)> {
        let (low, high) = shape.bounds();
        let on = |of_case: usize, steps: usize| {
            let along = self.part.pose.basis.transpose() * DVec3::AXES[of_case];
            let axis = (0..3).max_by(|a, b| along[*a].abs().total_cmp(&along[*b].abs())).unwrap_or_default();
            let step = (high[axis] - low[axis]) / steps as f64;
            (axis, (1..steps).map(|index| low[axis] + step * index as f64).collect())
        };
        vec![on(self.sunk.axis, LENGTHS), on(2 - self.sunk.axis, self.sunk.widths())]
    }

    fn solid(&self, shape: &Shape) -> Mesh {
        let cuts = self.cuts(shape);
        let mut positions: Vec<[f32; 3]> = Vec::new();
        let mut normals: Vec<[f32; 3]> = Vec::new();
        for (triangle, own) in shape.triangles.iter().zip(&shape.normals) {
            let corners: Corners = triangle.iter().zip(own).map(|(corner, normal)| (shape.positions[*corner as usize], *normal)).collect();
            let pieces = cuts
                .iter()
                .fold(vec![corners], |pieces, (axis, cuts)| pieces.into_iter().flat_map(|piece| sliced(piece, *axis, cuts)).collect());
            for piece in pieces {
                for third in 2..piece.len() {
                    for (at, normal) in [piece[0], piece[third - 1], piece[third]] {
                        positions.push(self.point(at).to_array());
                        normals.push(normal.as_vec3().to_array());
                    }
                }
            }
        }
        Mesh::new(PrimitiveTopology::TriangleList, RenderAssetUsages::default())
            .with_inserted_attribute(Mesh::ATTRIBUTE_POSITION, positions)
            .with_inserted_attribute(Mesh::ATTRIBUTE_NORMAL, normals)
    }

    fn lines(&self, shape: &Shape) -> Mesh {
        let cuts = self.cuts(shape);
        let mut lines = Vec::new();
        for line in edges_of(shape) {
            let (a, b) = (line.a.as_dvec3(), line.b.as_dvec3());
            let share = |(axis, cut): (usize, &f64)| (cut - a[axis]) / (b[axis] - a[axis]);
            let all = cuts.iter().flat_map(|(axis, cuts)| cuts.iter().map(move |cut| (*axis, cut)));
            let mut at: Vec<f64> = all.map(share).filter(|share| *share > 0.0 && *share < 1.0).collect();
            at.sort_by(f64::total_cmp);
            let stops: Vec<Vec3> = [0.0].into_iter().chain(at).chain([1.0]).map(|share| self.point(a.lerp(b, share))).collect();
            lines.extend(stops.windows(2).map(|pair| Line { a: pair[0], b: pair[1], dark: line.dark }));
        }
        line_mesh(&lines)
    }
}

/// Corners of a convex polygon, each with its normal.
type Corners = Vec<(DVec3, DVec3)>;

/// A convex polygon cut by planes across an axis.
fn sliced(polygon: Corners, axis: usize, cuts: &[f64]) -> Vec<Corners> {
    let mut pieces = Vec::new();
    let mut rest = polygon;
    for cut in cuts {
        let (below, above) = halves(&rest, axis, *cut);
        if below.len() >= 3 {
            pieces.push(below);
        }
        rest = above;
    }
    if rest.len() >= 3 {
        pieces.push(rest);
    }
    pieces
}

/// What of a convex polygon lies below a plane across an axis, and what above.
fn halves(polygon: &[(DVec3, DVec3)], axis: usize, cut: f64) -> (Corners, Corners) {
    let (mut below, mut above) = (Vec::new(), Vec::new());
    for (index, corner) in polygon.iter().enumerate() {
        let next = &polygon[(index + 1) % polygon.len()];
        let (here, there) = (corner.0[axis] - cut, next.0[axis] - cut);
        if here <= 0.0 {
            below.push(*corner);
        }
        if here >= 0.0 {
            above.push(*corner);
        }
        if here * there < 0.0 {
            let share = here / (here - there);
            let between = (corner.0.lerp(next.0, share), corner.1.lerp(next.1, share));
            below.push(between);
            above.push(between);
        }
    }
    // What only touches the plane has no room on that side.
    let has_room = |side: &[(DVec3, DVec3)]| side.iter().any(|(at, _)| (at[axis] - cut).abs() > 1e-9);
    if !has_room(&below) {
        below.clear();
    }
    if !has_room(&above) {
        above.clear();
    }
    (below, above)
}

#[cfg(test)]
mod tests {
    use casewright_core::loads::{UnderLoad, When};

    use super::*;

    /// A shelf on pins hangs through both ways, and so it is drawn: in its middle it is lower than straight between its front and its back.
    #[test]
    fn a_shelf_on_pins_is_drawn_hanging_through_both_ways() {
        let mut design = crate::demo();
        casewright_core::design::decisions::set(&mut design, "interior.bays.1.opening.system", "pins").expect("a decision");
        let model = casewright_core::derive(&design).expect("the demo on pins");
        let under = UnderLoad::of(&design, &model);
        let sinking = under.sinking(&model, When::After);
        let shelf = model.find("shelf.1.1").expect("a shelf");
        let sunk = Sunk::of(&sinking, shelf, under.curve(shelf.id));
        let block = shelf.block();
        let at = |z: f64| sunk.at(DVec3 { z, ..block.centre() });
        let straight = at(block.min.z).midpoint(at(block.max.z));
        assert!(at(block.centre().z) > straight + 0.3, "{} {straight}", at(block.centre().z));
        assert!((at(block.centre().z) - sinking.down(shelf.id, block.centre())).abs() < 0.02);
    }

    fn area(polygon: &[(DVec3, DVec3)]) -> f64 {
        (2..polygon.len()).map(|k| (polygon[k - 1].0 - polygon[0].0).cross(polygon[k].0 - polygon[0].0).length() / 2.0).sum()
    }

    #[test]
    fn slices_make_up_the_whole_and_none_is_longer_than_a_cut() {
        let corner = |x: f64, y: f64| (DVec3::new(x, y, 0.0), DVec3::Z);
        for triangle in [
            vec![corner(0.0, 0.0), corner(100.0, 0.0), corner(37.0, 20.0)],
            vec![corner(0.0, 0.0), corner(0.0, 20.0), corner(100.0, 20.0)],
            vec![corner(25.0, 0.0), corner(25.0, 5.0), corner(75.0, 0.0)],
        ] {
            let whole = area(&triangle);
            let pieces = sliced(triangle, 0, &[25.0, 50.0, 75.0]);
            assert!((pieces.iter().map(|piece| area(piece)).sum::<f64>() - whole).abs() < 1e-9);
            for piece in &pieces {
                let across = piece.iter().map(|(at, _)| at.x);
                let (least, most) = across.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), x| (least.min(x), most.max(x)));
                assert!(most - least <= 25.0 + 1e-9, "{piece:?}");
            }
        }
    }
}
