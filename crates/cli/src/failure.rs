//! Why a command ends early.

use std::io;
use std::process::ExitCode;

/// Why a command ends early.
#[derive(Debug)]
pub enum Failure {
    /// Lines for the user; exit code 2.
    Told(Vec<String>),
    /// Output could not be written.
    Output(io::Error),
}

impl Failure {
    /// One line.
    pub fn told(line: impl Into<String>) -> Failure {
        Failure::Told(vec![line.into()])
    }

    /// Says it, and gives the exit code.
    pub fn report(self) -> ExitCode {
        match self {
            Failure::Told(lines) => complain(&lines),
            // Whoever reads has seen enough, as `head` does; that is no fault.
            Failure::Output(error) if error.kind() == io::ErrorKind::BrokenPipe => return ExitCode::SUCCESS,
            Failure::Output(error) => complain(&[format!("the output could not be written: {error}")]),
        }
        ExitCode::from(2)
    }
}

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Failure {
        Failure::Output(error)
    }
}

/// Writes lines to where errors go; when nobody listens there, nothing is left to be done.
fn complain(lines: &[String]) {
    use std::io::Write as _;
    let mut out = io::stderr().lock();
    for line in lines {
        let _ = writeln!(out, "{line}");
    }
}
