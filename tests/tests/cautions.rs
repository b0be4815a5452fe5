//! Each caution appears only where it applies.

use casewright_core::cautions::{About, Caution, SHORTEST, cautions};
use casewright_core::design::decisions::set;
use casewright_core::design::{Bottom, Fitting, Opening, Side, text};
use casewright_core::{Design, Model, derive};

fn with(changes: &[(&str, &str)]) -> Design {
    let mut design = text::read(include_str!("../../examples/records_cabinet.ron")).expect("the demo");
    for (path, value) in changes {
        set(&mut design, path, value).expect("a decision");
    }
    design
}

/// The same with nothing inside, and without sides, back and floor: no sheet is left, and no groove.
fn skeleton(changes: &[(&str, &str)]) -> Design {
    let mut design = with(changes);
    design.interior = Opening::Leaf(Fitting::Empty);
    let case = &mut design.carcase;
    (case.left, case.right, case.back, case.bottom) = (Side::Open, Side::Open, Side::Open, Bottom::Open);
    design
}

fn cautions_of(design: &Design) -> (Model, Vec<Caution>) {
    let model = derive(design).expect("a case");
    let cautions = cautions(design, &model);
    (model, cautions)
}

fn told(changes: &[(&str, &str)]) -> (Model, Vec<Caution>) {
    cautions_of(&with(changes))
}

fn about(changes: &[(&str, &str)], about: About) -> Vec<String> {
    told(changes).1.into_iter().filter(|caution| caution.about == about).map(|caution| caution.words).collect()
}

/// The EU's limit for hardwood dust: 2 mg/m³ over 8 hours (Directive 2017/2398, read in notices of the trade).
#[test]
fn dust_of_hardwood_has_its_limit_and_softwood_is_told_apart() {
    assert!(about(&[], About::Dust)[0].contains("2 mg/m³"));
    let softwood = ["timber.frame", "timber.top", "timber.shelving"].map(|of| (of, "scots_pine"));
    let (_, all) = cautions_of(&skeleton(&softwood));
    let told = &all.iter().find(|caution| caution.about == About::Dust).expect("wood makes dust").words;
    assert!(told.contains("softwood") && !told.contains("2 mg/m³"), "{told}");
}

/// Padauk, iroko and African mahogany (Forest Products Laboratory species sheets, read).
#[test]
fn a_species_is_cautioned_against_only_where_it_is_used() {
    assert!(about(&[], About::Species).is_empty(), "nothing is published against white ash");
    let iroko = about(&[("timber.top", "iroko")], About::Species);
    assert!(iroko.len() == 1 && iroko[0].contains("rash"), "{iroko:?}");
    let (model, all) = told(&[("timber.top", "iroko")]);
    let caution = all.iter().find(|caution| caution.about == About::Species).expect("one of iroko");
    assert!(caution.parts.iter().all(|part| model.timbers.name(&model.part(*part).material) == "Iroko"));
}

#[test]
fn only_parts_that_are_short_are_named() {
    let (model, all) = told(&[]);
    let short = all.iter().find(|caution| caution.about == About::ShortParts).expect("buttons are short");
    assert!(short.parts.iter().all(|part| model.part(*part).lwt().x < SHORTEST));
    assert!(short.words.contains(&model.part(short.parts[0]).mark));
}

#[test]
fn stopped_grooves_oil_and_epoxy_are_told_where_they_are() {
    assert!(!about(&[], About::StoppedCuts).is_empty(), "grooves in posts stop");
    assert!(cautions_of(&skeleton(&[])).1.iter().all(|caution| caution.about != About::StoppedCuts));
    assert!(about(&[("timber.finish", "open")], About::OilyRags).is_empty() && about(&[], About::Glue).is_empty());
    assert_eq!(about(&[("timber.finish", "drying_oil")], About::OilyRags).len(), 1);
    assert_eq!(about(&[("shop.glue.family", "epoxy")], About::Glue).len(), 1);
    assert!(about(&[("timber.finish", "film")], About::OilyRags).is_empty());
}
