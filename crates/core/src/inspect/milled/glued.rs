//! Parts that are recorded as glued, and nothing that they are glued to is.

use crate::design::shop::State;
use crate::inspect::{Figure, Finding, Remedy, Rule, Seriousness};
use crate::model::{Model, Part, PartId};
use crate::sentence::inside;
use crate::sequence::list;

/// Of so many that it is glued to it is offered that they are glued too.
const MOST_OTHERS: usize = 2;

/// Each part that is recorded as glued and stands alone: it counts as cut.
pub(super) fn check(model: &Model) -> Vec<Finding> {
    let glued = model.glued_up();
    let alone = model.parts.iter().filter(|part| part.state == State::Glued && !glued.is_in(part.id));
    alone.map(|part| finding(model, part)).collect()
}

fn finding(model: &Model, part: &Part) -> Finding {
    let wet = model.joints_of(part.id).filter(|joint| joint.glued);
    let mut others: Vec<PartId> = wet.flat_map(|joint| [joint.a, joint.b]).filter(|other| *other != part.id).collect();
    others.sort_unstable();
    others.dedup();
    let why = if others.is_empty() {
        "nothing glues it to another part".to_owned()
    } else {
        format!("none of those that it is glued to is: {}", list(model, &others))
    };
    let mut remedies = vec![Remedy {
        words: format!("Write down that {} is cut", inside(&part.title)),
        changes: vec![(format!("made.{}.state", part.name), State::Cut.word().to_owned())],
    }];
    remedies.extend(others.iter().take(MOST_OTHERS).map(|other| {
        let other = model.part(*other);
        Remedy {
            words: format!("Write down that {} is glued too", inside(&other.title)),
            changes: vec![(format!("made.{}.state", other.name), State::Glued.word().to_owned())],
        }
    }));
    Finding {
        rule: Rule::GluedToOthers,
        seriousness: Seriousness::Note,
        parts: std::iter::once(part.id).chain(others).collect(),
        explains: Vec::new(),
        joint: None,
        place: Some(part.block().centre()),
        figures: vec![Figure::count("glued to it", 0)],
        message: format!("{} is recorded as glued, but {why}: it counts as cut", part.title),
        source: "the design",
        remedies,
    }
}
