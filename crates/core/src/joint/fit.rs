//! Classes of fit: how much room is left between two parts that go together.

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
        }
    }
}
