//! The four frames: posts, rails, muntins and panels, all by one rule.

mod panels;

use glam::DVec2;

use super::builder::sized;
use super::interior::BayPlan;
use super::{Builder, DesignError, Levels};
use crate::design::{Dimension, Filling, Frame, Side};
use crate::length::trimmed;
use crate::model::{BuildStage, Contact, Material, Meeting, NewPart, PartId, PartKind, Role};
use crate::origin::Size;
use crate::place::{Block, Dir, Lie};

/// What the other assemblies need of the frames.
pub(super) struct Frames {
    /// Front left, front right, back left, back right.
    pub posts: [PartId; 4],
    pub front: FrameParts,
    pub back: Option<FrameParts>,
    pub left: Option<FrameParts>,
    pub right: Option<FrameParts>,
}

/// The parts of one frame.
pub(super) struct FrameParts {
    pub top: PartId,
    pub bottom: PartId,
    /// Stiles or muntins, from the left; one a divider.
    pub uprights: Vec<PartId>,
}

impl Frames {
    pub fn post(&self, front: bool, left: bool) -> PartId {
        self.posts[usize::from(!front) * 2 + usize::from(!left)]
    }
}

/// The plane of a frame: `u` along it, `v` up, `n` from the outer face of the case inward.
#[derive(Clone, Copy)]
struct Plane {
    name: &'static str,
    out: Dir,
    /// The case's extent along `out`'s axis; 0 where the outer face lies at zero.
    outer: f64,
}

impl Plane {
    fn along(self) -> Dir {
        if self.out.axis() == 2 { Dir::PlusX } else { Dir::PlusZ }
    }

    fn block(self, u: (f64, f64), v: (f64, f64), n: (f64, f64)) -> Block {
        let n = if self.out.sign() > 0.0 { (self.outer - n.1, self.outer - n.0) } else { n };
        if self.out.axis() == 2 { Block::new(u, v, n) } else { Block::new(n, v, u) }
    }

    fn point(self, u: f64, v: f64, n: f64) -> glam::DVec3 {
        self.block((u, u), (v, v), (n, n)).min
    }

    fn title(self) -> String {
        let mut chars = self.name.chars();
        chars.next().map_or_else(String::new, |first| first.to_uppercase().chain(chars).collect())
    }
}

/// An upright of a frame: a post or a muntin, with the places of its two faces along the frame.
struct Upright {
    part: PartId,
    low: Size,
    high: Size,
    is_post: bool,
}

pub(super) fn build(builder: &mut Builder<'_>, levels: &Levels, plans: &[BayPlan]) -> Result<Frames, Vec<DesignError>> {
    let posts = build_posts(builder, levels);
    let mut frames =
        Frames { posts, front: FrameParts { top: posts[0], bottom: posts[0], uprights: Vec::new() }, back: None, left: None, right: None };
    let open = Frame { middle_rails: 0, filling: Filling::Open };
    let front = Plane { name: "front", out: Dir::PlusZ, outer: levels.depth.mm };
    frames.front = frame(builder, levels, front, &open, [posts[0], posts[1]], plans)?;
    let carcase = &builder.design.carcase;
    let back = Plane { name: "back", out: Dir::MinusZ, outer: 0.0 };
    if let Side::Frame(spec) = &carcase.back {
        frames.back = Some(frame(builder, levels, back, spec, [posts[2], posts[3]], plans)?);
    }
    let left = Plane { name: "left", out: Dir::MinusX, outer: 0.0 };
    if let Side::Frame(spec) = &carcase.left {
        frames.left = Some(frame(builder, levels, left, spec, [posts[2], posts[0]], &[])?);
    }
    let right = Plane { name: "right", out: Dir::PlusX, outer: levels.width.mm };
    if let Side::Frame(spec) = &carcase.right {
        frames.right = Some(frame(builder, levels, right, spec, [posts[3], posts[1]], &[])?);
    }
    Ok(frames)
}

fn build_posts(builder: &mut Builder<'_>, levels: &Levels) -> [PartId; 4] {
    let (w, d, h) = (levels.post_width.mm, levels.post_depth.mm, levels.post_height.mm);
    let (left, right) = ((0.0, w), (levels.width.mm - w, levels.width.mm));
    let (back, front) = ((0.0, d), (levels.depth.mm - d, levels.depth.mm));
    // Face side and face edge are the two faces that show; the first end is the foot.
    let all = [
        ("front.left", "Post, front left", left, front, Lie { face: Dir::PlusZ, edge: Dir::MinusX }),
        ("front.right", "Post, front right", right, front, Lie { face: Dir::PlusX, edge: Dir::PlusZ }),
        ("back.left", "Post, back left", left, back, Lie { face: Dir::MinusX, edge: Dir::MinusZ }),
        ("back.right", "Post, back right", right, back, Lie { face: Dir::MinusZ, edge: Dir::PlusX }),
    ];
    all.map(|(name, title, x, z, lie)| {
        let (across, through) =
            if lie.edge.axis() == 0 { (&levels.post_width, &levels.post_depth) } else { (&levels.post_depth, &levels.post_width) };
        builder.place(NewPart {
            name: format!("post.{name}"),
            title: title.to_owned(),
            kind: PartKind::Post,
            material: Material::Solid(builder.design.timber.frame.clone()),
            block: Block::new(x, (0.0, h), z),
            lie,
            size: [
                sized(title, Dimension::Length, &levels.post_height),
                sized(title, Dimension::Width, across),
                sized(title, Dimension::Thickness, through),
            ],
            stage: BuildStage::GlueUp,
        })
    })
}

fn frame(
    builder: &mut Builder<'_>,
    levels: &Levels,
    plane: Plane,
    spec: &Frame,
    posts: [PartId; 2],
    plans: &[BayPlan],
) -> Result<FrameParts, Vec<DesignError>> {
    let (extent, post) = if plane.out.axis() == 2 { (&levels.width, &levels.post_width) } else { (&levels.depth, &levels.post_depth) };
    let [near_post, far_post] = posts.map(|id| builder.as_made_along(id, plane.along(), post));
    let far = Size::sum("face of the second post", [(1.0, extent), (-1.0, &far_post)]);
    let span = if near_post == far_post {
        Size::sum("between the posts", [(1.0, extent), (-2.0, &near_post)])
    } else {
        Size::sum("between the posts", [(1.0, extent), (-1.0, &near_post), (-1.0, &far_post)])
    };
    let first = Upright {
        part: posts[0],
        low: Size::sum("post, outer face", [(1.0, post), (-1.0, post)]),
        high: near_post.named("face of the first post"),
        is_post: true,
    };
    let last = Upright { part: posts[1], low: far.clone(), high: extent.clone(), is_post: true };

    let rail = |builder: &mut Builder<'_>, place: &str, v: (f64, f64), width: &Size, edge: Dir| {
        let title = format!("{} rail, {place}", plane.title());
        let name = format!("rail.{}.{place}", plane.name);
        let id = place_rail(builder, levels, plane, name, &title, (near_post.mm, far.mm), v, [&span, width], edge);
        for (upright, into) in [(&first, plane.along().opposite()), (&last, plane.along())] {
            meet_rail(builder, levels, plane, id, upright, into, v);
        }
        id
    };
    let bottom = rail(builder, "bottom", (levels.foot.mm, levels.low.mm), &levels.bottom_rail, Dir::PlusY);
    let top = rail(builder, "top", (levels.high.mm, levels.post_height.mm), &levels.top_rail, Dir::MinusY);

    let mut uprights = vec![first];
    for (index, pair) in plans.windows(2).enumerate() {
        uprights.push(place_upright(builder, levels, plane, index, &pair[0], &pair[1], [bottom, top]));
    }
    uprights.push(last);
    let rails = middle_rails(builder, levels, plane, spec, &uprights)?;
    if spec.filling == Filling::Panel {
        panels::place(builder, levels, plane, &uprights, [bottom, top], &rails)?;
    }
    let muntins = uprights.iter().filter(|upright| !upright.is_post).map(|upright| upright.part).collect();
    Ok(FrameParts { top, bottom, uprights: muntins })
}

#[allow(clippy::too_many_arguments, reason = "the nine figures that place a rail have no better home")]
fn place_rail(
    builder: &mut Builder<'_>,
    levels: &Levels,
    plane: Plane,
    name: String,
    title: &str,
    u: (f64, f64),
    v: (f64, f64),
    size: [&Size; 2],
    edge: Dir,
) -> PartId {
    let [length, width] = size;
    builder.place(NewPart {
        name,
        title: title.to_owned(),
        kind: PartKind::Rail,
        material: Material::Solid(builder.design.timber.frame.clone()),
        block: plane.block(u, v, (levels.reveal.mm, levels.inner.mm)),
        lie: Lie { face: plane.out, edge },
        size: [
            sized(title, Dimension::Length, length),
            sized(title, Dimension::Width, width),
            sized(title, Dimension::Thickness, &levels.rail),
        ],
        stage: BuildStage::GlueUp,
    })
}

fn meet_rail(builder: &mut Builder<'_>, levels: &Levels, plane: Plane, rail: PartId, upright: &Upright, into: Dir, v: (f64, f64)) {
    let at = if into.sign() < 0.0 { upright.high.mm } else { upright.low.mm };
    let middle = levels.reveal.mm + levels.rail.mm / 2.0;
    builder.bring_up(Meeting {
        role: if upright.is_post { Role::RailToPost } else { Role::RailToMuntin },
        a: rail,
        b: upright.part,
        contact: Contact {
            centre: plane.point(at, f64::midpoint(v.0, v.1), middle),
            into,
            along: Dir::PlusY,
            extent: DVec2::new(v.1 - v.0, levels.rail.mm),
        },
    });
}

/// The stile of a divider in front, its muntin at the back: from rail to rail, as deep as a post behind its reveal.
fn place_upright(
    builder: &mut Builder<'_>,
    levels: &Levels,
    plane: Plane,
    index: usize,
    before: &BayPlan,
    after: &BayPlan,
    rails: [PartId; 2],
) -> Upright {
    let front = plane.out == Dir::PlusZ;
    let (kind, word, role) =
        if front { (PartKind::Stile, "Stile", Role::StileToRail) } else { (PartKind::Muntin, "Muntin", Role::MuntinToRail) };
    let title = format!("{word} {}", index + 1);
    let width = Size::sum("divider width", [(1.0, &after.left), (-1.0, &before.right)]);
    let depth = Size::sum("divider depth", [(1.0, &levels.post_depth), (-1.0, &levels.reveal)]);
    let lie = Lie { face: plane.out, edge: if front { Dir::MinusX } else { Dir::PlusX } };
    let part = builder.place(NewPart {
        name: format!("{}.{}", word.to_lowercase(), index + 1),
        title: title.clone(),
        kind,
        material: Material::Solid(builder.design.timber.frame.clone()),
        block: plane.block((before.right.mm, after.left.mm), (levels.low.mm, levels.high.mm), (levels.reveal.mm, levels.post_depth.mm)),
        lie,
        size: [
            sized(&title, Dimension::Length, &levels.opening),
            sized(&title, Dimension::Width, &width),
            sized(&title, Dimension::Thickness, &depth),
        ],
        stage: BuildStage::GlueUp,
    });
    let middle = f64::midpoint(before.right.mm, after.left.mm);
    for (rail, v, into) in [(rails[0], levels.low.mm, Dir::MinusY), (rails[1], levels.high.mm, Dir::PlusY)] {
        builder.bring_up(Meeting {
            role,
            a: part,
            b: rail,
            contact: Contact {
                centre: plane.point(middle, v, levels.reveal.mm + levels.rail.mm / 2.0),
                into,
                along: Dir::PlusX,
                extent: DVec2::new(width.mm, levels.rail.mm),
            },
        });
    }
    // The middle stays where it is planned, whatever came out of it.
    let made = builder.as_made_along(part, plane.along(), &width);
    if made == width {
        return Upright { part, low: before.right.clone(), high: after.left.clone(), is_post: false };
    }
    let [low, high] = [("left", -0.5), ("right", 0.5)].map(|(side, half)| {
        let edge = format!("{side} edge of the {}", word.to_lowercase());
        Size::sum(edge, [(0.5, &before.right), (0.5, &after.left), (half, &made)])
    });
    Upright { part, low, high, is_post: false }
}

/// A middle rail with the heights of its edges.
struct Middle {
    part: PartId,
    lower: Size,
    upper: Size,
}

/// The middle rails: for each column between two uprights, from the lowest up.
fn middle_rails(
    builder: &mut Builder<'_>,
    levels: &Levels,
    plane: Plane,
    spec: &Frame,
    uprights: &[Upright],
) -> Result<Vec<Vec<Middle>>, Vec<DesignError>> {
    let count = f64::from(spec.middle_rails);
    let columns = uprights.windows(2).map(|_| Vec::new()).collect::<Vec<_>>();
    if spec.middle_rails == 0 {
        return Ok(columns);
    }
    let width = builder.size("carcase.rails.middle");
    let row = (levels.opening.mm - count * width.mm) / (count + 1.0);
    if row < LEAST_CELL {
        return Err(vec![DesignError::NoRoom {
            path: format!("carcase.{}.middle_rails", plane.name),
            problem: format!("{count} middle rails of {} leave rows of {}", trimmed(width.mm), trimmed(row)),
            remedy: "take fewer or narrower middle rails".to_owned(),
        }]);
    }
    let mut columns = columns;
    for (column, pair) in uprights.windows(2).enumerate() {
        let span = Size::sum("between the uprights", [(1.0, &pair[1].low), (-1.0, &pair[0].high)]);
        for index in 0..spec.middle_rails {
            let low = levels.low.mm + row * f64::from(index + 1) + width.mm * f64::from(index);
            let (name, title) = middle_name(plane, index, column, uprights.len() == 2);
            let v = (low, low + width.mm);
            let id = place_rail(builder, levels, plane, name, &title, (pair[0].high.mm, pair[1].low.mm), v, [&span, &width], Dir::PlusY);
            meet_rail(builder, levels, plane, id, &pair[0], plane.along().opposite(), v);
            meet_rail(builder, levels, plane, id, &pair[1], plane.along(), v);
            let ruled = Size::ruled("lower edge of the middle rail", low, "rows of equal height", [&levels.opening, &width]);
            let upper = Size::sum("upper edge of the middle rail", [(1.0, &ruled), (1.0, &width)]);
            // The face edge, above, stays where it is planned.
            let made = builder.as_made_along(id, Dir::PlusY, &width);
            let lower = if made == width { ruled } else { Size::sum("lower edge of the middle rail", [(1.0, &upper), (-1.0, &made)]) };
            columns[column].push(Middle { part: id, lower, upper });
        }
    }
    Ok(columns)
}

/// The least height or width of a cell for a panel, mm: less is no panel but a slip.
const LEAST_CELL: f64 = 10.0;

fn middle_name(plane: Plane, index: u32, column: usize, alone: bool) -> (String, String) {
    let (name, title) = (format!("rail.{}.middle.{}", plane.name, index + 1), format!("{} rail, middle {}", plane.title(), index + 1));
    if alone { (name, title) } else { (format!("{name}.{}", column + 1), format!("{title}, bay {}", column + 1)) }
}

/// The edge that makes the grain of an upright part with that face side run up.
pub(super) fn upright_edge(face: Dir) -> Dir {
    Dir::nearest(face.vector().cross(glam::DVec3::Y))
}
