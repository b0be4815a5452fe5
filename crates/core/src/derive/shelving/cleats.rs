//! Shelves on cleats that are fixed to the posts and dividers, from front to back.

use glam::{DVec2, DVec3};

use super::super::builder::sized;
use super::super::{Builder, Levels};
use super::{Depth, Flank, Laid, LevelsIn, Place, boards, is_solid, lay, steps_in};
use crate::design::{CleatsBy, Dimension, Ruled, Shelves};
use crate::joint::Detail;
use crate::joint::room::is_soft;
use crate::joint::screw::{self, Gauge, Head};
use crate::length::Length;
use crate::model::{BuildStage, Contact, LevelKind, Material, Meeting, NewPart, PartId, PartKind, Role, ShelfLevels};
use crate::origin::Size;
use crate::place::{Block, Dir, Lie};

/// The screws of a cleat: gauge 6, of which an upright of some width takes 7 diameters (from memory).
const GAUGE: Gauge = Gauge::Six;
/// How much of the thread goes into an upright, in diameters (from memory).
const THREAD: f64 = 7.0;
/// From an edge of an upright to its screw, in diameters (from memory).
const FROM_EDGE: f64 = 4.0;
/// The least from the end of a cleat to its screw, mm (common practice, no source).
const FROM_END: f64 = 16.0;
/// The ends of a cleat stand back so far from the front of its shelf and from what is behind it, mm (common practice, no source).
const SHORT: f64 = 4.0;

pub(super) fn build(builder: &mut Builder<'_>, levels: &Levels, at: &Place<'_>, shelves: &Shelves, depth: &Depth) -> Laid {
    let cleats = builder.design.cleats;
    let solid = is_solid(builder, &at.plan.fitting);
    let thickness = if solid { builder.size("shelf.thickness") } else { builder.slat_thickness() };
    let height = builder.size("cleats.height");
    let high = cleats.first.to_mm() + height.mm + thickness.mm;
    let of_bay = ShelfLevels {
        kind: LevelKind::Step,
        lowest: levels.low.mm + high,
        pitch: cleats.step.to_mm(),
        count: steps_in(levels.opening.mm - high, cleats.step.to_mm()),
        thickness: thickness.mm,
        under: height.mm,
    };
    lay(builder, at, shelves, of_bay, LevelsIn { part: at.flanks[0].uprights[0], count: of_bay.count }, |builder, level, index| {
        let names = at.names(index);
        let under = of_bay.top(level) - thickness.mm;
        let both = [0, 1].map(|side| cleat(builder, &at.flanks[side], &names, depth, under - height.mm));
        let boards = if solid {
            let across = boards::between(builder, at, "shelf.play");
            vec![boards::solid(builder, &names, &across, depth, under, BuildStage::Loose)]
        } else {
            let across = boards::between(builder, at, "sawtooth.slats.play");
            boards::slats(builder, &names, &across, depth, under)
        };
        for board in &boards {
            for cleat in both {
                boards::rest_on_cleat(builder, *board, cleat);
            }
        }
        boards::heights(builder, &boards, under)
    })
}

/// A cleat against the front and the back upright of a side, its lower edge at `low`.
fn cleat(builder: &mut Builder<'_>, flank: &Flank, names: &(String, String), depth: &Depth, low: f64) -> PartId {
    let (height, thickness) = (builder.size("cleats.height"), builder.size("cleats.thickness"));
    let title = format!("Cleat, {}, {}", names.1, flank.word);
    let short = Size::decided("", "short of the shelf at each end", SHORT);
    let length = Size::sum("cleat: length", [(1.0, &depth.fore), (-1.0, &depth.rear), (-2.0, &short)]);
    let z = (depth.rear.mm + SHORT, depth.fore.mm - SHORT);
    let inner = flank.out_by(-thickness.mm);
    let id = builder.place(NewPart {
        name: format!("cleat.{}.{}", names.0, flank.word),
        title: title.clone(),
        kind: PartKind::Cleat,
        material: Material::Solid(builder.design.timber.shelving.clone()),
        block: Block::new((inner.min(flank.face), inner.max(flank.face)), (low, low + height.mm), z),
        lie: Lie { face: Dir::PlusX, edge: Dir::MinusY },
        size: [
            sized(&title, Dimension::Length, &length),
            sized(&title, Dimension::Width, &height),
            sized(&title, Dimension::Thickness, &thickness),
        ],
        stage: BuildStage::AfterGlueUp,
    });
    for (upright, front) in flank.uprights.into_iter().zip([true, false]) {
        fix(builder, flank, id, (upright, front));
    }
    id
}

/// Screws a cleat to an upright, or glues it there.
fn fix(builder: &mut Builder<'_>, flank: &Flank, cleat: PartId, (upright, front): (PartId, bool)) {
    let (own, on) = (builder.part(cleat).block(), builder.part(upright).block());
    let (from, to) = (own.min.z.max(on.min.z), own.max.z.min(on.max.z));
    if to - from <= 1e-6 {
        return;
    }
    let height = own.size().y;
    let middle = own.centre().y;
    match builder.design.cleats.by {
        CleatsBy::Glue => {
            let contact = Contact {
                centre: DVec3::new(flank.face, middle, f64::midpoint(from, to)),
                into: flank.out,
                along: Dir::PlusZ,
                extent: DVec2::new(to - from, height),
            };
            builder.meet(&Meeting { role: Role::CleatToUpright, a: cleat, b: upright, contact }, &Detail::None);
        }
        CleatsBy::Screws => {
            // As far from the inner edge of the upright as the screw wants, and from the end of the cleat.
            let edge = FROM_EDGE * GAUGE.diameter();
            let (inner, from_end) = if front { (on.min.z + edge, to - FROM_END) } else { (on.max.z - edge, from + FROM_END) };
            // Where the cleat covers too little of the upright for both, it stands in the middle of that.
            let has_room = if front { inner <= from_end } else { inner >= from_end };
            let z = if has_room { inner } else { f64::midpoint(from, to) };
            let contact =
                Contact { centre: DVec3::new(flank.face, middle, z), into: flank.out, along: Dir::PlusZ, extent: DVec2::new(1.0, height) };
            let thickness = own.size().x;
            let wants = thickness + THREAD * GAUGE.diameter();
            let screws = screw::Wanted {
                gauge: GAUGE,
                length: Length::mm((wants / 5.0).ceil() * 5.0),
                count: 1,
                margin: Length::ZERO,
                head: Head::Countersunk,
                shank_hole: Ruled::ByRule,
                pilot: Ruled::ByRule,
                hard: !is_soft(builder.part(upright), builder.timbers()),
            };
            builder.meet(&Meeting { role: Role::CleatToUpright, a: cleat, b: upright, contact }, &Detail::Screws(screws));
        }
    }
}
