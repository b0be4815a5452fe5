//! The ways that a maker has: tipped about the one or the other axis, levelled in free room above or below its place, and straight home. Nothing is told as
//! locked out that goes in so, and one cause is told once.

use casewright_core::Sequence;
use casewright_core::joint::{Fixing, JointKind};
use casewright_core::model::{BuildStage, Joint, PartId, PartKind};
use casewright_core::sequence::{Step, verify};
use casewright_tests::Case;

use super::{assert_whole, names, order_of};

/// Floors and shelves that go in tipped by 18 to 36 degrees about the depth axis and levelled well above or below their places. That each does was seen on
/// solids of another mesh library first, in steps of 8 to 12 mm along their way.
#[test]
fn what_a_maker_tips_in_is_not_told_as_locked() {
    let mut wrong = Vec::new();
    for changes in [
        &[("carcase.depth", "600")][..],
        &[("carcase.depth", "700")],
        &[("carcase.depth", "900")],
        &[("carcase.depth", "1100")],
        &[("carcase.depth", "1500")],
        &[("interior.divider.width", "50")],
        &[("carcase.post.width", "34")],
        &[("carcase.top.fixing", "slotted_screws")],
        &[("sawtooth.of", "solid")],
    ] {
        let case = Case::with(changes);
        let order = order_of(&case);
        let locked: Vec<_> =
            order.locked.iter().map(|locked| (names(&case.model, &locked.parts), names(&case.model, &locked.blocked_by))).collect();
        if !locked.is_empty() || !verify(&case.model, &case.solids, &order).is_empty() {
            wrong.push(format!("{changes:?}: {locked:?}"));
        }
    }
    assert!(wrong.is_empty(), "{wrong:?}");
}

fn captives<'m>(case: &'m Case, order: &Sequence) -> Vec<&'m str> {
    order.captive.iter().flat_map(|captive| names(&case.model, &[captive.part])).collect()
}

fn step_of<'s>(case: &Case, order: &'s Sequence, name: &str) -> (usize, &'s Step) {
    let id = case.model.find(name).expect("a part").id;
    order.steps.iter().enumerate().rfind(|(_, step)| step.moves.iter().any(|mv| mv.parts.contains(&id))).expect("it moves")
}

/// The slats of the highest shelves come out by hand under the top, so that they go in last like all others, and nobody is told to take the top off.
#[test]
fn the_highest_shelves_of_the_demo_come_out_by_hand() {
    let case = Case::with(&[]);
    let order = order_of(&case);
    assert_eq!(captives(&case, &order), [] as [&str; 0]);
    assert_whole(&case.model, &case.solids, &order);
    let (top, _) = step_of(&case, &order, "top");
    for part in case.model.parts.iter().filter(|part| part.stage == BuildStage::Loose) {
        assert!(step_of(&case, &order, &part.name).0 > top, "{}", part.name);
    }
}

/// What rests on nothing yet when it comes in is said to be held, and so is it when what it rests on comes.
#[test]
fn nothing_is_left_hanging_without_a_word() {
    for changes in [&[][..], &[("sawtooth.of", "solid")]] {
        let case = Case::with(changes);
        let order = order_of(&case);
        let rests = |joint: &&Joint| joint.kind == JointKind::Plain(Fixing::Rest);
        let mut stands = vec![false; case.model.parts.len()];
        for step in &order.steps {
            for part in step.moves.iter().flat_map(|mv| &mv.parts).filter(|part| case.model.part(**part).stage == BuildStage::Loose) {
                let of = |at: fn(&Joint) -> PartId| case.model.joints.iter().filter(rests).filter(move |joint| at(joint) == *part);
                let mut on = of(|joint| joint.a).peekable();
                let hangs = on.peek().is_some() && on.all(|joint| !stands[joint.b.0]);
                let under = of(|joint| joint.b).any(|joint| stands[joint.a.0]);
                assert_eq!(hangs, step.words.ends_with("hold it there"), "{}", step.words);
                assert_eq!(under, step.words.starts_with("Hold up "), "{}", step.words);
            }
            step.moves.iter().flat_map(|mv| &mv.parts).for_each(|part| stands[part.0] = true);
        }
    }
}

/// A floor without room all round goes in nowhere. The standards that stand on it go in all the same, and only the floors are told.
#[test]
fn what_only_waits_for_a_locked_part_is_not_told() {
    for changes in [&[("carcase.bottom.clearance", "0")][..], &[("carcase.bottom.clearance", "0"), ("sawtooth.of", "solid")]] {
        let case = Case::with(changes);
        let order = order_of(&case);
        assert!(!order.locked.is_empty());
        for locked in &order.locked {
            let parts = names(&case.model, &locked.parts);
            assert!(parts.len() == 1 && parts[0].starts_with("floor"), "{parts:?}");
            assert!(!locked.blocked_by.is_empty());
        }
        assert_eq!(verify(&case.model, &case.solids, &order), []);
    }
}

/// Shelves let into the posts are glued in front alone, each at a go of its own, with its time and its clamps.
#[test]
fn housed_shelves_are_glued_in_front_only_each_by_itself() {
    let case = Case::with(&HOUSED);
    let order = order_of(&case);
    assert_whole(&case.model, &case.solids, &order);
    let shelves: Vec<_> = case.model.parts.iter().filter(|part| part.kind == PartKind::Shelf).collect();
    assert!(shelves.len() >= 10);
    for shelf in shelves {
        let (_, step) = step_of(&case, &order, &shelf.name);
        let glue_up = &order.glue_ups[step.glue_up.unwrap_or_else(|| panic!("no glue-up: {}", step.words))];
        let front: Vec<_> = case.model.joints_of(shelf.id).filter(|joint| joint.glued).collect();
        assert_eq!(front.len(), 2);
        assert_eq!(glue_up.joints, front.iter().map(|joint| joint.id).collect::<Vec<_>>());
        assert!((glue_up.seconds - 2.0 * case.design.shop.glue.seconds).abs() < 1e-9 && glue_up.in_time());
        // From the outer face of the one upright to that of the other, and two cauls of 25.
        let blocks = || front.iter().map(|joint| case.model.part(joint.b).block());
        let wide = blocks().map(|block| block.max.x).fold(f64::MIN, f64::max) - blocks().map(|block| block.min.x).fold(f64::MAX, f64::min);
        let [clamps] = &glue_up.clamps[..] else { panic!("{:?}", glue_up.clamps) };
        assert!(clamps.count >= 1 && (clamps.length - wide - 50.0).abs() < 1e-6, "{clamps:?} {wide}");
        let told = |glued: bool| {
            let mut parts: Vec<_> = case.model.joints_of(shelf.id).filter(|joint| joint.glued == glued).map(|joint| joint.b).collect();
            parts.sort_unstable();
            let titles: Vec<String> = parts.iter().map(|part| case.model.part(*part).title.to_lowercase()).collect();
            titles.join("; ")
        };
        let wanted = format!("glue in the housings of {} only, those of {} stay dry", told(true), told(false));
        assert!(step.words.ends_with(&wanted), "{}\n{wanted}", step.words);
        assert_eq!(order.groups[step.group].title, shelf.title.to_lowercase());
        assert_eq!(glue_up.group, step.group);
    }
    // Every step belongs to the group that counts it as its own.
    for (index, group) in order.groups.iter().enumerate() {
        assert!(order.steps[group.steps.clone()].iter().all(|step| step.group == index), "{}", group.title);
    }
    assert_eq!(
        order.groups.last().map(|group| (group.title.as_str(), group.parts.len())),
        Some(("Records cabinet", case.model.parts.len()))
    );
}

const HOUSED: [(&str, &str); 3] = [
    ("interior.bays.1.opening.system", "housed"),
    ("interior.bays.2.opening.system", "housed"),
    ("interior.bays.3.opening.system", "housed"),
];
