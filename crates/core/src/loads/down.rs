//! How all that is borne comes down to the floor: every part passes on what presses on it, and its own weight, to what holds it.
//!
//! ```text
//! boxes ─▶ slats, shelves ─▶ cleats, pins ─▶ standards ─▶ stiles and muntins ─▶ rails ─▶ posts ─▶ the floor of the room
//!       └▶ floors ─▶ bearers ───────────────────────────────────▶ rails
//!                └▶ cross rails ─▶ rails
//! ```
//!
//! What lies between two supports goes to them by the law of the lever (statics): so nothing is lost on the way, whatever is known of its
//! stuff. What has one support gives it all.

use std::collections::{BTreeMap, BTreeSet};

use glam::DVec3;

use super::lying::held_at;
use crate::model::{Joint, Model, Part, PartId, PartKind, Role};
use crate::strength::GRAVITY;

/// What presses on a part from above, between two places of the case, and what it comes from.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Onto {
    /// What is pressed.
    pub on: PartId,
    /// Where it begins.
    pub from: DVec3,
    /// Where it ends; the same for what presses at one place.
    pub to: DVec3,
    /// What it is.
    pub what: &'static str,
    /// What of it is always there, N.
    pub always: f64,
    /// What of it comes and goes, at its heaviest, N.
    pub heaviest: f64,
    /// The room whose boxes these are, by its place in the model's; none for what is no box.
    pub room: Option<usize>,
}

/// Everything that presses on the parts that bear others, and what each part that stands on the floor of the room bears there, N.
#[derive(Debug, Default)]
pub(super) struct Down {
    pub onto: BTreeMap<PartId, Vec<Onto>>,
    pub feet: Vec<(PartId, f64)>,
    /// What each part of the model passes on what it bears to.
    pub passes: Vec<Vec<Passes>>,
}

/// The weight of a part as it is before its cuts, N; nothing where its density is not known.
pub(super) fn weight(model: &Model, part: &Part) -> f64 {
    let density = model.timbers.density(&part.material).map_or(0.0, |density| density.value);
    density * part.lwt().element_product() * 1e-9 * GRAVITY
}

/// How a force between supports, sorted by their place, is shared by the two next to it: their places in the list, and their shares.
pub(super) fn lever(held: &[(f64, PartId)], at: f64) -> Vec<(usize, f64)> {
    let last = held.len().saturating_sub(1);
    if last == 0 {
        return held.iter().take(1).map(|_| (0, 1.0)).collect();
    }
    let second = held.iter().skip(1).position(|(place, _)| *place >= at).map_or(last, |index| index + 1);
    let (Some((from, _)), Some((to, _))) = (held.get(second - 1), held.get(second)) else { return Vec::new() };
    let share = (at - from) / (to - from);
    vec![(second - 1, 1.0 - share), (second, share)]
}

/// Passes on what presses on the parts, and their own weights, down to the floor. The weights of `weighed` are in `pressing` already.
pub(super) fn down(model: &Model, pressing: Vec<Onto>, weighed: &BTreeSet<PartId>) -> Down {
    let mut down = Down::default();
    for onto in pressing {
        down.press(onto);
    }
    let passes: Vec<Vec<Passes>> = model.parts.iter().map(|part| passes(model, part)).collect();
    for id in from_above(model, &passes) {
        let part = model.part(id);
        let mut bears = down.onto.get(&id).cloned().unwrap_or_default();
        if !weighed.contains(&id) {
            let block = part.block();
            let ends = [block.min, block.max].map(|end| DVec3 { y: block.min.y, ..end });
            let always = weight(model, part);
            bears.push(Onto { on: id, from: ends[0], to: ends[1], what: own_words(part.kind), always, heaviest: 0.0, room: None });
        }
        match passes.get(id.0).map(Vec::as_slice) {
            None | Some([]) => {
                let newtons = bears.iter().map(|onto| onto.always + onto.heaviest).sum();
                down.feet.push((id, newtons));
            }
            Some(to) => bears.iter().flat_map(|onto| passed(part.kind, onto, to)).for_each(|onto| down.press(onto)),
        }
    }
    Down { passes, ..down }
}

impl Down {
    /// Adds to what presses on a part; what comes from the same at the same place is one.
    fn press(&mut self, onto: Onto) {
        if onto.always == 0.0 && onto.heaviest == 0.0 {
            return;
        }
        let all = self.onto.entry(onto.on).or_default();
        let same = |known: &&mut Onto| {
            let near = |a: DVec3, b: DVec3| (a - b).abs().max_element() < 0.01;
            known.what == onto.what && known.room == onto.room && near(known.from, onto.from) && near(known.to, onto.to)
        };
        match all.iter_mut().find(same) {
            Some(known) => {
                known.always += onto.always;
                known.heaviest += onto.heaviest;
            }
            None => all.push(onto),
        }
    }
}

/// What a part passes what it bears on to, and where.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Passes {
    pub to: PartId,
    pub at: DVec3,
}

/// What presses on a part, as it comes to what holds that part.
fn passed(kind: PartKind, onto: &Onto, to: &[Passes]) -> Vec<Onto> {
    let what = passed_words(kind).unwrap_or(onto.what);
    if let [only] = to {
        // What stands in a groove, or is glued on along its length, passes it on where it lies.
        let along = matches!(kind, PartKind::Panel | PartKind::Bearer);
        let [from, end] = if along { [onto.from, onto.to] } else { [only.at; 2] };
        return vec![Onto { on: only.to, from, to: end, what, ..onto.clone() }];
    }
    let reach = |axis: usize| {
        let places = to.iter().map(|passes| passes.at[axis]);
        places.clone().fold(f64::NEG_INFINITY, f64::max) - places.fold(f64::INFINITY, f64::min)
    };
    let axis = if reach(0) >= reach(2) { 0 } else { 2 };
    let mut held: Vec<(f64, &Passes)> = to.iter().map(|passes| (passes.at[axis], passes)).collect();
    held.sort_by(|a, b| a.0.total_cmp(&b.0));
    let places: Vec<(f64, PartId)> = held.iter().map(|(at, passes)| (*at, passes.to)).collect();
    let shares = lever(&places, onto.from.midpoint(onto.to)[axis]);
    let share = |(index, share): (usize, f64)| {
        let (_, passes) = held.get(index)?;
        let (always, heaviest) = (onto.always * share, onto.heaviest * share);
        Some(Onto { on: passes.to, from: passes.at, to: passes.at, what, always, heaviest, room: onto.room })
    };
    shares.into_iter().filter_map(share).collect()
}

/// What it is to what it presses on that a part of a kind passes on; nothing where that is told of what presses on the part itself.
fn passed_words(kind: PartKind) -> Option<&'static str> {
    match kind {
        PartKind::Stile | PartKind::Muntin => Some("a divider with what hangs on it"),
        PartKind::CrossRail => Some("a cross rail with what it bears"),
        PartKind::Rail => Some("a rail with what it bears"),
        PartKind::Post
        | PartKind::Panel
        | PartKind::Top
        | PartKind::Floor
        | PartKind::Bearer
        | PartKind::Standard
        | PartKind::Cleat
        | PartKind::Slat
        | PartKind::Button
        | PartKind::LooseTenon
        | PartKind::Dowel
        | PartKind::Clip
        | PartKind::Plate
        | PartKind::Strip
        | PartKind::Shim
        | PartKind::Shelf
        | PartKind::Pin
        | PartKind::Spacer
        | PartKind::Own => None,
    }
}

/// What the own weight of a part is to what it presses on.
fn own_words(kind: PartKind) -> &'static str {
    match kind {
        PartKind::Panel => "a panel",
        PartKind::Bearer => "a bearer",
        PartKind::Top => "the top itself",
        PartKind::Post
        | PartKind::Rail
        | PartKind::Stile
        | PartKind::Muntin
        | PartKind::CrossRail
        | PartKind::Floor
        | PartKind::Standard
        | PartKind::Cleat
        | PartKind::Slat
        | PartKind::Shelf
        | PartKind::Spacer
        | PartKind::Own => "what stands on it",
        PartKind::Button
        | PartKind::LooseTenon
        | PartKind::Dowel
        | PartKind::Clip
        | PartKind::Plate
        | PartKind::Strip
        | PartKind::Shim
        | PartKind::Pin => "small parts",
    }
}

/// All parts, each before those to which it passes what it bears.
fn from_above(model: &Model, passes: &[Vec<Passes>]) -> Vec<PartId> {
    let mut seen = vec![false; model.parts.len()];
    let mut order = Vec::with_capacity(model.parts.len());
    for part in &model.parts {
        // Depth first without recursion: a part is written down after all that it passes on to.
        let mut open = vec![(part.id, 0)];
        if std::mem::replace(&mut seen[part.id.0], true) {
            continue;
        }
        while let Some((id, next)) = open.pop() {
            match passes.get(id.0).and_then(|to| to.get(next)) {
                Some(to) => {
                    open.push((id, next + 1));
                    if !std::mem::replace(&mut seen[to.to.0], true) {
                        open.push((to.to, 0));
                    }
                }
                None => order.push(id),
            }
        }
    }
    order.reverse();
    order
}

/// What holds a part up, by its joints. Nothing for what stands on the floor of the room.
fn passes(model: &Model, part: &Part) -> Vec<Passes> {
    let own = || model.joints.iter().filter(|joint| joint.a == part.id);
    let to = |joint: &Joint| Passes { to: joint.b, at: joint.contact.centre };
    let lowest = |roles: &[Role]| -> Vec<Passes> {
        let feet = own().filter(|joint| roles.contains(&joint.role));
        feet.min_by(|a, b| a.contact.centre.y.total_cmp(&b.contact.centre.y)).map(to).into_iter().collect()
    };
    let all = |roles: &[Role]| own().filter(|joint| roles.contains(&joint.role)).map(to).collect::<Vec<_>>();
    match part.kind {
        PartKind::Post => Vec::new(),
        PartKind::Rail | PartKind::CrossRail => all(&[Role::RailToPost, Role::RailToMuntin, Role::CrossRailToRail]),
        PartKind::Stile | PartKind::Muntin => lowest(&[Role::StileToRail, Role::MuntinToRail]),
        PartKind::Standard => lowest(&[Role::StandardToPost]),
        PartKind::Panel => lowest(&[Role::PanelToFrame]),
        PartKind::Bearer => lowest(&[Role::BearerToRail]),
        PartKind::Pin => lowest(&[Role::PinToUpright]),
        PartKind::Spacer => lowest(&[Role::SpacerToStandard]),
        PartKind::Top => rails_of_top(model, part).unwrap_or_else(|| all(&[Role::TopToPost])),
        PartKind::Floor | PartKind::Slat | PartKind::Shelf | PartKind::Cleat | PartKind::Own => lying(model, part),
        PartKind::Button | PartKind::LooseTenon | PartKind::Dowel | PartKind::Clip | PartKind::Plate | PartKind::Strip | PartKind::Shim => {
            small(model, part)
        }
    }
}

/// The rails along the front and the back on which a top lies: it bears on them alone, as if the sides bore none.
fn rails_of_top(model: &Model, top: &Part) -> Option<Vec<Passes>> {
    let rails = super::frame::rails_under(model, top);
    let found: Vec<Passes> = rails.map(|rail| Passes { to: rail.id, at: rail.block().centre() }).collect();
    (!found.is_empty()).then_some(found)
}

fn lying(model: &Model, part: &Part) -> Vec<Passes> {
    let Some((axis, held)) = held_at(model, part.id) else { return Vec::new() };
    let centre = part.block().centre();
    let at = |place: f64| {
        let mut at = centre;
        at[axis] = place;
        at
    };
    held.into_iter().map(|(place, by)| Passes { to: by, at: at(place) }).collect()
}

/// Fixings, dowels and loose tenons hang on what they are put into; of a top it is the rail that they hold it to.
fn small(model: &Model, part: &Part) -> Vec<Passes> {
    let frame = |id: &PartId| {
        matches!(model.part(*id).kind, PartKind::Post | PartKind::Rail | PartKind::CrossRail | PartKind::Stile | PartKind::Muntin)
    };
    let joints = model.joints_of(part.id);
    let mut held = joints.flat_map(|joint| [joint.b, joint.a].map(|id| Passes { to: id, at: joint.contact.centre }));
    held.find(|passes| passes.to != part.id && frame(&passes.to)).into_iter().collect()
}
