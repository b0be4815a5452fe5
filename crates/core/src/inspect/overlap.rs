//! Parts in the same place.

use std::collections::{HashMap, HashSet};

use casewright_solid::{Overlap, broad_phase, overlap};

use super::gather::{add_new, counted};
use super::own_sizes::own_by_rule;
use super::{Figure, Finding, Rule, Seriousness, TOUCH, mm, small};
use crate::joint::Fit;
use crate::model::{BuildStage, Model, Part, PartId, PartKind, is_made};
use crate::shapes::Solids;

/// Every pair of parts that overlap, except pairs whose cause is already told; those of one cause together.
pub(super) fn check(model: &Model, solids: &Solids, told: &[Finding]) -> Vec<Finding> {
    let boxes: Vec<_> = model
        .parts
        .iter()
        .map(|part| {
            let block = part.block();
            (block.min, block.max)
        })
        .collect();
    let explained: HashSet<(PartId, PartId)> =
        told.iter().flat_map(|finding| &finding.explains).map(|&(a, b)| (a.min(b), a.max(b))).collect();
    let near = broad_phase(&boxes).into_iter().map(|(a, b)| (PartId(a), PartId(b)));
    let pairs: Vec<Pair> = near.filter(|pair| !explained.contains(pair)).filter_map(|(a, b)| Pair::of(model, solids, a, b)).collect();
    unmade(model, solids).chain(causes(model, pairs).iter().filter_map(|pairs| tell(model, pairs))).collect()
}

/// Parts whose cuts leave nothing of them.
fn unmade<'m>(model: &'m Model, solids: &'m Solids) -> impl Iterator<Item = Finding> + 'm {
    model.parts.iter().filter_map(|part| {
        let error = solids.of(part.id).err()?;
        Some(Finding {
            explains: Vec::new(),
            rule: Rule::Solid,
            seriousness: Seriousness::WillFail,
            parts: vec![part.id],
            joint: None,
            place: Some(part.block().centre()),
            figures: Vec::new(),
            message: format!("{} can't be made: {error}", part.title),
            source: "geometry",
            remedies: Vec::new(),
        })
    })
}

/// Two parts that overlap, the first in the model first.
struct Pair {
    a: PartId,
    b: PartId,
    found: Overlap,
}

impl Pair {
    fn of(model: &Model, solids: &Solids, a: PartId, b: PartId) -> Option<Pair> {
        let found = overlap(solids.cells(a)?, &model.part(a).pose, solids.cells(b)?, &model.part(b).pose)?;
        (found.depth > TOUCH + pressed(model, a, b)).then_some(Pair { a, b, found })
    }

    /// Of what kinds the two are, and how deep they stand in each other to a hundredth: what one wrong figure has in common everywhere.
    fn likeness(&self, model: &Model) -> (PartKind, PartKind, i64) {
        let (a, b) = (model.part(self.a).kind, model.part(self.b).kind);
        (a.min(b), a.max(b), (self.found.depth * 100.0).round() as i64)
    }
}

/// How deep two parts of one joint stand in each other on purpose, mm: half of what the one is over the other where they are pressed together.
fn pressed(model: &Model, a: PartId, b: PartId) -> f64 {
    let together = model.joints_of(a).find(|joint| {
        joint.loose.contains(&a) != joint.loose.contains(&b) && [joint.a, joint.b].iter().any(|part| *part == a || *part == b)
    });
    let fits = together.map(|joint| joint.kind.fits()).unwrap_or_default();
    fits.iter().filter(|fitted| fitted.class == Fit::Press).map(|fitted| -fitted.clearance / 2.0).fold(0.0, f64::max)
}

/// Whether a part is a likely cause of all that it overlaps: it has a size of its own against the rules, or it comes into a frame that stands.
fn stands_out(part: &Part) -> bool {
    own_size(part) || part.stage != BuildStage::GlueUp
}

fn own_size(part: &Part) -> bool {
    (0..3).any(|axis| part.is_own(axis) || is_made(&part.size[axis]))
}

/// The pairs by their causes: those that share a part that stands out, and those that are alike.
fn causes(model: &Model, pairs: Vec<Pair>) -> Vec<Vec<Pair>> {
    let mut cause: Vec<usize> = (0..pairs.len()).collect();
    let mut parts: HashMap<PartId, usize> = HashMap::new();
    let mut alike: HashMap<(PartKind, PartKind, i64), usize> = HashMap::new();
    for (index, pair) in pairs.iter().enumerate() {
        let own = [pair.a, pair.b].into_iter().filter(|part| stands_out(model.part(*part)));
        let mut others: Vec<usize> = own.map(|part| *parts.entry(part).or_insert(index)).collect();
        others.push(*alike.entry(pair.likeness(model)).or_insert(index));
        for other in others {
            let (first, second) = (root(&cause, index), root(&cause, other));
            cause[first.max(second)] = first.min(second);
        }
    }
    let roots: Vec<usize> = (0..pairs.len()).map(|index| root(&cause, index)).collect();
    let mut causes: Vec<Vec<Pair>> = Vec::new();
    let mut place: HashMap<usize, usize> = HashMap::new();
    for (pair, root) in pairs.into_iter().zip(roots) {
        let at = *place.entry(root).or_insert(causes.len());
        match causes.get_mut(at) {
            Some(known) => known.push(pair),
            None => causes.push(vec![pair]),
        }
    }
    causes
}

fn root(cause: &[usize], mut at: usize) -> usize {
    while cause[at] != at {
        at = cause[at];
    }
    at
}

/// The greatest overlap of a cause speaks for all of them.
fn tell(model: &Model, pairs: &[Pair]) -> Option<Finding> {
    let worst = pairs.iter().max_by(|a, b| a.found.volume.total_cmp(&b.found.volume))?;
    let (a, b) = if own_size(model.part(worst.b)) { (worst.b, worst.a) } else { (worst.a, worst.b) };
    let (first, second) = (model.part(a), model.part(b));
    let joint = model.joints_of(a).find(|joint| [joint.a, joint.b].contains(&b) || joint.loose.contains(&b)).map(|joint| joint.id);
    let mut parts = vec![a, b];
    add_new(&mut parts, pairs.iter().flat_map(|pair| [pair.a, pair.b]));
    let found = &worst.found;
    let finding = Finding {
        explains: Vec::new(),
        rule: Rule::Overlap,
        seriousness: Seriousness::WillFail,
        parts,
        joint,
        place: Some(found.centre),
        figures: vec![Figure::new("volume", found.volume, "mm³"), Figure::mm("depth", found.depth)],
        message: format!(
            "{} and {} are in the same place: {} deep, {}",
            first.title,
            second.title,
            small(found.depth),
            volume(found.volume)
        ),
        source: "geometry",
        remedies: own_by_rule(first).collect(),
    };
    Some(counted(finding, pairs.len() - 1))
}

fn volume(mm3: f64) -> String {
    if mm3 >= 1000.0 { format!("{} cm³", mm(mm3 / 1000.0)) } else { format!("{} mm³", mm(mm3)) }
}
