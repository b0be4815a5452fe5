//! What stands together already, by what is recorded of the parts.
//!
//! A wet joint is made when both of its members are [`State::Glued`], and its loose parts with it. A part that nothing glues, such as a panel in its
//! grooves, stands in when it is recorded as glued as well as what it stands in; so does a shim on a part that is glued. A part that is recorded as glued
//! and has no such neighbour stands alone, and counts as cut.

use super::{BuildStage, Joint, Model, PartId, PartKind};
use crate::design::shop::State;

/// The parts of a model by what they are glued together with already.
#[derive(Clone, Debug, Default)]
pub struct GluedUp {
    /// For each part one of those it stands together with; itself where it stands alone.
    body: Vec<usize>,
    /// For each such part all of its body, in their order.
    of: Vec<Vec<PartId>>,
}

impl Model {
    /// What is glued together already.
    pub fn glued_up(&self) -> GluedUp {
        let is_shim = |part: PartId| self.part(part).kind == PartKind::Shim;
        let mut is_glued: Vec<bool> = self.parts.iter().map(|part| part.state == State::Glued).collect();
        if is_glued.contains(&true) {
            for joint in self.joints.iter().filter(|joint| is_shim(joint.a)) {
                is_glued[joint.a.0] |= is_glued[joint.b.0];
            }
        }
        let mut dry: Vec<bool> = self.parts.iter().map(|part| part.stage == BuildStage::GlueUp).collect();
        for joint in self.joints.iter().filter(|joint| joint.glued) {
            (dry[joint.a.0], dry[joint.b.0]) = (false, false);
        }
        let both = |joint: &Joint| is_glued[joint.a.0] && is_glued[joint.b.0];
        let body = self.bodies(|joint| both(joint) && (joint.glued || dry[joint.a.0] || dry[joint.b.0]));
        let mut glued = GluedUp { of: Vec::new(), body };
        for joint in &self.joints {
            for loose in joint.loose.iter().copied() {
                // One that is glued into one of its members only stands in that.
                let alone = is_glued[loose.0] && joint.glued;
                let member = [joint.a, joint.b].into_iter().find(|member| alone && is_glued[member.0]);
                let closed = glued.are_together(joint.a, joint.b).then_some(joint.a);
                if let Some(member) = closed.or(member) {
                    glued.join(loose, member);
                }
            }
        }
        glued.of = vec![Vec::new(); self.parts.len()];
        for part in &self.parts {
            glued.of[glued.body[part.id.0]].push(part.id);
        }
        glued
    }
}

impl GluedUp {
    fn join(&mut self, part: PartId, to: PartId) {
        let (from, to) = (self.body[part.0], self.body[to.0]);
        self.body.iter_mut().filter(|body| **body == from).for_each(|body| *body = to);
    }

    /// A part of the body that a part belongs to, the same for all of them.
    pub fn root(&self, part: PartId) -> PartId {
        self.body.get(part.0).map_or(part, |body| PartId(*body))
    }

    /// All that a part stands together with, itself too.
    pub fn with(&self, part: PartId) -> &[PartId] {
        self.of.get(self.root(part).0).map_or(&[], Vec::as_slice)
    }

    /// Whether a part stands together with another.
    pub fn is_in(&self, part: PartId) -> bool {
        self.with(part).len() > 1
    }

    /// Whether two parts stand together: a joint between them is made.
    pub fn are_together(&self, a: PartId, b: PartId) -> bool {
        self.root(a) == self.root(b)
    }

    /// Every body of more than one part, in the order of their first parts.
    pub fn bodies(&self) -> impl Iterator<Item = &[PartId]> {
        let mut all: Vec<&[PartId]> = self.of.iter().map(Vec::as_slice).filter(|body| body.len() > 1).collect();
        all.sort_by_key(|body| body[0]);
        all.into_iter()
    }
}
