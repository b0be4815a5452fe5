//! What the drawings and part sheets of random cases say, read back and held against the parts: each figure right, none twice, enough to make the case.
//!
//! A plain `cargo test` reads what is drawn; `cargo xtask test readers` has poppler read the figures out of the PDF.

mod cases;
#[path = "../designs/mod.rs"]
mod designs;
mod drawings;
mod parts;
mod printed;

use std::sync::Mutex;

use casewright_core::length::Units;
use casewright_core::{Design, Model, ShapeCache, Solids, derive};
use casewright_sheets::drawing::{Decimal, Drafting, Page, Sheet, pages_pdf, part_drawings};
use casewright_sheets::{pages, part_pages};

use self::cases::Dice;

/// How many cases are drawn.
const CASES: usize = 200;
/// How many of them are read as they are drawn.
const IN_MEMORY: usize = 25;
/// So many go into one PDF.
const IN_ONE: usize = 5;

/// A case with how it is drawn.
struct Case {
    number: usize,
    design: Design,
    model: Model,
    solids: Solids,
    drafting: Drafting,
}

fn cases(many: usize) -> Vec<Case> {
    let mut dice = Dice(20_261_130);
    let mut cases = Vec::new();
    while cases.len() < many {
        let design = cases::design(&mut dice);
        cases.extend(Case::of(cases.len(), design, cases::drafting(&mut dice)));
    }
    cases
}

/// What was read of the sheets of a case, and what of it is wrong.
#[derive(Default)]
struct Read {
    figures: usize,
    wrong: Vec<String>,
}

impl Case {
    /// A case that is drawn so; none of a design that is none.
    fn of(number: usize, design: Design, drafting: Drafting) -> Option<Case> {
        let model = derive(&design).ok()?;
        let solids = ShapeCache::default().shape(&model);
        Some(Case { number, design, model, solids, drafting })
    }

    /// What its sheets say, as they are drawn.
    fn read(&self) -> Read {
        let (sheets, drawings) = self.sheets();
        let texts: Vec<Vec<String>> = sheets.iter().map(|page| page.ink.texts.iter().map(|text| text.text.clone()).collect()).collect();
        self.judge(&sheets, drawings, &texts)
    }

    /// The drawings, and how many of the sheets they are; then the part sheets.
    fn sheets(&self) -> (Vec<Page>, usize) {
        let mut all = pages(&self.design, &self.model, &self.solids, None, &self.drafting);
        let drawings = all.len();
        all.extend(part_pages(&self.design, &self.model, &self.solids, &self.drafting));
        for page in &mut all {
            page.name = format!("case-{}-{}-{}", self.number, page.title, page.name).to_lowercase();
        }
        (all, drawings)
    }

    /// Holds what was read in the place of each text of its sheets against the parts.
    fn judge(&self, sheets: &[Page], drawings: usize, texts: &[Vec<String>]) -> Read {
        let mut read = Read::default();
        drawings::judge(self, &sheets[..drawings], &texts[..drawings], &mut read);
        let parts = part_drawings(&self.design, &self.model, &self.solids, &self.drafting);
        parts::judge(self, &parts, &sheets[drawings..], &texts[drawings..], &mut read);
        read
    }
}

fn assert_right(reads: &[Read]) {
    let wrong: Vec<&str> = reads.iter().flat_map(|read| &read.wrong).map(String::as_str).collect();
    assert!(wrong.is_empty(), "{} are wrong:\n{}", wrong.len(), wrong.iter().take(40).copied().collect::<Vec<_>>().join("\n"));
    let figures: usize = reads.iter().map(|read| read.figures).sum();
    assert!(figures > 200 * reads.len(), "{figures}");
}

#[test]
fn what_the_sheets_say_is_right_said_once_and_enough() {
    assert_right(&cases(IN_MEMORY).iter().map(Case::read).collect::<Vec<_>>());
}

/// The examples, and other ways to build the demo, in any unit.
#[test]
fn what_the_sheets_of_the_examples_say_is_right_said_once_and_enough() {
    let draftings = [
        Drafting::default(),
        Drafting { decimal: Decimal::Comma, sheet: Sheet::A4, ..Drafting::default() },
        Drafting { units: Units::Inches, sheet: Sheet::Letter, ..Drafting::default() },
    ];
    for drafting in draftings {
        let read = |(number, design)| Case::of(number, design, drafting.clone()).expect("a case").read();
        assert_right(&designs::all().into_iter().enumerate().map(read).collect::<Vec<_>>());
    }
}

#[test]
#[ignore = "needs pdftotext of poppler; run by cargo xtask test"]
fn the_same_is_read_out_of_the_pdf() {
    let folder = tempfile::tempdir().expect("a folder");
    let cases = cases(CASES);
    let left = Mutex::new(cases.chunks(IN_ONE));
    let reads = Mutex::new(Vec::new());
    let next = || left.lock().expect("no other has failed").next();
    std::thread::scope(|scope| {
        for _ in 0..std::thread::available_parallelism().map_or(1, usize::from) {
            scope.spawn(|| {
                while let Some(some) = next() {
                    let all = read_out_of_pdf(some, folder.path());
                    reads.lock().expect("no other has failed").extend(all);
                }
            });
        }
    });
    let reads = reads.into_inner().expect("no thread has failed");
    assert_eq!(reads.len(), CASES);
    assert_right(&reads);
}

/// Prints some cases into one PDF, and holds what poppler reads in it against their parts.
fn read_out_of_pdf(cases: &[Case], folder: &std::path::Path) -> Vec<Read> {
    let sheets: Vec<(Vec<Page>, usize)> = cases.iter().map(Case::sheets).collect();
    let all: Vec<Page> = sheets.iter().flat_map(|(pages, _)| pages.clone()).collect();
    let file = folder.join(format!("{}.pdf", cases.first().map_or(0, |case| case.number)));
    std::fs::write(&file, pages_pdf("Random cases", &all).expect("a PDF")).expect("written");
    let mut wrong = Vec::new();
    let mut texts = printed::read(&file, &all, &mut wrong).into_iter();
    let mut reads: Vec<Read> = Vec::new();
    for (case, (pages, drawings)) in cases.iter().zip(&sheets) {
        let own: Vec<Vec<String>> = texts.by_ref().take(pages.len()).collect();
        reads.push(case.judge(pages, *drawings, &own));
    }
    if let Some(first) = reads.first_mut() {
        first.wrong.extend(wrong);
    }
    reads
}

/// Places on an axis to which figures lead from a datum, and where the figures themselves say that they lie.
///
/// A figure that begins or ends at a known place leads to its other end; where `middles` is set, one whose middle is known leads to both ends.
fn solved(figures: &[(f64, f64, f64)], middles: bool) -> Vec<(f64, f64)> {
    let mut known = vec![(0.0, 0.0)];
    let find = |known: &[(f64, f64)], at: f64| known.iter().find(|(other, _)| (other - at).abs() < 6e-3).map(|(_, said)| *said);
    loop {
        let mut found = Vec::new();
        for (from, to, figure) in figures {
            let (a, b) = (find(&known, *from), find(&known, *to));
            let middle = if middles { find(&known, f64::midpoint(*from, *to)) } else { None };
            match (a, b, middle) {
                (Some(a), None, _) => found.push((*to, a + figure)),
                (None, Some(b), _) => found.push((*from, b - figure)),
                (None, None, Some(middle)) => found.extend([(*from, middle - figure / 2.0), (*to, middle + figure / 2.0)]),
                (Some(_), Some(_), _) | (None, None, None) => {}
            }
        }
        // The shortest way to a place counts.
        let before = known.len();
        for (at, said) in found {
            if find(&known, at).is_none() {
                known.push((at, said));
            }
        }
        if known.len() == before {
            return known;
        }
    }
}

/// Whether a place is known, and the figures put it where it is.
fn leads_to(known: &[(f64, f64)], at: f64, off: f64) -> bool {
    known.iter().any(|(other, said)| (other - at).abs() < 6e-3 && (said - at).abs() < off)
}
