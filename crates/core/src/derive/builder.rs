//! What every assembly builds with: decided sizes, parts placed by blocks, and meetings that become the joints of the design.

use std::collections::HashMap;

use super::milled::{self, AsMilled};
use crate::design::decisions::{self, Value};
use crate::design::{Design, Dimension, SawnAs};
use crate::inspect::Finding;
use crate::joint::room::{Beyond, Crossing};
use crate::joint::{self, Detail, MakesWay, local_axis};
use crate::loads::SlatsWanted;
use crate::model::{
    Assembly, Bay, Feature, HeldLine, JointId, Meeting, Model, NewPart, OVERRIDES, OwnSize, Part, PartId, PartKind, Room, is_made,
};
use crate::origin::Size;
use crate::place::Dir;
use crate::timber::{Sawn, Timbers};

/// The decision on how thick the slats are.
pub(super) const SLAT_THICKNESS: &str = "sawtooth.slats.thickness";

/// How thick slats are by their load, with what makes them so.
#[derive(Clone, Debug)]
pub(super) struct SlatsByLoad {
    thickness: f64,
    /// The last thickness that was tried and would not do.
    thinner: Size,
    /// How far the worst slat sags then.
    sags: Size,
    /// How far it may.
    made_for: Size,
}

impl SlatsByLoad {
    /// So thick, mm, as `thinner` mm sags too far.
    pub fn new(thickness: f64, thinner: f64, wanted: &SlatsWanted) -> SlatsByLoad {
        let told = |name: String, mm: f64| Size::decided("", name, (mm * 100.0).round() / 100.0);
        SlatsByLoad {
            thickness,
            thinner: told("too thin:".to_owned(), thinner),
            sags: told(format!("of which {} sags", wanted.slat), wanted.sags),
            made_for: told("it is made for".to_owned(), wanted.made_for),
        }
    }
}

/// Gathers parts and joints while a case is derived.
pub(crate) struct Builder<'d> {
    /// The design being derived.
    pub design: &'d Design,
    assembly: Assembly,
    /// Ends that came up and are not joined yet.
    ends: Vec<Meeting>,
    /// How thick the load wants the slats, where it wants more than was decided.
    slats: Option<SlatsByLoad>,
}

impl<'d> Builder<'d> {
    pub fn new(milled: &'d AsMilled<'_>) -> Self {
        let design = milled.design.as_ref();
        let lengths = decisions::list(design).into_iter().filter_map(|decision| match decision.value {
            Value::Length(length) | Value::Ruled { own: Some(length), .. } => {
                let name = spoken(&decision.spec.group, &decision.spec.label);
                let size = Size::decided(decision.spec.path.clone(), name, length.to_mm());
                Some((decision.spec.path.clone(), milled.size(size, &decision.spec.path)))
            }
            _ => None,
        });
        let set = design.overrides.iter().enumerate().map(|(index, own)| OwnSize {
            part: own.part.clone(),
            of: own.of,
            size: Size::decided(format!("{OVERRIDES}{}.value", index + 1), "your own", own.value.to_mm()),
            rough: false,
            met: false,
        });
        // What is there holds against what was set.
        let own_sizes = set.chain(milled::own_sizes(design)).collect();
        let states: HashMap<_, _> = design.shop.parts.iter().rev().map(|record| (record.part.clone(), record.state)).collect();
        Builder {
            design,
            assembly: Assembly::new(&design.name, design.timber.timbers(), lengths.collect(), own_sizes, states, milled::shims(design)),
            ends: Vec::new(),
            slats: None,
        }
    }

    /// The same with slats as thick as the load wants them, mm.
    pub(super) fn with_slats(self, slats: Option<SlatsByLoad>) -> Self {
        Builder { slats, ..self }
    }

    /// How thick the slats are: as decided, or as the load wants them.
    pub fn slat_thickness(&self) -> Size {
        let decided = self.size(SLAT_THICKNESS);
        let Some(SlatsByLoad { thickness, thinner, sags, made_for }) = &self.slats else { return decided };
        let rule = "as thick as its load wants it, no less than decided: in whole millimetres the thinnest that sags no further than it is made for under \
                    the heaviest boxes that its shelf takes";
        Size::ruled("slat thickness", *thickness, rule, [&decided, thinner, sags, made_for])
    }

    /// The decided length at `path`. Assemblies ask only for what [`decisions::visit`] names while the part of the
    /// design that holds it is there; a name it does not know counts as nothing.
    pub fn size(&self, path: &str) -> Size {
        self.assembly.decided(path).cloned().unwrap_or_else(|| Size::decided(path.to_owned(), path.to_owned(), 0.0))
    }

    /// A size as measured on the part of that name, or as it was cut to; as planned where it is not yet there.
    pub fn as_made(&self, part: &str, of: Dimension, planned: &Size) -> Size {
        self.assembly.as_made(part, of, planned)
    }

    /// The thickness of the sheet of a part as measured on it; as planned where it is not yet there.
    pub fn as_bought(&self, part: &str, planned: &Size) -> Size {
        self.assembly.as_bought(part, Dimension::Thickness, planned)
    }

    /// The extent of a part along `dir` of the case as measured on it, or as it was cut to; as planned where it is not yet there.
    pub fn as_made_along(&self, id: PartId, dir: Dir, planned: &Size) -> Size {
        let part = self.assembly.part(id);
        self.assembly.as_made(&part.name, Dimension::ALL[local_axis(part, dir.vector())], planned)
    }

    /// Where the face of a part lies that looks in `dir`, if its extent that way was measured on it or it was cut to it.
    pub fn made_face(&self, id: PartId, dir: Dir) -> Option<f64> {
        let part = self.assembly.part(id);
        let size = &part.size[local_axis(part, dir.vector())];
        let block = part.block();
        is_made(size).then(|| if dir.sign() > 0.0 { block.max } else { block.min }[dir.axis()])
    }

    pub fn part(&self, id: PartId) -> &Part {
        self.assembly.part(id)
    }

    /// Every part placed so far.
    pub fn parts(&self) -> &[Part] {
        self.assembly.parts()
    }

    /// Every timber and sheet that parts may be of.
    pub fn timbers(&self) -> &Timbers {
        self.assembly.timbers()
    }

    pub fn place(&mut self, new: NewPart) -> PartId {
        let sawn = sawn(&self.design.timber.sawn, new.kind);
        let part = self.assembly.place(new);
        self.assembly.saw(part, sawn);
        part
    }

    pub fn cut(&mut self, part: PartId, feature: Feature) {
        self.assembly.cut(part, feature, None);
    }

    pub fn add_bay(&mut self, bay: Bay) {
        self.assembly.add_bay(bay);
    }

    pub fn add_room(&mut self, room: Room) {
        self.assembly.add_room(room);
    }

    /// Holds a part at a line, from which it moves.
    pub fn hold(&mut self, line: HeldLine) {
        self.assembly.hold(line);
    }

    pub fn found(&mut self, finding: Finding) {
        self.assembly.found(finding);
    }

    /// Joins two parts as the design wants it for their role.
    pub fn meet(&mut self, meeting: &Meeting, detail: &Detail<'_>) -> JointId {
        self.assembly.join(meeting, &joint::choose(meeting.role, self.design, detail))
    }

    /// An end comes up to a part. It is joined by [`join_ends`](Builder::join_ends), when it is known what else comes up there and
    /// which grooves run in.
    pub fn bring_up(&mut self, end: Meeting) {
        self.ends.push(end);
    }

    /// Joins all ends that came up: first those whose sizes are the maker's, then those that follow rules and can make way for them; those
    /// that would go right through last, and among these the one last that has the farthest to go.
    pub fn join_ends(&mut self) {
        let mut ends = std::mem::take(&mut self.ends);
        ends.sort_by_cached_key(|end| {
            let makes_way = joint::choose(end.role, self.design, &Detail::None).makes_way();
            let through = self.part(end.b).block().size()[end.contact.into.axis()];
            (makes_way, if makes_way == MakesWay::First { through.round() as i64 } else { 0 })
        });
        for end in &ends {
            self.meet(end, &Detail::Beyond(beyond(end, &ends)));
        }
    }

    /// The finished model; overrides and records of parts that are not there are reported.
    pub fn finish(mut self) -> Model {
        let unmet: Vec<Finding> = self.assembly.unmet().map(no_such_part).collect();
        let unused = milled::unused(self.design, |path| self.assembly.decided(path).is_some(), |part| self.assembly.has(part));
        for finding in unmet.into_iter().chain(unused) {
            self.assembly.found(finding);
        }
        self.assembly.finish()
    }
}

/// How the timber of a kind of part was sawn; loose parts of joints, and parts of no assembly, are of whatever is at hand.
fn sawn(sawn: &SawnAs, kind: PartKind) -> Sawn {
    match kind {
        PartKind::Post
        | PartKind::Rail
        | PartKind::Stile
        | PartKind::Muntin
        | PartKind::CrossRail
        | PartKind::Panel
        | PartKind::Floor
        | PartKind::Bearer
        | PartKind::Strip => sawn.frame,
        PartKind::Top | PartKind::Button => sawn.top,
        PartKind::Standard | PartKind::Cleat | PartKind::Slat | PartKind::Shelf | PartKind::Spacer => sawn.shelving,
        PartKind::LooseTenon | PartKind::Dowel | PartKind::Pin | PartKind::Clip | PartKind::Plate | PartKind::Shim | PartKind::Own => {
            Sawn::Unknown
        }
    }
}

/// What else enters the part to which an end comes up, at the same place.
fn beyond(end: &Meeting, ends: &[Meeting]) -> Beyond {
    let contact = &end.contact;
    let (into, along) = (contact.into.vector(), contact.along.vector());
    let mut beyond = Beyond::default();
    for other in ends.iter().filter(|other| other.b == end.b && other.a != end.a) {
        let between = other.contact.centre - contact.centre;
        let reach = f64::midpoint(contact.extent.x, other.contact.extent.x);
        if other.contact.along.axis() != contact.along.axis() || between.dot(along).abs() >= reach {
            continue;
        }
        if other.contact.into == contact.into.opposite() {
            beyond.facing = true;
        } else if other.contact.into.axis() != contact.into.axis() {
            let (middle, half) = (between.dot(into), other.contact.extent.y / 2.0);
            let before = -between.dot(other.contact.into.vector());
            let (over, reach) = (between.dot(along), other.contact.extent.x / 2.0);
            let along = (over - reach, over + reach);
            beyond.crossing = Some(Crossing { near: middle - half, far: middle + half, into: other.contact.into, before, along });
        }
    }
    beyond
}

fn no_such_part(own: &OwnSize) -> Finding {
    milled::unused_for(format!("Your own {} for \"{}\" is not used: there is no such part", own.of.word(), own.part))
}

/// A decision's name inside a sentence: "case width", "pitch of the sawtooth standards".
fn spoken(group: &str, label: &str) -> String {
    let label = lower(label);
    match group {
        "Outside" => format!("case {label}"),
        "Posts and rails" | "Bays" | "Cleats and slats" => label,
        _ => format!("{label} ({})", lower(group)),
    }
}

fn lower(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or_else(String::new, |first| first.to_lowercase().chain(chars).collect())
}

/// The size `of` of three whose names are made from a title: "Front rail, bottom: length".
pub(crate) fn sized(title: &str, of: Dimension, size: &Size) -> Size {
    size.named(format!("{title}: {}", of.word()))
}
