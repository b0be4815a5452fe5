//! Shelves on pins: what bends, shears and prises there, and who is told to.

use approx::assert_relative_eq;
use casewright_core::Seriousness;
use casewright_core::inspect::{Finding, Rule};
use casewright_core::loads::{Rest, RestWay, UnderLoad};
use casewright_core::model::PartKind;
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

/// A shelf on pins lies on four points: between its back pins and its front pins it bends across its grain as well. An orthotropic plate of the same size and
/// timber on the middles of these pins (4.4 and 463.1 of 467.5 along, 4.4 and 400.4 of 425.4 across; E 12,000 and 600, G 750, 22.5 kg and its own weight spread
/// evenly; Ritz with fourteen terms each way, derived) sags 0.848 in its middle at once where a beam from side to side sags 0.06, and one 12 thick 4.95.
#[test]
fn a_shelf_on_pins_bends_from_pin_to_pin_too() {
    for (thickness, plate) in [("22", 0.848), ("12", 4.95)] {
        let case = on_pins(&[("shelf.thickness", thickness)]);
        let shelf = case.model.find("shelf.1.1").expect("a shelf");
        let room = case.model.rooms.iter().position(|room| room.bay == 0 && room.shelf == Some(0)).expect("the room on it");
        let one = UnderLoad::of(&case.design, &case.model).stacks.into_iter().flatten().next().expect("a stack");
        let (low, high) = (shelf.block().min, shelf.block().max);
        let block = casewright_core::place::Block::new((low.x, high.x), (high.y, high.y + 100.0), (low.z, high.z));
        let mut stacks = vec![Vec::new(); case.model.rooms.len()];
        stacks[room] = vec![casewright_core::contents::Stack { kg: 22.5, block, ..one }];
        let under = UnderLoad::with(&case.design, &case.model, stacks);
        let middle = shelf.block().centre();
        let both: Vec<_> = under.all_of_part(shelf.id).collect();
        assert_eq!(both.iter().map(|bending| bending.way()).collect::<Vec<_>>(), ["from side to side", "from front to back"]);
        let sags: f64 = both.iter().map(|bending| bending.curve.at_once(middle[bending.curve.axis])).sum();
        assert!((plate * 0.9..plate * 1.1).contains(&sags), "{thickness}: {sags} for {plate}");
        assert!(both[1].at_once() > 4.0 * both[0].at_once(), "{both:?}");
    }
    // So thin it is seen to sag, and thicker it is not.
    let sags = |thickness: &str| on_pins(&[("shelf.thickness", thickness)]).findings.iter().any(|finding| finding.rule == Rule::Sags);
    assert!(sags("12") && !sags("22"));
}
