//! What a number between words is: a length, or something counted, numbered or of another unit. The words of the model say it.

/// Before numbers that name something.
const NUMBERED: [&str; 26] = [
    "gauge",
    "tooth",
    "teeth",
    "bay",
    "bays",
    "stage",
    "stages",
    "card",
    "cards",
    "step",
    "steps",
    "sheet",
    "page",
    "shelf",
    "hole",
    "no",
    "iso",
    "en",
    "din",
    "ansi",
    "grade",
    "class",
    "january",
    "directive",
    "advises",
    "strip",
];

/// After numbers that count something and don't end as those of many do; and units that are no lengths.
const COUNTED: [&str; 41] = [
    "joint",
    "clamp",
    "floor",
    "beside",
    "loose",
    "tenon",
    "dowel",
    "screw",
    "finger",
    "tail",
    "figure-eight",
    "teeth",
    "times",
    "piece",
    "pass",
    "setting",
    "coat",
    "more",
    "pair",
    "%",
    "kg",
    "g",
    "mg",
    "l",
    "m",
    "m²",
    "m³",
    "h",
    "n",
    "s",
    "min",
    "minutes",
    "hours",
    "days",
    "weeks",
    "years",
    "board",
    "in",
    "ft",
    "gauge",
    "people",
];

/// End as what is counted does, and are not.
const NOT_COUNTED: [&str; 29] = [
    "across",
    "less",
    "towards",
    "sideways",
    "is",
    "has",
    "as",
    "upwards",
    "downwards",
    "inwards",
    "outwards",
    "backwards",
    "forwards",
    "besides",
    "makes",
    "moves",
    "sags",
    "needs",
    "takes",
    "gives",
    "leaves",
    "measures",
    "comes",
    "goes",
    "lies",
    "stands",
    "spans",
    "shrinks",
    "swells",
];

/// Units whose ranges are told "6 to 11 %".
const UNITS: [&str; 10] = ["%", "kg", "h", "min", "minutes", "hours", "days", "weeks", "years", "l"];

/// Whether a number is a length, by what stands before and after it.
pub(super) fn is_length(before: &str, number: &str, after: &str) -> bool {
    let next = after.split_whitespace().next().unwrap_or_default().trim_end_matches([',', ';', '.', ':', ')']);
    let spaced = after.starts_with(char::is_whitespace);
    if spaced && next == "mm" {
        return !is_glued(before, after);
    }
    let whole = !number.contains('.');
    !(is_glued(before, after)
        || is_numbered(before, after)
        || is_in_range(after)
        || spaced && (is_unit(next) || whole && counts(next, after)))
}

/// Part of a mark, a fraction, an angle, a ratio or a range of numbers.
fn is_glued(before: &str, after: &str) -> bool {
    before.ends_with(|c: char| (c.is_alphanumeric() && c != 'Ø') || matches!(c, '/' | '-' | '–' | '#'))
        || before.ends_with("1:")
        || after.starts_with(['/', '°', '"', '-', '–'])
        || after.strip_prefix(':').is_some_and(|ratio| ratio.starts_with(|c: char| c.is_ascii_digit()))
        || after.starts_with(|c: char| c.is_alphabetic())
}

/// "bay 3", "bays 1 and 3: …", "in hole 5", "12. Bring …".
fn is_numbered(before: &str, after: &str) -> bool {
    let last = before.split_whitespace().next_back().unwrap_or_default().trim_start_matches('(');
    let clause = before.rsplit([':', ';', '.']).next().unwrap_or_default().trim_start();
    let of_bays =
        clause.starts_with("bay") || clause.rsplit(" of bays ").next().is_some_and(|said| said.len() < clause.len() && is_list(said));
    let begins = before.trim().is_empty();
    let first = begins && after.starts_with(". ");
    // "3, each 4.5 deeper"
    let times = begins && after.starts_with(", each ");
    let is_name = NUMBERED.contains(&last.to_lowercase().as_str()) && before.ends_with(' ');
    is_name && !before.trim_end().ends_with("pilot hole") || of_bays || first || times
}

/// "1, 2 and ".
fn is_list(words: &str) -> bool {
    words.split([' ', ',']).all(|word| word.is_empty() || word == "and" || word.bytes().all(|b| b.is_ascii_digit()))
}

/// "6 to 11 %".
fn is_in_range(after: &str) -> bool {
    let mut words = after.split_whitespace();
    let joins = after.starts_with(' ') && matches!(words.next(), Some("to" | "and" | "or"));
    joins && words.nth(1).is_some_and(|unit| UNITS.contains(&unit.trim_end_matches([',', ';', '.', ':', ')'])))
}

fn is_unit(next: &str) -> bool {
    COUNTED.contains(&next.to_lowercase().as_str())
        || next.starts_with("mg/")
        || next.starts_with("kg/")
        || next.starts_with("m³")
        || next.starts_with("m²")
}

/// Whether a whole number counts what stands after it: "4 rails", "68 × LT1", "3 of 2440 × 60".
fn counts(next: &str, after: &str) -> bool {
    let word = next.split(['-', '\'']).next().unwrap_or_default();
    let many = word.len() > 2 && word.ends_with('s') && word.chars().all(char::is_alphabetic) && !NOT_COUNTED.contains(&word);
    let mut following = after.split_whitespace().skip(1);
    let first = following.next().unwrap_or_default();
    // "2 loose tenons", "4 round holes", but not "20 thick, rails".
    let described = first.trim_end_matches([',', ';', '.', ':']);
    let of = next == "of";
    let times = next == "×" && !first.starts_with(|c: char| c.is_ascii_digit());
    many || of
        || times
        || word == "like"
        || word == "side"
        || matches!(word, "round" | "whole" | "separate" | "small" | "set-up") && described.ends_with('s')
}
