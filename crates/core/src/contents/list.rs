//! The list of what is to be kept as a table: a row a kind.

use crate::design::decisions::Choice;
use crate::design::{Bears, BoxKind, COUNTS, MASSES, NESTS, SIZES, SPARES, Taken};
use crate::length::Length;
use crate::table::{self, Bare, Cell, Column, Listed, number, within};

/// What a column of it holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Of {
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

impl Column for Of {
    type Row = BoxKind;

    const ALL: &'static [Of] =
        &[Of::Name, Of::Width, Of::Depth, Of::Height, Of::Mass, Of::Count, Of::Nests, Of::Lies, Of::Bears, Of::Taken, Of::Spare];

    fn words(self) -> &'static [&'static str] {
        match self {
            Of::Name => &["name", "kind", "what", "thing", "box"],
            Of::Width => &["width", "wide", "w"],
            Of::Depth => &["depth", "deep", "d", "length", "l"],
            Of::Height => &["height", "high", "h"],
            Of::Mass => &["weight", "mass", "kg", "lb"],
            Of::Count => &["how many", "count", "number", "quantity", "qty", "pieces"],
            Of::Nests => &["nests by", "nests"],
            Of::Lies => &["may stand", "lies"],
            Of::Bears => &["on it may stand", "bears"],
            Of::Taken => &["is taken", "taken"],
            Of::Spare => &["growth %", "growth", "spare", "spare %"],
        }
    }

    fn needed(self) -> bool {
        matches!(self, Of::Name | Of::Width | Of::Depth | Of::Height)
    }

    /// A box of which nothing is known; one of it.
    fn start() -> BoxKind {
        BoxKind::new("", [0.0; 3], 0.0, 1)
    }

    fn take(self, kind: &mut BoxKind, cell: &Cell<'_>) -> Result<(), String> {
        match self {
            Of::Name => cell.text.clone_into(&mut kind.name),
            Of::Width => kind.width = cell.length(SIZES)?,
            Of::Depth => kind.depth = cell.length(SIZES)?,
            Of::Height => kind.height = cell.length(SIZES)?,
            Of::Nests => {
                // Its height has been read by then.
                let (nests, height) = (cell.length(NESTS)?, kind.height.to_mm());
                if nests.to_mm() >= height && height > 0.0 {
                    return Err(format!("{nests} is not less than its height, {}", kind.height));
                }
                kind.nests = nests;
            }
            Of::Mass => kind.mass = mass(cell.text, cell.unit)?,
            Of::Count => kind.count = cell.count(COUNTS)?,
            Of::Spare => kind.spare = cell.number(SPARES, ("a number of per cent", "%"))?,
            Of::Lies => chosen(&mut kind.lies, cell.text)?,
            Of::Bears => chosen::<Bears>(&mut kind.bears, cell.text)?,
            Of::Taken => chosen::<Taken>(&mut kind.taken, cell.text)?,
        }
        Ok(())
    }
}

/// Reads a list. What a row does not say is as for a box of which nothing is known; how many is 1.
pub fn read(text: &str, bare: Bare) -> Listed<BoxKind> {
    table::read::<Of>(text, bare)
}

/// A word as files write it, or as it is shown.
fn chosen<C: Choice>(slot: &mut C, cell: &str) -> Result<(), String> {
    let options = slot.options();
    // As a file of a design writes it, as the command line does, or as it is shown.
    let plain = |text: &str| text.to_lowercase().replace(['_', '-', ' '], "");
    let wanted = plain(cell);
    let found = options.iter().find(|(word, label)| plain(word) == wanted || plain(label) == wanted);
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

/// The list as CSV with headings, in millimetres and kilograms, to be read by [`read`] again or by a spreadsheet.
pub fn write(kinds: &[BoxKind]) -> String {
    let label = |choice: &dyn Choice| {
        let word = choice.word();
        choice.options().into_iter().find(|(option, _)| *option == word).map_or(word, |(_, label)| label)
    };
    let rows = kinds.iter().map(|kind| {
        let BoxKind { name, width, depth, height, mass, count, nests, lies, bears, taken, spare } = kind;
        let mm = |length: &Length| length.to_mm().to_string();
        let sizes = [name.clone(), mm(width), mm(depth), mm(height), mass.to_string(), count.to_string(), mm(nests)];
        let handling = [label(lies), label(bears), label(taken), spare.to_string()];
        sizes.into_iter().chain(handling).collect::<Vec<_>>()
    });
    table::write::<Of>(rows)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::Lies;
    use crate::table::BadRow;

    fn demo() -> Vec<BoxKind> {
        crate::design::text::read(include_str!("../../../../examples/records_cabinet.ron")).expect("the demo").contents
    }

    #[test]
    fn what_sinks_in_wholly_is_told() {
        let listed = read("name,width,depth,height,nests by\ncrate,300,400,254,254\ncrate,300,400,254,250\n", Bare::Mm);
        assert_eq!((listed.rows.len(), listed.bad.len()), (1, 1));
        let words = listed.bad[0].words().join("; ");
        assert!(words.contains("254 is not less than its height"), "{words}");
    }

    #[test]
    fn what_is_written_reads_back_the_same() {
        let mut kinds = demo();
        kinds[0].name = "Carton, \"large\"; new".to_owned();
        (kinds[1].nests, kinds[1].taken, kinds[1].spare) = (Length::mm(12.5), Taken::Lifted, 15.0);
        (kinds[2].lies, kinds[3].bears) = (Lies::AnyWay, Bears::Nothing);
        let listed = read(&write(&kinds), Bare::Mm);
        assert_eq!(listed.bad, []);
        assert_eq!(listed.rows, kinds);
        assert!(listed.headings.is_some_and(|headings| headings.starts_with("name,width,depth")));
    }

    #[test]
    fn a_pasted_table_may_name_units_and_order_its_columns() {
        let text = "How many\tBox\tW (cm)\tD (cm)\tH (cm)\tWeight lb\n4\tCarton\t33\t40,6\t25.4\t35\n\n1\tCase\t5 in\t390 mm\t26\t\n";
        let listed = read(text, Bare::Mm);
        assert_eq!(listed.bad, []);
        let [carton, case] = listed.rows.as_slice() else { panic!("{listed:?}") };
        assert_eq!((carton.name.as_str(), carton.count), ("Carton", 4));
        assert_eq!([carton.width, carton.depth, carton.height].map(|length| length.to_string()), ["330", "406", "254"]);
        assert!((carton.mass - 15.876).abs() < 0.001, "35 lb are {} kg", carton.mass);
        assert_eq!([case.width, case.depth, case.height].map(|length| length.to_string()), ["127", "390", "260"]);
    }

    #[test]
    fn bare_numbers_are_what_they_are_said_to_be() {
        let read_width = |bare| read("File;3;26;37", bare).rows[0].width.to_string();
        assert_eq!(read_width(Bare::Mm), "3");
        assert_eq!(read_width(Bare::Cm), "30");
        assert!((read("File,3 1/2,26,37", Bare::Inches).rows[0].width.to_mm() - 88.9).abs() < 1e-9);
    }

    #[test]
    fn bad_rows_are_told_by_row_and_column_and_kept() {
        let text = "name,width,depth,height,weight,how many,may stand\n\
                    Carton,330,406,254,16,6,\n\
                    Case,wide,390,260,6.5,x,upside down\n\
                    File,75,,370,3.2,1,turned\n\
                    Flat,285,400,0,5.7,4,also turned round\n";
        let listed = read(text, Bare::Mm);
        assert_eq!(listed.rows.len(), 1);
        let told: Vec<String> = listed.bad.iter().flat_map(BadRow::words).collect();
        assert_eq!(told.len(), 5, "{told:?}");
        assert!(told[0].starts_with("row 3, column 2 (width): \"wide\" is not a length"), "{told:?}");
        assert!(told[1].starts_with("row 3, column 6 (how many): \"x\" is not a whole number"), "{told:?}");
        assert!(told[2].contains("column 7 (may stand)") && told[2].contains("also on its side"), "{told:?}");
        assert_eq!(told[3], "row 4, column 3 (depth): it is empty");
        assert!(told[4].starts_with("row 5, column 4 (height): 0 is out of range; it must be 1 to 3000 mm"), "{told:?}");
        // Mended, they read; what was read is not read twice.
        let left = listed.left();
        let mended = left
            .replace("wide", "127")
            .replace(",x,", ",6,")
            .replace("upside down", "any way")
            .replace("75,,", "75,260,")
            .replace(",0,", ",120,");
        let again = read(&mended, Bare::Mm);
        assert_eq!((again.rows.len(), again.bad.len()), (3, 0), "{again:?}");
        assert_eq!(again.rows[0].lies, Lies::AnyWay);
    }

    #[test]
    fn a_bad_row_is_told_by_the_row_that_the_spreadsheet_shows() {
        let rows = |text: &str| read(text, Bare::Mm).bad.iter().map(|row| row.row).collect::<Vec<_>>();
        let head = "name,width,depth,height";
        assert_eq!(rows(&format!("{head}\nA,1,2,3\n\nB,abc,2,3\n")), [4], "a blank row counts");
        assert_eq!(rows(&format!("{head}\r\nA,1,2,3\r\n\r\n\r\nB,abc,2,3\r\nC,abc,2,3\r\n")), [5, 6]);
        assert_eq!(rows(&format!("{head}\n\"A\nof two lines\",1,2,3\nB,abc,2,3\n")), [3], "a break within a cell does not");
        assert_eq!(rows(&format!("\n\n{head}\n,,,\nB,abc,2,3")), [5], "blank rows before the headings count, and a row of commas");
        assert_eq!(rows(&format!("{head}\nA,1,2,3\n   \nB,abc,2,3")), [4], "a row of spaces counts");
    }

    #[test]
    fn words_are_taken_as_files_and_the_guide_write_them() {
        let head = "name,width,depth,height,lies,taken,bears";
        for row in ["A,1,2,3,any_way,by_the_front,one", "A,1,2,3,AnyWay,ByTheFront,One", "A,1,2,3,any way,by the front,one"] {
            let listed = read(&format!("{head}\n{row}"), Bare::Mm);
            assert_eq!(listed.bad, [], "{row}");
            assert_eq!((listed.rows[0].lies, listed.rows[0].taken, listed.rows[0].bears), (Lies::AnyWay, Taken::ByTheFront, Bears::One));
        }
        let bad = read("name,width,depth,height,weight\nA,1,2,3,-5", Bare::Mm).bad;
        assert!(bad[0].words()[0].contains("-5 is out of range"), "{bad:?}");
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
            let listed = read(text, Bare::Mm);
            let rows = text.lines().filter(|line| !line.trim().is_empty()).count();
            assert!(listed.rows.len() + listed.bad.len() <= rows, "{text:?}: {listed:?}");
            assert!(listed.bad.iter().all(|row| !row.text.is_empty() && !row.problems.is_empty()), "{text:?}: {listed:?}");
        }
        assert_eq!(read("\u{feff}Carton,1,2,3", Bare::Mm).rows.len(), 1);
    }
}
