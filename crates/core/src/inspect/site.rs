//! Where it will stand: whether it fits there, and whether what is glued together gets there.

use glam::DVec3;

use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm};
use crate::design::{Design, Passage, Site, Top};
use crate::model::{Model, Part, PartId};
use crate::place::Block;
use crate::sentence;

/// Free all round while it is carried through, for hands and walls, mm (common practice, no source).
const HANDS: f64 = 10.0;

const SOURCE: &str = "geometry; 10 mm free on either side for hands is common practice, no source";

pub(super) fn check(design: &Design, model: &Model) -> Vec<Finding> {
    let (site, Some(bounds)) = (&design.site, model.bounds) else { return Vec::new() };
    let mut findings: Vec<Finding> = stands(design, site, bounds).into_iter().collect();
    findings.extend(off_the_wall(design, site));
    let units = units(model);
    for (words, openings) in [("door", passage(site.door)), ("stairs", passage(site.stairs)), ("lift", cabin(site))] {
        if let Some(opening) = openings {
            findings.extend(units.iter().filter_map(|unit| carried(unit, words, &opening)));
        }
    }
    findings
}

/// The case against the niche, all that is lacking told at once.
fn stands(design: &Design, site: &Site, bounds: Block) -> Option<Finding> {
    let size = bounds.size();
    let known = |length: crate::Length| Some(length.to_mm()).filter(|mm| *mm > 0.0);
    let wanted = [
        ("width", "carcase.width", size.x + 2.0 * site.scribe.to_mm(), known(site.width), design.carcase.width),
        ("height", "carcase.height", size.y, known(site.height), design.carcase.height),
        ("depth", "carcase.depth", size.z + stand_off(design, site), known(site.depth), design.carcase.depth),
    ];
    let over: Vec<_> = wanted
        .into_iter()
        .filter_map(|(word, path, needs, there, now)| Some((word, path, needs - there?, now)).filter(|(_, _, over, _)| *over > TOUCH))
        .collect();
    if over.is_empty() {
        return None;
    }
    let told: Vec<String> = over.iter().map(|(word, _, by, _)| format!("{} mm in {word}", mm(*by))).collect();
    let changes = over.iter().map(|(_, path, by, now)| ((*path).to_owned(), (now.to_mm() - by).to_string())).collect();
    let less: Vec<String> = over.iter().map(|(word, _, by, _)| format!("{} mm less {word}", mm(*by))).collect();
    Some(Finding {
        explains: Vec::new(),
        rule: Rule::FitsSite,
        seriousness: Seriousness::WillFail,
        parts: Vec::new(),
        joint: None,
        place: Some(bounds.centre()),
        figures: over.iter().map(|(word, _, by, _)| Figure::mm(over_by(word), *by)).collect(),
        message: format!("It does not go where it is to stand: too large by {}", told.join(" and ")),
        source: "geometry",
        remedies: vec![Remedy { words: format!("Give the case {}", less.join(" and ")), changes }],
    })
}

fn over_by(word: &str) -> &'static str {
    match word {
        "width" => "too wide by",
        "height" => "too high by",
        _ => "too deep by",
    }
}

/// How far the skirting keeps it from the wall beyond what the top reaches back, mm.
fn stand_off(design: &Design, site: &Site) -> f64 {
    (site.skirting.to_mm() - over_back(design)).max(0.0)
}

fn over_back(design: &Design) -> f64 {
    match &design.carcase.top {
        Top::Slab(slab) => slab.over_back.to_mm(),
        Top::Open => 0.0,
    }
}

/// A gap behind the top that the skirting makes.
fn off_the_wall(design: &Design, site: &Site) -> Option<Finding> {
    let gap = stand_off(design, site);
    let remedy = || Remedy {
        words: "Let the top reach back to the wall".to_owned(),
        changes: vec![("carcase.top.over_back".to_owned(), site.skirting.to_string())],
    };
    (gap > TOUCH).then(|| Finding {
        explains: Vec::new(),
        rule: Rule::FitsSite,
        seriousness: Seriousness::Note,
        parts: Vec::new(),
        joint: None,
        place: None,
        figures: vec![Figure::mm("gap at the wall", gap)],
        message: format!("The skirting keeps it {} mm from the wall", mm(gap)),
        source: "geometry",
        remedies: matches!(design.carcase.top, Top::Slab(_)).then(remedy).into_iter().collect(),
    })
}

/// What is glued together, and goes through doors as one.
struct Unit {
    parts: Vec<PartId>,
    name: String,
    /// Its sizes, the least first, mm.
    size: [f64; 3],
}

fn units(model: &Model) -> Vec<Unit> {
    let body = model.bodies(|joint| joint.glued);
    let mut numbers: Vec<usize> = body.clone();
    numbers.sort_unstable();
    numbers.dedup();
    numbers
        .into_iter()
        .filter_map(|number| {
            let parts: Vec<&Part> = model.parts.iter().filter(|part| body[part.id.0] == number).collect();
            let of = |pick: fn(DVec3, DVec3) -> DVec3, at: fn(&Block) -> DVec3| parts.iter().map(|part| at(&part.block())).reduce(pick);
            let size = of(DVec3::max, |block| block.max)? - of(DVec3::min, |block| block.min)?;
            let mut size = size.to_array();
            size.sort_by(f64::total_cmp);
            let name = if parts.len() == 1 { sentence::inside(&parts[0].title) } else { "the carcase as glued".to_owned() };
            Some(Unit { parts: parts.iter().map(|part| part.id).collect(), name, size })
        })
        .collect()
}

/// What must be passed, the least size first, mm: two sizes for an opening, a third where there is an end to it too.
fn passage(passage: Passage) -> Option<Vec<f64>> {
    let mut sizes = vec![passage.width.to_mm(), passage.height.to_mm()];
    sizes.sort_by(f64::total_cmp);
    (sizes[0] > 0.0).then_some(sizes)
}

fn cabin(site: &Site) -> Option<Vec<f64>> {
    let mut sizes = vec![site.lift.width.to_mm(), site.lift.depth.to_mm(), site.lift.height.to_mm()];
    sizes.sort_by(f64::total_cmp);
    (sizes[0] > 0.0).then_some(sizes)
}

/// Whether something goes through, turned as it likes, square to the opening: its least size through the least, and so on.
fn carried(unit: &Unit, through: &str, opening: &[f64]) -> Option<Finding> {
    let over = unit.size.iter().zip(opening).map(|(size, clear)| size + 2.0 * HANDS - clear).fold(f64::NEG_INFINITY, f64::max);
    (over > TOUCH).then(|| {
        let sizes: Vec<String> = unit.size.iter().rev().map(|size| mm(*size)).collect();
        Finding {
            explains: Vec::new(),
            rule: Rule::Carried,
            seriousness: Seriousness::AtRisk,
            parts: unit.parts.clone(),
            joint: None,
            place: None,
            figures: vec![Figure::mm("too large by", over)],
            message: format!(
                "The {through} on the way: {} of {} does not go through square, too large by {} mm with room for hands; try it tilted, or glue it up where it stands",
                unit.name,
                sizes.join(" × "),
                mm(over)
            ),
            source: SOURCE,
            remedies: Vec::new(),
        }
    })
}
