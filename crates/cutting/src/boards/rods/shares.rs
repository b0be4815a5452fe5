//! How often each pattern is cut where parts of a cut count: the primal programme over the patterns that the prices leave.

use microlp::{ComparisonOp, LinearExpr, OptimizationDirection, Problem};

use super::prices::{Pool, Priced, Question};
use super::task::{Pattern, Rods};

/// Patterns that bring less than this below what they cost are left out, in units of the dearest bar.
const NEAR: f64 = 1e-6;

/// How often each pattern is cut, most often first; those not cut at all are left out. `None` where the solver finds no answer.
pub(super) fn shares(rods: &Rods, question: &Question, pool: &Pool, priced: &Priced) -> Option<Vec<(Pattern, f64)>> {
    let unit = rods.bars.iter().map(|bar| bar.cost).max().unwrap_or(1).max(1) as f64;
    let slack = |pattern: &Pattern| {
        let brings: f64 = pattern.amounts.iter().map(|&(size, amount)| priced.price[size] * f64::from(amount)).sum();
        rods.bars[pattern.bar].cost as f64 / unit + priced.rent[pattern.bar] - brings
    };
    let usable: Vec<&Pattern> = pool.patterns.iter().filter(|pattern| question.most[pattern.bar] > 0).collect();
    let near: Vec<&Pattern> = usable.iter().filter(|pattern| slack(pattern) < NEAR).copied().collect();
    let solved = solve(rods, question, &near, unit).or_else(|| solve(rods, question, &usable, unit))?;
    let mut solved: Vec<(Pattern, f64)> = solved.into_iter().map(|(pattern, share)| (pattern.clone(), share)).collect();
    solved.sort_by(|a, b| b.1.total_cmp(&a.1));
    Some(solved)
}

fn solve<'p>(rods: &Rods, question: &Question, patterns: &[&'p Pattern], unit: f64) -> Option<Vec<(&'p Pattern, f64)>> {
    let mut problem = Problem::new(OptimizationDirection::Minimize);
    let mut of_size: Vec<LinearExpr> = rods.sizes.iter().map(|_| LinearExpr::empty()).collect();
    let mut of_bar: Vec<LinearExpr> = rods.bars.iter().map(|_| LinearExpr::empty()).collect();
    let mut variables = Vec::with_capacity(patterns.len());
    for pattern in patterns {
        let variable = problem.add_var(rods.bars[pattern.bar].cost as f64 / unit, (0.0, f64::INFINITY));
        variables.push(variable);
        of_bar[pattern.bar].add(variable, 1.0);
        for &(size, amount) in &pattern.amounts {
            of_size[size].add(variable, f64::from(amount));
        }
    }
    for (size, terms) in of_size.into_iter().enumerate() {
        if question.wanted[size] > 0 {
            problem.add_constraint(terms, ComparisonOp::Ge, f64::from(question.wanted[size]));
        }
    }
    for (bar, terms) in of_bar.into_iter().enumerate() {
        if !rods.bars[bar].endless || question.most[bar] < rods.bars[bar].count {
            problem.add_constraint(terms.clone(), ComparisonOp::Le, f64::from(question.most[bar]));
        }
        if question.least[bar] > 0 {
            problem.add_constraint(terms, ComparisonOp::Ge, f64::from(question.least[bar]));
        }
    }
    let solution = problem.solve().ok()?.into_solution().ok()?;
    let shares = patterns.iter().zip(variables).map(|(pattern, variable)| (*pattern, solution.var_value(variable)));
    Some(shares.filter(|(_, share)| *share > 1e-7).collect())
}
