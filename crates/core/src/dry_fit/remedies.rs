//! Remedies for loose parts that bind, are locked out or stand in others: more room round them, another tooth, rails set back less. Each is tried on
//! the whole design before it is offered.

use std::cell::OnceCell;
use std::collections::HashMap;

use crate::derive::derive;
use crate::design::edit::HIGHEST_TOOTH;
use crate::design::{Design, decisions};
use crate::inspect::{Finding, Remedy, Rule, Seriousness, found};
use crate::length::trimmed_to;
use crate::model::{Model, PartKind};
use crate::seasons;
use crate::sentence::capital;
use crate::sequence::Sequence;
use crate::shapes::{ShapeCache, Solids};

/// Room and set-backs are offered in steps of so much, mm.
const STEP: f64 = 0.5;
/// The steps of a length that are tried, the least change first; between the last that does not mend and the first that does the least is sought.
const STEPS: [usize; 6] = [1, 2, 4, 8, 16, 32];
/// So many other teeth are tried for a shelf.
const TEETH: usize = 8;

/// So many designs are tried in all: a case with more to mend than these find is to be mended elsewhere first.
const MOST_TRIALS: usize = 32;

/// Adds to each finding without a remedy that changes something those that mend it.
pub(super) fn offer(design: &Design, model: &Model, findings: &mut [Finding]) {
    let fails = findings.iter().filter(|finding| finding.seriousness == Seriousness::WillFail && of_inspection(finding)).count();
    let mut trials = Trials { design, fails, known: HashMap::new() };
    for finding in findings.iter_mut() {
        let complaint = match finding.rule {
            Rule::Overlap | Rule::LockedOut | Rule::Season => Complaint::of(finding, model),
            _ => continue,
        };
        if finding.remedies.iter().all(|remedy| remedy.changes.is_empty()) {
            finding.remedies.splice(0..0, mending(&mut trials, &knobs(design, model, finding), &complaint));
        }
    }
}

fn of_inspection(finding: &Finding) -> bool {
    !matches!(finding.rule, Rule::LockedOut | Rule::Season | Rule::Captive | Rule::GlueTime | Rule::ToolReach | Rule::Lift)
}

/// What a finding says, in words that hold in another design too.
struct Complaint {
    rule: Rule,
    /// The names of its parts.
    names: Vec<String>,
    /// What the part is that it names first.
    kind: Option<PartKind>,
}

impl Complaint {
    fn of(finding: &Finding, model: &Model) -> Complaint {
        let parts = finding.parts.iter().map(|part| model.part(*part));
        Complaint {
            rule: finding.rule,
            names: parts.clone().map(|part| part.name.clone()).collect(),
            kind: parts.map(|part| part.kind).next(),
        }
    }

    /// Whether a finding of another design says the same of two of the parts.
    fn is_heard(&self, finding: &Finding, model: &Model) -> bool {
        let named = finding.parts.iter().filter(|part| self.names.contains(&model.part(**part).name)).count();
        finding.rule == self.rule && named > 1
    }
}

/// A decision that may mend a finding.
struct Knob {
    path: String,
    /// The values that may do, the least change first.
    values: Vec<f64>,
    /// Whether whatever lies farther on mends too, once one value does: so it is with room, not with teeth.
    farther_too: bool,
    /// What is done, with `{}` for the value.
    words: String,
}

impl Knob {
    /// The places among the values that are tried first.
    fn tried(&self) -> Vec<usize> {
        if self.farther_too {
            STEPS.map(|step| step - 1).into_iter().filter(|at| *at < self.values.len()).collect()
        } else {
            (0..self.values.len()).collect()
        }
    }

    /// The place of the least value that mends, where one does.
    fn least(&self, mends: &mut dyn FnMut(f64) -> bool) -> Option<usize> {
        let mut not = None;
        for at in self.tried() {
            if mends(self.values[at]) {
                return Some(if self.farther_too { self.between(not, at, mends) } else { at });
            }
            not = Some(at);
        }
        None
    }

    /// The least between a place that does not mend and one that does.
    fn between(&self, not: Option<usize>, mended: usize, mends: &mut dyn FnMut(f64) -> bool) -> usize {
        let (mut low, mut high) = (not.map_or(0, |not| not + 1), mended);
        while low < high {
            let middle = usize::midpoint(low, high);
            if mends(self.values[middle]) { high = middle } else { low = middle + 1 }
        }
        high
    }
}

/// The decisions that give the parts of a finding more room.
fn knobs(design: &Design, model: &Model, finding: &Finding) -> Vec<Knob> {
    let kinds: Vec<PartKind> = finding.parts.iter().map(|part| model.part(*part).kind).collect();
    let has = |kind: PartKind| kinds.contains(&kind);
    let mut knobs = Vec::new();
    if finding.rule == Rule::Overlap {
        knobs.extend(other_tooth(design, model, finding));
    }
    let inside = [PartKind::Standard, PartKind::Cleat, PartKind::Slat].into_iter().any(has);
    if inside && [PartKind::Panel, PartKind::Rail].into_iter().any(has) {
        knobs.extend(steps(design, "carcase.rails.reveal", -STEP, "set the rails back {} mm"));
    }
    let room = [
        (PartKind::Floor, "carcase.bottom.clearance", "leave {} mm all round each piece of the floor"),
        (PartKind::Slat, "sawtooth.slats.play", "leave {} mm at each end of the slats and round what they are notched for"),
        (PartKind::Cleat, "sawtooth.cleat.play", "make the cleats {} mm shorter than from riser to riser"),
    ];
    for (kind, path, words) in room {
        if has(kind) {
            knobs.extend(steps(design, path, STEP, words));
        }
    }
    knobs
}

/// The values of a length step by step up or down from the one decided, as far as it may go.
fn steps(design: &Design, path: &str, step: f64, words: &str) -> Option<Knob> {
    let decision = decisions::list(design).into_iter().find(|decision| decision.spec.path == path)?;
    let (now, range) = (decision.value.number()?, decision.spec.range?);
    // On whole steps, whatever the value is now.
    let (first, way) = if step > 0.0 { ((now / step + 1e-9).floor(), 1.0) } else { ((now / -step - 1e-9).ceil(), -1.0) };
    let most = STEPS.into_iter().max().unwrap_or(1);
    let values = (1..=most).map(|count| (first + way * count as f64) * step.abs()).filter(|value| range.contains(value)).collect();
    Some(Knob { path: path.to_owned(), values, farther_too: true, words: words.to_owned() })
}

/// Another tooth for a shelf whose slats or cleats stand in those of another: the nearest ones first.
fn other_tooth(design: &Design, model: &Model, finding: &Finding) -> Option<Knob> {
    let shelf_of = |name: &str| {
        let mut words = name.split('.');
        let (kind, bay, shelf) = (words.next()?, words.next()?, words.next()?);
        matches!(kind, "slat" | "cleat").then(|| (bay.to_owned(), shelf.to_owned()))
    };
    let mut shelves: Vec<(String, String)> = finding.parts.iter().filter_map(|part| shelf_of(&model.part(*part).name)).collect();
    shelves.sort();
    shelves.dedup();
    // Of two of one bay the later, as the maker wrote them.
    let (bay, shelf) = shelves.windows(2).find(|pair| pair[0].0 == pair[1].0).map(|pair| pair[1].clone())?;
    let path = [format!("interior.bays.{bay}.opening.shelves.{shelf}"), format!("interior.shelves.{shelf}")]
        .into_iter()
        .find(|path| decisions::value(design, path).is_some())?;
    let now = decisions::value(design, &path)?.number()? as u32;
    let nearest = (1..HIGHEST_TOOTH).flat_map(|away| [now.checked_add(away), now.checked_sub(away)]).flatten();
    let teeth = nearest.filter(|tooth| (1..=HIGHEST_TOOTH).contains(tooth)).take(TEETH);
    let words = format!("put shelf {shelf} of bay {bay} on tooth {{}}");
    Some(Knob { path, values: teeth.map(f64::from).collect(), farther_too: false, words })
}

/// What mends: each decision alone with the least change that does, or where none does alone the first two together.
fn mending(trials: &mut Trials<'_>, knobs: &[Knob], complaint: &Complaint) -> Vec<Remedy> {
    let alone = knobs.iter().filter_map(|knob| {
        let at = knob.least(&mut |value| trials.mends(&remedy(&[(knob, value)]), complaint))?;
        Some(remedy(&[(knob, knob.values[at])]))
    });
    let alone: Vec<Remedy> = alone.collect();
    let ([first, second, ..], true) = (knobs, alone.is_empty()) else { return alone };
    let both = first.values.iter().take(TEETH / 2).find_map(|value| {
        let at = second.least(&mut |other| trials.mends(&remedy(&[(first, *value), (second, other)]), complaint))?;
        Some(remedy(&[(first, *value), (second, second.values[at])]))
    });
    both.into_iter().collect()
}

fn remedy(chosen: &[(&Knob, f64)]) -> Remedy {
    let words: Vec<String> = chosen.iter().map(|(knob, value)| knob.words.replace("{}", &trimmed_to(*value, 1))).collect();
    let changes = chosen.iter().map(|(knob, value)| (knob.path.clone(), trimmed_to(*value, 1))).collect();
    Remedy { words: capital(&words.join(", and ")), changes }
}

/// Designs that were tried, each once.
struct Trials<'d> {
    design: &'d Design,
    /// How much of what is inspected fails in the design as it is.
    fails: usize,
    known: HashMap<Vec<(String, String)>, Option<Trial>>,
}

/// A design that was tried; what takes long is found when it is asked for.
struct Trial {
    design: Design,
    model: Model,
    solids: Solids,
    inspected: Vec<Finding>,
    seasons: OnceCell<Vec<Finding>>,
    order: OnceCell<Sequence>,
}

impl Trials<'_> {
    /// Whether a remedy leaves a case in which a complaint is no longer heard, and no more fails than before.
    fn mends(&mut self, remedy: &Remedy, complaint: &Complaint) -> bool {
        let (design, fails) = (self.design, self.fails);
        if self.known.len() >= MOST_TRIALS && !self.known.contains_key(&remedy.changes) {
            return false;
        }
        let trial = self.known.entry(remedy.changes.clone()).or_insert_with(|| Trial::of(design, remedy));
        trial.as_ref().is_some_and(|trial| trial.fails() <= fails && trial.is_rid_of(complaint))
    }
}

impl Trial {
    fn of(design: &Design, remedy: &Remedy) -> Option<Trial> {
        let mut changed = design.clone();
        if !decisions::set_all(&mut changed, &remedy.changes).is_empty() {
            return None;
        }
        let model = derive(&changed).ok()?;
        let solids = ShapeCache::default().shape(&model);
        let inspected = found(&changed, &model, &solids);
        Some(Trial { design: changed, model, solids, inspected, seasons: OnceCell::new(), order: OnceCell::new() })
    }

    fn fails(&self) -> usize {
        self.inspected.iter().filter(|finding| finding.seriousness == Seriousness::WillFail).count()
    }

    fn is_rid_of(&self, complaint: &Complaint) -> bool {
        let heard = |finding: &Finding| complaint.is_heard(finding, &self.model);
        match complaint.rule {
            Rule::LockedOut => {
                let order = self.order.get_or_init(|| Sequence::of(&self.design, &self.model, &self.solids));
                let kinds = order.locked.iter().flat_map(|locked| &locked.parts).map(|part| self.model.part(*part).kind);
                !kinds.into_iter().any(|kind| Some(kind) == complaint.kind)
            }
            Rule::Season => {
                let found = || seasons::findings(&self.design, &self.model, &self.solids, &self.inspected);
                !self.seasons.get_or_init(found).iter().any(heard)
            }
            _ => !self.inspected.iter().any(heard),
        }
    }
}
