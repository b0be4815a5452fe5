//! The steps that put together what came apart, group by group.

use super::glue_up::{Closing, glue_up, stages};
use super::mounts::{Mount, Mounted};
use super::split::{Node, Splitter};
use super::unload::Unloaded;
use super::words;
use super::world::{World, ids};
use super::{Group, Leg, Move, Sequence, Step};
use crate::design::Gluing;
use crate::model::{Joint, JointId, Model, PartId};
use crate::place::Dir;
use crate::sentence::inside;

/// Writes the steps.
pub(super) struct Writer<'w, 'm> {
    pub world: &'w World<'m>,
    pub mounted: &'w Mounted,
    pub splitter: &'w Splitter<'w, 'm>,
    pub gluing: &'w Gluing,
    pub sequence: Sequence,
    /// How many parts the whole glue-up has.
    pub count: usize,
}

/// Something that is brought to what stands.
struct Addition {
    bodies: Vec<usize>,
    /// Whether it is a single body, which takes its mounts just before; else a sub-assembly made before.
    alone: bool,
    legs: Vec<Leg>,
}

impl Addition {
    fn of(node: &Node, leg: Leg) -> Addition {
        Addition { bodies: node.bodies(), alone: matches!(node, Node::One(_)), legs: vec![leg] }
    }
}

impl Writer<'_, '_> {
    fn model(&self) -> &Model {
        self.world.model
    }

    /// All that is glued.
    pub fn whole(&mut self, node: &Node) {
        match node {
            Node::One(_) => self.joined(node, &[], None),
            Node::Joined { .. } | Node::Pulled { .. } | Node::Stuck(_) => self.node(node),
        }
    }

    /// The sub-assemblies in a node, then its own steps.
    fn node(&mut self, node: &Node) {
        match node {
            Node::One(_) | Node::Stuck(_) => {}
            Node::Joined { dir, along, base } => {
                for child in along {
                    self.node(child);
                }
                let outward = Leg::Straight { way: dir.vector() * self.world.far };
                let mut additions = Vec::new();
                for step in 1..along.len() {
                    if let Some(child) = along.get(base + step) {
                        additions.push(Addition::of(child, outward.reversed()));
                    }
                    if let Some(child) = base.checked_sub(step).and_then(|index| along.get(index)) {
                        additions.push(Addition::of(child, outward));
                    }
                }
                self.joined(&along[*base], &additions, Some(*dir));
            }
            Node::Pulled { .. } => {
                // Those that are pulled one after another make one group.
                let (mut rest, mut additions) = (node, Vec::new());
                while let Node::Pulled { rest: inner, one, out } = rest {
                    let legs = out.iter().rev().map(Leg::reversed).collect();
                    additions.push(Addition { bodies: vec![*one], alone: true, legs });
                    rest = inner;
                }
                additions.reverse();
                self.node(rest);
                self.joined(rest, &additions, None);
            }
        }
    }

    /// One group: a base, and what is brought to it.
    fn joined(&mut self, base: &Node, additions: &[Addition], closes: Option<Dir>) {
        let group = self.sequence.groups.len();
        let from = self.sequence.steps.len();
        let mut standing = base.bodies();
        if let Node::One(one) = base {
            self.mounts(*one, group);
        }
        let (mut closing, mut firsts) = (Vec::new(), Vec::new());
        let mut stood = vec![ids(&self.splitter.parts(&standing))];
        for addition in additions {
            let bodies = &addition.bodies;
            if addition.alone {
                for &body in bodies {
                    self.mounts(body, group);
                }
            }
            let joints: Vec<JointId> = self.splitter.glued_between(bodies, &standing).collect();
            let onto = self.nearest(bodies, &standing);
            let (parts, stands) = (ids(&self.splitter.parts(bodies)), ids(&self.splitter.parts(&standing)));
            let what = words::group_title(self.model(), &parts, false);
            let words = words::join(self.model(), &what, &parts, &stands, &addition.legs);
            firsts.push(self.sequence.steps.len());
            closing.push(joints);
            let mv = Move { parts, onto, legs: addition.legs.clone(), apart: 0.0 };
            self.sequence.steps.push(Step { moves: vec![mv], group, glue_up: None, words });
            standing.extend(bodies);
            stood.push(ids(&self.splitter.parts(&standing)));
        }
        let parts = self.splitter.parts(&standing);
        let title = words::group_title(self.model(), &ids(&parts), parts.len() == self.count);
        let steps = from..self.sequence.steps.len();
        self.sequence.groups.push(Group { title, parts: ids(&parts), steps, closes });
        let pressed = additions.iter().rev().find_map(|addition| match addition.legs.last() {
            Some(Leg::Straight { way }) => Some(Dir::nearest(*way)),
            Some(Leg::Turn { .. }) | None => None,
        });
        self.glue(group, closes.or(pressed).unwrap_or(Dir::PlusX), &closing, &firsts, &stood);
    }

    /// The glue-ups of a group: which joints close at each of these steps, and what stands before the first of them and after each.
    fn glue(&mut self, group: usize, dir: Dir, closing: &[Vec<JointId>], steps: &[usize], stood: &[Vec<PartId>]) {
        if closing.iter().all(Vec::is_empty) {
            return;
        }
        let counts: Vec<usize> = closing.iter().map(Vec::len).collect();
        let stages = stages(self.gluing, &counts);
        let count = stages.len();
        for (index, stage) in stages.into_iter().enumerate() {
            for at in stage.clone() {
                self.sequence.steps[steps[at]].glue_up = Some(self.sequence.glue_ups.len());
            }
            let closes = Closing { dir, joints: &closing[stage.clone()], before: &stood[stage.start], after: &stood[stage.end] };
            let found = glue_up(self.model(), self.gluing, group, (index + 1, count), &closes);
            self.sequence.glue_ups.push(found);
        }
    }

    /// The part among those that stand to which bodies have a joint; else any.
    fn nearest(&self, moving: &[usize], standing: &[usize]) -> PartId {
        let joint = moving.iter().find_map(|&a| standing.iter().find_map(|&b| self.splitter.between(a, b).next().map(|joint| (a, joint))));
        let fallback = || PartId(self.splitter.parts(&standing[..1])[0]);
        joint.map_or_else(fallback, |(body, joint)| {
            let own = self.splitter.parts(&[body]);
            if own.contains(&joint.a.0) { joint.b } else { joint.a }
        })
    }

    /// What is mounted on the parts of a body, before that goes anywhere.
    fn mounts(&mut self, body: usize, group: usize) {
        self.mount_on(self.splitter.parts(&[body])[0], group);
    }

    /// What is mounted on a part and on all that is glued to it already.
    fn mount_on(&mut self, root: usize, group: usize) {
        let seats: Vec<usize> = self.world.body_of(root).collect();
        for seat in seats {
            self.strips_onto(seat, group);
            self.loose_into(seat, group);
        }
    }

    /// What is mounted on a part: loose parts that go into it, or strips that are glued to its face.
    fn mounts_of(&self, root: usize, loose: bool) -> Vec<Mount> {
        self.mounted.of.iter().flatten().filter(|mount| mount.onto == root && mount.loose == loose).copied().collect()
    }

    /// Strips that are glued to the face of a part, each with what is mounted on it.
    fn strips_onto(&mut self, root: usize, group: usize) {
        let strips = self.mounts_of(root, false);
        let (mut closing, mut steps) = (Vec::new(), Vec::new());
        for mount in strips {
            self.strips_onto(mount.part, group);
            self.loose_into(mount.part, group);
            let parts = ids(&self.mounted_on(mount.part));
            let what = inside(&self.model().parts[mount.part].title);
            let words = format!("Glue the {what} {} onto {}", mount.dir.words(), inside(&self.model().parts[root].title));
            steps.push(self.sequence.steps.len());
            closing.push(vec![mount.joint]);
            let mv = self.straight(parts, root, mount.dir);
            self.sequence.steps.push(Step { moves: vec![mv], group, glue_up: None, words });
        }
        if let Some(at) = steps.first() {
            let dir = self.sequence.steps[*at].moves[0].legs.first().map_or(Dir::PlusX, |leg| match leg {
                Leg::Straight { way } => Dir::nearest(*way),
                Leg::Turn { axis, .. } => *axis,
            });
            // Strips on the face of one part close no rectangle: what stands is not asked step by step.
            let stood = vec![ids(&self.mounted_on(root)); closing.len() + 1];
            self.glue(group, dir, &closing, &steps, &stood);
        }
    }

    /// Loose tenons and dowels that go into a part.
    fn loose_into(&mut self, root: usize, group: usize) {
        let loose = self.mounts_of(root, true);
        if loose.is_empty() {
            return;
        }
        let glued = loose.iter().any(|mount| self.model().joint(mount.joint).glued);
        let parts: Vec<PartId> = loose.iter().map(|mount| PartId(mount.part)).collect();
        let words = words::loose(self.model(), &parts, PartId(root), glued);
        let moves = loose.iter().map(|mount| self.straight(vec![PartId(mount.part)], root, mount.dir)).collect();
        self.sequence.steps.push(Step { moves, group, glue_up: None, words });
    }

    /// A part with all that is glued to it already and all that is mounted on these, directly or not.
    fn mounted_on(&self, part: usize) -> Vec<usize> {
        let mut all: Vec<usize> = self.world.body_of(part).collect();
        let mut next = 0;
        while let Some(&of) = all.get(next) {
            all.extend(self.mounted.of.iter().flatten().filter(|mount| mount.onto == of).map(|mount| mount.part));
            next += 1;
        }
        all
    }

    fn straight(&self, parts: Vec<PartId>, onto: usize, dir: Dir) -> Move {
        let legs = vec![Leg::Straight { way: dir.vector() * self.world.far }];
        Move { parts, onto: PartId(onto), legs, apart: 0.0 }
    }

    /// What goes in after glue-up: the other way round than it came out. What glue holds there is a glue-up by itself, and so is what is glued to parts before they go in.
    pub fn later(&mut self, fixed: &[usize], later: &[Vec<usize>], unloaded: &[Unloaded]) {
        let mut standing = fixed.to_vec();
        let (mut from, mut moved) = (self.sequence.steps.len(), Vec::new());
        for (body, _) in unloaded.iter().rev() {
            let before = self.sequence.steps.len();
            let seats: Vec<usize> = self.world.body_of(later[*body][0]).collect();
            for seat in seats {
                self.strips_onto(seat, self.sequence.groups.len());
            }
            if self.sequence.steps.len() > before {
                moved.extend(ids(&later[*body]));
            }
        }
        let glued = moved.clone();
        self.close_later(&mut from, &mut moved, &glued);
        for (body, out) in unloaded.iter().rev() {
            let body = &later[*body];
            let (parts, stands) = (ids(body), ids(&standing));
            let wet = self.glued_with(&parts, &stands);
            if !wet.is_empty() {
                self.close_later(&mut from, &mut moved, &stands);
            }
            let seats: Vec<usize> = self.world.body_of(body[0]).collect();
            for seat in seats {
                self.loose_into(seat, self.sequence.groups.len());
            }
            moved.push(parts[0]);
            standing.extend(body);
            if stands.is_empty() {
                continue;
            }
            self.bring_in(parts.clone(), &stands, out);
            if !wet.is_empty() {
                self.glue_later(&wet, &parts);
                self.close_later(&mut from, &mut moved, &ids(&standing));
            }
        }
        if from < self.sequence.steps.len() {
            self.close_later(&mut from, &mut moved, &ids(&standing));
        }
        if let Some(last) = self.sequence.groups.last_mut().filter(|_| !unloaded.is_empty()) {
            last.title.clone_from(&self.world.model.name);
        }
    }

    /// The step that brings in parts past all that stands.
    fn bring_in(&mut self, parts: Vec<PartId>, stands: &[PartId], out: &[Leg]) {
        let legs: Vec<Leg> = out.iter().rev().map(Leg::reversed).collect();
        let what = inside(&self.model().part(parts[0]).title);
        let mut words = words::join(self.model(), &what, &parts, stands, &legs);
        if words::hangs(self.model(), &parts, stands) {
            words += ", and hold it there";
        }
        let joined = self.model().joints_of(parts[0]).find_map(|joint| stands.iter().find(|part| joint.a == **part || joint.b == **part));
        let onto = joined.copied().unwrap_or(stands[0]);
        let group = self.sequence.groups.len();
        self.sequence.steps.push(Step { moves: vec![Move { parts, onto, legs, apart: 0.0 }], group, glue_up: None, words });
    }

    /// The glued joints of parts with what stands.
    fn glued_with(&self, parts: &[PartId], stands: &[PartId]) -> Vec<JointId> {
        let between = |joint: &&Joint| {
            (parts.contains(&joint.a) && stands.contains(&joint.b)) || (parts.contains(&joint.b) && stands.contains(&joint.a))
        };
        self.model().joints.iter().filter(|joint| joint.glued).filter(between).map(|joint| joint.id).collect()
    }

    /// The glue-up of the last step: what it brought is pressed between what it is glued to; the rest stood square before.
    fn glue_later(&mut self, wet: &[JointId], parts: &[PartId]) {
        let model = self.world.model;
        let members = wet.iter().flat_map(|id| [model.joint(*id).a, model.joint(*id).b]);
        let before: Vec<PartId> = members.filter(|part| !parts.contains(part)).collect();
        let after: Vec<PartId> = before.iter().chain(parts).copied().collect();
        let dir = wet.first().map_or(Dir::PlusX, |id| model.joint(*id).contact.into);
        let closing = Closing { dir, joints: &[wet.to_vec()], before: &before, after: &after };
        let found = glue_up(model, self.gluing, self.sequence.groups.len(), (1, 1), &closing);
        if let Some(step) = self.sequence.steps.last_mut() {
            step.glue_up = Some(self.sequence.glue_ups.len());
        }
        self.sequence.glue_ups.push(found);
    }

    /// A group of the steps since `from`, which brought `moved`; nothing where there are none.
    fn close_later(&mut self, from: &mut usize, moved: &mut Vec<PartId>, stands: &[PartId]) {
        let steps = std::mem::replace(from, self.sequence.steps.len())..self.sequence.steps.len();
        if !steps.is_empty() {
            let title = words::what(self.model(), moved);
            self.sequence.groups.push(Group { title, parts: stands.to_vec(), steps, closes: None });
        }
        moved.clear();
    }
}
