//! Joints in parts that are cut, against those that are planned now.
//!
//! What was cut is written down when a part becomes cut. When a sheet measures other than planned, or a decision changes, the cuts
//! that are planned now may be larger than those that are there, or lie elsewhere. A part that is too short may stand so that they lie
//! right: its gap is then at its first end.

use std::collections::BTreeSet;

use super::engagement;
use super::milled::lacking;
use super::panels::RATTLES;
use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, small};
use crate::derive::recorded::{Matched, SAME, cut_parts, goes_where_it_is_put, kind, matters};
use crate::design::shop::{PartRecord, State};
use crate::design::{Design, Dimension};
use crate::joint::JointKind;
use crate::length::trimmed_to;
use crate::model::{Cut, Feature, Joint, JointId, Model, Part, PartId, PrismBox};
use crate::sentence::capital;

/// A cut that is deeper than planned by more than this is told, mm: as much room again as is left at the bottom of a loose part (common practice, no
/// source).
const DEEPER: f64 = 0.5;

/// Every part whose cuts are other than planned now; parts that are wrong alike are told together.
pub(super) fn check(design: &Design, model: &Model) -> Vec<Finding> {
    let mut groups: Vec<(Vec<&Part>, Compared, Vec<JointId>)> = Vec::new();
    for (part, record) in cut_parts(design, model) {
        let compared = compare(model, part, record);
        if compared.is_right() {
            continue;
        }
        let joints = compared.joints.clone();
        match groups.iter_mut().find(|(first, known, _)| first[0].state == part.state && known.says_the_same(&compared)) {
            Some((parts, _, all)) => {
                parts.push(part);
                all.extend(joints);
            }
            None => groups.push((vec![part], compared, joints)),
        }
    }
    groups.iter().map(|(parts, compared, joints)| finding(model, parts, compared, joints)).collect()
}

/// The parts whose cuts are other than planned now.
pub(super) fn wrong<'m>(design: &'m Design, model: &'m Model) -> impl Iterator<Item = &'m Part> {
    cut_parts(design, model).filter(move |(part, record)| !compare(model, part, record).is_right()).map(|(part, _)| part)
}

/// Whether the cuts of all parts of these names are as planned.
pub(crate) fn are_right(design: &Design, model: &Model, parts: &[&str]) -> bool {
    wrong(design, model).all(|part| !parts.contains(&part.name.as_str()))
}

/// How the cuts that are there stand to those that are planned.
#[derive(Default)]
struct Compared {
    /// What is wrong, each with the amount, mm, and whether taking more wood away mends it.
    wrong: Vec<(String, f64, bool)>,
    /// Cuts with too much room, each with how much, mm.
    loose: Vec<(String, f64)>,
    /// Cuts that go deeper than planned, each by how much, mm.
    deep: Vec<(String, f64)>,
    /// What is planned and not there.
    missing: Vec<String>,
    /// What is there and not planned.
    idle: Vec<String>,
    /// Whether the cuts of a row follow each other at another pitch: nothing mends that but a new part.
    row_is_off: bool,
    /// The joints whose cuts are wrong.
    joints: Vec<JointId>,
}

impl Compared {
    fn is_right(&self) -> bool {
        self.wrong.is_empty() && self.loose.is_empty() && self.deep.is_empty() && self.missing.is_empty() && self.idle.is_empty()
    }

    fn seriousness(&self) -> Seriousness {
        if !self.wrong.is_empty() {
            Seriousness::WillFail
        } else if !self.loose.is_empty() {
            Seriousness::AtRisk
        } else {
            Seriousness::Note
        }
    }

    /// What there is to say, each thing once.
    fn words(&self) -> BTreeSet<String> {
        let wrong = self.wrong.iter().map(|(what, by, _)| format!("{what} by {}", exact(*by)));
        let loose = self.loose.iter().map(|(what, by)| format!("{} loose, by {}", is(what), exact(*by)));
        let deep = self.deep.iter().map(|(what, by)| format!("{} deeper, by {}", is(what), exact(*by)));
        let counted = [(&self.missing, "still to be cut"), (&self.idle, "there for nothing")];
        let counted = counted.into_iter().filter(|(cuts, _)| !cuts.is_empty()).map(|(cuts, what)| {
            let names: BTreeSet<&str> = cuts.iter().map(String::as_str).collect();
            let names: Vec<&str> = names.into_iter().collect();
            format!("{} {what} ({})", count(cuts.len()), names.join(", "))
        });
        wrong.chain(loose).chain(deep).chain(counted).collect()
    }

    fn says_the_same(&self, other: &Compared) -> bool {
        self.seriousness() == other.seriousness() && self.words() == other.words()
    }
}

/// "a mortise is", "an open mortise is", "rounded edges are".
fn is(cut: &str) -> String {
    match cut {
        "teeth" | "rounded edges" | "rounded ends" => format!("{cut} are"),
        _ if cut.starts_with(['a', 'e', 'i', 'o', 'u']) => format!("an {cut} is"),
        _ => format!("a {cut} is"),
    }
}

fn count(count: usize) -> String {
    if count == 1 { "1 cut is".to_owned() } else { format!("{count} cuts are") }
}

/// A small length with as many digits as a fit takes.
fn exact(mm: f64) -> String {
    if mm < 0.005 { small(mm) } else { format!("{} mm", trimmed_to(mm, 2)) }
}

/// The cuts of a part against those planned, as it stands best.
fn compare(model: &Model, part: &Part, record: &PartRecord) -> Compared {
    compare_at(model, part, record, stands_off(model, part, record))
}

/// How far from its planned place at the first end a part stands best, mm: by what it lacks in length where its cuts then lie
/// better than flush at the first end, else not at all.
pub(crate) fn stands_off(model: &Model, part: &Part, record: &PartRecord) -> f64 {
    let Some(short) = lacking(part, Dimension::Length) else { return 0.0 };
    let wrong = |off: f64| compare_at(model, part, record, off).wrong.len();
    if wrong(short) < wrong(0.0) { short } else { 0.0 }
}

/// The cuts of a part against those planned, where it stands so far from its planned place at the first end.
fn compare_at(model: &Model, part: &Part, record: &PartRecord, off: f64) -> Compared {
    let matched = Matched::of(part, record, off);
    let mut compared = Compared::default();
    for ((cut, now), met) in matched.planned.iter().zip(&matched.met) {
        match met.map(|place| &matched.there[place]) {
            Some(then) if now.unlike(then) > SAME => judge(model, part, cut, (now, then), &mut compared),
            Some(_) => {}
            None if goes_where_it_is_put(model, part.id, cut) => {}
            None => compared.missing.push(kind(&now.0).to_owned()),
        }
    }
    compared.idle = matched.idle().map(|cut| kind(&cut.0).to_owned()).collect();
    compared
}

/// A cut that is there and other than planned: whether what goes into it still does.
fn judge(model: &Model, part: &Part, cut: &Cut, (now, then): (&PrismBox, &PrismBox), compared: &mut Compared) {
    if goes_where_it_is_put(model, part.id, cut) {
        return;
    }
    let wrong = compared.wrong.len();
    judge_in(model, cut, now, then, compared);
    if compared.wrong.len() > wrong {
        compared.joints.extend(cut.joint);
        // Teeth are cut for all the cleats that lie in them.
        let lie_in = |joint: &&Joint| joint.b == part.id && matches!(joint.kind, JointKind::Seat(_));
        compared.joints.extend(model.joints_of(part.id).filter(lie_in).filter(|_| now.row().is_some()).map(|joint| joint.id));
    }
}

fn judge_in(model: &Model, cut: &Cut, now: &PrismBox, then: &PrismBox, compared: &mut Compared) {
    let joint = cut.joint.map(|joint| model.joint(joint));
    if let (Feature::Groove { face, .. }, Some(joint)) = (&cut.feature, joint)
        && let JointKind::Groove(_) = joint.kind
    {
        let panel = model.part(joint.a);
        groove(face.axis(), (panel.size[2].mm, engagement::reach(model, joint)), now, then, compared);
        return;
    }
    if let Some((what, by)) = now.out_of_step(then).filter(|(_, by)| *by > SAME) {
        compared.wrong.push((format!("{what} off"), by, false));
        compared.row_is_off = true;
        return;
    }
    // A mortise or a hole that is deeper than it need be does no harm.
    let pocket = match &cut.feature {
        Feature::Mortise { face, .. } | Feature::Hole { face, .. } => Some(face.axis()),
        _ => None,
    };
    let judged = |axis: &usize| matters(model, cut, *axis);
    let beyond = |outer: &PrismBox, inner: &PrismBox| {
        (0..3).filter(judged).map(|axis| outer.beyond_on(inner, axis)).fold(f64::NEG_INFINITY, f64::max)
    };
    let (by, what) = (beyond(now, then), kind(&now.0));
    if by > SAME {
        let more_mends = beyond(then, now) <= SAME;
        let how = if more_mends { "too small" } else { "off" };
        compared.wrong.push((format!("{} {how}", is(what)), by, more_mends));
        return;
    }
    // A cleat lies on the lower edge of its bevels: what is more of them than need be harms nothing.
    if matches!(cut.feature, Feature::Bevel { .. }) {
        return;
    }
    let sides = (0..3).filter(judged).filter(|axis| pocket.is_none_or(|deep| deep != *axis));
    let room = sides.map(|axis| then.extent(axis) - now.extent(axis)).fold(0.0, f64::max);
    if room > RATTLES {
        compared.loose.push((what.to_owned(), room));
    }
    let deeper = pocket.map_or(0.0, |deep| then.extent(deep) - now.extent(deep));
    if deeper > DEEPER {
        compared.deep.push((what.to_owned(), deeper));
    }
}

/// A groove takes its panel when it is at least as wide, whatever fit is wanted, and deeper than the panel reaches into it; `deep` is the axis of its depth.
fn groove(deep: usize, (thickness, reach): (f64, f64), now: &PrismBox, then: &PrismBox, compared: &mut Compared) {
    let across = 3 - deep;
    let room = then.extent(across) - thickness;
    let aside = (now.1[across] + now.2[across] - then.1[across] - then.2[across]).abs() / 2.0;
    let name = "groove for a panel";
    let what = format!("a {name}");
    let too_narrow = format!("{what} is too narrow");
    if room < -TOUCH {
        compared.wrong.push((too_narrow.clone(), -room, aside <= SAME));
    } else if aside > room / 2.0 + SAME {
        compared.wrong.push((format!("{what} lies aside"), aside, false));
    } else if room > RATTLES {
        compared.loose.push((name.to_owned(), room));
    }
    let deep_enough = engagement::is_deep_enough(then.extent(deep), reach);
    let axes = (0..3).filter(|axis| *axis != across && !(*axis == deep && deep_enough));
    let short = axes.flat_map(|axis| [then.1[axis] - now.1[axis], now.2[axis] - then.2[axis]]).fold(0.0, f64::max);
    // One that is too narrow is cut anew, as long and as deep as it should be.
    if short > SAME && compared.wrong.iter().all(|(wrong, ..)| *wrong != too_narrow) {
        compared.wrong.push((format!("{what} is too short or too shallow"), short, true));
    }
    let deeper = then.extent(deep) - now.extent(deep);
    if deeper > DEEPER {
        compared.deep.push((name.to_owned(), deeper));
    }
}

fn finding(model: &Model, parts: &[&Part], compared: &Compared, joints: &[JointId]) -> Finding {
    let first = parts[0];
    let words: Vec<_> = compared.words().into_iter().collect();
    let who = match parts.len() {
        1 => format!("{} was cut", first.title),
        more => format!("{} and {} more were cut", first.title, more - 1),
    };
    let slight = compared.loose.iter().chain(&compared.deep).map(|(_, by)| *by);
    let worst = compared.wrong.iter().map(|(_, by, _)| *by).chain(slight).fold(0.0, f64::max);
    Finding {
        rule: Rule::CutsStillRight,
        seriousness: if first.state == State::Glued && !compared.missing.is_empty() {
            // What is planned can't be cut at the bench any more.
            compared.seriousness().min(Seriousness::AtRisk)
        } else {
            compared.seriousness()
        },
        parts: parts.iter().map(|part| part.id).collect(),
        explains: joints.iter().flat_map(|joint| pairs_of(model, *joint)).collect(),
        joint: None,
        place: Some(first.block().centre()),
        figures: vec![Figure::mm("differs by", worst), Figure::count("parts", parts.len() as u32)],
        message: format!("{who} otherwise than planned now: {}", words.join("; ")),
        source: "geometry; loose above 0.4 mm: common practice, no source",
        remedies: remedies(parts, compared),
    }
}

/// All that goes together in a joint.
fn pairs_of(model: &Model, joint: JointId) -> Vec<(PartId, PartId)> {
    let joint = model.joint(joint);
    let loose = joint.loose.iter().flat_map(|loose| [(joint.a, *loose), (joint.b, *loose)]);
    std::iter::once((joint.a, joint.b)).chain(loose).collect()
}

/// What mends a cut that is planned in what is glued together already; whether a tool gets to it is seen with the order of assembly.
pub(crate) const CUT_AS_IT_STANDS: &str = "Cut it in the case as it stands, and write it down when it is cut";

/// What mends the cuts at the bench. The decisions for which they were right are sought with the whole dry fit.
fn remedies(parts: &[&Part], compared: &Compared) -> Vec<Remedy> {
    let changes = |what: &str| parts.iter().map(|part| (format!("made.{}.{what}", part.name), "planned".to_owned())).collect::<Vec<_>>();
    // Nothing is cut into what is glued, or made anew of it.
    let glued = parts.iter().any(|part| part.state == State::Glued);
    let is_note = compared.seriousness() == Seriousness::Note;
    let mut remedies = Vec::new();
    if !glued && !compared.row_is_off {
        remedies.push(Remedy { words: at_the_bench(compared), changes: changes("cuts") });
    } else if is_note && compared.missing.is_empty() {
        remedies.push(Remedy { words: "Take it as right".to_owned(), changes: changes("cuts") });
    } else if glued && !compared.missing.is_empty() && compared.wrong.is_empty() {
        remedies.push(Remedy { words: CUT_AS_IT_STANDS.to_owned(), changes: changes("cuts") });
    }
    if compared.wrong.iter().any(|(what, ..)| what.ends_with("too narrow")) {
        let words = "Rabbet the back of the panel's edges to go into the grooves that are there".to_owned();
        remedies.push(Remedy { words, changes: Vec::new() });
    }
    if !(glued || is_note && compared.deep.is_empty() && compared.idle.is_empty()) {
        let words = if parts.len() == 1 { "Make it new" } else { "Make them new" };
        remedies.push(Remedy { words: words.to_owned(), changes: changes("state") });
    }
    remedies
}

/// What is to be plugged, filled and cut, so that the cuts are those that are planned.
fn at_the_bench(compared: &Compared) -> String {
    let off = compared.wrong.iter().any(|(_, _, more_mends)| !more_mends);
    let small = compared.wrong.iter().any(|(_, _, more_mends)| *more_mends);
    let done = [
        (!compared.idle.is_empty(), "plug what is there for nothing"),
        (off, "plug what lies wrong and cut it anew"),
        (!compared.loose.is_empty(), "glue slips into what is loose"),
        (!compared.deep.is_empty(), "fill up what is too deep"),
        (small, "cut to what is planned now"),
        (!compared.missing.is_empty(), "make the cuts that are missing"),
    ];
    let done: Vec<&str> = done.into_iter().filter(|(wanted, _)| *wanted).map(|(_, words)| words).collect();
    format!("{}, and write it down", capital(&done.join(", ")))
}
