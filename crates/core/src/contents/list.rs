//! A list of things as a table: read from what was pasted out of a spreadsheet or stands in a CSV file, and written again.
//!
//! Every row is either taken whole, or given back as it was with what is wrong in which column. Nothing is guessed and nothing is lost.

use std::ops::RangeInclusive;

use crate::design::decisions::Choice;
use crate::design::{Bears, BoxKind, COUNTS, MASSES, NESTS, SIZES, SPARES, Taken};
use crate::length::{self, trimmed_to};

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

/// One column of the table.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Column {
    /// What it is called.
    Name,
    /// From left to right.
    Width,
    /// From front to back.
    Depth,
    /// Upward.
    Height,
    /// Weight of one.
    Mass,
    /// How many.
    Count,
    /// How far stacked ones nest.
    Nests,
    /// Which ways it may stand.
    Lies,
    /// What may stand on it.
    Bears,
    /// How it is taken.
    Taken,
    /// How many more one day.
    Spare,
}

impl Column {
    /// Every column, in the order in which they are written, and read where the table has no headings.
    pub const ALL: [Column; 11] = [
        Column::Name,
        Column::Width,
        Column::Depth,
        Column::Height,
        Column::Mass,
        Column::Count,
        Column::Nests,
        Column::Lies,
        Column::Bears,
        Column::Taken,
        Column::Spare,
    ];

    /// Its heading.
    pub fn heading(self) -> &'static str {
        self.words()[0]
    }

    /// What a heading may say, in lower case, its own first.
    fn words(self) -> &'static [&'static str] {
        match self {
            Column::Name => &["name", "kind", "what", "thing", "box"],
            Column::Width => &["width", "wide", "w"],
            Column::Depth => &["depth", "deep", "d", "length", "l"],
            Column::Height => &["height", "high", "h"],
            Column::Mass => &["weight", "mass", "kg", "lb"],
            Column::Count => &["how many", "count", "number", "quantity", "qty", "pieces"],
            Column::Nests => &["nests by", "nests"],
            Column::Lies => &["may stand", "lies"],
            Column::Bears => &["on it may stand", "bears"],
            Column::Taken => &["is taken", "taken"],
            Column::Spare => &["growth %", "growth", "spare", "spare %"],
        }
    }

    /// Whether a row without it says nothing.
    fn needed(self) -> bool {
        matches!(self, Column::Name | Column::Width | Column::Depth | Column::Height)
    }
}

/// A table that was read.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Listed {
    /// The rows that could be read.
    pub kinds: Vec<BoxKind>,
    /// Those that could not.
    pub bad: Vec<BadRow>,
}

impl Listed {
    /// What could not be read, as it was, to be mended and read again; its headings come with it.
    pub fn left(&self, headings: Option<&str>) -> String {
        let rows = self.bad.iter().map(|row| row.text.as_str());
        headings.filter(|_| !self.bad.is_empty()).into_iter().chain(rows).flat_map(|row| [row, "\n"]).collect()
    }
}

/// A row that could not be read.
#[derive(Clone, Debug, PartialEq)]
pub struct BadRow {
    /// Which line of the text it begins on, from 1.
    pub line: u64,
    /// The row as it was.
    pub text: String,
    /// What is wrong, cell by cell.
    pub problems: Vec<BadCell>,
}

impl BadRow {
    /// "row 3, column 2 (width): "wide" is not a length: write …".
    pub fn words(&self) -> Vec<String> {
        self.problems.iter().map(|cell| format!("row {}, {}", self.line, cell.words())).collect()
    }
}

/// A cell that could not be read.
#[derive(Clone, Debug, PartialEq)]
pub struct BadCell {
    /// Which column of the table it stands in, from 1; none where the table has no such column.
    pub at: Option<usize>,
    /// What the column holds.
    pub column: Column,
    /// What is wrong, and what would do.
    pub problem: String,
}

impl BadCell {
    fn words(&self) -> String {
        let Self { at, column, problem } = self;
        let heading = column.heading();
        at.map_or_else(|| format!("no column for {heading}: {problem}"), |at| format!("column {at} ({heading}): {problem}"))
    }
}

/// What a column of the table holds, and the unit that its heading names.
#[derive(Clone, Copy, Debug)]
struct Head {
    column: Column,
    unit: Option<&'static str>,
}

/// Reads a table: a row a kind, cells set apart by tabs, semicolons or commas. Headings may stand in any order and may name a unit,
/// "width (cm)"; without headings the columns are those of [`Column::ALL`]. What a row does not say is as for a box of which nothing is
/// known; how many is 1.
pub fn read(text: &str, bare: Bare) -> (Listed, Option<String>) {
    // A spreadsheet may begin its text with a mark of its encoding.
    let text = text.trim_start_matches('\u{feff}');
    let mut reader = csv::ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .delimiter(delimiter(text))
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let records: Vec<csv::StringRecord> = reader.records().filter_map(Result::ok).collect();
    let mut listed = Listed::default();
    let mut heads: Vec<Option<Head>> = Column::ALL.map(|column| Some(Head { column, unit: None })).to_vec();
    let mut headings = None;
    for (index, record) in records.iter().enumerate() {
        if record.iter().all(str::is_empty) {
            continue;
        }
        let (from, line) = record.position().map_or((0, 0), |at| (at.byte() as usize, at.line()));
        let to = records.get(index + 1).and_then(csv::StringRecord::position).map_or(text.len(), |at| at.byte() as usize);
        let row = text.get(from..to).unwrap_or_default().trim_matches(['\r', '\n']);
        if headings.is_none()
            && listed.kinds.is_empty()
            && listed.bad.is_empty()
            && let Some(found) = headings_of(record)
        {
            (heads, headings) = (found, Some(row.to_owned()));
            continue;
        }
        match kind(record, &heads, bare) {
            Ok(kind) => listed.kinds.push(kind),
            Err(problems) => listed.bad.push(BadRow { line, text: row.to_owned(), problems }),
        }
    }
    (listed, headings)
}

/// What sets cells apart: what the first row that has any of them has most of; a comma last, as it may be a decimal one.
fn delimiter(text: &str) -> u8 {
    let first = text.lines().find(|line| line.contains(['\t', ';', ','])).unwrap_or_default();
    [b'\t', b';'].into_iter().find(|mark| first.bytes().any(|byte| byte == *mark)).unwrap_or(b',')
}

/// The columns that a row of headings names; none where it is no such row: where fewer than two of its cells are headings.
fn headings_of(record: &csv::StringRecord) -> Option<Vec<Option<Head>>> {
    let heads: Vec<Option<Head>> = record.iter().map(head).collect();
    (heads.iter().flatten().count() >= 2).then_some(heads)
}

/// "Width (cm)", "weight lb", "how many".
fn head(cell: &str) -> Option<Head> {
    let text = cell.to_lowercase().replace(['(', ')', '[', ']', ','], " ");
    let words: Vec<&str> = text.split_whitespace().collect();
    let unit = words.iter().find_map(|word| ["mm", "cm", "in", "kg", "lb"].into_iter().find(|unit| unit == word));
    let plain = |with_unit: bool| words.iter().filter(|word| with_unit || Some(**word) != unit).copied().collect::<Vec<_>>().join(" ");
    // "kg" alone is both the heading and its unit.
    let named = |text: String| Column::ALL.into_iter().find(|column| column.words().contains(&text.as_str()));
    named(plain(true)).or_else(|| named(plain(false))).map(|column| Head { column, unit })
}

/// Reads one row.
fn kind(record: &csv::StringRecord, heads: &[Option<Head>], bare: Bare) -> Result<BoxKind, Vec<BadCell>> {
    let mut kind = BoxKind::new("", [0.0; 3], 0.0, 1);
    let mut problems = Vec::new();
    for column in Column::ALL {
        let at = heads.iter().position(|head| head.is_some_and(|head| head.column == column));
        let cell = at.and_then(|at| record.get(at)).unwrap_or_default();
        let unit = at.and_then(|at| heads[at]).and_then(|head| head.unit);
        let read = if cell.is_empty() {
            if column.needed() { Err("it is empty".to_owned()) } else { Ok(()) }
        } else {
            set(&mut kind, column, cell, unit, bare)
        };
        if let Err(problem) = read {
            problems.push(BadCell { at: at.map(|at| at + 1), column, problem });
        }
    }
    for (at, cell) in record.iter().enumerate().skip(heads.len()) {
        if !cell.is_empty() {
            let problem = format!("\"{cell}\" stands beyond the last column; cells with a comma in them want quotes round them");
            problems.push(BadCell { at: Some(at + 1), column: Column::Spare, problem });
        }
    }
    if problems.is_empty() { Ok(kind) } else { Err(problems) }
}

fn set(kind: &mut BoxKind, column: Column, cell: &str, unit: Option<&'static str>, bare: Bare) -> Result<(), String> {
    let length = |range: RangeInclusive<f64>| {
        let unit = unit.unwrap_or(bare.suffix());
        let text = if is_number(cell) { format!("{cell} {unit}") } else { cell.to_owned() };
        let read = length::parse(&text).map_err(|error| error.to_string())?;
        within(read.to_mm(), range, "mm").map(|_| read)
    };
    match column {
        Column::Name => cell.clone_into(&mut kind.name),
        Column::Width => kind.width = length(SIZES)?,
        Column::Depth => kind.depth = length(SIZES)?,
        Column::Height => kind.height = length(SIZES)?,
        Column::Nests => kind.nests = length(NESTS)?,
        Column::Mass => kind.mass = mass(cell, unit)?,
        Column::Count => {
            let count = number(cell).filter(|count| count.fract() == 0.0).ok_or_else(|| format!("\"{cell}\" is not a whole number"))?;
            kind.count = within(count, COUNTS, "pieces")? as u32;
        }
        Column::Spare => {
            let share = number(cell.trim_end_matches('%')).ok_or_else(|| format!("\"{cell}\" is not a number of per cent"))?;
            kind.spare = within(share, SPARES, "%")?;
        }
        Column::Lies => chosen(&mut kind.lies, cell)?,
        Column::Bears => chosen::<Bears>(&mut kind.bears, cell)?,
        Column::Taken => chosen::<Taken>(&mut kind.taken, cell)?,
    }
    Ok(())
}

/// A word as files write it, or as it is shown.
fn chosen<C: Choice>(slot: &mut C, cell: &str) -> Result<(), String> {
    let options = slot.options();
    let wanted = cell.to_lowercase();
    let found = options.iter().find(|(word, label)| *word == wanted || *label == wanted);
    if found.is_some_and(|(word, _)| slot.choose(word)) {
        return Ok(());
    }
    let words: Vec<String> = options.into_iter().map(|(_, label)| label).collect();
    Err(format!("\"{cell}\" is none of: {}", words.join(", ")))
}

/// Kilograms, or pounds where the cell or its heading says so.
fn mass(cell: &str, unit: Option<&'static str>) -> Result<f64, String> {
    const KG_PER_POUND: f64 = 0.453_592_37;
    let text = cell.to_lowercase();
    let (text, factor) = match (text.strip_suffix("kg"), text.strip_suffix("lb")) {
        (Some(number), _) => (number.to_owned(), 1.0),
        (None, Some(number)) => (number.to_owned(), KG_PER_POUND),
        (None, None) => (text.clone(), if unit == Some("lb") { KG_PER_POUND } else { 1.0 }),
    };
    let value = number(&text).ok_or_else(|| format!("\"{cell}\" is not a weight: write kilograms (16, 5,7 kg) or pounds (35 lb)"))?;
    within(value * factor, MASSES, "kg")
}

fn is_number(cell: &str) -> bool {
    number(cell).is_some() || cell.bytes().all(|byte| byte.is_ascii_digit() || b" /-.".contains(&byte))
}

/// A plain decimal with a point or a comma.
fn number(text: &str) -> Option<f64> {
    let text = text.trim().replace(',', ".");
    let plain = text.bytes().all(|byte| byte.is_ascii_digit() || byte == b'.');
    plain.then(|| text.parse().ok()).flatten()
}

fn within(value: f64, range: RangeInclusive<f64>, unit: &str) -> Result<f64, String> {
    if range.contains(&value) {
        return Ok(value);
    }
    let figure = |value: f64| trimmed_to(value, 3);
    Err(format!("{} is out of range; it must be {} to {} {unit}", figure(value), figure(*range.start()), figure(*range.end())))
}

/// The list as CSV with headings, in millimetres and kilograms, to be read by [`read`] again or by a spreadsheet.
pub fn write(kinds: &[BoxKind]) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    let label = |choice: &dyn Choice| {
        let word = choice.word();
        choice.options().into_iter().find(|(option, _)| *option == word).map_or(word, |(_, label)| label)
    };
    let rows = kinds.iter().map(|kind| {
        let BoxKind { name, width, depth, height, mass, count, nests, lies, bears, taken, spare } = kind;
        let mm = |length: &length::Length| length.to_mm().to_string();
        let sizes = [name.clone(), mm(width), mm(depth), mm(height), mass.to_string(), count.to_string(), mm(nests)];
        let handling = [label(lies), label(bears), label(taken), spare.to_string()];
        sizes.into_iter().chain(handling).collect::<Vec<_>>()
    });
    let head = Column::ALL.iter().map(|column| column.heading().to_owned()).collect();
    for row in std::iter::once(head).chain(rows) {
        // Writing to memory does not fail.
        let _ = writer.write_record(&row);
    }
    writer.into_inner().ok().and_then(|bytes| String::from_utf8(bytes).ok()).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::Lies;
    use crate::length::Length;

    fn demo() -> Vec<BoxKind> {
        crate::design::text::read(include_str!("../../../../examples/records_cabinet.ron")).expect("the demo").contents
    }

    #[test]
    fn what_is_written_reads_back_the_same() {
        let mut kinds = demo();
        kinds[0].name = "Carton, \"large\"; new".to_owned();
        (kinds[1].nests, kinds[1].taken, kinds[1].spare) = (Length::mm(12.5), Taken::Lifted, 15.0);
        (kinds[2].lies, kinds[3].bears) = (Lies::AnyWay, Bears::Nothing);
        let (listed, headings) = read(&write(&kinds), Bare::Mm);
        assert_eq!(listed.bad, []);
        assert_eq!(listed.kinds, kinds);
        assert!(headings.is_some_and(|headings| headings.starts_with("name,width,depth")));
    }

    #[test]
    fn a_pasted_table_may_name_units_and_order_its_columns() {
        let text = "How many\tBox\tW (cm)\tD (cm)\tH (cm)\tWeight lb\n4\tCarton\t33\t40,6\t25.4\t35\n\n1\tCase\t5 in\t390 mm\t26\t\n";
        let (listed, _) = read(text, Bare::Mm);
        assert_eq!(listed.bad, []);
        let [carton, case] = listed.kinds.as_slice() else { panic!("{listed:?}") };
        assert_eq!((carton.name.as_str(), carton.count), ("Carton", 4));
        assert_eq!([carton.width, carton.depth, carton.height].map(|length| length.to_string()), ["330", "406", "254"]);
        assert!((carton.mass - 15.876).abs() < 0.001, "35 lb are {} kg", carton.mass);
        assert_eq!([case.width, case.depth, case.height].map(|length| length.to_string()), ["127", "390", "260"]);
    }

    #[test]
    fn bare_numbers_are_what_they_are_said_to_be() {
        let read_width = |bare| read("File;3;26;37", bare).0.kinds[0].width.to_string();
        assert_eq!(read_width(Bare::Mm), "3");
        assert_eq!(read_width(Bare::Cm), "30");
        assert!((read("File,3 1/2,26,37", Bare::Inches).0.kinds[0].width.to_mm() - 88.9).abs() < 1e-9);
    }

    #[test]
    fn bad_rows_are_told_by_row_and_column_and_kept() {
        let text = "name,width,depth,height,weight,how many,may stand\n\
                    Carton,330,406,254,16,6,\n\
                    Case,wide,390,260,6.5,x,upside down\n\
                    File,75,,370,3.2,1,turned\n\
                    Flat,285,400,0,5.7,4,also turned round\n";
        let (listed, headings) = read(text, Bare::Mm);
        assert_eq!(listed.kinds.len(), 1);
        let told: Vec<String> = listed.bad.iter().flat_map(BadRow::words).collect();
        assert_eq!(told.len(), 5, "{told:?}");
        assert!(told[0].starts_with("row 3, column 2 (width): \"wide\" is not a length"), "{told:?}");
        assert!(told[1].starts_with("row 3, column 6 (how many): \"x\" is not a whole number"), "{told:?}");
        assert!(told[2].contains("column 7 (may stand)") && told[2].contains("also on its side"), "{told:?}");
        assert_eq!(told[3], "row 4, column 3 (depth): it is empty");
        assert!(told[4].starts_with("row 5, column 4 (height): 0 is out of range; it must be 1 to 3000 mm"), "{told:?}");
        // Mended, they read; what was read is not read twice.
        let left = listed.left(headings.as_deref());
        let mended = left
            .replace("wide", "127")
            .replace(",x,", ",6,")
            .replace("upside down", "any way")
            .replace("75,,", "75,260,")
            .replace(",0,", ",120,");
        let (again, _) = read(&mended, Bare::Mm);
        assert_eq!((again.kinds.len(), again.bad.len()), (3, 0), "{again:?}");
        assert_eq!(again.kinds[0].lies, Lies::AnyWay);
    }

    #[test]
    fn any_text_is_either_taken_or_given_back() {
        for text in [
            "",
            "\n\n",
            "x",
            "a,b,c,d,e,f,g,h,i,j,k,l,m",
            "\"",
            "\u{feff}Carton,1,2,3",
            "1;2;3;4;5;6;7;8;9;10;11;12",
            "name\twidth\n\"a\nb\"\t3",
        ] {
            let (listed, _) = read(text, Bare::Mm);
            let rows = text.lines().filter(|line| !line.trim().is_empty()).count();
            assert!(listed.kinds.len() + listed.bad.len() <= rows, "{text:?}: {listed:?}");
            assert!(listed.bad.iter().all(|row| !row.text.is_empty() && !row.problems.is_empty()), "{text:?}: {listed:?}");
        }
        assert_eq!(read("\u{feff}Carton,1,2,3", Bare::Mm).0.kinds.len(), 1);
    }
}
