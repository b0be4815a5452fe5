//! Parts that are cut, as they are: the cuts that are recorded of them, and of those planned now the ones that are not there yet.
//!
//! A record keeps a cut as the box of wood it takes. Where that is the box of a cut planned now, the planned cut stands for it, with its rounds and ramps; where
//! it is another, the planned cut is made to fit the box; and what is there for nothing becomes the cut that its name and its box tell.

use crate::design::Design;
use crate::design::shop::{PartRecord, cuts_of_one};
use crate::inspect::stands_off;
use crate::joint::JointKind;
use crate::model::{Cut, CutState, Feature, Model, Part, PartId, PrismBox};

/// Cuts that differ by no more than this are the same, mm: a bench can't tell.
pub(crate) const SAME: f64 = 0.05;

/// What is planned for a part, box by box, against what is there.
pub(crate) struct Matched<'p> {
    /// The boxes that are planned, each with its cut.
    pub planned: Vec<(&'p Cut, PrismBox)>,
    /// What is there for each of them, by its place in `there`.
    pub met: Vec<Option<usize>>,
    /// What is there, where the part stands best.
    pub there: Vec<PrismBox>,
}

impl<'p> Matched<'p> {
    /// Matches every planned cut to the one that is there and most like it, those that end alike before others, and the most alike first. `off` is how far
    /// from its planned place at the first end the part stands, mm.
    pub fn of(part: &'p Part, record: &PartRecord, off: f64) -> Matched<'p> {
        let length = part.size[0].mm;
        let there: Vec<PrismBox> = record.cuts.iter().map(|cut| cut.moved_along(off, length)).collect();
        let planned: Vec<(&Cut, PrismBox)> =
            part.planned_cuts().iter().flat_map(|cut| cuts_of_one(part, cut).into_iter().map(move |taken| (cut, taken))).collect();
        let mut pairs: Vec<(bool, f64, usize, usize)> = Vec::new();
        for (index, (_, now)) in planned.iter().enumerate() {
            for (place, then) in there.iter().enumerate() {
                if kind(&now.0) == kind(&then.0) {
                    pairs.push((now.0 != then.0, now.unlike(then), index, place));
                }
            }
        }
        pairs.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
        let (mut met, mut used) = (vec![None; planned.len()], vec![false; there.len()]);
        for (.., index, place) in pairs {
            if met[index].is_none() && !used[place] {
                (met[index], used[place]) = (Some(place), true);
            }
        }
        Matched { planned, met, there }
    }

    /// What is there for nothing.
    pub fn idle(&self) -> impl Iterator<Item = &PrismBox> {
        let used = |place: &usize| self.met.contains(&Some(*place));
        self.there.iter().enumerate().filter(move |(place, _)| !used(place)).map(|(_, cut)| cut)
    }
}

/// What a cut is, without how it ends.
pub(crate) fn kind(name: &str) -> &str {
    name.split(',').next().unwrap_or(name)
}

/// The parts that are cut, each with what is recorded of it.
pub(crate) fn cut_parts<'m>(design: &'m Design, model: &'m Model) -> impl Iterator<Item = (&'m Part, &'m PartRecord)> {
    let records = design.shop.parts.iter().filter(|record| record.state.is_cut() && record.finished.is_some());
    records.filter_map(move |record| Some((model.find(&record.part)?, record)))
}

/// Whether a cut of a part is made where what it is for is put on: the pilot holes in a top are.
pub(crate) fn goes_where_it_is_put(model: &Model, part: PartId, cut: &Cut) -> bool {
    let joint = cut.joint.map(|joint| model.joint(joint));
    joint.is_some_and(|joint| matches!(joint.kind, JointKind::ScrewedUp(_)) && joint.b == part)
}

/// Whether it matters where a cut lies along an axis: a button goes where its slot is.
pub(crate) fn matters(model: &Model, cut: &Cut, axis: usize) -> bool {
    let is_button = || cut.joint.is_some_and(|joint| matches!(model.joint(joint).kind, JointKind::Button(_)));
    !matches!(cut.feature, Feature::Mortise { along, .. } if along == axis && is_button())
}

/// Puts what is really cut in the place of what is planned, in every part that is cut otherwise.
pub(super) fn put_in(design: &Design, model: &mut Model) {
    let recut: Vec<(PartId, Vec<Cut>)> = cut_parts(design, model)
        .filter_map(|(part, record)| {
            let matched = Matched::of(part, record, stands_off(model, part, record));
            Some((part.id, as_cut(model, part, &matched)?))
        })
        .collect();
    for (part, cuts) in recut {
        let part = &mut model.parts[part.0];
        part.planned = Some(std::mem::replace(&mut part.cuts, cuts));
    }
}

/// What is there, each side of it where it is planned as far as a bench can't tell the two apart.
fn as_good(now: &PrismBox, then: &PrismBox) -> PrismBox {
    let side =
        |now: [f64; 3], then: [f64; 3]| [0, 1, 2].map(|axis| if (now[axis] - then[axis]).abs() <= SAME { now[axis] } else { then[axis] });
    PrismBox(then.0.clone(), side(now.1, then.1), side(now.2, then.2))
}

/// The cuts of a part as it is; none where they are those that are planned.
fn as_cut(model: &Model, part: &Part, matched: &Matched<'_>) -> Option<Vec<Cut>> {
    let size = part.lwt();
    let (mut all, mut other, mut next) = (Vec::with_capacity(part.cuts.len()), false, 0);
    for cut in &part.cuts {
        let count = cuts_of_one(part, cut).len();
        let boxes: Vec<(&PrismBox, Option<&PrismBox>)> = (next..next + count)
            .filter_map(|index| Some((&matched.planned.get(index)?.1, matched.met.get(index)?.map(|place| &matched.there[place]))))
            .collect();
        next += count;
        let there = boxes.iter().filter(|(_, then)| then.is_some()).count();
        let unlike = |now: &PrismBox, then: &PrismBox| {
            let axes = (0..3).filter(|axis| matters(model, cut, *axis));
            let step = now.out_of_step(then).map_or(0.0, |(_, by)| by);
            axes.map(|axis| now.beyond_on(then, axis).max(then.beyond_on(now, axis))).fold(step, f64::max)
        };
        let same = boxes.iter().all(|(now, then)| then.is_none_or(|then| unlike(now, then) <= SAME));
        if goes_where_it_is_put(model, part.id, cut) {
            all.push(cut.clone());
        } else if there == 0 && !boxes.is_empty() {
            other = true;
            all.push(Cut { there: CutState::Missing, ..cut.clone() });
        } else if same {
            // Of a cut of several pieces that is there in part, the rest is taken for cut with it.
            all.push(cut.clone());
        } else {
            other = true;
            let as_there =
                boxes.iter().map(|(now, then)| cut.feature.fitted_to(now, &as_good(now, then.unwrap_or(now)), boxes.len(), size));
            all.extend(as_there.map(|feature| Cut { feature, joint: cut.joint, there: CutState::Otherwise }));
        }
    }
    for cut in matched.idle() {
        other = true;
        all.extend(cut.as_feature(size).map(|feature| Cut { feature, joint: None, there: CutState::Idle }));
    }
    other.then_some(all)
}
