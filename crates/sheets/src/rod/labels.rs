//! Figures and words beside a long thing, each at the end of a thin line to its place.

use glam::DVec2;

use crate::drawing::{Anchor, Drafting, Ink, Pen, Stroke, Text, spread, width_of};

/// Height of the letters, mm.
pub(super) const LETTERS: f64 = 2.0;
/// From row to row, mm.
const ROW: f64 = 3.3;
/// Room for a figure, mm.
const FIGURE: f64 = 16.0;
/// From where lines begin to the figures, mm.
pub(super) const LEADER: f64 = 14.0;

/// Something at a place along a strip.
pub(super) struct Label {
    /// Where, mm from the datum.
    pub at: f64,
    /// What is there.
    pub words: String,
}

/// Writes labels beside a strip whose wood ends at `left`, as far as `right`; a thin line leads from each place to its words.
pub(super) fn write(ink: &mut Ink, labels: &[Label], left: f64, right: f64, drafting: &Drafting) {
    let text_at = left + LEADER + FIGURE + 1.5;
    let mut rows: Vec<(f64, Option<String>, String)> = Vec::new();
    // From the top of the page down.
    for label in labels.iter().rev() {
        let figure = drafting.figure(label.at + 0.0);
        // The typeface has no sign for a diameter but this one.
        let words = label.words.replace('⌀', "Ø");
        for (number, words) in wrapped(&words, right - text_at).into_iter().enumerate() {
            rows.push((label.at, (number == 0).then(|| figure.clone()), words));
        }
    }
    let mut places: Vec<f64> = rows.iter().map(|row| -row.0).collect();
    spread(&mut places, ROW);
    for ((at, figure, words), place) in rows.into_iter().zip(places) {
        if let Some(figure) = figure {
            let knee = left + LEADER - 2.0;
            let points = vec![DVec2::new(left, -at), DVec2::new(left + 3.0, -at), DVec2::new(knee, place), DVec2::new(knee + 1.5, place)];
            ink.strokes.push(Stroke { pen: Pen::Thin, points });
            let text = Text::new(DVec2::new(left + LEADER + FIGURE, place), Anchor::End, LETTERS, figure);
            ink.text(Text { bold: true, ..text });
        }
        ink.text(Text::new(DVec2::new(text_at, place), Anchor::Start, LETTERS, words));
    }
}

/// Words in rows no wider than `room`, mm; a single word is never broken.
pub(super) fn wrapped(words: &str, room: f64) -> Vec<String> {
    let mut rows: Vec<String> = Vec::new();
    for word in words.split(' ') {
        match rows.last_mut() {
            Some(row) if width_of(&format!("{row} {word}"), LETTERS, false) <= room => {
                row.push(' ');
                row.push_str(word);
            }
            Some(_) | None => rows.push(word.to_owned()),
        }
    }
    rows
}
