//! Glue-ups that take longer than their glue stays open, and what mends all of them at once. Each remedy is tried before it is offered.

use super::glue_up::stages;
use super::{GlueUp, Sequence};
use crate::design::{Glue, GlueStages, Gluing, OpenTime, find_glue, glues};
use crate::inspect::{Figure, Finding, Remedy, Rule, Seriousness};
use crate::length::trimmed_to;
use crate::model::{Model, PartId};
use crate::sentence::inside;

/// The least share of the time a joint takes to which another pair of hands brings it down: half (common practice, no source).
const WITH_A_HELPER: f64 = 0.5;

/// One finding for all glue-ups that take too long.
pub(super) fn of_time(sequence: &Sequence, model: &Model, gluing: &Gluing) -> Option<Finding> {
    let over: Vec<&GlueUp> = sequence.glue_ups.iter().filter(|glue_up| !glue_up.in_time()).collect();
    // Of those that take as long the last, which is the largest.
    let worst = over.iter().copied().reduce(|worst, other| if other.seconds >= worst.seconds { other } else { worst })?;
    let whole = Whole::of(sequence);
    let mut parts: Vec<PartId> = Vec::new();
    for glue_up in std::iter::once(&worst).chain(&over) {
        let mut own: Vec<PartId> = glue_up.joints.iter().flat_map(|id| [model.joint(*id).a, model.joint(*id).b]).collect();
        own.sort_unstable();
        own.retain(|part| !parts.contains(part));
        own.dedup();
        parts.extend(own);
    }
    let first = worst.joints.first().map(|id| model.joint(*id));
    Some(Finding {
        rule: Rule::GlueTime,
        seriousness: Seriousness::AtRisk,
        parts,
        explains: Vec::new(),
        joint: first.map(|joint| joint.id),
        place: first.map(|joint| joint.contact.centre),
        figures: vec![
            Figure::count("joints", worst.joints.len() as u32),
            Figure::new("takes", worst.seconds, "s"),
            Figure::new("may take", worst.allowed, "s"),
            Figure::count("glue-ups", over.len() as u32),
        ],
        message: message(worst, over.len(), &whole, sequence, gluing),
        source: "joints times seconds against 0.7 of the open time: common practice, no source; open times as the table of glues says",
        remedies: remedies(&whole, gluing),
    })
}

fn seconds(value: f64) -> String {
    trimmed_to(value, 0)
}

fn title(sequence: &Sequence, group: usize) -> &str {
    sequence.groups.get(group).map_or("", |group| group.title.as_str())
}

fn message(worst: &GlueUp, over: usize, whole: &[Whole], sequence: &Sequence, gluing: &Gluing) -> String {
    let stage = if worst.stage.1 > 1 { format!(", stage {}", worst.stage.0) } else { String::new() };
    let takes = format!(
        "Gluing the {}{stage}: {} joints at {} s take {} s, and the glue leaves {} s ({} min open, {} % of it to be safe)",
        title(sequence, worst.group),
        worst.joints.len(),
        seconds(gluing.seconds),
        seconds(worst.seconds),
        seconds(worst.allowed),
        trimmed_to(gluing.open_minutes(), 1),
        seconds(gluing.share * 100.0)
    );
    let others = match over {
        0 | 1 => String::new(),
        2 => "; 1 more glue-up takes too long".to_owned(),
        more => format!("; {} more glue-ups take too long", more - 1),
    };
    // A split can't part what closes with one part.
    let most = whole.iter().reduce(|most, other| if other.at_once() >= most.at_once() { other } else { most });
    let no_split = most.filter(|most| !most.in_stages(&split(gluing))).map(|most| {
        let (title, at_once) = (title(sequence, most.group), most.at_once());
        let takes = seconds(at_once as f64 * gluing.seconds);
        format!("; no split gets within that, for in the {title} {at_once} joints close at once, {takes} s")
    });
    format!("{takes}{others}{}", no_split.unwrap_or_default())
}

/// What is glued in one go if it is not split: how many joints close at each of its steps.
struct Whole {
    group: usize,
    closing: Vec<usize>,
}

impl Whole {
    /// All of a sequence; its stages are put together again.
    fn of(sequence: &Sequence) -> Vec<Whole> {
        let mut all: Vec<Whole> = Vec::new();
        for glue_up in &sequence.glue_ups {
            match all.last_mut().filter(|_| glue_up.stage.0 > 1) {
                Some(whole) => whole.closing.extend(&glue_up.closing),
                None => all.push(Whole { group: glue_up.group, closing: glue_up.closing.clone() }),
            }
        }
        all
    }

    /// The most joints that one step closes.
    fn at_once(&self) -> usize {
        self.closing.iter().copied().max().unwrap_or(0)
    }

    /// How long each of its stages takes, seconds.
    fn takes(&self, gluing: &Gluing) -> impl Iterator<Item = f64> {
        let seconds = gluing.seconds;
        let joints: Vec<usize> = stages(gluing, &self.closing).into_iter().map(|stage| self.closing[stage].iter().sum()).collect();
        joints.into_iter().map(move |joints| joints as f64 * seconds)
    }

    fn in_stages(&self, gluing: &Gluing) -> bool {
        self.takes(gluing).all(|takes| takes <= gluing.allowed_seconds() + 1e-9)
    }
}

/// The same glue and hands, as many stages as it takes.
fn split(gluing: &Gluing) -> Gluing {
    Gluing { stages: GlueStages::WithinOpenTime, ..gluing.clone() }
}

/// The same with a family whose open time is that of the table.
fn with_glue(gluing: &Gluing, glue: &Glue) -> Gluing {
    Gluing { family: glue.id.clone(), open_by: OpenTime::FromTable, ..gluing.clone() }
}

/// What brings every glue-up within the open time: more stages, a glue that stays open longer, both, or another pair of hands.
fn remedies(whole: &[Whole], gluing: &Gluing) -> Vec<Remedy> {
    let in_time = |tried: &Gluing| whole.iter().all(|whole| whole.in_stages(tried));
    let splits = gluing.stages == GlueStages::Few;
    let mut remedies = Vec::new();
    if splits && in_time(&split(gluing)) {
        remedies.push(Remedy { words: split_words(whole, &split(gluing)), changes: changes(gluing, &split(gluing)) });
    }
    let mut slower = slower(gluing, &in_time);
    if slower.is_empty() && splits {
        slower = self::slower(&split(gluing), &in_time);
        for (words, _) in &mut slower {
            *words = format!("Split them, and {}", inside(words));
        }
    }
    remedies.extend(slower.into_iter().map(|(words, tried)| Remedy { words, changes: changes(gluing, &tried) }));
    if !in_time(&split(gluing)) {
        remedies.extend(with_a_helper(whole, gluing));
    }
    if remedies.is_empty() {
        remedies.extend(fewer_seconds(whole, gluing));
    }
    remedies
}

/// Where no glue stays open so long: how long a joint may take with the one that stays open longest, and with this one.
fn fewer_seconds(whole: &[Whole], gluing: &Gluing) -> Vec<Remedy> {
    let at_once = whole.iter().map(Whole::at_once).max().unwrap_or(1).max(1);
    let most = |gluing: &Gluing| (gluing.allowed_seconds() / at_once as f64).floor();
    let told = |words: String| Remedy { words, changes: Vec::new() };
    let longest = glues().iter().max_by(|a, b| a.open.1.total_cmp(&b.open.1));
    let with_longest = longest.map(|glue| {
        let open = Gluing { open_by: OpenTime::Own, own_open: glue.open.1, ..split(gluing) };
        told(format!(
            "No glue of the table stays open so long: {}, the longest, {} min, leaves {} s for each of the {at_once} joints that close at once",
            inside(&glue.name),
            trimmed_to(glue.open.1, 0),
            seconds(most(&open))
        ))
    });
    let this = told(format!("With this glue a joint may take {} s at most, split in stages", seconds(most(&split(gluing)))));
    with_longest.into_iter().chain([this]).collect()
}

fn split_words(whole: &[Whole], split: &Gluing) -> String {
    let most = whole.iter().map(|whole| stages(split, &whole.closing).len()).max().unwrap_or(1);
    let many = whole.iter().filter(|whole| stages(split, &whole.closing).len() > 1).count();
    match many {
        0 | 1 => format!("Split it, in {most} stages, each within the open time"),
        _ => format!("Split them, in up to {most} stages, each within the open time"),
    }
}

/// Glues that stay open long enough: the same family where its tin may say so, and the first of the table that does by itself.
fn slower(gluing: &Gluing, in_time: &dyn Fn(&Gluing) -> bool) -> Vec<(String, Gluing)> {
    let mut found = Vec::new();
    let own = |minutes: f64| Gluing { open_by: OpenTime::Own, own_open: minutes, ..gluing.clone() };
    // Open times are told in minutes; the longest that any glue has is two hours.
    let Some(minutes) = (1..=MOST_MINUTES).map(f64::from).find(|minutes| *minutes > gluing.open_minutes() && in_time(&own(*minutes)))
    else {
        return found;
    };
    let same = find_glue(&gluing.family);
    if let Some(glue) = same.filter(|glue| glue.open.1 >= minutes) {
        let words = format!("Take {} whose tin says {} min open or longer", inside(&glue.name), trimmed_to(minutes, 0));
        found.push((words, own(minutes)));
    }
    let enough = |glue: &&Glue| same != Some(*glue) && in_time(&with_glue(gluing, glue));
    let by_its_tin = |glue: &&Glue| same != Some(*glue) && glue.open.1 >= minutes;
    if let Some(glue) = glues().iter().filter(enough).min_by(|a, b| a.open.0.total_cmp(&b.open.0)) {
        let words = format!(
            "Take a glue that stays open {} min or longer: {}, {} min",
            trimmed_to(minutes, 0),
            inside(&glue.name),
            trimmed_to(glue.open.0, 1)
        );
        found.push((words, with_glue(gluing, glue)));
    } else if let Some(glue) = glues().iter().filter(by_its_tin).min_by(|a, b| a.open.1.total_cmp(&b.open.1)) {
        let words = format!("Take {} whose tin says {} min open or longer", inside(&glue.name), trimmed_to(minutes, 0));
        found.push((words, Gluing { family: glue.id.clone(), ..own(minutes) }));
    }
    found
}

/// The longest open time of any glue, minutes.
const MOST_MINUTES: u32 = 120;

/// Less time a joint, as far as another pair of hands brings it; split where that alone is not enough.
fn with_a_helper(whole: &[Whole], gluing: &Gluing) -> Option<Remedy> {
    [gluing.clone(), split(gluing)].into_iter().find_map(|tried| {
        let least = (gluing.seconds * WITH_A_HELPER).ceil().max(1.0) as u32;
        let quicker = |seconds: u32| Gluing { seconds: f64::from(seconds), ..tried.clone() };
        let works = |tried: &Gluing| whole.iter().all(|whole| whole.in_stages(tried));
        let seconds = (least..gluing.seconds.ceil() as u32).rev().find(|seconds| works(&quicker(*seconds)))?;
        let split = if tried.stages == gluing.stages { "" } else { ", and split it" };
        let words = format!("Spread with a helper, so that a joint takes {seconds} s or less{split}");
        Some(Remedy { words, changes: changes(gluing, &quicker(seconds)) })
    })
}

/// The decisions in which two ways of gluing differ, as they are set.
fn changes(from: &Gluing, to: &Gluing) -> Vec<(String, String)> {
    let mut changes = Vec::new();
    let mut set = |name: &str, value: String| changes.push((format!("shop.glue.{name}"), value));
    if from.open_by != to.open_by {
        let word = match to.open_by {
            OpenTime::FromTable => "from_table",
            OpenTime::Own => "own",
        };
        set("open_by", word.to_owned());
    }
    if from.family != to.family {
        set("family", to.family.clone());
    }
    if to.open_by == OpenTime::Own && (from.open_by != to.open_by || from.own_open < to.own_open) {
        set("own_open", trimmed_to(to.own_open, 1));
    }
    if from.seconds > to.seconds {
        set("seconds", trimmed_to(to.seconds, 1));
    }
    if from.stages != to.stages {
        set("stages", "within_open_time".to_owned());
    }
    changes
}
