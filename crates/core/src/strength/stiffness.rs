//! The stiffness method: elements between all places where something changes, each under at most a uniform load.

use super::beam::BeamError;
use super::polynomial::Quartic;

/// A stretch of one stiffness between two neighbouring nodes, with what lies on it.
#[derive(Clone, Debug)]
pub(super) struct Element {
    /// mm.
    pub length: f64,
    /// E·I, N·mm².
    pub bending: f64,
    /// G·A′, N; infinite where shear is left out.
    pub shear: f64,
    /// Loads, by the distance from its beginning.
    pub loads: Vec<Burden>,
}

/// A load on an element, downward; at one place when `from` is `to`.
#[derive(Clone, Copy, Debug)]
pub(super) struct Burden {
    /// mm from the beginning of the element.
    pub from: f64,
    /// mm from the beginning of the element.
    pub to: f64,
    /// N, all together.
    pub force: f64,
}

/// Where elements meet.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Node {
    /// Whether it can't move up or down.
    pub held: bool,
    /// Whether it can't turn.
    pub clamped: bool,
}

/// What goes on in a piece of an element without a step in its load, by the distance from the beginning of the piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Along {
    /// From the beginning of the element, mm.
    pub from: f64,
    /// mm.
    pub length: f64,
    /// Deflection, mm.
    pub shape: Quartic,
    /// Bending moment, N·mm; positive where the lower face is stretched.
    pub moment: Quartic,
    /// Shear force, N: the slope of the moment.
    pub force: Quartic,
}

/// Four figures for the two ends of an element: deflection and turn at its beginning, then at its end.
type Ends<T> = [T; 4];

impl Element {
    /// 12·E·I/(G·A′·L²): how much shear softens it.
    fn soft(&self) -> f64 {
        12.0 * self.bending / (self.shear * self.length * self.length)
    }

    /// The stiffness of a Timoshenko element, exact for a stretch without load; without shear it is that of Euler and Bernoulli
    /// (J. S. Przemieniecki, Theory of Matrix Structural Analysis, 1968; from memory, checked against the handbook's coefficients).
    fn stiffness(&self) -> Ends<Ends<f64>> {
        let (l, soft) = (self.length, self.soft());
        let k = self.bending / (l * l * l * (1.0 + soft));
        let (near, far) = ((4.0 + soft) * l * l, (2.0 - soft) * l * l);
        [[12.0, 6.0 * l, -12.0, 6.0 * l], [6.0 * l, near, -6.0 * l, far], [-12.0, -6.0 * l, 12.0, -6.0 * l], [6.0 * l, far, -6.0 * l, near]]
            .map(|row| row.map(|figure| k * figure))
    }

    /// What the loads on it do to its ends: each counts by the shape that the beam takes when that end alone moves (reciprocity).
    fn loads(&self) -> Ends<f64> {
        let (l, soft) = (self.length, self.soft());
        let shapes = [
            [1.0 + soft, -soft, -3.0, 2.0],
            [0.0, l * (1.0 + soft / 2.0), -l * (2.0 + soft / 2.0), l],
            [0.0, soft, 3.0, -2.0],
            [0.0, -l * soft / 2.0, l * (soft / 2.0 - 1.0), l],
        ];
        shapes.map(|[a, b, c, d]| {
            let shape = Quartic([a, b, c, d, 0.0].map(|figure| figure / (1.0 + soft)));
            self.loads.iter().map(|load| load.force * shape.mean(load.from / l, load.to / l)).sum()
        })
    }

    /// From what its ends do back to what goes on between them, piece by piece.
    #[allow(clippy::float_cmp, reason = "a piece begins at the very figure of the load that breaks it")]
    fn along(&self, ends: Ends<f64>) -> Vec<Along> {
        let (stiffness, loads) = (self.stiffness(), self.loads());
        let pull = |end: usize| stiffness[end].iter().zip(ends).map(|(k, moved)| k * moved).sum::<f64>() - loads[end];
        let mut state = State { moved: ends[0], turned: ends[1], moment: pull(1), force: -pull(0) };
        let stops = self.stops();
        let mut pieces = Vec::with_capacity(stops.len() - 1);
        for pair in stops.windows(2) {
            let (from, length) = (pair[0], pair[1] - pair[0]);
            state.force -= self.loads.iter().filter(|load| load.is_point() && load.from == from).map(|load| load.force).sum::<f64>();
            let piece = self.piece(&state, from, length);
            state = State {
                moved: piece.shape.at(length),
                turned: state.turned_after(self.bending, piece.moment, length),
                moment: piece.moment.at(length),
                force: piece.force.at(length),
            };
            pieces.push(piece);
        }
        pieces
    }

    /// M = M₁ + V₁x − qx²/2; the turn is −∫M/EI, and the deflection ∫(turn + V/GA′).
    fn piece(&self, state: &State, from: f64, length: f64) -> Along {
        let middle = from + length / 2.0;
        let here = self.loads.iter().filter(|load| !load.is_point() && load.from < middle && middle < load.to);
        let q: f64 = here.map(|load| load.force / (load.to - load.from)).sum();
        let (moment, force) = (state.moment, state.force);
        let by_shear = Quartic([0.0, force / self.shear, -q / (2.0 * self.shear), 0.0, 0.0]);
        let twice = 2.0 * self.bending;
        let by_bending = Quartic([state.moved, state.turned, -moment / twice, -force / (3.0 * twice), q / (12.0 * twice)]);
        Along {
            from,
            length,
            shape: by_bending.plus(by_shear),
            moment: Quartic([moment, force, -q / 2.0, 0.0, 0.0]),
            force: Quartic([force, -q, 0.0, 0.0, 0.0]),
        }
    }

    /// Its beginning, its end, and where its load makes a step between them.
    fn stops(&self) -> Vec<f64> {
        let mut stops: Vec<f64> = self.loads.iter().flat_map(|load| [load.from, load.to]).chain([0.0, self.length]).collect();
        stops.sort_by(f64::total_cmp);
        stops.dedup();
        stops
    }
}

impl Burden {
    fn is_point(&self) -> bool {
        self.to <= self.from
    }
}

/// What a beam does at a place.
struct State {
    moved: f64,
    turned: f64,
    moment: f64,
    force: f64,
}

impl State {
    /// The turn of its sections so far on.
    fn turned_after(&self, bending: f64, moment: Quartic, length: f64) -> f64 {
        self.turned - moment.mean(0.0, length) * length / bending
    }
}

/// Solves a row of elements between nodes, one node more than elements; gives the pieces of each element.
///
/// # Errors
///
/// When nothing holds the beam in its place.
pub(super) fn solve(nodes: &[Node], elements: &[Element]) -> Result<Vec<Vec<Along>>, BeamError> {
    let mut system = Banded::new(2 * nodes.len());
    for (first, element) in elements.iter().enumerate() {
        let (stiffness, loads) = (element.stiffness(), element.loads());
        for (row, (figures, load)) in stiffness.iter().zip(loads).enumerate() {
            system.right[2 * first + row] += load;
            for (column, figure) in figures.iter().enumerate().take(row + 1) {
                system.add(2 * first + row, 2 * first + column, *figure);
            }
        }
    }
    for (index, node) in nodes.iter().enumerate() {
        for (freedom, fixed) in [(2 * index, node.held), (2 * index + 1, node.clamped)] {
            if fixed {
                system.fix(freedom);
            }
        }
    }
    let moved = system.solve().ok_or(BeamError::FreeToMove)?;
    Ok(elements
        .iter()
        .zip(moved.windows(4).step_by(2))
        .map(|(element, ends)| element.along([ends[0], ends[1], ends[2], ends[3]]))
        .collect())
}

/// How far below the diagonal a figure may stand.
const BAND: usize = 4;

/// A symmetric system of equations of which only a narrow band is not zero: its lower half, a row an equation.
struct Banded {
    rows: Vec<[f64; BAND]>,
    right: Vec<f64>,
}

impl Banded {
    fn new(count: usize) -> Banded {
        Banded { rows: vec![[0.0; BAND]; count], right: vec![0.0; count] }
    }

    fn add(&mut self, row: usize, column: usize, figure: f64) {
        self.rows[row][row - column] += figure;
    }

    /// Holds one unknown at zero.
    fn fix(&mut self, row: usize) {
        self.rows[row] = [1.0, 0.0, 0.0, 0.0];
        self.right[row] = 0.0;
        for below in row + 1..(row + BAND).min(self.rows.len()) {
            self.rows[below][below - row] = 0.0;
        }
    }

    /// By L·D·Lᵀ; nothing where a part is free to move.
    fn solve(mut self) -> Option<Vec<f64>> {
        for row in 0..self.rows.len() {
            let whole = self.rows[row][0];
            for column in row.saturating_sub(BAND - 1)..row {
                for inner in row.saturating_sub(BAND - 1)..column {
                    self.rows[row][row - column] -= self.rows[row][row - inner] * self.rows[column][column - inner] * self.rows[inner][0];
                }
                self.rows[row][row - column] /= self.rows[column][0];
                self.rows[row][0] -= self.rows[row][row - column].powi(2) * self.rows[column][0];
                self.right[row] -= self.rows[row][row - column] * self.right[column];
            }
            if self.rows[row][0].is_nan() || self.rows[row][0] <= whole * 1e-14 {
                return None;
            }
        }
        for row in (0..self.rows.len()).rev() {
            self.right[row] /= self.rows[row][0];
            for below in row + 1..(row + BAND).min(self.rows.len()) {
                self.right[row] -= self.rows[below][below - row] * self.right[below];
            }
        }
        Some(self.right)
    }
}
