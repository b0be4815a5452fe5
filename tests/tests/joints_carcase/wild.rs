//! Sizes that no maker would want: whatever is asked for, nothing breaks, and what can't be made is told.

use casewright_core::joint::{Wanted, box_joint, breadboard, dovetail, housing, rabbet, sliding_dovetail, tongue};
use casewright_core::model::Stop;
use proptest::prelude::*;
use proptest::test_runner::RngSeed;

use crate::{INDOORS, Pair, breadboard_ends, corners, rabbets, shelves, tongues};

/// A size by the rule, a likely one, one at the edge of sense, or none.
fn size() -> impl Strategy<Value = Option<f64>> {
    prop_oneof![
        3 => Just(None),
        4 => (-2.0f64..30.0).prop_map(Some),
        1 => Just(Some(0.0)),
        1 => (-1e4f64..1e4).prop_map(Some),
        1 => Just(Some(f64::NAN)),
        1 => Just(Some(f64::INFINITY)),
    ]
}

fn stop() -> impl Strategy<Value = f64> {
    prop_oneof![3 => Just(0.0), 3 => 0.0f64..160.0, 1 => -20.0f64..400.0]
}

/// What was cut as wanted has a shape that closes, or an error that says why; and its figures can be told.
fn assert_told(pair: &Pair) -> Result<(), TestCaseError> {
    let kind = pair.kind();
    prop_assert!(!kind.describe().is_empty());
    let _ = (kind.broken(), kind.fits());
    for part in &pair.model.parts {
        for cut in &part.cuts {
            prop_assert!(!cut.feature.describe().is_empty() && !cut.feature.name().is_empty());
        }
        match pair.solids.of(part.id) {
            Ok(made) => prop_assert!(made.shape.is_watertight() && made.shape.volume > 0.0, "{}", part.name),
            Err(error) => prop_assert!(!error.to_string().is_empty()),
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig {
        cases: 256, rng_seed: RngSeed::Fixed(77), failure_persistence: None, max_shrink_iters: 200, ..ProptestConfig::default()
    })]

    #[test]
    fn shelves_of_any_size(depth in size(), fit in size(), slope in size(), room in size(), begin in stop(), end in stop(), round in any::<bool>()) {
        let stops = [begin, end];
        let housed = housing::Wanted { depth, fit, stops, room: [0.0; 2], thicker: 0.0, round, glued: true };
        assert_told(&shelves::shelf(&Wanted::Housing(housed), "white_ash"))?;
        let sliding = sliding_dovetail::Wanted { depth, slope, fit, room, taper: room, stops, glued: true };
        assert_told(&shelves::shelf(&Wanted::SlidingDovetail(sliding), "white_ash"))?;
    }

    #[test]
    fn tongues_and_rabbets_of_any_size(
        thickness in size(), offset in size(), room in size(), fit in size(), begin in stop(), end in stop(), diameter in size(),
    ) {
        let stop = diameter.map_or(Stop::Round, |diameter| Stop::Ramp { diameter });
        let wanted = tongue::Wanted { thickness, offset, length: None, room, fit, stops: [begin, end], stop, glued: false };
        assert_told(&tongues::tongued(&wanted))?;
        assert_told(&rabbets::corner(rabbet::Wanted { depth: thickness, beside: room, glued: false }))?;
    }

    #[test]
    fn corners_of_any_size(
        height in 8.0f64..300.0, lap in size(), tails in 0u32..40, slope in size(), half_pin in size(), ratio in size(), fit in size(),
    ) {
        for half_blind in [false, true] {
            let wanted = dovetail::Wanted { half_blind, lap, tails: Some(tails), slope, half_pin, ratio, fit, glued: true };
            assert_told(&corners::drawer(height, "white_ash", &Wanted::Dovetail(wanted)))?;
        }
        let wanted = box_joint::Wanted { finger: half_pin, fit, glued: true };
        assert_told(&corners::drawer(height, "white_ash", &Wanted::BoxJoint(wanted)))?;
    }

    #[test]
    fn breadboard_ends_of_any_size(
        tenons in 0u32..40, thickness in size(), width in size(), length in size(), tongue in size(), peg in size(), fit in size(), room in size(),
    ) {
        let wanted = breadboard::Wanted {
            moisture: &INDOORS,
            tenons: Some(tenons),
            thickness,
            tenon_width: width,
            tenon_length: length,
            tongue,
            peg,
            fit,
            room,
            glued: true,
        };
        assert_told(&breadboard_ends::breadboard_end(wanted))?;
    }
}
