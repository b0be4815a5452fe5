//! Room for timber that moves.

use approx::assert_abs_diff_eq;
use casewright_core::design::{Moisture, Season};
use casewright_core::timber::clearance::{panel_size, slot_length};
use casewright_core::timber::{Grooved, Seasons, Timbers, Travel};

/// Built at 8 %, kept at 6 to 11 %.
const INDOORS: Moisture = Moisture::range(8.0, 6.0, 11.0);

fn flat_sawn(species: &str) -> f64 {
    Timbers::default().species(species).and_then(|species| species.tangential.as_ref()).expect("a species").value
}

/// White oak flat-sawn, 200 from the line that stays put: 2.2 out and 1.5 in; a shank of 5 with 1 more, rounded up to a half: 5 × 10
/// (arithmetic on Wood Handbook FPL-GTR-190, table 13-5, read; the 1 is common practice, no source).
#[test]
fn a_slot_for_a_screw_under_a_top_of_white_oak() {
    let travel = Travel::at(200.0, flat_sawn("white_oak"), &INDOORS);
    assert_abs_diff_eq!(travel.growth, 2.2, epsilon = 0.05);
    assert_abs_diff_eq!(travel.shrinkage, 1.5, epsilon = 0.05);
    assert_abs_diff_eq!(slot_length(5.0, travel.both()), 10.0, epsilon = 1e-9);
    assert_abs_diff_eq!(slot_length(5.0, 4.0), 10.0, epsilon = 1e-9);
    assert_abs_diff_eq!(slot_length(5.0, 4.01), 10.5, epsilon = 1e-9);
}

/// Built near the dry end nearly all is growth; built at the wet end all is shrinkage. Half the range would be wrong in both.
#[test]
fn growth_and_shrinkage_are_counted_from_the_moisture_it_is_built_at() {
    let (dry, wet) = (Moisture::range(6.0, 6.0, 11.0), Moisture::range(11.0, 6.0, 11.0));
    let [dry, wet] = [dry, wet].map(|moisture| Travel::at(200.0, flat_sawn("white_oak"), &moisture));
    assert_abs_diff_eq!(dry.shrinkage, 0.0);
    assert_abs_diff_eq!(wet.growth, 0.0);
    assert_abs_diff_eq!(dry.growth, 3.65, epsilon = 1e-9);
    assert_abs_diff_eq!(wet.shrinkage, 3.65, epsilon = 1e-9);
}

fn grooved(width: f64) -> Grooved {
    // The opening is taken to stay what it is.
    let opening = Seasons { built: 300.0, driest: 300.0, wettest: 300.0 };
    Grooved { opening, depths: [10.0, 10.0], across: Seasons::of(width, flat_sawn("red_oak"), &INDOORS) }
}

/// A panel of flat-sawn red oak in an opening of 300 with grooves of 10, 0.5 of play in all when wettest: 316.0; a quarter free at each
/// side when wet; 6.8 engaged when dry and centred, 3.7 when pushed to one side. One of 318 bursts the frame, over by 1.5 (arithmetic on
/// the same table; the play is common practice, no source).
#[test]
fn a_panel_of_red_oak_in_its_grooves() {
    let width = panel_size(300.0, 10.0, 0.5, &Seasons::of(1.0, flat_sawn("red_oak"), &INDOORS));
    assert_abs_diff_eq!(width, 316.0, epsilon = 1e-9);
    let panel = grooved(width);
    assert_abs_diff_eq!(panel.room(Season::Wettest) / 2.0, 0.25, epsilon = 0.005);
    assert_abs_diff_eq!(panel.engaged_centred(Season::Driest), 6.8, epsilon = 0.05);
    assert_abs_diff_eq!(panel.engaged_pushed(Season::Driest), 3.7, epsilon = 0.05);
    assert_abs_diff_eq!(grooved(318.0).room(Season::Wettest), -1.5, epsilon = 0.05);
    assert!(grooved(318.0).room(Season::Built) > 0.0, "it goes in when it is built");
}
