//! Boards and sheets on hand: a table, and the one that is looked at with its flaws drawn on it.

use casewright_core::Length;
use casewright_core::design::edit::Edit;
use casewright_core::design::pile::{self, Flaw, Stuff};
use casewright_core::length::{trimmed, trimmed_to};
use casewright_core::table::{Bare, Column as _};
use egui::{Align, Id, Layout, Pos2, Rect, RichText, Sense, Ui};
use egui_extras::{Column, TableBuilder};

use super::super::{Out, View, field, list, words};
use super::plan::{self, Plan};
use crate::ask::Ask;
use crate::theme;

/// The pile of the demo.
const EXAMPLE: &str = include_str!("../../../../../examples/pile.csv");
/// A flaw drawn smaller than this was no flaw but a slip of the hand, mm.
const SLIP: f64 = 5.0;

/// Draws it.
pub fn ui(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    let pile = &view.session.design().shop.pile;
    let id = Id::new("looked at on hand");
    let mut chosen = ui.data(|data| data.get_temp::<Option<usize>>(id)).flatten().filter(|entry| *entry < pile.len());
    if pile.is_empty() {
        words::small(
            ui,
            "Nothing is on hand yet. Write down the boards and sheets that lie in the rack, and the parts are laid out on them.",
        );
        ui.add_space(4.0);
    } else {
        words::small(ui, "As they lie in the rack, mm. Click one to change it or to draw its flaws.");
        table(ui, view, &mut chosen, out);
    }
    add(ui, pile, &mut chosen, out);
    list::ui(ui, &list::PILE, out);
    if let Some(entry) = chosen {
        one(ui, view, entry, out);
    }
    ui.data_mut(|data| data.insert_temp(id, chosen));
}

fn add(ui: &mut Ui, pile: &[Stuff], chosen: &mut Option<usize>, out: &mut Out) {
    ui.horizontal(|ui| {
        let more = words::button(ui, "One more board or sheet");
        out.mark("pile.add", more.rect);
        if more.clicked() {
            let like = chosen.and_then(|entry| pile.get(entry)).or(pile.last());
            out.ask(Ask::Edit(Edit::AddStuff(vec![another(like, pile.len() + 1)])));
            *chosen = Some(pile.len());
        }
        if pile.is_empty() {
            let example = words::button(ui, "Try it with an example pile");
            out.mark("pile.example", example.rect);
            if example.clicked() {
                out.ask(Ask::Edit(Edit::AddStuff(pile::read(EXAMPLE, Bare::Mm).rows)));
            }
        }
    });
}

/// One more like the one that is looked at, to be measured.
fn another(like: Option<&Stuff>, number: usize) -> Stuff {
    let name = format!("Board {number}");
    match like {
        Some(like) => Stuff { name, count: 1, flaws: Vec::new(), ..like.clone() },
        None => Stuff {
            name,
            of: "white_ash".to_owned(),
            length: Length::mm(2400.0),
            width: Length::mm(200.0),
            thickness: Length::mm(27.0),
            ..pile::Of::start()
        },
    }
}

fn table(ui: &mut Ui, view: &View<'_>, chosen: &mut Option<usize>, out: &mut Out) {
    let pile = &view.session.design().shop.pile;
    let timbers = &view.derived.model.timbers;
    ui.spacing_mut().item_spacing.x = 6.0;
    let right = Layout::right_to_left(Align::Center);
    let table = TableBuilder::new(ui)
        .id_salt("on hand")
        .vscroll(false)
        .striped(true)
        .sense(Sense::click())
        .column(Column::exact(62.0))
        .column(Column::remainder().clip(true))
        .column(Column::exact(24.0))
        .column(Column::exact(44.0))
        .column(Column::exact(44.0))
        .column(Column::exact(38.0))
        .column(Column::exact(48.0))
        .column(Column::exact(38.0));
    let table = table.header(20.0, |mut header| {
        for (index, title) in ["Board", "Of", "No.", "L", "W", "T", "price", "flaws"].into_iter().enumerate() {
            header.col(|ui| {
                let layout = if index < 2 { Layout::left_to_right(Align::Center) } else { right };
                ui.with_layout(layout, |ui| words::small(ui, title));
            });
        }
    });
    table.body(|body| {
        body.rows(22.0, pile.len(), |mut row| {
            let entry = row.index();
            let Some(stuff) = pile.get(entry) else { return };
            row.set_selected(*chosen == Some(entry));
            row.col(|ui| {
                ui.add(egui::Label::new(RichText::new(&stuff.name).font(theme::strong())).truncate());
            });
            row.col(|ui| {
                let known = timbers.species(&stuff.of).map(|species| species.name.clone());
                let known = known.or_else(|| timbers.sheet(&stuff.of).map(|sheet| sheet.name.clone()));
                let ink = if known.is_some() { theme::PENCIL } else { theme::FAIL };
                ui.add(egui::Label::new(RichText::new(known.unwrap_or_else(|| stuff.of.clone())).color(ink)).truncate());
            });
            let sizes = [stuff.length, stuff.width, stuff.thickness].map(|length| trimmed(length.to_mm()));
            let price = if stuff.price > 0.0 { trimmed_to(stuff.price, 2) } else { String::new() };
            let flaws = if stuff.flaws.is_empty() { String::new() } else { stuff.flaws.len().to_string() };
            let [length, width, thickness] = sizes;
            for text in [stuff.count.to_string(), length, width, thickness, price, flaws] {
                row.col(|ui| {
                    ui.with_layout(right, |ui| ui.label(text));
                });
            }
            let response = row.response();
            out.mark(format!("pile.{}", entry + 1), response.rect);
            if response.clicked() {
                *chosen = (*chosen != Some(entry)).then_some(entry);
            }
        });
    });
}

/// The one that is looked at: drawn, with its flaws, and every figure of it.
fn one(ui: &mut Ui, view: &View<'_>, entry: usize, out: &mut Out) {
    let Some(stuff) = view.session.design().shop.pile.get(entry) else { return };
    words::group(ui, &stuff.name);
    words::small(ui, "Drag on the board to mark a flaw; no part is laid there. It lies face up, its first corner at the lower left.");
    let scale = plan::scale(std::iter::once(stuff), ui.available_width());
    let plan = Plan::new(ui, view, stuff, scale);
    out.mark("pile.board", plan.rect);
    let board = ui.interact(plan.rect, Id::new(("flaws of", entry)), Sense::drag());
    let board = board.on_hover_cursor(egui::CursorIcon::Crosshair);
    plan.board(ui.painter());
    plan.ends(ui.painter(), stuff);
    for flaw in &stuff.flaws {
        plan.flaw(ui.painter(), flaw, false);
    }
    let begun = Id::new("flaw begun");
    if board.drag_started()
        && let Some(at) = ui.input(|input| input.pointer.press_origin())
    {
        ui.data_mut(|data| data.insert_temp(begun, at));
    }
    if let (Some(from), Some(to)) = (ui.data(|data| data.get_temp::<Pos2>(begun)), board.interact_pointer_pos()) {
        let flaw = drawn(&plan, stuff, from, to);
        if board.drag_stopped() {
            ui.data_mut(|data| data.remove_temp::<Pos2>(begun));
            if flaw.length.to_mm() >= SLIP && flaw.width.to_mm() >= SLIP {
                out.ask(Ask::Edit(Edit::AddFlaw { entry, flaw }));
            }
        } else {
            let area = plan.flaw(ui.painter(), &flaw, true);
            sized(ui, area, &flaw);
        }
    }
    flaws(ui, stuff, entry, out);
    let path = format!("shop.pile.{}.", entry + 1);
    for decision in view.decisions.iter().filter(|decision| decision.spec.path.starts_with(&path) && !decision.spec.path.contains("flaws"))
    {
        field::row(ui, decision, out);
    }
    let away = words::link(ui, format!("Take {} out of the pile", stuff.name));
    out.mark("pile.remove", away.rect);
    if away.clicked() {
        out.ask(Ask::Edit(Edit::RemoveStuff(entry)));
    }
}

/// What was drawn from one place to another, to whole mm and within the board.
fn drawn(plan: &Plan, stuff: &Stuff, from: Pos2, to: Pos2) -> Flaw {
    let most = [stuff.length.to_mm(), stuff.width.to_mm()];
    let [from, to] = [from, to].map(|at| plan.place(at));
    let span = |axis: usize| {
        let ends = [from[axis], to[axis]].map(|at| at.clamp(0.0, most[axis]).round());
        (ends[0].min(ends[1]), (ends[0] - ends[1]).abs())
    };
    let ((x, length), (y, width)) = (span(0), span(1));
    let [x, y, length, width] = [x, y, length, width].map(Length::mm);
    Flaw { x, y, length, width, what: String::new(), hides: false }
}

fn sized(ui: &Ui, area: Rect, flaw: &Flaw) {
    let size = [flaw.length, flaw.width].map(|length| trimmed(length.to_mm())).join(" × ");
    ui.painter().text(area.center_bottom() + egui::vec2(0.0, 3.0), egui::Align2::CENTER_TOP, size, theme::small(), theme::CHALK);
}

fn flaws(ui: &mut Ui, stuff: &Stuff, entry: usize, out: &mut Out) {
    for (index, flaw) in stuff.flaws.iter().enumerate() {
        ui.horizontal(|ui| {
            let [x, y, length, width] = [flaw.x, flaw.y, flaw.length, flaw.width].map(|length| trimmed(length.to_mm()));
            let what = if flaw.what.is_empty() { "flaw" } else { &flaw.what };
            words::small(ui, format!("{} {length} × {width}, {x} along and {y} across", words::sentence(what)));
            if words::cross(ui, "Take this flaw off").clicked() {
                out.ask(Ask::Edit(Edit::RemoveFlaw { entry, flaw: index }));
            }
        });
    }
}
