//! Findings: how many of each kind, then each with its sign, its figures and what mends it.

use casewright_core::Seriousness;
use std::fmt::Write as _;

use casewright_core::contents::told_without_place;
use casewright_core::inspect::{Figure, Finding, Rule};
use casewright_core::length::trimmed;
use casewright_core::model::Model;
use egui::{Label, RichText, Sense, Ui};

use super::words::{self, sign_here};
use super::{Out, View};
use crate::ask::Ask;
use crate::theme;

/// Draws the findings; with `details` each tells its parts, figures and source without being asked.
pub fn ui(ui: &mut Ui, view: &View<'_>, details: bool, out: &mut Out) {
    words::heading(ui, if details { "Dry fit" } else { "Findings" });
    counts(ui, view);
    let (checked, stands) = (view.derived.is_checked(), view.derived.errors.is_empty());
    if stands && !checked {
        words::small(ui, "So far: how it goes together, what it bears and what the seasons do is still being checked.");
    } else if view.derived.findings.is_empty() {
        words::rule(ui);
        words::small(ui, if stands { "Nothing found: by all checks there are, it goes together." } else { "Nothing found." });
    }
    if !view.derived.errors.is_empty() {
        words::small(ui, "These are of the last case that could be built.");
    }
    for (index, finding) in view.derived.findings.iter().enumerate() {
        words::rule(ui);
        ui.push_id(("finding", index), |ui| one(ui, view, index, finding, details, out));
    }
}

fn counts(ui: &mut Ui, view: &View<'_>) {
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 5.0;
        for seriousness in [Seriousness::WillFail, Seriousness::AtRisk, Seriousness::Note] {
            let count = view.derived.findings.iter().filter(|finding| finding.seriousness == seriousness).count();
            sign_here(ui, seriousness);
            let word = match seriousness {
                Seriousness::Note if count != 1 => "notes",
                Seriousness::Note | Seriousness::WillFail | Seriousness::AtRisk => seriousness.word(),
            };
            ui.label(RichText::new(format!("{count} {word}")).font(theme::small()).color(words::colour(seriousness)));
            ui.add_space(6.0);
        }
    });
}

/// What a finding says; what has no place as it is shown, where things stand where they stood.
fn message(view: &View<'_>, finding: &Finding) -> String {
    let stands = view.kept.filter(|_| finding.rule == Rule::AllPlaced).map(|(kept, _)| &kept.stay);
    let as_shown = stands.and_then(|stands| told_without_place(view.session.design(), &view.derived.model, stands));
    as_shown.unwrap_or_else(|| finding.message.clone())
}

fn one(ui: &mut Ui, view: &View<'_>, index: usize, finding: &Finding, details: bool, out: &mut Out) {
    ui.horizontal_top(|ui| {
        sign_here(ui, finding.seriousness);
        ui.vertical(|ui| {
            let chosen = view.selection.finding == Some(index);
            let ink = if chosen { theme::CHALK } else { theme::PENCIL };
            let told = message(view, finding);
            let text = RichText::new(words::sentence(&told)).font(theme::strong()).color(ink);
            let message = ui.add(Label::new(text).wrap().sense(Sense::click()));
            let message = message.on_hover_cursor(egui::CursorIcon::PointingHand);
            message.widget_info(|| {
                egui::WidgetInfo::labeled(egui::WidgetType::Button, true, format!("{}: {told}", finding.seriousness.word()))
            });
            out.mark(format!("finding.{index}"), message.rect);
            if message.clicked() {
                out.ask(Ask::ShowFinding(index));
            }
            if details {
                words::small(ui, format!("{} · {}", finding.seriousness.word(), parts(finding, &view.derived.model)));
            }
            mend(ui, index, finding, out);
            if details || words::disclosure(ui, "why?", false) {
                why(ui, view, finding);
            }
        });
    });
    ui.add_space(2.0);
}

fn mend(ui: &mut Ui, index: usize, finding: &Finding, out: &mut Out) {
    for (number, remedy) in finding.remedies.iter().enumerate() {
        if remedy.changes.is_empty() {
            words::small(ui, words::sentence(&remedy.words));
            continue;
        }
        ui.add_space(2.0);
        let button = words::button(ui, words::sentence(&remedy.words));
        out.mark(format!("remedy.{index}.{number}"), button.rect);
        if button.clicked() {
            out.ask(Ask::Remedy { finding: index, remedy: number });
        }
    }
}

fn why(ui: &mut Ui, view: &View<'_>, finding: &Finding) {
    for figure in &finding.figures {
        words::small(ui, told(figure));
        let lines = figure.why.iter().flat_map(|why| why.explain()).skip(1);
        for line in lines {
            words::small(ui, line);
        }
    }
    ui.add_space(2.0);
    words::small(ui, words::sentence(finding.rule.reckoned()));
    ui.label(RichText::new(finding.sources(&view.derived.model)).font(theme::quoted()).color(theme::PENCIL_SOFT));
}

fn told(figure: &Figure) -> String {
    format!("{} {} {}", figure.name, trimmed(figure.value), figure.unit).trim_end().to_owned()
}

/// The parts by title, the first few.
fn parts(finding: &Finding, model: &Model) -> String {
    const MOST: usize = 3;
    let titles = finding.parts.iter().filter_map(|part| model.parts.get(part.0)).map(|part| part.title.as_str());
    let mut text = titles.take(MOST).collect::<Vec<_>>().join(", ");
    if finding.parts.len() > MOST {
        let _ = write!(text, " and {} more", finding.parts.len() - MOST);
    }
    text
}
