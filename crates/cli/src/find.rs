//! Parts by what a maker calls them; timber by its id.

use casewright_core::Model;
use casewright_core::model::Part;
use casewright_core::timber::{SheetProduct, Species, Timbers};

use crate::arguments::Input;
use crate::failure::Failure;

/// The part of that name; else all of that mark; else all of that title.
pub fn parts<'m>(input: &Input, model: &'m Model, wanted: &str) -> Result<Vec<&'m Part>, Failure> {
    let all = |is: &dyn Fn(&Part) -> bool| model.parts.iter().filter(|part| is(part)).collect::<Vec<_>>();
    let ways: [&dyn Fn(&Part) -> bool; 3] =
        [&|part| part.name == wanted, &|part| part.mark.eq_ignore_ascii_case(wanted), &|part| part.title.eq_ignore_ascii_case(wanted)];
    let found = ways.into_iter().map(all).find(|found| !found.is_empty());
    found.ok_or_else(|| Failure::told(format!("{}: there is no part \"{wanted}\"; {}", input.file.display(), near(model, wanted))))
}

/// The three names or marks that are nearest to what was asked for.
fn near(model: &Model, wanted: &str) -> String {
    let names = model.parts.iter().flat_map(|part| [part.name.as_str(), part.mark.as_str()]);
    format!("near to it are {}; `parts` lists all", nearest(names, wanted))
}

/// The species of that id; else the nearest ids.
pub fn species<'t>(timbers: &'t Timbers, wanted: &str) -> Result<&'t Species, Failure> {
    let near = || nearest(timbers.all_species().map(|species| species.id.as_str()), wanted);
    timbers.species(wanted).ok_or_else(|| Failure::told(format!("there is no species \"{wanted}\"; near to it are {}", near())))
}

/// The sheet product of that id; else the nearest ids.
pub fn sheet<'t>(timbers: &'t Timbers, wanted: &str) -> Result<&'t SheetProduct, Failure> {
    let near = || nearest(timbers.all_sheets().map(|sheet| sheet.id.as_str()), wanted);
    timbers.sheet(wanted).ok_or_else(|| Failure::told(format!("there is no sheet \"{wanted}\"; near to it are {}", near())))
}

/// The three names that are nearest to what was asked for, each once.
fn nearest<'n>(names: impl Iterator<Item = &'n str>, wanted: &str) -> String {
    let wanted = wanted.to_lowercase();
    let mut near: Vec<(f64, &str)> = Vec::new();
    for name in names {
        if !near.iter().any(|(_, known)| *known == name) {
            let lower = name.to_lowercase();
            // A name that has it in it is nearer than one that is spelt like it.
            let within = if !wanted.is_empty() && lower.contains(&wanted) { 1.0 } else { 0.0 };
            near.push((within + strsim::jaro_winkler(&lower, &wanted), name));
        }
    }
    near.sort_by(|a, b| b.0.total_cmp(&a.0));
    near.iter().take(3).map(|(_, name)| *name).collect::<Vec<_>>().join(", ")
}
