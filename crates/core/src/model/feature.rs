//! What is cut into a part, in the part's own measures.

mod channels;
mod edges;
mod ends;
mod fitted;
mod words;

use casewright_solid::Prism;
use glam::DVec3;

pub(crate) use channels::channel;
pub use channels::{Housing, Stop};
pub use edges::{EdgeChamfer, EdgeRabbet, EdgeRound, Taper};
pub use ends::{EndGap, Socket, Tail};

use crate::length::trimmed;
use crate::place::Dir;

/// One of the six faces of a part's blank.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Face {
    /// L = 0.
    FirstEnd,
    /// L = length.
    SecondEnd,
    /// W = 0.
    FaceEdge,
    /// W = width.
    BackEdge,
    /// T = 0.
    FaceSide,
    /// T = thickness.
    BackSide,
}

impl Face {
    /// 0 for the ends, 1 for the edges, 2 for the sides.
    pub fn axis(self) -> usize {
        match self {
            Face::FirstEnd | Face::SecondEnd => 0,
            Face::FaceEdge | Face::BackEdge => 1,
            Face::FaceSide | Face::BackSide => 2,
        }
    }

    /// Whether it lies at the zero of its axis.
    pub fn is_first(self) -> bool {
        matches!(self, Face::FirstEnd | Face::FaceEdge | Face::FaceSide)
    }

    /// From where places along an axis are measured: the first end, the face edge, and the face side for any other.
    pub fn datum(axis: usize) -> Face {
        match axis {
            0 => Face::FirstEnd,
            1 => Face::FaceEdge,
            _ => Face::FaceSide,
        }
    }

    /// The face on the other side of the part.
    #[must_use]
    pub fn opposite(self) -> Face {
        match self {
            Face::FirstEnd => Face::SecondEnd,
            Face::SecondEnd => Face::FirstEnd,
            Face::FaceEdge => Face::BackEdge,
            Face::BackEdge => Face::FaceEdge,
            Face::FaceSide => Face::BackSide,
            Face::BackSide => Face::FaceSide,
        }
    }

    /// The face whose outward normal in the part's own axes is nearest to `out`.
    pub fn looking(out: DVec3) -> Face {
        let dir = Dir::nearest(out);
        match (dir.axis(), dir.sign() < 0.0) {
            (0, true) => Face::FirstEnd,
            (0, false) => Face::SecondEnd,
            (1, true) => Face::FaceEdge,
            (1, false) => Face::BackEdge,
            (_, true) => Face::FaceSide,
            (_, false) => Face::BackSide,
        }
    }

    /// The trade's word.
    pub fn words(self) -> &'static str {
        match self {
            Face::FirstEnd => "first end",
            Face::SecondEnd => "second end",
            Face::FaceEdge => "face edge",
            Face::BackEdge => "back edge",
            Face::FaceSide => "face side",
            Face::BackSide => "back side",
        }
    }
}

/// What is cut into a part. Every figure is local: L from the first end, W from the face edge, T from the face side, mm.
#[derive(Clone, Debug, PartialEq)]
pub enum Feature {
    /// A pocket in a face, its long way along one of the part's axes.
    Mortise {
        /// The face it is cut into.
        face: Face,
        /// Its middle on that face; the component through the face is ignored.
        centre: DVec3,
        /// The axis of its long way: 0 L, 1 W, 2 T.
        along: usize,
        /// Its long way.
        length: f64,
        /// Its narrow way.
        width: f64,
        /// How deep.
        depth: f64,
        /// Half-round ends, as a round cutter leaves them; else square.
        round: bool,
    },
    /// A tenon left standing on an end: the rest of the end is cut away.
    Tenon {
        /// At the second end; else at the first.
        second_end: bool,
        /// How far it stands out beyond its shoulder, along L.
        length: f64,
        /// The axis across which it is wide: 1 W, 2 T.
        along: usize,
        /// From one cheek to the other, along the remaining axis.
        cheeks: (f64, f64),
        /// What stands out, in order along the width; between them the end is cut back to the shoulder.
        steps: Vec<Step>,
        /// Whether its end is cut at 45° across the thickness, and then whether the cheek nearer to zero is the long one.
        mitre: Option<bool>,
        /// Edges rounded to half circles, to suit a mortise with round ends; else square.
        round: bool,
    },
    /// A shallow pocket that is open on purpose to what it touches: to a mortise, a groove, an edge or an end.
    Recess {
        /// The face it is cut into.
        face: Face,
        /// Its middle on that face; the component through the face is ignored.
        centre: DVec3,
        /// The axis of its long way: 0 L, 1 W, 2 T.
        along: usize,
        /// Its long way.
        length: f64,
        /// Its narrow way.
        width: f64,
        /// How deep.
        depth: f64,
        /// Half-round ends; else square.
        round: bool,
    },
    /// A round hole.
    Hole {
        /// The face it is bored into.
        face: Face,
        /// Its middle on that face; the component through the face is ignored.
        centre: DVec3,
        /// Its diameter.
        diameter: f64,
        /// How deep; as deep as the part is through it goes through.
        depth: f64,
        /// Diameter of the countersink at the face, 90° to the hole; 0 for none.
        sink: f64,
    },
    /// A recess right across a side or an edge, to half a part over another.
    Lap {
        /// The side or edge it is cut into.
        face: Face,
        /// Where it begins, along L.
        from: f64,
        /// Where it ends, along L.
        to: f64,
        /// How deep.
        depth: f64,
    },
    /// An open mortise: the middle of an end cut out across the whole width.
    Fork {
        /// At the second end; else at the first.
        second_end: bool,
        /// How deep, along L.
        length: f64,
        /// Where it begins, along T.
        from: f64,
        /// Where it ends, along T.
        to: f64,
    },
    /// A groove along the grain in an edge or a side.
    Groove {
        /// The face it is cut into: an edge or a side.
        face: Face,
        /// From the face edge or face side to its middle line.
        centre: f64,
        /// How wide.
        width: f64,
        /// How deep.
        depth: f64,
        /// Where its full width begins, along L.
        from: f64,
        /// Where its full width ends, along L.
        to: f64,
        /// Whether it runs out at the first and at the second end; else it stops there.
        through: [bool; 2],
        /// What the cutter leaves beyond its full width and depth where it stops.
        stop: Stop,
    },
    /// A corner cut out through the thickness.
    Notch {
        /// At the second end; else at the first.
        second_end: bool,
        /// At the back edge; else at the face edge.
        back_edge: bool,
        /// Along L.
        length: f64,
        /// Along W.
        width: f64,
    },
    /// A step across an end: what is left is a tongue.
    Rabbet {
        /// At the second end; else at the first.
        second_end: bool,
        /// Taken off the back side; else off the face side.
        back_side: bool,
        /// Along L.
        length: f64,
        /// Along T.
        depth: f64,
    },
    /// An end cut to a slope across the width: nothing off at the face edge, `inset` off at the back edge.
    Bevel {
        /// At the second end; else at the first.
        second_end: bool,
        /// Taken off along L at the back edge.
        inset: f64,
    },
    /// A row of sawteeth in the back edge, through the thickness. Each has a level seat and a slope above it.
    Teeth {
        /// From the first end to the lowest seat.
        first: f64,
        /// From seat to seat.
        pitch: f64,
        /// Depth of a seat.
        seat: f64,
        /// Flat at the tips.
        crest: f64,
        /// How many seats.
        count: u32,
    },
    /// A row of half circles in the back edge, through the thickness.
    HalfRounds {
        /// From the first end to the lowest point of the lowest half circle.
        first: f64,
        /// From one to the next.
        pitch: f64,
        /// Their radius, which is as deep as they are.
        radius: f64,
        /// How many.
        count: u32,
    },
    /// A row of round holes along the grain, alike and evenly spaced.
    HoleRow {
        /// The face they are bored into.
        face: Face,
        /// The middle of the first on that face; the component through the face is ignored.
        first: DVec3,
        /// From one to the next, along L.
        pitch: f64,
        /// How many.
        count: u32,
        /// Diameter of each.
        diameter: f64,
        /// How deep each is.
        depth: f64,
    },
    /// Both edges rounded to half circles, as on a loose tenon.
    RoundEdges,
    /// Both ends rounded to half circles seen from the face side, as on a plate.
    RoundEnds,
    /// A step along an edge.
    EdgeRabbet(EdgeRabbet),
    /// A channel in a face, most often across the grain.
    Housing(Housing),
    /// An end left as one tail or tongue.
    Tail(Tail),
    /// A gap in an end through the thickness.
    EndGap(EndGap),
    /// A pocket in an end that a tail goes into.
    Socket(Socket),
    /// An arris rounded over.
    EdgeRound(EdgeRound),
    /// An arris chamfered.
    EdgeChamfer(EdgeChamfer),
    /// A face planed to a slope toward an end.
    Taper(Taper),
}

/// What a cut with a type of its own can tell of itself.
pub(crate) trait Shaping {
    /// See [`Feature::name`].
    fn name(&self) -> &'static str;
    /// See [`Feature::describe`].
    fn describe(&self) -> String;
    /// See [`Feature::figures`].
    fn figures(&self) -> Vec<f64>;
    /// See [`Feature::shift_along`].
    fn shift_along(&mut self, by: f64);
    /// See [`Feature::prisms`].
    fn prisms(&self, size: DVec3) -> Vec<Prism>;
}

/// A piece of an end that stands out beyond the shoulder: a tenon, or a haunch that is shorter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Step {
    /// Where it begins across the part, mm.
    pub from: f64,
    /// Where it ends, mm.
    pub to: f64,
    /// How far it stands out, mm.
    pub reach: f64,
}

impl Feature {
    /// The same cut `by` farther from the first end, mm.
    pub(crate) fn shift_along(&mut self, by: f64) {
        match self {
            Feature::Mortise { centre, .. } | Feature::Recess { centre, .. } | Feature::Hole { centre, .. } => centre.x += by,
            Feature::Lap { from, to, .. } | Feature::Groove { from, to, .. } => (*from, *to) = (*from + by, *to + by),
            Feature::Teeth { first, .. } | Feature::HalfRounds { first, .. } => *first += by,
            Feature::HoleRow { first, .. } => first.x += by,
            // Corners and ends: what stands out beyond the first end is not theirs to cut, so they reach that much further in.
            Feature::Notch { second_end, length, .. }
            | Feature::Rabbet { second_end, length, .. }
            | Feature::Fork { second_end, length, .. } => {
                if !*second_end {
                    *length += by;
                }
            }
            Feature::Tenon { .. } | Feature::Bevel { .. } | Feature::RoundEdges | Feature::RoundEnds => {}
            Feature::EdgeRabbet(cut) => cut.shift_along(by),
            Feature::Housing(cut) => cut.shift_along(by),
            Feature::Tail(cut) => cut.shift_along(by),
            Feature::EndGap(cut) => cut.shift_along(by),
            Feature::Socket(cut) => cut.shift_along(by),
            Feature::EdgeRound(cut) => cut.shift_along(by),
            Feature::EdgeChamfer(cut) => cut.shift_along(by),
            Feature::Taper(cut) => cut.shift_along(by),
        }
    }

    /// Its figures in a fixed order: cuts of one name with equal figures are equal.
    pub(crate) fn figures(&self) -> Vec<f64> {
        match *self {
            Feature::Mortise { face, centre, along, length, width, depth, round }
            | Feature::Recess { face, centre, along, length, width, depth, round } => {
                let mut at = centre;
                at[face.axis()] = flag(face.is_first());
                vec![face.axis() as f64, at.x, at.y, at.z, along as f64, length, width, depth, flag(round)]
            }
            Feature::Tenon { second_end, length, along, cheeks, ref steps, mitre, round } => {
                let mut all = vec![flag(second_end), length, along as f64, cheeks.0, cheeks.1, flag(round)];
                all.push(mitre.map_or(-1.0, flag));
                all.extend(steps.iter().flat_map(|step| [step.from, step.to, step.reach]));
                all
            }
            Feature::Hole { face, centre, diameter, depth, sink } => {
                let mut at = centre;
                at[face.axis()] = flag(face.is_first());
                vec![face.axis() as f64, at.x, at.y, at.z, diameter, depth, sink]
            }
            Feature::Lap { face, from, to, depth } => vec![face.axis() as f64, flag(face.is_first()), from, to, depth],
            Feature::Fork { second_end, length, from, to } => vec![flag(second_end), length, from, to],
            Feature::Groove { face, centre, width, depth, from, to, through, stop } => {
                vec![number(face), centre, width, depth, from, to, flag(through[0]), flag(through[1]), stop.figure()]
            }
            Feature::Notch { second_end, back_edge, length, width } => vec![flag(second_end), flag(back_edge), length, width],
            Feature::Rabbet { second_end, back_side, length, depth } => vec![flag(second_end), flag(back_side), length, depth],
            Feature::Bevel { second_end, inset } => vec![flag(second_end), inset],
            Feature::Teeth { first, pitch, seat, crest, count } => vec![first, pitch, seat, crest, f64::from(count)],
            Feature::HalfRounds { first, pitch, radius, count } => vec![first, pitch, radius, f64::from(count)],
            Feature::HoleRow { face, first, pitch, count, diameter, depth } => {
                let mut at = first;
                at[face.axis()] = flag(face.is_first());
                vec![face.axis() as f64, at.x, at.y, at.z, pitch, f64::from(count), diameter, depth]
            }
            Feature::RoundEdges | Feature::RoundEnds => Vec::new(),
            Feature::EdgeRabbet(cut) => cut.figures(),
            Feature::Housing(cut) => cut.figures(),
            Feature::Tail(cut) => cut.figures(),
            Feature::EndGap(cut) => cut.figures(),
            Feature::Socket(cut) => cut.figures(),
            Feature::EdgeRound(cut) => cut.figures(),
            Feature::EdgeChamfer(cut) => cut.figures(),
            Feature::Taper(cut) => cut.figures(),
        }
    }
}

fn flag(set: bool) -> f64 {
    if set { 1.0 } else { 0.0 }
}

/// A number for each face.
fn number(face: Face) -> f64 {
    face.axis() as f64 * 2.0 + flag(face.is_first())
}

fn end(second: bool) -> &'static str {
    if second { "second end" } else { "first end" }
}

fn side(back: bool) -> &'static str {
    if back { "back side" } else { "face side" }
}

fn range([from, to]: [f64; 2]) -> String {
    format!("{} to {}", trimmed(from), trimmed(to))
}
