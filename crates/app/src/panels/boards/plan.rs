//! A board or sheet as it lies on the bench: its flaws, and what is cut from it.

use casewright_core::boards::{Direction, Marked};
use casewright_core::design::pile::{Flaw, Stuff};
use casewright_core::model::{Material, PartKind};
use casewright_sheets::Wood;
use egui::{Align2, Color32, FontFamily, FontId, Painter, Pos2, Rect, Sense, Shape, Stroke, Ui, pos2, vec2};

use super::super::View;
use crate::theme;

/// The least height of a drawn board, logical px: narrower ones are drawn wider than they are.
const LEAST: f32 = 16.0;

/// The smallest letters that can be read, px.
const SMALLEST: f32 = 9.0;

/// A board drawn to scale. Its length runs to the right and its width up, from the corner from which everything on it is measured.
pub struct Plan {
    /// What it covers, in logical pixels.
    pub rect: Rect,
    /// Logical pixels for a mm, along and across.
    scale: [f32; 2],
    wood: Color32,
}

impl Plan {
    /// Takes room for a board at so many pixels for a mm.
    pub fn new(ui: &mut Ui, view: &View<'_>, stuff: &Stuff, scale: f32) -> Plan {
        let [length, width] = [stuff.length, stuff.width].map(|length| length.to_mm() as f32);
        let size = vec2(length * scale, (width * scale).max(LEAST));
        let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
        let material = if view.derived.model.timbers.sheet(&stuff.of).is_some() {
            Material::Sheet(stuff.of.clone())
        } else {
            Material::Solid(stuff.of.clone())
        };
        let [red, green, blue] = Wood::of(&material, PartKind::Rail).light();
        Plan { rect, scale: [scale, size.y / width.max(1.0)], wood: Color32::from_rgb(red, green, blue) }
    }

    /// Where a place of the board is in the window.
    pub fn at(&self, x: f64, y: f64) -> Pos2 {
        pos2(self.rect.left() + x as f32 * self.scale[0], self.rect.bottom() - y as f32 * self.scale[1])
    }

    /// Which place of the board, mm, is at a place of the window.
    pub fn place(&self, at: Pos2) -> [f64; 2] {
        let place = [(at.x - self.rect.left()) / self.scale[0], (self.rect.bottom() - at.y) / self.scale[1]];
        place.map(f64::from)
    }

    /// How many mm so many pixels are, along and across.
    pub fn mm(&self, pixels: f32) -> [f64; 2] {
        self.scale.map(|scale| f64::from(pixels / scale))
    }

    /// What a rectangle of the board covers in the window.
    pub fn area(&self, x: f64, y: f64, length: f64, width: f64) -> Rect {
        Rect::from_two_pos(self.at(x, y), self.at(x + length, y + width))
    }

    /// Paints the bare board: what is not cut into parts stays pale.
    pub fn board(&self, painter: &Painter) {
        painter.rect_filled(self.rect, 1.0, theme::thinned(self.wood, 0.22));
        painter.rect_stroke(self.rect, 1.0, Stroke::new(1.0, theme::PENCIL_SOFT), egui::StrokeKind::Inside);
    }

    /// Paints where no part may lie: crossed out, as on the board itself.
    pub fn flaw(&self, painter: &Painter, flaw: &Flaw, told: bool) -> Rect {
        let [x, y, length, width] = [flaw.x, flaw.y, flaw.length, flaw.width].map(casewright_core::Length::to_mm);
        let area = self.area(x, y, length, width).intersect(self.rect);
        let ink = if told { theme::CHALK } else { theme::FAIL };
        painter.rect(area, 0.0, ink.gamma_multiply(0.12), Stroke::new(1.0, ink), egui::StrokeKind::Inside);
        for ends in [[area.left_top(), area.right_bottom()], [area.left_bottom(), area.right_top()]] {
            painter.line_segment(ends, Stroke::new(0.8, ink));
        }
        area
    }

    /// Paints the checked ends.
    pub fn ends(&self, painter: &Painter, stuff: &Stuff) {
        let (ends, length, width) = (stuff.ends.to_mm(), stuff.length.to_mm(), stuff.width.to_mm());
        if ends <= 0.0 {
            return;
        }
        for x in [ends, length - ends] {
            let line = [self.at(x, 0.0), self.at(x, width)];
            painter.extend(Shape::dashed_line(&line, Stroke::new(0.8, theme::PENCIL_SOFT), 3.0, 2.0));
        }
    }

    /// Paints the saw's ways.
    pub fn cuts(&self, painter: &Painter, board: &Marked) {
        for cut in &board.cuts {
            let line = match cut.cut {
                Direction::Across => [self.at(cut.at, cut.from), self.at(cut.at, cut.to)],
                Direction::Along => [self.at(cut.from, cut.at), self.at(cut.to, cut.at)],
            };
            painter.line_segment(line, Stroke::new(0.7, theme::PENCIL_SOFT));
        }
    }

    /// Paints a piece with its words, `BP1, 2 of 4`; where they have no room with its mark, which they begin with.
    pub fn piece(&self, painter: &Painter, area: Rect, words: &str, selected: bool, pointed: bool) {
        let (fill, line) = match (selected, pointed) {
            (true, _) => (theme::CHALK_WASH, Stroke::new(1.8, theme::CHALK)),
            (false, true) => (self.wood, Stroke::new(1.8, theme::CHALK)),
            (false, false) => (self.wood, Stroke::new(1.0, theme::PENCIL)),
        };
        painter.rect(area, 0.0, fill, line, egui::StrokeKind::Inside);
        // Letters as large as a narrow strip has room for, as long as they can be read.
        let font = FontId::new((area.height() + 1.0).clamp(SMALLEST, theme::small().size), FontFamily::Proportional);
        if area.height() + 1.0 < SMALLEST {
            return;
        }
        let fits = |words: &&str| {
            let galley = painter.layout_no_wrap((*words).to_owned(), font.clone(), theme::PENCIL);
            galley.size().x + 2.0 <= area.width()
        };
        let mark = words.split(',').next().unwrap_or_default();
        if let Some(words) = [words, mark].into_iter().find(fits) {
            painter.text(area.center(), Align2::CENTER_CENTER, words, font, theme::PENCIL);
        }
    }
}

/// Pixels for a mm at which the longest of some boards is `room` wide.
pub fn scale<'s>(boards: impl Iterator<Item = &'s Stuff>, room: f32) -> f32 {
    let longest = boards.map(|stuff| stuff.length.to_mm()).fold(1.0, f64::max);
    room / longest as f32
}

/// Paints where a piece in hand would lie.
pub fn held(painter: &Painter, area: Rect) {
    painter.rect(area, 0.0, theme::CHALK_WASH.gamma_multiply(0.7), Stroke::new(1.8, theme::CHALK), egui::StrokeKind::Inside);
}

/// Paints a pin in the corner of a piece that was laid by hand.
pub fn pin(painter: &Painter, area: Rect) {
    painter.circle_filled(area.left_top() + vec2(4.5, 4.5), 2.2, theme::CHALK);
}
