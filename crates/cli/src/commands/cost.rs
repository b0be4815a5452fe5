//! `cost`: what the whole job takes, operation by operation, and what it costs.

use std::fmt::Write as _;
use std::process::ExitCode;

use casewright_core::Design;
use casewright_core::boards::Spent;
use casewright_core::job::Job;
use casewright_core::length::trimmed_to;
use casewright_core::worked::{SIGN, Worked};
use casewright_sheets::{cost_csv, json};

use crate::arguments::{Input, StockWords};
use crate::commands::boards::{Stocked, stocked};
use crate::failure::Failure;
use crate::load::{self, Case};
use crate::output::{self, Align};

/// Prints hours, material and money.
pub fn run(input: &Input, (as_json, as_csv): (bool, bool), why: bool, stock: &StockWords) -> Result<ExitCode, Failure> {
    let (design, job) = job(input, stock)?;
    if as_json {
        output::print_json(&json::cost(&design, &job))?;
    } else if as_csv {
        output::print(&cost_csv(&design, &job))?;
    } else {
        let mut text = told(&design, &job);
        if why {
            let total = job.cost.total.iter().chain([&job.cost.hours]);
            text += &total.flat_map(Worked::explain).fold("\n".to_owned(), |text, line| text + &line + "\n");
        }
        output::print(&text)?;
    }
    Ok(ExitCode::SUCCESS)
}

/// By what the rough sizes add up to; where a pile or a dealer's list is named, by boards and sheets one by one.
fn job(input: &Input, stock: &StockWords) -> Result<(Design, Job), Failure> {
    if stock.pile.is_none() && stock.dealer.is_none() {
        let Case { design, model, .. } = load::case(input)?;
        let job = Job::of(&design, &model);
        return Ok((design, job));
    }
    let Stocked { design, model, bought, cutting } = stocked(input, stock)?;
    let mut spent = match &bought {
        Some(bought) => Spent::with_bought(&design, bought),
        None => Spent::on_hand(&design, &cutting),
    };
    spent.told.splice(0..0, cutting.told);
    let job = Job::from_stock(&design, &model, Some(spent));
    Ok((design, job))
}

/// Boards and sheets one by one.
fn of_stock(spent: &Spent, currency: &str) -> String {
    let mut text = String::new();
    for line in &spent.lines {
        let whence = if line.bought { "bought" } else { "on hand" };
        let cost = match line.each {
            None => "no price".to_owned(),
            Some(each) if each <= 0.0 => "paid for".to_owned(),
            Some(each) => format!("{} {currency} at {}", trimmed_to(each * f64::from(line.count), 2), trimmed_to(each, 2)),
        };
        // Writing to a string can't fail.
        let _ = writeln!(text, "{} × {}, {whence}: {cost}", line.count, line.name);
    }
    spent.told.iter().fold(text, |text, words| text + words + "\n")
}

fn told(design: &Design, job: &Job) -> String {
    let head =
        [("Work", Align::Left), ("How much", Align::Right), ("", Align::Left), ("Hours each", Align::Right), ("Hours", Align::Right)];
    let row = |operation: &casewright_core::job::Operation| {
        let [amount, each, hours] = [operation.amount, operation.each, operation.hours.value].map(|figure| trimmed_to(figure, 2));
        let sign = operation.hours.sign();
        [operation.name.to_owned(), amount, operation.unit.to_owned(), format!("{each}{sign}"), format!("{hours}{sign}")]
    };
    let currency = &design.money.currency;
    let mut text = format!("{}\n\n{}", design.name, output::table(head, &job.operations.iter().map(row).collect::<Vec<_>>()));
    // Writing to a string can't fail.
    let hours = job.cost.hours.value;
    let worth = if design.money.hour > 0.0 {
        format!(", {} {currency} at {}", trimmed_to(hours * design.money.hour, 2), trimmed_to(design.money.hour, 2))
    } else {
        String::new()
    };
    if text.contains('*') {
        let _ = writeln!(text, "{SIGN}.");
    }
    let _ = writeln!(text, "\n{} h in all{worth}{}\n", trimmed_to(hours, 1), job.cost.hours.aside());
    text += &job.stock.as_ref().map_or_else(String::new, |spent| of_stock(spent, currency));
    for bought in &job.materials {
        let price = design.money.price(bought.of, &bought.id);
        let cost = price.map_or_else(
            || format!("no price: say {}", bought.of.path(&bought.id)),
            |price| format!("{} {currency}", trimmed_to(price * bought.amount.value, 2)),
        );
        let (amount, aside) = (trimmed_to(bought.amount.value, 3), bought.amount.aside());
        let _ = writeln!(text, "{}: {amount} {}{aside}, {cost}", bought.name, bought.of.measure());
    }
    for bought in &job.besides {
        let (amount, unit) = (trimmed_to(bought.amount.value, 3), bought.amount.unit);
        let _ = writeln!(text, "{}: {amount} {unit}, not in the sum: no price, say {}", bought.name, bought.of.path(&bought.id));
    }
    let total = job.cost.total.as_ref().map(|total| format!("{} {currency}{}", trimmed_to(total.value, 2), total.aside()));
    let _ = writeln!(text, "\nIn all: {}", total.unwrap_or_else(|| format!("not known without {}", job.cost.missing.join(", "))));
    text
}
