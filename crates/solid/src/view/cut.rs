//! What a plane cuts of a solid.

use std::collections::HashMap;

use glam::{DVec2, DVec3};

use super::{Body, Sight};

/// Corners nearer than this to the straight way between their neighbours are none, mm.
const STRAIGHT: f64 = 1e-7;

/// What reaches past the plane by less than this only touches it, mm.
const TOUCHES: f64 = 1e-6;

/// The face that a plane square to the line of sight leaves of a body.
#[derive(Clone, Debug, PartialEq)]
pub struct CutFace {
    /// The body, by its place among those that were given.
    pub body: usize,
    /// Its outlines, to the right and up, mm: the material is to their left.
    pub loops: Vec<Vec<DVec2>>,
}

impl CutFace {
    /// Its area, mm².
    pub fn area(&self) -> f64 {
        let turn = |outline: &Vec<DVec2>| {
            let next = outline.iter().skip(1).chain(outline.first());
            outline.iter().zip(next).map(|(a, b)| a.perp_dot(*b)).sum::<f64>() / 2.0
        };
        self.loops.iter().map(turn).sum()
    }

    /// Whether a place lies in it.
    pub fn contains(&self, at: DVec2) -> bool {
        let crosses = |outline: &Vec<DVec2>| {
            let next = outline.iter().skip(1).chain(outline.first());
            let sides = outline.iter().zip(next);
            sides.filter(|(c, d)| (c.y > at.y) != (d.y > at.y) && at.x < c.x + (at.y - c.y) / (d.y - c.y) * (d.x - c.x)).count()
        };
        self.loops.iter().map(crosses).sum::<usize>() % 2 == 1
    }
}

/// What the plane so near, mm along the line of sight, cuts of a body; nothing where it misses or only touches it. Where a body that is
/// cut has a face in the plane, that counts as cut away, so that every outline closes.
pub fn cut_face(body: &Body<'_>, sight: &Sight, at: f64, number: usize) -> Option<CutFace> {
    let seen: Vec<DVec3> = (0..body.shape.positions.len() as u32).map(|vertex| body.seen(sight, vertex)).collect();
    let reaches = |before: bool| seen.iter().any(|place| if before { place.z > at + TOUCHES } else { place.z < at - TOUCHES });
    if !(reaches(true) && reaches(false)) {
        return None;
    }
    let is_near = |vertex: u32| seen[vertex as usize].z >= at;
    // The surface goes from one edge that crosses the plane to the next; each is crossed once either way.
    let mut next: HashMap<[u32; 2], [u32; 2]> = HashMap::new();
    for corners in &body.shape.triangles {
        let sides = [0, 1, 2].map(|i| [corners[i], corners[(i + 1) % 3]]);
        let down = sides.iter().find(|side| is_near(side[0]) && !is_near(side[1]));
        let up = sides.iter().find(|side| !is_near(side[0]) && is_near(side[1]));
        if let (Some(down), Some(up)) = (down, up) {
            next.insert(key(*down), key(*up));
        }
    }
    let place = |[a, b]: [u32; 2]| {
        let (a, b) = (seen[a as usize], seen[b as usize]);
        a.lerp(b, (at - a.z) / (b.z - a.z)).truncate()
    };
    let mut starts: Vec<[u32; 2]> = next.keys().copied().collect();
    starts.sort_unstable();
    let mut loops = Vec::new();
    for start in starts {
        let mut outline = Vec::new();
        let mut here = start;
        while let Some(to) = next.remove(&here) {
            outline.push(place(here));
            here = to;
        }
        let outline = plain(outline);
        if outline.len() > 2 {
            loops.push(outline);
        }
    }
    (!loops.is_empty()).then_some(CutFace { body: number, loops })
}

/// An edge from either end.
fn key([a, b]: [u32; 2]) -> [u32; 2] {
    [a.min(b), a.max(b)]
}

/// An outline without corners on straight ways.
fn plain(mut outline: Vec<DVec2>) -> Vec<DVec2> {
    let mut index = 0;
    while outline.len() > 2 && index < outline.len() {
        let count = outline.len();
        let (before, here, after) = (outline[(index + count - 1) % count], outline[index], outline[(index + 1) % count]);
        let way = after - before;
        let off = if way.length() < STRAIGHT { here.distance(before) } else { way.perp_dot(here - before).abs() / way.length() };
        let between = way.dot(here - before) >= -STRAIGHT && way.dot(here - before) <= way.length_squared() + STRAIGHT;
        if off < STRAIGHT && between || here.distance(before) < STRAIGHT {
            outline.remove(index);
            index = index.saturating_sub(1);
        } else {
            index += 1;
        }
    }
    outline
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Axis, Facets, Pose, Prism, Profile, Solid};

    fn front() -> Sight {
        Sight::new(DVec3::X, DVec3::Y).expect("two directions")
    }

    fn area(prisms: Vec<Prism>, at: f64) -> Option<f64> {
        let solid = Solid { size: DVec3::new(200.0, 80.0, 30.0), prisms };
        let shape = solid.shape(Facets::ChordError(0.05)).expect("a shape");
        cut_face(&Body { shape: &shape, pose: Pose::IDENTITY }, &front(), at, 0).map(|cut| cut.area())
    }

    #[test]
    fn a_board_is_cut_over_all_of_it_and_only_within() {
        assert_eq!(area(Vec::new(), 12.0), Some(200.0 * 80.0));
        assert_eq!([0.0, 30.0, 30.1].map(|at| area(Vec::new(), at)), [None; 3]);
    }

    /// Held against the area of a circle: the facets stand within a twentieth of a millimetre of it.
    #[test]
    fn a_pocket_and_a_hole_are_left_out_where_they_reach() {
        let pocket = Prism { axis: Axis::T, from: 20.0, to: 31.0, profile: Profile::rect(DVec2::new(20.0, 20.0), DVec2::new(60.0, 50.0)) };
        let hole = Prism { axis: Axis::T, from: -1.0, to: 31.0, profile: Profile::circle(DVec2::new(140.0, 40.0), 12.0) };
        let round = std::f64::consts::PI * 144.0;
        let of = |at| area(vec![pocket.clone(), hole.clone()], at).expect("a cut");
        assert!((of(25.0) - (16000.0 - 1200.0 - round)).abs() < 0.05 * 76.0);
        assert!((of(10.0) - (16000.0 - round)).abs() < 0.05 * 76.0);
    }
}
