//! Two mortises that come into one post from two of its faces: how deep each may go.

use super::proof::Proof;
use super::tenons::BOTTOM_ROOM;
use super::voids::{Form, Void};
use super::{Remedy, TOUCH, mm};
use crate::design::decisions::BY_RULE;
use crate::joint::{JointKind, role_path, sizes_path};
use crate::model::{Joint, Model, Part, Role};

/// How deep a mortise may go into a post that another mortise crosses, mm.
///
/// ```text
///   the face opposite        the other mortise             the face it is cut into
///   0 ─────────────── near ──────────────────── far ─────────────── post
///                                                 │ wall │◀── unmet ──┤
///                          │1│◀──────── mitred, outer cheek ──────────┤
///                                               │1│◀─ inner cheek ────┤
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Depths {
    /// Without meeting, a wall left between the two.
    pub unmet: f64,
    /// With both tenons mitred to meet, at the cheek nearer to the outside.
    pub mitred_outer: f64,
    /// The same at the cheek nearer to the inside.
    pub mitred_inner: f64,
}

/// Room between two mitred tenons, mm (common practice, no source).
const MITRE_ROOM: f64 = 1.0;

impl Depths {
    /// In a post `post` thick that the other mortise crosses from `near` to `far`, both measured from the face opposite to the one that
    /// this mortise is cut into, with a `wall` between the two (arithmetic).
    pub fn of(post: f64, (near, far): (f64, f64), wall: f64) -> Depths {
        Depths { unmet: post - far - wall, mitred_outer: post - near - MITRE_ROOM, mitred_inner: post - far - MITRE_ROOM }
    }
}

/// From and to, measured from the outside of a post, of the mortise for a rail `rail` thick that stands back by `set_back` and has a tenon
/// `tenon` thick in its middle, mm.
pub fn crossing(rail: f64, set_back: f64, tenon: f64) -> (f64, f64) {
    let near = set_back + (rail - tenon) / 2.0;
    (near, near + tenon)
}

/// How deep `void` may go into `part` past `other`, where the two come from neighbouring faces along the grain.
pub(super) fn depths(model: &Model, part: &Part, void: &Void<'_>, other: &Void<'_>, wall: f64) -> Option<Depths> {
    let (Form::Hole { face, .. }, Form::Hole { face: other_face, .. }) = (void.form, other.form) else { return None };
    let axis = face.axis();
    if axis == 0 || other_face.axis() == 0 || axis == other_face.axis() {
        return None;
    }
    let size = part.lwt()[axis];
    let crossed = (other.low[axis], other.high[axis]);
    let fit = other.joint().map_or(0.0, |joint| thickness_fit(&model.joint(joint).kind)).clamp(0.0, crossed.1 - crossed.0);
    let from_opposite = if face.is_first() { (size - crossed.1, size - crossed.0) } else { crossed };
    let unmet = Depths::of(size, from_opposite, wall);
    // Mitred tenons meet with their cheeks, which stand in their mortises with room beside them.
    let tenon = (from_opposite.0 + fit / 2.0, from_opposite.1 - fit / 2.0);
    Some(Depths { unmet: unmet.unmet, ..Depths::of(size, tenon, wall) })
}

/// Mortise less tenon in thickness, mm.
fn thickness_fit(kind: &JointKind) -> f64 {
    match kind {
        JointKind::LooseTenons(figures) => figures.fit,
        JointKind::Tenon(figures) => figures.fit,
        _ => 0.0,
    }
}

/// What would part them: shallower mortises, mitred tenons, or other heights. Where the design joins both ends, each is a change of it, told
/// with what is then cut; else it can only be told.
pub(super) fn remedies(
    proof: &Proof<'_>,
    model: &Model,
    part: &Part,
    void: &Void<'_>,
    other: &Void<'_>,
    depths: Depths,
    wall: f64,
) -> Vec<Remedy> {
    let [joint, crossing] = [void, other].map(|void| void.joint().map(|joint| model.joint(joint)).filter(|joint| joint.b == part.id));
    let designed = |joint: &Joint| design_path(joint.role).is_some();
    let meeting = joint.zip(crossing).and_then(|(a, b)| meeting_of(a).filter(|path| meeting_of(b).as_ref() == Some(path)));
    let stagger = format!("Stagger their heights, {} mm from the end of one mortise to the other", mm(wall));
    let told = |words: String| Remedy { words, changes: Vec::new() };
    let Some((path, joint)) = meeting.zip(joint) else {
        if joint.is_some_and(designed) && crossing.is_some_and(designed) {
            // Ends of other kinds: no decision stands for both.
            return shallower(joint, depths.unmet).into_iter().collect();
        }
        let mitred = mitre(true, depths.mitred_outer, depths.mitred_inner);
        return vec![shallower(joint, depths.unmet).unwrap_or_else(|| told(go(depths.unmet))), told(mitred), told(stagger)];
    };
    // What is mitred or stops short is as long as the rule has it; what stands at another height keeps its length.
    let ruled = length_by_rule(joint);
    let set = |word: &str, ruled: Option<(String, String)>| -> Vec<(String, String)> {
        std::iter::once((path.clone(), word.to_owned())).chain(ruled).collect()
    };
    let made = |changes: &[(String, String)]| Some(proof.tried(changes)?.model.joints.get(joint.id.0)?.kind.clone());
    let short = shallower(Some(joint), depths.unmet).or_else(|| {
        let changes = set("short", ruled.clone());
        let JointKind::Tenon(figures) = made(&changes)? else { return None };
        Some(Remedy { words: go(figures.depth), changes })
    });
    let changes = set("mitred", ruled.clone());
    let mitred = made(&changes).and_then(|kind| {
        let words = match &kind {
            JointKind::Tenon(figures) => mitre(false, figures.length, figures.shorter_cheek()),
            JointKind::LooseTenons(figures) => mitre(true, figures.mitre?.at_most, figures.mitre?.at_most - figures.thickness),
            _ => return None,
        };
        Some(Remedy { words, changes })
    });
    let staggered = Remedy { words: stagger, changes: set("staggered", None) };
    short.into_iter().chain(mitred).chain(std::iter::once(staggered)).collect()
}

fn go(depth: f64) -> String {
    format!("Go {} mm deep", mm(depth))
}

/// `at_most`: so long they may be, else so long they are.
fn mitre(at_most: bool, outer: f64, inner: f64) -> String {
    let (outer, inner) = (mm(outer), mm(inner));
    if at_most {
        format!("Mitre the tenons so that they meet: at most {outer} mm in at the outer cheek, {inner} mm at the inner")
    } else {
        format!("Mitre the tenons so that they meet: {outer} mm long at the outer cheek, {inner} mm at the inner")
    }
}

/// What would keep a mortise in its part that lacks `by` of wood behind it, or comes out beside: sizes by rule, shoulders on both sides of
/// a barefaced tenon, or less depth.
pub(super) fn kept_in(model: &Model, part: &Part, hole: &Void<'_>, by: f64) -> Vec<Remedy> {
    let Some(joint) = hole.joint().map(|joint| model.joint(joint)).filter(|joint| joint.b == part.id) else { return Vec::new() };
    let Some(path) = design_path(joint.role) else { return Vec::new() };
    let set = |words: &str, path: String, value: &str| Remedy { words: words.to_owned(), changes: vec![(path, value.to_owned())] };
    match &joint.kind {
        JointKind::Tenon(figures) => {
            let bare = figures.shoulders.contains(&0.0);
            let both = bare.then(|| set("Give the tenons shoulders on both sides", format!("joinery.{path}.tenon.cheeks"), "both"));
            let length = set("Take their length by rule", format!("joinery.{path}.tenon.length"), BY_RULE);
            let shoulder = set("Take their edge shoulders by rule", format!("joinery.{path}.tenon.shoulder"), BY_RULE);
            both.into_iter().chain([length, shoulder]).collect()
        }
        JointKind::LooseTenons(figures) => shallower(Some(joint), figures.depth_in_face - by).into_iter().collect(),
        JointKind::Dowels(_) => vec![set("Take their length by rule", format!("joinery.{path}.dowels.length"), BY_RULE)],
        _ => Vec::new(),
    }
}

/// What would keep the holes of dowels in both parts that come out at an edge: thinner dowels or another distance from the edge, each tried
/// on all joints that rest on the same sizes.
pub(super) fn dowels_kept_in(proof: &Proof<'_>, model: &Model, hole: &Void<'_>) -> Vec<Remedy> {
    let Some(joint) = hole.joint().map(|joint| model.joint(joint)) else { return Vec::new() };
    let Some(path) = sizes_path(joint) else { return Vec::new() };
    let kept = |joint: &Joint| match &joint.kind {
        JointKind::Dowels(row) if sizes_path(joint).as_ref() == Some(&path) => {
            let bored = row.diameter + row.fit;
            row.margin > bored / 2.0 + TOUCH && row.stock > bored + TOUCH
        }
        _ => true,
    };
    let by_rule =
        |words: &str, size: &str| Remedy { words: words.to_owned(), changes: vec![(format!("{path}.{size}"), BY_RULE.to_owned())] };
    let ways = [by_rule("Take their distance from the edge by rule", "margin"), by_rule("Take their diameter by rule", "diameter")];
    ways.into_iter().filter(|way| proof.tried(&way.changes).is_some_and(|tried| tried.model.joints.iter().all(kept))).collect()
}

/// The decision on what two ends do that meet, where the design joins this one and has such a decision.
fn meeting_of(joint: &Joint) -> Option<String> {
    let path = design_path(joint.role)?;
    match joint.kind {
        JointKind::LooseTenons(_) => Some(format!("joinery.{path}.meeting")),
        JointKind::Tenon(_) => Some(format!("joinery.{path}.tenon.meeting")),
        _ => None,
    }
}

/// A tenon of the maker's own length is mitred or shortened as the rule has it.
fn length_by_rule(joint: &Joint) -> Option<(String, String)> {
    let JointKind::Tenon(_) = joint.kind else { return None };
    Some((format!("{}.length", sizes_path(joint)?), BY_RULE.to_owned()))
}

/// Where the design says how ends of a role are joined.
fn design_path(role: Role) -> Option<&'static str> {
    match role {
        Role::RailToPost | Role::RailToMuntin | Role::StileToRail | Role::MuntinToRail | Role::CrossRailToRail => role_path(role),
        _ => None,
    }
}

/// Mortises no deeper than `unmet`, by half millimetres, and tenons shorter by as much.
fn shallower(joint: Option<&Joint>, unmet: f64) -> Option<Remedy> {
    let joint = joint?;
    let JointKind::LooseTenons(figures) = &joint.kind else { return None };
    let path = role_path(joint.role)?;
    let depth = ((unmet + 1e-6) * 2.0).floor() / 2.0;
    let length = figures.depth_in_end + depth - figures.room().clamp(*BOTTOM_ROOM.start(), *BOTTOM_ROOM.end());
    Some(Remedy {
        words: format!("Go {} mm deep with tenons {} mm long", mm(depth), mm(length)),
        changes: vec![(format!("joinery.{path}.depth_in_face"), depth.to_string()), (format!("joinery.{path}.length"), length.to_string())],
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn assert_near(found: f64, wanted: f64) {
        assert!((found - wanted).abs() < 1e-9, "{found} for {wanted}");
    }

    /// Arithmetic, by hand: post 45, rail 20 set back 3, tenon 7: the other mortise lies from 9.5 to 16.5 from the outside. So 28.5 to
    /// it, 25.5 with a wall of 3; mitred 45 − 9.5 − 1 and 45 − 16.5 − 1.
    #[test]
    fn two_mortises_in_a_post_of_45() {
        let other = crossing(20.0, 3.0, 7.0);
        assert_near(other.0, 9.5);
        let depths = Depths::of(45.0, other, 3.0);
        assert_near(depths.unmet, 25.5);
        assert_near(depths.mitred_outer, 34.5);
        assert_near(depths.mitred_inner, 27.5);
    }

    /// Post 40, rail 22 flush, tenon 8: 40 − 15 − 3 unmet, 40 − 7 − 1 mitred.
    #[test]
    fn two_mortises_in_a_post_of_40_with_flush_rails() {
        let other = crossing(22.0, 0.0, 8.0);
        assert_near(other.0, 7.0);
        let depths = Depths::of(40.0, other, 3.0);
        assert_near(depths.unmet, 22.0);
        assert_near(depths.mitred_outer, 32.0);
        // Softwood wants a wall of 5.
        assert_near(Depths::of(40.0, other, 5.0).unmet, 20.0);
    }
}
