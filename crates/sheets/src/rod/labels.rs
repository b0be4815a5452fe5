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
        let figure = drafting.exact(label.at + 0.0);
        for (number, words) in wrapped(&drafting.caption(&label.words), right - text_at).into_iter().enumerate() {
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

/// What is alike in several bays is said once: "the floor of bays 1, 2, 3".
pub(super) fn gathered(words: &[String]) -> Vec<String> {
    let mut all: Vec<(&str, Vec<&str>)> = Vec::new();
    for words in words {
        let of_bay = words.rsplit_once(" of bay ").filter(|(_, number)| number.chars().all(|letter| letter.is_ascii_digit()));
        let (what, numbers) = of_bay.map_or((words.as_str(), Vec::new()), |(what, number)| (what, vec![number]));
        match all.iter_mut().find(|(known, bays)| *known == what && !bays.is_empty() && !numbers.is_empty()) {
            Some((_, bays)) => bays.extend(numbers),
            None => all.push((what, numbers)),
        }
    }
    let said = |(what, bays): (&str, Vec<&str>)| match bays.as_slice() {
        [] => what.to_owned(),
        [bay] => format!("{what} of bay {bay}"),
        bays => format!("{what} of bays {}", bays.join(", ")),
    };
    all.into_iter().map(said).collect()
}

/// Words in rows no wider than `room`, mm; a single word is never broken, nor a number from the word that it counts.
pub(super) fn wrapped(words: &str, room: f64) -> Vec<String> {
    let mut rows: Vec<String> = Vec::new();
    let mut parts: Vec<String> = Vec::new();
    for word in words.split(' ') {
        let is_number = word.starts_with(|c: char| c.is_ascii_digit()) && word.len() < 4;
        match parts.last_mut() {
            Some(before) if is_number => {
                before.push(' ');
                before.push_str(word);
            }
            Some(_) | None => parts.push(word.to_owned()),
        }
    }
    for word in parts {
        match rows.last_mut() {
            Some(row) if width_of(&format!("{row} {word}"), LETTERS, false) <= room => {
                row.push(' ');
                row.push_str(&word);
            }
            Some(_) | None => rows.push(word),
        }
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bays_are_gathered_and_numbers_stay_with_their_word() {
        let words =
            ["upper face: F1", "the floor of bay 1", "shelf 2 of bay 1", "the floor of bay 2", "the floor of bay 3"].map(str::to_owned);
        assert_eq!(gathered(&words), ["upper face: F1", "the floor of bays 1, 2, 3", "shelf 2 of bay 1"]);
        let rows = wrapped("the floor of bay 3", width_of("the floor of bay", LETTERS, false) + 0.1);
        assert_eq!(rows, ["the floor of", "bay 3"]);
    }
}
