//! What is to match: the strips of a part that is seen, and the parts of which the maker says so.

use super::Asked;
use super::bench::Pieces;
use super::rack::Rack;
use crate::design::Design;

/// The sets of open pieces of some lines that are to come from one board, or from boards of one colour; each of two or more.
pub(super) fn sets(design: &Design, rack: &Rack<'_>, asked: &[Asked<'_>], wanted: &[usize]) -> Vec<Pieces> {
    let mut sets: Vec<Pieces> = Vec::new();
    for names in &design.shop.matched {
        let of_line = |line: &usize| {
            let asked = &asked.get(*line)?.line;
            let is_named = |nth: &usize| asked.names(*nth).iter().any(|name| names.contains(name));
            Some((*line, asked.open.iter().copied().filter(is_named).collect::<Vec<_>>()))
        };
        sets.push(wanted.iter().filter_map(of_line).filter(|(_, nths)| !nths.is_empty()).collect());
    }
    // Where colours are not told there is nothing to choose by.
    if rack.entries.iter().any(|usable| !usable.stuff.colour.is_empty()) {
        for line in wanted {
            let Some(asked) = asked.get(*line).filter(|asked| asked.line.shows && asked.line.strips > 1) else { continue };
            let mut parts: Vec<(usize, Vec<usize>)> = Vec::new();
            for nth in
                asked.line.open.iter().copied().filter(|nth| !sets.iter().flatten().any(|(of, nths)| of == line && nths.contains(nth)))
            {
                let part = nth / asked.line.each();
                match parts.iter_mut().find(|(known, _)| *known == part) {
                    Some((_, nths)) => nths.push(nth),
                    None => parts.push((part, vec![nth])),
                }
            }
            sets.extend(parts.into_iter().map(|(_, nths)| vec![(*line, nths)]));
        }
    }
    sets.retain(|set| set.iter().map(|(_, nths)| nths.len()).sum::<usize>() > 1);
    sets
}
