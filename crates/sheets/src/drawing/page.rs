//! A page as plain data: lines by pen, words, areas; millimetres from the upper left corner, y down.
//!
//! A window can draw it as it is, [`svg`](super::svg) makes a picture of it, and the typesetter a PDF.

use glam::DVec2;

use super::lettering::width_of;

/// A sheet of the drawings.
#[derive(Clone, Debug, PartialEq)]
pub struct Page {
    /// What its file is called, without an ending: "1-views".
    pub name: String,
    /// What is on it: "Views".
    pub title: String,
    /// Width and height, mm.
    pub size: DVec2,
    /// The wide line, mm; the narrow one is half of it (ISO 128-2).
    pub wide: f64,
    /// What is drawn.
    pub ink: Ink,
}

/// What is drawn: areas below, lines on them, words on top.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Ink {
    /// Filled areas.
    pub areas: Vec<Area>,
    /// Lines.
    pub strokes: Vec<Stroke>,
    /// Words and figures.
    pub texts: Vec<Text>,
    /// What the figures among them measure.
    pub dimensions: Vec<Dimension>,
}

/// A line through points.
#[derive(Clone, Debug, PartialEq)]
pub struct Stroke {
    /// With what it is drawn.
    pub pen: Pen,
    /// From point to point, mm.
    pub points: Vec<DVec2>,
}

/// Words or figures.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// Their place, halfway up a capital, mm.
    pub at: DVec2,
    /// Which end of them is at the place.
    pub anchor: Anchor,
    /// Height of a capital, mm.
    pub height: f64,
    /// Whether they are read from the right edge of the sheet.
    pub upright: bool,
    /// Whether they are set semibold.
    pub bold: bool,
    /// Whether the lines of what is drawn break off round them.
    pub clears: bool,
    /// What they say.
    pub text: String,
}

/// A filled area.
#[derive(Clone, Debug, PartialEq)]
pub struct Area {
    /// Its outlines; what lies in an even number of them is not filled.
    pub loops: Vec<Vec<DVec2>>,
    /// With what.
    pub fill: Fill,
}

/// A figure that measures something.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dimension {
    /// The axis of the case along which it measures: 0 x, 1 y, 2 z.
    pub axis: usize,
    /// Where it begins on that axis, mm.
    pub from: f64,
    /// Where it ends, mm.
    pub to: f64,
    /// Whether it follows from others and stands in parentheses.
    pub auxiliary: bool,
    /// Its figure, by its place among the texts.
    pub text: usize,
}

/// With what a line is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Pen {
    /// Edges and outlines that are seen, outlines of what is cut, ends of cutting planes: wide.
    Edge,
    /// Edges behind what is cut or small ones, narrow.
    Behind,
    /// Edges that are hidden: narrow, dashed.
    Hidden,
    /// What is cut: narrow.
    Hatch,
    /// Dimension lines, leaders, arrows: narrow.
    Thin,
    /// Extension lines: narrow.
    Extension,
    /// Oblique strokes at the ends of dimension lines: wide.
    Tick,
    /// Cutting planes and centre lines: narrow, long dashes with a dot.
    Centre,
    /// The frame of the sheet and of its title block.
    Frame,
}

impl Pen {
    /// All, in the order in which they are drawn.
    pub const ALL: [Pen; 9] =
        [Pen::Hatch, Pen::Behind, Pen::Hidden, Pen::Edge, Pen::Centre, Pen::Extension, Pen::Thin, Pen::Tick, Pen::Frame];

    /// Its width, mm, where the wide line is so wide.
    pub fn width(self, wide: f64) -> f64 {
        match self {
            Pen::Edge | Pen::Tick => wide,
            Pen::Behind | Pen::Hidden | Pen::Hatch | Pen::Thin | Pen::Extension | Pen::Centre => wide / 2.0,
            Pen::Frame => 0.5,
        }
    }

    /// Lengths of dashes and gaps by turns, mm; empty for a line that goes on. A dash is 12 widths long and a gap 3 (ISO 128-2, from memory).
    pub fn dashes(self, wide: f64) -> Vec<f64> {
        let narrow = wide / 2.0;
        match self {
            Pen::Hidden => vec![12.0 * narrow, 3.0 * narrow],
            Pen::Centre => vec![24.0 * narrow, 3.0 * narrow, 0.5 * narrow, 3.0 * narrow],
            Pen::Edge | Pen::Behind | Pen::Hatch | Pen::Thin | Pen::Extension | Pen::Tick | Pen::Frame => Vec::new(),
        }
    }

    /// Whether it breaks off round words: lines of the piece itself and those that lead out of it.
    pub fn breaks_off(self) -> bool {
        match self {
            Pen::Edge | Pen::Behind | Pen::Hidden | Pen::Hatch | Pen::Extension => true,
            Pen::Thin | Pen::Tick | Pen::Centre | Pen::Frame => false,
        }
    }
}

/// Which end of words is at their place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// Their beginning.
    Start,
    /// Their middle.
    Middle,
    /// Their end.
    End,
}

/// With what an area is filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fill {
    /// The colour of the lines.
    Ink,
    /// A light tint under hatching.
    Tint,
}

impl Text {
    /// Words of a height with their middle at a place.
    pub fn new(at: DVec2, anchor: Anchor, height: f64, text: impl Into<String>) -> Text {
        Text { at, anchor, height, upright: false, bold: false, clears: false, text: text.into() }
    }

    /// The room they take: least and greatest corner, mm.
    pub fn room(&self) -> (DVec2, DVec2) {
        let (wide, half) = (width_of(&self.text, self.height, self.bold), self.height / 2.0);
        let from = match self.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => -wide / 2.0,
            Anchor::End => -wide,
        };
        if self.upright {
            // Read from the right: they run upward.
            (self.at + DVec2::new(-half, -from - wide), self.at + DVec2::new(half, -from))
        } else {
            (self.at + DVec2::new(from, -half), self.at + DVec2::new(from + wide, half))
        }
    }
}

impl Ink {
    /// A line from one point to another.
    pub fn line(&mut self, pen: Pen, a: DVec2, b: DVec2) {
        self.strokes.push(Stroke { pen, points: vec![a, b] });
    }

    /// A rectangle.
    pub fn rectangle(&mut self, pen: Pen, min: DVec2, max: DVec2) {
        let points = vec![min, DVec2::new(max.x, min.y), max, DVec2::new(min.x, max.y), min];
        self.strokes.push(Stroke { pen, points });
    }

    /// A circle.
    pub fn circle(&mut self, pen: Pen, centre: DVec2, radius: f64) {
        let points = (0..=48).map(|step| centre + DVec2::from_angle(f64::from(step) * std::f64::consts::TAU / 48.0) * radius);
        self.strokes.push(Stroke { pen, points: points.collect() });
    }

    /// Words; gives their place among the texts.
    pub fn text(&mut self, text: Text) -> usize {
        self.texts.push(text);
        self.texts.len() - 1
    }

    /// All of another drawing, so far away.
    pub fn add(&mut self, other: Ink, by: DVec2) {
        let before = self.texts.len();
        self.areas.extend(other.areas.into_iter().map(|mut area| {
            area.loops.iter_mut().flatten().for_each(|at| *at += by);
            area
        }));
        self.strokes.extend(other.strokes.into_iter().map(|mut stroke| {
            stroke.points.iter_mut().for_each(|at| *at += by);
            stroke
        }));
        self.texts.extend(other.texts.into_iter().map(|text| Text { at: text.at + by, ..text }));
        self.dimensions.extend(other.dimensions.into_iter().map(|it| Dimension { text: it.text + before, ..it }));
    }

    /// The room that all of it takes; nothing where nothing is drawn.
    pub fn room(&self) -> Option<(DVec2, DVec2)> {
        let points =
            self.strokes.iter().flat_map(|stroke| &stroke.points).chain(self.areas.iter().flat_map(|area| area.loops.iter().flatten()));
        let texts = self.texts.iter().map(Text::room);
        points.map(|at| (*at, *at)).chain(texts).reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))
    }

    /// Breaks the lines of the piece off round the words that ask for it.
    pub fn clear(&mut self) {
        let boxes: Vec<(DVec2, DVec2)> =
            self.texts.iter().filter(|text| text.clears).map(Text::room).map(|(a, b)| (a - CLEAR, b + CLEAR)).collect();
        if boxes.is_empty() {
            return;
        }
        let (pieces, rest): (Vec<Stroke>, Vec<Stroke>) =
            std::mem::take(&mut self.strokes).into_iter().partition(|stroke| stroke.pen.breaks_off());
        self.strokes = rest;
        for stroke in pieces {
            if !boxes.iter().any(|room| stroke.points.windows(2).any(|ends| inside(ends[0], ends[1], *room).is_some())) {
                self.strokes.push(stroke);
                continue;
            }
            for ends in stroke.points.windows(2) {
                let mut left = vec![(0.0, 1.0)];
                for room in &boxes {
                    if let Some((from, to)) = inside(ends[0], ends[1], *room) {
                        left = left
                            .into_iter()
                            .flat_map(|(a, b): (f64, f64)| [(a, b.min(from)), (a.max(to), b)])
                            .filter(|(a, b)| b - a > 1e-6)
                            .collect();
                    }
                }
                for (from, to) in left {
                    self.line(stroke.pen, ends[0].lerp(ends[1], from), ends[0].lerp(ends[1], to));
                }
            }
        }
    }
}

/// Room left free round words, mm.
const CLEAR: f64 = 0.5;

/// From where to where a line runs within a box, 0 to 1; nothing where it passes it by.
pub(crate) fn inside(a: DVec2, b: DVec2, (min, max): (DVec2, DVec2)) -> Option<(f64, f64)> {
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    let way = b - a;
    for axis in 0..2 {
        if way[axis].abs() < 1e-12 {
            if a[axis] < min[axis] || a[axis] > max[axis] {
                return None;
            }
            continue;
        }
        let (one, other) = ((min[axis] - a[axis]) / way[axis], (max[axis] - a[axis]) / way[axis]);
        from = from.max(one.min(other));
        to = to.min(one.max(other));
    }
    (to > from).then_some((from, to))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_of_the_piece_break_off_round_words_and_others_do_not() {
        let mut ink = Ink::default();
        ink.line(Pen::Hatch, DVec2::new(0.0, 5.0), DVec2::new(40.0, 5.0));
        ink.line(Pen::Thin, DVec2::new(0.0, 5.0), DVec2::new(40.0, 5.0));
        ink.text(Text { clears: true, ..Text::new(DVec2::new(20.0, 5.0), Anchor::Middle, 2.5, "470") });
        ink.clear();
        let of = |pen: Pen| ink.strokes.iter().filter(|stroke| stroke.pen == pen).count();
        assert_eq!((of(Pen::Hatch), of(Pen::Thin)), (2, 1));
        let (min, max) = ink.texts[0].room();
        assert!(ink.strokes.iter().filter(|it| it.pen == Pen::Hatch).all(|it| it.points[1].x < min.x || it.points[0].x > max.x));
    }
}
