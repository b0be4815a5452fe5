//! Marking out, and the joinery by its set-up cards.

use super::stock::marks;
use super::{Case, Chapter, Each, Job};
use crate::cautions::About;
use crate::cutlist::Row;
use crate::design::shop::State;
use crate::length::trimmed;
use crate::mirrored::pairs;
use crate::model::{Feature, Material, Part, PartKind};
use crate::setup::{Setup, Work, setups};

/// Marks, mirrored pairs, and what is marked out together.
pub(super) fn marked_out(case: &Case<'_>) -> Chapter {
    let mut chapter = Chapter { title: "Marking out".to_owned(), ..Chapter::default() };
    let to_mark = |row: &&Row| row.parts.iter().any(|id| is_to_mark(case.model.part(*id)));
    let rows: Vec<&Row> = case.list.rows.iter().filter(to_mark).collect();
    if rows.is_empty() {
        return chapter;
    }
    chapter.jobs.push("Stick a label or write the mark on every part, with a loop for the face side and a stroke for the face edge".into());
    let mut clamped = Vec::new();
    for (index, row) in rows.iter().enumerate().filter(|(_, row)| has_lengths(case, row)) {
        let alike =
            |other: &&&Row| other.kind == row.kind && has_lengths(case, other) && (other.finished[0] - row.finished[0]).abs() < 0.05;
        let first = rows.iter().position(|other| alike(&other)) == Some(index);
        let together: Vec<&Row> = rows.iter().filter(alike).copied().collect();
        let pieces: usize = together.iter().map(|row| row.parts.len()).sum();
        if first && pieces > 1 {
            clamped.push(marks(together));
        }
    }
    chapter.jobs.extend(Job::each("Clamp together and mark the lengths across all at once:", clamped));
    let mut mirrored = Vec::new();
    for pair in pairs(case.model, &case.list.rows) {
        if let Some((other, way)) = pair.mirror.filter(|_| rows.iter().any(|row| row.mark == pair.row.mark)) {
            mirrored.push(format!("{} and {}, {}", pair.row.mark, other.mark, way.words()));
        }
    }
    chapter.jobs.extend(Job::each("Lay beside each other, a mirrored pair:", mirrored));
    chapter
}

/// Whether cuts are marked out along its length: mortises, holes, housings and stopped grooves in a side or an edge.
fn has_lengths(case: &Case<'_>, row: &Row) -> bool {
    let Some(part) = row.parts.first().map(|id| case.model.part(*id)) else { return false };
    part.cuts.iter().any(|cut| match &cut.feature {
        Feature::Mortise { face, .. } | Feature::Recess { face, .. } | Feature::Hole { face, .. } => face.axis() != 0,
        Feature::HoleRow { .. } | Feature::Housing(_) | Feature::Lap { .. } => true,
        Feature::Groove { through, .. } => through.contains(&false),
        Feature::Tenon { .. }
        | Feature::Fork { .. }
        | Feature::Notch { .. }
        | Feature::Rabbet { .. }
        | Feature::Bevel { .. }
        | Feature::Teeth { .. }
        | Feature::HalfRounds { .. }
        | Feature::RoundEdges
        | Feature::RoundEnds
        | Feature::EdgeRabbet(_)
        | Feature::Tail(_)
        | Feature::EndGap(_)
        | Feature::Socket(_)
        | Feature::EdgeRound(_)
        | Feature::EdgeChamfer(_)
        | Feature::Taper(_) => false,
    })
}

/// What is still to be cut, and is marked out by its lengths.
fn is_to_mark(part: &Part) -> bool {
    let uncut = matches!(part.state, State::Planned | State::Roughed);
    uncut && !part.cuts.is_empty() && !of_length(part.kind) && !matches!(part.material, Material::Bought(_))
}

fn of_length(kind: PartKind) -> bool {
    matches!(kind, PartKind::LooseTenon | PartKind::Dowel | PartKind::Shim)
}

/// The set-up cards, each with its title and its number and marks: those of pilot holes, which are bored when what is screwed on lies in its place, or all others.
fn cards(case: &Case<'_>, pilots: bool) -> Vec<(String, Each)> {
    let setups = setups(case.design, case.model).into_iter().enumerate();
    let of_these = setups.filter(|(_, setup)| (setup.setting.work == Work::Pilot) == pilots);
    let card = |(number, setup): (usize, Setup)| {
        let mut of: Vec<&str> = setup.cuts.iter().map(|on| on.mark.as_str()).collect();
        of.dedup();
        (setup.title(), Each { words: format!("card {}: {}", number + 1, of.join(", ")), ..Each::default() })
    };
    of_these.map(card).collect()
}

/// Pilot holes, where something is screwed on.
pub(super) fn pilots(case: &Case<'_>) -> Vec<Job> {
    let job = |(title, card): (String, Each)| {
        Job::from(format!("{title}; {}: each through what is screwed on, as it lies in its place", card.words))
    };
    cards(case, true).into_iter().map(job).collect()
}

/// A box a set-up card; those of one tool and cutter together.
pub(super) fn joined(case: &Case<'_>) -> Chapter {
    let cards = cards(case, false);
    let job = |cards: &[(String, Each)]| match cards {
        [(title, one)] => Job::from(format!("{title}; {}", one.words)),
        _ => Job {
            words: cards.first().map(|(title, _)| format!("{title}:")).unwrap_or_default(),
            each: cards.iter().map(|(_, each)| each.clone()).collect(),
        },
    };
    let jobs: Vec<Job> = cards.chunk_by(|a, b| a.0 == b.0).map(job).collect();
    let told = out_of_reach(case);
    // Of stopped grooves only while any are to be cut.
    let cautions = if jobs.is_empty() { Vec::new() } else { case.cautions(&[About::StoppedCuts]) };
    Chapter { title: "Joinery, by the set-up cards".to_owned(), told, jobs, cautions }
}

/// Cuts that no tool gets at any more after glue-up.
fn out_of_reach(case: &Case<'_>) -> Vec<String> {
    let mut found: Vec<(&'static str, u32, Vec<&str>)> = Vec::new();
    for reach in case.sequence.reach.iter().filter(|reach| reach.blocked.is_some() && !reach.late) {
        let mark = case.model.part(reach.part).mark.as_str();
        let known = found.iter().position(|(work, ..)| *work == reach.work.words());
        let at = known.unwrap_or(found.len());
        if known.is_none() {
            found.push((reach.work.words(), 0, Vec::new()));
        }
        if let Some((_, count, marks)) = found.get_mut(at) {
            *count += reach.count;
            if !marks.contains(&mark) {
                marks.push(mark);
            }
        }
    }
    let place = |mark: &&str| case.list.rows.iter().position(|row| row.mark == **mark);
    let told = found.into_iter().map(|(work, count, mut marks)| {
        marks.sort_by_key(place);
        let (s, them) = if count == 1 { ("", "it") } else { ("s", "them") };
        format!("Not to be put off: after glue-up no tool here reaches {count} {work}{s} in {}; cut {them} now", marks.join(", "))
    });
    told.collect()
}

/// Loose tenons and dowels, and whatever else comes out of lengths.
pub(super) fn loose_parts(case: &Case<'_>) -> Chapter {
    let uncut = |row: &&Row| {
        of_length(row.kind) && row.parts.iter().any(|id| matches!(case.model.part(*id).state, State::Planned | State::Roughed))
    };
    let rows: Vec<&Row> = case.list.rows.iter().filter(uncut).collect();
    let jobs = rows.iter().map(|row| {
        let [length, width, thickness] = row.finished.map(trimmed);
        let notes = if row.notes.is_empty() { String::new() } else { format!("; {}", row.notes.join("; ")) };
        Job::from(format!("{} × {}, {length} × {width} × {thickness}{notes}", row.parts.len(), row.mark))
    });
    let tenons = rows.iter().any(|row| row.kind == PartKind::LooseTenon);
    let told = tenons.then(|| {
        "Plane a length until it goes into its mortise by hand and stands there by itself, round its edges, then crosscut".to_owned()
    });
    Chapter { title: "Loose tenons, dowels".to_owned(), told: told.into_iter().collect(), jobs: jobs.collect(), cautions: Vec::new() }
}
