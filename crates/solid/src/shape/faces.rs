//! The faces in every supporting plane.

use glam::{DVec2, DVec3};

use super::contours::{Contours, Engine, Polygon, Rect, clip_to_rect, contains};
use super::plane::Plane;
use super::section::section;
use super::skin::{Skin, Surface};
use super::strips::around_strips;
use super::{Arc, FaceOrigin};
use crate::axis::Axis;
use crate::cutter::{Cutter, TOUCH};
use crate::facet::WallTag;

/// A wall or an end of a prism that others may cut into or share a plane with.
struct Candidate {
    plane: Plane,
    surface: Surface,
    /// The cutter it belongs to.
    owner: usize,
    /// The part of the plane inside the blank.
    window: Rect,
    outline: Vec<DVec2>,
    around: Rect,
    /// Whether the outline is the whole rectangle around it.
    upright: bool,
}

/// Finds all faces of a blank of `size` less `cutters` and adds them to `skin`.
pub(super) fn collect(size: DVec3, cutters: &[Cutter], skin: &mut Skin) {
    let mut engine = Engine::new();
    for axis in Axis::ALL {
        for far in [false, true] {
            blank_face(size, axis, far, cutters, &mut engine, skin);
        }
    }
    let mut candidates = Vec::new();
    for index in 0..cutters.len() {
        walls(size, cutters, index, &mut candidates, skin);
        ends(size, cutters, index, &mut candidates, skin);
    }
    for group in by_plane(candidates) {
        shared_plane(&group, cutters, &mut engine, skin);
    }
}

/// A side of the blank, less what prisms take from it.
fn blank_face(size: DVec3, axis: Axis, far: bool, cutters: &[Cutter], engine: &mut Engine, skin: &mut Skin) {
    let height = if far { size[axis.index()] } else { 0.0 };
    let plane = Plane::across(axis, height, far);
    let surface = Surface::new(&plane, FaceOrigin::Blank { axis, far }, None);
    let rect = Rect { min: DVec2::ZERO, max: plane.flatten(size) };
    let mut cuts = Contours::default();
    let bounds = plane.bounds(rect);
    for cutter in cutters.iter().filter(|c| c.touches(bounds)) {
        section(&plane, cutter, rect, &mut cuts);
    }
    let around: Vec<Rect> = cuts.iter().map(Rect::around).collect();
    let alone = |i: usize| rect.holds(around[i], TOUCH) && (0..around.len()).all(|j| j == i || !around[i].meets(around[j], TOUCH));
    let (holes, joined): (Vec<usize>, Vec<usize>) = (0..cuts.len()).partition(|&i| alone(i));
    if joined.is_empty() {
        skin.begin(surface);
        skin.outline(&plane, rect.corners().into_iter());
        for hole in holes {
            skin.outline(&plane, cuts.get(hole).iter().rev().copied());
        }
        skin.end();
        return;
    }
    engine.begin();
    engine.add_subject(&rect.corners());
    for i in joined {
        engine.add_clip(cuts.get(i));
    }
    let mut polygons = engine.difference();
    for hole in holes {
        let hole: Vec<DVec2> = cuts.get(hole).iter().rev().copied().collect();
        let inside = |p: &&mut Polygon| p.first().is_some_and(|outer| contains(outer, hole[0]));
        if let Some(polygon) = polygons.iter_mut().find(inside) {
            polygon.push(hole);
        }
    }
    for polygon in polygons {
        skin.polygon(&plane, surface, &polygon);
    }
}

/// The walls of a prism: those that nothing else comes near go straight to the skin.
fn walls(size: DVec3, cutters: &[Cutter], owner: usize, candidates: &mut Vec<Candidate>, skin: &mut Skin) {
    let cutter = &cutters[owner];
    let neighbours = neighbours(cutters, owner);
    for (index, tag) in cutter.tags.iter().enumerate() {
        let (p, q) = cutter.wall(index);
        let (plane, rect) = Plane::of_wall(cutter.axis, p, q, (cutter.lo, cutter.hi));
        let Some(window) = plane.window(size) else {
            continue;
        };
        let rect = rect.intersection(window);
        if rect.is_empty() {
            continue;
        }
        let surface = wall_surface(cutter, &plane, p, *tag);
        let bounds = plane.bounds(rect);
        if neighbours.iter().any(|&n| cutters[n].touches(bounds)) {
            candidates.push(Candidate { plane, surface, owner, window, outline: rect.corners().to_vec(), around: rect, upright: true });
        } else {
            skin.begin(surface);
            skin.outline(&plane, rect.corners().into_iter());
            skin.end();
        }
    }
}

/// What the wall over the edge that starts at `corner` is part of.
fn wall_surface(cutter: &Cutter, plane: &Plane, corner: DVec2, tag: WallTag) -> Surface {
    let origin = FaceOrigin::Wall { prism: cutter.prism, segment: tag.segment };
    let arc = tag.arc.map(|centre| Arc { axis: cutter.axis, centre, radius: centre.distance(corner) });
    Surface::new(plane, origin, arc)
}

/// The two ends of a prism that lie inside the blank.
fn ends(size: DVec3, cutters: &[Cutter], owner: usize, candidates: &mut Vec<Candidate>, skin: &mut Skin) {
    let cutter = &cutters[owner];
    for (height, far) in [(cutter.lo, false), (cutter.hi, true)] {
        // At its low end the prism lies above, so the normal into it points up.
        let plane = Plane::across(cutter.axis, height, !far);
        let Some(window) = plane.window(size) else {
            continue;
        };
        let surface = Surface::new(&plane, FaceOrigin::End { prism: cutter.prism, far }, None);
        let whole = Rect { min: cutter.outline_min, max: cutter.outline_max };
        let around = whole.intersection(window);
        let inside = window.holds(whole, 0.0);
        let bounds = plane.bounds(around);
        let crowded = || neighbours(cutters, owner).into_iter().any(|n| cutters[n].touches(bounds));
        let outline = if inside { cutter.outline.clone() } else { clip_to_rect(&cutter.outline, window) };
        if outline.len() < 3 {
            continue;
        }
        if (cutter.convex || inside) && !crowded() {
            skin.begin(surface);
            skin.outline(&plane, outline.into_iter());
            skin.end();
        } else {
            let upright = cutter.upright;
            candidates.push(Candidate { plane, surface, owner, window, outline, around, upright });
        }
    }
}

/// The other cutters whose boxes come near one's own.
fn neighbours(cutters: &[Cutter], owner: usize) -> Vec<usize> {
    let own = &cutters[owner];
    (0..cutters.len()).filter(|&i| i != owner && cutters[i].touches((own.min, own.max))).collect()
}

/// Candidates that lie in one plane and face the same way, together.
fn by_plane(candidates: Vec<Candidate>) -> Vec<Vec<Candidate>> {
    let mut groups: Vec<Vec<Candidate>> = Vec::new();
    for candidate in candidates {
        let same = |group: &&mut Vec<Candidate>| group[0].plane.coincides(&candidate.plane, candidate.around);
        match groups.iter_mut().find(same) {
            Some(group) => group.push(candidate),
            None => groups.push(vec![candidate]),
        }
    }
    groups
}

/// The faces in a plane that several prisms come near.
fn shared_plane(group: &[Candidate], cutters: &[Cutter], engine: &mut Engine, skin: &mut Skin) {
    let Some(first) = group.first() else {
        return;
    };
    let plane = &first.plane;
    let around = group.iter().map(|c| c.around).reduce(Rect::union).unwrap_or(first.around);
    let bounds = plane.bounds(around);
    let mut sections = Contours::default();
    let mut convex = true;
    for (index, cutter) in cutters.iter().enumerate() {
        // A convex prism takes nothing from its own walls.
        let own = group.len() == 1 && index == first.owner && cutter.convex;
        if !own && cutter.touches(bounds) {
            section(plane, cutter, first.window, &mut sections);
            convex &= cutter.convex;
        }
    }
    // What lies outside the faces' own rectangle would only make the engine work.
    let meets = |cut: &&[DVec2]| Rect::around(cut).meets(around, 0.0);
    let cuts: Vec<Vec<DVec2>> =
        sections.iter().filter(meets).map(|cut| clip_to_rect(cut, around)).filter(|cut| !Rect::around(cut).is_thin()).collect();
    if let [only] = group
        && only.upright
        && convex
        && let Some(pieces) = around_strips(around, &cuts)
    {
        for piece in pieces {
            skin.polygon(plane, only.surface, &vec![piece]);
        }
        return;
    }
    engine.begin();
    for candidate in group {
        engine.add_subject(&candidate.outline);
    }
    for cut in &cuts {
        engine.add_clip(cut);
    }
    for polygon in engine.difference() {
        let place = polygon.first().map_or(around, |outer| Rect::around(outer));
        skin.polygon(plane, maker(group, place).map_or(first.surface, |c| c.surface), &polygon);
    }
}

/// The one of several faces in a plane that a piece of their union belongs to.
fn maker(group: &[Candidate], piece: Rect) -> Option<&Candidate> {
    let holding = group.iter().find(|c| c.around.holds(piece, -1e-6));
    holding.or_else(|| group.iter().find(|c| c.around.meets(piece, -1e-6)))
}
