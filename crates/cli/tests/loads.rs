//! `loads` at the command line: the shelves with their sags, what tips the case, what two must lift, and why.

use std::path::Path;
use std::process::{Command, Output};

use serde_json::Value;

/// What `command` prints about the demo with these words more.
fn demo(command: &str, words: &[&str]) -> String {
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/records_cabinet.ron");
    let mut cli = Command::new(env!("CARGO_BIN_EXE_casewright-cli"));
    let Output { status, stdout, stderr } = cli.arg(command).arg(file).args(words).output().expect("the program starts");
    let errors = String::from_utf8_lossy(&stderr);
    assert_eq!((status.code(), errors.as_ref()), (Some(0), ""), "{words:?}");
    String::from_utf8(stdout).expect("text")
}

fn json(command: &str, words: &[&str]) -> Value {
    serde_json::from_str(&demo(command, &[words, &["--json"]].concat())).expect("JSON")
}

#[test]
fn each_shelf_has_its_line_and_the_cautions_are_printed() {
    let told = demo("loads", &[]);
    for words in [
        "Shelf 2 of bay 3",
        "The floor of bay 1",
        "Front rail, bottom",
        "Most stressed:",
        "N at its top edge tip it forward, empty, on carpet",
        "The other 8 ways",
        "Level and forward it stands by itself",
    ] {
        assert!(told.contains(words), "{words}: {told}");
    }
    for caution in ["by local code and licensed practice", "Designed with reference to", "no design values", "Two lift what is over 23 kg"]
    {
        assert!(told.contains(caution), "{caution}: {told}");
    }
    assert!(!told.contains("complies"), "{told}");
}

#[test]
fn the_document_has_every_shelf_every_push_and_the_origin_of_each_sag() {
    let document = json("loads", &[]);
    assert_eq!(document["schema"], 1);
    let shelves = document["shelves"].as_array().expect("shelves");
    assert_eq!(shelves.len(), 13);
    for shelf in shelves {
        let part =
            document["parts"].as_array().expect("parts").iter().find(|part| part["part"] == shelf["part"]).expect("its part is told");
        assert_eq!(part["room"], shelf["name"]);
        let (sag, after) = (part["sag"]["value"].as_f64().expect("a sag"), shelf["after_years"].as_f64().expect("a sag"));
        assert!((sag - after).abs() < 1e-5 && after > 0.0, "{shelf}");
        assert!(part["sag"]["inputs"].as_array().is_some_and(|inputs| inputs.len() == 2), "sag at once and creep: {part}");
    }
    assert!(document["standing"]["pushes"].as_array().is_some_and(|pushes| pushes.len() == 10));
    assert_eq!(document["standing"]["anchored"], Value::Null);
    assert_eq!(document["lifts"].as_array().and_then(|lifts| lifts.last()).map(|lift| lift["step"].clone()), Some(Value::Null));
}

/// More years, more sag: none at all at once.
#[test]
fn years_are_a_decision() {
    let sag = |years: &str| {
        let document = json("loads", &["--with", years]);
        (document["shelves"][1]["at_once"].as_f64().expect("mm"), document["shelves"][1]["after_years"].as_f64().expect("mm"))
    };
    let ((now, at_once), (_, later)) = (sag("limits.years=0"), sag("limits.years=10"));
    assert!((now - at_once).abs() < 1e-6 && (later - 1.5 * now).abs() < 1e-5, "{now} {at_once} {later}");
}

#[test]
fn a_light_case_is_told_to_be_anchored_and_what_that_takes() {
    let open = ["--with", "carcase.left.filling=open", "--with", "carcase.right.filling=open", "--with", "carcase.back.filling=open"];
    assert!(demo("loads", &open).contains("Anchor it: "));
    let anchored = demo("loads", &[&open[..], &["--with", "carcase.wall=anchored"]].concat());
    assert!(anchored.contains("Anchored: 2 fixings at 1420 mm must each hold a pull of"), "{anchored}");
}

#[test]
fn a_part_tells_why_it_sags() {
    let told = demo("loads", &["--why", "slat.1.1.2"]);
    for words in ["sag after creep", "bending under its own weight", " × ", "allowed bending stress", "stress", "Wood Handbook"] {
        assert!(told.contains(words), "{words}: {told}");
    }
    assert!(demo("loads", &["--why", "post.front.left"]).contains("nothing bends it here"));
}

#[test]
fn tipping_masses_and_lifts_tell_why() {
    let tips = demo("loads", &["--why", "tipping"]);
    for words in
        ["N at its top edge tip it forward, empty, on carpet", "mass × free fall × distance to the edge ÷ height", "height over depth"]
    {
        assert!(tips.contains(words), "{words}: {tips}");
    }
    assert_eq!(tips.matches("push at the top edge that tips it").count(), 10);
    let weighs = demo("loads", &["--why", "mass"]);
    let lifts = demo("loads", &["--why", "lift"]);
    for words in ["volume × density", "density 672 kg/m³ (Wood Handbook", "volume of the parts as they are cut"] {
        assert!(weighs.contains(words) && lifts.contains(words), "{words}: {weighs} {lifts}");
    }
    let document = json("loads", &[]);
    // The case weighs the same wherever that is told.
    let compared = json("compare", &[]);
    let [kg, other] = [&document["standing"]["empty"]["kg"], &compared["rows"][0]["mass"]["value"]].map(|kg| kg.as_f64().expect("kg"));
    assert!((kg - other).abs() < 1e-3, "{kg} {other}");
    for (kg, why) in [
        (&document["standing"]["empty"]["kg"], &document["standing"]["empty"]["why"]),
        (&document["standing"]["loaded"]["kg"], &document["standing"]["loaded"]["why"]),
        (&document["lifts"][0]["kg"], &document["lifts"][0]["why"]),
    ] {
        let (kg, told) = (kg.as_f64().expect("kg"), why["value"].as_f64().expect("kg"));
        assert!((kg - told).abs() < 1e-3 && why["inputs"].as_array().is_some_and(|inputs| !inputs.is_empty()), "{why}");
    }
}

/// European cherry has no modulus of elasticity in the table, and the floors are of ready-veneered MDF of no known strength: both are told.
#[test]
fn what_is_not_judged_is_told_by_check_by_loads_and_in_json() {
    let cherry = ["--with", "timber.frame=european_cherry", "--with", "timber.shelving=european_cherry"];
    let told = demo("loads", &cherry);
    for words in ["30 slats: sag and stress not judged", "20 cleats: sag and stress not judged", "3 floors: stress in bending not judged"] {
        assert!(told.contains(words), "{words}: {told}");
    }
    let note = demo("check", &cherry);
    let note = note.lines().find(|line| line.contains("is not judged")).expect("a note");
    assert!(note.contains("20 cleats") && note.contains("no modulus of elasticity is known for Cherry, European"), "{note}");
    assert_eq!(
        (note.matches("not judged").count(), note.matches("Cherry, European").count()),
        (1, 1),
        "it is told once, in one sentence: {note}"
    );
    let document = json("loads", &[]);
    let floors = document["unjudged"].as_array().expect("a list").iter().filter(|one| one["asked"] == "stress in bending").count();
    assert_eq!(floors, 3);
    assert!(demo("loads", &["--why", "floor.1"]).contains("stress in bending not judged: no strength in bending is known for"));
}

/// With a limit of 10 kg some steps of the demo take two, and their lines say so.
#[test]
fn steps_that_take_two_are_marked() {
    let strict = ["--with", "limits.lift=10"];
    let document = json("order", &strict);
    let heavy =
        document["steps"].as_array().expect("steps").iter().filter(|step| step["two_lift"].as_f64().is_some_and(|kg| kg > 10.0)).count();
    assert!(heavy > 0);
    assert_eq!(demo("order", &strict).matches("two lift it").count(), heavy);
}
