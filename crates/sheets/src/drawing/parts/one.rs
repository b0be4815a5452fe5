//! One part: its faces under each other, its ends beside each other, and what its letters stand for.

use casewright_core::cutlist::Row as Listed;
use casewright_core::mirrored::Pair;
use casewright_core::model::Material;
use casewright_core::sentence::capital;
use casewright_core::{Model, Solids};
use casewright_solid::Shape;
use glam::{DVec2, DVec3};

use super::super::drafting::{Drafting, SCALES};
use super::super::drawn::wrapped;
use super::super::lettering::{LETTERING, width_of};
use super::super::page::{Anchor, Dimension, Ink, Pen, Text};
use super::super::rows::{Beside, Figure, Row, Span, Stop, spread};
use super::super::{frame, scale_words};
use super::LONGEST;
use super::face::Facing;
use super::plan::{Key, Plan, Seen};
use crate::lists::titled;

/// From a view to its figures, mm.
const FIRST: f64 = 6.0;
/// Between views, mm.
const APART: f64 = 4.0;
/// Room for names and figures beside a view, mm.
const BESIDE: f64 = 75.0;
/// A part with few figures is drawn no longer and no wider than this, mm.
const FEW: DVec2 = DVec2::new(150.0, 62.0);
/// So many letters and places are few.
const FEW_FIGURES: usize = 9;
/// What is narrower than this is not drawn smaller than it must be, mm.
const SLENDER: f64 = 5.5;
/// An end is drawn no larger than this, mm.
const END: f64 = 58.0;
/// A view lower or narrower than this has its letters above it, mm.
const LOW: f64 = 22.0;
/// From one line of words to the next, mm.
const LINE: f64 = LETTERING + 1.5;

/// Which of length, width and thickness were said.
type Said = [bool; 3];

/// Draws a part as large as `fits` lets it; gives its scale too. None where it has no solid.
pub(super) fn draw(
    model: &Model,
    solids: &Solids,
    drafting: &Drafting,
    pair: &Pair<'_>,
    fits: impl Fn(&Ink) -> bool,
) -> Option<(f64, Ink)> {
    let part = model.part(*pair.row.parts.first()?);
    let shape: &Shape = solids.shape(part.id)?;
    let plan = Plan::of(part, drafting);
    let largest = scale(part.lwt(), &plan, drafting);
    let mut last = None;
    for scale in SCALES.into_iter().filter(|scale| *scale >= largest) {
        let ink = at_scale(model, shape, drafting, pair, (&plan, scale))?;
        let goes = fits(&ink);
        last = Some((scale, ink));
        if goes {
            break;
        }
    }
    last
}

fn at_scale(model: &Model, shape: &Shape, drafting: &Drafting, pair: &Pair<'_>, (plan, scale): (&Plan, f64)) -> Option<Ink> {
    let part = model.part(*pair.row.parts.first()?);
    let size = part.lwt();
    let mut said = [false; 3];
    let mut ink = Ink::default();
    let mut below = 0.0;
    let grain = !matches!(part.material, Material::Bought(_)) && model.timbers.grain(&part.material) != "none";
    for (number, seen) in plan.sides.iter().enumerate() {
        let view = View { seen, facing: Facing::at(seen.face), size, scale, drafting };
        let own = view.draw(shape, &mut said, grain && number == 0, None);
        let room = own.room().unwrap_or_default();
        ink.add(own, DVec2::new(0.0, below - room.0.y));
        below += room.1.y - room.0.y + APART;
    }
    let room = ink.room().unwrap_or_default();
    let (left, mut right) = (room.0.x, room.0.x);
    let mut deepest = below;
    for seen in &plan.ends {
        let scale = end_scale(size);
        let view = View { seen, facing: Facing::at(seen.face), size, scale, drafting };
        let own = view.draw(shape, &mut said, false, Some(scale));
        let room = own.room().unwrap_or_default();
        ink.add(own, DVec2::new(right - room.0.x, below - room.0.y));
        right += room.1.x - room.0.x + 2.0 * APART;
        deepest = deepest.max(below + room.1.y - room.0.y + APART);
    }
    let wide = (room.1.x - room.0.x).max(105.0);
    let beside = !plan.ends.is_empty() && left + wide - right > 85.0;
    let (at, room) = if beside { (DVec2::new(right, below), left + wide - right) } else { (DVec2::new(left, deepest), wide) };
    letters(&mut ink, &plan.keys, at + DVec2::Y * LETTERING / 2.0, room, &unsaid(size, said, drafting));
    let top = ink.room().unwrap_or_default().0.y;
    let headed = heading(model, pair, drafting, scale, wide);
    let foot = headed.room().unwrap_or_default().1.y;
    let mut all = Ink::default();
    all.add(headed, DVec2::new(left, 0.0));
    all.add(ink, DVec2::new(0.0, foot + 3.0 - top));
    Some(all)
}

/// The largest scale of the series at which a part goes on the sheet; smaller where there is little to say, as long as its cuts can be told apart.
fn scale(size: DVec3, plan: &Plan, drafting: &Drafting) -> f64 {
    let (min, max) = frame::room(drafting.sheet.size());
    let most = DVec2::new(max.x - min.x - BESIDE, (max.y - min.y) * 0.4);
    let largest = |most: DVec2| {
        let fits = |scale: &f64| size.x / scale <= most.x && size.y.max(size.z) / scale <= most.y;
        SCALES.into_iter().find(fits).unwrap_or(SCALES[SCALES.len() - 1])
    };
    let small = largest(most.min(FEW));
    let clear = plan.keys.is_empty() || size.y.max(size.z) / small >= SLENDER;
    if plan.figures() <= FEW_FIGURES && clear { small } else { largest(most) }
}

fn end_scale(size: DVec3) -> f64 {
    SCALES.into_iter().find(|scale| size.y.max(size.z) / scale <= END).unwrap_or(SCALES[SCALES.len() - 1])
}

/// A letter for a key, by its number: a to z, then aa.
fn letter(number: usize) -> String {
    let last = char::from(b'a' + (number % 26) as u8);
    if number < 26 { last.to_string() } else { format!("{}{last}", letter(number / 26 - 1)) }
}

/// A face while it is drawn, from its upper left corner.
struct View<'v> {
    seen: &'v Seen,
    facing: Facing,
    size: DVec3,
    scale: f64,
    drafting: &'v Drafting,
}

/// Where something is measured to on one axis, and as what.
struct Mark {
    at: f64,
    middle: bool,
    /// The places of the cuts it belongs to, on paper.
    cuts: Vec<DVec2>,
}

impl View<'_> {
    fn paper(&self, at: DVec3) -> DVec2 {
        self.facing.paper(at, self.size, self.scale)
    }

    fn extent(&self) -> DVec2 {
        self.facing.extent(self.size) / self.scale
    }

    fn draw(&self, shape: &Shape, said: &mut Said, grain: bool, own_scale: Option<f64>) -> Ink {
        let mut ink = Ink::default();
        for (a, b) in self.facing.lines(shape, self.size, self.scale) {
            ink.line(Pen::Edge, a, b);
        }
        self.across(&mut ink, said);
        self.upward(&mut ink, said);
        self.letters(&mut ink);
        if grain {
            self.grain(&mut ink);
        }
        let extent = self.extent();
        let alike = self.seen.alike.map(|face| format!(", {} alike", face.words())).unwrap_or_default();
        let scale = own_scale.map(|scale| format!(", {}", scale_words(scale))).unwrap_or_default();
        let name = capital(&format!("{}{alike}{scale}", self.seen.face.words()));
        for (number, line) in wrapped(&name, 24.0, LETTERING).into_iter().enumerate() {
            let at = DVec2::new(extent.x + 2.5, extent.y / 2.0 + number as f64 * LINE);
            ink.text(Text::new(at, Anchor::Start, LETTERING, line));
        }
        ink
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
        let (axis, extent) = (self.facing.right.0, self.extent());
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
        let axis = self.facing.up.0;
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

    /// An arrow along the grain, where nothing is cut and no words are.
    fn grain(&self, ink: &mut Ink) {
        let (extent, half) = (self.extent(), DVec2::new(6.0, 1.2));
        if extent.x < 3.0 * half.x || extent.y < 2.0 * half.y + 0.6 {
            return;
        }
        let spots = [0.5, 0.42, 0.58, 0.34, 0.66, 0.25, 0.75, 0.16, 0.84].into_iter();
        let spots = spots.flat_map(|x| [0.5, 0.3, 0.7].map(|y| extent * DVec2::new(x, y)));
        let free = |spot: &DVec2| {
            let (min, max) = (*spot - half - 0.4, *spot + half + 0.4);
            let crosses = |a: DVec2, b: DVec2| super::super::page::inside(a, b, (min, max)).is_some();
            let lines = ink.strokes.iter().flat_map(|stroke| stroke.points.windows(2));
            let mut words = ink.texts.iter().map(Text::room);
            !lines.into_iter().any(|ends| crosses(ends[0], ends[1])) && !words.any(|(a, b)| a.cmplt(max).all() && min.cmplt(b).all())
        };
        let Some(spot) = spots.clone().find(free) else { return };
        let (a, b) = (spot - DVec2::X * half.x, spot + DVec2::X * half.x);
        ink.line(Pen::Thin, a, b);
        for (tip, back) in [(a, 1.0), (b, -1.0)] {
            for side in [-0.8, 0.8] {
                ink.line(Pen::Thin, tip, tip + DVec2::new(2.0 * back, side));
            }
        }
    }
}

/// Sizes that no view says: "20 thick".
fn unsaid(size: DVec3, said: Said, drafting: &Drafting) -> Vec<(String, Dimension)> {
    let words = ["long", "wide", "thick"];
    let missing = (0..3).filter(|axis| !said[*axis]);
    let told = missing.map(|axis| {
        let figure = drafting.exact(size[axis]);
        (format!("{figure} {}", words[axis]), Dimension { axis, from: 0.0, to: size[axis], auxiliary: false, text: 0 })
    });
    told.collect()
}

/// What the letters stand for, a line each or more, with what their figures say.
fn letters(ink: &mut Ink, keys: &[Key], at: DVec2, wide: f64, unsaid: &[(String, Dimension)]) {
    let mut y = at.y;
    for (words, dimension) in unsaid {
        let text = ink.text(Text::new(DVec2::new(at.x, y), Anchor::Start, LETTERING, capital(words)));
        ink.dimensions.push(Dimension { text, ..*dimension });
        y += LINE;
    }
    let indent = 5.0;
    for (number, key) in keys.iter().enumerate() {
        ink.text(Text::new(DVec2::new(at.x, y), Anchor::Start, LETTERING, letter(number)));
        let count = if key.count > 1 { format!("{} × ", key.count) } else { String::new() };
        let lines: Vec<(usize, String)> = wrapped(&format!("{count}{}", key.words), (wide - indent).min(LONGEST), LETTERING)
            .into_iter()
            .map(|line| {
                let text = ink.text(Text::new(DVec2::new(at.x + indent, y), Anchor::Start, LETTERING, line.clone()));
                y += LINE;
                (text, line)
            })
            .collect();
        for size in &key.sizes {
            let Some((text, _)) = lines.iter().find(|(_, line)| says(line, &size.figure)) else { continue };
            ink.dimensions.push(Dimension { axis: size.axis, from: size.from, to: size.to, auxiliary: false, text: *text });
        }
    }
}

/// Whether a figure stands among words as one.
fn says(words: &str, figure: &str) -> bool {
    let part_of_figure = |c: char| c.is_ascii_digit() || c == '.' || c == ',';
    words.split(|c: char| !part_of_figure(c)).any(|own| own.trim_end_matches(['.', ',']) == figure)
}

/// Mark and what it is, how many, size and timber; then the mirror image.
fn heading(model: &Model, pair: &Pair<'_>, drafting: &Drafting, scale: f64, wide: f64) -> Ink {
    let mut ink = Ink::default();
    let mut y = 0.0;
    let mut line = |mark: &str, words: &str| {
        ink.text(Text { bold: true, ..Text::new(DVec2::new(0.0, y), Anchor::Start, 3.5, mark) });
        let indent = width_of(mark, 3.5, true) + 2.5;
        for part in wrapped(words, (wide - indent).clamp(60.0, LONGEST), LETTERING) {
            ink.text(Text::new(DVec2::new(indent, y), Anchor::Start, LETTERING, part));
            y += LINE;
        }
        y += 0.8;
    };
    let row = pair.row;
    let size = row.finished.map(|mm| drafting.exact(mm)).join(" × ");
    let faces = format!("face side {}, face edge {}", row.face_side, row.face_edge);
    let made_of = model.timbers.name(&row.material);
    line(&row.mark, &format!("{}: {}; ({size}); {made_of}; {faces}; {}", titled(row), pieces(row), scale_words(scale)));
    if let Some((other, way)) = pair.mirror {
        let faces = format!("face side {}, face edge {}", other.face_side, other.face_edge);
        line(&other.mark, &format!("the mirror image, {}: {}: {}; {faces}", way.words(), titled(other), pieces(other)));
    }
    ink
}

fn pieces(row: &Listed) -> String {
    let count = row.parts.len();
    format!("{count} piece{}", if count == 1 { "" } else { "s" })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_go_on_after_z() {
        assert_eq!([0, 25, 26, 27, 52].map(letter), ["a", "z", "aa", "ab", "ba"]);
    }

    #[test]
    fn a_figure_is_found_as_a_whole_one() {
        assert!(says("mortise 22.1 × 8.1, 24.5 deep", "8.1") && says("groove Ø5, 12 deep", "5") && says("8,1 wide", "8,1"));
        assert!(!says("mortise 22.1 × 8.1", "2.1") && !says("mortise 22.1 × 8.1", "22"));
    }
}
