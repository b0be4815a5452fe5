//! What is selected: its name, sizes and where they come from, its joints and its cuts.

use casewright_core::design::Dimension;
use casewright_core::design::edit::Edit;
use casewright_core::length::trimmed;
use casewright_core::model::{BuildStage, Joint, Part, PartId};
use egui::{Align, Layout, RichText, Ui, vec2};

use super::{Out, View, field, made, words};
use crate::ask::Ask;
use crate::theme;

/// Draws what is selected.
pub fn ui(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    let part = view.selection.part.and_then(|part| view.derived.model.parts.get(part.0));
    let Some(part) = part else {
        words::heading(ui, "Nothing selected");
        words::small(ui, "Click a part to see its sizes, joints and cuts.");
        return;
    };
    words::heading(ui, &part.title);
    words::small(ui, format!("mark {} · {} · {}", part.mark, view.derived.model.timbers.name(&part.material), part.size_text()));
    fact(ui, "Grain", view.derived.model.timbers.grain(&part.material));
    fact(
        ui,
        "Goes in",
        match part.stage {
            BuildStage::GlueUp => "in the glue-up",
            BuildStage::AfterGlueUp => "after the glue-up",
            BuildStage::Loose => "loose, taken out by hand",
        },
    );
    words::rule(ui);
    for dimension in Dimension::ALL {
        ui.push_id(dimension.word(), |ui| size(ui, view, part, dimension, out));
    }
    made::of_part(ui, view, part, out);
    let joints: Vec<_> = view.derived.model.joints_of(part.id).collect();
    if !joints.is_empty() {
        words::group(ui, &words::counted(joints.len(), "joint", "joints"));
        for (index, joint) in joints.into_iter().enumerate() {
            ui.push_id(("joint", index), |ui| one_joint(ui, view, part.id, joint, out));
        }
    }
    if !part.cuts.is_empty() {
        words::group(ui, &words::counted(part.cuts.len(), "cut", "cuts"));
        words::small(ui, "measured from face side, face edge and first end, mm");
        for cut in &part.cuts {
            let name = cut.feature.name();
            ui.label(format!("{}: {}", words::sentence(name), cut.describe()));
        }
    }
}

fn fact(ui: &mut Ui, name: &str, value: &str) {
    ui.horizontal(|ui| {
        ui.allocate_ui_with_layout(vec2(76.0, 18.0), Layout::left_to_right(Align::Center), |ui| {
            ui.set_min_width(76.0);
            words::small(ui, name);
        });
        ui.label(value);
    });
}

/// One size with its origin, and the maker's own in its place.
fn size(ui: &mut Ui, view: &View<'_>, part: &Part, dimension: Dimension, out: &mut Out) {
    let size = &part.size[dimension.index()];
    let own = view.session.design().overrides.iter().position(|own| own.part == part.name && own.of == dimension);
    let path = own.map(|index| format!("overrides.{}.value", index + 1));
    let decision = path.and_then(|path| view.decisions.iter().find(|decision| decision.spec.path == path));
    if let (Some(decision), Some(index)) = (decision, own) {
        field::row_with(ui, decision, &words::sentence(dimension.word()), out, |ui, out| {
            if words::cross(ui, &format!("Back to the rule for the {}", dimension.word())).clicked() {
                out.ask(Ask::Edit(Edit::RemoveOverride(index)));
            }
        });
        words::small(ui, "your own size, against the rule");
    } else {
        ui.horizontal(|ui| {
            fact(ui, &words::sentence(dimension.word()), &format!("{} mm", trimmed(size.mm)));
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                let set = words::link(ui, "set my own");
                let path = format!("part.{}.{}", part.name, dimension.word());
                out.mark(&path, set.rect);
                if set.clicked() {
                    field::write_in(ui, &format!("overrides.{}.value", view.session.design().overrides.len() + 1));
                    out.ask(Ask::set(path, size.mm.to_string()));
                }
            });
        });
    }
    if words::disclosure(ui, &format!("Why {}?", trimmed(size.mm)), false) {
        for line in size.explain().iter().skip(1) {
            words::indented(ui, line);
        }
        if size.explain().len() == 1 {
            words::small(ui, "You decided it.");
        }
    }
}

fn one_joint(ui: &mut Ui, view: &View<'_>, part: PartId, joint: &Joint, out: &mut Out) {
    let others: Vec<PartId> = if part == joint.a {
        vec![joint.b]
    } else if part == joint.b {
        vec![joint.a]
    } else {
        vec![joint.a, joint.b]
    };
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        for (index, other) in others.iter().enumerate() {
            if index > 0 {
                words::small(ui, "and");
            }
            let Some(other) = view.derived.model.parts.get(other.0) else { continue };
            let link = ui.add(egui::Button::new(RichText::new(&other.title).color(theme::CHALK)).frame(false));
            if link.on_hover_cursor(egui::CursorIcon::PointingHand).clicked() {
                out.ask(Ask::Select(Some(other.id)));
            }
        }
    });
    let glue = if joint.glued { "glued" } else { "not glued" };
    words::small(ui, format!("{}: {}, {glue}", joint.role.words(), joint.kind.describe()));
    for fitted in joint.kind.fits() {
        words::small(ui, fitted.describe(joint.glued));
    }
}
