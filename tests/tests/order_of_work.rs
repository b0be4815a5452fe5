//! The order of work: what is told, in which order, and which caution stands where.

use casewright_core::design::shop::{self, State};
use casewright_core::design::{Design, decisions, text};
use casewright_core::loads::lifts;
use casewright_core::model::PartKind;
use casewright_core::sequence::Step;
use casewright_core::work::Job;
use casewright_core::{OrderOfWork, Sequence, ShapeCache, derive};

const DEMO: &str = include_str!("../../examples/records_cabinet.ron");

fn of(changes: &[(&str, &str)]) -> OrderOfWork {
    let mut design = text::read(DEMO).expect("the demo");
    for (name, value) in changes {
        decisions::set(&mut design, name, value).expect("a decision");
    }
    order(&design)
}

fn order_of(example: &str) -> OrderOfWork {
    order(&text::read(example).expect("an example"))
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
    order.chapters.iter().any(|chapter| chapter.jobs.iter().map(|job| &job.words).chain(&chapter.told).any(|job| job.contains(words)))
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
        "After glue-up: Floors, standards and top",
        "After glue-up: Buttons",
        "What lies loose",
        "In its place",
    ];
    let places: Vec<usize> = wanted.map(|title| place(&order, title)).into();
    assert!(places.windows(2).all(|pair| pair[0] < pair[1]), "{:?}", titles(&order));
}

/// Every step of the order of assembly is in one job, in its order, and every part that is brought has a box of its own, with the way that it goes.
#[test]
fn every_step_of_the_assembly_is_ticked_once() {
    for example in [DEMO, include_str!("../../examples/bookcase_on_pins.ron"), include_str!("../../examples/workroom_mixed.ron")] {
        let design = text::read(example).expect("an example");
        let model = derive(&design).expect("a case");
        let solids = ShapeCache::default().shape(&model);
        let sequence = Sequence::of(&design, &model, &solids);
        let order = order(&design);
        // "56–79. 12 standards: …", or "3. Slide …".
        let numbered = |job: &Job| -> Option<(usize, usize)> {
            let (numbers, _) = job.words.split_once(". ")?;
            let (first, last) = numbers.split_once('–').unwrap_or((numbers, numbers));
            Some((first.parse().ok()?, last.parse().ok()?))
        };
        let jobs: Vec<(&Job, (usize, usize))> =
            order.chapters.iter().flat_map(|chapter| &chapter.jobs).filter_map(|job| Some((job, numbered(job)?))).collect();
        let mut next = 1;
        for (job, (first, last)) in &jobs {
            assert_eq!(*first, next, "{}: {job:?}", design.name);
            next = last + 1;
            // What is put into a part before it is brought is in the same box.
            let steps = &sequence.steps[first - 1..*last];
            let brought = |step: &&Step| {
                let parts = step.moves.iter().flat_map(|moved| &moved.parts);
                parts.map(|id| model.part(*id).kind).any(|kind| !matches!(kind, PartKind::LooseTenon | PartKind::Dowel))
            };
            assert_eq!(job.boxes(), steps.iter().filter(brought).count().max(1), "{}: {job:?}", design.name);
            let said =
                std::iter::once(job.words.as_str()).chain(job.each.iter().map(|each| each.words.as_str())).collect::<Vec<_>>().join(" ");
            for step in steps.iter().filter(brought) {
                let way = step.words.split_once(" into ").map_or(step.words.as_str(), |(_, way)| way);
                assert!(
                    said.contains(way) || said.contains(step.words.split_at(step.words.len() / 2).1),
                    "{}: {} in {said}",
                    design.name,
                    step.words
                );
            }
        }
        assert_eq!(next, sequence.steps.len() + 1);
    }
}

/// What is alike is one job with a box for each piece: the buttons under the top, and the standards with the tenons that are put into them.
#[test]
fn alike_steps_are_one_job() {
    let order = of(&[]);
    let job = |words: &str| {
        let jobs = order.chapters.iter().flat_map(|chapter| &chapter.jobs);
        jobs.filter(|job| job.words.contains(words)).collect::<Vec<_>>()
    };
    let buttons = job("18 buttons (BT1): bring each");
    assert!(buttons.len() == 1 && buttons[0].boxes() == 18, "{buttons:?}");
    let standards = job("12 standards (ST1): put 2 loose tenons into each, then push it");
    assert!(standards.len() == 1 && standards[0].boxes() == 12 && standards[0].each.len() > 3, "{standards:?}");
    assert!(standards[0].each.iter().any(|each| each.names.contains(&"bay 3, back right".to_owned())), "{standards:?}");
    let spacers: Vec<&str> = titles(&order).into_iter().filter(|title| title.contains("pacer")).collect();
    assert_eq!(spacers, ["After glue-up, with glue: Spacers"]);
}

/// A button that is screwed to the rail too holds the top fast, and the top splits; what glue holds has set before it is moved; and each part has its finish all round before it lies on another.
#[test]
fn nothing_holds_the_top_fast_and_glue_has_set_before_the_next_move() {
    let order = of(&[]);
    let jobs = |chapter: &str| order.chapters[place(&order, chapter)].jobs.clone();
    let buttons = jobs("After glue-up: Buttons");
    assert!(
        buttons[0].words.starts_with("Pilot holes for screws") && buttons[0].words.contains("through what is screwed on"),
        "{buttons:?}"
    );
    assert!(!jobs("Joinery").iter().any(|job| job.words.contains("Pilot")), "each hole is bored once");
    for each in &buttons[1].each {
        assert!(each.words.ends_with("and screw it to the top alone") && each.words.contains("its tongue into the slot of "), "{each:?}");
    }
    assert!(jobs("Finish").iter().any(|job| job.words.contains("No finish where glue comes after it: spacer against standard")));
    // Spacers that are glued to their standards before these go in.
    let mixed = order_of(include_str!("../../examples/workroom_mixed.ron"));
    let spacers = &mixed.chapters[place(&mixed, "After glue-up, with glue: Spacers")];
    assert!(spacers.jobs.last().is_some_and(|job| job.words.starts_with("What glue comes out taken off")), "{spacers:?}");
    assert!(place(&mixed, "After glue-up, with glue: Spacers") < place(&mixed, "After glue-up: Standards"));
    let dry = &mixed.chapters[place(&mixed, "After glue-up: Standards")];
    assert!(!dry.jobs.iter().any(|job| job.words.contains("clamps") || job.words.contains("lue the spacer")), "{dry:?}");
    // And where cleats are glued, it is said how high.
    let jars = order_of(include_str!("../../examples/jar_store_on_cleats.ron"));
    let cleats = &jars.chapters[place(&jars, "After glue-up, with glue: Cleats")];
    let told = format!("{cleats:?}");
    assert!(told.contains("its upper edge 430 above the ground") && told.contains("its upper edge 942 above the ground"), "{told}");
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

/// A sheet that is veneered here is bought as much thinner as the veneer is thick: 12.75 less twice 1.5 is 9.75, 18.4 less twice 0.6 is 17.2. The veneer, and the boards to saw it from, are bought with the
/// rest; lippings are glued on and planed flush before the veneer is pressed over them, leaves are sawn and joined before they are pressed.
#[test]
fn what_is_veneered_here_is_told_job_by_job() {
    let order = of(&[
        ("timber.facing.panel.veneer", "sawn"),
        ("timber.facing.floor.veneer", "bought"),
        ("timber.facing.floor.lipping", "8"),
        ("timber.facing.floor.edges", "all_round"),
    ]);
    for thick in ["9.75 mm is wanted; with the veneer it is 12.75", "17.2 mm is wanted; with the veneer it is 18.4"] {
        assert!(says(&order, thick), "{thick}: {order:?}");
    }
    for buy in ["to measure 9.75 mm: with the veneer it is 12.75", "m³ of boards to saw it from", "veneer 0.6 thick: "] {
        assert!(order.chapters[place(&order, "Timber")].jobs.iter().any(|job| job.words.contains(buy)), "{buy}: {order:?}");
    }
    let jobs = &order.chapters[place(&order, "From rough")].jobs;
    let nth = |words: &str| jobs.iter().position(|job| job.words.starts_with(words)).unwrap_or_else(|| panic!("{words}: {jobs:?}"));
    let all = ["Cut to size", "Glue lippings", "Saw veneer, leaves 1.5 thick", "Join leaves", "Press the veneer onto both faces"].map(nth);
    assert!(all.is_sorted(), "{jobs:?}");
    let lipped = &jobs[nth("Glue lippings")];
    assert!(lipped.each.iter().any(|each| each.words == "F1: F1X, then F1L"), "those across lie between those along: {lipped:?}");
    // Without veneer the sheet measures what the grooves are for, and nothing is pressed.
    let plain = of(&[]);
    assert!(says(&plain, "12.75 mm is what the grooves") && !says(&plain, "the veneer") && !says(&plain, "lippings"));
}
