//! What has no place, and the shelves laid so that it has one.

use super::arrange::{Arrangement, Effort, Left, ShelvesMay, arrange, laid};
use super::best_room;
use crate::derive::{bay_plans, derive};
use crate::design::{BoxKind, Design, decisions};
use crate::inspect::{Figure, Finding, Remedy, Rule, Seriousness};
use crate::model::Model;

/// Steps that are spent on one case as it stands: as many as where all is shown.
const STEPS: u64 = super::arrange::STEPS;

/// What has no place with the shelves as they lie, as a finding; nothing where all has one.
pub(crate) fn findings(design: &Design, model: &Model) -> Vec<Finding> {
    let Some((stay, finding)) = without_place(design, model) else { return Vec::new() };
    vec![Finding { remedies: moved(design, &stay).into_iter().collect(), ..finding }]
}

/// Lays the shelves so that one takes what none takes now, where nothing else is known that would mend that.
pub(crate) fn lay_for_what_no_shelf_takes(design: &Design, model: &Model, findings: &mut [Finding]) {
    let none = |finding: &Finding| finding.rule == Rule::BoxFits && finding.remedies.is_empty();
    if !findings.iter().any(none) {
        return;
    }
    let Ok(stay) = arrange(design, model, ShelvesMay::Stay, Effort::steps(STEPS)) else { return };
    let Some(remedy) = moved(design, &stay) else { return };
    let mut after = design.clone();
    if !remedy.changes.iter().all(|(path, value)| decisions::set(&mut after, path, value).is_ok()) {
        return;
    }
    let Ok(laid) = derive(&after) else { return };
    let takes = |kind: &BoxKind| best_room(&laid, kind, &after.hand_room).is_some_and(|(_, fit)| fit.fits());
    // What is told of a kind names it.
    let mended = |finding: &Finding| {
        let mut of = design.contents.iter().filter(|kind| finding.message.contains(&kind.name));
        of.clone().next().is_some() && of.all(takes)
    };
    for finding in findings.iter_mut().filter(|finding| none(finding) && mended(finding)) {
        finding.remedies.push(remedy.clone());
    }
}

/// What has no place, without what would mend it.
pub(crate) fn without_place(design: &Design, model: &Model) -> Option<(Arrangement, Finding)> {
    // What no shelf takes at all is told by itself.
    let stay = arrange(design, model, ShelvesMay::Stay, Effort::steps(STEPS)).ok()?;
    let message = told_without_place(design, model, &stay)?;
    let finding = Finding {
        rule: Rule::AllPlaced,
        seriousness: Seriousness::AtRisk,
        parts: Vec::new(),
        explains: Vec::new(),
        joint: None,
        place: None,
        figures: vec![
            Figure::count("things", u32::try_from(stay.wanted).unwrap_or(u32::MAX)),
            Figure::count("with a place", u32::try_from(stay.placed).unwrap_or(u32::MAX)),
        ],
        message,
        source: "the hand room and the loads of the design",
        remedies: Vec::new(),
    };
    Some((stay, finding))
}

/// How many of the things have no place where all stands so, and which; nothing where all have one but for what is told to go into no room at all. What
/// stands nowhere for another cause, such as its weight, open doors or a season, is told with it.
pub fn told_without_place(design: &Design, model: &Model, stands: &Arrangement) -> Option<String> {
    let goes_in = |kind: &BoxKind| best_room(model, kind, &design.hand_room).is_some_and(|(_, fit)| fit.fits());
    let left = || stands.left.iter().filter(|left| !left.nowhere || design.contents.get(left.kind).is_some_and(goes_in));
    let count: u32 = left().map(|left| left.count).sum();
    let name = |kind: usize| design.contents.get(kind).map_or("", |kind| &kind.name);
    let why = |left: &Left| if left.nowhere { format!(" ({})", stands.why(design, left)) } else { String::new() };
    let told: Vec<String> = left().map(|left| format!("{} × {}{}", left.count, name(left.kind), why(left))).collect();
    (count > 0).then(|| format!("{count} of {} have no place with the shelves as they lie: {}", stands.wanted, told.join(", ")))
}

/// The shelves laid so that more has a place, where that is possible.
fn moved(design: &Design, stay: &Arrangement) -> Option<Remedy> {
    let (after, moved) = laid(design, ShelvesMay::Move, Effort::steps(STEPS)).ok()??;
    let (before, after) = (bay_plans(design).ok()?, bay_plans(&after).ok()?);
    if moved.placed <= stay.placed {
        return None;
    }
    let mut changes = Vec::new();
    for (before, after) in before.iter().zip(&after) {
        let (Some(was), Some(is)) = (before.fitting.shelves(), after.fitting.shelves()) else { continue };
        if was.shelves != is.shelves {
            let teeth: Vec<String> = is.shelves.iter().map(u32::to_string).collect();
            changes.push((format!("{}.shelves", after.path), teeth.join(" ")));
        }
    }
    let words = if moved.left.is_empty() {
        "Lay the shelves so that all have one".to_owned()
    } else {
        format!("Lay the shelves so that {} of {} have one", moved.placed, moved.wanted)
    };
    Some(Remedy { words, changes })
}
