//! What the whole job takes: hours by operation at the maker's rates, material, and money.

use casewright_core::boards::Spent;
use casewright_core::job::Job;
use casewright_core::length::trimmed_to;
use casewright_core::worked::Worked;
use egui::Ui;

use super::super::{Out, View, field, words};
use crate::ask::Ask;

/// Draws it.
pub fn ui(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    let design = view.session.design();
    let generation = view.derived.generation;
    let stock = match (view.bought.found(generation), view.laid.found(generation)) {
        (Some(bought), _) => Some(Spent::with_bought(design, bought)),
        (None, Some(cutting)) if cutting.left.is_empty() => Some(Spent::on_hand(design, cutting)),
        (None, _) => None,
    };
    let job = Job::from_stock(design, &view.derived.model, stock);
    let currency = &design.money.currency;
    match &job.cost.total {
        Some(total) => sum(ui, "In all", &format!("{currency} {}", trimmed_to(total.value, 0)), total),
        None => {
            words::small(ui, format!("In all: not known without {}", job.cost.missing.join(", ")));
        }
    }
    sum(ui, "Work", &format!("{} h", trimmed_to(job.cost.hours.value, 1)), &job.cost.hours);
    words::group(ui, "Material");
    match &job.stock {
        Some(spent) => of_stock(ui, spent, currency),
        None => {
            words::small(ui, "Timber and sheets by measure; once board plans or what to buy are worked out, board by board.");
        }
    }
    for bought in &job.materials {
        let amount = format!("{} {}", trimmed_to(bought.amount.value, 3), bought.of.measure());
        sum(ui, &words::sentence(&bought.name), &amount, &bought.amount);
        let path = bought.of.path(&bought.id);
        rate(ui, view, &path, out);
    }
    if !job.besides.is_empty() {
        words::group(ui, "Not in the sum: no price");
    }
    for bought in &job.besides {
        let amount = format!("{} {}", trimmed_to(bought.amount.value, 2), bought.amount.unit);
        words::pair(ui, &words::sentence(&bought.name), |ui| {
            let path = bought.of.path(&bought.id);
            let price = words::link(ui, format!("price of a {}", bought.of.measure()));
            out.mark(format!("cost.price.{path}"), price.rect);
            if price.clicked() {
                // It is then a decision like any other, to be set where it is read.
                out.ask(Ask::Set { path, text: "0".to_owned(), gesture: None });
            }
            ui.label(amount);
        });
        rate(ui, view, &bought.of.path(&bought.id), out);
    }
    words::group(ui, "Work, by operation");
    for operation in &job.operations {
        let told = format!("{} {}, {} h", trimmed_to(operation.amount, 1), operation.unit, trimmed_to(operation.hours.value, 1));
        sum(ui, &words::sentence(operation.name), &told, &operation.hours);
        rate(ui, view, operation.rate, out);
    }
    words::group(ui, "Your hour");
    rate(ui, view, "money.hour", out);
}

/// Boards and sheets one by one.
fn of_stock(ui: &mut Ui, spent: &Spent, currency: &str) {
    for line in &spent.lines {
        let whence = if line.bought { "bought" } else { "on hand" };
        let cost = match line.cost() {
            None => "no price".to_owned(),
            Some(cost) if cost <= 0.0 => "paid for".to_owned(),
            Some(cost) => format!("{currency} {}", trimmed_to(cost, 2)),
        };
        words::pair(ui, &format!("{} × {}, {whence}", line.count, line.name), |ui| {
            ui.label(cost);
        });
    }
    for told in &spent.told {
        words::small(ui, told);
    }
}

/// A figure that can be asked where it comes from, with its name before it.
fn sum(ui: &mut Ui, name: &str, figure: &str, worked: &Worked) {
    words::pair(ui, name, |ui| words::why(ui, figure, worked));
}

/// The decision that a figure follows from, to be changed where it is read.
fn rate(ui: &mut Ui, view: &View<'_>, path: &str, out: &mut Out) {
    if let Some(decision) = view.decisions.iter().find(|decision| decision.spec.path == path) {
        field::row(ui, decision, out);
    }
}
