//! What is marked out for a cut: on which faces, at which places from face side, face edge and first end, and how large it is.

mod edges;
mod ends;
mod faces;

use casewright_core::model::{Face, Feature};
use glam::DVec3;

use super::super::drafting::Drafting;

/// A figure among the words of a cut: it says the distance between two places on an axis of the part, mm.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::drawing) struct Size {
    pub axis: usize,
    pub from: f64,
    pub to: f64,
    /// As it stands among the words.
    pub figure: String,
}

/// A place on an axis of the part, measured from its face side, face edge or first end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::drawing) struct Place {
    pub axis: usize,
    pub at: f64,
    /// Whether it is the middle of the cut; else an end or a wall of it.
    pub middle: bool,
}

/// A cut as it is marked out on one face.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::drawing) struct On {
    pub face: Face,
    /// A place in it, in the part's measures.
    pub at: DVec3,
    pub places: Vec<Place>,
}

/// All that is said of a cut.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::drawing) struct Marked {
    /// What it is, and how large.
    pub words: String,
    /// What the figures among its words say.
    pub sizes: Vec<Size>,
    /// Where.
    pub on: Vec<On>,
}

fn middle(axis: usize, at: f64) -> Place {
    Place { axis, at, middle: true }
}

fn wall(axis: usize, at: f64) -> Place {
    Place { axis, at, middle: false }
}

/// The middle of what a cut leaves between two places, where it may run out of the part.
fn middle_of([from, to]: [f64; 2], size: f64) -> f64 {
    f64::midpoint(from.max(0.0), to.min(size))
}

/// Places within the part; those at its faces and beyond are no marks.
fn within(places: impl IntoIterator<Item = Place>, size: DVec3) -> Vec<Place> {
    places.into_iter().filter(|place| place.at > 1e-3 && place.at < size[place.axis] - 1e-3).collect()
}

/// Both ends of a stretch as walls.
fn walls(axis: usize, stretch: [f64; 2]) -> [Place; 2] {
    stretch.map(|at| wall(axis, at))
}

fn end_face(second: bool) -> Face {
    if second { Face::SecondEnd } else { Face::FirstEnd }
}

fn side_face(back: bool) -> Face {
    if back { Face::BackSide } else { Face::FaceSide }
}

/// A point of a face: the component through the face is that of the face itself.
fn on_face(face: Face, at: DVec3, size: DVec3) -> DVec3 {
    let mut at = at;
    at[face.axis()] = if face.is_first() { 0.0 } else { size[face.axis()] };
    at
}

/// Writes the words of a cut and keeps what their figures say.
struct Say<'d> {
    drafting: &'d Drafting,
    size: DVec3,
    sizes: Vec<Size>,
}

impl Say<'_> {
    /// A distance between two places.
    fn between(&mut self, axis: usize, from: f64, to: f64) -> String {
        let figure = self.drafting.exact((to - from).abs());
        self.also(axis, [from, to], &figure);
        figure
    }

    /// Another distance that a figure says.
    fn also(&mut self, axis: usize, [from, to]: [f64; 2], figure: &str) {
        self.sizes.push(Size { axis, from: from.min(to), to: from.max(to), figure: figure.to_owned() });
    }

    /// So much about a middle.
    fn about(&mut self, axis: usize, middle: f64, extent: f64) -> String {
        self.between(axis, middle - extent / 2.0, middle + extent / 2.0)
    }

    /// So far in from a face.
    fn inward(&mut self, face: Face, deep: f64) -> String {
        let axis = face.axis();
        let (from, to) = if face.is_first() { (0.0, deep) } else { (self.size[axis] - deep, self.size[axis]) };
        self.between(axis, from, to)
    }

    /// "24.5 deep", or "through".
    fn deep(&mut self, face: Face, depth: f64) -> String {
        if depth >= self.size[face.axis()] - 1e-6 { "through".to_owned() } else { format!("{} deep", self.inward(face, depth)) }
    }
}

/// What is said of a cut in a part of `size`.
pub(in crate::drawing) fn marked(feature: &Feature, size: DVec3, drafting: &Drafting) -> Marked {
    let mut say = Say { drafting, size, sizes: Vec::new() };
    let (words, on) = match feature {
        Feature::Mortise { face, centre, along, length, width, depth, round } => {
            faces::pocket(&mut say, "mortise", (*face, *centre, *along), [*length, *width, *depth], *round)
        }
        Feature::Recess { face, centre, along, length, width, depth, round } => {
            faces::pocket(&mut say, "recess", (*face, *centre, *along), [*length, *width, *depth], *round)
        }
        Feature::Hole { face, centre, diameter, depth, sink } => faces::hole(&mut say, (*face, *centre), [*diameter, *depth, *sink]),
        Feature::HoleRow { face, first, pitch, count, diameter, depth } => {
            faces::hole_row(&mut say, *face, *first, (*pitch, *count), [*diameter, *depth])
        }
        Feature::Lap { face, from, to, depth } => faces::lap(&mut say, *face, [*from, *to], *depth),
        Feature::Groove { face, centre, width, depth, from, to, through, stop } => {
            faces::groove(&mut say, *face, *centre, [*width, *depth], ([*from, *to], *through, *stop))
        }
        Feature::Housing(cut) => faces::housing(&mut say, cut),
        Feature::Tenon { second_end, length, along, cheeks, steps, mitre, round } => {
            ends::tenon(&mut say, (*second_end, *length, *along), *cheeks, steps, (*mitre, *round))
        }
        Feature::Fork { second_end, length, from, to } => ends::fork(&mut say, *second_end, *length, [*from, *to]),
        Feature::Notch { second_end, back_edge, length, width } => ends::notch(&mut say, (*second_end, *back_edge), [*length, *width]),
        Feature::Rabbet { second_end, back_side, length, depth } => ends::rabbet(&mut say, (*second_end, *back_side), [*length, *depth]),
        Feature::Bevel { second_end, inset } => ends::bevel(&mut say, *second_end, *inset),
        Feature::RoundEnds => ends::rounded(&mut say),
        Feature::Tail(cut) => ends::tail(&say, cut),
        Feature::EndGap(cut) => ends::gap(&mut say, cut),
        Feature::Socket(cut) => ends::socket(&mut say, cut),
        Feature::Teeth { first, pitch, seat, crest, count } => edges::teeth(&mut say, [*first, *pitch, *seat, *crest], *count),
        Feature::HalfRounds { first, pitch, radius, count } => edges::half_rounds(&mut say, [*first, *pitch, *radius], *count),
        Feature::RoundEdges => edges::rounded(&mut say),
        Feature::EdgeRabbet(cut) => edges::rabbet(&mut say, cut),
        Feature::EdgeRound(cut) => edges::arris_rounded(&mut say, cut),
        Feature::EdgeChamfer(cut) => edges::arris_chamfered(&mut say, cut),
        Feature::Taper(cut) => edges::taper(&mut say, cut),
    };
    Marked { words, sizes: say.sizes, on }
}
