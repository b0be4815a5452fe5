//! What the maker placed by hand stays where it was put, or is told why it can't.

use super::Asked;
use super::around::{Area, around};
use super::bench::{Bench, Held, piece};
use super::lines::Line;
use super::rack::{Usable, area_of};
use crate::design::Design;
use crate::design::placed::Placed;
use crate::length::trimmed_to;
use crate::model::Model;

/// Puts on their boards what the maker placed by hand; what can't lie there is told and left to be laid with the rest.
pub(super) fn by_hand(design: &Design, model: &Model, benches: &mut [Bench<'_, '_>], asked: &mut [Asked<'_>], told: &mut Vec<String>) {
    for placed in &design.shop.placed {
        let called = model.find(&placed.part).map_or_else(|| placed.part.clone(), |part| format!("{} ({})", part.mark, part.title));
        match hold(model, benches, asked, placed) {
            Ok(remark) => told.extend(remark.map(|words| format!("{called}, placed by hand on {}, {words}", placed.board))),
            Err(words) => told.push(format!("{called}, placed by hand on {}, is laid elsewhere: {words}", placed.board)),
        }
    }
}

/// Puts a piece on its board. What is worth knowing where it lies there; else why it can't.
fn hold(model: &Model, benches: &mut [Bench<'_, '_>], asked: &mut [Asked<'_>], placed: &Placed) -> Result<Option<String>, String> {
    let part = model.find(&placed.part).ok_or("the case has no such part")?;
    // A sheet's lippings have rows of their own.
    let has_it = |asked: &Asked<'_>| asked.line.nth(part.id, placed.piece).is_some();
    let of_part = |asked: &Asked<'_>| asked.line.row.parts.contains(&part.id);
    let row = asked.iter().position(has_it).or_else(|| asked.iter().position(of_part));
    let asked = row.and_then(|row| asked.get_mut(row)).ok_or("it does not come out of what is on hand")?;
    let line = &mut asked.line;
    let nth = line.nth(part.id, placed.piece).ok_or_else(|| format!("it has no piece {}, it has {}", placed.piece, line.each()))?;
    let at = line.open.iter().position(|open| *open == nth).ok_or("it is placed twice")?;
    let has = |bench: &Bench<'_, '_>| bench.rack.entries.iter().any(|usable| usable.stuff.name == placed.board);
    let bench = benches.iter_mut().find(|bench| has(bench)).ok_or("no board that can be used is called so")?;
    let usable = bench.rack.entries.iter().find(|usable| usable.stuff.name == placed.board).ok_or("no board is called so")?;
    let area = Area::new([placed.x.to_mm(), placed.y.to_mm()], line.size(placed.turned));
    may_lie(bench, usable, line, placed, &area)?;
    let remark = remark(usable, &area);
    let taken = piece(line, nth, area.from, placed.turned, true).ok_or("the case has no such part")?;
    line.open.remove(at);
    let (entry, number) = (usable.entry, placed.number as usize);
    match bench.held.iter_mut().find(|held| (held.entry, held.number) == (entry, number)) {
        Some(held) => held.pieces.push((area, taken)),
        None => bench.held.push(Held { entry, number, pieces: vec![(area, taken)] }),
    }
    Ok(remark)
}

/// Whether a piece can lie there: it comes out of such a board, lies on it, and can be sawn apart from what else was placed there.
fn may_lie(bench: &Bench<'_, '_>, usable: &Usable<'_>, line: &Line<'_>, placed: &Placed, area: &Area) -> Result<(), String> {
    if !bench.rack.serves(bench.design, line.row) {
        return Err(format!("{} does not come out of {}", line.row.mark, bench.rack.name));
    }
    if placed.number > usable.count() {
        return Err(format!("there are {} of it", usable.count()));
    }
    if placed.turned && !line.turn {
        return Err("its grain would lie across".to_owned());
    }
    let board = Area::new([0.0, 0.0], [usable.stuff.length.to_mm(), usable.stuff.width.to_mm()]);
    if !area.is_within(&board) {
        let [length, width] = area.size().map(|mm| trimmed_to(mm, 1));
        return Err(format!("{length} × {width} from {}, {} reaches beyond it", placed.x, placed.y));
    }
    let kerfs = bench.kerfs();
    let held = bench.held.iter().find(|held| (held.entry, held.number) == (usable.entry, placed.number as usize));
    let others = held.map_or(&[] as &[_], |held| &held.pieces);
    if let Some((_, other)) = others.iter().find(|(other, _)| other.grown(kerfs).common(area).is_some()) {
        return Err(format!("it and {} lie nearer than a saw cut", other.words));
    }
    let all: Vec<Area> = others.iter().map(|(area, _)| *area).chain([*area]).collect();
    let free = around(Bench::whole(usable, &all), &all, kerfs);
    free.map(|_| ()).ok_or_else(|| "no cuts from edge to edge free it from what else was placed there by hand".to_owned())
}

/// What the maker should know of a place: the flaw that lies in it, the end or edge that is not sound.
fn remark(usable: &Usable<'_>, area: &Area) -> Option<String> {
    let flaw = usable.stuff.flaws.iter().position(|flaw| area_of(flaw).common(area).is_some());
    let flaw = flaw.map(|at| {
        let what = usable.stuff.flaws.get(at).map(|flaw| flaw.what.as_str()).filter(|what| !what.is_empty()).unwrap_or("flaw");
        format!("lies over flaw {} ({what})", at + 1)
    });
    flaw.or_else(|| (!area.is_within(&usable.area)).then(|| "reaches into an end or edge that is cut off".to_owned()))
}
