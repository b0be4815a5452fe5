//! The faces that look at the viewer, and what they hide of a line.

use std::cell::RefCell;

use glam::{DVec2, DVec3};

use super::intervals::Intervals;

/// Nearer by less than this does not hide, mm: parts lie flush.
const FLUSH: f64 = 1e-3;

/// A flat face as seen: its outlines, and how near it is.
#[derive(Clone, Debug)]
pub(super) struct Flat {
    loops: Vec<Vec<DVec2>>,
    min: DVec2,
    max: DVec2,
    nearest: f64,
    /// Nearness at a place: `slope · place + level`.
    slope: DVec2,
    level: f64,
}

impl Flat {
    /// A face from its outlines as seen, with nearness in z, and its normal as seen; nothing for one without corners.
    pub fn new(loops: &[Vec<DVec3>], normal: DVec3) -> Option<Flat> {
        let first = *loops.first()?.first()?;
        let corners = || loops.iter().flatten().copied();
        let (min, max) = corners().fold((first, first), |(min, max), at| (min.min(at), max.max(at)));
        let slope = -normal.truncate() / normal.z;
        Some(Flat {
            loops: loops.iter().map(|corners| corners.iter().map(|at| at.truncate()).collect()).collect(),
            min: min.truncate(),
            max: max.truncate(),
            nearest: max.z,
            slope,
            level: first.z - slope.dot(first.truncate()),
        })
    }

    fn nearness(&self, at: DVec2) -> f64 {
        self.slope.dot(at) + self.level
    }

    fn sides(&self) -> impl Iterator<Item = (DVec2, DVec2)> + '_ {
        self.loops.iter().flat_map(|corners| {
            let next = corners.iter().skip(1).chain(corners.first());
            corners.iter().copied().zip(next.copied())
        })
    }

    fn contains(&self, at: DVec2) -> bool {
        let crossed = self.sides().filter(|(c, d)| (c.y > at.y) != (d.y > at.y) && at.x < c.x + (at.y - c.y) / (d.y - c.y) * (d.x - c.x));
        crossed.count() % 2 == 1
    }

    /// The stretches of the line that lie within the outlines, told to `found`; split where `also` says.
    fn within(&self, from: DVec2, to: DVec2, also: Option<f64>, mut found: impl FnMut(f64, f64)) {
        let way = to - from;
        let mut splits = vec![0.0, 1.0];
        splits.extend(also);
        for (c, d) in self.sides() {
            let side = d - c;
            let turn = way.perp_dot(side);
            if turn.abs() < 1e-12 {
                splits.extend([c, d].map(|corner| (corner - from).dot(way) / way.length_squared()));
                continue;
            }
            let along_side = (c - from).perp_dot(way) / turn;
            if (-1e-9..=1.0 + 1e-9).contains(&along_side) {
                splits.push((c - from).perp_dot(side) / turn);
            }
        }
        splits.retain(|split| (0.0..=1.0).contains(split));
        splits.sort_by(f64::total_cmp);
        for pair in splits.windows(2) {
            let middle = f64::midpoint(pair[0], pair[1]);
            if pair[1] - pair[0] > 1e-12 && self.contains(from + way * middle) {
                found(pair[0], pair[1]);
            }
        }
    }
}

/// All faces of a view, found quickly by place.
#[derive(Debug)]
pub(super) struct Faces {
    flats: Vec<Flat>,
    min: DVec2,
    cells: Vec<Vec<u32>>,
    columns: usize,
    rows: usize,
    /// For each face the number of the last question that met it, and the number of that question.
    asked: RefCell<(Vec<u32>, u32)>,
}

/// Side of a cell, mm.
const CELL: f64 = 48.0;
/// More cells than this across or up serve nobody.
const MOST_CELLS: f64 = 128.0;

impl Faces {
    /// Sorts faces into cells.
    pub fn new(flats: Vec<Flat>) -> Faces {
        let (mut min, mut max) = (DVec2::INFINITY, DVec2::NEG_INFINITY);
        for flat in &flats {
            (min, max) = (min.min(flat.min), max.max(flat.max));
        }
        if flats.is_empty() {
            (min, max) = (DVec2::ZERO, DVec2::ZERO);
        }
        let count = ((max - min) / CELL).ceil().clamp(DVec2::ONE, DVec2::splat(MOST_CELLS));
        let (columns, rows) = (count.x as usize, count.y as usize);
        let asked = RefCell::new((vec![0; flats.len()], 0));
        let mut faces = Faces { flats, min, cells: vec![Vec::new(); columns * rows], columns, rows, asked };
        for index in 0..faces.flats.len() {
            let (low, high) = (faces.flats[index].min, faces.flats[index].max);
            for cell in faces.cells_of(low, high) {
                faces.cells[cell].push(index as u32);
            }
        }
        faces
    }

    fn cells_of(&self, low: DVec2, high: DVec2) -> impl Iterator<Item = usize> + use<> {
        let clamp = |value: f64, count: usize| (value / CELL).clamp(0.0, (count - 1) as f64) as usize;
        let (low, high) = (low - self.min, high - self.min);
        let across = clamp(low.x, self.columns)..=clamp(high.x, self.columns);
        let columns = self.columns;
        (clamp(low.y, self.rows)..=clamp(high.y, self.rows)).flat_map(move |row| across.clone().map(move |column| row * columns + column))
    }

    /// Calls `each` once with every face whose box meets the line's.
    fn near(&self, from: DVec2, to: DVec2, mut each: impl FnMut(&Flat)) {
        let (low, high) = (from.min(to), from.max(to));
        let mut asked = self.asked.borrow_mut();
        asked.1 += 1;
        let now = asked.1;
        for cell in self.cells_of(low, high) {
            for &index in &self.cells[cell] {
                let index = index as usize;
                let flat = &self.flats[index];
                if asked.0[index] == now || flat.min.cmpgt(high).any() || flat.max.cmplt(low).any() {
                    continue;
                }
                asked.0[index] = now;
                each(flat);
            }
        }
    }

    /// What of the edge from `a` to `b` is hidden, from 0 at `a` to 1 at `b`.
    pub fn hiding(&self, a: DVec3, b: DVec3) -> Intervals {
        let (from, to) = (a.truncate(), b.truncate());
        let mut hidden = Vec::new();
        self.near(from, to, |flat| {
            if flat.nearest < a.z.min(b.z) + FLUSH {
                return;
            }
            // How much nearer the face is, at both ends of the edge; it changes evenly between them.
            let (first, last) = (flat.nearness(from) - a.z - FLUSH, flat.nearness(to) - b.z - FLUSH);
            if first <= 0.0 && last <= 0.0 {
                return;
            }
            let passes = (first * last < 0.0).then(|| first / (first - last));
            flat.within(from, to, passes, |start, end| {
                let middle = f64::midpoint(start, end);
                if first + (last - first) * middle > 0.0 {
                    hidden.push((start, end));
                }
            });
        });
        Intervals::of(hidden)
    }

    /// What of the line lies over any face at all.
    pub fn covering(&self, from: DVec2, to: DVec2) -> Intervals {
        let mut covered = Vec::new();
        self.near(from, to, |flat| flat.within(from, to, None, |start, end| covered.push((start, end))));
        Intervals::of(covered)
    }
}
