//! Dowels: round pins in holes of both parts.
//!
//! Rules: diameter a third to a half of the thinner part (two magazines' articles on dowel joints; they give one or the other),
//! each hole deeper than half the dowel by 1.5 mm, at least two dowels a joint (trade articles on dowel joints); two diameters in
//! each part at least, three by the old rule (a forum of makers); a dowel 0 to 0.1 over its hole where it is fluted (common practice, no source); first hole
//! two diameters from the edge (a magazine's article on dowel joints), in a narrow part a quarter of it, one diameter at least; from the middle of one to the
//! middle of the next three diameters at least (EN 1995-1-1, table 8.5, for dowels of steel: from memory), of two that have no room for that one and a half
//! (common practice, no source), 32 or 50 to 75 in corners of cases (common practice, no source).

use super::fit::{Fit, Fitted};
use super::room::{self, Beyond, Frame, LEAST_BEHIND, Pocket, least_wall};
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

/// The diameter by rule, and the thinner ones that are a third of the part still, the thickest first.
fn diameters(stock: f64) -> impl Iterator<Item = f64> {
    let by_rule = diameter_by_rule(stock);
    let thinner = USUAL.into_iter().rev().filter(move |usual| *usual < by_rule && *usual >= stock / 3.0 - 1e-9);
    std::iter::once(by_rule).chain(thinner)
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
        format!("{words} ⌀{} × {}, {} in the end", trimmed(self.diameter), trimmed(self.length), trimmed(self.in_end))
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
    let figures = figures(assembly, &joint, &frame, wanted);
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

/// The row, of the thickest dowels of which two stand as far apart as they should and go in far enough; where none do, of those that go in far enough.
fn figures(assembly: &Assembly, joint: &Joint, frame: &Frame, wanted: &Wanted<'_>) -> Figures {
    let of = |diameter: f64| figures_of(assembly, joint, frame, wanted, diameter);
    if let Some(own) = wanted.sizes.diameter.own() {
        return of(own);
    }
    let stock = joint.contact.extent.y.max(0.1);
    let rows: Vec<Figures> = diameters(stock).map(of).collect();
    let deep = |row: &&Figures| row.in_face >= 2.0 * row.diameter;
    let apart = |row: &&Figures| row.at.len() >= LEAST_COUNT as usize && row.nearest() >= row.least_apart();
    let best = rows.iter().filter(deep).find(apart).or_else(|| rows.iter().find(deep)).or(rows.first());
    best.cloned().unwrap_or_else(|| of(diameter_by_rule(stock)))
}

/// The row of dowels of a diameter.
fn figures_of(assembly: &Assembly, joint: &Joint, frame: &Frame, wanted: &Wanted<'_>, diameter: f64) -> Figures {
    let (a, b) = (assembly.part(joint.a), assembly.part(joint.b));
    let sizes = wanted.sizes;
    let stock = joint.contact.extent.y.max(0.1);
    let (deeper, wall) = (sizes.deeper.to_mm(), least_wall(b, assembly.timbers()));
    let ([own, ..], [_, _, (_, behind)]) = (frame.body(a), frame.body(b));
    let half = joint.contact.extent.x / 2.0;
    let mut edges = (own.0.max(-half), own.1.min(half));
    if edges.1 - edges.0 < 0.1 {
        edges = (-half.max(0.05), half.max(0.05));
    }
    let width = edges.1 - edges.0;
    let grooves = room::grooves_at_edges(a, frame);
    // Between the margins by rule, and clear of the grooves at the edges.
    let by_rule_in = |diameter: f64| {
        let clear = |groove: f64| if groove > 0.0 { groove + wall + diameter / 2.0 } else { 0.0 };
        let margin = margin_in(width, diameter);
        (edges.0 + margin.max(clear(grooves[0])), edges.1 - margin.max(clear(grooves[1])))
    };
    let most = most_in_face(wanted, behind, diameter, wall) - deeper;
    let by_rule = 3.0 * diameter;
    let in_face = match sizes.length.own() {
        None => by_rule.min(most),
        Some(length) => (length / 2.0).min(most),
    };
    let radius = diameter / 2.0;
    let span = match sizes.margin.own() {
        Some(margin) => (edges.0 + margin, edges.1 - margin),
        None => by_rule_in(diameter),
    };
    let least = diameter + wall;
    // Nearer than they should be they stand only where the maker wants that, or where there is no room for two else.
    let apart = [least, (LEAST_APART * diameter).min(sizes.spacing.to_mm()).max(least)];
    let pocket = Pocket { along: (span.0 - radius, span.1 + radius), across: (-radius, radius), depth: in_face.max(1.0) + deeper };
    let obstacles = room::obstacles(assembly, b, frame, pocket, wall, |_| false);
    let (in_face, at, free) = room::depths(pocket.depth, &obstacles)
        .map(|depth| {
            let free = room::free(pocket.along, depth, &obstacles).into_iter().map(|(from, to)| (from + radius, to - radius));
            let free: Vec<_> = free.filter(|(from, to)| to >= from).collect();
            let room = free.first().zip(free.last()).map_or(0.0, |(first, last)| last.1 - first.0);
            (depth - deeper, spread(span, &free, apart, sizes.spacing.to_mm()), room)
        })
        .filter(|(in_face, at, _)| *in_face >= 1.0 && !at.is_empty())
        .max_by(|a, b| {
            // Two at least before 2 diameters at least, and then as much wood as there is room for.
            let rank = |(in_face, at, _): &(f64, Vec<f64>, f64)| {
                (at.len() >= LEAST_COUNT as usize, *in_face >= 2.0 * diameter, in_face.min(by_rule) * at.len() as f64)
            };
            let (a, b) = (rank(a), rank(b));
            (a.0, a.1).cmp(&(b.0, b.1)).then(a.2.total_cmp(&b.2))
        })
        .unwrap_or_else(|| (in_face.max(1.0), spread(span, &[span], apart, sizes.spacing.to_mm()), span.1 - span.0));
    // Where the maker has the margin, as much as there would be without.
    let (from, to) = by_rule_in(diameter);
    let room = if sizes.margin.own().is_some() { (to - from).max(free) } else { free };
    let at = if at.is_empty() { vec![f64::midpoint(edges.0, edges.1)] } else { at };
    let length = sizes.length.or(in_face + by_rule).max(2.0);
    let margin = at.iter().map(|at| (at - edges.0).min(edges.1 - at)).fold(f64::INFINITY, f64::min);
    Figures {
        diameter,
        length,
        in_end: length - in_face,
        in_face,
        deeper,
        fit: sizes.fit.to_mm(),
        at,
        margin,
        width,
        room,
        stock,
        spacing: sizes.spacing.to_mm(),
    }
}

/// The most that a hole may go into the receiving part, mm.
fn most_in_face(wanted: &Wanted<'_>, behind: f64, diameter: f64, wall: f64) -> f64 {
    let far = if wanted.beyond.facing { (behind - wall) / 2.0 } else { behind - LEAST_BEHIND };
    let deep = 3.0 * diameter + wanted.sizes.deeper.to_mm();
    match wanted.beyond.crossing.filter(|crossing| crossing.meets(diameter + wanted.sizes.fit.to_mm(), deep, wall)) {
        Some(crossing) => far.min(f64::midpoint(crossing.near, crossing.far) - diameter / 2.0 - wall),
        None => far,
    }
}

/// The middles of the dowels: as many as the spacing asks for and at least two, evenly from the first `free` place to the last, each
/// moved to the nearest free place where it would stand in the way of something; as far apart at least as they should be, or where only one would have room so, as
/// they must be; one where there is no room for two, none where there is no room at all.
fn spread(span: (f64, f64), free: &[(f64, f64)], [must, should]: [f64; 2], spacing: f64) -> Vec<f64> {
    let wide = spread_apart(span, free, should, spacing);
    if wide.len() >= LEAST_COUNT as usize { wide } else { spread_apart(span, free, must, spacing) }
}

/// The same with `least` from one to the next.
fn spread_apart(span: (f64, f64), free: &[(f64, f64)], least: f64, spacing: f64) -> Vec<f64> {
    let (Some(first), Some(last)) = (free.first(), free.last()) else { return Vec::new() };
    let (from, to) = (first.0.max(span.0), last.1.min(span.1));
    let room = to - from;
    if room < least {
        let middle = free.iter().map(|(from, to)| f64::midpoint(*from, *to));
        return middle.min_by(|a, b| a.abs().total_cmp(&b.abs())).into_iter().collect();
    }
    let most = (room / least).floor().max(1.0);
    let gaps = (room / spacing.max(1.0)).ceil().clamp(1.0, most).min(f64::from(MOST_COUNT - 1));
    let even = (0..=gaps as u32).map(|index| from + room * f64::from(index) / gaps);
    let mut at: Vec<f64> = Vec::new();
    for wish in even {
        let nearest = free.iter().map(|(from, to)| wish.clamp(*from, *to)).min_by(|a, b| (a - wish).abs().total_cmp(&(b - wish).abs()));
        at.extend(nearest.filter(|place| at.last().is_none_or(|before| place - before >= least - 1e-9)));
    }
    at
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

    #[test]
    fn dowels_stand_evenly_and_no_farther_apart_than_asked() {
        for room in 12..300 {
            let span = (0.0, f64::from(room));
            let at = spread(span, &[span], [11.0, 11.0], 60.0);
            assert!(
                at.len() >= 2 && at.windows(2).all(|pair| pair[1] - pair[0] <= 60.0 + 1e-9 && pair[1] - pair[0] >= 11.0 - 1e-9),
                "{at:?}"
            );
        }
        assert_eq!(spread((0.0, 5.0), &[(0.0, 5.0)], [11.0, 11.0], 60.0), [2.5]);
        // Two that have no room 24 apart stand as they must; three stand as they should, or there are two.
        assert_eq!(spread((0.0, 20.0), &[(0.0, 20.0)], [11.0, 24.0], 60.0), [0.0, 20.0]);
        assert_eq!(spread((0.0, 70.0), &[(0.0, 70.0)], [11.0, 36.0], 60.0), [0.0, 70.0]);
        // Something in the middle: what would stand there moves aside.
        assert_eq!(spread((0.0, 100.0), &[(0.0, 40.0), (65.0, 100.0)], [11.0, 24.0], 60.0), [0.0, 40.0, 100.0]);
    }
}
