//! What every assembly builds with: decided sizes, parts placed by blocks, and meetings that become the joints of the design.

use crate::design::decisions::{self, Value};
use crate::design::{Design, Dimension};
use crate::inspect::{Finding, Rule, Seriousness};
use crate::joint::{self, Detail};
use crate::model::{Assembly, Feature, JointId, Meeting, Model, NewPart, OVERRIDES, OwnSize, Part, PartId, Room};
use crate::origin::Size;

/// Gathers parts and joints while a case is derived.
pub(crate) struct Builder<'d> {
    /// The design being derived.
    pub design: &'d Design,
    assembly: Assembly,
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
        let own_sizes = design.overrides.iter().enumerate().map(|(index, own)| OwnSize {
            part: own.part.clone(),
            of: own.of,
            size: Size::decided(format!("{OVERRIDES}{}.value", index + 1), "your own", own.value.to_mm()),
            met: false,
        });
        Builder { design, assembly: Assembly::new(&design.name, lengths.collect(), own_sizes.collect()) }
    }

    /// The decided length at `path`. Assemblies ask only for what [`decisions::visit`] names while the part of the
    /// design that holds it is there; a name it does not know counts as nothing.
    pub fn size(&self, path: &str) -> Size {
        self.assembly.decided(path).cloned().unwrap_or_else(|| Size::decided(path.to_owned(), path.to_owned(), 0.0))
    }

    pub fn part(&self, id: PartId) -> &Part {
        self.assembly.part(id)
    }

    pub fn place(&mut self, new: NewPart) -> PartId {
        self.assembly.place(new)
    }

    pub fn cut(&mut self, part: PartId, feature: Feature) {
        self.assembly.cut(part, feature, None);
    }

    pub fn add_room(&mut self, room: Room) {
        self.assembly.add_room(room);
    }

    pub fn found(&mut self, finding: Finding) {
        self.assembly.found(finding);
    }

    /// Joins two parts as the design wants it for their role.
    pub fn meet(&mut self, meeting: &Meeting, detail: &Detail<'_>) -> JointId {
        self.assembly.join(meeting, &joint::choose(meeting.role, self.design, detail))
    }

    /// The finished model; overrides of parts that are not there are reported.
    pub fn finish(mut self) -> Model {
        let unmet: Vec<Finding> = self.assembly.unmet().map(no_such_part).collect();
        for finding in unmet {
            self.assembly.found(finding);
        }
        self.assembly.finish()
    }
}

fn no_such_part(own: &OwnSize) -> Finding {
    Finding {
        explains: Vec::new(),
        rule: Rule::NoSuchPart,
        seriousness: Seriousness::AtRisk,
        parts: Vec::new(),
        joint: None,
        place: None,
        figures: Vec::new(),
        message: format!("Your own {} for \"{}\" is not used: there is no such part", own.of.word(), own.part),
        source: "the design",
        remedies: Vec::new(),
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
