//! What it must hold, the sticks it comes from, and what was made in the shop already.

use super::{AtRisk, Fault, Note, WillFail, demo_fault};
use casewright_core::inspect::Rule;

pub(super) const FAULTS: &[Fault] = &[
    demo_fault(
        "a box too high for every shelf",
        // Where the air stays as it is: the seasons take some of the height besides.
        &[("timber.moisture.driest", "8"), ("timber.moisture.wettest", "8")],
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
        "a niche too narrow",
        &[("site.width", "1420"), ("site.scribe", "10")],
        // 1360 and 20 over either side, and 10 free at either wall: 1420.
        &[("site.width", "1412"), ("site.scribe", "10")],
        (Rule::FitsSite, WillFail),
        &[],
        ("too wide by", 8.0),
    ),
    demo_fault(
        "a floor that its bearers hardly reach",
        &[("carcase.bottom.bearer", "20"), ("carcase.bottom.clearance", "4")],
        &[("carcase.bottom.bearer", "12"), ("carcase.bottom.clearance", "4")],
        (Rule::FloorBears, AtRisk),
        &["floor.1", "bearer.1.front"],
        // 12 less 4 on either side.
        ("borne", 4.0),
    ),
    demo_fault(
        "a floor cut 13.5 short",
        &[],
        // 518.5 by rule, and 1 free at its end.
        &[("part.floor.1.length", "505")],
        (Rule::FloorCloses, AtRisk),
        &["floor.1"],
        ("open", 14.5),
    ),
    demo_fault(
        "a piece of a floor cut 6 narrow",
        &[("carcase.bottom.pieces", "butted")],
        // 470 less twice 4, 24 and 1 are 412.
        &[("carcase.bottom.pieces", "butted"), ("part.floor.1.left.width", "406")],
        (Rule::FloorCloses, AtRisk),
        &["floor.1.left"],
        ("open", 7.0),
    ),
    demo_fault(
        "a lapped piece of a floor cut 10 short",
        &[("carcase.bottom.pieces", "lapped")],
        &[("carcase.bottom.pieces", "lapped"), ("part.floor.2.right.width", "402")],
        (Rule::FloorCloses, AtRisk),
        &["floor.2.right"],
        ("open", 11.0),
    ),
    demo_fault(
        "a low ceiling",
        // It stands up under it too: from corner to corner of 1456 × 470 it is 1530.
        &[("site.height", "1540")],
        &[("site.height", "1470")],
        (Rule::FitsSite, WillFail),
        &[],
        ("too high by", 10.0),
    ),
    demo_fault(
        "a door that a glued carcase does not pass",
        // The least sizes of the carcase are 470 and 1360: with 10 for hands on either side 490 and 1380.
        &[("site.door.width", "800"), ("site.door.height", "2000")],
        &[("site.door.width", "480"), ("site.door.height", "2000")],
        (Rule::Carried, AtRisk),
        &["post.front.left"],
        ("too large by", 10.0),
    ),
    demo_fault(
        "a landing too shallow for the carcase",
        &[("site.stairs.width", "900"), ("site.stairs.height", "2000"), ("site.landing", "1200")],
        &[("site.landing", "700")],
        (Rule::Carried, AtRisk),
        &["post.front.left"],
        // Upright it is 470 × 1360 as seen from above, 490 thick with room for hands. The least of 900 / cos a + 700 / sin a − 490 / (sin a cos a) is 1268.484.
        ("too long by", 91.516),
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
    demo_fault(
        "a rail recorded as glued to posts that are not",
        &[("made.rail.left.top.state", "cut")],
        &[("made.rail.left.top.state", "glued")],
        (Rule::GluedToOthers, Note),
        &["rail.left.top"],
        ("glued to it", 0.0),
    ),
];
