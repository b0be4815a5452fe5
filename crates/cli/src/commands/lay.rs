//! `lay`: pieces out of boards and sheets, without a design.

use std::fmt::Write as _;
use std::io::{self, IsTerminal as _, Write as _};
use std::ops::ControlFlow;
use std::path::Path;
use std::process::ExitCode;
use std::sync::Mutex;
use std::thread;
use std::time::Instant;

use casewright_core::length::{trimmed, trimmed_to};
use casewright_cutting::boards::{Cut, Cuts, Direction, Effort, Fault, Layout, Piece, Progress, Reason, Stock, Task, Used, lay};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::{Value, json};

use crate::arguments::LayWords;
use crate::failure::Failure;
use crate::load;
use crate::output;

/// A layout; schema `assets/schema/layout.json`.
#[derive(Debug, Serialize)]
struct Document<'a> {
    /// Version of the document. A field that is added keeps it; one that goes or changes its meaning raises it.
    schema: u32,
    #[serde(flatten)]
    layout: &'a Layout,
    /// How long it took.
    seconds: f64,
}

/// Lays out and prints. Ends with 1 when something has no place or a figure will not do.
pub fn run(file: &Path, words: &LayWords) -> Result<ExitCode, Failure> {
    let (task, odd) = read(file)?;
    let begin = Instant::now();
    let mut layout = laid(&task, words, begin);
    // Of what could not be read it is told what was written, not what stands in its place.
    let is_told = |fault: &Fault| odd.iter().any(|odd| line_of(&odd.field) == line_of(&fault.field));
    layout.faults.retain(|fault| !is_told(fault));
    layout.faults.splice(0..0, odd);
    let seconds = begin.elapsed().as_secs_f64();
    if words.json {
        output::print_json(&Document { schema: 1, layout: &layout, seconds })?;
    } else {
        output::print(&told(&task, &layout, seconds))?;
    }
    let complete = layout.unplaced.is_empty() && layout.faults.is_empty();
    Ok(if complete { ExitCode::SUCCESS } else { ExitCode::from(1) })
}

/// The line of a field: `stock[3]` of `stock[3].length`.
fn line_of(field: &str) -> &str {
    field.split('.').next().unwrap_or_default()
}

/// Reads a task. Lines that can't be read are told with their field, and stand in it as lines of no length, so that all else is laid out under its own number; what concerns the whole task is told
/// with its field, line and column.
fn read(file: &Path) -> Result<(Task, Vec<Fault>), Failure> {
    let text = load::text_of(file, "a cutting task")?;
    let failed = |problem: String| Failure::told(format!("{}: {problem}", file.display()));
    let mut source = serde_json::Deserializer::from_str(&text);
    let read: Result<Task, _> = serde_path_to_error::deserialize(&mut source);
    let error = match read {
        Ok(task) => {
            source.end().map_err(|error| failed(error.to_string()))?;
            return Ok((task, Vec::new()));
        }
        Err(error) => error,
    };
    let Ok(mut whole) = serde_json::from_str::<Value>(&text) else { return Err(failed(in_words(&error))) };
    let mut faults = without_a_figure::<Stock>(&mut whole, "stock");
    faults.extend(without_a_figure::<Piece>(&mut whole, "pieces"));
    let task = serde_path_to_error::deserialize(&whole).map_err(|rest| {
        let field = rest.path().to_string();
        let figure = at(&whole, &field).zip(wanted(&field)).map(|(found, wanted)| format!("{field} is {found}; {wanted}"));
        failed(figure.unwrap_or_else(|| in_words(&error)))
    })?;
    Ok((task, faults))
}

/// What is wrong, after the field in which it is.
fn in_words<E: std::fmt::Display>(error: &serde_path_to_error::Error<E>) -> String {
    let field = error.path().to_string();
    if field == "." { error.inner().to_string() } else { format!("{field}: {}", error.inner()) }
}

/// What is wrong with the lines of a list that can't be read; each is left in it as a line of no length.
fn without_a_figure<T: DeserializeOwned>(whole: &mut Value, list: &str) -> Vec<Fault> {
    let lines = whole.get_mut(list).and_then(Value::as_array_mut).into_iter().flatten();
    let odd = |(number, line): (usize, &mut Value)| {
        let error = serde_path_to_error::deserialize::<_, T>(&*line).err()?;
        let path = error.path().to_string();
        let (of_line, message) = (format!("{list}[{number}]"), error.inner().to_string());
        let id =
            line.get("id").and_then(|id| id.as_str().map(str::to_owned).or_else(|| Some(id.as_i64()?.to_string()))).unwrap_or_default();
        let fault = match (at(line, &path), wanted(&path)) {
            (Some(found), Some(wanted)) if !message.starts_with("unknown field") => {
                Fault { field: format!("{of_line}.{path}"), id: id.clone(), found: found.to_string(), wanted: wanted.to_owned() }
            }
            _ => Fault { field: of_line, id: id.clone(), found: "not as it should be".to_owned(), wanted: message },
        };
        *line = json!({ "id": id, "length": 0.0, "width": 0.0 });
        Some(fault)
    };
    lines.enumerate().filter_map(odd).collect()
}

/// What stands at a path such as `defects[0].x`.
fn at<'v>(value: &'v Value, path: &str) -> Option<&'v Value> {
    value.pointer(&format!("/{}", path.replace('[', "/").replace(']', "").replace('.', "/")))
}

/// What a field must be; nothing for those of which it is told otherwise.
fn wanted(path: &str) -> Option<&'static str> {
    match path.rsplit('.').next()? {
        "kerf" | "trim" | "length" | "width" | "x" | "y" => Some("it must be a number of millimetres, without quotes: 2440 or 612.5"),
        "cost" | "value" => Some("it must be a number, without quotes, or left out"),
        "count" => Some("it must be a whole number, 0 or more, without quotes, or left out"),
        "turn" | "trimming" => Some("it must be true or false, without quotes"),
        "id" => Some("it must be a name in quotes or a whole number"),
        "stages" => Some("it must be 2 or 3, or null for as many as it takes"),
        _ => None,
    }
}

fn laid(task: &Task, words: &LayWords, begin: Instant) -> Layout {
    let threads = words.threads.map_or_else(|| thread::available_parallelism().map_or(1, usize::from), usize::from);
    let live = io::stderr().is_terminal();
    let last = Mutex::new(0);
    let watch = |progress: &Progress| {
        if live {
            tell(progress, begin, &last);
        }
        let over = words.rounds.is_none() && begin.elapsed().as_secs_f64() >= words.seconds;
        if over { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    };
    let layout = lay(task, Effort { rounds: words.rounds, threads, seed: words.seed, watch: &watch });
    if live {
        // Whoever watches sees the last line go; when nobody does, nothing is left to be done.
        let _ = write!(io::stderr().lock(), "\r{:60}\r", "");
    }
    layout
}

/// Says on one line how far the work has come, a few times a second.
fn tell(progress: &Progress, begin: Instant, last: &Mutex<u64>) {
    let fifths = (begin.elapsed().as_secs_f64() * 5.0) as u64;
    let Ok(mut last) = last.try_lock() else { return };
    if fifths == *last {
        return;
    }
    let cost = progress.cost.map_or_else(|| "not everything has a place yet".to_owned(), |cost| format!("cost {}", trimmed_to(cost, 3)));
    let line = format!("{} s: {cost}, at least {}", fifths / 5, trimmed_to(progress.bound, 3));
    let _ = write!(io::stderr().lock(), "\r{line:60}");
    *last = fifths;
}

fn told(task: &Task, layout: &Layout, seconds: f64) -> String {
    let mut text = String::new();
    // Writing to a string can't fail.
    for fault in &layout.faults {
        let _ = writeln!(text, "■ {fault}");
    }
    let boards = if layout.count == 1 { "board" } else { "boards" };
    let least = if layout.unplaced.iter().any(|left| left.reason == Reason::NoRoom) {
        "not everything finds a place".to_owned()
    } else if layout.proven {
        "proven the least".to_owned()
    } else {
        format!("at least {}, so {} % more at most", trimmed_to(layout.bound, 3), trimmed_to(layout.gap() * 100.0, 1))
    };
    let _ = writeln!(text, "{} {boards}, cost {}: {least}; {} s", layout.count, trimmed_to(layout.cost, 3), trimmed_to(seconds, 1));
    for (number, used) in layout.used.iter().enumerate() {
        let _ = writeln!(text, "\n{}. {}", number + 1, used.stock);
        text += &board(task, used);
    }
    for left in &layout.unplaced {
        let why = match left.reason {
            Reason::Faulty => "see above",
            Reason::TooLarge => "fits no board",
            Reason::NoRoom => "no place was found beside the rest",
        };
        let _ = writeln!(text, "\nWithout a place: {} × {}: {why}", left.count, left.piece);
    }
    text
}

/// What lies on a board, and its cuts in order.
fn board(task: &Task, used: &Used) -> String {
    let mut text = String::new();
    for placed in &used.placed {
        let piece = &task.pieces[placed.line];
        let turned = if placed.turned { ", turned" } else { "" };
        let _ = match (task.cuts, piece.width) {
            (Cuts::Guillotine, Some(width)) => {
                let [length, width, x, y] = [piece.length, width, placed.x, placed.y].map(trimmed);
                writeln!(text, "   {}: {length} × {width} at {x}, {y}{turned}", placed.piece)
            }
            _ => writeln!(text, "   {}: {} at {}", placed.piece, trimmed(piece.length), trimmed(placed.x)),
        };
    }
    let cuts: Vec<String> = used.cuts.iter().map(|cut| cut_in_words(task, cut)).collect();
    if !cuts.is_empty() {
        let _ = writeln!(text, "   Cuts: {}", cuts.join("; "));
    }
    text
}

fn cut_in_words(task: &Task, cut: &Cut) -> String {
    let way = match cut.cut {
        Direction::Across => "across",
        Direction::Along => "along",
    };
    let at = trimmed(cut.at);
    match task.cuts {
        Cuts::Lengths => format!("{way} at {at}"),
        Cuts::Guillotine => format!("{way} at {at} from {} to {}", trimmed(cut.from), trimmed(cut.to)),
    }
}
