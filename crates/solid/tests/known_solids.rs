//! Solids whose volume, area and centroid are known by arithmetic.

mod common;

use approx::assert_relative_eq;
use casewright_solid::{Axis, FaceOrigin, Facets, Profile, ProfileError, Segment, Shape, Solid, SolidError, VoidGap, void_gap};
use common::{pocket, prism, v2, v3};
use glam::{DVec2, DVec3};

const FACETS: Facets = Facets::PerTurn(24);

fn shape(solid: &Solid) -> Shape {
    let shape = solid.shape(FACETS).expect("a shape");
    assert!(shape.is_watertight());
    assert_eq!(shape.triangles.len(), shape.normals.len());
    assert_eq!(shape.triangles.len(), shape.face_of_triangle.len());
    let cells = solid.cells(24).expect("cells");
    assert_relative_eq!(shape.volume, cells.volume(), max_relative = 1e-8);
    shape
}

/// Vertices − edges + triangles: 2 − 2 · the number of holes right through, for each piece.
fn euler(shape: &Shape) -> i64 {
    let count = |n: usize| i64::try_from(n).expect("small");
    count(shape.positions.len()) - count(shape.triangles.len()) * 3 / 2 + count(shape.triangles.len())
}

fn area_of(profile: &Profile) -> f64 {
    let corners = profile.facets(FACETS);
    let next = corners.iter().cycle().skip(1);
    corners.iter().zip(next).map(|(a, b)| a.perp_dot(*b)).sum::<f64>() / 2.0
}

fn board(prisms: Vec<casewright_solid::Prism>) -> Solid {
    Solid { size: v3(200.0, 60.0, 20.0), prisms }
}

/// Held against the products of the sides.
#[test]
fn a_blank_is_a_box() {
    let shape = shape(&board(vec![]));
    assert_relative_eq!(shape.volume, 240_000.0, max_relative = 1e-12);
    assert_relative_eq!(shape.area, 2.0 * (12_000.0 + 4_000.0 + 1_200.0), max_relative = 1e-12);
    assert!(shape.centroid.distance(v3(100.0, 30.0, 10.0)) < 1e-9);
    assert_eq!((shape.faces.len(), shape.edges.len(), shape.positions.len()), (6, 12, 8));
    assert_eq!(shape.bounds(), (DVec3::ZERO, v3(200.0, 60.0, 20.0)));
    assert_eq!(euler(&shape), 2);
    assert!(shape.edges.iter().all(|e| e.convex));
}

/// Held against the faceted outline's area times the depth.
#[test]
fn a_mortise_with_round_ends_takes_its_outline_times_its_depth() {
    let outline = Profile::stadium(v2(100.0, 30.0), true, 50.0, 8.0);
    let shape = shape(&board(vec![prism(Axis::T, 8.0, 25.0, outline.clone())]));
    assert_relative_eq!(shape.volume, 240_000.0 - area_of(&outline) * 12.0, max_relative = 1e-9);
    assert_eq!(euler(&shape), 2);
    // The mouth and the floor are drawn, but neither the facets nor where arc and flat meet.
    let corners = outline.facets(FACETS).len();
    assert_eq!(shape.edges.len(), 12 + 2 * corners);
}

/// Held against the centroid of the mirror image.
#[test]
fn a_mortise_amid_a_board_leaves_the_centroid_amid_it() {
    let outline = Profile::stadium(v2(100.0, 30.0), false, 30.0, 8.0);
    let shape = shape(&board(vec![prism(Axis::T, -1.0, 25.0, outline)]));
    assert!(shape.centroid.distance(v3(100.0, 30.0, 10.0)) < 1e-9);
    assert_eq!(euler(&shape), 0);
}

/// Held against the area of the polygon inscribed in the circle, and the genus.
#[test]
fn holes_right_through() {
    let hole = |x| prism(Axis::T, -1.0, 21.0, Profile::circle(v2(x, 30.0), 5.0));
    let shape = shape(&board(vec![hole(40.0), hole(100.0), hole(160.0)]));
    let circle = 12.0 * 25.0 * (std::f64::consts::TAU / 24.0).sin();
    assert_relative_eq!(shape.volume, 240_000.0 - 3.0 * circle * 20.0, max_relative = 1e-9);
    assert_eq!(euler(&shape), -4);
}

/// Held against the triangles' areas; teeth share their tips.
#[test]
fn a_strip_of_teeth() {
    let tooth = |i: i32| {
        let x = 10.0 + 4.5 * f64::from(i);
        let corners = vec![v2(x, 60.0), v2(x + 4.5, 50.0), v2(x + 4.5, 60.0)];
        prism(Axis::T, 0.0, 20.0, Profile::polygon(corners).expect("a triangle"))
    };
    let solid = board((0..40).map(tooth).collect());
    let shape = shape(&solid);
    assert_relative_eq!(shape.volume, 240_000.0 - 40.0 * 22.5 * 20.0, max_relative = 1e-9);
    assert_eq!(euler(&shape), 2);
    assert!(solid.cells(24).expect("cells").count() <= 140);
}

/// Held against the union of the two boxes.
#[test]
fn overlapping_and_repeated_pockets_count_once() {
    let a = pocket(Axis::T, 10.0, 20.0, (20.0, 10.0), (60.0, 30.0));
    let b = pocket(Axis::T, 5.0, 25.0, (50.0, 20.0), (90.0, 40.0));
    let shape = shape(&board(vec![a.clone(), b, a]));
    let union = 40.0 * 20.0 * 10.0 + 40.0 * 20.0 * 15.0 - 10.0 * 10.0 * 10.0;
    assert_relative_eq!(shape.volume, 240_000.0 - union, max_relative = 1e-12);
}

/// Held against the product of the groove's sides: flush with both ends and with a side.
#[test]
fn a_groove_out_of_both_ends_and_a_rabbet_flush_with_the_faces() {
    let groove = pocket(Axis::L, 0.0, 200.0, (50.0, 7.0), (60.0, 13.0));
    let rabbet = pocket(Axis::L, -5.0, 205.0, (0.0, 0.0), (12.0, 6.0));
    let shape = shape(&board(vec![groove, rabbet]));
    assert_relative_eq!(shape.volume, 240_000.0 - 200.0 * (60.0 + 72.0), max_relative = 1e-12);
    assert_eq!(euler(&shape), 2);
    let inner = shape.edges.iter().filter(|e| !e.convex).count();
    assert_eq!(inner, 3, "two corners in the groove, one in the rabbet");
}

/// Held against the union of the three boxes.
#[test]
fn mortises_that_meet_inside_a_post() {
    let post = Solid {
        size: v3(300.0, 40.0, 40.0),
        prisms: vec![pocket(Axis::T, 10.0, 40.0, (100.0, 15.0), (160.0, 25.0)), pocket(Axis::W, 10.0, 40.0, (15.0, 100.0), (25.0, 160.0))],
    };
    let shape = shape(&post);
    let union = 2.0 * 60.0 * 10.0 * 30.0 - 60.0 * 10.0 * 10.0;
    assert_relative_eq!(shape.volume, 480_000.0 - union, max_relative = 1e-12);
}

/// Held against the pyramids' ground: two pockets that touch along one edge only.
#[test]
fn pockets_that_touch_along_an_edge_stay_closed() {
    let a = pocket(Axis::T, 10.0, 20.0, (20.0, 10.0), (60.0, 30.0));
    let b = pocket(Axis::T, 10.0, 20.0, (60.0, 30.0), (90.0, 40.0));
    let shape = shape(&board(vec![a, b]));
    assert_relative_eq!(shape.volume, 240_000.0 - 8_000.0 - 3_000.0, max_relative = 1e-12);
}

/// Held against the radius: normals of a hole point at its axis.
#[test]
fn facets_of_an_arc_shade_as_one() {
    let centre = v2(100.0, 30.0);
    let shape = shape(&board(vec![prism(Axis::T, 8.0, 25.0, Profile::circle(centre, 6.0))]));
    let mut seen = 0;
    for (triangle, (normals, &face)) in shape.triangles.iter().zip(shape.normals.iter().zip(&shape.face_of_triangle)) {
        if !matches!(shape.faces[face as usize].origin, FaceOrigin::Wall { .. }) {
            continue;
        }
        for (&vertex, normal) in triangle.iter().zip(normals) {
            let p = shape.positions[vertex as usize];
            let inward = (centre - DVec2::new(p.x, p.y)).normalize();
            assert!(normal.distance(v3(inward.x, inward.y, 0.0)) < 1e-9);
            seen += 1;
        }
    }
    assert_eq!(seen, 24 * 6);
}

/// Held against the turn of each outline: every face's loops enclose its triangles' area.
#[test]
fn loops_enclose_their_faces() {
    let outline = Profile::stadium(v2(100.0, 30.0), true, 50.0, 8.0);
    let shape = shape(&board(vec![prism(Axis::T, 8.0, 25.0, outline)]));
    let mut sum = 0.0;
    for (index, face) in shape.faces.iter().enumerate() {
        let turned: DVec3 = shape
            .loops(index)
            .flat_map(|l| l.iter().zip(l.iter().cycle().skip(1)))
            .map(|(&a, &b)| shape.positions[a as usize].cross(shape.positions[b as usize]))
            .sum();
        let area = turned.dot(face.normal) / 2.0;
        assert!(area > 0.0);
        sum += area;
    }
    assert_relative_eq!(sum, shape.area, max_relative = 1e-9);
    assert_eq!(shape.loops(shape.faces.len()).count(), 0);
}

#[test]
fn what_cannot_be_is_said() {
    let of = |size| Solid::blank(size).shape(FACETS).map(|s| s.volume);
    let bad = |axis| Err(SolidError::Size { axis });
    assert_eq!(of(v3(f64::NAN, 1.0, 1.0)), bad(Axis::L));
    assert_eq!(of(v3(1.0, 0.0, 1.0)), bad(Axis::W));
    assert_eq!(of(v3(1.0, 1.0, -3.0)), bad(Axis::T));
    let all = pocket(Axis::T, -1.0, 21.0, (-1.0, -1.0), (201.0, 61.0));
    assert_eq!(board(vec![all.clone()]).shape(FACETS), Err(SolidError::Empty));
    assert_eq!(board(vec![all]).cells(24), Err(SolidError::Empty));
    let backwards = pocket(Axis::T, 5.0, 5.0, (0.0, 0.0), (1.0, 1.0));
    assert_eq!(board(vec![backwards]).shape(FACETS), Err(SolidError::Depth { prism: 0 }));
    let point = prism(Axis::T, 0.0, 5.0, Profile::circle(v2(10.0, 10.0), 0.0));
    let reason = ProfileError::NoArea;
    assert_eq!(board(vec![point]).shape(FACETS), Err(SolidError::Profile { prism: 0, reason }));
    let odd = prism(Axis::T, 0.0, 5.0, Profile::circle(v2(f64::INFINITY, 10.0), 3.0));
    let reason = ProfileError::OutOfRange;
    assert_eq!(board(vec![odd]).shape(FACETS), Err(SolidError::Profile { prism: 0, reason }));
}

#[test]
fn outlines_are_checked_and_turned() {
    let bow = vec![v2(0.0, 0.0), v2(4.0, 4.0), v2(4.0, 0.0), v2(0.0, 4.0)];
    assert_eq!(Profile::polygon(bow), Err(ProfileError::CrossesItself));
    let line = vec![v2(0.0, 0.0), v2(4.0, 4.0)];
    assert_eq!(Profile::polygon(line), Err(ProfileError::NoArea));
    let clockwise = vec![v2(0.0, 0.0), v2(0.0, 2.0), v2(3.0, 2.0), v2(3.0, 0.0)];
    let turned = Profile::polygon(clockwise).expect("a rectangle");
    assert_relative_eq!(area_of(&turned), 6.0, max_relative = 1e-12);
    let uneven = Segment::Arc { to: v2(0.0, 5.0), centre: DVec2::ZERO, ccw: true };
    let path = Profile::path(v2(3.0, 0.0), vec![uneven]);
    assert_eq!(path, Err(ProfileError::UnevenArc { segment: 0 }));
}

/// Held against the square less the quarter disc, in facets.
#[test]
fn a_round_over_leaves_its_arc() {
    let arc = Segment::Arc { to: v2(0.0, 8.0), centre: v2(8.0, 8.0), ccw: false };
    let start = v2(8.0, 0.0);
    let corner = Profile::path(start, vec![arc, Segment::Line { to: DVec2::ZERO }]).expect("a corner");
    let quarter = 3.0 * 64.0 * (std::f64::consts::TAU / 24.0).sin();
    assert_relative_eq!(area_of(&corner), 64.0 - quarter, max_relative = 1e-12);
    let shape = shape(&board(vec![prism(Axis::L, 0.0, 200.0, corner)]));
    assert_relative_eq!(shape.volume, 240_000.0 - 200.0 * (64.0 - quarter), max_relative = 1e-9);
    // The arc runs into both faces smoothly: only its outlines on the two ends are drawn.
    let lengthwise = shape.edges.iter().filter(|e| (e.b - e.a).length() > 150.0).count();
    assert_eq!(lengthwise, 3);
}

/// Held against equality.
#[test]
fn equal_solids_share_a_key() {
    let a = board(vec![pocket(Axis::T, 0.0, 5.0, (0.0, 0.0), (1.0, 1.0))]);
    let b = board(vec![pocket(Axis::T, -0.0, 5.0, (-0.0, 0.0), (1.0, 1.0))]);
    let c = board(vec![pocket(Axis::T, 0.0, 5.1, (0.0, 0.0), (1.0, 1.0))]);
    assert_eq!((a.key(), &a), (b.key(), &b));
    assert_ne!(a.key(), c.key());
}

/// Held against arithmetic on the coordinates.
#[test]
fn mortises_in_a_post_meet_or_keep_their_distance() {
    let size = v3(300.0, 40.0, 40.0);
    let front = |depth: f64| [pocket(Axis::T, 40.0 - depth, 41.0, (100.0, 15.0), (160.0, 25.0))];
    let side = [pocket(Axis::W, 16.0, 41.0, (15.0, 120.0), (25.0, 200.0))];
    let Ok(Some(VoidGap::Overlapping { volume, centre })) = void_gap(size, &front(30.0), &side) else {
        panic!("they meet");
    };
    assert_relative_eq!(volume, 40.0 * 9.0 * 10.0, max_relative = 1e-9);
    assert!(centre.distance(v3(140.0, 20.5, 20.0)) < 1e-9);
    let Ok(Some(VoidGap::Apart { distance, at })) = void_gap(size, &front(12.0), &side) else {
        panic!("they keep apart");
    };
    assert_relative_eq!(distance, 3.0, max_relative = 1e-9);
    assert!((at.z - 26.5).abs() < 1e-9);
    assert_eq!(void_gap(size, &[], &side), Ok(None));
    // Two round holes side by side, flat against flat of their facets at the quadrants' corners.
    let hole = |x| [prism(Axis::T, -1.0, 41.0, Profile::circle(v2(x, 20.0), 5.0))];
    let Ok(Some(VoidGap::Apart { distance, .. })) = void_gap(size, &hole(50.0), &hole(65.0)) else {
        panic!("they keep apart");
    };
    assert_relative_eq!(distance, 5.0, max_relative = 1e-9);
}
