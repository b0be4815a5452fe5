//! What models put together by hand are made of.

use casewright_core::Length;
use casewright_core::design::{LooseMeeting, LooseTenons};
use casewright_core::joint::room::Beyond;
use casewright_core::joint::{Wanted, loose_tenon};
use casewright_core::model::{Assembly, Contact, Material, Meeting, NewPart, PartId, PartKind, Role};
use casewright_core::place::{Block, Dir, Lie};
use glam::{DVec2, DVec3};

/// From and to along x, y and z, mm.
pub type Span = [(f64, f64); 3];

/// Grain up, face side to the front.
pub const UPRIGHT: Lie = Lie { face: Dir::PlusZ, edge: Dir::MinusX };
/// Grain from left to right, face side to the front.
pub const LEVEL: Lie = Lie { face: Dir::PlusZ, edge: Dir::PlusY };
/// Grain from left to right, face side up.
pub const LYING: Lie = Lie { face: Dir::PlusY, edge: Dir::PlusZ };
/// Grain from front to back, face side up.
pub const LYING_BACK: Lie = Lie { face: Dir::PlusY, edge: Dir::MinusX };
/// Grain from front to back, face side to the left.
pub const SIDEWAYS: Lie = Lie { face: Dir::MinusX, edge: Dir::PlusY };

/// Places a part of a species, called by its name.
pub fn place(assembly: &mut Assembly, name: &str, wood: &str, [x, y, z]: Span, lie: Lie) -> PartId {
    let part = NewPart::filling(Block::new(x, y, z), lie);
    assembly.place(part.called(name, name, PartKind::Own, Material::Solid(wood.to_owned())))
}

/// Joins `a` to `b` at a contact.
pub fn join(assembly: &mut Assembly, a: PartId, b: PartId, contact: Contact, wanted: &Wanted<'_>) {
    assembly.join(&Meeting { role: Role::Own, a, b, contact }, wanted);
}

pub fn contact(centre: (f64, f64, f64), into: Dir, along: Dir, extent: (f64, f64)) -> Contact {
    Contact { centre: DVec3::from(centre), into, along, extent: DVec2::from(extent) }
}

/// One loose tenon, glued, in mortises with half a millimetre of room at each bottom and no play.
pub fn one_tenon(thickness: f64, width: f64, depth_in_end: f64, depth_in_face: f64) -> LooseTenons {
    let mm = Length::mm;
    LooseTenons {
        thickness: mm(thickness),
        length: mm(depth_in_end + depth_in_face - 1.0),
        width: mm(width),
        at_most: 1,
        margin: mm(0.0),
        depth_in_end: mm(depth_in_end),
        depth_in_face: mm(depth_in_face),
        fit: mm(0.0),
        play: mm(0.0),
        meeting: LooseMeeting::AsDecided,
    }
}

pub fn tenons(sizes: &LooseTenons) -> Wanted<'_> {
    Wanted::LooseTenons(loose_tenon::Wanted { sizes, path: "", timber: "white_ash", beyond: Beyond::default(), glued: true })
}
