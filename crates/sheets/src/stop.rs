//! Breaking off what is being made, between its pages and parts.

use std::fmt;

use thiserror::Error;

/// Is asked between the pages and parts of whatever is made whether it is to go on.
#[derive(Clone, Copy, Default)]
pub struct Stop<'a>(Option<&'a (dyn Fn() -> bool + Sync)>);

/// It was broken off before it was whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
#[error("broken off")]
pub struct BrokenOff;

impl<'a> Stop<'a> {
    /// Stops as soon as `asked` says so.
    pub fn by(asked: &'a (dyn Fn() -> bool + Sync)) -> Stop<'a> {
        Stop(Some(asked))
    }

    /// Goes on, unless it is to stop.
    ///
    /// # Errors
    /// When it is to stop.
    pub(crate) fn go_on(self) -> Result<(), BrokenOff> {
        if self.0.is_some_and(|asked| asked()) { Err(BrokenOff) } else { Ok(()) }
    }
}

impl fmt::Debug for Stop<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(if self.0.is_some() { "Stop::by(…)" } else { "Stop" })
    }
}
