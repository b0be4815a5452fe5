//! Sticks as columns and pieces as rows, against optima worked out elsewhere: see `data/README.md`.

use casewright_cutting::columns::{Column, Effort, Least, Needs, Stack, Thing, cover};
use serde::Deserialize;

use super::check;

#[derive(Deserialize)]
struct Instance {
    name: String,
    kerf: f64,
    end_trim: f64,
    stock: Vec<Stock>,
    parts: Vec<Part>,
    opt_stock_length: f64,
}

#[derive(Deserialize)]
struct Stock {
    length: f64,
    qty: Option<u32>,
}

#[derive(Deserialize)]
struct Part {
    length: f64,
    qty: u32,
}

fn tenths(length: f64) -> u32 {
    (length * 10.0).round() as u32
}

/// One piece to a row; the kerf lies above it wherever another follows.
fn read(instance: &Instance) -> (Vec<Thing>, Vec<Column>) {
    let number = |index: usize| u32::try_from(index).expect("a few parts");
    let things = instance.parts.iter().enumerate().map(|(index, part)| Thing { id: number(index), count: part.qty, worth: 1 }).collect();
    let stacks: Vec<Stack> = instance
        .parts
        .iter()
        .enumerate()
        .map(|(index, part)| {
            let (bare, sawn) = (tenths(part.length), tenths(part.length + instance.kerf));
            let needs = Needs { alone: bare, bottom: sawn, between: sawn, top: bare };
            Stack { thing: number(index), holds: 1, width: 1, needs, mass: 0.0, low: None }
        })
        .collect();
    let columns = instance.stock.iter().map(|stock| Column {
        width: 1,
        height: tenths(stock.length - 2.0 * instance.end_trim),
        most_mass: 0.0,
        most_rows: None,
        bottom_mass: f64::INFINITY,
        empty: None,
        cost: u64::from(tenths(stock.length)),
        count: stock.qty,
        stacks: stacks.clone(),
    });
    (things, columns.collect())
}

#[test]
fn sticks_come_to_the_known_least_length() {
    let (mut reached, mut proven) = (0, 0);
    for line in include_str!("../data/csp1d_multi/multi.jsonl").lines() {
        let instance: Instance = serde_json::from_str(line).expect("a line of the data");
        let (things, columns) = read(&instance);
        let answer = cover(&things, &columns, Effort::default()).expect("the figures are sound");
        check::cover(&things, &columns, &answer);
        let best = u64::from(tenths(instance.opt_stock_length));
        let Least::Cost(bound) = answer.bound else { panic!("{}: there is a cover", instance.name) };
        println!("{}: {bound} ≤ {best} ≤ {} {}", instance.name, answer.cost, if answer.proven() { "proven" } else { "" });
        assert!(answer.complete(), "{}", instance.name);
        assert!(bound <= best && best <= answer.cost, "{}: {bound} {best} {}", instance.name, answer.cost);
        reached += u32::from(answer.cost == best);
        proven += u32::from(answer.proven());
    }
    assert!(reached == 10 && proven >= 9, "{reached} reached, {proven} proven");
}
