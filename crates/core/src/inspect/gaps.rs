//! How near two cuts come to each other inside a part, measured once for all that are alike.

use std::cell::RefCell;
use std::collections::HashMap;

use casewright_solid::{Prism, Solid, VoidGap, void_gap};
use glam::DVec3;

/// Gaps that were measured before: between cuts that are alike in blanks that are alike, as in equal parts and in designs that are tried, nothing is measured again.
#[derive(Debug, Default)]
pub(crate) struct Gaps(RefCell<HashMap<u64, Vec<Measured>>>);

/// A blank with two cuts, and the gap between these.
type Measured = (Solid, Option<VoidGap>);

impl Gaps {
    /// How near two cuts come to each other inside a blank of `size`; nothing when either takes nothing from it.
    pub fn between(&self, size: DVec3, a: &Prism, b: &Prism) -> Option<VoidGap> {
        let blank = Solid { size, prisms: vec![a.clone(), b.clone()] };
        let key = blank.key();
        if let Some((_, gap)) = self.0.borrow().get(&key).and_then(|alike| alike.iter().find(|(known, _)| *known == blank)) {
            return *gap;
        }
        let gap = void_gap(size, std::slice::from_ref(a), std::slice::from_ref(b)).ok().flatten();
        self.0.borrow_mut().entry(key).or_default().push((blank, gap));
        gap
    }
}
