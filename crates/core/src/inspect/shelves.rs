//! Solid shelves and pins: a shelf goes in between its uprights, lies on its pins when it is pushed over, lies level, and has room to grow.

use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm};
use crate::design::decisions::BY_RULE;
use crate::design::{Design, Dimension};
use crate::joint::{JointKind, pin};
use crate::model::{Feature, Joint, JointId, Model, Part, PartId, PartKind, Role};
use crate::timber::Rates;

/// The heights of what a shelf lies on agree within this, or it rocks, mm (common practice, no source).
pub const ROCKS: f64 = 0.3;

pub(super) fn check(design: &Design, model: &Model) -> Vec<Finding> {
    let shelves = model.parts.iter().filter(|part| part.kind == PartKind::Shelf);
    let of_shelf = |shelf: &Part| {
        [too_long(model, shelf), off_its_pins(model, shelf), past_its_pins(model, shelf), rocks(model, shelf), bursts(design, model, shelf)]
            .into_iter()
            .flatten()
            .collect::<Vec<_>>()
    };
    let mut found: Vec<Finding> = shelves.flat_map(of_shelf).collect();
    // Shelves that are alike are told once.
    let mut told: Vec<(Rule, &str, Vec<i64>)> = Vec::new();
    found.retain(|finding| {
        let shelf = finding.parts.first().map(|part| model.part(*part));
        let own = shelf.is_some_and(|shelf| [0, 1, 2].into_iter().any(|axis| shelf.is_own(axis)));
        let figures = finding.figures.iter().map(|figure| (figure.value * 1e3).round() as i64).collect();
        let known = (finding.rule, shelf.map_or("", |shelf| shelf.mark.as_str()), figures);
        let is_new = own || !told.contains(&known);
        told.push(known);
        is_new
    });
    found
}

/// The joints by which a shelf lies on its pins.
fn on_pins<'m>(model: &'m Model, shelf: &Part) -> Vec<&'m Joint> {
    model.joints.iter().filter(|joint| joint.a == shelf.id && joint.role == Role::ShelfToPin).collect()
}

/// The uprights beside a shelf that lies between them, left and right.
fn uprights(model: &Model, shelf: &Part) -> Vec<PartId> {
    let held = |by: PartId| {
        let roles = [Role::PinToUpright, Role::CleatToUpright];
        model.joints.iter().filter(move |joint| joint.a == by && roles.contains(&joint.role)).map(|joint| joint.b)
    };
    let lies_on = model.joints.iter().filter(|joint| joint.a == shelf.id && matches!(joint.role, Role::ShelfToPin | Role::SlatToCleat));
    let mut found: Vec<PartId> = lies_on.flat_map(|joint| held(joint.b)).collect();
    found.sort_unstable();
    found.dedup();
    found
}

/// A shelf that does not go in between the uprights on which its pins or cleats are.
fn too_long(model: &Model, shelf: &Part) -> Option<Finding> {
    let uprights = uprights(model, shelf);
    let block = shelf.block();
    let middle = block.centre().x;
    let blocks = || uprights.iter().map(|part| model.part(*part).block());
    let left = blocks().filter(|upright| upright.centre().x < middle).map(|upright| upright.max.x).reduce(f64::max)?;
    let right = blocks().filter(|upright| upright.centre().x > middle).map(|upright| upright.min.x).reduce(f64::min)?;
    let (length, between) = (shelf.size[0].mm, right - left);
    let over = length - between;
    if over <= TOUCH {
        return None;
    }
    let fits = (between - 2.0).floor();
    let remedy = if shelf.is_own(0) {
        Remedy::length(format!("Make the length {} mm", mm(fits)), &format!("part.{}.length", shelf.name), fits)
    } else {
        Remedy::length("Leave 1.25 mm at each end".to_owned(), "shelf.play", 1.25)
    };
    Some(Finding {
        rule: Rule::ShelfFits,
        seriousness: Seriousness::WillFail,
        parts: std::iter::once(shelf.id).chain(uprights.iter().copied()).collect(),
        explains: uprights.iter().map(|upright| (shelf.id.min(*upright), shelf.id.max(*upright))).collect(),
        joint: None,
        place: Some(block.centre()),
        figures: vec![Figure::mm("too long", over), Figure::mm("between", between)],
        message: format!("{} is {} mm too long to go in between its uprights, which stand {} mm apart", shelf.title, mm(over), mm(between)),
        source: "geometry",
        remedies: vec![remedy],
    })
}

/// A shelf that lies on too little of its pins when it is pushed over to the other side.
fn off_its_pins(model: &Model, shelf: &Part) -> Option<Finding> {
    let joints = on_pins(model, shelf);
    let bears = joints.iter().map(|joint| pin::under_pushed(model, joint)).reduce(f64::min)?;
    let worst = joints.iter().min_by(|a, b| a.contact.extent.y.total_cmp(&b.contact.extent.y))?;
    let pin = model.part(worst.b);
    let least = pin.size[2].mm;
    (bears < least - TOUCH).then(|| Finding {
        rule: Rule::ShelfBears,
        seriousness: if bears <= TOUCH { Seriousness::WillFail } else { Seriousness::AtRisk },
        parts: std::iter::once(shelf.id).chain(joints.iter().map(|joint| joint.b)).collect(),
        explains: Vec::new(),
        joint: Some(worst.id),
        place: Some(worst.contact.centre),
        figures: vec![Figure::mm("bearing", bears.max(0.0)), Figure::mm("least", least)],
        message: if bears <= TOUCH {
            format!("{} drops off its pins when it is pushed over", shelf.title)
        } else {
            format!("{} lies on only {} mm of its pins when it is pushed over", shelf.title, mm(bears))
        },
        source: "as much of a pin under the shelf as it is thick: common practice, no source",
        remedies: {
            let longer = (pins_reach(model, worst) + least - bears).ceil();
            vec![Remedy::length(format!("Let the pins stand out {} mm", mm(longer)), "pins.reach", longer)]
        },
    })
}

/// A shelf whose front or back edge lies on only a part of its pins: pulled out a little, or shrunk, it drops off them.
fn past_its_pins(model: &Model, shelf: &Part) -> Option<Finding> {
    let own = shelf.block();
    let covered = |joint: &Joint| {
        let pin = model.part(joint.b).block();
        own.max.z.min(pin.max.z) - own.min.z.max(pin.min.z)
    };
    let worst = on_pins(model, shelf).into_iter().min_by(|a, b| covered(a).total_cmp(&covered(b)))?;
    let (pin, covered) = (model.part(worst.b), covered(worst));
    let thick = pin.block().size().z;
    let front = pin.block().centre().z > own.centre().z;
    let (word, path) = if front { ("front", "pins.front") } else { ("back", "pins.back") };
    (covered < thick - TOUCH).then(|| Finding {
        rule: Rule::ShelfBears,
        seriousness: if covered <= TOUCH { Seriousness::WillFail } else { Seriousness::AtRisk },
        parts: vec![shelf.id, pin.id],
        explains: Vec::new(),
        joint: Some(worst.id),
        place: Some(worst.contact.centre),
        figures: vec![Figure::mm("covered", covered.max(0.0)), Figure::mm("least", thick)],
        message: format!(
            "{} covers only {} mm of its {word} pins, which are {} mm thick: pulled or shrunk by that it drops off them",
            shelf.title,
            mm(covered.max(0.0)),
            mm(thick)
        ),
        source: "the whole of each pin under the shelf: common practice, no source",
        remedies: {
            let by_rule = Remedy { words: format!("Bore the {word} rows by rule"), changes: vec![(path.to_owned(), BY_RULE.to_owned())] };
            let posts = || model.parts.iter().filter(|part| part.kind == PartKind::Post).map(Part::block);
            let behind = if front {
                posts().map(|post| post.max.z).reduce(f64::max).map(|outside| outside - own.max.z)
            } else {
                posts().map(|post| post.min.z).reduce(f64::min).map(|outside| own.min.z - outside)
            };
            let set_back = behind.map(|behind| {
                // To the half millimetre.
                let set_back = ((behind + thick / 2.0) * 2.0 - 1e-6).ceil() / 2.0;
                Remedy::length(format!("Bore the {word} rows {} mm from the {word} of the posts", mm(set_back)), path, set_back)
            });
            std::iter::once(by_rule).chain(set_back).collect()
        },
    })
}

/// How far the pin of a joint stands out of its upright, mm.
fn pins_reach(model: &Model, joint: &Joint) -> f64 {
    let held = model.joints.iter().find(|other| other.a == joint.b && other.role == Role::PinToUpright);
    match held.map(|held| &held.kind) {
        Some(JointKind::Pin(figures)) => figures.reach,
        _ => joint.contact.extent.y,
    }
}

/// A shelf whose pins, or the seats of whose cleats, are not at one height.
fn rocks(model: &Model, shelf: &Part) -> Option<Finding> {
    let under: Vec<&Joint> =
        model.joints.iter().filter(|joint| joint.a == shelf.id && matches!(joint.role, Role::ShelfToPin | Role::SlatToCleat)).collect();
    let top = |joint: &Joint| model.part(joint.b).block().max.y;
    let highest = under.iter().max_by(|a, b| top(a).total_cmp(&top(b)))?;
    let lowest = under.iter().min_by(|a, b| top(a).total_cmp(&top(b)))?;
    let off = top(highest) - top(lowest);
    (off > ROCKS + TOUCH).then(|| Finding {
        rule: Rule::ShelfLevel,
        seriousness: Seriousness::WillFail,
        parts: vec![shelf.id, highest.b, lowest.b],
        explains: under.iter().map(|joint| (shelf.id.min(joint.b), shelf.id.max(joint.b))).collect(),
        joint: Some(highest.id),
        place: Some(highest.contact.centre),
        figures: vec![Figure::mm("out of level", off), Figure::mm("at most", ROCKS)],
        message: format!(
            "{} rocks: {} lies {} mm higher than {}",
            shelf.title,
            model.part(highest.b).title,
            mm(off),
            model.part(lowest.b).title
        ),
        source: "0.3 mm between what a shelf lies on, all set out from one end: common practice, no source",
        remedies: Vec::new(),
    })
}

/// A solid shelf that has no room to grow across its width: between the standards it is notched round, or in its housings.
fn bursts(design: &Design, model: &Model, shelf: &Part) -> Option<Finding> {
    let moisture = &design.timber.moisture;
    let rate = Rates::of(&shelf.material, shelf.sawn, &model.timbers).along(Dimension::Width);
    let share = rate * (moisture.wettest() - moisture.built);
    let between = [between_standards(model, shelf), in_housings(model, shelf)];
    let (what, wide, room, with) = between.into_iter().flatten().min_by(|a, b| (a.2 - a.1 * share).total_cmp(&(b.2 - b.1 * share)))?;
    let over = wide * share - room;
    let joint = with.first().copied();
    let parts = with.iter().map(|joint| model.joint(*joint).b);
    (over > TOUCH).then(|| Finding {
        rule: Rule::ShelfGrows,
        seriousness: Seriousness::WillFail,
        parts: std::iter::once(shelf.id).chain(parts).collect(),
        explains: Vec::new(),
        joint,
        place: Some(shelf.block().centre()),
        figures: vec![Figure::mm("too wide", over), Figure::mm("grows", wide * share), Figure::mm("room", room)],
        message: format!(
            "At its wettest, {} % moisture, {} is {} mm too wide {what}: it grows {} mm and has {} mm of room",
            mm(moisture.wettest()),
            shelf.title,
            crate::length::trimmed_to(over, 2),
            crate::length::trimmed_to(wide * share, 2),
            crate::length::trimmed_to(room, 2)
        ),
        source: "movement by species and saw",
        remedies: vec![Remedy {
            words: "Leave it the room by the rule".to_owned(),
            changes: vec![("shelf.room".to_owned(), BY_RULE.to_owned())],
        }],
    })
}

/// Where a shelf may bind: what it is called, what grows there and what room it has, mm, and the joints.
type Binds = (&'static str, f64, f64, Vec<JointId>);

/// What of a shelf stands between the standards of a side, and the room it has there.
fn between_standards(model: &Model, shelf: &Part) -> Option<Binds> {
    let round: Vec<&Joint> = model.joints.iter().filter(|joint| joint.a == shelf.id && joint.role == Role::SlatRoundStandard).collect();
    let middle = shelf.block().centre();
    let of_side = |left: bool| {
        let here: Vec<&&Joint> = round.iter().filter(|joint| (model.part(joint.b).block().centre().x < middle.x) == left).collect();
        let front =
            here.iter().map(|joint| model.part(joint.b).block()).filter(|block| block.centre().z > middle.z).map(|block| block.min.z);
        let back =
            here.iter().map(|joint| model.part(joint.b).block()).filter(|block| block.centre().z < middle.z).map(|block| block.max.z);
        let (front, back) = (front.reduce(f64::min)?, back.reduce(f64::max)?);
        let first_end = (shelf.pose.point(glam::DVec3::ZERO).x < middle.x) == left;
        let notched: f64 = shelf
            .cuts
            .iter()
            .filter_map(|cut| match cut.feature {
                Feature::Notch { second_end, width, .. } if second_end != first_end => Some(width),
                _ => None,
            })
            .sum();
        let wide = shelf.size[1].mm - notched;
        Some(("between its standards", wide, front - back - wide, here.iter().map(|joint| joint.id).collect()))
    };
    [of_side(true), of_side(false)].into_iter().flatten().min_by(|a: &Binds, b: &Binds| a.2.total_cmp(&b.2))
}

/// What of a shelf is in its housings, and the room behind it there.
fn in_housings(model: &Model, shelf: &Part) -> Option<Binds> {
    let housed: Vec<&Joint> = model.joints.iter().filter(|joint| joint.a == shelf.id && joint.role == Role::ShelfToUpright).collect();
    let room = housed.iter().filter_map(|joint| match &joint.kind {
        JointKind::Housing(figures) => Some(figures.room[0].max(figures.room[1])).filter(|room| *room > 0.0),
        _ => None,
    });
    let room = room.reduce(f64::min);
    if housed.is_empty() {
        return None;
    }
    Some(("in its housings", shelf.size[1].mm, room.unwrap_or(0.0), housed.iter().map(|joint| joint.id).collect()))
}
