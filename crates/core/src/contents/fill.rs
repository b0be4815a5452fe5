//! The heaviest that a room can be given out of what there is to keep.
//!
//! Shelves move and boxes change places, so a shelf is judged by the heaviest boxes that it could be asked to hold, not by those that
//! happen to stand there today.

use std::collections::VecDeque;

use glam::DVec3;

use super::{HowHigh, Pile, Stance};
use crate::design::{BoxKind, Design, HandRoom};
use crate::model::{Model, Room};
use crate::place::Block;

/// Boxes of one kind in one place: on each other and behind each other.
#[derive(Clone, Debug, PartialEq)]
pub struct Stack {
    /// Which kind, by its place in the design's list.
    pub kind: usize,
    /// How many.
    pub count: u32,
    /// How they stand: as many on and behind each other, the last of them not always full.
    pub pile: Pile,
    /// What they weigh together, kg.
    pub kg: f64,
    /// The space they fill, mm; they stand on its lower face.
    pub block: Block,
    /// How far they sink into the stack before them in their row, mm, where they stand on that one and not on the shelf.
    pub on: Option<f64>,
}

impl Stack {
    /// What it is: "Records carton", "Flat archive box (3 high)", and how it lies.
    pub fn words(&self, contents: &[BoxKind]) -> String {
        let name = contents.get(self.kind).map_or("", |kind| &kind.name);
        let many = match (self.count, self.pile.high, self.pile.deep) {
            (1, ..) => String::new(),
            (count, _, 1) => format!(" ({count} high)"),
            (count, 1, _) => format!(" ({count} deep)"),
            (count, high, deep) => format!(" ({count}: {high} high, {deep} deep)"),
        };
        let lying = if self.pile.stance == Stance::AsListed { String::new() } else { format!(", {}", self.pile.stance.words()) };
        format!("{name}{many}{lying}")
    }

    /// Which kind, how many and how, without where.
    pub(super) fn piled(&self) -> Piled {
        Piled { kind: self.kind, count: self.count, pile: self.pile, on: self.on }
    }
}

/// What stands in a row from the left, equal neighbours told once: "3 × Document case · Box file · Container, on it Tall container".
pub fn row_words(stacks: &[Stack], contents: &[BoxKind]) -> String {
    let on_shelf = stacks.chunk_by(|_, next| next.on.is_some());
    let things: Vec<String> =
        on_shelf.map(|one| one.iter().map(|stack| stack.words(contents)).collect::<Vec<_>>().join(", on it ")).collect();
    let told =
        things.chunk_by(|a, b| a == b).map(|run| if run.len() == 1 { run[0].clone() } else { format!("{} × {}", run.len(), run[0]) });
    told.collect::<Vec<_>>().join(" · ")
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
/// Boxes stand behind each other as deep as the room is; of the ways in which a kind may stand, it takes the one of which a whole row
/// would hold most. The best choice of kinds is then found exactly, to a millimetre of width.
pub fn heaviest(room: &Room, design: &Design, left: &[u32], high: HowHigh) -> Vec<Stack> {
    let Design { contents, hand_room: hand, .. } = design;
    let space = room.space.size();
    let piles: Vec<Option<Pile>> = contents.iter().map(|kind| densest(kind, hand, space, (high, f64::INFINITY))).collect();
    // Each stack takes what must stay free to its left, and the row what must stay free at its right end.
    let width = (space.x - hand.beside.to_mm() + 1e-6).floor().max(0.0) as usize;
    let bundles: Vec<Bundle> = contents
        .iter()
        .zip(&piles)
        .enumerate()
        .filter_map(|(index, (kind, pile))| Some(bundled(index, kind, &(*pile)?, left.get(index).copied().unwrap_or(0), width)))
        .flatten()
        .collect();
    let mut stacks: Vec<Piled> = Vec::new();
    for bundle in chosen(&bundles, width) {
        if let Some(pile) = piles[bundle.kind] {
            stacks.extend(std::iter::repeat_n(Piled::on_shelf(bundle.kind, bundle.boxes, pile), bundle.stacks));
        }
    }
    set_out(room.space, design, heaviest_in_the_middle(design, stacks))
}

/// How many of a kind stand in a room of which a row is filled with nothing else, heavy ones no higher than they may.
pub(super) fn most_of(kind: &BoxKind, hand: &HandRoom, room: Block) -> u32 {
    let reach = if kind.mass > hand.heavy { hand.heavy_up_to.to_mm() - room.min.y } else { f64::INFINITY };
    densest(kind, hand, room.size(), (HowHigh::AsTheRoom, reach)).map_or(0, |pile| in_a_row(&pile, room.size()) as u32)
}

/// How many stand in a row of nothing but such piles.
fn in_a_row(pile: &Pile, space: DVec3) -> f64 {
    f64::from(pile.count()) * ((space.x - pile.beside) / (pile.size.x + pile.beside).max(1.0) + 1e-9).floor()
}

/// The pile of a kind of which a row alone takes most, none of it standing higher than `reach` above the shelf, mm.
fn densest(kind: &BoxKind, hand: &HandRoom, space: DVec3, (high, reach): (HowHigh, f64)) -> Option<Pile> {
    let row = |pile: &Pile| in_a_row(pile, space);
    let lower = |stance: Stance| DVec3 { y: space.y.min(Pile::one(kind, hand, stance).needs().y + reach.max(0.0)), ..space };
    Stance::of(kind.lies)
        .iter()
        .filter_map(|stance| Pile::largest(kind, hand, *stance, lower(*stance), high))
        .reduce(|best, other| if row(&other) > row(&best) { other } else { best })
}

/// Stacks of a kind in bundles of one, two, four …, so that any number of them is some bundles (the usual way to bound a knapsack).
fn bundled(kind: usize, of: &BoxKind, pile: &Pile, left: u32, width: usize) -> Vec<Bundle> {
    // Rounded down, so that the load errs on the safe side.
    let wide = (pile.size.x + pile.beside).floor() as usize;
    if of.mass <= 0.0 || left == 0 || wide == 0 || wide > width {
        return Vec::new();
    }
    let (each, across) = (pile.count(), width / wide);
    let bundle =
        |stacks: usize, boxes: u32| Bundle { kind, stacks, boxes, wide: stacks * wide, kg: of.mass * f64::from(boxes) * stacks as f64 };
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

/// So many of a kind, by its place in the list, and the pile that they would fill.
#[derive(Clone, Copy, Debug)]
pub(super) struct Piled {
    pub kind: usize,
    pub count: u32,
    pub pile: Pile,
    /// As [`Stack::on`].
    pub on: Option<f64>,
}

impl Piled {
    pub fn on_shelf(kind: usize, count: u32, pile: Pile) -> Piled {
        Piled { kind, count, pile, on: None }
    }
}

/// The heaviest to the mm in the middle, the others to its left and right in turn.
fn heaviest_in_the_middle(design: &Design, mut stacks: Vec<Piled>) -> Vec<Piled> {
    let heavy = |of: &Piled| design.contents[of.kind].mass * f64::from(of.count) / of.pile.size.x;
    stacks.sort_by(|a, b| heavy(b).total_cmp(&heavy(a)).then((a.kind, a.count).cmp(&(b.kind, b.count))));
    let mut row: VecDeque<Piled> = VecDeque::new();
    for (index, stack) in stacks.into_iter().enumerate() {
        if index % 2 == 0 { row.push_back(stack) } else { row.push_front(stack) }
    }
    row.into()
}

/// Gives stacks their places in a space, from left to right in the order given, pushed together in its middle, their fronts at its front: of which kind, how
/// many, and what pile they would fill. What stands on another stands in the middle of it.
pub(super) fn set_out(space: Block, design: &Design, stacks: Vec<Piled>) -> Vec<Stack> {
    let on_floor = || stacks.iter().filter(|of| of.on.is_none());
    let (count, wide) = (on_floor().count(), on_floor().map(|of| of.pile.size.x).sum::<f64>());
    let free = space.size().x - wide;
    // Never closer together than the room allows, however the widths were rounded.
    let gap = design.hand_room.beside.to_mm().min(free / count.max(1) as f64).max(0.0);
    let mut x = space.min.x + (free - gap * count.saturating_sub(1) as f64) / 2.0;
    let mut set: Vec<Stack> = Vec::with_capacity(stacks.len());
    for Piled { kind, count, pile, on } in stacks {
        let Some(of) = design.contents.get(kind) else { continue };
        let deep = pile.deep.min(count).max(1);
        let pile = Pile::of(of, &design.hand_room, pile.stance, count.div_ceil(deep).min(pile.high), deep);
        let corner = if let (Some(sunk), Some(Stack { block: under, .. })) = (on, set.last()) {
            DVec3::new(f64::midpoint(under.min.x, under.max.x) - pile.size.x / 2.0, under.max.y - sunk, under.max.z - pile.size.z)
        } else {
            let left = x;
            x += pile.size.x + gap;
            DVec3::new(left, space.min.y, space.max.z - pile.size.z)
        };
        let block = Block { min: corner, max: corner + pile.size };
        set.push(Stack { kind, count, pile, kg: of.mass * f64::from(count), block, on });
    }
    set
}

/// What there is to keep, each room given the heaviest of what is left, from the highest room down: the case at its most top-heavy. For
/// each room of the model its stacks. Other arrangements may take more boxes; none has them higher.
pub fn top_heavy(model: &Model, design: &Design) -> Vec<Vec<Stack>> {
    let mut left: Vec<u32> = design.contents.iter().map(BoxKind::wanted).collect();
    let mut rooms: Vec<usize> = (0..model.rooms.len()).collect();
    rooms.sort_by(|a, b| model.rooms[*b].space.min.y.total_cmp(&model.rooms[*a].space.min.y));
    let mut filled = vec![Vec::new(); model.rooms.len()];
    for index in rooms {
        let stacks = heaviest(&model.rooms[index], design, &left, HowHigh::AsTheRoom);
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
    use crate::design::Lies;

    fn keeping(contents: Vec<BoxKind>) -> Design {
        let demo = crate::design::text::read(include_str!("../../../../examples/records_cabinet.ron")).expect("the demo");
        Design { contents, ..demo }
    }

    fn kind(name: &str, (width, depth, height): (f64, f64, f64), mass: f64, count: u32) -> BoxKind {
        BoxKind::new(name, [width, depth, height], mass, count)
    }

    fn room(width: f64, height: f64, depth: f64) -> Room {
        let space = Block::new((0.0, width), (100.0, 100.0 + height), (50.0, 50.0 + depth));
        Room { name: "shelf 1 of bay 1".to_owned(), bay: 0, shelf: Some(0), space }
    }

    /// Every way to choose, one by one.
    fn brute(room: &Room, design: &Design, counts: &[u32], high: HowHigh) -> f64 {
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
        let (hand, space) = (&design.hand_room, room.space.size());
        let kinds: Vec<_> = design
            .contents
            .iter()
            .zip(counts)
            .filter_map(|(kind, count)| {
                let pile = Pile::largest(kind, hand, Stance::AsListed, space, high)?;
                Some((pile.size.x + pile.beside, kind.mass, pile.count(), *count))
            })
            .collect();
        go(0, space.x - hand.beside.to_mm(), &kinds)
    }

    #[test]
    fn the_row_is_the_heaviest_there_is() {
        let design = keeping(vec![
            kind("carton", (330.0, 400.0, 250.0), 16.0, 3),
            kind("case", (127.0, 390.0, 260.0), 6.5, 4),
            kind("flat", (285.0, 400.0, 120.0), 5.7, 5),
            kind("too high", (100.0, 100.0, 900.0), 99.0, 5),
        ]);
        let counts: Vec<u32> = design.contents.iter().map(|kind| kind.count).collect();
        for width in [100.0, 200.0, 345.0, 470.0, 700.0, 1000.0, 1264.0] {
            for height in [150.0, 300.0, 500.0, 700.0] {
                let room = room(width, height, 418.0);
                for high in [HowHigh::AsTheRoom, HowHigh::One] {
                    let kg: f64 = heaviest(&room, &design, &counts, high).iter().map(|stack| stack.kg).sum();
                    let wanted = brute(&room, &design, &counts, high);
                    assert!((kg - wanted).abs() < 1e-9, "{width} × {height}: {kg} for {wanted}");
                }
            }
        }
    }

    #[test]
    fn stacks_stand_in_their_room_beside_each_other() {
        let design = keeping(vec![kind("case", (127.0, 390.0, 260.0), 6.5, 9), kind("file", (75.0, 180.0, 100.0), 3.2, 40)]);
        let room = room(640.0, 540.0, 418.0);
        let stacks = heaviest(&room, &design, &[9, 40], HowHigh::AsTheRoom);
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
    fn a_kind_stands_as_brings_most_weight_on_the_shelf() {
        let mut print = kind("print box", (440.0, 150.0, 80.0), 7.5, 20);
        print.lies = Lies::Turned;
        let stacks = heaviest(&room(640.0, 120.0, 460.0), &keeping(vec![print]), &[20], HowHigh::AsTheRoom);
        // As listed three behind each other and one beside: 3. Turned, 150 wide, four side by side: 4.
        assert_eq!(stacks.len(), 4, "{stacks:?}");
        assert!(stacks.iter().all(|stack| stack.pile.stance == Stance::Turned));
    }

    #[test]
    fn nothing_is_placed_twice() {
        let carton = kind("carton", (330.0, 400.0, 250.0), 16.0, 2);
        let mut model = Model::default();
        for level in [0.0, 400.0, 800.0] {
            let mut room = room(400.0, 350.0, 418.0);
            room.space.min.y += level;
            room.space.max.y += level;
            model.rooms.push(room);
        }
        let filled = top_heavy(&model, &keeping(vec![carton.clone()]));
        assert!(filled[0].is_empty() && filled[1].len() == 1 && filled[2].len() == 1, "from the top down: {filled:?}");
        let filled = top_heavy(&model, &keeping(vec![BoxKind { count: 5, ..carton }]));
        assert!(filled.iter().all(|stacks| stacks.len() == 1), "three rooms take three: {filled:?}");
    }
}
