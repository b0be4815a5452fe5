//! Panels in their grooves.

use super::{AtRisk, Changes, Fault, WillFail, demo_fault};
use casewright_core::inspect::Rule;

/// Grooves made with a slot cutter of 40, which leaves a ramp where a groove stops, for panels with their corners cut off.
const SLOT_CUTTER: Changes =
    &[("joinery.groove.cutter_kind", "slot"), ("joinery.groove.cutter", "6"), ("joinery.groove.corners", "cut_off")];

/// What the opening of a back panel of the demo opens by for each percent that it dries, mm: white ash, 0.00274 along the rings (Wood Handbook, table
/// 13-5), of half the widths of its rails of 110 and 72, and half of that, since two posts hold each rail in its middle and two muntins at its edge.
const RAILS: f64 = (55.0 + 36.0) * 0.00274 / 2.0;

pub(super) const FAULTS: &[Fault] = &[
    demo_fault(
        "a sheet taken for another",
        &[("timber.panel.measured", "13.2")],
        &[("timber.panel.measured", "13.6")],
        (Rule::RightSheet, AtRisk),
        &["panel.back.1"],
        // Sold as 12, with two veneers of 0.6, and 0.3 over at most.
        ("most", 13.5),
    ),
    demo_fault(
        "a groove a little wider than slip",
        &[("joinery.groove.fit", "0.4")],
        &[("joinery.groove.fit", "0.45")],
        (Rule::PanelThickness, AtRisk),
        &[],
        // 0.2 to 0.4 is slip (common practice, no source).
        ("room", 0.45),
    ),
    demo_fault(
        "grooves cut for the sheet as sold",
        &[("joinery.groove.width_by", "own"), ("joinery.groove.own_width", "12.95")],
        &[("joinery.groove.own_width", "12.7")],
        (Rule::PanelThickness, WillFail),
        &["panel.back.1"],
        // The sheet measures 12.75.
        ("room", -0.05),
    ),
    demo_fault(
        "grooves in which the panels rattle",
        &[("joinery.groove.width_by", "own"), ("joinery.groove.own_width", "12.95")],
        &[("joinery.groove.own_width", "13.5")],
        (Rule::PanelThickness, AtRisk),
        &["panel.back.1"],
        ("room", 0.75),
    ),
    demo_fault(
        "one panel of another sheet",
        &[],
        &[("part.panel.left.1.thickness", "13.2")],
        (Rule::PanelThickness, WillFail),
        &["panel.left.1"],
        // In a groove of 12.95.
        ("room", -0.25),
    ),
    demo_fault(
        "panels that come out on one side when pushed to the other",
        &[],
        &[("joinery.groove.play", "3.5")],
        (Rule::PanelEngaged, AtRisk),
        &["panel.back.1"],
        // 9 less 3.5 on each side is 5.5; pushed over, 3.5 less. Driest a sheet of 1,235 has shrunk by 0.33 % × 2 of the 11 % of moisture between
        // 35 and 85 % humidity, and the rails have gone back from it.
        ("engaged", 2.0 - 1235.0 * 0.0033 * 2.0 / 11.0 - RAILS * 2.0),
    ),
    demo_fault(
        "panels shorter than their opening",
        &[],
        &[("joinery.groove.play", "9.5")],
        (Rule::PanelEngaged, WillFail),
        &["panel.back.1"],
        // 0.5 short on each side, and pushed over 9 more; driest shrunk by 0.33 % × 2/11 besides.
        ("engaged", -10.0 - 1223.0 * 0.0033 * 2.0 / 11.0 - RAILS * 2.0),
    ),
    demo_fault(
        "panels without room at the bottoms",
        &[],
        &[("joinery.groove.play", "0.75")],
        (Rule::PanelBottoms, AtRisk),
        &["panel.back.1"],
        // 0.75 at each bottom; wettest a sheet of 1,240.5 has grown by 0.33 % × 3/11.
        ("room", 1.5 - 1240.5 * 0.0033 * 3.0 / 11.0 - RAILS * 3.0),
    ),
    demo_fault(
        "one panel cut 4 too wide",
        // Built as wet as it ever is, and below as dry: what swells is in the others.
        &[("timber.moisture.wettest", "8")],
        &[("part.panel.left.1.width", "393")],
        (Rule::PanelBottoms, WillFail),
        &["panel.left.1"],
        // 374 between the posts and 9 on each side.
        ("room", -1.0),
    ),
    demo_fault(
        "one panel cut 5 too narrow",
        &[("timber.moisture.driest", "8")],
        &[("part.panel.left.1.width", "384")],
        (Rule::PanelEngaged, AtRisk),
        &["panel.left.1"],
        // 384 less 374 and the groove of 9 into which it is pushed.
        ("engaged", 1.0),
    ),
    demo_fault(
        "grooves that a slot cutter runs on into the mortises",
        SLOT_CUTTER,
        &[("joinery.groove.corners", "square")],
        (Rule::GrooveLeavesWood, AtRisk),
        &[],
        ("least", 3.0),
    ),
    demo_fault(
        "a cutter wider than the groove",
        &[],
        &[("joinery.groove.cutter", "16")],
        (Rule::GrooveCutter, WillFail),
        &[],
        ("groove", 12.95),
    ),
];
