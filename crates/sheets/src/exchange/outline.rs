//! A part laid flat on its back, seen on its face side: what an outline for a machine or a template consists of.

use casewright_core::length::trimmed_to;
use casewright_solid::{Axis, Prism, Profile, Segment};
use glam::DVec2;

use super::Kind;

/// A closed outline with what it stands for.
pub(super) struct Outline {
    pub layer: Layer,
    pub start: DVec2,
    pub segments: Vec<Segment>,
}

/// What a line stands for.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Layer {
    /// The blank, cut round.
    Blank,
    /// Cut right through.
    Through,
    /// Cut from the face side so deep, mm.
    FromFace(f64),
    /// Cut from the back so deep, mm.
    FromBack(f64),
    /// Within the thickness, or cut from an edge or an end: shown where it lies.
    FromEdge,
}

impl Layer {
    /// Its name, of letters, figures and signs that every reader takes.
    pub fn name(&self) -> String {
        match self {
            Layer::Blank => "outline".to_owned(),
            Layer::Through => "through".to_owned(),
            Layer::FromFace(depth) => format!("face {} deep", trimmed_to(*depth, 2)),
            Layer::FromBack(depth) => format!("back {} deep", trimmed_to(*depth, 2)),
            Layer::FromEdge => "from edges and ends".to_owned(),
        }
    }

    /// Whether it is seen from the face side.
    pub fn is_seen(&self) -> bool {
        match self {
            Layer::Blank | Layer::Through | Layer::FromFace(_) => true,
            Layer::FromBack(_) | Layer::FromEdge => false,
        }
    }
}

/// Nearer than this to a face, a cut ends in it, mm.
const AT: f64 = 1e-6;

/// The outlines of a part: the blank, then its cuts in their order. Length along x, width along y, mm.
pub(super) fn of(kind: &Kind<'_>) -> Vec<Outline> {
    let solid = &kind.made.solid;
    let (length, width, thickness) = (solid.size.x, solid.size.y, solid.size.z);
    let of_profile = |layer, profile: &Profile| Outline { layer, start: profile.start(), segments: profile.segments().to_vec() };
    let blank = Profile::rect(DVec2::ZERO, DVec2::new(length, width));
    let cut = |prism: &Prism| {
        if prism.axis != Axis::T {
            let (min, max) = covered(prism);
            let (min, max) = (min.max(DVec2::ZERO), max.min(DVec2::new(length, width)));
            return of_profile(Layer::FromEdge, &Profile::rect(min, max));
        }
        let (from_back, from_face) = (prism.from <= AT, prism.to >= thickness - AT);
        let layer = match (from_back, from_face) {
            (true, true) => Layer::Through,
            (false, true) => Layer::FromFace(thickness - prism.from),
            (true, false) => Layer::FromBack(prism.to),
            (false, false) => Layer::FromEdge,
        };
        of_profile(layer, &prism.profile)
    };
    std::iter::once(of_profile(Layer::Blank, &blank)).chain(solid.prisms.iter().map(cut)).collect()
}

/// What a prism along or across the grain covers of the face, mm.
fn covered(prism: &Prism) -> (DVec2, DVec2) {
    let corners = prism.profile.facets(casewright_solid::Facets::ChordError(0.01));
    let span = |of: fn(&DVec2) -> f64| {
        corners.iter().map(of).fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), at| (least.min(at), most.max(at)))
    };
    let [(u0, u1), (v0, v1)] = [span(|at| at.x), span(|at| at.y)];
    match prism.axis {
        // (u, v) is (W, T): the width is what the profile spans in u.
        Axis::L => (DVec2::new(prism.from, u0), DVec2::new(prism.to, u1)),
        // (u, v) is (T, L).
        Axis::W => (DVec2::new(v0, prism.from), DVec2::new(v1, prism.to)),
        Axis::T => (DVec2::new(u0, v0), DVec2::new(u1, v1)),
    }
}
