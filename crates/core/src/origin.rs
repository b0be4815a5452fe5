//! Sizes that know where they came from, back to what the maker typed.

use std::borrow::Cow;
use std::sync::Arc;

use crate::length::trimmed;

/// The last field of a path to what a part was cut to, where nobody measured it.
pub(crate) const CUT_TO: &str = "finished";

/// A length in millimetres with its name and its origin.
#[derive(Clone, Debug, PartialEq)]
pub struct Size {
    /// Millimetres.
    pub mm: f64,
    /// What it is the size of, in the trade's words: "case width", "front rail, bottom: length".
    pub name: Cow<'static, str>,
    /// Where it came from.
    pub origin: Origin,
}

/// Where a size came from.
#[derive(Clone, Debug, PartialEq)]
pub enum Origin {
    /// The maker decided it; the path names the decision in the design.
    Decision {
        /// Path of the decision, as `casewright-cli sizes` prints it.
        path: String,
    },
    /// The maker measured it, on the stock or on the part; it holds in place of what was planned.
    Measured {
        /// Path of the decision it stands for, or of the record of the part it was measured on.
        path: String,
        /// What it would be by the rules.
        planned: Arc<Size>,
    },
    /// A sum of other sizes, each taken so many times.
    Sum(Arc<[Term]>),
    /// Worked out by a rule that is no plain sum.
    Rule {
        /// The rule in words, with its source where it has one.
        rule: &'static str,
        /// What went in.
        inputs: Arc<[Size]>,
    },
}

/// A size taken so many times in a sum.
#[derive(Clone, Debug, PartialEq)]
pub struct Term {
    /// How often; negative when it is taken off.
    pub times: f64,
    /// What is taken.
    pub size: Size,
}

impl Size {
    /// A size the maker decided.
    pub fn decided(path: impl Into<String>, name: impl Into<Cow<'static, str>>, mm: f64) -> Size {
        Size { mm, name: name.into(), origin: Origin::Decision { path: path.into() } }
    }

    /// A size the maker measured, in place of what was `planned`.
    pub fn measured(path: impl Into<String>, mm: f64, planned: Size) -> Size {
        Size { mm, name: planned.name.clone(), origin: Origin::Measured { path: path.into(), planned: Arc::new(planned) } }
    }

    /// The sum of `terms`.
    pub fn sum<const N: usize>(name: impl Into<Cow<'static, str>>, terms: [(f64, &Size); N]) -> Size {
        let mm = terms.iter().map(|(times, size)| times * size.mm).sum();
        let terms = terms.into_iter().filter(|(times, _)| *times != 0.0);
        Size { mm, name: name.into(), origin: Origin::Sum(terms.map(|(times, size)| Term { times, size: size.clone() }).collect()) }
    }

    /// What `rule` made of `inputs`.
    pub fn ruled<const N: usize>(name: impl Into<Cow<'static, str>>, mm: f64, rule: &'static str, inputs: [&Size; N]) -> Size {
        Size { mm, name: name.into(), origin: Origin::Rule { rule, inputs: inputs.into_iter().cloned().collect() } }
    }

    /// Whether it was measured itself, on stock or on the part; what rests on such sizes, or was cut to plan, was not.
    pub fn is_measured(&self) -> bool {
        matches!(&self.origin, Origin::Measured { path, .. } if !path.ends_with(CUT_TO))
    }

    /// The same size under another name.
    #[must_use]
    pub fn named(&self, name: impl Into<Cow<'static, str>>) -> Size {
        Size { name: name.into(), ..self.clone() }
    }

    /// The origin in words, one line a step; deeper steps are indented by two spaces a level.
    ///
    /// ```text
    /// front rail, bottom: length 1264
    ///   case width 1360
    ///   less 2 × post width 48
    /// ```
    pub fn explain(&self) -> Vec<String> {
        let mut lines = vec![format!("{} {}", self.name, trimmed(self.mm))];
        self.explain_below(1, &mut lines);
        lines
    }

    fn explain_below(&self, level: usize, lines: &mut Vec<String>) {
        let indent = "  ".repeat(level);
        match &self.origin {
            Origin::Decision { .. } => {}
            Origin::Measured { path, planned } => {
                let word = if path.ends_with(CUT_TO) { "cut to" } else { "measured" };
                lines.push(format!("{indent}{word} {} (planned {})", trimmed(self.mm), trimmed(planned.mm)));
                planned.explain_below(level + 1, lines);
            }
            Origin::Sum(terms) => {
                for (index, term) in terms.iter().enumerate() {
                    let sign = if term.times < 0.0 {
                        "less "
                    } else if index > 0 {
                        "and "
                    } else {
                        ""
                    };
                    let times = term.times.abs();
                    let times = if (times - 1.0).abs() < 1e-12 { String::new() } else { format!("{} × ", trimmed(times)) };
                    lines.push(format!("{indent}{sign}{times}{} {}", term.size.name, trimmed(term.size.mm)));
                    term.size.explain_below(level + 1, lines);
                }
            }
            Origin::Rule { rule, inputs } => {
                lines.push(format!("{indent}{rule}"));
                for input in inputs.iter() {
                    lines.push(format!("{indent}{} {}", input.name, trimmed(input.mm)));
                    input.explain_below(level + 1, lines);
                }
            }
        }
    }

    /// Every decision this size rests on, in the order met, each once.
    pub fn decisions(&self) -> Vec<&str> {
        self.roots().into_iter().map(Size::path).collect()
    }

    /// Every decided or measured size this size rests on, in the order met, each once.
    pub fn roots(&self) -> Vec<&Size> {
        let mut found = Vec::new();
        self.gather(&mut found);
        found
    }

    /// The path of what was decided or measured; empty for what was worked out, and for what was decided by no one, such as the
    /// floor of a case without one.
    fn path(&self) -> &str {
        match &self.origin {
            Origin::Decision { path } | Origin::Measured { path, .. } => path,
            Origin::Sum(_) | Origin::Rule { .. } => "",
        }
    }

    fn gather<'a>(&'a self, found: &mut Vec<&'a Size>) {
        match &self.origin {
            Origin::Decision { path } | Origin::Measured { path, .. } => {
                if !path.is_empty() && !found.iter().any(|known| known.path() == path) {
                    found.push(self);
                }
            }
            Origin::Sum(terms) => terms.iter().for_each(|term| term.size.gather(found)),
            Origin::Rule { inputs, .. } => inputs.iter().for_each(|input| input.gather(found)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_measured_size_tells_what_was_planned() {
        let width = Size::decided("carcase.width", "case width", 900.0);
        let post = Size::measured("carcase.post.width", 44.6, Size::decided("carcase.post.width", "post width", 45.0));
        let rail = Size::sum("front rail: length", [(1.0, &width), (-2.0, &post)]);
        assert_eq!(
            rail.explain(),
            ["front rail: length 810.8", "  case width 900", "  less 2 × post width 44.6", "    measured 44.6 (planned 45)"]
        );
        assert_eq!(rail.decisions(), ["carcase.width", "carcase.post.width"]);
    }

    #[test]
    fn a_sum_tells_its_terms_back_to_the_decisions() {
        let width = Size::decided("carcase.width", "case width", 900.0);
        let post = Size::decided("carcase.post.width", "post width", 45.0);
        let rail = Size::sum("front rail: length", [(1.0, &width), (-2.0, &post)]);
        assert_eq!(rail.explain(), ["front rail: length 810", "  case width 900", "  less 2 × post width 45"]);
        assert_eq!(rail.decisions(), ["carcase.width", "carcase.post.width"]);
    }
}
