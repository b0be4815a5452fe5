//! Parts put together by hand, for what no case of the family uses.

use casewright_core::design::{Groove, GrooveWidth, Sheet};
use casewright_core::inspect::Rule;
use casewright_core::joint::{Fixing, Wanted};
use casewright_core::model::{Assembly, HeldLine, Material, NewPart, PartKind};
use casewright_core::place::{Block, Dir, Lie};
use casewright_core::{Length, Model};
use casewright_tests::demo;

use super::kit::{LEVEL, LYING, LYING_BACK, SIDEWAYS, UPRIGHT, contact, join, one_tenon, place, tenons};
use super::{AtRisk, Fault, Made, WillFail, hand_fault};

pub(super) const FAULTS: &[Fault] = &[
    hand_fault(
        "a solid panel that swells against its stiles",
        oak_panel,
        (316.0, 318.0),
        (Rule::PanelBottoms, WillFail),
        &["panel"],
        // Red oak, 0.00369 a percent (Wood Handbook, table 13-5), from 8 to 11 %: 321.52 between bottoms 320 apart.
        ("room", -1.52),
    ),
    hand_fault(
        "a solid panel that shrinks nearly out of its groove",
        oak_panel,
        (316.0, 314.0),
        (Rule::PanelEngaged, AtRisk),
        &["panel"],
        // From 8 to 6 %: 311.68, less the opening of 300 and the groove of 10 into which it is pushed.
        ("engaged", 1.68),
    ),
    hand_fault(
        "a batten glued right across a board",
        battened,
        (70.0, 280.0),
        (Rule::GlueAcross, AtRisk),
        &["board", "batten"],
        ("glued", 280.0),
    ),
    hand_fault(
        "a tenon 100 wide glued across a post",
        wide_rail,
        (70.0, 100.0),
        (Rule::GlueAcross, AtRisk),
        &["rail", "post"],
        ("glued", 100.0),
    ),
    hand_fault(
        "tenons half and half in a side of 19",
        shelf_in_side,
        (15.0, 17.0),
        (Rule::MortiseBreaksOut, AtRisk),
        &["side", "shelf"],
        ("left", 2.0),
    ),
    hand_fault(
        "mortises for flush rails that leave a wall of 1 in a post of 40",
        flush_rails,
        (22.0, 24.0),
        (Rule::MortisesMeet, AtRisk),
        &["post", "front rail", "side rail"],
        // 40 less 7 and 8, and a wall of 3.
        ("unmet", 22.0),
    ),
    hand_fault(
        "mortises in pine as deep as hardwood allows",
        flush_rails_of_pine,
        (21.0, 23.0),
        (Rule::MortisesMeet, AtRisk),
        &["post", "front rail", "side rail"],
        // 40 less 8, 6 and the 23: softwood wants 5.
        ("wall", 3.0),
    ),
    hand_fault(
        "a tenon with little beside it in its rail",
        narrow_rail,
        (40.0, 30.0),
        (Rule::MortiseCheek, AtRisk),
        &["rail", "post"],
        // One of 22 in the middle.
        ("beside", 4.0),
    ),
    hand_fault(
        "grooves that nearly meet in a muntin",
        grooved_muntin,
        (9.0, 14.0),
        (Rule::GrooveLeavesWood, AtRisk),
        &["muntin"],
        // 30 wide.
        ("wood left", 2.0),
    ),
    hand_fault(
        "a shelf notched too close round a post",
        notched_shelf,
        (1.0, -1.5),
        (Rule::Overlap, WillFail),
        &["post", "shelf"],
        ("depth", 1.5),
    ),
    hand_fault(
        "a shelf that does not come down on its cleat",
        shelf_on_cleat,
        (0.0, 2.0),
        (Rule::Shoulder, WillFail),
        &["shelf", "cleat"],
        ("gap", 2.0),
    ),
    hand_fault(
        "a bearer that misses its rail",
        beside_rail,
        (0.0, 45.0),
        (Rule::Shoulder, WillFail),
        &["bearer", "rail"],
        // 40 wide.
        ("beside", 5.0),
    ),
    Fault {
        name: "a notch as large as the board",
        made: Made::ByHand { make: notched_away, twin: 100.0, wrong: 900.0 },
        rule: Rule::Solid,
        seriousness: WillFail,
        parts: &["board"],
        figure: None,
    },
];

const ASH: &str = "white_ash";

/// A red oak panel so wide across the grain between two stiles 300 apart, in grooves 10 deep.
fn oak_panel(width: f64) -> Model {
    let mm = Length::mm;
    let sheet = Sheet { product: String::new(), nominal: mm(13.0), measured: mm(13.0) };
    let groove = groove_of(10.0);
    let mut assembly = Assembly::default();
    let left = place(&mut assembly, "left stile", "red_oak", [(-60.0, 0.0), (0.0, 600.0), (0.0, 25.0)], UPRIGHT);
    let right = place(&mut assembly, "right stile", "red_oak", [(300.0, 360.0), (0.0, 600.0), (0.0, 25.0)], UPRIGHT);
    let over = (width - 300.0) / 2.0;
    let rail = place(&mut assembly, "rail", "red_oak", [(0.0, 300.0), (0.0, 50.0), (0.0, 25.0)], LEVEL);
    for (stile, x, into) in [(left, 0.0, Dir::MinusX), (right, 300.0, Dir::PlusX)] {
        join(&mut assembly, rail, stile, contact((x, 25.0, 12.5), into, Dir::PlusY, (50.0, 25.0)), &Wanted::Plain(Fixing::Glue));
    }
    let panel = place(&mut assembly, "panel", "red_oak", [(-over, 300.0 + over), (50.0, 550.0), (6.0, 19.0)], UPRIGHT);
    for (stile, x, into) in [(left, 0.0, Dir::MinusX), (right, 300.0, Dir::PlusX)] {
        let at = contact((x, 300.0, 12.5), into, Dir::PlusY, (500.0, 13.0));
        join(&mut assembly, panel, stile, at, &Wanted::Groove(&groove, &sheet));
    }
    let mut model = assembly.finish();
    // The stiles are held at the opening, so that it stays as it is in the sums by hand.
    model.held_lines = [(left, 0.0), (right, 300.0)].map(|(part, at)| HeldLine { part, axis: 0, at }).into();
    model
}

/// A board 300 wide with a batten of a length glued across its underside.
fn battened(length: f64) -> Model {
    let mut assembly = Assembly::default();
    let board = place(&mut assembly, "board", ASH, [(0.0, 600.0), (25.0, 45.0), (0.0, 300.0)], LYING);
    let z = (150.0 - length / 2.0, 150.0 + length / 2.0);
    let batten = place(&mut assembly, "batten", ASH, [(280.0, 320.0), (0.0, 25.0), z], LYING_BACK);
    let at = contact((300.0, 25.0, 150.0), Dir::PlusY, Dir::PlusZ, (length, 40.0));
    join(&mut assembly, batten, board, at, &Wanted::Plain(Fixing::Glue));
    assembly.finish()
}

/// A rail 160 wide, with one loose tenon of a width in a post.
fn wide_rail(tenon: f64) -> Model {
    let mut assembly = Assembly::default();
    let post = place(&mut assembly, "post", ASH, [(0.0, 60.0), (0.0, 700.0), (0.0, 60.0)], UPRIGHT);
    let rail = place(&mut assembly, "rail", ASH, [(60.0, 660.0), (200.0, 360.0), (18.0, 42.0)], LEVEL);
    let at = contact((60.0, 280.0, 30.0), Dir::MinusX, Dir::PlusY, (160.0, 24.0));
    join(&mut assembly, rail, post, at, &tenons(&one_tenon(8.0, tenon, 26.0, 26.0)));
    assembly.finish()
}

/// A shelf of 19 in a side of 19, on a loose tenon 40 long that goes so deep into the side.
fn shelf_in_side(depth: f64) -> Model {
    let mut assembly = Assembly::default();
    let standing = Lie { face: Dir::MinusX, edge: Dir::PlusZ };
    let side = place(&mut assembly, "side", ASH, [(0.0, 19.0), (0.0, 800.0), (0.0, 300.0)], standing);
    let shelf = place(&mut assembly, "shelf", ASH, [(19.0, 600.0), (400.0, 419.0), (0.0, 300.0)], LYING);
    let at = contact((19.0, 409.5, 150.0), Dir::MinusX, Dir::PlusZ, (300.0, 19.0));
    join(&mut assembly, shelf, side, at, &tenons(&one_tenon(6.0, 20.0, 41.0 - depth, depth)));
    assembly.finish()
}

/// Two ash rails of 22, flush with a post of 40, with tenons of 8 in mortises so deep.
fn flush_rails(depth: f64) -> Model {
    rails_in_post(ASH, 8.0, depth)
}

/// The same of pine with tenons of 6.
fn flush_rails_of_pine(depth: f64) -> Model {
    rails_in_post("scots_pine", 6.0, depth)
}

fn rails_in_post(wood: &str, tenon: f64, depth: f64) -> Model {
    let mut assembly = Assembly::default();
    let post = place(&mut assembly, "post", wood, [(0.0, 40.0), (0.0, 700.0), (0.0, 40.0)], UPRIGHT);
    let front = place(&mut assembly, "front rail", wood, [(40.0, 640.0), (300.0, 380.0), (18.0, 40.0)], LEVEL);
    let side = place(&mut assembly, "side rail", wood, [(0.0, 22.0), (300.0, 380.0), (-400.0, 0.0)], SIDEWAYS);
    let sizes = one_tenon(tenon, 40.0, 26.0, depth);
    let at_front = contact((40.0, 340.0, 29.0), Dir::MinusX, Dir::PlusY, (80.0, 22.0));
    join(&mut assembly, front, post, at_front, &tenons(&sizes));
    let at_side = contact((11.0, 340.0, 0.0), Dir::PlusZ, Dir::PlusY, (80.0, 22.0));
    join(&mut assembly, side, post, at_side, &tenons(&sizes));
    assembly.finish()
}

/// A rail so wide, on one loose tenon of 22 in a post.
fn narrow_rail(width: f64) -> Model {
    let mut assembly = Assembly::default();
    let post = place(&mut assembly, "post", ASH, [(0.0, 60.0), (0.0, 700.0), (0.0, 60.0)], UPRIGHT);
    let rail = place(&mut assembly, "rail", ASH, [(60.0, 660.0), (200.0, 200.0 + width), (18.0, 42.0)], LEVEL);
    let at = contact((60.0, 200.0 + width / 2.0, 30.0), Dir::MinusX, Dir::PlusY, (width, 24.0));
    join(&mut assembly, rail, post, at, &tenons(&one_tenon(8.0, 22.0, 26.0, 26.0)));
    assembly.finish()
}

/// A muntin of 30 between two panels of sheet in grooves so deep.
fn grooved_muntin(depth: f64) -> Model {
    let mm = Length::mm;
    let sheet = Sheet { product: String::new(), nominal: mm(6.0), measured: mm(6.0) };
    let groove = Groove { cutter: mm(6.0), ..groove_of(depth) };
    let mut assembly = Assembly::default();
    let muntin = place(&mut assembly, "muntin", ASH, [(0.0, 30.0), (0.0, 600.0), (0.0, 25.0)], UPRIGHT);
    let reach = depth - 1.0;
    for (name, x, at, into) in [("left", (-300.0, reach), 0.0, Dir::PlusX), ("right", (30.0 - reach, 330.0), 30.0, Dir::MinusX)] {
        let block = Block::new(x, (50.0, 550.0), (9.5, 15.5));
        let panel = NewPart::filling(block, UPRIGHT).called(name, name, PartKind::Panel, Material::Sheet(String::new()));
        let panel = assembly.place(panel);
        let at = contact((at, 300.0, 12.5), into, Dir::PlusY, (500.0, 6.0));
        join(&mut assembly, panel, muntin, at, &Wanted::Groove(&groove, &sheet));
    }
    assembly.finish()
}

/// A groove that follows its sheet.
fn groove_of(depth: f64) -> Groove {
    let mm = Length::mm;
    Groove { depth: mm(depth), play: mm(1.0), width_by: GrooveWidth::FromSheet, fit: mm(0.2), ..demo().joinery.groove }
}

/// A shelf notched round a post with so much clearance.
fn notched_shelf(clearance: f64) -> Model {
    let mut assembly = Assembly::default();
    let block = Block::new((0.0, 45.0), (0.0, 700.0), (0.0, 45.0));
    let post = place(&mut assembly, "post", ASH, [(0.0, 45.0), (0.0, 700.0), (0.0, 45.0)], UPRIGHT);
    let shelf = place(&mut assembly, "shelf", ASH, [(0.0, 600.0), (300.0, 320.0), (0.0, 300.0)], LYING);
    let at = contact((45.0, 310.0, 45.0), Dir::MinusX, Dir::PlusZ, (1.0, 1.0));
    join(&mut assembly, shelf, post, at, &Wanted::Notch(block, clearance));
    assembly.finish()
}

/// A shelf that stands so high over its cleat.
fn shelf_on_cleat(gap: f64) -> Model {
    let mut assembly = Assembly::default();
    let cleat = place(&mut assembly, "cleat", ASH, [(0.0, 20.0), (0.0, 28.0), (0.0, 300.0)], LYING_BACK);
    let shelf = place(&mut assembly, "shelf", ASH, [(0.0, 600.0), (28.0 + gap, 48.0 + gap), (0.0, 300.0)], LYING);
    let at = contact((10.0, 28.0, 150.0), Dir::MinusY, Dir::PlusZ, (300.0, 20.0));
    join(&mut assembly, shelf, cleat, at, &Wanted::Plain(Fixing::Rest));
    assembly.finish()
}

/// A bearer to be glued to the inside of a rail 40 wide, so much too high.
fn beside_rail(too_high: f64) -> Model {
    let mut assembly = Assembly::default();
    let rail = place(&mut assembly, "rail", ASH, [(0.0, 600.0), (0.0, 40.0), (0.0, 24.0)], LEVEL);
    let bearer = place(&mut assembly, "bearer", ASH, [(0.0, 600.0), (too_high, 20.0 + too_high), (-20.0, 0.0)], LEVEL);
    let at = contact((300.0, 10.0, 0.0), Dir::PlusZ, Dir::PlusX, (600.0, 20.0));
    join(&mut assembly, bearer, rail, at, &Wanted::Plain(Fixing::Glue));
    assembly.finish()
}

/// A board of 600 by 200, notched for something so long and as wide.
fn notched_away(length: f64) -> Model {
    let mut assembly = Assembly::default();
    let board = place(&mut assembly, "board", ASH, [(0.0, 600.0), (0.0, 20.0), (0.0, 200.0)], LYING);
    let post = place(&mut assembly, "post", ASH, [(0.0, 40.0), (100.0, 700.0), (0.0, 40.0)], UPRIGHT);
    let at = contact((0.0, 10.0, 0.0), Dir::MinusX, Dir::PlusZ, (1.0, 1.0));
    let block = Block::new((0.0, length), (0.0, 20.0), (0.0, 2.0 * length));
    join(&mut assembly, board, post, at, &Wanted::Notch(block, 1.0));
    assembly.finish()
}
