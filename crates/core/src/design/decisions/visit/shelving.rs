//! Shelves: what holds them, and what each system is made of.

use super::{Stage, Walk};
use crate::design::edit::HIGHEST_TOOTH;
use crate::design::{Board, Cleat, Design, Fitting, FixedCleats, Housed, Pins, Sawtooth, ShelfOf, Slats, System};

/// What stands in a bay, and on which level each of its shelves lies.
pub(super) fn bay(walk: &mut Walk<'_>, fitting: &mut Fitting, name: &str) {
    walk.under(Stage::Case, format!("{name}, shelves"));
    walk.choice("system", "Held by", "What holds the shelves of the bay.", fitting);
    let (label, meaning) = match fitting.system() {
        Some(System::Sawtooth) => ("on tooth", "The tooth on which the shelf lies, counted from the lowest."),
        Some(System::Pins) => ("on hole", "The hole whose pins the shelf lies on, counted from the lowest."),
        Some(System::Cleats | System::Housed) => {
            ("on level", "The level at which the shelf is fixed, in steps from the lowest, which is 1.")
        }
        None => return,
    };
    let Some(shelves) = fitting.shelves_mut() else { return };
    walk.inside("shelves", |walk| {
        for (index, level) in shelves.shelves.iter_mut().enumerate() {
            let label = format!("Shelf {} {label}", index + 1);
            walk.count(&(index + 1).to_string(), &label, meaning, 1.0..=f64::from(HIGHEST_TOOTH), level);
        }
    });
}

pub(super) fn sawtooth(walk: &mut Walk<'_>, sawtooth: &mut Sawtooth) {
    let Sawtooth { pitch, seat, crest, backing, thickness, first, teeth, mid, spacers, of, cleat, slats } = sawtooth;
    walk.under(Stage::Case, "Sawtooth standards");
    walk.choice("teeth", "Teeth", "What the teeth look like: a seat and a slope, or half circles of which the seat is the radius.", teeth);
    walk.length("pitch", "Pitch", "From tooth to tooth, mm.", 12.0..=120.0, pitch);
    walk.length("seat", "Seat", "Depth of a seat, mm; half circles have it for their radius.", 5.0..=60.0, seat);
    walk.length("crest", "Crest", "Flat left at the tip of a tooth, mm.", 0.5..=30.0, crest);
    walk.length("backing", "Behind the seat", "Width of a standard behind its seats, mm.", 5.0..=100.0, backing);
    walk.length("thickness", "Thickness", "Thickness of the standards, mm.", 8.0..=60.0, thickness);
    walk.length("first", "Lowest seat", "From the floor of the bay up to the lowest seat, mm.", 5.0..=1000.0, first);
    walk.choice("mid", "At dividers", "What stands at a divider between two bays that both have standards.", mid);
    walk.choice("spacers", "Behind cleats", "What keeps cleats from sliding out of the teeth toward the outside.", spacers);
    walk.under(Stage::Case, "Cleats and slats");
    walk.choice("of", "Shelves of", "What the shelves are made of: slats with gaps, or one solid board.", of);
    walk.inside("cleat", |walk| {
        let Cleat { height, thickness, play } = cleat;
        walk.length("height", "Cleat height", "Height of a cleat, mm.", 8.0..=120.0, height);
        walk.length("thickness", "Cleat thickness", "Thickness of a cleat along the width of the case, mm.", 8.0..=60.0, thickness);
        walk.length("play", "Cleat play", "How much shorter a cleat is than from riser to riser, mm.", 0.1..=6.0, play);
    });
    walk.inside("slats", |walk| slats_of(walk, slats));
}

fn slats_of(walk: &mut Walk<'_>, slats: &mut Slats) {
    let Slats { count, width, thickness, play, set_back, thick_by: _ } = slats;
    walk.count("count", "Slats a shelf", "How many slats make a shelf.", 1.0..=24.0, count);
    walk.length("width", "Slat width", "Width of a slat, mm.", 15.0..=400.0, width);
    walk.length("thickness", "Slat thickness", "Thickness of a slat, mm.", 6.0..=60.0, thickness);
    walk.length("play", "Slat play", "Free room at each end of a slat and round what it is notched for, mm.", 0.1..=6.0, play);
    let meaning = "How far the foremost slat stands back from the front of the posts, mm.";
    walk.length("set_back", "Set back", meaning, 0.0..=300.0, set_back);
}

/// What the other systems are made of; each only where a bay has it.
pub(super) fn others(walk: &mut Walk<'_>, design: &mut Design) {
    let has = |system: System| system.is_in(&design.interior);
    let [sawtooth, pins, cleats, housed] = System::ALL.map(has);
    let solid = pins || housed || (sawtooth && design.sawtooth.of == ShelfOf::Solid) || (cleats && design.cleats.of == ShelfOf::Solid);
    if solid {
        let room = Board::room_by_rule(design, design.carcase.depth.to_mm() - design.shelf.set_back.to_mm());
        walk.inside("shelf", |walk| board(walk, &mut design.shelf, room));
    }
    if pins {
        let upright = design.carcase.post.depth.to_mm();
        walk.inside("pins", |walk| pins_of(walk, &mut design.pins, upright));
    }
    if cleats {
        walk.inside("cleats", |walk| cleats_of(walk, &mut design.cleats));
    }
    if housed {
        let upright = design.carcase.post.width.to_mm();
        walk.inside("housed", |walk| housed_of(walk, &mut design.housed, upright));
    }
}

fn board(walk: &mut Walk<'_>, board: &mut Board, by_rule: f64) {
    let Board { thickness, play, set_back, room } = board;
    walk.under(Stage::Case, "Solid shelves");
    walk.length("thickness", "Thickness", "Thickness of a solid shelf, mm.", 6.0..=60.0, thickness);
    walk.length("play", "Play at the ends", "Free room at each end of a solid shelf, mm.", 0.1..=6.0, play);
    walk.length("set_back", "Set back", "From the front of the posts to the front edge of a solid shelf, mm.", 0.0..=300.0, set_back);
    let meaning = "Room left for it to grow across its width, behind it and in its notches, mm.";
    walk.ruled("room", "Room to grow", meaning, 0.0..=30.0, room, by_rule);
}

fn pins_of(walk: &mut Walk<'_>, pins: &mut Pins, upright: f64) {
    let by_rule = pins.setback(upright);
    let Pins { pitch, first, clear, diameter, depth, reach, fit, front, back, of } = pins;
    walk.under(Stage::Case, "Pins in rows of holes");
    walk.length("pitch", "Pitch", "From hole to hole, mm.", 8.0..=200.0, pitch);
    walk.length("first", "Lowest hole", "From the floor of the bay up to the middle of the lowest hole, mm.", 5.0..=1500.0, first);
    walk.length("clear", "Clear at the top", "What stays clear above the highest hole at least, mm.", 5.0..=1500.0, clear);
    walk.length("diameter", "Hole diameter", "Diameter of the holes, mm.", 3.0..=25.0, diameter);
    walk.length("depth", "Hole depth", "Depth of the holes, which are stopped, mm.", 4.0..=60.0, depth);
    walk.length("reach", "Pins stand out", "How far a pin stands out of its hole, mm.", 3.0..=60.0, reach);
    walk.length("fit", "Pins thinner by", "How much thinner a pin is than its hole, mm.", 0.0..=1.0, fit);
    walk.ruled("front", "Front rows", "From the front of the posts back to the front rows of holes, mm.", 5.0..=200.0, front, by_rule);
    walk.ruled("back", "Back rows", "From the back of the posts to the back rows of holes, mm.", 5.0..=200.0, back, by_rule);
    walk.choice("of", "Pins of", "What the pins are made of.", of);
}

fn cleats_of(walk: &mut Walk<'_>, cleats: &mut FixedCleats) {
    let FixedCleats { height, thickness, first, step, by, of } = cleats;
    walk.under(Stage::Case, "Cleats that are fixed");
    walk.length("height", "Cleat height", "Height of a cleat that is fixed, mm.", 8.0..=120.0, height);
    walk.length("thickness", "Cleat thickness", "Thickness of a cleat along the width of the case, mm.", 8.0..=60.0, thickness);
    walk.length(
        "first",
        "Lowest cleat",
        "From the floor of the bay to the lower edge of a cleat at the lowest level, mm.",
        0.0..=1500.0,
        first,
    );
    walk.length("step", "Step", "From level to level, mm.", 4.0..=200.0, step);
    walk.choice("by", "Fixed by", "What fixes the cleats to posts and dividers.", by);
    walk.choice("of", "Shelves of", "What the shelves on them are made of: slats with gaps, or one solid board.", of);
}

fn housed_of(walk: &mut Walk<'_>, housed: &mut Housed, upright: f64) {
    let Housed { first, step, stop, depth, fit } = housed;
    let by_rule = crate::joint::housing::depth_by_rule(upright);
    walk.under(Stage::Case, "Housed shelves");
    walk.length(
        "first",
        "Lowest shelf",
        "From the floor of the bay to the lower face of a shelf at the lowest level, mm.",
        5.0..=1500.0,
        first,
    );
    walk.length("step", "Step", "From level to level, mm.", 4.0..=200.0, step);
    let meaning =
        "How far inside the front edge of a shelf its housings stop, mm; 0: they run out in front, and it is slid in after glue-up.";
    walk.length("stop", "Stop short", meaning, 0.0..=100.0, stop);
    walk.ruled("depth", "Depth", "Depth of the housings, mm.", 2.0..=60.0, depth, by_rule);
    walk.ruled(
        "fit",
        "Wider by",
        "Width of the housings less the thickness of the shelf, mm.",
        0.0..=1.0,
        fit,
        crate::joint::Fit::GluedSnug.usual(),
    );
}
