//! What can't be put together in any order. Glue that sets too soon and tools that don't get in are tried in `order.rs` beside this.

use casewright_core::Model;
use casewright_core::inspect::Rule;
use casewright_core::joint::{Fixing, Wanted};
use casewright_core::model::{Assembly, BuildStage, Material, NewPart, PartKind};
use casewright_core::place::{Block, Dir};

use super::kit::{LEVEL, LYING, UPRIGHT, contact, join, place};
use super::{Changes, Fault, Made, WillFail};

/// A glue that stays open long enough for the eight corners of the carcase at 40 s: 480 × 0.7 is 336 s for 320.
pub(super) const SLOW_GLUE: Changes = &[("shop.glue.open_by", "own"), ("shop.glue.own_open", "8")];

pub(super) const FAULTS: &[Fault] = &[Fault {
    name: "a board put in after its box is closed",
    made: Made::InOrder { make: closed_box, twin: 0.0, wrong: 1.0 },
    rule: Rule::LockedOut,
    seriousness: WillFail,
    parts: &["board"],
    figure: None,
}];

const ASH: &str = "white_ash";

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
    let walls = [
        ("front", (0.0, 400.0), (280.0, 300.0), LEVEL),
        ("back", (0.0, 400.0), (0.0, 20.0), LEVEL),
        ("left", (0.0, 20.0), (20.0, 280.0), UPRIGHT),
        ("right", (380.0, 400.0), (20.0, 280.0), UPRIGHT),
    ];
    for (name, x, z, lie) in walls {
        let wall = place(&mut assembly, name, ASH, [x, (20.0, 220.0), z], lie);
        let extent = ((x.1 - x.0).max(z.1 - z.0), 20.0);
        let along = if x.1 - x.0 > z.1 - z.0 { Dir::PlusX } else { Dir::PlusZ };
        let at = |y: f64| (f64::midpoint(x.0, x.1), y, f64::midpoint(z.0, z.1));
        join(&mut assembly, wall, bottom, contact(at(20.0), Dir::MinusY, along, extent), &Wanted::Plain(Fixing::Glue));
        join(&mut assembly, top, wall, contact(at(220.0), Dir::MinusY, along, extent), &Wanted::Plain(Fixing::Glue));
    }
    assembly.finish()
}
