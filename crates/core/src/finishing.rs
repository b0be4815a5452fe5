//! What must be finished before it is glued up, so that no bare line shows when the timber shrinks.
//!
//! A panel stands in its grooves dry, so that it can move. When it shrinks, what was hidden in a groove comes out; where only what shows was
//! finished, that is a line of bare wood. Pushed over to one side it shows all that it lost at one edge (common practice, no source).

use crate::design::{Design, Dimension, Finish, Season};
use crate::inspect::{Figure, Finding, Rule, Seriousness};
use crate::joint::{JointKind, local_axis};
use crate::length::trimmed_to;
use crate::model::{Joint, JointId, Model, PartId};
use crate::seasons::{APercent, OPENS};
use crate::sequence::list;
use crate::timber::Rates;
use crate::timber::movement::{Basis, worked_movement};
use crate::worked::Worked;

/// A bare line narrower than this is not seen, mm (common practice, no source).
pub const SEEN: f64 = 0.2;

/// An edge that comes out of what hides it when it is driest.
#[derive(Clone, Debug, PartialEq)]
pub struct Bare {
    /// The part that shrinks.
    pub part: PartId,
    /// The joint out of which it comes.
    pub joint: JointId,
    /// How much of it is bare at most, mm.
    pub line: Worked,
}

/// Every edge that shows a bare line when driest unless it is finished before it is glued up; none for a piece that is left bare, nor where the edge
/// stands in what is glued together already.
pub fn bare_lines(design: &Design, model: &Model) -> Vec<Bare> {
    if design.timber.finish == Finish::Bare {
        return Vec::new();
    }
    let glued = model.glued_up();
    let open = |joint: &&Joint| hides(joint) && !glued.are_together(joint.a, joint.b);
    let a_percent = APercent::of(model);
    model.joints.iter().filter(open).filter_map(|joint| bare(design, model, &a_percent, joint)).collect()
}

/// Whether an edge stands in a groove and is free to come out of it.
fn hides(joint: &Joint) -> bool {
    !joint.glued && matches!(joint.kind, JointKind::Groove(_) | JointKind::Tongue(_))
}

fn bare(design: &Design, model: &Model, a_percent: &APercent<'_>, joint: &Joint) -> Option<Bare> {
    let part = model.part(joint.a);
    let of = Dimension::ALL[local_axis(part, joint.contact.into.vector())];
    let moisture = &design.timber.moisture;
    let rates = Rates::of(&part.material, part.sawn, &model.timbers);
    let size = Worked::size(&part.size[of.index()]);
    let change = worked_movement(size, rates.worked(of), moisture.built, moisture.at(Season::Driest));
    // The frame round it moves as well: over from this groove to the one that faces it.
    let back = joint.contact.into.opposite();
    let faces = model.joints.iter().filter(|other| other.a == joint.a && other.contact.into == back && hides(other));
    let grows = faces.map(|other| a_percent.opening(joint, other)).reduce(f64::max).unwrap_or(0.0);
    let drier = moisture.at(Season::Driest) - moisture.built;
    let inputs = vec![Worked::given("growth for each percent", grows, "mm"), Worked::given("change of moisture", drier, "%")];
    let opens = Worked::by("what the opening grows by", grows * drier, "mm", OPENS, inputs);
    let bare = opens.value - change.value;
    let formula = (
        "what the opening grows by − what it grows by itself until it is driest, all of it at one edge where it stands pushed over",
        "common practice, no source",
    );
    let line = || Worked::by("bare line", bare, "mm", formula, vec![opens, change]);
    (bare >= SEEN).then(|| Bare { part: part.id, joint: joint.id, line: line() })
}

/// The parts of some bare lines, each once, and the widest of the lines.
pub(crate) fn widest<'b>(bare: impl Iterator<Item = &'b Bare>) -> Option<(Vec<PartId>, &'b Worked)> {
    let (mut parts, mut widest): (Vec<PartId>, Option<&Worked>) = (Vec::new(), None);
    for line in bare {
        if !parts.contains(&line.part) {
            parts.push(line.part);
        }
        widest = widest.filter(|worked| worked.value >= line.line.value).or(Some(&line.line));
    }
    Some((parts, widest?))
}

/// "left panel 1; left panel 2 and 4 more shrink out of their grooves by up to 0.74 mm".
pub(crate) fn told(model: &Model, parts: &[PartId], line: &Worked) -> String {
    let verb = if parts.len() == 1 { "shrinks out of its groove" } else { "shrink out of their grooves" };
    format!("{} {verb} by up to {} mm", list(model, parts), trimmed_to(line.value, 1))
}

/// One note for all of them, with the widest bare line.
pub fn findings(design: &Design, model: &Model) -> Option<Finding> {
    let bare = bare_lines(design, model);
    let (parts, line) = widest(bare.iter())?;
    let worst = bare.iter().find(|bare| bare.line == *line)?;
    Some(Finding {
        rule: Rule::BareLine,
        seriousness: Seriousness::Note,
        explains: Vec::new(),
        joint: Some(worst.joint),
        place: Some(model.joint(worst.joint).contact.centre),
        figures: vec![Figure::mm("bare line", line.value).because(line.clone())],
        message: format!("Finish the edges before the glue-up: {}, and what was hidden shows bare", told(model, &parts, line)),
        source: match Basis::of(&model.part(worst.part).material, &model.timbers) {
            Basis::Wood => "movement: Wood Handbook FPL-GTR-190, equation 13-2; all of it at one edge: common practice, no source",
            Basis::RecalledSheet => {
                "movement: the sheet's expansion by CEN/TR 12872, from memory; all of it at one edge: common practice, no source"
            }
            Basis::Sheet => {
                "movement: the sheet's expansion as the table of sheets or its maker tells; all of it at one edge: common practice, no source"
            }
        },
        remedies: Vec::new(),
        parts,
    })
}
