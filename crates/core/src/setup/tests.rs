//! Every cut on one card, at its own setting.

use super::*;
use crate::Length;
use crate::design::{Dimension, shop};
use crate::model::Feature;

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

/// What all cards say, a line each.
fn said(setups: &[Setup]) -> Vec<String> {
    let of = |setup: &Setup| {
        let settings = setup.settings().into_iter().map(|(name, words)| format!("{name}: {words}"));
        let cuts = setup.cuts.iter().map(|on| format!("{}: {}", on.words(), on.places(setup)));
        settings.chain(cuts).chain(setup.warnings.clone()).chain([setup.title()]).collect::<Vec<String>>()
    };
    setups.iter().flat_map(of).collect()
}

/// Stock 19.0, groove 6.6: fence 6.2; stock 19.2 in the same set: groove 6.8 (a check value of the trade's method, derived).
#[test]
fn the_card_says_what_a_groove_becomes_in_thicker_stock() {
    let mut design = demo();
    let own = [("joinery.groove.width_by", "own"), ("joinery.groove.own_width", "6.6"), ("joinery.groove.cutter", "6")];
    let rails = [("carcase.rails.thickness", "19"), ("timber.panel.measured", "6.4")];
    let all: Vec<(String, String)> = own.into_iter().chain(rails).map(|(path, value)| (path.to_owned(), value.to_owned())).collect();
    assert!(crate::design::decisions::set_all(&mut design, &all).is_empty());
    let (model, planned) = of(&design);
    let turned = |setups: &[Setup]| setups.iter().filter(|setup| setup.turned.is_some()).cloned().collect::<Vec<_>>();
    let before = said(&turned(&planned));
    assert!(
        before.iter().any(|words| words.contains("fence 6.2 from the near wall") && words.ends_with("from stock of 19")),
        "{before:#?}"
    );
    assert!(!before.iter().any(|words| words.contains("19.2")), "{before:#?}");
    let cards = turned(&planned);
    let rail = |on: &OnParts| on.parts.iter().copied().find(|part| model.part(*part).kind == PartKind::Rail);
    for which in
        [cards[0].cuts.iter().filter(|on| on.turns).find_map(rail), cards[0].cuts.iter().rev().filter(|on| on.turns).find_map(rail)]
    {
        let part = model.part(which.expect("a rail that is turned"));
        let mut design = design.clone();
        // What is rough yet and thicker is planed to its size: this one is left so.
        let left = vec![(format!("part.{}.thickness", part.name), "19.2".to_owned())];
        assert!(crate::design::decisions::set_all(&mut design, &left).is_empty());
        let (after, setups) = of(&design);
        let mark = &after.parts.iter().find(|other| other.name == part.name).expect("it is still there").mark;
        let told = said(&turned(&setups));
        let warned = format!("{mark}: 19.2 thick; turned, its cut comes out 6.8 wide, not 6.6: plane it to 19, or don't turn it");
        assert!(told.contains(&warned), "{warned}\n{told:#?}");
        assert!(told.iter().any(|words| words.contains("fence 6.2 from the near wall")), "{told:#?}");
    }
}

/// A sheet sold as 12 that measures 12.75, and a cutter of 12.7 (common practice, no source): two passes, the second moved on by 0.05 and the fit; a panel that
/// measures otherwise has a groove of its own, at a setting of its own.
#[test]
fn the_card_says_what_a_measured_sheet_asks_for() {
    let mut design = demo();
    set(&mut design, "timber.panel.measured", 12.75);
    set(&mut design, "joinery.groove.cutter", 12.7);
    set(&mut design, "joinery.groove.fit", 0.0);
    let (model, setups) = of(&design);
    let told = said(&setups);
    for words in ["Wide: 12.75", "Then: the fence moved on by 0.05, which widens it"] {
        assert!(told.iter().any(|said| said == words), "{words}\n{told:#?}");
    }
    assert!(told.iter().any(|said| said.contains("cutter 12.7")), "{told:#?}");
    assert!(!told.iter().any(|said| said.contains("measures")), "{told:#?}");
    set(&mut design, "joinery.groove.fit", 0.2);
    let panel = model.parts.iter().find(|part| part.kind == PartKind::Panel).expect("a panel");
    shop::measure(&mut design, &panel.name, Dimension::Thickness, Some(Length::mm(13.1))).expect("it can be measured");
    let (_, setups) = of(&design);
    let told = said(&setups);
    for words in [
        "Wide: 13.3",
        "Then: the fence moved on by 0.6, which widens it",
        "Wide: 12.95",
        "Then: the fence moved on by 0.25, which widens it",
    ] {
        assert!(told.iter().any(|said| said == words), "{words}\n{told:#?}");
    }
}

/// A haunch reaches past the end of its post: the card says that its recess comes out there, as it says of grooves, and names no place beyond the wood.
#[test]
fn a_recess_that_passes_the_end_comes_out_there() {
    let mut design = demo();
    let all = [("joinery.rail_to_post.by".to_owned(), "mortise_and_tenon".to_owned())];
    assert!(crate::design::decisions::set_all(&mut design, &all).is_empty());
    let (model, setups) = of(&design);
    let posts: Vec<&Part> = model.parts.iter().filter(|part| part.kind == PartKind::Post).collect();
    let passes = posts.iter().any(|post| {
        post.cuts.iter().any(
            |cut| matches!(cut.feature, Feature::Recess { centre, length, along: 0, .. } if centre.x + length / 2.0 > post.lwt().x - 0.05),
        )
    });
    let mut out = 0;
    for on in setups.iter().flat_map(|setup| &setup.cuts).filter(|on| on.parts.iter().any(|id| model.part(*id).kind == PartKind::Post)) {
        let length = model.part(on.parts[0]).lwt().x;
        for at in &on.at {
            out += usize::from(at.words.contains("out at the second end"));
            let last = at.words.rsplit(" to ").next().and_then(|last| last.split([',', ' ']).next()?.parse::<f64>().ok());
            assert!(last.is_none_or(|last| last <= length), "{}: {}", on.mark, at.words);
        }
    }
    assert!(passes && out > 0, "{passes} {out}");
}
