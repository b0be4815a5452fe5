//! How drawings are made: sheet, projection, figures, and what the title block says.

use casewright_core::Length;
use casewright_core::length::{Units, fractional_inches, trimmed, trimmed_to};
use glam::DVec2;

/// A sheet of paper.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Sheet {
    /// 210 × 297, upright.
    A4,
    /// 420 × 297, on its side.
    #[default]
    A3,
    /// 594 × 420, on its side.
    A2,
    /// 215.9 × 279.4 (8½ × 11 in), upright.
    Letter,
}

impl Sheet {
    /// All of them.
    pub const ALL: [Sheet; 4] = [Sheet::A4, Sheet::A3, Sheet::A2, Sheet::Letter];

    /// Width and height, mm (ISO 216; the customary inches for letter).
    pub fn size(self) -> DVec2 {
        match self {
            Sheet::A4 => DVec2::new(210.0, 297.0),
            Sheet::A3 => DVec2::new(420.0, 297.0),
            Sheet::A2 => DVec2::new(594.0, 420.0),
            Sheet::Letter => DVec2::new(215.9, 279.4),
        }
    }

    /// Its name.
    pub fn name(self) -> &'static str {
        match self {
            Sheet::A4 => "A4",
            Sheet::A3 => "A3",
            Sheet::A2 => "A2",
            Sheet::Letter => "letter",
        }
    }
}

/// Where views stand to each other (ISO 5456).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Angle {
    /// Each view lies beyond the piece: the plan below the front, the view from the left to its right.
    #[default]
    First,
    /// Each view lies on its own side: the plan above the front, the view from the right to its right.
    Third,
}

/// How fractions of a millimetre are written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Decimal {
    /// 12.75
    #[default]
    Point,
    /// 12,75, as ISO 129 has it.
    Comma,
}

/// What the title block says besides what follows from the design: the fields of ISO 7200. What is not given is left to be written by hand.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TitleBlock {
    /// Legal owner.
    pub owner: String,
    /// Identification number.
    pub number: String,
    /// Date of issue.
    pub date: String,
    /// Who drew it.
    pub creator: String,
    /// Who approved it.
    pub approved: String,
}

/// How drawings are made.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Drafting {
    /// The sheet.
    pub sheet: Sheet,
    /// The projection.
    pub angle: Angle,
    /// The sign before decimals.
    pub decimal: Decimal,
    /// Millimetres, or inches and fractions.
    pub units: Units,
    /// What the title block says.
    pub block: TitleBlock,
}

impl Drafting {
    /// A length as a figure of the drawing, without its unit.
    pub fn figure(&self, mm: f64) -> String {
        match self.units {
            Units::Millimetres => self.signed(trimmed(mm)),
            Units::Inches => fractional_inches(Length::mm(mm), 64),
        }
    }

    /// A length that a joint or a fence needs: as [`figure`](Drafting::figure) in millimetres, with three decimals in inches, where a 64th is wider than a fit.
    pub fn exact(&self, mm: f64) -> String {
        match self.units {
            Units::Millimetres => self.figure(mm),
            Units::Inches => self.signed(trimmed_to(mm / 25.4, 3)),
        }
    }

    /// An angle, given as it reads with a point.
    pub(super) fn degrees(&self, degrees: &str) -> String {
        format!("{}°", self.signed(degrees.to_owned()))
    }

    /// Words in which figures are millimetres, as the model says them: with the sign before decimals of this drawing, and in its unit. What is counted, numbered, a
    /// share, an angle or said with its unit stays as it is.
    pub(super) fn caption(&self, words: &str) -> String {
        let mut told = String::with_capacity(words.len() + 8);
        let mut rest = words;
        while let Some(at) = rest.find(|c: char| c.is_ascii_digit()) {
            let (before, from) = rest.split_at(at);
            told.push_str(before);
            let end = from.find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(from.len());
            let number = from.get(..end).unwrap_or_default().trim_end_matches('.');
            let (number, after) = from.split_at(number.len());
            let is_length = self.units == Units::Inches && is_length(&told, after);
            match number.parse().ok().filter(|_| is_length) {
                Some(mm) => told.push_str(&self.exact(mm)),
                None => told.push_str(&self.signed(number.to_owned())),
            }
            rest = after;
        }
        told.push_str(rest);
        told
    }

    fn signed(&self, figure: String) -> String {
        match self.decimal {
            Decimal::Point => figure,
            Decimal::Comma => figure.replace('.', ","),
        }
    }

    /// What a figure says, mm, without the parentheses of an auxiliary one; nothing where it is none.
    pub fn read(&self, figure: &str) -> Option<f64> {
        let plain = figure.trim_start_matches('(').trim_end_matches(')');
        match self.units {
            Units::Millimetres => plain.replace(',', ".").parse().ok(),
            Units::Inches => casewright_core::length::parse(&format!("{} in", plain.replace(',', "."))).ok().map(Length::to_mm),
        }
    }

    /// How far a figure may be from what it measures by its rounding, mm.
    pub fn rounding(&self) -> f64 {
        match self.units {
            Units::Millimetres => 0.005_001,
            Units::Inches => 25.4 / 128.0 + 1e-6,
        }
    }
}

/// Whether a number between words is a length: the words of the model say what else it may be.
fn is_length(before: &str, after: &str) -> bool {
    const NUMBERED: [&str; 6] = ["gauge", "tooth", "bay", "bays", "stage", "card"];
    const COUNTED: [&str; 22] = [
        "loose",
        "tenon",
        "tenons",
        "dowel",
        "dowels",
        "screw",
        "screws",
        "pass",
        "passes",
        "finger",
        "fingers",
        "tail",
        "tails",
        "buttons",
        "clips",
        "figure-eight",
        "slats",
        "pieces",
        "teeth",
        "holes",
        "mm",
        "%",
    ];
    let last = before.split_whitespace().next_back().unwrap_or_default();
    let next = after.split_whitespace().next().unwrap_or_default().trim_end_matches([',', ';', '.', ':']);
    let glued = before.ends_with(|c: char| (c.is_alphanumeric() && c != 'Ø') || c == '/' || c == '-')
        || after.starts_with(['/', '°', '"', '-', ':']);
    let ratio = before.ends_with("1:");
    // "bays 1 and 3: …"
    let of_bays = before.rsplit([':', ';', '.']).next().is_some_and(|clause| clause.trim_start().starts_with("bay"));
    let numbered = NUMBERED.contains(&last.to_lowercase().as_str()) || before.trim_end().ends_with("in hole");
    // "6 to 11 %"
    let range = next == "to" && after.split_whitespace().nth(2).is_some_and(|unit| unit.starts_with('%'));
    !(glued || ratio || of_bays || numbered || range || COUNTED.contains(&next))
}

/// The scales drawn to, largest first (ISO 5455).
pub(super) const SCALES: [f64; 6] = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn captions_take_the_sign_and_the_unit_of_the_drawing() {
        let words = "Panel edge to frame: groove 12.95 × 9 for 12.75. Dry.";
        let of = |units: Units, decimal: Decimal| Drafting { decimal, units, ..Drafting::default() }.caption(words);
        assert_eq!(of(Units::Millimetres, Decimal::Point), words);
        assert_eq!(of(Units::Millimetres, Decimal::Comma), "Panel edge to frame: groove 12,95 × 9 for 12,75. Dry.");
        assert_eq!(of(Units::Inches, Decimal::Point), "Panel edge to frame: groove 0.51 × 0.354 for 0.502. Dry.");
        let inches = Drafting { units: Units::Inches, ..Drafting::default() };
        for (words, told) in [
            (
                "2 loose tenons 8 × 22 × 50, first snug, the rest play 4",
                "2 loose tenons 0.315 × 0.866 × 1.969, first snug, the rest play 0.157",
            ),
            ("screw gauge 8 × 35, in a pilot hole 3 × 16", "screw gauge 8 × 1.378, in a pilot hole 0.118 × 0.63"),
            ("MDF, 12 mm core, 12.75 as measured", "MDF, 12 mm core, 0.502 as measured"),
            ("Timber at 8 % moisture when built; 6 to 11 % in its place.", "Timber at 8 % moisture when built; 6 to 11 % in its place."),
            ("bays 1 and 3: 3 slats 132 × 20, at 28.1° from the upright", "bays 1 and 3: 3 slats 5.197 × 0.787, at 28.1° from the upright"),
            ("in tooth 12", "in tooth 12"),
            ("in hole 5, Ø5 × 10", "in hole 5, Ø0.197 × 0.394"),
            (
                "groove 12.95 × 9, 2 passes, the outer ones 0.125 off centre",
                "groove 0.51 × 0.354, 2 passes, the outer ones 0.005 off centre",
            ),
        ] {
            assert_eq!(inches.caption(words), told);
        }
    }

    #[test]
    fn figures_are_read_back_as_they_are_written() {
        for (units, decimal, text) in [
            (Units::Millimetres, Decimal::Point, "12.75"),
            (Units::Millimetres, Decimal::Comma, "12,75"),
            (Units::Inches, Decimal::Point, "1/2"),
        ] {
            let drafting = Drafting { decimal, units, ..Drafting::default() };
            let figure = drafting.figure(12.75);
            assert_eq!(figure, text);
            assert!((drafting.read(&format!("({figure})")).expect("a figure") - 12.75).abs() <= drafting.rounding());
        }
    }
}
