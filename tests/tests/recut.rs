//! Cuts that are there and no longer those that are planned: what is wrong with one is told once.

use casewright_core::design::Dimension;
use casewright_core::design::shop::{self, State};
use casewright_core::inspect::{Finding, Rule, Seriousness};
use casewright_core::{Design, DryFit, Length};
use casewright_tests::{Case, demo, set};

/// A rail that was grooved for a sheet of 12.75, 9 deep, is to take one of 15.75 in grooves 10.6 deep: it is cut anew for the sheet, and then as deep as planned too.
#[test]
fn a_groove_that_is_too_narrow_is_not_told_as_too_shallow_besides() {
    let mut design = demo();
    shop::set_state(&mut design, "rail.left.bottom", State::Cut).unwrap_or_else(|error| panic!("{error}"));
    for (path, value) in [("timber.panel.measured", "15.75"), ("joinery.groove.depth", "10.6")] {
        set(&mut design, path, value).unwrap_or_else(|error| panic!("{error}"));
    }
    let case = Case::of(design).unwrap_or_else(|errors| panic!("{errors:?}"));
    let told: Vec<&str> =
        case.findings.iter().filter(|finding| finding.rule == Rule::CutsStillRight).map(|finding| finding.message.as_str()).collect();
    let of_groove: Vec<&&str> = told.iter().filter(|message| message.contains("too narrow")).collect();
    assert_eq!(of_groove.len(), 1, "{told:?}");
    assert!(!of_groove[0].contains("too shallow"), "{told:?}");
}

/// What is told of the cuts of parts that are there.
fn of_cuts(case: &Case) -> Vec<&Finding> {
    case.findings.iter().filter(|finding| finding.rule == Rule::CutsStillRight).collect()
}

fn cut(design: &mut Design, parts: &[&str]) {
    for part in parts {
        shop::set_state(design, part, State::Cut).unwrap_or_else(|error| panic!("{error}"));
    }
}

fn with(design: &Design, changes: &[(&str, &str)]) -> Case {
    let mut design = design.clone();
    for (path, value) in changes {
        set(&mut design, path, value).unwrap_or_else(|error| panic!("{error}"));
    }
    Case::of(design).unwrap_or_else(|errors| panic!("{errors:?}"))
}

/// A panel and the rail below it are cut, 7.5 of the one in a groove of 9 in the other, and then grooves of 12 are decided: the panel that is there still stands in the
/// middle between its grooves, 7.5 in each, and the groove that is there takes it.
#[test]
fn a_panel_that_is_cut_stands_in_the_middle_of_grooves_decided_deeper() {
    let mut design = demo();
    cut(&mut design, &["panel.left.1", "rail.left.bottom"]);
    let now = with(&design, &[("joinery.groove.depth", "12")]);
    let told = of_cuts(&now);
    assert!(told.is_empty(), "{told:#?}");
    let panel = now.model.find("panel.left.1").expect("a panel").block();
    let rails = ["rail.left.bottom", "rail.left.middle.1"].map(|name| now.model.find(name).expect("a rail").block());
    for into in [rails[0].max.y - panel.min.y, panel.max.y - rails[1].min.y] {
        assert!((into - 7.5).abs() < 1e-9, "{into}");
    }
}

/// Grooves decided 7.75 deep later leave a quarter at each end of the panel that was cut for 9: it is in the same place as nothing.
#[test]
fn a_panel_that_is_cut_does_not_run_into_grooves_decided_shallower() {
    let mut design = demo();
    cut(&mut design, &["panel.left.1"]);
    let now = with(&design, &[("joinery.groove.depth", "7.75")]);
    let overlaps: Vec<_> = now.findings.iter().filter(|finding| finding.rule == Rule::Overlap).collect();
    assert!(overlaps.is_empty(), "{overlaps:#?}");
}

/// A standard toothed every 32 keeps its teeth when every 40 is decided: that is told with both figures, in its solid, and mended by a new one or the old pitch.
#[test]
fn the_teeth_of_a_standard_are_those_that_were_cut() {
    let mut design = demo();
    cut(&mut design, &["standard.1.front.left"]);
    let as_planned = with(&design, &[]);
    assert_eq!(as_planned.findings, []);
    let now = with(&design, &[("sawtooth.pitch", "40")]);
    let told = of_cuts(&now);
    let [finding] = &told[..] else { panic!("{told:#?}") };
    assert_eq!(finding.seriousness, Seriousness::WillFail);
    assert_eq!(now.names(finding), ["standard.1.front.left"]);
    assert!(finding.message.contains("teeth every 32 mm, not every 40 mm"), "{}", finding.message);
    let volume = |case: &Case| case.solids.shape(case.model.find("standard.1.front.left").expect("a standard").id).expect("a solid").volume;
    assert!((volume(&now) - volume(&as_planned)).abs() < 1e-3, "its solid has the old teeth");
    let overlaps: Vec<_> = now.findings.iter().filter(|finding| finding.rule == Rule::Overlap).collect();
    assert!(overlaps.is_empty(), "one cause is told once: {overlaps:#?}");
    let fit = DryFit::of(&now.design, &now.model, &now.solids).findings;
    let finding = fit.iter().find(|finding| finding.rule == Rule::CutsStillRight).expect("it is still told");
    let back = finding.remedies.iter().find(|remedy| remedy.words.starts_with("Go back")).unwrap_or_else(|| panic!("{finding:#?}"));
    assert_eq!(back.changes, [("sawtooth.pitch".to_owned(), "32".to_owned())]);
    assert!(finding.remedies.iter().any(|remedy| remedy.words == "Make it new"), "{finding:#?}");
    assert!(!finding.remedies.iter().any(|remedy| remedy.words.contains("lug")), "teeth are not plugged: {finding:#?}");
}

/// The same of a post bored for pins: its holes are those that were bored.
#[test]
fn the_holes_of_a_row_are_those_that_were_bored() {
    let mut design = demo();
    for bay in ["1", "2", "3"] {
        set(&mut design, &format!("interior.bays.{bay}.opening.system"), "pins").unwrap_or_else(|error| panic!("{error}"));
    }
    cut(&mut design, &["post.front.left"]);
    let before = with(&design, &[]);
    assert_eq!(of_cuts(&before), Vec::<&Finding>::new());
    let pitch = design.pins.pitch.to_mm() * 2.0;
    let now = with(&design, &[("pins.pitch", &pitch.to_string())]);
    let told = of_cuts(&now);
    let [finding] = &told[..] else { panic!("{told:#?}") };
    assert!(finding.message.contains("row of holes every"), "{}", finding.message);
    let volume = |case: &Case| case.solids.shape(case.model.find("post.front.left").expect("a post").id).expect("a solid").volume;
    assert!((volume(&now) - volume(&before)).abs() < 1.0, "{} {}", volume(&now), volume(&before));
}

/// Posts measured one by one lead to the same case as posts decided so: here 47.6 wide.
#[test]
fn posts_measured_one_by_one_are_as_posts_decided_so() {
    let decided = with(&demo(), &[("carcase.post.width", "47.6")]);
    let mut design = demo();
    for (part, of) in [
        ("post.front.left", Dimension::Width),
        ("post.front.right", Dimension::Thickness),
        ("post.back.left", Dimension::Thickness),
        ("post.back.right", Dimension::Width),
    ] {
        shop::measure(&mut design, part, of, Some(Length::mm(47.6))).unwrap_or_else(|error| panic!("{error}"));
    }
    let measured = with(&design, &[]);
    let places = |case: &Case| -> Vec<String> {
        case.model.parts.iter().map(|part| format!("{} {:.4?} {:.4?}", part.name, part.block().min, part.block().max)).collect()
    };
    assert_eq!(places(&measured), places(&decided));
    let told = |case: &Case| case.findings.iter().map(|finding| finding.message.clone()).collect::<Vec<_>>();
    assert_eq!(told(&measured), told(&decided));
}

/// A stile that came out 0.8 narrower than planned stands in the middle of its divider: 0.4 less on both sides.
#[test]
fn a_stile_that_came_out_narrower_stands_in_the_middle_of_its_divider() {
    let planned = with(&demo(), &[]);
    for part in ["stile.1", "muntin.1"] {
        let mut design = demo();
        let wide = planned.model.find(part).expect("an upright").size[1].mm;
        shop::measure(&mut design, part, Dimension::Width, Some(Length::mm(wide - 0.8))).unwrap_or_else(|error| panic!("{error}"));
        let now = with(&design, &[]);
        let [before, after] = [&planned, &now].map(|case| case.model.find(part).expect("an upright").block());
        assert!(
            (after.min.x - before.min.x - 0.4).abs() < 1e-9 && (before.max.x - after.max.x - 0.4).abs() < 1e-9,
            "{part}: {before:?} {after:?}"
        );
        let wrong: Vec<_> = now.findings.iter().filter(|finding| finding.seriousness < Seriousness::Note).collect();
        assert!(wrong.is_empty(), "{part}: {wrong:#?}");
    }
}

/// A middle rail set to 56 against the rule, where 64 is planned: the panel below it, planned for the wider rail, is 8 short and comes out of its groove.
#[test]
fn a_panel_that_misses_its_rail_is_found_whichever_of_the_two_is_set_against_the_rule() {
    for wide in ["56", "40"] {
        let now = with(&demo(), &[("part.rail.left.middle.1.width", wide)]);
        let told: Vec<_> = now.findings.iter().filter(|finding| finding.rule == Rule::PanelEngaged).collect();
        let [finding] = &told[..] else { panic!("{wide}: {:#?}", now.findings) };
        assert_eq!(finding.seriousness, Seriousness::WillFail);
        assert!(now.names(finding).contains(&"rail.left.middle.1"), "{:?}", now.names(finding));
        for finding in
            DryFit::of(&now.design, &now.model, &now.solids).findings.iter().filter(|finding| finding.seriousness == Seriousness::WillFail)
        {
            let by_rule = finding.remedies.iter().any(|remedy| remedy.words.contains("by rule"));
            assert!(by_rule, "{wide}: {finding:#?}");
        }
    }
}

/// A top of 460 on a case of 470, its front edge 20 before it as planned: 30 of the back posts stand bare. One of 1340 on 1360 leaves 40 at one end.
#[test]
fn a_top_that_no_longer_covers_its_case_is_told_by_how_much() {
    for (size, bare) in [(("part.top.width", "460"), 30.0), (("part.top.length", "1340"), 40.0)] {
        let now = with(&demo(), &[size]);
        let told: Vec<_> = now.findings.iter().filter(|finding| finding.rule == Rule::Shoulder).collect();
        let [finding] = &told[..] else { panic!("{size:?}: {:#?}", now.findings) };
        assert_eq!((finding.seriousness, now.names(finding)[0]), (Seriousness::WillFail, "top"));
        assert!((finding.figures[0].value - bare).abs() < 1e-9, "{:?}", finding.figures);
    }
}

/// A loose tenon 7 thick by the maker's own wish stands in the middle of its mortise of 8: it is loose there, and in the same place as nothing.
#[test]
fn a_loose_tenon_that_is_too_thin_is_loose_and_overlaps_nothing() {
    let now = with(&demo(), &[("part.tenon.rail.front.bottom.post.front.left.1.thickness", "7")]);
    let overlaps: Vec<_> = now.findings.iter().filter(|finding| finding.rule == Rule::Overlap).collect();
    assert!(overlaps.is_empty(), "{overlaps:#?}");
}
