//! Shims: what makes up for what a rail lacks.

use approx::assert_abs_diff_eq;
use casewright_core::cutlist::CutList;
use casewright_core::design::Dimension::{Length as L, Thickness as T};
use casewright_core::design::shop::State;
use casewright_core::design::text;
use casewright_core::inspect::{Finding, Rule, Seriousness};
use casewright_core::model::Feature;
use casewright_core::{Design, DryFit};
use casewright_tests::{Case, demo, demo_with, set};

use crate::{apply, case, make, measure, of_shop, size};

const RAIL: &str = "rail.front.bottom";

/// The demo with its front rail cut so much too short, its ends joined so.
fn cut_short(joint: &str, short: f64) -> Case {
    let mut design = demo_with(&[("joinery.rail_to_post.by", joint)]);
    let planned = size(&case(&design), RAIL, L);
    measure(&mut design, RAIL, L, planned - short);
    make(&mut design, RAIL, State::Cut);
    case(&design)
}

/// That case with the shim that is offered.
fn shimmed(case: &Case) -> Case {
    let remedies = of_shop(case).into_iter().flat_map(|finding| &finding.remedies);
    let shim = remedies.clone().find(|remedy| remedy.words.contains("Put a shim"));
    apply(&case.design, shim.unwrap_or_else(|| panic!("{:?}", remedies.collect::<Vec<_>>())))
}

/// A shim is a part: as long as the rail is short, a slice of the rail's section, of the rail's timber, on the cut list with a mark. Rail and case
/// stay as they are, the joint holds through it, and it goes together.
#[test]
fn a_shim_is_a_part_and_the_rail_stays_short() {
    for (joint, short) in [("loose_tenons", 12.0), ("dowels", 8.0), ("mortise_and_tenon", 12.0)] {
        let before = cut_short(joint, short);
        let after = shimmed(&before);
        assert_eq!(after.findings, [], "{joint}");
        assert_eq!(after.design.carcase.width, before.design.carcase.width);
        assert_abs_diff_eq!(size(&after, RAIL, L), size(&before, RAIL, L), epsilon = 1e-9);
        let (rail, post) = (after.model.find(RAIL).expect("a rail"), after.model.find("post.front.right").expect("a post"));
        let shims: Vec<_> = after.model.parts.iter().filter(|part| part.name.starts_with("shim.")).collect();
        let [shim] = shims[..] else { panic!("{joint}: {shims:#?}") };
        let section = [short, rail.size[1].mm, rail.size[2].mm];
        assert!(shim.lwt().to_array().iter().zip(section).all(|(is, wanted)| (is - wanted).abs() < 1e-9), "{}", shim.size_text());
        assert_eq!(shim.material, rail.material);
        let (from, to) = (post.block().min.x - short, post.block().min.x);
        assert_abs_diff_eq!(rail.body().max.x, to, epsilon = 1e-9);
        assert_abs_diff_eq!(shim.block().min.x, from, epsilon = 1e-9);
        assert_abs_diff_eq!(shim.block().max.x, to, epsilon = 1e-9);
        assert_eq!(after.model.parts.len(), before.model.parts.len() + 1);
        let list = CutList::of(&after.design, &after.model);
        let row = list.rows.iter().find(|row| row.parts.contains(&shim.id)).expect("a row");
        assert_eq!((row.mark.as_str(), row.parts.len()), ("SH1", 1));
        assert!(!row.cuts.is_empty(), "{joint}: what goes through it wants a hole");
        let fit = DryFit::of(&after.design, &after.model, &after.solids);
        assert!(fit.order.locked.is_empty(), "{joint}: {:?}", fit.order.locked);
        let fails: Vec<_> = fit.findings.iter().filter(|finding| finding.seriousness == Seriousness::WillFail).collect();
        assert!(fails.is_empty(), "{joint}: {fails:#?}");
    }
}

/// Tenons of 50 go through 12 of shim with 62; those of the other end stay as they are. Those already cut at 50 keep that, and 14 of them are left in the rail.
#[test]
fn loose_tenons_are_longer_by_the_shim_that_they_go_through() {
    let after = shimmed(&cut_short("loose_tenons", 12.0));
    let long = |case: &Case, post: &str| size(case, &format!("tenon.{RAIL}.post.front.{post}.1"), L);
    assert_abs_diff_eq!(long(&after, "right"), 62.0, epsilon = 1e-9);
    assert_abs_diff_eq!(long(&after, "left"), 50.0, epsilon = 1e-9);
    let mut design = cut_short("loose_tenons", 12.0).design;
    for tenon in 1..=2 {
        make(&mut design, &format!("tenon.{RAIL}.post.front.right.{tenon}"), State::Cut);
    }
    let after = shimmed(&case(&design));
    assert_abs_diff_eq!(long(&after, "right"), 50.0, epsilon = 1e-9);
    assert!(!after.findings.iter().any(|finding| finding.seriousness == Seriousness::WillFail), "{:#?}", after.findings);
    assert!(!after.findings.iter().any(|finding| finding.rule == Rule::TenonHold), "{:#?}", after.findings);
}

fn with_shim(joint: &str, end: &str, mm: &str) -> Design {
    let mut design = demo_with(&[("joinery.rail_to_post.by", joint)]);
    set(&mut design, &format!("made.{RAIL}.{end}_shim"), mm).expect("a shim");
    design
}

/// A shim at the first end stands at the other post, and the rail farther in. Whoever writes one down before the rail is cut gets a rail that much shorter.
#[test]
fn a_shim_may_be_at_either_end() {
    for (end, post) in [("first", "left"), ("second", "right")] {
        let case = case(&with_shim("loose_tenons", end, "12"));
        assert_eq!(case.findings, [], "{end}");
        assert_abs_diff_eq!(size(&case, RAIL, L), 1252.0, epsilon = 1e-9);
        let at = case.model.find(&format!("post.front.{post}")).expect("a post").block();
        let shim = case.model.parts.iter().find(|part| part.name.starts_with("shim.")).expect("a shim").block();
        assert!((shim.min.x - at.max.x).abs() < 1e-9 || (shim.max.x - at.min.x).abs() < 1e-9, "{end}: {shim:?}");
    }
}

/// A tenon cut on the rail is not made longer: behind a shim of 25 too little of it is left in the post.
#[test]
fn a_tenon_that_hardly_reaches_through_its_shim_is_told() {
    let holds =
        |mm: &str| !case(&with_shim("mortise_and_tenon", "second", mm)).findings.iter().any(|finding| finding.rule == Rule::TenonHold);
    assert!(holds("6"));
    assert!(!holds("25"));
}

/// When the case grows by 5, the rail lacks 5 besides its shim.
#[test]
fn a_rail_with_a_shim_is_wanted_by_so_much_shorter() {
    let mut design = shimmed(&cut_short("loose_tenons", 12.0)).design;
    set(&mut design, "carcase.width", "1365").expect("a length");
    let case = case(&design);
    let finding = case.failures()[0];
    assert!(finding.message.contains("5 mm too short, 1252 where 1257 is wanted"), "{}", finding.message);
}

#[test]
fn a_shim_survives_a_round_trip_and_is_taken_back() {
    let mut design = with_shim("loose_tenons", "second", "12");
    let written = text::write(&design).expect("written");
    assert!(written.contains("second_shim: 12"), "{written}");
    assert_eq!(text::read(&written).expect("own text"), design);
    set(&mut design, &format!("made.{RAIL}.second_shim"), "none").expect("taken back");
    assert_eq!(design, demo_with(&[("joinery.rail_to_post.by", "loose_tenons")]));
    for wrong in ["-3", "0", "thick"] {
        assert!(set(&mut demo(), &format!("made.{RAIL}.second_shim"), wrong).is_err(), "{wrong}");
    }
}

/// Loose tenons of 50 in mortises 26.5 deep in the rail and 24.5 in the post, half a millimetre of room at each bottom: 26 in the rail. Through a shim
/// of 14 there are 12 left, which hold (half again as thick as 8); through one of 15 there are 11, and through one of 60 none.
#[test]
fn a_shim_is_offered_only_while_its_tenon_holds_through_it() {
    for (joint, short, offered) in [
        ("loose_tenons", 14.0, true),
        ("loose_tenons", 15.0, false),
        ("loose_tenons", 60.0, false),
        ("dowels", 60.0, false),
        ("mortise_and_tenon", 60.0, false),
    ] {
        let case = cut_short(joint, short);
        let told =
            of_shop(&case).into_iter().find(|finding| finding.rule == Rule::MadePartFits && finding.seriousness == Seriousness::WillFail);
        let finding = told.unwrap_or_else(|| panic!("{joint} {short}: {:#?}", case.findings));
        let words: Vec<_> = finding.remedies.iter().map(|remedy| remedy.words.as_str()).collect();
        assert_eq!(words.iter().any(|words| words.contains("shim")), offered, "{joint} {short}: {words:?}");
        assert!(words.iter().any(|words| words.contains("new, ")), "{words:?}");
        assert!(words.iter().any(|words| words.contains("case width")), "{words:?}");
    }
}

/// What lies on others at both its ends is not saved by a shim at one.
#[test]
fn a_slat_cut_too_thin_is_offered_no_shim() {
    let mut design = demo();
    let planned = size(&case(&design), "slat.1.1.1", T);
    measure(&mut design, "slat.1.1.1", T, planned - 8.0);
    make(&mut design, "slat.1.1.1", State::Cut);
    let case = case(&design);
    let told = of_shop(&case);
    assert!(told.iter().any(|finding| finding.message.contains("8 mm too thin")), "{told:#?}");
    let words: Vec<_> = told.iter().flat_map(|finding| &finding.remedies).map(|remedy| remedy.words.as_str()).collect();
    assert!(!words.iter().any(|words| words.contains("shim")), "{words:?}");
    assert!(words.iter().any(|words| words.contains("Make it new")), "{words:?}");
}

/// A side rail of 370 where 374 are wanted, grooved for its panel: the shim of 4 is offered, and ploughed as the rail is, so that the panel passes.
#[test]
fn a_shim_of_a_grooved_rail_is_grooved_too() {
    let mut design = demo();
    measure(&mut design, "rail.left.bottom", L, 370.0);
    make(&mut design, "rail.left.bottom", State::Cut);
    let case = case(&design);
    let told = DryFit::of(&case.design, &case.model, &case.solids).findings;
    let finding = told.iter().find(|finding| finding.rule == Rule::MadePartFits).expect("it is too short");
    let shim = finding.remedies.iter().find(|remedy| remedy.words.contains("shim of 4 mm")).unwrap_or_else(|| panic!("{finding:#?}"));
    let mended = apply(&case.design, shim);
    assert_eq!(mended.failures(), Vec::<&Finding>::new());
    let shim = mended.model.parts.iter().find(|part| part.name.starts_with("shim.rail.left.bottom")).expect("a shim");
    assert!(
        shim.cuts.iter().any(|cut| matches!(cut.feature, Feature::Groove { depth, .. } if (depth - 9.0).abs() < 1e-9)),
        "{:?}",
        shim.cuts
    );
}
