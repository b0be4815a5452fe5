//! Slats on their cleats: side by side, and with enough of their width.

use std::collections::BTreeMap;

use super::floors::LEAST_BORNE;
use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm};
use crate::design::Design;
use crate::model::{Feature, Joint, Model, Part, PartId, Role};

/// The least width of a slat that lies on a cleat, mm (common practice, no source).
pub const LEAST_BEARING: f64 = 12.0;

pub(super) fn check(design: &Design, model: &Model) -> Vec<Finding> {
    crowded(model).into_iter().chain(bearings(model)).chain(ends(design, model)).collect()
}

/// Slats that lie on too little of their cleats' thickness when they are pushed over to the other end.
fn ends(design: &Design, model: &Model) -> Vec<Finding> {
    let play = design.sawtooth.slats.play.to_mm();
    let mut told = Vec::new();
    let resting = model.joints.iter().filter(|joint| joint.role == Role::SlatToCleat && joint.contact.extent.y > TOUCH);
    resting
        .filter_map(|joint| {
            let (slat, cleat) = (model.part(joint.a), model.part(joint.b));
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

fn bearings(model: &Model) -> Vec<Finding> {
    let mut findings = too_narrow(model);
    // Every millimetre more of width is one more beside the notches: as much as the narrowest wants does for all.
    let lacking = findings.iter().flat_map(|finding| &finding.figures).filter(|figure| figure.name == BEARING);
    let most = lacking.map(|figure| LEAST_BEARING - figure.value).fold(0.0, f64::max);
    for finding in &mut findings {
        let width = &model.part(finding.parts[0]).size[1];
        let decided = width.decisions() == [WIDTH] && !width.is_measured();
        let right = (width.mm + most).ceil();
        finding.remedies.extend(decided.then(|| Remedy::length(format!("Make the slats {} mm wide", mm(right)), WIDTH, right)));
    }
    findings
}

/// The decision on how wide the slats are.
const WIDTH: &str = "sawtooth.slats.width";
/// What the figure is called of how much of a slat lies on its cleat.
const BEARING: &str = "bearing";

fn too_narrow(model: &Model) -> Vec<Finding> {
    let mut told = Vec::new();
    let resting = model.joints.iter().filter(|joint| joint.role == Role::SlatToCleat);
    resting
        .filter_map(|joint| {
            // Both ends of a slat, and all slats of a mark, are alike.
            let mark = &model.part(joint.a).mark;
            if told.contains(&mark) {
                return None;
            }
            let finding = bearing(model, joint)?;
            told.push(mark);
            Some(finding)
        })
        .collect()
}

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
