//! Sharp prices by linear programming over patterns, which are found as the prices ask for them.
//!
//! `microlp` gives no duals, so the dual is what is solved: prices are its variables, patterns its rows. Its figures are
//! only a hint. They are rounded to whole numbers, and what a column can bring by those is worked out exactly or bounded
//! from above, so that the bound holds whatever the solver's tolerance is.

use microlp::{ComparisonOp, OptimizationDirection, Problem, Solution, Variable};

use super::bound::{Prices, cost_scale, worth_scale};
use super::ceiling::Ceiling;
use super::climb::Rows;
use super::effort::Meter;
use super::fill::fill;
use super::pattern::Pattern;
use super::search::Answer;
use super::task::{Question, Task};

/// More kinds than this are not priced this way.
const MOST_KINDS: usize = 300;

/// Rounds of pricing at most.
const MOST_ROUNDS: usize = 400;

/// Steps spent on the search for one pattern.
const EXACT_STEPS: u64 = 200_000;

/// In how many bands columns are begun when a pattern is looked for.
const BANDS: u32 = 12;

/// Above what a pattern must be worth, in parts, to count as missing.
const TOLERANCE: f64 = 1e-7;

/// The programme as far as its patterns are known.
struct Pricing<'a> {
    task: &'a Task<'a>,
    question: Question,
    /// Parts of a unit of worth or cost.
    scale: u64,
    /// The greatest worth or cost: the programme's unit.
    unit: f64,
    /// None once the solver has failed.
    solution: Option<Solution>,
    price: Vec<Variable>,
    /// What a column of each shape is worth more than it costs; none for shapes that there are enough of.
    rent: Vec<Option<Variable>>,
    /// The patterns found.
    patterns: Vec<Pattern>,
}

impl<'a> Pricing<'a> {
    /// Begins with patterns that are known; together they must hold each kind at least once.
    fn new(task: &'a Task<'a>, question: Question, known: &[Pattern]) -> Option<Self> {
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
            .enumerate()
            .map(|(number, shape)| {
                let scarce = question == Question::Place || task.scarce(number);
                scarce.then(|| problem.add_var(sign * f64::from(shape.count), (0.0, f64::INFINITY)))
            })
            .collect();
        let solution = problem.solve().ok()?.into_solution().ok()?;
        let mut pricing = Self { task, question, scale, unit, solution: Some(solution), price, rent, patterns: Vec::new() };
        for pattern in known {
            pricing.add(pattern.clone())?;
        }
        Some(pricing)
    }

    /// Adds a pattern; `None` where the solver fails.
    fn add(&mut self, pattern: Pattern) -> Option<()> {
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
        let solution = self.solution.take()?;
        self.solution = Some(solution.add_constraint(&terms, comparison, side / self.unit).ok()?.into_solution().ok()?);
        self.patterns.push(pattern);
        Some(())
    }

    /// Finds patterns until none is missing or the effort is spent. Gives the prices of the sharpest bound, and the patterns.
    fn settle(mut self, meter: &mut Meter) -> (Option<Prices>, Vec<Pattern>) {
        let mut best: Option<Prices> = None;
        for _ in 0..MOST_ROUNDS {
            let price = self.prices();
            let (brings, missing): (Vec<u64>, Vec<Option<Pattern>>) =
                (0..self.task.shapes.len()).map(|number| self.look(number, &price, meter)).unzip();
            let prices = self.sound(price, brings);
            if best.as_ref().is_none_or(|best| self.sharper(&prices, best)) {
                best = Some(prices);
            }
            let missing: Vec<Pattern> = missing.into_iter().flatten().collect();
            if missing.is_empty() {
                break;
            }
            for pattern in missing {
                meter.spend((self.patterns.len() * self.price.len()) as u64);
                if self.add(pattern).is_none() {
                    return (best, self.patterns);
                }
            }
            if !meter.goes_on() {
                break;
            }
        }
        (best, self.patterns)
    }

    fn sharper(&self, one: &Prices, other: &Prices) -> bool {
        match self.question {
            Question::Place => one.most_worth(self.task) < other.most_worth(self.task),
            Question::Cover => one.least_cost(self.task) > other.least_cost(self.task),
        }
    }

    /// The prices as they are, in whole parts.
    fn prices(&self) -> Vec<u64> {
        let most = |kind: usize| if self.question == Question::Place { self.task.kinds[kind].worth * self.scale } else { u64::MAX };
        // So that the prices of all things together stay exact in 64 bits; lower prices hold as well.
        let highest = (1 << 60) / self.task.counts().iter().map(|&count| u64::from(count)).sum::<u64>().max(1);
        let parts = |variable: Variable| ((self.figure(variable) * self.unit * self.scale as f64).max(0.0) as u64).min(highest);
        self.price.iter().enumerate().map(|(kind, &price)| parts(price).min(most(kind))).collect()
    }

    fn figure(&self, variable: Variable) -> f64 {
        self.solution.as_ref().map_or(0.0, |solution| solution.var_value(variable))
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
        let rent = self.rent[number].map_or(0.0, |rent| self.figure(rent));
        let cost = if self.question == Question::Cover { self.task.shapes[number].cost as f64 } else { 0.0 };
        ((rent * self.unit + cost + self.unit * TOLERANCE) * self.scale as f64) as u64
    }

    /// What a column of this shape can bring at most, and a pattern that brings more than is allowed, if one is found: a quick
    /// one, or else the best there is.
    fn look(&self, number: usize, prices: &[u64], meter: &mut Meter) -> (u64, Option<Pattern>) {
        let shape = &self.task.shapes[number];
        let values = self.values(prices);
        let counts = counts_of_value(self.task, &values);
        let allowed = self.allowed(number);
        let brings = |pattern: &Pattern| pattern.amounts.iter().zip(&values).map(|(&amount, value)| value * u64::from(amount)).sum::<u64>();
        let ceiling = Ceiling::new(shape, &values, &counts, meter);
        if ceiling.whole <= allowed {
            return (ceiling.whole, None);
        }
        // Heights in steps may have let in one row too many.
        let mut rows = shape.settled(&ceiling.rows(), &mut counts.clone());
        while !shape.holds(&rows) {
            rows.pop();
        }
        let pattern = Pattern::new(number, shape, rows, counts.len());
        if brings(&pattern) > allowed {
            return (ceiling.whole, Some(pattern));
        }
        let whole = ceiling.whole;
        let quick = fill(shape, &values, &counts, BANDS);
        meter.spend(quick.work);
        if quick.value > allowed {
            return (whole, Some(Pattern::new(number, shape, quick.rows, counts.len())));
        }
        let exact = meter.part(EXACT_STEPS, |meter| {
            let rows = Rows::under(ceiling, number, shape, &values, &counts, allowed.saturating_add(1), meter)?;
            rows.best(allowed, meter)
        });
        match exact {
            Some(Some((value, pattern))) => (value, Some(pattern)),
            Some(None) => (allowed, None),
            None => (whole, None),
        }
    }

    /// Prices with which no column that there is plenty of brings more than it costs.
    fn sound(&self, price: Vec<u64>, brings: Vec<u64>) -> Prices {
        let prices = Prices { scale: self.scale, price, brings };
        match self.question {
            Question::Place => prices,
            Question::Cover => prices.lowered(self.task),
        }
    }
}

/// The prices of the sharpest bound, if any is found, and patterns that are good by them; begins with those of an answer.
pub(super) fn sharp(task: &Task, question: Question, known: &Answer, meter: &mut Meter) -> (Option<Prices>, Vec<Pattern>) {
    let known: Vec<Pattern> = known.iter().map(|(pattern, _)| pattern.clone()).collect();
    Pricing::new(task, question, &known).map_or((None, known), |pricing| pricing.settle(meter))
}

/// How many there are of each kind that has a value; the others only cost time.
fn counts_of_value(task: &Task, values: &[u64]) -> Vec<u32> {
    task.kinds.iter().zip(values).map(|(kind, &value)| if value > 0 { kind.count } else { 0 }).collect()
}
