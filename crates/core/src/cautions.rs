//! What can hurt whoever builds this very case: each caution appears only where it applies, with the parts that it is about.
//!
//! These are the usual cautions and no more. Machines, glues and finishes come with their makers' own; local law and licensed practice decide.

use std::sync::LazyLock;

use serde::Deserialize;

use crate::design::{Design, Finish};
use crate::model::{Feature, Material, Model, Part, PartId, PartKind};
use crate::timber::How;

/// A caution.
#[derive(Clone, Debug, PartialEq)]
pub struct Caution {
    /// What it is about.
    pub about: About,
    /// What to do, in full sentences.
    pub words: String,
    /// The parts it is about; none where it is about all.
    pub parts: Vec<PartId>,
    /// Where it comes from.
    pub source: &'static str,
    /// How that was obtained.
    pub how: How,
}

/// What a caution is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum About {
    /// Dust of wood and boards.
    Dust,
    /// What one species does to skin or breath.
    Species,
    /// Parts too short to be held safely at a machine.
    ShortParts,
    /// Cuts that stop short of the end.
    StoppedCuts,
    /// Glue that sensitises the skin.
    Glue,
    /// Rags with a drying oil.
    OilyRags,
}

impl About {
    /// A heading for it.
    pub fn word(self) -> &'static str {
        match self {
            About::Dust => "dust",
            About::Species => "timber",
            About::ShortParts => "short parts",
            About::StoppedCuts => "stopped cuts",
            About::Glue => "glue",
            About::OilyRags => "oily rags",
        }
    }
}

/// The least length that is fed by hand to a machine, mm: 12 in (safety guides of the trade, read).
pub const SHORTEST: f64 = 300.0;
/// The least distance of a hand from a cutter, mm: 3 in (the same).
const HAND: f64 = 75.0;

/// The cautions of a case, in the order of the work.
pub fn cautions(design: &Design, model: &Model) -> Vec<Caution> {
    let all = [dust(model), short_parts(model), stopped_cuts(model), glue(design), oily_rags(design)];
    let mut cautions: Vec<_> = all.into_iter().flatten().collect();
    let after_dust = usize::from(cautions.first().is_some_and(|first| first.about == About::Dust));
    cautions.splice(after_dust..after_dust, of_species(model));
    cautions
}

fn ids<'m>(parts: impl Iterator<Item = &'m Part>) -> Vec<PartId> {
    parts.map(|part| part.id).collect()
}

/// Whether dust of a material counts as that of hardwood: boards do, unless their maker shows otherwise.
fn is_hard(model: &Model, material: &Material) -> bool {
    match material {
        Material::Solid(_) | Material::Sheet(_) => model.timbers.wood(material).is_none_or(|species| !species.softwood),
        Material::Bought(_) => false,
    }
}

fn dust(model: &Model) -> Option<Caution> {
    let wooden = || model.parts.iter().filter(|part| !matches!(part.material, Material::Bought(_)));
    wooden().next()?;
    let hard = ids(wooden().filter(|part| is_hard(model, &part.material)));
    let (limit, parts) = if hard.is_empty() {
        (
            "Dust of softwood harms the lungs; Great Britain allows 5 mg/m³ over 8 hours (from memory), NIOSH advises 1 (from memory).",
            Vec::new(),
        )
    } else {
        (
            "Dust of hardwood, and of boards that nobody has shown to be otherwise, can cause cancer of the nose and asthma. The EU allows 2 mg/m³ over \
             8 hours since January 2023 (Directive 2017/2398; a mixture counts as hardwood), NIOSH advises 1 (from memory).",
            hard,
        )
    };
    Some(Caution {
        about: About::Dust,
        words: format!("{limit} Extract it where it is made, wear a mask when sanding, and look up the limit where you are."),
        parts,
        source: "Directive (EU) 2017/2398, in notices of the trade; NIOSH",
        how: How::Read,
    })
}

#[derive(Deserialize)]
struct Row {
    id: String,
    words: String,
    source: String,
    how: How,
}

static SPECIES: LazyLock<Vec<Row>> = LazyLock::new(|| {
    csv::Reader::from_reader(include_bytes!("../../../assets/timber/cautions.csv").as_slice())
        .into_deserialize()
        .filter_map(Result::ok)
        .collect()
});

/// What is published of the species that the case is of.
fn of_species(model: &Model) -> Vec<Caution> {
    let of = |row: &'static Row| {
        let parts = ids(model.parts.iter().filter(|part| model.timbers.wood(&part.material).is_some_and(|species| species.id == row.id)));
        (!parts.is_empty()).then(|| Caution {
            about: About::Species,
            words: format!("The {}.", row.words),
            parts,
            source: &row.source,
            how: row.how,
        })
    };
    SPECIES.iter().filter_map(of).collect()
}

fn short_parts(model: &Model) -> Option<Caution> {
    let is_worked = |part: &&Part| {
        matches!(part.material, Material::Solid(_))
            && !matches!(part.kind, PartKind::LooseTenon | PartKind::Dowel)
            && part.lwt().x < SHORTEST
    };
    let short: Vec<_> = model.parts.iter().filter(is_worked).collect();
    if short.is_empty() {
        return None;
    }
    let mut marks: Vec<&str> = short.iter().map(|part| part.mark.as_str()).collect();
    marks.dedup();
    marks.sort_unstable();
    marks.dedup();
    Some(Caution {
        about: About::ShortParts,
        words: format!(
            "{} {} shorter than {SHORTEST} mm: plane, groove and mortise several in one length and crosscut them last, or hold them in a \
             carrier. Keep hands {HAND} mm from the cutter, and look up the least length of your machines.",
            marks.join(", "),
            if marks.len() == 1 { "is" } else { "are" },
        ),
        parts: ids(short.into_iter()),
        source: "safety guides of the trade: 12 in and 3 in",
        how: How::Read,
    })
}

fn stopped_cuts(model: &Model) -> Option<Caution> {
    let stops = |feature: &Feature| matches!(feature, Feature::Groove { through, .. } if through.contains(&false));
    let parts = ids(model.parts.iter().filter(|part| part.cuts.iter().any(|cut| stops(&cut.feature))));
    (!parts.is_empty()).then(|| Caution {
        about: About::StoppedCuts,
        words: "A groove that stops short is begun or ended in the middle of the part: clamp a stop at both ends, hold the part down, feed against the \
                cutter's turn, and let the machine stand still before the part is lifted off."
            .to_owned(),
        parts,
        source: "common practice, no source",
        how: How::Memory,
    })
}

fn glue(design: &Design) -> Option<Caution> {
    design.shop.glue.family.contains("epoxy").then(|| Caution {
        about: About::Glue,
        words: "Epoxy sensitises the skin: gloves, and none of it on bare hands; its sanding dust is no better before it has cured."
            .to_owned(),
        parts: Vec::new(),
        source: "trade guides to glues",
        how: How::Read,
    })
}

fn oily_rags(design: &Design) -> Option<Caution> {
    (design.timber.finish == Finish::DryingOil).then(|| Caution {
        about: About::OilyRags,
        words: "Rags with a drying oil heat themselves and catch fire, sanding dust of it too: hang them flat outdoors, or drown them in a metal \
                bin with a lid, before you leave the shop."
            .to_owned(),
        parts: Vec::new(),
        source: "makers' warnings on drying oils (common practice, no source)",
        how: How::Memory,
    })
}
