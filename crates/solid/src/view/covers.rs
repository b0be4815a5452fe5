//! The faces that look at the viewer, and what they hide of an edge.

use std::ops::ControlFlow;

use glam::{DVec2, DVec3};

use super::IN_PLANE;
use super::intervals::Intervals;

/// Nearer by less than this does not hide, mm: parts lie flush.
const FLUSH: f64 = 1e-3;

/// No face of the body: what a plane cuts.
const CUT: u32 = u32::MAX;

/// A flat face as it is seen: its outlines, and how near it is.
#[derive(Clone, Debug)]
pub(super) struct Cover {
    body: usize,
    face: u32,
    loops: Vec<Vec<DVec2>>,
    min: DVec2,
    max: DVec2,
    nearest: f64,
    /// Nearness at a place: `slope · place + level`.
    slope: DVec2,
    level: f64,
    /// What of it is nearer than this is cut away.
    cut_at: f64,
}

impl Cover {
    /// A face from its outlines as seen, with nearness in z, and its normal as seen; nothing for one without corners, or all cut away.
    pub fn new(body: usize, face: usize, loops: &[Vec<DVec3>], normal: DVec3, cut_at: Option<f64>) -> Option<Cover> {
        let first = *loops.first()?.first()?;
        let corners = || loops.iter().flatten().copied();
        let (min, max) = corners().fold((first, first), |(min, max), at| (min.min(at), max.max(at)));
        let slope = -normal.truncate() / normal.z;
        let cut_at = cut_at.unwrap_or(f64::INFINITY);
        (min.z <= cut_at + IN_PLANE).then(|| Cover {
            body,
            face: face as u32,
            loops: loops.iter().map(|corners| corners.iter().map(|at| at.truncate()).collect()).collect(),
            min: min.truncate(),
            max: max.truncate(),
            nearest: max.z.min(cut_at),
            slope,
            level: first.z - slope.dot(first.truncate()),
            cut_at,
        })
    }

    /// What a plane at `at` cuts of a body.
    pub fn level(body: usize, loops: Vec<Vec<DVec2>>, at: f64) -> Option<Cover> {
        let first = *loops.first()?.first()?;
        let (min, max) = loops.iter().flatten().fold((first, first), |(min, max), at| (min.min(*at), max.max(*at)));
        Some(Cover { body, face: CUT, loops, min, max, nearest: at, slope: DVec2::ZERO, level: at, cut_at: f64::INFINITY })
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

    /// Whether all of its box lies to one side of the line.
    fn is_beside(&self, from: DVec2, way: DVec2) -> bool {
        let (low, high) = (self.min - from, self.max - from);
        let sides = [low, DVec2::new(high.x, low.y), high, DVec2::new(low.x, high.y)].map(|corner| way.perp_dot(corner));
        let reach = 1e-9 * way.length();
        sides.iter().all(|side| *side > reach) || sides.iter().all(|side| *side < -reach)
    }

    /// The stretches of the line that lie within the outlines, told to `found`; split at `splits` besides.
    fn within(&self, from: DVec2, to: DVec2, splits: &mut Vec<f64>, mut found: impl FnMut(f64, f64)) {
        let way = to - from;
        splits.extend([0.0, 1.0]);
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
        splits.clear();
    }

    /// Tells the stretches of an edge that it hides; `splits` is room to work in, empty before and after.
    fn hide(&self, a: DVec3, b: DVec3, splits: &mut Vec<f64>, hidden: &mut Vec<(f64, f64)>) {
        let (from, to) = (a.truncate(), b.truncate());
        // How much nearer the face is, at both ends of the edge; it changes evenly between them.
        let (near_a, near_b) = (self.nearness(from), self.nearness(to));
        let (first, last) = (near_a - a.z - FLUSH, near_b - b.z - FLUSH);
        if first <= 0.0 && last <= 0.0 {
            return;
        }
        if first * last < 0.0 {
            splits.push(first / (first - last));
        }
        let cut = (near_a - self.cut_at, near_b - self.cut_at);
        if cut.0 * cut.1 < 0.0 {
            splits.push(cut.0 / (cut.0 - cut.1));
        }
        self.within(from, to, splits, |start, end| {
            let middle = f64::midpoint(start, end);
            let is_there = cut.0 + (cut.1 - cut.0) * middle <= IN_PLANE || self.cut_at.is_infinite();
            if is_there && first + (last - first) * middle > 0.0 {
                hidden.push((start, end));
            }
        });
    }
}

/// All covers of a view, found quickly by place; the largest are asked first.
#[derive(Debug)]
pub(super) struct Covers {
    all: Vec<Cover>,
    min: DVec2,
    cell: f64,
    cells: Vec<Vec<u32>>,
    columns: usize,
    rows: usize,
    /// For each cover the number of the last question that met it, and the number of that question.
    asked: Vec<u32>,
    question: u32,
}

/// About so many cells along the longer side.
const CELLS: f64 = 48.0;

impl Covers {
    /// Sorts covers into cells.
    pub fn new(mut covers: Vec<Cover>) -> Covers {
        let room = |cover: &Cover| (cover.max - cover.min).element_product();
        covers.sort_by(|a, b| room(b).total_cmp(&room(a)));
        let around = covers.iter().map(|cover| (cover.min, cover.max)).reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)));
        let (min, max) = around.unwrap_or_default();
        let cell = ((max - min).max_element() / CELLS).max(1e-3);
        let count = ((max - min) / cell).ceil().clamp(DVec2::ONE, DVec2::splat(2.0 * CELLS));
        let (columns, rows) = (count.x as usize, count.y as usize);
        let (cells, asked) = (vec![Vec::new(); columns * rows], vec![0; covers.len()]);
        let mut sorted = Covers { all: covers, min, cell, cells, columns, rows, asked, question: 0 };
        for index in 0..sorted.all.len() {
            let (low, high) = (sorted.all[index].min, sorted.all[index].max);
            for cell in sorted.cells_of(low, high) {
                sorted.cells[cell].push(index as u32);
            }
        }
        sorted
    }

    fn cells_of(&self, low: DVec2, high: DVec2) -> impl Iterator<Item = usize> + use<> {
        let side = self.cell;
        let clamp = move |value: f64, count: usize| (value / side).clamp(0.0, (count - 1) as f64) as usize;
        let (low, high) = (low - self.min, high - self.min);
        let across = clamp(low.x, self.columns)..=clamp(high.x, self.columns);
        let columns = self.columns;
        (clamp(low.y, self.rows)..=clamp(high.y, self.rows)).flat_map(move |row| across.clone().map(move |column| row * columns + column))
    }

    /// What of the edge from `a` to `b` is hidden, from 0 at `a` to 1 at `b`; the faces that meet in it hide nothing of it.
    pub fn hiding(&mut self, a: DVec3, b: DVec3, body: usize, faces: [u32; 2]) -> Intervals {
        let (from, to) = (a.truncate(), b.truncate());
        let (low, high, way, farthest) = (from.min(to), from.max(to), to - from, a.z.min(b.z));
        self.question += 1;
        let (mut hidden, mut splits) = (Vec::new(), Vec::new());
        for cell in self.cells_of(low, high) {
            let covers = &self.all;
            let (asked, question) = (&mut self.asked, self.question);
            let done = self.cells[cell].iter().try_for_each(|&index| {
                let cover = &covers[index as usize];
                let was = std::mem::replace(&mut asked[index as usize], question);
                if was == question || cover.nearest < farthest + FLUSH || cover.min.cmpgt(high).any() || cover.max.cmplt(low).any() {
                    return ControlFlow::Continue(());
                }
                if cover.body == body && faces.contains(&cover.face) || cover.is_beside(from, way) {
                    return ControlFlow::Continue(());
                }
                let before = hidden.len();
                cover.hide(a, b, &mut splits, &mut hidden);
                // Nothing is left to hide.
                let all = hidden[before..].iter().any(|(start, end)| *start <= 0.0 && *end >= 1.0);
                if all { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
            });
            if done.is_break() {
                break;
            }
        }
        Intervals::of(hidden)
    }
}
