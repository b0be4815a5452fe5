//! Timbers and make-ups of panels side by side, for this very case.
//!
//! Each candidate is put into the design and the case derived anew, so that every figure is one of the case: how much its widest part moves
//! from the driest to the wettest, how far its shelves sag, what it weighs, costs and takes.

mod panels;
mod species;

pub use panels::{MadeUp, Make, panels};
pub use species::{Candidate, Where, timbers};

use std::rc::Rc;

use crate::design::{Design, Moisture, Season};
use crate::inspect::{self, Gaps, Seriousness};
use crate::model::{Model, Part};
use crate::seasons;
use crate::shapes::Solids;
use crate::timber::Movement;
use crate::worked::Worked;

/// The part of those that moves most across its width from the driest to the wettest, and by how much, mm.
fn moves_most<'m>(model: &'m Model, parts: impl Iterator<Item = &'m Part>, moisture: &Moisture) -> Option<Worked> {
    let (dry, wet) = (moisture.at(Season::Driest), moisture.at(Season::Wettest));
    let moved = parts.map(|part| {
        let [_, width, _] = Movement::of(part, &model.timbers, dry, wet).change;
        width.named(format!("{}, from driest to wettest", part.title))
    });
    moved.max_by(|a, b| a.value.total_cmp(&b.value))
}

/// What would fail of a case, each in a sentence; nothing where it serves. `gaps` are those measured before, in other designs too.
fn fails(design: &Design, model: &Model, solids: &Solids, gaps: &Rc<Gaps>) -> Vec<String> {
    let found = inspect::found(design, model, solids, gaps);
    let struck = seasons::findings(design, model, solids, &found);
    let fails = found.into_iter().chain(struck).filter(|finding| finding.seriousness == Seriousness::WillFail);
    fails.map(|finding| finding.message).collect()
}
