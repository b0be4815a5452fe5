//! The rooms of a case as things go into them.

use crate::design::Design;
use crate::model::{Model, Room};
use crate::place::Block;
use crate::seasons::tightest;

/// Every room of a model as small as it gets when things are put in and taken out: as the seasons make it, past doors that stand open.
pub(in crate::contents) fn in_use(design: &Design, model: &Model) -> Vec<Room> {
    let tight = tightest(model, &design.timber.moisture);
    tight.into_iter().map(|room| Room { space: past_doors(design, room.space), ..room }).collect()
}

/// What doors that stand open leave of a space.
pub(in crate::contents) fn past_doors(design: &Design, space: Block) -> Block {
    let taken = design.hand_room.doors.to_mm().clamp(0.0, space.size().x.max(0.0)) / 2.0;
    Block { min: space.min.with_x(space.min.x + taken), max: space.max.with_x(space.max.x - taken) }
}
