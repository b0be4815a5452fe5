//! Veneer that is glued onto sheets here: it is in no layout, and told beside them.

use super::Left;
use crate::cutlist::{CutList, Row, facing};
use crate::design::{Design, Facing, Veneered};
use crate::length::trimmed_to;
use crate::model::{Material, Model};
use crate::takeoff::{TakeOff, sawn_from};

/// The rows of sheets that are veneered here, with what is glued onto them.
fn rows<'l>(design: &'l Design, model: &'l Model, list: &'l CutList) -> impl Iterator<Item = (&'l Row, Facing)> {
    let sheets = list.rows.iter().filter(|row| row.lippings == 0);
    sheets.filter_map(move |row| Some((row, facing(design, model.part(*row.parts.first()?)))))
}

/// The leaves of each mark: how many faces and balancing sheets, how large, and what they take.
pub(super) fn besides(design: &Design, model: &Model, list: &CutList) -> Vec<Left> {
    let species = Material::Solid(design.timber.frame.clone());
    let species = model.timbers.name(&species);
    let told = |(row, facing): (&Row, Facing)| {
        let (count, [length, width]) = (2 * row.parts.len(), facing.faces(row.finished));
        let area = count as f64 * length * width / 1e6;
        let takes = match facing.veneer {
            Veneered::No => return None,
            Veneered::Bought => format!("bought, {} m² without waste", trimmed_to(area, 2)),
            Veneered::Sawn => format!("sawn here from {} m³ of boards", trimmed_to(sawn_from(design, area).value, 4)),
        };
        let [length, width, thick] = [length, width, facing.veneer(&design.money.make_up)].map(|mm| trimmed_to(mm, 1));
        let words = format!(
            "{species}, veneer {length} × {width}, {thick} thick, a face and a balancing sheet for each; joined edge to edge where leaves are narrower; {takes}"
        );
        Some(Left { mark: row.mark.clone(), count: u32::try_from(count).unwrap_or(u32::MAX), words })
    };
    rows(design, model, list).filter_map(told).collect()
}

/// What is said where veneer is sawn here: its boards are neither laid out nor bought with the others.
pub(super) fn is_in_no_layout(design: &Design, model: &Model, list: &CutList) -> Option<String> {
    let of = rows(design, model, list).filter(|(_, facing)| facing.veneer == Veneered::Sawn);
    let marks: Vec<&str> = of.map(|(row, _)| row.mark.as_str()).collect();
    let veneer = TakeOff::of(design, model).veneer.into_iter().find(|veneer| veneer.comes == Veneered::Sawn)?;
    Some(format!(
        "Veneer for {} is sawn here: {} m³ of {} for it are in no layout and in no sum; keep boards for it, or buy them besides",
        marks.join(", "),
        trimmed_to(veneer.to_buy.value, 4),
        veneer.made_of
    ))
}
