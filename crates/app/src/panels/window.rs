//! The panels in the window: what they show is gathered, what they ask for is passed on.

use std::sync::{Arc, Mutex};
use std::time::Duration;

use bevy::ecs::system::SystemParam;
use bevy::input::keyboard::{Key as BevyKey, KeyboardFocusLost, KeyboardInput};
use bevy::prelude::*;
use bevy::window::{PrimaryWindow, RequestRedraw, WindowCloseRequested};
use bevy_egui::input::EguiWantsInput;
use bevy_egui::{EguiContexts, EguiPrimaryContextPass};
use casewright_core::design::decisions::{self, Decision};

use super::{AtStage, Notice, Out, View};
use crate::FrameSet;
use crate::ask::{Ask, Pointed, Sag, Season, Selection, TakeApart, ViewArea};
use crate::compared::Compared;
use crate::derived::Derived;
use crate::drawn::Drawn;
use crate::exported::Export;
use crate::files::Desk;
use crate::keeping::{Boxes, Keeping};
use crate::laid::{Bought, Laid, Leaf};
use crate::proposed::Proposed;
use crate::scene::Pick;
use crate::session::Session;
use crate::theme;

/// So many frames are drawn after there are more letters than before.
const FRAMES_OF_LETTERS: u32 = 3;

/// The panels.
pub struct PanelsPlugin;

impl Plugin for PanelsPlugin {
    fn build(&self, app: &mut App) {
        app.init_resource::<AtStage>()
            .init_resource::<Notice>()
            .init_resource::<Shown>()
            .init_resource::<Gathered>()
            .init_resource::<DrawAgain>()
            .init_resource::<Typing>()
            .add_systems(Update, keys.before(FrameSet::Ask))
            .add_systems(Update, (title, close).in_set(FrameSet::Tell))
            .add_systems(Last, settle)
            .add_systems(EguiPrimaryContextPass, draw);
    }
}

/// Where everything stands that can be clicked, for automatic tests.
#[derive(Resource, Clone, Debug, Default, PartialEq)]
pub struct Shown {
    /// Name and rectangle, in physical pixels from the top left: left, top, right, bottom.
    pub widgets: Vec<(String, [f32; 4])>,
}

/// After which time the panels want to be drawn again, where they do: for a hint that comes after a moment.
#[derive(Resource, Default)]
pub struct DrawAgain(Arc<Mutex<Option<Duration>>>);

impl DrawAgain {
    /// Takes it.
    pub fn take(&self) -> Option<Duration> {
        self.0.lock().ok().and_then(|mut after| after.take())
    }
}

/// Whether a text is being written, whose own keys go before those of the window.
#[derive(Resource, Default)]
struct Typing(bool);

/// What panels show that is gathered from the design, kept until the design changes.
#[derive(Resource, Default)]
struct Gathered {
    revision: u64,
    decisions: Vec<Decision>,
    themed: bool,
    /// How high the picture of all letters is, and how many frames are due since it grew: a new one is not on screen at once.
    letters: usize,
    due: u32,
}

#[derive(SystemParam)]
struct Seen<'w> {
    session: Res<'w, Session>,
    derived: Res<'w, Derived>,
    selection: Res<'w, Selection>,
    pick: Res<'w, Pick>,
    take_apart: Res<'w, TakeApart>,
    season: Res<'w, Season>,
    sag: Res<'w, Sag>,
    compared: Res<'w, Compared>,
    keeping: Res<'w, Keeping>,
    boxes: Res<'w, Boxes>,
    proposed: Res<'w, Proposed>,
    leaf: Res<'w, Leaf>,
    laid: Res<'w, Laid>,
    bought: Res<'w, Bought>,
    drawn: Res<'w, Drawn>,
    export: Res<'w, Export>,
    stage: Res<'w, AtStage>,
    notice: Res<'w, Notice>,
    desk: Res<'w, Desk>,
    again: Res<'w, DrawAgain>,
}

#[derive(SystemParam)]
struct Told<'w> {
    asks: MessageWriter<'w, Ask>,
    pointed: ResMut<'w, Pointed>,
    redraw: MessageWriter<'w, RequestRedraw>,
    area: ResMut<'w, ViewArea>,
    shown: ResMut<'w, Shown>,
    typing: ResMut<'w, Typing>,
}

fn draw(mut contexts: EguiContexts, seen: Seen, mut gathered: ResMut<Gathered>, mut told: Told) {
    let Ok(context) = contexts.ctx_mut() else { return };
    if !gathered.themed {
        gathered.themed = true;
        theme::apply(context);
        let after = Arc::clone(&seen.again.0);
        context.set_request_repaint_callback(move |info| {
            if let Ok(mut after) = after.lock() {
                *after = Some(after.map_or(info.delay, |known| known.min(info.delay)));
            }
        });
        // The type is there from the next pass on.
        told.redraw.write(RequestRedraw);
        return;
    }
    gather(&mut gathered, &seen);
    let view = View {
        session: &seen.session,
        decisions: &gathered.decisions,
        derived: &seen.derived,
        stage: seen.stage.0,
        leaf: *seen.leaf,
        selection: &seen.selection,
        pointed: seen.pick.hovered.or(told.pointed.0),
        take_apart: *seen.take_apart,
        season: &seen.season,
        sag: &seen.sag,
        compared: &seen.compared,
        kept: seen.keeping.shown(seen.derived.generation, seen.session.design().contents.len()),
        boxes: *seen.boxes,
        proposed: &seen.proposed,
        laid: &seen.laid.0,
        bought: &seen.bought.0,
        drawn: seen.drawn.pages(seen.export.looked_at),
        export: &seen.export,
        notice: &seen.notice,
        question: seen.desk.question.as_ref(),
    };
    let mut out = Out::default();
    let whole = egui::UiBuilder::new().layer_id(egui::LayerId::background()).max_rect(context.viewport_rect());
    super::ui(&mut egui::Ui::new(context.clone(), "window".into(), whole), &view, &mut out);
    told.typing.0 = context.text_edit_focused();
    let letters = context.fonts(|fonts| fonts.font_image_size()[1]);
    if gathered.letters != letters {
        (gathered.letters, gathered.due) = (letters, FRAMES_OF_LETTERS);
    }
    if gathered.due > 0 {
        gathered.due -= 1;
        told.redraw.write(RequestRedraw);
    }
    pass_on(out, context.pixels_per_point(), &mut told);
}

fn gather(gathered: &mut Gathered, seen: &Seen) {
    if gathered.revision != seen.session.revision() {
        gathered.revision = seen.session.revision();
        gathered.decisions = decisions::list(seen.session.design());
    }
}

fn pass_on(out: Out, scale: f32, told: &mut Told) {
    if !out.asks.is_empty() {
        told.redraw.write(RequestRedraw);
        told.asks.write_batch(out.asks);
    }
    if told.pointed.set_if_neq(Pointed(out.pointed)) {
        told.redraw.write(RequestRedraw);
    }
    if let Some(area) = out.view_area {
        let (min, max) = (Vec2::new(area.min.x, area.min.y), Vec2::new(area.max.x, area.max.y));
        let area = ViewArea { min, max, covered: out.covered };
        if *told.area != area {
            *told.area = area;
            told.redraw.write(RequestRedraw);
        }
    }
    let widgets: Vec<_> = out
        .marks
        .into_iter()
        .map(|(name, rect)| (name, [rect.left(), rect.top(), rect.right(), rect.bottom()].map(|edge| edge * scale)))
        .collect();
    if told.shown.widgets != widgets {
        told.shown.widgets = widgets;
    }
}

/// Keys that ask for something wherever the pointer is. They are read in the order in which they were pressed: with a software
/// driver a whole chord may fall into one frame.
fn keys(
    mut pressed: MessageReader<KeyboardInput>,
    mut held: Local<Held>,
    wants: Res<EguiWantsInput>,
    typing: Res<Typing>,
    mut asks: MessageWriter<Ask>,
    mut lost: MessageReader<KeyboardFocusLost>,
) {
    for key in pressed.read() {
        let down = key.state.is_pressed();
        match &key.logical_key {
            BevyKey::Control | BevyKey::Super => held.command = down,
            BevyKey::Shift => held.shift = down,
            BevyKey::Escape if down && !wants.wants_any_keyboard_input() => {
                asks.write(Ask::Select(None));
            }
            BevyKey::Character(letter) if down && held.command => {
                match chord(&letter.to_lowercase(), held.shift) {
                    // In a text these take back letters, not steps of the design.
                    Some(Ask::Undo | Ask::Redo) if typing.0 => {}
                    Some(ask) => {
                        asks.write(ask);
                    }
                    None => {}
                }
            }
            _ => {}
        }
    }
    if lost.read().count() > 0 {
        *held = Held::default();
    }
}

/// The keys held down while others are pressed.
#[derive(Default)]
struct Held {
    command: bool,
    shift: bool,
}

/// What a letter asks for while the command key is held.
fn chord(letter: &str, shift: bool) -> Option<Ask> {
    match (letter, shift) {
        ("o", false) => Some(Ask::Open),
        ("s", false) => Some(Ask::Save),
        ("s", true) => Some(Ask::SaveAs),
        ("z", false) => Some(Ask::Undo),
        ("z", true) | ("y", false) => Some(Ask::Redo),
        ("q", false) => Some(Ask::Quit),
        _ => None,
    }
}

/// Draws a little longer after something was asked for, and after new letters were needed: these are on screen frames later.
fn settle(
    mut asked: MessageReader<Ask>,
    mut images: MessageReader<AssetEvent<Image>>,
    wants: Res<EguiWantsInput>,
    mut held: Local<bool>,
    mut left: Local<u8>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    const FRAMES: u8 = 4;
    // The panels' letters are an image, which changes when one is needed for the first time.
    let new_letters = images.read().count() > 0;
    // A button let go is known to the rest of the window one frame later.
    let let_go = std::mem::replace(&mut *held, wants.is_using_pointer()) != *held;
    if asked.read().count() > 0 || new_letters || let_go {
        *left = FRAMES;
    }
    if *left > 0 {
        *left -= 1;
        redraw.write(RequestRedraw);
    }
}

fn title(session: Res<Session>, mut window: Single<&mut Window, With<PrimaryWindow>>) {
    let wanted = format!("{} — Casewright", session.title());
    if window.title != wanted {
        window.title = wanted;
    }
}

fn close(mut requested: MessageReader<WindowCloseRequested>, mut asks: MessageWriter<Ask>, mut redraw: MessageWriter<RequestRedraw>) {
    for _ in requested.read() {
        asks.write(Ask::Quit);
        redraw.write(RequestRedraw);
    }
}
