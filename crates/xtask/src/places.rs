//! Where things lie.

use std::env;
use std::path::PathBuf;

use crate::failure::{Failure, Result, While};

/// The top of the source tree.
///
/// Cargo says at run time where this package lies. What it said when this was built may be another clone: clones that
/// share a target folder share this program.
pub fn root() -> PathBuf {
    let here = env::var_os("CARGO_MANIFEST_DIR").map_or_else(|| PathBuf::from(env!("CARGO_MANIFEST_DIR")), PathBuf::from);
    // crates/xtask lies two levels below.
    here.ancestors().nth(2).unwrap_or(&here).to_path_buf()
}

/// Where pictures and papers go; made where it is not there.
pub fn out() -> Result<PathBuf> {
    let out = root().join("out");
    std::fs::create_dir_all(&out).while_doing(format!("make {}", out.display()))?;
    Ok(out)
}

/// A program of this workspace, as cargo builds it.
///
/// Cargo puts it beside this very program, wherever the target folder is set to be.
pub fn built(program: &str) -> Result<PathBuf> {
    let xtask = env::current_exe().while_doing("find the folder that cargo builds into")?;
    Ok(xtask.with_file_name(format!("{program}{}", env::consts::EXE_SUFFIX)))
}

/// A folder outside the source tree for what is slow to fetch and the same for every clone.
pub fn cache() -> Result<PathBuf> {
    let set = |name: &str| env::var_os(name).filter(|value| !value.is_empty()).map(PathBuf::from);
    set("CASEWRIGHT_CACHE")
        .or_else(|| set("XDG_CACHE_HOME").map(|caches| caches.join("casewright")))
        .or_else(|| set("HOME").map(|home| home.join(".cache/casewright")))
        .ok_or_else(|| Failure("set CASEWRIGHT_CACHE: there is no HOME to keep a cache in".into()))
}
