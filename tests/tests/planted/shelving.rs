//! Standards, cleats and slats.

use super::{AtRisk, Fault, WillFail, demo_fault};
use casewright_core::inspect::Rule;

pub(super) const FAULTS: &[Fault] = &[
    demo_fault(
        "slats too wide to lie side by side",
        &[],
        &[("sawtooth.slats.width", "145")],
        (Rule::SlatsFit, WillFail),
        &[],
        // 418 of depth less 1 of play for three: 139 each.
        ("too wide", 6.0),
    ),
    demo_fault(
        "slats too narrow for their notches",
        // So few and narrow slats leave the case light.
        &[("carcase.wall", "anchored")],
        &[("sawtooth.slats.width", "70")],
        (Rule::SlatBears, WillFail),
        &[],
        // The foremost from 376 to 446, notched from 387.
        ("bearing", 11.0),
    ),
    demo_fault(
        "one slat a shelf",
        &[("carcase.wall", "anchored")],
        &[("sawtooth.slats.count", "1"), ("sawtooth.slats.width", "92")],
        (Rule::BoxStands, WillFail),
        &["slat.1.1.1"],
        // Of 92, in the middle of 29 to 446: from 191.5. A case 318 deep that stands at the back of 28 has its middle at 187.
        ("beside", 4.5),
    ),
    demo_fault(
        "two slats a shelf",
        &[("carcase.wall", "anchored")],
        &[("sawtooth.slats.count", "2"), ("sawtooth.slats.width", "128")],
        (Rule::BoxStands, AtRisk),
        &[],
        // 417 less twice 128.
        ("gap", 161.0),
    ),
    demo_fault(
        "slats that tip off their cleats",
        &[("carcase.wall", "anchored")],
        &[("sawtooth.slats.width", "92")],
        (Rule::SlatBears, WillFail),
        &[],
        // Of 508 × 92 two notches of 20 × 59 go off: its middle lies (508 × 92²/2 − 2 × 20 × 59²/2) / (508 × 92 − 2 × 20 × 59) = 46.88 from the edge
        // that the cleats, which begin at 59, do not reach. The shorter ones of the other bays lie a little better.
        ("middle inside", 46.88 - 59.0),
    ),
    demo_fault(
        "a shelf above the last tooth",
        &[],
        &[("interior.bays.3.opening.shelves.4", "60")],
        (Rule::ShelfHasTooth, WillFail),
        &["standard.3.front.left"],
        ("tooth wanted", 60.0),
    ),
    demo_fault(
        "two shelves on one tooth",
        &[],
        &[("interior.bays.2.opening.shelves.1", "18")],
        (Rule::ShelfHasTooth, WillFail),
        &["standard.2.front.left"],
        ("tooth wanted", 18.0),
    ),
    demo_fault(
        "shelves on neighbouring teeth",
        &[("contents.6.count", "0"), ("contents.7.count", "0")],
        &[("interior.bays.2.opening.shelves.1", "17")],
        (Rule::Overlap, WillFail),
        &[],
        // A cleat of 28 and a slat of 20 in a pitch of 32.
        ("depth", 16.0),
    ),
    demo_fault(
        "standards too thick for their pocket",
        &[("joinery.standard_to_post.thickness", "6")],
        &[("sawtooth.thickness", "23")],
        (Rule::Overlap, WillFail),
        &[],
        // 48 less 4 and 24 is 20.
        ("depth", 3.0),
    ),
    demo_fault(
        "one standard planed too little",
        &[],
        &[("part.standard.1.front.left.thickness", "22")],
        (Rule::Overlap, WillFail),
        &["standard.1.front.left"],
        ("depth", 2.0),
    ),
    demo_fault(
        "a cleat cut 4 long",
        &[],
        &[("part.cleat.1.1.left.length", "340.5")],
        (Rule::Overlap, WillFail),
        &["cleat.1.1.left", "standard.1.front.left"],
        // 4 less half of the play of 1.5, square to a slope of 28.07°.
        ("depth", 2.868),
    ),
    demo_fault(
        "a cleat cut 6 short",
        &[],
        &[("part.cleat.1.1.left.length", "330.5")],
        (Rule::CleatBears, AtRisk),
        &["cleat.1.1.left", "standard.1.front.left"],
        // 336.5 has 1.5 of play; with 7.5, pushed over, 8.5 of the seat of 16.
        ("bearing", 8.5),
    ),
    demo_fault(
        "teeth that end in a feather edge",
        &[],
        &[("sawtooth.crest", "1")],
        (Rule::ShortGrain, AtRisk),
        &["standard.1.front.left"],
        ("flat", 1.0),
    ),
    demo_fault(
        "a lowest seat near the foot of its standard",
        &[("contents.7.count", "0"), ("sawtooth.first", "20")],
        &[("sawtooth.first", "8")],
        (Rule::ShortGrain, AtRisk),
        &["standard.1.front.left"],
        ("to the end", 8.0),
    ),
];
