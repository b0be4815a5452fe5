//! What was made and measured in the shop: of one part, and of stock.

use casewright_core::design::Dimension;
use casewright_core::design::decisions::{Decision, Spec, Stage, Unit, Value};
use casewright_core::design::shop::{self, MEASURABLE, State};
use casewright_core::length::{Length, trimmed};
use casewright_core::model::Part;
use egui::{RichText, Ui};

use super::{Out, View, field, words};
use crate::ask::Ask;
use crate::theme;

/// How far a part is made, and what was measured on it.
pub fn of_part(ui: &mut Ui, view: &View<'_>, part: &Part, out: &mut Out) {
    let shop = &view.session.design().shop;
    words::group(ui, "As made");
    let now = shop.state(&part.name);
    ui.horizontal(|ui| {
        for state in State::ALL {
            let chosen = state == now;
            let ink = if chosen { theme::CHALK } else { theme::PENCIL_SOFT };
            let font = if chosen { theme::strong() } else { theme::body() };
            let word = ui.selectable_label(chosen, RichText::new(state.word()).font(font).color(ink));
            let path = format!("made.{}.state", part.name);
            out.mark(format!("{path}.{}", state.word()), word.rect);
            if word.on_hover_text(meaning(state)).clicked() && !chosen {
                out.ask(Ask::set(path, state.word()));
            }
        }
    });
    let record = shop.record(&part.name);
    for of in Dimension::ALL {
        let path = format!("made.{}.{}", part.name, of.word());
        let measured = record.and_then(|record| record.measured(of));
        let there = measured.unwrap_or(Length::mm(part.size[of.index()].mm));
        measure(ui, &path, &words::sentence(of.word()), there, measured.is_some(), out);
    }
}

fn meaning(state: State) -> &'static str {
    match state {
        State::Planned => "Nothing of it is there: it follows the plan",
        State::Roughed => "Sawn with room to spare, or brought to some of its sizes: it still follows the plan",
        State::Cut => "At its sizes and with its joints cut: it stays as it is, and the rest is made to fit it",
        State::Glued => "Glued to others: it stays as it is",
    }
}

/// Stock as it measures, against what was planned.
pub fn of_stock(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    words::group(ui, "As milled");
    words::small(ui, "What the stock really measures. Parts not yet cut are made to fit it.");
    for stock in shop::stock(view.session.design()) {
        let path = format!("measured.{}", stock.path);
        measure(ui, &path, &stock.label, stock.measured.unwrap_or(stock.planned), stock.measured.is_some(), out);
    }
}

/// A row for a measure: as planned until it is measured, then a field, and a cross to take it back.
fn measure(ui: &mut Ui, path: &str, label: &str, there: Length, is_measured: bool, out: &mut Out) {
    let spec = Spec {
        path: path.to_owned(),
        label: label.to_owned(),
        meaning: "As it measures, mm.",
        unit: Unit::Millimetres,
        range: Some(MEASURABLE),
        stage: Stage::Boards,
        group: String::new(),
    };
    let decision = Decision { spec, value: Value::Length(there) };
    if is_measured {
        field::row_with(ui, &decision, label, out, |ui, out| {
            if words::cross(ui, &format!("Not measured: {label}")).clicked() {
                out.ask(Ask::set(path, "none"));
            }
        });
        return;
    }
    ui.push_id(path, |ui| {
        ui.horizontal(|ui| {
            let room = egui::vec2((ui.available_width() - 150.0).max(60.0), theme::ROW);
            ui.allocate_ui_with_layout(room, egui::Layout::left_to_right(egui::Align::Center), |ui| {
                ui.set_min_width(room.x);
                ui.add(egui::Label::new(label).truncate());
            });
            words::small(ui, format!("{} mm", trimmed(there.to_mm())));
            let link = words::link(ui, "measured …");
            out.mark(path, link.rect);
            if link.clicked() {
                field::write_in(ui, path);
                out.ask(Ask::set(path, there.to_mm().to_string()));
            }
        });
    });
}
