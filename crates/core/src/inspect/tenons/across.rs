//! Loose parts of joints across their length: thickness against the stock, and sizes of single ones against their holes.

use super::super::milled::{Gap, in_holes};
use super::super::own_sizes::own_size_by_rule;
use crate::design::Dimension;
use crate::inspect::{Figure, Finding, Remedy, Rule, Seriousness, mm};
use crate::joint::loose_tenon::Figures;
use crate::joint::{JointKind, role_path};
use crate::model::{Joint, Model, Part};

/// The share of the thinner part that a tenon may take: a third by rule (Noyes, Handwork in Wood), to a half where it is
/// cut by machine (common practice, no source).
const THIRD: std::ops::RangeInclusive<f64> = 0.25..=0.5;

/// One word for all joints of a kind: they rest on one decision.
pub(super) fn thicknesses(model: &Model) -> Vec<Finding> {
    type Row<'m> = (&'m Joint, &'m Figures);
    let mut kinds: Vec<(Option<&'static str>, Vec<Row<'_>>)> = Vec::new();
    for joint in &model.joints {
        let JointKind::LooseTenons(figures) = &joint.kind else { continue };
        let path = role_path(joint.role);
        match kinds.iter_mut().find(|(known, _)| *known == path) {
            Some((_, all)) => all.push((joint, figures)),
            None => kinds.push((path, vec![(joint, figures)])),
        }
    }
    kinds.iter().filter_map(|(path, all)| thickness(model, *path, all)).collect()
}

fn thickness(model: &Model, path: Option<&str>, all: &[(&Joint, &Figures)]) -> Option<Finding> {
    // The thinnest of all the parts that these tenons go into, measured the way of the tenon's thickness.
    let stock = |joint: &Joint| {
        let across = 3 - joint.contact.into.axis() - joint.contact.along.axis();
        model.part(joint.a).block().size()[across].min(model.part(joint.b).block().size()[across])
    };
    let (joint, figures, stock) = all.iter().map(|(joint, figures)| (joint, figures, stock(joint))).min_by(|a, b| a.2.total_cmp(&b.2))?;
    let share = figures.thickness / stock;
    if THIRD.contains(&share) {
        return None;
    }
    let right = (stock / 3.0).round();
    let words = format!("Take tenons {} mm thick", mm(right));
    Some(Finding {
        rule: Rule::TenonThickness,
        seriousness: if share > *THIRD.end() { Seriousness::AtRisk } else { Seriousness::Note },
        parts: vec![joint.a, joint.b],
        explains: Vec::new(),
        joint: Some(joint.id),
        place: Some(joint.contact.centre),
        figures: vec![Figure::mm("tenon", figures.thickness), Figure::mm("stock", stock), Figure::new("share", share, "")],
        message: format!("A tenon of {} mm in stock of {} mm is far from a third of it", mm(figures.thickness), mm(stock)),
        source: "a third of the stock: Noyes, Handwork in Wood; to a half where machine cut: common practice, no source",
        remedies: path.map(|path| Remedy::length(words, &format!("joinery.{path}.thickness"), right)).into_iter().collect(),
    })
}

/// Loose parts of which the maker set a width or a thickness against the rules, and that are then loose in their holes or do not go into them. Those that were
/// measured are told with what is there.
pub(super) fn own_sizes(model: &Model) -> Vec<Finding> {
    let loose = model.joints.iter().flat_map(|joint| joint.loose.iter().map(move |loose| (joint, model.part(*loose))));
    let sizes = loose.flat_map(|(joint, part)| [Dimension::Width, Dimension::Thickness].map(|of| (joint, part, of)));
    sizes.filter(|(_, part, of)| part.is_own(of.index())).filter_map(|(joint, part, of)| own_size(joint, part, of)).collect()
}

fn own_size(joint: &Joint, part: &Part, of: Dimension) -> Option<Finding> {
    let gap = in_holes(&joint.kind, part, of)?;
    let (rule, seriousness, found, figures) = match gap {
        Gap::Loose(room) => (
            "a loose part is snug in its holes",
            Seriousness::AtRisk,
            format!("its {} leaves {} mm of room", of.word(), mm(room)),
            gap.figures(),
        ),
        Gap::Tight(by) => (
            "a loose part goes into its holes",
            Seriousness::WillFail,
            format!("its {} is {} mm too much for them", of.word(), mm(by)),
            gap.figures(),
        ),
        Gap::Open(_)
        | Gap::Into(_)
        | Gap::LessInGroove { .. }
        | Gap::PastBottom(_)
        | Gap::Bare { .. }
        | Gap::Narrow { .. }
        | Gap::Over { .. } => return None,
    };
    let class = joint.kind.fits().into_iter().map(|fitted| fitted.class).next()?;
    Some(Finding {
        rule: Rule::JointRule,
        seriousness,
        parts: vec![part.id, joint.a, joint.b],
        explains: vec![(joint.a, part.id), (joint.b, part.id)],
        joint: Some(joint.id),
        place: Some(part.block().centre()),
        figures,
        message: format!("{}: breaks the rule that {rule}; {found}", part.title),
        source: class.source(),
        remedies: own_size_by_rule(part, of).into_iter().collect(),
    })
}
