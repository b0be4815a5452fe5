//! How long the parts of a case take to evaluate. Run with `cargo bench -p casewright-solid`.

use casewright_solid::{Axis, Cells, Facets, Pose, Prism, Profile, Segment, Solid, overlap};
use divan::{Bencher, black_box};
use glam::{DVec2, DVec3};

/// Twelve facets to the half circle.
const FACETS: Facets = Facets::PerTurn(24);

fn main() {
    divan::main();
}

fn prism(axis: Axis, from: f64, to: f64, profile: Profile) -> Prism {
    Prism { axis, from, to, profile }
}

fn rect(u: (f64, f64), v: (f64, f64)) -> Profile {
    Profile::rect(DVec2::new(u.0, v.0), DVec2::new(u.1, v.1))
}

/// A mortise with round ends along W or T, 8 wide and 60 long along L.
fn mortise(axis: Axis, from: f64, to: f64, at: f64, across: f64) -> Prism {
    let along_u = axis != Axis::W;
    let centre = if along_u { DVec2::new(at, across) } else { DVec2::new(across, at) };
    prism(axis, from, to, Profile::stadium(centre, along_u, 60.0, 8.0))
}

/// A rail with a mortise in each end, a groove and four holes: seven features.
fn rail() -> Solid {
    let end = |from, to| prism(Axis::L, from, to, Profile::stadium(DVec2::new(40.0, 11.0), true, 50.0, 8.0));
    let hole = |at| prism(Axis::T, -1.0, 9.0, Profile::circle(DVec2::new(at, 50.0), 4.0));
    let mut prisms = vec![end(-1.0, 30.0), end(570.0, 601.0), prism(Axis::L, 0.0, 600.0, rect((0.0, 8.0), (8.0, 14.0)))];
    prisms.extend([100.0, 220.0, 380.0, 500.0].map(hole));
    Solid { size: DVec3::new(600.0, 80.0, 22.0), prisms }
}

/// A post with four pairs of mortises that meet inside and two stopped grooves: ten features.
fn post() -> Solid {
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
fn sawtooth() -> Solid {
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
fn tenon() -> Solid {
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

#[divan::bench]
fn blank(bencher: Bencher) {
    let solid = Solid::blank(DVec3::new(600.0, 80.0, 22.0));
    bencher.bench(|| black_box(&solid).shape(FACETS));
}

#[divan::bench]
fn rail_7_features(bencher: Bencher) {
    let solid = rail();
    bencher.bench(|| black_box(&solid).shape(FACETS));
}

#[divan::bench]
fn post_10_features(bencher: Bencher) {
    let solid = post();
    bencher.bench(|| black_box(&solid).shape(FACETS));
}

#[divan::bench]
fn sawtooth_40_teeth(bencher: Bencher) {
    let solid = sawtooth();
    bencher.bench(|| black_box(&solid).shape(FACETS));
}

/// Thirty distinct parts, as of a case of two hundred whose equal parts share a shape.
#[divan::bench]
fn case_of_30_shapes(bencher: Bencher) {
    let mut parts = vec![sawtooth(), post(), post(), tenon()];
    parts.extend(std::iter::repeat_with(rail).take(10));
    parts.extend((0..16).map(|i| Solid::blank(DVec3::new(600.0 + f64::from(i), 80.0, 22.0))));
    bencher.bench(|| parts.iter().map(|p| p.shape(FACETS).map_or(0.0, |s| s.volume)).sum::<f64>());
}

#[divan::bench(args = ["rail", "post", "sawtooth"])]
fn cells(bencher: Bencher, part: &str) {
    let solid = match part {
        "rail" => rail(),
        "post" => post(),
        _ => sawtooth(),
    };
    bencher.bench(|| black_box(&solid).cells(24));
}

fn cells_of(solid: &Solid) -> Cells {
    solid.cells(24).expect("something is left")
}

/// Where a rail with a tenon stands whose tenon fills the mortise at the far end of another.
fn in_far_mortise() -> Pose {
    Pose { origin: DVec3::new(570.0, 0.0, 0.0), ..Pose::IDENTITY }
}

/// A tenon in its mortise, touching all round.
#[divan::bench]
fn tenon_in_mortise(bencher: Bencher) {
    let (rail, tenon) = (cells_of(&rail()), cells_of(&tenon()));
    let placed = in_far_mortise();
    bencher.bench(|| overlap(black_box(&rail), &Pose::IDENTITY, black_box(&tenon), &placed));
}

/// Six hundred touching pairs: a hundred and twenty tenons in their mortises, and parts that lie
/// against others.
#[divan::bench]
fn case_of_600_pairs(bencher: Bencher) {
    let (rail, post) = (cells_of(&rail()), cells_of(&post()));
    let (strip, tenon) = (cells_of(&sawtooth()), cells_of(&tenon()));
    let at = |x, y, z| Pose { origin: DVec3::new(x, y, z), ..Pose::IDENTITY };
    let beside = at(0.0, 45.0, 0.0);
    let over = at(0.0, 0.0, 45.0);
    bencher.bench(|| {
        let mut found = 0;
        for n in 0..600 {
            let common = match n % 5 {
                0 => overlap(&rail, &Pose::IDENTITY, &tenon, &in_far_mortise()),
                1..3 => overlap(&post, &Pose::IDENTITY, &rail, &beside),
                _ => overlap(&post, &Pose::IDENTITY, &strip, &over),
            };
            found += usize::from(common.is_some());
        }
        found
    });
}
