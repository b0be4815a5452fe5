//! The stages along the top, like the marks on a rod; the piece and its file at the right.

use casewright_core::Seriousness;
use egui::{Align2, Frame, Panel, Pos2, Rect, Response, Sense, Shape, Stroke, Ui, pos2, vec2};

use super::words::{self, sign};
use super::{Out, Stage, View};
use crate::ask::Ask;
use crate::theme;

/// From tick to tick.
const TICK: f32 = 10.0;

/// Draws the rod.
pub fn ui(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    let panel = Panel::top("rod").exact_size(theme::ROD_HEIGHT).show_separator_line(false);
    panel.frame(Frame::new().fill(theme::ROD)).show(ui, |ui| {
        let rect = ui.max_rect();
        let pitch = ((rect.width() - 560.0) / Stage::ALL.len() as f32).clamp(72.0, 112.0);
        let first = rect.left() + 16.0 + pitch / 2.0;
        ticks(ui, rect, first, pitch);
        for (index, stage) in Stage::ALL.into_iter().enumerate() {
            let centre = first + index as f32 * pitch;
            let place = Rect::from_x_y_ranges(centre - pitch / 2.0..=centre + pitch / 2.0, rect.top()..=rect.bottom());
            mark(ui, view, stage, place, out);
        }
        file(ui, view, rect, out);
    });
}

fn ticks(ui: &Ui, rect: Rect, first: f32, pitch: f32) {
    let painter = ui.painter();
    let line = Stroke::new(1.0, egui::Color32::from_rgb(0xb9, 0xac, 0x8e));
    painter.hline(rect.x_range(), rect.bottom() - 0.5, line);
    let step = pitch / (pitch / TICK).round();
    let from = first - ((first - rect.left()) / step).floor() * step;
    let count = ((rect.right() - from) / step) as usize;
    for index in 0..=count {
        let x = from + index as f32 * step;
        let since = ((x - first) / step).round() as i64;
        let stages = (pitch / step).round() as i64;
        let length = if since % stages == 0 {
            9.0
        } else if since % 5 == 0 {
            6.0
        } else {
            3.5
        };
        painter.vline(x, rect.bottom() - length..=rect.bottom(), line);
    }
}

fn mark(ui: &mut Ui, view: &View<'_>, stage: Stage, place: Rect, out: &mut Out) {
    let chosen = view.stage == stage;
    let response = ui.interact(place, ui.id().with(stage.word()), Sense::click());
    response.widget_info(|| egui::WidgetInfo::selected(egui::WidgetType::SelectableLabel, true, chosen, stage.word()));
    out.mark(format!("stage.{}", stage.word()), place);
    if response.clicked() {
        out.ask(Ask::GoTo(stage));
    }
    let ink = if chosen || response.hovered() { theme::CHALK } else { theme::PENCIL };
    let font = egui::FontId::new(14.5, if chosen { theme::strong().family } else { theme::body().family });
    let worst = view.derived.findings.first().map(|finding| finding.seriousness);
    let told = worst.filter(|worst| stage == Stage::DryFit && *worst != Seriousness::Note);
    let middle = pos2(place.center().x, place.top() + 20.0);
    let shift = if told.is_some() { 12.0 } else { 0.0 };
    let text = ui.painter().text(middle - vec2(shift, 0.0), Align2::CENTER_CENTER, stage.word(), font, ink);
    if let Some(worst) = told {
        beside(ui, view, worst, text.right_center());
    }
    if chosen {
        let tip = pos2(place.center().x, place.bottom() - 1.0);
        let points = vec![tip + vec2(-7.0, -9.0), tip + vec2(7.0, -9.0), tip];
        ui.painter().add(Shape::convex_polygon(points, theme::CHALK, Stroke::NONE));
    }
    response.on_hover_cursor(egui::CursorIcon::PointingHand);
}

/// How many findings of the worst kind there are, beside the word.
fn beside(ui: &Ui, view: &View<'_>, worst: Seriousness, at: Pos2) {
    sign(ui.painter(), at + vec2(12.0, 0.5), worst);
    let count = view.derived.findings.iter().filter(|finding| finding.seriousness == worst).count();
    ui.painter().text(at + vec2(20.0, 0.5), Align2::LEFT_CENTER, count.to_string(), theme::strong(), words::colour(worst));
}

fn file(ui: &mut Ui, view: &View<'_>, rect: Rect, out: &mut Out) {
    let right = rect.right() - 16.0;
    let session = view.session;
    let title = ui.painter().layout_no_wrap(shorten(&session.design().name), theme::strong(), theme::PENCIL);
    let state = match (session.is_dirty(), session.path()) {
        (true, _) => "unsaved changes",
        (false, Some(_)) => "saved",
        (false, None) => "example, not saved",
    };
    let below = ui.painter().layout_no_wrap(state.to_owned(), theme::small(), theme::PENCIL_SOFT);
    let width = title.size().x.max(below.size().x);
    ui.painter().galley(pos2(right - title.size().x, rect.top() + 4.0), title, theme::PENCIL);
    ui.painter().galley(pos2(right - below.size().x, rect.top() + 22.0), below, theme::PENCIL_SOFT);
    let mut x = right - width - 22.0;
    let commands = [
        ("Redo", "redo", Ask::Redo, session.can_redo(), "Ctrl+Y"),
        ("Undo", "undo", Ask::Undo, session.can_undo(), "Ctrl+Z"),
        ("Save as…", "save_as", Ask::SaveAs, true, "Ctrl+Shift+S"),
        ("Save", "save", Ask::Save, true, "Ctrl+S"),
        ("Open…", "open", Ask::Open, true, "Ctrl+O"),
    ];
    for (words, name, ask, possible, key) in commands {
        let response = command(ui, words, x, rect.top() + 20.0, possible);
        out.mark(name, response.rect);
        x = response.rect.left() - 4.0;
        if response.on_hover_text(key).clicked() {
            out.ask(ask);
        }
    }
}

/// A word to click that ends at `right`.
fn command(ui: &mut Ui, words: &str, right: f32, middle: f32, possible: bool) -> Response {
    let galley = ui.painter().layout_no_wrap(words.to_owned(), theme::body(), theme::PENCIL);
    let size = galley.size() + vec2(12.0, 8.0);
    let rect = Rect::from_min_size(pos2(right - size.x, middle - size.y / 2.0), size);
    let response = ui.interact(rect, ui.id().with(("command", words)), if possible { Sense::click() } else { Sense::hover() });
    response.widget_info(|| egui::WidgetInfo::labeled(egui::WidgetType::Button, possible, words));
    let ink = match (possible, response.hovered()) {
        (false, _) => egui::Color32::from_rgb(0xa9, 0x9f, 0x89),
        (true, true) => theme::CHALK,
        (true, false) => theme::PENCIL,
    };
    ui.painter().galley_with_override_text_color(rect.min + vec2(6.0, 4.0), galley, ink);
    response
}

fn shorten(name: &str) -> String {
    const LONGEST: usize = 28;
    if name.chars().count() <= LONGEST { name.to_owned() } else { name.chars().take(LONGEST - 1).chain(['…']).collect() }
}
