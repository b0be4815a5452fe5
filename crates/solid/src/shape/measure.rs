//! Volume, area and centroid of a closed surface.

use glam::DVec3;

pub(super) struct Measures {
    pub volume: f64,
    pub area: f64,
    pub centroid: DVec3,
}

/// Sums over the pyramids from `apex` to each triangle; an apex amid the solid keeps them small.
pub(super) fn measure(positions: &[DVec3], triangles: &[[u32; 3]], apex: DVec3) -> Measures {
    let (mut six_volumes, mut two_areas, mut moment) = (0.0, 0.0, DVec3::ZERO);
    for triangle in triangles {
        let [a, b, c] = triangle.map(|v| positions[v as usize] - apex);
        let across = (b - a).cross(c - a);
        let six = a.dot(across);
        six_volumes += six;
        two_areas += across.length();
        moment += (a + b + c) * six;
    }
    let centroid = if six_volumes > 0.0 { apex + moment / (4.0 * six_volumes) } else { apex };
    Measures { volume: six_volumes / 6.0, area: two_areas / 2.0, centroid }
}
