//! `holds` at the command line: where everything stands, and which shelves take one box.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use serde_json::Value;

fn demo() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/records_cabinet.ron")
}

/// Exit code, what is printed, what is told of errors.
fn holds(words: &[&str]) -> (Option<i32>, String, String) {
    let mut cli = Command::new(env!("CARGO_BIN_EXE_casewright-cli"));
    let Output { status, stdout, stderr } = cli.arg("holds").arg(demo()).args(words).output().expect("the program starts");
    (status.code(), String::from_utf8(stdout).expect("text"), String::from_utf8(stderr).expect("text"))
}

#[test]
fn everything_in_the_demo_has_a_place_and_no_shelf_bears_too_much() {
    let (code, told, errors) = holds(&[]);
    assert_eq!((code, errors.as_str()), (Some(0), ""), "{told}");
    assert!(told.starts_with("Records cabinet: 21 of 21 things have a place"), "{told}");
    let (_, json, _) = holds(&["--json"]);
    let document: Value = serde_json::from_str(&json).expect("JSON");
    assert_eq!((document["placed"].as_u64(), document["most"].as_u64()), (Some(21), Some(21)));
    for shelf in document["shelves"].as_array().expect("shelves") {
        assert!(shelf["carries"].as_f64().is_none_or(|carries| shelf["kg"].as_f64() <= Some(carries)), "{shelf}");
    }
}

#[test]
fn a_box_is_told_where_it_fits_and_what_is_lacking_elsewhere() {
    let (code, told, _) = holds(&["--box", "420x310x260"]);
    assert_eq!(code, Some(0), "{told}");
    // Bay 1 is 470 wide, bay 2 346: 420 and 2 on either side.
    assert!(told.lines().any(|line| line.contains("of bay 1") && !line.contains("lacks")), "{told}");
    assert!(told.lines().any(|line| line.contains("of bay 2") && line.contains("mm of width")), "{told}");
    assert!(told.contains("Bay 2 never takes it"), "{told}");
    let (code, told, _) = holds(&["--box", "42 cm × 31 cm × 90 cm", "--any-way"]);
    assert_eq!(code, Some(1), "nothing is so high: {told}");
}

#[test]
fn sizes_that_are_none_are_told() {
    for (words, told) in
        [("420x310", "2 sizes are given"), ("420xwidex260", "\"wide\" is not a length"), ("420x310x9000", "9000 mm is out of range")]
    {
        let (code, _, errors) = holds(&["--box", words]);
        assert_eq!(code, Some(2), "{errors}");
        assert!(errors.contains(told), "{words}: {errors}");
    }
    let (code, _, errors) = holds(&["--kind", "Hat box"]);
    assert!(code == Some(2) && errors.contains("there are: Records carton"), "{errors}");
}

#[test]
fn a_list_is_read_from_a_table_and_bad_rows_are_told() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("boxes.csv");
    fs::write(&path, "Name;W (cm);D (cm);H (cm);kg;qty\nLong roll;90;12;12;2,5;3\nFile;7,5;26;37;3;5\n").expect("written");
    let list = path.display().to_string();
    let (code, told, errors) = holds(&["--list", &list]);
    assert_eq!((code, errors.as_str()), (Some(1), ""), "{told}");
    assert!(told.contains("No place for 3 × Long roll: stands nowhere, even in the empty case"), "{told}");
    assert!(told.contains("5 of 8 things have a place"), "{told}");
    fs::write(&path, "Name;W;D;H\nFile;75;260;tall\n").expect("written");
    let (code, _, errors) = holds(&["--list", &list]);
    assert!(code == Some(2) && errors.contains("row 2, column 4 (height): \"tall\" is not a length"), "{errors}");
}

/// Next year's list: what has to be moved for it is told, and the design is written with the list and its shelves as they lie then.
#[test]
fn a_new_list_tells_what_has_to_move_and_goes_into_the_file() {
    let folder = tempfile::tempdir().expect("a folder");
    let (list, out) = (folder.path().join("boxes.csv"), folder.path().join("next.ron"));
    fs::write(&list, "Name;W;D;H;kg;qty\nTall file;80;300;420;3;6\nCarton;330;400;250;12;4\n").expect("written");
    let [list, path] = [list.display().to_string(), out.display().to_string()];
    let (code, told, errors) = holds(&["--list", &list, "--shelves", "move", "--out", &path]);
    assert_eq!((code, errors.as_str()), (Some(0), ""), "{told}");
    assert!(told.contains("To be moved:") && told.contains("from tooth "), "{told}");
    assert!(told.contains("All shelves and floors together carry "), "{told}");
    assert!(told.contains("Taken out while the others stay") && told.contains("tilts out at "), "{told}");
    let mut cli = Command::new(env!("CARGO_BIN_EXE_casewright-cli"));
    let again = cli.arg("holds").arg(&out).args(["--json"]).output().expect("the program starts");
    let document: Value = serde_json::from_slice(&again.stdout).expect("JSON");
    assert_eq!((document["wanted"].as_u64(), document["placed"].as_u64()), (Some(10), Some(10)), "{document}");
    assert!(document["moves"].as_array().is_some_and(Vec::is_empty), "nothing has to be moved any more");
    assert!(
        document["tilts"].as_array().is_some_and(|tilts| tilts.len() == 10 && tilts.iter().any(|tilt| tilt["comes_out"] == true)),
        "{document}"
    );
    assert!(document["carries_in_all"].as_f64().is_some_and(|kg| kg > 200.0), "{document}");
}
