//! Whole boxes put together by hand: a shelf between two sides, a drawer with its bottom.

use approx::assert_abs_diff_eq;
use casewright_core::design::{CutterKind, Groove, GrooveWidth, PanelCorners, Sheet};
use casewright_core::joint::{JointKind, Wanted, dovetail, housing, sliding_dovetail};
use casewright_core::length::Length;
use casewright_core::model::{Assembly, Contact, Material, Meeting, NewPart, PartId, PartKind, Role};
use casewright_core::place::{Block, Dir, Lie};
use glam::{DVec2, DVec3};

use crate::{Pair, board};

/// A shelf housed in the left side and dovetailed into the right one is as long as what it stands in takes it in.
#[test]
fn a_shelf_between_two_sides_gets_the_length_that_is_really_there() {
    let mut assembly = Assembly::default();
    let left = board(&mut assembly, "left", [(0.0, 19.0), (0.0, 600.0), (0.0, 300.0)], Dir::PlusX, Dir::PlusZ, "white_ash");
    let right = board(&mut assembly, "right", [(519.0, 538.0), (0.0, 600.0), (0.0, 300.0)], Dir::MinusX, Dir::PlusZ, "white_ash");
    let shelf = board(&mut assembly, "shelf", [(19.0, 519.0), (200.0, 218.0), (0.0, 300.0)], Dir::PlusY, Dir::PlusZ, "white_ash");
    let mut meet = |side: PartId, x: f64, into: Dir, wanted: &Wanted<'_>| {
        let contact = Contact { centre: DVec3::new(x, 209.0, 150.0), into, along: Dir::PlusZ, extent: DVec2::new(300.0, 18.0) };
        assembly.join(&Meeting { role: Role::Own, a: shelf, b: side, contact }, wanted)
    };
    let joint = meet(left, 19.0, Dir::MinusX, &Wanted::Housing(housing::Wanted { stops: [0.0, 10.0], ..Default::default() }));
    meet(right, 519.0, Dir::PlusX, &Wanted::SlidingDovetail(sliding_dovetail::Wanted { stops: [0.0, 10.0], ..Default::default() }));
    let whole = Pair::of(assembly, joint);
    whole.assert_together();
    // 5.5 in the housing, 6 of tail.
    assert_abs_diff_eq!(whole.length("shelf"), 511.5, epsilon = 1e-9);
    let shelf = whole.model.find("shelf").expect("the shelf");
    assert_abs_diff_eq!(shelf.beyond_shoulders.iter().sum::<f64>(), 11.5, epsilon = 1e-9);
    // Between its shoulders it is as placed.
    assert_abs_diff_eq!(shelf.body().min.x, 19.0, epsilon = 1e-9);
    assert_abs_diff_eq!(shelf.body().max.x, 519.0, epsilon = 1e-9);
    let told: Vec<_> = whole.model.joints.iter().flat_map(|joint| joint.kind.broken()).collect();
    assert_eq!(told, []);
}

/// A drawer: half blind in the front, through in the back, the bottom in grooves inside the lowest tail (common practice, no source).
pub fn drawer() -> Pair {
    let mut assembly = Assembly::default();
    let front = board(&mut assembly, "front", [(0.0, 400.0), (0.0, 120.0), (300.0, 319.0)], Dir::PlusZ, Dir::PlusY, "white_ash");
    let back = board(&mut assembly, "back", [(0.0, 400.0), (0.0, 120.0), (0.0, 12.0)], Dir::MinusZ, Dir::PlusY, "white_ash");
    let left = board(&mut assembly, "left", [(0.0, 12.0), (0.0, 120.0), (12.0, 300.0)], Dir::MinusX, Dir::PlusY, "white_ash");
    let right = board(&mut assembly, "right", [(388.0, 400.0), (0.0, 120.0), (12.0, 300.0)], Dir::PlusX, Dir::PlusY, "white_ash");
    // It reaches 6 into each of the four.
    let sheet = Material::Sheet("birch_plywood_6_5".to_owned());
    let block = Block::new((6.0, 394.0), (12.0, 18.5), (6.0, 306.0));
    let bottom = NewPart::filling(block, Lie { face: Dir::PlusY, edge: Dir::PlusZ }).called("bottom", "bottom", PartKind::Own, sheet);
    let bottom = assembly.place(bottom);
    let mut corners = Vec::new();
    for (side, x) in [(left, 6.0), (right, 394.0)] {
        for (other, z, into, half_blind) in [(front, 300.0, Dir::PlusZ, true), (back, 12.0, Dir::MinusZ, false)] {
            let contact = Contact { centre: DVec3::new(x, 60.0, z), into, along: Dir::PlusY, extent: DVec2::new(120.0, 12.0) };
            let wanted = Wanted::Dovetail(dovetail::Wanted { half_blind, glued: true, ..Default::default() });
            corners.push(assembly.join(&Meeting { role: Role::Own, a: side, b: other, contact }, &wanted));
        }
    }
    let mm = Length::mm;
    let groove = Groove {
        depth: mm(7.0),
        play: mm(1.0),
        width_by: GrooveWidth::FromSheet,
        fit: mm(0.2),
        own_width: mm(6.5),
        cutter: mm(6.0),
        cutter_kind: CutterKind::Round,
        cutter_diameter: mm(40.0),
        corners: PanelCorners::Square,
    };
    let sheet = Sheet { product: String::new(), nominal: mm(6.5), measured: mm(6.5) };
    for (member, centre, into, along, length) in [
        (left, DVec3::new(12.0, 15.25, 156.0), Dir::MinusX, Dir::PlusZ, 300.0),
        (right, DVec3::new(388.0, 15.25, 156.0), Dir::PlusX, Dir::PlusZ, 300.0),
        (front, DVec3::new(200.0, 15.25, 300.0), Dir::PlusZ, Dir::PlusX, 388.0),
        (back, DVec3::new(200.0, 15.25, 12.0), Dir::MinusZ, Dir::PlusX, 388.0),
    ] {
        let contact = Contact { centre, into, along, extent: DVec2::new(length, 6.5) };
        assembly.join(&Meeting { role: Role::Own, a: bottom, b: member, contact }, &Wanted::Groove(&groove, &sheet));
    }
    let first = corners.swap_remove(0);
    Pair::of(assembly, first)
}

#[test]
fn a_dovetailed_drawer_goes_together_round_its_bottom() {
    let drawer = drawer();
    drawer.assert_together();
    // Front lap by the rule: a quarter of 19, to the half.
    assert_abs_diff_eq!(drawer.length("left"), 288.0 + 14.0 + 12.0, epsilon = 1e-9);
    let told: Vec<_> = drawer.model.joints.iter().flat_map(|joint| joint.kind.broken()).collect();
    assert_eq!(told, []);
    // Every groove stays inside the wood: no end of a board shows it.
    for name in ["front", "back", "left", "right"] {
        let part = drawer.model.find(name).expect("a board");
        let cut = part.cuts.iter().find(|cut| cut.feature.name().starts_with("groove")).expect("a groove");
        assert_eq!(cut.feature.name(), "groove, stopped", "{name}");
    }
    // Out sideways from front and back alike.
    let corners: Vec<_> = drawer.model.joints.iter().filter(|joint| matches!(joint.kind, JointKind::Dovetail(_))).collect();
    assert_eq!(corners.len(), 4);
    for joint in corners {
        let out = if drawer.model.part(joint.a).name == "left" { Dir::MinusX } else { Dir::PlusX };
        assert_eq!(joint.kind.ways_apart(&joint.contact), [out]);
    }
}
