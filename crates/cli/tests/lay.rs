//! `lay` as a person at the command line sees it.

use std::fs;
use std::process::{Command, Output};

use serde_json::Value;

/// Four rails of 600 with a kerf of 3.2 and 15 off each end fill a board of 2440 but for 0.4: 2439.6.
const RAILS: &str = r#"{ "kerf": 3.2, "trim": 15, "cuts": "lengths", "stock": [{ "id": "oak", "length": 2440 }],
    "pieces": [{ "id": "rail", "length": 600, "count": 4 }] }"#;

struct Run {
    code: Option<i32>,
    out: String,
    errors: String,
}

fn lay(task: &str, words: &[&str]) -> Run {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("task.json");
    fs::write(&file, task).expect("written");
    let mut cli = Command::new(env!("CARGO_BIN_EXE_casewright-cli"));
    let Output { status, stdout, stderr } = cli.arg("lay").arg(&file).args(words).output().expect("the program starts");
    let run = Run { code: status.code(), out: String::from_utf8(stdout).expect("text"), errors: String::from_utf8(stderr).expect("text") };
    assert!(!run.errors.contains("panicked"), "{}", run.errors);
    run
}

fn json(run: &Run) -> Value {
    serde_json::from_str(&run.out).unwrap_or_else(|error| panic!("{error}: {}", run.out))
}

#[test]
fn four_rails_come_out_of_one_board() {
    let run = lay(RAILS, &["--rounds", "2"]);
    assert_eq!(run.code, Some(0), "{}", run.errors);
    assert!(run.out.starts_with("1 board, cost 1: proven the least"), "{}", run.out);
    assert!(run.out.contains("rail: 600 at 1824.6"), "{}", run.out);
    let told = json(&lay(RAILS, &["--rounds", "2", "--json"]));
    assert_eq!((&told["count"], &told["proven"]), (&1.into(), &true.into()));
    assert_eq!(told["used"][0]["cuts"].as_array().map(Vec::len), Some(4));
}

#[test]
fn rounds_give_the_same_at_any_number_of_threads() {
    let task = r#"{ "kerf": 3, "stock": [{ "id": "sheet", "length": 1000, "width": 700 }], "pieces": [
        { "id": 1, "length": 420, "width": 310, "count": 7, "turn": true }, { "id": 2, "length": 250, "width": 190, "count": 9 },
        { "id": 3, "length": 610, "width": 95, "count": 6 }] }"#;
    let told = |threads: &str| {
        let mut told = json(&lay(task, &["--rounds", "4", "--seed", "9", "--threads", threads, "--json"]));
        told["seconds"] = Value::Null;
        told
    };
    assert_eq!(told("1"), told("3"));
}

#[test]
fn what_will_not_do_is_told_by_field_and_the_rest_laid_out() {
    let task = RAILS.replace("\"pieces\": [", "\"pieces\": [{ \"id\": \"beam\", \"length\": 3000 }, ");
    let run = lay(&task, &["--rounds", "2"]);
    assert_eq!(run.code, Some(1));
    assert!(run.out.contains("pieces[0].length of beam is 3000 mm"), "{}", run.out);
    assert!(run.out.contains("Without a place: 1 × beam"), "{}", run.out);
    assert!(run.out.contains("1 board, cost 1: proven"), "{}", run.out);
}

/// A word where a number belongs spoils its line alone: it is told by row and field with what would do, and everything else is laid out under its own number.
#[test]
fn a_word_for_a_number_spoils_its_line_alone() {
    let task = RAILS
        .replace("\"stock\": [", "\"stock\": [{ \"id\": \"elm\", \"length\": \"x\" }, { \"id\": \"ash\", \"lenght\": 900 }, ")
        .replace("\"pieces\": [", "\"pieces\": [{ \"id\": \"beam\", \"length\": true }, ");
    let run = lay(&task, &["--rounds", "2"]);
    assert_eq!(run.code, Some(1), "{}", run.errors);
    assert!(run.out.contains("stock[0].length of elm is \"x\"; it must be a number of millimetres"), "{}", run.out);
    assert!(run.out.contains("stock[1] of ash is not as it should be; unknown field `lenght`"), "{}", run.out);
    assert!(run.out.contains("pieces[0].length of beam is true; it must be a number"), "{}", run.out);
    assert!(run.out.contains("1 board, cost 1: proven") && run.out.contains("rail: 600 at 1824.6"), "{}", run.out);
    assert!(!run.out.contains("invalid type") && !run.out.contains("f64") && !run.out.contains("is 0 mm"), "{}", run.out);
    let told = json(&lay(&task, &["--rounds", "2", "--json"]));
    assert_eq!((&told["used"][0]["line"], &told["faults"][0]["field"]), (&2.into(), &"stock[0].length".into()));
}

#[test]
fn what_is_no_task_names_file_field_and_line() {
    for (text, told) in [
        (RAILS.replace("3.2", "\"3.2\""), "kerf is \"3.2\"; it must be a number of millimetres"),
        (RAILS.replace("kerf", "kref"), "kref"),
        (RAILS.replace("\"lengths\"", "\"round\""), "cuts: unknown variant `round`, expected `lengths` or `guillotine`"),
        (RAILS.replace("] }", "]"), "line 2"),
        (format!("{RAILS} more"), "trailing characters"),
    ] {
        let run = lay(&text, &[]);
        assert_eq!(run.code, Some(2), "{text}");
        assert!(run.errors.contains("task.json: ") && run.errors.contains(told), "{told}: {}", run.errors);
    }
}

#[test]
fn seconds_and_rounds_exclude_each_other() {
    let run = lay(RAILS, &["--rounds", "2", "--seconds", "1"]);
    assert_eq!(run.code, Some(2));
    assert!(run.errors.contains("--seconds"), "{}", run.errors);
    assert_eq!(lay(RAILS, &["--seconds", "-1"]).code, Some(2));
}
