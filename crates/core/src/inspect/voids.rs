//! The cuts of a part, seen as what they leave: wood all round, wood on both sides, or a corner gone.

use std::rc::Rc;

use casewright_solid::{Prism, VoidGap};
use glam::DVec3;

use super::{Gaps, TOUCH};
use crate::model::{Cut, Face, Feature, JointId, Model, Part, PartId, prism_bounds};

/// One prism of a cut, in the part's own measures.
pub(super) struct Void<'p> {
    pub cut: &'p Cut,
    pub prism: Prism,
    /// The box it takes out of the blank.
    pub low: DVec3,
    pub high: DVec3,
    pub form: Form,
}

/// What a void leaves round it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Form {
    /// A mortise, a slot or a bored hole: wood all round.
    Hole {
        /// The face it is cut into.
        face: Face,
        /// Wood left behind it, mm; negative by how far it is too deep.
        behind: f64,
    },
    /// A groove or a housing: wood on both sides; its ends may run out.
    Channel {
        /// The face it is cut into.
        face: Face,
        /// The axis along which it runs: 0 L, 1 W, 2 T.
        run: usize,
    },
    /// A corner or an edge taken off, or something cut out of an end, such as a socket: a matter of its own joint.
    Step,
}

impl Void<'_> {
    /// The joint it was cut for.
    pub fn joint(&self) -> Option<JointId> {
        self.cut.joint
    }

    /// What the cut is called, in one word.
    pub fn word(&self) -> &'static str {
        let name = self.cut.feature.name();
        name.split(',').next().unwrap_or(name)
    }

    /// Its middle, in the part's own measures.
    pub fn centre(&self) -> DVec3 {
        (self.low + self.high) / 2.0
    }

    /// How far it is from another along the axis on which they are farthest apart, mm; negative by how far one is in the other.
    pub fn apart(&self, other: &Void<'_>) -> f64 {
        (self.low - other.high).max(other.low - self.high).max_element()
    }
}

/// The voids of every part of a model, found once for all checks.
pub(super) struct Voids<'m> {
    of_parts: Vec<Vec<Void<'m>>>,
    gaps: Rc<Gaps>,
}

impl<'m> Voids<'m> {
    /// Those of a model; `gaps` are the gaps between voids that were measured before.
    pub fn of_model(model: &'m Model, gaps: &Rc<Gaps>) -> Voids<'m> {
        Voids { of_parts: model.parts.iter().map(of_part).collect(), gaps: Rc::clone(gaps) }
    }

    pub fn of(&self, part: PartId) -> &[Void<'m>] {
        self.of_parts.get(part.0).map_or(&[], Vec::as_slice)
    }

    /// How near two voids of a part come to each other; nothing where one of them takes nothing from the blank.
    pub fn gap(&self, part: &Part, a: &Void<'_>, b: &Void<'_>) -> Option<VoidGap> {
        self.gaps.between(part.lwt(), &a.prism, &b.prism)
    }
}

fn of_part(part: &Part) -> Vec<Void<'_>> {
    let size = part.lwt();
    let voids = part.cuts.iter().flat_map(|cut| cut.feature.prisms(size).into_iter().map(move |prism| (cut, prism)));
    voids
        .map(|(cut, prism)| {
            let (low, high) = prism_bounds(&prism);
            let form = form(&cut.feature, size, low, high);
            Void { cut, prism, low: low.max(DVec3::ZERO), high: high.min(size), form }
        })
        .collect()
}

fn form(feature: &Feature, size: DVec3, low: DVec3, high: DVec3) -> Form {
    let behind = |face: Face| {
        let axis = face.axis();
        if face.is_first() { size[axis] - high[axis] } else { low[axis] }
    };
    // What they are called decides, even where one has broken out of the wood that should be round it.
    match feature {
        Feature::Mortise { face, .. } | Feature::HoleRow { face, .. } => return Form::Hole { face: *face, behind: behind(*face) },
        Feature::Groove { face, .. } => return Form::Channel { face: *face, run: 0 },
        // These have rules of their own; sockets and gaps are filled by the other part, a recess is open on purpose to what it touches.
        Feature::Teeth { .. }
        | Feature::HalfRounds { .. }
        | Feature::Socket(_)
        | Feature::EndGap(_)
        | Feature::Tenon { .. }
        | Feature::Recess { .. } => {
            return Form::Step;
        }
        _ => {}
    }
    // For each axis, whether it comes out of the first face and out of the second.
    let open: [[bool; 2]; 3] = std::array::from_fn(|axis| [low[axis] <= TOUCH, high[axis] >= size[axis] - TOUCH]);
    let face_of = |axis: usize| Face::looking(DVec3::AXES[axis] * if open[axis][0] { -1.0 } else { 1.0 });
    let opened: Vec<usize> = (0..3).filter(|axis| open[*axis] != [false; 2]).collect();
    let in_an_end = open[0][0] != open[0][1] && opened.len() > 1;
    // So it is with what was bored.
    if let (Feature::Hole { face, .. }, 2..) = (feature, opened.len()) {
        return Form::Hole { face: *face, behind: behind(*face) };
    }
    match opened[..] {
        _ if in_an_end => Form::Step,
        [axis] => Form::Hole { face: face_of(axis), behind: behind(face_of(axis)) },
        [a, b] => match (open[a] == [true; 2], open[b] == [true; 2]) {
            (true, true) => Form::Step,
            (true, false) => Form::Channel { face: face_of(b), run: a },
            (false, true) => Form::Channel { face: face_of(a), run: b },
            // It stops at one end: it runs the longer way.
            (false, false) => {
                let (deep, run) = if high[a] - low[a] < high[b] - low[b] { (a, b) } else { (b, a) };
                Form::Channel { face: face_of(deep), run }
            }
        },
        _ => Form::Step,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const SIZE: DVec3 = DVec3::new(500.0, 60.0, 20.0);

    fn formed(low: (f64, f64, f64), high: (f64, f64, f64)) -> Form {
        form(&Feature::RoundEdges, SIZE, DVec3::from(low), DVec3::from(high))
    }

    #[test]
    fn what_a_cut_leaves_round_it_follows_from_the_faces_it_comes_out_of() {
        // Bored from the face side, 12 deep; and right through.
        assert_eq!(formed((50.0, 20.0, -1.0), (58.0, 28.0, 12.0)), Form::Hole { face: Face::FaceSide, behind: 8.0 });
        assert!(matches!(formed((50.0, 20.0, -1.0), (58.0, 28.0, 21.0)), Form::Hole { behind, .. } if behind < 0.0));
        // A housing across the back side; and one that stops before the back edge.
        assert_eq!(formed((50.0, -1.0, 14.0), (70.0, 61.0, 21.0)), Form::Channel { face: Face::BackSide, run: 1 });
        assert_eq!(formed((50.0, -1.0, 14.0), (70.0, 48.0, 21.0)), Form::Channel { face: Face::BackSide, run: 1 });
        // A socket in the second end; a corner.
        assert_eq!(formed((490.0, 20.0, -1.0), (501.0, 30.0, 8.0)), Form::Step);
        assert_eq!(formed((450.0, 40.0, -1.0), (501.0, 61.0, 21.0)), Form::Step);
    }

    #[test]
    fn the_box_round_a_slot_has_its_round_ends() {
        let feature = Feature::Mortise {
            face: Face::BackSide,
            centre: DVec3::new(100.0, 30.0, 0.0),
            along: 0,
            length: 40.0,
            width: 8.0,
            depth: 12.0,
            round: true,
        };
        let prisms = feature.prisms(SIZE);
        let (low, high) = prism_bounds(&prisms[0]);
        assert!((low - DVec3::new(80.0, 26.0, 8.0)).abs().max_element() < 1e-9, "{low}");
        assert!((high.truncate() - glam::DVec2::new(120.0, 34.0)).abs().max_element() < 1e-9, "{high}");
    }
}
