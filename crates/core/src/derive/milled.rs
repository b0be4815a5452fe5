//! A design as it is milled: stock at its measured sizes, and the sizes that single parts already have.

use std::borrow::Cow;
use std::collections::HashMap;

use super::DesignError;
use crate::design::decisions::{self, DecisionError, Slot};
use crate::design::shop::{Batch, PartRecord, is_stock};
use crate::design::{Design, Dimension};
use crate::inspect::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH};
use crate::length::{Length, trimmed};
use crate::model::{Model, OwnSize, PartId, SHOP_PARTS};
use crate::origin::{CUT_TO, Origin, Size};

/// A design in which measured stock stands in place of what was planned.
pub(crate) struct AsMilled<'d> {
    /// The design to derive from; the one that was given where no stock was measured.
    pub design: Cow<'d, Design>,
    /// What was planned for each decision whose stock was measured: its path, and mm.
    planned: Vec<(&'d str, f64)>,
}

/// The design as milled. A batch of what is no stock changes nothing; [`unused`] tells. Those that are `spent` change nothing either.
pub(crate) fn as_milled<'d>(design: &'d Design, spent: &[Spent<'_>]) -> AsMilled<'d> {
    let batches: Vec<_> = design.shop.batches.iter().filter(|batch| spent.iter().all(|spent| spent.batch.of != batch.of)).collect();
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

/// Stock that was measured when all that is made of it was cut to another size: nothing is left for which the measure could hold.
pub(super) struct Spent<'d> {
    batch: &'d Batch,
    /// The sizes of parts that are of that stock, and what each was cut to, mm.
    cut: Vec<(PartId, Dimension, f64)>,
}

/// The measures of stock that contradict all that is made of it. A model derived with them tells which parts those are.
pub(super) fn spent<'d>(design: &'d Design, model: &Model) -> Vec<Spent<'d>> {
    let of_stock = |size: &Size, batch: &Batch| matches!(&size.origin, Origin::Measured { path, .. } if *path == batch.of);
    let batches = design.shop.batches.iter().filter_map(|batch| {
        let mut cut = Vec::new();
        for (part, of) in model.parts.iter().flat_map(|part| Dimension::ALL.map(|of| (part, of))) {
            let size = &part.size[of.index()];
            match &size.origin {
                _ if of_stock(size, batch) => return None,
                Origin::Measured { planned, .. } if of_stock(planned, batch) => {
                    if !part.state.is_cut() || (size.mm - planned.mm).abs() <= TOUCH {
                        return None;
                    }
                    cut.push((part.id, of, size.mm));
                }
                Origin::Measured { .. } | Origin::Decision { .. } | Origin::Sum(_) | Origin::Rule { .. } => {}
            }
        }
        (!cut.is_empty()).then_some(Spent { batch, cut })
    });
    batches.collect()
}

impl Spent<'_> {
    /// Both figures, and what would bring them together.
    pub fn finding(&self, model: &Model) -> Finding {
        let (of, measured) = (&self.batch.of, trimmed(self.batch.measured.to_mm()));
        let mut parts: Vec<PartId> = self.cut.iter().map(|(part, ..)| *part).collect();
        parts.dedup();
        let mut cut_at: Vec<String> = self.cut.iter().map(|(.., mm)| trimmed(*mm)).collect();
        cut_at.sort();
        cut_at.dedup();
        let who = match &parts[..] {
            [] => String::new(),
            [one] => format!("{} is", model.part(*one).title),
            [first, ..] => format!("{} and {} more are", model.part(*first).title, parts.len() - 1),
        };
        let cut_at = cut_at.join(" and ");
        let take_back = vec![(format!("measured.{of}"), "none".to_owned())];
        let written = self.cut.iter().map(|(part, of, _)| (format!("made.{}.{}", model.part(*part).name, of.word()), measured.clone()));
        Finding {
            figures: vec![Figure::mm("measured", self.batch.measured.to_mm())],
            place: parts.first().map(|part| model.part(*part).block().centre()),
            remedies: vec![
                Remedy { words: format!("Take the measure back: they stay {cut_at} mm"), changes: take_back },
                Remedy { words: format!("Write down that what is cut measures {measured} mm"), changes: written.collect() },
            ],
            parts,
            ..unused_for(format!("The stock of {of} is measured {measured} mm, but nothing of it is left: {who} cut at {cut_at}"))
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
            Some(OwnSize { part: record.part.clone(), of, size, rough: !record.state.is_cut(), met: false })
        })
    })
}

/// The shims that are recorded at the first and the second end of parts, by the names of those.
pub(super) fn shims(design: &Design) -> HashMap<String, [Option<Size>; 2]> {
    let size = |index: usize, word: &str, shim: Length| Size::decided(format!("{SHOP_PARTS}{}.{word}", index + 1), "shim", shim.to_mm());
    let all = records(design).filter(|(_, record)| record.first_shim.is_some() || record.second_shim.is_some());
    all.map(|(index, record)| {
        let ends = [("first_shim", record.first_shim), ("second_shim", record.second_shim)];
        (record.part.clone(), ends.map(|(word, shim)| shim.map(|shim| size(index, word, shim))))
    })
    .collect()
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
