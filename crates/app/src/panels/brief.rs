//! The stage "Brief": what it must hold.

use casewright_core::contents::{Stance, best_room, common_boxes, rooms_for};
use casewright_core::design::decisions::Decision;
use casewright_core::design::edit::Edit;
use casewright_core::design::{BoxKind, HandRoom};
use casewright_core::length::trimmed;
use casewright_core::model::Model;
use egui::{Align, Layout, RichText, Ui, vec2};

use super::{Out, View, field, stage, words};
use crate::ask::Ask;
use crate::theme;

/// Draws it.
pub fn ui(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    words::heading(ui, "Brief");
    words::small(ui, "What it must hold: width × depth × height as it stands on the shelf, weight of one when full, how many.");
    for (index, kind) in view.session.design().contents.iter().enumerate() {
        words::rule(ui);
        ui.push_id(("box", index), |ui| one(ui, view, index, kind, out));
    }
    words::rule(ui);
    add(ui, out);
    // Of the boxes each field stands above.
    stage::groups_of(ui, view, |decision| !decision.spec.path.starts_with("contents."), out);
}

fn one(ui: &mut Ui, view: &View<'_>, index: usize, kind: &BoxKind, out: &mut Out) {
    let find = |name: &str| find(view.decisions, index, name);
    let row = vec2(ui.available_width(), theme::ROW);
    ui.allocate_ui_with_layout(row, Layout::right_to_left(Align::Center), |ui| {
        if words::cross(ui, &format!("Take {} off the list", kind.name)).clicked() {
            out.ask(Ask::Edit(Edit::RemoveBox(index)));
        }
        if let Some(count) = find("count") {
            field::field(ui, count, 46.0, out);
            words::small(ui, "how many");
        }
        if let Some(name) = find("name") {
            let rest = ui.available_width();
            field::field(ui, name, rest, out);
        }
    });
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        for (position, name) in ["width", "depth", "height", "mass"].into_iter().enumerate() {
            match position {
                1 | 2 => {
                    words::small(ui, "×");
                }
                3 => ui.add_space(6.0),
                _ => {}
            }
            if let Some(decision) = find(name) {
                field::field(ui, decision, 68.0, out);
            }
        }
    });
    for name in ["width", "depth", "height", "mass", "count"] {
        field::problem(ui, &format!("contents.{}.{name}", index + 1));
    }
    stands(ui, kind, &view.session.design().hand_room, &view.derived.model);
}

fn find<'d>(decisions: &'d [Decision], index: usize, name: &str) -> Option<&'d Decision> {
    let path = format!("contents.{}.{name}", index + 1);
    decisions.iter().find(|decision| decision.spec.path == path)
}

/// Where it can stand, or what is lacking.
fn stands(ui: &mut Ui, kind: &BoxKind, hand: &HandRoom, model: &Model) {
    let rooms = rooms_for(model, kind, hand).len();
    if rooms > 0 {
        words::small(ui, format!("{} of {} take it", rooms, words::counted(model.rooms.len(), "shelf or floor", "shelves and floors")));
        return;
    }
    let lacking = match best_room(model, kind, hand) {
        Some((room, fit)) => {
            let lacks: Vec<_> = fit.lack.amounts().map(|(name, by)| format!("{} mm of {name}", trimmed(by))).collect();
            let lying = if fit.stance == Stance::AsListed { String::new() } else { format!(", {}", fit.stance.words()) };
            format!("No shelf takes it; nearest is {}, which lacks {}{lying}", room.name, lacks.join(" and "))
        }
        None => "No shelf takes it".to_owned(),
    };
    ui.horizontal_wrapped(|ui| {
        words::sign_here(ui, casewright_core::Seriousness::WillFail);
        ui.label(RichText::new(lacking).font(theme::small()).color(theme::FAIL));
    });
}

fn add(ui: &mut Ui, out: &mut Out) {
    let combo = egui::ComboBox::from_id_salt("add a kind").width(200.0).selected_text("Add a kind of box…");
    let response = combo.show_ui(ui, |ui| {
        if ui.selectable_label(false, "One to be measured").clicked() {
            out.ask(Ask::Edit(Edit::AddBox(None)));
        }
        for common in common_boxes() {
            let size = format!("{}, {} × {} × {}", common.name, common.width_mm, common.depth_mm, common.height_mm);
            if ui.selectable_label(false, size).on_hover_text(&common.source).clicked() {
                out.ask(Ask::Edit(Edit::AddBox(Some(common.id.as_str()))));
            }
        }
    });
    out.mark("add_box", response.response.rect);
}
