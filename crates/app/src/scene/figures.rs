//! Figures and handles, painted over the case and under the panels.

use bevy::prelude::*;
use bevy_egui::{EguiContexts, egui};
use casewright_core::length::trimmed;

use super::camera::Eye;
use super::dimensions::Dimensions;
use super::gesture::Hand;
use super::handles::{Grip, Handles};
use super::parts::Standing;
use super::{boxes, paper, rod, shelves};
use crate::ask::ViewArea;
use crate::derived::Derived;
use crate::keeping::Keeping;
use crate::session::Session;

/// Size of a dimension's figure, points.
const FIGURE: f32 = 14.0;
/// Size of the rod's figures, points.
const SMALL: f32 = 11.0;
/// Radius of a handle, points.
const HANDLE: f32 = 6.0;

fn ink(colour: Color, alpha: f32) -> egui::Color32 {
    let [r, g, b, a] = colour.with_alpha(alpha).to_srgba().to_u8_array();
    egui::Color32::from_rgba_unmultiplied(r, g, b, a)
}

fn place(at: Vec2) -> egui::Pos2 {
    egui::pos2(at.x, at.y)
}

/// Paints them.
///
/// # Errors
/// When there is no window to paint in.
pub fn paint(
    mut contexts: EguiContexts,
    (eye, standing): (Res<Eye>, Res<Standing>),
    dimensions: Res<Dimensions>,
    handles: Res<Handles>,
    hand: Res<Hand>,
    (area, boxes): (Res<ViewArea>, Res<boxes::Placed>),
    (derived, keeping, session): (Res<Derived>, Res<Keeping>, Res<Session>),
) -> Result {
    let context = contexts.ctx_mut()?;
    let clip = egui::Rect::from_min_max(place(area.min), place(area.max));
    let clip = if clip.is_positive() { clip } else { context.content_rect() };
    let painter = context.layer_painter(egui::LayerId::background()).with_clip_rect(clip);
    let seen = |at: Vec3| eye.lens.project(&eye.orbit, at);

    if hand.lit().is_some() {
        context.set_cursor_icon(if hand.holds() { egui::CursorIcon::Grabbing } else { egui::CursorIcon::Grab });
    }
    for dimension in &dimensions.all {
        let middle = (dimension.from + dimension.to) / 2.0;
        let places = [dimension.from, dimension.to, middle, middle - dimension.reach].map(seen);
        let [Some(start), Some(end), Some(at), Some(out)] = places else { continue };
        let way = outward(start, end, out - at);
        let lit = hand.lit() == Some(Grip::Measure(dimension.measure));
        let colour = if lit { ink(paper::ACCENT, 1.0) } else { ink(paper::PENCIL, 0.92) };
        let figure = trimmed((dimension.value() * 10.0).round() / 10.0);
        let font = egui::FontId::proportional(FIGURE);
        let galley = painter.layout_no_wrap(figure, font, colour);
        // As far off as the figure is large in that direction, so that it never lies on its line.
        let half = Vec2::new(galley.size().x, galley.size().y * 0.8) / 2.0;
        let off = way * (half.dot(way.abs()) + 6.0);
        painter.galley(place(at + off) - galley.size() / 2.0, galley, colour);
    }
    let mut told = None;
    for (grip, at) in &handles.places {
        let lit = hand.lit() == Some(*grip);
        let (fill, ring) =
            if lit { (ink(paper::ACCENT, 1.0), ink(paper::ACCENT, 1.0)) } else { (ink(paper::PAPER, 1.0), ink(paper::ACCENT, 0.9)) };
        let radius = match grip {
            Grip::Measure(_) => HANDLE,
            Grip::Shelf(_) => HANDLE - 1.5,
        };
        painter.circle(place(*at), if lit { radius + 1.0 } else { radius }, fill, egui::Stroke::new(1.8, ring));
        if let (true, Grip::Shelf(shelf)) = (lit, grip) {
            told = shelves::told(*shelf, &derived.model, keeping.of(derived.generation)).map(|text| (text, place(*at)));
        }
    }
    for label in &boxes.labels {
        words_on(&painter, &eye, label);
    }
    if !boxes.things.is_empty() {
        legend(&painter, &session.design().contents);
    }
    if let Some((text, at)) = told {
        tag(&painter, text, at);
    }
    if standing.together > 0.0 {
        for (figure, at) in rod::figures(&standing).into_iter().filter(|(_, at)| !hidden(&standing, eye.orbit.eye(), *at)) {
            if let Some(at) = seen(at) {
                let at = at - Vec2::X * 7.0;
                let font = egui::FontId::proportional(SMALL);
                painter.text(place(at), egui::Align2::RIGHT_CENTER, figure, font, ink(paper::PENCIL, 0.62));
            }
        }
    }
    Ok(())
}

/// What is told of a shelf in the hand, over its knob and within the view.
fn tag(painter: &egui::Painter, text: String, knob: egui::Pos2) {
    let galley = painter.layout_no_wrap(text, egui::FontId::proportional(FIGURE), crate::theme::CHALK);
    let size = galley.size() + egui::vec2(14.0, 6.0);
    let view = painter.clip_rect().shrink(6.0);
    let wanted = egui::pos2(knob.x - size.x / 2.0, knob.y - 16.0 - size.y);
    let corner = egui::pos2(wanted.x.min(view.right() - size.x).max(view.left()), wanted.y.max(view.top()));
    let ground = egui::Rect::from_min_size(corner, size);
    painter.rect_filled(ground, 3.0, crate::theme::SHEET);
    painter.galley(ground.min + egui::vec2(7.0, 3.0), galley, crate::theme::CHALK);
}

/// Writes on the front of a thing or a room what it is, where there is room for it.
fn words_on(painter: &egui::Painter, eye: &Eye, label: &boxes::Label) {
    // Only who stands before the case reads what is on its front.
    if eye.orbit.eye().z <= label.at.z {
        return;
    }
    let seen = |at: Vec3| eye.lens.project(&eye.orbit, at);
    let half = label.on / 2.0;
    let ends = [-Vec3::X * half.x, Vec3::X * half.x, -Vec3::Y * half.y, Vec3::Y * half.y].map(|by| seen(label.at + by));
    let ([Some(left), Some(right), Some(low), Some(high)], Some(at)) = (ends, seen(label.at)) else { return };
    let (colour, ground) = match label.about {
        boxes::About::Thing => (crate::theme::PENCIL, crate::theme::SHEET.gamma_multiply(0.82)),
        boxes::About::Takes => (crate::theme::FIELD, crate::theme::CHALK),
        boxes::About::Lacks => (crate::theme::FAIL, crate::theme::SHEET.gamma_multiply(0.82)),
    };
    let room = Vec2::new(left.distance(right) - 8.0, low.distance(high) - 2.0);
    let free = label.about != boxes::About::Thing;
    let galley = [&label.text, &label.short].into_iter().find_map(|text| laid_out(painter, text, colour, room, free));
    let Some(galley) = galley else { return };
    let place = egui::Rect::from_center_size(place(at), galley.size());
    painter.rect_filled(place.expand2(egui::vec2(4.0, 1.0)), 3.0, ground);
    painter.galley(place.min, galley, colour);
}

/// Words broken into lines for some room, but never within a word: whoever can't read it here has the list and its colours. Nothing where they don't go in;
/// what stands `free` may be higher than its room.
fn laid_out(painter: &egui::Painter, text: &str, colour: egui::Color32, room: Vec2, free: bool) -> Option<std::sync::Arc<egui::Galley>> {
    let font = egui::FontId::proportional(SMALL);
    let wide = |word: &str| painter.layout_no_wrap(word.to_owned(), font.clone(), colour).size().x;
    if text.split_whitespace().any(|word| wide(word) > room.x) {
        return None;
    }
    let galley = painter.layout(text.to_owned(), font.clone(), colour, room.x.max(1.0));
    let fits = galley.rows.iter().all(|row| row.rect().width() <= room.x + 1.0) && (galley.size().y <= room.y || free);
    fits.then_some(galley)
}

/// What each colour stands for, at the right of the view, as far as it goes in.
fn legend(painter: &egui::Painter, contents: &[casewright_core::design::BoxKind]) {
    const ROW: f32 = 17.0;
    let view = painter.clip_rect().shrink(10.0);
    let font = egui::FontId::proportional(SMALL + 1.0);
    let most = ((view.height() / ROW) as usize).saturating_sub(1);
    let mut rows: Vec<(Option<usize>, String)> =
        contents.iter().enumerate().take(most).map(|(index, kind)| (Some(index), format!("{}  {}", index + 1, kind.name))).collect();
    if contents.len() > most {
        rows.push((None, format!("and {} more", contents.len() - most)));
    }
    let galleys: Vec<_> =
        rows.into_iter().map(|(index, text)| (index, painter.layout_no_wrap(text, font.clone(), crate::theme::PENCIL))).collect();
    let wide = galleys.iter().map(|(_, galley)| galley.size().x).fold(0.0, f32::max);
    let size = egui::vec2(wide + 28.0, ROW * galleys.len() as f32 + 8.0);
    let ground = egui::Rect::from_min_size(egui::pos2(view.right() - size.x, view.top()), size);
    painter.rect_filled(ground, 4.0, crate::theme::SHEET.gamma_multiply(0.85));
    for (row, (index, galley)) in galleys.into_iter().enumerate() {
        let middle = ground.top() + 4.0 + ROW * (row as f32 + 0.5);
        if let Some(index) = index {
            let swatch = egui::Rect::from_center_size(egui::pos2(ground.left() + 11.0, middle), egui::vec2(9.0, 9.0));
            painter.rect_filled(swatch, 2.0, crate::theme::kind(index));
        }
        painter.galley(egui::pos2(ground.left() + 20.0, middle - galley.size().y / 2.0), galley, crate::theme::PENCIL);
    }
}

/// Beside the line, on the side away from the case.
fn outward(start: Vec2, end: Vec2, out: Vec2) -> Vec2 {
    let across = (end - start).perp().normalize_or(Vec2::Y);
    if across.dot(out) < 0.0 { -across } else { across }
}

/// Whether the case stands between the eye and a place.
fn hidden(standing: &Standing, eye: Vec3, at: Vec3) -> bool {
    let way = at - eye;
    let (mut enter, mut leave) = (0.0_f32, 0.999_f32);
    for axis in 0..3 {
        if way[axis].abs() < 1e-6 {
            if eye[axis] < standing.low[axis] || eye[axis] > standing.high[axis] {
                return false;
            }
            continue;
        }
        let (a, b) = ((standing.low[axis] - eye[axis]) / way[axis], (standing.high[axis] - eye[axis]) / way[axis]);
        enter = enter.max(a.min(b));
        leave = leave.min(a.max(b));
    }
    enter < leave
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_behind_the_case_is_hidden_and_one_beside_it_is_not() {
        let standing = Standing::default();
        let eye = Vec3::new(500.0, 500.0, 3000.0);
        assert!(hidden(&standing, eye, Vec3::new(500.0, 500.0, -500.0)));
        assert!(!hidden(&standing, eye, Vec3::new(-400.0, 500.0, -500.0)));
        assert!(!hidden(&standing, eye, Vec3::new(500.0, 500.0, 900.0)));
    }
}
