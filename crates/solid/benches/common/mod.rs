//! Parts of a case, as benches measure them.

#![allow(dead_code, reason = "each bench program uses its own share of this")]

use casewright_solid::{Axis, Cells, Facets, Pose, Prism, Profile, Segment, Solid};
use glam::{DVec2, DVec3};

/// Twelve facets to the half circle.
pub const FACETS: Facets = Facets::PerTurn(24);

pub fn prism(axis: Axis, from: f64, to: f64, profile: Profile) -> Prism {
    Prism { axis, from, to, profile }
}

pub fn rect(u: (f64, f64), v: (f64, f64)) -> Profile {
    Profile::rect(DVec2::new(u.0, v.0), DVec2::new(u.1, v.1))
}

/// A mortise with round ends along W or T, 8 wide and 60 long along L.
pub fn mortise(axis: Axis, from: f64, to: f64, at: f64, across: f64) -> Prism {
    let along_u = axis != Axis::W;
    let centre = if along_u { DVec2::new(at, across) } else { DVec2::new(across, at) };
    prism(axis, from, to, Profile::stadium(centre, along_u, 60.0, 8.0))
}

/// A rail with a mortise in each end, a groove and four holes: seven features.
pub fn rail() -> Solid {
    let end = |from, to| prism(Axis::L, from, to, Profile::stadium(DVec2::new(40.0, 11.0), true, 50.0, 8.0));
    let hole = |at| prism(Axis::T, -1.0, 9.0, Profile::circle(DVec2::new(at, 50.0), 4.0));
    let mut prisms = vec![end(-1.0, 30.0), end(570.0, 601.0), prism(Axis::L, 0.0, 600.0, rect((0.0, 8.0), (8.0, 14.0)))];
    prisms.extend([100.0, 220.0, 380.0, 500.0].map(hole));
    Solid { size: DVec3::new(600.0, 80.0, 22.0), prisms }
}

/// A post with four pairs of mortises that meet inside and two stopped grooves: ten features.
pub fn post() -> Solid {
    let mut prisms = Vec::new();
    for at in [60.0, 400.0, 800.0, 1240.0] {
        prisms.push(mortise(Axis::T, 15.0, 46.0, at, 22.5));
        prisms.push(mortise(Axis::W, 15.0, 46.0, at, 22.5));
    }
    prisms.push(prism(Axis::L, 30.0, 1270.0, rect((35.0, 46.0), (19.5, 25.5))));
    prisms.push(prism(Axis::L, 30.0, 1270.0, rect((19.5, 25.5), (35.0, 46.0))));
    Solid { size: DVec3::new(1300.0, 45.0, 45.0), prisms }
}

/// A strip with forty teeth, a notch of two slopes each.
pub fn sawtooth() -> Solid {
    let tooth = |i: i32| {
        let x = 30.0 + 30.0 * f64::from(i);
        let corners = [(x, 30.0), (x + 30.0, 15.0), (x + 30.0, 30.0)];
        let corners = corners.map(|(l, w)| DVec2::new(l, w)).to_vec();
        prism(Axis::T, -1.0, 19.0, Profile::polygon(corners).expect("a triangle"))
    };
    Solid { size: DVec3::new(1260.0, 30.0, 18.0), prisms: (0..40).map(tooth).collect() }
}

/// A rail with a tenon of round ends on its end, which fits the rail's own end mortise: all around
/// it is cut away in two halves.
pub fn tenon() -> Solid {
    let half = |upper: bool| {
        let (near, far) = if upper { (15.0, 23.0) } else { (7.0, -1.0) };
        let line = |u, v| Segment::Line { to: DVec2::new(u, v) };
        let arc = |u, v, centre| Segment::Arc { to: DVec2::new(u, v), centre: DVec2::new(centre, 11.0), ccw: !upper };
        let outline = vec![
            line(15.0, 11.0),
            arc(19.0, near, 19.0),
            line(61.0, near),
            arc(65.0, 11.0, 61.0),
            line(81.0, 11.0),
            line(81.0, far),
            line(-1.0, far),
        ];
        Profile::path(DVec2::new(-1.0, 11.0), outline).expect("half of the surroundings")
    };
    let prisms = [true, false].map(|upper| prism(Axis::L, -1.0, 30.0, half(upper)));
    Solid { size: DVec3::new(600.0, 80.0, 22.0), prisms: prisms.to_vec() }
}

pub fn cells_of(solid: &Solid) -> Cells {
    solid.cells(24).expect("something is left")
}

pub fn at(x: f64, y: f64, z: f64) -> Pose {
    Pose { origin: DVec3::new(x, y, z), ..Pose::IDENTITY }
}

/// Where a rail with a tenon stands whose tenon fills the mortise at the far end of another.
pub fn in_far_mortise() -> Pose {
    at(570.0, 0.0, 0.0)
}
