//! Where the independent readers get their libraries: fetched once, kept outside the source tree.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

use crate::failure::{Result, While};
use crate::places;
use crate::process::output_of;

/// Written last: a folder without it was left half made.
const COMPLETE: &str = "complete";

/// The Python that has what `tests/readers/requirements.txt` asks for.
pub fn python() -> Result<PathBuf> {
    let requirements = places::root().join("tests/readers/requirements.txt");
    // Of this Python, since the libraries of one do not serve the next.
    let version = output_of(Command::new("python3").arg("--version"))?;
    let home = kept("python", &[&read(&requirements)?, &version], |home| {
        output_of(Command::new("python3").args(["-m", "venv"]).arg(home))?;
        let mut pip = Command::new(home.join("bin/python"));
        // Wheels only: a machine that tests need not be able to build numpy.
        pip.args(["-m", "pip", "install", "--quiet", "--no-input", "--only-binary", ":all:"]);
        output_of(pip.arg("--requirement").arg(&requirements))
    })?;
    Ok(home.join("bin/python"))
}

/// The folder whose `node_modules` has what `tests/readers/package-lock.json` asks for.
pub fn node() -> Result<PathBuf> {
    let source = places::root().join("tests/readers");
    let (package, lock) = (source.join("package.json"), source.join("package-lock.json"));
    kept("node", &[&read(&package)?, &read(&lock)?], |home| {
        for file in [&package, &lock] {
            let copy = home.join(file.file_name().unwrap_or_default());
            fs::copy(file, &copy).while_doing(format!("write {}", copy.display()))?;
        }
        let mut npm = Command::new("npm");
        npm.current_dir(home).args(["ci", "--ignore-scripts", "--no-audit", "--no-fund"]);
        output_of(&mut npm)
    })
}

/// A folder in the cache for exactly these contents; made where it is not there.
fn kept(kind: &str, contents: &[&str], make: impl FnOnce(&Path) -> Result<String>) -> Result<PathBuf> {
    let home = places::cache()?.join(format!("readers-{kind}-{:016x}", key(contents)));
    if home.join(COMPLETE).is_file() {
        return Ok(home);
    }
    println!("   fetching the {kind} readers into {}, once", home.display());
    if home.exists() {
        fs::remove_dir_all(&home).while_doing(format!("remove {}", home.display()))?;
    }
    fs::create_dir_all(&home).while_doing(format!("make {}", home.display()))?;
    make(&home)?;
    let mark = home.join(COMPLETE);
    fs::write(&mark, "").while_doing(format!("write {}", mark.display()))?;
    Ok(home)
}

fn read(file: &Path) -> Result<String> {
    fs::read_to_string(file).while_doing(format!("read {}", file.display()))
}

/// FNV-1a (G. Fowler, L. C. Noll, K.-P. Vo), since the hash of the standard library may change with Rust.
fn key(contents: &[&str]) -> u64 {
    // 0xff is in no UTF-8 text, so it tells one text from the next.
    let bytes = contents.iter().flat_map(|text| text.bytes().chain([0xff]));
    bytes.fold(0xcbf2_9ce4_8422_2325, |hash, byte| (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3))
}

#[cfg(test)]
mod tests {
    use super::key;

    #[test]
    fn another_text_gets_another_folder() {
        assert_eq!(key(&["numpy==1", "3.11"]), key(&["numpy==1", "3.11"]));
        assert_ne!(key(&["numpy==1", "3.11"]), key(&["numpy==1", "3.13"]));
        assert_ne!(key(&["ab", "c"]), key(&["a", "bc"]));
        // A published value of the function: the hash of "a" before the byte that ends a text.
        let of_a = (0xcbf2_9ce4_8422_2325 ^ 0x61_u64).wrapping_mul(0x0100_0000_01b3);
        assert_eq!(of_a, 0xaf63_dc4c_8601_ec8c);
    }
}
