//! What holds the ends of a beam: bearing across the grain, shear along it, notches; and what may be asked of a stuff for years.
//!
//! The tables have means of small clear pieces of timber that were broken in minutes, and of boards means or requirements. What is allowed here
//! is the share that is kept under a load that stays ([`keeps`]), divided by a factor of safety of the program's own. It is no design value of any
//! standard.

use super::Properties;
use super::creep::{Board, keeps};
use super::fastening::screw_lateral_allowed;
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

/// How hard a round pin is sheared by a force, N, its diameter in mm.
pub fn pin_shear(force: f64, diameter: f64) -> Worked {
    let inputs = vec![Worked::given("force", force, "N"), Worked::given("diameter", diameter, "mm")];
    let value = 4.0 / 3.0 * force / (std::f64::consts::PI * diameter * diameter / 4.0);
    Worked::by("shear stress in the pin", value, "N/mm²", ("4/3 × force / (π/4 × diameter²)", "statics"), inputs)
}

/// The yield of mild steel, N/mm²: what pins and screws are taken to have at the least.
const STEEL_YIELD: f64 = 235.0;
/// What the yield of steel is divided by (ours).
pub const SAFETY_OF_STEEL: f64 = 1.5;

fn steel(name: &'static str, share: f64, formula: &'static str) -> Worked {
    let yields = Known::new(STEEL_YIELD, How::Memory, "EN 10025-2, S235; taken for any pin or screw of steel");
    let inputs = vec![Worked::known("yield of mild steel", &yields, "N/mm²"), Worked::given("factor of safety", SAFETY_OF_STEEL, "")];
    Worked::by(name, STEEL_YIELD * share / SAFETY_OF_STEEL, "N/mm²", (formula, "ours, no standard's"), inputs)
}

/// The bending stress that may be asked of a pin of steel.
pub fn steel_bending() -> Worked {
    steel("allowed bending stress of steel", 1.0, "yield ÷ factor of safety")
}

/// The shear stress that may be asked of a pin or a screw of steel: von Mises.
pub fn steel_shear() -> Worked {
    steel("allowed shear stress of steel", 1.0 / 3.0_f64.sqrt(), "yield ÷ √3 ÷ factor of safety")
}

/// How hard a round pin is bent at the mouth of its hole by a force, N, that acts so far from there, mm.
pub fn pin_bending(force: f64, diameter: f64, lever: f64) -> Worked {
    let inputs = vec![
        Worked::given("force", force, "N"),
        Worked::given("lever, from the mouth of its hole to the middle of what lies on it", lever, "mm"),
        Worked::given("diameter", diameter, "mm"),
    ];
    let value = 32.0 * force * lever / (std::f64::consts::PI * diameter.powi(3));
    Worked::by("bending stress in the pin", value, "N/mm²", ("32 × force × lever / (π × diameter³)", "statics"), inputs)
}

/// How hard a stiff pin presses at the mouth of its hole, so deep, mm, where the force acts so far out of it: what it bears spread along the
/// hole, and the turning that goes with it, which rises evenly to either end.
pub fn pin_prising(force: f64, diameter: f64, lever: f64, deep: f64) -> Worked {
    let inputs = vec![
        Worked::given("force", force, "N"),
        Worked::given("lever, from the mouth of its hole to the middle of what lies on it", lever, "mm"),
        Worked::given("depth in the hole", deep, "mm"),
        Worked::given("diameter", diameter, "mm"),
    ];
    let value = (force / deep + 6.0 * force * (lever + deep / 2.0) / deep.powi(2)) / diameter;
    let formula = ("(force / depth + 6 × force × (lever + depth / 2) / depth²) / diameter", "statics, the pin taken as stiff");
    Worked::by("stress at the mouth of the hole", value, "N/mm²", formula, inputs)
}

/// What the wood round a pin bears along its grain for years, N/mm²; nothing for boards, and where the density is not known.
pub fn allowed_in_a_hole(of: &Properties, diameter: f64) -> Option<Worked> {
    let density = of.density.as_ref()?;
    if of.board.is_some_and(|board| board != Board::Timber) {
        return None;
    }
    let inputs = vec![Worked::given("diameter d", diameter, "mm"), Worked::known("density ρ", density, "kg/m³")];
    let value = 0.082 * (1.0 - 0.01 * diameter) * density.value;
    let formula = ("0.082 × (1 − 0.01·d) × ρ", "EN 1995-1-1, 8.5.1.1, with the mean density where it has a least one");
    let bears = Worked::by("what the wood round a pin bears", value, "N/mm²", formula, inputs).obtained(How::Memory);
    let kept = keeps(Board::Timber);
    let inputs =
        vec![bears, Worked::known("what solid timber keeps of it", &kept, ""), Worked::given("factor of safety", SAFETY_ACROSS, "")];
    Some(Worked::by("allowed stress at the mouth of the hole", value * kept.value / SAFETY_ACROSS, "N/mm²", ALLOWED, inputs))
}

/// What may be asked for years under a screw that is loaded sideways, as a stress on its shank, mm, and the thread that is in the wood, mm.
pub fn allowed_of_screw(lateral: Worked, shank: f64, engaged: f64) -> Worked {
    let bears = screw_lateral_allowed(lateral, shank, engaged);
    let value = bears.value / (shank * engaged);
    let inputs = vec![bears, Worked::given("shank", shank, "mm"), Worked::given("thread in the wood", engaged, "mm")];
    Worked::by("allowed stress under a screw", value, "N/mm²", ("what it bears ÷ (shank × thread in the wood)", "statics"), inputs)
}
