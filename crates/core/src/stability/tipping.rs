//! What tips a case over its front feet, and when it is to be anchored.

use super::case::{Case, Drawer, DrawersOut, State};
use crate::length::trimmed_to;
use crate::strength::GRAVITY;
use crate::worked::figure;

/// Height of the block that stands for carpet under the rear feet, mm: 0.43 in, as in ASTM F2057-23 (from memory).
pub const CARPET_BLOCK: f64 = 10.9;

/// From where on a case is to be anchored. The program's own figures; the maker may set others.
///
/// For comparison ASTM F2057-23 concerns clothing storage units of 686 mm (27 in) and up and of 13.6 kg and up (read in a summary); it
/// leaves bookcases and shelving out, so those are looked at here.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// A case that tips under less at its top edge, N.
    pub push: f64,
    /// A case that is more times as high as deep.
    pub slender: f64,
    /// A case with drawers that is so high, mm.
    pub with_drawers: f64,
    /// A mass that an open drawer must bear at its front without tipping the case, kg: 60 lb in ASTM F2057-23 (read in a summary).
    pub on_drawer: f64,
}

impl Default for Limits {
    fn default() -> Self {
        Limits { push: 150.0, slender: 4.0, with_drawers: 686.0, on_drawer: 27.2 }
    }
}

/// An edge over which a case tips.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Edge {
    /// Forward, over its front feet.
    Front,
    /// Backward.
    Back,
    /// To the left.
    Left,
    /// To the right.
    Right,
}

impl Edge {
    /// All four.
    pub const ALL: [Edge; 4] = [Edge::Front, Edge::Back, Edge::Left, Edge::Right];

    /// Which way a push goes that tips it over this edge.
    pub fn way(self) -> &'static str {
        match self {
            Edge::Front => "forward",
            Edge::Back => "backward",
            Edge::Left => "to the left",
            Edge::Right => "to the right",
        }
    }
}

/// How a case stands in one state.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tipping {
    /// What it weighs, kg.
    pub kg: f64,
    /// How far its centre of mass is behind its front feet, mm; negative when it is in front of them.
    pub behind: f64,
    /// How high it is, mm.
    pub centre_height: f64,
    /// The moment about the front feet that holds it down, N·mm; negative when it tips by itself.
    pub holds: f64,
    /// The push forward at its top edge that begins to tip it, N; 0 when it tips by itself.
    pub push: f64,
}

/// Why a case is to be anchored.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Anchor {
    /// It tips by itself.
    TipsByItself {
        /// In which state.
        state: State,
    },
    /// A light push at its top edge tips it.
    LightPush {
        /// In which state.
        state: State,
        /// N.
        push: f64,
    },
    /// It is high for its depth.
    Slender {
        /// Height over depth.
        ratio: f64,
    },
    /// It has drawers and is high enough for a child to climb them.
    Drawers {
        /// Its height, mm.
        height: f64,
    },
    /// Someone who leans on an open drawer tips it.
    LoadOnDrawer {
        /// Which drawer, by its place in [`Case::drawers`]; all others are out too.
        drawer: usize,
        /// What tips it, kg.
        kg: f64,
    },
}

impl Anchor {
    /// In words, as a part of a sentence.
    pub fn words(&self) -> String {
        match self {
            Anchor::TipsByItself { state } => format!("it tips by itself, {}", state.words()),
            Anchor::LightPush { push, .. } => format!("{} N is a light push", trimmed_to(*push, 1)),
            Anchor::Slender { ratio } => format!("it is {} times as high as deep", figure(*ratio)),
            Anchor::Drawers { height } => format!("it has drawers and is {} mm high", figure(*height)),
            Anchor::LoadOnDrawer { drawer, kg } => format!("{kg:.0} kg on drawer {} tips it", drawer + 1),
        }
    }
}

/// What fixings in a wall must hold.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WallForce {
    /// Pull straight out of the wall, all together, N.
    pub pull: f64,
    /// On each, N.
    pub each: f64,
}

/// The push forward at the top edge that begins to tip a plain box, weighing the same all through, N: m·g·(d/2)/h.
pub fn tip(width: f64, height: f64, depth: f64, kg: f64) -> f64 {
    Case::plain(width, height, depth, kg).tipping(State::EMPTY).push
}

impl Case {
    /// How it stands in a state.
    pub fn tipping(&self, state: State) -> Tipping {
        self.tipping_over(Edge::Front, state)
    }

    /// How it stands in a state against a push over one of its edges; everything of a [`Tipping`] is then told from that edge.
    pub fn tipping_over(&self, edge: Edge, state: State) -> Tipping {
        let (mass, feet) = (self.mass(state), &self.feet);
        let behind = match edge {
            Edge::Front => feet.front - mass.centre.z,
            Edge::Back => mass.centre.z - feet.back,
            Edge::Left => mass.centre.x - feet.left,
            Edge::Right => feet.right - mass.centre.x,
        };
        let holds = mass.kg * GRAVITY * behind;
        Tipping { kg: mass.kg, behind, centre_height: mass.centre.y, holds, push: (holds / self.height).max(0.0) }
    }

    /// The mass at the front of one of its drawers, pulled out, that begins to tip it in a state, kg: 0 when it tips by itself, and nothing
    /// where there is no such drawer, or its front does not come out beyond the feet.
    pub fn load_on_drawer(&self, drawer: usize, state: State) -> Option<f64> {
        let reach = self.reach(self.drawers.get(drawer)?);
        (reach > 0.0).then(|| (self.tipping(state).holds / (GRAVITY * reach)).max(0.0))
    }

    /// How far the front of a drawer that is out stands before the feet, mm.
    fn reach(&self, drawer: &Drawer) -> f64 {
        drawer.front + drawer.travel - self.feet.front
    }

    /// Why it is to be anchored; nothing where it stands well by itself.
    ///
    /// Empty is the worst where nothing comes out of it, loaded drawers where they do, so all states are asked, level and on carpet.
    pub fn anchor(&self, limits: &Limits) -> Vec<Anchor> {
        let mut reasons = Vec::new();
        let leaning = self.leaning(CARPET_BLOCK);
        let states = self.states();
        let stands = states.iter().flat_map(|state| [Some(self), leaning.as_ref()].into_iter().flatten().map(|case| (*state, case)));
        let least = stands.min_by(|a, b| a.1.tipping(a.0).holds.total_cmp(&b.1.tipping(b.0).holds));
        if let Some((state, case)) = least {
            let tipping = case.tipping(state);
            if tipping.holds <= 0.0 {
                reasons.push(Anchor::TipsByItself { state });
            }
        }
        // Level, as the limit is meant.
        let level = states.iter().map(|state| (*state, self.tipping(*state)));
        if let Some((state, tipping)) = level.min_by(|a, b| a.1.push.total_cmp(&b.1.push))
            && reasons.is_empty()
            && tipping.push < limits.push
        {
            reasons.push(Anchor::LightPush { state, push: tipping.push });
        }
        let ratio = self.height / self.depth();
        if ratio > limits.slender {
            reasons.push(Anchor::Slender { ratio });
        }
        if !self.drawers.is_empty() && self.height >= limits.with_drawers {
            reasons.push(Anchor::Drawers { height: self.height });
        }
        let on_drawers = (0..self.drawers.len()).filter_map(|drawer| Some((drawer, self.load_on_drawer(drawer, State::ALL_OUT)?)));
        if let Some((drawer, kg)) = on_drawers.min_by(|a, b| a.1.total_cmp(&b.1))
            && kg < limits.on_drawer
        {
            reasons.push(Anchor::LoadOnDrawer { drawer, kg });
        }
        reasons
    }

    /// The moment about the front feet that a mass at the front of an open drawer makes, N·mm.
    pub fn turned_by(&self, drawer: usize, kg: f64) -> Option<f64> {
        Some(kg * GRAVITY * self.reach(self.drawers.get(drawer)?))
    }

    /// What fixings so high in a wall must hold against a moment about the front feet in a state: what its own weight does not.
    ///
    /// Nothing where the fixings are not above the floor or there are none.
    pub fn wall_force(&self, state: State, turned_by: f64, height: f64, fixings: u32) -> Option<WallForce> {
        let pull = (turned_by - self.tipping(state).holds).max(0.0) / height;
        (height > 0.0 && fixings > 0).then(|| WallForce { pull, each: pull / f64::from(fixings) })
    }

    /// The state in which one drawer is out and all else is shut.
    pub fn one_out(drawer: usize, loaded: bool) -> State {
        State { loaded, drawers: DrawersOut::One(drawer), ..State::EMPTY }
    }
}
