//! Solid carcases and boxes put together by hand: housings, sliding dovetails, rabbets, box joints, dovetails and breadboard ends.

use casewright_core::Model;
use casewright_core::inspect::Rule;
use casewright_core::joint::{Wanted, box_joint, breadboard, dovetail, housing, rabbet, sliding_dovetail};
use casewright_core::model::Assembly;
use casewright_core::place::{Dir, Lie};
use casewright_tests::demo;

use super::kit::{LEVEL, LYING, SIDEWAYS, contact, join, place};
use super::{AtRisk, Fault, WillFail, hand_fault};

const SHELF: &[&str] = &["shelf", "side"];
const DRAWER: &[&str] = &["side", "front"];
const END: &[&str] = &["top", "end"];

pub(super) const FAULTS: &[Fault] = &[
    hand_fault(
        "a housing deeper than half of its side",
        |depth| shelf(&Wanted::Housing(housing::Wanted { depth: Some(depth), glued: true, ..Default::default() })),
        (6.0, 11.0),
        (Rule::JointRule, AtRisk),
        SHELF,
        ("found", 11.0),
    ),
    hand_fault(
        "a housing too wide for its shelf",
        |fit| shelf(&Wanted::Housing(housing::Wanted { fit: Some(fit), glued: true, ..Default::default() })),
        (0.1, 0.4),
        (Rule::JointRule, AtRisk),
        SHELF,
        ("found", 0.4),
    ),
    hand_fault(
        "a housing that stops 5 before the front",
        |stop| shelf(&Wanted::Housing(housing::Wanted { stops: [0.0, stop], glued: true, ..Default::default() })),
        (12.0, 5.0),
        (Rule::JointRule, AtRisk),
        SHELF,
        ("found", 5.0),
    ),
    hand_fault(
        "a sliding dovetail that is open at neither end",
        |stop| shelf(&Wanted::SlidingDovetail(sliding_dovetail::Wanted { stops: [stop, 12.0], ..Default::default() })),
        (0.0, 12.0),
        (Rule::JointRule, AtRisk),
        SHELF,
        ("at least", 1.0),
    ),
    hand_fault(
        "a sliding dovetail as steep as 1:4",
        |run| shelf(&Wanted::SlidingDovetail(sliding_dovetail::Wanted { slope: Some(1.0 / run), ..Default::default() })),
        (8.0, 4.0),
        (Rule::JointRule, AtRisk),
        SHELF,
        ("found", 4.0),
    ),
    hand_fault(
        "a rabbet at a corner that takes a quarter of its side",
        corner_rabbet,
        (11.0, 5.0),
        (Rule::JointRule, AtRisk),
        &["top", "side"],
        ("found", 5.0),
    ),
    hand_fault(
        "a rabbet that holds little of the back",
        back_in_rabbet,
        (10.0, 4.0),
        (Rule::JointRule, AtRisk),
        &["back", "side"],
        // The half millimetre beside the back is of the rabbet too.
        ("found", 4.5),
    ),
    hand_fault(
        "fingers thinner than half of their boards",
        |finger| drawer_side(&Wanted::BoxJoint(box_joint::Wanted { finger: Some(finger), glued: true, ..Default::default() })),
        (7.0, 5.0),
        (Rule::JointRule, AtRisk),
        DRAWER,
        ("found", 5.0),
    ),
    hand_fault(
        "fingers that leave a stub at the upper edge",
        |finger| drawer_side(&Wanted::BoxJoint(box_joint::Wanted { finger: Some(finger), glued: true, ..Default::default() })),
        (7.0, 10.0),
        (Rule::JointRule, AtRisk),
        DRAWER,
        // 105 holds ten of them, an even number: nine fill 90.
        ("found", 15.0),
    ),
    hand_fault(
        "half-blind tails behind a lap of 2",
        |lap| drawer_side(&Wanted::Dovetail(dovetail::Wanted { half_blind: true, lap: Some(lap), glued: true, ..Default::default() })),
        (4.0, 2.0),
        (Rule::JointRule, AtRisk),
        DRAWER,
        ("found", 2.0),
    ),
    hand_fault(
        "dovetails with half pins of 3",
        |half_pin| drawer_side(&Wanted::Dovetail(dovetail::Wanted { half_pin: Some(half_pin), glued: true, ..Default::default() })),
        (6.0, 3.0),
        (Rule::JointRule, AtRisk),
        DRAWER,
        ("found", 3.0),
    ),
    hand_fault(
        "a breadboard end of 48",
        |width| breadboard_end(width, None),
        (60.0, 48.0),
        (Rule::JointRule, AtRisk),
        END,
        ("found", 48.0),
    ),
    hand_fault(
        "a breadboard end that lets its outer tenons move by half a millimetre",
        |room| breadboard_end(60.0, Some(room)),
        (5.0, 0.5),
        (Rule::JointRule, AtRisk),
        END,
        // Black cherry, 0.00248 a percent (Wood Handbook, table 13-5), 280 from the middle, 6 to 11 %.
        ("at least", 3.472),
    ),
    hand_fault("a shelf too short for its housing", short_shelf, (0.0, 3.0), (Rule::Shoulder, WillFail), SHELF, ("gap", 3.0)),
];

const ASH: &str = "white_ash";
/// A side that stands, its face side inward.
const STANDING: Lie = Lie { face: Dir::PlusX, edge: Dir::PlusZ };

/// A shelf of 18 that comes up to a side of 19, in the middle of its height.
fn shelf(wanted: &Wanted<'_>) -> Model {
    shelf_from(19.0, wanted)
}

/// A shelf that ends so much before a housing in the side.
fn short_shelf(short: f64) -> Model {
    shelf_from(19.0 + short, &Wanted::Housing(housing::Wanted { glued: true, ..Default::default() }))
}

fn shelf_from(x: f64, wanted: &Wanted<'_>) -> Model {
    let mut assembly = Assembly::default();
    let side = place(&mut assembly, "side", ASH, [(0.0, 19.0), (0.0, 600.0), (0.0, 300.0)], STANDING);
    let shelf = place(&mut assembly, "shelf", ASH, [(x, 519.0), (200.0, 218.0), (0.0, 300.0)], LYING);
    let at = contact((19.0, 209.0, 150.0), Dir::MinusX, Dir::PlusZ, (300.0, 18.0));
    join(&mut assembly, shelf, side, at, wanted);
    assembly.finish()
}

/// The end of a top of 18 in a rabbet so deep of a side of 19.
fn corner_rabbet(depth: f64) -> Model {
    let mut assembly = Assembly::default();
    let side = place(&mut assembly, "side", ASH, [(0.0, 19.0), (0.0, 600.0), (0.0, 300.0)], STANDING);
    let top = place(&mut assembly, "top", ASH, [(19.0, 519.0), (582.0, 600.0), (0.0, 300.0)], LYING);
    let at = contact((19.0, 591.0, 150.0), Dir::MinusX, Dir::PlusZ, (300.0, 18.0));
    join(&mut assembly, top, side, at, &Wanted::Rabbet(rabbet::Wanted { depth: Some(depth), glued: true, ..Default::default() }));
    assembly.finish()
}

/// A back of 8 in a rabbet of a side of 19, so much of it over the side.
fn back_in_rabbet(over: f64) -> Model {
    let mut assembly = Assembly::default();
    let side = place(&mut assembly, "side", ASH, [(0.0, 19.0), (0.0, 600.0), (0.0, 300.0)], STANDING);
    let behind = Lie { face: Dir::MinusZ, edge: Dir::PlusX };
    let back = place(&mut assembly, "back", ASH, [(19.0 - over, 500.0), (0.0, 600.0), (0.0, 8.0)], behind);
    let at = contact((19.0 - over / 2.0, 300.0, 8.0), Dir::PlusZ, Dir::PlusY, (600.0, over));
    join(&mut assembly, back, side, at, &Wanted::Rabbet(rabbet::Wanted::default()));
    assembly.finish()
}

/// A drawer side of 12 and 105 high that comes up to the inner face of a front of 18.
fn drawer_side(wanted: &Wanted<'_>) -> Model {
    let mut assembly = Assembly::default();
    let front = place(&mut assembly, "front", ASH, [(0.0, 400.0), (0.0, 105.0), (300.0, 318.0)], LEVEL);
    let side = place(&mut assembly, "side", ASH, [(0.0, 12.0), (0.0, 105.0), (0.0, 300.0)], SIDEWAYS);
    let at = contact((6.0, 52.5, 300.0), Dir::PlusZ, Dir::PlusY, (105.0, 12.0));
    join(&mut assembly, side, front, at, wanted);
    assembly.finish()
}

/// An end so wide on a cherry top of 700, its outer tenons with so much room to move.
fn breadboard_end(width: f64, room: Option<f64>) -> Model {
    let mut assembly = Assembly::default();
    let cherry = "black_cherry";
    let across = Lie { face: Dir::PlusY, edge: Dir::MinusX };
    let top = place(&mut assembly, "top", cherry, [(0.0, 1000.0), (700.0, 722.0), (0.0, 700.0)], LYING);
    let end = place(&mut assembly, "end", cherry, [(1000.0, 1000.0 + width), (700.0, 722.0), (0.0, 700.0)], across);
    let at = contact((1000.0, 711.0, 350.0), Dir::PlusX, Dir::PlusZ, (700.0, 22.0));
    let moisture = demo().timber.moisture;
    join(&mut assembly, top, end, at, &Wanted::Breadboard(breadboard::Wanted { room, ..breadboard::Wanted::by_rule(&moisture) }));
    assembly.finish()
}
