//! Sliding dovetails: a housing with undercut walls, and a tail along the end of the shelf that is pushed in from one edge.
//!
//! Rules: a third as deep as the side is thick; slope 1:8 in hardwood, 1:6 in softwood; a taper of 0.2 to 0.5 over the length lets
//! it close at the end of its travel (common practice, no source; 0.2 read in a thread at wordsmith.org). Glued at the front 50 to 75 only where the
//! grain of the two differs (common practice, no source).

use super::dovetail::{slope_of, slope_rules};
use super::housing::{NOTCH_BEYOND, across, broken, left_behind};
use super::members::{Span, cut_back, half_mm, own_or, reach_in, slides};
use super::rules::Rules;
use super::{Broken, Fit, Fitted, Fixing, Joining, JointKind, face_and_point};
use crate::length::{trimmed, trimmed_to};
use crate::model::{Assembly, Contact, Face, Feature, JointId, Tail};
use crate::origin::Size;
use crate::place::Dir;

/// A sliding dovetail as wanted; what is none follows the rules.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Wanted {
    /// Depth of the housing, mm; by rule a third of the side, to the half millimetre.
    pub depth: Option<f64>,
    /// Rise of the walls for one of depth; by rule 1/8 in hardwood, 1/6 in softwood.
    pub slope: Option<f64>,
    /// Housing less tail across the tail, mm; by rule 0.1.
    pub fit: Option<f64>,
    /// Room between the tail and the bottom of the housing, mm; by rule 0.5.
    pub room: Option<f64>,
    /// How much narrower the tail is planed at the end that goes in first, mm; by rule 0.3. Told, not modelled: it is planed to
    /// fit at the bench.
    pub taper: Option<f64>,
    /// How far inside the beginning and the end of the contact it stops, mm; one of them must be 0, where the tail goes in.
    pub stops: [f64; 2],
    /// Whether it is glued.
    pub glued: bool,
}

/// The figures of a sliding dovetail, as cut, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figures {
    /// Width of the housing at the face of the side.
    pub width: f64,
    /// Depth of the housing.
    pub depth: f64,
    /// Length of the tail.
    pub tail: f64,
    /// Thickness of the tail at its end.
    pub at_end: f64,
    /// Thickness of the tail at its shoulder.
    pub neck: f64,
    /// Rise of the walls for one of depth.
    pub slope: f64,
    /// How much narrower the tail is planed where it goes in first.
    pub taper: f64,
    /// Thickness of the side.
    pub side: f64,
    /// How much of the side is left behind it.
    pub left: f64,
    /// Whether another lies back to back with it.
    pub back_to_back: bool,
    /// How far inside the contact it stops, at its beginning and its end; 0 where it runs through.
    pub stops: [f64; 2],
    /// Whether it is glued.
    pub glued: bool,
}

/// How much of a sliding dovetail is glued where the grain of the two parts differs, mm from the front (common practice, no source:
/// 50 to 75).
pub const GLUED_AT_FRONT: f64 = 60.0;

impl Figures {
    fn fitted(&self) -> Fitted {
        Fitted { what: "tail in housing", class: Fit::GluedSnug, clearance: self.width - self.neck }
    }
}

impl Joining for Figures {
    fn describe(&self) -> String {
        format!(
            "sliding dovetail {} deep, tail {} at the end and {} at the neck, 1:{}, planed {} narrower where it goes in",
            trimmed(self.depth),
            trimmed(self.at_end),
            trimmed(self.neck),
            trimmed_to(1.0 / self.slope, 1),
            trimmed(self.taper)
        )
    }

    /// Along the housing only, through an end that is open.
    fn ways_apart(&self, contact: &Contact) -> Vec<Dir> {
        slides(contact, self.stops.map(|stop| stop <= 0.0), false)
    }

    fn has_shoulder(&self) -> bool {
        true
    }

    fn strength(&self) -> &'static str {
        "holds against pulling out without glue, and keeps the side flat (common practice, no source)"
    }

    fn glued_length(&self, contact: &Contact) -> f64 {
        contact.extent.x.min(GLUED_AT_FRONT)
    }

    fn fits(&self) -> Vec<Fitted> {
        vec![self.fitted()]
    }

    fn broken(&self) -> Vec<Broken> {
        const PRACTICE: &str = "common practice, no source";
        let mut all = broken(self.depth, self.side, self.left, self.back_to_back, self.fitted(), self.stops);
        all.extend(slope_rules(self.slope));
        let ways_in = self.stops.iter().filter(|stop| **stop <= 0.0).count() as f64;
        let own = Rules::default()
            .at_least(1.0, ways_in, "a sliding dovetail is open at one end", "geometry")
            .at_most(
                0.5,
                self.taper,
                "a sliding dovetail tapers by 0.5 mm at most",
                "common practice, no source; 0.2 read in a thread at wordsmith.org",
            )
            .at_least(0.0, self.depth - self.tail, "a tail ends short of the bottom of its housing", "geometry")
            .at_least(self.at_end / 2.0, self.neck, "the neck of a tail is at least half its end", PRACTICE);
        all.extend(own.broken());
        all
    }
}

/// Cuts the undercut housing and the tail.
pub(super) fn cut(assembly: &mut Assembly, id: JointId, wanted: &Wanted) -> JointKind {
    let joint = assembly.joint(id);
    let (a, b, contact) = (joint.a, joint.b, joint.contact);
    let receiving = assembly.part(b);
    let (mouth, _) = face_and_point(receiving, -contact.into.vector(), contact.centre);
    let side = receiving.size[mouth.axis()].clone();
    let depth = own_or(wanted.depth, half_mm(side.mm / 3.0));
    let length = depth - own_or(wanted.room, 0.5);
    let by = Size::ruled("tail: length", length, "a third of the side, less room at the bottom (common practice, no source)", [&side]);
    let (face, reach) = reach_in(assembly, id, &by);
    if face.axis() != 0 || reach <= 0.0 {
        return JointKind::Plain(Fixing::Rest);
    }
    let shelf = assembly.part(a).size[2].mm;
    let slope = own_or(wanted.slope, slope_of(assembly.part(a), assembly.timbers()));
    let fit = own_or(wanted.fit, Fit::GluedSnug.usual());
    let neck = shelf - 2.0 * slope * reach;
    let leaning = slope * reach;
    let tail = Tail { second_end: face == Face::SecondEnd, length: reach, at_end: [0.0, shelf], at_shoulder: [leaning, shelf - leaning] };
    assembly.cut(a, Feature::Tail(tail), Some(id));
    let figures = [neck + fit, depth, slope * depth];
    let channel = across(assembly.part(a), assembly.part(b), &contact, figures, wanted.stops, false);
    let (left, back_to_back) = left_behind(assembly.part(b), &channel);
    assembly.cut(b, Feature::Housing(channel), Some(id));
    let stops = Span::of(assembly.part(a), &contact).in_order(wanted.stops);
    cut_back(assembly, a, id, face, reach, stops.map(|stop| if stop > 0.0 { stop + NOTCH_BEYOND } else { 0.0 }));
    JointKind::SlidingDovetail(Figures {
        width: neck + fit,
        depth,
        tail: reach,
        at_end: shelf,
        neck,
        slope,
        taper: own_or(wanted.taper, 0.3),
        side: side.mm,
        left,
        back_to_back,
        stops: wanted.stops,
        glued: wanted.glued,
    })
}
