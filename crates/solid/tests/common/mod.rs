//! The independent kernel that solids are held against, and shared makers.

#![allow(dead_code, reason = "each test program uses its own share of this")]

use casewright_solid::{Axis, Cells, Facets, Pose, Prism, Profile, Segment, Solid};
use glam::{DMat3, DQuat, DVec2, DVec3};
use manifold_rust::linalg::{Mat3x4, Vec2, Vec3};
use manifold_rust::manifold::Manifold;
use proptest::prelude::*;

pub fn v2(x: f64, y: f64) -> DVec2 {
    DVec2::new(x, y)
}

pub fn v3(x: f64, y: f64, z: f64) -> DVec3 {
    DVec3::new(x, y, z)
}

pub fn prism(axis: Axis, from: f64, to: f64, profile: Profile) -> Prism {
    Prism { axis, from, to, profile }
}

pub fn pocket(axis: Axis, from: f64, to: f64, min: (f64, f64), max: (f64, f64)) -> Prism {
    prism(axis, from, to, Profile::rect(v2(min.0, min.1), v2(max.0, max.1)))
}

/// The solid as the other kernel makes it, from the same facets.
pub fn by_manifold(solid: &Solid, facets: Facets) -> Manifold {
    let size = Vec3::new(solid.size.x, solid.size.y, solid.size.z);
    let blank = Manifold::cube(size, false);
    solid.prisms.iter().fold(blank, |rest, cut| rest.difference(&swept(cut, facets)))
}

fn swept(cut: &Prism, facets: Facets) -> Manifold {
    let outline: Vec<Vec2> = cut.profile.facets(facets).iter().map(|p| Vec2::new(p.x, p.y)).collect();
    let upright = Manifold::extrude(&vec![outline], cut.to - cut.from, 0, 0.0, Vec2::new(1.0, 1.0));
    let unit = |axis: Axis| DVec3::AXES[axis.index()];
    let axis = cut.axis;
    upright.transform(&placement([unit(axis.u()), unit(axis.v()), unit(axis)], unit(axis) * cut.from))
}

pub fn placed(manifold: &Manifold, pose: &Pose) -> Manifold {
    let b = pose.basis;
    manifold.transform(&placement([b.x_axis, b.y_axis, b.z_axis], pose.origin))
}

fn placement(columns: [DVec3; 3], origin: DVec3) -> Mat3x4 {
    let v = |p: DVec3| Vec3::new(p.x, p.y, p.z);
    Mat3x4::from_cols(v(columns[0]), v(columns[1]), v(columns[2]), v(origin))
}

pub fn cells(solid: &Solid) -> Cells {
    solid.cells(24).expect("something is left")
}

pub fn at(x: f64, y: f64, z: f64) -> Pose {
    Pose { origin: v3(x, y, z), ..Pose::IDENTITY }
}

pub fn mortised_post() -> Solid {
    let mortise = Profile::stadium(v2(100.0, 20.0), true, 60.0, 8.0);
    Solid { size: v3(300.0, 40.0, 40.0), prisms: vec![prism(Axis::T, 10.0, 41.0, mortise)] }
}

/// A loose tenon with round ends, its length along L of its own frame: all around is cut away.
pub fn loose_tenon() -> Solid {
    let half = |upper: bool| {
        let (near, far) = if upper { (8.0, 9.0) } else { (0.0, -1.0) };
        let arc = |to, centre| Segment::Arc { to, centre, ccw: !upper };
        let line = |to| Segment::Line { to };
        let (left, right) = (v2(4.0, 4.0), v2(56.0, 4.0));
        Profile::path(
            v2(-1.0, 4.0),
            vec![
                line(v2(0.0, 4.0)),
                arc(v2(4.0, near), left),
                line(v2(56.0, near)),
                arc(v2(60.0, 4.0), right),
                line(v2(61.0, 4.0)),
                line(v2(61.0, far)),
                line(v2(-1.0, far)),
            ],
        )
        .expect("half of the surroundings")
    };
    let prisms = [true, false].map(|upper| prism(Axis::T, -1.0, 31.0, half(upper)));
    Solid { size: v3(60.0, 8.0, 30.0), prisms: prisms.to_vec() }
}

/// Two parts of boxes, holes and grooves, whose cells are many and of both kinds.
pub fn two_parts() -> (Solid, Solid) {
    let one = Solid {
        size: v3(60.0, 20.0, 30.0),
        prisms: vec![
            pocket(Axis::T, 20.0, 30.0, (10.0, 5.0), (40.0, 15.0)),
            prism(Axis::W, -1.0, 21.0, Profile::circle(v2(10.0, 45.0), 6.0)),
        ],
    };
    let two = Solid { size: v3(50.0, 40.0, 15.0), prisms: vec![pocket(Axis::L, -1.0, 51.0, (10.0, 5.0), (20.0, 16.0))] };
    (one, two)
}

/// Anywhere near the origin, turned any way.
pub fn pose() -> impl Strategy<Value = Pose> {
    let part = || -1.0..1.0_f64;
    let shift = || -30.0..30.0_f64;
    (part(), part(), part(), part(), shift(), shift(), shift())
        .prop_filter("a turn", |q| q.0 * q.0 + q.1 * q.1 + q.2 * q.2 + q.3 * q.3 > 0.01)
        .prop_map(|(x, y, z, w, a, b, c)| Pose { basis: DMat3::from_quat(DQuat::from_xyzw(x, y, z, w).normalize()), origin: v3(a, b, c) })
}
