//! What a maker would see on the drawings.

mod designs;

use casewright_core::design::decisions;
use casewright_core::design::edit::{self, Edit};
use casewright_core::joint::JointKind;
use casewright_core::length::Units;
use casewright_core::model::{Face, Feature, PartKind, Role};
use casewright_core::{CutList, Design, Model, Sequence, ShapeCache, Solids, derive};
use casewright_sheets::drawing::{Anchor, Angle, Decimal, Drafting, Page, Pen, Sheet};
use casewright_sheets::pages;
use glam::{DVec2, DVec3};

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

/// A wide case of three bays: its bays are too small for words on small sheets.
const WIDE: [(&str, &str); 2] = [("carcase.width", "2400"), ("carcase.height", "1900")];

/// The ways in which a case may be drawn that leave little room.
fn small() -> [Drafting; 5] {
    let of = |sheet, units, angle| Drafting { sheet, units, angle, ..Drafting::default() };
    [
        of(Sheet::A3, Units::Millimetres, Angle::First),
        of(Sheet::A4, Units::Millimetres, Angle::First),
        of(Sheet::Letter, Units::Inches, Angle::First),
        of(Sheet::A3, Units::Inches, Angle::Third),
        of(Sheet::Letter, Units::Millimetres, Angle::Third),
    ]
}

/// What stands on a shelf or floor stands so high: said in the front view or beside it, however small it is drawn.
#[test]
fn the_height_of_every_shelf_stands_on_the_views() {
    for changes in [&[][..], &WIDE, &[("carcase.width", "1100")]] {
        let (design, model, solids) = case(changes);
        for drafting in small() {
            let pages = pages(&design, &model, &solids, None, &drafting);
            for room in model.rooms.iter().filter(|room| room.shelf.is_some()) {
                let is_it =
                    |it: &&casewright_sheets::drawing::Dimension| it.axis == 1 && it.from == 0.0 && (it.to - room.space.min.y).abs() < 0.01;
                assert_eq!(
                    pages[0].ink.dimensions.iter().filter(is_it).count(),
                    1,
                    "{} on {}, {changes:?}",
                    room.name,
                    drafting.sheet.name()
                );
            }
        }
    }
}

/// ISO 128-3: a cutting plane is marked at both ends.
#[test]
fn a_cutting_plane_has_its_letter_at_both_ends() {
    for changes in [&[][..], &WIDE, &[("carcase.width", "1100")]] {
        for drafting in small() {
            let pages = sheets(changes, &drafting);
            for letter in ["A", "B"] {
                let ends = pages[0].ink.texts.iter().filter(|text| text.bold && text.text == letter).count();
                assert_eq!(ends, 2, "{letter} on {}, {changes:?}", drafting.sheet.name());
            }
        }
    }
}

/// What stands open to the front or the side has its mark in the views, on it or beside it.
#[test]
fn posts_stiles_and_panels_have_their_marks_in_the_views() {
    for changes in [&[][..], &WIDE] {
        let (design, model, solids) = case(changes);
        let pages = pages(&design, &model, &solids, None, &Drafting::default());
        for part in &model.parts {
            let is_seen = match part.kind {
                PartKind::Post => part.name.starts_with("post.front"),
                PartKind::Stile | PartKind::Panel | PartKind::Top => true,
                _ => false,
            };
            // The panels at the right are seen from the other side.
            assert!(!is_seen || says(&pages[..1], &part.mark), "{} {} is not in the views, {changes:?}", part.mark, part.name);
        }
    }
}

#[test]
fn no_words_stand_on_others_or_off_the_sheet() {
    let cases: [&[(&str, &str)]; 8] = [
        &WIDE,
        &WIDE,
        &WIDE,
        &[],
        &[("carcase.width", "2400"), ("carcase.height", "2000"), ("carcase.depth", "700")],
        &[("carcase.top.thickness", "10"), ("carcase.rails.foot", "8")],
        &[("carcase.top.over_front", "3"), ("carcase.top.over_back", "2"), ("carcase.left.middle_rails", "3")],
        &[("carcase.width", "1080"), ("carcase.post.width", "30"), ("interior.divider.width", "30")],
    ];
    for (changes, sheet) in
        cases.into_iter().zip([Sheet::A3, Sheet::A4, Sheet::Letter, Sheet::A3, Sheet::A3, Sheet::A4, Sheet::A2, Sheet::Letter])
    {
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

/// In the case taken apart each mark stands once, with a short line to its part that crosses no other.
#[test]
fn every_mark_stands_near_its_part_where_the_case_is_taken_apart() {
    for (changes, sheet) in [(&[][..], Sheet::A3), (&WIDE, Sheet::A3), (&[], Sheet::A4)] {
        let (design, model, solids) = case(changes);
        let order = Sequence::of(&design, &model, &solids);
        let pages = pages(&design, &model, &solids, Some(&order), &Drafting { sheet, ..Drafting::default() });
        let ink = &pages.iter().find(|page| page.title == "Taken apart").expect("a sheet").ink;
        let mut marks: Vec<&str> = model.parts.iter().map(|part| part.mark.as_str()).collect();
        marks.sort_unstable();
        marks.dedup();
        let side = |(a, b): (DVec2, DVec2), at: DVec2| (b - a).perp_dot(at - a);
        let cross = |a: (DVec2, DVec2), b: (DVec2, DVec2)| side(a, b.0) * side(a, b.1) < 0.0 && side(b, a.0) * side(b, a.1) < 0.0;
        let mut leaders = Vec::new();
        for mark in marks {
            let is_it = |text: &&casewright_sheets::drawing::Text| text.text == mark || text.text.starts_with(&format!("{mark} × "));
            let own: Vec<_> = ink.texts.iter().filter(is_it).collect();
            let [text] = own.as_slice() else { panic!("{mark} stands {} times on {}", own.len(), sheet.name()) };
            let (min, max) = text.room();
            let at_words = |at: DVec2| at.cmpgt(min - 1.5).all() && at.cmplt(max + 1.5).all();
            let own =
                ink.strokes.iter().find(|it| it.pen == Pen::Thin && it.points.len() == 2 && at_words(it.points[0])).expect("a leader");
            assert!(own.points[0].distance(own.points[1]) < 45.0, "{mark} on {}", sheet.name());
            leaders.push((own.points[0], own.points[1]));
        }
        let crossing = leaders.iter().enumerate().find(|(index, one)| leaders[index + 1..].iter().any(|other| cross(**one, *other)));
        assert_eq!(crossing, None, "{}", sheet.name());
    }
}

/// What must be known of a cut to make it, mm: its sizes and where it lies. Nothing of those that are told on the part sheets alone.
fn to_make(feature: &Feature, size: DVec3) -> Vec<f64> {
    let deep = |face: Face, depth: f64| (depth < size[face.axis()] - 1e-6).then_some(depth);
    let across = |face: Face| (0..3).filter(move |axis| *axis != face.axis());
    match feature {
        Feature::Mortise { face, centre, along, length, width, depth, .. }
        | Feature::Recess { face, centre, along, length, width, depth, .. } => {
            // What runs out of the part is measured to its wall.
            let stretch = [centre[*along] - length / 2.0, centre[*along] + length / 2.0];
            let inside = [stretch[0].max(0.0), stretch[1].min(size[*along])];
            let is_out = [stretch[0] < 1e-3, stretch[1] > size[*along] - 1e-3];
            let places = across(*face).flat_map(|axis| match (axis == *along, is_out) {
                (true, [true, true]) => Vec::new(),
                (true, [true, false]) => vec![stretch[1]],
                (true, [false, true]) => vec![stretch[0]],
                (true, [false, false]) | (false, _) => vec![centre[axis]],
            });
            [inside[1] - inside[0], *width].into_iter().chain(deep(*face, *depth)).chain(places).collect()
        }
        Feature::Groove { face, centre, width, depth, .. } => [*width, *centre].into_iter().chain(deep(*face, *depth)).collect(),
        Feature::Housing(cut) => vec![cut.width, cut.depth, cut.centre],
        Feature::Hole { face, centre, diameter, depth, .. } => {
            std::iter::once(*diameter).chain(deep(*face, *depth)).chain(across(*face).map(|axis| centre[axis])).collect()
        }
        Feature::HoleRow { face, first, pitch, count, diameter, depth } => {
            let setback = (1..3).find(|axis| *axis != face.axis()).map(|axis| first[axis]);
            [*pitch, f64::from(*count), *diameter, *depth, first.x].into_iter().chain(setback).collect()
        }
        Feature::Teeth { first, pitch, seat, crest, count } => vec![*first, *pitch, *seat, *crest, f64::from(*count)],
        Feature::HalfRounds { first, pitch, radius, count } => vec![*first, *pitch, *radius, f64::from(*count)],
        Feature::Tenon { second_end, length, cheeks, .. } => {
            let shoulder = if *second_end { size.x - length } else { *length };
            let cheeks = [cheeks.0, cheeks.1].into_iter().filter(|at| *at > 0.01);
            cheeks.filter(|at| size.y.max(size.z) - at > 0.01).chain([shoulder]).collect()
        }
        Feature::Notch { length, width, .. } => vec![*length, *width],
        Feature::Rabbet { length, depth, .. } => vec![*length, *depth],
        Feature::Bevel { inset, .. } => vec![*inset],
        Feature::Lap { .. }
        | Feature::Fork { .. }
        | Feature::RoundEdges
        | Feature::RoundEnds
        | Feature::Tail(_)
        | Feature::EndGap(_)
        | Feature::Socket(_)
        | Feature::EdgeRabbet(_)
        | Feature::EdgeRound(_)
        | Feature::EdgeChamfer(_)
        | Feature::Taper(_) => Vec::new(),
    }
}

/// What is said under the details, part by part: "P1 (1456 × 48 × 48): 2 × mortise …".
fn said_under(pages: &[Page]) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    let mut goes_on = false;
    for text in pages.iter().filter(|page| page.title == "Joints").flat_map(|page| &page.ink.texts) {
        let begins = text.text.split_once(" (").is_some_and(|(mark, rest)| !mark.contains(' ') && rest.contains("): "));
        goes_on = (begins || goes_on) && text.anchor == Anchor::Start && !text.bold;
        match all.last_mut() {
            _ if begins => all.push(text.text.clone()),
            Some(last) if goes_on => *last = format!("{last} {}", text.text),
            Some(_) | None => {}
        }
    }
    all
}

/// Every kind of joint that cuts something has a detail, and under it is said of every cut in both parts how large it is and where it lies.
#[test]
fn every_joint_is_dimensioned() {
    let mut checked = 0;
    for design in designs::all() {
        let model = derive(&design).expect("a case");
        let solids = ShapeCache::default().shape(&model);
        let drafting = Drafting::default();
        let said = said_under(&pages(&design, &model, &solids, None, &drafting));
        let mut known: Vec<(Role, String)> = Vec::new();
        for joint in &model.joints {
            let (in_teeth, in_hole) = (matches!(joint.kind, JointKind::Seat(_)), matches!(joint.kind, JointKind::Pin(_)));
            let kind = (joint.role, if in_teeth || in_hole { String::new() } else { joint.kind.describe() });
            if known.contains(&kind) {
                continue;
            }
            known.push(kind);
            for part in [joint.a, joint.b].map(|id| model.part(id)) {
                let row = |feature: &Feature| match feature {
                    Feature::Teeth { .. } | Feature::HalfRounds { .. } => in_teeth,
                    Feature::HoleRow { .. } => in_hole && joint.b == part.id,
                    _ => false,
                };
                for cut in part.cuts.iter().filter(|cut| cut.joint == Some(joint.id) || row(&cut.feature)) {
                    let figures: Vec<String> = to_make(&cut.feature, part.lwt()).into_iter().map(|mm| drafting.exact(mm)).collect();
                    let has =
                        |words: &str, figure: &String| words.split(|c: char| !c.is_ascii_digit() && c != '.').any(|own| own == figure);
                    let told =
                        |words: &&String| words.starts_with(&format!("{} (", part.mark)) && figures.iter().all(|figure| has(words, figure));
                    assert!(
                        said.iter().any(|words| told(&words)),
                        "{}, {:?}: {} with {figures:?} in {said:#?}",
                        design.name,
                        joint.role,
                        part.mark
                    );
                    checked += 1;
                }
            }
        }
    }
    assert!(checked > 150, "{checked}");
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

/// With the overhang of its top it is too high for the plan in its line: the plan stands beside, rather than all of it so small that nothing can be read.
#[test]
fn the_plan_stands_beside_where_its_line_has_no_room() {
    let pins = include_str!("../../../examples/bookcase_on_pins.ron");
    let mut design = casewright_core::design::text::read(pins).expect("an example");
    for (name, value) in [("carcase.height", "1800"), ("carcase.width", "900"), ("carcase.depth", "450")] {
        decisions::set(&mut design, name, value).expect("a decision");
    }
    let model = derive(&design).expect("a case");
    let size = model.bounds.map(|bounds| bounds.max - bounds.min).expect("parts");
    assert!(size.x > 900.0 && size.z > 450.0, "the top stands over: {size}");
    let solids = ShapeCache::default().shape(&model);
    for angle in [Angle::First, Angle::Third] {
        let pages = pages(&design, &model, &solids, None, &Drafting { angle, ..Drafting::default() });
        assert!(says(&pages[..1], "1:10"), "{angle:?}");
        let texts = &pages[0].ink.texts;
        assert!(texts.iter().any(|text| text.text == "Plan"));
        for (index, one) in texts.iter().enumerate() {
            let (min, max) = one.room();
            assert!(min.cmpgt(DVec2::splat(9.0)).all() && max.cmplt(pages[0].size - 9.0).all(), "{angle:?}: {} is off the sheet", one.text);
            for other in &texts[index + 1..] {
                let (low, high) = other.room();
                assert!(min.cmpge(high - 0.1).any() || low.cmpge(max - 0.1).any(), "{angle:?}: {} on {}", one.text, other.text);
            }
        }
    }
}
