//! Millimetres as a type, and how they are read and printed: metric, or feet, inches and fractions.

use std::fmt;
use std::ops::{Add, Mul, Neg, Sub};

use serde::{Deserialize, Serialize};

/// Millimetres in one inch, exactly (the international inch of 1959).
pub const MM_PER_INCH: f64 = 25.4;

/// A length in millimetres. May be negative for an offset; whether a value makes sense is judged where it is used.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Length(f64);

impl Length {
    /// No length at all.
    pub const ZERO: Length = Length(0.0);

    /// A length of `mm` millimetres.
    pub const fn mm(mm: f64) -> Self {
        Length(mm)
    }

    /// The length in millimetres.
    pub const fn to_mm(self) -> f64 {
        self.0
    }

    /// The length in inches.
    pub fn to_inches(self) -> f64 {
        self.0 / MM_PER_INCH
    }
}

impl Add for Length {
    type Output = Length;
    fn add(self, other: Length) -> Length {
        Length(self.0 + other.0)
    }
}

impl Sub for Length {
    type Output = Length;
    fn sub(self, other: Length) -> Length {
        Length(self.0 - other.0)
    }
}

impl Mul<f64> for Length {
    type Output = Length;
    fn mul(self, times: f64) -> Length {
        Length(self.0 * times)
    }
}

impl Neg for Length {
    type Output = Length;
    fn neg(self) -> Length {
        Length(-self.0)
    }
}

impl fmt::Display for Length {
    /// Millimetres with at most two decimals and no trailing zeros, without the unit: `1240`, `12.75`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&trimmed(self.0))
    }
}

/// A number with at most two decimals and no trailing zeros.
pub fn trimmed(value: f64) -> String {
    trimmed_to(value, 2)
}

/// What sums of lengths lose at most, mm; far less than is ever printed.
const HAIR: f64 = 1e-9;

/// A number with at most so many decimals and no trailing zeros.
pub fn trimmed_to(value: f64, decimals: usize) -> String {
    // A hair up: half a step is rounded away from nothing, however little a sum has lost of it.
    let text = format!("{:.decimals$}", value + HAIR.copysign(value));
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// How lengths are shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Units {
    /// Millimetres.
    #[default]
    Millimetres,
    /// Inches and fractions, to the nearest sixty-fourth.
    Inches,
}

impl Units {
    /// The length with its unit: `1240 mm`, or `48 13/16 in`.
    pub fn show(self, length: Length) -> String {
        match self {
            Units::Millimetres => format!("{length} mm"),
            Units::Inches => format!("{} in", fractional_inches(length, 64)),
        }
    }
}

/// Inches as a whole number and a fraction in lowest terms, rounded to the nearest `1 / denominator`.
///
/// `denominator` is a power of two, 1 to 64 in the trade; other values work but read oddly.
///
/// ```
/// use casewright_core::length::{Length, fractional_inches};
/// assert_eq!(fractional_inches(Length::mm(19.05), 64), "3/4");
/// assert_eq!(fractional_inches(Length::mm(-38.1), 64), "-1 1/2");
/// ```
pub fn fractional_inches(length: Length, denominator: u32) -> String {
    let denominator = i64::from(denominator.max(1));
    let inches = length.to_inches();
    if !inches.is_finite() {
        return inches.to_string();
    }
    let parts = (inches.abs() * denominator as f64).round() as i64;
    let sign = if inches < 0.0 && parts > 0 { "-" } else { "" };
    let (whole, rest) = (parts / denominator, parts % denominator);
    if rest == 0 {
        return format!("{sign}{whole}");
    }
    let common = greatest_common_divisor(rest, denominator);
    let fraction = format!("{}/{}", rest / common, denominator / common);
    if whole == 0 { format!("{sign}{fraction}") } else { format!("{sign}{whole} {fraction}") }
}

fn greatest_common_divisor(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { greatest_common_divisor(b, a % b) }
}

/// Why a text is not a length.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[error("\"{text}\" is not a length: {expected}")]
pub struct LengthError {
    text: String,
    expected: &'static str,
}

impl LengthError {
    /// What would have been a length.
    pub fn expected(&self) -> &'static str {
        self.expected
    }
}

const EXPECTED: &str = "write millimetres (19.5, 19,5 mm), centimetres (4 cm), metres (1.2 m), inches (3/4 in, 2 1/2\") or feet (4' 6\")";

/// Reads a length as a maker writes it. A bare number is millimetres.
///
/// Understood: `1240`, `12.75 mm`, `12,75 mm`, `4 cm`, `1.2 m`, `3/4 in`, `2 1/2"`, `2-1/2"`, `4'`, `4' 6 1/2"`, each with a leading minus.
///
/// # Errors
/// When the text is none of these, or is not a finite number.
///
/// ```
/// use casewright_core::length::{Length, parse};
/// assert_eq!(parse("2 1/2\"").unwrap(), Length::mm(63.5));
/// assert_eq!(parse("1' 6\"").unwrap(), Length::mm(457.2));
/// ```
pub fn parse(text: &str) -> Result<Length, LengthError> {
    let fail = || LengthError { text: text.to_owned(), expected: EXPECTED };
    let trimmed = text.trim();
    let (negative, body) = match trimmed.strip_prefix(['-', '−']) {
        Some(rest) => (true, rest.trim_start()),
        None => (false, trimmed),
    };
    let mm = metric(body).or_else(|| imperial(body)).filter(|mm| mm.is_finite()).ok_or_else(fail)?;
    Ok(Length(if negative { -mm } else { mm }))
}

fn metric(body: &str) -> Option<f64> {
    let (number, factor) = if let Some(number) = body.strip_suffix("mm") {
        (number, 1.0)
    } else if let Some(number) = body.strip_suffix("cm") {
        (number, 10.0)
    } else if let Some(number) = body.strip_suffix('m') {
        (number, 1000.0)
    } else {
        (body, 1.0)
    };
    Some(decimal(number)? * factor)
}

fn imperial(body: &str) -> Option<f64> {
    let (feet, rest) = split_unit(body, &["feet", "foot", "ft", "'", "′"]);
    let feet = feet.map_or(Some(0.0), mixed)?;
    let rest = rest.trim();
    if rest.is_empty() {
        return (feet > 0.0).then_some(feet * 12.0 * MM_PER_INCH);
    }
    let (inches, left) = split_unit(rest, &["inches", "inch", "in", "\"", "″"]);
    if !left.trim().is_empty() {
        return None;
    }
    Some((feet * 12.0 + mixed(inches?)?) * MM_PER_INCH)
}

/// What stands before the first of `units`, and what follows it.
fn split_unit<'a>(text: &'a str, units: &[&str]) -> (Option<&'a str>, &'a str) {
    for unit in units {
        if let Some(at) = text.find(unit) {
            return (Some(&text[..at]), &text[at + unit.len()..]);
        }
    }
    (None, text)
}

/// `2`, `2.5`, `1/2`, `2 1/2` or `2-1/2`.
fn mixed(text: &str) -> Option<f64> {
    let text = text.trim();
    let Some((before, below)) = text.split_once('/') else { return decimal(text) };
    let below = whole(below)?;
    if below == 0.0 {
        return None;
    }
    match before.trim().rsplit_once([' ', '-']) {
        Some((units, above)) => Some(whole(units)? + whole(above)? / below),
        None => Some(whole(before)? / below),
    }
}

fn whole(text: &str) -> Option<f64> {
    let text = text.trim();
    (!text.is_empty() && text.bytes().all(|b| b.is_ascii_digit())).then(|| text.parse().ok()).flatten()
}

/// A plain decimal with a point or a comma, no sign and no exponent.
fn decimal(text: &str) -> Option<f64> {
    let text = text.trim().replace(',', ".");
    let digits = text.bytes().all(|b| b.is_ascii_digit() || b == b'.');
    (digits && text.bytes().any(|b| b.is_ascii_digit())).then(|| text.parse().ok()).flatten()
}

/// So many years: "1 year", "2.5 years".
pub fn years(number: f64) -> String {
    let digits = trimmed_to(number, 1);
    if digits == "1" { "1 year".to_owned() } else { format!("{digits} years") }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Half a step is rounded up, whether a length was typed or is a sum that lost a little of it.
    #[test]
    fn half_a_step_is_rounded_alike_however_it_was_come_by() {
        let sum = 12.7 - 3.175;
        assert!(sum < 9.525, "the sum has lost a little: {sum:.17}");
        for mm in [9.525, sum] {
            assert_eq!(trimmed(mm), "9.53", "{mm:.17}");
            assert_eq!(trimmed(-mm), "-9.53", "{mm:.17}");
        }
        assert_eq!((trimmed(0.0), trimmed(-0.0), trimmed(-0.001)), ("0".to_owned(), "0".to_owned(), "0".to_owned()));
        assert_eq!((trimmed(9.524), trimmed_to(2.5, 0)), ("9.52".to_owned(), "3".to_owned()));
    }

    #[test]
    fn reads_what_a_maker_writes() {
        for (text, mm) in [
            ("1240", 1240.0),
            (" 12.75 mm", 12.75),
            ("12,75mm", 12.75),
            ("4 cm", 40.0),
            ("1.2 m", 1200.0),
            ("3/4 in", 19.05),
            ("2 1/2\"", 63.5),
            ("2-1/2\"", 63.5),
            ("2.5in", 63.5),
            ("4'", 1219.2),
            ("4' 6 1/2\"", 1384.3),
            ("-3", -3.0),
            ("- 1/2 in", -12.7),
        ] {
            let read = parse(text).unwrap_or_else(|error| panic!("{error}"));
            assert!((read.to_mm() - mm).abs() < 1e-9, "{text}: {read:?}, wanted {mm}");
        }
    }

    #[test]
    fn refuses_what_is_no_length() {
        for text in ["", "  ", "mm", "NaN", "inf", "1e3", "12 furlongs", "1/0 in", "3/4", "1/2/3 in", "--3", "4' x", "1..2"] {
            let error = parse(text).expect_err(text).to_string();
            assert!(error.contains("millimetres"), "{text}: {error}");
        }
    }

    #[test]
    fn prints_the_nearest_fraction_in_lowest_terms() {
        assert_eq!(fractional_inches(Length::mm(25.4), 64), "1");
        assert_eq!(fractional_inches(Length::mm(0.0), 64), "0");
        assert_eq!(fractional_inches(Length::mm(12.0), 16), "1/2");
        assert_eq!(fractional_inches(Length::mm(12.0), 64), "15/32");
        assert_eq!(fractional_inches(Length::mm(25.3), 16), "1");
        assert_eq!(fractional_inches(Length::mm(-0.001), 64), "0");
    }

    #[test]
    fn what_is_printed_reads_back_within_half_a_sixty_fourth() {
        for step in 0..5000 {
            let length = Length::mm(f64::from(step) * 0.37 + 0.5);
            let back = parse(&Units::Inches.show(length)).expect("own print");
            assert!((back - length).to_mm().abs() <= MM_PER_INCH / 128.0 + 1e-9, "{length}");
        }
    }

    #[test]
    fn millimetres_have_no_idle_zeros() {
        assert_eq!(Length::mm(1240.0).to_string(), "1240");
        assert_eq!(Length::mm(12.75).to_string(), "12.75");
        assert_eq!(Length::mm(-0.001).to_string(), "0");
    }
}
