//! What it must hold, the sticks it comes from, and what was made in the shop already.

use super::{AtRisk, Fault, WillFail, demo_fault};
use casewright_core::inspect::Rule;

pub(super) const FAULTS: &[Fault] = &[
    demo_fault(
        "a box too high for every shelf",
        &[],
        &[("contents.7.height", "420")],
        (Rule::BoxFits, WillFail),
        &[],
        // 420 and 25 of hand room against the 408 over the floor of bay 1.
        ("height lacking", 37.0),
    ),
    demo_fault(
        "a box deeper than the case",
        &[],
        &[("contents.1.depth", "430")],
        (Rule::BoxFits, WillFail),
        &[],
        // 430 and 5 behind it against 418.
        ("depth lacking", 17.0),
    ),
    demo_fault(
        "posts longer than a stick",
        &[],
        &[("timber.sticks.length", "1460")],
        (Rule::StickLength, AtRisk),
        &["post.front.left"],
        // 1456 and 25.
        ("rough length", 1481.0),
    ),
    demo_fault(
        "a rail that was cut 12 short",
        &[("made.rail.front.bottom.state", "cut")],
        &[("made.rail.front.bottom.length", "1252")],
        (Rule::MadePartFits, WillFail),
        &["rail.front.bottom"],
        ("open", 12.0),
    ),
    demo_fault(
        "a post that was mortised before the foot was changed",
        &[("made.post.front.left.state", "cut")],
        &[("carcase.rails.foot", "56")],
        (Rule::CutsStillRight, WillFail),
        &["post.front.left"],
        ("differs by", 6.0),
    ),
];
