//! Parts by what a maker calls them.

use casewright_core::Model;
use casewright_core::model::Part;

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
    let wanted = wanted.to_lowercase();
    let mut names: Vec<(f64, &str)> = Vec::new();
    for name in model.parts.iter().flat_map(|part| [part.name.as_str(), part.mark.as_str()]) {
        if !names.iter().any(|(_, known)| *known == name) {
            names.push((strsim::jaro_winkler(&name.to_lowercase(), &wanted), name));
        }
    }
    names.sort_by(|a, b| b.0.total_cmp(&a.0));
    let nearest: Vec<_> = names.iter().take(3).map(|(_, name)| *name).collect();
    format!("near to it are {}; `parts` lists all", nearest.join(", "))
}
