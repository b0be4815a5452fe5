//! `compare`: timbers side by side for this very case, or the ways in which its panels can be made up.

use std::process::ExitCode;

use casewright_core::Design;
use casewright_core::amounts::Cost;
use casewright_core::compare::{self, Candidate, MadeUp, Where};
use casewright_core::derive::DesignError;
use casewright_core::length::trimmed_to;
use casewright_core::worked::{SIGN, Worked};
use casewright_sheets::json;

use crate::arguments::{Compared, Input};
use crate::failure::Failure;
use crate::load::{self, Case};
use crate::output::{self, Align};

/// Prints the comparison.
pub fn run(input: &Input, of: Compared, as_json: bool) -> Result<ExitCode, Failure> {
    let Case { design, .. } = load::case(input)?;
    let (name, currency) = (&design.name, &design.money.currency);
    let unbuilt = |errors: Vec<DesignError>| Failure::Told(errors.iter().map(ToString::to_string).collect());
    if let Some(of) = timber(of) {
        let rows = compare::timbers(&design, of).map_err(unbuilt)?;
        if as_json {
            output::print_json(&json::compare_timbers(name, currency, of, &rows))?;
        } else {
            output::print(&timbers(&design, &rows))?;
        }
    } else {
        let rows = compare::panels(&design).map_err(unbuilt)?;
        if as_json {
            output::print_json(&json::compare_panels(name, currency, &rows))?;
        } else {
            output::print(&panels(&design, &rows))?;
        }
    }
    Ok(ExitCode::SUCCESS)
}

/// The solid timber that is meant; nothing for panels.
fn timber(of: Compared) -> Option<Where> {
    match of {
        Compared::All => Some(Where::Whole),
        Compared::Carcase => Some(Where::Frame),
        Compared::Top => Some(Where::Top),
        Compared::Shelving => Some(Where::Shelving),
        Compared::Panels => None,
    }
}

fn timbers(design: &Design, rows: &[Candidate]) -> String {
    let head = [
        ("", Align::Left),
        ("Timber", Align::Left),
        ("Moves, mm", Align::Right),
        ("Sags, mm", Align::Right),
        ("Mass, kg", Align::Right),
        ("Hours", Align::Right),
        ("Cost", Align::Right),
        ("", Align::Left),
    ];
    let line = |row: &Candidate| {
        [
            chosen(row.chosen),
            row.name.clone(),
            figure(row.movement.as_ref(), 1),
            figure(row.sag.as_ref(), 1),
            figure(row.mass.as_ref(), 0),
            figure(Some(&row.cost.hours), 1),
            figure(row.cost.total.as_ref(), 0),
            fails(&row.fails),
        ]
    };
    let lines: Vec<_> = rows.iter().map(line).collect();
    let named = |word: &str, of: fn(&Candidate) -> Option<&Worked>| {
        let name = rows.iter().find_map(|row| Some(&of(row)?.name));
        name.map_or_else(String::new, |name| format!("{word}: {name}. "))
    };
    let moves =
        format!("\n{}{}Mass: the whole case, empty.\n", named("Moves", |row| row.movement.as_ref()), named("Sags", |row| row.sag.as_ref()));
    let failing = failing(rows.iter().map(|row| (row.name.as_str(), row.fails.as_slice())));
    output::table(head, &lines) + &moves + &money(design, rows.iter().map(|row| &row.cost)) + &failing
}

/// Those of which the case would fail, and by what: the worst is said, and how much more there is.
fn failing<'r>(rows: impl Iterator<Item = (&'r str, &'r [String])>) -> String {
    let line = |(name, fails): (&str, &[String])| {
        let (first, more) = fails.split_first()?;
        let more = if more.is_empty() { String::new() } else { format!(" (and {} more)", more.len()) };
        Some(format!("  {name}: {first}{more}\n"))
    };
    let lines: Vec<String> = rows.filter_map(line).collect();
    if lines.is_empty() { String::new() } else { format!("\nThe case would fail in these:\n{}", lines.concat()) }
}

fn panels(design: &Design, rows: &[MadeUp]) -> String {
    if rows.is_empty() {
        return "This case has no panels\n".to_owned();
    }
    let head = [
        ("", Align::Left),
        ("Made up of", Align::Left),
        ("Thick", Align::Right),
        ("Moves, mm", Align::Right),
        ("Held", Align::Right),
        ("Room", Align::Right),
        ("Mass, kg", Align::Right),
        ("Hours", Align::Right),
        ("Cost", Align::Right),
        ("", Align::Left),
        ("", Align::Left),
    ];
    let line = |row: &MadeUp| {
        [
            chosen(row.chosen),
            row.make.words().to_owned(),
            figure(row.thickness.as_ref(), 1),
            figure(row.movement.as_ref(), 1),
            figure(row.held.as_ref(), 1),
            figure(row.room.as_ref(), 1),
            figure(row.mass.as_ref(), 1),
            figure(Some(&row.cost.hours), 1),
            figure(row.cost.total.as_ref(), 0),
            fails(&row.fails),
            row.name.clone(),
        ]
    };
    let lines: Vec<_> = rows.iter().map(line).collect();
    let mut text = output::table(head, &lines);
    text += "\nHeld: what the least engaged panel has left in its groove, driest and pushed over. Room: what the tightest has left to grow, \
             wettest; below 0 it bursts its frame.\n";
    let failing = failing(rows.iter().map(|row| (row.make.words(), row.fails.as_slice())));
    text + &money(design, rows.iter().map(|row| &row.cost)) + &failing
}

/// What money is told in, and what has no price.
fn money<'c>(design: &Design, costs: impl Iterator<Item = &'c Cost>) -> String {
    let currency = &design.money.currency;
    let hour = if design.money.hour > 0.0 {
        format!("Cost in {currency}, an hour at {}.", trimmed_to(design.money.hour, 2))
    } else {
        format!("Cost in {currency}, material alone: money.hour is 0.")
    };
    let unpriced = costs.filter(|cost| cost.total.is_none()).count();
    let missing = if unpriced > 0 {
        format!(" {unpriced} of these lack a price; give it with --with, such as {}=1200, or in the file.", missing_price(design))
    } else {
        String::new()
    };
    format!("{hour} Hours by the rates money.work.*, which are from memory until you set your own.{missing}\n{SIGN}; --json tells which.\n")
}

fn missing_price(design: &Design) -> String {
    casewright_core::design::Priced::Timber.path(&design.timber.frame)
}

fn chosen(chosen: bool) -> String {
    if chosen { "now".to_owned() } else { String::new() }
}

fn figure(worked: Option<&Worked>, digits: usize) -> String {
    worked.map_or_else(unknown, |worked| format!("{}{}", trimmed_to(worked.value, digits), worked.sign()))
}

fn fails(fails: &[String]) -> String {
    if fails.is_empty() { String::new() } else { "fails".to_owned() }
}

fn unknown() -> String {
    "–".to_owned()
}
