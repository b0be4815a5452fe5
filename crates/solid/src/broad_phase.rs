//! Which boxes meet.

use glam::DVec3;

use crate::box_tree::{Bounds, BoxTree, Kind};

/// Boxes that overlap by no more than this along some axis only touch, mm.
const TOUCHING: f64 = 1e-6;

/// The pairs of boxes that overlap by more than a millionth of a millimetre along every axis.
///
/// A box is its least and greatest corner. Pairs are (lower, higher) index, sorted. Boxes with a coordinate that is not a number meet
/// nothing. A tree of boxes, halved where their centres lie widest apart, keeps the work to n log n, and as much again as there are
/// pairs, for parts that do not all lie on one heap: long and short ones, in rows, in columns and behind each other.
pub fn broad_phase(boxes: &[(DVec3, DVec3)]) -> Vec<(usize, usize)> {
    let order: Vec<usize> = (0..boxes.len()).filter(|&i| boxes[i].0.is_finite() && boxes[i].1.is_finite()).collect();
    let Some(tree) = BoxTree::over(order, |i| boxes[i]) else { return Vec::new() };
    let mut meetings = Meetings::new(&tree, boxes);
    meetings.within(0);
    meetings.pairs.sort_unstable();
    meetings.pairs
}

/// Pairs as they are found.
struct Meetings<'t> {
    tree: &'t BoxTree,
    boxes: &'t [Bounds],
    pairs: Vec<(usize, usize)>,
    /// How often two boxes were held against each other.
    asked: usize,
}

impl<'t> Meetings<'t> {
    fn new(tree: &'t BoxTree, boxes: &'t [Bounds]) -> Self {
        Self { tree, boxes, pairs: Vec::new(), asked: 0 }
    }

    /// All pairs under one node.
    fn within(&mut self, node: usize) {
        match &self.tree.nodes[node].kind {
            Kind::Few(range) => {
                let few = self.tree.few(range);
                for (nth, &i) in few.iter().enumerate() {
                    for &j in &few[nth + 1..] {
                        self.ask(i, j);
                    }
                }
            }
            &Kind::Halves([low, high]) => {
                self.within(low);
                self.within(high);
                self.between(low, high);
            }
        }
    }

    /// All pairs of one under the one node and one under the other.
    fn between(&mut self, a: usize, b: usize) {
        self.asked += 1;
        let (one, other) = (&self.tree.nodes[a], &self.tree.nodes[b]);
        if !meet(one.around, other.around) {
            return;
        }
        match (&one.kind, &other.kind) {
            (Kind::Few(some), Kind::Few(others)) => {
                for &i in self.tree.few(some) {
                    for &j in self.tree.few(others) {
                        self.ask(i, j);
                    }
                }
            }
            (Kind::Halves(halves), Kind::Few(_)) => halves.iter().for_each(|half| self.between(*half, b)),
            (Kind::Few(_), Kind::Halves(halves)) => halves.iter().for_each(|half| self.between(a, *half)),
            (Kind::Halves(of_a), Kind::Halves(of_b)) => {
                for half in of_a {
                    for other in of_b {
                        self.between(*half, *other);
                    }
                }
            }
        }
    }

    fn ask(&mut self, i: usize, j: usize) {
        self.asked += 1;
        if meet(self.boxes[i], self.boxes[j]) {
            self.pairs.push((i.min(j), i.max(j)));
        }
    }
}

fn meet(a: Bounds, b: Bounds) -> bool {
    (a.1.min(b.1) - a.0.max(b.0)).min_element() > TOUCHING
}

#[cfg(test)]
mod tests {
    use super::{BoxTree, Meetings, broad_phase};
    use glam::DVec3;

    /// Held against asking every pair.
    #[test]
    fn finds_the_pairs_that_asking_all_finds() {
        let mut seed = 1_u64;
        let mut next = |n: u64| {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            ((seed >> 33) % n) as f64
        };
        let boxes: Vec<(DVec3, DVec3)> = (0..150)
            .map(|_| {
                let min = DVec3::new(next(40), next(20), next(20));
                (min, min + DVec3::new(next(6), next(6), next(6)))
            })
            .collect();
        let mut wanted = Vec::new();
        for i in 0..boxes.len() {
            for j in i + 1..boxes.len() {
                let common = boxes[i].1.min(boxes[j].1) - boxes[i].0.max(boxes[j].0);
                if common.min_element() > 1e-6 {
                    wanted.push((i, j));
                }
            }
        }
        assert!(wanted.len() > 20);
        assert_eq!(broad_phase(&boxes), wanted);
    }

    #[test]
    fn touching_boxes_do_not_meet_and_odd_numbers_meet_nothing() {
        let unit = (DVec3::ZERO, DVec3::ONE);
        let beside = (DVec3::X, DVec3::X + DVec3::ONE);
        let odd = (DVec3::NAN, DVec3::ONE);
        assert_eq!(broad_phase(&[unit, beside, odd]), []);
        assert_eq!(broad_phase(&[]), []);
        assert_eq!(broad_phase(&[unit; 40]).len(), 40 * 39 / 2);
    }

    /// Boxes in rows, columns and behind each other that each reach a little into the next, and `rails` as long as all of them.
    fn wall(columns: u32, rows: u32, deep: u32, rails: u32) -> Vec<(DVec3, DVec3)> {
        let at = |x: u32, y: u32, z: u32| DVec3::new(f64::from(x), f64::from(y), f64::from(z));
        let mut boxes = Vec::new();
        for x in 0..columns {
            for y in 0..rows {
                boxes.extend((0..deep).map(|z| (at(x, y, z), at(x, y, z) + 1.01)));
            }
        }
        boxes.extend((0..rails).map(|y| (at(0, y, 0), at(columns, y, 0) + 0.5)));
        boxes
    }

    /// Held against n log n and the number of pairs; a sweep along one axis asks n to the five thirds in a block as deep as wide.
    #[test]
    fn twice_the_boxes_are_little_more_than_twice_the_work() {
        let asked = |boxes: &[(DVec3, DVec3)]| {
            let tree = BoxTree::over((0..boxes.len()).collect(), |i| boxes[i]).expect("boxes");
            let mut meetings = Meetings::new(&tree, boxes);
            meetings.within(0);
            (meetings.asked as f64, meetings.pairs.len() as f64)
        };
        for boxes in [wall(1000, 1, 1, 0), wall(100, 10, 1, 10), wall(10, 10, 10, 0), wall(20, 20, 20, 20), wall(1, 4000, 1, 0)] {
            let n = boxes.len() as f64;
            let (asked, pairs) = asked(&boxes);
            assert!(asked < 4.0 * n * n.log2() + 8.0 * pairs, "{n} boxes, {pairs} pairs: asked {asked}");
        }
    }
}
