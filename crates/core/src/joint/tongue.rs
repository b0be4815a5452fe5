//! Tongue and groove: the edge or end of a board or panel, rabbeted to a tongue, in a groove of its own or of a saw's width.
//!
//! Rules: a tongue about a third as thick as its board, and shorter than its groove by the room for growth; a groove for a stable
//! panel 6 to 8 deep, for a solid one 9 to 12 and at most half of the member (common practice, no source; 9.5 to 11 read at
//! woodweb.com). Fit: slip where the panel must move, snug where it is glued. Where the groove stops, the tongue is cut back to where
//! the groove is at full depth, so that it stays clear of what the cutter leaves there.

use super::groove::{CLEAR_OF_STOP, CUTTER_REACHES, cutter_reach};
use super::members::{Span, cut_back, half_mm, level_with, own_or, reach_in, slides};
use super::rules::Rules;
use super::{Broken, Fit, Fitted, Fixing, Joining, JointKind, face_and_point};
use crate::length::trimmed;
use crate::model::{Assembly, Contact, EdgeRabbet, Face, Feature, Housing, JointId, Stop};
use crate::origin::Size;
use crate::place::Dir;

/// A tongue and its groove as wanted; what is none follows the rules.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wanted {
    /// Thickness of the tongue, mm; by rule a third of the board, to the half millimetre.
    pub thickness: Option<f64>,
    /// From the face side of the board to the tongue, mm; by rule the tongue stands in the middle.
    pub offset: Option<f64>,
    /// How far the tongue reaches into the groove, mm; by rule 8, or a third of the member where that is less. An edge reaches as
    /// far as it was placed.
    pub length: Option<f64>,
    /// Room between the tongue and the bottom of the groove, mm; by rule 1.
    pub room: Option<f64>,
    /// Groove less tongue in thickness, mm; by rule 0.3, or 0.1 where it is glued.
    pub fit: Option<f64>,
    /// How far inside the beginning and the end of the contact the groove's full depth stops, mm; 0 where it runs through.
    pub stops: [f64; 2],
    /// What the cutter leaves where the groove stops.
    pub stop: Stop,
    /// Whether it is glued.
    pub glued: bool,
}

impl Default for Wanted {
    fn default() -> Self {
        Wanted { thickness: None, offset: None, length: None, room: None, fit: None, stops: [0.0; 2], stop: Stop::Round, glued: false }
    }
}

/// The figures of a tongue in its groove, as cut, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figures {
    /// Thickness of the tongue.
    pub thickness: f64,
    /// How far it reaches in.
    pub length: f64,
    /// Width of the groove.
    pub width: f64,
    /// Depth of the groove.
    pub depth: f64,
    /// Shoulders at the face side and at the back side.
    pub shoulders: [f64; 2],
    /// Thickness of the board.
    pub board: f64,
    /// How thick the member is from the groove's mouth through its bottom.
    pub member: f64,
    /// How far inside the contact the groove's full depth stops, at its beginning and its end.
    pub stops: [f64; 2],
    /// What the cutter leaves there.
    pub stop: Stop,
    /// Whether the groove is open at its beginning and its end.
    pub open: [bool; 2],
    /// Whether it is glued.
    pub glued: bool,
}

impl Figures {
    /// Room between the tongue and the bottom of the groove.
    pub fn room(&self) -> f64 {
        self.depth - self.length
    }

    fn fitted(&self) -> Fitted {
        Fitted { what: "tongue in groove", class: class(self.glued), clearance: self.width - self.thickness }
    }
}

/// A tongue is snug where it is glued, and slips where its board must move.
fn class(glued: bool) -> Fit {
    if glued { Fit::GluedSnug } else { Fit::Slip }
}

impl Joining for Figures {
    fn describe(&self) -> String {
        let stopped = if self.stops.iter().all(|stop| *stop <= 0.0) { "" } else { ", stopped" };
        format!(
            "tongue {} × {} in a groove {} × {}{stopped}",
            trimmed(self.thickness),
            trimmed(self.length),
            trimmed(self.width),
            trimmed(self.depth)
        )
    }

    fn ways_apart(&self, contact: &Contact) -> Vec<Dir> {
        slides(contact, self.open, true)
    }

    fn has_shoulder(&self) -> bool {
        self.shoulders[0].max(self.shoulders[1]) > 0.0
    }

    fn strength(&self) -> &'static str {
        if self.glued {
            "long grain to long grain is as strong as the wood; a tongue across the grain holds the boards level, not together \
             (common practice, no source)"
        } else {
            "never glued, so that the board is free (common practice, no source)"
        }
    }

    fn fits(&self) -> Vec<Fitted> {
        vec![self.fitted()]
    }

    fn broken(&self) -> Vec<Broken> {
        const PRACTICE: &str = "common practice, no source";
        let mut rules = Rules::default()
            .at_most(self.board / 2.0, self.thickness, "a tongue is at most half as thick as its board", PRACTICE)
            .at_least(self.board / 4.0, self.thickness, "a tongue is at least a quarter as thick as its board", PRACTICE)
            .at_most(self.member / 2.0, self.depth, "a groove is at most half as deep as its member is thick", PRACTICE)
            .at_least(3.0, self.length, "a tongue reaches at least 3 mm into its groove", PRACTICE)
            .at_least(0.5, self.room(), "a tongue ends short of the bottom of its groove", PRACTICE)
            .fits(self.fitted());
        if let Stop::Ramp { diameter } = self.stop {
            rules = rules.at_most(cutter_reach(diameter), self.depth, CUTTER_REACHES, PRACTICE);
        }
        for stop in self.stops.iter().filter(|stop| **stop > 0.0) {
            let out = self.stop.run_out(self.width, self.depth);
            rules = rules.at_least(out, *stop, "what the cutter leaves at a stopped end is covered by the board", "geometry");
        }
        rules.broken()
    }
}

/// Cuts the tongue and its groove.
pub(super) fn cut(assembly: &mut Assembly, id: JointId, wanted: &Wanted) -> JointKind {
    let joint = assembly.joint(id);
    let (a, b, contact) = (joint.a, joint.b, joint.contact);
    let (board, receiving) = (assembly.part(a).size[2].clone(), assembly.part(b));
    let (mouth, _) = face_and_point(receiving, -contact.into.vector(), contact.centre);
    let member = receiving.size[mouth.axis()].clone();
    let length = own_or(wanted.length, half_mm((member.mm / 3.0).min(8.0)));
    let by = Size::ruled("tongue: length", length, "8, or a third of the member where that is less", [&member]);
    let (face, length) = reach_in(assembly, id, &by);
    if face.axis() == 2 || length <= 0.0 {
        return JointKind::Plain(Fixing::Rest);
    }
    let thickness = own_or(wanted.thickness, half_mm(board.mm / 3.0));
    let before = own_or(wanted.offset, (board.mm - thickness) / 2.0);
    let shoulders = [before, board.mm - before - thickness];
    for (back_side, depth) in [(false, shoulders[0]), (true, shoulders[1])] {
        if depth > 0.0 {
            let size = assembly.part(a).lwt();
            assembly.cut(a, step(face, back_side, length, depth, size.x), Some(id));
        }
    }
    let room = own_or(wanted.room, 1.0);
    let fit = own_or(wanted.fit, class(wanted.glued).usual());
    let (width, depth) = (thickness + fit, length + room);
    let open = plough(assembly, id, before + thickness / 2.0, [width, depth], wanted);
    corner(assembly, id, face, length, wanted.stops);
    JointKind::Tongue(Figures {
        thickness,
        length,
        width,
        depth,
        shoulders,
        board: board.mm,
        member: member.mm,
        stops: wanted.stops,
        stop: wanted.stop,
        open,
        glued: wanted.glued,
    })
}

/// A step along an end or an edge of a part `part_length` long.
fn step(face: Face, back_side: bool, along: f64, depth: f64, part_length: f64) -> Feature {
    match face {
        Face::FirstEnd | Face::SecondEnd => Feature::Rabbet { second_end: face == Face::SecondEnd, back_side, length: along, depth },
        _ => Feature::EdgeRabbet(EdgeRabbet {
            back_edge: face == Face::BackEdge,
            back_side,
            width: along,
            depth,
            from: 0.0,
            to: part_length,
        }),
    }
}

/// Cuts the groove, level with T = `t` of the board; tells whether it is open at its beginning and its end.
fn plough(assembly: &mut Assembly, id: JointId, t: f64, [width, depth]: [f64; 2], wanted: &Wanted) -> [bool; 2] {
    let joint = assembly.joint(id);
    let (a, b, contact) = (assembly.part(joint.a), assembly.part(joint.b), joint.contact);
    let (face, _) = face_and_point(b, -contact.into.vector(), contact.centre);
    let span = Span::of(b, &contact);
    let across = (0..3).find(|axis| *axis != span.axis && *axis != face.axis()).unwrap_or(span.axis);
    let centre = level_with(a, t, b, across);
    let through = span.in_order(wanted.stops.map(|stop| stop <= 0.0));
    let [from, to] = span.range(wanted.stops[0], span.length - wanted.stops[1]);
    let extent = b.lwt()[span.axis];
    let (from, to) = (if through[0] { 0.0 } else { from }, if through[1] { extent } else { to });
    let part = b.id;
    let feature = if span.axis == 0 {
        Feature::Groove { face, centre, width, depth, from, to, through, stop: wanted.stop }
    } else {
        let round = wanted.stop == Stop::Round;
        Feature::Housing(Housing { face, along: span.axis, centre, width, depth, undercut: 0.0, from, to, round })
    };
    assembly.cut(part, feature, Some(id));
    wanted.stops.map(|stop| stop <= 0.0)
}

/// Cuts what comes up back at the stopped ends of its channel, clear of what the cutter leaves there.
fn corner(assembly: &mut Assembly, id: JointId, face: Face, length: f64, stops: [f64; 2]) {
    let joint = assembly.joint(id);
    let part = joint.a;
    let stops = Span::of(assembly.part(part), &joint.contact).in_order(stops);
    cut_back(assembly, part, id, face, length, stops.map(|stop| if stop > 0.0 { stop + CLEAR_OF_STOP } else { 0.0 }));
}
