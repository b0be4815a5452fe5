//! A plate that lies on points, as a solid shelf on its pins.
//!
//! Ritz's method: the shape is a sum of products of Legendre polynomials, the one of least energy that does not sink where it is held (Lagrange).
//! What is found is a hair too stiff, as always with Ritz: with ten polynomials each way the middle of a shelf on four pins by less than half a percent,
//! the lines between its pins by less than two (against twenty each way, and against finite elements in the tests).

use super::linear::solve;
use thiserror::Error;

/// Polynomials each way, of degree 0 to 9.
const TERMS: usize = 10;
const SHAPES: usize = TERMS * TERMS;

/// A thin rectangular plate, as stiff along its first axis as along its second or not; places are from one corner, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Plate {
    /// How long it is along each axis, mm; more than 0.
    pub size: [f64; 2],
    /// How stiff it is.
    pub stiff: Stiffness,
    /// Where it is held, mm; at least three points that are in no line.
    pub points: Vec<[f64; 2]>,
}

/// How stiff a plate is, N·mm²/mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stiffness {
    /// Bent along its first axis: E·t³/12.
    pub along: f64,
    /// Bent along its second axis.
    pub across: f64,
    /// What bending one way gives to the other, by Poisson's ratios; 0 leaves it out, which lets a plate that hangs through both ways sag further.
    pub coupling: f64,
    /// Twisted: G·t³/12.
    pub twist: f64,
}

/// A force that is spread evenly over a rectangle, downward.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Patch {
    /// Its least corner, mm.
    pub from: [f64; 2],
    /// Its greatest corner, mm.
    pub to: [f64; 2],
    /// N in all.
    pub force: f64,
}

/// Why a plate can't be solved.
#[derive(Clone, Copy, Debug, Error, PartialEq, Eq)]
pub enum PlateError {
    /// A size, a stiffness or a load is no figure above 0.
    #[error("a plate needs a length, a width and a stiffness above 0")]
    NoPlate,
    /// It rocks.
    #[error("fewer than three points that stand in no line hold the plate")]
    FreeToMove,
}

/// A plate under a load: its shape and what its points bear.
#[derive(Clone, Debug, PartialEq)]
pub struct BentPlate {
    size: [f64; 2],
    stiff: Stiffness,
    /// How much there is of each product of polynomials, mm, by rows of the first axis.
    shape: Vec<f64>,
    bears: Vec<f64>,
}

impl Plate {
    /// How it bends under each of some loads that lie on it together. A point from which it would lift off under all of them holds nothing.
    ///
    /// # Errors
    /// When it is no plate, or nothing keeps it from rocking.
    pub fn solve<const N: usize>(&self, loads: [&[Patch]; N]) -> Result<[BentPlate; N], PlateError> {
        let Stiffness { along, across, twist, .. } = self.stiff;
        let mut figures = self.size.iter().chain([&along, &across, &twist]);
        if figures.any(|figure| !(figure.is_finite() && *figure > 0.0)) {
            return Err(PlateError::NoPlate);
        }
        let mut holds = vec![true; self.points.len()];
        loop {
            let bent = self.held(&holds, &loads)?;
            let bears = |point: usize| bent.iter().map(|bent| bent.bears.get(point).copied().unwrap_or_default()).sum::<f64>();
            let lifts = (0..holds.len()).filter(|point| bears(*point) < -1e-9).min_by(|a, b| bears(*a).total_cmp(&bears(*b)));
            match lifts {
                // On three points it lies by statics alone: what lifts off there tips.
                Some(point) if holds.iter().filter(|holds| **holds).count() > 3 => holds[point] = false,
                Some(_) | None => return Ok(bent),
            }
        }
    }

    fn held<const N: usize>(&self, holds: &[bool], loads: &[&[Patch]; N]) -> Result<[BentPlate; N], PlateError> {
        let points: Vec<[f64; 2]> = self.points.iter().zip(holds).filter(|(_, holds)| **holds).map(|(point, _)| *point).collect();
        let count = SHAPES + points.len();
        // Rows of the system, each with its right sides at its end.
        let mut rows = vec![vec![0.0; count + N]; count];
        let scale = self.fill(&mut rows);
        for (index, point) in points.iter().enumerate() {
            for (shape, value) in self.shapes(*point, [0, 0]).into_iter().enumerate() {
                rows[SHAPES + index][shape] = value;
                rows[shape][SHAPES + index] = value;
            }
        }
        for (case, patches) in loads.iter().enumerate() {
            for patch in *patches {
                for (shape, value) in self.means(patch).into_iter().enumerate() {
                    rows[shape][count + case] += value * patch.force / scale;
                }
            }
        }
        let solved = solve(rows, count).ok_or(PlateError::FreeToMove)?;
        Ok(std::array::from_fn(|case| {
            let column = |row: usize| solved.get(row).and_then(|row| row.get(count + case)).copied().unwrap_or_default();
            let mut found = (SHAPES..count).map(column);
            // The multipliers are what the points push up with.
            let bears = holds.iter().map(|holds| if *holds { found.next().unwrap_or_default() * scale } else { 0.0 }).collect();
            BentPlate { size: self.size, stiff: self.stiff, shape: (0..SHAPES).map(column).collect(), bears }
        }))
    }

    /// Writes the energy of bending into a system, divided by what is given back, N/mm.
    fn fill(&self, rows: &mut [Vec<f64>]) -> f64 {
        let [a, b] = self.size;
        let Stiffness { along, across, coupling, twist } = self.stiff;
        let scale = along * b / a.powi(3);
        let all = legendre();
        let energy = |length: f64, [p, q]: [usize; 2], [i, j]: [usize; 2]| {
            let each = product(&derived(&all[i], p), &derived(&all[j], q));
            each * (2.0 / length).powi(i32::try_from(p + q).unwrap_or(0)) * length / 2.0
        };
        let table = |length: f64, ways: [usize; 2]| -> Vec<f64> {
            (0..TERMS).flat_map(|i| (0..TERMS).map(move |j| [i, j])).map(|pair| energy(length, ways, pair)).collect()
        };
        let of = |length: f64| [[2, 2], [0, 0], [1, 1], [2, 0], [0, 2]].map(|ways| table(length, ways));
        let ([x22, x00, x11, x20, x02], [y22, y00, y11, y20, y02]) = (of(a), of(b));
        for (row, figures) in rows.iter_mut().enumerate().take(SHAPES) {
            for (column, figure) in figures.iter_mut().enumerate().take(SHAPES) {
                let x = row / TERMS * TERMS + column / TERMS;
                let y = row % TERMS * TERMS + column % TERMS;
                let coupled = coupling * (x20[x] * y02[y] + x02[x] * y20[y]);
                *figure = (along * x22[x] * y00[y] + across * x00[x] * y22[y] + coupled + 4.0 * twist * x11[x] * y11[y]) / scale;
            }
        }
        scale
    }

    /// Every product of polynomials at a place, each factor so many times derived.
    fn shapes(&self, at: [f64; 2], times: [usize; 2]) -> Vec<f64> {
        shapes(self.size, at, times)
    }

    /// The mean of every product over a rectangle.
    fn means(&self, patch: &Patch) -> Vec<f64> {
        let all = legendre();
        let of = |axis: usize| {
            let [from, to] = [patch.from[axis], patch.to[axis]].map(|at| 2.0 * at / self.size[axis] - 1.0);
            all.each_ref().map(|series| mean(series, from, to))
        };
        let (along, across) = (of(0), of(1));
        along.iter().flat_map(|x| across.iter().map(move |y| x * y)).collect()
    }
}

impl BentPlate {
    /// How far a place is below the points that hold the plate, mm.
    pub fn sag(&self, at: [f64; 2]) -> f64 {
        self.summed(at, [0, 0])
    }

    /// The moment at a place by which it is bent along an axis, 0 or 1, N·mm to the mm; positive where its lower face is stretched.
    pub fn moment(&self, at: [f64; 2], axis: usize) -> f64 {
        let [along, across] = [self.summed(at, [2, 0]), self.summed(at, [0, 2])];
        let Stiffness { along: stiff, across: other, coupling, .. } = self.stiff;
        if axis == 0 { -(stiff * along + coupling * across) } else { -(other * across + coupling * along) }
    }

    /// What each point bears, upward, N, in the order of the points.
    pub fn bears(&self) -> &[f64] {
        &self.bears
    }

    fn summed(&self, at: [f64; 2], times: [usize; 2]) -> f64 {
        self.shape.iter().zip(shapes(self.size, at, times)).map(|(much, shape)| much * shape).sum()
    }
}

/// A polynomial by its powers, on the way from −1 to 1.
type Series = [f64; TERMS];

/// Legendre's polynomials, by Bonnet's recursion.
fn legendre() -> [Series; TERMS] {
    let mut all = [[0.0; TERMS]; TERMS];
    (all[0][0], all[1][1]) = (1.0, 1.0);
    for degree in 1..TERMS - 1 {
        let n = degree as f64;
        for power in 0..TERMS {
            let lower = if power > 0 { all[degree][power - 1] } else { 0.0 };
            all[degree + 1][power] = ((2.0 * n + 1.0) * lower - n * all[degree - 1][power]) / (n + 1.0);
        }
    }
    all
}

fn derived(series: &Series, times: usize) -> Series {
    (0..times).fold(*series, |series, _| {
        let mut slope = [0.0; TERMS];
        for power in 1..TERMS {
            slope[power - 1] = series[power] * power as f64;
        }
        slope
    })
}

fn value(series: &Series, at: f64) -> f64 {
    series.iter().rev().fold(0.0, |sum, figure| sum * at + figure)
}

/// The integral of a product from −1 to 1.
fn product(one: &Series, other: &Series) -> f64 {
    let mut sum = 0.0;
    for (i, a) in one.iter().enumerate() {
        for (j, b) in other.iter().enumerate() {
            if (i + j) % 2 == 0 {
                sum += a * b * 2.0 / (i + j + 1) as f64;
            }
        }
    }
    sum
}

/// The mean between two places; the value where they are one.
fn mean(series: &Series, from: f64, to: f64) -> f64 {
    if to - from < 1e-9 {
        return value(series, from);
    }
    let mut whole = 0.0;
    for (power, figure) in series.iter().enumerate() {
        let over = (power + 1) as f64;
        let [low, high] = [from, to].map(|at| at.powi(i32::try_from(power + 1).unwrap_or(0)));
        whole += figure * (high - low) / over;
    }
    whole / (to - from)
}

fn shapes(size: [f64; 2], at: [f64; 2], times: [usize; 2]) -> Vec<f64> {
    let all = legendre();
    let of = |axis: usize| {
        let (length, times) = (size[axis], times[axis]);
        let by = (2.0 / length).powi(i32::try_from(times).unwrap_or(0));
        all.each_ref().map(|series| by * value(&derived(series, times), 2.0 * at[axis] / length - 1.0))
    };
    let (along, across) = (of(0), of(1));
    along.iter().flat_map(|x| across.iter().map(move |y| x * y)).collect()
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;

    use super::*;

    fn even(size: [f64; 2], force: f64) -> Vec<Patch> {
        vec![Patch { from: [0.0; 2], to: size, force }]
    }

    /// A square plate held at its corners, Poisson's ratio 0.25, under an even load q: 0.0257·q·a⁴/D in its middle, where it is bent by 0.1109·q·a²
    /// (Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, plates supported at the corners; from memory).
    #[test]
    fn a_square_on_its_corners_is_that_of_the_handbook() {
        let stiff = Stiffness { along: 5e5, across: 5e5, coupling: 0.25 * 5e5, twist: 0.375 * 5e5 };
        let points = vec![[0.0, 0.0], [400.0, 0.0], [0.0, 400.0], [400.0, 400.0]];
        let plate = Plate { size: [400.0; 2], stiff, points };
        let [bent] = plate.solve([&even([400.0; 2], 200.0)]).expect("it lies still");
        let q = 200.0 / 400.0_f64.powi(2);
        assert_relative_eq!(bent.sag([200.0; 2]), 0.0257 * q * 400.0_f64.powi(4) / 5e5, max_relative = 3e-3);
        for axis in [0, 1] {
            assert_relative_eq!(bent.moment([200.0; 2], axis), 0.1109 * q * 400.0_f64.powi(2), max_relative = 3e-3);
        }
        for bears in bent.bears() {
            assert_relative_eq!(*bears, 50.0, max_relative = 1e-6);
        }
    }

    /// So narrow a plate is a beam: 5/384·W·L³/(E·I), and a quarter of the load on each pin.
    #[test]
    fn a_narrow_one_is_a_beam() {
        let (length, width) = (900.0, 30.0);
        let stiff = Stiffness { along: 12_000.0 * 486.0, across: 600.0 * 486.0, coupling: 0.0, twist: 750.0 * 486.0 };
        let points = vec![[0.0, 0.0], [length, 0.0], [0.0, width], [length, width]];
        let [bent] = Plate { size: [length, width], stiff, points }.solve([&even([length, width], 100.0)]).expect("it lies still");
        let beam = 5.0 / 384.0 * 100.0 * length.powi(3) / (stiff.along * width);
        assert_relative_eq!(bent.sag([450.0, 15.0]), beam, max_relative = 2e-3);
    }

    /// What the pins bear is the load and its moments (statics); of a load in a corner the pin across may lift off, and then bears nothing.
    #[test]
    fn what_its_points_bear_is_the_load() {
        let stiff = Stiffness { along: 1e7, across: 5e5, coupling: 0.0, twist: 6e5 };
        let points = vec![[5.0, 40.0], [495.0, 40.0], [5.0, 260.0], [495.0, 260.0]];
        let plate = Plate { size: [500.0, 300.0], stiff, points: points.clone() };
        for (from, to) in [([100.0, 60.0], [200.0, 200.0]), ([0.0, 200.0], [60.0, 300.0])] {
            let [load, own] = plate.solve([&[Patch { from, to, force: 80.0 }], &even([500.0, 300.0], 3.0)]).expect("it lies still");
            let bears: Vec<f64> = load.bears().iter().zip(own.bears()).map(|(load, own)| load + own).collect();
            assert!(bears.iter().all(|bears| *bears > -1e-6), "{bears:?}");
            let moment = |axis: usize| points.iter().zip(&bears).map(|(point, bears)| point[axis] * bears).sum::<f64>();
            assert_relative_eq!(bears.iter().sum::<f64>(), 83.0, max_relative = 1e-6);
            for axis in [0, 1] {
                let middle = from[axis].midpoint(to[axis]);
                assert_relative_eq!(moment(axis), 80.0 * middle + 3.0 * [250.0, 150.0][axis], max_relative = 1e-6);
            }
        }
    }

    #[test]
    fn what_rocks_is_told() {
        let stiff = Stiffness { along: 1e7, across: 5e5, coupling: 0.0, twist: 6e5 };
        let plate = |points| Plate { size: [500.0, 300.0], stiff, points };
        assert_eq!(plate(vec![[5.0, 40.0], [495.0, 40.0]]).solve([&even([500.0, 300.0], 3.0)]), Err(PlateError::FreeToMove));
        let none = Plate { stiff: Stiffness { along: 0.0, ..stiff }, ..plate(Vec::new()) };
        assert_eq!(none.solve([&[]]), Err(PlateError::NoPlate));
    }
}
