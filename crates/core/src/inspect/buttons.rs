//! Buttons and clips that hold the top: enough tongue in the rail when the top has shrunk, and has been slid over.

use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm};
use crate::design::{Design, FixedLine, Season, Slab, Top};
use crate::joint::{JointKind, clip};
use crate::length::trimmed;
use crate::model::{Joint, Model};
use crate::seasons::{HeldTop, Tongue};

/// The least of a tongue of wood that stays in its slot, mm (common practice, no source).
pub const LEAST_HELD: f64 = 4.0;

pub(super) fn check(design: &Design, model: &Model) -> Option<Finding> {
    let top = HeldTop::of(design, model)?;
    // The worst of them speaks for all: they rest on one decision.
    let tongues = model.joints.iter().filter_map(|joint| Some((joint, top.tongue(joint)?, least(&joint.kind)?)));
    let (joint, tongue, least) = tongues.min_by(|a, b| (a.1.held - a.2).total_cmp(&(b.1.held - b.2)))?;
    if tongue.held >= least - TOUCH {
        return None;
    }
    let (fixing, rail) = (model.part(joint.a), model.part(joint.b));
    let lost = tongue.held <= TOUCH;
    let figures = [
        Figure::mm("held", tongue.held).because(top.why_tongue(joint, &tongue)),
        Figure::mm("least", least),
        Figure::mm("slid", tongue.slid),
    ];
    Some(Finding {
        rule: Rule::ButtonHolds,
        seriousness: if lost { Seriousness::WillFail } else { Seriousness::AtRisk },
        parts: vec![fixing.id, rail.id],
        explains: Vec::new(),
        joint: Some(joint.id),
        place: Some(joint.contact.centre),
        figures: figures.into_iter().filter(|figure| figure.value.is_finite()).collect(),
        message: message(&tongue, (&fixing.title, &rail.title)),
        source: "movement: Wood Handbook FPL-GTR-190, equation 13-2; 4 mm of tongue, of a clip 3: common practice, no source",
        remedies: remedies(design, joint, &tongue, least),
    })
}

fn least(kind: &JointKind) -> Option<f64> {
    match kind {
        JointKind::Button(_) => Some(LEAST_HELD),
        JointKind::Clip(_) => Some(clip::LEAST_HELD),
        _ => None,
    }
}

fn message(tongue: &Tongue, (fixing, rail): (&str, &str)) -> String {
    let when = match tongue.season {
        Season::Built => "as it is built",
        Season::Driest => "when the top is driest",
        Season::Wettest => "when the top is wettest",
    };
    if !tongue.slid.is_finite() {
        return format!("{fixing} comes out of {rail}: nothing keeps the top from being slid that way");
    }
    let slid = if tongue.slid > TOUCH { format!(" and slid over by the {} mm that it can be", mm(tongue.slid)) } else { String::new() };
    if tongue.held <= TOUCH {
        format!("{fixing} comes out of {rail} {when}{slid}")
    } else {
        format!("{fixing} is held by only {} mm in {rail} {when}{slid}", mm(tongue.held))
    }
}

/// A top that is held in its middle moves half as far at either edge; and a longer tongue reaches farther.
fn remedies(design: &Design, joint: &Joint, tongue: &Tongue, least: f64) -> Vec<Remedy> {
    let Top::Slab(Slab { buttons, clips, .. }) = &design.carcase.top else { return Vec::new() };
    let centre = (buttons.fixed != FixedLine::Centre).then(|| Remedy {
        words: "Hold the top in the middle, so that half of its movement shows at each edge".to_owned(),
        changes: vec![("carcase.top.buttons.fixed".to_owned(), "centre".to_owned())],
    });
    let longer = |now: f64| (now + least - tongue.held).ceil();
    let reaches = match &joint.kind {
        JointKind::Button(_) => Some(("carcase.top.buttons.tongue", "Make the tongues of the buttons", longer(buttons.tongue.to_mm()))),
        JointKind::Clip(_) => Some(("carcase.top.clips.depth", "Make the kerfs of the clips", longer(clips.depth.to_mm()))),
        _ => None,
    };
    // A tongue must leave something of its button.
    let most =
        if matches!(joint.kind, JointKind::Button(_)) { buttons.thickness.to_mm().min(buttons.length.to_mm()) } else { f64::INFINITY };
    let deeper = reaches.filter(|(.., size)| size.is_finite() && *size < most).map(|(path, what, size)| {
        let word = if path.ends_with("depth") { "deep" } else { "long" };
        Remedy { words: format!("{what} {} mm {word}", trimmed(size)), changes: vec![(path.to_owned(), size.to_string())] }
    });
    centre.into_iter().chain(deeper).collect()
}
