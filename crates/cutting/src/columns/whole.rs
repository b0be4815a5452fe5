//! Whole numbers of known patterns, by integer programming.
//!
//! An answer from here is only as good as its patterns, so nothing is proven by it.

use microlp::{ComparisonOp, LinearExpr, OptimizationDirection, Problem, SolveOptions, Variable};

use super::effort::Meter;
use super::pattern::Pattern;
use super::search::Answer;
use super::task::{Question, Task};

/// Programmes of more patterns are not solved.
const MOST_PATTERNS: usize = 600;

/// Nodes of branching at most.
const MOST_NODES: u64 = 400;

/// Steps that a node counts for, for each pattern.
const NODE_STEPS: u64 = 100;

/// The best use of the patterns that is found: that which is worth most, or covers everything for the least.
pub(super) fn best(task: &Task, question: Question, patterns: &[Pattern], meter: &mut Meter) -> Option<Answer> {
    if patterns.is_empty() || patterns.len() > MOST_PATTERNS || !meter.goes_on() {
        return None;
    }
    let greatest = match question {
        Question::Place => task.kinds.iter().map(|kind| kind.worth).max(),
        Question::Cover => task.shapes.iter().map(|shape| shape.cost).max(),
    };
    let unit = greatest.filter(|&greatest| greatest > 0)? as f64;
    let mut problem = Problem::new(match question {
        Question::Place => OptimizationDirection::Maximize,
        Question::Cover => OptimizationDirection::Minimize,
    });
    let times: Vec<Variable> = patterns
        .iter()
        .map(|pattern| {
            let count = task.shapes[pattern.shape].count.cast_signed();
            let cost = if question == Question::Cover { task.shapes[pattern.shape].cost as f64 / unit } else { 0.0 };
            problem.add_integer_var(cost, (0, count))
        })
        .collect();
    for (kind, of) in task.kinds.iter().enumerate() {
        let mut held: LinearExpr = patterns
            .iter()
            .zip(&times)
            .filter(|(pattern, _)| pattern.amounts[kind] > 0)
            .map(|(pattern, &times)| (times, f64::from(pattern.amounts[kind])))
            .collect();
        match question {
            Question::Place => {
                let placed = problem.add_var(of.worth as f64 / unit, (0.0, f64::from(of.count)));
                held.add(placed, -1.0);
                problem.add_constraint(held, ComparisonOp::Ge, 0.0);
            }
            Question::Cover => problem.add_constraint(held, ComparisonOp::Ge, f64::from(of.count)),
        }
    }
    for (number, shape) in task.shapes.iter().enumerate() {
        if question == Question::Place || task.scarce(number) {
            let used: LinearExpr =
                patterns.iter().zip(&times).filter(|(pattern, _)| pattern.shape == number).map(|(_, &times)| (times, 1.0)).collect();
            problem.add_constraint(used, ComparisonOp::Le, f64::from(shape.count));
        }
    }
    let mut options = SolveOptions::default();
    options.node_limit = Some(MOST_NODES);
    let outcome = problem.solve_with(options).ok()?;
    meter.spend(outcome.stats().nodes_solved * patterns.len() as u64 * NODE_STEPS);
    let solution = outcome.into_solution().ok()?;
    let counted = |(pattern, &times): (&Pattern, &Variable)| (pattern.clone(), solution.var_value(times).round().max(0.0) as u32);
    let answer: Answer = patterns.iter().zip(&times).map(counted).filter(|(_, times)| *times > 0).collect();
    // The solver's figures are near whole numbers; whether they came out as a right answer is asked in whole numbers.
    let used =
        |number: usize| answer.iter().filter(|(pattern, _)| pattern.shape == number).map(|(_, times)| u64::from(*times)).sum::<u64>();
    (0..task.shapes.len()).all(|number| used(number) <= u64::from(task.shapes[number].count)).then_some(answer)
}
