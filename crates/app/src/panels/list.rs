//! A list of things pasted from a spreadsheet: what can be read is taken, what can't stays with what is wrong.

use casewright_core::contents::list::read;
use casewright_core::design::edit::Edit;
use casewright_core::table::{BadRow, Bare};
use egui::{Id, RichText, TextEdit, Ui};

use super::{Out, words};
use crate::ask::Ask;
use crate::theme;

/// What is written in the box, kept from frame to frame.
#[derive(Clone, Default)]
struct Pasted {
    text: String,
    bare: Bare,
}

/// Draws it.
pub fn ui(ui: &mut Ui, out: &mut Out) {
    let at = ui.cursor().min;
    let open = words::disclosure(ui, "paste a list", false);
    out.mark("paste_list", egui::Rect::from_min_size(at, egui::vec2(60.0, 16.0)));
    if !open {
        return;
    }
    let id = Id::new("pasted list");
    let mut pasted = ui.data(|data| data.get_temp::<Pasted>(id)).unwrap_or_default();
    words::small(ui, "A row a kind: name, width, depth, height, weight, how many. Headings may name other columns and units.");
    let hint = "Records carton\t330\t406\t254\t16\t6";
    let edit = TextEdit::multiline(&mut pasted.text).desired_rows(4).desired_width(f32::INFINITY).font(theme::small()).hint_text(hint);
    let edit = ui.add(edit);
    out.mark("pasted_list", edit.rect);
    ui.horizontal(|ui| {
        words::small(ui, "bare numbers are");
        for (bare, word) in [(Bare::Mm, "mm"), (Bare::Cm, "cm"), (Bare::Inches, "inches")] {
            if ui.selectable_label(pasted.bare == bare, word).clicked() {
                pasted.bare = bare;
            }
        }
    });
    let listed = read(&pasted.text, pasted.bare);
    for words in listed.bad.iter().flat_map(BadRow::words).take(6) {
        ui.label(RichText::new(words).font(theme::small()).color(theme::FAIL));
    }
    if !listed.rows.is_empty() {
        let button = words::button(ui, format!("Take {}", words::counted(listed.rows.len(), "kind", "kinds")));
        out.mark("take_list", button.rect);
        if button.clicked() {
            // What could not be read stays, to be mended.
            pasted.text = listed.left();
            out.ask(Ask::Edit(Edit::AddBoxes(listed.rows)));
        }
    }
    ui.data_mut(|data| data.insert_temp(id, pasted));
}
