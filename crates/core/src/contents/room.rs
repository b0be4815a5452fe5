//! The rooms of a case as things go into them.

use super::{Fit, fit};
use crate::design::{BoxKind, Design};
use crate::model::{Model, Room};
use crate::place::Block;
use crate::seasons::tightest;

/// Every room of a model as small as it gets when things are put in and taken out: as the seasons make it, past doors that stand open.
pub(in crate::contents) fn in_use(design: &Design, model: &Model) -> Vec<Room> {
    let tight = tightest(model, &design.timber.moisture);
    tight.into_iter().map(|room| Room { space: past_doors(design, room.space), ..room }).collect()
}

/// How a thing goes into the room in use that takes it, or comes nearest to it, and which that is, by its place in [`Model::rooms`].
pub(crate) fn best_in_use(design: &Design, model: &Model, kind: &BoxKind) -> Option<(usize, Fit)> {
    let fits = in_use(design, model).iter().map(|room| fit(room, kind, &design.hand_room)).collect::<Vec<_>>();
    fits.into_iter().enumerate().min_by(|a, b| a.1.lack.total().total_cmp(&b.1.lack.total()))
}

/// What doors that stand open leave of a space.
pub(in crate::contents) fn past_doors(design: &Design, space: Block) -> Block {
    let taken = design.hand_room.doors.to_mm().clamp(0.0, space.size().x.max(0.0)) / 2.0;
    Block { min: space.min.with_x(space.min.x + taken), max: space.max.with_x(space.max.x - taken) }
}
