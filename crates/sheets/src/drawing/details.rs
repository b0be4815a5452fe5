//! Each kind of joint where it is cut, at 1:1 or 1:2: both parts in section, and what is cut into them measured from their faces.

use casewright_core::joint::JointKind;
use casewright_core::model::{Cut, Feature, Joint, Part, PartId, PartKind, Role};
use casewright_core::place::Block;
use casewright_core::{Model, Solids};
use casewright_solid::view::{Looking, View};
use casewright_solid::{Facets, Prism};
use glam::{DVec2, DVec3};

use super::book::Book;
use super::drafting::Drafting;
use super::drawn::{Drawn, Measured, Places, Stretch};
use super::from::{From, Standing};
use super::hatch;
use super::page::{Pen, inside};
use super::parts::marked::{Marked, Place, marked};
use super::rows::Beside;

/// Shown round what is cut, mm of the case.
const AROUND: f64 = 24.0;
/// No wider or higher than this, mm of the case: a joint that is longer is shown at its middle.
const MOST: f64 = 130.0;
/// As large as this at least, mm of the case.
const LEAST: f64 = 56.0;
/// Larger ones are drawn at 1:2, mm of the case.
const FULL_SIZE: f64 = 76.0;

/// A joint cut by a plane, seen once.
pub(super) struct Detail<'m> {
    joint: &'m Joint,
    model: &'m Model,
    from: From,
    standing: Standing<'m>,
    view: View,
    /// What is shown, mm of the view.
    window: (DVec2, DVec2),
    /// What is cut, in the case.
    boxes: Vec<(PartId, Block)>,
    /// Whether it is the first of its joint, and says what that is.
    is_first: bool,
}

/// The joints that are drawn: of each role and kind the first that cuts something.
fn kinds(model: &Model) -> Vec<&Joint> {
    let mut known = Vec::new();
    let mut kinds = Vec::new();
    for joint in &model.joints {
        // In which tooth or hole something lies makes no other joint.
        let same_everywhere = matches!(joint.kind, JointKind::Seat(_) | JointKind::Pin(_));
        let kind = (joint.role, if same_everywhere { String::new() } else { joint.kind.describe() });
        if !known.contains(&kind) && !boxes(model, joint).is_empty() {
            known.push(kind);
            kinds.push(joint);
        }
    }
    kinds
}

/// What the joint cuts into its two parts, as boxes in the case; what other parts are shaped to round it is not counted.
fn boxes(model: &Model, joint: &Joint) -> Vec<(PartId, Block)> {
    let mut found = Vec::new();
    for id in [joint.b, joint.a] {
        let part = model.part(id);
        let size = part.lwt();
        for prism in cuts(joint, part).filter(|cut| !is_of_teeth(&cut.feature)).flat_map(|cut| cut.feature.prisms(size)) {
            let (min, max) = prism_box(&prism);
            let (min, max) = (min.max(DVec3::ZERO), max.min(size));
            if (max - min).min_element() > 0.05 {
                let (a, b) = part.pose.bounds_of_box(min, max);
                found.push((id, Block { min: a, max: b }));
            }
        }
    }
    if matches!(joint.kind, JointKind::Pin(_)) {
        // Of a row of holes the one that the pin is in.
        let far = |block: &Block| block.centre().distance(joint.contact.centre);
        let nearest = found.iter().copied().min_by(|a, b| far(&a.1).total_cmp(&far(&b.1)));
        found = nearest.into_iter().collect();
    }
    if found.is_empty() {
        found.extend(laid(model, joint).map(|block| (joint.b, block)));
    }
    found
}

/// Where a strip lies that is only glued to a face: nothing is cut, and all the same it has one place.
fn laid(model: &Model, joint: &Joint) -> Option<Block> {
    let is_strip = matches!(joint.role, Role::CleatToUpright | Role::BearerToRail) && matches!(joint.kind, JointKind::Plain(_));
    let [a, b] = [joint.a, joint.b].map(|id| model.part(id).body());
    let block = Block { min: a.min.max(b.min), max: a.max.min(b.max) };
    (is_strip && (block.max - block.min).min_element() > -0.05).then_some(block)
}

/// "C1 against S1, M1: upper edge 412, 804 above the ground; 26 behind the front of S1".
fn whereabouts_of_strip(model: &Model, joint: &Joint, drafting: &Drafting) -> Option<String> {
    laid(model, joint)?;
    let (strip, on) = (model.part(joint.a), model.part(joint.b));
    let alike: Vec<&Joint> =
        model.joints.iter().filter(|other| other.role == joint.role && model.part(other.a).mark == strip.mark).collect();
    let mut against: Vec<&str> = alike.iter().map(|other| model.part(other.b).mark.as_str()).collect();
    against.sort_unstable();
    against.dedup();
    let mut upper: Vec<f64> = alike.iter().map(|other| model.part(other.a).body().max.y).collect();
    upper.sort_by(f64::total_cmp);
    upper.dedup_by(|a, b| (*a - *b).abs() < 5e-3);
    let upper: Vec<String> = upper.into_iter().map(|mm| drafting.exact(mm)).collect();
    let behind = on.body().max.z - strip.body().max.z;
    let front = match joint.role {
        Role::CleatToUpright if behind > 0.05 => format!("; {} behind the front of {}", drafting.exact(behind), on.mark),
        _ => String::new(),
    };
    Some(format!("{} against {}: upper edge {} above the ground{front}", strip.mark, against.join(", "), upper.join(", ")))
}

/// The cuts of a joint in one of its parts: those that are made for it, and the teeth or holes that it goes into.
fn cuts<'p>(joint: &Joint, part: &'p Part) -> impl Iterator<Item = &'p Cut> {
    let (id, receives) = (joint.id, joint.b == part.id);
    let (in_teeth, in_hole) = (matches!(joint.kind, JointKind::Seat(_)), matches!(joint.kind, JointKind::Pin(_)));
    part.cuts.iter().filter(move |cut| {
        let row = (in_teeth && is_of_teeth(&cut.feature)) || (in_hole && matches!(cut.feature, Feature::HoleRow { .. }));
        cut.joint == Some(id) || (receives && row)
    })
}

fn is_of_teeth(feature: &Feature) -> bool {
    matches!(feature, Feature::Teeth { .. } | Feature::HalfRounds { .. })
}

/// What is cut into both parts of a joint, with its sizes and where it lies: a line for each kind of cut; then how boards lie on a cleat.
fn legend(model: &Model, joint: &Joint, drafting: &Drafting) -> Vec<String> {
    let mut lines = Vec::new();
    for id in [joint.b, joint.a] {
        let part = model.part(id);
        let size = part.lwt();
        let mut told: Vec<(String, usize, Vec<Place>)> = Vec::new();
        for Marked { words, on, .. } in cuts(joint, part).map(|cut| marked(&cut.feature, size, drafting)) {
            let places = on.into_iter().flat_map(|on| on.places);
            match told.iter_mut().find(|(known, ..)| *known == words) {
                Some((_, count, all)) => {
                    *count += 1;
                    all.extend(places);
                }
                None => told.push((words, 1, places.collect())),
            }
        }
        let sizes = size.to_array().map(|mm| drafting.exact(mm)).join(" × ");
        for (words, count, places) in told {
            let times = if count > 1 { format!("{count} × ") } else { String::new() };
            lines.push(format!("{} ({sizes}): {times}{words}{}", part.mark, whereabouts(&places, drafting)));
        }
    }
    lines.extend(whereabouts_of_strip(model, joint, drafting));
    lines.extend(boards(model, joint, drafting));
    lines
}

/// "; middle 82, 128 from the first end, 16 from the face side".
fn whereabouts(places: &[Place], drafting: &Drafting) -> String {
    let mut words = String::new();
    for (middle, what) in [(true, "middle"), (false, "to")] {
        let mut told = Vec::new();
        for (axis, from) in ["the first end", "the face edge", "the face side"].into_iter().enumerate() {
            let mut all: Vec<f64> =
                places.iter().filter(|place| place.middle == middle && place.axis == axis).map(|place| place.at).collect();
            all.sort_by(f64::total_cmp);
            all.dedup_by(|a, b| (*a - *b).abs() < 5e-3);
            if !all.is_empty() {
                let figures: Vec<String> = all.into_iter().map(|at| drafting.exact(at)).collect();
                told.push(format!("{} from {from}", figures.join(", ")));
            }
        }
        if !told.is_empty() {
            words = format!("{words}; {what} {}", told.join("; "));
        }
    }
    words
}

/// The boards that lie on the cleat of a joint, how wide they are and what is between them; none where it is no cleat or has one board.
fn boards(model: &Model, joint: &Joint, drafting: &Drafting) -> Option<String> {
    let cleat = model.part(joint.a);
    let on = model.joints.iter().filter(|other| other.role == Role::SlatToCleat && other.b == cleat.id).map(|other| model.part(other.a));
    let mut boards: Vec<(&Part, Block)> = on.map(|board| (board, board.body())).collect();
    boards.sort_by(|a, b| a.1.min.z.total_cmp(&b.1.min.z));
    if cleat.kind != PartKind::Cleat || boards.len() < 2 {
        return None;
    }
    let list = |all: Vec<f64>| {
        let mut figures: Vec<String> = all.into_iter().map(|mm| drafting.exact(mm)).collect();
        figures.dedup();
        figures.join(", ")
    };
    let marks: Vec<&str> = boards.iter().map(|(board, _)| board.mark.as_str()).collect();
    let wide = list(boards.iter().map(|(_, block)| block.max.z - block.min.z).collect());
    let gaps = list(boards.windows(2).map(|pair| pair[1].1.min.z - pair[0].1.max.z).collect());
    Some(format!("On {} from the back: {}; {wide} wide, {gaps} between them", cleat.mark, marks.join(", ")))
}

/// The box round a prism in its part's own measures.
fn prism_box(prism: &Prism) -> (DVec3, DVec3) {
    let corners = prism.profile.facets(Facets::ChordError(0.02));
    let first = corners.first().copied().unwrap_or_default();
    let (low, high) = corners.iter().fold((first, first), |(low, high), at| (low.min(*at), high.max(*at)));
    let (mut min, mut max) = (DVec3::ZERO, DVec3::ZERO);
    let (u, v, along) = (prism.axis.u().index(), prism.axis.v().index(), prism.axis.index());
    (min[u], max[u]) = (low.x, high.x);
    (min[v], max[v]) = (low.y, high.y);
    (min[along], max[along]) = (prism.from, prism.to);
    (min, max)
}

/// From where a plane square to an axis is looked at.
fn looking_along(axis: usize, side_from: From) -> From {
    match axis {
        0 => side_from,
        1 => From::Above,
        _ => From::Front,
    }
}

/// The details of a case, those of a joint together, in the order of its joints.
pub(super) fn of<'m>(model: &'m Model, solids: &'m Solids, side_from: From) -> Vec<Vec<Detail<'m>>> {
    let mut details = Vec::new();
    for joint in kinds(model) {
        let boxes = boxes(model, joint);
        let Some((_, main)) = boxes.first().copied() else { continue };
        let (into, along) = (joint.contact.into.axis(), joint.contact.along.axis());
        let Some(third) = (0..3).find(|axis| *axis != into && *axis != along) else { continue };
        // Square to the long way first; square to the other where what is cut ends within it.
        let ends_within = main.size()[along] < MOST - 2.0 * AROUND;
        let mut axes = vec![along];
        if ends_within {
            axes.push(third);
        }
        let views = axes.into_iter().filter(|axis| *axis != into).map(|axis| looking_along(axis, side_from));
        let mut own: Vec<Detail<'_>> = views.filter_map(|from| cut(model, solids, joint, (&boxes, main), from)).collect();
        if let Some(first) = own.first_mut() {
            first.is_first = true;
            details.push(own);
        }
    }
    details
}

fn cut<'m>(
    model: &'m Model,
    solids: &'m Solids,
    joint: &'m Joint,
    (boxes, main): (&[(PartId, Block)], Block),
    from: From,
) -> Option<Detail<'m>> {
    let (axis, sign) = from.near();
    let at = main.centre()[axis];
    let window = window(from, &main, [joint.a, joint.b].map(|id| model.part(id)));
    let near = |part: &Part| {
        let (min, max) = from.block(&part.block());
        let meets = min.truncate().cmplt(window.1).all() && window.0.cmplt(max.truncate()).all();
        let block = part.block();
        meets && block.min[axis] < at - 1e-6 && block.max[axis] > at + 1e-6
    };
    let standing = Standing::of(model, solids, near);
    let view = standing.look(from, Looking { cut_at: Some(at * sign), hidden: false });
    let cut = |(_, block): &&(PartId, Block)| block.min[axis] < at && at < block.max[axis];
    let boxes = boxes.iter().filter(cut).copied().collect();
    (!view.cuts.is_empty()).then_some(Detail { joint, model, from, standing, view, window, boxes, is_first: false })
}

/// What is shown: what is cut, some room round it, and no more of the parts than there is.
fn window(from: From, main: &Block, parts: [&Part; 2]) -> (DVec2, DVec2) {
    let (min, max) = from.block(main);
    let centre = (min + max).truncate() / 2.0;
    let half = ((max - min).truncate() / 2.0 + AROUND).clamp(DVec2::splat(LEAST / 2.0), DVec2::splat(MOST / 2.0));
    let (mut low, mut high) = (centre - half, centre + half);
    // As far as the faces from which is measured, where they are near.
    for part in parts {
        let (a, b) = from.block(&part.body());
        for (axis, face) in (0..2).flat_map(|axis| [(axis, a[axis]), (axis, b[axis])]) {
            let reach = half[axis] + AROUND;
            if (centre[axis] - face).abs() < reach {
                low[axis] = low[axis].min(face - 3.0);
                high[axis] = high[axis].max(face + 3.0);
            }
        }
    }
    let all = from.bounds(parts.into_iter().map(Part::block)).unwrap_or((centre, centre));
    (low.max(all.0 - 3.0), high.min(all.1 + 3.0))
}

impl Detail<'_> {
    /// What is cut into both parts, a line each.
    pub fn legend(&self, drafting: &Drafting) -> Vec<String> {
        legend(self.model, self.joint, drafting)
    }

    /// The scale it is drawn at.
    pub fn scale(&self) -> f64 {
        if (self.window.1 - self.window.0).max_element() <= FULL_SIZE { 1.0 } else { 2.0 }
    }

    /// Draws it with its dimensions; `letter` names the joint.
    pub fn draw<'d>(&self, drafting: &'d Drafting, letter: &str, book: &mut Book) -> Drawn<'d> {
        let mut drawn = Drawn::new(drafting, self.from, self.scale(), self.window);
        drawn.fine = true;
        let seen = self.view.seen(|_| true);
        let clipped: Vec<_> = seen
            .iter()
            .filter_map(|line| {
                let (from, to) = inside(line.a, line.b, self.window)?;
                Some(casewright_solid::view::Line { a: line.a.lerp(line.b, from), b: line.a.lerp(line.b, to) })
            })
            .collect();
        drawn.lines(Pen::Behind, &clipped);
        hatch::draw_within(&mut drawn, self.model, &self.standing, &self.view.cuts, Some(self.window));
        self.measure(&mut drawn, book);
        self.marks(&mut drawn);
        let (from, scale) = (self.seen_from(), super::scale_words(self.scale()));
        if self.is_first {
            drawn.heading(&format!("{letter}  {from}, {scale}"));
            let mut words = format!("{}: {}", self.joint.role.words(), self.joint.kind.describe());
            if let Some(first) = words.get(..1) {
                words = format!("{}{}", first.to_uppercase(), words.get(1..).unwrap_or_default());
            }
            drawn.heading_over(&drafting.caption(&words));
        } else {
            drawn.heading(&format!("{letter}  {from}, {scale}"));
        }
        drawn
    }

    fn seen_from(&self) -> &'static str {
        match self.from {
            From::Front => "cut upright, from the front",
            From::Left => "cut upright, from the left",
            From::Right => "cut upright, from the right",
            From::Above => "cut level, from above",
        }
    }

    /// What is cut, and how far it lies from the faces of its part; how thick the parts are.
    fn measure(&self, drawn: &mut Drawn<'_>, book: &mut Book) {
        for (axis, beside) in [(0, Beside::Below), (1, Beside::Left)] {
            let (low, high) = (self.window.0[axis], self.window.1[axis]);
            let edge = self.window.0[1 - axis];
            let shown = |at: f64| at > low - 0.01 && at < high + 0.01;
            for id in [self.joint.b, self.joint.a] {
                let (min, max) = self.from.block(&self.model.part(id).body());
                let own = Stretch::new(min[axis], max[axis], edge);
                let faces: Vec<f64> = [own.a, own.b].into_iter().filter(|at| shown(*at)).collect();
                let mut members: Vec<Stretch> = Vec::new();
                if faces.len() == 2 {
                    members.push(own);
                }
                for (_, block) in self.boxes.iter().filter(|(part, _)| *part == id) {
                    let (min, max) = self.from.block(block);
                    let cut = Stretch::new(min[axis], max[axis], edge);
                    // A strip that is laid against a face leaves no corner in it.
                    let is_there = |at: f64| laid(self.model, self.joint).is_some() || self.is_there(id, axis, at);
                    if cut.b - cut.a > 0.05 && shown(cut.a) && shown(cut.b) && is_there(cut.a) && is_there(cut.b) {
                        members.push(cut);
                    }
                }
                // From the face that is marked from where it is shown.
                let zero = self.from.see(self.model.part(id).pose.point(DVec3::ZERO))[axis];
                let datum = faces.iter().copied().min_by(|a, b| (a - zero).abs().total_cmp(&(b - zero).abs()));
                let Some(datum) = datum else { continue };
                // Places are measured within the part: from the datum, or from a place of it that is known.
                drawn.measure(
                    book,
                    &Measured { beside, datum: (datum, edge), overall: None, members, places: Places::Face, openings: false },
                );
            }
        }
    }

    /// Whether the part has a corner so far along an axis of the view: a cut may end in another one, or in the air.
    fn is_there(&self, id: PartId, axis: usize, at: f64) -> bool {
        let own = self.standing.parts.iter().zip(&self.standing.bodies).find(|(part, _)| part.id == id);
        own.is_some_and(|(_, body)| {
            body.shape.positions.iter().any(|corner| (self.from.see(body.pose.point(*corner))[axis] - at).abs() < 0.01)
        })
    }

    /// The marks of the parts that are cut, where each is widest.
    fn marks(&self, drawn: &mut Drawn<'_>) {
        let mut named: Vec<&str> = Vec::new();
        for (cut, part) in self.view.cuts.iter().filter_map(|cut| Some((cut, *self.standing.parts.get(cut.body)?))) {
            if named.contains(&part.mark.as_str()) {
                continue;
            }
            if let Some(at) = drawn.free_spot(cut, self.window, &part.mark) {
                named.push(&part.mark);
                drawn.mark_at(at, &part.mark);
            }
        }
    }
}
