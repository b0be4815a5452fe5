//! Small things that all panels write and draw alike.

use casewright_core::Seriousness;
pub use casewright_core::sentence::capital as sentence;
use casewright_core::worked::Worked;
use egui::text::LayoutJob;
use egui::{Color32, FontId, Painter, Pos2, Rect, Response, RichText, Sense, Shape, Stroke, Ui, Vec2, pos2, vec2};

use crate::theme;

/// The heading of a sheet.
pub fn heading(ui: &mut Ui, text: &str) {
    ui.label(RichText::new(text).font(theme::heading()));
}

/// A heading within a sheet, with a thin line above it.
pub fn group(ui: &mut Ui, text: &str) {
    rule(ui);
    ui.label(RichText::new(text).font(theme::strong()));
}

/// A thin line across the sheet.
pub fn rule(ui: &mut Ui) {
    ui.add_space(5.0);
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 1.0), Sense::hover());
    ui.painter().hline(rect.x_range(), rect.center().y, Stroke::new(1.0, theme::LINE));
    ui.add_space(3.0);
}

/// Said by the way.
pub fn small(ui: &mut Ui, text: impl Into<String>) -> Response {
    ui.label(RichText::new(text).font(theme::small()).color(theme::PENCIL_SOFT))
}

/// Said with weight.
pub fn strong(ui: &mut Ui, text: impl Into<String>) -> Response {
    ui.label(RichText::new(text).font(theme::strong()))
}

/// A text in so many rows at most; the second says whether some of it had no room.
pub fn in_rows(ui: &mut Ui, text: &str, font: FontId, ink: Color32, rows: usize) -> (Response, bool) {
    let mut job = LayoutJob::simple(text.to_owned(), font, ink, ui.available_width());
    job.wrap.max_rows = rows;
    job.wrap.break_anywhere = rows == 1;
    let galley = ui.fonts_mut(|fonts| fonts.layout_job(job));
    let cut_off = galley.elided;
    (ui.label(galley), cut_off)
}

/// Something to click in a run of text.
pub fn link(ui: &mut Ui, text: impl Into<String>) -> Response {
    let text = RichText::new(text).font(theme::small()).color(theme::CHALK);
    ui.add(egui::Button::new(text).frame(false).small()).on_hover_cursor(egui::CursorIcon::PointingHand)
}

/// A button that does something.
pub fn button(ui: &mut Ui, text: impl Into<String>) -> Response {
    let text = RichText::new(text).font(theme::strong()).color(theme::CHALK);
    ui.add(egui::Button::new(text).stroke(Stroke::new(1.0, theme::CHALK)).fill(theme::FIELD).wrap())
}

/// A small cross to click, named for those who can't see it.
pub fn cross(ui: &mut Ui, name: &str) -> Response {
    let (rect, response) = ui.allocate_exact_size(Vec2::splat(18.0), Sense::click());
    response.widget_info(|| egui::WidgetInfo::labeled(egui::WidgetType::Button, true, name));
    let colour = if response.hovered() { theme::FAIL } else { theme::PENCIL_SOFT };
    let (c, r) = (rect.center(), 3.5);
    for (from, to) in [(vec2(-r, -r), vec2(r, r)), (vec2(-r, r), vec2(r, -r))] {
        ui.painter().line_segment([c + from, c + to], Stroke::new(1.4, colour));
    }
    response.on_hover_text(name)
}

/// A heading that opens and closes what stands under it; whether it is open.
pub fn disclosure(ui: &mut Ui, text: &str, open_at_first: bool) -> bool {
    let id = ui.id().with(("disclosure", text));
    let mut open = ui.data(|data| data.get_temp::<bool>(id)).unwrap_or(open_at_first);
    let room = (ui.available_width() - 14.0).max(40.0);
    let galley = ui.painter().layout(text.to_owned(), theme::small(), theme::CHALK, room);
    let first_row = galley.rows.first().map_or(0.0, |row| row.height());
    let (rect, response) = ui.allocate_exact_size(vec2(galley.size().x + 14.0, galley.size().y + 4.0), Sense::click());
    response.widget_info(|| egui::WidgetInfo::selected(egui::WidgetType::CollapsingHeader, true, open, text));
    if response.clicked() {
        open = !open;
        ui.data_mut(|data| data.insert_temp(id, open));
    }
    let at = rect.left_top() + vec2(4.0, 2.0 + first_row / 2.0);
    let points = if open {
        vec![at + vec2(-4.0, -2.5), at + vec2(4.0, -2.5), at + vec2(0.0, 3.5)]
    } else {
        vec![at + vec2(-2.5, -4.0), at + vec2(3.5, 0.0), at + vec2(-2.5, 4.0)]
    };
    ui.painter().add(Shape::convex_polygon(points, theme::CHALK, Stroke::NONE));
    ui.painter().galley(pos2(rect.left() + 13.0, rect.top() + 2.0), galley, theme::CHALK);
    response.on_hover_cursor(egui::CursorIcon::PointingHand);
    open
}

/// A figure that opens to what it rests on: formula, inputs and source. What is no better than memory says so.
pub fn why(ui: &mut Ui, text: &str, worked: &Worked) {
    if disclosure(ui, &format!("{text}{}", worked.aside()), false) {
        for line in worked.explain().iter().skip(1) {
            indented(ui, line);
        }
    }
}

/// Words that open to what several figures rest on, one after the other.
pub fn why_all(ui: &mut Ui, text: &str, worked: impl FnOnce() -> Vec<Worked>) {
    if disclosure(ui, text, false) {
        for line in worked().iter().flat_map(Worked::explain) {
            indented(ui, &line);
        }
    }
}

/// What figures rest on, for as long as the pointer rests on them.
pub fn asked<'w>(response: Response, worked: impl IntoIterator<Item = &'w Worked>) {
    response.on_hover_ui(|ui| {
        for line in worked.into_iter().flat_map(Worked::explain) {
            indented(ui, &line);
        }
    });
}

/// A line of an explanation, as far in as it was written.
pub fn indented(ui: &mut Ui, line: &str) {
    let depth = line.len() - line.trim_start().len();
    ui.scope(|ui| {
        // A row of words is as high as they are, not as a button.
        ui.spacing_mut().interact_size.y = 0.0;
        ui.horizontal(|ui| {
            ui.add_space(4.0 + 5.0 * depth as f32);
            ui.add(egui::Label::new(RichText::new(line.trim_start()).font(theme::small()).color(theme::PENCIL_SOFT)).wrap());
        });
    });
}

/// The colour of a seriousness; never alone, always with [`sign`] and its word.
pub fn colour(seriousness: Seriousness) -> Color32 {
    match seriousness {
        Seriousness::WillFail => theme::FAIL,
        Seriousness::AtRisk => theme::RISK,
        Seriousness::Note => theme::NOTE,
    }
}

/// Paints the sign of a seriousness: a filled square, a triangle, a ring.
pub fn sign(painter: &Painter, centre: Pos2, seriousness: Seriousness) {
    let ink = colour(seriousness);
    match seriousness {
        Seriousness::WillFail => {
            painter.rect_filled(Rect::from_center_size(centre, Vec2::splat(9.0)), 0.0, ink);
        }
        Seriousness::AtRisk => {
            let points = vec![centre + vec2(0.0, -5.5), centre + vec2(5.5, 4.5), centre + vec2(-5.5, 4.5)];
            painter.add(Shape::convex_polygon(points, ink, Stroke::NONE));
        }
        Seriousness::Note => {
            painter.circle_stroke(centre, 4.2, Stroke::new(1.4, ink));
        }
    }
}

/// The sign in a run of widgets.
pub fn sign_here(ui: &mut Ui, seriousness: Seriousness) {
    let (rect, _) = ui.allocate_exact_size(vec2(12.0, 16.0), Sense::hover());
    sign(ui.painter(), rect.center(), seriousness);
}

/// A row with a name at the left, cut off where it must be, and what belongs to it at the right.
pub fn pair(ui: &mut Ui, name: &str, figure: impl FnOnce(&mut Ui)) {
    let row = egui::vec2(ui.available_width(), 20.0);
    ui.allocate_ui_with_layout(row, egui::Layout::right_to_left(egui::Align::Center), |ui| {
        figure(ui);
        ui.with_layout(egui::Layout::left_to_right(egui::Align::Center), |ui| {
            ui.add(egui::Label::new(name).truncate()).on_hover_text(name);
        });
    });
}

/// "1 part", "3 parts".
pub fn counted(count: usize, one: &str, many: &str) -> String {
    if count == 1 { format!("1 {one}") } else { format!("{count} {many}") }
}
