//! Glue, and the tools at hand.

use super::{Stage, Unit, Walk};
use crate::design::decisions::words::Family;
use crate::design::{Gluing, OpenTime, Tool, Tools};

pub(super) fn gluing(walk: &mut Walk<'_>, gluing: &mut Gluing) {
    let Gluing { family, open_by, own_open, seconds, share, stages, spread } = gluing;
    walk.under(Stage::Bench, "Glue");
    walk.choice("family", "Glue", "The family of glue, by the table of glues.", &mut Family(family));
    walk.choice("open_by", "Open time", "Where the open time comes from: the least of the table, or your own.", open_by);
    if *open_by == OpenTime::Own {
        walk.number("own_open", "Own open time", "From the first spread to the last clamp, minutes.", Unit::Minutes, 0.2..=240.0, own_open);
    }
    walk.number("seconds", "A joint takes", "From spreading to closing, a joint, seconds.", Unit::Seconds, 5.0..=600.0, seconds);
    walk.number("share", "Safe share", "The share of the open time that may be used.", Unit::Share, 0.1..=1.0, share);
    walk.choice("stages", "Stages", "How glue-ups are cut into stages: as few as the joints allow, or each within the open time.", stages);
    walk.number("spread", "Spread", "What a square metre of joint takes, g.", Unit::Number, 20.0..=1000.0, spread);
}

pub(super) fn tools(walk: &mut Walk<'_>, tools: &mut Tools) {
    for (index, Tool { name, makes, length, width, height, above }) in tools.0.iter_mut().enumerate() {
        walk.entry(index, |walk| {
            walk.under(Stage::Bench, format!("Tool: {name}"));
            walk.text("name", "Name", "What you call the tool.", name);
            walk.choice("makes", "Makes", "What it makes; of those that make the same, the first is the one in use.", makes);
            walk.length("length", "Length", "From the face it works on to its far end, hands included, mm.", 10.0..=1500.0, length);
            walk.length("width", "Width", "Its width along the cut, mm.", 5.0..=800.0, width);
            walk.length("height", "Height", "Its height across the cut, mm.", 5.0..=800.0, height);
            walk.length("above", "Cutter above", "From its under side to the middle of its cutter, mm.", 0.0..=800.0, above);
        });
    }
}
