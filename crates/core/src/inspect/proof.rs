//! Remedies that are tried on the design before they are offered.

use std::cell::RefCell;

use super::Remedy;
use super::voids::Voids;
use crate::derive::derive;
use crate::design::{Design, decisions};
use crate::model::Model;

/// Tries remedies on a design; each change once, however many findings would offer it.
pub(super) struct Proof<'d> {
    design: &'d Design,
    /// Remedies tried, and whether each holds.
    known: RefCell<Vec<(Remedy, bool)>>,
}

impl<'d> Proof<'d> {
    pub fn new(design: &'d Design) -> Proof<'d> {
        Proof { design, known: RefCell::default() }
    }

    /// Whether a remedy leaves a case in which all is `mended`. What can only be told is not tried.
    pub fn holds(&self, remedy: &Remedy, mended: impl Fn(&Model, &Voids<'_>) -> bool) -> bool {
        if remedy.changes.is_empty() {
            return true;
        }
        let known = self.known.borrow().iter().find(|(tried, _)| tried.changes == remedy.changes).map(|(_, holds)| *holds);
        known.unwrap_or_else(|| {
            let holds = self.tried(remedy).is_some_and(|model| mended(&model, &Voids::of_model(&model)));
            self.known.borrow_mut().push((remedy.clone(), holds));
            holds
        })
    }

    fn tried(&self, remedy: &Remedy) -> Option<Model> {
        let mut changed = self.design.clone();
        for (path, value) in &remedy.changes {
            decisions::set(&mut changed, path, value).ok()?;
        }
        derive(&changed).ok()
    }
}
