//! What decisions are measured in.

/// What a decision is measured in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// Millimetres.
    Millimetres,
    /// Kilograms.
    Kilograms,
    /// Percent: of dry mass, or of the humidity that air can hold.
    Percent,
    /// Degrees Celsius.
    Celsius,
    /// Degrees of an angle.
    Degrees,
    /// Kilograms in a cubic metre.
    Density,
    /// Newtons on a square millimetre.
    Stress,
    /// Seconds.
    Seconds,
    /// Minutes.
    Minutes,
    /// Years.
    Years,
    /// Newtons.
    Newtons,
    /// A plain number, not whole.
    Number,
    /// The maker's currency.
    Price,
    /// Hours.
    Hours,
    /// A plain count.
    Count,
    /// A share of what is left.
    Share,
    /// One of some words, or free text.
    Word,
}

impl Unit {
    /// The unit as printed after a figure; empty for counts and words.
    pub fn suffix(self) -> &'static str {
        match self {
            Unit::Millimetres => "mm",
            Unit::Kilograms => "kg",
            Unit::Percent => "%",
            Unit::Celsius => "°C",
            Unit::Degrees => "°",
            Unit::Density => "kg/m³",
            Unit::Stress => "N/mm²",
            Unit::Seconds => "s",
            Unit::Minutes => "min",
            Unit::Years => "years",
            Unit::Newtons => "N",
            Unit::Share => "share",
            Unit::Hours => "h",
            Unit::Price | Unit::Count | Unit::Number | Unit::Word => "",
        }
    }

    /// The unit as it stands behind a figure, with the space before it where it has one.
    pub fn behind(self) -> String {
        match self.suffix() {
            "" => String::new(),
            degrees @ "°" => degrees.to_owned(),
            suffix => format!(" {suffix}"),
        }
    }

    /// What is written for a value.
    pub fn takes(self) -> Takes {
        match self {
            Unit::Millimetres => Takes::Length,
            Unit::Count => Takes::Whole,
            Unit::Kilograms
            | Unit::Percent
            | Unit::Celsius
            | Unit::Degrees
            | Unit::Density
            | Unit::Stress
            | Unit::Seconds
            | Unit::Minutes
            | Unit::Years
            | Unit::Newtons
            | Unit::Number
            | Unit::Share
            | Unit::Price
            | Unit::Hours
            | Unit::Word => Takes::Number,
        }
    }
}

/// How a value of a unit is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Takes {
    /// A length in any of the ways in which lengths are written.
    Length,
    /// A whole number.
    Whole,
    /// Any number.
    Number,
}
