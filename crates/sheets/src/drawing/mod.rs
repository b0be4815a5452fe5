//! The first shop paper: three dimensioned views of the case with the findings, then the cut list and the cautions that apply, as PDF.
//!
//! Drawn with reference to ISO 128 (lines), ISO 129 (dimensions), ISO 5455 (scales), ISO 5456 (first-angle projection) and
//! ISO 7200 (title block), and to common practice in shops: oblique strokes, heights of shelves at small triangles.

mod canvas;
mod dimension;
mod faces;
mod figures;
mod intervals;
mod layout;
mod merge;
mod notes;
mod typeset;
mod view;

use casewright_core::{Design, Finding, Model, Solids};
use glam::DVec2;

use canvas::{Canvas, HEIGHT, Pen, WIDTH};
use layout::{Placed, is_shown};
use view::View;

use crate::typeset::SheetError;

/// What is said on the paper besides what follows from the design.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Paper {
    /// Date of issue, as it should read; left blank to be written by hand when there is none.
    pub date: Option<String>,
}

/// The shop paper of a case as PDF: A3 on its side.
///
/// The same design gives the same bytes.
///
/// # Errors
/// When there are no parts, or the typesetter fails.
pub fn drawing_pdf(design: &Design, model: &Model, solids: &Solids, findings: &[Finding], paper: &Paper) -> Result<Vec<u8>, SheetError> {
    let (canvas, scale) = draw(design, model, solids).ok_or(SheetError::Empty)?;
    typeset::pdf(&typeset::Sheet { design, model, findings, canvas: &canvas, scale, paper })
}

/// The lines and figures of the first sheet, and its scale.
fn draw(design: &Design, model: &Model, solids: &Solids) -> Option<(Canvas, f64)> {
    let views = layout::place(model)?;
    let mut canvas = Canvas::default();
    canvas.rectangle(Pen::Frame, DVec2::new(20.0, 10.0), DVec2::new(WIDTH - 10.0, HEIGHT - 10.0));
    for placed in &views {
        let seen = placed.view.look(model, solids, |part| is_shown(placed.view, part));
        for (pen, lines) in [(Pen::Edge, &seen.edges), (Pen::Outline, &seen.outline)] {
            for line in lines.iter().map(|line| placed.line(line)) {
                canvas.line(pen, line.a, line.b);
            }
        }
        name(&mut canvas, placed, model);
        match placed.view {
            View::Front => canvas.left_over = figures::front(&mut canvas, placed, design, model),
            View::Left => figures::left(&mut canvas, placed, model),
            View::Above => figures::plan(&mut canvas, placed, model),
        }
    }
    first_angle_symbol(&mut canvas, DVec2::new(WIDTH - 24.5, HEIGHT - 14.8));
    Some((canvas, views[0].scale))
}

fn name(canvas: &mut Canvas, placed: &Placed, model: &Model) {
    let has_top = model.parts.iter().any(|part| !is_shown(View::Above, part));
    let (name, above) = match (placed.view, has_top) {
        (View::Front, _) => ("Front", 18.5),
        (View::Left, _) => ("From the left", 18.5),
        (View::Above, true) => ("Plan, top taken off", 4.0),
        (View::Above, false) => ("Plan", 4.0),
    };
    canvas.heading(placed.corner - DVec2::Y * above, name);
}

/// A cone cut short, from its side and from its narrow end, which the first angle puts on the far side.
fn first_angle_symbol(canvas: &mut Canvas, middle: DVec2) {
    let (narrow, wide, length) = (1.2, 2.4, 5.2);
    let cone = middle - DVec2::X * 5.0;
    let corner = |x: f64, y: f64| cone + DVec2::new(x, y);
    let (left, right) = (-length / 2.0, length / 2.0);
    let corners = [corner(left, -narrow), corner(right, -wide), corner(right, wide), corner(left, narrow)];
    for index in 0..4 {
        canvas.line(Pen::Stroke, corners[index], corners[(index + 1) % 4]);
    }
    let round = middle + DVec2::X * 4.5;
    canvas.circle(Pen::Stroke, round, narrow);
    canvas.circle(Pen::Stroke, round, wide);
    canvas.line(Pen::Thin, corner(left - 1.5, 0.0), corner(right + 1.5, 0.0));
    canvas.line(Pen::Thin, round - DVec2::X * (wide + 1.0), round + DVec2::X * (wide + 1.0));
    canvas.line(Pen::Thin, round - DVec2::Y * (wide + 1.0), round + DVec2::Y * (wide + 1.0));
}

#[cfg(test)]
mod tests;
