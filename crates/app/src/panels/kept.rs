//! Where everything stands that it must hold: how much of it has a place, and what would give the rest one.

use casewright_core::contents::arrange::{Arrangement, moves};
use casewright_core::contents::row_words;
use casewright_core::length::trimmed_to;
use egui::Ui;

use super::{Out, View, words};
use crate::ask::Ask;

/// More ways than these are no help.
const MOST_CHANGES: usize = 3;

/// Draws it.
pub fn ui(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    words::group(ui, "Where it all stands");
    let Some((kept, changes)) = view.kept else {
        words::small(ui, "Being worked out.");
        return;
    };
    let stay = &kept.stay;
    ui.label(format!("{} of {} have a place", stay.placed, words::counted(stay.wanted as usize, "thing", "things")));
    let (filled, free) = (trimmed_to(stay.filled() * 100.0, 0), trimmed_to(stay.free_litres(), 0));
    words::small(ui, format!("They fill {filled} % of the room on the shelves; {free} litres are free."));
    without(ui, view, stay);
    if kept.too_heavy {
        ui.horizontal_wrapped(|ui| {
            words::sign_here(ui, casewright_core::Seriousness::WillFail);
            words::small(ui, "All that has a place is more than the case carries in all.");
        });
    }
    if let Some((design, moved)) = &kept.moved {
        let text = if moved.left.is_empty() {
            "Move the shelves so that all have one".to_owned()
        } else {
            format!("Move the shelves: {} have one", moved.placed)
        };
        let button = words::button(ui, text);
        out.mark("lay_shelves", button.rect);
        if button.clicked() {
            out.ask(Ask::Become(Box::new(design.clone())));
        }
        for one in moves(view.session.design(), design) {
            words::small(ui, words::sentence(&one.words()));
        }
    }
    for (index, change) in changes.into_iter().flatten().take(MOST_CHANGES).enumerate() {
        let button = words::button(ui, format!("{}: {}", change.words, change.gives));
        out.mark(format!("change.{}", index + 1), button.rect);
        if button.clicked() {
            out.ask(Ask::Become(Box::new(change.design.clone())));
        }
        let more = |amount: f64, unit: &str| format!("{}{} {unit}", if amount < 0.0 { "−" } else { "+" }, trimmed_to(amount.abs(), 3));
        let proven = change.least.map_or_else(String::new, |least| format!(", {}", least.words()));
        words::small(ui, format!("{} timber, {} sheet{proven}", more(change.timber, "m³"), more(change.sheet, "m²")));
    }
    for one in kept.displaced.iter().take(MOST_DISPLACED) {
        words::small(ui, words::sentence(&one.words(&view.session.design().contents)));
    }
    if kept.displaced.len() > MOST_DISPLACED {
        words::small(ui, format!("and {} more", kept.displaced.len() - MOST_DISPLACED));
    }
    if words::disclosure(ui, "shelf by shelf", false) {
        for row in &stay.rows {
            let carries = row.carries.map_or_else(String::new, |kg| format!(" of {}", trimmed_to(kg, 0)));
            let head =
                format!("{}: {}{carries} kg, {} mm free", words::sentence(&row.name()), trimmed_to(row.kg(), 1), trimmed_to(row.free(), 0));
            ui.label(egui::RichText::new(head).font(crate::theme::small()));
            words::indented(ui, &format!("  {}", row_words(&row.stacks, &view.session.design().contents)));
        }
    }
}

/// So many lines of what stands elsewhere than before are told.
const MOST_DISPLACED: usize = 6;

/// What has no place.
fn without(ui: &mut Ui, view: &View<'_>, arrangement: &Arrangement) {
    for left in &arrangement.left {
        let name = view.session.design().contents.get(left.kind).map_or("", |kind| &kind.name);
        let why = arrangement.why(view.session.design(), left);
        ui.horizontal_wrapped(|ui| {
            words::sign_here(ui, casewright_core::Seriousness::AtRisk);
            words::small(ui, format!("{} × {name}: {why}", left.count));
        });
    }
    if !arrangement.left.is_empty() {
        let told = if arrangement.proven() {
            "Proven: with the shelves as they lie no more can be placed.".to_owned()
        } else {
            format!("With the shelves as they lie at most {} could have one.", arrangement.most)
        };
        words::small(ui, told);
    }
}
