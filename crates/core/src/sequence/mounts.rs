//! What goes onto one part before anything else: loose tenons, and strips glued to its face. What is glued already is mounted on nothing.

use casewright_solid::Pose;

use super::Leg;
use super::world::{Hit, World};
use crate::joint::{Fixing, JointKind, local_axis};
use crate::model::{Joint, JointId, PartId};
use crate::place::Dir;

/// A part that is put onto another before that one is joined to anything.
#[derive(Clone, Copy, Debug)]
pub(super) struct Mount {
    /// The part.
    pub part: usize,
    /// What it goes onto.
    pub onto: usize,
    /// The direction in which it goes on.
    pub dir: Dir,
    /// The joint it serves.
    pub joint: JointId,
    /// Whether it is a loose part of the joint; else it is the member that comes up.
    pub loose: bool,
}

/// Parts taken together with what is mounted on them.
pub(super) struct Mounted {
    /// The mount of each part that is mounted on another.
    pub of: Vec<Option<Mount>>,
    /// The part on which each part stands in the end, one for all that are glued together already; itself where it is mounted on none.
    pub root: Vec<usize>,
    /// Loose parts that go into neither of their members.
    pub jammed: Vec<(usize, Hit)>,
}

impl Mounted {
    pub fn of(world: &World<'_>) -> Mounted {
        let model = world.model;
        let mut mounted = Mounted { of: vec![None; model.parts.len()], root: Vec::new(), jammed: Vec::new() };
        for joint in &model.joints {
            if face_glued(joint) && alone(world, joint) && !world.glued.is_in(joint.a) && goes_on(world, joint) {
                let mount = Mount { part: joint.a.0, onto: joint.b.0, dir: joint.contact.into, joint: joint.id, loose: false };
                mounted.take(world, mount);
            }
        }
        for joint in &model.joints {
            // A peg goes across its joint, when the joint is closed: it is mounted on neither.
            let along = |part: &&PartId| local_axis(model.part(**part), joint.contact.into.vector()) == 0;
            for &PartId(part) in joint.loose.iter().filter(along).filter(|part| !world.glued.is_in(**part)) {
                mounted.loose(world, joint, part);
            }
        }
        mounted.root = (0..model.parts.len()).map(|part| mounted.root_of(world, part)).collect();
        mounted
    }

    /// A loose part goes into the member that comes up; where it can't, into the one that receives.
    fn loose(&mut self, world: &World<'_>, joint: &Joint, part: usize) {
        let into = joint.contact.into;
        let members = [(joint.a.0, into.opposite()), (joint.b.0, into)];
        let open = members.into_iter().find(|(onto, dir)| !world.leaving_body(part, dir.opposite(), *onto));
        let (onto, dir) = open.unwrap_or(members[0]);
        self.take(world, Mount { part, onto, dir, joint: joint.id, loose: true });
        if open.is_none() {
            let out = Leg::Straight { way: dir.opposite().vector() * world.far };
            self.jammed.extend(world.hit(part, &Pose::IDENTITY, &out, onto).map(|hit| (part, hit)));
        }
    }

    /// Each part has one mount at most, and none stands on itself.
    fn take(&mut self, world: &World<'_>, mount: Mount) {
        if self.of[mount.part].is_none() && self.root_of(world, mount.onto) != mount.part {
            self.of[mount.part] = Some(mount);
        }
    }

    fn root_of(&self, world: &World<'_>, mut part: usize) -> usize {
        while let Some(mount) = &self.of[part] {
            part = mount.onto;
        }
        world.glued.root(PartId(part)).0
    }

    /// A part with all that is glued to it already and all that is mounted on these.
    pub fn all_of(&self, root: usize) -> Vec<usize> {
        let mut all = vec![root];
        all.extend((0..self.root.len()).filter(|&part| part != root && self.root[part] == root));
        all
    }
}

/// Two faces glued to each other, nothing cut.
fn face_glued(joint: &Joint) -> bool {
    joint.glued && joint.a != joint.b && matches!(joint.kind, JointKind::Plain(Fixing::Glue))
}

/// Whether the part that comes up goes straight onto the other past all that this one is glued to already.
fn goes_on(world: &World<'_>, joint: &Joint) -> bool {
    !world.glued.is_in(joint.b) || !world.leaving_body(joint.a.0, joint.contact.into.opposite(), joint.b.0)
}

/// Whether the part that comes up is held by this joint alone, and goes in when the other does.
fn alone(world: &World<'_>, joint: &Joint) -> bool {
    let model = world.model;
    let mut others = model.joints_of(joint.a).filter(|other| other.id != joint.id);
    others.all(|other| other.b == joint.a && !other.glued) && model.part(joint.a).stage == model.part(joint.b).stage
}
