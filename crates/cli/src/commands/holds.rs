//! `holds`: where everything stands that it must hold, and which shelves take a box.

use std::fmt::Write as _;
use std::fs;
use std::process::ExitCode;

use casewright_core::contents::arrange::{
    Arrangement, ColumnError, Displaced, Effort, Move, Row, ShelvesMay, arrange, arrange_after, displaced, eased, laid, moves,
};
use casewright_core::contents::holds::{self, InBay, InRoom, Shelves};
use casewright_core::contents::list;
use casewright_core::contents::tilt::{Tilt, tilts};
use casewright_core::contents::{Change, Stance, changes, row_words};
use casewright_core::design::{BoxKind, Lies, text};
use casewright_core::length::{self, trimmed, trimmed_to};
use casewright_core::loads::{Whole, carries, on_a_label, whole};
use casewright_core::model::LevelKind;
use casewright_core::sentence::{capital, inside};
use casewright_core::table::{BadRow, Bare};
use casewright_core::{Design, Model, derive};
use casewright_sheets::json;

use crate::arguments::{HoldsWords, Input, MayShelves};
use crate::commands::check::count;
use crate::failure::Failure;
use crate::load::{self, Case};
use crate::output::{self, Align};

/// Prints where everything stands, or which shelves take one box. Ends with 1 when something has no place.
pub fn run(input: &Input, words: &HoldsWords) -> Result<ExitCode, Failure> {
    let Case { mut design, model, .. } = load::case(input)?;
    if let Some(path) = &words.list {
        design.contents = read_list(path, words.bare.into())?;
    }
    if let Some(kind) = wanted(&design, words)? {
        let (rooms, bays) = (Shelves::of(&design, &model).take(&kind), holds::in_bays(&design, &model, &kind));
        if words.json {
            output::print_json(&json::fits(&model, &kind, &rooms, &bays))?;
        } else {
            output::print(&told_of_one(&model, &kind, &rooms, &bays))?;
        }
        let takes = rooms.iter().any(InRoom::takes);
        return Ok(if takes { ExitCode::SUCCESS } else { ExitCode::from(1) });
    }
    let may = match words.shelves {
        MayShelves::Stay => ShelvesMay::Stay,
        MayShelves::Move => ShelvesMay::Move,
        MayShelves::Come => ShelvesMay::Come,
    };
    let told_wrong = |error: ColumnError| Failure::told(error.to_string());
    let before = if may == ShelvesMay::Stay && words.list.is_none() { as_written(input) } else { None };
    let (stands, arrangement) = match may {
        ShelvesMay::Stay => {
            let there = match &before {
                Some((was, before)) => arrange_after(&design, &model, (was.contents.as_slice(), before), Effort::default()),
                None => arrange(&design, &model, may, Effort::default()),
            };
            (None, there.map_err(told_wrong)?)
        }
        ShelvesMay::Move | ShelvesMay::Come => match laid(&design, may, Effort::default()).map_err(told_wrong)? {
            // Where shelves come anyhow, they may as well lie where what is heavy is easily lifted.
            Some((after, arrangement)) if may == ShelvesMay::Come && after != design => {
                let (after, arrangement) = eased(after, arrangement);
                (Some(after), arrangement)
            }
            Some((after, arrangement)) => (Some(after), arrangement),
            None => return Err(Failure::told("with its shelves laid so it is no case")),
        },
    };
    // Shelves come out of the case as they lie where all stands so.
    let model = stands.as_ref().and_then(|design| derive(design).ok()).unwrap_or(model);
    let tilts = tilts(&model);
    let gone = before.as_ref().map_or_else(Vec::new, |(was, before)| displaced(&design, (was.contents.as_slice(), before), &arrangement));
    let changes = if words.changes { changes(&design) } else { Vec::new() };
    let moves = stands.as_ref().map_or_else(Vec::new, |after| moves(&design, after));
    if let Some(out) = &words.out {
        let after = stands.as_ref().unwrap_or(&design);
        let written = text::write(after).map_err(|error| Failure::told(error.to_string()))?;
        load::write(out, &written).map_err(|error| Failure::told(format!("{}: it can't be written: {error}", out.display())))?;
    }
    let as_laid = stands.as_ref().unwrap_or(&design);
    let all = whole(as_laid, &model, &carries(as_laid, &model));
    let stands_in_all: f64 = arrangement.rows.iter().map(Row::kg).sum();
    if words.json {
        output::print_json(&json::holds(
            &design,
            &arrangement,
            &json::Besides { moves: &moves, tilts: &tilts, changes: &changes, displaced: &gone, whole: all },
        ))?;
    } else {
        output::print(
            &(told(&design, &arrangement, may)
                + &told_whole(&model, all, stands_in_all)
                + &told_moves(&moves)
                + &told_displaced(&design, &gone)
                + &told_tilts(&tilts)
                + &told_changes(words.changes, &arrangement, &changes)),
        )?;
    }
    let is_too_much = all.is_some_and(|all| all.is_less_than(stands_in_all));
    Ok(if arrangement.left.is_empty() && !is_too_much { ExitCode::SUCCESS } else { ExitCode::from(1) })
}

/// The box that is asked about, if one is.
fn wanted(design: &Design, words: &HoldsWords) -> Result<Option<BoxKind>, Failure> {
    let mut kind = match (&words.size, &words.kind) {
        (Some(text), _) => BoxKind::new("the box", size(text)?, words.mass.unwrap_or(0.0), 1),
        (None, Some(name)) => {
            let found = design.contents.iter().find(|kind| kind.name.eq_ignore_ascii_case(name));
            found.cloned().ok_or_else(|| {
                let names: Vec<&str> = design.contents.iter().map(|kind| kind.name.as_str()).collect();
                Failure::told(format!("there is no kind \"{name}\"; there are: {}", names.join(", ")))
            })?
        }
        (None, None) => return Ok(None),
    };
    if words.any_way {
        kind.lies = Lies::AnyWay;
    }
    Ok(Some(kind))
}

/// "420x310x260", "42 cm × 31 cm × 26 cm".
fn size(text: &str) -> Result<[f64; 3], Failure> {
    let wrong = |why: String| Failure::told(format!("--box {text}: {why}; write width x depth x height, such as 420x310x260"));
    let parts: Vec<&str> = text.split(['x', 'X', '×']).collect();
    let [width, depth, height] = parts.as_slice() else { return Err(wrong(format!("{} sizes are given", parts.len()))) };
    let read = |part: &str| -> Result<f64, Failure> {
        let mm = length::parse(part).map_err(|error| wrong(error.to_string()))?.to_mm();
        let range = casewright_core::design::SIZES;
        if range.contains(&mm) {
            Ok(mm)
        } else {
            Err(wrong(format!("{} mm is out of range, {} to {}", trimmed(mm), range.start(), range.end())))
        }
    };
    Ok([read(width)?, read(depth)?, read(height)?])
}

/// Reads a list of things; any row that can't be read is told, and nothing goes on without it.
fn read_list(path: &std::path::Path, bare: Bare) -> Result<Vec<BoxKind>, Failure> {
    let text = fs::read_to_string(path).map_err(|error| Failure::told(format!("{}: {error}", path.display())))?;
    let listed = list::read(&text, bare);
    if listed.bad.is_empty() {
        return Ok(listed.rows);
    }
    Err(Failure::Told(listed.bad.iter().flat_map(BadRow::words).map(|words| format!("{}: {words}", path.display())).collect()))
}

fn told_of_one(model: &Model, kind: &BoxKind, rooms: &[InRoom], bays: &[InBay]) -> String {
    let sizes = [kind.width, kind.depth, kind.height].map(|length| length.to_string()).join(" × ");
    // Writing to a string can't fail.
    let mut text = format!("{}: {}, {sizes} (width × depth × height)\n\n", model.name, kind.name);
    let rows: Vec<[String; 3]> = rooms.iter().map(|one| [capital(&model.rooms[one.room].name), takes(one), one.words()]).collect();
    text += &output::table([("Where", Align::Left), ("Takes", Align::Right), ("", Align::Left)], &rows);
    text.push('\n');
    for bay in bays {
        let _ = writeln!(text, "Bay {} {}", bay.bay + 1, in_bay(bay));
    }
    text
}

fn takes(one: &InRoom) -> String {
    if one.takes() { one.many.to_string() } else { "none".to_owned() }
}

fn in_bay(bay: &InBay) -> String {
    let lying = if bay.fit.stance == Stance::AsListed { String::new() } else { format!(" {}", bay.fit.stance.words()) };
    match (bay.fit.fits(), bay.teeth, bay.over_floor) {
        (false, ..) => format!("never takes it: it lacks {}", bay.fit.words()),
        (true, Some(levels), Some(over)) => {
            format!(
                "takes it{lying} with {} to the next shelf, on the floor with the first shelf on {} {over} or higher",
                in_levels(bay, levels),
                counted(bay).0
            )
        }
        (true, Some(levels), None) => format!("takes it{lying} with {} to the next shelf", in_levels(bay, levels)),
        (true, None, _) => format!("takes it{lying}"),
    }
}

/// What the case carries in all.
fn told_whole(model: &Model, whole: Option<Whole>, stands: f64) -> String {
    whole.map_or_else(String::new, |all| {
        let over =
            if all.is_less_than(stands) { format!("\nToo much in all: {} kg have a place", trimmed_to(stands, 0)) } else { String::new() };
        let first = all.gives.map_or_else(String::new, |(part, by)| format!("; then {} {}", inside(&model.part(part).title), by.words()));
        format!("{over}\nAll shelves and floors together carry {} kg{first}\n", on_a_label(all.kg))
    })
}

/// The design as its file has it, and where everything stands in it: where something else is tried, what stands there stays as far as it can.
fn as_written(input: &Input) -> Option<(Design, Arrangement)> {
    if input.with.is_empty() {
        return None;
    }
    let written = Input { with: Vec::new(), ..input.clone() };
    let Case { design, model, .. } = load::case(&written).ok()?;
    let stands = arrange(&design, &model, ShelvesMay::Stay, Effort::default()).ok()?;
    Some((design, stands))
}

/// What stands elsewhere than in the design as its file has it.
fn told_displaced(design: &Design, gone: &[Displaced]) -> String {
    if gone.is_empty() {
        return String::new();
    }
    gone.iter().fold("\nStands elsewhere than before:\n".to_owned(), |text, one| text + "  " + &one.words(&design.contents) + "\n")
}

/// What has to be moved for it.
fn told_moves(moves: &[Move]) -> String {
    if moves.is_empty() {
        return String::new();
    }
    moves.iter().fold("\nTo be moved:\n".to_owned(), |text, one| text + "  " + &one.words() + "\n")
}

/// How each shelf that lies loose comes out.
fn told_tilts(tilts: &[Tilt]) -> String {
    if tilts.is_empty() {
        return String::new();
    }
    let rows: Vec<[String; 2]> =
        tilts.iter().map(|tilt| [format!("Shelf {} of bay {}", tilt.shelf + 1, tilt.bay + 1), tilt.words()]).collect();
    format!("\n{}", output::table([("Taken out while the others stay", Align::Left), ("", Align::Left)], &rows))
}

/// The changes that would give everything a place.
fn told_changes(asked: bool, arrangement: &Arrangement, changes: &[Change]) -> String {
    if !asked || arrangement.left.is_empty() && changes.is_empty() {
        return String::new();
    }
    if changes.is_empty() {
        return "\nNothing within reason gives everything a place\n".to_owned();
    }
    let more = |amount: f64, unit: &str| format!("{}{} {unit}", if amount < 0.0 { "−" } else { "+" }, trimmed_to(amount.abs(), 4));
    let proven = |change: &Change| change.least.map_or_else(String::new, casewright_core::contents::Least::words);
    let row =
        |change: &Change| [change.words.clone(), change.gives.clone(), more(change.timber, "m³"), more(change.sheet, "m²"), proven(change)];
    let rows: Vec<[String; 5]> = changes.iter().map(row).collect();
    let head = [
        ("Would do, the shelves laid anew", Align::Left),
        ("Then", Align::Left),
        ("Timber", Align::Right),
        ("Sheet", Align::Right),
        ("Proven", Align::Left),
    ];
    format!("\n{}", output::table(head, &rows))
}

/// What the levels of a bay are counted by, one and many.
fn counted(bay: &InBay) -> (&'static str, &'static str) {
    bay.counted.unwrap_or(LevelKind::Tooth).words()
}

fn in_levels(bay: &InBay, levels: u32) -> String {
    let (one, many) = counted(bay);
    if levels == 1 { format!("1 {one}") } else { format!("{levels} {many}") }
}

fn told(design: &Design, arrangement: &Arrangement, may: ShelvesMay) -> String {
    let how = match may {
        ShelvesMay::Stay => "the shelves as they lie",
        ShelvesMay::Move => "the shelves moved as is best",
        ShelvesMay::Come => "as many shelves as it takes",
    };
    let mut text =
        format!("{}: {} of {} have a place, {how}", design.name, arrangement.placed, count(arrangement.wanted as usize, "thing"));
    if !arrangement.left.is_empty() {
        if arrangement.proven() {
            text += "; proven: no arrangement places more";
        } else {
            let _ = write!(text, "; at most {} could", arrangement.most);
        }
    }
    let (filled, free) = (trimmed_to(arrangement.filled() * 100.0, 0), trimmed_to(arrangement.free_litres(), 0));
    let _ = write!(text, "\nThey fill {filled} % of the room on the shelves; {free} litres are free\n\n");
    let rows: Vec<[String; 5]> = arrangement
        .rows
        .iter()
        .map(|row| {
            let carries = row.carries.map_or_else(String::new, |kg| trimmed_to(kg, 0));
            [capital(&row.name()), trimmed_to(row.kg(), 1), carries, trimmed_to(row.free(), 0), row_words(&row.stacks, &design.contents)]
        })
        .collect();
    let head = [
        ("Where", Align::Left),
        ("kg", Align::Right),
        ("Carries", Align::Right),
        ("Free mm", Align::Right),
        ("From the left", Align::Left),
    ];
    text += &output::table(head, &rows);
    for left in &arrangement.left {
        let name = design.contents.get(left.kind).map_or("", |kind| &kind.name);
        let _ = writeln!(text, "No place for {} × {name}: {}", left.count, arrangement.why(design, left));
    }
    text
}
