//! What a beam does under its loads.

use super::Section;
use super::polynomial::Quartic;

/// A beam under its loads: its shape, its moments and forces, what its supports bear, how it is stressed.
///
/// Moments, forces, reactions and stresses are those of bending alone (Euler and Bernoulli). In a beam on more supports than it needs,
/// shear shifts them a little; in the deflection it is counted, and told apart.
#[derive(Clone, Debug, PartialEq)]
pub struct Bent {
    pieces: Vec<Piece>,
    reactions: Vec<Reaction>,
    sections: Vec<Section>,
}

/// Between two neighbouring places at which something changes; everything by the distance from `from`.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Piece {
    pub from: f64,
    pub to: f64,
    pub stretch: usize,
    pub load: Quartic,
    pub own: Quartic,
    pub shear: Quartic,
    pub moment: Quartic,
    pub force: Quartic,
}

/// What a support bears.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reaction {
    /// From the first end, mm.
    pub at: f64,
    /// Upward, N; negative where the beam would lift off.
    pub force: f64,
    /// The moment with which it is built in, N·mm; 0 where it is not.
    pub moment: f64,
}

/// A deflection, downward, told by its causes.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Sag {
    /// Bending under the load, mm.
    pub load: f64,
    /// Bending under the own weight, mm.
    pub own_weight: f64,
    /// Shear under both, mm.
    pub shear: f64,
}

impl Sag {
    /// All together, mm.
    pub fn total(self) -> f64 {
        self.load + self.own_weight + self.shear
    }
}

/// The greatest deflection of one span, or of an end that stands out over its last support.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    /// From the first end of the beam, mm.
    pub from: f64,
    /// From the first end of the beam, mm.
    pub to: f64,
    /// Whether one of its ends is free.
    pub overhang: bool,
    /// Where it deflects most, either way, from the first end of the beam, mm.
    pub at: f64,
    /// How far, there.
    pub sag: Sag,
}

impl Span {
    /// The length by which a limit such as L/200 is reckoned, mm: an end that stands out counts twice (EN 1995-1-1 table 7.2 allows it
    /// twice the share; memory).
    pub fn limit_length(&self) -> f64 {
        (self.to - self.from) * if self.overhang { 2.0 } else { 1.0 }
    }
}

/// The greatest of something and where.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Extreme {
    /// With its sign.
    pub value: f64,
    /// From the first end, mm.
    pub at: f64,
}

impl Piece {
    fn length(&self) -> f64 {
        self.to - self.from
    }

    fn total(&self) -> Quartic {
        self.load.plus(self.own).plus(self.shear)
    }

    fn sag(&self, x: f64) -> Sag {
        Sag { load: self.load.at(x), own_weight: self.own.at(x), shear: self.shear.at(x) }
    }
}

impl Bent {
    pub(super) fn new(pieces: Vec<Piece>, reactions: Vec<Reaction>, sections: Vec<Section>) -> Bent {
        Bent { pieces, reactions, sections }
    }

    /// What each support bears, from the first end on.
    pub fn reactions(&self) -> &[Reaction] {
        &self.reactions
    }

    /// Over all, mm.
    pub fn length(&self) -> f64 {
        self.pieces.last().map_or(0.0, |piece| piece.to)
    }

    /// The deflection at a place, mm from the first end; at the nearer end for a place beside the beam.
    pub fn sag_at(&self, at: f64) -> Sag {
        self.near(at).map_or(Sag::default(), |(piece, x)| piece.sag(x))
    }

    /// The slope of the shape at a place: mm downward to the mm.
    pub fn slope_at(&self, at: f64) -> f64 {
        self.near(at).map_or(0.0, |(piece, x)| piece.total().slope().at(x))
    }

    /// The bending moment at a place, N·mm.
    pub fn moment_at(&self, at: f64) -> f64 {
        self.near(at).map_or(0.0, |(piece, x)| piece.moment.at(x))
    }

    /// The moment at a place, N·mm, by the load and by the own weight: as each bends the beam there.
    pub(super) fn moments_apart(&self, at: f64) -> [f64; 2] {
        let Some((piece, x)) = self.near(at) else { return [0.0; 2] };
        let stiff = self.sections[piece.stretch].bending();
        [piece.load, piece.own].map(|shape| -stiff * shape.slope().slope().at(x))
    }

    /// By how much the moment at a place is another, N·mm, because the beam gives way in shear too: 0 on two supports.
    pub(super) fn moment_by_shear(&self, at: f64) -> f64 {
        let Some((piece, x)) = self.near(at) else { return 0.0 };
        let section = &self.sections[piece.stretch];
        let per_mm = -piece.force.slope().at(x);
        -section.bending() * (piece.shear.slope().slope().at(x) + per_mm / section.shear())
    }

    /// The slope of the shape at a place by the load, by the own weight and by shear, mm downward to the mm.
    pub(super) fn slopes_apart(&self, at: f64) -> [f64; 3] {
        let Some((piece, x)) = self.near(at) else { return [0.0; 3] };
        [piece.load, piece.own, piece.shear].map(|shape| shape.slope().at(x))
    }

    /// The shear force at a place, N: right after it where it makes a step.
    pub fn force_at(&self, at: f64) -> f64 {
        self.near(at).map_or(0.0, |(piece, x)| piece.force.at(x))
    }

    /// Places along it, `steps` + 1 evenly from end to end, with the whole deflection at each, mm: for a drawing.
    pub fn shape(&self, steps: usize) -> Vec<(f64, f64)> {
        let steps = steps.max(1);
        let place = |step: usize| self.length() * step as f64 / steps as f64;
        (0..=steps).map(|step| (place(step), self.sag_at(place(step)).total())).collect()
    }

    /// Each span, from the first end on, with its greatest deflection.
    pub fn spans(&self) -> Vec<Span> {
        let mut stops: Vec<f64> = self.reactions.iter().map(|reaction| reaction.at).collect();
        let (first, last) = (stops.first().copied().unwrap_or(0.0), stops.last().copied().unwrap_or(0.0));
        let free = [first > 0.0, last < self.length()];
        if free[0] {
            stops.insert(0, 0.0);
        }
        if free[1] {
            stops.push(self.length());
        }
        let count = stops.len().saturating_sub(1);
        let overhang = |index: usize| (index == 0 && free[0]) || (index + 1 == count && free[1]);
        stops.windows(2).enumerate().filter_map(|(index, ends)| self.span(ends[0], ends[1], overhang(index))).collect()
    }

    fn span(&self, from: f64, to: f64, overhang: bool) -> Option<Span> {
        let within = self.pieces.iter().filter(|piece| (from..to).contains(&piece.from.midpoint(piece.to)));
        let places = within.map(|piece| (piece, piece.total().farthest(piece.length())));
        let (piece, x) = places.max_by(|a, b| a.0.total().at(a.1).abs().total_cmp(&b.0.total().at(b.1).abs()))?;
        Some(Span { from, to, overhang, at: piece.from + x, sag: piece.sag(x) })
    }

    /// The span that deflects most for its length. An end that stands out counts only where it sinks: that it rises a little is no fault.
    pub fn worst(&self) -> Span {
        let down = |span: &Span| if span.overhang { span.sag.total().max(0.0) } else { span.sag.total().abs() };
        let share = |span: &Span| down(span) / span.limit_length();
        let spans = self.spans().into_iter();
        let nothing = Span { from: 0.0, to: self.length(), overhang: false, at: 0.0, sag: Sag::default() };
        spans.max_by(|a, b| share(a).total_cmp(&share(b))).unwrap_or(nothing)
    }

    /// The greatest bending moment, either way, N·mm.
    pub fn greatest_moment(&self) -> Extreme {
        self.greatest(|piece| piece.moment, |_, moment| moment.abs()).0
    }

    /// The greatest shear force, either way, N.
    pub fn greatest_force(&self) -> Extreme {
        self.greatest(|piece| piece.force, |_, force| force.abs()).0
    }

    /// The greatest bending stress, N/mm².
    pub fn bending_stress(&self) -> Extreme {
        let (place, stress) = self.greatest(|piece| piece.moment, |piece, moment| self.sections[piece.stretch].bending_stress(moment));
        Extreme { value: stress, at: place.at }
    }

    /// The greatest shear stress, N/mm².
    pub fn shear_stress(&self) -> Extreme {
        let (place, stress) = self.greatest(|piece| piece.force, |piece, force| self.sections[piece.stretch].shear_stress(force));
        Extreme { value: stress, at: place.at }
    }

    /// The greatest of something by what it weighs, and its weight.
    fn greatest(&self, of: impl Fn(&Piece) -> Quartic, weigh: impl Fn(&Piece, f64) -> f64) -> (Extreme, f64) {
        let mut found = (Extreme::default(), 0.0);
        for piece in &self.pieces {
            let x = of(piece).farthest(piece.length());
            let value = of(piece).at(x);
            let weight = weigh(piece, value);
            if weight > found.1 {
                found = (Extreme { value, at: piece.from + x }, weight);
            }
        }
        found
    }

    fn near(&self, at: f64) -> Option<(&Piece, f64)> {
        let piece = self.pieces.iter().rfind(|piece| piece.from <= at).or(self.pieces.first())?;
        Some((piece, (at - piece.from).clamp(0.0, piece.length())))
    }
}
