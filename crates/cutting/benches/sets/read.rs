//! Reads the published sets.

use std::fs;
use std::path::Path;

use casewright_cutting::boards::{Cuts, Direction, Piece, Stock, Task, Zone};
use serde_json::Value;

use crate::family::{Family, Instance, Measure};

/// All families that the folder has.
pub fn families(sets: &Path) -> Vec<Family> {
    let mut families = vec![lengths(sets), several_lengths(sets)];
    families.extend([false, true].map(|turn| bins(sets, turn)));
    families.extend(["alvarez_3stage", "cintra_1size_3stage", "hifi_etc_3stage"].map(|file| staged(sets, file)));
    families.extend([false, true].map(|turn| priced(sets, turn)));
    families.push(sizes(sets));
    families.extend(["sheets", "linear", "boards"].map(|part| realistic(sets, part)));
    families.push(glass(sets));
    families
}

/// Every task of a folder.
pub fn tasks(folder: &Path) -> Family {
    let mut files: Vec<_> = fs::read_dir(folder).into_iter().flatten().flatten().map(|entry| entry.path()).collect();
    files.sort();
    let read = |file: &std::path::PathBuf| {
        let task = serde_json::from_str(&fs::read_to_string(file).ok()?).ok()?;
        let name = file.file_stem()?.to_string_lossy().into_owned();
        Some(Instance { name, class: "tasks".to_owned(), task, best: None, bound: None, measure: Measure::Cost })
    };
    Family { name: "tasks".to_owned(), instances: files.iter().filter_map(read).collect() }
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

fn sheet(id: &str, length: f64, width: f64) -> Stock {
    stock(id.to_owned(), length, Some(width))
}

/// Pieces of [length, width, count].
fn rectangles(rows: &Value, turn: bool) -> Vec<Piece> {
    let rows = list(rows).iter().enumerate();
    rows.map(|(index, row)| Piece { turn, ..piece(index.to_string(), number(&row[0]), Some(number(&row[1])), number(&row[2])) }).collect()
}

fn bins(sets: &Path, turn: bool) -> Family {
    let kind = if turn { "R" } else { "O" };
    let read = |line: &Value| {
        let mut task = task(Cuts::Guillotine);
        task.stock.push(sheet("bin", number(&line["bin"][0]), number(&line["bin"][1])));
        task.pieces = rectangles(&line["items"], turn);
        let name = text(&line["name"]);
        Instance {
            class: name[3..5].to_owned(),
            name,
            task,
            best: line[format!("bk_3stage_{kind}")].as_f64(),
            bound: line[format!("lb_{kind}")].as_f64(),
            measure: Measure::Cost,
        }
    };
    let instances = lines(sets, "bpp2d/class.jsonl").iter().map(read).collect();
    Family { name: format!("bpp2d {kind}: bins, pieces {}turned", if turn { "" } else { "un" }), instances }
}

fn staged(sets: &Path, file: &str) -> Family {
    let read = |line: &Value| {
        let mut task = task(Cuts::Guillotine);
        task.stages = Some(3);
        let variant = text(&line["variant"]);
        task.first = variant.contains("first cut vertical").then_some(Direction::Across);
        task.stock.push(sheet("bin", number(&line["bin"][0]), number(&line["bin"][1])));
        task.pieces = rectangles(&line["items"], false);
        let (best, bound) = (line["best"].as_f64(), line["bound"].as_f64());
        Instance { name: text(&line["name"]), class: "3 stages".to_owned(), task, best, bound, measure: Measure::Cost }
    };
    let instances = lines(sets, &format!("staged2d/{file}.jsonl")).iter().map(read).collect();
    Family { name: format!("staged2d {file}"), instances }
}

fn priced(sets: &Path, turn: bool) -> Family {
    let kind = if turn { "R" } else { "O" };
    let read = |line: &Value| {
        let mut task = task(Cuts::Guillotine);
        task.stages = Some(2);
        task.trimming = true;
        for row in list(&line["stock"]) {
            task.stock.push(Stock { cost: number(&row[2]), ..sheet("sheet", number(&row[0]), number(&row[1])) });
        }
        task.pieces = rectangles(&line["items"], turn);
        let known = |what: &str| line[format!("{what}_2stage_{kind}")].as_f64();
        let (best, bound) = (known("best"), known("bound"));
        Instance { name: text(&line["name"]), class: "3 sizes".to_owned(), task, best, bound, measure: Measure::Cost }
    };
    let instances = lines(sets, "staged2d/cintra_3sizes_2stage.jsonl").iter().map(read).collect();
    Family { name: format!("staged2d cintra_3sizes_2stage {kind}"), instances }
}

/// Only means of families are known: the best cost is what their use of the sheets would come to.
fn sizes(sets: &Path) -> Family {
    let read = |line: &Value| {
        let mut task = task(Cuts::Guillotine);
        for row in list(&line["stock"]) {
            let (length, width) = (number(&row[0]), number(&row[1]));
            let count = row[2].as_u64().map(|count| count as u32);
            task.stock.push(Stock { count, cost: length * width, ..sheet("sheet", length, width) });
        }
        task.pieces = rectangles(&line["items"], false);
        let area: f64 = task.pieces.iter().map(|piece| piece.length * piece.width.unwrap_or(0.0) * f64::from(piece.count)).sum();
        let best = line["family_utilisation_gdrr"].as_f64().map(|share| area / share * 100.0);
        Instance { name: text(&line["name"]), class: text(&line["family"]), task, best, bound: None, measure: Measure::Cost }
    };
    let instances = lines(sets, "vsbpp2d/nice_path.jsonl").iter().map(read).collect();
    Family { name: "vsbpp2d: several sizes, by the mean of a family".to_owned(), instances }
}

fn realistic(sets: &Path, part: &str) -> Family {
    let mut instances = Vec::new();
    for case in ["case21_kitchenbase", "case22_chest", "case23_workshop"] {
        let read = fs::read_to_string(sets.join(format!("realistic/{case}.json"))).ok();
        let Some(value) = read.and_then(|text| serde_json::from_str::<Value>(&text).ok()) else {
            continue;
        };
        let known = &value["reference"][part];
        let mut rows = value[part].clone();
        rows["kerf"] = value["kerf"].clone();
        let (task, best, bound) = match part {
            "linear" => (linear(&rows), known["optimum_stock_length_mm"].as_f64(), known["optimum_stock_length_mm"].as_f64()),
            "sheets" => (cut_to_size(&rows, false), known["sheets_known"].as_f64(), known["best"].as_f64()),
            _ => (cut_to_size(&rows, true), known["area_known_mm2"].as_f64(), known["bound2_mm2"].as_f64()),
        };
        instances.push(Instance { name: case.to_owned(), class: part.to_owned(), task, best, bound, measure: Measure::Cost });
    }
    Family { name: format!("realistic: {part}"), instances }
}

/// Sheets or boards with their defects; by area if asked for, or else by number.
fn cut_to_size(rows: &Value, by_area: bool) -> Task {
    let mut task = task(Cuts::Guillotine);
    task.kerf = number(&rows["kerf"]);
    task.trim = number(&rows["trim"]);
    for row in list(&rows["stock"]) {
        let (length, width) = (number(&row["length"]), number(&row["width"]));
        let count = row["qty"].as_u64().map(|count| count as u32);
        let cost = if by_area { length * width } else { 1.0 };
        let zone = |zone: &Value| Zone {
            x: number(&zone["x"]),
            y: number(&zone["y"]),
            length: number(&zone["length"]),
            width: zone["width"].as_f64(),
        };
        let defects = list(&row["defects"]).iter().map(zone).collect();
        task.stock.push(Stock { count, cost, defects, ..sheet(&text(&row["id"]), length, width) });
    }
    for row in list(&rows["parts"]) {
        let turn = text(&row["grain"]) == "none";
        let size = piece(text(&row["id"]), number(&row["length"]), row["width"].as_f64(), number(&row["qty"]));
        task.pieces.push(Piece { turn, ..size });
    }
    task
}

/// Without the order of pieces and the least widths that the challenge asks for, so its waste is an upper bound only.
fn glass(sets: &Path) -> Family {
    let read = |line: &Value| {
        let mut task = task(Cuts::Guillotine);
        task.stages = Some(3);
        task.trimming = true;
        task.first = Some(Direction::Across);
        let area: f64 = list(&line["items"]).iter().map(|row| number(&row[1]) * number(&row[2])).sum();
        let waste = number(&line["best_waste"]);
        let (length, width) = (6000.0, 3210.0);
        // The plates come in their order: as many as the best known needs.
        let plates = ((area + waste) / (length * width)).ceil();
        for plate in 0..plates as usize {
            let defects = list(&line["defects"]).iter().filter(|row| number(&row[0]) as usize == plate);
            let zone = |row: &Value| Zone { x: number(&row[1]), y: number(&row[2]), length: number(&row[3]), width: row[4].as_f64() };
            let defects = defects.map(zone).collect();
            task.stock.push(Stock { count: Some(1), defects, ..sheet(&plate.to_string(), length, width) });
        }
        for row in list(&line["items"]) {
            task.pieces.push(Piece { turn: true, ..piece(text(&row[0]), number(&row[1]), row[2].as_f64(), 1.0) });
        }
        Instance { name: text(&line["name"]), class: "glass".to_owned(), task, best: Some(waste), bound: None, measure: Measure::Waste }
    };
    Family { name: "glass_defects: waste".to_owned(), instances: lines(sets, "glass_defects/roadef2018.jsonl").iter().map(read).collect() }
}
