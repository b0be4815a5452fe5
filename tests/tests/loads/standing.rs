//! Whether a case stands, and what two must lift.

use approx::assert_relative_eq;
use casewright_core::design::{Limits, Wall};
use casewright_core::inspect::{Rule, Seriousness};
use casewright_core::loads::{Standing, lift_findings, lifts};
use casewright_core::model::BuildStage;
use casewright_core::shapes::Mass;
use casewright_core::stability::{Anchor, Drawer, Edge, Feet, Moving, State};
use casewright_core::strength::GRAVITY;
use casewright_core::{DryFit, stability};
use casewright_tests::{Case, demo_with};
use glam::DVec3;

/// The push at the top edge that tips the derived case, by hand: m·g over what the centre of mass is behind the front of the posts, over the height.
#[test]
fn the_push_that_tips_the_demo() {
    let case = Case::with(&[]);
    let standing = Standing::of(&case.design, &case.model, &case.solids).expect("it is a case");
    let mass = case.solids.mass_of_model(&case.model).expect("all of it is known");
    assert_relative_eq!(standing.empty.kg, mass.kg, max_relative = 1e-9);
    let push = |over: Edge, loaded: bool| standing.push(over, loaded).expect("it is told").newtons.value;
    assert_relative_eq!(push(Edge::Front, false), mass.kg * GRAVITY * (470.0 - mass.centre.z) / 1480.0, max_relative = 1e-9);
    assert_relative_eq!(push(Edge::Left, false), mass.kg * GRAVITY * mass.centre.x / 1480.0, max_relative = 1e-9);
    assert!(push(Edge::Front, true) > push(Edge::Front, false) && push(Edge::Right, false) > push(Edge::Front, false));
    let (governing, others) = standing.governing();
    let [lightest, backward] = governing[..] else { panic!("{governing:?}") };
    assert!(lightest.on_carpet && !lightest.state.loaded, "empty and leaning is the worst: {lightest:?}");
    assert!(lightest.words().ends_with("N at its top edge tip it forward, empty, on carpet"), "{}", lightest.words());
    // Its back is near its centre of mass: it goes over backward sooner than forward.
    assert!(backward.over == Edge::Back && backward.newtons.value < lightest.newtons.value, "{backward:?}");
    assert_eq!(others, standing.pushes.len() - 2);
    assert!(standing.pushes.iter().all(|push| push == lightest || push.newtons.value >= backward.newtons.value));
    assert!(standing.pushes.iter().all(|push| push.over != Edge::Front || push.newtons.value >= lightest.newtons.value));
    assert!(standing.loaded.kg > standing.empty.kg + 100.0);
    assert!(standing.reasons.is_empty() && standing.fixing.is_none());
    // Less than it is to stand, so that it needs the wall behind it; no less than it is, and it needs none.
    let leans = standing.leans_on(&case.design.limits);
    assert!(
        leans.len() == 1 && leans[0].contains("N tip it backward, less than the 150 N") && leans[0].contains("its back to a wall"),
        "{leans:?}"
    );
    let asked = |push: f64| standing.leans_on(&Limits { push, ..case.design.limits });
    assert_eq!(asked(backward.newtons.value), Vec::<String>::new());
    // Asked for more than it stands on carpet, that is told too.
    assert!(asked(lightest.newtons.value + 1.0).iter().any(|words| words.contains("forward on carpet")), "{:?}", asked(400.0));
}

/// Without its panels the case is light: the finding says by how much, and what its anchor must hold is what its weight does not, by statics.
#[test]
fn a_light_case_is_to_be_anchored() {
    let open = [("carcase.left.filling", "open"), ("carcase.right.filling", "open"), ("carcase.back.filling", "open")];
    let free = Case::with(&open);
    let finding = free.findings.iter().find(|finding| finding.rule == Rule::Stands).expect("it is light");
    assert_eq!(finding.remedies[0].changes, [("carcase.wall".to_owned(), "anchored".to_owned())]);
    let anchored = Case::with(&[&open[..], &[("carcase.wall", "anchored"), ("carcase.wall.fixings", "3")]].concat());
    assert!(matches!(anchored.design.carcase.wall, Wall::Anchored(anchors) if anchors.fixings == 3));
    assert!(anchored.findings.iter().all(|finding| finding.rule != Rule::Stands));
    let standing = Standing::of(&anchored.design, &anchored.model, &anchored.solids).expect("it is a case");
    let fixing = standing.fixing.as_ref().expect("it is anchored");
    // The middle of a rail of 72 under a top of 24.
    assert_relative_eq!(fixing.height, 1480.0 - 24.0 - 36.0, max_relative = 1e-12);
    // Someone's 27.2 kg pull harder than 150 N at the top edge; asked for more than they are, the push counts, of which its own weight takes nothing.
    assert_relative_eq!(fixing.pull.value, 27.2 * GRAVITY, max_relative = 1e-9);
    let pushed = Case::with(&[&open[..], &[("carcase.wall", "anchored"), ("limits.push", "300")]].concat());
    let pushed = Standing::of(&pushed.design, &pushed.model, &pushed.solids).and_then(|standing| standing.fixing).expect("it is anchored");
    assert_relative_eq!(pushed.pull.value, 300.0 * 1480.0 / pushed.height, max_relative = 1e-9);
    assert_relative_eq!(fixing.each.value, fixing.pull.value / 3.0, max_relative = 1e-12);
    // A case that stands firmly by itself is anchored no less well.
    let firm = Case::with(&[("carcase.wall", "anchored")]);
    let firm = Standing::of(&firm.design, &firm.model, &firm.solids).and_then(|standing| standing.fixing).expect("it is anchored");
    assert!(firm.each.value > 130.0, "{:?}", firm.each.explain());
}

/// The push that a case is to stand is asked of every way in which it may be pushed: a case that goes over backward or to a side with less is a note, and where it
/// goes over forward, away from a wall, it is at risk.
#[test]
fn a_push_is_asked_of_every_way() {
    let told = |changes: &[(&str, &str)]| {
        let case = Case::with(changes);
        let dry_fit = DryFit::of(&case.design, &case.model, &case.solids);
        let found = dry_fit.findings.iter().find(|finding| finding.rule == Rule::Stands);
        found.map(|finding| (finding.seriousness, finding.message.clone()))
    };
    let (seriousness, message) = told(&[]).expect("a light push tips the demo backward");
    assert_eq!(seriousness, Seriousness::Note);
    assert!(message.contains("N tip it backward, less than the 150 N it is to stand: put its back to a wall, or anchor it"), "{message}");
    assert_eq!(told(&[("limits.push", "100")]), None, "it stands that every way");
    assert_eq!(told(&[("carcase.wall", "anchored")]), None);
    // Deeper than wide it goes over sideways first.
    let deep = Case::with(&[("carcase.depth", "1500")]);
    let standing = Standing::of(&deep.design, &deep.model, &deep.solids).expect("it is a case");
    let least = |over: &[Edge]| {
        let pushes = standing.pushes.iter().filter(|push| over.contains(&push.over)).map(|push| push.newtons.value);
        pushes.fold(f64::INFINITY, f64::min)
    };
    let (sideways, forward) = (least(&[Edge::Left, Edge::Right]), least(&[Edge::Front]));
    assert!(sideways < forward, "{sideways} {forward}");
    let between = f64::midpoint(sideways, forward).to_string();
    let (seriousness, message) = told(&[("carcase.depth", "1500"), ("limits.push", &between)]).expect("it goes over sideways");
    assert_eq!(seriousness, Seriousness::Note);
    assert!(message.contains("tip it to the") && message.contains("between walls or other cases"), "{message}");
}

/// What it weighs with the heaviest boxes as high as they go is told box by box, and what it weighs with those that find a place where that is more.
#[test]
fn what_it_weighs_full_is_told_box_by_box() {
    let of = |changes: &[(&str, &str)]| {
        let case = Case::with(changes);
        let (_, standing) = casewright_core::loads::of_case(&case.design, &case.model, &case.solids);
        (standing.expect("it is a case"), case)
    };
    let (standing, case) = of(&[]);
    let all: f64 = case.design.contents.iter().map(|kind| kind.mass * f64::from(kind.wanted())).sum();
    let [empty, loaded] = &standing.weighs;
    let with_all = standing.filled.as_ref().map_or(loaded, |filled| &filled.weighs);
    assert_relative_eq!(with_all.value, empty.value + all, max_relative = 1e-9);
    // Of each kind that goes in it is told how many, and what they weigh.
    let told = loaded.explain().join("\n");
    let kinds = case.design.contents.iter().filter(|kind| told.contains(&format!("× {}", kind.name))).count();
    assert!(kinds > case.design.contents.len() / 2, "{told}");
    // In so low a case most of them find no place, and it weighs no more than with those that do.
    let (low, case) = of(&[("carcase.height", "700")]);
    let all: f64 = case.design.contents.iter().map(|kind| kind.mass * f64::from(kind.wanted())).sum();
    let most = low.filled.as_ref().map_or(low.loaded.kg, |filled| filled.mass.kg);
    assert!(most < low.empty.kg + 0.8 * all, "{most} of {}", low.empty.kg + all);
    // In one that is a little low a few find none, and the words say so.
    let (short, _) = of(&[("carcase.width", "1250")]);
    if let Some(filled) = short.filled {
        assert_eq!(filled.placed < filled.wanted, filled.words().contains("that find a place"), "{}", filled.words());
    }
}

/// On carpet a higher case leans forward so far that less than 150 N tip it: that is a note, which goes when it is anchored.
#[test]
fn what_leans_forward_on_carpet_is_noted() {
    let high = Case::with(&[("carcase.height", "1880")]);
    let note = high.findings.iter().find(|finding| finding.rule == Rule::Stands).expect("a note");
    assert_eq!((note.seriousness, note.remedies.len()), (Seriousness::Note, 1));
    assert!(note.message.contains("forward on carpet, less than the 150 N"), "{}", note.message);
    assert!(note.figures[0].value < 150.0);
    let anchored = Case::with(&[("carcase.height", "1880"), ("carcase.wall", "anchored")]);
    assert!(!anchored.findings.iter().any(|finding| finding.rule == Rule::Stands));
}

/// Doors and drawers come in no case of the family yet. The chest of drawers that the notes of the project work out (derived): its drawers are a
/// reason to anchor it, and someone on an open one another.
#[test]
fn doors_and_drawers_of_a_case_by_hand() {
    let drawer =
        |y: f64| Drawer { shut: Mass { kg: 12.0, centre: DVec3::new(450.0, y, 230.0) }, contents: 8.0, travel: 300.0, front: 420.0 };
    let chest = stability::Case {
        feet: Feet { left: 0.0, right: 900.0, back: 0.0, front: 420.0 },
        height: 1000.0,
        carcase: Mass { kg: 45.0, centre: DVec3::new(450.0, 500.0, 215.0) },
        contents: Vec::new(),
        doors: vec![Moving::door(Mass { kg: 6.0, centre: DVec3::new(225.0, 500.0, 410.0) }, 0.0, 420.0)],
        drawers: [200.0, 500.0, 800.0].map(drawer).into(),
    };
    let standing = Standing::of_case(chest, &Limits::default());
    let has = |wanted: fn(&Anchor) -> bool| standing.reasons.iter().any(wanted);
    assert!(has(|reason| matches!(reason, Anchor::Drawers { .. })) && has(|reason| matches!(reason, Anchor::LoadOnDrawer { .. })));
    assert!(standing.case.tipping(State::ALL_OUT).holds < standing.case.tipping(State::DOORS_OPEN).holds);
    // With all of it open it stands least, and that is what is told.
    let (governing, _) = standing.governing();
    assert!(governing.iter().all(|push| push.state.doors_open && push.over == Edge::Front), "{governing:?}");
    assert!(governing[0].words().contains("doors open, drawers out, on carpet"), "{}", governing[0].words());
    // The limits are the maker's: with others it is slender too.
    let strict = Standing::of_case(standing.case.clone(), &Limits { slender: 2.0, ..Limits::default() });
    assert!(strict.reasons.iter().any(|reason| matches!(reason, Anchor::Slender { .. })));
    // As are how high a chest may be, and what its drawers must bear.
    let lenient = demo_with(&[("limits.with_drawers", "1100"), ("limits.on_drawer", "2")]).limits;
    let told = Standing::of_case(standing.case.clone(), &lenient).reasons;
    let of_drawers = |reason: &Anchor| matches!(reason, Anchor::Drawers { .. } | Anchor::LoadOnDrawer { .. });
    assert!(!told.iter().any(of_drawers), "{told:?}");
    let height = |limit: &str| demo_with(&[("limits.with_drawers", limit)]).limits;
    let reaches = |limits: &Limits| {
        Standing::of_case(standing.case.clone(), limits).reasons.iter().any(|reason| matches!(reason, Anchor::Drawers { .. }))
    };
    assert!(reaches(&height("1000")) && !reaches(&height("1000.1")));
}

/// The load constant of the NIOSH lifting equation is 23 kg (read): the whole demo is far more, its top less; with a higher limit nothing is told.
#[test]
fn what_two_must_lift_is_a_note() {
    let case = Case::with(&[]);
    let fit = DryFit::of(&case.design, &case.model, &case.solids);
    let note = fit.findings.iter().find(|finding| finding.rule == Rule::Lift).expect("the case is heavy");
    assert_eq!(note.seriousness, Seriousness::Note);
    let heavy = lifts(&case.design, &case.model, &case.solids, &fit.order);
    assert!(heavy.iter().all(|lift| lift.mass.kg > 23.0));
    let whole = heavy.last().expect("the empty case");
    let fast: f64 = case
        .model
        .parts
        .iter()
        .filter(|part| part.stage != BuildStage::Loose)
        .map(|part| case.solids.mass(part, case.model.timbers.density(&part.material).expect("known").value).expect("a shape").kg)
        .sum();
    assert_eq!(whole.step, None);
    assert_relative_eq!(whole.mass.kg, fast, max_relative = 1e-9);
    let strong = demo_with(&[("limits.lift", "100")]);
    assert!(lift_findings(&strong, &lifts(&strong, &case.model, &case.solids, &fit.order)).is_empty());
}
