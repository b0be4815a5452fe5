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
        assert!(shelf.in_all[0] + 1e-9 >= shelf.worst.at_once() && shelf.in_all[1] + 1e-9 >= shelf.worst.after(), "{shelf:?}");
    }
}
