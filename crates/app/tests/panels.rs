//! The panels, driven by what a person sees and does, without a window.

mod hand;

use std::cell::RefCell;
use std::rc::Rc;

use casewright::ask::{Ask, Selection};
use casewright::derived::Derived;
use casewright::exported::ExportAsk;
use casewright::panels::{self, Out, Stage};
use casewright::theme;
use casewright_core::Design;
use casewright_core::design::decisions;
use casewright_sheets::drawing::Sheet;
use casewright_sheets::{Drafting, How, Piece};
use egui::accesskit::Role;
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use hand::Hand;

/// What the panels asked for and where their widgets stood, in the last pass and in all.
#[derive(Default)]
struct Heard {
    asks: Vec<Ask>,
    marks: Vec<(String, egui::Rect)>,
}

/// The panels of a window of 1440 × `height` on a design. What they ask for is done, as far as it is the design's.
fn window(design: Design, stage: Stage, selection: Selection, height: f32) -> (Harness<'static>, Rc<RefCell<Heard>>) {
    let heard = Rc::new(RefCell::new(Heard::default()));
    let told = Rc::clone(&heard);
    let mut hand = Hand::new(design, stage, selection);
    let mut themed = false;
    let harness = Harness::builder().with_size(egui::vec2(1440.0, height)).build_ui(move |ui| {
        if !std::mem::replace(&mut themed, true) {
            theme::apply(ui.ctx());
            ui.ctx().request_repaint();
            return;
        }
        let mut out = Out::default();
        panels::ui(ui, &hand.view(), &mut out);
        for ask in &out.asks {
            if let Ask::Set { path, text, gesture } = ask {
                hand.set(path, text, *gesture);
            }
        }
        let mut heard = told.borrow_mut();
        heard.asks.append(&mut out.asks);
        heard.marks = out.marks;
    });
    (harness, heard)
}

fn place(heard: &Rc<RefCell<Heard>>, name: &str) -> egui::Rect {
    let heard = heard.borrow();
    heard.marks.iter().find(|(known, _)| known == name).unwrap_or_else(|| panic!("{name} is on screen")).1
}

#[test]
fn every_decision_of_a_stage_has_a_field_on_its_panel() {
    for stage in Stage::ALL {
        // How a thing stands is open where it is not as usual.
        let mut design = casewright::demo();
        design.contents.iter_mut().for_each(|kind| kind.spare = 10.0);
        let (mut harness, heard) = window(design.clone(), stage, Selection::default(), 6000.0);
        harness.run();
        let heard = heard.borrow();
        for decision in decisions::list(&design) {
            if Some(decision.spec.stage) == stage.decisions() {
                let path = &decision.spec.path;
                assert!(heard.marks.iter().any(|(name, rect)| name == path && rect.width() > 20.0), "{stage:?} lacks {path}");
            }
        }
    }
}

#[test]
fn dragging_a_field_sets_its_decision_in_one_gesture() {
    let (mut harness, heard) = window(casewright::demo(), Stage::Case, Selection::default(), 900.0);
    harness.run();
    let at = place(&heard, "carcase.width").center();
    harness.drag_at(at);
    harness.run();
    for step in 1..=4 {
        harness.hover_at(at + egui::vec2(10.0 * step as f32, 0.0));
        harness.run();
    }
    harness.drop_at(at + egui::vec2(40.0, 0.0));
    harness.run();
    let heard = heard.borrow();
    let sets: Vec<_> = heard
        .asks
        .iter()
        .filter_map(|ask| match ask {
            Ask::Set { path, text, gesture } if path == "carcase.width" => Some((text.parse::<f64>().expect("a length"), *gesture)),
            _ => None,
        })
        .collect();
    assert!(sets.len() > 1, "the case follows while the pointer moves: {sets:?}");
    assert!(sets.windows(2).all(|pair| pair[0].0 < pair[1].0), "to the right is wider: {sets:?}");
    assert!(sets.iter().all(|(_, gesture)| gesture.is_some() && *gesture == sets[0].1), "one drag is one step: {sets:?}");
}

#[test]
fn a_length_can_be_typed_in_inches_and_nonsense_is_told() {
    let (mut harness, heard) = window(casewright::demo(), Stage::Case, Selection::default(), 900.0);
    harness.run();
    let field = place(&heard, "carcase.width").center();
    let write = |harness: &mut Harness<'static>, text: &str| {
        for _ in 0..2 {
            harness.hover_at(field);
            harness.drag_at(field);
            harness.drop_at(field);
            harness.run();
        }
        harness.key_combination_modifiers(egui::Modifiers::COMMAND, &[egui::Key::A]);
        harness.event(egui::Event::Text(text.to_owned()));
        harness.run();
        harness.key_press(egui::Key::Enter);
        harness.run();
    };
    write(&mut harness, "48 in");
    assert!(heard.borrow().asks.contains(&Ask::set("carcase.width", "1219.2")), "{:?}", heard.borrow().asks);
    let before = heard.borrow().asks.len();
    write(&mut harness, "wide");
    assert_eq!(heard.borrow().asks.len(), before, "nonsense sets nothing");
    harness.get_by_label_contains("is no length");
}

#[test]
fn findings_speak_with_their_word_and_lead_to_their_place() {
    let mut design = casewright::demo();
    decisions::set(&mut design, "timber.panel.measured", "13.5").expect("a length");
    decisions::set(&mut design, "joinery.groove.width_by", "own").expect("a word");
    let findings = Derived::of(&design).findings;
    let first = findings.first().expect("a panel too thick for its groove is found");
    let (mut harness, heard) = window(design, Stage::Case, Selection::default(), 900.0);
    harness.run();
    let row = harness.get_all_by_role(Role::Button).find(|node| {
        node.accesskit_node().label().is_some_and(|label| label.starts_with(first.seriousness.word()) && label.contains(&first.message))
    });
    row.expect("the finding is on the sheet with its word").click();
    harness.run();
    assert!(heard.borrow().asks.contains(&Ask::ShowFinding(0)), "{:?}", heard.borrow().asks);
}

#[test]
fn a_selected_part_tells_its_size_and_where_it_comes_from() {
    let derived = Derived::of(&casewright::demo());
    let rail = derived.model.find("rail.front.bottom").expect("the demo has a front rail");
    let selection = Selection { part: Some(rail.id), finding: None };
    let (mut harness, _) = window(casewright::demo(), Stage::Case, selection, 1400.0);
    harness.run();
    harness.get_by_label(&rail.title);
    harness.get_by_label("Why 1264?").click();
    harness.run();
    harness.get_by_label_contains("case width 1360");
}

#[test]
fn clicking_into_a_field_and_out_again_leaves_its_value_as_it_was() {
    // One has more digits than are shown, the other is out of range.
    for width in [1360.0041, 9000.0] {
        let mut design = casewright::demo();
        design.carcase.width = casewright_core::Length::mm(width);
        let (mut harness, heard) = window(design, Stage::Case, Selection::default(), 900.0);
        harness.run();
        let field = place(&heard, "carcase.width").center();
        harness.hover_at(field);
        harness.drag_at(field);
        harness.drop_at(field);
        harness.run();
        harness.key_press(egui::Key::Enter);
        harness.run();
        assert!(heard.borrow().asks.is_empty(), "{width}: {:?}", heard.borrow().asks);
    }
}

/// What is not ticked is not exported, a name that is clicked is looked at, and what is asked for goes out as it is.
#[test]
fn papers_are_chosen_looked_at_exported_and_printed() {
    let (mut harness, heard) = window(casewright::demo(), Stage::Drawings, Selection::default(), 1600.0);
    harness.run();
    let letter = How { drafting: Drafting { sheet: Sheet::Letter, ..Drafting::default() }, ..How::default() };
    for (mark, ask) in [
        ("export.templates", ExportAsk::Want(Piece::Templates, false)),
        ("export.STEP", ExportAsk::Want(Piece::Step, true)),
        ("export.bound", ExportAsk::Bound(false)),
        ("look_at.set-up cards", ExportAsk::LookAt(Piece::SetUpCards)),
        ("made.Drawn on.letter", ExportAsk::So(Box::new(letter))),
        ("export", ExportAsk::Begin),
        ("print", ExportAsk::Print(Piece::papers().collect())),
        ("print_these", ExportAsk::Print(vec![Piece::Drawings])),
    ] {
        let at = place(&heard, mark).center();
        harness.hover_at(at);
        harness.drag_at(at);
        harness.drop_at(at);
        harness.run();
        assert_eq!(heard.borrow().asks.last(), Some(&Ask::Export(ask)), "{mark}");
    }
    assert!(place(&heard, "sheet.1-views").width() > 300.0, "the sheets stand below");
}

/// A sheet that is clicked lies over the case, larger, until it is put away.
#[test]
fn a_sheet_is_looked_at_closely_over_the_case() {
    let (mut harness, heard) = window(casewright::demo(), Stage::Drawings, Selection::default(), 1600.0);
    let click = |harness: &mut Harness<'static>, mark: &str| {
        let at = place(&heard, mark).center();
        harness.hover_at(at);
        harness.drag_at(at);
        harness.drop_at(at);
        harness.run();
        harness.run();
    };
    let is_on = |mark: &str| heard.borrow().marks.iter().any(|(known, _)| known == mark);
    harness.run();
    assert!(!is_on("close.1-views"));
    click(&mut harness, "sheet.1-views");
    assert!(place(&heard, "close.1-views").width() > 400.0);
    click(&mut harness, "close.next");
    assert!(!is_on("close.1-views") && is_on("close.before"), "the next one lies there");
    click(&mut harness, "close.back");
    assert!(!is_on("close.before"), "the case is seen again");
}
