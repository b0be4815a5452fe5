//! What boxes stand on: slats with gaps, or one solid board.

use glam::{DVec2, DVec3};

use super::super::builder::sized;
use super::super::{Builder, Levels};
use super::{Depth, Place};
use crate::design::{Board, Dimension, Ruled};
use crate::inspect::TOUCH;
use crate::joint::Detail;
use crate::model::{BuildStage, Contact, Material, Meeting, NewPart, PartId, PartKind, Role};
use crate::origin::Size;
use crate::place::{Block, Dir, Lie};

/// From side to side: where the boards of a shelf begin and end, and how long they are.
pub(super) struct Across {
    pub x: (f64, f64),
    pub length: Size,
}

/// The slats of a shelf, whose lower faces are at `under`.
pub(super) fn slats(
    builder: &mut Builder<'_>,
    (name, title): &(String, String),
    across: &Across,
    depth: &Depth,
    under: f64,
) -> Vec<PartId> {
    let (width, thickness, play) = (builder.size("sawtooth.slats.width"), builder.slat_thickness(), builder.size("sawtooth.slats.play"));
    let count = builder.design.sawtooth.slats.count;
    let name = |index: u32| format!("slat.{name}.{}", index + 1);
    let made = |index: u32, of: Dimension, planned: &Size| builder.as_made(&name(index), of, planned).mm;
    let widths: Vec<f64> = (0..count).map(|index| made(index, Dimension::Width, &width)).collect();
    let thicknesses: Vec<f64> = (0..count).map(|index| made(index, Dimension::Thickness, &thickness)).collect();
    let starts = spread(depth.rear.mm + play.mm, depth.fore.mm, &widths);
    let mut placed = Vec::with_capacity(widths.len());
    for (index, ((z0, wide), thick)) in (0..).zip(starts.into_iter().zip(widths).zip(thicknesses)) {
        let title = format!("Slat {}, {title}", index + 1);
        placed.push(builder.place(NewPart {
            name: name(index),
            title: title.clone(),
            kind: PartKind::Slat,
            material: Material::Solid(builder.design.timber.shelving.clone()),
            block: Block::new(across.x, (under, under + thick), (z0, z0 + wide)),
            lie: Lie { face: Dir::PlusY, edge: Dir::MinusZ },
            size: [
                sized(&title, Dimension::Length, &across.length),
                sized(&title, Dimension::Width, &width),
                sized(&title, Dimension::Thickness, &thickness),
            ],
            stage: BuildStage::Loose,
        }));
    }
    placed
}

/// Where slats of these widths begin that are spread from the back rails to the front of the shelf with equal gaps; a gap below nothing shows as
/// an overlap. One alone lies in the middle.
fn spread(back: f64, front: f64, widths: &[f64]) -> Vec<f64> {
    let room = front - back;
    let [first, .., _] = widths else { return widths.iter().map(|width| back + (room - width) / 2.0).collect() };
    let last = (widths.len() - 1) as f64;
    if widths.iter().all(|width| (width - first).abs() <= TOUCH) {
        let step = (room - first) / last;
        return (0..widths.len()).map(|index| back + step * index as f64).collect();
    }
    let gap = (room - widths.iter().sum::<f64>()) / last;
    let begins = widths.iter().scan(back, |at, width| {
        let begins = *at;
        *at += width + gap;
        Some(begins)
    });
    begins.collect()
}

/// The heights of the lower and the upper face of a shelf of these boards, mm; where there is none, `under`.
pub(super) fn heights(builder: &Builder<'_>, boards: &[PartId], under: f64) -> (f64, f64) {
    (under, boards.iter().map(|board| builder.part(*board).block().max.y).fold(under, f64::max))
}

/// Room for a solid shelf to grow, mm, where so much of its width grows.
pub(super) fn room_to_grow(builder: &Builder<'_>, width: f64) -> Size {
    match builder.design.shelf.room {
        Ruled::Own(_) => builder.size("shelf.room"),
        Ruled::ByRule => {
            let mm = Board::room_by_rule(builder.design, width);
            let whole = Size::decided("", "width that grows", width);
            Size::ruled("room for the shelf to grow", mm, "what it grows to the wettest and 1 more", [&whole])
        }
    }
}

/// A solid shelf, its lower face at `under`: its front stays at the front of the shelves, and behind it is room for it to grow.
pub(super) fn solid(
    builder: &mut Builder<'_>,
    (name, title): &(String, String),
    across: &Across,
    depth: &Depth,
    under: f64,
    stage: BuildStage,
) -> PartId {
    let room = room_to_grow(builder, depth.fore.mm - depth.rear.mm);
    let width = Size::sum("solid shelf: width", [(1.0, &depth.fore), (-1.0, &depth.rear), (-1.0, &room)]);
    let thickness = builder.size("shelf.thickness");
    let title = format!("Shelf, {title}");
    let name = format!("shelf.{name}");
    let thick = builder.as_made(&name, Dimension::Thickness, &thickness).mm;
    builder.place(NewPart {
        name,
        title: title.clone(),
        kind: PartKind::Shelf,
        material: Material::Solid(builder.design.timber.shelving.clone()),
        block: Block::new(across.x, (under, under + thick), (depth.fore.mm - width.mm, depth.fore.mm)),
        // Measured from its front edge, which stays where it is.
        lie: Lie { face: Dir::PlusY, edge: Dir::PlusZ },
        size: [
            sized(&title, Dimension::Length, &across.length),
            sized(&title, Dimension::Width, &width),
            sized(&title, Dimension::Thickness, &thickness),
        ],
        stage,
    })
}

/// Between the uprights of a bay, with the play of a solid shelf or of slats at each end.
pub(super) fn between(builder: &Builder<'_>, at: &Place<'_>, play: &str) -> Across {
    let play = builder.size(play);
    let length = Size::sum("shelf: length", [(1.0, &at.clear()), (-2.0, &play)]);
    Across { x: (at.plan.left.mm + play.mm, at.plan.right.mm - play.mm), length }
}

/// Notches a board round a standard and the upright behind which it stands, where it reaches that far: so much free along it, and so much
/// across it.
pub(super) fn notch(builder: &mut Builder<'_>, levels: &Levels, board: PartId, standard: PartId, front: bool, clearance: [f64; 2]) {
    let (own, mut block) = (builder.part(board).block(), builder.part(standard).block());
    let [along, across] = clearance;
    // The room behind the standard belongs to the upright.
    if front {
        block.max.z = levels.depth.mm;
        block.min.z -= across - along;
    } else {
        block.min.z = 0.0;
        block.max.z += across - along;
    }
    let meets = own.max.z > block.min.z - along && own.min.z < block.max.z + along;
    if !meets {
        return;
    }
    let left = block.centre().x < own.centre().x;
    let corner = DVec3::new(if left { block.max.x } else { block.min.x }, own.min.y, if front { block.min.z } else { block.max.z });
    builder.meet(
        &Meeting {
            role: Role::SlatRoundStandard,
            a: board,
            b: standard,
            contact: Contact {
                centre: corner,
                into: if left { Dir::MinusX } else { Dir::PlusX },
                along: Dir::PlusZ,
                extent: DVec2::splat(along),
            },
        },
        &Detail::Round { block, clearance: along },
    );
}

/// A board lies on a cleat.
pub(super) fn rest_on_cleat(builder: &mut Builder<'_>, board: PartId, cleat: PartId) {
    let (own, on) = (builder.part(board).block(), builder.part(cleat).block());
    let low = own.min.max(on.min);
    let high = own.max.min(on.max);
    builder.meet(
        &Meeting {
            role: Role::SlatToCleat,
            a: board,
            b: cleat,
            contact: Contact {
                centre: DVec3::new(f64::midpoint(low.x, high.x), own.min.y, f64::midpoint(low.z, high.z)),
                into: Dir::MinusY,
                along: Dir::PlusZ,
                extent: DVec2::new((high.z - low.z).max(0.0), (high.x - low.x).max(0.0)),
            },
        },
        &Detail::None,
    );
}
