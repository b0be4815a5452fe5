//! Under load: mm for each shelf, how the case stands, and what is too heavy for one.

use casewright_core::Seriousness;
use casewright_core::design::Limits;
use casewright_core::length::{trimmed_to, years};
use casewright_core::loads::{Shelf, Standing, When};
use casewright_core::stability::CAUTIONS;
use casewright_core::strength::Verdict;
use casewright_core::worked::Worked;
use egui::{Align, Label, Layout, RichText, Sense, Ui};

use super::words::{self, sign_here};
use super::{Out, View};
use crate::ask::{Ask, Sag};
use crate::theme;

/// Draws it.
pub fn ui(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    words::heading(ui, "Under load");
    let Some(under) = view.derived.under_load() else {
        words::small(ui, "Being worked out.");
        return;
    };
    let shelves = under.shelves(&view.derived.model);
    if shelves.is_empty() {
        words::small(ui, "Nothing here holds anything.");
    } else {
        drawn(ui, view, out);
        let years = years(view.session.design().limits.years);
        words::small(
            ui,
            format!(
                "Each with the heaviest that it takes: sag at once, and after {years}, mm, of the part alone; in all is how far it is then down at its lowest with what bears it."
            ),
        );
        for (index, shelf) in shelves.iter().enumerate() {
            let also = || -> Vec<Worked> {
                let bears = under.why_bears(view.session.design(), shelf.worst);
                std::iter::once(bears).chain(under.why_in_all(&view.derived.model, shelf.lowest)).collect()
            };
            ui.push_id(("shelf", index), |ui| one(ui, shelf, also, out));
        }
    }
    if let Some(standing) = view.derived.standing() {
        stands(ui, standing, &view.session.design().limits);
    }
}

/// How the sag is drawn.
fn drawn(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    let sag = *view.sag;
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 2.0;
        for (when, word) in [(None, "straight"), (Some(When::AtOnce), "sag at once"), (Some(When::After), "in the end")] {
            let chosen = sag.shown == when;
            let ink = if chosen { theme::CHALK } else { theme::PENCIL_SOFT };
            let choice = ui.selectable_label(chosen, RichText::new(word).color(ink));
            out.mark(format!("sag.{word}"), choice.rect);
            if choice.clicked() && !chosen {
                out.ask(Ask::Sag(Sag { shown: when, ..sag }));
            }
        }
    });
    if sag.shown.is_some() {
        words::small(
            ui,
            format!("Sag is drawn {} times larger than true, each part with what bears it; figures are true.", trimmed_to(sag.times, 0)),
        );
    }
}

/// A shelf: what it bears, how far it sags, and why; `also` tells what that rests on besides.
fn one(ui: &mut Ui, shelf: &Shelf<'_>, also: impl FnOnce() -> Vec<Worked>, out: &mut Out) {
    let worst = shelf.worst;
    ui.horizontal(|ui| {
        if let Some(seriousness) = seriousness(worst.verdict()) {
            sign_here(ui, seriousness);
        }
        let name = ui.add(Label::new(words::sentence(shelf.name)).sense(Sense::click())).on_hover_cursor(egui::CursorIcon::PointingHand);
        out.mark(format!("load.{}", shelf.name), name.rect);
        if name.clicked() {
            out.ask(Ask::Select(Some(worst.part)));
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let [at_once, after] =
                [worst.why_at_once(), worst.why_after()].map(|sag| format!("{}{}", trimmed_to(sag.value, 2), sag.sign()));
            let figures = format!("{at_once} then {after}, in all {}", trimmed_to(shelf.in_all.down, 2));
            ui.label(RichText::new(figures).font(theme::strong()));
            words::small(ui, format!("{} kg", trimmed_to(shelf.kg, 0)));
        });
    });
    words::why_all(ui, "why?", || [worst.why_after()].into_iter().chain(also()).collect());
}

fn seriousness(verdict: Verdict) -> Option<Seriousness> {
    match verdict {
        Verdict::Good => None,
        Verdict::OverWorking => Some(Seriousness::Note),
        Verdict::Seen => Some(Seriousness::AtRisk),
        Verdict::Fails => Some(Seriousness::WillFail),
    }
}

/// How the case stands.
fn stands(ui: &mut Ui, standing: &Standing, limits: &Limits) {
    words::group(ui, "How it stands");
    let filled = standing.filled.iter().map(|filled| (format!("with {} on its shelves as they lie", filled.words()), &filled.weighs));
    let both = ["empty", "with the heaviest boxes as high as they go"].map(str::to_owned).into_iter().zip(&standing.weighs);
    for (text, weighs) in both.chain(filled) {
        words::why(ui, &format!("{} kg {text}", trimmed_to(weighs.value, 0)), weighs);
    }
    let (governing, others) = standing.governing();
    for push in governing {
        words::why(ui, &push.words(), &push.newtons);
    }
    if others > 0 {
        words::small(ui, format!("The other {others} ways in which it may be pushed over need more."));
    }
    match (&standing.fixing, standing.reasons.is_empty()) {
        (Some(fixing), _) => {
            let text = format!(
                "Anchored by {} at {} mm: {} N on each",
                words::counted(fixing.count as usize, "fixing", "fixings"),
                trimmed_to(fixing.height, 0),
                trimmed_to(fixing.each.value, 0)
            );
            words::why(ui, &text, &fixing.each);
        }
        (None, false) => {
            let reasons: Vec<_> = standing.reasons.iter().map(casewright_core::stability::Anchor::words).collect();
            ui.horizontal_wrapped(|ui| {
                sign_here(ui, Seriousness::AtRisk);
                ui.label(format!("Anchor it: {}", reasons.join("; ")));
            });
        }
        (None, true) => {
            words::small(ui, "It stands by itself.");
        }
    }
    if standing.fixing.is_none() {
        for leans in standing.leans_on(limits) {
            words::small(ui, leans);
        }
    }
    for caution in CAUTIONS.iter().filter(|_| standing.can_hurt(limits)) {
        ui.label(RichText::new(*caution).font(theme::quoted()).color(theme::PENCIL_SOFT));
    }
}
