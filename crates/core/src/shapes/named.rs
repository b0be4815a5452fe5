//! What the faces and edges of a part's shape are to its maker.

use casewright_solid::{Axis, FaceOrigin};
use glam::DVec3;

use super::Made;
use crate::length::trimmed;
use crate::model::{Face, Part};

/// A flat face of a part's shape, named and measured as on the bench: L from the first end, W from the face edge, T from the face side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NamedFace {
    /// Which face of the blank it is; of a wall or a floor of a cut, the face that looks most nearly the same way.
    pub face: Face,
    /// The cut whose wall or floor it is, by its place in [`Part::cuts`]; none for what is left of the blank's own faces.
    pub cut: Option<usize>,
    /// Where it begins along L, W and T, mm.
    pub from: DVec3,
    /// Where it ends along L, W and T, mm.
    pub to: DVec3,
}

/// A straight edge of a part's shape, measured like a [`NamedFace`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NamedEdge {
    /// The two faces that meet in it.
    pub faces: [NamedFace; 2],
    /// Where it begins along L, W and T, mm.
    pub from: DVec3,
    /// Where it ends along L, W and T, mm.
    pub to: DVec3,
    /// Whether it stands out; false in an inner corner.
    pub stands_out: bool,
}

impl Made {
    /// What a face of the shape is; `face` counts in [`Shape::faces`](casewright_solid::Shape), `part` is the part the solid was made of.
    /// Nothing when the number is out of range.
    pub fn named_face(&self, part: &Part, face: usize) -> Option<NamedFace> {
        let flat = self.shape.faces.get(face)?;
        let (named, cut) = match flat.origin {
            FaceOrigin::Blank { axis, far } => (of_blank(axis, far), None),
            FaceOrigin::Wall { prism, .. } | FaceOrigin::End { prism, .. } => (Face::looking(flat.normal), cut_of_prism(part, prism)),
        };
        let corners = || self.shape.loops(face).flatten().map(|&vertex| self.shape.positions[vertex as usize]);
        let from = corners().reduce(DVec3::min)?;
        let to = corners().reduce(DVec3::max)?;
        Some(NamedFace { face: named, cut, from, to })
    }

    /// What an edge of the shape is; `edge` counts in [`Shape::edges`](casewright_solid::Shape). Nothing when the number is out of range.
    pub fn named_edge(&self, part: &Part, edge: usize) -> Option<NamedEdge> {
        let straight = self.shape.edges.get(edge)?;
        let [left, right] = straight.faces.map(|face| self.named_face(part, face as usize));
        Some(NamedEdge {
            faces: [left?, right?],
            from: straight.a.min(straight.b),
            to: straight.a.max(straight.b),
            stands_out: straight.convex,
        })
    }
}

impl NamedFace {
    /// In the trade's words: "face edge, 0 to 600 from the first end, 0 to 20 from the face side"; where it lies across an axis, one figure.
    pub fn describe(&self, part: &Part) -> String {
        let what = match self.cut.and_then(|cut| part.cuts.get(cut)) {
            None => self.face.words().to_owned(),
            Some(cut) => format!("{}, side that looks to the {}", cut.feature.name(), self.face.words()),
        };
        let axes = ["from the first end", "from the face edge", "from the face side"];
        let measured = (0..3).filter(|&axis| self.cut.is_some() || axis != self.face.axis()).map(|axis| {
            let (from, to) = (trimmed(self.from[axis]), trimmed(self.to[axis]));
            if from == to { format!("{from} {}", axes[axis]) } else { format!("{from} to {to} {}", axes[axis]) }
        });
        std::iter::once(what).chain(measured).collect::<Vec<_>>().join(", ")
    }
}

fn of_blank(axis: Axis, far: bool) -> Face {
    match (axis, far) {
        (Axis::L, false) => Face::FirstEnd,
        (Axis::L, true) => Face::SecondEnd,
        (Axis::W, false) => Face::FaceEdge,
        (Axis::W, true) => Face::BackEdge,
        (Axis::T, false) => Face::FaceSide,
        (Axis::T, true) => Face::BackSide,
    }
}

/// The cut that a prism of [`Part::solid`] comes from.
fn cut_of_prism(part: &Part, prism: u32) -> Option<usize> {
    let size = part.lwt();
    let mut left = prism as usize;
    part.cuts.iter().position(|cut| {
        let own = cut.feature.prisms(size).len();
        let found = left < own;
        left = left.saturating_sub(own);
        found
    })
}

#[cfg(test)]
mod tests {
    use glam::DVec3;

    use super::NamedFace;
    use crate::ShapeCache;
    use crate::model::{Assembly, Face, Feature, Material, NewPart, PartKind, Stop};
    use crate::place::{Block, Dir, Lie};

    /// Held against the figures that the cuts were given, however the part stands in the case.
    #[test]
    fn faces_and_edges_are_named_and_measured_from_the_data() {
        let mut assembly = Assembly::default();
        let block = Block::new((10.0, 55.0), (20.0, 820.0), (30.0, 50.0));
        let post = assembly.place(NewPart::filling(block, Lie { face: Dir::MinusZ, edge: Dir::PlusX }).called(
            "post",
            "Post",
            PartKind::Post,
            Material::Solid("white_ash".to_owned()),
        ));
        let groove = Feature::Groove {
            face: Face::FaceEdge,
            centre: 10.0,
            width: 6.0,
            depth: 8.0,
            from: 0.0,
            to: 800.0,
            through: [true; 2],
            stop: Stop::Round,
        };
        let mortise = Feature::Mortise {
            face: Face::FaceSide,
            centre: DVec3::new(100.0, 30.0, 0.0),
            along: 0,
            length: 60.0,
            width: 8.0,
            depth: 12.0,
            round: false,
        };
        assembly.cut(post, groove, None);
        assembly.cut(post, mortise, None);
        let model = assembly.finish();
        let part = model.part(post);
        let solids = ShapeCache::default().shape(&model);
        let made = solids.of(post).expect("a shape");
        let all: Vec<NamedFace> = (0..made.shape.faces.len()).filter_map(|face| made.named_face(part, face)).collect();
        assert_eq!(all.len(), made.shape.faces.len());
        let of = |cut: Option<usize>, face: Face| all.iter().filter(|named| (named.cut, named.face) == (cut, face)).collect::<Vec<_>>();
        let side = of(None, Face::FaceSide);
        assert_eq!(side.len(), 1);
        assert_eq!((side[0].from, side[0].to), (DVec3::ZERO, DVec3::new(800.0, 45.0, 0.0)));
        // The groove leaves the face edge in two strips, seven wide each.
        let edges = of(None, Face::FaceEdge);
        let mut strips: Vec<(f64, f64)> = edges.iter().map(|strip| (strip.from.z, strip.to.z)).collect();
        strips.sort_by(|a, b| a.0.total_cmp(&b.0));
        assert_eq!(strips, [(0.0, 7.0), (13.0, 20.0)]);
        // Floors look out of the face that they are cut into.
        let [floor] = of(Some(1), Face::FaceSide)[..] else { panic!("one floor of the mortise") };
        assert_eq!((floor.from, floor.to), (DVec3::new(70.0, 26.0, 12.0), DVec3::new(130.0, 34.0, 12.0)));
        assert_eq!(
            floor.describe(part),
            "mortise, square, side that looks to the face side, 70 to 130 from the first end, 26 to 34 from the face edge, 12 from the face side"
        );
        let [bottom] = of(Some(0), Face::FaceEdge)[..] else { panic!("one floor of the groove") };
        assert_eq!((bottom.from, bottom.to), (DVec3::new(0.0, 8.0, 7.0), DVec3::new(800.0, 8.0, 13.0)));
        assert_eq!(side[0].describe(part), "face side, 0 to 800 from the first end, 0 to 45 from the face edge");
        // The edge between face side and face edge runs the whole length where both are zero.
        let edges: Vec<_> = (0..made.shape.edges.len()).filter_map(|edge| made.named_edge(part, edge)).collect();
        assert_eq!(edges.len(), made.shape.edges.len());
        let arris = edges.iter().find(|edge| edge.from == DVec3::ZERO && edge.to == DVec3::new(800.0, 0.0, 0.0)).expect("the arris");
        let mut met = arris.faces.map(|face| face.face.words());
        met.sort_unstable();
        assert_eq!((met, arris.stands_out), (["face edge", "face side"], true));
        assert!(edges.iter().any(|edge| !edge.stands_out), "the corners in the groove");
        assert_eq!(made.named_face(part, made.shape.faces.len()), None);
    }
}
