//! What cuts are called, and where and how large they are, in words.

use glam::DVec3;

use super::{Face, Feature, Shaping, end, side};
use crate::length::trimmed;

impl Feature {
    /// What it is called, for lists.
    pub fn name(&self) -> &'static str {
        match self {
            Feature::Mortise { round: true, .. } => "mortise",
            Feature::Mortise { .. } => "mortise, square",
            Feature::Tenon { .. } => "tenon",
            Feature::Recess { .. } => "recess",
            Feature::Hole { sink, .. } if *sink > 0.0 => "hole, countersunk",
            Feature::Hole { .. } => "hole",
            Feature::Lap { .. } => "lap",
            Feature::Fork { .. } => "open mortise",
            Feature::Groove { through: [true, true], .. } => "groove, through",
            Feature::Groove { .. } => "groove, stopped",
            Feature::Notch { .. } => "notch",
            Feature::Rabbet { .. } => "rabbet",
            Feature::Bevel { .. } => "bevel",
            Feature::Teeth { .. } => "teeth",
            Feature::HalfRounds { .. } => "half rounds",
            Feature::HoleRow { .. } => "row of holes",
            Feature::RoundEdges => "rounded edges",
            Feature::RoundEnds => "rounded ends",
            Feature::EdgeRabbet(cut) => cut.name(),
            Feature::Housing(cut) => cut.name(),
            Feature::Tail(cut) => cut.name(),
            Feature::EndGap(cut) => cut.name(),
            Feature::Socket(cut) => cut.name(),
            Feature::EdgeRound(cut) => cut.name(),
            Feature::EdgeChamfer(cut) => cut.name(),
            Feature::Taper(cut) => cut.name(),
        }
    }

    /// What it is, where and how large, measured from face side, face edge and first end.
    pub fn describe(&self) -> String {
        let mm = trimmed;
        match self {
            Feature::Mortise { face, centre, along, length, width, depth, .. }
            | Feature::Recess { face, centre, along, length, width, depth, .. } => {
                let turned = if *along == 0 { "" } else { ", across" };
                format!(
                    "{} × {}, {} deep, in the {}{turned}, middle {}",
                    mm(*length),
                    mm(*width),
                    mm(*depth),
                    face.words(),
                    place_on(*face, *centre)
                )
            }
            Feature::Tenon { .. } => self.describe_tenon(),
            Feature::Hole { face, centre, diameter, depth, sink } => {
                let sink = if *sink > 0.0 { format!(", countersunk to {}", mm(*sink)) } else { String::new() };
                format!("Ø{}, {} deep{sink}, in the {}, middle {}", mm(*diameter), mm(*depth), face.words(), place_on(*face, *centre))
            }
            Feature::Lap { face, from, to, depth } => {
                format!("{} deep across the {}, from {} to {}", mm(*depth), face.words(), mm(*from), mm(*to))
            }
            Feature::Fork { second_end, length, from, to } => {
                let end = if *second_end { Face::SecondEnd } else { Face::FirstEnd };
                format!("{} deep in the {}, from {} to {} from the face side", mm(*length), end.words(), mm(*from), mm(*to))
            }
            Feature::Groove { face, centre, width, depth, from, to, through, stop } => {
                let ends = stop.describe_ends(*through, [*from, *to], stop.run_out(*width, *depth));
                let datum = if face.axis() == 1 { "face side" } else { "face edge" };
                format!(
                    "{} wide, {} deep, in the {}, middle {} from the {datum}, {ends}",
                    mm(*width),
                    mm(*depth),
                    face.words(),
                    mm(*centre)
                )
            }
            Feature::Notch { second_end, back_edge, length, width } => {
                let edge = if *back_edge { "back edge" } else { "face edge" };
                format!("{} along, {} across, out of the corner of {} and {edge}", mm(*length), mm(*width), end(*second_end))
            }
            Feature::Rabbet { second_end, back_side, length, depth } => {
                format!("{} long, {} off the {} at the {}", mm(*length), mm(*depth), side(*back_side), end(*second_end))
            }
            Feature::Bevel { second_end, inset } => {
                format!("{} off the back edge at the {}", mm(*inset), end(*second_end))
            }
            Feature::Teeth { first, pitch, seat, crest, count } => {
                format!(
                    "{count} seats {} deep every {}, the lowest at {}, tips {} flat, slopes at {}° from the upright",
                    mm(*seat),
                    mm(*pitch),
                    mm(*first),
                    mm(*crest),
                    crate::length::trimmed_to(crate::joint::seat::slope_degrees(*pitch, *seat, *crest), 1)
                )
            }
            Feature::HalfRounds { first, pitch, radius, count } => {
                format!("{count} half circles of radius {} every {}, the lowest from {} up", mm(*radius), mm(*pitch), mm(*first))
            }
            Feature::HoleRow { face, first, pitch, count, diameter, depth } => format!(
                "{count} holes Ø{}, {} deep, every {}, in the {}, the first at {}, the last {} from the first end",
                mm(*diameter),
                mm(*depth),
                mm(*pitch),
                face.words(),
                place_on(*face, *first),
                mm(first.x + pitch * f64::from(count.saturating_sub(1)))
            ),
            Feature::RoundEdges => "both edges half round".to_owned(),
            Feature::RoundEnds => "both ends half round".to_owned(),
            Feature::EdgeRabbet(cut) => cut.describe(),
            Feature::Housing(cut) => cut.describe(),
            Feature::Tail(cut) => cut.describe(),
            Feature::EndGap(cut) => cut.describe(),
            Feature::Socket(cut) => cut.describe(),
            Feature::EdgeRound(cut) => cut.describe(),
            Feature::EdgeChamfer(cut) => cut.describe(),
            Feature::Taper(cut) => cut.describe(),
        }
    }

    /// The same of a cut in a part of `size`, with what only that tells: how steep a slope is.
    pub fn describe_in(&self, size: DVec3) -> String {
        let words = self.describe();
        let Feature::Bevel { inset, .. } = self else { return words };
        let slope = crate::length::trimmed_to(inset.atan2(size.y).to_degrees(), 1);
        format!("{words}, nothing at the face edge: {slope}° from square")
    }

    fn describe_tenon(&self) -> String {
        let mm = trimmed;
        let Feature::Tenon { second_end, length, along, cheeks, steps, mitre, .. } = self else { return String::new() };
        let end = if *second_end { Face::SecondEnd } else { Face::FirstEnd };
        let (datum, other) = if *along == 1 { ("face edge", "face side") } else { ("face side", "face edge") };
        let steps: Vec<_> = steps
            .iter()
            .map(|step| {
                let haunch = if step.reach < length - 1e-9 { format!(" (haunch, {} out)", mm(step.reach)) } else { String::new() };
                format!("{} to {}{haunch}", mm(step.from), mm(step.to))
            })
            .collect();
        let mitre = if mitre.is_some() { ", mitred" } else { "" };
        format!(
            "{} out at the {}{mitre}, {} from the {datum}, cheeks {} and {} from the {other}",
            mm(*length),
            end.words(),
            steps.join(", "),
            mm(cheeks.0),
            mm(cheeks.1)
        )
    }
}

/// "24 from the first end and 16 from the face side": a point of a face, from its two data.
fn place_on(face: Face, centre: DVec3) -> String {
    let at: Vec<_> = (0..3).filter(|axis| *axis != face.axis()).map(|axis| format!("{} {}", trimmed(centre[axis]), FROM[axis])).collect();
    at.join(" and ")
}

/// From where a figure along each axis is measured.
pub(super) const FROM: [&str; 3] = ["from the first end", "from the face edge", "from the face side"];
