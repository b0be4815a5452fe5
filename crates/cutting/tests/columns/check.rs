//! Whether an answer is one. Knows the rules of rows and columns and nothing of how answers are found.

use casewright_cutting::columns::{Column, Cover, Filled, Left, Placement, Position, Reason, Thing};

/// Placed things of each kind, after checking every rule that holds within a column.
fn placed(things: &[Thing], columns: &[Column], filled: &[Filled]) -> Vec<u32> {
    let mut placed = vec![0; things.len()];
    for Filled { column, rows } in filled {
        let column = &columns[*column];
        let mut base = 0;
        for (index, row) in rows.iter().enumerate() {
            let empty = column.empty.filter(|_| index == 0 && rows.len() > 1 && row.stacks.is_empty());
            assert!(!row.stacks.is_empty() || empty.is_some(), "a row without stacks");
            assert_eq!(row.base, base, "each row lies on the one below");
            let position = match (index, rows.len()) {
                (0, 1) => Position::Alone,
                (0, _) => Position::Bottom,
                (index, count) if index + 1 == count => Position::Top,
                _ => Position::Between,
            };
            let (mut width, mut mass, mut need) = (0_u64, 0.0, empty.unwrap_or(0));
            for stood in &row.stacks {
                let stack = &column.stacks[stood.stack];
                assert_eq!(stack.thing, stood.thing);
                assert!((1..=stack.holds).contains(&stood.count), "{stood:?} in {stack:?}");
                assert!(stack.low.is_none_or(|low| base <= low), "a low stack at {base} above {:?}", stack.low);
                width += u64::from(stack.width);
                mass += stack.mass * f64::from(stood.count);
                need = need.max(match position {
                    Position::Alone => stack.needs.alone,
                    Position::Bottom => stack.needs.bottom,
                    Position::Between => stack.needs.between,
                    Position::Top => stack.needs.top,
                });
                placed[things.iter().position(|thing| thing.id == stood.thing).expect("a thing that was given")] += stood.count;
            }
            assert!(width <= u64::from(column.width), "{width} in a row of {}", column.width);
            let bears = if index == 0 { column.bottom_mass } else { column.most_mass };
            assert!(mass <= bears + 1e-6, "{mass} kg on a row that bears {bears}");
            assert_eq!(row.need, need, "a row is as high as its highest stack needs");
            base += need;
        }
        assert!(base <= column.height, "{base} in a column of {}", column.height);
        assert!(column.most_rows.is_none_or(|most| rows.len() <= most as usize), "{} rows", rows.len());
    }
    placed
}

fn all_accounted_for(things: &[Thing], placed: &[u32], left: &[Left]) {
    for (thing, placed) in things.iter().zip(placed) {
        let of_it: Vec<&Left> = left.iter().filter(|left| left.thing == thing.id).collect();
        assert!(of_it.len() <= 1 && of_it.iter().all(|left| left.count > 0));
        assert_eq!(placed + of_it.first().map_or(0, |left| left.count), thing.count, "every one of thing {} once", thing.id);
        assert!(*placed == 0 || of_it.iter().all(|left| left.reason == Reason::NoRoom));
    }
}

/// Checks what must be true of any placement.
pub fn placement(things: &[Thing], columns: &[Column], answer: &Placement) {
    let counted = |index: usize| answer.columns.iter().filter(|filled| filled.column == index).count();
    for (index, column) in columns.iter().enumerate() {
        assert_eq!(counted(index), column.count.unwrap_or(1) as usize, "every column once");
    }
    let placed = placed(things, columns, &answer.columns);
    all_accounted_for(things, &placed, &answer.left);
    let worth: u64 = things.iter().zip(&placed).map(|(thing, &placed)| u64::from(thing.worth) * u64::from(placed)).sum();
    assert_eq!(answer.worth, worth);
    assert!(answer.worth <= answer.bound, "{} above the bound of {}", answer.worth, answer.bound);
}

/// Checks what must be true of any cover.
pub fn cover(things: &[Thing], columns: &[Column], answer: &Cover) {
    for (index, column) in columns.iter().enumerate() {
        let taken = answer.columns.iter().filter(|filled| filled.column == index).count();
        assert!(column.count.is_none_or(|count| taken <= count as usize), "more taken than there are");
    }
    assert!(answer.columns.iter().all(|filled| !filled.rows.is_empty()), "a column for nothing");
    all_accounted_for(things, &placed(things, columns, &answer.columns), &answer.left);
    assert_eq!(answer.cost, answer.columns.iter().map(|filled| columns[filled.column].cost).sum::<u64>());
}
