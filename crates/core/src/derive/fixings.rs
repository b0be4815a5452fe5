//! What holds a solid top besides buttons: clips, figure-eight plates, screws in slotted strips.

use glam::{DVec2, DVec3};

use super::builder::sized;
use super::top::{Maker, Spot};
use crate::design::Dimension;
use crate::joint::button::{CLOSE_ROOM, SLOT_ROOM};
use crate::joint::room::is_soft;
use crate::joint::{Detail, clip, plate, screwed_up, slotted};
use crate::model::{BuildStage, Contact, Material, Meeting, NewPart, PartId, PartKind, Role};
use crate::origin::Size;
use crate::place::{Block, Dir, Lie};

impl Maker<'_, '_> {
    /// An offset clip with its tongue in a kerf.
    pub fn clip(&mut self, spot: &Spot) {
        let clips = &self.slab.clips;
        let (growth, shrinkage) = spot.out_and_in();
        let (low, high) = spot.along();
        let (length, width, metal) = (clips.length.to_mm(), clips.width.to_mm(), clips.metal.to_mm());
        let (offset, depth) = (clips.offset.to_mm(), clips.depth.to_mm());
        let gap = growth + clip::KERF_ROOM;
        let figures = clip::Figures {
            tongue: depth,
            flange: length - depth - metal,
            metal,
            offset,
            gap,
            kerf: clips.kerf.to_mm(),
            depth,
            along: width + if spot.holds { CLOSE_ROOM } else { 2.0 * SLOT_ROOM } + high - low,
            growth,
            shrinkage,
        };
        let upper = self.levels.post_height.mm - clip::DRAW;
        let sizes = ["carcase.top.clips.length", "carcase.top.clips.width"].map(|path| self.builder.size(path));
        let tall = Size::sum(
            "clip: height",
            [(1.0, &self.builder.size("carcase.top.clips.offset")), (1.0, &self.builder.size("carcase.top.clips.metal"))],
        );
        let [long, wide] = sizes;
        let size = [long.named("clip: length"), wide.named("clip: width"), tall];
        let tip = depth - gap;
        let fixing = self.fixing(PartKind::Clip, "steel clip", spot, (tip, tip - length), width, (upper - offset - metal, upper), size);
        let along = Dir::nearest(spot.into.vector().cross(DVec3::Y).abs());
        let middle = DVec3::new(spot.at.x, upper - offset - metal / 2.0, spot.at.z);
        self.builder.meet(
            &Meeting {
                role: Role::FixingToRail,
                a: fixing,
                b: spot.rail,
                contact: Contact { centre: middle, into: spot.into, along, extent: DVec2::new(width, metal) },
            },
            &Detail::Clip { figures, shift: f64::midpoint(low, high) },
        );
        let flange = length - depth - metal;
        self.under_top(fixing, spot, tip - length + flange / 2.0, along, DVec2::new(width, flange), metal);
    }

    /// A figure-eight plate, let into the upper edge of the rail.
    pub fn plate(&mut self, spot: &Spot) {
        let plates = &self.slab.plates;
        let (diameter, centres, metal) = (plates.diameter.to_mm(), plates.centres.to_mm(), plates.metal.to_mm());
        let depth = metal + plates.deeper.to_mm();
        let thick = self.levels.rail.mm;
        let moved = spot.travel[1].abs().max(spot.travel[0].abs());
        let both = (spot.travel[1] - spot.travel[0]).abs();
        let (along, across) = if spot.is_across() { (both, 0.0) } else { (0.0, moved) };
        let inside = plate::ring_in_rail(thick, centres);
        let rail = self.builder.part(spot.rail);
        let screw = screwed_up::Figures::of(metal, rail.body().size().y, is_soft(rail, self.builder.timbers()));
        let figures = plate::Figures {
            diameter,
            centres,
            metal,
            depth,
            inside,
            wall: thick - inside - diameter / 2.0 - plate::RING_ROOM,
            along,
            across,
            screw,
        };
        let high = self.levels.post_height.mm;
        let reach = (inside + diameter / 2.0, inside + diameter / 2.0 - centres - diameter);
        let long = Size::sum(
            "plate: length",
            [(1.0, &self.builder.size("carcase.top.plates.centres")), (1.0, &self.builder.size("carcase.top.plates.diameter"))],
        );
        let size = [
            long,
            self.builder.size("carcase.top.plates.diameter").named("plate: width"),
            self.builder.size("carcase.top.plates.metal").named("plate: thickness"),
        ];
        let fixing =
            self.fixing(PartKind::Plate, "steel figure-eight plate", spot, reach, diameter, (high - depth, high - depth + metal), size);
        let ring = spot.at + spot.into.vector() * inside;
        self.builder.meet(
            &Meeting {
                role: Role::FixingToRail,
                a: fixing,
                b: spot.rail,
                contact: Contact {
                    centre: DVec3::new(ring.x, high, ring.z),
                    into: Dir::MinusY,
                    along: spot.into.opposite(),
                    extent: DVec2::splat(diameter),
                },
            },
            &Detail::Plate(figures),
        );
        self.under_top(fixing, spot, inside - centres, spot.into, DVec2::splat(diameter), metal);
    }

    /// A strip along a rail, glued to it, with a slot for each screw.
    pub fn strip(&mut self, spots: &[Spot], span: (f64, f64), run: usize) {
        let Some(first) = spots.first() else { return };
        let strips = &self.slab.strips;
        let section = strips.section.to_mm();
        let high = self.levels.post_height.mm;
        let (from, to) = if first.is_across() {
            span
        } else {
            // The strips of the front and back rails run through.
            let (back, front) = (self.levels.inner.mm + section, self.levels.depth.mm - self.levels.inner.mm - section);
            (span.0.max(back), span.1.min(front))
        };
        if to - from < section {
            return;
        }
        self.made += 1;
        let along = Dir::nearest(first.into.vector().cross(DVec3::Y).abs());
        let middle = f64::midpoint(from, to);
        let at = first.at * (DVec3::ONE - along.vector()) + along.vector() * middle;
        let title = format!("Strip {}", self.made);
        let thick = self.builder.size("carcase.top.strips.section");
        let near = at.dot(first.into.vector().abs());
        let (a, b) = (near, near - first.into.sign() * section);
        let across = (a.min(b), a.max(b));
        let block = if first.is_across() {
            Block::new((from, to), (high - section, high), across)
        } else {
            Block::new(across, (high - section, high), (from, to))
        };
        let long = Size::ruled(format!("{title}: length"), to - from, "between the posts and what stands between them", [&thick]);
        let id = self.builder.place(NewPart {
            name: format!("strip.{}.{run}", strip_name(first.into)),
            title: title.clone(),
            kind: PartKind::Strip,
            material: Material::Solid(self.builder.design.timber.frame.clone()),
            block,
            lie: Lie { face: first.into, edge: Dir::PlusY },
            size: [long, sized(&title, Dimension::Width, &thick), sized(&title, Dimension::Thickness, &thick)],
            stage: BuildStage::GlueUp,
        });
        self.builder.meet(
            &Meeting {
                role: Role::FixingToRail,
                a: id,
                b: first.rail,
                contact: Contact {
                    centre: DVec3::new(at.x, high - section / 2.0, at.z),
                    into: first.into,
                    along,
                    extent: DVec2::new(to - from, section),
                },
            },
            &Detail::None,
        );
        for spot in spots {
            self.slotted(spot, id, (from, to));
        }
    }

    /// A screw through a slot of a strip into the top.
    fn slotted(&mut self, spot: &Spot, strip: PartId, (from, to): (f64, f64)) {
        let strips = &self.slab.strips;
        let (section, shank) = (strips.section.to_mm(), strips.shank.to_mm());
        let along = Dir::nearest(spot.into.vector().cross(DVec3::Y).abs());
        let place = spot.at.dot(along.vector());
        if place - from < section / 2.0 || to - place < section / 2.0 {
            return;
        }
        let travel = [spot.travel[0].max(spot.travel[1]).max(0.0), (-spot.travel[0]).max(-spot.travel[1]).max(0.0)];
        let engaged = (self.slab.thickness.to_mm() - 4.0).min(7.0 * shank).max(1.0);
        let across = if spot.is_across() { section } else { f64::INFINITY };
        let figures = slotted::Figures { shank, travel, way: Dir::PlusZ, washer: strips.washer.to_mm(), strip: section, across, engaged };
        let middle = spot.at - spot.into.vector() * (section / 2.0);
        self.builder.meet(
            &Meeting {
                role: Role::FixingToTop,
                a: self.top,
                b: strip,
                contact: Contact {
                    centre: DVec3::new(middle.x, self.levels.post_height.mm, middle.z),
                    into: Dir::MinusY,
                    along,
                    extent: DVec2::splat(section),
                },
            },
            &Detail::Slotted(figures),
        );
    }

    /// A piece of metal across a rail: `reach` from and to along the way into it, counted from its inner face.
    #[allow(clippy::too_many_arguments, reason = "what places a piece of metal has no better home")]
    fn fixing(
        &mut self,
        kind: PartKind,
        stuff: &str,
        spot: &Spot,
        reach: (f64, f64),
        width: f64,
        height: (f64, f64),
        size: [Size; 3],
    ) -> PartId {
        self.made += 1;
        let (singular, _) = kind.words();
        let into = spot.into.vector();
        let along = into.cross(DVec3::Y).abs();
        let flat = DVec3::new(spot.at.x, 0.0, spot.at.z);
        let (a, b) = (flat + into * reach.0 - along * width / 2.0, flat + into * reach.1 + along * width / 2.0);
        let block = Block { min: DVec3::new(0.0, height.0, 0.0) + a.min(b), max: DVec3::new(0.0, height.1, 0.0) + a.max(b) };
        self.builder.place(NewPart {
            name: format!("{}.{}", singular.to_lowercase(), self.made),
            title: format!("{singular} {}", self.made),
            kind,
            material: Material::Bought(stuff.to_owned()),
            block,
            // The first end is the rail's; the face side is the one under the top.
            lie: Lie { face: Dir::PlusY, edge: Dir::nearest(DVec3::Y.cross(-into)) },
            size,
            stage: BuildStage::AfterGlueUp,
        })
    }

    /// Screws a piece of metal up to the top, `reach` along the way into the rail, counted from its inner face, through so much of it.
    fn under_top(&mut self, fixing: PartId, spot: &Spot, reach: f64, along: Dir, extent: DVec2, through: f64) {
        let screw = spot.at + spot.into.vector() * reach;
        let contact = Contact { centre: DVec3::new(screw.x, self.levels.post_height.mm, screw.z), into: Dir::PlusY, along, extent };
        self.builder.meet(&Meeting { role: Role::FixingToTop, a: fixing, b: self.top, contact }, &Detail::Screwed(through));
    }
}

/// The word of the rail that lies that way from the room.
fn strip_name(into: Dir) -> &'static str {
    match into {
        Dir::PlusZ => "front",
        Dir::MinusZ => "back",
        Dir::MinusX => "left",
        Dir::PlusX | Dir::PlusY | Dir::MinusY => "right",
    }
}
