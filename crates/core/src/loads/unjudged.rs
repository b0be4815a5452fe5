//! What could not be judged under load for want of a figure.

use super::lying::{Asked, Stuffs, Unjudged, Why, grain_along};
use super::rests::{Sheared, pin_in};
use super::{Bending, Rest, UnderLoad};
use crate::inspect::{Finding, Rule, Seriousness};
use crate::model::{Material, Model, PartId, PartKind, Role};
use crate::strength::Properties;

/// Adds every stress of parts and rests for which no strength is known.
pub(super) fn stresses(under: &mut UnderLoad, model: &Model, stuffs: &mut Stuffs) {
    let mut found: Vec<Unjudged> = under.bending.iter().flat_map(|bending| of_bending(model, bending)).collect();
    for rest in &under.rests {
        let Some(bending) = under.of_part(rest.part) else { continue };
        let on = model.part(rest.on);
        let below = match (&on.material, stuffs.along(model, on)) {
            (Material::Bought(_), _) => None,
            (Material::Solid(_) | Material::Sheet(_), below) => Some(below.map_err(|why| Why::from(&why))),
        };
        found.extend(of_rest(model, rest, bending.of(), below.as_ref().map(|below| below.as_deref())));
        found.extend(of_pin(model, rest));
    }
    for one in found {
        if !under.unjudged.contains(&one) {
            under.unjudged.push(one);
        }
    }
}

fn of_bending(model: &Model, bending: &Bending) -> Vec<Unjudged> {
    let (of, part) = (bending.of(), model.part(bending.part));
    // What is known of wood is known along its grain.
    let across = model.timbers.wood(&part.material).is_some() && !grain_along(&part.pose, bending.curve.axis);
    let why = |what| {
        if across {
            Why::Other(format!("it spans across its grain, and how strong {} is that way no table tells", of.name))
        } else {
            lacks(what, of)
        }
    };
    let asked = [(bending.bending(), Asked::Bending, "strength in bending"), (bending.shear(), Asked::Shear, "strength in shear")];
    let lacking = asked.into_iter().filter(|(stress, ..)| stress.allowed.is_none());
    lacking.map(|(_, asked, what)| Unjudged { part: bending.part, asked, why: why(what) }).collect()
}

/// What of a rest can't be judged: of what lies there, and of what it lies on, which is none where that is bought and of no wood.
fn of_rest(model: &Model, rest: &Rest, of: &Properties, below: Option<Result<&Properties, &Why>>) -> Vec<Unjudged> {
    let role = model.joints.iter().find(|joint| joint.a == rest.part && joint.b == rest.on).map(|joint| joint.role);
    let both = || [Some(Ok(of)), below];
    let (pressed, sheared) = match (role, rest.sheared) {
        (Some(Role::SlatToCleat), _) => (both(), Some(Ok(of))),
        (Some(Role::ShelfToPin), _) => (both(), below),
        (Some(Role::CleatToStandard), _) => ([Some(Ok(of)), None], below),
        (Some(Role::ShelfToUpright), _) => ([Some(Ok(of)), None], Some(Ok(of))),
        (Some(Role::CleatToUpright), Sheared::Glue { .. }) => ([None, None], Some(Ok(of))),
        _ => ([None, None], None),
    };
    let across = |stuff: Result<&Properties, &Why>| match stuff {
        Ok(stuff) => stuff.across.is_none().then(|| lacks("strength across the grain", stuff)),
        Err(why) => Some(why.clone()),
    };
    let along = |stuff: Result<&Properties, &Why>| match stuff {
        Ok(stuff) => stuff.shear.is_none().then(|| lacks("strength in shear", stuff)),
        Err(why) => Some(why.clone()),
    };
    // Screws hold by the specific gravity of what they are driven into.
    let screws = (role == Some(Role::CleatToUpright) && matches!(rest.sheared, Sheared::Screw { .. }) && rest.bearing.allowed.is_none())
        .then(|| Why::Lacks { figure: "hold of screws", of: model.timbers.name(&model.part(rest.on).material).to_owned() });
    let bearing = pressed.into_iter().flatten().filter_map(across).chain(screws).map(|why| (Asked::Bearing, why));
    let shear = sheared.into_iter().filter_map(along).map(|why| (Asked::ShearAtRest, why));
    bearing.chain(shear).map(|(asked, why)| Unjudged { part: rest.part, asked, why }).collect()
}

/// What of a pin can't be judged, told of what lies on it.
fn of_pin(model: &Model, rest: &Rest) -> Vec<Unjudged> {
    let Some(pin) = &rest.pin else { return Vec::new() };
    let name = |part: &crate::model::Part| model.timbers.name(&part.material).to_owned();
    let bends = pin.bends.allowed.is_none().then(|| (Asked::PinBends, "strength in bending", name(model.part(rest.on))));
    let upright = pin_in(model, rest.on).map(|(upright, _)| name(upright)).filter(|_| pin.prises.allowed.is_none());
    let prises = upright.map(|of| (Asked::PinPrises, "hold of pins", of));
    bends.into_iter().chain(prises).map(|(asked, figure, of)| Unjudged { part: rest.part, asked, why: Why::Lacks { figure, of } }).collect()
}

fn lacks(figure: &'static str, of: &Properties) -> Why {
    Why::Lacks { figure, of: of.name.clone() }
}

impl UnderLoad {
    /// What could not be judged, a line for all parts of a kind that lack the same: "40 slats: sag and stress not judged: no modulus of
    /// elasticity is known for European cherry; …".
    pub fn not_judged(&self, model: &Model) -> Vec<String> {
        let mut groups: Vec<(PartKind, Asked, &Why, Vec<PartId>)> = Vec::new();
        for one in &self.unjudged {
            let kind = model.part(one.part).kind;
            match groups.iter_mut().find(|(of, asked, why, _)| (*of, *asked, *why) == (kind, one.asked, &one.why)) {
                Some((.., parts)) => parts.push(one.part),
                None => groups.push((kind, one.asked, &one.why, vec![one.part])),
            }
        }
        let line = |(kind, asked, why, parts): (PartKind, Asked, &Why, Vec<PartId>)| {
            let what = counted(model, kind, &parts);
            format!("{what}: {} not judged: {why}", asked.words())
        };
        groups.into_iter().map(line).collect()
    }
}

/// What parts of a kind are called together: "Rail 2", "40 slats".
fn counted(model: &Model, kind: PartKind, parts: &[PartId]) -> String {
    match parts {
        [only] => model.part(*only).title.clone(),
        many => format!("{} {}", many.len(), plural(kind)),
    }
}

/// All that could not be judged in one sentence: what of which parts, and for want of what. Nothing where all was.
fn in_a_sentence(model: &Model, unjudged: &[Unjudged]) -> Option<String> {
    let mut kinds: Vec<(PartKind, Vec<PartId>)> = Vec::new();
    let (mut lacks, mut others): (Vec<(&str, Vec<&str>)>, Vec<&str>) = (Vec::new(), Vec::new());
    for one in unjudged {
        let kind = model.part(one.part).kind;
        match kinds.iter_mut().find(|(known, _)| *known == kind) {
            Some((_, parts)) if parts.contains(&one.part) => {}
            Some((_, parts)) => parts.push(one.part),
            None => kinds.push((kind, vec![one.part])),
        }
        match &one.why {
            Why::Lacks { figure, of } => match lacks.iter_mut().find(|(stuff, _)| stuff == of) {
                Some((_, figures)) if figures.contains(figure) => {}
                Some((_, figures)) => figures.push(figure),
                None => lacks.push((of, vec![figure])),
            },
            Why::Other(words) if others.contains(&words.as_str()) => {}
            Why::Other(words) => others.push(words),
        }
    }
    if kinds.is_empty() {
        return None;
    }
    let all = unjudged.iter().any(|one| one.asked == Asked::All);
    let some = unjudged.iter().any(|one| one.asked != Asked::All);
    let asked = match (all, some) {
        (true, false) => Asked::All.words(),
        (false, _) => "some stress",
        (true, true) => "sag or some stress",
    };
    let parts: Vec<String> = kinds.iter().map(|(kind, parts)| counted(model, *kind, parts)).collect();
    // "no strength in bending, in shear or across the grain".
    let named = |figures: &[&str]| {
        let ways: Option<Vec<&str>> = figures.iter().map(|figure| figure.strip_prefix("strength ")).collect();
        ways.map_or_else(|| joined(figures, "or"), |ways| format!("strength {}", joined(&ways, "or")))
    };
    let known = lacks.iter().map(|(of, figures)| format!("no {} is known for {of}", named(figures)));
    let why: Vec<String> = known.chain(others.into_iter().map(str::to_owned)).collect();
    Some(format!("Under load, {asked} of {} is not judged: {}", joined(&parts, "and"), joined(&why, "and")))
}

/// "a, b and c".
fn joined(words: &[impl AsRef<str>], last: &str) -> String {
    match words {
        [] => String::new(),
        [one] => one.as_ref().to_owned(),
        [first @ .., end] => {
            let first: Vec<&str> = first.iter().map(AsRef::as_ref).collect();
            format!("{} {last} {}", first.join(", "), end.as_ref())
        }
    }
}

fn plural(kind: PartKind) -> String {
    match kind {
        // Titles of lists, in which there is one of them.
        PartKind::Top => "tops".to_owned(),
        PartKind::Floor => "floors".to_owned(),
        kind => kind.words().1.to_lowercase(),
    }
}

/// A note of all that could not be judged under load for want of a figure; nothing where all was.
pub fn unjudged_findings(model: &Model, under: &UnderLoad) -> Vec<Finding> {
    let Some(message) = in_a_sentence(model, &under.unjudged) else { return Vec::new() };
    let mut parts: Vec<PartId> = under.unjudged.iter().map(|one| one.part).collect();
    parts.sort_unstable();
    parts.dedup();
    let place = parts.first().map(|part| model.part(*part).block().centre());
    vec![Finding {
        rule: Rule::NotJudged,
        seriousness: Seriousness::Note,
        parts,
        explains: Vec::new(),
        joint: None,
        place,
        figures: Vec::new(),
        message,
        source: if under.unjudged.iter().any(|one| matches!(one.why, Why::Lacks { .. })) {
            "the tables have no such figure; give your own, or choose a timber or a sheet of which it is known"
        } else {
            "the tables have strengths along the grain alone (Wood Handbook FPL-GTR-282, table 5-3a)"
        },
        remedies: Vec::new(),
    }]
}
