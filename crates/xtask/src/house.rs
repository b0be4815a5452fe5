//! `cargo xtask test house`: the rooms are the ones that are written down, and each knows only what it may.

use std::collections::BTreeSet;
use std::fs;

use crate::failure::{Result, While, fail};
use crate::places;
use crate::process::{cargo, output_of};

/// Whatever opens a window, draws in it or asks the desktop.
const WINDOWS: &[&str] = &["bevy", "egui", "eframe", "winit", "wgpu", "rfd"];

/// Each crate that must stay without a window, and those of ours that it may know.
const PURE: &[(&str, &[&str])] = &[
    ("casewright-solid", &[]),
    ("casewright-cutting", &[]),
    ("casewright-core", &["casewright-solid", "casewright-cutting"]),
    ("casewright-sheets", &["casewright-core", "casewright-solid", "casewright-cutting"]),
    ("casewright-cli", &["casewright-sheets", "casewright-core", "casewright-solid", "casewright-cutting"]),
];

/// Runs both checks.
pub fn check() -> Result {
    let mut faults = names_faults(&written_guide()?, &crates()?);
    for (package, may_know) in PURE {
        let tree = ["tree", "--edges", "normal", "--prefix", "none", "--format", "{p}"];
        let listed = output_of(cargo().args(tree).args(["--package", package]))?;
        faults.extend(purity_faults(package, may_know, &listed));
    }
    if faults.is_empty() { Ok(()) } else { fail(faults.join("\n  ")) }
}

fn written_guide() -> Result<String> {
    fs::read_to_string(places::root().join("DEVELOPERS.md")).while_doing("read DEVELOPERS.md")
}

/// The names of the folders in `crates/`.
fn crates() -> Result<BTreeSet<String>> {
    let folder = places::root().join("crates");
    let entries = fs::read_dir(&folder).while_doing(format!("read {}", folder.display()))?;
    let folders = entries.flatten().filter(|entry| entry.path().join("Cargo.toml").is_file());
    Ok(folders.map(|entry| entry.file_name().to_string_lossy().into_owned()).collect())
}

/// Crates that the guide leaves out, and those it names that are gone.
fn names_faults(guide: &str, crates: &BTreeSet<String>) -> Vec<String> {
    let named = crates_named(guide);
    let unnamed = crates.difference(&named);
    let gone = named.difference(crates);
    unnamed
        .map(|name| format!("DEVELOPERS.md does not name crates/{name}"))
        .chain(gone.map(|name| format!("DEVELOPERS.md names crates/{name}, which is not there")))
        .collect()
}

/// Every name that stands after `crates/`.
fn crates_named(guide: &str) -> BTreeSet<String> {
    let part_of_name = |c: char| c.is_ascii_alphanumeric() || c == '_' || c == '-';
    guide
        .split("crates/")
        .skip(1)
        .map(|rest| rest.split(|c| !part_of_name(c)).next().unwrap_or_default().to_owned())
        .filter(|name| !name.is_empty())
        .collect()
}

/// What a crate knows that it may not, from the packages that `cargo tree` lists, one a line.
fn purity_faults(package: &str, may_know: &[&str], tree: &str) -> Vec<String> {
    let known: BTreeSet<&str> = tree.lines().filter_map(|line| line.split_whitespace().next()).collect();
    if !known.contains(package) {
        return vec![format!("cargo tree says nothing of {package}")];
    }
    let family = |name: &str, stem: &str| name.strip_prefix(stem).is_some_and(|rest| rest.is_empty() || rest.starts_with(['_', '-']));
    let barred = |name: &str| {
        let ours = name.starts_with("casewright") && name != package;
        (ours && !may_know.contains(&name)) || WINDOWS.iter().any(|stem| family(name, stem))
    };
    known.into_iter().filter(|name| barred(name)).map(|name| format!("{package} must not depend on {name}")).collect()
}

#[cfg(test)]
mod tests {
    use super::{crates_named, names_faults, purity_faults};

    #[test]
    fn a_crate_is_named_by_its_folder() {
        let named = crates_named("`crates/core/` and crates/app, but crates/* stands for all");
        assert_eq!(named.into_iter().collect::<Vec<_>>(), ["app", "core"]);
    }

    #[test]
    fn the_guide_names_what_is_there_and_nothing_else() {
        let crates = ["core", "app"].map(str::to_owned).into();
        assert!(names_faults("crates/app crates/core", &crates).is_empty());
        let faults = names_faults("crates/core crates/old", &crates);
        assert_eq!(faults.len(), 2);
        assert!(faults[0].contains("crates/app") && faults[1].contains("crates/old"));
    }

    #[test]
    fn a_window_in_the_tree_is_a_fault() {
        let tree = "casewright-core v0.1.0 (path)\nglam v0.32.1\nbevy_math v0.19.1\nrfd v0.17.1 (*)";
        let faults = purity_faults("casewright-core", &[], tree);
        assert_eq!(faults.len(), 2, "{faults:?}");
        // Another name that only begins alike is none.
        assert!(purity_faults("a", &[], "a v1\nrfdx v1").is_empty());
    }

    #[test]
    fn a_crate_of_ours_is_a_fault_where_it_may_not_be_known() {
        let tree = "casewright-core v0.1.0\ncasewright-solid v0.1.0\ncasewright v0.1.0";
        let faults = purity_faults("casewright-core", &["casewright-solid"], tree);
        assert_eq!(faults, ["casewright-core must not depend on casewright"]);
    }

    #[test]
    fn an_empty_tree_proves_nothing() {
        assert_eq!(purity_faults("casewright-core", &[], "").len(), 1);
    }
}
