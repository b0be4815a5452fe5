//! Tongues in grooves, and what a cutter leaves where a groove stops.

use approx::assert_abs_diff_eq;
use casewright_core::joint::{Wanted, tongue};
use casewright_core::model::{Assembly, Contact, Stop};
use casewright_core::place::Dir;
use glam::{DVec2, DVec3};

use crate::{Pair, board, join, with_figures};

/// A frame member 80 high, and a board 20 thick above it whose edge reaches 8 into it.
pub fn tongued(wanted: &tongue::Wanted) -> Pair {
    let mut assembly = Assembly::default();
    let member = board(&mut assembly, "member", [(0.0, 600.0), (0.0, 80.0), (0.0, 20.0)], Dir::PlusZ, Dir::PlusY, "white_ash");
    let above = board(&mut assembly, "board", [(0.0, 600.0), (72.0, 152.0), (0.0, 20.0)], Dir::PlusZ, Dir::PlusY, "white_ash");
    let contact = Contact { centre: DVec3::new(300.0, 80.0, 10.0), into: Dir::MinusY, along: Dir::PlusX, extent: DVec2::new(600.0, 20.0) };
    join(assembly, above, member, contact, &Wanted::Tongue(*wanted))
}

#[test]
fn a_tongue_is_a_third_of_its_board_and_slips_in_its_groove() {
    let pair = tongued(&tongue::Wanted::default());
    // A third of 20, to the half: 6.5; shoulders of 6.75 each, 8 long.
    assert_abs_diff_eq!(pair.removed("board"), 2.0 * 6.75 * 8.0 * 600.0, epsilon = 1e-3);
    assert_abs_diff_eq!(pair.removed("member"), 6.8 * 9.0 * 600.0, epsilon = 1e-3);
    assert_eq!(pair.broken(), [""; 0]);
    pair.assert_goes_together();
    assert_abs_diff_eq!(pair.clearance_drawn(DVec3::Y * 3.0), 0.15, epsilon = 1e-6);
}

#[test]
fn a_tongue_at_the_end_of_a_board_is_added_to_its_length() {
    let mut assembly = Assembly::default();
    let post = board(&mut assembly, "post", [(0.0, 45.0), (0.0, 600.0), (0.0, 45.0)], Dir::PlusZ, Dir::PlusX, "white_ash");
    let rail = board(&mut assembly, "rail", [(45.0, 445.0), (100.0, 170.0), (12.5, 32.5)], Dir::PlusZ, Dir::PlusY, "white_ash");
    let contact = Contact { centre: DVec3::new(45.0, 135.0, 22.5), into: Dir::MinusX, along: Dir::PlusY, extent: DVec2::new(70.0, 20.0) };
    let wanted = tongue::Wanted { stops: [10.0, 10.0], glued: true, ..Default::default() };
    let pair = join(assembly, rail, post, contact, &Wanted::Tongue(wanted));
    assert_abs_diff_eq!(pair.length("rail"), 408.0, epsilon = 1e-9);
    // Both ends stopped and half round; the tongue cut back to where the groove is full, and 1 more.
    let (width, radius) = (6.6, 3.3);
    let groove = (50.0 * width + std::f64::consts::PI * radius * radius) * 9.0;
    assert_abs_diff_eq!(pair.removed("post"), groove, epsilon = 20.0);
    assert_abs_diff_eq!(pair.removed("rail"), 8.0 * (20.0 * 70.0 - 6.5 * 48.0), epsilon = 1e-3);
    pair.assert_goes_together();
    assert_eq!(pair.free_ways(), [Dir::PlusX]);
}

/// What the cutter leaves: 40 at 10 deep 17.3, 150 at 10 deep 37.4, 160 at 12 deep 42.1 (geometry, √(r² − (r − d)²)).
#[test]
fn a_slot_cutter_leaves_a_ramp_of_its_own_radius() {
    for (diameter, depth, ramp) in [(40.0, 10.0, 17.3), (150.0, 10.0, 37.4), (160.0, 12.0, 42.1)] {
        assert_abs_diff_eq!(Stop::Ramp { diameter }.run_out(6.0, depth), ramp, epsilon = 0.05);
    }
    let wanted = tongue::Wanted { stops: [60.0, 60.0], stop: Stop::Ramp { diameter: 150.0 }, ..Default::default() };
    let pair = tongued(&wanted);
    let (r, d) = (75.0_f64, 9.0);
    let ramp = (d * (2.0 * r - d)).sqrt();
    // The area under the arc: a sector less a triangle.
    let under = (r * r * (ramp / r).asin() - ramp * (r - d)) / 2.0;
    assert_abs_diff_eq!(pair.removed("member"), 6.8 * (480.0 * d + 2.0 * under), epsilon = 6.8 * 2.0 * ramp * 0.05);
    pair.assert_goes_together();
    assert_eq!(pair.free_ways(), [Dir::PlusY]);
    let member = pair.model.find("member").expect("the member");
    let told = member.cuts[0].feature.describe();
    assert!(told.contains("full depth from 60 to 540, ramps begin at 24.38 and end at 575.62"), "{told}");
    assert_eq!(pair.broken(), [""; 0]);
    // Stopped 30 from the end, the ramp would come out of it.
    let short = tongued(&tongue::Wanted { stops: [30.0, 0.0], ..wanted });
    assert_eq!(short.broken(), ["what the cutter leaves at a stopped end is covered by the board"]);
    // A cutter of 30 on its arbor does not reach 9 deep.
    let small = tongued(&tongue::Wanted { stop: Stop::Ramp { diameter: 30.0 }, ..wanted });
    assert_eq!(with_figures(&small.kind().broken()), [("a slot cutter reaches no deeper than its arbor lets it", 9.0, 7.0)]);
}

#[test]
fn a_tongue_that_is_too_thick_too_short_or_too_tight_is_told() {
    let wanted = tongue::Wanted { thickness: Some(12.0), fit: Some(0.05), room: Some(0.0), ..Default::default() };
    let told = tongued(&wanted).broken();
    for rule in [
        "a tongue is at most half as thick as its board",
        "a tongue ends short of the bottom of its groove",
        "a part that slides has room to slide",
    ] {
        assert!(told.contains(&rule), "{told:?}");
    }
    assert_eq!(told.len(), 3);
}
