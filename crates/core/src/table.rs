//! Tables of the maker's own: read from what was pasted out of a spreadsheet or stands in a CSV file.
//!
//! Every row is either taken whole, or given back as it was with what is wrong in which column. Nothing is guessed and nothing is lost. What
//! columns there are is said by a [`Column`]: see the list of what is to be kept, and the pile of boards.

use std::ops::RangeInclusive;

use crate::length::{self, Length, trimmed_to};

/// The unit of lengths that have none.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Bare {
    /// Millimetres.
    #[default]
    Mm,
    /// Centimetres.
    Cm,
    /// Inches.
    Inches,
}

impl Bare {
    /// What is written behind a bare number to say so.
    fn suffix(self) -> &'static str {
        match self {
            Bare::Mm => "mm",
            Bare::Cm => "cm",
            Bare::Inches => "in",
        }
    }
}

/// A column of a kind of table.
pub trait Column: Copy + Eq + std::fmt::Debug + 'static {
    /// What a row says.
    type Row;

    /// Every column, in the order in which they are written, and read where the table has no headings.
    const ALL: &'static [Self];

    /// What a heading may say, in lower case, its own first.
    fn words(self) -> &'static [&'static str];

    /// Whether a row without it says nothing.
    fn needed(self) -> bool;

    /// A row of which nothing is known yet.
    fn start() -> Self::Row;

    /// Takes what a cell of it says.
    ///
    /// # Errors
    /// What is wrong with the cell, and what would do.
    fn take(self, row: &mut Self::Row, cell: &Cell<'_>) -> Result<(), String>;

    /// What does not go together in a row all of whose cells can be read, and in which column.
    fn odd(_row: &Self::Row) -> Option<(Self, String)> {
        None
    }

    /// Its heading.
    fn heading(self) -> &'static str {
        self.words().first().copied().unwrap_or_default()
    }
}

/// A table that was read.
#[derive(Clone, Debug, PartialEq)]
pub struct Listed<R> {
    /// The rows that could be read.
    pub rows: Vec<R>,
    /// Those that could not.
    pub bad: Vec<BadRow>,
    /// The row of headings as it was, where it has one.
    pub headings: Option<String>,
}

impl<R> Listed<R> {
    /// What could not be read, as it was, to be mended and read again; its headings come with it.
    pub fn left(&self) -> String {
        let rows = self.bad.iter().map(|row| row.text.as_str());
        let headings = self.headings.as_deref().filter(|_| !self.bad.is_empty());
        headings.into_iter().chain(rows).flat_map(|row| [row, "\n"]).collect()
    }
}

/// A row that could not be read.
#[derive(Clone, Debug, PartialEq)]
pub struct BadRow {
    /// Which row of the table it is, from 1: blank ones count, and a cell with line breaks in it begins no new one.
    pub row: u64,
    /// The row as it was.
    pub text: String,
    /// What is wrong, cell by cell.
    pub problems: Vec<BadCell>,
}

impl BadRow {
    /// "row 3, column 2 (width): "wide" is not a length: write …".
    pub fn words(&self) -> Vec<String> {
        self.problems.iter().map(|cell| format!("row {}, {}", self.row, cell.words())).collect()
    }
}

/// A cell that could not be read.
#[derive(Clone, Debug, PartialEq)]
pub struct BadCell {
    /// Which column of the table it stands in, from 1; none where the table has no such column.
    pub at: Option<usize>,
    /// What the column holds.
    pub heading: &'static str,
    /// What is wrong, and what would do.
    pub problem: String,
}

impl BadCell {
    fn words(&self) -> String {
        let Self { at, heading, problem } = self;
        at.map_or_else(|| format!("no column for {heading}: {problem}"), |at| format!("column {at} ({heading}): {problem}"))
    }
}

/// A cell of a table, with the unit that its heading names.
#[derive(Clone, Copy, Debug)]
pub struct Cell<'c> {
    /// What stands in it; never empty.
    pub text: &'c str,
    /// The unit that the heading names: mm, cm, in, kg or lb.
    pub unit: Option<&'static str>,
    bare: Bare,
}

impl<'c> Cell<'c> {
    /// A part of its text, with the same unit.
    #[must_use]
    pub fn part<'p>(&self, text: &'p str) -> Cell<'p>
    where
        'c: 'p,
    {
        Cell { text, unit: self.unit, bare: self.bare }
    }

    /// A length within a range of millimetres.
    ///
    /// # Errors
    /// When it is no length, or out of range.
    pub fn length(&self, range: RangeInclusive<f64>) -> Result<Length, String> {
        let unit = self.unit.unwrap_or(self.bare.suffix());
        let text = if is_number(self.text) { format!("{} {unit}", self.text) } else { self.text.to_owned() };
        let read = length::parse(&text).map_err(|error| error.to_string())?;
        within(read.to_mm(), range, "mm").map(|_| read)
    }

    /// A whole number within a range.
    ///
    /// # Errors
    /// When it is no whole number, or out of range.
    pub fn count(&self, range: RangeInclusive<f64>) -> Result<u32, String> {
        let count =
            number(self.text).filter(|count| count.fract() == 0.0).ok_or_else(|| format!("\"{}\" is not a whole number", self.text))?;
        Ok(within(count, range, "pieces")? as u32)
    }

    /// A number within a range; `of` says of what: "is not a number of per cent".
    ///
    /// # Errors
    /// When it is no number, or out of range.
    pub fn number(&self, range: RangeInclusive<f64>, (of, unit): (&str, &str)) -> Result<f64, String> {
        let value = number(self.text.trim_end_matches('%')).ok_or_else(|| format!("\"{}\" is not {of}", self.text))?;
        within(value, range, unit)
    }
}

/// What a column of the table holds, and the unit that its heading names.
#[derive(Clone, Copy, Debug)]
struct Head<C> {
    column: C,
    unit: Option<&'static str>,
}

/// Reads a table: a row a thing, cells set apart by tabs, semicolons or commas. Headings may stand in any order and may name a unit,
/// "width (cm)"; without headings the columns are those of [`Column::ALL`].
pub fn read<C: Column>(text: &str, bare: Bare) -> Listed<C::Row> {
    // A spreadsheet may begin its text with a mark of its encoding.
    let text = text.trim_start_matches('\u{feff}');
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(delimiter(text))
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let records: Vec<csv::StringRecord> = reader.records().filter_map(Result::ok).collect();
    let mut listed = Listed { rows: Vec::new(), bad: Vec::new(), headings: None };
    let mut heads: Vec<Option<Head<C>>> = C::ALL.iter().map(|column| Some(Head { column: *column, unit: None })).collect();
    let mut number = 0;
    for (index, record) in records.iter().enumerate() {
        let from = record.position().map_or(0, |at| at.byte() as usize);
        number += 1 + blank_rows(text, from);
        if record.iter().all(str::is_empty) {
            continue;
        }
        let to = records.get(index + 1).and_then(csv::StringRecord::position).map_or(text.len(), |at| at.byte() as usize);
        let row = text.get(from..to).unwrap_or_default().trim_matches(['\r', '\n']);
        let is_first = listed.headings.is_none() && listed.rows.is_empty() && listed.bad.is_empty();
        if let Some(found) = headings_of(record).filter(|_| is_first) {
            (heads, listed.headings) = (found, Some(row.to_owned()));
            continue;
        }
        match row_of(record, &heads, bare) {
            Ok(read) => listed.rows.push(read),
            Err(problems) => listed.bad.push(BadRow { row: number, text: row.to_owned(), problems }),
        }
    }
    listed
}

/// How many blank rows lie before the record that is read from here on.
fn blank_rows(text: &str, from: usize) -> u64 {
    let (before, rest) = (text.get(..from).unwrap_or_default(), text.get(from..).unwrap_or_default());
    let breaks = rest.get(..rest.len() - rest.trim_start_matches(['\r', '\n']).len()).unwrap_or_default();
    // The second half of the break that ends the row before is no row.
    let breaks = if before.ends_with('\r') { breaks.strip_prefix('\n').unwrap_or(breaks) } else { breaks };
    breaks.replace("\r\n", "\n").len() as u64
}

/// What sets cells apart: what the first row that has any of them has most of; a comma last, as it may be a decimal one.
fn delimiter(text: &str) -> u8 {
    let first = text.lines().find(|line| line.contains(['\t', ';', ','])).unwrap_or_default();
    [b'\t', b';'].into_iter().find(|mark| first.bytes().any(|byte| byte == *mark)).unwrap_or(b',')
}

/// The columns that a row of headings names; none where it is no such row: where fewer than two of its cells are headings.
fn headings_of<C: Column>(record: &csv::StringRecord) -> Option<Vec<Option<Head<C>>>> {
    let heads: Vec<Option<Head<C>>> = record.iter().map(head).collect();
    (heads.iter().flatten().count() >= 2).then_some(heads)
}

/// "Width (cm)", "weight lb", "how many".
fn head<C: Column>(cell: &str) -> Option<Head<C>> {
    let text = cell.to_lowercase().replace(['(', ')', '[', ']', ','], " ");
    let words: Vec<&str> = text.split_whitespace().collect();
    let unit = words.iter().find_map(|word| ["mm", "cm", "in", "kg", "lb"].into_iter().find(|unit| unit == word));
    let plain = |with_unit: bool| words.iter().filter(|word| with_unit || Some(**word) != unit).copied().collect::<Vec<_>>().join(" ");
    // "kg" alone is both the heading and its unit.
    let named = |text: String| C::ALL.iter().copied().find(|column| column.words().contains(&text.as_str()));
    named(plain(true)).or_else(|| named(plain(false))).map(|column| Head { column, unit })
}

/// Reads one row.
fn row_of<C: Column>(record: &csv::StringRecord, heads: &[Option<Head<C>>], bare: Bare) -> Result<C::Row, Vec<BadCell>> {
    let mut row = C::start();
    let mut problems = Vec::new();
    for column in C::ALL.iter().copied() {
        let at = heads.iter().position(|head| head.is_some_and(|head| head.column == column));
        let text = at.and_then(|at| record.get(at)).unwrap_or_default();
        let unit = at.and_then(|at| heads.get(at).copied().flatten()).and_then(|head| head.unit);
        let read = if text.is_empty() {
            if column.needed() { Err("it is empty".to_owned()) } else { Ok(()) }
        } else {
            column.take(&mut row, &Cell { text, unit, bare })
        };
        if let Err(problem) = read {
            problems.push(BadCell { at: at.map(|at| at + 1), heading: column.heading(), problem });
        }
    }
    for (at, cell) in record.iter().enumerate().skip(heads.len()) {
        if !cell.is_empty() {
            let problem = format!("\"{cell}\" stands beyond the last column; cells with a comma in them want quotes round them");
            problems.push(BadCell { at: Some(at + 1), heading: "nothing", problem });
        }
    }
    if let Some((column, problem)) = C::odd(&row).filter(|_| problems.is_empty()) {
        let at = heads.iter().position(|head| head.is_some_and(|head| head.column == column));
        problems.push(BadCell { at: at.map(|at| at + 1), heading: column.heading(), problem });
    }
    if problems.is_empty() { Ok(row) } else { Err(problems) }
}

fn is_number(cell: &str) -> bool {
    number(cell).is_some() || cell.bytes().all(|byte| byte.is_ascii_digit() || b" /-.".contains(&byte))
}

/// A plain decimal with a point or a comma, with a sign where it is less than nothing.
pub(crate) fn number(text: &str) -> Option<f64> {
    let text = text.trim().replace(',', ".");
    let plain = text.strip_prefix('-').unwrap_or(&text).bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
    plain.then(|| text.parse().ok()).flatten()
}

/// The value where it is in range; else what would be.
pub(crate) fn within(value: f64, range: RangeInclusive<f64>, unit: &str) -> Result<f64, String> {
    if range.contains(&value) {
        return Ok(value);
    }
    let figure = |value: f64| trimmed_to(value, 3);
    Err(format!("{} is out of range; it must be {} to {} {unit}", figure(value), figure(*range.start()), figure(*range.end()))
        .trim_end()
        .to_owned())
}

/// Rows under the headings of a kind of table as CSV, to be read by [`read`] again or by a spreadsheet.
pub fn write<C: Column>(rows: impl IntoIterator<Item = Vec<String>>) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let head = C::ALL.iter().map(|column| column.heading().to_owned()).collect();
    for row in std::iter::once(head).chain(rows) {
        // Writing to memory does not fail.
        let _ = writer.write_record(&row);
    }
    writer.into_inner().ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default()
}
