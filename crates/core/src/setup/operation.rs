//! What one cut asks of a tool.

use super::turned::{Turned, turned};
use crate::design::ToolWork;
use crate::joint::JointKind;
use crate::length::trimmed_to;
use crate::model::{Cut, Face, Feature, Model, Part, Stop};

/// A kind of work, in the order in which it is done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Work {
    /// Pockets for tenons, buttons and plates.
    Mortise,
    /// Ends cut back to a tenon.
    Tenon,
    /// Channels along the grain.
    Groove,
    /// Channels across the grain.
    Housing,
    /// Steps along an edge or across an end.
    Rabbet,
    /// Recesses right across, open mortises and corners cut out.
    Cutout,
    /// Tails, pins and fingers.
    Dovetail,
    /// Rows of teeth or half circles.
    Teeth,
    /// Round holes.
    Hole,
    /// Bevels, tapers, rounds and chamfers.
    Shape,
}

impl Work {
    /// All of them, in the order of the work.
    pub const ALL: [Work; 10] = [
        Work::Mortise,
        Work::Tenon,
        Work::Groove,
        Work::Housing,
        Work::Rabbet,
        Work::Cutout,
        Work::Dovetail,
        Work::Teeth,
        Work::Hole,
        Work::Shape,
    ];

    /// Its name on a card.
    pub fn word(self) -> &'static str {
        match self {
            Work::Mortise => "mortises and slots",
            Work::Tenon => "tenons",
            Work::Groove => "grooves",
            Work::Housing => "housings",
            Work::Rabbet => "rabbets",
            Work::Cutout => "laps, open mortises and notches",
            Work::Dovetail => "dovetails and fingers",
            Work::Teeth => "teeth",
            Work::Hole => "holes",
            Work::Shape => "edges and slopes",
        }
    }

    pub(super) fn place(self) -> u8 {
        Work::ALL.iter().position(|work| *work == self).map_or(0, |place| place as u8)
    }

    /// The kind of tool on the maker's list that makes it; none where no such tool is kept.
    pub(super) fn tool(self) -> Option<ToolWork> {
        match self {
            Work::Mortise => Some(ToolWork::Slot),
            Work::Groove | Work::Housing => Some(ToolWork::Groove),
            Work::Hole => Some(ToolWork::Hole),
            Work::Tenon | Work::Rabbet | Work::Cutout | Work::Dovetail | Work::Teeth | Work::Shape => None,
        }
    }

    /// What to try on a test piece of the same stock (common practice, no source).
    pub(super) fn test(self) -> &'static str {
        match self {
            Work::Mortise => "the tenon, button or clip that is for it goes in by hand, as tight as it should be",
            Work::Tenon => "it goes into a mortise that is cut already, by hand, and its shoulder closes",
            Work::Groove => "an offcut of the panel slides along it without force and without rattling",
            Work::Housing => "the end of the shelf goes in by hand",
            Work::Rabbet => "what goes into it lies flush",
            Work::Cutout => "both faces come out flush",
            Work::Dovetail => "the joint goes together once, with a mallet",
            Work::Teeth => "a cleat lies on the first and on the last of them",
            Work::Hole => "the pin, dowel or screw goes in as it should",
            Work::Shape => "it looks as wanted",
        }
    }
}

/// What cuts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Cutter {
    /// A round cutter of a diameter, mm.
    Round(f64),
    /// A slot cutter or saw of a thickness and a diameter, mm.
    Slot {
        /// How wide it cuts.
        thickness: f64,
        /// Its diameter.
        diameter: f64,
    },
    /// A mortise chisel or a square cut, of a width, mm.
    Square(f64),
    /// A drill of a diameter, mm.
    Drill(f64),
    /// A saw and a plane, or whatever the maker likes.
    Any,
}

impl Cutter {
    /// Whether both are one.
    pub(super) fn is_same(&self, other: &Cutter) -> bool {
        let ([kind, size], [other_kind, other_size]) = (self.numbers(), other.numbers());
        (kind - other_kind).abs() < 0.5 && (size - other_size).abs() < super::SAME
    }

    pub(super) fn numbers(&self) -> [f64; 2] {
        match *self {
            Cutter::Any => [0.0, 0.0],
            Cutter::Square(width) => [1.0, width],
            Cutter::Round(diameter) => [2.0, diameter],
            Cutter::Slot { thickness, .. } => [3.0, thickness],
            Cutter::Drill(diameter) => [4.0, diameter],
        }
    }

    /// `round cutter 8`; empty where it is the maker's choice.
    pub fn words(&self) -> String {
        let mm = |mm: f64| trimmed_to(mm, 2);
        match *self {
            Cutter::Any => String::new(),
            Cutter::Square(width) => format!("round cutter {}, the ends squared with a chisel", mm(width)),
            Cutter::Round(diameter) => format!("round cutter {}", mm(diameter)),
            Cutter::Slot { thickness, diameter } => format!("slot cutter or saw {} thick, {} across", mm(thickness), mm(diameter)),
            Cutter::Drill(diameter) => format!("drill {}", mm(diameter)),
        }
    }
}

/// Where a fence stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fence {
    /// The face of the part that lies against it.
    pub against: Face,
    /// From there to the near wall of the cut, mm; of a hole to its middle.
    pub mm: f64,
    /// Whether that is to the middle.
    pub to_middle: bool,
}

/// Where a cut lies along its part.
#[derive(Clone, Debug, PartialEq)]
pub struct At {
    /// Where it begins, mm from the first end; in an end or across the part, from the face edge or face side.
    pub from: f64,
    /// In words.
    pub words: String,
}

/// What one cut of one part asks of a tool.
#[derive(Clone, Debug, PartialEq)]
pub struct Operation {
    /// What kind of work it is.
    pub work: Work,
    /// What cuts.
    pub cutter: Cutter,
    /// Where the fence stands.
    pub fence: Option<Fence>,
    /// How deep, mm.
    pub depth: f64,
    /// How wide, mm.
    pub width: f64,
    /// By how much fence or stop is moved on from where it stood first, for each further pass, mm.
    pub passes: Vec<f64>,
    /// Where it may be made in two passes with the part turned.
    pub turned: Option<Turned>,
    /// Whether its part may be turned end for end and its stops serve as well.
    pub alike: bool,
    /// The face that is cut into.
    pub into: Face,
    /// Where along the part.
    pub at: At,
    /// Whether it stops short of an end where a cutter leaves a ramp or a round.
    pub stops: bool,
}

impl Operation {
    /// Of a cut of a part.
    pub fn of(model: &Model, part: &Part, cut: &Cut) -> Operation {
        let size = part.lwt();
        match &cut.feature {
            Feature::Mortise { face, centre, along, length, width, depth, round }
            | Feature::Recess { face, centre, along, length, width, depth, round } => {
                let across = (0..3).find(|axis| *axis != face.axis() && axis != along).unwrap_or(0);
                let near = centre[across] - width / 2.0;
                let [from, to] = [-0.5, 0.5].map(|half| centre[*along] + half * length);
                let wide = sold(*width);
                let cutter = if *round { Cutter::Round(wide) } else { Cutter::Square(wide) };
                Operation {
                    fence: fence(across, near, false),
                    passes: (*width - wide > 1e-6).then_some(*width - wide).into_iter().collect(),
                    at: At { from, words: format!("{}{}", place(*along, from, to), beside(across, near)) },
                    ..Operation::plain(Work::Mortise, cutter, *depth, *width, *face)
                }
            }
            Feature::Groove { face, centre, width, depth, from, to, through, stop } => {
                let across = 3 - face.axis();
                let near = centre - width / 2.0;
                let (wide, passes) = groove_passes(model, cut, *width);
                let cutter = match *stop {
                    Stop::Round => Cutter::Round(wide),
                    Stop::Ramp { diameter } => Cutter::Slot { thickness: wide, diameter },
                };
                let centred = (2.0 * centre - size[across]).abs() < 2.0 * super::SAME;
                // Turned end for end, its stops must change places: alike at both ends they do.
                let alike = through[0] == through[1] && (through[0] || (from + to - size.x).abs() < 2.0 * super::SAME);
                Operation {
                    fence: fence(across, near, false),
                    passes,
                    turned: if centred && alike { turned(across, size[across], *width, wide) } else { None },
                    alike,
                    at: At { from: *from, words: stretch(*through, [*from, *to], stop.run_out(*width, *depth)) },
                    stops: through.contains(&false),
                    ..Operation::plain(Work::Groove, cutter, *depth, *width, *face)
                }
            }
            Feature::Housing(housing) => {
                let across = housing.across();
                let near = housing.centre - housing.width / 2.0;
                let cutter = if housing.round { Cutter::Round(housing.width) } else { Cutter::Square(housing.width) };
                let ends = place(housing.along, housing.from.max(0.0), housing.to.min(size[housing.along.min(2)]));
                Operation {
                    fence: fence(across, near, false),
                    at: At { from: if across == 0 { near } else { housing.from }, words: format!("{ends}{}", beside(across, near)) },
                    stops: housing.round && housing.through(size).contains(&false),
                    ..Operation::plain(Work::Housing, cutter, housing.depth, housing.width, housing.face)
                }
            }
            Feature::Hole { face, centre, diameter, depth, sink } => {
                let sink = if *sink > *diameter { format!(", countersunk to {}", mm(*sink)) } else { String::new() };
                let (fence, along) = bored(*face, *centre);
                let at = At { from: along, words: format!("{}{sink}", mm(along)) };
                Operation { fence, at, ..Operation::plain(Work::Hole, Cutter::Drill(*diameter), *depth, *diameter, *face) }
            }
            Feature::HoleRow { face, first, pitch, count, diameter, depth } => {
                let (fence, along) = bored(*face, *first);
                let last = along + pitch * f64::from(count.saturating_sub(1));
                let words = format!("{count} holes every {}, from {} to {}", mm(*pitch), mm(along), mm(last));
                let at = At { from: along, words };
                Operation { fence, at, ..Operation::plain(Work::Hole, Cutter::Drill(*diameter), *depth, *diameter, *face) }
            }
            other => Operation::told(other),
        }
    }

    fn plain(work: Work, cutter: Cutter, depth: f64, width: f64, into: Face) -> Operation {
        Operation {
            work,
            cutter,
            fence: None,
            depth,
            width,
            passes: Vec::new(),
            turned: None,
            alike: false,
            into,
            at: At { from: 0.0, words: String::new() },
            stops: false,
        }
    }

    /// A cut that is made to its marks, with no cutter and fence that could be told.
    fn told(feature: &Feature) -> Operation {
        let (work, into) = match feature {
            Feature::Tenon { second_end, .. } => (Work::Tenon, end(*second_end)),
            Feature::Rabbet { second_end, .. } => (Work::Rabbet, end(*second_end)),
            Feature::EdgeRabbet(rabbet) => (Work::Rabbet, if rabbet.back_edge { Face::BackEdge } else { Face::FaceEdge }),
            Feature::Lap { face, .. } => (Work::Cutout, *face),
            Feature::Fork { second_end, .. } | Feature::Notch { second_end, .. } => (Work::Cutout, end(*second_end)),
            Feature::Bevel { second_end, .. } => (Work::Shape, end(*second_end)),
            Feature::Teeth { .. } | Feature::HalfRounds { .. } => (Work::Teeth, Face::BackEdge),
            Feature::Tail(_) | Feature::EndGap(_) | Feature::Socket(_) => (Work::Dovetail, Face::FirstEnd),
            Feature::RoundEdges
            | Feature::RoundEnds
            | Feature::EdgeRound(_)
            | Feature::EdgeChamfer(_)
            | Feature::Taper(_)
            // Those with a setting of their own are told by it.
            | Feature::Mortise { .. }
            | Feature::Recess { .. }
            | Feature::Groove { .. }
            | Feature::Housing(_)
            | Feature::Hole { .. }
            | Feature::HoleRow { .. } => (Work::Shape, Face::FaceEdge),
        };
        Operation { at: At { from: 0.0, words: feature.describe() }, ..Operation::plain(work, Cutter::Any, 0.0, 0.0, into) }
    }
}

/// The largest cutter that goes into a width: they are sold in halves of a millimetre (common practice, no source), mm.
fn sold(width: f64) -> f64 {
    let halves = (width * 2.0 + 1e-6).floor() / 2.0;
    if halves > 0.0 { halves } else { width }
}

/// How wide the cutter of a groove cuts, and by how much the fence is moved for each further pass, mm.
fn groove_passes(model: &Model, cut: &Cut, width: f64) -> (f64, Vec<f64>) {
    let joint = cut.joint.map(|joint| &model.joint(joint).kind);
    let passes = match joint {
        Some(JointKind::Groove(figures)) if (figures.width - width).abs() < super::SAME => figures.passes,
        _ => None,
    };
    let Some(passes) = passes.filter(|passes| passes.count > 1) else { return (width, Vec::new()) };
    // The outer passes lie so far off the middle on either side.
    let over = 2.0 * passes.offset;
    let steps = passes.count - 1;
    (width - over, (1..=steps).map(|step| over * f64::from(step) / f64::from(steps)).collect())
}

/// A fence against the face from which a place across is measured; along the length there is a stop instead.
fn fence(across: usize, mm: f64, to_middle: bool) -> Option<Fence> {
    let against = match across {
        1 => Face::FaceEdge,
        2 => Face::FaceSide,
        _ => return None,
    };
    Some(Fence { against, mm, to_middle })
}

/// The fence of a hole and how far along its part it stands: the distance from the first end, or in an end that from the face edge.
fn bored(face: Face, at: glam::DVec3) -> (Option<Fence>, f64) {
    match face {
        Face::FaceSide | Face::BackSide => (fence(1, at.y, true), at.x),
        Face::FaceEdge | Face::BackEdge => (fence(2, at.z, true), at.x),
        Face::FirstEnd | Face::SecondEnd => (fence(2, at.z, true), at.y),
    }
}

fn end(second: bool) -> Face {
    if second { Face::SecondEnd } else { Face::FirstEnd }
}

/// `from 30 to 110`, or across a part `from 12 to 60 from the face edge`.
fn place(along: usize, from: f64, to: f64) -> String {
    let of = match along {
        0 => "",
        1 => " from the face edge",
        _ => " from the face side",
    };
    format!("{} to {}{of}", mm(from), mm(to))
}

/// Where a cut across the part stands along it, where that is no fence's to tell.
fn beside(across: usize, near: f64) -> String {
    if across == 0 { format!(", near wall {} from the first end", mm(near)) } else { String::new() }
}

/// Where a groove is at its full depth, and where its ramps begin.
fn stretch(through: [bool; 2], [from, to]: [f64; 2], run_out: f64) -> String {
    let (first, last) = (mm(from - run_out), mm(to + run_out));
    let (from, to) = (mm(from), mm(to));
    match through {
        [true, true] => "right through".to_owned(),
        [true, false] => format!("from the first end, full to {to}, stop at {last}"),
        [false, true] => format!("begin at {first}, full from {from}, out at the second end"),
        [false, false] => format!("begin at {first}, full from {from} to {to}, stop at {last}"),
    }
}

fn mm(mm: f64) -> String {
    trimmed_to(mm, 1)
}
