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

    /// Words in which figures are millimetres, as the model says them: with the sign before decimals of this drawing, and with their unit where that of the drawing is another.
    pub(super) fn caption(&self, words: &str) -> String {
        let mut told = String::with_capacity(words.len() + 5);
        let letters: Vec<char> = words.chars().collect();
        let is_digit = |at: Option<usize>| at.and_then(|at| letters.get(at)).is_some_and(char::is_ascii_digit);
        for (at, letter) in letters.iter().enumerate() {
            let is_sign = *letter == '.' && is_digit(at.checked_sub(1)) && is_digit(at.checked_add(1));
            told.push(if is_sign && self.decimal == Decimal::Comma { ',' } else { *letter });
        }
        if self.units == Units::Inches && letters.iter().any(char::is_ascii_digit) {
            told.push_str(" (mm)");
        }
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

/// The scales drawn to, largest first (ISO 5455).
pub(super) const SCALES: [f64; 6] = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn captions_take_the_sign_and_say_their_unit_where_the_drawing_has_another() {
        let words = "Panel edge to frame: groove 12.95 × 9 for 12.75. Dry.";
        let of = |units: Units, decimal: Decimal| Drafting { decimal, units, ..Drafting::default() }.caption(words);
        assert_eq!(of(Units::Millimetres, Decimal::Point), words);
        assert_eq!(of(Units::Millimetres, Decimal::Comma), "Panel edge to frame: groove 12,95 × 9 for 12,75. Dry.");
        assert_eq!(of(Units::Inches, Decimal::Point), "Panel edge to frame: groove 12.95 × 9 for 12.75. Dry. (mm)");
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
