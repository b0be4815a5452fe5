//! The sizes that are tried, found from the list itself.

use crate::contents::{Pile, Stance};
use crate::derive::derive;
use crate::design::{Along, Bay, BaySize, BoxKind, Design, Divider, Fitting, Opening, Shelves, Split, System, decisions};
use crate::length::{Length, trimmed};
use crate::place::Block;

/// As high as one reaches, mm (common practice, no source): no case is proposed higher, unless the one at hand is or a thing asks for it.
const REACH: f64 = 1900.0;

/// The widest bay that is tried, mm, unless a thing is wider: a shelf is judged by what it bears, and a long one bears little (the old
/// library rule has three feet, 914, for a shelf of books).
const WIDEST: f64 = 1250.0;

/// From one width that is tried to the next, mm; what is taken is narrowed to the millimetre afterwards.
const STEP: f64 = 25.0;

/// How many heights are tried; what is taken is lowered afterwards.
const HEIGHTS: u32 = 5;

/// How many depths are tried at most.
const DEPTHS: usize = 4;

/// The tooth of a shelf that is there to be weighed.
const MIDDLE: u32 = 8;

/// The kinds of which there are any.
fn kinds(design: &Design) -> impl Iterator<Item = &BoxKind> {
    design.contents.iter().filter(|kind| kind.wanted() > 0)
}

/// What one of a kind asks for, mm, in each way that it may stand: width, height, depth.
fn needs<'a>(design: &'a Design, kind: &'a BoxKind) -> impl Iterator<Item = glam::DVec3> + 'a {
    Stance::of(kind.lies).iter().map(|stance| Pile::one(kind, &design.hand_room, *stance).needs())
}

/// The least room of which each kind has enough in one direction, whichever way it stands, mm.
fn least(design: &Design, axis: usize) -> Option<f64> {
    let of_kind = |kind| needs(design, kind).map(|needs| needs[axis]).reduce(f64::min);
    kinds(design).filter_map(of_kind).reduce(f64::max)
}

/// What a case takes beyond the free space of its one bay, mm: width, height, depth; as large as the seasons make it.
fn beyond(design: &Design) -> Option<glam::DVec3> {
    let model = derive(&of_bays(design, [design.carcase.height.to_mm(), design.carcase.depth.to_mm()], &[600.0], true)?).ok()?;
    let tight = crate::contents::room::in_use(design, &model);
    let lost = |built: &Block, tight: &Block| (built.size() - tight.size()).max(glam::DVec3::ZERO);
    let lost =
        model.rooms.iter().zip(&tight).map(|(built, tight)| lost(&built.space, &tight.space)).fold(glam::DVec3::ZERO, glam::DVec3::max);
    let space = model.bays.first()?.space.size();
    let case = glam::DVec3::new(design.carcase.width.to_mm(), design.carcase.height.to_mm(), design.carcase.depth.to_mm());
    Some(glam::DVec3::new(2.0 * design.carcase.post.width.to_mm(), case.y - space.y, case.z - space.z) + lost)
}

/// A size from a site; no end to it where it is not known.
fn known(length: Length) -> f64 {
    Some(length.to_mm()).filter(|mm| *mm > 0.0).unwrap_or(f64::INFINITY)
}

/// What goes into no case that stands on the site, each with what it asks for there: "Trunk asks for a case 664 mm wide, and there is room for 500".
pub fn too_large(design: &Design) -> Vec<String> {
    let Some(beyond) = beyond(design) else { return Vec::new() };
    let site = &design.site;
    let room = [known(site.width) - 2.0 * site.scribe.to_mm(), known(site.height), known(site.depth) - site.skirting.to_mm()];
    let words = |kind: &BoxKind| {
        let asked = needs(design, kind).map(|needs| (needs + beyond).to_array());
        // Of the ways in which it may stand, the one that is nearest to going in.
        let over = |asked: &[f64; 3]| asked.iter().zip(room).map(|(asked, room)| (asked - room).max(0.0)).sum::<f64>();
        let nearest = asked.min_by(|a, b| over(a).total_cmp(&over(b)))?;
        let sides = nearest.iter().zip(room).zip(["wide", "high", "deep"]);
        let told: Vec<String> = sides
            .filter(|((asked, room), _)| **asked > room + 1e-6)
            .map(|((asked, room), side)| format!("{} mm {side}, and there is room for {}", trimmed((asked - 1e-6).ceil()), trimmed(room)))
            .collect();
        (!told.is_empty()).then(|| format!("{} asks for a case {}", kind.name, told.join("; ")))
    };
    kinds(design).filter_map(words).collect()
}

/// The depths of the case at which another way to stand becomes possible, the least first: between them more depth holds nothing more, as
/// nothing is stood behind another.
///
/// Also whether there are more of them than are tried.
pub fn depths(design: &Design) -> (Vec<f64>, bool) {
    let (Some(least), Some(beyond)) = (least(design, 2), beyond(design)) else { return (Vec::new(), false) };
    let all = kinds(design).flat_map(|kind| needs(design, kind)).map(|needs| needs.z).filter(|mm| *mm >= least);
    let mut depths: Vec<f64> = all.map(|mm| (mm + beyond.z - 1e-6).ceil()).filter(|mm| *mm <= known(design.site.depth)).collect();
    depths.sort_by(f64::total_cmp);
    depths.dedup();
    let last = depths.len().saturating_sub(1);
    let mut kept: Vec<f64> = (0..DEPTHS.min(depths.len())).map(|at| depths[at * last / (DEPTHS.min(depths.len()) - 1).max(1)]).collect();
    kept.dedup();
    let thinned = kept.len() < depths.len();
    (kept, thinned)
}

/// Heights of the case from the least that takes each thing to as high as may be, the least first.
pub fn heights(design: &Design) -> Vec<f64> {
    let (Some(least), Some(beyond)) = (least(design, 1), beyond(design)) else { return Vec::new() };
    let low = (least + beyond.y).ceil();
    let most = REACH.max(design.carcase.height.to_mm()).max(low).min(known(design.site.height)).floor();
    if low > most {
        return Vec::new();
    }
    let mut heights: Vec<f64> =
        (0..HEIGHTS).map(|at| (low + (most - low) * f64::from(at) / f64::from(HEIGHTS - 1)).ceil().min(most)).collect();
    heights.dedup();
    heights
}

/// Clear widths of bays from the least that takes any thing to as wide as is tried, the least first.
pub fn widths(design: &Design) -> Vec<f64> {
    let each = |kind| needs(design, kind).map(|needs| needs.x).reduce(f64::min);
    let Some(narrowest) = kinds(design).filter_map(each).reduce(f64::min) else { return Vec::new() };
    let widest = least(design, 0).map_or(WIDEST, |mm| WIDEST.max(mm + STEP));
    let first = (narrowest / STEP).ceil() * STEP;
    let count = ((widest - first) / STEP).floor().clamp(0.0, 200.0) as u32;
    (0..=count).map(|at| first + f64::from(at) * STEP).collect()
}

/// The divider of the design, or a usual one.
pub fn divider(design: &Design) -> Divider {
    match &design.interior {
        Opening::Split(split) => split.divider.clone(),
        Opening::Leaf(_) => Divider { width: Length::mm(60.0), cross_rail: design.carcase.rails.middle },
    }
}

/// The design with bays of such clear widths, so high and deep, each with a shelf half way up or with none.
pub fn of_bays(design: &Design, [height, depth]: [f64; 2], bays: &[f64], with_shelf: bool) -> Option<Design> {
    let divider = divider(design);
    let mut design = design.clone();
    let posts = 2.0 * design.carcase.post.width.to_mm();
    let width = bays.iter().sum::<f64>() + posts + divider.width.to_mm() * bays.len().saturating_sub(1) as f64;
    let system = design.interior.system().unwrap_or(System::Sawtooth);
    let shelves = if with_shelf { vec![MIDDLE] } else { Vec::new() };
    let leaf = Opening::Leaf(Fitting::of(Some(system), Shelves { shelves }));
    let bay = |clear: &f64| Bay { size: BaySize::Clear(Length::mm(*clear)), opening: leaf.clone() };
    design.interior = match bays {
        [_] => leaf.clone(),
        _ => Opening::Split(Split { along: Along::Width, divider, bays: bays.iter().map(bay).collect() }),
    };
    // What is said of single parts is of the case at hand.
    design.overrides.clear();
    design.shop.parts.clear();
    for (path, value) in slats(&design, depth) {
        decisions::set(&mut design, path, &value.to_string()).ok()?;
    }
    for (path, mm) in [("carcase.width", width), ("carcase.height", height), ("carcase.depth", depth)] {
        decisions::set(&mut design, path, &mm.to_string()).ok()?;
    }
    Some(design)
}

/// As many slats for another depth, and as wide, that they cover as much of it; nothing where it is the design's own.
fn slats(design: &Design, depth: f64) -> Vec<(&'static str, f64)> {
    let inside = |depth: f64| (depth - 2.0 * design.carcase.rails.thickness.to_mm()).max(1.0);
    let (own, other) = (inside(design.carcase.depth.to_mm()), inside(depth));
    let slats = &design.sawtooth.slats;
    if (own - other).abs() < 0.5 {
        return Vec::new();
    }
    let count = (f64::from(slats.count) * other / own).round().max(f64::from(slats.count.min(2)));
    let covered = f64::from(slats.count) * slats.width.to_mm() / own;
    vec![("sawtooth.slats.count", count), ("sawtooth.slats.width", slats.width.to_mm().min((covered * other / count).floor()))]
}
