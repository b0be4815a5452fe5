//! Which facets make up one round.

use std::f64::consts::PI;

use super::ground::{Ground, TRUE};
use super::patches::Patches;
use crate::cutter::flatten;
use crate::shape::Arc;

impl Ground<'_> {
    /// Facets of one arc that touch, half a turn of it at most, as numbers of patches; a face of its own everywhere else.
    pub fn rounds(&self) -> Patches {
        let faces = self.shape.faces.len();
        let mut patches = Patches::none(faces);
        for first in 0..faces as u32 {
            if patches.has(first) {
                continue;
            }
            let Some(arc) = self.arc(first) else {
                patches.add(&[first]);
                continue;
            };
            let round = self.touching(first, |_| true);
            let start = self.start(&arc, &round);
            let half = |face: u32| self.turned(&arc, start, face) >= PI - 1e-9;
            for face in round {
                if !patches.has(face) {
                    let side = half(face);
                    patches.add(&self.touching(face, |other| half(other) == side));
                }
            }
        }
        patches
    }

    /// The facets of the arc of `first` that hang together with it, of those that are wanted.
    fn touching(&self, first: u32, wanted: impl Fn(u32) -> bool) -> Vec<u32> {
        let of = |face: u32| (self.arc(face), self.shape.faces[face as usize].origin);
        let (arc, origin) = of(first);
        let same = |face: u32| {
            let (other, from) = of(face);
            from == origin && matches!((&arc, &other), (Some(a), Some(b)) if alike(a, b))
        };
        let mut found = vec![first];
        let mut next = 0;
        while let Some(face) = found.get(next).copied() {
            next += 1;
            let beside: Vec<u32> = self.halves_of(face).filter_map(|half| self.across(half)).collect();
            for other in beside {
                if same(other) && wanted(other) && !found.contains(&other) {
                    found.push(other);
                }
            }
        }
        found
    }

    /// The facet with which a round begins: that after the widest gap, going about the arc's axis.
    fn start(&self, arc: &Arc, round: &[u32]) -> u32 {
        let first = round[0];
        let mut by_turn: Vec<(f64, u32)> = round.iter().map(|face| (self.turned(arc, first, *face), *face)).collect();
        by_turn.sort_by(|a, b| a.0.total_cmp(&b.0));
        let gap = |i: usize| {
            let before = by_turn[(i + by_turn.len() - 1) % by_turn.len()].0;
            (by_turn[i].0 - before).rem_euclid(2.0 * PI)
        };
        (0..by_turn.len()).max_by(|a, b| gap(*a).total_cmp(&gap(*b))).map_or(first, |i| by_turn[i].1)
    }

    /// How far about the arc's axis the middle of one facet lies on from that of another, 0 to a full turn.
    fn turned(&self, arc: &Arc, from: u32, to: u32) -> f64 {
        let [from, to] = [from, to].map(|face| {
            let normal = flatten(arc.axis, self.shape.faces[face as usize].normal);
            normal.y.atan2(normal.x)
        });
        (to - from).rem_euclid(2.0 * PI)
    }
}

fn alike(a: &Arc, b: &Arc) -> bool {
    a.axis == b.axis && a.centre.distance(b.centre) < TRUE && (a.radius - b.radius).abs() < TRUE
}
