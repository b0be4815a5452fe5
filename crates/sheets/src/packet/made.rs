//! Each piece as files, and as pages for a screen.

use std::borrow::Cow;

use casewright_core::boards;
use casewright_core::contents::arrange::{Effort, STEPS, ShelvesMay, arrange};
use casewright_core::{CutList, OrderOfWork, Sequence, loads};

use super::{LONG, Packed, PacketError, Piece, tables};
use crate::drawing::{Drafting, drafted_until, pages, part_pages, part_sheets_until};
use crate::exchange::{File, export_until};
use crate::typeset::{Set, SheetError};
use crate::{Over, Page, cut_list_csv, rod_pages, rod_pdf, template_pages, templates_pdf};
use crate::{board_plans, labels, lists, order_of_work, setup_cards, shelf_plan};

/// Rounds of search for what is cut from which board: enough for a handful of boards, and the same each time.
pub(super) const ROUNDS: u64 = 60;

impl Piece {
    /// Its files; none where the case has nothing for it, such as board plans without a pile. Files for other programs lie in a folder of their kind,
    /// `step/case.step`.
    ///
    /// The same design gives the same bytes.
    ///
    /// # Errors
    /// When one of them can't be made.
    pub fn make(self, of: &Packed<'_>) -> Result<Vec<File>, PacketError> {
        let Packed { design, model, solids, findings, how, stop, .. } = *of;
        stop.go_on()?;
        if let Some(format) = self.format() {
            let folder = self.word().to_lowercase();
            let files = export_until(design, model, solids, (format, None), stop)?;
            return Ok(files.into_iter().map(|file| File { name: format!("{folder}/{}", file.name), ..file }).collect());
        }
        let pdf = |bytes| vec![File { name: format!("{}.pdf", self.file()), bytes }];
        Ok(match self {
            Piece::Drawings => pdf(drafted_until((design, model, solids), &sequence(of), findings, &how.drafting, stop)?),
            Piece::PartSheets => pdf(part_sheets_until(design, model, solids, &how.drafting, stop)?),
            Piece::Rod => self.full_size(|drafting, over| rod_pdf(design, model, drafting, over), of)?,
            Piece::Templates => self.full_size(|drafting, over| templates_pdf(design, model, drafting, over), of)?,
            Piece::OrderOfWork | Piece::Labels | Piece::SetUpCards | Piece::ShelfPlan | Piece::BoardPlans => match self.set(of)? {
                Some(set) => {
                    stop.go_on()?;
                    pdf(set.pdf()?)
                }
                None => Vec::new(),
            },
            Piece::CutList => {
                let table = File { name: "cut_list.csv".to_owned(), bytes: cut_list_csv(&CutList::of(design, model)).into_bytes() };
                let list = self.set(of)?;
                stop.go_on()?;
                let list = list.map(|set| set.pdf()).transpose()?;
                list.map(pdf).into_iter().flatten().chain([table]).collect()
            }
            Piece::Tables => tables::all(of)?,
            Piece::Dxf | Piece::Svg | Piece::Gltf | Piece::Stl | Piece::ThreeMf | Piece::Step => Vec::new(),
        })
    }

    /// Its pages as they are printed, over sheets where it is drawn in full size; none of what is no paper, and where the case has nothing for it.
    /// The words at the end of the drawings are left out.
    ///
    /// # Errors
    /// When the typesetter does not take it.
    pub fn pages(self, of: &Packed<'_>) -> Result<Vec<Page>, PacketError> {
        let Packed { design, model, solids, order, how, .. } = *of;
        Ok(match self {
            Piece::Drawings => pages(design, model, solids, order, &how.drafting),
            Piece::PartSheets => part_pages(design, model, solids, &how.drafting),
            Piece::Rod => rod_pages(model, &how.for_a_printer(), Over::Sheets),
            Piece::Templates => template_pages(model, &how.for_a_printer(), Over::Sheets),
            Piece::OrderOfWork | Piece::CutList | Piece::Labels | Piece::SetUpCards | Piece::ShelfPlan | Piece::BoardPlans => {
                self.set(of)?.map_or_else(Vec::new, |set| set.pages(self.file(), &casewright_core::sentence::capital(self.word())))
            }
            Piece::Dxf | Piece::Svg | Piece::Gltf | Piece::Stl | Piece::ThreeMf | Piece::Step | Piece::Tables => Vec::new(),
        })
    }

    /// What its paper is called, without an ending.
    fn file(self) -> &'static str {
        match self {
            Piece::OrderOfWork => "order_of_work",
            Piece::CutList => "cut_list",
            Piece::Labels => "labels",
            Piece::Drawings => "drawings",
            Piece::PartSheets => "part_sheets",
            Piece::Rod => "rod",
            Piece::Templates => "templates",
            Piece::SetUpCards => "set_up_cards",
            Piece::ShelfPlan => "shelf_plan",
            Piece::BoardPlans => "board_plans",
            Piece::Dxf | Piece::Svg | Piece::Gltf | Piece::Stl | Piece::ThreeMf | Piece::Step | Piece::Tables => "",
        }
    }

    /// As the typesetter sets it; nothing where the case has nothing for it, and of what is drawn.
    fn set(self, of: &Packed<'_>) -> Result<Option<Set>, SheetError> {
        let Packed { design, model, how, .. } = *of;
        let paper = how.paper();
        let set = match self {
            Piece::OrderOfWork => order_of_work::set(design, model, &order_of_work(of), &paper),
            Piece::CutList => lists::set(design, model, &paper),
            Piece::Labels => labels::set(design, model, &paper),
            Piece::SetUpCards => setup_cards::set(design, model, &paper),
            Piece::ShelfPlan => {
                // More things than can be asked about at once have no plan; the case is the same without it.
                let stands = arrange(design, model, ShelvesMay::Stay, Effort::steps(STEPS));
                stands.map_or(Err(SheetError::Empty), |stands| shelf_plan::set(design, model, &stands, &paper))
            }
            Piece::BoardPlans if design.shop.pile.is_empty() => Err(SheetError::Empty),
            Piece::BoardPlans => board_plans::set(design, model, &boards::cut(design, model, boards::Effort::rounds(ROUNDS)), &paper),
            Piece::Drawings
            | Piece::PartSheets
            | Piece::Rod
            | Piece::Templates
            | Piece::Dxf
            | Piece::Svg
            | Piece::Gltf
            | Piece::Stl
            | Piece::ThreeMf
            | Piece::Step
            | Piece::Tables => Err(SheetError::Empty),
        };
        match set {
            Ok(set) => Ok(Some(set)),
            Err(SheetError::Empty) => Ok(None),
            Err(error) => Err(error),
        }
    }

    /// Something in full size, over sheets and on long pages; nothing where the case has none of it.
    fn full_size(self, draw: impl Fn(&Drafting, Over) -> Result<Vec<u8>, SheetError>, of: &Packed<'_>) -> Result<Vec<File>, SheetError> {
        let drafting = of.how.for_a_printer();
        let mut files = Vec::new();
        for (over, ending) in [(Over::Sheets, ""), (Over::OnePage, LONG)] {
            of.stop.go_on()?;
            match draw(&drafting, over) {
                Ok(bytes) => files.push(File { name: format!("{}{ending}.pdf", self.file()), bytes }),
                Err(SheetError::Empty) => {}
                Err(error) => return Err(error),
            }
        }
        Ok(files)
    }
}

/// The order of assembly, worked out where it isn't known.
pub(super) fn sequence<'a>(of: &Packed<'a>) -> Cow<'a, Sequence> {
    of.order.map_or_else(|| Cow::Owned(Sequence::of(of.design, of.model, of.solids)), Cow::Borrowed)
}

fn order_of_work(of: &Packed<'_>) -> OrderOfWork {
    let sequence = sequence(of);
    let lifts = loads::lifts(of.design, of.model, of.solids, &sequence);
    OrderOfWork::of(of.design, of.model, of.solids, &sequence, &lifts)
}
