//! What a maker would see on the drawings.

use casewright_core::design::decisions;
use casewright_core::design::edit::{self, Edit};
use casewright_core::length::Units;
use casewright_core::{CutList, Design, Model, Sequence, ShapeCache, Solids, derive};
use casewright_sheets::drawing::{Angle, Decimal, Drafting, Page, Sheet};
use casewright_sheets::pages;
use glam::DVec2;

const DEMO: &str = include_str!("../../../examples/records_cabinet.ron");

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

/// Its sheets without the pictures.
fn sheets(changes: &[(&str, &str)], drafting: &Drafting) -> Vec<Page> {
    let (design, model, solids) = case(changes);
    pages(&design, &model, &solids, None, drafting)
}

fn figures(pages: &[Page]) -> Vec<&str> {
    pages.iter().flat_map(|page| page.ink.dimensions.iter().map(|it| page.ink.texts[it.text].text.as_str())).collect()
}

fn says(pages: &[Page], text: &str) -> bool {
    pages.iter().flat_map(|page| &page.ink.texts).any(|own| own.text == text)
}

#[test]
fn overall_members_and_places_are_on_the_drawing_and_openings_in_parentheses() {
    let pages = sheets(&[], &Drafting::default());
    let views = figures(&pages[..1]);
    for size in ["1360", "1480", "470", "1400", "498", "24", "72", "110", "50", "518", "924", "(346)", "(328)", "(1224)", "(374)", "1228"] {
        assert_eq!(views.iter().filter(|own| **own == size).count(), 1, "{size} in {views:?}");
    }
    // Both dividers have their own width; the left bay follows.
    assert_eq!(views.iter().filter(|own| **own == "60").count(), 2);
    assert_eq!(views.iter().filter(|own| **own == "(470)").count(), 1);
}

/// The size that the issue names: three views beside the title block.
#[test]
fn a_case_of_1800_by_900_by_450_goes_on_a3_at_1_to_10() {
    let mut design = casewright_core::design::text::read(DEMO).expect("the demo");
    for _ in 0..2 {
        edit::apply(&mut design, &Edit::RemoveBay(0));
    }
    for (name, value) in [("carcase.height", "1800"), ("carcase.width", "900"), ("carcase.depth", "450"), ("carcase.top.over_sides", "0")] {
        decisions::set(&mut design, name, value).expect("a decision");
    }
    let model = derive(&design).expect("a case of one bay");
    let solids = ShapeCache::default().shape(&model);
    for angle in [Angle::First, Angle::Third] {
        let pages = pages(&design, &model, &solids, None, &Drafting { angle, ..Drafting::default() });
        assert!(says(&pages[..1], "1:10"), "{angle:?}");
    }
    let linen = include_str!("../../../examples/linen_shelves_housed.ron");
    let mut upright = casewright_core::design::text::read(linen).expect("an example");
    for (name, value) in [("carcase.height", "1800"), ("carcase.depth", "450")] {
        decisions::set(&mut upright, name, value).expect("a decision");
    }
    let model = derive(&upright).expect("a case of one bay");
    let solids = ShapeCache::default().shape(&model);
    for angle in [Angle::First, Angle::Third] {
        let pages = pages(&upright, &model, &solids, None, &Drafting { angle, ..Drafting::default() });
        assert!(says(&pages[..1], "1:10"), "upright, {angle:?}");
    }
    let wide = sheets(&[("carcase.width", "1800"), ("carcase.height", "900"), ("carcase.depth", "450")], &Drafting::default());
    assert!(says(&wide[..1], "1:10"));
    assert!(says(&sheets(&[("carcase.width", "2400"), ("carcase.height", "2000")], &Drafting::default())[..1], "1:20"));
}

#[test]
fn no_words_stand_on_others_or_off_the_sheet() {
    let cases: [&[(&str, &str)]; 5] = [
        &[],
        &[("carcase.width", "2400"), ("carcase.height", "2000"), ("carcase.depth", "700")],
        &[("carcase.top.thickness", "10"), ("carcase.rails.foot", "8")],
        &[("carcase.top.over_front", "3"), ("carcase.top.over_back", "2"), ("carcase.left.middle_rails", "3")],
        &[("carcase.width", "1080"), ("carcase.post.width", "30"), ("interior.divider.width", "30")],
    ];
    for (changes, sheet) in cases.into_iter().zip([Sheet::A3, Sheet::A3, Sheet::A4, Sheet::A2, Sheet::Letter]) {
        let (design, model, solids) = case(changes);
        let order = Sequence::of(&design, &model, &solids);
        for page in pages(&design, &model, &solids, Some(&order), &Drafting { sheet, ..Drafting::default() }) {
            for (index, one) in page.ink.texts.iter().enumerate() {
                let (min, max) = one.room();
                let on = min.cmpgt(DVec2::splat(9.0)).all() && max.cmplt(page.size - 9.0).all();
                assert!(on, "{changes:?}: \"{}\" is off sheet {}", one.text, page.name);
                for other in &page.ink.texts[index + 1..] {
                    let (low, high) = other.room();
                    let apart = min.cmpge(high - 0.1).any() || low.cmpge(max - 0.1).any();
                    assert!(apart, "{changes:?}: \"{}\" and \"{}\" stand on each other on {}", one.text, other.text, page.name);
                }
            }
        }
    }
}

#[test]
fn figures_follow_the_units_and_the_sign_that_are_asked_for() {
    let comma = sheets(&[], &Drafting { decimal: Decimal::Comma, ..Drafting::default() });
    assert!(figures(&comma).contains(&"12,75") && !figures(&comma).iter().any(|figure| figure.contains('.')));
    let inches = sheets(&[], &Drafting { units: Units::Inches, ..Drafting::default() });
    // 1360 mm are 53.543 in.
    assert!(figures(&inches).contains(&"53 35/64"), "{:?}", figures(&inches));
}

/// First angle: the plan below, the view from the left to the right of the front. Third: the plan above, the view from the right there.
#[test]
fn views_stand_as_the_angle_has_them() {
    let place = |angle: Angle, name: &str| {
        let pages = sheets(&[], &Drafting { angle, ..Drafting::default() });
        pages[0].ink.texts.iter().find(|text| text.text == name).map(|text| text.at)
    };
    let (front, plan) = (place(Angle::First, "Front").expect("a front"), place(Angle::First, "Plan").expect("a plan"));
    assert!(plan.y > front.y + 100.0 && place(Angle::First, "From the left").is_some_and(|at| at.x > front.x));
    let (front, plan) = (place(Angle::Third, "Front").expect("a front"), place(Angle::Third, "Plan").expect("a plan"));
    assert!(plan.y < front.y && place(Angle::Third, "From the right").is_some_and(|at| at.x > front.x));
}

#[test]
fn every_kind_of_joint_that_is_cut_is_drawn_with_dimensions() {
    let pages = sheets(&[], &Drafting::default());
    let joints: Vec<&Page> = pages.iter().filter(|page| page.title == "Joints").collect();
    let words: Vec<String> = joints.iter().flat_map(|page| &page.ink.texts).map(|text| text.text.to_lowercase()).collect();
    let words = words.join(" ");
    for role in ["rail end to post", "panel edge to frame", "cross rail end to rail", "button to rail", "standard to post"] {
        assert!(words.contains(role), "{role} in {words}");
    }
    // The mortise for a loose tenon 8 thick with a fit of 0.1, 22 wide with a play of 4; the groove for a sheet of 12.75.
    let figures: Vec<&str> =
        joints.iter().flat_map(|page| page.ink.dimensions.iter().map(|it| page.ink.texts[it.text].text.as_str())).collect();
    for figure in ["8.1", "24.5", "9"] {
        assert!(figures.contains(&figure), "{figure} in {figures:?}");
    }
}

#[test]
fn every_mark_stands_once_with_the_case_taken_apart() {
    let (design, model, solids) = case(&[]);
    let order = Sequence::of(&design, &model, &solids);
    let pages = pages(&design, &model, &solids, Some(&order), &Drafting::default());
    let apart = pages.iter().find(|page| page.title == "Taken apart").expect("a picture");
    let mut marks: Vec<&str> = model.parts.iter().map(|part| part.mark.as_str()).collect();
    marks.sort_unstable();
    marks.dedup();
    for mark in marks {
        let told = apart.ink.texts.iter().filter(|text| text.text == mark || text.text.starts_with(&format!("{mark} × "))).count();
        assert_eq!(told, 1, "{mark}");
    }
    assert!(pages.iter().any(|page| page.title == "Stages of assembly"));
}

/// Over all stages as many pieces of each mark come on as the cut list has, each told once.
#[test]
fn what_comes_on_over_all_stages_is_the_cut_list() {
    for example in [
        DEMO,
        include_str!("../../../examples/bookcase_on_pins.ron"),
        include_str!("../../../examples/jar_store_on_cleats.ron"),
        include_str!("../../../examples/linen_shelves_housed.ron"),
        include_str!("../../../examples/workroom_mixed.ron"),
    ] {
        let design = casewright_core::design::text::read(example).expect("an example");
        let model = derive(&design).expect("a case");
        let solids = ShapeCache::default().shape(&model);
        let order = Sequence::of(&design, &model, &solids);
        let pages = pages(&design, &model, &solids, Some(&order), &Drafting::default());
        let stages = pages.iter().filter(|page| page.title == "Stages of assembly");
        let told: Vec<&str> = stages
            .flat_map(|page| &page.ink.texts)
            .filter(|text| (text.height - 1.8).abs() < 1e-9 && !text.text.starts_with("Drawn with"))
            .map(|text| text.text.as_str())
            .collect();
        let told = told.join(" ").replace("Comes on: ", ", ");
        for row in &CutList::of(&design, &model).rows {
            let count = |words: &str| match words.trim().split_once(" × ") {
                Some((mark, count)) if mark == row.mark => count.parse().unwrap_or(0),
                None if words.trim() == row.mark => 1,
                Some(_) | None => 0,
            };
            assert_eq!(told.split(',').map(count).sum::<usize>(), row.parts.len(), "{}: {} in {told}", design.name, row.mark);
        }
    }
}
