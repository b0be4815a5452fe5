//! What the tests of the whole share: the demo, designs that differ from it by some decisions, and the pipeline in one call.

use casewright_core::derive::DesignError;
use casewright_core::design::decisions::{self, DecisionError};
use casewright_core::{Design, Finding, Model, Seriousness, ShapeCache, Solids, derive, design, inspect};

/// The text of the demo design.
pub const DEMO: &str = include_str!("../../examples/records_cabinet.ron");

/// The demo design.
///
/// # Panics
/// When the demo can't be read: then nothing can be tested.
pub fn demo() -> Design {
    design::text::read(DEMO).expect("the demo is a good design")
}

/// The demo with other decisions.
///
/// # Panics
/// When a decision of that name is not there.
pub fn demo_with(changes: &[(&str, &str)]) -> Design {
    let mut design = demo();
    for (path, value) in changes {
        set(&mut design, path, value).unwrap_or_else(|error| panic!("{error}"));
    }
    design
}

/// Sets a decision.
///
/// # Errors
/// As [`decisions::set`].
pub fn set(design: &mut Design, path: &str, value: &str) -> Result<(), DecisionError> {
    decisions::set(design, path, value)
}

/// A design worked out and judged.
#[derive(Debug)]
pub struct Case {
    /// The design.
    pub design: Design,
    /// Its parts.
    pub model: Model,
    /// Their solids.
    pub solids: Solids,
    /// What the checks found.
    pub findings: Vec<Finding>,
}

impl Case {
    /// Works a design out.
    ///
    /// # Errors
    /// As [`derive()`](casewright_core::derive()).
    pub fn of(design: Design) -> Result<Case, Vec<DesignError>> {
        let model = derive(&design)?;
        let solids = ShapeCache::default().shape(&model);
        let findings = inspect(&design, &model, &solids);
        Ok(Case { design, model, solids, findings })
    }

    /// The demo with other decisions, worked out.
    ///
    /// # Panics
    /// When it can't be derived.
    pub fn with(changes: &[(&str, &str)]) -> Case {
        Case::of(demo_with(changes)).unwrap_or_else(|errors| panic!("{errors:?}"))
    }

    /// What will fail.
    pub fn failures(&self) -> Vec<&Finding> {
        self.findings.iter().filter(|finding| finding.seriousness == Seriousness::WillFail).collect()
    }

    /// The names of the parts of a finding.
    pub fn names(&self, finding: &Finding) -> Vec<&str> {
        finding.parts.iter().map(|part| self.model.part(*part).name.as_str()).collect()
    }
}
