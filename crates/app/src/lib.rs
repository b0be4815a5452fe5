//! The window of Casewright: a case you can drag, orbit, take apart and check.
//!
//! One bevy plugin a concern. [`Session`](session::Session) holds the design and its history, [`Derived`](derived::Derived) what
//! follows from it; nothing else holds either. Panels, keys and the 3D view send [`Ask`](ask::Ask)s, and one system acts on them:
//!
//! ```text
//! panels, keys, view ──Ask──▶ Session ──▶ Derived ──▶ scene, panels, report
//! ```

#![allow(clippy::needless_pass_by_value, reason = "bevy gives systems what they ask for by value")]

pub mod ask;
pub mod beside;
pub mod compared;
pub mod derived;
pub mod drawn;
pub mod exported;
pub mod files;
pub mod keeping;
pub mod laid;
pub mod order;
pub mod panels;
pub mod proposed;
pub mod report;
pub mod scene;
pub mod session;
pub mod theme;

use std::path::PathBuf;
use std::time::Duration;

use bevy::prelude::*;
use bevy::window::WindowResolution;
use bevy::winit::{UpdateMode, WinitSettings};
use bevy_egui::EguiPlugin;
use casewright_core::Design;
use casewright_core::design::text;

/// What the program was started with.
#[derive(Resource, Clone, Debug, Default)]
pub struct Start {
    /// The design to open; none for the demo.
    pub file: Option<PathBuf>,
    /// Where to save a picture of the window, after which the program ends.
    pub picture: Option<PathBuf>,
    /// The folder for cut list and drawings, written with the picture.
    pub papers: Option<PathBuf>,
    /// Where to keep a report of what the window shows, for automatic tests.
    pub report: Option<PathBuf>,
}

/// The order of work in a frame. Panels are drawn after all of it.
#[derive(SystemSet, Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum FrameSet {
    /// Files that were read or written, and dialogs that were answered, come in.
    Files,
    /// What was asked for is done.
    Ask,
    /// What follows from the design is worked out.
    Derive,
    /// The 3D view follows.
    Scene,
    /// What is to be told outside is told: title, report.
    Tell,
}

/// The demo as text.
pub const DEMO: &str = include_str!("../../../examples/records_cabinet.ron");

/// The demo: the case with which the window opens when no file is named.
///
/// # Panics
/// Never: a test reads the same text.
pub fn demo() -> Design {
    text::read(DEMO).expect("the demo is read by a test")
}

/// Opens the window and stays until it is closed.
pub fn run(start: Start) -> AppExit {
    let window = Window {
        title: "Casewright".to_owned(),
        name: Some("casewright".to_owned()),
        resolution: WindowResolution::new(1440, 900),
        resize_constraints: bevy::window::WindowResizeConstraints { min_width: 1024.0, min_height: 640.0, ..default() },
        ..default()
    };
    App::new()
        .insert_resource(start)
        .add_plugins(
            DefaultPlugins
                // Closing is asked about first when there are unsaved changes.
                .set(WindowPlugin { primary_window: Some(window), close_when_requested: false, ..default() }),
        )
        .add_plugins(EguiPlugin::default())
        .insert_resource(WinitSettings { focused_mode: resting(), unfocused_mode: resting() })
        .add_plugins(CasewrightPlugin)
        .run()
}

/// Draws when something happens and otherwise hardly ever: a software driver needs a core for each frame.
fn resting() -> UpdateMode {
    UpdateMode::reactive_low_power(Duration::from_secs(30))
}

/// All concerns of the window.
pub struct CasewrightPlugin;

impl Plugin for CasewrightPlugin {
    fn build(&self, app: &mut App) {
        app.configure_sets(Update, (FrameSet::Files, FrameSet::Ask, FrameSet::Derive, FrameSet::Scene, FrameSet::Tell).chain())
            .add_plugins((
                files::FilesPlugin,
                ask::AskPlugin,
                derived::DerivedPlugin,
                order::OrderPlugin,
                compared::ComparedPlugin,
                keeping::KeepingPlugin,
                proposed::ProposedPlugin,
                laid::LaidPlugin,
                drawn::DrawnPlugin,
                exported::ExportPlugin,
                panels::PanelsPlugin,
                scene::ScenePlugin,
                report::ReportPlugin,
            ));
    }
}
