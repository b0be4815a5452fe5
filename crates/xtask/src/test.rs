//! `cargo xtask test`: everything that proves the project, fast checks first.

use std::path::PathBuf;

use crate::display::VirtualDisplay;
use crate::failure::{Result, fail};
use crate::needs::{READERS, VIRTUAL_DISPLAY, WINDOW, WINDOW_TESTS};
use crate::process::{cargo, output_of};
use crate::steps::{self, Step};
use crate::{house, packages, places, process, readers};

/// Where `proptest` looks for the number that its random designs follow from.
const RANDOM_DESIGNS: &str = "PROPTEST_RNG_SEED";

const STEPS: &[Step] = &[
    Step {
        name: "fmt",
        proves: "every file is laid out by rustfmt",
        needs: &[],
        run: || process::run(cargo().args(["fmt", "--all", "--check"])),
    },
    Step {
        name: "house",
        proves: "the crates are those that DEVELOPERS.md names, and know only what they may",
        needs: &[],
        run: house::check,
    },
    Step {
        name: "clippy",
        proves: "no lint complains",
        needs: &[],
        run: || {
            let all = ["clippy", "--workspace", "--all-targets", "--", "-D", "warnings"];
            process::run(cargo().args(all))
        },
    },
    Step {
        name: "doc",
        proves: "everything public is documented, and every link in it leads somewhere",
        needs: &[],
        run: || {
            let mut doc = cargo();
            doc.args(["doc", "--workspace", "--no-deps"]).env("RUSTDOCFLAGS", "-D warnings");
            process::run(&mut doc)
        },
    },
    Step {
        name: "test",
        proves: "units, behaviour, properties and published figures",
        needs: &[],
        run: || {
            let mut test = cargo();
            test.args(["test", "--workspace"]);
            // The same code gives the same answer: what random designs are tried follows from this, unless another is asked for.
            if std::env::var_os(RANDOM_DESIGNS).is_none() {
                test.env(RANDOM_DESIGNS, "1");
            }
            process::run(&mut test)
        },
    },
    Step {
        name: "window",
        proves: "the window does what a person at it would see",
        needs: &[WINDOW, VIRTUAL_DISPLAY, WINDOW_TESTS],
        run: window,
    },
    Step {
        name: "readers",
        proves: "programs that are not ours read the files as they are meant, build the same solids, and bend the same beams",
        needs: &[READERS],
        run: readers,
    },
];

/// Runs the steps of these names, or all.
pub fn run(names: &[String]) -> Result {
    let known: Vec<&str> = STEPS.iter().map(|step| step.name).collect();
    if let Some(name) = names.iter().find(|name| !known.contains(&name.as_str())) {
        return fail(format!("there is no step {name}; there are {}", known.join(", ")));
    }
    let asked = |step: &&Step| names.is_empty() || names.iter().any(|name| name == step.name);
    let steps: Vec<&Step> = STEPS.iter().filter(asked).collect();
    // All at the beginning: nobody wants to hear of a missing package after twenty minutes of building.
    for (step, component) in [("fmt", "rustfmt"), ("clippy", "clippy")] {
        if steps.iter().any(|asked| asked.name == step) {
            rust_has(step, component)?;
        }
    }
    packages::make_sure_of(steps.iter().flat_map(|step| step.needs).copied().flatten())?;
    steps::run_all(&steps)
}

fn rust_has(command: &str, component: &str) -> Result {
    let works = || output_of(cargo().args([command, "--version"])).is_ok();
    if works() {
        return Ok(());
    }
    println!("Rust lacks its component {component}; adding it.");
    // Where Rust came without rustup this fails, and the line below says what is missing.
    let _ = output_of(std::process::Command::new("rustup").args(["component", "add", component]));
    if works() { Ok(()) } else { fail(format!("Rust lacks its component {component}; please run\n  rustup component add {component}")) }
}

fn window() -> Result {
    exists("window")?;
    // With the tests, because then dependencies get the features that `cargo test` gave them and are not built again.
    process::run(cargo().args(["build", "--workspace", "--bins", "--tests"]))?;
    let out = places::out()?.join("window-tests");
    let display = VirtualDisplay::start()?;
    let mut test = ignored_tests(&["window"]);
    // One window has the keyboard at a time.
    test.arg("--test-threads=1");
    display
        .show(&mut test)
        .env("CASEWRIGHT_BIN", places::built("casewright")?)
        .env("CASEWRIGHT_CLI", places::built("casewright-cli")?)
        .env("CASEWRIGHT_OUT", out);
    process::run(&mut test)
}

fn readers() -> Result {
    exists("readers")?;
    exists("solids_oracle")?;
    exists("beam_oracle")?;
    exists("exchange")?;
    let python = readers::python()?;
    let node = readers::node()?;
    process::run(cargo().args(["build", "--workspace", "--bins", "--tests"]))?;
    let mut test = ignored_tests(&["readers", "exchange", "solids_oracle", "beam_oracle", "dimensions"]);
    test.env("CASEWRIGHT_CLI", places::built("casewright-cli")?).env("CASEWRIGHT_PYTHON", python).env("CASEWRIGHT_NODE_DIR", node);
    process::run(&mut test)
}

/// Tests that a plain `cargo test` leaves out, since they need more than Rust.
///
/// Asked for in the whole workspace: for one package alone cargo would choose other features for its dependencies and
/// build them a second time.
fn ignored_tests(names: &[&str]) -> std::process::Command {
    let mut test = cargo();
    test.args(["test", "--workspace"]);
    for name in names {
        test.args(["--test", name]);
    }
    test.args(["--", "--ignored", "--nocapture"]);
    test
}

fn exists(test: &str) -> Result {
    let place = PathBuf::from("tests/tests");
    let (file, folder) = (place.join(format!("{test}.rs")), place.join(test).join("main.rs"));
    let there = [&file, &folder].into_iter().any(|file| places::root().join(file).is_file());
    if there { Ok(()) } else { fail(format!("neither {} nor {} is there yet", file.display(), folder.display())) }
}
