//! Guillotine cuts of sheets, and of boards with defects.
//!
//! A board is a tree of cuts (`sheet`). Pieces go where they leave the largest rests (`fit`); a search takes pieces off and puts
//! them back with an aim one board short of the best layout known (`lane`), on several lanes at a time (`search`). What no
//! layout can beat comes from areas under dual-feasible functions (`bounds`), and from which choices of boards can bring what is
//! wanted at all (`choices`).

mod bounds;
mod choices;
mod cuts;
mod fill;
mod fit;
mod lane;
mod search;
mod sheet;
mod sort;
mod standing;

use super::effort::Watching;
use super::ground::Ground;
use super::layout::Layout;

/// Lays the pieces of a ground out of its boards.
pub(super) fn lay(ground: Ground, watching: &Watching) -> Layout {
    let (standing, bound) = search::best(&ground, watching);
    let rules = fit::Rules::new(&ground);
    let in_use = standing.sheets.iter().filter(|sheet| sheet.pieces > 0);
    let used = in_use.map(|sheet| cuts::used(&ground, &rules, sheet)).collect();
    ground.layout(used, &standing.left, bound)
}
