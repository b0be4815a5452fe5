//! What a maker would see on the paper.

use casewright_core::design::decisions;
use casewright_core::{ShapeCache, derive, inspect};

use super::canvas::Words;
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

fn words(changes: &[(&str, &str)]) -> Vec<Words> {
    let (design, model, solids) = case(changes);
    draw(&design, &model, &solids).expect("a drawing").0.words
}

fn times(words: &[Words], text: &str) -> usize {
    words.iter().filter(|own| own.text == text).count()
}

#[test]
fn each_size_is_on_the_drawing_once() {
    let words = words(&[]);
    for size in ["1360", "1480", "346", "328", "1224", "374", "1400", "498", "24", "72", "110", "50", "160", "1228"] {
        assert_eq!(times(&words, size), 1, "{size}");
    }
    // The left bay is as wide as the case is deep; both dividers and three pairs of posts have their own.
    assert_eq!(times(&words, "470"), 2);
    assert_eq!(times(&words, "60"), 2);
}

#[test]
fn a_height_without_room_in_its_bay_is_said_beside_the_drawing() {
    let (design, model, solids) = case(&[("carcase.width", "1100")]);
    let canvas = draw(&design, &model, &solids).expect("a drawing").0;
    assert_eq!(times(&canvas.words, "1196"), 0);
    let notes = notes::of(&design, &model, &canvas.left_over);
    assert!(notes.iter().any(|note| note.contains("bay 3") && note.contains(" 1196")), "{notes:?}");
}

#[test]
fn a_wider_case_says_so_and_a_larger_one_is_drawn_smaller() {
    assert_eq!(times(&words(&[("carcase.width", "1500")]), "1500"), 1);
    let scale = |changes: &[(&str, &str)]| {
        let (design, model, solids) = case(changes);
        draw(&design, &model, &solids).expect("a drawing").1
    };
    assert!((scale(&[]) - 10.0).abs() < 1e-9);
    assert!((scale(&[("carcase.width", "2400"), ("carcase.height", "2000")]) - 20.0).abs() < 1e-9);
}

/// The room that words take, with upright ones turned: from the least to the greatest corner.
fn room(words: &Words) -> (DVec2, DVec2) {
    let wide = canvas::width_of(&words.text);
    let (size, middle) = match words.anchor {
        canvas::Anchor::Left => (DVec2::new(wide, canvas::LETTERING), DVec2::new(words.x + wide / 2.0, words.y)),
        canvas::Anchor::Center => (DVec2::new(wide, canvas::LETTERING), DVec2::new(words.x, words.y)),
    };
    let size = if words.upright { DVec2::new(size.y, size.x) } else { size };
    (middle - size / 2.0, middle + size / 2.0)
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
    for changes in cases {
        let words = words(changes);
        for (index, one) in words.iter().enumerate() {
            let (min, max) = room(one);
            assert!(min.x > 20.0 && min.y > 10.0 && max.x < 288.0 && max.y < 287.0, "{changes:?}: {} is off the sheet", one.text);
            for other in &words[index + 1..] {
                let (low, high) = room(other);
                let apart = min.cmpgt(high).any() || low.cmpgt(max).any();
                assert!(apart, "{changes:?}: \"{}\" and \"{}\" stand on each other", one.text, other.text);
            }
        }
    }
}

#[test]
fn from_the_front_nothing_inside_a_post_or_behind_a_panel_is_drawn() {
    let (_, model, solids) = case(&[]);
    let seen = View::Front.look(&model, &solids, |_| true);
    let post = model.find("post.front.left").map_or_else(|| panic!("a post"), casewright_core::model::Part::block);
    let inside = |at: DVec2| at.x > post.min.x + 1.0 && at.x < post.max.x - 1.0 && at.y > post.min.y + 1.0 && at.y < post.max.y - 1.0;
    let crossing: Vec<_> = seen.edges.iter().filter(|line| inside((line.a + line.b) / 2.0)).collect();
    assert!(crossing.is_empty(), "{crossing:?}");
    // Its own four sides are there: what covers them from the front is nothing.
    let long: f64 = seen
        .edges
        .iter()
        .filter(|line| (line.a.x - post.min.x).abs() < 0.1 && (line.b.x - post.min.x).abs() < 0.1)
        .map(|line| line.a.distance(line.b))
        .sum();
    assert!((long - (post.max.y - post.min.y)).abs() < 0.1, "{long}");
}

#[test]
fn the_outline_of_the_side_is_the_outside_of_posts_and_top() {
    let (_, model, solids) = case(&[]);
    let seen = View::Left.look(&model, &solids, |_| true);
    // Over the top 498, down to the ground on both sides, and between the posts under the rails.
    for (from, to) in
        [((-8.0, 1480.0), (490.0, 1480.0)), ((0.0, 0.0), (0.0, 1456.0)), ((470.0, 0.0), (470.0, 1456.0)), ((48.0, 50.0), (422.0, 50.0))]
    {
        let (from, to) = (DVec2::from(from), DVec2::from(to));
        let found = seen
            .outline
            .iter()
            .any(|line| line.a.distance(from).min(line.b.distance(from)) < 0.1 && line.a.distance(to).min(line.b.distance(to)) < 0.1);
        assert!(found, "{from} to {to}");
    }
}

#[test]
fn the_paper_is_the_same_every_time_and_tells_the_date_it_is_given() {
    let (design, model, solids) = case(&[]);
    let findings = inspect(&design, &model, &solids);
    let make = |date: Option<&str>| {
        let paper = Paper { date: date.map(str::to_owned) };
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
        let (design, model, solids) = case(changes);
        assert!(drawing_pdf(&design, &model, &solids, &[], &Paper::default()).is_ok());
        typeset::cautions(&design, &model)
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
