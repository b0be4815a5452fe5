//! `takeoff`: what a case takes of timber, sheets, hardware, finish and glue.

use std::fmt::Write as _;
use std::process::ExitCode;

use casewright_core::cutlist::CutList;
use casewright_core::design::Veneered;
use casewright_core::length::trimmed_to;
use casewright_core::takeoff::TakeOff;
use casewright_core::worked::{SIGN, Worked};
use casewright_sheets::{json, take_off_csv};

use crate::arguments::Input;
use crate::failure::Failure;
use crate::load::{self, Case};
use crate::output::{self, Align};

/// Prints the take-off.
pub fn run(input: &Input, (as_json, as_csv): (bool, bool), why: bool) -> Result<ExitCode, Failure> {
    let Case { design, model, .. } = load::case(input)?;
    let taken = TakeOff::of(&design, &model);
    if as_json {
        output::print_json(&json::takeoff(&model.name, &taken))?;
    } else if as_csv {
        output::print(&take_off_csv(&taken))?;
    } else {
        let mut text = format!("{}\n\n", model.name);
        text += &told(&taken);
        text += &beyond(&CutList::of(&design, &model));
        if why {
            text += &reasons(&taken);
        }
        output::print(&text)?;
    }
    Ok(ExitCode::SUCCESS)
}

fn told(taken: &TakeOff) -> String {
    let head = [
        ("Boards", Align::Left),
        ("Timber", Align::Left),
        ("Pieces", Align::Right),
        ("Longest", Align::Right),
        ("Widest", Align::Right),
        ("Rough, m³", Align::Right),
        ("Buy, m³", Align::Right),
        ("Board feet", Align::Right),
    ];
    let rows: Vec<_> = taken
        .timber
        .iter()
        .map(|line| {
            [
                if line.board.is_empty() { "none so thick".to_owned() } else { line.board.clone() },
                line.made_of.clone(),
                line.pieces.to_string(),
                trimmed_to(line.longest, 0),
                trimmed_to(line.widest, 0),
                format!("{}{}", trimmed_to(line.volume.value, 4), line.volume.sign()),
                format!("{}{}", trimmed_to(line.to_buy.value, 4), line.to_buy.sign()),
                format!("{}{}", trimmed_to(line.board_feet(), 1), line.to_buy.sign()),
            ]
        })
        .collect();
    let mut text = output::table(head, &rows);
    if text.contains('*') {
        text.push_str(SIGN);
        text.push_str(".\n");
    }
    // Writing to a string can't fail.
    for line in &taken.sheets {
        let [area, buy] = [&line.area, &line.to_buy].map(|worked| trimmed_to(worked.value, 2));
        let _ = writeln!(text, "\n{}: {} pieces, {area} m²; buy {buy} m², to measure {}", line.made_of, line.pieces, line.measure_words());
    }
    for line in &taken.veneer {
        let [faces, balancing] = [&line.faces, &line.balancing].map(|worked| trimmed_to(worked.value, 2));
        let (comes, thick) = (if line.comes == Veneered::Sawn { "sawn here from" } else { "buy" }, trimmed_to(line.thickness, 2));
        let _ = writeln!(
            text,
            "{}, veneer of {thick}: {faces} m² of faces and {balancing} m² of balancing sheets; {comes} {} {}",
            line.made_of,
            trimmed_to(line.to_buy.value, 3),
            line.to_buy.unit
        );
    }
    for line in &taken.bought {
        let _ = writeln!(text, "{}: {}", line.title, line.count);
    }
    if let (Some(area), Some(litres)) = (&taken.finish, &taken.litres) {
        let _ = writeln!(text, "Finish: {} m², {} l{}", trimmed_to(area.value, 1), trimmed_to(litres.value, 1), litres.aside());
    }
    let _ = writeln!(text, "Glue: {} g in joints{}", trimmed_to(taken.glue.value, 0), taken.glue.aside());
    text
}

/// What the machines of the shop can't take, and what is made together or glued on.
fn beyond(list: &CutList) -> String {
    let mut text = String::new();
    for row in list.rows.iter().filter(|row| !row.notes.is_empty()) {
        let _ = writeln!(text, "{} {}: {}", row.mark, row.kind.words().0, row.notes.join("; "));
    }
    if text.is_empty() { text } else { format!("\nTo look out for:\n{text}") }
}

/// What each figure rests on.
fn reasons(taken: &TakeOff) -> String {
    let TakeOff { timber, sheets, veneer, bought: _, finish: _, litres, glue } = taken;
    let all = timber.iter().flat_map(|line| [&line.volume, &line.to_buy]).chain(sheets.iter().flat_map(|line| [&line.area, &line.to_buy]));
    let all = all.chain(veneer.iter().flat_map(|line| [&line.faces, &line.balancing, &line.to_buy]));
    let lines = all.chain(litres).chain([glue]).flat_map(Worked::explain);
    format!("\n{}\n", lines.collect::<Vec<_>>().join("\n"))
}
