//! The automation behind `cargo xtask …`, on a machine that need have nothing but Rust and a linker.
//!
//! ```text
//! run     system needs → build → window, or a picture of it where there is no display
//! test    system needs → fast checks → tests → window tests → readers
//! bench   the benches of the core, of the solids, of the columns, of the drawings and of the panels
//! ```
//!
//! Nothing of ours is linked in here: this crate builds in seconds, before everything else.

mod display;
mod failure;
mod house;
mod needs;
mod packages;
mod places;
mod process;
mod readers;
mod steps;
mod test;
mod window;

use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Parser, Subcommand};

use crate::failure::Result;

/// Builds, opens and proves Casewright.
#[derive(Parser)]
#[command(bin_name = "cargo xtask")]
struct Arguments {
    #[command(subcommand)]
    task: Task,
}

#[derive(Subcommand)]
enum Task {
    /// Opens the window; where there is no display, saves a picture of it and the papers in out/.
    Run {
        /// The design to open.
        #[arg(default_value_os_t = places::root().join("examples/records_cabinet.ron"))]
        file: PathBuf,
        /// Uses a virtual display even where there is a real one.
        #[arg(long)]
        headless: bool,
    },
    /// Runs everything that proves the project, fast checks first; stops at the first failure.
    Test {
        /// Only these steps, in their usual order; see the names in the table at the end.
        steps: Vec<String>,
    },
    /// Runs the benches of the core, of the solids, of the columns, of the drawings and of the panels.
    Bench,
}

fn main() -> ExitCode {
    let done = match Arguments::parse().task {
        Task::Run { file, headless } => window::run(&file, headless),
        Task::Test { steps } => test::run(&steps),
        Task::Bench => bench(),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => {
            eprintln!("error: {failure}");
            ExitCode::FAILURE
        }
    }
}

fn bench() -> Result {
    process::run(process::cargo().args([
        "bench",
        "-p",
        "casewright-solid",
        "-p",
        "casewright-cutting",
        "-p",
        "casewright-core",
        "-p",
        "casewright-sheets",
    ]))?;
    // As the window itself is built, so that the engine isn't built a second time.
    process::run(process::cargo().args(["bench", "--workspace", "--profile", "dev", "--bench", "panels"]))
}
