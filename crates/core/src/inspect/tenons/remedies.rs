//! Lengths and depths that give loose tenons their room and their hold.

use super::BOTTOM_ROOM;
use crate::design::Design;
use crate::inspect::{Remedy, TOUCH, mm};
use crate::joint::{JointKind, loose_tenons, sizes_path};
use crate::length::{Length, trimmed_to};
use crate::model::Joint;

/// Length and depths of loose tenons as they are decided, with where they are.
struct Decided {
    path: String,
    length: f64,
    in_end: f64,
    in_face: f64,
}

impl Decided {
    fn of(design: &Design, joint: &Joint) -> Option<Decided> {
        let JointKind::LooseTenons(_) = &joint.kind else { return None };
        let sizes = loose_tenons(design, joint.role)?;
        let [length, in_end, in_face] = [sizes.length, sizes.depth_in_end, sizes.depth_in_face].map(Length::to_mm);
        Some(Decided { path: sizes_path(joint)?, length, in_end, in_face })
    }

    /// These sizes in place of those that are decided; none where they are those.
    fn changed(&self, words: String, sizes: &[(&str, f64)]) -> Option<Remedy> {
        let path = |word: &str| format!("{}.{word}", self.path);
        let changes: Vec<_> = sizes.iter().map(|(word, value)| (path(word), trimmed_to(*value, 6))).collect();
        let anew = [("length", self.length), ("depth_in_end", self.in_end), ("depth_in_face", self.in_face)]
            .into_iter()
            .any(|(word, old)| sizes.iter().any(|(name, new)| *name == word && (new - old).abs() > TOUCH));
        anew.then_some(Remedy { words, changes })
    }

    /// Tenons as long as both mortises are deep, less the least room at their bottoms.
    fn long(&self) -> Option<Remedy> {
        let right = self.in_end + self.in_face - BOTTOM_ROOM.start();
        self.changed(format!("Cut the tenons {} mm long", mm(right)), &[("length", right)])
    }

    /// The one mortise or the other as deep as the tenons are long, with the least room, less the other.
    fn deep(&self) -> [Option<Remedy>; 2] {
        let both = self.length + BOTTOM_ROOM.start();
        let (face, end) = (both - self.in_end, both - self.in_face);
        [
            self.changed(format!("Go {} mm deep in the part that receives", mm(face)), &[("depth_in_face", face)]),
            self.changed(format!("Go {} mm deep in the end", mm(end)), &[("depth_in_end", end)]),
        ]
    }

    /// Mortises deep enough to hold `least` in each part, by half millimetres, and tenons to suit.
    fn all(&self, least: f64) -> Option<Remedy> {
        let room = BOTTOM_ROOM.start();
        let enough = ((least + room / 2.0) * 2.0).ceil() / 2.0;
        let (end, face) = (self.in_end.max(enough), self.in_face.max(enough));
        if self.in_end >= enough && self.in_face >= enough {
            return None;
        }
        let deep = if self.in_end >= enough { face } else { end };
        let words = if self.in_end < enough && self.in_face < enough {
            format!("Go {} mm deep in both parts with tenons {} mm long", mm(enough), mm(end + face - room))
        } else {
            format!("Go {} mm deep with tenons {} mm long", mm(deep), mm(end + face - room))
        };
        self.changed(words, &[("depth_in_end", end), ("depth_in_face", face), ("length", end + face - room)])
    }
}

/// What gives loose tenons their room: first the length by the depths, then either depth by the length.
pub(super) fn as_long(design: &Design, joint: &Joint, least: f64) -> Vec<Remedy> {
    let Some(decided) = Decided::of(design, joint) else { return Vec::new() };
    let [face, end] = decided.deep();
    [decided.long(), face, end, decided.all(least)].into_iter().flatten().collect()
}

/// What lets loose tenons hold in both parts: first deeper mortises with longer tenons.
pub(super) fn longer_and_deeper(design: &Design, joint: &Joint, least: f64) -> Vec<Remedy> {
    let Some(decided) = Decided::of(design, joint) else { return Vec::new() };
    let [face, end] = decided.deep();
    [decided.all(least), face, end, decided.long()].into_iter().flatten().collect()
}
