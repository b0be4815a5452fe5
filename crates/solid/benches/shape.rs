//! How long the parts of a case take to evaluate. Run with `cargo bench -p casewright-solid`.

mod common;

use casewright_solid::Solid;
use common::{FACETS, post, rail, sawtooth, tenon};
use divan::{Bencher, black_box};
use glam::DVec3;

fn main() {
    divan::main();
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
