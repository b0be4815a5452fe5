//! The strip at the bottom: taking apart, what it comes to, what it holds.

use std::fmt::Write as _;

use casewright_core::amounts::Amounts;
use casewright_core::worked::Worked;
use egui::{Align, Layout, Rect, RichText, Sense, Shape, Stroke, Ui, Vec2, vec2};

use super::line::Line;
use super::{Out, View, bench, words};
use crate::ask::{Ask, Way};
use crate::keeping::Boxes;
use crate::theme;

/// Draws the strip.
pub fn ui(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    theme::sheet().inner_margin(egui::Margin::symmetric(theme::MARGIN, 10)).show(ui, |ui| {
        ui.set_min_size(ui.available_size());
        ui.horizontal(|ui| {
            ui.vertical(|ui| {
                ui.set_width((ui.available_width() - TOTALS_WIDTH).max(LINE));
                ui.horizontal(|ui| {
                    words::strong(ui, "Take apart");
                    take_apart(ui, view, out);
                    ui.add_space(6.0);
                    let whole = words::link(ui, "Show the whole case");
                    out.mark("show_whole", whole.rect);
                    if whole.clicked() {
                        out.ask(Ask::ShowWhole);
                    }
                    things(ui, view, out);
                });
                let told = told(view);
                let (words, cut_off) = words::in_rows(ui, &told, theme::small(), theme::PENCIL_SOFT, 2);
                if cut_off {
                    words.on_hover_text(told);
                }
            });
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| totals(ui, view));
        });
    });
}

/// Puts what it must hold into the view, or takes it out.
fn things(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    if view.session.design().contents.is_empty() {
        return;
    }
    ui.add_space(6.0);
    let text = if view.boxes.shown { "Hide what it holds" } else { "Show what it holds" };
    let link = words::link(ui, text);
    out.mark("show_boxes", link.rect);
    if link.clicked() {
        out.ask(Ask::Boxes(Boxes { shown: !view.boxes.shown, ..view.boxes }));
    }
}

/// Room for what it comes to.
const TOTALS_WIDTH: f32 = 400.0;
/// How long the line is from together to apart.
const LINE: f32 = 300.0;
/// Ticks nearer than this would run together.
const NEAREST_TICKS: f32 = 3.0;

/// The line with a tick for every step, and at its ends what goes along it by itself.
fn take_apart(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    let steps = view.derived.last_order().map_or(0, |order| order.steps.len());
    goer(ui, view, Way::Together, out);
    slider(ui, view.take_apart.amount, steps, out);
    goer(ui, view, Way::Apart, out);
}

/// A pointer that starts the way by itself; a square while that is under way.
fn goer(ui: &mut Ui, view: &View<'_>, way: Way, out: &mut Out) {
    let going = view.take_apart.playing == Some(way);
    let (name, mark) = match way {
        Way::Apart => ("Take apart step by step", "play_apart"),
        Way::Together => ("Put together step by step", "play_together"),
    };
    let name = if going { "Stop" } else { name };
    let (rect, response) = ui.allocate_exact_size(Vec2::splat(22.0), Sense::click());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::WidgetType::Button, true, name));
    out.mark(mark, rect);
    let ink = if response.hovered() || response.has_focus() || going { theme::CHALK } else { theme::PENCIL };
    let (at, tip) = (rect.center(), if way == Way::Apart { 6.0 } else { -6.0 });
    let shape = if going {
        Shape::rect_filled(Rect::from_center_size(at, Vec2::splat(9.0)), 0.0, ink)
    } else {
        Shape::convex_polygon(vec![at + vec2(tip, 0.0), at + vec2(-tip * 0.7, 6.0), at + vec2(-tip * 0.7, -6.0)], ink, Stroke::NONE)
    };
    ui.painter().add(shape);
    // Above it: below stand the words of the step.
    let mut hint = egui::Tooltip::for_enabled(&response);
    hint.popup = hint.popup.align(egui::RectAlign::TOP);
    hint.show(|ui| ui.label(name));
    if response.on_hover_cursor(egui::CursorIcon::PointingHand).clicked() {
        out.ask(Ask::Play((!going).then_some(way)));
    }
}

/// A line with a tick a step and a knob; the arrow keys go a step.
fn slider(ui: &mut Ui, amount: f32, steps: usize, out: &mut Out) {
    let every = (steps as f32 * NEAREST_TICKS / LINE).ceil().max(1.0) as usize;
    let all = steps.max(1) as f32;
    let tick = |step: usize| (1.0 - step as f32 / all, if step == 0 || step == steps { 6.0 } else { 3.0 });
    let line = Line { name: "Take apart", mark: "take_apart", length: LINE, at: amount };
    let (_, wanted) = line.ui(ui, (0..=steps).step_by(every).map(tick), |now, by| stepped(now, steps, by), out);
    if let Some(now) = wanted {
        out.ask(Ask::TakeApart(now));
    }
}

/// So many steps farther apart, from one tick to the next.
fn stepped(amount: f32, steps: usize, by: f32) -> f32 {
    let steps = steps.max(1) as f32;
    // The next tick that way, even where it stands between two.
    let at = amount * steps;
    let tick = if by > 0.0 { (at + 1e-3).floor() } else { (at - 1e-3).ceil() };
    if by == 0.0 { amount } else { ((tick + by) / steps).clamp(0.0, 1.0) }
}

/// What is being done where the knob stands.
fn told(view: &View<'_>) -> String {
    let Some(order) = view.derived.last_order() else { return "The order of assembly is being worked out.".to_owned() };
    let steps = order.steps.len();
    match bench::under_way(view.take_apart, steps) {
        Some(index) => format!("{} of {steps}: {}", index + 1, order.steps[index].words),
        None => format!("Together after {}, each move tried on the solids", words::counted(steps, "step", "steps")),
    }
}

fn totals(ui: &mut Ui, view: &View<'_>) {
    ui.with_layout(Layout::top_down(Align::Max), |ui| {
        ui.add_space(7.0);
        ui.label(RichText::new(holds(view)).font(theme::strong()));
        let amounts = Amounts::of(&view.derived.model);
        // As its parts are cut, once that is known; of their blanks till then.
        let mass = view.derived.standing().map(|standing| &standing.weighs[0]).or(amounts.mass.as_ref());
        let told = words::small(ui, comes_to(&amounts, mass));
        words::asked(told, [&amounts.timber, &amounts.sheet].into_iter().chain(mass));
    });
}

/// "holds all 21 things", "holds 20 of 21 things".
fn holds(view: &View<'_>) -> String {
    if view.session.design().contents.is_empty() {
        return String::new();
    }
    let Some((kept, _)) = view.kept else { return "what it holds is being worked out".to_owned() };
    let (placed, wanted) = (kept.stay.placed, kept.stay.wanted);
    let things = words::counted(wanted as usize, "thing", "things");
    if placed == wanted { format!("holds all {things}") } else { format!("holds {placed} of {things}") }
}

fn comes_to(amounts: &Amounts, mass: Option<&Worked>) -> String {
    let mut text = format!("{} · {:.3} m³ timber", words::counted(amounts.parts, "part", "parts"), amounts.timber.value);
    if amounts.sheet.value > 0.0 {
        let _ = write!(text, " · {:.1} m² sheet", amounts.sheet.value);
    }
    if let Some(mass) = mass {
        let _ = write!(text, " · about {:.0} kg empty{}", mass.value, mass.aside());
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_arrow_keys_go_from_tick_to_tick() {
        let near = |a: f32, b: f32| assert!((a - b).abs() < 1e-6, "{a} {b}");
        near(stepped(0.0, 10, 1.0), 0.1);
        near(stepped(0.1, 10, 1.0), 0.2);
        near(stepped(0.14, 10, 1.0), 0.2);
        near(stepped(0.14, 10, -1.0), 0.1);
        near(stepped(0.2, 10, -1.0), 0.1);
        near(stepped(1.0, 10, 1.0), 1.0);
        near(stepped(0.3, 0, -1.0), 0.0);
    }
}
