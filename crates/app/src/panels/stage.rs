//! The left sheet: what belongs to the stage.

use casewright_core::design::decisions::Decision;
use casewright_core::joint::as_cut;
use egui::{RichText, Ui};

use super::words::{self, sign_here};
use super::{Out, Stage, View, bench, boards, brief, case, compare, drawings, field, findings, season};
use crate::ask::Ask;
use crate::theme;

/// How wide the sheet is, with what stands on it, in a window of that width.
pub fn width_of(view: &View<'_>, window: f32) -> f32 {
    match view.stage {
        Stage::Brief if view.proposed.wanted() => theme::LEFT_TABLE,
        // A board is long, and a sheet wide: they are drawn as large as leaves room for the case.
        Stage::Boards | Stage::Drawings => (window * 0.38).clamp(theme::LEFT_TABLE, theme::LEFT_PLANS),
        stage => width(stage),
    }
}

/// How wide the sheet of a stage is.
pub fn width(stage: Stage) -> f32 {
    match stage {
        Stage::Case => theme::LEFT,
        Stage::Brief | Stage::Joints | Stage::Timber | Stage::DryFit | Stage::Drawings | Stage::Bench => theme::LEFT_WIDE,
        Stage::Boards => theme::LEFT_TABLE,
    }
}

/// Where the design keeps what was measured.
const MEASURED: [&str; 2] = ["shop.batches.", "shop.parts."];

/// Draws the sheet.
pub fn ui(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    let whole = ui.available_rect_before_wrap();
    super::sheet(ui, view.stage.word(), whole, |ui| {
        told(ui, view, out);
        match view.stage {
            Stage::Brief => brief::ui(ui, view, out),
            Stage::Case => case::ui(ui, view, out),
            Stage::Joints => {
                words::heading(ui, "Joints");
                groups(ui, view, out);
            }
            Stage::Timber => {
                words::heading(ui, "Timber");
                season::ui(ui, view, out);
                compare::ui(ui, view, out);
                timber(ui, view, out);
            }
            Stage::DryFit => findings::ui(ui, view, true, out),
            Stage::Boards => boards::ui(ui, view, out),
            Stage::Drawings => drawings::ui(ui, view, out),
            Stage::Bench => bench::ui(ui, view, out),
        }
    });
}

/// Species, sheets and moisture; prices and hours, which are many, when asked for.
fn timber(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    let of_money = |decision: &Decision| decision.spec.path.starts_with("money.");
    groups_of(ui, view, |decision| !of_money(decision), out);
    words::rule(ui);
    // A price that was just asked for is to be written in.
    if words::disclosure(ui, "Prices and hours", view.compared.wanted.is_some()) {
        groups_of(ui, view, of_money, out);
    }
}

/// Why the design as it stands gives no case, and what else there is to tell.
fn told(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    let errors = &view.derived.errors;
    if !errors.is_empty() {
        ui.horizontal(|ui| {
            sign_here(ui, casewright_core::Seriousness::WillFail);
            ui.label(RichText::new("This can't be built").font(theme::strong()).color(theme::FAIL));
        });
        for error in errors {
            ui.label(named(view, error.path(), &error.to_string()));
        }
        let shown = if view.derived.piece == view.session.piece() {
            "The case shown is the last that could be.".to_owned()
        } else {
            format!("The case shown is not this one: it is “{}”, the last that could be built.", view.derived.model.name)
        };
        words::small(ui, shown);
        words::rule(ui);
    }
    if !view.notice.title.is_empty() {
        ui.horizontal(|ui| {
            words::strong(ui, &view.notice.title);
            if words::cross(ui, "Put away").clicked() {
                out.ask(Ask::DismissNotice);
            }
        });
        for line in &view.notice.lines {
            ui.label(line);
        }
        words::rule(ui);
    }
}

/// The message with the words of a panel in place of the decision's name.
fn named(view: &View<'_>, path: &str, message: &str) -> String {
    let label = view.decisions.iter().find(|decision| decision.spec.path == path).map(|decision| decision.spec.label.as_str());
    match (label, message.strip_prefix(path)) {
        (Some(label), Some(rest)) => format!("{label}{rest}"),
        (None, Some(rest)) => words::sentence(rest.trim_start_matches([':', ' '])),
        (_, None) => message.to_owned(),
    }
}

/// Every decision of the stage under its heading; what was measured stands with the part and the stock it was measured on.
pub fn groups(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    groups_of(ui, view, |_| true, out);
}

/// The same of those decisions alone that are wanted.
pub fn groups_of(ui: &mut Ui, view: &View<'_>, wanted: impl Fn(&Decision) -> bool, out: &mut Out) {
    let stage = view.stage.decisions();
    let mut heading = "";
    let measured = |decision: &Decision| MEASURED.iter().any(|list| decision.spec.path.starts_with(list));
    for decision in view.decisions.iter().filter(|decision| Some(decision.spec.stage) == stage && wanted(decision) && !measured(decision)) {
        head(ui, &mut heading, decision);
        field::row(ui, decision, out);
        for cut in as_cut(&view.derived.model, decision) {
            ui.label(RichText::new(words::sentence(&cut.describe())).font(theme::small()).color(theme::PENCIL_SOFT));
        }
    }
}

/// A heading where a new one begins.
pub fn head<'d>(ui: &mut Ui, heading: &mut &'d str, decision: &'d Decision) {
    if *heading != decision.spec.group {
        *heading = &decision.spec.group;
        words::group(ui, heading);
    }
}
