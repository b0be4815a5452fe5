//! Which boxes meet.

use glam::DVec3;

/// Boxes that overlap by no more than this along some axis only touch, mm.
const TOUCHING: f64 = 1e-6;

/// The pairs of boxes that overlap by more than a millionth of a millimetre along every axis.
///
/// A box is its least and greatest corner. Pairs are (lower, higher) index, sorted. Boxes with a
/// coordinate that is not a number meet nothing. Sweeps along the axis on which the boxes lie
/// widest apart, so it takes n log n for parts strewn along a case.
pub fn broad_phase(boxes: &[(DVec3, DVec3)]) -> Vec<(usize, usize)> {
    let axis = widest_axis(boxes);
    let mut order: Vec<usize> = (0..boxes.len()).filter(|&i| boxes[i].0.is_finite() && boxes[i].1.is_finite()).collect();
    order.sort_by(|&i, &j| boxes[i].0[axis].total_cmp(&boxes[j].0[axis]));

    let mut pairs = Vec::new();
    let mut open: Vec<usize> = Vec::new();
    for &i in &order {
        let (min, max) = boxes[i];
        open.retain(|&j| boxes[j].1[axis] > min[axis] + TOUCHING);
        for &j in &open {
            let common = max.min(boxes[j].1) - min.max(boxes[j].0);
            if common.min_element() > TOUCHING {
                pairs.push((i.min(j), i.max(j)));
            }
        }
        open.push(i);
    }
    pairs.sort_unstable();
    pairs
}

/// The axis along which the centres vary most.
fn widest_axis(boxes: &[(DVec3, DVec3)]) -> usize {
    let finite = || boxes.iter().map(|&(a, b)| (a + b) / 2.0).filter(|c| c.is_finite());
    let count = finite().count().max(1) as f64;
    let mean = finite().sum::<DVec3>() / count;
    let spread: DVec3 = finite().map(|c| (c - mean) * (c - mean)).sum();
    spread.max_position()
}

#[cfg(test)]
mod tests {
    use super::broad_phase;
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
    }
}
