//! Chosen bays, narrowed and lowered as far as everything still has a place, and their shelves laid.

use super::bays::{Bays, Chosen};
use super::sizes::of_bays;
use super::{EASY, wanted};
use crate::contents::arrange::case::Case;
use crate::contents::arrange::{Arrangement, Effort, ShelvesMay, arranged, laid};
use crate::derive::derive;
use crate::design::Design;

/// Steps that are spent on whether one case takes everything.
const STEPS: u64 = 60_000;

/// Steps that are spent on laying its shelves.
const STEPS_TO_LAY: u64 = 400_000;

/// No bay is narrowed by more, mm: those of the next step below were tried.
const NARROWED: f64 = 64.0;

/// A case with its shelves laid so that everything has its place.
pub struct Laid {
    pub design: Design,
    pub stands: Arrangement,
    pub bays: Vec<f64>,
}

/// The cases, each no wider and no higher than it must be.
pub fn refined(of: &Bays<'_>, chosen: &[Chosen], go_on: &dyn Fn(f64) -> bool) -> Vec<Laid> {
    let mut laid = Vec::new();
    let mut seen: Vec<(Vec<f64>, f64)> = Vec::new();
    for (at, one) in chosen.iter().enumerate() {
        if !go_on(0.6 + 0.4 * at as f64 / chosen.len() as f64) {
            break;
        }
        if seen.iter().any(|(bays, height)| *bays == one.bays && (height - one.height).abs() < 1e-9) {
            continue;
        }
        seen.push((one.bays.clone(), one.height));
        let as_chosen = [one.height, of.depth];
        let mut bays = one.bays.clone();
        for bay in 0..bays.len() {
            let with = |less: f64| {
                let mut bays = bays.clone();
                bays[bay] -= less;
                bays
            };
            let most = NARROWED.min(bays[bay] - 50.0).max(0.0).floor();
            let less = furthest(most, |less| takes(of.design, as_chosen, &with(less)));
            bays = with(less);
        }
        let lower = furthest((one.height * 0.4).floor(), |less| takes(of.design, [one.height - less, of.depth], &bays));
        // Shelves come out thicker where they bear more than was thought, which a little more room makes up for.
        let tries = [(bays.clone(), one.height - lower), (bays, one.height), (one.bays.clone(), one.height)];
        laid.extend(tries.into_iter().find_map(|(bays, height)| lay(of.design, [height, of.depth], bays)));
    }
    laid
}

/// The most by which something can be less, whole mm, when it can be so much less as long as it takes everything: less never takes more.
fn furthest(most: f64, takes: impl Fn(f64) -> bool) -> f64 {
    let (mut good, mut bad) = (0.0, most + 1.0);
    while bad - good > 1.0 {
        let middle = f64::midpoint(good, bad).floor();
        if takes(middle) { good = middle } else { bad = middle }
    }
    good
}

/// Whether everything has a place, easily reached, in a case of such bays.
fn takes(design: &Design, sizes: [f64; 2], bays: &[f64]) -> bool {
    let placed = || {
        let case = of_bays(design, sizes, bays, true)?;
        let model = derive(&case).ok()?;
        let asked = Case::of(&case, &model, ShelvesMay::Come);
        arranged(&asked, ShelvesMay::Come, (EASY, Effort::steps(STEPS))).ok()
    };
    placed().is_some_and(|there| there.left.is_empty())
}

fn lay(design: &Design, sizes: [f64; 2], mut bays: Vec<f64>) -> Option<Laid> {
    // The widest in the middle reads as meant; else from wide to narrow.
    bays.sort_by(|a, b| b.total_cmp(a));
    if bays.len() == 3 {
        bays.swap(0, 1);
    }
    let case = of_bays(design, sizes, &bays, true)?;
    let (design, stands) = laid(&case, ShelvesMay::Come, Effort::steps(STEPS_TO_LAY)).ok()??;
    let easy = stands.rows.iter().flat_map(|row| &row.stacks).all(|stack| stack.pile.high <= EASY.high && stack.pile.deep <= EASY.deep);
    let all = stands.left.is_empty() && stands.placed == u64::from(wanted(&design.contents));
    (all && easy).then_some(Laid { design, stands, bays })
}
