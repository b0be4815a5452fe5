//! The stage "Drawings": the papers for the shop, the drawings as they would be printed.

use egui::{Id, ScrollArea, Sense, Ui, vec2};

use super::{Out, View, page, words};
use crate::ask::Ask;

/// How much larger a sheet is drawn that is looked at closely.
const CLOSE: f32 = 2.6;

/// Draws it.
pub fn ui(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    words::heading(ui, "Drawings");
    words::small(ui, "Papers for the shop, made from the case as it stands.");
    let save = words::button(ui, "Save papers…");
    out.mark("save_papers", save.rect);
    if save.clicked() {
        out.ask(Ask::SavePapers);
    }
    words::small(ui, "They go into a folder you name; papers of the same names there are replaced:");
    let rows = view.derived.cut_list.rows.len();
    let findings = view.derived.findings.len();
    for (name, holds) in [
        ("drawings.pdf", format!("the sheets below, the cut list, {}", words::counted(findings, "finding", "findings"))),
        ("cut_list.csv", format!("{}, finished and rough sizes, cuts", words::counted(rows, "mark", "marks"))),
        ("set_up_cards.pdf", "how the machines are set, a card a setting".to_owned()),
        ("board_plans.pdf", "what is cut from which board, where boards are on hand".to_owned()),
        ("shelf_plan.pdf", "where everything stands, and a label for each shelf with what it carries".to_owned()),
    ] {
        words::small(ui, format!("{name}: {holds}"));
    }
    words::rule(ui);
    sheets(ui, view, out);
}

/// The sheets one below the other; a click brings one nearer.
fn sheets(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    if view.drawn.is_empty() {
        words::small(ui, "Being drawn");
        return;
    }
    let near = Id::new("sheet looked at closely");
    let mut close = ui.data(|data| data.get_temp::<Option<String>>(near)).flatten();
    for sheet in view.drawn {
        let wide = ui.available_width();
        let shape = (sheet.size.y / sheet.size.x.max(1.0)) as f32;
        let is_close = close.as_deref() == Some(sheet.name.as_str());
        let draw = |ui: &mut Ui, wide: f32| {
            let (rect, response) = ui.allocate_exact_size(vec2(wide, wide * shape), Sense::click());
            if ui.is_rect_visible(rect) {
                page::paint(&ui.painter_at(rect), rect, sheet);
            }
            response
        };
        let response = if is_close {
            let scroll = ScrollArea::both().id_salt(&sheet.name).max_height(wide * 1.1).max_width(wide);
            scroll.show(ui, |ui| draw(ui, wide * CLOSE)).inner
        } else {
            draw(ui, wide)
        };
        out.mark(format!("sheet.{}", sheet.name), response.rect);
        let told = if is_close { "Click to see all of it" } else { "Click to look closely" };
        if response.on_hover_text(format!("{}. {told}", sheet.title)).clicked() {
            close = (!is_close).then(|| sheet.name.clone());
        }
        ui.add_space(8.0);
    }
    ui.data_mut(|data| data.insert_temp(near, close));
}
