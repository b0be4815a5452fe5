//! Edges that are cut to a shape: teeth, rabbets, rounds, chamfers, tapers.

use casewright_core::joint::seat;
use casewright_core::length::trimmed_to;
use casewright_core::model::{EdgeChamfer, EdgeRabbet, EdgeRound, Face, Taper};
use glam::DVec3;

use super::{On, Say, end_face, middle_of, on_face, side_face, wall, walls, within};

pub(super) fn teeth(say: &mut Say<'_>, [first, pitch, deep, crest]: [f64; 4], count: u32) -> (String, Vec<On>) {
    let size = say.size;
    let last = first + pitch * f64::from(count.saturating_sub(1));
    let words = format!(
        "{count} teeth in the back edge, seats {} deep every {}, tips {} flat, slopes at {} from the upright; measured to the first and the last seat",
        say.inward(Face::BackEdge, deep),
        say.between(0, first, first + pitch),
        say.between(0, first + pitch - crest, first + pitch),
        say.drafting.degrees(&trimmed_to(seat::slope_degrees(pitch, deep, crest), 1))
    );
    let at = DVec3::new(first + pitch / 2.0, size.y - deep / 2.0, 0.0);
    (words, vec![On { face: Face::FaceSide, at, places: vec![wall(0, first), wall(0, last)] }])
}

pub(super) fn half_rounds(say: &mut Say<'_>, [first, pitch, radius]: [f64; 3], count: u32) -> (String, Vec<On>) {
    let last = first + pitch * f64::from(count.saturating_sub(1));
    let (of, every) = (say.inward(Face::BackEdge, radius), say.between(0, first, first + pitch));
    let words =
        format!("{count} half rounds out of the back edge, radius {of}, every {every}; measured to where the first and the last begin");
    let at = DVec3::new(first + radius, say.size.y - radius / 2.0, 0.0);
    (words, vec![On { face: Face::FaceSide, at, places: vec![wall(0, first), wall(0, last)] }])
}

pub(super) fn rounded(say: &mut Say<'_>) -> (String, Vec<On>) {
    let size = say.size;
    let radius = say.between(1, 0.0, size.z / 2.0);
    say.also(1, [size.y - size.z / 2.0, size.y], &radius);
    let on = On { face: Face::FirstEnd, at: DVec3::new(0.0, 0.0, size.z / 2.0), places: Vec::new() };
    (format!("both edges rounded, radius {radius}"), vec![on])
}

pub(super) fn rabbet(say: &mut Say<'_>, cut: &EdgeRabbet) -> (String, Vec<On>) {
    let size = say.size;
    let (edge, side) = (if cut.back_edge { Face::BackEdge } else { Face::FaceEdge }, side_face(cut.back_side));
    let (wide, off) = (say.inward(edge, cut.width), say.inward(side, cut.depth));
    let mut at = DVec3::new(middle_of([cut.from, cut.to], size.x), cut.width / 2.0, 0.0);
    if cut.back_edge {
        at.y = size.y - cut.width / 2.0;
    }
    let words = format!("rabbet along the {}, {wide} wide, {off} off the {}", edge.words(), side.words());
    (words, vec![On { face: side, at: on_face(side, at, size), places: within(walls(0, [cut.from, cut.to]), size) }])
}

pub(super) fn arris_rounded(say: &mut Say<'_>, EdgeRound { arris, radius }: &EdgeRound) -> (String, Vec<On>) {
    let off = say.inward(arris[0], *radius);
    say.inward(arris[1], *radius);
    (format!("arris of {} and {} rounded, radius {off}", arris[0].words(), arris[1].words()), on_arris(*arris, say.size))
}

pub(super) fn arris_chamfered(say: &mut Say<'_>, EdgeChamfer { arris, off }: &EdgeChamfer) -> (String, Vec<On>) {
    // What is off a face is measured on it, and so in from the other.
    let (first, second) = (say.inward(arris[1], off[0]), say.inward(arris[0], off[1]));
    let words = format!("arris chamfered, {first} off the {} and {second} off the {}", arris[0].words(), arris[1].words());
    (words, on_arris(*arris, say.size))
}

pub(super) fn taper(say: &mut Say<'_>, cut: &Taper) -> (String, Vec<On>) {
    let size = say.size;
    let (off, over) = (say.inward(cut.face, cut.inset), say.inward(end_face(cut.second_end), cut.length));
    let name = if (cut.length - cut.inset).abs() < 1e-9 { "mitre" } else { "taper" };
    let words = format!("{name}: {off} off the {} at the end, over {over}", cut.face.words());
    let face = if cut.face.axis() == 2 { Face::FaceEdge } else { Face::FaceSide };
    let mut at = DVec3::new(if cut.second_end { size.x - cut.length / 3.0 } else { cut.length / 3.0 }, 0.0, 0.0);
    at[cut.face.axis()] = if cut.face.is_first() { cut.inset / 3.0 } else { size[cut.face.axis()] - cut.inset / 3.0 };
    (words, vec![On { face, at: on_face(face, at, size), places: Vec::new() }])
}

/// An arris is told on the first of its two faces, in the middle of its length.
fn on_arris(arris: [Face; 2], size: DVec3) -> Vec<On> {
    let at = on_face(arris[1], on_face(arris[0], size / 2.0, size), size);
    vec![On { face: arris[0], at, places: Vec::new() }]
}
