//! The room for boxes, as the timber round it grows and shrinks.

use super::{Swollen, growth, swollen};
use crate::design::Moisture;
use crate::model::{Model, Part, Room};
use crate::place::Block;

/// A part whose face is so near to a side of a room bounds it there, mm.
const AT: f64 = 0.01;

/// The rooms of a model, each as small as it gets between the driest and the wettest that the piece will be in its place.
pub fn tightest(model: &Model, moisture: &Moisture) -> Vec<Room> {
    let mut rooms = model.rooms.clone();
    for to in [moisture.driest(), moisture.wettest()] {
        let now = swollen(model, &growth(model, moisture.built, to));
        for (room, built) in rooms.iter_mut().zip(&model.rooms) {
            let then = space(model, &now, built.space);
            room.space = Block { min: room.space.min.max(then.min), max: room.space.max.min(then.max) };
        }
    }
    rooms
}

/// What is left of a free space when each part stands as `now` says.
fn space(model: &Model, now: &[Swollen], built: Block) -> Block {
    let mut space = built;
    for (part, now) in model.parts.iter().zip(now) {
        let own = part.block();
        let reaches = |axis: usize| own.max[axis] > built.min[axis] + AT && own.min[axis] < built.max[axis] - AT;
        for axis in 0..3 {
            if !(0..3).filter(|other| *other != axis).all(reaches) {
                continue;
            }
            let then = grown(part, now);
            if (own.max[axis] - built.min[axis]).abs() < AT {
                space.min[axis] = space.min[axis].max(built.min[axis] + then.max[axis] - own.max[axis]);
            }
            if (own.min[axis] - built.max[axis]).abs() < AT {
                space.max[axis] = space.max[axis].min(built.max[axis] + then.min[axis] - own.min[axis]);
            }
        }
    }
    space
}

/// The box that a part fills now.
fn grown(part: &Part, now: &Swollen) -> Block {
    let (min, max) = now.pose.bounds_of_box(glam::DVec3::ZERO, part.lwt() * now.scale);
    Block { min, max }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_room_is_never_larger_in_any_season_and_narrows_by_what_grows_beside_it() {
        let design = crate::design::text::read(include_str!("../../../../examples/records_cabinet.ron")).expect("the demo");
        let model = crate::derive(&design).expect("the demo");
        let rooms = tightest(&model, &design.timber.moisture);
        assert_eq!(rooms.len(), model.rooms.len());
        for (tight, built) in rooms.iter().zip(&model.rooms) {
            let lost = built.space.size() - tight.space.size();
            assert!(lost.cmpge(glam::DVec3::splat(-1e-9)).all(), "{}: {lost}", built.name);
            // Ash across the grain from 8 to 11 % grows by 0.8 % at most: half a stile of 60 on either side, or a slat of 20 over it.
            assert!(lost.x < 0.6 && lost.y < 0.6, "{}: {lost}", built.name);
        }
        // The middle bay stands between two dividers that grow into it; a slat roofs all but the highest rooms.
        assert!(rooms.iter().zip(&model.rooms).any(|(tight, built)| built.space.size().x - tight.space.size().x > 0.1));
        assert!(rooms.iter().zip(&model.rooms).any(|(tight, built)| built.space.size().y - tight.space.size().y > 0.05));
        let still = crate::design::Moisture::range(8.0, 8.0, 8.0);
        assert_eq!(tightest(&model, &still), model.rooms, "where nothing moves nothing is lost");
    }
}
