//! Where the dowels of a row stand, how thick they are and how deep they go.

use super::{Figures, LEAST_APART, LEAST_COUNT, MOST_COUNT, USUAL, Wanted, diameter_by_rule, margin_in};
use crate::joint::room::{self, Frame, LEAST_BEHIND, Pocket, least_wall};
use crate::model::{Assembly, Joint, Part};

/// The row, of the thickest dowels of which two stand as far apart as they should and go in far enough; where none do, of those that go in far enough.
pub(super) fn figures(assembly: &Assembly, joint: &Joint, frame: &Frame, wanted: &Wanted<'_>) -> Figures {
    let of = |diameter: f64| figures_of(assembly, joint, frame, wanted, diameter);
    if let Some(own) = wanted.sizes.diameter.own() {
        return of(own);
    }
    let stock = joint.contact.extent.y.max(0.1);
    let rows: Vec<Figures> = diameters(stock).map(of).collect();
    let deep = |row: &&Figures| row.in_face >= 2.0 * row.diameter;
    let apart = |row: &&Figures| row.at.len() >= LEAST_COUNT as usize && row.nearest() >= row.least_apart();
    let best = rows.iter().filter(deep).find(apart).or_else(|| rows.iter().find(deep)).or(rows.first());
    best.cloned().unwrap_or_else(|| of(diameter_by_rule(stock)))
}

/// The diameter by rule, and the thinner ones that are a third of the part still, the thickest first.
fn diameters(stock: f64) -> impl Iterator<Item = f64> {
    let by_rule = diameter_by_rule(stock);
    let thinner = USUAL.into_iter().rev().filter(move |usual| *usual < by_rule && *usual >= stock / 3.0 - 1e-9);
    std::iter::once(by_rule).chain(thinner)
}

/// What there is for a row: from edge to edge of the part that comes up, the grooves there, and the wood that must stay.
struct Room {
    /// From and to along the row, mm from the middle of the contact.
    edges: (f64, f64),
    /// How deep the grooves at the edges are, mm.
    grooves: [f64; 2],
    /// The wood that stays beside a hole, mm.
    wall: f64,
    /// The wood behind the face that receives, mm.
    behind: f64,
}

impl Room {
    fn of(assembly: &Assembly, joint: &Joint, frame: &Frame, a: &Part, b: &Part) -> Room {
        let ([own, ..], [_, _, (_, behind)]) = (frame.body(a), frame.body(b));
        let half = joint.contact.extent.x / 2.0;
        let edges = (own.0.max(-half), own.1.min(half));
        let edges = if edges.1 - edges.0 < 0.1 { (-half.max(0.05), half.max(0.05)) } else { edges };
        Room { edges, grooves: room::grooves_at_edges(a, frame), wall: least_wall(b, assembly.timbers()), behind }
    }

    fn width(&self) -> f64 {
        self.edges.1 - self.edges.0
    }

    /// Between the margins by rule, and clear of the grooves at the edges.
    fn by_rule(&self, diameter: f64) -> (f64, f64) {
        let clear = |groove: f64| if groove > 0.0 { groove + self.wall + diameter / 2.0 } else { 0.0 };
        let margin = margin_in(self.width(), diameter);
        (self.edges.0 + margin.max(clear(self.grooves[0])), self.edges.1 - margin.max(clear(self.grooves[1])))
    }
}

/// Dowels that stand somewhere: how far they go in, their middles, and how far apart the outermost may stand, mm.
struct Standing {
    in_face: f64,
    at: Vec<f64>,
    free: f64,
}

/// The row of dowels of a diameter.
fn figures_of(assembly: &Assembly, joint: &Joint, frame: &Frame, wanted: &Wanted<'_>, diameter: f64) -> Figures {
    let (a, b) = (assembly.part(joint.a), assembly.part(joint.b));
    let sizes = wanted.sizes;
    let room = Room::of(assembly, joint, frame, a, b);
    let span = match sizes.margin.own() {
        Some(margin) => (room.edges.0 + margin, room.edges.1 - margin),
        None => room.by_rule(diameter),
    };
    let Standing { in_face, at, free } = standing(assembly, b, frame, wanted, (&room, span, diameter));
    // Where the maker has the margin, as much as there would be without.
    let (from, to) = room.by_rule(diameter);
    let free = if sizes.margin.own().is_some() { (to - from).max(free) } else { free };
    let at = if at.is_empty() { vec![f64::midpoint(room.edges.0, room.edges.1)] } else { at };
    let length = sizes.length.or(in_face + 3.0 * diameter).max(2.0);
    let margin = at.iter().map(|at| (at - room.edges.0).min(room.edges.1 - at)).fold(f64::INFINITY, f64::min);
    Figures {
        diameter,
        length,
        in_end: length - in_face,
        in_face,
        deeper: sizes.deeper.to_mm(),
        fit: sizes.fit.to_mm(),
        at,
        margin,
        width: room.width(),
        room: free,
        stock: joint.contact.extent.y.max(0.1),
        spacing: sizes.spacing.to_mm(),
    }
}

/// Where dowels of a diameter stand best in what else is cut there: two at least before two diameters deep at least, and then as much wood as there is room for.
fn standing(
    assembly: &Assembly,
    receives: &Part,
    frame: &Frame,
    wanted: &Wanted<'_>,
    (room, span, diameter): (&Room, (f64, f64), f64),
) -> Standing {
    let (sizes, radius, by_rule) = (wanted.sizes, diameter / 2.0, 3.0 * diameter);
    let (deeper, spacing) = (sizes.deeper.to_mm(), sizes.spacing.to_mm());
    let most = most_in_face(wanted, room.behind, diameter, room.wall) - deeper;
    let in_face = sizes.length.own().map_or(by_rule, |length| length / 2.0).min(most);
    let least = diameter + room.wall;
    // Nearer than they should be they stand only where the maker wants that, or where there is no room for two else.
    let apart = [least, (LEAST_APART * diameter).min(spacing).max(least)];
    let pocket = Pocket { along: (span.0 - radius, span.1 + radius), across: (-radius, radius), depth: in_face.max(1.0) + deeper };
    let obstacles = room::obstacles(assembly, receives, frame, pocket, room.wall, |_| false);
    let at_depth = |depth: f64| {
        let free = room::free(pocket.along, depth, &obstacles).into_iter().map(|(from, to)| (from + radius, to - radius));
        let free: Vec<_> = free.filter(|(from, to)| to >= from).collect();
        let between = free.first().zip(free.last()).map_or(0.0, |(first, last)| last.1 - first.0);
        Standing { in_face: depth - deeper, at: spread(span, &free, apart, spacing), free: between }
    };
    let rank = |one: &Standing| (one.at.len() >= LEAST_COUNT as usize, one.in_face >= 2.0 * diameter);
    let wood = |one: &Standing| one.in_face.min(by_rule) * one.at.len() as f64;
    room::depths(pocket.depth, &obstacles)
        .map(at_depth)
        .filter(|one| one.in_face >= 1.0 && !one.at.is_empty())
        .max_by(|a, b| rank(a).cmp(&rank(b)).then(wood(a).total_cmp(&wood(b))))
        .unwrap_or_else(|| Standing { in_face: in_face.max(1.0), at: spread(span, &[span], apart, spacing), free: span.1 - span.0 })
}

/// The most that a hole may go into the receiving part, mm.
fn most_in_face(wanted: &Wanted<'_>, behind: f64, diameter: f64, wall: f64) -> f64 {
    let far = if wanted.beyond.facing { (behind - wall) / 2.0 } else { behind - LEAST_BEHIND };
    let deep = 3.0 * diameter + wanted.sizes.deeper.to_mm();
    match wanted.beyond.crossing.filter(|crossing| crossing.meets(diameter + wanted.sizes.fit.to_mm(), deep, wall)) {
        Some(crossing) => far.min(f64::midpoint(crossing.near, crossing.far) - diameter / 2.0 - wall),
        None => far,
    }
}

/// The middles of the dowels: as many as the spacing asks for and at least two, evenly from the first `free` place to the last, each
/// moved to the nearest free place where it would stand in the way of something; as far apart at least as they should be, or where only one would have room so, as
/// they must be; one where there is no room for two, none where there is no room at all.
fn spread(span: (f64, f64), free: &[(f64, f64)], [must, should]: [f64; 2], spacing: f64) -> Vec<f64> {
    let wide = spread_apart(span, free, should, spacing);
    if wide.len() >= LEAST_COUNT as usize { wide } else { spread_apart(span, free, must, spacing) }
}

/// The same with `least` from one to the next.
fn spread_apart(span: (f64, f64), free: &[(f64, f64)], least: f64, spacing: f64) -> Vec<f64> {
    let (Some(first), Some(last)) = (free.first(), free.last()) else { return Vec::new() };
    let (from, to) = (first.0.max(span.0), last.1.min(span.1));
    let room = to - from;
    if room < least {
        let middle = free.iter().map(|(from, to)| f64::midpoint(*from, *to));
        return middle.min_by(|a, b| a.abs().total_cmp(&b.abs())).into_iter().collect();
    }
    let most = (room / least).floor().max(1.0);
    let gaps = (room / spacing.max(1.0)).ceil().clamp(1.0, most).min(f64::from(MOST_COUNT - 1));
    let even = (0..=gaps as u32).map(|index| from + room * f64::from(index) / gaps);
    let mut at: Vec<f64> = Vec::new();
    for wish in even {
        let nearest = free.iter().map(|(from, to)| wish.clamp(*from, *to)).min_by(|a, b| (a - wish).abs().total_cmp(&(b - wish).abs()));
        at.extend(nearest.filter(|place| at.last().is_none_or(|before| place - before >= least - 1e-9)));
    }
    at
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dowels_stand_evenly_and_no_farther_apart_than_asked() {
        for room in 12..300 {
            let span = (0.0, f64::from(room));
            let at = spread(span, &[span], [11.0, 11.0], 60.0);
            assert!(
                at.len() >= 2 && at.windows(2).all(|pair| pair[1] - pair[0] <= 60.0 + 1e-9 && pair[1] - pair[0] >= 11.0 - 1e-9),
                "{at:?}"
            );
        }
        assert_eq!(spread((0.0, 5.0), &[(0.0, 5.0)], [11.0, 11.0], 60.0), [2.5]);
        // Two that have no room 24 apart stand as they must; three stand as they should, or there are two.
        assert_eq!(spread((0.0, 20.0), &[(0.0, 20.0)], [11.0, 24.0], 60.0), [0.0, 20.0]);
        assert_eq!(spread((0.0, 70.0), &[(0.0, 70.0)], [11.0, 36.0], 60.0), [0.0, 70.0]);
        // Something in the middle: what would stand there moves aside.
        assert_eq!(spread((0.0, 100.0), &[(0.0, 40.0), (65.0, 100.0)], [11.0, 24.0], 60.0), [0.0, 40.0, 100.0]);
    }
}
