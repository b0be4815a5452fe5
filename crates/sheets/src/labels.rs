//! Stick-on labels: one for each piece, with its mark, what it is, its sizes, and where face side and face edge look.

use casewright_core::cutlist::Row;
use casewright_core::model::{Material, PartKind};
use casewright_core::{CutList, Design, Model};
use serde::{Deserialize, Serialize};

use crate::drawing::Paper;
use crate::figures::Figures;
use crate::lists::rough;
use crate::typeset::{self, Set, SheetError};

const TEMPLATE: &str = include_str!("../../../assets/sheets/labels.typ");

/// Sheets of labels in common sizes (common practice, from memory: measure yours).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum LabelSheet {
    /// A4 with 24 labels of 70 × 37 mm, edge to edge.
    #[default]
    A4By24,
    /// A4 with 21 labels of 63.5 × 38.1 mm.
    A4By21,
    /// Letter with 30 labels of 2⅝ × 1 in.
    LetterBy30,
}

/// Where labels lie on their sheet, mm.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct LabelForm {
    /// The sheet: width and height.
    pub sheet: [f64; 2],
    /// A label: width and height.
    pub label: [f64; 2],
    /// From the upper left corner of the sheet to the first label.
    pub first: [f64; 2],
    /// From one label to the next, across and down.
    pub step: [f64; 2],
    /// How many stand beside each other.
    pub across: usize,
    /// How many stand under each other.
    pub down: usize,
}

impl LabelSheet {
    /// All of them.
    pub const ALL: [LabelSheet; 3] = [LabelSheet::A4By24, LabelSheet::A4By21, LabelSheet::LetterBy30];

    /// Where its labels lie.
    pub fn form(self) -> LabelForm {
        let a4 = [210.0, 297.0];
        match self {
            LabelSheet::A4By24 => LabelForm { sheet: a4, label: [70.0, 37.0], first: [0.0, 0.5], step: [70.0, 37.0], across: 3, down: 8 },
            LabelSheet::A4By21 => {
                LabelForm { sheet: a4, label: [63.5, 38.1], first: [7.25, 15.15], step: [66.0, 38.1], across: 3, down: 7 }
            }
            LabelSheet::LetterBy30 => {
                LabelForm { sheet: [215.9, 279.4], label: [66.675, 25.4], first: [4.7625, 12.7], step: [69.85, 25.4], across: 3, down: 10 }
            }
        }
    }
}

/// A label.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Label {
    /// The mark of its piece.
    pub mark: String,
    /// Which of them it is: "2 of 4"; or how many it is for, where they are too small for a label each.
    pub number: String,
    /// What it is.
    pub title: String,
    /// Finished size.
    pub finished: String,
    /// Rough size; empty where it has none.
    pub rough: String,
    /// Where face side and face edge look; empty where it has none.
    pub face: String,
    /// Of what it is.
    pub material: String,
}

/// The labels of a case, one for each piece in the order of the cut list; one for all of a mark that are smaller than a label.
pub fn labels(design: &Design, model: &Model, sheet: LabelSheet, figures: Figures) -> Vec<Label> {
    let form = sheet.form();
    CutList::of(design, model).rows.iter().flat_map(|row| of_row(model, row, &form, figures)).collect()
}

fn of_row(model: &Model, row: &Row, form: &LabelForm, figures: Figures) -> Vec<Label> {
    let small = row.finished[0] < form.label[0] || matches!(row.kind, PartKind::LooseTenon | PartKind::Dowel | PartKind::Pin);
    let bought = matches!(row.material, Material::Bought(_));
    let count = row.parts.len();
    let label = |number: String, title: String, face: String| Label {
        mark: row.mark.clone(),
        number,
        title,
        finished: row.finished.map(|mm| figures.exact(mm)).join(" × "),
        rough: rough(row, figures),
        face,
        material: row.made_of.clone(),
    };
    if small || bought {
        return vec![label(format!("{count}, for the bag"), row.kind.words().1.to_owned(), String::new())];
    }
    let each = row.parts.iter().enumerate().map(|(at, part)| {
        let number = if count > 1 { format!("{} of {count}", at + 1) } else { String::new() };
        let part = model.part(*part);
        label(number, part.title.clone(), format!("Face side {}, face edge {}", part.face_side_looks(), part.face_edge_looks()))
    });
    each.collect()
}

/// What the template reads.
#[derive(Serialize)]
struct Data<'a> {
    name: &'a str,
    form: LabelForm,
    /// In what sizes are.
    unit: &'static str,
    /// The labels of each sheet; none where one is used up.
    pages: Vec<Vec<Option<Label>>>,
}

/// The labels of a case as PDF; the first `paper.used` places of the first sheet are left free.
///
/// The same design gives the same bytes.
///
/// # Errors
/// When there are no parts, or the typesetter fails.
pub fn labels_pdf(design: &Design, model: &Model, paper: &Paper) -> Result<Vec<u8>, SheetError> {
    set(design, model, paper)?.pdf()
}

/// The same as it was set.
pub(crate) fn set(design: &Design, model: &Model, paper: &Paper) -> Result<Set, SheetError> {
    let labels = labels(design, model, paper.labels, paper.figures);
    if labels.is_empty() {
        return Err(SheetError::Empty);
    }
    let form = paper.labels.form();
    let on_a_sheet = form.across * form.down;
    let free = std::iter::repeat_n(None, paper.used as usize % on_a_sheet);
    let places: Vec<Option<Label>> = free.chain(labels.into_iter().map(Some)).collect();
    let pages = places.chunks(on_a_sheet).map(<[_]>::to_vec).collect();
    typeset::set(TEMPLATE, &Data { name: &design.name, form, unit: paper.figures.unit_mark(), pages })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_lie_on_their_sheet_and_beside_each_other() {
        for sheet in LabelSheet::ALL {
            let form = sheet.form();
            for (axis, many) in [form.across, form.down].into_iter().enumerate() {
                let end = form.first[axis] + form.step[axis] * (many as f64 - 1.0) + form.label[axis];
                assert!(end <= form.sheet[axis] + 1e-9 && form.step[axis] >= form.label[axis], "{sheet:?}");
            }
        }
    }
}
