//! What the typesetter set, as plain lines, areas and words, for a screen.

use glam::{DAffine2, DVec2};
use typst::layout::{Abs, Frame, FrameItem, GroupItem, Point, Size};
use typst::text::TextItem;
use typst::visualize::{Curve, CurveItem, Geometry, Paint, Shape};

use crate::drawing::{Anchor, Area, CAPITAL, Fill, Ink, Page, Pen, Stroke, Text};

/// The wide line, mm; what is stroked narrower than [`WIDE_FROM`] is a narrow one.
const WIDE: f64 = 0.35;
const WIDE_FROM: f64 = 0.3;
/// Straight pieces in place of a Bézier curve.
const PIECES: u32 = 6;
/// From this weight on a face is drawn as semibold.
const SEMIBOLD: u16 = 600;
/// What is darker than this, of 255, is drawn as ink; lighter fills are left to the paper.
const DARK: f64 = 128.0;

/// A page as it was set.
pub(crate) fn page(frame: &Frame, name: String, title: &str) -> Page {
    let mut ink = Ink::default();
    items(frame, DAffine2::IDENTITY, &mut ink);
    Page { name, title: title.to_owned(), size: extent(frame.size()), wide: WIDE, ink }
}

fn place(at: Point) -> DVec2 {
    DVec2::new(at.x.to_mm(), at.y.to_mm())
}

fn extent(size: Size) -> DVec2 {
    DVec2::new(size.x.to_mm(), size.y.to_mm())
}

fn items(frame: &Frame, on: DAffine2, ink: &mut Ink) {
    for (at, item) in frame.items() {
        let on = on * DAffine2::from_translation(place(*at));
        match item {
            FrameItem::Group(inner) => items(&inner.frame, on * moved(inner), ink),
            FrameItem::Text(text) => words(text, on, ink),
            FrameItem::Shape(shape, _) => drawn(shape, on, ink),
            // Drawn sheets are pages already; links and tags can't be seen.
            FrameItem::Image(..) | FrameItem::Link(..) | FrameItem::Tag(_) => {}
        }
    }
}

fn moved(group: &GroupItem) -> DAffine2 {
    let by = group.transform;
    let turned = glam::DMat2::from_cols(DVec2::new(by.sx.get(), by.ky.get()), DVec2::new(by.kx.get(), by.sy.get()));
    DAffine2::from_mat2_translation(turned, place(Point::new(by.tx, by.ty)))
}

/// A run of words begins at its base line; ours stand halfway up a capital.
fn words(item: &TextItem, on: DAffine2, ink: &mut Ink) {
    let along = on.transform_vector2(DVec2::X);
    let height = item.size.to_mm() * CAPITAL * along.length();
    let bold = item.font.font().info().variant.weight.to_number() >= SEMIBOLD;
    let upright = along.x.abs() < along.y.abs();
    let at = on.transform_point2(DVec2::NEG_Y * item.size.to_mm() * CAPITAL / 2.0);
    ink.text(Text { upright, bold, ..Text::new(at, Anchor::Start, height, item.text.as_str()) });
}

fn drawn(shape: &Shape, on: DAffine2, ink: &mut Ink) {
    let loops: Vec<Vec<DVec2>> =
        outlines(&shape.geometry).into_iter().map(|points| points.into_iter().map(|at| on.transform_point2(at)).collect()).collect();
    if shape.fill.as_ref().is_some_and(is_dark) {
        ink.areas.push(Area { loops: loops.clone(), fill: Fill::Ink });
    }
    if let Some(stroke) = &shape.stroke {
        let pen = match (stroke.dash.is_some(), stroke.thickness >= Abs::mm(WIDE_FROM)) {
            (true, _) => Pen::Hidden,
            (false, true) => Pen::Edge,
            (false, false) => Pen::Thin,
        };
        ink.strokes.extend(loops.into_iter().map(|points| Stroke { pen, points }));
    }
}

fn is_dark(paint: &Paint) -> bool {
    match paint {
        Paint::Solid(colour) => {
            let [red, green, blue, _] = colour.to_vec4_u8().map(f64::from);
            // Luma of ITU-R BT.709.
            0.2126 * red + 0.7152 * green + 0.0722 * blue < DARK
        }
        Paint::Gradient(_) | Paint::Tiling(_) => false,
    }
}

fn outlines(geometry: &Geometry) -> Vec<Vec<DVec2>> {
    match geometry {
        Geometry::Line(to) => vec![vec![DVec2::ZERO, place(*to)]],
        Geometry::Rect(size) => {
            let to = extent(*size);
            vec![vec![DVec2::ZERO, DVec2::new(to.x, 0.0), to, DVec2::new(0.0, to.y), DVec2::ZERO]]
        }
        Geometry::Curve(curve) => runs(curve),
    }
}

/// The runs of a curve, straight piece by straight piece.
fn runs(curve: &Curve) -> Vec<Vec<DVec2>> {
    let mut runs: Vec<Vec<DVec2>> = Vec::new();
    for item in &curve.0 {
        match item {
            CurveItem::Move(to) => runs.push(vec![place(*to)]),
            CurveItem::Line(to) => run(&mut runs).push(place(*to)),
            CurveItem::Cubic(first, second, to) => {
                let run = run(&mut runs);
                let from = run.last().copied().unwrap_or_default();
                let [first, second, to] = [*first, *second, *to].map(place);
                run.extend((1..=PIECES).map(|piece| {
                    let part = f64::from(piece) / f64::from(PIECES);
                    let (a, b, c) = (from.lerp(first, part), first.lerp(second, part), second.lerp(to, part));
                    a.lerp(b, part).lerp(b.lerp(c, part), part)
                }));
            }
            CurveItem::Close => {
                let run = run(&mut runs);
                run.extend(run.first().copied());
            }
        }
    }
    runs
}

/// The run that is being drawn; one that begins without a move begins at the corner.
fn run(runs: &mut Vec<Vec<DVec2>>) -> &mut Vec<DVec2> {
    if runs.is_empty() {
        runs.push(vec![DVec2::ZERO]);
    }
    let last = runs.len() - 1;
    &mut runs[last]
}
