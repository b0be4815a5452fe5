//! Rabbets: the end of a board in a step of another's end, or a back in steps along the edges of a case.
//!
//! Rules: at a corner a rabbet is as wide as the board that comes up is thick, and takes half to two thirds of the other's thickness;
//! for a back it is as deep as the back and up to 2 more, and 8 to 12 wide (common practice, no source).

use glam::DVec3;

use super::members::{half_mm, own_or, reach_in};
use super::rules::Rules;
use super::{Broken, Fit, Fitted, Fixing, Joining, JointKind, face_and_point, local_axis};
use crate::length::trimmed;
use crate::model::{Assembly, Contact, EdgeRabbet, Face, Feature, Housing, JointId, Part};
use crate::origin::Size;
use crate::place::Dir;

/// A rabbet as wanted; what is none follows the rules.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Wanted {
    /// How far an end reaches in at a corner, mm; by rule six tenths of the other's thickness, to the half millimetre. A back lies as
    /// it was placed.
    pub depth: Option<f64>,
    /// Free room beside a back, in its plane, mm; by rule 0.5.
    pub beside: Option<f64>,
    /// Whether it is glued.
    pub glued: bool,
}

/// The figures of a rabbet, as cut, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figures {
    /// Measured along the face that the part lies against: as wide as the board at a corner.
    pub width: f64,
    /// How much is taken off the thickness of the receiving part at a corner; how deep a back lies.
    pub depth: f64,
    /// Thickness of the part that comes up.
    pub board: f64,
    /// The receiving part's size through the rabbet's depth.
    pub member: f64,
    /// Free room beside it.
    pub beside: f64,
    /// Whether an end lies in it; else a back.
    pub corner: bool,
    /// The two ways in which the rabbet is open.
    pub open: [Dir; 2],
}

impl Joining for Figures {
    fn describe(&self) -> String {
        format!("rabbet {} wide, {} deep", trimmed(self.width), trimmed(self.depth))
    }

    /// Out of both its open sides, and along it.
    fn ways_apart(&self, contact: &Contact) -> Vec<Dir> {
        vec![self.open[0], self.open[1], contact.along, contact.along.opposite()]
    }

    fn fits(&self) -> Vec<Fitted> {
        // An end at a corner lies against the rabbet's walls.
        let back = Fitted { what: "back in rabbet, from side to side", class: Fit::Loose, clearance: 2.0 * self.beside };
        if self.corner { Vec::new() } else { vec![back] }
    }

    fn has_shoulder(&self) -> bool {
        true
    }

    fn strength(&self) -> &'static str {
        "end grain to long grain: it locates, and wants nails, screws or a back to hold it square (common practice, no source)"
    }

    fn broken(&self) -> Vec<Broken> {
        const PRACTICE: &str = "common practice, no source";
        let rules = Rules::default();
        let rules = if self.corner {
            rules.at_least(self.member / 2.0, self.depth, "a rabbet at a corner takes at least half of the thickness", PRACTICE).at_most(
                self.member * 2.0 / 3.0,
                self.depth,
                "a rabbet at a corner takes at most two thirds of the thickness",
                PRACTICE,
            )
        } else {
            rules
                .at_least(8.0, self.width, "a rabbet for a back is at least 8 mm wide", PRACTICE)
                .at_least(self.board, self.depth, "a back does not stand out of its rabbet", PRACTICE)
                .at_most(self.board + 2.0, self.depth, "a back lies at most 2 mm back in its rabbet", PRACTICE)
                .at_least(0.5, self.beside, "a back has room beside it", PRACTICE)
        };
        rules.broken()
    }
}

/// Cuts the rabbet in the part that receives.
pub(super) fn cut(assembly: &mut Assembly, id: JointId, wanted: &Wanted) -> JointKind {
    let joint = assembly.joint(id);
    let (a, b, contact) = (joint.a, joint.b, joint.contact);
    let receiving = assembly.part(b);
    let (inner, _) = face_and_point(receiving, -contact.into.vector(), contact.centre);
    let member = receiving.size[inner.axis()].clone();
    let depth = own_or(wanted.depth, half_mm(0.6 * member.mm));
    let by = Size::ruled("rabbet: depth", depth, "half to two thirds of the thickness (common practice, no source)", [&member]);
    let (face, _) = reach_in(assembly, id, &by);
    let beside = if face.axis() == 2 { own_or(wanted.beside, 0.5) } else { 0.0 };
    let (coming, receiving) = (assembly.part(a), assembly.part(b));
    let Some(step) = Step::between(coming, receiving, &contact, beside) else { return JointKind::Plain(Fixing::Rest) };
    let board = coming.size[2].mm;
    let out = |face: Face| receiving.pose.vector(normal(face));
    let open = step.faces.map(|face| Dir::nearest(out(face)));
    // The face into which the part moves to close the joint gives the depth; the other the width.
    let deep = usize::from(open[0].axis() != contact.into.axis());
    let (width, depth) = (step.off[1 - deep], step.off[deep]);
    let member = receiving.lwt()[step.faces[deep].axis()];
    let feature = step.feature(receiving.lwt());
    assembly.cut(b, feature, Some(id));
    JointKind::Rabbet(Figures { width, depth, board, member, beside, corner: face.axis() == 0, open })
}

/// The outward normal of a face in the part's own axes.
fn normal(face: Face) -> DVec3 {
    let axis = DVec3::AXES[face.axis()];
    if face.is_first() { -axis } else { axis }
}

/// What is taken off an arris of a part.
struct Step {
    /// The two faces that meet in the arris.
    faces: [Face; 2],
    /// How far in from each of them.
    off: [f64; 2],
    /// The axis along which the arris runs.
    run: usize,
    /// From and to along it.
    range: [f64; 2],
}

impl Step {
    /// The step that makes room for what of `a` lies in `b`, and `beside` more in the plane of `a`; none when that does not lie at
    /// an arris of `b`.
    fn between(a: &Part, b: &Part, contact: &Contact, beside: f64) -> Option<Step> {
        const AT_FACE: f64 = 1e-6;
        let (inverse, block) = (b.pose.inverse(), a.block());
        let room = (DVec3::ONE - contact.into.vector().abs()) * beside;
        // Open all the way in which the part comes up.
        let way_in = contact.into.opposite().vector() * b.lwt().max_element();
        let (low, high) = (block.min - room + way_in.min(DVec3::ZERO), block.max + room + way_in.max(DVec3::ZERO));
        let (p, q) = (inverse.point(low), inverse.point(high));
        let size = b.lwt();
        let (low, high) = (p.min(q).max(DVec3::ZERO), p.max(q).min(size));
        if (high - low).min_element() <= AT_FACE {
            return None;
        }
        let run = local_axis(b, contact.along.vector());
        let side = |axis: usize| match (low[axis] <= AT_FACE, high[axis] >= size[axis] - AT_FACE) {
            (true, false) => Some((Face::looking(-DVec3::AXES[axis]), high[axis])),
            (false, true) => Some((Face::looking(DVec3::AXES[axis]), size[axis] - low[axis])),
            // Through the whole part, or in its middle.
            _ => None,
        };
        let (first, second) = (side((run + 1) % 3)?, side((run + 2) % 3)?);
        let from = if low[run] <= AT_FACE { 0.0 } else { low[run] };
        let to = if high[run] >= size[run] - AT_FACE { size[run] } else { high[run] };
        Some(Step { faces: [first.0, second.0], off: [first.1, second.1], run, range: [from, to] })
    }

    /// How far in from the face of an axis.
    fn off(&self, axis: usize) -> f64 {
        if self.faces[0].axis() == axis { self.off[0] } else { self.off[1] }
    }

    fn far(&self, axis: usize) -> bool {
        self.faces.iter().any(|face| face.axis() == axis && !face.is_first())
    }

    fn feature(&self, size: DVec3) -> Feature {
        let full = self.range[0] <= 0.0 && self.range[1] >= size[self.run];
        match self.run {
            0 => Feature::EdgeRabbet(EdgeRabbet {
                back_edge: self.far(1),
                back_side: self.far(2),
                width: self.off(1),
                depth: self.off(2),
                from: self.range[0],
                to: self.range[1],
            }),
            1 if full => Feature::Rabbet { second_end: self.far(0), back_side: self.far(2), length: self.off(0), depth: self.off(2) },
            2 if full => Feature::Notch { second_end: self.far(0), back_edge: self.far(1), length: self.off(0), width: self.off(1) },
            // Across an end, but short of an edge.
            _ => Feature::Housing(self.stopped(size)),
        }
    }

    fn stopped(&self, size: DVec3) -> Housing {
        let (deep, flat) = if self.faces[0].axis() == 0 { (1, 0) } else { (0, 1) };
        let (face, end) = (self.faces[deep], self.faces[flat]);
        let half = self.off[flat] / 2.0;
        Housing {
            face,
            along: self.run,
            centre: if end.is_first() { half } else { size[end.axis()] - half },
            width: self.off[flat],
            depth: self.off[deep],
            undercut: 0.0,
            from: self.range[0],
            to: self.range[1],
            round: false,
        }
    }
}
