//! Parts that are there and no longer fit: what stays open, by how much, and what would save them.
//!
//! A part keeps the sizes that were measured on it, and once it is cut those it was cut to, while all that is not yet cut follows
//! the plan. Where the two differ along a joint, the joint stays open or the part runs into its neighbour. [`super::recut`] looks at
//! the joints cut in the part.

use std::collections::HashSet;

use super::shoulders::gaps;
use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, engagement, mm, recut, small, tenons};
use crate::derive::derive;
use crate::design::decisions::{self, Value};
use crate::design::shop::PartRecord;
use crate::design::{Design, Dimension};
use crate::joint::{Fixing, JointKind, local_axis};
use crate::length::trimmed_to;
use crate::model::{Joint, JointId, Material, Model, Part, PartId, SHOP_PARTS};
use crate::origin::{Origin, Size};
use crate::place::Dir;
use crate::sentence::capital;

/// Every part that is there and no longer fits; parts alike that are wrong alike are told together.
pub(super) fn check(design: &Design, model: &Model) -> Vec<Finding> {
    if design.shop.parts.is_empty() {
        return Vec::new();
    }
    let misfits = misfits(model);
    let mut groups: Vec<Vec<&Misfit>> = Vec::new();
    for misfit in &misfits {
        match groups.iter_mut().find(|group| alike(model, group[0], misfit)) {
            Some(group) => group.push(misfit),
            None => groups.push(vec![misfit]),
        }
    }
    let mut findings: Vec<Finding> = Vec::new();
    for (index, group) in groups.iter().enumerate() {
        findings.push(finding(design, model, group, index < MOST_SOLVED));
    }
    findings.extend(recut::check(design, model));
    findings.extend(design.shop.parts.iter().filter_map(|record| unwritten(model, record)));
    findings
}

/// For so many findings a case is sought in which the parts fit: each takes several derivations.
const MOST_SOLVED: usize = 4;

/// Takes away what other checks say of joints whose cause is told here; and where another check says what a wrong size does, its finding
/// gets the remedies of the part that is there.
pub(super) fn quiet(findings: &mut Vec<Finding>) {
    hand_over(findings);
    let told: HashSet<_> =
        findings.iter().filter(|finding| finding.rule == Rule::MadePartFits).flat_map(|finding| finding.explains.clone()).collect();
    findings.retain(|finding| {
        let pair = finding.parts.first().zip(finding.parts.get(1)).map(|(a, b)| (*a, *b));
        let mut pairs = finding.explains.iter().copied().chain(pair);
        let known = |(a, b): (PartId, PartId)| told.contains(&(a, b)) || told.contains(&(b, a));
        match finding.rule {
            Rule::Shoulder => !pairs.all(known),
            // A panel is too small or too large for both of its grooves at once.
            Rule::PanelEngaged | Rule::PanelBottoms => !pairs.any(known),
            _ => true,
        }
    });
}

/// A size that no joint of the frame minds may still be wrong for what goes by it, as the length of a loose tenon for its mortises.
fn hand_over(findings: &mut Vec<Finding>) {
    let is_note = |finding: &Finding| finding.rule == Rule::MadePartFits && finding.explains.is_empty() && !finding.remedies.is_empty();
    let minds = |finding: &Finding| {
        let of_pieces = [Rule::TenonLength, Rule::BottomRoom, Rule::TenonHold, Rule::TenonThickness, Rule::PanelThickness];
        of_pieces.contains(&finding.rule)
    };
    let (notes, mut others): (Vec<Finding>, Vec<Finding>) = findings.drain(..).partition(is_note);
    for note in notes {
        let mut told = false;
        for finding in others.iter_mut().filter(|finding| minds(finding) && finding.parts.iter().any(|part| note.parts.contains(part))) {
            // A decision no longer changes a part that is there.
            finding.remedies.clone_from(&note.remedies);
            told = true;
        }
        if !told {
            others.push(note);
        }
    }
    *findings = others;
}

/// A size of a part that is there and leaves joints open, or reaches too far.
struct Misfit {
    part: PartId,
    of: Dimension,
    /// What is planned less what is there, mm; negative where the part is too large.
    short: f64,
    /// The joints that stay open, each with its gap, mm; negative where the part runs into the other. None where no joint minds.
    open: Vec<(JointId, f64)>,
}

/// A part that is cut and differs by more than this from what is planned is told even where no joint minds, mm: a top then stands
/// over its case less than it should (a millimetre is seen: common practice, no source).
const SEEN: f64 = 1.0;

fn misfits(model: &Model) -> Vec<Misfit> {
    let of_parts = model.parts.iter().flat_map(|part| Dimension::ALL.into_iter().map(move |of| (part, of)));
    of_parts
        .filter_map(|(part, of)| {
            let short = lacking(part, of)?;
            let open: Vec<_> = model.joints_of(part.id).filter_map(|joint| Some((joint.id, gap(model, joint, part, of)?))).collect();
            let seen = part.state.is_cut() && short.abs() > SEEN;
            (!open.is_empty() || seen).then_some(Misfit { part: part.id, of, short, open })
        })
        .collect()
}

/// What a part that is there lacks to the size that is planned, mm.
pub(super) fn lacking(part: &Part, of: Dimension) -> Option<f64> {
    let size = &part.size[of.index()];
    let short = planned(size)?.mm - size.mm;
    (short.abs() > TOUCH).then_some(short)
}

/// What would be planned for a size that was measured on one part, or that it was cut to.
fn planned(size: &Size) -> Option<&Size> {
    match &size.origin {
        Origin::Measured { path, planned } if path.starts_with(SHOP_PARTS) => Some(planned),
        Origin::Measured { .. } | Origin::Decision { .. } | Origin::Sum(_) | Origin::Rule { .. } => None,
    }
}

/// By how much a joint stays open for the sake of a size of one of its parts, mm; negative where the two run into each other.
fn gap(model: &Model, joint: &Joint, part: &Part, of: Dimension) -> Option<f64> {
    let (a, b) = (model.part(joint.a), model.part(joint.b));
    let into = joint.contact.into.vector();
    if part.id != a.id && part.id != b.id || local_axis(part, into) != of.index() {
        return None;
    }
    // Where both are wrong, the one that comes up is told of.
    if part.id == b.id && lacking(a, Dimension::ALL[local_axis(a, into)]).is_some() {
        return None;
    }
    let gap = if let JointKind::Groove(figures) = &joint.kind {
        let reach = engagement::reach(a, joint);
        match (reach < engagement::LEAST_ENGAGED - TOUCH, reach > figures.depth + TOUCH) {
            (true, _) => figures.depth - figures.play - reach,
            (_, true) => figures.depth - reach,
            (false, false) => return None,
        }
    } else if joint.kind.has_shoulder() {
        let (gap, beside) = gaps(model, joint);
        if beside >= -TOUCH {
            return None;
        }
        gap
    } else {
        return None;
    };
    (gap.abs() > TOUCH).then_some(gap)
}

/// Whether two are wrong in the same way, so that one finding speaks for both.
fn alike(model: &Model, a: &Misfit, b: &Misfit) -> bool {
    let (first, second) = (model.part(a.part), model.part(b.part));
    let same_size = (first.size[a.of.index()].mm - second.size[b.of.index()].mm).abs() <= TOUCH;
    let both_mind = a.open.is_empty() == b.open.is_empty();
    both_mind && first.kind == second.kind && first.state == second.state && a.of == b.of && same_size && (a.short - b.short).abs() <= TOUCH
}

fn finding(design: &Design, model: &Model, group: &[&Misfit], solve: bool) -> Finding {
    let first = group[0];
    let part = model.part(first.part);
    let size = &part.size[first.of.index()];
    let wanted = size.mm + first.short;
    let amount = first.short.abs();
    let (too, mut figures) = if first.short > 0.0 {
        (small_word(first.of), vec![Figure::mm("lacking", amount)])
    } else {
        (large_word(first.of), vec![Figure::mm("over", amount)])
    };
    figures.extend([Figure::mm("there", size.mm), Figure::mm("wanted", wanted)]);
    figures.extend(first.open.iter().map(|(_, gap)| if *gap > 0.0 { Figure::mm("open", *gap) } else { Figure::mm("too far", -gap) }));
    let who = match group.len() {
        1 => format!("{} is", part.title),
        more => format!("{} and {} more are", part.title, more - 1),
    };
    let (mut parts, mut explains) = (Vec::new(), Vec::new());
    for misfit in group {
        parts.push(misfit.part);
        for (joint, _) in &misfit.open {
            let joint = model.joint(*joint);
            explains.push((joint.a, joint.b));
            explains.extend(joint.loose.iter().flat_map(|loose| [(joint.a, *loose), (joint.b, *loose)]));
        }
    }
    parts.extend(first.open.iter().map(|(joint, _)| other(model.joint(*joint), first.part)));
    let at = first.open.first().map(|(joint, _)| model.joint(*joint));
    Finding {
        rule: Rule::MadePartFits,
        seriousness: seriousness(model, part, first),
        parts,
        explains,
        joint: at.map(|joint| joint.id),
        place: Some(at.map_or_else(|| part.block().centre(), |joint| joint.contact.centre)),
        figures,
        message: format!(
            "{who} {} too {too}, {} where {} is wanted: {}",
            small(amount),
            mm(size.mm),
            mm(wanted),
            consequences(model, first, group.len() > 1)
        ),
        source: "geometry",
        remedies: remedies(design, model, group, solve),
    }
}

fn small_word(of: Dimension) -> &'static str {
    match of {
        Dimension::Length => "short",
        Dimension::Width => "narrow",
        Dimension::Thickness => "thin",
    }
}

fn large_word(of: Dimension) -> &'static str {
    match of {
        Dimension::Length => "long",
        Dimension::Width => "wide",
        Dimension::Thickness => "thick",
    }
}

fn other(joint: &Joint, part: PartId) -> PartId {
    if joint.a == part { joint.b } else { joint.a }
}

/// A rough part that is too large is only not yet finished; what merely lies on another may be packed.
fn seriousness(model: &Model, part: &Part, misfit: &Misfit) -> Seriousness {
    let rests = |joint: JointId| matches!(model.joint(joint).kind, JointKind::Plain(Fixing::Rest));
    if misfit.open.is_empty() || misfit.short < 0.0 && !part.state.is_cut() {
        Seriousness::Note
    } else if misfit.short > 0.0 && misfit.open.iter().all(|(joint, _)| rests(*joint)) {
        Seriousness::AtRisk
    } else {
        Seriousness::WillFail
    }
}

/// "the joint with Post, front right stays open by 12 mm".
fn consequences(model: &Model, misfit: &Misfit, each: bool) -> String {
    if misfit.open.is_empty() {
        return "no joint minds".to_owned();
    }
    let words: Vec<_> = misfit
        .open
        .iter()
        .map(|(joint, gap)| {
            let joint = model.joint(*joint);
            let with = &model.part(other(joint, misfit.part)).title;
            match (&joint.kind, *gap > 0.0) {
                (JointKind::Groove(_), true) => format!("it reaches {} less into {with} than it should", small(*gap)),
                (JointKind::Groove(_), false) => format!("it reaches {} past the bottom of its groove in {with}", small(-gap)),
                (_, true) => format!("the joint with {with} stays open by {}", small(*gap)),
                (_, false) => format!("it runs {} into {with}", small(-gap)),
            }
        })
        .collect();
    let words = words.join("; ");
    if each { format!("{words}, and so with each") } else { words }
}

/// What would save the parts of a group.
fn remedies(design: &Design, model: &Model, group: &[&Misfit], solve: bool) -> Vec<Remedy> {
    let first = group[0];
    let part = model.part(first.part);
    let glued = group.iter().any(|misfit| model.part(misfit.part).state == crate::design::shop::State::Glued);
    let grooved = first.open.iter().any(|(joint, _)| matches!(model.joint(*joint).kind, JointKind::Groove(_)));
    let wanted = part.size[first.of.index()].mm + first.short;
    let amount = mm(first.short.abs());
    let mut remedies = Vec::new();
    if first.short > 0.0 && !grooved && !first.open.is_empty() && group.iter().all(|misfit| takes_shim(model, misfit)) {
        remedies.push(shim(design, model, group));
    }
    // A sheet is never planed: its thickness is what was bought.
    let of_sheet = matches!(part.material, Material::Sheet(_));
    let other_sheet = of_sheet && first.of == Dimension::Thickness;
    if first.short < 0.0 && !glued && !other_sheet {
        let what = if first.of == Dimension::Length || of_sheet { "Cut" } else { "Plane" };
        let changes = group.iter().map(|misfit| made_right(model, misfit)).collect();
        remedies.push(Remedy { words: format!("{what} {amount} mm off"), changes });
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

/// The record that a part now has the size that is wanted.
fn made_right(model: &Model, misfit: &Misfit) -> (String, String) {
    let part = model.part(misfit.part);
    let wanted = part.size[misfit.of.index()].mm + misfit.short;
    (format!("made.{}.{}", part.name, misfit.of.word()), trimmed_to(wanted, 6))
}

/// What stands where the gap of a part is best: at the second end, or at the first where the part's cuts then lie right.
fn gap_at<'m>(design: &Design, model: &'m Model, misfit: &Misfit) -> &'m str {
    let Some(open) = misfit.open.first().map(|(joint, _)| model.joint(*joint)) else { return "" };
    let part = model.part(misfit.part);
    let off = design.shop.record(&part.name).map_or(0.0, |record| recut::stands_off(model, part, record));
    let far = |joint: &&Joint| joint.a == misfit.part && joint.contact.into == open.contact.into.opposite();
    let opposite = model.joints_of(misfit.part).find(far).filter(|_| misfit.of == Dimension::Length && off > 0.0);
    model.part(other(opposite.unwrap_or(open), misfit.part)).title.as_str()
}

/// Whether a shim makes up what a part lacks: what goes through it must still hold, and what lies on others would want one at every end.
fn takes_shim(model: &Model, misfit: &Misfit) -> bool {
    misfit.open.iter().all(|(joint, gap)| {
        let joint = model.joint(*joint);
        !lies_on(joint, misfit.part) && tenons::hold_through(&joint.kind, *gap)
    })
}

/// Whether a part lies on the other of a joint by its weight alone.
fn lies_on(joint: &Joint, part: PartId) -> bool {
    let from_part = if joint.a == part { joint.contact.into } else { joint.contact.into.opposite() };
    matches!(joint.kind, JointKind::Plain(Fixing::Rest)) && from_part == Dir::MinusY
}

/// A shim glued on: the part then has the size that is wanted.
fn shim(design: &Design, model: &Model, group: &[&Misfit]) -> Remedy {
    let first = group[0];
    let amount = mm(first.short);
    let mut changes = Vec::new();
    for misfit in group {
        let part = model.part(misfit.part);
        let name = &part.name;
        let off = design.shop.record(name).map_or(0.0, |record| recut::stands_off(model, part, record));
        changes.push(if misfit.of == Dimension::Length && off > 0.0 {
            (format!("made.{name}.first_end"), trimmed_to(misfit.short, 6))
        } else {
            made_right(model, misfit)
        });
        let shim = format!("with a shim of {amount} mm at {}", gap_at(design, model, misfit));
        let before = design.shop.record(name).map_or("", |record| record.note.as_str());
        let note = if before.is_empty() { shim } else { format!("{before}; {shim}") };
        changes.push((format!("made.{name}.note"), note));
    }
    let joint = first.open.first().map(|(joint, _)| model.joint(*joint));
    let through = if joint.is_some_and(|joint| !joint.loose.is_empty()) { ", the tenon going through it" } else { "" };
    let words = if group.len() == 1 {
        format!("Put a shim of {amount} mm at {}{through}", gap_at(design, model, first))
    } else {
        format!("Put a shim of {amount} mm at one end of each{through}")
    };
    Remedy { words, changes }
}

/// Decisions that say how large the case is and how it is divided, as against what its parts are made of.
fn is_of_case(path: &str) -> bool {
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

/// What is wrong with parts that are there: names and sizes; no size where it is a cut.
fn faults(design: &Design, model: &Model) -> HashSet<(String, Option<Dimension>)> {
    let sizes = misfits(model)
        .into_iter()
        .filter(|misfit| !misfit.open.is_empty())
        .map(|misfit| (model.part(misfit.part).name.clone(), Some(misfit.of)));
    sizes.chain(recut::wrong(design, model).map(|part| (part.name.clone(), None))).collect()
}

/// A part that is said to be cut, and nobody said to what.
fn unwritten(model: &Model, record: &PartRecord) -> Option<Finding> {
    let written = Dimension::ALL.iter().all(|of| record.holds(*of).is_some());
    if !record.state.is_cut() || written {
        return None;
    }
    let part = model.find(&record.part)?;
    Some(Finding {
        rule: Rule::MadePartFits,
        seriousness: Seriousness::Note,
        parts: vec![part.id],
        explains: Vec::new(),
        joint: None,
        place: Some(part.block().centre()),
        figures: Vec::new(),
        message: format!("{} is {}, but not all its sizes are written down: those follow the plan", part.title, record.state.word()),
        source: "the design",
        remedies: vec![Remedy {
            words: "Write down that it is as planned now".to_owned(),
            changes: vec![(format!("made.{}.cuts", record.part), "planned".to_owned())],
        }],
    })
}
