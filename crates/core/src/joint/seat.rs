//! Sawtooth standards and the cleats in them.
//!
//! A seat is level; from its inner end a slope rises to the tip of the tooth above. The slope from the upright is
//! atan(seat / (pitch − crest)): 32, 16 and 2 give 28.1° (arithmetic). A cleat's ends are cut to the same slope and it is shorter
//! than from riser to riser by its play, 1 to 1.5 mm (common practice, no source).
//!
//! The half-round variant: holes are bored at the pitch along the middle of a strip of double width, which is ripped down its middle, so
//! that both halves register (read). The seat is then the radius of the holes, and the ends of a cleat are rounded over its whole height.

use casewright_solid::{Axis, Prism, Profile, Segment};
use glam::{DVec2, DVec3};

use super::{Fit, Fitted, Joining, JointKind, OVERSHOOT, face_and_point};
use crate::design::{Sawtooth, Teeth};
use crate::model::{Assembly, Contact, Face, Feature, JointId};
use crate::place::Dir;

/// The figures of a cleat's end in its tooth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figures {
    /// Which tooth, from 1.
    pub tooth: u32,
    /// How much shorter the cleat is than from riser to riser, mm.
    pub play: f64,
}

impl Joining for Figures {
    fn describe(&self) -> String {
        format!("in tooth {}", self.tooth)
    }

    /// Up, and off to the side.
    fn ways_apart(&self, contact: &Contact) -> Vec<Dir> {
        vec![Dir::PlusY, contact.along, contact.along.opposite()]
    }

    fn fits(&self) -> Vec<Fitted> {
        vec![Fitted { what: "cleat from riser to riser", class: Fit::Loose, clearance: self.play }]
    }

    fn has_shoulder(&self) -> bool {
        false
    }

    fn strength(&self) -> &'static str {
        "30 kg on a shelf bear 0.26 N/mm² on a seat of 16 × 18: never governing in sound wood (arithmetic)"
    }
}

/// Cuts the end of a cleat to the slope of the teeth.
pub(super) fn cut(assembly: &mut Assembly, id: JointId, sawtooth: &Sawtooth, tooth: u32) -> JointKind {
    let joint = assembly.joint(id);
    let part = assembly.part(joint.a);
    let (face, _) = face_and_point(part, joint.contact.into.vector(), joint.contact.centre);
    let feature = match sawtooth.teeth {
        Teeth::Sloped => {
            // As steep as the teeth, however high the cleat came out.
            let inset = bevel_inset(sawtooth) * part.size[1].mm / sawtooth.cleat.height.to_mm();
            Feature::Bevel { second_end: face == Face::SecondEnd, inset }
        }
        Teeth::HalfRound => Feature::RoundEnds,
    };
    // Both ends are rounded at once.
    let there = feature == Feature::RoundEnds && part.cuts.iter().any(|cut| cut.feature == feature);
    let part = part.id;
    if !there {
        assembly.cut(part, feature, Some(id));
    }
    JointKind::Seat(Figures { tooth, play: sawtooth.cleat.play.to_mm() })
}

/// The slope of the teeth from the upright, degrees.
pub fn slope_degrees(pitch: f64, seat: f64, crest: f64) -> f64 {
    seat.atan2(pitch - crest).to_degrees()
}

/// The depth of a seat, mm, above which the slope stands at so many degrees from the upright.
pub fn seat_depth(pitch: f64, crest: f64, degrees: f64) -> f64 {
    (pitch - crest) * degrees.to_radians().tan()
}

/// How many seats fit in a standard `length` mm long: the slope above each ends a pitch below its upper end.
pub fn seats(sawtooth: &Sawtooth, length: f64) -> u32 {
    let pitch = sawtooth.pitch.to_mm();
    let high = match sawtooth.teeth {
        Teeth::Sloped => pitch - sawtooth.crest.to_mm(),
        Teeth::HalfRound => 2.0 * sawtooth.seat.to_mm(),
    };
    let room = length - sawtooth.first.to_mm() - high - pitch;
    if room < 0.0 { 0 } else { (room / pitch).floor() as u32 + 1 }
}

/// How many of the seats planned for `planned` mm a standard has that came out `length` mm long: those whose slope ends below its upper end.
pub fn seats_in(sawtooth: &Sawtooth, length: f64, planned: f64) -> u32 {
    let all = seats(sawtooth, planned);
    let pitch = sawtooth.pitch.to_mm();
    let rise = match sawtooth.teeth {
        Teeth::Sloped => pitch - sawtooth.crest.to_mm(),
        Teeth::HalfRound => 2.0 * sawtooth.seat.to_mm(),
    };
    let there = ((length - sawtooth.first.to_mm() - rise) / pitch + 1e-9).floor() + 1.0;
    all.min(there.max(0.0) as u32)
}

/// Height of the lower edge of a cleat in tooth number `tooth`, from 1, above the foot of the standard, mm.
pub fn seat_height(sawtooth: &Sawtooth, tooth: u32) -> f64 {
    sawtooth.first.to_mm() + sawtooth.pitch.to_mm() * (f64::from(tooth) - 1.0) + rests_above(sawtooth)
}

/// How far the lower edge of a cleat lies above the lowest point of its seat, mm: its round ends lie in rounds that are as large or a little
/// larger, and do not reach their bottoms by half the play.
fn rests_above(sawtooth: &Sawtooth) -> f64 {
    if sawtooth.teeth == Teeth::Sloped {
        return 0.0;
    }
    let (round, end) = (sawtooth.seat.to_mm(), sawtooth.cleat.height.to_mm() / 2.0);
    // From the tips of the teeth in to the middle of the cleat's round end.
    let inside = round - sawtooth.cleat.play.to_mm() / 2.0 - end;
    let rests = if inside >= 0.0 {
        // One circle lies in the other.
        round - end - ((round - end).powi(2) - inside * inside).max(0.0).sqrt()
    } else {
        // It lies on the rim.
        (end * end - inside * inside).max(0.0).sqrt() - end
    };
    rests + HAIR * round
}

/// So much of the radius a round end is taken to lie higher than where it touches at one point: rounds are reckoned by facets.
const HAIR: f64 = 0.01;

/// The flat between two half rounds, mm.
pub fn flat_between(pitch: f64, radius: f64) -> f64 {
    pitch - 2.0 * radius
}

/// How far the end of a cleat leans in over its height, mm; as far as it is rounded where it is.
pub fn bevel_inset(sawtooth: &Sawtooth) -> f64 {
    if sawtooth.teeth == Teeth::HalfRound {
        return sawtooth.cleat.height.to_mm() / 2.0;
    }
    sawtooth.seat.to_mm() * sawtooth.cleat.height.to_mm() / (sawtooth.pitch.to_mm() - sawtooth.crest.to_mm())
}

pub(super) fn bevel_prisms(size: DVec3, second_end: bool, inset: f64) -> Vec<Prism> {
    let x = |l: f64| if second_end { size.x - l } else { l };
    // The sloping cut, carried on past both edges of the blank.
    let lean = inset / size.y;
    let below = -OVERSHOOT;
    let above = size.y + OVERSHOOT;
    let mut outline = vec![
        DVec2::new(x(below * lean), below),
        DVec2::new(x(above * lean), above),
        DVec2::new(x(below * lean - OVERSHOOT), above),
        DVec2::new(x(below * lean - OVERSHOOT), below),
    ];
    if second_end {
        outline.reverse();
    }
    Profile::polygon(outline)
        .ok()
        .map(|profile| Prism { axis: Axis::T, from: -OVERSHOOT, to: size.z + OVERSHOOT, profile })
        .into_iter()
        .collect()
}

pub(super) fn teeth_prisms(size: DVec3, first: f64, pitch: f64, seat: f64, crest: f64, count: u32) -> Vec<Prism> {
    let rise = pitch - crest;
    // The slope is carried on past the edge, so that the tooth's tip is cut clean.
    let past = OVERSHOOT * rise / seat;
    (0..count)
        .filter_map(|tooth| {
            let level = first + pitch * f64::from(tooth);
            let outline = vec![
                DVec2::new(level, size.y - seat),
                DVec2::new(level + rise + past, size.y + OVERSHOOT),
                DVec2::new(level, size.y + OVERSHOOT),
            ];
            Profile::polygon(outline).ok().map(|profile| Prism { axis: Axis::T, from: -OVERSHOOT, to: size.z + OVERSHOOT, profile })
        })
        .collect()
}

/// How much lower a cleat with round ends is than its half rounds, at the least, mm (common practice, no source).
pub(crate) const ROUND_PLAY: f64 = 0.5;

/// Half circles in the back edge: the near halves of holes bored on the line of the tips.
pub(super) fn half_round_prisms(size: DVec3, first: f64, pitch: f64, radius: f64, count: u32) -> Vec<Prism> {
    let half = |index: u32| {
        let middle = DVec2::new(first + radius + pitch * f64::from(index), size.y);
        let [low, high] = [middle - DVec2::X * radius, middle + DVec2::X * radius];
        let out = DVec2::Y * OVERSHOOT;
        let path = Profile::path(
            low,
            vec![
                Segment::Arc { to: high, centre: middle, ccw: true },
                Segment::Line { to: high + out },
                Segment::Line { to: low + out },
                Segment::Line { to: low },
            ],
        );
        path.ok().map(|profile| Prism { axis: Axis::T, from: -OVERSHOOT, to: size.z + OVERSHOOT, profile })
    };
    (0..count).filter_map(half).collect()
}
