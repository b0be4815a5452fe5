//! Cases that hold what there is to keep.

use casewright_core::Design;
use casewright_core::contents::propose::Proposal;
use serde::Serialize;

use super::{SCHEMA, tidy};

/// Cases side by side; schema `assets/schema/propose.json`.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ProposeDocument {
    /// Version of the document.
    pub schema: u32,
    /// What the piece is called.
    pub name: String,
    /// The cases.
    pub proposals: Vec<ProposalEntry>,
}

/// One case.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct ProposalEntry {
    /// What it is least in.
    pub least_in: Vec<&'static str>,
    /// Whether no case so built is less in any of that.
    pub proven: bool,
    /// For each of that by which share of itself it may be more than the least there could be; 0 where it is proven.
    pub gaps: Vec<f64>,
    /// Over the posts, the height with its top, mm.
    pub width: f64,
    /// From the floor to the upper face of the top, mm.
    pub height: f64,
    /// Over the posts, mm.
    pub depth: f64,
    /// Clear width of each bay from the left, mm.
    pub bays: Vec<f64>,
    /// Solid timber, m³.
    pub timber: f64,
    /// Sheet, m².
    pub sheet: f64,
    /// The share of the room on the shelves that things fill, 0 to 1.
    pub filled: f64,
    /// What it costs by the design's own prices; null as long as something has none.
    pub cost: Option<f64>,
    /// What the checks say that will fail in it; empty where it passes.
    pub fails: Vec<String>,
    /// Why it must be anchored to the wall; null where it stands by itself.
    pub to_anchor: Option<String>,
}

/// Cases side by side.
pub fn proposals(design: &Design, found: &[Proposal]) -> ProposeDocument {
    let entry = |proposal: &Proposal| ProposalEntry {
        least_in: proposal.aims.iter().map(|least| least.aim.words()).collect(),
        proven: !proposal.aims.is_empty() && proposal.aims.iter().all(|least| least.proven()),
        gaps: proposal.aims.iter().map(|least| tidy(least.gap)).collect(),
        width: tidy(proposal.width),
        height: tidy(proposal.height),
        depth: tidy(proposal.depth),
        bays: proposal.bays.iter().map(|bay| tidy(*bay)).collect(),
        timber: tidy(proposal.amounts.timber.value),
        sheet: tidy(proposal.amounts.sheet.value),
        filled: tidy(proposal.stands.filled()),
        cost: proposal.cost.total.as_ref().map(|total| tidy(total.value)),
        fails: proposal.fails.clone(),
        to_anchor: proposal.to_anchor.clone(),
    };
    ProposeDocument { schema: SCHEMA, name: design.name.clone(), proposals: found.iter().map(entry).collect() }
}
