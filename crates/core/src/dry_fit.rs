//! The whole dry fit: what the checks find in the case as it stands, what is found on the way there, and at its driest and wettest.

mod costs;
mod old;
mod remedies;
mod trials;

use crate::contents;
use crate::design::Design;
use crate::finishing;
use crate::inspect::{Finding, inspect, leaning_findings};
use crate::loads;
use crate::model::Model;
use crate::seasons;
use crate::sequence::{self, Sequence};
use crate::shapes::Solids;

/// The dry fit of a model.
#[derive(Clone, Debug)]
pub struct DryFit {
    /// Everything that was found, the most serious first.
    pub findings: Vec<Finding>,
    /// The order of assembly.
    pub order: Sequence,
}

impl DryFit {
    /// Checks the case as it stands and through its seasons, and finds the order in which it goes together.
    pub fn of(design: &Design, model: &Model, solids: &Solids) -> DryFit {
        DryFit::after(inspect(design, model, solids), design, model, solids)
    }

    /// The same where the checks were made before.
    pub fn after(mut findings: Vec<Finding>, design: &Design, model: &Model, solids: &Solids) -> DryFit {
        let order = Sequence::of(design, model, solids);
        findings.extend(seasons::findings(design, model, solids, &findings));
        findings.extend(sequence::findings(&order, model, &design.shop.glue));
        sequence::not_out_of_reach(&order, &mut findings);
        findings.extend(finishing::findings(design, model));
        findings.extend(seasons::overhang_findings(design, model));
        findings.extend(loads::lift_findings(design, &loads::lifts(design, model, solids, &order)));
        findings.extend(loads::unjudged_findings(model, &loads::UnderLoad::of(design, model)));
        findings.extend(leaning_findings(design, model, solids, &findings));
        findings.extend(contents::findings(design, model));
        contents::lay_for_what_no_shelf_takes(design, model, &mut findings);
        costs::weigh(design, model, solids, &order, &mut findings);
        // Those of one seriousness stay in the order in which they were found.
        findings.sort_by_key(|finding| finding.seriousness);
        DryFit { findings, order }
    }
}
