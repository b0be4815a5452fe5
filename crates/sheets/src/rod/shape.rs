//! A template in full size.

use casewright_core::template::{Seen, Template};
use casewright_solid::Segment;
use glam::DVec2;

use super::labels::{self, LETTERS, Label};
use super::piece::Piece;
use super::tiles::{BESIDE, Span, Strip, room_across};
use crate::drawing::{Anchor, Area, Drafting, Fill, Ink, Pen, Stroke, Text};

/// From the edge of what is printed to a long template: room for register marks and the name of its edge, mm.
const LEFT: f64 = 17.0;
/// Arcs are drawn in chords no farther from them than this, mm.
const CHORD: f64 = 0.005;

/// One as long as its part.
pub(super) fn long(template: &Template, drafting: &Drafting) -> Strip {
    let mut ink = outline(template, DVec2::new(LEFT, 0.0));
    let right = LEFT + template.size.x;
    let mut labels = vec![Label { at: 0.0, words: "first end: everything is counted from here".to_owned() }];
    for tooth in &template.teeth {
        labels.push(Label { at: tooth.seat, words: format!("seat of tooth {}", tooth.number) });
        labels.push(Label { at: tooth.tip, words: format!("tip of tooth {}", tooth.number) });
    }
    labels.push(Label { at: template.size.y, words: "second end".to_owned() });
    for label in &labels {
        ink.line(Pen::Extension, DVec2::new(right, -label.at), DVec2::new(right + 2.0, -label.at));
    }
    labels::write(&mut ink, &labels, right + 2.0, room_across(drafting.sheet) - BESIDE, drafting);
    let spans = vec![
        Span {
            left: LEFT,
            right: LEFT + solid_width(template),
            from: 0.0,
            to: template.size.y,
            words: vec![format!("{} of {}", template.title, template.marks())],
            clears: false,
        },
        Span {
            left: LEFT - 4.0,
            right: LEFT,
            from: 0.0,
            to: template.size.y,
            words: vec![edges(template.seen).0.to_owned()],
            clears: false,
        },
    ];
    let about = format!("Lies on the {}. Figures from the first end; what it serves stands beside its table", template.seen.words());
    let name = format!("template-{}", template.marks().replace(", ", "-"));
    Strip { name, title: format!("{} of {}, full size", template.title, template.marks()), about, ink, spans, heads: Vec::new() }
}

/// How far from its left side a template is wood all along, mm.
fn solid_width(template: &Template) -> f64 {
    let points = template.outlines.iter().flat_map(casewright_core::shapes::flat::Outline::pieces).map(|(from, _)| from.x);
    points.filter(|x| *x > 1e-6).fold(template.size.x, f64::min)
}

/// A small one with its words below it.
pub(super) fn piece(template: &Template, drafting: &Drafting) -> Piece {
    let at = DVec2::new(5.0, template.size.y + 5.0);
    let mut ink = outline(template, at);
    let (left, right) = edges(template.seen);
    let (middle, top) = (at + DVec2::new(template.size.x / 2.0, 0.0), at.y - template.size.y);
    let upright =
        |x: f64, words: &str| Text { upright: true, ..Text::new(DVec2::new(x, f64::midpoint(at.y, top)), Anchor::Middle, LETTERS, words) };
    let sides = [
        (!template.goes_on.x, upright(at.x - 2.5, left)),
        (!template.goes_on.y, upright(at.x + template.size.x + 2.5, right)),
        (!template.goes_on.z, Text::new(DVec2::new(middle.x, at.y + 2.5), Anchor::Middle, LETTERS, "first end")),
        (!template.goes_on.w, Text::new(DVec2::new(middle.x, top - 2.5), Anchor::Middle, LETTERS, "second end")),
    ];
    for (_, text) in sides.into_iter().filter(|(is_there, _)| *is_there) {
        ink.text(text);
    }
    let mut words = vec![format!("On the {}. {}", template.seen.words(), template.notes.join("; "))];
    words.extend(template.uses_in_words());
    let words = words.iter().map(|words| drafting.caption(words)).collect();
    Piece { title: format!("{}: {}", template.title, template.marks()), ink, size: template.size + 10.0, words }
}

/// What the left and the right side of a template are.
fn edges(seen: Seen) -> (&'static str, &'static str) {
    match seen {
        Seen::FaceSide => ("face edge", "back edge"),
        Seen::FaceEdge => ("back side", "face side"),
    }
}

/// The outline with its lower left corner at a place; what goes on beyond is in dashes and dots.
fn outline(template: &Template, at: DVec2) -> Ink {
    let mut ink = Ink::default();
    let place = |point: DVec2| at + DVec2::new(point.x, -point.y);
    let mut loops = Vec::new();
    for outline in &template.outlines {
        let mut corners = Vec::new();
        let mut run = vec![place(outline.start)];
        for (from, piece) in outline.pieces() {
            let points: Vec<DVec2> = along(from, &piece).into_iter().map(place).collect();
            corners.extend(points.iter().copied());
            if template.is_open(from, piece.to()) {
                ink.line(Pen::Centre, place(from), place(piece.to()));
                finish(&mut ink, &mut run);
                run.push(place(piece.to()));
            } else {
                run.extend(points);
            }
        }
        finish(&mut ink, &mut run);
        loops.push(corners);
    }
    ink.areas.push(Area { loops, fill: Fill::Tint });
    ink
}

fn finish(ink: &mut Ink, run: &mut Vec<DVec2>) {
    let points = std::mem::take(run);
    if points.len() > 1 {
        ink.strokes.push(Stroke { pen: Pen::Edge, points });
    }
}

/// The points of a piece after its beginning.
fn along(from: DVec2, piece: &Segment) -> Vec<DVec2> {
    match *piece {
        Segment::Line { to } => vec![to],
        Segment::Arc { to, centre, ccw } => {
            let (radius, turn) = (from.distance(centre), casewright_core::shapes::flat::turn(from, to, centre, ccw));
            let step = 2.0 * (1.0 - CHORD / radius.max(2.0 * CHORD)).acos();
            let steps = (turn / step).ceil().clamp(1.0, 720.0) as u32;
            let way = if ccw { turn } else { -turn };
            let on = |number: u32| centre + DVec2::from_angle(way * f64::from(number) / f64::from(steps)).rotate(from - centre);
            (1..steps).map(on).chain([to]).collect()
        }
    }
}
