//! Spacers: upright strips behind loose cleats, so that these can't slide out of their teeth: at the dividers, and at the sides where a panel or
//! rails leave room for one.

use glam::{DVec2, DVec3};

use super::super::builder::sized;
use super::super::{Builder, Levels};
use crate::design::{Dimension, Spacers};
use crate::joint::Detail;
use crate::model::{BuildStage, Contact, Material, Meeting, NewPart, Part, PartId, PartKind, Role};
use crate::origin::Size;
use crate::place::{Block, Dir, Lie};

/// How far a spacer reaches past the tips of the teeth, behind the end of a cleat, mm (common practice, no source).
const BEHIND_CLEAT: f64 = 15.0;

/// A strip is no thinner than this, mm (common practice, no source): where less room is left, what leaves it stands behind the cleats itself.
const THINNEST: f64 = 3.0;

/// The room that strips stand in.
pub(super) struct Gap {
    /// Its words in names, and in titles.
    pub words: (String, String),
    /// x of its two faces.
    pub faces: (f64, f64),
}

impl Gap {
    /// In the divider to the right of a bay, counted from 1.
    pub fn divider(bay: usize, faces: (f64, f64)) -> Gap {
        Gap { words: (bay.to_string(), format!("between bays {bay} and {}", bay + 1)), faces }
    }

    /// At a side of the case, as far as the outer face of its posts.
    pub fn side(word: &str, faces: (f64, f64)) -> Gap {
        Gap { words: (word.to_owned(), format!("at the {word} side")), faces }
    }
}

/// What strips stand at, each the front and the back one.
#[derive(Clone, Copy)]
pub(super) enum Beside {
    /// The standards of the bay on its left and of that on its right; none of a bay without.
    Each([Option<[PartId; 2]>; 2]),
    /// Those that serve both bays.
    One([PartId; 2]),
    /// Those at a side of the case, which lies that way from them.
    Side([PartId; 2], Dir),
}

/// Strips between the standards of two bays, glued to both; beside those of the one that has some, or that stand at a side; or before the tips of
/// those that serve both.
pub(super) fn build(builder: &mut Builder<'_>, levels: &Levels, gap: &Gap, beside: Beside) {
    if builder.design.sawtooth.spacers == Spacers::None {
        return;
    }
    for (index, word) in ["front", "back"].into_iter().enumerate() {
        let strip = match beside {
            Beside::Each(both) => between(builder, gap, both.map(|standards| standards.map(|both| both[index])), index == 0),
            Beside::One(both) => Some(before_tips(builder, gap, both[index], index == 0)),
            Beside::Side(both, out) => Some(at_side(builder, levels, gap, (both[index], out), index == 0)),
        };
        if let Some(strip) = strip.filter(|strip| strip.x.1 - strip.x.0 > THINNEST - 1e-6) {
            strip.place(builder, gap, word);
        }
    }
}

fn behind() -> Size {
    Size::ruled("behind the ends of the cleats", BEHIND_CLEAT, "so far past the tips of the teeth: common practice, no source", [])
}

/// A strip as it is to be placed.
struct Strip {
    x: (f64, f64),
    z: (f64, f64),
    width: Size,
    thickness: Size,
    /// The standards that it is glued to, and which way each lies from it.
    glued: Vec<(PartId, Dir)>,
}

/// Beside standards: behind the ends of the cleats in them.
fn between(builder: &Builder<'_>, gap: &Gap, [left, right]: [Option<PartId>; 2], front: bool) -> Option<Strip> {
    let thick = builder.design.sawtooth.thickness.to_mm();
    let block = |standard: PartId| builder.part(standard).block();
    let (x, why) = match (left, right) {
        (Some(left), Some(right)) => ((block(left).max.x, block(right).min.x), "what the standards of both bays leave between them"),
        (Some(left), None) => ((block(left).max.x, (block(left).max.x + thick).min(gap.faces.1)), BESIDE_ONE),
        (None, Some(right)) => (((block(right).min.x - thick).max(gap.faces.0), block(right).min.x), BESIDE_ONE),
        (None, None) => return None,
    };
    let glued = left.map(|left| (left, Dir::MinusX)).into_iter().chain(right.map(|right| (right, Dir::PlusX)));
    Some(Strip::beside(builder, left.or(right)?, x, why, glued.collect(), front))
}

/// At a side of the case: as far as a panel or rails leave room for it, and no thicker than the standard.
fn at_side(builder: &Builder<'_>, levels: &Levels, gap: &Gap, (standard, out): (PartId, Dir), front: bool) -> Strip {
    let of = builder.part(standard).block();
    let from = if out == Dir::MinusX { of.min.x } else { of.max.x };
    let limit = if out == Dir::MinusX { gap.faces.0 } else { gap.faces.1 };
    let (_, z) = Strip::depth(builder, standard, front);
    let behind = builder.parts().iter().map(Part::block).filter(|block| {
        let beside = block.min.z < z.1 - 1e-6 && block.max.z > z.0 + 1e-6;
        beside && block.min.y < levels.high.mm - 1e-6 && block.max.y > levels.low.mm + 1e-6
    });
    // What reaches farther out than the standard, from its outer face: nothing where it reaches across that.
    let rooms = behind.filter_map(|block| {
        let (near, far) =
            if out == Dir::MinusX { (from - block.max.x, from - block.min.x) } else { (block.min.x - from, block.max.x - from) };
        (far > 1e-6).then_some(near.max(0.0))
    });
    let room = rooms.fold((limit - from).abs(), f64::min);
    let thick = room.min(builder.design.sawtooth.thickness.to_mm());
    let x = if out == Dir::MinusX { (from - thick, from) } else { (from, from + thick) };
    let why = "as thick as the standard beside it, where the side of the case leaves so much";
    Strip::beside(builder, standard, x, why, vec![(standard, out.opposite())], front)
}

const BESIDE_ONE: &str = "as thick as the standard beside it, where the divider leaves so much";

/// Between the cleats of two bays in one standard, before the tips of its teeth.
fn before_tips(builder: &Builder<'_>, gap: &Gap, standard: PartId, front: bool) -> Strip {
    let sawtooth = &builder.design.sawtooth;
    // The slats reach in as far as a standard of one bay is thick.
    let taken = sawtooth.cleat.thickness.to_mm().max(sawtooth.thickness.to_mm());
    let own = builder.part(standard);
    let (of, thick) = (own.block(), &own.size[2]);
    let x = (gap.faces.0 + taken, gap.faces.1 - taken);
    let why = "what the cleats of both bays leave between them";
    Strip {
        x,
        z: if front { (of.min.z - BEHIND_CLEAT, of.min.z) } else { (of.max.z, of.max.z + BEHIND_CLEAT) },
        width: behind().named("spacer: width"),
        thickness: Size::ruled("spacer: thickness", x.1 - x.0, why, [thick]),
        glued: vec![(standard, if front { Dir::PlusZ } else { Dir::MinusZ })],
    }
}

impl Strip {
    /// One whose width covers a standard and what it reaches past the tips of its teeth.
    fn beside(builder: &Builder<'_>, standard: PartId, x: (f64, f64), why: &'static str, glued: Vec<(PartId, Dir)>, front: bool) -> Strip {
        let (width, z) = Strip::depth(builder, standard, front);
        Strip { x, z, width, thickness: Size::ruled("spacer: thickness", x.1 - x.0, why, [&builder.part(standard).size[1]]), glued }
    }

    /// How wide a strip beside a standard is, and from where to where along the depth of the case it stands.
    fn depth(builder: &Builder<'_>, standard: PartId, front: bool) -> (Size, (f64, f64)) {
        let own = builder.part(standard);
        let of = own.block();
        let z = if front { (of.min.z - BEHIND_CLEAT, of.max.z) } else { (of.min.z, of.max.z + BEHIND_CLEAT) };
        (Size::sum("spacer: width", [(1.0, &own.size[1]), (1.0, &behind())]), z)
    }

    /// As high as the standards that it is glued to, from the foot of the higher one.
    fn place(&self, builder: &mut Builder<'_>, gap: &Gap, word: &str) {
        let foot = |standard: &PartId| builder.part(*standard).block().min.y;
        let highest = self.glued.iter().map(|(standard, _)| *standard).max_by(|a, b| foot(a).total_cmp(&foot(b)));
        let Some(own) = highest.map(|standard| builder.part(standard)) else { return };
        let (y, length) = ((own.block().min.y, own.block().max.y), own.size[0].named("spacer: length"));
        let title = format!("Spacer {}, {word}", gap.words.1);
        let block = Block::new(self.x, y, self.z);
        let id = builder.place(NewPart {
            name: format!("spacer.{}.{word}", gap.words.0),
            title: title.clone(),
            kind: PartKind::Spacer,
            material: Material::Solid(builder.design.timber.shelving.clone()),
            block,
            lie: Lie { face: Dir::PlusX, edge: if word == "front" { Dir::PlusZ } else { Dir::MinusZ } },
            size: [
                sized(&title, Dimension::Length, &length),
                sized(&title, Dimension::Width, &self.width),
                sized(&title, Dimension::Thickness, &self.thickness),
            ],
            stage: BuildStage::AfterGlueUp,
        });
        for &(standard, into) in &self.glued {
            let of = builder.part(standard).block();
            let face = |axis: usize| if into.sign() > 0.0 { block.max[axis] } else { block.min[axis] };
            let shared = |axis: usize| (block.min[axis].max(of.min[axis]), block.max[axis].min(of.max[axis]));
            let across = 2 - into.axis();
            let (from, to) = shared(across);
            let (low, high) = shared(1);
            let mut centre = DVec3::new(0.0, f64::midpoint(low, high), 0.0);
            centre[into.axis()] = face(into.axis());
            centre[across] = f64::midpoint(from, to);
            let contact = Contact { centre, into, along: Dir::PlusY, extent: DVec2::new(high - low, to - from) };
            builder.meet(&Meeting { role: Role::SpacerToStandard, a: id, b: standard, contact }, &Detail::None);
        }
    }
}
