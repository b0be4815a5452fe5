//! A report of what the window shows, for automatic window tests with a real pointer: `--report FILE`.

use std::collections::BTreeMap;

use bevy::diagnostic::FrameCount;
use bevy::ecs::system::SystemParam;
use bevy::prelude::*;
use bevy_egui::input::EguiWantsInput;
use casewright_core::design::decisions;
use serde::Serialize;

use crate::ask::{Pointed, Sag, Season, Selection, TakeApart, ViewArea};
use crate::compared::{Compared, Rows};
use crate::derived::Derived;
use crate::exported::Export;
use crate::files::Desk;
use crate::keeping::{Boxes, Keeping};
use crate::laid::{Laid, Leaf};
use crate::panels::{AtStage, Notice, Shown};
use crate::scene::boxes::Placed;
use crate::scene::gesture::Hand;
use crate::scene::{Projected, SceneReady};
use crate::session::Session;
use crate::{FrameSet, Start, files};

/// Keeps the report that `--report` asks for.
pub struct ReportPlugin;

impl Plugin for ReportPlugin {
    fn build(&self, app: &mut App) {
        app.add_systems(Update, keep.in_set(FrameSet::Tell).run_if(|start: Res<Start>| start.report.is_some()));
    }
}

/// The report. Lengths are mm; places on the window are physical pixels from its top left.
#[derive(Serialize, PartialEq, Default, Clone)]
#[allow(clippy::struct_excessive_bools, reason = "facts for a test to read, each its own")]
struct Report {
    generation: u64,
    /// The generation that stands in the 3D view.
    generation_drawn: u64,
    /// Whether that is on screen and the eye at rest.
    settled: bool,
    /// Whether a button of the pointer holds something.
    held: bool,
    /// Whether what is typed goes into a field.
    typing: bool,
    title: String,
    dirty: bool,
    stage: &'static str,
    /// What the sheet of the stage Boards shows.
    leaf: &'static str,
    /// How many pieces lie on boards; none while nothing is laid out.
    laid: Option<usize>,
    /// Name of the part that the pointer is at in a panel.
    pointed: Option<String>,
    /// Name of the part that is selected.
    selected: Option<String>,
    take_apart: f32,
    /// Whether it goes on by itself.
    playing: bool,
    /// The moisture at which it is shown, %; none for as built.
    season: Option<f64>,
    /// Whether parts are drawn as they sag.
    sags: bool,
    /// How many things have a place, and how many there are; none while that is being worked out.
    kept: Option<[u64; 2]>,
    /// Whether things stand in their places on screen.
    boxes: bool,
    /// What is written on things and rooms.
    words: Vec<String>,
    /// How many rows are set side by side.
    compared: usize,
    /// Steps of the order of assembly; none while it is being worked out.
    steps: Option<usize>,
    question: bool,
    notice: Vec<String>,
    /// How many steps of an export are done, and how many there are; none where none is under way.
    export: Option<[usize; 2]>,
    /// How many files wait for an answer whether they may be replaced.
    export_asks: usize,
    model: ModelReport,
    errors: Vec<String>,
    findings: Vec<FindingReport>,
    cut_list: Vec<CutReport>,
    decisions: BTreeMap<String, String>,
    widgets: BTreeMap<String, [f32; 4]>,
    /// What no panel covers, logical pixels: left, top, right, bottom.
    view_area: [f32; 4],
    /// The middle of each part before the eye.
    part_screen: BTreeMap<String, [f32; 2]>,
    /// The handles of the dimension lines and shelves, by the decision or shelf they drag.
    handles: BTreeMap<String, [f32; 2]>,
}

#[derive(Serialize, PartialEq, Default, Clone)]
struct ModelReport {
    parts: usize,
    /// Least and greatest corner.
    bounds: Option<[[f64; 3]; 2]>,
}

#[derive(Serialize, PartialEq, Clone)]
struct FindingReport {
    rule: &'static str,
    seriousness: &'static str,
    message: String,
}

#[derive(Serialize, PartialEq, Clone)]
struct CutReport {
    mark: String,
    count: usize,
    length: f64,
    width: f64,
    thickness: f64,
}

/// The report with the frame in which it was made.
#[derive(Serialize)]
struct Dated<'r> {
    frame: u32,
    #[serde(flatten)]
    report: &'r Report,
}

#[derive(SystemParam)]
struct Seen<'w> {
    session: Res<'w, Session>,
    derived: Res<'w, Derived>,
    selection: Res<'w, Selection>,
    pointed: Res<'w, Pointed>,
    leaf: Res<'w, Leaf>,
    laid: Res<'w, Laid>,
    take_apart: Res<'w, TakeApart>,
    season: Res<'w, Season>,
    sag: Res<'w, Sag>,
    keeping: Res<'w, Keeping>,
    boxes: Res<'w, Boxes>,
    placed: Res<'w, Placed>,
    compared: Res<'w, Compared>,
    stage: Res<'w, AtStage>,
    notice: Res<'w, Notice>,
    desk: Res<'w, Desk>,
    export: Res<'w, Export>,
    shown: Res<'w, Shown>,
    area: Res<'w, ViewArea>,
    ready: Res<'w, SceneReady>,
    projected: Res<'w, Projected>,
    hand: Res<'w, Hand>,
    egui: Res<'w, EguiWantsInput>,
}

fn keep(start: Res<Start>, frame: Res<FrameCount>, seen: Seen, mut last: Local<Option<Report>>) {
    let Some(path) = &start.report else { return };
    let report = report(&seen);
    if last.as_ref() == Some(&report) {
        return;
    }
    let written = serde_json::to_vec_pretty(&Dated { frame: frame.0, report: &report })
        .map_err(std::io::Error::from)
        .and_then(|json| files::write_atomically(path, &json));
    if let Err(error) = written {
        error!("{} was not written: {error}", path.display());
    }
    *last = Some(report);
}

fn report(seen: &Seen) -> Report {
    let (derived, model) = (&seen.derived, &seen.derived.model);
    Report {
        generation: derived.generation,
        generation_drawn: seen.ready.generation_drawn,
        settled: seen.ready.settled && seen.ready.generation_drawn == derived.generation,
        held: seen.hand.holds() || seen.egui.is_using_pointer(),
        typing: seen.egui.wants_keyboard_input(),
        title: seen.session.title(),
        dirty: seen.session.is_dirty(),
        stage: seen.stage.0.word(),
        leaf: seen.leaf.word(),
        laid: seen.laid.0.found(derived.generation).map(|cutting| cutting.boards.iter().map(|board| board.pieces.len()).sum()),
        pointed: seen.pointed.0.and_then(|part| model.parts.get(part.0)).map(|part| part.name.clone()),
        selected: seen.selection.part.and_then(|part| model.parts.get(part.0)).map(|part| part.name.clone()),
        take_apart: seen.take_apart.amount,
        playing: seen.take_apart.playing.is_some(),
        season: seen.season.moisture,
        sags: seen.sag.shown.is_some(),
        kept: seen.keeping.of(derived.generation).map(|kept| [kept.stay.placed, kept.stay.wanted]),
        boxes: seen.boxes.shown,
        words: seen.placed.labels.iter().map(|label| label.text.clone()).collect(),
        compared: seen.compared.rows().map_or(0, |rows| match rows {
            Rows::Timbers(rows) => rows.len(),
            Rows::Panels(rows) => rows.len(),
        }),
        steps: derived.order().map(|order| order.steps.len()),
        question: seen.desk.question.is_some(),
        notice: if seen.notice.title.is_empty() { Vec::new() } else { seen.notice.lines.clone() },
        export: seen.export.come().map(|come| [come.done, come.of]),
        export_asks: seen.export.held.as_ref().map_or(0, |held| held.there.len()),
        model: ModelReport { parts: model.parts.len(), bounds: model.bounds.map(|block| [block.min.to_array(), block.max.to_array()]) },
        errors: derived.errors.iter().map(ToString::to_string).collect(),
        findings: derived
            .findings
            .iter()
            .map(|finding| FindingReport {
                rule: finding.rule.id(),
                seriousness: finding.seriousness.word(),
                message: finding.message.clone(),
            })
            .collect(),
        cut_list: derived
            .cut_list
            .rows
            .iter()
            .map(|row| CutReport {
                mark: row.mark.clone(),
                count: row.parts.len(),
                length: row.finished[0],
                width: row.finished[1],
                thickness: row.finished[2],
            })
            .collect(),
        decisions: decisions::list(seen.session.design()).into_iter().map(|it| (it.spec.path, it.value.text())).collect(),
        widgets: seen.shown.widgets.iter().cloned().collect(),
        view_area: [seen.area.min.x, seen.area.min.y, seen.area.max.x, seen.area.max.y],
        part_screen: seen.projected.parts.iter().map(|(name, at)| (name.clone(), at.to_array())).collect(),
        handles: seen.projected.handles.iter().map(|(name, at)| (name.clone(), at.to_array())).collect(),
    }
}
