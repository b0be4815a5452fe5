//! The cut list: sought through, sorted by any column, each row lit up with its parts.

use casewright_core::cutlist::Row;
use casewright_core::length::trimmed;
use casewright_core::model::{Material, PartId};
use egui::{Align, Id, Layout, RichText, Sense, TextEdit, Ui};
use egui_extras::{Column, TableBuilder, TableRow};

use super::super::{Out, View, words};
use crate::ask::Ask;
use crate::theme;

/// A column, and what rows are sorted by.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum By {
    #[default]
    Mark,
    Part,
    Count,
    Length,
    Width,
    Thickness,
}

impl By {
    const ALL: [By; 6] = [By::Mark, By::Part, By::Count, By::Length, By::Width, By::Thickness];

    fn head(self) -> &'static str {
        match self {
            By::Mark => "Mark",
            By::Part => "Part",
            By::Count => "No.",
            By::Length => "L",
            By::Width => "W",
            By::Thickness => "T",
        }
    }

    /// Sorts rows: words from a to z, counts and sizes from the greatest down; the list's own order is that of its marks.
    fn sort(self, rows: &mut [&Row]) {
        match self {
            By::Mark => {}
            By::Part => rows.sort_by(|a, b| a.title.cmp(&b.title)),
            By::Count => rows.sort_by_key(|row| std::cmp::Reverse(row.parts.len())),
            By::Length => rows.sort_by(|a, b| b.finished[0].total_cmp(&a.finished[0])),
            By::Width => rows.sort_by(|a, b| b.finished[1].total_cmp(&a.finished[1])),
            By::Thickness => rows.sort_by(|a, b| b.finished[2].total_cmp(&a.finished[2])),
        }
    }
}

/// What rows are shown, and how.
#[derive(Clone, Debug, Default, PartialEq)]
struct Sought {
    text: String,
    by: By,
}

/// Whether every word that is sought stands somewhere in the row.
fn answers(row: &Row, text: &str) -> bool {
    let of = match &row.material {
        Material::Solid(_) => "solid",
        Material::Sheet(_) => "sheet",
        Material::Bought(_) => "bought",
    };
    let all = [row.mark.as_str(), &row.title, &row.made_of, &row.cuts, row.kind.words().0, of].into_iter();
    let all = all.chain(row.notes.iter().map(String::as_str)).map(str::to_lowercase).collect::<Vec<_>>().join("\n");
    text.split_whitespace().all(|word| all.contains(&word.to_lowercase()))
}

/// Draws it.
pub fn ui(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
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
    let id = Id::new("cut list sought");
    let mut sought = ui.data(|data| data.get_temp::<Sought>(id)).unwrap_or_default();
    let find = TextEdit::singleline(&mut sought.text).hint_text("Find a mark, part, timber or joint").desired_width(f32::INFINITY);
    let find = ui.add(find);
    out.mark("cut.find", find.rect);
    let mut shown: Vec<&Row> = rows.iter().filter(|row| answers(row, &sought.text)).collect();
    sought.by.sort(&mut shown);
    if shown.is_empty() {
        words::small(ui, format!("Nothing in the list answers to “{}”.", sought.text.trim()));
    } else {
        ui.add_space(4.0);
        table(ui, view, &shown, &mut sought.by, out);
    }
    ui.data_mut(|data| data.insert_temp(id, sought));
}

fn table(ui: &mut Ui, view: &View<'_>, rows: &[&Row], by: &mut By, out: &mut Out) {
    ui.spacing_mut().item_spacing.x = 6.0;
    let table = TableBuilder::new(ui)
        .id_salt("cut list")
        .vscroll(false)
        .striped(true)
        .sense(Sense::click())
        .column(Column::exact(40.0))
        .column(Column::remainder().clip(true))
        .column(Column::exact(24.0))
        .column(Column::exact(46.0))
        .column(Column::exact(42.0))
        .column(Column::exact(38.0))
        .column(Column::exact(112.0));
    let table = table.header(20.0, |mut header| {
        for column in By::ALL {
            header.col(|ui| {
                let layout = if matches!(column, By::Mark | By::Part) {
                    Layout::left_to_right(Align::Center)
                } else {
                    Layout::right_to_left(Align::Center)
                };
                ui.with_layout(layout, |ui| {
                    let ink = if *by == column { theme::CHALK } else { theme::PENCIL_SOFT };
                    let head = RichText::new(column.head()).font(theme::small()).color(ink);
                    let head = ui.add(egui::Label::new(head).sense(Sense::click())).on_hover_cursor(egui::CursorIcon::PointingHand);
                    out.mark(format!("cut.by.{}", column.head()), head.rect);
                    if head.clicked() {
                        *by = column;
                    }
                });
            });
        }
        header.col(|ui| {
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| words::small(ui, "(rough)"));
        });
    });
    table.body(|body| {
        body.rows(22.0, rows.len(), |mut row| {
            let Some(of) = rows.get(row.index()) else { return };
            row.set_selected(view.selection.part.is_some_and(|part| of.parts.contains(&part)));
            row.set_hovered(view.pointed.is_some_and(|part| of.parts.contains(&part)));
            one(&mut row, of);
            let response = row.response();
            out.mark(format!("cut.{}", of.mark), response.rect);
            if response.hovered() {
                out.pointed = of.parts.first().copied();
            }
            let told = [of.made_of.as_str(), &of.cuts].into_iter().chain(of.notes.iter().map(String::as_str));
            let response = response.on_hover_text(told.collect::<Vec<_>>().join("\n"));
            if response.clicked() {
                out.ask(Ask::Select(next_of(of, view)));
            }
        });
    });
}

/// Clicking a row again goes on to the next of its parts.
fn next_of(row: &Row, view: &View<'_>) -> Option<PartId> {
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
