//! Rules of joints: what is told when the figures of one break them.
//!
//! A joint is always cut as it is wanted. Whatever of its figures breaks a rule is told with the figure, the limit and the source.

use super::fit::Fitted;

/// A rule that the figures of a joint break.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Broken {
    /// The rule in words: "a housing is at most half as deep as the side is thick".
    pub rule: &'static str,
    /// The figure that breaks it; mm where the rule names no other unit.
    pub value: f64,
    /// What it should be at most, or at least.
    pub limit: f64,
    /// Where the rule comes from.
    pub source: &'static str,
}

/// Figures this near to a limit keep it, mm.
const SAME: f64 = 1e-6;

/// Rules held against figures, one after the other. A figure that is not a number breaks every rule.
#[derive(Debug, Default)]
pub struct Rules {
    broken: Vec<Broken>,
}

impl Rules {
    /// The figure may be so much at most.
    #[must_use]
    pub fn at_most(mut self, limit: f64, value: f64, rule: &'static str, source: &'static str) -> Rules {
        let kept = value <= limit + SAME;
        if !kept {
            self.broken.push(Broken { rule, value, limit, source });
        }
        self
    }

    /// The figure must be so much at least.
    #[must_use]
    pub fn at_least(mut self, limit: f64, value: f64, rule: &'static str, source: &'static str) -> Rules {
        let kept = value >= limit - SAME;
        if !kept {
            self.broken.push(Broken { rule, value, limit, source });
        }
        self
    }

    /// A clearance must be in the range of its class.
    #[must_use]
    pub fn fits(self, fitted: Fitted) -> Rules {
        let (range, source, [tight, loose]) = (fitted.class.clearance(), fitted.class.source(), fitted.class.rules());
        self.at_least(*range.start(), fitted.clearance, tight, source).at_most(*range.end(), fitted.clearance, loose, source)
    }

    /// What was broken, in the order in which it was asked.
    pub fn broken(self) -> Vec<Broken> {
        self.broken
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_on_its_limit_keeps_the_rule_and_no_number_breaks_it() {
        let held = |value| Rules::default().at_most(6.0, value, "deep", "").at_least(4.0, value, "shallow", "").broken();
        assert!(held(4.0).is_empty() && held(6.0).is_empty());
        assert_eq!(held(6.1).iter().map(|broken| broken.rule).collect::<Vec<_>>(), ["deep"]);
        assert_eq!(held(3.9).iter().map(|broken| broken.rule).collect::<Vec<_>>(), ["shallow"]);
        assert_eq!(held(f64::NAN).len(), 2);
    }
}
