//! Sawtooth standards: cleats, half rounds, solid shelves, one piece at a divider.

use approx::assert_abs_diff_eq;
use casewright_core::inspect::Rule;
use casewright_core::model::{Feature, PartKind};
use casewright_solid::{Facets, Solid, overlap};
use casewright_tests::Case;

use super::{all_findings, told};

const HALF_ROUND: &[(&str, &str)] = &[("sawtooth.teeth", "half_round"), ("sawtooth.seat", "12"), ("sawtooth.cleat.height", "23.5")];

/// A cleat is as long as from riser to riser less 1.5 (trade check value, common practice without source).
#[test]
fn a_cleat_is_shorter_than_from_riser_to_riser_by_its_play() {
    for changes in [&[][..], HALF_ROUND] {
        let case = Case::with(changes);
        let part = |name: &str| case.model.find(name).expect(name).block();
        let (front, back) = (part("standard.1.front.left"), part("standard.1.back.left"));
        let seat = case.design.sawtooth.seat.to_mm();
        let riser_to_riser = front.min.z + seat - (back.max.z - seat);
        let cleat = case.model.find("cleat.1.1.left").expect("a cleat");
        assert_abs_diff_eq!(cleat.size[0].mm, riser_to_riser - 1.5, epsilon = 1e-9);
    }
}

/// What is loose neither binds nor falls: a cleat stands in nothing, is free to be pushed its play either way, and lies on both its seats.
#[test]
fn a_cleat_lies_in_its_teeth_and_binds_nowhere() {
    let taller: &[(&str, &str)] = &[("sawtooth.cleat.height", "50")];
    let loose: &[(&str, &str)] = &[("sawtooth.teeth", "half_round"), ("sawtooth.seat", "12"), ("sawtooth.cleat.height", "21")];
    for changes in [&[][..], taller, HALF_ROUND, loose] {
        let case = Case::with(changes);
        let (cleat, standard) =
            (case.model.find("cleat.2.2.left").expect("a cleat"), case.model.find("standard.2.front.left").expect("a standard"));
        let cells = |part: &casewright_core::model::Part| case.solids.cells(part.id).expect("a solid").clone();
        let deep = |by: glam::DVec3| {
            let pose = casewright_solid::Pose { origin: cleat.pose.origin + by, ..cleat.pose };
            overlap(&cells(cleat), &pose, &cells(standard), &standard.pose).map_or(0.0, |found| found.depth)
        };
        assert!(deep(glam::DVec3::ZERO) < 0.01, "{changes:?}: binds by {}", deep(glam::DVec3::ZERO));
        assert!(deep(glam::DVec3::new(0.0, -0.5, 0.0)) > 0.1, "{changes:?}: it lies on its seat");
        assert!(deep(glam::DVec3::new(0.0, 0.0, 2.0)) > 0.1, "{changes:?}: a riser stops it");
    }
}

/// Half rounds are half circles: what is cut out of a standard is half of as many holes (geometry).
#[test]
fn half_rounds_are_halves_of_bored_holes() {
    let case = Case::with(HALF_ROUND);
    let standard = case.model.find("standard.1.front.left").expect("a standard");
    let (mut count, mut radius) = (0, 0.0);
    for cut in &standard.cuts {
        if let Feature::HalfRounds { radius: found, count: holes, .. } = cut.feature {
            (count, radius) = (holes, found);
        }
    }
    let size = standard.lwt();
    let rounds = |prisms| Solid { size, prisms }.shape(Facets::PerTurn(512)).expect("a solid").volume;
    let of_rounds = standard.cuts.iter().filter(|cut| matches!(cut.feature, Feature::HalfRounds { .. }));
    let cut = rounds(Vec::new()) - rounds(of_rounds.flat_map(|cut| cut.feature.prisms(size)).collect());
    let wanted = f64::from(count) * std::f64::consts::PI * radius * radius / 2.0 * standard.size[2].mm;
    assert!(count > 30 && (cut / wanted - 1.0).abs() < 2e-3, "{cut} for {wanted}");
}

/// One strip serves both bays of a divider: four fewer standards, each as thick as its divider.
#[test]
fn one_piece_at_a_divider_serves_both_bays() {
    let two = Case::with(&[]);
    let one = Case::with(&[("sawtooth.mid", "one_piece")]);
    let count = |case: &Case| case.model.parts.iter().filter(|part| part.kind == PartKind::Standard).count();
    assert_eq!((count(&two), count(&one)), (12, 8));
    let shared = one.model.find("standard.1.front.right").expect("the one at the divider");
    assert_abs_diff_eq!(shared.size[2].mm, 60.0, epsilon = 1e-9);
    assert!(one.findings.is_empty(), "{}", told(&one, &one.findings));
}

/// A solid shelf moves across its width: at the wettest it still goes between its standards, at the driest it still lies on its cleats.
#[test]
fn a_solid_shelf_has_room_for_its_movement() {
    let case = Case::with(&[("sawtooth.of", "solid")]);
    assert!(case.findings.is_empty(), "{}", told(&case, &case.findings));
    let shelves: Vec<_> = case.model.parts.iter().filter(|part| part.kind == PartKind::Shelf).collect();
    assert_eq!(shelves.len(), 10);
    assert!(!case.model.parts.iter().any(|part| part.kind == PartKind::Slat));
    // 470 less 28 behind and 12 in front is 430; ash 0.00274 a percent (Wood Handbook, table 13-5) from 8 to 11 %, and 1.
    let room = (430.0_f64 * 0.00274 * 3.0 + 1.0) * 10.0;
    assert_abs_diff_eq!(shelves[0].size[1].mm, 430.0 - room.ceil() / 10.0, epsilon = 1e-9);
    let of_season: Vec<_> =
        all_findings(&case).into_iter().filter(|finding| finding.rule == casewright_core::inspect::Rule::Season).collect();
    assert!(of_season.is_empty(), "{}", told(&case, &of_season));
}

/// At a divider a strip stands behind the ends of the cleats: none slides out of its teeth there, whatever the bay beside has.
#[test]
fn spacers_keep_cleats_in_their_teeth_at_dividers() {
    let slides = |changes: &[(&str, &str)]| {
        let case = Case::with(changes);
        let cleat = case.model.find("cleat.1.1.right").expect("a cleat");
        let cells = |part: &casewright_core::model::Part| case.solids.cells(part.id).expect("a solid").clone();
        let away = casewright_solid::Pose { origin: cleat.pose.origin + glam::DVec3::X * 19.0, ..cleat.pose };
        let stops = |other: &&casewright_core::model::Part| {
            overlap(&cells(cleat), &away, &cells(other), &other.pose).is_some_and(|found| found.depth > 0.1)
        };
        let spacers = case.model.parts.iter().filter(|part| part.kind == PartKind::Spacer).count();
        let told = case.findings.iter().any(|finding| finding.rule == Rule::CleatStays && case.names(finding).contains(&"cleat.1.1.right"));
        (spacers, !case.model.parts.iter().filter(|other| other.id != cleat.id).any(|other| stops(&other)), told)
    };
    let none = ("sawtooth.spacers", "none");
    let pins: &[(&str, &str)] = &[("interior.bays.2.opening.system", "pins"), ("interior.bays.2.opening.shelves", "7 17 27")];
    let one_piece: &[(&str, &str)] = &[("sawtooth.mid", "one_piece")];
    for changes in [&[][..], pins, one_piece] {
        assert_eq!(slides(changes), (4, false, false), "{changes:?}");
        assert_eq!(slides(&[changes, &[none]].concat()), (0, true, true), "{changes:?}");
        let case = Case::with(changes);
        let found: Vec<_> =
            all_findings(&case).into_iter().filter(|finding| case.names(finding).iter().any(|name| name.starts_with("spacer"))).collect();
        assert!(found.is_empty(), "{changes:?}: {}", told(&case, &found));
    }
}

/// What the check tells is what the solids do: pushed as far as it says a cleat strikes nothing, and a tenth farther it does.
#[test]
fn a_cleat_slides_as_far_as_is_told() {
    let thin: &[(&str, &str)] = &[("carcase.post.width", "50"), ("sawtooth.cleat.thickness", "12")];
    let case = Case::with(thin);
    let told = case.findings.iter().find(|finding| case.names(finding)[0] == "cleat.1.1.left").expect("told");
    let slides = told.figures.iter().find(|figure| figure.name == "slides").expect("how far").value;
    let cleat = case.model.find("cleat.1.1.left").expect("a cleat");
    let cells = |part: &casewright_core::model::Part| case.solids.cells(part.id).expect("a solid").clone();
    let strikes = |by: f64| {
        let away = casewright_solid::Pose { origin: cleat.pose.origin - glam::DVec3::X * by, ..cleat.pose };
        let fixed = case.model.parts.iter().filter(|part| part.id != cleat.id);
        fixed.filter(|other| overlap(&cells(cleat), &away, &cells(other), &other.pose).is_some_and(|found| found.depth > 0.02)).count() > 0
    };
    assert!(slides > 5.0 && !strikes(slides) && strikes(slides + 0.1), "{slides}");
}
