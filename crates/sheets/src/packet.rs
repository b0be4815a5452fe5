//! All the papers of a case, by the names of their files, and all of them in one.

use casewright_core::boards;
use casewright_core::contents::arrange::{Effort, STEPS, ShelvesMay, arrange};
use casewright_core::setup::setups;
use casewright_core::{CutList, Design, Finding, Model, OrderOfWork, Sequence, Solids, loads};
use hayro_syntax::Pdf;
use serde::Serialize;

use crate::drawing::{Drafting, TitleBlock, part_sheets_pdf};
use crate::typeset;
use crate::{
    Paper, SheetError, board_plans_pdf, cut_list_csv, drawing_pdf, labels_pdf, lists_pdf, order_of_work_pdf, setup_cards_pdf,
    shelf_plan_pdf,
};

/// A paper with the name of its file.
pub type Named = (&'static str, Vec<u8>);

/// Rounds of search for what is cut from which board: enough for a handful of boards, and the same each time.
const ROUNDS: u64 = 60;

const TEMPLATE: &str = include_str!("../../../assets/sheets/packet.typ");

/// The papers of a case: order of work, cut list and buying list, labels, drawings, part sheets and set-up cards, the shelf plan with its labels where the case
/// has shelves, and board plans where there is a pile to cut from.
///
/// The same design gives the same bytes.
///
/// # Errors
/// When one of them can't be made.
pub fn papers(design: &Design, model: &Model, solids: &Solids, findings: &[Finding], paper: &Paper) -> Result<Vec<Named>, SheetError> {
    papers_told(design, model, solids, findings, paper, &mut |_| {})
}

/// The same, and tells the name of each paper before it is made.
///
/// # Errors
/// When one of them can't be made.
pub fn papers_told(
    design: &Design,
    model: &Model,
    solids: &Solids,
    findings: &[Finding],
    paper: &Paper,
    told: &mut dyn FnMut(&str),
) -> Result<Vec<Named>, SheetError> {
    let mut all: Vec<Named> = Vec::new();
    let mut add = |name: &'static str, make: &dyn Fn() -> Result<Vec<u8>, SheetError>| {
        told(name);
        make().map(|bytes| all.push((name, bytes)))
    };
    let order = || {
        let sequence = Sequence::of(design, model, solids);
        let lifts = loads::lifts(design, model, solids, &sequence);
        OrderOfWork::of(design, model, solids, &sequence, &lifts)
    };
    add("order_of_work.pdf", &|| order_of_work_pdf(&design.name, &order(), paper))?;
    add("cut_list.csv", &|| Ok(cut_list_csv(&CutList::of(design, model)).into_bytes()))?;
    add("cut_list.pdf", &|| lists_pdf(design, model, paper))?;
    add("labels.pdf", &|| labels_pdf(design, model, paper))?;
    add("drawings.pdf", &|| drawing_pdf(design, model, solids, findings, paper))?;
    let block = TitleBlock { date: paper.date.clone().unwrap_or_default(), ..TitleBlock::default() };
    add("part_sheets.pdf", &|| part_sheets_pdf(design, model, solids, &Drafting { block: block.clone(), ..Drafting::default() }))?;
    if !setups(design, model).is_empty() {
        add("set_up_cards.pdf", &|| setup_cards_pdf(design, model, paper))?;
    }
    // More things than can be asked about at once have no plan; the case is the same without it.
    if let Some(stands) = arrange(design, model, ShelvesMay::Stay, Effort::steps(STEPS)).ok().filter(|stands| !stands.rows.is_empty()) {
        add("shelf_plan.pdf", &|| shelf_plan_pdf(design, model, &stands, paper))?;
    }
    if !design.shop.pile.is_empty() {
        let cutting = boards::cut(design, model, boards::Effort::rounds(ROUNDS));
        if !cutting.boards.is_empty() {
            add("board_plans.pdf", &|| board_plans_pdf(design, model, &cutting, paper))?;
        }
    }
    Ok(all)
}

/// A page of one of the papers.
#[derive(Serialize)]
struct PageOf<'a> {
    file: &'a str,
    /// Counted from 1.
    number: usize,
    /// In points, as the file has them.
    width: f32,
    height: f32,
    /// What the paper is, on its first page.
    title: Option<String>,
}

#[derive(Serialize)]
struct Data<'a> {
    name: &'a str,
    pages: Vec<PageOf<'a>>,
}

/// All papers that are PDF in one, in their order, each page as large as it is; they are listed beside it by name.
///
/// # Errors
/// When there is none, one can't be read, or the typesetter fails.
pub fn packet_pdf(name: &str, papers: &[Named]) -> Result<Vec<u8>, SheetError> {
    let mut pages = Vec::new();
    let mut files = Vec::new();
    for (file, bytes) in papers {
        let Some(title) = file.strip_suffix(".pdf") else { continue };
        let pdf = Pdf::new(bytes.clone()).map_err(|error| SheetError::Typeset(format!("{file}: {error:?}")))?;
        for (at, page) in pdf.pages().iter().enumerate() {
            let (width, height) = page.render_dimensions();
            let title = (at == 0).then(|| casewright_core::sentence::capital(&title.replace('_', " ")));
            pages.push(PageOf { file, number: at + 1, width, height, title });
        }
        files.push(((*file).to_owned(), bytes.clone()));
    }
    if pages.is_empty() {
        return Err(SheetError::Empty);
    }
    typeset::pdf_with(TEMPLATE, &Data { name, pages }, files)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_packet_has_every_page_of_every_paper_as_large_as_it_was() {
        let design = casewright_core::design::text::read(include_str!("../../../examples/linen_shelves_housed.ron")).expect("an example");
        let model = casewright_core::derive(&design).expect("a case");
        let papers = vec![
            ("cut_list.pdf", lists_pdf(&design, &model, &Paper::default()).expect("a paper")),
            ("set_up_cards.pdf", setup_cards_pdf(&design, &model, &Paper::default()).expect("a paper")),
        ];
        let sizes = |bytes: &[u8]| -> Vec<(i32, i32)> {
            let pdf = Pdf::new(bytes.to_vec()).expect("a PDF");
            pdf.pages()
                .iter()
                .map(|page| {
                    let (width, height) = page.render_dimensions();
                    (width.round() as i32, height.round() as i32)
                })
                .collect()
        };
        let apart: Vec<(i32, i32)> = papers.iter().flat_map(|(_, bytes)| sizes(bytes)).collect();
        let packet = packet_pdf(&design.name, &papers).expect("a packet");
        // The cut list lies on its side, the cards stand.
        assert!(apart.contains(&(842, 595)) && apart.contains(&(595, 842)), "{apart:?}");
        assert_eq!(sizes(&packet), apart);
    }
}
