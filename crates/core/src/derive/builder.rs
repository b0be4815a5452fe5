//! What every assembly builds with: parts placed by blocks, and meetings that become joints.

use std::collections::HashMap;

use super::marks;
use crate::design::decisions::{self, Value};
use crate::design::{Design, Dimension, Sheet};
use crate::inspect::{Finding, Rule, Seriousness};
use crate::joint::{self, Choice, JointKind};
use crate::model::{BuildStage, Contact, Cut, Feature, Joint, JointId, Material, Model, Part, PartId, PartKind, Role};
use crate::origin::Size;
use crate::place::{Block, Lie};

/// Gathers parts and joints while a case is derived.
pub(crate) struct Builder<'d> {
    /// The design being derived.
    pub design: &'d Design,
    sizes: HashMap<String, Size>,
    model: Model,
    overrides_met: Vec<bool>,
}

/// A part about to be placed.
pub(crate) struct NewPart {
    pub name: String,
    pub title: String,
    pub kind: PartKind,
    pub material: Material,
    pub block: Block,
    pub lie: Lie,
    /// Length, width and thickness; each as long as the block says.
    pub size: [Size; 3],
    pub stage: BuildStage,
}

/// Two parts that meet.
pub(crate) struct Meeting<'m> {
    pub role: Role,
    /// The part that comes up.
    pub a: PartId,
    /// The part that receives.
    pub b: PartId,
    pub contact: Contact,
    pub detail: Detail<'m>,
}

/// What some joints need to know besides the contact.
pub(crate) enum Detail<'m> {
    None,
    /// The sheet of a panel.
    Sheet(&'m Sheet),
    /// The tooth of a cleat, from 1.
    Tooth(u32),
    /// What a notch goes round, and how much room it leaves.
    Round {
        block: Block,
        clearance: f64,
    },
    /// A button's figures, and the shift of its slot along the rail.
    Button {
        figures: joint::button::Figures,
        shift: f64,
    },
}

impl<'d> Builder<'d> {
    pub fn new(design: &'d Design) -> Self {
        let lengths = decisions::list(design).into_iter().filter_map(|decision| match decision.value {
            Value::Length(length) => {
                let name = spoken(&decision.spec.group, &decision.spec.label);
                Some((decision.spec.path.clone(), Size::decided(decision.spec.path, name, length.to_mm())))
            }
            _ => None,
        });
        Builder {
            design,
            sizes: lengths.collect(),
            model: Model { name: design.name.clone(), ..Model::default() },
            overrides_met: vec![false; design.overrides.len()],
        }
    }

    /// The decided length at `path`. Assemblies ask only for what [`decisions::visit`] names while the part of the
    /// design that holds it is there; a name it does not know counts as nothing.
    pub fn size(&self, path: &str) -> Size {
        self.sizes.get(path).cloned().unwrap_or_else(|| Size::decided(path.to_owned(), path.to_owned(), 0.0))
    }

    pub fn part(&self, id: PartId) -> &Part {
        self.model.part(id)
    }

    /// Places a part, at the maker's own sizes where the design overrides the rules.
    pub fn place(&mut self, new: NewPart) -> PartId {
        let (pose, _) = new.lie.pose(&new.block);
        let mut size = new.size;
        for (index, own) in self.design.overrides.iter().enumerate() {
            if own.part == new.name {
                self.overrides_met[index] = true;
                let name = format!("{}: your own {}", new.title, own.of.word());
                size[own.of.index()] = Size::decided(format!("overrides.{}.value", index + 1), name, own.value.to_mm());
            }
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
            pose,
            cuts: Vec::new(),
            stage: new.stage,
        });
        id
    }

    pub fn cut(&mut self, part: PartId, feature: Feature, joint: Option<JointId>) {
        self.model.parts[part.0].cuts.push(Cut { feature, joint });
    }

    pub fn add_room(&mut self, room: crate::model::Room) {
        self.model.rooms.push(room);
    }

    pub fn found(&mut self, finding: Finding) {
        self.model.findings.push(finding);
    }

    /// Joins two parts as the design wants it for their role.
    pub fn meet(&mut self, meeting: &Meeting<'_>) -> JointId {
        let id = JointId(self.model.joints.len());
        let design = self.design;
        let choice = joint::choose(meeting.role, &design.joinery);
        // Entered first, so that cuts and loose parts can refer to it; its figures follow.
        self.model.joints.push(Joint {
            id,
            kind: JointKind::Rest,
            role: meeting.role,
            a: meeting.a,
            b: meeting.b,
            loose: Vec::new(),
            contact: meeting.contact,
            glued: false,
        });
        let kind = match choice {
            Choice::LooseTenons(wanted, glued) => {
                self.model.joints[id.0].glued = glued;
                joint::loose_tenon::cut(self, id, wanted)
            }
            Choice::Groove => joint::groove::cut(self, id, &meeting.detail),
            Choice::Button => joint::button::cut(self, id, &meeting.detail),
            Choice::Notch => joint::notch::cut(self, id, &meeting.detail),
            Choice::Seat => joint::seat::cut(self, id, &meeting.detail),
            Choice::Rest => JointKind::Rest,
            Choice::Glue => {
                self.model.joints[id.0].glued = true;
                JointKind::Glue
            }
            Choice::Screw => JointKind::Screw,
        };
        self.model.joints[id.0].kind = kind;
        id
    }

    pub fn joint(&self, id: JointId) -> &Joint {
        self.model.joint(id)
    }

    pub fn add_loose(&mut self, joint: JointId, part: PartId) {
        self.model.joints[joint.0].loose.push(part);
    }

    /// The finished model: marks given, bounds taken, overrides of parts that are not there reported.
    pub fn finish(mut self) -> Model {
        for (own, met) in self.design.overrides.iter().zip(&self.overrides_met) {
            if !met {
                self.model.findings.push(Finding {
                    explains: Vec::new(),
                    rule: Rule::NoSuchPart,
                    seriousness: Seriousness::AtRisk,
                    parts: Vec::new(),
                    joint: None,
                    place: None,
                    figures: Vec::new(),
                    message: format!("Your own {} for \"{}\" is not used: there is no such part", own.of.word(), own.part),
                    source: "the design",
                    remedy: None,
                });
            }
        }
        marks::give(&mut self.model.parts);
        let blocks = self.model.parts.iter().map(Part::block);
        self.model.bounds = blocks.reduce(|all, block| Block { min: all.min.min(block.min), max: all.max.max(block.max) });
        self.model
    }
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
