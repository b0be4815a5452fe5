//! What to buy from a dealer's list besides what is on hand, what that costs, and what if a board turns out bad.

use casewright_core::boards::{Buying, ToBuy};
use casewright_core::design::dealer::{self, Offer};
use casewright_core::design::edit::Edit;
use casewright_core::design::pile::Stuff;
use casewright_core::length::{Length, trimmed};
use casewright_core::table::Bare;
use egui::Ui;

use super::super::{Out, View, list, words};
use super::plans;
use crate::ask::Ask;
use crate::laid::Leaf;

/// The dealer's list of the demo.
const EXAMPLE: &str = include_str!("../../../../../examples/dealer.csv");

/// Draws it.
pub fn ui(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    let offers = &view.session.design().shop.dealer;
    if offers.is_empty() {
        words::small(ui, "No dealer's list yet. Paste what a dealer offers, and what to buy for the least money is worked out from it.");
        ui.add_space(4.0);
        let example = words::button(ui, "Try it with an example list");
        out.mark("dealer.example", example.rect);
        if example.clicked() {
            out.ask(Ask::Edit(Edit::AddOffers(dealer::read(EXAMPLE, Bare::Mm).rows)));
        }
        list::ui(ui, &list::DEALER, out);
        return;
    }
    let found = view.bought.found(view.derived.generation);
    let open = found.is_some_and(|bought| bought.cutting.groups.iter().any(|group| !group.proven));
    plans::progress(ui, view.bought, open, out);
    if let Some(bought) = found {
        to_buy(ui, view, bought, out);
    }
    words::group(ui, "The dealer's list");
    for (index, offer) in offers.iter().enumerate() {
        one(ui, view, index, offer, out);
    }
    list::ui(ui, &list::DEALER, out);
}

/// What is bought, line by line, and what it comes to.
fn to_buy(ui: &mut Ui, view: &View<'_>, bought: &Buying, out: &mut Out) {
    let currency = &view.session.design().money.currency;
    plans::told(ui, &bought.cutting);
    if bought.lines.is_empty() {
        let enough = bought.cutting.left.is_empty();
        words::small(
            ui,
            if enough { "What is on hand is enough; nothing has to be bought." } else { "Nothing on the list does for what is missing." },
        );
        return;
    }
    words::group(ui, "Buy");
    for line in &bought.lines {
        words::pair(ui, &format!("{} × {}", line.count(), line.name), |ui| {
            ui.label(money(currency, line.cost()));
        });
        words::small(ui, shares(line, currency));
    }
    let without = bought.without_place();
    words::pair(ui, if without.is_some() { "What is to be had" } else { "In all" }, |ui| {
        words::strong(ui, money(currency, bought.total));
    });
    if let Some(left) = without {
        words::small(ui, format!("Not in it, for they have no board: {left}"));
    }
    let come = words::button(ui, "It has come: put it on hand");
    out.mark("buying.come", come.rect);
    if come.clicked() {
        let pile: Vec<Stuff> = bought.pile.iter().filter(|stuff| stuff.count > 0).cloned().collect();
        out.ask(Ask::Edit(Edit::HaveStuff(pile)));
        out.ask(Ask::Turn(Leaf::Plans));
    }
    if !bought.bad.is_empty() {
        words::group(ui, "If a board is bad");
        for bad in &bought.bad {
            words::small(ui, bad.words());
        }
    }
}

/// `2 to cut, 1 to spare, 52.1 each`.
fn shares(line: &ToBuy, currency: &str) -> String {
    let parts = [(line.cut, "to cut"), (line.spare, "to spare"), (line.over, "over, as it is packed")];
    let parts: Vec<String> = parts.iter().filter(|(count, _)| *count > 0).map(|(count, what)| format!("{count} {what}")).collect();
    format!("{}; {} each", parts.join(", "), money(currency, line.each))
}

/// An offer, to be taken off the list.
fn one(ui: &mut Ui, view: &View<'_>, index: usize, offer: &Offer, out: &mut Out) {
    let currency = &view.session.design().money.currency;
    let range = |[from, to]: [Length; 2]| {
        let [from, to] = [from, to].map(|length| trimmed(length.to_mm()));
        if from == to { from } else { format!("{from} to {to}") }
    };
    let size = [range(offer.length), range(offer.width), trimmed(offer.thickness.to_mm())].join(" × ");
    let per = offer.per.words().first().copied().unwrap_or_default();
    words::pair(ui, &offer.name, |ui| {
        let cross = words::cross(ui, &format!("take {} off the list", offer.name));
        out.mark(format!("dealer.{}.remove", index + 1), cross.rect);
        if cross.clicked() {
            out.ask(Ask::Edit(Edit::RemoveOffer(index)));
        }
        words::small(ui, format!("{} a {per}", money(currency, offer.price)));
    });
    let sold = if offer.pack > 1 { format!("; {} sold together", offer.pack) } else { String::new() };
    let there = offer.available.map_or(String::new(), |there| format!("; {there} there"));
    words::small(ui, format!("{size}{sold}{there}"));
}

fn money(currency: &str, amount: f64) -> String {
    format!("{currency} {amount:.2}")
}
