//! How lengths are written on paper, the same on all of them: their unit, the sign before decimals, and how finely; and words of the model, which has
//! millimetres, in that unit.

mod count;

use std::collections::BTreeSet;

use casewright_core::length::{MM_PER_INCH, Units, fractional_inches, trimmed_to};
use casewright_core::sentence::{capital, inside};
use casewright_core::takeoff::TakeOff;
use casewright_core::{Design, Length, Model};

use serde::{Deserialize, Serialize};

use count::is_length;

/// How fractions of a millimetre are written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Decimal {
    /// 12.75
    #[default]
    Point,
    /// 12,75, as ISO 129 has it.
    Comma,
}

/// How lengths are written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Figures {
    /// Millimetres, or inches.
    pub units: Units,
    /// The sign before decimals.
    pub decimal: Decimal,
}

/// To what a length in inches is rounded. In millimetres all are written alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Fine {
    /// Three decimals: what a joint or a fence needs, where a 64th is wider than a fit.
    Joint,
    /// 64ths, as a tape has them.
    Tape,
    /// Eighths: a rule of thumb.
    Thumb,
}

impl Figures {
    /// A length as it is read off a tape, without its unit: two decimals of a millimetre, or 64ths.
    pub fn tape(self, mm: f64) -> String {
        self.written(mm, 2, Fine::Tape)
    }

    /// A length that a joint or a fence needs: as [`tape`](Figures::tape) in millimetres, with three decimals in inches.
    pub fn exact(self, mm: f64) -> String {
        self.written(mm, 2, Fine::Joint)
    }

    /// Lengths that a saw is set to: so many decimals of a millimetre, or 64ths.
    pub(crate) fn rough(self, mm: f64, decimals: usize) -> String {
        self.written(mm, decimals, Fine::Tape)
    }

    /// An angle or anything else that is no length, given as it reads with a point.
    pub(crate) fn signed(self, figure: String) -> String {
        match self.decimal {
            Decimal::Point => figure,
            Decimal::Comma => figure.replace('.', ","),
        }
    }

    /// What figures are, as it stands within a sentence.
    pub(crate) fn unit(self) -> &'static str {
        match self.units {
            Units::Millimetres => "millimetres",
            Units::Inches => "inches",
        }
    }

    /// The sign of it.
    pub(crate) fn unit_mark(self) -> &'static str {
        match self.units {
            Units::Millimetres => "mm",
            Units::Inches => "in",
        }
    }

    fn written(self, mm: f64, decimals: usize, fine: Fine) -> String {
        match (self.units, fine) {
            (Units::Millimetres, _) => self.signed(trimmed_to(mm, decimals)),
            (Units::Inches, Fine::Joint) => self.signed(trimmed_to(mm / MM_PER_INCH, 3)),
            (Units::Inches, Fine::Tape) => fractional_inches(Length::mm(mm), 64),
            (Units::Inches, Fine::Thumb) => fractional_inches(Length::mm(mm), 8),
        }
    }
}

/// Turns words of the model into those of a paper. What is counted, numbered, a share, an angle or said in another unit stays as it is, and so do names:
/// what a sheet or a board is sold as is called that in any unit.
#[derive(Clone, Debug, Default)]
pub struct Wording {
    figures: Figures,
    /// Names with figures in them, the longest first.
    names: Vec<String>,
}

impl Wording {
    /// For words in which no names stand.
    pub fn plain(figures: Figures) -> Wording {
        Wording { figures, names: Vec::new() }
    }

    /// For words about a case.
    pub fn of(design: &Design, model: &Model, figures: Figures) -> Wording {
        // As the model writes them, nothing need be looked for.
        if figures == Figures::default() {
            return Wording::plain(figures);
        }
        let mut names: BTreeSet<String> = BTreeSet::from([design.name.clone()]);
        for part in &model.parts {
            names.extend([model.timbers.name(&part.material).to_owned(), part.mark.clone(), part.title.clone(), part.name.clone()]);
        }
        names.extend(TakeOff::of(design, model).timber.iter().map(|boards| format!("{}, {}", boards.made_of, boards.board)));
        names.extend(design.contents.iter().map(|kind| kind.name.clone()));
        names.extend(design.shop.tools.0.iter().map(|tool| tool.name.clone()));
        names.extend(design.shop.pile.iter().map(|stuff| stuff.name.clone()));
        names.extend(design.shop.dealer.iter().map(|offer| offer.name.clone()));
        names.retain(|name| name.contains(|c: char| c.is_ascii_digit()));
        let mut names: Vec<String> = names.iter().flat_map(|name| [capital(name), inside(name), name.clone()]).collect();
        names.sort_by_key(|name| std::cmp::Reverse(name.len()));
        names.dedup();
        Wording { figures, names }
    }

    /// How figures are written in them.
    pub fn figures(&self) -> Figures {
        self.figures
    }

    /// Words about joints and settings.
    pub fn exact(&self, words: &str) -> String {
        self.turned(words, Fine::Joint)
    }

    /// Words about what is measured with a tape.
    pub fn tape(&self, words: &str) -> String {
        self.turned(words, Fine::Tape)
    }

    /// Cautions and other rules of thumb.
    pub fn thumb(&self, words: &str) -> String {
        self.turned(words, Fine::Thumb)
    }

    fn turned(&self, words: &str, fine: Fine) -> String {
        if self.figures == Figures::default() {
            return words.to_owned();
        }
        let mut told = String::with_capacity(words.len() + 8);
        let mut rest = words;
        while !rest.is_empty() {
            if let Some(name) = self.name_at(&told, rest) {
                told.push_str(name);
                rest = rest.get(name.len()..).unwrap_or_default();
                continue;
            }
            // On to the next word or number; what parts them stands by itself.
            let is_number = rest.starts_with(|c: char| c.is_ascii_digit());
            let parts = rest.starts_with(is_break);
            let ends = |c: char| if is_number { !c.is_ascii_digit() && c != '.' } else { parts || c.is_ascii_digit() || is_break(c) };
            let end = rest.char_indices().skip(1).find(|(_, c)| ends(*c)).map_or(rest.len(), |(at, _)| at);
            let (word, after) = rest.split_at(end);
            rest = after;
            if is_number {
                rest = self.number(&mut told, word, rest, fine);
            } else {
                told.push_str(word);
            }
        }
        told
    }

    /// Writes a number; what is left after it, without a unit that no longer holds.
    fn number<'w>(&self, told: &mut String, word: &'w str, after: &'w str, fine: Fine) -> &'w str {
        let number = word.trim_end_matches('.');
        let points = word.get(number.len()..).unwrap_or_default();
        let and_after = format!("{points}{after}");
        let is_length = self.figures.units == Units::Inches && is_length(told, number, &and_after);
        match number.parse::<f64>().ok().filter(|_| is_length) {
            Some(mm) => {
                told.push_str(&self.figures.written(mm, 2, fine));
                if let Some(rest) = after.strip_prefix(" mm").filter(|rest| !rest.starts_with(char::is_alphanumeric)) {
                    told.push_str(" in");
                    return rest;
                }
            }
            None => told.push_str(&self.figures.signed(number.to_owned())),
        }
        told.push_str(points);
        after
    }

    /// The name that words go on with, where one word ends and another begins.
    fn name_at(&self, before: &str, rest: &str) -> Option<&str> {
        if before.ends_with(char::is_alphanumeric) {
            return None;
        }
        let ends = |name: &str| !rest.get(name.len()..).unwrap_or_default().starts_with(char::is_alphanumeric);
        self.names.iter().map(String::as_str).find(|name| rest.starts_with(name) && ends(name))
    }
}

/// Whether a word may begin with what follows it.
fn is_break(c: char) -> bool {
    c.is_whitespace() || matches!(c, '(' | ',' | ';' | ':' | '/' | '–' | '"')
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(units: Units, decimal: Decimal) -> Wording {
        Wording::plain(Figures { units, decimal })
    }

    #[test]
    fn words_take_the_sign_and_the_unit_of_the_paper() {
        let words = "Panel edge to frame: groove 12.95 × 9 for 12.75. Dry.";
        assert_eq!(of(Units::Millimetres, Decimal::Point).exact(words), words);
        assert_eq!(of(Units::Millimetres, Decimal::Comma).exact(words), "Panel edge to frame: groove 12,95 × 9 for 12,75. Dry.");
        assert_eq!(of(Units::Inches, Decimal::Point).exact(words), "Panel edge to frame: groove 0.51 × 0.354 for 0.502. Dry.");
        // 25.4 mm to the inch (the international inch of 1959).
        for (words, told) in [
            (
                "2 loose tenons 8 × 22 × 50, first snug, the rest play 4",
                "2 loose tenons 0.315 × 0.866 × 1.969, first snug, the rest play 0.157",
            ),
            ("screw gauge 8 × 35, in a pilot hole 3 × 16", "screw gauge 8 × 1.378, in a pilot hole 0.118 × 0.63"),
            ("Timber at 8 % moisture when built; 6 to 11 % in its place.", "Timber at 8 % moisture when built; 6 to 11 % in its place."),
            ("bays 1 and 3: 3 slats 132 × 20, at 28.1° from the upright", "bays 1 and 3: 3 slats 5.197 × 0.787, at 28.1° from the upright"),
            ("in tooth 12", "in tooth 12"),
            ("in hole 5, Ø5 × 10", "in hole 5, Ø0.197 × 0.394"),
            (
                "groove 12.95 × 9, 2 passes, the outer ones 0.125 off centre",
                "groove 0.51 × 0.354, 2 passes, the outer ones 0.005 off centre",
            ),
            (
                "P1, P2: begin at 30, full from 47 to 1400.5, stop at 1417.2",
                "P1, P2: begin at 1.181, full from 1.85 to 55.138, stop at 55.795",
            ),
            ("12. 4 rails: 2 of 50.8 × 25.4 mm, 68 × LT1", "12. 4 rails: 2 of 2 × 1 in, 68 × LT1"),
            ("Plane to a thickness of 48: P1, P2", "Plane to a thickness of 1.89: P1, P2"),
            ("a side that has slipped 1 along the 1456 makes 1.9", "a side that has slipped 0.039 along the 57.323 makes 0.075"),
            ("18 × screw, 8 gauge × 35; for 4 people, or on wheels", "18 × screw, 8 gauge × 1.378; for 4 people, or on wheels"),
            ("53–55. 3 floor: bring each; cut 3 beside each other", "53–55. 3 floor: bring each; cut 3 beside each other"),
            ("1 joint × 40 s: 40 s of 210 s; 1 clamp that opens to 508 mm", "1 joint × 40 s: 40 s of 210 s; 1 clamp that opens to 20 in"),
            ("3, each 4.5 deeper", "3, each 0.177 deeper"),
            ("over 8 hours since January 2023, NIOSH advises 1; at 1:10", "over 8 hours since January 2023, NIOSH advises 1; at 1:10"),
            ("glue it within 10 to 15 min, 31 kg: two lift it", "glue it within 10 to 15 min, 31 kg: two lift it"),
        ] {
            assert_eq!(of(Units::Inches, Decimal::Point).exact(words), told);
        }
    }

    #[test]
    fn lengths_are_as_fine_as_what_they_are_for() {
        let inches = of(Units::Inches, Decimal::Point);
        let words = "shorter than 300, 75 from the cutter";
        assert_eq!(inches.exact(words), "shorter than 11.811, 2.953 from the cutter");
        assert_eq!(inches.tape(words), "shorter than 11 13/16, 2 61/64 from the cutter");
        assert_eq!(inches.thumb(words), "shorter than 11 3/4, 3 from the cutter");
    }

    #[test]
    fn what_is_sold_is_called_what_it_is_sold_as() {
        let names = vec!["Veneered MDF, 12 mm core".to_owned(), "LT1".to_owned()];
        let wording = Wording { names, ..of(Units::Inches, Decimal::Point) };
        assert_eq!(wording.exact("Veneered MDF, 12 mm core, 12.75 as measured"), "Veneered MDF, 12 mm core, 0.502 as measured");
        assert_eq!(wording.exact("12 mm core (LT1) LT12"), "0.472 in core (LT1) LT12");
    }
}
