//! `explain`: where the sizes of a part come from, its cuts and its joints.

use std::process::ExitCode;

use casewright_core::design::{Dimension, Season};
use casewright_core::length::trimmed_to;
use casewright_core::model::{Joint, Part, PartKind};
use casewright_core::seasons::{HeldTop, overhangs};
use casewright_core::timber::{Movement, Rates};
use casewright_core::worked::Worked;
use casewright_core::{Design, Model};

use crate::arguments::Input;
use crate::commands::check::count;
use crate::failure::Failure;
use crate::find;
use crate::load::{self, Case};
use crate::output;

/// Prints what is known of a part.
pub fn run(input: &Input, wanted: &str) -> Result<ExitCode, Failure> {
    let Case { design, model, .. } = load::case(input)?;
    if let [part, alike @ ..] = find::parts(input, &model, wanted)?.as_slice() {
        output::print(&told(&design, &model, part, alike))?;
    }
    Ok(ExitCode::SUCCESS)
}

fn told(design: &Design, model: &Model, part: &Part, alike: &[&Part]) -> String {
    let mut lines = vec![
        format!("{} ({})", part.title, part.name),
        format!(
            "mark {}, {}, {} mm, {}, {}",
            part.mark,
            model.timbers.name(&part.material),
            part.size_text(),
            part.state.word(),
            part.stage.words()
        ),
        format!("grain {}", model.timbers.grain(&part.material)),
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
    lines.extend(moves(design, model, part));
    lines.extend([String::new(), heading(part.cuts.len(), "cut", "from face side, face edge and first end, mm")]);
    lines.extend(part.cuts.iter().map(|cut| format!("  {}: {}", cut.feature.name(), cut.describe())));
    let joints: Vec<&Joint> = model.joints_of(part.id).collect();
    lines.extend([String::new(), heading(joints.len(), "joint", "")]);
    for joint in joints {
        lines.push(format!("  {}", joint_line(model, part, joint)));
        lines.extend(joint.kind.fits().iter().map(|fitted| format!("    {}", fitted.describe(joint.glued))));
        let why = HeldTop::of(design, model).map_or_else(Vec::new, |top| top.why(joint));
        lines.extend(why.iter().flat_map(Worked::explain).map(|line| format!("    {line}")));
    }
    format!("{}\n", lines.join("\n"))
}

/// How its sizes change from the moisture at which it is built to its driest and wettest, and why each of them does, with the moistures; of
/// a top what it then stands out by, too.
fn moves(design: &Design, model: &Model, part: &Part) -> Vec<String> {
    let moisture = &design.timber.moisture;
    let [driest, wettest] =
        [Season::Driest, Season::Wettest].map(|season| Movement::of(part, &model.timbers, moisture.built, moisture.at(season)).change);
    let moves = |(a, b): &(&Worked, &Worked)| a.value.abs().max(b.value.abs());
    let told: Vec<(&Worked, &Worked)> = driest.iter().zip(&wettest).filter(|both| moves(both) >= 0.005).collect();
    if told.is_empty() {
        return Vec::new();
    }
    let mut lines = vec![String::new(), "Moves with the seasons, mm".to_owned()];
    let line = |(a, b): &(&Worked, &Worked)| {
        format!("  {} {} driest, {} wettest{}", a.name, trimmed_to(a.value, 2), trimmed_to(b.value, 2), b.aside())
    };
    for both in &told {
        lines.push(line(both));
        for (season, worked) in [(Season::Driest, both.0), (Season::Wettest, both.1)] {
            lines.push(format!("    {}", season.words()));
            lines.extend(worked.explain().iter().skip(1).map(|line| format!("    {line}")));
        }
    }
    for season in Season::ALL {
        lines.extend(moisture.worked(season).explain().iter().map(|line| format!("  {line}")));
    }
    lines.extend(doubts(design, model, part).iter().map(|line| format!("  {line}")));
    if part.kind == PartKind::Top {
        lines.extend(overhangs(model, moisture).iter().map(|overhang| format!("  {}{}", overhang.words(), overhang.why.aside())));
    }
    lines
}

/// What another published coefficient makes of its movement, and what the margin of the moistures does where they come from the air.
fn doubts(design: &Design, model: &Model, part: &Part) -> Vec<String> {
    let moisture = &design.timber.moisture;
    let seasons = [Season::Driest, Season::Wettest].map(|season| moisture.at(season));
    let species = model.timbers.wood(&part.material);
    let others = species.and_then(|species| species.doubted(part.sawn, part.size[1].mm, moisture.built, &seasons));
    let by_air = moisture.margin().map(|margin| {
        let rate = Rates::of(&part.material, part.sawn, &model.timbers).along(Dimension::Width) * part.size[1].mm;
        let [less, more] = [-margin.below, margin.above].map(|by| trimmed_to(rate * by.max(0.0), 2));
        format!("The moistures come from the air, by one curve for all species: by what strays from it the width may be {less} mm less or {more} mm more.")
    });
    others.into_iter().chain(by_air).collect()
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
