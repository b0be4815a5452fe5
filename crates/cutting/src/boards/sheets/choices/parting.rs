//! Prices that show that the boards of a choice do not bring what is wanted.
//!
//! A layout obeys the lines of both ways at once, and there are never more copies of a piece on a board than it takes alone. So each
//! piece's price may be parted among these three, on each board as suits it best: the board brings no more than the lines along
//! bring by their parts, the lines across by theirs, and the copies by theirs. A linear programme finds the parts; a pattern of
//! lines becomes one of its rows when it is found to bring more than the programme knew of. What it comes to is worked out anew with
//! what the lines truly bring, so that the programme's tolerance does no harm.

use microlp::{ComparisonOp, OptimizationDirection, Problem, Solution, Variable};

use super::super::sort::Sort;
use super::cheapest::Need;
use super::lines::Lines;

/// By how much lines must bring more than the programme knew of.
const TOLERANCE: f64 = 1e-7;

/// Rounds at most.
const MOST_ROUNDS: u32 = 400;

/// What a round came to.
pub(super) enum Outcome {
    /// There is more to be learnt.
    GoesOn,
    /// A need that the choice does not meet.
    Unmet(Need),
    /// The choice brings what is wanted, as far as lines can tell.
    Met,
}

/// The programme of one choice.
pub(super) struct Parting {
    choice: Vec<u32>,
    price: Vec<Variable>,
    boards: Vec<Parts>,
    solution: Option<Solution>,
    rows: u64,
    rounds: u32,
}

/// The variables of one board of the choice.
struct Parts {
    board: usize,
    /// What the lines of each way bring.
    brings: [Variable; 2],
    /// The part of each sort's price that falls to the lines of each way, and to the copies; none where it doesn't lie there.
    part: Vec<Option<[Variable; 3]>>,
}

impl Parting {
    /// Variables that the programme of a choice has.
    pub fn variables(choice: &[u32], sorts: &[Sort]) -> usize {
        sorts.len() * (1 + 3 * choice.iter().filter(|&&count| count > 0).count())
    }

    pub fn new(choice: &[u32], sorts: &[Sort], lines: &[Lines]) -> Option<Self> {
        let number: u32 = choice.iter().sum();
        let free = (0.0, f64::INFINITY);
        let mut problem = Problem::new(OptimizationDirection::Minimize);
        let price: Vec<Variable> = sorts.iter().map(|_| problem.add_var(0.0, free)).collect();
        let all: Vec<(Variable, f64)> = price.iter().zip(sorts).map(|(&price, sort)| (price, f64::from(sort.count))).collect();
        problem.add_constraint(all.as_slice(), ComparisonOp::Eq, f64::from(number));
        let mut boards = Vec::new();
        for (board, &count) in choice.iter().enumerate().filter(|(_, count)| **count > 0) {
            let count = f64::from(count);
            let brings = [0, 1].map(|_| problem.add_var(count, free));
            let mut part = Vec::new();
            for (sort, &price) in price.iter().enumerate() {
                if !lines[board].takes(sort) {
                    part.push(None);
                    continue;
                }
                let copies = lines[board].copies[sort];
                let parts = [problem.add_var(0.0, free), problem.add_var(0.0, free), problem.add_var(count * copies, free)];
                let terms: Vec<(Variable, f64)> = parts.iter().map(|&part| (part, -1.0)).chain([(price, 1.0)]).collect();
                problem.add_constraint(terms.as_slice(), ComparisonOp::Le, 0.0);
                part.push(Some(parts));
            }
            boards.push(Parts { board, brings, part });
        }
        let mut parting = Self { choice: choice.to_vec(), price, boards, solution: None, rows: 0, rounds: 0 };
        for (row, bound) in parting.first_rows(sorts, lines) {
            problem.add_constraint(row.as_slice(), ComparisonOp::Le, bound);
            parting.rows += 1;
        }
        parting.solution = Some(problem.solve().ok()?.into_solution().ok()?);
        Some(parting)
    }

    /// Lines of one sort alone, and those that bring most by area.
    fn first_rows(&self, sorts: &[Sort], lines: &[Lines]) -> Vec<(Vec<(Variable, f64)>, f64)> {
        let area: Vec<f64> = sorts.iter().map(Sort::area).collect();
        let alone = (0..sorts.len()).map(|number| {
            let mut prices = vec![0.0; sorts.len()];
            prices[number] = 1.0;
            prices
        });
        let prices: Vec<Vec<f64>> = std::iter::once(area).chain(alone).collect();
        let mut rows = Vec::new();
        for parts in &self.boards {
            for way in [0, 1] {
                rows.extend(prices.iter().map(|prices| (parts.row(way, &lines[parts.board].bring(sorts, way, prices).amounts), 0.0)));
            }
        }
        rows.retain(|(row, _)| row.len() > 1);
        rows
    }

    /// One round; with the work that it took.
    pub fn round(&mut self, sorts: &[Sort], lines: &[Lines]) -> (Outcome, u64) {
        let Some(solution) = self.solution.take() else {
            return (Outcome::Met, 1);
        };
        self.rounds += 1;
        let figure = |variable: Variable| solution.var_value(variable).max(0.0);
        let mut price: Vec<f64> = self.price.iter().map(|&price| figure(price)).collect();
        let mut work = 1;
        let mut missing: Vec<Vec<(Variable, f64)>> = Vec::new();
        let mut brings: Vec<(usize, f64)> = Vec::new();
        for parts in &self.boards {
            let lines = &lines[parts.board];
            let part = |way: usize| -> Vec<f64> { parts.part.iter().map(|part| part.map_or(0.0, |part| figure(part[way]))).collect() };
            let [along, across, alone] = [part(0), part(1), part(2)];
            for (sort, price) in price.iter_mut().enumerate().filter(|(sort, _)| lines.takes(*sort)) {
                *price = price.min(along[sort] + across[sort] + alone[sort]);
            }
            let mut most: f64 = lines.copies.iter().zip(&alone).map(|(copies, part)| copies * part).sum();
            for (way, part) in [along, across].iter().enumerate() {
                let brought = lines.bring(sorts, way, part);
                work += brought.steps;
                most += brought.most;
                if brought.most > figure(parts.brings[way]) + TOLERANCE {
                    missing.push(parts.row(way, &brought.amounts));
                }
            }
            brings.push((parts.board, most));
        }
        let wanted: f64 = price.iter().zip(sorts).map(|(price, sort)| price * f64::from(sort.count)).sum();
        let brought: f64 = brings.iter().map(|&(board, most)| most * f64::from(self.choice[board])).sum();
        if brought < wanted * (1.0 - 1e-6) {
            let (mut need, more) = need(sorts, lines, &price);
            work += more;
            for (board, most) in brings {
                need.brings[board] = need.brings[board].min(most * (1.0 + 1e-9));
            }
            return (if need.is_met(&self.choice) { Outcome::Met } else { Outcome::Unmet(need) }, work);
        }
        let hopeless = solution.objective() >= wanted * (1.0 - 1e-6);
        if missing.is_empty() || hopeless || self.rounds > MOST_ROUNDS {
            return (Outcome::Met, work);
        }
        let variables = self.boards.iter().map(|parts| parts.part.len()).sum::<usize>() as u64;
        let mut next = Some(solution);
        for row in missing {
            self.rows += 1;
            work += 4 * (self.rows + variables);
            next = next.and_then(|next| next.add_constraint(row.as_slice(), ComparisonOp::Le, 0.0).ok()?.into_solution().ok());
        }
        self.solution = next;
        (Outcome::GoesOn, work)
    }
}

impl Parts {
    fn row(&self, way: usize, amounts: &[f64]) -> Vec<(Variable, f64)> {
        let terms = self.part.iter().zip(amounts).filter(|(_, amount)| **amount > 0.0);
        let terms = terms.filter_map(|(part, &amount)| part.map(|part| (part[way], amount)));
        terms.chain([(self.brings[way], -1.0)]).collect()
    }
}

/// What prices ask of a choice; with the work that it took.
pub(super) fn need(sorts: &[Sort], lines: &[Lines], prices: &[f64]) -> (Need, u64) {
    let wanted = prices.iter().zip(sorts).map(|(price, sort)| price * f64::from(sort.count)).sum();
    let (brings, work): (Vec<f64>, Vec<u64>) = lines.iter().map(|lines| lines.most(sorts, prices)).unzip();
    (Need { wanted, brings }, work.iter().sum())
}
