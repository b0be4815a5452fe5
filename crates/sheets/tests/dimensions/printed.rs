//! What stands on the pages of a PDF, as poppler reads it.

use std::path::Path;
use std::process::Command;

use casewright_sheets::Page;
use casewright_sheets::drawing::Text;
use glam::DVec2;

/// A word with the room it takes, mm from the upper left corner of its page.
struct Word {
    min: DVec2,
    max: DVec2,
    text: String,
}

const MM: f64 = 25.4 / 72.0;
/// Room round words within which they are looked for: the measures of a typeface are not those of its letters, mm.
const AROUND: f64 = 0.4;

/// What poppler reads in the place of each of the texts of some pages; what it reads besides, and what it reads in two places, is told as wrong.
pub fn read(pdf: &Path, pages: &[Page], wrong: &mut Vec<String>) -> Vec<Vec<String>> {
    let sheets = words(pdf);
    assert_eq!(sheets.len(), pages.len(), "every page is there");
    let mut all = Vec::new();
    for (page, mut words) in pages.iter().zip(sheets) {
        let read: Vec<String> = page.ink.texts.iter().map(|text| taken(&mut words, text)).collect();
        wrong.extend(words.iter().map(|word| format!("{}: \"{}\" is printed and not drawn", page.name, word.text)));
        for (text, read) in page.ink.texts.iter().zip(&read) {
            if plain(&text.text) != plain(read) {
                wrong.push(format!("{}: \"{}\" is printed as \"{read}\"", page.name, text.text));
            }
        }
        all.push(read);
    }
    all
}

/// Letters without the spaces between them, of which a PDF has none.
fn plain(text: &str) -> String {
    text.chars().filter(|letter| !letter.is_whitespace()).collect()
}

/// The words in the place of a text, in the order in which they are read; they are not looked for again.
fn taken(words: &mut Vec<Word>, text: &Text) -> String {
    let (min, max) = text.room();
    let (min, max) = (min - AROUND, max + AROUND);
    let is_there = |word: &Word| {
        let middle = (word.min + word.max) / 2.0;
        middle.cmpge(min).all() && middle.cmple(max).all()
    };
    let (mut own, rest): (Vec<Word>, Vec<Word>) = std::mem::take(words).into_iter().partition(is_there);
    *words = rest;
    // Words that are read from the right edge run upward.
    let along = |word: &Word| if text.upright { -word.max.y } else { word.min.x };
    own.sort_by(|a, b| along(a).total_cmp(&along(b)));
    own.into_iter().map(|word| word.text).collect::<Vec<_>>().join(" ")
}

/// The words of each page.
fn words(pdf: &Path) -> Vec<Vec<Word>> {
    // Raw, or it puts figures that stand beside each other into one word.
    let read = Command::new("pdftotext").args(["-raw", "-bbox"]).arg(pdf).arg("-").output().expect("pdftotext of poppler starts");
    assert!(read.status.success(), "{}", String::from_utf8_lossy(&read.stderr));
    let mut pages: Vec<Vec<Word>> = Vec::new();
    for line in String::from_utf8_lossy(&read.stdout).lines().map(str::trim) {
        if line.starts_with("<page ") {
            pages.push(Vec::new());
        } else if let Some(word) = line.strip_prefix("<word ") {
            pages.last_mut().expect("words are on a page").push(word_of(word));
        }
    }
    pages
}

fn word_of(line: &str) -> Word {
    let side = |name: &str| -> f64 {
        let from = line.split_once(&format!("{name}=\"")).expect("a side").1;
        from.split_once('"').expect("its end").0.parse::<f64>().expect("a number") * MM
    };
    let text = line.split_once('>').expect("a word").1.trim_end_matches("</word>");
    let text = [("&lt;", "<"), ("&gt;", ">"), ("&quot;", "\""), ("&apos;", "'"), ("&#39;", "'"), ("&amp;", "&")]
        .iter()
        .fold(text.to_owned(), |text, (code, letter)| text.replace(code, letter));
    Word { min: DVec2::new(side("xMin"), side("yMin")), max: DVec2::new(side("xMax"), side("yMax")), text }
}
