//! Changes of a design that are tried on the whole of it: what becomes of a finding, and what comes that was not there before.

use std::cell::OnceCell;
use std::collections::HashMap;
use std::rc::Rc;

use crate::contents;
use crate::derive::derive;
use crate::design::{Design, decisions};
use crate::inspect::{Finding, Gaps, Rule, Seriousness, found, found_of};
use crate::model::{Model, PartKind};
use crate::seasons;
use crate::sequence::{Sequence, verify};
use crate::shapes::{ShapeCache, Solids};

/// Decisions and their new values, as a remedy has them.
pub(super) type Changes = [(String, String)];

/// So many designs are tried at most for the remedies that the checks offer, and so many again where remedies are sought: a case with more to mend than these
/// find is to be mended elsewhere first.
const MOST_TRIALS: usize = 64;

/// So many of them are put together in order too, which takes longest.
const MOST_ORDERS: usize = 12;
/// In so many of them everything that must be held is given its place.
const MOST_PLACED: usize = 32;

/// Designs that are tried, each once.
pub(super) struct Trials<'d> {
    design: &'d Design,
    /// What is found in the design as it is.
    before: Vec<Known>,
    base: Rc<Base>,
    known: HashMap<Vec<(String, String)>, Option<Trial>>,
    /// How many of them were tried in search of a remedy.
    sought: usize,
}

impl<'d> Trials<'d> {
    pub fn of(design: &'d Design, (model, solids, order): (&Model, &Solids, &Sequence), findings: &[Finding]) -> Trials<'d> {
        let before = findings.iter().map(|finding| Known::of(finding, model)).collect();
        let names = model.parts.iter().map(|part| part.name.clone()).collect();
        let base = Base { solids: ShapeCache::of(solids), gaps: Rc::default(), names, order: order.clone() };
        Trials { design, before, base: Rc::new(base), known: HashMap::new(), sought: 0 }
    }

    /// The case after the changes of a remedy, where they give one and there is still time to try it.
    pub fn tried(&mut self, changes: &Changes) -> Option<&Trial> {
        let room = self.known.len() - self.sought < MOST_TRIALS;
        self.known_or_tried(changes, room)
    }

    /// The same in search of a remedy.
    pub fn sought(&mut self, changes: &Changes) -> Option<&Trial> {
        let room = self.sought < MOST_TRIALS;
        self.sought += usize::from(room && !self.known.contains_key(changes));
        self.known_or_tried(changes, room)
    }

    fn known_or_tried(&mut self, changes: &Changes, room: bool) -> Option<&Trial> {
        if room && !self.known.contains_key(changes) {
            let trial = Trial::of(self.design, changes, &self.base);
            self.known.insert(changes.to_vec(), trial);
        }
        self.known.get(changes)?.as_ref()
    }

    /// What the checks find in a case after some changes that is at least so serious and was not found before; none where the case was not tried.
    pub fn checked(&self, changes: &Changes, at_least: Seriousness) -> Option<Vec<Finding>> {
        let trial = self.known.get(changes)?.as_ref()?;
        Some(self.not_known(trial, trial.inspected(), at_least))
    }

    /// The same with what binds or is locked out, which is looked for where the checks find nothing.
    pub fn brought(&mut self, changes: &Changes, at_least: Seriousness) -> Option<Vec<Finding>> {
        self.tried(changes)?;
        let mut found = self.checked(changes, at_least)?;
        found.extend(self.without_place(changes, at_least));
        let orders = self.known.values().flatten().filter(|trial| trial.order.get().is_some()).count();
        let trial = self.known.get(changes)?.as_ref()?;
        if !found.is_empty() || (orders >= MOST_ORDERS && trial.order.get().is_none()) {
            return Some(found);
        }
        Some(self.not_known(trial, trial.on_the_way(), at_least))
    }

    /// What has no place after some changes and had one before.
    fn without_place(&self, changes: &Changes, at_least: Seriousness) -> Vec<Finding> {
        let Some(Some(trial)) = self.known.get(changes) else { return Vec::new() };
        let placed = self.known.values().flatten().filter(|trial| trial.placed.get().is_some()).count();
        if at_least < Seriousness::AtRisk || (placed >= MOST_PLACED && trial.placed.get().is_none()) {
            return Vec::new();
        }
        self.not_known(trial, trial.without_place(), at_least)
    }

    /// Those of the findings of a case that are at least so serious and not of the design as it is.
    fn not_known(&self, trial: &Trial, findings: &[Finding], at_least: Seriousness) -> Vec<Finding> {
        let new = findings.iter().filter(|finding| finding.seriousness <= at_least && !self.is_known(finding, &trial.model));
        new.cloned().collect()
    }

    /// Whether the design as it is has a finding that is at least as grave and says as much of the same parts.
    fn is_known(&self, finding: &Finding, model: &Model) -> bool {
        let after = Known::of(finding, model);
        let same = |before: &&Known| before.rule == after.rule && before.words == after.words && before.seriousness <= after.seriousness;
        let mut names = self.before.iter().filter(same).peekable();
        if names.peek().is_none() {
            return false;
        }
        let names: Vec<&String> = names.flat_map(|before| &before.names).collect();
        after.names.iter().all(|name| names.contains(&name))
    }
}

/// The design as it is, as far as those that are tried are like it.
struct Base {
    /// Its solids, of which most are those of the designs tried.
    solids: ShapeCache,
    /// The gaps between cuts that were measured so far.
    gaps: Rc<Gaps>,
    /// The names of its parts, in their order.
    names: Vec<String>,
    order: Sequence,
}

/// A finding, in what holds of it in another design too.
pub(super) struct Known {
    rule: Rule,
    seriousness: Seriousness,
    /// What tells it from others of its rule that are about the same parts.
    words: Option<String>,
    /// The names of its parts.
    names: Vec<String>,
    /// What the part is that it names first.
    kind: Option<PartKind>,
}

impl Known {
    pub fn of(finding: &Finding, model: &Model) -> Known {
        let parts = finding.parts.iter().map(|part| model.part(*part));
        let words = match finding.rule {
            // A joint may break one rule and then another.
            Rule::JointRule => finding.message.split(": ").nth(1).and_then(|rest| rest.split(';').next()),
            // These name no parts.
            _ if finding.parts.is_empty() => finding.message.split(':').next(),
            _ => None,
        };
        Known {
            rule: finding.rule,
            seriousness: finding.seriousness,
            words: words.map(str::to_owned),
            names: parts.clone().map(|part| part.name.clone()).collect(),
            kind: parts.map(|part| part.kind).next(),
        }
    }

    /// Whether a finding of another design says the same of some of the parts: of two of them, where both are about how two go together.
    fn is_heard(&self, finding: &Finding, model: &Model) -> bool {
        let other = Known::of(finding, model);
        if other.rule != self.rule || other.words != self.words {
            return false;
        }
        let named = other.names.iter().filter(|name| self.names.contains(name)).count();
        named >= self.names.len().min(other.names.len()).min(2)
    }
}

/// A design that was tried; what takes long is found when it is asked for.
pub(super) struct Trial {
    design: Design,
    model: Model,
    base: Rc<Base>,
    solids: OnceCell<Solids>,
    inspected: OnceCell<Vec<Finding>>,
    seasons: OnceCell<Vec<Finding>>,
    placed: OnceCell<Option<Finding>>,
    order: OnceCell<Sequence>,
    on_the_way: OnceCell<Vec<Finding>>,
}

impl Trial {
    fn of(design: &Design, changes: &Changes, base: &Rc<Base>) -> Option<Trial> {
        let mut changed = design.clone();
        if !decisions::set_all(&mut changed, changes).is_empty() || !decisions::check(&changed).is_empty() {
            return None;
        }
        let model = derive(&changed).ok()?;
        Some(Trial {
            design: changed,
            model,
            base: Rc::clone(base),
            solids: OnceCell::new(),
            inspected: OnceCell::new(),
            seasons: OnceCell::new(),
            placed: OnceCell::new(),
            order: OnceCell::new(),
            on_the_way: OnceCell::new(),
        })
    }

    fn order(&self) -> &Sequence {
        self.order.get_or_init(|| Sequence::whether_it_goes_together(&self.design, &self.model, self.solids()))
    }

    fn solids(&self) -> &Solids {
        self.solids.get_or_init(|| self.base.solids.clone().shape(&self.model))
    }

    fn inspected(&self) -> &[Finding] {
        self.inspected.get_or_init(|| found(&self.design, &self.model, self.solids(), &self.base.gaps))
    }

    /// Whether the check of a rule alone says what `heard` hears: then it is not gone, and nothing else need be looked at. What is recorded of parts may have
    /// other checks speak for it.
    fn is_said_at_once(&self, rule: Rule, heard: impl Fn(&Finding) -> bool) -> bool {
        let plain = self.inspected.get().is_none() && self.design.shop.parts.is_empty();
        let said = plain.then(|| found_of(rule, &self.design, &self.model, &self.base.gaps)).flatten();
        said.is_some_and(|said| said.iter().any(heard))
    }

    fn without_place(&self) -> &[Finding] {
        let without = || contents::without_place(&self.design, &self.model).map(|(_, finding)| finding);
        self.placed.get_or_init(without).as_slice()
    }

    fn seasons(&self) -> &[Finding] {
        self.seasons.get_or_init(|| seasons::findings(&self.design, &self.model, self.solids(), self.inspected()))
    }

    /// Whether the parts are those of the design as it is, and go together in the very order in which those do: then no more is locked out.
    fn goes_together_as_before(&self) -> bool {
        let same = self.model.parts.iter().map(|part| &part.name).eq(&self.base.names);
        self.order.get().is_none() && same && verify(&self.model, self.solids(), &self.base.order).is_empty()
    }

    /// What binds in a season, and what can't be put in.
    fn on_the_way(&self) -> &[Finding] {
        self.on_the_way.get_or_init(|| {
            if self.goes_together_as_before() {
                return self.seasons().to_vec();
            }
            let order = crate::sequence::findings(self.order(), &self.model, &self.design.shop.glue);
            let locked = order.into_iter().filter(|finding| finding.rule == Rule::LockedOut);
            self.seasons().iter().cloned().chain(locked).collect()
        })
    }

    /// Whether a finding is no longer there.
    pub fn is_rid_of(&self, known: &Known) -> bool {
        let heard = |finding: &Finding| known.is_heard(finding, &self.model);
        match known.rule {
            Rule::LockedOut => {
                let kinds = self.order().locked.iter().flat_map(|locked| &locked.parts).map(|part| self.model.part(*part).kind);
                !kinds.into_iter().any(|kind| Some(kind) == known.kind)
            }
            Rule::Season => !self.seasons().iter().any(heard),
            rule => !self.is_said_at_once(rule, heard) && !self.inspected().iter().any(heard),
        }
    }
}
