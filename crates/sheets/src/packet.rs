//! All the papers of a case, by the names of their files.

use casewright_core::boards;
use casewright_core::contents::arrange::{Effort, STEPS, ShelvesMay, arrange};
use casewright_core::setup::setups;
use casewright_core::{CutList, Design, Finding, Model, Solids};

use crate::{Paper, SheetError, board_plans_pdf, cut_list_csv, drawing_pdf, setup_cards_pdf, shelf_plan_pdf};

/// A paper with the name of its file.
pub type Named = (&'static str, Vec<u8>);

/// Rounds of search for what is cut from which board: enough for a handful of boards, and the same each time.
const ROUNDS: u64 = 60;

/// The papers of a case: cut list and drawings, the shelf plan with its labels where the case has shelves, and board plans where there is a pile to cut from.
///
/// The same design gives the same bytes.
///
/// # Errors
/// When one of them can't be made.
pub fn papers(design: &Design, model: &Model, solids: &Solids, findings: &[Finding], paper: &Paper) -> Result<Vec<Named>, SheetError> {
    let mut all = vec![
        ("cut_list.csv", cut_list_csv(&CutList::of(design, model)).into_bytes()),
        ("drawings.pdf", drawing_pdf(design, model, solids, findings, paper)?),
    ];
    if !setups(design, model).is_empty() {
        all.push(("set_up_cards.pdf", setup_cards_pdf(design, model, paper)?));
    }
    // More things than can be asked about at once have no plan; the case is the same without it.
    if let Some(stands) = arrange(design, model, ShelvesMay::Stay, Effort::steps(STEPS)).ok().filter(|stands| !stands.rows.is_empty()) {
        all.push(("shelf_plan.pdf", shelf_plan_pdf(design, model, &stands, paper)?));
    }
    if !design.shop.pile.is_empty() {
        let cutting = boards::cut(design, model, boards::Effort::rounds(ROUNDS));
        if !cutting.boards.is_empty() {
            all.push(("board_plans.pdf", board_plans_pdf(design, model, &cutting, paper)?));
        }
    }
    Ok(all)
}
