//! The shop's glue and the tools at hand: what the order of assembly asks the maker.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use crate::length::Length;
use crate::timber::{How, Known};
use crate::worked::Worked;

/// How the maker glues.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Gluing {
    /// The family of glue, by its id in the table.
    pub family: String,
    /// Where the open time comes from.
    pub open_by: OpenTime,
    /// The maker's own open time, from the first spread to the last clamp, minutes.
    pub own_open: f64,
    /// From spreading to closing, a joint, seconds.
    pub seconds: f64,
    /// The share of the open time that may be used.
    pub share: f64,
    /// How glue-ups are cut into stages.
    pub stages: GlueStages,
    /// What a square metre of joint takes, g.
    pub spread: f64,
}

/// Glue that a square metre of joint takes, g: 150 to 200 (from memory).
pub const SPREAD: f64 = 180.0;
/// Seconds a joint, from spreading to closing (common practice, no source).
pub const SECONDS_A_JOINT: f64 = 40.0;
/// The share of the open time that may be used (common practice, no source).
pub const SAFE_SHARE: f64 = 0.7;

impl Default for Gluing {
    fn default() -> Gluing {
        Gluing {
            family: "yellow_pva".to_owned(),
            open_by: OpenTime::FromTable,
            own_open: 5.0,
            seconds: SECONDS_A_JOINT,
            share: SAFE_SHARE,
            stages: GlueStages::Few,
            spread: SPREAD,
        }
    }
}

impl Gluing {
    /// The open time, minutes: the least of the family's, or the maker's own.
    pub fn open_minutes(&self) -> f64 {
        match self.open_by {
            OpenTime::FromTable => find_glue(&self.family).map_or(self.own_open, |glue| glue.open.0),
            OpenTime::Own => self.own_open,
        }
    }

    /// The open time with where it comes from.
    pub fn worked_open_minutes(&self) -> Worked {
        let minutes = self.open_minutes();
        match (self.open_by, find_glue(&self.family)) {
            (OpenTime::FromTable, Some(glue)) => {
                let known = Known::new(minutes, glue.how(), glue.source.clone());
                Worked::known(format!("open time of {}, the least", glue.name), &known, "min")
            }
            (OpenTime::FromTable | OpenTime::Own, _) => Worked::given("open time, your own", minutes, "min"),
        }
    }

    /// How long a glue-up may take, seconds.
    pub fn allowed_seconds(&self) -> f64 {
        self.open_minutes() * 60.0 * self.share
    }
}

/// Where the open time of the glue comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum OpenTime {
    /// The least that the table has for the family.
    FromTable,
    /// The maker's own, from the tin or from trial.
    Own,
}

/// How glue-ups are cut into stages.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum GlueStages {
    /// As few as the joints allow, however many joints are wet at once.
    Few,
    /// So many that each is done within the open time, as far as the joints allow.
    WithinOpenTime,
}

/// A family of glue.
#[derive(Clone, Debug, PartialEq, Deserialize)]
pub struct Glue {
    /// Its name in files: `yellow_pva`.
    pub id: String,
    /// Its name for people.
    pub name: String,
    /// Open time at 20 °C, least and greatest, minutes.
    pub open: (f64, f64),
    /// Time in clamps, least and greatest, hours.
    pub clamped: (f64, f64),
    /// Whether it carries water, so that a pressed tenon swells in its mortise and sticks.
    pub water: bool,
    /// What else a maker must know.
    pub note: String,
    /// Where the figures come from.
    pub source: String,
    /// How they were obtained: read, memory or practice.
    pub status: String,
}

impl Glue {
    /// How its figures were obtained.
    pub fn how(&self) -> How {
        if self.status == "read" { How::Read } else { How::Memory }
    }
}

static GLUES: LazyLock<Vec<Glue>> = LazyLock::new(|| ron::from_str(include_str!("../../../../assets/glue.ron")).unwrap_or_default());

/// Every family of the table.
pub fn glues() -> &'static [Glue] {
    &GLUES
}

/// The family of that id.
pub fn find_glue(id: &str) -> Option<&'static Glue> {
    GLUES.iter().find(|glue| glue.id == id)
}

/// A tool as the room it takes while it cuts.
///
/// ```text
///      ┌──────────────┐ ─┬─ height, across the cut
///  ▌───┤              │  │
///  ▌   │              │ ─┴─ above: from the under side to the middle of the cutter
///  ▌   └──────────────┘
///  ▌   ├─── length ───┤      ▌ the face it works on; width lies along the cut
/// ```
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tool {
    /// What the maker calls it.
    pub name: String,
    /// What it makes.
    pub makes: ToolWork,
    /// From the face it works on to its far end, hands included, mm.
    pub length: Length,
    /// Along the cut, mm.
    pub width: Length,
    /// Across the cut, mm.
    pub height: Length,
    /// From its under side to the middle of its cutter, mm.
    pub above: Length,
}

/// A kind of cut that a tool makes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum ToolWork {
    /// Mortises and slots.
    Slot,
    /// Grooves.
    Groove,
    /// Round holes.
    Hole,
}

impl ToolWork {
    /// What is cut: "slot".
    pub fn words(self) -> &'static str {
        match self {
            ToolWork::Slot => "slot",
            ToolWork::Groove => "groove",
            ToolWork::Hole => "hole",
        }
    }
}

/// The tools of a shop; of those that make the same, the first is the one in use.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Tools(pub Vec<Tool>);

static TOOLS: LazyLock<Vec<Tool>> = LazyLock::new(|| ron::from_str(include_str!("../../../../assets/tools.ron")).unwrap_or_default());

impl Default for Tools {
    /// Those of the table.
    fn default() -> Tools {
        Tools(TOOLS.clone())
    }
}

impl Tools {
    /// Whether they are those of the table, unchanged.
    pub fn is_usual(&self) -> bool {
        self.0 == *TOOLS
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_of_the_tables_is_read_and_says_what_it_is_worth() {
        assert_eq!(glues().len(), 9);
        for glue in glues() {
            assert!(glue.open.0 > 0.0 && glue.open.0 <= glue.open.1 && glue.clamped.0 <= glue.clamped.1, "{}", glue.id);
            assert!(["read", "memory", "practice"].contains(&glue.status.as_str()) && !glue.source.is_empty(), "{}", glue.id);
        }
        let tools = Tools::default().0;
        for makes in [ToolWork::Slot, ToolWork::Groove, ToolWork::Hole] {
            assert!(tools.iter().any(|tool| tool.makes == makes), "{makes:?}");
        }
        assert!(tools.iter().all(|tool| tool.above < tool.height));
    }

    /// 5 minutes open and a share of 0.7 leave 210 seconds (arithmetic; both figures: common practice, no source).
    #[test]
    fn the_usual_glue_leaves_210_seconds() {
        assert!((Gluing::default().allowed_seconds() - 210.0).abs() < 1e-9);
        let own = Gluing { open_by: OpenTime::Own, own_open: 8.0, ..Gluing::default() };
        assert!((own.allowed_seconds() - 336.0).abs() < 1e-9);
    }
}
