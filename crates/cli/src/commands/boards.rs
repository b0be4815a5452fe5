//! `boards`: which part is cut from which board or sheet on hand.

use std::fmt::Write as _;
use std::ops::ControlFlow;
use std::process::ExitCode;
use std::time::Instant;

use casewright_core::boards::{self, Cutting, Direction, Effort, Marked, Progress};
use casewright_core::design::pile::{self, Stuff};
use casewright_core::length::trimmed_to;
use casewright_core::table::{BadRow, Bare};
use casewright_core::{Design, derive};
use casewright_sheets::json;

use crate::arguments::{BoardsWords, Input};
use crate::failure::Failure;
use crate::load;
use crate::output;

/// Prints the layouts; ends with 1 when something finds no place.
pub fn run(input: &Input, words: &BoardsWords) -> Result<ExitCode, Failure> {
    let mut design = load::design(input)?;
    let mut bad = Vec::new();
    if let Some(path) = &words.pile {
        let text = std::fs::read_to_string(path).map_err(|error| Failure::Told(vec![format!("{}: {error}", path.display())]))?;
        let listed = pile::read(&text, Bare::Mm);
        bad = listed.bad.iter().flat_map(BadRow::words).map(|words| format!("{}: {words}", path.display())).collect();
        design.shop.pile = listed.rows;
    }
    let model = derive(&design).map_err(|errors| Failure::Told(errors.iter().map(ToString::to_string).collect()))?;
    let seconds = words.seconds.clamp(0.01, 3600.0);
    let (rounds, threads, seed) = (words.rounds, words.threads, words.seed);
    let start = Instant::now();
    let watch = |progress: &Progress<'_>| {
        let over = rounds.is_none() && progress.has_had_its_share(start.elapsed().as_secs_f64(), seconds);
        if over { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    };
    let cutting = boards::cut(&design, &model, Effort { rounds, threads, seed, watch: &watch });
    let cutting = Cutting { told: bad.into_iter().chain(cutting.told).collect(), ..cutting };
    if words.json {
        output::print_json(&json::boards(&design, &model, &cutting))?;
    } else {
        output::print(&told(&design, &cutting))?;
    }
    Ok(if cutting.left.is_empty() && !design.shop.pile.is_empty() { ExitCode::SUCCESS } else { ExitCode::from(1) })
}

fn told(design: &Design, cutting: &Cutting) -> String {
    let mut text = format!("{}\n", design.name);
    // Writing to a string can't fail.
    for words in &cutting.told {
        let _ = writeln!(text, "{words}");
    }
    for board in &cutting.boards {
        if let Some(stuff) = design.shop.pile.get(board.entry) {
            text += &one(stuff, board);
        }
    }
    text.push('\n');
    for group in &cutting.groups {
        let proof = if group.proven {
            "no other way takes less".to_owned()
        } else {
            format!("at most {} % above the least", trimmed_to(group.gap * 100.0, 1))
        };
        let boards = crate::commands::check::count(group.boards, "piece");
        let _ = writeln!(text, "{}: {boards} of stock, {}; {proof}", group.name, trimmed_to(group.cost, 4));
    }
    for left in &cutting.left {
        let _ = writeln!(text, "{} × {}: {}", left.count, left.mark, left.words);
    }
    text
}

/// A board with its cuts in order and what lies on it.
fn one(stuff: &Stuff, board: &Marked) -> String {
    let mm = |mm: f64| trimmed_to(mm, 1);
    let size = [stuff.length, stuff.width, stuff.thickness].map(|length| mm(length.to_mm())).join(" × ");
    let mut text = format!("\n{}: {size}\n", board.called(stuff));
    for cut in &board.cuts {
        let (saw, from) = match cut.cut {
            Direction::Across => ("crosscut", "first end"),
            Direction::Along => ("rip", "first edge"),
        };
        let _ = writeln!(text, "    {saw} {} from the {from}, from {} to {}", mm(cut.at), mm(cut.from), mm(cut.to));
    }
    for piece in &board.pieces {
        let [x, y, length, width] = [piece.x, piece.y, piece.length, piece.width].map(mm);
        let how = if piece.by_hand { ", by hand" } else { "" };
        let _ = writeln!(text, "    {}: {length} × {width}, {x} along, {y} across{how}", piece.words);
    }
    text
}
