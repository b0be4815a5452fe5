//! Shelves and the rooms between them: what is alike in every bay, and a file for each system that holds them.

mod boards;
mod cleats;
mod housed;
mod pins;
mod sawtooth;
mod spacers;

use super::frames::Frames;
use super::interior::{BayPlan, floor_thickness};
use super::{Builder, DesignError, Levels};
use crate::design::{Bottom, Fitting, ShelfOf, Shelves, System};
use crate::inspect::{Figure, Finding, Remedy, Rule, Seriousness};
use crate::length::trimmed;
use crate::model::{Bay, LevelKind, PartId, Room, ShelfLevels};
use crate::origin::{Origin, Size};
use crate::place::{Block, Dir};
use crate::sentence::inside;

/// The least length of a cleat at its upper edge, and the least depth of a shelf, mm: less is a slip.
const LEAST_CLEAT: f64 = 5.0;

/// A bay whose shelves are laid.
struct Place<'p> {
    /// Which bay, from 0.
    bay: usize,
    plan: &'p BayPlan,
    flanks: [Flank; 2],
}

impl Place<'_> {
    /// What a shelf is called in the names of its parts, and in their titles.
    fn names(&self, shelf: usize) -> (String, String) {
        (format!("{}.{}", self.bay + 1, shelf + 1), format!("bay {}, shelf {}", self.bay + 1, shelf + 1))
    }

    /// Its clear width.
    fn clear(&self) -> Size {
        Size::sum("clear width of the bay", [(1.0, &self.plan.right), (-1.0, &self.plan.left)])
    }
}

/// One side of a bay.
struct Flank {
    word: &'static str,
    /// x of the bay's clear face there.
    face: f64,
    /// Out of the bay.
    out: Dir,
    /// What stands there, front and back.
    uprights: [PartId; 2],
}

impl Flank {
    /// So far out of the bay from its face; less than nothing is inside it.
    fn out_by(&self, mm: f64) -> f64 {
        self.face + self.out.sign() * mm
    }
}

pub(super) fn build(builder: &mut Builder<'_>, levels: &Levels, plans: &[BayPlan], frames: &Frames) -> Result<(), Vec<DesignError>> {
    let fitted = sawtooth::Fitted::of(builder, levels, plans)?;
    let mut last = None;
    for (bay, plan) in plans.iter().enumerate() {
        let place = Place { bay, plan, flanks: flanks(plan, bay, plans.len(), frames) };
        let depth = front_to_back(builder, levels, frames, &plan.fitting)?;
        let laid = match &plan.fitting {
            Fitting::Sawtooth(shelves) => match &fitted {
                Some(fitted) => {
                    let beside = [bay.checked_sub(1), Some(bay + 1)].map(|bay| plans.get(bay?));
                    sawtooth::build(builder, levels, fitted, &place, (shelves, &depth), beside, &mut last)
                }
                None => Laid::default(),
            },
            Fitting::Pins(shelves) => pins::build(builder, levels, &place, shelves, &depth),
            Fitting::Cleats(shelves) => cleats::build(builder, levels, &place, shelves, &depth),
            Fitting::Housed(shelves) => housed::build(builder, levels, &place, shelves, &depth),
            Fitting::Empty => Laid::default(),
        };
        rooms(builder, levels, &place, &depth, &laid);
    }
    Ok(())
}

fn flanks(plan: &BayPlan, bay: usize, bays: usize, frames: &Frames) -> [Flank; 2] {
    let upright = |left: bool, index: Option<usize>| {
        let divided = index.and_then(|index| Some([*frames.front.uprights.get(index)?, *frames.back.as_ref()?.uprights.get(index)?]));
        divided.unwrap_or([frames.post(true, left), frames.post(false, left)])
    };
    [
        Flank { word: "left", face: plan.left.mm, out: Dir::MinusX, uprights: upright(true, bay.checked_sub(1)) },
        Flank { word: "right", face: plan.right.mm, out: Dir::PlusX, uprights: upright(false, (bay + 1 < bays).then_some(bay)) },
    ]
}

/// z of the back and the front of the shelves of a bay.
struct Depth {
    rear: Size,
    fore: Size,
}

/// Whether the shelves that a fitting has are solid boards.
fn is_solid(builder: &Builder<'_>, fitting: &Fitting) -> bool {
    let design = builder.design;
    match fitting.system() {
        Some(System::Pins | System::Housed) => true,
        Some(System::Sawtooth) => design.sawtooth.of == ShelfOf::Solid,
        Some(System::Cleats) => design.cleats.of == ShelfOf::Solid,
        None => false,
    }
}

/// The inner face of the back rails: of the one that reaches farthest in.
fn rear(builder: &Builder<'_>, levels: &Levels, frames: &Frames) -> Size {
    let rails = frames.back.as_ref().map_or_else(Vec::new, |back| vec![back.bottom, back.top]);
    let inner = rails.into_iter().map(|rail| levels.inner_of(builder, rail, Dir::MinusZ));
    let farthest = inner.max_by(|a, b| a.mm.total_cmp(&b.mm));
    farthest.unwrap_or_else(|| levels.inner.clone()).named("inner face of the back rails")
}

fn front_to_back(builder: &Builder<'_>, levels: &Levels, frames: &Frames, fitting: &Fitting) -> Result<Depth, Vec<DesignError>> {
    let path = if is_solid(builder, fitting) { "shelf.set_back" } else { "sawtooth.slats.set_back" };
    let rear = rear(builder, levels, frames);
    // A housing that runs out in front is filled by its shelf.
    let flush = fitting.system() == Some(System::Housed) && builder.design.housed.stop.to_mm() <= 0.0;
    let fore = if flush {
        levels.depth.named("front of the shelves, flush with the posts")
    } else {
        Size::sum("front of the shelves", [(1.0, &levels.depth), (-1.0, &builder.size(path))])
    };
    if fore.mm - rear.mm < LEAST_CLEAT {
        let problem = format!("it leaves {} for a shelf", trimmed(fore.mm - rear.mm));
        return Err(no_room(path, problem, "set the shelves back less".to_owned()));
    }
    Ok(Depth { rear, fore })
}

fn no_room(path: &str, problem: String, remedy: String) -> Vec<DesignError> {
    vec![DesignError::NoRoom { path: path.to_owned(), problem, remedy }]
}

/// What was laid in a bay.
#[derive(Default)]
struct Laid {
    /// The levels there; none where there are no shelves.
    levels: Option<ShelfLevels>,
    /// From the lowest.
    shelves: Vec<Placed>,
}

/// A shelf that was placed.
struct Placed {
    level: u32,
    /// Its place among those of its bay.
    index: usize,
    /// The heights of its lower and its upper face, over the floor of the room, mm.
    heights: (f64, f64),
}

/// What the levels of a bay are in: the part that is named where a shelf can't be placed, and how many levels it has.
#[derive(Clone, Copy)]
struct LevelsIn {
    part: PartId,
    count: u32,
}

/// Places the shelves whose levels are there and free by `place`, which is given the level and the number of each, and gives the heights of its
/// lower and its upper face.
fn lay(
    builder: &mut Builder<'_>,
    at: &Place<'_>,
    shelves: &Shelves,
    levels: ShelfLevels,
    of: LevelsIn,
    mut place: impl FnMut(&mut Builder<'_>, u32, usize) -> (f64, f64),
) -> Laid {
    let mut used: Vec<Placed> = Vec::new();
    let wish = Wish { at, levels: &levels, wishes: &shelves.shelves, of };
    for (index, &level) in shelves.shelves.iter().enumerate() {
        if level == 0 || level > of.count {
            builder.found(wish.not_there(builder, index, level));
        } else if let Some(other) = used.iter().find(|other| other.level == level) {
            builder.found(wish.taken([index, other.index], level));
        } else {
            let heights = place(builder, level, index);
            used.push(Placed { level, index, heights });
        }
    }
    used.sort_by_key(|placed| placed.level);
    Laid { levels: Some(levels), shelves: used }
}

/// The levels that the shelves of a bay ask for.
struct Wish<'w> {
    at: &'w Place<'w>,
    levels: &'w ShelfLevels,
    wishes: &'w [u32],
    of: LevelsIn,
}

impl Wish<'_> {
    /// The levels that leave room to every other shelf, the highest first.
    fn free(&self, index: usize) -> impl Iterator<Item = u32> {
        let step = self.levels.steps(0.0);
        let others: Vec<u32> = self.wishes.iter().enumerate().filter(|(other, _)| *other != index).map(|(_, level)| *level).collect();
        (1..=self.of.count).rev().filter(move |level| others.iter().all(|other| other.abs_diff(*level) >= step))
    }

    fn put(&self, index: usize, level: u32) -> Remedy {
        let one = self.levels.kind.words().0;
        Remedy {
            words: format!("Put it on {one} {level}, which is free"),
            changes: vec![(format!("{}.shelves.{}", self.at.plan.path, index + 1), level.to_string())],
        }
    }

    fn taken(&self, [index, other]: [usize; 2], level: u32) -> Finding {
        let (one, _) = self.levels.kind.words();
        let bay = self.at.bay + 1;
        let message = format!("Shelf {} of bay {bay} is left out: shelf {} lies on {one} {level} already", index + 1, other + 1);
        let nearest = self.free(index).min_by_key(|free| free.abs_diff(level));
        let remedy = nearest.map(|level| self.put(index, level));
        self.left_out(vec![Figure::count(self.wanted(), level)], message, remedy.into_iter().collect())
    }

    fn not_there(&self, builder: &Builder<'_>, index: usize, level: u32) -> Finding {
        let (one, many) = self.levels.kind.words();
        let (bay, count) = (self.at.bay + 1, self.of.count);
        let remedy = self.free(index).next().map(|level| self.put(index, level));
        let mut figures = vec![Figure::count(self.wanted(), level), Figure::count(many, count)];
        if count < self.levels.count && level != 0 {
            // What they are in came out too short.
            let short = builder.part(self.of.part);
            let wanted = match &short.size[0].origin {
                Origin::Measured { planned, .. } => planned.mm,
                Origin::Decision { .. } | Origin::Sum(_) | Origin::Rule { .. } => short.size[0].mm,
            };
            figures.push(Figure::mm("lacking", wanted - short.size[0].mm));
            let message = format!(
                "Shelf {} of bay {bay} has no {one}: {} is {} mm long where {} is wanted, and has {count} {many}; it asks for {one} {level}",
                index + 1,
                short.title,
                trimmed(short.size[0].mm),
                trimmed(wanted)
            );
            let anew = Remedy {
                words: format!("Make {} new", inside(&short.title)),
                changes: vec![(format!("made.{}.state", short.name), "planned".to_owned())],
            };
            return self.left_out(figures, message, std::iter::once(anew).chain(remedy).collect());
        }
        let message = match self.levels.kind {
            LevelKind::Tooth => {
                format!("Shelf {} of bay {bay} has no tooth: it asks for tooth {level} and the standards have {count}", index + 1)
            }
            LevelKind::Hole => format!("Shelf {} of bay {bay} has no hole: it asks for hole {level} and the rows have {count}", index + 1),
            LevelKind::Step => {
                format!("Shelf {} of bay {bay} has no {one}: it asks for {level} and there is room for {count} {many}", index + 1)
            }
        };
        self.left_out(figures, message, remedy.into_iter().collect())
    }

    fn wanted(&self) -> &'static str {
        match self.levels.kind {
            LevelKind::Tooth => "tooth wanted",
            LevelKind::Hole => "hole wanted",
            LevelKind::Step => "level wanted",
        }
    }

    /// A shelf that is not placed.
    fn left_out(&self, figures: Vec<Figure>, message: String, remedies: Vec<Remedy>) -> Finding {
        Finding {
            rule: Rule::ShelfHasTooth,
            seriousness: Seriousness::WillFail,
            parts: vec![self.of.part],
            explains: Vec::new(),
            joint: None,
            place: None,
            figures,
            message,
            source: "arithmetic",
            remedies,
        }
    }
}

/// How many levels there are from the lowest, so far apart, while so much is left.
fn steps_in(room: f64, step: f64) -> u32 {
    if room < -1e-9 || step <= 0.0 { 0 } else { (room / step + 1e-9).floor() as u32 + 1 }
}

/// The bay, and its clear rooms from the floor up.
fn rooms(builder: &mut Builder<'_>, levels: &Levels, at: &Place<'_>, depth: &Depth, laid: &Laid) {
    let has_floor = matches!(builder.design.carcase.bottom, Bottom::LooseFloor(_));
    let (plan, bay) = (at.plan, at.bay);
    // Where each begins, and what lies above the one before it there.
    let mut bases: Vec<(Option<usize>, f64, f64)> = Vec::new();
    if has_floor {
        let floor = builder.as_bought(&super::floor::first_name(builder.design, bay), &floor_thickness(builder));
        bases.push((None, levels.low.mm + floor.mm - floor_thickness(builder).mm, levels.low.mm));
    }
    bases.extend(laid.shelves.iter().map(|placed| (Some(placed.index), placed.heights.1, placed.heights.0)));
    let across = (plan.left.mm, plan.right.mm);
    let along = (depth.rear.mm, depth.fore.mm);
    let space = Block::new(across, (levels.low.mm, levels.high.mm), along);
    builder.add_bay(Bay { space, has_floor, teeth: laid.levels });
    for (index, &(shelf, base, _)) in bases.iter().enumerate() {
        let ceiling = bases.get(index + 1).map_or(levels.high.mm, |(.., above)| *above);
        if ceiling <= base {
            continue;
        }
        let name = shelf.map_or_else(|| format!("the floor of bay {}", bay + 1), |shelf| format!("shelf {} of bay {}", shelf + 1, bay + 1));
        builder.add_room(Room { name, bay, shelf, space: Block::new(across, (base, ceiling), along) });
    }
}
