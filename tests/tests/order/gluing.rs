//! Glue-ups: how long, in which stages, with which clamps and diagonals.

use approx::assert_abs_diff_eq;
use casewright_core::design::find_glue;
use casewright_core::inspect::Rule;
use casewright_core::sequence::{self, Diagonal, clamps_for, diagonal_difference, findings};
use casewright_core::{Sequence, Seriousness};
use casewright_tests::{Case, demo_with, set};

use super::{assert_whole, order_of};

/// 8 corners at 40 s take 320 s, and a glue that is open 5 min leaves 5 × 60 × 0.7 = 210 s (the open time of yellow PVA: table of glue characteristics,
/// woodworkingarchive.biz, read; seconds a joint and share: common practice, no source; the rest is arithmetic). 320 / 0.7 / 60 = 7.6: a glue of
/// 8 minutes or more would do.
#[test]
fn eight_corners_are_too_many_for_five_minutes() {
    let case = Case::with(&[]);
    let order = order_of(&case);
    let glue_up = order.glue_ups.iter().find(|glue_up| order.groups[glue_up.group].title == "carcase").expect("the carcase is glued");
    assert_eq!(glue_up.joints.len(), 8);
    assert_abs_diff_eq!(glue_up.seconds, 320.0);
    assert_abs_diff_eq!(glue_up.allowed, 210.0, epsilon = 1e-9);
    assert!(!glue_up.in_time());
    let told = findings(&order, &case.model, &case.design.shop.glue);
    let finding = told.iter().find(|finding| finding.rule == Rule::GlueTime && finding.message.contains("carcase")).expect("told");
    assert_eq!(finding.seriousness, Seriousness::AtRisk);
    assert!(finding.message.contains("320 s") && finding.message.contains("210 s"), "{}", finding.message);
    assert!(finding.remedies.iter().any(|remedy| remedy.words.contains("8 min")), "{:?}", finding.remedies);
    assert_eq!(finding.remedies.len(), 2);
}

/// Each remedy for a glue-up that takes too long mends all of them: split, each stage is in time; with a slower glue, each is whole and in time.
#[test]
fn splitting_or_a_slower_glue_mends_a_long_glue_up() {
    let case = Case::with(&[]);
    let told = findings(&order_of(&case), &case.model, &case.design.shop.glue);
    let finding = told.iter().find(|finding| finding.rule == Rule::GlueTime && finding.message.contains("carcase")).expect("told");
    for remedy in &finding.remedies {
        let mut design = case.design.clone();
        for (path, value) in &remedy.changes {
            set(&mut design, path, value).unwrap_or_else(|error| panic!("{error}"));
        }
        let mended = Case::of(design).expect("it derives");
        let order = order_of(&mended);
        assert_whole(&mended.model, &mended.solids, &order);
        assert!(!order.glue_ups.is_empty() && order.glue_ups.iter().all(sequence::GlueUp::in_time), "{}", remedy.words);
        let stages = order.glue_ups.iter().filter(|glue_up| order.groups[glue_up.group].title == "carcase").count();
        assert_eq!(stages, if remedy.words.starts_with("Split") { 2 } else { 1 }, "{}", remedy.words);
    }
}

/// Epoxy is open 2 min by the table, so that a glue-up may take 84 s (assets/glue.ron; arithmetic). A side frame closes four joints at once, 160 s:
/// no split parts them. That is told, once for the whole case; and whatever is offered, for any glue, leaves nothing that takes too long.
#[test]
fn one_advice_mends_every_glue_up_that_takes_too_long() {
    let mut offered = 0;
    for family in ["yellow_pva", "epoxy", "hot_hide"] {
        for (seconds, stages) in [("40", "few"), ("90", "few"), ("40", "within_open_time")] {
            let gluing = [("shop.glue.family", family), ("shop.glue.seconds", seconds), ("shop.glue.stages", stages)];
            let case = Case::with(&gluing);
            let order = order_of(&case);
            let too_long = order.glue_ups.iter().filter(|glue_up| !glue_up.in_time()).count();
            let told = glue_time(&case, &order);
            assert_eq!(told.len(), usize::from(too_long > 0), "{gluing:?}: {told:#?}");
            for remedy in told.iter().flat_map(|finding| &finding.remedies) {
                let mut design = case.design.clone();
                for (path, value) in &remedy.changes {
                    set(&mut design, path, value).unwrap_or_else(|error| panic!("{error}"));
                }
                let mended = Case::of(design).unwrap_or_else(|errors| panic!("{}: {errors:?}", remedy.words));
                assert_eq!(glue_time(&mended, &order_of(&mended)), [], "{gluing:?}: {}", remedy.words);
                offered += 1;
            }
        }
    }
    assert!(offered > 8, "{offered}");
    let epoxy = Case::with(&[("shop.glue.family", "epoxy")]);
    let told = glue_time(&epoxy, &order_of(&epoxy));
    assert!(
        told[0].message.contains("no split gets within that") && told[0].message.contains("4 joints close at once, 160 s"),
        "{told:#?}"
    );
    let words: Vec<_> = told[0].remedies.iter().map(|remedy| remedy.words.as_str()).collect();
    assert!(!words.iter().any(|words| words.starts_with("Split it")), "{words:?}");
    assert!(words[0].contains("epoxy whose tin says 8 min open"), "{words:?}");
}

fn glue_time(case: &Case, order: &Sequence) -> Vec<casewright_core::Finding> {
    let told = findings(order, &case.model, &case.design.shop.glue);
    told.into_iter().filter(|finding| finding.rule == Rule::GlueTime).collect()
}

/// In the first stage one side frame is brought to the rails, whose other ends are free: there is nothing to measure over corners. The second closes
/// the front, the back and the plan of the case, as the whole does in one.
#[test]
fn a_stage_is_measured_over_what_it_closes() {
    let carcase = |stages: &str| {
        let case = Case::with(&[("shop.glue.stages", stages)]);
        let order = order_of(&case);
        let of_carcase = |glue_up: &&sequence::GlueUp| order.groups[glue_up.group].title == "carcase";
        order.glue_ups.iter().filter(of_carcase).map(|glue_up| (glue_up.diagonals.clone(), glue_up.clamps.clone())).collect::<Vec<_>>()
    };
    let ([(whole, clamps)], [(first, before), (second, after)]) = (&carcase("few")[..], &carcase("within_open_time")[..]) else {
        panic!("one stage, and two");
    };
    assert_eq!(first, &[]);
    assert!(!whole.is_empty());
    assert_eq!((second, after), (whole, clamps));
    assert!(before[0].length < after[0].length, "the first stage is no wider than a frame and the rails: {before:?}");
}

/// Every glued joint is in one glue-up and no more.
#[test]
fn every_glued_joint_is_glued_once() {
    for changes in [&[][..], &[("shop.glue.stages", "within_open_time")][..]] {
        let case = Case::of(demo_with(changes)).expect("it derives");
        let order = order_of(&case);
        let mut glued: Vec<_> = order.glue_ups.iter().flat_map(|glue_up| glue_up.joints.iter().copied()).collect();
        glued.sort_unstable();
        let wanted: Vec<_> = case.model.joints.iter().filter(|joint| joint.glued).map(|joint| joint.id).collect();
        assert_eq!(glued, wanted);
    }
}

/// The water of a PVA glue swells loose tenons (common practice, no source); epoxy has none.
#[test]
fn water_in_the_glue_swells_loose_tenons() {
    let swells = |family: &str| {
        let case = Case::of(demo_with(&[("shop.glue.family", family)])).expect("it derives");
        order_of(&case).glue_ups.iter().any(|glue_up| glue_up.swells)
    };
    assert!(find_glue("yellow_pva").is_some_and(|glue| glue.water));
    assert!(swells("yellow_pva"));
    assert!(!swells("epoxy"));
}

/// A step says what goes into what, for dowels as for tenons.
#[test]
fn steps_of_rails_name_what_goes_into_the_posts() {
    for (by, pins) in [("dowels", "dowels"), ("loose_tenons", "loose tenons"), ("mortise_and_tenon", "tenons")] {
        let case = Case::with(&[("joinery.rail_to_post.by", by)]);
        let order = order_of(&case);
        let group = order.groups.iter().find(|group| group.title == "left frame").expect("a left frame");
        let glued: Vec<_> = order.steps[group.steps.clone()].iter().filter(|step| step.words.starts_with("Spread glue")).collect();
        assert!(!glued.is_empty(), "{by}");
        for step in glued {
            assert!(step.words.contains(pins), "{by}: {}", step.words);
        }
    }
}

/// A slip of 1 over 900 × 600 shows as 1.1 between the diagonals: held against the two diagonals themselves.
#[test]
fn a_slip_of_one_shows_as_one_point_one_between_the_diagonals() {
    assert_abs_diff_eq!(diagonal_difference(900.0, 600.0, 1.0), 1.1, epsilon = 0.05);
    for (a, b, e) in [(900.0, 600.0, 1.0), (1500.0, 1360.0, 0.4), (700.0, 400.0, 2.0)] {
        let (long, short) = (f64::hypot(a, b + e), f64::hypot(a, b - e));
        assert_abs_diff_eq!(diagonal_difference(a, b, e), long - short, epsilon = 1e-4);
    }
}

/// The same is said of every rectangle that is to be measured: 2 × 1 × 600 / √(900² + 600²) = 1.1.
#[test]
fn what_a_slip_shows_is_said_with_the_diagonals() {
    let all = order_of(&Case::with(&[])).glue_ups.into_iter().flat_map(|glue_up| glue_up.diagonals);
    let all: Vec<_> = all.collect();
    assert!(!all.is_empty());
    for diagonal in &all {
        let [a, b] = diagonal.sides;
        let shows = ((a.hypot(b + 1.0) - a.hypot(b - 1.0)) * 10.0).round() / 10.0;
        assert!(diagonal.words().contains(&format!("has slipped 1 mm along the {b:.0} makes {shows} mm")), "{}", diagonal.words());
    }
    let of_the_table = Diagonal { sides: [900.0, 600.0], ..all[0] };
    assert!(of_the_table.words().ends_with("makes 1.1 mm"), "{}", of_the_table.words());
}

/// Ten minutes a joint: no glue of the table stays open long enough for the four that close at once, and that is said with what each would have to take.
#[test]
fn where_no_glue_will_do_that_is_said() {
    let case = Case::with(&[("shop.glue.seconds", "600")]);
    let told = glue_time(&case, &order_of(&case));
    let [finding] = &told[..] else { panic!("{told:?}") };
    assert!(!finding.remedies.is_empty());
    let words: Vec<&str> = finding.remedies.iter().map(|remedy| remedy.words.as_str()).collect();
    let mends = finding.remedies.iter().any(|remedy| !remedy.changes.is_empty());
    assert!(mends || words.iter().any(|words| words.contains("No glue of the table stays open so long")), "{words:?}");
}

/// An edge of 900 × 19 at 1.2 N/mm² wants 20.5 kN: six clamps of 4 kN (pressure: a glue maker's technical guide, read; the rest is arithmetic).
#[test]
fn an_edge_of_900_wants_six_clamps_of_four_kilonewtons() {
    assert_eq!(clamps_for(900.0, 19.0, 1.2, 4000.0), 6);
    assert_eq!(clamps_for(900.0, 19.0, 1.2, 20_520.0), 1);
}

/// Clamps span what they press: the carcase over its width, four of them, a line of rails each; and its diagonals are those of its outside.
#[test]
fn clamps_and_diagonals_follow_the_carcase() {
    let case = Case::with(&[]);
    let order = order_of(&case);
    let glue_up = order.glue_ups.iter().find(|glue_up| order.groups[glue_up.group].title == "carcase").expect("the carcase is glued");
    let [clamps] = glue_up.clamps[..] else { panic!("{:?}", glue_up.clamps) };
    let width = case.design.carcase.width.to_mm();
    assert_eq!(clamps.count, 4);
    assert!(clamps.length >= width && clamps.length < width + 120.0, "{}", clamps.length);
    let post = case.model.find("post.front.left").expect("a post").lwt().x;
    let front = glue_up.diagonals.iter().find(|diagonal| diagonal.along[1].axis() == 1).expect("the front");
    assert_abs_diff_eq!(front.length, f64::hypot(width, post), epsilon = 1e-9);
}

/// A glue-up of rails is measured from shoulder to shoulder: 1264 between the posts of the demo, however its ends are joined.
#[test]
fn tenons_that_stand_out_do_not_count_in_the_diagonals() {
    for by in ["loose_tenons", "mortise_and_tenon", "dowels"] {
        let case = Case::with(&[("joinery.rail_to_post.by", by)]);
        let order = order_of(&case);
        let rail = case.model.find("rail.front.bottom").expect("a rail").id;
        let of_rails = |group: &sequence::Group| group.parts.contains(&rail) && group.title != "carcase";
        let sides: Vec<[f64; 2]> = order
            .glue_ups
            .iter()
            .filter(|glue_up| of_rails(&order.groups[glue_up.group]))
            .flat_map(|glue_up| glue_up.diagonals.iter().map(|diagonal| diagonal.sides))
            .collect();
        assert!(!sides.is_empty(), "{by}");
        assert!(sides.iter().flatten().any(|side| (side - 1264.0).abs() < 1e-9), "{by}: {sides:?}");
        assert!(sides.iter().flatten().all(|side| *side < 1264.0 + 1e-9 || *side > 1400.0), "{by}: {sides:?}");
    }
}

// --- Reach ---
