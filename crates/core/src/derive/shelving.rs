//! Sawtooth standards, cleats and slats, and the rooms between shelves.

use glam::{DVec2, DVec3};

use super::builder::sized;
use super::frames::Frames;
use super::interior::BayPlan;
use super::{Builder, DesignError, Levels};
use crate::design::{Bottom, Dimension, Fitting, Sawtooth, Shelves};
use crate::inspect::{Figure, Finding, Remedy, Rule, Seriousness};
use crate::joint::{Detail, seat};
use crate::length::trimmed;
use crate::model::{Bay, BuildStage, Contact, Feature, Material, Meeting, NewPart, PartId, PartKind, Role, Room, ShelfLevels};
use crate::origin::Size;
use crate::place::{Block, Dir, Lie};

/// The common figures of all shelving.
struct Common<'s> {
    sawtooth: &'s Sawtooth,
    seats: u32,
    /// Width of a standard, seats and backing.
    width: Size,
    thickness: Size,
    /// Thickness of a slat.
    slat: Size,
    cleat_length: Size,
    /// z of the face of the front and the back standards' teeth.
    teeth: (f64, f64),
    /// z of the back and the front of the shelves.
    shelf: (Size, Size),
}

impl<'s> Common<'s> {
    fn of(builder: &Builder<'s>, levels: &Levels) -> Result<Common<'s>, Vec<DesignError>> {
        let sawtooth = &builder.design.sawtooth;
        let size = |path: &str| builder.size(path);
        let width = Size::sum("standard: width", [(1.0, &size("sawtooth.backing")), (1.0, &size("sawtooth.seat"))]);
        let between = Size::sum("between the posts, front to back", [(1.0, &levels.depth), (-2.0, &levels.post_depth)]);
        let cleat_length = Size::sum(
            "cleat: length at its lower edge",
            [(1.0, &between), (-2.0, &size("sawtooth.backing")), (-1.0, &size("sawtooth.cleat.play"))],
        );
        let rear = levels.inner.named("inner face of the back rails");
        let fore = Size::sum("front of the shelves", [(1.0, &levels.depth), (-1.0, &size("sawtooth.slats.set_back"))]);
        let teeth = (levels.depth.mm - levels.post_depth.mm - width.mm, levels.post_depth.mm + width.mm);
        let no_room =
            |path: &str, problem: String, remedy: String| Err(vec![DesignError::NoRoom { path: path.to_owned(), problem, remedy }]);
        if sawtooth.pitch <= sawtooth.crest * 2.0 {
            return no_room(
                "sawtooth.crest",
                format!("a flat of {} mm leaves no tooth worth the name in a pitch of {} mm", sawtooth.crest, sawtooth.pitch),
                format!("it must be less than half the pitch, {} mm", trimmed(sawtooth.pitch.to_mm() / 2.0)),
            );
        }
        if cleat_length.mm - 2.0 * seat::bevel_inset(sawtooth) < LEAST_CLEAT {
            return no_room(
                "carcase.depth",
                format!("the standards leave {} for a cleat", trimmed(cleat_length.mm)),
                "make the case deeper, the posts thinner or the backing less".to_owned(),
            );
        }
        if fore.mm - rear.mm < LEAST_CLEAT {
            return no_room(
                "sawtooth.slats.set_back",
                format!("it leaves {} for a shelf", trimmed(fore.mm - rear.mm)),
                "set the shelves back less".to_owned(),
            );
        }
        Ok(Common {
            sawtooth,
            seats: seat::seats(sawtooth, levels.opening.mm),
            width,
            thickness: size("sawtooth.thickness"),
            slat: builder.slat_thickness(),
            cleat_length,
            teeth,
            shelf: (rear, fore),
        })
    }

    /// Height of the upper face of the slats above the foot of the standards, on a tooth.
    fn shelf_height(&self, tooth: u32) -> f64 {
        seat::seat_height(self.sawtooth, tooth) + self.sawtooth.cleat.height.to_mm() + self.slat.mm
    }
}

/// The least length of a cleat at its upper edge, and the least depth of a shelf, mm: less is a slip.
const LEAST_CLEAT: f64 = 5.0;

/// One side of a bay.
struct Flank {
    word: &'static str,
    /// x of the bay's clear face there.
    face: f64,
    /// From that face out of the bay.
    out: f64,
    /// What the standards stand against, front and back.
    uprights: [PartId; 2],
}

pub(super) fn build(builder: &mut Builder<'_>, levels: &Levels, plans: &[BayPlan], frames: &Frames) -> Result<(), Vec<DesignError>> {
    let common = Common::of(builder, levels)?;
    for (bay, plan) in plans.iter().enumerate() {
        let flanks = flanks(plan, bay, plans.len(), frames);
        let mut levels_in_bay = Vec::new();
        if let Fitting::Sawtooth(shelves) = &plan.fitting {
            let standards = flanks.each_ref().map(|flank| standards(builder, levels, &common, bay, flank));
            levels_in_bay = place_shelves(builder, levels, &common, bay, plan, shelves, &flanks, &standards);
        }
        rooms(builder, levels, &common, bay, plan, &levels_in_bay);
    }
    Ok(())
}

fn flanks(plan: &BayPlan, bay: usize, bays: usize, frames: &Frames) -> [Flank; 2] {
    let upright = |left: bool, index: Option<usize>| {
        let divided = index.and_then(|index| Some([*frames.front.uprights.get(index)?, *frames.back.as_ref()?.uprights.get(index)?]));
        divided.unwrap_or([frames.post(true, left), frames.post(false, left)])
    };
    [
        Flank { word: "left", face: plan.left.mm, out: -1.0, uprights: upright(true, bay.checked_sub(1)) },
        Flank { word: "right", face: plan.right.mm, out: 1.0, uprights: upright(false, (bay + 1 < bays).then_some(bay)) },
    ]
}

/// The front and the back standard on one side of a bay.
fn standards(builder: &mut Builder<'_>, levels: &Levels, common: &Common<'_>, bay: usize, flank: &Flank) -> [PartId; 2] {
    let x = span(flank.face, flank.face + flank.out * common.thickness.mm);
    let [front, back] = flank.uprights;
    let front = builder.made_face(front, Dir::MinusZ).unwrap_or(levels.depth.mm - levels.post_depth.mm);
    let back = builder.made_face(back, Dir::PlusZ).unwrap_or(levels.post_depth.mm);
    let places = [("front", (front - common.width.mm, front), Dir::PlusZ), ("back", (back, back + common.width.mm), Dir::MinusZ)];
    let mut made = [PartId(0); 2];
    for (index, (word, z, into)) in places.into_iter().enumerate() {
        let title = format!("Standard, bay {}, {word} {}", bay + 1, flank.word);
        let face = Dir::nearest(DVec3::Y.cross(into.vector()));
        let id = builder.place(NewPart {
            name: format!("standard.{}.{word}.{}", bay + 1, flank.word),
            title: title.clone(),
            kind: PartKind::Standard,
            material: Material::Solid(builder.design.timber.shelving.clone()),
            block: Block::new(x, (levels.low.mm, levels.high.mm), z),
            lie: Lie { face, edge: into },
            size: [
                sized(&title, Dimension::Length, &levels.opening),
                sized(&title, Dimension::Width, &common.width),
                sized(&title, Dimension::Thickness, &common.thickness),
            ],
            stage: BuildStage::AfterGlueUp,
        });
        let s = common.sawtooth;
        if common.seats > 0 {
            let teeth = Feature::Teeth {
                first: s.first.to_mm(),
                pitch: s.pitch.to_mm(),
                seat: s.seat.to_mm(),
                crest: s.crest.to_mm(),
                count: common.seats,
            };
            builder.cut(id, teeth);
        }
        builder.meet(
            &Meeting {
                role: Role::StandardToPost,
                a: id,
                b: flank.uprights[index],
                contact: Contact {
                    centre: DVec3::new(
                        f64::midpoint(x.0, x.1),
                        f64::midpoint(levels.low.mm, levels.high.mm),
                        if into == Dir::PlusZ { z.1 } else { z.0 },
                    ),
                    into,
                    along: Dir::PlusY,
                    extent: DVec2::new(levels.opening.mm, common.thickness.mm),
                },
            },
            &Detail::None,
        );
        made[index] = id;
    }
    made
}

fn span(a: f64, b: f64) -> (f64, f64) {
    (a.min(b), a.max(b))
}

/// Places the shelves whose teeth are there and free, and gives tooth and number of each from the lowest.
#[allow(clippy::too_many_arguments, reason = "a shelf knows its bay, its teeth and both flanks")]
fn place_shelves(
    builder: &mut Builder<'_>,
    levels: &Levels,
    common: &Common<'_>,
    bay: usize,
    plan: &BayPlan,
    shelves: &Shelves,
    flanks: &[Flank; 2],
    standards: &[[PartId; 2]; 2],
) -> Vec<(u32, usize)> {
    let mut used: Vec<(u32, usize)> = Vec::new();
    for (index, &tooth) in shelves.shelves.iter().enumerate() {
        if tooth == 0 || tooth > common.seats {
            builder.found(no_tooth(plan, bay, index, tooth, common, &shelves.shelves, standards[0][0]));
            continue;
        }
        if let Some((_, other)) = used.iter().find(|(taken, _)| *taken == tooth) {
            builder.found(tooth_taken(plan, bay, [index, *other], tooth, common, &shelves.shelves, standards[0][0]));
            continue;
        }
        used.push((tooth, index));
        let seat = levels.low.mm + seat::seat_height(common.sawtooth, tooth);
        let name = format!("{}.{}", bay + 1, index + 1);
        let title = format!("bay {}, shelf {}", bay + 1, index + 1);
        let cleats = [0, 1].map(|side| cleat(builder, common, &name, &title, &flanks[side], standards[side], tooth, seat));
        slats(builder, levels, common, &name, &title, plan, standards, cleats, seat + common.sawtooth.cleat.height.to_mm());
    }
    used.sort_unstable();
    used
}

#[allow(clippy::too_many_arguments, reason = "as one that has no tooth")]
fn tooth_taken(
    plan: &BayPlan,
    bay: usize,
    [index, other]: [usize; 2],
    tooth: u32,
    common: &Common<'_>,
    wishes: &[u32],
    standard: PartId,
) -> Finding {
    let message = format!("Shelf {} of bay {} is left out: shelf {} lies on tooth {tooth} already", index + 1, bay + 1, other + 1);
    let nearest = free_teeth(common, wishes, index).min_by_key(|free| free.abs_diff(tooth));
    let remedy = nearest.map(|tooth| on_tooth(plan, index, tooth));
    left_out(standard, vec![Figure::count("tooth wanted", tooth)], message, remedy.into_iter().collect())
}

/// The teeth that leave a cleat and a slat of room to every other shelf, the highest first.
fn free_teeth(common: &Common<'_>, wishes: &[u32], index: usize) -> impl Iterator<Item = u32> {
    let s = common.sawtooth;
    let step = ((s.cleat.height.to_mm() + common.slat.mm) / s.pitch.to_mm()).ceil() as u32;
    let others = wishes.iter().enumerate().filter(move |(other, _)| *other != index).map(|(_, tooth)| *tooth);
    let others: Vec<u32> = others.collect();
    (1..=common.seats).rev().filter(move |tooth| others.iter().all(|other| other.abs_diff(*tooth) >= step))
}

fn on_tooth(plan: &BayPlan, index: usize, tooth: u32) -> Remedy {
    Remedy {
        words: format!("Put it on tooth {tooth}, which is free"),
        changes: vec![(format!("{}.shelves.{}", plan.path, index + 1), tooth.to_string())],
    }
}

/// A shelf that is not placed.
fn left_out(standard: PartId, figures: Vec<Figure>, message: String, remedies: Vec<Remedy>) -> Finding {
    Finding {
        rule: Rule::ShelfHasTooth,
        seriousness: Seriousness::WillFail,
        parts: vec![standard],
        explains: Vec::new(),
        joint: None,
        place: None,
        figures,
        message,
        source: "arithmetic",
        remedies,
    }
}

#[allow(clippy::too_many_arguments, reason = "a shelf that can't be placed knows its bay, its wish and the others")]
fn no_tooth(plan: &BayPlan, bay: usize, index: usize, tooth: u32, common: &Common<'_>, wishes: &[u32], standard: PartId) -> Finding {
    let message =
        format!("Shelf {} of bay {} has no tooth: it asks for tooth {tooth} and the standards have {}", index + 1, bay + 1, common.seats);
    let remedy = free_teeth(common, wishes, index).next().map(|tooth| on_tooth(plan, index, tooth));
    left_out(
        standard,
        vec![Figure::count("tooth wanted", tooth), Figure::count("teeth", common.seats)],
        message,
        remedy.into_iter().collect(),
    )
}

#[allow(clippy::too_many_arguments, reason = "a cleat stands between two standards on a tooth of a flank")]
fn cleat(
    builder: &mut Builder<'_>,
    common: &Common<'_>,
    name: &str,
    title: &str,
    flank: &Flank,
    standards: [PartId; 2],
    tooth: u32,
    seat: f64,
) -> PartId {
    let (height, thickness) = (builder.size("sawtooth.cleat.height"), builder.size("sawtooth.cleat.thickness"));
    let title = format!("Cleat, {title}, {}", flank.word);
    let middle = f64::midpoint(common.teeth.0, common.teeth.1);
    let half = common.cleat_length.mm / 2.0;
    let x = span(flank.face, flank.face + flank.out * thickness.mm);
    let id = builder.place(NewPart {
        name: format!("cleat.{name}.{}", flank.word),
        title: title.clone(),
        kind: PartKind::Cleat,
        material: Material::Solid(builder.design.timber.shelving.clone()),
        block: Block::new(x, (seat, seat + height.mm), (middle - half, middle + half)),
        lie: Lie { face: Dir::PlusX, edge: Dir::MinusY },
        size: [
            sized(&title, Dimension::Length, &common.cleat_length),
            sized(&title, Dimension::Width, &height),
            sized(&title, Dimension::Thickness, &thickness),
        ],
        stage: BuildStage::Loose,
    });
    for (standard, z, into) in [(standards[0], common.teeth.0, Dir::PlusZ), (standards[1], common.teeth.1, Dir::MinusZ)] {
        builder.meet(
            &Meeting {
                role: Role::CleatToStandard,
                a: id,
                b: standard,
                contact: Contact {
                    centre: DVec3::new(f64::midpoint(x.0, x.1), seat, z),
                    into,
                    along: Dir::PlusX,
                    extent: DVec2::new(thickness.mm, common.sawtooth.seat.to_mm()),
                },
            },
            &Detail::Tooth(tooth),
        );
    }
    id
}

#[allow(clippy::too_many_arguments, reason = "slats lie on two cleats and pass four standards")]
fn slats(
    builder: &mut Builder<'_>,
    levels: &Levels,
    common: &Common<'_>,
    name: &str,
    title: &str,
    plan: &BayPlan,
    standards: &[[PartId; 2]; 2],
    cleats: [PartId; 2],
    under: f64,
) {
    let size = |path: &str| builder.size(path);
    let (width, thickness, play) = (size("sawtooth.slats.width"), common.slat.clone(), size("sawtooth.slats.play"));
    let clear = Size::sum("clear width of the bay", [(1.0, &plan.right), (-1.0, &plan.left)]);
    let length = Size::sum("slat: length", [(1.0, &clear), (2.0, &common.thickness), (-2.0, &play)]);
    let count = common.sawtooth.slats.count;
    // Spread from the back rails to the front of the shelf with equal gaps; a gap below nothing shows as an overlap.
    let back = common.shelf.0.mm + play.mm;
    let room = common.shelf.1.mm - back;
    let step = if count > 1 { (room - width.mm) / f64::from(count - 1) } else { 0.0 };
    let start = if count > 1 { back } else { back + (room - width.mm) / 2.0 };
    let reach = common.thickness.mm - play.mm;
    for index in 0..count {
        let z0 = start + step * f64::from(index);
        let z = (z0, z0 + width.mm);
        let title = format!("Slat {}, {title}", index + 1);
        let id = builder.place(NewPart {
            name: format!("slat.{name}.{}", index + 1),
            title: title.clone(),
            kind: PartKind::Slat,
            material: Material::Solid(builder.design.timber.shelving.clone()),
            block: Block::new((plan.left.mm - reach, plan.right.mm + reach), (under, under + thickness.mm), z),
            lie: Lie { face: Dir::PlusY, edge: Dir::MinusZ },
            size: [
                sized(&title, Dimension::Length, &length),
                sized(&title, Dimension::Width, &width),
                sized(&title, Dimension::Thickness, &thickness),
            ],
            stage: BuildStage::Loose,
        });
        for side in [0, 1] {
            for (end, front) in [(0, true), (1, false)] {
                notch_slat(builder, levels, id, standards[side][end], front, play.mm);
            }
            rest_on_cleat(builder, id, cleats[side]);
        }
    }
}

/// Notches a slat round a standard and the upright behind which it stands, where the slat reaches that far.
fn notch_slat(builder: &mut Builder<'_>, levels: &Levels, slat: PartId, standard: PartId, front: bool, clearance: f64) {
    let (own, mut block) = (builder.part(slat).block(), builder.part(standard).block());
    // The room behind the standard belongs to the upright.
    if front {
        block.max.z = levels.depth.mm;
    } else {
        block.min.z = 0.0;
    }
    let meets = own.max.z > block.min.z - clearance && own.min.z < block.max.z + clearance;
    if !meets {
        return;
    }
    let left = block.centre().x < own.centre().x;
    let corner = DVec3::new(if left { block.max.x } else { block.min.x }, own.min.y, if front { block.min.z } else { block.max.z });
    builder.meet(
        &Meeting {
            role: Role::SlatRoundStandard,
            a: slat,
            b: standard,
            contact: Contact {
                centre: corner,
                into: if left { Dir::MinusX } else { Dir::PlusX },
                along: Dir::PlusZ,
                extent: DVec2::splat(clearance),
            },
        },
        &Detail::Round { block, clearance },
    );
}

fn rest_on_cleat(builder: &mut Builder<'_>, slat: PartId, cleat: PartId) {
    let (own, on) = (builder.part(slat).block(), builder.part(cleat).block());
    let low = own.min.max(on.min);
    let high = own.max.min(on.max);
    builder.meet(
        &Meeting {
            role: Role::SlatToCleat,
            a: slat,
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

/// The clear rooms of a bay, from the floor up.
fn rooms(builder: &mut Builder<'_>, levels: &Levels, common: &Common<'_>, bay: usize, plan: &BayPlan, shelves: &[(u32, usize)]) {
    let has_floor = matches!(builder.design.carcase.bottom, Bottom::LooseFloor(_));
    let mut bases: Vec<(Option<usize>, f64)> = has_floor.then_some((None, levels.low.mm)).into_iter().collect();
    bases.extend(shelves.iter().map(|(tooth, index)| (Some(*index), levels.low.mm + common.shelf_height(*tooth))));
    let slat = common.slat.mm;
    let teeth = matches!(plan.fitting, Fitting::Sawtooth(_)).then(|| ShelfLevels {
        lowest: levels.low.mm + common.shelf_height(1),
        pitch: common.sawtooth.pitch.to_mm(),
        count: common.seats,
        thickness: slat,
        under: common.sawtooth.cleat.height.to_mm(),
    });
    let space = Block::new((plan.left.mm, plan.right.mm), (levels.low.mm, levels.high.mm), (common.shelf.0.mm, common.shelf.1.mm));
    builder.add_bay(Bay { space, has_floor, teeth });
    for (index, &(shelf, base)) in bases.iter().enumerate() {
        let ceiling = bases.get(index + 1).map_or(levels.high.mm, |(_, next)| next - slat);
        if ceiling <= base {
            continue;
        }
        let name = shelf.map_or_else(|| format!("the floor of bay {}", bay + 1), |shelf| format!("shelf {} of bay {}", shelf + 1, bay + 1));
        let space = Block::new((plan.left.mm, plan.right.mm), (base, ceiling), (common.shelf.0.mm, common.shelf.1.mm));
        builder.add_room(Room { name, bay, shelf, space });
    }
}
