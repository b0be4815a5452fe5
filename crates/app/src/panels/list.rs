//! A table pasted from a spreadsheet: rows that can be read are taken, those that can't stay with what is wrong.

use casewright_core::contents::list;
use casewright_core::design::BoxKind;
use casewright_core::design::dealer::{self, Offer};
use casewright_core::design::edit::Edit;
use casewright_core::design::pile::{self, Stuff};
use casewright_core::table::{BadRow, Bare, Listed};
use egui::{Id, RichText, TextEdit, Ui};

use super::{Out, words};
use crate::ask::Ask;
use crate::theme;

/// A table that can be pasted.
pub struct Paste<T> {
    /// Its name for automatic tests.
    name: &'static str,
    /// What opens it.
    title: &'static str,
    /// What a row is.
    told: &'static str,
    /// A row, as it is written.
    hint: &'static str,
    /// What a row gives, one and many.
    gives: [&'static str; 2],
    read: fn(&str, Bare) -> Listed<T>,
    take: fn(Vec<T>) -> Edit,
}

/// Things to keep.
pub const BOXES: Paste<BoxKind> = Paste {
    name: "list",
    title: "paste a list",
    told: "A row a kind: name, width, depth, height, weight, how many. Headings may name other columns and units.",
    hint: "Records carton\t330\t406\t254\t16\t6",
    gives: ["kind", "kinds"],
    read: list::read,
    take: Edit::AddBoxes,
};

/// Boards and sheets on hand.
pub const PILE: Paste<Stuff> = Paste {
    name: "pile",
    title: "paste a table",
    told: "Headings first: board, species, length, width, thickness, and if you like how many, price, end checks, colour, flaws.",
    hint: "board\tspecies\tlength\twidth\tthickness\nA1\twhite_ash\t2500\t230\t34",
    gives: ["row", "rows"],
    read: pile::read,
    take: Edit::AddStuff,
};

/// What a dealer offers.
pub const DEALER: Paste<Offer> = Paste {
    name: "dealer",
    title: "paste a dealer's list",
    told: "Headings first: species, length, width, thickness, price, and if you like name, per, pack, available. Random widths: 120 to 220.",
    hint: "name\tspecies\tlength\twidth\tthickness\tprice\tper\nAsh 27\twhite_ash\t3000\t280\t27\t1500\tm³",
    gives: ["offer", "offers"],
    read: dealer::read,
    take: Edit::AddOffers,
};

/// What is written in the box, kept from frame to frame.
#[derive(Clone, Default)]
struct Pasted {
    text: String,
    bare: Bare,
}

/// Draws it.
pub fn ui<T>(ui: &mut Ui, paste: &Paste<T>, out: &mut Out) {
    let at = ui.cursor().min;
    let open = words::disclosure(ui, paste.title, false);
    out.mark(format!("paste_{}", paste.name), egui::Rect::from_min_size(at, egui::vec2(60.0, 16.0)));
    if !open {
        return;
    }
    let id = Id::new(("pasted", paste.name));
    let mut pasted = ui.data(|data| data.get_temp::<Pasted>(id)).unwrap_or_default();
    words::small(ui, paste.told);
    let edit =
        TextEdit::multiline(&mut pasted.text).desired_rows(4).desired_width(f32::INFINITY).font(theme::small()).hint_text(paste.hint);
    let edit = ui.add(edit);
    out.mark(format!("pasted_{}", paste.name), edit.rect);
    ui.horizontal(|ui| {
        words::small(ui, "bare numbers are");
        for (bare, word) in [(Bare::Mm, "mm"), (Bare::Cm, "cm"), (Bare::Inches, "inches")] {
            if ui.selectable_label(pasted.bare == bare, word).clicked() {
                pasted.bare = bare;
            }
        }
    });
    let listed = (paste.read)(&pasted.text, pasted.bare);
    for words in listed.bad.iter().flat_map(BadRow::words).take(6) {
        ui.label(RichText::new(words).font(theme::small()).color(theme::FAIL));
    }
    if !listed.rows.is_empty() {
        let [one, many] = paste.gives;
        let button = words::button(ui, format!("Take {}", words::counted(listed.rows.len(), one, many)));
        out.mark(format!("take_{}", paste.name), button.rect);
        if button.clicked() {
            // What could not be read stays, to be mended.
            pasted.text = listed.left();
            out.ask(Ask::Edit((paste.take)(listed.rows)));
        }
    }
    ui.data_mut(|data| data.insert_temp(id, pasted));
}
