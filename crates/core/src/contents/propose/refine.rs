//! Chosen bays, narrowed and lowered as far as everything still has a place, and their shelves laid.

use super::bays::{Bays, Chosen};
use super::sizes::of_bays;
use super::{Aim, EASY, wanted};
use crate::contents::arrange::case::Case;
use crate::contents::arrange::{Arrangement, Effort, ShelvesMay, arrange, arranged, laid, levels_of};
use crate::derive::derive;
use crate::design::Design;
use crate::design::edit::{Edit, apply};

/// Steps that are spent on whether one case takes everything.
const STEPS: u64 = 60_000;

/// Steps that are spent on laying its shelves.
const STEPS_TO_LAY: u64 = 400_000;

/// No bay is narrowed by more, mm: those of the next step below were tried.
const NARROWED: f64 = 64.0;

/// What is tried besides for the least timber, mm in each bay.
const ROOMIER: f64 = 25.0;

/// Steps that are spent on whether a shelf can be spared.
const STEPS_TO_SPARE: u64 = 2_000_000;

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
    for (at, one_of) in chosen.iter().enumerate() {
        if !go_on(0.6 + 0.4 * at as f64 / chosen.len() as f64) {
            break;
        }
        if seen.iter().any(|(bays, height)| *bays == one_of.bays && (height - one_of.height).abs() < 1e-9) {
            continue;
        }
        seen.push((one_of.bays.clone(), one_of.height));
        let as_chosen = [one_of.height, of.depth];
        let mut bays = one_of.bays.clone();
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
        let lower = furthest((one_of.height * 0.4).floor(), |less| takes(of.design, [one_of.height - less, of.depth], &bays));
        // Shelves come out thicker where they bear more than was thought, which a little more room makes up for.
        let tries = [(bays.clone(), one_of.height - lower), (bays, one_of.height), (one_of.bays.clone(), one_of.height)];
        let one = tries.into_iter().find_map(|(bays, height)| lay(of.design, [height, of.depth], bays));
        laid.extend(one.as_ref().and_then(fewer_shelves));
        laid.extend(one);
        // A little more room can spare a shelf, which takes less timber in all.
        if one_of.aim == Aim::LeastTimber {
            let wider: Vec<f64> = one_of.bays.iter().map(|clear| clear + ROOMIER).collect();
            for bays in [one_of.bays.clone(), wider] {
                laid.extend(lay(of.design, [one_of.height, of.depth], bays).as_ref().and_then(fewer_shelves));
            }
        }
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
    is_easy(&design, &stands).then_some(Laid { design, stands, bays })
}

/// Whether everything has a place that is easily reached.
fn is_easy(design: &Design, stands: &Arrangement) -> bool {
    let easy = stands.rows.iter().flat_map(|row| &row.stacks).all(|stack| stack.pile.high <= EASY.high && stack.pile.deep <= EASY.deep);
    easy && stands.left.is_empty() && stands.placed == u64::from(wanted(&design.contents))
}

/// The same case with as few shelves as do: things stand on each other rather, which takes less timber. None where no shelf can be spared.
fn fewer_shelves(of: &Laid) -> Option<Laid> {
    let mut best: Option<Laid> = None;
    for bay in 0..of.bays.len() {
        while let Some(fewer) = one_less(best.as_ref().unwrap_or(of), bay) {
            best = Some(fewer);
        }
    }
    best
}

/// The case with one shelf less in a bay, where everything still has its place.
fn one_less(of: &Laid, bay: usize) -> Option<Laid> {
    let mut teeth = levels_of(&of.design);
    teeth.get_mut(bay)?.pop()?;
    let mut design = of.design.clone();
    apply(&mut design, &Edit::LayShelves(teeth));
    let model = derive(&design).ok()?;
    let moved = arranged(&Case::of(&design, &model, ShelvesMay::Move), ShelvesMay::Move, (EASY, Effort::steps(STEPS_TO_SPARE))).ok()?;
    apply(&mut design, &Edit::LayShelves(moved.teeth));
    let model = derive(&design).ok()?;
    let stands = arrange(&design, &model, ShelvesMay::Stay, Effort::steps(STEPS_TO_LAY)).ok()?;
    is_easy(&design, &stands).then(|| Laid { design, stands, bays: of.bays.clone() })
}
