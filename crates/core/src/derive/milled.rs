//! A design as it is milled: stock at its measured sizes, and the sizes that single parts already have.

use std::borrow::Cow;

use super::DesignError;
use crate::design::decisions::{self, DecisionError, Slot};
use crate::design::shop::{PartRecord, is_stock};
use crate::design::{Design, Dimension};
use crate::inspect::{Finding, Rule, Seriousness};
use crate::model::{OwnSize, SHOP_PARTS};
use crate::origin::{CUT_TO, Size};

/// A design in which measured stock stands in place of what was planned.
pub(crate) struct AsMilled<'d> {
    /// The design to derive from; the one that was given where no stock was measured.
    pub design: Cow<'d, Design>,
    /// What was planned for each decision whose stock was measured: its path, and mm.
    planned: Vec<(&'d str, f64)>,
}

/// The design as milled. A batch of what is no stock changes nothing; [`unused`] tells.
pub(crate) fn as_milled(design: &Design) -> AsMilled<'_> {
    let batches = &design.shop.batches;
    if batches.is_empty() {
        return AsMilled { design: Cow::Borrowed(design), planned: Vec::new() };
    }
    let mut milled = design.clone();
    let mut planned = Vec::new();
    decisions::visit(&mut milled, &mut |spec, slot| {
        let Slot::Length(length) = slot else { return };
        if let Some(batch) = batches.iter().find(|batch| batch.of == spec.path && is_stock(&batch.of)) {
            planned.push((batch.of.as_str(), length.to_mm()));
            *length = batch.measured;
        }
    });
    AsMilled { design: Cow::Owned(milled), planned }
}

impl AsMilled<'_> {
    /// Whether the stock of a decision was measured.
    pub fn is_measured(&self, path: &str) -> bool {
        self.planned.iter().any(|(of, _)| *of == path)
    }

    /// A decided size as measured, where its stock was.
    pub fn size(&self, size: Size, path: &str) -> Size {
        match self.planned.iter().find(|(of, _)| *of == path) {
            Some(&(_, planned)) => Size::measured(path, size.mm, Size { mm: planned, ..size }),
            None => size,
        }
    }

    /// Measures that are out of the range of what they stand for.
    pub fn check(&self) -> Vec<DesignError> {
        if self.planned.is_empty() {
            return Vec::new();
        }
        decisions::check(&self.design).into_iter().map(|error| DesignError::Decision(self.of_batch(error))).collect()
    }

    /// The error told of the measure and not of the decision it stands for.
    fn of_batch(&self, error: DecisionError) -> DecisionError {
        let at = self.design.shop.batches.iter().position(|batch| batch.of == error.path());
        match (at, error) {
            (Some(at), DecisionError::OutOfRange { found, least, greatest, unit, .. }) => {
                DecisionError::OutOfRange { path: format!("shop.batches.{}.measured", at + 1), found, least, greatest, unit }
            }
            (_, error) => error,
        }
    }
}

/// The sizes that parts have by what is recorded of them, whatever the rules say: measured, or cut to.
pub(super) fn own_sizes(design: &Design) -> impl Iterator<Item = OwnSize> {
    records(design).flat_map(|(index, record)| {
        Dimension::ALL.into_iter().filter_map(move |of| {
            let held = record.holds(of)?;
            let field = if record.measured(of).is_some() { of.word() } else { CUT_TO };
            let size = Size::decided(format!("{SHOP_PARTS}{}.{field}", index + 1), "", held.to_mm());
            Some(OwnSize { part: record.part.clone(), of, size, met: false })
        })
    })
}

/// The records that hold, with their places: of two of one part, the first.
fn records(design: &Design) -> impl Iterator<Item = (usize, &PartRecord)> {
    let all = &design.shop.parts;
    all.iter().enumerate().filter(|(index, record)| !all[..*index].iter().any(|before| before.part == record.part))
}

/// What was recorded and is not used: of what is no decided length, and of parts that were not placed.
pub(super) fn unused(design: &Design, decided: impl Fn(&str) -> bool, there: impl Fn(&str) -> bool) -> Vec<Finding> {
    let mut found = Vec::new();
    for batch in &design.shop.batches {
        if !is_stock(&batch.of) || !decided(&batch.of) {
            found.push(unused_for(format!("The measure of \"{}\" is not used: there is no such stock", batch.of)));
        }
    }
    for (index, record) in design.shop.parts.iter().enumerate() {
        if !there(&record.part) {
            found.push(unused_for(format!("What is recorded of \"{}\" is not used: there is no such part", record.part)));
        } else if design.shop.parts[..index].iter().any(|before| before.part == record.part) {
            found.push(unused_for(format!("\"{}\" is recorded twice: the second record is not used", record.part)));
        }
    }
    found
}

/// Something the design says of a part that is not there, or says twice.
pub(super) fn unused_for(message: String) -> Finding {
    Finding {
        explains: Vec::new(),
        rule: Rule::NoSuchPart,
        seriousness: Seriousness::AtRisk,
        parts: Vec::new(),
        joint: None,
        place: None,
        figures: Vec::new(),
        message,
        source: "the design",
        remedies: Vec::new(),
    }
}
