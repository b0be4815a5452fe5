//! How long parts take to be held against each other: overlaps, moves, room and contact.

mod common;

use casewright_solid::{Cells, Pose, Solid, broad_phase, clearance, contact, overlap, sweep, swept_bounds, turn};
use common::{FACETS, at, cells_of, in_far_mortise, post, rail, sawtooth, tenon};
use divan::{Bencher, black_box};
use glam::{DMat3, DVec3};

fn main() {
    divan::main();
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

/// A wall of 1,000 parts, posts with rails between them and strips on the posts: which boxes meet, then every such pair.
#[divan::bench]
fn wall_of_1000_parts(bencher: Bencher) {
    let (post, rail, strip) = (cells_of(&post()), cells_of(&rail()), cells_of(&sawtooth()));
    // Posts stand with their length up; rails run from post to post and reach a millimetre into both.
    let up = DMat3::from_cols(DVec3::Y, DVec3::Z, DVec3::X);
    let mut parts: Vec<(&Cells, Pose)> = Vec::new();
    for bay in 0..100_u32 {
        let x = f64::from(bay) * 643.0;
        parts.push((&post, Pose { basis: up, origin: DVec3::new(x, 0.0, 0.0) }));
        parts.push((&strip, Pose { basis: up, origin: DVec3::new(x, 0.0, 45.0) }));
        parts.extend((0..8_u32).map(|row| (&rail, at(x + 44.0, 20.0 + f64::from(row) * 150.0, 10.0))));
    }
    assert_eq!(parts.len(), 1000);
    bencher.bench(|| {
        let boxes: Vec<_> = parts.iter().map(|(cells, pose)| swept_bounds(cells, pose, DVec3::ZERO)).collect();
        let pairs = broad_phase(black_box(&boxes));
        pairs.iter().filter(|&&(i, j)| overlap(parts[i].0, &parts[i].1, parts[j].0, &parts[j].1).is_some()).count()
    });
}

#[divan::bench(args = [1_000, 4_000, 16_000])]
fn broad_phase_of(bencher: Bencher, count: u32) {
    let boxes: Vec<(DVec3, DVec3)> = (0..count)
        .map(|n| {
            let least = DVec3::new(f64::from(n % 40), f64::from(n / 40 % 20), f64::from(n / 800));
            (least, least + DVec3::new(1.01, 1.01, 1.01))
        })
        .collect();
    bencher.bench(|| broad_phase(black_box(&boxes)));
}

/// A tenon out of its mortise: free; and aside: struck at once.
#[divan::bench(args = ["out", "aside"])]
fn sweep_tenon(bencher: Bencher, way: &str) {
    let (rail, tenon) = (cells_of(&rail()), cells_of(&tenon()));
    let along = if way == "out" { DVec3::new(40.0, 0.0, 0.0) } else { DVec3::new(0.0, 5.0, 0.0) };
    bencher.bench(|| sweep(black_box(&tenon), &in_far_mortise(), along, black_box(&rail), &Pose::IDENTITY, 0.01));
}

/// The same with both turned askew, so that nothing is square.
#[divan::bench]
fn sweep_tenon_askew(bencher: Bencher) {
    let (rail, tenon) = (cells_of(&rail()), cells_of(&tenon()));
    let askew = Pose { basis: DMat3::from_rotation_z(0.3) * DMat3::from_rotation_x(0.7), origin: DVec3::new(10.0, 20.0, 30.0) };
    let (placed, out) = (askew.then_of(&in_far_mortise()), askew.vector(DVec3::new(40.0, 0.0, 0.0)));
    bencher.bench(|| sweep(black_box(&tenon), &placed, out, black_box(&rail), &askew, 0.01));
}

/// A shelf tilted between two posts: free, but within half a millimetre.
#[divan::bench]
fn turn_shelf(bencher: Bencher) {
    let (shelf, post) = (cells_of(&Solid::blank(DVec3::new(640.0, 300.0, 20.0))), cells_of(&post()));
    let up = DMat3::from_cols(DVec3::Y, DVec3::Z, DVec3::X);
    let start = Pose { basis: DMat3::from_cols(DVec3::X, DVec3::NEG_Z, DVec3::Y), origin: DVec3::new(0.0, 600.0, 250.0) };
    let beside = Pose { basis: up, origin: DVec3::new(641.0, 0.0, 100.0) };
    bencher.bench(|| turn(black_box(&shelf), &start, DVec3::new(320.0, 610.0, 0.0), DVec3::Z, 0.8, black_box(&post), &beside, 0.01));
}

#[divan::bench]
fn clearance_of_rails(bencher: Bencher) {
    let (rail, post) = (cells_of(&rail()), cells_of(&post()));
    bencher.bench(|| clearance(black_box(&post), &Pose::IDENTITY, black_box(&rail), &at(200.0, 46.0, 5.0)));
}

/// A tenon in its mortise, touching all round.
#[divan::bench]
fn contact_of_tenon(bencher: Bencher) {
    let shape = |solid: Solid| solid.shape(FACETS).expect("a shape");
    let (rail, tenon) = (shape(rail()), shape(tenon()));
    bencher.bench(|| contact(black_box(&rail), &Pose::IDENTITY, black_box(&tenon), &in_far_mortise(), 0.01));
}
