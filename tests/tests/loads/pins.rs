//! Shelves on pins: what bends, shears and prises there, and who is told to.

use approx::assert_relative_eq;
use casewright_core::Seriousness;
use casewright_core::inspect::{Finding, Rule};
use casewright_core::loads::{Rest, RestWay, Spans, UnderLoad};
use casewright_core::model::{PartId, PartKind};
use casewright_tests::{Case, demo_with};

const ON_PINS: (&str, &str) = ("interior.bays.1.opening.system", "pins");

fn on_pins(changes: &[(&str, &str)]) -> Case {
    Case::of(demo_with(&[&[ON_PINS], changes].concat())).expect("it derives")
}

fn on_a_pin(case: &Case) -> Rest {
    let under = UnderLoad::of(&case.design, &case.model);
    let rests = under.rests.into_iter().filter(|rest| rest.pin.is_some());
    rests.max_by(|a, b| a.force.total_cmp(&b.force)).expect("a shelf lies on pins")
}

fn of_pins(case: &Case) -> Vec<&Finding> {
    let is_pin = |finding: &&Finding| finding.parts.first().is_some_and(|part| case.model.part(*part).kind == PartKind::Pin);
    case.findings.iter().filter(|finding| finding.rule == Rule::Holds).filter(is_pin).collect()
}

/// A pin of wood bends before it shears. The lever is from the mouth of its hole to the middle of what lies on it; π/32·d³ is the section modulus of a round
/// (statics). White ash breaks in bending at 103 N/mm² (Wood Handbook FPL-GTR-190, table 5-3a): 0.6 of that over 3 for years.
#[test]
fn a_pin_of_wood_is_bent_by_what_lies_on_it() {
    let case = on_pins(&[("pins.of", "wood")]);
    let rest = on_a_pin(&case);
    let pin = rest.pin.expect("it lies on a pin");
    let lies = rest.lies[1];
    assert_relative_eq!(pin.lever, 10.0 - lies / 2.0, max_relative = 1e-9);
    let modulus = std::f64::consts::PI / 32.0 * 4.9_f64.powi(3);
    assert_relative_eq!(pin.bends.found, rest.force * pin.lever / modulus, max_relative = 1e-9);
    assert_relative_eq!(pin.bends.allowed.expect("ash has a strength"), 103.0 * 0.6 / 3.0, max_relative = 1e-9);
    // In its hole it presses evenly by what it bears, and rising to either end by what turns it.
    let (deep, moment) = (12.0, rest.force * (pin.lever + 6.0));
    assert_relative_eq!(pin.prises.found, (rest.force / deep + moment / (deep * deep / 6.0)) / 4.9, max_relative = 1e-9);
    assert!(pin.bends.found > rest.shear.found, "{rest:?}");
    // The pin is what gives out, not the shelf.
    for (way, part, _) in rest.stresses() {
        assert_eq!(case.model.part(part).kind, if way == RestWay::Pressed { PartKind::Shelf } else { PartKind::Pin }, "{way:?}");
    }
    assert!(pin.bends.share().expect("a strength") > 1.0);
    let found = of_pins(&case);
    let told = found.iter().find(|finding| finding.message.contains("is bent at its hole")).expect("it is told");
    assert!(told.message.starts_with("Pin"), "{}", told.message);
    assert!(told.remedies.iter().any(|remedy| remedy.changes == [("pins.of".to_owned(), "steel".to_owned())]), "{:?}", told.remedies);
}

/// Pins that fail can be mended, and what is offered leaves no pin too hard pressed, bent or sheared.
#[test]
fn what_mends_a_pin_breaks_none() {
    for changes in [vec![("pins.of", "wood"), ("contents.1.mass", "60")], vec![("pins.reach", "60"), ("contents.1.mass", "60")]] {
        let case = on_pins(&changes);
        let found = of_pins(&case);
        assert!(found.iter().any(|finding| finding.seriousness == Seriousness::WillFail), "{changes:?}: {found:?}");
        let offered: Vec<_> = found.iter().flat_map(|finding| &finding.remedies).collect();
        assert!(!offered.is_empty(), "{changes:?}");
        for remedy in offered {
            let and: Vec<(&str, &str)> = remedy.changes.iter().map(|(path, value)| (path.as_str(), value.as_str())).collect();
            let mended = on_pins(&[&changes[..], &and[..]].concat());
            let groups = |case: &Case| of_pins(case).len();
            assert!(groups(&mended) < found.len(), "{changes:?}: {}: {:?}", remedy.words, of_pins(&mended));
        }
    }
}

/// Steel pins as they are bought bear what stands on a shelf: mild steel yields at 235 N/mm² (EN 10025-2, from memory).
#[test]
fn steel_pins_as_they_are_bought_do() {
    let case = on_pins(&[]);
    assert!(of_pins(&case).is_empty(), "{:?}", of_pins(&case));
    let pin = on_a_pin(&case).pin.expect("it lies on a pin");
    assert_relative_eq!(pin.bends.allowed.expect("steel yields"), 235.0 / 1.5, max_relative = 1e-9);
}

/// A case whose first bay is so wide, its first shelf under 22.5 kg, or what is given, and its own weight spread evenly.
fn evenly(changes: &[(&str, &str)], kg: f64) -> (Case, UnderLoad, PartId) {
    let case = on_pins(changes);
    let shelf = case.model.find("shelf.1.1").expect("a shelf");
    let room = case.model.rooms.iter().position(|room| room.bay == 0 && room.shelf == Some(0)).expect("the room on it");
    let one = UnderLoad::of(&case.design, &case.model).stacks.into_iter().flatten().next().expect("a stack");
    let (low, high, id) = (shelf.block().min, shelf.block().max, shelf.id);
    let block = casewright_core::place::Block::new((low.x, high.x), (high.y, high.y + 100.0), (low.z, high.z));
    let mut stacks = vec![Vec::new(); case.model.rooms.len()];
    stacks[room] = vec![casewright_core::contents::Stack { kg, block, ..one }];
    let under = UnderLoad::with(&case.design, &case.model, stacks);
    (case, under, id)
}

/// A shelf on pins lies on four points: it hangs through both ways, and where they add up most of all. An orthotropic plate of the same size and timber on the
/// middles of these pins (4.4 mm from either end, 4.4 and 400.4 of 425.4 across; E 12,000 and 600, G 750; Ritz with twenty polynomials each way, reckoned
/// elsewhere) sags in its middle and between the pins of a side, at once, without shear, by so much; between the front pins and the back pins as well.
#[test]
fn a_shelf_on_pins_is_a_plate_on_four_points() {
    let wide = [("interior.bays.1.size", "900"), ("carcase.width", "2000")];
    for (changes, kg, [middle, side, back]) in [
        (&[][..], 22.5, [0.851, 0.8285, 0.163]),
        (&[("shelf.thickness", "12")][..], 22.5, [4.97, 4.84, 0.95]),
        (&wide[..], 44.5, [1.911, 1.175, 1.407]),
        (&[wide[0], wide[1], ("shelf.thickness", "19")][..], 44.5, [2.921, 1.796, 2.150]),
    ] {
        let (_, under, shelf) = evenly(changes, kg);
        let told = |spans: Spans| under.all_of_part(shelf).find(|bending| bending.spans == spans).expect("it is told");
        for (spans, plate) in [(Spans::Middle, middle), (Spans::FrontToBack, side), (Spans::SideToSide, back)] {
            let why = told(spans).why_at_once();
            let casewright_core::worked::Basis::Formula { inputs, .. } = &why.basis else { panic!("{why:?}") };
            let bends = inputs[0].value + inputs[1].value;
            assert!((bends / plate - 1.0).abs() < 0.02, "{changes:?} {spans:?}: {bends} for {plate}");
        }
    }
}

/// What is offered against a sag from front to back leaves none: a divider shortens nothing there; cleats hold the ends all along.
#[test]
fn no_divider_is_offered_for_what_hangs_through_from_front_to_back() {
    let case = on_pins(&[("shelf.thickness", "12")]);
    let told = case.findings.iter().find(|finding| finding.rule == Rule::Sags).expect("it sags");
    assert!(told.message.contains("from front to back, between its pins"), "{}", told.message);
    assert!(told.remedies.iter().all(|remedy| !remedy.words.contains("Divide")), "{:?}", told.remedies);
    let cleats = told.remedies.iter().find(|remedy| remedy.words.contains("cleats")).expect("cleats are offered");
    let and: Vec<(&str, &str)> = cleats.changes.iter().map(|(path, value)| (path.as_str(), value.as_str())).collect();
    let mended = on_pins(&[&[("shelf.thickness", "12")][..], &and[..]].concat());
    assert!(mended.findings.iter().all(|finding| finding.rule != Rule::Sags), "{:?}", mended.findings);
    assert!(on_pins(&[]).findings.iter().all(|finding| finding.rule != Rule::Sags));
    // On cleats it hangs from side to side, and there a divider helps.
    let wide = [
        ("interior.bays.1.opening.system", "cleats"),
        ("interior.bays.1.size", "1100"),
        ("carcase.width", "2600"),
        ("shelf.thickness", "14"),
    ];
    let case = Case::of(demo_with(&wide)).expect("it derives");
    let told = case.findings.iter().find(|finding| finding.rule == Rule::Sags && finding.message.starts_with("Shelf")).expect("it sags");
    assert!(told.remedies.iter().any(|remedy| remedy.words.contains("Divide bay 1")), "{:?}", told.remedies);
}

/// A shelf that reaches further over its front pins than over its back pins presses more on them by the law of the lever (statics).
#[test]
fn front_and_back_pins_bear_what_comes_to_them() {
    let (case, under, shelf) = evenly(&[], 22.5);
    let rests: Vec<&Rest> = under.rests.iter().filter(|rest| rest.part == shelf).collect();
    assert_eq!(rests.len(), 4);
    let of = |word: &str| rests.iter().filter(|rest| case.model.part(rest.on).name.contains(word)).map(|rest| rest.force).sum::<f64>();
    let weight = of("front") + of("back");
    let block = case.model.part(shelf).block();
    let pin = |word: &str| {
        let pins = case.model.parts.iter().find(|part| part.name.starts_with("pin.1.1.") && part.name.contains(word)).expect("a pin");
        pins.block().centre().z - block.min.z
    };
    let [front, back] = ["front", "back"].map(pin);
    let share = (block.size().z / 2.0 - back) / (front - back);
    assert_relative_eq!(of("front"), weight * share, max_relative = 1e-6);
    assert!(of("front") > 1.08 * of("back"), "{} {}", of("front"), of("back"));
}

/// A shelf is pushed over in its play: then it lies on less of the pins at one side, and farther out on them.
#[test]
fn pins_hold_when_the_shelf_is_pushed_over() {
    let rest = on_a_pin(&on_pins(&[]));
    // 10 out of the hole, 1.25 free at either end, all of it at one end when it is pushed over.
    assert_relative_eq!(rest.lies[1], 7.5, max_relative = 1e-9);
    assert_relative_eq!(rest.pin.expect("it lies on a pin").lever, 6.25, max_relative = 1e-9);
    // Four millimetres to either side leave two of its pins: it is pressed there beyond what it should bear, and that is told.
    let loose = on_pins(&[("shelf.play", "4")]);
    assert_relative_eq!(on_a_pin(&loose).lies[1], 2.0, max_relative = 1e-9);
    let pressed = |case: &Case| {
        case.findings.iter().any(|finding| finding.rule == Rule::Holds && finding.message.contains("pressed across the grain"))
    };
    assert!(pressed(&loose) && !pressed(&on_pins(&[])));
    // So thin a pin is bent too hard there by its front.
    let thin = on_pins(&[("pins.diameter", "3")]);
    assert!(
        of_pins(&thin).iter().any(|finding| finding.message.contains("is bent at its hole") && finding.message.contains("front")),
        "{:?}",
        of_pins(&thin)
    );
}
