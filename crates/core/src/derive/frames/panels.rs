//! Panels in their grooves, one for each cell of a frame.

use glam::DVec2;

use super::{LEAST_CELL, Middle, Plane, Upright, upright_edge};
use crate::derive::builder::sized;
use crate::derive::{Builder, DesignError, Levels};
use crate::design::{Dimension, Sheet};
use crate::joint::Detail;
use crate::length::{Length, trimmed};
use crate::model::{BuildStage, Contact, Material, Meeting, NewPart, PartId, PartKind, Role};
use crate::origin::Size;
use crate::place::{Dir, Lie};

/// The panels of a frame: one in each cell between its uprights and its rails.
pub(super) fn place(
    builder: &mut Builder<'_>,
    levels: &Levels,
    plane: Plane,
    uprights: &[Upright],
    rails: [PartId; 2],
    middle: &[Vec<Middle>],
) -> Result<(), Vec<DesignError>> {
    for (column, pair) in uprights.windows(2).enumerate() {
        let mut below = (rails[0], levels.low.clone());
        let rows = middle[column].len() + 1;
        for row in 0..rows {
            let next = middle[column].get(row);
            let above = next.map_or_else(|| (rails[1], levels.high.clone()), |rail| (rail.part, rail.lower.clone()));
            let name = match (uprights.len() == 2, rows) {
                (true, 1) => String::new(),
                (true, _) => format!(".{}", row + 1),
                (false, 1) => format!(".{}", column + 1),
                (false, _) => format!(".{}.{}", column + 1, row + 1),
            };
            panel(builder, levels, plane, &name, &pair[0], &pair[1], [&below, &above])?;
            if let Some(rail) = next {
                below = (rail.part, rail.upper.clone());
            }
        }
    }
    Ok(())
}

/// A panel in the grooves of the four members round it.
fn panel(
    builder: &mut Builder<'_>,
    levels: &Levels,
    plane: Plane,
    name: &str,
    left: &Upright,
    right: &Upright,
    [below, above]: [&(PartId, Size); 2],
) -> Result<(), Vec<DesignError>> {
    let part = format!("panel.{}{name}", plane.name);
    let thickness = builder.as_bought(&part, &builder.size("timber.panel.measured"));
    // Grooves that are yet to be cut follow the panel that is there.
    let sheet = &Sheet { measured: Length::mm(thickness.mm), ..builder.design.timber.panel.clone() };
    let engaged =
        Size::sum("engaged in the groove", [(1.0, &builder.size("joinery.groove.depth")), (-1.0, &builder.size("joinery.groove.play"))]);
    let title = format!("{} panel{}", plane.title(), name.replacen('.', " ", 1));
    let wide = Size::sum(format!("{title}: width"), [(1.0, &right.low), (-1.0, &left.high), (2.0, &engaged)]);
    let long = Size::sum(format!("{title}: length"), [(1.0, &above.1), (-1.0, &below.1), (2.0, &engaged)]);
    if wide.mm < LEAST_CELL || long.mm < LEAST_CELL {
        return Err(vec![DesignError::NoRoom {
            path: "joinery.groove.play".to_owned(),
            problem: format!("{title} would be {} × {}", trimmed(long.mm), trimmed(wide.mm)),
            remedy: "make the play smaller, or the frame larger".to_owned(),
        }]);
    }
    let e = engaged.mm;
    let middle = levels.reveal.mm + levels.rail.mm / 2.0;
    let (u, v) = ((left.high.mm - e, right.low.mm + e), (below.1.mm - e, above.1.mm + e));
    let n = (middle - thickness.mm / 2.0, middle + thickness.mm / 2.0);
    let id = builder.place(NewPart {
        name: part,
        title: title.clone(),
        kind: PartKind::Panel,
        material: Material::Sheet(sheet.product.clone()),
        block: plane.block(u, v, n),
        lie: Lie { face: plane.out, edge: upright_edge(plane.out) },
        size: [long.clone(), wide.clone(), sized(&title, Dimension::Thickness, &thickness)],
        stage: BuildStage::GlueUp,
    });
    let (mid_u, mid_v) = (f64::midpoint(u.0, u.1), f64::midpoint(v.0, v.1));
    let right_way = plane.along();
    for (member, at, into, along, extent) in [
        (left.part, plane.point(left.high.mm, mid_v, middle), right_way.opposite(), Dir::PlusY, v.1 - v.0),
        (right.part, plane.point(right.low.mm, mid_v, middle), right_way, Dir::PlusY, v.1 - v.0),
        (below.0, plane.point(mid_u, below.1.mm, middle), Dir::MinusY, right_way, u.1 - u.0),
        (above.0, plane.point(mid_u, above.1.mm, middle), Dir::PlusY, right_way, u.1 - u.0),
    ] {
        builder.meet(
            &Meeting {
                role: Role::PanelToFrame,
                a: id,
                b: member,
                contact: Contact { centre: at, into, along, extent: DVec2::new(extent, thickness.mm) },
            },
            &Detail::Sheet(sheet),
        );
    }
    Ok(())
}
