//! What is marked off along one axis of the case: where parts begin and end, and what is cut into them.

use super::Way;
use crate::length::trimmed;
use crate::model::{Cut, CutState, Feature, Model, Part, PartKind, Role};

/// A line that was found, with the part it is marked off on.
pub(super) struct Found {
    /// mm from the datum.
    pub at: f64,
    /// What it is.
    pub what: String,
    /// The mark of its part; none of what is no part.
    pub mark: Option<String>,
    /// Whether a part begins or ends there.
    pub is_of_parts: bool,
}

/// What lies nearer to the end of a part is its end, mm.
const AT: f64 = 1e-3;

/// A frame's member stands back so far at most behind the post for it to be called a reveal, mm.
const REVEAL: f64 = 25.0;

/// The lines of a part along an axis; gives what is cut into it, from and to, mm.
pub(super) fn of_part(model: &Model, part: &Part, way: Way, found: &mut Vec<Found>) -> Vec<[f64; 2]> {
    let (axis, block, body) = (way.axis(), part.block(), part.body());
    let own = own_axis(part, axis);
    let mut line = |at: f64, what: String, is_of_parts: bool| found.push(Found { at, what, mark: Some(part.mark.clone()), is_of_parts });
    let reveal = reveal(model, part, way);
    let ends = [(body.min[axis], block.min[axis]), (body.max[axis], block.max[axis])];
    for (side, (at, tip)) in ends.into_iter().enumerate() {
        let tenon = (at - tip).abs() > AT;
        let reveal = reveal.filter(|(of, _)| *of == side).map_or_else(String::new, |(_, by)| format!(", reveal {}", trimmed(by)));
        line(at, format!("{} {}{reveal}", way.sides()[side], noun(part, own, tenon)), true);
        if tenon {
            line(tip, "end of the tenon".to_owned(), true);
        }
    }
    let mut covered = Vec::new();
    for cut in part.cuts.iter().filter(|cut| cut.there != CutState::Idle) {
        for mark in marks(cut, part, own) {
            let [from, to] = mark.span.map(|at| along(part, own, axis, at));
            let [from, to] = [from.min(to), from.max(to)];
            let inside = |at: f64| at > block.min[axis] + AT && at < block.max[axis] - AT;
            for at in [from, to].into_iter().filter(|at| inside(*at)) {
                line(at, mark.what.clone(), false);
            }
            if to - from > AT && mark.covers {
                covered.push([from, to]);
            }
        }
    }
    covered
}

/// The rooms in which things stand, by the height of what they stand on; the bays by their width.
pub(super) fn of_rooms(model: &Model, way: Way, found: &mut Vec<Found>) {
    let mut line = |at: f64, what: String| found.push(Found { at, what, mark: None, is_of_parts: true });
    match way {
        Way::Height => {
            for room in &model.rooms {
                line(room.space.min.y, room.name.clone());
            }
        }
        Way::Width => {
            for (number, bay) in model.bays.iter().enumerate() {
                line(bay.space.min.x, format!("bay {} begins", number + 1));
                line(bay.space.max.x, format!("bay {} ends", number + 1));
            }
        }
        Way::Depth => {}
    }
}

/// The own axis of a part that runs along an axis of the case: 0 L, 1 W, 2 T.
fn own_axis(part: &Part, axis: usize) -> usize {
    (0..3).max_by(|a, b| part.pose.basis.col(*a)[axis].abs().total_cmp(&part.pose.basis.col(*b)[axis].abs())).unwrap_or(0)
}

/// A place along an own axis of a part, along the axis of the case, mm.
fn along(part: &Part, own: usize, axis: usize, at: f64) -> f64 {
    let mut local = glam::DVec3::ZERO;
    local[own] = at;
    part.pose.point(local)[axis]
}

/// What a part begins or ends with along its own axis.
fn noun(part: &Part, own: usize, tenon: bool) -> &'static str {
    let is_framed = matches!(part.kind, PartKind::Rail | PartKind::Stile | PartKind::Muntin | PartKind::CrossRail);
    match own {
        0 if is_framed || tenon => "shoulder",
        0 => "end",
        1 => "edge",
        _ => "face",
    }
}

/// On which side a member of a frame stands back behind a post, 0 the nearer, and by how much, mm; none of one that lies flush or stands in no post.
fn reveal(model: &Model, part: &Part, way: Way) -> Option<(usize, f64)> {
    let axis = way.axis();
    if own_axis(part, axis) != 2 {
        return None;
    }
    let joint = model.joints_of(part.id).find(|joint| joint.role == Role::RailToPost && joint.a == part.id)?;
    let (own, post) = (part.body(), model.part(joint.b).body());
    let behind = [own.min[axis] - post.min[axis], post.max[axis] - own.max[axis]];
    // The outer side is that which lies nearer to the face of the post.
    let side = usize::from(behind[1] < behind[0]);
    Some((side, behind[side])).filter(|(_, by)| *by > AT && *by <= REVEAL)
}

/// A stretch of a part along one of its own axes that something cut takes.
struct Mark {
    span: [f64; 2],
    what: String,
    /// Whether it takes all between; else its two ends are only lines.
    covers: bool,
}

/// What a cut is marked off by along an own axis of its part.
fn marks(cut: &Cut, part: &Part, own: usize) -> Vec<Mark> {
    let size = part.lwt();
    let feature = &cut.feature;
    let name = feature.name().split(',').next().unwrap_or_default();
    let stretch = |span: [f64; 2], what: &str| vec![Mark { span, what: what.to_owned(), covers: true }];
    let point = |at: f64, what: String| Mark { span: [at, at], what, covers: false };
    match feature {
        Feature::Hole { face, centre, diameter, .. } => {
            let at = (own != face.axis()).then(|| point(centre[own], format!("middle of a hole Ø{}", trimmed(*diameter))));
            at.into_iter().collect()
        }
        Feature::HoleRow { face, first, pitch, count, diameter, .. } => {
            let words = |which: &str| format!("{which} of {count} holes Ø{}, every {}", trimmed(*diameter), trimmed(*pitch));
            let last = first.x + pitch * f64::from(count.saturating_sub(1));
            match own {
                0 => vec![point(first.x, words("first")), point(last, words("last"))],
                axis if axis != face.axis() => vec![point(first[axis], format!("middle of a row of holes Ø{}", trimmed(*diameter)))],
                _ => Vec::new(),
            }
        }
        Feature::Teeth { first, pitch, seat, count, .. } => row_of_seats([*first, *pitch, f64::from(*count)], size.y - seat, own, "seat"),
        Feature::HalfRounds { first, pitch, radius, count } => {
            row_of_seats([*first, *pitch, f64::from(*count)], size.y - radius, own, "half round")
        }
        Feature::Tenon { along, cheeks, steps, .. } => match own {
            0 => Vec::new(),
            axis if axis == *along => {
                steps.iter().map(|step| Mark { span: [step.from, step.to], what: "tenon".to_owned(), covers: false }).collect()
            }
            _ => vec![Mark { span: [cheeks.0, cheeks.1], what: "cheek of the tenon".to_owned(), covers: false }],
        },
        Feature::Mortise { face, .. } | Feature::Recess { face, .. } | Feature::Groove { face, .. } | Feature::Lap { face, .. } => {
            let what = if own == face.axis() { format!("bottom of the {name}") } else { name.to_owned() };
            boxes(feature, size, own).flat_map(|span| stretch(span, &what)).collect()
        }
        Feature::Housing(housing) => {
            let what = if own == housing.face.axis() { format!("bottom of the {name}") } else { name.to_owned() };
            boxes(feature, size, own).flat_map(|span| stretch(span, &what)).collect()
        }
        Feature::Notch { .. }
        | Feature::Rabbet { .. }
        | Feature::Fork { .. }
        | Feature::EdgeRabbet(_)
        | Feature::EndGap(_)
        | Feature::Socket(_) => boxes(feature, size, own).map(|span| Mark { span, what: name.to_owned(), covers: false }).collect(),
        // Shapes that a template gives, and arrises.
        Feature::Bevel { .. }
        | Feature::RoundEdges
        | Feature::RoundEnds
        | Feature::Tail(_)
        | Feature::EdgeRound(_)
        | Feature::EdgeChamfer(_)
        | Feature::Taper(_) => Vec::new(),
    }
}

/// The first and the last of a row of seats, and how deep they are; the others are on the template.
fn row_of_seats([first, pitch, count]: [f64; 3], bottom: f64, own: usize, name: &str) -> Vec<Mark> {
    let point = |at: f64, what: String| Mark { span: [at, at], what, covers: false };
    match own {
        0 => {
            let words = |which: &str| format!("{which} of {} {name}s, every {}", trimmed(count), trimmed(pitch));
            vec![point(first, words("lowest")), point(first + pitch * (count - 1.0).max(0.0), words("highest"))]
        }
        1 => vec![point(bottom, format!("bottom of the {name}s"))],
        _ => Vec::new(),
    }
}

/// The stretches that a cut takes along an own axis.
fn boxes(feature: &Feature, size: glam::DVec3, own: usize) -> impl Iterator<Item = [f64; 2]> {
    feature.boxes(size).into_iter().map(move |it| [it.1[own], it.2[own]])
}
