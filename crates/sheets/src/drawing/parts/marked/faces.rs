//! Cuts into a side, an edge or an end: pockets, holes, laps, channels.

use casewright_core::model::{Face, Housing, Stop};
use glam::DVec3;

use super::{On, Say, middle, middle_of, on_face, wall, walls, within};

pub(super) fn pocket(
    say: &mut Say<'_>,
    name: &str,
    (face, centre, along): (Face, DVec3, usize),
    [length, width, depth]: [f64; 3],
    round: bool,
) -> (String, Vec<On>) {
    let across = (0..3).find(|axis| *axis != along && *axis != face.axis()).unwrap_or(along);
    let ends = if round { "ends round" } else { "ends square" };
    let stretch = [centre[along] - length / 2.0, centre[along] + length / 2.0];
    let out = out_at(along, stretch, say.size[along]);
    // One that runs out of the part has no middle to mark: it is measured to the wall that is left.
    let inside = if out.is_empty() { stretch } else { [stretch[0].max(0.0), stretch[1].min(say.size[along])] };
    let words = format!(
        "{name} {} × {}, {}, {ends}{out}",
        say.between(along, inside[0], inside[1]),
        say.about(across, centre[across], width),
        say.deep(face, depth)
    );
    let mut places = if out.is_empty() { vec![middle(along, centre[along])] } else { within(walls(along, stretch), say.size) };
    places.push(middle(across, centre[across]));
    let mut at = centre;
    at[along] = f64::midpoint(inside[0], inside[1]);
    (words, vec![On { face, at: on_face(face, at, say.size), places }])
}

/// Where a pocket runs out of its part: ", out at the second end; measured to its wall".
fn out_at(along: usize, [from, to]: [f64; 2], length: f64) -> String {
    let [first, second] = match along {
        0 => ["first end", "second end"],
        1 => ["face edge", "back edge"],
        _ => ["face side", "back side"],
    };
    match (from < 1e-3, to > length - 1e-3) {
        (false, false) => String::new(),
        (true, false) => format!(", out at the {first}; measured to its wall"),
        (false, true) => format!(", out at the {second}; measured to its wall"),
        (true, true) => ", right across".to_owned(),
    }
}

pub(super) fn hole(say: &mut Say<'_>, (face, centre): (Face, DVec3), [diameter, depth, sink]: [f64; 3]) -> (String, Vec<On>) {
    let across = (0..3).filter(|axis| *axis != face.axis());
    let wide: Vec<String> = across.clone().map(|axis| say.about(axis, centre[axis], diameter)).collect();
    let sunk = if sink > diameter { format!(", countersunk to Ø{}", say.drafting.exact(sink)) } else { String::new() };
    let words = format!("hole Ø{}, {}{sunk}", wide.first().cloned().unwrap_or_default(), say.deep(face, depth));
    let places = across.map(|axis| middle(axis, centre[axis])).collect();
    (words, vec![On { face, at: on_face(face, centre, say.size), places }])
}

pub(super) fn hole_row(
    say: &mut Say<'_>,
    face: Face,
    first: DVec3,
    (pitch, count): (f64, u32),
    [diameter, depth]: [f64; 2],
) -> (String, Vec<On>) {
    let across = (0..3).find(|axis| *axis != 0 && *axis != face.axis()).unwrap_or(1);
    let wide = say.about(0, first.x, diameter);
    say.about(across, first[across], diameter);
    let every = say.between(0, first.x, first.x + pitch);
    let words = format!("{count} holes Ø{wide}, {}, every {every}; measured to the first and the last", say.deep(face, depth));
    let last = first.x + pitch * f64::from(count.saturating_sub(1));
    let places = vec![middle(0, first.x), middle(0, last), middle(across, first[across])];
    (words, vec![On { face, at: on_face(face, first, say.size), places }])
}

pub(super) fn lap(say: &mut Say<'_>, face: Face, stretch: [f64; 2], depth: f64) -> (String, Vec<On>) {
    let size = say.size;
    let words = format!("lap right across, {}", say.deep(face, depth));
    let at = on_face(face, DVec3::new(f64::midpoint(stretch[0], stretch[1]), size.y / 2.0, size.z / 2.0), size);
    (words, vec![On { face, at, places: within(walls(0, stretch), size) }])
}

pub(super) fn groove(
    say: &mut Say<'_>,
    face: Face,
    centre: f64,
    [width, depth]: [f64; 2],
    (full, through, stop): ([f64; 2], [bool; 2], Stop),
) -> (String, Vec<On>) {
    let size = say.size;
    let across = 3 - face.axis().clamp(1, 2);
    let mut words = format!("groove {} wide, {}", say.about(across, centre, width), say.deep(face, depth));
    let out = stop.run_out(width, depth);
    let round = say.drafting.exact(out);
    let mut places = vec![middle(across, centre)];
    for end in (0..2).filter(|end| !through[*end]) {
        places.push(wall(0, full[end]));
        let beyond = if end == 0 { full[end] - out } else { full[end] + out };
        match stop {
            Stop::Round => say.also(0, [beyond, full[end]], &round),
            Stop::Ramp { .. } => places.push(wall(0, beyond)),
        }
    }
    let stops = match (through, stop) {
        ([true, true], _) => ", through".to_owned(),
        (_, Stop::Round) => format!("; stopped: full to the figure, then half round by {round}"),
        (_, Stop::Ramp { diameter }) => {
            format!("; stopped: full depth to the inner figure, then the ramp of a cutter Ø{} to the outer", say.drafting.exact(diameter))
        }
    };
    words.push_str(&stops);
    let mut at = DVec3::new(middle_of(full, size.x), 0.0, 0.0);
    at[across] = centre;
    (words, vec![On { face, at: on_face(face, at, size), places: within(places, size) }])
}

pub(super) fn housing(say: &mut Say<'_>, cut: &Housing) -> (String, Vec<On>) {
    let (size, across) = (say.size, cut.across());
    let mut words = format!("housing {} wide, {}", say.about(across, cut.centre, cut.width), say.deep(cut.face, cut.depth));
    if cut.undercut > 0.0 {
        words = format!("{words}, {} wide at the bottom", say.about(across, cut.centre, cut.width + 2.0 * cut.undercut));
    }
    let through = cut.through(size);
    let round = say.drafting.exact(cut.width / 2.0);
    let stops = match (through, cut.round) {
        ([true, true], _) => ", right across".to_owned(),
        (_, true) => format!("; stopped: full to the figure, then half round by {round}"),
        (_, false) => "; stopped square at the figure".to_owned(),
    };
    words.push_str(&stops);
    let ends = [[cut.from - cut.width / 2.0, cut.from], [cut.to, cut.to + cut.width / 2.0]];
    for (end, _) in ends.into_iter().zip(through).filter(|(_, through)| cut.round && !through) {
        say.also(cut.along, end, &round);
    }
    let mut at = DVec3::ZERO;
    at[across] = cut.centre;
    at[cut.along] = middle_of([cut.from, cut.to], size[cut.along]);
    let places = within(std::iter::once(middle(across, cut.centre)).chain(walls(cut.along, [cut.from, cut.to])), size);
    (words, vec![On { face: cut.face, at: on_face(cut.face, at, size), places }])
}
