//! `order`: the order of assembly, step by step.

use std::fmt::Write as _;
use std::process::ExitCode;

use casewright_core::cautions;
use casewright_core::length::trimmed_to;
use casewright_core::loads::{self, Lift};
use casewright_core::sentence::capital;
use casewright_core::sequence::{GlueUp, Sequence};
use casewright_core::{Design, Model};
use casewright_sheets::json;

use crate::arguments::Input;
use crate::commands::check::{count, one};
use crate::failure::Failure;
use crate::load::{self, Case};
use crate::output;

/// Ends with 1 when something can't be put in.
pub fn run(input: &Input, as_json: bool) -> Result<ExitCode, Failure> {
    let Case { design, model, solids } = load::case(input)?;
    let sequence = Sequence::of(&design, &model, &solids);
    let lifts = loads::lifts(&design, &model, &solids, &sequence);
    if as_json {
        output::print_json(&json::order(&design, &model, &sequence, &lifts))?;
    } else {
        output::print(&told(&design, &model, &sequence, &lifts))?;
    }
    Ok(if sequence.locked.is_empty() { ExitCode::SUCCESS } else { ExitCode::from(1) })
}

fn told(design: &Design, model: &Model, sequence: &Sequence, lifts: &[Lift]) -> String {
    let proof = if sequence.locked.is_empty() { "every move tried on the solids" } else { "but not all of it goes in" };
    let (steps, glue_ups) = (count(sequence.steps.len(), "step"), count(sequence.glue_ups.len(), "glue-up"));
    let left = if sequence.done.is_empty() { "" } else { " still to do" };
    let mut lines = vec![format!("{}: {steps}, {glue_ups}{left}; {proof}", model.name)];
    if !sequence.done.is_empty() {
        lines.extend([String::new(), "Glued already".to_owned()]);
        lines.extend(sequence.done.iter().map(|done| format!("       {}", done.words(model))));
    }
    for (index, group) in sequence.groups.iter().enumerate().filter(|(_, group)| !group.steps.is_empty()) {
        lines.extend([String::new(), capital(&group.title)]);
        let of_group = |glue_up: &&GlueUp| glue_up.group == index;
        lines.extend(
            sequence
                .glue_ups
                .iter()
                .filter(of_group)
                .flat_map(|glue_up| glue_up.told(&design.shop.glue))
                .map(|line| format!("       {line}")),
        );
        lines.extend(sequence.before(group.steps.start).map(|preparation| format!("       {}", preparation.words)));
        let steps = group.steps.clone().filter_map(|step| Some((step + 1, sequence.steps.get(step)?)));
        lines.extend(steps.map(|(number, step)| format!("  {number:>3}  {}{}", step.words, by_two(lifts, number - 1))));
    }
    let mut text = format!("{}\n", lines.join("\n"));
    for finding in casewright_core::sequence::findings(sequence, model, &design.shop.glue) {
        let _ = write!(text, "\n{}", one(model, &finding));
    }
    let cautions = cautions::cautions(design, model);
    if !cautions.is_empty() {
        text += "\nCautions\n";
    }
    for caution in cautions {
        let _ = writeln!(text, "  {}: {} ({}; {})", caution.about.word(), caution.words, caution.source, caution.how);
    }
    text
}

/// " (31 kg: two lift it)" where something of a step is too heavy for one.
fn by_two(lifts: &[Lift], step: usize) -> String {
    let heaviest = lifts.iter().filter(|lift| lift.step == Some(step)).map(|lift| lift.mass.kg).reduce(f64::max);
    heaviest.map_or_else(String::new, |kg| format!(" ({} kg: two lift it)", trimmed_to(kg, 0)))
}
