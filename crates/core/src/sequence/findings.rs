//! What an order of assembly has to tell the maker.

use std::collections::BTreeMap;

use glam::DVec3;

use super::glue_time::of_time;
use super::words::list;
use super::{Captive, Locked, Reach, Sequence, WayOut};
use crate::design::shop::State;
use crate::design::{FloorPieces, Gluing, decisions};
use crate::inspect::{CUT_AS_IT_STANDS, Figure, Finding, Remedy, Rule, Seriousness, TOUCH};
use crate::length::trimmed_to;
use crate::model::{Model, Part, PartId, PartKind};
use crate::sentence::inside;

/// What will fail, what is at risk and what is worth knowing of a sequence; the most serious first.
///
/// Locked parts will fail; glue-ups that take longer than their glue allows are at risk, and so is a cut that no tool reaches any more; a loose part that
/// something fastened keeps in, and a cut that no tool reaches after glue-up, are notes.
pub fn findings(sequence: &Sequence, model: &Model, gluing: &Gluing) -> Vec<Finding> {
    let mut all: Vec<Finding> = sequence.locked.iter().map(|locked| of_locked(locked, model)).collect();
    all.extend(of_time(sequence, model, gluing));
    all.extend(of_captive(&sequence.captive, model));
    all.extend(of_reach(&sequence.reach, model));
    all
}

/// One note for all loose parts that something fastened keeps in.
fn of_captive(captive: &[Captive], model: &Model) -> Option<Finding> {
    let parts: Vec<PartId> = captive.iter().map(|captive| captive.part).collect();
    let first = parts.first()?;
    let mut by: Vec<PartId> = captive.iter().flat_map(|captive| captive.held_by.iter().copied()).collect();
    by.sort_unstable();
    by.dedup();
    // A top is held by its buttons; it is the top that is taken off.
    let fixing = |part: &PartId| matches!(model.part(*part).kind, PartKind::Button | PartKind::Clip | PartKind::Plate);
    if !by.iter().all(fixing) {
        by.retain(|part| !fixing(part));
    }
    let holds = list(model, &by);
    Some(Finding {
        rule: Rule::Captive,
        seriousness: Seriousness::Note,
        explains: Vec::new(),
        joint: None,
        place: Some(model.part(*first).block().centre()),
        figures: vec![Figure::count("loose parts held", parts.len() as u32)],
        message: format!("Comes out by hand only with {holds} taken off: {}", list(model, &parts)),
        source: "geometry: ways out by hand sought on the solids",
        remedies: vec![
            Remedy { words: format!("Take off {holds} when this is to be changed"), changes: Vec::new() },
            Remedy { words: "Leave more room above, so that it can be tipped out".to_owned(), changes: Vec::new() },
        ],
        parts,
    })
}

fn of_locked(locked: &Locked, model: &Model) -> Finding {
    let what = list(model, &locked.parts);
    let message = match (locked.blocked_by.is_empty(), locked.parts.len()) {
        (true, _) => format!("No way was found to put in {what}"),
        (false, _) if locked.closed => {
            let by = list(model, &locked.blocked_by);
            format!("No way was found to put in {what}: {by} would be in the way, and what it goes into is glued together already")
        }
        (false, 1) => format!("No way was found to put in {what}: {} would be in the way", list(model, &locked.blocked_by)),
        (false, _) => format!("These hold each other, so that none can go in last: {what}"),
    };
    let remedies: Vec<Remedy> =
        locked.ways.iter().map(|way| Remedy { words: way_words(way, locked, model), changes: changes(way, locked, model) }).collect();
    Finding {
        rule: Rule::LockedOut,
        seriousness: Seriousness::WillFail,
        parts: locked.parts.iter().chain(&locked.blocked_by).copied().collect(),
        explains: Vec::new(),
        joint: None,
        place: locked.place.or_else(|| locked.parts.first().map(|part| model.part(*part).block().centre())),
        figures: vec![Figure::count("parts in the way", locked.blocked_by.len() as u32)],
        message,
        source: "geometry: its way swept against what stands",
        remedies,
    }
}

/// What was recorded wrongly is mended by a change of the design, and floors that go in in two pieces.
fn changes(way: &WayOut, locked: &Locked, model: &Model) -> Vec<(String, String)> {
    match way {
        WayOut::InAlready => {
            let in_holes = [PartKind::LooseTenon, PartKind::Dowel];
            let parts = locked.parts.iter().map(|part| model.part(*part));
            let parts = parts.filter(|part| part.state != State::Glued && !in_holes.contains(&part.kind));
            parts.map(|part| (format!("made.{}.state", part.name), State::Glued.word().to_owned())).collect()
        }
        WayOut::TwoPieces(0) if in_one_piece(locked, model).is_some() => {
            let pieces = FloorPieces::Butted;
            vec![("carcase.bottom.pieces".to_owned(), decisions::Choice::word(&pieces))]
        }
        WayOut::Before(_) | WayOut::TwoPieces(_) | WayOut::Notch(_) | WayOut::Opened { .. } | WayOut::Beaded(_) => Vec::new(),
    }
}

/// The floor of a bay that is locked out, where it is in one piece.
fn in_one_piece<'m>(locked: &Locked, model: &'m Model) -> Option<&'m Part> {
    let [floor] = locked.parts.iter().map(|part| model.part(*part)).collect::<Vec<_>>()[..] else { return None };
    // Pieces have a word of their own behind the number of their bay.
    (floor.kind == PartKind::Floor && floor.name.split('.').count() == 2).then_some(floor)
}

fn way_words(way: &WayOut, locked: &Locked, model: &Model) -> String {
    match way {
        WayOut::Before(parts) => format!("Put it in during the glue-up, before {} close round it", list(model, parts)),
        WayOut::TwoPieces(0) if in_one_piece(locked, model).is_some() => {
            "Make the floor of each bay in two pieces that meet from front to back".to_owned()
        }
        WayOut::TwoPieces(0) => "Make it in two pieces that meet across its length".to_owned(),
        WayOut::TwoPieces(_) => "Make it in two pieces that meet along its length".to_owned(),
        WayOut::InAlready => "If it stands in already, write down that it is glued too".to_owned(),
        WayOut::Beaded([length, width]) => {
            let mm = |value: &f64| trimmed_to(*value, 1);
            format!("Make it {} × {} mm, so that it goes into the opening, and hold it between beads", mm(length), mm(width))
        }
        WayOut::Opened { toward, parts, wall, grooves } => {
            let (what, then) =
                if *grooves { ("grooves", "hold it there with beads") } else { ("mortises", "glue pieces into the slots behind it") };
            format!(
                "Cut its {what} open {} in {}, {} mm of wood at most, put it in from there, and {then}",
                toward.words(),
                list(model, parts),
                trimmed_to(*wall, 1)
            )
        }
        WayOut::Notch(places) => {
            let size = locked.parts.first().map(|part| model.part(*part).lwt());
            let mm = |value: f64| trimmed_to(value, 1);
            let (off, notches): (Vec<&[f64; 4]>, Vec<&[f64; 4]>) = places.iter().partition(|place| cut_off(place, size).is_some());
            // What lies in a piece that is cut off need not be notched.
            let gone = |[l0, l1, w0, w1]: &[f64; 4]| off.iter().any(|off| off[0] <= *l0 && *l1 <= off[1] && off[2] <= *w0 && *w1 <= off[3]);
            let notches: Vec<String> = notches
                .into_iter()
                .filter(|place| !gone(place))
                .map(|[l0, l1, w0, w1]| format!("{} to {} along its length, {} to {} across", mm(*l0), mm(*l1), mm(*w0), mm(*w1)))
                .collect();
            let off: Vec<String> = off.iter().filter_map(|place| cut_off(place, size)).collect();
            match (off.is_empty(), notches.is_empty()) {
                (true, _) => format!("Notch it: {}", notches.join("; ")),
                (false, true) => format!("Cut {}", off.join(" and ")),
                (false, false) => format!("Cut {}, and notch it, as it was: {}", off.join(" and "), notches.join("; ")),
            }
        }
    }
}

/// "28 mm off its first end": a place that reaches right across a part is no notch but makes it shorter or narrower.
fn cut_off([l0, l1, w0, w1]: &[f64; 4], size: Option<DVec3>) -> Option<String> {
    let size = size?;
    let mm = |value: f64| trimmed_to(value, 1);
    let right_across = |from: f64, to: f64, of: f64| from <= TOUCH && to >= of - TOUCH;
    if right_across(*w0, *w1, size.y) {
        let (off, end) = if *l0 <= TOUCH { (l1 - l0, "first") } else { (size.x - l0, "second") };
        Some(format!("{} mm off its {end} end, to {} mm long", mm(off), mm(size.x - off)))
    } else if right_across(*l0, *l1, size.x) {
        let (off, edge) = if *w0 <= TOUCH { (w1 - w0, "face") } else { (size.y - w0, "back") };
        Some(format!("{} mm off its {edge} edge, to {} mm wide", mm(off), mm(size.y - off)))
    } else {
        None
    }
}

/// One note for each tool and kind of part that goes in later, however many cuts it is about.
fn of_reach(reach: &[Reach], model: &Model) -> Vec<Finding> {
    let mut alike: BTreeMap<(String, &'static str, &'static str, bool), Vec<&Reach>> = BTreeMap::new();
    for cut in reach.iter().filter(|cut| cut.blocked.is_some()) {
        let kind = model.part(model.joint(cut.joint).a).kind.words().1;
        alike.entry((cut.tool.clone(), cut.work.words(), kind, cut.late)).or_default().push(cut);
    }
    alike
        .into_iter()
        .map(|((tool, work, kind, late), cuts)| {
            let mut by: Vec<PartId> = cuts.iter().filter_map(|cut| cut.blocked.map(|(part, _)| part)).collect();
            by.sort_unstable();
            by.dedup();
            let depth = cuts.iter().filter_map(|cut| cut.blocked.map(|(_, depth)| depth)).fold(0.0, f64::max);
            let mut parts: Vec<PartId> = cuts.iter().map(|cut| cut.part).collect();
            parts.sort_unstable();
            parts.dedup();
            let instead = cuts.first().and_then(|cut| cut.instead.clone()).filter(|_| cuts.iter().all(|cut| cut.instead.is_some()));
            let before = Remedy { words: "Cut them before glue-up".to_owned(), changes: Vec::new() };
            let mut remedies: Vec<Remedy> = Some(before).filter(|_| !late).into_iter().collect();
            remedies.extend(
                instead.map(|tool| Remedy {
                    words: format!("Cut them after glue-up with another tool: {}", inside(&tool)),
                    changes: Vec::new(),
                }),
            );
            if late && remedies.is_empty() {
                remedies.extend(on_cleats(&cuts, model));
            }
            let count: u32 = cuts.iter().map(|cut| cut.count).sum();
            Finding {
                rule: Rule::ToolReach,
                seriousness: if late { Seriousness::AtRisk } else { Seriousness::Note },
                explains: Vec::new(),
                joint: cuts.first().map(|cut| cut.joint),
                place: cuts.first().map(|cut| cut.place),
                figures: vec![Figure::count("cuts", count), Figure::mm("in the way by up to", depth)],
                message: format!(
                    "{}: {count} {work}{} for {} that the {} does not reach {}, for {}",
                    if late { "Glued already, and still to be cut" } else { "Cut before glue-up" },
                    if count == 1 { "" } else { "s" },
                    inside(kind),
                    inside(&tool),
                    if late { "any more" } else { "afterwards" },
                    list(model, &by)
                ),
                source: "geometry: the room that the shop's tool takes",
                parts,
                remedies,
            }
        })
        .collect()
}

/// What no tool cuts any more into uprights that stand glued is not wanted where their shelves lie on cleats, which are screwed or glued on.
fn on_cleats(cuts: &[&Reach], model: &Model) -> Option<Remedy> {
    let shelf_of = |cut: &&Reach| {
        let part = model.part(model.joint(cut.joint).a);
        matches!(part.kind, PartKind::Shelf | PartKind::Pin).then(|| part.name.split('.').nth(1)).flatten()
    };
    let mut bays: Vec<&str> = cuts.iter().map(shelf_of).collect::<Option<_>>()?;
    bays.sort_unstable();
    bays.dedup();
    let changes = bays.iter().map(|bay| (format!("interior.bays.{bay}.opening.system"), "cleats".to_owned())).collect();
    Some(Remedy { words: "Let these shelves lie on cleats, which are fixed to what stands".to_owned(), changes })
}

/// What is told of cuts that are to be made in a case as it stands, where no tool gets to them: not that they be made, but what makes them needless.
pub(crate) fn not_out_of_reach(sequence: &Sequence, findings: &mut [Finding]) {
    let out =
        |part: &PartId| sequence.reach.iter().any(|cut| cut.part == *part && cut.late && cut.blocked.is_some() && cut.instead.is_none());
    let told = findings.iter().filter(|finding| finding.rule == Rule::ToolReach && finding.seriousness == Seriousness::AtRisk);
    let needless: Vec<Remedy> =
        told.flat_map(|finding| finding.remedies.iter().filter(|remedy| !remedy.changes.is_empty())).cloned().collect();
    for finding in findings.iter_mut().filter(|finding| finding.rule == Rule::CutsStillRight && finding.parts.iter().any(out)) {
        let before = finding.remedies.len();
        finding.remedies.retain(|remedy| remedy.words != CUT_AS_IT_STANDS);
        if finding.remedies.len() < before {
            finding.remedies.extend(needless.iter().cloned());
        }
    }
}
