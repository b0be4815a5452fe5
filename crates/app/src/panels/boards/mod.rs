//! The stage "Boards": the cut list, what is on hand, what is cut from which board, what to buy, and what it all costs.

mod buying;
mod cost;
mod cut_list;
mod drag;
mod on_hand;
mod plan;
mod plans;
mod takes;

use egui::{RichText, Ui};

use super::{Out, View, made, stage, words};
use crate::ask::Ask;
use crate::laid::Leaf;
use crate::theme;

/// What belongs to one board on hand stands with that board, what belongs to an offer with the dealer's list.
const LISTED: [&str; 2] = ["shop.pile.", "shop.dealer."];

/// Draws it.
pub fn ui(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    words::heading(ui, "Boards");
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 2.0;
        for leaf in Leaf::ALL {
            let chosen = view.leaf == leaf;
            let (ink, font) = if chosen { (theme::CHALK, theme::strong()) } else { (theme::PENCIL_SOFT, theme::body()) };
            let choice = ui.selectable_label(chosen, RichText::new(leaf.word()).color(ink).font(font));
            out.mark(format!("boards.{}", leaf.word()), choice.rect);
            if choice.clicked() && !chosen {
                out.ask(Ask::Turn(leaf));
            }
        }
    });
    words::rule(ui);
    match view.leaf {
        Leaf::Parts => {
            cut_list::ui(ui, view, out);
            takes::ui(ui, view);
            stage::groups_of(ui, view, |decision| !LISTED.iter().any(|list| decision.spec.path.starts_with(list)), out);
            made::of_stock(ui, view, out);
        }
        Leaf::OnHand => on_hand::ui(ui, view, out),
        Leaf::Plans => plans::ui(ui, view, out),
        Leaf::Buying => buying::ui(ui, view, out),
        Leaf::Cost => cost::ui(ui, view, out),
    }
}
