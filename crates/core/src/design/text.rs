//! Designs as text: RON in and out, with errors that name line and field.

mod places;

use super::decisions::{self, DecisionError};
use super::{Design, FORMAT};
use crate::derive::DesignError;
use crate::timber::Timbers;
use places::{Places, Scan};

/// Why a text is no design that can be built.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum ReadError {
    /// The text breaks off or is not written as a design.
    #[error("line {line}, column {column}: {problem}{}", hint(.field.as_deref()))]
    Syntax {
        /// Line, from 1.
        line: usize,
        /// Column, from 1.
        column: usize,
        /// What is wrong.
        problem: String,
        /// The field it stands in, where known.
        field: Option<String>,
    },
    /// The text was written by another version.
    #[error("line {line}, format: found version {found}, and this program reads version {FORMAT}; it may come from a newer program")]
    Format {
        /// Line, from 1.
        line: usize,
        /// The version found.
        found: String,
    },
    /// A value is out of range.
    #[error("line {line}, {error}")]
    Decision {
        /// Line, from 1.
        line: usize,
        /// What is wrong.
        error: DecisionError,
    },
}

fn hint(field: Option<&str>) -> String {
    field.map_or_else(String::new, |field| format!(" (in {field})"))
}

/// Reads a design. Every value in it is in range.
///
/// # Errors
/// All that is wrong, each with its line.
pub fn read(text: &str) -> Result<Design, Vec<ReadError>> {
    read_with(text, &Timbers::default())
}

/// The same where the design may name what stands in the maker's file of own timber, see [`timber_file`](super::timber_file).
///
/// # Errors
/// As [`read`].
pub fn read_with(text: &str, library: &Timbers) -> Result<Design, Vec<ReadError>> {
    let mut design = parse(text)?;
    design.timber.library = library.clone();
    let places = Places::of(text);
    let errors: Vec<_> =
        decisions::check(&design).into_iter().map(|error| ReadError::Decision { line: places.line(error.path()), error }).collect();
    if errors.is_empty() { Ok(design) } else { Err(errors) }
}

/// Reads a design whose values may be out of range: what a maker saved half way is theirs to open again, and
/// [`derive()`](crate::derive()) says what must change.
///
/// # Errors
/// When the text is cut off, is no design, or comes from another version of the program.
pub fn parse(text: &str) -> Result<Design, Vec<ReadError>> {
    // Some editors put a mark of byte order before the first letter.
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    if text.trim().is_empty() {
        return Err(vec![ReadError::Syntax { line: 1, column: 1, problem: "the file is empty".to_owned(), field: None }]);
    }
    let places = Places::of(text);
    if let Some((line, found)) = places.value(text, "format")
        && found != FORMAT.to_string()
        && found.parse::<u64>().is_ok()
    {
        return Err(vec![ReadError::Format { line, found }]);
    }
    ron::from_str(text).map_err(|error| {
        let (line, column) = (error.span.start.line, error.span.start.col);
        let field = places.field_at(line, column);
        let wanted = field.as_ref().and_then(|field| places.wanted(text, field)).unwrap_or_default();
        vec![ReadError::Syntax { line, column, problem: problem(&error.code) + &wanted, field }]
    })
}

/// What a reader's error means to a maker who edits the file by hand.
fn problem(error: &ron::Error) -> String {
    use ron::Error;
    match error {
        Error::Eof => "the file ends in the middle of the design; it seems cut off".to_owned(),
        Error::ExpectedFloat | Error::ExpectedInteger => "this is no number".to_owned(),
        Error::ExpectedString => "words in quotation marks belong here, such as \"white_ash\"".to_owned(),
        Error::ExpectedStringEnd => "words begin with a quotation mark here, and the mark at their end is missing".to_owned(),
        Error::ExpectedArray => "a list belongs here, in [ ]".to_owned(),
        Error::ExpectedArrayEnd => "this list must end with ]".to_owned(),
        Error::ExpectedStructLike | Error::ExpectedNamedStructLike(_) | Error::ExpectedMap => {
            "fields with their values belong here, in ( )".to_owned()
        }
        Error::ExpectedStructLikeEnd | Error::ExpectedOptionEnd => "a ) belongs here".to_owned(),
        Error::ExpectedComma => "a comma is missing before this".to_owned(),
        Error::ExpectedMapColon => "a colon belongs here, between a field and its value".to_owned(),
        Error::ExpectedIdentifier => "a word belongs here".to_owned(),
        Error::UnexpectedChar(found) => format!("\"{found}\" does not belong here"),
        Error::UnclosedBlockComment => "a comment begins with /* and does not end; write */ after it".to_owned(),
        Error::TrailingCharacters => "the design ends before this; one ) too many may stand before it".to_owned(),
        Error::ExceededRecursionLimit => "brackets stand too deep in each other".to_owned(),
        Error::NoSuchEnumVariant { expected, found, .. } => format!("there is no \"{found}\" here; write {}", one_of(expected)),
        Error::NoSuchStructField { expected, found, .. } => format!("there is no field \"{found}\" here; write {}", one_of(expected)),
        Error::MissingStructField { field, .. } => format!("the field \"{field}\" is missing here; write {field}: and its value"),
        Error::DuplicateStructField { field, .. } => format!("the field \"{field}\" stands here twice; leave one of the two out"),
        other => other.to_string(),
    }
}

/// "one of: Buttons, Clips, Plates".
fn one_of(words: &[&str]) -> String {
    match words {
        [] => "nothing".to_owned(),
        [one] => (*one).to_owned(),
        more => format!("one of: {}", more.join(", ")),
    }
}

/// The line of the text, from 1, on which the field or value `path` stands; 1 when it is not there.
pub fn line_of(text: &str, path: &str) -> usize {
    Places::of(text).line(path)
}

/// Lines for the errors of [`derive()`](crate::derive()), in a design read from `text`.
pub fn with_line(text: &str, error: &DesignError) -> String {
    format!("line {}, {error}", line_of(text, error.path()))
}

/// Why a design can't be written.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[error("the design can't be written as text: {0}")]
pub struct WriteError(String);

/// Writes a design so that a person can read and edit it.
///
/// # Errors
/// When its bays are nested deeper than the format allows; nothing may then replace what is on disk.
pub fn write(design: &Design) -> Result<String, WriteError> {
    let body = ron::ser::to_string_pretty(design, pretty()).map_err(|error| WriteError(error.to_string()))?;
    Ok(format!("// A Casewright design. Lengths are millimetres, measured on the finished part.\n{body}\n"))
}

/// Writes what was measured and made in the shop into the text that a design was read from, and leaves the rest of it, comments
/// and all, as its writer left it.
///
/// # Errors
/// As [`write()`]. Where the text is not one that `design` differs from only in its shop, the design is written anew.
pub fn write_shop(source: &str, design: &Design) -> Result<String, WriteError> {
    let body = ron::ser::to_string_pretty(&design.shop, pretty()).map_err(|error| WriteError(error.to_string()))?;
    let field = if design.shop == super::Shop::default() { String::new() } else { format!("shop: {},", body.replace('\n', "\n    ")) };
    match replace_shop(source, &field) {
        Some(text) if parse(&text).is_ok_and(|read| read == *design) => Ok(text),
        _ => write(design),
    }
}

/// The text with another field `shop`, which is the last where there was none.
fn replace_shop(source: &str, field: &str) -> Option<String> {
    let mut scan = Scan::new(source);
    let (mut depth, mut from, mut last) = (0usize, None, 0);
    while let Some((start, _, _, token)) = scan.token() {
        match token {
            "(" | "[" | "{" => depth += 1,
            ")" | "]" | "}" => {
                depth = depth.checked_sub(1)?;
                if depth == 0 {
                    // The end of the design.
                    return Some(match from {
                        Some(from) => format!("{}{field}{}", &source[..from], &source[last..]),
                        None if field.is_empty() => source.to_owned(),
                        None => {
                            let comma = if source[..last].ends_with([',', '(']) { "" } else { "," };
                            format!("{}{comma}{}    {field}\n{}", &source[..last], &source[last..start], &source[start..])
                        }
                    });
                }
            }
            "," if depth == 1 && from.is_some() => return from.map(|from| format!("{}{field}{}", &source[..from], &source[scan.at..])),
            "shop" if depth == 1 && scan.followed_by_colon() => from = Some(start),
            _ => {}
        }
        last = scan.at;
    }
    None
}

fn pretty() -> ron::ser::PrettyConfig {
    ron::ser::PrettyConfig::new().depth_limit(8).indentor("    ").struct_names(false).compact_arrays(false)
}

#[cfg(test)]
mod tests {
    use super::*;

    const DEMO: &str = include_str!("../../../../examples/records_cabinet.ron");

    fn error(text: &str) -> String {
        let errors = read(text).expect_err("this design is broken");
        errors.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
    }

    #[test]
    fn what_is_written_reads_back_the_same() {
        let design = read(DEMO).expect("the demo");
        assert_eq!(read(&write(&design).expect("the demo is written")).expect("own text"), design);
    }

    #[test]
    fn the_format_of_a_newer_program_is_told_first() {
        let text = DEMO.replace("format: 1", "format: 7").replace("width: 1360", "breadth: 1360");
        assert!(error(&text).starts_with("line 7, format: found version 7"), "{}", error(&text));
    }

    #[test]
    fn an_error_names_line_field_found_and_range() {
        for (from, to, wanted) in [
            ("width: 1360", "width: -5", "line 21, carcase.width: -5 is out of range; it must be 200 to 4000 mm"),
            ("width: 1360", "width: NaN", "line 21, carcase.width: NaN is out of range"),
            ("width: 1360", "width: 0", "carcase.width: 0 is out of range"),
            ("width: 1360", "width: 1e9", "carcase.width: 1000000000 is out of range"),
            ("size: Clear(346)", "size: Clear(inf)", "interior.bays.2.size: inf is out of range"),
            ("shelves: [8, 18, 28]", "shelves: [8, 0, 28]", "interior.bays.2.opening.shelves.2: 0 is out of range"),
            ("built: 8", "built: 80", "timber.moisture.built: 80 is out of range; it must be 4 to 20 %"),
            ("\"white_ash\"", "\"grey_ash\"", "timber.frame: \"grey_ash\" will not do; write one of: red_oak"),
        ] {
            let text = DEMO.replacen(from, to, 1);
            assert_ne!(text, DEMO, "{from} is in the demo");
            assert!(error(&text).contains(wanted), "{to}: {}", error(&text));
        }
    }

    #[test]
    fn text_that_is_no_design_is_told_with_its_line_and_field() {
        let unknown = error(&DEMO.replacen("reveal: 4", "revel: 4", 1));
        assert!(unknown.contains("line 25") && unknown.contains("revel"), "{unknown}");
        let wrong = error(&DEMO.replacen("height: 1480", "height: \"tall\"", 1));
        assert!(wrong.contains("line 22") && wrong.contains("carcase.height"), "{wrong}");
        assert!(wrong.contains("a number from 200 to 3000 mm belongs here"), "{wrong}");
        let missing = error(&DEMO.replacen("depth: 470,\n", "", 1));
        assert!(missing.contains("the field \"depth\" is missing"), "{missing}");
    }

    /// Field, what was found and what would do; none of the words of programmers.
    #[test]
    fn a_word_that_is_no_choice_is_told_with_those_that_are() {
        let line_of = |text: &str| DEMO[..DEMO.find(text).expect("in the demo")].lines().count();
        for (from, to, wanted) in [
            ("fixing: Buttons", "fixing: Glue", "there is no \"Glue\" here; write one of: Buttons, Clips, "),
            ("along: Width", "along: Height", "there is no \"Height\" here; write Width"),
            ("left: Frame", "left: Slab", "there is no \"Slab\" here; write one of: Frame, Open"),
            ("reveal: 4", "revel: 4", "there is no field \"revel\" here; write one of: thickness, top, "),
            ("height: 28, thickness: 20, play: 1.5", "height: 28, height: 20, play: 1.5", "the field \"height\" stands here twice"),
            ("fixed: Front", "fixed: \"Front\"", ""),
            ("frame: \"white_ash\"", "frame: white_ash", "words in quotation marks belong here"),
            ("shelves: [12, 22, 32]", "shelves: 12", "a list belongs here, in [ ]"),
            ("post: (width: 48, depth: 48)", "post: 48", "fields with their values belong here, in ( )"),
            ("reveal: 4", "reveal; 4", ""),
        ] {
            let text = DEMO.replacen(from, to, 1);
            assert_ne!(text, DEMO, "{from} is in the demo");
            let told = error(&text);
            assert!(told.starts_with(&format!("line {}", line_of(from))), "{to}: {told}");
            assert!(told.contains(wanted), "{to}: {told}");
            for word in ["enum", "variant", "struct", "Expected", "identifier", "integer", "float", "RON", "`"] {
                assert!(!told.contains(word), "{to}: {told}");
            }
            let field = from.split(':').next().expect("a field");
            assert!(told.contains(field) || wanted.is_empty() || to.starts_with("revel"), "{to}: {told}");
        }
    }

    #[test]
    fn a_file_cut_off_anywhere_is_an_error_and_never_a_panic() {
        for end in (0..DEMO.trim_end().len()).filter(|end| DEMO.is_char_boundary(*end)) {
            assert!(read(&DEMO[..end]).is_err(), "cut at {end}");
        }
    }

    #[test]
    fn what_was_made_is_written_into_the_text_and_the_rest_stays() {
        use crate::design::shop;
        let mut design = read(DEMO).expect("the demo");
        for text in [DEMO, &DEMO.trim_end().replace(",\n)", "\n)"), &DEMO.replace(",\n)", ", // the end\n)\n// and more")] {
            shop::measure_batch(&mut design, "carcase.post.width", Some(crate::Length::mm(47.6))).expect("in range");
            let first = write_shop(text, &design).expect("written");
            assert_eq!(read(&first).expect("a design"), design);
            assert!(first.contains("// A records room keeps archive boxes") && first.contains("post: (width: 48, depth: 48)"), "{first}");
            shop::set_state(&mut design, "stile.1", shop::State::Cut).expect("the demo can be built");
            let second = write_shop(&first, &design).expect("written");
            assert_eq!(read(&second).expect("a design"), design);
            assert_eq!(second.matches("shop:").count(), 1);
            design.shop = shop::Shop::default();
            let third = write_shop(&second, &design).expect("written");
            assert_eq!(read(&third).expect("a design"), design);
            assert!(third.contains("// A records room keeps archive boxes") && !third.contains("shop"), "{third}");
        }
    }

    #[test]
    fn every_decision_has_its_own_line() {
        let mut design = read(DEMO).expect("the demo");
        // As written anew: a file of before may leave out what was not yet decided then, and a shop as every shop begins is not written.
        design.shop.glue.seconds += 1.0;
        design.shop.tools.0.truncate(1);
        design.shop.machines.0.truncate(1);
        design.timber.rough.sold = crate::design::Sold::Quarters;
        design.timber.coating.coats = 2;
        design.timber.facing.panel.lipping = crate::Length::mm(6.0);
        design.timber.facing.floor.lipping = crate::Length::mm(8.0);
        design.money.work.part += 1.0;
        design.money.make_up.sawing = crate::Length::mm(4.0);
        design.timber.sawn.top = crate::timber::Sawn::Rift { rings: 30.0 };
        design.carcase.wall = crate::design::Wall::Anchored(crate::design::Anchors::default());
        design.limits.years += 1.0;
        design.limits.sag.seen += 1.0;
        design.hand_room.lift = crate::Length::mm(30.0);
        design.site.width = crate::Length::mm(2000.0);
        design.sawtooth.teeth = crate::design::Teeth::HalfRound;
        design.sawtooth.mid = crate::design::MidStandards::OnePiece;
        design.sawtooth.spacers = crate::design::Spacers::Strips;
        design.sawtooth.of = crate::design::ShelfOf::Solid;
        if let crate::design::Bottom::LooseFloor(floor) = &mut design.carcase.bottom {
            floor.pieces = crate::design::FloorPieces::Lapped;
        }
        design.shelf.room = crate::design::Ruled::Own(crate::Length::mm(3.0));
        for kind in &mut design.contents {
            (kind.nests, kind.spare) = (crate::Length::mm(10.0), 5.0);
            (kind.lies, kind.bears, kind.taken) =
                (crate::design::Lies::AnyWay, crate::design::Bears::Nothing, crate::design::Taken::Lifted);
        }
        let text = write(&design).expect("text");
        let places = Places::of(&text);
        for decision in decisions::list(&design) {
            let path = &decision.spec.path;
            assert!(places.knows(path), "{path} is not found in the text");
        }
    }
}
