//! Templates: the shapes that are cut to a line and not to a fence, to be stuck on the wood in full size.
//!
//! ```text
//! Model ──teeth, slopes, notches, rounds──▶ the stretch of the part they lie in ──what is left there──▶ Template, shared by all parts alike
//! ```
//!
//! A template is seen as it is stuck on, on the face side, or for a tail on the face edge: along the part runs up, and the face edge is at the left.

mod kinds;
mod region;
mod teeth;

use casewright_solid::{Axis, Segment, Solid};
use glam::{BVec4, DVec2};

pub use self::teeth::Tooth;

use self::kinds::Shaped;
use self::region::Region;
use crate::design::shop::State;
use crate::model::{Model, Part, PartKind};
use crate::shapes::flat::Outline;

/// On which face a template lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seen {
    /// On the face side: width across.
    FaceSide,
    /// On the face edge: thickness across, the face side at the right.
    FaceEdge,
}

impl Seen {
    /// Both.
    pub const ALL: [Seen; 2] = [Seen::FaceSide, Seen::FaceEdge];

    fn axis(self) -> Axis {
        match self {
            Seen::FaceSide => Axis::T,
            Seen::FaceEdge => Axis::W,
        }
    }

    /// The own axis of the part that runs across: 1 W, 2 T.
    fn across(self) -> usize {
        match self {
            Seen::FaceSide => 1,
            Seen::FaceEdge => 2,
        }
    }

    /// In words.
    pub fn words(self) -> &'static str {
        match self {
            Seen::FaceSide => "face side",
            Seen::FaceEdge => "face edge",
        }
    }
}

/// What of a part a template shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Of {
    /// All of it.
    Whole,
    /// An end, right across.
    End {
        /// The second; else the first.
        second: bool,
    },
    /// A corner at an end, of a part too wide for more.
    Corner {
        /// At the second end; else at the first.
        second: bool,
        /// At the far edge; else at the near one.
        far: bool,
    },
}

/// How a template is laid on another place of the same shape.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Laid {
    /// As it is drawn.
    AsDrawn,
    /// Turned end for end on the same face.
    TurnedRound,
    /// Turned over, face down.
    TurnedOver,
}

/// A place at which a template serves.
#[derive(Clone, Debug, PartialEq)]
pub struct Use {
    /// The mark of the parts.
    pub mark: String,
    /// How many parts have it.
    pub parts: usize,
    /// Where.
    pub of: Of,
    /// How it is laid there.
    pub laid: Laid,
}

/// A shape in full size.
#[derive(Clone, Debug, PartialEq)]
pub struct Template {
    /// What it shows: "Teeth", "Slope of an end", "Notch".
    pub title: &'static str,
    /// The face it is laid on.
    pub seen: Seen,
    /// What of the first part it shows.
    pub of: Of,
    /// Across and along, mm.
    pub size: DVec2,
    /// Where its lower edge lies along the part, mm from the first end.
    pub from: f64,
    /// What is left of the wood: across from the left, along from below, mm.
    pub outlines: Vec<Outline>,
    /// Whether the part goes on beyond its left, right, lower and upper side.
    pub goes_on: BVec4,
    /// What is cut, in figures.
    pub notes: Vec<String>,
    /// A row of teeth from one datum, the first end.
    pub teeth: Vec<Tooth>,
    /// The places at which it serves, the first as it is drawn.
    pub uses: Vec<Use>,
}

impl Template {
    /// A side at which the part goes on, when both points lie in it.
    pub fn is_open(&self, from: DVec2, to: DVec2) -> bool {
        let on = |axis: usize, at: f64| (from[axis] - at).abs() < 1e-6 && (to[axis] - at).abs() < 1e-6;
        let sides = [(0, 0.0), (0, self.size.x), (1, 0.0), (1, self.size.y)];
        sides.into_iter().enumerate().any(|(number, (axis, at))| self.goes_on.test(number) && on(axis, at))
    }

    /// The marks it serves: `SL1, SL4`.
    pub fn marks(&self) -> String {
        let mut marks: Vec<&str> = Vec::new();
        for one in &self.uses {
            if !marks.contains(&one.mark.as_str()) {
                marks.push(&one.mark);
            }
        }
        marks.join(", ")
    }

    /// For what it is laid where, mark by mark: `SL1 (3 parts): first end; second end, turned over`.
    pub fn uses_in_words(&self) -> Vec<String> {
        let mut told: Vec<(String, Vec<String>)> = Vec::new();
        for one in &self.uses {
            let parts = if one.parts > 1 { format!(" ({} parts)", one.parts) } else { String::new() };
            let head = format!("{}{parts}", one.mark);
            let laid = match one.laid {
                Laid::AsDrawn => "",
                Laid::TurnedRound => ", turned end for end",
                Laid::TurnedOver => ", turned over",
            };
            let place = format!("{}{laid}", self.place(one.of));
            match told.iter_mut().find(|(known, _)| *known == head) {
                Some((_, places)) => places.push(place),
                None => told.push((head, vec![place])),
            }
        }
        told.into_iter().map(|(head, places)| format!("{head}: {}", places.join("; "))).collect()
    }

    fn place(&self, of: Of) -> String {
        let end = |second: bool| if second { "second end" } else { "first end" };
        let edge = |far: bool| match (self.seen, far) {
            (Seen::FaceSide, false) => "face edge",
            (Seen::FaceSide, true) => "back edge",
            (Seen::FaceEdge, true) => "face side",
            (Seen::FaceEdge, false) => "back side",
        };
        match of {
            Of::Whole => "the whole part".to_owned(),
            Of::End { second } => end(second).to_owned(),
            Of::Corner { second, far } => format!("{} at the {}", end(second), edge(far)),
        }
    }
}

/// The templates of a case, in the order of its parts; each shape once, whatever parts have it.
pub fn templates(model: &Model) -> Vec<Template> {
    let mut kinds: Vec<(&Part, Solid, usize)> = Vec::new();
    for part in model.parts.iter().filter(|part| is_cut_to_a_line(part)) {
        let solid = part.solid();
        match kinds.iter_mut().find(|(known, of, _)| known.mark == part.mark && *of == solid) {
            Some((_, _, count)) => *count += 1,
            None => kinds.push((part, solid, 1)),
        }
    }
    let mut templates: Vec<Template> = Vec::new();
    for (part, solid, count) in &kinds {
        for seen in Seen::ALL {
            for (of, shaped) in kinds::of(part, seen) {
                let one = Use { mark: part.mark.clone(), parts: *count, of, laid: Laid::AsDrawn };
                add(&mut templates, template(part, solid, seen, of, &shaped), one);
            }
        }
    }
    templates
}

/// Loose parts are milled in lengths; what is cut already needs no template.
fn is_cut_to_a_line(part: &Part) -> bool {
    let is_made = match part.state {
        State::Planned | State::Roughed => false,
        State::Cut | State::Glued => true,
    };
    !is_made
        && !matches!(part.kind, PartKind::LooseTenon | PartKind::Dowel | PartKind::Shim | PartKind::Pin | PartKind::Clip | PartKind::Plate)
}

fn template(part: &Part, solid: &Solid, seen: Seen, of: Of, shaped: &[Shaped<'_>]) -> Option<Template> {
    let reach = shaped.iter().map(|it| it.reach.deep()).fold(0.0, f64::max);
    let wide = shaped.iter().map(|it| it.wide(of, part.lwt()[seen.across()])).fold(0.0, f64::max);
    let region = Region::of(part, seen, of, reach, wide);
    let outlines = region.outlines(solid);
    if outlines.is_empty() {
        return None;
    }
    let notes = shaped.iter().map(|it| it.feature.describe_in(part.lwt())).fold(Vec::new(), |mut all, words| {
        if !all.contains(&words) {
            all.push(words);
        }
        all
    });
    Some(Template {
        title: shaped.first().map_or("", |it| kinds::title(it.feature)),
        seen,
        of,
        size: region.size(),
        from: region.min.x,
        outlines,
        goes_on: region.goes_on(),
        notes,
        teeth: shaped.iter().flat_map(|it| teeth::of(it.feature)).collect(),
        uses: Vec::new(),
    })
}

/// Adds a template, or the place it is for to one of the same shape.
fn add(templates: &mut Vec<Template>, new: Option<Template>, one: Use) {
    let Some(mut new) = new else { return };
    for known in templates.iter_mut().filter(|known| known.seen == new.seen && known.title == new.title) {
        for (laid, flip) in [
            (Laid::AsDrawn, [false, false]),
            (Laid::TurnedOver, [false, true]),
            (Laid::TurnedOver, [true, false]),
            (Laid::TurnedRound, [true, true]),
        ] {
            if alike(known, &new, flip) {
                known.uses.push(Use { laid, ..one });
                return;
            }
        }
    }
    new.uses.push(one);
    templates.push(new);
}

/// Whether two are of one shape when the second is flipped across and along.
fn alike(a: &Template, b: &Template, flip: [bool; 2]) -> bool {
    (a.size - b.size).abs().max_element() < ONE_SHAPE && corners(a, [false; 2]) == corners(b, flip)
}

/// Shapes that differ by less are one, mm.
const ONE_SHAPE: f64 = 0.01;

/// All corners and centres, in steps of what makes two shapes one.
fn corners(template: &Template, flip: [bool; 2]) -> Vec<[i64; 2]> {
    let steps = |at: DVec2| {
        let across = if flip[0] { template.size.x - at.x } else { at.x };
        let along = if flip[1] { template.size.y - at.y } else { at.y };
        [across, along].map(|mm| (mm / ONE_SHAPE).round() as i64)
    };
    let mut all: Vec<[i64; 2]> = Vec::new();
    for (from, piece) in template.outlines.iter().flat_map(Outline::pieces) {
        all.push(steps(from));
        if let Segment::Arc { centre, .. } = piece {
            all.push(steps(centre));
        }
    }
    all.sort_unstable();
    all
}

#[cfg(test)]
mod tests;
