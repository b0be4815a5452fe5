//! The timber and sheets on hand.

use serde::{Deserialize, Serialize};

use super::rough::{quarters_called, thickness_called};
use super::shop::is_default;
use crate::length::Length;
use crate::table::{self, Bare, Cell, Column, Listed};
use crate::timber::{sheet_goods, species};

/// A board or a sheet on hand, or several that are alike. In a file, among `shop.pile`:
///
/// ```text
/// (name: "Plank 3", of: "white_ash", length: 2450, width: 190, thickness: 32, ends: 40, flaws: [(x: 800, y: 60, length: 90, width: 70, what: "knot")])
/// ```
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stuff {
    /// What the maker calls it, such as the number chalked on it.
    pub name: String,
    /// Its species, or its product in sheets, by its id.
    pub of: String,
    /// Along the grain, mm.
    pub length: Length,
    /// Across the grain, mm.
    pub width: Length,
    /// As it lies in the rack: a rough board as sawn, mm.
    pub thickness: Length,
    /// How many are alike.
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub count: u32,
    /// What one costs; 0 where that is not known, or it is paid for.
    #[serde(default, skip_serializing_if = "is_default")]
    pub price: f64,
    /// Whether it is paid for, so that it costs nothing more.
    #[serde(default, skip_serializing_if = "is_default")]
    pub paid: bool,
    /// Into how many leaves each is resawn before anything is cut from it; 1 where it is used as it is.
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub leaves: u32,
    /// How far checks go in from each end, mm.
    #[serde(default = "no_length", skip_serializing_if = "is_no_length")]
    pub ends: Length,
    /// Whether it is flat and clean on both faces: nothing more is planed off.
    #[serde(default, skip_serializing_if = "is_default")]
    pub planed: bool,
    /// Whether its ends and edges are sawn: nothing is trimmed off them before it is cut but the checks.
    #[serde(default, skip_serializing_if = "is_default")]
    pub trimmed: bool,
    /// Which of its faces is good; nothing that is seen comes from a board that has none.
    #[serde(default, skip_serializing_if = "is_default")]
    pub good: Good,
    /// Parts that are to match come from boards of one colour.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub colour: String,
    /// Where no part may lie.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub flaws: Vec<Flaw>,
    /// Where it is; never saved, for what is in a pile is on hand.
    #[serde(skip)]
    pub whence: Whence,
}

/// Where a board is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Whence {
    /// On hand.
    #[default]
    OnHand,
    /// At the dealer's, while it is found out what to buy.
    Dealer,
}

/// A rectangle on a board in which no part may lie, measured from its first corner as it lies face up.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Flaw {
    /// Where it begins along the board, mm.
    pub x: Length,
    /// Where it begins across the board, mm.
    pub y: Length,
    /// How long it is, mm.
    pub length: Length,
    /// How wide it is, mm.
    pub width: Length,
    /// What it is: knot, sapwood, shake.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub what: String,
    /// Whether it may lie in a part where nobody sees it.
    #[serde(default, skip_serializing_if = "is_default")]
    pub hides: bool,
}

impl Flaw {
    /// Whether all of it lies beside the board.
    pub fn is_off(&self, stuff: &Stuff) -> bool {
        self.x >= stuff.length || self.y >= stuff.width
    }
}

/// Which face of a board is good, as it lies in the rack.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Good {
    /// Both.
    #[default]
    Both,
    /// The upper one.
    Upper,
    /// The under one.
    Under,
    /// None.
    Neither,
}

impl Good {
    /// All of them.
    pub const ALL: [Good; 4] = [Good::Both, Good::Upper, Good::Under, Good::Neither];

    /// Its word in tables.
    pub fn word(self) -> &'static str {
        match self {
            Good::Both => "both",
            Good::Upper => "upper",
            Good::Under => "under",
            Good::Neither => "neither",
        }
    }
}

pub(super) fn one() -> u32 {
    1
}

#[allow(clippy::trivially_copy_pass_by_ref, reason = "serde hands over a reference to the field")]
pub(super) fn is_one(count: &u32) -> bool {
    *count == 1
}

fn no_length() -> Length {
    Length::mm(0.0)
}

#[allow(clippy::trivially_copy_pass_by_ref, reason = "serde hands over a reference to the field")]
fn is_no_length(length: &Length) -> bool {
    length.to_mm().abs() < f64::EPSILON
}

/// The longest and widest that a board or sheet may be, mm.
pub const ON_HAND: std::ops::RangeInclusive<f64> = 10.0..=9000.0;
/// How thick it may be, mm.
pub const THICK: std::ops::RangeInclusive<f64> = 0.5..=300.0;
/// How many may be alike.
pub const ALIKE: std::ops::RangeInclusive<f64> = 1.0..=1000.0;
/// What one may cost.
pub const PRICE: std::ops::RangeInclusive<f64> = 0.0..=100_000.0;
/// Where a flaw may begin, and how large it may be, mm.
const FLAWED: std::ops::RangeInclusive<f64> = 0.0..=9000.0;
/// Into how many leaves one may be resawn.
pub const LEAVES: std::ops::RangeInclusive<f64> = 1.0..=12.0;
/// How far in from an end checks may go, mm.
pub const ENDS: std::ops::RangeInclusive<f64> = 0.0..=2000.0;

/// A column of a pile as a table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Of {
    /// What it is called.
    Name,
    /// Species or product.
    Timber,
    /// Along the grain.
    Length,
    /// Across it.
    Width,
    /// Through it.
    Thickness,
    /// How many.
    Count,
    /// Price of one.
    Price,
    /// Into how many leaves it is resawn.
    Leaves,
    /// Which face is good.
    Good,
    /// Checks at each end.
    Ends,
    /// Whether it is planed.
    Planed,
    /// Whether its ends and edges are sawn.
    Trimmed,
    /// Colour group.
    Colour,
    /// Flaws, `x y length width`, set apart by `/`.
    Flaws,
}

impl Column for Of {
    type Row = Stuff;

    const ALL: &'static [Of] = &[
        Of::Name,
        Of::Timber,
        Of::Length,
        Of::Width,
        Of::Thickness,
        Of::Count,
        Of::Price,
        Of::Ends,
        Of::Colour,
        Of::Flaws,
        Of::Leaves,
        Of::Good,
        Of::Planed,
        Of::Trimmed,
    ];

    fn words(self) -> &'static [&'static str] {
        match self {
            Of::Name => &["name", "board", "plank", "sheet"],
            Of::Timber => &["timber", "species", "product", "of", "material"],
            Of::Length => &["length", "long", "l"],
            Of::Width => &["width", "wide", "w"],
            Of::Thickness => &["thickness", "thick", "t"],
            Of::Count => &["how many", "count", "number", "quantity", "qty", "pieces"],
            Of::Price => &["price", "cost"],
            Of::Good => &["good face", "good", "face"],
            Of::Leaves => &["leaves", "resawn into", "resawn"],
            Of::Planed => &["planed", "flat"],
            Of::Trimmed => &["trimmed", "ends and edges sawn"],
            Of::Ends => &["end checks", "ends", "checks"],
            Of::Colour => &["colour", "color", "colour group"],
            Of::Flaws => &["flaws", "defects"],
        }
    }

    fn needed(self) -> bool {
        matches!(self, Of::Timber | Of::Length | Of::Width | Of::Thickness)
    }

    fn start() -> Stuff {
        let none = no_length;
        Stuff {
            name: String::new(),
            of: String::new(),
            length: none(),
            width: none(),
            thickness: none(),
            count: 1,
            price: 0.0,
            paid: false,
            leaves: 1,
            good: Good::Both,
            ends: none(),
            planed: false,
            trimmed: false,
            colour: String::new(),
            flaws: Vec::new(),
            whence: Whence::OnHand,
        }
    }

    fn odd(stuff: &Stuff) -> Option<(Of, String)> {
        let at = stuff.flaws.iter().position(|flaw| flaw.is_off(stuff))?;
        let [length, width] = [stuff.length, stuff.width].map(|length| length.to_string());
        Some((Of::Flaws, format!("flaw {} lies beside the board, which is {length} × {width}", at + 1)))
    }

    fn take(self, stuff: &mut Stuff, cell: &Cell<'_>) -> Result<(), String> {
        match self {
            Of::Name => cell.text.clone_into(&mut stuff.name),
            Of::Timber => stuff.of = id_of(cell.text),
            Of::Length => stuff.length = cell.length(ON_HAND)?,
            Of::Width => stuff.width = cell.length(ON_HAND)?,
            Of::Thickness => stuff.thickness = as_sawn(cell)?,
            Of::Count => stuff.count = cell.count(ALIKE)?,
            Of::Price => (stuff.price, stuff.paid) = price(cell)?,
            Of::Good => stuff.good = good(cell.text)?,
            Of::Leaves => stuff.leaves = cell.count(LEAVES)?,
            Of::Planed => stuff.planed = yes_or_no(cell.text)?,
            Of::Trimmed => stuff.trimmed = yes_or_no(cell.text)?,
            Of::Ends => stuff.ends = cell.length(ENDS)?,
            Of::Colour => cell.text.clone_into(&mut stuff.colour),
            Of::Flaws => stuff.flaws = flaws_of(cell)?,
        }
        Ok(())
    }
}

/// A thickness in millimetres or inches, or by its name in quarters.
pub(super) fn as_sawn(cell: &Cell<'_>) -> Result<Length, String> {
    if let Some(sawn) = thickness_called(cell.text) {
        return Ok(Length::mm(sawn));
    }
    let is_length = crate::length::parse(cell.text).is_ok();
    cell.length(THICK)
        .map_err(|words| if is_length { words } else { format!("{words}, or a thickness in quarters: {}", quarters_called()) })
}

/// The id of a species or product that is written by its id, or as the program itself names it: "Ash, white".
pub(super) fn id_of(text: &str) -> String {
    let text = text.trim();
    let named = |name: &str| name.eq_ignore_ascii_case(text);
    let species = species().iter().find(|species| named(&species.name)).map(|species| species.id.clone());
    let sheet = || sheet_goods().iter().find(|sheet| named(&sheet.name)).map(|sheet| sheet.id.clone());
    species.or_else(sheet).unwrap_or_else(|| text.to_lowercase().replace(' ', "_"))
}

fn good(text: &str) -> Result<Good, String> {
    let word = text.trim().to_lowercase();
    let known = Good::ALL.into_iter().find(|good| good.word() == word);
    known.ok_or_else(|| format!("\"{text}\" is no face: write both, upper, under or neither"))
}

/// What is written behind a flaw that may be hidden.
const HIDES: &str = "may hide";

const PAID: &str = "paid";

/// A price, in whatever currency is written before or behind it; 0 or "paid" where it is paid for.
fn price(cell: &Cell<'_>) -> Result<(f64, bool), String> {
    let text = cell.text.trim().trim_matches(|c: char| matches!(c, '€' | '$' | '£')).trim();
    if text.eq_ignore_ascii_case(PAID) {
        return Ok((0.0, true));
    }
    let price = cell.part(text).number(PRICE, ("a price", ""))?;
    Ok((price, price <= 0.0))
}

const YES: &str = "yes";

fn yes_or_no(text: &str) -> Result<bool, String> {
    match text.trim().to_lowercase().as_str() {
        YES | "y" | "x" | "1" | "true" => Ok(true),
        "no" | "n" | "0" | "false" | "-" => Ok(false),
        _ => Err(format!("\"{text}\" is neither yes nor no")),
    }
}

/// All flaws of a cell, set apart by `/`; a stroke between two whole numbers is one of a fraction, 10 1/2 in.
fn flaws_of(cell: &Cell<'_>) -> Result<Vec<Flaw>, String> {
    let mut parts: Vec<String> = Vec::new();
    for part in cell.text.split('/') {
        match parts.last_mut() {
            Some(last) if is_fraction(last, part) => *last = format!("{last}/{part}"),
            _ => parts.push(part.to_owned()),
        }
    }
    parts.iter().map(|part| flaw(&cell.part(part))).collect()
}

/// Whether a stroke stands between the numerator and the denominator of a fraction of an inch: right between two figures, the second a power of two.
fn is_fraction(before: &str, after: &str) -> bool {
    let over = after.split(|c: char| !c.is_ascii_digit()).next().and_then(|digits| digits.parse::<u32>().ok());
    before.ends_with(|c: char| c.is_ascii_digit()) && over.is_some_and(|over| over.is_power_of_two() && (2..=64).contains(&over))
}

/// "800 60 90 70 knot", "0 0 400 25 sapwood, may hide", "24 in 1 in 6 in 2 1/2 in knot".
fn flaw(cell: &Cell<'_>) -> Result<Flaw, String> {
    let mut words = cell.text.split_whitespace().peekable();
    let mut figures = [Length::mm(0.0); 4];
    for figure in &mut figures {
        let mut text = String::new();
        while let Some(word) = words.next_if(|word| word.starts_with(|c: char| c.is_ascii_digit() || c == '-' || c == '.') || is_unit(word))
        {
            let ends = is_unit(word) || word.ends_with(['"', '\'']) || word.ends_with(|c: char| c.is_ascii_alphabetic());
            if !text.is_empty() {
                text.push(' ');
            }
            text.push_str(word);
            // A fraction goes with the whole inches before it, and a unit with what is before it.
            if ends || !words.peek().is_some_and(|next| next.contains('/') || is_unit(next)) {
                break;
            }
        }
        *figure = cell.part(&text).length(FLAWED).map_err(|problem| no_flaw(cell.text, &problem))?;
    }
    let what = words.collect::<Vec<_>>().join(" ");
    let hidden = what.strip_suffix(HIDES).map(|what| what.trim_end_matches([' ', ',']).to_owned());
    let [x, y, length, width] = figures;
    Ok(Flaw { x, y, length, width, hides: hidden.is_some(), what: hidden.unwrap_or(what) })
}

fn is_unit(word: &str) -> bool {
    matches!(word, "mm" | "cm" | "in" | "\"" | "'" | "ft")
}

fn no_flaw(text: &str, problem: &str) -> String {
    format!(
        "\"{}\" is no flaw, {problem}: write where it begins along and across the board, its length and its width, 800 60 90 70 knot",
        text.trim()
    )
}

/// Reads a pile from a table, a row a board or sheet.
pub fn read(text: &str, bare: Bare) -> Listed<Stuff> {
    table::read::<Of>(text, bare)
}

/// A pile as a table, to be read by [`read`] again or by a spreadsheet.
pub fn write(pile: &[Stuff]) -> String {
    table::write::<Of>(pile.iter().map(|stuff| Of::ALL.iter().map(|column| column.tell(stuff)).collect()))
}

impl Of {
    /// What its cell says of an entry; nothing where that goes without saying.
    fn tell(self, stuff: &Stuff) -> String {
        let unless = |plain: bool, text: String| if plain { String::new() } else { text };
        match self {
            Of::Name => stuff.name.clone(),
            Of::Timber => stuff.of.clone(),
            Of::Length => stuff.length.to_string(),
            Of::Width => stuff.width.to_string(),
            Of::Thickness => stuff.thickness.to_string(),
            Of::Count => stuff.count.to_string(),
            Of::Price => {
                unless(!stuff.paid && is_default(&stuff.price), if stuff.paid { PAID.to_owned() } else { stuff.price.to_string() })
            }
            Of::Planed => unless(!stuff.planed, YES.to_owned()),
            Of::Trimmed => unless(!stuff.trimmed, YES.to_owned()),
            Of::Ends => unless(is_no_length(&stuff.ends), stuff.ends.to_string()),
            Of::Colour => stuff.colour.clone(),
            Of::Flaws => stuff.flaws.iter().map(flaw_words).collect::<Vec<_>>().join(" / "),
            Of::Good => unless(is_default(&stuff.good), stuff.good.word().to_owned()),
            Of::Leaves => unless(is_one(&stuff.leaves), stuff.leaves.to_string()),
        }
    }
}

/// "800 60 90 70 knot", as it is read.
fn flaw_words(flaw: &Flaw) -> String {
    let Flaw { x, y, length, width, what, hides } = flaw;
    let text = format!("{x} {y} {length} {width} {what}");
    match (hides, what.is_empty()) {
        (true, true) => format!("{text}{HIDES}"),
        (true, false) => format!("{text}, {HIDES}"),
        (false, _) => text.trim_end().to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::table::BadRow;

    /// Flaws are read in inches as every other column is; one that lies beside its board, and a word that is no price, are told with row and column; "€57" is a price, and 0 is paid.
    #[test]
    fn flaws_in_inches_and_prices_as_they_are_written() {
        let text = "Board;Species;Length;Width;Thickness;Price;Flaws\n\
                    I1;white_ash;10';10 1/4 in;8/4;€57;24 in 1 in 6 in 2 1/2 in knot / 30\" 0\" 1 1/2\" 2\" sapwood, may hide\n\
                    I2;white_ash;2500;260;27;0;2600 40 80 70 knot\n\
                    I3;white_ash;2500;260;27;paid;100 40 80 70 knot/200 0 50 50\n\
                    I4;white_ash;2500;260;27;dear;\n";
        let listed = read(text, Bare::Mm);
        let [inches, paid] = listed.rows.as_slice() else { panic!("{listed:?}") };
        let sizes = |flaw: &Flaw| [flaw.x, flaw.y, flaw.length, flaw.width].map(|length| (length.to_mm() * 100.0).round() / 100.0);
        assert_eq!(inches.flaws.iter().map(sizes).collect::<Vec<_>>(), [[609.6, 25.4, 152.4, 63.5], [762.0, 0.0, 38.1, 50.8]]);
        assert_eq!((inches.flaws[0].what.as_str(), inches.flaws[1].what.as_str(), inches.flaws[1].hides), ("knot", "sapwood", true));
        assert!((inches.price - 57.0).abs() < 1e-9 && !inches.paid && paid.paid && paid.flaws.len() == 2, "{listed:?}");
        let written = write(&listed.rows);
        assert_eq!(write(&read(&written, Bare::Mm).rows), written);
        let told: Vec<String> = listed.bad.iter().flat_map(BadRow::words).collect();
        assert!(told[0].starts_with("row 3, column 7 (flaws): flaw 1 lies beside the board"), "{told:?}");
        assert!(told[1].starts_with("row 5, column 6 (price)"), "{told:?}");
    }

    #[test]
    fn a_pile_is_read_from_a_table_and_bad_rows_are_told() {
        let text = "Board,Species,Length,Width (cm),Thickness,Price,Flaws\n\
                    3,White ash,2450,19,32,41.50,\"800 60 90 70 knot / 0 0 40 190 / 100 0 400 25 sapwood, may hide\"\n\
                    4,white_ash,long,18,32,,\n\
                    5,white_ash,2000,18,32,,round the middle\n";
        let listed = read(text, Bare::Mm);
        let [board] = listed.rows.as_slice() else { panic!("{listed:?}") };
        assert_eq!((board.name.as_str(), board.of.as_str(), board.count), ("3", "white_ash", 1));
        assert_eq!([board.length, board.width, board.thickness].map(|length| length.to_string()), ["2450", "190", "32"]);
        assert_eq!(board.flaws.len(), 3);
        assert_eq!((board.flaws[2].what.as_str(), board.flaws[2].hides, board.flaws[0].hides), ("sapwood", true, false));
        assert_eq!(board.flaws[0].what, "knot");
        // What is written reads as it was.
        assert_eq!(read(&write(&listed.rows), Bare::Mm).rows, listed.rows);
        let told: Vec<String> = listed.bad.iter().flat_map(BadRow::words).collect();
        assert!(told[0].starts_with("row 3, column 3 (length): \"long\" is not a length"), "{told:?}");
        assert!(told[1].contains("column 7 (flaws)") && told[1].contains("800 60 90 70 knot"), "{told:?}");
    }
}
