//! Files that other programs open: meshes, solids and outlines.
//!
//! | as | gives | follows |
//! |---|---|---|
//! | [`Format::Stl`] | a mesh a part, mm | the customary binary form; a triangle's normal and corners as 32-bit numbers |
//! | [`Format::ThreeMf`] | a mesh a part, mm | 3MF core specification 1.3 |
//! | [`Format::Gltf`] | the whole case, part by part, with its timbers | glTF 2.0 (ISO/IEC 12113:2022), binary form |
//! | [`Format::Step`] | the whole case as solids, with planes and true cylinders | ISO 10303-21, application protocol 214 |
//! | [`Format::Dxf`] | the outline of each part from its face side, its cuts by depth, and the templates, mm | DXF release 2000 |
//! | [`Format::Svg`] | the same | SVG 1.1, a unit a mm |
//!
//! Parts with equal solids share a file; it is named after their mark.

mod dxf;
mod gltf;
mod outline;
mod step;
mod stl;
mod svg;
mod three_mf;

use std::sync::Arc;

use casewright_core::model::Part;
use casewright_core::shapes::Made;
use casewright_core::{Design, Model, Solids};
use thiserror::Error;

use crate::stop::{BrokenOff, Stop};

/// What files are written as.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// Outlines and cuts of each part, by layers.
    Dxf,
    /// The same as a picture in true size.
    Svg,
    /// The whole case to look at.
    Gltf,
    /// A mesh of each part.
    Stl,
    /// A mesh of each part, with its name and unit.
    ThreeMf,
    /// The whole case as solids.
    Step,
}

impl Format {
    /// All of them.
    pub const ALL: [Format; 6] = [Format::Dxf, Format::Svg, Format::Gltf, Format::Stl, Format::ThreeMf, Format::Step];
}

/// A file to be written.
#[derive(Clone, Debug, PartialEq)]
pub struct File {
    /// Its name.
    pub name: String,
    /// What is in it.
    pub bytes: Vec<u8>,
}

/// Why a file can't be made.
#[derive(Debug, Error)]
pub enum ExchangeError {
    /// It was to stop before all were made.
    #[error(transparent)]
    BrokenOff(#[from] BrokenOff),
    /// The case has more in it than the form can hold.
    #[error("{file}: it can't be written: {why}")]
    CantWrite {
        /// Which file.
        file: String,
        /// What the writer said.
        why: String,
    },
}

/// Corners this near each other are one, mm: a tenth of what a file's reader could measure.
const SAME: f64 = 1e-3;

/// Off the whole and half steps, at which most corners lie.
const OFF: f64 = 0.29;

/// Parts whose solids are equal.
struct Kind<'m> {
    /// The mark; with a number behind it where one mark has several solids.
    name: String,
    made: &'m Arc<Made>,
    parts: Vec<&'m Part>,
}

/// The files of a case in a format. `made` is when they are made, as ISO 8601 has it, where that is to stand in them.
///
/// # Errors
/// When one of them can't be made.
pub fn export(design: &Design, model: &Model, solids: &Solids, format: Format, made: Option<&str>) -> Result<Vec<File>, ExchangeError> {
    export_until(design, model, solids, (format, made), Stop::default())
}

/// The same, broken off between two parts where it is to stop.
pub(crate) fn export_until(
    design: &Design,
    model: &Model,
    solids: &Solids,
    (format, made): (Format, Option<&str>),
    stop: Stop<'_>,
) -> Result<Vec<File>, ExchangeError> {
    let kinds = kinds(model, solids);
    let each = |ending: &str, write: &dyn Fn(&Kind<'_>) -> Result<Vec<u8>, String>| {
        let file = |kind: &Kind<'_>| {
            stop.go_on()?;
            let name = format!("{}.{ending}", kind.name);
            match write(kind) {
                Ok(bytes) => Ok(File { name, bytes }),
                Err(why) => Err(ExchangeError::CantWrite { file: name, why }),
            }
        };
        kinds.iter().map(file).collect::<Result<Vec<_>, _>>()
    };
    let whole = |name: &str, bytes: Vec<u8>| Ok(vec![File { name: name.to_owned(), bytes }]);
    match format {
        Format::Dxf => {
            let mut files = each("dxf", &dxf::of)?;
            files.extend(template_files_until(model, stop)?);
            Ok(files)
        }
        Format::Svg => each("svg", &|kind| Ok(svg::of(kind))),
        Format::Stl => each("stl", &|kind| Ok(stl::of(kind))),
        Format::ThreeMf => each("3mf", &three_mf::of),
        Format::Gltf => {
            let bytes = gltf::of(design, model, &kinds, stop)?;
            whole("case.glb", bytes.map_err(|why| ExchangeError::CantWrite { file: "case.glb".to_owned(), why })?)
        }
        Format::Step => whole("case.step", step::of(&design.name, &kinds, made, stop)?),
    }
}

/// The templates of a case as outlines for a machine or a laser shop, a DXF file each, named after the marks they serve.
///
/// # Errors
/// When one of them can't be made.
pub fn template_files(model: &Model) -> Result<Vec<File>, ExchangeError> {
    template_files_until(model, Stop::default())
}

fn template_files_until(model: &Model, stop: Stop<'_>) -> Result<Vec<File>, ExchangeError> {
    let mut names: Vec<String> = Vec::new();
    let mut files = Vec::new();
    for template in casewright_core::template::templates(model) {
        stop.go_on()?;
        let plain = format!("template-{}", template.marks().replace(", ", "-"));
        let same = names.iter().filter(|known| **known == plain).count();
        names.push(plain.clone());
        let name = if same > 0 { format!("{plain}-no{}.dxf", same + 1) } else { format!("{plain}.dxf") };
        let bytes = dxf::template(&template).map_err(|why| ExchangeError::CantWrite { file: name.clone(), why })?;
        files.push(File { name, bytes });
    }
    Ok(files)
}

/// Whether two solids are one: cut in another order, a part has its corners in another order too.
fn is_same(a: &Arc<Made>, b: &Arc<Made>) -> bool {
    let corners = |made: &Made| {
        let mut all: Vec<[i64; 3]> = made.shape.positions.iter().map(|at| (*at / SAME + OFF).floor().as_i64vec3().to_array()).collect();
        all.sort_unstable();
        all.dedup();
        all
    };
    Arc::ptr_eq(a, b) || (a.shape.positions.len() == b.shape.positions.len() && corners(a) == corners(b))
}

/// The parts of a model by equal solids, in the order of the model. Parts that their cuts leave nothing of are left out.
fn kinds<'m>(model: &'m Model, solids: &'m Solids) -> Vec<Kind<'m>> {
    let mut kinds: Vec<Kind<'m>> = Vec::new();
    for part in &model.parts {
        let Ok(made) = solids.of(part.id) else { continue };
        let like = |kind: &Kind<'m>| kind.parts[0].mark == part.mark && is_same(kind.made, made);
        if let Some(kind) = kinds.iter_mut().find(|kind| like(kind)) {
            kind.parts.push(part);
            continue;
        }
        let same_mark = kinds.iter().filter(|kind| kind.parts[0].mark == part.mark).count();
        let number = if same_mark > 0 { format!("-{}", same_mark + 1) } else { String::new() };
        kinds.push(Kind { name: format!("{}{number}", part.mark), made, parts: vec![part] });
    }
    kinds
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use casewright_core::{ShapeCache, derive};

    use super::*;

    #[test]
    fn a_mark_is_one_file_and_no_file_has_another_name() {
        let examples = [
            include_str!("../../../../examples/records_cabinet.ron"),
            include_str!("../../../../examples/workroom_mixed.ron"),
            include_str!("../../../../examples/linen_shelves_housed.ron"),
        ];
        for text in examples {
            let design = casewright_core::design::text::read(text).expect("an example");
            let model = derive(&design).expect("a case");
            let solids = ShapeCache::default().shape(&model);
            let files = export(&design, &model, &solids, Format::Stl, None).expect("files");
            let names: Vec<String> = files.into_iter().map(|file| file.name).collect();
            let marks: BTreeSet<String> = model.parts.iter().map(|part| format!("{}.stl", part.mark)).collect();
            assert_eq!(names.len(), marks.len(), "{}: {names:?}", design.name);
            assert!(names.iter().all(|name| marks.contains(name)), "{}: {names:?}", design.name);
        }
    }
}
