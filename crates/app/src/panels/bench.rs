//! The stage "Bench": the order of work, step by step, and what each glue-up asks for.

use casewright_core::Seriousness;
use casewright_core::cautions;
use casewright_core::design::decisions::Decision;
use casewright_core::length::trimmed_to;
use casewright_core::sequence::{GlueUp, Group, Sequence};
use casewright_core::setup::setups;
use casewright_core::worked::Worked;
use egui::{Align, Label, Layout, RichText, Sense, Shape, Stroke, Ui, pos2, vec2};

use super::words::{self, sign_here};
use super::{Out, View, stage};
use crate::ask::{Ask, TakeApart};
use crate::theme;

/// Draws it.
pub fn ui(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    words::heading(ui, "Bench");
    let order = view.derived.order();
    words::small(ui, order.map_or_else(|| "The order of assembly is being worked out.".to_owned(), summary));
    if let Some(order) = order.filter(|order| !order.done.is_empty()) {
        words::group(ui, "Glued already");
        for done in &order.done {
            ui.add(Label::new(words::sentence(&done.words(&view.derived.model))).wrap());
        }
    }
    let is_tool = |decision: &Decision| decision.spec.path.starts_with("shop.tools.");
    stage::groups_of(ui, view, |decision| !is_tool(decision), out);
    if let Some(order) = order {
        groups(ui, view, order, out);
    }
    set_ups(ui, view, out);
    cautions(ui, view);
    stage::groups_of(ui, view, is_tool, out);
}

/// How the machines are set, a card a setting.
fn set_ups(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    let setups = setups(view.session.design(), &view.derived.model);
    if setups.is_empty() {
        return;
    }
    words::group(ui, "Set-ups");
    let at = ui.cursor().min;
    let open = words::disclosure(ui, &words::counted(setups.len(), "setting of the machines", "settings of the machines"), false);
    out.mark("bench.setups", egui::Rect::from_min_size(at, vec2(120.0, 16.0)));
    if !open {
        return;
    }
    for (at, setup) in setups.iter().enumerate() {
        ui.add_space(6.0);
        ui.add(Label::new(RichText::new(format!("{}. {}", at + 1, setup.title())).font(theme::strong())).wrap());
        for (name, told) in setup.settings() {
            words::small(ui, format!("{name}: {told}"));
        }
        for on in &setup.cuts {
            words::small(ui, format!("{}: {}", on.words(), on.places(setup)));
        }
        for caution in setup.warnings.iter().chain(&setup.cautions) {
            ui.horizontal_wrapped(|ui| {
                sign_here(ui, Seriousness::AtRisk);
                words::small(ui, caution);
            });
        }
    }
}

/// What can hurt, for this very case.
fn cautions(ui: &mut Ui, view: &View<'_>) {
    let cautions = cautions::cautions(view.session.design(), &view.derived.model);
    if cautions.is_empty() {
        return;
    }
    words::group(ui, "Cautions");
    for caution in cautions {
        words::strong(ui, words::sentence(caution.about.word()));
        ui.add(Label::new(&caution.words).wrap()).on_hover_text(format!("{} ({})", caution.source, caution.how));
    }
}

/// Every sub-assembly with its glue-ups and steps.
fn groups(ui: &mut Ui, view: &View<'_>, order: &Sequence, out: &mut Out) {
    let under_way = under_way(view.take_apart, order.steps.len());
    for (index, group) in order.groups.iter().enumerate().filter(|(_, group)| !group.steps.is_empty()) {
        words::group(ui, &words::sentence(&group.title));
        for glue_up in order.glue_ups.iter().filter(|glue_up| glue_up.group == index) {
            glued(ui, view, glue_up);
        }
        for preparation in order.before(group.steps.start) {
            ui.add(Label::new(&preparation.words).wrap());
        }
        steps(ui, order, group, under_way, out);
    }
}

fn summary(order: &Sequence) -> String {
    let steps = words::counted(order.steps.len(), "step", "steps");
    let glue_ups = words::counted(order.glue_ups.len(), "glue-up", "glue-ups");
    let proof = if order.locked.is_empty() { "every move tried on the solids" } else { "but not all of it goes in" };
    let left = if order.done.is_empty() { "" } else { " still to do" };
    format!("{steps}, {glue_ups}{left}; {proof}")
}

/// The step that is shown half done; none when all is together.
pub fn under_way(take_apart: TakeApart, steps: usize) -> Option<usize> {
    let done = (f64::from(1.0 - take_apart.amount) * steps as f64 + 1e-6).floor() as usize;
    (done < steps).then_some(done)
}

fn steps(ui: &mut Ui, order: &Sequence, group: &Group, under_way: Option<usize>, out: &mut Out) {
    for index in group.steps.clone() {
        let Some(step) = order.steps.get(index) else { continue };
        ui.horizontal_top(|ui| {
            ui.allocate_ui_with_layout(vec2(26.0, 18.0), Layout::right_to_left(Align::Center), |ui| {
                ui.set_min_width(26.0);
                words::small(ui, (index + 1).to_string());
            });
            let now = under_way == Some(index);
            let text = RichText::new(&step.words);
            let text = if now { text.font(theme::strong()).color(theme::CHALK) } else { text.color(theme::PENCIL) };
            let line = ui.add(Label::new(text).wrap().sense(Sense::click()));
            if now {
                mark_now(ui, index, line.rect);
            }
            let line = line.on_hover_cursor(egui::CursorIcon::PointingHand).on_hover_text("Show it");
            line.widget_info(|| egui::WidgetInfo::labeled(egui::WidgetType::Button, true, &step.words));
            out.mark(format!("step.{index}"), line.rect);
            if line.clicked() {
                // Just before it is done.
                let amount = 1.0 - (index as f32 + 0.02) / order.steps.len().max(1) as f32;
                out.ask(Ask::TakeApart(amount));
            }
        });
    }
}

/// Marks the step under way at its left, and brings it into sight when another becomes that.
fn mark_now(ui: &Ui, index: usize, line: egui::Rect) {
    let at = pos2(ui.min_rect().left() - 2.0, line.top() + 9.0);
    let points = vec![at + vec2(-4.0, -4.5), at + vec2(3.0, 0.0), at + vec2(-4.0, 4.5)];
    ui.painter().add(Shape::convex_polygon(points, theme::CHALK, Stroke::NONE));
    let id = egui::Id::new("step in sight");
    if ui.data(|data| data.get_temp::<usize>(id)) != Some(index) {
        ui.data_mut(|data| data.insert_temp(id, index));
        ui.scroll_to_rect(line.expand2(vec2(0.0, 60.0)), None);
    }
}

/// How long, with what, and how to tell that it is square.
fn glued(ui: &mut Ui, view: &View<'_>, glue_up: &GlueUp) {
    let gluing = &view.session.design().shop.glue;
    let joints = words::counted(glue_up.joints.len(), "joint", "joints");
    let stage = match glue_up.stage {
        (_, 1) => "Glue".to_owned(),
        (stage, of) => format!("Stage {stage} of {of}: glue"),
    };
    let whole = |seconds: f64| trimmed_to(seconds, 0);
    ui.horizontal_wrapped(|ui| {
        if !glue_up.in_time() {
            sign_here(ui, Seriousness::AtRisk);
        }
        let ink = if glue_up.in_time() { theme::PENCIL } else { theme::RISK };
        let reasons = glue_up.time(gluing);
        let aside = reasons.iter().map(Worked::aside).find(|aside| !aside.is_empty()).unwrap_or_default();
        let [each, takes, may] = [gluing.seconds, glue_up.seconds, glue_up.allowed].map(whole);
        let time = format!("{stage} {joints} × {each} s: {takes} s of {may} s{aside}");
        words::asked(ui.label(RichText::new(time).color(ink)), &reasons);
    });
    for clamp in &glue_up.clamps {
        let clamps = words::counted(clamp.count, "clamp", "clamps");
        let open = if clamp.count == 1 { "opens" } else { "open" };
        words::asked(words::small(ui, format!("{clamps} that {open} to {} mm", whole(clamp.length))), [&clamp.worked()]);
    }
    for diagonal in &glue_up.diagonals {
        words::asked(words::small(ui, words::sentence(&diagonal.words())), &diagonal.worked());
    }
    if let Some(swelling) = glue_up.swelling() {
        words::small(ui, words::sentence(swelling));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_step_under_way_is_the_one_the_knob_stands_in() {
        let at = |amount| under_way(TakeApart { amount, playing: None }, 4);
        assert_eq!(at(1.0), Some(0));
        assert_eq!(at(0.76), Some(0));
        assert_eq!(at(0.74), Some(1));
        assert_eq!(at(0.1), Some(3));
        assert_eq!(at(0.0), None);
    }
}
