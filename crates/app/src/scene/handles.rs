//! Handles at the ends of dimension lines and at the fronts of shelves, and dragging by them.

use bevy::prelude::*;
use casewright_core::design::decisions;
use casewright_core::{Design, Model};

use super::camera::Eye;
use super::dimensions::{Dimensions, Measure};
use super::orbit::{Lens, Orbit, along_line};
use super::shelves::{self, Shelf};
use crate::ask::{Ask, TakeApart, new_gesture};
use crate::derived::Derived;
use crate::panels::{AtStage, Stage};

/// How near the pointer must be to a handle to take it, logical pixels.
pub const TAKE: f32 = 12.0;
/// How far a handle stands beyond the end of its line, logical pixels.
pub const BEYOND: f32 = 15.0;

/// What a handle is of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Grip {
    /// A measure of the case.
    Measure(Measure),
    /// A shelf that can be moved from tooth to tooth.
    Shelf(Shelf),
}

impl Grip {
    /// Its name in reports: the decision it drags, or the shelf.
    pub fn name(self) -> String {
        match self {
            Grip::Measure(measure) => measure.path().to_owned(),
            Grip::Shelf(Shelf { bay, shelf }) => format!("shelf.{}.{}", bay + 1, shelf + 1),
        }
    }
}

/// Where the handles are on the window.
#[derive(Resource, Clone, Debug, Default, PartialEq)]
pub struct Handles {
    /// Logical pixels.
    pub places: Vec<(Grip, Vec2)>,
}

impl Handles {
    /// The handle that can be taken at a place.
    pub fn at(&self, at: Vec2) -> Option<Grip> {
        let near = |place: &Vec2| place.distance(at);
        let (grip, place) = self.places.iter().min_by(|a, b| near(&a.1).total_cmp(&near(&b.1)))?;
        (near(place) <= TAKE).then_some(*grip)
    }
}

/// Where the handle of a dimension is seen: a little beyond the end of its line.
pub fn place_of(orbit: &Orbit, lens: &Lens, from: Vec3, to: Vec3) -> Option<Vec2> {
    let (start, end) = (lens.project(orbit, from)?, lens.project(orbit, to)?);
    Some(end + (end - start).normalize_or(Vec2::X) * BEYOND)
}

/// A handle being pulled.
#[derive(Resource, Default)]
pub struct Pull {
    now: Option<Pulled>,
    /// How far away what a pan holds is, so that it is looked up once a drag.
    pan: Option<(Vec2, f32)>,
}

struct Pulled {
    /// The decision that is dragged.
    path: String,
    /// Fixed end of the line along which the pointer is followed.
    from: Vec3,
    along: Vec3,
    /// What the size is more than the pointer says, from taking the handle not quite at the end.
    off: f32,
    stops: Stops,
    gesture: u64,
    last: String,
}

/// Where what is dragged may come to rest.
enum Stops {
    /// At every millimetre between two.
    Between(f64, f64),
    /// At so many heights, each with the tooth that is there.
    Teeth(Vec<(u32, f64)>),
}

impl Stops {
    /// The value nearest to a size.
    fn nearest(&self, size: f64) -> Option<String> {
        match self {
            Stops::Between(least, most) => Some(size.round().clamp(*least, *most).to_string()),
            Stops::Teeth(teeth) => {
                let off = |(_, height): &&(u32, f64)| (height - size).abs();
                teeth.iter().min_by(|a, b| off(a).total_cmp(&off(b))).map(|(tooth, _)| tooth.to_string())
            }
        }
    }
}

impl Pull {
    /// Takes hold of a handle.
    pub fn take(&mut self, grip: Grip, at: Vec2, eye: &Eye, dimensions: &Dimensions, (design, model): (&Design, &Model)) {
        self.now = match grip {
            Grip::Measure(measure) => measured(measure, at, eye, dimensions, design),
            Grip::Shelf(shelf) => moved(shelf, at, eye, design, model),
        };
    }

    /// What to ask for when the pointer is at a place; nothing while the value stays.
    pub fn drag(&mut self, at: Vec2, eye: &Eye) -> Option<Ask> {
        let pulled = self.now.as_mut()?;
        let along = along_line(eye.lens.ray(&eye.orbit, at), pulled.from, pulled.along)?;
        let text = pulled.stops.nearest(f64::from(along + pulled.off))?;
        if text == pulled.last {
            return None;
        }
        pulled.last.clone_from(&text);
        Some(Ask::Set { path: pulled.path.clone(), text, gesture: Some(pulled.gesture) })
    }

    /// Lets it go.
    pub fn let_go(&mut self) {
        self.now = None;
    }

    /// How far away what is panned is, looked up when a pan begins.
    pub fn depth_held(&mut self, from: Vec2, look: impl FnOnce() -> f32) -> f32 {
        match self.pan {
            Some((held, depth)) if held == from => depth,
            _ => {
                let depth = look();
                self.pan = Some((from, depth));
                depth
            }
        }
    }
}

/// A measure of the case, held by the end of its line.
fn measured(measure: Measure, at: Vec2, eye: &Eye, dimensions: &Dimensions, design: &Design) -> Option<Pulled> {
    let dimension = dimensions.all.iter().find(|dimension| dimension.measure == measure)?;
    let along = along_line(eye.lens.ray(&eye.orbit, at), dimension.from, measure.axis())?;
    let range =
        decisions::list(design).into_iter().find(|decision| decision.spec.path == measure.path()).and_then(|decision| decision.spec.range);
    let (least, most) = range.map_or((1.0, 1e5), |range| (*range.start(), *range.end()));
    Some(Pulled {
        path: measure.path().to_owned(),
        from: dimension.from,
        along: measure.axis(),
        off: dimension.value() as f32 - along,
        stops: Stops::Between(least, most),
        gesture: new_gesture(),
        last: dimension.value().round().to_string(),
    })
}

/// A shelf, held by its front: it goes from tooth to tooth.
fn moved(shelf: Shelf, at: Vec2, eye: &Eye, design: &Design, model: &Model) -> Option<Pulled> {
    let shelves::Free { path, tooth, teeth } = shelves::teeth_for(shelf, design, model)?;
    let from = shelves::front(shelf, model)?.with_y(0.0);
    let along = along_line(eye.lens.ray(&eye.orbit, at), from, Vec3::Y)?;
    let now = teeth.iter().find(|(one, _)| *one == tooth).map(|(_, height)| *height as f32)?;
    Some(Pulled {
        path,
        from,
        along: Vec3::Y,
        off: now - along,
        stops: Stops::Teeth(teeth),
        gesture: new_gesture(),
        last: tooth.to_string(),
    })
}

/// Follows the dimensions and the shelves on the window.
pub fn follow(
    eye: Res<Eye>,
    dimensions: Res<Dimensions>,
    derived: Res<Derived>,
    (stage, apart): (Res<AtStage>, Res<TakeApart>),
    mut handles: ResMut<Handles>,
) {
    let mut places: Vec<(Grip, Vec2)> = dimensions
        .all
        .iter()
        .filter_map(|dimension| Some((Grip::Measure(dimension.measure), place_of(&eye.orbit, &eye.lens, dimension.from, dimension.to)?)))
        .collect();
    // Shelves are moved where one thinks of what stands on them, and only from before the case.
    if stage.0 == Stage::Brief && apart.amount <= 0.0 {
        for (shelf, at) in shelves::fronts(&derived.model) {
            if eye.orbit.eye().z > at.z
                && let Some(seen) = eye.lens.project(&eye.orbit, at)
            {
                places.push((Grip::Shelf(shelf), seen));
            }
        }
    }
    handles.set_if_neq(Handles { places });
}
