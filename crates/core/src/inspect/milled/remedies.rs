//! What saves parts that are there and no longer fit: a shim, less of them, a new one, or the case in which they fit.

use super::gap::Gap;
use super::{Misfit, faults, large_word, other, planned, recut};
use crate::derive::derive;
use crate::design::decisions::{self, Value};
use crate::design::shop::{End, cut_at};
use crate::design::{Design, Dimension};
use crate::inspect::{Remedy, TOUCH, mm, tenons};
use crate::joint::JointKind;
use crate::length::trimmed_to;
use crate::model::{Joint, Material, Model};
use crate::origin::Origin;
use crate::place::Dir;
use crate::sentence::capital;

/// What would save the parts of a group.
pub(super) fn remedies(design: &Design, model: &Model, group: &[&Misfit], solve: bool) -> Vec<Remedy> {
    let first = group[0];
    let part = model.part(first.part);
    let glued = group.iter().any(|misfit| model.part(misfit.part).state == crate::design::shop::State::Glued);
    let wanted = part.size[first.of.index()].mm + first.short;
    let amount = mm(first.short.abs());
    let mut remedies = Vec::new();
    // What is glued already stays as it is: nothing goes between its shoulders, and nothing of it is cut or made anew.
    let gap_is_open = |misfit: &&Misfit| !is_made(model, misfit, gap_end(design, model, misfit));
    if first.short > 0.0 && !first.open.is_empty() && group.iter().all(|misfit| takes_shim(model, misfit) && gap_is_open(misfit)) {
        remedies.push(shim(design, model, group));
    }
    // A sheet is never planed: its thickness is what was bought.
    let of_sheet = matches!(part.material, Material::Sheet(_));
    let other_sheet = of_sheet && first.of == Dimension::Thickness;
    if first.short < 0.0 && !glued && !other_sheet {
        remedies.push(less(design, model, group, &amount, of_sheet));
    }
    if (first.short > 0.0 || other_sheet) && !glued {
        let changes = group.iter().map(|misfit| (format!("made.{}.state", model.part(misfit.part).name), "planned".to_owned())).collect();
        let what = if group.len() == 1 { "Make it new" } else { "Make them new" };
        let words = if other_sheet {
            format!("{what}, from a sheet of {} mm", mm(wanted))
        } else {
            format!("{what}, {} mm {}", mm(wanted), large_word(first.of))
        };
        remedies.push(Remedy { words, changes });
    }
    if solve {
        remedies.extend(other_cases(design, model, group));
    }
    remedies
}

/// What is too much taken off. A joint cut in an end goes with it.
fn less(design: &Design, model: &Model, group: &[&Misfit], amount: &str, of_sheet: bool) -> Remedy {
    let first = group[0];
    let is_long = first.of == Dimension::Length;
    let sawn = |misfit: &&Misfit| {
        let (part, end) = (model.part(misfit.part), gap_end(design, model, misfit));
        let is_joined = part.state.is_cut() && !cut_at(model, part, end).is_empty();
        (is_long && is_joined).then(|| (format!("made.{}.sawn_{}_end", part.name, end.word()), trimmed_to(-misfit.short, 6)))
    };
    let what = if is_long || of_sheet { "Cut" } else { "Plane" };
    let anew: Vec<_> = group.iter().filter_map(sawn).collect();
    if anew.len() < group.len() {
        let changes = group.iter().map(|misfit| made_right(model, misfit)).collect();
        return Remedy { words: format!("{what} {amount} mm off"), changes };
    }
    let words = match group.len() {
        1 if gap_at(design, model, first).is_empty() => format!("Cut {amount} mm off, and cut anew what is cut there"),
        1 => format!("Cut {amount} mm off at {}, and cut the joint there anew", gap_at(design, model, first)),
        _ => format!("Cut {amount} mm off one end of each, and cut the joints there anew"),
    };
    Remedy { words, changes: anew }
}

/// The record that a part now has the size that is wanted.
fn made_right(model: &Model, misfit: &Misfit) -> (String, String) {
    let part = model.part(misfit.part);
    let wanted = part.size[misfit.of.index()].mm + misfit.short;
    (format!("made.{}.{}", part.name, misfit.of.word()), trimmed_to(wanted, 6))
}

/// At which end the gap of a part is best, or what is too much: at the second, or at the first where the part's cuts then lie right.
fn gap_end(design: &Design, model: &Model, misfit: &Misfit) -> End {
    let part = model.part(misfit.part);
    // Where one of its ends is glued already, the gap is at the other.
    if let Some(open) =
        End::ALL.into_iter().find(|end| !is_made(model, misfit, *end)).filter(|_| End::ALL.iter().any(|end| is_made(model, misfit, *end)))
    {
        return open;
    }
    let off = design.shop.record(&part.name).map_or(0.0, |record| recut::stands_off(model, part, record));
    if misfit.of == Dimension::Length && off != 0.0 { End::First } else { End::Second }
}

/// Whether what an end of a part is joined to is glued to it already.
fn is_made(model: &Model, misfit: &Misfit, end: End) -> bool {
    let part = model.part(misfit.part);
    let out = Dir::nearest(part.pose.basis.x_axis * if end == End::First { -1.0 } else { 1.0 });
    let glued = model.glued_up();
    model.joints_of(part.id).any(|joint| joint.a == part.id && joint.contact.into == out && glued.are_together(joint.a, joint.b))
}

/// What stands at that end.
fn gap_at<'m>(design: &Design, model: &'m Model, misfit: &Misfit) -> &'m str {
    let Some(open) = misfit.open.first().map(|(joint, _)| model.joint(*joint)) else { return "" };
    let far = |joint: &&Joint| joint.a == misfit.part && joint.contact.into == open.contact.into.opposite();
    let opposite = model.joints_of(misfit.part).find(far).filter(|_| gap_end(design, model, misfit) == End::First);
    model.part(other(opposite.unwrap_or(open), misfit.part)).title.as_str()
}

/// Whether a shim makes up what a part lacks: at an end, where what goes through it must still hold.
fn takes_shim(model: &Model, misfit: &Misfit) -> bool {
    let [(joint, Gap::Open(open))] = misfit.open[..] else { return false };
    let joint = model.joint(joint);
    let shim = open + model.part(misfit.part).shim_towards(joint.contact.into);
    // Dowels that are still to be bought may be longer by the shim, which they go through with no more than goes into the end.
    let longer = |joint: &Joint| match &joint.kind {
        JointKind::Dowels(figures) => shim <= figures.in_end && joint.loose.iter().all(|loose| !model.part(*loose).state.is_cut()),
        _ => false,
    };
    misfit.of == Dimension::Length && joint.a == misfit.part && (tenons::hold_through(&joint.kind, shim) || longer(joint))
}

/// A shim glued to the shoulder: the part stays as it is.
fn shim(design: &Design, model: &Model, group: &[&Misfit]) -> Remedy {
    let first = group[0];
    let amount = mm(first.short);
    let changes = group.iter().map(|misfit| {
        let (part, end) = (model.part(misfit.part), gap_end(design, model, misfit));
        let shim = misfit.short + part.shims[usize::from(end == End::Second)];
        (format!("made.{}.{}_shim", part.name, end.word()), trimmed_to(shim, 6))
    });
    let joint = first.open.first().map(|(joint, _)| model.joint(*joint));
    let through = match joint.map(|joint| &joint.kind) {
        Some(JointKind::Dowels(_)) => ", longer dowels going through it",
        _ => ", the tenon going through it",
    };
    let words = if group.len() == 1 {
        format!("Put a shim of {amount} mm at {}{through}", gap_at(design, model, first))
    } else {
        format!("Put a shim of {amount} mm at one end of each{through}")
    };
    Remedy { words, changes: changes.collect() }
}

/// Decisions that say how large the case is and how it is divided, as against what its parts are made of.
pub(crate) fn is_of_case(path: &str) -> bool {
    const OUTSIDE: [&str; 5] = ["carcase.width", "carcase.height", "carcase.depth", "carcase.rails.foot", "carcase.rails.reveal"];
    OUTSIDE.contains(&path) || overhang(path).is_some() || (path.starts_with("interior.") && path.rsplit('.').next() == Some("size"))
}

/// Over what of the case the top stands out by a decision.
fn overhang(path: &str) -> Option<&'static str> {
    match path.strip_prefix("carcase.top.over_")? {
        "front" => Some("the front"),
        "back" => Some("the back"),
        "sides" => Some("each side"),
        _ => None,
    }
}

/// Cases in which the parts of a group fit as they are, found by deriving again: each with one decision changed, or where none alone is
/// enough with both overhangs of a top. What stands over is changed before the case.
fn other_cases(design: &Design, model: &Model, group: &[&Misfit]) -> Vec<Remedy> {
    let first = group[0];
    let part = model.part(first.part);
    let Some(planned) = planned(&part.size[first.of.index()]) else { return Vec::new() };
    let mut decided: Vec<(&str, &str)> = planned
        .roots()
        .into_iter()
        .filter_map(|root| match &root.origin {
            Origin::Decision { path } if is_of_case(path) => Some((path.as_str(), root.name.as_ref())),
            Origin::Decision { .. } | Origin::Measured { .. } | Origin::Sum(_) | Origin::Rule { .. } => None,
        })
        .collect();
    decided.sort_by_key(|(path, _)| overhang(path).is_none());
    let before = faults(design, model);
    let mends = |changes: &[(String, String)]| {
        let changed = changes.iter().try_fold(design.clone(), |design, change| with(&design, change))?;
        let after = faults(&changed, &derive(&changed).ok()?);
        let mended = group.iter().all(|misfit| !after.contains(&(model.part(misfit.part).name.clone(), Some(misfit.of))));
        (mended && after.is_subset(&before)).then_some(())
    };
    let offer = |changes: Vec<(&str, &str, f64)>| {
        let words: Vec<_> = changes.iter().map(|(path, name, value)| case_words(design, path, name, *value)).collect();
        let words = words.join(", and ");
        let changes: Vec<_> = changes.into_iter().map(|(path, _, value)| (path.to_owned(), value.to_string())).collect();
        mends(&changes).map(|()| Remedy { words: capital(&words), changes })
    };
    let one_by_one = decided.iter().filter_map(|(path, name)| offer(vec![(path, name, solve(design, path, &part.name, first.of)?)]));
    let mut remedies: Vec<Remedy> = one_by_one.collect();
    let over: Vec<_> = decided.iter().filter(|(path, _)| overhang(path).is_some()).collect();
    if let ([a, b], false) = (&over[..], remedies.iter().any(|remedy| overhang(&remedy.changes[0].0).is_some())) {
        let both = [(a, b), (b, a)].into_iter().find_map(|((none, name), (path, other))| {
            let without = with(design, &((*none).to_owned(), "0".to_owned()))?;
            offer(vec![(none, name, 0.0), (path, other, solve(&without, path, &part.name, first.of)?)])
        });
        remedies.splice(0..0, both);
    }
    remedies
}

/// "make the case width 1348 mm".
fn case_words(design: &Design, path: &str, name: &str, value: f64) -> String {
    let Some(over) = overhang(path) else { return format!("make the {name} {} mm", mm(value)) };
    let now = decisions::value(design, path).and_then(|value| value.number()).unwrap_or_default();
    format!("let it stand {} mm over {over}, not {}", mm(value), mm(now))
}

/// The value of a decision at which a size of a part is planned as it is there.
fn solve(design: &Design, path: &str, part: &str, of: Dimension) -> Option<f64> {
    let Value::Length(now) = decisions::value(design, path)? else { return None };
    let lacking = |value: f64| {
        // What is out of range on the way is only reckoned with; what is offered is in range.
        let mut tried = design.clone();
        decisions::set(&mut tried, path, &value.to_string()).ok()?;
        let model = derive(&tried).ok()?;
        let size = &model.find(part)?.size[of.index()];
        Some(planned(size)?.mm - size.mm)
    };
    let mut value = now.to_mm();
    let mut short = lacking(value)?;
    // Sizes are sums, so that one step is exact; where a share or a rule bends, the second mends it.
    let mut step = 1.0;
    for _ in 0..2 {
        let slope = (lacking(value + step)? - short) / step;
        if slope.abs() < 1e-6 {
            return None;
        }
        value = ((value - short / slope) * 1e6).round() / 1e6;
        short = lacking(value)?;
        if short.abs() <= TOUCH {
            return Some(value);
        }
        step = 0.1;
    }
    None
}

fn with(design: &Design, (path, value): &(String, String)) -> Option<Design> {
    let mut changed = design.clone();
    decisions::set(&mut changed, path, value).ok()?;
    decisions::check(&changed).is_empty().then_some(changed)
}
