//! Rabbets at corners and for backs.

use approx::assert_abs_diff_eq;
use casewright_core::joint::{JointKind, Wanted, rabbet};
use casewright_core::model::{Assembly, Contact};
use casewright_core::place::Dir;
use glam::{DVec2, DVec3};

use crate::{Pair, board, join, with_figures};

/// The end of a top 18 thick in a rabbet of a side 19 thick.
pub fn corner(wanted: rabbet::Wanted) -> Pair {
    let mut assembly = Assembly::default();
    let side = board(&mut assembly, "side", [(0.0, 19.0), (0.0, 600.0), (0.0, 300.0)], Dir::PlusX, Dir::PlusZ, "white_ash");
    let top = board(&mut assembly, "top", [(19.0, 519.0), (582.0, 600.0), (0.0, 300.0)], Dir::PlusY, Dir::PlusZ, "white_ash");
    let contact = Contact { centre: DVec3::new(19.0, 591.0, 150.0), into: Dir::MinusX, along: Dir::PlusZ, extent: DVec2::new(300.0, 18.0) };
    join(assembly, top, side, contact, &Wanted::Rabbet(wanted))
}

#[test]
fn a_rabbet_at_a_corner_takes_half_to_two_thirds() {
    let pair = corner(rabbet::Wanted { glued: true, ..Default::default() });
    let JointKind::Rabbet(figures) = pair.kind() else { panic!("a rabbet") };
    assert_eq!((figures.width, figures.depth), (18.0, 11.5));
    assert!((9.5..=12.7).contains(&figures.depth));
    assert_abs_diff_eq!(pair.removed("side"), 11.5 * 18.0 * 300.0, epsilon = 1e-3);
    assert_abs_diff_eq!(pair.length("top"), 511.5, epsilon = 1e-9);
    assert_eq!(pair.broken(), [""; 0]);
    pair.assert_goes_together();
    let deep = corner(rabbet::Wanted { depth: Some(15.0), ..Default::default() });
    assert_eq!(deep.broken(), ["a rabbet at a corner takes at most two thirds of the thickness"]);
}

#[test]
fn a_back_lies_in_rabbets_along_the_edges_with_room_beside_it() {
    let back_in = |x: f64, back: (f64, f64), y: (f64, f64)| {
        let mut assembly = Assembly::default();
        let side = board(&mut assembly, "side", [(0.0, 19.0), (0.0, 600.0), (0.0, 300.0)], Dir::PlusX, Dir::PlusZ, "white_ash");
        let back = board(&mut assembly, "back", [(x, 500.0), y, back], Dir::MinusZ, Dir::PlusX, "white_ash");
        let contact = Contact { centre: DVec3::new(14.0, 300.0, 8.0), into: Dir::PlusZ, along: Dir::PlusY, extent: DVec2::new(600.0, 9.0) };
        join(assembly, back, side, contact, &Wanted::Rabbet(rabbet::Wanted::default()))
    };
    let pair = back_in(10.0, (0.0, 8.0), (0.0, 600.0));
    // 9 of the back and 0.5 beside it, 8 deep, all along.
    assert_abs_diff_eq!(pair.removed("side"), 9.5 * 8.0 * 600.0, epsilon = 1e-3);
    assert_eq!(pair.broken(), [""; 0]);
    pair.assert_goes_together();
    assert_abs_diff_eq!(pair.clearance_drawn(DVec3::NEG_Z), 0.5, epsilon = 1e-6);
    // Set in by 1 it lies 1 back in its rabbet.
    let set_in = back_in(10.0, (1.0, 8.0), (0.0, 600.0));
    assert_abs_diff_eq!(set_in.removed("side"), 9.5 * 8.0 * 600.0, epsilon = 1e-3);
    // Stopped below the top of the side: the rabbet stops with it.
    let stopped = back_in(10.0, (0.0, 8.0), (0.0, 560.0));
    assert_abs_diff_eq!(stopped.removed("side"), 9.5 * 8.0 * 560.5, epsilon = 1e-3);
    let narrow = back_in(14.0, (0.0, 8.0), (0.0, 600.0));
    assert_eq!(with_figures(&narrow.kind().broken()), [("a rabbet for a back is at least 8 mm wide", 5.5, 8.0)]);
}
