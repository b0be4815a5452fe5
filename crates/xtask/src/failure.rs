//! Why a task ended early.

use std::fmt;

/// One sentence or a few lines for the person at the keyboard: what failed, and what to do where that is known.
#[derive(Debug)]
pub struct Failure(pub String);

/// What every task and step comes back with.
pub type Result<T = ()> = std::result::Result<T, Failure>;

/// Ends with a failure in these words.
pub fn fail<T>(words: impl Into<String>) -> Result<T> {
    Err(Failure(words.into()))
}

/// Puts what was being done before the cause.
pub trait While<T> {
    /// `doing` completes "cannot …".
    fn while_doing(self, doing: impl fmt::Display) -> Result<T>;
}

impl<T, E: fmt::Display> While<T> for std::result::Result<T, E> {
    fn while_doing(self, doing: impl fmt::Display) -> Result<T> {
        self.map_err(|cause| Failure(format!("cannot {doing}: {cause}")))
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}
