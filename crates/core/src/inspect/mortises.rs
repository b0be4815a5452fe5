//! Mortises, slots and bored holes: those that meet in a part, come out of it, or leave too little beside them.

use casewright_solid::VoidGap;
use glam::DVec3;

use super::clash::{self, Depths};
use super::proof::Proof;
use super::voids::{Form, Void, Voids};
use super::walls::{LEAST_BEHIND, WALL_SOURCE, WEAK_CHEEK, least_cheek, least_wall};
use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm};
use crate::joint::{JointKind, role_path, sizes_path};
use crate::model::{Cut, CutState, Feature, Joint, JointId, Model, Part, PartId, Role, prism_bounds};

pub(super) fn check(proof: &Proof<'_>, model: &Model, voids: &Voids<'_>) -> Vec<Finding> {
    model
        .parts
        .iter()
        .flat_map(|part| {
            let holes = holes(model, voids, part);
            let near = near_pairs(model, part, voids, &holes);
            let comes_out: Vec<&Void<'_>> = holes
                .iter()
                .copied()
                .filter(|hole| matches!(broken_out(model, part, hole), Some(Out::Behind(left)) if left <= TOUCH))
                .collect();
            let told = |near: &&Near<'_, '_>| !comes_of_breaking_out(model, near, &comes_out);
            let mut findings: Vec<Finding> = near.iter().filter(told).map(|near| too_near(model, part, near, proof)).collect();
            // The holes of a row are alike.
            let again = |index: usize| index > 0 && is_row(holes[index]) && std::ptr::eq(holes[index - 1].cut, holes[index].cut);
            for (_, hole) in holes.iter().enumerate().filter(|(index, _)| !again(*index)) {
                findings.extend(breaking_out(proof, model, part, hole));
                findings.extend(thin_cheek(model, part, hole));
            }
            findings
        })
        .collect()
}

/// A tenon that comes out of its post is past its mitre for the same cause, and rows of holes bored right through meet those of the other
/// side.
fn comes_of_breaking_out(model: &Model, near: &Near<'_, '_>, comes_out: &[&Void<'_>]) -> bool {
    let is_out = |joint: &Joint| comes_out.iter().any(|hole| hole.joint() == Some(joint.id));
    let rows = [near.a, near.b].iter().all(|void| is_row(void));
    past_mitre(model, near.a, near.b).is_some_and(|(joint, _)| is_out(joint))
        || rows && comes_out.iter().any(|hole| std::ptr::eq(hole.cut, near.a.cut) || std::ptr::eq(hole.cut, near.b.cut))
}

fn is_row(void: &Void<'_>) -> bool {
    matches!(void.cut.feature, Feature::HoleRow { .. })
}

fn holes<'v, 'm>(model: &Model, voids: &'v Voids<'m>, part: &Part) -> Vec<&'v Void<'m>> {
    voids.of(part.id).iter().filter(|void| matches!(void.form, Form::Hole { .. }) && !has_told(model, part, void)).collect()
}

/// Whether a hole is that of a screw through what it holds.
fn is_shanks(model: &Model, part: &Part, hole: &Void<'_>) -> bool {
    let joint = hole.joint().map(|joint| model.joint(joint));
    joint.is_some_and(|joint| joint.a == part.id && matches!(joint.kind, JointKind::ScrewedUp(_)))
}

/// Whether a button is too small for its screw by its own rules: they have told the cause.
pub(super) fn has_told(model: &Model, part: &Part, hole: &Void<'_>) -> bool {
    is_shanks(model, part, hole) && model.joints_of(part.id).any(|joint| joint.a == part.id && !joint.kind.broken().is_empty())
}

/// Two holes of a part with too little between them.
struct Near<'v, 'm> {
    a: &'v Void<'m>,
    b: &'v Void<'m>,
    /// Where, in the part's own measures.
    at: DVec3,
    /// What is between them, mm; nothing where they meet.
    wall: f64,
    meets: bool,
}

fn near_pairs<'v, 'm>(model: &Model, part: &Part, voids: &Voids<'_>, holes: &[&'v Void<'m>]) -> Vec<Near<'v, 'm>> {
    let least = least_wall(part, &model.timbers);
    let mut pairs = Vec::new();
    for (index, a) in holes.iter().copied().enumerate() {
        for b in holes[index + 1..].iter().copied() {
            if a.apart(b) >= least || belong_together(model, a, b) || on_purpose(model, a, b) {
                continue;
            }
            // The wall is measured square to the part's faces, as the rule for two mortises in a post has it.
            let near = match voids.gap(part, a, b) {
                Some(VoidGap::Overlapping { centre, .. }) => Near { a, b, at: centre, wall: 0.0, meets: true },
                Some(VoidGap::Apart { at, .. }) => Near { a, b, at, wall: a.apart(b).max(0.0), meets: false },
                None => continue,
            };
            if near.wall < least - TOUCH {
                pairs.push(near);
            }
        }
    }
    once_for_rows(pairs)
}

/// Two rows that meet do so in every hole; it is told of the first.
fn once_for_rows<'v, 'm>(pairs: Vec<Near<'v, 'm>>) -> Vec<Near<'v, 'm>> {
    let mut told: Vec<[&Cut; 2]> = Vec::new();
    pairs
        .into_iter()
        .filter(|near| {
            let rows = [near.a.cut, near.b.cut];
            let again = told.iter().any(|known| std::ptr::eq(known[0], rows[0]) && std::ptr::eq(known[1], rows[1]));
            if [near.a, near.b].iter().all(|void| is_row(void)) {
                told.push(rows);
            }
            !again
        })
        .collect()
}

/// Holes of one joint are its own affair, such as a haunch beside its mortise or a peg's hole through it, unless they are a row for loose
/// parts, which come from one face.
fn belong_together(model: &Model, a: &Void<'_>, b: &Void<'_>) -> bool {
    let row = |joint: JointId| model.joint(joint).loose.len() > 1;
    let across = |a: Form, b: Form| matches!((a, b), (Form::Hole { face: a, .. }, Form::Hole { face: b, .. }) if a.axis() != b.axis());
    let of_one = |joint: JointId| b.joint() == Some(joint) && (across(a.form, b.form) || !row(joint));
    std::ptr::eq(a.cut, b.cut) || a.joint().is_some_and(of_one)
}

/// Whether two mortises meet as they should: those of mitred tenons in a post.
fn on_purpose(model: &Model, a: &Void<'_>, b: &Void<'_>) -> bool {
    [a, b].into_iter().all(|void| void.joint().is_some_and(|joint| model.joint(joint).kind.meets_others()))
}

fn too_near(model: &Model, part: &Part, near: &Near<'_, '_>, proof: &Proof<'_>) -> Finding {
    let Near { a, b, at, wall, meets } = *near;
    // What is there for nothing stays where it is: it is the other.
    let is_idle = |void: &Void<'_>| void.cut.there == CutState::Idle;
    let (a, b) = if is_idle(a) { (b, a) } else { (a, b) };
    let least = least_wall(part, &model.timbers);
    let mut parts = vec![part.id];
    parts.extend([a, b].iter().filter_map(|void| other(model, void, part.id)));
    parts.dedup();
    // Of the two, the one that has more room to be shallower in.
    let clash = [(a, b), (b, a)]
        .into_iter()
        .filter(|_| !is_idle(b) && [a, b].iter().all(|void| is_of_end(model, void)))
        .filter_map(|(void, other)| Some((void, other, clash::depths(model, part, void, other, least)?)))
        .max_by(|a, b| a.2.unmet.total_cmp(&b.2.unmet));
    let mut figures = vec![Figure::mm("wall", wall), Figure::mm("least wall", least)];
    let what = if let Some((joint, past)) = past_mitre(model, a, b) {
        format!(
            "The tenon of {} is {} mm past the mitre at which it meets the other in {}",
            model.part(joint.a).title,
            mm(past),
            part.title
        )
    } else if meets && is_idle(b) {
        format!("A {} breaks {} mm into a {} that is there for nothing in {}", a.word(), mm(-a.apart(b)), b.word(), part.title)
    } else if meets {
        let which = if a.word() == b.word() { "the other" } else { "a" };
        format!("A {} breaks {} mm into {which} {} in {}", a.word(), mm(-a.apart(b)), b.word(), part.title)
    } else {
        let second = if a.word() == b.word() { "another".to_owned() } else { format!("a {}", b.word()) };
        format!("A {} and {second} leave a wall of {} mm in {}", a.word(), mm(wall), part.title)
    };
    let whose = if parts.len() > 1 { format!(": for {}", titles(model, &parts[1..])) } else { String::new() };
    let (better, remedies) = if let Some((void, other, depths)) = clash {
        figures.extend(clash_figures(part, void, depths));
        let better = format!("; {} mm deep they leave {} mm", mm(depths.unmet), mm(least));
        (better, clash::remedies(proof, model, part, void, other, depths, least))
    } else {
        (String::new(), apart_in_row(model, a, b, least).into_iter().collect())
    };
    Finding {
        explains: if meets { in_holes(model, part, a, b) } else { Vec::new() },
        rule: Rule::MortisesMeet,
        seriousness: if meets { Seriousness::WillFail } else { Seriousness::AtRisk },
        parts,
        joint: a.joint().or(b.joint()),
        place: Some(part.pose.point(at)),
        figures,
        message: format!("{what}{whose}{better}"),
        source: WALL_SOURCE,
        remedies,
    }
}

/// Whether a hole is for the end of a part: other holes are neither mitred nor moved up.
fn is_of_end(model: &Model, void: &Void<'_>) -> bool {
    let of_end = |kind: &JointKind| matches!(kind, JointKind::LooseTenons(_) | JointKind::Tenon(_) | JointKind::Dowels(_));
    void.joint().is_some_and(|joint| of_end(&model.joint(joint).kind))
}

/// Of two tenons that are mitred to meet, the one that is longer than lets them, and by how much, mm.
fn past_mitre<'m>(model: &'m Model, a: &Void<'_>, b: &Void<'_>) -> Option<(&'m Joint, f64)> {
    let joints = [a, b].map(|void| void.joint().map(|joint| model.joint(joint)));
    let [Some((first, over)), Some((second, other))] = joints.map(|joint| Some((joint?, joint?.kind.past_mitre()?))) else { return None };
    let longer = if over >= other { (first, over) } else { (second, other) };
    (longer.1 > TOUCH).then_some(longer)
}

/// Everything that the one hole is for with everything that the other is for, loose parts or the end itself: they meet where the holes do.
fn in_holes(model: &Model, part: &Part, a: &Void<'_>, b: &Void<'_>) -> Vec<(PartId, PartId)> {
    let pins = || model.joints_of(part.id).filter(|joint| joint.b == part.id && joint.role == Role::PinToUpright).map(|joint| joint.a);
    let within = |void: &Void<'_>| match void.joint().map(|joint| model.joint(joint)) {
        Some(joint) if joint.loose.is_empty() => vec![joint.a],
        Some(joint) => joint.loose.clone(),
        None if is_row(void) => pins().collect(),
        None => Vec::new(),
    };
    let others = within(b);
    within(a).into_iter().flat_map(|first| others.iter().map(move |second| (first, *second)).collect::<Vec<_>>()).collect()
}

fn clash_figures(part: &Part, void: &Void<'_>, depths: Depths) -> Vec<Figure> {
    let Form::Hole { face, behind } = void.form else { return Vec::new() };
    vec![
        Figure::mm("depth", part.lwt()[face.axis()] - behind),
        Figure::mm("unmet", depths.unmet),
        Figure::mm("mitred, outer cheek", depths.mitred_outer),
        Figure::mm("mitred, inner cheek", depths.mitred_inner),
    ]
}

/// Wider margins between two mortises of a row.
fn apart_in_row(model: &Model, a: &Void<'_>, b: &Void<'_>, least: f64) -> Option<Remedy> {
    let joint = model.joint(a.joint().filter(|joint| b.joint() == Some(*joint))?);
    let JointKind::LooseTenons(_) = &joint.kind else { return None };
    let path = role_path(joint.role)?;
    Some(Remedy::length(format!("Leave {} mm between them", mm(least)), &format!("joinery.{path}.margin"), least))
}

/// How a hole breaks out of its part.
enum Out {
    /// It comes out of the far face, or nearly: what is left behind it, mm, less than nothing where it comes out.
    Behind(f64),
    /// It comes out at an edge or an end.
    Beside,
}

fn broken_out(model: &Model, part: &Part, hole: &Void<'_>) -> Option<Out> {
    let Form::Hole { face, behind } = hole.form else { return None };
    // Teeth take their depth from the back edge.
    let teeth = part.cuts.iter().find_map(|cut| match cut.feature {
        Feature::Teeth { seat, .. } if face.axis() == 1 && face.is_first() => Some(seat),
        _ => None,
    });
    let joint = hole.joint().map(|joint| model.joint(joint));
    // What is screwed up has a hole for the shank right through it.
    let is_shanks = is_shanks(model, part, hole);
    let behind = match joint.map(|joint| &joint.kind) {
        // A void ends a little past the face it comes out of.
        Some(JointKind::ScrewedUp(figures)) if !is_shanks => figures.above,
        _ => behind - teeth.unwrap_or(0.0),
    };
    let meant = behind <= TOUCH && (is_shanks || goes_through(model, hole));
    let through = behind <= TOUCH && !meant;
    // Whatever stays behind a hole in an end is wood along the grain.
    let enough = face.axis() == 0 || meant || behind >= LEAST_BEHIND - TOUCH;
    if through {
        Some(Out::Behind(behind))
    } else if beside(part, hole) <= TOUCH {
        Some(Out::Beside)
    } else {
        (!enough).then_some(Out::Behind(behind))
    }
}

fn breaking_out(proof: &Proof<'_>, model: &Model, part: &Part, hole: &Void<'_>) -> Option<Finding> {
    let out = broken_out(model, part, hole)?;
    let parts: Vec<PartId> = std::iter::once(part.id).chain(other(model, hole, part.id)).collect();
    let hole_for = named(model, hole, part.id);
    let (through, left, least, source) = match out {
        Out::Behind(behind) => {
            (behind <= TOUCH, Figure::mm("left", behind), LEAST_BEHIND, "4 mm behind a blind mortise: common practice, no source")
        }
        Out::Beside => (true, Figure::mm("beside", beside(part, hole)), least_cheek(part, &model.timbers), CHEEK_SOURCE),
    };
    let remedies: Vec<Remedy> = match out {
        Out::Beside if hole.joint().is_some_and(|joint| matches!(model.joint(joint).kind, JointKind::Dowels(_))) => {
            clash::dowels_kept_in(proof, model, hole)
        }
        _ => clash::kept_in(model, part, hole, least - left.value),
    };
    Some(Finding {
        explains: Vec::new(),
        rule: Rule::MortiseBreaksOut,
        seriousness: if through { Seriousness::WillFail } else { Seriousness::AtRisk },
        joint: hole.joint(),
        place: Some(part.pose.point(hole.centre())),
        message: match out {
            Out::Beside => format!("The {hole_for} breaks out of {} at its edge or its end", part.title),
            Out::Behind(_) if through => format!("The {hole_for} breaks out of {}", part.title),
            Out::Behind(behind) => format!("The {hole_for} leaves {} mm behind it in {}", mm(behind), part.title),
        },
        figures: vec![left, Figure::mm("least", least)],
        source,
        remedies,
        parts,
    })
}

/// Whether a hole is meant to go right through.
fn goes_through(model: &Model, hole: &Void<'_>) -> bool {
    let stops = |kind: &JointKind| {
        let blind = matches!(
            kind,
            JointKind::LooseTenons(_)
                | JointKind::Tenon(_)
                | JointKind::Dowels(_)
                | JointKind::Button(_)
                | JointKind::Clip(_)
                | JointKind::Plate(_)
                | JointKind::ScrewedUp(_)
        );
        blind && !kind.goes_through()
    };
    // A pin needs a bottom to stand on, and nobody wants to see it from the other side.
    hole.joint().map_or(!is_row(hole), |joint| !stops(&model.joint(joint).kind))
}

/// The least wood beside a hole, across the grain, mm; negative by how far it comes out.
fn beside(part: &Part, hole: &Void<'_>) -> f64 {
    let Form::Hole { face, .. } = hole.form else { return f64::INFINITY };
    let size = part.lwt();
    let axes = (1..3).filter(|axis| *axis != face.axis());
    let (low, high) = prism_bounds(&hole.prism);
    let across = axes.map(|axis| low[axis].min(size[axis] - high[axis])).fold(f64::INFINITY, f64::min);
    // Along the grain only coming right out is looked for here; short grain has its own rule.
    let along = if face.axis() == 0 { f64::INFINITY } else { low.x.min(size.x - high.x) };
    if along <= TOUCH { along } else { across }
}

const CHEEK_SOURCE: &str = "6 mm beside a mortise in hardwood, 8 mm in softwood, never under 5: common practice, no source";

fn thin_cheek(model: &Model, part: &Part, hole: &Void<'_>) -> Option<Finding> {
    let (wall, least) = (beside(part, hole), least_cheek(part, &model.timbers));
    if wall <= TOUCH || wall >= least - TOUCH {
        return None;
    }
    let weak = wall < WEAK_CHEEK.min(least) - TOUCH;
    // A joint that is too thick or too loose by its own rules has told the cause.
    if !weak && hole.joint().is_some_and(|joint| !model.joint(joint).kind.broken().is_empty()) {
        return None;
    }
    let parts: Vec<PartId> = std::iter::once(part.id).chain(other(model, hole, part.id)).collect();
    Some(Finding {
        explains: Vec::new(),
        rule: Rule::MortiseCheek,
        seriousness: if weak { Seriousness::AtRisk } else { Seriousness::Note },
        joint: hole.joint(),
        place: Some(part.pose.point(hole.centre())),
        figures: vec![Figure::mm("beside", wall), Figure::mm("least", least)],
        message: format!("The {} leaves only {} mm beside it in {}", named(model, hole, part.id), mm(wall), part.title),
        source: CHEEK_SOURCE,
        remedies: hole.joint().and_then(|joint| both_cheeks(model.joint(joint))).into_iter().collect(),
        parts,
    })
}

/// A barefaced tenon, which stands at a face of its part, back in the middle of it.
fn both_cheeks(joint: &Joint) -> Option<Remedy> {
    let JointKind::Tenon(figures) = &joint.kind else { return None };
    let changes = vec![(format!("{}.cheeks", sizes_path(joint)?), "both".to_owned())];
    figures.is_barefaced().then(|| Remedy { words: "Give the tenons shoulders on both sides".to_owned(), changes })
}

/// "mortise for the bottom rail", or only "mortise" where it is for no joint.
pub(super) fn named(model: &Model, hole: &Void<'_>, part: PartId) -> String {
    other(model, hole, part).map_or_else(|| hole.word().to_owned(), |other| format!("{} for {}", hole.word(), model.part(other).title))
}

/// The part for which a hole was cut, seen from the part that has the hole.
pub(super) fn other(model: &Model, hole: &Void<'_>, part: PartId) -> Option<PartId> {
    let joint = model.joint(hole.joint()?);
    Some(if joint.a == part { joint.b } else { joint.a })
}

fn titles(model: &Model, parts: &[PartId]) -> String {
    let titles: Vec<_> = parts.iter().map(|part| model.part(*part).title.as_str()).collect();
    titles.join(" and ")
}
