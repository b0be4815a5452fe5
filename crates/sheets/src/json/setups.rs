//! The settings of the machines, in the order of the work.

use casewright_core::Model;
use casewright_core::setup::{OnParts, Setup};
use serde::Serialize;

use super::{SCHEMA, tidy};

/// The set-ups; schema `assets/schema/setups.json`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SetupsDocument<'a> {
    /// Version of the document.
    pub schema: u32,
    /// What the piece is called.
    pub name: &'a str,
    /// The set-ups, in the order of the work.
    pub setups: Vec<SetupEntry<'a>>,
}

/// A set-up.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct SetupEntry<'a> {
    /// What is cut.
    pub work: &'static str,
    /// The tool; none where the maker has none for it, or none is kept for such work.
    pub tool: Option<&'a str>,
    /// The cutter, in words; empty where it is the maker's choice.
    pub cutter: String,
    /// Where the fence stands; none where there is none to set.
    pub fence: Option<FenceEntry>,
    /// How deep, mm; 0 where the words of each cut tell it.
    pub depth: f64,
    /// How wide, mm; 0 where the words of each cut tell it.
    pub width: f64,
    /// By how much fence or stop is moved on from where it stood first, for each further pass, mm.
    pub passes: Vec<f64>,
    /// In how many passes it is cut to its depth, each deeper than the one before.
    pub passes_in_depth: u32,
    /// From the near wall, for two passes with the part turned end for end, mm; none where that is not to be done.
    pub turned: Option<f64>,
    /// How many of cutter, depth and fence are moved from the set-up before.
    pub changes: u32,
    /// What is cut at it.
    pub cuts: Vec<OnPartsEntry<'a>>,
    /// What to try on a test piece.
    pub test: &'a str,
    /// How it is made without the tool, or where no setting tells it; empty where one does.
    pub otherwise: &'static str,
    /// What would come out otherwise than planned.
    pub warnings: &'a [String],
    /// What can hurt at it.
    pub cautions: &'a [String],
}

/// Where a fence stands.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct FenceEntry {
    /// From there, mm.
    pub mm: f64,
    /// To the middle of the cut; else to its near wall.
    pub to_middle: bool,
}

/// Equal cuts of the parts of one mark.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct OnPartsEntry<'a> {
    /// The mark.
    pub mark: &'a str,
    /// The names of the parts.
    pub parts: Vec<&'a str>,
    /// The face that is cut into.
    pub into: &'static str,
    /// The face that lies against the fence; none where none is set.
    pub against: Option<&'static str>,
    /// Where, cut by cut.
    pub at: Vec<&'a str>,
}

/// The set-ups of a model.
pub fn setups<'a>(model: &'a Model, setups: &'a [Setup]) -> SetupsDocument<'a> {
    let changes = |at: usize| {
        at.checked_sub(1)
            .and_then(|before| setups.get(before))
            .zip(setups.get(at))
            .map_or(3, |(before, setup)| setup.setting.changes_from(&before.setting))
    };
    let entries = setups.iter().enumerate().map(|(at, setup)| SetupEntry {
        work: setup.setting.work.word(),
        tool: setup.tool.as_deref(),
        cutter: setup.setting.cutter.words(),
        fence: setup.setting.fence.map(|fence| FenceEntry { mm: tidy(fence.mm), to_middle: fence.to_middle }),
        depth: tidy(setup.setting.depth),
        width: tidy(setup.setting.width),
        passes: setup.setting.passes.iter().copied().map(tidy).collect(),
        passes_in_depth: setup.passes_in_depth().map_or(1, |(passes, _)| passes),
        turned: setup.turned.map(|turned| tidy(turned.fence)),
        changes: changes(at),
        cuts: setup.cuts.iter().map(|on| on_parts(model, on)).collect(),
        test: &setup.test,
        otherwise: setup.otherwise,
        warnings: &setup.warnings,
        cautions: &setup.cautions,
    });
    SetupsDocument { schema: SCHEMA, name: &model.name, setups: entries.collect() }
}

fn on_parts<'a>(model: &'a Model, on: &'a OnParts) -> OnPartsEntry<'a> {
    OnPartsEntry {
        mark: &on.mark,
        parts: on.parts.iter().map(|part| model.part(*part).name.as_str()).collect(),
        into: on.into.words(),
        against: on.against.map(casewright_core::model::Face::words),
        at: on.at.iter().map(|at| at.words.as_str()).collect(),
    }
}
