//! How far a part is made, and the cuts that are written down with it.

use super::record::change;
use super::{End, State, in_range, unreadable};
use crate::derive::derive;
use crate::design::decisions::DecisionError;
use crate::design::{Design, Dimension};
use crate::length::Length;
use crate::model::{Cut, JointId, Model, Part, PrismBox};
use crate::origin::Origin;
use crate::place::Dir;

/// Records how far a part is made.
///
/// [`State::Cut`] and [`State::Glued`] write down, once, what it was cut to: its sizes as far as nobody measured them, and its
/// cuts, as they are planned now. [`State::Planned`] takes back all that was recorded of it: it is to be made, or made anew.
///
/// # Errors
/// When a part is to be cut and the case can't be built as decided. The design is then unchanged. A part that is not there
/// is no error: the checks tell.
pub fn set_state(design: &mut Design, part: &str, state: State) -> Result<(), DecisionError> {
    if state == State::Planned {
        design.shop.parts.retain(|record| record.part != part);
        return Ok(());
    }
    let known = design.shop.record(part).is_some_and(|record| record.state.is_cut() && record.finished.is_some());
    if state.is_cut() && !known {
        write_down_cuts(design, part, cuts_from_one_side)?;
    }
    change(design, part, |record| {
        record.state = state;
        if !state.is_cut() {
            record.finished = None;
            record.cuts.clear();
        }
    });
    Ok(())
}

/// Writes down that a part is cut as planned now, its cuts too, whatever was written before.
///
/// # Errors
/// As [`set_state`].
pub fn write_down(design: &mut Design, part: &str) -> Result<(), DecisionError> {
    write_down_cuts(design, part, cuts_of)
}

fn write_down_cuts(design: &mut Design, part: &str, cuts_of: impl Fn(&Part) -> Vec<PrismBox>) -> Result<(), DecisionError> {
    // What was measured on it is what it is cut to, though it is more than planned.
    let mut cut = design.clone();
    change(&mut cut, part, |record| record.state = record.state.max(State::Cut));
    let model = derive_or_tell(&cut, &format!("made.{part}.state"), State::Cut.word())?;
    let Some(placed) = model.find(part) else { return Ok(()) };
    let finished = placed.size.each_ref().map(|size| Length::mm(tidy(size.mm)));
    let cuts = cuts_of(placed);
    change(design, part, |record| {
        record.state = record.state.max(State::Cut);
        record.finished = Some(finished);
        record.cuts = cuts;
    });
    Ok(())
}

/// Records that so much was sawn off an end of a part that is cut: its joint at that end is gone with the offcut, and is still to be cut anew.
///
/// # Errors
/// As [`measure`](super::measure); when it is not known how long the part was; and when the case can't be built as decided.
pub fn saw_off(design: &mut Design, part: &str, end: End, by: Length) -> Result<(), DecisionError> {
    let path = format!("made.{part}.sawn_{}_end", end.word());
    let before = design.shop.record(part).and_then(|record| record.holds(Dimension::Length));
    let Some(before) = before else { return Err(unreadable(&path, &by.to_string(), "first record how long the part is")) };
    in_range(&path, by)?;
    let now = in_range(&path, before - by)?;
    let model = derive_or_tell(design, &path, &by.to_string())?;
    let joined = model.find(part).map_or_else(Vec::new, |part| cut_at(&model, part, end));
    let (before, by) = (before.to_mm(), by.to_mm());
    let first = end == End::First;
    change(design, part, |record| {
        record.length = Some(now);
        let left = |cut: &PrismBox| {
            let touched = if first { cut.1[0] < by } else { cut.2[0] > before - by };
            let gone = touched && joined.contains(&cut.0);
            (!gone).then(|| cut.sawn(if first { (by, before) } else { (0.0, before - by) })).flatten()
        };
        record.cuts = record.cuts.iter().filter_map(left).map(tidied).collect();
    });
    Ok(())
}

/// What the cuts of a part are called that join it with one of its ends.
pub(crate) fn cut_at(model: &Model, part: &Part, end: End) -> Vec<String> {
    let out = part.pose.basis.x_axis * if end == End::First { -1.0 } else { 1.0 };
    let there = |joint: JointId| {
        let joint = model.joint(joint);
        joint.a == part.id && joint.contact.into == Dir::nearest(out)
    };
    let cuts = part.planned_cuts().iter().filter(|cut| cut.joint.is_some_and(there));
    cuts.map(|cut| cut.feature.name().to_owned()).collect()
}

/// Cuts that reach the far end or face of a part stay at it when the part turns out other than it was taken for.
pub(super) fn move_cuts(cuts: &mut [PrismBox], axis: usize, before: f64, now: f64) {
    for cut in cuts {
        *cut = tidied(cut.in_longer(axis, before, now));
    }
}

/// The model of a design, for what is recorded at `path`.
fn derive_or_tell(design: &Design, path: &str, found: &str) -> Result<Model, DecisionError> {
    derive(design).map_err(|errors| {
        let why: Vec<_> = errors.iter().map(ToString::to_string).collect();
        unreadable(path, found, &format!("first make a case that can be built: {}", why.join("; ")))
    })
}

/// The cuts of a part as they are written down.
fn cuts_of(part: &Part) -> Vec<PrismBox> {
    part.planned_cuts().iter().flat_map(|cut| cuts_of_one(part, cut)).collect()
}

/// The cuts of a part that was made longer or shorter than planned: marked out from the left, lower or back end of the case, as all that stand beside
/// it are, whichever of its ends is the first.
fn cuts_from_one_side(part: &Part) -> Vec<PrismBox> {
    let length = &part.size[0];
    let off = match &length.origin {
        Origin::Measured { planned, .. } if part.pose.basis.x_axis.element_sum() < 0.0 => length.mm - planned.mm,
        Origin::Measured { .. } | Origin::Decision { .. } | Origin::Sum(_) | Origin::Rule { .. } => 0.0,
    };
    cuts_of(part).into_iter().map(|cut| tidied(cut.moved_along(off, length.mm))).collect()
}

/// One of the cuts of a part as it is written down.
pub(crate) fn cuts_of_one(part: &Part, cut: &Cut) -> Vec<PrismBox> {
    cut.feature.boxes(part.lwt()).into_iter().map(tidied).collect()
}

fn tidied(PrismBox(what, from, to): PrismBox) -> PrismBox {
    PrismBox(what, from.map(tidy), to.map(tidy))
}

/// Rounded to a millionth, so that 12.75 + 0.2 is written 12.95.
fn tidy(mm: f64) -> f64 {
    (mm * 1e6).round() / 1e6 + 0.0
}
