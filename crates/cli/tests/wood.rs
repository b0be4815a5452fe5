//! Small sums of timber at the command line: the answer first, then why; errors that say what would do.

use std::process::{Command, Output};

use serde_json::Value;

/// Exit code, output and errors of `wood` with these words.
fn wood(words: &str) -> (Option<i32>, String, String) {
    let mut cli = Command::new(env!("CARGO_BIN_EXE_casewright-cli"));
    let Output { status, stdout, stderr } = cli.arg("wood").args(words.split(' ')).output().expect("the program starts");
    let text = |bytes| String::from_utf8(bytes).expect("text");
    (status.code(), text(stdout), text(stderr))
}

fn answered(words: &str) -> String {
    let (code, out, errors) = wood(words);
    assert_eq!((code, errors.as_str()), (Some(0), ""), "{words}");
    out
}

/// A figure of the answer, from JSON.
fn figure(words: &str, key: &str) -> f64 {
    let document: Value = serde_json::from_str(&answered(&format!("{words} --json"))).expect("JSON");
    assert_eq!(document["schema"], 1);
    let figures = document["figures"].as_array().expect("figures");
    let figure = figures.iter().find(|figure| figure["key"] == key).unwrap_or_else(|| panic!("no {key} in {document}"));
    figure["value"].as_f64().expect("a number")
}

fn refused(words: &str, says: &[&str]) {
    let (code, out, errors) = wood(words);
    assert_eq!((code, out.as_str()), (Some(2), ""), "{words}: {errors}");
    for part in says {
        assert!(errors.contains(part), "{words}: no {part:?} in {errors}");
    }
}

/// 9.2 % at 70 °F and 50 % (Wood Handbook FPL-GTR-190, table 4-2, read).
#[test]
fn moisture_is_answered_first_and_then_why() {
    let told = answered("moisture --temperature 21 --rh 50");
    assert!(told.starts_with("Wood comes to 9.2 % moisture in air of 50 % humidity at 21 °C\n"), "{told}");
    for part in ["equation 4-5", "read", "temperature 21 °C", "below", "above"] {
        assert!(told.contains(part), "no {part} in {told}");
    }
    assert!((figure("moisture --temperature 21 --rh 50", "moisture") - 9.245).abs() < 0.001);
    assert!((figure("moisture --temperature 21 --moisture 9.245", "humidity") - 50.0).abs() < 0.01);
}

/// 480 of flat-sawn white oak from 6 to 10 %: 7.0 (arithmetic on Wood Handbook FPL-GTR-190, table 13-5, read).
#[test]
fn movement_is_answered_first_and_then_why() {
    let question = "move --species white_oak --sawn flat --width 480 --from 6 --to 10";
    let told = answered(question);
    assert!(told.starts_with("Oak, white, flat-sawn, grows by 7.0 mm, from 480 to 487.0 mm\n"), "{told}");
    for part in ["equation 13-2", "table 13-5; read", "0.00365"] {
        assert!(told.contains(part), "no {part} in {told}");
    }
    assert!((figure(question, "change") - 7.008).abs() < 1e-9);
    assert!((figure(question, "width_after") - 487.008).abs() < 1e-9);
    let back = answered("move --species white_oak --sawn flat --width 480 --from 10 --to 6");
    assert!(back.contains("shrinks by 7.0 mm"), "{back}");
}

#[test]
fn a_figure_from_memory_says_so() {
    let told = answered("move --sheet veneered_mdf_12 --width 600 --from 6 --to 11");
    assert!(told.contains("from memory"), "{told}");
    let rough = answered("move --species teak --width 200 --from 5 --to 16");
    assert!(rough.contains("from memory") && rough.contains("a rough guide"), "{rough}");
}

#[test]
fn what_will_not_do_says_what_would() {
    refused("move --species wite_oak --width 480 --from 6 --to 10", &["no species \"wite_oak\"", "white_oak"]);
    refused("move --sheet veneered_mdf --width 480 --from 6 --to 10", &["no sheet", "veneered_mdf_1"]);
    refused("move --species white_oak --width 480 --from 6 --to 40", &["--to: 40 %", "0 to 30 %"]);
    refused("move --species white_oak --sawn rift --rings 95 --width 480 --from 6 --to 10", &["--rings: 95°", "0 (flat) to 90"]);
    refused("move --species white_oak --width -3 --from 6 --to 10", &["--width"]);
    refused("moisture --temperature 60 --rh 50", &["temperature: 60 °C", "0 to 50 °C"]);
    refused("moisture --temperature 20 --rh 99", &["relative humidity: 99 %", "5 to 95 %"]);
    refused("moisture --temperature 20", &["--rh"]);
}
