//! `cost`: what the whole job takes, operation by operation, and what it costs.

use std::fmt::Write as _;
use std::process::ExitCode;

use casewright_core::Design;
use casewright_core::job::Job;
use casewright_core::length::trimmed_to;
use casewright_core::worked::{SIGN, Worked};
use casewright_sheets::{cost_csv, json};

use crate::arguments::Input;
use crate::failure::Failure;
use crate::load::{self, Case};
use crate::output::{self, Align};

/// Prints hours, material and money.
pub fn run(input: &Input, (as_json, as_csv): (bool, bool), why: bool) -> Result<ExitCode, Failure> {
    let Case { design, model, .. } = load::case(input)?;
    let job = Job::of(&design, &model);
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
    for bought in &job.materials {
        let price = design.money.price(bought.of, &bought.id);
        let cost = price.map_or_else(
            || format!("no price: say {}", bought.of.path(&bought.id)),
            |price| format!("{} {currency}", trimmed_to(price * bought.amount.value, 2)),
        );
        let (amount, aside) = (trimmed_to(bought.amount.value, 3), bought.amount.aside());
        let _ = writeln!(text, "{}: {amount} {}{aside}, {cost}", bought.name, bought.of.measure());
    }
    for ready in &job.besides {
        let _ = writeln!(text, "{} × {}, not in the sum", ready.count, ready.title);
    }
    let total = job.cost.total.as_ref().map(|total| format!("{} {currency}{}", trimmed_to(total.value, 2), total.aside()));
    let _ = writeln!(text, "\nIn all: {}", total.unwrap_or_else(|| format!("not known without {}", job.cost.missing.join(", "))));
    text
}
