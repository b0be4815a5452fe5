//! Rules of joints: what is told when the figures of one break them.
//!
//! A joint is always cut as it is wanted. Whatever of its figures breaks a rule is told with the figure, the limit and the source.

use super::fit::Fitted;

/// A rule that the figures of a joint break.
#[derive(Clone, Debug, PartialEq)]
pub struct Broken {
    /// The rule in words: "a housing is at most half as deep as the side is thick".
    pub rule: &'static str,
    /// The figure that breaks it; mm where the rule names no other unit.
    pub value: f64,
    /// What it should be at most, or at least.
    pub limit: f64,
    /// Where the rule comes from.
    pub source: &'static str,
    /// Whether the joint does not do its work at all so: it lets go, or there is no wood.
    pub fails: bool,
    /// Decisions among the sizes of the joint, each with a value that may keep the rule.
    pub mends: Vec<(&'static str, String)>,
}

/// Figures this near to a limit keep it, mm.
const SAME: f64 = 1e-6;

/// Rules held against figures, one after the other. A figure that is not a number breaks every rule.
#[derive(Debug, Default)]
pub struct Rules {
    broken: Vec<Broken>,
    /// Whether the last one asked was broken.
    last: bool,
}

impl Rules {
    /// The figure may be so much at most.
    #[must_use]
    pub fn at_most(mut self, limit: f64, value: f64, rule: &'static str, source: &'static str) -> Rules {
        self.ask(value <= limit + SAME, Broken { rule, value, limit, source, fails: false, mends: Vec::new() });
        self
    }

    /// The figure must be so much at least.
    #[must_use]
    pub fn at_least(mut self, limit: f64, value: f64, rule: &'static str, source: &'static str) -> Rules {
        self.ask(value >= limit - SAME, Broken { rule, value, limit, source, fails: false, mends: Vec::new() });
        self
    }

    /// A clearance must be in the range of its class.
    #[must_use]
    pub fn fits(self, fitted: Fitted) -> Rules {
        let (range, source, [tight, loose]) = (fitted.class.clearance(), fitted.class.source(), fitted.class.rules());
        self.at_least(*range.start(), fitted.clearance, tight, source).at_most(*range.end(), fitted.clearance, loose, source)
    }

    fn ask(&mut self, kept: bool, broken: Broken) {
        self.last = !kept;
        if !kept {
            self.broken.push(broken);
        }
    }

    /// The figure that was asked last does not only break its rule where it is so far beyond the limit: the joint fails.
    #[must_use]
    pub fn fails_at(mut self, far: f64) -> Rules {
        if let Some(broken) = self.broken.last_mut().filter(|_| self.last) {
            broken.fails = if far < broken.limit { broken.value <= far + SAME } else { broken.value >= far - SAME };
        }
        self
    }

    /// What may mend the rule that was asked last: one of the joint's own sizes, and what it should be, mm.
    #[must_use]
    pub fn mended_by(self, decision: &'static str, mm: f64) -> Rules {
        self.mended_by_word(decision, &mm.to_string())
    }

    /// The same with a word: a choice, or the way back to the rule.
    #[must_use]
    pub fn mended_by_word(mut self, decision: &'static str, word: &str) -> Rules {
        if let Some(broken) = self.broken.last_mut().filter(|_| self.last) {
            broken.mends.push((decision, word.to_owned()));
        }
        self
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
        let fails = |value| Rules::default().at_least(3.0, value, "held", "").fails_at(0.0).broken().first().map(|broken| broken.fails);
        assert_eq!([fails(3.0), fails(1.0), fails(0.0), fails(-2.0)], [None, Some(false), Some(true), Some(true)]);
        let over = |value| Rules::default().at_most(2.0, value, "given way", "").fails_at(2.0).broken().first().map(|broken| broken.fails);
        assert_eq!([over(2.0), over(2.1)], [None, Some(true)]);
    }
}
