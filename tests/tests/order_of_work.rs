//! The order of work: what is told, in which order, and which caution stands where.

use casewright_core::design::shop::{self, State};
use casewright_core::design::{Design, decisions, text};
use casewright_core::loads::lifts;
use casewright_core::{OrderOfWork, Sequence, ShapeCache, derive};

const DEMO: &str = include_str!("../../examples/records_cabinet.ron");

fn of(changes: &[(&str, &str)]) -> OrderOfWork {
    let mut design = text::read(DEMO).expect("the demo");
    for (name, value) in changes {
        decisions::set(&mut design, name, value).expect("a decision");
    }
    order(&design)
}

fn order(design: &Design) -> OrderOfWork {
    let model = derive(design).expect("a case");
    let solids = ShapeCache::default().shape(&model);
    let sequence = Sequence::of(design, &model, &solids);
    let lifts = lifts(design, &model, &solids, &sequence);
    OrderOfWork::of(design, &model, &solids, &sequence, &lifts)
}

fn titles(order: &OrderOfWork) -> Vec<&str> {
    order.chapters.iter().map(|chapter| chapter.title.as_str()).collect()
}

fn place(order: &OrderOfWork, title: &str) -> usize {
    let all = titles(order);
    all.iter().position(|own| own.starts_with(title)).unwrap_or_else(|| panic!("{title} in {all:?}"))
}

fn says(order: &OrderOfWork, words: &str) -> bool {
    order.chapters.iter().any(|chapter| chapter.jobs.iter().chain(&chapter.told).any(|job| job.contains(words)))
}

/// The order of any piece of furniture, as a maker has it: stock, size, marks, joints, dry fit, what is finished first, glue, finish, shelves, its place.
#[test]
fn chapters_follow_each_other_as_the_work_does() {
    let order = of(&[]);
    let wanted = [
        "Timber",
        "From rough",
        "Marking",
        "Joinery",
        "Loose tenons",
        "Dry fit",
        "Before the glue",
        "Glue up: Left frame",
        "Glue up: Carcase",
        "Finish",
        "What lies loose",
        "In its place",
    ];
    let places: Vec<usize> = wanted.map(|title| place(&order, title)).into();
    assert!(places.windows(2).all(|pair| pair[0] < pair[1]), "{:?}", titles(&order));
}

/// Every step of the order of assembly is a line to tick, once, in its order.
#[test]
fn every_step_of_the_assembly_is_ticked_once() {
    let design = text::read(DEMO).expect("the demo");
    let model = derive(&design).expect("a case");
    let solids = ShapeCache::default().shape(&model);
    let sequence = Sequence::of(&design, &model, &solids);
    let order = order(&design);
    let jobs: Vec<&String> = order.chapters.iter().flat_map(|chapter| &chapter.jobs).collect();
    let mut from = 0;
    for (number, step) in sequence.steps.iter().enumerate() {
        let line = format!("{}. {}", number + 1, step.words);
        let at = jobs.iter().skip(from).position(|job| job.starts_with(&line));
        from += at.unwrap_or_else(|| panic!("{line} is not ticked in its order")) + 1;
    }
}

/// A caution stands where its work is and nowhere else: dust at the saw, rags at the finish, tipping where it is set up.
#[test]
fn cautions_stand_only_where_their_work_is() {
    let order = of(&[("timber.finish", "drying_oil")]);
    for chapter in &order.chapters {
        let has = |word: &str| chapter.cautions.iter().any(|caution| caution.contains(word));
        assert_eq!(has("Dust of"), chapter.title.starts_with("From rough"), "{}", chapter.title);
        assert_eq!(has("catch fire"), matches!(chapter.title.as_str(), "Finish" | "Before the glue"), "{}", chapter.title);
        assert_eq!(has("stops short"), chapter.title.starts_with("Joinery"), "{}", chapter.title);
        assert_eq!(has("Find cables"), chapter.title == "In its place", "{}", chapter.title);
        assert!(!has("Epoxy"), "{}", chapter.title);
    }
    let epoxy = of(&[("shop.glue.family", "epoxy"), ("timber.finish", "film")]);
    let glues = epoxy.chapters.iter().filter(|chapter| chapter.cautions.iter().any(|caution| caution.contains("Epoxy")));
    assert!(
        glues.clone().count() > 0
            && glues.into_iter().all(|chapter| chapter.title.starts_with("Glue up") || chapter.title.contains("with glue"))
    );
    assert!(!epoxy.chapters.iter().any(|chapter| chapter.cautions.iter().any(|caution| caution.contains("Rags"))));
}

/// What is not there is not told of: no masking of a piece that stays bare, no wall where none is used, nothing of what is made.
#[test]
fn only_what_applies_is_told() {
    let bare = of(&[("timber.finish", "bare")]);
    assert!(!says(&bare, "Mask what takes glue") && !says(&bare, "coats"));
    assert!(says(&of(&[("timber.finish", "film")]), "3 coats of lacquer"));
    assert!(says(&of(&[("carcase.wall", "anchored")]), "Anchor it to the wall with 2 fixings"));
    assert!(!says(&of(&[("carcase.wall", "free")]), "Anchor it to the wall with"));
    let mut made = text::read(DEMO).expect("the demo");
    let model = derive(&made).expect("a case");
    for part in &model.parts {
        shop::set_state(&mut made, &part.name, State::Cut).expect("a part");
    }
    let order = order(&made);
    for title in ["Timber", "From rough", "Marking", "Joinery", "Loose tenons"] {
        assert!(!titles(&order).iter().any(|own| own.starts_with(title)), "{title} in {:?}", titles(&order));
    }
    assert!(titles(&order).contains(&"Dry fit"));
}

/// Wood Handbook (FPL-GTR-282), table 4-2, at 21 °C, from memory: wood comes to 5.4 % at 25 % relative humidity, 6.2 % at 30 % and 11.0 % at 60 %; by proportion 6 % is 28.75 %.
#[test]
fn the_care_sheet_tells_air_top_shelves_loads_and_wall() {
    let order = of(&[("timber.moisture.driest", "6"), ("timber.moisture.wettest", "11"), ("carcase.wall", "anchored")]);
    let care = |title: &str| order.care.iter().find(|care| care.title == title).map(|care| care.words.join(" ")).unwrap_or_default();
    assert!(care("Air").contains("between 29 and 60 %"), "{}", care("Air"));
    assert!(care("Top").contains("its front edge stays where it is"), "{}", care("Top"));
    assert!(care("Shelves").contains("tip out both cleats") && !care("Shelves").contains("pins"));
    assert!(care("What it carries").contains("kg, evenly spread") && care("How it stands").contains("plasterboard"));
}
