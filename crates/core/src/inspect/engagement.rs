//! Panels at both ends of the moisture they will meet: still held when driest and pushed over to one side, and not bottomed out when wettest.
//!
//! Across the grain a solid panel moves with the moisture (Wood Handbook FPL-GTR-190, equation 13-2); along it, it is taken to stay as it is.
//! A sheet grows both ways by what its table tells. All panels of sheet stand in grooves of one depth and one play, so what is wrong with those is
//! told once, of the panel for which it is worst.

use std::collections::BTreeMap;

use glam::DVec3;

use super::gather::{add_new, counted};
use super::own_sizes::own_size_by_rule;
use super::{Figure, Finding, Remedy, Rule, Seriousness, TOUCH, mm};
use crate::design::{Design, Dimension, Moisture, Season};
use crate::joint::groove::Figures;
use crate::joint::{JointKind, local_axis};
use crate::model::{Feature, Joint, Material, Model, Part, PartId};
use crate::seasons::{APercent, OPENS};
use crate::timber::clearance::panel_size;
use crate::timber::movement::Basis;
use crate::timber::{Grooved, Movement, Rates, Seasons};
use crate::worked::Worked;

/// The least a panel stays in its groove, mm, driest and pushed over to the other side (common practice, no source).
pub const LEAST_ENGAGED: f64 = 3.0;
/// The least room that the wettest panel keeps, both bottoms together, mm: a quarter each (common practice, no source).
pub const LEAST_ROOM: f64 = 0.5;

/// What is told of a panel of that material, and on what it rests.
fn source(model: &Model, panel: &Part) -> &'static str {
    match Basis::of(&panel.material, &model.timbers) {
        Basis::Wood => {
            "movement: Wood Handbook FPL-GTR-190, equation 13-2; 3 mm held and 0.25 mm free at each bottom: common practice, no source"
        }
        Basis::RecalledSheet => {
            "movement: the sheet's expansion by CEN/TR 12872, from memory; 3 mm held and 0.25 mm free at each bottom: common practice, no source"
        }
        Basis::Sheet => {
            "movement: the sheet's expansion as the table of sheets or its maker tells; 3 mm held and 0.25 mm free at each bottom: common practice, no source"
        }
    }
}

/// What the least engaged panel of a model has left in its groove when driest and pushed over, and what the tightest has left to grow when
/// wettest, mm; nothing where no panel stands between two grooves.
pub fn least_held_and_room(design: &Design, model: &Model) -> Option<[Worked; 2]> {
    let mut least: Option<[Worked; 2]> = None;
    let frames = Frames { model, moisture: &design.timber.moisture, a_percent: APercent::of(model) };
    for ((panel, axis), [forward, backward]) in &edges_of_panels(model) {
        let panel = Panel::of(design, model, *panel, *axis);
        for (first, second) in forward.iter().flat_map(|first| backward.iter().map(move |second| (first, second))) {
            let grooved = frames.grooved(&panel, first, second);
            let found = [Season::Driest, Season::Wettest].map(|season| frames.worked(&panel, (first, second), &grooved, season));
            least = Some(match least {
                Some([held, room]) => {
                    let [next_held, next_room] = found;
                    [
                        if next_held.value < held.value { next_held } else { held },
                        if next_room.value < room.value { next_room } else { room },
                    ]
                }
                None => found,
            });
        }
    }
    least
}

/// The frames of a case, which move too: rails and stiles grow in their width from where their joints hold them.
struct Frames<'m> {
    model: &'m Model,
    moisture: &'m Moisture,
    a_percent: APercent<'m>,
}

impl Frames<'_> {
    /// A panel between two grooves that face each other, in the three states.
    fn grooved(&self, panel: &Panel<'_>, first: &Edge<'_>, second: &Edge<'_>) -> Grooved {
        let built = face(self.model, first.joint) - face(self.model, second.joint);
        let at = |season| built + self.opens(first, second) * (self.moisture.at(season) - self.moisture.built);
        let opening = Seasons { built, driest: at(Season::Driest), wettest: at(Season::Wettest) };
        Grooved { opening, depths: [first.depth, second.depth], across: panel.across }
    }

    /// How much an opening grows for each percent, mm.
    fn opens(&self, first: &Edge<'_>, second: &Edge<'_>) -> f64 {
        self.a_percent.opening(first.joint, second.joint)
    }

    /// What stays in the groove at the driest, and what is left to grow otherwise, with what it rests on.
    fn worked(&self, panel: &Panel<'_>, (first, second): (&Edge<'_>, &Edge<'_>), grooved: &Grooved, season: Season) -> Worked {
        let moisture = self.moisture;
        let Movement { change } = Movement::of(panel.part, &self.model.timbers, moisture.built, moisture.at(season));
        let [deep, other] = grooved.depths;
        let size = Worked::size(&panel.part.size[panel.of.index()]);
        let grows = change[panel.of.index()].clone().named(format!("what it grows by, {}", season.words()));
        let opening = Worked::given("opening between the two members, as built", grooved.opening.built, "mm");
        let by = vec![
            Worked::given("growth for each percent", self.opens(first, second), "mm"),
            Worked::given("change of moisture", moisture.at(season) - moisture.built, "%"),
        ];
        let opens = grooved.opening.at(season) - grooved.opening.built;
        let opens = Worked::by(format!("what the opening grows by, {}", season.words()), opens, "mm", OPENS, by);
        let groove = |name: &'static str, depth| Worked::given(name, depth, "mm");
        if season == Season::Driest {
            let formula = ("size + what it grows by − opening − what that grows by − depth of the deeper groove", "arithmetic");
            let inputs = vec![size, grows, opening, opens, groove("depth of the deeper groove", deep.max(other))];
            return Worked::by("left in the groove", grooved.engaged_pushed(season), "mm", formula, inputs);
        }
        let formula = ("opening + what that grows by + depths of both grooves − size − what it grows by", "arithmetic");
        let inputs = vec![opening, opens, groove("depth of the one groove", deep), groove("depth of the other", other), size, grows];
        Worked::by("left to grow", grooved.room(season), "mm", formula, inputs)
    }
}

/// The edges of each panel along each axis: those that go in forward, and those that go in backward.
fn edges_of_panels(model: &Model) -> BTreeMap<(PartId, usize), [Vec<Edge<'_>>; 2]> {
    let mut panels: BTreeMap<(PartId, usize), [Vec<Edge<'_>>; 2]> = BTreeMap::new();
    for joint in &model.joints {
        let JointKind::Groove(figures) = &joint.kind else { continue };
        let into = joint.contact.into;
        panels.entry((joint.a, into.axis())).or_default()[usize::from(into.sign() < 0.0)]
            .push(Edge { joint, depth: depth_as_cut(model, joint, figures) });
    }
    panels
}

/// A panel edge in a groove.
struct Edge<'m> {
    joint: &'m Joint,
    /// How deep its groove is, mm.
    depth: f64,
}

/// How deep a groove is, as it is planned or as it was cut. One that was cut too shallow for its panel is told where cuts are, and is to be cut deeper.
pub(super) fn depth_as_cut(model: &Model, joint: &Joint, figures: &Figures) -> f64 {
    let by = model.part(joint.b);
    if by.planned.is_none() {
        return figures.depth;
    }
    let there = by.cuts.iter().filter(|cut| cut.joint == Some(joint.id)).filter_map(|cut| match cut.feature {
        Feature::Groove { depth, .. } => Some(depth),
        _ => None,
    });
    let Some(depth) = there.reduce(f64::max) else { return figures.depth };
    if is_deep_enough(depth, reach(model, joint)) { depth } else { figures.depth.max(depth) }
}

pub(super) fn check(design: &Design, model: &Model) -> Vec<Finding> {
    let (mut findings, mut of_sheets) = (Vec::new(), Vec::new());
    let frames = Frames { model, moisture: &design.timber.moisture, a_percent: APercent::of(model) };
    for ((panel, axis), [forward, backward]) in &edges_of_panels(model) {
        let panel = Panel::of(design, model, *panel, *axis);
        for first in forward {
            let found = backward.iter().filter_map(|second| between(&frames, &panel, first, second));
            if panel.shares_its_cure() { of_sheets.extend(found) } else { findings.extend(found) }
        }
        if forward.is_empty() || backward.is_empty() {
            findings.extend(forward.iter().chain(backward).filter_map(|edge| alone(model, &panel, edge)));
        }
    }
    findings.extend([Rule::PanelBottoms, Rule::PanelEngaged].into_iter().filter_map(|rule| worst(&of_sheets, rule)));
    findings
}

/// The worst of the findings of one rule, which speaks for them all.
fn worst(findings: &[Finding], rule: Rule) -> Option<Finding> {
    let of_rule = || findings.iter().filter(|finding| finding.rule == rule);
    let figure = |finding: &Finding| finding.figures.first().map_or(0.0, |figure| figure.value);
    let mut worst = of_rule().min_by(|a, b| figure(a).total_cmp(&figure(b)))?.clone();
    for other in of_rule() {
        worst.explains.extend(other.explains.iter().copied());
        add_new(&mut worst.parts, other.parts.iter().copied());
    }
    Some(counted(worst, of_rule().count() - 1))
}

/// A panel along one axis of the case.
struct Panel<'m> {
    part: &'m Part,
    /// Which of its sizes lies along the axis.
    of: Dimension,
    /// That size as built, driest and wettest.
    across: Seasons,
}

impl Panel<'_> {
    fn of<'m>(design: &Design, model: &'m Model, part: PartId, axis: usize) -> Panel<'m> {
        let part = model.part(part);
        let of = Dimension::ALL[local_axis(part, DVec3::AXES[axis])];
        let rate = Rates::of(&part.material, part.sawn, &model.timbers).along(of);
        Panel { part, of, across: Seasons::of(part.size[of.index()].mm, rate, &design.timber.moisture) }
    }

    /// Whether what is wrong with it is mended where it is mended for all panels of sheet.
    fn shares_its_cure(&self) -> bool {
        matches!(self.part.material, Material::Sheet(_)) && !self.part.is_own(self.of.index())
    }

    fn moves(&self) -> bool {
        self.across.driest < self.across.built - TOUCH || self.across.wettest > self.across.built + TOUCH
    }
}

/// A panel between two grooves that face each other.
fn between(frames: &Frames<'_>, panel: &Panel<'_>, first: &Edge<'_>, second: &Edge<'_>) -> Option<Finding> {
    let model = frames.model;
    let grooved = frames.grooved(panel, first, second);
    let worked = |season| frames.worked(panel, (first, second), &grooved, season);
    let moves = panel.moves() || Season::ALL.iter().any(|season| (grooved.opening.at(*season) - grooved.opening.built).abs() > TOUCH);
    // Pushed to the bottom of the deeper groove it is held least by the other.
    let (deep, held_by) = if first.depth >= second.depth { (first, second) } else { (second, first) };
    let (held, room) = (grooved.engaged_pushed(Season::Driest), grooved.room(Season::Wettest));
    let titles = [first, second].map(|edge| model.part(edge.joint.b).title.as_str());
    let name = &panel.part.title;
    let (rule, seriousness, figures, message) = if room < LEAST_ROOM - TOUCH {
        let when = if moves { " when wettest" } else { "" };
        let message = if room < -TOUCH {
            format!("{name} pushes {} and {} apart by {} mm{when}", titles[0], titles[1], mm(-room))
        } else {
            format!("{name} has only {} mm of room in the grooves of {} and {}{when}", mm(room), titles[0], titles[1])
        };
        (
            Rule::PanelBottoms,
            grave(room < -TOUCH),
            vec![Figure::mm("room", room).because(worked(Season::Wettest)), Figure::mm("least", LEAST_ROOM)],
            message,
        )
    } else if held < LEAST_ENGAGED - TOUCH {
        let when = if moves { "driest and pushed over" } else { "pushed over" };
        let by = &model.part(held_by.joint.b).title;
        let message = if held <= TOUCH {
            format!("{name} comes out of {by} when {when}")
        } else {
            format!("{name} is held by only {} mm in {by} when {when}", mm(held))
        };
        (
            Rule::PanelEngaged,
            grave(held <= TOUCH),
            vec![Figure::mm("engaged", held).because(worked(Season::Driest)), Figure::mm("least", LEAST_ENGAGED)],
            message,
        )
    } else {
        return None;
    };
    Some(Finding {
        explains: [first, second].map(|edge| (panel.part.id, edge.joint.b)).to_vec(),
        rule,
        seriousness,
        parts: vec![panel.part.id, held_by.joint.b, deep.joint.b],
        joint: Some(held_by.joint.id),
        place: Some(held_by.joint.contact.centre),
        figures,
        message,
        source: source(model, panel.part),
        remedies: members_by_rule(model, [first, second]).chain(remedy(panel, &grooved, [held_by.depth, deep.depth])).collect(),
    })
}

/// Where the face of the member lies into which the panel of a joint is grooved, along the way in which it goes in, mm.
fn face(model: &Model, joint: &Joint) -> f64 {
    let (axis, body) = (joint.contact.into.axis(), model.part(joint.b).body());
    if joint.contact.into.sign() > 0.0 { body.min[axis] } else { body.max[axis] }
}

/// Whether a groove leaves a panel that reaches so far into it half of the least room that it keeps at both bottoms, mm.
pub(super) fn is_deep_enough(depth: f64, reach: f64) -> bool {
    depth >= reach + LEAST_ROOM / 2.0 - TOUCH
}

/// How far a panel reaches into the groove of a joint as it stands, which is in the middle between the grooves planned for it, mm.
pub(super) fn reach(model: &Model, joint: &Joint) -> f64 {
    let (block, into) = (model.part(joint.a).block(), joint.contact.into);
    let tip = if into.sign() > 0.0 { block.max } else { block.min }[into.axis()];
    (tip - face(model, joint)) * into.sign()
}

/// A panel that is grooved in on one side only can't be pushed over; it must reach in as it stands.
fn alone(model: &Model, panel: &Panel<'_>, edge: &Edge<'_>) -> Option<Finding> {
    let (contact, by) = (edge.joint.contact, model.part(edge.joint.b));
    let held = reach(model, edge.joint);
    (held < LEAST_ENGAGED - TOUCH).then(|| Finding {
        explains: vec![(panel.part.id, by.id)],
        rule: Rule::PanelEngaged,
        seriousness: grave(held <= TOUCH),
        parts: vec![panel.part.id, by.id],
        joint: Some(edge.joint.id),
        place: Some(contact.centre),
        figures: vec![Figure::mm("engaged", held), Figure::mm("least", LEAST_ENGAGED)],
        message: format!("{} reaches only {} mm into {}", panel.part.title, mm(held), by.title),
        source: source(model, panel.part),
        remedies: Vec::new(),
    })
}

fn grave(fails: bool) -> Seriousness {
    if fails { Seriousness::WillFail } else { Seriousness::AtRisk }
}

/// The way back to the rules for members whose own sizes bring them nearer to the panel or farther from it.
fn members_by_rule<'m>(model: &'m Model, edges: [&Edge<'m>; 2]) -> impl Iterator<Item = Remedy> {
    let own = edges.map(|edge| {
        let member = model.part(edge.joint.b);
        own_size_by_rule(member, Dimension::ALL[local_axis(member, edge.joint.contact.into.vector())])
    });
    own.into_iter().flatten()
}

/// The size that the panel should have, where it is the maker's own; else grooves that hold a panel with play. One of the two may be deeper than planned,
/// by how it was cut.
fn remedy(panel: &Panel<'_>, grooved: &Grooved, [depth, deeper]: [f64; 2]) -> Option<Remedy> {
    if panel.part.is_own(panel.of.index()) {
        let right = panel_size(grooved.opening.built.min(grooved.opening.wettest), f64::midpoint(depth, deeper), 2.0 * PLAY, &panel.across);
        let word = panel.of.word();
        return Some(Remedy::length(format!("Make the {word} {} mm", mm(right)), &format!("part.{}.{word}", panel.part.name), right));
    }
    if matches!(panel.part.material, Material::Solid(_)) && panel.moves() {
        return None;
    }
    // What it loses of its room, and of its hold, from as it was built.
    let free = |season| grooved.opening.at(season) - panel.across.at(season);
    let closes = (free(Season::Built) - free(Season::Wettest)).max(0.0);
    let opens = (free(Season::Driest) - free(Season::Built)).max(0.0);
    // To a half, upward; a ten-thousandth is no reason for another.
    let half = |mm: f64| (mm * 2.0 - 1e-4).ceil() / 2.0;
    let play = PLAY.max(half(f64::midpoint(LEAST_ROOM, closes)));
    let wanted = LEAST_ENGAGED + 2.0 * play + opens;
    // As wide as the planned grooves make it, the panel must still reach out of the one that is deeper.
    let out_of_deeper = if deeper > depth + TOUCH { half(f64::midpoint(wanted, deeper)) } else { 0.0 };
    let deep = depth.max(half(wanted)).max(out_of_deeper);
    Some(Remedy {
        words: format!("Make the grooves {} mm deep with {} mm of play", mm(deep), mm(play)),
        changes: vec![("joinery.groove.play".to_owned(), play.to_string()), ("joinery.groove.depth".to_owned(), deep.to_string())],
    })
}

/// Play at each bottom of a groove, mm (common practice, no source: 0.5 to 1).
const PLAY: f64 = 1.0;

#[cfg(test)]
mod tests {
    use glam::DVec2;

    use super::*;
    use crate::design;
    use crate::joint::{Fixing, Wanted};
    use crate::model::{Assembly, Contact, HeldLine, Meeting, NewPart, PartKind, Role};
    use crate::place::{Block, Dir, Lie};

    /// A red oak panel in grooves 10 deep, `width` across the grain, between two stiles 300 apart; its grain stands.
    fn framed(width: f64) -> (Design, Model) {
        let mut design = design::text::read(include_str!("../../../../examples/records_cabinet.ron")).expect("the demo");
        design.joinery.groove.depth = crate::Length::mm(10.0);
        let mut assembly = Assembly::default();
        let wood = || Material::Solid("red_oak".to_owned());
        let upright = Lie { face: Dir::PlusZ, edge: Dir::MinusX };
        let mut stile = |name: &str, x: (f64, f64)| {
            let block = Block::new(x, (0.0, 600.0), (0.0, 25.0));
            assembly.place(NewPart::filling(block, upright).called(name, name, PartKind::Stile, wood()))
        };
        let stiles = [stile("left", (-60.0, 0.0)), stile("right", (300.0, 360.0))];
        let level = Lie { face: Dir::PlusZ, edge: Dir::PlusY };
        let block = Block::new((0.0, 300.0), (0.0, 50.0), (0.0, 25.0));
        let rail = assembly.place(NewPart::filling(block, level).called("rail", "Rail", PartKind::Rail, wood()));
        for (stile, x, into) in [(stiles[0], 0.0, Dir::MinusX), (stiles[1], 300.0, Dir::PlusX)] {
            let contact = Contact { centre: DVec3::new(x, 25.0, 12.5), into, along: Dir::PlusY, extent: DVec2::new(50.0, 25.0) };
            assembly.join(&Meeting { role: Role::Own, a: rail, b: stile, contact }, &Wanted::Plain(Fixing::Glue));
        }
        let over = (width - 300.0) / 2.0;
        let block = Block::new((-over, 300.0 + over), (50.0, 550.0), (6.0, 19.0));
        let panel = assembly.place(NewPart::filling(block, upright).called("panel", "Panel", PartKind::Panel, wood()));
        for (stile, x, into) in [(stiles[0], 0.0, Dir::MinusX), (stiles[1], 300.0, Dir::PlusX)] {
            let contact = Contact { centre: DVec3::new(x, 300.0, 12.5), into, along: Dir::PlusY, extent: DVec2::new(500.0, 13.0) };
            let sheet = design.timber.panel.clone();
            assembly.join(&Meeting { role: Role::Own, a: panel, b: stile, contact }, &Wanted::Groove(&design.joinery.groove, &sheet));
        }
        let mut model = assembly.finish();
        // Stiles that grow outward alone, so that the opening is what it is in the sums by hand.
        model.held_lines = stiles.into_iter().zip([0.0, 300.0]).map(|(part, at)| HeldLine { part, axis: 0, at }).collect();
        (design, model)
    }

    /// Worked by hand: flat-sawn red oak, 0.00369 a percent (Wood Handbook FPL-GTR-190, table 13-5), built at 8 %, kept at 6 to 11 %: a
    /// panel of 316 in an opening of 300 grows to 319.5 and shrinks to 313.7. Pushed into one groove 10 deep, 3.7 stay in the other.
    #[test]
    fn a_panel_of_316_keeps_a_quarter_at_each_bottom_and_is_held_by_3_7() {
        let (design, model) = framed(316.0);
        assert_eq!(check(&design, &model), []);
        let panel = Panel::of(&design, &model, model.find("panel").expect("a panel").id, 0).across;
        assert!((panel.wettest - 319.5).abs() < 0.05 && (panel.driest - 313.7).abs() < 0.05, "{panel:?}");
    }

    #[test]
    fn a_wider_panel_pushes_its_frame_apart_and_a_narrower_one_comes_out() {
        let told = |width: f64| {
            let (design, model) = framed(width);
            let findings = check(&design, &model);
            assert_eq!(findings.len(), 1, "{findings:?}");
            (findings[0].rule, findings[0].seriousness, findings[0].figures[0].value)
        };
        // 318 × 1.01107 less 320; 314 × 0.99262 less 310; 310 the same.
        let (rule, seriousness, room) = told(318.0);
        assert_eq!((rule, seriousness), (Rule::PanelBottoms, Seriousness::WillFail));
        assert!((room + 1.52).abs() < 0.01, "{room}");
        let (rule, seriousness, held) = told(314.0);
        assert_eq!((rule, seriousness), (Rule::PanelEngaged, Seriousness::AtRisk));
        assert!((held - 1.68).abs() < 0.01, "{held}");
        assert_eq!(told(310.0).1, Seriousness::WillFail);
    }
}
