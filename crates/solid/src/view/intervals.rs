//! Stretches of a line: what is hidden of it, what is left.

/// Stretches along a line, in order and apart from each other.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Intervals(Vec<(f64, f64)>);

impl Intervals {
    /// The union of any stretches.
    pub fn of(mut stretches: Vec<(f64, f64)>) -> Intervals {
        stretches.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut union: Vec<(f64, f64)> = Vec::with_capacity(stretches.len());
        for (from, to) in stretches {
            match union.last_mut() {
                Some(last) if from <= last.1 => last.1 = last.1.max(to),
                _ => union.push((from, to)),
            }
        }
        Intervals(union)
    }

    /// What of the stretch from 0 to 1 is in none of these.
    pub fn rest(&self) -> Intervals {
        let mut rest = Vec::with_capacity(self.0.len() + 1);
        let mut from = 0.0;
        for &(start, end) in &self.0 {
            if start > from {
                rest.push((from, start.min(1.0)));
            }
            from = end.max(from);
        }
        if from < 1.0 {
            rest.push((from, 1.0));
        }
        Intervals(rest)
    }

    /// What of these lies between 0 and 1.
    pub fn within_unit(&self) -> Intervals {
        self.common(&Intervals(vec![(0.0, 1.0)]))
    }

    /// What of these is in none of the others.
    pub fn less(&self, others: &Intervals) -> Intervals {
        let mut gaps = Vec::with_capacity(others.0.len() + 1);
        let mut from = f64::NEG_INFINITY;
        for &(start, end) in &others.0 {
            gaps.push((from, start));
            from = end;
        }
        gaps.push((from, f64::INFINITY));
        self.common(&Intervals(gaps))
    }

    /// What lies in both.
    pub fn common(&self, other: &Intervals) -> Intervals {
        let (mut i, mut j) = (0, 0);
        let mut both = Vec::new();
        while let (Some(a), Some(b)) = (self.0.get(i), other.0.get(j)) {
            let (from, to) = (a.0.max(b.0), a.1.min(b.1));
            if from < to {
                both.push((from, to));
            }
            if a.1 < b.1 { i += 1 } else { j += 1 }
        }
        Intervals(both)
    }

    /// The stretches, in order.
    pub fn iter(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        self.0.iter().copied()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_left_is_what_nothing_covers() {
        let covered = Intervals::of(vec![(0.5, 0.7), (-1.0, 0.2), (0.6, 0.8), (0.9, 2.0)]);
        let rest: Vec<_> = covered.rest().iter().collect();
        assert_eq!(rest, [(0.2, 0.5), (0.8, 0.9)]);
        assert_eq!(covered.rest().common(&Intervals::of(vec![(0.3, 0.85)])), Intervals(vec![(0.3, 0.5), (0.8, 0.85)]));
        assert_eq!(Intervals::default().rest(), Intervals(vec![(0.0, 1.0)]));
    }
}
