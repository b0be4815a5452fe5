//! Every cut on one card, at its own setting.

use super::*;
use crate::Length;
use crate::design::{Dimension, shop};

fn demo() -> Design {
    crate::design::text::read(include_str!("../../../../examples/records_cabinet.ron")).expect("the demo")
}

fn set(design: &mut Design, path: &str, mm: f64) {
    let all = [(path.to_owned(), mm.to_string())];
    let told = crate::design::decisions::set_all(design, &all);
    assert!(told.is_empty(), "{told:?}");
}

fn of(design: &Design) -> (Model, Vec<Setup>) {
    let model = crate::derive(design).expect("the demo");
    let setups = setups(design, &model);
    (model, setups)
}

/// Every cut of every part stands on one card, at its own cutter, fence and depth; the work goes on in its order.
#[test]
fn every_cut_is_on_one_card() {
    let design = demo();
    let (model, setups) = of(&design);
    for part in model.parts.iter().filter(|part| is_worked(part)) {
        for cut in &part.cuts {
            let operation = Operation::of(&model, part, cut);
            let taking: Vec<&Setup> = setups.iter().filter(|setup| setup.takes(&operation)).collect();
            let [card] = taking.as_slice() else { panic!("{}: {} is on {} cards", part.title, cut.describe(), taking.len()) };
            let on = card.cuts.iter().find(|on| on.mark == part.mark && on.into == operation.into).expect("its mark is on the card");
            assert!(on.parts.contains(&part.id) && on.at.contains(&operation.at), "{}: {}", part.title, cut.describe());
            assert!(
                (card.setting.depth - operation.setting.depth).abs() < setting::SAME
                    && (card.setting.width - operation.setting.width).abs() < setting::SAME
            );
        }
    }
    assert!(setups.windows(2).all(|pair| pair[0].setting.order(&pair[1].setting).is_le()));
    assert!(setups.iter().any(|setup| setup.cuts.len() > 1), "parts that share a setting share a card");
}

/// Rails are set back from the faces of the posts: their mortises stand as much farther from the face side of the posts as from that of the rails, which is
/// the reveal added (the trade's rule; geometry).
#[test]
fn the_reveal_is_added_for_posts() {
    let mut design = demo();
    let fences = |design: &Design, kind: PartKind| {
        let (model, setups) = of(design);
        let mortises = setups.into_iter().filter(|setup| setup.setting.work == Work::Mortise);
        let fence = |setup: Setup| {
            let is_of = setup.cuts.iter().any(|on| on.parts.iter().any(|part| model.part(*part).kind == kind));
            setup
                .setting
                .fence
                .filter(|fence| is_of && matches!(setup.setting.cutter, Cutter::Round(_)) && !fence.to_middle)
                .map(|fence| fence.mm)
        };
        mortises.filter_map(fence).collect::<Vec<f64>>()
    };
    let reveal = 5.0;
    set(&mut design, "carcase.rails.reveal", 0.0);
    let flush = fences(&design, PartKind::Post);
    set(&mut design, "carcase.rails.reveal", reveal);
    let (posts, rails) = (fences(&design, PartKind::Post), fences(&design, PartKind::Rail));
    let has = |all: &[f64], mm: f64| all.iter().any(|at| (at - mm).abs() < 0.06);
    assert!(rails.iter().any(|rail| has(&posts, rail + reveal)), "{rails:?} {posts:?}");
    assert!(flush.iter().any(|at| has(&posts, at + reveal)), "{flush:?} {posts:?}");
}

/// A rail that came out 0.2 thinner goes on the same card as the others, and what its groove comes to is told; what is cut is on none.
#[test]
fn other_stock_is_told_and_what_is_cut_is_not_set_up_again() {
    let mut design = demo();
    // A cutter narrower than the groove, and wider than half of it.
    set(&mut design, "joinery.groove.cutter", 8.0);
    let (model, planned) = of(&design);
    let Some(card) = planned.iter().find(|setup| setup.turned.is_some()) else { panic!("a centred groove") };
    assert!(card.warnings.is_empty());
    let part = model.part(card.cuts.iter().find(|on| on.turns).expect("parts that are turned").parts[0]);
    let axis = card.turned.map(|turned| turned.axis).expect("turned");
    let dimension = Dimension::ALL[axis];
    let thinner = Length::mm(part.lwt()[axis] - 0.2);
    shop::measure(&mut design, &part.name, dimension, Some(thinner)).expect("it can be measured");
    let (_, after) = of(&design);
    assert!(after.iter().any(|setup| setup.warnings.iter().any(|words| words.contains("turned, its cut comes out"))), "{after:#?}");
    let all: Vec<(String, String)> = model.parts.iter().map(|part| (format!("made.{}.state", part.name), "cut".to_owned())).collect();
    assert!(crate::design::decisions::set_all(&mut design, &all).is_empty());
    assert_eq!(of(&design).1, []);
}

/// Who has no router cuts mortises another way, and the card says how.
#[test]
fn a_tool_that_is_not_there_is_not_asked_for() {
    let mut design = demo();
    design.shop.tools.0.retain(|tool| tool.makes != ToolWork::Slot);
    let (_, setups) = of(&design);
    let mortises: Vec<_> = setups.iter().filter(|setup| setup.setting.work == Work::Mortise).collect();
    assert!(!mortises.is_empty() && mortises.iter().all(|setup| setup.tool.is_none() && !setup.otherwise.is_empty()));
    assert!(setups.iter().filter(|setup| setup.setting.work == Work::Groove).all(|setup| setup.tool.is_some()));
}
