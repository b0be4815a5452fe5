//! Plates on points by finite elements: what the shelves on pins of the program are held against.
//!
//! Rectangles of bicubic shapes (Bogner, Fox and Schmit, 1965), whose lines go through every pin and along the edges of every load. It has nothing in common
//! with the polynomials of the program but the plate.

/// A plate on points under loads, N and mm.
pub struct Plate {
    pub size: [f64; 2],
    /// E·t³/12 along either axis, and G·t³/12.
    pub along: f64,
    pub across: f64,
    pub twist: f64,
    pub points: Vec<[f64; 2]>,
    /// From, to, and the force.
    pub loads: Vec<([f64; 2], [f64; 2], f64)>,
}

/// A plate that was solved.
pub struct Bent {
    lines: [Vec<f64>; 2],
    moved: Vec<f64>,
    /// What each point bears.
    pub bears: Vec<f64>,
}

/// No element is longer than this share of the plate.
const LENGTHS: f64 = 8.0;

/// The integrals of the products of the shapes of an element, none of them derived, once and twice (cubic Hermite shapes; in every book on finite elements).
fn element(h: f64) -> [[[f64; 4]; 4]; 3] {
    let none = [
        [156.0, 22.0 * h, 54.0, -13.0 * h],
        [22.0 * h, 4.0 * h * h, 13.0 * h, -3.0 * h * h],
        [54.0, 13.0 * h, 156.0, -22.0 * h],
        [-13.0 * h, -3.0 * h * h, -22.0 * h, 4.0 * h * h],
    ];
    let once = [
        [36.0, 3.0 * h, -36.0, 3.0 * h],
        [3.0 * h, 4.0 * h * h, -3.0 * h, -h * h],
        [-36.0, -3.0 * h, 36.0, -3.0 * h],
        [3.0 * h, -h * h, -3.0 * h, 4.0 * h * h],
    ];
    let twice = [
        [12.0, 6.0 * h, -12.0, 6.0 * h],
        [6.0 * h, 4.0 * h * h, -6.0 * h, 2.0 * h * h],
        [-12.0, -6.0 * h, 12.0, -6.0 * h],
        [6.0 * h, 2.0 * h * h, -6.0 * h, 4.0 * h * h],
    ];
    [(none, h / 420.0), (once, 1.0 / (30.0 * h)), (twice, 1.0 / h.powi(3))].map(|(all, by)| all.map(|row| row.map(|figure| figure * by)))
}

impl Plate {
    fn lines(&self, axis: usize) -> Vec<f64> {
        let stops = self.points.iter().map(|point| point[axis]);
        let edges = self.loads.iter().flat_map(|(from, to, _)| [from[axis], to[axis]]);
        let mut stops: Vec<f64> = stops.chain(edges).chain([0.0, self.size[axis]]).collect();
        stops.sort_by(f64::total_cmp);
        stops.dedup_by(|later, earlier| *later - *earlier < 1e-6);
        let longest = self.size[axis] / LENGTHS;
        let mut lines = vec![stops[0]];
        for pair in stops.windows(2) {
            let parts = ((pair[1] - pair[0]) / longest).ceil();
            lines.extend((1..=parts as usize).map(|part| pair[0] + (pair[1] - pair[0]) * part as f64 / parts));
        }
        lines
    }

    pub fn solve(&self) -> Bent {
        let lines = [self.lines(0), self.lines(1)];
        let [nx, ny] = [2 * lines[0].len(), 2 * lines[1].len()];
        let band = 4 * ny;
        let whole = |axis: usize| -> [Vec<Vec<f64>>; 3] {
            let count = 2 * lines[axis].len();
            let mut all = [0, 1, 2].map(|_| vec![vec![0.0; count]; count]);
            for (first, pair) in lines[axis].windows(2).enumerate() {
                for (own, all) in element(pair[1] - pair[0]).iter().zip(&mut all) {
                    for (i, row) in own.iter().enumerate() {
                        for (j, figure) in row.iter().enumerate() {
                            all[2 * first + i][2 * first + j] += figure;
                        }
                    }
                }
            }
            all
        };
        let ([x0, x1, x2], [y0, y1, y2]) = (whole(0), whole(1));
        // The lower half, each row from the diagonal back.
        let mut rows = vec![vec![0.0; band + 1]; nx * ny];
        for i in 0..nx {
            for k in i.saturating_sub(3)..=i {
                for j in 0..ny {
                    for l in j.saturating_sub(3)..(j + 4).min(ny) {
                        let (row, column) = (i * ny + j, k * ny + l);
                        if column <= row {
                            rows[row][row - column] = self.along * x2[i][k] * y0[j][l]
                                + self.across * x0[i][k] * y2[j][l]
                                + 4.0 * self.twist * x1[i][k] * y1[j][l];
                        }
                    }
                }
            }
        }
        let mut right = vec![0.0; nx * ny];
        for (from, to, force) in &self.loads {
            let spread = |axis: usize| {
                let mut all = vec![0.0; 2 * lines[axis].len()];
                for (first, pair) in lines[axis].windows(2).enumerate() {
                    let middle = pair[0].midpoint(pair[1]);
                    if (from[axis]..to[axis]).contains(&middle) {
                        let h = pair[1] - pair[0];
                        let share = [h / 2.0, h * h / 12.0, h / 2.0, -h * h / 12.0];
                        share.iter().enumerate().for_each(|(index, share)| all[2 * first + index] += share / (to[axis] - from[axis]));
                    }
                }
                all
            };
            let (x, y) = (spread(0), spread(1));
            for i in 0..nx {
                for j in 0..ny {
                    right[i * ny + j] += force * x[i] * y[j];
                }
            }
        }
        let (free, loads) = (rows.clone(), right.clone());
        let at = |axis: usize, place: f64| lines[axis].iter().position(|line| (line - place).abs() < 1e-6).expect("a line goes through it");
        let held: Vec<usize> = self.points.iter().map(|point| 2 * at(0, point[0]) * ny + 2 * at(1, point[1])).collect();
        for row in &held {
            rows[*row].fill(0.0);
            rows[*row][0] = 1.0;
            right[*row] = 0.0;
            for below in row + 1..(row + band + 1).min(rows.len()) {
                rows[below][below - row] = 0.0;
            }
        }
        let moved = solved(rows, right, band);
        let push = |row: usize| {
            let back = (0..=band.min(row)).map(|by| free[row][by] * moved[row - by]);
            let ahead = (row + 1..(row + band + 1).min(free.len())).map(|below| free[below][below - row] * moved[below]);
            loads[row] - back.chain(ahead).sum::<f64>()
        };
        let bears = held.iter().map(|row| push(*row)).collect();
        Bent { lines, moved, bears }
    }
}

/// By L·D·Lᵀ.
fn solved(mut rows: Vec<Vec<f64>>, mut right: Vec<f64>, band: usize) -> Vec<f64> {
    for row in 0..rows.len() {
        let first = row.saturating_sub(band);
        let mut own = std::mem::take(&mut rows[row]);
        for column in first..row {
            let above = &rows[column];
            let from = first.max(column.saturating_sub(band));
            let taken: f64 = (from..column).map(|inner| own[row - inner] * above[column - inner]).sum();
            // Still times D: it is divided when the row is whole.
            own[row - column] -= taken;
        }
        for column in first..row {
            let share = own[row - column] / rows[column][0];
            own[0] -= share * own[row - column];
            right[row] -= share * right[column];
            own[row - column] = share;
        }
        assert!(own[0] > 0.0, "it lies still");
        rows[row] = own;
    }
    for row in (0..rows.len()).rev() {
        right[row] /= rows[row][0];
        for below in row + 1..(row + band + 1).min(rows.len()) {
            right[row] -= rows[below][below - row] * right[below];
        }
    }
    right
}

impl Bent {
    /// How far a place is down, or how its shape is bent there when it is derived so many times each way.
    pub fn shape(&self, at: [f64; 2], times: [usize; 2]) -> f64 {
        let of = |axis: usize| {
            let lines = &self.lines[axis];
            let first = (0..lines.len() - 1).rfind(|index| lines[*index] <= at[axis]).unwrap_or(0);
            let h = lines[first + 1] - lines[first];
            let u = (at[axis] - lines[first]) / h;
            let shapes = match times[axis] {
                0 => [
                    1.0 - 3.0 * u * u + 2.0 * u.powi(3),
                    h * (u - 2.0 * u * u + u.powi(3)),
                    3.0 * u * u - 2.0 * u.powi(3),
                    h * (u.powi(3) - u * u),
                ],
                2 => [-6.0 + 12.0 * u, h * (-4.0 + 6.0 * u), 6.0 - 12.0 * u, h * (6.0 * u - 2.0)].map(|figure| figure / (h * h)),
                other => panic!("{other} is not wanted"),
            };
            (first, shapes)
        };
        let ((first, x), (second, y)) = (of(0), of(1));
        let ny = 2 * self.lines[1].len();
        let each = x.iter().enumerate().flat_map(|(i, x)| y.iter().enumerate().map(move |(j, y)| (i, j, x * y)));
        each.map(|(i, j, shape)| shape * self.moved[(2 * first + i) * ny + 2 * second + j]).sum()
    }
}

/// So narrow a plate is a beam, which they have exactly: 5/384·W·L³/(E·I), a quarter on each of its pins.
#[test]
fn the_elements_agree_with_a_beam() {
    let narrow = Plate {
        size: [900.0, 20.0],
        along: 6e6,
        across: 3e5,
        twist: 4e5,
        points: vec![[0.0, 0.0], [900.0, 0.0], [0.0, 20.0], [900.0, 20.0]],
        loads: vec![([0.0, 0.0], [900.0, 20.0], 100.0)],
    };
    let bent = narrow.solve();
    let beam = 5.0 / 384.0 * 100.0 * 900.0_f64.powi(3) / (6e6 * 20.0);
    assert!((bent.shape([450.0, 10.0], [0, 0]) / beam - 1.0).abs() < 2e-3, "{}", bent.shape([450.0, 10.0], [0, 0]));
    assert!(bent.bears.iter().all(|bears| (bears - 25.0).abs() < 1e-3), "{:?}", bent.bears);
}
