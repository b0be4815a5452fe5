//! Rows and columns checked by their own rules, by sums done by hand, and against trying everything.

mod brute;
mod check;
mod csp;
mod odd;
mod random;

use casewright_cutting::columns::{Column, Cover, Effort, Least, Left, Needs, Placement, Reason, Stack, Thing, cover, place};

use random::Dice;

fn placed(things: &[Thing], columns: &[Column]) -> Placement {
    let answer = place(things, columns, Effort::default()).expect("every number can be worked with");
    check::placement(things, columns, &answer);
    answer
}

fn covered(things: &[Thing], columns: &[Column]) -> Cover {
    let answer = cover(things, columns, Effort::default()).expect("every number can be worked with");
    check::cover(things, columns, &answer);
    answer
}

#[test]
fn placing_agrees_with_trying_everything() {
    let mut dice = Dice(0x5eed_0001);
    let mut full = 0;
    for number in 0..3000 {
        let things = random::things(&mut dice, 6);
        let columns: Vec<Column> = (0..dice.roll(1, 2)).map(|_| random::column(&mut dice, &things)).collect();
        let answer = placed(&things, &columns);
        let best = brute::place(&things, &columns);
        assert_eq!(answer.worth, best, "question {number}: {things:?} {columns:?}");
        assert!(answer.proven(), "question {number}: {} of at most {}", answer.worth, answer.bound);
        full += usize::from(answer.left.is_empty());
    }
    assert!((500..2500).contains(&full), "{full} of the questions are answered in full; they are too easy or too hard to tell much");
}

#[test]
fn covering_agrees_with_trying_everything() {
    let mut dice = Dice(0x5eed_0002);
    let mut impossible = 0;
    for number in 0..2000 {
        let things = random::things(&mut dice, 5);
        let mut columns: Vec<Column> = (0..dice.roll(1, 2)).map(|_| random::column(&mut dice, &things)).collect();
        if number % 2 == 0 {
            // Too few more often than not.
            for column in &mut columns {
                column.count = Some(1);
            }
        }
        let answer = covered(&things, &columns);
        // Things that stand nowhere are told apart; the rest is to be covered.
        let nowhere = |thing: &Thing| answer.left.iter().any(|left| left.thing == thing.id && left.reason == Reason::StandsNowhere);
        for thing in things.iter().filter(|thing| thing.count > 0) {
            let only = |other: &Thing| Thing { count: u32::from(other.id == thing.id), worth: 1, ..*other };
            let one: Vec<Thing> = things.iter().map(only).collect();
            let there: Vec<Column> = columns.iter().filter(|column| column.count != Some(0)).cloned().collect();
            let stands = there.iter().any(|column| brute::place(&one, &[Column { count: None, ..column.clone() }]) == 1);
            assert_eq!(nowhere(thing), !stands, "question {number}: thing {}", thing.id);
        }
        let wanted: Vec<Thing> = things.iter().map(|thing| if nowhere(thing) { Thing { count: 0, ..*thing } } else { *thing }).collect();
        let least = brute::cover(&wanted, &columns);
        assert_eq!(answer.bound, least.map_or(Least::TooFew, Least::Cost), "question {number}: {things:?} {columns:?}");
        assert_eq!(answer.complete(), least.is_some(), "question {number}: {things:?} {columns:?}");
        assert!(least.is_none_or(|least| answer.cost == least), "question {number}: {things:?} {columns:?}");
        impossible += usize::from(least.is_none());
        assert!(answer.proven());
    }
    assert!((100..1000).contains(&impossible), "{impossible} of the questions have no answer");
}

#[test]
fn no_bound_is_refuted_by_an_answer_of_another_effort() {
    let mut dice = Dice(0x5eed_0003);
    for number in 0..20 {
        let (things, columns) = random::shelves(&mut dice);
        let efforts = [0, 10_000, 100_000, 1_000_000, 3_000_000].map(Effort::steps);
        let placements = efforts.map(|effort| place(&things, &columns, effort).expect("the figures are sound"));
        let covers = efforts.map(|effort| cover(&things, &columns, effort).expect("the figures are sound"));
        for (one, other) in placements.iter().zip(&covers) {
            check::placement(&things, &columns, one);
            check::cover(&things, &columns, other);
        }
        let best = placements.iter().map(|answer| answer.worth).max();
        assert!(placements.iter().all(|answer| Some(answer.bound) >= best), "question {number}: {things:?} {columns:?}");
        let least = covers.iter().filter(|answer| answer.complete()).map(|answer| answer.cost).min();
        let true_of_all = |answer: &Cover| match answer.bound {
            Least::Cost(bound) => least.is_none_or(|least| bound <= least),
            Least::TooFew => least.is_none(),
        };
        assert!(covers.iter().all(true_of_all), "question {number}: {things:?} {columns:?}");
    }
}

fn thing(id: u32, count: u32) -> Thing {
    Thing { id, count, worth: 1 }
}

fn stack(thing: u32, width: u32, need: u32) -> Stack {
    Stack { thing, holds: 1, width, needs: Needs::same(need), mass: 1.0, low: None }
}

fn column(width: u32, height: u32, stacks: Vec<Stack>) -> Column {
    Column {
        width,
        height,
        most_mass: f64::INFINITY,
        bottom_mass: f64::INFINITY,
        empty: None,
        most_rows: None,
        cost: 1,
        count: None,
        stacks,
    }
}

#[test]
fn a_shelf_less_at_the_top_makes_room_for_one_more_row() {
    // Four rows of 250 and three shelves of 20 between them: 4 × 250 + 3 × 20 = 1060.
    let needs = Needs { alone: 250, bottom: 270, between: 270, top: 250 };
    let of = |height| placed(&[thing(1, 9)], &[column(100, height, vec![Stack { needs, ..stack(1, 100, 1) }])]).worth;
    assert_eq!(of(1060), 4);
    assert_eq!(of(1059), 3);
}

#[test]
fn heavy_things_stand_low_and_light_ones_above() {
    let heavy = Stack { low: Some(300), mass: 20.0, ..stack(1, 100, 300) };
    let case = Column { most_mass: 40.0, bottom_mass: 40.0, ..column(300, 900, vec![heavy, stack(2, 100, 300)]) };
    // Two rows at 0 and 300 may take heavy ones, two of them each: 2 × 20 kg = 40 kg. With a third beside them a row bears no more.
    let answer = placed(&[thing(1, 9), thing(2, 9)], &[case]);
    let heavy_placed: Vec<u32> =
        answer.columns[0].rows.iter().map(|row| row.stacks.iter().filter(|s| s.thing == 1).count() as u32).collect();
    assert!(heavy_placed.iter().enumerate().all(|(row, &count)| count <= if row < 2 { 2 } else { 0 }), "{heavy_placed:?}");
    assert_eq!(answer.worth, 9, "three rows of three");
    assert!(answer.proven());
}

#[test]
fn a_weak_floor_is_left_empty_for_shelves_that_bear_more() {
    let heavy = Stack { mass: 20.0, ..stack(1, 100, 100) };
    let case = Column { most_mass: 45.0, bottom_mass: 15.0, empty: Some(30), ..column(300, 330, vec![heavy]) };
    // Two on each of three shelves; the floor bears none.
    let answer = placed(&[thing(1, 9)], std::slice::from_ref(&case));
    assert_eq!((answer.worth, answer.proven()), (6, true));
    let rows = &answer.columns[0].rows;
    assert!(rows.len() == 4 && rows[0].stacks.is_empty() && rows[1].base == 30, "{rows:?}");
    // A floor that bears one takes it, and a shelf the less has room.
    let answer = placed(&[thing(1, 9)], &[Column { bottom_mass: 20.0, height: 329, ..case.clone() }]);
    assert_eq!((answer.worth, answer.proven()), (5, true));
    let error = place(&[thing(1, 9)], &[Column { empty: None, ..case }], Effort::default());
    assert!(error.is_err_and(|error| error.to_string().starts_with("the lowest row of column 0 needs None")));
}

#[test]
fn what_is_stacked_stands_no_higher_than_it_may() {
    // One high up to a base of 200, two high up to 100.
    let one = Stack { low: Some(200), ..stack(1, 100, 100) };
    let two = Stack { holds: 2, low: Some(100), ..stack(1, 100, 200) };
    let answer = placed(&[thing(1, 9)], &[column(100, 900, vec![one, two])]);
    assert_eq!((answer.worth, answer.proven()), (3, true), "their bases lie at 0, 100 and 200, however they are stacked: {answer:?}");
}

#[test]
fn what_stands_nowhere_is_told_apart_from_what_has_no_room() {
    let answer = placed(&[thing(1, 3), thing(2, 1), thing(3, 0)], &[column(100, 100, vec![stack(1, 60, 60), stack(2, 60, 101)])]);
    let left = [Left { thing: 1, count: 2, reason: Reason::NoRoom }, Left { thing: 2, count: 1, reason: Reason::StandsNowhere }];
    assert_eq!(answer.left, left);
    assert!(answer.proven());
}

#[test]
fn a_column_that_takes_nothing_keeps_no_other_from_being_filled() {
    let needs = Needs { alone: 5, bottom: 6, between: 7, top: 5 };
    let stacks = vec![Stack { needs, ..stack(1, 6, 1) }, Stack { low: Some(4), ..stack(2, 5, 10) }];
    let too_low = Column { count: Some(2), ..column(6, 4, stacks.clone()) };
    let columns = [too_low, Column { count: Some(2), ..column(6, 18, stacks) }];
    let things = [thing(1, 2), thing(2, 3)];
    // Of each a thing 2 at the bottom and a thing 1 on it.
    assert_eq!(brute::place(&things, &columns), 4);
    assert_eq!(placed(&things, &columns).worth, 4);
}

#[test]
fn columns_given_one_by_one_are_as_good_as_counted_ones() {
    let stacks: Vec<Stack> = (0..6).map(|id| stack(id, 30 + 7 * (id * 5 % 6), 110 + 13 * id)).collect();
    let things: Vec<Thing> = (0..6).map(|id| thing(id, 6)).collect();
    let one = column(100, 500, stacks);
    let counted = placed(&things, &[Column { count: Some(4), ..one.clone() }]);
    let one_by_one =
        placed(&things, &[one.clone(), one.clone(), Column { count: Some(0), ..one.clone() }, Column { count: Some(2), ..one }]);
    assert_eq!((one_by_one.worth, one_by_one.bound), (counted.worth, counted.bound));
    assert!(one_by_one.columns.iter().all(|filled| !filled.rows.is_empty() && filled.column != 2));
}
