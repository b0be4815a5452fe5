//! Dimensions on a line, with oblique strokes, as on a pencil drawing: one after another, or running from a datum.

use glam::DVec2;

use super::lettering::{LETTERING, width_of};
use super::page::{Anchor, Dimension, Ink, Pen, Text};

/// On which side of a view a row of dimensions stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Beside {
    /// Below it.
    Below,
    /// To its left.
    Left,
    /// To its right.
    Right,
}

/// A place that is measured to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Stop {
    /// Along the row, mm on paper.
    pub at: f64,
    /// Across the row: where the measured edge ends, mm on paper.
    pub edge: f64,
}

/// A figure with what it measures.
#[derive(Clone, Debug)]
pub(super) struct Figure {
    /// What it says.
    pub text: String,
    /// What it measures; which text that is follows.
    pub dimension: Dimension,
}

/// A dimension from one place to another.
#[derive(Clone, Debug)]
pub(super) struct Span {
    /// Where it begins.
    pub a: Stop,
    /// Where it ends.
    pub b: Stop,
    /// Its figure.
    pub figure: Figure,
}

/// A row of dimensions at its place.
#[derive(Clone, Copy, Debug)]
pub(super) struct Row {
    /// Where it stands.
    pub beside: Beside,
    /// The dimension line, across, mm on paper.
    pub line: f64,
}

/// Between an edge and its extension line, mm.
const GAP: f64 = 1.0;
/// How far an extension line goes beyond the dimension line, mm.
const BEYOND: f64 = 1.5;
/// Half the side of the square in which an oblique stroke is the diagonal, mm.
const STROKE: f64 = 0.9;
/// Between the dimension line and figures over it, mm.
const OVER: f64 = 1.0;
/// Between the dimension line and figures that are wider than their dimension, mm: clear of the strokes.
const CLEAR: f64 = 2.0;
/// From the end of a dimension to a figure that stands beside it, mm.
const ASIDE: f64 = 1.6;
/// From one tier of figures to the next, mm.
const TIER: f64 = LETTERING + 1.2;
/// Between figures side by side, mm.
const APART: f64 = 1.0;

impl Beside {
    /// A place from along and across, and a distance outward from there.
    fn place(self, along: f64, across: f64, outward: f64) -> DVec2 {
        match self {
            Beside::Below => DVec2::new(along, across + outward),
            Beside::Left => DVec2::new(across - outward, along),
            Beside::Right => DVec2::new(across + outward, along),
        }
    }

    /// Whether its rows run up and down.
    pub fn is_upright(self) -> bool {
        matches!(self, Beside::Left | Beside::Right)
    }

    /// Figures stand over their line as one reads them: from below, or from the right.
    fn over(self) -> f64 {
        match self {
            Beside::Left => 1.0,
            Beside::Below | Beside::Right => -1.0,
        }
    }
}

impl Row {
    fn stop(&self, ink: &mut Ink, stop: Stop) {
        let inward = self.beside.place(stop.at, stop.edge, GAP);
        ink.line(Pen::Extension, inward, self.beside.place(stop.at, self.line, BEYOND));
        let middle = self.beside.place(stop.at, self.line, 0.0);
        ink.line(Pen::Tick, middle - DVec2::new(STROKE, -STROKE), middle + DVec2::new(STROKE, -STROKE));
    }

    fn stops(&self, ink: &mut Ink, stops: impl Iterator<Item = Stop>) {
        let mut drawn: Vec<f64> = Vec::new();
        for stop in stops {
            if !drawn.iter().any(|at| (at - stop.at).abs() < 1e-3) {
                drawn.push(stop.at);
                self.stop(ink, stop);
            }
        }
    }

    /// Draws dimensions that don't overlap; says how far outward of the line they reach, mm.
    ///
    /// Wide ones have their figures over the line; the others beside their ends where nothing is measured there, else outward, each in the first tier where it has room.
    pub fn chain(&self, ink: &mut Ink, spans: &[Span]) -> f64 {
        self.stops(ink, spans.iter().flat_map(|span| [span.a, span.b]));
        for span in spans {
            ink.line(Pen::Thin, self.beside.place(span.a.at, self.line, 0.0), self.beside.place(span.b.at, self.line, 0.0));
        }
        let mut taken: Vec<Vec<(f64, f64)>> = Vec::new();
        let mut narrow = Vec::new();
        let mut reach: f64 = BEYOND;
        for span in spans {
            let (middle, room) = (f64::midpoint(span.a.at, span.b.at), (span.b.at - span.a.at).abs());
            let half = width_of(&span.figure.text, LETTERING, false) / 2.0;
            if 2.0 * half + 1.2 > room {
                narrow.push((span, middle, half));
                continue;
            }
            let outward = self.beside.over() * (OVER + LETTERING / 2.0);
            write(ink, self.beside.place(middle, self.line, outward), self.beside.is_upright(), Anchor::Middle, &span.figure);
            if outward > 0.0 {
                take(&mut taken, 0, middle, half);
                reach = reach.max(OVER + LETTERING);
            }
        }
        let mut aside: Vec<(f64, f64)> = spans.iter().map(|span| (span.a.at.min(span.b.at), span.a.at.max(span.b.at))).collect();
        for (span, at, half) in narrow {
            if let Some((place, end)) = beside(span, half, &aside) {
                let outward = self.beside.over() * (OVER + LETTERING / 2.0);
                write(ink, self.beside.place(place, self.line, outward), self.beside.is_upright(), Anchor::Middle, &span.figure);
                let far = if place < end { place - half } else { place + half };
                ink.line(Pen::Thin, self.beside.place(end, self.line, 0.0), self.beside.place(far, self.line, 0.0));
                aside.push((place - half, place + half));
                if outward > 0.0 {
                    reach = reach.max(OVER + LETTERING);
                }
                continue;
            }
            let free = |tier: &Vec<(f64, f64)>| tier.iter().all(|(from, to)| at + half + APART < *from || at - half - APART > *to);
            let tier = taken.iter().position(free).unwrap_or(taken.len());
            take(&mut taken, tier, at, half);
            let outward = CLEAR + LETTERING / 2.0 + tier as f64 * TIER;
            write(ink, self.beside.place(at, self.line, outward), self.beside.is_upright(), Anchor::Middle, &span.figure);
            if tier > 0 {
                ink.line(
                    Pen::Extension,
                    self.beside.place(at, self.line, 0.0),
                    self.beside.place(at, self.line, outward - LETTERING / 2.0 - 0.4),
                );
            }
            reach = reach.max(outward + LETTERING / 2.0);
        }
        reach
    }

    /// Draws dimensions that run from one datum: a ring there, a stroke at each place, the figure at the end of its extension line.
    pub fn running(&self, ink: &mut Ink, datum: Stop, ends: &[(Stop, Figure)]) -> f64 {
        self.stops(ink, ends.iter().map(|(stop, _)| *stop));
        ink.line(Pen::Extension, self.beside.place(datum.at, datum.edge, GAP), self.beside.place(datum.at, self.line, BEYOND));
        ink.circle(Pen::Thin, self.beside.place(datum.at, self.line, 0.0), STROKE);
        let far = ends.iter().map(|(stop, _)| stop.at).max_by(|a, b| (a - datum.at).abs().total_cmp(&(b - datum.at).abs()));
        if let Some(far) = far {
            let from = datum.at + STROKE * (far - datum.at).signum();
            ink.line(Pen::Thin, self.beside.place(from, self.line, 0.0), self.beside.place(far, self.line, 0.0));
        }
        // The figures stand side by side across the line, pushed apart where the places are too near to each other.
        let mut order: Vec<&(Stop, Figure)> = ends.iter().collect();
        order.sort_by(|a, b| a.0.at.total_cmp(&b.0.at));
        let mut places: Vec<f64> = order.iter().map(|(stop, _)| stop.at).collect();
        spread(&mut places, LETTERING + APART);
        let mut reach: f64 = BEYOND;
        for ((stop, figure), place) in order.iter().zip(places) {
            let shifted = (place - stop.at).abs() > 0.05;
            let outward = BEYOND + 0.8 + if shifted { 1.6 } else { 0.0 };
            if shifted {
                ink.line(Pen::Thin, self.beside.place(stop.at, self.line, BEYOND), self.beside.place(place, self.line, outward - 0.4));
            }
            let anchor = match self.beside {
                Beside::Left | Beside::Below => Anchor::End,
                Beside::Right => Anchor::Start,
            };
            write(ink, self.beside.place(place, self.line, outward), !self.beside.is_upright(), anchor, figure);
            reach = reach.max(outward + width_of(&figure.text, LETTERING, false));
        }
        reach
    }
}

/// Where a figure that is wider than its dimension stands beside it, and the end it stands at; none where other dimensions are on both sides.
fn beside(span: &Span, half: f64, taken: &[(f64, f64)]) -> Option<(f64, f64)> {
    let (low, high) = (span.a.at.min(span.b.at), span.a.at.max(span.b.at));
    // Farther than in tiers, so that two of them are not read as one.
    let free = |place: f64| taken.iter().all(|(from, to)| place + half + 2.0 * APART < *from || place - half - 2.0 * APART > *to);
    [(low - ASIDE - half, low), (high + ASIDE + half, high)].into_iter().find(|(place, _)| free(*place))
}

/// Writes a figure, and what it measures.
fn write(ink: &mut Ink, at: DVec2, upright: bool, anchor: Anchor, figure: &Figure) {
    let text = ink.text(Text { upright, clears: true, ..Text::new(at, anchor, LETTERING, figure.text.clone()) });
    ink.dimensions.push(Dimension { text, ..figure.dimension });
}

/// Pushes places in rising order apart so far, each from its own as little as may be.
pub(crate) fn spread(places: &mut [f64], apart: f64) {
    // Those that touch are a heap about the middle of their own places.
    let mut heaps: Vec<(f64, usize)> = Vec::new();
    for place in places.iter() {
        let mut heap = (*place, 1_usize);
        while let Some(last) = heaps.last() {
            let room = apart * (last.1 + heap.1) as f64 / 2.0;
            if heap.0 - last.0 >= room - 1e-9 {
                break;
            }
            let count = last.1 + heap.1;
            // Both heaps keep the mean of what they wanted.
            heap = ((last.0 * last.1 as f64 + heap.0 * heap.1 as f64) / count as f64, count);
            heaps.pop();
        }
        heaps.push(heap);
    }
    let mut all = places.iter_mut();
    for (middle, count) in heaps {
        for (number, place) in all.by_ref().take(count).enumerate() {
            *place = middle + apart * (number as f64 - (count as f64 - 1.0) / 2.0);
        }
    }
}

fn take(taken: &mut Vec<Vec<(f64, f64)>>, tier: usize, middle: f64, half: f64) {
    while taken.len() <= tier {
        taken.push(Vec::new());
    }
    taken[tier].push((middle - half, middle + half));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_too_near_are_pushed_apart_about_their_middle() {
        let mut places = [0.0, 10.0, 11.0, 30.0];
        spread(&mut places, 3.0);
        assert!(places.iter().zip([0.0, 9.0, 12.0, 30.0]).all(|(found, wanted)| (found - wanted).abs() < 1e-9), "{places:?}");
    }
}
