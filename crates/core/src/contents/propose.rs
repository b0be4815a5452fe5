//! The other way round: cases that hold what there is to keep, built as the design at hand is, and as few, small or light as can be.

use casewright_cutting::columns::{Column, cover};

use super::arrange::{Arrangement, Effort, ShelvesMay, laid, question::Question};
use crate::amounts::Amounts;
use crate::derive::derive;
use crate::design::{Along, Bay, BaySize, Design, Divider, Fitting, Opening, Shelves, System, decisions};
use crate::length::Length;

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
    /// What it is least in, of the cases that were tried.
    pub aims: Vec<Aim>,
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
    /// Whether no other choice among the bays that were tried is less in what it is least in.
    pub proven: bool,
}

/// Heights that are tried besides the case's own, mm: a counter, what one reaches into standing, and as high as one reaches (common practice,
/// no source). None is above the ceiling, or above what the design may be.
const HEIGHTS: [f64; 3] = [900.0, 1300.0, 1900.0];

/// The widest bay that is tried, mm: the old library rule of three feet for a shelf (read).
const WIDEST: f64 = 914.0;

/// How many widths of bays are tried.
const MOST_WIDTHS: usize = 18;

/// Steps that are spent on one question.
const STEPS: u64 = 400_000;

/// Cases in which everything has a place, built as `design` is: the least of each aim, alike ones told once. None where something fits into
/// no bay within reason. `stop` is asked now and then, and ends the search with what was found.
pub fn propose(design: &Design, stop: &dyn Fn() -> bool) -> Vec<Proposal> {
    let ceiling = Some(design.site.height.to_mm()).filter(|mm| *mm > 0.0).unwrap_or(f64::INFINITY);
    let mut heights: Vec<f64> = HEIGHTS.into_iter().chain([design.carcase.height.to_mm()]).filter(|mm| *mm <= ceiling).collect();
    heights.sort_by(f64::total_cmp);
    heights.dedup();
    let mut found: Vec<(Aim, Proposal)> = Vec::new();
    for height in heights {
        let bays = tried(design, height);
        for aim in Aim::ALL {
            if stop() {
                break;
            }
            found.extend(least(design, height, &bays, aim).map(|proposal| (aim, proposal)));
        }
    }
    best(found)
}

/// A bay that is tried: a case of nothing else, and what it comes to.
struct Tried {
    clear: f64,
    column: Column,
    /// Solid timber of the case, m³.
    timber: f64,
}

/// Bays in which some kinds stand side by side with nothing to spare, at a height of the case.
fn tried(design: &Design, height: f64) -> Vec<Tried> {
    let hand = design.hand_room.beside.to_mm();
    let mut widths: Vec<f64> = Vec::new();
    for kind in design.contents.iter().filter(|kind| kind.wanted() > 0) {
        for stance in super::Stance::of(kind.lies) {
            let each = stance.size(kind).x + hand;
            let most = ((WIDEST - hand) / each).floor().min(f64::from(kind.wanted())) as u32;
            // A millimetre for rounding and for the seasons.
            widths.extend((1..=most.max(1)).map(|count| (f64::from(count) * each + hand + 1.0).ceil()));
        }
    }
    widths.sort_by(f64::total_cmp);
    widths.dedup();
    thinned(widths).into_iter().filter_map(|clear| one_bay(design, height, clear)).collect()
}

/// No more widths than are tried: the narrowest, the widest, and of those between as many as there is room for, evenly.
fn thinned(widths: Vec<f64>) -> Vec<f64> {
    if widths.len() <= MOST_WIDTHS {
        return widths;
    }
    let last = widths.len() - 1;
    let mut kept: Vec<f64> = (0..MOST_WIDTHS).map(|index| widths[index * last / (MOST_WIDTHS - 1)]).collect();
    kept.dedup();
    kept
}

/// A case of one such bay, as the solver of rows in columns sees it.
fn one_bay(design: &Design, height: f64, clear: f64) -> Option<Tried> {
    let single = of_bays(design, height, &[clear])?;
    let model = derive(&single).ok()?;
    let question = Question::of(&single, &model, (ShelvesMay::Come, LOW));
    let column = question.columns().into_iter().next().filter(|_| model.bays.len() == 1)?;
    Some(Tried { clear, column: Column { count: None, ..column }, timber: Amounts::of(&model).timber.value })
}

/// Things are stacked no higher than so many in what is proposed.
const LOW: u32 = 2;

/// The design with bays of such clear widths, each with a shelf half way up.
fn of_bays(design: &Design, height: f64, bays: &[f64]) -> Option<Design> {
    let divider = divider(design);
    let mut design = design.clone();
    let posts = 2.0 * design.carcase.post.width.to_mm();
    let width = bays.iter().sum::<f64>() + posts + divider.width.to_mm() * bays.len().saturating_sub(1) as f64;
    let with_shelf = leaf(&design, vec![MIDDLE]);
    let bay = |clear: &f64| Bay { size: BaySize::Clear(Length::mm(*clear)), opening: with_shelf.clone() };
    design.interior = match bays {
        [_] => with_shelf.clone(),
        _ => Opening::Split(crate::design::Split { along: Along::Width, divider, bays: bays.iter().map(bay).collect() }),
    };
    // What is said of single parts is of the case at hand.
    design.overrides.clear();
    design.shop.parts.clear();
    decisions::set(&mut design, "carcase.width", &width.to_string()).ok()?;
    decisions::set(&mut design, "carcase.height", &height.to_string()).ok()?;
    Some(design)
}

/// The tooth of a shelf that is there to be weighed.
const MIDDLE: u32 = 8;

fn leaf(design: &Design, shelves: Vec<u32>) -> Opening {
    let system = design.interior.system().unwrap_or(System::Sawtooth);
    Opening::Leaf(Fitting::of(Some(system), Shelves { shelves }))
}

/// The divider of the design, or a usual one.
fn divider(design: &Design) -> Divider {
    match &design.interior {
        Opening::Split(split) => split.divider.clone(),
        Opening::Leaf(_) => Divider { width: Length::mm(60.0), cross_rail: design.carcase.rails.middle },
    }
}

/// The least of the cases of a height by one aim.
fn least(design: &Design, height: f64, tried: &[Tried], aim: Aim) -> Option<Proposal> {
    let divider = divider(design).width.to_mm();
    let cost = |one: &Tried| match aim {
        // The narrower of as many bays.
        Aim::FewestBays => 1_000_000 + one.clear as u64,
        Aim::LeastFloor => (one.clear + divider) as u64,
        Aim::LeastTimber => (one.timber * 1e6) as u64,
    };
    let columns: Vec<Column> = tried.iter().map(|one| Column { cost: cost(one), ..one.column.clone() }).collect();
    let single = of_bays(design, height, &[tried.first()?.clear])?;
    let model = derive(&single).ok()?;
    let things = Question::of(&single, &model, (ShelvesMay::Come, LOW)).things;
    let cover = cover(&things, &columns, Effort::steps(STEPS)).ok().filter(|cover| cover.left.is_empty())?;
    let mut bays: Vec<f64> = cover.columns.iter().map(|filled| tried[filled.column].clear).collect();
    // The widest in the middle reads as meant; else from wide to narrow.
    bays.sort_by(|a, b| b.total_cmp(a));
    if bays.len() == 3 {
        bays.swap(0, 1);
    }
    let case = of_bays(design, height, &bays)?;
    let site = Some(design.site.width.to_mm()).filter(|mm| *mm > 0.0).unwrap_or(f64::INFINITY);
    let (design, stands) = laid(&case, ShelvesMay::Come, Effort::steps(STEPS)).ok()??;
    let model = derive(&design).ok()?;
    let fits = model.bounds.is_some_and(|bounds| bounds.size().x + 2.0 * design.site.scribe.to_mm() <= site + 1e-6);
    (stands.left.is_empty() && fits).then(|| Proposal {
        aims: vec![aim],
        width: design.carcase.width.to_mm(),
        height: design.carcase.height.to_mm(),
        depth: design.carcase.depth.to_mm(),
        amounts: Amounts::of(&model),
        proven: cover.proven(),
        design,
        stands,
        bays,
    })
}

/// The best by each aim, then what else there is, alike ones once.
fn best(found: Vec<(Aim, Proposal)>) -> Vec<Proposal> {
    let measure = |aim: Aim, of: &Proposal| match aim {
        Aim::FewestBays => (of.bays.len() as f64, of.width * of.depth),
        Aim::LeastFloor => (of.width * of.depth, of.amounts.timber.value),
        Aim::LeastTimber => (of.amounts.timber.value, of.width * of.depth),
    };
    let least =
        |aim: Aim| found.iter().map(|(_, proposal)| measure(aim, proposal)).min_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let bests: Vec<_> = Aim::ALL.into_iter().map(|aim| (aim, least(aim))).collect();
    let mut all: Vec<Proposal> = Vec::new();
    for (by, proposal) in found {
        let aims: Vec<Aim> = bests.iter().filter(|(aim, best)| *best == Some(measure(*aim, &proposal))).map(|(aim, _)| *aim).collect();
        if all.iter().any(|other| other.bays == proposal.bays && (other.height - proposal.height).abs() < 1e-9) {
            continue;
        }
        // It was sought for one aim; by which it is the best of all heights is another matter.
        let proven = proposal.proven && aims.contains(&by);
        all.push(Proposal { aims, proven, ..proposal });
    }
    all.sort_by(|a, b| b.aims.len().cmp(&a.aims.len()).then((a.width * a.depth).total_cmp(&(b.width * b.depth))));
    all
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_case_that_is_proposed_holds_everything() {
        let design = crate::design::text::read(include_str!("../../../../examples/records_cabinet.ron")).expect("the demo");
        let found = propose(&design, &|| false);
        assert!(found.len() >= 3, "three at least: {}", found.len());
        for aim in Aim::ALL {
            assert!(found.iter().any(|proposal| proposal.aims.contains(&aim)), "{}", aim.words());
        }
        for proposal in &found {
            assert!(proposal.stands.left.is_empty());
            let model = derive(&proposal.design).expect("a case");
            assert_eq!(model.bays.len(), proposal.bays.len());
            let wanted: u32 = design.contents.iter().map(crate::design::BoxKind::wanted).sum();
            let there: u32 = proposal.stands.rows.iter().flat_map(|row| &row.stacks).map(|stack| stack.count).sum();
            assert_eq!(there, wanted);
        }
        let fewest = found.iter().map(|proposal| proposal.bays.len()).min();
        assert!(
            found.iter().filter(|proposal| proposal.aims.contains(&Aim::FewestBays)).all(|proposal| Some(proposal.bays.len()) == fewest)
        );
    }

    #[test]
    fn nothing_is_proposed_that_does_not_go_where_it_is_to_stand() {
        let mut design = crate::design::text::read(include_str!("../../../../examples/records_cabinet.ron")).expect("the demo");
        (design.site.width, design.site.height) = (Length::mm(1200.0), Length::mm(2100.0));
        for proposal in propose(&design, &|| false) {
            let bounds = derive(&proposal.design).expect("a case").bounds.expect("parts");
            assert!(bounds.size().x <= 1200.0 + 1e-6 && bounds.size().y <= 2100.0 + 1e-6);
        }
    }
}
