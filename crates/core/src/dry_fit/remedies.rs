//! Remedies sought where the checks offer none: for loose parts that bind, are locked out or stand in others more room round them, another tooth, rails set
//! back less; for joints and walls their sizes, by rule or step by step. Each is tried on the whole design before it is offered.

mod sizes;

use super::trials::{Known, Trials};
use crate::design::edit::HIGHEST_TOOTH;
use crate::design::{Design, decisions};
use crate::inspect::{Finding, Remedy, Rule};
use crate::length::trimmed_to;
use crate::model::{Model, PartKind};
use crate::sentence::capital;

/// Room and set-backs are offered in steps of so much, mm.
const STEP: f64 = 0.5;
/// Sizes of parts are offered in steps of so much, mm.
const WHOLE: f64 = 1.0;
/// The steps of a length that are tried, the least change first; between the last that does not mend and the first that does the least is sought.
const STEPS: [usize; 7] = [1, 2, 4, 8, 16, 32, 64];
/// So many other teeth are tried for a shelf.
const TEETH: usize = 8;

/// A remedy with what it brings that was not there before.
pub(super) type Costly = (Remedy, Vec<Finding>);

/// What mends a finding and brings nothing as serious, of those decisions that its parts and its joints rest on; where nothing does, the first that mends it
/// with what it brings.
pub(super) fn sought(trials: &mut Trials<'_>, design: &Design, model: &Model, finding: &Finding) -> (Vec<Remedy>, Option<Costly>) {
    let mut search = Search { trials, known: Known::of(finding, model), finding, costly: None };
    let found = match finding.rule {
        Rule::Overlap | Rule::LockedOut | Rule::Season => {
            let knobs = knobs(design, model, finding);
            let mut found = search.each(&knobs);
            if found.is_empty() {
                found.extend(search.both(&knobs));
            }
            if found.is_empty() {
                found.extend(search.first(&less_knobs(design, model, finding)));
            }
            if found.is_empty() && finding.rule == Rule::Overlap {
                found.extend(search.first(&sizes::of_parts(design, model, finding)));
            }
            found
        }
        _ => {
            let back = sizes::by_rule(design, model, finding).into_iter().find(|remedy| search.mends(remedy));
            let sizes = |search: &mut Search<'_, '_, '_>| search.first(&sizes::knobs(design, model, finding));
            let found = back.or_else(|| sizes(&mut search));
            found.or_else(|| search.first(&less_knobs(design, model, finding))).into_iter().collect()
        }
    };
    (found, search.costly)
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
            let last = self.values.len().checked_sub(1);
            let mut tried: Vec<usize> = STEPS.map(|step| step - 1).into_iter().filter(|at| *at < self.values.len()).chain(last).collect();
            tried.dedup();
            tried
        } else {
            (0..self.values.len()).collect()
        }
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
    let inside = [PartKind::Standard, PartKind::Cleat, PartKind::Slat, PartKind::Shelf].into_iter().any(has);
    if inside && [PartKind::Panel, PartKind::Rail].into_iter().any(has) {
        knobs.extend(steps(design, "carcase.rails.reveal", -STEP, "set the rails back {} mm"));
    }
    let room = [
        (PartKind::Floor, "carcase.bottom.clearance", "leave {} mm all round each piece of the floor"),
        (PartKind::Slat, "sawtooth.slats.play", "leave {} mm at each end of the slats and round what they are notched for"),
        (PartKind::Shelf, "shelf.room", "leave {} mm for the solid shelves to grow"),
        (PartKind::Shelf, "shelf.play", "leave {} mm at each end of the solid shelves"),
        (PartKind::Cleat, "sawtooth.cleat.play", "make the cleats {} mm shorter than from riser to riser"),
    ];
    for (kind, path, words) in room {
        if has(kind) {
            knobs.extend(steps(design, path, STEP, words));
        }
    }
    knobs
}

/// Sizes of the parts of a finding that may be less, or of what they stand at that may be more: where more room does not mend.
fn less_knobs(design: &Design, model: &Model, finding: &Finding) -> Vec<Knob> {
    let parts = || finding.parts.iter().take(sizes::NAMED).map(|part| model.part(*part));
    let has = |kind: PartKind| parts().any(|part| part.kind == kind);
    let mut knobs: Vec<Knob> = Vec::new();
    let mut knob = |path: &str, step: f64, words: &str| knobs.extend(steps(design, path, step, words));
    match finding.rule {
        Rule::Overlap | Rule::Season | Rule::LockedOut => {
            if has(PartKind::Standard) {
                knob("sawtooth.thickness", -WHOLE, "make the standards {} mm thick");
            }
            if finding.rule == Rule::LockedOut && has(PartKind::Floor) {
                knob("housed.stop", -WHOLE, "stop the housings {} mm behind the front of the shelves");
            }
            if has(PartKind::Button) {
                knob("carcase.top.buttons.length", -WHOLE, "make the buttons {} mm long");
            }
            for path in parts().filter(|part| part.kind == PartKind::CrossRail).flat_map(|part| part.size[1].decisions()) {
                knob(path, -WHOLE, "make the cross rails {} mm high");
            }
            if finding.rule == Rule::Season && has(PartKind::LooseTenon) {
                let joint = model.joints.iter().find(|joint| joint.loose.iter().any(|loose| finding.parts.contains(loose)));
                if let Some(path) = joint.and_then(crate::joint::sizes_path) {
                    knob(
                        &format!("{path}.depth_in_end"),
                        STEP,
                        "cut the mortises for these tenons {} mm deep in the end or edge that comes up",
                    );
                    knob(&format!("{path}.fit"), TENTH, "leave the tenons {} mm of room in thickness");
                }
            }
            if [PartKind::Standard, PartKind::Cleat, PartKind::Slat].into_iter().any(has) {
                knob("carcase.post.width", WHOLE, "make the posts {} mm wide");
                knob("carcase.post.depth", WHOLE, "make the posts {} mm deep");
            }
        }
        Rule::CleatBears => knob("sawtooth.cleat.play", -STEP, "make the cleats {} mm shorter than from riser to riser"),
        Rule::MortiseBreaksOut if has(PartKind::Standard) => {
            knob("sawtooth.backing", STEP, "leave {} mm of the standards behind the seats");
        }
        Rule::MortiseBreaksOut | Rule::MortisesMeet | Rule::MortiseCheek | Rule::GrooveLeavesWood | Rule::JointRule => {
            if has(PartKind::Post) {
                knob("carcase.post.width", WHOLE, "make the posts {} mm wide");
                knob("carcase.post.depth", WHOLE, "make the posts {} mm deep");
                knob("carcase.rails.reveal", -WHOLE, "set the rails back {} mm");
                if finding.rule == Rule::MortiseCheek {
                    knob("carcase.rails.reveal", WHOLE, "set the rails back {} mm");
                }
            }
            let uprights = parts().filter(|part| matches!(part.kind, PartKind::Stile | PartKind::Muntin));
            for path in uprights.flat_map(|part| part.size[1].decisions()).filter(|path| path.ends_with(".divider.width")) {
                knob(path, WHOLE, "make the divider {} mm wide");
            }
        }
        Rule::ShelfBears if has(PartKind::Pin) => {
            knob("carcase.post.depth", WHOLE, "make the posts {} mm deep");
            knob("pins.diameter", -WHOLE, "take pins of {} mm");
        }
        Rule::SlatBears => {
            knob("sawtooth.seat", -WHOLE, "make the seats {} mm deep");
            knob("carcase.post.depth", -WHOLE, "make the posts {} mm deep");
        }
        _ => {}
    }
    knobs
}

/// Fits are offered in steps of so much, mm.
const TENTH: f64 = 0.1;

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

/// Another level for a shelf whose boards, cleats or pins stand in those of another: the nearest ones first.
fn other_tooth(design: &Design, model: &Model, finding: &Finding) -> Option<Knob> {
    let shelf_of = |name: &str| {
        let mut words = name.split('.');
        let (kind, bay, shelf) = (words.next()?, words.next()?, words.next()?);
        matches!(kind, "slat" | "cleat" | "shelf" | "pin").then(|| (bay.to_owned(), shelf.to_owned()))
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
    let levels = bay.parse::<usize>().ok().and_then(|bay| model.bays.get(bay.checked_sub(1)?)?.teeth);
    let one = levels.map_or("tooth", |levels| levels.kind.words().0);
    let words = format!("put shelf {shelf} of bay {bay} on {one} {{}}");
    Some(Knob { path, values: teeth.map(f64::from).collect(), farther_too: false, words })
}

/// The search for what mends a finding.
struct Search<'t, 'd, 'f> {
    trials: &'t mut Trials<'d>,
    known: Known,
    finding: &'f Finding,
    /// The first that mends it and brings another, which is no worse.
    costly: Option<Costly>,
}

impl Search<'_, '_, '_> {
    /// What each decision alone mends by the least change.
    fn each(&mut self, knobs: &[Knob]) -> Vec<Remedy> {
        knobs.iter().filter_map(|knob| self.least(knob, &[])).collect()
    }

    /// What the first of them that mends does.
    fn first(&mut self, knobs: &[Knob]) -> Option<Remedy> {
        knobs.iter().find_map(|knob| self.least(knob, &[]))
    }

    /// What the first two mend together.
    fn both(&mut self, knobs: &[Knob]) -> Option<Remedy> {
        let [first, second, ..] = knobs else { return None };
        first.values.iter().take(TEETH / 2).find_map(|value| self.least(second, &[(first, *value)]))
    }

    /// The least change of a decision, besides others, that mends and brings nothing.
    fn least(&mut self, knob: &Knob, besides: &[(&Knob, f64)]) -> Option<Remedy> {
        let made = |at: usize| remedy(&[besides, &[(knob, knob.values[at])]].concat());
        let (mut not, mut was_rid) = (None, false);
        for at in knob.tried() {
            if self.is_rid(&made(at)) {
                // What is as little as can be brings the least; where that brings another, what goes farther may not.
                let least = if knob.farther_too && !was_rid { between(not, at, &mut |at| self.is_rid(&made(at))) } else { at };
                was_rid = true;
                if self.mends(&made(least)) {
                    return Some(made(least));
                }
                if knob.farther_too && self.is_free(&made(at)) {
                    let least = between(Some(least), at, &mut |at| self.is_free(&made(at)));
                    if self.mends(&made(least)) {
                        return Some(made(least));
                    }
                }
            }
            not = Some(at);
        }
        None
    }

    fn is_rid(&mut self, remedy: &Remedy) -> bool {
        let known = &self.known;
        self.trials.sought(&remedy.changes).is_some_and(|trial| trial.is_rid_of(known))
    }

    /// Whether a remedy mends and the checks find nothing new that is as serious.
    fn is_free(&mut self, remedy: &Remedy) -> bool {
        let at_least = self.finding.seriousness;
        self.is_rid(remedy) && self.trials.checked(&remedy.changes, at_least).is_some_and(|brought| brought.is_empty())
    }

    /// Whether a remedy mends and brings nothing as serious, on the way there and in the seasons either.
    fn mends(&mut self, remedy: &Remedy) -> bool {
        let at_least = self.finding.seriousness;
        if !self.is_rid(remedy) {
            return false;
        }
        let Some(brought) = self.trials.brought(&remedy.changes, at_least) else { return false };
        let free = brought.is_empty();
        let worst = |brought: &[Finding]| brought.iter().map(|new| new.seriousness).min();
        if !free && worst(&brought) >= Some(at_least) && self.costly.as_ref().is_none_or(|(_, known)| worst(&brought) > worst(known)) {
            self.costly = Some((remedy.clone(), brought));
        }
        free
    }
}

/// The first place that does between one that does not and one that does.
fn between(not: Option<usize>, does: usize, at_place: &mut dyn FnMut(usize) -> bool) -> usize {
    let (mut low, mut high) = (not.map_or(0, |not| not + 1), does);
    while low < high {
        let middle = usize::midpoint(low, high);
        if at_place(middle) { high = middle } else { low = middle + 1 }
    }
    high
}

fn remedy(chosen: &[(&Knob, f64)]) -> Remedy {
    let words: Vec<String> = chosen.iter().map(|(knob, value)| knob.words.replace("{}", &trimmed_to(*value, 1))).collect();
    let changes = chosen.iter().map(|(knob, value)| (knob.path.clone(), trimmed_to(*value, 1))).collect();
    Remedy { words: capital(&words.join(", and ")), changes }
}
