//! Polynomials of a place along an element, to the fourth power: what a beam under uniform load bends to.

/// `c[0] + c[1]·x + … + c[4]·x⁴`.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Quartic(pub [f64; 5]);

/// Halving alone would find a root to the last bit in some sixty steps.
const STEPS: usize = 80;

impl Quartic {
    pub fn at(self, x: f64) -> f64 {
        self.0.iter().rev().fold(0.0, |sum, c| sum * x + c)
    }

    pub fn slope(self) -> Quartic {
        let [_, b, c, d, e] = self.0;
        Quartic([b, 2.0 * c, 3.0 * d, 4.0 * e, 0.0])
    }

    pub fn plus(self, other: Quartic) -> Quartic {
        Quartic(std::array::from_fn(|power| self.0[power] + other.0[power]))
    }

    pub fn minus(self, other: Quartic) -> Quartic {
        Quartic(std::array::from_fn(|power| self.0[power] - other.0[power]))
    }

    /// Its mean between two places; its value where they are the same. Gauss's rule of three points is exact for it.
    pub fn mean(self, from: f64, to: f64) -> f64 {
        let (middle, half) = (from.midpoint(to), (to - from) / 2.0);
        let outer = half * 0.6_f64.sqrt();
        (5.0 * self.at(middle - outer) + 8.0 * self.at(middle) + 5.0 * self.at(middle + outer)) / 18.0
    }

    fn is_constant(self) -> bool {
        self.0[1..].iter().all(|c| *c == 0.0)
    }

    /// Where it is zero between 0 and `length`: between two neighbouring turning points it runs one way, so a change of sign is one root.
    fn zeros(self, length: f64) -> Vec<f64> {
        if self.is_constant() {
            return Vec::new();
        }
        if let [constant, slope, 0.0, 0.0, 0.0] = self.0 {
            let root = -constant / slope;
            return if root > 0.0 && root < length { vec![root] } else { Vec::new() };
        }
        let mut stops = vec![0.0];
        stops.extend(self.slope().zeros(length));
        stops.push(length);
        stops.windows(2).filter_map(|ends| self.zero_between(ends[0], ends[1])).collect()
    }

    fn zero_between(self, mut from: f64, mut to: f64) -> Option<f64> {
        let falls = self.at(from) > 0.0;
        if self.at(from) == 0.0 || falls == (self.at(to) > 0.0) {
            return None;
        }
        // Newton's steps, and half the way where one would leave the two places between which the root is.
        let (slope, near) = (self.slope(), 1e-15 * from.abs().max(to.abs()));
        let mut root = from.midpoint(to);
        for _ in 0..STEPS {
            let value = self.at(root);
            if (value > 0.0) == falls {
                from = root;
            } else {
                to = root;
            }
            let newton = root - value / slope.at(root);
            let next = if newton > from && newton < to { newton } else { from.midpoint(to) };
            if (next - root).abs() <= near {
                break;
            }
            root = next;
        }
        Some(root)
    }

    /// The place between 0 and `length` at which it is farthest from zero, either way; the first of several.
    pub fn farthest(self, length: f64) -> f64 {
        let places = self.slope().zeros(length).into_iter().chain([length]);
        places.fold(0.0, |far, place| if self.at(place).abs() > self.at(far).abs() { place } else { far })
    }
}

#[cfg(test)]
mod tests {
    use super::Quartic;

    #[test]
    fn turning_points_are_found() {
        // (x − 1)(x − 2)(x − 4) integrated: turns at 1, 2 and 4.
        let shape = Quartic([0.0, -8.0, 7.0, -7.0 / 3.0, 0.25]);
        let turns = shape.slope().zeros(5.0);
        assert_eq!(turns.len(), 3, "{turns:?}");
        for (found, wanted) in turns.iter().zip([1.0, 2.0, 4.0]) {
            assert!((found - wanted).abs() < 1e-9, "{turns:?}");
        }
        assert!((shape.farthest(1.5) - 1.0).abs() < 1e-9);
        assert!(Quartic([3.0, 0.0, 0.0, 0.0, 0.0]).farthest(7.0).abs() < 1e-12, "the first of equals");
    }
}
