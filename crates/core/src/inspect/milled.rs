//! Parts that are there and no longer fit: what stays open, by how much, and what would save them.
//!
//! A part keeps the sizes that were measured on it, and once it is cut those it was cut to, while all that is not yet cut follows
//! the plan. Where the two differ along a joint, the joint stays open or the part runs into its neighbour. [`super::recut`] looks at
//! the joints cut in the part.

mod gap;
mod glued;
mod remedies;
mod rough;

use std::collections::HashSet;

use super::proof::Proof;
use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm, recut, small};
use crate::design::shop::PartRecord;
use crate::design::{Design, Dimension};
use crate::joint::{Fixing, JointKind};
use crate::model::{Joint, JointId, Material, Model, Part, PartId, PartKind, Role, SHOP_PARTS};
use crate::origin::{Origin, Size};
use gap::gaps_of;
pub(super) use gap::{Gap, in_holes};
pub(crate) use remedies::is_of_case;
use remedies::remedies;

/// Every part that is there and no longer fits; parts alike that are wrong alike are told together.
pub(super) fn check(proof: &Proof<'_>, design: &Design, model: &Model) -> Vec<Finding> {
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
        findings.push(finding(design, model, group, proof.seeks() && index < MOST_SOLVED));
    }
    findings.extend(recut::check(design, model));
    findings.extend(rough::check(design, model));
    findings.extend(glued::check(model));
    findings.extend(design.shop.parts.iter().filter_map(|record| unwritten(model, record)));
    findings
}

/// For so many findings a case is sought in which the parts fit: each takes several derivations.
const MOST_SOLVED: usize = 4;

/// Takes away what other checks say of joints whose cause is told here; and where another check says what a wrong size does, its finding
/// gets the remedies of the part that is there.
pub(super) fn quiet(model: &Model, findings: &mut Vec<Finding>) {
    hand_over(findings);
    let told: Vec<(Seriousness, (PartId, PartId))> = findings
        .iter()
        .filter(|finding| finding.rule == Rule::MadePartFits)
        .flat_map(|finding| finding.explains.iter().map(|pair| (finding.seriousness, *pair)))
        .collect();
    // What is cut wrongly is told of the part that has the cut.
    let of_cuts: HashSet<_> =
        findings.iter().filter(|finding| finding.rule == Rule::CutsStillRight).flat_map(|finding| finding.explains.clone()).collect();
    findings.retain(|finding| {
        let pair = finding.parts.first().zip(finding.parts.get(1)).map(|(a, b)| (*a, *b));
        let mut pairs = finding.explains.iter().copied().chain(pair);
        let known_as = |(a, b): (PartId, PartId), worst: Seriousness| {
            told.iter().any(|(how, pair)| *how <= worst && (*pair == (a, b) || *pair == (b, a)))
        };
        let known = |pair: (PartId, PartId)| known_as(pair, Seriousness::Note);
        // Of what lies on others it is told how it lies best.
        let lies = finding.joint.is_some_and(|joint| matches!(model.joint(joint).kind, JointKind::Plain(Fixing::Rest)));
        let put = || pair.is_some_and(|(a, _)| told.iter().any(|(_, (part, _))| *part == a));
        match finding.rule {
            Rule::Shoulder if lies && put() => false,
            Rule::Shoulder => !pairs.all(known),
            // What is told as less grave does not speak for what is worse.
            // What a floor lacks on its bearers is told there.
            Rule::FloorCloses => !put(),
            Rule::SlatBears | Rule::FloorBears | Rule::CleatBears => !pairs.all(|pair| known_as(pair, finding.seriousness)),
            Rule::TenonLength | Rule::BottomRoom | Rule::TenonHold => {
                !pairs.all(|(a, b)| of_cuts.contains(&(a, b)) || of_cuts.contains(&(b, a)))
            }
            // A panel is too small or too large for both of its grooves at once.
            Rule::PanelEngaged | Rule::PanelBottoms => !pairs.any(known),
            _ => true,
        }
    });
}

/// A size that no joint of the frame minds may still be wrong for what goes by it, as the length of a loose tenon for its mortises.
fn hand_over(findings: &mut Vec<Finding>) {
    let is_note = |finding: &Finding| finding.rule == Rule::MadePartFits && finding.explains.is_empty() && !finding.remedies.is_empty();
    let minds = |finding: &Finding, note: &Finding| {
        let of_pieces = [
            Rule::TenonLength,
            Rule::BottomRoom,
            Rule::TenonHold,
            Rule::TenonThickness,
            Rule::PanelThickness,
            Rule::CleatBears,
            Rule::ButtonHolds,
            Rule::PanelEngaged,
            Rule::PanelBottoms,
        ];
        // A joint tells how it is; what the part that comes up measures is what it is cut in.
        let own = finding.rule == Rule::JointRule && finding.parts.first().is_some_and(|part| note.parts.contains(part));
        of_pieces.contains(&finding.rule) || own
    };
    // What is cut in a part, or stands on it, and finds too little of it: the decisions that mend that still do.
    let finds_too_little = |finding: &Finding, note: &Finding| {
        let of_cuts = [
            Rule::JointRule,
            Rule::MortisesMeet,
            Rule::MortiseBreaksOut,
            Rule::MortiseCheek,
            Rule::ShortGrain,
            Rule::GrooveLeavesWood,
            Rule::Shoulder,
            Rule::SlatBears,
            Rule::FloorBears,
            Rule::FloorCloses,
            Rule::ShelfHasTooth,
        ];
        let about = finding.parts.iter().take(2).any(|part| note.parts.contains(part));
        let too_small = note.figures.iter().any(|figure| figure.name == LACKING);
        finding.seriousness < Seriousness::Note && too_small && about && of_cuts.contains(&finding.rule)
    };
    let (notes, mut others): (Vec<Finding>, Vec<Finding>) = findings.drain(..).partition(is_note);
    for note in notes {
        let mut told = false;
        for finding in
            others.iter_mut().filter(|finding| minds(finding, &note) && finding.parts.iter().any(|part| note.parts.contains(part)))
        {
            // A decision no longer changes a part that is there.
            finding.remedies.clone_from(&note.remedies);
            told = true;
        }
        for finding in others.iter_mut().filter(|finding| finds_too_little(finding, &note)) {
            let anew = note.remedies.iter().filter(|remedy| !finding.remedies.contains(remedy)).cloned();
            let anew: Vec<Remedy> = anew.collect();
            finding.remedies.extend(anew);
            told = true;
        }
        if !told {
            others.push(note);
        }
    }
    *findings = others;
}

/// The same where only the solids show what a wrong size does: a part that is too large runs into others, one that is too small sags or breaks.
pub(super) fn hand_over_to_solids(findings: &mut Vec<Finding>) {
    let amount = |note: &Finding, name: &str| note.figures.iter().any(|figure| figure.name == name);
    let notes: Vec<Finding> =
        findings.iter().filter(|finding| finding.rule == Rule::MadePartFits && finding.seriousness == Seriousness::Note).cloned().collect();
    for note in notes.iter().filter(|note| note.explains.is_empty()) {
        let says = |finding: &Finding| match finding.rule {
            Rule::Overlap => amount(note, OVER),
            Rule::Sags | Rule::Holds => amount(note, LACKING),
            _ => false,
        };
        let about = |finding: &Finding| finding.parts.iter().take(2).any(|part| note.parts.contains(part));
        for finding in findings.iter_mut().filter(|finding| says(finding) && about(finding)) {
            let anew: Vec<Remedy> = note.remedies.iter().filter(|remedy| !finding.remedies.contains(remedy)).cloned().collect();
            finding.remedies.splice(0..0, anew);
        }
        // One cause is told once.
        if findings.iter().any(|finding| says(finding) && about(finding)) {
            findings.retain(|finding| finding != note);
        }
    }
}

/// A size of a part that is there and leaves joints open, or reaches too far.
struct Misfit {
    part: PartId,
    of: Dimension,
    /// What is planned less what is there, mm; negative where the part is too large.
    short: f64,
    /// The joints that mind, each with what it lacks. None where no joint minds.
    open: Vec<(JointId, Gap)>,
}

/// A part that differs by more than this from what is planned is told even where no joint minds, mm (a millimetre is seen: common practice, no
/// source).
const SEEN: f64 = 1.0;

fn misfits(model: &Model) -> Vec<Misfit> {
    let of_parts = model.parts.iter().flat_map(|part| Dimension::ALL.into_iter().map(move |of| (part, of)));
    of_parts
        .filter_map(|(part, of)| {
            let short = lacking(part, of)?;
            let open = gaps_of(model, part, of);
            // What is too large and not yet cut is still to come to its size; a sheet is as thick as it is.
            let stays = part.state.is_cut() || short > 0.0 || matches!(part.material, Material::Sheet(_)) && of == Dimension::Thickness;
            let seen = stays && (short.abs() > SEEN || gives_level(part, of));
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
        (small_word(first.of), vec![Figure::mm(LACKING, amount)])
    } else {
        (large_word(first.of), vec![Figure::mm(OVER, amount)])
    };
    figures.extend([Figure::mm("there", size.mm), Figure::mm("wanted", wanted)]);
    figures.extend(first.open.iter().flat_map(|(_, gap)| gap.figures()));
    let who = match group.len() {
        1 => format!("{} is", part.title),
        more => format!("{} and {} more are", part.title, more - 1),
    };
    let (mut parts, mut explains) = (Vec::new(), Vec::new());
    for misfit in group {
        parts.push(misfit.part);
        for (joint, gap) in &misfit.open {
            let joint = model.joint(*joint);
            if joint.loose.contains(&misfit.part) {
                explains.extend([(joint.a, misfit.part), (joint.b, misfit.part)]);
                continue;
            }
            explains.push((joint.a, joint.b));
            if let Gap::Into(_) = gap {
                // What crosses the joint in the other part is run into as well.
                let there = other(joint, misfit.part);
                explains.extend(model.joints_of(there).flat_map(|crossing| &crossing.loose).map(|loose| (misfit.part, *loose)));
            }
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

/// What the figure of a part that is too small is called.
const LACKING: &str = "lacking";
/// What that of one that is too large is called.
const OVER: &str = "over";

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

/// A rough part that is too large is only not yet finished.
fn seriousness(model: &Model, part: &Part, misfit: &Misfit) -> Seriousness {
    if misfit.short < 0.0 && !part.state.is_cut() {
        return Seriousness::Note;
    }
    let worst = misfit.open.iter().map(|(joint, gap)| gap.seriousness(model.joint(*joint))).min();
    worst.unwrap_or(Seriousness::Note)
}

/// What each joint lacks, one after the other.
fn consequences(model: &Model, misfit: &Misfit, each: bool) -> String {
    if misfit.open.is_empty() {
        return shifts(model, model.part(misfit.part), misfit).unwrap_or_else(|| {
            let part = model.part(misfit.part);
            if part.state.is_cut() { "no joint minds".to_owned() } else { "what is not yet cut follows it".to_owned() }
        });
    }
    let words = misfit.open.iter().map(|(joint, gap)| {
        let joint = model.joint(*joint);
        gap.words(joint, &model.part(other(joint, misfit.part)).title)
    });
    let words = words.collect::<Vec<_>>().join("; ");
    if each { format!("{words}, and so with each") } else { words }
}

/// Whether a size of a part is what a shelf or a floor lies higher or lower by.
fn gives_level(part: &Part, of: Dimension) -> bool {
    let upright = (part.pose.basis * glam::DVec3::AXES[of.index()]).y.abs() > 0.5;
    upright && matches!(part.kind, PartKind::Cleat | PartKind::Slat | PartKind::Floor)
}

/// What merely stands higher or lower for it, with its new level.
fn shifts(model: &Model, part: &Part, misfit: &Misfit) -> Option<String> {
    if !gives_level(part, misfit.of) {
        return None;
    }
    let of_shelf = part.kind != PartKind::Floor;
    // What lies on it, and what lies beside it on the same.
    let lying = |on: PartId| model.joints_of(on).filter(move |joint| joint.b == on).map(|joint| model.part(joint.a).block().max.y);
    let own = part.block().max.y;
    let level = match part.kind {
        PartKind::Cleat => lying(part.id).reduce(f64::max)?,
        PartKind::Slat => {
            model.joints_of(part.id).filter(|joint| joint.role == Role::SlatToCleat).flat_map(|joint| lying(joint.b)).fold(own, f64::max)
        }
        _ => own,
    };
    if level > own + TOUCH && part.kind == PartKind::Slat {
        return Some(format!("it lies {} lower than those beside it, and bears nothing", small(level - own)));
    }
    let (what, way) = (if of_shelf { "its shelf" } else { "it" }, if misfit.short > 0.0 { "lower" } else { "higher" });
    Some(format!("{what} stands {} {way}, {} mm over the floor of the room", small(misfit.short.abs()), mm(level)))
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
