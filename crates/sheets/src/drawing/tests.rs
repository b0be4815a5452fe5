//! What a maker would see on the paper, of what only the sheets themselves know.

use casewright_core::design::decisions;
use casewright_core::{ShapeCache, derive, inspect};

use super::*;

const DEMO: &str = include_str!("../../../../examples/records_cabinet.ron");

/// The demo with decisions changed.
fn case(changes: &[(&str, &str)]) -> (Design, Model, Solids) {
    let mut design = casewright_core::design::text::read(DEMO).expect("the demo");
    for (name, value) in changes {
        decisions::set(&mut design, name, value).expect("a decision");
    }
    let model = derive(&design).expect("a case");
    let solids = ShapeCache::default().shape(&model);
    (design, model, solids)
}

#[test]
fn the_paper_is_the_same_every_time_and_tells_the_date_it_is_given() {
    let (design, model, solids) = case(&[]);
    let findings = inspect(&design, &model, &solids);
    let make = |date: Option<&str>| {
        let paper = Paper { date: date.map(str::to_owned), ..Paper::default() };
        drawing_pdf(&design, &model, &solids, &findings, &paper).expect("a paper")
    };
    let plain = make(None);
    assert!(plain.starts_with(b"%PDF-"));
    assert_eq!(plain, make(None));
    assert_ne!(plain, make(Some("3 May 2031")));
}

#[test]
fn cautions_are_on_the_paper_where_they_apply() {
    let about = |changes: &[(&str, &str)]| {
        let (design, model, _) = case(changes);
        typeset::cautions(&design, &model, &crate::figures::Wording::default())
    };
    let (open, oiled) = (about(&[("timber.finish", "open")]), about(&[("timber.finish", "drying_oil")]));
    let of =
        |all: &[typeset::CautionData], word: &str| all.iter().find(|it| it.about == word).map(|it| format!("{} {}", it.words, it.source));
    assert!(of(&open, "dust").is_some_and(|told| told.contains("2 mg/m³") && told.contains("2017/2398")));
    assert!(of(&open, "oily rags").is_none());
    assert!(of(&oiled, "oily rags").is_some_and(|told| told.contains("hang them") && told.contains("from memory")));
}

#[test]
fn no_parts_no_paper() {
    let (design, _, _) = case(&[]);
    let nothing = drawing_pdf(&design, &Model::default(), &Solids::default(), &[], &Paper::default());
    assert_eq!(nothing, Err(SheetError::Empty));
}
