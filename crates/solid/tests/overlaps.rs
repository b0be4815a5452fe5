//! How far parts stand in each other, held against arithmetic and against an independent kernel.

mod common;

use approx::assert_relative_eq;
use casewright_solid::{Facets, Overlap, Pose, Solid, overlap};
use common::{at, by_manifold, cells, loose_tenon, mortised_post, placed, pose, two_parts, v3};
use glam::{DMat3, DVec3};
use proptest::prelude::*;

fn between(a: &Solid, b: &Solid, pose: &Pose) -> Option<Overlap> {
    overlap(&cells(a), &Pose::IDENTITY, &cells(b), pose)
}

/// Held against the definition: faces that touch claim no common space.
#[test]
fn boxes_that_touch_do_not_overlap() {
    let block = Solid::blank(v3(40.0, 30.0, 20.0));
    assert_eq!(between(&block, &block, &at(40.0, 0.0, 0.0)), None);
    assert_eq!(between(&block, &block, &at(0.0, -30.0, 5.0)), None);
    let quarter = Pose { basis: DMat3::from_cols(DVec3::Y, DVec3::NEG_X, DVec3::Z), origin: v3(0.0, 0.0, 0.0) };
    assert_eq!(between(&block, &block, &quarter), None);
}

/// Held against the product of the sides of the common box.
#[test]
fn a_shift_into_the_neighbour_is_measured() {
    let block = Solid::blank(v3(40.0, 30.0, 20.0));
    let found = between(&block, &block, &at(39.7, 10.0, 0.0)).expect("they overlap");
    assert_relative_eq!(found.volume, 0.3 * 20.0 * 20.0, max_relative = 1e-9);
    assert_relative_eq!(found.depth, 0.3, max_relative = 1e-9);
    assert!(found.centre.distance(v3(39.85, 20.0, 10.0)) < 1e-9);
    assert!(found.min.distance(v3(39.7, 10.0, 0.0)) < 1e-9);
    assert!(found.max.distance(v3(40.0, 30.0, 20.0)) < 1e-9);
}

/// Held against the octagon that two squares turned by an eighth have in common.
#[test]
fn turned_boxes_have_the_octagon_in_common() {
    let block = Solid::blank(v3(2.0, 2.0, 1.0));
    let turn = DMat3::from_rotation_z(std::f64::consts::FRAC_PI_4);
    let centre = v3(1.0, 1.0, 0.0);
    let pose = Pose { basis: turn, origin: centre - turn * centre };
    let found = between(&block, &block, &pose).expect("they overlap");
    let octagon = 8.0 * (2.0_f64.sqrt() - 1.0);
    assert_relative_eq!(found.volume, octagon, max_relative = 1e-9);
    assert_relative_eq!(found.depth, 1.0, max_relative = 1e-9);
}

/// Held against the faceted stadium: the tenon is one convex piece, and touches all round.
#[test]
fn a_tenon_that_fits_touches_only() {
    let tenon = loose_tenon();
    let outline = 52.0 * 8.0 + 12.0 * 16.0 * (std::f64::consts::TAU / 24.0).sin();
    assert_relative_eq!(cells(&tenon).volume(), outline * 30.0, max_relative = 1e-9);
    assert_eq!(between(&mortised_post(), &tenon, &at(70.0, 16.0, 10.0)), None);
}

/// Held against the sides of the mortise: the tenon moved sideways stands in one cheek.
#[test]
fn a_tenon_moved_sideways_stands_in_the_cheek() {
    let found = between(&mortised_post(), &loose_tenon(), &at(70.0, 16.3, 10.0)).expect("they overlap");
    let wanted = by_manifold(&mortised_post(), Facets::PerTurn(24))
        .intersection(&placed(&by_manifold(&loose_tenon(), Facets::PerTurn(24)), &at(70.0, 16.3, 10.0)))
        .volume();
    assert_relative_eq!(found.volume, wanted, max_relative = 1e-6);
    assert_relative_eq!(found.depth, 0.3, max_relative = 1e-6);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    /// Held against the intersection by `manifold-rust`.
    #[test]
    fn turned_parts_overlap_by_what_the_other_kernel_finds(a in pose(), b in pose()) {
        let (one, two) = two_parts();
        let facets = Facets::PerTurn(24);
        let wanted = placed(&by_manifold(&one, facets), &a)
            .intersection(&placed(&by_manifold(&two, facets), &b))
            .volume();
        let found = overlap(&cells(&one), &a, &cells(&two), &b);
        let volume = found.map_or(0.0, |o| o.volume);
        prop_assert!((volume - wanted).abs() < 1e-6 * wanted.max(1.0), "{volume} wanted {wanted}");
        if let Some(found) = found {
            prop_assert!(found.depth > 0.0);
            prop_assert!(found.centre.cmpge(found.min).all() && found.centre.cmple(found.max).all());
        }
    }
}
