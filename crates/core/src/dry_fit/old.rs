//! The decisions for which a part was cut: with one of them as it was then, its cuts are right again.

use crate::derive::derive;
use crate::derive::recorded::{Matched, SAME};
use crate::design::Design;
use crate::design::decisions::{self, Decision, Value};
use crate::inspect::{Finding, Remedy, are_right, is_of_case, stands_off};
use crate::joint::{role_path, sizes_path};
use crate::length::trimmed_to;
use crate::model::{JointId, Model, PrismBox};
use crate::sentence::inside;

/// So many ways back are offered.
const MOST: usize = 2;
/// So many designs are derived at most in search of them.
const MOST_DERIVED: usize = 120;
/// So many of the lengths by which cuts are off are gone back by, the greatest first.
const MOST_STEPS: usize = 2;

/// Ways back to the design for which the parts of a finding were cut. Each leaves all of their cuts right; whether it brings anything else is not asked.
pub(super) fn ways_back(design: &Design, model: &Model, finding: &Finding) -> Vec<Remedy> {
    let names: Vec<&str> = finding.parts.iter().map(|part| model.part(*part).name.as_str()).collect();
    let mends = |remedy: &Remedy| {
        let mut tried = design.clone();
        let set = remedy.changes.iter().all(|(path, value)| decisions::set(&mut tried, path, value).is_ok());
        set && decisions::check(&tried).is_empty() && derive(&tried).is_ok_and(|model| are_right(&tried, &model, &names))
    };
    candidates(design, model, finding).into_iter().take(MOST_DERIVED).filter(mends).take(MOST).collect()
}

/// What is other in the cuts that are there.
#[derive(Default)]
struct Off {
    /// The joints of those that are not there.
    missing: Vec<JointId>,
    /// The joints of those that are there and other.
    other: Vec<JointId>,
    /// By how much they lie elsewhere, mm.
    moved: Vec<f64>,
    /// By how much they are larger or smaller, mm.
    grown: Vec<f64>,
    /// Rows that follow each other otherwise, as they are there.
    rows: Vec<PrismBox>,
}

impl Off {
    fn of(design: &Design, model: &Model, finding: &Finding) -> Off {
        let mut off = Off::default();
        for part in finding.parts.iter().map(|part| model.part(*part)) {
            let Some(record) = design.shop.record(&part.name) else { continue };
            let matched = Matched::of(part, record, stands_off(model, part, record));
            for ((cut, now), met) in matched.planned.iter().zip(&matched.met) {
                match met.map(|place| &matched.there[place]) {
                    None => off.missing.extend(cut.joint),
                    Some(then) if now.out_of_step(then).is_some_and(|(_, by)| by > SAME) => off.rows.push(then.clone()),
                    Some(then) if now.unlike(then) > SAME => {
                        off.other.extend(cut.joint);
                        for [first, second] in [0, 1, 2].map(|axis| [now.1[axis] - then.1[axis], now.2[axis] - then.2[axis]]) {
                            if (first - second).abs() <= SAME {
                                off.moved.push(first.abs());
                            } else {
                                off.grown.extend([first.abs(), second.abs()]);
                            }
                        }
                    }
                    Some(_) => {}
                }
            }
        }
        for by in [&mut off.moved, &mut off.grown] {
            by.retain(|by| *by > SAME);
            by.sort_by(|a, b| b.total_cmp(a));
            by.dedup_by(|a, b| (*a - *b).abs() <= SAME);
            by.truncate(MOST_STEPS);
        }
        off
    }
}

/// The rows that are there and another kind of joint first, then the sizes of the case where cuts lie elsewhere, then those of the joints.
fn candidates(design: &Design, model: &Model, finding: &Finding) -> Vec<Remedy> {
    let off = Off::of(design, model, finding);
    let all = decisions::list(design);
    let kinds: Vec<String> =
        off.missing.iter().filter_map(|id| role_path(model.joint(*id).role)).map(|path| format!("joinery.{path}.by")).collect();
    let sizes: Vec<String> =
        off.missing.iter().chain(&off.other).filter_map(|id| sizes_path(model.joint(*id))).map(|path| format!("{path}.")).collect();
    let of_joint = |decision: &&Decision| {
        sizes.iter().any(|path| decision.spec.path.strip_prefix(path.as_str()).is_some_and(|word| !word.contains('.')))
    };
    let by_kind = all.iter().filter(|decision| kinds.contains(&decision.spec.path)).flat_map(other_kinds);
    let by_case = all.iter().filter(|decision| is_of_case(&decision.spec.path)).flat_map(|decision| steps(decision, &off.moved));
    let by = [&off.grown[..], &off.moved[..]].concat();
    let by_size = all.iter().filter(of_joint).flat_map(|decision| steps(decision, &by));
    let by_row = off.rows.iter().filter_map(|row| as_in_row(design, row));
    by_row.chain(by_kind).chain(by_case).chain(by_size).collect()
}

/// The decisions by which a row is planned as it is there.
fn as_in_row(design: &Design, there: &PrismBox) -> Option<Remedy> {
    let row = there.row()?;
    let name = there.0.split(',').next()?;
    let decided = match name {
        "teeth" => vec![
            ("sawtooth.pitch", row.pitch),
            ("sawtooth.first", there.1[0]),
            ("sawtooth.seat", there.extent(1)),
            ("sawtooth.crest", row.flat),
        ],
        "half rounds" => vec![("sawtooth.pitch", row.pitch), ("sawtooth.first", there.1[0]), ("sawtooth.seat", there.extent(1))],
        "row of holes" => vec![("pins.pitch", row.pitch), ("pins.diameter", row.long())],
        _ => return None,
    };
    let is_other = |(path, value): &(&str, f64)| {
        decisions::value(design, path).and_then(|now| now.number()).is_some_and(|now| (now - value).abs() > SAME)
    };
    let changes: Vec<_> = decided.into_iter().filter(is_other).map(|(path, value)| (path.to_owned(), trimmed_to(value, 4))).collect();
    let words = format!("Go back to what it was cut for: {name} every {} mm", trimmed_to(row.pitch, 2));
    (!changes.is_empty()).then_some(Remedy { words, changes })
}

fn other_kinds(decision: &Decision) -> Vec<Remedy> {
    let Value::Choice { word, options } = &decision.value else { return Vec::new() };
    let others = options.iter().filter(|(other, _)| other != word);
    others.map(|(other, label)| back(decision, &inside(label), other.clone())).collect()
}

/// The values that a length had if it was changed by one of these.
fn steps(decision: &Decision, by: &[f64]) -> Vec<Remedy> {
    let now = match &decision.value {
        Value::Length(length) => length.to_mm(),
        Value::Ruled { own, rule } => own.unwrap_or(*rule).to_mm(),
        Value::Number(_) | Value::Count(_) | Value::Choice { .. } | Value::Text(_) => return Vec::new(),
    };
    let values = by.iter().flat_map(|by| [now + by, now - by]);
    values.map(|value| back(decision, &format!("{} mm", trimmed_to(value, 2)), trimmed_to(value, 4))).collect()
}

fn back(decision: &Decision, told: &str, value: String) -> Remedy {
    let (group, label) = (inside(&decision.spec.group), inside(&decision.spec.label));
    Remedy { words: format!("Go back to what it was cut for: {group}, {label} {told}"), changes: vec![(decision.spec.path.clone(), value)] }
}
