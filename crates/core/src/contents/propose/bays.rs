//! Bays of many widths as columns of which a cover takes as many as it wants.

use casewright_cutting::columns::{Column, Least, Reason, Thing, cover};

use super::sizes::{divider, heights, of_bays, widths};
use super::{Aim, EASY};
use crate::amounts::Amounts;
use crate::contents::arrange::case::{Bay, Case};
use crate::contents::arrange::question::{Question, things};
use crate::contents::arrange::{Effort, ShelvesMay};
use crate::derive::derive;
use crate::design::Design;

/// Steps that are spent on one question.
const STEPS: u64 = 300_000;

/// Parts of a cubic metre in which timber is counted.
const PARTS: f64 = 1e7;

/// What can be made of one depth: bays of many widths, cases of some heights.
pub struct Bays<'a> {
    pub design: &'a Design,
    pub depth: f64,
    widths: Vec<f64>,
    heights: Vec<High>,
    things: Vec<Thing>,
    divider: f64,
    posts: f64,
}

/// Cases of one height.
struct High {
    height: f64,
    /// A bay of each width.
    columns: Vec<Column>,
    /// The same, each bearing what the next narrower one does too.
    strong: Vec<Column>,
    /// The timber of a case of nothing but a bay of each width, without shelves, m³.
    timber: Vec<f64>,
    /// What of that is there once, however many bays there are, m³.
    once: f64,
}

/// A choice of bays.
#[derive(Clone, Debug, PartialEq)]
pub struct Chosen {
    pub height: f64,
    /// Clear widths, mm.
    pub bays: Vec<f64>,
    /// For what it was chosen.
    pub aim: Aim,
}

impl<'a> Bays<'a> {
    /// None where no bay is a case, or the search was ended.
    pub fn of(design: &'a Design, depth: f64, go_on: &dyn Fn(f64) -> bool) -> Option<Bays<'a>> {
        let heights = heights(design);
        let top = *heights.last()?;
        let mut built: Vec<(f64, Bay)> = Vec::new();
        let all = widths(design);
        for (at, clear) in all.iter().enumerate() {
            if !go_on(0.3 * at as f64 / all.len() as f64) {
                return None;
            }
            let Some(single) = of_bays(design, [top, depth], &[*clear], true) else { continue };
            let Ok(model) = derive(&single) else { continue };
            let case = Case::of(&single, &model, ShelvesMay::Come);
            built.extend(case.bays.into_iter().flatten().next().map(|bay| (*clear, bay)));
        }
        let widths: Vec<f64> = built.iter().map(|(clear, _)| *clear).collect();
        let bays: Vec<Bay> = built.into_iter().map(|(_, bay)| bay).collect();
        let heights = heights.into_iter().filter_map(|height| High::of(design, [height, depth], &widths, &bays)).collect::<Vec<_>>();
        let divider = divider(design).width.to_mm();
        let posts = 2.0 * design.carcase.post.width.to_mm();
        (!heights.is_empty()).then(|| Bays { design, depth, widths, heights, things: things(&design.contents), divider, posts })
    }

    /// Bays that take everything, for each aim and height.
    pub fn cases(&self, go_on: &dyn Fn(f64) -> bool) -> Vec<Chosen> {
        let mut cases = Vec::new();
        for (at, high) in self.heights.iter().enumerate() {
            for aim in Aim::ALL {
                if !go_on(0.3 + 0.3 * at as f64 / self.heights.len() as f64) {
                    return cases;
                }
                cases.extend(self.chosen(high, aim));
            }
        }
        cases
    }

    fn chosen(&self, high: &High, aim: Aim) -> Option<Chosen> {
        let cost = |at: usize| match aim {
            // The narrower of as many bays.
            Aim::FewestBays => 1_000_000.0 + self.widths[at],
            Aim::LeastFloor => self.widths[at] + self.divider,
            Aim::LeastTimber => (high.timber[at] - high.once) * PARTS,
        };
        let priced = |(at, column): (usize, &Column)| Column { cost: cost(at).max(0.0) as u64, count: None, ..column.clone() };
        let priced: Vec<Column> = high.columns.iter().enumerate().map(priced).collect();
        let cover = cover(&self.things, &priced, Effort::steps(STEPS)).ok().filter(|cover| cover.left.is_empty())?;
        let mut bays: Vec<f64> = cover.columns.iter().map(|filled| self.widths[filled.column]).collect();
        bays.sort_by(|a, b| b.total_cmp(a));
        (!bays.is_empty()).then_some(Chosen { height: high.height, bays, aim })
    }

    /// What no case of this depth goes below, by an aim.
    ///
    /// A bay counts as wide as the widest of its class and as cheap as the narrowest, and bears what the stronger of both bears; a case
    /// counts as high as the highest of its class and as cheap as the lowest. So whatever its sizes are, each case is among these.
    pub fn least(&self, aim: Aim) -> f64 {
        let Some(top) = self.heights.last() else { return 0.0 };
        match aim {
            Aim::FewestBays => self.bound(&top.strong, |_| 1.0, 1.0),
            Aim::LeastFloor => {
                let across = self.bound(&top.strong, |at| self.narrower(at) + self.divider, 1.0) - self.divider + self.posts;
                across * self.depth / 1e6
            }
            Aim::LeastTimber => {
                let of = |at: usize| {
                    let (high, lower) = (&self.heights[at], &self.heights[at.saturating_sub(1)]);
                    let timber = |width: usize| lower.timber[width.saturating_sub(1)] - lower.once;
                    self.bound(&high.strong, timber, PARTS) + lower.once
                };
                (0..self.heights.len()).map(of).fold(f64::INFINITY, f64::min)
            }
        }
    }

    /// The narrowest bay that counts as one of the widths, mm.
    fn narrower(&self, at: usize) -> f64 {
        at.checked_sub(1).map_or(0.0, |at| self.widths[at] + 1.0)
    }

    fn bound(&self, columns: &[Column], cost: impl Fn(usize) -> f64, parts: f64) -> f64 {
        let priced = |(at, column): (usize, &Column)| Column { cost: (cost(at) * parts).max(0.0) as u64, count: None, ..column.clone() };
        let priced: Vec<Column> = columns.iter().enumerate().map(priced).collect();
        let Ok(cover) = cover(&self.things, &priced, Effort::steps(STEPS)) else { return 0.0 };
        // What stands in none of them stands in no case of this depth.
        let nowhere = cover.left.iter().any(|left| left.reason == Reason::StandsNowhere);
        match cover.bound {
            Least::Cost(least) if !nowhere => least as f64 / parts,
            Least::Cost(_) | Least::TooFew => f64::INFINITY,
        }
    }
}

impl High {
    fn of(design: &Design, [height, depth]: [f64; 2], widths: &[f64], bays: &[Bay]) -> Option<High> {
        let middle = *widths.get(widths.len() / 2)?;
        let single = of_bays(design, [height, depth], &[middle], true)?;
        let model = derive(&single).ok()?;
        let (space, levels) = (model.bays.first()?.space, model.bays.first()?.teeth?);
        let case = Case::of(&single, &model, ShelvesMay::Come);
        let question = Question::of(&case, ShelvesMay::Come, EASY, &[]);
        let as_high = |bay: &Bay| {
            let mut bay = bay.clone();
            (bay.space.min.y, bay.space.max.y) = (space.min.y, space.max.y);
            bay.levels.count = levels.count;
            bay
        };
        let columns = bays.iter().map(|bay| question.bay(&as_high(bay), None).0).collect();
        let stronger = |at: usize| {
            let (mut bay, narrower) = (as_high(&bays[at]), &bays[at.saturating_sub(1)]);
            (bay.floor, bay.shelf) = (bay.floor.max(narrower.floor), bay.shelf.max(narrower.shelf));
            question.bay(&bay, None).0
        };
        let strong = (0..bays.len()).map(stronger).collect();
        let of = |bays: &[f64]| Some(Amounts::of(&derive(&of_bays(design, [height, depth], bays, false)?).ok()?).timber.value);
        let timber: Vec<f64> = widths.iter().map(|clear| of(&[*clear])).collect::<Option<_>>()?;
        // Of two alike what is there twice in a case of one each, but once in a case of both.
        let once = 2.0 * of(&[middle])? - of(&[middle, middle])?;
        Some(High { height, columns, strong, timber, once })
    }
}
