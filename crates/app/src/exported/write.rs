//! Writing files into a folder, each whole or not at all.

use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, Ordering};

use casewright_sheets::exchange::File;

use super::work::{Come, Doing, NOT_ALL, Outcome, comes};
use crate::files::write_atomically;
use crate::panels::words;

/// The names of files that are in a folder already with something else in them. What can't be read counts as something else.
pub(super) fn others(folder: &Path, files: &[File]) -> Vec<String> {
    let differs = |file: &&File| {
        let path = folder.join(&file.name);
        path.symlink_metadata().is_ok() && std::fs::read(path).map_or(true, |bytes| bytes != file.bytes)
    };
    files.iter().filter(differs).map(|file| file.name.clone()).collect()
}

/// A folder beside this one that is not there yet: with the next number behind its name.
pub(super) fn elsewhere(folder: &Path) -> PathBuf {
    let name = folder.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let mut number = 2_u64;
    loop {
        let path = folder.with_file_name(format!("{name} {number}"));
        if path.symlink_metadata().is_err() {
            return path;
        }
        number += 1;
    }
}

/// Writes files into a folder, which is made where it is not there; between two of them it can be broken off.
pub(super) fn write_all(folder: &Path, files: &[File], come: &Mutex<Come>, stop: &AtomicBool) -> Outcome {
    for (count, file) in files.iter().enumerate() {
        comes(come, count, files.len(), Doing::Writing);
        if stop.load(Ordering::Relaxed) {
            return Outcome::Stopped(folder.to_owned(), count);
        }
        let path = folder.join(&file.name);
        let made = path.parent().map_or(Ok(()), std::fs::create_dir_all);
        if let Err(error) = made.and_then(|()| write_atomically(&path, &file.bytes)) {
            let before = match count {
                0 => String::new(),
                count => format!("; {} before it", words::counted(count, "file was written", "files were written")),
            };
            return Outcome::Failed(NOT_ALL, format!("{} was not written: {error}{before}", path.display()));
        }
    }
    Outcome::Written(folder.to_owned(), files.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn files() -> Vec<File> {
        [("a.pdf", "one"), ("step/case.step", "two"), ("b.pdf", "three")]
            .map(|(name, text)| File { name: name.to_owned(), bytes: text.as_bytes().to_vec() })
            .into()
    }

    #[test]
    fn files_are_written_whole_into_folders_that_are_made() {
        let folder = tempfile::tempdir().expect("a folder");
        let out = folder.path().join("papers");
        let outcome = write_all(&out, &files(), &Mutex::default(), &AtomicBool::new(false));
        assert!(matches!(outcome, Outcome::Written(_, 3)), "{outcome:?}");
        assert_eq!(std::fs::read_to_string(out.join("step/case.step")).expect("written"), "two");
        assert!(others(&out, &files()).is_empty(), "what is the same need not be asked about");
    }

    #[test]
    fn what_would_be_replaced_is_named_and_another_folder_offered() {
        let folder = tempfile::tempdir().expect("a folder");
        let out = folder.path().join("papers");
        std::fs::create_dir_all(&out).expect("a folder");
        std::fs::write(out.join("b.pdf"), "mine").expect("written");
        assert_eq!(others(&out, &files()), ["b.pdf"]);
        std::fs::create_dir(folder.path().join("papers 2")).expect("a folder");
        assert_eq!(elsewhere(&out), folder.path().join("papers 3"));
    }

    #[test]
    fn broken_off_leaves_nothing_half_written() {
        let folder = tempfile::tempdir().expect("a folder");
        let outcome = write_all(folder.path(), &files(), &Mutex::default(), &AtomicBool::new(true));
        assert!(matches!(outcome, Outcome::Stopped(_, 0)), "{outcome:?}");
        assert_eq!(std::fs::read_dir(folder.path()).expect("a folder").count(), 0);
        // A file in the place of a folder: what came before is whole, and it is told what was not written.
        std::fs::write(folder.path().join("step"), "in the way").expect("written");
        let outcome = write_all(folder.path(), &files(), &Mutex::default(), &AtomicBool::new(false));
        assert!(matches!(&outcome, Outcome::Failed(_, why) if why.contains("case.step") && why.contains("1 file")), "{outcome:?}");
        assert_eq!(std::fs::read_to_string(folder.path().join("a.pdf")).expect("written"), "one");
    }
}
