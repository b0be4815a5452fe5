//! A long strip on sheets that overlap, with register marks, or on one page; and what stands on every such page.

use glam::DVec2;

use super::Over;
use super::labels::LETTERS;
use crate::drawing::{Anchor, Area, Ink, Page, Pen, Sheet, Stroke, Text, clipped, inside, width_of};

/// What printers leave white round a sheet, mm.
const MARGIN: f64 = 8.0;
/// At the head of each page, for the names of lanes, mm.
const HEAD: f64 = 7.0;
/// At its foot, for the bar and the words, mm.
const FOOT: f64 = 25.0;
/// At its right, for the upright bar, mm.
const ASIDE: f64 = 8.0;
/// By how much neighbours overlap, mm.
pub(super) const OVERLAP: f64 = 20.0;
/// From the edges of what is printed to the register marks, mm.
const MARK: f64 = 5.0;
/// What register marks and their letters take at either side, mm.
pub(super) const BESIDE: f64 = 12.0;
/// The bar that tells whether the page came out in full size, mm.
const BAR: DVec2 = DVec2::new(100.0, 2.5);
/// No page is longer, mm: beyond some five metres readers of PDF give up (ISO 32000-1, annex C: 14400 units of 1/72 in).
const LONGEST: f64 = 5000.0;
/// The wide line, mm.
const WIDE: f64 = 0.25;

/// Words that stand wherever something is seen of what they name.
pub(super) struct Span {
    pub left: f64,
    pub right: f64,
    /// Along the strip, mm.
    pub from: f64,
    pub to: f64,
    /// As many of them as there is room for.
    pub words: Vec<String>,
    /// Whether lines break off round them; the outline of a template never does.
    pub clears: bool,
}

/// A name at the head of each page.
pub(super) struct Head {
    pub at: f64,
    pub words: &'static str,
}

/// Something in full size along a line, drawn upright: what lies `at` along it has y = −`at`.
pub(super) struct Strip {
    pub name: String,
    pub title: String,
    pub about: String,
    pub ink: Ink,
    pub spans: Vec<Span>,
    pub heads: Vec<Head>,
}

/// How wide that is which can be drawn on, mm.
pub(super) fn room_across(sheet: Sheet) -> f64 {
    sheet.size().x - 2.0 * MARGIN - ASIDE
}

/// Upper left corner and size of what can be drawn on.
pub(super) fn room(size: DVec2) -> (DVec2, DVec2) {
    (DVec2::new(MARGIN, MARGIN + HEAD), size - DVec2::new(2.0 * MARGIN + ASIDE, 2.0 * MARGIN + HEAD + FOOT))
}

/// A sheet's part of a strip.
#[derive(Clone, Copy)]
struct Window {
    from: f64,
    to: f64,
    number: usize,
    of: usize,
}

/// The pages of a strip.
pub(super) fn pages(strip: &Strip, name: &str, sheet: Sheet, over: Over) -> Vec<Page> {
    let Some((min, max)) = strip.ink.room() else { return Vec::new() };
    let (from, to) = (-max.y - 1.0, -min.y + 1.0);
    let frame = sheet.size() - room(sheet.size()).1;
    let size = match over {
        Over::Sheets => sheet.size(),
        Over::OnePage => DVec2::new(sheet.size().x, (to - from + frame.y).min(LONGEST)),
    };
    let high = room(size).1.y;
    windows(from, to, high).into_iter().map(|window| page(strip, name, size, window)).collect()
}

/// Sheets so high over a stretch, each overlapping the one before.
fn windows(from: f64, to: f64, high: f64) -> Vec<Window> {
    let step = high - OVERLAP;
    let of = (((to - from - OVERLAP) / step).ceil()).max(1.0) as usize;
    (0..of).map(|number| (number, from + step * number as f64)).map(|(number, from)| Window { from, to: from + high, number, of }).collect()
}

fn page(strip: &Strip, name: &str, size: DVec2, window: Window) -> Page {
    let (corner, room) = room(size);
    let mut ink = seen(strip, window);
    for (number, head) in strip.heads.iter().enumerate() {
        // By turns in two rows: lanes are narrower than their names.
        let up = if number % 2 == 0 { HEAD * 0.25 } else { HEAD * 0.75 };
        ink.text(Text::new(DVec2::new(head.at, -window.to - up), Anchor::Middle, LETTERS, head.words));
    }
    for joint in [window.number.checked_sub(1), (window.number + 1 < window.of).then_some(window.number)].into_iter().flatten() {
        // The joint lies in the middle of what two sheets share.
        let at = if joint == window.number { window.to - OVERLAP / 2.0 } else { window.from + OVERLAP / 2.0 };
        for x in [MARK, room.x - MARK] {
            register(&mut ink, DVec2::new(x, -at), &letter(joint), x > MARK);
        }
    }
    let mut drawn = Ink::default();
    drawn.add(ink, corner + DVec2::Y * window.to);
    drawn.clear();
    let sheet = if window.of > 1 { format!("Sheet {} of {}", window.number + 1, window.of) } else { String::new() };
    let joins = joins(window);
    foot(&mut drawn, size, &Foot { name, title: &strip.title, sheet: &sheet, words: [strip.about.as_str(), &joins] });
    let number = if window.of > 1 { format!("-{}", window.number + 1) } else { String::new() };
    Page { name: format!("{}{number}", strip.name), title: strip.title.clone(), size, wide: WIDE, ink: drawn }
}

/// What of a strip lies in a window.
fn seen(strip: &Strip, window: Window) -> Ink {
    let bounds = (DVec2::new(-1e6, -window.to), DVec2::new(1e6, -window.from));
    let mut ink = Ink::default();
    for area in &strip.ink.areas {
        let loops: Vec<Vec<DVec2>> =
            area.loops.iter().map(|outline| clipped(outline, bounds)).filter(|outline| outline.len() > 2).collect();
        if !loops.is_empty() {
            ink.areas.push(Area { loops, fill: area.fill });
        }
    }
    let is_in = |at: &DVec2| at.y >= bounds.0.y && at.y <= bounds.1.y;
    for stroke in &strip.ink.strokes {
        if stroke.points.iter().all(is_in) {
            ink.strokes.push(stroke.clone());
            continue;
        }
        for ends in stroke.points.windows(2) {
            if let Some((from, to)) = inside(ends[0], ends[1], bounds) {
                let points = vec![ends[0].lerp(ends[1], from), ends[0].lerp(ends[1], to)];
                ink.strokes.push(Stroke { pen: stroke.pen, points });
            }
        }
    }
    let is_whole = |text: &&Text| {
        let (min, max) = text.room();
        is_in(&min) && is_in(&max)
    };
    ink.texts.extend(strip.ink.texts.iter().filter(is_whole).cloned());
    for span in &strip.spans {
        ink.texts.extend(name_in(span, window));
    }
    ink
}

/// The words of a span in the middle of what is seen of it, lying or upright, as many as go there.
fn name_in(span: &Span, window: Window) -> Option<Text> {
    let (from, to) = (span.from.max(window.from), span.to.min(window.to));
    let (wide, high) = (span.right - span.left - 0.8, to - from - 1.0);
    let middle = DVec2::new(f64::midpoint(span.left, span.right), -f64::midpoint(from, to));
    (1..=span.words.len()).rev().find_map(|count| {
        let words = span.words.iter().take(count).map(String::as_str).collect::<Vec<_>>().join(", ");
        let words = if count < span.words.len() { format!("{words} …") } else { words };
        let text = Text { clears: span.clears, ..Text::new(middle, Anchor::Middle, LETTERS, words) };
        let long = width_of(&text.text, LETTERS, false);
        if long <= wide && LETTERS <= high {
            Some(text)
        } else {
            (long <= high && LETTERS <= wide).then_some(Text { upright: true, ..text })
        }
    })
}

/// The letter of a joint between sheets: A to Z, then AA.
fn letter(joint: usize) -> String {
    let one = char::from(b'A' + (joint % 26) as u8);
    if joint < 26 { one.to_string() } else { format!("{}{one}", letter(joint / 26 - 1)) }
}

/// A cross in a ring, its letter beside it on the inner side.
fn register(ink: &mut Ink, at: DVec2, letter: &str, at_right: bool) {
    ink.circle(Pen::Thin, at, 2.0);
    ink.line(Pen::Thin, at - DVec2::X * 4.0, at + DVec2::X * 4.0);
    ink.line(Pen::Thin, at - DVec2::Y * 4.0, at + DVec2::Y * 4.0);
    let (aside, anchor) = if at_right { (-3.0, Anchor::End) } else { (3.0, Anchor::Start) };
    let text = Text::new(at + DVec2::new(aside, -2.0), anchor, LETTERS, letter);
    ink.text(Text { bold: true, ..text });
}

fn joins(window: Window) -> String {
    let below = window.number.checked_sub(1).map(|joint| format!("{} on {} of sheet {}", letter(joint), letter(joint), window.number));
    let above = (window.number + 1 < window.of).then(|| {
        let joint = letter(window.number);
        format!("{joint} on {joint} of sheet {}", window.number + 2)
    });
    let all: Vec<String> = below.into_iter().chain(above).collect();
    if all.is_empty() { String::new() } else { format!("Lay {}, crosses on crosses", all.join(" and ")) }
}

/// What stands at the foot of a page.
pub(super) struct Foot<'a> {
    pub name: &'a str,
    pub title: &'a str,
    pub sheet: &'a str,
    pub words: [&'a str; 2],
}

/// Draws the foot of a page, and the two bars.
pub(super) fn foot(ink: &mut Ink, size: DVec2, foot: &Foot<'_>) {
    let (left, right, top) = (MARGIN, size.x - MARGIN, size.y - MARGIN - FOOT + 4.0);
    ink.line(Pen::Thin, DVec2::new(left, top), DVec2::new(right, top));
    let title = Text::new(DVec2::new(left, top + 3.5), Anchor::Start, 2.5, format!("{}. {}", foot.name, foot.title));
    ink.text(Text { bold: true, ..title });
    let sheet = Text::new(DVec2::new(right, top + 3.5), Anchor::End, 2.5, foot.sheet);
    ink.text(Text { bold: true, ..sheet });
    for (words, row) in foot.words.into_iter().filter(|words| !words.is_empty()).zip([7.6, 11.0]) {
        ink.text(Text::new(DVec2::new(left, top + row), Anchor::Start, LETTERS, words));
    }
    let bar = DVec2::new(left, top + 15.0);
    check_bar(ink, bar, false);
    let say = "100 mm: measure both bars before you trust this sheet.";
    ink.text(Text::new(bar + DVec2::new(BAR.x + 3.0, -0.4), Anchor::Start, LETTERS, say));
    ink.text(Text::new(bar + DVec2::new(BAR.x + 3.0, 2.9), Anchor::Start, LETTERS, "Print at 100 %, not fitted to the page."));
    let upright = DVec2::new(right - BAR.y, room(size).0.y + 4.0);
    check_bar(ink, upright, true);
    let text = Text::new(upright + DVec2::new(-2.0, BAR.x / 2.0), Anchor::Middle, LETTERS, "100 mm");
    ink.text(Text { upright: true, ..text });
}

/// A bar of 100 mm, marked in tens; its upper left corner.
fn check_bar(ink: &mut Ink, at: DVec2, upright: bool) {
    let turned = |along: f64, across: f64| at + if upright { DVec2::new(across, along) } else { DVec2::new(along, across) };
    ink.rectangle(Pen::Edge, at, turned(BAR.x, BAR.y));
    for ten in 1..10 {
        let along = f64::from(ten) * 10.0;
        ink.line(Pen::Thin, turned(along, 0.0), turned(along, if ten == 5 { BAR.y } else { BAR.y * 0.6 }));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sheets_cover_all_and_overlap() {
        for long in [100.0, 250.0, 251.0, 1480.0, 4000.0] {
            let all = windows(-20.0, long - 20.0, 250.0);
            assert!(all[0].from <= -20.0 && all[all.len() - 1].to >= long - 20.0);
            assert!(all.windows(2).all(|pair| (pair[0].to - pair[1].from - OVERLAP).abs() < 1e-9));
            // None that nothing is on.
            assert!(all.iter().all(|window| window.from < long - 20.0));
        }
        assert_eq!([letter(0), letter(25), letter(26)], ["A", "Z", "AA"]);
    }
}
