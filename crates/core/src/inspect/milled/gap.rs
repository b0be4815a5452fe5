//! What a wrong size of a part does to one of its joints.

use super::{SEEN, lacking, planned};
use crate::design::Dimension;
use crate::inspect::shoulders::gaps;
use crate::inspect::{Figure, Seriousness, TOUCH, engagement, mm, small};
use crate::joint::{Fit, Fixing, JointKind, local_axis};
use crate::model::{Joint, JointId, Model, Part, Role};

/// What a joint lacks for the sake of a size of one of its parts; lengths in mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Gap {
    /// It stays open.
    Open(f64),
    /// One of its parts runs into the other.
    Into(f64),
    /// Its panel reaches less into the groove.
    LessInGroove(f64),
    /// Its panel reaches past the bottom of the groove.
    PastBottom(f64),
    /// Its loose part has room in its holes.
    Loose(f64),
    /// Its loose part does not go into its holes.
    Tight(f64),
    /// Its part lies with so much, where so much should lie.
    Bare { on: f64, of: f64 },
}

/// A part that lies on others does so with three quarters of what was planned at least: our own limit.
const LEAST_SHARE: f64 = 0.75;

impl Gap {
    pub(super) fn figures(self) -> Vec<Figure> {
        match self {
            Gap::Open(gap) | Gap::LessInGroove(gap) => vec![Figure::mm("open", gap)],
            Gap::Into(far) | Gap::PastBottom(far) => vec![Figure::mm("too far", far)],
            Gap::Loose(room) => vec![Figure::mm("loose", room)],
            Gap::Tight(by) => vec![Figure::mm("tight", by)],
            Gap::Bare { on, of } => vec![Figure::mm("borne", on), Figure::mm("to be borne", of)],
        }
    }

    /// "the joint with Post, front right stays open by 12 mm".
    pub(super) fn words(self, joint: &Joint, with: &str) -> String {
        match self {
            Gap::Open(gap) => format!("the joint with {with} stays open by {}", small(gap)),
            Gap::Into(far) => format!("it runs {} into {with}", small(far)),
            Gap::LessInGroove(less) => format!("it reaches {} less into {with} than it should", small(less)),
            Gap::PastBottom(far) => format!("it reaches {} past the bottom of its groove in {with}", small(far)),
            Gap::Loose(room) => format!("it is loose by {} in {with}", small(room)),
            Gap::Tight(by) => format!("it is {} too tight for its hole in {with}", small(by)),
            Gap::Bare { on, .. } if on <= TOUCH => match joint.kind {
                JointKind::Plain(Fixing::Glue) => format!("it does not touch {with}"),
                _ => format!("it does not lie on {with}"),
            },
            Gap::Bare { on, of } => match joint.kind {
                JointKind::Plain(Fixing::Glue) => format!("only {} of the {} mm are glued to {with}", mm(on), mm(of)),
                _ => format!("it lies on only {} of the {} mm of {with}", mm(on), mm(of)),
            },
        }
    }

    /// What merely lies on another may be packed; a loose part with room holds less; a top is to cover all that it stands on.
    pub(super) fn seriousness(self, joint: &Joint) -> Seriousness {
        match self {
            Gap::Open(_) if matches!(joint.kind, JointKind::Plain(Fixing::Rest)) => Seriousness::AtRisk,
            Gap::Bare { on, of } if joint.role != Role::TopToPost && on / of >= LEAST_SHARE => Seriousness::AtRisk,
            Gap::Loose(_) => Seriousness::AtRisk,
            Gap::Open(_) | Gap::Into(_) | Gap::LessInGroove(_) | Gap::PastBottom(_) | Gap::Tight(_) | Gap::Bare { .. } => {
                Seriousness::WillFail
            }
        }
    }
}

/// What a size of a part does to all its joints.
pub(super) fn gaps_of(model: &Model, part: &Part, of: Dimension) -> Vec<(JointId, Gap)> {
    let joints = model.joints_of(part.id).filter_map(|joint| Some((joint.id, gap(model, joint, part, of)?)));
    joints.chain(bare(model, part, of)).collect()
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
        let reach = engagement::reach(a, joint);
        return match (reach < engagement::LEAST_ENGAGED - TOUCH, reach > figures.depth + TOUCH) {
            (true, _) => Some(Gap::LessInGroove(figures.depth - figures.play - reach)),
            (_, true) => Some(Gap::PastBottom(reach - figures.depth)),
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
fn in_holes(kind: &JointKind, part: &Part, of: Dimension) -> Option<Gap> {
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
    let Some(wanted) = planned(&part.size[of.index()]).filter(|wanted| wanted.mm > part.size[of.index()].mm + TOUCH) else {
        return Vec::new();
    };
    let short = wanted.mm - part.size[of.index()].mm;
    let along = part.pose.basis * glam::DVec3::AXES[of.index()];
    let axis = along.abs().max_position();
    let sign = along[axis].signum();
    // From its first end or face, the way to the other.
    let from = sign * part.pose.origin[axis];
    let lies = |joint: &&Joint| {
        let uncut = matches!(joint.kind, JointKind::Plain(Fixing::Rest | Fixing::Glue));
        joint.a == part.id && uncut && local_axis(part, joint.contact.into.vector()) != of.index()
    };
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
            let on = over((*low, *high), (from + shift, from + shift + wanted.mm - short));
            (*joint, on, over((*low, *high), (from, from + wanted.mm)))
        });
        all.filter(|(_, _, of)| *of > TOUCH).collect()
    };
    let least = |shift: f64| borne(shift).iter().map(|(_, on, of)| on / of).fold(f64::INFINITY, f64::min);
    let flush = under.iter().flat_map(|(_, low, high)| [low - from, high - from - wanted.mm + short]);
    let shifts = [0.0, short / 2.0, short].into_iter().chain(flush.map(|shift| shift.clamp(0.0, short)));
    let best = shifts.fold(0.0, |best, shift| if least(shift) > least(best) + TOUCH { shift } else { best });
    let left = borne(best).into_iter().filter(|(_, on, of)| of - on > SEEN);
    left.map(|(joint, on, of)| (joint.id, Gap::Bare { on, of })).collect()
}
