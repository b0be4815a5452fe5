//! Other programs, run to their end.

use std::env;
use std::path::PathBuf;
use std::process::{Child, Command, ExitStatus, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

use crate::failure::{Failure, Result, While, fail};
use crate::places;

/// Cargo at the top of the source tree, in the toolchain that this program was started with.
pub fn cargo() -> Command {
    let mut cargo = Command::new(env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    cargo.current_dir(places::root());
    // `cargo run` tells its child about xtask's own package. Passed on, a build script that looks at these would see
    // another value than in a plain build, and everything after it would be built twice.
    for (name, _) in env::vars_os() {
        let told = name.to_string_lossy();
        if told.starts_with("CARGO_PKG_") || told.starts_with("CARGO_MANIFEST_") {
            cargo.env_remove(&name);
        }
    }
    // A relative target folder means the one seen from where the user stands.
    if let Some(Ok(target)) = env::var_os("CARGO_TARGET_DIR").map(std::path::absolute) {
        cargo.env("CARGO_TARGET_DIR", target);
    }
    cargo
}

/// Runs to the end with its output shown as it comes.
pub fn run(command: &mut Command) -> Result {
    let shown = shown(command);
    println!("   {shown}");
    let status = command.stdin(Stdio::null()).status().while_doing(format!("run {shown}"))?;
    judge(status, &shown)
}

/// Runs to the end and gives back what it wrote to stdout; shows all it wrote only where it fails.
pub fn output_of(command: &mut Command) -> Result<String> {
    let shown = shown(command);
    let output = command.stdin(Stdio::null()).output().while_doing(format!("run {shown}"))?;
    let written = String::from_utf8_lossy(&output.stdout).into_owned();
    judge(output.status, &shown).map_err(|Failure(words)| {
        let complaint = String::from_utf8_lossy(&output.stderr);
        Failure(format!("{words}\n{}", format!("{written}{complaint}").trim_end()))
    })?;
    Ok(written)
}

/// Whether it can be run at all and ends well; shows nothing.
pub fn succeeds(command: &mut Command) -> bool {
    let quiet = command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    quiet.status().is_ok_and(|status| status.success())
}

/// Waits for a child that must end by itself; ends it where it has not done so in time.
pub fn wait_at_most(child: &mut Child, limit: Duration) -> Result<Option<ExitStatus>> {
    let started = Instant::now();
    while started.elapsed() < limit {
        if let Some(status) = child.try_wait().while_doing("wait for a program")? {
            return Ok(Some(status));
        }
        sleep(Duration::from_millis(50));
    }
    child.kill().while_doing("end a program that took too long")?;
    child.wait().while_doing("wait for a program that was ended")?;
    Ok(None)
}

/// The program of this name on the search path.
pub fn on_path(program: &str) -> Option<PathBuf> {
    let path = env::var_os("PATH")?;
    env::split_paths(&path).map(|folder| folder.join(program)).find(|file| file.is_file())
}

fn judge(status: ExitStatus, shown: &str) -> Result {
    if status.success() { Ok(()) } else { fail(format!("`{shown}` ended with {status}")) }
}

/// The command as it would be typed, the program by its bare name.
fn shown(command: &Command) -> String {
    let program = PathBuf::from(command.get_program());
    let program = program.file_name().unwrap_or_default().to_string_lossy().into_owned();
    let arguments = command.get_args().map(|argument| argument.to_string_lossy().into_owned());
    std::iter::once(program).chain(arguments).collect::<Vec<_>>().join(" ")
}
