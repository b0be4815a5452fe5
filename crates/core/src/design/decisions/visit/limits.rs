//! What the case is judged by under load, and what holds it to the wall.

use super::{Stage, Unit, Walk};
use crate::design::{Anchors, Limits, Slats, Wall};
use crate::strength;

pub(super) fn limits(walk: &mut Walk<'_>, limits: &mut Limits) {
    let Limits { years, on_top, sag, push, slender, lift, with_drawers, on_drawer } = limits;
    walk.under(Stage::Brief, "Loads");
    let meaning = "For how long the shelves stay loaded, years: timber sags on under a load that stays, up to ten years.";
    walk.number("years", "Loaded for", meaning, Unit::Years, 0.0..=100.0, years);
    let meaning = "What may be put on the top of the case, kg to the square metre.";
    walk.number("on_top", "On the top", meaning, Unit::Kilograms, 0.0..=1000.0, on_top);
    walk.number("lift", "One person lifts", "What is heavier is marked to be lifted by two, kg.", Unit::Kilograms, 1.0..=100.0, lift);
    walk.inside("sag", |walk| sags(walk, sag));
    walk.under(Stage::Brief, "Standing");
    let meaning = "The push at its top edge under which a case that is not anchored must stay, N.";
    walk.number("push", "Stands a push of", meaning, Unit::Newtons, 0.0..=2000.0, push);
    let meaning = "How many times as high as deep a case that is not anchored may be.";
    walk.number("slender", "Height over depth", meaning, Unit::Number, 1.0..=20.0, slender);
    let meaning = "How high a case with drawers may be that is not anchored: children climb them, mm.";
    walk.length("with_drawers", "With drawers, no higher than", meaning, 0.0..=3000.0, with_drawers);
    let meaning = "What an open drawer must bear at its front, all others open, before a case that is not anchored tips, kg.";
    walk.number("on_drawer", "Bears on an open drawer", meaning, Unit::Kilograms, 0.0..=200.0, on_drawer);
}

fn sags(walk: &mut Walk<'_>, sag: &mut strength::Limits) {
    let strength::Limits { working_at_once, working_after_creep, seen, fails } = sag;
    walk.under(Stage::Brief, "Sag, as a share of the span");
    let share = 50.0..=2000.0;
    let mut each = |name, label, meaning, slot| walk.number(name, label, meaning, Unit::Number, share.clone(), slot);
    each("working_at_once", "Made for, at once", "The span over this is the sag at once that a part is made for.", working_at_once);
    let meaning = "The span over this is the sag after years that a part is made for.";
    each("working_after_creep", "Made for, after years", meaning, working_after_creep);
    each("seen", "Seen", "A sag after years of more than the span over this is told.", seen);
    each("fails", "Fails", "A sag after years of more than the span over this fails.", fails);
}

pub(super) fn slats(walk: &mut Walk<'_>, slats: &mut Slats) {
    walk.under(Stage::Case, "Cleats and slats");
    let meaning = "What decides how thick the slats are: you, or the load where it wants them thicker than you decided.";
    walk.inside("slats", |walk| walk.choice("thick_by", "Slats thick by", meaning, &mut slats.thick_by));
}

pub(super) fn wall(walk: &mut Walk<'_>, wall: &mut Wall) {
    walk.under(Stage::Case, "Wall");
    let meaning = "Whether the case is fastened to the structure of the wall behind it, or stands by itself.";
    walk.choice("wall", "Against a wall", meaning, wall);
    if let Wall::Anchored(Anchors { fixings }) = wall {
        let meaning = "How many fixings in the wall share the pull; they sit at the middle of the back's top rail.";
        walk.inside("wall", |walk| walk.count("fixings", "Fixings in the wall", meaning, 1.0..=12.0, fixings));
    }
}
