//! How drawings are made: sheet, projection, figures, and what the title block says.

use casewright_core::Length;
use casewright_core::length::Units;
use glam::DVec2;
use serde::{Deserialize, Serialize};

use crate::figures::{Decimal, Figures, Wording};

/// A sheet of paper.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
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
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Angle {
    /// Each view lies beyond the piece: the plan below the front, the view from the left to its right.
    #[default]
    First,
    /// Each view lies on its own side: the plan above the front, the view from the right to its right.
    Third,
}

/// What the title block says besides what follows from the design: the fields of ISO 7200. What is not given is left to be written by hand.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
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
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
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
    /// How its lengths are written.
    pub fn figures(&self) -> Figures {
        Figures { units: self.units, decimal: self.decimal }
    }

    /// A length as a figure of the drawing, without its unit.
    pub fn figure(&self, mm: f64) -> String {
        self.figures().tape(mm)
    }

    /// A length that a joint or a fence needs: as [`figure`](Drafting::figure) in millimetres, with three decimals in inches, where a 64th is wider than a fit.
    pub fn exact(&self, mm: f64) -> String {
        self.figures().exact(mm)
    }

    /// An angle, given as it reads with a point.
    pub(super) fn degrees(&self, degrees: &str) -> String {
        format!("{}°", self.figures().signed(degrees.to_owned()))
    }

    /// Words in which figures are millimetres, as the model says them, on this drawing.
    pub(crate) fn caption(&self, words: &str) -> String {
        Wording::plain(self.figures()).exact(words)
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
