//! Every figure of a finding can be asked why: what is found tells how it is worked out, by the names of its figures.

use std::collections::BTreeSet;

use casewright_core::design::decisions::{self, Value};
use casewright_tests::{Case, demo};

/// Each length of the demo made half and twice as large in turn: what is found then says how the figure it stands on is reckoned.
#[test]
fn what_is_found_says_how_its_figure_is_reckoned() {
    let lengths = decisions::list(&demo()).into_iter().filter_map(|decision| match decision.value {
        Value::Length(length) => Some((decision.spec.path, length.to_mm())),
        Value::Ruled { .. } | Value::Number(_) | Value::Count(_) | Value::Choice { .. } | Value::Text(_) => None,
    });
    let (mut rules, mut silent) = (BTreeSet::new(), BTreeSet::new());
    for (path, mm) in lengths {
        for times in [0.5, 2.0] {
            let mut design = demo();
            if decisions::set(&mut design, &path, &(mm * times).to_string()).is_err() {
                continue;
            }
            let Ok(case) = Case::of(design) else { continue };
            for finding in &case.findings {
                let reckoned = finding.rule.reckoned();
                let first = finding.figures.first().filter(|figure| !reckoned.contains(figure.name));
                silent.extend(first.map(|figure| format!("{:?} does not tell of its \"{}\"", finding.rule, figure.name)));
                rules.insert(finding.rule);
            }
        }
    }
    assert!(silent.is_empty(), "{silent:#?}");
    assert!(rules.len() >= 20, "only {rules:?} were found");
}
