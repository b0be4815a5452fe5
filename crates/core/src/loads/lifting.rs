//! What is too heavy for one person to lift.

use super::standing::{Weight, weigh};
use crate::design::Design;
use crate::inspect::{Figure, Finding, Rule, Seriousness};
use crate::length::trimmed_to;
use crate::model::{BuildStage, Model, PartId};
use crate::sequence::{Group, Sequence};
use crate::shapes::{Mass, Solids};
use crate::worked::Worked;

/// A step of the order of assembly in which something is lifted that is too heavy for one, or the finished case itself.
#[derive(Clone, Debug, PartialEq)]
pub struct Lift {
    /// The step, by its place in [`Sequence::steps`]; none for the case when it is done.
    pub step: Option<usize>,
    /// What it is called.
    pub what: String,
    /// The parts that are lifted.
    pub parts: Vec<PartId>,
    /// What they weigh, and where that acts.
    pub mass: Mass,
    /// The same, kg, with what it is of.
    pub kg: Worked,
}

impl Lift {
    /// What is said beside its mass where two are too few for it, each lifting no more than one does: ": for 4 people, or on wheels".
    pub fn too_heavy_for_two(&self, design: &Design) -> String {
        let people = (self.mass.kg / design.limits.lift).ceil();
        if people > 2.0 { format!(": for {people} people, or on wheels") } else { String::new() }
    }
}

/// Where the limit of one person comes from.
const SOURCE: &str = "23 kg: the load constant of the NIOSH lifting equation, 51 lb in ideal conditions (read); a real lift allows less";

/// Everything of an order of assembly that is heavier than one lifts, from the first step to the last; then the empty case, its loose parts
/// taken out.
pub fn lifts(design: &Design, model: &Model, solids: &Solids, sequence: &Sequence) -> Vec<Lift> {
    let mut found = Vec::new();
    for (index, step) in sequence.steps.iter().enumerate() {
        for moved in &step.moves {
            let what = match &moved.parts[..] {
                [part] => model.part(*part).title.clone(),
                parts => group_of(sequence, parts).map_or_else(|| format!("{} parts", parts.len()), str::to_owned),
            };
            found.extend(heavy(design, model, solids, Some(index), what, &moved.parts));
        }
    }
    let fast: Vec<PartId> = model.parts.iter().filter(|part| part.stage != BuildStage::Loose).map(|part| part.id).collect();
    found.extend(heavy(design, model, solids, None, "the empty case".to_owned(), &fast));
    found
}

fn group_of<'s>(sequence: &'s Sequence, parts: &[PartId]) -> Option<&'s str> {
    let same = |group: &&Group| group.parts.len() == parts.len() && parts.iter().all(|part| group.parts.contains(part));
    // What is glued together already is in no group of its own; loose tenons may have been put into it.
    let done = || sequence.done.iter().find(|done| done.parts.iter().all(|part| parts.contains(part))).map(|done| done.title.as_str());
    sequence.groups.iter().find(same).map(|group| group.title.as_str()).or_else(done)
}

fn heavy(design: &Design, model: &Model, solids: &Solids, step: Option<usize>, what: String, parts: &[PartId]) -> Option<Lift> {
    let Weight { masses, timber, .. } = weigh(model, solids, parts.iter().map(|part| model.part(*part)));
    let mass = Mass::together(masses)?;
    let kg = Worked::by("mass", mass.kg, "kg", ("all that is lifted together", "arithmetic"), timber);
    (mass.kg > design.limits.lift).then(|| Lift { step, what, parts: parts.to_vec(), mass, kg })
}

/// A note of what two must lift; nothing where one lifts all.
pub fn lift_findings(design: &Design, lifts: &[Lift]) -> Vec<Finding> {
    let Some(heaviest) = lifts.iter().max_by(|a, b| a.mass.kg.total_cmp(&b.mass.kg)) else { return Vec::new() };
    let told = |lift: &Lift| format!("{} ({} kg{})", lift.what, trimmed_to(lift.mass.kg, 0), lift.too_heavy_for_two(design));
    let mut words: Vec<String> = lifts.iter().map(told).collect();
    words.dedup();
    vec![Finding {
        rule: Rule::Lift,
        seriousness: Seriousness::Note,
        parts: heaviest.parts.clone(),
        explains: Vec::new(),
        joint: None,
        place: Some(heaviest.mass.centre),
        figures: vec![
            Figure::new("heaviest", heaviest.mass.kg, "kg").because(heaviest.kg.clone()),
            Figure::new("one person lifts", design.limits.lift, "kg"),
        ],
        message: format!("Two lift what is over {} kg: {}", trimmed_to(design.limits.lift, 1), words.join(", ")),
        source: SOURCE,
        remedies: Vec::new(),
    }]
}
