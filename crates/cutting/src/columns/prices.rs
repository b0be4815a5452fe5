//! Sharp prices by linear programming over patterns, which are found as the prices ask for them.
//!
//! `microlp` gives no duals, so the dual is what is solved: prices are its variables, patterns its rows. Its figures are
//! only a hint. They are rounded to whole numbers, and what a column can bring by those is worked out exactly or bounded
//! from above, so that the bound holds whatever the solver's tolerance is.

use microlp::{ComparisonOp, OptimizationDirection, Problem, Solution, Variable};

use super::bound::{cost_scale, worth_scale};
use super::ceiling::Ceiling;
use super::climb::Rows;
use super::effort::Meter;
use super::fill::fill;
use super::pattern::Pattern;
use super::search::Prices;
use super::task::{Question, Task};

/// More kinds than this are not priced this way.
const MOST_KINDS: usize = 300;

/// Rounds of pricing at most.
const MOST_ROUNDS: usize = 400;

/// In how many bands columns are begun when a pattern is looked for.
const BANDS: u32 = 12;

/// Above what a pattern must be worth, in parts, to count as missing.
const TOLERANCE: f64 = 1e-7;

/// The programme as far as its patterns are known.
pub(super) struct Pricing<'a> {
    task: &'a Task<'a>,
    question: Question,
    /// Parts of a unit of worth or cost.
    scale: u64,
    /// The greatest worth or cost: the programme's unit.
    unit: f64,
    solution: Solution,
    price: Vec<Variable>,
    /// What a column of each shape is worth more than it costs; none for shapes that there are enough of.
    rent: Vec<Option<Variable>>,
    /// The patterns found.
    pub patterns: Vec<Pattern>,
}

impl<'a> Pricing<'a> {
    /// Begins with patterns that are known; together they must hold each kind at least once.
    pub fn new(task: &'a Task<'a>, question: Question, known: &[Pattern]) -> Option<Self> {
        let kinds = &task.kinds;
        if kinds.len() > MOST_KINDS {
            return None;
        }
        let scale = if question == Question::Place { worth_scale(task) } else { cost_scale(task) };
        let greatest = match question {
            Question::Place => kinds.iter().map(|kind| kind.worth).max(),
            Question::Cover => task.shapes.iter().map(|shape| shape.cost).max(),
        };
        let unit = greatest.filter(|&greatest| greatest > 0)? as f64;
        let plenty: u32 = task.counts().iter().sum();
        let (direction, sign) = match question {
            Question::Place => (OptimizationDirection::Minimize, 1.0),
            Question::Cover => (OptimizationDirection::Maximize, -1.0),
        };
        let mut problem = Problem::new(direction);
        // No cover is worth more than all columns that it could take, so no price need be higher.
        let dearest = task.shapes.iter().map(|shape| shape.cost as f64 / unit * f64::from(shape.count)).sum::<f64>() + 1.0;
        let price = kinds
            .iter()
            .map(|kind| {
                let most = if question == Question::Place { kind.worth as f64 / unit } else { dearest };
                problem.add_var(f64::from(kind.count), (0.0, most))
            })
            .collect();
        let rent = task
            .shapes
            .iter()
            .map(|shape| {
                let scarce = question == Question::Place || shape.count < plenty;
                scarce.then(|| problem.add_var(sign * f64::from(shape.count), (0.0, f64::INFINITY)))
            })
            .collect();
        let solution = problem.solve().ok()?.into_solution().ok()?;
        let mut pricing = Self { task, question, scale, unit, solution, price, rent, patterns: Vec::new() };
        for pattern in known {
            pricing = pricing.with(pattern.clone())?;
        }
        Some(pricing)
    }

    /// The programme with one more pattern; `None` where the solver fails.
    fn with(mut self, pattern: Pattern) -> Option<Self> {
        let shape = pattern.shape;
        let mut terms: Vec<(Variable, f64)> = self
            .price
            .iter()
            .zip(&pattern.amounts)
            .filter(|(_, amount)| **amount > 0)
            .map(|(&price, &amount)| (price, f64::from(amount)))
            .collect();
        let (sign, comparison, side) = match self.question {
            Question::Place => (1.0, ComparisonOp::Ge, self.task.worth(&pattern.amounts) as f64),
            Question::Cover => (-1.0, ComparisonOp::Le, self.task.shapes[shape].cost as f64),
        };
        terms.extend(self.rent[shape].map(|rent| (rent, sign)));
        self.solution = self.solution.add_constraint(&terms, comparison, side / self.unit).ok()?.into_solution().ok()?;
        self.patterns.push(pattern);
        Some(self)
    }

    /// Finds patterns until none is missing or the effort is spent, and gives the prices that follow.
    pub fn settle(mut self, meter: &mut Meter) -> Option<(Prices, Vec<Pattern>)> {
        for _ in 0..MOST_ROUNDS {
            let prices = self.prices();
            let mut missing = Vec::new();
            for number in 0..self.task.shapes.len() {
                missing.extend(self.missing(number, &prices, meter));
            }
            if missing.is_empty() {
                break;
            }
            for pattern in missing {
                meter.spend((self.patterns.len() * self.price.len()) as u64);
                self = self.with(pattern)?;
            }
            if !meter.goes_on() {
                break;
            }
        }
        let prices = self.prices();
        let most = (0..self.task.shapes.len()).map(|number| self.most(number, &prices, meter)).collect();
        Some((self.sound(prices, most), self.patterns))
    }

    /// The prices as they are, in whole parts.
    fn prices(&self) -> Vec<u64> {
        let most = |kind: usize| if self.question == Question::Place { self.task.kinds[kind].worth * self.scale } else { u64::MAX };
        // So that the prices of all things together stay exact in 64 bits; lower prices hold as well.
        let highest = (1 << 60) / self.task.counts().iter().map(|&count| u64::from(count)).sum::<u64>().max(1);
        let parts = |variable: Variable| ((self.solution.var_value(variable) * self.unit * self.scale as f64).max(0.0) as u64).min(highest);
        self.price.iter().enumerate().map(|(kind, &price)| parts(price).min(most(kind))).collect()
    }

    /// What things bring to a column.
    fn values(&self, prices: &[u64]) -> Vec<u64> {
        match self.question {
            Question::Place => self.task.kinds.iter().zip(prices).map(|(kind, price)| kind.worth * self.scale - price).collect(),
            Question::Cover => prices.to_vec(),
        }
    }

    /// What a column of this shape may bring by the programme as it is.
    fn allowed(&self, number: usize) -> u64 {
        let rent = self.rent[number].map_or(0.0, |rent| self.solution.var_value(rent));
        let cost = if self.question == Question::Cover { self.task.shapes[number].cost as f64 } else { 0.0 };
        ((rent * self.unit + cost + self.unit * TOLERANCE) * self.scale as f64) as u64
    }

    /// A pattern that brings more than is allowed: a quick one, or else the best there is.
    fn missing(&self, number: usize, prices: &[u64], meter: &mut Meter) -> Option<Pattern> {
        let shape = &self.task.shapes[number];
        let values = self.values(prices);
        let counts = counts_of_value(self.task, &values);
        let allowed = self.allowed(number);
        let quick = fill(shape, &values, &counts, BANDS);
        meter.spend(quick.work);
        if quick.value > allowed {
            return Some(Pattern::new(number, shape, quick.rows, counts.len()));
        }
        let rows = Rows::new(number, shape, &values, &counts, allowed + 1, meter)?;
        rows.best(allowed, meter)?.map(|(_, pattern)| pattern)
    }

    /// The most that a column of this shape can bring.
    fn most(&self, number: usize, prices: &[u64], meter: &mut Meter) -> u64 {
        let shape = &self.task.shapes[number];
        let values = self.values(prices);
        let counts = counts_of_value(self.task, &values);
        let allowed = self.allowed(number);
        let exact = Rows::new(number, shape, &values, &counts, allowed + 1, meter).and_then(|rows| rows.best(allowed, meter));
        match exact {
            Some(best) => best.map_or(allowed, |(value, _)| value),
            None => Ceiling::new(shape, &values, &counts).whole,
        }
    }

    /// Prices with which no column brings more than is said.
    fn sound(&self, mut price: Vec<u64>, mut most: Vec<u64>) -> Prices {
        if self.question == Question::Cover {
            let cost = |number: usize| self.task.shapes[number].cost * self.scale;
            // Of columns that there are enough of none may bring more than it costs: all prices come down by as much.
            let worst = (0..most.len())
                .filter(|&number| self.rent[number].is_none() && most[number] > cost(number))
                .max_by(|&a, &b| (u128::from(most[a]) * u128::from(cost(b))).cmp(&(u128::from(most[b]) * u128::from(cost(a)))));
            if let Some(worst) = worst {
                let (whole, of) = (u128::from(cost(worst)), u128::from(most[worst]));
                let down = |figure: u64| (u128::from(figure) * whole / of) as u64;
                price = price.into_iter().map(down).collect();
                // Rounded up, for these are bounds.
                most = most.into_iter().map(|most| down(most).saturating_add(1)).collect();
            }
            most = (0..most.len())
                .map(|number| if self.rent[number].is_none() { 0 } else { most[number].saturating_sub(cost(number)) })
                .collect();
        }
        Prices { scale: self.scale, price, most }
    }
}

/// How many there are of each kind that has a value; the others only cost time.
fn counts_of_value(task: &Task, values: &[u64]) -> Vec<u32> {
    task.kinds.iter().zip(values).map(|(kind, &value)| if value > 0 { kind.count } else { 0 }).collect()
}
