//! Where the piece will stand, and what it must pass on the way.

use super::{Stage, Walk};
use crate::design::{Cabin, Passage, Site};
use crate::length::Length;

/// Sizes of rooms, mm; 0 is not known.
const ROOMS: std::ops::RangeInclusive<f64> = 0.0..=20_000.0;

pub(super) fn site(walk: &mut Walk<'_>, site: &mut Site) {
    let Site { width, height, depth, scribe, skirting, door, stairs, landing, lift } = site;
    walk.under(Stage::Brief, "Where it will stand (0: not known)");
    walk.length("width", "From wall to wall", "Width of the niche in which it stands, mm; 0 where there is none.", ROOMS, width);
    walk.length(
        "height",
        "To the ceiling",
        "From the floor to the ceiling or what hangs there, mm; 0 where that is not known.",
        ROOMS,
        height,
    );
    let meaning = "From the wall behind it to where nothing may stand any more, mm; 0 where there is room enough.";
    walk.length("depth", "Depth", meaning, ROOMS, depth);
    let meaning = "Left free at either wall, for scribing or for walls out of true, mm.";
    walk.length("scribe", "Free at each wall", meaning, 0.0..=200.0, scribe);
    walk.length("skirting", "Skirting", "How far the skirting stands out from the wall behind it, mm.", 0.0..=200.0, skirting);
    walk.under(Stage::Brief, "On the way (0: not known)");
    walk.inside("door", |walk| passage(walk, ("Door, width", "Door, height"), door));
    walk.inside("stairs", |walk| passage(walk, ("Stairs, width", "Stairs, headroom"), stairs));
    let meaning = "Where the stairs turn: from the last step to the wall, mm; 0 where they do not.";
    walk.length("landing", "Landing, depth", meaning, ROOMS, landing);
    walk.inside("lift", |walk| {
        let Cabin { width, depth, height } = lift;
        for (name, label, slot) in [("width", "Lift, width", width), ("depth", "Lift, depth", depth), ("height", "Lift, height", height)] {
            walk.length(name, label, "A clear size of the lift, mm; 0 where there is none.", ROOMS, slot);
        }
    });
}

fn passage(walk: &mut Walk<'_>, (wide, high): (&str, &str), passage: &mut Passage) {
    let mut one = |name: &str, label: &str, slot: &mut Length| {
        walk.length(name, label, "Clear size of the narrowest on the way, mm; 0 where there is none.", ROOMS, slot);
    };
    one("width", wide, &mut passage.width);
    one("height", high, &mut passage.height);
}
