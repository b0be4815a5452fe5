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

use super::{Contact, Cut, Face, Feature, Joint, JointId, Material, Model, Part, PartId, PartKind, Role, Room, marks};
use crate::design::Dimension;
use crate::inspect::Finding;
use crate::joint::{self, Fixing, JointKind, Wanted};
use crate::model::BuildStage;
use crate::origin::{Origin, Size};
use crate::place::{Block, Lie};

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
    /// Whether a part of that name was placed.
    pub met: bool,
}

/// Parts and joints as they are put together.
#[derive(Clone, Debug, Default)]
pub struct Assembly {
    model: Model,
    /// Decided lengths by their paths, for the origins of sizes.
    sizes: HashMap<String, Size>,
    own_sizes: Vec<OwnSize>,
}

impl Assembly {
    /// One of a name, that knows decided lengths by their paths, and sizes of single parts that hold against the rules.
    pub(crate) fn new(name: &str, sizes: HashMap<String, Size>, own_sizes: Vec<OwnSize>) -> Assembly {
        Assembly { model: Model { name: name.to_owned(), ..Model::default() }, sizes, own_sizes }
    }

    /// The decided length at `path`, where it is known.
    pub(crate) fn decided(&self, path: &str) -> Option<&Size> {
        self.sizes.get(path)
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
        let (pose, _) = new.lie.pose(&new.block);
        let mut size = new.size;
        for own in self.own_sizes.iter_mut().filter(|own| own.part == new.name) {
            own.met = true;
            size[own.of.index()] = own.size.named(format!("{}: your own {}", new.title, own.of.word()));
        }
        let id = PartId(self.model.parts.len());
        self.model.parts.push(Part {
            id,
            name: new.name,
            title: new.title,
            mark: String::new(),
            kind: new.kind,
            material: new.material,
            size,
            beyond_shoulders: [0.0; 2],
            pose,
            cuts: Vec::new(),
            stage: new.stage,
        });
        id
    }

    /// Cuts a part.
    pub fn cut(&mut self, part: PartId, feature: Feature, joint: Option<JointId>) {
        self.model.parts[part.0].cuts.push(Cut { feature, joint });
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
        id
    }

    /// Adds a loose part, such as a loose tenon, to a joint.
    pub(crate) fn add_loose(&mut self, joint: JointId, part: PartId) {
        self.model.joints[joint.0].loose.push(part);
    }

    /// Makes a part longer at one end by a tenon, `by` long, that stands out beyond its shoulder there.
    ///
    /// Every cut made before stays where it was in the case. A part whose length holds against the rules keeps it: then its
    /// shoulder draws back, and the check on shoulders tells.
    pub(crate) fn stand_out(&mut self, part: PartId, end: Face, by: &Size) {
        let part = &mut self.model.parts[part.0];
        if end.axis() != 0 || by.mm <= 0.0 {
            return;
        }
        let first = end.is_first();
        part.beyond_shoulders[usize::from(!first)] += by.mm;
        let own = matches!(&part.size[0].origin, Origin::Decision { path } if path.starts_with(OVERRIDES));
        if !own {
            let name = part.size[0].name.clone();
            let over_shoulders = part.size[0].named("over the shoulders");
            part.size[0] = Size::sum(name, [(1.0, &over_shoulders), (1.0, by)]);
        }
        if first {
            part.pose.origin = part.pose.point(glam::DVec3::new(-by.mm, 0.0, 0.0));
            for cut in &mut part.cuts {
                cut.feature.shift_along(by.mm);
            }
        }
    }

    /// Adds a clear room.
    pub(crate) fn add_room(&mut self, room: Room) {
        self.model.rooms.push(room);
    }

    /// Adds a finding met on the way.
    pub(crate) fn found(&mut self, finding: Finding) {
        self.model.findings.push(finding);
    }

    /// Sizes of single parts that are not there.
    pub(crate) fn unmet(&self) -> impl Iterator<Item = &OwnSize> {
        self.own_sizes.iter().filter(|own| !own.met)
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
