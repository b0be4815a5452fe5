//! Gaps and overhangs that change with the seasons: the reveal round a door, the room over a drawer, what a top stands out by.

use glam::DVec3;

use super::{Swollen, growth, swollen};
use crate::design::{Design, Dimension, Moisture, Season};
use crate::inspect::{Figure, Finding, Remedy, Rule, Seriousness};
use crate::joint::local_axis;
use crate::length::trimmed_to;
use crate::model::{Joint, Model, Part, PartId, PartKind};
use crate::place::Dir;
use crate::timber::movement::worked_movement;
use crate::timber::{Rates, Seasons};
use crate::worked::Worked;

/// A case in its three states, to measure in.
#[derive(Clone, Debug)]
pub struct Through<'m> {
    model: &'m Model,
    states: [Vec<Swollen>; 3],
}

impl<'m> Through<'m> {
    /// A model as built, driest and wettest.
    pub fn of(model: &'m Model, moisture: &Moisture) -> Through<'m> {
        let at = |season| swollen(model, &growth(model, moisture.built, moisture.at(season)));
        Through { model, states: Season::ALL.map(at) }
    }

    /// How far a face of a part is out along a direction of the case, mm, in each state.
    pub fn face(&self, part: PartId, out: Dir) -> Seasons {
        let [built, driest, wettest] = [0, 1, 2].map(|state| {
            let (part, now) = (self.model.part(part), &self.states[state][part.0]);
            reach(part, now, out)
        });
        Seasons { built, driest, wettest }
    }

    /// From the face of `from` that looks along `way` to the face of `to` that looks back, mm; negative where they are past each other.
    pub fn gap(&self, from: PartId, to: PartId, way: Dir) -> Seasons {
        let (near, far) = (self.face(from, way), self.face(to, way.opposite()));
        Seasons { built: -far.built - near.built, driest: -far.driest - near.driest, wettest: -far.wettest - near.wettest }
    }

    /// By how much the face of `over` that looks along `out` stands out before that of `under`; negative where it stands back.
    pub fn stands_out(&self, over: PartId, under: PartId, out: Dir) -> Seasons {
        let (over, under) = (self.face(over, out), self.face(under, out));
        Seasons { built: over.built - under.built, driest: over.driest - under.driest, wettest: over.wettest - under.wettest }
    }
}

/// How an opening comes to grow.
pub(crate) const OPENS: (&str, &str) = (
    "growth for each percent × change of moisture",
    "ours: each member grows from where its joints hold it, and where that parts them, by as little as can be; movement: Wood Handbook \
     FPL-GTR-190, equation 13-2",
);

/// A case that has grown by one percent of moisture: it moves in proportion, so that this tells of every other change.
#[derive(Clone, Debug)]
pub(crate) struct APercent<'m> {
    model: &'m Model,
    grown: Vec<Swollen>,
}

impl<'m> APercent<'m> {
    pub fn of(model: &'m Model) -> APercent<'m> {
        APercent { model, grown: swollen(model, &growth(model, 0.0, 1.0)) }
    }

    /// How far the face of a part that looks out along a direction moves out, mm.
    fn face(&self, part: PartId, out: Dir) -> f64 {
        let Some(grown) = self.grown.get(part.0) else { return 0.0 };
        let part = self.model.part(part);
        reach(part, grown, out) - reach(part, &Swollen { scale: DVec3::ONE, pose: part.pose }, out)
    }

    /// How much the opening grows between the members that two joints go into opposite ways, mm.
    pub fn opening(&self, first: &Joint, second: &Joint) -> f64 {
        [first, second].map(|joint| -self.face(joint.b, joint.contact.into.opposite())).into_iter().sum()
    }
}

/// How far the outermost corner of a part is along a direction, mm.
fn reach(part: &Part, now: &Swollen, out: Dir) -> f64 {
    let size = part.lwt() * now.scale;
    let corners = (0..8).map(|corner| DVec3::new(f64::from(corner & 1), f64::from(corner >> 1 & 1), f64::from(corner >> 2 & 1)));
    corners.map(|corner| now.pose.point(corner * size).dot(out.vector())).fold(f64::NEG_INFINITY, f64::max)
}

/// What a top stands out by on one side, over the seasons.
#[derive(Clone, Debug, PartialEq)]
pub struct Overhang {
    /// The side.
    pub side: Dir,
    /// By how much the top stands out before the posts, mm; negative where it stands back.
    pub mm: Seasons,
    /// Where the greatest change comes from.
    pub why: Worked,
}

impl Overhang {
    /// "stands out 12 mm at the front, 10.9 driest, 14.2 wettest".
    pub fn words(&self) -> String {
        let mm = |value: f64| trimmed_to(value, 1);
        let side = self.side_words();
        format!("stands out {} mm {side}, {} driest, {} wettest", mm(self.mm.built), mm(self.mm.driest), mm(self.mm.wettest))
    }

    fn side_words(&self) -> &'static str {
        match self.side {
            Dir::PlusZ => "at the front",
            Dir::MinusZ => "at the back",
            Dir::MinusX => "at the left",
            Dir::PlusX => "at the right",
            Dir::PlusY => "above",
            Dir::MinusY => "below",
        }
    }
}

/// A change of less than this is not told, mm.
const TOLD: f64 = 0.05;

/// What the top of a case stands out by where that changes: from the line at which it is fixed to each edge it moves by its own width there.
pub fn overhangs(model: &Model, moisture: &Moisture) -> Vec<Overhang> {
    let Some(top) = model.parts.iter().find(|part| part.kind == PartKind::Top) else { return Vec::new() };
    let through = Through::of(model, moisture);
    let sides = [Dir::PlusZ, Dir::MinusZ, Dir::MinusX, Dir::PlusX];
    sides.into_iter().filter_map(|side| overhang(model, moisture, &through, top, side)).collect()
}

/// Sides on which the top stands out as it is built and no longer does at some moisture.
pub(crate) fn findings(design: &Design, model: &Model) -> Vec<Finding> {
    overhangs(model, &design.timber.moisture).iter().filter_map(|overhang| vanishing(model, overhang)).collect()
}

/// A flush edge that moves less than this over the year is not told, mm (common practice, no source).
const TELLING: f64 = 2.0;
/// A remedy leaves so much standing out, mm (common practice, no source).
const LEFT: f64 = 1.0;

fn vanishing(model: &Model, overhang: &Overhang) -> Option<Finding> {
    let Seasons { built, driest, wettest } = overhang.mm;
    let (left, season) = if driest <= wettest { (driest, Season::Driest) } else { (wettest, Season::Wettest) };
    let flush = built.abs() <= TOLD;
    if built < -TOLD || left > 0.0 || flush && wettest.max(driest) - left < TELLING {
        return None;
    }
    let top = model.parts.iter().find(|part| part.kind == PartKind::Top)?;
    let side = overhang.side_words();
    // To a half, upward.
    let wanted = ((built - left + LEFT) * 2.0).ceil() / 2.0;
    let name = match overhang.side {
        Dir::PlusZ => "over_front",
        Dir::MinusZ => "over_back",
        Dir::PlusX | Dir::MinusX | Dir::PlusY | Dir::MinusY => "over_sides",
    };
    let told = |mm: f64| trimmed_to(mm, 1);
    Some(Finding {
        rule: Rule::OverhangStays,
        seriousness: if flush { Seriousness::Note } else { Seriousness::AtRisk },
        parts: vec![top.id],
        explains: Vec::new(),
        joint: None,
        place: Some(top.block().centre() + overhang.side.vector() * top.block().size() / 2.0),
        figures: vec![Figure::mm("left", left).because(overhang.why.clone()), Figure::mm("as built", built)],
        message: if flush {
            let most = told(driest.max(wettest));
            format!(
                "Top is flush {side} as built, stands back by {} mm when {}, and out by {most} mm at the other end of the year",
                told(-left),
                season.words()
            )
        } else {
            format!("Top stands out {} mm {side} as built, and back by {} mm when {}", told(built), told(-left), season.words())
        },
        source: "movement: Wood Handbook FPL-GTR-190, equation 13-2",
        remedies: vec![Remedy {
            words: format!("Let it stand out {} mm {side}", trimmed_to(wanted, 1)),
            changes: vec![(format!("carcase.top.{name}"), wanted.to_string())],
        }],
    })
}

fn overhang(model: &Model, moisture: &Moisture, through: &Through<'_>, top: &Part, side: Dir) -> Option<Overhang> {
    let outermost = |part: &&Part| through.face(part.id, side).built;
    let post = model.parts.iter().filter(|part| part.kind == PartKind::Post).max_by(|a, b| outermost(a).total_cmp(&outermost(b)))?;
    let mm = through.stands_out(top.id, post.id, side);
    let (drier, wetter) = ((mm.driest - mm.built).abs(), (mm.wettest - mm.built).abs());
    if drier.max(wetter) < TOLD {
        return None;
    }
    let season = if drier > wetter { Season::Driest } else { Season::Wettest };
    let line = model.held_lines.iter().find(|line| line.part == top.id && line.axis == side.axis()).map(|line| line.at);
    let edge = through.face(top.id, side).built * side.sign();
    let from = line.unwrap_or_else(|| top.block().centre()[side.axis()]);
    let rates = Rates::of(&top.material, top.sawn, &model.timbers);
    let across = Dimension::ALL[local_axis(top, side.vector())];
    let distance = Worked::given("from the line that stays put to the edge", (edge - from).abs(), "mm");
    let change = worked_movement(distance, rates.worked(across), moisture.built, moisture.at(season));
    let inputs = vec![Worked::given("as built", mm.built, "mm"), change];
    let formula = ("as built + what the top grows by from its fixed line − what the frame under it does", "arithmetic");
    let name = format!("overhang, {}", season.words());
    Some(Overhang { side, mm, why: Worked::by(name, mm.at(season), "mm", formula, inputs) })
}
