//! From decisions to parts: one file an assembly.
//!
//! Each assembly places its parts and says where they meet; the [`joint`](crate::joint) chosen for each meeting cuts them. Parts are
//! placed by blocks of the case, and every size is a [`Size`](crate::origin::Size) that knows its origin.

mod builder;
mod edges;
mod fixings;
mod floor;
mod frames;
mod interior;
mod levels;
mod milled;
pub(crate) mod recorded;
mod shelving;
mod top;

pub(crate) use builder::Builder;
use builder::{SLAT_THICKNESS, SlatsByLoad};
pub use interior::{BayPlan, bay_plans};
pub use levels::Levels;
use milled::AsMilled;

use crate::design::decisions::{self, DecisionError};
use crate::design::{Design, FORMAT, Place, ThickBy};
use crate::length::trimmed;
use crate::loads;
use crate::loads::SlatsWanted;
use crate::model::Model;

/// Why a design gives no case.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum DesignError {
    /// The file is of a version this program does not know.
    #[error("format: found version {found}, and this program reads version {FORMAT}; it may come from a newer program")]
    Format {
        /// The version found.
        found: u32,
    },
    /// A decision is out of range.
    #[error(transparent)]
    Decision(#[from] DecisionError),
    /// Decisions that are each in range leave no room for a part.
    #[error("{path}: {problem}; {remedy}")]
    NoRoom {
        /// The decision to change first.
        path: String,
        /// What doesn't go, with its figures.
        problem: String,
        /// What would do.
        remedy: String,
    },
}

impl DesignError {
    /// The decision it is about.
    pub fn path(&self) -> &str {
        match self {
            DesignError::Format { .. } => "format",
            DesignError::Decision(error) => error.path(),
            DesignError::NoRoom { path, .. } => path,
        }
    }
}

/// Works out every part and joint of a design.
///
/// What can be built but will fail is no error: it is derived as decided and [`inspect()`](crate::inspect()) says what is wrong.
///
/// # Errors
/// Every decision that is out of range; or, when all are in range, what leaves no room for a part.
pub fn derive(design: &Design) -> Result<Model, Vec<DesignError>> {
    if design.format != FORMAT {
        return Err(vec![DesignError::Format { found: design.format }]);
    }
    let bad = decisions::check(design);
    if !bad.is_empty() {
        return Err(bad.into_iter().map(DesignError::Decision).collect());
    }
    let milled = milled::as_milled(design, &[]);
    let bad = milled.check();
    if !bad.is_empty() {
        return Err(bad);
    }
    let model = derive_with(&milled, None)?;
    let spent = milled::spent(design, &model);
    if spent.is_empty() {
        return as_loaded(&milled, model);
    }
    let milled = milled::as_milled(design, &spent);
    let mut model = derive_with(&milled, None).and_then(|model| as_loaded(&milled, model))?;
    let told: Vec<_> = spent.iter().map(|spent| spent.finding(&model)).collect();
    model.findings.extend(told);
    Ok(model)
}

/// The case with its slats as thick as the load wants them, where the design has it so.
fn as_loaded(milled: &AsMilled<'_>, model: Model) -> Result<Model, Vec<DesignError>> {
    let by_load = milled.design.sawtooth.slats.thick_by == ThickBy::Load && !milled.is_measured(SLAT_THICKNESS);
    if by_load { slats_by_load(milled, model) } else { Ok(model) }
}

/// What is thicker weighs more and leaves less room, so that a first thickness may not be the last; so many are tried upward.
const TRIES: usize = 4;

/// The case with slats as thick as the load wants them: the least whole thickness at which no shelf at its heaviest sags further than it is made
/// for. It is worked out again only where the load wants them thicker than decided.
fn slats_by_load(milled: &AsMilled<'_>, as_decided: Model) -> Result<Model, Vec<DesignError>> {
    let design = milled.design.as_ref();
    let decided = design.sawtooth.slats.thickness.to_mm();
    let with = |thickness: f64, thinner: (f64, &SlatsWanted)| derive_with(milled, Some(SlatsByLoad::new(thickness, thinner.0, thinner.1)));
    let Some(mut wanted) = loads::slats_wanted(design, &as_decided, decided) else { return Ok(as_decided) };
    let mut tried = decided;
    let mut thickness = wanted.thickness.min(THICKEST_SLAT);
    let mut model = with(thickness, (tried, &wanted))?;
    let mut enough = false;
    for _ in 0..TRIES {
        let Some(more) = loads::slats_wanted(design, &model, thickness) else {
            enough = true;
            break;
        };
        if thickness >= THICKEST_SLAT {
            break;
        }
        (tried, wanted, thickness) = (thickness, more.clone(), more.thickness.min(THICKEST_SLAT));
        model = with(thickness, (tried, &wanted))?;
    }
    // The boxes that asked for it may no longer go in beside such slats: halved down to the thinnest that does beside one that does not.
    while enough && thickness - tried > 1.0 + 1e-9 {
        let between = f64::midpoint(tried, thickness).floor().max(tried.floor() + 1.0);
        let other = with(between, (tried, &wanted))?;
        match loads::slats_wanted(design, &other, between) {
            None => thickness = between,
            Some(too_thin) => (tried, wanted) = (between, too_thin),
        }
    }
    with(thickness, (tried, &wanted))
}

/// As thick as slats may be decided, mm.
const THICKEST_SLAT: f64 = 60.0;

fn derive_with(milled: &AsMilled<'_>, slats: Option<SlatsByLoad>) -> Result<Model, Vec<DesignError>> {
    let design = milled.design.as_ref();
    moisture_in_order(design)?;
    let mut builder = Builder::new(milled).with_slats(slats);
    let levels = Levels::of(&builder)?;
    let plans = interior::plan(&builder, &levels)?;
    bounded(design, &plans)?;
    let frames = frames::build(&mut builder, &levels, &plans)?;
    let cross_rails = interior::build_cross_rails(&mut builder, &levels, &plans, &frames);
    builder.join_ends();
    floor::build(&mut builder, &levels, &plans, &frames, &cross_rails)?;
    top::build(&mut builder, &levels, &plans, &frames)?;
    shelving::build(&mut builder, &levels, &plans, &frames)?;
    let mut model = builder.finish();
    recorded::put_in(design, &mut model);
    Ok(model)
}

/// A piece has hundreds of parts; far more are a slip of the pen, and would only make everything slow.
const MOST_PARTS: usize = 6000;

fn bounded(design: &Design, plans: &[BayPlan]) -> Result<(), Vec<DesignError>> {
    let slats = design.sawtooth.slats.count as usize;
    let shelves = |plan: &BayPlan| plan.fitting.shelves().map_or(0, |shelves| shelves.shelves.len());
    let parts: usize = plans.iter().map(|plan| 30 + shelves(plan).saturating_mul(4 + slats)).fold(0, usize::saturating_add);
    if parts <= MOST_PARTS {
        return Ok(());
    }
    Err(vec![DesignError::NoRoom {
        path: "interior".to_owned(),
        problem: format!("the bays and shelves come to some {parts} parts"),
        remedy: format!("take fewer shelves or slats, for at most {MOST_PARTS}"),
    }])
}

fn moisture_in_order(design: &Design) -> Result<(), Vec<DesignError>> {
    let Place::Range { driest, wettest } = design.timber.moisture.place else { return Ok(()) };
    if driest <= wettest {
        return Ok(());
    }
    Err(vec![DesignError::NoRoom {
        path: "timber.moisture.driest".to_owned(),
        problem: format!("the driest, {} %, is wetter than the wettest, {} %", trimmed(driest), trimmed(wettest)),
        remedy: "it must be at most the wettest".to_owned(),
    }])
}
