//! Cut list and buying list, to hang up in the shop: what the table for spreadsheets has, typeset.

use casewright_core::boards::{Effort, buy};
use casewright_core::cutlist::Row;
use casewright_core::length::trimmed_to;
use casewright_core::takeoff::TakeOff;
use casewright_core::timber::How;
use casewright_core::worked::Worked;
use casewright_core::{CutList, Design, Model};
use serde::Serialize;

use crate::drawing::Paper;
use crate::figures::{Figures, Wording};
use crate::typeset::{self, Set, SheetError};

const TEMPLATE: &str = include_str!("../../../assets/sheets/cut_list.typ");

/// What the template reads.
#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
struct Data<'a> {
    name: &'a str,
    date: &'a str,
    /// In what sizes are.
    unit: &'static str,
    count: usize,
    rows: Vec<CutRow>,
    buying: Vec<ToBuy>,
    buying_told: String,
}

/// A row of the cut list as it stands on paper.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct CutRow {
    /// The mark.
    pub mark: String,
    /// What the parts are.
    pub title: String,
    /// How many there are.
    pub count: String,
    /// Finished length × width × thickness.
    pub finished: String,
    /// Rough length × width, and out of which boards; empty for what is cut to size at once, or bought.
    pub rough: String,
    /// Timber or sheet, and which way its grain runs.
    pub material: String,
    /// Where its face side looks.
    pub face_side: String,
    /// Where its face edge looks.
    pub face_edge: String,
    /// The marks that are crosscut at the same stop.
    pub one_stop: String,
    /// When it goes in, what is cut into it, what is ganged or beyond the machines, how far it is made, what was measured.
    pub told: Vec<String>,
}

/// A heading of the buying list with what is bought under it: what and how much, and what is said besides.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct ToBuy {
    /// The heading.
    pub title: &'static str,
    /// The lines.
    pub lines: Vec<(String, String)>,
}

/// Rounds of search for what is bought of a dealer's list: the same each time.
const ROUNDS: u64 = 60;

/// Cut list and buying list of a case as PDF, A4 on its side.
///
/// The same design gives the same bytes.
///
/// # Errors
/// When there are no parts, or the typesetter fails.
pub fn lists_pdf(design: &Design, model: &Model, paper: &Paper) -> Result<Vec<u8>, SheetError> {
    set(design, model, paper)?.pdf()
}

/// The same as it was set.
pub(crate) fn set(design: &Design, model: &Model, paper: &Paper) -> Result<Set, SheetError> {
    let list = CutList::of(design, model);
    if list.rows.is_empty() {
        return Err(SheetError::Empty);
    }
    let wording = Wording::of(design, model, paper.figures);
    let (buying, buying_told) = buying_list(design, model, &wording);
    let data = Data {
        name: &design.name,
        date: paper.date.as_deref().unwrap_or_default(),
        unit: paper.figures.unit(),
        count: list.count(),
        rows: list.rows.iter().map(|row| cut_row(row, &wording)).collect(),
        buying,
        buying_told,
    };
    typeset::set(TEMPLATE, &data)
}

/// What a row of the cut list is called on paper.
pub(crate) fn titled(row: &Row) -> String {
    match row.parts.len().saturating_sub(1) {
        0 => row.title.clone(),
        more => format!("{}, and {more} like it", row.title),
    }
}

/// Rough length and width, how many such where several parts come out of one, and out of what boards; empty for what is cut to size at once or bought.
pub(crate) fn rough(row: &Row, figures: Figures) -> String {
    let [length, width] = row.rough_size().map(|mm| figures.tape(mm));
    let blanks = if row.blanks() == row.parts.len() { String::new() } else { format!("{} of ", row.blanks()) };
    match row.rough {
        Some(rough) if rough.board.is_some() => format!("{blanks}{length} × {width}, {}", rough.words()),
        Some(_) => format!("{blanks}{length} × {width}"),
        None => String::new(),
    }
}

/// A row of the cut list in words.
pub fn cut_row(row: &Row, wording: &Wording) -> CutRow {
    let figures = wording.figures();
    let grain = if row.grain.is_empty() { String::new() } else { format!("; {}", row.grain) };
    let named = |name: &str, words: &str| if words.is_empty() { None } else { Some(format!("{name}{words}")) };
    let told = [
        Some(row.stage.words().to_owned()),
        named("", &row.cuts),
        named("", &row.together),
        named("", &row.notes.join("; ")),
        named("", &row.state),
        named("measured ", &row.measured),
    ];
    CutRow {
        mark: row.mark.clone(),
        title: titled(row),
        count: row.parts.len().to_string(),
        finished: row.finished.map(|mm| figures.exact(mm)).join(" × "),
        rough: rough(row, figures),
        material: format!("{}{grain}", row.made_of),
        face_side: row.face_side.clone(),
        face_edge: row.face_edge.clone(),
        one_stop: row.at_one_stop.clone(),
        told: told.into_iter().flatten().map(|words| wording.exact(&words)).collect(),
    }
}

/// What is bought, by a dealer's list where there is one, else by the take-off; and what is said of all of it.
pub fn buying_list(design: &Design, model: &Model, wording: &Wording) -> (Vec<ToBuy>, String) {
    let taken = TakeOff::of(design, model);
    let memory = |figure: &Worked| if figure.how() == How::Memory { ", rests on figures from memory" } else { "" };
    let mut groups = Vec::new();
    let mut told = "Amounts with what is bought besides for waste.".to_owned();
    if design.shop.dealer.is_empty() {
        let boards = taken.timber.iter().map(|it| {
            let board = if it.board.is_empty() { "thicker than any that is sold" } else { &it.board };
            let [longest, widest] = [it.longest, it.widest].map(|mm| trimmed_to(mm, 0));
            let what =
                format!("{}, {board}: {} m³, {} board feet", it.made_of, trimmed_to(it.to_buy.value, 4), trimmed_to(it.board_feet(), 1));
            (what, format!("{} pieces, the longest {longest}, the widest {widest}{}", it.pieces, memory(&it.to_buy)))
        });
        groups.push(ToBuy { title: "Boards", lines: boards.collect() });
        let sheets = taken.sheets.iter().map(|it| {
            (
                format!("{}: {} m²", it.made_of, trimmed_to(it.to_buy.value, 2)),
                format!("{} pieces; to measure {}", it.pieces, it.measure_words()),
            )
        });
        groups.push(ToBuy { title: "Sheets", lines: sheets.collect() });
    } else {
        let bought = buy(design, model, &design.shop.dealer, Effort::rounds(ROUNDS));
        let lines = bought.lines.iter().map(|line| {
            let spare = if line.spare > 0 { format!(", {} of them to spare", line.spare) } else { String::new() };
            let currency = &design.money.currency;
            (
                format!("{} × {}{spare}", line.count(), line.name),
                format!("{} {currency} each, {} {currency}", trimmed_to(line.each, 2), trimmed_to(line.cost(), 2)),
            )
        });
        groups.push(ToBuy { title: "From the dealer's list", lines: lines.collect() });
        told = format!("From the dealer's list, besides what is on hand: {}.", bought.total_words(&design.money.currency));
        let missing: Vec<(String, String)> =
            bought.cutting.left.iter().map(|left| (format!("{} × {}", left.count, left.mark), left.words.clone())).collect();
        groups.push(ToBuy { title: "Not to be had from it", lines: missing });
    }
    // What is sawn here is among the boards of no list: it is told what it takes.
    let veneer = taken.veneer.iter().map(|it| {
        let [faces, balancing] = [&it.faces, &it.balancing].map(|worked| trimmed_to(worked.value, 2));
        (
            format!("{}, {} thick: {}", it.made_of, trimmed_to(it.thickness, 2), it.takes_words()),
            format!("{faces} m² of faces and {balancing} m² of balancing sheets on the other side{}", memory(&it.to_buy)),
        )
    });
    groups.push(ToBuy { title: "Veneer", lines: veneer.collect() });
    let ready = taken.bought.iter().map(|ready| (format!("{} × {}", ready.count, ready.title), String::new()));
    groups.push(ToBuy { title: "Bought ready", lines: ready.collect() });
    let recalled = taken.litres.as_ref().map(|litres| memory(litres).trim_start_matches(", ").to_owned()).unwrap_or_default();
    let finish = taken.finish_words(design).map(|words| (words, recalled));
    let glue = taken.glue_words(design).map(|words| (words, "and what is squeezed out".to_owned()));
    groups.push(ToBuy { title: "Finish and glue", lines: finish.into_iter().chain(glue).collect() });
    groups.retain(|group| !group.lines.is_empty());
    for (what, besides) in groups.iter_mut().flat_map(|group| &mut group.lines) {
        (*what, *besides) = (wording.tape(what), wording.tape(besides));
    }
    (groups, wording.tape(&told))
}
