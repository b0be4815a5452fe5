//! What stands stays where it stands: after a change only what has lost its room, or came, is given another place.

use super::blend::carries_of;
use super::case::Case;
use super::question::{Question, Taken};
use super::{ANY_PILES, Arrangement, ColumnError, EASY_PILES, Effort, Left, Piles, Row, ShelvesMay, arrange, left};
use crate::contents::fill::{self, Piled};
use crate::contents::{Pile, Stack};
use crate::design::{Bears, BoxKind, Design};
use crate::model::Model;

/// Rounding of sums of lengths and masses.
const HAIR: f64 = 1e-6;

/// Gives everything a place with the shelves as they lie, and leaves as much as can be where it stood `before`, in the list that `contents` was then: where
/// nothing else does, the things of one shelf after the other are let go. No fewer than [`arrange`] places.
///
/// # Errors
/// As [`arrange`].
pub fn arrange_after(
    design: &Design,
    model: &Model,
    (contents, before): (&[BoxKind], &Arrangement),
    effort: Effort<'_>,
) -> Result<Arrangement, ColumnError> {
    let case = Case::of(design, model, ShelvesMay::Stay);
    let part = Effort { steps: effort.steps / 8, ..effort };
    let stood = stood(&case, contents, before);
    let kept = beside(&case, &stood, part)?;
    if kept.left.is_empty() {
        return Ok(kept);
    }
    let anew = arrange(design, model, ShelvesMay::Stay, effort)?;
    // What stands nowhere is told as such.
    let told = |there: Arrangement| {
        let nowhere = |kind: usize| anew.left.iter().any(|left| left.kind == kind && left.nowhere);
        let left = there.left.iter().map(|left| Left { nowhere: nowhere(left.kind), ..*left }).collect();
        Arrangement { most: anew.most.max(there.placed), left, ..there }
    };
    if anew.placed <= kept.placed {
        return Ok(told(kept));
    }
    // The fewest things first.
    let mut freed: Vec<usize> = (0..stood.len()).filter(|room| !stood[*room].is_empty()).collect();
    freed.sort_by_key(|room| stood[*room].iter().map(|piled| piled.count).sum::<u32>());
    for free in freed {
        let mut others = stood.clone();
        others[free].clear();
        let there = beside(&case, &others, part)?;
        if there.placed >= anew.placed {
            return Ok(told(there));
        }
    }
    Ok(anew)
}

/// What stands in each room of a case as it did before, as far as it still has its room there.
fn stood(case: &Case<'_>, contents: &[BoxKind], before: &Arrangement) -> Vec<Vec<Piled>> {
    let design = case.design;
    let mut left: Vec<u32> = design.contents.iter().map(BoxKind::wanted).collect();
    let now = |kind: usize| contents.get(kind).and_then(|was| design.contents.iter().position(|is| is.name == was.name));
    let rows = case.rooms.iter().enumerate().map(|(index, room)| {
        let row = before.rows.iter().find(|row| (row.bay, row.shelf) == (room.bay, room.shelf));
        let stacks = row.map_or(&[][..], |row| &row.stacks);
        let mut kept: Vec<Piled> = Vec::new();
        let mut used = Taken::default();
        // Those that stand on others go with them.
        for group in stacks.chunk_by(|_, next| next.on.is_some()) {
            let Some(group) = group.iter().map(|stack| Some((now(stack.kind)?, stack))).collect::<Option<Vec<_>>>() else { continue };
            let Some(still) = still_stands(case, index, &group, &left) else { continue };
            let taken = Taken::of(&still, design);
            let room = case.rooms[index].space.size().x - design.hand_room.beside.to_mm();
            let bears = case.bears[index].unwrap_or(f64::INFINITY);
            if used.wide + taken.wide > room + HAIR || used.kg + taken.kg > bears + HAIR {
                continue;
            }
            used = Taken { wide: used.wide + taken.wide, kg: used.kg + taken.kg };
            for piled in &still {
                left[piled.kind] -= piled.count.min(left[piled.kind]);
            }
            kept.extend(still);
        }
        kept
    });
    rows.collect()
}

/// What of a stack, and what stands on it, still has its room: as many as the room is high for, and as there are.
fn still_stands(case: &Case<'_>, room: usize, group: &[(usize, &Stack)], left: &[u32]) -> Option<Vec<Piled>> {
    let (design, space) = (case.design, case.rooms[room].space);
    let hand = &design.hand_room;
    let stands = |kind: usize, pile: &Pile, over: f64| {
        let needs = pile.needs() + glam::DVec3::Y * over;
        let of = &design.contents[kind];
        needs.cmple(space.size() + HAIR).all() && space.min.y + over <= pile.no_higher_than(of, hand) + HAIR
    };
    if let [(kind, stack)] = group {
        let of = &design.contents[*kind];
        let deep = stack.pile.deep.max(1);
        let most = match of.bears {
            Bears::Others | Bears::Any => stack.pile.high,
            Bears::One => stack.pile.high.min(2),
            Bears::Nothing => 1,
        };
        return (1..=most).rev().find_map(|high| {
            let pile = Pile::of(of, hand, stack.pile.stance, high, deep);
            let count = stack.count.min(pile.count()).min(left[*kind]);
            (count > 0 && stands(*kind, &pile, 0.0)).then(|| vec![Piled::on_shelf(*kind, count, pile)])
        });
    }
    let mut all: Vec<Piled> = Vec::new();
    let mut over = 0.0;
    for (kind, stack) in group {
        let pile = Pile::of(&design.contents[*kind], hand, stack.pile.stance, stack.pile.high, stack.pile.deep);
        over -= stack.on.unwrap_or(0.0);
        let under = all.last().map(|under: &Piled| (&design.contents[under.kind], under.pile.size));
        let is_borne = under.is_none_or(|(lower, size)| carries_of(lower, size, &design.contents[*kind], pile.size));
        if stack.count > left[*kind] || !is_borne || !stands(*kind, &pile, over) {
            return None;
        }
        over += pile.size.y;
        all.push(Piled { kind: *kind, count: stack.count, pile, on: stack.on });
    }
    Some(all)
}

/// Everything else given a place beside what stands: easily reached where that can be.
fn beside(case: &Case<'_>, stood: &[Vec<Piled>], effort: Effort<'_>) -> Result<Arrangement, ColumnError> {
    let mut best: Option<Arrangement> = None;
    for piles in EASY_PILES.into_iter().chain([ANY_PILES]) {
        let there = beside_with(case, stood, piles, effort)?;
        let all = there.left.is_empty();
        if best.as_ref().is_none_or(|best| there.placed > best.placed) {
            best = Some(there);
        }
        if all {
            break;
        }
    }
    best.map_or_else(|| beside_with(case, stood, ANY_PILES, effort), Ok)
}

fn beside_with(case: &Case<'_>, stood: &[Vec<Piled>], piles: Piles, effort: Effort<'_>) -> Result<Arrangement, ColumnError> {
    let design = case.design;
    let mut stand: Vec<u32> = vec![0; design.contents.len()];
    for piled in stood.iter().flatten() {
        stand[piled.kind] += piled.count;
    }
    let taken: Vec<Taken> = stood.iter().map(|all| Taken::of(all, design)).collect();
    let question = Question::beside(case, piles, &taken, &stand);
    let placement = casewright_cutting::columns::place(&question.things, &question.columns(), effort)?;
    let rows: Vec<Row> = question.rows(&placement);
    let rows = rows.into_iter().map(|row| {
        let at = case.rooms.iter().position(|room| (room.bay, room.shelf) == (row.bay, row.shelf));
        let all: Vec<Piled> =
            at.map_or_else(Vec::new, |at| stood[at].clone()).into_iter().chain(row.stacks.iter().map(Stack::piled)).collect();
        Row { stacks: fill::set_out(row.space, design, all), ..row }
    });
    let rows: Vec<Row> = rows.collect();
    let wanted: u64 = design.contents.iter().map(|kind| u64::from(kind.wanted())).sum();
    let left: Vec<Left> = left(design, &placement, &[]);
    let placed = wanted - left.iter().map(|left| u64::from(left.count)).sum::<u64>();
    Ok(Arrangement { teeth: question.teeth(&rows), rows, left, wanted, placed, most: wanted })
}

/// Things that have another place than before.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Displaced {
    /// Which kind, by its place in the list as it is now.
    pub kind: usize,
    /// How many.
    pub count: u32,
    /// Where they stood; none where they came.
    pub from: Option<String>,
    /// Where they stand now; none where they have no place any more.
    pub to: Option<String>,
}

impl Displaced {
    /// "2 × Records carton from the floor of bay 1 to the shelf on tooth 12 of bay 1".
    pub fn words(&self, contents: &[BoxKind]) -> String {
        let name = contents.get(self.kind).map_or("", |kind| &kind.name);
        let way = match (&self.from, &self.to) {
            (Some(from), Some(to)) => format!("from {from} to {to}"),
            (Some(from), None) => format!("out of {from}, with no other place"),
            (None, Some(to)) => format!("new, to {to}"),
            (None, None) => "new, with no place".to_owned(),
        };
        format!("{} × {name} {way}", self.count)
    }
}

/// What stands elsewhere than `before`, in the list that `contents` was then. A shelf that was moved takes its things along.
pub fn displaced(design: &Design, (contents, before): (&[BoxKind], &Arrangement), after: &Arrangement) -> Vec<Displaced> {
    let on = |row: &Row, kind: &BoxKind, of: &[BoxKind]| -> u32 {
        let same = |stack: &&Stack| of.get(stack.kind).is_some_and(|listed| listed.name == kind.name);
        row.stacks.iter().filter(same).map(|stack| stack.count).sum()
    };
    let mut all = Vec::new();
    for (index, kind) in design.contents.iter().enumerate() {
        let place = |row: &Row| (row.bay, row.shelf);
        let was = |of: &Row| before.rows.iter().find(|row| place(row) == place(of)).map_or(0, |row| on(row, kind, contents));
        let is = |of: &Row| after.rows.iter().find(|row| place(row) == place(of)).map_or(0, |row| on(row, kind, &design.contents));
        let gone = before.rows.iter().map(|row| (row.name(), on(row, kind, contents).saturating_sub(is(row))));
        let come = after.rows.iter().map(|row| (row.name(), on(row, kind, &design.contents).saturating_sub(was(row))));
        let (mut gone, mut come): (Vec<_>, Vec<_>) =
            (gone.filter(|(_, count)| *count > 0).collect(), come.filter(|(_, count)| *count > 0).collect());
        while let (Some(from), Some(to)) = (gone.last_mut(), come.last_mut()) {
            let count = from.1.min(to.1);
            all.push(Displaced { kind: index, count, from: Some(from.0.clone()), to: Some(to.0.clone()) });
            (from.1, to.1) = (from.1 - count, to.1 - count);
            gone.retain(|(_, count)| *count > 0);
            come.retain(|(_, count)| *count > 0);
        }
        let listed = contents.iter().find(|was| was.name == kind.name).map_or(0, BoxKind::wanted);
        let left: u32 = after.left.iter().filter(|left| left.kind == index).map(|left| left.count).sum();
        // Of those that are gone, no more have lost their place than have none now.
        for (from, count) in gone {
            let lost = count.min(left);
            all.extend((lost > 0).then_some(Displaced { kind: index, count: lost, from: Some(from), to: None }));
        }
        let new = kind.wanted().saturating_sub(listed);
        all.extend(come.into_iter().filter(|_| new > 0).map(|(to, count)| Displaced { kind: index, count, from: None, to: Some(to) }));
    }
    all
}
