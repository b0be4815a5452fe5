//! The setting-out rod and the templates in full size: over sheets that are laid together by their register marks, and each on one long page.
//!
//! ```text
//! core::rod, core::template ──stick, shape──▶ Strip: as long as the wood ──tiles──▶ Page: a sheet, or all of it
//! ```
//!
//! Every page has a bar of 100 mm along and one across it: printers scale, and that tells.

mod labels;
mod piece;
mod shape;
mod stick;
mod tiles;

use casewright_core::rod::{Way, rod};
use casewright_core::template::{Of, templates};
use casewright_core::{Design, Model};

use crate::drawing::{Drafting, Page, pages_pdf};
use crate::typeset::SheetError;

use self::tiles::Strip;

/// On what a long thing is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Over {
    /// Sheets of the drafting's size, laid together.
    Sheets,
    /// One page as long as it takes; printers for rolls and shops that print take it.
    OnePage,
}

/// The sticks of the rod, page by page; none of a case without parts.
pub fn rod_pages(model: &Model, drafting: &Drafting, over: Over) -> Vec<Page> {
    let strips: Vec<Strip> = rod(model).iter().map(|stick| stick::draw(stick, drafting)).collect();
    strips.iter().flat_map(|strip| tiles::pages(strip, &model.name, drafting.sheet, over)).collect()
}

/// The templates: those as long as their part each over pages of its own, the others many to a page; none of a case that asks for none.
pub fn template_pages(model: &Model, drafting: &Drafting, over: Over) -> Vec<Page> {
    let (mut pages, mut pieces) = (Vec::new(), Vec::new());
    for template in templates(model) {
        match template.of {
            Of::Whole => {
                let strip = shape::long(&template, drafting);
                pages.extend(tiles::pages(&strip, &model.name, drafting.sheet, over));
                pieces.extend(piece::table(&template, drafting));
            }
            Of::End { .. } | Of::Corner { .. } => pieces.push(shape::piece(&template, drafting)),
        }
    }
    pages.extend(piece::pages(pieces, &model.name, drafting.sheet));
    pages
}

/// The rod as PDF.
///
/// # Errors
/// When there are no parts, or the typesetter fails.
pub fn rod_pdf(design: &Design, model: &Model, drafting: &Drafting, over: Over) -> Result<Vec<u8>, SheetError> {
    set(design, &rod_pages(model, drafting, over))
}

/// The templates as PDF.
///
/// # Errors
/// When no part asks for one, or the typesetter fails.
pub fn templates_pdf(design: &Design, model: &Model, drafting: &Drafting, over: Over) -> Result<Vec<u8>, SheetError> {
    set(design, &template_pages(model, drafting, over))
}

fn set(design: &Design, pages: &[Page]) -> Result<Vec<u8>, SheetError> {
    if pages.is_empty() { Err(SheetError::Empty) } else { pages_pdf(&design.name, pages) }
}

/// What the sheets of a stick are called.
fn stick_title(way: Way) -> String {
    format!("Setting-out rod, {}", way.word())
}
