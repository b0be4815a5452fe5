//! Offset metal clips under a solid top: screwed to the top, their tongues in kerfs of the rails.
//!
//! Kerf 3.2 wide and 9.5 deep, its upper wall 0.8 farther from the top than the clip is offset, so that the screw draws the top down; first
//! clip some 50 from a corner, then 200 to 500 apart (magazines' articles on fastening table tops; they differ). Across the rail the
//! clip stays short of the bottom of the kerf by the movement of the top (Wood Handbook FPL-GTR-190, equation 13-2).

use super::rules::{Broken, Rules};
use super::{Fit, Fitted, Joining, JointKind, face_and_point, local_axis};
use crate::length::trimmed;
use crate::model::{Assembly, Contact, Face, Feature, JointId};
use crate::place::Dir;

/// How far the screw draws a clip up, mm: its upper face stands so far below the top when the tongue just touches.
pub const DRAW: f64 = 0.8;
/// Room in a kerf besides the movement, mm (common practice, no source).
pub const KERF_ROOM: f64 = 0.5;
/// The least that is under the top, for a screw, mm (common practice, no source).
const LEAST_FLANGE: f64 = 8.0;
/// How much wider than the metal a kerf usually is, mm (common practice, no source).
const USUAL_KERF_ROOM: f64 = 1.2;
/// The least of a tongue that stays in its kerf, mm (common practice, no source; less than of a wooden one, whose end grain can break).
pub const LEAST_HELD: f64 = 3.0;

/// The figures of a clip in its kerf, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// Length of the tongue.
    pub tongue: f64,
    /// Length behind the upright, under the top.
    pub flange: f64,
    /// Thickness of the metal.
    pub metal: f64,
    /// From the upper face of the clip to the upper face of its tongue.
    pub offset: f64,
    /// Between the upright of the clip and the rail.
    pub gap: f64,
    /// Width of the kerf upward.
    pub kerf: f64,
    /// Depth of the kerf.
    pub depth: f64,
    /// Length of the kerf along the rail.
    pub along: f64,
    /// How far the top moves out over this rail by the wettest.
    pub growth: f64,
    /// How far it moves in by the driest.
    pub shrinkage: f64,
}

impl Joining for Figures {
    fn describe(&self) -> String {
        format!(
            "clip, {} of tongue in a kerf {} × {}, {} free at the upright",
            trimmed(self.tongue - self.gap),
            trimmed(self.kerf),
            trimmed(self.depth),
            trimmed(self.gap)
        )
    }

    fn ways_apart(&self, contact: &Contact) -> Vec<Dir> {
        vec![contact.into.opposite()]
    }

    fn fits(&self) -> Vec<Fitted> {
        vec![Fitted { what: "tongue in kerf, upward", class: Fit::Loose, clearance: self.kerf - self.metal }]
    }

    fn has_shoulder(&self) -> bool {
        false
    }

    fn strength(&self) -> &'static str {
        "holds the top down, and no more (common practice, no source)"
    }

    fn broken(&self) -> Vec<Broken> {
        const PRACTICE: &str = "common practice, no source";
        const MOVEMENT: &str = "movement: Wood Handbook FPL-GTR-190, equation 13-2";
        let loose = Fit::Loose.clearance();
        Rules::default()
            .at_least(LEAST_FLANGE, self.flange, "a clip is long enough under the top for its screw", PRACTICE)
            .mended_by("length", self.tongue + self.metal + 2.5 * LEAST_FLANGE)
            .at_least(
                self.growth,
                self.depth - (self.tongue - self.gap),
                "a clip stays short of the bottom of its kerf by the growth of the top",
                MOVEMENT,
            )
            .at_least(self.metal, self.kerf, "a kerf is at least as wide as the metal of its clip", "geometry")
            .mended_by("kerf", self.metal + USUAL_KERF_ROOM)
            .at_most(*loose.end(), self.kerf - self.metal, "a clip is not sloppy in its kerf", Fit::Loose.source())
            .mended_by("kerf", self.metal + USUAL_KERF_ROOM)
            .broken()
    }
}

/// Bends the clip out of its blank, and cuts its kerf in the rail.
pub(super) fn cut(assembly: &mut Assembly, id: JointId, figures: &Figures, shift: f64) -> JointKind {
    let joint = assembly.joint(id).clone();
    let contact = joint.contact;
    let (into, along) = (contact.into.vector(), contact.along.vector());
    let clip = assembly.part(joint.a);
    let (end, _) = face_and_point(clip, into, contact.centre);
    let (upper, _) = face_and_point(clip, glam::DVec3::Y, contact.centre);
    let (second_end, upper_is_back) = (end == Face::SecondEnd, upper == Face::BackSide);
    let flange = clip.lwt().x - figures.tongue - figures.metal;
    let off = |second_end, back_side, length| Feature::Rabbet { second_end, back_side, length, depth: figures.offset };
    assembly.cut(joint.a, off(second_end, upper_is_back, figures.tongue), Some(id));
    if flange > 0.0 {
        assembly.cut(joint.a, off(!second_end, !upper_is_back, flange), Some(id));
    }
    let rail = assembly.part(joint.b);
    // The tongue lies against the upper wall of its kerf.
    let middle = contact.centre + glam::DVec3::Y * (figures.metal - figures.kerf) / 2.0 + along * shift;
    let (face, centre) = face_and_point(rail, -into, middle);
    let kerf = Feature::Mortise {
        face,
        centre,
        along: local_axis(rail, along),
        length: figures.along,
        width: figures.kerf,
        depth: figures.depth,
        round: false,
    };
    assembly.cut(joint.b, kerf, Some(id));
    JointKind::Clip(figures.clone())
}
