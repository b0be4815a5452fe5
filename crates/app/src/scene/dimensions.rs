//! Dimension lines in the air, as on a pencil drawing: width, depth and height, each with a handle to drag it by.

use bevy::camera::visibility::NoFrustumCulling;
use bevy::mesh::MeshTag;
use bevy::prelude::*;

use super::camera::Eye;
use super::edges::{Line, Pencil, line_mesh};
use super::handles::Grip;
use super::parts::Standing;
use super::{gesture::Hand, paper};

/// A measure of the case that stands in the air.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Measure {
    /// Over the posts, left to right.
    Width,
    /// From the floor to the upper face of the top.
    Height,
    /// Over the posts, front to back.
    Depth,
}

impl Measure {
    /// All three.
    pub const ALL: [Measure; 3] = [Measure::Width, Measure::Height, Measure::Depth];

    /// The decision it shows.
    pub fn path(self) -> &'static str {
        match self {
            Measure::Width => "carcase.width",
            Measure::Height => "carcase.height",
            Measure::Depth => "carcase.depth",
        }
    }

    /// The direction in which it grows.
    pub fn axis(self) -> Vec3 {
        match self {
            Measure::Width => Vec3::X,
            Measure::Height => Vec3::Y,
            Measure::Depth => Vec3::Z,
        }
    }
}

/// Where a dimension line stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dimension {
    /// What it measures.
    pub measure: Measure,
    /// Its fixed end.
    pub from: Vec3,
    /// The end with the handle.
    pub to: Vec3,
    /// From the line to the corner of the case that an end belongs to, a little short of it.
    pub reach: Vec3,
}

impl Dimension {
    /// Its size, mm.
    pub fn value(&self) -> f64 {
        f64::from(self.from.distance(self.to))
    }

    fn lines(&self, size: f32) -> Vec<Line> {
        let tick = (self.measure.axis() + self.reach.normalize_or(Vec3::Y)) * size;
        let mut lines = vec![Line { a: self.from, b: self.to, dark: 1.0 }];
        for end in [self.from, self.to] {
            lines.push(Line { a: end - tick, b: end + tick, dark: 1.0 });
            let beyond = self.reach.normalize_or_zero() * size;
            lines.push(Line { a: end - beyond, b: end + self.reach, dark: 0.45 });
        }
        lines
    }
}

/// Where the three stand round the case for an eye that is turned by `yaw`: width and depth on the floor on the sides that
/// face the eye, height at the corner that bounds the case at the left.
pub fn layout(standing: &Standing, yaw: f32) -> [Dimension; 3] {
    let (low, high) = (standing.low, standing.high);
    let far = (high - low).max_element() * 0.1 + 40.0;
    let gap = 28.0;
    let front = yaw.cos() >= -0.05;
    let right = yaw.sin() >= 0.0;
    let z = if front { high.z + far } else { low.z - far };
    let x = if right { high.x + far } else { low.x - far };
    let toward_z = Vec3::Z * if front { gap - far } else { far - gap };
    let toward_x = Vec3::X * if right { gap - far } else { far - gap };

    let eye_right = Vec3::new(yaw.cos(), 0.0, -yaw.sin());
    let corners = [(low.x, low.z), (high.x, low.z), (low.x, high.z), (high.x, high.z)];
    let leftmost = corners
        .into_iter()
        .map(|(x, z)| Vec3::new(x, low.y, z))
        .min_by(|a, b| a.dot(eye_right).total_cmp(&b.dot(eye_right)))
        .unwrap_or(low);
    let upright = leftmost - eye_right * far;
    [
        Dimension { measure: Measure::Width, from: Vec3::new(low.x, low.y, z), to: Vec3::new(high.x, low.y, z), reach: toward_z },
        Dimension { measure: Measure::Height, from: upright, to: upright.with_y(high.y), reach: eye_right * (far - gap) },
        Dimension { measure: Measure::Depth, from: Vec3::new(x, low.y, low.z), to: Vec3::new(x, low.y, high.z), reach: toward_x },
    ]
}

/// The dimensions as they stand now.
#[derive(Resource, Clone, Debug, Default, PartialEq)]
pub struct Dimensions {
    /// None of them while the case is taken apart.
    pub all: Vec<Dimension>,
}

/// The lines of one dimension.
#[derive(Component)]
pub struct LinesOf(Measure);

/// Bit of a mesh's tag that draws it in the accent; as in `pencil.wgsl`.
const LIT: u32 = 2 << 24;

/// Puts the lines into the world, hidden until they are known.
pub fn draw(mut commands: Commands, windows: Query<&Window>, mut meshes: ResMut<Assets<Mesh>>, mut pencils: ResMut<Assets<Pencil>>) {
    let pencil = pencils.add(Pencil::new(paper::FINE * paper::scale(&windows), 0.8, 0.0));
    // A mesh without any corner is more than the engine bargained for, so there is a line that nobody sees.
    let nothing = meshes.add(line_mesh(&[Line { a: Vec3::ZERO, b: Vec3::X, dark: 0.0 }]));
    for measure in Measure::ALL {
        commands.spawn((
            LinesOf(measure),
            Mesh3d(nothing.clone()),
            MeshMaterial3d(pencil.clone()),
            MeshTag(0),
            Transform::default(),
            Visibility::Hidden,
            NoFrustumCulling,
        ));
    }
}

/// Keeps the lines round the case and lights the one that is held or pointed at.
pub fn follow(
    standing: Res<Standing>,
    eye: Res<Eye>,
    hand: Res<Hand>,
    mut dimensions: ResMut<Dimensions>,
    mut meshes: ResMut<Assets<Mesh>>,
    mut lines: Query<(&LinesOf, &mut Mesh3d, &mut MeshTag, &mut Visibility)>,
) {
    let all = if standing.together > 0.0 { layout(&standing, eye.orbit.yaw).to_vec() } else { Vec::new() };
    let moved = dimensions.set_if_neq(Dimensions { all });
    let size = (standing.high - standing.low).max_element() * 0.009 + 3.0;
    for (of, mut mesh, mut tag, mut visibility) in &mut lines {
        let found = dimensions.all.iter().find(|dimension| dimension.measure == of.0);
        visibility.set_if_neq(if found.is_some() { Visibility::Visible } else { Visibility::Hidden });
        tag.set_if_neq(MeshTag(if hand.lit() == Some(Grip::Measure(of.0)) { LIT } else { 0 }));
        if let Some(dimension) = found.filter(|_| moved) {
            mesh.0 = meshes.add(line_mesh(&dimension.lines(size)));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn standing() -> Standing {
        let high = Vec3::new(1360.0, 1480.0, 470.0);
        Standing { high, all: (Vec3::ZERO, high), ..Standing::default() }
    }

    #[test]
    fn dimensions_measure_the_case_from_every_side() {
        for step in 0_u8..32 {
            let sizes = layout(&standing(), f32::from(step) * 0.2).map(|dimension| dimension.value());
            assert!((sizes[0] - 1360.0).abs() < 0.01 && (sizes[1] - 1480.0).abs() < 0.01 && (sizes[2] - 470.0).abs() < 0.01);
        }
    }

    #[test]
    fn they_stand_clear_of_the_case_on_the_side_of_the_eye() {
        let [width, height, depth] = layout(&standing(), 0.5);
        assert!(width.from.z > 470.0, "before the front");
        assert!(depth.from.x > 1360.0, "at the right");
        assert!(height.from.x < 0.0, "at the left");
        let [width, _, depth] = layout(&standing(), 0.5 + std::f32::consts::PI);
        assert!(width.from.z < 0.0 && depth.from.x < 0.0, "seen from behind");
    }
}
