//! How what is glued comes apart: along one axis at a time, into sub-assemblies and these again, down to single parts.

use std::collections::{HashMap, HashSet};

use glam::DVec3;
use petgraph::algo::kosaraju_scc;
use petgraph::graph::DiGraph;

use super::Leg;
use super::route::Route;
use super::world::{World, union};
use crate::model::{Joint, JointId, PartId};
use crate::place::Dir;

/// A sub-assembly as it comes apart.
#[derive(Clone, Debug)]
pub(super) enum Node {
    /// A single body.
    One(usize),
    /// Bodies and sub-assemblies that close along one axis.
    Joined {
        /// The axis, in its positive direction.
        dir: Dir,
        /// In the order in which they lie along it: each can leave in that direction when those after it are gone.
        along: Vec<Node>,
        /// Which of them the others are brought to.
        base: usize,
    },
    /// A body that leaves the rest by a way of its own.
    Pulled {
        /// What stays.
        rest: Box<Node>,
        /// The body.
        one: usize,
        /// Its way out.
        out: Vec<Leg>,
    },
    /// Bodies that hold each other; no way was found.
    Stuck(Vec<usize>),
}

impl Node {
    /// Every body in it.
    pub fn bodies(&self) -> Vec<usize> {
        match self {
            Node::One(one) => vec![*one],
            Node::Joined { along, .. } => along.iter().flat_map(Node::bodies).collect(),
            Node::Pulled { rest, one, .. } => rest.bodies().into_iter().chain([*one]).collect(),
            Node::Stuck(all) => all.clone(),
        }
    }

    /// The bodies in it that hold each other.
    pub fn stuck(&self) -> Vec<&[usize]> {
        match self {
            Node::One(_) => Vec::new(),
            Node::Joined { along, .. } => along.iter().flat_map(Node::stuck).collect(),
            Node::Pulled { rest, .. } => rest.stuck(),
            Node::Stuck(all) => vec![all],
        }
    }
}

/// How much is asked of the solids before a pair counts as blocked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Asked {
    /// Pairs with a joint that opens; others are blocked when the boxes round them are.
    Joints,
    /// Every pair but those whose joint says that it does not open that way.
    Pairs,
    /// Every pair.
    All,
}

/// Bodies that come apart. A body is a part, or parts that are glued together already, with what is mounted on them.
pub(super) struct Splitter<'w, 'm> {
    world: &'w World<'m>,
    /// The parts of each body.
    bodies: &'w [Vec<usize>],
    /// The joints between two bodies.
    joints: HashMap<(usize, usize), Vec<JointId>>,
    /// How many parts of each body are glued together already; loose parts in their holes don't count.
    glued: Vec<usize>,
}

impl<'w, 'm> Splitter<'w, 'm> {
    pub fn new(world: &'w World<'m>, bodies: &'w [Vec<usize>]) -> Splitter<'w, 'm> {
        let mut body_of = vec![usize::MAX; world.model.parts.len()];
        for (body, parts) in bodies.iter().enumerate() {
            for &part in parts {
                body_of[part] = body;
            }
        }
        let mut joints: HashMap<(usize, usize), Vec<JointId>> = HashMap::new();
        for joint in &world.model.joints {
            let (a, b) = (body_of[joint.a.0], body_of[joint.b.0]);
            if a != b && a != usize::MAX && b != usize::MAX {
                joints.entry((a.min(b), a.max(b))).or_default().push(joint.id);
            }
        }
        let in_holes: HashSet<PartId> = world.model.joints.iter().flat_map(|joint| joint.loose.iter().copied()).collect();
        let together = |body: &Vec<usize>| body.first().map_or(&[][..], |part| world.glued.with(PartId(*part)));
        let glued = bodies.iter().map(|body| together(body).iter().filter(|part| !in_holes.contains(part)).count().max(1)).collect();
        Splitter { world, bodies, joints, glued }
    }

    /// Takes a set of bodies apart.
    pub fn split(&self, set: &[usize]) -> Node {
        if let [one] = set {
            return Node::One(*one);
        }
        for asked in [Asked::Joints, Asked::Pairs, Asked::All] {
            let ways = [Dir::PlusX, Dir::PlusY, Dir::PlusZ].map(|dir| (dir, self.along(set, dir, asked)));
            let best =
                ways.into_iter().filter(|(_, along)| along.len() > 1).min_by_key(|(_, along)| (self.wet(along), usize::MAX - along.len()));
            if let Some((dir, along)) = best {
                let base = self.base(&along);
                return Node::Joined { dir, along: along.iter().map(|set| self.split(set)).collect(), base };
            }
        }
        self.pull(set)
    }

    /// The joints between two bodies.
    pub fn between(&self, a: usize, b: usize) -> impl Iterator<Item = &'m Joint> + use<'_, 'w, 'm> {
        let ids = self.joints.get(&(a.min(b), a.max(b))).map_or(&[][..], Vec::as_slice);
        ids.iter().map(|id| self.world.model.joint(*id))
    }

    /// The glued joints between two sets of bodies.
    pub fn glued_between<'s>(&'s self, first: &'s [usize], second: &'s [usize]) -> impl Iterator<Item = JointId> + 's {
        first
            .iter()
            .flat_map(move |&a| second.iter().flat_map(move |&b| self.between(a, b).filter(|joint| joint.glued).map(|joint| joint.id)))
    }

    /// The parts of bodies.
    pub fn parts(&self, bodies: &[usize]) -> Vec<usize> {
        bodies.iter().flat_map(|&body| self.bodies[body].iter().copied()).collect()
    }

    /// A body that finds a way of its own out: any way where no glue holds it, else first along that in which its glue closes. What is glued together
    /// already stays, where it can.
    fn pull(&self, set: &[usize]) -> Node {
        let mut bodies = set.to_vec();
        bodies.sort_by_key(|body| self.glued[*body]);
        for one in bodies {
            let rest: Vec<usize> = set.iter().copied().filter(|&other| other != one).collect();
            let standing = self.parts(&rest);
            let route = Route::new(self.world, &self.bodies[one], &standing);
            let out = match self.opens(one, &rest)[..] {
                [] => route.find(),
                [dir] => route.leaving(dir),
                _ => None,
            };
            if let Some(out) = out {
                return Node::Pulled { rest: Box::new(self.split(&rest)), one, out };
            }
        }
        Node::Stuck(set.to_vec())
    }

    /// The directions in which the glued joints of a body with others open, each once.
    fn opens(&self, one: usize, rest: &[usize]) -> Vec<Dir> {
        let glued = rest.iter().flat_map(|&other| self.between(one, other)).filter(|joint| joint.glued);
        let mut dirs: Vec<Dir> = Vec::new();
        for joint in glued {
            let moves = self.bodies[one].contains(&joint.a.0);
            let dir = if moves { joint.contact.into.opposite() } else { joint.contact.into };
            if !dirs.contains(&dir) {
                dirs.push(dir);
            }
        }
        dirs
    }

    /// The set in the pieces into which it comes apart along a direction, in order along it.
    fn along(&self, set: &[usize], dir: Dir, asked: Asked) -> Vec<Vec<usize>> {
        let mut graph: DiGraph<usize, ()> = DiGraph::with_capacity(set.len(), set.len() * 4);
        let nodes: Vec<_> = set.iter().map(|&body| graph.add_node(body)).collect();
        for (i, &one) in set.iter().enumerate() {
            for (j, &other) in set.iter().enumerate() {
                if i != j && self.waits(one, other, dir, asked) {
                    graph.add_edge(nodes[i], nodes[j], ());
                }
            }
        }
        let rings = kosaraju_scc(&graph);
        let mut ring_of = vec![0; set.len()];
        for (ring, members) in rings.iter().enumerate() {
            for node in members {
                ring_of[node.index()] = ring;
            }
        }
        // A ring comes after every ring that waits for it.
        let mut before = vec![0_usize; rings.len()];
        let mut lets_go: Vec<Vec<usize>> = vec![Vec::new(); rings.len()];
        for edge in graph.edge_indices() {
            let Some((from, to)) = graph.edge_endpoints(edge) else { continue };
            let (from, to) = (ring_of[from.index()], ring_of[to.index()]);
            if from != to {
                before[to] += 1;
                lets_go[from].push(to);
            }
        }
        let pieces: Vec<Vec<usize>> = rings.iter().map(|ring| ring.iter().map(|node| graph[*node]).collect()).collect();
        let low: Vec<DVec3> =
            pieces.iter().map(|piece| union(self.parts(piece).into_iter().map(|part| self.world.boxes[part])).0).collect();
        let mut open: Vec<usize> = (0..rings.len()).filter(|&ring| before[ring] == 0).collect();
        let mut order = Vec::with_capacity(rings.len());
        // Among those that may come next the lowest, then the one farthest left and back: as one builds up.
        while let Some(at) = (0..open.len()).min_by(|&a, &b| {
            let (a, b) = (low[open[a]], low[open[b]]);
            a.y.total_cmp(&b.y).then(a.x.total_cmp(&b.x)).then(a.z.total_cmp(&b.z))
        }) {
            let ring = open.swap_remove(at);
            for &next in &lets_go[ring] {
                before[next] -= 1;
                if before[next] == 0 {
                    open.push(next);
                }
            }
            let mut piece = pieces[ring].clone();
            piece.sort_unstable();
            order.push(piece);
        }
        order
    }

    /// Whether a body on its way out in a direction must wait until another is gone.
    fn waits(&self, one: usize, other: usize, dir: Dir, asked: Asked) -> bool {
        let mut joined = false;
        for joint in self.between(one, other) {
            joined = true;
            let a_moves = self.bodies[one].contains(&joint.a.0);
            let leaves = if a_moves { dir } else { dir.opposite() };
            let ways = joint.kind.ways_apart(&joint.contact);
            let closing = joint.contact.into.opposite();
            // Glue is spread where a joint closes face to face; sliding it together wipes it off.
            if joint.glued && ways.contains(&closing) && leaves.axis() != closing.axis() {
                return true;
            }
            if asked != Asked::All && !ways.contains(&leaves) {
                return true;
            }
        }
        let near = || self.pairs(one, other).any(|(part, against)| self.world.may_meet(part, dir, against));
        if !joined && asked == Asked::Joints {
            return near();
        }
        self.pairs(one, other).any(|(part, against)| self.world.leaving(part, dir, against))
    }

    fn pairs(&self, one: usize, other: usize) -> impl Iterator<Item = (usize, usize)> {
        self.bodies[one].iter().flat_map(move |&part| self.bodies[other].iter().map(move |&against| (part, against)))
    }

    /// How many glued joints close when these pieces are brought together.
    fn wet(&self, pieces: &[Vec<usize>]) -> usize {
        let mut piece_of = HashMap::new();
        for (piece, bodies) in pieces.iter().enumerate() {
            piece_of.extend(bodies.iter().map(|&body| (body, piece)));
        }
        self.joints
            .iter()
            .filter(|((a, b), _)| matches!((piece_of.get(a), piece_of.get(b)), (Some(first), Some(second)) if first != second))
            .flat_map(|(_, ids)| ids)
            .filter(|id| self.world.model.joint(**id).glued)
            .count()
    }

    /// The piece to which the others are brought: the one of most bodies, what is glued together already counted apart, then of most glued joints, then
    /// the first.
    fn base(&self, pieces: &[Vec<usize>]) -> usize {
        let weight = |index: usize| {
            let own = &pieces[index];
            let of_own = self.joints.iter().filter(|((a, b), _)| own.contains(a) || own.contains(b));
            let glued = of_own.flat_map(|(_, ids)| ids).filter(|id| self.world.model.joint(**id).glued).count();
            (own.iter().map(|&body| self.glued[body]).sum::<usize>(), glued, usize::MAX - index)
        };
        (0..pieces.len()).max_by_key(|&index| weight(index)).unwrap_or(0)
    }

    /// Whether a body is of several parts that are glued together already.
    pub fn is_glued_up(&self, body: usize) -> bool {
        self.glued[body] > 1
    }
}
