//! The independent kernel that solids are held against, and shared makers.

#![allow(dead_code, reason = "each test program uses its own share of this")]

use casewright_solid::{Axis, Facets, Pose, Prism, Profile, Solid};
use glam::{DVec2, DVec3};
use manifold_rust::linalg::{Mat3x4, Vec2, Vec3};
use manifold_rust::manifold::Manifold;

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
