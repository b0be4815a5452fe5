//! What sags too far, what is pressed too hard, and whether the case stands.

mod remedies;
mod standing;

pub(crate) use remedies::depth_of;
pub(crate) use standing::leaning_findings;

use super::proof::Proof;
use super::{Figure, Finding, Rule, Seriousness};
use crate::contents::HowHigh;
use crate::design::Design;
use crate::length::{trimmed_to, years};
use crate::loads::{Bending, Rest, RestWay, Sheared, Spans, Stress, UnderLoad, carries, on_a_label, whole};
use crate::model::{Material, Model, PartId, PartKind};
use crate::shapes::Solids;
use crate::strength::{Board, SAFETY_ACROSS, SAFETY_IN_SHEAR, SAFETY_OF_STEEL, Verdict, safety_in_bending};
use crate::worked::Worked;

pub(super) fn check(proof: &Proof<'_>, design: &Design, model: &Model, solids: &Solids) -> Vec<Finding> {
    let under = UnderLoad::of(design, model);
    let mut findings: Vec<Finding> =
        sagging(model, &under).iter().filter_map(|(alike, found)| sags(proof, design, model, (&under, alike, found))).collect();
    findings.extend(over_its_labels(proof, design, model, &under));
    findings.extend(pressed(model, &under).into_iter().filter_map(|group| holds(proof, design, model, &under, &group)));
    findings.extend(standing::check(design, model, solids));
    findings
}

/// The part of a frame that sags furthest past what it is made for, though nobody sees it yet, where more is to be kept than the labels allow, and what is told of that.
fn past_its_labels<'u>(design: &Design, model: &Model, under: &'u UnderLoad) -> Option<(&'u Bending, String)> {
    let frame = under.bending.iter().filter(|bending| bending.room.is_none());
    let worst = frame.max_by(|a, b| a.verdict().cmp(&b.verdict()).then(a.share().total_cmp(&b.share())))?;
    // What is seen to sag says so itself.
    let told = (worst.verdict() == Verdict::OverWorking).then(|| too_much(design, model, Seriousness::Note, &[worst])).flatten()?;
    Some((worst, told))
}

fn over_its_labels(proof: &Proof<'_>, design: &Design, model: &Model, under: &UnderLoad) -> Option<Finding> {
    let (worst, told) = past_its_labels(design, model, under)?;
    let (part, limits) = (model.part(worst.part), &design.limits);
    Some(Finding {
        rule: Rule::Sags,
        seriousness: Seriousness::Note,
        parts: vec![worst.part],
        explains: Vec::new(),
        joint: None,
        place: Some(part.block().centre()),
        figures: how_far(worst).to_vec(),
        message: format!(
            "{} sags {} mm in {}, more than it is made for, {}{told}",
            part.title,
            trimmed_to(worst.after(), 1),
            years(limits.years),
            limits.sag.made_for()
        ),
        source: LIMITS,
        remedies: remedies::of_sag(
            proof,
            design,
            model,
            under,
            (&Alike { kind: part.kind, depth: depth_of(model, part).map(|(path, _)| path), fail: false }, worst),
        ),
    })
}

/// Whose the limits of sag are.
const LIMITS: &str = "limits ours: made for L/400 at once and L/250 after years, told from L/200, fails from L/144, which North American architectural woodwork allows \
                      under test (read in a copy)";

/// What parts that sag have in common so that one finding tells of all: what mends one mends the others.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Alike {
    kind: PartKind,
    /// The decision by which they are as deep as they bend.
    depth: Option<&'static str>,
    /// Whether they fail, or are only seen to sag.
    fail: bool,
}

/// Parts that sag so far that it is seen, by what they have in common, in each the worst first.
fn sagging<'u>(model: &Model, under: &'u UnderLoad) -> Vec<(Alike, Vec<&'u Bending>)> {
    let mut groups: Vec<(Alike, Vec<&Bending>)> = Vec::new();
    for bending in under.bending.iter().filter(|bending| bending.verdict() >= Verdict::Seen) {
        let part = model.part(bending.part);
        let depth = depth_of(model, part).map(|(path, _)| path);
        let alike = Alike { kind: part.kind, depth, fail: bending.verdict() == Verdict::Fails };
        match groups.iter_mut().find(|(known, _)| *known == alike) {
            Some((_, found)) => found.push(bending),
            None => groups.push((alike, vec![bending])),
        }
    }
    for (_, found) in &mut groups {
        found.sort_by(|a, b| b.share().total_cmp(&a.share()).then(a.part.cmp(&b.part)));
    }
    // What fails is told, and with it why others of the same depth are seen to sag.
    let failing: Vec<Alike> = groups.iter().map(|(alike, _)| *alike).filter(|alike| alike.fail).collect();
    groups.retain(|(alike, _)| alike.fail || !failing.contains(&Alike { fail: true, ..*alike }));
    groups.sort_by_key(|(alike, _)| (PartKind::ALL.iter().position(|kind| *kind == alike.kind), !alike.fail));
    groups
}

/// One finding for all parts that are alike.
fn sags(proof: &Proof<'_>, design: &Design, model: &Model, (under, alike, found): (&UnderLoad, &Alike, &[&Bending])) -> Option<Finding> {
    let worst = *found.first()?;
    let limits = &design.limits;
    let mut seriousness = seriousness(design, model, found);
    let (limit, word) = match seriousness {
        Seriousness::WillFail | Seriousness::AtRisk => (limits.sag.fails, "more than it may"),
        Seriousness::Note => (limits.sag.seen, "so far that it is seen"),
    };
    let part = model.part(worst.part);
    let message = format!(
        "{} sags {} mm{} in {}{}, {word}: {} mm is L/{}",
        part.title,
        trimmed_to(worst.after(), 1),
        way(worst, part.kind),
        years(limits.years),
        kilograms(model, under, worst),
        trimmed_to(worst.span() / limit, 1),
        trimmed_to(limit, 0)
    );
    let too_much = too_much(design, model, seriousness, found);
    if too_much.is_some() {
        seriousness = Seriousness::AtRisk;
    }
    Some(Finding {
        rule: Rule::Sags,
        seriousness,
        parts: once(found.iter().map(|bending| bending.part)),
        explains: Vec::new(),
        joint: None,
        place: Some(part.block().centre()),
        figures: how_far(worst).into_iter().chain([Figure::mm("limit", worst.span() / limit)]).collect(),
        message: and_more(message, model, found) + &too_much.unwrap_or_default(),
        source: LIMITS,
        remedies: remedies::of_sag(proof, design, model, under, (alike, worst)),
    })
}

/// How far a span sags.
fn how_far(bending: &Bending) -> [Figure; 3] {
    [
        Figure::mm("sag at once", bending.at_once()).because(bending.why_at_once()),
        Figure::mm("sag after years", bending.after()).because(bending.why_after()),
        Figure::mm("span", bending.span()),
    ]
}

/// Which way it spans, where that is not seen at a glance: " from front to back, between its pins".
fn way(bending: &Bending, kind: PartKind) -> String {
    match (bending.on_points(), bending.spans) {
        (true, Spans::SideToSide | Spans::FrontToBack) => format!(" {}, between its pins", bending.way()),
        (true, Spans::Middle) => format!(" {}, from a pin to the one across", bending.way()),
        (false, _) if kind == PartKind::Floor => format!(" {}", bending.way()),
        (false, _) => String::new(),
    }
}

/// Each part once, in their order.
fn once(parts: impl Iterator<Item = PartId>) -> Vec<PartId> {
    parts.fold(Vec::new(), |mut all, part| {
        if !all.contains(&part) {
            all.push(part);
        }
        all
    })
}

/// What fails under boxes that stand one high fails; what fails only when they are stacked is at risk.
fn seriousness(design: &Design, model: &Model, found: &[&Bending]) -> Seriousness {
    if found.iter().all(|bending| bending.verdict() < Verdict::Fails) {
        return Seriousness::Note;
    }
    let one_high = UnderLoad::stacked(design, model, HowHigh::One);
    let fails = |bending: &&Bending| {
        let same = |other: &&Bending| other.part == bending.part && other.spans == bending.spans;
        one_high.bending.iter().find(same).is_some_and(|bending| bending.verdict() == Verdict::Fails)
    };
    if found.iter().any(fails) { Seriousness::WillFail } else { Seriousness::AtRisk }
}

/// That more is to be kept than the case carries in all, where what is seen to sag is its frame: its labels would forbid what it is made for. None where it carries that.
fn too_much(design: &Design, model: &Model, seriousness: Seriousness, found: &[&Bending]) -> Option<String> {
    if seriousness != Seriousness::Note || found.iter().any(|bending| bending.room.is_some()) {
        return None;
    }
    let keeps: f64 = design.contents.iter().map(|kind| kind.mass * f64::from(kind.wanted())).sum();
    let all = whole(design, model, &carries(design, model)).filter(|all| all.is_less_than(keeps))?;
    Some(format!(
        "; {} kg are to stand in it, and all its shelves and floors together carry {} kg",
        trimmed_to(keeps.ceil(), 0),
        on_a_label(all.kg)
    ))
}

/// "under 48 kg" for what boxes stand on.
fn kilograms(model: &Model, under: &UnderLoad, bending: &Bending) -> String {
    let kg = room_kg(under, bending).filter(|_| bending.is_board(model));
    kg.map_or_else(String::new, |kg| format!(" under the {} kg that can be put on it", trimmed_to(kg, 1)))
}

/// What the room of a part holds at its heaviest, kg.
fn room_kg(under: &UnderLoad, bending: &Bending) -> Option<f64> {
    Some(under.stacks.get(bending.room?)?.iter().map(|stack| stack.kg).sum())
}

/// Of several shelves the worst speaks, and the others are counted.
fn and_more(message: String, model: &Model, found: &[&Bending]) -> String {
    let mut rooms: Vec<usize> = found.iter().filter_map(|bending| bending.room).collect();
    rooms.sort_unstable();
    rooms.dedup();
    let what = if rooms.is_empty() { found.len() } else { rooms.len() };
    let word = match (rooms.is_empty(), found.first().map(|bending| model.part(bending.part).kind)) {
        (false, _) => {
            if what == 2 {
                "shelf"
            } else {
                "shelves"
            }
        }
        (true, kind) => kind.map_or("parts", |kind| if what == 2 { kind.words().0 } else { kind.words().1 }),
    };
    if what > 1 { format!("{message}; {} more {}", what - 1, word.to_lowercase()) } else { message }
}

/// Something that is pressed: of which part, how hard, in which way.
#[derive(Clone, Copy, Debug)]
struct Pressed {
    part: PartId,
    /// What else has to do with it, and how: " on ", " under ".
    by: Option<(&'static str, PartId)>,
    stress: Stress,
    way: Way,
}

/// In which way wood is stressed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Way {
    Bending,
    Shear,
    Bearing,
    ByScrews,
    ShearAtRest,
    Tooth,
    Screws,
    PinShears,
    PinBends,
    PinPrises,
}

impl Way {
    /// By how much of what may be asked for years a stress is more than the wood bears for years: the factor of safety.
    fn safety(self, of: &Material) -> f64 {
        match (self, of) {
            (Way::PinBends | Way::PinShears, Material::Bought(_)) | (Way::Screws, _) => SAFETY_OF_STEEL,
            (Way::Bending | Way::PinBends, _) => safety_in_bending(Board::of(of)),
            (Way::Shear | Way::ShearAtRest | Way::Tooth | Way::PinShears, _) => SAFETY_IN_SHEAR,
            (Way::Bearing | Way::ByScrews | Way::PinPrises, _) => SAFETY_ACROSS,
        }
    }

    /// The way in which a place is stressed where something rests.
    fn at_rest(rest: &Rest, way: RestWay) -> Way {
        match (way, rest.sheared) {
            (RestWay::Pressed, Sheared::Screw { .. }) => Way::ByScrews,
            (RestWay::Pressed, Sheared::End { .. } | Sheared::Tooth { .. } | Sheared::Pin { .. } | Sheared::Glue { .. }) => Way::Bearing,
            (RestWay::Sheared, Sheared::End { .. } | Sheared::Glue { .. }) => Way::ShearAtRest,
            (RestWay::Sheared, Sheared::Tooth { .. }) => Way::Tooth,
            (RestWay::Sheared, Sheared::Pin { .. }) => Way::PinShears,
            (RestWay::Sheared, Sheared::Screw { .. }) => Way::Screws,
            (RestWay::PinBends, _) => Way::PinBends,
            (RestWay::PinPrises, _) => Way::PinPrises,
        }
    }

    fn words(self) -> &'static str {
        match self {
            Way::Bending => "bent",
            Way::Shear => "sheared along its grain",
            Way::Bearing => "pressed across the grain",
            Way::ByScrews => "pressed by its screws",
            Way::ShearAtRest => "sheared where it rests",
            Way::Tooth => "sheared along its tooth",
            Way::Screws => "held by screws that are sheared",
            Way::PinShears => "sheared at its hole",
            Way::PinBends => "bent at its hole",
            Way::PinPrises => "prising at the mouth of its hole",
        }
    }
}

/// Everything that is stressed beyond what may be asked, by the kind of its part and the way.
fn pressed(model: &Model, under: &UnderLoad) -> Vec<Vec<Pressed>> {
    // In the middle of a shelf on pins it is bent less hard than along the lines between them.
    let bent = under.bending.iter().filter(|bending| bending.spans != Spans::Middle).flat_map(|bending| {
        let each = |way, stress| Pressed { part: bending.part, by: None, stress, way };
        [each(Way::Bending, bending.bending()), each(Way::Shear, bending.shear())]
    });
    let held = under.rests.iter().flat_map(|rest| {
        let each = |(way, part, stress): (RestWay, PartId, Stress)| {
            let by = if part == rest.part { (" on ", rest.on) } else { (" under ", rest.part) };
            Pressed { part, by: Some(by), stress, way: Way::at_rest(rest, way) }
        };
        rest.stresses().into_iter().map(each).collect::<Vec<_>>()
    });
    let mut all: Vec<Pressed> = bent.chain(held).filter(|pressed| pressed.stress.share().is_some_and(|share| share > 1.0)).collect();
    let kind = |pressed: &Pressed| (model.part(pressed.part).kind, pressed.way);
    let share = |pressed: &Pressed| pressed.stress.share().unwrap_or_default();
    all.sort_by(|a, b| kind(a).cmp(&kind(b)).then(share(b).total_cmp(&share(a))).then(a.part.cmp(&b.part)));
    all.chunk_by(|a, b| kind(a) == kind(b)).map(<[Pressed]>::to_vec).collect()
}

/// How a stress comes about, and what may be asked for years.
fn why(under: &UnderLoad, of: &Pressed) -> Option<(Worked, Option<Worked>)> {
    let bent = under.all_of_part(of.part).flat_map(|bending| [bending.why_bending(), bending.why_shear()]);
    let held = under.rests.iter().filter(|rest| rest.part == of.part || rest.on == of.part).flat_map(Rest::why);
    bent.chain(held).find(|(found, _)| (found.value - of.stress.found).abs() <= 1e-9 * of.stress.found.abs())
}

/// Two figures, with as many digits as it takes to tell them apart.
fn apart(one: f64, other: f64) -> [String; 2] {
    let both = |digits| [one, other].map(|value| trimmed_to(value, digits));
    (2..6).map(both).find(|[one, other]| one != other).unwrap_or_else(|| both(2))
}

fn holds(proof: &Proof<'_>, design: &Design, model: &Model, under: &UnderLoad, group: &[Pressed]) -> Option<Finding> {
    let worst = group.first()?;
    let (share, allowed) = (worst.stress.share()?, worst.stress.allowed?);
    let part = model.part(worst.part);
    let mut parts: Vec<PartId> = group.iter().map(|pressed| pressed.part).collect();
    parts.dedup();
    parts.splice(1..1, worst.by.map(|(_, other)| other).filter(|other| !parts.contains(other)));
    let on = worst.by.map_or_else(String::new, |(how, other)| format!("{how}{}", model.part(other).title));
    let more = if group.len() > 1 { format!("; {} more like it", group.len() - 1) } else { String::new() };
    let (found, may) = why(under, worst).unzip();
    let with = |figure: Figure, why: Option<Worked>| if let Some(why) = why { figure.because(why) } else { figure };
    let [is, asked] = apart(worst.stress.found, allowed);
    Some(Finding {
        rule: Rule::Holds,
        seriousness: if share > worst.way.safety(&part.material) { Seriousness::WillFail } else { Seriousness::AtRisk },
        parts,
        explains: Vec::new(),
        joint: None,
        place: Some(part.block().centre()),
        figures: vec![
            with(Figure::new("stress", worst.stress.found, "N/mm²"), found),
            with(Figure::new("for years", allowed, "N/mm²"), may.flatten()),
        ],
        message: format!(
            "{}{on} is {} with {} N/mm², more than the {} it should bear for years{more}",
            part.title,
            worst.way.words(),
            is,
            asked
        ),
        source: "six tenths of the mean strength of timber for ten years of load (Wood Handbook, read), k_mod of EN 1995-1-1 for boards (read in copies), over a factor of \
                 safety of our own; steel: its yield (EN 10025-2, from memory) over 1.5; wood round a pin: EN 1995-1-1, 8.5.1.1, from memory",
        remedies: remedies::of_stress(proof, design, model, worst),
    })
}
