//! Loose cleats pushed away from their shelf: what stops them, and how much of them still lies in its teeth and under its shelf then.
//!
//! A cleat slides along its seats. Toward its bay it is taken out; away from it a panel, a strip or whatever is fixed there has to stop it.

use std::collections::HashMap;

use casewright_solid::{Cells, sweep};
use glam::DVec3;

use super::floors::LEAST_BORNE;
use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm};
use crate::design::{Design, Filling, Side, Spacers};
use crate::joint::JointKind;
use crate::model::{BuildStage, Joint, Model, Part, PartId, PartKind, Role};
use crate::sentence::inside;

/// A cleat touches what it slides along and strikes nothing that it is no deeper in than this, mm.
const SLACK: f64 = 0.01;
/// Facets a full turn: nothing round stands behind a cleat whose roundness counts.
const FACETS_A_TURN: u32 = 16;

pub(super) fn check(design: &Design, model: &Model) -> Vec<Finding> {
    let mut behind = Behind { model, cells: HashMap::new() };
    let loose = model.parts.iter().filter(|part| part.kind == PartKind::Cleat && part.stage == BuildStage::Loose);
    loose.filter_map(|cleat| Slide::of(design, model, cleat)?.judged(&mut behind)).collect()
}

/// How far the board's end may be from the cleat that it lies on: its play, mm.
pub(super) fn play_of(design: &Design, board: &Part) -> f64 {
    if board.kind == PartKind::Shelf { design.shelf.play.to_mm() } else { design.sawtooth.slats.play.to_mm() }
}

/// What may stand behind a cleat, with the cells of what was asked for.
struct Behind<'m> {
    model: &'m Model,
    cells: HashMap<PartId, Option<Cells>>,
}

impl Behind<'_> {
    /// What is fixed and first stops a cleat on its way, and after how much of it, mm.
    fn stops(&mut self, slide: &Slide<'_>, most: f64) -> Option<(PartId, f64)> {
        let way = DVec3::X * (slide.out * most);
        let own = slide.cleat.block();
        let swept = (own.min.min(own.min + way), own.max.max(own.max + way));
        let fixed = self.model.parts.iter().filter(|part| part.stage != BuildStage::Loose && !slide.lies_in(part.id));
        let near: Vec<PartId> = fixed
            .filter(|part| {
                let block = part.block();
                (0..3).all(|axis| block.max[axis].min(swept.1[axis]) - block.min[axis].max(swept.0[axis]) > TOUCH)
            })
            .map(|part| part.id)
            .collect();
        let struck = |part: &PartId, behind: &mut Self| {
            let (moving, standing) = (behind.of(slide.cleat.id)?, behind.of(*part)?);
            let hit = sweep(&moving, &slide.cleat.pose, way, &standing, &behind.model.part(*part).pose, SLACK)?;
            Some((*part, hit.after))
        };
        let all: Vec<_> = near.iter().filter_map(|part| struck(part, self)).collect();
        all.into_iter().min_by(|a, b| a.1.total_cmp(&b.1))
    }

    fn of(&mut self, part: PartId) -> Option<Cells> {
        self.cells.entry(part).or_insert_with(|| self.model.part(part).solid().cells(FACETS_A_TURN).ok()).clone()
    }
}

/// A cleat that can be pushed away from its shelf.
struct Slide<'m> {
    design: &'m Design,
    model: &'m Model,
    cleat: &'m Part,
    /// Which way along the width of the case, +1 or -1.
    out: f64,
    seats: Vec<&'m Joint>,
    boards: Vec<&'m Part>,
}

impl<'m> Slide<'m> {
    /// None where no shelf lies on it, or it lies in no teeth.
    fn of(design: &'m Design, model: &'m Model, cleat: &'m Part) -> Option<Slide<'m>> {
        let seats: Vec<&Joint> =
            model.joints.iter().filter(|joint| joint.a == cleat.id && matches!(joint.kind, JointKind::Seat(_))).collect();
        let boards: Vec<&Part> = model
            .joints
            .iter()
            .filter(|joint| joint.b == cleat.id && joint.role == Role::SlatToCleat)
            .map(|joint| model.part(joint.a))
            .collect();
        let shelf = boards.first()?.block().centre().x;
        let out = (cleat.block().centre().x - shelf).signum();
        (!seats.is_empty()).then_some(Slide { design, model, cleat, out, seats, boards })
    }

    fn lies_in(&self, part: PartId) -> bool {
        part == self.cleat.id || self.seats.iter().any(|joint| joint.b == part)
    }

    /// How much of its thickness lies in the teeth, and how much under its shelf, which is pushed away from it, when it has gone so far, mm; less than nothing
    /// where it is past them.
    fn lies(&self, by: f64) -> (f64, f64) {
        let own = self.cleat.block();
        let (low, high) = (own.min.x + self.out * by, own.max.x + self.out * by);
        let shared = |part: &Part, away: f64| {
            let block = part.block();
            high.min(block.max.x - self.out * away) - low.max(block.min.x - self.out * away)
        };
        let teeth = self.seats.iter().map(|joint| shared(self.model.part(joint.b), 0.0)).fold(f64::INFINITY, f64::min);
        let under = self.boards.iter().map(|board| shared(board, play_of(self.design, board))).fold(f64::INFINITY, f64::min);
        (teeth, under)
    }

    fn judged(&self, behind: &mut Behind<'_>) -> Option<Finding> {
        let thick = self.cleat.block().size().x;
        // Past its standards and its shelf there is nothing more to lose.
        let reach = self.seats.iter().map(|joint| self.model.part(joint.b).block().size().x).fold(thick, f64::max);
        let stopped = behind.stops(self, reach);
        let by = stopped.map_or(reach, |(_, after)| (after - SLACK).max(0.0));
        let worth = |(teeth, under): (f64, f64)| match teeth.min(under) {
            left if left <= TOUCH => Some(Seriousness::WillFail),
            left if left < LEAST_BORNE - TOUCH => Some(Seriousness::AtRisk),
            _ => None,
        };
        let (before, after) = (self.lies(0.0), self.lies(by));
        let seriousness = worth(after)?;
        // What lies on too little where it is, is told as that.
        if worth(before).is_some_and(|known| known <= seriousness) {
            return None;
        }
        let stop = stopped.map(|(part, _)| self.model.part(part));
        let parts = std::iter::once(self.cleat.id)
            .chain(self.seats.iter().map(|joint| joint.b))
            .chain(self.boards.iter().map(|board| board.id))
            .chain(stop.map(|part| part.id));
        Some(Finding {
            rule: Rule::CleatStays,
            seriousness,
            parts: parts.collect(),
            explains: Vec::new(),
            joint: self.seats.first().map(|joint| joint.id),
            place: Some(self.cleat.block().centre()),
            figures: vec![
                Figure::mm("slides", by),
                Figure::mm("left in its teeth", after.0.max(0.0)),
                Figure::mm("left under its shelf", after.1.max(0.0)),
                Figure::mm("least", LEAST_BORNE),
            ],
            message: self.words(by, after, stop),
            source: "a spacer or a panel behind loose cleats, and at least 6 mm under what lies loose: common practice, no source",
            remedies: self.remedies(after.0.min(after.1), stop.is_some()),
        })
    }

    fn words(&self, by: f64, (teeth, under): (f64, f64), stop: Option<&Part>) -> String {
        let title = &self.cleat.title;
        let Some(stop) = stop else {
            return format!("{title} slides out of its teeth when it is pushed away from its shelf: nothing stands behind it there");
        };
        let goes = format!("{title} slides {} mm away from its shelf before {} stops it", mm(by), inside(&stop.title));
        if teeth <= TOUCH {
            format!("{goes}, and is out of its teeth by then")
        } else if under <= TOUCH {
            format!("{goes}, and no longer lies under its shelf by then")
        } else {
            format!("{goes}, and only {} mm of it lie in its teeth and {} mm under its shelf then", mm(teeth), mm(under))
        }
    }

    /// `left`: how much of it lies there when it has slid; `stopped`: whether anything stops it.
    fn remedies(&self, left: f64, stopped: bool) -> Vec<Remedy> {
        let sawtooth = &self.design.sawtooth;
        let at = self.cleat.block().centre().x;
        let beyond = |bay: &crate::model::Bay| (bay.space.centre().x - at) * self.out > 0.0;
        let set = |path: &str, value: &str| (path.to_owned(), value.to_owned());
        let closes = if self.model.bays.iter().any(beyond) {
            let changes = match sawtooth.spacers {
                Spacers::None => vec![set("sawtooth.spacers", "strips")],
                Spacers::Strips => Vec::new(),
            };
            Remedy { words: "Glue strips to the standards at the dividers, behind the ends of the cleats".to_owned(), changes }
        } else {
            let carcase = &self.design.carcase;
            let (side, frame) = if self.out < 0.0 { ("left", &carcase.left) } else { ("right", &carcase.right) };
            let changes = match frame {
                Side::Frame(frame) if frame.filling == Filling::Open => vec![set(&format!("carcase.{side}.filling"), "panel")],
                Side::Frame(_) | Side::Open => Vec::new(),
            };
            Remedy { words: format!("Fill the {side} frame with panels, which stand behind the cleats"), changes }
        };
        // Every millimetre more is one more that stays there; thicker than its standards it would run into the strips behind them.
        let wanted = (self.cleat.block().size().x + LEAST_BORNE - left).ceil();
        let thicker = (stopped && wanted <= sawtooth.thickness.to_mm())
            .then(|| Remedy::length(format!("Make the cleats {} mm thick", mm(wanted)), "sawtooth.cleat.thickness", wanted));
        Some(closes).filter(|remedy| !remedy.changes.is_empty()).into_iter().chain(thicker).collect()
    }
}
