//! Parts of veneered sheet that stand side by side and look one way: the figure runs on from each to the next where they are cut from one sheet, or veneered leaf after leaf
//! from one bundle, in the order in which they stand.

use crate::cutlist::facing;
use crate::design::{Design, Veneered};
use crate::model::{Material, Model, Part, PartId};
use crate::place::{Block, Dir};

/// What stands as near to one line or plane is in it, mm.
const IN_LINE: f64 = 1.0;

/// A part in a row.
struct Standing {
    part: PartId,
    looks: Dir,
    block: Block,
}

/// The rows of a case, each of two or more, from left to right as one sees who stands before their face sides.
pub fn rows(design: &Design, model: &Model) -> Vec<Vec<PartId>> {
    let has_figure = |part: &&Part| match part.material {
        Material::Sheet(_) => facing(design, part).veneer != Veneered::No || model.timbers.has_grain(&part.material),
        Material::Solid(_) | Material::Bought(_) => false,
    };
    let mut rows: Vec<Vec<Standing>> = Vec::new();
    for part in model.parts.iter().filter(has_figure) {
        let looks = Dir::nearest(-part.pose.basis.z_axis);
        if to_the_right(looks, part.block()).is_none() {
            continue;
        }
        let standing = Standing { part: part.id, looks, block: part.block() };
        match rows.iter_mut().find(|row| row.first().is_some_and(|first| is_beside(first, &standing))) {
            Some(row) => row.push(standing),
            None => rows.push(vec![standing]),
        }
    }
    rows.retain(|row| row.len() > 1);
    for row in &mut rows {
        let place = |standing: &Standing| to_the_right(standing.looks, standing.block).unwrap_or(0.0);
        row.sort_by(|a, b| place(a).total_cmp(&place(b)));
    }
    rows.into_iter().map(|row| row.into_iter().map(|standing| standing.part).collect()).collect()
}

/// How far to the right it begins for who stands before it; nothing of what lies.
fn to_the_right(looks: Dir, block: Block) -> Option<f64> {
    match looks {
        Dir::PlusZ => Some(block.min.x),
        Dir::MinusZ => Some(-block.max.x),
        Dir::PlusX => Some(-block.max.z),
        Dir::MinusX => Some(block.min.z),
        Dir::PlusY | Dir::MinusY => None,
    }
}

/// Whether two look one way, lie in one plane and are as high.
fn is_beside(a: &Standing, b: &Standing) -> bool {
    let near = |a: f64, b: f64| (a - b).abs() < IN_LINE;
    let in_plane = match a.looks {
        Dir::PlusX | Dir::MinusX => near(a.block.min.x, b.block.min.x),
        Dir::PlusZ | Dir::MinusZ => near(a.block.min.z, b.block.min.z),
        Dir::PlusY | Dir::MinusY => false,
    };
    a.looks == b.looks && in_plane && near(a.block.min.y, b.block.min.y) && near(a.block.max.y, b.block.max.y)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The panels of the demo's back stand side by side: from the left of who looks at their face sides each begins farther to the right. Bare MDF has no figure, until it is veneered here.
    #[test]
    fn panels_of_a_back_stand_in_a_row() {
        let mut design: Design = crate::design::text::read(include_str!("../../../examples/records_cabinet.ron")).expect("the demo");
        let model = crate::derive(&design).expect("the demo");
        let all = rows(&design, &model);
        let back = all.iter().find(|row| row.iter().all(|part| model.part(*part).name.contains(".back"))).expect("the back");
        assert!(back.len() > 1, "{all:?}");
        let x = |part: &PartId| model.part(*part).block().min.x;
        let looks = model.part(back[0]).face_side_looks();
        let is_ordered = |pair: &[PartId]| if looks == "to the back" { x(&pair[0]) > x(&pair[1]) } else { x(&pair[0]) < x(&pair[1]) };
        assert!(back.windows(2).all(is_ordered), "{looks} {back:?}");
        design.timber.panel.product = "mdf_en622_5_12".to_owned();
        let model = crate::derive(&design).expect("the demo");
        assert!(rows(&design, &model).iter().flatten().all(|part| !model.part(*part).name.contains(".back")));
        design.timber.facing.panel.veneer = Veneered::Bought;
        assert_eq!(rows(&design, &model).len(), all.len());
    }
}
