//! Boxes in a tree: what meets a box is found without asking all of them.

use std::ops::{ControlFlow, Range};

use glam::DVec3;

/// An upright box: its least and its greatest corner, mm.
pub type Bounds = (DVec3, DVec3);

/// Boxes that are asked one by one rather than divided further.
const FEW: usize = 6;

/// A tree over boxes, halved where their centres lie widest apart; it knows them by their numbers.
///
/// ```
/// use casewright_solid::BoxTree;
/// use glam::DVec3;
/// use std::ops::ControlFlow;
///
/// // Nine shelves, one above the other: which of them does something 50 high meet that stands at 120?
/// let shelves: Vec<_> = (0..9).map(|at| f64::from(at) * 100.0).map(|y| (DVec3::new(0.0, y, 0.0), DVec3::new(800.0, y + 20.0, 300.0))).collect();
/// let tree = BoxTree::over((0..9).collect(), |shelf| shelves[shelf]).expect("shelves");
/// let mut met = Vec::new();
/// let meets = |(low, high): (DVec3, DVec3)| low.y < 170.0 && high.y > 110.0;
/// tree.near(&meets, &mut |shelf| {
///     met.extend(meets(shelves[shelf]).then_some(shelf));
///     ControlFlow::<()>::Continue(())
/// });
/// assert_eq!(met, [1]);
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct BoxTree {
    /// The first is around all.
    pub(crate) nodes: Vec<Node>,
    /// The numbers of the boxes, those of a node side by side.
    order: Vec<usize>,
}

/// Boxes under a box around them all.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Node {
    pub around: Bounds,
    pub kind: Kind,
}

#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Kind {
    /// By their places in the order.
    Few(Range<usize>),
    /// By their places among the nodes.
    Halves([usize; 2]),
}

impl BoxTree {
    /// The tree over the boxes of these numbers; nothing over none.
    pub fn over(order: Vec<usize>, bounds: impl Fn(usize) -> Bounds) -> Option<Self> {
        if order.is_empty() {
            return None;
        }
        let (nodes, all) = (Vec::with_capacity(order.len() / 2 + 1), 0..order.len());
        let mut tree = Self { nodes, order };
        tree.grow(all, &bounds);
        Some(tree)
    }

    /// Adds the node over a stretch of the order, and gives its place.
    fn grow(&mut self, range: Range<usize>, bounds: &impl Fn(usize) -> Bounds) -> usize {
        let own = &mut self.order[range.clone()];
        let around = own.iter().map(|&i| bounds(i)).reduce(|a, b| (a.0.min(b.0), a.1.max(b.1))).unwrap_or_default();
        let at = self.nodes.len();
        self.nodes.push(Node { around, kind: Kind::Few(range.clone()) });
        if own.len() > FEW {
            let axis = widest_axis(own, bounds);
            let centre = |i: usize| bounds(i).0[axis] + bounds(i).1[axis];
            let half = own.len() / 2;
            own.select_nth_unstable_by(half, |&i, &j| centre(i).total_cmp(&centre(j)).then(i.cmp(&j)));
            let middle = range.start + half;
            let halves = [self.grow(range.start..middle, bounds), self.grow(middle..range.end, bounds)];
            self.nodes[at].kind = Kind::Halves(halves);
        }
        at
    }

    /// The same tree over boxes that are all changed alike; each must still be in those that it was in.
    pub(crate) fn mapped(&self, change: impl Fn(Bounds) -> Bounds) -> Self {
        let nodes = self.nodes.iter().map(|node| Node { around: change(node.around), kind: node.kind.clone() }).collect();
        Self { nodes, order: self.order.clone() }
    }

    /// The numbers of the boxes of a node that is not divided.
    pub(crate) fn few(&self, range: &Range<usize>) -> &[usize] {
        &self.order[range.clone()]
    }

    /// Calls `visit` with the number of every box of which `may` holds, and of few others, until it breaks off. `may` must hold of every box
    /// around one of which it holds.
    pub fn near(&self, may: &impl Fn(Bounds) -> bool, visit: &mut impl FnMut(usize) -> ControlFlow<()>) -> ControlFlow<()> {
        self.near_under(0, may, visit)
    }

    fn near_under(&self, at: usize, may: &impl Fn(Bounds) -> bool, visit: &mut impl FnMut(usize) -> ControlFlow<()>) -> ControlFlow<()> {
        let node = &self.nodes[at];
        if !may(node.around) {
            return ControlFlow::Continue(());
        }
        match &node.kind {
            Kind::Few(range) => self.few(range).iter().try_for_each(|&i| visit(i)),
            Kind::Halves([low, high]) => {
                self.near_under(*low, may, visit)?;
                self.near_under(*high, may, visit)
            }
        }
    }
}

/// The axis along which the centres vary most.
fn widest_axis(order: &[usize], bounds: &impl Fn(usize) -> Bounds) -> usize {
    let centres = || order.iter().map(|&i| bounds(i).0 + bounds(i).1);
    let mean = centres().sum::<DVec3>() / order.len().max(1) as f64;
    centres().map(|c| (c - mean) * (c - mean)).sum::<DVec3>().max_position()
}
