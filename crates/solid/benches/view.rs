//! How long views of a case take: hidden lines, a section, a picture from a corner. Run with `cargo bench -p casewright-solid`.

mod common;

use casewright_solid::view::{Body, Looking, Sight, look};
use casewright_solid::{Pose, Shape};
use common::{FACETS, at, post, rail, sawtooth};
use divan::{Bencher, black_box};
use glam::{DMat3, DVec3};

fn main() {
    divan::main();
}

/// Four bays of posts, rails and toothed strips, one behind the other: 136 parts of three shapes.
fn case(shapes: &[Shape; 3]) -> Vec<Body<'_>> {
    let upright = |x: f64, z: f64| Pose { basis: DMat3::from_cols(DVec3::Y, -DVec3::X, DVec3::Z), origin: DVec3::new(x, 0.0, z) };
    let mut bodies = Vec::new();
    for bay in 0..4 {
        let x = 700.0 * f64::from(bay);
        for depth in 0..2 {
            let z = 400.0 * f64::from(depth);
            bodies.push(Body { shape: &shapes[0], pose: upright(x, z) });
            bodies.extend((0..14).map(|level| Body { shape: &shapes[1], pose: at(x, 90.0 * f64::from(level), z) }));
            bodies.extend([50.0, 600.0].map(|aside| Body { shape: &shapes[2], pose: upright(x + aside, z + 60.0) }));
        }
    }
    bodies
}

#[divan::bench(args = ["front", "front with hidden lines", "section", "corner"])]
fn view_of_136_parts(bencher: Bencher, how: &str) {
    let shapes = [post(), rail(), sawtooth()].map(|solid| solid.shape(FACETS).expect("a shape"));
    let bodies = case(&shapes);
    let (right, up) = if how == "corner" { (DVec3::new(0.85, 0.0, -0.5), DVec3::Y) } else { (DVec3::X, DVec3::Y) };
    let sight = Sight::new(right, up + DVec3::new(-0.2, 0.0, -0.35) * f64::from(u8::from(how == "corner"))).expect("two directions");
    let looking = Looking { cut_at: (how == "section").then_some(200.0), hidden: how == "front with hidden lines" };
    bencher.bench(|| look(black_box(&bodies), &sight, looking).seen(|_| true).len());
}
