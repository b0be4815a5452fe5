//! Wood screws: what draws them out, and what they bear sideways.

use super::creep::keeps;
use super::{Board, Properties, SAFETY_ACROSS};
use crate::timber::Known;
use crate::worked::Worked;

/// The share of the ultimate withdrawal that older design rules allow: 2850 to 15700.
const ALLOWED_SHARE: f64 = 2850.0 / 15_700.0;

/// Shank diameters of wood screws by their gauge, mm (Wood Handbook FPL-GTR-282, chapter 8; read in a copy).
const SHANKS: [(u32, f64); 14] = [
    (4, 2.84),
    (5, 3.18),
    (6, 3.51),
    (7, 3.84),
    (8, 4.17),
    (9, 4.50),
    (10, 4.83),
    (11, 5.16),
    (12, 5.49),
    (14, 6.15),
    (16, 6.81),
    (18, 7.47),
    (20, 8.13),
    (24, 9.45),
];

/// The shank diameter of a wood screw by its gauge, mm; nothing for a gauge that is not made.
pub fn screw_shank(gauge: u32) -> Option<f64> {
    SHANKS.iter().find(|(number, _)| *number == gauge).map(|(_, shank)| *shank)
}

/// What draws a wood screw out of the side grain of solid, seasoned wood, N: a shank of so many mm with so much thread in the wood, mm.
/// Nothing where the specific gravity is not known; for boards ask their maker.
pub fn screw_withdrawal(of: &Properties, shank: f64, thread: f64) -> Option<Worked> {
    let gravity = of.gravity.as_ref()?;
    let value = 108.25 * gravity.value.powi(2) * shank * thread;
    let formula = ("108.25 × G² × D × L", "Wood Handbook FPL-GTR-282, equation 8-10");
    Some(Worked::by("ultimate withdrawal", value, "N", formula, inputs(gravity, shank, Some(thread))))
}

/// What may be asked of a wood screw in withdrawal, N: the ultimate load over 5.5.
pub fn screw_withdrawal_allowed(of: &Properties, shank: f64, thread: f64) -> Option<Worked> {
    let ultimate = screw_withdrawal(of, shank, thread)?;
    let formula = ("ultimate withdrawal × 2850 / 15700", "the older design form 2850 G² D a pound and inch");
    Some(Worked::by("allowed withdrawal", ultimate.value * ALLOWED_SHARE, "N", formula, vec![ultimate]))
}

/// What a wood screw bears sideways for years, N, with so much of its thread in the wood, mm: the lateral load at the proportional limit, less in proportion
/// where fewer than seven diameters of thread are in the wood.
pub fn screw_lateral_allowed(lateral: Worked, shank: f64, thread: f64) -> Worked {
    let kept = keeps(Board::Timber);
    let share = (thread / (7.0 * shank)).min(1.0);
    let value = lateral.value * share * kept.value / SAFETY_ACROSS;
    let inputs = vec![
        lateral,
        Worked::given("share of seven diameters of thread that is in the wood, 1 at most", share, ""),
        Worked::known("what solid timber keeps of it", &kept, ""),
        Worked::given("factor of safety", SAFETY_ACROSS, ""),
    ];
    let formula = ("lateral load × share of thread × share that is kept ÷ factor of safety", "ours, no standard's");
    Worked::by("allowed sideways", value, "N", formula, inputs)
}

/// What a wood screw bears sideways at the proportional limit, N, with seven diameters of thread or more in the wood. Nothing outside the
/// range of specific gravity for which the handbook has a factor: hardwood 0.33 to 0.74, softwood 0.29 to 0.52.
pub fn screw_lateral(of: &Properties, softwood: bool, shank: f64) -> Option<Worked> {
    let gravity = of.gravity.as_ref()?;
    // To the hundredth, as the handbook has the ranges.
    let hundredths = (gravity.value * 100.0).round();
    let factor = match (softwood, hundredths) {
        (false, 33.0..=47.0) | (true, 29.0..=42.0) => 23.17,
        (false, 48.0..=56.0) => 31.99,
        (false, 57.0..=74.0) => 44.13,
        (true, 43.0..=47.0) => 29.79,
        (true, 48.0..=52.0) => 36.40,
        _ => return None,
    };
    let mut inputs = inputs(gravity, shank, None);
    inputs.push(Worked::given("factor K for that gravity", factor, ""));
    Some(Worked::by("lateral load", factor * shank * shank, "N", ("K × D²", "Wood Handbook FPL-GTR-282, chapter 8"), inputs))
}

fn inputs(gravity: &Known, shank: f64, thread: Option<f64>) -> Vec<Worked> {
    let mut inputs = vec![Worked::known("specific gravity G", gravity, ""), Worked::given("shank D", shank, "mm")];
    inputs.extend(thread.map(|thread| Worked::given("thread in the wood L", thread, "mm")));
    inputs
}
