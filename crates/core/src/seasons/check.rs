//! Parts that run into each other when the case is at its driest or wettest, and did not when it was built.

use std::collections::{BTreeMap, HashSet};

use casewright_solid::{Cells, Overlap, Pose, broad_phase, clearance, overlap};
use glam::DVec3;

use super::{Swollen, cleats, growth, swollen};
use crate::design::{Design, Dimension};
use crate::inspect::{Figure, Finding, Rule, Seriousness, TOUCH};
use crate::joint::{Fixing, JointKind};
use crate::length::trimmed as mm;
use crate::model::{Joint, Model, Part, PartId, PartKind};
use crate::place::Dir;
use crate::sentence::inside;
use crate::shapes::Solids;
use crate::worked::Worked;

/// What runs less deep into another than this is lost in the sums, mm: nothing that stands deeper in another passes untold.
const LOST: f64 = 0.05;

/// What runs no deeper into another than this is pressed together, mm, and that is told as no more: wood gives that much (common practice, no source).
const GIVES: f64 = 0.2;

/// How deep two parts may run into each other before they fail, mm. Shelves and slats are put in and taken out by hand at every season and jam as soon as they
/// are pressed at all.
fn gives(model: &Model, pair: (PartId, PartId)) -> f64 {
    let by_hand = |part: PartId| matches!(model.part(part).kind, PartKind::Shelf | PartKind::Slat);
    if by_hand(pair.0) || by_hand(pair.1) { LOST } else { GIVES }
}

/// What runs into each other at the driest and at the wettest that the piece will be in its place; `told` is what was found before.
pub fn findings(design: &Design, model: &Model, solids: &Solids, told: &[Finding]) -> Vec<Finding> {
    let moisture = &design.timber.moisture;
    let jams = cleats::jams(design, model);
    let told: Vec<Finding> = told.iter().chain(&jams).cloned().collect();
    let struck = [(moisture.driest(), "driest"), (moisture.wettest(), "wettest")]
        .into_iter()
        .filter(|(then, _)| (then - moisture.built).abs() > f64::EPSILON)
        .flat_map(|(then, word)| {
            let at = format!("At its {word}, {} % moisture", mm(then));
            check(model, solids, &growth(model, moisture.built, then), &at, &told)
        });
    jams.iter().cloned().chain(struck).collect()
}

/// Every two parts that run into each other at a moisture, one finding for parts of the same kinds; `at` says when, such as "at 11 %, the wettest".
///
/// Only pairs that can't give way: where one of them lies loose and can move aside, pushing along what else lies loose, nothing binds. How the members of a joint press each other along it is for the checks of the joints to judge, as glue across
/// the grain is, and pairs of which a finding in `told` speaks.
pub fn check(model: &Model, solids: &Solids, growth: &[DVec3], at: &str, told: &[Finding]) -> Vec<Finding> {
    let now = Now::of(model, solids, growth);
    let together = held_together(model);
    let mut alike: BTreeMap<(bool, PartKind, PartKind), Vec<Struck>> = BTreeMap::new();
    for (a, b) in broad_phase(&now.boxes) {
        let pair = (PartId(a), PartId(b));
        if together.contains(&pair) || told.iter().any(|finding| finding.parts.contains(&pair.0) && finding.parts.contains(&pair.1)) {
            continue;
        }
        if let Some(struck) = struck(&now, solids, pair) {
            let plugs = model.joints.iter().any(|joint| joint.is_plugged() && plugs(joint, pair));
            alike.entry((plugs, model.part(pair.0).kind, model.part(pair.1).kind)).or_default().push(struck);
        }
    }
    alike
        .into_iter()
        .filter_map(|((plugs, ..), pairs)| {
            let told = (model, growth);
            if plugs { tell_tight(told, &pairs, at) } else { tell(told, &pairs, at) }
        })
        .collect()
}

/// The case at another moisture.
struct Now<'m> {
    model: &'m Model,
    cells: Vec<Option<Cells>>,
    poses: Vec<Pose>,
    boxes: Vec<(DVec3, DVec3)>,
    /// The number of the body that a part belongs to: parts that are glued, screwed or plugged together are one.
    body: Vec<usize>,
    /// The body of most parts, on which all the rest stands: it stays, and any other moves as far as what is round it lets it.
    case: usize,
}

impl<'m> Now<'m> {
    fn of(model: &'m Model, solids: &Solids, growth: &[DVec3]) -> Now<'m> {
        let now = swollen(model, growth);
        let stretched = |(part, now): (&Part, &Swollen)| solids.cells(part.id).map(|cells| cells.stretched(now.scale));
        let cells: Vec<Option<Cells>> = model.parts.iter().zip(&now).map(stretched).collect();
        let bounds = |(part, cells): (&Part, &Option<Cells>)| cells.as_ref().map_or((DVec3::ZERO, part.lwt()), Cells::bounds);
        let boxes =
            model.parts.iter().zip(&cells).map(bounds).zip(&now).map(|((min, max), now)| now.pose.bounds_of_box(min, max)).collect();
        let body = model.bodies(|joint| joint.glued || screwed(joint) || joint.is_plugged());
        let parts_of = |one: usize| body.iter().filter(|body| **body == one).count();
        let case = (0..body.len()).max_by_key(|one| parts_of(*one)).unwrap_or(0);
        Now { model, cells, poses: now.iter().map(|now| now.pose).collect(), boxes, body, case }
    }

    fn joint_between(&self, [a, b]: [usize; 2]) -> Option<&Joint> {
        let of = |joint: &&Joint, part: usize| joint.a.0 == part || joint.b.0 == part || joint.loose.contains(&PartId(part));
        self.model.joints.iter().find(|joint| of(joint, a) && of(joint, b))
    }

    /// How two parts stand in each other, each moved so far.
    fn overlap(&self, [a, b]: [usize; 2], [by_a, by_b]: [DVec3; 2]) -> Option<Overlap> {
        let moved = |part: usize, by: DVec3| Pose { origin: self.poses[part].origin + by, ..self.poses[part] };
        overlap(self.cells[a].as_ref()?, &moved(a, by_a), self.cells[b].as_ref()?, &moved(b, by_b))
    }

    /// Whether parts that now stand in each other can't give way; `touched` says that they touched when built.
    fn binds(&self, pair: [usize; 2], found: &Overlap, touched: bool) -> bool {
        let size = found.max - found.min;
        let axis = (0..3).min_by(|x, y| size[*x].total_cmp(&size[*y])).unwrap_or(0);
        let [a, b] = pair;
        if self.body[a] == self.body[b] {
            return !touched;
        }
        if touched && self.joint_between(pair).is_some_and(|joint| joint.contact.into.axis() == axis || slides(joint)) {
            return false;
        }
        let middle = |part: usize| f64::midpoint(self.boxes[part].0[axis], self.boxes[part].1[axis]);
        // What fails gives way where nothing is pressed harder than wood gives; what is only pressed together, where nothing is pressed then.
        let slack = if found.depth > GIVES { GIVES } else { LOST };
        let from_b = DVec3::AXES[axis] * if middle(a) < middle(b) { -1.0 } else { 1.0 };
        ![(a, from_b), (b, -from_b)]
            .into_iter()
            .any(|(part, way)| self.gives_way(self.body[part], (way, size[axis]), slack, &mut BTreeMap::new()))
    }

    /// Whether a body can move so far along a way, mm, pushing what lies loose before it, and stands in nothing deeper than `slack` then; `moved` holds how far
    /// each has moved.
    fn gives_way(&self, body: usize, (way, by): (DVec3, f64), slack: f64, moved: &mut BTreeMap<usize, f64>) -> bool {
        if body == self.case || by > FARTHEST {
            return false;
        }
        moved.insert(body, by);
        let axis = Dir::nearest(way).axis();
        let own = (0..self.cells.len()).filter(|part| self.body[*part] == body);
        let pairs = own.flat_map(|part| (0..self.cells.len()).filter(|other| self.body[*other] != body).map(move |other| [part, other]));
        for pair in pairs {
            let other = self.body[pair[1]];
            let already = moved.get(&other).copied().unwrap_or(0.0);
            let Some(found) = self.overlap(pair, [way * by, way * already]).filter(|found| found.depth > slack) else { continue };
            // What they stand in each other as they lie is not of this push, and what is made to slide was told not to bind.
            let before = self.overlap(pair, [DVec3::ZERO; 2]).map_or(0.0, |before| before.depth);
            if found.depth <= before + TOUCH || self.joint_between(pair).is_some_and(slides) {
                continue;
            }
            if !self.gives_way(other, (way, already + (found.max - found.min)[axis]), slack, moved) {
                return false;
            }
        }
        true
    }
}

/// Whether the two are a loose part of a joint and one that it stands in.
fn plugs(joint: &Joint, (a, b): (PartId, PartId)) -> bool {
    let stands_in = |loose: PartId, member: PartId| joint.loose.contains(&loose) && (joint.a == member || joint.b == member);
    stands_in(a, b) || stands_in(b, a)
}

fn screwed(joint: &Joint) -> bool {
    matches!(joint.kind, JointKind::Plain(Fixing::Screw) | JointKind::Screws(_) | JointKind::ScrewedUp(_) | JointKind::Pin(_))
}

/// Whether a joint is made to slide, and springs a little besides.
fn slides(joint: &Joint) -> bool {
    matches!(joint.kind, JointKind::Button(_) | JointKind::Clip(_) | JointKind::Plate(_) | JointKind::SlottedScrew(_))
}

/// Nothing gives way farther than this, mm: no movement of wood in a case is as large.
const FARTHEST: f64 = 50.0;

/// Two parts that run into each other.
struct Struck {
    pair: (PartId, PartId),
    depth: f64,
    place: DVec3,
    /// How deep without the room that loose tenons leave them to slip apart, mm.
    pressed: f64,
    /// Whether that is more than wood gives.
    fails: bool,
}

fn struck(now: &Now<'_>, solids: &Solids, pair: (PartId, PartId)) -> Option<Struck> {
    let both = [pair.0.0, pair.1.0];
    let found = now.overlap(both, [DVec3::ZERO; 2])?;
    let size = found.max - found.min;
    let axis = (0..3).min_by(|x, y| size[*x].total_cmp(&size[*y])).unwrap_or(0);
    let slips = [pair.0, pair.1].map(|part| room_of_plugs(now.model, part, axis)).into_iter().fold(0.0, f64::max);
    if found.depth <= LOST + slips {
        return None;
    }
    let cells = [solids.cells(pair.0)?, solids.cells(pair.1)?];
    let poses = [pair.0, pair.1].map(|part| now.model.part(part).pose);
    let apart = clearance(cells[0], &poses[0], cells[1], &poses[1]).distance > TOUCH;
    // What stood in each other as built is told as that.
    let in_each_other = overlap(cells[0], &poses[0], cells[1], &poses[1]).is_some_and(|before| before.depth > TOUCH);
    (!in_each_other && now.binds(both, &found, !apart)).then_some(Struck {
        pair,
        depth: found.depth,
        place: found.deepest_at,
        pressed: found.depth - slips,
        fails: found.depth > gives(now.model, pair) + slips,
    })
}

/// How far a part that stands on another slips along an axis of the case, mm, where nothing holds it but loose tenons that stand dry across that way: by the room
/// of the snug one in its two mortises, to which it was set down on the other.
fn room_of_plugs(model: &Model, part: PartId, axis: usize) -> f64 {
    let holds = || model.joints_of(part).filter(|joint| joint.glued || screwed(joint) || joint.is_plugged());
    let room = |joint: &Joint| match &joint.kind {
        JointKind::LooseTenons(figures) if !joint.glued && joint.contact.into.axis() != axis => 2.0 * figures.fit.max(0.0),
        _ => 0.0,
    };
    holds().map(room).reduce(f64::min).unwrap_or(0.0)
}

/// Pairs that glue holds: the members of a glued joint, its loose parts with both, and a shim between them; and what is glued on beside each other to one part.
fn held_together(model: &Model) -> HashSet<(PartId, PartId)> {
    let mut together = HashSet::new();
    let shims: Vec<&Joint> = model.joints.iter().filter(|joint| model.part(joint.a).kind == PartKind::Shim).collect();
    for joint in model.joints.iter().filter(|joint| joint.glued) {
        // A shim at the end that comes up is held by what goes through it.
        let shims = shims.iter().filter(|shim| shim.b == joint.a && shim.contact.into == joint.contact.into.opposite());
        let members = [joint.a, joint.b].into_iter().chain(shims.map(|shim| shim.a));
        let all: Vec<PartId> = members.chain(joint.loose.iter().copied()).collect();
        together.extend(all.iter().flat_map(|a| all.iter().map(move |b| (*a, *b))).filter(|(a, b)| a < b));
    }
    together
}

/// What stands dry in its mortise and swells tight is crushed a little and sits loose once it is dry again: it holds all the same.
fn tell_tight((model, growth): (&Model, &[DVec3]), pairs: &[Struck], at: &str) -> Option<Finding> {
    let told = tell((model, growth), pairs, at)?;
    if told.seriousness == Seriousness::Note {
        return Some(told);
    }
    let worst = pairs.iter().max_by(|a, b| a.depth.total_cmp(&b.depth))?;
    let (a, b) = (model.part(worst.pair.0), model.part(worst.pair.1));
    let (plug, member) = if a.kind == PartKind::LooseTenon || a.kind == PartKind::Dowel { (a, b) } else { (b, a) };
    let more = if pairs.len() > 1 { format!("; {} more like it", pairs.len() - 1) } else { String::new() };
    Some(Finding {
        seriousness: Seriousness::AtRisk,
        message: format!(
            "{at}: {} swells tight in its mortise in {}, by {} mm: it is crushed by as much, can't be drawn, and sits loose once it is dry again{more}",
            plug.title,
            inside(&member.title),
            mm(worst.depth)
        ),
        ..told
    })
}

/// How two parts come to stand in each other, with what each of them grows by.
fn why(model: &Model, growth: &[DVec3], (a, b): (PartId, PartId), depth: f64) -> Worked {
    let grows = |part: PartId| {
        let (part, by) = (model.part(part), growth.get(part.0).copied().unwrap_or_default() * model.part(part).lwt());
        Dimension::ALL
            .into_iter()
            .filter(move |of| by[of.index()].abs() >= 0.005)
            .map(move |of| Worked::given(format!("{}: what its {} grows by", part.title, of.word()), by[of.index()], "mm"))
    };
    let formula = (
        "what both solids have in common, each grown by size × movement a percent × change of moisture, and moved as its joints hold it",
        "geometry; movement: Wood Handbook FPL-GTR-190, equation 13-2",
    );
    Worked::by("into each other", depth, "mm", formula, grows(a).chain(grows(b)).collect())
}

fn tell((model, growth): (&Model, &[DVec3]), pairs: &[Struck], at: &str) -> Option<Finding> {
    let fails = pairs.iter().any(|struck| struck.fails);
    let deep = |struck: &Struck| if fails { struck.depth } else { struck.pressed };
    let worst = pairs.iter().filter(|struck| struck.fails == fails).max_by(|a, b| deep(a).total_cmp(&deep(b)))?;
    let mut parts = vec![worst.pair.0, worst.pair.1];
    for struck in pairs {
        parts.extend([struck.pair.0, struck.pair.1].iter().filter(|part| !parts.contains(part)).copied().collect::<Vec<_>>());
    }
    let (a, b) = (&model.part(worst.pair.0).title, &model.part(worst.pair.1).title);
    let more = match (pairs.len(), fails) {
        (..=1, _) => String::new(),
        (count, true) => format!("; so do {} more like them", count - 1),
        (count, false) => format!("; so are {} more like them", count - 1),
    };
    Some(Finding {
        rule: Rule::Season,
        seriousness: if fails { Seriousness::WillFail } else { Seriousness::Note },
        parts,
        explains: Vec::new(),
        joint: None,
        place: Some(worst.place),
        figures: vec![
            Figure::mm("into each other", deep(worst)).because(why(model, growth, worst.pair, deep(worst))),
            Figure::count("pairs", pairs.len() as u32),
        ],
        message: if fails {
            format!("{at}: {a} and {b} run {} mm into each other{more}", mm(worst.depth))
        } else {
            format!("{at}: {a} and {b} are pressed together by {} mm, which wood gives{more}", mm(worst.pressed))
        },
        source: "geometry: every part grown by its own movement; wood gives 0.2 mm (common practice, no source), but shelves and slats, which are moved by hand, jam; \
                 less than 0.05 mm is lost in the sums",
        remedies: Vec::new(),
    })
}
