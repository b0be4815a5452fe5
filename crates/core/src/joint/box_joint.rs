//! Box joints: square fingers on the ends of two boards that meet at a corner, each in the gaps of the other.
//!
//! Rules: fingers half to once as wide as the board is thick; an odd number of them fills the width, else a stub appears at one edge
//! (common practice and arithmetic); 0.05 to 0.1 clearance a finger, and 0.1 already looks sloppy (read, woodworkingarchive.biz).
//! Errors add up: twelve fingers 0.05 wide too many close by 0.6, so all are set out from one edge (arithmetic).

use super::members::{Span, outward, own_or, reach_in};
use super::rules::Rules;
use super::{Broken, Fit, Fitted, Fixing, Joining, JointKind, face_and_point};
use crate::length::trimmed_to;
use crate::model::{Assembly, Contact, EndGap, Face, Feature, JointId};
use crate::origin::Size;
use crate::place::Dir;

/// A box joint as wanted; what is none follows the rules.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Wanted {
    /// Width of a finger, mm; by rule the odd share of the width that is nearest to three quarters of the thickness.
    pub finger: Option<f64>,
    /// Gap less finger, mm; by rule 0.1.
    pub fit: Option<f64>,
    /// Whether it is glued.
    pub glued: bool,
}

/// The figures of a box joint, as cut, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figures {
    /// Width of a finger.
    pub finger: f64,
    /// How many fingers and gaps the width holds.
    pub count: u32,
    /// What is left over at the far edge when they don't fill the width.
    pub stub: f64,
    /// Gap less finger.
    pub fit: f64,
    /// Thickness of the thinner board.
    pub board: f64,
    /// The ways in which they come apart, besides straight back.
    pub out: Dir,
}

impl Figures {
    /// How far the last finger is off when every finger is off by `error` and each is set out from the one before, mm.
    pub fn adds_up(&self, error: f64) -> f64 {
        f64::from(self.count) * error
    }
}

impl Joining for Figures {
    fn describe(&self) -> String {
        format!("box joint, {} fingers and gaps of {}, set out from one edge", self.count, trimmed_to(self.finger, 2))
    }

    fn ways_apart(&self, contact: &Contact) -> Vec<Dir> {
        vec![contact.into.opposite(), self.out]
    }

    fn has_shoulder(&self) -> bool {
        true
    }

    fn strength(&self) -> &'static str {
        "all of its strength is the glue on the long grain of its fingers (common practice, no source)"
    }

    fn fits(&self) -> Vec<Fitted> {
        vec![Fitted { what: "finger in gap", class: Fit::GluedSnug, clearance: self.fit }]
    }

    fn broken(&self) -> Vec<Broken> {
        const PRACTICE: &str = "common practice, no source";
        Rules::default()
            .at_least(self.board / 2.0, self.finger, "a finger is at least half as wide as the board is thick", PRACTICE)
            .at_most(self.board, self.finger, "a finger is at most as wide as the board is thick", PRACTICE)
            .at_most(0.0, self.stub, "an odd number of fingers fills the width, else a stub is left at one edge", "arithmetic")
            .at_least(0.0, self.fit, "a finger goes into its gap", PRACTICE)
            .at_most(0.1, self.fit, "a finger is snug in its gap", "woodworkingarchive.biz (read): 0.1 too loose reads as sloppy")
            .broken()
    }
}

/// Cuts the fingers of both boards.
pub(super) fn cut(assembly: &mut Assembly, id: JointId, wanted: &Wanted) -> JointKind {
    let joint = assembly.joint(id);
    let (a, b, contact) = (joint.a, joint.b, joint.contact);
    let (coming, receiving) = (assembly.part(a), assembly.part(b));
    let out = outward(coming, receiving, &contact);
    let (inner, _) = face_and_point(receiving, -contact.into.vector(), contact.centre);
    let (end, _) = face_and_point(receiving, out.vector(), contact.centre);
    let (thick_a, thick_b) = (coming.size[2].mm, receiving.size[2].clone());
    let by = Size::ruled("fingers: length", thick_b.mm, "the thickness of the other board", [&thick_b]);
    if inner.axis() != 2 || end.axis() != 0 {
        return JointKind::Plain(Fixing::Rest);
    }
    let (face, length) = reach_in(assembly, id, &by);
    if face.axis() != 0 || length <= 0.0 {
        return JointKind::Plain(Fixing::Rest);
    }
    let figures = figures(wanted, thick_a.min(thick_b.mm), contact.extent.x, out);
    for index in 0..figures.count {
        // Fingers of the part that comes up stand at the edges.
        let (part, second_end, length) =
            if index % 2 == 1 { (a, face == Face::SecondEnd, length) } else { (b, end == Face::SecondEnd, thick_a) };
        let span = Span::of(assembly.part(part), &contact);
        let loose = |edge: u32| if edge == 0 || edge == figures.count { 0.0 } else { figures.fit / 4.0 };
        let from = f64::from(index) * figures.finger - loose(index);
        let to = if index + 1 == figures.count { span.length } else { f64::from(index + 1) * figures.finger + loose(index + 1) };
        let at = span.range(from, to);
        assembly.cut(part, Feature::EndGap(EndGap { second_end, at_end: at, at_bottom: at, length }), Some(id));
    }
    JointKind::BoxJoint(figures)
}

fn figures(wanted: &Wanted, board: f64, width: f64, out: Dir) -> Figures {
    let odd = |count: f64| (2.0 * ((count - 1.0) / 2.0).round() + 1.0).clamp(3.0, 199.0);
    let by_rule = width / odd(width / (0.75 * board));
    let finger = own_or(wanted.finger, by_rule);
    // The greatest odd number that the width holds; what is left over stands at the far edge.
    let held = (width / finger + 1e-9).floor().clamp(1.0, 199.0);
    let count = if held % 2.0 == 0.0 { held - 1.0 } else { held };
    let stub = width - count * finger;
    Figures {
        finger,
        count: count as u32,
        stub: if stub.abs() < 1e-6 { 0.0 } else { stub },
        fit: own_or(wanted.fit, Fit::GluedSnug.usual()),
        board,
        out,
    }
}
