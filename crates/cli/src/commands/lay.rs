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
use casewright_cutting::boards::{Cut, Cuts, Direction, Effort, Layout, Progress, Reason, Task, Used, lay};
use serde::Serialize;

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
    let task = read(file)?;
    let begin = Instant::now();
    let layout = laid(&task, words, begin);
    let seconds = begin.elapsed().as_secs_f64();
    if words.json {
        output::print_json(&Document { schema: 1, layout: &layout, seconds })?;
    } else {
        output::print(&told(&task, &layout, seconds))?;
    }
    let complete = layout.unplaced.is_empty() && layout.faults.is_empty();
    Ok(if complete { ExitCode::SUCCESS } else { ExitCode::from(1) })
}

/// Reads a task; what can't be read is told with its field, line and column.
fn read(file: &Path) -> Result<Task, Failure> {
    let text = load::text_of(file, "a cutting task")?;
    let mut source = serde_json::Deserializer::from_str(&text);
    let task: Task = serde_path_to_error::deserialize(&mut source).map_err(|error| {
        let field = error.path().to_string();
        let field = if field == "." { String::new() } else { format!("{field}: ") };
        Failure::told(format!("{}: {field}{}", file.display(), error.inner()))
    })?;
    source.end().map_err(|error| Failure::told(format!("{}: {error}", file.display())))?;
    Ok(task)
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
