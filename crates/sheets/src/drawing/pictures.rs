//! Pictures from the front, the right and above: the stages of assembly, and what the case taken apart needs of them.

use std::collections::HashSet;

use casewright_core::model::{BuildStage, Part, PartId};
use casewright_core::sentence::capital;
use casewright_core::sequence::{Group, Step};
use casewright_core::{Model, Sequence, Solids};
use casewright_solid::Pose;
use casewright_solid::view::{Body, Line, Looking, Sight, View, look};
use glam::{DVec2, DVec3};

use super::drawn::wrapped;
use super::lettering::LETTERING;
use super::page::{Anchor, Ink, Pen, Text};
use crate::stop::{BrokenOff, Stop};

/// From where pictures are looked at: turned to the right, and from above, degrees.
const TURNED: f64 = 32.0;
const ABOVE: f64 = 26.0;
/// Steps in a picture at most.
const STEPS: usize = 18;
/// Room for the title of a picture, mm.
const TITLE: f64 = 10.0;

fn sight() -> Option<Sight> {
    let ((sin, cos), (down, level)) = (TURNED.to_radians().sin_cos(), ABOVE.to_radians().sin_cos());
    Sight::new(DVec3::new(cos, 0.0, -sin), DVec3::new(-sin * down, level, -cos * down))
}

/// Parts moved from their places.
pub(super) struct Moved<'m> {
    pub parts: Vec<&'m Part>,
    bodies: Vec<Body<'m>>,
}

impl<'m> Moved<'m> {
    pub fn of(model: &'m Model, solids: &'m Solids, frames: &[Pose], which: impl Fn(PartId) -> bool) -> Moved<'m> {
        let mut moved = Moved { parts: Vec::new(), bodies: Vec::new() };
        for part in model.parts.iter().filter(|part| which(part.id)) {
            if let (Some(shape), Some(frame)) = (solids.shape(part.id), frames.get(part.id.0)) {
                moved.parts.push(part);
                moved.bodies.push(Body { shape, pose: frame.then_of(&part.pose) });
            }
        }
        moved
    }

    pub fn look(&self) -> View {
        sight().map(|sight| look(&self.bodies, &sight, Looking::default())).unwrap_or_default()
    }
}

/// Where a picture lies on paper, and at what scale.
pub(super) struct Frame {
    scale: f64,
    origin: DVec2,
}

impl Frame {
    /// Fits bounds of a view into a room on paper.
    pub fn fit((min, max): (DVec2, DVec2), room: (DVec2, DVec2)) -> Frame {
        let size = (max - min).max(DVec2::splat(1.0));
        let scale = (size / (room.1 - room.0)).max_element();
        let middle = (min + max) / 2.0;
        Frame { scale, origin: (room.0 + room.1) / 2.0 - DVec2::new(middle.x, -middle.y) / scale }
    }

    pub fn at(&self, place: DVec2) -> DVec2 {
        self.origin + DVec2::new(place.x, -place.y) / self.scale
    }

    pub fn lines(&self, ink: &mut Ink, pen: Pen, lines: &[Line]) {
        for line in lines {
            ink.line(pen, self.at(line.a), self.at(line.b));
        }
    }
}

/// What one picture of the assembly shows.
struct Stage {
    title: String,
    steps: std::ops::Range<usize>,
    group: usize,
}

/// The stages: the steps of each sub-assembly, what is glued at one go together, no more in one than can be told apart.
fn stages(model: &Model, sequence: &Sequence) -> Vec<Stage> {
    let mut stages: Vec<(Stage, bool)> = Vec::new();
    let last_wet = |group: usize| sequence.steps.iter().rposition(|step| step.group == group && step.glue_up.is_some());
    for (number, step) in sequence.steps.iter().enumerate() {
        // What stands dry among what is glued goes in with it.
        let wet = last_wet(step.group).is_some_and(|last| number <= last);
        let goes_on = |(stage, was_wet): &&mut (Stage, bool)| {
            let of_one = stage.group == step.group || is_one_by_one(model, sequence, [number - 1, number]);
            *was_wet == wet && of_one && stage.steps.len() < STEPS
        };
        if let Some((stage, _)) = stages.last_mut().filter(goes_on) {
            (stage.steps.end, stage.group) = (number + 1, step.group);
        } else {
            stages.push((Stage { title: String::new(), steps: number..number + 1, group: step.group }, wet));
        }
    }
    let titled = |(mut stage, wet): (Stage, bool)| {
        let steps: Vec<&Step> = sequence.steps.get(stage.steps.clone()).unwrap_or_default().iter().collect();
        stage.title = format!("{}, {}", capital(&sequence.title_of(model, &steps)), if wet { "glued" } else { "dry" });
        stage
    };
    stages.into_iter().map(titled).collect()
}

/// Whether two steps after the glue-up bring parts of one kind, each by itself: they are seen in one picture, whether or not each is a glue-up of its own.
fn is_one_by_one(model: &Model, sequence: &Sequence, steps: [usize; 2]) -> bool {
    let kind = |step: usize| {
        let step = sequence.steps.get(step)?;
        let part = model.part(*step.moves.first()?.parts.first()?);
        (part.stage != BuildStage::GlueUp).then_some(part.kind)
    };
    let [a, b] = steps.map(kind);
    a.is_some() && a == b
}

/// The stages of assembly as pictures, so many on a sheet as go into its room; what comes on is drawn wide.
pub(super) fn assembly(
    model: &Model,
    solids: &Solids,
    sequence: &Sequence,
    room: (DVec2, DVec2),
    stop: Stop<'_>,
) -> Result<Vec<Ink>, BrokenOff> {
    let size = room.1 - room.0;
    let (columns, rows) = ((size.x / 120.0).floor().max(1.0), (size.y / 105.0).floor().max(1.0));
    let cell = DVec2::new(size.x / columns, size.y / rows);
    let many = (columns * rows) as usize;
    let stages = stages(model, sequence);
    let come_on = come_on(model, sequence, &stages);
    let mut sheets = Vec::new();
    for (sheet, few) in stages.chunks(many).enumerate() {
        let mut ink = Ink::default();
        for (place, stage) in few.iter().enumerate() {
            let (column, row) = ((place % columns as usize) as f64, (place / columns as usize) as f64);
            let corner = room.0 + cell * DVec2::new(column, row);
            let number = sheet * many + place;
            let told = come_on.get(number).map(String::as_str).unwrap_or_default();
            stop.go_on()?;
            picture(&mut ink, (model, solids, sequence), stage, (number + 1, told), (corner, corner + cell));
        }
        sheets.push(ink);
    }
    Ok(sheets)
}

/// What moves in a stage, and what of its sub-assembly comes on only after it.
fn moving(sequence: &Sequence, stage: &Stage) -> (Vec<PartId>, Vec<PartId>) {
    let parts = |steps: &[Step]| steps.iter().flat_map(|step| &step.moves).flat_map(|mv| mv.parts.iter().copied()).collect();
    let comes = parts(sequence.steps.get(stage.steps.clone()).unwrap_or_default());
    let after: Vec<Step> = sequence.steps.iter().skip(stage.steps.end).filter(|step| step.group == stage.group).cloned().collect();
    (comes, parts(&after))
}

/// Whether a part is in the picture of a stage: what moves, and what stands by then of its sub-assembly.
fn is_shown(sequence: &Sequence, stage: &Stage, (comes, later): &(Vec<PartId>, Vec<PartId>), id: PartId) -> bool {
    let stands = sequence.groups.get(stage.group).is_some_and(|group| group.parts.contains(&id));
    comes.contains(&id) || (stands && !later.contains(&id))
}

/// What comes on in each stage: sub-assemblies by their names, then parts by their marks, each part in the stage in which it is first seen and in no other.
fn come_on(model: &Model, sequence: &Sequence, stages: &[Stage]) -> Vec<String> {
    let mut known: HashSet<PartId> = sequence.done.iter().flat_map(|done| done.parts.iter().copied()).collect();
    let mut all = Vec::with_capacity(stages.len());
    for stage in stages {
        let moving = moving(sequence, stage);
        let mut told: Vec<String> = Vec::new();
        let moves = sequence.steps.get(stage.steps.clone()).unwrap_or_default().iter().flat_map(|step| &step.moves);
        for mv in moves.filter(|mv| mv.parts.len() > 1 && mv.parts.iter().all(|part| known.contains(part))) {
            let of = |group: &&Group| group.parts.len() == mv.parts.len() && mv.parts.iter().all(|part| group.parts.contains(part));
            let title = sequence.groups.iter().find(of).map(|group| group.title.clone());
            told.extend(title.filter(|title| !told.contains(title)));
        }
        let fresh: Vec<PartId> =
            model.parts.iter().map(|part| part.id).filter(|id| !known.contains(id) && is_shown(sequence, stage, &moving, *id)).collect();
        known.extend(&fresh);
        told.extend(marks(model, &fresh));
        all.push(if told.is_empty() { String::new() } else { format!("Comes on: {}", told.join(", ")) });
    }
    all
}

fn picture(
    ink: &mut Ink,
    (model, solids, sequence): (&Model, &Solids, &Sequence),
    stage: &Stage,
    (number, told): (usize, &str),
    cell: (DVec2, DVec2),
) {
    let steps = sequence.steps.get(stage.steps.clone()).unwrap_or_default();
    let moving = moving(sequence, stage);
    let comes = &moving.0;
    // Only the steps of this stage are open: what was put together before stands together.
    let frames = Sequence { steps: steps.to_vec(), ..Sequence::default() }.positions(model.parts.len(), 0.0);
    let moved = Moved::of(model, solids, &frames, |id| is_shown(sequence, stage, &moving, id));
    let view = moved.look();
    let Some(bounds) = view.bounds() else { return };
    let lines = wrapped(told, cell.1.x - cell.0.x - 10.0, 1.8);
    let title = TITLE + 3.0 * lines.len() as f64;
    let frame = Frame::fit(bounds, (cell.0 + DVec2::new(5.0, title), cell.1 - DVec2::new(5.0, 4.0)));
    frame.lines(ink, Pen::Behind, &view.seen(|body| !comes.contains(&moved.parts[body].id)));
    frame.lines(ink, Pen::Edge, &view.seen(|body| comes.contains(&moved.parts[body].id)));
    let title = format!("{number}  {}", stage.title);
    let at = cell.0 + DVec2::new(5.0, 5.0);
    ink.text(Text { bold: true, ..Text::new(at, Anchor::Start, LETTERING, title) });
    let mut line = at + DVec2::new(0.0, LETTERING + 1.8);
    for words in lines {
        ink.text(Text::new(line, Anchor::Start, 1.8, words));
        line.y += 3.0;
    }
}

/// Parts by their marks: "P1", "R1 × 2".
fn marks(model: &Model, parts: &[PartId]) -> Vec<String> {
    let mut all: Vec<(&str, usize)> = Vec::new();
    for part in parts.iter().map(|id| model.part(*id)) {
        match all.iter_mut().find(|(mark, _)| *mark == part.mark) {
            Some((_, count)) => *count += 1,
            None => all.push((&part.mark, 1)),
        }
    }
    all.iter().map(|(mark, count)| if *count > 1 { format!("{mark} × {count}") } else { (*mark).to_owned() }).collect()
}
