//! Loose tenons: a mortise in both parts, and tenons of their own.
//!
//! The first mortise of a row is snug in both parts and locates them; the others are snug in the part that comes up
//! and have play along the row in the part that receives, so that no two tenons fight (common practice, no source). Never play
//! in both: the tenon would locate nothing. Where two rows meet in a post, their ends are mitred or the one stands above the other, if
//! the design has it so.
//!
//! Rules: thickness about a third of the thinner part (common practice, no source); mortise thicker than the tenon by 0 to 0.15 mm
//! (Elek et al. 2020, Eur. J. Wood Prod., strongest near zero); room of 0.5 to 1 mm at each bottom (common practice, no source).

mod layout;

use casewright_solid::{Axis, Prism, Profile, Segment};
use glam::{DVec2, DVec3};

use layout::in_place;

pub use layout::figures;

use super::fit::{Fit, Fitted};
use super::room::Beyond;
use super::rules::{Broken, Rules};
use super::{Joining, JointKind, OVERSHOOT, face_and_point, local_axis};
use crate::design::{Dimension, LooseTenons};
use crate::length::{Length, trimmed};
use crate::model::{Assembly, BuildStage, Contact, Face, Feature, Joint, JointId, Material, NewPart, Part, PartId, PartKind, Taper};
use crate::origin::Size;
use crate::place::{Block, Dir, Lie};

/// A row of loose tenons that is wanted.
#[derive(Clone, Copy, Debug)]
pub struct Wanted<'a> {
    /// Their sizes.
    pub sizes: &'a LooseTenons,
    /// Where the design keeps them, such as `rail_to_post`; empty where no design does.
    pub path: &'a str,
    /// The species they are of.
    pub timber: &'a str,
    /// What else enters the receiving part there.
    pub beyond: Beyond,
    /// Whether they are glued; else they only locate.
    pub glued: bool,
}

/// The figures of a row of loose tenons, as cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Figures {
    /// Thickness, width and length of each tenon, mm.
    pub thickness: f64,
    /// Width of each tenon, mm.
    pub width: f64,
    /// Length of each tenon, mm.
    pub length: f64,
    /// Depth of the mortise in the part that comes up, mm.
    pub depth_in_end: f64,
    /// Depth of the mortise in the part that receives, mm.
    pub depth_in_face: f64,
    /// From the middle of the contact to the middle of each tenon along the row, mm; the first is the snug one.
    pub at: Vec<f64>,
    /// Mortise less tenon where it is snug, mm.
    pub fit: f64,
    /// Mortise less tenon in width for all but the first, in the receiving part, mm.
    pub play: f64,
    /// Where their ends are mitred for others that they meet in the receiving part.
    pub mitre: Option<Mitre>,
    /// From the edge of the part to the first mortise as decided, mm.
    pub margin: f64,
    /// The same as cut, at the nearer edge, mm.
    pub edge: f64,
    /// How many there would be if no other row stood above or below them.
    pub alone: usize,
    /// How many there would be with no more play than they need.
    pub at_best: usize,
}

/// How the ends of loose tenons are mitred.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mitre {
    /// The way to the longer cheek.
    pub long: Dir,
    /// How far the longer cheek may go into the receiving part, mm.
    pub at_most: f64,
}

/// The least and the most play along a row, and what is usual, mm (from memory: 5 to 6, or 10; a maker's page on mortise and tenon: 0.8).
const LEAST_PLAY: f64 = 0.8;
const MOST_PLAY: f64 = 10.0;
const USUAL_PLAY: f64 = 5.0;

impl Joining for Figures {
    fn describe(&self) -> String {
        let count = self.at.len();
        let words = if count == 1 { "loose tenon".to_owned() } else { format!("{count} loose tenons") };
        let play = if count > 1 { format!(", first snug, the rest play {}", trimmed(self.play)) } else { ", snug".to_owned() };
        let mitred = if self.mitre.is_some() { ", mitred" } else { "" };
        format!("{words} {} × {} × {}{play}{mitred}", trimmed(self.thickness), trimmed(self.width), trimmed(self.length))
    }

    fn meets_others(&self) -> bool {
        self.mitre.is_some()
    }

    fn fits(&self) -> Vec<Fitted> {
        let snug = |what| Fitted { what, class: Fit::GluedSnug, clearance: self.fit };
        let play = Fitted { what: "the rest of the row along it", class: Fit::LooseAcross, clearance: self.play };
        let row = (self.at.len() > 1).then_some(play);
        [snug("tenon in its mortises, in thickness"), snug("first tenon of the row, in width")].into_iter().chain(row).collect()
    }

    fn ways_apart(&self, contact: &Contact) -> Vec<Dir> {
        vec![contact.into.opposite()]
    }

    fn has_shoulder(&self) -> bool {
        true
    }

    fn broken(&self) -> Vec<Broken> {
        const FIT: &str = "Elek et al. 2020, Eur. J. Wood Prod., strongest near zero; a university test, second-hand: a fifth lost at 0.25";
        let fit = Fit::GluedSnug.clearance();
        let mut rules = Rules::default()
            .at_least(*fit.start(), self.fit, "a mortise is no narrower than its loose tenon is thick", FIT)
            .mended_by("fit", Fit::GluedSnug.usual())
            .at_most(*fit.end(), self.fit, "a loose tenon has at most 0.15 mm of room where it is snug", FIT)
            .mended_by("fit", Fit::GluedSnug.usual())
            .at_least(self.thickness, self.width, "a loose tenon with half round edges is at least as wide as it is thick", "geometry")
            .mended_by("width", (2.5 * self.thickness).round());
        if self.at.len() > 1 || self.at_best > self.at.len() {
            const PLAY: &str =
                "5 to 6, or 10: from memory; tight in the one part and 0.8 over in the other: a maker's page on mortise and tenon";
            rules = rules
                .at_least(LEAST_PLAY, self.play, "all but the first of a row have play along it, so that no two tenons fight", PLAY)
                .mended_by("play", USUAL_PLAY)
                .at_most(MOST_PLAY, self.play, "the play of a row leaves its tenons glue on their edges", PLAY)
                .mended_by("play", USUAL_PLAY);
        }
        let least = (self.edge * 2.0).floor() / 2.0;
        rules
            .at_most(self.edge, self.margin, "a part is wide enough for the margin beside its mortises", "geometry")
            .mended_by("margin", least)
            .mended_by_word("meeting", "mitred")
            .mended_by_word("meeting", "as_decided")
            .at_least(self.alone as f64, self.at.len() as f64, "a row keeps its tenons where another stands above or below it", "geometry")
            .mended_by_word("meeting", "mitred")
            .mended_by_word("meeting", "as_decided")
            .broken()
    }

    fn strength(&self) -> &'static str {
        "glue on both faces of the tenon and in the mortise: a dry tenon in a glued mortise tested at under a third \
         (a maker's test, read second-hand)"
    }
}

impl Figures {
    /// How much farther it goes in than lets it meet another at the mitre, mm; none where it is not mitred.
    pub fn past_mitre(&self) -> Option<f64> {
        self.mitre.map(|mitre| self.reach_in_face() - mitre.at_most)
    }

    /// Width of mortise number `index` of the row in the part that receives, mm.
    pub fn width_in_face(&self, index: usize) -> f64 {
        self.width + if index == 0 { self.fit } else { self.play.max(self.fit) }
    }

    /// Width of every mortise in the part that comes up, mm.
    pub fn width_in_end(&self) -> f64 {
        self.width + self.fit
    }

    /// Free room at the bottoms, both together, mm; negative when the tenon is too long.
    pub fn room(&self) -> f64 {
        self.depth_in_end + self.depth_in_face - self.length
    }

    /// How far a tenon reaches into the receiving part, mm: the free room is shared by both bottoms.
    pub fn reach_in_face(&self) -> f64 {
        self.depth_in_face - self.room() / 2.0
    }
}

/// The four slivers that leave both edges of a loose tenon half round.
pub(super) fn round_edge_prisms(size: DVec3) -> Vec<Prism> {
    let radius = size.z / 2.0;
    let corner = |edge: f64, inward: f64| {
        // Outside the half circle of the edge at W = `edge`, between T = 0 and T = thickness.
        let centre = DVec2::new(edge + inward * radius, radius);
        let (low, high) = (DVec2::new(centre.x, 0.0), DVec2::new(centre.x, size.z));
        let out = edge - inward * OVERSHOOT;
        let path = Profile::path(
            low,
            vec![
                Segment::Arc { to: high, centre, ccw: inward < 0.0 },
                Segment::Line { to: DVec2::new(centre.x, size.z + OVERSHOOT) },
                Segment::Line { to: DVec2::new(out, size.z + OVERSHOOT) },
                Segment::Line { to: DVec2::new(out, -OVERSHOOT) },
                Segment::Line { to: DVec2::new(centre.x, -OVERSHOOT) },
                Segment::Line { to: low },
            ],
        );
        path.ok().map(|profile| Prism { axis: Axis::L, from: -OVERSHOOT, to: size.x + OVERSHOOT, profile })
    };
    [corner(0.0, 1.0), corner(size.y, -1.0)].into_iter().flatten().collect()
}

/// The length of a loose part that goes through a shim besides.
pub(super) fn through_shim(long: Size, part: &Part, into: Dir) -> Size {
    let shim = part.shim_towards(into);
    if shim <= 0.0 {
        return long;
    }
    let shim = Size::decided("", "through the shim", shim);
    Size::sum(long.name.clone(), [(1.0, &long.named("in both parts")), (1.0, &shim)])
}

/// Cuts both mortises of every tenon in the row and adds the tenons.
pub(super) fn cut(assembly: &mut Assembly, id: JointId, wanted: &Wanted<'_>) -> JointKind {
    let joint = assembly.joint(id).clone();
    let contact = joint.contact;
    let figures = in_place(assembly, &joint, wanted);
    let (into, along) = (contact.into.vector(), contact.along.vector());
    for (index, at) in figures.at.iter().enumerate() {
        let middle = contact.centre + along * *at;
        for (part, out, width, depth) in [
            (joint.a, into, figures.width_in_end(), figures.depth_in_end),
            (joint.b, -into, figures.width_in_face(index), figures.depth_in_face),
        ] {
            let part = assembly.part(part);
            let (face, centre) = face_and_point(part, out, middle);
            let along = local_axis(part, along);
            let (part, thickness) = (part.id, figures.thickness + figures.fit);
            assembly.cut(part, Feature::Mortise { face, centre, along, length: width, width: thickness, depth, round: true }, Some(id));
        }
        let tenon = place_tenon(assembly, &joint, wanted, &figures, index, middle);
        assembly.add_loose(id, tenon);
    }
    JointKind::LooseTenons(figures)
}

fn place_tenon(assembly: &mut Assembly, joint: &Joint, wanted: &Wanted<'_>, figures: &Figures, index: usize, middle: DVec3) -> PartId {
    let Contact { into, along, .. } = joint.contact;
    let across = Dir::nearest(into.vector().cross(along.vector()));
    let (a, b) = (assembly.part(joint.a), assembly.part(joint.b));
    let (name, title) =
        (format!("tenon.{}.{}.{}", a.name, b.name, index + 1), format!("Loose tenon {}, {} to {}", index + 1, a.title, b.title));
    let size = |of: Dimension, length: Length| {
        let path = format!("joinery.{}.{}", wanted.path, of.word());
        let size = assembly.decided(&path).cloned().unwrap_or_else(|| Size::decided(path, "", length.to_mm()));
        size.named(format!("loose tenon: {}", of.word()))
    };
    let LooseTenons { length, width, thickness, .. } = *wanted.sizes;
    let mut long = size(Dimension::Length, length);
    if (figures.length - long.mm).abs() > 1e-9 {
        let rule = "shorter than decided, so that its mitred end leaves room for the one that it meets";
        long = Size::ruled(long.name.clone(), figures.length, rule, [&long]);
    }
    let long = through_shim(long, assembly.part(joint.a), into);
    let size = [long, size(Dimension::Width, width), size(Dimension::Thickness, thickness)];
    // One that came out otherwise than planned stands in the middle of its mortises all the same.
    let made = |of: Dimension| assembly.as_made(&name, of, &size[of.index()]).mm;
    let long = made(Dimension::Length);
    // What room there is at the bottoms is shared by both; what is too short for its shim lacks behind that.
    let room = if a.shim_towards(into) > 0.0 { figures.room() } else { figures.depth_in_end + figures.depth_in_face - long };
    let deep = middle + into.vector() * (figures.depth_in_face - room / 2.0);
    let shallow = deep - into.vector() * long;
    let half = (along.vector() * made(Dimension::Width) + across.vector() * made(Dimension::Thickness)).abs() / 2.0;
    let block = Block { min: deep.min(shallow) - half, max: deep.max(shallow) + half };
    let stage = if joint.glued { BuildStage::GlueUp } else { BuildStage::AfterGlueUp };
    let tenon = assembly.place(NewPart {
        name,
        title,
        kind: PartKind::LooseTenon,
        material: Material::Solid(wanted.timber.to_owned()),
        block,
        lie: Lie { face: across, edge: along },
        size,
        stage,
    });
    assembly.cut(tenon, Feature::RoundEdges, Some(joint.id));
    if let Some(Mitre { long, .. }) = figures.mitre {
        let part = assembly.part(tenon);
        let (end, _) = face_and_point(part, into.vector(), middle);
        let face = Face::looking(part.pose.inverse().vector(-long.vector()));
        let mitre = Taper { face, second_end: end == Face::SecondEnd, length: figures.thickness, inset: figures.thickness };
        assembly.cut(tenon, Feature::Taper(mitre), Some(joint.id));
    }
    tenon
}
