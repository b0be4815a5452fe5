//! Small things with their words, many to a page.

use casewright_core::template::Template;
use glam::DVec2;

use super::labels::{LETTERS, wrapped};
use super::tiles::{Foot, foot, room};
use crate::drawing::{Anchor, Drafting, Ink, Page, Sheet, Text};

/// From row to row of words, mm.
const ROW: f64 = 3.4;
/// Words are at least so wide, mm.
const WORDS: f64 = 84.0;
/// Between pieces, mm.
const APART: f64 = 6.0;
/// Rows of a table before it goes on in another column.
const ROWS: usize = 45;

/// Something small with its words.
pub(super) struct Piece {
    pub title: String,
    /// Its upper left corner at the origin.
    pub ink: Ink,
    pub size: DVec2,
    pub words: Vec<String>,
}

impl Piece {
    /// All of it, the title over it and the words under it, and the room it takes.
    fn set(self, across: f64) -> (Ink, DVec2) {
        let wide = self.size.x.max(WORDS).min(across);
        let mut ink = Ink::default();
        let mut y = 2.0;
        let line = |ink: &mut Ink, y: f64, bold: bool, words: String| {
            ink.text(Text { bold, ..Text::new(DVec2::new(0.0, y), Anchor::Start, LETTERS, words) });
        };
        for words in wrapped(&self.title, wide) {
            line(&mut ink, y, true, words);
            y += ROW;
        }
        ink.add(self.ink, DVec2::new(0.0, y));
        y += self.size.y + 2.0;
        for words in self.words.iter().flat_map(|words| wrapped(words, wide)) {
            line(&mut ink, y, false, words);
            y += ROW;
        }
        (ink, DVec2::new(wide, y))
    }
}

/// The seats and tips of a row of teeth, counted from the first end; none of what has no teeth.
pub(super) fn table(template: &Template, drafting: &Drafting) -> Option<Piece> {
    if template.teeth.is_empty() {
        return None;
    }
    let cells = |cells: [String; 3], at: DVec2, bold: bool, ink: &mut Ink| {
        for (cell, x) in cells.into_iter().zip([9.0, 25.0, 41.0]) {
            ink.text(Text { bold, ..Text::new(at + DVec2::X * x, Anchor::End, LETTERS, cell) });
        }
    };
    let mut ink = Ink::default();
    for (number, tooth) in template.teeth.iter().enumerate() {
        let (column, row) = (number / ROWS, number % ROWS);
        let at = DVec2::new(48.0 * column as f64, ROW * (row as f64 + 1.0));
        if row == 0 {
            cells(["tooth", "seat", "tip"].map(str::to_owned), at - DVec2::Y * ROW, true, &mut ink);
        }
        cells([tooth.number.to_string(), drafting.exact(tooth.seat), drafting.exact(tooth.tip)], at, false, &mut ink);
    }
    let columns = template.teeth.len().div_ceil(ROWS) as f64;
    let size = DVec2::new(48.0 * columns, ROW * (template.teeth.len().min(ROWS) as f64 + 1.0));
    let mut words = vec!["Each from the first end, which is the datum: set every one out from there, none from the one before.".to_owned()];
    words.extend(template.notes.iter().cloned().chain(template.uses_in_words()).map(|words| drafting.caption(&words)));
    Some(Piece { title: format!("{} of {}", template.title, template.marks()), ink, size, words })
}

/// Pieces row by row on as many pages as it takes.
pub(super) fn pages(pieces: Vec<Piece>, name: &str, sheet: Sheet) -> Vec<Page> {
    let (corner, room) = room(sheet.size());
    let mut sheets: Vec<Ink> = Vec::new();
    // The next place in a row, and how high the row is.
    let (mut at, mut high) = (DVec2::ZERO, 0.0_f64);
    for piece in pieces {
        let (ink, size) = piece.set(room.x);
        if at.x > 0.0 && at.x + size.x > room.x {
            at = DVec2::new(0.0, at.y + high + APART);
            high = 0.0;
        }
        if sheets.is_empty() || (at.y > 0.0 && at.y + size.y > room.y) {
            sheets.push(Ink::default());
            (at, high) = (DVec2::ZERO, 0.0);
        }
        if let Some(sheet) = sheets.last_mut() {
            sheet.add(ink, corner + at);
        }
        at.x += size.x + APART;
        high = high.max(size.y);
    }
    let of = sheets.len();
    let page = |(number, mut ink): (usize, Ink)| {
        let words = if of > 1 { format!("Sheet {} of {of}", number + 1) } else { String::new() };
        foot(
            &mut ink,
            sheet.size(),
            &Foot {
                name,
                title: "Templates, full size",
                sheet: &words,
                words: ["Cut out along the wide lines; dashes and dots: the part goes on", ""],
            },
        );
        Page { name: format!("templates-{}", number + 1), title: "Templates".to_owned(), size: sheet.size(), wide: 0.25, ink }
    };
    sheets.into_iter().enumerate().map(page).collect()
}
