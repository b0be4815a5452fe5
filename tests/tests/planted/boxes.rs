//! Drawers, shelves in solid sides and breadboard ends, which no case of the family has yet.

use casewright_core::design::{Groove, GrooveWidth, Sheet};
use casewright_core::inspect::Rule;
use casewright_core::joint::{Wanted, breadboard, dovetail, housing};
use casewright_core::model::{Assembly, Material, NewPart, PartKind};
use casewright_core::place::{Block, Dir, Lie};
use casewright_core::{Length, Model};
use casewright_tests::demo;

use super::kit::{LEVEL, LYING, SIDEWAYS, contact, join, place};
use super::{AtRisk, Fault, WillFail, hand_fault};

pub(super) const FAULTS: &[Fault] = &[
    hand_fault(
        "a shelf housed too near the end of its side",
        housed_shelf,
        (20.0, 6.0),
        (Rule::ShortGrain, AtRisk),
        &["side", "shelf"],
        // Half of the 0.1 of fit less.
        ("to the end", 5.95),
    ),
    hand_fault(
        "a drawer bottom too near the lower edges",
        |height| drawer(Drawer { bottom: height, ..Drawer::RIGHT }),
        (13.0, 5.0),
        (Rule::GrooveLeavesWood, AtRisk),
        &["front"],
        // A groove of 6.2.
        ("wood left", 1.9),
    ),
    hand_fault(
        "a drawer side cut 4 short",
        |short| drawer(Drawer { short, ..Drawer::RIGHT }),
        (0.0, 4.0),
        (Rule::Shoulder, WillFail),
        &["left side", "front"],
        ("gap", 4.0),
    ),
    hand_fault(
        "a drawer bottom wider than its grooves",
        |wide| drawer(Drawer { wide, ..Drawer::RIGHT }),
        (388.0, 391.0),
        (Rule::PanelBottoms, WillFail),
        &["bottom"],
        // 376 between the sides and 7 in each; wettest the sheet has grown by 0.5 % × 3 of the 11 % of moisture between 35 and 85 % humidity, and each
        // side of white ash by half of its 12 toward it, 0.00274 a percent (Wood Handbook, table 13-5).
        ("room", -1.0 - 391.0 * 0.005 * 3.0 / 11.0 - 12.0 * 0.00274 * 3.0),
    ),
    hand_fault(
        "a breadboard end glued on by a tenon of 90",
        breadboard_end,
        (60.0, 90.0),
        (Rule::JointRule, AtRisk),
        &["top", "end"],
        ("found", 90.0),
    ),
];

const ASH: &str = "white_ash";

/// A shelf of 18 housed in a side of 19, so far from the side's upper end.
fn housed_shelf(to_end: f64) -> Model {
    let mut assembly = Assembly::default();
    let standing = Lie { face: Dir::PlusX, edge: Dir::PlusZ };
    let side = place(&mut assembly, "side", ASH, [(0.0, 19.0), (0.0, 600.0), (0.0, 300.0)], standing);
    let y = (582.0 - to_end, 600.0 - to_end);
    let shelf = place(&mut assembly, "shelf", ASH, [(19.0, 519.0), y, (0.0, 300.0)], LYING);
    let at = contact((19.0, f64::midpoint(y.0, y.1), 150.0), Dir::MinusX, Dir::PlusZ, (300.0, 18.0));
    join(&mut assembly, shelf, side, at, &Wanted::Housing(housing::Wanted { glued: true, ..Default::default() }));
    assembly.finish()
}

/// A dovetailed drawer, 400 wide, 120 high and 319 deep, with a bottom of sheet in grooves.
#[derive(Clone, Copy)]
struct Drawer {
    /// From the lower edges to the middle of the bottom.
    bottom: f64,
    /// By how much the left side is too short.
    short: f64,
    /// Width of the bottom.
    wide: f64,
}

impl Drawer {
    const RIGHT: Drawer = Drawer { bottom: 13.0, short: 0.0, wide: 388.0 };
}

fn drawer(made: Drawer) -> Model {
    let mut assembly = Assembly::default();
    let front = place(&mut assembly, "front", ASH, [(0.0, 400.0), (0.0, 120.0), (300.0, 319.0)], LEVEL);
    let back_lie = Lie { face: Dir::MinusZ, edge: Dir::PlusY };
    let back = place(&mut assembly, "back", ASH, [(0.0, 400.0), (0.0, 120.0), (0.0, 12.0)], back_lie);
    let left = place(&mut assembly, "left side", ASH, [(0.0, 12.0), (0.0, 120.0), (12.0, 300.0 - made.short)], SIDEWAYS);
    let right_lie = Lie { face: Dir::PlusX, edge: Dir::PlusY };
    let right = place(&mut assembly, "right side", ASH, [(388.0, 400.0), (0.0, 120.0), (12.0, 300.0)], right_lie);
    let (x, y) = ((200.0 - made.wide / 2.0, 200.0 + made.wide / 2.0), (made.bottom - 3.0, made.bottom + 3.0));
    let bottom =
        NewPart::filling(Block::new(x, y, (6.0, 306.0)), LYING).called("bottom", "bottom", PartKind::Panel, Material::Sheet(String::new()));
    let bottom = assembly.place(bottom);
    for (side, x) in [(left, 6.0), (right, 394.0)] {
        for (other, z, into, half_blind) in [(front, 300.0, Dir::PlusZ, true), (back, 12.0, Dir::MinusZ, false)] {
            let at = contact((x, 60.0, z), into, Dir::PlusY, (120.0, 12.0));
            let wanted = dovetail::Wanted { half_blind, glued: true, ..Default::default() };
            join(&mut assembly, side, other, at, &Wanted::Dovetail(wanted));
        }
    }
    let mm = Length::mm;
    let groove =
        Groove { depth: mm(7.0), play: mm(1.0), width_by: GrooveWidth::FromSheet, fit: mm(0.2), cutter: mm(6.0), ..demo().joinery.groove };
    let sheet = Sheet { product: String::new(), nominal: mm(6.0), measured: mm(6.0) };
    for (member, centre, into, along, length) in [
        (left, (12.0, made.bottom, 156.0), Dir::MinusX, Dir::PlusZ, 300.0),
        (right, (388.0, made.bottom, 156.0), Dir::PlusX, Dir::PlusZ, 300.0),
        (front, (200.0, made.bottom, 300.0), Dir::PlusZ, Dir::PlusX, 388.0),
        (back, (200.0, made.bottom, 12.0), Dir::MinusZ, Dir::PlusX, 388.0),
    ] {
        join(&mut assembly, bottom, member, contact(centre, into, along, (length, 6.0)), &Wanted::Groove(&groove, &sheet));
    }
    assembly.finish()
}

/// An end of 60 on a cherry top of 700, on three tenons so wide, of which the middle one is glued.
fn breadboard_end(width: f64) -> Model {
    let mut assembly = Assembly::default();
    let cherry = "black_cherry";
    let across = Lie { face: Dir::PlusY, edge: Dir::MinusX };
    let top = place(&mut assembly, "top", cherry, [(0.0, 1000.0), (700.0, 722.0), (0.0, 700.0)], LYING);
    let end = place(&mut assembly, "end", cherry, [(1000.0, 1060.0), (700.0, 722.0), (0.0, 700.0)], across);
    let at = contact((1000.0, 711.0, 350.0), Dir::PlusX, Dir::PlusZ, (700.0, 22.0));
    let moisture = demo().timber.moisture;
    let wanted = breadboard::Wanted { tenon_width: Some(width), ..breadboard::Wanted::by_rule(&moisture) };
    join(&mut assembly, top, end, at, &Wanted::Breadboard(wanted));
    assembly.finish()
}
