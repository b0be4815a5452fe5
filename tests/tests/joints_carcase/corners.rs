//! Corners of drawers and boxes: box joints and dovetails.

use approx::assert_abs_diff_eq;
use casewright_core::joint::{JointKind, Wanted, box_joint, dovetail};
use casewright_core::model::{Assembly, Contact, PartId};
use casewright_core::place::Dir;
use glam::{DVec2, DVec3};

use crate::{Pair, board, join, with_figures};

/// A drawer side 12 thick that comes up to the inner face of a front 18 thick, flush with its left end; both so high.
pub fn drawer(height: f64, timber: &str, wanted: &Wanted<'_>) -> Pair {
    let mut assembly = Assembly::default();
    let front = board(&mut assembly, "front", [(0.0, 400.0), (0.0, height), (300.0, 318.0)], Dir::PlusZ, Dir::PlusY, timber);
    let side = board(&mut assembly, "side", [(0.0, 12.0), (0.0, height), (0.0, 300.0)], Dir::MinusX, Dir::PlusY, timber);
    let centre = DVec3::new(6.0, height / 2.0, 300.0);
    let contact = Contact { centre, into: Dir::PlusZ, along: Dir::PlusY, extent: DVec2::new(height, 12.0) };
    join(assembly, side, front, contact, wanted)
}

/// Fingers of half to once the thickness, an odd number of them (common practice, no source).
#[test]
fn a_box_joint_has_an_odd_number_of_fingers_that_fill_the_width() {
    let pair = drawer(100.0, "white_ash", &Wanted::BoxJoint(box_joint::Wanted { glued: true, ..Default::default() }));
    let JointKind::BoxJoint(figures) = pair.kind() else { panic!("a box joint") };
    assert_eq!(figures.count, 11);
    let finger = 100.0 / 11.0;
    assert_abs_diff_eq!(figures.finger, finger, epsilon = 1e-9);
    assert!((6.0..=12.0).contains(&figures.finger));
    assert_eq!(pair.broken(), [""; 0]);
    // Five gaps in the side; six in the front, of which the two at the edges have one wall each. 0.1 wider than a finger, shared by
    // both boards.
    assert_abs_diff_eq!(pair.removed("side"), 5.0 * (finger + 0.05) * 12.0 * 18.0, epsilon = 1e-3);
    assert_abs_diff_eq!(pair.removed("front"), (6.0 * finger + 4.0 * 0.05 + 2.0 * 0.025) * 12.0 * 18.0, epsilon = 1e-3);
    assert_abs_diff_eq!(pair.length("side"), 318.0, epsilon = 1e-9);
    pair.assert_goes_together();
    assert_eq!(pair.free_ways(), [Dir::MinusX, Dir::MinusZ]);
    assert_abs_diff_eq!(pair.clearance_drawn(DVec3::new(-1.0, 0.0, -2.0)), 0.05, epsilon = 1e-6);
    // Twelve fingers, each 0.05 off, close by 0.6 (arithmetic).
    assert_abs_diff_eq!(box_joint::Figures { count: 12, ..*figures }.adds_up(0.05), 0.6, epsilon = 1e-9);
}

#[test]
fn fingers_that_do_not_fill_the_width_leave_a_stub_that_is_told() {
    let wanted = box_joint::Wanted { finger: Some(10.0), fit: Some(0.3), ..Default::default() };
    let pair = drawer(100.0, "white_ash", &Wanted::BoxJoint(wanted));
    let told = with_figures(&pair.kind().broken());
    // Ten fingers are an even number: nine, and a stub of 10.
    assert_eq!(told[0], ("an odd number of fingers fills the width, else a stub is left at one edge", 10.0, 0.0));
    assert_eq!(told[1].0, "a finger is snug in its gap");
    assert_eq!(told.len(), 2);
    pair.assert_goes_together();
    let wide = drawer(100.0, "white_ash", &Wanted::BoxJoint(box_joint::Wanted { finger: Some(20.0), ..Default::default() }));
    assert_eq!(with_figures(&wide.kind().broken()), [("a finger is at most as wide as the board is thick", 20.0, 12.0)]);
}

/// Slope 1:8 in hardwood and 1:6 in softwood (read, woodiesdiy.tv); half pins of 6 (common practice, no source).
#[test]
fn through_dovetails_lock_and_come_out_one_way() {
    let pair = drawer(100.0, "white_ash", &Wanted::Dovetail(dovetail::Wanted { glued: true, ..Default::default() }));
    let JointKind::Dovetail(figures) = pair.kind() else { panic!("dovetails") };
    assert_abs_diff_eq!(figures.slope, 1.0 / 8.0, epsilon = 1e-12);
    assert_eq!((figures.tails, figures.half_pin, figures.lap), (3, 6.0, 0.0));
    // Tails, pins and half pins fill the width; a tail is twice a pin at their middles.
    assert_abs_diff_eq!(3.0 * figures.tail + 2.0 * figures.pin + 12.0, 100.0, epsilon = 1e-9);
    assert_abs_diff_eq!(figures.ratio(), 2.0, epsilon = 1e-9);
    assert_eq!(pair.broken(), [""; 0]);
    let (tail, pin, lean) = (figures.tail, figures.pin, 18.0 / 8.0);
    let gaps = 2.0 * (6.0 + lean / 2.0) + 2.0 * (pin + lean);
    assert_abs_diff_eq!(pair.removed("side"), gaps * 18.0 * 12.0, epsilon = 1e-3);
    assert_abs_diff_eq!(pair.removed("front"), 3.0 * (tail + 0.1 - lean) * 18.0 * 12.0, epsilon = 1e-3);
    pair.assert_goes_together();
    assert_eq!(pair.free_ways(), [Dir::MinusX]);
    // 0.05 on each cheek; drawn back by 0.2 the cheeks, which lean by 1:8, have come nearer by 0.025.
    let drawn = pair.clearance_drawn(DVec3::new(-2.0, 0.0, -0.2));
    assert_abs_diff_eq!(drawn, 0.025 * (1.0_f64 / 8.0).atan().cos(), epsilon = 1e-6);
    let soft = drawer(100.0, "scots_pine", &Wanted::Dovetail(dovetail::Wanted::default()));
    let JointKind::Dovetail(figures) = soft.kind() else { panic!("dovetails") };
    assert_abs_diff_eq!(figures.slope, 1.0 / 6.0, epsilon = 1e-12);
    soft.assert_goes_together();
}

/// A lap of 2.4 to 4.8, about 5 on a front of 19 (read, a woodworking magazine of 2007).
#[test]
fn half_blind_dovetails_leave_a_lap_before_their_tails() {
    let pair = drawer(120.0, "white_ash", &Wanted::Dovetail(dovetail::Wanted { half_blind: true, ..Default::default() }));
    let JointKind::Dovetail(figures) = pair.kind() else { panic!("dovetails") };
    assert_abs_diff_eq!(figures.lap, 4.5, epsilon = 1e-9);
    assert_abs_diff_eq!(figures.length, 13.5, epsilon = 1e-9);
    assert_abs_diff_eq!(pair.length("side"), 313.5, epsilon = 1e-9);
    let sockets = f64::from(figures.tails) * (figures.tail + 0.1 - 13.5 / 8.0) * 13.5 * 12.0;
    assert_abs_diff_eq!(pair.removed("front"), sockets, epsilon = 1e-3);
    assert_eq!(pair.broken(), [""; 0]);
    pair.assert_goes_together();
    assert_eq!(pair.free_ways(), [Dir::MinusX]);
    let thin = dovetail::Wanted { half_blind: true, lap: Some(1.5), half_pin: Some(3.0), slope: Some(1.0 / 12.0), ..Default::default() };
    let thin = drawer(120.0, "white_ash", &Wanted::Dovetail(thin));
    thin.assert_goes_together();
    let told: Vec<_> = thin.broken();
    assert_eq!(
        told,
        [
            "a half pin is at least 6 mm at its narrow side",
            "the lap of a half-blind dovetail is at least 2.4 mm",
            "a dovetail slopes by 1:8 at least: less hardly locks"
        ]
    );
}

/// Every width, thickness of front and number of tails goes together, and the board is made of tails and pins.
#[test]
fn dovetails_and_fingers_go_together_at_every_width() {
    for height in [45.0, 63.0, 88.5, 140.0, 260.0] {
        for wanted in [
            Wanted::Dovetail(dovetail::Wanted::default()),
            Wanted::Dovetail(dovetail::Wanted { half_blind: true, tails: Some(2), ..Default::default() }),
            Wanted::BoxJoint(box_joint::Wanted::default()),
        ] {
            let pair = drawer(height, "norway_spruce", &wanted);
            pair.assert_goes_together();
            let filled = pair.solids.shape(PartId(0)).expect("front").volume + pair.solids.shape(PartId(1)).expect("side").volume;
            let outer = 400.0 * height * 18.0 + 12.0 * height * 300.0;
            let gap = outer - filled;
            assert!(gap > 0.0 && gap < 0.1 * 20.0 * 18.0 * 12.0, "{height}: {gap} mm³ of air in the corner");
        }
    }
}
