//! The program that the system has for PDF: it shows papers and prints them.

use std::io;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::thread;
use std::time::{Duration, Instant};

use super::store;

/// What opens a file in the program that the system has for it.
const PROGRAM: &str = if cfg!(target_os = "macos") {
    "open"
} else if cfg!(target_os = "windows") {
    "explorer"
} else {
    "xdg-open"
};

/// So long it is waited for word that there is no such program; one that is still there then shows the paper.
const WORD: Duration = Duration::from_secs(4);
const STEP: Duration = Duration::from_millis(40);

/// Writes a paper aside, under a name that is not there yet, and opens it.
///
/// # Errors
/// A sentence that says what to do: where it lies when it can't be opened, or why it was not written.
pub fn show(bytes: &[u8], name: &str) -> Result<(), String> {
    let path = aside(name).map_err(|error| format!("A paper to show was not written: {error}"))?;
    store::write(&path, bytes).map_err(|error| format!("{} was not written: {error}", path.display()))?;
    open(PROGRAM, &path).map_err(|why| format!("{why}. The papers are in {}: open and print them from there.", path.display()))
}

/// A file among those that the system clears away by itself. One that a viewer may still have open is never written over.
fn aside(name: &str) -> io::Result<PathBuf> {
    let folder = std::env::temp_dir().join(format!("casewright-{}", std::process::id()));
    std::fs::create_dir_all(&folder)?;
    let stem = Path::new(&store::file_name_for(name)).with_extension("").display().to_string();
    let mut number = 1_u64;
    loop {
        let path = folder.join(format!("{stem}-{number}.pdf"));
        if !path.try_exists()? {
            return Ok(path);
        }
        number += 1;
    }
}

fn open(program: &str, path: &Path) -> Result<(), String> {
    let started = Command::new(program).arg(path).stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null()).spawn();
    let mut viewer = started.map_err(|error| format!("No PDF viewer can be started: {program}: {error}"))?;
    let begun = Instant::now();
    loop {
        match viewer.try_wait() {
            // Explorer ends with 1 even when it has opened the file.
            Ok(Some(status)) if status.success() || cfg!(target_os = "windows") => return Ok(()),
            Ok(Some(status)) => return Err(format!("The system has no PDF viewer, or it did not start ({program}: {status})")),
            Ok(None) if begun.elapsed() < WORD => thread::sleep(STEP),
            Ok(None) => {
                // It may stay open for as long as it likes; who started it must see it end.
                thread::spawn(move || viewer.wait());
                return Ok(());
            }
            Err(error) => return Err(format!("It can't be told whether {program} opened it: {error}")),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_viewer_that_is_not_there_or_finds_none_is_told() {
        let paper = Path::new("paper.pdf");
        assert!(open("casewright-no-such-program", paper).expect_err("none").contains("can be started"));
        assert!(open("false", paper).expect_err("none").contains("no PDF viewer"));
        assert_eq!(open("true", paper), Ok(()));
    }

    #[test]
    fn a_paper_aside_takes_a_name_of_its_own() {
        let first = aside("Case of viewer tests").expect("a name");
        std::fs::write(&first, "open in a viewer").expect("written");
        let second = aside("Case of viewer tests").expect("a name");
        assert_ne!(first, second);
        std::fs::remove_file(first).expect("put away");
    }
}
