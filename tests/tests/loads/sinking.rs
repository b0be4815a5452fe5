//! Everything goes down with what bears it.

use approx::{assert_abs_diff_eq, assert_relative_eq};
use casewright_core::loads::{UnderLoad, When};
use casewright_core::model::PartKind;
use casewright_tests::Case;
use glam::DVec3;

/// A slat is down by what it sags, what its cleats sag where it lies on them, and what the rails sag that bear the standards.
#[test]
fn a_shelf_goes_down_with_its_cleats_and_the_rails_under_them() {
    let case = Case::with(&[("carcase.width", "2000")]);
    let under = UnderLoad::of(&case.design, &case.model);
    for when in [When::AtOnce, When::After] {
        let sinking = under.sinking(&case.model, when);
        let own = |name: &str, at: f64| {
            let curve = case.model.find(name).and_then(|part| under.curve(part.id)).unwrap_or_else(|| panic!("{name} bends"));
            if when == When::AtOnce { curve.at_once(at) } else { curve.after(at) }
        };
        let slat = case.model.find("slat.1.1.2").expect("a slat");
        let block = slat.block();
        let (z, middle) = (block.centre().z, block.centre().x);
        // On the left the standards stand on the posts, which do not go down; on the right on a divider that stands on the rails.
        let stiles: Vec<_> =
            case.model.parts.iter().filter(|part| part.kind == PartKind::Stile && part.name.starts_with("stile.1")).collect();
        assert!(!stiles.is_empty(), "the divider has stiles");
        let foot = |front: bool| {
            let rail = if front { "rail.front.bottom" } else { "rail.back.bottom" };
            let x = stiles[0].block().centre().x;
            own(rail, x)
        };
        let right = case.model.find("cleat.1.1.right").expect("a cleat").block();
        let share = (z - right.min.z) / (right.max.z - right.min.z);
        let on_right = own("cleat.1.1.right", z) + foot(false) + (foot(true) - foot(false)) * share;
        let on_left = own("cleat.1.1.left", z);
        let by_hand = own("slat.1.1.2", middle) + f64::midpoint(on_left, on_right);
        // The supports of the cleat are not quite at its ends.
        assert_relative_eq!(sinking.down(slat.id, block.centre()), by_hand, max_relative = 0.02);
        assert!(by_hand > 3.0 * own("slat.1.1.2", middle), "what bears it counts more than the slat itself");
    }
}

/// The top lies on its rails all along, posts and what stands on them go nowhere, and nothing is higher than what bears it.
#[test]
fn the_top_lies_on_its_rails_and_posts_stand() {
    let case = Case::with(&[("carcase.width", "2600")]);
    let under = UnderLoad::of(&case.design, &case.model);
    let sinking = under.sinking(&case.model, When::After);
    let (top, front, back) = (case.model.find("top"), case.model.find("rail.front.top"), case.model.find("rail.back.top"));
    let [top, front, back] = [top, front, back].map(|part| part.expect("the demo has it"));
    let middle = front.block().centre();
    assert!(sinking.down(front.id, middle) > 10.0, "{}", sinking.down(front.id, middle));
    for (rail, z) in [(front, front.block().centre().z), (back, back.block().centre().z)] {
        for x in [200.0, 900.0, 1300.0, 2100.0] {
            let at = DVec3::new(x, top.block().min.y, z);
            let own = under.curve(top.id).map_or(0.0, |curve| curve.after(at[curve.axis]));
            assert_abs_diff_eq!(sinking.down(top.id, at), sinking.down(rail.id, at) + own, epsilon = 1e-9);
        }
    }
    for part in &case.model.parts {
        if part.kind == PartKind::Post {
            assert!(!sinking.sinks(part.id), "{} stands on the floor", part.name);
        }
    }
    for shelf in under.shelves(&case.model) {
        assert!(shelf.in_all.down + 1e-9 >= shelf.worst.after(), "{shelf:?}");
    }
}

/// What is told of all together is the lowest place of the part, and of the lowest part of a shelf: no place of it, looked at one by one, is lower.
#[test]
fn in_all_is_how_far_the_lowest_place_is_down() {
    for changes in [&[][..], &[("carcase.width", "2600")], &[("interior.bays.1.opening.system", "pins"), ("interior.bays.1.size", "700")]] {
        let case = Case::with(changes);
        let under = UnderLoad::of(&case.design, &case.model);
        let sinking = under.sinking(&case.model, When::After);
        let lowest_of = |part: &casewright_core::model::Part| {
            let block = part.block();
            let steps = |axis: usize, count: usize| {
                (0..=count).map(move |step| block.min[axis] + (block.max[axis] - block.min[axis]) * step as f64 / count as f64)
            };
            let places = steps(0, 60).flat_map(|x| steps(2, 8).map(move |z| DVec3::new(x, block.min.y, z)));
            places.map(|at| sinking.down(part.id, at)).fold(0.0, f64::max)
        };
        let mut told = 0;
        for bending in under.bending.iter().filter(|bending| bending.room.is_none()) {
            let part = case.model.part(bending.part);
            let deepest = sinking.deepest(part.id).expect("it bends");
            assert_relative_eq!(sinking.down(part.id, deepest.at), deepest.down, max_relative = 1e-9);
            assert_relative_eq!(deepest.down, lowest_of(part), max_relative = 5e-3);
            told += 1;
        }
        for shelf in under.shelves(&case.model) {
            let boards = under.bending.iter().filter(|bending| bending.room == Some(shelf.room) && bending.is_board(&case.model));
            let by_hand = boards.map(|bending| lowest_of(case.model.part(bending.part))).fold(0.0, f64::max);
            assert_relative_eq!(shelf.in_all.down, by_hand, max_relative = 5e-3);
            let why = under.why_in_all(&case.model, shelf.lowest).expect("it bends");
            assert_relative_eq!(why.value, shelf.in_all.down, max_relative = 1e-9);
            told += 1;
        }
        assert!(told > 5);
    }
    // The top is no higher than the rail that it lies on, but for what it rises beside the sides that bear it.
    let case = Case::with(&[]);
    let under = UnderLoad::of(&case.design, &case.model);
    let sinking = under.sinking(&case.model, When::After);
    let [top, rail] =
        ["top", "rail.front.top"].map(|name| case.model.find(name).and_then(|part| sinking.deepest(part.id)).expect("it bends"));
    assert!(top.down >= rail.down - 0.02, "{top:?} {rail:?}");
}
