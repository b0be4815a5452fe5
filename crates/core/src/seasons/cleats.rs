//! Cleats between their standards: room from riser to riser at the driest and at the wettest.
//!
//! A standard swells away from the upright at its back, and so its risers come nearer to those across the shelf, while a cleat does not grow along
//! its grain. What the standards close by more than its play jams it.

use std::collections::BTreeMap;

use super::{Swollen, growth, swollen};
use crate::design::{Design, Season};
use crate::inspect::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH};
use crate::joint::JointKind;
use crate::length::trimmed_to;
use crate::model::{Joint, Model, PartId};

const SOURCE: &str = "movement: Wood Handbook FPL-GTR-190, equation 13-2; nothing along the grain";

/// The cleat that jams most between its standards at the driest or the wettest, speaking for all that do; none that is too long as built.
pub(super) fn jams(design: &Design, model: &Model) -> Option<Finding> {
    let moisture = &design.timber.moisture;
    let pairs = cleats(model);
    let built: Vec<f64> = pairs.iter().map(|ends| play(model, None, ends)).collect();
    let worst_of = |season: Season| {
        let now = swollen(model, &growth(model, moisture.built, moisture.at(season)));
        let plays = pairs.iter().zip(&built).filter(|(_, built)| **built >= -TOUCH);
        let jammed: Vec<_> = plays
            .map(|(ends, built)| Jam { ends: *ends, built: *built, now: play(model, Some(&now), ends), season })
            .filter(|jam| jam.now < -TOUCH)
            .collect();
        jammed
    };
    let jammed = [Season::Driest, Season::Wettest].map(worst_of).into_iter().max_by(|a, b| deepest(a).total_cmp(&deepest(b)))?;
    tell(design, model, &jammed)
}

/// A cleat with less than no play.
struct Jam<'m> {
    ends: [&'m Joint; 2],
    built: f64,
    now: f64,
    season: Season,
}

fn deepest(jammed: &[Jam<'_>]) -> f64 {
    jammed.iter().map(|jam| -jam.now).fold(0.0, f64::max)
}

/// The two seats of each cleat.
fn cleats(model: &Model) -> Vec<[&Joint; 2]> {
    let mut cleats: BTreeMap<PartId, Vec<&Joint>> = BTreeMap::new();
    for joint in model.joints.iter().filter(|joint| matches!(joint.kind, JointKind::Seat(_))) {
        cleats.entry(joint.a).or_default().push(joint);
    }
    cleats.into_values().filter_map(|ends| <[&Joint; 2]>::try_from(ends).ok()).collect()
}

/// How much shorter a cleat is than from riser to riser, mm, as built or where every part stands so.
fn play(model: &Model, now: Option<&[Swollen]>, ends: &[&Joint; 2]) -> f64 {
    let [first, second] = ends;
    let axis = first.contact.into.axis();
    let then = |part: PartId| now.and_then(|now| now.get(part.0));
    let riser = |joint: &Joint| {
        // The contact lies at the tips of the teeth; the riser ends a seat deeper in.
        let at = joint.contact.centre + joint.contact.into.vector() * joint.contact.extent.y;
        then(joint.b).map_or(at, |now| now.pose.point(model.part(joint.b).pose.inverse().point(at) * now.scale))[axis]
    };
    let long = model.part(first.a).size[0].mm * then(first.a).map_or(1.0, |now| now.scale.x);
    (riser(first) - riser(second)).abs() - long
}

fn tell(design: &Design, model: &Model, jammed: &[Jam<'_>]) -> Option<Finding> {
    let worst = jammed.iter().min_by(|a, b| a.now.total_cmp(&b.now))?;
    let [first, second] = worst.ends;
    let (cleat, by) = (model.part(first.a), -worst.now);
    let mut parts = vec![cleat.id, first.b, second.b];
    for part in jammed.iter().flat_map(|jam| [jam.ends[0].a, jam.ends[0].b, jam.ends[1].b]) {
        if !parts.contains(&part) {
            parts.push(part);
        }
    }
    let more = if jammed.len() > 1 { format!("; so do {} more like it", jammed.len() - 1) } else { String::new() };
    let moisture = mm(design.timber.moisture.at(worst.season));
    let [one, other] = [first, second].map(|end| &model.part(end.b).title);
    Some(Finding {
        rule: Rule::Season,
        seriousness: Seriousness::WillFail,
        parts,
        explains: Vec::new(),
        joint: Some(first.id),
        place: Some(cleat.block().centre()),
        figures: vec![
            Figure::mm("into each other", by),
            Figure::mm("play as built", worst.built),
            Figure::count("cleats", jammed.len() as u32),
        ],
        message: format!(
            "At its {}, {moisture} % moisture: {} jams by {} mm between {one} and {other}, which close by {} mm, and it has {} mm of play{more}",
            worst.season.words(),
            cleat.title,
            apart(by, by),
            apart(worst.built - worst.now, by),
            apart(worst.built, by)
        ),
        source: SOURCE,
        remedies: more_play(first, by).into_iter().collect(),
    })
}

/// As much more play as it lacks, to the next half.
fn more_play(seat: &Joint, lacking: f64) -> Option<Remedy> {
    let JointKind::Seat(seat) = &seat.kind else { return None };
    let play = ((seat.play + lacking) * 2.0 - TOUCH).ceil() / 2.0;
    let changes = vec![("sawtooth.cleat.play".to_owned(), play.to_string())];
    Some(Remedy { words: format!("Give the cleats {} mm of play", mm(play)), changes })
}

/// To the hundredth: what jams may do so by less than a tenth.
fn mm(value: f64) -> String {
    trimmed_to(value, 2)
}

/// To as many places as tell two lengths apart that differ by so much, mm.
fn apart(value: f64, by: f64) -> String {
    trimmed_to(value, if by < 0.01 { 4 } else { 2 })
}
