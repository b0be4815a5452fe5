//! Grooves and housings against the wood they are cut in.

use casewright_solid::{VoidGap, void_gap};

use super::voids::{Form, Void, Voids};
use super::walls::{WALL_SOURCE, least_wall};
use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm};
use crate::joint::JointKind;
use crate::model::{Face, Model, Part, PartId};

pub(super) fn check(model: &Model, voids: &Voids<'_>) -> Vec<Finding> {
    let thin = model.parts.iter().filter_map(|part| thinnest(model, part, voids.of(part.id)));
    thin.map(|finding| Finding { remedies: corners_cut_off(model, &finding), ..finding }).collect()
}

/// Panels with their corners cut off, where that may let their grooves stop short enough.
fn corners_cut_off(model: &Model, finding: &Finding) -> Vec<Remedy> {
    let panel = finding.joint.is_some_and(|joint| matches!(model.joint(joint).kind, JointKind::Groove(_)));
    let words = "Cut the corners of the panels off, so that their grooves can stop where the panels end".to_owned();
    let remedy = Remedy { words, changes: vec![("joinery.groove.corners".to_owned(), "cut_off".to_owned())] };
    if panel { vec![remedy] } else { Vec::new() }
}

/// A channel with the face it is cut into and the axis along which it runs.
type Channel<'v, 'p> = (&'v Void<'p>, Face, usize);

/// The thinnest wood that the grooves of a part leave, where it is too thin.
fn thinnest(model: &Model, part: &Part, voids: &[Void<'_>]) -> Option<Finding> {
    let least = least_wall(part, &model.timbers);
    let channels: Vec<Channel<'_, '_>> = voids
        .iter()
        .filter_map(|void| match void.form {
            Form::Channel { face, run } => Some((void, face, run)),
            Form::Hole { .. } | Form::Step => None,
        })
        .collect();
    let mut walls: Vec<(f64, &str, &Void<'_>)> = Vec::new();
    let mut explains = Vec::new();
    for (index, channel) in channels.iter().enumerate() {
        walls.extend(own_walls(part, channel));
        walls.extend(channels[index + 1..].iter().filter_map(|other| between(part, channel, other, least)));
        for (wall, hole) in to_holes(part, channel.0, voids, least) {
            if wall <= 0.0 {
                explains.extend(loose_and_panel(model, channel.0, hole));
            }
            // A hole that a groove runs into is weak but holds, so it counts as a thin wall.
            walls.push((wall.max(RUNS_INTO), "between a groove and a mortise", channel.0));
        }
    }
    let (wall, where_, channel) = walls.into_iter().min_by(|a, b| a.0.total_cmp(&b.0))?;
    if wall >= least - TOUCH {
        return None;
    }
    let panel = channel.joint().map(|joint| model.joint(joint).a).filter(|panel| *panel != part.id);
    let parts: Vec<PartId> = std::iter::once(part.id).chain(panel).collect();
    Some(Finding {
        rule: Rule::GrooveLeavesWood,
        seriousness: if wall <= TOUCH { Seriousness::WillFail } else { Seriousness::AtRisk },
        parts,
        explains,
        joint: channel.joint(),
        place: Some(part.block().centre()),
        figures: vec![Figure::mm("wood left", wall.max(0.0)), Figure::mm("least", least)],
        message: if wall <= TOUCH {
            format!("Nothing is left {where_} in {}", part.title)
        } else {
            format!("Only {} mm of wood is left {where_} in {}", mm(wall), part.title)
        },
        source: WALL_SOURCE,
        remedies: Vec::new(),
    })
}

/// The wood behind a channel and beside it.
fn own_walls<'v, 'p>(part: &Part, &(void, face, run): &Channel<'v, 'p>) -> [(f64, &'static str, &'v Void<'p>); 2] {
    let size = part.lwt();
    let deep = face.axis();
    let side = 3 - deep - run;
    let behind = if face.is_first() { size[deep] - void.high[deep] } else { void.low[deep] };
    [(behind, "behind a groove", void), (void.low[side].min(size[side] - void.high[side]), "beside a groove", void)]
}

/// The wood between two channels that are cut into different faces; those in one face may run into each other.
fn between<'v, 'p>(part: &Part, a: &Channel<'v, 'p>, b: &Channel<'v, 'p>, least: f64) -> Option<(f64, &'static str, &'v Void<'p>)> {
    let ((a, face, _), (b, other_face, _)) = (*a, *b);
    let one_joint = a.joint().is_some() && a.joint() == b.joint();
    if face == other_face || one_joint || a.apart(b) >= least {
        return None;
    }
    // Where the two face each other the figure is what the depths leave, below nothing too.
    let deep = face.axis();
    let over_each_other =
        (0..3).filter(|axis| *axis != deep).all(|axis| a.low[axis].max(b.low[axis]) < a.high[axis].min(b.high[axis]) - TOUCH);
    let wall = if deep == other_face.axis() && over_each_other {
        (a.low[deep] - b.high[deep]).max(b.low[deep] - a.high[deep])
    } else {
        gap(part, a, b)?
    };
    Some((wall, "between two grooves", a))
}

/// A wall that is as good as nothing, mm.
const RUNS_INTO: f64 = 10.0 * TOUCH;

/// The holes near a channel, of other joints, with the walls between, mm.
fn to_holes<'v, 'p>(part: &Part, channel: &Void<'p>, voids: &'v [Void<'p>], least: f64) -> Vec<(f64, &'v Void<'p>)> {
    let holes = voids.iter().filter(|void| matches!(void.form, Form::Hole { .. }));
    let of_another = |hole: &&Void<'_>| hole.joint().is_none() || hole.joint() != channel.joint();
    let near = holes.filter(of_another).filter(|hole| hole.apart(channel) < least);
    near.filter_map(|hole| Some((gap(part, channel, hole)?, hole))).collect()
}

/// The panel in a channel with every loose part in a hole that it runs into.
fn loose_and_panel(model: &Model, channel: &Void<'_>, hole: &Void<'_>) -> Vec<(PartId, PartId)> {
    let (Some(groove), Some(joint)) = (channel.joint(), hole.joint()) else { return Vec::new() };
    model.joint(joint).loose.iter().map(|loose| (model.joint(groove).a, *loose)).collect()
}

/// The least wood between two voids, mm; nothing where they meet, and `None` where one of them takes nothing from the blank.
fn gap(part: &Part, a: &Void<'_>, b: &Void<'_>) -> Option<f64> {
    match void_gap(part.lwt(), std::slice::from_ref(&a.prism), std::slice::from_ref(&b.prism)).ok()?? {
        VoidGap::Overlapping { .. } => Some(0.0),
        VoidGap::Apart { distance, .. } => Some(distance),
    }
}
