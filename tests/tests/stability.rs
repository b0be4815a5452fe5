//! Stability against worked figures, each named with its source and how it was obtained, and against what must hold of any case.

use approx::assert_relative_eq;
use casewright_core::shapes::Mass;
use casewright_core::stability::{Anchor, CARPET_BLOCK, CAUTIONS, Case, Drawer, Feet, Hanging, Limits, Moving, State, tip};
use glam::DVec3;
use proptest::prelude::*;

/// Derived in the notes of the project by statics: an empty case of 40 kg, 300 deep and 1,800 high, tips under 33 N at its top edge.
#[test]
fn an_empty_case_of_forty_kilograms_tips_under_a_light_push() {
    let push = tip(1800.0, 1800.0, 300.0, 40.0);
    assert!((push - 33.0).abs() < 0.5, "{push}");
    let reasons = Case::plain(1800.0, 1800.0, 300.0, 40.0).anchor(&Limits::default());
    assert!(matches!(reasons[..], [Anchor::LightPush { .. }, Anchor::Slender { .. }]), "{reasons:?}");
}

/// The chest of drawers that the notes of the project work out by statics (derived): 900 × 1,000 × 420, a carcase of 45 kg whose centre is
/// 205 behind the front feet, three drawers of 12 kg, 190 behind when shut, that come out by 300.
fn chest() -> Case {
    let (height, depth) = (1000.0, 420.0);
    let drawer = |y: f64| Drawer {
        shut: Mass { kg: 12.0, centre: DVec3::new(450.0, y, depth - 190.0) },
        contents: 0.0,
        travel: 300.0,
        front: depth,
    };
    Case {
        feet: Feet { left: 0.0, right: 900.0, back: 0.0, front: depth },
        height,
        carcase: Mass { kg: 45.0, centre: DVec3::new(450.0, 500.0, depth - 205.0) },
        contents: Vec::new(),
        doors: Vec::new(),
        drawers: [200.0, 500.0, 800.0].map(drawer).into(),
    }
}

#[test]
fn the_chest_of_drawers() {
    let chest = chest();
    let one = chest.tipping(Case::one_out(2, false));
    let child = chest.turned_by(2, 27.2).expect("a drawer");
    let newton_metres = 1000.0;
    assert!((one.holds / newton_metres - 122.0).abs() < 0.5, "{one:?}");
    assert!((child / newton_metres - 80.0).abs() < 0.5, "{child}");
    assert!((one.holds / child - 1.53).abs() < 0.005);
    let all = chest.tipping(State::ALL_OUT);
    assert!((all.holds / newton_metres - 51.6).abs() < 0.1, "{all:?}");
    assert!(all.holds < child, "it tips");
    // What just tips it, by the same sum.
    assert_relative_eq!(chest.load_on_drawer(2, State::ALL_OUT).expect("a drawer"), 27.2 * all.holds / child, max_relative = 1e-9);
    let reasons = chest.anchor(&Limits::default());
    assert!(reasons.iter().any(|reason| matches!(reason, Anchor::Drawers { .. })), "{reasons:?}");
    assert!(reasons.iter().any(|reason| matches!(reason, Anchor::LoadOnDrawer { kg, .. } if *kg < 27.2)), "{reasons:?}");
    // Two fixings at 950 hold what its weight does not.
    let wall = chest.wall_force(State::ALL_OUT, child, 950.0, 2).expect("fixings");
    assert_relative_eq!(wall.pull, (child - all.holds) / 950.0, max_relative = 1e-9);
    assert_relative_eq!(wall.each * 2.0, wall.pull, max_relative = 1e-9);
    assert!(chest.wall_force(State::EMPTY, 0.0, 950.0, 2).expect("fixings").pull.abs() < 1e-12, "shut it pulls at nothing");
    assert_eq!(chest.load_on_drawer(3, State::ALL_OUT), None, "there is no such drawer");
}

/// Derived in the notes of the project: a block of 10.9 under the rear of a case 420 deep leans it by 1.49°, and a centre of mass 500 high
/// comes 13 forward.
#[test]
fn carpet_leans_a_case_forward() {
    let case = Case::plain(900.0, 1000.0, 420.0, 45.0);
    let leaning = case.leaning(CARPET_BLOCK).expect("it stands");
    let forward = case.tipping(State::EMPTY).behind - leaning.tipping(State::EMPTY).behind;
    assert!((forward - 13.0).abs() < 0.2, "{forward}");
    assert!(((CARPET_BLOCK / 420.0).asin().to_degrees() - 1.49).abs() < 0.005);
    assert_eq!(case.leaning(420.0), None, "it would lie on its front");
}

/// Derived in the notes of the project: 60 kg, 150 out from the wall, 600 between rail and lower bearing: 589 N down and 147 N of pull at the
/// top; three screws bear 196 N and 49 N each.
#[test]
fn a_cabinet_on_the_wall() {
    let hanging = Hanging { loaded: 60.0, empty: 18.0, out: 150.0, between: 600.0, screws: 3 };
    let plan = hanging.plan().expect("a plan");
    for (found, wanted) in [(plan.down, 589.0), (plan.pull, 147.0), (plan.each_down, 196.0), (plan.each_pull, 49.0)] {
        assert!((found - wanted).abs() < 0.7, "{plan:?}");
    }
    assert!(plan.stays_down);
    assert!(!Hanging { empty: 9.0, ..hanging }.plan().expect("a plan").stays_down, "100 N lift 9 kg off");
    assert_eq!(Hanging { screws: 0, ..hanging }.plan(), None);
    assert_eq!(Hanging { between: 0.0, ..hanging }.plan(), None);
}

/// A door of 8 kg, 450 wide, hinged at the left of a case 300 deep: open it stands out to the front by its own half width.
#[test]
fn doors_that_open_bring_the_weight_forward() {
    let mut case = Case::plain(450.0, 1200.0, 300.0, 20.0);
    case.doors.push(Moving::door(Mass { kg: 8.0, centre: DVec3::new(225.0, 600.0, 310.0) }, 0.0, 300.0));
    let (shut, open) = (case.tipping(State::EMPTY), case.tipping(State::DOORS_OPEN));
    assert_relative_eq!(case.mass(State::DOORS_OPEN).centre.z, (20.0 * 150.0 + 8.0 * 525.0) / 28.0, max_relative = 1e-12);
    assert!(open.push < shut.push && (open.kg - shut.kg).abs() < 1e-12);
}

#[test]
fn a_broad_low_case_needs_no_anchor() {
    assert_eq!(Case::plain(1200.0, 600.0, 500.0, 60.0).anchor(&Limits::default()), Vec::new());
    assert!(CAUTIONS.iter().any(|caution| caution.contains("local code and licensed practice")));
    assert!(
        CAUTIONS.iter().any(|caution| caution.contains("with reference to"))
            && !CAUTIONS.iter().any(|caution| caution.contains("complies"))
    );
}

proptest! {
    /// Statics: under the push that is said, the moment of the push is that of the weight; a load that tips does so with what it says.
    #[test]
    fn what_tips_is_in_balance_with_what_holds(
        (width, height, depth) in (300.0..2000.0_f64, 400.0..2400.0_f64, 200.0..700.0_f64),
        kg in 5.0..120.0_f64,
        load in (1.0..60.0_f64, 0.0..1.0_f64, 0.0..1.0_f64),
    ) {
        let mut case = Case::plain(width, height, depth, kg);
        case.contents.push(Mass { kg: load.0, centre: DVec3::new(width / 2.0, height * load.1, depth * load.2) });
        let (empty, loaded) = (case.tipping(State::EMPTY), case.tipping(State::LOADED));
        prop_assert!((empty.push * height - empty.holds).abs() < 1e-6 * empty.holds);
        prop_assert!(loaded.holds >= empty.holds - 1e-9, "what stands behind the feet holds it down");
        let leaning = case.leaning(CARPET_BLOCK).expect("it stands");
        prop_assert!(leaning.tipping(State::EMPTY).push < empty.push, "leaning forward never helps");
        // Leaning is a turn: nothing comes nearer to the front feet or farther from them.
        let far = |mass: Mass| (mass.centre.z - depth).hypot(mass.centre.y);
        prop_assert!((far(leaning.mass(State::LOADED)) - far(case.mass(State::LOADED))).abs() < 1e-6);
    }
}
