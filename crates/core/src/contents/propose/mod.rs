//! The other way round: cases that hold what there is to keep, built as the design at hand is, and as few, small or light as can be.
//!
//! ```text
//! list ─sizes─▶ depths, heights, widths of bays ─cutting::columns::cover─▶ cases ─narrowed, lowered to the mm─▶ laid, checked, weighed
//!                                   └─the same in classes, each as large as its largest and as cheap as its smallest─▶ what none goes below
//! ```

mod bays;
mod refine;
mod sizes;

pub use sizes::too_large;

use std::rc::Rc;

use super::arrange::{Arrangement, Piles, eased};
use crate::amounts::{Amounts, Cost};
use crate::derive::derive;
use crate::design::{Bears, BoxKind, Design};
use crate::inspect::{self, Gaps, Rule, Seriousness};
use crate::job::Job;
use crate::model::Model;
use crate::seasons;
use crate::shapes::ShapeCache;
use bays::Bays;
pub(super) use sizes::divider as usual_divider;

/// What a proposal is least in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Aim {
    /// As few bays as can be.
    FewestBays,
    /// As little floor as can be.
    LeastFloor,
    /// As little solid timber as can be.
    LeastTimber,
}

impl Aim {
    /// Each.
    pub const ALL: [Aim; 3] = [Aim::FewestBays, Aim::LeastFloor, Aim::LeastTimber];

    /// What it is least in.
    pub fn words(self) -> &'static str {
        match self {
            Aim::FewestBays => "fewest bays",
            Aim::LeastFloor => "least floor",
            Aim::LeastTimber => "least timber",
        }
    }
}

/// A case in which everything has a place.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    /// What it is least in, of all that were found, and by how much it may be more than the least there could be.
    pub aims: Vec<Least>,
    /// The case, its shelves laid.
    pub design: Design,
    /// Where everything stands in it.
    pub stands: Arrangement,
    /// Clear width of each bay from the left, mm.
    pub bays: Vec<f64>,
    /// Over the posts, mm.
    pub width: f64,
    /// From the floor to the upper face of the top, mm.
    pub height: f64,
    /// Over the posts, mm.
    pub depth: f64,
    /// What it comes to.
    pub amounts: Amounts,
    /// What it costs by the design's own prices.
    pub cost: Cost,
    /// What the checks say that will fail in it, and what does not go through the doors; nothing where it passes.
    pub fails: Vec<String>,
    /// Why it must be anchored to the wall; none where it stands by itself.
    pub to_anchor: Option<String>,
}

/// What a proposal is least in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Least {
    /// In what.
    pub aim: Aim,
    /// How much more it is than what no case so built goes below, as a share of itself: 0 where it is proven to be the least.
    pub gap: f64,
    /// What no case so built goes below, in bays, m² or m³.
    pub bound: f64,
}

impl Least {
    /// Whether no case so built is less in it.
    pub fn proven(self) -> bool {
        self.gap <= 0.0
    }

    /// "fewest bays (proven)", "least floor found; none takes under 0.32 m²".
    pub fn words(self) -> String {
        let aim = self.aim.words();
        if self.proven() {
            return format!("{aim} (proven)");
        }
        // Downward, so that it is true as told.
        let under = (self.bound * 100.0).floor() / 100.0;
        if under <= 0.0 {
            return format!("{aim} found");
        }
        match self.aim {
            Aim::FewestBays => format!("{aim} found; none has under {}", self.bound.ceil()),
            Aim::LeastFloor => format!("{aim} found; none takes under {under} m²"),
            Aim::LeastTimber => format!("{aim} found; none takes under {under} m³"),
        }
    }
}

impl Proposal {
    /// Over the posts, m².
    pub fn floor(&self) -> f64 {
        self.width * self.depth / 1e6
    }

    /// How much of what an aim is about.
    fn measure(&self, aim: Aim) -> f64 {
        match aim {
            Aim::FewestBays => self.bays.len() as f64,
            Aim::LeastFloor => self.floor(),
            Aim::LeastTimber => self.amounts.timber.value,
        }
    }

    /// Whether another is the same to whoever looks at both: as many bays, and no size more than a little off.
    fn is_like(&self, other: &Proposal) -> bool {
        let near = |a: f64, b: f64| (a - b).abs() <= ALIKE * a.max(b);
        self.bays.len() == other.bays.len()
            && near(self.width, other.width)
            && near(self.height, other.height)
            && near(self.depth, other.depth)
    }

    /// Whether another is no more in anything, less in something, and passes where this one does.
    fn beaten_by(&self, other: &Proposal) -> bool {
        let all = |of: &Proposal| {
            let [bays, floor, timber] = Aim::ALL.map(|aim| of.measure(aim));
            [bays, floor, timber, of.height, of.fails.len() as f64]
        };
        let (own, others) = (all(self), all(other));
        own.iter().zip(&others).all(|(own, other)| *other <= own + 1e-9) && own.iter().zip(&others).any(|(own, other)| *other < own - 1e-9)
    }
}

/// Things are stacked no higher than so many, and none behind another, in what is proposed.
const EASY: Piles = Piles { high: 2, deep: 1 };

/// No more are told.
const MOST: usize = 8;

/// So much more timber, as a share, may what is heavy take to stand where it is easily lifted.
const LITTLE_TIMBER: f64 = 0.05;

/// Where fewer than these pass the checks, some that don't are told too, with what fails in them.
const FEW: usize = 3;

/// Cases whose sizes are no more than such a share apart are alike.
const ALIKE: f64 = 0.03;

/// Cases in which everything has a place, built as `design` is: the least of each aim first, and others that are lower, lighter or of
/// fewer bays. None where something fits into no bay within reason. `go_on` is told now and then which share of the work is done, and ends
/// the search with what was found where it says no.
pub fn propose(design: &Design, go_on: &dyn Fn(f64) -> bool) -> Vec<Proposal> {
    let mut found: Vec<Proposal> = Vec::new();
    let gaps = Rc::new(Gaps::default());
    let mut least: Vec<[f64; 3]> = Vec::new();
    let (depths, thinned) = sizes::depths(design);
    // The second time what is laid is never tried higher than it may be in what is proposed: that finds others.
    let asked: Vec<Design> = std::iter::once(design.clone()).chain(no_higher(design)).collect();
    let rounds = asked.iter().flat_map(|asked| depths.iter().map(move |depth| (asked, *depth)));
    let (count, mut is_last) = (asked.len() * depths.len(), false);
    for (number, (asked, depth)) in rounds.enumerate() {
        let done = |share: f64| go_on((number as f64 + share) / count as f64);
        if is_last || !done(0.0) {
            break;
        }
        let Some(bays) = Bays::of(asked, depth, &done) else { continue };
        let floor = if thinned { bays.least(Aim::LeastFloor) / depth * depths[0] } else { bays.least(Aim::LeastFloor) };
        // Where depths are left out, no more is known of the timber than that there is some.
        let timber = if thinned { 0.0 } else { bays.least(Aim::LeastTimber) };
        least.push([bays.least(Aim::FewestBays), floor, timber]);
        for mut case in refine::refined(&bays, &bays.cases(&done), &done) {
            case.design.contents.clone_from(&design.contents);
            found.extend(weighed(case, &gaps));
        }
        is_last = !done(1.0);
    }
    let least = (0..3).map(|aim| least.iter().map(|least| least[aim]).fold(f64::INFINITY, f64::min));
    chosen(found, &Aim::ALL.into_iter().zip(least).collect::<Vec<_>>())
}

/// The design with things that never stand higher than in what is proposed; none where they don't as it is.
fn no_higher(design: &Design) -> Option<Design> {
    let mut lower = design.clone();
    for kind in lower.contents.iter_mut().filter(|kind| matches!(kind.bears, Bears::Others | Bears::Any)) {
        kind.bears = Bears::One;
    }
    (lower.contents != design.contents).then_some(lower)
}

/// A case that holds everything, checked and weighed; none where it does not go where it is to stand.
fn weighed(laid: refine::Laid, gaps: &Rc<Gaps>) -> Option<Proposal> {
    let refine::Laid { design, stands, bays } = laid;
    let model = derive(&design).ok()?;
    let Judged { fails, to_anchor } = judged(&design, &model, gaps)?;
    Some(Proposal {
        aims: Vec::new(),
        width: design.carcase.width.to_mm(),
        height: design.carcase.height.to_mm(),
        depth: design.carcase.depth.to_mm(),
        amounts: Amounts::of(&model),
        cost: Job::of(&design, &model).cost,
        fails,
        to_anchor,
        design,
        stands,
        bays,
    })
}

/// What the checks say of a case.
struct Judged {
    fails: Vec<String>,
    to_anchor: Option<String>,
}

/// What will fail in a case or does not go through the doors on the way, and whether it must be anchored; none where it does not go where it is to stand.
fn judged(design: &Design, model: &Model, gaps: &Rc<Gaps>) -> Option<Judged> {
    let solids = ShapeCache::default().shape(model);
    let mut findings = inspect::found(design, model, &solids, gaps);
    findings.extend(seasons::findings(design, model, &solids, &findings));
    if findings.iter().any(|finding| finding.rule == Rule::FitsSite && finding.seriousness == Seriousness::WillFail) {
        return None;
    }
    let counts = |finding: &&inspect::Finding| finding.seriousness == Seriousness::WillFail || finding.rule == Rule::Carried;
    let tips = findings.iter().find(|finding| finding.rule == Rule::Stands && finding.seriousness != Seriousness::Note);
    Some(Judged {
        to_anchor: tips.map(|finding| finding.message.clone()),
        fails: findings.iter().filter(counts).map(|finding| finding.message.clone()).collect(),
    })
}

/// The best by each aim, those that pass the checks before those that don't, then what else is worth a look: of each number of bays that was found at least
/// the one of least timber, and none that is like another.
fn chosen(found: Vec<Proposal>, least: &[(Aim, f64)]) -> Vec<Proposal> {
    // One that passes is better than any that does not.
    let (passing, failing): (Vec<_>, Vec<_>) = found.into_iter().partition(|proposal| proposal.fails.is_empty());
    if passing.is_empty() {
        return best_of(failing, least);
    }
    let mut all = best_of(passing, least);
    // What can be told of the others may be mended.
    for proposal in best_of(failing, &[]) {
        if all.len() < FEW && !all.iter().any(|other| other.is_like(&proposal)) {
            all.push(proposal);
        }
    }
    all
}

/// The same of those that pass alike.
fn best_of(mut found: Vec<Proposal>, least: &[(Aim, f64)]) -> Vec<Proposal> {
    let order = |one: &Proposal| (one.floor(), one.height, one.amounts.timber.value);
    found.sort_by(|a, b| order(a).partial_cmp(&order(b)).unwrap_or(std::cmp::Ordering::Equal));
    let mut all: Vec<Proposal> = Vec::new();
    for proposal in found {
        // The lighter of two of the same sizes comes first.
        let alike = |other: &Proposal| {
            let same = |a: f64, b: f64| (a - b).abs() < 1e-9;
            other.bays == proposal.bays && same(other.height, proposal.height) && same(other.depth, proposal.depth)
        };
        if !all.iter().any(alike) {
            all.push(proposal);
        }
    }
    // One of more bays may be no less in anything, and still be what is wanted.
    let beaten = |one: &Proposal| all.iter().any(|other| one.beaten_by(other));
    let lightest = |one: &Proposal| {
        let others = all.iter().filter(|other| other.bays.len() == one.bays.len());
        others.map(|other| other.amounts.timber.value).fold(f64::INFINITY, f64::min) >= one.amounts.timber.value
    };
    let kept: Vec<bool> = all.iter().map(|one| !beaten(one) || lightest(one)).collect();
    let mut kept = kept.into_iter();
    all.retain(|_| kept.next().unwrap_or(true));
    for (aim, bound) in least {
        let order = |one: &Proposal| (one.measure(*aim), one.floor(), one.amounts.timber.value);
        let best = all.iter().map(order).min_by(|a, b| a.partial_cmp(b).unwrap_or(std::cmp::Ordering::Equal));
        let Some(best) = best else { continue };
        for proposal in all.iter_mut().filter(|proposal| order(proposal) == best) {
            let measure = proposal.measure(*aim);
            let gap = if measure > 0.0 { ((measure - bound) / measure).max(0.0) } else { 0.0 };
            proposal.aims.push(Least { aim: *aim, gap: if gap < 1e-6 { 0.0 } else { gap }, bound: *bound });
        }
    }
    all.sort_by_key(|proposal| std::cmp::Reverse(proposal.aims.len()));
    let mut told: Vec<Proposal> = Vec::new();
    for proposal in all {
        if !proposal.aims.is_empty() || !told.iter().any(|other| other.is_like(&proposal)) {
            told.push(proposal);
        }
    }
    // Those of other numbers of bays before more of the same.
    let (mut first, mut more) = (Vec::<Proposal>::new(), Vec::new());
    for proposal in told {
        let is_new = !proposal.aims.is_empty() || !first.iter().any(|other| other.bays.len() == proposal.bays.len());
        if is_new { first.push(proposal) } else { more.push(proposal) }
    }
    first.into_iter().chain(more).take(MOST).map(easier).collect()
}

/// The same with what is heavy nearer to where it is easily lifted, where that takes little more timber and passes as it did.
fn easier(proposal: Proposal) -> Proposal {
    let (design, stands) = eased(proposal.design.clone(), proposal.stands.clone());
    let Ok(model) = derive(&design) else { return proposal };
    let amounts = Amounts::of(&model);
    // Slats come out thicker under what is heavier; what is least in timber stays so.
    let more = amounts.timber.value - proposal.amounts.timber.value;
    let least_timber = proposal.aims.iter().any(|least| least.aim == Aim::LeastTimber);
    let most = if least_timber { 0.0 } else { proposal.amounts.timber.value * LITTLE_TIMBER };
    let no_more = more >= -1e-9 && more <= most + 1e-9 && (amounts.sheet.value - proposal.amounts.sheet.value).abs() < 1e-9;
    let judged = judged(&design, &model, &Rc::new(Gaps::default()));
    if design == proposal.design || !no_more || judged.is_none_or(|judged| judged.fails != proposal.fails) {
        return proposal;
    }
    Proposal { cost: Job::of(&design, &model).cost, amounts, design, stands, ..proposal }
}

/// How many there are to keep.
fn wanted(contents: &[BoxKind]) -> u32 {
    contents.iter().map(BoxKind::wanted).fold(0, u32::saturating_add)
}

#[cfg(test)]
mod tests;
