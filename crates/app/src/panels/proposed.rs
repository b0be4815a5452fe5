//! Cases that hold what there is to keep, side by side, each with its picture.

use casewright_core::contents::propose::{Proposal, too_large};
use casewright_core::length::{trimmed, trimmed_to};
use egui::{Align2, Rect, RichText, Sense, Stroke, Ui, pos2, vec2};

use super::{Out, View, words};
use crate::ask::Ask;
use crate::theme;

/// Height of a picture, logical px.
const PICTURE: f32 = 118.0;
/// How many stand in a row.
const IN_A_ROW: usize = 3;
/// No more are shown: what is least in nothing is of interest to few.
const MOST: usize = 6;

/// Draws it.
pub fn ui(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    let asked = view.proposed.wanted();
    let text = match (asked, view.proposed.found()) {
        (false, _) => "Propose a case for all this",
        (true, None) => "Stop looking",
        (true, Some(_)) => "Put the proposals away",
    };
    let button = words::button(ui, text);
    out.mark("propose", button.rect);
    if button.clicked() {
        out.ask(Ask::Propose(!asked));
    }
    if !asked {
        return;
    }
    let Some(found) = view.proposed.found() else {
        let done = (view.proposed.done() * 100.0).floor();
        words::small(ui, format!("Cases of many depths, heights and bays are being tried: {done} % done."));
        return;
    };
    if found.is_empty() {
        words::small(ui, "No case within reason holds it all.");
        for why in too_large(view.session.design()) {
            words::small(ui, why);
        }
        return;
    }
    words::small(ui, "Built as the case at hand; each holds everything.");
    let width = (ui.available_width() - 8.0 * (IN_A_ROW - 1) as f32) / IN_A_ROW as f32;
    // All are drawn to one scale, so that they can be compared.
    let largest = found.iter().take(MOST).map(|one| (one.width, one.height)).fold((1.0_f64, 1.0_f64), |a, b| (a.0.max(b.0), a.1.max(b.1)));
    let scale = (f64::from(width) / largest.0).min(f64::from(PICTURE) / largest.1) as f32;
    for (row, three) in found.iter().take(MOST).collect::<Vec<_>>().chunks(IN_A_ROW).enumerate() {
        ui.horizontal_top(|ui| {
            ui.spacing_mut().item_spacing.x = 8.0;
            for (at, proposal) in three.iter().enumerate() {
                ui.allocate_ui(vec2(width, 0.0), |ui| {
                    ui.vertical(|ui| {
                        ui.set_width(width);
                        card(ui, proposal, row * IN_A_ROW + at + 1, scale, out);
                    });
                });
            }
        });
        words::rule(ui);
    }
}

fn card(ui: &mut Ui, proposal: &Proposal, number: usize, scale: f32, out: &mut Out) {
    picture(ui, proposal, scale);
    let aims: Vec<String> = proposal.aims.iter().map(|least| least.words()).collect();
    if !aims.is_empty() {
        ui.label(RichText::new(aims.join(", ")).font(theme::small()).color(theme::CHALK));
    }
    let sizes = [proposal.width, proposal.height, proposal.depth].map(trimmed).join(" × ");
    ui.label(RichText::new(sizes).font(theme::small()));
    let bays = words::counted(proposal.bays.len(), "bay", "bays");
    let amounts = &proposal.amounts;
    let told = format!("{bays}, {} m³ timber, {} m² sheet", trimmed_to(amounts.timber.value, 3), trimmed_to(amounts.sheet.value, 2));
    words::asked(words::small(ui, told), [&amounts.timber, &amounts.sheet]);
    if let Some(total) = &proposal.cost.total {
        words::asked(words::small(ui, format!("{} {}", trimmed_to(total.value, 0), proposal.design.money.currency)), [total]);
    }
    for fails in &proposal.fails {
        ui.horizontal_wrapped(|ui| {
            words::sign_here(ui, casewright_core::Seriousness::WillFail);
            ui.label(RichText::new(fails).font(theme::small()).color(theme::FAIL));
        });
    }
    if let Some(why) = &proposal.to_anchor {
        ui.horizontal_wrapped(|ui| {
            words::sign_here(ui, casewright_core::Seriousness::AtRisk);
            words::small(ui, "Must be anchored to the wall").on_hover_text(why);
        });
    }
    let take = words::button(ui, "Take it");
    out.mark(format!("proposal.{number}"), take.rect);
    if take.clicked() {
        out.ask(Ask::Become(Box::new(proposal.design.clone())));
    }
}

/// The case from the front: its outline, its bays, its shelves, and what stands on them in the colours of their kinds.
fn picture(ui: &mut Ui, proposal: &Proposal, scale: f32) {
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), PICTURE + 4.0), Sense::hover());
    let painter = ui.painter_at(rect);
    let foot = pos2(rect.left(), rect.bottom() - 2.0);
    let place = |x: f64, y: f64| pos2(foot.x + x as f32 * scale, foot.y - y as f32 * scale);
    let whole = Rect::from_two_pos(place(0.0, 0.0), place(proposal.width, proposal.height));
    painter.rect(whole, 1.0, theme::FIELD, Stroke::new(1.0, theme::PENCIL), egui::StrokeKind::Inside);
    for row in &proposal.stands.rows {
        let (low, high) = (row.space.min, row.space.max);
        let room = Rect::from_two_pos(place(low.x, low.y), place(high.x, high.y));
        painter.rect_stroke(room, 0.0, Stroke::new(0.6, theme::LINE), egui::StrokeKind::Inside);
        painter.hline(room.x_range(), room.bottom(), Stroke::new(1.0, theme::PENCIL_SOFT));
        for stack in &row.stacks {
            let (low, high) = (stack.block.min, stack.block.max);
            let block = Rect::from_two_pos(place(low.x, low.y), place(high.x, high.y)).shrink(0.4);
            painter.rect_filled(block, 0.0, theme::kind(stack.kind).gamma_multiply(0.8));
            if stack.count > 1 && block.width() > 10.0 && block.height() > 10.0 {
                painter.text(block.center(), Align2::CENTER_CENTER, stack.count.to_string(), theme::small(), theme::FIELD);
            }
        }
    }
}
