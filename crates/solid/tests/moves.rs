//! Parts that move past each other, held against arithmetic, against poses along the way, and against an independent kernel.

mod common;

use approx::assert_relative_eq;
use casewright_solid::{Axis, Cells, Facets, Pose, Profile, Solid, clearance, contact, overlap, sweep, swept_bounds, turn};
use common::{at, by_manifold, cells, loose_tenon, mortised_post, placed, pocket, pose, prism, two_parts, v2, v3};
use glam::{DMat3, DVec3};
use proptest::prelude::*;

const SLACK: f64 = 0.01;

fn moved(pose: &Pose, way: DVec3) -> Pose {
    Pose { origin: pose.origin + way, ..*pose }
}

fn turned(pose: &Pose, pivot: DVec3, axis: DVec3, angle: f64) -> Pose {
    let basis = DMat3::from_axis_angle(axis.normalize(), angle);
    Pose { basis, origin: pivot - basis * pivot }.then_of(pose)
}

/// Held against the gap between the faces.
#[test]
fn a_block_strikes_what_stands_in_its_way() {
    let block = cells(&Solid::blank(v3(40.0, 30.0, 20.0)));
    let go = |from: Pose, way| sweep(&block, &from, way, &block, &Pose::IDENTITY, SLACK);
    let hit = go(at(100.0, 5.0, 0.0), v3(-80.0, 0.0, 0.0)).expect("they are 60 apart");
    assert_relative_eq!(hit.after, 60.0 + SLACK, max_relative = 1e-12);
    assert_relative_eq!(hit.depth, 20.0, max_relative = 1e-6);
    assert!(hit.at.distance(v3(40.0, 17.5, 10.0)) < 0.01, "{}", hit.at);
    assert_eq!(go(at(100.0, 5.0, 0.0), v3(-60.0, 0.0, 0.0)), None, "they touch at the end");
    assert_eq!(go(at(100.0, 30.0, 0.0), v3(-200.0, 0.0, 0.0)), None, "it slides along a face");
    assert_eq!(go(at(100.0, 29.995, 0.0), v3(-200.0, 0.0, 0.0)), None, "it rubs by less than the slack");
    assert!(go(at(100.0, 29.98, 0.0), v3(-200.0, 0.0, 0.0)).is_some(), "it rubs by more");
    // Past a corner on the slant: in x they overlap from three to seven tenths of the way.
    let slant = v3(-200.0, 100.0, 0.0);
    let hit = go(at(100.0, -90.0, 0.0), slant).expect("in y they overlap from six tenths on");
    assert_relative_eq!(hit.after, slant.length() * (60.0 + SLACK) / 100.0, max_relative = 1e-12);
    assert_eq!(go(at(100.0, -90.0, 0.0), v3(-200.0, 80.0, 0.0)), None, "in y from three quarters on");
    assert_eq!(go(at(39.0, 0.0, 0.0), DVec3::ZERO).map(|hit| hit.after), Some(0.0));
}

/// Held against the clearances of the outlines: nothing, all round.
#[test]
fn a_tenon_leaves_its_mortise_only_the_way_it_went_in() {
    let (post, tenon) = (cells(&mortised_post()), cells(&loose_tenon()));
    let seated = at(70.0, 16.0, 10.0);
    let go = |way| sweep(&tenon, &seated, way, &post, &Pose::IDENTITY, SLACK);
    assert_eq!(go(v3(0.0, 0.0, 60.0)), None);
    for (way, depth) in [(v3(0.0, 0.0, -3.5), 3.5), (v3(0.0, 3.0, 0.0), 3.0)] {
        let hit = go(way).expect("a wall of the mortise");
        assert_relative_eq!(hit.after, SLACK, max_relative = 1e-9);
        assert_relative_eq!(hit.depth, depth, max_relative = 1e-6);
    }
    // Along the mortise the round end strikes with facets that look a little aside.
    assert!(go(v3(8.0, 0.0, 0.0)).is_some_and(|hit| hit.after < 2.0 * SLACK));
}

/// Held against the heights of two ridges that cross: no face of the one ever looks at the other's edge.
#[test]
fn crossing_edges_are_met_exactly() {
    let bar = cells(&Solid::blank(v3(100.0, 10.0, 10.0)));
    let eighth = std::f64::consts::FRAC_PI_4;
    let half = 5.0 * 2.0_f64.sqrt();
    let centred = |basis: DMat3, at: DVec3| Pose { basis, origin: at - basis * v3(50.0, 5.0, 5.0) };
    let low = centred(DMat3::from_rotation_x(eighth), DVec3::ZERO);
    let high = |z: f64| centred(DMat3::from_rotation_z(2.0 * eighth) * DMat3::from_rotation_x(eighth), v3(0.0, 0.0, z));
    let hit = sweep(&bar, &high(100.0), v3(0.0, 0.0, -200.0), &bar, &low, SLACK).expect("ridge on ridge");
    assert_relative_eq!(hit.after, 100.0 - 2.0 * half + SLACK, max_relative = 1e-9);
    assert_relative_eq!(hit.depth, 2.0 * half, max_relative = 1e-6);
    assert_eq!(sweep(&bar, &high(2.0 * half), v3(300.0, 40.0, 0.0), &bar, &low, SLACK), None, "ridge slides over ridge");
}

/// Held against the boxes at both ends of the way.
#[test]
fn swept_bounds_hold_start_and_end() {
    let block = cells(&Solid::blank(v3(40.0, 30.0, 20.0)));
    assert_eq!(swept_bounds(&block, &at(1.0, 2.0, 3.0), v3(-10.0, 5.0, 0.0)), (v3(-9.0, 2.0, 3.0), v3(41.0, 37.0, 23.0)));
}

/// Held against the circle that the far corner describes.
#[test]
fn a_board_turns_until_its_corner_strikes() {
    let board = cells(&Solid::blank(v3(300.0, 20.0, 100.0)));
    let wall = cells(&Solid::blank(v3(20.0, 800.0, 100.0)));
    // About a corner at the origin the far corner reaches out to the diagonal; the wall stands nearer than that.
    let reach = v2(300.0, 20.0).length();
    let swing = |x: f64, angle: f64| turn(&board, &Pose::IDENTITY, DVec3::ZERO, DVec3::Z, angle, &wall, &at(x, -400.0, 0.0), SLACK);
    assert_eq!(swing(reach + 0.001, -1.5), None);
    let hit = swing(300.2, -1.5).expect("the corner is 0.47 too far out");
    let angle = (20.0_f64 / 300.0).atan() - (300.2 / reach).acos();
    assert!((hit.after - angle).abs() < 1e-3, "{} wanted {angle}", hit.after);
    assert!(hit.at.distance(v3(300.2, reach * (300.2 / reach).acos().sin(), 50.0)) < 0.5, "{}", hit.at);
    assert!((hit.depth - (reach - 300.2)).abs() < 0.05, "{}", hit.depth);
    assert_eq!(swing(301.0, 1.5), None, "it turns away");
    assert_eq!(turn(&board, &Pose::IDENTITY, DVec3::ZERO, DVec3::ZERO, 1.0, &wall, &Pose::IDENTITY, SLACK), None);
}

/// Held against the diagonal of the shelf: tilted in between two sides it needs that much room.
#[test]
fn a_shelf_is_tilted_in_only_where_its_diagonal_fits() {
    let shelf = cells(&Solid::blank(v3(600.0, 20.0, 200.0)));
    let side = cells(&Solid::blank(v3(20.0, 900.0, 200.0)));
    let diagonal = v2(600.0, 20.0).length();
    let (middle, start) = (v3(300.0, 10.0, 0.0), Pose::IDENTITY);
    let free = |room: f64| {
        let spare = (room - 600.0) / 2.0;
        [-20.0 - spare, 600.0 + spare]
            .into_iter()
            .all(|x| turn(&shelf, &start, middle, DVec3::Z, 0.8, &side, &at(x, -400.0, 0.0), SLACK).is_none())
    };
    assert!(free(diagonal + 0.001));
    assert!(!free(diagonal - 0.1));
}

/// Held against arithmetic.
#[test]
fn room_between_parts_is_measured() {
    let block = cells(&Solid::blank(v3(40.0, 30.0, 20.0)));
    let apart = clearance(&block, &Pose::IDENTITY, &block, &at(43.0, 34.0, 5.0));
    assert_relative_eq!(apart.distance, 5.0, max_relative = 1e-12);
    assert!(apart.on_a.truncate().distance(v2(40.0, 30.0)) < 1e-12 && apart.on_b.truncate().distance(v2(43.0, 34.0)) < 1e-12);
    assert!(clearance(&block, &Pose::IDENTITY, &block, &at(40.0, 0.0, 0.0)).distance < 1e-12);
    let within = clearance(&block, &Pose::IDENTITY, &block, &at(30.0, 0.0, 0.0));
    assert!(within.distance < 1e-12 && within.on_a == within.on_b);
    // The tenon 0.3 off the floor of its mortise.
    let lifted = clearance(&cells(&mortised_post()), &Pose::IDENTITY, &cells(&loose_tenon()), &at(70.0, 16.0, 10.3));
    assert!(lifted.distance < 1e-9, "its cheeks still touch");
}

/// Held against the products of the sides, and the octagon of two squares an eighth of a turn apart.
#[test]
fn faces_that_lie_on_each_other_are_measured() {
    let shape = |solid: &Solid| solid.shape(Facets::PerTurn(24)).expect("a shape");
    let block = shape(&Solid::blank(v3(40.0, 30.0, 20.0)));
    let on = |pose: Pose| contact(&block, &Pose::IDENTITY, &block, &pose, 0.01);
    let found = on(at(30.0, -10.0, 20.0)).expect("they lie on each other");
    assert_relative_eq!(found.area, 10.0 * 20.0, max_relative = 1e-12);
    assert!(found.centre.distance(v3(35.0, 10.0, 20.0)) < 1e-9);
    assert_eq!(on(at(30.0, -10.0, 20.02)), None, "out of touch");
    assert!(on(at(30.0, -10.0, 20.005)).is_some() && on(at(30.0, -10.0, 19.995)).is_some());
    assert_eq!(on(at(40.0, 30.0, 0.0)), None, "edge on edge has no area");
    let square = shape(&Solid::blank(v3(2.0, 2.0, 1.0)));
    let turn = DMat3::from_rotation_z(std::f64::consts::FRAC_PI_4);
    let above = Pose { basis: turn, origin: v3(1.0, 1.0, 1.0) - turn * v3(1.0, 1.0, 0.0) };
    let found = contact(&square, &Pose::IDENTITY, &square, &above, 0.01).expect("one on the other");
    assert_relative_eq!(found.area, 8.0 * (2.0_f64.sqrt() - 1.0), max_relative = 1e-6);
    // A board over a mortise lies on all but its mouth; the tenon in it touches with floor, cheeks and rounds.
    let (post, tenon) = (shape(&mortised_post()), shape(&loose_tenon()));
    let mouth = 52.0 * 8.0 + 12.0 * 16.0 * (std::f64::consts::TAU / 24.0).sin();
    let board = shape(&Solid::blank(v3(300.0, 40.0, 5.0)));
    let over = contact(&post, &Pose::IDENTITY, &board, &at(0.0, 0.0, 40.0), 0.01).expect("it lies on it");
    assert_relative_eq!(over.area, 300.0 * 40.0 - mouth, max_relative = 1e-8);
    let round = 24.0 * 2.0 * 4.0 * (std::f64::consts::PI / 24.0).sin();
    let seated = contact(&post, &Pose::IDENTITY, &tenon, &at(70.0, 16.0, 10.0), 0.01).expect("it is in it");
    assert_relative_eq!(seated.area, mouth + (2.0 * 52.0 + round) * 30.0, max_relative = 1e-6);
}

fn way() -> impl Strategy<Value = DVec3> {
    let part = || -80.0..80.0_f64;
    (part(), part(), part()).prop_map(|(x, y, z)| v3(x, y, z))
}

/// The deepest of any pose along a move, by the kernel of overlaps.
fn deepest(a: &Cells, poses: impl Iterator<Item = Pose>, b: &Cells, other: &Pose) -> f64 {
    poses.filter_map(|pose| overlap(a, &pose, b, other)).map(|found| found.depth).fold(0.0, f64::max)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    /// Held against the overlap at many places along the way.
    #[test]
    fn a_straight_move_strikes_just_where_poses_on_the_way_overlap(a in pose(), b in pose(), way in way(), square: bool) {
        let (one, two) = two_parts();
        let (one, two) = (cells(&one), cells(&two));
        let a = if square { at(a.origin.x, a.origin.y, a.origin.z) } else { a };
        let b = if square { at(b.origin.x, b.origin.y, b.origin.z) } else { b };
        let places = |from: f64, to: f64| (0..=60).map(move |i| moved(&a, way * (from + (to - from) * f64::from(i) / 60.0)));
        match sweep(&one, &a, way, &two, &b, SLACK) {
            None => {
                let depth = deepest(&one, places(0.0, 1.0), &two, &b);
                prop_assert!(depth < 4.0 * SLACK, "{depth} deep on the way");
            }
            Some(hit) => {
                let part = hit.after / way.length();
                prop_assert!((0.0..=1.0).contains(&part));
                let before = deepest(&one, places(0.0, (part - 1e-9).max(0.0)), &two, &b);
                prop_assert!(part == 0.0 || before < 4.0 * SLACK, "{before} deep before {part}");
                prop_assert!(overlap(&one, &moved(&a, way * part), &two, &b).is_some(), "apart at {part}");
                let after = deepest(&one, places(part, 1.0), &two, &b);
                // Thickness of what they share is no more than the way that parts them, but for slanting edges.
                prop_assert!(hit.depth >= SLACK * 0.999 && hit.depth > 0.2 * after, "{} but {after}", hit.depth);
            }
        }
    }

    /// Held against the overlap at many angles.
    #[test]
    fn a_turn_strikes_just_where_angles_on_the_way_overlap(a in pose(), b in pose(), pivot in way(), axis in way(), angle in -3.0..3.0_f64) {
        prop_assume!(axis.length() > 1.0);
        let (one, two) = two_parts();
        let (one, two) = (cells(&one), cells(&two));
        let places = |from: f64, to: f64| (0..=60).map(move |i| turned(&a, pivot, axis, from + (to - from) * f64::from(i) / 60.0));
        match turn(&one, &a, pivot, axis, angle, &two, &b, SLACK) {
            None => {
                let depth = deepest(&one, places(0.0, angle), &two, &b);
                prop_assert!(depth < 4.0 * SLACK, "{depth} deep on the way");
            }
            Some(hit) => {
                prop_assert!((0.0..=angle.abs()).contains(&hit.after));
                let at_hit = hit.after * angle.signum();
                let before = deepest(&one, places(0.0, at_hit), &two, &b);
                prop_assert!(hit.after == 0.0 || before < 4.0 * SLACK, "{before} deep before {at_hit}");
                prop_assert!(hit.depth > SLACK * 0.4, "{}", hit.depth);
            }
        }
    }

    /// Held against the gap that `manifold-rust` finds between the same two bodies.
    #[test]
    fn parts_are_as_far_apart_as_the_other_kernel_finds(a in pose(), b in pose(), away in way()) {
        let (one, two) = two_parts();
        let b = moved(&b, away);
        let facets = Facets::PerTurn(24);
        let found = clearance(&cells(&one), &a, &cells(&two), &b);
        let (one, two) = (placed(&by_manifold(&one, facets), &a), placed(&by_manifold(&two, facets), &b));
        let wanted = if one.intersection(&two).volume() > 1e-9 { 0.0 } else { one.min_gap(&two, 500.0) };
        prop_assert!((found.distance - wanted).abs() < 1e-6, "{} wanted {wanted}", found.distance);
        prop_assert!((found.on_a.distance(found.on_b) - found.distance).abs() < 1e-9);
    }
}

/// Held against the outline: a groove's panel slides in it, and its pocket's walls stop it.
#[test]
fn a_panel_slides_along_its_groove_to_the_stop() {
    let groove = pocket(Axis::L, 30.0, 401.0, (0.0, 7.0), (10.0, 13.0));
    let rail = cells(&Solid { size: v3(400.0, 60.0, 20.0), prisms: vec![groove] });
    let panel = cells(&Solid::blank(v3(100.0, 200.0, 6.0)));
    let seated = at(200.0, -190.0, 7.0);
    let hit = sweep(&panel, &seated, v3(-300.0, 0.0, 0.0), &rail, &Pose::IDENTITY, SLACK).expect("the end of the groove");
    assert_relative_eq!(hit.after, 170.0 + SLACK, max_relative = 1e-9);
    assert_eq!(sweep(&panel, &seated, v3(300.0, 0.0, 0.0), &rail, &Pose::IDENTITY, SLACK), None);
    // A tongue of another kind: round.
    let hole = Solid { size: v3(60.0, 60.0, 40.0), prisms: vec![prism(Axis::T, 10.0, 41.0, Profile::circle(v2(30.0, 30.0), 5.0))] };
    let pin = cells(&Solid::blank(v3(7.0, 7.0, 30.0)));
    let into = sweep(&pin, &at(26.5, 26.5, 60.0), v3(0.0, 0.0, -60.0), &cells(&hole), &Pose::IDENTITY, SLACK).expect("the floor");
    assert_relative_eq!(into.after, 50.0 + SLACK, max_relative = 1e-9);
}
