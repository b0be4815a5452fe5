//! Grooves against the wood they are cut in.

use casewright_solid::{VoidGap, void_gap};

use glam::DVec3;

use super::mortises::{LEAST_WALL, Pocket, pockets};
use super::{Figure, Finding, Rule, Seriousness, TOUCH, mm};
use crate::model::{Cut, Face, Feature, Model, Part, PartId};

pub(super) fn check(model: &Model) -> Vec<Finding> {
    model.parts.iter().filter_map(|part| thinnest(model, part)).collect()
}

/// A groove with what its place in the part means.
struct Channel<'p> {
    cut: &'p Cut,
    face: Face,
    /// From and to across the groove.
    across: (f64, f64),
    depth: f64,
    /// From and to along L, what the cutter leaves beyond left out.
    along: (f64, f64),
    /// How far the cutter reaches beyond where it stops.
    run_out: f64,
}

impl Channel<'_> {
    /// Its box, what the cutter leaves at its stops included.
    fn bounds(&self, size: DVec3) -> (DVec3, DVec3) {
        let deep = self.face.axis();
        let depth = if self.face.is_first() { (0.0, self.depth) } else { (size[deep] - self.depth, size[deep]) };
        let (mut low, mut high) = (DVec3::splat(self.along.0 - self.run_out), DVec3::splat(self.along.1 + self.run_out));
        (low[deep], high[deep]) = depth;
        (low[3 - deep], high[3 - deep]) = self.across;
        (low, high)
    }
}

fn channels(part: &Part) -> Vec<Channel<'_>> {
    part.cuts
        .iter()
        .filter_map(|cut| match cut.feature {
            Feature::Groove { face, centre, width, depth, from, to, stop, .. } => Some(Channel {
                cut,
                face,
                across: (centre - width / 2.0, centre + width / 2.0),
                depth,
                along: (from, to),
                run_out: stop.run_out(width, depth),
            }),
            _ => None,
        })
        .collect()
}

/// The thinnest wood that the grooves of a part leave, where it is too thin.
fn thinnest(model: &Model, part: &Part) -> Option<Finding> {
    let size = part.lwt();
    let channels = channels(part);
    let mut walls: Vec<(f64, &str, &Cut)> = Vec::new();
    for (index, channel) in channels.iter().enumerate() {
        let deep = channel.face.axis();
        let beside = size[3 - deep];
        walls.push((size[deep] - channel.depth, "behind a groove", channel.cut));
        walls.push((channel.across.0.min(beside - channel.across.1), "beside a groove", channel.cut));
        for other in &channels[index + 1..] {
            let facing = other.face.axis() == deep && other.face != channel.face;
            if facing && meet(channel.across, other.across) && meet(channel.along, other.along) {
                walls.push((size[deep] - channel.depth - other.depth, "between two grooves", channel.cut));
            }
        }
    }
    if !channels.is_empty() {
        walls.extend(to_mortises(part, &channels));
    }
    let (wall, where_, cut) = walls.into_iter().min_by(|a, b| a.0.total_cmp(&b.0))?;
    if wall >= LEAST_WALL - TOUCH {
        return None;
    }
    let panel = cut.joint.map(|joint| model.joint(joint).a);
    let parts: Vec<PartId> = std::iter::once(part.id).chain(panel).collect();
    Some(Finding {
        rule: Rule::GrooveLeavesWood,
        seriousness: if wall <= TOUCH { Seriousness::WillFail } else { Seriousness::AtRisk },
        parts,
        explains: Vec::new(),
        joint: cut.joint,
        place: Some(part.block().centre()),
        figures: vec![Figure::mm("wood left", wall.max(0.0)), Figure::mm("least", LEAST_WALL)],
        message: if wall <= TOUCH {
            format!("Nothing is left {where_} in {}", part.title)
        } else {
            format!("Only {} mm of wood is left {where_} in {}", mm(wall), part.title)
        },
        source: "a wall of 3 mm in hardwood: common practice, no source",
        remedies: Vec::new(),
    })
}

/// The walls between grooves and mortises; a mortise that a groove runs into is weak but holds, so it counts as a thin wall.
fn to_mortises<'p>(part: &'p Part, channels: &[Channel<'p>]) -> Vec<(f64, &'static str, &'p Cut)> {
    const RUNS_INTO: f64 = 10.0 * TOUCH;
    let size = part.lwt();
    let pockets = pockets(part);
    let mut walls = Vec::new();
    for channel in channels {
        let prisms = channel.cut.feature.prisms(size);
        let (low, high) = channel.bounds(size);
        let near = |pocket: &&Pocket<'_>| (pocket.low - high).max(low - pocket.high).max_element() < LEAST_WALL;
        for pocket in pockets.iter().filter(near) {
            match void_gap(size, &prisms, &pocket.prisms) {
                Ok(Some(VoidGap::Overlapping { .. })) => walls.push((RUNS_INTO, "between a groove and a mortise", channel.cut)),
                Ok(Some(VoidGap::Apart { distance, .. })) => {
                    walls.push((distance.max(RUNS_INTO), "between a groove and a mortise", channel.cut));
                }
                Ok(None) | Err(_) => {}
            }
        }
    }
    walls
}

fn meet(a: (f64, f64), b: (f64, f64)) -> bool {
    a.0 < b.1 - TOUCH && b.0 < a.1 - TOUCH
}
