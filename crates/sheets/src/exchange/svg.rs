//! The outline of a part and its cuts as a picture in true size: a unit a mm, y down as SVG has it.

use std::fmt::Write as _;

use casewright_core::shapes::flat::{Outline, turn};
use casewright_solid::Segment;
use glam::DVec2;

use super::Kind;
use super::outline::{self, Drawn, Layer};
use super::three_mf::escaped;

/// Room round the part, mm.
const MARGIN: f64 = 5.0;

/// The picture of a part.
pub(super) fn of(kind: &Kind<'_>) -> Vec<u8> {
    let size = kind.made.solid.size;
    let (width, height) = (size.x + 2.0 * MARGIN, size.y + 2.0 * MARGIN);
    let title = kind.parts.first().map_or("", |part| part.title.as_str());
    let mut text = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{width}mm\" height=\"{height}mm\" viewBox=\"0 0 {width} {height}\">\n\
         <title>{}</title>\n",
        escaped(&format!("{} {title}", kind.name))
    );
    let mut last: Option<&Layer> = None;
    let drawn = outline::of(&kind.made.solid);
    let mut sorted: Vec<&Drawn> = drawn.iter().collect();
    sorted.sort_by_key(|it| drawn.iter().position(|first| first.layer == it.layer));
    for it in sorted {
        if last != Some(&it.layer) {
            text.push_str(if last.is_some() { "</g>\n" } else { "" });
            let dashes = if it.layer.is_seen() { "" } else { " stroke-dasharray=\"6 3\"" };
            let weight = if it.layer == Layer::Outline { 0.5 } else { 0.25 };
            // Writing to a string can't fail.
            let _ = writeln!(
                text,
                "<g id=\"{}\" fill=\"none\" stroke=\"#2b2a28\" stroke-width=\"{weight}\"{dashes}>",
                it.layer.name().replace(' ', "-")
            );
            last = Some(&it.layer);
        }
        let _ = writeln!(text, "<path d=\"{}\"/>", path(&it.outline, size.y));
    }
    text.push_str("</g>\n</svg>\n");
    text.into_bytes()
}

fn path(outline: &Outline, width: f64) -> String {
    let place = |at: DVec2| format!("{:.4} {:.4}", at.x + MARGIN, width - at.y + MARGIN);
    let mut steps = vec![format!("M {}", place(outline.start))];
    let mut from = outline.start;
    for segment in &outline.segments {
        match segment {
            Segment::Line { to } => steps.push(format!("L {}", place(*to))),
            Segment::Arc { to, centre, ccw } => {
                let radius = from.distance(*centre);
                // The picture counts y down: what turns counter-clockwise on the part does so to the eye, which SVG tells by 0.
                let sweep = u8::from(!*ccw);
                let mut arc = |large: u8, to: DVec2| steps.push(format!("A {radius:.4} {radius:.4} 0 {large} {sweep} {}", place(to)));
                if from.distance(*to) < 1e-9 {
                    // A full turn is drawn as two halves.
                    arc(0, *centre * 2.0 - from);
                    arc(0, *to);
                } else {
                    arc(u8::from(turn(from, *to, *centre, *ccw) > std::f64::consts::PI), *to);
                }
            }
        }
        from = segment.to();
    }
    steps.push("Z".to_owned());
    steps.join(" ")
}
