//! Housings: the end of a shelf or divider let into a channel across a side, through or stopped.
//!
//! Rules: a quarter to a third as deep as the side is thick, 19 → 5 to 6, and never more than half; where two sit back to back in a
//! divider a third must be left between them (common practice, no source; popularwoodworking.com warns of it, read). Width: the shelf as
//! measured and 0.1. A stopped one stops 8 to 12 from the front, and the shelf is notched there by 1 to 2 more (common practice, no
//! source).

use super::members::{Span, cut_back, half_mm, level_with, own_or, reach_in, slides};
use super::rules::Rules;
use super::{Broken, Fit, Fitted, Fixing, Joining, JointKind, face_and_point};
use crate::length::trimmed;
use crate::model::{Assembly, Contact, Feature, Housing, JointId, Part};
use crate::origin::Size;
use crate::place::Dir;

/// A housing as wanted; what is none follows the rules.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Wanted {
    /// Depth, mm; by rule three tenths of the side, to the half millimetre.
    pub depth: Option<f64>,
    /// Width of the housing less the thickness of the shelf, mm; by rule 0.1.
    pub fit: Option<f64>,
    /// How far inside the beginning and the end of the contact it stops, mm; 0 where it runs through the side.
    pub stops: [f64; 2],
    /// How far it runs beyond the beginning and the end of the contact and stops there, so that the shelf has room to grow, mm; counts where it
    /// has no stop inside.
    pub room: [f64; 2],
    /// How much thicker the shelf grows, where it is to slide in there, mm: so much wider it is cut.
    pub thicker: f64,
    /// Left half round by the cutter where it stops; else chopped square.
    pub round: bool,
    /// Whether it is glued.
    pub glued: bool,
}

/// The figures of a housing, as cut, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figures {
    /// Width.
    pub width: f64,
    /// Depth.
    pub depth: f64,
    /// Thickness of the shelf.
    pub shelf: f64,
    /// Thickness of the side.
    pub side: f64,
    /// How much of the side is left behind it, to a housing back to back with it where there is one.
    pub left: f64,
    /// Whether one lies back to back with it.
    pub back_to_back: bool,
    /// How far inside the contact it stops, at its beginning and its end; 0 where it runs through.
    pub stops: [f64; 2],
    /// How far it runs beyond the contact there, for the shelf to grow.
    pub room: [f64; 2],
    /// How much wider it is than it would be else, for the shelf to grow thicker.
    pub thicker: f64,
    /// Whether the cutter leaves it half round there.
    pub round: bool,
    /// Whether it is glued.
    pub glued: bool,
}

impl Figures {
    fn fitted(&self) -> Fitted {
        Fitted { what: "shelf in housing", class: Fit::GluedSnug, clearance: self.width - self.thicker - self.shelf }
    }
}

/// How much farther than its housing stops a shelf is notched, mm (common practice, no source: 1 to 2).
pub const NOTCH_BEYOND: f64 = 1.5;

impl Joining for Figures {
    fn describe(&self) -> String {
        let ends = match self.stops {
            [0.0, 0.0] if self.room.iter().all(|room| *room <= 0.0) => "through".to_owned(),
            [0.0, 0.0] => "stopped".to_owned(),
            [begin, end] => format!("stopped {} short", trimmed(begin.max(end))),
        };
        let room = self.room[0].max(self.room[1]);
        let grows = if room > 0.0 { format!(", {} behind the shelf to grow", trimmed(room)) } else { String::new() };
        format!("housing {} × {}, {ends}{grows}", trimmed(self.width), trimmed(self.depth))
    }

    fn ways_apart(&self, contact: &Contact) -> Vec<Dir> {
        slides(contact, [0, 1].map(|end| self.stops[end] <= 0.0 && self.room[end] <= 0.0), true)
    }

    fn has_shoulder(&self) -> bool {
        true
    }

    fn strength(&self) -> &'static str {
        "carries the shelf along its whole depth, and holds little against pulling out: glue there is on end grain \
         (common practice, no source)"
    }

    fn fits(&self) -> Vec<Fitted> {
        vec![self.fitted()]
    }

    fn broken(&self) -> Vec<Broken> {
        let round = if self.round { self.width / 2.0 } else { 0.0 };
        let stops = self.stops.map(|stop| if stop > 0.0 { (stop - round).max(f64::MIN_POSITIVE) } else { 0.0 });
        broken(self.depth, self.side, self.left, self.back_to_back, self.fitted(), stops)
    }
}

/// The rules that housings with square and with undercut walls share.
pub(super) fn broken(depth: f64, side: f64, left: f64, back_to_back: bool, fitted: Fitted, stops: [f64; 2]) -> Vec<Broken> {
    const PRACTICE: &str = "common practice, no source";
    let mut rules = Rules::default()
        .at_most(side / 2.0, depth, "a housing is at most half as deep as the side is thick", PRACTICE)
        .at_least(side / 4.0, depth, "a housing is at least a quarter as deep as the side is thick", PRACTICE)
        .fits(fitted);
    if back_to_back {
        let source = "common practice, no source; popularwoodworking.com on dadoes warns of it (read)";
        rules = rules.at_least(side / 3.0, left, "two housings back to back leave a third of the divider between them", source);
    }
    for stop in stops.iter().filter(|stop| **stop > 0.0) {
        rules = rules.at_least(8.0, *stop, "a stopped housing stops at least 8 mm from the edge", PRACTICE);
    }
    rules.broken()
}

/// How deep a housing is by rule in a side so thick, mm: three tenths of it, to the half millimetre.
pub fn depth_by_rule(side: f64) -> f64 {
    half_mm(0.3 * side)
}

/// Cuts the housing, lets the shelf into it and notches it where the housing stops.
pub(super) fn cut(assembly: &mut Assembly, id: JointId, wanted: &Wanted) -> JointKind {
    let joint = assembly.joint(id);
    let (a, b, contact) = (joint.a, joint.b, joint.contact);
    let receiving = assembly.part(b);
    let (mouth, _) = face_and_point(receiving, -contact.into.vector(), contact.centre);
    let side = receiving.size[mouth.axis()].clone();
    let depth = own_or(wanted.depth, depth_by_rule(side.mm));
    let by = Size::ruled("housing: depth", depth, "a quarter to a third of the side (common practice, no source)", [&side]);
    let (face, reach) = reach_in(assembly, id, &by);
    if face.axis() == 2 || reach <= 0.0 {
        return JointKind::Plain(Fixing::Rest);
    }
    let shelf = assembly.part(a).size[2].mm;
    let thicker = wanted.thicker.max(0.0);
    let width = shelf + own_or(wanted.fit, Fit::GluedSnug.usual()) + thicker;
    let mut channel = across(assembly.part(a), assembly.part(b), &contact, [width, depth, 0.0], wanted.stops, wanted.round);
    leave_room(&mut channel, assembly.part(b), &contact, wanted);
    let (left, back_to_back) = left_behind(assembly.part(b), &channel);
    assembly.cut(b, Feature::Housing(channel), Some(id));
    let stops = Span::of(assembly.part(a), &contact).in_order(wanted.stops);
    cut_back(assembly, a, id, face, reach, stops.map(|stop| if stop > 0.0 { stop + NOTCH_BEYOND } else { 0.0 }));
    JointKind::Housing(Figures {
        width,
        depth,
        shelf,
        side: side.mm,
        left,
        back_to_back,
        stops: wanted.stops,
        room: wanted.room,
        thicker,
        round: wanted.round,
        glued: wanted.glued,
    })
}

/// Stops a channel beyond the contact where the shelf is to have room to grow.
fn leave_room(channel: &mut Housing, part: &Part, contact: &Contact, wanted: &Wanted) {
    let span = Span::of(part, contact);
    let beyond = [0, 1].map(|end| if wanted.stops[end] <= 0.0 { wanted.room[end].max(0.0) } else { 0.0 });
    let [from, to] = span.range(-beyond[0], span.length + beyond[1]);
    let stopped = span.in_order(beyond.map(|room| room > 0.0));
    if stopped[0] {
        channel.from = from;
    }
    if stopped[1] {
        channel.to = to;
    }
}

/// The channel for `a` in `b`, so wide and deep and with its walls leaning so much.
pub(super) fn across(a: &Part, b: &Part, contact: &Contact, [width, depth, undercut]: [f64; 3], stops: [f64; 2], round: bool) -> Housing {
    let (face, _) = face_and_point(b, -contact.into.vector(), contact.centre);
    let span = Span::of(b, contact);
    let mut channel = Housing { face, along: span.axis, centre: 0.0, width, depth, undercut, from: 0.0, to: 0.0, round };
    channel.centre = level_with(a, a.size[2].mm / 2.0, b, channel.across());
    let [from, to] = span.range(stops[0], span.length - stops[1]);
    let through = span.in_order(stops.map(|stop| stop <= 0.0));
    channel.from = if through[0] { 0.0 } else { from };
    channel.to = if through[1] { b.lwt()[span.axis] } else { to };
    channel
}

/// How much of a part is left behind a channel, to its far face or to a channel there that lies over against it.
pub(super) fn left_behind(part: &Part, channel: &Housing) -> (f64, bool) {
    let behind = part.lwt()[channel.face.axis()] - channel.depth;
    let half = channel.width / 2.0 + channel.undercut;
    let facing = part.cuts.iter().filter_map(|cut| match &cut.feature {
        Feature::Housing(other) => Some(other),
        _ => None,
    });
    facing
        .filter(|other| other.face.axis() == channel.face.axis() && other.face != channel.face && other.along == channel.along)
        .filter(|other| (other.centre - channel.centre).abs() < half + other.width / 2.0 + other.undercut)
        .filter(|other| other.from < channel.to && channel.from < other.to)
        .map(|other| (behind - other.depth, true))
        .fold((behind, false), |least, other| if other.0 < least.0 { other } else { least })
}
