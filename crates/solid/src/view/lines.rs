//! Lines that lie on each other or follow each other become one.

use glam::DVec2;

use super::intervals::Intervals;

/// Lines nearer than this are drawn as one, mm.
const SAME: f64 = 0.01;

/// Lines that turn by less than this against each other run the same way, radians.
const SAME_WAY: f64 = 1e-4;

/// Shorter lines are dots that nobody sees, mm.
const LEAST: f64 = 0.05;

/// A straight line as it is seen, mm to the right and up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Line {
    /// One end.
    pub a: DVec2,
    /// The other end.
    pub b: DVec2,
}

/// The endless line that some lines lie on, and where they lie on it.
struct Carrier {
    along: DVec2,
    /// How far it passes from the origin, to the left.
    offset: f64,
    seen: Vec<(f64, f64)>,
    hidden: Vec<(f64, f64)>,
}

impl Carrier {
    fn lines(&self, stretches: &Intervals) -> Vec<Line> {
        let at = |place: f64| self.along * place + self.along.perp() * self.offset;
        let long = stretches.iter().map(|(from, to)| (from + SAME / 2.0, to - SAME / 2.0)).filter(|(from, to)| to - from > LEAST);
        long.map(|(from, to)| Line { a: at(from), b: at(to) }).collect()
    }
}

/// The same lines, each stretch once, in a stable order.
pub fn merged(lines: &[Line]) -> Vec<Line> {
    carriers(lines, &[]).into_iter().flat_map(|carrier| carrier.lines(&Intervals::of(carrier.seen.clone()))).collect()
}

/// Hidden lines, each stretch once, where nothing is seen in the same place.
pub(super) fn hidden_only(seen: &[Line], hidden: &[Line]) -> Vec<Line> {
    let left = |carrier: Carrier| carrier.lines(&Intervals::of(carrier.hidden.clone()).less(&Intervals::of(carrier.seen.clone())));
    carriers(seen, hidden).into_iter().flat_map(left).collect()
}

/// A line by its way, in one sense for each direction, how far it passes from the origin, and from where to where it runs.
struct Run {
    turn: f64,
    offset: f64,
    along: DVec2,
    stretch: (f64, f64),
    hidden: bool,
}

fn run(line: &Line, hidden: bool) -> Option<Run> {
    let along = (line.b - line.a).try_normalize()?;
    // A line and its reverse meet; upright is π/2, never -π/2.
    let along = if along.x < -SAME_WAY / 2.0 || (along.x.abs() <= SAME_WAY / 2.0 && along.y < 0.0) { -along } else { along };
    let (a, b) = (along.dot(line.a), along.dot(line.b));
    let stretch = (a.min(b) - SAME / 2.0, a.max(b) + SAME / 2.0);
    Some(Run { turn: along.y.atan2(along.x), offset: along.perp_dot(line.a), along, stretch, hidden })
}

fn carriers(seen: &[Line], hidden: &[Line]) -> Vec<Carrier> {
    let mut runs: Vec<Run> =
        seen.iter().filter_map(|line| run(line, false)).chain(hidden.iter().filter_map(|line| run(line, true))).collect();
    runs.sort_by(|a, b| a.turn.total_cmp(&b.turn));
    let mut carriers = Vec::new();
    let mut rest = &mut runs[..];
    while let Some(first) = rest.first().map(|run| run.turn) {
        let many = rest.partition_point(|run| run.turn - first < SAME_WAY);
        let (alike, after) = rest.split_at_mut(many);
        alike.sort_by(|a, b| a.offset.total_cmp(&b.offset).then(a.stretch.0.total_cmp(&b.stretch.0)));
        let from = carriers.len();
        for run in alike {
            let fits = |carrier: &&mut Carrier| run.offset - carrier.offset < SAME;
            let last = if carriers.len() > from { carriers.last_mut().filter(fits) } else { None };
            let (all_seen, all_hidden) = if run.hidden { (vec![], vec![run.stretch]) } else { (vec![run.stretch], vec![]) };
            match last {
                Some(carrier) => {
                    carrier.seen.extend(all_seen);
                    carrier.hidden.extend(all_hidden);
                }
                None => carriers.push(Carrier { along: run.along, offset: run.offset, seen: all_seen, hidden: all_hidden }),
            }
        }
        rest = after;
    }
    carriers
}

#[cfg(test)]
mod tests {
    use super::*;

    fn line(a: (f64, f64), b: (f64, f64)) -> Line {
        Line { a: a.into(), b: b.into() }
    }

    #[test]
    fn stretches_of_one_line_become_one_whichever_way_they_run() {
        let lines =
            [line((0.0, 5.0), (10.0, 5.0)), line((30.0, 5.0), (8.0, 5.0)), line((3.0, 0.0), (3.0, 9.0)), line((40.0, 5.0), (41.0, 5.0))];
        let merged = merged(&lines);
        let lengths: Vec<f64> = merged.iter().map(|line| line.a.distance(line.b)).collect();
        assert_eq!(merged.len(), 3);
        for wanted in [30.0, 9.0, 1.0] {
            assert!(lengths.iter().any(|length| (length - wanted).abs() < 1e-9), "{wanted} in {lengths:?}");
        }
    }

    #[test]
    fn what_is_seen_is_not_drawn_as_hidden_too() {
        let lines = hidden_only(&[line((2.0, 0.0), (6.0, 0.0))], &[line((10.0, 0.0), (0.0, 0.0))]);
        let lengths: Vec<f64> = lines.iter().map(|line| line.a.distance(line.b)).collect();
        assert!(lengths.len() == 2 && (lengths[0] - 2.0).abs() < 0.02 && (lengths[1] - 4.0).abs() < 0.02, "{lengths:?}");
    }
}
