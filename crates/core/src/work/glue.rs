//! Dry fit, what is finished before any glue, and how it all goes together, stage by stage.

use super::{Case, Chapter};
use crate::cautions::About;
use crate::design::{Finish, find_glue};
use crate::length::trimmed_to;
use crate::model::{BuildStage, PartKind};
use crate::sentence::capital;
use crate::sequence::{Diagonal, Step};

/// Every sub-assembly that is glued, put together without glue first.
pub(super) fn dry_fit(case: &Case<'_>) -> Chapter {
    let sequence = case.sequence;
    let mut chapter = Chapter { title: "Dry fit".to_owned(), ..Chapter::default() };
    for (index, group) in sequence.groups.iter().enumerate() {
        let glue_ups: Vec<_> = sequence.glue_ups.iter().filter(|glue_up| glue_up.group == index).collect();
        if glue_ups.is_empty() {
            continue;
        }
        chapter.jobs.push(format!(
            "{}: together without glue, every shoulder closed all round, then the clamps on as they will be",
            capital(&group.title)
        ));
        let diagonals = glue_ups.iter().flat_map(|glue_up| &glue_up.diagonals);
        chapter.jobs.extend(diagonals.map(|diagonal| format!("{}: {}", capital(&group.title), measured(diagonal))));
    }
    if chapter.jobs.is_empty() {
        return chapter;
    }
    if case.model.parts.iter().any(|part| part.kind == PartKind::Panel) {
        chapter.jobs.push("Every panel moves in its grooves when pushed by hand, and none lies at the bottom of one".to_owned());
    }
    chapter.jobs.push("Number the joints across both parts, then take it apart in the order backwards".to_owned());
    chapter
}

/// What is finished, and what is masked, before any glue is spread.
pub(super) fn finished_first(case: &Case<'_>) -> Chapter {
    let mut chapter = Chapter { title: "Before the glue".to_owned(), ..Chapter::default() };
    if case.sequence.glue_ups.is_empty() {
        return chapter;
    }
    chapter.jobs.push("Smooth all that no plane and no paper reaches once it is together".to_owned());
    match case.design.timber.finish {
        Finish::Bare => return chapter,
        Finish::Open | Finish::DryingOil | Finish::Film => {}
    }
    let prepared = &case.sequence.prepare;
    chapter.jobs.extend(prepared.iter().filter(|it| !it.parts.is_empty()).map(|it| {
        let group = case.sequence.steps.get(it.before).and_then(|step| case.sequence.groups.get(step.group));
        let before = group.map_or_else(String::new, |group| format!(", before the glue-up of the {}", group.title));
        format!("{}{before}", it.words)
    }));
    if !prepared.is_empty() {
        let mut glued: Vec<&str> = Vec::new();
        let joints = case.sequence.glue_ups.iter().flat_map(|glue_up| &glue_up.joints).map(|id| case.model.joint(*id));
        for role in joints.map(|joint| joint.role.words()) {
            if !glued.contains(&role) {
                glued.push(role);
            }
        }
        chapter.jobs.push(format!("Mask what takes glue before any finish comes near it, shoulders and mortises: {}", glued.join(", ")));
        chapter.cautions = case.cautions(&[About::OilyRags]);
    }
    chapter
}

/// When what a step moves goes in: the latest of its parts.
fn stage(case: &Case<'_>, step: &Step) -> BuildStage {
    let parts = step.moves.iter().flat_map(|moved| &moved.parts);
    parts.map(|id| case.model.part(*id).stage).max().unwrap_or(BuildStage::GlueUp)
}

/// A chapter for each sub-assembly as long as its parts go in at one stage; the finish before what lies loose in it.
pub(super) fn put_together(case: &Case<'_>) -> Vec<Chapter> {
    let sequence = case.sequence;
    let mut chapters: Vec<Chapter> = Vec::new();
    let mut last: Option<(usize, BuildStage)> = None;
    let (mut finished, mut closing) = (false, Vec::new());
    for (number, step) in sequence.steps.iter().enumerate() {
        let now = (step.group, stage(case, step));
        if last != Some(now) {
            if let Some(chapter) = chapters.last_mut() {
                chapter.jobs.append(&mut closing);
            }
            if now.1 == BuildStage::Loose && !finished {
                chapters.push(finish(case));
                finished = true;
            }
            let first = last.is_none_or(|(group, _)| group != now.0);
            chapters.push(begun(case, now, first));
            closing = if first { closed(case, now.0) } else { Vec::new() };
            last = Some(now);
        }
        if let Some(chapter) = chapters.last_mut() {
            chapter.jobs.push(format!("{}. {}{}", number + 1, step.words, by_two(case, number)));
        }
    }
    if let Some(chapter) = chapters.last_mut() {
        chapter.jobs.append(&mut closing);
    }
    if !finished {
        chapters.push(finish(case));
    }
    chapters
}

/// What is done once a sub-assembly is in its clamps.
fn closed(case: &Case<'_>, group: usize) -> Vec<String> {
    let glue_ups = || case.sequence.glue_ups.iter().filter(|glue_up| glue_up.group == group);
    let mut jobs: Vec<String> = glue_ups().flat_map(|glue_up| &glue_up.diagonals).map(|diagonal| capital(&measured(diagonal))).collect();
    if glue_ups().next().is_some() {
        let hours = find_glue(&case.design.shop.glue.family).map(|glue| [glue.clamped.0, glue.clamped.1].map(|hours| trimmed_to(hours, 1)));
        let hours = hours.map_or_else(String::new, |[least, most]| format!(", {least} to {most} h"));
        jobs.push(format!("What glue comes out taken off, then left in the clamps{hours}"));
    }
    jobs
}

/// "both diagonals of 470 × 1456 measure 1530, within 0.8 of each other, 1.6 at most".
fn measured(diagonal: &Diagonal) -> String {
    let ([a, b], length) = (diagonal.sides.map(|side| trimmed_to(side, 0)), trimmed_to(diagonal.length, 1));
    let [aim, most] = diagonal.within.map(|mm| trimmed_to(mm, 1));
    format!("both diagonals of {a} × {b} measure {length}, within {aim} of each other, {most} at most")
}

fn begun(case: &Case<'_>, (group, stage): (usize, BuildStage), first: bool) -> Chapter {
    let title = case.sequence.groups.get(group).map(|group| capital(&group.title)).unwrap_or_default();
    let glue_ups: Vec<_> = case.sequence.glue_ups.iter().filter(|glue_up| first && glue_up.group == group).collect();
    let mut told: Vec<String> = glue_ups.iter().flat_map(|glue_up| glue_up.told(&case.design.shop.glue)).collect();
    if glue_ups.iter().any(|glue_up| !glue_up.in_time()) {
        told.push("Longer than the glue leaves: a second pair of hands, a slower glue, or more stages; try it against the clock without glue first".to_owned());
    }
    let cautions = if glue_ups.is_empty() { Vec::new() } else { case.cautions(&[About::Glue]) };
    let title = match stage {
        BuildStage::GlueUp if glue_ups.is_empty() => title,
        BuildStage::GlueUp => format!("Glue up: {title}"),
        BuildStage::AfterGlueUp if glue_ups.is_empty() => format!("After glue-up: {title}"),
        BuildStage::AfterGlueUp => format!("After glue-up, with glue: {title}"),
        BuildStage::Loose => "What lies loose in it".to_owned(),
    };
    Chapter { title, told, jobs: Vec::new(), cautions }
}

/// " (31 kg: two lift it)" where something of a step is too heavy for one.
fn by_two(case: &Case<'_>, step: usize) -> String {
    let lifts = case.lifts.iter().filter(|lift| lift.step == Some(step));
    let heaviest = lifts.max_by(|a, b| a.mass.kg.total_cmp(&b.mass.kg));
    heaviest.map_or_else(String::new, |lift| {
        let more = lift.too_heavy_for_two(case.design);
        if more.is_empty() {
            format!(" ({} kg: two lift it)", trimmed_to(lift.mass.kg, 0))
        } else {
            format!(" ({} kg{more})", trimmed_to(lift.mass.kg, 0))
        }
    })
}

/// The finish of what is together, and of what will lie loose in it.
fn finish(case: &Case<'_>) -> Chapter {
    let mut chapter = Chapter { title: "Finish".to_owned(), ..Chapter::default() };
    let coating = case.design.timber.coating;
    let litres = crate::takeoff::litres(case.design, case.model);
    let litres = litres.map(|litres| trimmed_to(litres.value, 1)).unwrap_or_default();
    let what = match case.design.timber.finish {
        Finish::Bare => {
            chapter.jobs.push("Scrape off what glue stands out, smooth all that is seen and break the arrises; it stays bare".to_owned());
            return chapter;
        }
        Finish::Open => "of the finish, which is still to be decided",
        Finish::DryingOil => "of drying oil",
        Finish::Film => "of lacquer, varnish or shellac",
    };
    chapter.jobs = vec![
        "Scrape off what glue stands out, smooth all that is seen and break the arrises".to_owned(),
        format!("{} coats {what}, about {litres} l in all; what lies loose is finished flat on the bench", coating.coats),
    ];
    if case.model.parts.iter().any(|part| part.kind == PartKind::Top) {
        chapter.jobs.push("The top as much below as above, so that both sides take up moisture alike".to_owned());
    }
    chapter.cautions = case.cautions(&[About::OilyRags]);
    chapter
}
