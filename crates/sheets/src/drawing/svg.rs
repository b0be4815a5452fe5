//! A page as a picture, a millimetre to the unit.

use std::fmt::Write as _;

use super::lettering::CAPITAL;
use super::page::{Anchor, Fill, Page, Pen, Text};

/// The colour of lines and words.
const INK: &str = "#1f1d1a";
/// The tint under hatching.
const TINT: &str = "#efe9dd";

/// The page as SVG with its words, in true size.
pub fn svg(page: &Page) -> String {
    let mut svg = begin(page);
    lines(&mut svg, page);
    for text in &page.ink.texts {
        words(&mut svg, text);
    }
    svg.push_str("</svg>\n");
    svg
}

/// The page without its words, for the typesetter.
pub(super) fn without_words(page: &Page) -> String {
    let mut svg = begin(page);
    lines(&mut svg, page);
    svg.push_str("</svg>\n");
    svg
}

fn begin(page: &Page) -> String {
    let (wide, high) = (page.size.x, page.size.y);
    format!("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{wide}mm\" height=\"{high}mm\" viewBox=\"0 0 {wide} {high}\">\n")
}

/// Writing to a string can't fail, so what it gives back is let go.
fn lines(svg: &mut String, page: &Page) {
    for area in &page.ink.areas {
        let mut path = String::new();
        for outline in &area.loops {
            for (number, at) in outline.iter().enumerate() {
                let _ = write!(path, "{}{:.3} {:.3}", if number == 0 { 'M' } else { 'L' }, at.x, at.y);
            }
            path.push('Z');
        }
        let fill = match area.fill {
            Fill::Ink => INK,
            Fill::Tint => TINT,
        };
        let _ = writeln!(svg, "<path fill=\"{fill}\" fill-rule=\"evenodd\" d=\"{path}\"/>");
    }
    for pen in Pen::ALL {
        let mut path = String::new();
        for stroke in page.ink.strokes.iter().filter(|stroke| stroke.pen == pen) {
            for (number, at) in stroke.points.iter().enumerate() {
                let _ = write!(path, "{}{:.3} {:.3}", if number == 0 { 'M' } else { 'L' }, at.x, at.y);
            }
        }
        if path.is_empty() {
            continue;
        }
        let dashes: Vec<String> = pen.dashes(page.wide).iter().map(|dash| format!("{dash:.3}")).collect();
        let dashes =
            if dashes.is_empty() { String::new() } else { format!(" stroke-dasharray=\"{}\" stroke-linecap=\"butt\"", dashes.join(" ")) };
        let cap = if dashes.is_empty() { " stroke-linecap=\"round\" stroke-linejoin=\"round\"" } else { "" };
        let _ =
            writeln!(svg, "<path fill=\"none\" stroke=\"{INK}\" stroke-width=\"{:.3}\"{cap}{dashes} d=\"{path}\"/>", pen.width(page.wide));
    }
}

fn words(svg: &mut String, text: &Text) {
    let anchor = match text.anchor {
        Anchor::Start => "start",
        Anchor::Middle => "middle",
        Anchor::End => "end",
    };
    let (x, y, half) = (text.at.x, text.at.y, text.height / 2.0);
    let place = if text.upright {
        format!("transform=\"translate({:.3} {y:.3}) rotate(-90)\"", x + half)
    } else {
        format!("x=\"{x:.3}\" y=\"{:.3}\"", y + half)
    };
    let weight = if text.bold { " font-weight=\"600\"" } else { "" };
    let plain = text.text.replace('&', "&amp;").replace('<', "&lt;");
    let size = text.height / CAPITAL;
    let _ = writeln!(
        svg,
        "<text {place} font-family=\"Open Sans, sans-serif\" font-size=\"{size:.3}\" text-anchor=\"{anchor}\" fill=\"{INK}\"{weight}>{plain}</text>"
    );
}
