//! Sheets as they measure, against what they are sold as: a sheet taken for another is found before anything is cut to it.

use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm};
use crate::design::{Design, Sheet};
use crate::model::{Model, PartKind};
use crate::timber::{How, SheetProduct};

/// How far a sheet of which no tolerance is known may be from what it is sold as, mm: as far as the widest in the table of sheet goods, two
/// veneers of 0.6 and 0.3 besides (common practice, no source).
const UNKNOWN: f64 = 1.5;

/// The sheets of a design: where the decision on each stands, what it is for, and the parts made of it.
const SHEETS: [(&str, &str, PartKind); 2] =
    [("timber.panel.measured", "Panels", PartKind::Panel), ("timber.floor.measured", "Floor", PartKind::Floor)];

/// Every sheet that measures too far from what it is sold as.
pub(super) fn check(design: &Design, model: &Model) -> Vec<Finding> {
    let sheets = [&design.timber.panel, &design.timber.floor];
    SHEETS.into_iter().zip(sheets).filter_map(|((path, what, kind), sheet)| doubted(design, model, sheet, path, what, kind)).collect()
}

fn doubted(design: &Design, model: &Model, sheet: &Sheet, path: &str, what: &str, kind: PartKind) -> Option<Finding> {
    let batch = design.shop.batches.iter().find(|batch| batch.of == path);
    let (nominal, measured) = (sheet.nominal.to_mm(), batch.map_or(sheet.measured, |batch| batch.measured).to_mm());
    let product = model.timbers.sheet(&sheet.product);
    let known = product.and_then(Published::of);
    let (least, most) = known.as_ref().map_or((nominal - UNKNOWN, nominal + UNKNOWN), |known| known.range(nominal));
    let parts: Vec<_> = model.parts.iter().filter(|part| part.kind == kind).map(|part| part.id).collect();
    if parts.is_empty() || (least - TOUCH..=most + TOUCH).contains(&measured) {
        return None;
    }
    let published = match (product, &known) {
        (Some(product), Some(_)) => format!("{}, {} mm, is published as {} to {} mm", product.name, product.tolerance, mm(least), mm(most)),
        _ => format!("{} to {} mm would be near to it", mm(least), mm(most)),
    };
    Some(Finding {
        rule: Rule::RightSheet,
        seriousness: Seriousness::AtRisk,
        place: parts.first().map(|part| model.part(*part).block().centre()),
        parts,
        explains: Vec::new(),
        joint: None,
        figures: vec![
            Figure::mm("measured", measured),
            Figure::mm("nominal", nominal),
            Figure::mm("least", least),
            Figure::mm("most", most),
        ],
        message: format!("{what}: measured {} where {} is nominal: is it the right sheet? {published}", mm(measured), mm(nominal)),
        remedies: again(path, batch.is_some(), known.as_ref().map_or(nominal, |known| known.thickness(nominal))),
        source: known.map_or("the widest tolerance in the table of sheet goods: common practice, no source", |known| known.source()),
    })
}

/// What to do about a sheet that is doubted: measure it again, and reckon till then with what was planned, or with what is published.
fn again(path: &str, in_the_shop: bool, published: f64) -> Vec<Remedy> {
    let changed = if in_the_shop {
        Remedy { words: "Take the measure back till then".to_owned(), changes: vec![(format!("measured.{path}"), "none".to_owned())] }
    } else {
        Remedy::length(format!("Take it as it is published, {} mm, till then", mm(published)), path, published)
    };
    vec![Remedy { words: "Measure it again".to_owned(), changes: Vec::new() }, changed]
}

/// What is published of the thickness of a product.
struct Published {
    /// What it is sold as, mm.
    nominal: f64,
    /// What it then is, mm: thicker by its veneers, thinner by what is sanded off.
    thickness: f64,
    /// How much less and how much more it may be, mm.
    tolerance: (f64, f64),
    /// How that was obtained.
    how: How,
}

impl Published {
    fn of(product: &SheetProduct) -> Option<Published> {
        let thickness = product.thickness.as_ref()?;
        let nominal = product.nominal.unwrap_or(thickness.value);
        Some(Published { nominal, thickness: thickness.value, tolerance: product.deviation()?, how: thickness.how })
    }

    /// What it then is of a sheet that is sold as `nominal`, mm.
    fn thickness(&self, nominal: f64) -> f64 {
        self.thickness + self.other_size(nominal)
    }

    /// From and to, mm, for a sheet that is sold as `nominal`. Some give the deviation from that, which then has in it what the sheet is; others from what it is.
    fn range(&self, nominal: f64) -> (f64, f64) {
        let (less, more) = self.tolerance;
        let (sold, is) = (self.nominal + self.other_size(nominal), self.thickness(nominal));
        if (sold - less - TOUCH..=sold + more + TOUCH).contains(&is) {
            (sold - less, sold + more)
        } else {
            (sold.min(is) - less, sold.max(is) + more)
        }
    }

    /// By how much a sheet is another size of the product, mm; 0 where it only goes by another name, as 18 for three quarters of an inch.
    fn other_size(&self, nominal: f64) -> f64 {
        let by = nominal - self.nominal;
        if by.abs() <= UNKNOWN { 0.0 } else { by }
    }

    fn source(&self) -> &'static str {
        match self.how {
            How::Memory => "thickness and tolerance as published for the product, by the table of sheet goods: from memory",
            How::Maker => "thickness and tolerance of the maker's own sheet",
            How::Derived => "thickness and tolerance as published for the product, by the table of sheet goods: derived",
            How::Read => "thickness and tolerance as published for the product, by the table of sheet goods: read",
        }
    }
}
