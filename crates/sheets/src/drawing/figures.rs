//! What is dimensioned in each view, each size once.

use casewright_core::derive::bay_plans;
use casewright_core::length::trimmed;
use casewright_core::model::{Part, PartKind};
use casewright_core::place::Block;
use casewright_core::{Design, Model};
use glam::DVec2;

use super::canvas::{Canvas, LETTERING, Pen, width_of};
use super::dimension::{Beside, Row, Stop};
use super::layout::Placed;

/// From a view to its first row of dimensions, mm.
const FIRST: f64 = 8.0;
/// From a row to the next, beyond what the row takes, mm.
const NEXT: f64 = 5.5;

/// A row of dimensions in the view's own measures: places along it with the edge each is taken from, and which are said.
struct Wanted {
    beside: Beside,
    stops: Vec<(f64, f64)>,
    said: Vec<bool>,
    /// What follows each figure.
    after: &'static str,
}

impl Wanted {
    /// Every stretch between stops is said.
    fn all(beside: Beside, stops: Vec<(f64, f64)>) -> Wanted {
        let said = vec![true; stops.len().saturating_sub(1)];
        Wanted { beside, stops, said, after: "" }
    }

    /// From one place to another.
    fn overall(beside: Beside, from: (f64, f64), to: (f64, f64)) -> Wanted {
        Wanted::all(beside, vec![from, to])
    }
}

/// Draws rows on one side of a view, the first nearest to it.
fn draw(canvas: &mut Canvas, placed: &Placed, rows: &[Wanted]) {
    let mut out = FIRST;
    for row in rows {
        let (min, max) = placed.bounds;
        let (low, high) = (placed.at(min.x, min.y), placed.at(max.x, max.y));
        let line = match row.beside {
            Beside::Above => high.y - out,
            Beside::Below => low.y + out,
            Beside::Left => low.x - out,
            Beside::Right => high.x + out,
        };
        let on_paper = |&(along, edge): &(f64, f64)| match row.beside {
            Beside::Above | Beside::Below => {
                let at = placed.at(along, edge);
                Stop { at: at.x, edge: at.y }
            }
            Beside::Left | Beside::Right => {
                let at = placed.at(edge, along);
                Stop { at: at.y, edge: at.x }
            }
        };
        let figures = row.stops.windows(2).zip(&row.said).map(|(pair, said)| {
            let size = (pair[1].0 - pair[0].0).abs();
            (*said && size > 5e-3).then(|| format!("{}{}", trimmed(size), row.after))
        });
        let row = Row { beside: row.beside, line, stops: row.stops.iter().map(on_paper).collect(), figures: figures.collect() };
        out += row.draw(canvas) + NEXT;
    }
}

/// Overall width, posts, bays and dividers; overall height, foot, rails and top; heights of floors and shelves.
///
/// Gives back the heights for which there was no room.
pub(super) fn front(canvas: &mut Canvas, placed: &Placed, design: &Design, model: &Model) -> Vec<String> {
    let Some(posts) = span(model, |part| part.kind == PartKind::Post) else { return Vec::new() };
    let (left, right, ground) = (posts.min.x, posts.max.x, posts.min.y);
    let mut across = vec![(left, ground)];
    let foot = rail(model, "rail.front.bottom").map_or(ground, |rail| rail.min.y);
    for bay in bay_plans(design).unwrap_or_default() {
        across.extend([(bay.left.mm, foot), (bay.right.mm, foot)]);
    }
    across.push((right, ground));
    let overall = Wanted::overall(Beside::Below, (left, ground), (right, ground));
    draw(canvas, placed, &[Wanted::all(Beside::Below, across), overall]);

    let top = placed.bounds.1.y;
    let mut up = vec![(ground, left)];
    for name in ["rail.front.bottom", "rail.front.top"] {
        if let Some(rail) = rail(model, name) {
            up.extend([(rail.min.y, left), (rail.max.y, left)]);
        }
    }
    let slab = span(model, |part| part.kind == PartKind::Top);
    if let Some(slab) = slab {
        up.extend([(slab.min.y, slab.min.x), (slab.max.y, slab.min.x)]);
    }
    up.dedup_by(|a, b| (a.0 - b.0).abs() < 5e-3);
    let edge = slab.map_or(left, |slab| slab.min.x);
    draw(canvas, placed, &[Wanted::all(Beside::Left, up), Wanted::overall(Beside::Left, (ground, left), (top, edge))]);
    if let Some(slab) = slab {
        draw(canvas, placed, &[Wanted::overall(Beside::Above, (slab.min.x, top), (left, slab.min.y))]);
    }
    levels(canvas, placed, model)
}

/// Depth over the posts, the posts, what the top stands over; the rails between top and bottom.
pub(super) fn left(canvas: &mut Canvas, placed: &Placed, model: &Model) {
    let Some(posts) = span(model, |part| part.kind == PartKind::Post) else { return };
    let (back, front, ground) = (posts.min.z, posts.max.z, posts.min.y);
    let mut across = vec![(back, ground), (front, ground)];
    for post in model.parts.iter().filter(|part| part.kind == PartKind::Post) {
        let block = post.block();
        across.extend([(block.min.z, ground), (block.max.z, ground)]);
    }
    in_order(&mut across);
    let overall = Wanted::overall(Beside::Below, (back, ground), (front, ground));
    draw(canvas, placed, &[Wanted::all(Beside::Below, across), overall]);
    if let Some(slab) = span(model, |part| part.kind == PartKind::Top) {
        let stops = vec![(slab.min.z, slab.max.y), (back, slab.min.y), (front, slab.min.y), (slab.max.z, slab.max.y)];
        draw(canvas, placed, &[Wanted { beside: Beside::Above, stops, said: vec![true, false, true], after: "" }]);
    }
    middle_rails(canvas, placed, model);
}

fn middle_rails(canvas: &mut Canvas, placed: &Placed, model: &Model) {
    let mut stops = Vec::new();
    let mut middle = false;
    for part in model.parts.iter().filter(|part| part.name.starts_with("rail.left.")) {
        let block = part.block();
        middle |= part.name.contains(".middle.");
        stops.extend([(block.min.y, block.max.z), (block.max.y, block.max.z)]);
    }
    if !middle {
        return;
    }
    in_order(&mut stops);
    // The bottom and the top rail have their dimensions in the front view.
    let mut said = vec![true; stops.len().saturating_sub(1)];
    if let (true, Some(last)) = (said.len() > 2, said.len().checked_sub(1)) {
        said[0] = false;
        said[last] = false;
    }
    draw(canvas, placed, &[Wanted { beside: Beside::Right, stops, said, after: "" }]);
}

/// The top that is taken off, and its sizes; the clear depth for what is kept.
pub(super) fn plan(canvas: &mut Canvas, placed: &Placed, model: &Model) {
    if let Some(room) = model.rooms.first() {
        let [back, front] = [room.space.min, room.space.max].map(|at| placed.view.project(at));
        let edge = placed.bounds.0.x;
        let clear = Wanted::overall(Beside::Left, (front.y, edge), (back.y, edge));
        draw(canvas, placed, &[Wanted { after: " clear", ..clear }]);
    }
    let Some(slab) = span(model, |part| part.kind == PartKind::Top) else { return };
    let (a, b) = (placed.view.project(slab.min).truncate(), placed.view.project(slab.max).truncate());
    let (min, max) = (a.min(b), a.max(b));
    let (corner, far) = (placed.at(min.x, max.y), placed.at(max.x, min.y));
    canvas.rectangle(Pen::TakenOff, corner, far);
    draw(canvas, placed, &[Wanted::overall(Beside::Below, (min.x, min.y), (max.x, min.y))]);
    draw(canvas, placed, &[Wanted::overall(Beside::Right, (min.y, max.x), (max.y, max.x))]);
}

/// Heights of floors and shelves from the ground: a triangle on each, with its figure. Those without room come back in words.
fn levels(canvas: &mut Canvas, placed: &Placed, model: &Model) -> Vec<String> {
    let mut left_over = Vec::new();
    let mut floors: Vec<f64> = Vec::new();
    for room in &model.rooms {
        let (low, high) = (room.space.min, room.space.max);
        let figure = trimmed(low.y);
        let (from, to) = (placed.at(low.x, low.y), placed.at(high.x, high.y));
        let wide = 2.0 * TRIANGLE + 1.0 + width_of(&figure);
        // The floor runs through; its height is said once.
        if room.shelf.is_none() {
            if floors.iter().any(|floor| (floor - low.y).abs() < 5e-3) {
                continue;
            }
            floors.push(low.y);
        }
        let narrow = to.x - from.x < wide + 2.0 || from.y - to.y < LETTERING + 1.6;
        if narrow {
            left_over.push(format!("{} {figure}", room.name));
            continue;
        }
        let foot = DVec2::new(f64::midpoint(from.x, to.x) - wide / 2.0 + TRIANGLE, from.y);
        let (a, b) = (foot + DVec2::new(-TRIANGLE, -TRIANGLE * 1.7), foot + DVec2::new(TRIANGLE, -TRIANGLE * 1.7));
        canvas.line(Pen::Thin, foot, a);
        canvas.line(Pen::Thin, a, b);
        canvas.line(Pen::Thin, b, foot);
        canvas.figure_on_blank(foot + DVec2::new(TRIANGLE + 1.0, -LETTERING / 2.0 - 0.7), &figure);
    }
    left_over
}

/// Half the width of a level's triangle, mm.
const TRIANGLE: f64 = 1.1;

/// The box round all parts of a kind.
fn span(model: &Model, wanted: impl Fn(&Part) -> bool) -> Option<Block> {
    let blocks = model.parts.iter().filter(|part| wanted(part)).map(Part::block);
    blocks.reduce(|a, b| Block { min: a.min.min(b.min), max: a.max.max(b.max) })
}

fn rail(model: &Model, name: &str) -> Option<Block> {
    model.find(name).map(Part::block)
}

fn in_order(stops: &mut Vec<(f64, f64)>) {
    stops.sort_by(|a, b| a.0.total_cmp(&b.0));
    stops.dedup_by(|a, b| (a.0 - b.0).abs() < 5e-3);
}
