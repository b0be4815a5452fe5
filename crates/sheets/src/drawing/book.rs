//! Which distances the drawings have said: each once, and none that follows from others unless in parentheses.

use casewright_core::Length;

/// Planes nearer than this are one, mm.
const SAME: f64 = 5e-3;

/// Shorter distances are none, mm: less than a figure shows.
pub(super) const LEAST: f64 = 6e-3;

/// The planes along one axis between which distances are known, and to which others each is tied.
#[derive(Clone, Debug, Default)]
struct Planes {
    at: Vec<f64>,
    /// The plane that stands for all that are tied to it, by its place.
    root: Vec<usize>,
}

impl Planes {
    fn of(&mut self, at: f64) -> usize {
        if let Some(known) = self.at.iter().position(|known| (known - at).abs() < SAME) {
            return known;
        }
        self.at.push(at);
        self.root.push(self.root.len());
        self.root.len() - 1
    }
}

/// What the drawings have said, by axis of the case.
#[derive(Clone, Debug, Default)]
pub(super) struct Book {
    axes: [Planes; 3],
    said: Vec<(usize, f64, f64)>,
}

/// How a distance is said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Said {
    /// As a dimension.
    Plain,
    /// In parentheses: it follows from others.
    Auxiliary,
}

impl Book {
    /// Says the distance between two places on an axis of the case, mm; nothing where it is none, or was said before.
    pub fn say(&mut self, axis: usize, from: f64, to: f64) -> Option<Said> {
        let (from, to) = (from.min(to), from.max(to));
        let before = |(other, a, b): &(usize, f64, f64)| *other == axis && (a - from).abs() < SAME && (b - to).abs() < SAME;
        if to - from < LEAST || !Length::mm(to - from).to_mm().is_finite() || self.said.iter().any(before) {
            return None;
        }
        self.said.push((axis, from, to));
        let planes = &mut self.axes[axis];
        let (a, b) = (planes.of(from), planes.of(to));
        let (a, b) = (planes.root[a], planes.root[b]);
        if a == b {
            return Some(Said::Auxiliary);
        }
        planes.root.iter_mut().filter(|root| **root == b).for_each(|root| *root = a);
        Some(Said::Plain)
    }

    /// Whether the distance between two places follows from what was said.
    pub fn knows(&mut self, axis: usize, a: f64, b: f64) -> bool {
        let planes = &mut self.axes[axis];
        let (a, b) = (planes.of(a), planes.of(b));
        planes.root[a] == planes.root[b]
    }

    /// The place nearest to another whose distance from `datum` follows from what was said; the datum itself where there is no other.
    pub fn nearest(&mut self, axis: usize, datum: f64, place: f64) -> f64 {
        let planes = &mut self.axes[axis];
        let datum = planes.of(datum);
        let tied = planes.at.iter().zip(&planes.root).filter(|(_, root)| **root == planes.root[datum]);
        tied.map(|(at, _)| *at).min_by(|a, b| (a - place).abs().total_cmp(&(b - place).abs())).unwrap_or(place)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_follows_from_others_is_auxiliary_and_nothing_is_said_twice() {
        let mut book = Book::default();
        assert_eq!(book.say(0, 0.0, 1360.0), Some(Said::Plain));
        assert_eq!(book.say(0, 0.0, 48.0), Some(Said::Plain));
        assert_eq!(book.say(0, 1312.0, 1360.0), Some(Said::Plain));
        assert_eq!(book.say(0, 48.0, 1312.0), Some(Said::Auxiliary));
        assert_eq!(book.say(0, 1312.001, 48.0), None);
        assert_eq!(book.say(1, 0.0, 48.0), Some(Said::Plain));
        assert!(book.knows(0, 48.0, 1360.0) && !book.knows(1, 48.0, 1360.0));
        assert!((book.nearest(0, 0.0, 60.0) - 48.0).abs() < 1e-9);
    }
}
