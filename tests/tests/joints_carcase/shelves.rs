//! Shelves in sides: housings and sliding dovetails.

use approx::assert_abs_diff_eq;
use casewright_core::joint::{JointKind, Wanted, housing, sliding_dovetail};
use casewright_core::model::{Assembly, Contact, Meeting, Role};
use casewright_core::place::Dir;
use glam::{DVec2, DVec3};

use crate::{Pair, board, join, with_figures};

/// A side 19 thick at the left, and a shelf 18 thick that comes up to its inner face.
pub fn shelf(wanted: &Wanted<'_>, timber: &str) -> Pair {
    let mut assembly = Assembly::default();
    let side = board(&mut assembly, "side", [(0.0, 19.0), (0.0, 600.0), (0.0, 300.0)], Dir::PlusX, Dir::PlusZ, timber);
    let shelf = board(&mut assembly, "shelf", [(19.0, 519.0), (200.0, 218.0), (0.0, 300.0)], Dir::PlusY, Dir::PlusZ, timber);
    let contact = Contact { centre: DVec3::new(19.0, 209.0, 150.0), into: Dir::MinusX, along: Dir::PlusZ, extent: DVec2::new(300.0, 18.0) };
    join(assembly, shelf, side, contact, wanted)
}

/// A quarter to a third of the side, 19 → 5 to 6 (common practice, no source).
#[test]
fn a_through_housing_takes_a_quarter_to_a_third_of_the_side() {
    let pair = shelf(&Wanted::Housing(housing::Wanted { glued: true, ..Default::default() }), "white_ash");
    let JointKind::Housing(figures) = pair.kind() else { panic!("a housing") };
    assert!((5.0..=6.0).contains(&figures.depth), "{}", figures.depth);
    assert_abs_diff_eq!(pair.removed("side"), 300.0 * 18.1 * 5.5, epsilon = 1e-3);
    assert_abs_diff_eq!(pair.removed("shelf"), 0.0, epsilon = 1e-3);
    assert_abs_diff_eq!(pair.length("shelf"), 505.5, epsilon = 1e-9);
    assert_eq!(pair.broken(), [""; 0]);
    pair.assert_goes_together();
    // Half of the 0.1 on each side of the shelf.
    assert_abs_diff_eq!(pair.clearance_drawn(DVec3::X * 2.0), 0.05, epsilon = 1e-6);
}

#[test]
fn a_stopped_housing_has_a_notched_shelf_that_hides_it() {
    let stopped = housing::Wanted { stops: [0.0, 10.0], ..Default::default() };
    let pair = shelf(&Wanted::Housing(stopped), "white_ash");
    assert_abs_diff_eq!(pair.removed("side"), 290.0 * 18.1 * 5.5, epsilon = 1e-3);
    assert_abs_diff_eq!(pair.removed("shelf"), 5.5 * 11.5 * 18.0, epsilon = 1e-3);
    assert_eq!(pair.broken(), [""; 0]);
    pair.assert_goes_together();
    assert_eq!(pair.free_ways(), [Dir::PlusX, Dir::MinusZ]);
    // Left by a round cutter it reaches half its width farther, which is then too near the edge.
    let round = shelf(&Wanted::Housing(housing::Wanted { round: true, ..stopped }), "white_ash");
    round.assert_goes_together();
    let radius = 18.1 / 2.0;
    assert_abs_diff_eq!(round.removed("side"), (290.0 * 18.1 + std::f64::consts::PI * radius * radius / 2.0) * 5.5, epsilon = 30.0);
    assert_eq!(with_figures(&round.kind().broken()), [("a stopped housing stops at least 8 mm from the edge", 10.0 - radius, 8.0)]);
}

#[test]
fn a_housing_too_deep_or_too_loose_is_told_with_its_figures() {
    let wanted = housing::Wanted { depth: Some(11.0), fit: Some(0.4), ..Default::default() };
    let pair = shelf(&Wanted::Housing(wanted), "white_ash");
    // Cut as wanted all the same.
    assert_abs_diff_eq!(pair.removed("side"), 300.0 * 18.4 * 11.0, epsilon = 1e-3);
    let told = with_figures(&pair.kind().broken());
    assert_eq!(told.len(), 2);
    assert_eq!(told[0], ("a housing is at most half as deep as the side is thick", 11.0, 9.5));
    assert_eq!(told[1].0, "a part that is glued fits snugly");
    assert_abs_diff_eq!(told[1].1, 0.4, epsilon = 1e-9);
    let shallow = shelf(&Wanted::Housing(housing::Wanted { depth: Some(4.0), ..Default::default() }), "white_ash");
    assert_eq!(with_figures(&shallow.kind().broken()), [("a housing is at least a quarter as deep as the side is thick", 4.0, 4.75)]);
}

/// Back to back at most a quarter each, a third left in the middle (common practice; a trade article on dadoes warns of it).
#[test]
fn two_housings_back_to_back_leave_a_third_between_them() {
    let mut assembly = Assembly::default();
    let divider = board(&mut assembly, "divider", [(0.0, 19.0), (0.0, 600.0), (0.0, 300.0)], Dir::PlusX, Dir::PlusZ, "white_ash");
    let mut let_in = |x: (f64, f64), face: f64, into: Dir, depth: f64| {
        let shelf = board(&mut assembly, "shelf", [x, (200.0, 218.0), (0.0, 300.0)], Dir::PlusY, Dir::PlusZ, "white_ash");
        let contact = Contact { centre: DVec3::new(face, 209.0, 150.0), into, along: Dir::PlusZ, extent: DVec2::new(300.0, 18.0) };
        let wanted = Wanted::Housing(housing::Wanted { depth: Some(depth), ..Default::default() });
        assembly.join(&Meeting { role: Role::Own, a: shelf, b: divider, contact }, &wanted)
    };
    let right = let_in((19.0, 519.0), 19.0, Dir::MinusX, 7.0);
    let left = let_in((-500.0, 0.0), 0.0, Dir::PlusX, 7.0);
    let model = assembly.finish();
    assert_eq!(model.joint(right).kind.broken(), [], "nothing is there yet on the other side");
    let told = with_figures(&model.joint(left).kind.broken());
    assert_eq!(told, [("two housings back to back leave a third of the divider between them", 5.0, 19.0 / 3.0)]);
}

/// A third deep; slope 1:8 in hardwood and 1:6 in softwood (read, woodiesdiy.tv on dovetail ratios).
#[test]
fn a_sliding_dovetail_slides_out_one_way_only() {
    let wanted = Wanted::SlidingDovetail(sliding_dovetail::Wanted { stops: [0.0, 10.0], ..Default::default() });
    let pair = shelf(&wanted, "white_ash");
    let JointKind::SlidingDovetail(figures) = pair.kind() else { panic!("a sliding dovetail") };
    assert_abs_diff_eq!(figures.slope, 1.0 / 8.0, epsilon = 1e-12);
    assert_abs_diff_eq!(figures.depth, 19.0 / 3.0, epsilon = 0.25);
    // 6.5 deep, the tail 6: its neck 18 − 2 · 6 / 8.
    assert_abs_diff_eq!(figures.neck, 16.5, epsilon = 1e-9);
    let (mouth, bottom) = (16.6, 16.6 + 2.0 * 6.5 / 8.0);
    assert_abs_diff_eq!(pair.removed("side"), f64::midpoint(mouth, bottom) * 6.5 * 290.0, epsilon = 1e-3);
    // Two slivers along the end, and the notch where it stops.
    let slivers = 2.0 * 0.75 * 6.0 / 2.0;
    assert_abs_diff_eq!(pair.removed("shelf"), slivers * 300.0 + (18.0 * 6.0 - slivers) * 11.5, epsilon = 1e-3);
    assert_eq!(pair.broken(), [""; 0]);
    pair.assert_goes_together();
    assert_eq!(pair.free_ways(), [Dir::MinusZ]);
    // 0.05 on each side of the tail; drawn out by 0.2 the walls, which lean by 1:8, have come nearer by 0.025.
    let leaning = (1.0_f64 / 8.0).atan();
    assert_abs_diff_eq!(pair.clearance_drawn(DVec3::X * 0.2), 0.025 * leaning.cos(), epsilon = 1e-6);
    let soft = shelf(&wanted, "scots_pine");
    let JointKind::SlidingDovetail(figures) = soft.kind() else { panic!("a sliding dovetail") };
    assert_abs_diff_eq!(figures.slope, 1.0 / 6.0, epsilon = 1e-12);
}

#[test]
fn a_sliding_dovetail_closed_at_both_ends_or_too_steep_is_told() {
    let wanted = sliding_dovetail::Wanted { stops: [10.0, 10.0], slope: Some(0.25), ..Default::default() };
    let pair = shelf(&Wanted::SlidingDovetail(wanted), "white_ash");
    let told = with_figures(&pair.kind().broken());
    assert!(told.contains(&("a dovetail slopes by 1:6 at most: more leaves short grain at its corners", 4.0, 6.0)), "{told:?}");
    assert!(told.contains(&("a sliding dovetail is open at one end", 0.0, 1.0)), "{told:?}");
    assert_eq!(pair.free_ways(), []);
}
