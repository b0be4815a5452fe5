//! Timbers, or ways to make up the panels, side by side: a plot, a table, and what the chosen row rests on.

use casewright_core::Seriousness;
use casewright_core::amounts::Cost;
use casewright_core::compare::{Candidate, MadeUp, Where};
use casewright_core::length::trimmed_to;
use casewright_core::worked::{SIGN, Worked};
use egui::{Align, Id, Layout, RichText, Sense, Ui};
use egui_extras::{Column, TableBuilder};
use egui_plot::{MarkerShape, Plot, Points};

use super::{Out, View, words};
use crate::ask::Ask;
use crate::compared::{Of, Rows};
use crate::theme;

/// What can be compared, with its word.
const CHOICES: [(Of, &str); 5] = [
    (Of::Timber(Where::Whole), "all timber"),
    (Of::Timber(Where::Frame), "carcase"),
    (Of::Timber(Where::Top), "top"),
    (Of::Timber(Where::Shelving), "shelving"),
    (Of::Panels, "panels"),
];

/// Draws it.
pub fn ui(ui: &mut Ui, view: &View<'_>, out: &mut Out) {
    words::group(ui, "Compare");
    let wanted = view.compared.wanted;
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 2.0;
        for (of, word) in CHOICES {
            let chosen = wanted == Some(of);
            let ink = if chosen { theme::CHALK } else { theme::PENCIL_SOFT };
            let choice = ui.selectable_label(chosen, RichText::new(word).color(ink));
            out.mark(format!("compare.{word}"), choice.rect);
            if choice.clicked() {
                out.ask(Ask::Compare((!chosen).then_some(of)));
            }
        }
    });
    let Some(of) = wanted else {
        words::small(ui, "Choose what could be of another timber: movement, mass, hours and money, for this very case.");
        return;
    };
    let Some(rows) = view.compared.rows() else {
        words::small(ui, "Being worked out.");
        return;
    };
    let lines: Vec<Line<'_>> = match (rows, of) {
        (Rows::Timbers(rows), Of::Timber(place)) => rows.iter().map(|row| Line::species(row, place)).collect(),
        (Rows::Panels(rows), _) => rows.iter().map(Line::panels).collect(),
        (Rows::Timbers(_), Of::Panels) => return,
    };
    if lines.is_empty() {
        words::small(ui, "This case has no panels.");
        return;
    }
    side_by_side(ui, view, lines, out);
}

/// A row, whatever it is of.
struct Line<'a> {
    id: String,
    name: &'a str,
    chosen: bool,
    movement: Option<&'a Worked>,
    sag: Option<&'a Worked>,
    mass: Option<&'a Worked>,
    cost: &'a Cost,
    /// What else is to be known before it is taken.
    told: Option<String>,
    /// How thick a panel is and how it keeps in its grooves.
    in_grooves: Vec<(&'static str, &'a Worked)>,
    /// The decisions that take it.
    changes: Vec<(String, String)>,
    /// What of the case would fail so.
    fails: &'a [String],
}

impl<'a> Line<'a> {
    fn species(row: &'a Candidate, of: Where) -> Line<'a> {
        Line {
            id: row.id.clone(),
            name: &row.name,
            chosen: row.chosen,
            movement: row.movement.as_ref(),
            sag: row.sag.as_ref(),
            mass: row.mass.as_ref(),
            cost: &row.cost,
            told: None,
            in_grooves: Vec::new(),
            changes: of.decisions().iter().map(|path| ((*path).to_owned(), row.id.clone())).collect(),
            fails: &row.fails,
        }
    }

    fn panels(row: &'a MadeUp) -> Line<'a> {
        Line {
            id: row.make.words().to_owned(),
            name: row.make.words(),
            chosen: row.chosen,
            movement: row.movement.as_ref(),
            sag: None,
            mass: row.mass.as_ref(),
            cost: &row.cost,
            told: Some(in_grooves(row)),
            in_grooves: [("thickness", &row.thickness), ("left in the groove", &row.held), ("left to grow", &row.room)]
                .into_iter()
                .filter_map(|(word, worked)| Some((word, worked.as_ref()?)))
                .collect(),
            changes: row.changes.clone(),
            fails: &row.fails,
        }
    }

    /// The figure that a column shows, with what it rests on.
    fn worked(&self, column: By) -> Option<&Worked> {
        match column {
            By::Name => None,
            By::Movement => self.movement,
            By::Sag => self.sag,
            By::Mass => self.mass,
            By::Hours => Some(&self.cost.hours),
            By::Cost => self.cost.total.as_ref(),
        }
    }

    fn figure(&self, column: By) -> Option<f64> {
        self.worked(column).map(|worked| worked.value)
    }
}

/// How a panel keeps in its grooves.
fn in_grooves(row: &MadeUp) -> String {
    let mm = |mm| trimmed_to(mm, 1);
    let aside = [&row.held, &row.room].into_iter().flatten().map(Worked::aside).find(|aside| !aside.is_empty()).unwrap_or_default();
    let thick = row.thickness.as_ref().map(|thickness| format!("{} mm thick", mm(thickness.value)));
    let kept = match (&row.held, &row.room) {
        (_, Some(room)) if room.value < 0.0 => Some(format!("bursts its frame when wettest, by {} mm{aside}", mm(-room.value))),
        (Some(held), Some(room)) => {
            Some(format!("driest and pushed over {} mm stay in the groove, wettest {} mm are left{aside}", mm(held.value), mm(room.value)))
        }
        _ => None,
    };
    [Some(row.name.clone()), thick, kept].into_iter().flatten().collect::<Vec<_>>().join("; ")
}

/// A column, and what rows are sorted by.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum By {
    Name,
    Movement,
    Sag,
    Mass,
    Hours,
    Cost,
}

impl By {
    const ALL: [By; 6] = [By::Name, By::Movement, By::Sag, By::Mass, By::Hours, By::Cost];

    fn head(self, currency: &str) -> String {
        match self {
            By::Name => "Made of".to_owned(),
            By::Movement => "moves".to_owned(),
            By::Sag => "sags".to_owned(),
            By::Mass => "kg".to_owned(),
            By::Hours => "h".to_owned(),
            By::Cost => currency.to_owned(),
        }
    }

    fn digits(self) -> usize {
        match self {
            By::Movement | By::Sag | By::Hours => 1,
            By::Name | By::Mass | By::Cost => 0,
        }
    }
}

fn side_by_side(ui: &mut Ui, view: &View<'_>, mut lines: Vec<Line<'_>>, out: &mut Out) {
    let (sorted, picked) = (Id::new("compare sorted by"), Id::new("compare picked"));
    let by = ui.data(|data| data.get_temp::<By>(sorted)).unwrap_or(By::Movement);
    lines.sort_by(|a, b| match by {
        By::Name => a.name.cmp(b.name),
        // What is not known comes last.
        by => a.figure(by).unwrap_or(f64::INFINITY).total_cmp(&b.figure(by).unwrap_or(f64::INFINITY)),
    });
    let now = ui.data(|data| data.get_temp::<String>(picked)).filter(|id| lines.iter().any(|line| line.id == *id));
    let plotted = plot(ui, &lines, now.as_deref(), &view.session.design().money.currency);
    let mut pick = plotted;
    let currency = &view.session.design().money.currency;
    if let Some(by) = table(ui, &lines, (by, currency), now.as_deref(), &mut pick, out) {
        ui.data_mut(|data| data.insert_temp(sorted, by));
    }
    if let Some(id) = pick {
        ui.data_mut(|data| data.insert_temp(picked, id));
    }
    words::small(
        ui,
        format!(
            "Moves: the widest part, from driest to wettest; sags: the worst under its load, after the years, mm. A filled square: the case would fail so. {SIGN}."
        ),
    );
    match now.and_then(|id| lines.iter().find(|line| line.id == id)) {
        Some(line) => card(ui, line, out),
        None => {
            words::small(ui, "Click a row to see what its figures rest on, and to take it.");
        }
    }
}

/// Movement over money, or over mass as long as hardly anything has a price; the row that was clicked.
fn plot(ui: &mut Ui, lines: &[Line<'_>], picked: Option<&str>, currency: &str) -> Option<String> {
    let priced = lines.iter().filter(|line| line.cost.total.is_some()).count();
    let (across, name) = if priced >= 3 { (By::Cost, format!("cost, {currency}")) } else { (By::Mass, "mass, kg".to_owned()) };
    let plot = Plot::new("compare")
        .height(170.0)
        .allow_drag(false)
        .allow_zoom(false)
        .allow_scroll(false)
        .allow_boxed_zoom(false)
        .show_crosshair(false)
        .x_axis_label(RichText::new(name).font(theme::small()))
        .y_axis_label(RichText::new("moves, mm").font(theme::small()))
        .include_y(0.0);
    let shown = plot.show(ui, |plot| {
        for line in lines {
            let (Some(x), Some(y)) = (line.figure(across), line.figure(By::Movement)) else { continue };
            let lit = line.chosen || picked == Some(line.id.as_str());
            let points = Points::new(line.name, [x, y])
                .id(Id::new(("compare", line.id.as_str())))
                .shape(if line.chosen { MarkerShape::Square } else { MarkerShape::Circle })
                .filled(lit)
                .color(if lit { theme::CHALK } else { theme::PENCIL_SOFT })
                .radius(if lit { 5.0 } else { 3.5 });
            plot.points(points);
        }
    });
    let hovered = shown.hovered_plot_item.filter(|_| shown.response.clicked())?;
    lines.iter().find(|line| Id::new(("compare", line.id.as_str())) == hovered).map(|line| line.id.clone())
}

/// The table; the column whose head was clicked.
fn table(
    ui: &mut Ui,
    lines: &[Line<'_>],
    (by, currency): (By, &str),
    picked: Option<&str>,
    pick: &mut Option<String>,
    out: &mut Out,
) -> Option<By> {
    let mut sort = None;
    ui.spacing_mut().item_spacing.x = 6.0;
    let numbers = Layout::right_to_left(Align::Center);
    let table = TableBuilder::new(ui)
        .id_salt("compare")
        .vscroll(lines.len() > 12)
        .max_scroll_height(260.0)
        .striped(true)
        .sense(Sense::click())
        .column(Column::remainder().clip(true))
        .columns(Column::exact(40.0), 5);
    let table = table.header(20.0, |mut header| {
        for column in By::ALL {
            header.col(|ui| {
                let text = RichText::new(column.head(currency)).font(theme::small());
                let text = text.color(if column == by { theme::CHALK } else { theme::PENCIL_SOFT });
                let layout = if column == By::Name { Layout::left_to_right(Align::Center) } else { numbers };
                let head = ui.with_layout(layout, |ui| ui.add(egui::Button::new(text).frame(false))).inner;
                out.mark(format!("compare.by.{column:?}"), head.rect);
                if head.on_hover_text("Sort by it").clicked() {
                    sort = Some(column);
                }
            });
        }
    });
    table.body(|body| {
        body.rows(22.0, lines.len(), |mut row| {
            let Some(line) = lines.get(row.index()) else { return };
            row.set_selected(picked == Some(line.id.as_str()));
            row.col(|ui| {
                let font = if line.chosen { theme::strong() } else { theme::body() };
                if !line.fails.is_empty() {
                    words::sign_here(ui, Seriousness::WillFail);
                }
                ui.add(egui::Label::new(RichText::new(words::sentence(line.name)).font(font)).truncate());
            });
            for column in &By::ALL[1..] {
                row.col(|ui| {
                    let told = |worked: &Worked| format!("{}{}", trimmed_to(worked.value, column.digits()), worked.sign());
                    let text = line.worked(*column).map_or_else(|| "–".to_owned(), told);
                    ui.with_layout(numbers, |ui| ui.label(text));
                });
            }
            let response = row.response();
            out.mark(format!("compare.row.{}", line.id), response.rect);
            if response.clicked() {
                *pick = Some(line.id.clone());
            }
        });
    });
    sort
}

/// What a row rests on, and a button to take it.
fn card(ui: &mut Ui, line: &Line<'_>, out: &mut Out) {
    words::rule(ui);
    words::strong(ui, words::sentence(line.name));
    if let Some(told) = &line.told {
        words::small(ui, words::sentence(told));
    }
    if !line.fails.is_empty() {
        ui.horizontal(|ui| {
            words::sign_here(ui, Seriousness::WillFail);
            words::small(ui, "The case would fail so:");
        });
        for fails in line.fails {
            words::small(ui, fails);
        }
    }
    if line.chosen {
        words::small(ui, "The design has it.");
    } else if line.changes.is_empty() {
        words::small(ui, "To have it in the case, write it down as a sheet of your own: veneer that is pressed here is in no table.");
    } else {
        let take = words::button(ui, "Take it");
        out.mark("compare.take", take.rect);
        if take.clicked() {
            out.ask(Ask::SetMany { changes: line.changes.clone(), gesture: None });
        }
    }
    let figures = [
        ("moves", line.movement),
        ("sags", line.sag),
        ("mass", line.mass),
        ("hours", Some(&line.cost.hours)),
        ("cost", line.cost.total.as_ref()),
    ];
    let figures = figures.into_iter().filter_map(|(word, worked)| Some((word, worked?)));
    for (word, worked) in figures.chain(line.in_grooves.iter().copied()) {
        words::why(ui, &format!("{}: {}", words::sentence(word), worked.text()), worked);
    }
    for path in &line.cost.missing {
        let price = words::link(ui, format!("Give a price: {path}"));
        out.mark(format!("compare.price.{path}"), price.rect);
        if price.clicked() {
            super::field::write_in(ui, path);
            out.ask(Ask::set(path.clone(), "0"));
        }
    }
}
