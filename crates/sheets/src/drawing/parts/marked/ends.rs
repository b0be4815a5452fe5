//! Ends that are cut to a shape, and what is cut out of them.

use casewright_core::length::trimmed_to;
use casewright_core::model::{EndGap, Face, Socket, Step, Tail};
use glam::DVec3;

use super::{On, Say, end_face, middle_of, on_face, side_face, wall, walls, within};

/// Halfway along what is cut off an end.
fn halfway(second: bool, length: f64, cut: f64) -> f64 {
    if second { length - cut / 2.0 } else { cut / 2.0 }
}

pub(super) fn tenon(
    say: &mut Say<'_>,
    (second, length, along): (bool, f64, usize),
    cheeks: (f64, f64),
    steps: &[Step],
    (mitre, round): (Option<bool>, bool),
) -> (String, Vec<On>) {
    let size = say.size;
    let other = 3 - along.clamp(1, 2);
    let from_end = |reach: f64| if second { size.x - length + reach } else { length - reach };
    let mut words = "tenon".to_owned();
    if steps.iter().any(|step| step.reach < length - 1e-6) {
        words += " with a haunch";
    }
    if let Some(long_at_zero) = mitre {
        let far = if along == 1 { Face::BackSide } else { Face::BackEdge };
        let near = if along == 1 { Face::FaceSide } else { Face::FaceEdge };
        let toward = if long_at_zero { near } else { far };
        words = format!("{words}, its end cut at 45°, longest at the cheek toward the {}", toward.words());
    }
    words += if round { ", its edges rounded" } else { "" };
    let widths = steps.iter().flat_map(|step| walls(along, [step.from, step.to]));
    let on_end = within(widths.chain(walls(other, [cheeks.0, cheeks.1])), size);
    let haunches = steps.iter().filter(|step| step.reach < length - 1e-6).map(|step| wall(0, from_end(step.reach)));
    let short_cheek = mitre.map(|_| wall(0, from_end(length - (cheeks.1 - cheeks.0))));
    let on_side = within(std::iter::once(wall(0, from_end(0.0))).chain(haunches).chain(short_cheek), size);
    let mut at = DVec3::new(from_end(length / 2.0), size.y / 2.0, size.z / 2.0);
    at[along] = steps.first().map_or(size[along] / 2.0, |step| f64::midpoint(step.from, step.to));
    let end = end_face(second);
    let on = vec![
        On { face: Face::FaceSide, at: on_face(Face::FaceSide, at, size), places: on_side },
        On { face: end, at: on_face(end, at, size), places: on_end },
    ];
    (words, on)
}

pub(super) fn fork(say: &mut Say<'_>, second: bool, length: f64, stretch: [f64; 2]) -> (String, Vec<On>) {
    let size = say.size;
    let words = format!("open mortise across the whole width, {} deep in the end", say.inward(end_face(second), length));
    let at = DVec3::new(halfway(second, size.x, length), 0.0, f64::midpoint(stretch[0], stretch[1]));
    (words, vec![On { face: Face::FaceEdge, at, places: within(walls(2, stretch), size) }])
}

pub(super) fn notch(say: &mut Say<'_>, (second, back): (bool, bool), [length, width]: [f64; 2]) -> (String, Vec<On>) {
    let size = say.size;
    let edge = if back { Face::BackEdge } else { Face::FaceEdge };
    let (along, across) = (say.inward(end_face(second), length), say.inward(edge, width));
    let at = DVec3::new(halfway(second, size.x, length), halfway(back, size.y, width), 0.0);
    (format!("corner cut out, {along} along and {across} across"), vec![On { face: Face::FaceSide, at, places: Vec::new() }])
}

pub(super) fn rabbet(say: &mut Say<'_>, (second, back): (bool, bool), [length, depth]: [f64; 2]) -> (String, Vec<On>) {
    let size = say.size;
    let (along, off) = (say.inward(end_face(second), length), say.inward(side_face(back), depth));
    let at = DVec3::new(halfway(second, size.x, length), 0.0, halfway(back, size.z, depth));
    let words = format!("rabbet across the end, {along} along, {off} off the {}", side_face(back).words());
    (words, vec![On { face: Face::FaceEdge, at, places: Vec::new() }])
}

pub(super) fn bevel(say: &mut Say<'_>, second: bool, inset: f64) -> (String, Vec<On>) {
    let size = say.size;
    let off = say.inward(end_face(second), inset);
    let at = DVec3::new(halfway(second, size.x, inset), size.y * 0.7, 0.0);
    let degrees = say.drafting.degrees(&trimmed_to(inset.atan2(size.y).to_degrees(), 1));
    let words = format!("end sawn to a slope, {off} off at the back edge and nothing at the face edge: {degrees} from square");
    (words, vec![On { face: Face::FaceSide, at, places: Vec::new() }])
}

pub(super) fn rounded(say: &mut Say<'_>) -> (String, Vec<On>) {
    let size = say.size;
    let radius = say.between(0, 0.0, size.y / 2.0);
    say.also(0, [size.x - size.y / 2.0, size.x], &radius);
    let on = On { face: Face::FaceSide, at: DVec3::new(0.0, size.y / 2.0, 0.0), places: Vec::new() };
    (format!("both ends rounded, radius {radius}"), vec![on])
}

pub(super) fn tail(say: &Say<'_>, cut: &Tail) -> (String, Vec<On>) {
    let size = say.size;
    let shoulder = if cut.second_end { size.x - cut.length } else { cut.length };
    let is_straight = cut.at_end.iter().zip(cut.at_shoulder).all(|(a, b)| (a - b).abs() < 1e-6);
    let mut places = vec![wall(0, shoulder)];
    places.extend(walls(2, cut.at_end));
    let words = if is_straight {
        "end left as a tongue right across"
    } else {
        places.extend(walls(2, cut.at_shoulder));
        "end left as a tail right across: the wider figures at the end, the narrower at the shoulder"
    };
    let at =
        DVec3::new(f64::midpoint(shoulder, if cut.second_end { size.x } else { 0.0 }), 0.0, f64::midpoint(cut.at_end[0], cut.at_end[1]));
    (words.to_owned(), vec![On { face: Face::FaceEdge, at, places: within(places, size) }])
}

pub(super) fn gap(say: &mut Say<'_>, cut: &EndGap) -> (String, Vec<On>) {
    let size = say.size;
    let words = format!("gap in the end, {} deep, through the thickness", say.inward(end_face(cut.second_end), cut.length));
    let at = DVec3::new(if cut.second_end { size.x - cut.length / 2.0 } else { cut.length / 2.0 }, middle_of(cut.at_end, size.y), 0.0);
    let places = within(walls(1, cut.at_end).into_iter().chain(walls(1, cut.at_bottom)), size);
    (words, vec![On { face: Face::FaceSide, at, places }])
}

pub(super) fn socket(say: &mut Say<'_>, cut: &Socket) -> (String, Vec<On>) {
    let (size, face) = (say.size, side_face(cut.back_side));
    let words = format!("socket in the end, {} along, {}", say.inward(end_face(cut.second_end), cut.length), say.deep(face, cut.depth));
    let at = DVec3::new(if cut.second_end { size.x - cut.length / 2.0 } else { cut.length / 2.0 }, middle_of(cut.at_side, size.y), 0.0);
    let places = within(walls(1, cut.at_side).into_iter().chain(walls(1, cut.at_bottom)), size);
    (words, vec![On { face, at: on_face(face, at, size), places }])
}
