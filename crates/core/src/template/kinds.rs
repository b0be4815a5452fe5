//! Which cuts are made to a template, and how far into their part they reach.

use super::{Of, Seen, teeth};
use crate::model::{CutState, Feature, Part, prism_bounds};

/// Parts that are wider have a template a corner, mm: one that goes on a sheet beside its words.
const WIDE: f64 = 150.0;

/// How far a cut reaches along its part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Reach {
    /// Over most of it.
    All,
    /// From the first end, mm.
    First(f64),
    /// From the second end, mm.
    Second(f64),
}

impl Reach {
    pub fn deep(self) -> f64 {
        match self {
            Reach::All => 0.0,
            Reach::First(deep) | Reach::Second(deep) => deep,
        }
    }
}

/// A cut with where it lies.
pub(super) struct Shaped<'p> {
    pub feature: &'p Feature,
    pub reach: Reach,
    /// From and to across the part, mm.
    pub across: [f64; 2],
}

impl Shaped<'_> {
    /// How far it reaches from the edge of its corner, mm.
    pub fn wide(&self, of: Of, width: f64) -> f64 {
        match of {
            Of::Corner { far: false, .. } => self.across[1],
            Of::Corner { far: true, .. } => width - self.across[0],
            Of::Whole | Of::End { .. } => 0.0,
        }
    }
}

/// What a template of such a cut shows, and the face on which it has one; none where fence and stop make it.
fn shown(feature: &Feature) -> Option<(&'static str, Seen)> {
    Some(match feature {
        Feature::Teeth { .. } => ("Teeth", Seen::FaceSide),
        Feature::HalfRounds { .. } => ("Half rounds", Seen::FaceSide),
        Feature::Bevel { .. } => ("Slope of an end", Seen::FaceSide),
        Feature::RoundEnds => ("Round end", Seen::FaceSide),
        Feature::Notch { .. } => ("Notch", Seen::FaceSide),
        Feature::EndGap(_) => ("Gaps in an end", Seen::FaceSide),
        Feature::Tail(_) => ("Tail", Seen::FaceEdge),
        Feature::Taper(taper) if taper.face.axis() == 1 => ("Taper", Seen::FaceSide),
        Feature::Taper(_) => ("Taper", Seen::FaceEdge),
        Feature::Mortise { .. }
        | Feature::Tenon { .. }
        | Feature::Recess { .. }
        | Feature::Hole { .. }
        | Feature::Lap { .. }
        | Feature::Fork { .. }
        | Feature::Groove { .. }
        | Feature::Rabbet { .. }
        | Feature::HoleRow { .. }
        | Feature::RoundEdges
        | Feature::EdgeRabbet(_)
        | Feature::Housing(_)
        | Feature::Socket(_)
        | Feature::EdgeRound(_)
        | Feature::EdgeChamfer(_) => return None,
    })
}

/// What a template of such a cut shows; empty where it has none.
pub(super) fn title(feature: &Feature) -> &'static str {
    shown(feature).map_or("", |(title, _)| title)
}

/// The templates that a part asks for on a face, each with the cuts it is for.
pub(super) fn of(part: &Part, on: Seen) -> Vec<(Of, Vec<Shaped<'_>>)> {
    let cuts = part.cuts.iter().filter(|cut| cut.there != CutState::Idle && shown(&cut.feature).is_some_and(|(_, face)| face == on));
    let shaped: Vec<Shaped<'_>> = cuts.flat_map(|cut| shaped(part, on, &cut.feature)).collect();
    if shaped.is_empty() {
        return Vec::new();
    }
    if shaped.iter().any(|it| it.reach == Reach::All) {
        return vec![(Of::Whole, shaped)];
    }
    let width = part.lwt()[on.across()];
    let (first, second): (Vec<_>, Vec<_>) = shaped.into_iter().partition(|it| matches!(it.reach, Reach::First(_)));
    let mut all = Vec::new();
    for (end, second) in [(first, false), (second, true)] {
        let near = |it: &Shaped<'_>| it.across[1] <= width / 2.0;
        let far = |it: &Shaped<'_>| it.across[0] >= width / 2.0;
        if width <= WIDE || !end.iter().all(|it| near(it) || far(it)) {
            all.push((Of::End { second }, end));
            continue;
        }
        let (near, far): (Vec<_>, Vec<_>) = end.into_iter().partition(near);
        all.push((Of::Corner { second, far: false }, near));
        all.push((Of::Corner { second, far: true }, far));
    }
    all.retain(|(_, shaped)| !shaped.is_empty());
    all
}

/// A cut at the ends that it shapes.
fn shaped<'p>(part: &Part, on: Seen, feature: &'p Feature) -> Vec<Shaped<'p>> {
    let (size, across) = (part.lwt(), on.across());
    let bounds = feature.prisms(size).iter().map(prism_bounds).reduce(|all, one| (all.0.min(one.0), all.1.max(one.1)));
    let Some((low, high)) = bounds else { return Vec::new() };
    let (low, high) = (low.max(glam::DVec3::ZERO), high.min(size));
    let one = |reach: Reach| Shaped { feature, reach, across: [low[across], high[across]] };
    let is_long = match feature {
        Feature::Taper(taper) => taper.length > size.x / 2.0,
        other => !teeth::of(other).is_empty(),
    };
    if is_long {
        return vec![one(Reach::All)];
    }
    if *feature == Feature::RoundEnds {
        // Both of its ends are rounded by one cut.
        return [Reach::First(size[across] / 2.0), Reach::Second(size[across] / 2.0)].map(one).into();
    }
    let at_first = low.x <= size.x - high.x;
    vec![one(if at_first { Reach::First(high.x) } else { Reach::Second(size.x - low.x) })]
}
