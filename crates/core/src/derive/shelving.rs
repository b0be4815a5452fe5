//! Sawtooth standards, cleats and slats, and the rooms between shelves.

use glam::{DVec2, DVec3};

use super::builder::sized;
use super::frames::Frames;
use super::interior::{BayPlan, floor_thickness};
use super::{Builder, DesignError, Levels};
use crate::design::{Bottom, Dimension, Fitting, Sawtooth, Shelves};
use crate::inspect::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH};
use crate::joint::{Detail, seat};
use crate::length::trimmed;
use crate::model::{Bay, BuildStage, Contact, Feature, Material, Meeting, NewPart, PartId, PartKind, Role, Room, ShelfLevels};
use crate::origin::{Origin, Size};
use crate::place::{Block, Dir, Lie};
use crate::sentence::inside;

/// The common figures of all shelving.
struct Common<'s> {
    sawtooth: &'s Sawtooth,
    seats: u32,
    /// Width of a standard, seats and backing.
    width: Size,
    thickness: Size,
    /// Thickness of a slat.
    slat: Size,
    /// Of a cleat between standards as planned.
    cleat_length: Size,
    /// z of the back and the front of the shelves.
    shelf: (Size, Size),
}

impl<'s> Common<'s> {
    fn of(builder: &Builder<'s>, levels: &Levels, frames: &Frames) -> Result<Common<'s>, Vec<DesignError>> {
        let sawtooth = &builder.design.sawtooth;
        let size = |path: &str| builder.size(path);
        let width = Size::sum("standard: width", [(1.0, &size("sawtooth.backing")), (1.0, &size("sawtooth.seat"))]);
        let between = Size::sum("between the posts, front to back", [(1.0, &levels.depth), (-2.0, &levels.post_depth)]);
        let cleat_length = Size::sum(
            "cleat: length at its lower edge",
            [(1.0, &between), (-2.0, &size("sawtooth.backing")), (-1.0, &size("sawtooth.cleat.play"))],
        );
        let rear = rear(builder, levels, frames);
        let fore = Size::sum("front of the shelves", [(1.0, &levels.depth), (-1.0, &size("sawtooth.slats.set_back"))]);
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
            shelf: (rear, fore),
        })
    }

    /// Height of the upper face of the slats above the foot of the standards, on a tooth, as planned.
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
    let common = Common::of(builder, levels, frames)?;
    for (bay, plan) in plans.iter().enumerate() {
        let flanks = flanks(plan, bay, plans.len(), frames);
        let mut levels_in_bay = Vec::new();
        if let Fitting::Sawtooth(shelves) = &plan.fitting {
            let foot = foot(builder, levels, bay);
            let standards = flanks.each_ref().map(|flank| standards(builder, levels, &common, &foot, bay, flank));
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

/// The inner face of the back rails: of the one that reaches farthest in.
fn rear(builder: &Builder<'_>, levels: &Levels, frames: &Frames) -> Size {
    let rails = frames.back.as_ref().map_or_else(Vec::new, |back| vec![back.bottom, back.top]);
    let inner = rails.into_iter().map(|rail| levels.inner_of(builder, rail, Dir::MinusZ));
    let farthest = inner.max_by(|a, b| a.mm.total_cmp(&b.mm));
    farthest.unwrap_or_else(|| levels.inner.clone()).named("inner face of the back rails")
}

/// What the standards of a bay stand on: the bottom rails, or a floor that came out thicker and so reaches higher.
fn foot(builder: &Builder<'_>, levels: &Levels, bay: usize) -> Size {
    let planned = floor_thickness(builder);
    let floor = builder.as_bought(&format!("floor.{}", bay + 1), &planned);
    if floor.mm <= planned.mm + TOUCH {
        return levels.low.clone();
    }
    Size::sum("upper face of the floor", [(1.0, &levels.low), (1.0, &floor), (-1.0, &planned)])
}

/// The front and the back standard on one side of a bay.
fn standards(builder: &mut Builder<'_>, levels: &Levels, common: &Common<'_>, foot: &Size, bay: usize, flank: &Flank) -> [PartId; 2] {
    let [front, back] = flank.uprights;
    let front = builder.made_face(front, Dir::MinusZ).unwrap_or(levels.depth.mm - levels.post_depth.mm);
    let back = builder.made_face(back, Dir::PlusZ).unwrap_or(levels.post_depth.mm);
    let opening = if *foot == levels.low {
        levels.opening.clone()
    } else {
        Size::sum("from the floor to the top rail", [(1.0, &levels.high), (-1.0, foot)])
    };
    let mut made = [PartId(0); 2];
    for (index, (word, back_to, into)) in [("front", front, Dir::PlusZ), ("back", back, Dir::MinusZ)].into_iter().enumerate() {
        let title = format!("Standard, bay {}, {word} {}", bay + 1, flank.word);
        let name = format!("standard.{}.{word}.{}", bay + 1, flank.word);
        let size = [(Dimension::Length, &opening), (Dimension::Width, &common.width), (Dimension::Thickness, &common.thickness)];
        // Its foot, its back and its face towards the bay are where they should be, whatever it measures.
        let [length, width, thickness] = size.map(|(of, planned)| builder.as_made(&name, of, planned).mm);
        let x = span(flank.face, flank.face + flank.out * thickness);
        let y = (foot.mm, foot.mm + length);
        let z = span(back_to, back_to - into.sign() * width);
        let id = builder.place(NewPart {
            name,
            title: title.clone(),
            kind: PartKind::Standard,
            material: Material::Solid(builder.design.timber.shelving.clone()),
            block: Block::new(x, y, z),
            lie: Lie { face: Dir::nearest(DVec3::Y.cross(into.vector())), edge: into },
            size: size.map(|(of, planned)| sized(&title, of, planned)),
            stage: BuildStage::AfterGlueUp,
        });
        let s = common.sawtooth;
        let count = seat::seats_in(s, length, opening.mm);
        if count > 0 {
            let teeth =
                Feature::Teeth { first: s.first.to_mm(), pitch: s.pitch.to_mm(), seat: s.seat.to_mm(), crest: s.crest.to_mm(), count };
            builder.cut(id, teeth);
        }
        builder.meet(
            &Meeting {
                role: Role::StandardToPost,
                a: id,
                b: flank.uprights[index],
                contact: Contact {
                    centre: DVec3::new(f64::midpoint(x.0, x.1), f64::midpoint(y.0, y.1), back_to),
                    into,
                    along: Dir::PlusY,
                    extent: DVec2::new(length, thickness),
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

/// A shelf that was placed.
struct Placed {
    tooth: u32,
    /// Its place among those of its bay.
    index: usize,
    /// The heights of its lower and its upper face, over the floor of the room, mm.
    level: (f64, f64),
}

/// Places the shelves whose teeth are there and free, from the lowest.
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
) -> Vec<Placed> {
    let mut used: Vec<Placed> = Vec::new();
    let teeth = Teeth::of(builder, common, standards);
    for (index, &tooth) in shelves.shelves.iter().enumerate() {
        if tooth == 0 || tooth > teeth.count {
            builder.found(no_tooth(builder, plan, bay, index, tooth, &teeth, common, &shelves.shelves));
            continue;
        }
        if let Some(other) = used.iter().find(|other| other.tooth == tooth) {
            builder.found(tooth_taken(plan, bay, [index, other.index], tooth, &teeth, common, &shelves.shelves));
            continue;
        }
        let seat = teeth.foot + seat::seat_height(common.sawtooth, tooth);
        let name = format!("{}.{}", bay + 1, index + 1);
        let title = format!("bay {}, shelf {}", bay + 1, index + 1);
        let cleats = [0, 1].map(|side| cleat(builder, common, &name, &title, &flanks[side], standards[side], tooth, seat));
        // Slats lie on the higher of the two.
        let under = cleats.map(|cleat| builder.part(cleat).block().max.y).into_iter().fold(seat, f64::max);
        let over = slats(builder, levels, common, &name, &title, plan, standards, cleats, under);
        used.push(Placed { tooth, index, level: (under, over) });
    }
    used.sort_by_key(|placed| placed.tooth);
    used
}

/// The teeth that all standards of a bay have.
struct Teeth {
    count: u32,
    /// The standard that has the fewest.
    fewest: PartId,
    /// Height of the feet of the standards, mm.
    foot: f64,
}

impl Teeth {
    fn of(builder: &Builder<'_>, common: &Common<'_>, standards: &[[PartId; 2]; 2]) -> Teeth {
        let count = |standard: &PartId| {
            let cuts = &builder.part(*standard).cuts;
            let teeth = cuts.iter().find_map(|cut| if let Feature::Teeth { count, .. } = cut.feature { Some(count) } else { None });
            teeth.unwrap_or(0).min(common.seats)
        };
        let fewest = standards.as_flattened().iter().copied().min_by_key(count).unwrap_or(standards[0][0]);
        Teeth { count: count(&fewest), fewest, foot: builder.part(fewest).block().min.y }
    }
}

#[allow(clippy::too_many_arguments, reason = "as one that has no tooth")]
fn tooth_taken(
    plan: &BayPlan,
    bay: usize,
    [index, other]: [usize; 2],
    tooth: u32,
    teeth: &Teeth,
    common: &Common<'_>,
    wishes: &[u32],
) -> Finding {
    let message = format!("Shelf {} of bay {} is left out: shelf {} lies on tooth {tooth} already", index + 1, bay + 1, other + 1);
    let nearest = free_teeth(common, teeth, wishes, index).min_by_key(|free| free.abs_diff(tooth));
    let remedy = nearest.map(|tooth| on_tooth(plan, index, tooth));
    left_out(teeth.fewest, vec![Figure::count("tooth wanted", tooth)], message, remedy.into_iter().collect())
}

/// The teeth that leave a cleat and a slat of room to every other shelf, the highest first.
fn free_teeth(common: &Common<'_>, teeth: &Teeth, wishes: &[u32], index: usize) -> impl Iterator<Item = u32> {
    let s = common.sawtooth;
    let step = ((s.cleat.height.to_mm() + common.slat.mm) / s.pitch.to_mm()).ceil() as u32;
    let others = wishes.iter().enumerate().filter(move |(other, _)| *other != index).map(|(_, tooth)| *tooth);
    let others: Vec<u32> = others.collect();
    (1..=teeth.count).rev().filter(move |tooth| others.iter().all(|other| other.abs_diff(*tooth) >= step))
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
fn no_tooth(
    builder: &Builder<'_>,
    plan: &BayPlan,
    bay: usize,
    index: usize,
    tooth: u32,
    teeth: &Teeth,
    common: &Common<'_>,
    wishes: &[u32],
) -> Finding {
    let (shelf, bay, count) = (index + 1, bay + 1, teeth.count);
    let remedy = free_teeth(common, teeth, wishes, index).next().map(|tooth| on_tooth(plan, index, tooth));
    let mut figures = vec![Figure::count("tooth wanted", tooth), Figure::count("teeth", count)];
    if count == common.seats || tooth == 0 {
        let message = format!("Shelf {shelf} of bay {bay} has no tooth: it asks for tooth {tooth} and the standards have {count}");
        return left_out(teeth.fewest, figures, message, remedy.into_iter().collect());
    }
    // Of the standards one came out too short.
    let short = builder.part(teeth.fewest);
    let wanted = match &short.size[0].origin {
        Origin::Measured { planned, .. } => planned.mm,
        Origin::Decision { .. } | Origin::Sum(_) | Origin::Rule { .. } => short.size[0].mm,
    };
    figures.push(Figure::mm("lacking", wanted - short.size[0].mm));
    let message = format!(
        "Shelf {shelf} of bay {bay} has no tooth: {} is {} mm long where {} is wanted, and has {count} teeth; it asks for tooth {tooth}",
        short.title,
        trimmed(short.size[0].mm),
        trimmed(wanted)
    );
    let anew = Remedy {
        words: format!("Make {} new", inside(&short.title)),
        changes: vec![(format!("made.{}.state", short.name), "planned".to_owned())],
    };
    left_out(teeth.fewest, figures, message, std::iter::once(anew).chain(remedy).collect())
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
    let title = format!("Cleat, {title}, {}", flank.word);
    let name = format!("cleat.{name}.{}", flank.word);
    let (front, back) = (builder.part(standards[0]).block().min.z, builder.part(standards[1]).block().max.z);
    let length = between_risers(builder, common, standards);
    let size = [
        (Dimension::Length, length),
        (Dimension::Width, builder.size("sawtooth.cleat.height")),
        (Dimension::Thickness, builder.size("sawtooth.cleat.thickness")),
    ];
    let [long, high, thick] = size.each_ref().map(|(of, planned)| builder.as_made(&name, *of, planned).mm);
    let (middle, half) = (f64::midpoint(front, back), long / 2.0);
    let x = span(flank.face, flank.face + flank.out * thick);
    let id = builder.place(NewPart {
        name,
        title: title.clone(),
        kind: PartKind::Cleat,
        material: Material::Solid(builder.design.timber.shelving.clone()),
        block: Block::new(x, (seat, seat + high), (middle - half, middle + half)),
        lie: Lie { face: Dir::PlusX, edge: Dir::MinusY },
        size: size.each_ref().map(|(of, planned)| sized(&title, *of, planned)),
        stage: BuildStage::Loose,
    });
    for (standard, z, into) in [(standards[0], front, Dir::PlusZ), (standards[1], back, Dir::MinusZ)] {
        let block = builder.part(standard).block();
        let on = (x.0.max(block.min.x), x.1.min(block.max.x));
        builder.meet(
            &Meeting {
                role: Role::CleatToStandard,
                a: id,
                b: standard,
                contact: Contact {
                    centre: DVec3::new(f64::midpoint(on.0, on.1), seat, z),
                    into,
                    along: Dir::PlusX,
                    extent: DVec2::new((on.1 - on.0).max(0.0), common.sawtooth.seat.to_mm()),
                },
            },
            &Detail::Tooth(tooth),
        );
    }
    id
}

/// The length of a cleat between two standards as they are: from riser to riser less its play.
fn between_risers(builder: &Builder<'_>, common: &Common<'_>, [front, back]: [PartId; 2]) -> Size {
    let [front, back] = [front, back].map(|standard| builder.part(standard));
    let risers = front.block().min.z - back.block().max.z + 2.0 * common.sawtooth.seat.to_mm();
    let mm = risers - common.sawtooth.cleat.play.to_mm();
    let planned = &common.cleat_length;
    if (mm - planned.mm).abs() <= TOUCH {
        return planned.clone();
    }
    let rule = "from riser to riser of its two standards as they stand, less its play";
    Size::ruled(planned.name.clone(), mm, rule, [planned, &front.size[1], &back.size[1]])
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
) -> f64 {
    let size = |path: &str| builder.size(path);
    let (width, thickness, play) = (size("sawtooth.slats.width"), common.slat.clone(), size("sawtooth.slats.play"));
    let clear = Size::sum("clear width of the bay", [(1.0, &plan.right), (-1.0, &plan.left)]);
    let length = Size::sum("slat: length", [(1.0, &clear), (2.0, &common.thickness), (-2.0, &play)]);
    let name = |index: u32| format!("slat.{name}.{}", index + 1);
    let made = |index: u32, of: Dimension, planned: &Size| builder.as_made(&name(index), of, planned).mm;
    let widths: Vec<f64> = (0..common.sawtooth.slats.count).map(|index| made(index, Dimension::Width, &width)).collect();
    let thicknesses: Vec<f64> = (0..common.sawtooth.slats.count).map(|index| made(index, Dimension::Thickness, &thickness)).collect();
    let starts = spread(common.shelf.0.mm + play.mm, common.shelf.1.mm, &widths);
    let (reach, mut over) = (common.thickness.mm - play.mm, under);
    for (index, ((z0, wide), thick)) in (0..).zip(starts.into_iter().zip(widths).zip(thicknesses)) {
        let title = format!("Slat {}, {title}", index + 1);
        over = over.max(under + thick);
        let id = builder.place(NewPart {
            name: name(index),
            title: title.clone(),
            kind: PartKind::Slat,
            material: Material::Solid(builder.design.timber.shelving.clone()),
            block: Block::new((plan.left.mm - reach, plan.right.mm + reach), (under, under + thick), (z0, z0 + wide)),
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
    over
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
fn rooms(builder: &mut Builder<'_>, levels: &Levels, common: &Common<'_>, bay: usize, plan: &BayPlan, shelves: &[Placed]) {
    let has_floor = matches!(builder.design.carcase.bottom, Bottom::LooseFloor(_));
    // Where each begins, and what lies above the one before it there.
    let mut bases: Vec<(Option<usize>, f64, f64)> = Vec::new();
    if has_floor {
        let floor = builder.as_bought(&format!("floor.{}", bay + 1), &floor_thickness(builder));
        bases.push((None, levels.low.mm + floor.mm - floor_thickness(builder).mm, levels.low.mm));
    }
    bases.extend(shelves.iter().map(|placed| (Some(placed.index), placed.level.1, placed.level.0)));
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
    for (index, &(shelf, base, _)) in bases.iter().enumerate() {
        let ceiling = bases.get(index + 1).map_or(levels.high.mm, |(.., above)| *above);
        if ceiling <= base {
            continue;
        }
        let name = shelf.map_or_else(|| format!("the floor of bay {}", bay + 1), |shelf| format!("shelf {} of bay {}", shelf + 1, bay + 1));
        let space = Block::new((plan.left.mm, plan.right.mm), (base, ceiling), (common.shelf.0.mm, common.shelf.1.mm));
        builder.add_room(Room { name, bay, shelf, space });
    }
}
