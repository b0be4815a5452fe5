//! A report of what the window shows, for automatic window tests.

use bevy::prelude::*;

/// Keeps the report that `--report` asks for.
pub struct ReportPlugin;

impl Plugin for ReportPlugin {
    fn build(&self, _app: &mut App) {}
}
