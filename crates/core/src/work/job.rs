//! Jobs with their boxes to tick, and how steps that are alike come together in one.

use super::Case;
use crate::model::{BuildStage, Part, PartKind};
use crate::sentence::inside;
use crate::sequence::Step;

/// What is done once and ticked, or to several things one after another, each with boxes of its own.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Job {
    /// What is done.
    pub words: String,
    /// To what, in its order; nothing where the words say it all.
    pub each: Vec<Each>,
}

/// A thing to which a job is done, or several to which it is done the same way.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Each {
    /// What they are called, with a box each; one without a name has one box.
    pub names: Vec<String>,
    /// What it is, or what is different with them.
    pub words: String,
}

impl Each {
    /// How many boxes there are to tick.
    pub fn boxes(&self) -> usize {
        self.names.len().max(1)
    }
}

impl Job {
    /// One that is done to several things, a box each; with only one it is a job by itself.
    pub(super) fn each(words: &str, things: impl IntoIterator<Item = String>) -> Option<Job> {
        let each: Vec<Each> = things.into_iter().map(|words| Each { words, ..Each::default() }).collect();
        match each.as_slice() {
            [] => None,
            [one] => Some(Job::from(format!("{words} {}", one.words))),
            _ => Some(Job { words: words.to_owned(), each }),
        }
    }

    /// How many boxes there are to tick.
    pub fn boxes(&self) -> usize {
        if self.each.is_empty() { 1 } else { self.each.iter().map(Each::boxes).sum() }
    }
}

impl From<String> for Job {
    fn from(words: String) -> Job {
        Job { words, each: Vec::new() }
    }
}

impl From<&str> for Job {
    fn from(words: &str) -> Job {
        Job::from(words.to_owned())
    }
}

/// When what a step moves goes in: the latest of its parts.
pub(super) fn stage(case: &Case<'_>, step: &Step) -> BuildStage {
    let parts = step.moves.iter().flat_map(|moved| &moved.parts);
    parts.map(|id| case.model.part(*id).stage).max().unwrap_or(BuildStage::GlueUp)
}

/// The only part that a step moves besides what is mounted on it.
pub(super) fn only<'c>(case: &Case<'c>, step: &Step) -> Option<&'c Part> {
    let parts = step.moves.iter().flat_map(|moved| &moved.parts).map(|id| case.model.part(*id));
    let mut parts = parts.filter(|part| !part.kind.is_mounted());
    let first = parts.next()?;
    parts.next().is_none().then_some(first)
}

/// A step, with that before it which puts loose tenons or dowels into its part.
struct Line {
    /// Counted from 1.
    steps: (usize, usize),
    /// What it is all in one.
    words: String,
    /// Where it could stand among others that are done the same way.
    alike: Option<Alike>,
}

/// A step cut at the name of what it moves.
struct Alike {
    kind: PartKind,
    mark: String,
    /// "glue 2 loose tenons into each, then spread glue and push it", "bring each".
    head: String,
    /// "bay 3, back right".
    name: String,
    /// "to the back, then up and screw it to right rail, top; top".
    rest: String,
}

/// The jobs of steps that follow each other: those that do the same to parts of a kind are one.
pub(super) fn jobs(case: &Case<'_>, steps: &[usize], more: impl Fn(usize) -> String) -> Vec<Job> {
    let lines = lines(case, steps, more);
    let same = |a: &Line, b: &Line| match (&a.alike, &b.alike) {
        (Some(a), Some(b)) => a.kind == b.kind && a.head == b.head,
        (Some(_) | None, _) => false,
    };
    lines.chunk_by(same).map(job).collect()
}

fn job(lines: &[Line]) -> Job {
    let (Some(first), Some(last)) = (lines.first(), lines.last()) else { return Job::from("") };
    let numbers = if first.steps.0 == last.steps.1 { first.steps.0.to_string() } else { format!("{}–{}", first.steps.0, last.steps.1) };
    let alike: Vec<&Alike> = lines.iter().filter_map(|line| line.alike.as_ref()).collect();
    let Some(one) = alike.first().filter(|_| lines.len() > 1) else { return Job::from(format!("{numbers}. {}", first.words)) };
    // One mark for all of them stands before them, else each has its own.
    let of_one_mark = alike.iter().all(|it| it.mark == one.mark);
    let name = |it: &&Alike| if of_one_mark { it.name.clone() } else { format!("{} ({})", it.name, it.mark) };
    let mark = if of_one_mark { format!(" ({})", one.mark) } else { String::new() };
    let head = format!("{numbers}. {} {}{mark}: {}", lines.len(), inside(one.kind.words().1), one.head);
    let names = |same: &[&Alike]| same.iter().map(name).collect();
    if alike.iter().all(|it| it.rest == one.rest) {
        let each = vec![Each { names: names(&alike), words: String::new() }];
        return Job { words: format!("{head} {}", one.rest), each };
    }
    let each = alike.chunk_by(|a, b| a.rest == b.rest).map(|same| {
        let words = same.first().map(|it| it.rest.clone()).unwrap_or_default();
        Each { names: names(same), words }
    });
    Job { words: head, each: each.collect() }
}

fn lines(case: &Case<'_>, steps: &[usize], more: impl Fn(usize) -> String) -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::new();
    // What was put into the part of the step that follows.
    let mut mounted: Option<(usize, String)> = None;
    for (at, number) in steps.iter().enumerate() {
        let Some(step) = case.sequence.steps.get(*number) else { continue };
        let next = steps.get(at + 1).and_then(|next| case.sequence.steps.get(*next));
        if next.is_some_and(|next| mounts_on(case, step, next)) && mounted.is_none() {
            mounted = Some((*number, step.words.clone()));
            continue;
        }
        lines.push(line(case, step, *number, mounted.take().as_ref(), &more(*number)));
    }
    lines
}

/// Whether a step only puts loose parts into what the next one moves.
fn mounts_on(case: &Case<'_>, step: &Step, next: &Step) -> bool {
    let goes_on = |onto| next.moves.iter().any(|moved| moved.parts.contains(&onto));
    let loose = step.moves.iter().all(|moved| moved.parts.iter().all(|id| case.model.part(*id).kind.is_mounted()) && goes_on(moved.onto));
    loose && only(case, next).is_some()
}

fn line(case: &Case<'_>, step: &Step, number: usize, mounted: Option<&(usize, String)>, more: &str) -> Line {
    let part = only(case, step).filter(|_| step.moves.len() == 1);
    let named = part.map(|part| format!("the {} ", inside(&part.title)));
    let split = named.as_ref().and_then(|named| step.words.split_once(named.as_str()));
    let first = mounted.map_or(number, |(number, _)| *number) + 1;
    let words = match (mounted, split) {
        (None, Some((before, after))) => {
            let (title, mark) = part.map_or(("", ""), |part| (part.title.as_str(), part.mark.as_str()));
            format!("{before}the {} ({mark}) {after}{more}", inside(title))
        }
        (None, None) => format!("{}{more}", step.words),
        (Some((_, loose)), Some((before, after))) => {
            let mark = part.map_or("", |part| part.mark.as_str());
            format!("{loose} ({mark}), then {}it {after}{more}", inside(before))
        }
        (Some((_, loose)), None) => format!("{loose}; {}{more}", inside(&step.words)),
    };
    let alike = part.zip(split).and_then(|(part, (before, after))| {
        let name = inside(&part.title).strip_prefix(&inside(part.kind.words().0))?.trim_start_matches([' ', ',']).to_owned();
        let head = match mounted {
            Some((_, loose)) => format!("{} into each, then {}it", inside(loose.split_once(" into ")?.0), inside(before)),
            None => format!("{}each", inside(before)),
        };
        Some(Alike { kind: part.kind, mark: part.mark.clone(), head, name, rest: format!("{after}{more}") })
    });
    Line { steps: (first, number + 1), words, alike }
}
