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
    FaceSide,
    FaceEdge,
    Grain,
    Together,
}

/// Which columns are shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Shown {
    /// Finished and rough sizes.
    #[default]
    Sizes,
    /// Faces, grain, and what is made together.
    Faces,
}

impl Shown {
    const ALL: [Shown; 2] = [Shown::Sizes, Shown::Faces];

    fn word(self) -> &'static str {
        match self {
            Shown::Sizes => "Sizes",
            Shown::Faces => "Faces, grain, together",
        }
    }

    /// What rows can be sorted by.
    fn columns(self) -> &'static [By] {
        match self {
            Shown::Sizes => &[By::Mark, By::Part, By::Count, By::Length, By::Width, By::Thickness],
            Shown::Faces => &[By::Mark, By::Part, By::Count, By::FaceSide, By::FaceEdge, By::Grain, By::Together],
        }
    }

    /// Widths of all columns behind mark and part.
    fn widths(self) -> &'static [f32] {
        match self {
            Shown::Sizes => &[24.0, 46.0, 42.0, 38.0, 124.0],
            Shown::Faces => &[24.0, 72.0, 72.0, 62.0, 84.0],
        }
    }
}

impl By {
    fn head(self) -> &'static str {
        match self {
            By::Mark => "Mark",
            By::Part => "Part",
            By::Count => "No.",
            By::Length => "L",
            By::Width => "W",
            By::Thickness => "T",
            By::FaceSide => "Face side",
            By::FaceEdge => "Face edge",
            By::Grain => "Grain",
            By::Together => "Together",
        }
    }

    /// Words stand at the left of their column, counts and sizes at the right.
    fn layout(self) -> Layout {
        match self {
            By::Mark | By::Part | By::FaceSide | By::FaceEdge | By::Grain | By::Together => Layout::left_to_right(Align::Center),
            By::Count | By::Length | By::Width | By::Thickness => Layout::right_to_left(Align::Center),
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
            By::FaceSide => rows.sort_by(|a, b| a.face_side.cmp(&b.face_side)),
            By::FaceEdge => rows.sort_by(|a, b| a.face_edge.cmp(&b.face_edge)),
            By::Grain => rows.sort_by(|a, b| a.grain.cmp(b.grain)),
            // What is made together first.
            By::Together => rows.sort_by_cached_key(|row| {
                let told = together(row);
                (told.is_empty(), told)
            }),
        }
    }
}

/// What rows are shown, and how.
#[derive(Clone, Debug, Default, PartialEq)]
struct Sought {
    text: String,
    by: By,
    shown: Shown,
}

/// What of it is made together, and with what: "4 side by side", "stop of R2, R3".
fn together(row: &Row) -> String {
    let stop = if row.at_one_stop.is_empty() { String::new() } else { format!("stop of {}", row.at_one_stop) };
    [row.together.clone(), stop].into_iter().filter(|words| !words.is_empty()).collect::<Vec<_>>().join("; ")
}

/// All that is told of a row besides its sizes, line by line.
fn told(row: &Row) -> Vec<String> {
    let line = |name: &str, words: &str| if words.is_empty() { String::new() } else { format!("{name}: {words}") };
    let lines = [
        row.made_of.clone(),
        line("Face side", &row.face_side),
        line("Face edge", &row.face_edge),
        line("Grain", row.grain),
        line("Together", &together(row)),
        row.cuts.clone(),
    ];
    lines.into_iter().chain(row.notes.iter().cloned()).filter(|line| !line.is_empty()).collect()
}

/// Whether every word that is sought stands somewhere in the row.
fn answers(row: &Row, text: &str) -> bool {
    let of = match &row.material {
        Material::Solid(_) => "solid",
        Material::Sheet(_) => "sheet",
        Material::Bought(_) => "bought",
    };
    let together = together(row);
    let all = [
        row.mark.as_str(),
        &row.title,
        &row.cuts,
        row.kind.words().0,
        of,
        &row.made_of,
        row.grain,
        &row.face_side,
        &row.face_edge,
        &together,
    ]
    .into_iter();
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
    ui.horizontal(|ui| {
        for shown in Shown::ALL {
            let ink = if sought.shown == shown { theme::CHALK } else { theme::PENCIL_SOFT };
            let choice = ui.selectable_label(sought.shown == shown, RichText::new(shown.word()).font(theme::small()).color(ink));
            out.mark(format!("cut.shown.{}", shown.word()), choice.rect);
            if choice.clicked() {
                sought.shown = shown;
            }
        }
    });
    let mut shown: Vec<&Row> = rows.iter().filter(|row| answers(row, &sought.text)).collect();
    sought.by.sort(&mut shown);
    if shown.is_empty() {
        words::small(ui, format!("Nothing in the list answers to “{}”.", sought.text.trim()));
    } else {
        ui.add_space(4.0);
        table(ui, view, &shown, (&mut sought.by, sought.shown), out);
        chosen(ui, view, rows);
    }
    ui.data_mut(|data| data.insert_temp(id, sought));
}

/// What is told of the part that is chosen, below the table.
fn chosen(ui: &mut Ui, view: &View<'_>, rows: &[Row]) {
    let Some(row) = view.selection.part.and_then(|part| rows.iter().find(|row| row.parts.contains(&part))) else { return };
    words::strong(ui, format!("{}  {}", row.mark, row.title));
    for line in told(row) {
        words::small(ui, line);
    }
}

fn table(ui: &mut Ui, view: &View<'_>, rows: &[&Row], (by, shown): (&mut By, Shown), out: &mut Out) {
    ui.spacing_mut().item_spacing.x = 6.0;
    let heights: Vec<f32> = rows.iter().map(|row| height(ui, row, shown)).collect();
    let mut table = TableBuilder::new(ui)
        .id_salt(("cut list", shown.word()))
        .vscroll(false)
        .striped(true)
        .sense(Sense::click())
        .column(Column::exact(40.0))
        .column(Column::remainder().clip(true));
    for width in shown.widths() {
        table = table.column(Column::exact(*width).clip(true));
    }
    let table = table.header(20.0, |mut header| {
        for column in shown.columns().iter().copied() {
            header.col(|ui| {
                let layout = column.layout();
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
        if shown == Shown::Sizes {
            header.col(|ui| {
                ui.with_layout(Layout::right_to_left(Align::Center), |ui| words::small(ui, "(rough)"));
            });
        }
    });
    table.body(|body| {
        body.heterogeneous_rows(heights.into_iter(), |mut row| {
            let Some(of) = rows.get(row.index()) else { return };
            row.set_selected(view.selection.part.is_some_and(|part| of.parts.contains(&part)));
            row.set_hovered(view.pointed.is_some_and(|part| of.parts.contains(&part)));
            one(&mut row, of, shown);
            let response = row.response();
            out.mark(format!("cut.{}", of.mark), response.rect);
            if response.hovered() {
                out.pointed = of.parts.first().copied();
            }
            let response = response.on_hover_text(told(of).join("\n"));
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

fn one(row: &mut TableRow<'_, '_>, of: &Row, shown: Shown) {
    row.col(|ui| {
        ui.label(RichText::new(&of.mark).font(theme::strong()));
    });
    row.col(|ui| {
        ui.add(egui::Label::new(&of.title).truncate());
    });
    match shown {
        Shown::Sizes => sizes(row, of),
        Shown::Faces => {
            row.col(|ui| {
                ui.with_layout(By::Count.layout(), |ui| ui.label(of.parts.len().to_string()));
            });
            let together = together(of);
            for text in [of.face_side.as_str(), &of.face_edge, of.grain, &together] {
                row.col(|ui| {
                    ui.add(egui::Label::new(RichText::new(text).font(theme::small())).wrap());
                });
            }
        }
    }
}

/// How high a row is: that of a line, or of the words of its tallest column as they wrap.
fn height(ui: &Ui, row: &Row, shown: Shown) -> f32 {
    let lines = |(text, width): (&str, f32)| {
        let galley = ui.painter().layout(text.to_owned(), theme::small(), theme::PENCIL_SOFT, width);
        galley.size().y + 4.0
    };
    match shown {
        Shown::Sizes => LINE,
        Shown::Faces => {
            let together = together(row);
            let words = [row.face_side.as_str(), &row.face_edge, row.grain, &together];
            words.into_iter().zip(shown.widths().iter().skip(1).copied()).map(lines).fold(LINE, f32::max)
        }
    }
}

/// How high a line of the table is.
const LINE: f32 = 22.0;

fn sizes(row: &mut TableRow<'_, '_>, of: &Row) {
    let rough = match (&of.material, of.rough) {
        (Material::Solid(_), Some(rough)) => {
            let blanks = if of.blanks() == of.parts.len() { String::new() } else { format!("{} of ", of.blanks()) };
            format!("({blanks}{} × {}, {})", trimmed(rough.length), trimmed(rough.width), rough.words().trim_end_matches(" mm"))
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
