//! Shelves on pins, on fixed cleats, in housings, in half rounds, and solid ones.

use casewright_core::Model;
use casewright_core::inspect::Rule;
use casewright_core::joint::{Fixing, Wanted};
use casewright_core::model::{Assembly, Contact, Material, Meeting, NewPart, PartKind, Role};
use casewright_core::place::{Block, Dir, Lie};
use glam::DVec3;

use super::{AtRisk, Changes, Fault, Note, WillFail, demo_fault, hand_fault};

/// The middle bay on pins, its shelves about where they lie on teeth.
const PINS: Changes = &[("interior.bays.2.opening.system", "pins"), ("interior.bays.2.opening.shelves", "7 17 27")];
/// The same with shelves that bear what may be stacked as high as two rooms.
const THICK_ON_PINS: Changes =
    &[("interior.bays.2.opening.system", "pins"), ("interior.bays.2.opening.shelves", "7 17 27"), ("shelf.thickness", "26")];
/// The middle and the right bay on pins, so that the divider between them has rows from both sides.
const PINS_BOTH: Changes = &[
    ("interior.bays.2.opening.system", "pins"),
    ("interior.bays.2.opening.shelves", "7 17 27"),
    ("interior.bays.3.opening.system", "pins"),
    ("interior.bays.3.opening.shelves", "7 17 27"),
    // No rail meets the rows of the right posts.
    ("carcase.post.width", "60"),
];
const CLEATS: Changes = &[("interior.bays.2.opening.system", "cleats"), ("interior.bays.2.opening.shelves", "10 30 50")];
const HOUSED: Changes = &[("interior.bays.2.opening.system", "housed"), ("interior.bays.2.opening.shelves", "10 30 50")];
const HALF_ROUND: Changes = &[("sawtooth.teeth", "half_round"), ("sawtooth.seat", "12"), ("sawtooth.cleat.height", "23.5")];

pub(super) const FAULTS: &[Fault] = &[
    demo_fault(
        "a shelf too long between its uprights",
        PINS,
        &[("part.shelf.2.1.length", "348")],
        (Rule::ShelfFits, WillFail),
        &["shelf.2.1", "stile.1"],
        // 346 between the dividers.
        ("too long", 2.0),
    ),
    demo_fault(
        "pins too short for their shelves",
        PINS,
        &[("pins.reach", "7")],
        (Rule::ShelfBears, AtRisk),
        &["shelf.2.1"],
        // 7 less a play of 1.25, and as much again when it is pushed over.
        ("bearing", 4.5),
    ),
    demo_fault(
        "back rows behind the edge of their shelves",
        PINS,
        &[("pins.back", "31")],
        (Rule::ShelfBears, AtRisk),
        &["shelf.2.1"],
        // 28 and 4.6 of room to grow (430 × 0.00274 × 3 and 1) are 32.6; the pin of 4.9 reaches from 28.55 to 33.45.
        ("covered", 0.85),
    ),
    demo_fault(
        "rows of holes right through a divider",
        PINS,
        &[("pins.depth", "60")],
        (Rule::MortiseBreaksOut, WillFail),
        &["stile.1"],
        // As wide as the divider is.
        ("left", -1.0),
    ),
    demo_fault(
        "rows of holes from both sides of a divider that run into each other",
        PINS_BOTH,
        &[("pins.depth", "32")],
        (Rule::MortisesMeet, WillFail),
        &["stile.2"],
        // Of 60, 32 from either side.
        ("wall", 0.0),
    ),
    demo_fault(
        "holes too shallow for their pins",
        PINS,
        &[("pins.depth", "8")],
        (Rule::JointRule, AtRisk),
        &["pin.2.1.front.left", "stile.1"],
        ("at least", 10.0),
    ),
    demo_fault(
        "pins that wobble in their holes",
        PINS,
        &[("pins.fit", "1")],
        (Rule::JointRule, AtRisk),
        &["pin.2.1.front.left", "stile.1"],
        ("found", 1.0),
    ),
    demo_fault(
        "a shelf above the last hole",
        THICK_ON_PINS,
        &[("interior.bays.2.opening.shelves.3", "40")],
        (Rule::ShelfHasTooth, WillFail),
        &["stile.1"],
        // 1,224 less twice 96 in steps of 32: 33 holes.
        ("holes", 33.0),
    ),
    demo_fault(
        "a fixed level that is not there",
        CLEATS,
        &[("interior.bays.2.opening.shelves.3", "90")],
        (Rule::ShelfHasTooth, WillFail),
        &["stile.1"],
        // 1,224 less 64, a cleat of 30 and a shelf of 22, in steps of 16.
        ("levels", 70.0),
    ),
    demo_fault(
        "a shelf that reaches into one of its housings by half",
        HOUSED,
        &[("part.shelf.2.1.length", "372")],
        (Rule::Shoulder, WillFail),
        &["shelf.2.1", "stile.1"],
        // 346 between the dividers and 18 into one of them leave 8 of 372 for the other.
        ("reach", 8.0),
    ),
    demo_fault(
        "a housing too shallow for its divider",
        HOUSED,
        &[("housed.depth", "10")],
        (Rule::JointRule, AtRisk),
        &["shelf.2.1", "stile.1"],
        // A quarter of 60.
        ("at least", 15.0),
    ),
    demo_fault(
        "a housed shelf without room to grow",
        HOUSED,
        &[("shelf.room", "1")],
        (Rule::ShelfGrows, WillFail),
        &["shelf.2.1"],
        // 470 less 28 and 1, 441: ash 0.00274 a percent (Wood Handbook, table 13-5), from 8 to 11 %.
        ("grows", 3.625),
    ),
    demo_fault(
        "a solid shelf that bursts its standards",
        &[("sawtooth.of", "solid"), ("shelf.play", "0.5")],
        &[("shelf.room", "0.5")],
        (Rule::ShelfGrows, WillFail),
        &["shelf.1.1", "standard.1.front.left"],
        // 470 less twice 82 and twice 0.5, 305: ash 0.00274 a percent, from 8 to 11 %.
        ("grows", 2.507),
    ),
    demo_fault(
        "a cleat too tall for its half rounds",
        HALF_ROUND,
        &[("sawtooth.cleat.height", "25")],
        (Rule::CleatBears, WillFail),
        &["cleat.1.1.left", "standard.1.front.left"],
        // Half rounds of 24, and half a millimetre of play.
        ("too tall", 1.5),
    ),
    demo_fault(
        "half rounds that leave a feather edge",
        HALF_ROUND,
        &[("sawtooth.seat", "15.1")],
        (Rule::ShortGrain, AtRisk),
        &["standard.1.front.left"],
        // A pitch of 32 less twice 15.1.
        ("flat", 1.8),
    ),
    demo_fault(
        "cleats that slide out of their teeth at a divider",
        &[],
        &[("sawtooth.spacers", "none")],
        (Rule::CleatStays, WillFail),
        &["cleat.1.1.right", "standard.1.front.right", "standard.1.back.right"],
        // As thick as their standards, 20, and 20 of nothing between those of both bays.
        ("slides", 20.0),
    ),
    demo_fault(
        "cleats that slide over a standard of one piece, from under their shelf",
        &[("sawtooth.mid", "one_piece")],
        &[("sawtooth.spacers", "none")],
        (Rule::CleatStays, WillFail),
        &["cleat.1.1.right", "standard.1.front.right"],
        // The whole of it is 60 thick.
        ("slides", 60.0),
    ),
    demo_fault(
        "cleats that slide out beside a bay on pins",
        PINS,
        &[("sawtooth.spacers", "none")],
        (Rule::CleatStays, WillFail),
        &["cleat.1.1.right", "standard.1.front.right"],
        ("slides", 20.0),
    ),
    demo_fault(
        "cleats that slide out of an open frame",
        &[],
        &[("carcase.left.filling", "open")],
        (Rule::CleatStays, WillFail),
        &["cleat.1.1.left", "standard.1.front.left"],
        ("left in its teeth", 0.0),
    ),
    demo_fault(
        "a panel too far behind thin cleats",
        // Posts of 50 less standards of 20 and rails of 24 set back 4: 2 are too little for a spacer.
        &[("carcase.post.width", "50")],
        &[("sawtooth.cleat.thickness", "12")],
        (Rule::CleatStays, AtRisk),
        &["cleat.1.1.left", "standard.1.front.left"],
        // From a cleat at 38 to a panel of 12.75 in the middle of the rails, at 22.375: the shelf's ends, pushed away, begin at 32.
        ("left under its shelf", 2.375),
    ),
    demo_fault(
        "solid shelves too thick to be laid level",
        &[("sawtooth.of", "solid")],
        &[("shelf.thickness", "41")],
        (Rule::ShelfTilts, AtRisk),
        &["shelf.3.4"],
        // Bay 3 is 328 wide, and 1.25 less than 20 more at either end is 365.5: the root of 365.5² + 41². Beside it are a spacer and a rail.
        ("diagonal", 367.792),
    ),
    demo_fault(
        "a shelf with too little height to be tilted out",
        &[],
        &[("interior.bays.3.opening.shelves.1", "12"), ("interior.bays.3.opening.shelves.3", "18")],
        (Rule::ShelfTilts, Note),
        &["slat.3.2.1"],
        ("opening", 328.0),
    ),
    hand_fault(
        "a row of holes that is not level with the other",
        on_four_pins,
        (0.0, 1.0),
        (Rule::ShelfLevel, WillFail),
        &["shelf"],
        ("out of level", 1.0),
    ),
];

/// A shelf on four pins, of which those on the right are so much higher.
fn on_four_pins(higher: f64) -> Model {
    let mut assembly = Assembly::default();
    let lie = Lie { face: Dir::PlusY, edge: Dir::PlusZ };
    let ash = || Material::Solid("white_ash".to_owned());
    let board = NewPart::filling(Block::new((0.0, 500.0), (100.0, 122.0), (0.0, 300.0)), lie);
    let shelf = assembly.place(board.called("shelf", "Shelf", PartKind::Shelf, ash()));
    for (name, x, z, up) in
        [("pin 1", 0.0, 30.0, 0.0), ("pin 2", 0.0, 265.0, 0.0), ("pin 3", 490.0, 30.0, higher), ("pin 4", 490.0, 265.0, higher)]
    {
        let round = NewPart::filling(Block::new((x, x + 10.0), (95.0 + up, 100.0 + up), (z, z + 5.0)), lie);
        let pin = assembly.place(round.called(name, name, PartKind::Pin, ash()));
        let contact = Contact {
            centre: DVec3::new(x + 5.0, 100.0, z + 2.5),
            into: Dir::MinusY,
            along: Dir::PlusZ,
            extent: glam::DVec2::new(5.0, 10.0),
        };
        assembly.join(&Meeting { role: Role::ShelfToPin, a: shelf, b: pin, contact }, &Wanted::Plain(Fixing::Rest));
    }
    assembly.finish()
}
