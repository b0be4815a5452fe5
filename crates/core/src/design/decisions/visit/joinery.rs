//! How ends are joined, and the grooves for panels.

use super::{Stage, Walk};
use crate::design::{CutterKind, Dowels, EndJoint, EndJointKind, Groove, GrooveWidth, LooseTenons, Tenon};
use crate::joint::{dowel, tenon};

/// An end joint: the choice, and the sizes of what is chosen. `stock` is the thickness of the part that comes up, mm.
pub(super) fn end_joint(walk: &mut Walk<'_>, group: &str, stock: f64, joint: &mut EndJoint) {
    let EndJoint { by, loose, tenon, dowels } = joint;
    walk.under(Stage::Joints, group);
    walk.choice("by", "Joined by", "How these ends are joined: loose tenons, a tenon cut on the end, or dowels.", by);
    match by {
        EndJointKind::LooseTenons => {
            loose_tenons(walk, group, loose);
            let meaning = "What the tenons of two ends do that meet in one part from two faces.";
            walk.choice("meeting", "Where two meet", meaning, &mut loose.meeting);
        }
        EndJointKind::MortiseAndTenon => walk.inside("tenon", |walk| integral_tenon(walk, stock, tenon)),
        EndJointKind::Dowels => walk.inside("dowels", |walk| dowel_row(walk, stock, dowels)),
    }
}

fn integral_tenon(walk: &mut Walk<'_>, stock: f64, joint: &mut Tenon) {
    let Tenon { thickness, length, shoulder, reach, meeting, haunch, cheeks, deeper, fit, side_room, corners } = joint;
    let thick = thickness.or(tenon::thickness_by_rule(stock));
    walk.ruled(
        "thickness",
        "Tenon thickness",
        "Thickness of the tenon, mm; by rule a third of the part.",
        3.0..=60.0,
        thickness,
        tenon::thickness_by_rule(stock),
    );
    walk.ruled(
        "length",
        "Tenon length",
        "Length of the tenon beyond its shoulder, mm; by rule four times its thickness, or as long as there is room for.",
        5.0..=150.0,
        length,
        tenon::length_by_rule(thick),
    );
    walk.ruled(
        "shoulder",
        "Edge shoulder",
        "From the edge of the part to its tenon, mm; by rule more where a groove, a mortise or the end of the other part is near.",
        0.0..=80.0,
        shoulder,
        tenon::EDGE_SHOULDER,
    );
    walk.choice("cheeks", "Shoulders", "On which sides the tenon has shoulders; on one side only it is barefaced.", cheeks);
    walk.choice("reach", "Goes", "Whether the tenon stops in the other part or goes through it.", reach);
    walk.choice("meeting", "Where two meet", "What two tenons do that meet in one part from two faces.", meeting);
    walk.choice("haunch", "Haunch", "A haunch where the other part ends at the joint, and where a panel's groove runs in.", haunch);
    walk.choice("corners", "Mortise ends", "How the ends of the mortises are left, and the edges of the tenons to suit.", corners);
    walk.length("deeper", "Deeper", "How much deeper a stopped mortise is than its tenon is long, mm.", 0.0..=20.0, deeper);
    walk.length("fit", "Fit", "Mortise less tenon in thickness, mm.", 0.0..=1.0, fit);
    walk.length("side_room", "Room in width", "Mortise less tenon in width, both ends together, mm.", 0.0..=5.0, side_room);
}

fn dowel_row(walk: &mut Walk<'_>, stock: f64, joint: &mut Dowels) {
    let Dowels { diameter, length, margin, spacing, deeper, fit } = joint;
    let thick = diameter.or(dowel::diameter_by_rule(stock));
    walk.ruled(
        "diameter",
        "Dowel diameter",
        "Diameter of the dowels, mm; by rule the usual one nearest to two fifths of the part.",
        3.0..=40.0,
        diameter,
        dowel::diameter_by_rule(stock),
    );
    walk.ruled(
        "length",
        "Dowel length",
        "Length of the dowels, mm; by rule three diameters in each part, less where the other part is thin.",
        8.0..=250.0,
        length,
        dowel::length_by_rule(thick),
    );
    walk.ruled(
        "margin",
        "Margin",
        "From the edge of the part to the middle of the first dowel, mm; by rule two diameters.",
        2.0..=150.0,
        margin,
        dowel::margin_by_rule(thick),
    );
    walk.length("spacing", "At most apart", "Greatest distance from the middle of a dowel to the next, mm.", 15.0..=400.0, spacing);
    walk.length("deeper", "Deeper", "How much deeper each hole is than the dowel goes, mm.", 0.0..=10.0, deeper);
    walk.length("fit", "Fit", "Hole less dowel in diameter, mm; less than nothing where it must be driven.", -0.2..=1.0, fit);
}

pub(super) fn loose_tenons(walk: &mut Walk<'_>, group: &str, joint: &mut LooseTenons) {
    let LooseTenons { thickness, length, width, at_most, margin, depth_in_end, depth_in_face, fit, play, meeting: _ } = joint;
    walk.under(Stage::Joints, group);
    walk.length(
        "thickness",
        "Tenon thickness",
        "Thickness of the loose tenon, mm; about a third of the thinner part.",
        3.0..=40.0,
        thickness,
    );
    walk.length("length", "Tenon length", "Length of the loose tenon along its grain, mm.", 8.0..=200.0, length);
    walk.length("width", "Tenon width", "Width of the loose tenon, mm.", 5.0..=150.0, width);
    walk.count("at_most", "At most", "At most so many tenons a joint; fewer where the part is too narrow.", 1.0..=8.0, at_most);
    walk.length(
        "margin",
        "Margin",
        "From the edge of the part to the first mortise, and between two mortises at least, mm.",
        2.0..=60.0,
        margin,
    );
    walk.length(
        "depth_in_end",
        "Deep in the end",
        "Depth of the mortise in the end of the part that comes up, mm.",
        4.0..=150.0,
        depth_in_end,
    );
    walk.length("depth_in_face", "Deep in the face", "Depth of the mortise in the part that receives, mm.", 4.0..=150.0, depth_in_face);
    walk.length("fit", "Fit", "Mortise less tenon, in thickness and where it is snug in width, mm.", 0.0..=1.0, fit);
    walk.length("play", "Play", "Mortise less tenon in width for all but the first of a row, in the receiving part, mm.", 0.0..=20.0, play);
}

pub(super) fn groove(walk: &mut Walk<'_>, groove: &mut Groove) {
    let Groove { depth, play, width_by, fit, own_width, cutter, cutter_kind, cutter_diameter, corners } = groove;
    walk.under(Stage::Joints, "Panels in grooves");
    walk.length("depth", "Groove depth", "Depth of the grooves for panels, mm.", 2.0..=40.0, depth);
    walk.length("play", "Play at the bottom", "How far short of the bottom of its groove a panel ends, mm.", 0.0..=10.0, play);
    walk.choice("width_by", "Groove width", "How the width of the grooves is found: from the measured sheet, or your own.", width_by);
    match width_by {
        GrooveWidth::FromSheet => {
            walk.length("fit", "Fit", "Groove less panel in thickness, mm.", 0.0..=1.0, fit);
        }
        GrooveWidth::Own => walk.length("own_width", "Own width", "Width of the grooves when it is your own, mm.", 2.0..=60.0, own_width),
    }
    walk.choice("cutter_kind", "Made with", "What makes the grooves: a round cutter, or a slot cutter or saw.", cutter_kind);
    walk.length(
        "cutter",
        "Cuts wide",
        "How wide the cutter that makes the grooves cuts, mm: the diameter of a round cutter, the thickness of a slot cutter.",
        2.0..=60.0,
        cutter,
    );
    if *cutter_kind == CutterKind::Slot {
        let meaning = "Diameter of the slot cutter or saw, mm. Where a groove stops it leaves a ramp.";
        walk.length("cutter_diameter", "Cutter diameter", meaning, 20.0..=400.0, cutter_diameter);
    }
    let meaning =
        "How panels pass what the cutter leaves where a groove stops: the groove runs on past square corners, or they are cut off.";
    walk.choice("corners", "Panel corners", meaning, corners);
}
