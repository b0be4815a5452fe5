//! What has to be moved to come from one way of laying the shelves to another.

use crate::derive::{BayPlan, bay_plans};
use crate::design::{Design, System};
use crate::model::LevelKind;

/// A shelf that is laid elsewhere, comes or goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Move {
    /// Which bay, from 0.
    pub bay: usize,
    /// Which of its shelves, from 0 in the order of the design.
    pub shelf: usize,
    /// Where it lay; none where it is new.
    pub from: Option<u32>,
    /// Where it is to lie; none where it is put away.
    pub to: Option<u32>,
    /// What the levels are counted by.
    pub counted: LevelKind,
}

impl Move {
    /// "shelf 2 of bay 1 from tooth 22 to tooth 20".
    pub fn words(&self) -> String {
        let (name, one) = (format!("shelf {} of bay {}", self.shelf + 1, self.bay + 1), self.counted.words().0);
        match (self.from, self.to) {
            (Some(from), Some(to)) => format!("{name} from {one} {from} to {one} {to}"),
            (None, Some(to)) => format!("{name}, a new one, on {one} {to}"),
            (Some(from), None) => format!("{name} on {one} {from} is put away"),
            (None, None) => name,
        }
    }
}

/// The levels of the shelves of each bay, in the order of the design; nothing where it gives no case.
pub(in crate::contents) fn levels_of(design: &Design) -> Vec<Vec<u32>> {
    let of = |plan: &BayPlan| plan.fitting.shelves().map_or_else(Vec::new, |shelves| shelves.shelves.clone());
    bay_plans(design).map_or_else(|_| Vec::new(), |plans| plans.iter().map(of).collect())
}

/// Every shelf that lies otherwise in the second of two designs that have the same bays; nothing where either is no case.
pub fn moves(before: &Design, after: &Design) -> Vec<Move> {
    let (Ok(before), Ok(after)) = (bay_plans(before), bay_plans(after)) else { return Vec::new() };
    let each = |(bay, (was, is)): (usize, (&BayPlan, &BayPlan))| {
        let counted = match is.fitting.system() {
            Some(System::Sawtooth) | None => LevelKind::Tooth,
            Some(System::Pins) => LevelKind::Hole,
            Some(System::Cleats | System::Housed) => LevelKind::Step,
        };
        let [was, is] = [was, is].map(|plan| plan.fitting.shelves().map(|shelves| shelves.shelves.clone()).unwrap_or_default());
        let count = was.len().max(is.len());
        (0..count)
            .map(|shelf| Move { bay, shelf, from: was.get(shelf).copied(), to: is.get(shelf).copied(), counted })
            .filter(|one| one.from != one.to)
            .collect::<Vec<_>>()
    };
    before.iter().zip(&after).enumerate().flat_map(each).collect()
}
