//! The eye in the world: its camera, its flights, and what the hand does with it.

use bevy::camera::{ClearColorConfig, SubCameraView};
use bevy::core_pipeline::tonemapping::{DebandDither, Tonemapping};
use bevy::input::mouse::MouseScrollUnit;
use bevy::prelude::*;
use bevy::window::{PrimaryWindow, RequestRedraw, WindowEvent};
use bevy_egui::input::EguiWantsInput;

use super::dimensions::{Dimensions, layout};
use super::gesture::{Act, Event, Ground, Hand};
use super::handles::{Handles, Pull};
use super::light::Adapter;
use super::orbit::{FIELD_OF_VIEW, Lens, Orbit};
use super::parts::Standing;
use super::picking::Pick;
use super::{paper, rod};
use crate::ask::{Ask, LookAt, ViewArea};
use crate::derived::Derived;
use crate::keeping::Boxes;

/// How long a flight takes, seconds.
const FLIGHT: f32 = 0.38;
/// Nearer by so much for a notch of the wheel.
const NOTCH: f32 = 0.88;
/// Pixels of a touchpad that count as a notch.
const PIXELS_A_NOTCH: f32 = 40.0;
/// Left free round what is shown whole, logical pixels.
const MARGIN: f32 = 44.0;

/// Where the eye is and how it sees.
#[derive(Resource, Clone, Debug, PartialEq)]
pub struct Eye {
    /// Where it is.
    pub orbit: Orbit,
    /// How its view lies on the window, logical pixels.
    pub lens: Lens,
    /// Whether it shows the whole and goes on doing so until it is moved.
    whole: bool,
    /// Where it is flying.
    flight: Option<Flight>,
    /// The piece it last showed whole, so that another is shown whole when it is opened.
    shown: Option<u64>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
struct Flight {
    from: Orbit,
    to: Orbit,
    passed: f32,
}

impl Default for Eye {
    fn default() -> Self {
        let lens = Lens { area: Rect::new(0.0, 0.0, 1440.0, 900.0), margin: MARGIN };
        Eye { orbit: Orbit::default(), lens, whole: true, flight: None, shown: None }
    }
}

impl Eye {
    /// Whether it is still on its way.
    pub fn flies(&self) -> bool {
        self.flight.is_some()
    }

    fn fly(&mut self, to: Orbit, whole: bool) {
        self.flight = Some(Flight { from: self.orbit, to, passed: 0.0 });
        self.whole = whole;
    }

    fn hold(&mut self, orbit: Orbit) {
        self.orbit = orbit;
        self.flight = None;
        self.whole = false;
    }

    /// The view that shows everything, from the side from which it looks now.
    fn on_whole(&self, standing: &Standing) -> Orbit {
        self.orbit.fitted(&to_be_seen(standing, self.orbit.yaw), &self.lens)
    }
}

/// All that "the whole" means: the case as it stands, and while it is together the dimensions and the rod beside it.
fn to_be_seen(standing: &Standing, yaw: f32) -> Vec<Vec3> {
    let (low, high) = standing.all;
    let corner = |n: u8| {
        Vec3::new(if n & 1 == 0 { low.x } else { high.x }, if n & 2 == 0 { low.y } else { high.y }, if n & 4 == 0 { low.z } else { high.z })
    };
    let mut points: Vec<Vec3> = (0..8).map(corner).collect();
    if standing.together > 0.0 {
        points.extend(layout(standing, yaw).into_iter().flat_map(|dimension| [dimension.from, dimension.to]));
        points.extend(rod::ends(standing));
    }
    points
}

/// The camera of the case.
#[derive(Component)]
pub struct EyeCamera;

/// Puts the camera into the world.
pub fn open(mut commands: Commands, adapter: Res<Adapter>) {
    commands.spawn((
        EyeCamera,
        Camera3d::default(),
        Camera { clear_color: ClearColorConfig::Custom(paper::PAPER), ..default() },
        // Colours come out of the shaders as they are to be seen.
        Tonemapping::None,
        DebandDither::Disabled,
        adapter.msaa(),
        adapter.shadow_filter(),
        Projection::Perspective(PerspectiveProjection { near: 5.0, far: 80_000.0, ..default() }),
        Transform::default(),
    ));
}

/// What the hand reaches.
#[derive(bevy::ecs::system::SystemParam)]
pub struct Reach<'w> {
    eye: ResMut<'w, Eye>,
    hand: ResMut<'w, Hand>,
    pull: ResMut<'w, Pull>,
    pick: ResMut<'w, Pick>,
    asks: MessageWriter<'w, Ask>,
    redraw: MessageWriter<'w, RequestRedraw>,
}

/// What lies under the hand.
#[derive(bevy::ecs::system::SystemParam)]
pub struct Under<'w> {
    handles: Res<'w, Handles>,
    dimensions: Res<'w, Dimensions>,
    session: Res<'w, crate::session::Session>,
    derived: Res<'w, crate::derived::Derived>,
    area: Res<'w, ViewArea>,
    placed: Res<'w, super::boxes::Placed>,
    boxes: Res<'w, Boxes>,
    egui: Res<'w, EguiWantsInput>,
    keys: Res<'w, ButtonInput<KeyCode>>,
}

/// Takes what the hand does, in order, before anything asked for is done in this frame.
pub fn feel(
    mut events: MessageReader<WindowEvent>,
    mut reach: Reach,
    under: Under,
    mut ray_cast: MeshRayCast,
    shown: Query<&super::parts::Shown>,
) {
    let busy = under.egui.is_using_pointer() || under.egui.is_popup_open();
    let ground = Ground {
        free: &|at| !busy && under.area.is_free(at),
        handle: &|at| under.handles.at(at),
        shift: under.keys.any_pressed([KeyCode::ShiftLeft, KeyCode::ShiftRight]),
    };
    for event in events.read().filter_map(mouse_event) {
        let Some(act) = reach.hand.feel(event, &ground) else { continue };
        let Reach { eye, pull, pick, asks, redraw, .. } = &mut reach;
        let (orbit, lens) = (eye.orbit, eye.lens);
        match act {
            Act::Turn(by) => eye.hold(orbit.dragged(by, &lens)),
            Act::Pan { from, by } => {
                let depth = pull.depth_held(from, || super::picking::depth_at(&orbit, &lens, from, &mut ray_cast, &shown));
                eye.hold(orbit.panned(by, depth, &lens));
            }
            Act::Zoom(at, notches) => {
                let point = super::picking::place_at(&orbit, &lens, at, &mut ray_cast, &shown);
                eye.hold(orbit.zoomed(NOTCH.powf(notches), point));
            }
            Act::Click(at) => {
                // A thing that is clicked shows which shelves take its kind; once more, and it no longer does.
                let thing = super::picking::thing_at(&orbit, &lens, at, &under.placed, (&mut ray_cast, &shown));
                if let Some(kind) = thing {
                    let chosen = (under.boxes.chosen != Some(kind)).then_some(kind);
                    asks.write(Ask::Boxes(Boxes { chosen, ..*under.boxes }));
                    redraw.write(RequestRedraw);
                    continue;
                }
                let part = super::picking::part_at(&orbit, &lens, at, &mut ray_cast, &shown);
                pick.clicked = Some(part);
                asks.write(Ask::Select(part));
            }
            Act::Take(grip, at) => pull.take(grip, at, eye, &under.dimensions, (under.session.design(), &under.derived.model)),
            Act::Drag(_, at) => {
                if let Some(ask) = pull.drag(at, eye) {
                    asks.write(ask);
                }
            }
            Act::LetGo(_) => pull.let_go(),
        }
        redraw.write(RequestRedraw);
    }
}

/// The part of a window event that the view minds.
fn mouse_event(event: &WindowEvent) -> Option<Event> {
    match event {
        WindowEvent::CursorMoved(moved) => Some(Event::Moved(moved.position)),
        WindowEvent::CursorLeft(_) => Some(Event::Left),
        WindowEvent::MouseButtonInput(input) if input.state.is_pressed() => Some(Event::Pressed(input.button)),
        WindowEvent::MouseButtonInput(input) => Some(Event::Released(input.button)),
        WindowEvent::MouseWheel(wheel) => Some(Event::Wheel(match wheel.unit {
            MouseScrollUnit::Line => wheel.y,
            MouseScrollUnit::Pixel => wheel.y / PIXELS_A_NOTCH,
        })),
        _ => None,
    }
}

/// `F` shows the whole case.
pub fn keys(keys: Res<ButtonInput<KeyCode>>, egui: Res<EguiWantsInput>, mut asks: MessageWriter<Ask>) {
    if keys.just_pressed(KeyCode::KeyF) && !egui.wants_keyboard_input() {
        asks.write(Ask::ShowWhole);
    }
}

/// Goes where it is told, and keeps the whole in view as long as that is what it shows.
pub fn look(
    mut told: MessageReader<LookAt>,
    derived: Res<Derived>,
    standing: Res<Standing>,
    area: Res<ViewArea>,
    windows: Query<&Window, With<PrimaryWindow>>,
    mut eye: ResMut<Eye>,
) {
    let free = Rect::from_corners(area.min, area.max);
    let seen = if free.width() < 80.0 || free.height() < 80.0 {
        windows.iter().next().map_or(eye.lens.area, |window| Rect::from_corners(Vec2::ZERO, window.size()))
    } else {
        free
    };
    let resized = eye.lens.area != seen;
    if resized {
        eye.lens.area = seen;
    }
    let other = !derived.model.parts.is_empty() && eye.shown != Some(derived.piece);
    if other {
        let first = eye.shown.is_none();
        eye.shown = Some(derived.piece);
        let to = eye.on_whole(&standing);
        if first {
            eye.hold(to);
            eye.whole = true;
        } else {
            eye.fly(to, true);
        }
    } else if eye.whole && !eye.flies() && (resized || (standing.is_changed() && standing.spread > 0.0)) {
        let to = eye.on_whole(&standing);
        eye.hold(to);
        eye.whole = true;
    }
    for look_at in told.read() {
        let orbit = eye.orbit;
        match *look_at {
            LookAt::Whole => {
                let to = eye.on_whole(&standing);
                eye.fly(to, true);
            }
            LookAt::Place(target) => eye.fly(Orbit { target, distance: orbit.distance.min(900.0), ..orbit }, false),
            LookAt::Part(part) => {
                let Some(part) = derived.model.parts.get(part.0) else { continue };
                let block = part.block();
                let (low, high) = (block.min.as_vec3(), block.max.as_vec3());
                let near = ((high - low).length() * 2.6).max(700.0);
                eye.fly(Orbit { target: (low + high) / 2.0, distance: orbit.distance.min(near), ..orbit }, false);
            }
        }
    }
}

/// Flies on.
pub fn fly(time: Res<Time>, mut eye: ResMut<Eye>, mut redraw: MessageWriter<RequestRedraw>) {
    let Some(mut flight) = eye.flight else { return };
    // After a rest the first frame would otherwise take the whole way at once.
    flight.passed += time.delta_secs().min(0.1);
    let t = (flight.passed / FLIGHT).min(1.0);
    let orbit = Orbit::between(flight.from, flight.to, t * t * (3.0 - 2.0 * t));
    eye.orbit = orbit;
    eye.flight = (t < 1.0).then_some(flight);
    redraw.write(RequestRedraw);
}

/// Puts the camera where the eye is. The view is shifted so that the target is in the middle of what no panel covers.
pub fn set(
    eye: Res<Eye>,
    windows: Query<&Window, With<PrimaryWindow>>,
    mut cameras: Query<(&mut Camera, &mut Projection, &mut Transform), With<EyeCamera>>,
) {
    let Some(window) = windows.iter().next() else { return };
    let size = window.size();
    let middle = eye.lens.area.center();
    let full = (middle.max(size - middle) * 2.0).max(Vec2::splat(2.0));
    let scale = window.scale_factor();
    let physical = (full * scale).round().as_uvec2();
    let sub = SubCameraView {
        full_size: physical,
        offset: (physical.as_vec2() / 2.0 - middle * scale).max(Vec2::ZERO),
        size: window.physical_size().max(UVec2::ONE),
    };
    let fov = 2.0 * ((FIELD_OF_VIEW / 2.0).tan() * full.y / eye.lens.area.height().max(1.0)).atan();
    let place = Transform::from_translation(eye.orbit.eye()).with_rotation(eye.orbit.rotation());
    for (mut camera, mut projection, mut transform) in &mut cameras {
        transform.set_if_neq(place);
        let known =
            camera.sub_camera_view.is_some_and(|view| (view.full_size, view.offset, view.size) == (sub.full_size, sub.offset, sub.size));
        if !known {
            camera.sub_camera_view = Some(sub);
        }
        let near = (eye.orbit.distance * 0.02).clamp(2.0, 40.0);
        if let Projection::Perspective(lens) = &*projection
            && ((lens.fov - fov).abs() > 1e-6 || (lens.near - near).abs() > 1e-3)
            && let Projection::Perspective(lens) = &mut *projection
        {
            (lens.fov, lens.near) = (fov, near);
        }
    }
}
