//! Timbers and panels side by side: each figure is that of the case which is really of that timber.

use casewright_core::compare::{Make, Where, panels, timbers};
use casewright_core::design::decisions::set;
use casewright_core::design::text;
use casewright_core::{Design, derive};
use casewright_tests::Case;

fn demo() -> Design {
    text::read(include_str!("../../examples/records_cabinet.ron")).expect("the demo")
}

fn with(changes: &[(&str, &str)]) -> Design {
    let mut design = demo();
    for (path, value) in changes {
        set(&mut design, path, value).expect("a decision");
    }
    design
}

/// The top is 498 wide. By table 13-5 of the Wood Handbook FPL-GTR-190 (read): white ash 0.00274, quaking aspen 0.00234 a percent along the
/// rings; from 6 to 11 % that is 6.8 and 5.8 mm.
#[test]
fn movement_is_that_of_the_handbook() {
    let rows = timbers(&demo(), Where::Whole).expect("a case");
    let top = derive(&demo()).expect("the demo").find("top").expect("a top").size[1].mm;
    for (id, coefficient) in [("white_ash", 0.00274), ("quaking_aspen", 0.00234)] {
        let row = rows.iter().find(|row| row.id == id).expect("a species of the table");
        let moved = row.movement.as_ref().expect("it moves").value;
        assert!((moved - top * coefficient * 5.0).abs() < 1e-9, "{id}: {moved}");
    }
}

/// Bending goes with one over the modulus of elasticity: white ash 12,000, quaking aspen 8,100 N/mm² (Wood Handbook FPL-GTR-190, table 5-3a, read).
#[test]
fn a_softer_timber_sags_more() {
    let rows = timbers(&demo(), Where::Shelving).expect("a case");
    let sag = |id: &str| rows.iter().find(|row| row.id == id).and_then(|row| row.sag.as_ref()).expect("it sags").value;
    let ratio = sag("quaking_aspen") / sag("white_ash");
    // Its own weight is less, so it is a little under 12,000 / 8,100.
    assert!((1.40..=12_000.0 / 8_100.0).contains(&ratio), "{ratio}");
}

#[test]
fn what_the_design_has_comes_first_and_nothing_else_is_chosen() {
    let rows = timbers(&demo(), Where::Whole).expect("a case");
    assert!(rows.len() >= 30, "{}", rows.len());
    assert_eq!(rows.iter().filter(|row| row.chosen).map(|row| row.id.as_str()).collect::<Vec<_>>(), ["white_ash"]);
    assert!(rows[0].chosen);
    // Teak moves by a coefficient of table 13-5 that was recalled, white ash by one that was read.
    let recalled = |id: &str| {
        let row = rows.iter().find(|row| row.id == id).expect("a species of the table");
        (row.movement.as_ref().expect("it moves").recalled(), row.mass.as_ref().expect("it weighs").sign())
    };
    assert_eq!(recalled("teak"), (vec!["movement along the rings"], ""));
    assert_eq!(recalled("european_larch"), (Vec::new(), "*"), "its density is recalled, its movement read");
    assert_eq!(recalled("white_ash").0, Vec::<&str>::new());
}

/// A candidate is what the case becomes when its decisions are set.
#[test]
fn a_candidate_is_the_case_that_it_becomes() {
    for of in Where::ALL {
        let rows = timbers(&demo(), of).expect("a case");
        let candidate = rows.iter().find(|row| row.id == "iroko").expect("a species of the table");
        let changes: Vec<_> = of.decisions().iter().map(|path| (*path, "iroko")).collect();
        let there = timbers(&with(&changes), of).expect("a case");
        let there = there.iter().find(|row| row.chosen).expect("it is chosen now");
        assert_eq!(
            (&there.id, &there.movement, &there.sag, &there.mass),
            (&candidate.id, &candidate.movement, &candidate.sag, &candidate.mass),
            "{of:?}"
        );
    }
}

/// Twice the price of all timber is twice its share; the rest stays.
#[test]
fn money_follows_prices_and_hours() {
    let total = |changes: &[(&str, &str)]| {
        let rows = timbers(&with(changes), Where::Whole).expect("a case");
        let chosen = rows.into_iter().find(|row| row.chosen).expect("the design's own");
        chosen.cost.total.unwrap_or_else(|| panic!("no price of {:?}", chosen.cost.missing)).value
    };
    let sheets = [("money.sheets.veneered_mdf_12", "20"), ("money.sheets.veneered_mdf_18", "30"), ("money.hour", "0")];
    let alone = |price| total(&[&sheets[..], &[("money.timber.white_ash", price)]].concat());
    let steps = [alone("2000") - alone("1000"), alone("3000") - alone("2000")];
    assert!((steps[0] - steps[1]).abs() < 1e-9 && steps[0] > 50.0, "{steps:?}");
    let mut dear = sheets;
    dear[2].1 = "50";
    let hours = timbers(&demo(), Where::Whole).expect("a case")[0].cost.hours.value;
    let with_hours = total(&[&dear[..], &[("money.timber.white_ash", "1000")]].concat());
    assert!((with_hours - alone("1000") - 50.0 * hours).abs() < 1e-6, "{with_hours}");
}

#[test]
fn a_missing_price_names_the_decision_that_would_hold_it() {
    let rows = timbers(&demo(), Where::Whole).expect("a case");
    let iroko = rows.iter().find(|row| row.id == "iroko").expect("a species of the table");
    assert_eq!((iroko.cost.total.is_none(), iroko.cost.missing.as_slice()), (true, &["money.timber.iroko".to_owned()][..]));
}

/// Solid panels move as their species does, sheets hardly; and the work that they ask for is told apart.
#[test]
fn every_make_up_of_the_panels_is_told() {
    let rows = panels(&demo()).expect("a case");
    assert_eq!(rows.iter().map(|row| row.make).collect::<Vec<_>>(), Make::ALL);
    let of = |make| rows.iter().find(|row| row.make == make).expect("every make-up");
    let moved = |make| of(make).movement.as_ref().expect("it moves").value;
    assert!(moved(Make::Boards) > 3.0 * moved(Make::VeneeredMdf), "{} {}", moved(Make::Boards), moved(Make::VeneeredMdf));
    let hours = |make: Make| of(make).cost.hours.value;
    assert!(hours(Make::SawnVeneer) > hours(Make::BoughtVeneer) && hours(Make::BoughtVeneer) > hours(Make::VeneeredMdf));
    assert!(of(Make::VeneeredMdf).chosen);
    assert_eq!(of(Make::Boards).changes, [("timber.panel.product".to_owned(), "edge_glued_white_ash".to_owned())]);
    let room = |make: Make| of(make).room.as_ref().expect("it stands in grooves");
    let (solid, sheet) = (room(Make::Boards), room(Make::VeneeredMdf));
    assert!(solid.value < sheet.value, "a solid panel needs more room: {}", solid.value);
}

/// What is bought ready can be taken: the case is then of it.
#[test]
fn a_sheet_that_is_taken_is_chosen() {
    let rows = panels(&demo()).expect("a case");
    let plywood = rows.iter().find(|row| row.make == Make::VeneeredPlywood).expect("every make-up");
    let changes: Vec<_> = plywood.changes.iter().map(|(path, value)| (path.as_str(), value.as_str())).collect();
    assert!(!changes.is_empty());
    let rows = panels(&with(&changes)).expect("a case");
    let chosen: Vec<_> = rows.iter().filter(|row| row.chosen).map(|row| row.make).collect();
    assert_eq!(chosen, [Make::VeneeredPlywood]);
    // Boards too: then they move in the case as they were said to.
    let boards = with(&[("timber.panel.product", "edge_glued_white_ash")]);
    let of_boards =
        |design: &Design| panels(design).expect("a case").into_iter().find(|row| row.make == Make::Boards).expect("every make-up");
    let (before, after) = (of_boards(&demo()), of_boards(&boards));
    assert!(after.chosen && !before.chosen);
    assert_eq!(before.movement.map(|moved| moved.value), after.movement.map(|moved| moved.value));
}

/// What would fail of the case is told of each timber, and it is what a case of that timber is told: at a width of 2600 the rails of western redcedar sag past
/// L/144, those of white ash don't.
#[test]
fn a_timber_that_would_fail_says_by_what() {
    let wide = with(&[("carcase.width", "2600")]);
    let rows = timbers(&wide, Where::Whole).expect("a case");
    let fails = |id: &str| &rows.iter().find(|row| row.id == id).expect("a species of the table").fails;
    assert!(fails("western_redcedar").iter().any(|message| message.contains("sags")), "{:?}", fails("western_redcedar"));
    for id in ["western_redcedar", "white_ash", "sugar_maple"] {
        let case = Case::of({
            let mut design = wide.clone();
            for path in Where::Whole.decisions() {
                set(&mut design, path, id).expect("a decision");
            }
            design
        });
        let case = case.expect("it derives");
        let told = case.findings.iter().filter(|finding| finding.seriousness == casewright_core::Seriousness::WillFail);
        let messages: Vec<&str> = told.map(|finding| finding.message.as_str()).collect();
        for message in &messages {
            assert!(fails(id).iter().any(|fails| fails == message), "{id}: {message} is not in {:?}", fails(id));
        }
    }
    assert!(
        timbers(&demo(), Where::Whole).expect("a case").iter().any(|row| row.chosen && row.fails.is_empty()),
        "the demo serves as it is"
    );
    // Panels that would burst their frames say so too, and boards of a species are known for what they are.
    let boards = with(&[("timber.panel.product", "edge_glued_red_oak")]);
    let rows = panels(&boards).expect("a case");
    let chosen = rows.iter().find(|row| row.chosen).expect("what the design has");
    assert!(chosen.make == Make::Boards && chosen.sheet.as_deref() == Some("edge_glued_red_oak"), "{chosen:?}");
    assert!(!chosen.fails.is_empty(), "grooves for sheets have no room for boards");
}
