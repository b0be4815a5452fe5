//! The stage "Drawings": the papers for the shop.

use egui::Ui;

use super::{Out, View, words};
use crate::ask::Ask;

/// Draws it.
pub fn ui(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    words::heading(ui, "Drawings");
    words::small(ui, "Papers for the shop, made from the case as it stands.");
    let rows = view.derived.cut_list.rows.len();
    let findings = view.derived.findings.len();
    for (name, holds) in [
        ("cut_list.csv", format!("{}, finished and rough sizes, cuts", words::counted(rows, "mark", "marks"))),
        ("drawings.pdf", format!("three views with dimensions, {}", words::counted(findings, "finding", "findings"))),
        ("shelf_plan.pdf", "where everything stands, and a label for each shelf with what it carries".to_owned()),
    ] {
        words::group(ui, name);
        words::small(ui, holds);
    }
    words::rule(ui);
    let save = words::button(ui, "Save papers…");
    out.mark("save_papers", save.rect);
    if save.clicked() {
        out.ask(Ask::SavePapers);
    }
    words::small(ui, "They go into a folder you name; papers of the same names there are replaced.");
}
