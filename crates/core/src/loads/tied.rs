//! Rails that can only go down together: a stile that is glued into a rail above and a rail below keeps its length, and carries over to the one
//! what the other would sag further.
//!
//! ```text
//!  ▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒   the upper rail is borne up by X₁, X₂
//!      │X₁      │X₂
//!  ▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒   the lower one is pressed down by them
//! ```
//!
//! The forces follow from both rails sagging by the same at each stile (the flexibility method: statics and the beams' own influence figures).

use super::bears::Bearing;
use super::lying::{Lying, Pressed};
use crate::model::{Model, PartId, PartKind, Role};
use crate::strength::{Bent, linear};

/// A rail under what presses on it, before it is judged.
pub(super) struct Borne {
    pub lying: Lying,
    pub each: Vec<Bearing>,
}

impl Borne {
    pub fn pressed(&self, newtons: impl Fn(&Bearing) -> f64) -> Vec<Pressed> {
        let from = self.lying.from;
        self.each.iter().map(|bearing| Pressed { from: from + bearing.from, to: from + bearing.to, force: newtons(bearing) }).collect()
    }

    /// How it bends under these, and its own weight where that is asked for; nothing where it is no beam.
    fn bent(&self, pressed: &[Pressed], own_weight: bool) -> Option<Bent> {
        let beam = self.lying.beam(self.lying.section().ok()?, pressed);
        let own_weight = own_weight && beam.own_weight;
        crate::strength::Beam { own_weight, ..beam }.solve().ok()
    }
}

/// A stile or muntin between two rails, by their places among those that are asked about, and where it is on their axis, mm of the case.
struct Tie {
    upper: usize,
    lower: usize,
    at: f64,
}

/// Adds to each rail what the stiles and muntins between them carry over from one to the other.
pub(super) fn tie(model: &Model, rails: &mut [Borne]) {
    let ties = ties(model, rails);
    let Some(forces) = forces(rails, &ties) else { return };
    for (tie, [always, heaviest]) in ties.iter().zip(forces) {
        for (rail, other, sign) in [(tie.upper, tie.lower, -1.0), (tie.lower, tie.upper, 1.0)] {
            let name = &model.part(rails[other].lying.part).title;
            let at = tie.at - rails[rail].lying.from;
            let what = if sign * (always + heaviest) < 0.0 {
                format!("a divider bears it up from {name}")
            } else {
                format!("a divider hands on to it what {name} is spared")
            };
            let (always, heaviest) = (sign * always, sign * heaviest);
            rails[rail].each.push(Bearing { what, from: at, to: at, always, heaviest, counts: None, is_tie: true });
        }
    }
}

/// Every stile and muntin that is glued into two of the rails, which span the same way.
fn ties(model: &Model, rails: &[Borne]) -> Vec<Tie> {
    let place = |id: PartId| rails.iter().position(|rail| rail.lying.part == id);
    let upright = model.parts.iter().filter(|part| matches!(part.kind, PartKind::Stile | PartKind::Muntin));
    let tie = |part: &crate::model::Part| {
        let joints = model.joints.iter().filter(|joint| joint.a == part.id && matches!(joint.role, Role::StileToRail | Role::MuntinToRail));
        let glued = joints.filter(|joint| joint.glued).filter_map(|joint| Some((place(joint.b)?, joint.contact.centre)));
        let mut ends: Vec<(usize, glam::DVec3)> = glued.collect();
        ends.sort_by(|a, b| a.1.y.total_cmp(&b.1.y));
        let (&(lower, at), &(upper, _)) = (ends.first()?, ends.last()?);
        let axis = rails[lower].lying.axis;
        (lower != upper && rails[upper].lying.axis == axis).then(|| Tie { upper, lower, at: at[axis] })
    };
    upright.filter_map(tie).collect()
}

/// What each tie carries from its upper rail to its lower one, N: of what is always there, and of what comes and goes. Nothing where there are none, or a
/// rail is no beam.
fn forces(rails: &[Borne], ties: &[Tie]) -> Option<Vec<[f64; 2]>> {
    if ties.is_empty() {
        return None;
    }
    let unit = |rail: usize, at: f64| rails[rail].bent(&[Pressed { from: at, to: at, force: 1.0 }], false);
    let sag = |bent: &Bent, rail: usize, at: f64| bent.sag_at(at - rails[rail].lying.from).total();
    let under = |rail: usize| {
        let comes = |bearing: &Bearing| bearing.newtons() - bearing.always;
        Some([
            rails[rail].bent(&rails[rail].pressed(|bearing| bearing.always), true)?,
            rails[rail].bent(&rails[rail].pressed(comes), false)?,
        ])
    };
    // By each tie: what one newton in it does to its two rails, and what they do without it.
    let units: Vec<[Bent; 2]> = ties.iter().map(|tie| Some([unit(tie.upper, tie.at)?, unit(tie.lower, tie.at)?])).collect::<Option<_>>()?;
    let mut rows = Vec::with_capacity(ties.len());
    for tie in ties {
        let by = |(other, [upper, lower]): (&Tie, &[Bent; 2])| {
            let of = |rail: usize| {
                let up = if other.upper == rail { sag(upper, rail, tie.at) } else { 0.0 };
                let down = if other.lower == rail { sag(lower, rail, tie.at) } else { 0.0 };
                up - down
            };
            of(tie.upper) - of(tie.lower)
        };
        let mut row: Vec<f64> = ties.iter().zip(&units).map(by).collect();
        let (upper, lower) = (under(tie.upper)?, under(tie.lower)?);
        row.extend([0, 1].map(|which| sag(&upper[which], tie.upper, tie.at) - sag(&lower[which], tie.lower, tie.at)));
        // To the order of 1, as the solver wants it.
        let scale = row[..ties.len()].iter().fold(0.0, |most: f64, figure| most.max(figure.abs()));
        if scale > 0.0 {
            for figure in &mut row {
                *figure /= scale;
            }
        }
        rows.push(row);
    }
    let solved = linear::solve(rows, ties.len())?;
    solved.into_iter().map(|row| Some([*row.get(ties.len())?, *row.get(ties.len() + 1)?])).collect()
}
