//! Our beams against those of anastruct, an independent library of finite elements, on random shelves.
//!
//! It needs Python and that library, so a plain `cargo test` leaves it out; `cargo xtask test readers` fetches what it needs and runs it.

use std::env;
use std::fs;
use std::path::Path;
use std::process::Command;

use casewright_core::strength::{Beam, Hold, Load, Properties, Section, Stretch, Support};
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;
use serde_json::{Value, json};
use tempfile::TempDir;

/// How many shelves of each kind.
const EACH: usize = 20;

/// A size in whole millimetres, so that no two places of a beam are nearer than one.
fn whole(from: f64, to: f64) -> impl Strategy<Value = f64> {
    (from..to).prop_map(f64::round)
}

fn section() -> impl Strategy<Value = Section> {
    let stuff = (2000.0..16_000.0_f64, 400.0..900.0_f64);
    let stuff = stuff.prop_map(|(modulus, density)| Properties::plain("stuff", modulus).with_density(density));
    let strip = prop::option::of((whole(15.0, 40.0), whole(10.0, 60.0), stuff.clone()));
    (whole(40.0, 450.0), whole(10.0, 45.0), stuff, strip).prop_map(|(width, thickness, stuff, strip)| {
        let shelf = (width, thickness, &stuff);
        match &strip {
            Some((width, height, of)) => Section::strip_on_edge(shelf, (*width, *height, of)),
            None => Section::rectangle(width, thickness, &stuff),
        }
        .expect("a section")
    })
}

fn loads(length: f64) -> impl Strategy<Value = Vec<Load>> {
    let point = (whole(0.0, length), 5.0..400.0_f64).prop_map(|(at, force)| Load::Point { at, force });
    let partly = (whole(0.0, length / 2.0), whole(length / 2.0 + 1.0, length), 0.05..1.5_f64);
    let partly = partly.prop_map(|(from, to, per_mm)| Load::Spread { from, to, per_mm });
    let wholly = (0.05..1.0_f64).prop_map(move |per_mm| Load::Spread { from: 0.0, to: length, per_mm });
    prop::collection::vec(prop_oneof![point, partly, wholly], 1..5)
}

/// Which shelves are drawn.
#[derive(Clone, Copy, Debug)]
enum Kind {
    /// On two supports, each of which may be built in.
    OneSpan,
    /// On three to six supports.
    Continuous,
    /// Standing out over its supports, of two or three sections.
    Stepped,
    /// Built in at one end, free at the other.
    Cantilever,
}

fn shelf(kind: Kind) -> impl Strategy<Value = Beam> {
    let spans = match kind {
        Kind::OneSpan => 1..2,
        Kind::Continuous => 2..6,
        Kind::Stepped => 1..4_usize,
        Kind::Cantilever => 0..1,
    };
    let over = match kind {
        Kind::OneSpan | Kind::Continuous => [0.0, 0.0],
        Kind::Stepped => [120.0, 260.0],
        Kind::Cantilever => [0.0, 420.0],
    };
    let spans = prop::collection::vec(whole(150.0, 1300.0), spans);
    let sections = prop::collection::vec(section(), if matches!(kind, Kind::Stepped) { 2..4 } else { 1..2 });
    (spans, sections, any::<[bool; 2]>()).prop_flat_map(move |(spans, sections, built_in)| {
        let at: Vec<f64> = [over[0]]
            .into_iter()
            .chain(spans.iter().copied())
            .scan(0.0, |sum, step| {
                *sum += step;
                Some(*sum)
            })
            .collect();
        let length = at.last().expect("a support") + over[1];
        let each = (length / sections.len() as f64).round();
        let last = length - each * (sections.len() - 1) as f64;
        let count = sections.len();
        let stretch = |(index, section)| Stretch { length: if index + 1 == count { last } else { each }, section };
        let stretches: Vec<Stretch> = sections.into_iter().enumerate().map(stretch).collect();
        let last = at.len() - 1;
        let clamped = move |index: usize| match kind {
            Kind::OneSpan | Kind::Continuous => (index == 0 && built_in[0]) || (index == last && built_in[1]),
            Kind::Stepped => false,
            Kind::Cantilever => true,
        };
        let hold = move |index: usize| if clamped(index) { Hold::BuiltIn } else { Hold::Simple };
        let supports: Vec<Support> = at.iter().enumerate().map(|(index, at)| Support { at: *at, hold: hold(index) }).collect();
        (loads(length), any::<bool>()).prop_map(move |(loads, own_weight)| Beam {
            stretches: stretches.clone(),
            supports: supports.clone(),
            loads,
            own_weight,
        })
    })
}

/// The beam and what we say of it, bending alone.
fn told(name: &str, beam: &Beam) -> Value {
    let bent = beam.solve().unwrap_or_else(|error| panic!("{error}: {beam:?}"));
    let bending = |at: f64| {
        let sag = bent.sag_at(at);
        sag.load + sag.own_weight
    };
    let own = beam.stretches.iter().scan(0.0, |at, stretch| {
        let from = *at;
        *at += stretch.length;
        Some(Load::kg_spread(stretch.section.kg_per_mm().unwrap_or_default() * stretch.length, from, *at))
    });
    let loads: Vec<Value> = beam
        .loads
        .iter()
        .copied()
        .chain(own.filter(|_| beam.own_weight))
        .map(|load| match load {
            Load::Point { at, force } => json!({"at": at, "force": force}),
            Load::Spread { from, to, per_mm } => json!({"from": from, "to": to, "per_mm": per_mm}),
        })
        .collect();
    let greatest = stiff_in_shear(beam).solve().expect("it was solved before").spans();
    let evenly = (0..=16).map(|step| (beam.length() * f64::from(step) / 16.0).round());
    let places: Vec<f64> = evenly.chain(greatest.iter().map(|span| span.at.round())).collect();
    let greatest: Vec<Value> =
        greatest.iter().map(|span| json!({"from": span.from, "to": span.to, "mm": span.sag.load + span.sag.own_weight})).collect();
    json!({
        "name": name,
        "stretches": beam.stretches.iter().map(|stretch| json!({"length": stretch.length, "bending": stretch.section.bending()})).collect::<Vec<_>>(),
        "supports": beam.supports.iter().map(|support| json!({"at": support.at, "built_in": support.hold == Hold::BuiltIn})).collect::<Vec<_>>(),
        "loads": loads,
        "sags": places.iter().map(|at| json!({"at": at, "mm": bending(*at)})).collect::<Vec<_>>(),
        "greatest": greatest,
        "reactions": bent.reactions().iter().map(|reaction| json!({"at": reaction.at, "force": reaction.force})).collect::<Vec<_>>(),
    })
}

/// The same beam of sections that shear does not move, so that the greatest deflection is where bending alone has it.
fn stiff_in_shear(beam: &Beam) -> Beam {
    let stiff = |section: &Section| {
        let layers = section.layers().iter().map(|layer| casewright_core::strength::Layer { shear_modulus: 1e12, ..*layer });
        Section::of(layers.collect()).expect("it was a section before")
    };
    let stretch = |stretch: &Stretch| Stretch { length: stretch.length, section: stiff(&stretch.section) };
    Beam { stretches: beam.stretches.iter().map(stretch).collect(), ..beam.clone() }
}

/// Runs the script; gives what it prints.
fn compared(document: &Value) -> Result<String, String> {
    let python = env::var_os("CASEWRIGHT_PYTHON").expect("CASEWRIGHT_PYTHON is not set; run `cargo xtask test readers`");
    let folder = TempDir::new().expect("a folder");
    let path = folder.path().join("beams.json");
    fs::write(&path, document.to_string()).expect("written");
    let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("readers/check_beams.py");
    // Systems as small as these are solved twenty times faster on one thread.
    let out = Command::new(python).arg(script).arg(&path).env("OMP_NUM_THREADS", "1").output().expect("the script starts");
    let (told, faults) = (String::from_utf8_lossy(&out.stdout).into_owned(), String::from_utf8_lossy(&out.stderr).into_owned());
    if out.status.success() { Ok(told) } else { Err(format!("{told}{faults}")) }
}

#[test]
#[ignore = "needs Python and anastruct; run by cargo xtask test"]
fn shelves_bend_as_an_independent_library_has_it() {
    let mut runner = TestRunner::deterministic();
    let mut beams = Vec::new();
    for kind in [Kind::OneSpan, Kind::Continuous, Kind::Stepped, Kind::Cantilever] {
        for n in 0..EACH {
            let beam = shelf(kind).new_tree(&mut runner).expect("a shelf").current();
            beams.push(told(&format!("{kind:?} {n}"), &beam));
        }
    }
    let told = compared(&json!({"beams": beams})).unwrap_or_else(|faults| panic!("{faults}"));
    println!("{told}");
}

#[test]
#[ignore = "needs Python and anastruct; run by cargo xtask test"]
fn the_comparison_is_strict_enough_to_find_a_fault() {
    let stuff = Properties::plain("stuff", 10_000.0);
    let beam =
        Beam::continuous(&[700.0, 500.0], Section::rectangle(250.0, 19.0, &stuff).expect("a section")).with(Load::kg_at(12.0, 300.0));
    let sound = json!({"beams": [told("a shelf", &beam)]});
    compared(&sound).unwrap_or_else(|faults| panic!("{faults}"));
    for pointer in ["/beams/0/sags/4/mm", "/beams/0/greatest/1/mm", "/beams/0/reactions/1/force", "/beams/0/stretches/0/bending"] {
        let mut spoilt = sound.clone();
        let figure = spoilt.pointer_mut(pointer).expect("a figure");
        *figure = json!(figure.as_f64().expect("a number") * 1.0015);
        assert!(compared(&spoilt).is_err(), "{pointer}");
    }
}
