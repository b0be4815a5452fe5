//! A part that bends under what presses on it, with its figures.

use std::collections::HashMap;
use std::sync::Arc;

use glam::DVec3;

use super::bears::Bears;
use super::lying::{Lying, Pressed, Unjudged, Why};
use super::slab::{BeamOf, Slab};
use crate::design::Limits;
use crate::model::{Model, Part, PartId, PartKind};
use crate::strength::{
    Bent, Board, Borne, Creep, Extreme, Load, Patch, Properties, Section, Span, Verdict, after, after_by_eurocode, allowed_bending,
    allowed_shear, creep,
};
use crate::timber::How;
use crate::worked::Worked;

/// A part that bends, at the span that sags most for its length.
#[derive(Clone, Debug, PartialEq)]
pub struct Bending {
    /// The part.
    pub part: PartId,
    /// The room whose boxes stand on it or on what it carries, by its place in [`Model::rooms`]; none for what carries more than one.
    pub room: Option<usize>,
    /// What it bears besides its own weight.
    pub bears: Bears,
    /// How it hangs.
    pub curve: Curve,
    /// Which way it spans.
    pub spans: Spans,
}

/// Which way a part spans.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spans {
    /// Along the width of the case; a shelf on pins from a left pin to the right one.
    SideToSide,
    /// Along its depth; a shelf on pins from a back pin to the front one.
    FrontToBack,
    /// In the middle of a shelf on pins, which hangs through both ways: by the way from a pin to the one across.
    Middle,
}

impl Spans {
    /// In words, to follow what it does.
    pub fn words(self) -> &'static str {
        match self {
            Spans::SideToSide => "from side to side",
            Spans::FrontToBack => "from front to back",
            Spans::Middle => "in its middle",
        }
    }

    fn along(axis: usize) -> Spans {
        if axis == 0 { Spans::SideToSide } else { Spans::FrontToBack }
    }
}

/// A stress, and what may be asked for years where that is known, N/mm².
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stress {
    /// What there is.
    pub found: f64,
    /// What may be asked; none where no strength is known.
    pub allowed: Option<f64>,
    /// Whether one of them is no better than memory.
    pub recalled: bool,
}

impl Stress {
    /// A stress that was worked out so, and what may be asked.
    pub(super) fn new(found: f64, how: How, allowed: Option<&Worked>) -> Stress {
        let recalled = allowed.map_or(How::Read, Worked::how).min(how) == How::Memory;
        Stress { found, allowed: allowed.map(|allowed| allowed.value), recalled }
    }

    /// How much of what may be asked is taken, 1 for all of it; nothing where that is not known.
    pub fn share(&self) -> Option<f64> {
        self.allowed.map(|allowed| self.found / allowed)
    }
}

/// The shape of a part that sags: exact at every place of its span.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    /// The axis of the case along which the part spans, 0 or 2.
    pub axis: usize,
    /// Where its first end is on that axis, mm.
    pub from: f64,
    /// Where its second end is, mm.
    pub to: f64,
    solved: Arc<Solved>,
}

/// A beam that was solved, or one way of a plate; parts that are alike share it.
#[derive(Debug, PartialEq)]
struct Solved {
    of: Arc<Properties>,
    /// The kind of it that EN 1995-1-1 has a factor of creep for.
    board: Option<Board>,
    section: Section,
    loads: Vec<Load>,
    bent: Bent,
    span: Span,
    at_once: f64,
    /// How it creeps, for how many years, and how many times the sag at once that makes.
    creeps: (Creep, f64, f64),
    verdict: Verdict,
    bending: Stress,
    shear: Stress,
    /// What lies on points is no beam: the plate, and where it is told, in its bending and in its stress.
    on_points: Option<OnPoints>,
}

/// One way of a plate: where it sags most for its length, and where it is bent hardest, from its left end and its back edge, mm; nowhere
/// where it is bent harder as a beam.
#[derive(Debug, PartialEq)]
struct OnPoints {
    slab: Arc<Slab>,
    /// Where its left end and its back edge are, mm of the case.
    corner: [f64; 2],
    at: [f64; 2],
    hardest: Option<[f64; 2]>,
}

impl Curve {
    /// How far below its unloaded place it is at once, mm, at a place on the axis of the case, mm; beside the part that of its nearer end.
    pub fn at_once(&self, at: f64) -> f64 {
        let at = (at - self.from).clamp(0.0, self.to - self.from);
        match &self.solved.on_points {
            None => self.bent().sag_at(at).total(),
            Some(OnPoints { slab, at: line, .. }) => slab.sag(if self.axis == 0 { [at, line[1]] } else { [line[0], at] }).total(),
        }
    }

    /// The same after the years of the design.
    pub fn after(&self, at: f64) -> f64 {
        self.at_once(at) * self.solved.creeps.2
    }

    /// How far a place of the case is below its unloaded place at once, mm: of what lies on points anywhere on it, else along its axis.
    pub fn at_once_at(&self, at: DVec3) -> f64 {
        match &self.solved.on_points {
            None => self.at_once(at[self.axis]),
            Some(on) => on.slab.sag([at.x - on.corner[0], at.z - on.corner[1]]).total(),
        }
    }

    /// The same after the years of the design.
    pub fn after_at(&self, at: DVec3) -> f64 {
        self.at_once_at(at) * self.solved.creeps.2
    }

    /// The axis along which it spans, as a plate counts its two.
    fn on_plate(&self) -> usize {
        usize::from(self.axis != 0)
    }

    /// Whether it is the shape of what lies on points, which is bent both ways.
    pub fn is_on_points(&self) -> bool {
        self.solved.on_points.is_some()
    }

    /// What the solver of beams has to tell of it at once: moments, forces, what its supports bear. Places are from its first end. What lies on
    /// points is told as if it were held all along its ends.
    pub fn bent(&self) -> &Bent {
        &self.solved.bent
    }
}

impl Bending {
    /// The length by which it is judged, mm.
    pub fn span(&self) -> f64 {
        self.curve.solved.span.limit_length()
    }

    /// Which way it spans, in words.
    pub fn way(&self) -> &'static str {
        self.spans.words()
    }

    /// Whether it lies on points, so that it spans both ways.
    pub fn on_points(&self) -> bool {
        self.curve.is_on_points()
    }

    /// Where it sags most for its span, mm from its first end.
    pub fn worst_at(&self) -> f64 {
        self.curve.solved.span.at
    }

    /// The greatest sag at once, mm.
    pub fn at_once(&self) -> f64 {
        self.curve.solved.at_once
    }

    /// The same after the years of the design.
    pub fn after(&self) -> f64 {
        self.at_once() * self.curve.solved.creeps.2
    }

    /// How that stands to the limits.
    pub fn verdict(&self) -> Verdict {
        self.curve.solved.verdict
    }

    /// The greatest stress in bending.
    pub fn bending(&self) -> Stress {
        self.curve.solved.bending
    }

    /// The greatest stress in shear along the grain.
    pub fn shear(&self) -> Stress {
        self.curve.solved.shear
    }

    /// The sag after years as a share of the span.
    pub fn share(&self) -> f64 {
        self.after().abs() / self.span()
    }

    /// The number that the span is divided by to make the sag after years: 250 for L/250. Infinite where it does not sag.
    pub fn divisor(&self) -> f64 {
        self.span() / self.after().abs()
    }

    /// The share of the greatest sag that comes from its own weight, in bending, 0 to 1.
    pub fn own_share(&self) -> f64 {
        let sag = self.curve.solved.span.sag;
        if sag.total() > 0.0 { (sag.own_weight / sag.total()).clamp(0.0, 1.0) } else { 0.0 }
    }

    /// Why it sags so far after the years of the design: bending under the load, its own weight and shear told apart, and creep.
    pub fn why_after(&self) -> Worked {
        let (creeps, years, _) = self.curve.solved.creeps;
        after(self.why_at_once(), creeps, years)
    }

    /// Why it sags so far at once.
    pub fn why_at_once(&self) -> Worked {
        match &self.curve.solved.on_points {
            None => self.borne().at_once(),
            Some(on) => on.slab.why_at_once(on.at),
        }
    }

    /// What EN 1995-1-1 makes of the same sag in the end, for comparison; nothing where it has no factor of creep for the stuff.
    pub fn why_by_eurocode(&self) -> Option<Worked> {
        after_by_eurocode(&self.why_at_once(), self.curve.solved.board?)
    }

    /// Its greatest stress in bending, and what may be asked for years where that is known.
    pub fn why_bending(&self) -> (Worked, Option<Worked>) {
        match &self.curve.solved.on_points {
            Some(OnPoints { slab, hardest: Some(at), .. }) => (slab.why_stress(*at, self.curve.on_plate()), allowed_bending(self.of())),
            Some(OnPoints { hardest: None, .. }) | None => self.borne().bending_stress(),
        }
    }

    /// Its greatest stress in shear, and what may be asked for years where that is known.
    pub fn why_shear(&self) -> (Worked, Option<Worked>) {
        self.borne().shear_stress()
    }

    fn borne(&self) -> Borne<'_> {
        let Solved { of, section, loads, bent, .. } = &*self.curve.solved;
        Borne { of, section, loads, bent }
    }

    /// What a support bears, N, by its place in the order in which it is held.
    pub(super) fn reaction(&self, support: usize) -> f64 {
        self.curve.bent().reactions().get(support).map_or(0.0, |reaction| reaction.force)
    }

    /// What it is made of.
    pub(super) fn of(&self) -> &Properties {
        &self.curve.solved.of
    }

    /// Whether boxes stand on it.
    pub fn is_board(&self, model: &Model) -> bool {
        is_board(model.part(self.part))
    }
}

/// Beams that were solved, by all that they depend on: a case has many that are alike.
#[derive(Default)]
pub(super) struct Known {
    beams: HashMap<Vec<i64>, Arc<Solved>>,
    slabs: HashMap<Vec<i64>, Arc<Slab>>,
}

impl Known {
    /// How a part bends under what presses on it.
    ///
    /// # Errors
    /// When what holds it does not, or it is no beam.
    pub fn bending(
        &mut self,
        model: &Model,
        limits: &Limits,
        lying: &Lying,
        (pressed, bears): (&[Pressed], Bears),
        room: Option<usize>,
    ) -> Result<Bending, Unjudged> {
        let material = &model.part(lying.part).material;
        let (creeps, board) = (Creep::of(material).unwrap_or(Creep::Panel), Board::of(material));
        let key = key(lying, creeps, pressed);
        let solved = match self.beams.get(&key) {
            Some(solved) if solved.of == lying.of => solved.clone(),
            _ => {
                let solved = solve(limits, lying, (creeps, board), pressed).map_err(|why| Unjudged::all(lying.part, Why::Other(why)))?;
                let solved = Arc::new(solved);
                self.beams.insert(key, solved.clone());
                solved
            }
        };
        let curve = Curve { axis: lying.axis, from: lying.from, to: lying.to, solved };
        Ok(Bending { part: lying.part, room, bears, curve, spans: Spans::along(lying.axis) })
    }

    /// A board that was judged as a beam each way, from side to side and from front to back, as the plate on points that it is: both ways and in
    /// its middle, and what each point bears, N. Points and loads are from its left end and its back edge, mm. Nothing where it rocks on them.
    pub fn on_points(
        &mut self,
        limits: &Limits,
        lying: [&Lying; 2],
        beams: [Bending; 2],
        points: Vec<[f64; 2]>,
        loads: Vec<Patch>,
    ) -> Option<(Vec<Bending>, Vec<f64>)> {
        let grain = |value: f64| (value * 1e4).round() as i64;
        let [along, across] = lying;
        let sizes = [along.to - along.from, across.to - across.from, along.thickness, along.of.modulus.value, across.of.modulus.value];
        let all = loads.iter().flat_map(|load| load.from.into_iter().chain(load.to).chain([load.force]));
        let key: Vec<i64> =
            sizes.into_iter().chain(points.iter().flatten().copied()).map(grain).chain([i64::MIN]).chain(all.map(grain)).collect();
        let known = self.slabs.get(&key).cloned();
        let slab = if let Some(slab) = known {
            slab
        } else {
            let of = beams.each_ref().map(|bending| {
                let Solved { of, section, loads, bent, .. } = &*bending.curve.solved;
                BeamOf { of: of.clone(), section: section.clone(), loads: loads.clone(), bent: bent.clone() }
            });
            let slab = Arc::new(Slab::of(lying, points, loads, of).ok()?);
            self.slabs.insert(key, slab.clone());
            slab
        };
        let [first, second] = beams;
        let middle = Bending { spans: Spans::Middle, ..first.clone() };
        let bears = slab.bears();
        let corner = [along.from, across.from];
        Some(([first, second, middle].into_iter().map(|beam| of_slab(limits, beam, (&slab, corner))).collect(), bears))
    }
}

/// One way of a board on points, by what it would be as a beam.
fn of_slab(limits: &Limits, beam: Bending, (slab, corner): (&Arc<Slab>, [f64; 2])) -> Bending {
    let Solved { of, board, section, loads, bent, creeps, bending, shear, .. } = &*beam.curve.solved;
    let axis = beam.curve.on_plate();
    let farthest = slab.farthest(beam.spans);
    let at_once = farthest.sag.total();
    let (place, stress) = match beam.spans {
        Spans::Middle => (farthest.at, slab.stress_at(farthest.at, axis)),
        Spans::SideToSide | Spans::FrontToBack => slab.hardest(axis),
    };
    // Over its pins it may be bent harder the other way by what stands out beyond them.
    let harder = beam.spans == Spans::Middle || stress >= bending.found;
    let allowed = allowed_bending(of);
    let solved = Solved {
        of: of.clone(),
        board: *board,
        section: section.clone(),
        loads: loads.clone(),
        bent: bent.clone(),
        span: Span { from: 0.0, to: farthest.length, overhang: false, at: farthest.at[axis], sag: farthest.sag },
        at_once,
        creeps: *creeps,
        verdict: limits.sag.judge(farthest.length, at_once, at_once * creeps.2),
        bending: if harder { Stress::new(stress, How::Read, allowed.as_ref()) } else { *bending },
        shear: *shear,
        on_points: Some(OnPoints { slab: slab.clone(), corner, at: farthest.at, hardest: harder.then_some(place) }),
    };
    Bending { curve: Curve { solved: Arc::new(solved), ..beam.curve }, ..beam }
}

/// All that a beam depends on but its timber, to a ten-thousandth.
fn key(lying: &Lying, creeps: Creep, pressed: &[Pressed]) -> Vec<i64> {
    let grain = |value: f64| (value * 1e4).round() as i64;
    let sizes = [lying.to - lying.from, lying.width, lying.thickness, lying.of.modulus.value];
    let held = lying.held.iter().map(|(at, _)| at - lying.from);
    let loads = pressed.iter().flat_map(|pressed| [pressed.from - lying.from, pressed.to - lying.from, pressed.force]);
    let figures = sizes.into_iter().chain(held).map(grain);
    figures.chain([i64::MIN + i64::from(creeps == Creep::Panel)]).chain(loads.map(grain)).collect()
}

fn solve(limits: &Limits, lying: &Lying, (creeps, board): (Creep, Option<Board>), pressed: &[Pressed]) -> Result<Solved, String> {
    let section = lying.section().map_err(|error| error.to_string())?;
    let beam = lying.beam(section.clone(), pressed);
    let bent = beam.solve().map_err(|error| error.to_string())?;
    let span = bent.worst();
    let times = creep(creeps, limits.years);
    let at_once = span.sag.total();
    let stress = |found: Extreme, allowed: Option<Worked>| Stress::new(found.value, How::Read, allowed.as_ref());
    Ok(Solved {
        verdict: limits.sag.judge(span.limit_length(), at_once, at_once * times),
        bending: stress(bent.bending_stress(), allowed_bending(&lying.of)),
        shear: stress(bent.shear_stress(), allowed_shear(&lying.of)),
        of: lying.of.clone(),
        board,
        section,
        loads: beam.loads,
        bent,
        span,
        at_once,
        creeps: (creeps, limits.years, times),
        on_points: None,
    })
}

/// Whether a part is what boxes may stand on.
pub(super) fn is_board(part: &Part) -> bool {
    match part.kind {
        PartKind::Slat | PartKind::Shelf | PartKind::Floor | PartKind::Own => true,
        PartKind::Post
        | PartKind::Rail
        | PartKind::Stile
        | PartKind::Muntin
        | PartKind::CrossRail
        | PartKind::Panel
        | PartKind::Top
        | PartKind::Bearer
        | PartKind::Standard
        | PartKind::Cleat
        | PartKind::Pin
        | PartKind::Spacer
        | PartKind::Button
        | PartKind::LooseTenon
        | PartKind::Dowel
        | PartKind::Clip
        | PartKind::Plate
        | PartKind::Strip
        | PartKind::Shim => false,
    }
}
