//! Planted faults: each wrong design raises its finding at the right place, and nothing else that will fail.

use approx::assert_abs_diff_eq;
use casewright_core::inspect::{Rule, Seriousness};
use casewright_core::{Design, design};
use casewright_solid::overlap;
use casewright_tests::{Case, demo, set};

/// The rule of everything that will fail, each once.
fn failing(case: &Case) -> Vec<Rule> {
    let mut rules: Vec<_> = case.failures().iter().map(|finding| finding.rule).collect();
    rules.sort();
    rules.dedup();
    rules
}

#[test]
fn the_demo_has_nothing_to_find() {
    let case = Case::with(&[]);
    assert_eq!(case.findings, [], "the demo is right");
}

#[test]
fn a_short_rail_leaves_its_shoulder_open() {
    let case = Case::with(&[("part.rail.front.bottom.length", "1252")]);
    let finding = case.failures().into_iter().find(|finding| finding.rule == Rule::Shoulder).expect("an open shoulder");
    assert_eq!(case.names(finding), ["rail.front.bottom", "post.front.right"]);
    assert_abs_diff_eq!(finding.figures[0].value, 12.0, epsilon = 1e-9);
    assert!(finding.message.contains("12 mm short"), "{}", finding.message);
    // The remedy mends it.
    let mut mended = case.design.clone();
    for (path, value) in &finding.remedies.first().expect("a remedy").changes {
        set(&mut mended, path, value).expect("a remedy can be set");
    }
    assert_eq!(Case::of(mended).expect("derives").findings, []);
}

#[test]
fn a_long_rail_runs_into_its_post() {
    let case = Case::with(&[("part.rail.front.bottom.length", "1266.5")]);
    let finding = case.failures()[0];
    assert_eq!(finding.rule, Rule::Overlap);
    assert!(case.names(finding).contains(&"rail.front.bottom") && case.names(finding).contains(&"post.front.right"));
    // 2.5 long, 110 × 24 in section, less its two mortises and the post's, which it enters.
    let (depth, volume) = (finding.figures[1].value, finding.figures[0].value);
    assert!(depth > 2.0 && depth <= 2.5 + 1e-6, "{depth}");
    assert!(volume > 0.7 * 2.5 * 110.0 * 24.0 && volume < 2.5 * 110.0 * 24.0, "{volume}");
}

#[test]
fn tenons_longer_than_their_mortises() {
    let case = Case::with(&[("joinery.rail_to_post.length", "53")]);
    assert_eq!(failing(&case), [Rule::TenonLength]);
    assert_eq!(case.failures().len(), 1, "one word for all of them");
    assert_abs_diff_eq!(case.failures()[0].figures[2].value, 2.0, epsilon = 1e-9);
    assert!(case.failures()[0].message.contains("2 mm longer"), "{}", case.failures()[0].message);
}

#[test]
fn deep_mortises_meet_in_the_posts() {
    let case = Case::with(&[("joinery.rail_to_post.depth_in_face", "32"), ("joinery.rail_to_post.length", "57")]);
    assert!(failing(&case).contains(&Rule::MortisesMeet));
    let posts: std::collections::BTreeSet<_> = case
        .failures()
        .iter()
        .filter(|finding| finding.rule == Rule::MortisesMeet)
        .map(|finding| case.names(finding)[0].to_owned())
        .collect();
    assert_eq!(posts.len(), 4, "{posts:?}");
}

#[test]
fn a_panel_too_thick_for_a_groove_of_the_makers_own() {
    let case = Case::with(&[("joinery.groove.width_by", "own"), ("joinery.groove.own_width", "12.7")]);
    assert_eq!(failing(&case), [Rule::PanelThickness]);
    assert!(case.failures()[0].message.contains("0.05 mm too thick"), "{}", case.failures()[0].message);
    let mut mended = case.design.clone();
    for (path, value) in &case.failures()[0].remedies.first().expect("a remedy").changes {
        set(&mut mended, path, value).expect("a remedy can be set");
    }
    assert_eq!(failing(&Case::of(mended).expect("derives")), []);
}

#[test]
fn a_panel_loose_in_its_groove_is_at_risk() {
    let case = Case::with(&[("joinery.groove.width_by", "own"), ("joinery.groove.own_width", "13.5")]);
    let finding = case.findings.iter().find(|finding| finding.rule == Rule::PanelThickness).expect("a loose panel");
    assert_eq!(finding.seriousness, Seriousness::AtRisk);
    assert!(finding.message.contains("0.75"), "{}", finding.message);
}

#[test]
fn a_panel_short_of_its_groove() {
    let case = Case::with(&[("joinery.groove.play", "9.5")]);
    assert_eq!(failing(&case), [Rule::PanelEngaged]);
}

#[test]
fn a_box_that_no_shelf_takes_is_told_with_what_is_lacking() {
    let case = Case::with(&[("contents.7.height", "420")]);
    assert_eq!(failing(&case), [Rule::BoxFits]);
    let finding = case.failures()[0];
    // 420 and 25 of hand room against the 408 over the floor of bay 1.
    assert!(finding.message.contains("Box file, A4") && finding.message.contains("37 mm higher"), "{}", finding.message);
    let deep = Case::with(&[("contents.1.depth", "430")]);
    let finding = deep.failures()[0].clone();
    let mut mended = deep.design.clone();
    for (path, value) in &finding.remedies.first().expect("a deeper case would do").changes {
        set(&mut mended, path, value).expect("a remedy can be set");
    }
    assert_eq!(failing(&Case::of(mended).expect("derives")), []);
}

#[test]
fn slats_too_wide_for_the_shelf_are_told_once_with_the_right_width() {
    let case = Case::with(&[("sawtooth.slats.width", "110")]);
    assert_eq!(failing(&case), [Rule::SlatsFit]);
    assert_eq!(case.failures().len(), 1);
    let finding = case.failures()[0].clone();
    // 418 of depth less 1 of play for four slats: 104.25 each.
    assert!(finding.message.contains("5.75 mm too wide"), "{}", finding.message);
    let mut mended = case.design.clone();
    for (path, value) in &finding.remedies.first().expect("narrower slats would do").changes {
        set(&mut mended, path, value).expect("a remedy can be set");
    }
    assert_eq!(failing(&Case::of(mended).expect("derives")), []);
}

#[test]
fn shelves_on_neighbouring_teeth_are_in_the_same_place() {
    let case = Case::with(&[("interior.bays.2.opening.shelves.1", "17")]);
    assert!(failing(&case).contains(&Rule::Overlap));
    let same = Case::with(&[("interior.bays.2.opening.shelves.1", "18")]);
    assert_eq!(failing(&same), [Rule::ShelfHasTooth], "a second shelf on a tooth is left out and told");
}

#[test]
fn grooves_that_leave_nothing_of_a_muntin() {
    let case = Case::with(&[
        ("interior.divider.width", "40"),
        ("joinery.groove.depth", "20.5"),
        ("joinery.groove.play", "8.5"),
        ("joinery.stile_to_rail.width", "14"),
    ]);
    let finding = case.failures().into_iter().find(|finding| finding.rule == Rule::GrooveLeavesWood).expect("sawn in two");
    assert!(case.names(finding)[0].starts_with("muntin."), "{:?}", case.names(finding));
}

#[test]
fn a_mortise_that_comes_out_between_the_teeth() {
    let case = Case::with(&[("sawtooth.backing", "13")]);
    assert!(failing(&case).contains(&Rule::MortiseBreaksOut));
    assert!(case.failures().iter().any(|finding| case.names(finding)[0].starts_with("standard.")));
}

#[test]
fn buttons_that_come_out_of_their_slots() {
    let case = Case::with(&[("timber.moisture.wettest", "20")]);
    assert!(failing(&case).contains(&Rule::ButtonHolds));
    assert!(case.findings.iter().any(|finding| finding.rule == Rule::MoistureRange && finding.seriousness == Seriousness::Note));
}

#[test]
fn parts_longer_than_a_stick() {
    let case = Case::with(&[("timber.sticks.length", "1400")]);
    let finding = case.findings.iter().find(|finding| finding.rule == Rule::StickLength).expect("posts of 1456");
    assert!(finding.message.contains("1481"), "{}", finding.message);
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

#[test]
fn a_shelf_above_the_last_tooth_is_left_out_and_told() {
    let case = Case::with(&[("interior.bays.3.opening.shelves.4", "60")]);
    let finding = case.failures().into_iter().find(|finding| finding.rule == Rule::ShelfHasTooth).cloned().expect("no such tooth");
    assert!(case.model.find("cleat.3.4.left").is_none());
    let mut mended = case.design.clone();
    for (path, value) in &finding.remedies.first().expect("the highest tooth would do").changes {
        set(&mut mended, path, value).expect("a remedy can be set");
    }
    assert!(Case::of(mended).expect("derives").model.find("cleat.3.4.left").is_some());
}

#[test]
fn a_cutter_wider_than_the_groove() {
    assert_eq!(failing(&Case::with(&[("joinery.groove.cutter", "16")])), [Rule::GrooveCutter]);
}

#[test]
fn standards_too_thick_for_their_pocket_run_into_the_side_rails() {
    let case = Case::with(&[("sawtooth.thickness", "23"), ("sawtooth.cleat.thickness", "20")]);
    assert!(failing(&case).contains(&Rule::Overlap));
    let finding = case
        .failures()
        .into_iter()
        .find(|finding| case.names(finding).iter().any(|name| name.starts_with("rail.")))
        .expect("a rail in the way");
    assert_abs_diff_eq!(finding.figures[1].value, 3.0, epsilon = 1e-6);
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
