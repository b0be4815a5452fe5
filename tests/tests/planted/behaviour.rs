//! What the faults don't say: what remedies do, and what the right case can do.

use approx::assert_abs_diff_eq;
use casewright_core::inspect::{Finding, Rule, Seriousness};
use casewright_core::model::Feature;
use casewright_core::{Design, design};
use casewright_solid::overlap;
use casewright_tests::{Case, demo, demo_with, set};

use super::{Fault, Judged, Made};

#[test]
fn the_demo_has_nothing_to_find() {
    let case = Case::with(&[]);
    assert_eq!(case.findings, [], "the demo is right");
}

/// Every change that is offered for a planted fault takes its finding away, and the case still derives.
#[test]
fn what_is_offered_for_a_fault_mends_it() {
    let mut tried = 0;
    for fault in super::all().into_iter().flatten() {
        let Made::Demo { twin, wrong } = fault.made else { continue };
        let judged = fault.wrong();
        let offered = judged.findings.iter().flat_map(|finding| finding.remedies.iter().map(move |remedy| (finding, remedy)));
        for (finding, remedy) in offered.filter(|(_, remedy)| !remedy.changes.is_empty()) {
            let mut design = demo_with(&[twin, wrong].concat());
            for (path, value) in &remedy.changes {
                set(&mut design, path, value).unwrap_or_else(|error| panic!("{}: {error}", remedy.words));
            }
            let after = Case::of(design).unwrap_or_else(|errors| panic!("{}: {errors:?}", remedy.words));
            // And nothing else fails that did not.
            let failed = |rule: Rule| judged.findings.iter().any(|other| other.rule == rule && other.seriousness == Seriousness::WillFail);
            let new: Vec<_> = after.failures().into_iter().filter(|other| !failed(other.rule)).map(|other| &other.message).collect();
            assert!(new.is_empty(), "{}: {} gives {new:?}", fault.name, remedy.words);
            let left: Vec<_> = after.findings.iter().filter(|other| other.rule == finding.rule).map(|other| &other.message).collect();
            assert!(left.is_empty(), "{}: {} leaves {left:?}", fault.name, remedy.words);
            tried += 1;
        }
    }
    assert!(tried >= 15, "{tried}");
}

fn the_finding(name: &str) -> (Judged, Finding) {
    let mut all = super::all().into_iter().flatten();
    let fault: &Fault = all.find(|fault| fault.name == name).unwrap_or_else(|| panic!("{name}"));
    let judged = fault.wrong();
    let finding = judged.findings[0].clone();
    (judged, finding)
}

/// Two rails in a post of 45, asked for mortises of 30 (figures by hand: `inspect::clash`).
#[test]
fn three_ways_out_are_told_where_mortises_meet() {
    let (judged, finding) = the_finding("mortises 30 deep that meet in posts of 45");
    assert!(finding.message.contains("into the other mortise in Post, front left"), "{}", finding.message);
    let figure = |name: &str| finding.figures.iter().find(|figure| figure.name == name).map(|figure| figure.value);
    for (name, value) in [("depth", 30.0), ("unmet", 25.5), ("mitred, outer cheek", 34.5), ("mitred, inner cheek", 27.5)] {
        assert_abs_diff_eq!(figure(name).unwrap_or(f64::NAN), value, epsilon = 1e-9);
    }
    let words: Vec<_> = finding.remedies.iter().map(|remedy| remedy.words.as_str()).collect();
    assert_eq!(words.len(), 3, "{words:?}");
    assert!(words[0].contains("25.5 mm deep"), "{words:?}");
    assert!(words[1].contains("Mitre") && words[1].contains("34.5") && words[1].contains("27.5"), "{words:?}");
    assert!(words[2].contains("Stagger"), "{words:?}");
    assert!(finding.remedies.iter().all(|remedy| !remedy.changes.is_empty()), "each is a change of the design");
    // One word for all four posts and every rail in them.
    let posts = judged.names(&finding).into_iter().filter(|name| name.starts_with("post.")).count();
    assert_eq!(posts, 4);
}

/// Where a slot cutter's ramp runs on into a mortise, the panels' corners can be cut off.
#[test]
fn panels_with_their_corners_cut_off_are_offered_where_a_cutter_runs_on() {
    let (_, finding) = the_finding("grooves that a slot cutter runs on into the mortises");
    let changes: Vec<_> = finding.remedies.iter().flat_map(|remedy| &remedy.changes).collect();
    assert_eq!(changes, [&("joinery.groove.corners".to_owned(), "cut_off".to_owned())]);
}

fn mended(fault: &str, words: &str) -> Case {
    let (_, finding) = the_finding(fault);
    let mut all = super::all().into_iter().flatten();
    let Some(Fault { made: Made::Demo { twin, wrong }, .. }) = all.find(|other| other.name == fault) else { panic!("{fault}") };
    let mut design = demo_with(&[*twin, *wrong].concat());
    let remedy = finding.remedies.iter().find(|remedy| remedy.words.contains(words)).unwrap_or_else(|| panic!("{words}"));
    for (path, value) in &remedy.changes {
        set(&mut design, path, value).unwrap_or_else(|error| panic!("{error}"));
    }
    Case::of(design).unwrap_or_else(|errors| panic!("{errors:?}"))
}

/// Mitred, two tenons meet in a post and are as long as decided; the longer cheek is the outer one, 45° across the end.
#[test]
fn mitred_loose_tenons_meet_in_the_post() {
    let case = mended("mortises 30 deep that meet in posts of 45", "Mitre");
    let tenon = |name: &str| case.model.find(name).unwrap_or_else(|| panic!("{name}"));
    for name in ["tenon.rail.front.top.post.front.left.1", "tenon.rail.left.top.post.front.left.1"] {
        let tenon = tenon(name);
        assert_abs_diff_eq!(tenon.size[0].mm, 55.5, epsilon = 1e-9);
        let mitre = tenon.cuts.iter().find(|cut| cut.feature.name() == "mitre").unwrap_or_else(|| panic!("{name} is mitred"));
        assert!(mitre.feature.describe().contains("7 off"), "{}", mitre.feature.describe());
        let whole = case.solids.shape(tenon.id).expect("a tenon").volume;
        // 22 wide, half round at both edges; the mitre takes half of 7 × 7 off its whole width.
        let section = 7.0 * 15.0 + std::f64::consts::PI * 3.5 * 3.5;
        assert_abs_diff_eq!(whole, section * 55.5 - section * 7.0 / 2.0, epsilon = 0.01 * whole);
    }
    let [front, side] = ["tenon.rail.front.top.post.front.left.1", "tenon.rail.left.top.post.front.left.1"].map(tenon);
    let [first, second] = [front, side].map(|part| case.solids.cells(part.id).expect("a solid"));
    assert!(overlap(first, &front.pose, second, &side.pose).is_none());
    // Square they would stand in each other: the boxes of the two do.
    let (a, b) = (front.block(), side.block());
    assert!((a.min - b.max).max(b.min - a.max).max_element() < -0.9);
}

/// Staggered, the mortises of one rail stand above those of the other, with a wall of 3 between them at least, and as deep as before.
#[test]
fn staggered_tenons_stand_one_above_the_other() {
    for (fault, depth) in
        [("mortises 30 deep that meet in posts of 45", 30.0), ("tenons of one's own length that meet in posts of 60", 42.0)]
    {
        let case = mended(fault, "Stagger");
        let post = case.model.find("post.front.left").expect("a post");
        // From and to along the post.
        let spans = |rail: &str| {
            let rail = case.model.find(rail).expect("a rail").id;
            let joint = case.model.joints.iter().find(|joint| joint.a == rail && joint.b == post.id).expect("their joint").id;
            let cuts = post.cuts.iter().filter(|cut| cut.joint == Some(joint));
            let mortises = cuts.filter_map(|cut| match cut.feature {
                Feature::Mortise { centre, length, depth, .. } => Some((centre.x - length / 2.0, centre.x + length / 2.0, depth)),
                _ => None,
            });
            mortises.collect::<Vec<_>>()
        };
        let (front, side) = (spans("rail.front.top"), spans("rail.left.top"));
        assert!(!front.is_empty() && !side.is_empty());
        for (low, _, deep) in &front {
            for (_, high, other) in &side {
                assert!(low - high >= 3.0 - 1e-9, "{front:?} above {side:?}");
                assert_abs_diff_eq!(*deep, depth, epsilon = 1e-9);
                assert_abs_diff_eq!(*other, depth, epsilon = 1e-9);
            }
        }
    }
}

/// Four standards run into the middle rails beside them: one thickness is wrong.
#[test]
fn one_wrong_figure_is_one_finding_that_counts_the_rest() {
    let (judged, finding) = the_finding("standards too thick for their pocket");
    assert!(finding.message.ends_with("more like it"), "{}", finding.message);
    assert!(judged.names(&finding).len() == 6, "{:?}", judged.names(&finding));
    assert_eq!(finding.rule, Rule::Overlap);
}

/// The floor of a bay goes down from above after glue-up, so nothing that stands over it may reach into its outline but the rails.
#[test]
fn the_floor_can_be_lowered_past_every_upright() {
    let case = Case::with(&[]);
    let uprights = case.model.parts.iter().filter(|part| ["post.", "stile.", "muntin."].iter().any(|kind| part.name.starts_with(kind)));
    let uprights: Vec<_> = uprights.collect();
    for bay in 1..=3 {
        let floor = case.model.find(&format!("floor.{bay}")).expect("a floor");
        let cells = case.solids.cells(floor.id).expect("a solid");
        // The same piece, lifted half way up.
        let lifted = casewright_solid::Pose { origin: floor.pose.origin + glam::DVec3::Y * 500.0, ..floor.pose };
        for upright in &uprights {
            let found = overlap(cells, &lifted, case.solids.cells(upright.id).expect("a solid"), &upright.pose);
            assert!(found.is_none(), "{} is caught by {}: {found:?}", floor.name, upright.name);
        }
    }
}

/// Decisions that each are in range but leave no room are refused with the decision to change.
#[test]
fn a_case_too_small_for_its_own_posts_is_refused() {
    for (changes, path) in [
        (vec![("carcase.width", "200"), ("carcase.post.width", "100")], "carcase.width"),
        (vec![("carcase.depth", "120"), ("carcase.post.depth", "60")], "carcase.depth"),
        (vec![("carcase.height", "240")], "carcase.height"),
        (vec![("interior.bays.1.size", "2000")], "interior.bays"),
        (vec![("carcase.rails.thickness", "60")], "carcase.rails.thickness"),
        (vec![("sawtooth.crest", "30"), ("sawtooth.pitch", "20")], "sawtooth.crest"),
        (vec![("carcase.left.middle_rails", "6"), ("carcase.rails.middle", "300")], "carcase.left.middle_rails"),
    ] {
        let mut design = demo();
        for (path, value) in &changes {
            set(&mut design, path, value).expect("in range one by one");
        }
        let errors = Case::of(design).expect_err("there is no room");
        assert_eq!(errors[0].path(), path, "{errors:?}");
        assert!(errors[0].to_string().contains(';'), "says what would do: {}", errors[0]);
    }
}

/// What a change of the width alters, and what it leaves alone (job of the cut list: rails, panels and shelves follow, uprights stay).
#[test]
fn rails_and_slats_follow_the_width_and_uprights_stay() {
    let (before, after) = (Case::with(&[]), Case::with(&[("carcase.width", "1410")]));
    let length = |case: &Case, name: &str| case.model.find(name).unwrap_or_else(|| panic!("{name}")).size[0].mm;
    assert_abs_diff_eq!(length(&after, "rail.front.top") - length(&before, "rail.front.top"), 50.0, epsilon = 1e-9);
    assert_abs_diff_eq!(length(&after, "top") - length(&before, "top"), 50.0, epsilon = 1e-9);
    assert_abs_diff_eq!(length(&after, "slat.3.1.1") - length(&before, "slat.3.1.1"), 50.0, epsilon = 1e-9);
    for name in ["post.front.left", "stile.1", "muntin.2", "standard.1.front.left", "slat.1.1.1", "rail.left.top"] {
        assert_abs_diff_eq!(length(&after, name), length(&before, name), epsilon = 1e-9);
    }
}

/// Every size is the sum that it says it is.
#[test]
fn every_size_is_what_its_origin_says() {
    use casewright_core::origin::{Origin, Size};
    fn adds_up(size: &Size) {
        match &size.origin {
            Origin::Sum(terms) => {
                let sum: f64 = terms.iter().map(|term| term.times * term.size.mm).sum();
                assert_abs_diff_eq!(sum, size.mm, epsilon = 1e-9);
                terms.iter().for_each(|term| adds_up(&term.size));
            }
            Origin::Rule { rule, inputs } => {
                assert!(!rule.is_empty());
                inputs.iter().for_each(adds_up);
            }
            Origin::Measured { path, planned } => {
                assert!(!path.is_empty(), "{}", size.name);
                adds_up(planned);
            }
            Origin::Decision { path } => assert!(!path.is_empty() || size.mm == 0.0, "{}", size.name),
        }
    }
    let case = Case::with(&[]);
    for part in &case.model.parts {
        part.size.iter().for_each(adds_up);
        assert!(!part.size[0].decisions().is_empty(), "{} rests on a decision", part.name);
    }
}

/// Loose joints that hold a solid top: the buttons at the fixed line are tight, those at the far side leave room for the movement.
#[test]
fn the_top_can_move_from_its_fixed_line() {
    let gaps = |fixed: &str| {
        let case = Case::with(&[("carcase.top.buttons.fixed", fixed)]);
        let gap = |rail: &str| {
            let rail = case.model.find(rail).expect("a rail").id;
            case.model.joints.iter().find_map(|joint| match &joint.kind {
                casewright_core::joint::JointKind::Button(figures) if joint.b == rail => Some(figures.gap),
                _ => None,
            })
        };
        (gap("rail.front.top").expect("a button"), gap("rail.back.top").expect("a button"))
    };
    // White ash, 414 from rail to rail, 0.00274 a percent, 8 to 11 %: 3.4 of growth (Wood Handbook table 13-5).
    let growth = 414.0 * 0.00274 * 3.0;
    let (front, back) = gaps("front");
    assert_abs_diff_eq!(front, 0.0, epsilon = 1e-9);
    assert!(back >= growth && back < growth + 1.0, "{back} for {growth}");
    let (front, back) = gaps("back");
    assert!(front >= growth && back == 0.0);
    let (front, back) = gaps("centre");
    assert_abs_diff_eq!(front, back, epsilon = 1e-9);
}

/// Written again by the program, the demo is still the same design.
#[test]
fn the_demo_survives_a_round_trip() {
    let design: Design = demo();
    assert_eq!(design::text::read(&design::text::write(&design).expect("the demo is written")).expect("own text"), design);
}

/// Rails that are set back farther bring the grooves of their panels to the mortises of staggered tenons and of standards: nothing is left there, which is
/// told as that, with what mends it.
#[test]
fn grooves_that_run_into_mortises_are_told_with_what_mends_them() {
    let staggered = ("joinery.rail_to_post.meeting", "staggered");
    let mut told = 0;
    for reveal in ["6", "10", "12"] {
        let case = Case::with(&[staggered, ("carcase.rails.reveal", reveal)]);
        for finding in case.findings.iter().filter(|finding| finding.rule == Rule::GrooveLeavesWood) {
            told += 1;
            assert!(!finding.message.contains("Only 0 mm"), "{}", finding.message);
            let remedy = finding.remedies.first().unwrap_or_else(|| panic!("reveal {reveal}: {}", finding.message));
            let mut design = case.design.clone();
            for (path, value) in &remedy.changes {
                set(&mut design, path, value).unwrap_or_else(|error| panic!("{error}"));
            }
            let mended = Case::of(design).unwrap_or_else(|errors| panic!("{errors:?}"));
            let part = case.names(finding)[0];
            let left = mended.findings.iter().filter(|other| other.rule == Rule::GrooveLeavesWood && mended.names(other)[0] == part);
            assert_eq!(left.count(), 0, "reveal {reveal}, {part}: {}", remedy.words);
        }
    }
    assert!(told >= 3, "{told}");
}
