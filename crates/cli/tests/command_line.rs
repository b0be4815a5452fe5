//! What a person at the command line sees: exit codes, text, JSON, and errors that say where and what would do.

use std::fs;
use std::io::Read as _;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use serde_json::Value;

const DEMO: &str = include_str!("../../../examples/records_cabinet.ron");

fn demo() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/records_cabinet.ron")
}

/// What came of a command.
struct Run {
    code: Option<i32>,
    out: String,
    errors: String,
}

fn cli<A: AsRef<std::ffi::OsStr>>(arguments: &[A]) -> Run {
    let Output { status, stdout, stderr } =
        Command::new(env!("CARGO_BIN_EXE_casewright-cli")).args(arguments).output().expect("the program starts");
    let run = Run { code: status.code(), out: String::from_utf8(stdout).expect("text"), errors: String::from_utf8(stderr).expect("text") };
    assert!(!run.errors.contains("panicked"), "{}", run.errors);
    run
}

/// Runs a command on the demo.
fn on_demo(command: &str, rest: &[&str]) -> Run {
    let file = demo().display().to_string();
    let mut arguments = vec![command, &file];
    arguments.extend(rest);
    cli(&arguments)
}

fn json(run: &Run) -> Value {
    serde_json::from_str(&run.out).unwrap_or_else(|error| panic!("{error}: {}", run.out))
}

/// Checks a file with this in it.
fn check_text(text: impl AsRef<[u8]>) -> Run {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("case.ron");
    fs::write(&file, text).expect("written");
    cli(&["check".as_ref(), file.as_os_str()])
}

/// The line, from 1, on which `text` first stands in the demo.
fn line_of(text: &str) -> usize {
    DEMO[..DEMO.find(text).expect("in the demo")].lines().count().max(1)
}

#[test]
fn the_demo_passes() {
    let run = on_demo("check", &[]);
    assert_eq!(run.code, Some(0), "{}{}", run.out, run.errors);
    assert!(run.out.starts_with("Records cabinet: "), "{}", run.out);
    assert!(run.errors.is_empty(), "{}", run.errors);
}

#[test]
fn a_case_that_will_fail_ends_with_1_and_says_why_and_what_mends_it() {
    let trial = ["--with", "joinery.rail_to_post.depth_in_face=30"];
    let run = on_demo("check", &trial);
    assert_eq!(run.code, Some(1), "{}", run.errors);
    assert!(run.out.contains("■ Will fail: A mortise breaks"), "{}", run.out);

    let found = json(&on_demo("check", &[&trial[..], &["--json"]].concat()));
    assert_eq!(found["schema"], 2);
    let finding = &found["findings"][0];
    assert_eq!(finding["rule"], "mortises_meet");
    assert_eq!(finding["seriousness"], "will fail");
    for field in ["parts", "figures"] {
        assert!(finding[field].as_array().is_some_and(|list| !list.is_empty()), "{field}: {finding}");
    }
    assert!(finding["place"].as_array().is_some_and(|place| place.len() == 3), "{finding}");

    // The remedy it offers is one that works.
    let changes = finding["remedies"][0]["changes"].as_array().expect("a remedy");
    let mut mended: Vec<String> = trial.map(str::to_owned).to_vec();
    for change in changes {
        let change = format!("{}={}", change["name"].as_str().expect("a name"), change["value"].as_str().expect("a value"));
        mended.extend(["--with".to_owned(), change]);
    }
    let mended: Vec<&str> = mended.iter().map(String::as_str).collect();
    let left = on_demo("check", &[&mended[..], &["--json"]].concat());
    let rules: Vec<_> = json(&left)["findings"].as_array().expect("a list").iter().map(|finding| finding["rule"].clone()).collect();
    assert!(!rules.contains(&Value::from("mortises_meet")), "{rules:?}");
}

#[test]
fn trying_a_decision_leaves_the_file_alone() {
    let run = on_demo("parts", &["--with", "carcase.width=1400", "--json"]);
    assert_eq!(run.code, Some(0), "{}", run.errors);
    let parts = json(&run);
    let rail = part(&parts, "rail.front.bottom");
    assert_eq!(rail["length"], 1400.0 - 96.0);
    assert_eq!(fs::read_to_string(demo()).expect("the demo"), DEMO);
}

fn part<'v>(document: &'v Value, name: &str) -> &'v Value {
    let parts = document["parts"].as_array().expect("parts");
    parts.iter().find(|part| part["name"] == name).unwrap_or_else(|| panic!("{name} is not there"))
}

#[test]
fn parts_tell_sizes_timber_place_and_joints() {
    let parts = json(&on_demo("parts", &["--json"]));
    let rail = part(&parts, "rail.front.bottom");
    assert_eq!([&rail["length"], &rail["width"], &rail["thickness"]].map(Value::as_f64), [Some(1264.0), Some(110.0), Some(24.0)]);
    for (field, value) in
        [("material", "solid"), ("species", "white_ash"), ("grain", "along the length"), ("state", "planned"), ("stage", "in the glue-up")]
    {
        assert_eq!(rail[field], value, "{field}");
    }
    assert_eq!(rail["count"], 1);
    let panel = part(&parts, "panel.back.1");
    assert_eq!(panel["material"], "sheet");
    assert!(panel["product"].as_str().is_some_and(|product| DEMO.contains(product)), "{panel}");
    let tenon = parts["joints"].as_array().expect("joints").iter().find(|joint| joint["coming"] == "rail.front.bottom").expect("a joint");
    assert_eq!(tenon["fits"][0]["class"], "glued, snug");
    assert_eq!(tenon["fits"][0]["clearance"], 0.1);
    let mut plain = 0;
    // Every joint that a part names names the part.
    for part in parts["parts"].as_array().expect("parts") {
        for id in part["joints"].as_array().expect("joints") {
            let joint = &parts["joints"][id.as_u64().expect("an id") as usize];
            let loose = joint["loose"].as_array().expect("a list");
            let name = &part["name"];
            assert!(joint["coming"] == *name || joint["receiving"] == *name || loose.contains(name), "{name} in {joint}");
        }
        let volume = part["volume_mm3"].as_f64().expect("a volume");
        let blank: f64 = ["length", "width", "thickness"].map(|field| part[field].as_f64().expect("a size")).iter().product();
        assert!(volume > 0.0 && volume < blank + 1e-3, "{part}");
        // A plain board has the surface of its six faces, and its weight acts in its middle: at the density of the table.
        if part["cuts"].as_array().is_some_and(Vec::is_empty) {
            plain += 1;
            let [l, w, t] = ["length", "width", "thickness"].map(|field| part[field].as_f64().expect("a size"));
            let surface = part["surface_mm2"].as_f64().expect("a surface");
            assert!((surface - 2.0 * (l * w + l * t + w * t)).abs() < 1e-3 * surface, "{part}");
            let axes = ["length_axis", "width_axis", "thickness_axis"].map(|axis| &part["placement"][axis]);
            for at in 0..3 {
                let along =
                    axes.iter().zip([l, w, t]).map(|(axis, size)| axis[at].as_f64().expect("a direction") * size / 2.0).sum::<f64>();
                let middle = part["placement"]["origin"][at].as_f64().expect("a place") + along;
                assert!((part["centre_of_mass"][at].as_f64().expect("a place") - middle).abs() < 1e-3, "{part}");
            }
        }
    }
    assert!(plain > 0);
    let kg: f64 = parts["parts"].as_array().expect("parts").iter().filter_map(|part| part["mass_kg"].as_f64()).sum();
    assert!((50.0..120.0).contains(&kg), "{kg}");
    let counted: u64 = parts["cut_list"].as_array().expect("rows").iter().filter_map(|row| row["count"].as_u64()).sum();
    assert_eq!(counted as usize, parts["parts"].as_array().expect("parts").len());
}

/// Figures are as the text tells them: a wall of a hundred-thousandth is none, and a hundredth is the last that is told.
#[test]
fn figures_of_findings_have_two_decimals_at_most() {
    let check = json(&on_demo("check", &["--json", "--with", "joinery.rail_to_post.margin=2"]));
    let findings = check["findings"].as_array().expect("findings");
    let figures = || findings.iter().flat_map(|finding| finding["figures"].as_array().expect("figures"));
    assert!(figures().any(|figure| figure["name"] == "wood left" && figure["value"] == 0.0), "{check:#}");
    for figure in figures() {
        let text = figure["value"].to_string();
        let decimals = text.split('.').nth(1).map_or(0, str::len);
        assert!(decimals <= 2 && !text.contains('e') && !text.starts_with("-0.0"), "{figure}");
    }
}

#[test]
fn the_order_tells_of_swelling_in_json_as_in_words() {
    let swells = "the water in the glue swells loose tenons and dowels: push each home at once";
    assert!(on_demo("order", &[]).out.contains(swells));
    let order = json(&on_demo("order", &["--json"]));
    let told = order["glue_ups"].as_array().expect("glue-ups").iter().filter_map(|glue_up| glue_up["swelling"].as_str());
    assert!(told.filter(|told| told.starts_with(swells)).count() > 0, "{order:#}");
}

#[test]
fn csv_and_the_table_list_the_same_marks() {
    let csv = on_demo("parts", &["--csv"]).out;
    let table = on_demo("parts", &[]).out;
    let marks = |text: &str, skip: usize, end: char| {
        text.lines().skip(skip).map(|line| line.split(end).next().unwrap_or_default().to_owned()).collect::<Vec<_>>()
    };
    assert_eq!(marks(&csv, 1, ','), marks(&table, 3, ' '));
    assert_eq!(cli(&["parts", "x.ron", "--csv", "--json"]).code, Some(2));
}

#[test]
fn a_size_is_explained_back_to_what_was_decided() {
    for name in ["rail.front.bottom", "R1", "r1", "front rail, bottom"] {
        let run = on_demo("explain", &[name]);
        assert_eq!(run.code, Some(0), "{name}: {}", run.errors);
        for wanted in [
            "length 1264\n    case width 1360\n    less 2 × post width 48",
            "rests on carcase.width",
            "rail end to post, with Post, front left",
            "tenon in its mortises, in thickness: glued, snug, 0.1 mm",
            "the rest of the row along it: loose across the grain, 4 mm",
        ] {
            assert!(run.out.contains(wanted), "{name}: {wanted} is not in\n{}", run.out);
        }
    }
    // Standards lie in the posts dry, so that they can be taken out.
    let dry = on_demo("explain", &["standard.1.front.left"]).out;
    assert!(dry.contains("tenon in its mortises, in thickness: snug, put in dry, 0.1 mm") && !dry.contains("glued, snug"), "{dry}");
    // 498 of flat-sawn white ash, 0.00274 a percent (Wood Handbook FPL-GTR-190, table 13-5, read), from 8 % to 6 and to 11.
    let top = on_demo("explain", &["top"]).out;
    for wanted in ["change of Top: width -2.73 driest, 4.09 wettest", "equation 13-2", "stands out 20 mm at the front"] {
        assert!(top.contains(wanted), "{wanted} is not in\n{top}");
    }
    let run = on_demo("explain", &["rail.frnt.botom"]);
    assert_eq!(run.code, Some(2));
    assert!(run.errors.contains("rail.front.bottom"), "{}", run.errors);
}

#[test]
fn every_decision_that_is_listed_can_be_tried_as_it_is() {
    let sizes = json(&on_demo("sizes", &["--json"]));
    let mut tried = Vec::new();
    for size in sizes["sizes"].as_array().expect("sizes") {
        let value = &size["value"];
        let text = value.as_str().map_or_else(|| value.to_string().trim_end_matches(".0").to_owned(), str::to_owned);
        tried.extend(["--with".to_owned(), format!("{}={text}", size["name"].as_str().expect("a name"))]);
        if let (Some(least), Some(greatest), Some(number)) = (size["least"].as_f64(), size["greatest"].as_f64(), value.as_f64()) {
            assert!(least <= number && number <= greatest, "{size}");
        }
    }
    assert!(tried.len() > 200);
    let tried: Vec<&str> = tried.iter().map(String::as_str).collect();
    let again = on_demo("sizes", &[&tried[..], &["--json"]].concat());
    assert_eq!(again.code, Some(0), "{}", again.errors);
    assert_eq!(json(&again), sizes);
}

#[test]
fn inches_are_taken_where_millimetres_are() {
    let run = on_demo("parts", &["--with", "carcase.rails.thickness=3/4 in", "--json"]);
    assert_eq!(part(&json(&run), "rail.front.bottom")["thickness"], 19.05);
}

#[test]
fn a_trial_that_will_not_do_says_what_would() {
    for (trial, wanted) in [
        ("case.width=900", "did you mean \"carcase.width\""),
        ("carcase.width=wide", "write millimetres"),
        ("carcase.width=NaN", "carcase.width"),
        ("carcase.width=inf", "carcase.width"),
        ("carcase.width=-5", "it must be 200 to 4000 mm"),
        ("carcase.width=0", "it must be 200 to 4000 mm"),
        ("carcase.width=99999999999", "it must be 200 to 4000 mm"),
        ("timber.frame=grey_ash", "write one of"),
        ("sawtooth.slats.count=many", "write a whole number"),
        ("carcase.width=200", "wider"),
        ("carcase.rails.foot=590", ""),
        ("nonsense", "carcase.width=1200"),
        ("=5", "carcase.width=1200"),
    ] {
        let run = on_demo("check", &["--with", trial]);
        if wanted.is_empty() {
            // Odd, but it can be built; whatever is wrong with it is a finding.
            assert_ne!(run.code, Some(2), "{trial}: {}", run.errors);
            continue;
        }
        assert_eq!(run.code, Some(2), "{trial}: {}", run.out);
        assert!(run.errors.contains(wanted) && run.out.is_empty(), "{trial}: {}", run.errors);
    }
}

/// A value that belongs to a choice is taken whichever is named first; without the choice the hint names it.
#[test]
fn the_order_in_which_decisions_are_tried_does_not_matter() {
    let by = ["--with", "joinery.rail_to_post.by=mortise_and_tenon"];
    let thick = ["--with", "joinery.rail_to_post.tenon.thickness=7"];
    let (one, other) =
        (on_demo("parts", &[&by[..], &thick, &["--json"]].concat()), on_demo("parts", &[&thick[..], &by, &["--json"]].concat()));
    assert_eq!((one.code, other.code), (Some(0), Some(0)), "{}{}", one.errors, other.errors);
    assert_eq!(json(&one), json(&other));

    let alone = on_demo("check", &thick);
    assert_eq!(alone.code, Some(2), "{}", alone.out);
    assert!(alone.errors.contains("joinery.rail_to_post.by=mortise_and_tenon"), "{}", alone.errors);
    // A choice of its own is not lost to the wider one that brings it, nor a value that both kinds have.
    let top = ["--with", "timber.moisture.winter.humidity=35"];
    let kind = ["--with", "timber.moisture.by=climate"];
    let both = on_demo("sizes", &[&top[..], &kind, &["--json"]].concat());
    assert_eq!(both.code, Some(0), "{}", both.errors);
    let sizes = json(&both);
    let humidity = sizes["sizes"].as_array().expect("sizes").iter().find(|size| size["name"] == "timber.moisture.winter.humidity");
    assert_eq!(humidity.expect("it is there")["value"], 35.0);
}

#[test]
fn a_bad_file_is_told_with_file_line_field_and_range() {
    for (from, to, field, range) in [
        ("width: 1360", "width: -5", "carcase.width", "200 to 4000 mm"),
        ("width: 1360", "width: 0", "carcase.width", "200 to 4000 mm"),
        ("width: 1360", "width: NaN", "carcase.width", "200 to 4000 mm"),
        ("width: 1360", "width: inf", "carcase.width", "200 to 4000 mm"),
        ("width: 1360", "width: 1e300", "carcase.width", "200 to 4000 mm"),
        ("thickness: 24, top: 72", "thickness: -24, top: 72", "carcase.rails.thickness", "10 to 100 mm"),
        ("built: 8", "built: 80", "timber.moisture.built", "4 to 20 %"),
        ("mass: 16.0", "mass: -1", "contents.1.mass", "0 to 500 kg"),
        ("depth: 470", "depth: \"deep\"", "carcase.depth", ""),
        ("reveal: 4", "revel: 4", "revel", ""),
        ("post: (width: 48, depth: 48)", "post: 48", "carcase.post", ""),
    ] {
        let text = DEMO.replacen(from, to, 1);
        assert_ne!(text, DEMO, "{from} is in the demo");
        let run = check_text(&text);
        assert_eq!(run.code, Some(2), "{to}: {}", run.out);
        for wanted in ["case.ron: ", &format!("line {}", line_of(from)), field, range] {
            assert!(run.errors.contains(wanted), "{to}: {wanted} is not in {}", run.errors);
        }
    }
}

#[test]
fn a_case_too_small_for_its_posts_is_told_with_its_line() {
    let text = DEMO.replacen("post: (width: 48, depth: 48)", "post: (width: 48, depth: 200)", 1).replacen("depth: 470", "depth: 400", 1);
    let run = check_text(text);
    assert_eq!(run.code, Some(2), "{}", run.out);
    for wanted in ["case.ron: line ", "carcase.depth: 400 leaves no room between two posts of 200", "at least 420 mm"] {
        assert!(run.errors.contains(wanted), "{wanted} is not in {}", run.errors);
    }
}

#[test]
fn what_is_no_design_at_all_is_told() {
    for text in ["", "(", ")", "[]", "\u{feff}", "(format: 1)", "(format: 99)", "{\"format\": 1}", "((((((((((((((((", "\"unended"] {
        let run = check_text(text);
        assert_eq!(run.code, Some(2), "{text:?}: {}", run.out);
        assert!(run.errors.contains("case.ron: line 1"), "{text:?}: {}", run.errors);
    }
    let run = check_text([0xff, 0xfe, 0x00, 0x28]);
    assert_eq!(run.code, Some(2));
    assert!(run.errors.contains("not text"), "{}", run.errors);
    let missing = cli(&["check", "no such file.ron"]);
    assert_eq!(missing.code, Some(2));
    assert!(missing.errors.contains("no such file.ron: there is no such file"), "{}", missing.errors);
    let folder = cli(&["check", env!("CARGO_MANIFEST_DIR")]);
    assert_eq!(folder.code, Some(2));
    assert!(folder.errors.contains("folder"), "{}", folder.errors);
}

#[test]
fn a_file_that_breaks_off_is_told_with_a_line_and_never_a_panic() {
    let ends: Vec<usize> = (0..DEMO.trim_end().len()).filter(|end| DEMO.is_char_boundary(*end)).step_by(211).collect();
    assert!(ends.len() > 15);
    for end in ends {
        let run = check_text(&DEMO[..end]);
        assert_eq!(run.code, Some(2), "cut at {end}: {}", run.out);
        assert!(run.errors.contains("case.ron: line "), "cut at {end}: {}", run.errors);
    }
}

/// The papers of a case with shelves and with boards on hand.
const PAPERS: [&str; 13] = [
    "cut_list.csv",
    "cut_list.pdf",
    "labels.pdf",
    "order_of_work.pdf",
    "drawings.pdf",
    "part_sheets.pdf",
    "rod.pdf",
    "rod_long.pdf",
    "templates.pdf",
    "templates_long.pdf",
    "set_up_cards.pdf",
    "shelf_plan.pdf",
    "board_plans.pdf",
];

#[test]
fn papers_are_written_and_are_the_same_every_time() {
    let folder = tempfile::tempdir().expect("a folder");
    let out = folder.path().join("shop papers/first");
    let pile = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/pile.csv");
    let papers = |out: &Path| {
        let run = on_demo("papers", &["--out", &out.display().to_string(), "--pile", pile]);
        assert_eq!(run.code, Some(0), "{}", run.errors);
        PAPERS.map(|name| fs::read(out.join(name)).expect("written"))
    };
    let first = papers(&out);
    assert!(first[0].starts_with(b"mark,part,title,count,length_mm"));
    assert!(first[1..].iter().all(|paper| paper.starts_with(b"%PDF-")));
    assert_eq!(first, papers(&folder.path().join("second")));

    // With nothing on hand there is nothing to mark out.
    let bare = folder.path().join("bare");
    assert_eq!(on_demo("papers", &["--out", &bare.display().to_string()]).code, Some(0));
    assert!(bare.join("drawings.pdf").exists() && !bare.join("board_plans.pdf").exists());

    // Where a file stands in the way, it is told and left as it was.
    let blocked = folder.path().join("blocked");
    fs::write(&blocked, "mine").expect("written");
    let run = on_demo("papers", &["--out", &blocked.display().to_string()]);
    assert_eq!(run.code, Some(2), "{}", run.out);
    assert!(run.errors.contains("blocked: it can't be written"), "{}", run.errors);
    assert_eq!(fs::read_to_string(&blocked).expect("still there"), "mine");
}

/// Papers alone and in one, tables, and a folder for each form of file; what is being made is told on the error output, and nothing of it among the answers.
#[test]
fn the_packet_has_all_there_is_and_tells_how_far_it_is() {
    let folder = tempfile::tempdir().expect("a folder");
    let out = folder.path().join("packet");
    let pile = concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/pile.csv");
    let run = on_demo("packet", &["--out", &out.display().to_string(), "--pile", pile, "--labels", "letterby30", "--used", "4"]);
    assert_eq!(run.code, Some(0), "{}", run.errors);
    for name in PAPERS.into_iter().chain(["packet.pdf", "tables/takeoff.csv", "tables/parts.json", "tables/boards.csv"]) {
        assert!(fs::metadata(out.join(name)).is_ok_and(|file| file.len() > 100), "{name}");
    }
    for what in ["order of work", "labels", "part sheets", "setting-out rod", "templates", "board plans", "tables", "all papers in one"] {
        assert!(run.errors.contains(&format!("making {what}\n")), "{what}: {}", run.errors);
    }
    for (form, file) in
        [("dxf", "P1.dxf"), ("svg", "P1.svg"), ("gltf", "case.glb"), ("stl", "P1.stl"), ("3mf", "P1.3mf"), ("step", "case.step")]
    {
        assert!(
            out.join(form).join(file).exists() && run.errors.to_lowercase().contains(&format!("making {form}")),
            "{form}: {}",
            run.errors
        );
    }
    assert!(!run.out.contains("making"), "{}", run.out);
    let count =
        |path: &Path| fs::read_dir(path).expect("a folder").filter(|entry| entry.as_ref().is_ok_and(|it| it.path().is_file())).count();
    let folders = ["", "tables", "dxf", "svg", "gltf", "stl", "3mf", "step"];
    let written: usize = folders.iter().map(|name| count(&out.join(name))).sum();
    assert!(run.out.contains(&format!("{written} files in ")), "{written}: {}", run.out);
}

/// What was `setups` is `cards`, and still answers to both.
#[test]
fn cards_answer_to_their_older_name_too() {
    let (cards, setups) = (on_demo("cards", &[]), on_demo("setups", &[]));
    assert_eq!(cards.code, Some(0), "{}", cards.errors);
    assert!(cards.out.contains("Test piece") && cards.out == setups.out);
}

/// Each sheet lies beside the PDF, in the size, the projection and with the signs that were asked for.
#[test]
fn drawings_are_written_as_they_are_asked_for() {
    let folder = tempfile::tempdir().expect("a folder");
    let out = folder.path().join("drawings");
    let words = ["--out", &out.display().to_string(), "--sheet", "a4", "--angle", "third", "--decimal", "comma", "--creator", "A. Maker"];
    let run = on_demo("draw", &words);
    assert_eq!(run.code, Some(0), "{}", run.errors);
    assert!(fs::read(out.join("drawings.pdf")).expect("written").starts_with(b"%PDF-"));
    let views = fs::read_to_string(out.join("1-views.svg")).expect("written");
    for wanted in ["viewBox=\"0 0 210 297\"", ">From the right<", ">A. Maker<", ">1360<", ">1:20<"] {
        assert!(views.contains(wanted), "{wanted} is not in 1-views.svg");
    }
    // Part sheets are drawn as the rest: the fence of a groove for a sheet of 12.75.
    assert!(fs::read(out.join("part_sheets.pdf")).expect("written").starts_with(b"%PDF-"));
    let parts = fs::read_to_string(out.join("1-parts.svg")).expect("written");
    assert!(parts.contains("12,95 wide") && parts.contains(">A. Maker<"));
    let sections = fs::read_to_string(out.join("2-sections.svg")).expect("written");
    assert!(sections.contains(">12,75<") && run.out.contains("2-sections.svg"), "{}", run.out);
}

/// What the water of a glue does, and how diagonals are measured, stands with each glue-up.
#[test]
fn the_order_tells_of_swelling_and_how_to_measure_square() {
    let run = on_demo("order", &[]);
    assert_eq!(run.code, Some(0), "{}", run.errors);
    for wanted in
        ["the water in the glue swells loose tenons and dowels: push each home at once", "measure both: the longer may be 1.6 mm longer"]
    {
        assert!(run.out.contains(wanted), "{wanted} is not in {}", run.out);
    }
    assert!(!on_demo("order", &["--with", "shop.glue.family=epoxy"]).out.contains("swells"));
}

/// The demo in a folder of its own, to be written to.
fn own_demo() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("case.ron");
    fs::write(&file, DEMO).expect("written");
    (folder, file)
}

fn milled(file: &Path, words: &[&str]) -> Run {
    let file = file.display().to_string();
    cli(&[&["milled", &file], words].concat())
}

/// What is glued is told as done, in words and in JSON, and what was left out of it is named.
#[test]
fn the_order_begins_from_what_is_glued() {
    let (_folder, file) = own_demo();
    let told = |flags: &[&str]| cli(&[&["order", &file.display().to_string()], flags].concat());
    assert!(!told(&[]).out.contains("Glued already"));
    for part in
        ["post.front.left", "post.back.left", "rail.left.bottom", "rail.left.middle.1", "rail.left.top", "panel.left.1", "panel.left.2"]
    {
        milled(&file, &[part, "state=glued"]);
    }
    let run = told(&[]);
    assert_eq!(run.code, Some(0), "{}{}", run.out, run.errors);
    for wanted in ["still to do", "Glued already\n       left frame: 7 parts, 6 joints\n"] {
        assert!(run.out.contains(wanted), "{wanted} is not in {}", run.out);
    }
    let order = json(&told(&["--json"]));
    let [done] = &order["done"].as_array().expect("what is done")[..] else { panic!("{order:#}") };
    assert_eq!((done["title"].as_str(), done["joints"].as_array().map(Vec::len)), (Some("left frame"), Some(6)));
    milled(&file, &["panel.left.1", "state=cut"]);
    let run = told(&[]);
    assert_eq!(run.code, Some(1), "{}{}", run.out, run.errors);
    assert!(run.out.contains("No way was found to put in left panel 1") && run.out.contains("glued together already"), "{}", run.out);
}

#[test]
fn what_was_measured_and_made_is_written_into_the_file_and_told() {
    let (_folder, file) = own_demo();
    let run = milled(&file, &[]);
    assert_eq!((run.code, run.out.contains("all is as planned")), (Some(0), true), "{}{}", run.out, run.errors);
    assert_eq!(fs::read_to_string(&file).expect("the demo"), DEMO, "only asking writes nothing");

    let run = milled(&file, &["carcase.post.width=48.4", "timber.panel.measured=12.6"]);
    assert_eq!(run.code, Some(0), "{}{}", run.out, run.errors);
    assert!(run.out.contains("carcase.post.width") && run.out.contains("48.4"), "{}", run.out);

    // A mark records all that are alike, and the case between posts of 48.4 asks for 1263.2.
    let run = milled(&file, &["rail.front.bottom", "state=cut", "length=1252", "note=forgot the posts"]);
    assert_eq!(run.code, Some(1), "{}{}", run.out, run.errors);
    for wanted in ["length 1252 (planned 1263.2)", "cut", "Will fail: Front rail, bottom is 11.2 mm too short", "remedy", "or"] {
        assert!(run.out.contains(wanted), "{wanted} is not in {}", run.out);
    }
    let text = fs::read_to_string(&file).expect("written");
    assert!(text.contains("// A records room keeps archive boxes") && text.contains("forgot the posts"), "{text}");
    let check = cli(&["check".as_ref(), file.as_os_str()]);
    assert_eq!(check.code, Some(1), "{}", check.out);
    let listed = json(&cli(&["parts".as_ref(), file.as_os_str(), "--json".as_ref()]));
    assert_eq!(part(&listed, "rail.front.bottom")["state"], "cut");

    let run = milled(&file, &["rail.front.bottom", "state=planned"]);
    assert_eq!(run.code, Some(0), "{}{}", run.out, run.errors);
    milled(&file, &["carcase.post.width=none", "timber.panel.measured=none"]);
    assert!(!fs::read_to_string(&file).expect("written").contains("shop"));
}

/// Whatever is recorded: what `milled` tells under its tables is what `check` tells of the same file, and both end alike.
#[test]
fn as_milled_finds_what_a_check_finds() {
    let records: [(&[&str], i32); 6] = [
        (&["LT1", "length=52", "state=cut"], 1),
        (&["timber.panel.measured=6.4"], 1),
        (&["rail.front.bottom", "length=1252", "state=cut"], 1),
        (&["carcase.post.width=48.4"], 0),
        (&["top", "width=490", "state=cut"], 0),
        // It then lies on 38 of the 48 of either back post.
        (&["top", "width=460", "state=cut"], 1),
    ];
    for (words, code) in records {
        let (_folder, file) = own_demo();
        let made = milled(&file, words);
        let check = cli(&["check".as_ref(), file.as_os_str()]);
        assert_eq!((made.code, check.code), (Some(code), Some(code)), "{words:?}: {}{}", made.out, check.out);
        assert!(made.out.ends_with(&check.out), "{words:?}: {}is not the end of\n{}", check.out, made.out);
        assert_eq!(code == 0, !made.out.contains("will fail"), "{words:?}: {}", made.out);
    }
}

#[test]
fn what_can_not_be_recorded_is_told_and_leaves_the_file_alone() {
    let (_folder, file) = own_demo();
    for (words, wanted) in [
        (vec!["carcase.width=900"], "it must be stock"),
        (vec!["carcase.post.width=thick"], "millimetres"),
        (vec!["carcase.post.width=900"], "20 to 200 mm"),
        (vec!["rail.frnt.bottom", "length=900"], "rail.front.bottom"),
        (vec!["rail.front.bottom"], "state=cut"),
        (vec!["rail.front.bottom", "stile.1", "state=cut"], "one part at a time"),
        (vec!["rail.front.bottom", "state=sawn"], "planned, roughed, cut or glued"),
        (vec!["rail.front.bottom", "colour=red"], "colour"),
        (vec!["rail.front.bottom", "state=cut", "--with", "carcase.width=1400"], "--with"),
    ] {
        let run = milled(&file, &words);
        assert_eq!(run.code, Some(2), "{words:?}: {}", run.out);
        assert!(run.errors.contains(wanted) && run.out.is_empty(), "{words:?}: {}", run.errors);
        assert_eq!(fs::read_to_string(&file).expect("the demo"), DEMO, "{words:?}");
    }
}

#[test]
fn a_reader_that_leaves_early_is_no_fault() {
    let mut child = Command::new(env!("CARGO_BIN_EXE_casewright-cli"))
        .args(["parts".as_ref(), demo().as_os_str(), "--obj".as_ref()])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    // More than a pipe holds is to come; the reader takes one byte and goes.
    let mut out = child.stdout.take().expect("a pipe");
    out.read_exact(&mut [0]).expect("a byte");
    drop(out);
    let ended = child.wait_with_output().expect("it ends");
    assert!(ended.stderr.is_empty(), "{}", String::from_utf8_lossy(&ended.stderr));
    assert_eq!(ended.status.code(), Some(0));
}

/// By table 13-5 of the Wood Handbook FPL-GTR-190 (read) white ash moves by 0.00274 a percent along the rings: 498 × 0.00274 × 5 is 6.8.
#[test]
fn timbers_and_panels_are_set_side_by_side() {
    let run = on_demo("compare", &[]);
    assert_eq!((run.code, run.errors.as_str()), (Some(0), ""));
    let ash = run.out.lines().find(|line| line.starts_with("now")).expect("the design's own");
    assert!(ash.contains("Ash, white") && ash.contains(" 6.8 "), "{ash}");
    assert!(run.out.contains("* rests on figures from memory") && run.out.contains("lack a price"), "{}", run.out);
    let teak = run.out.lines().find(|line| line.contains("Teak")).expect("a species of the table");
    assert!(teak.contains(" 4.6* ") && !ash.contains(" 6.8*"), "its movement is from memory: {teak}");
    let panels = json(&on_demo("compare", &["--of", "panels", "--json"]));
    let rows = panels["rows"].as_array().expect("rows");
    assert_eq!((rows.len(), &panels["currency"]), (5, &Value::from("€")));
    assert_eq!(rows.iter().filter(|row| row["chosen"] == true).count(), 1);
    assert!(rows.iter().all(|row| row["hours"]["value"].as_f64().is_some_and(|hours| hours > 0.0)), "{panels}");
    let dearer = json(&on_demo("compare", &["--json", "--with", "money.timber.white_ash=2900"]));
    let cost = |document: &Value| document["rows"][0]["cost"]["value"].as_f64().expect("a price");
    assert!(cost(&dearer) > cost(&json(&on_demo("compare", &["--json"]))));
}

/// What is printed to mend a finding is pasted into a shell as it stands, blanks and all.
#[test]
fn a_remedy_can_be_pasted() {
    let wrong = ["--with", "joinery.rail_to_post.by=mortise_and_tenon", "--with", "joinery.rail_to_post.tenon.meeting=short"];
    let run = on_demo("check", &[&wrong[..], &["--with", "joinery.rail_to_post.tenon.length=40"]].concat());
    let remedy =
        run.out.lines().find(|line| line.contains("by rule")).unwrap_or_else(|| panic!("a size goes back to its rule: {}", run.out));
    assert!(remedy.contains("--with \"joinery.rail_to_post.tenon.length=by rule\""), "{remedy}");
}

/// Rags with a drying oil are cautioned against where there is one, and nowhere else.
#[test]
fn the_order_of_work_ends_with_what_can_hurt() {
    let told = |finish: &str| on_demo("order", &["--with", &format!("timber.finish={finish}")]).out;
    assert!(told("drying_oil").contains("oily rags: ") && told("drying_oil").contains("2 mg/m³"));
    assert!(!told("film").contains("oily rags"));
}
