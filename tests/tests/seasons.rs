//! The case at its driest and wettest: where every part is, and what then runs into what.

use casewright_core::inspect::Rule;
use casewright_core::joint::{Fixing, Wanted};
use casewright_core::model::{Assembly, Contact, Material, Meeting, Model, NewPart, PartKind, Role};
use casewright_core::place::{Block, Dir, Lie};
use casewright_core::seasons::{self, growth, swollen};
use casewright_core::{ShapeCache, derive, inspect};
use casewright_tests::{demo, demo_with};
use glam::{DVec2, DVec3};

#[test]
fn nothing_moves_at_the_moisture_at_which_it_was_built() {
    let model = derive(&demo()).expect("the demo derives");
    for (part, now) in model.parts.iter().zip(swollen(&model, &growth(&model, 8.0, 8.0))) {
        assert_eq!(now.scale, DVec3::ONE, "{}", part.title);
        assert_eq!(now.pose, part.pose, "{}", part.title);
    }
}

/// Twice the moisture moves every origin twice as far, and the other way as far the other way.
#[test]
fn movement_is_linear_and_the_same_in_and_out() {
    let model = derive(&demo()).expect("the demo derives");
    let [one, two, less] = [9.0, 10.0, 7.0].map(|to| swollen(&model, &growth(&model, 8.0, to)));
    let moved = |now: &seasons::Swollen, part: usize| now.pose.origin - model.parts[part].pose.origin;
    let mut farthest = 0.0_f64;
    for part in 0..model.parts.len() {
        let (a, b, c) = (moved(&one[part], part), moved(&two[part], part), moved(&less[part], part));
        assert!((b - a * 2.0).length() < 1e-9 && (a + c).length() < 1e-9, "{}", model.parts[part].title);
        farthest = farthest.max(b.length());
    }
    assert!(farthest > 0.5, "something moves: {farthest}");
}

/// The edge of the top that is farther from the line at which it is fixed moves by its width from there, and the fixed line stays.
#[test]
fn the_top_moves_from_its_fixed_line_and_takes_its_buttons_along() {
    for (fixed, held_at_front) in [("front", true), ("back", false)] {
        let design = demo_with(&[("carcase.top.buttons.fixed", fixed)]);
        let model = derive(&design).expect("it derives");
        let grown = growth(&model, 8.0, 11.0);
        let now = swollen(&model, &grown);
        let top = model.parts.iter().find(|part| part.kind == PartKind::Top).expect("a top");
        let block = top.block();
        let at = |z: f64| {
            let point = DVec3::new(0.0, block.max.y, z);
            let own = top.pose.inverse().point(point);
            now[top.id.0].pose.point(own * now[top.id.0].scale).z - z
        };
        let rate = grown[top.id.0].y;
        let (front, back) = (at(block.max.z), at(block.min.z));
        assert!(((front - back) - block.size().z * rate).abs() < 1e-9, "all the movement: {front} {back}");
        let (near, far) = if held_at_front { (front, back) } else { (back, front) };
        // The fixed line lies behind the overhang and the rail, which swell out from it.
        assert!(near.abs() < 0.2 * far.abs(), "fixed at the {fixed}: {near} there, {far} at the other edge");
        for button in model.parts.iter().filter(|part| part.kind == PartKind::Button) {
            let centre = button.block().centre();
            let own = button.pose.inverse().point(centre);
            let moved = now[button.id.0].pose.point(own * now[button.id.0].scale).z - centre.z;
            let screwed = model.joints_of(button.id).find(|joint| joint.role == Role::ButtonToTop).expect("it is screwed up");
            let with_top = at(screwed.contact.centre.z);
            assert!((moved - with_top).abs() < 0.02, "{}: {moved} against {with_top} of the top above its screw", button.title);
        }
    }
}

/// Glued parts stay together: at the middle of each glued joint both members move alike, to within what closing a frame of swelling posts costs.
#[test]
fn what_is_glued_stays_together() {
    let model = derive(&demo()).expect("the demo derives");
    let now = swollen(&model, &growth(&model, 8.0, 11.0));
    let moved = |part: usize, point: DVec3| {
        let own = model.parts[part].pose.inverse().point(point);
        now[part].pose.point(own * now[part].scale) - point
    };
    for joint in model.joints.iter().filter(|joint| joint.glued) {
        let at = joint.contact.centre;
        let gap = (moved(joint.a.0, at) - moved(joint.b.0, at)).length();
        assert!(gap < 0.25, "{} and {}: {gap}", model.part(joint.a).title, model.part(joint.b).title);
    }
}

/// The demo leaves room for the seasons of its place, and not for wood that lies in water.
#[test]
fn the_demo_keeps_clear_through_its_seasons_and_not_through_any() {
    let design = demo();
    let model = derive(&design).expect("the demo derives");
    let solids = ShapeCache::default().shape(&model);
    let told = inspect(&design, &model, &solids);
    for to in [design.timber.moisture.driest(), design.timber.moisture.wettest()] {
        let grown = growth(&model, design.timber.moisture.built, to);
        let found = seasons::check(&model, &solids, &grown, "At the test's moisture", &told);
        assert!(found.is_empty(), "{found:#?}");
    }
    let grown = growth(&model, 8.0, 40.0);
    let found = seasons::check(&model, &solids, &grown, "Under water", &told);
    assert!(found.iter().any(|finding| finding.rule == Rule::Season), "{found:#?}");
}

/// A board between two walls that are glued to one bottom: 1 of room on each side is enough for 300 of flat-sawn red oak that gains 1 %, 0.55 a side, and not
/// for 3 %, 1.66 (Wood Handbook FPL-GTR-190, table 13-5: 0.00369).
#[test]
fn a_board_that_swells_into_the_walls_beside_it_is_told() {
    let model = between_walls();
    let solids = ShapeCache::default().shape(&model);
    let board = model.find("board").expect("it is there").id;
    let found = |percent: f64| {
        let growth: Vec<DVec3> =
            model.parts.iter().map(|part| if part.id == board { DVec3::new(0.0, 0.00369 * percent, 0.0) } else { DVec3::ZERO }).collect();
        seasons::check(&model, &solids, &growth, "At its wettest", &[])
    };
    assert!(found(1.0).is_empty());
    let told = found(3.0);
    let [finding] = told.as_slice() else { panic!("one finding for both walls: {told:#?}") };
    assert_eq!((finding.rule, finding.parts.len()), (Rule::Season, 3));
    assert!(finding.parts.contains(&board));
    let depth = finding.figures[0].value;
    assert!((depth - (300.0 * 0.00369 * 3.0 / 2.0 - 1.0)).abs() < 1e-6, "{depth}");
}

/// The same board touching both walls as built has nowhere to go: it bites each with half of what it gains, 0.55 at 1 %. Touching one and clear of the other it
/// gives way while there is room; and a second loose board between it and the room is pushed along.
#[test]
fn a_board_that_touches_its_walls_bites_where_it_can_not_give_way() {
    let depths = |model: &Model, percent: f64| {
        let solids = ShapeCache::default().shape(model);
        let growth: Vec<DVec3> = model
            .parts
            .iter()
            .map(|part| if part.name.starts_with("board") { DVec3::new(0.0, 0.00369 * percent, 0.0) } else { DVec3::ZERO })
            .collect();
        let told = seasons::check(model, &solids, &growth, "At its wettest", &[]);
        told.iter().map(|finding| finding.figures[0].value).collect::<Vec<_>>()
    };
    let snug = depths(&with_boards(&[(20.0, 322.0)]), 1.0);
    let [depth] = snug[..] else { panic!("{snug:?}") };
    assert!((depth - 302.0 * 0.00369 / 2.0).abs() < 1e-6, "{depth}");
    assert!(depths(&with_boards(&[(20.0, 321.0)]), 1.0).is_empty(), "0.2 either way is pressed together");
    assert!(depths(&with_boards(&[(20.0, 320.0)]), 1.0).is_empty());
    assert_eq!(depths(&with_boards(&[(20.0, 321.2)]), 1.5).len(), 1, "1.66 in 0.8");
    assert!(depths(&with_boards(&[(20.0, 170.0), (170.0, 320.0)]), 1.0).is_empty());
    assert!(!depths(&with_boards(&[(20.0, 171.0), (171.0, 322.0)]), 2.0).is_empty());
    assert!(depths(&with_boards(&[(20.0, 322.0)]), 0.2).is_empty(), "0.11 each side gives");
}

fn between_walls() -> Model {
    with_boards(&[(21.0, 321.0)])
}

/// Two walls glued to one bottom, and boards that lie loose on it between them, each from and to along the width.
fn with_boards(boards: &[(f64, f64)]) -> Model {
    let mut assembly = Assembly::default();
    let mut place = |name: &str, block: Block, lie: Lie| {
        let part = NewPart::filling(block, lie);
        assembly.place(part.called(name, name, PartKind::Own, Material::Solid("red_oak".to_owned())))
    };
    let lying = Lie { face: Dir::PlusY, edge: Dir::PlusX };
    let upright = Lie { face: Dir::PlusX, edge: Dir::PlusY };
    let bottom = place("bottom", Block::new((0.0, 342.0), (0.0, 20.0), (0.0, 500.0)), lying);
    let left = place("left", Block::new((0.0, 20.0), (20.0, 120.0), (0.0, 500.0)), upright);
    let right = place("right", Block::new((322.0, 342.0), (20.0, 120.0), (0.0, 500.0)), upright);
    let mut board = |index: usize, x: (f64, f64)| {
        let name = if index == 0 { "board".to_owned() } else { format!("board {index}") };
        place(&name, Block::new(x, (20.0, 40.0), (0.0, 500.0)), lying)
    };
    let boards: Vec<_> = boards.iter().enumerate().map(|(index, x)| (board(index, *x), *x)).collect();
    let down = |x: f64, wide: f64| Contact {
        centre: DVec3::new(x, 20.0, 250.0),
        into: Dir::MinusY,
        along: Dir::PlusZ,
        extent: DVec2::new(500.0, wide),
    };
    for (part, contact, wanted) in
        [(left, down(10.0, 20.0), Wanted::Plain(Fixing::Glue)), (right, down(332.0, 20.0), Wanted::Plain(Fixing::Glue))]
    {
        assembly.join(&Meeting { role: Role::Own, a: part, b: bottom, contact }, &wanted);
    }
    for (part, x) in boards {
        let contact = down(f64::midpoint(x.0, x.1), x.1 - x.0);
        assembly.join(&Meeting { role: Role::Own, a: part, b: bottom, contact }, &Wanted::Plain(Fixing::Rest));
    }
    assembly.finish()
}
