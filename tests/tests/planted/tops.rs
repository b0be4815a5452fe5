//! The top and the buttons that hold it.

use super::{AtRisk, Fault, Note, WillFail, demo_fault};
use casewright_core::inspect::Rule;

pub(super) const FAULTS: &[Fault] = &[
    demo_fault(
        "tongues of 8 under a top that moves",
        &[],
        &[("carcase.top.buttons.tongue", "8")],
        (Rule::ButtonHolds, AtRisk),
        &[],
        // White ash, 414 from rail to rail, 0.00274 a percent (Wood Handbook, table 13-5): 3.4 from 8 to 11 % and 2.27 from 8 to 6 %. So 3.9
        // free at the shoulder, and of 8 stay 8 − 3.9 − 2.27.
        ("held", 1.83),
    ),
    demo_fault(
        "a top too thin for the screws of its buttons",
        &[],
        &[("carcase.top.thickness", "16")],
        (Rule::JointRule, AtRisk),
        &["button.1", "top"],
        // 16 less 4 above the hole leave 12: of screws through 19 of button 30 is the longest, and 11 of it less than 3 × 4.2.
        ("found", 11.0),
    ),
    demo_fault(
        "a top so thin that the screws of its clips come out of it",
        // So thin a top leaves the case light.
        &[("carcase.top.fixing", "clips"), ("carcase.top.thickness", "20"), ("carcase.wall", "anchored")],
        &[("carcase.top.thickness", "8")],
        (Rule::MortiseBreaksOut, WillFail),
        &["top", "clip.1"],
        // The shortest screw, 12, goes through 2 of metal and 10 into 8 of top.
        ("left", -2.0),
    ),
    demo_fault(
        "plates so short that no driver gets to their screws",
        // Where nothing moves, plates hold the top on every rail.
        &[("carcase.top.fixing", "plates"), ("timber.moisture.driest", "8"), ("timber.moisture.wettest", "8")],
        &[("carcase.top.plates.centres", "10")],
        (Rule::JointRule, WillFail),
        &["plate.1", "rail.front.top"],
        // 7.5 from the face to the ring in the rail leave 2.5 of 10; half a head is 4.2.
        ("found", 2.5),
    ),
    demo_fault(
        "a room drier than the figures hold for",
        &[],
        &[("timber.moisture.driest", "5")],
        (Rule::MoistureRange, Note),
        &[],
        ("driest", 5.0),
    ),
    demo_fault(
        "a top so narrow that it misses the back posts",
        // So long that their screws still are under it.
        &[("carcase.top.buttons.length", "70")],
        &[("part.top.width", "440")],
        (Rule::Shoulder, WillFail),
        &["top", "post.back.left"],
        // From 490 back to 50; the posts end at 48.
        ("beside", 2.0),
    ),
    demo_fault(
        "a top rail so narrow that a slot stays open under the top",
        &[],
        &[("part.rail.front.top.width", "70")],
        (Rule::Shoulder, AtRisk),
        &["rail.front.top", "top"],
        // Of 72.
        ("gap", 2.0),
    ),
    demo_fault(
        "a round larger than half of the top",
        &[("carcase.top.edges.shape", "round"), ("carcase.top.edges.size", "12")],
        &[("carcase.top.edges.size", "15")],
        (Rule::EdgeLeavesWood, AtRisk),
        &["top"],
        // Of 24.
        ("flat left", 9.0),
    ),
];
