//! In which order the cuts of a board are made, so that what is sawn can be held.

use super::layout::Cut;
use super::task::Direction;

/// Places of cuts are told apart by less than a saw can do, mm.
const NEAR: f64 = 1e-5;

/// What cuts leave, and the row of cuts that left it.
struct Rest {
    /// From and to along the length, and along the width, mm.
    rect: [[f64; 2]; 2],
    row: Option<usize>,
}

/// Cuts of one direction through what lay in one piece.
struct Row {
    rect: [[f64; 2]; 2],
    way: usize,
    cuts: Vec<Cut>,
    /// How many rows lie above it.
    depth: usize,
}

/// The same cuts in an order that is better at the saw. `room` is the trimmed board: from and to along its length, then along its
/// width, in mm from the untrimmed corner; `kerf` what a cut across takes, and one along; `liftable` the area in mm² up to which a part can be lifted and pushed.
///
/// All cuts of a stage come before those of the next, so that fence and saw are changed seldom. In a row of parallel cuts what
/// can't be lifted is halved first. From there, as long as what is sawn is no shorter, of rips no narrower, than `easy`, mm, ends that are alike come off one after the
/// other at one setting; where it gets shorter, the shorter end is cut off each time, and the longest neighbours are parted last: so what is held at
/// the saw is never shorter than it must be, or than is easy to hold. What is `wanted` of a rectangle, from and to along the length and along the width, comes off
/// before what is not, as long as what is sawn after is no shorter than is easy: so the fence is set to a piece, and the waste is what is left.
///
/// Cuts that do not go from edge to edge of what those before them left stand last, in the order in which they came.
#[must_use]
pub fn in_order(
    room: [[f64; 2]; 2],
    cuts: &[Cut],
    kerf: [f64; 2],
    (liftable, easy): (f64, [f64; 2]),
    wanted: &dyn Fn([[f64; 2]; 2]) -> bool,
) -> Vec<Cut> {
    let mut rests = vec![Rest { rect: room, row: None }];
    let mut rows: Vec<Row> = Vec::new();
    let mut stray = Vec::new();
    for cut in cuts {
        let way = across(cut.cut);
        let Some(at) = rests.iter().position(|rest| is_cut(rest, way, cut)) else {
            stray.push(*cut);
            continue;
        };
        let Rest { rect, row } = rests.swap_remove(at);
        let above = row.and_then(|row| rows.get(row)).map(|above| (above.way, above.depth));
        let row = match (row, above) {
            (Some(row), Some((of_row, _))) if of_row == way => row,
            (_, above) => {
                rows.push(Row { rect, way, cuts: Vec::new(), depth: above.map_or(0, |(_, depth)| depth + 1) });
                rows.len() - 1
            }
        };
        if let Some(row) = rows.get_mut(row) {
            row.cuts.push(*cut);
        }
        for [from, to] in [[rect[way][0], cut.at], [cut.at + kerf[way], rect[way][1]]] {
            if to > from {
                let mut rect = rect;
                rect[way] = [from, to];
                rests.push(Rest { rect, row: Some(row) });
            }
        }
    }
    rows.sort_by_key(|row| row.depth);
    rows.iter().flat_map(|row| row.in_order(kerf[row.way], liftable, easy, wanted)).chain(stray).collect()
}

/// Along which way a cut has its place: one across the board along the length.
fn across(cut: Direction) -> usize {
    match cut {
        Direction::Across => 0,
        Direction::Along => 1,
    }
}

fn is_cut(rest: &Rest, way: usize, cut: &Cut) -> bool {
    let [from, to] = rest.rect[way];
    let [begin, end] = rest.rect[1 - way];
    cut.at > from - NEAR && cut.at < to - NEAR / 2.0 && (cut.from - begin).abs() < NEAR && (cut.to - end).abs() < NEAR
}

impl Row {
    fn in_order(&self, kerf: f64, liftable: f64, easy: [f64; 2], wanted: &dyn Fn([[f64; 2]; 2]) -> bool) -> Vec<Cut> {
        let mut cuts = self.cuts.clone();
        cuts.sort_by(|a, b| a.at.total_cmp(&b.at));
        let [from, to] = self.rect[self.way];
        let begins = std::iter::once(from).chain(cuts.iter().map(|cut| cut.at + kerf));
        let ends = cuts.iter().map(|cut| cut.at).chain([to]);
        let parts: Vec<[f64; 2]> = begins.zip(ends).map(|(begin, end)| [begin, end]).collect();
        let thin = parts.iter().take(cuts.len()).any(|part| part[1] - part[0] < kerf - NEAR);
        if thin {
            // What is thinner than the saw goes with one cut or another, as it was planned.
            return self.cuts.clone();
        }
        let [near, far] = self.rect[1 - self.way];
        let is_wanted = |part: &[f64; 2]| {
            let mut rect = self.rect;
            rect[self.way] = *part;
            wanted(rect)
        };
        let wanted: Vec<bool> = parts.iter().map(is_wanted).collect();
        let mut made = Vec::with_capacity(cuts.len());
        let chain = Chain { parts: &parts, wanted: &wanted, cuts: &cuts, breadth: far - near, liftable, easy: easy[self.way] };
        chain.take_apart(0, cuts.len(), &mut made);
        made
    }
}

/// The parts of a row, with a cut behind each but the last.
struct Chain<'a> {
    parts: &'a [[f64; 2]],
    /// Which of them hold something that is wanted.
    wanted: &'a [bool],
    cuts: &'a [Cut],
    breadth: f64,
    liftable: f64,
    easy: f64,
}

impl Chain<'_> {
    /// Whether the near end comes off before the far one because more parts are as long, so that one setting serves them all; none where neither has its like, or
    /// where what is left to be sawn would be shorter than is easy.
    fn alike(&self, first: usize, last: usize) -> Option<bool> {
        let twins = |end: usize| (first..=last).filter(|part| (self.length(*part, *part) - self.length(end, end)).abs() < NEAR).count();
        let (near, far) = (twins(first), twins(last));
        let is_near = near >= far;
        // The last of these cuts is the one at which least is held.
        let (count, length) = if is_near { (near, self.length(first, first)) } else { (far, self.length(last, last)) };
        let left = self.length(first, last) - (count - 1) as f64 * length;
        (near.max(far) > 1 && left >= self.easy).then_some(is_near)
    }

    /// Whether the near end comes off before the far one because the far one is waste, or the other way round; none where both or neither are, or where what is left
    /// to be sawn would be shorter than is easy.
    fn before_waste(&self, first: usize, last: usize) -> Option<bool> {
        let is_near = match (self.wanted[first], self.wanted[last]) {
            (true, false) => true,
            (false, true) => false,
            (true, true) | (false, false) => return None,
        };
        let left = if is_near { self.length(first + 1, last) } else { self.length(first, last - 1) };
        (last == first + 1 || left >= self.easy).then_some(is_near)
    }

    fn length(&self, first: usize, last: usize) -> f64 {
        self.parts[last][1] - self.parts[first][0]
    }

    /// Makes the cuts between the first part and the last.
    fn take_apart(&self, mut first: usize, mut last: usize, made: &mut Vec<Cut>) {
        while first < last {
            if self.length(first, last) * self.breadth > self.liftable {
                let middle = self.parts[first][0].midpoint(self.parts[last][1]);
                let apart = |cut: &usize| (self.cuts[*cut].at - middle).abs();
                let cut = (first..last).min_by(|a, b| apart(a).total_cmp(&apart(b))).unwrap_or(first);
                made.push(self.cuts[cut]);
                self.take_apart(first, cut, made);
                first = cut + 1;
                continue;
            }
            if let Some(near) = self.before_waste(first, last).or_else(|| self.alike(first, last)) {
                made.push(self.cuts[if near { first } else { last - 1 }]);
                (first, last) = if near { (first + 1, last) } else { (first, last - 1) };
                continue;
            }
            let longest = |a: &usize, b: &usize| self.length(*a, a + 1).total_cmp(&self.length(*b, b + 1));
            let kept = (first..last).max_by(longest).unwrap_or(first);
            let near = last == kept + 1 || first < kept && self.length(first, first) <= self.length(last, last);
            made.push(self.cuts[if near { first } else { last - 1 }]);
            (first, last) = if near { (first + 1, last) } else { (first, last - 1) };
        }
    }
}
