//! `explain`: where the sizes of a part come from, its cuts and its joints.

use std::process::ExitCode;

use casewright_core::Model;
use casewright_core::model::{Joint, Part};

use crate::arguments::Input;
use crate::commands::check::count;
use crate::failure::Failure;
use crate::load::{self, Case};
use crate::output;

/// Prints what is known of a part.
pub fn run(input: &Input, wanted: &str) -> Result<ExitCode, Failure> {
    let Case { model, .. } = load::case(input)?;
    let found = find(&model, wanted);
    let Some(part) = found.first() else {
        return Err(Failure::told(format!("{}: there is no part \"{wanted}\"; {}", input.file.display(), near(&model, wanted))));
    };
    output::print(&told(&model, part, &found[1..]))?;
    Ok(ExitCode::SUCCESS)
}

/// The part of that name; else all of that mark; else all of that title.
fn find<'m>(model: &'m Model, wanted: &str) -> Vec<&'m Part> {
    let all = |is: &dyn Fn(&Part) -> bool| model.parts.iter().filter(|part| is(part)).collect::<Vec<_>>();
    let ways: [&dyn Fn(&Part) -> bool; 3] =
        [&|part| part.name == wanted, &|part| part.mark.eq_ignore_ascii_case(wanted), &|part| part.title.eq_ignore_ascii_case(wanted)];
    ways.into_iter().map(all).find(|found| !found.is_empty()).unwrap_or_default()
}

/// The three names or marks that are nearest to what was asked for.
fn near(model: &Model, wanted: &str) -> String {
    let wanted = wanted.to_lowercase();
    let mut names: Vec<(f64, &str)> = Vec::new();
    for name in model.parts.iter().flat_map(|part| [part.name.as_str(), part.mark.as_str()]) {
        if !names.iter().any(|(_, known)| *known == name) {
            names.push((strsim::jaro_winkler(&name.to_lowercase(), &wanted), name));
        }
    }
    names.sort_by(|a, b| b.0.total_cmp(&a.0));
    let nearest: Vec<_> = names.iter().take(3).map(|(_, name)| *name).collect();
    format!("near to it are {}; `parts` lists all", nearest.join(", "))
}

fn told(model: &Model, part: &Part, alike: &[&Part]) -> String {
    let mut lines = vec![
        format!("{} ({})", part.title, part.name),
        format!("mark {}, {}, {} mm, {}", part.mark, part.material.name(), part.size_text(), part.stage.words()),
        format!("grain {}", part.material.grain()),
    ];
    if !alike.is_empty() {
        let names: Vec<_> = alike.iter().map(|part| part.name.as_str()).collect();
        lines.push(format!("{} like it: {}", alike.len(), names.join(", ")));
    }
    lines.extend([String::new(), "Sizes, mm".to_owned()]);
    for size in &part.size {
        lines.extend(size.explain().iter().map(|line| format!("  {line}")));
        let decisions = size.decisions();
        if !decisions.is_empty() {
            lines.push(format!("    rests on {}", decisions.join(", ")));
        }
    }
    lines.extend([String::new(), heading(part.cuts.len(), "cut", "from face side, face edge and first end, mm")]);
    lines.extend(part.cuts.iter().map(|cut| format!("  {}: {}", cut.feature.name(), cut.feature.describe())));
    let joints: Vec<&Joint> = model.joints_of(part.id).collect();
    lines.extend([String::new(), heading(joints.len(), "joint", "")]);
    lines.extend(joints.iter().map(|joint| format!("  {}", joint_line(model, part, joint))));
    format!("{}\n", lines.join("\n"))
}

fn heading(number: usize, word: &str, how: &str) -> String {
    match (number, how) {
        (0, _) => format!("No {word}s"),
        (_, "") => count(number, word),
        (_, how) => format!("{}, {how}", count(number, word)),
    }
}

fn joint_line(model: &Model, part: &Part, joint: &Joint) -> String {
    let (a, b) = (model.part(joint.a), model.part(joint.b));
    let with = if joint.a == part.id {
        format!("with {} ({})", b.title, b.mark)
    } else if joint.b == part.id {
        format!("with {} ({})", a.title, a.mark)
    } else {
        format!("between {} ({}) and {} ({})", a.title, a.mark, b.title, b.mark)
    };
    let glued = if joint.glued { ", glued" } else { "" };
    format!("{}, {with}: {}{glued}", joint.role.words(), joint.kind.describe())
}
