//! Boxes on slats: none tips off a shelf, or into a gap between its slats, wherever it is put.
//!
//! A box stands where its middle is over a slat, or where it lies on one on either side of its middle (statics). It is taken with its weight in the
//! middle, empty or full.

use super::gather::{add_new, counted};
use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm};
use crate::contents::{Pile, Stance};
use crate::design::Design;
use crate::model::{Model, Part, PartKind, Room};

/// So much lower than the others a slat still catches what would tip over their edge, mm: a box rocks onto it by no more than this over the width of a slat, some 4°
/// (common practice, no source).
const CATCHES: f64 = 5.0;

/// So many wide slats make a shelf from edge to edge (common practice, no source).
const FULL: u32 = 3;

/// The most slats that are thought of for a shelf.
const MOST_SLATS: usize = 12;

/// All shelves rest on the same decisions: the worst speaks for all.
pub(super) fn check(design: &Design, model: &Model) -> Option<Finding> {
    let mut found: Vec<Finding> = model.rooms.iter().filter_map(|room| of_shelf(design, room, &slats(model, room)?)).collect();
    let least = |finding: &Finding| finding.figures.iter().map(|figure| figure.value).next_back().unwrap_or_default();
    found.sort_by(|a, b| a.seriousness.cmp(&b.seriousness).then(least(a).total_cmp(&least(b))));
    let more = found.len().saturating_sub(1);
    let mut found = found.into_iter();
    let first = found.next()?;
    Some(found.fold(counted(first, more), |mut all, other| {
        add_new(&mut all.parts, other.parts);
        all
    }))
}

/// The slats that a room's boxes stand on, from the back; none on a floor.
fn slats<'m>(model: &'m Model, room: &Room) -> Option<Vec<&'m Part>> {
    let of_shelf = format!("slat.{}.{}.", room.bay + 1, room.shelf? + 1);
    let mut slats: Vec<&Part> = model.parts.iter().filter(|part| part.kind == PartKind::Slat && part.name.starts_with(&of_shelf)).collect();
    // What lies far lower than the others bears nothing.
    slats.retain(|slat| slat.block().max.y > room.space.min.y - CATCHES);
    slats.sort_by(|a, b| a.block().min.z.total_cmp(&b.block().min.z));
    (!slats.is_empty()).then_some(slats)
}

/// What is least deep of what a shelf may bear: what it is, and its depth, mm. Where nothing is listed, a box half as deep as the shelf.
fn least_deep(design: &Design, room: &Room) -> Option<(String, f64)> {
    let space = room.space.size();
    if design.contents.iter().all(|kind| kind.count == 0) {
        return Some(("a box half as deep as the shelf".to_owned(), space.z / 2.0));
    }
    let kinds = design.contents.iter().filter(|kind| kind.count > 0);
    let ways = kinds.flat_map(|kind| Stance::of(kind.lies).iter().map(move |stance| (kind, *stance)));
    let fitting = ways.filter(|(kind, stance)| Pile::one(kind, &design.hand_room, *stance).lack(space).fits());
    let deep = fitting.map(|(kind, stance)| (kind.name.clone(), stance.size(kind).z));
    deep.min_by(|a, b| a.1.total_cmp(&b.1))
}

/// How a box that is `deep` mm deep may fall on slats between `from` and `to`, mm.
struct Falls {
    /// So far its middle may come to stand beyond all slats.
    beside: f64,
    /// The widest gap.
    gap: f64,
    deep: f64,
}

impl Falls {
    fn of(slats: &[(f64, f64)], (from, to): (f64, f64), deep: f64) -> Falls {
        let back = slats.first().map_or(to, |slat| slat.0);
        let front = slats.iter().map(|slat| slat.1).fold(from, f64::max);
        let beside = if deep <= to - from { (back - from - deep / 2.0).max(to - deep / 2.0 - front) } else { 0.0 };
        let gap = slats.windows(2).map(|pair| pair[1].0 - pair[0].1).fold(0.0, f64::max);
        Falls { beside, gap, deep }
    }

    /// What happens to it; none where it stands wherever it is put.
    fn how(&self) -> Option<Seriousness> {
        if self.beside > TOUCH || self.gap >= self.deep {
            Some(Seriousness::WillFail)
        } else if self.gap > self.deep / 2.0 + TOUCH {
            Some(Seriousness::AtRisk)
        } else {
            None
        }
    }
}

fn of_shelf(design: &Design, room: &Room, slats: &[&Part]) -> Option<Finding> {
    let (name, deep) = least_deep(design, room)?;
    let ranges: Vec<(f64, f64)> = slats.iter().map(|slat| (slat.block().min.z, slat.block().max.z)).collect();
    let (from, to) = (room.space.min.z, room.space.max.z);
    let falls = Falls::of(&ranges, (from, to), deep);
    let seriousness = falls.how()?;
    let shelf = format!("{}{}", if slats.len() == 1 { "the one slat of " } else { "" }, room.name);
    let message = if falls.beside > TOUCH {
        format!("{name}, {} mm deep, tips off {shelf}: its middle may come to stand {} mm beside it", mm(deep), mm(falls.beside))
    } else {
        let how = if seriousness == Seriousness::WillFail { "falls through" } else { "may tip into" };
        format!("{name}, {} mm deep, {how} the gaps of {} mm between the slats of {}", mm(deep), mm(falls.gap), room.name)
    };
    Some(Finding {
        rule: Rule::BoxStands,
        seriousness,
        parts: slats.iter().map(|slat| slat.id).collect(),
        explains: Vec::new(),
        joint: None,
        place: slats.first().map(|slat| slat.block().centre()),
        figures: vec![Figure::mm("beside", falls.beside.max(0.0)), Figure::mm("gap", falls.gap), Figure::mm("most", deep / 2.0)],
        message: crate::sentence::capital(&message),
        source: "statics: a box stands while its middle is over what bears it, or between what bears it",
        remedies: remedies(design, slats, (from, to), deep),
    })
}

/// More slats, or wider ones, that leave no box a place to fall.
fn remedies(design: &Design, slats: &[&Part], (from, to): (f64, f64), deep: f64) -> Vec<Remedy> {
    let (count, wide) = (slats.len(), design.sawtooth.slats.width.to_mm());
    let room = to - from - design.sawtooth.slats.play.to_mm();
    let gap = |count: usize| (room - count as f64 * wide) / (count as f64 - 1.0);
    let more = (count.max(1) + 1..=MOST_SLATS).find(|count| (0.0..=deep / 2.0).contains(&gap(*count)));
    let more = more.map(|count| Remedy {
        words: format!("Lay {count} slats a shelf"),
        changes: vec![("sawtooth.slats.count".to_owned(), count.to_string())],
    });
    let least = ((room - (count as f64 - 1.0) * deep / 2.0) / count as f64).ceil();
    let wider = (count > 1 && least > wide && least * count as f64 <= room)
        .then(|| Remedy::length(format!("Make the slats {} mm wide", mm(least)), "sawtooth.slats.width", least));
    // Nearly from edge to edge: what is notched round the standards still lies on its cleats then.
    let full = Some((room / f64::from(FULL)).floor() - 1.0).filter(|full| *full > wide);
    let full = full.map(|full| Remedy {
        words: format!("Lay {FULL} slats of {} mm a shelf", mm(full)),
        changes: vec![
            ("sawtooth.slats.count".to_owned(), FULL.to_string()),
            ("sawtooth.slats.width".to_owned(), crate::length::trimmed(full)),
        ],
    });
    more.into_iter().chain(wider).chain(full).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Statics: over a gap of 40 a box of 80 lies on both its sides wherever its middle is; one of 79 can be put so that its middle and one side hang.
    #[test]
    fn a_box_twice_as_deep_as_a_gap_never_tips_into_it() {
        let slats = [(0.0, 90.0), (130.0, 220.0)];
        let how = |deep: f64| Falls::of(&slats, (0.0, 220.0), deep).how();
        assert_eq!(how(80.0), None);
        assert_eq!(how(79.0), Some(Seriousness::AtRisk));
        assert_eq!(how(40.0), Some(Seriousness::WillFail), "it falls through");
    }

    /// One slat of 92 in the middle of 416: a box of 324 has its middle over it wherever it is put, and one of 323 not.
    #[test]
    fn a_box_on_one_slat_stands_where_its_middle_is_over_it() {
        let slat = [(162.0, 254.0)];
        assert_eq!(Falls::of(&slat, (0.0, 416.0), 324.0).how(), None);
        assert_eq!(Falls::of(&slat, (0.0, 416.0), 323.0).how(), Some(Seriousness::WillFail));
    }
}
