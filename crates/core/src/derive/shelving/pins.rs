//! Shelves on pins in rows of holes: every row is bored whole, from one datum, and a shelf lies on four pins.

use glam::{DVec2, DVec3};

use super::super::builder::sized;
use super::super::{Builder, Levels};
use super::{Depth, Laid, LevelsIn, Place, boards, lay};
use crate::design::{Dimension, PinOf, Ruled, Shelves};
use crate::joint::{Detail, face_and_point};
use crate::model::{BuildStage, Contact, Feature, LevelKind, Material, Meeting, NewPart, PartId, PartKind, Role, ShelfLevels};
use crate::origin::Size;
use crate::place::{Block, Dir, Lie};

pub(super) fn build(builder: &mut Builder<'_>, levels: &Levels, at: &Place<'_>, shelves: &Shelves, depth: &Depth) -> Laid {
    let pins = builder.design.pins;
    let count = pins.holes(levels.opening.mm);
    let rows = rows(builder, levels, at, count);
    let thickness = builder.size("shelf.thickness").mm;
    let pin = pins.diameter.to_mm() - pins.fit.to_mm();
    let of_bay = ShelfLevels {
        kind: LevelKind::Hole,
        lowest: levels.low.mm + pins.height(1) + pin / 2.0 + thickness,
        pitch: pins.pitch.to_mm(),
        count,
        thickness,
        under: pin,
    };
    lay(builder, at, shelves, of_bay, LevelsIn { part: at.flanks[0].uprights[0], count }, |builder, hole, index| {
        let names = at.names(index);
        let height = levels.low.mm + pins.height(hole);
        let across = boards::between(builder, at, "shelf.play");
        let shelf = boards::solid(builder, &names, &across, depth, height + pin / 2.0, BuildStage::Loose);
        for row in &rows {
            lie_on_pin(builder, at, &names, shelf, row, (hole, height));
        }
        boards::heights(builder, &[shelf], height + pin / 2.0)
    })
}

/// A row of holes in an upright.
struct Row {
    side: usize,
    /// "front" or "back".
    word: &'static str,
    upright: PartId,
    /// Its z in the case.
    z: f64,
}

/// Bores a row into the front and the back upright of both sides, every one from the floor of the bay.
fn rows(builder: &mut Builder<'_>, levels: &Levels, at: &Place<'_>, count: u32) -> Vec<Row> {
    let pins = builder.design.pins;
    let setback = |own: Ruled, path: &str| match own {
        Ruled::Own(_) => builder.size(path).mm,
        Ruled::ByRule => pins.setback(levels.post_depth.mm),
    };
    let places = [("front", levels.depth.mm - setback(pins.front, "pins.front")), ("back", setback(pins.back, "pins.back"))];
    let mut rows = Vec::new();
    for (side, flank) in at.flanks.iter().enumerate() {
        for ((word, z), upright) in places.into_iter().zip(flank.uprights) {
            if count > 0 {
                let first = DVec3::new(flank.face, levels.low.mm + pins.height(1), z);
                let last = first + DVec3::Y * (pins.pitch.to_mm() * f64::from(count - 1));
                let part = builder.part(upright);
                let (face, from) = face_and_point(part, -flank.out.vector(), first);
                let (_, to) = face_and_point(part, -flank.out.vector(), last);
                // Measured from the first end, which may be the upper one.
                let first = if from.x <= to.x { from } else { to };
                let (diameter, depth) = (pins.diameter.to_mm(), pins.depth.to_mm());
                builder.cut(upright, Feature::HoleRow { face, first, pitch: pins.pitch.to_mm(), count, diameter, depth });
            }
            rows.push(Row { side, word, upright, z });
        }
    }
    rows
}

/// A pin in a hole of a row, with the shelf on it.
fn lie_on_pin(builder: &mut Builder<'_>, at: &Place<'_>, names: &(String, String), shelf: PartId, row: &Row, (hole, height): (u32, f64)) {
    let flank = &at.flanks[row.side];
    let pins = builder.design.pins;
    let size = |path: &str| builder.size(path);
    let length = Size::sum("pin: length", [(1.0, &size("pins.depth")), (1.0, &size("pins.reach"))]);
    let thick = Size::sum("pin: diameter", [(1.0, &size("pins.diameter")), (-1.0, &size("pins.fit"))]);
    let title = format!("Pin, {}, {} {}", names.1, row.word, flank.word);
    let (inner, outer) = (flank.out_by(-pins.reach.to_mm()), flank.out_by(pins.depth.to_mm()));
    let half = thick.mm / 2.0;
    let material = match pins.of {
        PinOf::Steel => Material::Bought("steel shelf pin".to_owned()),
        PinOf::Wood => Material::Solid(builder.design.timber.shelving.clone()),
    };
    let pin = builder.place(NewPart {
        name: format!("pin.{}.{}.{}", names.0, row.word, flank.word),
        title: title.clone(),
        kind: PartKind::Pin,
        material,
        block: Block::new((inner.min(outer), inner.max(outer)), (height - half, height + half), (row.z - half, row.z + half)),
        lie: Lie { face: Dir::PlusY, edge: Dir::PlusZ },
        size: [
            sized(&title, Dimension::Length, &length),
            sized(&title, Dimension::Width, &thick),
            sized(&title, Dimension::Thickness, &thick),
        ],
        stage: BuildStage::Loose,
    });
    // With both edges half round, a square section is a circle.
    builder.cut(pin, Feature::RoundEdges);
    let centre = DVec3::new(flank.face, height, row.z);
    let contact = Contact { centre, into: flank.out, along: Dir::PlusY, extent: DVec2::splat(thick.mm) };
    builder.meet(&Meeting { role: Role::PinToUpright, a: pin, b: row.upright, contact }, &Detail::Hole(hole));
    let (own, on) = (builder.part(shelf).block(), builder.part(pin).block());
    let (from, to) = (own.min.x.max(on.min.x), own.max.x.min(on.max.x));
    let centre = DVec3::new(f64::midpoint(from, to), own.min.y, row.z);
    let extent = DVec2::new(thick.mm, (to - from).max(0.0));
    let contact = Contact { centre, into: Dir::MinusY, along: Dir::PlusZ, extent };
    builder.meet(&Meeting { role: Role::ShelfToPin, a: shelf, b: pin, contact }, &Detail::None);
}
