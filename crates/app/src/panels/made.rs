//! What was made and measured in the shop: of one part, and of stock.

use casewright_core::design::Dimension;
use casewright_core::design::decisions::{Decision, Spec, Stage, Unit, Value};
use casewright_core::design::shop::{self, End, MEASURABLE, State};
use casewright_core::length::{Length, trimmed};
use casewright_core::model::Part;
use casewright_core::place::Dir;
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
        Measured::size(&path, &words::sentence(of.word()), there, measured.is_some()).ui(ui, out);
    }
    let shims = End::ALL.map(|end| (end, record.and_then(|record| record.shim(end))));
    for (end, shim) in shims.into_iter().filter(|(_, shim)| now.is_cut() || shim.is_some()) {
        let path = format!("made.{}.{}_shim", part.name, end.word());
        Measured::shim(&path, &format!("Shim at its {} end", side(part, end)), shim).ui(ui, out);
    }
}

/// On which side of the case an end of a part is, as one stands before it.
fn side(part: &Part, end: End) -> &'static str {
    let out = part.pose.basis.x_axis * if end == End::First { -1.0 } else { 1.0 };
    match Dir::nearest(out) {
        Dir::MinusX => "left",
        Dir::PlusX => "right",
        Dir::MinusY => "lower",
        Dir::PlusY => "upper",
        Dir::MinusZ => "back",
        Dir::PlusZ => "front",
    }
}

fn meaning(state: State) -> &'static str {
    match state {
        State::Planned => "Nothing of it is there: it follows the plan",
        State::Roughed => "Sawn with room to spare, or brought to some of its sizes: it still follows the plan",
        State::Cut => "At its sizes and with its joints cut: it stays as it is, and the rest is made to fit it",
        State::Glued => {
            "Glued, or standing dry in what is glued: a joint is made when both of its parts are, and the order of work begins from there. It stays as it is"
        }
    }
}

/// Stock as it measures, against what was planned.
pub fn of_stock(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    words::group(ui, "As milled");
    words::small(ui, "What the stock really measures. Parts not yet cut are made to fit it.");
    for stock in shop::stock(view.session.design()) {
        let path = format!("measured.{}", stock.path);
        Measured::size(&path, &stock.label, stock.measured.unwrap_or(stock.planned), stock.measured.is_some()).ui(ui, out);
    }
}

/// A row for what may be written down: a few words until it is, then a field, and a cross to take it back.
struct Measured<'a> {
    path: &'a str,
    label: &'a str,
    meaning: &'static str,
    /// What stands in the field, and at first is written into it.
    value: Length,
    is_there: bool,
    /// What stands there until it is written down.
    until_then: String,
    /// What is clicked to write it down.
    write: &'static str,
}

impl<'a> Measured<'a> {
    /// A size: as planned until it is measured.
    fn size(path: &'a str, label: &'a str, value: Length, is_there: bool) -> Measured<'a> {
        let until_then = format!("{} mm", trimmed(value.to_mm()));
        Measured { path, label, meaning: "As it measures, mm.", value, is_there, until_then, write: "measured …" }
    }

    /// A shim: none until one is glued on.
    fn shim(path: &'a str, label: &'a str, shim: Option<Length>) -> Measured<'a> {
        let meaning = "How thick a shim is glued to its shoulder there, mm.";
        let value = shim.unwrap_or(Length::mm(FIRST_SHIM));
        Measured { path, label, meaning, value, is_there: shim.is_some(), until_then: "none".to_owned(), write: "glued on …" }
    }

    fn ui(&self, ui: &mut Ui, out: &mut Out) {
        if !self.is_there {
            self.not_yet(ui, out);
            return;
        }
        let spec = Spec {
            path: self.path.to_owned(),
            label: self.label.to_owned(),
            meaning: self.meaning,
            unit: Unit::Millimetres,
            range: Some(MEASURABLE),
            stage: Stage::Boards,
            group: String::new(),
        };
        let decision = Decision { spec, value: Value::Length(self.value) };
        field::row_with(ui, &decision, self.label, out, |ui, out| {
            if words::cross(ui, &format!("Take it back: {}", self.label)).clicked() {
                out.ask(Ask::set(self.path, "none"));
            }
        });
    }

    fn not_yet(&self, ui: &mut Ui, out: &mut Out) {
        ui.push_id(self.path, |ui| {
            ui.horizontal(|ui| {
                let room = egui::vec2((ui.available_width() - 150.0).max(60.0), theme::ROW);
                ui.allocate_ui_with_layout(room, egui::Layout::left_to_right(egui::Align::Center), |ui| {
                    ui.set_min_width(room.x);
                    ui.add(egui::Label::new(self.label).truncate());
                });
                words::small(ui, &self.until_then);
                let link = words::link(ui, self.write);
                out.mark(self.path, link.rect);
                if link.clicked() {
                    field::write_in(ui, self.path);
                    out.ask(Ask::set(self.path, self.value.to_mm().to_string()));
                }
            });
        });
    }
}

/// How thick a shim is at first, mm, until the maker writes how thick it is.
const FIRST_SHIM: f64 = 1.0;
