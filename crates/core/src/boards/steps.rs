//! The cuts of a board in their order, each with the setting of fence or stop, what it frees, and where what is sawn is too short or too heavy to hold.

use casewright_cutting::boards::in_order;

use super::around::{Area, cut_through, way};
use super::rack::{Rack, Usable, racks};
use super::{Cut, Direction, Marked, Piece};
use crate::design::pile::Stuff;
use crate::design::{Design, Kerfs, Machine, MachineWork};
use crate::length::trimmed_to;
use crate::model::Model;

/// A cut as it is made.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// Where it lies on the board.
    pub cut: Cut,
    /// From the fence or stop to the blade, mm: the width or length of what lies between, from the first edge or end of what is sawn, or
    /// from the second where a shorter piece comes off there.
    pub set: f64,
    /// Length and width of what is sawn, mm.
    pub of: [f64; 2],
    /// Where that begins along the board and across it, mm from the untrimmed corner.
    pub from: [f64; 2],
    /// The pieces that are by themselves after it, by their words.
    pub frees: Vec<String>,
    /// What to look out for.
    pub cautions: Vec<String>,
}

impl Step {
    /// Saw and setting: `rip, fence 34 wide`.
    fn setting(&self) -> String {
        let (saw, at) = match self.cut.cut {
            Direction::Across => ("crosscut, stop", "long"),
            Direction::Along => ("rip, fence", "wide"),
        };
        format!("{saw} {} {at}", trimmed_to(self.set, 1))
    }

    /// Whether what is sawn is a part of what was sawn before.
    fn is_left_by(&self, before: &Step) -> bool {
        Area::new(self.from, self.of).is_within(&Area::new(before.from, before.of))
    }
}

impl Run {
    /// What is sawn and how often: `of 2640 × 260`, `2 times: of 2640 × 260, then of what is left`, `4 times: of 2 pieces of 1249 × 90.4, each then of what is left`.
    pub fn of_words(&self) -> String {
        let mut kinds: Vec<([f64; 2], usize)> = Vec::new();
        for of in &self.of {
            match kinds.iter_mut().find(|(known, _)| known.iter().zip(of).all(|(a, b)| (a - b).abs() < SAME_SETTING)) {
                Some((_, count)) => *count += 1,
                None => kinds.push((*of, 1)),
            }
        }
        let kind = |([length, width], count): &([f64; 2], usize)| {
            let size = format!("{} × {}", trimmed_to(*length, 1), trimmed_to(*width, 1));
            if *count > 1 { format!("{count} pieces of {size}") } else { size }
        };
        let of = kinds.iter().map(kind).collect::<Vec<_>>().join(" and ");
        let left = match (self.times > self.of.len(), self.of.len()) {
            (false, _) => "",
            (true, 1) => ", then of what is left",
            (true, _) => ", then of what is left of them",
        };
        if self.times > 1 { format!("{} times: of {of}{left}", self.times) } else { format!("of {of}") }
    }
}

/// Cuts that follow each other at one setting of fence or stop.
#[derive(Clone, Debug, PartialEq)]
pub struct Run {
    /// Saw and setting: `rip, fence 34 wide`.
    pub setting: String,
    /// How many cuts.
    pub times: usize,
    /// What is sawn, by the length and width it has before the first of these cuts, mm; what is sawn again from what a cut left is there once.
    pub of: Vec<[f64; 2]>,
    /// The pieces that are by themselves after them, by their words.
    pub frees: Vec<String>,
    /// What to look out for, each once.
    pub cautions: Vec<String>,
}

/// The cuts of a board, those of one setting together.
pub fn runs(steps: &[Step]) -> Vec<Run> {
    let at_one = |one: &Step, next: &Step| one.cut.cut == next.cut.cut && (one.set - next.set).abs() < SAME_SETTING;
    let run = |steps: &[Step]| {
        let mut cautions: Vec<String> = Vec::new();
        for caution in steps.iter().flat_map(|step| &step.cautions) {
            if !cautions.contains(caution) {
                cautions.push(caution.clone());
            }
        }
        Run {
            setting: steps.first().map(Step::setting).unwrap_or_default(),
            times: steps.len(),
            of: steps
                .iter()
                .enumerate()
                .filter(|(at, step)| !steps.iter().take(*at).any(|before| step.is_left_by(before)))
                .map(|(_, step)| step.of)
                .collect(),
            frees: steps.iter().flat_map(|step| step.frees.iter().cloned()).collect(),
            cautions,
        }
    };
    steps.chunk_by(at_one).map(run).collect()
}

/// What is cut off a board before its pieces: off each end, and off each edge, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Trims {
    /// Off the first and the second end.
    pub ends: [f64; 2],
    /// Off the first and the second edge.
    pub edges: [f64; 2],
    /// What is done before that, where it is resawn.
    pub before: Option<String>,
}

/// What is as long is easily held when it is crosscut, and what is as wide when it is ripped, mm (common practice, no source).
const EASY: [f64; 2] = [600.0, 75.0];
/// A crosscut that leaves less than this on a side brings hands near the blade, mm: clear of it by 75 (3 in, a rule of small parts, read).
const HANDS: f64 = 75.0;

/// How a board is cut up: what is trimmed off, then cut by cut.
pub fn steps(design: &Design, model: &Model, board: &Marked) -> Option<(Trims, Vec<Step>)> {
    let (racks, _) = racks(design, model);
    let rack = racks.iter().find(|rack| rack.entry(board.entry).is_some())?;
    let usable = rack.entry(board.entry)?;
    Some(steps_on(design, rack, usable, board))
}

/// How a board of a rack is cut up.
pub(super) fn steps_on(design: &Design, rack: &Rack<'_>, usable: &Usable<'_>, board: &Marked) -> (Trims, Vec<Step>) {
    let stuff = usable.stuff;
    // kg on a square millimetre.
    let density = rack.density.map(|density| density * stuff.thickness.to_mm() / f64::from(stuff.leaves.max(1)) / 1e9);
    let area = |piece: &Piece| Area::new([piece.x, piece.y], [piece.length, piece.width]);
    let whole = board.pieces.iter().fold(usable.area, |all, piece| all.with(&area(piece)));
    let size = [stuff.length.to_mm(), stuff.width.to_mm()];
    let trim = |way: usize| [whole.from[way], size[way] - whole.to[way]];
    let (kerfs, mut left) = (design.timber.kerfs(rack.sheets), vec![whole]);
    let mut steps: Vec<Step> = Vec::new();
    let room = [0, 1].map(|way| [whole.from[way], whole.to[way]]);
    let liftable = density.map_or(f64::INFINITY, |density| design.limits.lift / density);
    let pieces: Vec<(Area, [f64; 2])> = board.pieces.iter().map(|piece| (area(piece), piece.more)).collect();
    let set = |cut: &Cut, sawn: &Area| set(&pieces, cut, sawn, kerfs);
    let is_wanted = |[[from, to], [low, high]]: [[f64; 2]; 2]| {
        let part = Area { from: [from, low], to: [to, high] };
        pieces.iter().any(|(piece, _)| piece.common(&part).is_some())
    };
    let mut pending = in_order(room, &board.cuts, kerfs.by_way(), (liftable, EASY), &is_wanted);
    while !pending.is_empty() {
        let now = steps.last().map(|step| (step.cut.cut, step.set));
        let cut = pending.remove(now.map_or(0, |now| at_setting(now, &pending, &left, kerfs, set)));
        let Some((sawn, parts)) = cut_through(&mut left, &cut, kerfs) else { continue };
        let by_itself = |piece: &&Piece| parts.iter().any(|part| part.is_same(&area(piece)));
        let setting = set(&cut, &sawn);
        steps.push(Step {
            cut,
            set: setting,
            of: sawn.size(),
            from: sawn.from,
            frees: board.pieces.iter().filter(by_itself).map(|piece| piece.words.clone()).collect(),
            cautions: cautions(design, stuff, &cut, (&sawn, setting), density),
        });
    }
    (Trims { ends: trim(0), edges: trim(1), before: before(design, stuff) }, steps)
}

/// From the fence or stop to the blade, mm: as wide or long as what is wanted, the waste falls off beyond. Of two that are wanted the one that a piece is as wide or
/// long as, and of two such the smaller; a piece on which something is left is what is left itself. Of each piece is told where it lies, and what is left on it.
fn set(pieces: &[(Area, [f64; 2])], cut: &Cut, sawn: &Area, kerfs: Kerfs) -> f64 {
    let way = way(cut);
    let (mut below, mut beyond) = (*sawn, *sawn);
    below.to[way] = cut.at.max(sawn.from[way]);
    beyond.from[way] = (cut.at + kerfs.by_way()[way]).min(sawn.to[way]);
    let is_wanted = |part: &Area| pieces.iter().any(|(piece, _)| piece.common(part).is_some());
    let is_as_large = |part: &Area| {
        let same = |(piece, more): &(Area, [f64; 2])| {
            more[way] == 0.0 && (piece.size()[way] - part.size()[way]).abs() < SAME_SETTING && piece.common(part).is_some()
        };
        pieces.iter().any(same)
    };
    let [near, far] = [&below, &beyond].map(|part| part.size()[way].max(0.0));
    match (is_wanted(&below), is_wanted(&beyond)) {
        (true, false) => near,
        (false, true) => far,
        (true, true) | (false, false) => match (is_as_large(&below), is_as_large(&beyond)) {
            (true, false) => near,
            (false, true) => far,
            (true, true) | (false, false) => near.min(far),
        },
    }
}

/// Which of the cuts that are pending is made next: the first, or another of its stage in another part of the board that is made at the setting
/// the saw has now.
fn at_setting(now: (Direction, f64), pending: &[Cut], left: &[Area], kerfs: Kerfs, set: impl Fn(&Cut, &Area) -> f64) -> usize {
    let Some(first) = pending.first() else { return 0 };
    let of_stage = pending.iter().take_while(|cut| (cut.stage, cut.cut) == (first.stage, first.cut));
    // What lies in one part of the board keeps its order.
    let mut begun: Vec<usize> = Vec::new();
    for (at, cut) in of_stage.enumerate() {
        let Some((part, sawn)) = left.iter().enumerate().find(|(_, part)| part.takes(cut, kerfs)) else { continue };
        if begun.contains(&part) {
            continue;
        }
        begun.push(part);
        if now.0 == cut.cut && (set(cut, sawn) - now.1).abs() < SAME_SETTING {
            return at;
        }
    }
    0
}

/// Settings that differ by less are one, mm.
const SAME_SETTING: f64 = 0.05;

/// The machines that rip.
fn saws(design: &Design) -> impl Iterator<Item = &Machine> {
    design.shop.machines.0.iter().filter(|machine| machine.does == MachineWork::Rip)
}

fn cautions(design: &Design, stuff: &Stuff, cut: &Cut, (sawn, set): (&Area, f64), density: Option<f64>) -> Vec<String> {
    let mut told = Vec::new();
    let [length, width] = sawn.size();
    let mm = |mm: f64| trimmed_to(mm, 0);
    let most = |of: fn(&Machine) -> f64| saws(design).map(of).reduce(f64::max).unwrap_or(f64::INFINITY);
    match cut.cut {
        Direction::Along => {
            let least = saws(design).map(|saw| saw.least_length.to_mm()).reduce(f64::min).unwrap_or(0.0);
            if length < least {
                told.push(format!("{} long, shorter than the saw takes, {}: rip before it is crosscut, or by hand", mm(length), mm(least)));
            }
            let (widest, longest, thickest) = (
                most(|saw| saw.greatest_width.to_mm()),
                most(|saw| saw.greatest_length.to_mm()),
                most(|saw| saw.greatest_thickness.to_mm()),
            );
            if set > widest {
                told.push(format!("wider than the fence goes, {}: saw along a straightedge", mm(widest)));
            }
            if length > longest {
                told.push(format!("longer than there is room for at the saw, {}: crosscut it first, or rip it by hand", mm(longest)));
            }
            let thickness = leaf(design, stuff);
            if thickness > thickest {
                told.push(format!("{} thick, thicker than the saw cuts, {}: from both faces, or by hand", mm(thickness), mm(thickest)));
            }
        }
        Direction::Across => {
            if length < 2.0 * HANDS || set < HANDS && set > 0.0 {
                told.push(format!("{} between stop and blade is small to hold: clamp it to a longer piece", mm(set)));
            }
        }
    }
    let mass = density.map(|density| density * length * width);
    let heavy = mass.filter(|mass| *mass > design.limits.lift);
    told.extend(heavy.map(|mass| format!("{} kg: two to hold it, or supports on both sides of the saw", mm(mass))));
    told
}

/// How thick it is when it is cut up: as sawn, or one of its leaves, mm.
fn leaf(design: &Design, stuff: &Stuff) -> f64 {
    let rules = &design.timber.rough;
    let planed = || if stuff.planed { stuff.thickness.to_mm() } else { rules.clean(stuff.thickness.to_mm(), stuff.length.to_mm()) };
    match stuff.leaves {
        0 | 1 => stuff.thickness.to_mm(),
        leaves => (planed() - f64::from(leaves - 1) * rules.resaw_kerf.to_mm()) / f64::from(leaves),
    }
}

/// What is done to a board before it is cut up: where it is resawn, that.
fn before(design: &Design, stuff: &Stuff) -> Option<String> {
    (stuff.leaves > 1).then(|| {
        format!("plane both faces, resaw into {} leaves of {}, and flatten each", stuff.leaves, trimmed_to(leaf(design, stuff), 1))
    })
}
