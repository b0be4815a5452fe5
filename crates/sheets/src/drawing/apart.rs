//! The case taken apart, every mark once with how many there are of it, near one of its parts.

use casewright_core::model::PartId;
use casewright_core::sequence::Leg;
use casewright_core::{Model, Sequence, Solids};
use casewright_solid::Pose;
use casewright_solid::view::View;
use glam::{DVec2, DVec3};

use super::lettering::{LETTERING, width_of};
use super::page::{Anchor, Ink, Pen, Text, inside};
use super::pictures::{Frame, Moved};

/// Room at the sides of the picture, and over and under it, for marks, mm.
const ASIDE: DVec2 = DVec2::new(14.0, 5.0);
/// Between what is drawn out to the front and what stands behind it, mm of the case.
const CLEAR: f64 = 60.0;
/// So many stretches of each mark may have its leader.
const STRETCHES: usize = 24;
/// How long a leader may be, mm: the shortest that does.
const LEADERS: [f64; 8] = [4.0, 6.0, 8.5, 12.0, 16.0, 21.0, 28.0, 40.0];
/// How many ways there are for a leader to go.
const WAYS: u32 = 16;

/// The picture, within a room on paper; none of a case without parts.
pub(super) fn exploded(model: &Model, solids: &Solids, sequence: &Sequence, room: (DVec2, DVec2)) -> Option<Ink> {
    let moved = Moved::of(model, solids, &frames(model, sequence), |_| true);
    let view = moved.look();
    let frame = Frame::fit(view.bounds()?, (room.0 + ASIDE, room.1 - ASIDE));
    let mut ink = Ink::default();
    frame.lines(&mut ink, Pen::Behind, &view.seen(|_| true));
    let marked = marked(&moved, &view, &frame);
    write_marks(&mut ink, &marked, room);
    Some(ink)
}

/// Where every part stands: as the order takes it apart, but what is tipped on its way stands level before the case.
fn frames(model: &Model, sequence: &Sequence) -> Vec<Pose> {
    let tipped: Vec<bool> = model.parts.iter().map(|part| is_tipped(sequence, part.id)).collect();
    let mut frames = sequence.positions(model.parts.len(), 0.0);
    let standing = model.parts.iter().zip(&frames).zip(&tipped).filter(|(_, tipped)| !**tipped);
    let front = standing.map(|((part, frame), _)| frame.then_of(&part.pose).bounds_of(part.lwt()).1.z).fold(f64::NEG_INFINITY, f64::max);
    let back =
        model.parts.iter().zip(&tipped).filter(|(_, tipped)| **tipped).map(|(part, _)| part.block().min.z).fold(f64::INFINITY, f64::min);
    let out = Pose { origin: DVec3::Z * (front - back + CLEAR), ..Pose::IDENTITY };
    for (frame, _) in frames.iter_mut().zip(&tipped).filter(|(_, tipped)| **tipped) {
        *frame = out;
    }
    frames
}

/// Whether a part is turned on its way to its place.
fn is_tipped(sequence: &Sequence, id: PartId) -> bool {
    let mut moves = sequence.steps.iter().flat_map(|step| &step.moves).filter(|mv| mv.parts.contains(&id));
    moves.any(|mv| mv.legs.iter().any(|leg| matches!(leg, Leg::Turn { .. })))
}

/// A mark, and where on paper its parts are seen: the longest stretches of their edges, first.
struct Marked {
    words: String,
    seen: Vec<(DVec2, DVec2)>,
}

fn marked(moved: &Moved<'_>, view: &View, frame: &Frame) -> Vec<Marked> {
    let mut all: Vec<(&str, usize)> = Vec::new();
    for part in &moved.parts {
        match all.iter_mut().find(|(mark, _)| *mark == part.mark) {
            Some((_, count)) => *count += 1,
            None => all.push((&part.mark, 1)),
        }
    }
    let seen = |mark: &str| {
        let of_mark = view.stretches.iter().filter(|stretch| moved.parts[stretch.body].mark == mark);
        let mut seen: Vec<(DVec2, DVec2)> =
            of_mark.map(|stretch| (frame.at(stretch.a.truncate()), frame.at(stretch.b.truncate()))).collect();
        seen.sort_by(|a, b| b.0.distance(b.1).total_cmp(&a.0.distance(a.1)));
        seen.truncate(STRETCHES);
        seen
    };
    let told = |(mark, count): (&str, usize)| {
        let words = if count > 1 { format!("{mark} × {count}") } else { mark.to_owned() };
        Marked { words, seen: seen(mark) }
    };
    all.into_iter().map(told).filter(|marked| !marked.seen.is_empty()).collect()
}

/// Where lines run on paper: how many cells of a grid up to each have any.
struct Lines {
    from: DVec2,
    wide: usize,
    high: usize,
    sums: Vec<u32>,
}

/// Side of a cell, mm.
const CELL: f64 = 0.7;

impl Lines {
    fn of(ink: &Ink, (min, max): (DVec2, DVec2)) -> Lines {
        let size = ((max - min) / CELL).ceil().max(DVec2::ONE);
        let (wide, high) = (size.x as usize + 1, size.y as usize + 1);
        let mut lines = Lines { from: min, wide, high, sums: vec![0; (wide + 1) * (high + 1)] };
        for ends in ink.strokes.iter().flat_map(|stroke| stroke.points.windows(2)) {
            let steps = (ends[0].distance(ends[1]) / (CELL / 2.0)).ceil().max(1.0);
            for step in 0..=steps as usize {
                let (x, y) = lines.cell(ends[0].lerp(ends[1], step as f64 / steps));
                if let Some(sum) = lines.sums.get_mut((y + 1) * (wide + 1) + x + 1) {
                    *sum = 1;
                }
            }
        }
        for y in 1..=high {
            for x in 1..=wide {
                let at = |x: usize, y: usize| lines.sums.get(y * (wide + 1) + x).copied().unwrap_or_default();
                let sum = at(x, y) + at(x - 1, y) + at(x, y - 1) - at(x - 1, y - 1);
                if let Some(own) = lines.sums.get_mut(y * (wide + 1) + x) {
                    *own = sum;
                }
            }
        }
        lines
    }

    /// The cell of a place; the nearest of one outside.
    fn cell(&self, at: DVec2) -> (usize, usize) {
        let cell = ((at - self.from) / CELL).max(DVec2::ZERO);
        ((cell.x as usize).min(self.wide - 1), (cell.y as usize).min(self.high - 1))
    }

    /// In how many cells of a rectangle a line runs.
    fn within(&self, min: DVec2, max: DVec2) -> u32 {
        let ((left, top), (right, bottom)) = (self.cell(min), self.cell(max));
        let at = |x: usize, y: usize| self.sums.get(y * (self.wide + 1) + x).copied().unwrap_or_default();
        (at(right + 1, bottom + 1) + at(left, top)).saturating_sub(at(left, bottom + 1) + at(right + 1, top))
    }

    /// How many cells with lines a way crosses, without its last bit, where it meets the edge that it leads to.
    fn across(&self, from: DVec2, to: DVec2) -> u32 {
        let long = from.distance(to);
        let steps = ((long - 1.5) / CELL).max(0.0) as u32;
        let at = |step: u32| from + (to - from) * (f64::from(step) * CELL / long);
        (0..steps).map(|step| self.within(at(step), at(step))).sum()
    }
}

/// A mark where it could stand.
struct Spot {
    cost: f64,
    /// Its middle.
    words: DVec2,
    /// From its edge to the part.
    leader: (DVec2, DVec2),
}

/// Each mark as near to its part as there is room, its leader over as few lines as can be and over no other leader.
fn write_marks(ink: &mut Ink, marks: &[Marked], room: (DVec2, DVec2)) {
    let lines = Lines::of(ink, room);
    let mut rooms: Vec<(DVec2, DVec2)> = Vec::new();
    let mut leaders: Vec<(DVec2, DVec2)> = Vec::new();
    for mark in marks {
        let half = DVec2::new(width_of(&mark.words, LETTERING, false) / 2.0, LETTERING / 2.0) + 0.6;
        let free = |spot: &Spot| {
            let own = (spot.words - half, spot.words + half);
            let on_sheet = own.0.cmpge(room.0).all() && own.1.cmple(room.1).all();
            let touches = |other: &(DVec2, DVec2)| own.0.cmplt(other.1).all() && other.0.cmplt(own.1).all();
            let hit = |(a, b): (DVec2, DVec2), room: (DVec2, DVec2)| inside(a, b, room).is_some();
            on_sheet
                && !rooms.iter().any(|other| touches(other) || hit(spot.leader, *other))
                && !leaders.iter().any(|other| hit(*other, own) || cross(spot.leader, *other))
        };
        let Some(best) = nearest(&mark.seen, half, &lines, free) else { continue };
        ink.text(Text { clears: true, ..Text::new(best.words, Anchor::Middle, LETTERING, mark.words.as_str()) });
        ink.line(Pen::Thin, best.leader.0, best.leader.1);
        ink.circle(Pen::Thin, best.leader.1, 0.4);
        rooms.push((best.words - half, best.words + half));
        leaders.push(best.leader);
    }
}

/// Where a mark of half a size stands best, of all places that are free: near, with few lines under its leader and none under itself.
fn nearest(seen: &[(DVec2, DVec2)], half: DVec2, lines: &Lines, free: impl Fn(&Spot) -> bool) -> Option<Spot> {
    // Where other edges run close by the end of a leader, it is not plain which one is meant.
    let crowded = |end: DVec2| f64::from(lines.within(end - 1.2, end + 1.2).saturating_sub(5));
    let ends = seen.iter().flat_map(|(a, b)| [0.5, 0.25, 0.75].map(|share| a.lerp(*b, share)));
    let ends: Vec<(DVec2, f64)> = ends.map(|end| (end, crowded(end))).collect();
    let mut best: Option<Spot> = None;
    for long in LEADERS {
        // No longer one can be better.
        if best.as_ref().is_some_and(|best| best.cost <= long) {
            break;
        }
        for (end, crowded) in &ends {
            for way in 0..WAYS {
                let way = DVec2::from_angle(f64::from(way) * std::f64::consts::TAU / f64::from(WAYS));
                // From the edge of the words.
                let reach = (half / way.abs().max(DVec2::splat(1e-9))).min_element();
                let (words, leader) = (*end + way * (long + reach), (*end + way * long, *end));
                let worst = best.as_ref().map_or(f64::INFINITY, |best| best.cost);
                let near = long + crowded + 2.0 * f64::from(lines.within(words - half, words + half));
                if near >= worst {
                    continue;
                }
                let spot = Spot { cost: near + 0.8 * f64::from(lines.across(leader.0, leader.1)), words, leader };
                if spot.cost < worst && free(&spot) {
                    best = Some(spot);
                }
            }
        }
    }
    best
}

/// Whether two lines cross.
fn cross(one: (DVec2, DVec2), other: (DVec2, DVec2)) -> bool {
    let side = |(a, b): (DVec2, DVec2), at: DVec2| (b - a).perp_dot(at - a);
    side(one, other.0) * side(one, other.1) < 0.0 && side(other, one.0) * side(other, one.1) < 0.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use casewright_core::model::PartKind;
    use casewright_core::{ShapeCache, derive};

    /// The slats of the demo are tipped in between the standards: here they lie as they will lie on their cleats, before all else.
    #[test]
    fn shelves_lie_level_before_the_case() {
        let design = casewright_core::design::text::read(include_str!("../../../../examples/records_cabinet.ron")).expect("the demo");
        let model = derive(&design).expect("the demo");
        let order = Sequence::of(&design, &model, &ShapeCache::default().shape(&model));
        let frames = frames(&model, &order);
        let bounds = |index: usize| frames[index].then_of(&model.parts[index].pose).bounds_of(model.parts[index].lwt());
        let slats: Vec<usize> = (0..model.parts.len()).filter(|index| model.parts[*index].kind == PartKind::Slat).collect();
        assert!(slats.iter().all(|slat| frames[*slat].basis == Pose::IDENTITY.basis));
        let stands = |index: &usize| !is_tipped(&order, model.parts[*index].id);
        let front = (0..model.parts.len()).filter(stands).map(|index| bounds(index).1.z).fold(f64::NEG_INFINITY, f64::max);
        assert!(slats.iter().all(|slat| bounds(*slat).0.z > front));
    }
}
