//! From where the case is looked at, and what is asked to be seen.

use casewright_core::model::Part;
use casewright_core::{Model, Solids};
use casewright_solid::view::{Body, Looking, Sight, View, look};
use glam::{DVec2, DVec3};

use casewright_core::place::Block;

/// From where the case is looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum From {
    /// From the front.
    Front,
    /// From the left.
    Left,
    /// From the right.
    Right,
    /// From above.
    Above,
}

impl From {
    /// The axis of the case that runs to the right, 0 to 2, and whether it runs so or against it.
    pub fn across(self) -> (usize, f64) {
        match self {
            From::Front | From::Above => (0, 1.0),
            From::Left => (2, 1.0),
            From::Right => (2, -1.0),
        }
    }

    /// The axis that runs up, and whether it does or runs down.
    pub fn up(self) -> (usize, f64) {
        match self {
            From::Front | From::Left | From::Right => (1, 1.0),
            From::Above => (2, -1.0),
        }
    }

    /// The axis that runs toward the viewer, and whether it does or runs away.
    pub fn near(self) -> (usize, f64) {
        match self {
            From::Front => (2, 1.0),
            From::Left => (0, -1.0),
            From::Right => (0, 1.0),
            From::Above => (1, 1.0),
        }
    }

    /// The same for the solids.
    pub fn sight(self) -> Option<Sight> {
        let vector = |(axis, sign): (usize, f64)| DVec3::AXES[axis] * sign;
        Sight::new(vector(self.across()), vector(self.up()))
    }

    /// A place of the case as seen: across, up, near, mm.
    pub fn see(self, at: DVec3) -> DVec3 {
        let of = |(axis, sign): (usize, f64)| at[axis] * sign;
        DVec3::new(of(self.across()), of(self.up()), of(self.near()))
    }

    /// A block as seen: its least and greatest place, and how near.
    pub fn block(self, block: &Block) -> (DVec3, DVec3) {
        let (a, b) = (self.see(block.min), self.see(block.max));
        (a.min(b), a.max(b))
    }

    /// The room that blocks take, across and up.
    pub fn bounds(self, blocks: impl Iterator<Item = Block>) -> Option<(DVec2, DVec2)> {
        let seen = blocks.map(|block| self.block(&block)).map(|(a, b)| (a.truncate(), b.truncate()));
        seen.reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))
    }
}

/// Parts and their bodies, side by side.
pub(super) struct Standing<'m> {
    pub parts: Vec<&'m Part>,
    pub bodies: Vec<Body<'m>>,
}

impl<'m> Standing<'m> {
    /// The parts for which `which` holds, where they have solids.
    pub fn of(model: &'m Model, solids: &'m Solids, which: impl Fn(&Part) -> bool) -> Standing<'m> {
        let mut standing = Standing { parts: Vec::new(), bodies: Vec::new() };
        for part in model.parts.iter().filter(|part| which(part)) {
            if let Some(shape) = solids.shape(part.id) {
                standing.parts.push(part);
                standing.bodies.push(Body { shape, pose: part.pose });
            }
        }
        standing
    }

    /// What is seen of them.
    pub fn look(&self, from: From, looking: Looking) -> View {
        from.sight().map(|sight| look(&self.bodies, &sight, looking)).unwrap_or_default()
    }
}
