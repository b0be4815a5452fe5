//! What the case takes of timber, sheets, finish and glue.

use casewright_core::length::trimmed_to;
use egui::Ui;

use super::super::{View, words};

/// Draws it.
pub fn ui(ui: &mut Ui, view: &View<'_>) {
    let taken = view.derived.takes(view.session.design());
    words::group(ui, "What it takes");
    for line in &taken.timber {
        let board = if line.board.is_empty() { "thicker than is sold" } else { line.board.as_str() };
        let told = format!("{} {board}: {} m³", words::sentence(&line.made_of), trimmed_to(line.to_buy.value, 3));
        words::why(ui, &told, &line.to_buy);
        let [longest, widest] = [line.longest, line.widest].map(|mm| trimmed_to(mm, 0));
        let pieces = words::counted(line.pieces, "piece", "pieces");
        words::small(ui, format!("{} board feet; {pieces}, the longest {longest}, the widest {widest}", trimmed_to(line.board_feet(), 1)));
    }
    for line in &taken.sheets {
        let told = format!("{}: {} m²", words::sentence(&line.made_of), trimmed_to(line.to_buy.value, 2));
        words::why(ui, &told, &line.to_buy);
        words::small(ui, format!("To measure {}", line.measure_words()));
    }
    for line in &taken.veneer {
        let told = format!("{}, veneer: {} {}", words::sentence(&line.made_of), trimmed_to(line.to_buy.value, 3), line.to_buy.unit);
        words::why(ui, &told, &line.to_buy);
        let [faces, balancing] = [&line.faces, &line.balancing].map(|worked| trimmed_to(worked.value, 2));
        words::small(ui, format!("{faces} m² of faces, {balancing} m² of balancing sheets, {} thick", trimmed_to(line.thickness, 2)));
    }
    for line in &taken.bought {
        words::small(ui, format!("{}: {}", words::sentence(&line.title), line.count));
    }
    if let Some(litres) = &taken.litres {
        words::why(ui, &format!("Finish: {} l", trimmed_to(litres.value, 1)), litres);
    }
    words::why(ui, &format!("Glue: {} g in joints", trimmed_to(taken.glue.value, 0)), &taken.glue);
    let rows = view.derived.cut_list.rows.iter().filter(|row| !row.notes.is_empty());
    for row in rows {
        words::small(ui, format!("{} {}: {}", row.mark, row.kind.words().0, row.notes.join("; ")));
    }
}
