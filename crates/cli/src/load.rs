//! From a file to a model, with errors that name file, line and field.

use std::fs;
use std::io::{self, Write as _};
use std::path::{Path, PathBuf};

use atomic_write_file::AtomicWriteFile;
use casewright_core::derive::DesignError;
use casewright_core::design::{decisions, text, timber_file};
use casewright_core::table::{BadRow, Bare, Listed};
use casewright_core::timber::Timbers;
use casewright_core::{Design, Model, ShapeCache, Solids, derive};
use clap::Args;

use crate::arguments::Input;
use crate::failure::Failure;

/// A file larger than this is no design, bytes.
const MOST: u64 = 16 * 1024 * 1024;

/// A design worked out.
pub struct Case {
    /// What was decided.
    pub design: Design,
    /// Every part and joint.
    pub model: Model,
    /// Their solids.
    pub solids: Solids,
}

/// Reads a design, sets what is to be tried, and works it out.
pub fn case(input: &Input) -> Result<Case, Failure> {
    let (design, source) = read(input)?;
    let model = derive(&design).map_err(|errors| Failure::Told(errors.iter().map(|error| with_place(input, &source, error)).collect()))?;
    let solids = ShapeCache::default().shape(&model);
    Ok(Case { design, model, solids })
}

/// Reads a design and sets what is to be tried; every decision is in range.
pub fn design(input: &Input) -> Result<Design, Failure> {
    let (design, source) = read(input)?;
    let bad = decisions::check(&design);
    if bad.is_empty() {
        return Ok(design);
    }
    let told = bad.into_iter().map(|error| with_place(input, &source, &DesignError::Decision(error)));
    Err(Failure::Told(told.collect()))
}

/// A file of timber of the maker's own, where one is named.
#[derive(Clone, Debug, Args)]
pub struct OwnTimber {
    /// A table of your own species or sheets, besides those of the design: CSV with the columns of assets/timber
    #[arg(long, value_name = "FILE")]
    timber: Option<PathBuf>,
}

impl OwnTimber {
    /// The tables that ship with the program, and what the file has besides.
    ///
    /// # Errors
    /// All that will not do in the file, with its line and column.
    pub fn timbers(&self) -> Result<Timbers, Failure> {
        let Some(path) = &self.timber else { return Ok(Timbers::default()) };
        let name = path.display();
        timber_file::read(&text_of(path, "a table of timber")?)
            .map_err(|errors| Failure::Told(errors.iter().map(|error| format!("{name}: {error}")).collect()))
    }
}

/// The rows of a table; what of it can't be read is told.
pub fn rows<R>(path: &Path, read: impl Fn(&str, Bare) -> Listed<R>, bad: &mut Vec<String>) -> Result<Vec<R>, Failure> {
    let text = fs::read_to_string(path).map_err(|error| Failure::Told(vec![format!("{}: {error}", path.display())]))?;
    let listed = read(&text, Bare::Mm);
    bad.extend(listed.bad.iter().flat_map(BadRow::words).map(|words| format!("{}: {words}", path.display())));
    Ok(listed.rows)
}

/// Reads a design and sets what is to be tried; the text it was read from too.
pub fn read(input: &Input) -> Result<(Design, String), Failure> {
    let library = input.own.timbers()?;
    let source = read_text(&input.file)?;
    let name = input.file.display();
    let mut design = text::read_with(&source, &library)
        .map_err(|errors| Failure::Told(errors.iter().map(|error| format!("{name}: {error}")).collect()))?;
    let told: Vec<_> = decisions::set_all(&mut design, &input.with)
        .into_iter()
        .map(|((path, value), error)| format!("--with {path}={value}: {error}"))
        .collect();
    if told.is_empty() { Ok((design, source)) } else { Err(Failure::Told(told)) }
}

fn read_text(path: &Path) -> Result<String, Failure> {
    text_of(path, "a design")
}

/// Reads a text that is to be `what`, with its article.
pub fn text_of(path: &Path, what: &str) -> Result<String, Failure> {
    let fail = |why: String| Failure::told(format!("{}: {why}", path.display()));
    let size = fs::metadata(path).map_err(|error| fail(why_not(&error, what)))?;
    if size.is_dir() {
        return Err(fail(format!("is a folder, not {what}")));
    }
    if size.len() > MOST {
        return Err(fail(format!("holds {} MB and can't be {what}; the most is {} MB", size.len() >> 20, MOST >> 20)));
    }
    fs::read_to_string(path).map_err(|error| fail(why_not(&error, what)))
}

fn why_not(error: &io::Error, what: &str) -> String {
    match error.kind() {
        io::ErrorKind::NotFound => "there is no such file".to_owned(),
        io::ErrorKind::PermissionDenied => "it may not be read".to_owned(),
        io::ErrorKind::InvalidData => format!("line 1: it is not text (UTF-8), so it is not {what}"),
        _ => format!("it can't be read: {error}"),
    }
}

/// An error of a decision that was tried names the trial; one of the file names its line.
fn with_place(input: &Input, source: &str, error: &DesignError) -> String {
    let tried = input.with.iter().rfind(|(path, _)| path == error.path());
    match tried {
        Some((path, value)) => format!("--with {path}={value}: {error}"),
        None => format!("{}: {}", input.file.display(), text::with_line(source, error)),
    }
}

/// All of it is there, or the old file still is.
pub fn write(path: &Path, bytes: impl AsRef<[u8]>) -> std::io::Result<()> {
    let mut file = AtomicWriteFile::open(path)?;
    file.write_all(bytes.as_ref())?;
    file.commit()
}
