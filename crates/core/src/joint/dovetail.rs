//! Dovetails at a corner: tails on the end of one board in sockets of the other, through or half blind.
//!
//! Rules: slope 1:6 in softwood, 1:8 in hardwood, 1:7 for any (read, woodiesdiy.tv on dovetail ratios); half pins at the edges at least
//! 6 at their narrow side, tails one to three times as wide as pins (common practice, no source); the lap of a half-blind one 2.4 to
//! 4.8, about 5 on a front of 19 (read, a woodworking magazine of 2007, p. 84). Fit: 0 to 0.15 over each tail.

use super::members::{Span, half_mm, outward, own_or, reach_in};
use super::rules::Rules;
use super::{Broken, Fit, Fitted, Fixing, Joining, JointKind, face_and_point};
use crate::length::{trimmed, trimmed_to};
use crate::model::{Assembly, Contact, EndGap, Face, Feature, JointId, Material, Part, Socket};
use crate::origin::Size;
use crate::place::Dir;
use crate::timber::Timbers;

/// Dovetails as wanted; what is none follows the rules.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Wanted {
    /// Half blind, so that the tails do not show on the face of the board with the pins; else through.
    pub half_blind: bool,
    /// How thick the lap before the tails of a half-blind one is, mm; by rule a quarter of the board, 2.5 to 5.
    pub lap: Option<f64>,
    /// How many tails; by rule so that one comes about every one and a half thicknesses of the thicker board.
    pub tails: Option<u32>,
    /// Rise of the walls for one of depth; by rule 1/8 in hardwood, 1/6 in softwood.
    pub slope: Option<f64>,
    /// Width of the half pins at their narrow side, mm; by rule 6.
    pub half_pin: Option<f64>,
    /// How many times as wide as a pin a tail is, both at their middles; by rule 2.
    pub ratio: Option<f64>,
    /// Socket less tail in width, mm; by rule 0.1.
    pub fit: Option<f64>,
    /// Whether it is glued.
    pub glued: bool,
}

/// The figures of dovetails, as cut, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figures {
    /// How many tails.
    pub tails: u32,
    /// Width of a tail at its end.
    pub tail: f64,
    /// Width of a pin at its narrow side.
    pub pin: f64,
    /// Width of a half pin at its narrow side.
    pub half_pin: f64,
    /// Length of the tails.
    pub length: f64,
    /// What is left before them; 0 for a through one.
    pub lap: f64,
    /// Rise of the walls for one of depth.
    pub slope: f64,
    /// Socket less tail in width.
    pub fit: f64,
    /// Thickness of the board with the tails.
    pub tail_board: f64,
    /// Thickness of the board with the pins.
    pub pin_board: f64,
    /// The way in which the tails come out.
    pub out: Dir,
}

impl Figures {
    /// Width of a tail at its base.
    pub fn neck(&self) -> f64 {
        self.tail - 2.0 * self.lean()
    }

    /// How much a wall leans over the length of a tail.
    fn lean(&self) -> f64 {
        self.slope * self.length
    }

    /// From and to of a tail along the contact, at its end.
    fn place(&self, index: u32) -> [f64; 2] {
        let from = self.half_pin + f64::from(index) * (self.tail + self.pin);
        [from, from + self.tail]
    }

    fn fitted(&self) -> Fitted {
        Fitted { what: "tail in socket", class: Fit::GluedSnug, clearance: self.fit }
    }

    /// Width of a tail against that of a pin, both at their middles.
    pub fn ratio(&self) -> f64 {
        (self.tail - self.lean()) / (self.pin + self.lean())
    }
}

impl Joining for Figures {
    fn describe(&self) -> String {
        let kind = if self.lap > 0.0 { format!("half-blind dovetails, lap {}", trimmed(self.lap)) } else { "through dovetails".to_owned() };
        let tails = if self.tails == 1 { "1 tail".to_owned() } else { format!("{} tails", self.tails) };
        format!(
            "{kind}: {tails} {} wide, 1:{}, half pins {}",
            trimmed_to(self.tail, 1),
            trimmed_to(1.0 / self.slope, 1),
            trimmed(self.half_pin)
        )
    }

    /// Only the way the tails came in.
    fn ways_apart(&self, _: &Contact) -> Vec<Dir> {
        vec![self.out]
    }

    fn has_shoulder(&self) -> bool {
        true
    }

    fn strength(&self) -> &'static str {
        "holds against pulling without glue; long grain is glued on both cheeks of every pin (common practice, no source)"
    }

    fn fits(&self) -> Vec<Fitted> {
        vec![self.fitted()]
    }

    fn broken(&self) -> Vec<Broken> {
        const PRACTICE: &str = "common practice, no source";
        let mut rules = Rules::default()
            .at_least(6.0, self.half_pin, "a half pin is at least 6 mm at its narrow side", PRACTICE)
            .at_least(1.0, self.ratio(), "tails are at least as wide as pins", PRACTICE)
            .at_most(3.0, self.ratio(), "tails are at most three times as wide as pins", PRACTICE)
            .at_least(1.0, f64::from(self.tails), "there is a tail", "geometry")
            .at_least(0.5, self.neck(), "a tail has a neck", "geometry")
            .at_least(0.5, self.pin, "a pin is there between two tails", "geometry")
            .fits(self.fitted());
        if self.lap > 0.0 {
            let source = "a woodworking magazine of 2007, p. 84 (read): 2.4 to 4.8";
            rules = rules.at_least(2.4, self.lap, "the lap of a half-blind dovetail is at least 2.4 mm", source).at_least(
                self.pin_board / 2.0,
                self.length,
                "half-blind tails reach at least half through",
                PRACTICE,
            );
        }
        let mut all = rules.broken();
        all.extend(slope_rules(self.slope));
        all
    }
}

/// The rules for the slope of a dovetail's walls.
pub(super) fn slope_rules(slope: f64) -> Vec<Broken> {
    let source = "woodiesdiy.tv on dovetail ratios (read): 1:6 in softwood, 1:8 in hardwood";
    Rules::default()
        .at_least(6.0, 1.0 / slope, "a dovetail slopes by 1:6 at most: more leaves short grain at its corners", source)
        .at_most(8.0, 1.0 / slope, "a dovetail slopes by 1:8 at least: less hardly locks", source)
        .broken()
}

/// The slope for the timber of a part: 1:6 in softwood, else 1:8.
pub(super) fn slope_of(part: &Part, timbers: &Timbers) -> f64 {
    match &part.material {
        Material::Solid(id) if timbers.species(id).is_some_and(|species| species.softwood) => 1.0 / 6.0,
        Material::Solid(_) | Material::Sheet(_) | Material::Bought(_) => 1.0 / 8.0,
    }
}

/// Cuts the tails and their sockets.
pub(super) fn cut(assembly: &mut Assembly, id: JointId, wanted: &Wanted) -> JointKind {
    let joint = assembly.joint(id);
    let (a, b, contact) = (joint.a, joint.b, joint.contact);
    let (receiving, coming) = (assembly.part(b), assembly.part(a));
    let out = outward(coming, receiving, &contact);
    let (inner, _) = face_and_point(receiving, -contact.into.vector(), contact.centre);
    let (end, _) = face_and_point(receiving, out.vector(), contact.centre);
    let pin_board = receiving.size[2].clone();
    let lap = if wanted.half_blind { own_or(wanted.lap, half_mm(pin_board.mm / 4.0).clamp(2.5, 5.0)) } else { 0.0 };
    let by = Size::ruled("tails: length", pin_board.mm - lap, "the thickness of the other board, less the lap", [&pin_board]);
    if inner.axis() != 2 || end.axis() != 0 || by.mm <= 0.0 {
        return JointKind::Plain(Fixing::Rest);
    }
    let (face, length) = reach_in(assembly, id, &by);
    if face.axis() != 0 || length <= 0.0 {
        return JointKind::Plain(Fixing::Rest);
    }
    let slope = own_or(wanted.slope, slope_of(assembly.part(a), assembly.timbers()));
    let figures = figures(wanted, assembly.part(a), slope, pin_board.mm, length, contact.extent.x, out);
    gaps(assembly, id, &figures, face == Face::SecondEnd);
    sockets(assembly, id, &figures, end == Face::SecondEnd, inner == Face::BackSide);
    JointKind::Dovetail(figures)
}

/// The tails of a board so wide: as many as wanted, evenly, with tails and pins in the ratio that is wanted.
fn figures(wanted: &Wanted, tail_board: &Part, slope: f64, pin_board: f64, length: f64, width: f64, out: Dir) -> Figures {
    let half_pin = own_or(wanted.half_pin, 6.0);
    let ratio = own_or(wanted.ratio, 2.0);
    let lean = slope * length;
    let room = width - 2.0 * half_pin;
    let by_rule = (room / (1.5 * pin_board.max(tail_board.size[2].mm))).round().clamp(1.0, 99.0);
    let tails = wanted.tails.map_or(by_rule, f64::from).clamp(1.0, 99.0);
    // A pin and a tail together, and the ratio of their middles, give both.
    let pins = tails - 1.0;
    let tail = (room + pins * (lean / ratio + lean)) / (tails + pins / ratio);
    let pin = (tail - lean) / ratio - lean;
    Figures {
        tails: tails as u32,
        tail,
        pin,
        half_pin,
        length,
        lap: pin_board - length,
        slope,
        fit: own_or(wanted.fit, Fit::GluedSnug.usual()),
        tail_board: tail_board.size[2].mm,
        pin_board,
        out,
    }
}

/// What is cut away between the tails and beside them.
fn gaps(assembly: &mut Assembly, id: JointId, figures: &Figures, second_end: bool) {
    let joint = assembly.joint(id);
    let (a, contact) = (joint.a, joint.contact);
    let span = Span::of(assembly.part(a), &contact);
    let lean = figures.lean();
    let mut from = 0.0;
    for index in 0..=figures.tails {
        let first = index == 0;
        let last = index == figures.tails;
        let to = if last { span.length } else { figures.place(index)[0] };
        let at_end = span.range(from, to);
        let at_bottom = span.range(if first { from } else { from - lean }, if last { to } else { to + lean });
        if at_end[1] > at_end[0] || at_bottom[1] > at_bottom[0] {
            assembly.cut(a, Feature::EndGap(EndGap { second_end, at_end, at_bottom, length: figures.length }), Some(id));
        }
        if !last {
            from = figures.place(index)[1];
        }
    }
}

/// The sockets for the tails, wider by the fit.
fn sockets(assembly: &mut Assembly, id: JointId, figures: &Figures, second_end: bool, back_side: bool) {
    let joint = assembly.joint(id);
    let (b, contact) = (joint.b, joint.contact);
    let part = assembly.part(b);
    let span = Span::of(part, &contact);
    let lean = figures.lean();
    for index in 0..figures.tails {
        let [from, to] = figures.place(index);
        let (from, to) = (from - figures.fit / 2.0, to + figures.fit / 2.0);
        let socket = Socket {
            second_end,
            back_side,
            at_side: span.range(from + lean, to - lean),
            at_bottom: span.range(from, to),
            length: figures.tail_board,
            depth: figures.length,
        };
        assembly.cut(b, Feature::Socket(socket), Some(id));
    }
}
