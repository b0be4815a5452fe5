//! Joints in parts that are cut, against those that are planned now.
//!
//! What was cut is written down when a part becomes cut. When a sheet measures other than planned, or a decision changes, the cuts
//! that are planned now may be larger than those that are there, or lie elsewhere. A part that is too short may stand so that they lie
//! right: its gap is then at its first end.

use std::collections::BTreeSet;

use super::milled::lacking;
use super::panels::RATTLES;
use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, small};
use crate::design::shop::{PartRecord, State, cuts_of_one};
use crate::design::{Design, Dimension};
use crate::joint::JointKind;
use crate::length::trimmed_to;
use crate::model::{Cut, Feature, Model, Part, PrismBox};

/// Cuts that differ by no more than this are the same, mm: a bench can't tell.
const SAME: f64 = 0.05;

/// Every part whose cuts are other than planned now; parts that are wrong alike are told together.
pub(super) fn check(design: &Design, model: &Model) -> Vec<Finding> {
    let mut groups: Vec<(Vec<&Part>, Compared)> = Vec::new();
    for (part, record) in cut_parts(design, model) {
        let compared = compare(model, part, record);
        if compared.is_right() {
            continue;
        }
        match groups.iter_mut().find(|(first, known)| first[0].state == part.state && known.says_the_same(&compared)) {
            Some((parts, _)) => parts.push(part),
            None => groups.push((vec![part], compared)),
        }
    }
    groups.iter().map(|(parts, compared)| finding(parts, compared)).collect()
}

/// The parts whose cuts are other than planned now.
pub(super) fn wrong<'m>(design: &'m Design, model: &'m Model) -> impl Iterator<Item = &'m Part> {
    cut_parts(design, model).filter(move |(part, record)| !compare(model, part, record).is_right()).map(|(part, _)| part)
}

fn cut_parts<'m>(design: &'m Design, model: &'m Model) -> impl Iterator<Item = (&'m Part, &'m PartRecord)> {
    let records = design.shop.parts.iter().filter(|record| record.state.is_cut() && record.finished.is_some());
    records.filter_map(move |record| Some((model.find(&record.part)?, record)))
}

/// How the cuts that are there stand to those that are planned.
#[derive(Default)]
struct Compared {
    /// What is wrong, each with the amount, mm, and whether taking more wood away mends it.
    wrong: Vec<(String, f64, bool)>,
    /// Cuts with too much room, each with how much, mm.
    loose: Vec<(String, f64)>,
    /// What is planned and not there.
    missing: Vec<String>,
    /// What is there and not planned.
    idle: Vec<String>,
}

impl Compared {
    fn is_right(&self) -> bool {
        self.wrong.is_empty() && self.loose.is_empty() && self.missing.is_empty() && self.idle.is_empty()
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
        let counted = [(&self.missing, "still to be cut"), (&self.idle, "there for nothing")];
        let counted = counted.into_iter().filter(|(cuts, _)| !cuts.is_empty()).map(|(cuts, what)| {
            let names: BTreeSet<&str> = cuts.iter().map(String::as_str).collect();
            let names: Vec<&str> = names.into_iter().collect();
            format!("{} {what} ({})", count(cuts.len()), names.join(", "))
        });
        wrong.chain(loose).chain(counted).collect()
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
pub(super) fn stands_off(model: &Model, part: &Part, record: &PartRecord) -> f64 {
    let Some(short) = lacking(part, Dimension::Length) else { return 0.0 };
    let wrong = |off: f64| compare_at(model, part, record, off).wrong.len();
    if wrong(short) < wrong(0.0) { short } else { 0.0 }
}

/// Matches every planned cut to the one that is there and most like it, those that end alike before others, and the most alike first.
fn compare_at(model: &Model, part: &Part, record: &PartRecord, off: f64) -> Compared {
    let length = part.size[0].mm;
    let there: Vec<PrismBox> = record.cuts.iter().map(|cut| cut.moved_along(off, length)).collect();
    let planned: Vec<(&Cut, PrismBox)> =
        part.cuts.iter().flat_map(|cut| cuts_of_one(part, cut).into_iter().map(move |taken| (cut, taken))).collect();
    let mut pairs: Vec<(bool, f64, usize, usize)> = Vec::new();
    for (index, (_, now)) in planned.iter().enumerate() {
        for (place, then) in there.iter().enumerate() {
            if kind(&now.0) == kind(&then.0) {
                pairs.push((now.0 != then.0, now.unlike(then), index, place));
            }
        }
    }
    pairs.sort_by(|a, b| a.0.cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let (mut met, mut used) = (vec![false; planned.len()], vec![false; there.len()]);
    let mut compared = Compared::default();
    for (_, unlike, index, place) in pairs {
        if met[index] || used[place] {
            continue;
        }
        (met[index], used[place]) = (true, true);
        if unlike > SAME {
            let (cut, now) = &planned[index];
            judge(model, cut, now, &there[place], &mut compared);
        }
    }
    let left = |known: &[bool], names: &mut dyn Iterator<Item = &PrismBox>| -> Vec<String> {
        names.zip(known).filter(|(_, known)| !**known).map(|(cut, _)| kind(&cut.0).to_owned()).collect()
    };
    let accounted: Vec<bool> = met.iter().zip(&planned).map(|(met, (cut, _))| *met || goes_where_it_is_put(model, cut)).collect();
    compared.missing = left(&accounted, &mut planned.iter().map(|(_, now)| now));
    compared.idle = left(&used, &mut there.iter());
    compared
}

/// What it is, without how it ends.
fn kind(name: &str) -> &str {
    name.split(',').next().unwrap_or(name)
}

/// Whether a cut is made where what it is for is put on: the pilot holes in a top are.
fn goes_where_it_is_put(model: &Model, cut: &Cut) -> bool {
    cut.joint.is_some_and(|joint| matches!(model.joint(joint).kind, JointKind::ScrewedUp(_)))
}

/// A cut that is there and other than planned: whether what goes into it still does.
fn judge(model: &Model, cut: &Cut, now: &PrismBox, then: &PrismBox, compared: &mut Compared) {
    if goes_where_it_is_put(model, cut) {
        return;
    }
    let joint = cut.joint.map(|joint| model.joint(joint));
    if let (Feature::Groove { face, .. }, Some(joint)) = (&cut.feature, joint)
        && let JointKind::Groove(_) = joint.kind
    {
        groove(3 - face.axis(), model.part(joint.a), now, then, compared);
        return;
    }
    // A button goes where its slot is, and a mortise that is deeper than it need be does no harm.
    let pocket = if let Feature::Mortise { face, along, .. } = &cut.feature { Some((face.axis(), *along)) } else { None };
    let button = joint.is_some_and(|joint| matches!(joint.kind, JointKind::Button(_)));
    let judged = |axis: &usize| !(button && pocket.is_some_and(|(_, along)| along == *axis));
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
    let sides = (0..3).filter(judged).filter(|axis| pocket.is_none_or(|(deep, _)| deep != *axis));
    let room = sides.map(|axis| then.extent(axis) - now.extent(axis)).fold(0.0, f64::max);
    if room > RATTLES {
        compared.loose.push((what.to_owned(), room));
    }
}

/// A groove takes its panel when it is at least as wide, whatever fit is wanted; `across` is the axis of its width.
fn groove(across: usize, panel: &Part, now: &PrismBox, then: &PrismBox, compared: &mut Compared) {
    let thickness = panel.size[2].mm;
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
    let short =
        (0..3).filter(|axis| *axis != across).flat_map(|axis| [then.1[axis] - now.1[axis], now.2[axis] - then.2[axis]]).fold(0.0, f64::max);
    // One that is too narrow is cut anew, as long and as deep as it should be.
    if short > SAME && compared.wrong.iter().all(|(wrong, ..)| *wrong != too_narrow) {
        compared.wrong.push((format!("{what} is too short or too shallow"), short, true));
    }
}

fn finding(parts: &[&Part], compared: &Compared) -> Finding {
    let first = parts[0];
    let words: Vec<_> = compared.words().into_iter().collect();
    let who = match parts.len() {
        1 => format!("{} was cut", first.title),
        more => format!("{} and {} more were cut", first.title, more - 1),
    };
    let worst = compared.wrong.iter().map(|(_, by, _)| *by).chain(compared.loose.iter().map(|(_, by)| *by)).fold(0.0, f64::max);
    Finding {
        rule: Rule::CutsStillRight,
        seriousness: compared.seriousness(),
        parts: parts.iter().map(|part| part.id).collect(),
        explains: Vec::new(),
        joint: None,
        place: Some(first.block().centre()),
        figures: vec![Figure::mm("differs by", worst), Figure::count("parts", parts.len() as u32)],
        message: format!("{who} otherwise than planned now: {}", words.join("; ")),
        source: "geometry; loose above 0.4 mm: common practice, no source",
        remedies: remedies(parts, compared),
    }
}

fn remedies(parts: &[&Part], compared: &Compared) -> Vec<Remedy> {
    let changes = |what: &str| parts.iter().map(|part| (format!("made.{}.{what}", part.name), "planned".to_owned())).collect::<Vec<_>>();
    let glued = parts.iter().any(|part| part.state == State::Glued);
    let mut remedies = Vec::new();
    if compared.wrong.is_empty() && compared.loose.is_empty() {
        let words = if compared.missing.is_empty() { "Take it as right" } else { "Make the cuts that are missing, and write them down" };
        remedies.push(Remedy { words: words.to_owned(), changes: changes("cuts") });
        return remedies;
    }
    if compared.loose.is_empty() && compared.wrong.iter().all(|(_, _, more_mends)| *more_mends) {
        remedies.push(Remedy { words: "Cut to what is planned now, and write it down".to_owned(), changes: changes("cuts") });
    }
    if compared.wrong.iter().any(|(what, ..)| what.ends_with("too narrow")) {
        let words = "Rabbet the back of the panel's edges to go into the grooves that are there".to_owned();
        remedies.push(Remedy { words, changes: Vec::new() });
    }
    if !glued {
        let words = if parts.len() == 1 { "Make it new" } else { "Make them new" };
        remedies.push(Remedy { words: words.to_owned(), changes: changes("state") });
    }
    remedies
}
