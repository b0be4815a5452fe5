//! Which boxes meet.

use glam::DVec3;

/// Boxes that overlap by no more than this along some axis only touch, mm.
const TOUCHING: f64 = 1e-6;

/// Boxes that are asked one by one rather than divided further.
const FEW: usize = 6;

/// The pairs of boxes that overlap by more than a millionth of a millimetre along every axis.
///
/// A box is its least and greatest corner. Pairs are (lower, higher) index, sorted. Boxes with a coordinate that is not a number meet
/// nothing. A tree of boxes, halved where their centres lie widest apart, keeps the work to n log n, and as much again as there are
/// pairs, for parts that do not all lie on one heap: long and short ones, in rows, in columns and behind each other.
pub fn broad_phase(boxes: &[(DVec3, DVec3)]) -> Vec<(usize, usize)> {
    let mut meetings = Meetings::default();
    let order: Vec<usize> = (0..boxes.len()).filter(|&i| boxes[i].0.is_finite() && boxes[i].1.is_finite()).collect();
    if let Some(tree) = Tree::over(boxes, order) {
        meetings.within(&tree, boxes);
    }
    meetings.pairs.sort_unstable();
    meetings.pairs
}

/// Boxes under a box around them all.
struct Tree {
    around: (DVec3, DVec3),
    kind: Kind,
}

enum Kind {
    Few(Vec<usize>),
    Halves(Box<[Tree; 2]>),
}

impl Tree {
    /// The tree over some boxes; nothing over none.
    fn over(boxes: &[(DVec3, DVec3)], mut order: Vec<usize>) -> Option<Self> {
        let around = order.iter().map(|&i| boxes[i]).reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))?;
        if order.len() <= FEW {
            return Some(Self { around, kind: Kind::Few(order) });
        }
        let axis = widest_axis(boxes, &order);
        let middle = order.len() / 2;
        let centre = |i: usize| boxes[i].0[axis] + boxes[i].1[axis];
        order.select_nth_unstable_by(middle, |&i, &j| centre(i).total_cmp(&centre(j)).then(i.cmp(&j)));
        let upper = order.split_off(middle);
        let halves = Box::new([Self::over(boxes, order)?, Self::over(boxes, upper)?]);
        Some(Self { around, kind: Kind::Halves(halves) })
    }
}

/// Pairs as they are found.
#[derive(Default)]
struct Meetings {
    pairs: Vec<(usize, usize)>,
    /// How often two boxes were held against each other.
    asked: usize,
}

impl Meetings {
    /// All pairs under one tree.
    fn within(&mut self, tree: &Tree, boxes: &[(DVec3, DVec3)]) {
        match &tree.kind {
            Kind::Few(few) => {
                for (nth, &i) in few.iter().enumerate() {
                    for &j in &few[nth + 1..] {
                        self.ask(i, j, boxes);
                    }
                }
            }
            Kind::Halves(halves) => {
                let [low, high] = &**halves;
                self.within(low, boxes);
                self.within(high, boxes);
                self.between(low, high, boxes);
            }
        }
    }

    /// All pairs of one under the one tree and one under the other.
    fn between(&mut self, a: &Tree, b: &Tree, boxes: &[(DVec3, DVec3)]) {
        self.asked += 1;
        if !meet(a.around, b.around) {
            return;
        }
        match (&a.kind, &b.kind) {
            (Kind::Few(some), Kind::Few(others)) => {
                for &i in some {
                    for &j in others {
                        self.ask(i, j, boxes);
                    }
                }
            }
            (Kind::Halves(halves), Kind::Few(_)) => halves.iter().for_each(|half| self.between(half, b, boxes)),
            (Kind::Few(_), Kind::Halves(halves)) => halves.iter().for_each(|half| self.between(a, half, boxes)),
            (Kind::Halves(of_a), Kind::Halves(of_b)) => {
                for half in of_a.iter() {
                    for other in of_b.iter() {
                        self.between(half, other, boxes);
                    }
                }
            }
        }
    }

    fn ask(&mut self, i: usize, j: usize, boxes: &[(DVec3, DVec3)]) {
        self.asked += 1;
        if meet(boxes[i], boxes[j]) {
            self.pairs.push((i.min(j), i.max(j)));
        }
    }
}

fn meet(a: (DVec3, DVec3), b: (DVec3, DVec3)) -> bool {
    (a.1.min(b.1) - a.0.max(b.0)).min_element() > TOUCHING
}

/// The axis along which the centres vary most.
fn widest_axis(boxes: &[(DVec3, DVec3)], order: &[usize]) -> usize {
    let centres = || order.iter().map(|&i| boxes[i].0 + boxes[i].1);
    let mean = centres().sum::<DVec3>() / order.len().max(1) as f64;
    centres().map(|c| (c - mean) * (c - mean)).sum::<DVec3>().max_position()
}

#[cfg(test)]
mod tests {
    use super::{Meetings, Tree, broad_phase};
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
            let mut meetings = Meetings::default();
            meetings.within(&Tree::over(boxes, (0..boxes.len()).collect()).expect("boxes"), boxes);
            (meetings.asked as f64, meetings.pairs.len() as f64)
        };
        for boxes in [wall(1000, 1, 1, 0), wall(100, 10, 1, 10), wall(10, 10, 10, 0), wall(20, 20, 20, 20), wall(1, 4000, 1, 0)] {
            let n = boxes.len() as f64;
            let (asked, pairs) = asked(&boxes);
            assert!(asked < 4.0 * n * n.log2() + 8.0 * pairs, "{n} boxes, {pairs} pairs: asked {asked}");
        }
    }
}
