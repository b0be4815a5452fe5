//! Where what stands in a RON text, so that what is wrong in it can be told by its line and field.

use crate::design::{Design, decisions};
use crate::length::trimmed;

/// Where the fields of a RON text stand: path, line, column and byte of each field name or list entry.
pub(super) struct Places(Vec<Place>);

struct Place {
    path: String,
    line: usize,
    column: usize,
    value_at: usize,
}

/// One level of brackets while scanning.
struct Level {
    /// Names and entries on the way to this level.
    depth: usize,
    /// The entry count, in a list.
    entry: Option<usize>,
}

impl Places {
    /// Scans the text; what is not RON gives what was found until it broke.
    pub fn of(text: &str) -> Places {
        let mut scan = Scan::new(text);
        let mut places = Vec::new();
        let mut path: Vec<String> = Vec::new();
        let mut levels: Vec<Level> = Vec::new();
        let mut fresh_entry = false;
        while let Some((start, line, column, token)) = scan.token() {
            if fresh_entry && token != "]" {
                fresh_entry = false;
                if let Some(entry) = levels.last_mut().and_then(|level| level.entry.as_mut()) {
                    *entry += 1;
                    path.push(entry.to_string());
                    places.push(Place { path: path.join("."), line, column, value_at: start });
                }
            }
            match token {
                "(" | "{" => levels.push(Level { depth: path.len(), entry: None }),
                "[" => {
                    levels.push(Level { depth: path.len(), entry: Some(0) });
                    fresh_entry = true;
                }
                ")" | "}" | "]" => {
                    if let Some(level) = levels.pop() {
                        path.truncate(level.depth);
                    }
                    fresh_entry = false;
                }
                "," => {
                    if let Some(level) = levels.last() {
                        path.truncate(level.depth);
                        fresh_entry = level.entry.is_some();
                    }
                }
                name if scan.followed_by_colon() => {
                    // The names of a map are written as text.
                    path.push(name.trim_matches('"').to_owned());
                    places.push(Place { path: path.join("."), line, column, value_at: scan.at + 1 });
                    // What holds the shelves of an opening is written as its kind.
                    if ["opening", "interior"].contains(&name) {
                        let system = format!("{}.system", path.join("."));
                        places.push(Place { path: system, line, column, value_at: scan.at + 1 });
                    }
                }
                _ => {}
            }
        }
        Places(places)
    }

    /// Whether that field or entry is written in the text.
    #[cfg(test)]
    pub fn knows(&self, path: &str) -> bool {
        self.0.iter().any(|place| place.path == path)
    }

    /// The line of a field, or of the nearest one around it that is written; 1 where there is none.
    pub fn line(&self, path: &str) -> usize {
        // A decision may be deeper than the text writes it; its nearest field will do.
        let mut wanted = path;
        loop {
            if let Some(place) = self.0.iter().find(|place| place.path == wanted) {
                return place.line;
            }
            match wanted.rsplit_once('.') {
                Some((before, _)) => wanted = before,
                None => return 1,
            }
        }
    }

    /// The line of a field and the word or number that follows its colon.
    pub fn value(&self, text: &str, path: &str) -> Option<(usize, String)> {
        let place = self.0.iter().find(|place| place.path == path)?;
        let rest = text.get(place.value_at..)?.trim_start_matches([':', ' ', '\t', '\r', '\n']);
        let end = rest.find([',', ')', '\n']).unwrap_or(rest.len());
        Some((place.line, rest[..end].trim().to_owned()))
    }

    /// What belongs in a field that holds something else: found by reading the text with a number in its place.
    pub fn wanted(&self, text: &str, path: &str) -> Option<String> {
        let place = self.0.iter().find(|place| place.path == path)?;
        let rest = text.get(place.value_at..)?;
        let value = rest.trim_start_matches(|c: char| c == ':' || c.is_whitespace());
        let start = text.len() - value.len();
        let end = start + token_length(value, value.chars().next()?);
        let tried = format!("{}1{}", text.get(..start)?, text.get(end..)?);
        let design = ron::from_str::<Design>(&tried).ok()?;
        let decision = decisions::list(&design).into_iter().find(|decision| decision.spec.path == path)?;
        let range = decision.spec.range?;
        let unit = decision.spec.unit.suffix();
        Some(format!("; a number from {} to {} {unit} belongs here", trimmed(*range.start()), trimmed(*range.end())).trim_end().to_owned())
    }

    /// The last field that starts at or before a place.
    pub fn field_at(&self, line: usize, column: usize) -> Option<String> {
        self.0.iter().rfind(|place| (place.line, place.column) <= (line, column)).map(|place| place.path.clone())
    }
}

/// Splits a RON text into words, strings and punctuation, with places; skips blanks and comments.
pub(super) struct Scan<'t> {
    text: &'t str,
    /// The byte that comes next.
    pub at: usize,
    line: usize,
    column: usize,
}

impl<'t> Scan<'t> {
    pub fn new(text: &'t str) -> Scan<'t> {
        Scan { text, at: 0, line: 1, column: 1 }
    }

    fn step(&mut self, bytes: usize) {
        for c in self.text[self.at..self.at + bytes].chars() {
            if c == '\n' {
                self.line += 1;
                self.column = 1;
            } else {
                self.column += 1;
            }
        }
        self.at += bytes;
    }

    fn rest(&self) -> &'t str {
        &self.text[self.at..]
    }

    /// The next one: byte, line and column at which it begins, and itself.
    pub fn token(&mut self) -> Option<(usize, usize, usize, &'t str)> {
        loop {
            let rest = self.rest();
            let first = rest.chars().next()?;
            if first.is_whitespace() {
                self.step(first.len_utf8());
            } else if rest.starts_with("//") {
                self.step(rest.find('\n').unwrap_or(rest.len()));
            } else if rest.starts_with("/*") {
                self.step(rest.find("*/").map_or(rest.len(), |end| end + 2));
            } else {
                let length = token_length(rest, first);
                let place = (self.at, self.line, self.column, &rest[..length]);
                self.step(length);
                return Some(place);
            }
        }
    }

    pub fn followed_by_colon(&self) -> bool {
        self.rest().trim_start().starts_with(':')
    }
}

fn token_length(rest: &str, first: char) -> usize {
    if first == '"' {
        let mut escaped = false;
        for (at, c) in rest.char_indices().skip(1) {
            match c {
                '"' if !escaped => return at + 1,
                '\\' => escaped = !escaped,
                _ => escaped = false,
            }
        }
        return rest.len();
    }
    if first.is_alphanumeric() || "_-+.".contains(first) {
        return rest.find(|c: char| !(c.is_alphanumeric() || "_-+.".contains(c))).unwrap_or(rest.len());
    }
    first.len_utf8()
}
