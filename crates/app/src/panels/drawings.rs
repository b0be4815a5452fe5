//! The stage "Drawings": which papers and files are exported, on what, and the papers as they would be printed.

use casewright_core::length::Units;
use casewright_sheets::drawing::{Angle, Decimal, Page, Sheet};
use casewright_sheets::{How, LabelSheet, Piece};
use egui::{DragValue, Grid, ProgressBar, RichText, Sense, Stroke, StrokeKind, TextEdit, Ui, vec2};

use super::{Out, View, close, page, words};
use crate::ask::Ask;
use crate::exported::{Come, ExportAsk, Held, Settle};
use crate::theme;

/// Of the files that would be replaced, so many are named.
const NAMED: usize = 6;

/// Draws it.
pub fn ui(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    words::heading(ui, "Drawings");
    words::small(ui, "Click a name to see it. What is ticked is exported; ticked papers are printed.");
    papers(ui, view, out);
    words::rule(ui);
    files(ui, view, out);
    words::rule(ui);
    on(ui, view, out);
    words::rule(ui);
    into(ui, view, out);
    match (&view.export.held, view.export.come()) {
        (_, Some(come)) => under_way(ui, come, out),
        (Some(held), None) => settle(ui, held, out),
        (None, None) => begin(ui, view, out),
    }
    words::rule(ui);
    looked_at(ui, view, out);
}

fn ask(out: &mut Out, ask: ExportAsk) {
    out.ask(Ask::Export(ask));
}

/// The papers in two columns, read down the first; the one that is shown stands out.
fn papers(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    let all: Vec<Piece> = Piece::papers().collect();
    let rows = all.len().div_ceil(2);
    Grid::new("papers").num_columns(2).spacing(vec2(18.0, 2.0)).show(ui, |ui| {
        for row in 0..rows {
            for piece in [row, row + rows].into_iter().filter_map(|at| all.get(at)) {
                ui.horizontal(|ui| {
                    tick(ui, view, *piece, "", out);
                    let shown = view.export.looked_at == *piece;
                    let (ink, font) = if shown { (theme::CHALK, theme::strong()) } else { (theme::PENCIL, theme::body()) };
                    let name = ui.selectable_label(shown, RichText::new(words::sentence(piece.word())).color(ink).font(font));
                    out.mark(format!("look_at.{}", piece.word()), name.rect);
                    if name.on_hover_text(words::sentence(piece.about())).clicked() && !shown {
                        ask(out, ExportAsk::LookAt(*piece));
                    }
                });
            }
            ui.end_row();
        }
    });
    let mut bound = view.export.bound;
    let all_in_one = ui.checkbox(&mut bound, "Besides, all ticked papers in one: packet.pdf");
    out.mark("export.bound", all_in_one.rect);
    if all_in_one.changed() {
        ask(out, ExportAsk::Bound(bound));
    }
}

fn files(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    words::small(ui, "Files for other programs");
    ui.horizontal_wrapped(|ui| {
        for piece in Piece::ALL.into_iter().filter(|piece| !piece.is_paper()) {
            tick(ui, view, piece, piece.word(), out);
        }
    });
}

fn tick(ui: &mut Ui, view: &View<'_>, piece: Piece, text: &str, out: &mut Out) {
    let mut wanted = view.export.wanted.contains(&piece);
    let tick = ui.checkbox(&mut wanted, text);
    out.mark(format!("export.{}", piece.word()), tick.rect);
    if tick.changed() {
        ask(out, ExportAsk::Want(piece, wanted));
    }
    tick.on_hover_text(words::sentence(piece.about()));
}

/// One of a few, side by side, and what is said with it.
fn one_of<T: Copy + PartialEq>(ui: &mut Ui, about: &str, choices: &[(T, &str)], chosen: T, aside: &str, out: &mut Out) -> Option<T> {
    let mut picked = None;
    ui.horizontal_wrapped(|ui| {
        words::small(ui, about);
        for (choice, word) in choices {
            let label = ui.selectable_label(*choice == chosen, RichText::new(*word).font(theme::small()));
            out.mark(format!("made.{about}.{word}"), label.rect);
            if label.clicked() && *choice != chosen {
                picked = Some(*choice);
            }
        }
        words::small(ui, aside);
    });
    picked
}

/// On what papers are drawn, and how.
fn on(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    let mut how = view.export.how.clone();
    let sheets = Sheet::ALL.map(|sheet| (sheet, sheet.name()));
    let tiles = if how.drafting.sheet == Sheet::Letter { "rod, templates over letter" } else { "rod, templates over A4" };
    if let Some(sheet) = one_of(ui, "Drawn on", &sheets, how.drafting.sheet, tiles, out) {
        how.drafting.sheet = sheet;
    }
    if words::disclosure(ui, "Views, figures, labels, title block", false) {
        let angles = [(Angle::First, "first angle"), (Angle::Third, "third angle")];
        if let Some(angle) = one_of(ui, "Views in", &angles, how.drafting.angle, "", out) {
            how.drafting.angle = angle;
        }
        let units = [(Units::Millimetres, "mm"), (Units::Inches, "inches")];
        if let Some(units) = one_of(ui, "Figures in", &units, how.drafting.units, "", out) {
            how.drafting.units = units;
        }
        let decimals = [(Decimal::Point, "12.75"), (Decimal::Comma, "12,75")];
        if let Some(decimal) = one_of(ui, "written", &decimals, how.drafting.decimal, "", out) {
            how.drafting.decimal = decimal;
        }
        let labels = [(LabelSheet::A4By24, "24 on A4"), (LabelSheet::A4By21, "21 on A4"), (LabelSheet::LetterBy30, "30 on letter")];
        if let Some(labels) = one_of(ui, "Labels", &labels, how.labels, "", out) {
            how.labels = labels;
        }
        block(ui, &mut how, out);
    }
    if how != view.export.how {
        ask(out, ExportAsk::So(Box::new(how)));
    }
}

/// How many labels are used up, and what the title block says; what is left empty is written by hand.
fn block(ui: &mut Ui, how: &mut How, out: &mut Out) {
    ui.horizontal(|ui| {
        words::small(ui, "of the first sheet are used up");
        let form = how.labels.form();
        let most = u32::try_from(form.across * form.down).unwrap_or(1).saturating_sub(1);
        let used = ui.add(DragValue::new(&mut how.used).range(0..=most).speed(0.1));
        out.mark("made.used", used.rect);
    });
    let block = &mut how.drafting.block;
    let fields = [
        ("Owner", &mut block.owner),
        ("Number", &mut block.number),
        ("Date", &mut block.date),
        ("Drawn by", &mut block.creator),
        ("Approved by", &mut block.approved),
    ];
    Grid::new("title block").num_columns(2).show(ui, |ui| {
        for (name, text) in fields {
            words::small(ui, name);
            let edit = ui.add(TextEdit::singleline(text).desired_width(220.0).font(theme::small()).hint_text("to be written by hand"));
            out.mark(format!("made.{name}"), edit.rect);
            ui.end_row();
        }
    });
}

/// The folder.
fn into(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    ui.horizontal(|ui| {
        words::small(ui, "Into");
        let mut folder = view.export.folder(view.session);
        let edit = ui.add(TextEdit::singleline(&mut folder).desired_width(ui.available_width() - 112.0).font(theme::small()));
        out.mark("export_folder", edit.rect);
        if edit.changed() {
            ask(out, ExportAsk::Into(folder));
        }
        let choose = words::link(ui, "Choose a folder…");
        out.mark("choose_folder", choose.rect);
        if choose.clicked() {
            out.ask(Ask::ChooseFolder);
        }
    });
}

/// Export and print.
fn begin(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    let pieces = view.export.pieces();
    let papers: Vec<Piece> = pieces.iter().copied().filter(|piece| piece.is_paper()).collect();
    ui.horizontal(|ui| {
        let export = ui.add_enabled_ui(!pieces.is_empty(), |ui| words::button(ui, "Export")).inner;
        out.mark("export", export.rect);
        if export.clicked() {
            ask(out, ExportAsk::Begin);
        }
        let print = ui.add_enabled_ui(!papers.is_empty(), |ui| words::button(ui, "Print")).inner;
        out.mark("print", print.rect);
        let opens = "Opens the ticked papers, all in one, in the program that the system has for PDF. Print at 100 %: rod and templates are in full size.";
        if print.on_hover_text(opens).clicked() {
            ask(out, ExportAsk::Print(papers.clone()));
        }
        let count = words::counted(papers.len(), "paper", "papers");
        let kinds = words::counted(pieces.len() - papers.len(), "kind of file", "kinds of files");
        words::small(ui, if pieces.len() > papers.len() { format!("{count}, {kinds}") } else { count });
    });
}

/// How far it is, and the way to break it off.
fn under_way(ui: &mut Ui, come: Come, out: &mut Out) {
    let share = come.done as f32 / come.of.max(1) as f32;
    ui.horizontal(|ui| {
        let text = RichText::new(words::sentence(come.doing.word())).font(theme::small());
        let cancel_room = 96.0;
        ui.add(ProgressBar::new(share).text(text).desired_width(ui.available_width() - cancel_room));
        let cancel = words::button(ui, "Cancel");
        out.mark("export_cancel", cancel.rect);
        if cancel.clicked() {
            ask(out, ExportAsk::Cancel);
        }
    });
}

/// Files of these names are there already.
fn settle(ui: &mut Ui, held: &Held, out: &mut Out) {
    words::strong(ui, words::counted(held.there.len(), "other file of these names is there", "other files of these names are there"));
    let named = held.there.iter().take(NAMED).map(String::as_str).collect::<Vec<_>>().join(", ");
    let more = if held.there.len() > NAMED { " …" } else { "" };
    words::small(ui, format!("{named}{more}"));
    let aside = held.elsewhere.file_name().unwrap_or_default().to_string_lossy();
    ui.horizontal_wrapped(|ui| {
        for (mark, text, settle) in [
            ("export_replace", "Replace them".to_owned(), Settle::Replace),
            ("export_elsewhere", format!("Write all into “{aside}”"), Settle::Elsewhere),
            ("export_leave", "Don’t write".to_owned(), Settle::Leave),
        ] {
            let button = words::button(ui, text);
            out.mark(mark, button.rect);
            if button.clicked() {
                ask(out, ExportAsk::Settle(settle));
            }
        }
    });
}

/// The paper that is shown: what it is, and its sheets.
fn looked_at(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    let piece = view.export.looked_at;
    ui.horizontal(|ui| {
        words::strong(ui, words::sentence(piece.word()));
        if let Some(Ok(pages)) = view.drawn {
            words::small(ui, words::counted(pages.len(), "sheet", "sheets"));
            if !pages.is_empty() && view.export.come().is_none() {
                let print = words::link(ui, "Print these alone");
                out.mark("print_these", print.rect);
                if print.clicked() {
                    ask(out, ExportAsk::Print(vec![piece]));
                }
            }
        }
    });
    words::small(ui, words::sentence(piece.about()));
    match view.drawn {
        None => {
            words::small(ui, "Being drawn");
        }
        Some(Err(why)) => {
            ui.label(why);
        }
        Some(Ok([])) => {
            words::small(ui, none(piece));
        }
        Some(Ok(pages)) => sheets(ui, pages, out),
    }
}

/// Why there is none of it.
fn none(piece: Piece) -> &'static str {
    match piece {
        Piece::BoardPlans => {
            "No boards are on hand: say what lies in the rack under Boards, and what is cut from which of them stands here."
        }
        Piece::ShelfPlan => "The case has no shelves, or there is nothing to stand on them.",
        Piece::Templates => "Nothing in this case is cut to a line.",
        Piece::SetUpCards => "Nothing is left to be cut.",
        Piece::OrderOfWork
        | Piece::CutList
        | Piece::Labels
        | Piece::Drawings
        | Piece::PartSheets
        | Piece::Rod
        | Piece::Dxf
        | Piece::Svg
        | Piece::Gltf
        | Piece::Stl
        | Piece::ThreeMf
        | Piece::Step
        | Piece::Tables => "The case has none.",
    }
}

/// Sheets that lie on their side one below the other, those that stand two by two.
fn sheets(ui: &mut Ui, pages: &[Page], out: &mut Out) {
    let wide = ui.available_width();
    let mut at = 0;
    while let Some(page) = pages.get(at) {
        let in_row = if page.size.y > page.size.x { 2 } else { 1 };
        let gap = ui.spacing().item_spacing.x;
        let each = (wide - gap * (in_row - 1) as f32) / in_row as f32;
        let row: Vec<&Page> = pages.iter().skip(at).take(in_row).take_while(|other| other.size == page.size).collect();
        ui.horizontal(|ui| {
            for page in &row {
                sheet(ui, page, each, out);
            }
        });
        at += row.len().max(1);
        ui.add_space(6.0);
    }
}

/// A sheet so wide; a click lays it over the case, to be looked at closely.
fn sheet(ui: &mut Ui, page: &Page, wide: f32, out: &mut Out) {
    let shape = (page.size.y / page.size.x.max(1.0)) as f32;
    let (rect, response) = ui.allocate_exact_size(vec2(wide, wide * shape), Sense::click());
    if ui.is_rect_visible(rect) {
        page::paint(&ui.painter_at(rect), rect, page);
        if close::is_looked_at(ui, &page.name) {
            ui.painter_at(rect).rect_stroke(rect, 2.0, Stroke::new(1.8, theme::CHALK), StrokeKind::Inside);
        }
    }
    out.mark(format!("sheet.{}", page.name), response.rect);
    if response.on_hover_text(format!("{}. Click to look closely", page.title)).clicked() {
        close::look(ui, &page.name);
    }
}
