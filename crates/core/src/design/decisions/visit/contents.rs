//! The things to be kept, and the room about them.

use super::{Stage, Unit, Walk};
use crate::design::{BoxKind, COUNTS, HandRoom, MASSES, NESTS, SIZES, SPARES};

pub(super) fn kind(walk: &mut Walk<'_>, kind: &mut BoxKind) {
    walk.under(Stage::Brief, kind.name.clone());
    walk.text("name", "Name", "What this kind of thing is called.", &mut kind.name);
    walk.length("width", "Width", "Outside size from left to right as it stands on the shelf, mm.", SIZES, &mut kind.width);
    walk.length("depth", "Depth", "Outside size from front to back, mm.", SIZES, &mut kind.depth);
    walk.length("height", "Height", "Outside size upward, mm.", SIZES, &mut kind.height);
    walk.number("mass", "Weight", "Weight of one, full, kg.", Unit::Kilograms, MASSES, &mut kind.mass);
    walk.count("count", "How many", "How many there are.", COUNTS, &mut kind.count);
}

/// How it stands, nests and is taken: after all else, as it came later.
pub(super) fn handling(walk: &mut Walk<'_>, kind: &mut BoxKind) {
    walk.under(Stage::Brief, kind.name.clone());
    walk.choice("lies", "May stand", "Which ways it may stand or lie.", &mut kind.lies);
    let meaning = "What may stand on it; anything smaller is no larger in plan and no heavier.";
    walk.choice("bears", "On it may stand", meaning, &mut kind.bears);
    let nests = *NESTS.start()..=NESTS.end().min(kind.height.to_mm() - 1.0).max(0.0);
    walk.length(
        "nests",
        "Nests by",
        "How far one sinks into the one on which it stands, mm; less than it is high.",
        nests,
        &mut kind.nests,
    );
    walk.choice("taken", "Is taken", "Whether it is pulled to the front, or must be lifted first.", &mut kind.taken);
    let meaning = "How many more there may be one day, as % of what there are.";
    walk.number("spare", "Growth", meaning, Unit::Percent, SPARES, &mut kind.spare);
}

pub(super) fn hand_room(walk: &mut Walk<'_>, room: &mut HandRoom) {
    let HandRoom { beside, over, lift, behind, doors, heavy, heavy_up_to, knee, elbow } = room;
    walk.under(Stage::Brief, "Hand room");
    let meaning = "Free room between things side by side, and at both ends of their row, mm.";
    walk.length("beside", "Beside", meaning, 0.0..=100.0, beside);
    walk.length("over", "Over, to pull", "Free room over what is pulled to the front, mm.", 0.0..=500.0, over);
    let meaning = "Free room over what is lifted out, besides how far it nests, mm.";
    walk.length("lift", "Over, to lift", meaning, 0.0..=500.0, lift);
    walk.length("behind", "Behind", "Free room behind things, mm.", 0.0..=500.0, behind);
    let meaning =
        "What doors that stand open take of the width of a bay, as an inset one on its hinges does, mm: things are pulled out past them.";
    walk.length("doors", "Open doors take", meaning, 0.0..=200.0, doors);
    walk.under(Stage::Brief, "Lifting");
    walk.number("heavy", "Heavy is over", "From what weight on a thing is heavy, kg.", Unit::Kilograms, 0.0..=100.0, heavy);
    let meaning = "The highest shelf on which a heavy thing may stand, mm above the floor.";
    walk.length("heavy_up_to", "Heavy ones up to", meaning, 0.0..=3000.0, heavy_up_to);
    walk.length("knee", "Easily lifted from", "Heavy things are easily lifted from here, mm above the floor.", 0.0..=3000.0, knee);
    walk.length("elbow", "And up to", "Heavy things are easily lifted up to here, mm above the floor.", 0.0..=3000.0, elbow);
}
