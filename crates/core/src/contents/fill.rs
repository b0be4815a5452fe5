//! The heaviest that a room can be given out of what there is to keep.
//!
//! Shelves move and boxes change places, so a shelf is judged by the heaviest boxes that it could be asked to hold, not by those that
//! happen to stand there today.

use glam::DVec3;

use super::{BEHIND, BESIDE, OVER, fits};
use crate::design::BoxKind;
use crate::model::{Model, Room};
use crate::place::Block;

/// Boxes of one kind in one place: on each other and behind each other.
#[derive(Clone, Debug, PartialEq)]
pub struct Stack {
    /// Which kind, by its place in the design's list.
    pub kind: usize,
    /// How many.
    pub count: u32,
    /// What they weigh together, kg.
    pub kg: f64,
    /// The space they fill, mm; they stand on its lower face.
    pub block: Block,
}

/// Whether boxes may stand on each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Stacking {
    /// As high as the room lets them.
    Up,
    /// Each stands on the shelf itself.
    OneHigh,
}

/// How boxes of a kind go into a room.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Packing {
    /// On each other.
    high: u32,
    /// Behind each other.
    deep: u32,
    /// What one stack takes of the width, room beside it counted, whole mm: rounded down, so that the load errs on the safe side.
    wide: usize,
}

impl Packing {
    fn of(room: &Room, kind: &BoxKind, stacking: Stacking) -> Option<Packing> {
        if fits(room, kind).is_some() {
            return None;
        }
        let space = room.space.size();
        let times = |room: f64, size: f64| (((room + 1e-6) / size).floor() as u32).max(1);
        let high = match stacking {
            Stacking::Up => times(space.y - OVER, kind.height.to_mm()),
            Stacking::OneHigh => 1,
        };
        let deep = times(space.z - BEHIND, kind.depth.to_mm());
        Some(Packing { high, deep, wide: (kind.width.to_mm() + BESIDE).floor() as usize })
    }

    fn of_a_stack(self) -> u32 {
        self.high.saturating_mul(self.deep)
    }
}

/// So many equal stacks, taken or left as one.
#[derive(Clone, Copy, Debug)]
struct Bundle {
    kind: usize,
    stacks: usize,
    /// Boxes in each.
    boxes: u32,
    wide: usize,
    kg: f64,
}

/// The heaviest row of boxes that a room takes, of which `left` are there of each kind: stacks side by side, pushed together in the middle
/// with their fronts at the front of the room. The heaviest stand in the middle of the row, where they bend a shelf most.
///
/// The best choice of kinds is found exactly, to a millimetre of width. Boxes stand behind each other as deep as the room is.
pub fn heaviest(room: &Room, contents: &[BoxKind], left: &[u32], stacking: Stacking) -> Vec<Stack> {
    let packings: Vec<Option<Packing>> = contents.iter().map(|kind| Packing::of(room, kind, stacking)).collect();
    let width = (room.space.size().x + 1e-6).floor().max(0.0) as usize;
    let bundles: Vec<Bundle> = contents
        .iter()
        .zip(&packings)
        .enumerate()
        .filter_map(|(index, (kind, packing))| Some(bundled(index, kind, (*packing)?, left.get(index).copied().unwrap_or(0), width)))
        .flatten()
        .collect();
    let mut stacks: Vec<(usize, u32)> = Vec::new();
    for bundle in chosen(&bundles, width) {
        stacks.extend(std::iter::repeat_n((bundle.kind, bundle.boxes), bundle.stacks));
    }
    set_out(room, contents, &packings, stacks)
}

/// Stacks of a kind in bundles of one, two, four …, so that any number of them is some bundles (the usual way to bound a knapsack).
fn bundled(kind: usize, of: &BoxKind, packing: Packing, left: u32, width: usize) -> Vec<Bundle> {
    if of.mass <= 0.0 || left == 0 || packing.wide == 0 || packing.wide > width {
        return Vec::new();
    }
    let (each, across) = (packing.of_a_stack(), width / packing.wide);
    let bundle = |stacks: usize, boxes: u32| Bundle {
        kind,
        stacks,
        boxes,
        wide: stacks * packing.wide,
        kg: of.mass * f64::from(boxes) * stacks as f64,
    };
    let mut whole = across.min((left / each) as usize);
    let mut bundles = Vec::new();
    // What does not fill a stack stands as a lower one.
    if !left.is_multiple_of(each) {
        bundles.push(bundle(1, left % each));
    }
    let mut stacks = 1;
    while whole > 0 {
        let taken = stacks.min(whole);
        bundles.push(bundle(taken, each));
        whole -= taken;
        stacks *= 2;
    }
    bundles
}

/// The bundles that weigh most together and go into the width.
fn chosen(bundles: &[Bundle], width: usize) -> Vec<Bundle> {
    let mut best = vec![0.0; width + 1];
    let mut taken = vec![false; bundles.len() * (width + 1)];
    for (index, bundle) in bundles.iter().enumerate() {
        for room in (bundle.wide..=width).rev() {
            let with = best[room - bundle.wide] + bundle.kg;
            if with > best[room] {
                best[room] = with;
                taken[index * (width + 1) + room] = true;
            }
        }
    }
    let mut room = width;
    let mut chosen = Vec::new();
    for (index, bundle) in bundles.iter().enumerate().rev() {
        if taken[index * (width + 1) + room] {
            chosen.push(*bundle);
            room -= bundle.wide;
        }
    }
    chosen
}

/// Gives each stack its place: the heaviest to the mm in the middle, the others to its left and right in turn.
fn set_out(room: &Room, contents: &[BoxKind], packings: &[Option<Packing>], mut stacks: Vec<(usize, u32)>) -> Vec<Stack> {
    let wide = |kind: usize| contents[kind].width.to_mm();
    let heavy = |stack: &(usize, u32)| contents[stack.0].mass * f64::from(stack.1) / wide(stack.0);
    stacks.sort_by(|a, b| heavy(b).total_cmp(&heavy(a)).then(a.cmp(b)));
    let mut row: std::collections::VecDeque<(usize, u32)> = std::collections::VecDeque::new();
    for (index, stack) in stacks.into_iter().enumerate() {
        if index % 2 == 0 { row.push_back(stack) } else { row.push_front(stack) }
    }
    let space = room.space;
    let free = space.size().x - row.iter().map(|stack| wide(stack.0)).sum::<f64>();
    // Never closer together than the room allows, however the widths were rounded.
    let gap = BESIDE.min(free / row.len().max(1) as f64).max(0.0);
    let mut x = space.min.x + (free - gap * row.len().saturating_sub(1) as f64) / 2.0;
    row.into_iter()
        .filter_map(|(kind, count)| {
            let (of, packing) = (&contents[kind], packings[kind]?);
            let deep = packing.deep.min(count);
            let high = count.div_ceil(deep).min(packing.high);
            let size = DVec3::new(wide(kind), of.height.to_mm() * f64::from(high), of.depth.to_mm() * f64::from(deep));
            let corner = DVec3::new(x, space.min.y, space.max.z - size.z);
            x += size.x + gap;
            Some(Stack { kind, count, kg: of.mass * f64::from(count), block: Block { min: corner, max: corner + size } })
        })
        .collect()
}

/// What there is to keep, each room given the heaviest of what is left, from the highest room down: the case at its most top-heavy. For
/// each room of the model its stacks. Other arrangements may take more boxes; none has them higher.
pub fn top_heavy(model: &Model, contents: &[BoxKind]) -> Vec<Vec<Stack>> {
    let mut left: Vec<u32> = contents.iter().map(|kind| kind.count).collect();
    let mut rooms: Vec<usize> = (0..model.rooms.len()).collect();
    rooms.sort_by(|a, b| model.rooms[*b].space.min.y.total_cmp(&model.rooms[*a].space.min.y));
    let mut filled = vec![Vec::new(); model.rooms.len()];
    for index in rooms {
        let stacks = heaviest(&model.rooms[index], contents, &left, Stacking::Up);
        for stack in &stacks {
            left[stack.kind] -= stack.count.min(left[stack.kind]);
        }
        filled[index] = stacks;
    }
    filled
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::length::Length;

    fn kind(name: &str, (width, depth, height): (f64, f64, f64), mass: f64, count: u32) -> BoxKind {
        let mm = Length::mm;
        BoxKind { name: name.to_owned(), width: mm(width), depth: mm(depth), height: mm(height), mass, count }
    }

    fn room(width: f64, height: f64, depth: f64) -> Room {
        let space = Block::new((0.0, width), (100.0, 100.0 + height), (50.0, 50.0 + depth));
        Room { name: "shelf 1 of bay 1".to_owned(), bay: 0, shelf: Some(0), space }
    }

    /// Every way to choose, one by one.
    fn brute(room: &Room, contents: &[BoxKind], counts: &[u32], stacking: Stacking) -> f64 {
        fn go(at: usize, width: f64, kinds: &[(f64, f64, u32, u32)]) -> f64 {
            let Some(&(wide, mass, each, count)) = kinds.get(at) else { return 0.0 };
            let mut best = 0.0_f64;
            for stacks in 0..=10u32 {
                let took = (stacks * each).min(count);
                if f64::from(stacks) * wide > width + 1e-6 || (stacks > 0 && took <= (stacks - 1) * each) {
                    break;
                }
                best = best.max(f64::from(took) * mass + go(at + 1, width - f64::from(stacks) * wide, kinds));
            }
            best
        }
        let kinds: Vec<_> = contents
            .iter()
            .zip(counts)
            .filter_map(|(kind, count)| {
                Some((kind.width.to_mm() + BESIDE, kind.mass, Packing::of(room, kind, stacking)?.of_a_stack(), *count))
            })
            .collect();
        go(0, room.space.size().x, &kinds)
    }

    #[test]
    fn the_row_is_the_heaviest_there_is() {
        let contents = [
            kind("carton", (330.0, 400.0, 250.0), 16.0, 3),
            kind("case", (127.0, 390.0, 260.0), 6.5, 4),
            kind("flat", (285.0, 400.0, 120.0), 5.7, 5),
            kind("too high", (100.0, 100.0, 900.0), 99.0, 5),
        ];
        let counts: Vec<u32> = contents.iter().map(|kind| kind.count).collect();
        for width in [100.0, 200.0, 345.0, 470.0, 700.0, 1000.0, 1264.0] {
            for height in [150.0, 300.0, 500.0, 700.0] {
                let room = room(width, height, 418.0);
                for stacking in [Stacking::Up, Stacking::OneHigh] {
                    let kg: f64 = heaviest(&room, &contents, &counts, stacking).iter().map(|stack| stack.kg).sum();
                    let wanted = brute(&room, &contents, &counts, stacking);
                    assert!((kg - wanted).abs() < 1e-9, "{width} × {height}: {kg} for {wanted}");
                }
            }
        }
    }

    #[test]
    fn stacks_stand_in_their_room_beside_each_other() {
        let contents = [kind("case", (127.0, 390.0, 260.0), 6.5, 9), kind("file", (75.0, 180.0, 100.0), 3.2, 40)];
        let room = room(640.0, 540.0, 418.0);
        let stacks = heaviest(&room, &contents, &[9, 40], Stacking::Up);
        assert!(stacks.len() > 3);
        for stack in &stacks {
            assert!(stack.block.min.cmpge(room.space.min - 1e-9).all() && stack.block.max.cmple(room.space.max + 1e-9).all(), "{stack:?}");
        }
        assert!(stacks.windows(2).all(|pair| pair[0].block.max.x <= pair[1].block.min.x + 1e-9));
        // Two deep, two high of the cases, ten of the files: 180 twice in 418 and 100 five times in 515.
        assert!(stacks.iter().any(|stack| stack.kind == 1 && stack.count == 10), "{stacks:?}");
        assert!(stacks.iter().all(|stack| stack.kind == 1 || stack.count == 1), "390 goes once into 418, 260 once into 515: {stacks:?}");
    }

    #[test]
    fn nothing_is_placed_twice() {
        let contents = [kind("carton", (330.0, 400.0, 250.0), 16.0, 2)];
        let mut model = Model::default();
        for level in [0.0, 400.0, 800.0] {
            let mut room = room(400.0, 350.0, 418.0);
            room.space.min.y += level;
            room.space.max.y += level;
            model.rooms.push(room);
        }
        let filled = top_heavy(&model, &contents);
        assert!(filled[0].is_empty() && filled[1].len() == 1 && filled[2].len() == 1, "from the top down: {filled:?}");
        let filled = top_heavy(&model, &[BoxKind { count: 5, ..contents[0].clone() }]);
        assert!(filled.iter().all(|stacks| stacks.len() == 1), "three rooms take three: {filled:?}");
    }
}
