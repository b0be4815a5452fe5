//! Taking a loose shelf out and putting it in: what reaches past its opening is tilted, one end up.
//!
//! ```text
//!      ◀────── opening ──────▶
//!      │          ╱╱          │      length · cos a + thickness · sin a ≤ opening
//!      │       ╱╱             │      length · sin a + thickness · cos a = height it takes
//!   ───┤    ╱╱                ├───
//!      │ ╱╱ a                 │      while it is laid level it is as long as its diagonal
//! ```
//!
//! Boxes are out of the way, and so are the loose cleats under its lower end; all other shelves stay.

use crate::length::trimmed_to;
use crate::model::{BuildStage, Feature, Model, Part, PartId, PartKind, Role, Room};

/// How a loose shelf comes out while all others stay.
#[derive(Clone, Debug, PartialEq)]
pub struct Tilt {
    /// Which bay, from 0.
    pub bay: usize,
    /// Which of its shelves, from 0 in the order of the design.
    pub shelf: usize,
    /// The board of it that reaches farthest, or the only one.
    pub board: PartId,
    /// Length of that board, mm.
    pub length: f64,
    /// Its thickness, mm.
    pub thickness: f64,
    /// Clear width of the opening that it comes out of, mm.
    pub opening: f64,
    /// How far it is tilted, degrees; 0 where it comes out level.
    pub angle: f64,
    /// The height it takes at that, mm.
    pub takes: f64,
    /// The height there is from what lies below to what lies above, mm.
    pub height: f64,
    /// Where it is tilted: what grows to its diagonal while it is laid level, and the room there, mm; the tightest.
    pub level: Option<(f64, f64)>,
}

impl Tilt {
    /// Whether it goes through its opening while the other shelves stay.
    pub fn comes_out(&self) -> bool {
        self.angle <= 0.0 || self.takes <= self.height + NEAR
    }

    /// Whether it can be laid level once it is in.
    pub fn goes_level(&self) -> bool {
        self.level.is_none_or(|(diagonal, room)| diagonal <= room + NEAR)
    }

    /// In a few words, "tilts out at 29°, 203 of 292 mm".
    pub fn words(&self) -> String {
        let mm = |mm: f64| trimmed_to(mm, 0);
        match (self.angle <= 0.0, self.goes_level(), self.comes_out()) {
            (true, ..) => "comes out level".to_owned(),
            (_, false, _) => {
                let (diagonal, room) = self.level.unwrap_or_default();
                format!("can't be laid level, its diagonal is {} mm and the room {} mm", trimmed_to(diagonal, 1), trimmed_to(room, 1))
            }
            (_, true, false) => format!("can't be tilted out, it takes {} mm of height and has {}", mm(self.takes), mm(self.height)),
            (_, true, true) => format!("tilts out at {}°, {} of {} mm high", mm(self.angle), mm(self.takes), mm(self.height)),
        }
    }
}

/// Lengths closer than this are one, mm.
const NEAR: f64 = 1e-6;

/// How every loose shelf of a case comes out, in the order of its rooms.
pub fn tilts(model: &Model) -> Vec<Tilt> {
    let of_room = |room: &Room| Tilt::of(model, room);
    model.rooms.iter().filter_map(of_room).collect()
}

impl Tilt {
    fn of(model: &Model, room: &Room) -> Option<Tilt> {
        let shelf = room.shelf?;
        let boards = boards(model, room.bay, shelf);
        let board = boards.iter().copied().reduce(|a, b| if b.size[0].mm > a.size[0].mm + NEAR { b } else { a })?;
        let bay = model.bays.get(room.bay)?;
        let (length, thickness, opening) = (board.size[0].mm, board.size[2].mm, bay.space.size().x);
        let angle = angle(length, thickness, opening)?;
        let (low, high) = between(model, room, bay.teeth.map_or(0.0, |levels| levels.under));
        let takes = length * angle.sin() + thickness * angle.cos();
        let level = (angle > 0.0).then(|| boards.iter().flat_map(|board| levels(model, board, opening, takes)).collect::<Vec<_>>());
        let level = level.and_then(|all| all.into_iter().min_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0))));
        Some(Tilt {
            bay: room.bay,
            shelf,
            board: board.id,
            length,
            thickness,
            opening,
            angle: angle.to_degrees(),
            takes,
            height: high - low,
            level,
        })
    }
}

/// The boards of a shelf, those that lie loose.
fn boards(model: &Model, bay: usize, shelf: usize) -> Vec<&Part> {
    let of = |what: &str| format!("{what}.{}.{}", bay + 1, shelf + 1);
    let (slat, board) = (format!("{}.", of("slat")), of("shelf"));
    let is_of = |part: &&Part| match part.kind {
        PartKind::Slat => part.name.starts_with(&slat),
        PartKind::Shelf => part.name == board,
        _ => false,
    };
    model.parts.iter().filter(|part| part.stage == BuildStage::Loose).filter(is_of).collect()
}

/// The least angle at which a board goes through an opening, radians: that of its diagonal, less what the opening takes of it. None where it never does.
fn angle(length: f64, thickness: f64, opening: f64) -> Option<f64> {
    if length <= opening {
        return Some(0.0);
    }
    let diagonal = length.hypot(thickness);
    (thickness <= opening).then(|| (opening / diagonal).acos() + thickness.atan2(length))
}

/// From what lies below a shelf up to what lies above it, or holds that, as y in the case, mm.
fn between(model: &Model, room: &Room, under: f64) -> (f64, f64) {
    let of_bay = || model.rooms.iter().filter(|other| other.bay == room.bay);
    let floor = model.bays.get(room.bay).map_or(0.0, |bay| bay.space.min.y);
    let below = of_bay().map(|other| other.space.min.y).filter(|low| *low < room.space.min.y - NEAR).fold(floor, f64::max);
    let is_roofed = of_bay().any(|other| other.shelf.is_some() && other.space.min.y > room.space.min.y + NEAR);
    (below, room.space.max.y - if is_roofed { under } else { 0.0 })
}

/// What of a board grows to its diagonal while it is laid level, and the room for it: the whole of it between what stands at its ends, and what its
/// notches leave of it between what they go round.
fn levels(model: &Model, board: &Part, opening: f64, takes: f64) -> Vec<(f64, f64)> {
    let (length, thickness) = (board.size[0].mm, board.size[2].mm);
    let diagonal = |length: f64| length.hypot(thickness);
    let notched = [false, true].into_iter().filter_map(|back| {
        let cut = board.cuts.iter().filter_map(|cut| match cut.feature {
            Feature::Notch { back_edge, length, .. } if back_edge == back => Some(length),
            _ => None,
        });
        let off: f64 = cut.sum();
        (off > 0.0).then(|| (diagonal(length - off), opening))
    });
    behind(model, board, takes).map(|room| (diagonal(length), room)).into_iter().chain(notched).collect()
}

/// The room between what is fixed beyond the ends of a board, from where it lies as high as it takes, mm; none where nothing is beyond one of them.
fn behind(model: &Model, board: &Part, takes: f64) -> Option<f64> {
    let own = board.block();
    let notched = model.joints.iter().filter(|joint| joint.a == board.id && joint.role == Role::SlatRoundStandard);
    let round: Vec<PartId> = notched.map(|joint| joint.b).collect();
    let fixed = model.parts.iter().filter(|part| part.stage != BuildStage::Loose && part.id != board.id && !round.contains(&part.id));
    let beside: Vec<_> = fixed
        .map(Part::block)
        .filter(|block| {
            let deep = block.min.z < own.max.z - NEAR && block.max.z > own.min.z + NEAR;
            deep && block.min.y < own.min.y + takes - NEAR && block.max.y > own.min.y + NEAR
        })
        .collect();
    let left = beside.iter().map(|block| block.max.x).filter(|x| *x <= own.min.x + NEAR).reduce(f64::max)?;
    let right = beside.iter().map(|block| block.min.x).filter(|x| *x >= own.max.x - NEAR).reduce(f64::min)?;
    Some(right - left)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Trigonometry: a board as long as the diagonal of a square on the opening stands at 45°; one no longer than the opening comes out level.
    #[test]
    fn the_angle_is_that_of_the_diagonal() {
        let angle = |length: f64, thickness: f64| angle(length, thickness, 300.0).map(f64::to_degrees);
        assert_eq!(angle(300.0, 20.0), Some(0.0));
        let thin = angle(300.0 * 2.0_f64.sqrt(), 0.0).expect("it goes");
        assert!((thin - 45.0).abs() < 1e-9, "{thin}");
        // 3, 4, 5: 500 × 0 through 300.
        assert!((angle(500.0, 0.0).expect("it goes") - 53.130_102).abs() < 1e-5);
        assert_eq!(angle(900.0, 301.0), None, "it stands on end and is still too thick");
        // At the angle found both ends touch.
        let a = angle(384.0, 20.0).expect("it goes").to_radians();
        assert!((384.0 * a.cos() + 20.0 * a.sin() - 300.0).abs() < 1e-9);
    }
}
