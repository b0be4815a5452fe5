//! Breadboard ends, and the room that their tenons and pegs have.

use approx::assert_abs_diff_eq;
use casewright_core::joint::{JointKind, Wanted, breadboard};
use casewright_core::model::{Assembly, Contact, Face, Feature};
use casewright_core::place::Dir;
use glam::{DVec2, DVec3};

use crate::{INDOORS, Pair, board, join, with_figures};

/// A top of cherry 700 wide and 22 thick, with an end 60 wide at its right.
pub fn breadboard_end(wanted: breadboard::Wanted<'_>) -> Pair {
    let mut assembly = Assembly::default();
    let top = board(&mut assembly, "top", [(0.0, 1000.0), (700.0, 722.0), (0.0, 700.0)], Dir::PlusY, Dir::PlusZ, "black_cherry");
    let end = board(&mut assembly, "end", [(1000.0, 1060.0), (700.0, 722.0), (0.0, 700.0)], Dir::PlusY, Dir::MinusX, "black_cherry");
    let contact =
        Contact { centre: DVec3::new(1000.0, 711.0, 350.0), into: Dir::PlusX, along: Dir::PlusZ, extent: DVec2::new(700.0, 22.0) };
    join(assembly, top, end, contact, &Wanted::Breadboard(wanted))
}

/// Cherry 700 flat-sawn, built at 8 %, at 6 to 11 %: 8.7 in all; a peg of 8 at 280 off the middle needs +2.1 and −1.4: slot 12.5
/// (worked by hand with the Wood Handbook's coefficient for black cherry, 0.00248, table 13-5, read).
#[test]
fn the_outer_pegs_of_a_breadboard_end_have_slots_for_the_movement() {
    let pair = breadboard_end(breadboard::Wanted::by_rule(&INDOORS));
    let JointKind::Breadboard(figures) = pair.kind() else { panic!("a breadboard end") };
    let outer = figures.tenons.last().expect("tenons");
    assert_eq!(figures.tenons.len(), 3);
    assert_abs_diff_eq!(outer.at, 280.0, epsilon = 1e-9);
    assert_abs_diff_eq!(outer.growth, 2.1, epsilon = 0.05);
    assert_abs_diff_eq!(outer.shrinkage, 1.4, epsilon = 0.05);
    assert_abs_diff_eq!(outer.slot, 12.5, epsilon = 0.05);
    assert_abs_diff_eq!(figures.tenons[1].slot, 8.0, epsilon = 1e-9);
    assert_eq!(pair.broken(), [""; 0]);
}

#[test]
fn a_breadboard_end_is_made_of_a_tongue_three_tenons_and_their_mortises() {
    let pair = breadboard_end(breadboard::Wanted { peg: Some(0.0), ..breadboard::Wanted::by_rule(&INDOORS) });
    // A third of 22 to the half: 7.5; tenons two thirds of 60: 40; the tongue 7.
    assert_abs_diff_eq!(pair.length("top"), 1040.0, epsilon = 1e-9);
    let left = 7.5 * (7.0 * 700.0 + 3.0 * 60.0 * 33.0);
    assert_abs_diff_eq!(pair.removed("top"), 22.0 * 40.0 * 700.0 - left, epsilon = 1e-2);
    let moves = 280.0 * 0.00248 * 5.0 + 1.0;
    let mortises = (60.1 + 2.0 * (60.0 + moves)) * (41.5 - 8.5);
    assert_abs_diff_eq!(pair.removed("end"), 7.6 * (8.5 * 700.0 + mortises), epsilon = 1e-2);
    pair.assert_goes_together();
    assert_eq!(pair.free_ways(), [Dir::MinusX]);
    // Only the middle tenon is glued.
    let joint = pair.model.joint(pair.joint);
    assert!(joint.glued);
    assert_abs_diff_eq!(joint.kind.glued_length(&joint.contact), 60.0, epsilon = 1e-9);
}

/// At both extremes every tenon but the middle one is still clear of both ends of its mortise, and its peg of both ends of its slot.
#[test]
fn tenons_and_slots_have_room_outward_when_wet_and_inward_when_dry() {
    let pair = breadboard_end(breadboard::Wanted::by_rule(&INDOORS));
    pair.assert_together();
    let JointKind::Breadboard(figures) = pair.kind() else { panic!("a breadboard end") };
    // Cuts as from and to along z, in the case.
    let along_z = |name: &str, wanted: fn(&Feature) -> bool| {
        let part = pair.model.find(name).expect("a part");
        let cuts = part.cuts.iter().filter(move |cut| wanted(&cut.feature));
        let ranges = cuts.map(|cut| {
            let Feature::Mortise { centre, length, .. } = cut.feature else { panic!("a mortise") };
            let z = part.pose.point(centre).z;
            (z - length / 2.0, z + length / 2.0)
        });
        ranges.collect::<Vec<_>>()
    };
    let mortises = along_z("end", |cut| matches!(cut, Feature::Mortise { face: Face::FaceEdge, .. }));
    let slots = along_z("top", |cut| matches!(cut, Feature::Mortise { face: Face::FaceSide, .. }));
    for ((tenon, mortise), slot) in figures.tenons.iter().zip(&mortises).zip(&slots) {
        let (out, z) = (tenon.at.signum(), 350.0 + tenon.at);
        for moved in [tenon.growth * out, -tenon.shrinkage * out] {
            assert!(z - 30.0 + moved > mortise.0 && z + 30.0 + moved < mortise.1, "{tenon:?} {mortise:?}");
            assert!(z - 4.0 - moved >= slot.0 - 1e-9 && z + 4.0 - moved <= slot.1 + 1e-9, "{tenon:?} {slot:?}");
        }
    }
    let pegs = &pair.model.joint(pair.joint).loose;
    assert_eq!(pegs.len(), 3);
    let round = std::f64::consts::PI * 16.0 * 22.0;
    for peg in pegs {
        assert_abs_diff_eq!(pair.solids.shape(*peg).expect("a peg").volume, round, epsilon = 0.02 * round);
    }
}

/// End 50 to 100 wide, an odd number of tenons 50 to 75 wide (read, furnituremaking.us and mull-overthing.com).
#[test]
fn a_breadboard_end_without_room_or_without_a_middle_is_told() {
    let wanted = breadboard::Wanted { tenons: Some(4), tenon_width: Some(90.0), room: Some(0.5), ..breadboard::Wanted::by_rule(&INDOORS) };
    let pair = breadboard_end(wanted);
    let told = with_figures(&pair.kind().broken());
    let rules: Vec<_> = told.iter().map(|told| told.0).collect();
    assert!(rules.contains(&"a breadboard end has an odd number of tenons, so that one stands in the middle"), "{rules:?}");
    assert!(rules.contains(&"a tenon of a breadboard end is at most 75 mm wide"), "{rules:?}");
    let room = told.iter().filter(|told| told.0 == "a tenon that is not fixed has room for the movement of the top");
    let worst = room.map(|told| told.2).fold(0.0, f64::max);
    assert_abs_diff_eq!(worst, 280.0 * 0.00248 * 5.0, epsilon = 1e-9);
}
