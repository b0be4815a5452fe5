//! Checks: what will fail, what is at risk, what is worth knowing.
//!
//! One file a family of checks; each check is one function from the model (and its solids) to findings. A check that knows
//! the cause speaks before the one that only sees the symptom: parts already told of are not told again as an overlap.

mod buttons;
pub mod clash;
mod cleats;
mod contents;
mod edges;
pub mod engagement;
mod floors;
mod gaps;
mod gather;
mod glue_across;
mod grooves;
mod ground;
mod joints;
mod loads;
mod milled;
mod moisture;
mod mortises;
mod overlap;
mod own_sizes;
mod panels;
mod proof;
mod recalled;
mod reckoned;
mod recut;
mod rows;
mod rule;
mod sheets;
mod shelves;
mod short_grain;
mod shoulders;
mod site;
mod slats;
mod slides;
mod stands;
mod sticks;
mod tenons;
mod tilts;
mod voids;
mod walls;

use std::rc::Rc;

use glam::DVec3;

pub(crate) use gaps::Gaps;
pub(crate) use joints::by_rule;
pub(crate) use loads::{depth_of, leaning_findings};
pub(crate) use milled::is_of_case;
pub(crate) use own_sizes::own_by_rule;
pub use recalled::recalled_of_carrying;
pub(crate) use recut::{CUT_AS_IT_STANDS, are_right, stands_off};
pub use rule::Rule;

use crate::design::Design;
use crate::length::trimmed as mm;
use crate::model::{JointId, Model, PartId};
use crate::shapes::Solids;
use crate::worked::Worked;
use proof::Proof;
use voids::Voids;

/// What a check found.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// The rule that found it.
    pub rule: Rule,
    /// How serious it is.
    pub seriousness: Seriousness,
    /// The parts it is about, the one to look at first.
    pub parts: Vec<PartId>,
    /// Pairs of parts whose overlap this explains; they are not told again as an overlap.
    pub explains: Vec<(PartId, PartId)>,
    /// The joint it is about.
    pub joint: Option<JointId>,
    /// Where to look, in the case, mm.
    pub place: Option<DVec3>,
    /// The figures behind it.
    pub figures: Vec<Figure>,
    /// What is wrong, in one sentence with its figures.
    pub message: String,
    /// Where the rule comes from.
    pub source: &'static str,
    /// Changes that each mend it, where some are known; the one to think of first comes first.
    pub remedies: Vec<Remedy>,
}

/// How serious a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Seriousness {
    /// It will not go together, or not do its work.
    WillFail,
    /// It may go wrong.
    AtRisk,
    /// Worth knowing.
    Note,
}

impl Seriousness {
    /// Its word.
    pub fn word(self) -> &'static str {
        match self {
            Seriousness::WillFail => "will fail",
            Seriousness::AtRisk => "at risk",
            Seriousness::Note => "note",
        }
    }
}

/// A figure behind a finding.
#[derive(Clone, Debug, PartialEq)]
pub struct Figure {
    /// What it is.
    pub name: &'static str,
    /// How much.
    pub value: f64,
    /// Unit: "mm", "mm³", "kg", "s", "°", or empty for counts.
    pub unit: &'static str,
    /// How it comes about, with what it rests on; none where it is measured on the solids, counted, or decided.
    pub why: Option<Box<Worked>>,
}

impl Figure {
    /// So much of something, in a unit.
    pub fn new(name: &'static str, value: f64, unit: &'static str) -> Figure {
        Figure { name, value, unit, why: None }
    }

    /// A length.
    pub fn mm(name: &'static str, value: f64) -> Figure {
        Figure::new(name, value, "mm")
    }

    /// A count.
    pub fn count(name: &'static str, value: u32) -> Figure {
        Figure::new(name, f64::from(value), "")
    }

    /// The same with how it comes about.
    #[must_use]
    pub fn because(self, why: Worked) -> Figure {
        Figure { why: Some(Box::new(why)), ..self }
    }
}

/// A change of the design that mends a finding.
#[derive(Clone, Debug, PartialEq)]
pub struct Remedy {
    /// What to do, as a button says it.
    pub words: String,
    /// Decisions and their new values, as [`decisions::set`](crate::design::decisions::set) takes them. Empty when it can only be told.
    pub changes: Vec<(String, String)>,
}

impl Remedy {
    /// Sets one length.
    fn length(words: String, path: &str, mm: f64) -> Remedy {
        Remedy { words, changes: vec![(path.to_owned(), mm.to_string())] }
    }
}

/// A length with its unit, however small.
fn small(value: f64) -> String {
    if value < 0.005 { "less than 0.01 mm".to_owned() } else { format!("{} mm", mm(value)) }
}

/// Lengths closer than this count as equal, mm: far below what a bench can tell, far above what sums lose.
pub const TOUCH: f64 = 1e-6;

/// Judges a model. The most serious first, in a stable order.
pub fn inspect(design: &Design, model: &Model, solids: &Solids) -> Vec<Finding> {
    inspected(design, model, solids, &Proof::new(design))
}

/// The same where only what is found counts: no remedy is tried, and one that is named may not mend. `gaps` are those measured before, in other designs too.
pub(crate) fn found(design: &Design, model: &Model, solids: &Solids, gaps: &Rc<Gaps>) -> Vec<Finding> {
    inspected(design, model, solids, &Proof::none(gaps))
}

/// What the check of one rule alone finds without solids; none where several checks tell that rule, or one that takes solids. What is told twice, or as something
/// else, where all checks are made, is told here once more.
pub(crate) fn found_of(rule: Rule, design: &Design, model: &Model, gaps: &Rc<Gaps>) -> Option<Vec<Finding>> {
    let proof = Proof::none(gaps);
    let voids = || Voids::of_model(model, gaps);
    match rule {
        Rule::TenonLength | Rule::BottomRoom | Rule::TenonHold | Rule::TenonThickness => Some(tenons::check(design, model, &voids())),
        Rule::JointRule => Some(joints::check(&proof, design, model)),
        Rule::MortisesMeet | Rule::MortiseBreaksOut | Rule::MortiseCheek => Some(mortises::check(&proof, model, &voids())),
        Rule::ShortGrain => Some(short_grain::check(model, &voids())),
        Rule::GrooveLeavesWood => Some(grooves::check(design, model, &voids())),
        Rule::PanelEngaged | Rule::PanelBottoms => Some(engagement::check(design, model)),
        Rule::Shoulder => Some(shoulders::check(model)),
        Rule::CleatBears => Some(cleats::check(model)),
        Rule::CleatStays => Some(slides::check(design, model)),
        Rule::ShelfTilts => Some(tilts::check(design, model)),
        _ => None,
    }
}

fn inspected(design: &Design, model: &Model, solids: &Solids, proof: &Proof<'_>) -> Vec<Finding> {
    let mut findings = judged(design, model, proof);
    let overlaps = overlap::check(model, solids, &findings);
    findings.extend(overlaps);
    findings.extend(contents::check(design, model));
    findings.extend(loads::check(proof, design, model, solids));
    milled::hand_over_to_solids(&mut findings);
    findings.sort_by_key(|finding| finding.seriousness);
    proof.prove(model, findings)
}

/// What can be told of a model without its solids, each cause once.
fn judged(design: &Design, model: &Model, proof: &Proof<'_>) -> Vec<Finding> {
    let mut findings = model.findings.clone();
    findings.extend(milled::check(proof, design, model));
    let voids = Voids::of_model(model, proof.gaps());
    findings.extend(tenons::check(design, model, &voids));
    findings.extend(joints::check(proof, design, model));
    findings.extend(mortises::check(proof, model, &voids));
    findings.extend(short_grain::check(model, &voids));
    findings.extend(glue_across::check(model, &voids));
    findings.extend(panels::check(model));
    findings.extend(sheets::check(design, model));
    findings.extend(engagement::check(design, model));
    findings.extend(grooves::check(design, model, &voids));
    findings.extend(buttons::check(design, model));
    findings.extend(moisture::check(design));
    findings.extend(sticks::check(design, model));
    findings.extend(shoulders::check(model));
    findings.extend(slats::check(design, model));
    findings.extend(cleats::check(model));
    findings.extend(slides::check(design, model));
    findings.extend(stands::check(design, model));
    findings.extend(shelves::check(design, model));
    findings.extend(tilts::check(design, model));
    findings.extend(ground::check(model));
    findings.extend(floors::check(design, model));
    findings.extend(site::check(design, model));
    findings.extend(edges::check(model));
    milled::quiet(model, &mut findings);
    gather::gather(findings)
}
