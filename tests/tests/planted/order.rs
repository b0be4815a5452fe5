//! What can't be put together in any order. Glue that sets too soon and tools that don't get in are tried in `order.rs` beside this.

use casewright_core::Model;
use casewright_core::inspect::Rule;
use casewright_core::joint::{Fixing, Wanted};
use casewright_core::model::{Assembly, BuildStage, Contact, Material, NewPart, PartId, PartKind};
use casewright_core::place::{Block, Dir, Lie};

use super::kit::{LEVEL, LYING, UPRIGHT, contact, join, place};
use super::{Changes, Fault, Made, Note, WillFail};

/// A glue that stays open long enough for the eight corners of the carcase at 40 s: 480 × 0.7 is 336 s for 320.
pub(super) const SLOW_GLUE: Changes = &[("shop.glue.open_by", "own"), ("shop.glue.own_open", "8")];

pub(super) const FAULTS: &[Fault] = &[
    Fault {
        name: "a board put in after its box is closed",
        made: Made::InOrder { make: closed_box, twin: 0.0, wrong: 1.0 },
        rule: Rule::LockedOut,
        seriousness: WillFail,
        parts: &["board"],
        figure: None,
    },
    Fault {
        name: "a loose board that can't be taken out past the lid and the front",
        made: Made::InOrder { make: lidded_box, twin: 0.0, wrong: 1.0 },
        rule: Rule::Captive,
        seriousness: Note,
        parts: &["board"],
        figure: Some(("loose parts held", 1.0)),
    },
];

const ASH: &str = "white_ash";

/// A loose board on the bottom of a box whose lid is screwed on; the box is open to the front, or closed.
fn lidded_box(closed: f64) -> Model {
    let mut assembly = Assembly::default();
    let bottom = place(&mut assembly, "bottom", ASH, [(0.0, 400.0), (0.0, 20.0), (0.0, 300.0)], LYING);
    let walls = if closed > 0.0 { &WALLS[..] } else { &WALLS[1..] };
    let walls: Vec<_> = walls.iter().map(|wall| upright(&mut assembly, bottom, wall)).collect();
    let new = |name: &str, block: Block, stage| {
        let part = NewPart::filling(block, LYING);
        NewPart { stage, ..part.called(name, name, PartKind::Own, Material::Solid(ASH.to_owned())) }
    };
    let board = assembly.place(new("board", Block::new((40.0, 360.0), (20.0, 40.0), (40.0, 260.0)), BuildStage::Loose));
    let rests = contact((200.0, 20.0, 150.0), Dir::MinusY, Dir::PlusX, (320.0, 220.0));
    join(&mut assembly, board, bottom, rests, &Wanted::Plain(Fixing::Rest));
    let lid = assembly.place(new("lid", Block::new((0.0, 400.0), (220.0, 240.0), (0.0, 300.0)), BuildStage::AfterGlueUp));
    for (wall, at) in walls {
        join(&mut assembly, lid, wall, at, &Wanted::Plain(Fixing::Screw));
    }
    assembly.finish()
}

/// The name of a wall, where it stands from left to right and from back to front, and how it lies.
type Wall = (&'static str, (f64, f64), (f64, f64), Lie);

/// The walls of a box, the front first.
const WALLS: [Wall; 4] = [
    ("front", (0.0, 400.0), (280.0, 300.0), LEVEL),
    ("back", (0.0, 400.0), (0.0, 20.0), LEVEL),
    ("left", (0.0, 20.0), (20.0, 280.0), UPRIGHT),
    ("right", (380.0, 400.0), (20.0, 280.0), UPRIGHT),
];

/// Glues a wall to the bottom; gives it, and where something meets its upper edge.
fn upright(assembly: &mut Assembly, bottom: PartId, (name, x, z, lie): &Wall) -> (PartId, Contact) {
    let wall = place(assembly, name, ASH, [*x, (20.0, 220.0), *z], *lie);
    let extent = ((x.1 - x.0).max(z.1 - z.0), 20.0);
    let along = if x.1 - x.0 > z.1 - z.0 { Dir::PlusX } else { Dir::PlusZ };
    let at = |y: f64| contact((f64::midpoint(x.0, x.1), y, f64::midpoint(z.0, z.1)), Dir::MinusY, along, extent);
    join(assembly, wall, bottom, at(20.0), &Wanted::Plain(Fixing::Glue));
    (wall, at(220.0))
}

/// A box glued up of six boards, with a seventh inside that goes in with them, or after them.
fn closed_box(after: f64) -> Model {
    let mut assembly = Assembly::default();
    let bottom = place(&mut assembly, "bottom", ASH, [(0.0, 400.0), (0.0, 20.0), (0.0, 300.0)], LYING);
    let top = place(&mut assembly, "top", ASH, [(0.0, 400.0), (220.0, 240.0), (0.0, 300.0)], LYING);
    let board = NewPart::filling(Block::new((40.0, 360.0), (20.0, 40.0), (40.0, 260.0)), LYING);
    let stage = if after > 0.0 { BuildStage::AfterGlueUp } else { BuildStage::GlueUp };
    let board = NewPart { stage, ..board.called("board", "board", PartKind::Own, Material::Solid(ASH.to_owned())) };
    let board = assembly.place(board);
    join(
        &mut assembly,
        board,
        bottom,
        contact((200.0, 20.0, 150.0), Dir::MinusY, Dir::PlusX, (320.0, 220.0)),
        &Wanted::Plain(Fixing::Rest),
    );
    for wall in &WALLS {
        let (wall, at) = upright(&mut assembly, bottom, wall);
        join(&mut assembly, top, wall, at, &Wanted::Plain(Fixing::Glue));
    }
    assembly.finish()
}
