//! Views of random scenes, held against rays through their triangles.

mod common;

use std::cell::Cell;

use casewright_solid::view::{Body, Looking, Sight, Stretch, View, cut_face, look};
use casewright_solid::{Axis, Cells, Facets, Pose, Prism, Profile, Shape, Solid, overlap};
use common::{at, pocket, pose, prism, v2, v3};
use glam::{DVec2, DVec3};
use proptest::prelude::*;
use proptest::test_runner::TestRunner;

/// A board with a pocket, a groove and a hole, each where the numbers say.
fn part(numbers: &[f64]) -> Solid {
    let size = v3(40.0 + 60.0 * numbers[0], 15.0 + 30.0 * numbers[1], 8.0 + 20.0 * numbers[2]);
    let mut prisms: Vec<Prism> = Vec::new();
    if numbers[3] > 0.3 {
        let (u, v) = (size.x * 0.6 * numbers[4], size.y * 0.5 * numbers[5]);
        prisms.push(pocket(Axis::T, size.z * numbers[6], size.z + 1.0, (u, v), (u + 9.0, v + 7.0)));
    }
    if numbers[7] > 0.5 {
        prisms.push(pocket(Axis::L, -1.0, size.x + 1.0, (size.y - 4.0, size.z * 0.3), (size.y + 1.0, size.z * 0.7)));
    }
    if numbers[8] > 0.4 {
        prisms.push(prism(Axis::T, -1.0, size.z + 1.0, Profile::circle(v2(size.x * 0.75, size.y * 0.5), 3.0 + 3.0 * numbers[9])));
    }
    Solid { size, prisms }
}

/// Square to the axes on whole millimetres, so that parts touch, lie flush and stand behind each other's edges; or turned any way.
fn place() -> impl Strategy<Value = Pose> {
    let whole = (-4..5_i32, -4..5_i32, -4..5_i32);
    prop_oneof![whole.prop_map(|(x, y, z)| at(f64::from(x) * 8.0, f64::from(y) * 8.0, f64::from(z) * 8.0)), pose()]
}

type Scene = (Vec<(Vec<f64>, Pose)>, Sight);

fn scene() -> impl Strategy<Value = Scene> {
    let numbers = prop_oneof![prop::collection::vec(0.05..0.95_f64, 10), prop::collection::vec(prop_oneof![Just(0.2), Just(0.6)], 10)];
    let turn = (-1.0..1.0_f64, -1.0..1.0_f64, -1.0..1.0_f64, -1.0..1.0_f64);
    let any = turn.prop_filter_map("two directions", |(a, b, c, d)| Sight::new(v3(1.0, a, b), v3(c, 1.0, d)));
    let square = prop_oneof![
        Just((DVec3::X, DVec3::Y)),
        Just((DVec3::Z, DVec3::Y)),
        Just((DVec3::X, -DVec3::Z)),
        Just((v3(1.0, 0.0, -1.0), v3(-0.4, 1.0, -0.4)))
    ];
    let square = square.prop_filter_map("two directions", |(right, up)| Sight::new(right, up));
    (prop::collection::vec((numbers, place()), 1..6), prop_oneof![any, square])
}

fn shapes(scene: &Scene) -> Vec<(Shape, Pose)> {
    let shape = |numbers: &[f64]| part(numbers).shape(Facets::PerTurn(24)).ok();
    scene.0.iter().filter_map(|(numbers, pose)| Some((shape(numbers)?, *pose))).collect()
}

/// Those that stand in none before them: where two run through each other there is no edge.
fn apart(scene: &Scene) -> Vec<(Shape, Pose)> {
    let mut kept: Vec<(Cells, Shape, Pose)> = Vec::new();
    for (numbers, pose) in &scene.0 {
        let solid = part(numbers);
        let (Ok(shape), Ok(cells)) = (solid.shape(Facets::PerTurn(24)), solid.cells(24)) else { continue };
        if kept.iter().all(|(other, _, at)| overlap(other, at, &cells, pose).is_none()) {
            kept.push((cells, shape, *pose));
        }
    }
    kept.into_iter().map(|(_, shape, pose)| (shape, pose)).collect()
}

fn bodies(shapes: &[(Shape, Pose)]) -> Vec<Body<'_>> {
    shapes.iter().map(|(shape, pose)| Body { shape, pose: *pose }).collect()
}

/// Every triangle as it is seen, with the body and the face.
struct Rays {
    triangles: Vec<([DVec3; 3], usize, u32)>,
}

impl Rays {
    fn new(bodies: &[Body<'_>], sight: &Sight) -> Rays {
        let of = |(number, body): (usize, &Body<'_>)| {
            let seen: Vec<DVec3> = body.shape.positions.iter().map(|at| sight.see(body.pose.point(*at))).collect();
            let faces = body.shape.face_of_triangle.iter();
            let triangles = body.shape.triangles.iter().zip(faces);
            triangles.map(|(corners, face)| (corners.map(|corner| seen[corner as usize]), number, *face)).collect::<Vec<_>>()
        };
        Rays { triangles: bodies.iter().enumerate().flat_map(of).collect() }
    }

    /// How near each triangle lies along the line of sight through a place, of those it meets.
    fn hits(&self, at: DVec2) -> impl Iterator<Item = (f64, usize, u32)> + '_ {
        self.triangles.iter().filter_map(move |([a, b, c], body, face)| {
            let [p, q, r] = [a, b, c].map(|corner| corner.truncate() - at);
            let (u, v, w) = (q.perp_dot(r), r.perp_dot(p), p.perp_dot(q));
            let all = u + v + w;
            let inside = (u >= 0.0 && v >= 0.0 && w >= 0.0) || (u <= 0.0 && v <= 0.0 && w <= 0.0);
            (inside && all.abs() > 1e-9).then(|| ((u * a.z + v * b.z + w * c.z) / all, *body, *face))
        })
    }

    fn nearest(&self, at: DVec2) -> Option<(f64, usize, u32)> {
        self.hits(at).max_by(|a, b| a.0.total_cmp(&b.0))
    }

    /// Whether something stands clearly before a point; nothing where that depends on a hundredth of a millimetre.
    fn hides(&self, at: DVec3) -> Option<bool> {
        let mut answers = Vec::new();
        let round = [v2(0.01, 0.003), v2(-0.003, 0.01), v2(-0.01, -0.003), v2(0.003, -0.01)];
        // Ever nearer: the edge may be seen through a gap of a thousandth, between two parts that hide what lies around it.
        for aside in [1.0, 0.1, 0.01, 0.001].iter().flat_map(|near| round.map(|aside| aside * *near)) {
            let beyond = self.hits(at.truncate() + aside).map(|(near, ..)| near - at.z).fold(f64::NEG_INFINITY, f64::max);
            if beyond > 0.0005 && beyond < 0.8 {
                return None;
            }
            answers.push(beyond > 0.0005);
        }
        answers.iter().all(|answer| *answer == answers[0]).then(|| answers[0])
    }
}

fn distance(stretch: &Stretch, at: DVec2) -> f64 {
    let (a, way) = (stretch.a.truncate(), (stretch.b - stretch.a).truncate());
    let along = ((at - a).dot(way) / way.length_squared()).clamp(0.0, 1.0);
    at.distance(a + way * along)
}

fn drawn(view: &View, at: DVec2, within: f64) -> bool {
    view.stretches.iter().any(|stretch| !stretch.hidden && distance(stretch, at) < within)
}

/// Every edge is looked at in many places: what a ray toward the viewer meets is hidden, what it does not is seen.
#[test]
fn edges_are_hidden_where_a_ray_meets_something() {
    let (asked, told) = (Cell::new(0), Cell::new(0));
    let ran =
        TestRunner::new(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() }).run(&scene(), |scene| {
            let shapes = shapes(&scene);
            let bodies = bodies(&shapes);
            let rays = Rays::new(&bodies, &scene.1);
            let view = look(&bodies, &scene.1, Looking { hidden: true, ..Looking::default() });
            for (number, body) in bodies.iter().enumerate() {
                for (index, edge) in body.shape.edges.iter().enumerate() {
                    let own: Vec<Stretch> =
                        view.stretches.iter().filter(|it| it.body == number && it.edge == Some(index)).copied().collect();
                    let [a, b] = [edge.a, edge.b].map(|end| scene.1.see(body.pose.point(end)));
                    // Seen on end it is a dot.
                    prop_assert!(!own.is_empty() || a.truncate().distance(b.truncate()) < 1e-5, "edge {} of {} is lost", index, number);
                    for place in (0..7).map(|step| a.lerp(b, (f64::from(step) + 0.37) / 7.0)) {
                        let Some(stretch) = own.iter().find(|it| distance(it, place.truncate()) < 1e-7) else { continue };
                        asked.set(asked.get() + 1);
                        let Some(hidden) = rays.hides(place) else { continue };
                        told.set(told.get() + 1);
                        prop_assert!(hidden == stretch.hidden, "edge {} of body {} at {}: {:?}", index, number, place, stretch);
                    }
                }
            }
            Ok(())
        });
    ran.unwrap_or_else(|error| panic!("{error}"));
    assert!(told.get() * 2 > asked.get() && told.get() > 10_000, "{} of {}", told.get(), asked.get());
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 100, ..ProptestConfig::default() })]

    /// Between two rays side by side that meet different faces, a line is drawn; facets of one round are one face.
    #[test]
    fn a_line_runs_between_what_is_seen_of_different_faces(scene in scene()) {
        let shapes = apart(&scene);
        let bodies = bodies(&shapes);
        let rays = Rays::new(&bodies, &scene.1);
        let view = look(&bodies, &scene.1, Looking::default());
        let Some((min, max)) = view.bounds() else { return Ok(()) };
        let surface = |hit: Option<(f64, usize, u32)>| hit.map(|(_, body, face)| {
            let face = &bodies[body].shape.faces[face as usize];
            (body, face.arc.map(|_| face.origin), if face.arc.is_some() { DVec3::ZERO } else { face.normal })
        });
        for row in 0..14 {
            let y = min.y + (max.y - min.y) * (f64::from(row) + 0.413) / 14.0;
            let mut before = None;
            let step = 0.1;
            let count = ((max.x - min.x) / step) as usize + 3;
            for column in 0..count.min(1200) {
                let here = v2(min.x - step + column as f64 * step, y);
                let now = surface(rays.nearest(here));
                if column > 0 && now != before {
                    prop_assert!(drawn(&view, here - v2(step / 2.0, 0.0), step), "no line near {here}: {before:?} {now:?}");
                }
                before = now;
            }
        }
    }

    /// What a plane cuts, summed over many planes, is the volume.
    #[test]
    fn cuts_add_up_to_the_volume(numbers in prop::collection::vec(0.05..0.95_f64, 10), pose in pose(), sight in scene().prop_map(|scene| scene.1)) {
        let Ok(shape) = part(&numbers).shape(Facets::PerTurn(24)) else { return Ok(()) };
        let body = Body { shape: &shape, pose };
        let nears: Vec<f64> = shape.positions.iter().map(|at| sight.see(pose.point(*at)).z).collect();
        let (low, high) = nears.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), near| (low.min(*near), high.max(*near)));
        let count = 400;
        let step = (high - low) / f64::from(count);
        let sum: f64 = (0..count)
            .filter_map(|i| cut_face(&body, &sight, low + (f64::from(i) + 0.5) * step, 0))
            .map(|cut| cut.area() * step)
            .sum();
        prop_assert!((sum - shape.volume).abs() < 0.01 * shape.volume + step * 40.0, "{sum} of {}", shape.volume);
    }
}

/// Two boards end to end, flush in front: their outline and the joint between them, each line once.
#[test]
fn a_joint_between_flush_parts_is_one_line() {
    let board = Solid::blank(v3(100.0, 40.0, 20.0)).shape(Facets::PerTurn(24)).expect("a shape");
    let bodies = [0.0, 100.0].map(|x| Body { shape: &board, pose: at(x, 0.0, 0.0) });
    let sight = Sight::new(DVec3::X, DVec3::Y).expect("two directions");
    let view = look(&bodies, &sight, Looking { hidden: true, ..Looking::default() });
    let mut lengths: Vec<f64> = view.seen(|_| true).iter().map(|line| line.a.distance(line.b).round()).collect();
    lengths.sort_by(f64::total_cmp);
    assert_eq!((lengths, view.hidden(|_| true).len()), (vec![40.0, 40.0, 40.0, 200.0, 200.0], 0));
}

/// A tenon in its mortise is hidden from outside, and seen where a plane cuts both.
#[test]
fn a_tenon_is_hidden_in_its_mortise_and_cut_by_a_plane_through_both() {
    let post = Solid { size: v3(40.0, 100.0, 40.0), prisms: vec![pocket(Axis::L, 20.0, 41.0, (30.0, 15.0), (70.0, 25.0))] };
    let tenon = Solid::blank(v3(20.0, 40.0, 10.0));
    let [post, tenon] = [post, tenon].map(|solid| solid.shape(Facets::PerTurn(24)).expect("a shape"));
    let bodies = [Body { shape: &post, pose: at(0.0, 0.0, 0.0) }, Body { shape: &tenon, pose: at(20.0, 30.0, 15.0) }];
    let sight = Sight::new(DVec3::X, DVec3::Y).expect("two directions");
    let view = look(&bodies, &sight, Looking { hidden: true, ..Looking::default() });
    let lines = view.hidden(|_| true);
    // Three sides of it: the fourth lies on the post's own edge.
    let long: f64 = lines.iter().map(|line| line.a.distance(line.b)).sum();
    assert!((long - 80.0).abs() < 0.1, "{long}");
    let cut = look(&bodies, &sight, Looking { cut_at: Some(20.0), hidden: false });
    assert_eq!(cut.cuts.iter().map(|cut| cut.area().round()).collect::<Vec<_>>(), [4000.0 - 800.0, 800.0]);
    assert!(cut.cuts[1].contains(v2(30.0, 50.0)) && !cut.cuts[0].contains(v2(30.0, 50.0)));
}
