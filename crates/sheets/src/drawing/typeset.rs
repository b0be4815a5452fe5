//! Sets the sheets with the template in `assets/sheets`: lines as SVG at true scale, words as words; then what is said in words.

use casewright_core::cautions::{self, Caution};
use casewright_core::cutlist::Row;
use casewright_core::{CutList, Design, Finding, Model, Seriousness};
use serde::Serialize;

use super::lettering::CAPITAL;
use super::page::{Anchor, Page, Text};
use super::{Drafting, notes, svg};
use crate::figures::Wording;
use crate::lists;
use crate::typeset::{self, SheetError};

const TEMPLATE: &str = include_str!("../../../../assets/sheets/drawing.typ");
const PAGES: &str = include_str!("../../../../assets/sheets/pages.typ");

/// What the papers are set from.
pub(super) struct Papers<'a> {
    pub design: &'a Design,
    pub model: &'a Model,
    pub findings: &'a [Finding],
    pub pages: &'a [Page],
    pub drafting: &'a Drafting,
}

/// What the template reads, as JSON.
#[derive(Serialize)]
struct Data<'a> {
    name: &'a str,
    pages: Vec<PageData<'a>>,
    /// In what sizes are.
    sizes: &'static str,
    notes: Vec<String>,
    findings: Vec<FindingData>,
    rows: Vec<[String; 10]>,
    count: usize,
    cautions: Vec<CautionData>,
}

/// A sheet of drawings: the lines lie in a file of their own.
#[derive(Serialize)]
struct PageData<'a> {
    file: String,
    title: &'a str,
    /// mm.
    width: f64,
    height: f64,
    words: Vec<Words<'a>>,
}

/// Words at their place: halfway up a capital, at the end that `anchor` names.
#[derive(Serialize)]
struct Words<'a> {
    x: f64,
    y: f64,
    anchor: &'static str,
    /// Of the face, mm.
    size: f64,
    upright: bool,
    bold: bool,
    text: &'a str,
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
struct FindingData {
    /// 0 will fail, 1 at risk, 2 note.
    shape: u8,
    word: &'static str,
    message: String,
    remedies: Vec<String>,
}

/// The papers as PDF.
pub(super) fn pdf(papers: &Papers<'_>) -> Result<Vec<u8>, SheetError> {
    let list = CutList::of(papers.design, papers.model);
    let pages = papers.pages;
    let drafting = papers.drafting;
    let wording = Wording::of(papers.design, papers.model, drafting.figures());
    let data = Data {
        name: &papers.design.name,
        pages: pages.iter().map(page).collect(),
        sizes: drafting.figures().unit(),
        notes: notes::of(papers.design, papers.model, &wording),
        findings: papers.findings.iter().map(|of| finding(of, &wording)).collect(),
        rows: list.rows.iter().map(|of| row(of, &wording)).collect(),
        count: list.count(),
        cautions: cautions(papers.design, papers.model, &wording),
    };
    set(TEMPLATE, &data, pages)
}

/// Drawn sheets as PDF, with nothing besides; no two have the same name.
///
/// # Errors
/// When the typesetter fails.
pub fn pages_pdf(name: &str, pages: &[Page]) -> Result<Vec<u8>, SheetError> {
    #[derive(Serialize)]
    struct Sheets<'a> {
        name: &'a str,
        pages: Vec<PageData<'a>>,
    }
    set(PAGES, &Sheets { name, pages: pages.iter().map(page).collect() }, pages)
}

/// Sets a template that shows drawn sheets.
fn set(template: &'static str, data: &impl Serialize, pages: &[Page]) -> Result<Vec<u8>, SheetError> {
    let files: Vec<(String, String)> = pages.iter().map(|page| (file(page), svg::without_words(page))).collect();
    let files: Vec<(&str, String)> = files.iter().map(|(name, text)| (name.as_str(), text.clone())).collect();
    typeset::pdf(template, data, &files)
}

fn file(page: &Page) -> String {
    format!("{}.svg", page.name)
}

fn page(page: &Page) -> PageData<'_> {
    PageData {
        file: file(page),
        title: &page.title,
        width: page.size.x,
        height: page.size.y,
        words: page.ink.texts.iter().map(words).collect(),
    }
}

fn words(text: &Text) -> Words<'_> {
    Words {
        x: text.at.x,
        y: text.at.y,
        anchor: match text.anchor {
            Anchor::Start => "left",
            Anchor::Middle => "center",
            Anchor::End => "right",
        },
        size: text.height / CAPITAL,
        upright: text.upright,
        bold: text.bold,
        text: &text.text,
    }
}

/// The cautions that apply, in the order of the work.
pub(super) fn cautions(design: &Design, model: &Model, wording: &Wording) -> Vec<CautionData> {
    let told = |caution: Caution| CautionData {
        about: caution.about.word(),
        words: wording.thumb(&caution.words),
        source: format!("{}; {}", caution.source, caution.how),
    };
    cautions::cautions(design, model).into_iter().map(told).collect()
}

fn finding(finding: &Finding, wording: &Wording) -> FindingData {
    FindingData {
        shape: match finding.seriousness {
            Seriousness::WillFail => 0,
            Seriousness::AtRisk => 1,
            Seriousness::Note => 2,
        },
        word: finding.seriousness.word(),
        message: wording.exact(&finding.message),
        remedies: finding.remedies.iter().map(|remedy| wording.exact(&remedy.words)).collect(),
    }
}

fn row(row: &Row, wording: &Wording) -> [String; 10] {
    let figures = wording.figures();
    let [length, width, thickness] = row.finished.map(|mm| figures.exact(mm));
    let rough = Some(lists::rough(row, figures)).filter(|rough| !rough.is_empty());
    [
        row.mark.clone(),
        lists::titled(row),
        row.parts.len().to_string(),
        length.clone(),
        width.clone(),
        thickness,
        rough.unwrap_or_else(|| format!("{length} × {width}")),
        row.made_of.clone(),
        row.stage.words().to_owned(),
        wording.exact(&row.cuts),
    ]
}
