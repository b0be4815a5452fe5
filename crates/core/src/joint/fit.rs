//! Classes of fit: how much room is left between two parts that go together.

use crate::length::trimmed_to;

/// How two parts fit.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Fit {
    /// Pressed together, holds by itself: a dowel, a shelf pin's sleeve.
    Press,
    /// Glued, goes together by hand: a tenon in thickness, a housing, a dovetail.
    GluedSnug,
    /// Slides: a panel in its groove, a drawer bottom, a back.
    Slip,
    /// Drops in: a cleat in length, a loose shelf in length.
    Loose,
    /// Drops in, and leaves room for the wood to grow across its grain besides.
    LooseAcross,
    /// Runs: a wooden drawer from side to side.
    Running,
}

impl Fit {
    /// All, from tight to loose.
    pub const ALL: [Fit; 6] = [Fit::Press, Fit::GluedSnug, Fit::Slip, Fit::Loose, Fit::LooseAcross, Fit::Running];

    /// Its name.
    pub fn words(self) -> &'static str {
        match self {
            Fit::Press => "press",
            Fit::GluedSnug => "glued, snug",
            Fit::Slip => "slip",
            Fit::Loose => "loose",
            Fit::LooseAcross => "loose across the grain",
            Fit::Running => "running",
        }
    }

    /// Its name in a joint that is glued, or in one that is put in dry.
    pub fn words_in(self, glued: bool) -> &'static str {
        if self == Fit::GluedSnug && !glued { "snug, put in dry" } else { self.words() }
    }

    /// The total clearance it may have, mm; negative where the inner part is the larger. Across the grain the movement comes on top.
    ///
    /// Glued snug: Elek et al. 2020, Eur. J. Wood Prod., found open mortise and tenon corners strongest at 0.1 tight, and a
    /// university test reported second-hand lost a fifth at 0.25. The others: common practice, no source.
    pub fn clearance(self) -> std::ops::RangeInclusive<f64> {
        match self {
            Fit::Press => -0.1..=0.0,
            Fit::GluedSnug => 0.0..=0.15,
            Fit::Slip => 0.2..=0.4,
            Fit::Loose | Fit::LooseAcross => 1.0..=1.5,
            Fit::Running => 0.4..=1.0,
        }
    }

    /// The clearance that is taken until the maker decides another, mm; within the range of the class.
    pub fn usual(self) -> f64 {
        match self {
            Fit::Press => -0.05,
            Fit::GluedSnug => 0.1,
            Fit::Slip => 0.3,
            Fit::Loose | Fit::LooseAcross => 1.0,
            Fit::Running => 0.7,
        }
    }

    /// The rule that a clearance below its range breaks, and the one that a clearance above it breaks.
    pub fn rules(self) -> [&'static str; 2] {
        match self {
            Fit::Press => ["a pressed part is not so tight that it splits the other", "a pressed part holds by itself"],
            Fit::GluedSnug => ["a part that is glued goes into its place by hand", "a part that is glued fits snugly"],
            Fit::Slip => ["a part that slides has room to slide", "a part that slides does not rattle"],
            Fit::Loose => ["a loose part drops in", "a loose part is not sloppy"],
            Fit::LooseAcross => ["a part has room to grow across its grain", "a part that may grow is not sloppy besides"],
            Fit::Running => ["a part that runs has room to run", "a part that runs does not rattle"],
        }
    }

    /// Where its range comes from.
    pub fn source(self) -> &'static str {
        match self {
            Fit::GluedSnug => {
                "0 to 0.15: Elek et al. 2020, Eur. J. Wood Prod., and a university test read second-hand, both on mortise and tenon"
            }
            Fit::Press | Fit::Slip | Fit::Loose | Fit::LooseAcross | Fit::Running => "common practice, no source",
        }
    }
}

/// How two parts of a joint fit at one place.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fitted {
    /// What goes into what: "shelf in housing".
    pub what: &'static str,
    /// The class it should be of.
    pub class: Fit,
    /// The total clearance as cut, mm; where wood moves, what is left besides the movement.
    pub clearance: f64,
}

impl Fitted {
    /// `shelf in housing: glued, snug, 0.1 mm`; `glued` says whether the joint is.
    pub fn describe(&self, glued: bool) -> String {
        format!("{}: {}, {} mm", self.what, self.class.words_in(glued), trimmed_to(self.clearance, 2))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ranges_rise_and_press_alone_is_tight() {
        for fit in Fit::ALL {
            let range = fit.clearance();
            assert!(range.start() < range.end());
            assert_eq!(*range.start() < 0.0, fit == Fit::Press);
            assert!(range.contains(&fit.usual()));
        }
    }
}
