//! Doors and other frames put together by hand: tenons, bridles, laps, dowels and screws.

use casewright_core::design::{Cheeks, Dowels, Haunch, Ruled, Tenon};
use casewright_core::inspect::Rule;
use casewright_core::joint::room::Beyond;
use casewright_core::joint::screw::{Gauge, Head};
use casewright_core::joint::{Wanted, bridle, dowel, lap, screw, tenon};
use casewright_core::model::Assembly;
use casewright_core::place::{Dir, Lie};
use casewright_core::{Length, Model};

use super::kit::{LEVEL, LYING, SIDEWAYS, UPRIGHT, contact, join, place};
use super::{AtRisk, Fault, WillFail, hand_fault};

const DOOR: &[&str] = &["rail", "stile"];
/// Where the mortise is told of, the part that has it comes first.
const IN_STILE: &[&str] = &["stile", "rail"];

pub(super) const FAULTS: &[Fault] = &[
    hand_fault(
        "a door's tenon more than half as thick as its rail",
        |thick| door(MIDDLE, &Tenon { thickness: own(thick), length: own(40.0), ..Tenon::default() }),
        (8.0, 13.0),
        (Rule::JointRule, AtRisk),
        DOOR,
        ("found", 13.0),
    ),
    hand_fault(
        "a door's tenon shorter than 3 thicknesses",
        |length| door(MIDDLE, &Tenon { length: own(length), ..Tenon::default() }),
        (32.0, 20.0),
        (Rule::JointRule, AtRisk),
        DOOR,
        ("at least", 24.0),
    ),
    hand_fault(
        "a mortise that leaves 3 of the stile behind it",
        |length| door(MIDDLE, &Tenon { length: own(length), ..Tenon::default() }),
        (50.0, 55.0),
        (Rule::MortiseBreaksOut, AtRisk),
        IN_STILE,
        // 60 less the 55, and the 2 by which it is deeper.
        ("left", 3.0),
    ),
    hand_fault(
        "a mortise that comes out at the outer edge of its stile",
        |length| door(MIDDLE, &Tenon { length: own(length), ..Tenon::default() }),
        (50.0, 59.0),
        (Rule::MortiseBreaksOut, WillFail),
        IN_STILE,
        ("left", -1.0),
    ),
    hand_fault(
        "a door's tenon near the end of its stile without a haunch",
        |shoulder| door(AT_END, &Tenon { shoulder: own(shoulder), haunch: Haunch::None, ..Tenon::default() }),
        (20.0, 8.0),
        (Rule::ShortGrain, AtRisk),
        IN_STILE,
        // The mortise is wider than the tenon by a quarter of a millimetre there.
        ("to the end", 7.75),
    ),
    hand_fault(
        "a barefaced tenon near the face of its stile",
        flush_door,
        (40.0, 29.0),
        (Rule::MortiseCheek, AtRisk),
        IN_STILE,
        // The mortise is wider than the tenon is thick by a twentieth on each side.
        ("beside", 4.95),
    ),
    hand_fault(
        "rails with tenons of their own that meet in a post of 40",
        tenons_in_post,
        (20.0, 30.0),
        (Rule::MortisesMeet, WillFail),
        &["post", "front rail", "side rail"],
        // 40 less 8, 6.05 and a wall of 3.
        ("unmet", 22.95),
    ),
    hand_fault(
        "a bridle with a tenon of more than half of the frame",
        |thick| frame_corner(&bridle::Wanted { thickness: own(thick), ..bridle::Wanted::default() }),
        (10.0, 18.0),
        (Rule::JointRule, AtRisk),
        DOOR,
        ("found", 18.0),
    ),
    hand_fault(
        "an open mortise that is too wide",
        |fit| frame_corner(&bridle::Wanted { fit: Length::mm(fit), ..bridle::Wanted::default() }),
        (0.1, 0.4),
        (Rule::JointRule, AtRisk),
        DOOR,
        ("found", 0.4),
    ),
    hand_fault(
        "a lap that leaves a quarter of one of its parts",
        crossed,
        (10.0, 15.0),
        (Rule::JointRule, AtRisk),
        &["first", "second"],
        ("found", 15.0),
    ),
    hand_fault(
        "dowels looser than their holes can hold",
        |fit| dowelled(80.0, &Dowels { fit: Length::mm(fit), ..Dowels::default() }),
        (0.0, 0.3),
        (Rule::JointRule, AtRisk),
        DOOR,
        ("found", 0.3),
    ),
    hand_fault(
        "a rail too narrow for two dowels",
        |width| dowelled(width, &Dowels::default()),
        (60.0, 26.0),
        (Rule::JointRule, AtRisk),
        DOOR,
        ("found", 1.0),
    ),
    hand_fault(
        // 112 less 16 at either edge are 5 times 16: two diameters of 8, with 8 of wood between. EN 1995-1-1, table 8.5, has 3 diameters for dowels of steel (from
        // memory).
        "dowels in a row too near each other",
        |spacing| dowelled(112.0, &Dowels { spacing: Length::mm(spacing), ..Dowels::default() }),
        (32.0, 16.0),
        (Rule::JointRule, AtRisk),
        DOOR,
        ("found", 16.0),
    ),
    hand_fault(
        // 2 diameters of 8 in a rail that is wide enough (a magazine's article on dowel joints).
        "dowels too near the edges of their rail",
        |margin| dowelled(80.0, &Dowels { margin: own(margin), ..Dowels::default() }),
        (16.0, 10.0),
        (Rule::JointRule, AtRisk),
        DOOR,
        ("at least", 16.0),
    ),
    hand_fault(
        // In a rail of 40 two dowels of 8 stand a quarter of it from its edges, 20 apart.
        "dowels too near the edges of a narrow rail",
        |margin| dowelled(40.0, &Dowels { margin: own(margin), ..Dowels::default() }),
        (10.0, 9.0),
        (Rule::JointRule, AtRisk),
        DOOR,
        ("at least", 10.0),
    ),
    hand_fault(
        "dowels that go little into both parts",
        |length| dowelled(80.0, &Dowels { length: own(length), ..Dowels::default() }),
        (48.0, 24.0),
        (Rule::JointRule, AtRisk),
        DOOR,
        // 12 in each, of 8.
        ("at least", 16.0),
    ),
    hand_fault(
        "holes no deeper than their dowels",
        |deeper| dowelled(80.0, &Dowels { deeper: Length::mm(deeper), ..Dowels::default() }),
        (1.5, 0.0),
        (Rule::JointRule, AtRisk),
        DOOR,
        ("found", 0.0),
    ),
    hand_fault(
        "screws with too little thread in the board",
        |length| screwed(length, 40.0),
        (50.0, 40.0),
        (Rule::JointRule, AtRisk),
        &["cleat", "board"],
        // 7 of 4.2 are wanted, and 20 of it stays in the cleat.
        ("at least", 29.4),
    ),
    hand_fault(
        "screws near the ends of the board",
        |margin| screwed(50.0, margin),
        (40.0, 17.0),
        (Rule::JointRule, AtRisk),
        &["cleat", "board"],
        ("found", 17.0),
    ),
];

const ASH: &str = "white_ash";
/// Where a rail comes up along a stile 700 high: in the middle, or flush with its end.
const MIDDLE: (f64, f64) = (300.0, 360.0);
const AT_END: (f64, f64) = (640.0, 700.0);

fn own(mm: f64) -> Ruled {
    Ruled::Own(Length::mm(mm))
}

fn tenoned(sizes: &Tenon) -> Wanted<'_> {
    Wanted::Tenon(tenon::Wanted { sizes, path: "", beyond: Beyond::default(), glued: true })
}

/// A rail of a door to the right of a stile 60 wide, both 24 thick.
fn door(v: (f64, f64), sizes: &Tenon) -> Model {
    let mut assembly = Assembly::default();
    let stile = place(&mut assembly, "stile", ASH, [(0.0, 60.0), (0.0, 700.0), (0.0, 24.0)], UPRIGHT);
    let rail = place(&mut assembly, "rail", ASH, [(60.0, 460.0), v, (0.0, 24.0)], LEVEL);
    let at = contact((60.0, f64::midpoint(v.0, v.1), 12.0), Dir::MinusX, Dir::PlusY, (v.1 - v.0, 24.0));
    join(&mut assembly, rail, stile, at, &tenoned(sizes));
    assembly.finish()
}

/// A rail of 24 with its tenon bare on the back side, whose back lies 5 before that of a stile so thick less 24.
fn flush_door(stile: f64) -> Model {
    let mut assembly = Assembly::default();
    let part = place(&mut assembly, "stile", ASH, [(0.0, 60.0), (0.0, 700.0), (24.0 - stile, 24.0)], UPRIGHT);
    let rail = place(&mut assembly, "rail", ASH, [(60.0, 460.0), MIDDLE, (0.0, 24.0)], LEVEL);
    let at = contact((60.0, 330.0, 12.0), Dir::MinusX, Dir::PlusY, (60.0, 24.0));
    join(&mut assembly, rail, part, at, &tenoned(&Tenon { cheeks: Cheeks::FaceSide, ..Tenon::default() }));
    assembly.finish()
}

/// Two rails of 22, flush with a post of 40, on tenons of 6 in mortises so deep that know nothing of each other.
fn tenons_in_post(depth: f64) -> Model {
    let mut assembly = Assembly::default();
    let post = place(&mut assembly, "post", ASH, [(0.0, 40.0), (0.0, 700.0), (0.0, 40.0)], UPRIGHT);
    let front = place(&mut assembly, "front rail", ASH, [(40.0, 640.0), (300.0, 380.0), (18.0, 40.0)], LEVEL);
    let side = place(&mut assembly, "side rail", ASH, [(0.0, 22.0), (300.0, 380.0), (-400.0, 0.0)], SIDEWAYS);
    let sizes = Tenon { thickness: own(6.0), length: own(depth - 2.0), ..Tenon::default() };
    let at_front = contact((40.0, 340.0, 29.0), Dir::MinusX, Dir::PlusY, (80.0, 22.0));
    join(&mut assembly, front, post, at_front, &tenoned(&sizes));
    let at_side = contact((11.0, 340.0, 0.0), Dir::PlusZ, Dir::PlusY, (80.0, 22.0));
    join(&mut assembly, side, post, at_side, &tenoned(&sizes));
    assembly.finish()
}

/// A corner of a frame of 30.
fn frame_corner(wanted: &bridle::Wanted) -> Model {
    let mut assembly = Assembly::default();
    let rail = place(&mut assembly, "rail", ASH, [(0.0, 300.0), (340.0, 400.0), (0.0, 30.0)], LEVEL);
    let stile = place(&mut assembly, "stile", ASH, [(300.0, 350.0), (0.0, 400.0), (0.0, 30.0)], UPRIGHT);
    let at = contact((300.0, 370.0, 15.0), Dir::PlusX, Dir::PlusY, (60.0, 30.0));
    join(&mut assembly, rail, stile, at, &Wanted::Bridle(*wanted));
    assembly.finish()
}

/// Two slats of 20 that cross, the one cut so deep.
fn crossed(depth: f64) -> Model {
    let mut assembly = Assembly::default();
    let first = place(&mut assembly, "first", ASH, [(0.0, 300.0), (0.0, 20.0), (100.0, 140.0)], LYING);
    let across = Lie { face: Dir::PlusY, edge: Dir::PlusX };
    let second = place(&mut assembly, "second", ASH, [(130.0, 180.0), (0.0, 20.0), (0.0, 300.0)], across);
    let at = contact((155.0, 10.0, 120.0), Dir::MinusY, Dir::PlusX, (50.0, 40.0));
    join(&mut assembly, first, second, at, &Wanted::Lap(lap::Wanted { depth: own(depth), ..lap::Wanted::default() }));
    assembly.finish()
}

/// A rail so wide and 20 thick on dowels in the edge of a stile.
fn dowelled(width: f64, sizes: &Dowels) -> Model {
    let mut assembly = Assembly::default();
    let stile = place(&mut assembly, "stile", ASH, [(0.0, 60.0), (0.0, 700.0), (0.0, 20.0)], UPRIGHT);
    let rail = place(&mut assembly, "rail", ASH, [(60.0, 460.0), (300.0, 300.0 + width), (0.0, 20.0)], LEVEL);
    let at = contact((60.0, 300.0 + width / 2.0, 10.0), Dir::MinusX, Dir::PlusY, (width, 20.0));
    let wanted = dowel::Wanted { sizes, path: "", timber: ASH, beyond: Beyond::default(), glued: true };
    join(&mut assembly, rail, stile, at, &Wanted::Dowels(wanted));
    assembly.finish()
}

/// A cleat of 20 on the broad side of a board 200 long, with two screws of gauge 8 so long, so far from the ends of both.
fn screwed(length: f64, margin: f64) -> Model {
    let mut assembly = Assembly::default();
    let board = place(&mut assembly, "board", ASH, [(0.0, 200.0), (0.0, 40.0), (0.0, 220.0)], LYING);
    let cleat = place(&mut assembly, "cleat", ASH, [(0.0, 200.0), (40.0, 60.0), (80.0, 140.0)], LYING);
    let at = contact((100.0, 40.0, 110.0), Dir::MinusY, Dir::PlusX, (200.0, 60.0));
    let wanted = screw::Wanted {
        gauge: Gauge::Eight,
        length: Length::mm(length),
        count: 2,
        margin: Length::mm(margin),
        head: Head::Countersunk,
        shank_hole: Ruled::ByRule,
        pilot: Ruled::ByRule,
        hard: true,
    };
    join(&mut assembly, cleat, board, at, &Wanted::Screws(wanted));
    assembly.finish()
}
