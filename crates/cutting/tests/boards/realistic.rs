//! Furniture cases with a kerf of 3.2, our own; `data/README.md` tells how their values were come by.

use std::ops::ControlFlow;

use casewright_cutting::boards::{Cuts, Effort, Piece, Progress, Stock, Task, Zone, lay};
use serde_json::Value;

use crate::check::assert_sound;
use crate::lengths::linear;
use crate::made::{laid, panel, sheet, task};

fn cases() -> Vec<Value> {
    let cases = [
        include_str!("../data/realistic/case21_kitchenbase.json"),
        include_str!("../data/realistic/case22_chest.json"),
        include_str!("../data/realistic/case23_workshop.json"),
    ];
    cases.iter().map(|text| serde_json::from_str(text).expect("the case is JSON")).collect()
}

fn figure(value: &Value) -> f64 {
    value.as_f64().expect("a figure")
}

/// One part of a case, sheets or boards, that cost what is said of them.
fn cut_to_size(case: &Value, part: &str, cost: impl Fn(f64, f64) -> f64) -> Task {
    let rows = |name: &str| case[part][name].as_array().expect("rows").clone();
    let mut task = Task { kerf: figure(&case["kerf"]), trim: figure(&case[part]["trim"]), ..task(Cuts::Guillotine) };
    for row in rows("stock") {
        let (length, width) = (figure(&row["length"]), figure(&row["width"]));
        let zone = |zone: &Value| Zone {
            x: figure(&zone["x"]),
            y: figure(&zone["y"]),
            length: figure(&zone["length"]),
            width: zone["width"].as_f64(),
        };
        let defects = row["defects"].as_array().map(|zones| zones.iter().map(zone).collect()).unwrap_or_default();
        let count = row["qty"].as_u64().map(|count| count as u32);
        task.stock.push(Stock { count, cost: cost(length, width), defects, ..sheet(length, width) });
    }
    for row in rows("parts") {
        let turn = row["grain"] == "none";
        task.pieces.push(Piece { turn, ..panel(figure(&row["length"]), figure(&row["width"]), figure(&row["qty"]) as u32) });
    }
    task
}

#[test]
fn sheets_reach_the_least_number() {
    for case in cases() {
        let layout = laid(&cut_to_size(&case, "sheets", |_, _| 1.0), 300);
        let known = figure(&case["reference"]["sheets"]["best"]);
        assert_eq!(layout.count, known as usize, "{}", case["name"]);
        assert!(layout.proven, "{}", case["name"]);
    }
}

#[test]
fn lengths_reach_the_least_total() {
    for case in cases() {
        let mut rows = case["linear"].clone();
        rows["kerf"] = case["kerf"].clone();
        let layout = laid(&linear(&rows), 400);
        let known = figure(&case["reference"]["linear"]["optimum_stock_length_mm"]);
        assert!((layout.cost - known).abs() < 1e-6 && layout.proven, "{}: {} of {known}", case["name"], layout.cost);
    }
}

#[test]
fn boards_with_defects_are_no_worse_than_the_layouts_given() {
    for case in cases() {
        let task = cut_to_size(&case, "boards", |length, width| length * width);
        let known = figure(&case["reference"]["boards"]["area_known_mm2"]);
        // Until it is as good, and no longer.
        let watch = |progress: &Progress| match progress.cost {
            Some(cost) if cost <= known + 1e-3 => ControlFlow::Break(()),
            Some(_) | None => ControlFlow::Continue(()),
        };
        let layout = lay(&task, Effort { watch: &watch, ..Effort::rounds(1_500) });
        assert_sound(&task, &layout);
        assert!(layout.unplaced.is_empty());
        assert!(layout.cost <= known + 1e-3, "{}: {} mm², {known} is known", case["name"], layout.cost);
        let least = figure(&case["reference"]["boards"]["bound2_mm2"]);
        assert!(
            layout.bound <= layout.cost && layout.cost >= least - 1e-3,
            "{}: {} mm² under the bound {least}",
            case["name"],
            layout.cost
        );
    }
}
