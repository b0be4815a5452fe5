//! The part sheets: sizes of each part, and every cut of it from its first end, face edge and face side.

use casewright_core::length::Units;
use casewright_core::model::{Feature, Material, Part, Stop};
use casewright_sheets::Page;
use casewright_sheets::drawing::{Anchor, Drafting, PartDrawing};
use casewright_solid::{Axis, Facets, Prism, Segment};
use glam::{DVec2, DVec3};

use super::{Case, Read, leads_to, solved};

/// Each part is on a sheet, each of its figures is right, none is said twice in a row, and they are enough to cut it.
pub fn judge(case: &Case, parts: &[PartDrawing], pages: &[Page], texts: &[Vec<String>], read: &mut Read) {
    for drawing in parts {
        let name = format!("case {}, {}", case.number, drawing.mark);
        let Some((page, first)) = whereabouts(drawing, pages) else {
            read.wrong.push(format!("{name} is on no sheet"));
            continue;
        };
        let own = &texts[page][first..first + drawing.ink.texts.len()];
        let part = case.model.parts.iter().find(|part| part.mark == drawing.mark).expect("a part of that mark");
        let figures = figures(case, &name, drawing, own, read);
        enough(case, &name, part, (&figures, own), read);
    }
}

/// On which page a part is, and which of its texts is the first: marks are there once.
fn whereabouts(drawing: &PartDrawing, pages: &[Page]) -> Option<(usize, usize)> {
    let own = &drawing.ink.texts;
    let here = |page: &Page, first: usize| {
        let there = page.ink.texts.get(first..first + own.len());
        there.is_some_and(|there| there.iter().zip(own).all(|(a, b)| a.text == b.text && a.anchor == b.anchor))
    };
    pages.iter().enumerate().find_map(|(number, page)| {
        let first = (0..page.ink.texts.len()).find(|first| here(page, *first))?;
        Some((number, first))
    })
}

/// What was read: axis, from where to where, and what the figure says, mm.
type Figure = (usize, f64, f64, f64);

fn figures(case: &Case, name: &str, drawing: &PartDrawing, texts: &[String], read: &mut Read) -> Vec<Figure> {
    // Half of a thousandth of an inch, or of a hundredth of a millimetre.
    let rounding = if case.drafting.units == Units::Inches { 0.0128 } else { 0.00501 };
    let mut found: Vec<Figure> = Vec::new();
    let mut alone: Vec<(usize, f64, f64, DVec2)> = Vec::new();
    for it in &drawing.ink.dimensions {
        let (text, long) = (&texts[it.text], it.to - it.from);
        let said = numbers(text, &case.drafting).into_iter().min_by(|a, b| (a - long).abs().total_cmp(&(b - long).abs()));
        let figure = said.unwrap_or(f64::NAN);
        let is_right = (figure - long).abs() <= rounding;
        if !is_right {
            read.wrong.push(format!("{name}: \"{text}\" for {it:?}"));
        }
        // A row is as high as a figure, and each place stands in it once; words in lines begin at their place.
        let (at, anchor) = (drawing.ink.texts[it.text].at, drawing.ink.texts[it.text].anchor);
        if anchor != Anchor::Start {
            let is_it = |(axis, from, to, there): &(usize, f64, f64, DVec2)| {
                *axis == it.axis && (from - it.from).abs() < 6e-3 && (to - it.to).abs() < 6e-3 && there.distance(at) < 4.0
            };
            if alone.iter().any(is_it) {
                read.wrong.push(format!("{name}: {text} stands twice in a row"));
            }
            alone.push((it.axis, it.from, it.to, at));
        }
        found.push((it.axis, it.from, it.to, figure));
        read.figures += 1;
    }
    found
}

/// All numbers among words, mm.
fn numbers(text: &str, drafting: &Drafting) -> Vec<f64> {
    let number = |c: char| c.is_ascii_digit() || c == '.' || c == ',';
    let words = text.split(|c: char| !number(c)).map(|word| word.trim_end_matches(['.', ',']));
    words.filter(|word| !word.is_empty()).filter_map(|word| drafting.read(word)).collect()
}

/// Where a round crosses another cut the corner lies on a facet of it, no farther from the true round than this, mm.
const FACETS: f64 = 0.06;

/// Whether a corner lies on a round of a prism, and is not as far out as the prism goes along an axis.
fn on_a_round(prism: &Prism, corner: DVec3, axis: usize) -> bool {
    let (u, v, along) = match prism.axis {
        Axis::L => (1, 2, 0),
        Axis::W => (2, 0, 1),
        Axis::T => (0, 1, 2),
    };
    if axis == along {
        return false;
    }
    let at = DVec2::new(corner[u], corner[v]);
    let corners = prism.profile.facets(Facets::PerTurn(4));
    let of = |at: DVec2| if axis == u { at.x } else { at.y };
    let extreme = corners.iter().map(|at| of(*at)).fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), at| (a.min(at), b.max(at)));
    let is_extreme = (of(at) - extreme.0).abs() < 1e-6 || (of(at) - extreme.1).abs() < 1e-6;
    let mut from = prism.profile.start();
    let mut on = false;
    for segment in prism.profile.segments() {
        if let Segment::Arc { centre, .. } = segment {
            on |= (at.distance(*centre) - from.distance(*centre)).abs() < FACETS;
        }
        from = segment.to();
    }
    on && !is_extreme
}

/// Where the cuts of a row begin and end, which its pitch leads to.
fn in_rows(part: &Part, axis: usize) -> Vec<f64> {
    let mut all = Vec::new();
    for cut in &part.cuts {
        match cut.feature {
            Feature::Teeth { first, pitch, crest, count, .. } if axis == 0 => {
                all.extend((0..count).flat_map(|tooth| [0.0, pitch - crest].map(|at| first + pitch * f64::from(tooth) + at)));
            }
            Feature::HalfRounds { first, pitch, radius, count } if axis == 0 => {
                all.extend((0..count).flat_map(|round| [0.0, radius, 2.0 * radius].map(|at| first + pitch * f64::from(round) + at)));
            }
            Feature::HoleRow { first, pitch, count, diameter, .. } if axis == 0 => {
                all.extend((0..count).flat_map(|hole| [-0.5, 0.0, 0.5].map(|at| first.x + pitch * f64::from(hole) + at * diameter)));
            }
            _ => {}
        }
    }
    all
}

/// Whether the words say how many there are in a row and how they follow each other.
fn tells_rows(case: &Case, part: &Part, texts: &[String]) -> bool {
    let row = |cut: &Feature| match *cut {
        Feature::Teeth { pitch, count, .. } | Feature::HalfRounds { pitch, count, .. } | Feature::HoleRow { pitch, count, .. } => {
            Some((count, pitch))
        }
        _ => None,
    };
    part.cuts.iter().filter_map(|cut| row(&cut.feature)).all(|(count, pitch)| {
        let words = texts.join(" ");
        words.contains(&format!("{count} ")) && words.contains(&format!("every {}", case.drafting.exact(pitch)))
    })
}

/// Every corner of the part lies where its figures lead to, from its first end, face edge and face side.
fn enough(case: &Case, name: &str, part: &Part, (figures, texts): (&[Figure], &[String]), read: &mut Read) {
    if !tells_rows(case, part, texts) {
        read.wrong.push(format!("{name}: how a row goes on"));
    }
    let Some(shape) = case.solids.shape(part.id) else { return };
    // Of a rod that is bought its length and its diameter are all.
    let corners: &[DVec3] = if is_bought_rod(part) { &[] } else { &shape.positions };
    let prisms = part.solid().prisms;
    // A few figures one after the other, each rounded.
    let off = if case.drafting.units == Units::Inches { 0.06 } else { 0.025 };
    let mut missing = Vec::new();
    for axis in 0..3 {
        let own = figures.iter().filter(|(of, ..)| *of == axis).map(|(_, from, to, figure)| (*from, *to, *figure));
        let mut known = solved(&own.collect::<Vec<_>>(), true);
        known.extend(in_rows(part, axis).into_iter().map(|at| (at, at)));
        let length = part.lwt()[axis];
        if !leads_to(&known, length, off) {
            missing.push(format!("{name}: how large it is on axis {axis}"));
        }
        for corner in corners {
            if !prisms.iter().any(|prism| on_a_round(prism, *corner, axis)) && !leads_to(&known, corner[axis], off) {
                missing.push(format!("{name}, axis {axis}: {:.3} is led to by no figures", corner[axis]));
            }
        }
        if axis == 0 {
            let ends = part.cuts.iter().flat_map(|cut| ends_of_groove(&cut.feature)).filter(|at| *at > 1e-3 && *at < length - 1e-3);
            missing.extend(ends.filter(|at| !leads_to(&known, *at, off)).map(|at| format!("{name}: the groove that ends at {at}")));
        }
    }
    missing.sort();
    missing.dedup();
    read.wrong.extend(missing);
}

fn is_bought_rod(part: &Part) -> bool {
    matches!(part.material, Material::Bought(_)) && part.cuts.iter().all(|cut| cut.feature == Feature::RoundEdges)
}

/// Where a stopped groove has its full depth, and where its ramp or round ends, along the part.
fn ends_of_groove(cut: &Feature) -> Vec<f64> {
    let Feature::Groove { from, to, through, stop, width, depth, .. } = cut else { return Vec::new() };
    let out = match stop {
        Stop::Round => 0.0,
        Stop::Ramp { .. } => stop.run_out(*width, *depth),
    };
    let ends = [(through[0], [*from, from - out]), (through[1], [*to, to + out])];
    ends.into_iter().filter(|(through, _)| !through).flat_map(|(_, at)| at).collect()
}
