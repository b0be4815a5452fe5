//! Where a tenon stands on its end, how long it is and what is left beside it, by rule or by the maker's own sizes.

use super::{EDGE_SHOULDER, Figures, HAUNCH_ROOM, LEAST_WIDE, Wanted, length_by_rule, thickness_by_rule};
use crate::design::{Cheeks, Corners, Haunch, Reach, TenonMeeting};
use crate::joint::local_axis;
use crate::joint::room::{self, Crossing, Frame, LEAST_BEHIND, LEAST_END, Pocket, least_cheek, least_wall};
use crate::model::{Assembly, Feature, Joint, JointId, Part, Step};
use crate::place::Dir;

/// From the end of a post to a tenon that has no haunch, mm (19 to 25: a magazine's article on leg and apron joints).
const BELOW_END: f64 = 19.0;
/// What two mitred tenons leave between their ends, each, mm (arithmetic: see the head of this file).
const MITRE_GAP: f64 = 1.0;
/// The least width of a tenon that is worth one, mm: less is cut all the same, and the checks tell.
const LEAST_WIDTH: f64 = 5.0;
/// A haunch is as deep as this at least, mm (a maker's class page on mortises).
const LEAST_HAUNCH: f64 = 10.0;

/// A tenon being worked out: its figures, its middle across the contact, and the cheek that is longer where it is mitred.
pub(super) struct Layout {
    pub figures: Figures,
    pub middle: f64,
    pub mitre: Option<Dir>,
}

impl Layout {
    /// As thick as decided, or by rule; where the receiving part is too thin for the length that a tenon by rule must have, thinner by whole
    /// millimetres, to a quarter of its own part.
    pub fn of(assembly: &Assembly, joint: &Joint, frame: &Frame, wanted: &Wanted<'_>) -> Layout {
        let sizes = wanted.sizes;
        let stock = joint.contact.extent.y.max(0.1);
        let thickness = sizes.thickness.or(thickness_by_rule(stock)).min(stock);
        let layout = Layout::so_thick(assembly, joint, frame, wanted, stock, thickness);
        let long_enough = |layout: &Layout| layout.figures.length >= 3.0 * layout.figures.thickness - 1e-6;
        // What crosses it is taken to be as thick by the same rule.
        if [sizes.thickness, sizes.length].iter().any(|size| size.own().is_some())
            || wanted.beyond.crossing.is_some()
            || long_enough(&layout)
        {
            return layout;
        }
        let thinner = (1..).map(|less| thickness - f64::from(less)).take_while(|thick| *thick >= stock / 4.0 - 1e-9 && *thick >= 3.0);
        thinner.map(|thick| Layout::so_thick(assembly, joint, frame, wanted, stock, thick)).find(long_enough).unwrap_or(layout)
    }

    fn so_thick(assembly: &Assembly, joint: &Joint, frame: &Frame, wanted: &Wanted<'_>, stock: f64, thickness: f64) -> Layout {
        let (a, b) = (assembly.part(joint.a), assembly.part(joint.b));
        let sizes = wanted.sizes;
        let (middle, shoulders) = place_across(a, frame, sizes.cheeks, stock, thickness);
        let [.., (_, behind)] = frame.body(b);
        let way = Way::of(wanted, thickness, behind.max(1.0), least_wall(b, assembly.timbers()));
        let fit = sizes.fit.to_mm();
        let wide = thickness + fit;
        let pocket = Pocket { along: (0.0, 0.0), across: (middle - wide / 2.0, middle + wide / 2.0), depth: way.depth };
        let mut edge = Edge::of(assembly, joint, frame, wanted, pocket);
        if let Some(crossing) = way.staggered {
            let wall = least_wall(b, assembly.timbers()) + sizes.side_room.to_mm();
            let share = crossing.share(edge.part, joint.contact.into, wall);
            edge.span = (edge.span.0.max(share.0).min(share.1 - LEAST_WIDTH), edge.span.1.min(share.1).max(share.0 + LEAST_WIDTH));
        }
        let way = make_room(assembly, joint, frame, wanted, thickness, &way, pocket, &mut edge);
        let (length, depth) = (way.length, way.depth);
        let tenons = divide(edge.span, thickness);
        let haunches = edge.haunches(sizes.haunch, thickness, length, &tenons);
        let figures = Figures {
            thickness,
            length,
            depth,
            tenons,
            haunches,
            fit,
            side_room: sizes.side_room.to_mm(),
            through: way.through,
            mitred: way.mitre.is_some(),
            round: sizes.corners == Corners::Round,
            stock,
            asked: sizes.thickness.own().unwrap_or(thickness),
            shoulders,
            edges: [edge.span.0 - edge.part.0, edge.part.1 - edge.span.1],
            mitred_at_most: way.mitre.map(|mitre| mitre.at_most),
            not_through: (sizes.reach == Reach::Through && !way.through).then_some(behind),
        };
        Layout { figures, middle, mitre: way.mitre.map(|mitre| mitre.long) }
    }
}

/// The middle of a tenon across its contact, and the shoulders beside it.
fn place_across(part: &Part, frame: &Frame, cheeks: Cheeks, stock: f64, thickness: f64) -> (f64, [f64; 2]) {
    let beside = (stock - thickness) / 2.0;
    // Which way the face side of the part lies across the contact: its own axis there begins at the face side, or at the face edge.
    let inverse = part.pose.inverse();
    let inward = inverse.vector(frame.across)[3 - local_axis(part, frame.along)].signum();
    match cheeks {
        Cheeks::Both => (0.0, [beside; 2]),
        Cheeks::FaceSide => (inward * beside, [2.0 * beside, 0.0]),
        Cheeks::BackSide => (-inward * beside, [0.0, 2.0 * beside]),
    }
}

/// How far a tenon goes and how deep its mortise is.
#[derive(Clone, Copy)]
struct Way {
    length: f64,
    depth: f64,
    through: bool,
    mitre: Option<Mitre>,
    /// What crosses it and stands above or below it.
    staggered: Option<Crossing>,
}

/// How a tenon is mitred: the way to its longer cheek, and how long it may be there, mm.
#[derive(Clone, Copy)]
struct Mitre {
    long: Dir,
    at_most: f64,
}

impl Way {
    /// For a tenon so thick in a part that is `behind` deep and keeps so much `wall` between two mortises.
    fn of(wanted: &Wanted<'_>, thickness: f64, behind: f64, wall: f64) -> Way {
        let sizes = wanted.sizes;
        let (deeper, fit) = (sizes.deeper.to_mm(), sizes.fit.to_mm());
        let own = sizes.length.own();
        let most = behind - LEAST_BEHIND - deeper;
        let wish = own.unwrap_or(length_by_rule(thickness));
        let through = sizes.reach == Reach::Through && !wanted.beyond.facing;
        let reach = if through { behind } else { wish + deeper };
        let crossing = wanted.beyond.crossing.filter(|crossing| crossing.meets(thickness + fit, reach, wall));
        let staggered = crossing.filter(|_| sizes.meeting == TenonMeeting::Staggered);
        let stopped = |length: f64, mitre: Option<Mitre>| Way { length, depth: length + deeper, through: false, mitre, staggered };
        if let (Some(crossing), None) = (crossing, staggered) {
            // The cheeks of the tenon that crosses, which is made by the same rules.
            let (near, far) = match sizes.cheeks {
                Cheeks::Both => crossing.pocket(thickness),
                Cheeks::FaceSide => (crossing.near, crossing.near + thickness),
                Cheeks::BackSide => (crossing.far - thickness, crossing.far),
            };
            let mitred = far - MITRE_GAP;
            return match sizes.meeting {
                TenonMeeting::Mitred if mitred > thickness + 1.0 => {
                    let mitre = Mitre { long: crossing.into, at_most: mitred };
                    stopped(own.unwrap_or(mitred.min(most)).max(thickness + 1.0), Some(mitre))
                }
                TenonMeeting::Mitred | TenonMeeting::Short | TenonMeeting::Staggered => {
                    stopped(own.unwrap_or(near - fit / 2.0 - wall - deeper).max(1.0), None)
                }
            };
        }
        if through {
            return Way { length: behind, depth: behind, through: true, mitre: None, staggered };
        }
        let most = if wanted.beyond.facing { (behind - wall) / 2.0 - deeper } else { most };
        let most = if own.is_some() { f64::INFINITY } else { most };
        stopped(wish.min(most).max(1.0), None)
    }
}

/// Keeps a tenon away from everything that is cut into the receiving part already: it is made narrower, or where its length follows the
/// rule shorter, whatever leaves the more of it; rather narrower than so short that it breaks the rule of 3 thicknesses. One that would
/// go through stops where less than half of its width could.
#[allow(clippy::too_many_arguments, reason = "a tenon in the making has no better home yet")]
fn make_room(
    assembly: &Assembly,
    joint: &Joint,
    frame: &Frame,
    wanted: &Wanted<'_>,
    thickness: f64,
    way: &Way,
    pocket: Pocket,
    edge: &mut Edge,
) -> Way {
    let (b, sizes) = (assembly.part(joint.b), wanted.sizes);
    let room = sizes.side_room.to_mm() / 2.0;
    let may_meet = |id: JointId| way.mitre.is_some() && assembly.joint(id).kind.meets_others();
    let whole = Pocket { along: (edge.span.0 - room, edge.span.1 + room), ..pocket };
    let obstacles = room::obstacles(assembly, b, frame, whole, least_wall(b, assembly.timbers()), may_meet);
    let wanted_width = edge.span.1 - edge.span.0;
    let may_shorten = sizes.length.own().is_none() && way.mitre.is_none();
    let least = match (sizes.shoulder.own(), may_shorten) {
        (Some(_), _) => wanted_width - 1e-6,
        (None, true) => LEAST_WIDTH.min(wanted_width),
        // Half of a tenon that can't be shorter is too little: then it is as wide as it was to be, and what it meets is told.
        (None, false) => wanted_width / 2.0,
    };
    let rank = |way: &Way, (from, to): (f64, f64)| {
        let width = to - from;
        let by_rule = [way.length >= 3.0 * thickness, width >= LEAST_WIDE * thickness].into_iter().filter(|kept| *kept).count();
        (way.through && width >= wanted_width / 2.0, by_rule, way.length * width)
    };
    let best = room::depths(way.depth, &obstacles)
        .filter(|depth| may_shorten || *depth >= way.depth)
        .filter_map(|depth| {
            let free = room::free(whole.along, depth, &obstacles);
            let widest = free.into_iter().max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)))?;
            let span = (widest.0 + room, widest.1 - room);
            let length = if depth >= way.depth { way.length } else { depth - sizes.deeper.to_mm() };
            let way = Way { length, depth, through: way.through && depth >= way.depth, ..*way };
            (span.1 - span.0 >= least && length >= thickness.min(way.length)).then_some((way, span))
        })
        .max_by(|(a, span), (b, other)| {
            let (a, b) = (rank(a, *span), rank(b, *other));
            (a.0, a.1).cmp(&(b.0, b.1)).then(a.2.total_cmp(&b.2))
        });
    let Some((way, span)) = best else {
        let others: Vec<_> = obstacles.iter().filter(|obstacle| !obstacle.is_hole).copied().collect();
        let free = room::free(whole.along, way.depth, &others).into_iter().map(|(from, to)| (from + room, to - room));
        let widest = free.filter(|(from, to)| to - from >= LEAST_WIDTH).max_by(|a, b| (a.1 - a.0).total_cmp(&(b.1 - b.0)));
        let widest = widest.filter(|_| sizes.shoulder.own().is_none());
        edge.span = widest.unwrap_or(edge.span);
        return *way;
    };
    edge.span = span;
    way
}

/// Where a tenon may stand between the edges of its part.
struct Edge {
    /// From and to of the part.
    part: (f64, f64),
    /// From and to of the tenon, or of all of them.
    span: (f64, f64),
    /// The depth of the groove in each edge of the part.
    grooves: [f64; 2],
    /// How deep a groove of the receiving part runs in beside each edge.
    runs_in: [f64; 2],
    /// Whether the receiving part ends too near each edge.
    at_end: [bool; 2],
}

impl Edge {
    fn of(assembly: &Assembly, joint: &Joint, frame: &Frame, wanted: &Wanted<'_>, pocket: Pocket) -> Edge {
        let (a, b) = (assembly.part(joint.a), assembly.part(joint.b));
        let ([own, ..], [receiving, ..]) = (frame.body(a), frame.body(b));
        let half = joint.contact.extent.x / 2.0;
        let mut part = (own.0.max(-half), own.1.min(half));
        if part.1 - part.0 < 0.1 {
            // The part misses the place where it should be; what is cut there no longer matters.
            part = (-half.max(0.05), half.max(0.05));
        }
        let grain = local_axis(b, frame.along) == 0;
        let grooves = room::grooves_at_edges(a, frame);
        let short = [part.0 - receiving.0, receiving.1 - part.1];
        let at_end = short.map(|short| grain && short + EDGE_SHOULDER < LEAST_END);
        let width = part.1 - part.0;
        let shoulder = [0, 1].map(|side| {
            let by_end = match (at_end[side], wanted.sizes.haunch) {
                (false, _) if grain => 0.0,
                // Toward an edge of the receiving part the mortise keeps a cheek.
                (false, _) => least_cheek(b, assembly.timbers()) + wanted.sizes.side_room.to_mm() / 2.0 - short[side],
                (true, Haunch::WhereNeeded) => (width / 3.0).max(LEAST_END - short[side]),
                (true, Haunch::None) => BELOW_END - short[side],
            };
            wanted.sizes.shoulder.or(EDGE_SHOULDER.max(by_end)).max(grooves[side])
        });
        let mut span = (part.0 + shoulder[0], part.1 - shoulder[1]);
        if span.1 - span.0 < LEAST_WIDTH.min(width / 3.0) {
            let middle = f64::midpoint(part.0, part.1);
            let half = LEAST_WIDTH.min(width / 3.0) / 2.0;
            span = (middle - half, middle + half);
        }
        let runs_in = runs_in(assembly, b, frame, part, pocket);
        Edge { part, span, grooves, runs_in, at_end }
    }

    /// What is left between the tenons and the edges, and between two tenons.
    fn haunches(&self, wanted: Haunch, thickness: f64, length: f64, tenons: &[(f64, f64)]) -> Vec<Step> {
        let mut all = Vec::new();
        let longest = (length - HAUNCH_ROOM).max(0.0);
        let between = thickness.min(longest);
        all.extend(tenons.windows(2).map(|pair| Step { from: pair[0].1, to: pair[1].0, reach: between }));
        if wanted == Haunch::WhereNeeded {
            for side in [0, 1] {
                let reach = match (self.runs_in[side] > 0.0 && self.grooves[side] > 0.0, self.at_end[side]) {
                    (true, _) => self.runs_in[side] - HAUNCH_ROOM,
                    (false, true) => thickness.max(LEAST_HAUNCH),
                    (false, false) => 0.0,
                };
                let (from, to) =
                    if side == 0 { (self.part.0 + self.grooves[0], self.span.0) } else { (self.span.1, self.part.1 - self.grooves[1]) };
                if reach > 0.0 && to - from > 1.0 {
                    all.push(Step { from, to, reach: reach.min(longest) });
                }
            }
        }
        all.retain(|step| step.reach > 0.0 && step.to > step.from);
        all
    }
}

/// How deep the grooves of the receiving part are that run in past each edge of the part that comes up.
fn runs_in(assembly: &Assembly, part: &Part, frame: &Frame, edges: (f64, f64), pocket: Pocket) -> [f64; 2] {
    let mut depths = [0.0_f64; 2];
    for cut in &assembly.part(part.id).cuts {
        let Feature::Groove { depth, .. } = cut.feature else { continue };
        let prism = room::boxes(&cut.feature, part.lwt());
        for (low, high) in prism {
            let [along, across, into] = frame.spans(part.pose.point(low), part.pose.point(high));
            let at_face = into.0 <= 1e-6 && into.1 <= depth + 1e-6;
            let covers = across.0 <= pocket.across.0 + 1e-6 && across.1 >= pocket.across.1 - 1e-6;
            if !at_face || !covers {
                continue;
            }
            if along.0 < edges.0 && along.1 > edges.0 {
                depths[0] = depths[0].max(depth);
            }
            if along.1 > edges.1 && along.0 < edges.1 {
                depths[1] = depths[1].max(depth);
            }
        }
    }
    depths
}

/// One tenon, or several side by side where one would be wider than the rule: 6 thicknesses or 100, with a third of a tenon's width
/// between two (from memory).
fn divide((from, to): (f64, f64), thickness: f64) -> Vec<(f64, f64)> {
    const MOST: u32 = 6;
    let width = to - from;
    let most = (6.0 * thickness).min(100.0);
    let each = |count: f64| width / (count + (count - 1.0) / 3.0);
    let count = (1..=MOST).map(f64::from).find(|count| each(*count) <= most + 1e-9).unwrap_or(f64::from(MOST));
    let each = each(count);
    (0..count as u32)
        .map(|index| {
            let start = from + each * 4.0 / 3.0 * f64::from(index);
            (start, start + each)
        })
        .collect()
}
