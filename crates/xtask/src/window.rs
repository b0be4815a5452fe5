//! `cargo xtask run`: the window, or a picture of it where there is no display.

use std::env;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, SystemTime};

use crate::display::VirtualDisplay;
use crate::failure::{Result, While, fail};
use crate::needs::{FILE_DIALOG, Need, VIRTUAL_DISPLAY, WINDOW};
use crate::{packages, places, process};

/// Far more than a slow machine needs for one picture drawn by its processor.
const PICTURE_LIMIT: Duration = Duration::from_mins(3);

/// What the app must have written when it ends.
const WRITTEN: [&str; 4] = ["window.png", "cut_list.csv", "drawings.pdf", "shelf_plan.pdf"];

/// Builds the app and opens it on a design.
pub fn run(file: &Path, headless: bool) -> Result {
    // The app is started from the top of the tree; the user may stand elsewhere.
    let file = fs::canonicalize(file).while_doing(format!("open {}", file.display()))?;
    if headless || !there_is_a_display() {
        let why = if headless { "As asked" } else { "There is no display" };
        println!("{why}: drawing on a virtual one and saving a picture and the papers in out/.");
        make_sure_or_warn([WINDOW, VIRTUAL_DISPLAY]);
        // Before the long build, so that what is missing is told at once.
        let display = VirtualDisplay::start()?;
        picture(&display, &build()?, &file)
    } else {
        make_sure_or_warn([WINDOW, FILE_DIALOG]);
        let mut app = Command::new(build()?);
        process::run(app.current_dir(places::root()).arg(file))
    }
}

/// Where something cannot be had, says so and leaves it to the app: it may well do without.
fn make_sure_or_warn(needs: [&'static [Need]; 2]) {
    if let Err(failure) = packages::make_sure_of(needs.into_iter().flatten()) {
        eprintln!("warning: {failure}");
    }
}

fn there_is_a_display() -> bool {
    let set = |name: &str| env::var_os(name).is_some_and(|value| !value.is_empty());
    // Elsewhere the window does not go through either of the two.
    !cfg!(target_os = "linux") || set("DISPLAY") || set("WAYLAND_DISPLAY")
}

/// The dev profile: what runs in a frame is optimised in it.
fn build() -> Result<PathBuf> {
    println!("Building the window; the first time takes many minutes.");
    process::run(process::cargo().args(["build", "--package", "casewright", "--bin", "casewright"]))?;
    places::built("casewright")
}

fn picture(display: &VirtualDisplay, app: &Path, file: &Path) -> Result {
    let out = places::out()?;
    let before = written_in(&out);
    let mut command = Command::new(app);
    command.current_dir(places::root()).stdin(Stdio::null()).arg(file);
    command.arg("--picture").arg(out.join("window.png")).arg("--papers").arg(&out);
    let mut child = display.show(&mut command).spawn().while_doing("start the app")?;

    let limit = PICTURE_LIMIT.as_secs();
    match process::wait_at_most(&mut child, PICTURE_LIMIT)? {
        None => {
            return fail(format!("the app did not end within {limit} s and was stopped"));
        }
        Some(status) if !status.success() => return fail(format!("the app ended with {status}")),
        Some(_) => {}
    }
    let after = written_in(&out);
    for file in after.iter().filter(|file| !before.contains(file)) {
        println!("wrote out/{} ({} bytes)", file.name, file.bytes);
    }
    let unwritten = |name: &&&str| !after.iter().any(|f| f.name == ***name && f.bytes > 0 && !before.contains(f));
    match WRITTEN.iter().find(unwritten) {
        Some(name) => fail(format!("the app ended well but did not write out/{name}")),
        None => Ok(()),
    }
}

/// A file as it is now; the same name written again is another value.
#[derive(PartialEq)]
struct Written {
    name: String,
    bytes: u64,
    when: Option<SystemTime>,
}

fn written_in(folder: &Path) -> Vec<Written> {
    let files = fs::read_dir(folder).into_iter().flatten().flatten();
    let mut written: Vec<Written> = files
        .filter_map(|file| {
            let about = file.metadata().ok().filter(fs::Metadata::is_file)?;
            let name = file.file_name().to_string_lossy().into_owned();
            Some(Written { name, bytes: about.len(), when: about.modified().ok() })
        })
        .collect();
    written.sort_by(|a, b| a.name.cmp(&b.name));
    written
}
