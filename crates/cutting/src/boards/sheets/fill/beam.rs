//! The best fillings of rectangles, small ones first.

use super::super::fit::Rules;
use super::plan::{Plan, Step};
use super::{MOST_WARES, Ware};

/// Fillings of a rectangle that are kept, of each way that they are cut first.
const KEPT: usize = 3;

/// How many of each ware.
pub(super) type Counts = [u8; MOST_WARES];

/// How a filling is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum How {
    /// One piece and nothing else.
    Piece { ware: u8, turned: bool },
    /// Two fillings, one behind the other along a way.
    Joined { way: usize, near: u32, far: u32 },
    /// A filling at the near end of something larger along a way.
    Within { way: usize, inner: u32 },
    /// A filling at the far end.
    Behind { way: usize, inner: u32 },
}

/// What fills a rectangle.
#[derive(Clone, Copy, Debug)]
pub(super) struct Filling {
    pub value: f64,
    pub counts: Counts,
    pub size: [i64; 2],
    /// Stages of cuts, without a last trimming; and the way of the first of them.
    pub depth: u32,
    pub top: Option<usize>,
    pub how: How,
}

/// Fillings of all rectangles of a raster.
pub(super) struct Beam<'a> {
    pub raster: [Vec<i64>; 2],
    pub rules: &'a Rules,
    prices: [f64; MOST_WARES],
    most: Counts,
    wares: &'a [Ware],
    /// All fillings that were ever kept.
    pub fillings: Vec<Filling>,
    /// Of each rectangle the best, in descending order of value.
    cells: Vec<Vec<u32>>,
    /// Joins that were tried.
    pub work: u64,
}

impl<'a> Beam<'a> {
    pub fn new(raster: [Vec<i64>; 2], wares: &'a [Ware], rules: &'a Rules) -> Self {
        let mut prices = [0.0; MOST_WARES];
        let mut most = [0; MOST_WARES];
        for (number, ware) in wares.iter().enumerate() {
            (prices[number], most[number]) = (ware.price, ware.most);
        }
        let cells = vec![Vec::new(); raster[0].len() * raster[1].len()];
        Self { raster, rules, prices, most, wares, fillings: Vec::new(), cells, work: 0 }
    }

    /// Fills all rectangles.
    pub fn run(&mut self) {
        for along in 0..self.raster[0].len() {
            for across in 0..self.raster[1].len() {
                let list = self.cell([along, across]);
                let number = self.number([along, across]);
                self.cells[number] = list;
            }
        }
    }

    fn number(&self, at: [usize; 2]) -> usize {
        at[0] * self.raster[1].len() + at[1]
    }

    fn cell(&mut self, at: [usize; 2]) -> Vec<u32> {
        let size = [0, 1].map(|way| self.raster[way][at[way]]);
        let mut list: Vec<u32> = Vec::new();
        for way in [0, 1] {
            if at[way] > 0 {
                let mut less = at;
                less[way] -= 1;
                for kept in self.cells[self.number(less)].clone() {
                    self.keep(&mut list, kept);
                }
            }
        }
        for (number, ware) in self.wares.iter().enumerate() {
            for turned in [false, true].into_iter().take(if ware.turn { 2 } else { 1 }) {
                let lies = if turned { [ware.size[1], ware.size[0]] } else { ware.size };
                if lies == size && ware.most > 0 {
                    let mut counts = [0; MOST_WARES];
                    counts[number] = 1;
                    let how = How::Piece { ware: number as u8, turned };
                    self.offer(&mut list, Filling { value: ware.price, counts, size, depth: 0, top: None, how });
                }
            }
        }
        for way in [0, 1] {
            for first in 0..at[way] {
                let near = self.raster[way][first];
                if 2 * near > size[way] {
                    break;
                }
                let Some(second) = self.raster[way].partition_point(|&at| at <= size[way] - near).checked_sub(1) else {
                    continue;
                };
                let place = |number: usize| {
                    let mut place = at;
                    place[way] = number;
                    place
                };
                let (one, two) = (self.number(place(first)), self.number(place(second)));
                self.join_all(&mut list, way, one, two);
            }
        }
        list
    }

    fn join_all(&mut self, list: &mut Vec<u32>, way: usize, one: usize, two: usize) {
        self.work += 1;
        for a in 0..self.cells[one].len() {
            let near = self.cells[one][a];
            for b in 0..self.cells[two].len() {
                let far = self.cells[two][b];
                if !self.worthwhile(list, self.fillings[near as usize].value + self.fillings[far as usize].value) {
                    break;
                }
                self.work += 1;
                if let Some(joined) = self.joined(way, near, far) {
                    self.offer(list, joined);
                }
            }
        }
    }

    /// Whether a value may still be kept.
    fn worthwhile(&self, list: &[u32], value: f64) -> bool {
        list.len() < self.room() || list.last().is_none_or(|&last| self.fillings[last as usize].value < value)
    }

    fn room(&self) -> usize {
        if self.rules.limited() { 2 * KEPT } else { KEPT }
    }

    /// Two fillings, one behind the other; none where that takes too many stages. What is too many of a ware is left out.
    pub fn joined(&mut self, way: usize, near: u32, far: u32) -> Option<Filling> {
        let (one, two) = (self.fillings[near as usize], self.fillings[far as usize]);
        let other = 1 - way;
        let mut counts = [0; MOST_WARES];
        for (number, count) in counts.iter_mut().enumerate() {
            *count = one.counts[number].saturating_add(two.counts[number]).min(self.most[number]);
        }
        let value = counts.iter().zip(&self.prices).map(|(&count, price)| f64::from(count) * price).sum();
        let breadth = one.size[other].max(two.size[other]);
        let depth = [one, two].map(|part| {
            let (depth, top) = if part.size[other] < breadth { self.widened(&part, other) } else { (part.depth, part.top) };
            if top == Some(way) { depth } else { depth + 1 }
        });
        let depth = depth[0].max(depth[1]);
        if depth > self.rules.stages {
            return None;
        }
        let mut size = one.size;
        size[way] = one.size[way] + two.size[way];
        size[other] = breadth;
        Some(Filling { value, counts, size, depth, top: Some(way), how: How::Joined { way, near, far } })
    }

    /// Stages and first way of a filling at the near end of something larger along a way.
    fn widened(&self, filling: &Filling, way: usize) -> (u32, Option<usize>) {
        match filling.how {
            How::Piece { .. } if self.rules.trimming && self.rules.limited() => (0, None),
            _ if filling.top == Some(way) => (filling.depth, filling.top),
            _ => (filling.depth + 1, Some(way)),
        }
    }

    /// A filling at the near end of a larger room; none where that takes too many stages.
    pub fn within(&mut self, mut number: u32, room: [i64; 2]) -> Option<u32> {
        // A cut more in the way that comes first anyway is in the same stage.
        let first = self.fillings[number as usize].top.unwrap_or(0);
        for way in [first, 1 - first] {
            let inner = self.fillings[number as usize];
            if inner.size[way] < room[way] {
                let (depth, top) = self.widened(&inner, way);
                let mut size = inner.size;
                size[way] = room[way];
                self.fillings.push(Filling { size, depth, top, how: How::Within { way, inner: number }, ..inner });
                number = self.fillings.len() as u32 - 1;
            }
        }
        (self.fillings[number as usize].depth <= self.rules.stages).then_some(number)
    }

    /// A filling at the far end of something larger along a way; none where that takes too many stages.
    pub fn behind(&mut self, number: u32, way: usize, length: i64) -> Option<u32> {
        let inner = self.fillings[number as usize];
        let (depth, top) = self.widened(&inner, way);
        let mut size = inner.size;
        size[way] = length;
        self.fillings.push(Filling { size, depth, top, how: How::Behind { way, inner: number }, ..inner });
        (depth <= self.rules.stages).then_some(self.fillings.len() as u32 - 1)
    }

    /// The fillings of the greatest rectangle of the raster that goes into a room.
    pub fn of_room(&self, room: [i64; 2]) -> &[u32] {
        let at = [0, 1].map(|way| self.raster[way].partition_point(|&size| size <= room[way]).checked_sub(1));
        match at {
            [Some(along), Some(across)] => &self.cells[self.number([along, across])],
            _ => &[],
        }
    }

    /// The best filling of a room without defects.
    pub fn whole(&mut self, room: [i64; 2]) -> Option<u32> {
        let fillings = self.of_room(room).to_vec();
        fillings.into_iter().find_map(|filling| self.within(filling, room).filter(|&number| self.may_be_first(number)))
    }

    /// How far single pieces go along a way.
    pub fn sizes(&self, way: usize) -> impl Iterator<Item = i64> {
        self.wares.iter().flat_map(move |ware| [ware.size[way], if ware.turn { ware.size[1 - way] } else { ware.size[way] }])
    }

    /// Whether its first cuts go the way that the first stage has to go.
    pub fn may_be_first(&self, number: u32) -> bool {
        let Filling { depth, top, .. } = self.fillings[number as usize];
        let later = top.is_some() && self.rules.first.is_some() && top != self.rules.first;
        depth + u32::from(later) <= self.rules.stages
    }

    /// Keeps a filling where it is among the best.
    pub fn offer(&mut self, list: &mut Vec<u32>, filling: Filling) {
        if self.worthwhile(list, filling.value) && !self.has_like(list, &filling) {
            self.fillings.push(filling);
            self.keep(list, self.fillings.len() as u32 - 1);
        }
    }

    /// Whether as much is kept already that is cut first the same way in as few stages.
    fn has_like(&self, list: &[u32], filling: &Filling) -> bool {
        list.iter().any(|&kept| {
            let kept = &self.fillings[kept as usize];
            kept.counts == filling.counts && (!self.rules.limited() || kept.top == filling.top && kept.depth <= filling.depth)
        })
    }

    pub fn keep(&self, list: &mut Vec<u32>, number: u32) {
        let filling = &self.fillings[number as usize];
        if list.contains(&number) || !self.worthwhile(list, filling.value) || self.has_like(list, filling) {
            return;
        }
        let at = list.partition_point(|&kept| self.fillings[kept as usize].value >= filling.value);
        list.insert(at, number);
        if self.rules.limited() {
            let alike = |&(_, kept): &(usize, &u32)| self.fillings[*kept as usize].top == filling.top;
            if list.iter().enumerate().filter(alike).count() > KEPT
                && let Some((last, _)) = list.iter().enumerate().rfind(alike)
            {
                list.remove(last);
            }
        }
        list.truncate(self.room());
    }

    /// The steps that lead to a filling.
    pub fn plan(&self, number: u32, wares: &[Ware]) -> Plan {
        let mut steps = Vec::new();
        self.tell(number, wares, &mut steps);
        Plan { steps }
    }

    fn tell(&self, number: u32, wares: &[Ware], steps: &mut Vec<Step>) {
        let Filling { size, how, .. } = self.fillings[number as usize];
        match how {
            How::Piece { ware, turned } => steps.push(Step::Piece { kind: wares[usize::from(ware)].kind, turned, size }),
            How::Within { way, inner } => {
                steps.push(Step::Within { way, size: self.fillings[inner as usize].size[way] });
                self.tell(inner, wares, steps);
            }
            How::Behind { way, inner } => {
                steps.push(Step::Behind { way, skip: size[way] - self.fillings[inner as usize].size[way] });
                self.tell(inner, wares, steps);
            }
            How::Joined { way, near, far } => {
                let part = |number: u32| self.fillings[number as usize].size;
                steps.push(Step::Joined { way, at: part(near)[way] });
                for number in [near, far] {
                    let other = 1 - way;
                    if part(number)[other] < size[other] {
                        steps.push(Step::Within { way: other, size: part(number)[other] });
                    }
                    self.tell(number, wares, steps);
                }
            }
        }
    }
}
