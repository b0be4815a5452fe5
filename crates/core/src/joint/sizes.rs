//! Where the design keeps the sizes of a joint.

use super::JointKind;
use crate::design::{Design, LooseTenons};
use crate::model::{Joint, Role};

/// Where the design says how ends of a role are joined, under `joinery`; none where no design does.
pub(crate) fn role_path(role: Role) -> Option<&'static str> {
    match role {
        Role::RailToPost | Role::RailToMuntin => Some("rail_to_post"),
        Role::StileToRail | Role::MuntinToRail => Some("stile_to_rail"),
        Role::CrossRailToRail => Some("cross_rail_to_rail"),
        Role::StandardToPost => Some("standard_to_post"),
        Role::PanelToFrame
        | Role::ButtonToRail
        | Role::ButtonToTop
        | Role::FixingToRail
        | Role::FixingToTop
        | Role::TopToPost
        | Role::BearerToRail
        | Role::FloorToBearer
        | Role::FloorToFloor
        | Role::FloorRoundPost
        | Role::CleatToStandard
        | Role::SlatToCleat
        | Role::SlatRoundStandard
        | Role::SpacerToStandard
        | Role::PinToUpright
        | Role::ShelfToPin
        | Role::CleatToUpright
        | Role::ShelfToUpright
        | Role::Own => None,
    }
}

/// The sizes of loose tenons of a role; none where no design has them.
pub(crate) fn loose_tenons(design: &Design, role: Role) -> Option<&LooseTenons> {
    let joinery = &design.joinery;
    match role {
        Role::RailToPost | Role::RailToMuntin => Some(&joinery.rail_to_post.loose),
        Role::StileToRail | Role::MuntinToRail => Some(&joinery.stile_to_rail.loose),
        Role::CrossRailToRail => Some(&joinery.cross_rail_to_rail.loose),
        Role::StandardToPost => Some(&joinery.standard_to_post),
        Role::PanelToFrame
        | Role::ButtonToRail
        | Role::ButtonToTop
        | Role::FixingToRail
        | Role::FixingToTop
        | Role::TopToPost
        | Role::BearerToRail
        | Role::FloorToBearer
        | Role::FloorToFloor
        | Role::FloorRoundPost
        | Role::CleatToStandard
        | Role::SlatToCleat
        | Role::SlatRoundStandard
        | Role::SpacerToStandard
        | Role::PinToUpright
        | Role::ShelfToPin
        | Role::CleatToUpright
        | Role::ShelfToUpright
        | Role::Own => None,
    }
}

/// The decisions that the sizes of a joint rest on, such as `joinery.rail_to_post.tenon`; none where no design has them.
pub(crate) fn sizes_path(joint: &Joint) -> Option<String> {
    let end = |under: &str| role_path(joint.role).map(|role| format!("joinery.{role}{under}"));
    let fixed = |role: Role, path: &str| (joint.role == role).then(|| path.to_owned());
    match joint.kind {
        JointKind::LooseTenons(_) => end(""),
        JointKind::Tenon(_) => end(".tenon"),
        JointKind::Dowels(_) => end(".dowels"),
        JointKind::Groove(_) => fixed(Role::PanelToFrame, "joinery.groove"),
        JointKind::Button(_) => fixed(Role::ButtonToRail, "carcase.top.buttons"),
        JointKind::Clip(_) => fixed(Role::FixingToRail, "carcase.top.clips"),
        JointKind::Plate(_) => fixed(Role::FixingToRail, "carcase.top.plates"),
        JointKind::SlottedScrew(_) => fixed(Role::FixingToTop, "carcase.top.strips"),
        JointKind::Pin(_) => fixed(Role::PinToUpright, "pins"),
        JointKind::Screws(_) => fixed(Role::CleatToUpright, "cleats"),
        JointKind::Housing(_) => fixed(Role::ShelfToUpright, "housed"),
        JointKind::Lap(_)
        | JointKind::Bridle(_)
        | JointKind::ScrewedUp(_)
        | JointKind::Notch(_)
        | JointKind::Seat(_)
        | JointKind::Plain(_)
        | JointKind::Tongue(_)
        | JointKind::SlidingDovetail(_)
        | JointKind::Rabbet(_)
        | JointKind::BoxJoint(_)
        | JointKind::Dovetail(_)
        | JointKind::Breadboard(_) => None,
    }
}
