//! Loose tenons and their mortises: too deep, too long, too thin, too near.

use super::{AtRisk, Changes, Fault, Note, WillFail, demo_fault};
use casewright_core::inspect::Rule;

/// Posts of 45, rails of 20 set back 3, tenons of 7 without play: mortises in a post 9.5 to 16.5 from its outside.
const POST_OF_45: Changes = &[
    ("carcase.post.width", "45"),
    ("carcase.post.depth", "45"),
    ("carcase.rails.thickness", "20"),
    ("carcase.rails.reveal", "3"),
    ("joinery.rail_to_post.thickness", "7"),
    ("joinery.rail_to_post.fit", "0"),
    ("joinery.rail_to_post.depth_in_face", "25.5"),
    ("joinery.rail_to_post.length", "51"),
    ("joinery.stile_to_rail.thickness", "6"),
    ("joinery.cross_rail_to_rail.thickness", "6"),
];

/// Rails of 20 with tenons of 5.
const THIN_RAILS: Changes = &[
    ("carcase.rails.thickness", "20"),
    ("joinery.rail_to_post.thickness", "5"),
    ("joinery.stile_to_rail.thickness", "5"),
    ("joinery.cross_rail_to_rail.thickness", "5"),
    ("joinery.cross_rail_to_rail.depth_in_face", "13"),
    ("joinery.cross_rail_to_rail.length", "38"),
];

/// Frames without panels, so that no groove is near a mortise; the case is then so light that it wants an anchor.
/// Middle rails at the sides would leave no room for spacers.
const NO_PANELS: Changes = &[
    ("carcase.left.filling", "open"),
    ("carcase.right.filling", "open"),
    ("carcase.left.middle_rails", "0"),
    ("carcase.right.middle_rails", "0"),
    ("carcase.back.filling", "open"),
    ("carcase.wall", "anchored"),
];

/// Tenons cut on the ends of stiles, muntins and cross rails, those of the cross rails through.
const STILES_TENONED: Changes = &[
    ("joinery.stile_to_rail.by", "mortise_and_tenon"),
    ("joinery.cross_rail_to_rail.by", "mortise_and_tenon"),
    ("joinery.cross_rail_to_rail.tenon.reach", "through"),
];
/// Tenons cut on the ends of rails.
const RAILS_TENONED: Changes = &[("joinery.rail_to_post.by", "mortise_and_tenon")];

/// The same, short of each other in posts of 60.
const TENONED_SHORT_IN_60: Changes = &[
    ("joinery.rail_to_post.by", "mortise_and_tenon"),
    ("joinery.rail_to_post.tenon.meeting", "short"),
    ("carcase.post.width", "60"),
    ("carcase.post.depth", "60"),
    // Posts so deep want wider slats, or these tip off their cleats.
    ("sawtooth.slats.count", "2"),
    ("sawtooth.slats.width", "160"),
];

pub(super) const FAULTS: &[Fault] = &[
    demo_fault(
        "a loose tenon a millimetre too thin",
        &[],
        // In mortises of 8.1.
        &[("part.tenon.rail.front.bottom.post.front.left.1.thickness", "7")],
        (Rule::JointRule, AtRisk),
        &["tenon.rail.front.bottom.post.front.left.1"],
        ("loose", 1.1),
    ),
    demo_fault(
        "a loose tenon four millimetres too narrow",
        &[],
        // In mortises of 22.1.
        &[("part.tenon.rail.front.bottom.post.front.left.1.width", "18")],
        (Rule::JointRule, AtRisk),
        &["tenon.rail.front.bottom.post.front.left.1"],
        ("loose", 4.1),
    ),
    demo_fault(
        "a loose tenon too thick for its mortises",
        &[],
        &[("part.tenon.rail.front.bottom.post.front.left.1.thickness", "8.6")],
        (Rule::JointRule, WillFail),
        &["tenon.rail.front.bottom.post.front.left.1"],
        ("tight", 0.5),
    ),
    demo_fault(
        "a loose tenon as long as its mortises are deep",
        &[],
        // 26.5 and 24.5.
        &[("part.tenon.rail.front.bottom.post.front.left.1.length", "51")],
        (Rule::BottomRoom, AtRisk),
        &[],
        ("room", 0.0),
    ),
    demo_fault(
        "mortises far wider than their tenons are thick",
        STILES_TENONED,
        &[("joinery.stile_to_rail.tenon.fit", "0.3")],
        (Rule::JointRule, AtRisk),
        &["stile.1", "rail.front.bottom"],
        ("found", 0.3),
    ),
    demo_fault(
        "mortises hardly deeper than their tenons are long",
        RAILS_TENONED,
        &[("joinery.rail_to_post.tenon.deeper", "0.5")],
        (Rule::JointRule, AtRisk),
        &["rail.front.bottom", "post.front.left"],
        ("found", 0.5),
    ),
    demo_fault(
        "stub tenons on the rails",
        RAILS_TENONED,
        &[("joinery.rail_to_post.tenon.length", "20")],
        (Rule::JointRule, AtRisk),
        &["rail.front.bottom", "post.front.left"],
        ("at least", 24.0),
    ),
    demo_fault(
        "mortises 30 deep that meet in posts of 45",
        POST_OF_45,
        &[("joinery.rail_to_post.depth_in_face", "30"), ("joinery.rail_to_post.length", "55.5")],
        (Rule::MortisesMeet, WillFail),
        &["post.front.left", "rail.front.bottom", "rail.left.bottom"],
        ("unmet", 25.5),
    ),
    demo_fault(
        "tenons of one's own length that meet in posts of 60",
        TENONED_SHORT_IN_60,
        &[("joinery.rail_to_post.tenon.length", "40")],
        (Rule::MortisesMeet, WillFail),
        &["post.front.left", "rail.front.bottom", "rail.left.bottom"],
        // A tenon of 8 in the middle of 24 set back 4, and its fit: 60 less 20.05, and a wall of 3.
        ("unmet", 36.95),
    ),
    demo_fault(
        "mortises that leave a wall of 2.5 in the posts",
        POST_OF_45,
        &[("joinery.rail_to_post.depth_in_face", "26"), ("joinery.rail_to_post.length", "51.5")],
        (Rule::MortisesMeet, AtRisk),
        &["post.front.left"],
        ("wall", 2.5),
    ),
    demo_fault(
        "tenons 2 too long for their mortises",
        &[],
        &[("joinery.rail_to_post.length", "53")],
        (Rule::TenonLength, WillFail),
        &["tenon.rail.front.bottom.post.front.left.1"],
        ("too long", 2.0),
    ),
    demo_fault(
        "no room for glue at the bottoms",
        &[],
        &[("joinery.rail_to_post.length", "50.6")],
        (Rule::BottomRoom, AtRisk),
        &["rail.front.bottom", "post.front.left"],
        // 26.5 and 24.5.
        ("room", 0.4),
    ),
    demo_fault(
        "mortises bored far deeper than their tenons reach",
        &[],
        &[("joinery.stile_to_rail.length", "46")],
        (Rule::BottomRoom, Note),
        &["stile.1", "rail.front.bottom"],
        // 26 and 25.
        ("room", 5.0),
    ),
    demo_fault(
        "mortises too shallow to hold",
        &[],
        &[("joinery.cross_rail_to_rail.depth_in_face", "8.5"), ("joinery.cross_rail_to_rail.length", "33.5")],
        (Rule::TenonHold, AtRisk),
        &["rail.front.bottom"],
        // 8.5 less half of the room of 1.
        ("held", 8.0),
    ),
    demo_fault(
        "tenons of 3 in rails of 24",
        &[],
        &[("joinery.rail_to_post.thickness", "3")],
        (Rule::TenonThickness, Note),
        &["rail.front.bottom"],
        ("share", 0.125),
    ),
    demo_fault(
        "tenons of 16 in rails of 30",
        // Posts so deep want wider slats, or these tip off their cleats.
        &[
            ("carcase.post.width", "60"),
            ("carcase.post.depth", "60"),
            ("carcase.rails.thickness", "30"),
            ("sawtooth.slats.count", "2"),
            ("sawtooth.slats.width", "160"),
        ],
        &[("joinery.stile_to_rail.thickness", "16")],
        (Rule::TenonThickness, AtRisk),
        &["stile.1", "rail.front.bottom"],
        ("share", 0.533),
    ),
    demo_fault(
        "mortises that leave 3 behind them",
        &[],
        &[("joinery.cross_rail_to_rail.depth_in_face", "21"), ("joinery.cross_rail_to_rail.length", "46")],
        (Rule::MortiseBreaksOut, AtRisk),
        &["rail.front.bottom", "cross_rail.1.bottom"],
        ("left", 3.0),
    ),
    demo_fault(
        "mortises that come out at the front",
        &[],
        &[("joinery.cross_rail_to_rail.depth_in_face", "25"), ("joinery.cross_rail_to_rail.length", "47")],
        (Rule::MortiseBreaksOut, WillFail),
        &["rail.front.bottom", "cross_rail.1.bottom"],
        ("left", -1.0),
    ),
    demo_fault(
        "mortises near the tops of the posts",
        NO_PANELS,
        &[("joinery.rail_to_post.margin", "6")],
        (Rule::ShortGrain, AtRisk),
        &["post.front.left", "rail.front.top"],
        ("to the end", 6.0),
    ),
    demo_fault(
        "mortises that nearly meet from both edges of a muntin",
        &[("carcase.back.middle_rails", "1"), ("interior.divider.width", "52"), ("joinery.stile_to_rail.width", "12")],
        &[("interior.divider.width", "51")],
        (Rule::MortisesMeet, AtRisk),
        &["muntin.1", "rail.back.middle.1.1", "rail.back.middle.1.2"],
        // 51 less twice 24.5.
        ("wall", 2.0),
    ),
    demo_fault(
        "grooves with 2.5 beside them",
        THIN_RAILS,
        &[("carcase.rails.thickness", "18")],
        (Rule::GrooveLeavesWood, AtRisk),
        &["rail.back.bottom"],
        // 18 less 12.95, on both sides.
        ("wood left", 2.525),
    ),
    demo_fault(
        "standards with 3 between the mortise and the teeth",
        &[],
        &[("joinery.standard_to_post.depth_in_end", "15"), ("joinery.standard_to_post.depth_in_face", "16")],
        (Rule::MortiseBreaksOut, AtRisk),
        &["standard.1.front.left", "post.front.left"],
        // 18 behind the seats.
        ("left", 3.0),
    ),
];
