//! The maker's own timber: a table in their configuration folder, which every design may name.

use std::io;
use std::path::{Path, PathBuf};

use casewright_core::design::timber_file;
use casewright_core::timber::Timbers;

/// The configuration folder of whoever works here.
pub(crate) fn configuration() -> Option<PathBuf> {
    let set = |name: &str| std::env::var_os(name).filter(|value| !value.is_empty()).map(PathBuf::from);
    set("XDG_CONFIG_HOME").or_else(|| set("HOME").map(|home| home.join(".config")))
}

/// What stands in it besides the tables that ship with the program; nothing besides where it is not there.
///
/// # Errors
/// Why it can't be read, in sentences with file, line and column.
pub fn own() -> Result<Timbers, Vec<String>> {
    configuration().map_or_else(|| Ok(Timbers::default()), |folder| own_in(&folder))
}

/// The same of a configuration folder: its `casewright/timber.csv`.
fn own_in(folder: &Path) -> Result<Timbers, Vec<String>> {
    let file = folder.join("casewright").join("timber.csv");
    let text = match std::fs::read_to_string(&file) {
        Ok(text) => text,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(Timbers::default()),
        Err(error) => return Err(vec![format!("{}: {error}", file.display())]),
    };
    timber_file::read(&text).map_err(|errors| errors.iter().map(|error| format!("{}, {error}", file.display())).collect())
}

#[cfg(test)]
mod tests {
    use casewright_core::design::decisions;

    use super::*;

    fn with(table: &str) -> Result<Timbers, Vec<String>> {
        let folder = tempfile::tempdir().expect("a configuration folder");
        std::fs::create_dir(folder.path().join("casewright")).expect("its folder");
        std::fs::write(folder.path().join("casewright").join("timber.csv"), table).expect("the table");
        own_in(folder.path())
    }

    /// A design may then name what stands in the table, and it weighs and moves in the window as the table says.
    #[test]
    fn the_window_reads_the_table_of_own_timber() {
        let own =
            with("id,common_name,density_12_kg_m3,coeff_tangential_per_pct_mc\nolive_ash,\"Ash, olive\",690,0.0030\n").expect("it is read");
        let mut design = crate::demo();
        assert!(decisions::set(&mut design, "timber.frame", "olive_ash").is_err(), "no table has it yet");
        design.timber.library = own;
        decisions::set(&mut design, "timber.frame", "olive_ash").expect("it is there now");
        let derived = crate::derived::Derived::of(&design);
        assert!(derived.errors.is_empty(), "{:?}", derived.errors);
        let rail = derived.model.find("rail.front.top").expect("a rail");
        assert_eq!(derived.model.timbers.name(&rail.material), "Ash, olive");
        assert!(derived.model.timbers.density(&rail.material).is_some_and(|density| (density.value - 690.0).abs() < 1e-9));
    }

    #[test]
    fn what_will_not_do_in_it_names_the_file_and_no_table_is_no_fault() {
        let told = with("id,common_name,density_12_kg_m3\nolive_ash,\"Ash, olive\",heavy\n").expect_err("that is no density");
        assert!(told.len() == 1 && told[0].contains("timber.csv") && told[0].contains("line 2"), "{told:?}");
        let nothing = tempfile::tempdir().expect("a folder");
        assert_eq!(own_in(nothing.path()), Ok(Timbers::default()));
    }
}
