//! Programs that are not ours read what is written: JSON with ajv, meshes with trimesh, PDF with pypdf.
//!
//! They need Python and Node libraries, so a plain `cargo test` leaves them out; `cargo xtask test readers` fetches what
//! they need and runs them.

use std::env;
use std::ffi::OsStr;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use serde_json::Value;
use tempfile::TempDir;

/// A trial under which the demo fails, so that a document holds findings.
const FAILING: [&str; 2] = ["--with", "joinery.rail_to_post.depth_in_face=30"];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("..")
}

fn needed(variable: &str) -> PathBuf {
    PathBuf::from(env::var_os(variable).unwrap_or_else(|| panic!("{variable} is not set; run `cargo xtask test readers`")))
}

/// What our command line prints about the demo.
fn ours(command: &str, rest: &[&str]) -> Vec<u8> {
    let mut cli = Command::new(needed("CASEWRIGHT_CLI"));
    cli.arg(command).arg(root().join("examples/records_cabinet.ron")).args(rest);
    let Output { status, stdout, stderr } = cli.output().expect("the command line starts");
    // 1 is a case that will fail; it is told in full all the same.
    assert!(matches!(status.code(), Some(0 | 1)), "{}", String::from_utf8_lossy(&stderr));
    stdout
}

/// What a small sum of timber prints as JSON.
fn wood(question: &[&str]) -> Vec<u8> {
    let mut cli = Command::new(needed("CASEWRIGHT_CLI"));
    let Output { status, stdout, stderr } = cli.arg("wood").args(question).arg("--json").output().expect("the command line starts");
    assert!(status.success(), "{}", String::from_utf8_lossy(&stderr));
    stdout
}

fn file(folder: &TempDir, name: &str, bytes: &[u8]) -> PathBuf {
    let path = folder.path().join(name);
    fs::write(&path, bytes).expect("written");
    path
}

/// Runs one of the programs in `tests/readers`; gives what it prints.
fn reader(program: &OsStr, script: &str, files: &[&Path]) -> Result<String, String> {
    let script = root().join("tests/readers").join(script);
    let Output { status, stdout, stderr } = Command::new(program).arg(script).args(files).output().expect("the reader starts");
    let (out, errors) = (String::from_utf8_lossy(&stdout), String::from_utf8_lossy(&stderr));
    if status.success() { Ok(out.into_owned()) } else { Err(format!("{out}{errors}")) }
}

fn keeps_to(document: &Path, schema: &str) -> Result<String, String> {
    // The script finds ajv by CASEWRIGHT_NODE_DIR, which it inherits.
    needed("CASEWRIGHT_NODE_DIR");
    reader(OsStr::new("node"), "check_json.mjs", &[document, &root().join("assets/schema").join(schema)])
}

fn pdf(folder: &TempDir, trial: &[&str]) -> Value {
    let out = folder.path().display().to_string();
    ours("papers", &[&["--out", &out], trial].concat());
    read_pdf(&folder.path().join("drawings.pdf"))
}

/// Pages, size and text of a PDF.
fn read_pdf(path: &Path) -> Value {
    let told = reader(needed("CASEWRIGHT_PYTHON").as_os_str(), "check_pdf.py", &[path]);
    serde_json::from_str(&told.unwrap_or_else(|fault| panic!("{fault}"))).expect("JSON")
}

#[test]
#[ignore = "needs Node and ajv; run by cargo xtask test"]
fn json_keeps_to_its_schema() {
    let folder = TempDir::new().expect("a folder");
    let [pile, dealer] = ["examples/pile.csv", "examples/dealer.csv"].map(|file| root().join(file).display().to_string());
    for (name, schema, bytes) in [
        ("check.json", "check.json", ours("check", &["--json"])),
        ("failing.json", "check.json", ours("check", &[&FAILING[..], &["--json"]].concat())),
        ("parts.json", "parts.json", ours("parts", &["--json"])),
        ("sizes.json", "sizes.json", ours("sizes", &["--json"])),
        ("loads.json", "loads.json", ours("loads", &["--json"])),
        ("anchored.json", "loads.json", ours("loads", &["--json", "--with", "carcase.wall=anchored"])),
        ("holds.json", "holds.json", ours("holds", &["--json"])),
        ("fits.json", "fits.json", ours("holds", &["--json", "--box", "420x310x260"])),
        ("propose.json", "propose.json", ours("propose", &["--json"])),
        ("boards.json", "boards.json", ours("boards", &["--json", "--rounds", "1", "--pile", &pile])),
        ("buy.json", "buy.json", ours("boards", &["--json", "--rounds", "1", "--dealer", &dealer])),
        ("cost.json", "cost.json", ours("cost", &["--json"])),
        ("takeoff.json", "takeoff.json", ours("takeoff", &["--json"])),
        ("setups.json", "setups.json", ours("cards", &["--json"])),
        ("timbers.json", "compare.json", ours("compare", &["--json"])),
        ("panels.json", "compare.json", ours("compare", &["--of", "panels", "--json"])),
        ("moisture.json", "wood.json", wood(&["moisture", "--temperature", "21", "--rh", "50"])),
        (
            "board.json",
            "wood.json",
            wood(&["move", "--species", "white_oak", "--sawn", "rift", "--width", "480", "--from", "6", "--to", "10"]),
        ),
        ("panel.json", "wood.json", wood(&["move", "--sheet", "veneered_mdf_12", "--width", "600", "--from", "6", "--to", "10"])),
    ] {
        let document = file(&folder, name, &bytes);
        keeps_to(&document, schema).unwrap_or_else(|faults| panic!("{faults}"));
    }
}

#[test]
#[ignore = "needs Node and ajv; run by cargo xtask test"]
fn a_cutting_task_and_its_layout_keep_to_their_schemas() {
    let folder = TempDir::new().expect("a folder");
    // A sheet, a board with a knot and one shorter than its trims; a piece for each reason to be left over.
    let task = r#"{ "kerf": 3.2, "trim": 10, "cuts": "guillotine", "stages": 3, "first": null, "trimming": true,
        "stock": [{ "id": "sheet", "length": 1220, "width": 610, "count": 1, "cost": 24.5 },
                  { "id": 2, "length": 900, "width": 150, "count": 1, "defects": [{ "x": 300, "y": 0, "length": 50 }] },
                  { "id": "stub", "length": 15, "width": 100, "count": null }],
        "pieces": [{ "id": "panel", "length": 500, "width": 280, "count": 6, "turn": true, "value": 3 },
                   { "id": "rail", "length": 260, "width": 60, "count": 2 },
                   { "id": "long", "length": 2000, "width": 60 },
                   { "id": "thin", "length": -1, "width": 60 }] }"#;
    let asked = file(&folder, "task.json", task.as_bytes());
    keeps_to(&asked, "task.json").expect_err("a length of -1 is a fault to the schema too");
    let sound = file(&folder, "sound.json", task.replace("-1", "100").as_bytes());
    keeps_to(&sound, "task.json").unwrap_or_else(|faults| panic!("{faults}"));
    let mut cli = Command::new(needed("CASEWRIGHT_CLI"));
    let Output { status, stdout, .. } =
        cli.arg("lay").arg(&asked).args(["--rounds", "5", "--json"]).output().expect("the command line starts");
    assert_eq!(status.code(), Some(1));
    let told: Value = serde_json::from_slice(&stdout).expect("JSON");
    let reasons: Vec<&Value> = told["unplaced"].as_array().expect("a list").iter().map(|left| &left["reason"]).collect();
    assert_eq!(reasons, ["no-room", "too-large", "faulty"]);
    keeps_to(&file(&folder, "layout.json", &stdout), "layout.json").unwrap_or_else(|faults| panic!("{faults}"));
}

#[test]
#[ignore = "needs Node and ajv; run by cargo xtask test"]
fn the_schema_is_strict_enough_to_find_a_fault() {
    let folder = TempDir::new().expect("a folder");
    let sound: Value = serde_json::from_slice(&ours("parts", &["--json"])).expect("JSON");
    for (pointer, value) in [("/parts/0/length", Value::from("long")), ("/parts/0/length", Value::from(-1)), ("/schema", Value::from(2))] {
        let mut spoilt = sound.clone();
        *spoilt.pointer_mut(pointer).expect("a field") = value;
        let document = file(&folder, "spoilt.json", spoilt.to_string().as_bytes());
        assert!(keeps_to(&document, "parts.json").is_err(), "{pointer}");
    }
}

#[test]
#[ignore = "needs Python and trimesh; run by cargo xtask test"]
fn the_mesh_of_every_part_is_watertight_and_of_the_volume_that_is_said() {
    let folder = TempDir::new().expect("a folder");
    let parts: Value = serde_json::from_slice(&ours("parts", &["--json"])).expect("JSON");
    let said = parts["parts"].as_array().expect("parts").iter();
    let volumes: serde_json::Map<_, _> =
        said.map(|part| (part["name"].as_str().expect("a name").to_owned(), part["volume_mm3"].clone())).collect();
    let model = file(&folder, "case.obj", &ours("parts", &["--obj"]));
    let volumes = file(&folder, "volumes.json", Value::Object(volumes).to_string().as_bytes());
    reader(needed("CASEWRIGHT_PYTHON").as_os_str(), "check_mesh.py", &[&model, &volumes]).unwrap_or_else(|faults| panic!("{faults}"));
}

#[test]
#[ignore = "needs Python and pypdf; run by cargo xtask test"]
fn the_drawing_is_an_a3_sheet_with_its_sizes() {
    let folder = TempDir::new().expect("a folder");
    let paper = pdf(&folder, &[]);
    // A3 on its side, ISO 216.
    for (field, mm) in [("width_mm", 420.0), ("height_mm", 297.0)] {
        let found = paper[field].as_f64().expect("a size");
        assert!((found - mm).abs() < 0.01, "{field}: {found}");
    }
    assert!(paper["pages"].as_u64().is_some_and(|pages| pages >= 2), "{paper}");
    let text = paper["text"].as_str().expect("text");
    let (drawing, list) = text.split_once("Cut list").expect("a cut list after the drawing");
    // Those in parentheses follow from others. That each stands there once is tested where the sheets are made: what is read here runs together.
    for size in ["1360", "1480", "(346)", "(328)", "1228", "(374)", "1400", "498", "(1224)"] {
        assert!(drawing.contains(size), "{size} is not on\n{drawing}");
    }
    for words in [
        "Records cabinet",
        "1:10",
        "Front",
        "From the left",
        "Plan",
        "Section A–A",
        "Rail end to post",
        "Taken apart",
        "Anchor a tall case",
    ] {
        assert!(drawing.contains(words), "{words} is not on\n{drawing}");
    }
    for words in ["1264", "Front rail, bottom", "Veneered MDF", "Cautions for this piece"] {
        assert!(list.contains(words), "{words} is not in\n{list}");
    }
}

#[test]
#[ignore = "needs Python and pypdf; run by cargo xtask test"]
fn the_drawing_tells_every_finding() {
    let folder = TempDir::new().expect("a folder");
    let found: Value = serde_json::from_slice(&ours("check", &[&FAILING[..], &["--json"]].concat())).expect("JSON");
    let paper = pdf(&folder, &FAILING);
    let plain = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ");
    let text = plain(paper["text"].as_str().expect("text"));
    let findings = found["findings"].as_array().expect("findings");
    assert!(!findings.is_empty());
    for finding in findings {
        let message = plain(finding["message"].as_str().expect("a message"));
        assert!(text.contains(&message), "{message} is not on\n{text}");
    }
    assert_eq!(text.matches("Will fail.").count(), findings.iter().filter(|finding| finding["seriousness"] == "will fail").count());
}

/// What is read here of the part sheets is the text of the PDF itself: each mark of the cut list once. The packet has the pages of all papers but the long ones, which are there over sheets.
#[test]
#[ignore = "needs Python and pypdf; run by cargo xtask test"]
fn part_sheets_have_every_mark_once_and_the_packet_has_all_papers() {
    let folder = TempDir::new().expect("a folder");
    ours("packet", &["--out", &folder.path().display().to_string()]);
    let sheets = read_pdf(&folder.path().join("part_sheets.pdf"));
    let text = sheets["text"].as_str().expect("text");
    // What stands at one height is read without a space between: a mark may follow a small letter, as in "throughLT1". A view that names its face for the
    // mirror image too, as "(P2: back side)" does, draws no part.
    let told = |mark: &str| {
        let begins = |at: usize| text[..at].chars().next_back().is_none_or(|before| !before.is_uppercase() && !before.is_ascii_digit());
        let ends = |at: usize| text[at + mark.len()..].chars().next().is_none_or(|after| !after.is_alphanumeric());
        let beside = |at: usize| text[..at].ends_with('(') && text[at + mark.len()..].starts_with(':');
        text.match_indices(mark).filter(|(at, _)| begins(*at) && ends(*at) && !beside(*at)).count()
    };
    let parts: Value = serde_json::from_slice(&fs::read(folder.path().join("tables/parts.json")).expect("a table")).expect("JSON");
    let rows = parts["cut_list"].as_array().expect("a cut list");
    assert!(rows.len() > 30);
    for mark in rows.iter().map(|row| row["mark"].as_str().expect("a mark")) {
        assert_eq!(told(mark), 1, "{mark}");
    }
    let pages = |path: &Path| read_pdf(path)["pages"].as_u64().expect("pages");
    let papers = fs::read_dir(folder.path()).expect("a folder").filter_map(|entry| entry.ok().map(|entry| entry.path()));
    let papers: Vec<PathBuf> =
        papers.filter(|path| path.extension().is_some_and(|ending| ending == "pdf") && !path.ends_with("packet.pdf")).collect();
    let (long, papers): (Vec<PathBuf>, Vec<PathBuf>) =
        papers.into_iter().partition(|path| path.file_stem().is_some_and(|name| name.to_string_lossy().ends_with("_long")));
    assert_eq!(long.len(), 2, "{long:?}");
    assert!(papers.len() >= 9, "{papers:?}");
    assert_eq!(pages(&folder.path().join("packet.pdf")), papers.iter().map(|path| pages(path)).sum::<u64>());
}
