//! Cleats on their seats: enough of each end in its tooth, pushed over to the other.

use std::collections::BTreeMap;

use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm};
use crate::joint::JointKind;
use crate::joint::seat::ROUND_PLAY;
use crate::model::{Feature, Joint, Model, Part, PartId};

/// The least of a seat that a cleat lies on, mm: of the least seat, 12, less the most play, 1.5 (common practice, no source).
pub const LEAST_ON_SEAT: f64 = 10.5;

pub(super) fn check(model: &Model) -> Vec<Finding> {
    let mut cleats: BTreeMap<PartId, Vec<&Joint>> = BTreeMap::new();
    for joint in model.joints.iter().filter(|joint| matches!(joint.kind, JointKind::Seat(_))) {
        cleats.entry(joint.a).or_default().push(joint);
    }
    cleats
        .into_iter()
        .filter_map(|(cleat, ends)| match ends[..] {
            [first, second] => too_tall(model, cleat, [first, second]).or_else(|| on_seats(model, cleat, [first, second])),
            _ => None,
        })
        .collect()
}

/// A cleat with round ends that is taller than the half rounds it should go into.
fn too_tall(model: &Model, cleat: PartId, ends: [&Joint; 2]) -> Option<Finding> {
    let part = model.part(cleat);
    let radius = ends.iter().filter_map(|joint| radius(model.part(joint.b))).reduce(f64::min)?;
    let over = part.size[1].mm - (2.0 * radius - ROUND_PLAY);
    let right = 2.0 * radius - ROUND_PLAY;
    (over > TOUCH).then(|| Finding {
        explains: ends.iter().map(|joint| (cleat.min(joint.b), cleat.max(joint.b))).collect(),
        rule: Rule::CleatBears,
        seriousness: if over > ROUND_PLAY - TOUCH { Seriousness::WillFail } else { Seriousness::AtRisk },
        parts: vec![cleat, ends[0].b, ends[1].b],
        joint: Some(ends[0].id),
        place: Some(ends[0].contact.centre),
        figures: vec![Figure::mm("too tall", over), Figure::mm("half rounds", 2.0 * radius)],
        message: format!("{} is {} mm too tall for half rounds of {} mm", part.title, mm(over), mm(2.0 * radius)),
        source: "half a millimetre of play in height: common practice, no source",
        remedies: vec![Remedy::length(format!("Make the cleats {} mm high", mm(right)), "sawtooth.cleat.height", right)],
    })
}

/// The radius of the half rounds of a standard; none where it has sloped teeth.
fn radius(standard: &Part) -> Option<f64> {
    standard.cuts.iter().find_map(|cut| match cut.feature {
        Feature::HalfRounds { radius, .. } => Some(radius),
        _ => None,
    })
}

fn on_seats(model: &Model, cleat: PartId, [first, second]: [&Joint; 2]) -> Option<Finding> {
    let part = model.part(cleat);
    let axis = first.contact.into.axis();
    let seats = [first, second].map(|joint| joint.contact.extent.y);
    // From riser to riser: the contacts lie at the tips of the teeth.
    let between = (first.contact.centre[axis] - second.contact.centre[axis]).abs() + seats[0] + seats[1];
    let play = between - part.size[0].mm;
    let bearing = seats[0].min(seats[1]) - play.max(0.0);
    let remedy = part.is_own(0).then(|| {
        let right = between - PLAY;
        Remedy::length(format!("Make the length {} mm", mm(right)), &format!("part.{}.length", part.name), right)
    });
    (bearing < LEAST_ON_SEAT - TOUCH).then(|| Finding {
        explains: Vec::new(),
        rule: Rule::CleatBears,
        seriousness: if bearing <= TOUCH { Seriousness::WillFail } else { Seriousness::AtRisk },
        parts: vec![cleat, first.b, second.b],
        joint: Some(first.id),
        place: Some(first.contact.centre),
        figures: vec![Figure::mm("bearing", bearing), Figure::mm("least", LEAST_ON_SEAT)],
        message: if bearing <= TOUCH {
            format!("{} drops out of its teeth when it is pushed over", part.title)
        } else {
            format!("{} lies on only {} mm of its seat when it is pushed over", part.title, mm(bearing))
        },
        source: "seats of at least 12 mm, 1 to 1.5 mm of play: common practice, no source",
        remedies: remedy.into_iter().collect(),
    })
}

/// The play that a cleat of the maker's own length should have, mm (common practice, no source: 1 to 1.5).
const PLAY: f64 = 1.5;
