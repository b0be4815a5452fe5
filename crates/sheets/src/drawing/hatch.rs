//! What is cut, as a wood drawing shows it: end grain in slanting lines drawn by hand, long grain in lines along it, panels in lines across
//! their thickness.
//!
//! Parts that touch are hatched in other directions, a third one closer; common practice of trade drawings.

use casewright_core::Model;
use casewright_core::model::{Material, Part};
use casewright_solid::view::CutFace;
use glam::DVec2;

use super::drawn::Drawn;
use super::from::{From, Standing};
use super::page::{Area, Fill, Pen, Stroke};

/// Between the lines of end grain on paper, mm.
const END_GRAIN: f64 = 1.9;
/// Between those of long grain, mm.
const LONG_GRAIN: f64 = 2.1;
/// Lines no closer than this, mm.
const CLOSEST: f64 = 0.6;
/// How far a line drawn by hand strays, mm.
const STRAY: f64 = 0.1;

/// How the cut through a part is shown.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Cut {
    /// Across its grain.
    End,
    /// Along its grain, which runs so in the view.
    Long(DVec2),
    /// Through a panel, whose thickness runs so in the view and is so great, mm.
    Panel(DVec2, f64),
    /// Along the face of a panel.
    Face,
    /// Through metal.
    Metal,
}

fn cut(model: &Model, part: &Part, from: From) -> Cut {
    let seen = |axis: usize| from.see(part.pose.basis.col(axis));
    match &part.material {
        Material::Bought(_) => Cut::Metal,
        material if material.is_boards() || model.timbers.species(material.id()).is_some() => {
            let along = seen(0);
            if along.z.abs() > 0.7 { Cut::End } else { Cut::Long(along.truncate().normalize_or(DVec2::X)) }
        }
        Material::Solid(_) | Material::Sheet(_) => {
            let thick = seen(2);
            if thick.z.abs() > 0.7 { Cut::Face } else { Cut::Panel(thick.truncate().normalize_or(DVec2::Y), part.lwt().z) }
        }
    }
}

/// Draws what a plane cuts: outlines, and what fills them.
pub(super) fn draw(drawn: &mut Drawn<'_>, model: &Model, standing: &Standing<'_>, cuts: &[CutFace]) {
    draw_within(drawn, model, standing, cuts, None);
}

/// The same within a window, mm of the view; where a cut runs out of it a narrow line ends it.
pub(super) fn draw_within(drawn: &mut Drawn<'_>, model: &Model, standing: &Standing<'_>, cuts: &[CutFace], window: Option<(DVec2, DVec2)>) {
    let turns = turns(cuts);
    for (face, turn) in cuts.iter().zip(turns) {
        let Some(part) = standing.parts.get(face.body) else { continue };
        let shown: Vec<Vec<DVec2>> =
            face.loops.iter().map(|outline| window.map_or_else(|| outline.clone(), |window| clipped(outline, window))).collect();
        let loops: Vec<Vec<DVec2>> = shown.iter().map(|outline| outline.iter().map(|at| drawn.at(*at)).collect()).collect();
        let closer = if turn >= 2 { 0.6 } else { 1.0 };
        let slant = DVec2::from_angle(if turn % 2 == 0 { -std::f64::consts::FRAC_PI_4 } else { std::f64::consts::FRAC_PI_4 });
        let seed = part.id.0 as u64 * 7919 + face.loops.len() as u64;
        // On paper y runs down.
        let down = |way: DVec2| DVec2::new(way.x, -way.y);
        let strokes = match cut(model, part, drawn.from) {
            Cut::End => lines(&loops, slant, END_GRAIN * closer, seed),
            Cut::Long(along) => lines(&loops, down(along), LONG_GRAIN * closer, seed),
            Cut::Panel(across, thick) => lines(&loops, down(across), (thick / drawn.scale / 2.0).max(CLOSEST), seed),
            Cut::Face => Vec::new(),
            Cut::Metal => {
                drawn.ink.areas.push(Area { loops: loops.clone(), fill: Fill::Ink });
                Vec::new()
            }
        };
        drawn.ink.strokes.extend(strokes);
        for (outline, on_paper) in shown.iter().zip(loops) {
            let Some(window) = window else {
                let closed = on_paper.iter().chain(on_paper.first()).copied().collect();
                drawn.ink.strokes.push(Stroke { pen: Pen::Edge, points: closed });
                continue;
            };
            for ((a, b), (from, to)) in sides(outline).zip(sides(&on_paper)) {
                let ends = (0..2).any(|axis| {
                    [window.0[axis], window.1[axis]].iter().any(|side| (a[axis] - side).abs() < 1e-6 && (b[axis] - side).abs() < 1e-6)
                });
                drawn.ink.line(if ends { Pen::Behind } else { Pen::Edge }, from, to);
            }
        }
    }
}

fn sides(outline: &[DVec2]) -> impl Iterator<Item = (DVec2, DVec2)> + '_ {
    outline.iter().copied().zip(outline.iter().skip(1).chain(outline.first()).copied())
}

/// What of an outline lies within a window: cut off at one side of it after another (Sutherland and Hodgman 1974).
pub(crate) fn clipped(outline: &[DVec2], (min, max): (DVec2, DVec2)) -> Vec<DVec2> {
    let mut left = outline.to_vec();
    for (axis, side, sign) in [(0, min.x, 1.0), (0, max.x, -1.0), (1, min.y, 1.0), (1, max.y, -1.0)] {
        let depth = |at: DVec2| (at[axis] - side) * sign;
        let mut next = Vec::with_capacity(left.len() + 4);
        for (a, b) in sides(&left) {
            let (from, to) = (depth(a), depth(b));
            if from >= 0.0 {
                next.push(a);
            }
            if (from > 0.0 && to < 0.0) || (from < 0.0 && to > 0.0) {
                let mut crossing = a.lerp(b, from / (from - to));
                crossing[axis] = side;
                next.push(crossing);
            }
        }
        left = next;
    }
    left
}

/// A number for each cut, so that those that touch have different ones.
fn turns(cuts: &[CutFace]) -> Vec<usize> {
    let boxes: Vec<(DVec2, DVec2)> = cuts
        .iter()
        .map(|cut| {
            let corners = cut.loops.iter().flatten().map(|at| (*at, *at));
            corners.reduce(|a, b| (a.0.min(b.0), a.1.max(b.1))).unwrap_or_default()
        })
        .collect();
    let touch = |a: &(DVec2, DVec2), b: &(DVec2, DVec2)| (a.0 - 2.0).cmple(b.1).all() && (b.0 - 2.0).cmple(a.1).all();
    let mut turns: Vec<usize> = Vec::new();
    for one in &boxes {
        let taken: Vec<usize> = turns.iter().zip(&boxes).filter(|(_, other)| touch(one, other)).map(|(turn, _)| *turn).collect();
        turns.push((0..4).find(|turn| !taken.contains(turn)).unwrap_or(0));
    }
    turns
}

/// Lines along a direction within outlines, as a hand draws them.
fn lines(loops: &[Vec<DVec2>], way: DVec2, spacing: f64, seed: u64) -> Vec<Stroke> {
    let aside = way.perp();
    let sides = || loops.iter().flat_map(|outline| sides(outline));
    let reach =
        sides().map(|(at, _)| aside.dot(at)).fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)));
    if !(reach.1 - reach.0).is_finite() {
        return Vec::new();
    }
    let count = (((reach.1 - reach.0) / spacing).round().max(1.0) as u64).min(4000);
    let step = (reach.1 - reach.0) / count as f64;
    let mut strokes = Vec::new();
    for number in 0..count {
        let offset = reach.0 + step * (number as f64 + 0.5 + 0.18 * noise(seed, number));
        let mut crossings: Vec<f64> = sides()
            .filter_map(|(a, b)| {
                let (high, low) = (aside.dot(a) - offset, aside.dot(b) - offset);
                ((high > 0.0) != (low > 0.0)).then(|| way.dot(a.lerp(b, high / (high - low))))
            })
            .collect();
        crossings.sort_by(f64::total_cmp);
        for pair in crossings.chunks_exact(2).filter(|pair| pair[1] - pair[0] > 0.2) {
            strokes.push(by_hand(way, aside, offset, (pair[0], pair[1]), seed ^ (number << 8)));
        }
    }
    strokes
}

/// A line that strays a little between its ends.
fn by_hand(way: DVec2, aside: DVec2, offset: f64, (from, to): (f64, f64), seed: u64) -> Stroke {
    let pieces = ((to - from) / 14.0).ceil().clamp(1.0, 60.0) as u64;
    let stray = STRAY.min((to - from) * 0.03);
    let at = |number: u64| {
        let inner = number > 0 && number < pieces;
        let off = offset + if inner { stray * noise(seed, number) } else { 0.0 };
        way * (from + (to - from) * number as f64 / pieces as f64) + aside * off
    };
    Stroke { pen: Pen::Hatch, points: (0..=pieces).map(at).collect() }
}

/// The same number from -1 to 1 every time, another for each place.
fn noise(seed: u64, place: u64) -> f64 {
    let mut mixed = seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) ^ place.wrapping_mul(0xbf58_476d_1ce4_e5b9);
    mixed ^= mixed >> 29;
    mixed = mixed.wrapping_mul(0x94d0_49bb_1331_11eb);
    mixed ^= mixed >> 32;
    (mixed % 2001) as f64 / 1000.0 - 1.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_stay_within_the_outline_and_out_of_holes() {
        let square = |low: f64, high: f64| vec![DVec2::new(low, low), DVec2::new(high, low), DVec2::new(high, high), DVec2::new(low, high)];
        let all = lines(&[square(0.0, 30.0), square(10.0, 20.0)], DVec2::X, 1.5, 3);
        assert!(all.len() > 20);
        for at in all.iter().flat_map(|stroke| &stroke.points) {
            let (hole, out) =
                (at.x > 10.01 && at.x < 19.99 && at.y > 10.2 && at.y < 19.8, at.min_element() < -0.01 || at.max_element() > 30.01);
            assert!(!hole && !out, "{at}");
        }
    }
}
