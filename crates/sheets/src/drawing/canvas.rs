//! A sheet of paper while it is drawn on: lines by pen, and words. Millimetres from the upper left corner, y down.

use std::fmt::Write as _;

use glam::DVec2;
use serde::Serialize;

use super::view::Line;

/// Width of an A3 sheet on its side, mm (ISO 216).
pub(super) const WIDTH: f64 = 420.0;
/// Height of an A3 sheet on its side, mm (ISO 216).
pub(super) const HEIGHT: f64 = 297.0;

/// Height of figures and capitals on the drawing, mm (one height a drawing, as ISO 129 and ISO 3098 have it).
pub(super) const LETTERING: f64 = 2.5;

/// A pen. Widths are of the series in ISO 128-2: wide to narrow as 2 : 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Pen {
    /// The outline of the whole.
    Outline,
    /// Edges within it.
    Edge,
    /// Dimension lines, extension lines and leaders.
    Thin,
    /// The oblique strokes at the ends of dimension lines.
    Stroke,
    /// The outline of what is taken off: long dashes with two dots.
    TakenOff,
    /// The frame of the sheet.
    Frame,
}

impl Pen {
    const ALL: [Pen; 6] = [Pen::Edge, Pen::Outline, Pen::TakenOff, Pen::Thin, Pen::Stroke, Pen::Frame];

    fn width(self) -> f64 {
        match self {
            Pen::Outline => 0.5,
            Pen::Edge => 0.18,
            Pen::Thin | Pen::TakenOff => 0.13,
            Pen::Stroke => 0.35,
            Pen::Frame => 0.7,
        }
    }

    fn dashes(self) -> &'static str {
        match self {
            Pen::TakenOff => " stroke-dasharray=\"6 0.8 0.6 0.8 0.6 0.8\"",
            Pen::Outline | Pen::Edge | Pen::Thin | Pen::Stroke | Pen::Frame => "",
        }
    }
}

/// Where words stand from their place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "lowercase")]
pub(super) enum Anchor {
    /// The place is their middle.
    Center,
    /// The place is the middle of their left edge.
    Left,
}

/// Words on the sheet.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub(super) struct Words {
    /// Across, mm.
    pub x: f64,
    /// Down, mm.
    pub y: f64,
    /// Whether they are read from the right edge of the sheet.
    pub upright: bool,
    /// Where they stand from the place.
    pub anchor: Anchor,
    /// Whether they are a heading.
    pub heading: bool,
    /// What they say.
    pub text: String,
}

/// What is drawn.
#[derive(Clone, Debug, Default)]
pub(super) struct Canvas {
    lines: Vec<(Pen, Line)>,
    circles: Vec<(Pen, DVec2, f64)>,
    blanks: Vec<(DVec2, DVec2)>,
    /// Words, set by the template.
    pub words: Vec<Words>,
    /// What found no room on the drawing and is said beside it.
    pub left_over: Vec<String>,
}

/// How wide a text of figures is, mm: a figure of the face is 0.572 of its size wide and 0.714 high.
pub(super) fn width_of(text: &str) -> f64 {
    text.chars().count() as f64 * LETTERING * 0.572 / 0.714
}

impl Canvas {
    /// A line.
    pub fn line(&mut self, pen: Pen, a: DVec2, b: DVec2) {
        self.lines.push((pen, Line { a, b }));
    }

    /// A circle.
    pub fn circle(&mut self, pen: Pen, centre: DVec2, radius: f64) {
        self.circles.push((pen, centre, radius));
    }

    /// A rectangle.
    pub fn rectangle(&mut self, pen: Pen, min: DVec2, max: DVec2) {
        let corners = [min, DVec2::new(max.x, min.y), max, DVec2::new(min.x, max.y)];
        for index in 0..4 {
            self.line(pen, corners[index], corners[(index + 1) % 4]);
        }
    }

    /// Figures in the middle of a place.
    pub fn figure(&mut self, at: DVec2, upright: bool, text: &str) {
        self.words.push(Words { x: at.x, y: at.y, upright, anchor: Anchor::Center, heading: false, text: text.to_owned() });
    }

    /// Figures from a place to the right, on paper that is kept blank under them.
    pub fn figure_on_blank(&mut self, at: DVec2, text: &str) {
        let half = DVec2::new(0.0, LETTERING / 2.0 + 0.4);
        self.blanks.push((at - half - DVec2::X * 0.3, at + half + DVec2::X * (width_of(text) + 0.3)));
        self.words.push(Words { x: at.x, y: at.y, upright: false, anchor: Anchor::Left, heading: false, text: text.to_owned() });
    }

    /// The name of a view.
    pub fn heading(&mut self, at: DVec2, text: &str) {
        self.words.push(Words { x: at.x, y: at.y, upright: false, anchor: Anchor::Left, heading: true, text: text.to_owned() });
    }

    /// The lines as SVG, a millimetre to the unit.
    pub fn svg(&self) -> String {
        let mut svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{WIDTH}mm\" height=\"{HEIGHT}mm\" viewBox=\"0 0 {WIDTH} {HEIGHT}\">\n"
        );
        for pen in Pen::ALL {
            let mut path = String::new();
            for (_, line) in self.lines.iter().filter(|(own, _)| *own == pen) {
                // Writing to a string can't fail.
                let _ = write!(path, "M{:.3} {:.3}L{:.3} {:.3}", line.a.x, line.a.y, line.b.x, line.b.y);
            }
            let style =
                format!("fill=\"none\" stroke=\"#1f1d1a\" stroke-width=\"{}\" stroke-linecap=\"round\"{}", pen.width(), pen.dashes());
            if !path.is_empty() {
                let _ = writeln!(svg, "<path {style} d=\"{path}\"/>");
            }
            for (_, centre, radius) in self.circles.iter().filter(|(own, ..)| *own == pen) {
                let _ = writeln!(svg, "<circle {style} cx=\"{:.3}\" cy=\"{:.3}\" r=\"{radius:.3}\"/>", centre.x, centre.y);
            }
            // Figures inside a view stand on blank paper: over its edges, under the lines that belong to the figures.
            if pen == Pen::Outline {
                for (min, max) in &self.blanks {
                    let size = *max - *min;
                    let _ = writeln!(
                        svg,
                        "<rect fill=\"#ffffff\" x=\"{:.3}\" y=\"{:.3}\" width=\"{:.3}\" height=\"{:.3}\"/>",
                        min.x, min.y, size.x, size.y
                    );
                }
            }
        }
        svg.push_str("</svg>\n");
        svg
    }
}
