//! Which parts hold each other where, and how firmly.

use glam::DVec3;

use crate::inspect::TOUCH;
use crate::joint::{Fixing, JointKind};
use crate::model::{HeldLine, Joint, Model, PartId};

/// How firmly parts hold each other; the firmest is settled first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Hold {
    /// Glued, every way.
    Glue,
    /// Screwed, every way.
    Screw,
    /// Held off by what it lies on or runs up to, that way alone; and by what stands in its mortise without glue.
    Rest,
    /// Kept in the middle of what it runs in, and where it lies by nothing but its weight.
    Lie,
    /// Kept only by what is made to slide.
    Slide,
}

impl Hold {
    /// From the firmest on.
    pub const ALL: [Hold; 5] = [Hold::Glue, Hold::Screw, Hold::Rest, Hold::Lie, Hold::Slide];
}

/// Two parts that hold each other at a place.
#[derive(Clone, Copy, Debug)]
pub(super) struct Link {
    pub parts: [usize; 2],
    pub at: DVec3,
    pub hold: Hold,
    /// Along which axes of the case: 1 or 0.
    pub along: DVec3,
}

pub(super) fn links(model: &Model) -> Vec<Link> {
    let mut links = Vec::new();
    for joint in &model.joints {
        let link = |a: PartId, b: PartId, at: DVec3, hold: Hold, along: DVec3| Link { parts: [a.0, b.0], at, hold, along };
        for (hold, along) in holds(joint) {
            links.push(link(joint.a, joint.b, joint.contact.centre, hold, along));
            // What is plugged in is kept from shifting sideways in either part, and has room at both bottoms.
            let members = if joint.is_plugged() { &[joint.b, joint.a][..] } else { &[joint.b][..] };
            let (hold, along) =
                if joint.is_plugged() { (Hold::Rest, DVec3::ONE - joint.contact.into.vector().abs()) } else { (hold, along) };
            let of_loose = |&loose: &PartId| members.iter().map(move |&member| (loose, member));
            let pairs = joint.loose.iter().flat_map(of_loose);
            links.extend(pairs.map(|(loose, member)| link(loose, member, model.part(loose).block().centre(), hold, along)));
        }
    }
    links.retain(|link| link.parts[0] != link.parts[1]);
    for line in &model.held_lines {
        hold_at(&mut links, line);
    }
    links
}

/// A part that moves from a line is held across it by what is nearest to the line, there; by the rest not at all.
fn hold_at(links: &mut [Link], line: &HeldLine) {
    let axis = line.axis;
    let of_line = |link: &&mut Link| link.hold > Hold::Screw && link.hold < Hold::Slide && link.parts[0] == line.part.0;
    let off = |link: &Link| (link.at[axis] - line.at).abs();
    let nearest = links.iter_mut().filter(of_line).map(|link| off(link)).fold(f64::INFINITY, f64::min);
    for link in links.iter_mut().filter(of_line) {
        if off(link) > nearest + TOUCH {
            link.along[axis] = 0.0;
        }
        link.at[axis] = line.at;
    }
}

/// How a joint holds, and along which axes.
fn holds(joint: &Joint) -> Vec<(Hold, DVec3)> {
    if joint.glued {
        return vec![(Hold::Glue, DVec3::ONE)];
    }
    if joint.is_plugged() {
        return vec![(Hold::Rest, DVec3::ONE)];
    }
    let closing = joint.contact.into.vector().abs();
    match joint.kind {
        // A pin sits in its hole all round.
        JointKind::Plain(Fixing::Screw) | JointKind::Screws(_) | JointKind::ScrewedUp(_) | JointKind::Pin(_) => {
            vec![(Hold::Screw, DVec3::ONE)]
        }
        JointKind::Button(_) | JointKind::Clip(_) | JointKind::Plate(_) | JointKind::SlottedScrew(_) => vec![(Hold::Slide, DVec3::ONE)],
        // A panel is held between the walls of its grooves and kept in the middle of their bottoms.
        JointKind::Groove(_) | JointKind::Tongue(_) | JointKind::Notch(_) => vec![(Hold::Lie, DVec3::ONE)],
        // A cleat lies on its level seats and is kept in the middle between the risers.
        JointKind::Seat(_) => vec![(Hold::Rest, DVec3::Y), (Hold::Lie, DVec3::ONE - DVec3::Y)],
        JointKind::LooseTenons(_)
        | JointKind::Tenon(_)
        | JointKind::Dowels(_)
        | JointKind::Lap(_)
        | JointKind::Bridle(_)
        | JointKind::Plain(Fixing::Rest | Fixing::Glue)
        | JointKind::Housing(_)
        | JointKind::SlidingDovetail(_)
        | JointKind::Rabbet(_)
        | JointKind::BoxJoint(_)
        | JointKind::Dovetail(_)
        | JointKind::Breadboard(_) => vec![(Hold::Rest, closing), (Hold::Lie, DVec3::ONE - closing)],
    }
}
