//! Loose shelves that are longer than their opening is wide: whether each can be tilted out and in again while the others stay.

use super::gather;
use super::{Figure, Finding, Remedy, Rule, Seriousness, mm};
use crate::contents::tilt::{Tilt, tilts};
use crate::design::{Design, decisions};
use crate::length::trimmed_to;
use crate::model::{Model, Room};
use crate::sentence::capital;

/// The most play at the ends of a shelf that is thought of, mm.
const MOST_PLAY: f64 = 6.0;
/// Play is offered in steps of so much, mm.
const STEP: f64 = 0.25;

pub(super) fn check(design: &Design, model: &Model) -> Vec<Finding> {
    let all = tilts(model);
    let lacks = |tilt: &&Tilt| tilt.level.map_or(0.0, |(diagonal, room)| diagonal - room);
    let (mut stuck, others): (Vec<&Tilt>, Vec<&Tilt>) = all.iter().partition(|tilt| !tilt.goes_level());
    // All of them rest on one play: the one that lacks most speaks for the others.
    stuck.sort_by(|a, b| lacks(b).total_cmp(&lacks(a)));
    let of_all = stuck.first().and_then(|worst| told(design, model, worst)).map(|mut finding| {
        gather::add_new(&mut finding.parts, stuck.iter().map(|tilt| tilt.board));
        gather::counted(finding, stuck.len() - 1)
    });
    of_all.into_iter().chain(others.into_iter().filter_map(|tilt| told(design, model, tilt))).collect()
}

fn told(design: &Design, model: &Model, tilt: &Tilt) -> Option<Finding> {
    if tilt.goes_level() && tilt.comes_out() {
        return None;
    }
    let name = format!("shelf {} of bay {}", tilt.shelf + 1, tilt.bay + 1);
    let (seriousness, message, remedy) = if let (false, Some((diagonal, room))) = (tilt.goes_level(), tilt.level) {
        let message = format!(
            "{name} can't be laid level once it is tilted in: it grows to {} mm across its diagonal, and has {} mm",
            trimmed_to(diagonal, 1),
            trimmed_to(room, 1)
        );
        (Seriousness::AtRisk, message, more_play(design, model, tilt))
    } else {
        let message = format!(
            "{name} can't be tilted out while the others stay: {} mm long, through an opening of {} mm it takes {} mm of height at {}°, and there are {} mm",
            mm(tilt.length),
            mm(tilt.opening),
            trimmed_to(tilt.takes, 0),
            trimmed_to(tilt.angle, 0),
            trimmed_to(tilt.height, 0)
        );
        (Seriousness::Note, message, higher(design, model, tilt))
    };
    let (diagonal, room) = tilt.level.unwrap_or((tilt.length, tilt.opening));
    Some(Finding {
        rule: Rule::ShelfTilts,
        seriousness,
        parts: vec![tilt.board],
        explains: Vec::new(),
        joint: None,
        place: Some(model.part(tilt.board).block().centre()),
        figures: vec![
            Figure::mm("opening", tilt.opening),
            Figure::new("tilted by", tilt.angle, "°"),
            Figure::mm("takes", tilt.takes),
            Figure::mm("height", tilt.height),
            Figure::mm("diagonal", diagonal),
            Figure::mm("room", room),
        ],
        message: capital(&message),
        source: "geometry: its length at that angle against the opening, its diagonal against the room at its level",
        remedies: remedy.into_iter().collect(),
    })
}

/// So much play at its ends that its diagonal goes between what stands there.
fn more_play(design: &Design, model: &Model, tilt: &Tilt) -> Option<Remedy> {
    let (path, now) = match model.part(tilt.board).kind {
        crate::model::PartKind::Shelf => ("shelf.play", design.shelf.play.to_mm()),
        _ => ("sawtooth.slats.play", design.sawtooth.slats.play.to_mm()),
    };
    let (diagonal, room) = tilt.level?;
    // What grows is shorter by the play at both its ends.
    let long = (diagonal * diagonal - tilt.thickness * tilt.thickness).max(0.0).sqrt();
    let most = (room * room - tilt.thickness * tilt.thickness).max(0.0).sqrt();
    let wanted = ((now + (long - most) / 2.0) / STEP - 1e-9).ceil() * STEP;
    (wanted > now && wanted <= MOST_PLAY).then(|| Remedy::length(format!("Leave it {} mm of play at its ends", mm(wanted)), path, wanted))
}

/// The shelf above so much higher, or the one below so much lower, that there is height enough.
fn higher(design: &Design, model: &Model, tilt: &Tilt) -> Option<Remedy> {
    let levels = model.bays.get(tilt.bay)?.teeth?;
    let steps = ((tilt.takes - tilt.height) / levels.pitch - 1e-9).ceil() as u32;
    let mut rooms: Vec<&Room> = model.rooms.iter().filter(|room| room.bay == tilt.bay && room.shelf.is_some()).collect();
    rooms.sort_by(|a, b| a.space.min.y.total_cmp(&b.space.min.y));
    let own = rooms.iter().position(|room| room.shelf == Some(tilt.shelf))?;
    let level = |room: &Room| ((room.space.min.y - levels.lowest) / levels.pitch).round() as i64 + 1;
    let least = i64::from(levels.steps(0.0));
    let at = |index: Option<usize>| index.and_then(|index| rooms.get(index)).copied();
    let put = |room: &Room, to: i64| {
        let shelf = room.shelf? + 1;
        let path = [format!("interior.bays.{}.opening.shelves.{shelf}", tilt.bay + 1), format!("interior.shelves.{shelf}")]
            .into_iter()
            .find(|path| decisions::value(design, path).is_some())?;
        let words = format!("Put shelf {shelf} of bay {} on {} {to}", tilt.bay + 1, levels.kind.words().0);
        Some(Remedy { words, changes: vec![(path, to.to_string())] })
    };
    let above = at(own.checked_add(1)).and_then(|above| {
        let to = level(above) + i64::from(steps);
        let free = at(own.checked_add(2)).map_or(i64::from(levels.count), |next| level(next) - least);
        (to <= free).then(|| put(above, to)).flatten()
    });
    above.or_else(|| {
        let below = at(own.checked_sub(1))?;
        let to = level(below) - i64::from(steps);
        let free = at(own.checked_sub(2)).map_or(1, |next| level(next) + least);
        (to >= free).then(|| put(below, to)).flatten()
    })
}
