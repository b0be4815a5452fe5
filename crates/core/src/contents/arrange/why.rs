//! Why things found no place.

use glam::DVec3;

use super::{Arrangement, Left, Row};
use crate::contents::{Fit, Lack, Pile, Stack};
use crate::design::{Bears, BoxKind, Design, HandRoom};
use crate::length::trimmed_to;

/// Rounding of sums of lengths and masses.
const HAIR: f64 = 1e-9;

/// What keeps one more of a kind off a shelf or floor.
struct Near<'r> {
    row: &'r Row,
    fit: Fit,
    /// On what of its kind it would stand; beside the others where that is none.
    on: Option<&'r Stack>,
}

impl Near<'_> {
    fn lacking(&self) -> f64 {
        self.fit.lack.total().max(0.0)
    }

    fn bears(&self, kind: &BoxKind) -> bool {
        self.row.carries.is_none_or(|carries| self.row.kg() + kind.mass <= carries + HAIR)
    }
}

impl Arrangement {
    /// Why things found no place: what keeps one more of them off the shelf or floor, as it stands now, that comes nearest to taking it.
    pub fn why(&self, design: &Design, left: &Left) -> String {
        let Some(kind) = design.contents.get(left.kind) else { return NOWHERE.to_owned() };
        let hand = &design.hand_room;
        if left.nowhere {
            return self.why_nowhere(kind, hand);
        }
        let all = self.rows.iter().flat_map(|row| std::iter::once(beside(row, kind, hand)).chain(on_its_kind(row, left.kind, kind, hand)));
        let (low, high): (Vec<Near<'_>>, Vec<Near<'_>>) = all.partition(|near| !is_too_high(near, kind, hand));
        let least = |a: &&Near<'_>, b: &&Near<'_>| a.lacking().total_cmp(&b.lacking()).then_with(|| b.bears(kind).cmp(&a.bears(kind)));
        let too_high = high.iter().find(|near| near.fit.fits()).map(|near| near.row.name());
        let Some(near) = low.iter().min_by(least) else {
            return too_high.map_or_else(|| NOWHERE.to_owned(), |row| format!("too heavy for {row}, which is so high"));
        };
        let (name, fit) = (near.row.name(), near.fit);
        if !fit.fits() {
            let on = if near.on.is_some() { " to stack it there" } else { "" };
            let more = too_high.map_or_else(String::new, |row| format!("; {row} has room, but is too high for what is so heavy"));
            return format!("no room beside the others; nearest is {name}, which lacks {}{on}{more}", fit.words());
        }
        match near.row.carries.filter(|_| !near.bears(kind)) {
            Some(carries) => {
                let more = trimmed_to((carries - near.row.kg()).max(0.0), 1);
                format!("{name} has room for it, but bears no more than {more} kg more")
            }
            None => "no room was found beside the others".to_owned(),
        }
    }

    /// Why a thing stands nowhere, even with nothing else in the case.
    fn why_nowhere(&self, kind: &BoxKind, hand: &HandRoom) -> String {
        let alone = || self.rows.iter().map(|row| (row, Fit::of(row.space.size(), kind, hand)));
        let takes: Vec<&Row> = alone().filter(|(_, fit)| fit.fits()).map(|(row, _)| row).collect();
        let most = takes.iter().filter_map(|row| row.carries).reduce(f64::max);
        match most.filter(|most| kind.mass > most + HAIR) {
            Some(most) => format!("{NOWHERE}: {} kg too heavy for what has room for it", trimmed_to(kind.mass - most, 1)),
            None if takes.is_empty() => {
                let nearest = alone().min_by(|a, b| a.1.lack.total().total_cmp(&b.1.lack.total()));
                nearest.map_or_else(
                    || NOWHERE.to_owned(),
                    |(row, fit)| format!("{NOWHERE}; nearest is {}, which lacks {}", row.name(), fit.words()),
                )
            }
            None => format!("{NOWHERE}: what has room for it is too high for what is so heavy"),
        }
    }
}

const NOWHERE: &str = "stands nowhere, even in the empty case";

fn is_too_high(near: &Near<'_>, kind: &BoxKind, hand: &HandRoom) -> bool {
    let base = near.on.map_or(near.row.space.min.y, |stack| stack.block.max.y);
    base > Pile::one(kind, hand, near.fit.stance).no_higher_than(kind, hand)
}

/// One more beside what stands in a row. Beside others it takes one gap, alone one on either side.
fn beside<'r>(row: &'r Row, kind: &BoxKind, hand: &HandRoom) -> Near<'r> {
    let width = if row.stacks.is_empty() { row.space.size().x } else { row.free() + hand.beside.to_mm() };
    Near { row, fit: Fit::of(DVec3 { x: width, ..row.space.size() }, kind, hand), on: None }
}

/// One more on what stands of its kind in a row, where that may bear it.
fn on_its_kind<'r>(row: &'r Row, index: usize, kind: &'r BoxKind, hand: &'r HandRoom) -> impl Iterator<Item = Near<'r>> {
    let may = |stack: &&Stack| match kind.bears {
        Bears::Others | Bears::Any => true,
        Bears::One => stack.pile.high < 2,
        Bears::Nothing => false,
    };
    let of_kind = row.stacks.iter().filter(move |stack| stack.kind == index && stack.pile.deep == 1).filter(may);
    of_kind.map(move |stack| {
        let stance = stack.pile.stance;
        let higher = Pile::of(kind, hand, stance, stack.pile.high + 1, 1);
        let height = stack.block.min.y + higher.needs().y - row.space.max.y;
        Near { row, fit: Fit { stance, lack: Lack { width: 0.0, depth: 0.0, height } }, on: Some(stack) }
    })
}
