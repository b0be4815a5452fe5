//! Rows of holes and of teeth, set out from one end.

use approx::assert_abs_diff_eq;
use casewright_core::design::{PinOf, Pins};
use casewright_core::joint::seat::slope_degrees;
use casewright_core::model::{Feature, PartKind};
use casewright_tests::Case;

use super::heights;

/// The middle bay on pins.
const PINS: &[(&str, &str)] = &[("interior.bays.2.opening.system", "pins"), ("interior.bays.2.opening.shelves", "7 17 27")];

/// 720 between shelves, the first hole 96 up, 96 clear at the top, pitch 32: 17 holes, the last at 608 (arithmetic: 720 less 192 is 16 pitches
/// and a half).
#[test]
fn pin_rows_have_seventeen_holes_between_shelves_720_apart() {
    let pins = Pins::default();
    assert_eq!(pins.holes(720.0), 17);
    assert_abs_diff_eq!(pins.height(17), 608.0, epsilon = 1e-9);
    assert_eq!((pins.holes(719.0), pins.holes(704.0), pins.holes(703.9), pins.holes(192.0), pins.holes(191.0)), (17, 17, 16, 1, 0));
}

/// The same in a case whose opening is 720, left and right alike, front and back.
#[test]
fn every_row_of_a_bay_is_bored_alike_from_its_floor() {
    // 50 of foot, 110 and 72 of rails, 24 of top.
    let case = Case::with(&[PINS, &[("carcase.height", "976"), ("interior.bays.2.opening.shelves", "7 17")]].concat());
    let low = case.model.bays[1].space.min.y;
    let rows: Vec<Vec<f64>> = ["stile.1", "muntin.1", "stile.2", "muntin.2"]
        .iter()
        .flat_map(|name| heights(case.model.find(name).expect("an upright")))
        .collect();
    assert_eq!(rows.len(), 4, "a row in each upright");
    for row in &rows {
        assert_eq!(row.len(), 17);
        assert_abs_diff_eq!(row[0] - low, 96.0, epsilon = 1e-9);
        assert_abs_diff_eq!(row[16] - low, 608.0, epsilon = 1e-9);
        assert!(row.iter().zip(&rows[0]).all(|(a, b)| (a - b).abs() < 1e-9), "left and right alike");
    }
}

/// Holes of 5, stopped, 37 from the edges of the posts (the 32 mm system of cabinet making; read), and what the maker decides instead.
#[test]
fn rows_stand_where_the_maker_decides_and_by_rule_at_37() {
    let middles = |changes: &[(&str, &str)]| {
        let case = Case::with(&[PINS, changes].concat());
        let row = |name: &str| {
            let part = case.model.find(name).expect("an upright").clone();
            part.cuts.iter().find_map(|cut| match cut.feature {
                Feature::HoleRow { first, diameter, depth, .. } => Some((part.pose.point(first).z, diameter, depth)),
                _ => None,
            })
        };
        [row("stile.1").expect("a row"), row("muntin.2").expect("a row")]
    };
    assert_eq!(middles(&[]), [(470.0 - 37.0, 5.0, 12.0), (37.0, 5.0, 12.0)]);
    assert_eq!(
        middles(&[("pins.front", "30"), ("pins.back", "25"), ("pins.depth", "11"), ("pins.diameter", "6")]),
        [(440.0, 6.0, 11.0), (25.0, 6.0, 11.0)]
    );
    // A cleat that is screwed lies on 16 of a post of 48, which has room for no screw 14 from its edge and 16 from the cleat's end: it stands in the middle.
    let case = Case::with(&[("interior.bays.1.opening.system", "cleats"), ("cleats.by", "screws")]);
    let fails: Vec<_> = case.failures().iter().map(|finding| finding.message.clone()).collect();
    assert!(fails.is_empty(), "{fails:?}");
    // In a post of 42 it would leave 2.5 beside a hole of 5: as far in as leaves 5.
    assert_abs_diff_eq!(Pins::default().setback(42.0), 34.5, epsilon = 1e-12);
    for depth in ["40", "42", "45"] {
        let case = Case::with(&[PINS, &[("carcase.post.depth", depth)]].concat());
        let fails: Vec<_> = case
            .failures()
            .iter()
            .filter(|finding| case.names(finding).iter().any(|name| name.starts_with("pin.")))
            .map(|finding| finding.message.clone())
            .collect();
        assert!(fails.is_empty(), "{depth}: {fails:?}");
    }
}

/// All four standards of a bay have the same table of teeth, sloped or half round.
#[test]
fn all_four_standards_have_one_table_of_teeth() {
    for changes in [&[][..], &[("sawtooth.teeth", "half_round"), ("sawtooth.seat", "12"), ("sawtooth.cleat.height", "23.5")]] {
        let case = Case::with(changes);
        let tables: Vec<Vec<f64>> = case.model.parts.iter().filter(|part| part.kind == PartKind::Standard).flat_map(heights).collect();
        assert_eq!(tables.len(), 12, "four in each of three bays");
        assert!(tables[0].len() > 30);
        assert!(tables.iter().all(|table| table.iter().zip(&tables[0]).all(|(a, b)| (a - b).abs() < 1e-9)));
    }
}

/// Trade check values without source: pitch 40, crest 2 and a slope of 22.5° from the upright give a seat of 15.74; 32, 16 and 2 give 28.1°.
#[test]
fn a_seat_follows_from_the_slope_that_is_wanted() {
    let mut design = casewright_tests::demo_with(&[("sawtooth.pitch", "40"), ("sawtooth.crest", "2")]);
    casewright_tests::set(&mut design, "sawtooth.slope", "22.5").expect("an angle");
    assert_abs_diff_eq!(design.sawtooth.seat.to_mm(), 15.74, epsilon = 0.005);
    assert_abs_diff_eq!(slope_degrees(40.0, 15.74, 2.0), 22.5, epsilon = 0.01);
    assert_abs_diff_eq!(slope_degrees(32.0, 16.0, 2.0), 28.1, epsilon = 0.05);
    for wrong in ["flat", "0", "89", "NaN"] {
        let error = casewright_tests::set(&mut design, "sawtooth.slope", wrong).expect_err("no slope").to_string();
        assert!(error.contains("sawtooth.s"), "{error}");
    }
}

/// Pins of wood are parts of the shelving's timber; those of steel are bought.
#[test]
fn pins_are_in_the_cut_list_as_what_they_are() {
    for (word, of) in [("steel", PinOf::Steel), ("wood", PinOf::Wood)] {
        let case = Case::with(&[PINS, &[("pins.of", word)]].concat());
        assert_eq!(case.design.pins.of, of);
        let pins: Vec<_> = case.model.parts.iter().filter(|part| part.kind == PartKind::Pin).collect();
        assert_eq!(pins.len(), 12, "four to each of three shelves");
        assert!(pins.iter().all(|pin| pin.mark == pins[0].mark && pin.size_text() == "22 × 4.9 × 4.9"), "{}", pins[0].size_text());
        let list = casewright_core::CutList::of(&case.design, &case.model);
        let row = list.rows.iter().find(|row| row.kind == PartKind::Pin).expect("a row");
        assert_eq!(row.parts.len(), 12);
        assert_eq!(row.made_of.contains("steel"), of == PinOf::Steel, "{}", row.made_of);
    }
}

/// Standards are cut together, so that their teeth are alike: four strips of 20 are clamped side by side, which are 80; half rounds in pairs. What is roughed out are
/// strips, not a blank.
#[test]
fn the_cut_list_tells_what_is_cut_together() {
    let notes = |changes: &[(&str, &str)]| -> Vec<String> {
        let case = Case::with(changes);
        let list = casewright_core::CutList::of(&case.design, &case.model);
        list.rows.into_iter().filter(|row| row.kind == PartKind::Standard).flat_map(|row| row.notes).collect()
    };
    let sloped = notes(&[]);
    assert!(
        sloped.iter().any(|note| note.starts_with("Clamp 4 side by side, ends flush, 80 together: saw the teeth across")),
        "{sloped:?}"
    );
    let round = notes(&[("sawtooth.teeth", "half_round"), ("sawtooth.seat", "12"), ("sawtooth.cleat.height", "23.5")]);
    assert!(
        round.iter().any(|note| note.starts_with("In pairs, edge to edge, 60 wide: bore 24 every 32") && note.ends_with("1.6 shallower")),
        "{round:?}"
    );
}
