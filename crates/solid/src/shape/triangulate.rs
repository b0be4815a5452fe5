//! Faces filled with triangles.

use earcut::Earcut;
use glam::DVec2;

use super::refit::refit;
use super::skin::Skin;

pub(super) struct Mesh {
    pub triangles: Vec<[u32; 3]>,
    pub face_of_triangle: Vec<u32>,
}

/// Triangles for all faces, on their own vertices only.
pub(super) fn fill(skin: &Skin) -> Mesh {
    let mut mesh =
        Mesh { triangles: Vec::with_capacity(skin.loop_vertices.len()), face_of_triangle: Vec::with_capacity(skin.loop_vertices.len()) };
    let mut filler = Filler::default();
    for index in 0..skin.faces.len() {
        filler.face(skin, index, &mut mesh.triangles);
        mesh.face_of_triangle.resize(mesh.triangles.len(), index as u32);
    }
    mesh
}

#[derive(Default)]
struct Filler {
    earcut: Earcut<f64>,
    points: Vec<[f64; 2]>,
    vertices: Vec<u32>,
    holes: Vec<u32>,
    indices: Vec<u32>,
}

impl Filler {
    fn face(&mut self, skin: &Skin, index: usize, out: &mut Vec<[u32; 3]>) {
        self.gather(skin, index);
        if self.holes.is_empty() && self.is_convex() {
            zigzag(&self.vertices, out);
            return;
        }
        self.earcut.earcut(self.points.iter().copied(), &self.holes, &mut self.indices);
        let first = out.len();
        out.extend(self.indices.chunks_exact(3).map(|t| [0, 1, 2].map(|i| self.vertices[t[i] as usize])));
        // A bridge to each hole and back adds two triangles.
        let wanted = (self.vertices.len() + 2 * self.holes.len()).saturating_sub(2);
        if out.len() - first < wanted {
            refit(skin, index, first, out);
        }
    }

    /// The face's outlines, seen along the axis that its normal is nearest to.
    fn gather(&mut self, skin: &Skin, index: usize) {
        let face = &skin.faces[index];
        let drop = face.normal.abs().max_position();
        // Mirrored where the face looks against the axis, so that outer loops turn left.
        let mirror = face.normal[drop].signum();
        let (x, y) = ((drop + 1) % 3, (drop + 2) % 3);
        self.points.clear();
        self.vertices.clear();
        self.holes.clear();
        for l in face.loops.clone() {
            if !self.vertices.is_empty() {
                self.holes.push(self.vertices.len() as u32);
            }
            for &vertex in skin.outline_of(l as usize) {
                let p = skin.positions[vertex as usize];
                self.points.push([p[x] * mirror, p[y]]);
                self.vertices.push(vertex);
            }
        }
    }

    /// Whether every corner of the one outline turns left by something.
    fn is_convex(&self) -> bool {
        let n = self.points.len();
        let point = |i: usize| DVec2::from_array(self.points[if i < n { i } else { i - n }]);
        // A star winds round more than once and turns left everywhere as well; outlines of faces
        // do not cross themselves, so it need not be told apart.
        (0..n).all(|i| {
            let (a, b, c) = (point(i), point(i + 1), point(i + 2));
            (b - a).perp_dot(c - b) > 1e-9
        })
    }
}

/// A convex outline as a strip of triangles that runs to and fro.
fn zigzag(vertices: &[u32], out: &mut Vec<[u32; 3]>) {
    let (mut low, mut high) = (0, vertices.len() - 1);
    while high - low >= 2 {
        out.push([vertices[low], vertices[low + 1], vertices[high]]);
        low += 1;
        if high - low >= 2 {
            out.push([vertices[low], vertices[high - 1], vertices[high]]);
            high -= 1;
        }
    }
}
