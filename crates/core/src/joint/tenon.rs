//! Mortise and tenon: a tenon cut on the end of one part, a mortise in the other. Stopped or through, haunched, two instead of a
//! wide one, barefaced, and mitred where two meet in one post.
//!
//! Thickness: a third of the part (Noyes, Handwork in Wood, chapter VII; a maker's class page on mortises), rounded up to whole
//! millimetres as cutters come. Length: 3 to 4 thicknesses (a magazine's article on leg and apron joints). Haunch: a third of the
//! width, the tenon two thirds (a maker's class page on mortises). Two tenons in one post: near wall `a = r + (t − e) / 2` for a
//! reveal r, a rail t and a tenon e; unmet in a post S the mortise is at most `S − (a + e) − wall` deep, mitred the tenon is at most
//! `S − a − 1` long at its outer cheek and `S − (a + e) − 1` at the inner one (arithmetic).

mod layout;
mod solid;

use glam::DVec3;

use layout::Layout;
pub(super) use solid::{pocket_prisms, pocket_range, tenon_prisms};

use super::fit::{Fit, Fitted};
use super::room::{Beyond, Frame};
use super::rules::{Broken, Rules};
use super::{Fixing, Joining, JointKind, face_and_point, local_axis};
use crate::design::Tenon;
use crate::design::decisions::BY_RULE;
use crate::length::trimmed;
use crate::model::{Assembly, Contact, Face, Feature, Joint, JointId, Part, Step};
use crate::origin::Size;
use crate::place::Dir;

/// A mortise and tenon that is wanted.
#[derive(Clone, Copy, Debug)]
pub struct Wanted<'a> {
    /// Its sizes, each by rule or one's own.
    pub sizes: &'a Tenon,
    /// Where the design keeps them, such as `rail_to_post`; empty where no design does.
    pub path: &'a str,
    /// What else enters the receiving part there.
    pub beyond: Beyond,
    /// Whether it is glued; else it can be taken apart.
    pub glued: bool,
}

/// From the edge of the part to its tenon where nothing asks for more, mm (5 to 10: common practice, no source).
pub const EDGE_SHOULDER: f64 = 6.0;
/// How much deeper the recess of a haunch is than the haunch, mm (common practice, no source).
const HAUNCH_ROOM: f64 = 1.0;

/// How many thicknesses a tenon is wide at least (14 by 22 is the narrowest of those in general use: from memory).
const LEAST_WIDE: f64 = 1.5;
/// The most that a mortise is longer than its tenon is wide, mm (common practice, no source: 0.5 to 1.5).
const MOST_SIDE_ROOM: f64 = 1.5;

/// The thickness of a tenon on a part so thick, mm: a third, rounded up to a whole millimetre.
pub fn thickness_by_rule(stock: f64) -> f64 {
    (stock / 3.0 - 1e-6).ceil().max(3.0)
}

/// The length of a tenon so thick where there is room for it, mm: four times as long.
pub fn length_by_rule(thickness: f64) -> f64 {
    4.0 * thickness
}

/// The figures of a mortise and tenon, as cut. Places are measured along the contact from its middle, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// Thickness of the tenon, mm.
    pub thickness: f64,
    /// How far it stands out beyond its shoulder; the longer cheek's where it is mitred, mm.
    pub length: f64,
    /// How deep the mortise is, mm.
    pub depth: f64,
    /// From and to of each tenon: one, or several instead of a wide one.
    pub tenons: Vec<(f64, f64)>,
    /// From, to and reach of each haunch.
    pub haunches: Vec<Step>,
    /// Mortise less tenon in thickness, mm.
    pub fit: f64,
    /// Mortise less tenon in width, mm.
    pub side_room: f64,
    /// Whether it goes through.
    pub through: bool,
    /// Whether its end is mitred for another that meets it.
    pub mitred: bool,
    /// Whether its edges and the ends of its mortise are rounded.
    pub round: bool,
    /// Thickness of the part it is on, mm.
    pub stock: f64,
    /// How thick it was asked to be, mm: more than its part is thick is not cut.
    pub asked: f64,
    /// Shoulders beside its two cheeks, mm; none on a bare face.
    pub shoulders: [f64; 2],
    /// From the edges of the part to the outermost tenons, mm.
    pub edges: [f64; 2],
    /// How long it may be at most where it is mitred, mm.
    pub mitred_at_most: Option<f64>,
    /// How far it would have to go to come out of the far face, where it is to go through and stops, mm.
    pub not_through: Option<f64>,
}

impl Figures {
    /// Width of the widest tenon, mm; those of one end are alike.
    pub fn width(&self) -> f64 {
        self.tenons.iter().map(|(from, to)| to - from).fold(0.0, f64::max)
    }

    /// From and to of the recess for a haunch: into the round ends of the mortises beside it, whose corners are wood where the haunch and
    /// its tenon are one.
    fn recess(&self, haunch: &Step) -> (f64, f64) {
        let corner = if self.round { f64::midpoint(self.thickness, self.fit) } else { 0.0 };
        let beside = |at: f64, edge: fn(&(f64, f64)) -> f64| self.tenons.iter().any(|tenon| (edge(tenon) - at).abs() < 1e-6);
        let room = self.side_room / 2.0;
        let below = if beside(haunch.from, |tenon| tenon.1) { corner } else { 0.0 };
        let above = if beside(haunch.to, |tenon| tenon.0) { corner } else { 0.0 };
        (haunch.from - room - below, haunch.to + room + above)
    }

    /// Whether it has a shoulder beside one of its cheeks only; one as thick as its part has lost both.
    pub(crate) fn is_barefaced(&self) -> bool {
        self.shoulders.contains(&0.0) && self.shoulders.iter().any(|shoulder| *shoulder > 0.0)
    }

    /// How much longer it is than lets it meet another at the mitre, mm; none where it is not mitred.
    pub fn past_mitre(&self) -> Option<f64> {
        self.mitred_at_most.map(|most| self.length - most)
    }

    /// Length at the shorter cheek, mm: that of the other where it is not mitred.
    pub fn shorter_cheek(&self) -> f64 {
        if self.mitred { self.length - self.thickness } else { self.length }
    }
}

impl Joining for Figures {
    fn describe(&self) -> String {
        let count = self.tenons.len();
        let name = if count == 1 { "tenon".to_owned() } else { format!("{count} tenons") };
        let mut words = format!("{name} {} × {} × {}", trimmed(self.thickness), trimmed(self.width()), trimmed(self.length));
        for (set, word) in [
            (self.through, ", through"),
            (self.mitred, ", mitred"),
            (!self.haunches.is_empty(), ", haunched"),
            (self.is_barefaced(), ", barefaced"),
        ] {
            if set {
                words += word;
            }
        }
        words
    }

    fn ways_apart(&self, contact: &Contact) -> Vec<Dir> {
        vec![contact.into.opposite()]
    }

    fn fits(&self) -> Vec<Fitted> {
        vec![Fitted { what: "tenon in mortise, in thickness", class: Fit::GluedSnug, clearance: self.fit }]
    }

    fn has_shoulder(&self) -> bool {
        true
    }

    fn goes_through(&self) -> bool {
        self.through
    }

    fn meets_others(&self) -> bool {
        self.mitred_at_most.is_some_and(|most| self.length <= most + 1e-6)
    }

    fn strength(&self) -> &'static str {
        "strongest with glue on both parts and 0.1 mm tight to 0.15 mm free (Elek et al. 2020, Eur. J. Wood Prod.); a pin through it \
         holds it should the glue fail (from memory)"
    }

    fn broken(&self) -> Vec<Broken> {
        const PRACTICE: &str = "common practice, no source";
        const THIRD: &str =
            "a third of the stock: Noyes, Handwork in Wood; up to a half where machine cut: a magazine's article on mortises";
        const DEEPER: &str = "a magazine's article on mortises";
        const LONG: &str = "3 to 4 thicknesses: a magazine's article on leg and apron joints";
        const FIT: &str = "Elek et al. 2020, Eur. J. Wood Prod., strongest near zero; a university test, second-hand: a fifth lost at 0.25";
        const WIDE: &str = "sizes of tenons in general use, and 6 thicknesses or 100 mm: from memory";
        let (snug, usual) = (Fit::GluedSnug.clearance(), Tenon::default());
        let (fit, deeper) = (usual.fit.to_mm(), usual.deeper.to_mm());
        let thinner = (self.length / 3.0).floor();
        let mut rules = Rules::default()
            .at_least(self.stock / 4.0, self.thickness, "a tenon is at least a quarter as thick as its part", THIRD)
            .at_most(self.stock, self.asked, "a tenon is no thicker than its part, and is cut as thick as that", "geometry")
            .mended_by_word("thickness", BY_RULE)
            .at_most(self.stock / 2.0, self.thickness, "a tenon is at most half as thick as its part", THIRD)
            .at_least(3.0 * self.thickness, self.length, "a tenon is at least 3 thicknesses long", LONG)
            .mended_by_word("reach", "through")
            .mended_by("thickness", thinner)
            .at_most((6.0 * self.thickness).min(100.0), self.width(), "a tenon is at most 6 thicknesses and 100 mm wide", WIDE)
            .at_least(LEAST_WIDE * self.thickness, self.width(), "a tenon is at least 1.5 thicknesses wide", WIDE)
            .mended_by_word("shoulder", BY_RULE)
            .mended_by_word("meeting", "mitred")
            .mended_by_word("meeting", "short")
            .at_least(*snug.start(), self.fit, "a mortise is no narrower than its tenon is thick", FIT)
            .mended_by("fit", fit)
            .at_most(*snug.end(), self.fit, "a glued tenon has at most 0.15 mm of room in thickness", FIT)
            .mended_by("fit", fit)
            .at_most(MOST_SIDE_ROOM, self.side_room, "a mortise is at most 1.5 mm longer than its tenon is wide", PRACTICE)
            .mended_by("side_room", usual.side_room.to_mm())
            .at_least(
                1.0,
                self.edges[0].min(self.edges[1]),
                "a shoulder at the edge hides the end of the mortise",
                "a maker's class page on mortises",
            )
            .mended_by_word("shoulder", BY_RULE);
        // A barefaced tenon has none on one of its faces.
        let barefaced = self.is_barefaced();
        for shoulder in self.shoulders.into_iter().filter(|shoulder| !(barefaced && *shoulder == 0.0)) {
            rules = rules.at_least(3.0, shoulder, "a shoulder beside a tenon is at least 3 mm", PRACTICE);
        }
        if let Some(behind) = self.not_through {
            rules = rules
                .at_least(
                    behind,
                    self.length,
                    "a tenon that is to go through comes out of the far face; another stands in its way",
                    "geometry",
                )
                .mended_by_word("meeting", "staggered")
                .mended_by_word("reach", "stopped");
        }
        if !self.through {
            let depth = self.depth - self.length;
            rules = rules
                .at_least(1.5, depth, "a stopped mortise is at least 1.5 mm deeper than its tenon is long", DEEPER)
                .mended_by("deeper", deeper)
                .at_most(3.0, depth, "a stopped mortise is at most 3 mm deeper than its tenon is long", DEEPER)
                .mended_by("deeper", deeper);
        }
        rules.broken()
    }
}

/// Cuts the tenon on the end that comes up, and its mortise and the recesses of its haunches in the part that receives.
pub(super) fn cut(assembly: &mut Assembly, id: JointId, wanted: &Wanted<'_>) -> JointKind {
    let joint = assembly.joint(id).clone();
    let frame = Frame::of(&joint.contact);
    let (end, _) = face_and_point(assembly.part(joint.a), frame.into, joint.contact.centre);
    if end.axis() != 0 {
        // Only an end can have a tenon.
        return JointKind::Plain(Fixing::Rest);
    }
    let Layout { figures, middle, mitre } = Layout::of(assembly, &joint, &frame, wanted);
    assembly.stand_out(joint.a, end, &size(assembly, &joint, wanted, &figures));
    let part = assembly.part(joint.a);
    let tenon = end_feature(part, end, &frame, &figures, middle, mitre);
    assembly.cut(joint.a, tenon, Some(id));
    let width = figures.thickness + figures.fit;
    for &(from, to) in &figures.tenons {
        let (face, centre, along) = place_in(assembly.part(joint.b), &frame, f64::midpoint(from, to), middle);
        let (length, depth, round) = (to - from + figures.side_room, figures.depth, figures.round);
        assembly.cut(joint.b, Feature::Mortise { face, centre, along, length, width, depth, round }, Some(id));
    }
    for haunch in &figures.haunches {
        let (from, to) = figures.recess(haunch);
        let (face, centre, along) = place_in(assembly.part(joint.b), &frame, f64::midpoint(from, to), middle);
        let (length, depth) = (to - from, haunch.reach + HAUNCH_ROOM);
        assembly.cut(joint.b, Feature::Recess { face, centre, along, length, width, depth, round: false }, Some(id));
    }
    JointKind::Tenon(figures)
}

/// The length of a tenon with where it comes from.
fn size(assembly: &Assembly, joint: &Joint, wanted: &Wanted<'_>, figures: &Figures) -> Size {
    let path = format!("joinery.{}.tenon.length", wanted.path);
    if wanted.sizes.length.own() == Some(figures.length) {
        return assembly.decided(&path).map_or_else(|| Size::decided(path, "tenon", figures.length), |size| size.named("tenon"));
    }
    let rule = match (figures.mitred, figures.through) {
        (true, _) => "mitred to meet another tenon in the part that receives it",
        (false, true) => "through the part that receives it",
        (false, false) => "4 times its thickness, or as long as there is room for",
    };
    let across = |id| {
        let part = assembly.part(id);
        part.size[local_axis(part, Frame::of(&joint.contact).across)].clone()
    };
    Size::ruled("tenon", figures.length, rule, [&across(joint.a), &across(joint.b)])
}

/// Face, middle and long axis of a pocket in the receiving part, in the part's own measures.
fn place_in(part: &Part, frame: &Frame, along: f64, across: f64) -> (Face, DVec3, usize) {
    let (face, centre) = face_and_point(part, -frame.into, frame.point(along, across, 0.0));
    (face, centre, local_axis(part, frame.along))
}

/// The tenon on the end, in the part's own measures; the part stands out already.
fn end_feature(part: &Part, end: Face, frame: &Frame, figures: &Figures, middle: f64, mitre: Option<Dir>) -> Feature {
    let along = local_axis(part, frame.along);
    let across = 3 - along;
    let inverse = part.pose.inverse();
    let at = |s: f64, c: f64| inverse.point(frame.point(s, c, 0.0));
    let ordered = |a: f64, b: f64| (a.min(b), a.max(b));
    let cheeks = ordered(at(0.0, middle - figures.thickness / 2.0)[across], at(0.0, middle + figures.thickness / 2.0)[across]);
    let tenons = figures.tenons.iter().map(|&(from, to)| Step { from, to, reach: figures.length });
    let mut steps: Vec<Step> = tenons
        .chain(figures.haunches.iter().copied())
        .map(|step| {
            let (from, to) = ordered(at(step.from, 0.0)[along], at(step.to, 0.0)[along]);
            Step { from, to, ..step }
        })
        .collect();
    steps.sort_by(|a, b| a.from.total_cmp(&b.from));
    let mitre = mitre.map(|long| inverse.vector(long.vector())[across] < 0.0);
    Feature::Tenon { second_end: end == Face::SecondEnd, length: figures.length, along, cheeks, steps, mitre, round: figures.round }
}
