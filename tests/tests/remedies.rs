//! What the dry fit offers to mend a finding: after it the whole case has nothing new that is as serious, or the words say what it has; and where a size of
//! the demo that was made wrong is to blame, something that mends is always offered.

use casewright_core::design::decisions;
use casewright_core::inspect::{Remedy, Rule};
use casewright_core::{DryFit, Finding, Seriousness};
use casewright_tests::{Case, demo_with};

/// The demo with other decisions, and all that is found in it.
struct Fitted {
    case: Case,
    findings: Vec<Finding>,
}

impl Fitted {
    fn with(changes: &[(&str, &str)]) -> Fitted {
        Fitted::of(Case::of(demo_with(changes)).unwrap_or_else(|errors| panic!("{changes:?}: {errors:?}")))
    }

    fn of(case: Case) -> Fitted {
        let findings = DryFit::after(case.findings.clone(), &case.design, &case.model, &case.solids).findings;
        Fitted { case, findings }
    }

    fn after(&self, remedy: &Remedy) -> Fitted {
        let mut design = self.case.design.clone();
        let refused = decisions::set_all(&mut design, &remedy.changes);
        assert!(refused.is_empty(), "{}: {refused:?}", remedy.words);
        Fitted::of(Case::of(design).unwrap_or_else(|errors| panic!("{}: {errors:?}", remedy.words)))
    }

    /// Whether it has a finding of that rule that is as grave and about the same parts, or more of them.
    fn has(&self, finding: &Finding, of: &Fitted) -> bool {
        let names: Vec<&str> = self
            .findings
            .iter()
            .filter(|other| other.rule == finding.rule && other.seriousness <= finding.seriousness)
            .flat_map(|other| self.case.names(other))
            .collect();
        let same_kind = self.findings.iter().any(|other| other.rule == finding.rule);
        same_kind && of.case.names(finding).iter().all(|name| names.contains(name))
    }

    /// What is new after a remedy and as serious as what it mends.
    fn new_after<'a>(&self, after: &'a Fitted, finding: &Finding) -> Vec<&'a Finding> {
        let grave = |other: &&Finding| other.seriousness <= finding.seriousness && other.seriousness != Seriousness::Note;
        after.findings.iter().filter(grave).filter(|other| !self.has(other, after)).collect()
    }

    fn of_rule(&self, rule: Rule) -> &Finding {
        self.findings.iter().find(|finding| finding.rule == rule).unwrap_or_else(|| panic!("no {rule:?} in {:?}", self.told()))
    }

    fn told(&self) -> Vec<&str> {
        self.findings.iter().map(|finding| finding.message.as_str()).collect()
    }
}

fn changing(finding: &Finding) -> impl Iterator<Item = &Remedy> {
    finding.remedies.iter().filter(|remedy| !remedy.changes.is_empty())
}

/// What a remedy brings is said in its words after this.
const COST: &str = "but then";

/// Every remedy that is offered for these: sizes of one kind of joint, of the rails and of the shelves.
#[test]
fn what_a_remedy_brings_is_told_or_it_is_not_offered() {
    let designs: &[&[(&str, &str)]] = &[
        &[("joinery.rail_to_post.depth_in_face", "30")],
        &[("sawtooth.slats.count", "24")],
        &[("carcase.rails.top", "20")],
        &[("carcase.rails.thickness", "10")],
        &[("carcase.post.width", "40")],
        &[("part.top.width", "460"), ("carcase.depth", "500")],
        &[("interior.bays.1.opening.shelves.1", "23"), ("interior.bays.1.opening.shelves.2", "24")],
    ];
    let mut tried = 0;
    for changes in designs {
        let fitted = Fitted::with(changes);
        let mut done: Vec<&Remedy> = Vec::new();
        for finding in &fitted.findings {
            for remedy in changing(finding).filter(|remedy| remedy.changes.iter().all(|(path, _)| !path.starts_with("shop."))) {
                if done.iter().any(|known| known.changes == remedy.changes) {
                    continue;
                }
                done.push(remedy);
                tried += 1;
                let after = fitted.after(remedy);
                let new = fitted.new_after(&after, finding);
                let told = remedy.words.contains(COST);
                assert!(
                    new.is_empty() || told,
                    "{changes:?}: “{}” brings {:?}",
                    remedy.words,
                    new.iter().map(|f| &f.message).collect::<Vec<_>>()
                );
            }
        }
    }
    assert!(tried >= 12, "{tried}");
}

/// Stagger the mortises of the demo's rails, and the rows of tenons no longer keep the distance from the edge: at risk, which is milder than mortises that
/// meet, and is said.
#[test]
fn a_remedy_that_brings_something_milder_says_what() {
    let fitted = Fitted::with(&[("joinery.rail_to_post.depth_in_face", "30")]);
    let stagger = changing(fitted.of_rule(Rule::MortisesMeet)).find(|remedy| remedy.words.starts_with("Stagger")).expect("it mends");
    assert!(stagger.words.contains("; but then at risk: "), "{}", stagger.words);
}

/// A shelf on a tooth that another has taken: the nearest tooth that leaves room for a cleat of 28 and slats of 20 (two teeth of 32) is 20 or 24.
#[test]
fn a_shelf_whose_tooth_is_taken_is_offered_the_nearest_free_one() {
    let fitted = Fitted::with(&[("interior.bays.1.opening.shelves.1", "22")]);
    let finding = fitted.of_rule(Rule::ShelfHasTooth);
    let remedy = changing(finding).next().expect("a free tooth");
    assert!(["20", "24"].contains(&remedy.changes[0].1.as_str()), "{remedy:?}");
    assert!(fitted.after(remedy).findings.iter().all(|other| !matches!(other.rule, Rule::ShelfHasTooth | Rule::Overlap)));
}

/// Each of these is one size of the demo that is wrong.
#[test]
fn every_size_that_is_wrong_can_be_mended() {
    let on_end = |path: &'static str| (path, "mortise_and_tenon");
    let dowels = |path: &'static str| (path, "dowels");
    let designs: &[&[(&str, &str)]] = &[
        &[("joinery.rail_to_post.margin", "2")],
        &[("joinery.standard_to_post.margin", "2")],
        &[on_end("joinery.rail_to_post.by"), ("joinery.rail_to_post.tenon.shoulder", "1")],
        &[on_end("joinery.stile_to_rail.by"), ("joinery.stile_to_rail.tenon.shoulder", "1")],
        &[on_end("joinery.cross_rail_to_rail.by"), ("joinery.cross_rail_to_rail.tenon.shoulder", "1")],
        &[dowels("joinery.rail_to_post.by"), ("joinery.rail_to_post.dowels.deeper", "10")],
        &[dowels("joinery.stile_to_rail.by"), ("joinery.stile_to_rail.dowels.deeper", "10")],
        &[dowels("joinery.cross_rail_to_rail.by"), ("joinery.cross_rail_to_rail.dowels.deeper", "10")],
        &[("carcase.rails.thickness", "10")],
        &[("carcase.top.buttons.tongue", "4")],
        &[("joinery.groove.depth", "20")],
        &[("joinery.groove.depth", "40")],
    ];
    for changes in designs {
        let fitted = Fitted::with(changes);
        let grave = || fitted.findings.iter().filter(|finding| finding.seriousness != Seriousness::Note && finding.rule != Rule::GlueTime);
        assert!(grave().count() > 0, "{changes:?} is wrong");
        for finding in grave() {
            let remedy = changing(finding).next().unwrap_or_else(|| panic!("{changes:?}: nothing mends: {}", finding.message));
            let after = fitted.after(remedy);
            let left = after
                .findings
                .iter()
                .find(|other| other.rule == finding.rule && other.joint == finding.joint && other.message == finding.message);
            assert!(left.is_none(), "{changes:?}: “{}” did not mend: {}", remedy.words, finding.message);
        }
    }
}

/// Each of these is one size of the demo, decided or measured, after which something will fail: to each failure a change is offered that mends it.
#[test]
fn to_whatever_fails_a_change_is_offered() {
    let designs: &[&[(&str, &str)]] = &[
        &[("carcase.rails.top", "54")],
        &[("carcase.rails.top", "36")],
        &[("sawtooth.thickness", "26")],
        &[("sawtooth.backing", "13.5")],
        &[("sawtooth.seat", "60")],
        &[("sawtooth.slats.width", "46")],
        &[("sawtooth.slats.count", "1"), ("sawtooth.slats.width", "92")],
        &[("timber.moisture.wettest", "14"), ("sawtooth.cleat.play", "0.1")],
        &[("timber.panel.measured", "28")],
        &[("timber.panel.measured", "60")],
        &[("carcase.post.width", "36")],
        &[("carcase.post.depth", "105.6")],
        &[("carcase.top.buttons.length", "110")],
        &[("made.floor.1.width", "420"), ("made.floor.1.state", "cut")],
        &[("made.floor.1.length", "525"), ("made.floor.1.state", "cut")],
        &[("made.cleat.1.1.left.length", "345"), ("made.cleat.1.1.left.state", "cut")],
        &[("part.floor.1.width", "420")],
        &[("made.panel.back.1.length", "1236")],
    ];
    for changes in designs {
        let fitted = Fitted::with(changes);
        let grave =
            || fitted.findings.iter().filter(|finding| finding.seriousness == Seriousness::WillFail || finding.rule == Rule::PanelEngaged);
        assert!(grave().count() > 0, "{changes:?} is wrong");
        // What mends several is tried once.
        let mut tried: Vec<(Vec<(String, String)>, Fitted)> = Vec::new();
        for finding in grave() {
            let remedy = changing(finding).next().unwrap_or_else(|| panic!("{changes:?}: nothing mends: {}", finding.message));
            if !tried.iter().any(|(known, _)| *known == remedy.changes) {
                tried.push((remedy.changes.clone(), fitted.after(remedy)));
            }
            let after = tried.iter().find(|(known, _)| *known == remedy.changes).map(|(_, after)| after);
            let left = after.and_then(|after| after.findings.iter().find(|other| other.message == finding.message));
            assert!(left.is_none(), "{changes:?}: “{}” did not mend: {}", remedy.words, finding.message);
        }
    }
}

/// A remedy for what fails tells too what it puts at risk: rails 84 high leave no place for some of the boxes.
#[test]
fn what_a_remedy_puts_at_risk_is_told_as_well() {
    for changes in [&[("carcase.rails.top", "20")][..], &[("made.bearer.1.front.length", "100"), ("made.bearer.1.front.state", "cut")]] {
        let fitted = Fitted::with(changes);
        let mut tried: Vec<&Remedy> = Vec::new();
        for finding in fitted.findings.iter().filter(|finding| finding.seriousness == Seriousness::WillFail) {
            for remedy in changing(finding) {
                if tried.iter().any(|known| known.changes == remedy.changes) {
                    continue;
                }
                tried.push(remedy);
                let after = fitted.after(remedy);
                let lost = after.findings.iter().any(|other| other.rule == Rule::AllPlaced);
                let before = fitted.findings.iter().any(|other| other.rule == Rule::AllPlaced);
                assert!(!lost || before || remedy.words.contains(COST), "{changes:?}: {}", remedy.words);
            }
        }
        assert!(!tried.is_empty());
    }
}

/// A sheet of 18 in place of one of 12: first of all it is to be measured again.
#[test]
fn a_sheet_that_is_doubted_is_to_be_measured_again() {
    for changes in [("measured.timber.panel.measured", "18"), ("timber.panel.measured", "18")] {
        let fitted = Fitted::with(&[changes]);
        let finding = fitted.of_rule(Rule::RightSheet);
        assert_eq!(finding.remedies[0].words, "Measure it again");
        let taken = changing(finding).next().expect("what it is taken for till then");
        assert!(fitted.after(taken).findings.iter().all(|other| other.rule != Rule::RightSheet), "{}", taken.words);
    }
}

/// Each of these is one size that is wrong, and one change mends it: it is offered.
#[test]
fn what_mends_is_offered_whatever_size_is_wrong() {
    for (changes, wanted) in [
        (("sawtooth.cleat.play", "6"), "sawtooth.cleat.play"),
        (("interior.divider.width", "24"), "divider.width"),
        (("carcase.rails.reveal", "24"), "carcase.rails.reveal"),
        (("part.tenon.rail.front.bottom.post.front.left.1.length", "56"), "part.tenon.rail.front.bottom.post.front.left.1.length"),
        (("part.floor.1.width", "380"), "part.floor.1.width"),
        (("part.top.width", "460"), "part.top.width"),
        (("part.top.length", "1340"), "part.top.length"),
        (("part.rail.left.middle.1.width", "40"), "part.rail.left.middle.1.width"),
    ] {
        let fitted = Fitted::with(&[changes]);
        let is_grave = |finding: &&Finding| finding.seriousness != Seriousness::Note && finding.rule != Rule::GlueTime;
        let grave: Vec<_> = fitted.findings.iter().filter(is_grave).collect();
        assert!(!grave.is_empty(), "{changes:?} is wrong: {:?}", fitted.told());
        let wants = |remedy: &&Remedy| remedy.changes.iter().any(|(path, _)| path.contains(wanted));
        let offered = grave.iter().find_map(|finding| Some((finding, changing(finding).find(wants)?)));
        let (finding, remedy) = offered.unwrap_or_else(|| panic!("{changes:?}: {grave:#?}"));
        let after = fitted.after(remedy);
        assert!(!after.told().contains(&finding.message.as_str()), "{changes:?}: “{}” leaves it: {:?}", remedy.words, after.told());
    }
}

/// Nothing is offered for what fails after which something else does.
#[test]
fn no_remedy_has_something_else_fail() {
    for changes in [
        &[("carcase.post.depth", "34")][..],
        &[("carcase.rails.reveal", "12")],
        &[("joinery.rail_to_post.depth_in_face", "30")],
        &[("made.rail.front.bottom.length", "1252"), ("made.rail.front.bottom.state", "cut"), ("measured.carcase.post.width", "47")],
    ] {
        let fitted = Fitted::with(changes);
        let mut tried: Vec<&Remedy> = Vec::new();
        for remedy in fitted.findings.iter().flat_map(changing) {
            if tried.iter().any(|known| known.changes == remedy.changes) {
                continue;
            }
            tried.push(remedy);
            assert!(!remedy.words.contains("but then will fail"), "{changes:?}: {}", remedy.words);
            let after = fitted.after(remedy);
            let fails = |finding: &&Finding| finding.seriousness == Seriousness::WillFail && !fitted.has(finding, &after);
            let new: Vec<_> = after.findings.iter().filter(fails).map(|finding| &finding.message).collect();
            assert!(new.is_empty(), "{changes:?}: “{}” brings {new:?}", remedy.words);
        }
        assert!(!tried.is_empty(), "{changes:?}");
    }
}
