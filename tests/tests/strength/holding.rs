//! Screws, pins, notches, and what a stuff may be asked to bear.

use crate::INCH;
use approx::assert_relative_eq;
use casewright_core::model::Material;
use casewright_core::strength::{
    Board, ServiceClass, allowed_bearing, bearing_at_angle, bearing_stress, eurocode_k_def, notch_factor, screw_lateral, screw_shank,
    screw_withdrawal, screw_withdrawal_allowed, shear_along, shear_at_notch,
};
use casewright_core::strength::{GRAVITY, Properties, allowed_bending};
use casewright_core::timber::{How, Timbers};
use casewright_core::worked::Basis;

/// Worked examples W24 and W25: at G 0.45 and D 0.190 in, 109 lb to the inch of thread may be asked (SCREW-ENG, read; cut, not rounded), and
/// 604.06 lbf draw it out by the inch form 15700 G² D (from memory), 604.10 by the SI form (Wood Handbook, equation 8-10, read).
#[test]
fn a_screw_is_drawn_out_as_the_handbook_has_it() {
    let mut wood = Properties::plain("wood", 10_000.0);
    wood.gravity = wood.density.clone().or(Some(casewright_core::timber::Known::new(0.45, How::Maker, "the example")));
    let pound_force = 4.448_222;
    let (shank, thread) = (0.190 * INCH, INCH);
    let ultimate = screw_withdrawal(&wood, shank, thread).expect("its gravity is known");
    assert_relative_eq!(ultimate.value / pound_force, 604.10, max_relative = 1e-4);
    let asked = screw_withdrawal_allowed(&wood, shank, thread).expect("its gravity is known").value / pound_force;
    assert!((asked.floor() - 109.0).abs() < 1e-9, "{asked}");
    // Chapter 8, read: an 8 gauge has 4.17 mm; K of 23.17 for hardwood of 0.33 to 0.47.
    assert_eq!((screw_shank(8), screw_shank(13)), (Some(4.17), None));
    assert_relative_eq!(screw_lateral(&wood, false, 4.17).expect("in range").value, 23.17 * 4.17 * 4.17, max_relative = 1e-12);
    assert!(screw_withdrawal(&Properties::plain("a board", 2500.0), 4.17, 20.0).is_none(), "ask its maker");
}

/// By hand: 20 kg on four pins of 5 that reach 8 under the shelf: 49.03 N each on 40 mm²; of red oak, 7.0 N/mm² at its proportional limit (Wood Handbook
/// FPL-GTR-190, table 5-3a, read), six tenths of that for ten years, over 1.5.
#[test]
fn four_pins_under_a_shelf_of_red_oak() {
    let stress = bearing_stress(20.0 * GRAVITY / 4.0, 5.0, 8.0);
    assert_relative_eq!(stress.value, 1.2258, max_relative = 1e-4);
    let oak = Properties::of(&Material::Solid("red_oak".to_owned()), &Timbers::default()).expect("it is in the table");
    let allowed = allowed_bearing(&oak).expect("it is in the table");
    assert_relative_eq!(allowed.value, 2.8, max_relative = 1e-9);
    assert!(stress.explain().join("\n").contains("width 5 mm") && allowed.explain().join("\n").contains("table 5-3a"));
}

/// EN 1995-1-1 table 3.2: solid timber 0.60, 0.80 and 2.00, plywood 0.80, 1.00 and 2.50, MDF.LA 2.25 in class 1 only (read in copies).
#[test]
fn deformation_factors_of_eurocode_5() {
    let of = |board| [ServiceClass::One, ServiceClass::Two, ServiceClass::Three].map(|class| eurocode_k_def(board, class));
    assert_eq!(of(Board::Timber), [Some(0.60), Some(0.80), Some(2.00)]);
    assert_eq!(of(Board::Plywood), [Some(0.80), Some(1.00), Some(2.50)]);
    assert_eq!(of(Board::Mdf), [Some(2.25), None, None]);
}

/// What must hold of the formulas at their ends: along and across the grain, no notch and a deep one, a plane that is too long to count.
#[test]
fn ends_of_beams_at_the_ends_of_their_formulas() {
    assert_relative_eq!(bearing_at_angle(50.0, 8.0, 0.0).value, 50.0, max_relative = 1e-12);
    assert_relative_eq!(bearing_at_angle(50.0, 8.0, 90.0).value, 8.0, max_relative = 1e-12);
    assert_relative_eq!(notch_factor(40.0, 40.0, 20.0).value, 1.0, max_relative = 1e-12);
    assert!(notch_factor(200.0, 100.0, 40.0).value < notch_factor(200.0, 150.0, 40.0).value);
    assert_relative_eq!(shear_at_notch(300.0, 20.0, 40.0, 40.0, 10.0).value, 1.5 * 300.0 / 800.0, max_relative = 1e-12);
    assert_relative_eq!(shear_along(300.0, 20.0, 500.0, 5.0).value, 300.0 / (20.0 * 40.0), max_relative = 1e-12);
}

#[test]
fn a_stuff_that_no_table_has_is_told() {
    let told = |material: Material| Properties::of(&material, &Timbers::default()).expect_err("it is not known").to_string();
    assert!(told(Material::Solid("moonwood".to_owned())).contains("moonwood is in no table"));
    assert!(told(Material::Sheet("edge_glued_panel".to_owned())).contains("no modulus of elasticity is known"));
}

/// `k_mod` of EN 1995-1-1, table 3.1, for a permanent load in service class 1 (read in copies): 0.60 for solid timber and plywood, 0.30 for particleboard, 0.20
/// for MDF. With the least strength that EN 622-5 asks of MDF of 18, 20 N/mm² (read), the standard would allow 20 · 0.20 / 1.3 = 3.08; the program asks less.
#[test]
fn boards_keep_less_of_their_strength_than_timber_does() {
    let of = |id: &str| Properties::of(&Material::Sheet(id.to_owned()), &Timbers::default()).expect("it is in the table");
    let share = |id: &str| {
        let allowed = allowed_bending(&of(id)).expect("its strength is known");
        let Basis::Formula { inputs, .. } = &allowed.basis else { panic!("{allowed:?}") };
        (inputs[1].value, inputs[0].name.to_string(), allowed.value)
    };
    let (kept, word, allowed) = share("mdf_en622_5_18");
    assert!((kept - 0.2).abs() < 1e-12 && !word.contains("mean strength") && allowed < 3.08 && allowed > 1.0, "{kept} {word} {allowed}");
    assert!((share("particleboard_p2_18").0 - 0.3).abs() < 1e-12 && (share("birch_plywood_18").0 - 0.6).abs() < 1e-12);
    let oak = Properties::of(&Material::Solid("red_oak".to_owned()), &Timbers::default()).expect("it is in the table");
    // 99 · 0.6 / 3 (Wood Handbook FPL-GTR-190, table 5-3a, read).
    assert_relative_eq!(allowed_bending(&oak).expect("its strength is known").value, 19.8, max_relative = 1e-12);
}
