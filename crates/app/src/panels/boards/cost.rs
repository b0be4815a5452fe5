//! What the whole job takes: hours by operation at the maker's rates, material, and money.

use casewright_core::job::Job;
use casewright_core::length::trimmed_to;
use casewright_core::worked::Worked;
use egui::Ui;

use super::super::{Out, View, field, words};

/// Draws it.
pub fn ui(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    let design = view.session.design();
    let job = Job::of(design, &view.derived.model);
    let currency = &design.money.currency;
    match &job.cost.total {
        Some(total) => sum(ui, "In all", &format!("{currency} {}", trimmed_to(total.value, 0)), total),
        None => {
            words::small(ui, format!("In all: not known without {}", job.cost.missing.join(", ")));
        }
    }
    sum(ui, "Work", &format!("{} h", trimmed_to(job.cost.hours.value, 1)), &job.cost.hours);
    words::group(ui, "Material");
    for bought in &job.materials {
        let amount = format!("{} {}", trimmed_to(bought.amount.value, 3), bought.of.measure());
        sum(ui, &words::sentence(&bought.name), &amount, &bought.amount);
        let path = bought.of.path(&bought.id);
        rate(ui, view, &path, out);
    }
    for ready in &job.besides {
        words::small(ui, format!("{} × {}, not in the sum", ready.count, words::sentence(&ready.title)));
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
