//! The words of a step and of a sub-assembly, as a maker reads them.

use std::collections::BTreeSet;

use super::Leg;
use crate::joint::{Fixing, JointKind};
use crate::length::trimmed_to;
use crate::model::{Joint, Model, Part, PartId, PartKind};
use crate::place::Dir;
use crate::sentence::inside;

/// So many parts are named in a sentence; the rest is counted.
const NAMED: usize = 3;

/// The titles of parts: "left rail, top; left rail, bottom and 2 more".
pub(crate) fn list(model: &Model, parts: &[PartId]) -> String {
    let names: Vec<String> = parts.iter().take(NAMED).map(|part| inside(&model.part(*part).title)).collect();
    let more = parts.len().saturating_sub(NAMED);
    match (names.len(), more) {
        (_, 0) => names.join("; "),
        (_, more) => format!("{} and {more} more", names.join("; ")),
    }
}

/// What a maker calls parts that were put together.
pub(super) fn group_title(model: &Model, parts: &[PartId], whole: bool) -> String {
    if whole {
        return "carcase".to_owned();
    }
    let own: Vec<_> = parts.iter().map(|id| model.part(*id)).filter(|part| part.kind != PartKind::LooseTenon).collect();
    if let [one] = own[..] {
        return inside(&one.title);
    }
    let of = |kind: PartKind| own.iter().filter(|part| part.kind == kind).count();
    // The side of the case that the rails and panels belong to: the second word of their names.
    let mut sides: BTreeSet<&str> = BTreeSet::new();
    for part in &own {
        if matches!(part.kind, PartKind::Rail | PartKind::Panel) {
            sides.extend(part.name.split('.').nth(1));
        }
    }
    let sides: Vec<_> = sides.into_iter().collect();
    let rails: Vec<_> = own.iter().filter(|part| part.kind == PartKind::Rail).collect();
    // Where they stand one above the other: the third word of their names.
    let levels: BTreeSet<&str> = rails.iter().filter_map(|rail| rail.name.split('.').nth(2)).collect();
    let level = match levels.iter().collect::<Vec<_>>()[..] {
        [level] => format!("{level} "),
        _ => String::new(),
    };
    match (&sides[..], of(PartKind::Post)) {
        ([side], 2..) => format!("{side} frame"),
        ([side], 1) => format!("{side} rails with one post"),
        ([_], 0) if rails.len() == 1 => format!("{} and what is on it", inside(&rails[0].title)),
        ([side], 0) => format!("{level}{side} rails and what stands between them"),
        ([first, .., last], 0) if sides.len() == 2 => format!("{level}{last} and {first} rails and what joins them"),
        _ => list(model, &parts.iter().copied().filter(|part| model.part(*part).kind != PartKind::LooseTenon).collect::<Vec<_>>()),
    }
}

/// What parts are: one by its title, several by their kinds, "floors, standards and top"; without what stands in them and goes along.
pub(super) fn what(model: &Model, parts: &[PartId]) -> String {
    if let [one] = parts {
        return inside(&model.part(*one).title);
    }
    let mut all: Vec<(PartKind, usize)> = Vec::new();
    for kind in parts.iter().map(|part| model.part(*part).kind).filter(|kind| !kind.is_mounted()) {
        match all.iter_mut().find(|(known, _)| *known == kind) {
            Some((_, count)) => *count += 1,
            None => all.push((kind, 1)),
        }
    }
    let words: Vec<String> =
        all.into_iter().map(|(kind, count)| inside(if count == 1 { kind.words().0 } else { kind.words().1 })).collect();
    match words.as_slice() {
        [] => String::new(),
        [one] => one.clone(),
        [several @ .., last] => format!("{} and {last}", several.join(", ")),
    }
}

/// The way of a move: "to the back", "to the back, then up", "tipped, down, then levelled, then down".
pub(super) fn way(legs: &[Leg]) -> String {
    let words: Vec<&str> = legs
        .iter()
        .enumerate()
        .map(|(index, leg)| match *leg {
            Leg::Straight { way } => Dir::nearest(way).words(),
            Leg::Turn { .. } if index + 1 < legs.len() => "levelled",
            Leg::Turn { .. } => "turned into its place",
        })
        .collect();
    let tipped = legs.iter().any(|leg| matches!(leg, Leg::Turn { .. }));
    format!("{}{}", if tipped { "tipped, " } else { "" }, words.join(", then "))
}

/// What to do with parts that are brought to others.
pub(super) fn join(model: &Model, what: &str, moving: &[PartId], standing: &[PartId], legs: &[Leg]) -> String {
    let between = |joint: &&Joint| {
        (moving.contains(&joint.a) && standing.contains(&joint.b)) || (moving.contains(&joint.b) && standing.contains(&joint.a))
    };
    let (held, joints): (Vec<&Joint>, Vec<&Joint>) =
        model.joints.iter().filter(between).partition(|joint| rests(joint) && moving.contains(&joint.b));
    if let (Some(_), false) = (held.first(), joints.is_empty()) {
        let above: Vec<PartId> = held.iter().map(|joint| joint.a).collect();
        return format!("Hold up {}; {}", list(model, &above), inside(&brought(model, what, moving, &joints, legs)));
    }
    brought(model, what, moving, if joints.is_empty() { &held } else { &joints }, legs)
}

/// Whether one part lies on the other by nothing but its weight.
fn rests(joint: &Joint) -> bool {
    matches!(joint.kind, JointKind::Plain(Fixing::Rest))
}

/// Whether parts are brought in before anything stands that they are to lie on.
pub(super) fn hangs(model: &Model, parts: &[PartId], standing: &[PartId]) -> bool {
    let mut on = model.joints.iter().filter(|joint| rests(joint) && parts.contains(&joint.a) && !parts.contains(&joint.b)).peekable();
    on.peek().is_some() && on.all(|joint| !standing.contains(&joint.b))
}

/// What to do with parts that are brought to others by these joints.
fn brought(model: &Model, what: &str, moving: &[PartId], joints: &[&Joint], legs: &[Leg]) -> String {
    let others: BTreeSet<PartId> = joints.iter().map(|joint| if moving.contains(&joint.a) { joint.b } else { joint.a }).collect();
    let others: Vec<PartId> = others.into_iter().collect();
    let (way, list) = (way(legs), its_own(model, moving, &others).unwrap_or_else(|| list(model, &others)));
    let Some(leading) = joints.iter().max_by_key(|joint| joint.glued) else { return format!("Bring the {what} in {way}") };
    if let Some(words) = screwed(model, moving, joints) {
        return format!("Bring the {what} {way}{words}");
    }
    let dry = joints.iter().all(|joint| !joint.glued);
    let receives = moving.contains(&leading.b);
    // Only joints that ask for another hand than a push have words of their own.
    match &leading.kind {
        JointKind::Groove(_) if receives => format!("Push the {what} {way} over the edge of {list}, dry"),
        JointKind::Groove(_) => format!("Slide the {what} {way} into the groove of {list}, dry"),
        JointKind::Seat(figures) => format!("Set the {what} {way} into tooth {} of {list}", figures.tooth),
        JointKind::Notch(_) => format!("Bring the {what} {way} round {list}"),
        JointKind::Plain(Fixing::Rest) => format!("Lay the {what} {way} onto {list}"),
        _ => {
            let to = pushed(model, joints, moving).unwrap_or_else(|| format!("to {list}"));
            if dry {
                format!("Push the {what} {way} {to}, dry")
            } else {
                format!("Spread glue and push the {what} {way} {to}{}{}", upper_edge(model, moving), left_dry(model, joints))
            }
        }
    }
}

/// ", its tongue into the slot of right rail, top, and screw it to the top alone": what holds the top and lets it move is fast in one of the two only. None where nothing is screwed.
fn screwed(model: &Model, moving: &[PartId], joints: &[&Joint]) -> Option<String> {
    let others = |of: &dyn Fn(&JointKind) -> bool| {
        let of = joints.iter().filter(|joint| of(&joint.kind));
        let parts: BTreeSet<PartId> = of.map(|joint| if moving.contains(&joint.a) { joint.b } else { joint.a }).collect();
        parts.into_iter().collect::<Vec<_>>()
    };
    let fast = others(&|kind| matches!(kind, JointKind::Plain(Fixing::Screw) | JointKind::ScrewedUp(_) | JointKind::Plate(_)));
    if fast.is_empty() || joints.iter().any(|joint| joint.glued) {
        return None;
    }
    let slots = others(&|kind| matches!(kind, JointKind::Button(_)));
    let kerfs = others(&|kind| matches!(kind, JointKind::Clip(_)));
    let (into, loose) = match (slots.is_empty(), kerfs.is_empty()) {
        (false, _) => (format!(", its tongue into the slot of {},", list(model, &slots)), true),
        (true, false) => (format!(", its tongue into the kerf of {},", list(model, &kerfs)), true),
        (true, true) => (String::new(), false),
    };
    let to = match fast.as_slice() {
        [one] if loose => format!("the {} alone", inside(&model.part(*one).title)),
        several => list(model, several),
    };
    Some(format!("{into} and screw it to {to}"))
}

/// "its cleats", "its standards": what a shelf or a cleat lies on, where it all belongs to its own bay and shelf. None of anything else.
fn its_own(model: &Model, moving: &[PartId], others: &[PartId]) -> Option<String> {
    let part = model.part(*moving.first()?);
    let place = |part: &Part| -> Vec<String> { part.name.split('.').skip(1).take(2).map(str::to_owned).collect() };
    let own = place(part);
    let is_own = |other: &PartId| {
        let (kind, there) = (model.part(*other).kind, place(model.part(*other)));
        match kind {
            PartKind::Standard => there.first() == own.first(),
            PartKind::Cleat => there == own,
            _ => false,
        }
    };
    let on_teeth = matches!(part.kind, PartKind::Cleat | PartKind::Slat | PartKind::Shelf);
    if !on_teeth || others.len() < 2 || !others.iter().all(is_own) {
        return None;
    }
    // What lies on cleats only goes round the standards.
    let on_cleats = others.iter().any(|other| model.part(*other).kind == PartKind::Cleat);
    Some(if on_cleats { "its cleats" } else { "its standards" }.to_owned())
}

/// How high a cleat is glued on: nothing that is cut shows it.
fn upper_edge(model: &Model, moving: &[PartId]) -> String {
    let cleat = moving.first().map(|part| model.part(*part)).filter(|part| part.kind == PartKind::Cleat);
    cleat.map_or_else(String::new, |cleat| format!(", its upper edge {} above the ground", trimmed_to(cleat.block().max.y, 1)))
}

/// Which housings get the glue where some of them must stay dry, so that a wide board can grow; nothing else.
fn left_dry(model: &Model, joints: &[&Joint]) -> String {
    let (wet, dry): (Vec<&Joint>, Vec<&Joint>) =
        joints.iter().filter(|joint| matches!(joint.kind, JointKind::Housing(_))).partition(|joint| joint.glued);
    if wet.is_empty() || dry.is_empty() {
        return String::new();
    }
    let cut_in = |joints: Vec<&Joint>| {
        let parts: BTreeSet<PartId> = joints.into_iter().map(|joint| joint.b).collect();
        list(model, &parts.into_iter().collect::<Vec<_>>())
    };
    format!("; glue in the housings of {} only, those of {} stay dry", cut_in(wet), cut_in(dry))
}

/// What goes into what where parts are pushed together: "onto the dowels of post, front left, and left panel 1 into its groove, dry". None where the joints,
/// but for the grooves of panels, are not all of one kind.
fn pushed(model: &Model, joints: &[&Joint], moving: &[PartId]) -> Option<String> {
    let (grooves, pinned): (Vec<&Joint>, Vec<&Joint>) = joints.iter().partition(|joint| matches!(joint.kind, JointKind::Groove(_)));
    let kind = |joint: &&Joint| {
        let pins = match joint.kind {
            JointKind::Dowels(_) => "dowels",
            JointKind::LooseTenons(_) => "loose tenons",
            JointKind::Tenon(_) => "tenons",
            _ => return None,
        };
        // Loose parts stand in the member that they were put into before.
        let bring = joint.loose.first().map_or(moving.contains(&joint.a), |loose| moving.contains(loose));
        Some((pins, bring))
    };
    let kinds = pinned.iter().map(kind).collect::<Option<BTreeSet<_>>>()?;
    let into: BTreeSet<PartId> = pinned.iter().map(|joint| if moving.contains(&joint.a) { joint.b } else { joint.a }).collect();
    let into = list(model, &into.into_iter().collect::<Vec<_>>());
    let to = match kinds.into_iter().collect::<Vec<_>>()[..] {
        [(pins, true)] => format!("into {into}, its {pins} first"),
        [(pins, false)] => format!("onto the {pins} of {into}"),
        _ => return None,
    };
    let panels: BTreeSet<PartId> = grooves.iter().map(|joint| joint.a).collect();
    let panels: Vec<PartId> = panels.into_iter().collect();
    Some(match panels.len() {
        0 => to,
        1 => format!("{to}, and {} into its groove, dry", list(model, &panels)),
        _ => format!("{to}, and {} into their grooves, dry", list(model, &panels)),
    })
}

/// Loose parts put into one part.
pub(super) fn loose(model: &Model, parts: &[PartId], onto: PartId, glued: bool) -> String {
    let what = parts.first().map_or("", |part| {
        let (one, many) = model.part(*part).kind.words();
        if parts.len() == 1 { one } else { many }
    });
    let verb = if glued { "Glue" } else { "Put" };
    format!("{verb} {} {} into {}", parts.len(), inside(what), inside(&model.part(onto).title))
}
