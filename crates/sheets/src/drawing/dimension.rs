//! Dimensions in a row on one line, with oblique strokes, as on a pencil drawing.

use glam::DVec2;

use super::canvas::{Canvas, LETTERING, Pen, width_of};

/// On which side of a view a row of dimensions stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Beside {
    /// Above it.
    Above,
    /// Below it.
    Below,
    /// To its left.
    Left,
    /// To its right.
    Right,
}

/// A place that is measured to.
#[derive(Clone, Copy, Debug)]
pub(super) struct Stop {
    /// Along the row, mm on paper.
    pub at: f64,
    /// Across the row: where the measured edge ends, mm on paper.
    pub edge: f64,
}

/// A row of dimensions.
#[derive(Clone, Debug)]
pub(super) struct Row {
    /// Where it stands.
    pub beside: Beside,
    /// The dimension line, across, mm on paper.
    pub line: f64,
    /// The places measured to, in order along the row.
    pub stops: Vec<Stop>,
    /// What is said between each two of them; nothing where they belong to no dimension of this row.
    pub figures: Vec<Option<String>>,
}

/// Between an edge and its extension line, mm.
const GAP: f64 = 1.0;
/// How far an extension line goes beyond the dimension line, mm.
const BEYOND: f64 = 1.5;
/// Half the side of the square in which an oblique stroke is the diagonal, mm.
const STROKE: f64 = 0.9;
/// Between the dimension line and figures over it, mm.
const OVER: f64 = 1.2;
/// Between the dimension line and figures that are wider than their dimension, mm: clear of the strokes.
const CLEAR: f64 = 2.0;
/// From one tier of figures to the next, mm.
const TIER: f64 = LETTERING + 1.2;

impl Beside {
    /// A place from along and across, and a distance outward from there.
    fn place(self, along: f64, across: f64, outward: f64) -> DVec2 {
        match self {
            Beside::Above => DVec2::new(along, across - outward),
            Beside::Below => DVec2::new(along, across + outward),
            Beside::Left => DVec2::new(across - outward, along),
            Beside::Right => DVec2::new(across + outward, along),
        }
    }

    fn is_upright(self) -> bool {
        matches!(self, Beside::Left | Beside::Right)
    }

    /// Figures stand over their line as one reads them: from below, or from the right.
    fn over(self) -> f64 {
        match self {
            Beside::Above | Beside::Left => 1.0,
            Beside::Below | Beside::Right => -1.0,
        }
    }
}

impl Row {
    /// Draws the row; says how far outward of its line it reaches, mm.
    pub fn draw(&self, canvas: &mut Canvas) -> f64 {
        let Row { beside, line, stops, figures } = self;
        for (index, stop) in stops.iter().enumerate() {
            let used = |index: usize| figures.get(index).is_some_and(Option::is_some);
            if used(index) || (index > 0 && used(index - 1)) {
                self.draw_stop(canvas, *stop);
            }
        }
        for (pair, figure) in stops.windows(2).zip(figures) {
            if figure.is_some() {
                canvas.line(Pen::Thin, beside.place(pair[0].at, *line, 0.0), beside.place(pair[1].at, *line, 0.0));
            }
        }
        self.draw_figures(canvas)
    }

    fn draw_stop(&self, canvas: &mut Canvas, stop: Stop) {
        let Row { beside, line, .. } = self;
        let inward = beside.place(stop.at, stop.edge, GAP);
        canvas.line(Pen::Thin, inward, beside.place(stop.at, *line, BEYOND));
        let middle = beside.place(stop.at, *line, 0.0);
        let half = DVec2::new(STROKE, -STROKE);
        canvas.line(Pen::Stroke, middle - half, middle + half);
    }

    /// Wide dimensions have their figures over the line; the others outward, each in the first tier where it has room.
    fn draw_figures(&self, canvas: &mut Canvas) -> f64 {
        let Row { beside, line, stops, figures } = self;
        let outward_is_over = beside.over() > 0.0;
        let mut taken: Vec<Vec<(f64, f64)>> = Vec::new();
        let mut narrow = Vec::new();
        let ends = stops.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), stop| (low.min(stop.at), high.max(stop.at)));
        let mut reach: f64 = BEYOND;
        for (pair, figure) in stops.windows(2).zip(figures) {
            let Some(figure) = figure else { continue };
            let (middle, room) = (f64::midpoint(pair[0].at, pair[1].at), (pair[1].at - pair[0].at).abs());
            let half = width_of(figure) / 2.0;
            if 2.0 * half + 0.6 > room {
                narrow.push((middle, half, figure));
                continue;
            }
            let outward = beside.over() * (OVER + LETTERING / 2.0);
            canvas.figure(beside.place(middle, *line, outward), beside.is_upright(), figure);
            if outward_is_over {
                take(&mut taken, 0, middle, half);
                reach = reach.max(OVER + LETTERING);
            }
        }
        for (at, half, figure) in narrow {
            // Within the row, so that no extension line of the next row runs through it.
            let (low, high) = (ends.0 + half + 0.8, ends.1 - half - 0.8);
            let middle = if low <= high { at.clamp(low, high) } else { at };
            let free = |tier: &Vec<(f64, f64)>| tier.iter().all(|(from, to)| middle + half + 0.8 < *from || middle - half - 0.8 > *to);
            let tier = taken.iter().position(free).unwrap_or(taken.len());
            take(&mut taken, tier, middle, half);
            let outward = CLEAR + LETTERING / 2.0 + tier as f64 * TIER;
            canvas.figure(beside.place(middle, *line, outward), beside.is_upright(), figure);
            if tier > 0 {
                let leader = outward - LETTERING / 2.0 - 0.4;
                canvas.line(Pen::Thin, beside.place(at, *line, 0.0), beside.place(middle, *line, leader));
            }
            reach = reach.max(outward + LETTERING / 2.0);
        }
        reach
    }
}

fn take(taken: &mut Vec<Vec<(f64, f64)>>, tier: usize, middle: f64, half: f64) {
    while taken.len() <= tier {
        taken.push(Vec::new());
    }
    taken[tier].push((middle - half, middle + half));
}
