//! Figures worked out from published data that can be asked "why": formula, inputs, source, and how each was obtained.

use std::borrow::Cow;

use crate::length::trimmed_to;
use crate::origin::Size;
use crate::timber::{How, Known};

/// What the [sign](Worked::sign) beside figures of a table means.
pub const SIGN: &str = "* rests on figures from memory";

/// A figure with its name and unit, and what it rests on.
#[derive(Clone, Debug, PartialEq)]
pub struct Worked {
    /// What it is, in the trade's words.
    pub name: Cow<'static, str>,
    /// The figure.
    pub value: f64,
    /// Its unit, such as `mm`; empty for a plain number.
    pub unit: &'static str,
    /// What it rests on.
    pub basis: Basis,
}

/// What a figure rests on.
#[derive(Clone, Debug, PartialEq)]
pub enum Basis {
    /// The maker decided, measured or typed it.
    Given,
    /// A size of the case, which knows its own origin.
    Size(Size),
    /// It stands in a table.
    Table {
        /// How the table has it.
        how: How,
        /// The publication.
        source: Cow<'static, str>,
    },
    /// It was worked out.
    Formula {
        /// The formula, in words or signs.
        formula: &'static str,
        /// Where the formula stands.
        source: &'static str,
        /// How the formula was obtained.
        how: How,
        /// What went in.
        inputs: Vec<Worked>,
    },
}

impl Worked {
    /// What the maker decided, measured or typed.
    pub fn given(name: impl Into<Cow<'static, str>>, value: f64, unit: &'static str) -> Worked {
        Worked { name: name.into(), value, unit, basis: Basis::Given }
    }

    /// A size of the case.
    pub fn size(size: &Size) -> Worked {
        Worked { name: size.name.clone(), value: size.mm, unit: "mm", basis: Basis::Size(size.clone()) }
    }

    /// A figure of a table.
    pub fn known(name: impl Into<Cow<'static, str>>, known: &Known, unit: &'static str) -> Worked {
        let basis = Basis::Table { how: known.how, source: known.source.clone() };
        Worked { name: name.into(), value: known.value, unit, basis }
    }

    /// What a formula that was read, or that follows from arithmetic, made of `inputs`.
    pub fn by(
        name: impl Into<Cow<'static, str>>,
        value: f64,
        unit: &'static str,
        (formula, source): (&'static str, &'static str),
        inputs: Vec<Worked>,
    ) -> Worked {
        Worked { name: name.into(), value, unit, basis: Basis::Formula { formula, source, how: How::Read, inputs } }
    }

    /// The same, of a formula that was obtained otherwise.
    #[must_use]
    pub fn obtained(mut self, obtained: How) -> Worked {
        if let Basis::Formula { how, .. } | Basis::Table { how, .. } = &mut self.basis {
            *how = obtained;
        }
        self
    }

    /// The same figure under another name.
    #[must_use]
    pub fn named(self, name: impl Into<Cow<'static, str>>) -> Worked {
        Worked { name: name.into(), ..self }
    }

    /// The same where the inputs of that name and figure are known better: they become `input`.
    pub(crate) fn rest_on(&mut self, input: &Worked) {
        if let Basis::Formula { inputs, .. } = &mut self.basis {
            let same = |known: &&mut Worked| known.name == input.name && (known.value - input.value).abs() < 1e-9;
            inputs.iter_mut().filter(same).for_each(|known| known.clone_from(input));
        }
    }

    /// How the weakest published figure or formula that it rests on was obtained; what the maker gave is no weakness.
    pub fn how(&self) -> How {
        match &self.basis {
            Basis::Given | Basis::Size(_) => How::Read,
            Basis::Table { how, .. } => *how,
            Basis::Formula { how, inputs, .. } => inputs.iter().map(Worked::how).fold(*how, How::min),
        }
    }

    /// What is said right beside it: that it is no better than memory; nothing of any other.
    pub fn aside(&self) -> &'static str {
        if self.how() == How::Memory { " (from memory)" } else { "" }
    }

    /// The same in a table, where there is room for a sign only; [`SIGN`] tells what it means.
    pub fn sign(&self) -> &'static str {
        if self.how() == How::Memory { "*" } else { "" }
    }

    /// What of it is from memory, each told once: figures by name, formulas by what they give.
    pub fn recalled(&self) -> Vec<&str> {
        let mut names = Vec::new();
        self.recall(&mut names);
        names
    }

    fn recall<'w>(&'w self, names: &mut Vec<&'w str>) {
        let (how, inputs) = match &self.basis {
            Basis::Given | Basis::Size(_) => return,
            Basis::Table { how, .. } => (*how, &[][..]),
            Basis::Formula { how, inputs, .. } => (*how, &inputs[..]),
        };
        if how == How::Memory && !names.contains(&&*self.name) {
            names.push(&self.name);
        }
        for input in inputs {
            input.recall(names);
        }
    }

    /// Figure and unit: `7.1 mm`.
    pub fn text(&self) -> String {
        match self.unit {
            "" => figure(self.value),
            unit => format!("{} {unit}", figure(self.value)),
        }
    }

    /// Why it is what it is, one line a step; deeper steps are indented by two spaces a level.
    ///
    /// ```text
    /// growth of the width 7.08 mm
    ///   size × movement a percent × change of moisture (Wood Handbook FPL-GTR-190, equation 13-2; read)
    ///   width 480 mm
    ///   movement along the rings 0.00369 a percent (Wood Handbook FPL-GTR-190, table 13-5; read)
    /// ```
    pub fn explain(&self) -> Vec<String> {
        self.explain_after(&[])
    }

    /// The same where other figures were told before: of those among the inputs only name and figure are told again.
    pub fn explain_after(&self, told: &[&Worked]) -> Vec<String> {
        let mut lines = Vec::new();
        self.explain_at(0, told, &mut lines);
        lines
    }

    fn explain_at(&self, level: usize, told: &[&Worked], lines: &mut Vec<String>) {
        let indent = "  ".repeat(level);
        let line = format!("{indent}{} {}", self.name, self.text());
        if level > 0 && told.contains(&self) && matches!(self.basis, Basis::Formula { .. }) {
            lines.push(format!("{line}, as above"));
            return;
        }
        match &self.basis {
            Basis::Given => lines.push(line),
            Basis::Size(size) => lines.extend(size.explain().into_iter().map(|line| format!("{indent}{line}"))),
            Basis::Table { how, source } => lines.push(format!("{line} ({})", cited(source, *how))),
            Basis::Formula { formula, source, how, inputs } => {
                lines.push(line);
                lines.push(format!("{indent}  {formula} ({})", cited(source, *how)));
                for input in inputs {
                    input.explain_at(level + 1, told, lines);
                }
            }
        }
    }
}

/// A source with how it was obtained; what was never published can't have been read.
fn cited(source: &str, how: How) -> String {
    let unpublished = source.contains("no source") || ["arithmetic", "geometry", "statics", "Pythagoras", "ours"].contains(&source);
    if unpublished && how == How::Read { source.to_owned() } else { format!("{source}; {how}") }
}

/// A figure as it is said: to a hundredth, and a small one to four places that count.
pub fn figure(value: f64) -> String {
    let magnitude = if value == 0.0 { 0.0 } else { value.abs().log10().floor() };
    trimmed_to(value, (3.0 - magnitude).clamp(2.0, 8.0) as usize)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_figure_tells_its_formula_its_inputs_and_their_sources() {
        let known = Known::new(0.00369, How::Memory, "a handbook");
        let inputs = vec![Worked::size(&Size::decided("top.width", "width", 480.0)), Worked::known("movement", &known, "a percent")];
        let worked = Worked::by("growth", 7.0848, "mm", ("size × movement × 4", "another handbook"), inputs);
        assert_eq!(
            worked.explain(),
            [
                "growth 7.085 mm",
                "  size × movement × 4 (another handbook; read)",
                "  width 480",
                "  movement 0.00369 a percent (a handbook; from memory)"
            ]
        );
        assert_eq!(worked.how(), How::Memory, "it is no better than its weakest figure");
        assert_eq!((worked.aside(), worked.sign(), worked.recalled()), (" (from memory)", "*", vec!["movement"]));
        let read = Worked::given("width", 480.0, "mm");
        assert_eq!((read.aside(), read.sign(), read.recalled().len()), ("", "", 0));
    }

    #[test]
    fn a_figure_that_was_told_is_not_told_again() {
        let area = Worked::by("area", 6.0, "m²", ("length × width", "arithmetic"), vec![Worked::given("length", 3.0, "m")]);
        let price = Worked::by("price", 60.0, "", ("area × 10", "arithmetic"), vec![area.clone()]);
        assert_eq!(price.explain_after(&[&area]), ["price 60", "  area × 10 (arithmetic)", "  area 6 m², as above"]);
        assert_eq!(price.explain().len(), 5);
    }

    #[test]
    fn figures_keep_what_counts() {
        for (value, text) in [(0.0, "0"), (480.0, "480"), (1264.25, "1264.25"), (7.0848, "7.085"), (0.00369, "0.00369"), (-1.46, "-1.46")] {
            assert_eq!(figure(value), text);
        }
    }
}
