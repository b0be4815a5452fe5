//! What a wrong size of a part does to one of its joints.

use super::{SEEN, lacking};
use crate::design::Dimension;
use crate::inspect::floors::LEAST_BORNE;
use crate::inspect::shoulders::gaps;
use crate::inspect::slats::LEAST_BEARING;
use crate::inspect::{Figure, Seriousness, TOUCH, engagement, mm, small};
use crate::joint::{Fit, Fixing, JointKind, local_axis};
use crate::model::{Joint, JointId, Model, Part, PartKind, Role};

/// What a joint lacks for the sake of a size of one of its parts; lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::inspect) enum Gap {
    /// It stays open.
    Open(f64),
    /// One of its parts runs into the other.
    Into(f64),
    /// Its panel reaches so much less into the groove than it should, and only so far; not at all where that is nothing.
    LessInGroove { less: f64, reach: f64 },
    /// Its panel reaches past the bottom of the groove.
    PastBottom(f64),
    /// Its loose part has room in its holes.
    Loose(f64),
    /// Its loose part does not go into its holes.
    Tight(f64),
    /// Its part lies with so much, where so much should lie; so much must, where a rule says so.
    Bare { on: f64, of: f64, least: Option<f64> },
    /// What lies on its part has so much to lie on, where so much was planned; so much must be there, where a rule says so.
    Narrow { on: f64, of: f64, least: Option<f64> },
    /// A top stands out so much over both sides of the case together, where so much was planned; whether it shrinks that way.
    Over { left: f64, planned: f64, shrinks: bool },
}

/// A part that lies on others does so with three quarters of what was planned at least: our own limit.
const LEAST_SHARE: f64 = 0.75;
/// A strip that is glued on along its length holds with half of the planned length at least, and is at risk with less than all: what lies on it is reckoned on what is there
/// (our own limit).
const LEAST_GLUED: f64 = 0.5;

impl Gap {
    pub(in crate::inspect) fn figures(self) -> Vec<Figure> {
        match self {
            Gap::Open(gap) | Gap::LessInGroove { less: gap, .. } => vec![Figure::mm("open", gap)],
            Gap::Into(far) | Gap::PastBottom(far) => vec![Figure::mm("too far", far)],
            Gap::Loose(room) => vec![Figure::mm("loose", room)],
            Gap::Tight(by) => vec![Figure::mm("tight", by)],
            Gap::Bare { on, of, .. } | Gap::Narrow { on, of, .. } => vec![Figure::mm("borne", on), Figure::mm("to be borne", of)],
            Gap::Over { left, planned, .. } => vec![Figure::mm("over", left), Figure::mm("to be over", planned)],
        }
    }

    /// "the joint with Post, front right stays open by 12 mm".
    pub(super) fn words(self, joint: &Joint, with: &str) -> String {
        match self {
            Gap::Open(gap) => format!("the joint with {with} stays open by {}", small(gap)),
            Gap::Into(far) => format!("it runs {} into {with}", small(far)),
            Gap::LessInGroove { reach, .. } if reach <= TOUCH => format!("it does not reach into the groove of {with}"),
            Gap::LessInGroove { less, .. } => format!("it reaches {} less into {with} than it should", small(less)),
            Gap::PastBottom(far) => format!("it reaches {} past the bottom of its groove in {with}", small(far)),
            Gap::Loose(room) => format!("it is loose by {} in {with}", small(room)),
            Gap::Tight(by) => format!("it is {} too tight for its hole in {with}", small(by)),
            Gap::Bare { on, .. } if on <= TOUCH => match joint.kind {
                JointKind::Plain(Fixing::Glue) => format!("it does not touch {with}"),
                _ => format!("it does not lie on {with}"),
            },
            Gap::Bare { on, of, .. } => match joint.kind {
                JointKind::Plain(Fixing::Glue) => format!("only {} of the {} mm are glued to {with}", mm(on), mm(of)),
                _ => format!("it lies on only {} of the {} mm of {with}", mm(on), mm(of)),
            },
            Gap::Narrow { on, .. } if on <= TOUCH => format!("{with} does not lie on it"),
            Gap::Narrow { on, of, .. } => format!("{with} lies on only {} mm of it, where {} are planned", mm(on), mm(of)),
            Gap::Over { left, planned, .. } => {
                format!("it stands out over the case by {} mm on both sides together, where {} are planned", mm(left), mm(planned))
            }
        }
    }

    /// What merely lies on another may be packed; a loose part with room holds less; a top is to cover all that it stands on. Where a rule says
    /// how much must lie on another, so much does, and what is much less than planned may go wrong.
    pub(super) fn seriousness(self, joint: &Joint) -> Seriousness {
        let by_share = |have: f64, wanted: f64| if have / wanted < LEAST_SHARE { Seriousness::AtRisk } else { Seriousness::Note };
        match self {
            Gap::Open(_) if matches!(joint.kind, JointKind::Plain(Fixing::Rest)) => Seriousness::AtRisk,
            Gap::Bare { on, least: Some(least), .. } | Gap::Narrow { on, least: Some(least), .. } if on < least - TOUCH => {
                Seriousness::WillFail
            }
            Gap::Bare { on, of, least: Some(_) } => by_share(on, of),
            Gap::Bare { on, of, least: None } if matches!(joint.kind, JointKind::Plain(Fixing::Glue)) && on / of >= LEAST_GLUED => {
                Seriousness::AtRisk
            }
            Gap::Bare { on, of, least: None } if joint.role != Role::TopToPost && on / of >= LEAST_SHARE => Seriousness::AtRisk,
            Gap::Narrow { on, of, .. } if on > TOUCH => by_share(on, of),
            Gap::Over { shrinks: false, .. } => Seriousness::Note,
            Gap::Over { left, planned, shrinks: true } => by_share(left, planned),
            Gap::Loose(_) => Seriousness::AtRisk,
            Gap::Open(_)
            | Gap::Into(_)
            | Gap::LessInGroove { .. }
            | Gap::PastBottom(_)
            | Gap::Tight(_)
            | Gap::Bare { .. }
            | Gap::Narrow { .. } => Seriousness::WillFail,
        }
    }
}

/// What a size of a part does to all its joints.
pub(super) fn gaps_of(model: &Model, part: &Part, of: Dimension) -> Vec<(JointId, Gap)> {
    let joints = model.joints_of(part.id).filter_map(|joint| Some((joint.id, gap(model, joint, part, of)?)));
    let bare = bare(model, part, of);
    let over = if bare.is_empty() { over(model, part, of) } else { None };
    joints.chain(bare).chain(narrow(model, part, of)).chain(over).chain(rocks(model, part, of)).collect()
}

/// What lies on a cleat that came out higher and so is off the other one: the shelf rocks.
fn rocks(model: &Model, part: &Part, of: Dimension) -> Vec<(JointId, Gap)> {
    if part.kind != PartKind::Cleat || of != Dimension::Width || lacking(part, of).is_none() {
        return Vec::new();
    }
    let lying = model.joints_of(part.id).filter(|joint| joint.b == part.id && joint.role == Role::SlatToCleat);
    let off = lying.flat_map(|joint| model.joints_of(joint.a).filter(|other| other.b != part.id && other.role == Role::SlatToCleat));
    off.filter_map(|other| {
        let (gap, _) = gaps(model, other);
        (gap > TOUCH).then_some((other.id, Gap::Open(gap)))
    })
    .collect()
}

/// What a size of a part does to a joint along the way in which it closes, or to itself in the holes of the joint.
fn gap(model: &Model, joint: &Joint, part: &Part, of: Dimension) -> Option<Gap> {
    if joint.loose.contains(&part.id) {
        return in_holes(&joint.kind, part, of);
    }
    let (a, b) = (model.part(joint.a), model.part(joint.b));
    let into = joint.contact.into.vector();
    if local_axis(part, into) != of.index() {
        return None;
    }
    // Where both are wrong, the one that comes up is told of.
    if part.id == b.id && lacking(a, Dimension::ALL[local_axis(a, into)]).is_some() {
        return None;
    }
    if let JointKind::Groove(figures) = &joint.kind {
        let reach = engagement::reach(model, joint);
        let depth = engagement::depth_as_cut(model, joint, figures);
        return match (reach < engagement::LEAST_ENGAGED - TOUCH, reach > depth + TOUCH) {
            (true, _) => Some(Gap::LessInGroove { less: figures.depth - figures.play - reach, reach }),
            (_, true) => Some(Gap::PastBottom(reach - depth)),
            (false, false) => None,
        };
    }
    if !joint.kind.has_shoulder() {
        return None;
    }
    let (gap, beside) = gaps(model, joint);
    match (beside < -TOUCH, gap.abs() > TOUCH) {
        (true, true) => Some(if gap > 0.0 { Gap::Open(gap) } else { Gap::Into(-gap) }),
        _ => None,
    }
}

/// How a loose part goes into its holes across its length, where it is out of its class of fit.
pub(in crate::inspect) fn in_holes(kind: &JointKind, part: &Part, of: Dimension) -> Option<Gap> {
    let (hole, class) = match (kind, of) {
        (JointKind::LooseTenons(figures), Dimension::Thickness) => (figures.thickness + figures.fit, Fit::GluedSnug),
        (JointKind::LooseTenons(figures), Dimension::Width) => (figures.width_in_end(), Fit::GluedSnug),
        (JointKind::Dowels(figures), Dimension::Thickness | Dimension::Width) => (figures.diameter + figures.fit, Fit::Press),
        _ => return None,
    };
    let (room, range) = (hole - part.size[of.index()].mm, class.clearance());
    if room > range.end() + TOUCH {
        Some(Gap::Loose(room))
    } else if room < range.start() - TOUCH {
        Some(Gap::Tight(-room))
    } else {
        None
    }
}

/// Where a part that lies on others, or is glued to them face to face, no longer reaches them with its size beside the way in which they meet.
/// It is put where it lies best: what is told is what then stays bare.
fn bare(model: &Model, part: &Part, of: Dimension) -> Vec<(JointId, Gap)> {
    let Some(short) = too_small(part, of) else { return Vec::new() };
    let wanted = part.size[of.index()].mm + short;
    let along = part.pose.basis * glam::DVec3::AXES[of.index()];
    let axis = along.abs().max_position();
    let sign = along[axis].signum();
    // From its first end or face, the way to the other.
    let from = sign * part.pose.origin[axis];
    let lies =
        |joint: &&Joint| joint.a == part.id && lies_on(&joint.kind, of) && local_axis(part, joint.contact.into.vector()) != of.index();
    let under: Vec<(&Joint, f64, f64)> = model
        .joints_of(part.id)
        .filter(lies)
        .map(|joint| {
            let body = model.part(joint.b).body();
            let (one, other) = (sign * body.min[axis], sign * body.max[axis]);
            (joint, one.min(other), one.max(other))
        })
        .collect();
    let over = |(low, high): (f64, f64), (from, to): (f64, f64)| (high.min(to) - low.max(from)).max(0.0);
    let borne = |shift: f64| -> Vec<(&Joint, f64, f64)> {
        let all = under.iter().map(|(joint, low, high)| {
            let on = over((*low, *high), (from + shift, from + shift + wanted - short));
            (*joint, on, over((*low, *high), (from, from + wanted)))
        });
        all.filter(|(_, _, of)| *of > TOUCH).collect()
    };
    let least = |shift: f64| borne(shift).iter().map(|(_, on, of)| on / of).fold(f64::INFINITY, f64::min);
    let flush = under.iter().flat_map(|(_, low, high)| [low - from, high - from - wanted + short]);
    let shifts = [0.0, short / 2.0, short].into_iter().chain(flush.map(|shift| shift.clamp(0.0, short)));
    let best = shifts.fold(0.0, |best, shift| if least(shift) > least(best) + TOUCH { shift } else { best });
    let left = borne(best).into_iter().filter(|(_, on, of)| of - on > SEEN);
    left.map(|(joint, on, planned)| (joint.id, Gap::Bare { on, of: planned, least: least_of(joint.role, of) })).collect()
}

/// What a part lacks to one of its sizes, mm; none where it is as large as planned or larger.
fn too_small(part: &Part, of: Dimension) -> Option<f64> {
    lacking(part, of).filter(|short| *short > 0.0)
}

/// Whether the part that comes up lies on the other, or is glued to its face, with a size of it: a cleat on its teeth with its thickness.
fn lies_on(kind: &JointKind, of: Dimension) -> bool {
    match kind {
        JointKind::Plain(Fixing::Rest | Fixing::Glue) => true,
        JointKind::Seat(_) => of == Dimension::Thickness,
        _ => false,
    }
}

/// How much of the part that comes up must lie on the other across a size of it, mm, where a rule says so.
fn least_of(role: Role, of: Dimension) -> Option<f64> {
    match (role, of) {
        (Role::SlatToCleat, Dimension::Width) => Some(LEAST_BEARING),
        (Role::CleatToStandard, Dimension::Thickness) => Some(LEAST_BORNE),
        _ => None,
    }
}

/// What lies on a part, or is glued to its face, where the part came out too small across: so much it has to lie on. A top covers its posts all the
/// same, and what a part lacks in length is told by what stands at its ends.
fn narrow(model: &Model, part: &Part, of: Dimension) -> Vec<(JointId, Gap)> {
    let Some(short) = too_small(part, of).filter(|_| of != Dimension::Length) else { return Vec::new() };
    let lies = |joint: &&Joint| {
        let across = local_axis(part, joint.contact.into.vector()) != of.index();
        joint.b == part.id && lies_on(&joint.kind, of) && across && joint.role != Role::TopToPost
    };
    let axis = (part.pose.basis * glam::DVec3::AXES[of.index()]).abs().max_position();
    let own = part.body();
    let on_it = model.joints_of(part.id).filter(lies).filter_map(|joint| {
        let other = model.part(joint.a).body();
        let on = (own.max[axis].min(other.max[axis]) - own.min[axis].max(other.min[axis])).max(0.0);
        // No more than the part lacks would lie on what it lacks.
        let lost = short.min(other.max[axis] - other.min[axis] - on);
        let least = matches!(joint.role, Role::SlatToCleat | Role::CleatToStandard | Role::FloorToBearer).then_some(LEAST_BORNE);
        (lost > SEEN).then_some((joint.id, Gap::Narrow { on, of: on + lost, least }))
    });
    on_it.collect()
}

/// A top that no longer stands out over the case as planned, though it covers it.
fn over(model: &Model, part: &Part, of: Dimension) -> Option<(JointId, Gap)> {
    let short = too_small(part, of).filter(|short| *short > SEEN && of != Dimension::Thickness)?;
    let shrinks = of == Dimension::Width;
    let axis = (part.pose.basis * glam::DVec3::AXES[of.index()]).abs().max_position();
    let posts: Vec<&Joint> = model.joints_of(part.id).filter(|joint| joint.a == part.id && joint.role == Role::TopToPost).collect();
    let first = posts.first()?;
    let blocks = || posts.iter().map(|joint| model.part(joint.b).block());
    let wide = blocks().map(|block| block.max[axis]).fold(f64::NEG_INFINITY, f64::max)
        - blocks().map(|block| block.min[axis]).fold(f64::INFINITY, f64::min);
    let left = part.size[of.index()].mm - wide;
    Some((first.id, Gap::Over { left, planned: left + short, shrinks }))
}
