//! What is marked out for a cut: on which faces, at which places from face side, face edge and first end, and how large it is.

use casewright_core::joint::seat;
use casewright_core::length::trimmed_to;
use casewright_core::model::{EdgeChamfer, EdgeRabbet, EdgeRound, EndGap, Face, Feature, Housing, Socket, Stop, Tail, Taper};
use glam::DVec3;

use super::super::drafting::Drafting;

/// A figure among the words of a cut: it says the distance between two places on an axis of the part, mm.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Size {
    pub axis: usize,
    pub from: f64,
    pub to: f64,
    /// As it stands among the words.
    pub figure: String,
}

/// A place on an axis of the part, measured from its face side, face edge or first end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Place {
    pub axis: usize,
    pub at: f64,
    /// Whether it is the middle of the cut; else an end or a wall of it.
    pub middle: bool,
}

/// A cut as it is marked out on one face.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct On {
    pub face: Face,
    /// A place in it, in the part's measures.
    pub at: DVec3,
    pub places: Vec<Place>,
}

/// All that is said of a cut.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Marked {
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
pub(super) fn marked(feature: &Feature, size: DVec3, drafting: &Drafting) -> Marked {
    let mut say = Say { drafting, size, sizes: Vec::new() };
    let (words, on) = match feature {
        Feature::Mortise { face, centre, along, length, width, depth, round } => {
            pocket(&mut say, "mortise", (*face, *centre, *along), [*length, *width, *depth], *round)
        }
        Feature::Recess { face, centre, along, length, width, depth, round } => {
            pocket(&mut say, "recess", (*face, *centre, *along), [*length, *width, *depth], *round)
        }
        Feature::Tenon { second_end, length, along, cheeks, steps, mitre, round } => {
            tenon(&mut say, (*second_end, *length, *along), *cheeks, steps, (mitre.is_some(), *round))
        }
        Feature::Hole { face, centre, diameter, depth, sink } => {
            let across = (0..3).filter(|axis| *axis != face.axis());
            let wide: Vec<String> = across.clone().map(|axis| say.about(axis, centre[axis], *diameter)).collect();
            let sunk = if *sink > *diameter { format!(", countersunk to Ø{}", drafting.exact(*sink)) } else { String::new() };
            let words = format!("hole Ø{}, {}{sunk}", wide.first().cloned().unwrap_or_default(), say.deep(*face, *depth));
            let places = across.map(|axis| middle(axis, centre[axis])).collect();
            (words, vec![On { face: *face, at: on_face(*face, *centre, size), places }])
        }
        Feature::HoleRow { face, first, pitch, count, diameter, depth } => {
            hole_row(&mut say, *face, *first, (*pitch, *count), [*diameter, *depth])
        }
        Feature::Lap { face, from, to, depth } => {
            let words = format!("lap right across, {}", say.deep(*face, *depth));
            let at = on_face(*face, DVec3::new(f64::midpoint(*from, *to), size.y / 2.0, size.z / 2.0), size);
            (words, vec![On { face: *face, at, places: within(walls(0, [*from, *to]), size) }])
        }
        Feature::Fork { second_end, length, from, to } => {
            let words = format!("open mortise across the whole width, {} deep in the end", say.inward(end_face(*second_end), *length));
            let at = DVec3::new(if *second_end { size.x - length / 2.0 } else { length / 2.0 }, 0.0, f64::midpoint(*from, *to));
            (words, vec![On { face: Face::FaceEdge, at, places: within(walls(2, [*from, *to]), size) }])
        }
        Feature::Groove { face, centre, width, depth, from, to, through, stop } => {
            groove(&mut say, *face, *centre, [*width, *depth], ([*from, *to], *through, *stop))
        }
        Feature::Notch { second_end, back_edge, length, width } => {
            let edge = if *back_edge { Face::BackEdge } else { Face::FaceEdge };
            let (along, across) = (say.inward(end_face(*second_end), *length), say.inward(edge, *width));
            let at = DVec3::new(
                if *second_end { size.x - length / 2.0 } else { length / 2.0 },
                if *back_edge { size.y - width / 2.0 } else { width / 2.0 },
                0.0,
            );
            (format!("corner cut out, {along} along and {across} across"), vec![On { face: Face::FaceSide, at, places: Vec::new() }])
        }
        Feature::Rabbet { second_end, back_side, length, depth } => {
            let (along, off) = (say.inward(end_face(*second_end), *length), say.inward(side_face(*back_side), *depth));
            let at = DVec3::new(
                if *second_end { size.x - length / 2.0 } else { length / 2.0 },
                0.0,
                if *back_side { size.z - depth / 2.0 } else { depth / 2.0 },
            );
            let words = format!("rabbet across the end, {along} along, {off} off the {}", side_face(*back_side).words());
            (words, vec![On { face: Face::FaceEdge, at, places: Vec::new() }])
        }
        Feature::Bevel { second_end, inset } => {
            let off = say.inward(end_face(*second_end), *inset);
            let at = DVec3::new(if *second_end { size.x - inset / 3.0 } else { inset / 3.0 }, size.y * 0.7, 0.0);
            let degrees = trimmed_to(inset.atan2(size.y).to_degrees(), 1);
            let words = format!(
                "end sawn to a slope, {off} off at the back edge and nothing at the face edge: {} from square",
                drafting.degrees(&degrees)
            );
            (words, vec![On { face: Face::FaceSide, at, places: Vec::new() }])
        }
        Feature::Teeth { first, pitch, seat, crest, count } => teeth(&mut say, [*first, *pitch, *seat, *crest], *count),
        Feature::HalfRounds { first, pitch, radius, count } => {
            let last = first + pitch * f64::from(count.saturating_sub(1));
            let (of, every) = (say.inward(Face::BackEdge, *radius), say.between(0, *first, first + pitch));
            let words = format!(
                "{count} half rounds out of the back edge, radius {of}, every {every}; measured to where the first and the last begin"
            );
            let at = DVec3::new(first + radius, size.y - radius / 2.0, 0.0);
            (words, vec![On { face: Face::FaceSide, at, places: vec![wall(0, *first), wall(0, last)] }])
        }
        Feature::RoundEdges => {
            let radius = say.between(1, 0.0, size.z / 2.0);
            say.also(1, [size.y - size.z / 2.0, size.y], &radius);
            (
                format!("both edges rounded, radius {radius}"),
                vec![On { face: Face::FirstEnd, at: DVec3::new(0.0, 0.0, size.z / 2.0), places: Vec::new() }],
            )
        }
        Feature::RoundEnds => {
            let radius = say.between(0, 0.0, size.y / 2.0);
            say.also(0, [size.x - size.y / 2.0, size.x], &radius);
            (
                format!("both ends rounded, radius {radius}"),
                vec![On { face: Face::FaceSide, at: DVec3::new(0.0, size.y / 2.0, 0.0), places: Vec::new() }],
            )
        }
        Feature::EdgeRabbet(cut) => edge_rabbet(&mut say, cut),
        Feature::Housing(cut) => housing(&mut say, cut),
        Feature::Tail(cut) => tail(&say, cut),
        Feature::EndGap(cut) => end_gap(&mut say, cut),
        Feature::Socket(cut) => socket(&mut say, cut),
        Feature::EdgeRound(EdgeRound { arris, radius }) => {
            let off = say.inward(arris[0], *radius);
            say.inward(arris[1], *radius);
            (format!("arris of {} and {} rounded, radius {off}", arris[0].words(), arris[1].words()), on_arris(*arris, size))
        }
        Feature::EdgeChamfer(EdgeChamfer { arris, off }) => {
            // What is off a face is measured on it, and so in from the other.
            let (first, second) = (say.inward(arris[1], off[0]), say.inward(arris[0], off[1]));
            let words = format!("arris chamfered, {first} off the {} and {second} off the {}", arris[0].words(), arris[1].words());
            (words, on_arris(*arris, size))
        }
        Feature::Taper(cut) => taper(&mut say, cut),
    };
    Marked { words, sizes: say.sizes, on }
}

fn pocket(
    say: &mut Say<'_>,
    name: &str,
    (face, centre, along): (Face, DVec3, usize),
    [length, width, depth]: [f64; 3],
    round: bool,
) -> (String, Vec<On>) {
    let across = (0..3).find(|axis| *axis != along && *axis != face.axis()).unwrap_or(along);
    let ends = if round { "ends round" } else { "ends square" };
    let words = format!(
        "{name} {} × {}, {}, {ends}",
        say.about(along, centre[along], length),
        say.about(across, centre[across], width),
        say.deep(face, depth)
    );
    let places = vec![middle(along, centre[along]), middle(across, centre[across])];
    (words, vec![On { face, at: on_face(face, centre, say.size), places }])
}

fn tenon(
    say: &mut Say<'_>,
    (second, length, along): (bool, f64, usize),
    cheeks: (f64, f64),
    steps: &[casewright_core::model::Step],
    (mitred, round): (bool, bool),
) -> (String, Vec<On>) {
    let size = say.size;
    let other = 3 - along.clamp(1, 2);
    let from_end = |reach: f64| if second { size.x - length + reach } else { length - reach };
    let mut words = "tenon".to_owned();
    if steps.iter().any(|step| step.reach < length - 1e-6) {
        words += " with a haunch";
    }
    words += if mitred { ", its end mitred" } else { "" };
    words += if round { ", its edges rounded" } else { "" };
    let widths = steps.iter().flat_map(|step| walls(along, [step.from, step.to]));
    let on_end = within(widths.chain(walls(other, [cheeks.0, cheeks.1])), size);
    let haunches = steps.iter().filter(|step| step.reach < length - 1e-6).map(|step| wall(0, from_end(step.reach)));
    let on_side = within(std::iter::once(wall(0, from_end(0.0))).chain(haunches), size);
    let mut at = DVec3::new(from_end(length / 2.0), size.y / 2.0, size.z / 2.0);
    at[along] = steps.first().map_or(size[along] / 2.0, |step| f64::midpoint(step.from, step.to));
    let end = end_face(second);
    let on = vec![
        On { face: Face::FaceSide, at: on_face(Face::FaceSide, at, size), places: on_side },
        On { face: end, at: on_face(end, at, size), places: on_end },
    ];
    (words, on)
}

fn hole_row(say: &mut Say<'_>, face: Face, first: DVec3, (pitch, count): (f64, u32), [diameter, depth]: [f64; 2]) -> (String, Vec<On>) {
    let across = (0..3).find(|axis| *axis != 0 && *axis != face.axis()).unwrap_or(1);
    let wide = say.about(0, first.x, diameter);
    say.about(across, first[across], diameter);
    let every = say.between(0, first.x, first.x + pitch);
    let words = format!("{count} holes Ø{wide}, {}, every {every}; measured to the first and the last", say.deep(face, depth));
    let last = first.x + pitch * f64::from(count.saturating_sub(1));
    let places = vec![middle(0, first.x), middle(0, last), middle(across, first[across])];
    (words, vec![On { face, at: on_face(face, first, say.size), places }])
}

fn groove(
    say: &mut Say<'_>,
    face: Face,
    centre: f64,
    [width, depth]: [f64; 2],
    (full, through, stop): ([f64; 2], [bool; 2], Stop),
) -> (String, Vec<On>) {
    let size = say.size;
    let across = 3 - face.axis().clamp(1, 2);
    let mut words = format!("groove {} wide, {}", say.about(across, centre, width), say.deep(face, depth));
    let out = stop.run_out(width, depth);
    let round = say.drafting.exact(out);
    let mut places = vec![middle(across, centre)];
    for end in (0..2).filter(|end| !through[*end]) {
        places.push(wall(0, full[end]));
        let beyond = if end == 0 { full[end] - out } else { full[end] + out };
        match stop {
            Stop::Round => say.also(0, [beyond, full[end]], &round),
            Stop::Ramp { .. } => places.push(wall(0, beyond)),
        }
    }
    words += &match (through, stop) {
        ([true, true], _) => ", through".to_owned(),
        (_, Stop::Round) => format!("; stopped: full to the figure, then half round by {round}"),
        (_, Stop::Ramp { diameter }) => {
            format!("; stopped: full depth to the inner figure, then the ramp of a cutter Ø{} to the outer", say.drafting.exact(diameter))
        }
    };
    let mut at = DVec3::new(f64::midpoint(full[0].max(0.0), full[1].min(size.x)), 0.0, 0.0);
    at[across] = centre;
    (words, vec![On { face, at: on_face(face, at, size), places: within(places, size) }])
}

fn teeth(say: &mut Say<'_>, [first, pitch, deep, crest]: [f64; 4], count: u32) -> (String, Vec<On>) {
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

fn edge_rabbet(say: &mut Say<'_>, cut: &EdgeRabbet) -> (String, Vec<On>) {
    let size = say.size;
    let (edge, side) = (if cut.back_edge { Face::BackEdge } else { Face::FaceEdge }, side_face(cut.back_side));
    let (wide, off) = (say.inward(edge, cut.width), say.inward(side, cut.depth));
    let mut at = DVec3::new(f64::midpoint(cut.from.max(0.0), cut.to.min(size.x)), cut.width / 2.0, 0.0);
    if cut.back_edge {
        at.y = size.y - cut.width / 2.0;
    }
    let words = format!("rabbet along the {}, {wide} wide, {off} off the {}", edge.words(), side.words());
    (words, vec![On { face: side, at: on_face(side, at, size), places: within(walls(0, [cut.from, cut.to]), size) }])
}

fn housing(say: &mut Say<'_>, cut: &Housing) -> (String, Vec<On>) {
    let (size, across) = (say.size, cut.across());
    let mut words = format!("housing {} wide, {}", say.about(across, cut.centre, cut.width), say.deep(cut.face, cut.depth));
    if cut.undercut > 0.0 {
        words += &format!(", {} wide at the bottom", say.about(across, cut.centre, cut.width + 2.0 * cut.undercut));
    }
    let through = cut.through(size);
    let round = say.drafting.exact(cut.width / 2.0);
    words += &match (through, cut.round) {
        ([true, true], _) => ", right across".to_owned(),
        (_, true) => format!("; stopped: full to the figure, then half round by {round}"),
        (_, false) => "; stopped square at the figure".to_owned(),
    };
    let ends = [[cut.from - cut.width / 2.0, cut.from], [cut.to, cut.to + cut.width / 2.0]];
    for (end, _) in ends.into_iter().zip(through).filter(|(_, through)| cut.round && !through) {
        say.also(cut.along, end, &round);
    }
    let mut at = DVec3::ZERO;
    at[across] = cut.centre;
    at[cut.along] = f64::midpoint(cut.from.max(0.0), cut.to.min(size[cut.along]));
    let places = within(std::iter::once(middle(across, cut.centre)).chain(walls(cut.along, [cut.from, cut.to])), size);
    (words, vec![On { face: cut.face, at: on_face(cut.face, at, size), places }])
}

fn tail(say: &Say<'_>, cut: &Tail) -> (String, Vec<On>) {
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

fn end_gap(say: &mut Say<'_>, cut: &EndGap) -> (String, Vec<On>) {
    let size = say.size;
    let words = format!("gap in the end, {} deep, through the thickness", say.inward(end_face(cut.second_end), cut.length));
    let at = DVec3::new(
        if cut.second_end { size.x - cut.length / 2.0 } else { cut.length / 2.0 },
        f64::midpoint(cut.at_end[0].max(0.0), cut.at_end[1].min(size.y)),
        0.0,
    );
    let places = within(walls(1, cut.at_end).into_iter().chain(walls(1, cut.at_bottom)), size);
    (words, vec![On { face: Face::FaceSide, at, places }])
}

fn socket(say: &mut Say<'_>, cut: &Socket) -> (String, Vec<On>) {
    let (size, face) = (say.size, side_face(cut.back_side));
    let words = format!("socket in the end, {} along, {}", say.inward(end_face(cut.second_end), cut.length), say.deep(face, cut.depth));
    let at = DVec3::new(
        if cut.second_end { size.x - cut.length / 2.0 } else { cut.length / 2.0 },
        f64::midpoint(cut.at_side[0].max(0.0), cut.at_side[1].min(size.y)),
        0.0,
    );
    let places = within(walls(1, cut.at_side).into_iter().chain(walls(1, cut.at_bottom)), size);
    (words, vec![On { face, at: on_face(face, at, size), places }])
}

fn taper(say: &mut Say<'_>, cut: &Taper) -> (String, Vec<On>) {
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
