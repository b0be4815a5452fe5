//! The strip at the bottom: taking apart, what it comes to, what it holds.

use std::fmt::Write as _;

use casewright_core::contents::rooms_for;
use casewright_core::model::{Material, Model};
use casewright_core::timber::{find_sheet, find_species};
use egui::{Align, Align2, Layout, RichText, Sense, Stroke, Ui, pos2, vec2};

use super::words;
use super::{Out, View};
use crate::ask::Ask;
use crate::theme;

/// Draws the strip.
pub fn ui(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    theme::sheet().inner_margin(egui::Margin::symmetric(theme::MARGIN, 10)).show(ui, |ui| {
        ui.set_min_size(ui.available_size());
        ui.horizontal_centered(|ui| {
            words::strong(ui, "Take apart");
            slider(ui, view.take_apart, out);
            ui.add_space(10.0);
            let whole = words::link(ui, "Show the whole case");
            out.mark("show_whole", whole.rect);
            if whole.clicked() {
                out.ask(Ask::ShowWhole);
            }
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| totals(ui, view));
        });
    });
}

/// A line with ticks and a knob.
fn slider(ui: &mut Ui, amount: f32, out: &mut Out) {
    let (rect, mut response) = ui.allocate_exact_size(vec2(240.0, 28.0), Sense::click_and_drag());
    let line = rect.shrink2(vec2(8.0, 0.0));
    let mut now = amount;
    if let Some(at) = response.interact_pointer_pos() {
        now = ((at.x - line.left()) / line.width()).clamp(0.0, 1.0);
    }
    if response.has_focus() {
        let steps = ui.input(|input| input.num_presses(egui::Key::ArrowRight) as f32 - input.num_presses(egui::Key::ArrowLeft) as f32);
        now = (now + steps * 0.05).clamp(0.0, 1.0);
    }
    if (now - amount).abs() > f32::EPSILON {
        response.mark_changed();
        out.ask(Ask::TakeApart(now));
    }
    response.widget_info(|| egui::WidgetInfo::slider(true, f64::from(now), "Take apart"));
    out.mark("take_apart", line);
    let painter = ui.painter();
    let ink = Stroke::new(1.3, theme::PENCIL);
    painter.hline(line.x_range(), line.center().y, ink);
    for index in 0..=10 {
        let x = line.left() + line.width() * index as f32 / 10.0;
        let half = if index % 5 == 0 { 5.0 } else { 3.0 };
        painter.vline(x, line.center().y - half..=line.center().y + half, Stroke::new(1.0, theme::PENCIL_SOFT));
    }
    let knob = pos2(line.left() + line.width() * now, line.center().y);
    let held = response.hovered() || response.dragged() || response.has_focus();
    painter.circle_filled(knob, 7.5, if held { theme::CHALK } else { theme::PENCIL });
    if ui.is_rect_visible(rect) && now > 0.0 && response.dragged() {
        let text = format!("{:.0} %", now * 100.0);
        painter.text(knob - vec2(0.0, 12.0), Align2::CENTER_BOTTOM, text, theme::small(), theme::CHALK);
    }
    response.on_hover_cursor(egui::CursorIcon::PointingHand);
}

fn totals(ui: &mut Ui, view: &View<'_>) {
    let contents = &view.session.design().contents;
    let held = contents.iter().filter(|kind| !rooms_for(&view.derived.model, kind).is_empty()).count();
    ui.with_layout(Layout::top_down(Align::Max), |ui| {
        ui.add_space(7.0);
        ui.label(RichText::new(format!("holds {held} of {}", words::counted(contents.len(), "kind", "kinds"))).font(theme::strong()));
        words::small(ui, Totals::of(&view.derived.model).text());
    });
}

/// What the case comes to.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Totals {
    parts: usize,
    /// Solid timber at finished sizes, m³.
    timber: f64,
    /// Sheet goods at finished sizes, m².
    sheet: f64,
    /// Mass of the blanks at their finished sizes, kg; none where a density is not known.
    mass: Option<f64>,
}

impl Totals {
    fn of(model: &Model) -> Totals {
        let mut totals = Totals { parts: model.parts.len(), mass: Some(0.0), ..Totals::default() };
        for part in &model.parts {
            let size = part.lwt() / 1000.0;
            let volume = size.x * size.y * size.z;
            let density = match &part.material {
                Material::Solid(id) => {
                    totals.timber += volume;
                    find_species(id).and_then(|species| species.density)
                }
                Material::Sheet(id) => {
                    totals.sheet += size.x * size.y;
                    find_sheet(id).and_then(|sheet| sheet.density)
                }
                // Screws' worth of metal: nothing against the timber.
                Material::Bought(_) => Some(0.0),
            };
            totals.mass = totals.mass.zip(density).map(|(mass, density)| mass + volume * density);
        }
        totals
    }

    fn text(self) -> String {
        let mut text = format!("{} · {:.3} m³ timber", words::counted(self.parts, "part", "parts"), self.timber);
        if self.sheet > 0.0 {
            let _ = write!(text, " · {:.1} m² sheet", self.sheet);
        }
        if let Some(mass) = self.mass {
            let _ = write!(text, " · about {mass:.0} kg empty");
        }
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_demo_weighs_what_a_cabinet_of_its_size_weighs() {
        let model = casewright_core::derive(&crate::demo()).expect("the demo");
        let totals = Totals::of(&model);
        assert!((0.04..0.2).contains(&totals.timber), "{totals:?}");
        let mass = totals.mass.expect("all densities are known");
        assert!((40.0..160.0).contains(&mass), "{totals:?}");
    }
}
