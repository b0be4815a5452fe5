//! The maker's own timber: a table in their configuration folder, which every design may name.

use std::io;
use std::path::PathBuf;

use casewright_core::design::timber_file;
use casewright_core::timber::Timbers;

/// Where the table is looked for: `casewright/timber.csv` in the configuration folder.
fn file() -> Option<PathBuf> {
    let set = |name: &str| std::env::var_os(name).filter(|value| !value.is_empty()).map(PathBuf::from);
    let folder = set("XDG_CONFIG_HOME").or_else(|| set("HOME").map(|home| home.join(".config")))?;
    Some(folder.join("casewright").join("timber.csv"))
}

/// What stands in it besides the tables that ship with the program; nothing besides where it is not there.
///
/// # Errors
/// Why it can't be read, in sentences with file, line and column.
pub fn own() -> Result<Timbers, Vec<String>> {
    let Some(file) = file() else { return Ok(Timbers::default()) };
    let text = match std::fs::read_to_string(&file) {
        Ok(text) => text,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Timbers::default()),
        Err(error) => return Err(vec![format!("{}: {error}", file.display())]),
    };
    timber_file::read(&text).map_err(|errors| errors.iter().map(|error| format!("{}, {error}", file.display())).collect())
}
