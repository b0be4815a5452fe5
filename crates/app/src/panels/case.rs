//! The stage "Case": sizes and construction, bays and shelves.

use casewright_core::derive::bay_plans;
use casewright_core::design::decisions::{self, Decision, Value};
use casewright_core::design::edit::Edit;
use casewright_core::design::{Design, Opening};
use egui::Ui;

use super::{Out, View, field, stage, words};
use crate::ask::Ask;

/// Draws it.
pub fn ui(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    words::heading(ui, "Case");
    words::small(ui, "Post and rail, panels in grooves");
    let mut heading = "";
    let mut shelves_done = false;
    let of_stage = |decision: &&Decision| decision.spec.stage == decisions::Stage::Case;
    for decision in view.decisions.iter().filter(of_stage) {
        let path = decision.spec.path.as_str();
        if let Some(bay) = bay_of(path) {
            bay_row(ui, view, decision, bay, out);
        } else if !is_shelf(path) {
            if path.starts_with("sawtooth") && !shelves_done {
                shelves_done = true;
                add_bay(ui, view, out);
                all_shelves(ui, view, out);
            }
            stage::head(ui, &mut heading, decision);
            field::row_with(ui, decision, &own_words(view, decision), out, |_, _| {});
        }
    }
}

/// Whether a decision is of a shelf. These come all bays at once, so that a bay without a shelf can get one.
fn is_shelf(path: &str) -> bool {
    path.starts_with("interior.") && (path.contains("shelves.") || path.ends_with(".system"))
}

/// The label; for a size of one part, its title.
fn own_words(view: &View<'_>, decision: &Decision) -> String {
    let label = &decision.spec.label;
    if !decision.spec.path.starts_with("overrides.") {
        return label.clone();
    }
    let Some((name, of)) = label.split_once(": ") else { return label.clone() };
    view.derived.model.find(name).map_or_else(|| label.clone(), |part| format!("{}: {of}", part.title))
}

/// Which bay of the case, from 0, a decision gives the size of.
fn bay_of(path: &str) -> Option<usize> {
    let number = path.strip_prefix("interior.bays.")?.strip_suffix(".size")?;
    number.parse::<usize>().ok()?.checked_sub(1)
}

fn bay_row(ui: &mut Ui, view: &View<'_>, decision: &Decision, bay: usize, out: &mut Out) {
    let takes_share = matches!(decision.value, Value::Number(_));
    let words = if takes_share { format!("{}, a share", decision.spec.label) } else { decision.spec.label.clone() };
    field::row_with(ui, decision, &words, out, |ui, out| {
        if words::cross(ui, &format!("Take bay {} out", bay + 1)).clicked() {
            out.ask(Ask::Edit(Edit::RemoveBay(bay)));
        }
        let (text, meaning) = if takes_share {
            ("in mm", "Give it a clear width of its own")
        } else {
            ("share", "Let it take a share of what the others leave")
        };
        // How wide a share is can't be told while the design gives no case.
        if takes_share && !view.derived.errors.is_empty() {
            return;
        }
        let toggle = words::link(ui, text).on_hover_text(meaning);
        out.mark(format!("bay.{}.share", bay + 1), toggle.rect);
        if toggle.clicked()
            && let Some(clear) = clear_width(view.session.design(), bay)
        {
            out.ask(Ask::Edit(Edit::ShareBay { bay, share: !takes_share, clear }));
        }
    });
}

/// The clear width of a bay of the case, from its left face to its right one, however it is divided itself, mm.
fn clear_width(design: &Design, bay: usize) -> Option<f64> {
    let plans = bay_plans(design).ok()?;
    let opening = format!("interior.bays.{}.opening", bay + 1);
    let within = |path: &str| path.strip_prefix(&opening).is_some_and(|rest| rest.is_empty() || rest.starts_with('.'));
    let mut plans = plans.iter().filter(|plan| within(&plan.path));
    let first = plans.next()?;
    let last = plans.next_back().unwrap_or(first);
    Some(last.right.mm - first.left.mm)
}

fn add_bay(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    if matches!(view.session.design().interior, Opening::Split(_)) {
        let add = words::link(ui, "Add a bay");
        out.mark("add_bay", add.rect);
        if add.clicked() {
            out.ask(Ask::Edit(Edit::AddBay));
        }
    }
}

/// What holds the shelves of every bay, and the shelves of each that has some.
fn all_shelves(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    for (bay, path, has_shelves) in leaves(view.session.design()) {
        words::group(ui, &format!("Bay {}, shelves", bay + 1));
        let system = format!("{path}.system");
        if let Some(decision) = view.decisions.iter().find(|decision| decision.spec.path == system) {
            field::row_with(ui, decision, "Shelves on", out, |_, _| {});
        }
        if !has_shelves {
            continue;
        }
        let prefix = format!("{path}.shelves.");
        let shelves = view.decisions.iter().filter(|decision| decision.spec.path.starts_with(&prefix));
        for (shelf, decision) in shelves.enumerate() {
            field::row_with(ui, decision, &decision.spec.label, out, |ui, out| {
                if words::cross(ui, &format!("Take shelf {} out of bay {}", shelf + 1, bay + 1)).clicked() {
                    out.ask(Ask::Edit(Edit::RemoveShelf { bay, shelf }));
                }
            });
        }
        let add = ui.push_id(("add shelf", bay), |ui| words::link(ui, "Add a shelf")).inner;
        out.mark(format!("bay.{}.add_shelf", bay + 1), add.rect);
        if add.clicked() {
            out.ask(Ask::Edit(Edit::AddShelf(bay)));
        }
    }
}

/// Number from the left and path of every opening that is not divided, and whether it has shelves.
fn leaves(design: &Design) -> Vec<(usize, String, bool)> {
    fn walk(opening: &Opening, path: &str, leaf: &mut usize, found: &mut Vec<(usize, String, bool)>) {
        match opening {
            Opening::Leaf(fitting) => {
                found.push((*leaf, path.to_owned(), fitting.shelves().is_some()));
                *leaf += 1;
            }
            Opening::Split(split) => {
                for (index, bay) in split.bays.iter().enumerate() {
                    walk(&bay.opening, &format!("{path}.bays.{}.opening", index + 1), leaf, found);
                }
            }
        }
    }
    let mut found = Vec::new();
    walk(&design.interior, "interior", &mut 0, &mut found);
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use casewright_core::Length;
    use casewright_core::design::{Along, Bay, BaySize, Divider, Fitting, Split};

    #[test]
    fn a_bay_after_a_divided_one_has_its_own_width() {
        let mut design = crate::demo();
        let before: Vec<_> = (0..2).map(|bay| clear_width(&design, bay).expect("a bay of the demo")).collect();
        let Opening::Split(split) = &mut design.interior else { panic!("the demo is divided") };
        let half = || Bay { size: BaySize::Share(1.0), opening: Opening::Leaf(Fitting::Empty) };
        let divider = Divider { width: Length::mm(40.0), cross_rail: Length::mm(50.0) };
        split.bays[0].opening = Opening::Split(Split { along: Along::Width, divider, bays: vec![half(), half()] });
        for (bay, width) in before.into_iter().enumerate() {
            let now = clear_width(&design, bay).expect("still a bay");
            assert!((now - width).abs() < 1e-6, "bay {bay}: {width} became {now}");
        }
    }
}
