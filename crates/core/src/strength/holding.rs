//! What holds the ends of a beam: bearing across the grain, shear along it, notches; and what may be asked of a stuff for years.
//!
//! The tables have means of small clear pieces of timber that were broken in minutes, and of boards means or requirements. What is allowed here
//! is the share that is kept under a load that stays ([`keeps`]), divided by a factor of safety of the program's own. It is no design value of any
//! standard.

use super::Properties;
use super::creep::{Board, keeps};
use crate::timber::{How, Known};
use crate::worked::Worked;

/// What the strength in bending is divided by once more: the program's own, for clear, straight-grained wood without checks.
pub const SAFETY_IN_BENDING: f64 = 3.0;
/// The same for boards made of pieces, fibres or veneers, of which the tables have means as well as least requirements: between those three and the 1.2
/// to 1.3 of EN 1995-1-1 on a least value (ours).
pub const SAFETY_OF_BOARDS: f64 = 2.0;
/// The same in shear along the grain.
pub const SAFETY_IN_SHEAR: f64 = 4.0;
/// The same across the grain.
pub const SAFETY_ACROSS: f64 = 1.5;

/// A shear plane longer than so many times the depth of what loads it is no stronger for it: the stress peaks at the loaded end.
const LONGEST_PLANE: f64 = 8.0;

const ALLOWED: (&str, &str) = ("strength × share that is kept under a load that stays ÷ factor of safety", "ours, no standard's");

/// What a strength in bending is divided by of a kind of stuff.
pub fn safety_in_bending(board: Option<Board>) -> f64 {
    match board {
        None | Some(Board::Timber) => SAFETY_IN_BENDING,
        Some(
            Board::Plywood
            | Board::Osb2
            | Board::Osb3
            | Board::ParticleP4
            | Board::ParticleP5
            | Board::ParticleP6
            | Board::ParticleP7
            | Board::Hardboard
            | Board::Mdf
            | Board::MdfHumid,
        ) => SAFETY_OF_BOARDS,
    }
}

fn allowed(name: &'static str, of: &Properties, strength: Option<&Known>, safety: f64) -> Option<Worked> {
    let strength = strength?;
    let board = of.board.unwrap_or(Board::Timber);
    let word = if board == Board::Timber { "mean strength" } else { "strength, a mean or what is required of it" };
    let kept = keeps(board);
    let inputs = vec![
        Worked::known(word, strength, "N/mm²"),
        Worked::known(format!("what {} keeps of it", board.words()), &kept, ""),
        Worked::given("factor of safety", safety, ""),
    ];
    Some(Worked::by(name, strength.value * kept.value / safety, "N/mm²", ALLOWED, inputs))
}

/// The bending stress that may be asked for years, where the strength is known.
pub fn allowed_bending(of: &Properties) -> Option<Worked> {
    allowed("allowed bending stress", of, of.rupture.as_ref(), safety_in_bending(of.board))
}

/// The shear stress along the grain that may be asked for years, where the strength is known.
pub fn allowed_shear(of: &Properties) -> Option<Worked> {
    allowed("allowed shear stress", of, of.shear.as_ref(), SAFETY_IN_SHEAR)
}

/// The stress across the grain that may be asked for years, where the strength is known.
pub fn allowed_bearing(of: &Properties) -> Option<Worked> {
    allowed("allowed stress across the grain", of, of.across.as_ref(), SAFETY_ACROSS)
}

/// The stress where a force, N, presses on so much wood, mm.
pub fn bearing_stress(force: f64, width: f64, length: f64) -> Worked {
    let inputs = vec![Worked::given("force", force, "N"), Worked::given("width", width, "mm"), Worked::given("length", length, "mm")];
    Worked::by("bearing stress", force / (width * length), "N/mm²", ("force / (width × length)", "statics"), inputs)
}

/// What wood bears at an angle to its grain, between what it bears along and across it, N/mm²: Hankinson's formula. The angle is in
/// degrees, 0 along the grain.
pub fn bearing_at_angle(along: f64, across: f64, degrees: f64) -> Worked {
    let (sine, cosine) = degrees.to_radians().sin_cos();
    let value = along * across / (along * sine * sine + across * cosine * cosine);
    let inputs = vec![
        Worked::given("along the grain", along, "N/mm²"),
        Worked::given("across the grain", across, "N/mm²"),
        Worked::given("angle to the grain", degrees, "°"),
    ];
    let formula = ("P·Q / (P·sin²θ + Q·cos²θ)", "Hankinson's formula, Wood Handbook FPL-GTR-282, equation 8-16");
    Worked::by("strength at an angle", value, "N/mm²", formula, inputs).obtained(How::Memory)
}

/// The shear stress on a plane along the grain behind a tooth, a tenon or a pin: a force, N, on a plane `width` wide and `length` long, mm,
/// of which no more than eight times the `depth` of what loads it counts.
pub fn shear_along(force: f64, width: f64, length: f64, depth: f64) -> Worked {
    let counts = length.min(LONGEST_PLANE * depth);
    let inputs = vec![
        Worked::given("force", force, "N"),
        Worked::given("width of the plane", width, "mm"),
        Worked::given("length of the plane that counts", counts, "mm"),
    ];
    let formula = ("force / (width × length), of the length 8 times the depth of the tooth at most", "statics; the 8 as for step joints");
    Worked::by("shear stress along the grain", force / (width * counts), "N/mm²", formula, inputs).obtained(How::Memory)
}

/// The factor by which a square notch in the lower face at a support takes from the shear strength of a beam of solid timber: `depth` of
/// the beam, `left` over the notch, `from_support` from the middle of the bearing to the notch, mm. 1 where there is no notch.
pub fn notch_factor(depth: f64, left: f64, from_support: f64) -> Worked {
    let share = (left / depth).clamp(0.0, 1.0);
    let root = depth.sqrt() * ((share * (1.0 - share)).sqrt() + 0.8 * from_support / depth * (1.0 / share - share * share).sqrt());
    let factor = if share >= 1.0 { 1.0 } else { (5.0 / root).min(1.0) };
    let inputs = vec![
        Worked::given("depth", depth, "mm"),
        Worked::given("left over the notch", left, "mm"),
        Worked::given("from the support to the notch", from_support, "mm"),
    ];
    let formula = ("5 / (√h·(√(α(1 − α)) + 0.8·x/h·√(1/α − α²))), 1 at most, α = left / depth", "EN 1995-1-1, 6.5.2");
    Worked::by("notch factor", factor, "", formula, inputs).obtained(How::Memory)
}

/// The greatest shear stress in what a notch leaves of a rectangular end, raised as the notch weakens it: a force, N, `width` across, mm.
pub fn shear_at_notch(force: f64, width: f64, depth: f64, left: f64, from_support: f64) -> Worked {
    let factor = notch_factor(depth, left, from_support);
    let value = 1.5 * force / (width * left) / factor.value;
    let inputs = vec![
        Worked::given("force", force, "N"),
        Worked::given("width", width, "mm"),
        Worked::given("left over the notch", left, "mm"),
        factor,
    ];
    Worked::by("shear stress at the notch", value, "N/mm²", ("1.5 × force / (width × left) / notch factor", "EN 1995-1-1, 6.5.2"), inputs)
        .obtained(How::Memory)
}

/// What a pin of a diameter that reaches so far into a shelf or a side presses on it with, mm and N.
pub fn pin_bearing(force: f64, diameter: f64, reach: f64) -> Worked {
    let inputs = vec![Worked::given("force", force, "N"), Worked::given("diameter", diameter, "mm"), Worked::given("reach", reach, "mm")];
    Worked::by("stress under the pin", force / (diameter * reach), "N/mm²", ("force / (diameter × reach)", "statics"), inputs)
}
