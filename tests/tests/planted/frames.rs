//! Posts, rails, stiles, muntins and the floor's bearers: lengths that don't reach, and what stands in the way.

use super::{AtRisk, Fault, Made, Note, WillFail, demo_fault};
use casewright_core::inspect::Rule;

pub(super) const FAULTS: &[Fault] = &[
    demo_fault(
        "a front rail cut 12 short",
        &[],
        &[("part.rail.front.bottom.length", "1252")],
        (Rule::Shoulder, WillFail),
        &["rail.front.bottom", "post.front.right"],
        // 1360 less two posts of 48 is 1264.
        ("gap", 12.0),
    ),
    demo_fault(
        "a front rail cut 2.5 long",
        &[],
        &[("part.rail.front.bottom.length", "1266.5")],
        (Rule::Overlap, WillFail),
        &["rail.front.bottom", "post.front.right"],
        ("depth", 2.5),
    ),
    demo_fault(
        "one post left at 50",
        &[],
        &[("part.post.front.left.thickness", "50")],
        (Rule::Overlap, WillFail),
        &["post.front.left"],
        ("depth", 2.0),
    ),
    demo_fault(
        "one post cut 6 short",
        &[],
        &[("part.post.front.left.length", "1450")],
        (Rule::Shoulder, WillFail),
        &["top", "post.front.left"],
        // 1480 less the top, 24, is 1456.
        ("gap", 6.0),
    ),
    demo_fault(
        "a stile cut 5 short",
        &[],
        &[("part.stile.1.length", "1219")],
        (Rule::Shoulder, WillFail),
        &["stile.1", "rail.front.top"],
        // 1456 less 72, 110 and the foot of 50 is 1224.
        ("gap", 5.0),
    ),
    demo_fault(
        "a cross rail cut 3 short",
        &[],
        &[("part.cross_rail.1.bottom.length", "411")],
        (Rule::Shoulder, WillFail),
        &["cross_rail.1.bottom"],
        // 470 less twice 4 and 24 is 414.
        ("gap", 3.0),
    ),
    demo_fault(
        "a bottom rail so wide that it stands in the floor of the room",
        &[],
        &[("part.rail.front.bottom.width", "170")],
        (Rule::AboveGround, WillFail),
        &["rail.front.bottom"],
        // Its upper edge is 50 + 110 up.
        ("below the floor", 10.0),
    ),
    demo_fault(
        "one rail planed to 22",
        &[],
        &[("part.rail.left.top.thickness", "22")],
        (Rule::MortiseCheek, Note),
        &["rail.left.top"],
        // The mortise, 8.1 in the middle of 24, ends 16.05 from the face side.
        ("beside", 5.95),
    ),
    Fault {
        name: "a size for a rail that is not there",
        made: Made::Demo { twin: &[], wrong: &[("part.rail.front.middle.length", "1264")] },
        rule: Rule::NoSuchPart,
        seriousness: AtRisk,
        parts: &[],
        figure: None,
    },
    demo_fault(
        "the reveal of 4 read as 8",
        &[
            ("sawtooth.thickness", "16"),
            ("sawtooth.cleat.thickness", "16"),
            ("joinery.standard_to_post.thickness", "4"),
            ("joinery.standard_to_post.fit", "0"),
        ],
        &[("carcase.rails.reveal", "8")],
        (Rule::MortisesMeet, WillFail),
        &["post.front.left"],
        // The other mortise lies from 8 + 7.95 to 24.05; 48 less that and a wall of 3.
        ("unmet", 20.95),
    ),
];
