//! Every species that the solid parts could be of.

use std::rc::Rc;

use super::{fails, moves_most};
use crate::amounts::Cost;
use crate::derive::DesignError;
use crate::design::Design;
use crate::inspect::Gaps;
use crate::job::Job;
use crate::length::years;
use crate::loads::{UnderLoad, mass_empty};
use crate::model::{Material, Model, PartKind};
use crate::shapes::ShapeCache;
use crate::timber::Species;
use crate::worked::Worked;

/// What is of another species while the rest stays as it is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Where {
    /// All solid timber.
    #[default]
    Whole,
    /// The carcase.
    Frame,
    /// The top.
    Top,
    /// Standards, cleats and slats.
    Shelving,
}

impl Where {
    /// All of them.
    pub const ALL: [Where; 4] = [Where::Whole, Where::Frame, Where::Top, Where::Shelving];

    /// Its name on the command line.
    pub fn word(self) -> &'static str {
        match self {
            Where::Whole => "all",
            Where::Frame => "carcase",
            Where::Top => "top",
            Where::Shelving => "shelving",
        }
    }

    /// The decisions that name its species.
    pub fn decisions(self) -> &'static [&'static str] {
        match self {
            Where::Whole => &["timber.frame", "timber.top", "timber.shelving"],
            Where::Frame => &["timber.frame"],
            Where::Top => &["timber.top"],
            Where::Shelving => &["timber.shelving"],
        }
    }

    fn put(self, design: &mut Design, species: &str) {
        let timber = &mut design.timber;
        let slots: &mut [&mut String] = match self {
            Where::Whole => &mut [&mut timber.frame, &mut timber.top, &mut timber.shelving],
            Where::Frame => &mut [&mut timber.frame],
            Where::Top => &mut [&mut timber.top],
            Where::Shelving => &mut [&mut timber.shelving],
        };
        for slot in slots {
            species.clone_into(slot);
        }
    }

    /// Whether a kind of part is of that species.
    pub fn has(self, kind: PartKind) -> bool {
        match self {
            Where::Whole => true,
            Where::Top => matches!(kind, PartKind::Top | PartKind::Button),
            Where::Shelving => {
                matches!(kind, PartKind::Standard | PartKind::Cleat | PartKind::Slat | PartKind::Shelf | PartKind::Spacer | PartKind::Pin)
            }
            Where::Frame => !Where::Top.has(kind) && !Where::Shelving.has(kind),
        }
    }
}

/// The case in another species.
#[derive(Clone, Debug, PartialEq)]
pub struct Candidate {
    /// The species, by its name in files.
    pub id: String,
    /// What it is called.
    pub name: String,
    /// Whether the design has it there now.
    pub chosen: bool,
    /// The part of it that moves most across its width from the driest to the wettest, mm.
    pub movement: Option<Worked>,
    /// The part of it that sags most against its span, after the years of the design, mm; nothing where none bends or its stiffness is not
    /// known.
    pub sag: Option<Worked>,
    /// What the case weighs empty, kg; nothing where a density is not known.
    pub mass: Option<Worked>,
    /// What all of the case costs and takes.
    pub cost: Cost,
    /// What of the case would fail so, each in a sentence; nothing where it serves.
    pub fails: Vec<String>,
}

/// The case in every species of the tables and of the maker's own, the design's first and the rest by their names.
///
/// # Errors
/// As [`derive()`](crate::derive()).
pub fn timbers(design: &Design, of: Where) -> Result<Vec<Candidate>, Vec<DesignError>> {
    let timbers = design.timber.timbers();
    // Most parts are cut alike in any species.
    let (mut shapes, gaps) = (ShapeCache::default(), Rc::default());
    let row = |species: &Species| candidate(design, of, (&species.id, &species.name), (&mut shapes, &gaps));
    let mut rows = timbers.all_species().map(row).collect::<Result<Vec<_>, _>>()?;
    rows.sort_by(|a, b| (!a.chosen, &a.name).cmp(&(!b.chosen, &b.name)));
    Ok(rows)
}

fn candidate(
    design: &Design,
    of: Where,
    (id, name): (&str, &str),
    (shapes, gaps): (&mut ShapeCache, &Rc<Gaps>),
) -> Result<Candidate, Vec<DesignError>> {
    let mut other = design.clone();
    of.put(&mut other, id);
    let model = crate::derive(&other)?;
    let moving = model.parts.iter().filter(|part| of.has(part.kind) && matches!(part.material, Material::Solid(_)));
    let movement = moves_most(&model, moving, &other.timber.moisture);
    let sag = sags_most(&other, &model, of);
    let solids = shapes.shape(&model);
    let mass = mass_empty(&model, &solids);
    Ok(Candidate {
        chosen: other == *design,
        id: id.to_owned(),
        name: name.to_owned(),
        movement,
        sag,
        mass,
        cost: Job::of(&other, &model).cost,
        fails: fails(&other, &model, &solids, gaps),
    })
}

/// The sag of the part that sags most against its span, of those that are of the species.
fn sags_most(design: &Design, model: &Model, of: Where) -> Option<Worked> {
    let under = UnderLoad::of(design, model);
    let of_it = under.bending.iter().filter(|bending| {
        let part = model.part(bending.part);
        of.has(part.kind) && matches!(part.material, Material::Solid(_))
    });
    let worst = of_it.max_by(|a, b| (a.after() / a.span()).total_cmp(&(b.after() / b.span())))?;
    Some(worst.why_after().named(format!("{}, after {}", model.part(worst.part).title, years(design.limits.years))))
}
