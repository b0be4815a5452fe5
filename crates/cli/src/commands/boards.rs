//! `boards`: which part is cut from which board or sheet on hand.

use std::fmt::Write as _;
use std::ops::ControlFlow;
use std::process::ExitCode;
use std::time::Instant;

use casewright_core::boards::{self, Buying, Cutting, Effort, Marked, Progress, Run, ToBuy};
use casewright_core::design::dealer;
use casewright_core::design::pile::{self, Stuff};
use casewright_core::length::trimmed_to;
use casewright_core::{Design, Model, derive};
use casewright_sheets::{boards_csv, json};

use crate::arguments::{BoardsWords, Input, OF_THE_DESIGN, StockWords};
use crate::failure::Failure;
use crate::load;
use crate::output::{self, Align};

/// A design with what is cut from its boards.
pub struct Stocked {
    /// With the pile that is cut up, what is bought in it.
    pub design: Design,
    /// The case.
    pub model: Model,
    /// What to buy, where a dealer's list is asked.
    pub bought: Option<Buying>,
    /// The layouts, with what is wrong with the tables.
    pub cutting: Cutting,
}

/// Lays a design out on what the command line says there is.
pub fn stocked(input: &Input, words: &StockWords) -> Result<Stocked, Failure> {
    let mut design = load::design(input)?;
    let mut bad = Vec::new();
    if let Some(path) = &words.pile {
        design.shop.pile = load::rows(path, pile::read, &mut bad)?;
    }
    let offers = match &words.dealer {
        Some(path) if path.as_os_str() == OF_THE_DESIGN && design.shop.dealer.is_empty() => {
            let words = "the design has no dealer's list: name a table, --dealer dealer.csv, or paste one in the window at Boards, Buying";
            return Err(Failure::told(format!("{}: {words}", input.file.display())));
        }
        Some(path) if path.as_os_str() == OF_THE_DESIGN => Some(design.shop.dealer.clone()),
        Some(path) => Some(load::rows(path, dealer::read, &mut bad)?),
        None => None,
    };
    let model = derive(&design).map_err(|errors| Failure::Told(errors.iter().map(ToString::to_string).collect()))?;
    let seconds = words.seconds.clamp(0.01, 3600.0);
    let (rounds, threads, seed) = (words.rounds, words.threads, words.seed);
    let start = Instant::now();
    let watch = |progress: &Progress<'_>| {
        let over = rounds.is_none() && progress.has_had_its_share(start.elapsed().as_secs_f64(), seconds);
        if over { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
    };
    let effort = Effort { rounds, threads, seed, watch: &watch };
    let bought = offers.map(|offers| boards::buy(&design, &model, &offers, effort));
    let cutting = match &bought {
        Some(bought) => {
            design.shop.pile.clone_from(&bought.pile);
            bought.cutting.clone()
        }
        None => boards::cut(&design, &model, effort),
    };
    let cutting = Cutting { told: bad.into_iter().chain(cutting.told).collect(), ..cutting };
    Ok(Stocked { design, model, bought, cutting })
}

/// Prints the layouts; ends with 1 when something finds no place.
pub fn run(input: &Input, words: &BoardsWords) -> Result<ExitCode, Failure> {
    let Stocked { design, model, bought, cutting } = stocked(input, &words.stock)?;
    if let Some(path) = &words.out_pile {
        let remains = pile::write(&boards::remaining(&design, &model, &cutting));
        load::write(path, remains).map_err(|error| Failure::Told(vec![format!("{}: {error}", path.display())]))?;
    }
    match (&bought, words.json) {
        (Some(bought), true) => output::print_json(&json::buying(&design, &model, bought, &cutting))?,
        (None, true) => output::print_json(&json::boards(&design, &model, &cutting))?,
        (_, false) if words.csv => output::print(&boards_csv(&design, &model, &cutting))?,
        (_, false) => output::print(&told(&design, &model, &cutting, bought.as_ref()))?,
    }
    Ok(if cutting.left.is_empty() && !design.shop.pile.is_empty() { ExitCode::SUCCESS } else { ExitCode::from(1) })
}

/// What to buy, and what if a board is bad.
fn to_buy(design: &Design, bought: &Buying) -> String {
    let head = [
        ("Buy", Align::Left),
        ("To cut", Align::Right),
        ("Spare", Align::Right),
        ("Over", Align::Right),
        ("Buy", Align::Right),
        ("Each", Align::Right),
        ("Cost", Align::Right),
    ];
    let row = |line: &ToBuy| {
        let [cut, spare, over, count] = [line.cut, line.spare, line.over, line.count()].map(|count| count.to_string());
        [line.name.clone(), cut, spare, over, count, trimmed_to(line.each, 2), trimmed_to(line.cost(), 2)]
    };
    let mut text = if bought.lines.is_empty() && !bought.cutting.left.is_empty() {
        "Nothing that is offered does\n".to_owned()
    } else if bought.lines.is_empty() {
        "Nothing has to be bought\n".to_owned()
    } else {
        output::table(head, &bought.lines.iter().map(row).collect::<Vec<_>>())
    };
    // Writing to a string can't fail.
    let _ = writeln!(text, "\n{}", bought.total_words(&design.money.currency));
    for bad in &bought.bad {
        let _ = writeln!(text, "If {}", bad.words());
    }
    text
}

fn told(design: &Design, model: &Model, cutting: &Cutting, bought: Option<&Buying>) -> String {
    let mut text = format!("{}\n", design.name);
    text += &bought.map_or_else(String::new, |bought| to_buy(design, bought));
    // Writing to a string can't fail.
    for words in &cutting.told {
        let _ = writeln!(text, "{words}");
    }
    for board in &cutting.boards {
        if let Some(stuff) = design.shop.pile.get(board.entry) {
            text += &one(design, model, stuff, board);
        }
    }
    for glued in boards::glued_up(design, model, cutting) {
        let _ = writeln!(text, "\n{} is glued up from strips {}", model.part(glued.part).title, glued.words(design));
    }
    text.push('\n');
    for left in &cutting.besides {
        let _ = writeln!(text, "{} × {}: {}", left.count, left.mark, left.words);
    }
    for group in &cutting.groups {
        let boards = crate::commands::check::count(group.boards, "piece");
        let cost = group.cost_words(&design.money.currency);
        let _ = writeln!(text, "{}: {boards} of stock, {cost}; {}", group.name, group.proof_words());
    }
    for left in &cutting.left {
        let _ = writeln!(text, "{} × {}: {}", left.count, left.mark, left.words);
    }
    text
}

/// A board with its cuts in order and what lies on it.
fn one(design: &Design, model: &Model, stuff: &Stuff, board: &Marked) -> String {
    let mm = |mm: f64| trimmed_to(mm, 1);
    let size = [stuff.length, stuff.width, stuff.thickness].map(|length| mm(length.to_mm())).join(" × ");
    let mut text = format!("\n{}: {size}\n", board.called(stuff));
    if let Some((trims, steps)) = boards::steps(design, model, board) {
        let [ends, edges] = [trims.ends, trims.edges].map(|off| off.map(mm).join(" and "));
        if let Some(before) = &trims.before {
            let _ = writeln!(text, "    {before}");
        }
        let _ = writeln!(text, "    off the ends {ends}, off the edges {edges}");
        for run in &boards::runs(&steps) {
            text += &at_one_setting(run);
        }
    }
    for piece in &board.pieces {
        let [x, y, length, width] = [piece.x, piece.y, piece.length, piece.width].map(mm);
        let how = if piece.by_hand { ", by hand" } else { "" };
        let _ = writeln!(text, "    {}: {length} × {width}, {x} along, {y} across{how}", piece.words);
    }
    text
}

/// Cuts at one setting: what is sawn and how often, and what they free.
fn at_one_setting(run: &Run) -> String {
    let of = run.of_words();
    let frees = if run.frees.is_empty() { String::new() } else { format!("; frees {}", run.frees.join("; ")) };
    let mut text = format!("    {}, {of}{frees}\n", run.setting);
    for caution in &run.cautions {
        // Writing to a string can't fail.
        let _ = writeln!(text, "        ▲ {caution}");
    }
    text
}
