//! Breadboard ends: a board across the end of a solid top that keeps it flat and lets its width move.
//!
//! Along the whole end of the top runs a short tongue; from it stand three or five tenons. Only the middle one is glued and fixed;
//! the mortises of the others, and the slots that their pegs go through, are longer by the movement of the top at their place.
//!
//! Rules: end 50 to 100 wide (read, mull-overthing.com and furnituremaking.us); tenons two thirds as long as the end is wide and a
//! third as thick as the top (read, mull-overthing.com); a tongue 6 to 8 long (common practice, no source); tenons in an odd number,
//! 3 or 5, each 50 to 75 wide, and about the middle 150 glued (read, furnituremaking.us). Movement: Wood Handbook FPL-GTR-190, equation
//! 13-2. Cherry 700 wide, flat-sawn, built at 8 %, at 6 to 11 %: a peg of 8 at 280 off the middle wants a slot of 12.5 (arithmetic).

use glam::DVec3;

use super::members::{Span, half_mm, level_with, own_or, reach_in};
use super::rules::Rules;
use super::{Broken, Fit, Fitted, Fixing, Joining, JointKind, face_and_point};
use crate::design::{Dimension, Moisture};
use crate::length::{trimmed, trimmed_to};
use crate::model::{Assembly, BuildStage, Contact, EndGap, Face, Feature, JointId, NewPart, Part, PartId, PartKind, Stop};
use crate::origin::Size;
use crate::place::{Block, Dir, Lie};
use crate::timber::{Rates, Travel};

/// A breadboard end as wanted; what is none follows the rules.
#[derive(Clone, Copy, Debug)]
pub struct Wanted<'a> {
    /// The moisture of the timber when built, and in its place.
    pub moisture: &'a Moisture,
    /// How many tenons; by rule 3, and 5 on a top wider than 750 mm.
    pub tenons: Option<u32>,
    /// Thickness of tongue and tenons, mm; by rule a third of the top, to the half millimetre.
    pub thickness: Option<f64>,
    /// Width of each tenon, mm; by rule 60.
    pub tenon_width: Option<f64>,
    /// Length of the tenons, mm; by rule two thirds of the end's width, to the half millimetre.
    pub tenon_length: Option<f64>,
    /// Length of the tongue between them, mm; by rule 7.
    pub tongue: Option<f64>,
    /// Diameter of the pegs, mm; by rule 8, and 0 leaves them out.
    pub peg: Option<f64>,
    /// Mortise less tenon in thickness, mm; by rule 0.1.
    pub fit: Option<f64>,
    /// Room for the movement of each tenon but the middle one, both ways together, mm; by rule what the moisture asks for.
    pub room: Option<f64>,
    /// Whether it is glued, at its middle.
    pub glued: bool,
}

impl<'a> Wanted<'a> {
    /// All by the rules, glued at its middle.
    pub fn by_rule(moisture: &'a Moisture) -> Wanted<'a> {
        Wanted {
            moisture,
            tenons: None,
            thickness: None,
            tenon_width: None,
            tenon_length: None,
            tongue: None,
            peg: None,
            fit: None,
            room: None,
            glued: true,
        }
    }
}

/// A tenon of a breadboard end, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tenon {
    /// From the middle of the end to its middle, along the contact.
    pub at: f64,
    /// How far it moves outward, away from the middle, when the top is wettest.
    pub growth: f64,
    /// How far it moves inward when the top is driest.
    pub shrinkage: f64,
    /// The room it is given for both.
    pub room: f64,
    /// Length of the slot for its peg, along the contact.
    pub slot: f64,
}

/// The figures of a breadboard end, as cut, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// Thickness of tongue and tenons.
    pub thickness: f64,
    /// Length of the tongue.
    pub tongue: f64,
    /// Width of each tenon.
    pub tenon_width: f64,
    /// Length of each tenon.
    pub tenon_length: f64,
    /// The tenons, along the contact; the middle one is fixed.
    pub tenons: Vec<Tenon>,
    /// Diameter of the pegs; 0 where there are none.
    pub peg: f64,
    /// Mortise less tenon in thickness.
    pub fit: f64,
    /// Thickness of the top.
    pub top: f64,
    /// Width of the end.
    pub end: f64,
    /// Whether it is glued, at its middle.
    pub glued: bool,
}

/// Room at the bottom of a mortise and of the tongue's groove, mm (common practice, no source).
pub const ROOM_AT_BOTTOM: f64 = 1.5;
/// Room a slot has besides the movement, mm (common practice, no source).
pub const SLOT_ROOM: f64 = 1.0;
/// How far off the middle the outermost tenons stand, as a share of the width (common practice, no source).
const OUTERMOST: f64 = 0.4;
/// How much about the middle may be glued at most, mm (read, furnituremaking.us).
const GLUED: f64 = 150.0;

impl Figures {
    /// The middle tenon is the only one that has no movement.
    fn is_fixed(tenon: &Tenon) -> bool {
        tenon.at.abs() < 1e-9
    }
}

impl Joining for Figures {
    fn describe(&self) -> String {
        let slot = self.tenons.iter().map(|tenon| tenon.slot).fold(0.0, f64::max);
        let pegs =
            if self.peg > 0.0 { format!(", pegs {} in slots up to {}", trimmed(self.peg), trimmed_to(slot, 1)) } else { String::new() };
        format!(
            "breadboard end: tongue {} × {}, {} tenons {} × {}, the middle one fixed{pegs}",
            trimmed(self.thickness),
            trimmed(self.tongue),
            self.tenons.len(),
            trimmed(self.tenon_width),
            trimmed(self.tenon_length)
        )
    }

    /// Straight out, as long as the pegs are not in.
    fn ways_apart(&self, contact: &Contact) -> Vec<Dir> {
        vec![contact.into.opposite()]
    }

    fn has_shoulder(&self) -> bool {
        true
    }

    fn strength(&self) -> &'static str {
        "keeps the top flat; only its middle may be glued, or the top splits when it dries (read, furnituremaking.us)"
    }

    fn glued_length(&self, _: &Contact) -> f64 {
        if self.glued { self.tenon_width.min(GLUED) } else { 0.0 }
    }

    fn fits(&self) -> Vec<Fitted> {
        let snug = Fitted { what: "tenon in mortise, in thickness", class: Fit::GluedSnug, clearance: self.fit };
        let least = self.tenons.iter().filter(|tenon| !Figures::is_fixed(tenon)).map(|tenon| tenon.room - tenon.growth - tenon.shrinkage);
        let across = least.reduce(f64::min);
        let loose = |clearance| Fitted { what: "outer tenon in mortise, in width", class: Fit::LooseAcross, clearance };
        std::iter::once(snug).chain(across.map(loose)).collect()
    }

    fn broken(&self) -> Vec<Broken> {
        const MAKER: &str = "furnituremaking.us on breadboard ends (read)";
        const PRACTICE: &str = "common practice, no source";
        let count = self.tenons.len() as f64;
        let mut rules = Rules::default()
            .at_least(50.0, self.end, "a breadboard end is at least 50 mm wide", MAKER)
            .at_most(100.0, self.end, "a breadboard end is at most 100 mm wide", MAKER)
            .at_most(self.top / 2.0, self.thickness, "a tenon is at most half as thick as the top", PRACTICE)
            .at_least(self.top / 4.0, self.thickness, "a tenon is at least a quarter as thick as the top", PRACTICE)
            .at_most(self.end * 2.0 / 3.0 + 0.5, self.tenon_length, "a tenon takes two thirds of the end's width at most", MAKER)
            .at_least(50.0, self.tenon_width, "a tenon of a breadboard end is at least 50 mm wide", MAKER)
            .at_most(75.0, self.tenon_width, "a tenon of a breadboard end is at most 75 mm wide", MAKER)
            .at_least(3.0, count, "a breadboard end has at least 3 tenons", MAKER)
            .at_most(5.0, count, "a breadboard end has at most 5 tenons", MAKER)
            .at_least(1.0, count % 2.0, "a breadboard end has an odd number of tenons, so that one stands in the middle", MAKER)
            .at_least(6.0, self.tongue, "the tongue of a breadboard end is at least 6 mm long", PRACTICE);
        for tenon in self.tenons.iter().filter(|tenon| tenon.at > 0.0) {
            let moves = tenon.growth + tenon.shrinkage;
            let source = "Wood Handbook FPL-GTR-190, equation 13-2";
            rules = rules.at_least(moves, tenon.room, "a tenon that is not fixed has room for the movement of the top", source);
        }
        rules.broken()
    }
}

/// The tenons of an end `width` long, of a top whose timber moves by `coefficient` for each percent of moisture.
fn tenons(wanted: &Wanted<'_>, width: f64, coefficient: f64, peg: f64) -> Vec<Tenon> {
    let by_rule = if width > 750.0 { 5 } else { 3 };
    let count = wanted.tenons.unwrap_or(by_rule).clamp(1, 15);
    let step = if count > 1 { 2.0 * OUTERMOST * width / f64::from(count - 1) } else { 0.0 };
    let one = |index: u32| {
        let at = step * (f64::from(index) - f64::from(count - 1) / 2.0);
        let Travel { growth, shrinkage } = Travel::at(at, coefficient, wanted.moisture);
        let fixed = at.abs() < 1e-9;
        let room = if fixed { 0.0 } else { own_or(wanted.room, growth + shrinkage + SLOT_ROOM) };
        Tenon { at, growth, shrinkage, room, slot: peg + room }
    };
    (0..count).map(one).collect()
}

/// Cuts tongue, tenons, groove, mortises and slots, and adds the pegs.
pub(super) fn cut(assembly: &mut Assembly, id: JointId, wanted: &Wanted<'_>) -> JointKind {
    let joint = assembly.joint(id);
    let (a, b, contact) = (joint.a, joint.b, joint.contact);
    let (top, end) = (assembly.part(a), assembly.part(b));
    let (mouth, _) = face_and_point(end, -contact.into.vector(), contact.centre);
    let end_width = end.size[1].clone();
    let thickness = own_or(wanted.thickness, half_mm(top.size[2].mm / 3.0));
    let tenon_length = own_or(wanted.tenon_length, half_mm(end_width.mm * 2.0 / 3.0));
    let coefficient = Rates::of(&top.material, top.sawn, assembly.timbers()).along(Dimension::Width);
    let peg = own_or(wanted.peg, 8.0).max(0.0);
    let figures = Figures {
        thickness,
        tongue: own_or(wanted.tongue, 7.0),
        tenon_width: own_or(wanted.tenon_width, 60.0),
        tenon_length,
        tenons: tenons(wanted, contact.extent.x, coefficient, peg),
        peg,
        fit: own_or(wanted.fit, Fit::GluedSnug.usual()),
        top: top.size[2].mm,
        end: end_width.mm,
        glued: wanted.glued,
    };
    let by = Size::ruled("tenons: length", tenon_length, "two thirds of the end's width (read, mull-overthing.com)", [&end_width]);
    if mouth.axis() != 1 {
        return JointKind::Plain(Fixing::Rest);
    }
    let (face, reach) = reach_in(assembly, id, &by);
    if face.axis() != 0 || reach <= 0.0 {
        return JointKind::Plain(Fixing::Rest);
    }
    let figures = Figures { tenon_length: reach, ..figures };
    shape_top(assembly, id, &figures, face == Face::SecondEnd);
    shape_end(assembly, id, &figures, mouth);
    if figures.peg > 0.0 {
        for index in 0..figures.tenons.len() {
            let placed = add_peg(assembly, id, &figures, index);
            assembly.add_loose(id, placed);
        }
    }
    JointKind::Breadboard(figures)
}

/// Where the shoulders of the tongue lie in the thickness of the top: centred.
fn before(figures: &Figures) -> f64 {
    (figures.top - figures.thickness) / 2.0
}

fn shape_top(assembly: &mut Assembly, id: JointId, figures: &Figures, second_end: bool) {
    let joint = assembly.joint(id);
    let (part, contact) = (joint.a, joint.contact);
    for back_side in [false, true] {
        let step = Feature::Rabbet { second_end, back_side, length: figures.tenon_length, depth: before(figures) };
        assembly.cut(part, step, Some(id));
    }
    let span = Span::of(assembly.part(part), &contact);
    let (middle, half) = (span.length / 2.0, figures.tenon_width / 2.0);
    let edges = figures.tenons.iter().flat_map(|tenon| [middle + tenon.at - half, middle + tenon.at + half]);
    let edges: Vec<f64> = std::iter::once(0.0).chain(edges).chain(std::iter::once(span.length)).collect();
    for gap in edges.chunks_exact(2).filter(|gap| gap[1] > gap[0]) {
        let at = span.range(gap[0], gap[1]);
        let length = figures.tenon_length - figures.tongue;
        assembly.cut(part, Feature::EndGap(EndGap { second_end, at_end: at, at_bottom: at, length }), Some(id));
    }
    if figures.peg > 0.0 {
        for tenon in &figures.tenons {
            let middle = peg_place(&contact, figures, tenon) + contact.along.vector() * slot_shift(tenon);
            drill(assembly, part, id, middle, &contact, tenon.slot, figures.peg);
        }
    }
}

fn shape_end(assembly: &mut Assembly, id: JointId, figures: &Figures, mouth: Face) {
    let joint = assembly.joint(id);
    let (a, b, contact) = (assembly.part(joint.a), assembly.part(joint.b), joint.contact);
    let centre = level_with(a, figures.top / 2.0, b, 2);
    let (width, length, part) = (figures.thickness + figures.fit, b.size[0].mm, b.id);
    let depth = figures.tongue + ROOM_AT_BOTTOM;
    let through = [true, true];
    let groove = Feature::Groove { face: mouth, centre, width, depth, from: 0.0, to: length, through, stop: Stop::Round };
    let span = Span::of(b, &contact);
    assembly.cut(part, groove, Some(id));
    for tenon in &figures.tenons {
        // Longer outward by the growth and inward by the shrinkage; what is left of its room is shared.
        let middle = span.length / 2.0 + tenon.at - slot_shift(tenon);
        let room = if Figures::is_fixed(tenon) { figures.fit } else { tenon.room };
        let half = f64::midpoint(figures.tenon_width, room);
        let [from, to] = span.range(middle - half, middle + half);
        let mut at = DVec3::new(f64::midpoint(from, to), 0.0, centre);
        at[mouth.axis()] = 0.0;
        let depth = figures.tenon_length + ROOM_AT_BOTTOM;
        let mortise = Feature::Mortise { face: mouth, centre: at, along: 0, length: to - from, width, depth, round: false };
        assembly.cut(part, mortise, Some(id));
    }
    if figures.peg > 0.0 {
        for tenon in &figures.tenons {
            drill(assembly, part, id, peg_place(&contact, figures, tenon), &contact, figures.peg, figures.peg);
        }
    }
}

/// How far the slot in a tenon lies from its peg along the contact: where the tenon moves outward, its slot must reach inward. Where it
/// has too little room it still goes round its peg.
fn slot_shift(tenon: &Tenon) -> f64 {
    let most = (tenon.room / 2.0).max(0.0);
    ((tenon.shrinkage - tenon.growth) / 2.0).clamp(-most, most) * if tenon.at < 0.0 { -1.0 } else { 1.0 }
}

/// The middle of a peg, in the case: half way along its tenon.
fn peg_place(contact: &Contact, figures: &Figures, tenon: &Tenon) -> DVec3 {
    contact.centre + contact.along.vector() * tenon.at + contact.into.vector() * (figures.tenon_length / 2.0)
}

/// A hole or slot square through the thickness of a part.
fn drill(assembly: &mut Assembly, part: PartId, id: JointId, middle: DVec3, contact: &Contact, length: f64, width: f64) {
    let drilled: &Part = assembly.part(part);
    let along = Span::of(drilled, contact).axis;
    let centre = drilled.pose.inverse().point(middle);
    let depth = drilled.size[2].mm;
    assembly.cut(part, Feature::Mortise { face: Face::FaceSide, centre, along, length, width, depth, round: true }, Some(id));
}

fn add_peg(assembly: &mut Assembly, id: JointId, figures: &Figures, index: usize) -> PartId {
    let joint = assembly.joint(id).clone();
    let contact = joint.contact;
    let (top, end) = (assembly.part(joint.a), assembly.part(joint.b));
    let middle = peg_place(&contact, figures, &figures.tenons[index]);
    let through = Dir::nearest(end.pose.vector(DVec3::Z));
    let (low, high) = (end.block().min, end.block().max);
    let square = (DVec3::ONE - through.vector().abs()) * (figures.peg / 2.0);
    let (mut min, mut max) = (middle - square, middle + square);
    (min[through.axis()], max[through.axis()]) = (low[through.axis()], high[through.axis()]);
    let (name, title) =
        (format!("peg.{}.{}.{}", top.name, end.name, index + 1), format!("Peg {}, {} to {}", index + 1, top.title, end.title));
    let material = end.material.clone();
    let lie = Lie { face: contact.into, edge: contact.along };
    let new = NewPart::filling(Block { min, max }, lie).called(&name, &title, PartKind::Own, material);
    let peg = assembly.place(NewPart { stage: BuildStage::AfterGlueUp, ..new });
    assembly.cut(peg, Feature::RoundEdges, Some(id));
    peg
}
