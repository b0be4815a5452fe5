//! Where drawings stand on a sheet.

use glam::DVec2;

use super::drafting::{Angle, Sheet};
use super::drawn::Drawn;
use super::frame::{BLOCK, room};
use super::page::Ink;

/// Between drawings, and from them to the frame, mm.
const APART: f64 = 5.0;

/// A rectangle: least and greatest corner, mm.
type Room = (DVec2, DVec2);

fn meet(a: &Room, b: &Room) -> bool {
    a.0.cmplt(b.1).all() && b.0.cmplt(a.1).all()
}

fn moved(room: Room, by: DVec2) -> Room {
    (room.0 + by, room.1 + by)
}

/// Where the title block lies, with the room that is left free before it.
fn block(sheet: Sheet) -> Room {
    let (_, max) = room(sheet.size());
    (max - BLOCK - 2.0, max)
}

/// Where front, side and plan stand, each by its own origin; nothing where they don't go on the sheet. Where the plan stands in its line with the front by the
/// projection, or `beside`: to the right of the side view, named as it is, for what is too high for both (ISO 128-3 lets a view stand elsewhere that is named).
pub(super) fn three(drawn: &[Drawn<'_>; 3], sheet: Sheet, angle: Angle, beside: bool) -> Option<[DVec2; 3]> {
    let rooms: Vec<Room> = drawn.iter().map(|drawn| drawn.ink.room().unwrap_or_default()).collect();
    let (front, side, plan) = (rooms[0], rooms[1], rooms[2]);
    let (min, max) = room(sheet.size());
    // All by the origin of the front.
    let side_by = DVec2::new(front.1.x - side.0.x + APART, 0.0);
    let plan_by = match angle {
        Angle::First | Angle::Third if beside => {
            let side_ends = side.1.x + side_by.x;
            DVec2::new(side_ends - plan.0.x + APART, front.0.y.min(side.0.y) - plan.0.y)
        }
        Angle::First => DVec2::new(0.0, front.1.y.max(side.1.y.min(front.1.y)) - plan.0.y + APART),
        Angle::Third => DVec2::new(0.0, front.0.y - plan.1.y - APART),
    };
    let placed = [front, moved(side, side_by), moved(plan, plan_by)];
    let all = placed.iter().copied().reduce(|a, b| (a.0.min(b.0), a.1.max(b.1))).unwrap_or_default();
    let spare = (max - min) - (all.1 - all.0) - 2.0;
    if spare.min_element() < 0.0 {
        return None;
    }
    let block = block(sheet);
    // In the middle where it goes; else up and to the left of the block.
    let shares = [(0.5, 0.5), (0.5, 0.2), (0.2, 0.5), (0.2, 0.2), (0.5, 0.0), (0.0, 0.5), (0.0, 0.0)];
    let by = shares.map(|(x, y)| min + 1.0 - all.0 + spare * DVec2::new(x, y));
    let by = by.into_iter().find(|by| placed.iter().all(|own| !meet(&moved(*own, *by), &block)))?;
    Some([by, by + side_by, by + plan_by])
}

/// Puts drawings side by side in rows, as many as go on a sheet; gives back how far each is moved, and those that did not go.
pub(super) fn rows(inks: &[Ink], sheet: Sheet) -> Vec<DVec2> {
    let (min, max) = room(sheet.size());
    let block = block(sheet);
    let mut placed: Vec<Room> = Vec::new();
    let mut moves = Vec::new();
    for ink in inks {
        let own = ink.room().unwrap_or_default();
        let size = own.1 - own.0;
        // The highest place, and of those the leftmost, that is free.
        let ys = std::iter::once(min.y + APART).chain(placed.iter().map(|room| room.1.y + APART));
        let xs: Vec<f64> = std::iter::once(min.x + APART).chain(placed.iter().map(|room| room.1.x + APART)).collect();
        let mut spots: Vec<DVec2> = ys.flat_map(|y| xs.iter().map(move |x| DVec2::new(*x, y))).collect();
        spots.sort_by(|a, b| a.y.total_cmp(&b.y).then(a.x.total_cmp(&b.x)));
        let free = |spot: &DVec2| {
            let at = (*spot, *spot + size);
            let around = (at.0 - APART + 0.01, at.1 + APART - 0.01);
            at.1.cmple(max - 1.0).all() && !meet(&at, &block) && !placed.iter().any(|other| meet(&around, other))
        };
        let Some(spot) = spots.into_iter().find(free) else { break };
        placed.push((spot, spot + size));
        moves.push(spot - own.0);
    }
    moves
}
