//! The setting-out rod: a stick of the height, one of the width, one of the depth, with every line that is marked off from them.
//!
//! ```text
//! Model ──each part and each cut, along one axis of the case──▶ bands and lines ──alike ones together──▶ Stick
//! ```
//!
//! A rod is as long as the case and is laid against the parts to mark them off, so that nothing is measured twice (common practice, no source).
//! All lines are counted from one datum: the ground, the left and the back of the case.

mod lines;

use crate::model::{Material, Model, Part, PartKind};
use crate::place::Dir;

use self::lines::Found;

/// Along which axis of the case a stick runs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Up from the ground.
    Height,
    /// To the right from the left of the case.
    Width,
    /// To the front from the back of the case.
    Depth,
}

impl Way {
    /// All three.
    pub const ALL: [Way; 3] = [Way::Height, Way::Width, Way::Depth];

    /// The axis of the case: 0 x, 1 y, 2 z.
    pub fn axis(self) -> usize {
        match self {
            Way::Width => 0,
            Way::Height => 1,
            Way::Depth => 2,
        }
    }

    /// What the stick is called.
    pub fn word(self) -> &'static str {
        match self {
            Way::Height => "height",
            Way::Width => "width",
            Way::Depth => "depth",
        }
    }

    /// From where it is counted.
    pub fn datum(self) -> &'static str {
        match self {
            Way::Height => "from the ground",
            Way::Width => "from the left of the case",
            Way::Depth => "from the back of the case",
        }
    }

    /// The nearer and the farther side, as a face is called that looks there.
    pub(crate) fn sides(self) -> [&'static str; 2] {
        match self {
            Way::Height => ["lower", "upper"],
            Way::Width => ["left", "right"],
            Way::Depth => ["back", "front"],
        }
    }
}

/// The parts that are drawn side by side on a stick.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Lane {
    /// Corner posts.
    Posts,
    /// The front frame.
    Front,
    /// The frames at the sides.
    Sides,
    /// The back frame.
    Back,
    /// Floors, dividers from front to back, and all that carries shelves.
    Inside,
    /// The top.
    Top,
}

impl Lane {
    /// All of them, as they lie side by side.
    pub const ALL: [Lane; 6] = [Lane::Posts, Lane::Front, Lane::Sides, Lane::Back, Lane::Inside, Lane::Top];

    /// Its name.
    pub fn word(self) -> &'static str {
        match self {
            Lane::Posts => "Posts",
            Lane::Front => "Front",
            Lane::Sides => "Sides",
            Lane::Back => "Back",
            Lane::Inside => "Inside",
            Lane::Top => "Top",
        }
    }

    /// That of a part in a case whose middle lies there; frames are told by where they stand.
    fn of(part: &Part, middle: glam::DVec3) -> Lane {
        let looks = Dir::nearest(part.pose.basis.z_axis).axis();
        let block = part.block();
        let in_front = block.centre().z > middle.z;
        match part.kind {
            PartKind::Post => Lane::Posts,
            PartKind::Stile => Lane::Front,
            PartKind::Muntin => Lane::Back,
            PartKind::Top | PartKind::Strip => Lane::Top,
            PartKind::Rail | PartKind::Panel => match looks {
                0 => Lane::Sides,
                1 => Lane::Inside,
                _ if in_front => Lane::Front,
                _ => Lane::Back,
            },
            PartKind::CrossRail
            | PartKind::Floor
            | PartKind::Bearer
            | PartKind::Standard
            | PartKind::Cleat
            | PartKind::Slat
            | PartKind::Shelf
            | PartKind::Pin
            | PartKind::Spacer
            | PartKind::Button
            | PartKind::LooseTenon
            | PartKind::Dowel
            | PartKind::Clip
            | PartKind::Plate
            | PartKind::Shim
            | PartKind::Own => Lane::Inside,
        }
    }
}

/// What parts of one lane cover of a stick.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    /// Where it is drawn.
    pub lane: Lane,
    /// From where, mm from the datum.
    pub from: f64,
    /// To where, mm.
    pub to: f64,
    /// The marks of the parts.
    pub marks: Vec<String>,
    /// What is cut into them, from and to, mm.
    pub cuts: Vec<[f64; 2]>,
}

/// A line squared across the stick.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Where, mm from the datum.
    pub at: f64,
    /// What it is, each with the marks it is marked off on: `upper edge: R1, R3`.
    pub words: Vec<String>,
    /// Whether a part begins or ends there; else something is cut there.
    pub is_of_parts: bool,
}

/// A stick of the rod.
#[derive(Clone, Debug, PartialEq)]
pub struct Stick {
    /// Along which axis of the case.
    pub way: Way,
    /// Where it begins, mm from the datum; below zero where the top stands out.
    pub from: f64,
    /// Where it ends, mm.
    pub to: f64,
    /// What covers it, lane by lane.
    pub bands: Vec<Band>,
    /// Its lines, from the datum on.
    pub lines: Vec<Line>,
}

/// Lines nearer than this are one, mm.
const ONE_LINE: f64 = 0.02;

/// The rod of a case: its three sticks; none of a case without parts.
pub fn rod(model: &Model) -> Vec<Stick> {
    let Some(bounds) = model.bounds else { return Vec::new() };
    let parts: Vec<&Part> = model.parts.iter().filter(|part| is_on_it(part)).collect();
    let stick = |way: Way| {
        let axis = way.axis();
        let mut stick = Stick { way, from: bounds.min[axis].min(0.0), to: bounds.max[axis], bands: Vec::new(), lines: Vec::new() };
        let mut found = Vec::new();
        for part in &parts {
            let cuts = lines::of_part(model, part, way, &mut found);
            stick.cover(part, Lane::of(part, bounds.centre()), cuts);
        }
        lines::of_rooms(model, way, &mut found);
        stick.lines = together(found);
        stick
    };
    Way::ALL.into_iter().map(stick).collect()
}

/// Loose tenons, dowels and what is bought or screwed on after are marked off on nothing; their mortises, holes and slots are.
fn is_on_it(part: &Part) -> bool {
    let is_small = matches!(part.kind, PartKind::LooseTenon | PartKind::Dowel | PartKind::Shim | PartKind::Button);
    !is_small && !matches!(part.material, Material::Bought(_))
}

impl Stick {
    fn cover(&mut self, part: &Part, lane: Lane, cuts: Vec<[f64; 2]>) {
        let (axis, body) = (self.way.axis(), part.body());
        let (from, to) = (body.min[axis], body.max[axis]);
        let same = |band: &Band| band.lane == lane && (band.from - from).abs() < ONE_LINE && (band.to - to).abs() < ONE_LINE;
        let at = self.bands.iter().position(same).unwrap_or(self.bands.len());
        if at == self.bands.len() {
            self.bands.push(Band { lane, from, to, marks: Vec::new(), cuts: Vec::new() });
        }
        let Some(band) = self.bands.get_mut(at) else { return };
        if !band.marks.contains(&part.mark) {
            band.marks.push(part.mark.clone());
        }
        for cut in cuts {
            if !band.cuts.iter().any(|known| (known[0] - cut[0]).abs() < ONE_LINE && (known[1] - cut[1]).abs() < ONE_LINE) {
                band.cuts.push(cut);
            }
        }
    }
}

/// A line on its way: what is there, each with its marks.
struct Gathered {
    at: f64,
    is_of_parts: bool,
    names: Vec<(String, Vec<String>)>,
}

/// What was found, put together: lines at one place are one, and what is called the same there is said once with all its marks.
fn together(mut found: Vec<Found>) -> Vec<Line> {
    found.sort_by(|a, b| a.at.total_cmp(&b.at));
    let mut lines: Vec<Gathered> = Vec::new();
    for one in found {
        if lines.last().is_none_or(|last| one.at - last.at >= ONE_LINE) {
            lines.push(Gathered { at: one.at, is_of_parts: false, names: Vec::new() });
        }
        let Some(line) = lines.last_mut() else { continue };
        line.is_of_parts |= one.is_of_parts;
        let place = line.names.iter().position(|(what, _)| *what == one.what).unwrap_or(line.names.len());
        if place == line.names.len() {
            line.names.push((one.what, Vec::new()));
        }
        if let Some((_, marks)) = line.names.get_mut(place) {
            marks.extend(one.mark.filter(|mark| !marks.contains(mark)));
        }
    }
    let words = |(what, marks): (String, Vec<String>)| if marks.is_empty() { what } else { format!("{what}: {}", marks.join(", ")) };
    let line = |it: Gathered| Line { at: it.at, is_of_parts: it.is_of_parts, words: it.names.into_iter().map(words).collect() };
    lines.into_iter().map(line).collect()
}

#[cfg(test)]
mod tests;
