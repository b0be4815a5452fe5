//! All papers in one.

use hayro_syntax::Pdf;
use serde::Serialize;

use super::LONG;
use crate::exchange::File;
use crate::stop::Stop;
use crate::typeset::{self, SheetError};

const TEMPLATE: &str = include_str!("../../../../assets/sheets/packet.typ");

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

/// All papers that are PDF in one, in their order, each page as large as it is; they are listed beside it by name. Long pages stay out: what is on
/// them is there over sheets.
///
/// The same papers give the same bytes.
///
/// # Errors
/// When there is none, one can't be read, the typesetter fails, or it is to stop, which is asked before each of them.
pub fn packet_pdf(name: &str, papers: &[File], stop: Stop<'_>) -> Result<Vec<u8>, SheetError> {
    let mut pages = Vec::new();
    let mut files = Vec::new();
    for File { name: file, bytes } in papers {
        stop.go_on()?;
        let Some(title) = file.strip_suffix(".pdf").filter(|title| !title.ends_with(LONG)) else { continue };
        let pdf = Pdf::new(bytes.clone()).map_err(|error| SheetError::Typeset(format!("{file}: {error:?}")))?;
        for (at, page) in pdf.pages().iter().enumerate() {
            let (width, height) = page.render_dimensions();
            let title = (at == 0).then(|| casewright_core::sentence::capital(&title.replace('_', " ")));
            pages.push(PageOf { file, number: at + 1, width, height, title });
        }
        files.push((file.clone(), bytes.clone()));
    }
    if pages.is_empty() {
        return Err(SheetError::Empty);
    }
    typeset::set_with(TEMPLATE, &Data { name, pages }, files)?.pdf()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Paper, lists_pdf, setup_cards_pdf};

    #[test]
    fn the_packet_has_every_page_of_every_paper_as_large_as_it_was() {
        let design =
            casewright_core::design::text::read(include_str!("../../../../examples/linen_shelves_housed.ron")).expect("an example");
        let model = casewright_core::derive(&design).expect("a case");
        let papers = [
            File { name: "cut_list.pdf".to_owned(), bytes: lists_pdf(&design, &model, &Paper::default()).expect("a paper") },
            File { name: "set_up_cards.pdf".to_owned(), bytes: setup_cards_pdf(&design, &model, &Paper::default()).expect("a paper") },
        ];
        let long = File { name: "rod_long.pdf".to_owned(), ..papers[0].clone() };
        let all: Vec<File> = papers.iter().cloned().chain([long]).collect();
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
        let apart: Vec<(i32, i32)> = papers.iter().flat_map(|file| sizes(&file.bytes)).collect();
        let packet = packet_pdf(&design.name, &all, Stop::default()).expect("a packet");
        // The cut list lies on its side, the cards stand.
        assert!(apart.contains(&(842, 595)) && apart.contains(&(595, 842)), "{apart:?}");
        assert_eq!(sizes(&packet), apart);
    }
}
