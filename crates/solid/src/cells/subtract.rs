//! Prisms taken out of convex cells.

use glam::DVec3;

use super::convex_parts::{Part, parts};
use super::{Cell, THIN};
use crate::cutter::Cutter;

/// A blank less prisms, as convex cells.
pub(super) fn blank_less(size: DVec3, cutters: &[Cutter]) -> Vec<Cell> {
    let mut cells = Vec::new();
    let all: Vec<&Cutter> = cutters.iter().collect();
    divide(DVec3::ZERO, size, all, &mut cells);
    cells
}

/// Divides a box by planes between its prisms, so that each is cut from a small box of its own:
/// the number of cells then grows with the number of prisms and no faster.
fn divide(min: DVec3, max: DVec3, cutters: Vec<&Cutter>, out: &mut Vec<Cell>) {
    let Some((axis, at)) = dividing_plane(min, max, &cutters) else {
        let mut cells = vec![Cell::of_box(min, max)];
        for cutter in cutters {
            cells = take_away(cells, cutter);
        }
        out.append(&mut cells);
        return;
    };
    let (below, above): (Vec<&Cutter>, Vec<&Cutter>) = cutters.into_iter().partition(|c| c.max[axis] <= at);
    let (mut middle_max, mut middle_min) = (max, min);
    middle_max[axis] = at;
    middle_min[axis] = at;
    divide(min, middle_max, below, out);
    divide(middle_min, max, above, out);
}

/// The plane that parts the prisms most evenly without running through any.
fn dividing_plane(min: DVec3, max: DVec3, cutters: &[&Cutter]) -> Option<(usize, f64)> {
    let half = cutters.len() / 2;
    let mut best: Option<(usize, usize, f64)> = None;
    let mut spans: Vec<(f64, f64)> = Vec::with_capacity(cutters.len());
    for axis in 0..3 {
        spans.clear();
        spans.extend(cutters.iter().map(|c| (c.min[axis], c.max[axis])));
        spans.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut reach = f64::NEG_INFINITY;
        for (below, span) in spans.iter().enumerate() {
            let inside = reach > min[axis] + THIN && reach < max[axis] - THIN;
            if below > 0 && span.0 >= reach && inside {
                let uneven = below.abs_diff(half);
                if best.is_none_or(|b| uneven < b.0) {
                    best = Some((uneven, axis, reach));
                }
            }
            reach = reach.max(span.1);
        }
    }
    best.map(|(_, axis, at)| (axis, at))
}

/// The cells less a prism.
pub(super) fn take_away(cells: Vec<Cell>, cutter: &Cutter) -> Vec<Cell> {
    let mut left = Vec::with_capacity(cells.len() + 8);
    let mut bodies: Option<Vec<Part>> = None;
    for cell in cells {
        if !cell.meets(cutter.min, cutter.max) {
            left.push(cell);
        } else if cutter.upright && cell.hull.is_none() {
            box_less_box(&cell, cutter.min, cutter.max, &mut left);
        } else {
            let bodies = bodies.get_or_insert_with(|| parts(cutter));
            cell_less_prism(cell, cutter, bodies, &mut left);
        }
    }
    left
}

/// Splits what lies outside the inner box off a box; gives back what lies inside.
fn box_less_box(cell: &Cell, min: DVec3, max: DVec3, out: &mut Vec<Cell>) -> Cell {
    let (mut low, mut high) = (cell.min, cell.max);
    for axis in 0..3 {
        if min[axis] > low[axis] + THIN {
            let mut end = high;
            end[axis] = min[axis];
            out.push(Cell::of_box(low, end));
            low[axis] = min[axis];
        }
        if max[axis] < high[axis] - THIN {
            let mut start = low;
            start[axis] = max[axis];
            out.push(Cell::of_box(start, high));
            high[axis] = max[axis];
        }
    }
    Cell::of_box(low, high)
}

fn cell_less_prism(cell: Cell, cutter: &Cutter, bodies: &[Part], out: &mut Vec<Cell>) {
    // Around a convex prism its box is parted off first: it keeps the many pieces beside a curve
    // small. A prism with inward corners often has what is left of the part in its midst, which
    // its box would cut in two.
    let cell = if cutter.convex && cell.hull.is_none() { box_less_box(&cell, cutter.min, cutter.max, out) } else { cell };
    let mut pieces = vec![cell];
    for body in bodies {
        let mut left = Vec::with_capacity(pieces.len() + body.planes.len());
        for piece in pieces {
            cell_less_convex(piece, body, &mut left);
        }
        pieces = left;
    }
    out.append(&mut pieces);
}

/// Splits what lies outside a convex body off a cell, plane by plane, and drops the rest.
fn cell_less_convex(cell: Cell, body: &Part, out: &mut Vec<Cell>) {
    let whole = cell.to_hull();
    let mut inner = whole.clone();
    for plane in &body.planes {
        // Nothing in common: the cell stays as it is.
        let Some(rest) = inner.inside(*plane) else {
            out.push(cell);
            return;
        };
        inner = rest;
    }
    if inner.volume_and_centre().0 <= THIN * THIN * THIN {
        out.push(cell);
        return;
    }
    let mut rest = whole;
    for plane in &body.planes {
        if let Some(outside) = rest.inside(plane.flipped()) {
            let piece = Cell::of_hull(outside);
            if (piece.max - piece.min).min_element() > THIN {
                out.push(piece);
            }
        }
        let Some(inside) = rest.inside(*plane) else {
            return;
        };
        rest = inside;
    }
}

/// What of a blank several prisms take away, as convex cells that share no volume.
pub(super) fn voids(size: DVec3, cutters: &[Cutter]) -> Vec<Cell> {
    let mut all = Vec::new();
    for (index, cutter) in cutters.iter().enumerate() {
        let mut own: Vec<Cell> = inside(size, cutter);
        for earlier in &cutters[..index] {
            own = take_away(own, earlier);
        }
        all.append(&mut own);
    }
    all
}

/// What of a blank lies in a prism.
fn inside(size: DVec3, cutter: &Cutter) -> Vec<Cell> {
    let (min, max) = (cutter.min.max(DVec3::ZERO), cutter.max.min(size));
    let blank = Cell::of_box(min, max);
    if cutter.upright {
        return vec![blank];
    }
    let hull = blank.to_hull();
    parts(cutter)
        .iter()
        .filter_map(|body| body.planes.iter().try_fold(hull.clone(), |rest, plane| rest.inside(*plane)))
        .map(Cell::of_hull)
        .collect()
}
