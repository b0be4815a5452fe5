//! What other programs open is read back by libraries that are not ours: STEP by a B-rep kernel, glTF by the validator of its standard, DXF by
//! ezdxf, STL and 3MF by trimesh.
//!
//! They need Python and Node libraries, so a plain `cargo test` leaves them out; `cargo xtask test readers` runs them.

use std::collections::BTreeMap;
use std::env;
use std::f64::consts::PI;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use casewright_core::model::{Feature, Part};
use casewright_core::{Model, derive, design};
use casewright_solid::{Facets, Surface};
use serde_json::Value;
use tempfile::TempDir;

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn needed(variable: &str) -> PathBuf {
    PathBuf::from(env::var_os(variable).unwrap_or_else(|| panic!("{variable} is not set; run `cargo xtask test readers`")))
}

/// The demo in a form, as the command line writes it: the files, in the order of their names.
fn written(form: &str) -> (TempDir, Vec<PathBuf>) {
    printed("records_cabinet", &["export", "--as", form], &[])
}

/// What a command writes of an example into a folder: the files, in the order of their names.
fn printed(example: &str, command: &[&str], with: &[&str]) -> (TempDir, Vec<PathBuf>) {
    let folder = TempDir::new().expect("a folder");
    let mut cli = Command::new(needed("CASEWRIGHT_CLI"));
    cli.args(command).arg(root().join(format!("examples/{example}.ron"))).arg("--out").arg(folder.path());
    for change in with {
        cli.args(["--with", change]);
    }
    let Output { status, stdout, stderr } = cli.output().expect("the command line starts");
    assert!(status.success(), "{}", String::from_utf8_lossy(&stderr));
    let mut files: Vec<PathBuf> = String::from_utf8(stdout).expect("text").lines().map(PathBuf::from).collect();
    files.sort();
    (folder, files)
}

/// What a reader tells of some files.
fn told(program: &Path, script: &str, files: &[PathBuf]) -> Value {
    let script = root().join("tests/readers").join(script);
    let Output { status, stdout, stderr } = Command::new(program).arg(script).args(files).output().expect("the reader starts");
    assert!(status.success(), "{}", String::from_utf8_lossy(&stderr));
    serde_json::from_slice(&stdout).expect("JSON")
}

fn demo() -> Model {
    demo_with(&[])
}

/// The demo with other decisions, each as NAME=VALUE.
fn demo_with(with: &[&str]) -> Model {
    let text = std::fs::read_to_string(root().join("examples/records_cabinet.ron")).expect("the demo");
    let mut design = design::text::read(&text).expect("a design");
    for change in with {
        let (name, value) = change.split_once('=').expect("a name and a value");
        design::decisions::set(&mut design, name, value).expect("a decision");
    }
    derive(&design).expect("a case")
}

/// The volume of a part whose rounds are true, mm³. What facets within a circle leave out falls with the square of their number, so that two
/// counts give what is left at the limit (L. F. Richardson).
fn true_volume(part: &Part) -> f64 {
    let [coarse, fine] = [128, 256].map(|facets| part.solid().shape(Facets::PerTurn(facets)).expect("a shape").volume);
    fine + (fine - coarse) / 3.0
}

/// Whether all rounds of a part are true cylinders in its file.
fn is_true(part: &Part) -> bool {
    let shape = part.solid().shape(Facets::ChordError(casewright_core::shapes::CHORD_ERROR)).expect("a shape");
    let brep = shape.brep();
    let flat = brep.faces.iter().filter(|patch| matches!(patch.surface, Surface::Plane { .. })).count();
    flat == shape.faces.iter().filter(|face| face.arc.is_none()).count()
}

#[test]
#[ignore = "needs Python and a B-rep kernel; run by cargo xtask test"]
fn a_kernel_of_solids_reads_every_part_under_its_name_and_of_its_volume() {
    let model = demo();
    let (_folder, files) = written("step");
    let found = told(&needed("CASEWRIGHT_PYTHON"), "check_step.py", &files);
    let found: BTreeMap<&str, &Value> =
        found.as_array().expect("a list").iter().map(|solid| (solid["name"].as_str().expect("a name"), solid)).collect();
    assert_eq!(found.len(), model.parts.len());
    let (mut all_true, mut cylinders) = (0, 0);
    let mut volumes: BTreeMap<&str, (f64, bool)> = BTreeMap::new();
    for part in &model.parts {
        let name = format!("{} {}", part.mark, part.title);
        let solid = found.get(name.as_str()).unwrap_or_else(|| panic!("{name} is not in the file"));
        assert_eq!((&solid["valid"], &solid["solids"]), (&Value::from(true), &Value::from(1)), "{name}");
        cylinders += solid["cylinders"].as_u64().expect("a count");
        let volume = solid["volume"].as_f64().expect("a volume");
        // Equal parts share a mark; mirrored ones are of one volume.
        let (wanted, whole) = *volumes.entry(part.mark.as_str()).or_insert_with(|| (true_volume(part), is_true(part)));
        all_true += usize::from(whole);
        // Where a round is clipped its facets stay, and leave out what lies between them and the circle.
        let within = if whole { 1e-6 } else { 1e-3 };
        assert!((volume / wanted - 1.0).abs() < within, "{name}: {volume} where {wanted} is meant");
    }
    assert!(all_true * 10 >= model.parts.len() * 8, "only {all_true} of {} parts have true rounds alone", model.parts.len());
    assert!(cylinders > 100, "{cylinders}");
}

#[test]
#[ignore = "needs Node and gltf-validator; run by cargo xtask test"]
fn the_validator_of_gltf_finds_nothing_and_every_part_is_there() {
    let model = demo();
    let (_folder, files) = written("gltf");
    let found = told(Path::new("node"), "check_gltf.mjs", &files);
    assert_eq!((&found["errors"], &found["warnings"]), (&Value::from(0), &Value::from(0)));
    let mut names: Vec<String> = serde_json::from_value(found["names"].clone()).expect("names");
    let mut wanted: Vec<String> = model.parts.iter().map(|part| format!("{} {}", part.mark, part.title)).collect();
    names.sort();
    wanted.sort();
    assert_eq!(names, wanted);
}

/// The part of each file, by its mark.
fn part_of<'m>(model: &'m Model, file: &str) -> &'m Part {
    let mark = file.split(['.', '-']).next().expect("a name");
    model.parts.iter().find(|part| part.mark == mark).unwrap_or_else(|| panic!("{file} is of no part"))
}

/// How long the outline of a part is from its face side, by its figures (geometry): corners cut out leave it as long as it was, slopes and teeth don't.
fn round_it(part: &Part) -> f64 {
    let size = part.lwt();
    let features = part.cuts.iter().map(|cut| &cut.feature);
    let longer = features.map(|feature| match *feature {
        Feature::Bevel { inset, .. } => inset.hypot(size.y) - size.y - inset,
        Feature::Teeth { pitch, seat, crest, count, .. } => f64::from(count) * (seat + (pitch - crest).hypot(seat) - (pitch - crest)),
        Feature::HalfRounds { radius, count, .. } => f64::from(count) * radius * (PI - 2.0),
        // Both ends half circles as wide as the part.
        Feature::RoundEnds => size.y * (PI - 4.0),
        _ => 0.0,
    });
    2.0 * (size.x + size.y) + longer.sum::<f64>()
}

#[test]
#[ignore = "needs Python and ezdxf; run by cargo xtask test"]
fn outlines_pass_the_audit_and_measure_as_the_parts() {
    for with in [&[][..], &["sawtooth.teeth=half_round"]] {
        let model = demo_with(with);
        let (_folder, files) = printed("records_cabinet", &["export", "--as", "dxf"], with);
        let found = told(&needed("CASEWRIGHT_PYTHON"), "check_dxf.py", &files);
        let found = found.as_object().expect("files");
        assert!(model.parts.iter().all(|part| found.contains_key(&format!("{}.dxf", part.mark))));
        for (file, told) in found.iter().filter(|(file, _)| !file.starts_with("template")) {
            let part = part_of(&model, file);
            let size = part.lwt();
            for (field, wanted) in [("width", size.x), ("height", size.y), ("length", round_it(part))] {
                let measured = told[field].as_f64().expect("a measure");
                assert!((measured - wanted).abs() < 1e-5, "{file}: {field} {measured} where {wanted} is meant");
            }
        }
        // The post has mortises of several depths from its back side, each in its layer.
        let layers: Vec<String> = serde_json::from_value(found["P1.dxf"]["layers"].clone()).expect("layers");
        assert!(layers.iter().filter(|layer| layer.starts_with("back ")).count() >= 2, "{layers:?}");
        // The template of the standard is the standard's own outline, standing.
        let [part, template] = ["ST1.dxf", "template-ST1.dxf"].map(|file| &found[file]);
        for (own, other) in [("width", "height"), ("height", "width"), ("length", "length")] {
            let measures = [&part[own], &template[other]].map(|it| it.as_f64().expect("a measure"));
            assert!((measures[0] - measures[1]).abs() < 1e-5, "{own}: {measures:?}");
        }
        let ends: Vec<&String> = found.keys().filter(|file| file.starts_with("template-SL") || file.starts_with("template-F")).collect();
        assert!(ends.len() >= 3, "{ends:?}");
        for file in ends {
            let layers: Vec<String> = serde_json::from_value(found[file]["layers"].clone()).expect("layers");
            assert_eq!(layers, ["goes on", "outline"], "{file}");
        }
    }
}

/// The bars and the teeth of rods and templates, as poppler reads them.
#[test]
#[ignore = "needs Python and poppler; run by cargo xtask test"]
fn the_bars_of_every_sheet_are_100_long_and_the_teeth_stand_in_their_places() {
    for (example, sheet) in [("records_cabinet", "a4"), ("workroom_mixed", "letter"), ("bookcase_on_pins", "a4")] {
        let (_folder, files) = printed(example, &["rod", "--sheet", sheet], &[]);
        let papers: Vec<PathBuf> = files.into_iter().filter(|file| file.extension().is_some_and(|ending| ending == "pdf")).collect();
        let found = told(&needed("CASEWRIGHT_PYTHON"), "check_rod.py", &papers);
        let found = found.as_object().expect("files");
        assert!(found.contains_key("rod.pdf") && found.contains_key("rod_long.pdf"), "{:?}", found.keys());
        for (file, pages) in found {
            for (number, page) in pages.as_array().expect("pages").iter().enumerate() {
                for way in ["across", "along"] {
                    let bars: Vec<f64> = serde_json::from_value(page[way].clone()).expect("lengths");
                    assert!(bars.len() == 1 && (bars[0] - 100.0).abs() < 0.1, "{example}, {file}, page {}, {way}: {bars:?}", number + 1);
                }
            }
        }
        let text = std::fs::read_to_string(root().join(format!("examples/{example}.ron"))).expect("an example");
        let model = derive(&design::text::read(&text).expect("a design")).expect("a case");
        let teeth = model.parts.iter().flat_map(|part| part.cuts.iter().map(move |cut| (part, &cut.feature)));
        let row = teeth.filter_map(|(part, feature)| match *feature {
            Feature::Teeth { first, pitch, seat, count, .. } => Some((part.lwt().y, first, pitch, seat, count)),
            _ => None,
        });
        let Some((wide, first, pitch, seat, count)) = row.into_iter().next() else { continue };
        let levels: Vec<[f64; 3]> = serde_json::from_value(found["templates_long.pdf"][0]["levels"].clone()).expect("lines");
        let of_length = |long: f64| levels.iter().filter(move |line| (line[1] - line[0] - long).abs() < 0.02).map(|line| line[2]);
        let low = of_length(wide).fold(f64::NEG_INFINITY, f64::max);
        for tooth in 0..count {
            let wanted = low - first - pitch * f64::from(tooth);
            assert!(of_length(seat).any(|at| (at - wanted).abs() < 0.1), "{example}: seat {} is not at {wanted}", tooth + 1);
        }
    }
}

#[test]
#[ignore = "needs Python and trimesh; run by cargo xtask test"]
fn meshes_are_watertight_and_of_the_volume_of_their_parts() {
    let model = demo();
    for form in ["stl", "3mf"] {
        let (_folder, files) = written(form);
        let found = told(&needed("CASEWRIGHT_PYTHON"), "check_print.py", &files);
        for (file, volume) in found.as_object().expect("files") {
            let part = part_of(&model, file);
            let shape = part.solid().shape(Facets::ChordError(casewright_core::shapes::CHORD_ERROR)).expect("a shape");
            let volume = volume.as_f64().expect("a volume");
            // STL holds numbers of 24 bits.
            assert!((volume / shape.volume - 1.0).abs() < 1e-5, "{file}: {volume} where {} is meant", shape.volume);
        }
    }
}
