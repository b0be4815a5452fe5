//! A straight beam on any number of supports, and the loads on it.

use thiserror::Error;

use super::bent::{Bent, Piece, Reaction};
use super::polynomial::Quartic;
use super::stiffness::{self, Burden, Element, Node};
use super::{GRAVITY, Section, SectionError};

/// A straight beam that lies level: a shelf, a slat, a rail.
///
/// An end without a support is free.
///
/// ```
/// use casewright_core::strength::{Beam, Load, Properties, Section};
///
/// let mdf = Properties::plain("MDF", 2500.0);
/// let shelf = Beam::simple(800.0, Section::rectangle(300.0, 18.0, &mdf)?).with(Load::kg_spread(24.0, 0.0, 800.0));
/// let bent = shelf.solve()?;
/// assert!((bent.worst().sag.load - 4.3).abs() < 0.05);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Beam {
    /// From its first end to its second; each of one section.
    pub stretches: Vec<Stretch>,
    /// What holds it, in any order.
    pub supports: Vec<Support>,
    /// What it bears, besides itself.
    pub loads: Vec<Load>,
    /// Whether its own weight is counted; then the density of each section must be known.
    pub own_weight: bool,
}

/// A stretch of a beam of one section.
#[derive(Clone, Debug, PartialEq)]
pub struct Stretch {
    /// mm.
    pub length: f64,
    /// Its section.
    pub section: Section,
}

/// What holds a beam at a place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Support {
    /// From the first end, mm.
    pub at: f64,
    /// How it holds.
    pub hold: Hold,
}

/// How a support holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hold {
    /// The beam can turn on it: a shelf that lies on it, and to be safe one that is housed or screwed (common practice, no source).
    Simple,
    /// The beam can't turn there.
    BuiltIn,
}

/// A load on a beam, downward where positive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Load {
    /// At one place.
    Point {
        /// From the first end, mm.
        at: f64,
        /// N.
        force: f64,
    },
    /// Evenly over a length.
    Spread {
        /// From the first end, mm.
        from: f64,
        /// From the first end, mm; more than `from`.
        to: f64,
        /// N to the mm.
        per_mm: f64,
    },
}

impl Load {
    /// A mass at one place.
    pub fn kg_at(kg: f64, at: f64) -> Load {
        Load::Point { at, force: kg * GRAVITY }
    }

    /// A mass spread evenly from one place to another; at one place when they are the same.
    pub fn kg_spread(kg: f64, from: f64, to: f64) -> Load {
        if to > from { Load::Spread { from, to, per_mm: kg * GRAVITY / (to - from) } } else { Load::kg_at(kg, from) }
    }

    /// A mass to the metre from one place to another.
    pub fn kg_per_metre(kg: f64, from: f64, to: f64) -> Load {
        Load::Spread { from, to, per_mm: kg * GRAVITY / 1000.0 }
    }
}

/// Why a beam can't be reckoned.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum BeamError {
    /// It has next to no length.
    #[error("stretch {index} of the beam is {found} mm long; each must be 1 mm at the least")]
    Length {
        /// Which stretch, from 1.
        index: usize,
        /// Its length, mm.
        found: f64,
    },
    /// It has no stretch.
    #[error("the beam has no stretch; it needs one at the least")]
    Empty,
    /// Something is beside the beam.
    #[error("{what} is at {at} mm, which is not on the beam from 0 to {length} mm")]
    BesideBeam {
        /// "a support" or "a load".
        what: &'static str,
        /// Where, mm.
        at: f64,
        /// Length of the beam, mm.
        length: f64,
    },
    /// A load is no number, or ends before it begins.
    #[error("a load is {found}; it must be a finite force, and a spread one must end after it begins")]
    Load {
        /// What was found.
        found: f64,
    },
    /// Two supports are next to each other.
    #[error("supports at {at} and {other} mm are less than 1 mm apart; make them one, built in if the beam can't turn there")]
    SupportsTooNear {
        /// mm.
        at: f64,
        /// mm.
        other: f64,
    },
    /// Nothing holds it in its place.
    #[error("nothing holds the beam in its place: it needs two supports, or one in which it is built in")]
    FreeToMove,
    /// The own weight was asked for, of a stuff whose density is not known.
    #[error("the own weight of stretch {index} can't be told: no density is known for it; give one, or leave the own weight out")]
    OwnWeightUnknown {
        /// Which stretch, from 1.
        index: usize,
    },
    /// A section is none.
    #[error(transparent)]
    Section(#[from] SectionError),
}

/// Places closer than this are one, mm.
const SAME: f64 = 1e-6;

/// A change of section nearer to a support or an end than this is taken to be at it, mm: so short an element would spoil the sums of all
/// others, and bends by nothing itself.
const NEAR: f64 = 0.5;

/// The least length of a stretch, and the least distance of two supports, mm.
const LEAST: f64 = 1.0;

impl Beam {
    /// A beam of one section that lies on both its ends.
    pub fn simple(length: f64, section: Section) -> Beam {
        Beam::continuous(&[length], section)
    }

    /// A beam of one section that is built in at both ends.
    pub fn built_in(length: f64, section: Section) -> Beam {
        Beam { supports: [0.0, length].map(|at| Support { at, hold: Hold::BuiltIn }).into(), ..Beam::simple(length, section) }
    }

    /// A beam of one section, built in at its first end and free at the other.
    pub fn cantilever(length: f64, section: Section) -> Beam {
        Beam { supports: vec![Support { at: 0.0, hold: Hold::BuiltIn }], ..Beam::simple(length, section) }
    }

    /// A beam of one section that lies on supports these distances apart, the first and the last at its ends.
    pub fn continuous(spans: &[f64], section: Section) -> Beam {
        let mut supports = vec![Support { at: 0.0, hold: Hold::Simple }];
        for span in spans {
            let last = supports.last().map_or(0.0, |support| support.at);
            supports.push(Support { at: last + span, hold: Hold::Simple });
        }
        let length = spans.iter().sum();
        Beam { stretches: vec![Stretch { length, section }], supports, loads: Vec::new(), own_weight: false }
    }

    /// The same with one load more.
    #[must_use]
    pub fn with(mut self, load: Load) -> Beam {
        self.loads.push(load);
        self
    }

    /// The same with its own weight counted.
    #[must_use]
    pub fn heavy(mut self) -> Beam {
        self.own_weight = true;
        self
    }

    /// Over all, mm.
    pub fn length(&self) -> f64 {
        self.stretches.iter().map(|stretch| stretch.length).sum()
    }

    /// How it bends.
    ///
    /// # Errors
    ///
    /// When a figure of it is out of range, when nothing holds it, or when its own weight is asked for and not known.
    pub fn solve(&self) -> Result<Bent, BeamError> {
        self.check()?;
        let places = self.places();
        let nodes: Vec<Node> = places.iter().map(|at| self.node(*at)).collect();
        let bare: Vec<(usize, Element)> = places.windows(2).map(|ends| self.element(ends[0], ends[1])).collect();
        // Three times the same beam, with loads that break it at the same places, so that the shapes can be added piece by piece.
        let loaded = |load: f64, own: f64, shear: bool| -> Vec<Element> {
            let element = |((index, element), from): (&(usize, Element), &f64)| {
                let own = own * self.own_per_mm(*index) * element.length;
                let loads = self.burdens(*from, element.length, load).chain([Burden { from: 0.0, to: element.length, force: own }]);
                Element { loads: loads.collect(), shear: if shear { element.shear } else { f64::INFINITY }, ..element.clone() }
            };
            bare.iter().zip(&places).map(element).collect()
        };
        let load = stiffness::solve(&nodes, &loaded(1.0, 0.0, false))?;
        let own = stiffness::solve(&nodes, &loaded(0.0, 1.0, false))?;
        let all = stiffness::solve(&nodes, &loaded(1.0, 1.0, true))?;
        let mut pieces = Vec::new();
        for (index, ((load, own), all)) in load.iter().zip(&own).zip(&all).enumerate() {
            for ((load, own), all) in load.iter().zip(own).zip(all) {
                pieces.push(Piece {
                    from: places[index] + load.from,
                    to: places[index] + load.from + load.length,
                    stretch: bare[index].0,
                    load: load.shape,
                    own: own.shape,
                    shear: all.shape.minus(load.shape).minus(own.shape),
                    moment: load.moment.plus(own.moment),
                    force: load.force.plus(own.force),
                });
            }
        }
        let reactions = self.reactions(&places, &nodes, &pieces);
        Ok(Bent::new(pieces, reactions, self.stretches.iter().map(|stretch| stretch.section.clone()).collect()))
    }

    fn check(&self) -> Result<(), BeamError> {
        if self.stretches.is_empty() {
            return Err(BeamError::Empty);
        }
        for (index, stretch) in self.stretches.iter().enumerate() {
            if !(stretch.length >= LEAST && stretch.length.is_finite()) {
                return Err(BeamError::Length { index: index + 1, found: stretch.length });
            }
            if self.own_weight && stretch.section.kg_per_mm().is_none() {
                return Err(BeamError::OwnWeightUnknown { index: index + 1 });
            }
        }
        let length = self.length();
        let beside = |at: f64| !(at >= -SAME && at <= length + SAME);
        if let Some(support) = self.supports.iter().find(|support| beside(support.at)) {
            return Err(BeamError::BesideBeam { what: "a support", at: support.at, length });
        }
        for load in &self.loads {
            let (ends, force) = match *load {
                Load::Point { at, force } => ([at, at], force),
                Load::Spread { from, to, per_mm } => ([from, to], if to > from { per_mm } else { f64::NAN }),
            };
            if let Some(at) = ends.into_iter().find(|at| beside(*at)) {
                return Err(BeamError::BesideBeam { what: "a load", at, length });
            }
            if !force.is_finite() {
                return Err(BeamError::Load { found: force });
            }
        }
        let mut places: Vec<f64> = self.supports.iter().map(|support| support.at).collect();
        places.sort_by(f64::total_cmp);
        places.dedup_by(|later, earlier| *later - *earlier < SAME);
        if let Some(pair) = places.windows(2).find(|pair| pair[1] - pair[0] < LEAST) {
            return Err(BeamError::SupportsTooNear { at: pair[0], other: pair[1] });
        }
        let clamped = self.supports.iter().any(|support| support.hold == Hold::BuiltIn);
        if places.len() >= 2 || clamped { Ok(()) } else { Err(BeamError::FreeToMove) }
    }

    /// Where it is held and where its section changes, from end to end.
    fn places(&self) -> Vec<f64> {
        let length = self.length();
        let mut places = vec![0.0, length];
        places.extend(self.supports.iter().map(|support| support.at.clamp(0.0, length)));
        let mut end = 0.0;
        for stretch in &self.stretches {
            end += stretch.length;
            if places.iter().all(|place: &f64| (place - end).abs() >= NEAR) {
                places.push(end);
            }
        }
        places.sort_by(f64::total_cmp);
        places.dedup_by(|later, earlier| *later - *earlier < SAME);
        places
    }

    fn node(&self, at: f64) -> Node {
        let here = || self.supports.iter().filter(|support| (support.at - at).abs() <= SAME);
        Node { held: here().next().is_some(), clamped: here().any(|support| support.hold == Hold::BuiltIn) }
    }

    /// What lies between two neighbouring places, still without loads, with its stretch.
    fn element(&self, from: f64, to: f64) -> (usize, Element) {
        let middle = from.midpoint(to);
        let mut end = 0.0;
        let index = self.stretches.iter().position(|stretch| {
            end += stretch.length;
            middle < end
        });
        let index = index.unwrap_or(self.stretches.len() - 1);
        let section = &self.stretches[index].section;
        (index, Element { length: to - from, bending: section.bending(), shear: section.shear(), loads: Vec::new() })
    }

    /// The loads that lie on an element, each `times` as heavy; one at its beginning belongs to it, one at its end only where the beam ends.
    fn burdens(&self, start: f64, length: f64, times: f64) -> impl Iterator<Item = Burden> {
        let last = start + length >= self.length() - SAME;
        self.loads.iter().filter_map(move |load| match *load {
            Load::Point { at, force } => {
                let at = at - start;
                let here = at >= -SAME && (at < length - SAME || (last && at <= length + SAME));
                let at = at.clamp(0.0, length);
                here.then_some(Burden { from: at, to: at, force: times * force })
            }
            Load::Spread { from, to, per_mm } => {
                let (from, to) = ((from - start).clamp(0.0, length), (to - start).clamp(0.0, length));
                (to > from).then_some(Burden { from, to, force: times * per_mm * (to - from) })
            }
        })
    }

    /// What the supports bear: the step that the shear force and the moment make over each, and what lies right on it.
    fn reactions(&self, places: &[f64], nodes: &[Node], pieces: &[Piece]) -> Vec<Reaction> {
        let held = places.iter().zip(nodes).filter(|(_, node)| node.held);
        held.map(|(at, node)| {
            let before = pieces.iter().rfind(|piece| piece.to <= at + SAME);
            let after = pieces.iter().find(|piece| piece.from >= at - SAME);
            let end = |of: fn(&Piece) -> Quartic| before.map_or(0.0, |piece| of(piece).at(piece.to - piece.from));
            let start = |of: fn(&Piece) -> Quartic| after.map_or(0.0, |piece| of(piece).at(0.0));
            let on_it = self.loads.iter().filter(|load| matches!(load, Load::Point { at: on, .. } if (on - at).abs() <= SAME));
            Reaction {
                at: *at,
                force: start(|piece| piece.force) - end(|piece| piece.force) + on_it.map(Load::total).sum::<f64>(),
                moment: if node.clamped { start(|piece| piece.moment) - end(|piece| piece.moment) } else { 0.0 },
            }
        })
        .collect()
    }

    fn own_per_mm(&self, index: usize) -> f64 {
        if self.own_weight { self.stretches[index].section.kg_per_mm().unwrap_or_default() * GRAVITY } else { 0.0 }
    }
}

impl Load {
    /// N in all.
    pub fn total(&self) -> f64 {
        match *self {
            Load::Point { force, .. } => force,
            Load::Spread { from, to, per_mm } => per_mm * (to - from),
        }
    }
}
