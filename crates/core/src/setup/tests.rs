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
            let operation = Operation::of(&design, &model, part, cut);
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
    let places: Vec<u8> = setups.iter().map(|setup| setup.setting.work.place()).collect();
    assert!(places.is_sorted(), "{places:?}");
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

/// Every order of the settings of two cutters is tried: none moves less than the one that is told.
#[test]
fn settings_move_least() {
    fn orders(left: &[Setup]) -> Vec<Vec<Setup>> {
        if left.is_empty() {
            return vec![Vec::new()];
        }
        let first = |at: usize| {
            let mut rest = left.to_vec();
            let taken = rest.remove(at);
            orders(&rest).into_iter().map(move |order| std::iter::once(taken.clone()).chain(order).collect::<Vec<_>>())
        };
        (0..left.len()).flat_map(first).collect()
    }
    let moved = |order: &[Setup]| -> u32 { order.windows(2).map(|pair| pair[1].setting.changes_from(&pair[0].setting)).sum() };
    let mut tried = 0;
    let mut least_of = |first: &[Setup], second: &[Setup]| {
        let ([first_orders, second_orders], both) = ([first, second].map(orders), [first, second].concat());
        let all = first_orders.iter().flat_map(|a| second_orders.iter().map(move |b| [a.clone(), b.clone()].concat()));
        let least = all.map(|order| moved(&order)).min();
        assert_eq!(Some(moved(&order::least_moves(both.clone()))), least);
        tried += 1;
        (both, least)
    };
    for reveal in [0.0, 5.0] {
        let mut design = demo();
        set(&mut design, "carcase.rails.reveal", reveal);
        let (_, setups) = of(&design);
        for pair in setups.chunk_by(|a, b| a.setting.shares_cutter(&b.setting)).collect::<Vec<_>>().windows(2) {
            if pair[0].len() * pair[1].len() <= 25 {
                least_of(pair[0], pair[1]);
            }
        }
    }
    // Two depths at two fences: by their sizes four settings are moved, and there and back three.
    let (_, setups) = of(&demo());
    let fenced = setups.iter().find(|setup| setup.setting.fence.is_some_and(|fence| !fence.to_middle)).expect("a card with a fence");
    let at = |depth: f64, mm: f64| {
        let setting = Setting { depth, fence: Some(Fence { mm, to_middle: false }), ..fenced.setting.clone() };
        Setup { setting, ..fenced.clone() }
    };
    let (by_size, least) = least_of(&[at(10.0, 5.0), at(10.0, 8.0), at(20.0, 5.0), at(20.0, 8.0)], &[]);
    assert_eq!((moved(&by_size), least), (4, Some(3)));
    assert!(tried > 5, "{tried}");
}

/// A round cutter is not plunged deeper at once than it is thick, and no deeper than 6 (common practice, no source).
#[test]
fn deep_cuts_are_made_in_passes() {
    let (_, setups) = of(&demo());
    let mut told = 0;
    for setup in setups.iter().filter(|setup| matches!(setup.setting.work, Work::Mortise | Work::Groove | Work::Housing)) {
        let (Cutter::Round(size) | Cutter::Square(size)) = setup.setting.cutter else { continue };
        let each = setup.passes_in_depth().map_or(setup.setting.depth, |(passes, each)| {
            assert!((each * f64::from(passes) - setup.setting.depth).abs() < 1e-9);
            told += 1;
            each
        });
        assert!(each <= size.min(6.0) + 1e-6, "{}: {each}", setup.title());
    }
    assert!(told > 3);
}

/// A cutter that is wider than its groove is named as it is, and told.
#[test]
fn a_cutter_that_is_too_wide_is_told() {
    let mut design = demo();
    set(&mut design, "joinery.groove.cutter", 14.0);
    let (_, setups) = of(&design);
    let grooves: Vec<&Setup> = setups.iter().filter(|setup| setup.setting.work == Work::Groove).collect();
    assert!(!grooves.is_empty());
    for card in grooves {
        assert!(
            card.title().contains("14") && card.warnings.iter().any(|words| words.contains("14 wide and the groove 12.95")),
            "{card:?}"
        );
    }
}

/// What is tried is what is cut: no tenon goes into a slot for a button, and pilot holes are bored in their place, on one card.
#[test]
fn each_card_tries_what_it_cuts() {
    let (model, setups) = of(&demo());
    for setup in &setups {
        assert!(!setup.test.is_empty(), "{}", setup.title());
        assert!(setup.tool.is_some() || !setup.otherwise.is_empty(), "{} says how", setup.title());
        let is_slot = setup.cuts.iter().any(|on| on.parts.iter().any(|part| model.part(*part).kind == PartKind::Rail))
            && matches!(setup.setting.cutter, Cutter::Square(_));
        assert!(!is_slot || !setup.test.contains("tenon"), "{}: {}", setup.title(), setup.test);
    }
    let pilots: Vec<&Setup> = setups.iter().filter(|setup| setup.setting.work == Work::Pilot).collect();
    assert!(pilots.len() == 1 && pilots[0].setting.fence.is_none(), "{pilots:?}");
    let slopes = setups.iter().find(|setup| setup.setting.work == Work::Shape).expect("cleats");
    assert!(slopes.test.contains("slope") && slopes.cuts.iter().flat_map(|on| &on.at).all(|at| at.words.contains("28.1°")), "{slopes:?}");
}
