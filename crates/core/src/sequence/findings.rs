//! What an order of assembly has to tell the maker.

use std::collections::BTreeMap;

use super::words::{inside, list};
use super::{Captive, GlueUp, Locked, Reach, Sequence, WayOut};
use crate::design::{GlueStages, Gluing, OpenTime, find_glue, glues};
use crate::inspect::{Figure, Finding, Remedy, Rule, Seriousness};
use crate::length::trimmed_to;
use crate::model::{Model, PartId, PartKind};

/// What will fail, what is at risk and what is worth knowing of a sequence; the most serious first.
///
/// Locked parts will fail; a glue-up that takes longer than its glue allows is at risk; a loose part that something fastened keeps in, and a cut
/// that no tool reaches after glue-up, are notes.
pub fn findings(sequence: &Sequence, model: &Model, gluing: &Gluing) -> Vec<Finding> {
    let mut all: Vec<Finding> = sequence.locked.iter().map(|locked| of_locked(locked, model)).collect();
    all.extend(sequence.glue_ups.iter().filter(|glue_up| !glue_up.in_time()).map(|glue_up| of_time(glue_up, sequence, model, gluing)));
    all.extend(of_captive(&sequence.captive, model));
    all.extend(of_reach(&sequence.reach, model));
    all
}

/// One note for all loose parts that something fastened keeps in.
fn of_captive(captive: &[Captive], model: &Model) -> Option<Finding> {
    let parts: Vec<PartId> = captive.iter().map(|captive| captive.part).collect();
    let first = parts.first()?;
    let mut by: Vec<PartId> = captive.iter().flat_map(|captive| captive.held_by.iter().copied()).collect();
    by.sort_unstable();
    by.dedup();
    // A top is held by its buttons; it is the top that is taken off.
    let fixing = |part: &PartId| matches!(model.part(*part).kind, PartKind::Button | PartKind::Clip | PartKind::Plate);
    if !by.iter().all(fixing) {
        by.retain(|part| !fixing(part));
    }
    let holds = list(model, &by);
    Some(Finding {
        rule: Rule::Captive,
        seriousness: Seriousness::Note,
        explains: Vec::new(),
        joint: None,
        place: Some(model.part(*first).block().centre()),
        figures: vec![Figure::count("loose parts held", parts.len() as u32)],
        message: format!("No way was found to take this out by hand while {holds} is on: {}", list(model, &parts)),
        source: "geometry: ways out by hand sought on the solids",
        remedies: vec![
            Remedy { words: format!("Take off {holds} when this is to be changed"), changes: Vec::new() },
            Remedy { words: "Leave more room above, so that it can be tipped out".to_owned(), changes: Vec::new() },
        ],
        parts,
    })
}

fn of_locked(locked: &Locked, model: &Model) -> Finding {
    let what = list(model, &locked.parts);
    let message = match (locked.blocked_by.is_empty(), locked.parts.len()) {
        (true, _) => format!("No way was found to put in {what}"),
        (false, 1) => format!("No way was found to put in {what}: {} would be in the way", list(model, &locked.blocked_by)),
        (false, _) => format!("These hold each other, so that none can go in last: {what}"),
    };
    let remedies: Vec<Remedy> = locked.ways.iter().map(|way| Remedy { words: way_words(way, model), changes: Vec::new() }).collect();
    Finding {
        rule: Rule::LockedOut,
        seriousness: Seriousness::WillFail,
        parts: locked.parts.iter().chain(&locked.blocked_by).copied().collect(),
        explains: Vec::new(),
        joint: None,
        place: locked.place.or_else(|| locked.parts.first().map(|part| model.part(*part).block().centre())),
        figures: vec![Figure::count("parts in the way", locked.blocked_by.len() as u32)],
        message,
        source: "geometry: its way swept against what stands",
        remedies,
    }
}

fn way_words(way: &WayOut, model: &Model) -> String {
    match way {
        WayOut::Before(parts) => format!("Put it in during the glue-up, before {} close round it", list(model, parts)),
        WayOut::TwoPieces(0) => "Make it in two pieces that meet across its length".to_owned(),
        WayOut::TwoPieces(_) => "Make it in two pieces that meet along its length".to_owned(),
        WayOut::Notch(places) => {
            let mm = |value: f64| trimmed_to(value, 1);
            let each: Vec<String> = places
                .iter()
                .map(|[l0, l1, w0, w1]| format!("{} to {} along its length, {} to {} across", mm(*l0), mm(*l1), mm(*w0), mm(*w1)))
                .collect();
            format!("Notch it: {}", each.join("; "))
        }
    }
}

fn of_time(glue_up: &GlueUp, sequence: &Sequence, model: &Model, gluing: &Gluing) -> Finding {
    let title = sequence.groups.get(glue_up.group).map_or("", |group| group.title.as_str());
    let (joints, open) = (glue_up.joints.len(), gluing.open_minutes());
    let seconds = |value: f64| trimmed_to(value, 0);
    let message = format!(
        "Gluing the {title}: {joints} joints at {} s take {} s, and the glue leaves {} s ({} min open, {} % of it to be safe)",
        seconds(gluing.seconds),
        seconds(glue_up.seconds),
        seconds(glue_up.allowed),
        trimmed_to(open, 1),
        seconds(gluing.share * 100.0)
    );
    let first = glue_up.joints.first().map(|id| model.joint(*id));
    let mut parts: Vec<PartId> = glue_up.joints.iter().flat_map(|id| [model.joint(*id).a, model.joint(*id).b]).collect();
    parts.sort_unstable();
    parts.dedup();
    Finding {
        rule: Rule::GlueTime,
        seriousness: Seriousness::AtRisk,
        parts,
        explains: Vec::new(),
        joint: first.map(|joint| joint.id),
        place: first.map(|joint| joint.contact.centre),
        figures: vec![
            Figure::count("joints", joints as u32),
            Figure { name: "takes", value: glue_up.seconds, unit: "s" },
            Figure { name: "may take", value: glue_up.allowed, unit: "s" },
        ],
        message,
        source: "joints times seconds against 0.7 of the open time: common practice, no source; open times as the table of glues says",
        remedies: time_remedies(glue_up, gluing),
    }
}

/// Split, or a glue that stays open long enough: the first of the table, and how long that must be.
fn time_remedies(glue_up: &GlueUp, gluing: &Gluing) -> Vec<Remedy> {
    let mut remedies = Vec::new();
    if gluing.stages == GlueStages::Few && glue_up.joints.len() > 1 {
        let needed = (glue_up.seconds / glue_up.allowed.max(1.0)).ceil().max(2.0);
        remedies.push(Remedy {
            words: format!("Split it, in {} stages or more, each within the open time", trimmed_to(needed, 0)),
            changes: vec![("shop.glue.stages".to_owned(), "within_open_time".to_owned())],
        });
    }
    let minutes = glue_up.seconds / gluing.share.max(0.01) / 60.0;
    let slower = glues().iter().filter(|glue| glue.open.0 >= minutes).min_by(|a, b| a.open.0.total_cmp(&b.open.0));
    if let Some(glue) = slower.filter(|glue| find_glue(&gluing.family) != Some(*glue)) {
        let mut changes = vec![("shop.glue.family".to_owned(), glue.id.clone())];
        if gluing.open_by == OpenTime::Own {
            changes.insert(0, ("shop.glue.open_by".to_owned(), "from_table".to_owned()));
        }
        remedies.push(Remedy {
            words: format!(
                "Take a glue that stays open {} min or longer: {}, {} min",
                trimmed_to(minutes.ceil(), 0),
                inside(&glue.name),
                trimmed_to(glue.open.0, 1)
            ),
            changes,
        });
    }
    remedies
}

/// One note for each tool and kind of part that goes in later, however many cuts it is about.
fn of_reach(reach: &[Reach], model: &Model) -> Vec<Finding> {
    let mut alike: BTreeMap<(String, &'static str, &'static str), Vec<&Reach>> = BTreeMap::new();
    for cut in reach.iter().filter(|cut| cut.blocked.is_some()) {
        let kind = model.part(model.joint(cut.joint).a).kind.words().1;
        alike.entry((cut.tool.clone(), cut.work.words(), kind)).or_default().push(cut);
    }
    alike
        .into_iter()
        .map(|((tool, work, kind), cuts)| {
            let mut by: Vec<PartId> = cuts.iter().filter_map(|cut| cut.blocked.map(|(part, _)| part)).collect();
            by.sort_unstable();
            by.dedup();
            let depth = cuts.iter().filter_map(|cut| cut.blocked.map(|(_, depth)| depth)).fold(0.0, f64::max);
            let mut parts: Vec<PartId> = cuts.iter().map(|cut| cut.part).collect();
            parts.sort_unstable();
            parts.dedup();
            let instead = cuts.first().and_then(|cut| cut.instead.clone()).filter(|_| cuts.iter().all(|cut| cut.instead.is_some()));
            let mut remedies = vec![Remedy { words: "Cut them before glue-up".to_owned(), changes: Vec::new() }];
            remedies.extend(
                instead.map(|tool| Remedy {
                    words: format!("Cut them after glue-up with another tool: {}", inside(&tool)),
                    changes: Vec::new(),
                }),
            );
            let count = cuts.len();
            Finding {
                rule: Rule::ToolReach,
                seriousness: Seriousness::Note,
                explains: Vec::new(),
                joint: cuts.first().map(|cut| cut.joint),
                place: cuts.first().map(|cut| cut.place),
                figures: vec![Figure::count("cuts", count as u32), Figure::mm("in the way by up to", depth)],
                message: format!(
                    "Cut before glue-up: {count} {work}{} for {} that the {} does not reach afterwards, for {}",
                    if count == 1 { "" } else { "s" },
                    inside(kind),
                    inside(&tool),
                    list(model, &by)
                ),
                source: "geometry: the room that the shop's tool takes",
                parts,
                remedies,
            }
        })
        .collect()
}
