//! Dowels: round pins in holes of both parts.
//!
//! Rules: diameter a third to a half of the thinner part (two magazines' articles on dowel joints; they give one or the other),
//! each hole deeper than half the dowel by 1.5 mm, at least two dowels a joint (trade articles on dowel joints); two diameters in
//! each part at least, three by the old rule (a forum of makers); a dowel 0 to 0.1 over its hole where it is fluted (common practice, no source); first hole
//! two diameters from the edge (a magazine's article on dowel joints), in a narrow part a quarter of it, one diameter at least; from the middle of one to the
//! middle of the next three diameters at least (EN 1995-1-1, table 8.5, for dowels of steel: from memory), of two that have no room for that one and a half
//! (common practice, no source), 32 or 50 to 75 in corners of cases (common practice, no source).

mod layout;

use super::fit::{Fit, Fitted};
use super::room::{Beyond, Frame};
use super::rules::{Broken, Rules};
use super::{Joining, JointKind, face_and_point, local_axis};
use crate::design::decisions::BY_RULE;
use crate::design::{Dimension, Dowels};
use crate::length::trimmed;
use crate::model::{Assembly, BuildStage, Contact, Feature, Joint, JointId, Material, NewPart, PartId, PartKind};
use crate::origin::Size;
use crate::place::{Block, Dir, Lie};

/// A row of dowels that is wanted.
#[derive(Clone, Copy, Debug)]
pub struct Wanted<'a> {
    /// Their sizes, each by rule or one's own.
    pub sizes: &'a Dowels,
    /// Where the design keeps them, such as `rail_to_post`; empty where no design does.
    pub path: &'a str,
    /// The species they are of.
    pub timber: &'a str,
    /// What else enters the receiving part there.
    pub beyond: Beyond,
    /// Whether they are glued.
    pub glued: bool,
}

/// Diameters that dowels are sold in, mm (from memory); thicker ones are turned to whole millimetres.
const USUAL: [f64; 8] = [4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 14.0, 16.0];
/// The most that dowels stand apart at a corner, mm (common practice, no source: 50 to 75).
const MOST_SPACING: f64 = 75.0;
/// So many diameters they stand apart at least, middle to middle (EN 1995-1-1, table 8.5, for dowels of steel: from memory).
const LEAST_APART: f64 = 3.0;
/// The same of two that have no room for that: half as much wood between them as a dowel is thick (common practice, no source).
const LEAST_APART_OF_TWO: f64 = 1.5;
/// How many a joint has at least.
const LEAST_COUNT: u32 = 2;
/// The most that a joint is given.
const MOST_COUNT: u32 = 12;

/// The diameter for a part so thick, mm: the usual one nearest to two fifths of it.
pub fn diameter_by_rule(stock: f64) -> f64 {
    let wanted = stock * 0.4;
    let usual = USUAL.into_iter().min_by(|a, b| (a - wanted).abs().total_cmp(&(b - wanted).abs())).unwrap_or(wanted);
    if wanted > USUAL[USUAL.len() - 1] + 1.0 { wanted.round() } else { usual }
}

/// The length of a dowel so thick where both parts have room for it, mm: three diameters in each.
pub fn length_by_rule(diameter: f64) -> f64 {
    6.0 * diameter
}

/// From the edge of a part to the middle of its first dowel where the part is wide enough, mm.
pub fn margin_by_rule(diameter: f64) -> f64 {
    2.0 * diameter
}

/// The same in a part so wide along the row, mm.
fn margin_in(width: f64, diameter: f64) -> f64 {
    margin_by_rule(diameter).min((width / 4.0).max(diameter))
}

/// The figures of a row of dowels, as bored.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// Diameter of the dowels, mm.
    pub diameter: f64,
    /// Length of the dowels, mm.
    pub length: f64,
    /// How far they go into the part that comes up, mm.
    pub in_end: f64,
    /// How far they go into the part that receives, mm.
    pub in_face: f64,
    /// How much deeper each hole is, mm.
    pub deeper: f64,
    /// Hole less dowel in diameter, mm.
    pub fit: f64,
    /// From the middle of the contact to the middle of each dowel along it, mm.
    pub at: Vec<f64>,
    /// From the nearer edge of the part to the middle of the outermost dowel, mm.
    pub margin: f64,
    /// Width of the part along the row, mm.
    pub width: f64,
    /// How far apart the outermost may stand, mm: between the margins by rule, and clear of grooves and of what else is cut there.
    pub room: f64,
    /// Thickness of the part that comes up, mm.
    pub stock: f64,
    /// The most that they may stand apart by the maker's decision, mm.
    pub spacing: f64,
}

impl Figures {
    /// How long they may be: what goes into the part that receives, and as much in the end, or 3 diameters where that is more, mm.
    pub fn longest(&self) -> f64 {
        self.in_face + self.in_face.max(3.0 * self.diameter)
    }

    /// The greatest distance from one to the next, mm.
    pub fn apart(&self) -> f64 {
        self.at.windows(2).map(|pair| pair[1] - pair[0]).fold(0.0, f64::max)
    }

    /// The least distance from one to the next, mm; none of one alone.
    fn nearest(&self) -> f64 {
        self.at.windows(2).map(|pair| pair[1] - pair[0]).fold(f64::INFINITY, f64::min)
    }

    /// The least that they should stand apart, mm.
    fn least_apart(&self) -> f64 {
        let narrow = self.at.len() == 2 && self.room < LEAST_APART * self.diameter;
        self.diameter * if narrow { LEAST_APART_OF_TWO } else { LEAST_APART }
    }
}

impl Joining for Figures {
    fn describe(&self) -> String {
        let count = self.at.len();
        let words = if count == 1 { "dowel".to_owned() } else { format!("{count} dowels") };
        format!("{words} Ø{} × {}, {} in the end", trimmed(self.diameter), trimmed(self.length), trimmed(self.in_end))
    }

    fn ways_apart(&self, contact: &Contact) -> Vec<Dir> {
        vec![contact.into.opposite()]
    }

    fn fits(&self) -> Vec<Fitted> {
        vec![Fitted { what: "dowel in its holes", class: Fit::Press, clearance: self.fit }]
    }

    fn has_shoulder(&self) -> bool {
        true
    }

    fn strength(&self) -> &'static str {
        "two at least, so that the part can't turn (trade articles on dowel joints); end grain in the holes holds less glue than a tenon's cheeks (common practice, no source)"
    }

    fn broken(&self) -> Vec<Broken> {
        const THICK: &str = "a third to a half of the thinner part: two magazines' articles on dowel joints";
        const DEEP: &str = "at least 2 diameters, 3 by the old rule: a forum of makers";
        const NEAR: &str =
            "3 diameters: EN 1995-1-1, table 8.5, for dowels of steel, from memory; one and a half: common practice, no source";
        const FIT: &str = "a fluted dowel 0 to 0.1 mm over its hole: common practice, no source";
        const LONG: &str = "half in each part: a magazine's article on dowel joints; 3 diameters by the old rule: a forum of makers";
        let (press, usual) = (Fit::Press.clearance(), Dowels::default());
        Rules::default()
            .at_least(self.stock / 3.0, self.diameter, "a dowel is at least a third as thick as its part", THICK)
            .at_most(self.stock / 2.0, self.diameter, "a dowel is at most half as thick as its part", THICK)
            .at_least(2.0 * self.diameter, self.in_end.min(self.in_face), "a dowel goes 2 diameters into each part", DEEP)
            .at_most(
                self.longest(),
                self.length,
                "a dowel is no longer than its holes have room for: half in each part, or 3 diameters in the end",
                LONG,
            )
            .mended_by_word("length", BY_RULE)
            .at_least(1.5, self.deeper, "a hole is at least 1.5 mm deeper than its dowel goes", "a magazine's article on dowel joints")
            .mended_by("deeper", usual.deeper.to_mm())
            .at_most(
                MOST_SPACING,
                self.apart().min(self.spacing),
                "dowels stand at most 75 mm apart",
                "common practice, no source: 50 to 75 in case corners",
            )
            .mended_by("spacing", usual.spacing.to_mm())
            .at_least(self.least_apart(), self.nearest(), "dowels stand 3 diameters apart, two that have no room for it one and a half", NEAR)
            .mended_by("spacing", usual.spacing.to_mm())
            .mended_by_word("diameter", BY_RULE)
            .mended_by_word("margin", BY_RULE)
            .at_least(f64::from(LEAST_COUNT), self.at.len() as f64, "a joint has at least 2 dowels", "a trade article on dowel joints")
            .at_least(
                margin_in(self.width, self.diameter),
                self.margin,
                "a dowel stands 2 diameters from the edge, in a narrow part a quarter of it",
                "2 diameters: a magazine's article on dowel joints; a quarter of a narrow part, its diameter at least: common practice, no source",
            )
            .mended_by_word("margin", BY_RULE)
            .at_least(*press.start(), self.fit, "a dowel is at most 0.1 mm over its hole", FIT)
            .mended_by("fit", usual.fit.to_mm())
            .at_most(*press.end(), self.fit, "a dowel is no thinner than its hole", FIT)
            .mended_by("fit", usual.fit.to_mm())
            .broken()
    }
}

/// Bores the holes of every dowel in both parts and adds the dowels.
pub(super) fn cut(assembly: &mut Assembly, id: JointId, wanted: &Wanted<'_>) -> JointKind {
    let joint = assembly.joint(id).clone();
    let frame = Frame::of(&joint.contact);
    let figures = layout::figures(assembly, &joint, &frame, wanted);
    for (index, at) in figures.at.iter().enumerate() {
        let middle = frame.point(*at, 0.0, 0.0);
        for (part, out, depth) in [(joint.a, frame.into, figures.in_end), (joint.b, -frame.into, figures.in_face)] {
            let (face, centre) = face_and_point(assembly.part(part), out, middle);
            let (diameter, depth) = (figures.diameter + figures.fit, depth + figures.deeper);
            assembly.cut(part, Feature::Hole { face, centre, diameter, depth, sink: 0.0 }, Some(id));
        }
        let dowel = place_dowel(assembly, &joint, wanted, &figures, index, &frame);
        assembly.add_loose(id, dowel);
    }
    JointKind::Dowels(figures)
}

fn place_dowel(assembly: &mut Assembly, joint: &Joint, wanted: &Wanted<'_>, figures: &Figures, index: usize, frame: &Frame) -> PartId {
    let Contact { into, along, .. } = joint.contact;
    let at = figures.at[index];
    let (a, b) = (assembly.part(joint.a), assembly.part(joint.b));
    let name = format!("dowel.{}.{}.{}", a.name, b.name, index + 1);
    let title = format!("Dowel {}, {} to {}", index + 1, a.title, b.title);
    let stock = &a.size[local_axis(a, frame.across)];
    let size = |word: &str, mm: f64, own: bool, rule: &'static str| {
        let path = format!("joinery.{}.dowels.{word}", wanted.path);
        let decided = assembly.decided(&path).filter(|_| own).cloned();
        let decided = decided.or_else(|| own.then(|| Size::decided(path, "", mm)));
        decided.unwrap_or_else(|| Size::ruled("", mm, rule, [stock]))
    };
    let long = size("length", figures.length, wanted.sizes.length.own().is_some(), "3 diameters in each part, less where it is thin");
    let thick =
        size("diameter", figures.diameter, wanted.sizes.diameter.own().is_some(), "the usual one nearest to two fifths of the part");
    let long = super::loose_tenon::through_shim(long, assembly.part(joint.a), into);
    let size = [long.named(format!("dowel: {}", Dimension::Length.word())), thick.named("dowel: diameter"), thick.named("dowel: diameter")];
    // One that came out otherwise than planned stands in the middle of its holes all the same.
    let long = assembly.as_made(&name, Dimension::Length, &size[0]).mm;
    let [wide, thick] = [Dimension::Width, Dimension::Thickness].map(|of| assembly.as_made(&name, of, &size[of.index()]).mm / 2.0);
    let (deep, shallow) = (frame.point(at - wide, -thick, figures.in_face), frame.point(at + wide, thick, figures.in_face - long));
    let block = Block { min: deep.min(shallow), max: deep.max(shallow) };
    let stage = if joint.glued { BuildStage::GlueUp } else { BuildStage::AfterGlueUp };
    let dowel = assembly.place(NewPart {
        name,
        title,
        kind: PartKind::Dowel,
        material: Material::Solid(wanted.timber.to_owned()),
        block,
        lie: Lie { face: Dir::nearest(into.vector().cross(along.vector())), edge: along },
        size,
        stage,
    });
    // With both edges half round, a square section is a circle.
    assembly.cut(dowel, Feature::RoundEdges, Some(joint.id));
    dowel
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dowels_are_the_usual_ones_between_a_third_and_a_half() {
        // 8 in 18 to 20 is the usual meet (a magazine's article on dowel joints).
        assert!([18.0, 20.0].into_iter().all(|stock| (diameter_by_rule(stock) - 8.0).abs() < 1e-9));
        for stock in 10..=60 {
            let (stock, diameter) = (f64::from(stock), diameter_by_rule(f64::from(stock)));
            assert!(diameter >= stock / 3.0 - 1e-9 && diameter <= stock / 2.0 + 1e-9, "{diameter} in {stock}");
        }
    }
}
