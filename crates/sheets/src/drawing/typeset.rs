//! Sets the sheets with the template in `assets/sheets`: lines as SVG at true scale, words as words.

use casewright_core::cautions::{self, Caution};
use casewright_core::cutlist::Row;
use casewright_core::length::trimmed;
use casewright_core::{CutList, Design, Finding, Model, Seriousness};
use serde::Serialize;

use super::canvas::{Canvas, LETTERING, Words};
use super::{Paper, notes};
use crate::typeset::{self, SheetError};

const TEMPLATE: &str = include_str!("../../../../assets/sheets/drawing.typ");

/// Height of a capital over the size of the face: Open Sans.
const CAPITAL: f64 = 0.714;

/// What the sheets are set from.
pub(super) struct Sheet<'a> {
    pub design: &'a Design,
    pub model: &'a Model,
    pub findings: &'a [Finding],
    pub canvas: &'a Canvas,
    pub scale: f64,
    pub paper: &'a Paper,
}

/// What the template reads, as JSON.
#[derive(Serialize)]
struct Data<'a> {
    name: &'a str,
    scale: String,
    date: &'a str,
    /// Size of the face on the drawing, mm.
    lettering: f64,
    words: &'a [Words],
    notes: Vec<String>,
    findings: Vec<FindingData<'a>>,
    rows: Vec<[String; 10]>,
    count: usize,
    cautions: Vec<CautionData>,
}

/// What can hurt whoever makes this very piece.
#[derive(Serialize)]
pub(super) struct CautionData {
    /// What it is about.
    pub about: &'static str,
    /// What to do.
    pub words: String,
    /// Where it comes from, and how that was obtained.
    pub source: String,
}

#[derive(Serialize)]
struct FindingData<'a> {
    /// 0 will fail, 1 at risk, 2 note.
    shape: u8,
    word: &'static str,
    message: &'a str,
    remedies: Vec<&'a str>,
}

/// The sheets as PDF.
pub(super) fn pdf(sheet: &Sheet<'_>) -> Result<Vec<u8>, SheetError> {
    let list = CutList::of(sheet.design, sheet.model);
    let data = Data {
        name: &sheet.design.name,
        scale: format!("1:{}", trimmed(sheet.scale)),
        date: sheet.paper.date.as_deref().unwrap_or_default(),
        lettering: LETTERING / CAPITAL,
        words: &sheet.canvas.words,
        notes: notes::of(sheet.design, sheet.model, &sheet.canvas.left_over),
        findings: sheet.findings.iter().map(finding).collect(),
        rows: list.rows.iter().map(row).collect(),
        count: list.count(),
        cautions: cautions(sheet.design, sheet.model),
    };
    typeset::pdf(TEMPLATE, &data, &[("lines.svg", sheet.canvas.svg())])
}

/// The cautions that apply, in the order of the work.
pub(super) fn cautions(design: &Design, model: &Model) -> Vec<CautionData> {
    let told = |caution: Caution| CautionData {
        about: caution.about.word(),
        words: caution.words,
        source: format!("{}; {}", caution.source, caution.how),
    };
    cautions::cautions(design, model).into_iter().map(told).collect()
}

fn finding(finding: &Finding) -> FindingData<'_> {
    FindingData {
        shape: match finding.seriousness {
            Seriousness::WillFail => 0,
            Seriousness::AtRisk => 1,
            Seriousness::Note => 2,
        },
        word: finding.seriousness.word(),
        message: &finding.message,
        remedies: finding.remedies.iter().map(|remedy| remedy.words.as_str()).collect(),
    }
}

/// Rough length and width, and from what boards.
fn rough(row: &Row) -> String {
    let [length, width] = row.rough_size().map(trimmed);
    match row.rough {
        Some(rough) if rough.board.is_some() => format!("{length} × {width}, {}", rough.words()),
        Some(_) | None => format!("{length} × {width}"),
    }
}

fn row(row: &Row) -> [String; 10] {
    let more = row.parts.len() - 1;
    let title = if more == 0 { row.title.clone() } else { format!("{}, and {more} like it", row.title) };
    [
        row.mark.clone(),
        title,
        row.parts.len().to_string(),
        trimmed(row.finished[0]),
        trimmed(row.finished[1]),
        trimmed(row.finished[2]),
        rough(row),
        row.made_of.clone(),
        row.stage.words().to_owned(),
        row.cuts.clone(),
    ]
}
