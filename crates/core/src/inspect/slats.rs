//! Slats on their cleats: side by side, and with enough of their width.

use std::collections::BTreeMap;

use super::floors::LEAST_BORNE;
use super::gather::{add_new, counted};
use super::slides::play_of;
use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm};
use crate::design::Design;
use crate::model::{Feature, Joint, Model, Part, PartId, PartKind, Role};

/// The least width of a slat that lies on a cleat, mm (common practice, no source).
pub const LEAST_BEARING: f64 = 12.0;

pub(super) fn check(design: &Design, model: &Model) -> Vec<Finding> {
    crowded(model).into_iter().chain(bearings(design, model)).chain(ends(design, model)).collect()
}

/// Slats that lie on too little of their cleats' thickness when they are pushed over to the other end.
fn ends(design: &Design, model: &Model) -> Vec<Finding> {
    let mut told = Vec::new();
    let resting = model.joints.iter().filter(|joint| joint.role == Role::SlatToCleat && joint.contact.extent.y > TOUCH);
    resting
        .filter_map(|joint| {
            let (slat, cleat) = (model.part(joint.a), model.part(joint.b));
            let play = play_of(design, slat);
            let borne = (joint.contact.extent.y - play).max(0.0);
            // All cleats of a mark are alike.
            if borne >= LEAST_BORNE - TOUCH || told.contains(&&cleat.mark) {
                return None;
            }
            told.push(&cleat.mark);
            let wanted = (LEAST_BORNE + 2.0 * play).ceil();
            let message = if borne <= TOUCH {
                format!("{} drops off {} when it is pushed over", slat.title, cleat.title)
            } else {
                format!("{} lies on only {} mm of {} when it is pushed over", slat.title, mm(borne), cleat.title)
            };
            Some(Finding {
                explains: Vec::new(),
                rule: Rule::SlatBears,
                seriousness: if borne <= TOUCH { Seriousness::WillFail } else { Seriousness::AtRisk },
                parts: vec![slat.id, cleat.id],
                joint: Some(joint.id),
                place: Some(joint.contact.centre),
                figures: vec![Figure::mm("borne", borne), Figure::mm("least", LEAST_BORNE)],
                message,
                source: "at least 6 mm under what lies loose, as under a floor: common practice, no source",
                remedies: vec![Remedy::length(format!("Make the cleats {} mm thick", mm(wanted)), "sawtooth.cleat.thickness", wanted)],
            })
        })
        .collect()
}

/// Slats that are too wide to lie side by side; all shelves are alike, so one finding speaks for all.
fn crowded(model: &Model) -> Option<Finding> {
    let mut on_cleats: BTreeMap<PartId, Vec<&Part>> = BTreeMap::new();
    for joint in model.joints.iter().filter(|joint| joint.role == Role::SlatToCleat) {
        on_cleats.entry(joint.b).or_default().push(model.part(joint.a));
    }
    let (mut parts, mut explains) = (Vec::new(), Vec::new());
    let mut worst = (0.0, 0usize, 0.0);
    for slats in on_cleats.values_mut() {
        slats.sort_by(|a, b| a.block().min.z.total_cmp(&b.block().min.z));
        for pair in slats.windows(2) {
            let over = pair[0].block().max.z - pair[1].block().min.z;
            if over > TOUCH {
                parts.extend([pair[0].id, pair[1].id]);
                explains.push((pair[0].id, pair[1].id));
                if over > worst.0 {
                    worst = (over, slats.len(), pair[0].size[1].mm);
                }
            }
        }
    }
    let (over, count, width) = worst;
    let first = model.part(*parts.first()?);
    parts.sort_unstable();
    parts.dedup();
    let too_wide = over * (count as f64 - 1.0) / count as f64;
    let right = (width - too_wide).floor();
    let (deep, now) = (width * count as f64 - over * (count as f64 - 1.0), count as u32);
    let fewer = Some((deep / width + TOUCH).floor() as u32).filter(|fit| (1..now).contains(fit));
    let fewer = fewer.map(|fit| Remedy {
        words: format!("Lay {fit} slats a shelf"),
        changes: vec![("sawtooth.slats.count".to_owned(), fit.to_string())],
    });
    Some(Finding {
        explains,
        rule: Rule::SlatsFit,
        seriousness: Seriousness::WillFail,
        joint: None,
        place: Some(first.block().centre()),
        figures: vec![Figure::mm("slat width", width), Figure::count("slats a shelf", count as u32), Figure::mm("too wide", too_wide)],
        message: format!(
            "{count} slats of {} mm don't lie side by side: each is {} mm too wide for the depth of the shelf",
            mm(width),
            mm(too_wide)
        ),
        source: "geometry",
        remedies: (right >= LEAST_BEARING)
            .then(|| Remedy::length(format!("Make the slats {} mm wide", mm(right)), "sawtooth.slats.width", right))
            .into_iter()
            .chain(fewer)
            .collect(),
        parts,
    })
}

/// Slats that lie on too little of their width, or tip off their cleats of their own weight.
fn bearings(design: &Design, model: &Model) -> Vec<Finding> {
    let mut told = Vec::new();
    let mut wanted: Vec<Option<u32>> = Vec::new();
    let mut findings = Vec::new();
    for joint in model.joints.iter().filter(|joint| joint.role == Role::SlatToCleat) {
        // Both ends of a slat, and all slats of a mark, are alike.
        let slat = model.part(joint.a);
        if told.contains(&&slat.mark) {
            continue;
        }
        if let Some(finding) = lies_badly(design, model, joint, slat) {
            told.push(&slat.mark);
            let decided = slat.kind == PartKind::Slat && slat.size[1].decisions() == [WIDTH] && !slat.size[1].is_measured();
            wanted.push(decided.then(|| wide_enough(design, model, slat)).flatten());
            findings.push(finding);
        }
    }
    // As much as the narrowest wants does for all.
    let most = wanted.iter().flatten().max().copied();
    for (finding, wanted) in findings.iter_mut().zip(wanted) {
        let Some(wide) = wanted.and(most) else { continue };
        finding.remedies.extend(laid_wider(design, model, model.part(finding.parts[0]), wide));
    }
    as_one(findings)
}

/// What is worst of how a slat lies: not at all, so that it tips, or on too little.
fn lies_badly(design: &Design, model: &Model, joint: &Joint, slat: &Part) -> Option<Finding> {
    let narrow = bearing(model, joint);
    match narrow {
        Some(finding) if finding.seriousness == Seriousness::WillFail => Some(finding),
        narrow => tips(design, model, slat).or(narrow),
    }
}

/// All slats are as wide: of those that tip the one that is worst off speaks for the others, however long they are.
fn as_one(findings: Vec<Finding>) -> Vec<Finding> {
    let inside = |finding: &Finding| finding.figures.iter().find(|figure| figure.name == INSIDE).map(|figure| figure.value);
    let (mut tip, mut others): (Vec<Finding>, Vec<Finding>) = findings.into_iter().partition(|finding| inside(finding).is_some());
    tip.sort_by(|a, b| inside(a).unwrap_or(0.0).total_cmp(&inside(b).unwrap_or(0.0)));
    let more = tip.len().saturating_sub(1);
    let mut tip = tip.into_iter();
    if let Some(first) = tip.next() {
        others.push(tip.fold(counted(first, more), |mut all, other| {
            add_new(&mut all.parts, other.parts);
            all
        }));
    }
    others
}

/// What the figure is called of how far the middle of a slat is inside what bears it.
const INSIDE: &str = "middle inside";

/// Slats of another width, and fewer where they would not lie side by side.
fn laid_wider(design: &Design, model: &Model, slat: &Part, wide: u32) -> Option<Remedy> {
    let beside = |other: &&Part| other.kind == slat.kind && (other.block().min.y - slat.block().min.y).abs() < TOUCH;
    let of_shelf: Vec<_> = model.parts.iter().filter(beside).map(Part::block).collect();
    let deep = of_shelf.iter().map(|block| block.max.z).reduce(f64::max)? - of_shelf.iter().map(|block| block.min.z).reduce(f64::min)?;
    let (count, now) = ((deep / f64::from(wide) + TOUCH).floor() as u32, design.sawtooth.slats.count);
    let width = (WIDTH.to_owned(), wide.to_string());
    match count {
        0 => None,
        count if count < now => Some(Remedy {
            words: format!("Lay {count} slats of {wide} mm a shelf"),
            changes: vec![("sawtooth.slats.count".to_owned(), count.to_string()), width],
        }),
        _ => Some(Remedy { words: format!("Make the slats {wide} mm wide"), changes: vec![width] }),
    }
}

/// How far inside what bears it the middle of a slat has to be, mm (common practice, no source).
const STEADY: f64 = 3.0;
/// The widest slats that are thought of, mm.
const WIDEST: u32 = 400;

/// How a board lies on its cleats, measured across it from its face edge, mm.
struct Lies {
    length: f64,
    width: f64,
    /// Length and width of its notches, and whether each is in the edge behind.
    notches: Vec<(f64, f64, bool)>,
    /// From where to where it is borne at both ends.
    from: f64,
    to: f64,
}

impl Lies {
    fn of(design: &Design, model: &Model, board: &Part) -> Option<Lies> {
        let notches: Vec<(bool, f64, f64, bool)> = board
            .cuts
            .iter()
            .filter_map(|cut| match cut.feature {
                Feature::Notch { second_end, back_edge, length, width } => Some((second_end, length, width, back_edge)),
                _ => None,
            })
            .collect();
        let width = board.size[1].mm;
        let inverse = board.pose.inverse();
        let mut lies = Lies {
            length: board.size[0].mm,
            width,
            notches: notches.iter().map(|(_, length, width, back)| (*length, *width, *back)).collect(),
            from: 0.0,
            to: width,
        };
        let mut ends = 0;
        for joint in model.joints.iter().filter(|joint| joint.a == board.id && joint.role == Role::SlatToCleat) {
            let (cleat, in_teeth) =
                (model.part(joint.b), model.joints.iter().any(|other| other.a == joint.b && other.role == Role::CleatToStandard));
            // The ends of a loose cleat lean in toward its upper edge.
            let inset = if in_teeth { crate::joint::seat::bevel_inset(&design.sawtooth) } else { 0.0 };
            let top = cleat.block();
            let at = |z: f64| inverse.point(glam::DVec3::new(joint.contact.centre.x, joint.contact.centre.y, z)).y;
            let (one, other) = (at(top.min.z + inset), at(top.max.z - inset));
            let second = inverse.point(joint.contact.centre).x > lies.length / 2.0;
            let notched = |back: bool| {
                notches
                    .iter()
                    .filter(|(end, _, _, edge)| *end == second && *edge == back)
                    .map(|(_, _, width, _)| *width)
                    .fold(0.0, f64::max)
            };
            lies.from = lies.from.max(one.min(other)).max(notched(false));
            lies.to = lies.to.min(one.max(other)).min(width - notched(true));
            ends += 1;
        }
        (ends >= 2).then_some(lies)
    }

    /// Its middle across its width, what the notches take off counted.
    fn middle(&self) -> f64 {
        let (mut area, mut moment) = (self.length * self.width, self.length * self.width * self.width / 2.0);
        for &(length, width, back) in &self.notches {
            let at = if back { self.width - width / 2.0 } else { width / 2.0 };
            area -= length * width;
            moment -= length * width * at;
        }
        if area > TOUCH { moment / area } else { self.width / 2.0 }
    }

    /// How far its middle is inside what bears it; less than nothing where it is beside that.
    fn inside(&self) -> f64 {
        let middle = self.middle();
        (middle - self.from).min(self.to - middle)
    }

    /// The same board so much wider, its notches as deep as they are; what is more is borne.
    fn wider(&self, by: f64) -> Lies {
        // It grows away from the edge that its notches are in, whichever that is: what is not borne stays as wide.
        Lies { length: self.length, width: self.width + by, notches: self.notches.clone(), from: self.from, to: self.to + by }
    }
}

/// The least whole width at which a slat lies steadily, mm.
fn wide_enough(design: &Design, model: &Model, slat: &Part) -> Option<u32> {
    let lies = Lies::of(design, model, slat)?;
    let steady = |wide: &u32| {
        let wider = lies.wider(f64::from(*wide) - lies.width);
        wider.inside() >= STEADY && wider.to - wider.from >= LEAST_BEARING
    };
    (lies.width.ceil() as u32..=WIDEST).find(steady)
}

/// A board whose middle is not over what bears it: nothing holds down its other edge.
fn tips(design: &Design, model: &Model, board: &Part) -> Option<Finding> {
    let lies = Lies::of(design, model, board)?;
    let inside = lies.inside();
    let joint = model.joints.iter().find(|joint| joint.a == board.id && joint.role == Role::SlatToCleat)?;
    (inside < STEADY - TOUCH).then(|| Finding {
        explains: Vec::new(),
        rule: Rule::SlatBears,
        seriousness: if inside <= TOUCH { Seriousness::WillFail } else { Seriousness::AtRisk },
        parts: vec![board.id, joint.b],
        joint: Some(joint.id),
        place: Some(joint.contact.centre),
        figures: vec![Figure::mm(BEARING, (lies.to - lies.from).max(0.0)), Figure::mm(INSIDE, inside), Figure::mm("least inside", STEADY)],
        message: if inside <= TOUCH {
            format!(
                "{} tips off its cleats of its own weight: its middle is {} mm beside the {} mm of its width that lie on them",
                board.title,
                mm(-inside),
                mm((lies.to - lies.from).max(0.0))
            )
        } else {
            format!("{} hardly stays on its cleats: its middle is only {} mm inside what bears it", board.title, mm(inside))
        },
        source: "statics: a board lies while its middle is over what bears it; 3 mm inside is common practice, no source",
        remedies: Vec::new(),
    })
}

/// The decision on how wide the slats are.
const WIDTH: &str = "sawtooth.slats.width";
/// What the figure is called of how much of a slat lies on its cleat.
const BEARING: &str = "bearing";

fn bearing(model: &Model, joint: &Joint) -> Option<Finding> {
    let (slat, cleat) = (model.part(joint.a), model.part(joint.b));
    let end_of_slat = joint.contact.centre.x < slat.block().centre().x;
    let notched: f64 = slat
        .cuts
        .iter()
        .filter_map(|cut| match cut.feature {
            Feature::Notch { second_end, width, .. } if second_end != end_of_slat => Some(width),
            _ => None,
        })
        .sum();
    let own = slat.size[1].mm - notched;
    // One that ends before its cleat does not lie on it with any of its width.
    let reaches = joint.contact.extent.y > TOUCH;
    let bearing = if reaches { own.min(joint.contact.extent.x) } else { 0.0 };
    let seriousness = if bearing <= TOUCH {
        Seriousness::WillFail
    } else if bearing < LEAST_BEARING - TOUCH {
        Seriousness::AtRisk
    } else {
        return None;
    };
    let message = if bearing <= TOUCH {
        format!("{} does not lie on its cleat", slat.title)
    } else {
        format!("{} lies on its cleat with only {} mm of its width", slat.title, mm(bearing))
    };
    Some(Finding {
        explains: Vec::new(),
        rule: Rule::SlatBears,
        seriousness,
        parts: vec![slat.id, cleat.id],
        joint: Some(joint.id),
        place: Some(joint.contact.centre),
        figures: vec![Figure::mm(BEARING, bearing), Figure::mm("least", LEAST_BEARING)],
        message,
        source: "common practice, no source",
        remedies: Vec::new(),
    })
}
