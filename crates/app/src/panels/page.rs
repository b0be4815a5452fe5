//! A sheet of the drawings on the screen: as it would be printed, or enlarged.

use casewright_sheets::drawing::{Anchor, Fill, Ink, Page, Pen, Text};
use egui::epaint::TextShape;
use egui::{Color32, FontId, Painter, Pos2, Rect, Shape, Stroke, vec2};

use crate::theme;

/// A capital is so much of the size of its type (Open Sans).
const CAPITAL: f64 = 0.714;
/// Sizes of type go by such steps, points: each size has letters of its own to keep.
const SIZES: f32 = 0.25;
/// Letters smaller than this can't be read and are left out, points.
const LEAST: f32 = 3.5;

/// Where a place of the sheet is on the screen.
#[derive(Clone, Copy)]
struct On {
    corner: Pos2,
    scale: f32,
}

impl On {
    fn at(self, point: glam::DVec2) -> Pos2 {
        self.corner + vec2(point.x as f32, point.y as f32) * self.scale
    }
}

/// Paints a sheet into a rectangle of its shape.
pub fn paint(painter: &Painter, rect: Rect, page: &Page) {
    let on = On { corner: rect.min, scale: rect.width() / (page.size.x as f32).max(1.0) };
    painter.rect_filled(rect, 2.0, theme::FIELD);
    painter.rect_stroke(rect, 2.0, Stroke::new(1.0, theme::LINE), egui::StrokeKind::Inside);
    areas(painter, on, &page.ink);
    for pen in Pen::ALL {
        let width = (pen.width(page.wide) as f32 * on.scale).max(0.4);
        let stroke = Stroke::new(width, theme::PENCIL);
        let dashes: Vec<f32> = pen.dashes(page.wide).iter().map(|mm| (*mm as f32 * on.scale).max(0.5)).collect();
        for line in page.ink.strokes.iter().filter(|line| line.pen == pen) {
            let points: Vec<Pos2> = line.points.iter().map(|point| on.at(*point)).collect();
            if let ([dash, gap, ..], true) = (dashes.as_slice(), rect.width() > 500.0) {
                painter.extend(Shape::dashed_line(&points, stroke, *dash, *gap));
            } else {
                painter.add(Shape::line(points, stroke));
            }
        }
    }
    for text in &page.ink.texts {
        words(painter, on, text);
    }
}

/// Small solid areas, arrows and the like; the tint under hatching is left to the hatching.
fn areas(painter: &Painter, on: On, ink: &Ink) {
    for area in ink.areas.iter().filter(|area| area.fill == Fill::Ink) {
        if let [outline] = area.loops.as_slice() {
            let points = outline.iter().map(|point| on.at(*point)).collect();
            painter.add(Shape::convex_polygon(points, theme::PENCIL, Stroke::NONE));
        }
    }
}

fn words(painter: &Painter, on: On, text: &Text) {
    let size = ((text.height / CAPITAL) as f32 * on.scale / SIZES).round() * SIZES;
    if size < LEAST {
        return;
    }
    let family = if text.bold { theme::strong().family } else { theme::body().family };
    let galley = painter.layout_no_wrap(text.text.clone(), FontId::new(size, family), theme::PENCIL);
    let (wide, high) = (galley.size().x, galley.size().y);
    let from = match text.anchor {
        Anchor::Start => 0.0,
        Anchor::Middle => -wide / 2.0,
        Anchor::End => -wide,
    };
    let at = on.at(text.at);
    let shape = if text.upright {
        // Read from the right edge: it runs upward.
        TextShape::new(at + vec2(-high / 2.0, -from), galley, Color32::PLACEHOLDER).with_angle(-std::f32::consts::FRAC_PI_2)
    } else {
        TextShape::new(at + vec2(from, -high / 2.0), galley, Color32::PLACEHOLDER)
    };
    painter.add(shape);
}
