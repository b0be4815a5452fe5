//! How much sag is too much.

use serde::{Deserialize, Serialize};

/// How far a span may sag: each is the number that the span is divided by. The maker may set others.
///
/// They are the program's own, no standard's. For comparison: the eye sees some L/600 to L/400 of bare shelf (common practice, no source);
/// EN 1995-1-1 gives L/300 to L/500 at once and L/150 to L/300 after creep for beams in buildings (memory); North American architectural
/// woodwork allows L/144 and kitchen cabinets L/192 for shelves under test (read in copies).
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Limits {
    /// What a shelf is to be made for: at once.
    pub working_at_once: f64,
    /// What a shelf is to be made for: after creep.
    pub working_after_creep: f64,
    /// After creep: from here on it is seen.
    pub seen: f64,
    /// After creep: from here on it does not do its work.
    pub fails: f64,
}

impl Default for Limits {
    fn default() -> Self {
        Limits { working_at_once: 400.0, working_after_creep: 250.0, seen: 200.0, fails: 144.0 }
    }
}

/// How a sag stands to the limits; the later the worse.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Verdict {
    /// Within the working limits.
    Good,
    /// Past a working limit.
    OverWorking,
    /// Past the limit from which it is seen.
    Seen,
    /// Past the limit from which it fails.
    Fails,
}

impl Limits {
    /// What a part is made for: "L/400 at once and L/250 in the end".
    pub fn made_for(&self) -> String {
        format!("L/{:.0} at once and L/{:.0} in the end", self.working_at_once, self.working_after_creep)
    }

    /// A verdict in words.
    pub fn words(&self, verdict: Verdict) -> String {
        match verdict {
            Verdict::Good => "good".to_owned(),
            Verdict::OverWorking => format!("more than it is made for, {}", self.made_for()),
            Verdict::Seen => format!("it will be seen, past L/{:.0}", self.seen),
            Verdict::Fails => format!("too much, past L/{:.0}", self.fails),
        }
    }

    /// Judges the sag of a span, mm: at once and after creep.
    pub fn judge(&self, span: f64, at_once: f64, after_creep: f64) -> Verdict {
        let (at_once, after_creep) = (at_once.abs(), after_creep.abs());
        if after_creep > span / self.fails {
            Verdict::Fails
        } else if after_creep > span / self.seen {
            Verdict::Seen
        } else if after_creep > span / self.working_after_creep || at_once > span / self.working_at_once {
            Verdict::OverWorking
        } else {
            Verdict::Good
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_limits_follow_each_other() {
        let limits = Limits::default();
        for (at_once, after, wanted) in [
            (1.4, 2.1, Verdict::Good),
            (2.3, 3.4, Verdict::OverWorking),
            (2.0, 3.7, Verdict::OverWorking),
            (3.1, 4.6, Verdict::Seen),
            (4.4, 6.3, Verdict::Fails),
            (-4.4, -6.3, Verdict::Fails),
        ] {
            assert_eq!(limits.judge(900.0, at_once, after), wanted, "{at_once} {after}");
        }
    }
}
