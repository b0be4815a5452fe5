//! Remedies that are tried on the design before they are offered.

use std::cell::{OnceCell, RefCell};
use std::rc::Rc;

use super::{Finding, Gaps, Remedy, Rule, Seriousness, contents, judged};
use crate::derive::derive;
use crate::design::{Design, decisions};
use crate::joint::sizes_path;
use crate::model::Model;

/// Decisions and their new values, as a remedy has them.
type Changes = [(String, String)];

/// Tries remedies on a design; each change once, however many findings would offer it.
pub(super) struct Proof<'d> {
    /// The design; none where a remedy is being tried already.
    design: Option<&'d Design>,
    /// Changes tried, and what came of each that gives a case.
    known: RefCell<Vec<Known>>,
    /// Gaps between cuts that were measured before.
    gaps: Rc<Gaps>,
}

/// Changes that were tried, and what came of them.
type Known = (Vec<(String, String)>, Option<Rc<Tried>>);

/// The case after a change.
pub(super) struct Tried {
    design: Design,
    pub model: Model,
    findings: OnceCell<Vec<Finding>>,
    gaps: Rc<Gaps>,
}

impl Tried {
    /// What is found in it without its solids; looked for when it is asked.
    fn findings(&self) -> &[Finding] {
        self.findings.get_or_init(|| judged(&self.design, &self.model, &Proof::none(&self.gaps)))
    }
}

impl<'d> Proof<'d> {
    pub fn new(design: &'d Design) -> Proof<'d> {
        Proof { design: Some(design), known: RefCell::default(), gaps: Rc::default() }
    }

    /// One that tries nothing.
    pub fn none(gaps: &Rc<Gaps>) -> Proof<'d> {
        Proof { design: None, known: RefCell::default(), gaps: Rc::clone(gaps) }
    }

    /// The gaps between cuts that were measured so far.
    pub fn gaps(&self) -> &Rc<Gaps> {
        &self.gaps
    }

    /// Whether remedies are worth seeking: not where one is being tried already.
    pub fn seeks(&self) -> bool {
        self.design.is_some()
    }

    /// The case after some changes; none where they give none.
    pub fn tried(&self, changes: &Changes) -> Option<Rc<Tried>> {
        let known = self.known.borrow().iter().find(|(tried, _)| tried == changes).map(|(_, tried)| tried.clone());
        known.unwrap_or_else(|| {
            let tried = self.design.and_then(|design| attempt(design, changes, &self.gaps)).map(Rc::new);
            self.known.borrow_mut().push((changes.to_vec(), tried.clone()));
            tried
        })
    }

    /// Findings with those of their remedies that can be made and that mend; where none of its own does, what mends another and this one
    /// too.
    pub fn prove(&self, model: &Model, findings: Vec<Finding>) -> Vec<Finding> {
        let Some(design) = self.design else { return findings };
        let mends = |finding: &Finding, remedy: &Remedy| match Family::of(finding.rule) {
            Some(family) if !remedy.changes.is_empty() => self.mends(model, &findings, finding, family, remedy),
            None if lies(finding.rule) && !remedy.changes.is_empty() => {
                possible(design, remedy) && self.rids(model, &findings, finding, remedy)
            }
            _ => possible(design, remedy),
        };
        let own = |finding: &Finding| finding.remedies.iter().filter(|remedy| mends(finding, remedy)).cloned().collect::<Vec<_>>();
        let proved: Vec<Vec<Remedy>> = findings.iter().map(own).collect();
        let mut known: Vec<&Remedy> = Vec::new();
        for remedy in proved.iter().flatten().filter(|remedy| !remedy.changes.is_empty()) {
            if !known.iter().any(|other| other.changes == remedy.changes) {
                known.push(remedy);
            }
        }
        let of_others = |finding: &Finding, remedies: &[Remedy]| {
            let wants = Family::of(finding.rule).is_some_and(|family| !matches!(family, Family::Rules | Family::Site));
            let wants = wants && remedies.iter().all(|remedy| remedy.changes.is_empty());
            let others = known.iter().filter(move |_| wants).filter(|remedy| mends(finding, remedy));
            others.take(MOST_OF_OTHERS).map(|remedy| (*remedy).clone()).collect::<Vec<_>>()
        };
        let all = findings.iter().zip(&proved).map(|(finding, remedies)| {
            let remedies = remedies.iter().cloned().chain(of_others(finding, remedies)).collect();
            Finding { remedies, ..finding.clone() }
        });
        all.collect()
    }

    /// Whether the very same is no longer found after a remedy, and nothing fails that did not `before`; of a cleat that slides or a shelf that is tilted, nothing at all.
    fn rids(&self, model: &Model, before: &[Finding], finding: &Finding, remedy: &Remedy) -> bool {
        let first = finding.parts.first().map(|part| model.part(*part).name.as_str());
        self.tried(&remedy.changes).is_some_and(|tried| {
            let named = |other: &Finding| other.parts.iter().any(|part| Some(tried.model.part(*part).name.as_str()) == first);
            let told = |other: &Finding| {
                if matches!(finding.rule, Rule::CleatStays | Rule::ShelfTilts) { named(other) } else { other.message == finding.message }
            };
            let fails = |other: &&Finding| other.seriousness == Seriousness::WillFail;
            let failed = |other: &Finding| before.iter().filter(fails).any(|known| known.rule == other.rule);
            let rid = !tried.findings().iter().any(|other| other.rule == finding.rule && told(other));
            rid && tried.findings().iter().filter(fails).all(failed)
        })
    }

    /// Whether a remedy leaves nothing of the family of its finding in the joints that rest on the same decisions, and lets nothing fail
    /// that did not fail `before`.
    fn mends(&self, model: &Model, before: &[Finding], finding: &Finding, family: Family, remedy: &Remedy) -> bool {
        let Some(tried) = self.tried(&remedy.changes) else { return false };
        let scope = |model: &Model, finding: &Finding| finding.joint.map(|joint| model.joint(joint)).and_then(sizes_path);
        let own = scope(model, finding);
        // A panel is mended for itself, or for all that the finding speaks for.
        let named: Vec<&str> = finding.parts.iter().map(|part| model.part(*part).name.as_str()).collect();
        let of_panels = |other: &Finding| other.parts.first().is_some_and(|part| named.contains(&tried.model.part(*part).name.as_str()));
        let same = |other: &Finding| if family == Family::Panels { of_panels(other) } else { scope(&tried.model, other) == own };
        let left = |other: &Finding| Family::of(other.rule) == Some(family) && same(other);
        let fails = |other: &&Finding| other.seriousness == Seriousness::WillFail;
        let failed = |other: &Finding| before.iter().filter(fails).any(|known| known.rule == other.rule);
        let mended = matches!(family, Family::Rules | Family::Site) || !tried.findings().iter().any(left);
        let holds = || family != Family::Site || contents::check(&tried.design, &tried.model).iter().filter(fails).all(failed);
        mended && tried.findings().iter().filter(fails).all(failed) && holds()
    }
}

/// Whether a rule is of what lies on what in a shelf: a size that mends one of them may want another besides.
fn lies(rule: Rule) -> bool {
    matches!(
        rule,
        Rule::SlatBears | Rule::SlatsFit | Rule::CleatBears | Rule::CleatStays | Rule::ShelfTilts | Rule::FloorBears | Rule::BoxStands
    )
}

/// So many remedies a finding takes from others at most.
const MOST_OF_OTHERS: usize = 2;

/// Whether the changes of a remedy can be made, and leave a design in range.
fn possible(design: &Design, remedy: &Remedy) -> bool {
    let mut changed = design.clone();
    remedy.changes.iter().all(|(path, value)| decisions::set(&mut changed, path, value).is_ok()) && decisions::check(&changed).is_empty()
}

fn attempt(design: &Design, changes: &Changes, gaps: &Rc<Gaps>) -> Option<Tried> {
    let mut changed = design.clone();
    for (path, value) in changes {
        decisions::set(&mut changed, path, value).ok()?;
    }
    let model = derive(&changed).ok()?;
    Some(Tried { design: changed, model, findings: OnceCell::new(), gaps: Rc::clone(gaps) })
}

/// Rules of joints that are about one thing: what mends one of them must not break another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Family {
    /// How long and how deep loose parts go.
    Depth,
    /// What mortises leave of their part.
    Mortises,
    /// How thick loose tenons are.
    Thickness,
    /// What mortises leave beside them.
    Beside,
    /// What grooves leave of their part.
    Grooves,
    /// How panels are held in their grooves.
    Panels,
    /// Where the case goes: what makes it smaller must leave room for what it holds.
    Site,
    /// Each rule for itself: what mends it is held by the check that tells it, and must only let nothing else fail.
    Rules,
}

impl Family {
    fn of(rule: Rule) -> Option<Family> {
        match rule {
            Rule::TenonLength | Rule::BottomRoom | Rule::TenonHold => Some(Family::Depth),
            Rule::MortisesMeet | Rule::MortiseBreaksOut => Some(Family::Mortises),
            Rule::TenonThickness => Some(Family::Thickness),
            Rule::MortiseCheek | Rule::ShortGrain => Some(Family::Beside),
            Rule::GrooveLeavesWood => Some(Family::Grooves),
            Rule::PanelEngaged | Rule::PanelBottoms => Some(Family::Panels),
            Rule::JointRule => Some(Family::Rules),
            Rule::FitsSite | Rule::Carried => Some(Family::Site),
            _ => None,
        }
    }
}
