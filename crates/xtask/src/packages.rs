//! Installing what is missing, where that may be done; saying how, where it may not.

use std::process::Command;

use crate::failure::{Result, fail};
use crate::needs::{self, Need};
use crate::process;

/// How apt-get may be used here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Rights {
    Root,
    /// sudo that asks for no password.
    Sudo,
    /// The user has to type the command.
    None,
    /// There is no apt-get.
    NoApt,
}

/// Makes sure of these needs. Where all are met, nothing is run and nothing is said.
///
/// # Errors
///
/// Where something is still missing afterwards; the words tell what, and what to type.
pub fn make_sure_of<'a>(needs: impl IntoIterator<Item = &'a Need>) -> Result {
    let missing = needs::missing(needs);
    if missing.is_empty() {
        return Ok(());
    }
    let packages: Vec<&str> = missing.iter().map(|need| need.package).collect();
    let rights = rights();
    match rights {
        Rights::Root | Rights::Sudo => install(&packages, rights == Rights::Sudo)?,
        Rights::None | Rights::NoApt => return fail(advice(&packages, rights)),
    }
    let left: Vec<&str> = needs::missing(missing.iter().copied()).iter().map(|need| need.package).collect();
    if left.is_empty() {
        return Ok(());
    }
    fail(format!("still missing after installing: what {} should have brought", left.join(", ")))
}

fn rights() -> Rights {
    if process::on_path("apt-get").is_none() {
        return Rights::NoApt;
    }
    let user = process::output_of(Command::new("id").arg("-u"));
    if user.is_ok_and(|user| user.trim() == "0") {
        Rights::Root
    } else if process::succeeds(Command::new("sudo").args(["-n", "true"])) {
        Rights::Sudo
    } else {
        Rights::None
    }
}

fn install(packages: &[&str], sudo: bool) -> Result {
    println!("Installing what is missing, with apt-get: {}", packages.join(" "));
    // Old lists may still do, so a failure here is only told where the installing fails too.
    let updated = process::output_of(&mut apt_get(sudo, &["update"]));
    let install = ["install", "--yes", "--no-install-recommends"];
    let installed = process::output_of(apt_get(sudo, &install).args(packages));
    let Err(failure) = installed else {
        return Ok(());
    };
    let also = updated.err().map(|update| format!("\n{update}")).unwrap_or_default();
    fail(format!("{failure}{also}\n{}", advice(packages, Rights::None)))
}

/// apt-get that asks nothing, bears a bad network and waits for another apt-get to finish.
fn apt_get(sudo: bool, task: &[&str]) -> Command {
    let mut command = Command::new(if sudo { "sudo" } else { "env" });
    if sudo {
        command.args(["-n", "env"]);
    }
    command.args(["DEBIAN_FRONTEND=noninteractive", "apt-get", "-qq"]);
    for option in ["Acquire::Retries=3", "Acquire::http::Timeout=30", "DPkg::Lock::Timeout=300"] {
        command.args(["-o", option]);
    }
    command.args(task);
    command
}

fn advice(packages: &[&str], rights: Rights) -> String {
    let packages = packages.join(" ");
    match rights {
        Rights::NoApt => format!("this machine lacks what Debian has in these packages; please install their like:\n  {packages}"),
        Rights::Root | Rights::Sudo | Rights::None => format!(
            "this machine lacks some packages; please run\n  sudo apt-get update && \
             sudo apt-get install --no-install-recommends {packages}"
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::{Rights, advice};

    #[test]
    fn the_advice_can_be_typed_as_it_stands() {
        let words = advice(&["xvfb", "libxi6"], Rights::None);
        assert!(words.ends_with("sudo apt-get install --no-install-recommends xvfb libxi6"));
        assert!(!advice(&["xvfb"], Rights::NoApt).contains("apt-get"));
    }
}
