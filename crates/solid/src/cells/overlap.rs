//! How far two parts stand in each other.

use glam::DVec3;

use super::body::corners;
use super::hull::Hull;
use super::moves::share;
use super::{Cell, Cells, THIN};
use crate::pose::Pose;

/// The space that two parts both claim.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Overlap {
    /// Its volume, mm³.
    pub volume: f64,
    /// How deep the parts stand in each other, mm: of the deepest piece of the overlap (one cell
    /// in one cell) the least thickness along the face normals of the two cells.
    pub depth: f64,
    /// The middle of that deepest piece in the world, mm: a point inside both.
    pub deepest_at: DVec3,
    /// The centre of its volume in the world, mm.
    pub centre: DVec3,
    /// The least corner of the upright box around it in the world, mm.
    pub min: DVec3,
    /// The greatest corner of that box, mm.
    pub max: DVec3,
}

/// One cell in one cell.
struct Piece {
    volume: f64,
    depth: f64,
    centre: DVec3,
    min: DVec3,
    max: DVec3,
}

/// The space that two placed solids both claim; `None` when it is nowhere thicker than a
/// millionth of a millimetre, so that faces that touch do not overlap.
pub fn overlap(a: &Cells, pose_a: &Pose, b: &Cells, pose_b: &Pose) -> Option<Overlap> {
    let b_in_a = pose_a.inverse().then_of(pose_b);
    let mut sum: Option<Overlap> = None;
    each_piece(a, b, &b_in_a, |piece| {
        let (min, max) = pose_a.bounds_of_box(piece.min, piece.max);
        let centre = pose_a.point(piece.centre);
        sum = Some(match sum {
            None => Overlap { volume: piece.volume, depth: piece.depth, deepest_at: centre, centre, min, max },
            Some(so_far) => {
                let volume = so_far.volume + piece.volume;
                Overlap {
                    volume,
                    depth: so_far.depth.max(piece.depth),
                    deepest_at: if piece.depth > so_far.depth { centre } else { so_far.deepest_at },
                    centre: so_far.centre.lerp(centre, piece.volume / volume),
                    min: so_far.min.min(min),
                    max: so_far.max.max(max),
                }
            }
        });
    });
    sum
}

/// Calls `visit` with every overlap of a cell of `a` and a cell of `b`, in the frame of `a`.
fn each_piece(a: &Cells, b: &Cells, b_in_a: &Pose, mut visit: impl FnMut(Piece)) {
    let (b_min, b_max) = b_in_a.bounds_of_box(b.min, b.max);
    if !share((a.min, a.max), (b_min, b_max), THIN) {
        return;
    }
    let near: Vec<&Cell> = a.pieces_where(|bounds| share(bounds, (b_min, b_max), THIN)).into_iter().map(|piece| &a.pieces[piece]).collect();
    let square = b_in_a.is_square();
    for piece in b.pieces_where(|(min, max)| share(b_in_a.bounds_of_box(min, max), (a.min, a.max), THIN)) {
        let cell = &b.pieces[piece];
        let (min, max) = b_in_a.bounds_of_box(cell.min, cell.max);
        let is_box = square && cell.hull.is_none();
        // Turned into the frame of `a` only when the boxes around two cells meet.
        let mut placed: Option<Cell> = None;
        for own in near.iter().filter(|own| own.meets(min, max)) {
            let piece = if is_box && own.hull.is_none() {
                box_in_box(own, min, max)
            } else {
                let placed = placed.get_or_insert_with(|| Cell::of_hull(cell.to_hull().mapped(b_in_a)));
                cell_in_cell(own, placed)
            };
            if let Some(piece) = piece {
                visit(piece);
            }
        }
    }
}

fn box_in_box(a: &Cell, min: DVec3, max: DVec3) -> Option<Piece> {
    let (min, max) = (a.min.max(min), a.max.min(max));
    let size = max - min;
    (size.min_element() > THIN).then(|| Piece {
        volume: size.element_product(),
        depth: size.min_element(),
        centre: (min + max) / 2.0,
        min,
        max,
    })
}

/// The overlap of two cells in one frame, of which the second has a hull.
fn cell_in_cell(a: &Cell, b: &Cell) -> Option<Piece> {
    let b_hull = b.hull.as_ref()?;
    if !a.meets(b.min, b.max) {
        return None;
    }
    if apart(a, b_hull) {
        return None;
    }
    let of_box;
    let a_hull = if let Some(hull) = &a.hull {
        hull
    } else {
        of_box = Hull::of_box(a.min, a.max);
        &of_box
    };
    let common = a_hull.common(b_hull)?;
    let depth = a_hull.sides().chain(b_hull.sides()).map(|(plane, _)| common.extent(plane.normal)).fold(f64::INFINITY, f64::min);
    let (volume, centre) = common.volume_and_centre();
    let (min, max) = common.bounds();
    (depth > THIN && volume > 0.0).then_some(Piece { volume, depth, centre, min, max })
}

/// Whether a side of one cell has the other wholly beyond it. The last sides of a hull come first:
/// they are where the cell was cut, and there its neighbour touches it.
fn apart(a: &Cell, b: &Hull) -> bool {
    let parted = |sides_of: &Hull, points: &[DVec3]| sides_of.planes_from_last().any(|plane| Hull::is_past(points, plane, THIN));
    match &a.hull {
        Some(hull) => parted(hull, b.points()) || parted(b, hull.points()),
        // The sides of the box have been asked: the boxes around the two meet.
        None => parted(b, &corners(a.min, a.max)),
    }
}
