//! A pencil line with ticks and a knob that is dragged along it.

use egui::{CursorIcon, EventFilter, Key, Rect, Response, Sense, Stroke, Ui, WidgetInfo, pos2, vec2};

use super::Out;
use crate::theme;

/// What a line shows.
pub struct Line<'a> {
    /// What it is called, for those who can't see it.
    pub name: &'a str,
    /// What tests call it.
    pub mark: &'a str,
    /// How long it is from end to end.
    pub length: f32,
    /// Where the knob stands, 0 to 1.
    pub at: f32,
}

/// Room beside the ends, for the knob.
const ENDS: f32 = 8.0;

impl Line<'_> {
    /// Draws it and gives where the knob is wanted, where that is elsewhere. `ticks` are places along it and half their heights; `stepped` says
    /// where so many presses of the arrow keys to the right lead from where it stands.
    pub fn ui(
        &self,
        ui: &mut Ui,
        ticks: impl Iterator<Item = (f32, f32)>,
        stepped: impl Fn(f32, f32) -> f32,
        out: &mut Out,
    ) -> (Rect, Option<f32>) {
        let (rect, mut response) = ui.allocate_exact_size(vec2(self.length, 28.0), Sense::click_and_drag());
        let line = rect.shrink2(vec2(ENDS, 0.0));
        let wanted = self.wanted(ui, &response, line, stepped);
        if wanted.is_some() {
            response.mark_changed();
        }
        response.widget_info(|| WidgetInfo::slider(true, f64::from(wanted.unwrap_or(self.at)), self.name));
        out.mark(self.mark, line);
        self.paint(ui, &response, line, ticks);
        response.on_hover_cursor(CursorIcon::PointingHand);
        (line, wanted)
    }

    fn wanted(&self, ui: &Ui, response: &Response, line: Rect, stepped: impl Fn(f32, f32) -> f32) -> Option<f32> {
        let mut now = self.at;
        if let Some(at) = response.interact_pointer_pos() {
            now = ((at.x - line.left()) / line.width()).clamp(0.0, 1.0);
        }
        if response.clicked() || response.drag_stopped() {
            response.request_focus();
        }
        if response.has_focus() {
            // The arrow keys go along the line, not on to the next widget.
            let arrows = EventFilter { horizontal_arrows: true, ..EventFilter::default() };
            ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, arrows));
            let presses = |key| ui.input(|input| input.num_presses(key)) as f32;
            now = stepped(now, presses(Key::ArrowRight) - presses(Key::ArrowLeft));
        }
        ((now - self.at).abs() > f32::EPSILON).then_some(now)
    }

    fn paint(&self, ui: &Ui, response: &Response, line: Rect, ticks: impl Iterator<Item = (f32, f32)>) {
        let painter = ui.painter();
        painter.hline(line.x_range(), line.center().y, Stroke::new(1.3, theme::PENCIL));
        for (at, half) in ticks {
            let x = line.left() + line.width() * at;
            painter.vline(x, line.center().y - half..=line.center().y + half, Stroke::new(1.0, theme::PENCIL_SOFT));
        }
        let knob = pos2(line.left() + line.width() * self.at, line.center().y);
        let held = response.hovered() || response.dragged() || response.has_focus();
        painter.circle_filled(knob, 7.5, if held { theme::CHALK } else { theme::PENCIL });
    }
}
