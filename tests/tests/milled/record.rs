//! What is recorded, how it is written and set.

use casewright_core::design::Dimension;
use casewright_core::design::shop::{self, State};
use casewright_core::design::{edit, text};
use casewright_core::inspect::Seriousness;
use casewright_core::{Length, derive};
use casewright_tests::{DEMO, demo, demo_with, set};

use crate::{assert_each_mends, bones, case, make, measure, measure_batch, of_shop};

#[test]
fn what_is_recorded_survives_a_round_trip() {
    let mut design = demo();
    measure_batch(&mut design, "timber.panel.measured", 12.6);
    measure(&mut design, "rail.front.bottom", Dimension::Length, 1263.4);
    make(&mut design, "rail.front.bottom", State::Cut);
    make(&mut design, "panel.left.1", State::Glued);
    shop::note(&mut design, "stile.1", "a knot \"here\"");
    let written = text::write(&design).expect("written");
    assert_eq!(text::read(&written).expect("own text"), design);
    assert!(written.contains("length: 1263.4") && written.contains("state: Cut") && !written.contains("Some("), "{written}");
}

/// How the maker glues and which tools there are is kept, though nothing was measured.
#[test]
fn a_shop_without_measures_keeps_its_tools() {
    let mut design = demo();
    design.shop.tools.0.pop();
    let written = text::write(&design).expect("written");
    assert_eq!(text::read(&written).expect("own text"), design);
    let beside = text::write_shop(DEMO, &design).expect("written");
    assert_eq!(text::read(&beside).expect("own text"), design);
    assert!(!text::write(&demo()).expect("written").contains("shop"), "what every shop begins with is not written");
}

#[test]
fn a_shop_is_written_by_hand_in_a_few_words() {
    let end = DEMO.trim_end().rfind(')').expect("a design ends");
    let with = |shop: &str| format!("{}    shop: {shop},\n)\n", &DEMO[..end]);
    let text = with(
        "(
        batches: [(of: \"carcase.post.width\", measured: 47.6)],
        parts: [(part: \"rail.front.bottom\", state: Cut, length: 1252), (part: \"stile.1\", note: \"a knot\")],
    )",
    );
    let design = text::read(&text).expect("a design");
    let case = case(&design);
    let rail = case.model.find("rail.front.bottom").expect("a rail");
    assert_eq!((rail.size[0].mm, rail.state), (1252.0, State::Cut));
    // 1360 less two posts of 47.6 is 1264.8.
    assert!(case.failures()[0].message.contains("12.8 mm too short"), "{}", case.failures()[0].message);
    let note = of_shop(&case)
        .into_iter()
        .find(|finding| finding.seriousness == Seriousness::Note)
        .expect("width and thickness are not written down");
    assert_each_mends(&case, note);
    for (wrong, wanted) in [
        ("(batchs: [])", "batchs"),
        ("(parts: [(part: \"stile.1\", lenght: 5)])", "lenght"),
        ("(parts: [(part: \"stile.1\", state: Sawn)])", "Sawn"),
        ("(parts: [(part: \"stile.1\", length: -5)])", "shop.parts.1.length: -5 is out of range"),
        ("(batches: [(of: \"carcase.post.width\", measured: 0)])", "shop.batches.1.measured: 0 is out of range"),
    ] {
        let errors = text::read(&with(wrong)).expect_err(wrong);
        assert!(errors[0].to_string().contains(wanted), "{wrong}: {}", errors[0]);
    }
    // In the range of any measure, but of no post.
    let thick = text::read(&with("(batches: [(of: \"carcase.post.width\", measured: 700)])")).expect("a design");
    let errors = derive(&thick).expect_err("no such post");
    assert_eq!(errors[0].to_string(), "shop.batches.1.measured: 700 is out of range; it must be 20 to 200 mm");
}

#[test]
fn measures_of_what_is_not_there_are_told_and_not_lost() {
    let mut design = demo();
    measure(&mut design, "rail.frnt.bottom", Dimension::Length, 1252.0);
    make(&mut design, "stile.9", State::Cut);
    design.shop.batches.push(shop::Batch { of: "carcase.width".to_owned(), measured: Length::mm(1350.0) });
    let case = case(&design);
    let told: Vec<_> = of_shop(&case).into_iter().map(|finding| finding.message.as_str()).collect();
    assert_eq!(told.len(), 3, "{told:?}");
    for name in ["rail.frnt.bottom", "stile.9", "carcase.width"] {
        assert!(told.iter().any(|message| message.contains(name)), "{name}: {told:?}");
    }
    assert_eq!(bones(&case.model), bones(&crate::case(&demo()).model));
}

#[test]
fn only_stock_can_be_measured_as_a_batch() {
    let mut design = demo();
    for (path, mm, wanted) in [
        ("carcase.width", 1350.0, "it must be stock"),
        ("carcase.post", 45.0, "it must be stock"),
        ("carcase.post.width", 0.0, "measured.carcase.post.width: 0 is out of range"),
        ("carcase.post.width", 500.0, "it must be 20 to 200 mm"),
        ("carcase.post.width", f64::NAN, "NaN is out of range"),
    ] {
        let error = shop::measure_batch(&mut design, path, Some(Length::mm(mm))).expect_err(path).to_string();
        assert!(error.contains(wanted), "{error}");
    }
    assert!(shop::measure(&mut design, "top", Dimension::Width, Some(Length::mm(-1.0))).is_err());
    assert_eq!(design, demo());
    measure_batch(&mut design, "carcase.post.width", 47.0);
    measure_batch(&mut design, "carcase.post.width", 47.5);
    assert_eq!(design.shop.batches.len(), 1);
    shop::measure_batch(&mut design, "carcase.post.width", None).expect("taken back");
    assert_eq!(design, demo());
}

#[test]
fn the_shop_is_set_by_name_as_decisions_are() {
    let mut design = demo();
    for (path, value) in [
        ("measured.timber.panel.measured", "12.6"),
        ("made.rail.front.bottom.length", "49 3/4 in"),
        ("made.rail.front.bottom.state", "cut"),
        ("made.rail.front.bottom.note", "a knot at the left"),
    ] {
        set(&mut design, path, value).unwrap_or_else(|error| panic!("{error}"));
    }
    let record = design.shop.record("rail.front.bottom").expect("recorded");
    assert_eq!((record.state, record.length, record.note.as_str()), (State::Cut, Some(Length::mm(49.75 * 25.4)), "a knot at the left"));
    assert_eq!(design.shop.batches[0].measured, Length::mm(12.6));
    for (path, value, wanted) in [
        ("made.stile.1.state", "sawn", "planned, roughed, cut or glued"),
        ("made.stile.1.length", "long", "millimetres"),
        ("measured.carcase.width", "900", "it must be stock"),
        ("made.stile.1.colour", "red", "there is no decision"),
    ] {
        let error = set(&mut design, path, value).expect_err(path).to_string();
        assert!(error.contains(wanted), "{error}");
    }
    for path in ["made.rail.front.bottom.length", "measured.timber.panel.measured"] {
        set(&mut design, path, "none").expect("taken back");
    }
    assert!(design.shop.batches.is_empty());
    set(&mut design, "made.rail.front.bottom.state", "planned").expect("a state");
    assert_eq!(design, demo());
}

#[test]
fn what_was_made_stays_with_its_part_when_a_bay_goes() {
    let mut design = demo();
    for part in ["stile.1", "stile.2", "slat.3.2.3", "rail.front.bottom"] {
        make(&mut design, part, State::Roughed);
    }
    edit::apply(&mut design, &edit::Edit::RemoveBay(1));
    let names: Vec<_> = design.shop.parts.iter().map(|record| record.part.as_str()).collect();
    assert_eq!(names, ["stile.1", "slat.2.2.3", "rail.front.bottom"]);
}

/// A shelf whose ends are let in is measured over both of them, as it is planned: cut so it is right, and 3 short it reaches 3 less into one housing. So it is with
/// every part whose ends reach into another.
#[test]
fn a_part_let_in_at_both_ends_is_measured_over_them() {
    let design = demo_with(&[("interior.bays.2.opening.system", "housed")]);
    let planned = case(&design);
    // 346 between the dividers, and 60 / 4 = 15 or more let in at either end.
    let shelf = planned.model.parts.iter().find(|part| part.name == "shelf.2.1").expect("a shelf");
    let long = shelf.size[0].mm;
    assert!(long >= 346.0 + 30.0, "{long}");
    let mut cut = design.clone();
    make(&mut cut, "shelf.2.1", State::Cut);
    let right = case(&cut);
    let told: Vec<_> = of_shop(&right).iter().map(|finding| finding.message.clone()).collect();
    assert!(told.is_empty(), "{told:?}");
    let (was, is) = (shelf.block(), right.model.find("shelf.2.1").expect("a shelf").block());
    assert!((was.min - is.min).abs().max_element() < 1e-9 && (was.max - is.max).abs().max_element() < 1e-9);
    let mut short = design.clone();
    measure(&mut short, "shelf.2.1", Dimension::Length, long - 3.0);
    make(&mut short, "shelf.2.1", State::Cut);
    let short = case(&short);
    let told: Vec<_> = of_shop(&short).iter().map(|finding| finding.message.clone()).collect();
    assert!(told.iter().any(|message| message.contains("3 mm too short")), "{told:?}");
}
