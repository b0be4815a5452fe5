//! What a board brings at the most, by the lines on it.
//!
//! Whatever lies on a board, a line drawn along it meets pieces whose lengths together go into its length, and one drawn across it
//! meets pieces whose widths go into its width. So no layout brings more than all the lines of one way do when each is filled as
//! well as a length can be. These are the bars of G. Scheithauer, "LP-based bounds for the container and multi-container loading
//! problem", International Transactions in Operational Research 6 (1999).

use super::super::super::ground::{Area, Board};
use super::super::super::knapsack::{self, Ware};
use super::super::sort::Sort;

/// Parts into which the dearest piece of a line is divided for prices in whole numbers.
const PARTS: f64 = (1_u64 << 36) as f64;

/// What floats may have rounded off a sum, as a share of it: far above their error.
const SAFETY: f64 = 1e-9;

/// A strip of a board in which all lines are alike.
#[derive(Clone, Debug)]
struct Band {
    breadth: i64,
    /// Lengths of a line that pieces may lie on, between defects.
    rooms: Vec<i64>,
}

/// The lines of a board, both ways.
#[derive(Clone, Debug)]
pub(super) struct Lines {
    /// By the way along which the lines go.
    bands: [Vec<Band>; 2],
    /// The largest step that measures all pieces along each way.
    units: [i64; 2],
    /// Whether each sort lies on the board straight, and turned.
    lies: Vec<[bool; 2]>,
    /// How many of each sort the board takes at the most when nothing else is on it.
    pub copies: Vec<f64>,
}

/// What lines bring.
#[derive(Clone, Debug)]
pub(super) struct Brought {
    /// No layout on the board brings more.
    pub most: f64,
    /// How many of each sort the lines hold.
    pub amounts: Vec<f64>,
    pub steps: u64,
}

impl Lines {
    pub fn new(board: &Board, sorts: &[Sort], kerf: i64) -> Self {
        let lies = |size: [i64; 2]| board.place(Area { from: [0, 0], to: board.room }, size, kerf).next().is_some();
        let lies = sorts.iter().map(|sort| [lies(sort.size), sort.turn && lies([sort.size[1], sort.size[0]])]).collect();
        let units = [0, 1].map(|way| {
            let sizes = sorts.iter().flat_map(|sort| [sort.size[way], if sort.turn { sort.size[1 - way] } else { 0 }]);
            sizes.fold(0, gcd).max(1)
        });
        let mut lines = Self { bands: [Vec::new(), Vec::new()], units, lies, copies: Vec::new() };
        lines.bands = [0, 1].map(|way| if board.defects.is_empty() { lines.band(board, sorts, way) } else { bands(board, way, kerf) });
        lines.copies = (0..sorts.len()).map(|number| lines.most_alone(sorts, number)).collect();
        lines
    }

    /// Whether a sort lies on the board in any way.
    pub fn takes(&self, number: usize) -> bool {
        self.lies[number].contains(&true)
    }

    /// All of a board without defects. Pieces pushed to its near corner end where some of their widths add up to, so the rest of
    /// the width is of no use.
    fn band(&self, board: &Board, sorts: &[Sort], way: usize) -> Vec<Band> {
        let across = 1 - way;
        let unit = self.units[across];
        let wares: Vec<Ware> = self
            .lying(sorts)
            .map(|(number, turned)| {
                let size = sorts[number].extent(across, turned) / unit;
                Ware { number, size, price: size.unsigned_abs(), most: sorts[number].count }
            })
            .collect();
        let room = board.room[across] / unit;
        let reached = i64::try_from(knapsack::best(room, &wares, false).upper).unwrap_or(room).min(room);
        vec![Band { breadth: reached * unit, rooms: vec![board.room[way]] }]
    }

    /// Each sort in each position that it can have.
    fn lying<'a>(&'a self, sorts: &'a [Sort]) -> impl Iterator<Item = (usize, bool)> + 'a {
        let each = (0..sorts.len()).flat_map(|number| [(number, false), (number, true)]);
        each.filter(|&(number, turned)| self.lies[number][usize::from(turned)])
    }

    fn most_alone(&self, sorts: &[Sort], number: usize) -> f64 {
        let alone: Vec<f64> = (0..sorts.len()).map(|other| if other == number { 1.0 } else { 0.0 }).collect();
        let most = [0, 1].map(|way| self.bring(sorts, way, &alone).most);
        (most[0].min(most[1]) + 1e-6).floor().min(f64::from(sorts[number].count))
    }

    /// What the lines of one way bring by these prices, each of them 0 or more.
    pub fn bring(&self, sorts: &[Sort], way: usize, prices: &[f64]) -> Brought {
        let mut brought = Brought { most: 0.0, amounts: vec![0.0; sorts.len()], steps: 1 };
        let breadth = |(number, turned): (usize, bool)| sorts[number].extent(1 - way, turned) as f64;
        let density = |lying: (usize, bool)| prices[lying.0] / breadth(lying);
        let dearest = self.lying(sorts).map(density).fold(0.0, f64::max);
        if dearest <= 0.0 {
            return brought;
        }
        let scale = PARTS / dearest;
        let ware = |lying: (usize, bool)| {
            let (number, turned) = lying;
            Ware {
                number: 2 * number + usize::from(turned),
                size: sorts[number].extent(way, turned) / self.units[way],
                // Up, so that no line brings less here than it does.
                price: (density(lying) * scale).ceil() as u64,
                most: sorts[number].count,
            }
        };
        let wares: Vec<Ware> = self.lying(sorts).map(ware).collect();
        let mut known: Vec<(i64, knapsack::Best)> = Vec::new();
        for band in &self.bands[way] {
            for &room in &band.rooms {
                let room = room / self.units[way];
                let at = known.iter().position(|(known, _)| *known == room).unwrap_or_else(|| {
                    known.push((room, knapsack::best(room, &wares, false)));
                    known.len() - 1
                });
                let best = &known[at].1;
                brought.most += band.breadth as f64 * (best.upper as f64 / scale) * (1.0 + SAFETY);
                for &(ware, amount) in &best.amounts {
                    brought.amounts[ware / 2] += f64::from(amount) * band.breadth as f64 / breadth((ware / 2, ware % 2 == 1));
                }
            }
        }
        brought.steps += known.iter().map(|(_, best)| best.steps).sum::<u64>();
        brought
    }

    /// What the board brings at the most by these prices; with the work that it took.
    pub fn most(&self, sorts: &[Sort], prices: &[f64]) -> (f64, u64) {
        let alone: f64 = self.copies.iter().zip(prices).map(|(copies, price)| copies * price).sum();
        let [along, across] = [0, 1].map(|way| self.bring(sorts, way, prices));
        (along.most.min(across.most).min(alone * (1.0 + SAFETY)), along.steps + across.steps)
    }
}

/// The bands of a board with defects, by the defects that their lines meet.
fn bands(board: &Board, way: usize, kerf: i64) -> Vec<Band> {
    let across = 1 - way;
    // A piece carries its kerf on its far side, and the kerf may lie on a defect.
    let from = |defect: &Area| (defect.from[across] + kerf).max(0);
    let mut edges: Vec<i64> = board.defects.iter().flat_map(|defect| [from(defect), defect.to[across]]).collect();
    edges.retain(|edge| (1..board.room[across]).contains(edge));
    edges.extend([0, board.room[across]]);
    edges.sort_unstable();
    edges.dedup();
    let band = |edges: &[i64]| {
        let (near, far) = (edges[0], edges[1]);
        let meets = |defect: &&Area| from(defect) <= near && defect.to[across] >= far;
        let mut met: Vec<[i64; 2]> = board.defects.iter().filter(meets).map(|defect| [defect.from[way], defect.to[way]]).collect();
        met.sort_unstable();
        let mut rooms = Vec::new();
        let mut start = 0;
        for [from, to] in met {
            if from > start {
                rooms.push((from + kerf).min(board.room[way]) - start);
            }
            start = start.max(to);
        }
        rooms.push(board.room[way] - start);
        rooms.retain(|&room| room > 0);
        Band { breadth: far - near, rooms }
    };
    edges.windows(2).map(band).collect()
}

fn gcd(a: i64, b: i64) -> i64 {
    if b == 0 { a } else { gcd(b, a % b) }
}
