//! What a remedy costs: one that mends a finding and brings another is not offered, or says so.

use super::old::ways_back;
use super::remedies::{Costly, sought};
use super::trials::{Changes, Known, Trial, Trials};
use crate::design::Design;
use crate::inspect::{Finding, Remedy, Rule, Seriousness};
use crate::model::Model;
use crate::sentence::inside;
use crate::sequence::Sequence;
use crate::shapes::Solids;

/// So many remedies of others a finding takes at most where none of its own does.
const MOST_OF_OTHERS: usize = 2;

/// Leaves to each finding those of its remedies after which the whole case has nothing new that is as serious; adds more room where that mends, or
/// what mends another finding and this one too; and where every remedy brings something, keeps the one that brings least and has it say what.
pub(super) fn weigh(design: &Design, model: &Model, solids: &Solids, order: &Sequence, findings: &mut [Finding]) {
    let mut trials = Trials::of(design, (model, solids, order), findings);
    let mut dear: Vec<Vec<Costly>> = Vec::with_capacity(findings.len());
    for finding in findings.iter_mut() {
        if finding.rule == Rule::CutsStillRight {
            let back = ways_back(design, model, finding);
            finding.remedies.extend(back);
        }
        let (kept, costly) = sorted(&mut trials, model, finding);
        finding.remedies = kept;
        dear.push(costly);
    }
    let mut free: Vec<Remedy> = Vec::new();
    for finding in findings.iter() {
        add_new(&mut free, &finding.remedies);
    }
    for (finding, mut dear) in findings.iter_mut().zip(dear) {
        if is_mended(finding) && !finding.remedies.iter().filter(|remedy| !remedy.changes.is_empty()).all(is_of_pieces) {
            continue;
        }
        let mut mends = of_others(&mut trials, model, finding, &free);
        if mends.is_empty() && may_be_sought(finding) {
            let (sought, costly) = sought(&mut trials, design, model, finding);
            add_new(&mut free, &sought);
            mends = sought;
            dear.extend(costly);
        }
        if mends.is_empty() {
            // What fails in another way is no remedy.
            let is_worse = |new: &Finding| new.seriousness < finding.seriousness || new.seriousness == Seriousness::WillFail;
            dear.retain(|(_, brought)| !brought.iter().any(is_worse));
            let least = dear.into_iter().min_by_key(|(_, brought)| (worst(brought), brought.len()));
            mends.extend(least.map(|(remedy, brought)| with_cost(remedy, &brought)));
        }
        finding.remedies.splice(0..0, mends);
    }
    for finding in findings.iter_mut() {
        tell_costs(&mut trials, finding);
    }
}

/// Has each remedy say what it brings that is at risk at least, where it does not say so yet: those that were sought, or are of others, were only tried
/// for what is as serious as their finding.
fn tell_costs(trials: &mut Trials<'_>, finding: &mut Finding) {
    let at_least = Seriousness::AtRisk.max(finding.seriousness);
    for remedy in finding.remedies.iter_mut().filter(|remedy| changes_the_case(remedy) && !remedy.words.contains(COST)) {
        if let Some(brought) = trials.brought(&remedy.changes, at_least) {
            *remedy = with_cost(remedy.clone(), &brought);
        }
    }
}

/// What a remedy brings stands in its words after this.
const COST: &str = "; but then ";

/// Adds the remedies that change parts and are not there yet.
fn add_new(free: &mut Vec<Remedy>, remedies: &[Remedy]) {
    for remedy in remedies.iter().filter(|remedy| changes_the_case(remedy)) {
        if !free.iter().any(|known| known.changes == remedy.changes) {
            free.push(remedy.clone());
        }
    }
}

/// Whether changes of the design can show whether they mend it: what is told of the way of working, or of what was milled, is mended there.
fn may_be_sought(finding: &Finding) -> bool {
    !matches!(
        finding.rule,
        Rule::GlueTime
            | Rule::Lift
            | Rule::NotJudged
            | Rule::Captive
            | Rule::ToolReach
            | Rule::NoSuchPart
            | Rule::MadePartFits
            | Rule::CutsStillRight
            | Rule::GluedToOthers
            | Rule::MoistureRange
            | Rule::StickLength
            | Rule::AllPlaced
            | Rule::BareLine
    )
}

/// The remedies of a finding that are kept, and those that bring what is as serious, with what they bring.
fn sorted(trials: &mut Trials<'_>, model: &Model, finding: &Finding) -> (Vec<Remedy>, Vec<Costly>) {
    let (mut kept, mut dear) = (Vec::new(), Vec::new());
    let known = Known::of(finding, model);
    for remedy in &finding.remedies {
        if !changes_the_case(remedy) {
            kept.push(remedy.clone());
            continue;
        }
        let Some(brought) = trials.brought(&remedy.changes, Seriousness::AtRisk.max(finding.seriousness)) else { continue };
        let stays = |trial: &Trial| !trial.is_rid_of(&known);
        if (is_wholly_mended(finding) || is_of_pieces(remedy)) && trials.tried(&remedy.changes).is_some_and(stays) {
            continue;
        }
        if brought.iter().any(|new| new.seriousness <= finding.seriousness) {
            dear.push((remedy.clone(), brought));
        } else {
            kept.push(with_cost(remedy.clone(), &brought));
        }
    }
    (kept, dear)
}

/// Whether what mends a finding leaves nothing of it: what is told of a part that is there may still be so of another.
fn is_wholly_mended(finding: &Finding) -> bool {
    matches!(
        finding.rule,
        Rule::PanelEngaged
            | Rule::PanelBottoms
            | Rule::SlatBears
            | Rule::CleatBears
            | Rule::CleatStays
            | Rule::FloorBears
            | Rule::FloorCloses
            | Rule::ButtonHolds
            | Rule::ShelfBears
    )
}

/// Whether a remedy makes two pieces of one: what leaves the part whole is sought all the same.
fn is_of_pieces(remedy: &Remedy) -> bool {
    remedy.changes.iter().all(|(path, _)| path == "carcase.bottom.pieces")
}

/// Whether a remedy changes parts; how and with what a case is glued changes none.
fn changes_the_case(remedy: &Remedy) -> bool {
    remedy.changes.iter().any(|(path, _)| !path.starts_with("shop.glue."))
}

fn is_mended(finding: &Finding) -> bool {
    finding.remedies.iter().any(|remedy| !remedy.changes.is_empty())
}

/// What mends others and this one too.
fn of_others(trials: &mut Trials<'_>, model: &Model, finding: &Finding, free: &[Remedy]) -> Vec<Remedy> {
    let known = Known::of(finding, model);
    let mut mends = |changes: &Changes| {
        let gone = may_be_sought(finding) && trials.tried(changes).is_some_and(|trial| trial.is_rid_of(&known));
        gone && trials.brought(changes, finding.seriousness).is_some_and(|brought| brought.is_empty())
    };
    free.iter().filter(|remedy| mends(&remedy.changes)).take(MOST_OF_OTHERS).cloned().collect()
}

/// How bad the worst of what is brought is, the worst last.
fn worst(brought: &[Finding]) -> std::cmp::Reverse<Option<Seriousness>> {
    std::cmp::Reverse(brought.iter().map(|finding| finding.seriousness).min())
}

/// The same remedy, with what it brings said in its words.
fn with_cost(remedy: Remedy, brought: &[Finding]) -> Remedy {
    let Some(worst) = brought.iter().min_by_key(|finding| finding.seriousness) else { return remedy };
    let more = match brought.len() - 1 {
        0 => String::new(),
        1 => ", and one thing more".to_owned(),
        more => format!(", and {more} things more"),
    };
    let short = worst.message.split(';').next().unwrap_or_default();
    let words = format!("{}{COST}{}: {}{more}", remedy.words, worst.seriousness.word(), inside(short));
    Remedy { words, ..remedy }
}
