//! Which published figures behind a finding are from memory: what stands beside its source.

use super::{Finding, Rule};
use crate::design::Dimension;
use crate::model::{Material, Model, Part};
use crate::strength::Properties;
use crate::timber::{How, Known, Rates};

/// What of a timber or a sheet the figures of a rule are worked out from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Subject {
    /// Sizes and shapes alone.
    None,
    /// How much it moves.
    Movement,
    /// How far it bends, under its own weight too.
    Stiffness,
    /// What it bears.
    Strength,
    /// What it weighs.
    Mass,
}

impl Rule {
    fn subject(self) -> Subject {
        match self {
            Rule::Season
            | Rule::PanelEngaged
            | Rule::PanelBottoms
            | Rule::BareLine
            | Rule::OverhangStays
            | Rule::ButtonHolds
            | Rule::CleatBears
            | Rule::ShelfGrows => Subject::Movement,
            Rule::Sags => Subject::Stiffness,
            Rule::Holds => Subject::Strength,
            Rule::Stands | Rule::Lift => Subject::Mass,
            Rule::Overlap
            | Rule::LockedOut
            | Rule::Captive
            | Rule::GlueTime
            | Rule::ToolReach
            | Rule::Shoulder
            | Rule::TenonLength
            | Rule::BottomRoom
            | Rule::TenonHold
            | Rule::TenonThickness
            | Rule::JointRule
            | Rule::MortisesMeet
            | Rule::MortiseBreaksOut
            | Rule::MortiseCheek
            | Rule::ShortGrain
            | Rule::GlueAcross
            | Rule::PanelThickness
            | Rule::GrooveCutter
            | Rule::GrooveLeavesWood
            | Rule::MoistureRange
            | Rule::SlatBears
            | Rule::CleatStays
            | Rule::SlatsFit
            | Rule::ShelfFits
            | Rule::ShelfBears
            | Rule::ShelfLevel
            | Rule::ShelfTilts
            | Rule::ShelfHasTooth
            | Rule::NotJudged
            | Rule::BoxFits
            | Rule::AllPlaced
            | Rule::BoxStands
            | Rule::FloorBears
            | Rule::FloorCloses
            | Rule::FitsSite
            | Rule::Carried
            | Rule::AboveGround
            | Rule::StickLength
            | Rule::NoSuchPart
            | Rule::MadePartFits
            | Rule::CutsStillRight
            | Rule::GluedToOthers
            | Rule::RightSheet
            | Rule::Solid
            | Rule::EdgeLeavesWood => Subject::None,
        }
    }
}

impl Finding {
    /// The figures of timbers and sheets behind it that are from memory, with what they are of: "movement along the rings of Teak". Those of its
    /// parts, or of all parts of a case where it is about how that stands.
    pub fn recalled(&self, model: &Model) -> Vec<String> {
        let all = self.rule == Rule::Stands;
        of_parts(model, model.parts.iter().filter(|part| all || self.parts.contains(&part.id)), &[self.rule.subject()])
    }

    /// Where its rule comes from, and which figures behind it are from memory.
    pub fn sources(&self, model: &Model) -> String {
        let recalled = self.recalled(model);
        if recalled.is_empty() {
            return self.source.to_owned();
        }
        format!("{}; from memory: {}", self.source, recalled.join(", "))
    }
}

/// The figures from memory by which parts are judged to carry what stands on them, with what they are of.
pub fn recalled_of_carrying<'m>(model: &'m Model, parts: impl Iterator<Item = &'m Part>) -> Vec<String> {
    of_parts(model, parts, &[Subject::Stiffness, Subject::Strength])
}

fn of_parts<'m>(model: &'m Model, parts: impl Iterator<Item = &'m Part>, subjects: &[Subject]) -> Vec<String> {
    let mut told = Vec::new();
    let mut seen: Vec<&Material> = Vec::new();
    for part in parts {
        if seen.contains(&&part.material) {
            continue;
        }
        seen.push(&part.material);
        let of = model.timbers.name(&part.material);
        let figures = subjects.iter().flat_map(|subject| recalled(model, part, *subject));
        told.extend(figures.map(|figure| format!("{figure} of {of}")));
    }
    told
}

/// What of a part's stuff is from memory.
fn recalled(model: &Model, part: &Part, subject: Subject) -> Vec<String> {
    let of = |figures: &[(&str, Option<&Known>)]| {
        let memory = figures.iter().filter(|(_, known)| known.is_some_and(|known| known.how == How::Memory));
        memory.map(|(name, _)| (*name).to_owned()).collect()
    };
    match subject {
        Subject::None => Vec::new(),
        Subject::Movement => {
            let rates = Rates::of(&part.material, part.sawn, &model.timbers);
            // What does not move rests on nothing that is worth telling.
            let across = Some(rates.worked(Dimension::Width)).filter(|rate| rate.value != 0.0);
            across.map_or_else(Vec::new, |rate| rate.recalled().into_iter().map(str::to_owned).collect())
        }
        Subject::Stiffness => Properties::of(&part.material, &model.timbers).map_or_else(
            |_| Vec::new(),
            |stuff| of(&[("modulus of elasticity", Some(&stuff.modulus)), ("density", stuff.density.as_ref())]),
        ),
        Subject::Strength => Properties::of(&part.material, &model.timbers).map_or_else(
            |_| Vec::new(),
            |stuff| {
                of(&[
                    ("strength in bending", stuff.rupture.as_ref()),
                    ("strength in shear", stuff.shear.as_ref()),
                    ("strength across the grain", stuff.across.as_ref()),
                ])
            },
        ),
        Subject::Mass => of(&[("density", model.timbers.density(&part.material))]),
    }
}
