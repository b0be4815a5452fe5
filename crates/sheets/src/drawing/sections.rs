//! Sections through the whole case: level, looking down, and upright, looking as the side view does.

use casewright_core::model::{Part, PartKind, Role};
use casewright_core::place::Block;
use casewright_core::{Model, Solids};
use casewright_solid::view::Looking;
use glam::DVec2;

use super::book::Book;
use super::drafting::Drafting;
use super::drawn::{Drawn, Measured, Places, Stretch};
use super::from::{From, Standing};
use super::hatch;
use super::page::{Anchor, Pen, Text};
use super::rows::Beside;
use super::views::{once, span};

/// A plane through the case.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Plane {
    /// From where what it leaves is looked at.
    pub from: From,
    /// Where it lies on the axis toward the viewer, mm in the case.
    pub at: f64,
    /// Its letter.
    pub letter: char,
}

/// Where the case is cut: level through a room and no rail, upright through a bay and what holds the top there; none of a case without parts.
pub(super) fn planes(model: &Model, side_from: From) -> Vec<Plane> {
    let Some(bounds) = model.bounds else { return Vec::new() };
    let level = level(model, &bounds);
    let bay = model.bays.iter().map(|bay| bay.space).max_by(|a, b| (a.max.x - a.min.x).total_cmp(&(b.max.x - b.min.x)));
    // Beside the middle, where figures stand, and through what holds the top there.
    let upright = bay.map_or(bounds.centre().x, |bay| {
        let beside = bay.min.x + 0.3 * (bay.max.x - bay.min.x);
        let held = model.joints.iter().filter(|joint| matches!(joint.role, Role::ButtonToRail | Role::FixingToRail));
        let along = held.filter(|joint| joint.contact.into.axis() != 0).map(|joint| joint.contact.centre.x);
        let in_bay = along.filter(|x| *x > bay.min.x + 5.0 && *x < f64::midpoint(bay.min.x, bay.max.x) - 5.0);
        in_bay.min_by(|a, b| (a - beside).abs().total_cmp(&(b - beside).abs())).unwrap_or(beside)
    });
    vec![Plane { from: From::Above, at: level, letter: 'A' }, Plane { from: side_from, at: upright, letter: 'B' }]
}

/// A height in the middle half of the case at which little is cut along its grain: no rail, shelf or cleat.
fn level(model: &Model, bounds: &Block) -> f64 {
    let (low, size) = (bounds.min.y, bounds.max.y - bounds.min.y);
    let lies = |part: &&Part| {
        let block = part.block();
        let size = block.max - block.min;
        size.y < size.x.max(size.z)
    };
    let blocks: Vec<Block> = model.parts.iter().filter(lies).map(Part::block).collect();
    let cut = |at: f64| blocks.iter().filter(|block| block.min.y - 2.0 < at && at < block.max.y + 2.0).count();
    let places: Vec<f64> = (0..=60).map(|step| low + size * (0.3 + 0.4 * f64::from(step) / 60.0)).collect();
    let middle = low + size / 2.0;
    places.into_iter().min_by(|a, b| cut(*a).cmp(&cut(*b)).then((a - middle).abs().total_cmp(&(b - middle).abs()))).unwrap_or(middle)
}

/// A section, seen once and drawn at any scale.
pub(super) struct Section<'m> {
    pub plane: Plane,
    model: &'m Model,
    standing: Standing<'m>,
    view: casewright_solid::view::View,
}

impl<'m> Section<'m> {
    /// Cuts the case.
    pub fn cut(model: &'m Model, solids: &'m Solids, plane: Plane) -> Section<'m> {
        let (axis, sign) = plane.from.near();
        // What is wholly cut away need not be looked at.
        let stays = |part: &Part| {
            let block = part.block();
            (block.min[axis] * sign).min(block.max[axis] * sign) < plane.at * sign
        };
        let standing = Standing::of(model, solids, stays);
        let view = standing.look(plane.from, Looking { cut_at: Some(plane.at * sign), hidden: false });
        Section { plane, model, standing, view }
    }

    /// What it takes, mm of the view.
    pub fn bounds(&self) -> Option<(DVec2, DVec2)> {
        self.plane.from.bounds(self.standing.parts.iter().map(|part| part.block()))
    }

    /// Draws it with its dimensions.
    pub fn draw<'d>(&self, drafting: &'d Drafting, scale: f64, book: &mut Book) -> Option<Drawn<'d>> {
        let mut drawn = Drawn::new(drafting, self.plane.from, scale, self.bounds()?);
        drawn.lines(Pen::Behind, &self.view.seen(|_| true));
        hatch::draw(&mut drawn, self.model, &self.standing, &self.view.cuts);
        if let Some(posts) = span(self.model, |part| part.kind == PartKind::Post) {
            match self.plane.from {
                From::Above => self.level(&mut drawn, &posts, book),
                From::Front | From::Left | From::Right => self.upright(&mut drawn, &posts, book),
            }
        }
        drawn.heading(&format!("Section {0}–{0}, {1}", self.plane.letter, super::scale_words(scale)));
        Some(drawn)
    }

    /// Parts of kinds that are seen or cut, along the view's own axis 0 or 1.
    fn members(&self, kinds: &[PartKind], axis: usize, edge: f64) -> Vec<Stretch> {
        let parts = self.standing.parts.iter().filter(|part| kinds.contains(&part.kind));
        let mut members: Vec<Stretch> = parts
            .map(|part| self.plane.from.block(&part.body()))
            .filter(|(min, max)| max[axis] - min[axis] < 400.0)
            .map(|(min, max)| Stretch::new(min[axis], max[axis], edge))
            .collect();
        once(&mut members);
        members
    }

    /// How thick rails and panels are and how far they stand back, all round.
    fn level(&self, drawn: &mut Drawn<'_>, posts: &Block, book: &mut Book) {
        let (left, back) = (posts.min.x, -posts.min.z);
        let (low, high) = drawn.bounds;
        let thin = |kind: PartKind, deep: bool| {
            let parts = self.standing.parts.iter().filter(move |part| part.kind == kind);
            let across = move |block: &Block| if deep { block.max.z - block.min.z } else { block.max.x - block.min.x };
            // Those that run the other way are seen along their length here.
            parts.map(|part| part.body()).filter(move |block| across(block) < 60.0)
        };
        let kinds = [PartKind::Rail, PartKind::CrossRail, PartKind::Panel, PartKind::Stile, PartKind::Muntin];
        let mut deep: Vec<Stretch> =
            kinds.iter().flat_map(|kind| thin(*kind, true)).map(|block| Stretch::new(-block.max.z, -block.min.z, low.x)).collect();
        let mut wide: Vec<Stretch> =
            kinds.iter().flat_map(|kind| thin(*kind, false)).map(|block| Stretch::new(block.min.x, block.max.x, low.y)).collect();
        once(&mut deep);
        once(&mut wide);
        let measured = |beside, datum, members| Measured { beside, datum, overall: None, members, places: Places::Gaps, openings: false };
        drawn.measure(book, &measured(Beside::Left, (back, low.x), deep));
        drawn.measure(book, &measured(Beside::Below, (left, low.y), wide));
        if let Some(room) = self.model.rooms.first() {
            let clear = Stretch::new(-room.space.max.z, -room.space.min.z, high.x);
            drawn.measure(book, &measured(Beside::Right, (back, high.x), vec![clear]));
        }
    }

    /// How thick floor and shelves are.
    fn upright(&self, drawn: &mut Drawn<'_>, posts: &Block, book: &mut Book) {
        let (low, _) = drawn.bounds;
        let mut members = self.members(&[PartKind::Floor, PartKind::Rail, PartKind::CrossRail, PartKind::Bearer], 1, low.x);
        // One shelf stands for all of its kind.
        members.extend(self.members(&[PartKind::Slat, PartKind::Shelf], 1, low.x).first().copied());
        once(&mut members);
        let datum = (posts.min.y, low.x);
        drawn.measure(book, &Measured { beside: Beside::Left, datum, overall: None, members, places: Places::Gaps, openings: false });
    }
}

/// Marks in a view where a plane cuts: a wide stroke at either end, an arrow the way one looks, the letter.
pub(super) fn mark(drawn: &mut Drawn<'_>, plane: &Plane) {
    let (axis, _) = plane.from.near();
    let (min, max) = drawn.bounds;
    let (a, b) = (drawn.at(min), drawn.at(max));
    let (low, high) = (a.min(b), a.max(b));
    let upright = drawn.from.across().0 == axis;
    let place = plane.at * if upright { drawn.from.across().1 } else { drawn.from.up().1 };
    // The viewer stands where the plane's near axis points to; one looks against it.
    let looks = -plane.from.near().1;
    let (way, ends) = if upright {
        let x = drawn.at(DVec2::new(place, 0.0)).x;
        (DVec2::new(looks * drawn.from.across().1, 0.0), [(DVec2::new(x, low.y), -DVec2::Y), (DVec2::new(x, high.y), DVec2::Y)])
    } else {
        let y = drawn.at(DVec2::new(0.0, place)).y;
        (DVec2::new(0.0, -looks * drawn.from.up().1), [(DVec2::new(low.x, y), -DVec2::X), (DVec2::new(high.x, y), DVec2::X)])
    };
    for (end, out) in ends {
        draw_end(drawn, plane.letter, end, (out, way));
    }
}

/// How far from the view the wide stroke of a cutting plane begins and ends, mm: there if there is room, else nearer and shorter, else beyond what stands there.
const STROKES: [(f64, f64); 2] = [(0.8, 4.4), (0.4, 2.6)];

/// One end of a cutting plane, where it touches no figures: both ends have their letter (ISO 128).
fn draw_end(drawn: &mut Drawn<'_>, letter: char, end: DVec2, (out, way): (DVec2, DVec2)) {
    let at = |(from, to): (f64, f64)| {
        let (from, to) = (end + out * from, end + out * to);
        let letter = Text { bold: true, clears: true, ..Text::new(to - way * 2.6, Anchor::Middle, super::lettering::LETTERING, letter) };
        (from, to, letter)
    };
    let is_free = |stroke: &(f64, f64)| {
        let (_, to, letter) = at(*stroke);
        let tip = to + way * 3.2;
        let (low, high) = (letter.room().0.min(tip) - 0.4, letter.room().1.max(tip) + 0.4);
        !drawn.ink.texts.iter().map(Text::room).any(|room| room.0.cmplt(high).all() && low.cmplt(room.1).all())
    };
    let beyond = (0..60).map(|step| f64::from(step) + 1.0).map(|more| (0.8 + more, 4.4 + more));
    let stroke = STROKES.into_iter().chain(beyond).find(is_free).unwrap_or(STROKES[0]);
    let (from, to, letter) = at(stroke);
    let tip = to + way * 3.2;
    drawn.ink.line(Pen::Edge, from, to);
    drawn.ink.line(Pen::Thin, to, tip);
    for side in [1.0, -1.0] {
        drawn.ink.line(Pen::Thin, tip, tip - way * 1.3 + way.perp() * 0.45 * side);
    }
    drawn.ink.text(letter);
}
