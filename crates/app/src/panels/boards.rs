//! The stage "Boards": the cut list, and how solid parts come out of sticks.

use casewright_core::cutlist::Row;
use casewright_core::length::{trimmed, trimmed_to};
use casewright_core::model::Material;
use casewright_core::takeoff::TakeOff;
use egui::{Align, Layout, RichText, Sense, Ui};
use egui_extras::{Column, TableBuilder, TableRow};

use super::{Out, View, made, stage, words};
use crate::ask::Ask;
use crate::theme;

/// Draws it.
pub fn ui(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    words::heading(ui, "Boards");
    let rows = &view.derived.cut_list.rows;
    let parts = view.derived.cut_list.count();
    words::small(
        ui,
        format!(
            "{} under {}; sizes in mm, rough sizes in brackets",
            words::counted(parts, "part", "parts"),
            words::counted(rows.len(), "mark", "marks")
        ),
    );
    ui.add_space(4.0);
    table(ui, view, out);
    takes(ui, view);
    stage::groups(ui, view, out);
    made::of_stock(ui, view, out);
    words::group(ui, "What to have ready");
    for sticks in view.sticks {
        sticks_of_one_section(ui, sticks);
    }
}

/// What it takes of timber, sheets, finish and glue.
fn takes(ui: &mut Ui, view: &View<'_>) {
    let taken = TakeOff::of(view.session.design(), &view.derived.model);
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

fn table(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    let rows = &view.derived.cut_list.rows;
    ui.spacing_mut().item_spacing.x = 6.0;
    let numbers = Layout::right_to_left(Align::Center);
    let table = TableBuilder::new(ui)
        .id_salt("cut list")
        .vscroll(false)
        .striped(true)
        .sense(Sense::click())
        .column(Column::exact(40.0))
        .column(Column::remainder().clip(true))
        .column(Column::exact(22.0))
        .column(Column::exact(46.0))
        .column(Column::exact(42.0))
        .column(Column::exact(38.0))
        .column(Column::exact(112.0));
    let table = table.header(20.0, |mut header| {
        for (index, title) in ["Mark", "Part", "", "L", "W", "T", "(rough)"].into_iter().enumerate() {
            header.col(|ui| {
                if index < 2 {
                    words::small(ui, title);
                } else {
                    ui.with_layout(numbers, |ui| words::small(ui, title));
                }
            });
        }
    });
    table.body(|body| {
        body.rows(22.0, rows.len(), |mut row| {
            let Some(of) = rows.get(row.index()) else { return };
            row.set_selected(view.selection.part.is_some_and(|part| of.parts.contains(&part)));
            one(&mut row, of);
            let response = row.response();
            out.mark(format!("cut.{}", of.mark), response.rect);
            let response = response.on_hover_text(
                [of.made_of.as_str(), &of.cuts].into_iter().chain(of.notes.iter().map(String::as_str)).collect::<Vec<_>>().join("\n"),
            );
            if response.clicked() {
                out.ask(Ask::Select(next_of(of, view)));
            }
        });
    });
}

/// Clicking a row again goes on to the next of its parts.
fn next_of(row: &Row, view: &View<'_>) -> Option<casewright_core::model::PartId> {
    let at = view.selection.part.and_then(|part| row.parts.iter().position(|other| *other == part));
    let next = at.map_or(0, |at| (at + 1) % row.parts.len().max(1));
    row.parts.get(next).copied()
}

fn one(row: &mut TableRow<'_, '_>, of: &Row) {
    row.col(|ui| {
        ui.label(RichText::new(&of.mark).font(theme::strong()));
    });
    row.col(|ui| {
        ui.add(egui::Label::new(&of.title).truncate());
    });
    let rough = match (&of.material, of.rough) {
        (Material::Solid(_), Some(rough)) => {
            format!("({} × {}, {})", trimmed(rough.length), trimmed(rough.width), rough.words().trim_end_matches(" mm"))
        }
        (Material::Solid(_), None) => String::new(),
        (Material::Sheet(_), _) => "sheet".to_owned(),
        (Material::Bought(_), _) => "bought".to_owned(),
    };
    let [length, width, thickness] = of.finished.map(trimmed);
    for text in [of.parts.len().to_string(), length, width, thickness] {
        row.col(|ui| {
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| ui.label(text));
        });
    }
    row.col(|ui| {
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| words::small(ui, rough));
    });
}

fn sticks_of_one_section(ui: &mut Ui, sticks: &casewright_core::cutlist::Sticks) {
    let section = format!("{} × {} {}", trimmed(sticks.section[0]), trimmed(sticks.section[1]), sticks.made_of);
    let told = match &sticks.layout {
        Ok(layout) => {
            let proof = if layout.proven() { "" } else { ", perhaps fewer" };
            let left = if layout.unplaced.is_empty() {
                String::new()
            } else {
                format!("; {} longer than a stick", words::counted(layout.unplaced.len(), "piece is", "pieces are"))
            };
            format!("{}{proof}{left}", words::counted(layout.sticks.len(), "stick", "sticks"))
        }
        Err(error) => error.to_string(),
    };
    ui.horizontal(|ui| {
        ui.label(section);
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| words::small(ui, told));
    });
}
