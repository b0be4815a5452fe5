//! Part sheets: each different part once, with every cut measured from face side, face edge and first end; a mirrored pair together.
//!
//! A part is shown on the faces that carry cuts, rolled over and never turned end for end. Figures run from its first end and from its face
//! side or face edge to the middle of a mortise, hole or groove, and to walls elsewhere; a letter at each cut leads to its size and depth below.

mod face;
pub(super) mod marked;
mod one;
mod plan;
mod view;

use casewright_core::mirrored::pairs;
use casewright_core::{CutList, Design, Model, Solids};
use glam::DVec2;

use super::drafting::Drafting;
use super::lettering::LETTERING;
use super::page::{Anchor, Ink, Page, Text};
use super::{Draft, WIDE, frame, layout, scale_words};
use crate::stop::{BrokenOff, Stop};
use crate::typeset::SheetError;

/// No line of words is longer than this, mm: the room that the template gives it.
const LONGEST: f64 = 165.0;

/// A part as it is drawn: what the sheets are put together from.
///
/// Dimensions of its ink are in the part's own measures: 0 along the length from the first end, 1 across from the face edge, 2 through from the face side.
#[derive(Clone, Debug, PartialEq)]
pub struct PartDrawing {
    /// The mark of what is drawn.
    pub mark: String,
    /// The mark of its mirror image, which is not drawn.
    pub mirror: Option<String>,
    /// Full size over paper.
    pub scale: f64,
    /// The drawing.
    pub ink: Ink,
}

/// Each different part of a case, in the order of the cut list.
///
/// The same design gives the same drawings.
pub fn part_drawings(design: &Design, model: &Model, solids: &Solids, drafting: &Drafting) -> Vec<PartDrawing> {
    // Nothing stops it.
    drawings_until(design, model, solids, drafting, Stop::default()).unwrap_or_default()
}

/// The same, broken off between two parts where it is to stop.
fn drawings_until(
    design: &Design,
    model: &Model,
    solids: &Solids,
    drafting: &Drafting,
    stop: Stop<'_>,
) -> Result<Vec<PartDrawing>, BrokenOff> {
    let list = CutList::of(design, model);
    let head = told(drafting);
    let fits = |ink: &Ink| layout::rows(&[head.clone(), ink.clone()], drafting.sheet).len() == 2;
    let mut all = Vec::new();
    for pair in &pairs(model, &list.rows) {
        stop.go_on()?;
        let Some((scale, ink)) = one::draw(model, solids, drafting, pair, fits) else { continue };
        let mirror = pair.mirror.map(|(row, _)| row.mark.clone());
        all.push(PartDrawing { mark: pair.row.mark.clone(), mirror, scale, ink });
    }
    Ok(all)
}

/// The part sheets of a case as plain data, as many parts on each as go there.
///
/// The same design gives the same pages.
pub fn part_pages(design: &Design, model: &Model, solids: &Solids, drafting: &Drafting) -> Vec<Page> {
    // Nothing stops it.
    pages_until(design, model, solids, drafting, Stop::default()).unwrap_or_default()
}

/// The same, broken off between two parts where it is to stop.
fn pages_until(design: &Design, model: &Model, solids: &Solids, drafting: &Drafting, stop: Stop<'_>) -> Result<Vec<Page>, BrokenOff> {
    let mut left: Vec<PartDrawing> = drawings_until(design, model, solids, drafting, stop)?;
    let mut drafts = Vec::new();
    while !left.is_empty() {
        let (mut inks, mut moves) = (vec![told(drafting)], Vec::new());
        let (mut here, mut rest) = (Vec::new(), Vec::new());
        for part in left {
            inks.push(part.ink.clone());
            let placed = layout::rows(&inks, drafting.sheet);
            if placed.len() == inks.len() {
                moves = placed;
                here.push(part);
            } else {
                inks.pop();
                rest.push(part);
            }
        }
        if here.is_empty() {
            // One that goes on no sheet runs over the edge rather than being left out.
            let corner = frame::room(drafting.sheet.size()).0;
            let part = rest.remove(0);
            inks.push(part.ink.clone());
            let low = part.ink.room().unwrap_or_default().0;
            moves = vec![corner + 5.0, corner + 20.0 - low];
            here.push(part);
        }
        left = rest;
        let mut scales: Vec<f64> = here.iter().map(|part| part.scale).collect();
        scales.sort_by(f64::total_cmp);
        scales.dedup();
        let mut ink = Ink::default();
        for (own, by) in inks.into_iter().zip(moves) {
            ink.add(own, by);
        }
        let scale = scales.into_iter().map(scale_words).collect::<Vec<_>>().join(", ");
        drafts.push(Draft { name: "parts", title: "Parts", scale, wide: WIDE, ink });
    }
    Ok(super::framed(&design.name, drafts, drafting))
}

/// How the sheets are read.
fn told(drafting: &Drafting) -> Ink {
    let words = [
        "The first end lies at the left on every side and edge. Figures run from the ring: from the first end, the face edge or the face side; to the middle of",
        "mortises, recesses, housings, holes and grooves, to the walls of all else. The letters lead to size and depth. Finished sizes.",
    ];
    let wide = (drafting.sheet.size().x - 60.0).min(LONGEST);
    let mut ink = Ink::default();
    for (number, line) in super::drawn::wrapped(&words.join(" "), wide, LETTERING).into_iter().enumerate() {
        ink.text(Text::new(DVec2::new(0.0, number as f64 * (LETTERING + 1.4)), Anchor::Start, LETTERING, line));
    }
    ink
}

/// The part sheets of a case as PDF.
///
/// The same design gives the same bytes.
///
/// # Errors
/// When there are no parts, or the typesetter fails.
pub fn part_sheets_pdf(design: &Design, model: &Model, solids: &Solids, drafting: &Drafting) -> Result<Vec<u8>, SheetError> {
    part_sheets_until(design, model, solids, drafting, Stop::default())
}

/// The same, broken off between two parts where it is to stop.
pub(crate) fn part_sheets_until(
    design: &Design,
    model: &Model,
    solids: &Solids,
    drafting: &Drafting,
    stop: Stop<'_>,
) -> Result<Vec<u8>, SheetError> {
    let pages = pages_until(design, model, solids, drafting, stop)?;
    stop.go_on()?;
    if pages.is_empty() { Err(SheetError::Empty) } else { super::typeset::pages_pdf(&design.name, &pages) }
}
