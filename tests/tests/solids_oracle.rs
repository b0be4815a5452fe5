//! Our solids against those that manifold3d, an independent library, builds of the same facets in double precision.
//!
//! It needs Python and that library, so a plain `cargo test` leaves it out; `cargo xtask test readers` fetches what it needs and runs it.

use std::env;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use casewright_core::model::{EdgeChamfer, EdgeRabbet, EdgeRound, EndGap, Face, Feature, Housing, Socket, Stop, Tail, Taper};
use casewright_solid::{Axis, Facets, Pose, Prism, Profile, Solid, SolidError, overlap};
use glam::{DMat3, DQuat, DVec2, DVec3};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use serde_json::{Value, json};
use tempfile::TempDir;

/// Facets to the turn; the same on both sides.
const PER_TURN: u32 = 24;

/// How many parts and pairs there are at the least.
const ENOUGH: (usize, usize) = (300, 200);

fn between(from: f64, to: f64) -> impl Strategy<Value = f64> {
    // Whole and half millimetres as a maker has them, so that faces of different cuts fall together; and nearly any figure: in steps of
    // a thousandth, of which sums are exact, so that what is meant to touch does.
    let steps = |count: f64| (from..to).prop_map(move |x| (count * x).round() / count);
    prop_oneof![3 => steps(1.0), 1 => steps(2.0), 1 => steps(1024.0)]
}

fn face() -> impl Strategy<Value = Face> {
    prop::sample::select(vec![Face::FirstEnd, Face::SecondEnd, Face::FaceEdge, Face::BackEdge, Face::FaceSide, Face::BackSide])
}

fn mortise(size: DVec3) -> impl Strategy<Value = Feature> {
    let centre = (between(0.0, size.x), between(0.0, size.y), between(0.0, size.z));
    (face(), centre, 0..3_usize, between(12.0, 70.0), between(4.0, 12.0), between(5.0, 50.0), any::<bool>()).prop_filter_map(
        "a long way in the face",
        |(face, (l, w, t), along, length, width, depth, round)| {
            let centre = DVec3::new(l, w, t);
            (along != face.axis()).then_some(Feature::Mortise { face, centre, along, length: length + width, width, depth, round })
        },
    )
}

fn long_face() -> impl Strategy<Value = Face> {
    prop::sample::select(vec![Face::FaceEdge, Face::BackEdge, Face::FaceSide, Face::BackSide])
}

/// A groove in a long face, that may run out at either end and may meet another round the corner.
fn groove(size: DVec3) -> impl Strategy<Value = Feature> {
    let stop = prop_oneof![Just(Stop::Round), between(40.0, 160.0).prop_map(|diameter| Stop::Ramp { diameter })];
    (long_face(), between(3.0, 9.0), between(3.0, 14.0), any::<[bool; 2]>(), 0.2..0.8_f64, stop).prop_map(
        move |(face, width, depth, through, at, stop)| {
            let across = if face.axis() == 1 { size.z } else { size.y };
            let (from, to) = (if through[0] { 0.0 } else { 0.1 * size.x }, if through[1] { size.x } else { 0.9 * size.x });
            Feature::Groove { face, centre: (across * at).round(), width, depth, from, to, through, stop }
        },
    )
}

/// A housing across a face or along it, square or dovetailed, stopped or run out.
fn housing(size: DVec3) -> impl Strategy<Value = Feature> {
    let walls = (between(5.0, 20.0), between(3.0, 12.0), prop_oneof![Just(0.0), between(0.5, 2.0)], any::<bool>());
    (long_face(), any::<[bool; 3]>(), 0.1..0.9_f64, walls).prop_map(
        move |(face, [along, from, to], at, (width, depth, undercut, round))| {
            let other = 3 - face.axis();
            let (along, across) = if along { (0, other) } else { (other, 0) };
            let end = size[along];
            let (from, to) = (if from { 0.0 } else { (0.2 * end).round() }, if to { end } else { (0.8 * end).round() });
            let round = round && undercut == 0.0;
            Feature::Housing(Housing { face, along, centre: (size[across] * at).round(), width, depth, undercut, from, to, round })
        },
    )
}

/// From and to, some way apart, as parts of a size; the second pair a little wider or narrower.
fn flared(size: f64) -> impl Strategy<Value = ([f64; 2], [f64; 2])> {
    (0.0..0.6_f64, 0.15..0.4_f64, between(-2.0, 2.0)).prop_map(move |(from, width, flare)| {
        let (from, to) = ((size * from).round(), (size * (from + width)).round() + 4.0);
        ([from, to], [from - flare, to + flare])
    })
}

/// What stands or is cut at an end: tails, gaps and sockets of dovetails, box joints and tongues.
fn at_an_end(size: DVec3) -> impl Strategy<Value = Feature> {
    let tail = (any::<bool>(), between(8.0, 30.0), flared(size.z))
        .prop_map(|(second_end, length, (at_end, at_shoulder))| Feature::Tail(Tail { second_end, length, at_end, at_shoulder }));
    let gap = (any::<bool>(), between(8.0, 30.0), flared(size.y))
        .prop_map(|(second_end, length, (at_end, at_bottom))| Feature::EndGap(EndGap { second_end, at_end, at_bottom, length }));
    let socket = (any::<[bool; 2]>(), between(8.0, 30.0), between(5.0, 30.0), flared(size.y)).prop_map(
        |([second_end, back_side], length, depth, (at_side, at_bottom))| {
            Feature::Socket(Socket { second_end, back_side, at_side, at_bottom, length, depth })
        },
    );
    prop_oneof![tail, gap, socket]
}

/// What is eased or sloped along an edge: round-overs, chamfers, steps and tapers.
fn along_an_edge(size: DVec3) -> impl Strategy<Value = Feature> {
    let arris = || (face(), face()).prop_filter_map("two faces that meet", |(a, b)| (a.axis() != b.axis()).then_some([a, b]));
    let round = (arris(), between(2.0, 9.0)).prop_map(|(arris, radius)| Feature::EdgeRound(EdgeRound { arris, radius }));
    let chamfer =
        (arris(), between(1.0, 9.0), between(1.0, 9.0)).prop_map(|(arris, a, b)| Feature::EdgeChamfer(EdgeChamfer { arris, off: [a, b] }));
    let step =
        (any::<[bool; 4]>(), between(4.0, 12.0), between(3.0, 10.0)).prop_map(move |([back_edge, back_side, from, to], width, depth)| {
            let (from, to) = (if from { 0.0 } else { (0.1 * size.x).round() }, if to { size.x } else { (0.9 * size.x).round() });
            Feature::EdgeRabbet(EdgeRabbet { back_edge, back_side, width, depth, from, to })
        });
    let taper = (long_face(), any::<bool>(), between(30.0, 100.0), between(2.0, 10.0))
        .prop_map(|(face, second_end, length, inset)| Feature::Taper(Taper { face, second_end, length, inset }));
    prop_oneof![round, chamfer, step, taper]
}

fn teeth(size: DVec3) -> impl Strategy<Value = Feature> {
    (between(10.0, 40.0), between(20.0, 40.0), between(4.0, 10.0), between(1.0, 5.0)).prop_map(move |(first, pitch, seat, crest)| {
        let count = ((size.x - first) / pitch).floor().clamp(1.0, 30.0) as u32;
        Feature::Teeth { first, pitch, seat, crest, count }
    })
}

/// One cut as a joint makes it.
fn feature(size: DVec3) -> impl Strategy<Value = Feature> {
    let notch = (any::<bool>(), any::<bool>(), between(5.0, 40.0), between(3.0, 15.0))
        .prop_map(|(second_end, back_edge, length, width)| Feature::Notch { second_end, back_edge, length, width });
    let rabbet = (any::<bool>(), any::<bool>(), between(5.0, 40.0), between(2.0, 10.0))
        .prop_map(|(second_end, back_side, length, depth)| Feature::Rabbet { second_end, back_side, length, depth });
    let bevel = (any::<bool>(), between(2.0, 30.0)).prop_map(|(second_end, inset)| Feature::Bevel { second_end, inset });
    prop_oneof![
        6 => mortise(size),
        3 => groove(size),
        1 => teeth(size),
        2 => notch,
        1 => rabbet,
        1 => bevel,
        1 => Just(Feature::RoundEdges),
        2 => housing(size),
        3 => at_an_end(size),
        3 => along_an_edge(size),
    ]
}

/// A part as joinery cuts it.
fn joined() -> impl Strategy<Value = Solid> {
    let size = (between(120.0, 900.0), between(20.0, 90.0), between(15.0, 45.0)).prop_map(|(l, w, t)| DVec3::new(l, w, t));
    size.prop_flat_map(|size| (Just(size), prop::collection::vec(feature(size), 1..8)))
        .prop_map(|(size, cuts)| Solid { size, prisms: cuts.iter().flat_map(|cut| cut.prisms(size)).collect() })
}

/// A small part of few figures, so that nearly all its faces coincide with others.
fn crowded() -> impl Strategy<Value = Solid> {
    let figure = || prop::sample::select(vec![-5.0_f64, 0.0, 4.0, 5.0, 8.0, 10.0, 12.0, 15.0, 20.0, 25.0]);
    let rising =
        move || (figure(), figure()).prop_filter("two depths", |(a, b)| (a - b).abs() > 0.5).prop_map(|(a, b)| (a.min(b), a.max(b)));
    let point = move || (figure(), figure()).prop_map(|(x, y)| DVec2::new(x, y));
    let rect = (rising(), rising()).prop_map(|(u, v)| Profile::rect(DVec2::new(u.0, v.0), DVec2::new(u.1, v.1)));
    let slot = (point(), any::<bool>(), figure(), figure()).prop_filter_map("a slot", |(centre, along, length, width)| {
        (width > 0.5 && length > 0.0).then(|| Profile::stadium(centre, along, length + width, width))
    });
    let corner = prop::collection::vec(point(), 3..5).prop_filter_map("an outline", |points| Profile::polygon(points).ok());
    let profile = prop_oneof![3 => rect, 2 => slot, 3 => corner];
    let cut = (0..3_usize, rising(), profile).prop_map(|(axis, (from, to), profile)| Prism { axis: Axis::ALL[axis], from, to, profile });
    let size = || prop::sample::select(vec![10.0, 20.0, 25.0]);
    ((size(), size(), size()), prop::collection::vec(cut, 1..7)).prop_map(|((l, w, t), prisms)| Solid { size: DVec3::new(l, w, t), prisms })
}

/// A basis: any turn, or square to the world, or square and then turned a little.
fn basis() -> impl Strategy<Value = DMat3> {
    let part = || -1.0..1.0_f64;
    let any_turn = (part(), part(), part(), part())
        .prop_filter("a turn", |q| q.0 * q.0 + q.1 * q.1 + q.2 * q.2 + q.3 * q.3 > 0.01)
        .prop_map(|(x, y, z, w)| DMat3::from_quat(DQuat::from_xyzw(x, y, z, w).normalize()));
    let axes = [DVec3::X, DVec3::Y, DVec3::Z];
    let square = (0..3_usize, any::<[bool; 3]>()).prop_map(move |(first, flips)| {
        let sign = |flip: bool| if flip { -1.0 } else { 1.0 };
        let (x, y) = (axes[first] * sign(flips[0]), axes[(first + if flips[2] { 1 } else { 2 }) % 3] * sign(flips[1]));
        DMat3::from_cols(x, y, x.cross(y))
    });
    let eighth = (0..8_u32).prop_map(|i| DMat3::from_rotation_z(f64::from(i) * std::f64::consts::FRAC_PI_4));
    prop_oneof![3 => any_turn, 3 => square, 1 => eighth]
}

/// How a second part stands in or against a first: some place of it on some place of the other.
fn lying(a: DVec3, b: DVec3) -> impl Strategy<Value = Pose> {
    let share = || prop_oneof![Just(0.0), Just(0.5), Just(1.0), 0.0..1.0_f64];
    let place = move || (share(), share(), share()).prop_map(|(l, w, t)| DVec3::new(l, w, t));
    (basis(), place(), place(), any::<bool>()).prop_map(move |(basis, on_a, on_b, whole)| {
        let origin = a * on_a - basis * (b * on_b);
        Pose { basis, origin: if whole { origin.round() } else { origin } }
    })
}

struct Random {
    runner: TestRunner,
}

impl Random {
    fn draw<S: Strategy>(&mut self, strategy: &S) -> S::Value {
        strategy.new_tree(&mut self.runner).expect("a value").current()
    }
}

fn point(p: DVec3) -> Value {
    json!(p.to_array())
}

/// The part as the script reads it; nothing when its cuts leave nothing.
fn part(name: &str, solid: &Solid) -> Option<Value> {
    let facets = Facets::PerTurn(PER_TURN);
    let shape = match solid.shape(facets) {
        Err(SolidError::Empty) => return None,
        other => other.unwrap_or_else(|error| panic!("{name}: {error}: {solid:?}")),
    };
    let cells = solid.cells(PER_TURN).unwrap_or_else(|error| panic!("{name}: {error}: {solid:?}"));
    let prisms: Vec<Value> = solid
        .prisms
        .iter()
        .map(|cut| {
            let outline: Vec<_> = cut.profile.facets(facets).iter().map(DVec2::to_array).collect();
            json!({"axis": cut.axis.index(), "from": cut.from, "to": cut.to, "outline": outline})
        })
        .collect();
    let positions: Vec<_> = shape.positions.iter().map(DVec3::to_array).collect();
    Some(json!({
        "name": name, "size": point(solid.size), "prisms": prisms, "volume": shape.volume, "cells": cells.volume(),
        "positions": positions, "triangles": shape.triangles,
    }))
}

fn pose(pose: &Pose) -> Value {
    let basis = [pose.basis.x_axis, pose.basis.y_axis, pose.basis.z_axis].map(|axis| axis.to_array());
    json!({"basis": basis, "origin": point(pose.origin)})
}

/// A mortised part and the blank that fills its mortise, seated, or a little aside: what joints are.
fn seated(random: &mut Random) -> (Solid, Solid, Pose) {
    let (length, width, depth) = random.draw(&(between(20.0, 70.0), between(5.0, 12.0), between(10.0, 30.0)));
    let size = DVec3::new(300.0, 40.0, 40.0);
    let at = DVec3::new(120.0, 20.0, 0.0);
    let mortise = Feature::Mortise { face: Face::FaceSide, centre: at, along: 0, length, width, depth, round: random.draw(&any::<bool>()) };
    let round = matches!(mortise, Feature::Mortise { round: true, .. });
    let post = Solid { size, prisms: mortise.prisms(size) };
    // The grain of a loose tenon runs into the mortise; its rounded edges fill the mortise's round ends.
    let tenon_size = DVec3::new(depth, length, width);
    let tenon = Solid { size: tenon_size, prisms: if round { Feature::RoundEdges.prisms(tenon_size) } else { Vec::new() } };
    let basis = DMat3::from_cols(DVec3::Z, DVec3::X, DVec3::Y);
    let aside = random.draw(&prop::sample::select(vec![
        DVec3::ZERO,
        DVec3::new(0.0, 0.3, 0.0),
        DVec3::new(0.5, 0.0, 0.0),
        DVec3::new(0.0, 0.0, 0.1),
        DVec3::new(0.0, 0.0, -0.2),
    ]));
    let corner = DVec3::new(at.x - length / 2.0, at.y - width / 2.0, 0.0);
    (post, tenon, Pose { basis, origin: corner + aside })
}

/// Parts, and pairs of them where they stand.
fn document() -> Value {
    let mut random = Random { runner: TestRunner::deterministic() };
    let (mut parts, mut solids, mut pairs) = (Vec::new(), Vec::<Solid>::new(), Vec::new());
    let mut keep = |name: String, solid: &Solid| {
        let told = part(&name, solid)?;
        parts.push(told);
        solids.push(solid.clone());
        Some(solids.len() - 1)
    };
    let mut places: Vec<(String, usize, usize, Pose, Pose, Solid, Solid)> = Vec::new();
    let world = |random: &mut Random| {
        let (basis, shift) = random.draw(&(basis(), (between(-50.0, 50.0), between(-50.0, 50.0), between(-50.0, 50.0))));
        Pose { basis, origin: DVec3::new(shift.0, shift.1, shift.2) }
    };
    for n in 0..60 {
        let (post, tenon, in_post) = seated(&mut random);
        let (a, b) = (keep(format!("post {n}"), &post), keep(format!("tenon {n}"), &tenon));
        let at = world(&mut random);
        let (Some(a), Some(b)) = (a, b) else { continue };
        places.push((format!("tenon {n} in its post"), a, b, at, at.then_of(&in_post), post, tenon));
    }
    for n in 0..150 {
        let (a, b) = (random.draw(&joined()), random.draw(&joined()));
        let (c, d) = (random.draw(&crowded()), random.draw(&crowded()));
        for (kind, one, two) in [("joined", a, b), ("crowded", c, d)] {
            let lies = random.draw(&lying(one.size, two.size));
            let at = world(&mut random);
            let (i, j) = (keep(format!("{kind} {n}"), &one), keep(format!("{kind} {n}, the other"), &two));
            let (Some(i), Some(j)) = (i, j) else { continue };
            places.push((format!("{kind} pair {n}"), i, j, at, at.then_of(&lies), one, two));
        }
    }
    for (name, i, j, at, then, one, two) in places {
        let cells = |solid: &Solid| solid.cells(PER_TURN).expect("they have a shape");
        let common = overlap(&cells(&one), &at, &cells(&two), &then).map(|found| found.volume);
        pairs.push(json!({"name": name, "a": i, "b": j, "pose_a": pose(&at), "pose_b": pose(&then), "volume": common}));
    }
    assert!(parts.len() >= ENOUGH.0 && pairs.len() >= ENOUGH.1, "{} parts, {} pairs", parts.len(), pairs.len());
    json!({"parts": parts, "pairs": pairs})
}

/// Runs the script; gives what it prints.
fn compared(document: &Value) -> Result<String, String> {
    let python = env::var_os("CASEWRIGHT_PYTHON").expect("CASEWRIGHT_PYTHON is not set; run `cargo xtask test readers`");
    let folder = TempDir::new().expect("a folder");
    let path: PathBuf = folder.path().join("solids.json");
    fs::write(&path, document.to_string()).expect("written");
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("readers/check_solids.py");
    let out = Command::new(python).arg(script).arg(&path).output().expect("the script starts");
    let (told, faults) = (String::from_utf8_lossy(&out.stdout).into_owned(), String::from_utf8_lossy(&out.stderr).into_owned());
    if out.status.success() { Ok(told) } else { Err(format!("{told}{faults}")) }
}

#[test]
#[ignore = "needs Python and manifold3d; run by cargo xtask test"]
fn solids_and_overlaps_are_those_of_an_independent_library() {
    let told = compared(&document()).unwrap_or_else(|faults| panic!("{faults}"));
    println!("{told}");
}

#[test]
#[ignore = "needs Python and manifold3d; run by cargo xtask test"]
fn the_comparison_is_strict_enough_to_find_a_fault() {
    let block = |name| part(name, &Solid::blank(DVec3::new(40.0, 30.0, 20.0))).expect("a block");
    let there = |x: f64| pose(&Pose { origin: DVec3::new(x, 0.0, 0.0), ..Pose::IDENTITY });
    let pair = |x: f64, volume: Value| json!({"name": "pair", "a": 0, "b": 1, "pose_a": there(0.0), "pose_b": there(x), "volume": volume});
    let sound = json!({"parts": [block("a"), block("b")], "pairs": [pair(40.0, Value::Null), pair(39.0, json!(600.0))]});
    compared(&sound).unwrap_or_else(|faults| panic!("{faults}"));
    for (pointer, wrong) in [
        ("/parts/0/volume", json!(24_000.1)),
        ("/parts/0/cells", json!(23_999.9)),
        ("/parts/0/positions/0/0", json!(0.1)),
        ("/parts/0/triangles/0/0", json!(7)),
        ("/pairs/0/volume", json!(0.001)),
        ("/pairs/1/volume", Value::Null),
        ("/pairs/1/volume", json!(600.1)),
    ] {
        let mut spoilt = sound.clone();
        *spoilt.pointer_mut(pointer).expect("a field") = wrong;
        assert!(compared(&spoilt).is_err(), "{pointer}");
    }
}
