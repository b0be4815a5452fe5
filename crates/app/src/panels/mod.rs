//! The panels round the case, a file a panel.
//!
//! Each is `ui(ui, view, out)` on plain data: what is shown comes in by [`View`], what is asked for goes out by [`Out`], so that they
//! can be driven without a window.

mod bench;
mod boards;
mod brief;
mod case;
mod close;
mod compare;
mod drawings;
mod field;
mod findings;
mod kept;
mod line;
mod list;
mod loads;
mod made;
mod page;
mod proposed;
mod question;
mod rod;
mod season;
mod selected;
mod stage;
mod strip;
mod window;
pub mod words;

use bevy::prelude::Resource;
use casewright_core::boards::{Buying, Cutting};
use casewright_core::contents::Change;
use casewright_core::design::decisions::{self, Decision};
use casewright_core::model::PartId;
use casewright_sheets::Page;
use egui::Rect;

use crate::ask::{Ask, Sag, Season, Selection, TakeApart};
use crate::compared::Compared;
use crate::derived::Derived;
use crate::exported::Export;
use crate::files::Question;
use crate::keeping::{Boxes, Kept};
use crate::laid::{Leaf, Sought};
use crate::proposed::Proposed;
use crate::session::Session;

pub use window::{DrawAgain, PanelsPlugin, Shown};

/// A stage of the maker's week.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Stage {
    /// What it must hold.
    Brief,
    /// Sizes and construction.
    #[default]
    Case,
    /// How parts are joined.
    Joints,
    /// Species, sheets, moisture.
    Timber,
    /// What the checks found.
    DryFit,
    /// Cut list, what is on hand, board plans.
    Boards,
    /// Papers.
    Drawings,
    /// The order of work.
    Bench,
}

impl Stage {
    /// All of them, in the order of the week.
    pub const ALL: [Stage; 8] =
        [Stage::Brief, Stage::Case, Stage::Joints, Stage::Timber, Stage::DryFit, Stage::Boards, Stage::Drawings, Stage::Bench];

    /// Its name.
    pub fn word(self) -> &'static str {
        match self {
            Stage::Brief => "Brief",
            Stage::Case => "Case",
            Stage::Joints => "Joints",
            Stage::Timber => "Timber",
            Stage::DryFit => "Dry fit",
            Stage::Boards => "Boards",
            Stage::Drawings => "Drawings",
            Stage::Bench => "Bench",
        }
    }

    /// The decisions that belong to it.
    pub fn decisions(self) -> Option<decisions::Stage> {
        match self {
            Stage::Brief => Some(decisions::Stage::Brief),
            Stage::Case => Some(decisions::Stage::Case),
            Stage::Joints => Some(decisions::Stage::Joints),
            Stage::Timber => Some(decisions::Stage::Timber),
            Stage::Boards => Some(decisions::Stage::Boards),
            Stage::Bench => Some(decisions::Stage::Bench),
            Stage::DryFit | Stage::Drawings => None,
        }
    }
}

/// The stage shown.
#[derive(Resource, Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct AtStage(pub Stage);

/// Something told to the maker, until it is put away.
#[derive(Resource, Clone, Debug, Default, PartialEq, Eq)]
pub struct Notice {
    /// A few words; empty when there is nothing to tell.
    pub title: String,
    /// What happened, a sentence a line.
    pub lines: Vec<String>,
}

impl Notice {
    /// Tells something.
    pub fn told(title: impl Into<String>, lines: Vec<String>) -> Notice {
        Notice { title: title.into(), lines }
    }

    /// Tells something besides what is told already.
    pub fn add(&mut self, title: impl Into<String>, lines: Vec<String>) {
        let title = title.into();
        if self.title.is_empty() {
            *self = Notice { title, lines };
        } else {
            self.lines.push(title);
            self.lines.extend(lines);
        }
    }
}

/// All that the panels show.
pub struct View<'a> {
    /// The design and its history.
    pub session: &'a Session,
    /// Every decision of the design.
    pub decisions: &'a [Decision],
    /// What follows from the design.
    pub derived: &'a Derived,
    /// The stage shown.
    pub stage: Stage,
    /// What the sheet of the stage Boards shows.
    pub leaf: Leaf,
    /// What is selected.
    pub selection: &'a Selection,
    /// The part pointed at, in the case or in a panel.
    pub pointed: Option<PartId>,
    /// How far it is taken apart.
    pub take_apart: TakeApart,
    /// At which moisture it is shown.
    pub season: &'a Season,
    /// How parts are shown under their load.
    pub sag: &'a Sag,
    /// What is set side by side.
    pub compared: &'a Compared,
    /// Where everything stands, as last worked out for as many kinds; and what would give the rest a place, once that is known.
    pub kept: Option<(&'a Kept, Option<&'a [Change]>)>,
    /// How the things in the case are shown.
    pub boxes: Boxes,
    /// Cases that hold all there is to keep.
    pub proposed: &'a Proposed,
    /// What is cut from which board.
    pub laid: &'a Sought<Cutting>,
    /// The paper that is looked at as it would be printed, or why it can't be made; none while it is being drawn.
    pub drawn: Option<Result<&'a [Page], &'a str>>,
    /// What is exported, and how far that is.
    pub export: &'a Export,
    /// What to buy.
    pub bought: &'a Sought<Buying>,
    /// What is told.
    pub notice: &'a Notice,
    /// What is asked.
    pub question: Option<&'a Question>,
}

/// What the panels ask for, and where their widgets stand.
#[derive(Default)]
pub struct Out {
    /// What was asked for in this pass.
    pub asks: Vec<Ask>,
    /// Name and place of everything that can be clicked, in logical pixels.
    pub marks: Vec<(String, Rect)>,
    /// The part that the pointer is at in a panel.
    pub pointed: Option<PartId>,
    /// What no panel covers.
    pub view_area: Option<Rect>,
    /// Whether a sheet of paper lies over that.
    pub covered: bool,
    /// Labels for which there was no room.
    pub cut_off: Vec<String>,
}

impl Out {
    /// Asks for something.
    pub fn ask(&mut self, ask: Ask) {
        self.asks.push(ask);
    }

    /// Says where the widget of that name stands.
    pub fn mark(&mut self, name: impl Into<String>, rect: Rect) {
        self.marks.push((name.into(), rect));
    }
}

/// All panels of the window, in `ui`, which covers it.
pub fn ui(ui: &mut egui::Ui, view: &View<'_>, out: &mut Out) {
    use crate::theme;
    rod::ui(ui, view, out);
    question::ui(ui, view, out);
    let gap = theme::GAP as i8;
    let clear = egui::Frame::new();
    let strip = clear.outer_margin(egui::Margin { left: gap, right: gap, top: 0, bottom: gap });
    egui::Panel::bottom("strip").exact_size(theme::STRIP_HEIGHT + theme::GAP).show_separator_line(false).frame(strip).show(ui, |ui| {
        strip::ui(ui, view, out);
    });
    let side = egui::Margin { left: gap, right: gap, top: gap, bottom: gap };
    let width = stage::width_of(view, ui.available_width()) + 2.0 * theme::GAP;
    let left = egui::Panel::left("stage").resizable(false).exact_size(width);
    left.show_separator_line(false).frame(clear.outer_margin(side)).show(ui, |ui| stage::ui(ui, view, out));
    let right = egui::Panel::right("findings").resizable(false).exact_size(theme::RIGHT + 2.0 * theme::GAP);
    right.show_separator_line(false).frame(clear.outer_margin(side)).show(ui, |ui| right_side(ui, view, out));
    let case = ui.available_rect_before_wrap();
    out.view_area = Some(case);
    if view.stage == Stage::Drawings {
        out.covered = close::ui(ui, view, case, out);
    }
}

/// Findings above, what is selected below; the dry fit has its findings on the left, and here what the case bears.
fn right_side(ui: &mut egui::Ui, view: &View<'_>, out: &mut Out) {
    use crate::theme;
    let whole = ui.available_rect_before_wrap();
    let findings_on_the_left = view.stage == Stage::DryFit;
    let selected = view.selection.part.is_some_and(|part| part.0 < view.derived.model.parts.len());
    let cut = if selected { whole.top() + (whole.height() * 0.44).round() } else { whole.bottom() - 124.0 };
    let upper = Rect::from_min_max(whole.min, egui::pos2(whole.right(), cut));
    if findings_on_the_left {
        sheet(ui, "loads", upper, |ui| loads::ui(ui, view, out));
    } else {
        sheet(ui, "findings", upper, |ui| findings::ui(ui, view, false, out));
    }
    let lower = Rect::from_min_max(egui::pos2(whole.left(), cut + theme::GAP), whole.max);
    sheet(ui, "selected", lower, |ui| selected::ui(ui, view, out));
}

/// A sheet that fills `rect`, in which what is longer scrolls.
fn sheet(ui: &mut egui::Ui, name: &str, rect: Rect, content: impl FnOnce(&mut egui::Ui)) {
    let builder = egui::UiBuilder::new().id_salt(name).max_rect(rect).layout(egui::Layout::top_down(egui::Align::Min));
    let mut inner = ui.new_child(builder);
    inner.set_clip_rect(rect.expand(1.0).intersect(ui.clip_rect()));
    crate::theme::sheet().show(&mut inner, |ui| {
        ui.set_min_size(ui.available_size());
        let scroll = egui::ScrollArea::vertical().id_salt(name).auto_shrink([false, false]);
        scroll.show(ui, |ui| {
            ui.set_max_width(ui.available_width() - 4.0);
            content(ui);
        });
    });
    ui.advance_cursor_after_rect(rect);
}
