//! The drawings of the whole case: overall sizes, members, places, joints.

use std::collections::HashSet;

use casewright_core::length::Units;
use casewright_core::model::{Part, PartKind};
use casewright_core::{Model, Solids};
use casewright_sheets::Page;
use casewright_sheets::drawing::Dimension;

use super::{Case, Read, leads_to, solved};

/// A figure as it was read, and what it measures.
struct Said<'p> {
    text: &'p str,
    sheet: &'p str,
    of: Dimension,
    /// mm.
    figure: f64,
}

/// Each figure right, none twice, and the carcase set out by them.
pub fn judge(case: &Case, pages: &[Page], texts: &[Vec<String>], read: &mut Read) {
    let mut said = Vec::new();
    for (page, texts) in pages.iter().zip(texts) {
        for of in &page.ink.dimensions {
            let text = texts[of.text].as_str();
            let figure = case.drafting.read(text).unwrap_or(f64::NAN);
            said.push(Said { text, sheet: &page.name, of: *of, figure });
        }
    }
    read.figures += said.len();
    each_is_right(case, &said, read);
    enough(case, &said, read);
}

fn each_is_right(case: &Case, said: &[Said<'_>], read: &mut Read) {
    let places = [0, 1, 2].map(|axis| places(&case.model, &case.solids, axis));
    let mut once = HashSet::new();
    for Said { text, sheet, of, figure } in said {
        let is_right = (figure - (of.to - of.from)).abs() <= case.drafting.rounding() && text.starts_with('(') == of.auxiliary;
        if !is_right {
            read.wrong.push(format!("{sheet}: {text} for {of:?}"));
        }
        for at in [of.from, of.to] {
            if !has(&places[of.axis], at) {
                read.wrong.push(format!("{sheet}: {text} measures to {at} on axis {}, where nothing is", of.axis));
            }
        }
        if !once.insert((of.axis, (of.from * 50.0).round() as i64, (of.to * 50.0).round() as i64)) {
            read.wrong.push(format!("{sheet}: {text} is said twice: {of:?}"));
        }
    }
}

/// Every member of the carcase lies where the figures put it.
fn enough(case: &Case, said: &[Said<'_>], read: &mut Read) {
    // A few figures one after the other, each rounded to a hundredth or to a 64th of an inch.
    let off = if case.drafting.units == Units::Inches { 1.0 } else { 0.03 };
    for axis in 0..3 {
        let own = said.iter().filter(|it| it.of.axis == axis && !it.of.auxiliary);
        let known = solved(&own.map(|it| (it.of.from, it.of.to, it.figure)).collect::<Vec<_>>(), false);
        for part in case.model.parts.iter().filter(|part| must_be_placed(part)) {
            let block = part.body();
            for at in [block.min[axis], block.max[axis]] {
                if !leads_to(&known, at, off) {
                    read.wrong.push(format!("case {}: {} at {at} on axis {axis} is tied to nothing", case.number, part.name));
                }
            }
        }
    }
}

/// Every place along an axis at which a part, a cut of it or a room begins or ends.
fn places(model: &Model, solids: &Solids, axis: usize) -> Vec<f64> {
    let mut places = vec![0.0];
    for part in &model.parts {
        for block in [part.block(), part.body()] {
            places.extend([block.min[axis], block.max[axis]]);
        }
        places.extend(solids.shape(part.id).iter().flat_map(|shape| &shape.positions).map(|at| part.pose.point(*at)[axis]));
    }
    places.extend(model.rooms.iter().flat_map(|room| [room.space.min[axis], room.space.max[axis]]));
    places.sort_by(f64::total_cmp);
    places
}

fn has(places: &[f64], at: f64) -> bool {
    let next = places.partition_point(|place| *place < at - 0.03);
    places.get(next).is_some_and(|place| *place < at + 0.03)
}

/// What the carcase is set out by.
fn must_be_placed(part: &Part) -> bool {
    matches!(part.kind, PartKind::Post | PartKind::Rail | PartKind::Stile | PartKind::Muntin | PartKind::Top)
}
