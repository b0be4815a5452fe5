//! Parts that are each other's mirror image: marked out alike, with the ends, or the faces, changed over.

use casewright_solid::{Axis, Facets, Prism};
use glam::DVec3;

use crate::cutlist::Row;
use crate::model::{Face, Model, Part};

/// What changes over between a part and its mirror image.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mirrored {
    /// First and second end.
    Ends,
    /// Face side and face edge, of a square part.
    SideAndEdge,
    /// Face edge and back edge.
    Edges,
    /// Face side and back side.
    Sides,
    /// All three: ends, edges and sides.
    All,
}

impl Mirrored {
    const EVERY: [Mirrored; 5] = [Mirrored::Ends, Mirrored::SideAndEdge, Mirrored::Edges, Mirrored::Sides, Mirrored::All];

    /// What changes places, as a maker marks it out.
    pub fn words(self) -> &'static str {
        match self {
            Mirrored::Ends => "measured from the second end",
            Mirrored::SideAndEdge => "face side and face edge change places",
            Mirrored::Edges => "measured from the back edge",
            Mirrored::Sides => "measured from the back side",
            Mirrored::All => "measured from second end, back edge and back side",
        }
    }

    /// The face on which the mirror image has what a part has on a face.
    pub fn face(self, face: Face) -> Face {
        let turned = match self {
            Mirrored::Ends => face.axis() == 0,
            Mirrored::Edges => face.axis() == 1,
            Mirrored::Sides => face.axis() == 2,
            Mirrored::All => true,
            Mirrored::SideAndEdge => {
                return match face {
                    Face::FirstEnd | Face::SecondEnd => face,
                    Face::FaceEdge => Face::FaceSide,
                    Face::BackEdge => Face::BackSide,
                    Face::FaceSide => Face::FaceEdge,
                    Face::BackSide => Face::BackEdge,
                };
            }
        };
        if turned { face.opposite() } else { face }
    }

    /// Where a place of a part of `size` comes to lie.
    fn of(self, at: DVec3, size: DVec3) -> DVec3 {
        match self {
            Mirrored::Ends => at.with_x(size.x - at.x),
            Mirrored::SideAndEdge => DVec3::new(at.x, at.z, at.y),
            Mirrored::Edges => at.with_y(size.y - at.y),
            Mirrored::Sides => at.with_z(size.z - at.z),
            Mirrored::All => size - at,
        }
    }
}

/// What makes `b` the mirror image of `a`; none where it is none. Sizes and material must be the same; what they are called need not.
pub fn mirrored(a: &Part, b: &Part) -> Option<Mirrored> {
    let size = a.lwt();
    if a.kind != b.kind || a.material != b.material || a.cuts.len() != b.cuts.len() || (size - b.lwt()).abs().max_element() > SAME {
        return None;
    }
    let there = corners(b, |at| at);
    Mirrored::EVERY.into_iter().find(|way| {
        let fits = *way != Mirrored::SideAndEdge || (size.y - size.z).abs() < SAME;
        fits && corners(a, |at| way.of(at, size)) == there
    })
}

/// A row of the cut list, and the row that is its mirror image.
#[derive(Clone, Copy, Debug)]
pub struct Pair<'l> {
    /// The row.
    pub row: &'l Row,
    /// Its mirror image, and what changes over between the two.
    pub mirror: Option<(&'l Row, Mirrored)>,
}

/// Rows of which one is the other's mirror image together, all others alone; in the order of the list.
pub fn pairs<'l>(model: &Model, rows: &'l [Row]) -> Vec<Pair<'l>> {
    let mut pairs: Vec<Pair<'l>> = Vec::new();
    for row in rows {
        let Some(part) = row.parts.first().map(|id| model.part(*id)) else { continue };
        let of = pairs.iter_mut().filter(|pair| pair.mirror.is_none() && !part.cuts.is_empty()).find_map(|pair| {
            let other = model.part(*pair.row.parts.first()?);
            Some((mirrored(other, part)?, pair))
        });
        match of {
            Some((way, pair)) => pair.mirror = Some((row, way)),
            None => pairs.push(Pair { row, mirror: None }),
        }
    }
    pairs
}

/// Places nearer to each other than this are one, mm; the same grain as marks are given by.
const SAME: f64 = 1e-4;

/// The corners of what is cut out of a part, each cut's in order, and these in order.
fn corners(part: &Part, moved: impl Fn(DVec3) -> DVec3) -> Vec<Vec<[i64; 3]>> {
    let of = |prism: &Prism| {
        let mut all: Vec<[i64; 3]> = Vec::new();
        for along in [prism.from, prism.to] {
            let places = prism.profile.facets(Facets::PerTurn(16)).into_iter().map(|at| match prism.axis {
                Axis::L => DVec3::new(along, at.x, at.y),
                Axis::W => DVec3::new(at.y, along, at.x),
                Axis::T => DVec3::new(at.x, at.y, along),
            });
            all.extend(places.map(|at| moved(at).to_array().map(|mm| (mm / SAME).round() as i64)));
        }
        all.sort_unstable();
        all
    };
    let mut cuts: Vec<_> = part.solid().prisms.iter().map(of).collect();
    cuts.sort_unstable();
    cuts
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By hand: the left front post of the demo has its side frame at the back side and its front rails at the back edge, the right one the other way round.
    /// A left and a right top rail differ by their ends. The bottom rail of the front has no mirror image.
    #[test]
    fn posts_and_side_rails_of_the_demo_are_pairs() {
        let design = crate::design::text::read(include_str!("../../../examples/records_cabinet.ron")).expect("the demo");
        let model = crate::derive(&design).expect("the demo");
        let part = |name: &str| model.find(name).expect(name);
        assert_eq!(mirrored(part("post.front.left"), part("post.front.right")), Some(Mirrored::SideAndEdge));
        assert_eq!(mirrored(part("post.back.left"), part("post.back.right")), Some(Mirrored::SideAndEdge));
        assert_eq!(mirrored(part("rail.left.top"), part("rail.right.top")), Some(Mirrored::Ends));
        assert_eq!(mirrored(part("post.front.left"), part("post.back.left")), None);
        assert_eq!(mirrored(part("rail.front.bottom"), part("rail.back.bottom")), None);
    }

    /// A face is where its own corners come to lie, whatever changes over.
    #[test]
    fn a_face_comes_to_lie_where_its_places_do() {
        let size = DVec3::new(700.0, 48.0, 48.0);
        for way in Mirrored::EVERY {
            for face in [Face::FirstEnd, Face::SecondEnd, Face::FaceEdge, Face::BackEdge, Face::FaceSide, Face::BackSide] {
                let on = |face: Face, at: DVec3| (at[face.axis()] - if face.is_first() { 0.0 } else { size[face.axis()] }).abs() < 1e-9;
                let mut middle = size / 2.0;
                middle[face.axis()] = if face.is_first() { 0.0 } else { size[face.axis()] };
                assert!(on(way.face(face), way.of(middle, size)), "{way:?} {face:?}");
            }
        }
    }
}
