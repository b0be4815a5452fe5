//! Stock as it measures, a line a decision.

use serde::{Deserialize, Serialize};

use super::{in_range, unreadable};
use crate::design::Design;
use crate::design::decisions::{self, DecisionError, Value};
use crate::length::{Length, trimmed};

/// Stock as it measures.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Batch {
    /// The decision it stands for, such as `carcase.post.width` or `timber.panel.measured`: one that [`stock`] lists.
    pub of: String,
    /// What the stock measures, mm.
    pub measured: Length,
}

/// Stock that can be measured as a batch: a decision, what was planned, and what it measures.
#[derive(Clone, Debug, PartialEq)]
pub struct Stock {
    /// The decision's name.
    pub path: String,
    /// The heading it stands under, and a few words for it.
    pub label: String,
    /// As decided, mm.
    pub planned: Length,
    /// As measured, where it was.
    pub measured: Option<Length>,
}

/// All stock of a design that can be measured as a batch, in the order of the decisions.
pub fn stock(design: &Design) -> Vec<Stock> {
    decisions::list(design)
        .into_iter()
        .filter(|decision| is_stock(&decision.spec.path))
        .filter_map(|decision| {
            let Value::Length(planned) = decision.value else { return None };
            let measured = design.shop.batches.iter().find(|batch| batch.of == decision.spec.path).map(|batch| batch.measured);
            Some(Stock { label: format!("{}: {}", decision.spec.group, decision.spec.label), path: decision.spec.path, planned, measured })
        })
        .collect()
}

/// Sections and thicknesses of wood and sheet; not distances, which are decided and not milled.
const STOCK: [(&str, &[&str]); 12] = [
    ("carcase.post.", &["width", "depth"]),
    ("carcase.rails.", &["thickness", "top", "bottom", "middle"]),
    ("carcase.top.", &["thickness"]),
    ("carcase.top.buttons.", &["length", "width", "thickness"]),
    ("carcase.bottom.", &["bearer"]),
    ("sawtooth.", &["thickness"]),
    ("sawtooth.cleat.", &["height", "thickness"]),
    ("sawtooth.slats.", &["width", "thickness"]),
    ("shelf.", &["thickness"]),
    ("cleats.", &["height", "thickness"]),
    ("timber.panel.", &["measured"]),
    ("timber.floor.", &["measured"]),
];

/// Whether a decision is a size of stock that is milled or bought, and so can be measured.
pub(crate) fn is_stock(path: &str) -> bool {
    let Some((before, name)) = path.rsplit_once('.') else { return false };
    let listed = STOCK.iter().any(|(group, names)| group.strip_suffix('.') == Some(before) && names.contains(&name));
    let divider = path.starts_with("interior.") && before.ends_with("divider") && ["width", "cross_rail"].contains(&name);
    let tenon = path.starts_with("joinery.") && before.matches('.').count() == 1 && ["thickness", "width", "length"].contains(&name);
    listed || divider || tenon
}

/// Records what the stock of a decision measures, or with `None` takes it back.
///
/// # Errors
/// When the decision is none of [`stock`], or the measure is out of its range. The design is then unchanged.
pub fn measure_batch(design: &mut Design, of: &str, measured: Option<Length>) -> Result<(), DecisionError> {
    let path = format!("measured.{of}");
    let decision = decisions::list(design).into_iter().find(|decision| decision.spec.path == of && is_stock(of));
    let Some(decision) = decision else {
        let expected = "it must be stock that is milled or bought, such as carcase.post.width or timber.panel.measured";
        return Err(unreadable(&path, of, expected));
    };
    if let (Some(measured), Some(range)) = (measured, decision.spec.range) {
        in_range(&path, measured)?;
        if !range.contains(&measured.to_mm()) {
            return Err(DecisionError::OutOfRange {
                path,
                found: trimmed(measured.to_mm()),
                least: trimmed(*range.start()),
                greatest: trimmed(*range.end()),
                unit: "mm",
            });
        }
    }
    let batches = &mut design.shop.batches;
    match (batches.iter_mut().find(|batch| batch.of == of), measured) {
        (Some(batch), Some(measured)) => batch.measured = measured,
        (None, Some(measured)) => batches.push(Batch { of: of.to_owned(), measured }),
        (_, None) => batches.retain(|batch| batch.of != of),
    }
    Ok(())
}
