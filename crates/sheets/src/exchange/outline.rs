//! A part laid on its back side and seen on its face side, along it to the right and its face edge above: what an outline for a machine or a
//! template consists of.

use casewright_core::length::trimmed_to;
use casewright_core::shapes::flat::{self, Outline};
use casewright_solid::{Axis, Prism, Profile, Solid};
use glam::DVec2;

/// A closed outline with what it stands for.
pub(super) struct Drawn {
    pub layer: Layer,
    pub outline: Outline,
}

/// What a line stands for.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Layer {
    /// What is left of the part, cut round.
    Outline,
    /// A hole right through.
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
            Layer::Outline => "outline".to_owned(),
            Layer::Through => "through".to_owned(),
            Layer::FromFace(depth) => format!("face {} deep", trimmed_to(*depth, 2)),
            Layer::FromBack(depth) => format!("back {} deep", trimmed_to(*depth, 2)),
            Layer::FromEdge => "from edges and ends".to_owned(),
        }
    }

    /// Whether it is seen from the face side.
    pub fn is_seen(&self) -> bool {
        match self {
            Layer::Outline | Layer::Through | Layer::FromFace(_) => true,
            Layer::FromBack(_) | Layer::FromEdge => false,
        }
    }
}

/// Nearer than this to a face, a cut ends in it, mm.
const AT: f64 = 1e-6;

/// The outlines of a part: what is left of it, then what is cut into it, in the order of its cuts. mm.
pub(super) fn of(solid: &Solid) -> Vec<Drawn> {
    let (length, width, thickness) = (solid.size.x, solid.size.y, solid.size.z);
    // Seen on the face side, widths count down from the face edge.
    let seen = |layer: Layer, outline: &Outline| Drawn { layer, outline: outline.map(|at| DVec2::new(at.x, width - at.y), true) };
    let through = |prism: &&Prism| flat::goes_through(prism, Axis::T, solid);
    let cut = |prism: &Prism| {
        if prism.axis != Axis::T {
            let (min, max) = covered(prism);
            let (min, max) = (min.max(DVec2::ZERO), max.min(DVec2::new(length, width)));
            return seen(Layer::FromEdge, &Outline::of(&Profile::rect(min, max)));
        }
        let layer = match (prism.from <= AT, prism.to >= thickness - AT) {
            (true, false) => Layer::FromFace(prism.to),
            (false, true) => Layer::FromBack(thickness - prism.from),
            (true, true) | (false, false) => Layer::FromEdge,
        };
        seen(layer, &Outline::of(&prism.profile))
    };
    let layer = |outline: &Outline| if outline.is_hole { Layer::Through } else { Layer::Outline };
    let left = flat::outlines(solid, Axis::T).into_iter().map(|outline| seen(layer(&outline), &outline));
    left.chain(solid.prisms.iter().filter(|prism| !through(prism)).map(cut)).collect()
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
