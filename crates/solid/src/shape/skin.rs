//! Outlines of faces on welded vertices.

use std::collections::HashMap;
use std::hash::{BuildHasherDefault, Hasher};
use std::ops::Range;

use glam::{DVec2, DVec3};

use super::contours::Polygon;
use super::plane::Plane;
use super::{Arc, Face, FaceOrigin};

/// The surface that a face will be part of.
#[derive(Clone, Copy, Debug)]
pub(super) struct Surface {
    pub normal: DVec3,
    pub offset: f64,
    pub origin: FaceOrigin,
    pub arc: Option<Arc>,
}

impl Surface {
    pub fn new(plane: &Plane, origin: FaceOrigin, arc: Option<Arc>) -> Self {
        let normal = plane.normal();
        Self { normal, offset: normal.dot(plane.lift(DVec2::ZERO)), origin, arc }
    }
}

/// Faces as loops of vertices, before they are filled.
#[derive(Clone)]
pub(super) struct Skin {
    pub positions: Vec<DVec3>,
    pub faces: Vec<Face>,
    pub loops: Vec<Range<u32>>,
    pub loop_vertices: Vec<u32>,
    /// Vertices nearer than this are one, mm.
    pub weld: f64,
    cells: HashMap<u64, u32, BuildHasherDefault<Mixed>>,
    /// The next vertex in the same cell.
    next: Vec<u32>,
}

/// No vertex.
const NONE: u32 = u32::MAX;

/// Cells to the mm in which vertices are looked up. Most are whole or half millimetres, so the
/// cells are shifted to keep those off their sides.
const CELLS: f64 = 1024.0;
const SHIFT: f64 = 2_147_483_648.37;

impl Skin {
    pub fn new(weld: f64) -> Self {
        Self {
            positions: Vec::with_capacity(128),
            faces: Vec::with_capacity(64),
            loops: Vec::with_capacity(64),
            loop_vertices: Vec::with_capacity(512),
            weld,
            cells: HashMap::with_capacity_and_hasher(256, BuildHasherDefault::default()),
            next: Vec::with_capacity(128),
        }
    }

    /// Starts a face; its outlines follow, the outer one first.
    pub fn begin(&mut self, surface: Surface) {
        let start = self.loops.len() as u32;
        self.faces.push(Face {
            normal: surface.normal,
            offset: surface.offset,
            origin: surface.origin,
            arc: surface.arc,
            loops: start..start,
        });
    }

    /// Adds an outline: outer ones counter-clockwise in the plane's own x and y, holes clockwise.
    pub fn outline(&mut self, plane: &Plane, points: impl DoubleEndedIterator<Item = DVec2>) {
        let start = self.loop_vertices.len() as u32;
        // Seen from outside, a plane that faces against its axis is mirrored.
        if plane.positive {
            for point in points {
                let vertex = self.vertex(plane.lift(point));
                self.loop_vertices.push(vertex);
            }
        } else {
            for point in points.rev() {
                let vertex = self.vertex(plane.lift(point));
                self.loop_vertices.push(vertex);
            }
        }
        self.loops.push(start..self.loop_vertices.len() as u32);
    }

    /// Ends the face begun last.
    pub fn end(&mut self) {
        let end = self.loops.len() as u32;
        if let Some(face) = self.faces.last_mut() {
            face.loops.end = end;
        }
    }

    pub fn polygon(&mut self, plane: &Plane, surface: Surface, polygon: &Polygon) {
        self.begin(surface);
        for outline in polygon {
            self.outline(plane, outline.iter().copied());
        }
        self.end();
    }

    pub fn outline_of(&self, index: usize) -> &[u32] {
        let range = &self.loops[index];
        &self.loop_vertices[range.start as usize..range.end as usize]
    }

    /// The vertex at a place: one that is there already, or a new one.
    fn vertex(&mut self, place: DVec3) -> u32 {
        // Cells count from far below zero, so that cutting off the fraction rounds down.
        let scaled = place * CELLS + SHIFT;
        let base = scaled.to_array().map(|c| c as i64);
        let within = scaled.to_array().map(|c| c - (c as i64) as f64);
        let reach = self.weld * CELLS;
        let low = |i: usize| if within[i] < reach { -1 } else { 0 };
        let high = |i: usize| i64::from(within[i] > 1.0 - reach);
        for x in low(0)..=high(0) {
            for y in low(1)..=high(1) {
                for z in low(2)..=high(2) {
                    let key = cell_key([base[0] + x, base[1] + y, base[2] + z]);
                    if let Some(found) = self.in_cell(key, place) {
                        return found;
                    }
                }
            }
        }
        let vertex = self.positions.len() as u32;
        self.positions.push(place);
        let before = self.cells.insert(cell_key(base), vertex).unwrap_or(NONE);
        self.next.push(before);
        vertex
    }

    fn in_cell(&self, key: u64, place: DVec3) -> Option<u32> {
        let mut vertex = *self.cells.get(&key)?;
        let reach = self.weld * self.weld;
        while vertex != NONE {
            if self.positions[vertex as usize].distance_squared(place) <= reach {
                return Some(vertex);
            }
            vertex = self.next[vertex as usize];
        }
        None
    }

    /// Adds a vertex that is not to be found by its place.
    pub fn apart(&mut self, place: DVec3) -> u32 {
        self.positions.push(place);
        self.next.push(NONE);
        self.positions.len() as u32 - 1
    }

    /// Drops repeated vertices, edges run to and fro, and what encloses nothing after that.
    pub fn tidy(&mut self) {
        if (0..self.loops.len()).all(|l| is_tidy(self.outline_of(l))) {
            return;
        }
        self.rebuild(|vertices, out| {
            let start = out.len();
            for &vertex in vertices {
                push_tidy(out, start, vertex);
            }
            // The same where the end meets the beginning.
            while out.len() - start > 2 {
                let (last, n) = (out[out.len() - 1], out.len());
                if last == out[start] {
                    out.pop();
                } else if out[n - 2] == out[start] || last == out[start + 1] {
                    let drop_last = out[n - 2] == out[start];
                    if drop_last {
                        out.truncate(n - 2);
                    } else {
                        out.remove(start);
                        out.pop();
                    }
                } else {
                    break;
                }
            }
            if out.len() - start < 3 {
                out.truncate(start);
            }
        });
    }

    /// Writes every loop anew; a loop left without vertices is dropped, and a face with its outer
    /// loop.
    pub fn rebuild(&mut self, mut write: impl FnMut(&[u32], &mut Vec<u32>)) {
        let vertices = std::mem::take(&mut self.loop_vertices);
        let loops = std::mem::take(&mut self.loops);
        let faces = std::mem::take(&mut self.faces);
        for mut face in faces {
            let start = self.loops.len() as u32;
            for (nth, index) in face.loops.clone().enumerate() {
                let old = &loops[index as usize];
                let first = self.loop_vertices.len();
                write(&vertices[old.start as usize..old.end as usize], &mut self.loop_vertices);
                if self.loop_vertices.len() > first {
                    self.loops.push(first as u32..self.loop_vertices.len() as u32);
                } else if nth == 0 {
                    break;
                }
            }
            face.loops = start..self.loops.len() as u32;
            if !face.loops.is_empty() {
                self.faces.push(face);
            }
        }
    }
}

fn is_tidy(vertices: &[u32]) -> bool {
    let n = vertices.len();
    n >= 3
        && (0..n).all(|i| {
            let next = vertices[if i + 1 < n { i + 1 } else { i + 1 - n }];
            let after = vertices[if i + 2 < n { i + 2 } else { i + 2 - n }];
            vertices[i] != next && vertices[i] != after
        })
}

/// Adds a vertex, taking back an edge that it would run to and fro.
fn push_tidy(out: &mut Vec<u32>, start: usize, vertex: u32) {
    let n = out.len();
    if n > start && out[n - 1] == vertex {
        return;
    }
    if n > start + 1 && out[n - 2] == vertex {
        out.pop();
        return;
    }
    out.push(vertex);
}

fn cell_key(cell: [i64; 3]) -> u64 {
    // Odd constants spread neighbouring cells over the whole word.
    (cell[0] as u64).wrapping_mul(0x9E37_79B9_7F4A_7C15)
        ^ (cell[1] as u64).wrapping_mul(0xC2B2_AE3D_27D4_EB4F).rotate_left(21)
        ^ (cell[2] as u64).wrapping_mul(0x1656_67B1_9E37_79F9).rotate_left(42)
}

/// A hasher for keys that are mixed already.
#[derive(Default)]
pub(super) struct Mixed(u64);

impl Hasher for Mixed {
    fn finish(&self) -> u64 {
        self.0 ^ (self.0 >> 29)
    }

    fn write(&mut self, bytes: &[u8]) {
        for &byte in bytes {
            self.0 = (self.0 ^ u64::from(byte)).wrapping_mul(0x0100_0000_01B3);
        }
    }

    fn write_u64(&mut self, value: u64) {
        self.0 = value;
    }
}
