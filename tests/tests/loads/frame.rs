//! What shelves press on, down to the floor.

use approx::assert_relative_eq;
use casewright_core::loads::{Asked, Bears, Pressed, UnderLoad, bear};
use casewright_core::model::PartKind;
use casewright_core::strength::GRAVITY;
use casewright_core::{Model, derive};
use casewright_tests::{Case, demo_with};
use proptest::prelude::*;

/// Statics: what all cleats press on the standards is what stands on the slats, and slats and cleats.
#[test]
fn the_standards_bear_all_that_lies_on_them() {
    let case = Case::with(&[]);
    let under = UnderLoad::of(&case.design, &case.model);
    assert!(under.unjudged.iter().all(|one| one.asked != Asked::All), "{:?}", under.unjudged);
    let on_standards: Vec<f64> =
        under.rests.iter().filter(|rest| case.model.part(rest.on).kind == PartKind::Standard).map(|rest| rest.force).collect();
    let shelves = case.model.rooms.iter().zip(&under.stacks).filter(|(room, _)| room.shelf.is_some());
    let boxes: f64 = shelves.flat_map(|(_, stacks)| stacks).map(|stack| stack.kg).sum();
    let wood: f64 = case
        .model
        .parts
        .iter()
        .filter(|part| matches!(part.kind, PartKind::Slat | PartKind::Cleat))
        .map(|part| part.lwt().element_product() * 1e-9 * case.model.timbers.density(&part.material).expect("ash has one").value)
        .sum();
    assert!(boxes > 100.0, "{boxes}");
    assert_relative_eq!(on_standards.iter().sum::<f64>(), (boxes + wood) * GRAVITY, max_relative = 1e-9);
    assert_eq!(on_standards.len(), 10 * 4);
}

/// What all boxes and all parts weigh, N: the parts before their cuts, by the density of what they are of.
fn all_weights(design: &casewright_core::Design, model: &Model, under: &UnderLoad) -> f64 {
    let boxes: f64 = under.stacks.iter().flatten().map(|stack| stack.kg).sum();
    let of_part = |part: &casewright_core::model::Part| {
        part.lwt().element_product() * 1e-9 * model.timbers.density(&part.material).map_or(0.0, |density| density.value)
    };
    let wood: f64 = model.parts.iter().map(of_part).sum();
    let tops = model.parts.iter().filter(|part| part.kind == PartKind::Top).map(|top| top.block().size());
    let on_top: f64 = tops.map(|size| design.limits.on_top * size.x * size.z * 1e-6).sum();
    (boxes + wood + on_top) * GRAVITY
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(8))]

    /// Statics: what reaches the floor of the room, by the feet of the posts alone, is everything that there is to bear and all own weights;
    /// whatever is known of the timber.
    #[test]
    fn all_that_is_borne_reaches_the_floor_by_the_posts(
        width in 1250_u32..1700,
        mass in 1_u32..500,
        count in 0_u32..40,
        wood in prop::sample::select(vec!["white_ash", "european_oak", "european_birch", "european_cherry"]),
    ) {
        let changes = [
            ("carcase.width", width.to_string()),
            ("contents.1.mass", mass.to_string()),
            ("contents.1.count", count.to_string()),
            ("timber.frame", wood.to_owned()),
            ("timber.shelving", wood.to_owned()),
        ];
        let design = demo_with(&changes.each_ref().map(|(path, value)| (*path, value.as_str())));
        let model = derive(&design).expect("it derives");
        let under = UnderLoad::of(&design, &model);
        prop_assert_eq!(under.feet.len(), 4);
        for (foot, newtons) in &under.feet {
            prop_assert_eq!(model.part(*foot).kind, PartKind::Post);
            prop_assert!(*newtons > 0.0);
        }
        let (reaches, all) = (under.feet.iter().map(|(_, newtons)| newtons).sum::<f64>(), all_weights(&design, &model, &under));
        prop_assert!((reaches - all).abs() < 1e-6 * all, "{} of {} N reach the floor", reaches, all);
    }
}

/// The floor of the middle bay lies on two cross rails, whose ends stand in the front and the back rail: these bear what lies on the cross
/// rails, at two places each (statics).
#[test]
fn cross_rails_press_on_the_rails_in_which_they_stand() {
    let mut design = demo_with(&[]);
    design.contents.iter_mut().for_each(|kind| kind.count *= 30);
    let model = derive(&design).expect("it derives");
    let under = UnderLoad::of(&design, &model);
    let room = model.rooms.iter().position(|room| room.name == "the floor of bay 2").expect("bay 2 has a floor");
    let kg: f64 = under.stacks[room].iter().map(|stack| stack.kg).sum();
    let of_rail = |name: &str| {
        let rail = model.find(name).and_then(|rail| under.of_part(rail.id)).expect("it bends");
        let Bears::Others(each) = &rail.bears else { panic!("{:?}", rail.bears) };
        each.iter().filter(|bearing| bearing.what == "a cross rail with what it bears").cloned().collect::<Vec<_>>()
    };
    let (front, back) = (of_rail("rail.front.bottom"), of_rail("rail.back.bottom"));
    assert_eq!((front.len(), back.len()), (2, 2), "{front:?}");
    // The floors beside it span from front to back and lie on a cross rail with a third edge, to which the rest of their boxes goes; what of its
    // own does not span goes to the bearers at the front and the back.
    let on_them = under.bending.iter().map(|bending| match &bending.bears {
        Bears::Boxes { stacks, spans, .. } => {
            let share = if bending.room == Some(room) { *spans } else { 1.0 - spans };
            share * stacks.iter().map(|on| on.newtons).sum::<f64>()
        }
        Bears::Others(_) => 0.0,
    });
    let all = on_them.sum::<f64>();
    assert!(all > 0.8 * kg * GRAVITY, "{all} N");
    assert_relative_eq!(front.iter().chain(&back).map(|bearing| bearing.heaviest).sum::<f64>(), all, max_relative = 1e-9);
    assert!(front.iter().all(|bearing| bearing.always > 0.0 && bearing.counts.is_none()));
    assert!(front[0].from > 100.0 && (front[1].from - front[0].from).abs() > 200.0, "{front:?}");
}

/// What bears several shelves bears no more boxes than there are; they are taken to stand where they bend it most, so that it is never told to
/// sag less than with all of them spread evenly over its shelves. And what counts of each shelf is told.
#[test]
fn a_rail_bears_the_boxes_that_there_are_where_they_bend_it_most() {
    let design = demo_with(&[("contents.1.count", "2")]);
    let model = derive(&design).expect("it derives");
    let under = UnderLoad::of(&design, &model);
    let rail = model.find("rail.front.bottom").expect("it is there");
    let bending = under.of_part(rail.id).expect("it bends");
    let Bears::Others(each) = &bending.bears else { panic!("{:?}", bending.bears) };
    let part: Vec<_> = each.iter().filter_map(|bearing| bearing.counts).collect();
    assert!(!part.is_empty() && part.iter().all(|counts| (0.0..1.0).contains(&counts.share())), "{part:?}");
    let there: f64 = design.contents.iter().map(|kind| kind.mass * f64::from(kind.wanted())).sum();
    let heaviest: f64 = under.stacks.iter().flatten().map(|stack| stack.kg).sum();
    let even = there / heaviest;
    let from = bending.curve.from;
    let press = |bearing: &casewright_core::loads::Bearing| Pressed {
        from: from + bearing.from,
        to: from + bearing.to,
        force: bearing.always + even * bearing.heaviest,
    };
    let evenly = bear(&design.limits, &model, rail.id, &each.iter().map(press).collect::<Vec<_>>()).expect("it is held at both ends");
    assert!(bending.at_once() >= evenly.at_once(), "{} {}", bending.at_once(), evenly.at_once());
    let why = under.why_bears(&design, bending);
    assert_relative_eq!(why.value, bending.bears.total(), max_relative = 1e-12);
    let told = why.explain().join("\n");
    for words in ["share that counts", "all boxes to be kept", "÷ the heaviest that this shelf takes", " mm "] {
        assert!(told.contains(words), "{words}: {told}");
    }
}

/// Dividers that are glued into a rail above and a rail below keep their length: both rails are down by the same at each, and what the one is spared the
/// other bears (statics), so that a low rail over a stout one is no weak place, nor the other way round. What is always there and what boxes add are each
/// shared so.
#[test]
fn rails_go_down_together_where_dividers_join_them() {
    for (path, value) in [("carcase.rails.top", "40"), ("carcase.rails.bottom", "50")] {
        let design = demo_with(&[("carcase.width", "1900"), (path, value)]);
        let model = derive(&design).expect("it derives");
        let under = UnderLoad::of(&design, &model);
        for side in ["front", "back"] {
            let [upper, lower] = ["top", "bottom"].map(|level| {
                let rail = model.find(&format!("rail.{side}.{level}")).expect("it is there");
                under.of_part(rail.id).expect("it bends")
            });
            let ties = |bending: &casewright_core::loads::Bending| match &bending.bears {
                Bears::Others(each) => each.iter().filter(|bearing| bearing.is_tie).cloned().collect::<Vec<_>>(),
                Bears::Boxes { .. } => Vec::new(),
            };
            let (above, below) = (ties(upper), ties(lower));
            assert_eq!((above.len(), below.len()), (2, 2), "two dividers: {side}");
            for (above, below) in above.iter().zip(&below) {
                let at = upper.curve.from + above.from;
                assert_relative_eq!(at, lower.curve.from + below.from, epsilon = 1e-9);
                assert_relative_eq!(upper.curve.at_once(at), lower.curve.at_once(at), max_relative = 1e-6);
                assert_relative_eq!(above.always, -below.always, epsilon = 1e-9);
                assert_relative_eq!(above.heaviest, -below.heaviest, epsilon = 1e-9);
                assert!(above.newtons() * if path.ends_with("top") { -1.0 } else { 1.0 } > 50.0, "{path}: {above:?}");
            }
            // By itself the weak one would be far worse.
            let weak = if path.ends_with("top") { upper } else { lower };
            let Bears::Others(each) = &weak.bears else { panic!("{:?}", weak.bears) };
            let alone: Vec<Pressed> = each
                .iter()
                .filter(|bearing| !bearing.is_tie)
                .map(|bearing| Pressed { from: weak.curve.from + bearing.from, to: weak.curve.from + bearing.to, force: bearing.newtons() })
                .collect();
            let alone = bear(&design.limits, &model, weak.part, &alone).expect("it is held at both ends");
            assert!(alone.at_once() > 1.5 * weak.at_once(), "{} {}", alone.at_once(), weak.at_once());
        }
    }
}

/// Statics again, with each system of shelving in the middle bay.
#[test]
fn shelves_of_every_system_reach_the_floor() {
    const MIDDLE: &str = "interior.bays.2.opening.system";
    const SHELVES: &str = "interior.bays.2.opening.shelves";
    for changes in [
        vec![(MIDDLE, "pins"), (SHELVES, "7 17 27")],
        vec![(MIDDLE, "cleats"), (SHELVES, "10 30 50")],
        vec![(MIDDLE, "cleats"), (SHELVES, "10 30 50"), ("cleats.of", "slats")],
        vec![(MIDDLE, "housed"), (SHELVES, "10 30 50")],
    ] {
        let design = demo_with(&changes);
        let model = derive(&design).expect("it derives");
        let under = UnderLoad::of(&design, &model);
        assert!(under.feet.iter().all(|(foot, _)| model.part(*foot).kind == PartKind::Post), "{changes:?}: {:?}", under.feet);
        let reaches = under.feet.iter().map(|(_, newtons)| newtons).sum::<f64>();
        assert_relative_eq!(reaches, all_weights(&design, &model, &under), max_relative = 1e-9);
    }
}
