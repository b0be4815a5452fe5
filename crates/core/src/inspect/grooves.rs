//! Grooves and housings against the wood they are cut in.

use casewright_solid::VoidGap;

use super::engagement::LEAST_ENGAGED;
use super::voids::{Form, Void, Voids};
use super::walls::{WALL_SOURCE, least_wall};
use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm};
use crate::design::{Design, decisions};
use crate::joint::JointKind;
use crate::model::{Face, Model, Part, PartId, Role};
use crate::sentence::inside;

pub(super) fn check(design: &Design, model: &Model, voids: &Voids<'_>) -> Vec<Finding> {
    let thin = model.parts.iter().filter_map(|part| thinnest(model, part, voids));
    thin.map(|(finding, hole)| Finding { remedies: remedies(design, model, &finding, hole), ..finding }).collect()
}

/// What may leave more wood between a panel's groove and a mortise: panels with their corners cut off, so that their grooves stop short enough; shallower
/// grooves; rails that stand back less, where the mortise is that of a standard; and the first with the last, for two mortises may be in the way.
fn remedies(design: &Design, model: &Model, finding: &Finding, hole: Option<&Void<'_>>) -> Vec<Remedy> {
    let groove =
        finding.joint.and_then(|joint| if let JointKind::Groove(figures) = &model.joint(joint).kind { Some(figures) } else { None });
    let Some(groove) = groove else { return Vec::new() };
    let words = "Cut the corners of the panels off, so that their grooves can stop where the panels end".to_owned();
    let corners = Remedy { words, changes: vec![("joinery.groove.corners".to_owned(), "cut_off".to_owned())] };
    let figure = |name: &str| finding.figures.iter().find(|figure| figure.name == name).map_or(0.0, |figure| figure.value);
    let lacking = figure("least") - figure("wood left");
    let number = |path: &str| decisions::value(design, path).and_then(|value| value.number());
    let half = |mm: f64| (mm * 2.0).floor() / 2.0;
    // A panel pushed over to one side must still be held by the other.
    let deep = Some(half(groove.depth - lacking)).filter(|deep| hole.is_some() && *deep >= LEAST_ENGAGED + 2.0 * groove.play);
    let shallower = deep.map(|deep| Remedy::length(format!("Make the grooves {} mm deep", mm(deep)), "joinery.groove.depth", deep));
    let joint = hole.and_then(Void::joint).map(|joint| model.joint(joint)).filter(|joint| matches!(joint.kind, JointKind::LooseTenons(_)));
    let of_standard = joint.is_some_and(|joint| joint.role == Role::StandardToPost);
    let path = "carcase.rails.reveal";
    let reveal = number(path).filter(|_| of_standard).map(|reveal| half(reveal - lacking)).filter(|reveal| *reveal >= 0.0);
    let back = reveal.map(|reveal| Remedy::length(format!("Set the rails back {} mm", mm(reveal)), path, reveal));
    let both = back.as_ref().map(|back| Remedy {
        words: format!("{}; and {}", corners.words, inside(&back.words)),
        changes: [corners.changes.clone(), back.changes.clone()].concat(),
    });
    std::iter::once(corners).chain([shallower, back, both].into_iter().flatten()).collect()
}

/// A channel with the face it is cut into and the axis along which it runs.
type Channel<'v, 'p> = (&'v Void<'p>, Face, usize);

/// The thinnest wood that the grooves of a part leave, where it is too thin; and the hole to which it is thin.
fn thinnest<'v, 'p>(model: &Model, part: &Part, voids: &'v Voids<'p>) -> Option<(Finding, Option<&'v Void<'p>>)> {
    let least = least_wall(part, &model.timbers);
    let channels: Vec<Channel<'_, '_>> = voids
        .of(part.id)
        .iter()
        .filter_map(|void| match void.form {
            Form::Channel { face, run } => Some((void, face, run)),
            Form::Hole { .. } | Form::Step => None,
        })
        .collect();
    let mut walls: Vec<(f64, &str, &Void<'_>, Option<&Void<'_>>)> = Vec::new();
    let mut explains = Vec::new();
    for (index, channel) in channels.iter().enumerate() {
        let others = channels[index + 1..].iter().filter_map(|other| between(part, voids, (channel, other), least));
        walls.extend(own_walls(part, channel).into_iter().chain(others).map(|(wall, where_, channel)| (wall, where_, channel, None)));
        for (wall, hole) in to_holes(part, channel.0, voids, least) {
            if wall <= 0.0 {
                explains.extend(loose_and_panel(model, channel.0, hole));
            }
            // A hole that a groove runs into is weak but holds, so it counts as a thin wall.
            walls.push((wall.max(RUNS_INTO), "between a groove and a mortise", channel.0, Some(hole)));
        }
    }
    let (wall, where_, channel, hole) = walls.into_iter().min_by(|a, b| a.0.total_cmp(&b.0))?;
    if wall >= least - TOUCH {
        return None;
    }
    let panel = channel.joint().map(|joint| model.joint(joint).a).filter(|panel| *panel != part.id);
    let parts: Vec<PartId> = std::iter::once(part.id).chain(panel).collect();
    let finding = Finding {
        rule: Rule::GrooveLeavesWood,
        seriousness: if wall <= TOUCH { Seriousness::WillFail } else { Seriousness::AtRisk },
        parts,
        explains,
        joint: channel.joint(),
        place: Some(part.block().centre()),
        figures: vec![Figure::mm("wood left", wall.max(0.0)), Figure::mm("least", least)],
        message: if wall <= TOUCH {
            format!("Nothing is left {where_} in {}", part.title)
        } else if wall <= RUNS_INTO {
            format!("A groove runs into a mortise in {}", part.title)
        } else {
            format!("Only {} mm of wood is left {where_} in {}", mm(wall), part.title)
        },
        source: WALL_SOURCE,
        remedies: Vec::new(),
    };
    Some((finding, hole))
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
fn between<'v, 'p>(
    part: &Part,
    voids: &Voids<'_>,
    (a, b): (&Channel<'v, 'p>, &Channel<'v, 'p>),
    least: f64,
) -> Option<(f64, &'static str, &'v Void<'p>)> {
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
        gap(voids.gap(part, a, b)?)
    };
    Some((wall, "between two grooves", a))
}

/// A wall that is as good as nothing, mm.
const RUNS_INTO: f64 = 10.0 * TOUCH;

/// The holes near a channel, of other joints, with the walls between, mm.
fn to_holes<'v, 'p>(part: &Part, channel: &Void<'p>, voids: &'v Voids<'p>, least: f64) -> Vec<(f64, &'v Void<'p>)> {
    let holes = voids.of(part.id).iter().filter(|void| matches!(void.form, Form::Hole { .. }));
    let of_another = |hole: &&Void<'_>| hole.joint().is_none() || hole.joint() != channel.joint();
    let near = holes.filter(of_another).filter(|hole| hole.apart(channel) < least);
    near.filter_map(|hole| Some((gap(voids.gap(part, channel, hole)?), hole))).collect()
}

/// The panel in a channel with every loose part in a hole that it runs into.
fn loose_and_panel(model: &Model, channel: &Void<'_>, hole: &Void<'_>) -> Vec<(PartId, PartId)> {
    let (Some(groove), Some(joint)) = (channel.joint(), hole.joint()) else { return Vec::new() };
    model.joint(joint).loose.iter().map(|loose| (model.joint(groove).a, *loose)).collect()
}

/// The least wood between two voids, mm; nothing where they meet.
fn gap(gap: VoidGap) -> f64 {
    match gap {
        VoidGap::Overlapping { .. } => 0.0,
        VoidGap::Apart { distance, .. } => distance,
    }
}
