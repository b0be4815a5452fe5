//! The hand at the window: opens it, moves the pointer, presses keys, reads the report, looks at pictures.

use std::path::{Path, PathBuf};
use std::process::{Child, Command};
use std::thread::sleep;
use std::time::{Duration, Instant};

use casewright_tests::DEMO;
use serde_json::Value;

/// Moves of the pointer in a drag.
const DRAG_STEPS: u32 = 12;

/// The window of the program, open on a copy of the demo.
pub struct Window {
    pub program: Child,
    pub folder: tempfile::TempDir,
    pictures: PathBuf,
}

impl Drop for Window {
    fn drop(&mut self) {
        // The program may have ended by itself.
        let _ = self.program.kill();
        let _ = self.program.wait();
    }
}

fn environment(name: &str) -> PathBuf {
    std::env::var_os(name).map_or_else(|| panic!("{name} is not set: run this by cargo xtask test"), PathBuf::from)
}

/// Moves and presses as a hand does, or types.
pub fn pointer(arguments: &[&str]) {
    let status = Command::new("xdotool").args(arguments).status().expect("xdotool");
    assert!(status.success(), "xdotool {arguments:?}");
    // The software driver draws some ten frames a second; the pointer must not outrun them.
    sleep(Duration::from_millis(150));
}

/// The search path with a folder of a test's own programs before all others.
fn path_with(folder: &Path) -> std::ffi::OsString {
    let path = std::env::var_os("PATH").unwrap_or_default();
    let folders = std::iter::once(folder.to_owned()).chain(std::env::split_paths(&path));
    std::env::join_paths(folders).expect("folders without colons")
}

impl Window {
    pub fn open() -> Window {
        let folder = tempfile::tempdir().expect("a folder for the design");
        std::fs::write(folder.path().join("cabinet.ron"), DEMO).expect("a copy of the demo");
        Window::open_in(folder)
    }

    pub fn open_in(folder: tempfile::TempDir) -> Window {
        let pictures = environment("CASEWRIGHT_OUT");
        std::fs::create_dir_all(&pictures).expect("a folder for pictures");
        let report = folder.path().join("report.json");
        let _ = std::fs::remove_file(&report);
        let program = Command::new(environment("CASEWRIGHT_BIN"))
            .arg(folder.path().join("cabinet.ron"))
            .arg("--report")
            .arg(&report)
            .env_remove("WAYLAND_DISPLAY")
            // What is remembered from one test is none of another's.
            .env("XDG_CONFIG_HOME", folder.path().join("configuration"))
            .env("PATH", path_with(&folder.path().join("bin")))
            .spawn()
            .expect("the program starts");
        let window = Window { program, folder, pictures };
        window.until("the case is drawn", |report| {
            // Working out the order takes a core, on which the software driver draws.
            let order = report["steps"].is_number();
            order && report["generation"].as_u64() >= Some(1) && report["widgets"]["stage.Case"].is_array()
        });
        // A display without a window manager gives no window the keyboard by itself.
        pointer(&["search", "--sync", "--name", "Casewright", "windowfocus"]);
        window
    }

    pub fn report(&self) -> Option<Value> {
        let text = std::fs::read_to_string(self.folder.path().join("report.json")).ok()?;
        serde_json::from_str(&text).ok()
    }

    /// Waits until the report says so, and gives that report.
    pub fn until(&self, what: &str, holds: impl Fn(&Value) -> bool) -> Value {
        let start = Instant::now();
        let mut last = None;
        while start.elapsed() < Duration::from_secs(30) {
            if let Some(report) = self.report() {
                if holds(&report) {
                    return report;
                }
                last = Some(report);
            }
            sleep(Duration::from_millis(100));
        }
        self.snap("99-gave-up");
        panic!("never saw that {what}; the last report was {last:?}");
    }

    /// Waits until the report says so with the pointer holding nothing and all of it on screen, and gives that report.
    pub fn at_rest(&self, what: &str, holds: impl Fn(&Value) -> bool) -> Value {
        self.until(&format!("{what}, at rest"), |report| {
            report["settled"] == true && report["held"] == false && report["steps"].is_number() && holds(report)
        })
    }

    /// The middle of a widget, in pixels of the window.
    pub fn place(&self, widget: &str) -> (f64, f64) {
        let report = self.until(&format!("{widget} is shown"), |report| report["widgets"][widget].is_array());
        let edge = |index: usize| report["widgets"][widget][index].as_f64().expect("a rectangle");
        (f64::midpoint(edge(0), edge(2)), f64::midpoint(edge(1), edge(3)))
    }

    pub fn move_to((x, y): (f64, f64)) {
        pointer(&["mousemove", &format!("{x:.0}"), &format!("{y:.0}")]);
    }

    /// Turns the wheel over the panel of the stage until a widget of it is in sight.
    pub fn scroll_to(&self, widget: &str) {
        for _ in 0..60 {
            let report = self.at_rest(&format!("{widget} is there"), |report| report["widgets"][widget].is_array());
            let [left, top, width, height] = stage_area(&report);
            // The panel glides on for some frames.
            let (_, before) = self.place(widget);
            sleep(Duration::from_millis(400));
            let (_, y) = self.place(widget);
            if (y - before).abs() > 0.5 {
                continue;
            }
            if y > top + 30.0 && y < top + height - 30.0 {
                return;
            }
            Window::move_to((left + width / 2.0, top + height / 2.0));
            let far = y - (top + height / 2.0);
            let turns = (far.abs() / 150.0).clamp(1.0, 8.0).floor().to_string();
            pointer(&["click", "--repeat", &turns, "--delay", "30", if far < 0.0 { "4" } else { "5" }]);
        }
        panic!("{widget} is not in sight");
    }

    pub fn click(&self, widget: &str) {
        Window::move_to(self.place(widget));
        pointer(&["click", "1"]);
    }

    /// Types into a field in place of what stands there, which a click selects.
    pub fn enter(&self, field: &str, text: &str) {
        self.click(field);
        self.write(field, text);
    }

    /// Types into a field that takes what is typed, or is about to.
    pub fn write(&self, field: &str, text: &str) {
        self.at_rest(&format!("{field} takes what is typed"), |report| report["typing"] == true);
        pointer(&["type", text]);
        Window::key("Return");
    }

    /// Drags from a place by so many pixels to the right, in small steps, as a hand does.
    pub fn drag(from: (f64, f64), by: (f64, f64)) {
        Window::move_to(from);
        pointer(&["mousedown", "1"]);
        for step in 1..=DRAG_STEPS {
            let part = f64::from(step) / f64::from(DRAG_STEPS);
            Window::move_to((from.0 + by.0 * part, from.1 + by.1 * part));
        }
        pointer(&["mouseup", "1"]);
    }

    pub fn key(keys: &str) {
        pointer(&["key", keys]);
    }

    /// A picture of the whole display, once all is drawn.
    pub fn picture(&self, name: &str) -> PathBuf {
        self.at_rest(&format!("the case is drawn for {name}"), |_| true);
        // The panels draw a few frames more, and the display shows a frame later than the report tells of it.
        sleep(Duration::from_millis(500));
        self.snap(name)
    }

    /// A picture of the display as it is.
    pub fn snap(&self, name: &str) -> PathBuf {
        let path = self.pictures.join(format!("{name}.png"));
        let status = Command::new("import").args(["-window", "root"]).arg(&path).status().expect("import, of ImageMagick");
        assert!(status.success());
        path
    }
}

/// How many pixels of a region (x, y, width, height) differ between two pictures.
pub fn differing(a: &Path, b: &Path, region: [f64; 4]) -> f64 {
    let [x, y, width, height] = region.map(f64::round);
    let crop = format!("{width}x{height}+{x}+{y}");
    let output = Command::new("compare")
        .args(["-metric", "AE", "-fuzz", "4%", "-extract", &crop])
        .arg(a)
        .arg(b)
        .arg("null:")
        .output()
        .expect("compare, of ImageMagick");
    let text = String::from_utf8_lossy(&output.stderr).into_owned();
    text.split_whitespace().next().and_then(|count| count.parse().ok()).unwrap_or_else(|| panic!("compare says: {text}"))
}

pub fn number(report: &Value, path: &str) -> f64 {
    report["decisions"][path].as_str().and_then(|text| text.parse().ok()).unwrap_or_else(|| panic!("no {path} in the report"))
}

pub fn row<'r>(report: &'r Value, mark: &str) -> &'r Value {
    report["cut_list"].as_array().and_then(|rows| rows.iter().find(|row| row["mark"] == mark)).unwrap_or_else(|| panic!("no {mark}"))
}

/// Left, top, width and height of the part of the window that no panel covers.
pub fn view_area(report: &Value) -> [f64; 4] {
    let edge = |index: usize| report["view_area"][index].as_f64().expect("a view");
    [edge(0), edge(1), edge(2) - edge(0), edge(3) - edge(1)]
}

/// The panel of the stage, to the left of the view.
pub fn stage_area(report: &Value) -> [f64; 4] {
    let [left, top, _, height] = view_area(report);
    [0.0, top, left, height]
}

/// The findings and what is selected, to the right of the view.
pub fn findings_area(report: &Value) -> [f64; 4] {
    let [left, top, width, height] = view_area(report);
    [left + width, top, 240.0, height]
}
