//! `boards` and `cost` as a person at the command line sees them.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use serde_json::Value;
use tempfile::TempDir;

fn example(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples").join(name)
}

fn run(command: &str, words: &[&str]) -> (Option<i32>, String, String) {
    let mut cli = Command::new(env!("CARGO_BIN_EXE_casewright-cli"));
    let Output { status, stdout, stderr } =
        cli.arg(command).arg(example("records_cabinet.ron")).args(words).output().expect("the command line starts");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("text");
    (status.code(), text(stdout), text(stderr))
}

/// Each board is told with its fences; what is left goes into a table that can be cut from again.
#[test]
fn boards_are_cut_and_what_is_left_is_written() {
    let folder = TempDir::new().expect("a folder");
    let left = folder.path().join("left.csv");
    let [pile, left] = [example("pile.csv"), left].map(|path| path.display().to_string());
    let (code, out, err) = run("boards", &["--rounds", "1", "--pile", &pile, "--out-pile", &left]);
    assert_eq!(code, Some(0), "{err}");
    assert!(out.contains("rip, fence ") && out.contains("; frees ") && out.contains("Top is glued up from strips"), "{out}");
    let written = std::fs::read_to_string(&left).expect("it is written");
    assert!(written.starts_with("name,timber,length,width,thickness") && written.contains("C1"), "{written}");
    let (code, again, _) = run("boards", &["--rounds", "1", "--pile", &left, "--json"]);
    assert_eq!(code, Some(1), "what is left is not enough for another");
    let told: Value = serde_json::from_str(&again).expect("JSON");
    // All rows are good; of what is left some is thicker than these parts want.
    let all = told["told"].as_array().expect("a list");
    assert!(all.iter().all(|words| words.as_str().is_some_and(|words| words.contains("no thinner boards are left"))), "{all:?}");
}

#[test]
fn a_piece_placed_by_hand_is_told_as_such() {
    let pile = example("pile.csv").display().to_string();
    let (code, out, _) = run("boards", &["--rounds", "1", "--pile", &pile, "--with", "placed.rail.front.top=C1, 900, 100"]);
    assert_eq!(code, Some(0));
    assert!(out.contains("900 along, 100 across, by hand"), "{out}");
}

/// Nothing to buy from is not nothing to buy.
#[test]
fn without_a_dealers_list_nothing_is_said_of_buying() {
    let (code, out, err) = run("boards", &["--rounds", "1", "--dealer"]);
    assert_eq!((code, out.as_str()), (Some(2), ""));
    assert!(err.contains("the design has no dealer's list") && err.contains("--dealer dealer.csv"), "{err}");
    // One that offers none of what is wanted.
    let folder = TempDir::new().expect("a folder");
    let list = folder.path().join("list.csv");
    std::fs::write(&list, "species,length,width,thickness,price\nteak,2000,200,27,50\n").expect("written");
    let (code, out, _) = run("boards", &["--rounds", "1", "--dealer", &list.display().to_string()]);
    assert_eq!(code, Some(1));
    assert!(out.contains("Nothing that is offered does") && !out.contains("Nothing has to be bought"), "{out}");
}

#[test]
fn an_empty_pile_is_told_once() {
    let (code, out, _) = run("boards", &["--rounds", "1"]);
    assert_eq!(code, Some(1));
    assert_eq!(out.matches("Nothing is on hand").count(), 1, "{out}");
    assert!(out.lines().count() < 6, "{out}");
}

/// What is bought costs what it costs, and the lines add up to it.
#[test]
fn a_dealers_list_tells_what_to_buy() {
    let dealer = example("dealer.csv").display().to_string();
    let (code, out, err) = run("boards", &["--rounds", "1", "--dealer", &dealer, "--json"]);
    assert_eq!(code, Some(0), "{err}");
    let told: Value = serde_json::from_str(&out).expect("JSON");
    let lines = told["buy"].as_array().expect("a list");
    let sum: f64 = lines.iter().filter_map(|line| line["cost"].as_f64()).sum();
    assert!((told["total"].as_f64().expect("a total") - sum).abs() < 0.01 && sum > 100.0, "{told}");
    let (_, text, _) = run("boards", &["--rounds", "1", "--dealer", &dealer]);
    assert!(text.contains(" is bad: ") && text.contains("in all"), "{text}");
}

/// Lines of work add up to the hours; without a price the total is not known, and the decision that would hold it is named.
#[test]
fn the_job_is_reckoned_line_by_line() {
    let (code, out, _) = run("cost", &["--json"]);
    assert_eq!(code, Some(0));
    let told: Value = serde_json::from_str(&out).expect("JSON");
    let hours: f64 = told["operations"].as_array().expect("a list").iter().filter_map(|line| line["hours"].as_f64()).sum();
    assert!((told["hours"].as_f64().expect("hours") - hours).abs() < 1e-3 && told["total"].is_number(), "{told}");
    let (_, text, _) = run("cost", &["--with", "money.timber.white_ash=none"]);
    assert!(text.contains("not known without money.timber.white_ash"), "{text}");
}
