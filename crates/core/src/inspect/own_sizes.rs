//! Sizes of single parts that are the maker's own, against the rules.

use crate::design::Dimension;
use crate::design::decisions::BY_RULE;
use crate::inspect::Remedy;
use crate::model::Part;
use crate::sentence::inside;

/// The ways back to the rules for sizes of a part that are the maker's own.
pub(crate) fn own_by_rule(part: &Part) -> impl Iterator<Item = Remedy> {
    Dimension::ALL.into_iter().filter_map(|of| own_size_by_rule(part, of))
}

/// The way back for one of its sizes; none where that is as the rules have it.
pub(super) fn own_size_by_rule(part: &Part, of: Dimension) -> Option<Remedy> {
    part.is_own(of.index()).then(|| Remedy {
        words: format!("Take the {} of {} by rule", of.word(), inside(&part.title)),
        changes: vec![(format!("part.{}.{}", part.name, of.word()), BY_RULE.to_owned())],
    })
}
