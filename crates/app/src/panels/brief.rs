//! The stage "Brief": what it must hold.

use casewright_core::contents::{Weight, best_room, common_boxes, rooms_for};
use casewright_core::design::BoxKind;
use casewright_core::design::decisions::Decision;
use casewright_core::design::edit::Edit;
use casewright_core::length::trimmed;
use egui::{Align, Layout, RichText, Ui, vec2};

use super::{Out, View, field, kept, list, proposed, stage, words};
use crate::ask::Ask;
use crate::keeping::Boxes;
use crate::theme;

/// Draws it.
pub fn ui(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    words::heading(ui, "Brief");
    words::small(ui, "What it must hold: width × depth × height as it stands on the shelf, weight of one when full, how many.");
    kept::ui(ui, view, out);
    proposed::ui(ui, view, out);
    for (index, kind) in view.session.design().contents.iter().enumerate() {
        words::rule(ui);
        ui.push_id(("box", index), |ui| one(ui, view, index, kind, out));
    }
    words::rule(ui);
    add(ui, out);
    list::ui(ui, &list::BOXES, out);
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
            let rest = ui.available_width() - 40.0;
            field::field(ui, name, rest, out);
        }
        let (swatch, _) = ui.allocate_exact_size(vec2(10.0, 10.0), egui::Sense::hover());
        ui.painter().rect_filled(swatch, 2.0, theme::kind(index));
        words::small(ui, (index + 1).to_string());
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
    stands(ui, view, index, kind, out);
    // What is not as usual is shown at once.
    let plain = BoxKind { name: kind.name.clone(), count: kind.count, ..BoxKind::new("", sizes_of(kind), kind.mass, 1) };
    if words::disclosure(ui, "how it stands and is taken", plain != *kind) {
        for decision in ["lies", "bears", "nests", "taken", "spare"].into_iter().filter_map(find) {
            field::row(ui, decision, out);
        }
    }
}

fn find<'d>(decisions: &'d [Decision], index: usize, name: &str) -> Option<&'d Decision> {
    let path = format!("contents.{}.{name}", index + 1);
    decisions.iter().find(|decision| decision.spec.path == path)
}

fn sizes_of(kind: &BoxKind) -> [f64; 3] {
    [kind.width, kind.depth, kind.height].map(casewright_core::Length::to_mm)
}

/// Where it can stand, or what is lacking; a click lights the shelves that take it.
fn stands(ui: &mut Ui, view: &View<'_>, index: usize, kind: &BoxKind, out: &mut Out) {
    let (hand, model) = (&view.session.design().hand_room, &view.derived.model);
    let rooms = match view.kept.and_then(|(kept, _)| kept.kinds.get(index)) {
        Some(rooms) => rooms.iter().filter(|room| room.takes()).count(),
        None => rooms_for(model, kind, hand).len(),
    };
    if rooms == 0 {
        let lacking = match best_room(model, kind, hand) {
            Some((room, fit)) if !fit.fits() => format!("No shelf takes it; nearest is {}, which lacks {}", room.name, fit.words()),
            Some(_) => "No shelf that is wide enough carries it".to_owned(),
            None => "No shelf takes it".to_owned(),
        };
        ui.horizontal_wrapped(|ui| {
            words::sign_here(ui, casewright_core::Seriousness::WillFail);
            ui.label(RichText::new(lacking).font(theme::small()).color(theme::FAIL));
        });
    }
    let chosen = view.boxes.chosen == Some(index);
    let told = format!("{rooms} of {} take it", words::counted(model.rooms.len(), "shelf or floor", "shelves and floors"));
    let text = if chosen { format!("{told}, lit in the case") } else { told };
    let link = words::link(ui, text).on_hover_text("Light the shelves that take it; the others say why not");
    out.mark(format!("takes.{}", index + 1), link.rect);
    if link.clicked() {
        out.ask(Ask::Boxes(Boxes { chosen: (!chosen).then_some(index), ..view.boxes }));
    }
}

fn add(ui: &mut Ui, out: &mut Out) {
    let combo = egui::ComboBox::from_id_salt("add a kind").width(200.0).selected_text("Add a kind of box…");
    let response = combo.show_ui(ui, |ui| {
        if ui.selectable_label(false, "One to be measured").clicked() {
            out.ask(Ask::Edit(Edit::AddBox(None)));
        }
        for common in common_boxes() {
            words::small(ui, format!("{}, {} × {} × {}", common.name, common.width_mm, common.depth_mm, common.height_mm));
            ui.horizontal(|ui| {
                ui.add_space(10.0);
                for weight in Weight::ALL {
                    let text = format!("{} {} kg", weight.words(), trimmed(common.mass(weight)));
                    if ui.selectable_label(false, text).on_hover_text(&common.source).clicked() {
                        out.ask(Ask::Edit(Edit::AddBox(Some((common.id.as_str(), weight)))));
                        ui.close();
                    }
                }
            });
        }
    });
    out.mark("add_box", response.response.rect);
}
