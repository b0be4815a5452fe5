//! `casewright [FILE]`: opens the window.

use std::path::PathBuf;

use bevy::app::AppExit;
use clap::Parser;

/// A case you can drag: opens a design, or the demo when no file is named.
#[derive(Parser)]
#[command(version)]
struct Arguments {
    /// The design to open (.ron)
    file: Option<PathBuf>,
    /// Save a picture of the window to this file (.png) once the case is drawn, and end
    #[arg(long, value_name = "PNG")]
    picture: Option<PathBuf>,
    /// With --picture: write cut list and drawings into this folder too
    #[arg(long, value_name = "DIR", requires = "picture")]
    papers: Option<PathBuf>,
    /// Keep a report of what the window shows in this file (.json), for automatic tests
    #[arg(long, value_name = "JSON")]
    report: Option<PathBuf>,
}

fn main() -> AppExit {
    let Arguments { file, picture, papers, report } = Arguments::parse();
    casewright::run(casewright::Start { file, picture, papers, report })
}
