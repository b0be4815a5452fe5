//! The floor: a piece of sheet a bay, or two that meet in its middle, on bearers, laid after glue-up.
//!
//! Each piece goes down from above before the top and the standards are on, tipped past the cross rails. So it is notched
//! round every upright that stands further in than the rails, stiles and muntins as well as posts.

use glam::{DVec2, DVec3};

use super::builder::sized;
use super::frames::{FrameParts, Frames};
use super::interior::{BayPlan, CrossRails};
use super::{Builder, DesignError, Levels};
use crate::design::{Bottom, Design, Dimension, FloorPieces, LooseFloor, Side};
use crate::joint::Detail;
use crate::length::trimmed;
use crate::model::{BuildStage, Contact, Material, Meeting, NewPart, PartId, PartKind, Role, is_made};
use crate::origin::Size;
use crate::place::{Block, Dir, Lie};

/// What bounds a piece of floor on one side of its bay.
struct Bound {
    /// Where the free room ends, along the width.
    at: Size,
    /// The uprights in the corners there, front and back, that the piece must pass on its way down.
    uprights: Option<[PartId; 2]>,
    /// The cross rail it lies on.
    cross_rail: Option<PartId>,
    /// Where a bearer must end.
    bearer: BearerEnd,
}

/// Where the bearers of a bay end on one side.
struct BearerEnd {
    /// As planned.
    at: Size,
    /// The front and the back post there, and what lies beyond them, where posts bound the bay.
    posts: Option<([PartId; 2], Size, Dir)>,
    /// Width of a post as planned.
    post_width: Size,
}

impl BearerEnd {
    /// Where the front or the back bearer ends, with the post as wide as it was made.
    fn as_made(&self, builder: &Builder<'_>, front: bool) -> Size {
        let Some((posts, outside, out)) = &self.posts else { return self.at.clone() };
        let made = builder.as_made_along(posts[usize::from(!front)], *out, &self.post_width);
        if made == self.post_width {
            return self.at.clone();
        }
        Size::sum("inner face of the post", [(1.0, outside), (-out.sign(), &made)])
    }
}

pub(super) fn build(
    builder: &mut Builder<'_>,
    levels: &Levels,
    plans: &[BayPlan],
    frames: &Frames,
    cross_rails: &[CrossRails],
) -> Result<(), Vec<DesignError>> {
    let (Bottom::LooseFloor(LooseFloor { pieces, .. }), Some(back)) = (&builder.design.carcase.bottom, &frames.back) else {
        return Ok(());
    };
    let pieces = *pieces;
    for (index, plan) in plans.iter().enumerate() {
        let left = bound(builder, levels, plan, index.checked_sub(1).map(|before| (&plans[before], &cross_rails[before])), frames, true);
        let right = bound(builder, levels, plan, plans.get(index + 1).map(|after| (after, &cross_rails[index])), frames, false);
        let bearers = [
            bearer(builder, levels, index, [&left.bearer, &right.bearer], frames.front.bottom, true)?,
            bearer(builder, levels, index, [&left.bearer, &right.bearer], back.bottom, false)?,
        ];
        let rails = [frames.front.bottom, back.bottom];
        if pieces == FloorPieces::One {
            piece(builder, levels, (index, None), [&left, &right], rails, bearers)?;
            continue;
        }
        let [before, after] = middle(builder, index, &left, &right, pieces);
        let first = piece(builder, levels, (index, Some(LEFT)), [&left, &before], rails, bearers)?;
        let second = piece(builder, levels, (index, Some(RIGHT)), [&after, &right], rails, bearers)?;
        if pieces == FloorPieces::Lapped {
            lap(builder, first, second);
        }
    }
    Ok(())
}

/// What the two pieces of a floor are called.
const LEFT: &str = "left";
const RIGHT: &str = "right";

/// The name of the floor of a bay, or of the first piece of it.
pub(super) fn first_name(design: &Design, bay: usize) -> String {
    match &design.carcase.bottom {
        Bottom::LooseFloor(LooseFloor { pieces: FloorPieces::Butted | FloorPieces::Lapped, .. }) => name_of(bay, Some(LEFT)),
        Bottom::LooseFloor(LooseFloor { pieces: FloorPieces::One, .. }) | Bottom::Open => name_of(bay, None),
    }
}

fn name_of(bay: usize, piece: Option<&str>) -> String {
    piece.map_or_else(|| format!("floor.{}", bay + 1), |piece| format!("floor.{}.{piece}", bay + 1))
}

/// How far the one piece of a floor is halved over the other, by the thickness of the sheet (common practice, no source).
const LAP: f64 = 1.5;

/// What the sheet of the floor is sold as. The laps of its pieces go by this, so that of two pieces of sheets that measure otherwise the one that is cut
/// second still fits the first.
fn as_sold(builder: &Builder<'_>) -> Size {
    Size::decided("", "thickness of the floor as sold", builder.design.timber.floor.nominal.to_mm())
}

fn lap_width(as_sold: &Size) -> Size {
    Size::ruled("lap", (LAP * as_sold.mm).round(), "one and a half times as wide as the sheet is thick", [as_sold])
}

/// What bounds the left piece of a floor on its right, and the right one on its left. Where one of them is there already the other goes by it.
fn middle(builder: &Builder<'_>, bay: usize, left: &Bound, right: &Bound, pieces: FloorPieces) -> [Bound; 2] {
    let middle = Size::sum("middle of the floor", [(0.5, &left.at), (0.5, &right.at)]);
    // From the right end of the left piece to the left end of the right one: on by a gap, or back by a lap.
    let (on, by) =
        if pieces == FloorPieces::Lapped { (-1.0, lap_width(&as_sold(builder))) } else { (1.0, builder.size("carcase.bottom.clearance")) };
    let edge = "edge of the floor at its other piece";
    let planned = [-0.5, 0.5].map(|half| Size::sum(edge, [(1.0, &middle), (half * on, &by)]));
    let made = |piece: &str, from: &Size, to: &Size| {
        let long = Size::sum("length of a piece of the floor", [(1.0, to), (-1.0, from)]);
        Some(builder.as_made(&name_of(bay, Some(piece)), Dimension::Length, &long)).filter(is_made)
    };
    let ends = match (made(LEFT, &left.at, &planned[0]), made(RIGHT, &planned[1], &right.at)) {
        (Some(long), None) => {
            let end = Size::sum("end of the left piece as made", [(1.0, &left.at), (1.0, &long)]);
            let next = Size::sum(edge, [(1.0, &end), (on, &by)]);
            [end, next]
        }
        (None, Some(long)) => {
            let end = Size::sum("end of the right piece as made", [(1.0, &right.at), (-1.0, &long)]);
            let next = Size::sum(edge, [(1.0, &end), (-on, &by)]);
            [next, end]
        }
        (None, None) | (Some(_), Some(_)) => planned,
    };
    ends.map(|at| {
        let bearer = BearerEnd { at: at.clone(), posts: None, post_width: left.bearer.post_width.clone() };
        Bound { at, uprights: None, cross_rail: None, bearer }
    })
}

/// Halves the right piece of a floor over the left one: of that there stays half of what the sheet is sold as.
fn lap(builder: &mut Builder<'_>, left: PartId, right: PartId) {
    let (first, second) = (builder.part(left).block(), builder.part(right).block());
    let shared = Block { min: first.min.max(second.min), max: first.max.min(second.max) };
    let (centre, size) = (shared.centre(), shared.size());
    let contact = Contact { centre, into: Dir::MinusY, along: Dir::PlusZ, extent: DVec2::new(size.z, size.x) };
    let halved = Detail::Halved(as_sold(builder).mm / 2.0);
    builder.meet(&Meeting { role: Role::FloorToFloor, a: right, b: left, contact }, &halved);
}

fn bound(
    builder: &Builder<'_>,
    levels: &Levels,
    plan: &BayPlan,
    beyond: Option<(&BayPlan, &CrossRails)>,
    frames: &Frames,
    left: bool,
) -> Bound {
    let clearance = builder.size("carcase.bottom.clearance");
    let inward = if left { 1.0 } else { -1.0 };
    if let Some((other, cross_rail)) = beyond {
        // Two pieces meet over the middle of the cross rail.
        let (a, b) = if left { (&other.right, &plan.left) } else { (&plan.right, &other.left) };
        let middle = Size::sum("middle of the divider", [(0.5, a), (0.5, b)]);
        return Bound {
            at: Size::sum("edge of the floor over the cross rail", [(1.0, &middle), (inward * 0.5, &clearance)]),
            uprights: Some(cross_rail.uprights),
            cross_rail: Some(cross_rail.bottom),
            bearer: BearerEnd {
                at: Size::sum("face of the cross rail", [(1.0, &middle), (inward * 0.5, &levels.rail)]),
                posts: None,
                post_width: levels.post_width.clone(),
            },
        };
    }
    let side = if left { &builder.design.carcase.left } else { &builder.design.carcase.right };
    let frame = if left { &frames.left } else { &frames.right };
    let near = if left { Size::decided("", "left of the case", 0.0) } else { levels.width.clone() };
    let face = if left { &plan.left } else { &plan.right };
    let inner = |frame: &FrameParts| levels.inner_of(builder, frame.bottom, Dir::PlusX);
    let posts = [frames.post(true, left), frames.post(false, left)];
    let bearer = BearerEnd {
        at: face.clone(),
        posts: Some((posts, near.clone(), if left { Dir::MinusX } else { Dir::PlusX })),
        post_width: levels.post_width.clone(),
    };
    match side {
        Side::Frame(_) => Bound {
            at: Size::sum(
                "edge of the floor at the side rail",
                [(1.0, &near), (inward, &frame.as_ref().map_or_else(|| levels.inner.clone(), inner)), (inward, &clearance)],
            ),
            uprights: Some(posts),
            cross_rail: None,
            bearer,
        },
        Side::Open => Bound {
            at: Size::sum("edge of the floor at the post", [(1.0, face), (inward, &clearance)]),
            uprights: None,
            cross_rail: None,
            bearer,
        },
    }
}

fn bearer(
    builder: &mut Builder<'_>,
    levels: &Levels,
    bay: usize,
    [from, to]: [&BearerEnd; 2],
    rail: PartId,
    front: bool,
) -> Result<PartId, Vec<DesignError>> {
    let section = builder.size("carcase.bottom.bearer");
    let floor = builder.size("timber.floor.measured");
    let word = if front { "front" } else { "back" };
    let title = format!("Bearer, bay {}, {word}", bay + 1);
    let [from, to] = [from, to].map(|end| end.as_made(builder, front));
    let length = Size::sum(format!("{title}: length"), [(1.0, &to), (-1.0, &from)]);
    if length.mm <= 0.0 {
        return Err(vec![too_small(bay, "a bearer", length.mm)]);
    }
    let top = levels.low.mm - floor.mm;
    let into = if front { Dir::PlusZ } else { Dir::MinusZ };
    let inner = levels.inner_of(builder, rail, into).mm;
    let z = if front { (levels.depth.mm - inner - section.mm, levels.depth.mm - inner) } else { (inner, inner + section.mm) };
    let id = builder.place(NewPart {
        name: format!("bearer.{}.{word}", bay + 1),
        title: title.clone(),
        kind: PartKind::Bearer,
        material: Material::Solid(builder.design.timber.frame.clone()),
        block: Block::new((from.mm, to.mm), (top - section.mm, top), z),
        lie: Lie { face: into, edge: Dir::PlusY },
        size: [length.clone(), sized(&title, Dimension::Width, &section), sized(&title, Dimension::Thickness, &section)],
        stage: BuildStage::GlueUp,
    });
    builder.meet(
        &Meeting {
            role: Role::BearerToRail,
            a: id,
            b: rail,
            contact: Contact {
                centre: DVec3::new(f64::midpoint(from.mm, to.mm), top - section.mm / 2.0, if front { z.1 } else { z.0 }),
                into,
                along: Dir::PlusX,
                extent: DVec2::new(length.mm, section.mm),
            },
        },
        &Detail::None,
    );
    Ok(id)
}

/// Places a piece of the floor between its bounds, laid on what bears it and cut out round the uprights.
fn piece(
    builder: &mut Builder<'_>,
    levels: &Levels,
    (bay, word): (usize, Option<&str>),
    [left, right]: [&Bound; 2],
    rails: [PartId; 2],
    bearers: [PartId; 2],
) -> Result<PartId, Vec<DesignError>> {
    let thickness = builder.size("timber.floor.measured");
    let clearance = builder.size("carcase.bottom.clearance");
    let title = word.map_or_else(|| format!("Floor, bay {}", bay + 1), |word| format!("Floor, bay {}, {word}", bay + 1));
    let name = name_of(bay, word);
    let [front, back] = rails.map(|rail| levels.inner_of(builder, rail, Dir::PlusZ));
    let wide = if front == back {
        Size::sum(format!("{title}: width"), [(1.0, &levels.depth), (-2.0, &front), (-2.0, &clearance)])
    } else {
        Size::sum(format!("{title}: width"), [(1.0, &levels.depth), (-1.0, &front), (-1.0, &back), (-2.0, &clearance)])
    };
    let long = Size::sum(format!("{title}: length"), [(1.0, &right.at), (-1.0, &left.at)]);
    for size in [&wide, &long] {
        if size.mm <= 0.0 {
            return Err(vec![too_small(bay, "the floor", size.mm)]);
        }
    }
    // It lies on its bearers, however thick it is.
    let under = levels.low.mm - thickness.mm;
    let y = (under, under + builder.as_bought(&name, &thickness).mm);
    let (x, z) = ((left.at.mm, right.at.mm), (back.mm + clearance.mm, levels.depth.mm - front.mm - clearance.mm));
    let id = builder.place(NewPart {
        name,
        title: title.clone(),
        kind: PartKind::Floor,
        material: Material::Sheet(builder.design.timber.floor.product.clone()),
        block: Block::new(x, y, z),
        lie: Lie { face: Dir::PlusY, edge: Dir::PlusZ },
        size: [long, wide.clone(), sized(&title, Dimension::Thickness, &thickness)],
        stage: BuildStage::AfterGlueUp,
    });
    lie_on(builder, levels, id, [left, right], bearers);
    for (bound, is_left) in [(left, true), (right, false)] {
        let Some(uprights) = bound.uprights else { continue };
        for (upright, front) in uprights.into_iter().zip([true, false]) {
            round_upright(builder, id, upright, is_left, front, clearance.mm);
        }
    }
    Ok(id)
}

/// Says what a piece of the floor lies on: its bearers in front and at the back, and half of each cross rail that it ends over.
fn lie_on(builder: &mut Builder<'_>, levels: &Levels, floor: PartId, [left, right]: [&Bound; 2], bearers: [PartId; 2]) {
    let bearing = builder.size("carcase.bottom.bearer").mm - builder.size("carcase.bottom.clearance").mm;
    let Block { min, max } = builder.part(floor).block();
    let (x, z) = ((min.x, max.x), (min.z, max.z));
    let mut rest = |on: PartId, x: (f64, f64), z: (f64, f64)| {
        let contact = Contact {
            centre: DVec3::new(f64::midpoint(x.0, x.1), min.y, f64::midpoint(z.0, z.1)),
            into: Dir::MinusY,
            along: if x.1 - x.0 > z.1 - z.0 { Dir::PlusX } else { Dir::PlusZ },
            extent: DVec2::new((x.1 - x.0).max(z.1 - z.0), (x.1 - x.0).min(z.1 - z.0)),
        };
        builder.meet(&Meeting { role: Role::FloorToBearer, a: floor, b: on, contact }, &Detail::None);
    };
    for (bearer, bearing) in bearers.into_iter().zip([(z.1 - bearing, z.1), (z.0, z.0 + bearing)]) {
        rest(bearer, (left.bearer.at.mm, right.bearer.at.mm), bearing);
    }
    if let Some(rail) = left.cross_rail {
        rest(rail, (x.0, x.0 + levels.rail.mm / 2.0), z);
    }
    if let Some(rail) = right.cross_rail {
        rest(rail, (x.1 - levels.rail.mm / 2.0, x.1), z);
    }
}

fn round_upright(builder: &mut Builder<'_>, floor: PartId, upright: PartId, left: bool, front: bool, clearance: f64) {
    let (block, own) = (builder.part(upright).block(), builder.part(floor).block());
    let corner = DVec3::new(if left { block.max.x } else { block.min.x }, own.max.y, if front { block.min.z } else { block.max.z });
    builder.meet(
        &Meeting {
            role: Role::FloorRoundPost,
            a: floor,
            b: upright,
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

fn too_small(bay: usize, what: &str, mm: f64) -> DesignError {
    DesignError::NoRoom {
        path: "carcase.bottom.clearance".to_owned(),
        problem: format!("bay {} leaves {} for {what}", bay + 1, trimmed(mm)),
        remedy: "make the bay wider, or leave the floor out".to_owned(),
    }
}
