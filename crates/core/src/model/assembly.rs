//! Parts being put together: what joints cut into, and what becomes a [`Model`].
//!
//! [`derive()`](crate::derive()) fills one by its rules; a model can also be put together by hand, part by part and joint by joint:
//!
//! ```
//! use casewright_core::joint::{Fixing, Wanted};
//! use casewright_core::model::{Assembly, BuildStage, Contact, Material, Meeting, NewPart, PartKind, Role};
//! use casewright_core::place::{Block, Dir, Lie};
//! use glam::{DVec2, DVec3};
//!
//! let mut assembly = Assembly::default();
//! let ash = Material::Solid("white_ash".to_owned());
//! // An upright, and a board that lies on its end.
//! let post = NewPart::filling(Block::new((0.0, 45.0), (0.0, 700.0), (0.0, 45.0)), Lie { face: Dir::PlusZ, edge: Dir::MinusX })
//!     .called("post", "Post", PartKind::Post, ash.clone());
//! let top = NewPart::filling(Block::new((0.0, 400.0), (700.0, 720.0), (0.0, 200.0)), Lie { face: Dir::PlusY, edge: Dir::PlusZ })
//!     .called("top", "Top", PartKind::Top, ash);
//! let (post, top) = (assembly.place(post), assembly.place(top));
//! let contact = Contact { centre: DVec3::new(22.5, 700.0, 22.5), into: Dir::MinusY, along: Dir::PlusX, extent: DVec2::splat(45.0) };
//! assembly.join(&Meeting { role: Role::Own, a: top, b: post, contact }, &Wanted::Plain(Fixing::Rest));
//! let model = assembly.finish();
//! assert_eq!(model.part(top).size_text(), "400 × 200 × 20");
//! ```

use std::collections::HashMap;

use super::{
    Bay, Contact, Cut, CutState, Face, Feature, HeldLine, Joint, JointId, Material, Model, Part, PartId, PartKind, Role, Room, marks,
};
use crate::design::Dimension;
use crate::design::shop::State;
use crate::inspect::{Finding, TOUCH};
use crate::joint::{self, Fixing, JointKind, Wanted};
use crate::model::BuildStage;
use crate::origin::{Origin, Size};
use crate::place::{Block, Lie};
use crate::timber::{Sawn, Timbers};

/// A part about to be placed.
#[derive(Clone, Debug)]
pub struct NewPart {
    /// A stable name: kind, assembly and place, such as `rail.front.bottom`.
    pub name: String,
    /// What a maker calls it.
    pub title: String,
    /// What it is.
    pub kind: PartKind,
    /// What it is made of.
    pub material: Material,
    /// The room it fills in the case.
    pub block: Block,
    /// How it lies there.
    pub lie: Lie,
    /// Length, width and thickness; each as long as the block says.
    pub size: [Size; 3],
    /// When it goes in.
    pub stage: BuildStage,
}

impl NewPart {
    /// A part of softwood that fills a block, its sizes decided by no one; to be [`called`](NewPart::called) something.
    pub fn filling(block: Block, lie: Lie) -> NewPart {
        let (_, lwt) = lie.pose(&block);
        let size = Dimension::ALL.map(|of| Size::decided("", of.word(), lwt[of.index()]));
        NewPart {
            name: String::new(),
            title: String::new(),
            kind: PartKind::Own,
            material: Material::Solid(String::new()),
            block,
            lie,
            size,
            stage: BuildStage::GlueUp,
        }
    }

    /// The same with a name, a title, a kind and a material.
    #[must_use]
    pub fn called(self, name: &str, title: &str, kind: PartKind, material: Material) -> NewPart {
        NewPart { name: name.to_owned(), title: title.to_owned(), kind, material, ..self }
    }
}

/// Two parts that meet.
#[derive(Clone, Copy, Debug)]
pub struct Meeting {
    /// What they are to each other.
    pub role: Role,
    /// The part that comes up.
    pub a: PartId,
    /// The part that receives.
    pub b: PartId,
    /// Where they meet.
    pub contact: Contact,
}

/// A size of one part that holds against the rules.
#[derive(Clone, Debug)]
pub(crate) struct OwnSize {
    /// The part's name.
    pub part: String,
    /// Which of its sizes.
    pub of: Dimension,
    /// The size; its name is taken as it is.
    pub size: Size,
    /// Whether it was measured on a part that is only roughed: where that is larger than planned, it is still to come to what is planned.
    pub rough: bool,
    /// Whether a part of that name was placed.
    pub met: bool,
}

impl OwnSize {
    /// Whether the maker set it against the rules; else it was measured or cut.
    fn is_set(&self) -> bool {
        matches!(&self.size.origin, Origin::Decision { path } if path.starts_with(OVERRIDES))
    }

    /// In place of what was `planned`, where it was measured or cut; a rough size that is larger gives way.
    fn made(&self, planned: &Size) -> Option<Size> {
        if self.rough && self.size.mm > planned.mm + TOUCH { Some(planned.clone()) } else { self.measured(planned) }
    }

    /// In place of what was `planned`, where it was measured or cut.
    fn measured(&self, planned: &Size) -> Option<Size> {
        match &self.size.origin {
            // An assembly may have asked before it placed the part.
            Origin::Decision { path } if matches!(&planned.origin, Origin::Measured { path: known, .. } if known == path) => {
                Some(planned.clone())
            }
            Origin::Decision { path } if path.starts_with(SHOP_PARTS) => {
                let as_planned = (self.size.mm - planned.mm).abs() <= AS_GOOD + TOUCH;
                Some(Size::measured(path.clone(), if as_planned { planned.mm } else { self.size.mm }, planned.clone()))
            }
            Origin::Decision { .. } | Origin::Measured { .. } | Origin::Sum(_) | Origin::Rule { .. } => None,
        }
    }
}

/// What a part measures is as good as planned when it is no farther off, mm: a bench can't tell it (common practice, no source).
const AS_GOOD: f64 = 0.05;

/// Parts and joints as they are put together.
#[derive(Clone, Debug, Default)]
pub struct Assembly {
    model: Model,
    /// Decided lengths by their paths, for the origins of sizes.
    sizes: HashMap<String, Size>,
    own_sizes: Vec<OwnSize>,
    /// Places in `own_sizes` by the parts' names.
    own_of: HashMap<String, Vec<usize>>,
    /// How far parts are made, by their names.
    states: HashMap<String, State>,
    /// Shims at the first and the second end of parts, by their names.
    shims: HashMap<String, [Option<Size>; 2]>,
}

/// A length over the shoulders with a tenon beyond one of them.
fn with_tenon(over_shoulders: &Size, by: &Size) -> Size {
    Size::sum(over_shoulders.name.clone(), [(1.0, &over_shoulders.named("over the shoulders")), (1.0, by)])
}

/// Whether a part that is not as large as planned that way stands in the middle of the room it was planned to fill: a panel in its grooves, the uprights of
/// a divider between its bays, a loose tenon in its mortises. All others stand where their first end, face edge and face side are planned.
fn stands_in_the_middle(kind: PartKind, of: Dimension) -> bool {
    match kind {
        PartKind::Panel => true,
        PartKind::LooseTenon | PartKind::Dowel => of != Dimension::Length,
        PartKind::Stile | PartKind::Muntin => of == Dimension::Width,
        PartKind::Post
        | PartKind::Rail
        | PartKind::CrossRail
        | PartKind::Top
        | PartKind::Floor
        | PartKind::Bearer
        | PartKind::Standard
        | PartKind::Cleat
        | PartKind::Slat
        | PartKind::Shelf
        | PartKind::Pin
        | PartKind::Spacer
        | PartKind::Button
        | PartKind::Clip
        | PartKind::Plate
        | PartKind::Strip
        | PartKind::Shim
        | PartKind::Own => false,
    }
}

impl Assembly {
    /// One of a name, whose parts may be of these timbers; it knows decided lengths by their paths, sizes of single parts that hold against the rules, how far
    /// parts are made, and the shims at their ends.
    pub(crate) fn new(
        name: &str,
        timbers: Timbers,
        sizes: HashMap<String, Size>,
        own_sizes: Vec<OwnSize>,
        states: HashMap<String, State>,
        shims: HashMap<String, [Option<Size>; 2]>,
    ) -> Assembly {
        let mut own_of: HashMap<String, Vec<usize>> = HashMap::new();
        for (index, own) in own_sizes.iter().enumerate() {
            own_of.entry(own.part.clone()).or_default().push(index);
        }
        Assembly { model: Model { name: name.to_owned(), timbers, ..Model::default() }, sizes, own_sizes, own_of, states, shims }
    }

    /// The decided length at `path`, where it is known.
    pub(crate) fn decided(&self, path: &str) -> Option<&Size> {
        self.sizes.get(path)
    }

    /// Every timber and sheet that parts may be of.
    pub fn timbers(&self) -> &Timbers {
        &self.model.timbers
    }

    /// Every part placed so far.
    pub fn parts(&self) -> &[Part] {
        &self.model.parts
    }

    /// A part placed before.
    pub fn part(&self, id: PartId) -> &Part {
        self.model.part(id)
    }

    /// A joint made before.
    pub fn joint(&self, id: JointId) -> &Joint {
        self.model.joint(id)
    }

    /// Places a part, at its own sizes where some hold against the rules.
    pub fn place(&mut self, new: NewPart) -> PartId {
        let (mut pose, _) = new.lie.pose(&new.block);
        let mut size = new.size;
        let of_sheet = matches!(new.material, Material::Sheet(_));
        // What shims make up is not wanted of the part.
        let shims = self.shims.get(&new.name).cloned().unwrap_or_default();
        for shim in shims.iter().flatten() {
            size[0] = Size::sum(size[0].name.clone(), [(1.0, &size[0].named("with its shim")), (-1.0, shim)]);
        }
        let shims = shims.map(|shim| shim.map_or(0.0, |shim| shim.mm));
        let mut inset = glam::DVec3::new(shims[0], 0.0, 0.0);
        for index in self.own_of.get(&new.name).into_iter().flatten() {
            let own = &mut self.own_sizes[*index];
            own.met = true;
            let ruled = &mut size[own.of.index()];
            let planned = ruled.mm;
            // A sheet is as thick as it is.
            let held = if of_sheet && own.of == Dimension::Thickness { own.measured(ruled) } else { own.made(ruled) };
            *ruled = held.unwrap_or_else(|| own.size.named(format!("{}: your own {}", new.title, own.of.word())));
            let of_tenon = own.is_set() && new.kind == PartKind::LooseTenon;
            if of_tenon || stands_in_the_middle(new.kind, own.of) {
                inset[own.of.index()] += (planned - ruled.mm) / 2.0;
            }
        }
        pose.origin = pose.point(inset);
        let state = self.states.get(&new.name).copied().unwrap_or_default();
        let id = PartId(self.model.parts.len());
        self.model.parts.push(Part {
            id,
            name: new.name,
            title: new.title,
            mark: String::new(),
            kind: new.kind,
            material: new.material,
            sawn: Sawn::Unknown,
            size,
            beyond_shoulders: [0.0; 2],
            shims,
            pose,
            cuts: Vec::new(),
            planned: None,
            stage: new.stage,
            state,
        });
        id
    }

    /// Tells how a part was sawn.
    pub fn saw(&mut self, part: PartId, sawn: Sawn) {
        self.model.parts[part.0].sawn = sawn;
    }

    /// Cuts a part.
    pub fn cut(&mut self, part: PartId, feature: Feature, joint: Option<JointId>) {
        self.model.parts[part.0].cuts.push(Cut { feature, joint, there: CutState::AsPlanned });
    }

    /// Joins two parts as wanted.
    pub fn join(&mut self, meeting: &Meeting, wanted: &Wanted<'_>) -> JointId {
        let id = JointId(self.model.joints.len());
        // Entered first, so that cuts and loose parts can refer to it; its figures follow.
        self.model.joints.push(Joint {
            id,
            kind: JointKind::Plain(Fixing::Rest),
            role: meeting.role,
            a: meeting.a,
            b: meeting.b,
            loose: Vec::new(),
            contact: meeting.contact,
            glued: wanted.is_glued(),
        });
        let kind = joint::cut(self, id, wanted);
        self.model.joints[id.0].kind = kind;
        joint::shim::put(self, id);
        id
    }

    /// Adds a loose part, such as a loose tenon, to a joint.
    pub(crate) fn add_loose(&mut self, joint: JointId, part: PartId) {
        self.model.joints[joint.0].loose.push(part);
    }

    /// Makes a part longer at one end by a tenon, `by` long, that stands out beyond its shoulder there.
    ///
    /// Every cut made before stays where it was in the case. A part whose length holds against the rules keeps it: then its
    /// shoulder draws back, and the check on shoulders tells. One roughed long enough without the tenon may be too short with it.
    pub(crate) fn stand_out(&mut self, part: PartId, end: Face, by: &Size) {
        if end.axis() != 0 || by.mm <= 0.0 {
            return;
        }
        let rough = self.own(&self.part(part).name, Dimension::Length).find(|own| own.rough).cloned();
        let part = &mut self.model.parts[part.0];
        let first = end.is_first();
        part.beyond_shoulders[usize::from(!first)] += by.mm;
        if let Origin::Measured { path, planned } = &part.size[0].origin
            && is_made(&part.size[0])
        {
            // What is there is measured over its tenons, so what is wanted of it is too.
            part.size[0] = Size::measured(path.clone(), part.size[0].mm, with_tenon(planned, by));
        } else if !part.is_own(0) {
            let wanted = with_tenon(&part.size[0], by);
            part.size[0] = rough.and_then(|own| own.made(&wanted)).unwrap_or(wanted);
        }
        if first {
            part.pose.origin = part.pose.point(glam::DVec3::new(-by.mm, 0.0, 0.0));
            for cut in &mut part.cuts {
                cut.feature.shift_along(by.mm);
            }
        }
    }

    /// Adds a bay, to the right of those there are.
    pub(crate) fn add_bay(&mut self, bay: Bay) {
        self.model.bays.push(bay);
    }

    /// Adds a clear room.
    pub(crate) fn add_room(&mut self, room: Room) {
        self.model.rooms.push(room);
    }

    /// Adds a line at which a part is held.
    pub(crate) fn hold(&mut self, line: HeldLine) {
        self.model.held_lines.push(line);
    }

    /// Adds a finding met on the way.
    pub(crate) fn found(&mut self, finding: Finding) {
        self.model.findings.push(finding);
    }

    /// Whether a part of that name was placed.
    pub(crate) fn has(&self, name: &str) -> bool {
        self.model.find(name).is_some()
    }

    /// A size as measured on the part of that name, or as it was cut to; as planned where it is not yet there.
    pub(crate) fn as_made(&self, part: &str, of: Dimension, planned: &Size) -> Size {
        self.own(part, of).find_map(|own| own.made(planned)).unwrap_or_else(|| planned.clone())
    }

    /// The same of a sheet, which is as thick as it is though nothing of it is cut yet.
    pub(crate) fn as_bought(&self, part: &str, of: Dimension, planned: &Size) -> Size {
        self.own(part, of).find_map(|own| own.measured(planned)).unwrap_or_else(|| planned.clone())
    }

    fn own(&self, part: &str, of: Dimension) -> impl Iterator<Item = &OwnSize> {
        self.own_of.get(part).into_iter().flatten().map(|index| &self.own_sizes[*index]).filter(move |own| own.of == of)
    }

    /// Sizes that the maker set against the rules for parts that are not there.
    pub(crate) fn unmet(&self) -> impl Iterator<Item = &OwnSize> {
        self.own_sizes.iter().filter(|own| !own.met && own.is_set())
    }

    /// The finished model: marks given, bounds taken.
    pub fn finish(self) -> Model {
        let mut model = self.model;
        marks::give(&mut model.parts);
        let blocks = model.parts.iter().map(Part::block);
        model.bounds = blocks.reduce(|all, block| Block { min: all.min.min(block.min), max: all.max.max(block.max) });
        model
    }
}

/// Where the design keeps sizes of single parts.
pub(crate) const OVERRIDES: &str = "overrides.";
/// Where the design keeps what was measured on single parts.
pub(crate) const SHOP_PARTS: &str = "shop.parts.";

/// Whether a size was measured on its part, or is what the part was cut to.
pub(crate) fn is_made(size: &Size) -> bool {
    matches!(&size.origin, Origin::Measured { path, .. } if path.starts_with(SHOP_PARTS))
}
