//! Reads the published sets.

use std::fs;
use std::path::Path;

use casewright_cutting::boards::{Cuts, Piece, Stock, Task};
use serde_json::Value;

use crate::family::{Family, Instance, Measure};

/// All families that the folder has.
pub fn families(sets: &Path) -> Vec<Family> {
    vec![lengths(sets), several_lengths(sets)]
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap_or(0.0)
}

fn text(value: &Value) -> String {
    value.as_str().map_or_else(|| value.to_string(), ToOwned::to_owned)
}

fn list(value: &Value) -> &[Value] {
    value.as_array().map_or(&[], Vec::as_slice)
}

/// The instances of one file of a folder, a line each.
fn lines(sets: &Path, file: &str) -> Vec<Value> {
    let text = fs::read_to_string(sets.join(file)).unwrap_or_default();
    text.lines().filter_map(|line| serde_json::from_str(line).ok()).collect()
}

fn task(cuts: Cuts) -> Task {
    Task { kerf: 0.0, trim: 0.0, stock: Vec::new(), pieces: Vec::new(), cuts, stages: None, first: None, trimming: false }
}

fn stock(id: String, length: f64, width: Option<f64>) -> Stock {
    Stock { id, length, width, count: None, cost: 1.0, defects: Vec::new() }
}

fn piece(id: String, length: f64, width: Option<f64>, count: f64) -> Piece {
    Piece { id, length, width, count: count as u32, turn: false, value: None }
}

fn lengths(sets: &Path) -> Family {
    let mut instances = Vec::new();
    for class in ["falkenauer", "scholl", "schwerin", "waescher", "hard28"] {
        for line in lines(sets, &format!("csp1d/{class}.jsonl")) {
            let mut task = task(Cuts::Lengths);
            task.stock.push(stock("bin".to_owned(), number(&line["capacity"]), None));
            let items = list(&line["items"]).iter().enumerate();
            task.pieces = items.map(|(index, item)| piece(index.to_string(), number(&item[0]), None, number(&item[1]))).collect();
            let best = Some(number(&line["opt"]));
            let (class, measure) = (class.to_owned(), Measure::Cost);
            instances.push(Instance { name: text(&line["name"]), class, task, best, bound: best, measure });
        }
    }
    Family { name: "csp1d: lengths, one stock".to_owned(), instances }
}

fn several_lengths(sets: &Path) -> Family {
    let mut instances = Vec::new();
    for line in lines(sets, "csp1d_multi/multi.jsonl") {
        let best = Some(number(&line["opt_stock_length"]));
        let (name, task) = (text(&line["name"]), linear(&line));
        instances.push(Instance { class: name[..4].to_owned(), name, task, best, bound: best, measure: Measure::Cost });
    }
    Family { name: "csp1d_multi: lengths, several stocks".to_owned(), instances }
}

/// Stock lengths that cost as much as they are long.
fn linear(line: &Value) -> Task {
    let mut task = task(Cuts::Lengths);
    task.kerf = number(&line["kerf"]);
    task.trim = number(&line["end_trim"]);
    for row in list(&line["stock"]) {
        let length = number(&row["length"]);
        let count = row["qty"].as_u64().map(|count| count as u32);
        task.stock.push(Stock { count, cost: length, ..stock(text(&row["id"]), length, None) });
    }
    let parts = list(&line["parts"]).iter();
    task.pieces = parts.map(|part| piece(text(&part["id"]), number(&part["length"]), None, number(&part["qty"]))).collect();
    task
}
