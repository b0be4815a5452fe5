//! As milled: what was measured and made in the shop, and what follows for what is not yet cut and for what is.
//!
//! Sizes in these tests are worked out by hand beside them from the demo's: case 1360 × 470 × 1480, posts 48, rails 24 set back 4.

mod cuts;
mod follows;
mod loose;
mod lying;
mod misfits;
mod record;
mod recorded;
mod rough;
mod sheets;
mod shims;
mod stock;
mod thin;

use casewright_core::design::Dimension;
use casewright_core::design::shop::{self, State};
use casewright_core::inspect::{Finding, Remedy, Rule, Seriousness};
use casewright_core::{Design, Length, Model};
use casewright_tests::{Case, set};

fn case(design: &Design) -> Case {
    Case::of(design.clone()).unwrap_or_else(|errors| panic!("{errors:?}"))
}

fn measure_batch(design: &mut Design, of: &str, mm: f64) {
    shop::measure_batch(design, of, Some(Length::mm(mm))).unwrap_or_else(|error| panic!("{error}"));
}

fn measure(design: &mut Design, part: &str, of: Dimension, mm: f64) {
    shop::measure(design, part, of, Some(Length::mm(mm))).unwrap_or_else(|error| panic!("{error}"));
}

fn make(design: &mut Design, part: &str, state: State) {
    shop::set_state(design, part, state).unwrap_or_else(|error| panic!("{error}"));
}

fn size(case: &Case, part: &str, of: Dimension) -> f64 {
    case.model.find(part).unwrap_or_else(|| panic!("{part} is not there")).size[of.index()].mm
}

/// What is told of parts that are there.
fn of_shop(case: &Case) -> Vec<&Finding> {
    case.findings.iter().filter(|finding| matches!(finding.rule, Rule::MadePartFits | Rule::CutsStillRight | Rule::NoSuchPart)).collect()
}

fn apply(design: &Design, remedy: &Remedy) -> Case {
    let mut mended = design.clone();
    for (path, value) in &remedy.changes {
        set(&mut mended, path, value).unwrap_or_else(|error| panic!("{}: {error}", remedy.words));
    }
    Case::of(mended).unwrap_or_else(|errors| panic!("{}: {errors:?}", remedy.words))
}

/// Every remedy that changes something mends its finding, and breaks nothing that was made.
fn assert_each_mends(case: &Case, finding: &Finding) {
    let before = of_shop(case).len();
    for remedy in finding.remedies.iter().filter(|remedy| !remedy.changes.is_empty()) {
        let after = apply(&case.design, remedy);
        // What is sawn off takes its joint with it: that is still to be cut then.
        let anew = |finding: &&Finding| {
            remedy.words.contains("anew") && finding.rule == Rule::CutsStillRight && finding.seriousness == Seriousness::Note
        };
        let left: Vec<_> = of_shop(&after).into_iter().filter(|finding| !anew(finding)).map(|finding| finding.message.clone()).collect();
        assert!(!left.contains(&finding.message), "{} does not mend: {}", remedy.words, finding.message);
        assert!(left.len() < before, "{} leaves {left:?}", remedy.words);
        let shoulders = after.findings.iter().filter(|finding| finding.rule == Rule::Shoulder).count();
        assert_eq!(shoulders, 0, "{} opens shoulders", remedy.words);
    }
}

/// Sizes, places and cuts of all parts.
fn bones(model: &Model) -> Vec<String> {
    let round = |value: f64| (value * 1e4).round() / 1e4 + 0.0;
    let all = |values: &[f64]| values.iter().copied().map(round).map(|value| value.to_string()).collect::<Vec<_>>().join(" ");
    model
        .parts
        .iter()
        .map(|part| {
            let cuts: Vec<_> = part.cuts.iter().map(|cut| cut.feature.describe()).collect();
            format!("{} {} {} {}", part.name, all(&part.lwt().to_array()), all(&part.pose.origin.to_array()), cuts.join("; "))
        })
        .collect()
}
