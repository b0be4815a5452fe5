//! Odd input: an error that names what is odd, or a plain answer; never a panic, never an endless run.

use std::cell::Cell;
use std::ops::ControlFlow;

use casewright_cutting::columns::{
    Column, ColumnError, DEAREST, Effort, Least, MOST_COLUMNS, MOST_STACKS, MOST_THINGS, Needs, Progress, Stack, Thing, cover, place,
};
use proptest::prelude::*;

use super::{check, column, covered, placed, stack, thing};

/// What both questions say to it.
fn refused(things: &[Thing], columns: &[Column]) -> ColumnError {
    let error = place(things, columns, Effort::default()).expect_err("it is refused");
    let other = cover(things, columns, Effort::default()).expect_err("it is refused");
    assert_eq!(other.to_string(), error.to_string());
    error
}

#[test]
fn what_cannot_be_worked_with_is_an_error_that_says_whose() {
    let good = stack(7, 10, 10);
    let with = |odd: Stack| refused(&[thing(7, 1)], &[column(100, 100, vec![good]), column(100, 100, vec![good, odd])]).to_string();
    let named = "stack 1 of column 1, of thing 7, has 0 for ";
    assert!(with(Stack { width: 0, ..good }).starts_with(&format!("{named}its width")));
    assert!(with(Stack { holds: 0, ..good }).starts_with(&format!("{named}what it holds")));
    assert!(with(Stack { needs: Needs { top: 0, ..good.needs }, ..good }).starts_with(&format!("{named}its need at the top")));
    for mass in [-1.0, f64::NAN, f64::INFINITY, 2e6] {
        assert!(with(Stack { mass, ..good }).starts_with("thing 7 weighs"), "{mass}");
    }
    assert_eq!(with(Stack { thing: 8, ..good }), "stack 1 of column 1 holds thing 8, which is not among the things");
    let error = refused(&[thing(7, 1)], &[column(100, 100, vec![Stack { needs: Needs { alone: 21, ..good.needs }, ..good }])]);
    assert!(matches!(error, ColumnError::Saves { column: 0, stack: 0, thing: 7, alone: 21, with: 20 }), "{error}");

    let of = |column: Column| refused(&[thing(7, 1)], &[column]);
    for most_mass in [-0.1, f64::NAN, f64::NEG_INFINITY] {
        assert!(matches!(of(Column { most_mass, ..column(1, 1, vec![]) }), ColumnError::MostMass { column: 0, .. }));
    }
    assert!(matches!(of(Column { cost: DEAREST + 1, ..column(1, 1, vec![]) }), ColumnError::Cost { column: 0, .. }));
    assert_eq!(refused(&[thing(7, 1), thing(7, 2)], &[]), ColumnError::Twice { thing: 7 });
    let many = [thing(1, u32::MAX), thing(2, u32::MAX)];
    assert_eq!(refused(&many, &[]), ColumnError::TooManyThings { count: 8_589_934_590 });
    let columns = [Column { count: Some(u32::MAX), ..column(1, 1, vec![]) }];
    assert!(matches!(place(&[], &columns, Effort::default()), Err(ColumnError::TooManyColumns { count: 4_294_967_295 })));
    assert!(cover(&[], &columns, Effort::default()).is_ok(), "that there are many to choose from is no matter");
}

#[test]
fn nothing_asked_or_nothing_there_is_an_answer() {
    assert!(placed(&[], &[]).proven());
    assert!(placed(&[thing(1, 0)], &[column(10, 10, vec![stack(1, 1, 1)])]).left.is_empty());
    assert_eq!(placed(&[thing(1, 3)], &[]).left[0].count, 3);
    assert_eq!(placed(&[thing(1, 3)], &[Column { count: Some(0), ..column(10, 10, vec![stack(1, 1, 1)]) }]).worth, 0);
    assert_eq!(placed(&[thing(1, 3)], &[Column { most_rows: Some(0), ..column(10, 10, vec![stack(1, 1, 1)]) }]).worth, 0);
    assert_eq!(placed(&[thing(1, 3)], &[column(0, 0, vec![stack(1, 1, 1)])]).worth, 0);
    assert_eq!(covered(&[], &[]).bound, Least::Cost(0));
    assert!(covered(&[thing(1, 0)], &[column(10, 10, vec![])]).columns.is_empty());
    assert!(covered(&[thing(1, 2)], &[column(10, 10, vec![])]).proven(), "it stands nowhere, and that is certain");
    let free = covered(&[thing(1, 2)], &[Column { cost: 0, ..column(10, 10, vec![stack(1, 10, 10)]) }]);
    assert_eq!((free.cost, free.columns.len(), free.proven()), (0, 2, true));
}

#[test]
fn the_largest_numbers_are_worked_with() {
    let most = u32::MAX;
    let needs = Needs { alone: most, bottom: most, between: most, top: most };
    let huge = Stack { thing: 1, holds: most, width: most, needs, mass: 1e6, low: Some(most) };
    let tiny = stack(2, 1, 1);
    let endless = Column { cost: DEAREST, count: Some(2), most_rows: Some(most), ..column(most, most, vec![huge, tiny]) };
    let things = [Thing { worth: most, ..thing(1, 3) }, thing(2, MOST_THINGS as u32 - 3)];
    let answer = placed(&things, std::slice::from_ref(&endless));
    assert!(answer.left.is_empty(), "three huge ones in one stack of one column, the others in the other: {:?}", answer.left);
    let answer = covered(&things, &[endless]);
    assert_eq!((answer.cost, answer.proven()), (2 * DEAREST, true));
}

#[test]
fn a_column_of_the_most_rows_is_filled() {
    // One thing a row.
    let answer = placed(&[thing(1, MOST_THINGS as u32)], &[column(1, MOST_THINGS as u32, vec![stack(1, 1, 1)])]);
    assert!(answer.left.is_empty());
    assert_eq!(answer.columns[0].rows.len(), MOST_THINGS as usize);
    // And of which half can stand.
    let answer = placed(&[thing(1, MOST_THINGS as u32)], &[column(1, MOST_THINGS as u32 / 2, vec![stack(1, 1, 1)])]);
    assert_eq!((answer.worth, answer.proven()), (MOST_THINGS / 2, true));
}

#[test]
fn as_many_of_everything_as_is_taken_is_answered() {
    // A hundred kinds in a hundred ways each, no two alike, in as many columns as there may be.
    let mut dice = super::random::Dice(0x5eed_0004);
    let things: Vec<Thing> = (0..100).map(|id| thing(id, MOST_THINGS as u32 / 100)).collect();
    let stacks = (0..MOST_STACKS as u32)
        .map(|number| Stack { mass: f64::from(dice.roll(0, 100)) / 10.0, ..stack(number % 100, dice.roll(100, 900), dice.roll(100, 900)) });
    let column = Column { most_mass: 50.0, count: Some(MOST_COLUMNS as u32), ..column(2_000, 20_000, stacks.collect()) };
    let effort = Effort::steps(100_000);
    let answer = place(&things, std::slice::from_ref(&column), effort).expect("the figures are sound");
    check::placement(&things, std::slice::from_ref(&column), &answer);
    assert!(answer.worth > 0);
    let answer = cover(&things, std::slice::from_ref(&column), effort).expect("the figures are sound");
    check::cover(&things, &[column], &answer);
}

/// A question that no quick filling answers.
fn hard() -> (Vec<Thing>, Vec<Column>) {
    let needs = [1410, 1330, 1000, 970, 770, 645, 505, 485, 470, 310];
    let things: Vec<Thing> = (0..10).map(|id| thing(id, 6)).collect();
    let stacks: Vec<Stack> = (0..10).map(|id| stack(id, 100, needs[id as usize])).collect();
    (things, vec![Column { count: Some(12), ..column(100, 3601, stacks) }])
}

#[test]
fn whoever_watches_can_end_it_and_keeps_the_best_so_far() {
    let (things, columns) = hard();
    let told = Cell::new(0);
    let last = Cell::new(None);
    let stop = |progress: &Progress| {
        told.set(told.get() + 1);
        last.set(Some(*progress));
        ControlFlow::Break(())
    };
    let answer = place(&things, &columns, Effort { steps: u64::MAX, watch: &stop }).expect("the figures are sound");
    check::placement(&things, &columns, &answer);
    assert_eq!(told.get(), 1, "told once, and never again after it was ended");
    let progress = last.get().expect("it was told");
    assert!(progress.best.is_some_and(|best| best <= answer.worth) && progress.bound >= answer.bound);
    assert!(answer.worth > 0);
}

#[test]
fn without_effort_there_is_an_answer_and_its_bound_is_true() {
    let (things, columns) = hard();
    let quick = place(&things, &columns, Effort::steps(0)).expect("the figures are sound");
    check::placement(&things, &columns, &quick);
    let longer = placed(&things, &columns);
    assert!(longer.worth >= quick.worth && longer.bound <= quick.bound);
    let quick = cover(&things, &columns, Effort::steps(0)).expect("the figures are sound");
    check::cover(&things, &columns, &quick);
}

#[test]
fn the_same_question_gets_the_same_answer() {
    let (things, columns) = hard();
    assert_eq!(placed(&things, &columns), placed(&things, &columns));
    let many = [Column { count: None, ..columns[0].clone() }];
    assert_eq!(covered(&things, &many), covered(&things, &many));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    #[test]
    fn whatever_numbers_come_nothing_panics(
        counts in prop::collection::vec(0..40_u32, 0..4),
        figures in prop::collection::vec((0..5_u32, any::<(u32, u32, u32, u32)>(), 0..32_u32, any::<f64>(), any::<Option<u32>>()), 0..6),
        shape in any::<(u32, u32, (f64, f64), Option<u32>, Option<u32>, u64, Option<u32>)>(),
    ) {
        let things: Vec<Thing> = counts.iter().enumerate().map(|(id, &count)| thing(id as u32, count)).collect();
        let stacks = figures.into_iter().map(|(thing, (holds, width, need, more), shift, mass, low)| {
            let need = (need >> shift).max(1);
            let needs = Needs { bottom: need.saturating_add(more >> 24), ..Needs::same(need) };
            let mass = if mass.is_finite() { mass.abs() % 1e6 } else { mass };
            Stack { thing, holds, width: width >> shift, needs, mass, low }
        }).collect();
        let (width, height, (most_mass, bottom_mass), most_rows, empty, cost, count) = shape;
        let empty = empty.map(|empty| empty >> 20);
        let count = count.map(|count| count % 50);
        let columns = [Column {
            width,
            height,
            most_mass: most_mass.abs(),
            bottom_mass: bottom_mass.abs(),
            empty,
            most_rows,
            cost: cost >> 20,
            count,
            stacks,
        }];
        let effort = Effort::steps(50_000);
        if let Ok(answer) = place(&things, &columns, effort) {
            check::placement(&things, &columns, &answer);
        }
        if let Ok(answer) = cover(&things, &columns, effort) {
            check::cover(&things, &columns, &answer);
        }
    }
}
