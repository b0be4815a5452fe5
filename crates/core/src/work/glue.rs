//! Dry fit, what is finished before any glue, and how it all goes together, stage by stage.

use super::job::{jobs, only, stage};
use super::{Case, Chapter, Job, bench};
use crate::cautions::About;
use crate::design::{Finish, find_glue};
use crate::joint::{Fixing, JointKind};
use crate::length::trimmed_to;
use crate::model::{BuildStage, JointId, PartKind};
use crate::sentence::capital;
use crate::sequence::{Diagonal, Step};

/// Every sub-assembly that is glued, put together without glue first.
pub(super) fn dry_fit(case: &Case<'_>) -> Chapter {
    let sequence = case.sequence;
    let mut chapter = Chapter { title: "Dry fit".to_owned(), ..Chapter::default() };
    let is_glued = |group: &usize| sequence.glue_ups.iter().any(|glue_up| glue_up.group == *group);
    let fitted = sequence.groups.iter().enumerate().filter(|(index, _)| is_glued(index)).map(|(_, group)| group.title.clone());
    let words = "Together without glue, every shoulder closed all round, the clamps on as they will be, both diagonals alike:";
    chapter.jobs.extend(Job::each(words, fitted));
    if chapter.jobs.is_empty() {
        return chapter;
    }
    if case.model.parts.iter().any(|part| part.kind == PartKind::Panel) {
        chapter.jobs.push("Every panel moves in its grooves when pushed by hand, and none lies at the bottom of one".into());
    }
    chapter.jobs.push("Number the joints across both parts, then take it apart in the order backwards".into());
    chapter
}

/// What is finished, and what is masked, before any glue is spread.
pub(super) fn finished_first(case: &Case<'_>) -> Chapter {
    let mut chapter = Chapter { title: "Before the glue".to_owned(), ..Chapter::default() };
    if case.sequence.glue_ups.is_empty() {
        return chapter;
    }
    chapter.jobs.push("Smooth all that no plane and no paper reaches once it is together".into());
    match case.design.timber.finish {
        Finish::Bare => return chapter,
        Finish::Open | Finish::DryingOil | Finish::Film => {}
    }
    let prepared = &case.sequence.prepare;
    chapter.jobs.extend(prepared.iter().filter(|it| !it.parts.is_empty()).map(|it| {
        let group = case.sequence.steps.get(it.before).and_then(|step| case.sequence.groups.get(step.group));
        let before = group.map_or_else(String::new, |group| format!(", before the glue-up of the {}", group.title));
        Job::from(format!("{}{before}", it.words))
    }));
    if !prepared.is_empty() {
        let mut glued: Vec<&str> = Vec::new();
        let joints = case.sequence.glue_ups.iter().flat_map(|glue_up| &glue_up.joints).map(|id| case.model.joint(*id));
        for role in joints.map(|joint| joint.role.words()) {
            if !glued.contains(&role) {
                glued.push(role);
            }
        }
        let masked = format!("Mask what takes glue before any finish comes near it, shoulders and mortises: {}", glued.join(", "));
        chapter.jobs.push(masked.into());
        chapter.cautions = case.cautions(&[About::OilyRags]);
    }
    chapter
}

/// Steps of one sub-assembly whose parts go in at one stage; or of several that are alike, each of a single step.
struct Together {
    groups: Vec<usize>,
    stage: BuildStage,
    /// Whether the sub-assembly begins with them, and not with steps before.
    begins: bool,
    /// By their places.
    steps: Vec<usize>,
}

/// A chapter for each sub-assembly as long as its parts go in at one stage. The finish comes once nothing is left to be glued up with the rest: a top gets it from below, and
/// a floor all round, only before they are in their places.
pub(super) fn put_together(case: &Case<'_>) -> Vec<Chapter> {
    let mut chapters: Vec<Chapter> = Vec::new();
    let stretches = stretches(case);
    let glued_up = stretches.iter().rposition(|together| together.stage == BuildStage::GlueUp).map_or(0, |last| last + 1);
    let mut pilots = bench::pilots(case);
    for (number, together) in stretches.into_iter().enumerate() {
        if number == glued_up {
            chapters.push(finish(case));
        }
        let mut chapter = begun(case, &together);
        if together.steps.iter().any(|step| is_screwed(case, *step)) {
            chapter.jobs.append(&mut pilots);
        }
        chapter.jobs.extend(jobs(case, &together.steps, |step| by_two(case, step)));
        if together.begins {
            let mut closing: Vec<Job> = Vec::new();
            for job in together.groups.iter().flat_map(|group| closed(case, *group)) {
                if !closing.contains(&job) {
                    closing.push(job);
                }
            }
            chapter.jobs.append(&mut closing);
        }
        chapters.push(chapter);
    }
    if chapters.len() == glued_up {
        chapters.push(finish(case));
    }
    chapters
}

/// Whether what a step brings is screwed on.
fn is_screwed(case: &Case<'_>, step: usize) -> bool {
    let moved = case.sequence.steps.get(step).into_iter().flat_map(|step| &step.moves).flat_map(|moved| &moved.parts);
    moved.flat_map(|part| case.model.joints_of(*part).filter(move |joint| joint.a == *part)).any(|joint| {
        matches!(
            joint.kind,
            JointKind::Plain(Fixing::Screw)
                | JointKind::Screws(_)
                | JointKind::ScrewedUp(_)
                | JointKind::SlottedScrew(_)
                | JointKind::Plate(_)
        )
    })
}

/// The steps in stretches that make a chapter each.
fn stretches(case: &Case<'_>) -> Vec<Together> {
    let mut all: Vec<Together> = Vec::new();
    for (number, step) in case.sequence.steps.iter().enumerate() {
        let stage = stage(case, step);
        match all.last_mut() {
            Some(last) if last.groups.contains(&step.group) && last.stage == stage => last.steps.push(number),
            Some(last) if last.stage == stage && alike(case, &last.groups, step.group) => {
                last.groups.push(step.group);
                last.steps.push(number);
            }
            Some(last) => {
                let begins = !last.groups.contains(&step.group);
                all.push(Together { groups: vec![step.group], stage, begins, steps: vec![number] });
            }
            None => all.push(Together { groups: vec![step.group], stage, begins: true, steps: vec![number] }),
        }
    }
    all
}

/// Whether a sub-assembly is of one step, as others are, with a part of the same kind, glued as those are or dry as they are.
fn alike(case: &Case<'_>, groups: &[usize], other: usize) -> bool {
    let what = |group: usize| {
        let own = case.sequence.groups.get(group).filter(|own| own.steps.len() == 1)?;
        let step = case.sequence.steps.get(own.steps.start)?;
        Some((only(case, step)?.kind, step.glue_up.is_some()))
    };
    what(other).is_some_and(|other| groups.iter().all(|group| what(*group).as_ref() == Some(&other)))
}

/// Time, clamps and what swells of sub-assemblies, of several each by itself; their diagonals are jobs.
fn glue_told(case: &Case<'_>, groups: &[usize]) -> Vec<String> {
    let glue_ups = case.sequence.glue_ups.iter().filter(|glue_up| groups.contains(&glue_up.group));
    let mut told: Vec<String> = if groups.len() > 1 { vec!["each by itself".to_owned()] } else { Vec::new() };
    for line in glue_ups.flat_map(|glue_up| glue_up.spent(&case.design.shop.glue)) {
        if !told.contains(&line) {
            told.push(line);
        }
    }
    told
}

/// What is done once a sub-assembly is in its clamps.
fn closed(case: &Case<'_>, group: usize) -> Vec<Job> {
    let glue_ups = || case.sequence.glue_ups.iter().filter(|glue_up| glue_up.group == group);
    let measured = glue_ups().flat_map(|glue_up| &glue_up.diagonals).map(|diagonal| Job::from(capital(&measured(diagonal))));
    let mut jobs: Vec<Job> = measured.collect();
    if glue_ups().next().is_some() {
        let hours = find_glue(&case.design.shop.glue.family).map(|glue| [glue.clamped.0, glue.clamped.1].map(|hours| trimmed_to(hours, 1)));
        let hours = hours.map_or_else(String::new, |[least, most]| format!(", {least} to {most} h"));
        jobs.push(format!("What glue comes out taken off, then left in the clamps{hours}").into());
    }
    jobs
}

/// "both diagonals of 470 × 1456 measure 1530, within 0.8 of each other, 1.6 at most".
fn measured(diagonal: &Diagonal) -> String {
    let ([a, b], length) = (diagonal.sides.map(|side| trimmed_to(side, 0)), trimmed_to(diagonal.length, 1));
    let [aim, most] = diagonal.within.map(|mm| trimmed_to(mm, 1));
    format!("both diagonals of {a} × {b} measure {length}, within {aim} of each other, {most} at most")
}

fn begun(case: &Case<'_>, together: &Together) -> Chapter {
    let first = together.groups.first().copied().unwrap_or_default();
    let steps: Vec<&Step> = together.steps.iter().filter_map(|step| case.sequence.steps.get(*step)).collect();
    let title = capital(&case.sequence.title_of(case.model, &steps));
    let glue_ups: Vec<_> = case.sequence.glue_ups.iter().filter(|glue_up| together.begins && glue_up.group == first).collect();
    let mut told: Vec<String> = if together.begins && !glue_ups.is_empty() { glue_told(case, &together.groups) } else { Vec::new() };
    if glue_ups.iter().any(|glue_up| !glue_up.in_time()) {
        told.push("longer than the glue leaves: a second pair of hands, a slower glue, or more stages; try it against the clock without glue first".to_owned());
    }
    let cautions = if glue_ups.is_empty() { Vec::new() } else { case.cautions(&[About::Glue]) };
    let title = match together.stage {
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

/// What glue holds only after the finish.
fn kept_free(case: &Case<'_>) -> Option<Job> {
    let is_later = |id: &JointId| {
        let joint = case.model.joint(*id);
        [joint.a, joint.b].iter().any(|part| case.model.part(*part).stage != BuildStage::GlueUp)
    };
    let mut roles: Vec<&str> = Vec::new();
    for role in case
        .sequence
        .glue_ups
        .iter()
        .flat_map(|glue_up| &glue_up.joints)
        .filter(|id| is_later(id))
        .map(|id| case.model.joint(*id).role.words())
    {
        if !roles.contains(&role) {
            roles.push(role);
        }
    }
    (!roles.is_empty()).then(|| format!("No finish where glue comes after it: {}", roles.join(", ")).into())
}

/// The finish of what is together, and of what will lie loose in it.
fn finish(case: &Case<'_>) -> Chapter {
    let mut chapter = Chapter { title: "Finish".to_owned(), ..Chapter::default() };
    let coating = case.design.timber.coating;
    let litres = crate::takeoff::litres(case.design, case.model);
    let litres = litres.map(|litres| trimmed_to(litres.value, 1)).unwrap_or_default();
    let what = match case.design.timber.finish {
        Finish::Bare => {
            chapter.jobs.push("Scrape off what glue stands out, smooth all that is seen and break the arrises; it stays bare".into());
            return chapter;
        }
        Finish::Open | Finish::DryingOil | Finish::Film => case.design.timber.finish.stuff(),
    };
    chapter.jobs = vec![
        "Scrape off what glue stands out, smooth all that is seen and break the arrises".into(),
        format!("{} coats of {what}, about {litres} l in all; what goes in later gets it flat on the bench, all round", coating.coats)
            .into(),
    ];
    if let Some(kept) = kept_free(case) {
        chapter.jobs.push(kept);
    }
    if case.model.parts.iter().any(|part| part.kind == PartKind::Top) {
        chapter.jobs.push("The top as much below as above, so that both sides take up moisture alike".into());
    }
    chapter.cautions = case.cautions(&[About::OilyRags]);
    chapter
}
