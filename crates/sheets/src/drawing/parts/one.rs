//! One part: its faces under each other, its ends beside each other, and what its letters stand for.

use casewright_core::cutlist::Row as Listed;
use casewright_core::mirrored::Pair;
use casewright_core::model::{Face, Part};
use casewright_core::sentence::capital;
use casewright_core::{Model, Solids};
use casewright_solid::Shape;
use glam::{DVec2, DVec3};

use super::super::drafting::{Drafting, SCALES};
use super::super::drawn::wrapped;
use super::super::lettering::{LETTERING, width_of};
use super::super::page::{Anchor, Dimension, Ink, Text};
use super::super::{frame, scale_words};
use super::LONGEST;
use super::face::Facing;
use super::plan::{Key, Plan, Seen, is_bought, is_rod};
use super::view::{Naming, View};
use crate::lists::titled;

/// Between views, mm.
const APART: f64 = 4.0;
/// Room for figures beside a view, mm.
const FIGURES: f64 = 24.0;
/// A drawing is as wide as this at least, mm, or half a sheet, so that its words have room.
const LEAST: f64 = 105.0;
/// A part with few figures is drawn no longer and no wider than this, mm.
const FEW: DVec2 = DVec2::new(150.0, 62.0);
/// So many letters and places are few.
const FEW_FIGURES: usize = 9;
/// What is narrower than this is not drawn smaller than it must be, mm.
const SLENDER: f64 = 5.5;
/// An end is drawn no larger than this, mm.
const END: f64 = 58.0;
/// From one line of words to the next, mm.
pub(super) const LINE: f64 = LETTERING + 1.5;

/// Which of length, width and thickness were said.
pub(super) type Said = [bool; 3];

/// The edges that are seen of each side and end, full size.
struct Outlines {
    sides: Vec<Vec<(DVec2, DVec2)>>,
    ends: Vec<Vec<(DVec2, DVec2)>>,
}

/// A part to be drawn: all that is the same at every scale.
struct Sheet<'s> {
    model: &'s Model,
    drafting: &'s Drafting,
    pair: &'s Pair<'s>,
    part: &'s Part,
    plan: Plan,
    outlines: Outlines,
    size: DVec3,
    /// Whether it has a way of the grain.
    grain: bool,
}

/// Draws a part as large as `fits` lets it; gives its scale too. None where it has no solid.
pub(super) fn draw(
    model: &Model,
    solids: &Solids,
    drafting: &Drafting,
    pair: &Pair<'_>,
    fits: impl Fn(&Ink) -> bool,
) -> Option<(f64, Ink)> {
    let part = model.part(*pair.row.parts.first()?);
    let (shape, size): (&Shape, DVec3) = (solids.shape(part.id)?, part.lwt());
    let plan = Plan::of(part, drafting);
    let seen = |seen: &Seen| Facing::at(seen.face).lines(shape, size);
    let outlines = Outlines { sides: plan.sides.iter().map(seen).collect(), ends: plan.ends.iter().map(seen).collect() };
    let grain = !is_bought(part) && model.timbers.grain(&part.material) != "none";
    let largest = scale(size, &plan, drafting);
    let sheet = Sheet { model, drafting, pair, part, plan, outlines, size, grain };
    let mut last = None;
    for scale in SCALES.into_iter().filter(|scale| *scale >= largest) {
        for naming in [Naming::Beside, Naming::Over] {
            let ink = sheet.at_scale(scale, naming);
            let goes = fits(&ink);
            last = Some((scale, ink));
            if goes {
                return last;
            }
        }
    }
    last
}

impl Sheet<'_> {
    fn at_scale(&self, scale: f64, naming: Naming) -> Ink {
        let mut said = [false; 3];
        let mut ink = Ink::default();
        let mut below = 0.0;
        for own in self.sides(scale, naming, &mut said) {
            let room = own.room().unwrap_or_default();
            ink.add(own, DVec2::new(0.0, below - room.0.y));
            below += room.1.y - room.0.y + APART;
        }
        let room = ink.room().unwrap_or_default();
        let (left, mut right) = (room.0.x, room.0.x);
        let mut deepest = below;
        for own in self.ends(&mut said) {
            let room = own.room().unwrap_or_default();
            ink.add(own, DVec2::new(right - room.0.x, below - room.0.y));
            right += room.1.x - room.0.x + 2.0 * APART;
            deepest = deepest.max(below + room.1.y - room.0.y + APART);
        }
        let wide = (room.1.x - room.0.x).max(self.least());
        let beside = !self.plan.ends.is_empty() && left + wide - right > 85.0;
        let (at, room) = if beside { (DVec2::new(right, below), left + wide - right) } else { (DVec2::new(left, deepest), wide) };
        letters(&mut ink, &self.plan.keys, at + DVec2::Y * LETTERING / 2.0, room, &unsaid(self.part, said, self.drafting));
        let top = ink.room().unwrap_or_default().0.y;
        let headed = heading(self, scale, wide);
        let foot = headed.room().unwrap_or_default().1.y;
        let mut all = Ink::default();
        all.add(headed, DVec2::new(left, 0.0));
        all.add(ink, DVec2::new(0.0, foot + 3.0 - top));
        all
    }

    /// Two drawings go beside each other on any sheet.
    fn least(&self) -> f64 {
        let (min, max) = frame::room(self.drafting.sheet.size());
        ((max.x - min.x - 16.0) / 2.0).min(LEAST)
    }

    /// Each side and edge; the way of the grain on the first that has room for it, else beside the first of all.
    fn sides(&self, scale: f64, naming: Naming, said: &mut Said) -> Vec<Ink> {
        let sides = self.plan.sides.iter().zip(&self.outlines.sides);
        let views: Vec<View<'_>> = sides.map(|(seen, outline)| self.view(seen, outline, scale, (self.name(seen), naming))).collect();
        let mut inks: Vec<Ink> = views.iter().map(|view| view.draw(said)).collect();
        if self.grain && !views.iter().zip(&mut inks).any(|(view, ink)| view.grain(ink)) {
            views.iter().zip(&mut inks).take(1).for_each(|(view, ink)| view.grain_beside(ink));
        }
        inks
    }

    fn ends(&self, said: &mut Said) -> Vec<Ink> {
        let scale = end_scale(self.size);
        let own = |(seen, outline): (&Seen, &Vec<(DVec2, DVec2)>)| {
            let name = format!("{}, {}", self.name(seen), scale_words(scale));
            self.view(seen, outline, scale, (name, Naming::Beside)).draw(said)
        };
        self.plan.ends.iter().zip(&self.outlines.ends).map(own).collect()
    }

    fn view<'v>(&'v self, seen: &'v Seen, outline: &'v [(DVec2, DVec2)], scale: f64, (name, naming): (String, Naming)) -> View<'v> {
        View { seen, outline, size: self.size, scale, name, naming, drafting: self.drafting }
    }

    /// What a view is called, for the mirror image too: "Back edge (P2: back side)".
    fn name(&self, seen: &Seen) -> String {
        let named = |face: Face, alike: Option<Face>| {
            format!("{}{}", face.words(), alike.map(|face| format!(", {} alike", face.words())).unwrap_or_default())
        };
        if is_bought(self.part) && is_rod(self.part) {
            return "From the side".to_owned();
        }
        let own = capital(&named(seen.face, seen.alike));
        let Some((other, way)) = self.pair.mirror else { return own };
        let (face, alike) = (way.face(seen.face), seen.alike.map(|face| way.face(face)));
        let Facing { right, up } = Facing::at(seen.face);
        // Where its figures run from a face that is no datum of the part that is drawn.
        let from = [right.0, up.0].into_iter().map(|axis| way.face(Face::datum(axis))).filter(|face| !face.is_first());
        let from: Vec<&str> = from.map(Face::words).collect();
        let told =
            [(face != seen.face).then(|| named(face, alike)), (!from.is_empty()).then(|| format!("from the {}", from.join(" and the ")))];
        let told: Vec<String> = told.into_iter().flatten().collect();
        if told.is_empty() { own } else { format!("{own} ({}: {})", other.mark, told.join(", ")) }
    }
}

/// The largest scale of the series at which a part goes on the sheet; smaller where there is little to say, as long as its cuts can be told apart.
fn scale(size: DVec3, plan: &Plan, drafting: &Drafting) -> f64 {
    let (min, max) = frame::room(drafting.sheet.size());
    let most = DVec2::new(max.x - min.x - FIGURES, (max.y - min.y) * 0.4);
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
pub(super) fn letter(number: usize) -> String {
    let last = char::from(b'a' + (number % 26) as u8);
    if number < 26 { last.to_string() } else { format!("{}{last}", letter(number / 26 - 1)) }
}

/// Sizes that no view says: "20 thick"; "Ø5" of a rod.
fn unsaid(part: &Part, said: Said, drafting: &Drafting) -> Vec<(String, Dimension)> {
    let words = ["long", "wide", "thick"];
    let size = part.lwt();
    let missing = (0..3).filter(|axis| !said[*axis]);
    let told = missing.map(|axis| {
        let figure = drafting.exact(size[axis]);
        let told = if axis > 0 && is_rod(part) { format!("Ø{figure}") } else { format!("{figure} {}", words[axis]) };
        (told, Dimension { axis, from: 0.0, to: size[axis], auxiliary: false, text: 0 })
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
fn heading(of: &Sheet<'_>, scale: f64, wide: f64) -> Ink {
    let Sheet { model, drafting, pair, part, .. } = of;
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
    let made_of = model.timbers.name(&row.material);
    // What is bought is not marked out.
    let faces = if is_bought(part) { "bought".to_owned() } else { format!("face side {}, face edge {}", row.face_side, row.face_edge) };
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
