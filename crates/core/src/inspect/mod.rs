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
mod reckoned;
mod recut;
mod rows;
mod sheets;
mod shelves;
mod short_grain;
mod shoulders;
mod site;
mod slats;
mod stands;
mod sticks;
mod tenons;
mod voids;
mod walls;

use std::rc::Rc;

use glam::DVec3;

pub(crate) use gaps::Gaps;
pub(crate) use joints::by_rule;
pub(crate) use loads::depth_of;
pub(crate) use milled::is_of_case;
pub(crate) use own_sizes::own_by_rule;
pub(crate) use recut::{are_right, stands_off};

use crate::design::Design;
use crate::length::trimmed as mm;
use crate::model::{JointId, Model, PartId};
use crate::shapes::Solids;
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
    /// Unit: "mm", "mm³", "kg", "s", or empty for counts.
    pub unit: &'static str,
}

impl Figure {
    /// A length.
    pub fn mm(name: &'static str, value: f64) -> Figure {
        Figure { name, value, unit: "mm" }
    }

    /// A count.
    pub fn count(name: &'static str, value: u32) -> Figure {
        Figure { name, value: f64::from(value), unit: "" }
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

/// The rules.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Rule {
    /// No two parts are in the same place.
    Overlap,
    /// Every part finds a way to its place.
    LockedOut,
    /// No two parts run into each other when the case is at its driest or wettest.
    Season,
    /// A loose part comes out by hand while all that is fastened stays.
    Captive,
    /// A glue-up is done while the glue is open.
    GlueTime,
    /// A tool reaches a cut that might be made after glue-up.
    ToolReach,
    /// A shoulder reaches the part it stands against.
    Shoulder,
    /// A loose part is no longer than its holes are deep.
    TenonLength,
    /// A loose part has room at the bottoms of its holes for glue, and no more than that.
    BottomRoom,
    /// A loose part reaches into both parts far enough to hold.
    TenonHold,
    /// A loose tenon is about a third as thick as the thinner part.
    TenonThickness,
    /// The figures of a joint keep its rules.
    JointRule,
    /// Mortises in one part leave a wall between them.
    MortisesMeet,
    /// A mortise leaves a wall to the far face.
    MortiseBreaksOut,
    /// A mortise leaves wood beside it.
    MortiseCheek,
    /// No short grain between a cut and the end of its part, or at the tips of teeth.
    ShortGrain,
    /// Two parts that move unlike are not glued too wide.
    GlueAcross,
    /// A panel goes into its groove and does not rattle.
    PanelThickness,
    /// A panel stays in its grooves when driest and pushed over to one side.
    PanelEngaged,
    /// A panel has room at the bottoms of its grooves when wettest.
    PanelBottoms,
    /// A cutter is no wider than its groove.
    GrooveCutter,
    /// A groove leaves wood beside it, behind it, and to the mortises near it.
    GrooveLeavesWood,
    /// No edge that was hidden shows bare when the timber shrinks.
    BareLine,
    /// A top that stands out before the case does so at every moisture.
    OverhangStays,
    /// The tongue of a button holds the top at every moisture.
    ButtonHolds,
    /// The moisture is in the range in which movement can be reckoned.
    MoistureRange,
    /// A slat lies on its cleats.
    SlatBears,
    /// A cleat lies on its seats.
    CleatBears,
    /// The slats of a shelf lie side by side.
    SlatsFit,
    /// A shelf goes in between its uprights.
    ShelfFits,
    /// A shelf lies on its pins.
    ShelfBears,
    /// What a shelf lies on is at one height.
    ShelfLevel,
    /// A solid shelf has room to grow.
    ShelfGrows,
    /// A shelf's tooth, hole or level is there.
    ShelfHasTooth,
    /// Nothing sags further than its limit under what it bears.
    Sags,
    /// Nothing is stressed beyond what may be asked of it for years.
    Holds,
    /// All that bears is judged: no figure is lacking.
    NotJudged,
    /// The case does not tip under a light push, or is anchored.
    Stands,
    /// What is lifted is not too heavy for one.
    Lift,
    /// Some shelf takes each kind of box.
    BoxFits,
    /// Everything that it must hold has a place.
    AllPlaced,
    /// No box tips off a shelf or into a gap between its slats.
    BoxStands,
    /// A loose floor lies on its bearers.
    FloorBears,
    /// The case goes where it is to stand.
    FitsSite,
    /// What is glued together gets there.
    Carried,
    /// No part reaches below the floor of the room.
    AboveGround,
    /// A part comes out of a stick.
    StickLength,
    /// What was set, measured or recorded names a part, or stock, that is there.
    NoSuchPart,
    /// A part that is there fits what is planned now.
    MadePartFits,
    /// The joints cut in a part are those that are planned now.
    CutsStillRight,
    /// What is recorded as glued is glued to something that is too.
    GluedToOthers,
    /// A sheet measures as what it is sold as.
    RightSheet,
    /// A part's cuts leave something of it.
    Solid,
    /// A round or a chamfer leaves some of the edge.
    EdgeLeavesWood,
}

impl Rule {
    /// Every rule.
    pub const ALL: &[Rule] = &[
        Rule::Overlap,
        Rule::LockedOut,
        Rule::Season,
        Rule::Captive,
        Rule::GlueTime,
        Rule::ToolReach,
        Rule::Shoulder,
        Rule::TenonLength,
        Rule::BottomRoom,
        Rule::TenonHold,
        Rule::TenonThickness,
        Rule::JointRule,
        Rule::MortisesMeet,
        Rule::MortiseBreaksOut,
        Rule::MortiseCheek,
        Rule::ShortGrain,
        Rule::GlueAcross,
        Rule::PanelThickness,
        Rule::PanelEngaged,
        Rule::PanelBottoms,
        Rule::GrooveCutter,
        Rule::GrooveLeavesWood,
        Rule::BareLine,
        Rule::OverhangStays,
        Rule::ButtonHolds,
        Rule::MoistureRange,
        Rule::SlatBears,
        Rule::CleatBears,
        Rule::SlatsFit,
        Rule::ShelfFits,
        Rule::ShelfBears,
        Rule::ShelfLevel,
        Rule::ShelfGrows,
        Rule::ShelfHasTooth,
        Rule::Sags,
        Rule::Holds,
        Rule::NotJudged,
        Rule::Stands,
        Rule::Lift,
        Rule::BoxFits,
        Rule::AllPlaced,
        Rule::BoxStands,
        Rule::FloorBears,
        Rule::FitsSite,
        Rule::Carried,
        Rule::AboveGround,
        Rule::StickLength,
        Rule::NoSuchPart,
        Rule::MadePartFits,
        Rule::CutsStillRight,
        Rule::GluedToOthers,
        Rule::RightSheet,
        Rule::Solid,
        Rule::EdgeLeavesWood,
    ];

    /// Its name in files.
    pub fn id(self) -> &'static str {
        match self {
            Rule::Overlap => "overlap",
            Rule::LockedOut => "locked_out",
            Rule::Season => "season",
            Rule::Captive => "captive",
            Rule::GlueTime => "glue_time",
            Rule::ToolReach => "tool_reach",
            Rule::Shoulder => "shoulder",
            Rule::TenonLength => "tenon_length",
            Rule::BottomRoom => "bottom_room",
            Rule::TenonHold => "tenon_hold",
            Rule::TenonThickness => "tenon_thickness",
            Rule::JointRule => "joint_rule",
            Rule::MortisesMeet => "mortises_meet",
            Rule::MortiseBreaksOut => "mortise_breaks_out",
            Rule::MortiseCheek => "mortise_cheek",
            Rule::ShortGrain => "short_grain",
            Rule::GlueAcross => "glue_across",
            Rule::PanelThickness => "panel_thickness",
            Rule::PanelEngaged => "panel_engaged",
            Rule::PanelBottoms => "panel_bottoms",
            Rule::GrooveCutter => "groove_cutter",
            Rule::GrooveLeavesWood => "groove_leaves_wood",
            Rule::BareLine => "bare_line",
            Rule::OverhangStays => "overhang_stays",
            Rule::ButtonHolds => "button_holds",
            Rule::MoistureRange => "moisture_range",
            Rule::SlatBears => "slat_bears",
            Rule::CleatBears => "cleat_bears",
            Rule::SlatsFit => "slats_fit",
            Rule::ShelfFits => "shelf_fits",
            Rule::ShelfBears => "shelf_bears",
            Rule::ShelfLevel => "shelf_level",
            Rule::ShelfGrows => "shelf_grows",
            Rule::ShelfHasTooth => "shelf_has_tooth",
            Rule::Sags => "sags",
            Rule::Holds => "holds",
            Rule::NotJudged => "not_judged",
            Rule::Stands => "stands",
            Rule::Lift => "lift",
            Rule::BoxFits => "box_fits",
            Rule::AllPlaced => "all_placed",
            Rule::BoxStands => "box_stands",
            Rule::FloorBears => "floor_bears",
            Rule::FitsSite => "fits_site",
            Rule::Carried => "carried",
            Rule::AboveGround => "above_ground",
            Rule::StickLength => "stick_length",
            Rule::NoSuchPart => "no_such_part",
            Rule::MadePartFits => "made_part_fits",
            Rule::CutsStillRight => "cuts_still_right",
            Rule::GluedToOthers => "glued_to_others",
            Rule::RightSheet => "right_sheet",
            Rule::Solid => "solid",
            Rule::EdgeLeavesWood => "edge_leaves_wood",
        }
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
    findings.extend(stands::check(design, model));
    findings.extend(shelves::check(design, model));
    findings.extend(ground::check(model));
    findings.extend(floors::check(design, model));
    findings.extend(site::check(design, model));
    findings.extend(edges::check(model));
    milled::quiet(model, &mut findings);
    gather::gather(findings)
}
