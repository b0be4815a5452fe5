//! A face of a part: what is cut there, its figures from the ring, its letters, its name, and the way of its grain.

use glam::{DVec2, DVec3};

use super::super::drafting::Drafting;
use super::super::drawn::wrapped;
use super::super::lettering::{LETTERING, width_of};
use super::super::page::{Anchor, Dimension, Ink, Pen, Text, inside};
use super::super::rows::{Beside, Figure, Row, Span, Stop, spread};
use super::face::Facing;
use super::one::{LINE, Said, letter};
use super::plan::Seen;

/// From a view to its figures, mm.
const FIRST: f64 = 6.0;
/// A view lower or narrower than this has its letters above it, mm.
const LOW: f64 = 22.0;
/// A name beside its view is no wider than this, mm, unless a word is.
const BESIDE: f64 = 24.0;

/// Where the name of a view stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Naming {
    /// To its right, where the sheet is wide enough for both.
    Beside,
    /// Over it: the view has the width of the sheet.
    Over,
}

/// A face while it is drawn, from its upper left corner.
pub(super) struct View<'v> {
    pub seen: &'v Seen,
    /// The edges that are seen, full size.
    pub outline: &'v [(DVec2, DVec2)],
    pub size: DVec3,
    pub scale: f64,
    /// What it is called.
    pub name: String,
    pub naming: Naming,
    pub drafting: &'v Drafting,
}

/// Where something is measured to on one axis, and as what.
struct Mark {
    at: f64,
    middle: bool,
    /// The places of the cuts it belongs to, on paper.
    cuts: Vec<DVec2>,
}

impl View<'_> {
    fn facing(&self) -> Facing {
        Facing::at(self.seen.face)
    }

    fn paper(&self, at: DVec3) -> DVec2 {
        self.facing().paper(at, self.size, self.scale)
    }

    fn extent(&self) -> DVec2 {
        self.facing().extent(self.size) / self.scale
    }

    /// The face with its figures, its letters and its name; says which of length, width and thickness were said.
    pub fn draw(&self, said: &mut Said) -> Ink {
        let mut ink = Ink::default();
        for (a, b) in self.outline {
            ink.line(Pen::Edge, *a / self.scale, *b / self.scale);
        }
        self.across(&mut ink, said);
        self.upward(&mut ink, said);
        self.letters(&mut ink);
        self.write_name(&mut ink);
        ink
    }

    /// The lines of its name, and where they begin on paper.
    fn name_lines(&self, ink: &Ink) -> Vec<(DVec2, String)> {
        let extent = self.extent();
        let (wide, first) = match self.naming {
            Naming::Beside => (BESIDE, DVec2::new(extent.x + 2.5, extent.y / 2.0)),
            Naming::Over => (extent.x.max(BESIDE), DVec2::new(0.0, ink.room().unwrap_or_default().0.y.min(0.0) - 1.4 - LETTERING / 2.0)),
        };
        let lines = wrapped(&self.name, wide, LETTERING);
        let up = match self.naming {
            Naming::Beside => 0,
            Naming::Over => lines.len().saturating_sub(1),
        };
        let placed = |(number, line): (usize, String)| (first + DVec2::new(0.0, (number as f64 - up as f64) * LINE), line);
        lines.into_iter().enumerate().map(placed).collect()
    }

    fn write_name(&self, ink: &mut Ink) {
        for (at, line) in self.name_lines(ink) {
            ink.text(Text::new(at, Anchor::Start, LETTERING, line));
        }
    }

    /// What is measured to on an axis, each place once.
    fn marks(&self, axis: usize) -> Vec<Mark> {
        let mut marks: Vec<Mark> = Vec::new();
        for (_, on) in &self.seen.cuts {
            for place in on.places.iter().filter(|place| place.axis == axis) {
                let at = self.paper(on.at);
                match marks.iter_mut().find(|mark| (mark.at - place.at).abs() < 5e-3) {
                    Some(mark) => {
                        mark.cuts.push(at);
                        mark.middle |= place.middle;
                    }
                    None => marks.push(Mark { at: place.at, middle: place.middle, cuts: vec![at] }),
                }
            }
        }
        marks
    }

    fn figure(&self, axis: usize, to: f64) -> Figure {
        Figure { text: self.drafting.exact(to), dimension: Dimension { axis, from: 0.0, to, auxiliary: false, text: 0 } }
    }

    /// A place of an axis on paper.
    fn on_axis(&self, axis: usize, at: f64) -> DVec2 {
        let mut place = DVec3::ZERO;
        place[axis] = at;
        self.paper(place)
    }

    /// Figures below, along what runs to the right.
    fn across(&self, ink: &mut Ink, said: &mut Said) {
        let (axis, extent) = (self.facing().right.0, self.extent());
        let mut stops: Vec<(Stop, Figure)> = Vec::new();
        for mark in self.marks(axis) {
            let at = self.on_axis(axis, mark.at).x;
            // From the lowest cut that has it: nothing of it lies nearer to the figures.
            let edge = mark.cuts.iter().map(|cut| cut.y).fold(0.0, f64::max);
            stops.push((Stop { at, edge }, self.figure(axis, mark.at)));
        }
        let datum = Stop { at: self.on_axis(axis, 0.0).x, edge: extent.y };
        let far = Stop { at: self.on_axis(axis, self.size[axis]).x, edge: extent.y };
        self.row(ink, Row { beside: Beside::Below, line: extent.y + FIRST }, (axis, datum, far), stops, said);
    }

    /// Figures at the left, along what runs up. A middle has its line from the left edge to the last of its cuts, as a gauge draws it.
    fn upward(&self, ink: &mut Ink, said: &mut Said) {
        let axis = self.facing().up.0;
        let mut stops: Vec<(Stop, Figure)> = Vec::new();
        for mark in self.marks(axis) {
            let at = self.on_axis(axis, mark.at).y;
            let (near, last) = mark.cuts.iter().fold((f64::INFINITY, 0.0_f64), |(near, last), at| (near.min(at.x), last.max(at.x)));
            if mark.middle {
                ink.line(Pen::Centre, DVec2::new(0.0, at), DVec2::new(last, at));
            }
            stops.push((Stop { at, edge: if mark.middle { 0.0 } else { near } }, self.figure(axis, mark.at)));
        }
        let datum = Stop { at: self.on_axis(axis, 0.0).y, edge: 0.0 };
        let far = Stop { at: self.on_axis(axis, self.size[axis]).y, edge: 0.0 };
        self.row(ink, Row { beside: Beside::Left, line: -FIRST }, (axis, datum, far), stops, said);
    }

    /// A row of figures from a datum, with the whole where it was not said.
    fn row(&self, ink: &mut Ink, row: Row, (axis, datum, far): (usize, Stop, Stop), mut stops: Vec<(Stop, Figure)>, said: &mut Said) {
        let whole = (!said[axis]).then(|| self.figure(axis, self.size[axis]));
        said[axis] = true;
        match whole {
            Some(figure) if stops.is_empty() => {
                row.chain(ink, &[Span { a: datum, b: far, figure }]);
            }
            Some(figure) => {
                stops.push((far, figure));
                row.running(ink, datum, &stops);
            }
            None if stops.is_empty() => {}
            None => {
                row.running(ink, datum, &stops);
            }
        }
    }

    /// The letters of the cuts: above a low or narrow view, else beside each cut.
    fn letters(&self, ink: &mut Ink) {
        let extent = self.extent();
        let low = extent.min_element() < LOW;
        let mut tags: Vec<(String, Vec<DVec2>)> = Vec::new();
        for (key, on) in &self.seen.cuts {
            let (letter, at) = (letter(*key), self.paper(on.at));
            match tags.iter_mut().find(|(own, cuts)| low && *own == letter && cuts.iter().any(|cut| (cut.x - at.x).abs() < 0.3)) {
                Some((_, cuts)) => cuts.push(at),
                None => tags.push((letter, vec![at])),
            }
        }
        if !low {
            for (letter, cuts) in tags {
                for cut in cuts {
                    self.letter_beside(ink, &letter, cut);
                }
            }
            return;
        }
        tags.sort_by(|a, b| a.1[0].x.total_cmp(&b.1[0].x));
        let mut places: Vec<f64> = tags.iter().map(|(_, cuts)| cuts[0].x).collect();
        spread(&mut places, LETTERING + 1.0);
        for ((letter, cuts), x) in tags.into_iter().zip(places) {
            let at = DVec2::new(x, -2.6 - LETTERING / 2.0);
            let deepest = cuts.iter().copied().max_by(|a, b| a.y.total_cmp(&b.y)).unwrap_or(at);
            ink.line(Pen::Thin, at + DVec2::Y * (LETTERING / 2.0 + 0.5), deepest);
            ink.text(Text { clears: true, ..Text::new(at, Anchor::Middle, LETTERING, letter) });
        }
    }

    /// Beside a cut, where no words are, within the face if there is room.
    fn letter_beside(&self, ink: &mut Ink, letter: &str, cut: DVec2) {
        let extent = self.extent();
        let ways = [(1.0, -1.0), (-1.0, -1.0), (1.0, 1.0), (-1.0, 1.0), (0.0, -1.3), (0.0, 1.3), (1.6, 0.0), (-1.6, 0.0)];
        let spots = [4.0, 6.5, 9.0].into_iter().flat_map(|far| ways.map(|(x, y)| cut + DVec2::new(x, y) * far));
        let half = DVec2::new(width_of(letter, LETTERING, false) / 2.0 + 0.6, LETTERING / 2.0 + 0.6);
        let free = |spot: &DVec2| {
            let inside = (*spot - half).cmpgt(DVec2::splat(0.5)).all() && (*spot + half).cmplt(extent - 0.5).all();
            let taken = |room: (DVec2, DVec2)| room.0.cmplt(*spot + half).all() && (*spot - half).cmplt(room.1).all();
            inside && !ink.texts.iter().map(Text::room).any(taken)
        };
        let spot = spots.clone().find(free).unwrap_or(cut + DVec2::new(4.0, -4.0));
        let way = (spot - cut).normalize_or_zero();
        ink.line(Pen::Thin, cut, spot - way * (LETTERING / 2.0 + 0.5));
        ink.text(Text { clears: true, ..Text::new(spot, Anchor::Middle, LETTERING, letter) });
    }

    /// An arrow along the grain on the face, where nothing is cut and no words are; says whether there was room for it.
    pub fn grain(&self, ink: &mut Ink) -> bool {
        let extent = self.extent();
        if extent.x < 3.0 * ARROW.x || extent.y < 2.0 * ARROW.y + 0.6 {
            return false;
        }
        let spots = [0.5, 0.42, 0.58, 0.34, 0.66, 0.25, 0.75, 0.16, 0.84].into_iter();
        let mut spots = spots.flat_map(|x| [0.5, 0.3, 0.7].map(|y| extent * DVec2::new(x, y)));
        let spot = spots.find(|spot| is_free(ink, *spot));
        spot.inspect(|spot| arrow(ink, *spot)).is_some()
    }

    /// The same beside the face, by the name of the view: the first end lies at the left there too.
    pub fn grain_beside(&self, ink: &mut Ink) {
        let (min, max) = ink.texts.last().map(Text::room).unwrap_or_default();
        let first = DVec2::new(self.extent().x + 2.5 + ARROW.x, self.extent().y / 2.0);
        let after = DVec2::new(max.x + 2.5 + ARROW.x, f64::midpoint(min.y, max.y));
        let spots = match self.naming {
            Naming::Beside => vec![first - DVec2::Y * LINE, DVec2::new(first.x, after.y + LINE), after],
            Naming::Over => vec![after],
        };
        let spot = spots.into_iter().find(|spot| is_free(ink, *spot)).unwrap_or(after);
        arrow(ink, spot);
    }
}

/// Half the length of an arrow along the grain, and how far its heads reach aside with the room they need, mm.
const ARROW: DVec2 = DVec2::new(6.0, 1.2);

/// Whether an arrow about a spot would cross nothing.
fn is_free(ink: &Ink, spot: DVec2) -> bool {
    let (min, max) = (spot - ARROW - 0.4, spot + ARROW + 0.4);
    let mut lines = ink.strokes.iter().flat_map(|stroke| stroke.points.windows(2));
    let mut words = ink.texts.iter().map(Text::room);
    !lines.any(|ends| inside(ends[0], ends[1], (min, max)).is_some()) && !words.any(|(a, b)| a.cmplt(max).all() && min.cmplt(b).all())
}

fn arrow(ink: &mut Ink, spot: DVec2) {
    let (a, b) = (spot - DVec2::X * ARROW.x, spot + DVec2::X * ARROW.x);
    ink.line(Pen::Thin, a, b);
    for (tip, back) in [(a, 1.0), (b, -1.0)] {
        for side in [-0.8, 0.8] {
            ink.line(Pen::Thin, tip, tip + DVec2::new(2.0 * back, side));
        }
    }
}
