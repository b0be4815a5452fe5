//! The panels round the case.

use bevy::prelude::*;

/// A stage of the maker's week.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Stage {
    /// What it must hold.
    Brief,
    /// Sizes and construction.
    #[default]
    Case,
    /// How parts are joined.
    Joints,
    /// Species, sheets, moisture.
    Timber,
    /// What the checks found.
    DryFit,
    /// Cut list and sticks.
    Boards,
    /// Papers.
    Drawings,
}

/// The stage shown.
#[derive(Resource, Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct AtStage(pub Stage);

/// Something told to the maker, until it is put away.
#[derive(Resource, Clone, Debug, Default, PartialEq, Eq)]
pub struct Notice {
    /// A few words; empty when there is nothing to tell.
    pub title: String,
    /// What happened, a sentence a line.
    pub lines: Vec<String>,
}

impl Notice {
    /// Tells something.
    pub fn told(title: impl Into<String>, lines: Vec<String>) -> Notice {
        Notice { title: title.into(), lines }
    }
}

/// The panels.
pub struct PanelsPlugin;

impl Plugin for PanelsPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<AtStage>().init_resource::<Notice>();
    }
}
