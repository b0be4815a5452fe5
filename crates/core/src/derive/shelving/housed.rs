//! Shelves whose ends are let into the posts and dividers, front and back.

use glam::{DVec2, DVec3};

use super::super::{Builder, Levels};
use super::{Depth, Flank, Laid, LevelsIn, Place, boards, lay, steps_in};
use crate::design::{Dimension, Shelves};
use crate::joint::Detail;
use crate::model::{BuildStage, Contact, LevelKind, Meeting, PartId, Role, ShelfLevels};
use crate::place::Dir;
use crate::timber::{Rates, movement};

pub(super) fn build(builder: &mut Builder<'_>, levels: &Levels, at: &Place<'_>, shelves: &Shelves, depth: &Depth) -> Laid {
    let housed = builder.design.housed;
    let thickness = builder.size("shelf.thickness").mm;
    let high = housed.first.to_mm() + thickness;
    let of_bay = ShelfLevels {
        kind: LevelKind::Step,
        lowest: levels.low.mm + high,
        pitch: housed.step.to_mm(),
        // As much is left over the highest as under the lowest.
        count: steps_in(levels.opening.mm - high - housed.first.to_mm(), housed.step.to_mm()),
        thickness,
        under: 0.0,
    };
    // What stops in front is closed in by the carcase; what runs out there is slid in when that stands.
    let stage = if housed.stop.to_mm() > 0.0 { BuildStage::GlueUp } else { BuildStage::AfterGlueUp };
    lay(builder, at, shelves, of_bay, LevelsIn { part: at.flanks[0].uprights[0], count: of_bay.count }, |builder, level, index| {
        let names = at.names(index);
        let across = boards::Across { x: (at.plan.left.mm, at.plan.right.mm), length: at.clear() };
        let shelf = boards::solid(builder, &names, &across, depth, of_bay.top(level) - thickness, stage);
        for flank in &at.flanks {
            for (upright, front) in flank.uprights.into_iter().zip([true, false]) {
                let_in(builder, flank, shelf, (upright, front), depth);
            }
        }
        boards::heights(builder, &[shelf], of_bay.top(level) - thickness)
    })
}

/// Lets the end of a shelf into an upright: stopped in front, with room to grow at the back; glued in front only.
fn let_in(builder: &mut Builder<'_>, flank: &Flank, shelf: PartId, (upright, front): (PartId, bool), depth: &Depth) {
    let (own, on) = (builder.part(shelf).block(), builder.part(upright).block());
    let (from, to) = (own.min.z.max(on.min.z), own.max.z.min(on.max.z));
    if to - from <= 1e-6 {
        return;
    }
    let stop = builder.design.housed.stop.to_mm();
    let contact = Contact {
        centre: DVec3::new(flank.face, own.centre().y, f64::midpoint(from, to)),
        into: flank.out,
        along: Dir::PlusZ,
        extent: DVec2::new(to - from, own.size().y),
    };
    // At the front the housing comes from the inner edge of the upright; at the back it runs out there, and stops behind the shelf.
    let detail = if front {
        Detail::Housed { stops: [0.0, stop], room: [0.0; 2], thicker: 0.0, glued: true }
    } else {
        let thicker = grows_thicker(builder, shelf);
        Detail::Housed { stops: [0.0; 2], room: [(own.min.z - depth.rear.mm).max(0.0), 0.0], thicker, glued: false }
    };
    builder.meet(&Meeting { role: Role::ShelfToUpright, a: shelf, b: upright, contact }, &detail);
}

/// How much thicker a shelf grows to the wettest, mm, to the tenth: where it is to slide as it grows wider, its housing is so much wider.
fn grows_thicker(builder: &Builder<'_>, shelf: PartId) -> f64 {
    let part = builder.part(shelf);
    let moisture = &builder.design.timber.moisture;
    let rate = Rates::of(&part.material, part.sawn, builder.timbers()).along(Dimension::Thickness);
    let grown = movement(part.size[2].mm, rate, moisture.built, moisture.wettest()).max(0.0);
    (grown * 10.0 - 1e-6).ceil() / 10.0
}
