//! One cause, one finding, however many parts it touches.

use std::collections::HashMap;

use super::{Finding, Rule, Seriousness};
use crate::model::PartId;

/// What findings of one cause have in common: the rule, the figures to a thousandth, and what would mend them.
#[derive(PartialEq, Eq, Hash)]
struct Cause {
    rule: Rule,
    seriousness: Seriousness,
    figures: Vec<(&'static str, i64)>,
    remedies: Vec<(String, Vec<(String, String)>)>,
}

impl Cause {
    fn of(finding: &Finding) -> Cause {
        let grain = |value: f64| (value * 1e3).round() as i64;
        Cause {
            rule: finding.rule,
            seriousness: finding.seriousness,
            figures: finding.figures.iter().map(|figure| (figure.name, grain(figure.value))).collect(),
            remedies: finding.remedies.iter().map(|remedy| (remedy.words.clone(), remedy.changes.clone())).collect(),
        }
    }
}

/// Findings of one cause become one: the first, with the parts of all the others after its own, and the count of them in its message.
/// Those without figures say all in their words, and stay as they are.
pub(super) fn gather(findings: Vec<Finding>) -> Vec<Finding> {
    let mut known: HashMap<Cause, usize> = HashMap::new();
    let mut gathered: Vec<(Finding, usize)> = Vec::with_capacity(findings.len());
    for finding in findings {
        if finding.figures.is_empty() || finding.parts.is_empty() {
            gathered.push((finding, 0));
            continue;
        }
        let at = *known.entry(Cause::of(&finding)).or_insert(gathered.len());
        match gathered.get_mut(at) {
            Some((first, more)) => {
                *more += 1;
                first.explains.extend(finding.explains);
                add_new(&mut first.parts, finding.parts);
            }
            None => gathered.push((finding, 0)),
        }
    }
    gathered.into_iter().map(|(finding, more)| counted(finding, more)).collect()
}

/// A finding that speaks for so many more.
pub(super) fn counted(mut finding: Finding, more: usize) -> Finding {
    if more > 0 {
        finding.message = format!("{}; {more} more like it", finding.message);
    }
    finding
}

/// Adds the parts that are not there yet.
pub(super) fn add_new(parts: &mut Vec<PartId>, more: impl IntoIterator<Item = PartId>) {
    for part in more {
        if !parts.contains(&part) {
            parts.push(part);
        }
    }
}
