//! Where boards and sheets are not as thick as the parts want that are to come out of them: how thick sheets are designed to be, and what is said of those that are not, and of leaves that
//! come out too thin.

use super::comes_from_offcuts;
use super::rack::{AS_GOOD, Usable, called, clean};
use crate::cutlist::{CutList, Row, facing};
use crate::design::pile::Stuff;
use crate::design::{Design, SHORT};
use crate::length::trimmed_to;
use crate::model::{Material, Model};

/// A thickness of sheet for which parts are designed.
pub(super) struct Designed<'m> {
    /// The product.
    id: &'m str,
    /// What is sawn of the sheet, mm.
    thickness: f64,
    /// What is glued onto it makes the parts so much thicker, mm.
    on_it: f64,
    /// The marks of these parts.
    marks: Vec<&'m str>,
}

impl Designed<'_> {
    /// Whether a sheet is of that product and as thick as that.
    pub fn is_fitted_by(&self, stuff: &Stuff, design: &Design) -> bool {
        stuff.of == self.id && is_as_designed(design, stuff.thickness.to_mm(), self.thickness)
    }

    /// The decision that says what such sheets measure, where they are the panels' or the floors'.
    fn decision(&self, design: &Design) -> Option<&'static str> {
        let sheets = [(&design.timber.panel, "timber.panel.measured"), (&design.timber.floor, "timber.floor.measured")];
        let is_it = |measured: f64| (measured - self.thickness - self.on_it).abs() < AS_GOOD;
        sheets.into_iter().find(|(sheet, _)| sheet.product == self.id && is_it(sheet.measured.to_mm())).map(|(_, path)| path)
    }
}

/// Whether a sheet that measures so much is as thick as is designed, mm.
pub(super) fn is_as_designed(design: &Design, measured: f64, designed: f64) -> bool {
    (measured - designed).abs() <= design.timber.rough.sheet_off.to_mm() + 1e-6
}

/// All thicknesses for which parts of sheet are designed: what is sawn of each, less what is glued onto it.
pub(super) fn designed<'m>(design: &Design, model: &'m Model) -> Vec<Designed<'m>> {
    let mut all: Vec<Designed<'m>> = Vec::new();
    for part in &model.parts {
        let Material::Sheet(id) = &part.material else { continue };
        let thickness = facing(design, part).sawn(part.lwt().to_array(), &design.money.make_up)[2];
        match all.iter_mut().find(|known| known.id == id && (known.thickness - thickness).abs() < AS_GOOD) {
            Some(known) if known.marks.contains(&part.mark.as_str()) => {}
            Some(known) => known.marks.push(&part.mark),
            None => all.push(Designed { id, thickness, on_it: part.lwt().z - thickness, marks: vec![&part.mark] }),
        }
    }
    all
}

/// What is said of a sheet that measures otherwise than all that is designed for its product.
pub(super) fn not_as_designed(design: &Design, (entry, stuff): (usize, &Stuff), sheets: &[Designed<'_>]) -> Option<String> {
    let measured = stuff.thickness.to_mm();
    let of_it = || sheets.iter().filter(|sheet| sheet.id == stuff.of);
    let near = of_it().min_by(|a, b| (a.thickness - measured).abs().total_cmp(&(b.thickness - measured).abs()))?;
    if of_it().any(|sheet| sheet.is_fitted_by(stuff, design)) {
        return None;
    }
    let by = measured - near.thickness;
    let first = match near.decision(design) {
        Some(path) => format!("set {path}={} first, and they follow", trimmed_to(measured + near.on_it, 2)),
        None => "make these parts as thick first".to_owned(),
    };
    Some(format!(
        "{}: it measures {} mm, too {} by {} for {}, whose grooves and fits are made for {}: nothing is cut from it; {first}",
        called(entry, stuff),
        trimmed_to(measured, 2),
        if by > 0.0 { "thick" } else { "thin" },
        trimmed_to(by.abs(), 2),
        near.marks.join(", "),
        trimmed_to(near.thickness, 2),
    ))
}

/// What is said of long boards that are resawn, whose leaves would be thick enough for some parts had they been crosscut before.
pub(super) fn too_thin_resawn<'u>(design: &Design, list: &CutList, usables: impl Iterator<Item = &'u Usable<'u>>) -> Vec<String> {
    let told = |usable: &Usable<'_>| {
        let stuff = usable.stuff;
        let (leaf, short) = (usable.leaf(), clean(&design.timber.rough, stuff, SHORT));
        let thick = |row: &&Row| row.rough.map(|rough| row.finished[2] / f64::from(rough.layers));
        let is_it = |row: &&Row| thick(row).is_some_and(|thick| thick > leaf + AS_GOOD && thick <= short + AS_GOOD);
        let of_it = |row: &&Row| matches!(&row.material, Material::Solid(id) if *id == stuff.of) && !comes_from_offcuts(row.kind);
        let marks: Vec<&str> = list.rows.iter().filter(of_it).filter(is_it).map(|row| row.mark.as_str()).collect();
        (!marks.is_empty()).then(|| {
            format!(
                "{}: it is planed and resawn whole, {} long, and its leaves come out {} mm, too thin for {}; crosscut to {} or less before, they come out {}: enter it so",
                called(usable.entry, stuff),
                trimmed_to(stuff.length.to_mm(), 0),
                trimmed_to(leaf, 2),
                marks.join(", "),
                trimmed_to(SHORT, 0),
                trimmed_to(short, 2)
            )
        })
    };
    usables.filter(|usable| usable.stuff.leaves > 1 && !usable.is_sheet).filter_map(told).collect()
}
