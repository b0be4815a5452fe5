//! What one cut asks of a tool.

use glam::DVec3;

use super::setting::{Cutter, Fence, SAME, Setting, Work};
use super::trial;
use super::turned::{Turned, turned};
use crate::design::Design;
use crate::joint::JointKind;
use crate::length::trimmed_to;
use crate::model::{Cut, EndGap, Face, Feature, Housing, Model, Part, Socket, Stop, Tail};

/// A fence of a drill stands no farther from the middle of its hole, mm (common practice, no source).
const FENCE_REACHES: f64 = 150.0;

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
    /// How it is set.
    pub setting: Setting,
    /// The face that lies against the fence; none where none is set.
    pub against: Option<Face>,
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
    /// What to try on a test piece of the same stock.
    pub test: &'static str,
    /// What can't be made so, in words; empty where nothing speaks against it.
    pub wrong: String,
}

impl Operation {
    /// Of a cut of a part.
    pub fn of(design: &Design, model: &Model, part: &Part, cut: &Cut) -> Operation {
        let operation = Operation::made(design, model, part, cut);
        Operation { test: trial::of(model, part, cut, operation.setting.work), ..operation }
    }

    fn made(design: &Design, model: &Model, part: &Part, cut: &Cut) -> Operation {
        match &cut.feature {
            Feature::Mortise { face, centre, along, length, width, depth, round }
            | Feature::Recess { face, centre, along, length, width, depth, round } => {
                let (across, cutter) = (across(*face, *along), sold(*width));
                let middle = [centre[*along], centre[across]];
                let cutter = (if *round { Cutter::Round } else { Cutter::Square })(cutter);
                Operation::pocket(part, (*face, *along), middle, [*length, *width, *depth], cutter)
            }
            Feature::Groove { .. } => Operation::groove(design, model, part, cut),
            Feature::Housing(housing) => Operation::housing(part, housing),
            Feature::Hole { face, centre, diameter, depth, sink } => {
                let sink = if *sink > *diameter { format!(", countersunk to {}", mm(*sink)) } else { String::new() };
                let work = if takes_a_thread(model, part, cut) { Work::Pilot } else { Work::Hole };
                Operation::bored(work, *face, *centre, [*diameter, *depth], |along| format!("{}{sink}", mm(along)))
            }
            Feature::HoleRow { face, first, pitch, count, diameter, depth } => {
                let last = |along: f64| along + pitch * f64::from(count.saturating_sub(1));
                let words = |along: f64| format!("{count} holes every {}, from {} to {}", mm(*pitch), mm(along), mm(last(along)));
                Operation::bored(Work::Hole, *face, *first, [*diameter, *depth], words)
            }
            other => Operation::told(part, other),
        }
    }

    /// How wide the face is that a tool stands on, mm.
    pub(super) fn stands_on(&self, part: &Part) -> f64 {
        let size = part.lwt();
        (0..3).filter(|axis| *axis != self.into.axis()).map(|axis| size[axis]).fold(f64::INFINITY, f64::min)
    }

    fn plain(work: Work, cutter: Cutter, [width, depth]: [f64; 2], into: Face) -> Operation {
        Operation {
            setting: Setting { work, cutter, fence: None, depth, width, passes: Vec::new() },
            against: None,
            turned: None,
            alike: false,
            into,
            at: At { from: 0.0, words: String::new() },
            stops: false,
            test: "",
            wrong: String::new(),
        }
    }

    /// With a fence against the face from which a place across is measured; along the length there is a stop instead.
    fn fenced(mut self, across: usize, mm: f64, to_middle: bool) -> Operation {
        self.against = match across {
            1 => Some(Face::FaceEdge),
            2 => Some(Face::FaceSide),
            _ => None,
        };
        self.setting.fence = self.against.map(|_| Fence { mm, to_middle });
        self
    }

    /// A pocket in a face, by the axis of its long way and its middle along that and across it.
    fn pocket(part: &Part, (face, along): (Face, usize), middle: [f64; 2], [length, width, depth]: [f64; 3], cutter: Cutter) -> Operation {
        let across = across(face, along);
        let [from, near] = [middle[0] - length / 2.0, middle[1] - width / 2.0];
        let wider = width - cutter.numbers()[1];
        let mut pocket = Operation::plain(Work::Mortise, cutter, [width, depth], face).fenced(across, near, false);
        pocket.setting.passes.extend((wider > 1e-6).then_some(wider));
        let place = place(along, from, from + length, part.lwt()[along.min(2)]);
        pocket.at = At { from, words: format!("{place}{}", beside(across, near)) };
        pocket
    }

    fn groove(design: &Design, model: &Model, part: &Part, cut: &Cut) -> Operation {
        let Feature::Groove { face, centre, width, depth, from, to, through, stop } = cut.feature else {
            return Operation::told(part, &cut.feature);
        };
        let (size, across) = (part.lwt(), across(face, 0));
        let (wide, passes, wrong) = groove_passes(design, model, cut, width);
        let cutter = match stop {
            Stop::Round => Cutter::Round(wide),
            Stop::Ramp { diameter } => Cutter::Slot { thickness: wide, diameter },
        };
        let centred = (2.0 * centre - size[across]).abs() < 2.0 * SAME;
        let mut groove = Operation::plain(Work::Groove, cutter, [width, depth], face).fenced(across, centre - width / 2.0, false);
        groove.setting.passes = passes;
        // Turned end for end, its stops must change places: alike at both ends they do.
        groove.alike = through[0] == through[1] && (through[0] || (from + to - size.x).abs() < 2.0 * SAME);
        groove.turned = if centred && groove.alike { turned(across, size[across], width, wide) } else { None };
        groove.at = At { from, words: stretch(through, [from, to], stop.run_out(width, depth)) };
        groove.stops = through.contains(&false);
        groove.wrong = wrong;
        groove
    }

    fn housing(part: &Part, housing: &Housing) -> Operation {
        let (size, across) = (part.lwt(), housing.across());
        let near = housing.centre - housing.width / 2.0;
        let cutter = (if housing.round { Cutter::Round } else { Cutter::Square })(sold(housing.width));
        let wider = housing.width - cutter.numbers()[1];
        let length = size[housing.along.min(2)];
        let ends = stretch_across(housing.along, housing.from.max(0.0), housing.to.min(length));
        let mut channel = Operation::plain(Work::Housing, cutter, [housing.width, housing.depth], housing.face).fenced(across, near, false);
        channel.setting.passes.extend((wider > 1e-6).then_some(wider));
        Operation {
            at: At { from: if across == 0 { near } else { housing.from }, words: format!("{ends}{}", beside(across, near)) },
            stops: housing.round && housing.through(size).contains(&false),
            ..channel
        }
    }

    /// A hole, and in words how far along its part it stands: from the first end, or in an end from the face edge. Where it lies farther from its edge than a fence
    /// reaches, or is bored in its place, both ways are told.
    fn bored(work: Work, face: Face, at: DVec3, [diameter, depth]: [f64; 2], words: impl Fn(f64) -> String) -> Operation {
        let (across, along) = match face {
            Face::FaceSide | Face::BackSide => (1, at.x),
            Face::FaceEdge | Face::BackEdge => (2, at.x),
            Face::FirstEnd | Face::SecondEnd => (2, at.y),
        };
        let mut hole = Operation::plain(work, Cutter::Drill(diameter), [diameter, depth], face);
        hole.at = At { from: along, words: words(along) };
        if work == Work::Hole && at[across] <= FENCE_REACHES {
            return hole.fenced(across, at[across], true);
        }
        let from = if across == 1 { "from the face edge" } else { "from the face side" };
        hole.at.words = format!("{} along, {} {from}", hole.at.words, mm(at[across]));
        hole
    }

    /// A cut that is made to its marks, with no cutter and fence that could be told.
    fn told(part: &Part, feature: &Feature) -> Operation {
        let (work, into) = match feature {
            Feature::Tenon { second_end, .. } => (Work::Tenon, end(*second_end)),
            Feature::Rabbet { second_end, .. } => (Work::Rabbet, end(*second_end)),
            Feature::EdgeRabbet(rabbet) => (Work::Rabbet, if rabbet.back_edge { Face::BackEdge } else { Face::FaceEdge }),
            Feature::Lap { face, .. } => (Work::Cutout, *face),
            Feature::Fork { second_end, .. } | Feature::Notch { second_end, .. } => (Work::Cutout, end(*second_end)),
            Feature::Bevel { second_end, .. } => (Work::Shape, end(*second_end)),
            Feature::Teeth { .. } | Feature::HalfRounds { .. } => (Work::Teeth, Face::BackEdge),
            Feature::Tail(Tail { second_end, .. }) | Feature::EndGap(EndGap { second_end, .. }) | Feature::Socket(Socket { second_end, .. }) => {
                (Work::Dovetail, end(*second_end))
            }
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
        Operation { at: At { from: 0.0, words: feature.describe_in(part.lwt()) }, ..Operation::plain(work, Cutter::Any, [0.0; 2], into) }
    }
}

/// The axis of a face that runs across another of its axes.
fn across(face: Face, along: usize) -> usize {
    (0..3).find(|axis| *axis != face.axis() && *axis != along).unwrap_or(0)
}

/// The largest cutter that goes into a width: they are sold in halves of a millimetre (common practice, no source), mm.
fn sold(width: f64) -> f64 {
    let halves = (width * 2.0 + 1e-6).floor() / 2.0;
    if halves > 0.0 { halves } else { width }
}

/// How wide the cutter of a groove cuts, by how much the fence is moved for each further pass, mm, and what can't be made so.
fn groove_passes(design: &Design, model: &Model, cut: &Cut, width: f64) -> (f64, Vec<f64>, String) {
    let joint = cut.joint.map(|joint| &model.joint(joint).kind);
    let Some(JointKind::Groove(figures)) = joint.filter(|kind| matches!(kind, JointKind::Groove(own) if (own.width - width).abs() < SAME))
    else {
        return (width, Vec::new(), String::new());
    };
    let Some(passes) = figures.passes else {
        // It is wider than the groove.
        let cutter = design.joinery.groove.cutter.to_mm();
        let wrong = format!("The cutter is {} wide and the groove {}: it can't be made with this one", mm(cutter), mm(width));
        return (cutter, Vec::new(), wrong);
    };
    if passes.count < 2 {
        return (width, Vec::new(), String::new());
    }
    // The outer passes lie so far off the middle on either side.
    let over = 2.0 * passes.offset;
    let steps = passes.count - 1;
    (width - over, (1..=steps).map(|step| over * f64::from(step) / f64::from(steps)).collect(), String::new())
}

/// Whether a hole is what the thread of a screw cuts into: that in the part which receives.
fn takes_a_thread(model: &Model, part: &Part, cut: &Cut) -> bool {
    let joint = cut.joint.map(|joint| model.joint(joint));
    joint.is_some_and(|joint| {
        joint.b == part.id
            && matches!(joint.kind, JointKind::Screws(_) | JointKind::ScrewedUp(_) | JointKind::SlottedScrew(_) | JointKind::Plate(_))
    })
}

fn end(second: bool) -> Face {
    if second { Face::SecondEnd } else { Face::FirstEnd }
}

/// Where a pocket lies along a part so long: as [`stretch_across`], or out at an end that it reaches or passes.
fn place(along: usize, from: f64, to: f64, length: f64) -> String {
    let (first, second) = match along {
        0 => ("first end", "second end"),
        1 => ("face edge", "back edge"),
        _ => ("face side", "back side"),
    };
    match (from <= SAME, to >= length - SAME) {
        (false, false) => stretch_across(along, from, to),
        (true, false) => format!("from the {first} to {}", mm(to)),
        (false, true) if along == 0 => format!("from {}, out at the {second}", mm(from)),
        (false, true) => format!("from {} from the {first}, out at the {second}", mm(from)),
        (true, true) => "right through".to_owned(),
    }
}

/// `30 to 110`, or across a part `12 to 60 from the face edge`.
fn stretch_across(along: usize, from: f64, to: f64) -> String {
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
    trimmed_to(mm, 2)
}
