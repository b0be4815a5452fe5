//! A board as a tree of cuts: every node is a rectangle, cut into others along one way, or a piece, or free.

use super::super::ground::{Area, Board};

/// No node.
pub(super) const NONE: u32 = u32::MAX;

/// What a node is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum What {
    /// Nothing is cut from it yet.
    Free,
    /// A piece of a kind, and whether it is turned.
    Piece { kind: u32, turned: bool },
    /// Cut into its children, which follow one another along this way: 0 by cuts across the board, 1 by cuts along it.
    Cut { way: usize },
    /// Not in the tree any more.
    Gone,
}

/// A rectangle of a board, one kerf larger both ways.
#[derive(Clone, Copy, Debug)]
pub(super) struct Node {
    pub what: What,
    pub size: [i64; 2],
    /// Its near corner; kept up to date on boards with defects alone, since elsewhere what lies where makes no difference.
    pub at: [i64; 2],
    pub parent: u32,
    pub first: u32,
    pub next: u32,
    pub before: u32,
}

/// A board with what is cut from it. The root is node 0. Cuts in one way are always children of one node, so ways alternate
/// from each node to those below.
#[derive(Debug)]
pub(super) struct Sheet {
    /// Which of the ground's boards it is.
    pub board: usize,
    pub nodes: Vec<Node>,
    gone: Vec<u32>,
    /// The free nodes.
    pub free: Vec<u32>,
    /// How many pieces lie on it.
    pub pieces: u32,
    /// Area of its pieces.
    pub filled: f64,
    /// Whether places matter.
    fixed: bool,
}

impl Clone for Sheet {
    fn clone(&self) -> Self {
        Self { nodes: self.nodes.clone(), gone: self.gone.clone(), free: self.free.clone(), ..*self }
    }

    fn clone_from(&mut self, other: &Self) {
        self.nodes.clone_from(&other.nodes);
        self.gone.clone_from(&other.gone);
        self.free.clone_from(&other.free);
        (self.board, self.pieces, self.filled, self.fixed) = (other.board, other.pieces, other.filled, other.fixed);
    }
}

/// A place for a piece in a free node.
#[derive(Clone, Copy, Debug)]
pub(super) struct Place {
    pub node: u32,
    pub turned: bool,
    /// Size of the piece as it lies.
    pub size: [i64; 2],
    /// Where it begins in the node.
    pub skip: [i64; 2],
    /// The way of the cuts that come first.
    pub way: usize,
}

impl Sheet {
    pub fn new(number: usize, board: &Board) -> Self {
        let root = Node { what: What::Free, size: board.room, at: [0, 0], parent: NONE, first: NONE, next: NONE, before: NONE };
        let fixed = !board.defects.is_empty();
        Self { board: number, nodes: vec![root], gone: Vec::new(), free: vec![0], pieces: 0, filled: 0.0, fixed }
    }

    pub fn node(&self, node: u32) -> &Node {
        &self.nodes[node as usize]
    }

    fn node_mut(&mut self, node: u32) -> &mut Node {
        &mut self.nodes[node as usize]
    }

    pub fn children(&self, node: u32) -> impl Iterator<Item = u32> {
        let first = self.node(node).first;
        std::iter::successors((first != NONE).then_some(first), |&child| Some(self.node(child).next).filter(|&next| next != NONE))
    }

    pub fn area_of(&self, node: u32) -> Area {
        let Node { at, size, .. } = *self.node(node);
        Area { from: at, to: [at[0] + size[0], at[1] + size[1]] }
    }

    /// In which stage the cuts of a node are made, counted from 1; `first` is the way of the first stage, if that is asked for.
    pub fn stage(&self, node: u32, first: Option<usize>) -> u32 {
        let mut above = 0;
        let mut top = node;
        while self.node(top).parent != NONE {
            top = self.node(top).parent;
            above += 1;
        }
        above + Self::stage_at_root(self.way_of(top), first)
    }

    /// In which stage a board is first cut one way.
    pub fn stage_at_root(way: Option<usize>, first: Option<usize>) -> u32 {
        if way.is_some() && first.is_some() && way != first { 2 } else { 1 }
    }

    pub fn way_of(&self, node: u32) -> Option<usize> {
        match self.node(node).what {
            What::Cut { way } => Some(way),
            What::Free | What::Piece { .. } | What::Gone => None,
        }
    }

    /// Puts a piece in its place, with the cuts that it needs.
    pub fn put(&mut self, place: &Place, kind: u32, area: f64) {
        let piece = What::Piece { kind, turned: place.turned };
        let strip = self.cut_out(place.node, place.way, place.skip[place.way], place.size[place.way]);
        let other = 1 - place.way;
        let node = self.cut_out(strip, other, place.skip[other], place.size[other]);
        self.node_mut(node).what = piece;
        self.pieces += 1;
        self.filled += area;
        self.list_free();
    }

    /// Cuts a free node in two, at a distance along one way that is less than its size.
    pub fn parted(&mut self, node: u32, way: usize, at: i64) -> (u32, u32) {
        let near = self.cut_out(node, way, 0, at);
        (near, self.node(near).next)
    }

    /// Joins what is free side by side.
    pub fn tidy(&mut self) {
        for node in 0..self.nodes.len() as u32 {
            if self.node(node).what == What::Free {
                self.settle(node);
            }
        }
        self.list_free();
    }

    /// Cuts a node of a size out of a free one, along one way; what lies before and behind stays free.
    fn cut_out(&mut self, node: u32, way: usize, skip: i64, size: i64) -> u32 {
        let whole = *self.node(node);
        let behind = whole.size[way] - skip - size;
        if skip == 0 && behind == 0 {
            return node;
        }
        let parent = whole.parent;
        let beside = parent != NONE && self.way_of(parent) == Some(way);
        if !beside {
            self.node_mut(node).what = What::Cut { way };
        }
        let owner = if beside { parent } else { node };
        let part = |from: i64, size: i64| {
            let mut part = Node { what: What::Free, parent: owner, first: NONE, next: NONE, before: NONE, ..whole };
            part.at[way] += from;
            part.size[way] = size;
            part
        };
        // Beside its parent's other children the node itself becomes the first of the parts.
        let parts = [(0, skip), (skip, size), (skip + size, behind)];
        let mut last = if beside { whole.before } else { NONE };
        let mut reuse = beside.then_some(node);
        let mut wanted = node;
        if beside {
            self.unlink(node);
        }
        for (number, (from, size)) in parts.into_iter().enumerate().filter(|(_, (_, size))| *size > 0) {
            let new = match reuse.take() {
                Some(node) => {
                    *self.node_mut(node) = part(from, size);
                    node
                }
                None => self.add(part(from, size)),
            };
            self.link_behind(new, last, owner);
            last = new;
            if number == 1 {
                wanted = new;
            }
        }
        wanted
    }

    fn add(&mut self, node: Node) -> u32 {
        if let Some(number) = self.gone.pop() {
            *self.node_mut(number) = node;
            return number;
        }
        self.nodes.push(node);
        self.nodes.len() as u32 - 1
    }

    /// Takes a node out of its parent's children.
    fn unlink(&mut self, node: u32) {
        let Node { parent, next, before, .. } = *self.node(node);
        if before != NONE {
            self.node_mut(before).next = next;
        } else if parent != NONE {
            self.node_mut(parent).first = next;
        }
        if next != NONE {
            self.node_mut(next).before = before;
        }
    }

    /// Makes a node a child, behind another or as the first.
    fn link_behind(&mut self, node: u32, last: u32, parent: u32) {
        let next = if last == NONE { self.node(parent).first } else { self.node(last).next };
        let linked = self.node_mut(node);
        (linked.parent, linked.before, linked.next) = (parent, last, next);
        if last == NONE {
            self.node_mut(parent).first = node;
        } else {
            self.node_mut(last).next = node;
        }
        if next != NONE {
            self.node_mut(next).before = node;
        }
    }

    /// Takes all pieces off a node, told one by one, and makes one free node of what is free beside it.
    pub fn clear(&mut self, node: u32, taken: &mut impl FnMut(u32)) {
        self.drop_below(node, taken);
        self.node_mut(node).what = What::Free;
        self.settle(node);
        self.list_free();
    }

    /// How many pieces lie below a node, up to a limit.
    pub fn pieces_below(&self, node: u32, limit: u32) -> u32 {
        match self.node(node).what {
            What::Piece { .. } => 1,
            What::Free | What::Gone => 0,
            What::Cut { .. } => {
                let mut count = 0;
                for child in self.children(node) {
                    count += self.pieces_below(child, limit);
                    if count > limit {
                        break;
                    }
                }
                count
            }
        }
    }

    fn drop_below(&mut self, node: u32, taken: &mut impl FnMut(u32)) {
        if let What::Piece { kind, .. } = self.node(node).what {
            self.pieces -= 1;
            taken(kind);
        }
        let mut child = self.node(node).first;
        while child != NONE {
            let next = self.node(child).next;
            self.drop_below(child, taken);
            self.node_mut(child).what = What::Gone;
            self.gone.push(child);
            child = next;
        }
        self.node_mut(node).first = NONE;
    }

    /// Joins a free node with those beside it, and upwards.
    fn settle(&mut self, node: u32) {
        let parent = self.node(node).parent;
        let Some(way) = (parent != NONE).then(|| self.way_of(parent)).flatten() else {
            return;
        };
        if self.fixed {
            for beside in [self.node(node).before, self.node(node).next] {
                self.join(node, beside, way);
            }
        } else {
            let free = |sheet: &Self| sheet.children(parent).find(|&child| child != node && sheet.node(child).what == What::Free);
            while let Some(other) = free(self) {
                self.join(node, other, way);
            }
        }
        let only = self.node(parent).first;
        if self.node(only).next == NONE {
            self.lift(only, parent);
        }
    }

    fn join(&mut self, node: u32, other: u32, way: usize) {
        if other == NONE || self.node(other).what != What::Free {
            return;
        }
        let Node { size, at, .. } = *self.node(other);
        self.unlink(other);
        self.node_mut(other).what = What::Gone;
        self.gone.push(other);
        let node = self.node_mut(node);
        node.size[way] += size[way];
        node.at[way] = node.at[way].min(at[way]);
    }

    /// Puts the only child of a node in its place.
    fn lift(&mut self, only: u32, parent: u32) {
        let child = *self.node(only);
        self.node_mut(only).what = What::Gone;
        self.gone.push(only);
        let grown = self.node_mut(parent);
        (grown.what, grown.first) = (child.what, child.first);
        let mut below = child.first;
        while below != NONE {
            self.node_mut(below).parent = parent;
            below = self.node(below).next;
        }
        match child.what {
            What::Free => self.settle(parent),
            What::Cut { way } => self.flatten(parent, way),
            What::Piece { .. } | What::Gone => {}
        }
    }

    /// Hands the children of a node to its parent where both are cut one way.
    fn flatten(&mut self, node: u32, way: usize) {
        let above = self.node(node).parent;
        if above == NONE || self.way_of(above) != Some(way) {
            return;
        }
        let mut last = node;
        let mut child = self.node(node).first;
        let mut free = NONE;
        while child != NONE {
            let next = self.node(child).next;
            self.link_behind(child, last, above);
            if self.node(child).what == What::Free {
                free = child;
            }
            last = child;
            child = next;
        }
        self.unlink(node);
        self.node_mut(node).what = What::Gone;
        self.gone.push(node);
        if free != NONE {
            self.settle(free);
        }
    }

    fn list_free(&mut self) {
        self.free.clear();
        self.free.extend((0..self.nodes.len() as u32).filter(|&node| self.nodes[node as usize].what == What::Free));
    }
}
