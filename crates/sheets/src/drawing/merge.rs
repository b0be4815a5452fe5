//! Lines that lie on each other or follow each other become one.

use std::collections::BTreeMap;

use glam::DVec2;

use super::intervals::Intervals;
use super::view::Line;

/// Lines nearer than this are drawn as one, mm at full size: less than a tenth of a pencil line at 1:10.
const SAME: f64 = 0.01;

/// Shorter lines are dots that nobody sees, mm at full size.
const LEAST: f64 = 0.05;

/// The endless line that some lines lie on, and where they lie on it.
struct Carrier {
    along: DVec2,
    /// How far it passes from the origin, to the left.
    offset: f64,
    stretches: Vec<(f64, f64)>,
}

impl Carrier {
    fn at(&self, place: f64) -> DVec2 {
        self.along * place + self.along.perp() * self.offset
    }
}

/// The same lines, each stretch once, in a stable order.
pub(super) fn merge(lines: &[Line]) -> Vec<Line> {
    let mut carriers: BTreeMap<[i64; 3], Carrier> = BTreeMap::new();
    for line in lines {
        let Some(along) = (line.b - line.a).try_normalize() else { continue };
        // One sense for each direction, so that a line and its reverse meet.
        let along = if along.x < -1e-9 || (along.x.abs() <= 1e-9 && along.y < 0.0) { -along } else { along };
        let offset = along.perp_dot(line.a);
        let key = [along.x * 1e4, along.y * 1e4, offset / SAME].map(|value| value.round() as i64);
        let (a, b) = (along.dot(line.a), along.dot(line.b));
        let carrier = carriers.entry(key).or_insert_with(|| Carrier { along, offset, stretches: Vec::new() });
        carrier.stretches.push((a.min(b) - SAME / 2.0, a.max(b) + SAME / 2.0));
    }
    let mut merged = Vec::new();
    for mut carrier in carriers.into_values() {
        let long = Intervals::of(std::mem::take(&mut carrier.stretches));
        merged.extend(
            long.iter()
                .map(|(from, to)| (from + SAME / 2.0, to - SAME / 2.0))
                .filter(|(from, to)| to - from > LEAST)
                .map(|(from, to)| Line { a: carrier.at(from), b: carrier.at(to) }),
        );
    }
    merged
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stretches_of_one_line_become_one_whichever_way_they_run() {
        let line = |a: (f64, f64), b: (f64, f64)| Line { a: a.into(), b: b.into() };
        let lines =
            [line((0.0, 5.0), (10.0, 5.0)), line((30.0, 5.0), (8.0, 5.0)), line((3.0, 0.0), (3.0, 9.0)), line((40.0, 5.0), (41.0, 5.0))];
        let merged = merge(&lines);
        let lengths: Vec<f64> = merged.iter().map(|line| line.a.distance(line.b)).collect();
        assert_eq!(merged.len(), 3);
        for wanted in [30.0, 9.0, 1.0] {
            assert!(lengths.iter().any(|length| (length - wanted).abs() < 1e-9), "{wanted} in {lengths:?}");
        }
    }
}
