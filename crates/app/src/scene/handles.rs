//! Handles at the ends of dimension lines, and dragging by them.

use bevy::prelude::*;
use casewright_core::Design;
use casewright_core::design::decisions;

use super::camera::Eye;
use super::dimensions::{Dimensions, Measure};
use super::orbit::{Lens, Orbit, along_line};
use crate::ask::{Ask, new_gesture};

/// How near the pointer must be to a handle to take it, logical pixels.
pub const TAKE: f32 = 12.0;
/// How far a handle stands beyond the end of its line, logical pixels.
pub const BEYOND: f32 = 15.0;

/// Where the handles are on the window.
#[derive(Resource, Clone, Debug, Default, PartialEq)]
pub struct Handles {
    /// Logical pixels.
    pub places: Vec<(Measure, Vec2)>,
}

impl Handles {
    /// The handle that can be taken at a place.
    pub fn at(&self, at: Vec2) -> Option<Measure> {
        let near = |place: &Vec2| place.distance(at);
        let (measure, place) = self.places.iter().min_by(|a, b| near(&a.1).total_cmp(&near(&b.1)))?;
        (near(place) <= TAKE).then_some(*measure)
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
    measure: Measure,
    /// Fixed end of the line.
    from: Vec3,
    /// What the size is more than the pointer says, from taking the handle not quite at the end.
    off: f32,
    least: f64,
    most: f64,
    gesture: u64,
    last: String,
}

impl Pull {
    /// Takes hold of a handle.
    pub fn take(&mut self, measure: Measure, at: Vec2, eye: &Eye, dimensions: &Dimensions, design: &Design) {
        let Some(dimension) = dimensions.all.iter().find(|dimension| dimension.measure == measure) else { return };
        let Some(along) = along_line(eye.lens.ray(&eye.orbit, at), dimension.from, measure.axis()) else { return };
        let range = decisions::list(design)
            .into_iter()
            .find(|decision| decision.spec.path == measure.path())
            .and_then(|decision| decision.spec.range);
        let (least, most) = range.map_or((1.0, 1e5), |range| (*range.start(), *range.end()));
        self.now = Some(Pulled {
            measure,
            from: dimension.from,
            off: dimension.value() as f32 - along,
            least,
            most,
            gesture: new_gesture(),
            last: dimension.value().round().to_string(),
        });
    }

    /// What to ask for when the pointer is at a place; nothing while the size stays.
    pub fn drag(&mut self, at: Vec2, eye: &Eye) -> Option<Ask> {
        let pulled = self.now.as_mut()?;
        let along = along_line(eye.lens.ray(&eye.orbit, at), pulled.from, pulled.measure.axis())?;
        let size = f64::from(along + pulled.off).round().clamp(pulled.least, pulled.most);
        let text = size.to_string();
        if text == pulled.last {
            return None;
        }
        pulled.last.clone_from(&text);
        Some(Ask::Set { path: pulled.measure.path().to_owned(), text, gesture: Some(pulled.gesture) })
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

/// Follows the dimensions on the window.
pub fn follow(eye: Res<Eye>, dimensions: Res<Dimensions>, mut handles: ResMut<Handles>) {
    let places = dimensions
        .all
        .iter()
        .filter_map(|dimension| Some((dimension.measure, place_of(&eye.orbit, &eye.lens, dimension.from, dimension.to)?)))
        .collect();
    handles.set_if_neq(Handles { places });
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::dimensions::layout;
    use crate::scene::parts::Standing;

    #[test]
    fn pulling_a_handle_by_some_pixels_asks_for_the_size_under_the_pointer() {
        let design = crate::demo();
        let eye = Eye::default();
        let high = Vec3::new(1360.0, 1480.0, 470.0);
        let standing = Standing { high, all: (Vec3::ZERO, high), ..Standing::default() };
        let dimensions = Dimensions { all: layout(&standing, eye.orbit.yaw).to_vec() };
        let width = dimensions.all[0];
        let grip = place_of(&eye.orbit, &eye.lens, width.from, width.to).expect("before the eye");
        let wider = eye.lens.project(&eye.orbit, width.to + Vec3::X * 100.0).expect("before the eye");
        let end = eye.lens.project(&eye.orbit, width.to).expect("before the eye");
        let mut pull = Pull::default();
        pull.take(Measure::Width, grip, &eye, &dimensions, &design);
        let Some(Ask::Set { path, text, gesture }) = pull.drag(grip + wider - end, &eye) else { panic!("nothing asked for") };
        assert_eq!(path, "carcase.width");
        assert!(gesture.is_some());
        let asked: f64 = text.parse().expect("a number");
        assert!((asked - 1460.0).abs() < 4.0, "{asked}");
        assert_eq!(pull.drag(grip + wider - end, &eye), None, "the same size is not asked for twice");
    }

    #[test]
    fn the_nearest_handle_is_taken_and_none_from_afar() {
        let handles = Handles { places: vec![(Measure::Width, Vec2::new(10.0, 0.0)), (Measure::Depth, Vec2::new(20.0, 0.0))] };
        assert_eq!(handles.at(Vec2::new(18.0, 2.0)), Some(Measure::Depth));
        assert_eq!(handles.at(Vec2::new(60.0, 0.0)), None);
    }
}
