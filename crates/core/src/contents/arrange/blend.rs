//! Things of one kind on things of another: which may, how they stand, and as which single things they are asked for.

use glam::DVec3;

use crate::contents::fill::Piled;
use crate::contents::{Pile, Stance};
use crate::design::{Bears, BoxKind, HandRoom};

/// Rounding of sums of lengths and masses.
const HAIR: f64 = 1e-6;

/// So many stacks, each of some things of a kind with some of another on them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(in crate::contents) struct Blend {
    /// Which kind stands on the shelf, and how many of it in each stack.
    pub lower: (usize, u32),
    /// Which kind stands on that, and how many.
    pub upper: (usize, u32),
    /// How many such stacks.
    pub count: u32,
}

/// One way in which such a stack stands.
#[derive(Clone, Copy, Debug)]
pub(in crate::contents) struct Stood {
    lower: Pile,
    upper: Pile,
    /// How far the upper sinks into the lower, mm.
    sunk: f64,
}

impl Blend {
    /// How many things stand in each.
    pub fn things(&self) -> u32 {
        self.lower.1 + self.upper.1
    }

    /// How many of a kind all of them take.
    pub fn takes(&self, kind: usize) -> u32 {
        let of = |(of, each): (usize, u32)| if of == kind { each * self.count } else { 0 };
        of(self.lower) + of(self.upper)
    }

    /// Every way in which such a stack may stand.
    pub fn ways(&self, contents: &[BoxKind], hand: &HandRoom) -> Vec<Stood> {
        let (Some(lower), Some(upper)) = (contents.get(self.lower.0), contents.get(self.upper.0)) else { return Vec::new() };
        let stances = |kind: &BoxKind| Stance::of(kind.lies);
        let pairs = stances(lower).iter().flat_map(|below| stances(upper).iter().map(move |above| (*below, *above)));
        pairs
            .filter(|(below, above)| carries(below.size(lower), above.size(upper)))
            .map(|(below, above)| Stood {
                lower: Pile::of(lower, hand, below, self.lower.1, 1),
                upper: Pile::of(upper, hand, above, self.upper.1, 1),
                sunk: sinks(lower, below, upper, above),
            })
            .collect()
    }

    /// What stands in a row where it stands so.
    pub fn piled(&self, stood: &Stood) -> [Piled; 2] {
        let upper = Piled { kind: self.upper.0, count: self.upper.1, pile: stood.upper, on: Some(stood.sunk) };
        [Piled::on_shelf(self.lower.0, self.lower.1, stood.lower), upper]
    }

    /// What one weighs, kg.
    pub fn kg(&self, contents: &[BoxKind]) -> f64 {
        let of = |(kind, each): (usize, u32)| contents.get(kind).map_or(0.0, |kind| kind.mass * f64::from(each));
        of(self.lower) + of(self.upper)
    }

    /// The highest level on which it may stand in a way, mm above the floor.
    pub fn no_higher_than(&self, stood: &Stood, contents: &[BoxKind], hand: &HandRoom) -> f64 {
        let of = |kind: usize, pile: &Pile| contents.get(kind).map_or(f64::INFINITY, |kind| pile.no_higher_than(kind, hand));
        of(self.lower.0, &stood.lower).min(of(self.upper.0, &stood.upper) - stood.base())
    }
}

impl Stood {
    /// How high over the shelf the upper stands, mm.
    fn base(&self) -> f64 {
        self.lower.size.y - self.sunk
    }

    /// What it takes of the width of a row, mm.
    pub fn wide(&self) -> f64 {
        self.lower.size.x + self.lower.beside
    }

    /// The free space that it asks for with nothing beside it, mm.
    pub fn needs(&self) -> DVec3 {
        let alone = self.lower.needs();
        DVec3 { y: self.base() + self.upper.needs().y, ..alone }
    }
}

/// Whether a thing of one kind, so large as it stands, may stand on one of another, so large as that stands.
pub(super) fn carries_of(lower: &BoxKind, below: DVec3, upper: &BoxKind, above: DVec3) -> bool {
    lower.bears == Bears::Any && upper.mass <= lower.mass + HAIR && carries(below, above)
}

/// Whether what is so large stands wholly on what is so large.
fn carries(below: DVec3, above: DVec3) -> bool {
    above.x <= below.x + HAIR && above.z <= below.z + HAIR
}

/// How far a thing sinks into one of another kind, mm: things of one plan nest as far as both do, others stand on what is under them (common practice, no
/// source).
fn sinks(lower: &BoxKind, below: Stance, upper: &BoxKind, above: Stance) -> f64 {
    let (a, b) = (below.size(lower), above.size(upper));
    let alike = (a.x - b.x).abs() <= HAIR && (a.z - b.z).abs() <= HAIR;
    if alike { below.nests(lower).min(above.nests(upper)) } else { 0.0 }
}

/// The most of one kind in such a stack: more are found by what stands on itself.
const MOST_EACH: u32 = 2;

/// Every stack of two kinds that may be made of what there is, no more than so many high, each once; those of one plan first.
pub(super) fn possible(contents: &[BoxKind], high: u32) -> Vec<Blend> {
    let mut all = Vec::new();
    for (below, lower) in contents.iter().enumerate().filter(|(_, kind)| kind.bears == Bears::Any) {
        for (above, upper) in contents.iter().enumerate().filter(|(above, upper)| *above != below && upper.mass <= lower.mass + HAIR) {
            let any = |of: &BoxKind| Stance::of(of.lies).iter().map(|stance| stance.size(of)).collect::<Vec<_>>();
            let carried = any(lower).iter().any(|below| any(upper).iter().any(|above| carries(*below, *above)));
            if !carried {
                continue;
            }
            let on_itself = |kind: &BoxKind, each: u32| each == 1 || kind.bears != Bears::Nothing;
            for (low, up) in (1..=MOST_EACH).flat_map(|low| (1..=MOST_EACH).map(move |up| (low, up))) {
                let most = (lower.wanted() / low).min(upper.wanted() / up);
                if low + up <= high && most > 0 && on_itself(upper, up) {
                    all.push(Blend { lower: (below, low), upper: (above, up), count: most });
                }
            }
        }
    }
    let unlike = |blend: &Blend| {
        let plan = |kind: usize| contents.get(kind).map_or(0.0, |kind| kind.width.to_mm() * kind.depth.to_mm());
        plan(blend.lower.0) - plan(blend.upper.0)
    };
    all.sort_by(|a, b| unlike(a).abs().total_cmp(&unlike(b).abs()).then(a.things().cmp(&b.things())));
    all
}
